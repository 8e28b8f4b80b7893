"""The aerodynamic model: symmetry, scale, frames, limits, what it is made of."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from foamwright.air import AeroModel, FlightState, aero_model, carrying, loads, motion_state
from foamwright.air.drag import Cause
from foamwright.airframe import build_airframe
from foamwright.design import Design, Power, read_design_text, starter_text
from foamwright.errors import DomainError
from tests import making
from tests.strategies import designs

STARTS = ("dunlin", "knot", "curlew", "avocet", "godwit")
MODELS: dict[str, AeroModel] = {}
MIRROR = np.array([1.0, -1.0, 1.0])  # of a force; of a moment with the other sign


def model_of(starter: str) -> AeroModel:
    if starter not in MODELS:
        design = read_design_text(starter_text(starter)).variants[0]
        MODELS[starter] = aero_model(build_airframe(design))
    return MODELS[starter]


def bare(**panel) -> Design:
    """A wing and nothing that only drags."""
    return making.design(
        surfaces=(making.surface(panels=(making.panel(**panel),)),),
        bodies=(),
        items=(),
        pushrods=(),
        gear=(),
        power=Power(),
    )


def swapped(made: AeroModel, controls: np.ndarray) -> np.ndarray:
    """Deflections with the hands exchanged; a control in the middle moves the other way."""
    other = {"right": "left", "left": "right", "centre": "centre"}
    names = [(u.surface, u.key, str(u.hand)) for u in made.units]
    places = [names.index((s, k, other[h])) for s, k, h in names]
    sign = np.array([-1.0 if h == "centre" else 1.0 for _, _, h in names])
    return controls[..., places] * sign


def states(made: AeroModel, count: int = 12, **more) -> FlightState:
    generator = np.random.default_rng(7)
    return FlightState(
        airspeed=generator.uniform(6.0, 14.0, count),
        alpha=generator.uniform(-0.1, 0.3, count),
        beta=generator.uniform(-0.2, 0.2, count),
        roll_rate=generator.normal(0.0, 1.0, count),
        pitch_rate=generator.normal(0.0, 0.5, count),
        yaw_rate=generator.normal(0.0, 0.5, count),
        controls=generator.normal(0.0, 0.1, (count, len(made.units))),
        **more,
    )


def mirrored(made: AeroModel, state: FlightState) -> FlightState:
    return replace(
        state,
        beta=-np.asarray(state.beta),
        roll_rate=-np.asarray(state.roll_rate),
        yaw_rate=-np.asarray(state.yaw_rate),
        controls=swapped(made, np.asarray(state.controls)),
    )


# ---------------------------------------------------------------- symmetry


@pytest.mark.parametrize("starter", STARTS)
def test_mirrored_flight_gives_mirrored_forces(starter):
    made = model_of(starter)
    state = states(made)
    here, there = made.forces(state), made.forces(mirrored(made, state))
    keep = here.converged & there.converged
    assert keep.mean() > 0.9
    assert there.force[keep] == pytest.approx((here.force * MIRROR)[keep], abs=1e-4)
    assert there.moment[keep] == pytest.approx((here.moment * -MIRROR)[keep], abs=1e-4)
    assert there.stalled == pytest.approx(here.stalled, abs=1e-9)


@pytest.mark.parametrize("starter", STARTS)
def test_half_the_work_gives_the_same_forces(starter):
    """States that are their own mirror image are solved on the right half alone."""
    made = model_of(starter)
    alpha = np.radians([-5.0, 0.0, 5.0, 10.0, 14.0])
    half = made.forces(FlightState(airspeed=9.0, alpha=alpha))
    whole = made.forces(FlightState(airspeed=9.0, alpha=alpha, beta=1e-12))
    assert half.force == pytest.approx(whole.force, abs=1e-5)
    assert half.moment == pytest.approx(whole.moment, abs=1e-5)
    assert half.side == pytest.approx(np.zeros(5), abs=1e-12)


# ---------------------------------------------------------------- shape and frames


def test_states_broadcast_and_a_slice_equals_the_whole():
    made = model_of("dunlin")
    alpha = np.radians([[0.0], [6.0], [13.0]])
    speed = np.array([7.0, 11.0])
    forces = made.forces(FlightState(airspeed=speed, alpha=alpha))
    assert forces.force.shape == (3, 2, 3)
    assert forces.lift.shape == forces.stalled.shape == forces.converged.shape == (3, 2)
    assert forces.table.areas.shape[:2] == (3, 2)
    assert forces.hinge.shape == (3, 2, len(made.units))
    one = made.forces(FlightState(airspeed=11.0, alpha=np.radians(6.0)))
    assert one.force.shape == (3,)
    assert one.force == pytest.approx(forces.force[1, 1], abs=1e-6)


def test_moments_move_with_the_point():
    made = model_of("curlew")
    point = (made.point[0] + 0.03, 0.0, made.point[2] - 0.02)
    moved = made.about(point)
    state = FlightState(airspeed=9.0, alpha=np.radians([2.0, 9.0]), beta=0.1)
    here, there = made.forces(state), moved.forces(state)
    assert there.force == pytest.approx(here.force, abs=1e-6)
    off = np.array(made.point) - np.array(point)
    aft, right, up = here.force.T
    turn = np.stack(
        [off[2] * right - off[1] * up, off[2] * aft - off[0] * up, off[1] * aft - off[0] * right],
        axis=-1,
    )
    assert there.moment == pytest.approx(here.moment + turn, abs=1e-6)


def test_an_aeroplane_drawn_elsewhere_flies_the_same():
    design = bare(section=making.CREASED, tip_chord=0.12, sweep=10.0, dihedral=4.0)
    (surface,) = design.surfaces
    moved = replace(design, surfaces=(replace(surface, at=(0.4, 0.0, 0.15)),))
    state = FlightState(airspeed=9.0, alpha=np.radians([3.0, 12.0]), beta=0.1, pitch_rate=0.5)
    here, there = (aero_model(build_airframe(d)).forces(state) for d in (design, moved))
    assert there.force == pytest.approx(here.force, abs=1e-7)
    assert there.moment == pytest.approx(here.moment, abs=1e-7)


def test_forces_grow_with_density_where_the_reynolds_number_stays():
    made = model_of("avocet")
    alpha = np.radians([1.0, 7.0, 14.0])
    thin = made.forces(FlightState(airspeed=9.0, alpha=alpha))
    thick = made.forces(
        FlightState(airspeed=9.0, alpha=alpha, density=2.45, viscosity=2.0 * 1.7894e-5)
    )
    assert thick.force == pytest.approx(2.0 * thin.force, rel=1e-9)
    assert thick.lift == pytest.approx(thin.lift, rel=1e-9)


# ---------------------------------------------------------------- what it is made of


def test_small_forces_are_the_tensor_but_for_the_sections():
    """Near no incidence a flat wing's lift is the lattice's times its section's slope ratio."""
    made = aero_model(build_airframe(bare(length=0.8)))
    alpha = np.radians(1.0)
    lift = float(made.forces(FlightState(airspeed=9.0, alpha=alpha)).lift)
    x = motion_state(made.tensor, speed=9.0, incidence=alpha)
    ideal = float(loads(made.tensor, x)[2]) * 2.0 / (81.0 * made.tensor.reference.area)
    assert 0.75 < lift / ideal < 1.0


def test_thin_theory_sections_change_nothing(monkeypatch):
    """With sections that behave as thin theory says, the model is the tensor exactly."""
    from foamwright.air.stall.polars import SectionsAt, SectionValues

    made = model_of("dunlin")
    polars = made.levels[0].whole.polars

    def line(self, alpha):
        slope = 2.0 * np.pi * self.cosine
        zero = polars.alpha0 if alpha.shape[-1] == len(polars.alpha0) else half.alpha0
        return slope * (alpha - zero), np.broadcast_to(slope, alpha.shape)

    def everything(self, alpha):
        whole = alpha.shape[-1] == len(polars.alpha0)
        moment = polars.moment0 if whole else half.moment0
        zero = np.zeros(alpha.shape)
        cm = moment * np.cos(0.0) * np.ones(alpha.shape)
        return SectionValues(cl=zero, cd=zero, cm=cm, attached=zero + 1.0)

    half = made.levels[0].half.polars
    monkeypatch.setattr(SectionsAt, "lift", line)
    monkeypatch.setattr(SectionsAt, "all", everything)
    alpha = np.radians([-1.0, 0.5, 2.0])
    found = made.forces(FlightState(airspeed=9.0, alpha=alpha))
    x = motion_state(made.tensor, speed=9.0, incidence=alpha)
    ideal = loads(made.tensor, x) * 1.225
    skip = [i for i, row in enumerate(found.table.rows) if row.cause not in (Cause.INDUCED,)]
    assert skip
    # Lift square to the wind but for what bodies add; second order in incidence is left.
    pressure = 0.5 * 1.225 * 81.0 * made.tensor.reference.area
    wind = (np.cos(alpha) * ideal[:, 2] - np.sin(alpha) * ideal[:, 0]) / pressure
    assert found.lift == pytest.approx(wind, abs=2e-3)


def test_the_drag_table_adds_up_to_the_drag():
    made = model_of("curlew")
    found = made.forces(FlightState(airspeed=10.0, alpha=np.radians([0.0, 4.0, 9.0])))
    assert found.table.total / made.airframe.reference.area == pytest.approx(found.drag, rel=2e-3)
    causes = {row.cause for row in found.table.rows}
    assert {Cause.SECTION, Cause.INDUCED, Cause.FRICTION} <= causes


def test_a_plate_across_the_wind_is_a_plate():
    """At 90 degrees: no lift, the drag of a plate within what a wing's ends take off it."""
    made = aero_model(build_airframe(bare(length=0.6)))
    found = made.forces(FlightState(airspeed=9.0, alpha=0.5 * np.pi))
    assert abs(float(found.lift)) < 0.05
    assert 1.0 < float(found.drag) < 2.1


def test_forces_are_smooth_right_round():
    made = model_of("knot")
    alpha = np.linspace(-np.pi, np.pi, 181)
    found = made.forces(FlightState(airspeed=9.0, alpha=alpha))
    assert found.converged.all()
    assert np.isfinite(found.force).all()
    assert found.force[0] == pytest.approx(found.force[-1], abs=1e-6)
    assert (found.drag > 0.0).all()
    assert np.abs(np.diff(found.lift)).max() < 0.35


@pytest.mark.parametrize("starter", STARTS)
def test_bodies_move_the_neutral_point_forward(starter):
    made = model_of(starter)
    assert -0.06 < made.body_shift / made.airframe.reference.mac < 0.0
    assert made.neutral_point < made.airframe.reference.mac_leading_edge[0] + (
        0.9 * made.airframe.reference.mac
    )


@pytest.mark.parametrize("starter", STARTS)
def test_rates_are_damped_and_the_fin_holds(starter):
    made = model_of(starter)
    found = made.forces(
        FlightState(
            airspeed=9.0,
            alpha=np.radians(3.0),
            beta=[0.05, 0.0, 0.0],
            roll_rate=[0.0, 1.0, 0.0],
            yaw_rate=[0.0, 0.0, 1.0],
        )
    )
    assert found.yaw[0] > 0.0  # wind from the right turns the nose to the right
    assert found.roll[0] < 0.0  # and lifts the right wing
    assert found.roll[1] < 0.0
    assert found.yaw[2] < 0.0


# ---------------------------------------------------------------- wash and ground


def test_power_adds_lift_and_drag_behind_a_tractor():
    made = model_of("curlew")
    idle = made.forces(FlightState(airspeed=7.0, alpha=np.radians(4.0), thrust=[0.0]))
    full = made.forces(FlightState(airspeed=7.0, alpha=np.radians(4.0), thrust=[3.0]))
    off = made.forces(FlightState(airspeed=7.0, alpha=np.radians(4.0)))
    assert idle.force == pytest.approx(off.force, abs=1e-5)
    assert full.drag > off.drag
    assert full.lift > off.lift


def test_more_braking_than_momentum_theory_knows_is_flagged():
    made = model_of("curlew")
    found = made.forces(FlightState(airspeed=8.0, alpha=0.05, thrust=[[-60.0], [1.0]]))
    assert found.within.tolist() == [False, True]
    assert np.isnan(found.force[0]).all()
    assert np.isfinite(found.force[1]).all()


def test_two_propellers_that_turn_alike_roll_and_their_mirror_does_not():
    made = model_of("godwit")
    count = len(made.airframe.discs)
    assert count == 2
    state = FlightState(airspeed=8.0, alpha=0.05, thrust=[2.0, 2.0], torque=[0.03, -0.03])
    alike = replace(state, torque=[0.03, 0.03])
    assert float(made.forces(state).roll) == pytest.approx(0.0, abs=1e-6)
    assert abs(float(made.forces(alike).roll)) > 1e-4


def test_ground_takes_induced_drag_and_adds_lift():
    made = aero_model(build_airframe(bare(length=0.6)), ground=True)
    heights = np.array([0.12, 0.2, 0.5, 1.0, 3.0, 40.0])
    near = made.forces(FlightState(airspeed=9.0, alpha=np.radians(5.0), height=heights))
    free = made.forces(FlightState(airspeed=9.0, alpha=np.radians(5.0)))
    assert np.all(np.diff(near.lift) < 0.0)
    induced = near.table.row("lift.induced").area / near.lift**2
    assert np.all(np.diff(induced) > 0.0)
    assert near.lift[-1] == pytest.approx(float(free.lift), rel=1e-4)
    assert near.within.all()
    low = made.forces(FlightState(airspeed=9.0, alpha=np.radians(5.0), height=0.05))
    assert not bool(low.within)
    with pytest.raises(DomainError):
        model_of("knot").forces(FlightState(airspeed=9.0, height=1.0))


def test_interpolated_ground_is_near_the_worked_out_one():
    from foamwright.air.aero import GROUND_HEIGHTS
    from foamwright.air.aeroplane import lift_tensor
    from foamwright.air.tensor import wind_forces

    airframe = build_airframe(bare(length=0.6))
    made = aero_model(airframe, ground=True)
    height = 0.3 * airframe.reference.span
    assert 0.3 not in GROUND_HEIGHTS
    alpha = np.radians(1.0)
    ratio = [
        float(made.forces(FlightState(airspeed=9.0, alpha=alpha, height=h)).lift)
        for h in (height, 50.0)
    ]
    exact = [
        float(wind_forces(t, motion_state(t, incidence=alpha))[0])
        for t in (lift_tensor(airframe, height=height), made.tensor)
    ]
    assert ratio[0] / ratio[1] == pytest.approx(exact[0] / exact[1], rel=0.01)


# ---------------------------------------------------------------- any aeroplane


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=[*HealthCheck])
@given(design=designs())
def test_any_aeroplane_has_forces_in_any_state(design):
    """Not its own mirror image, tail first, or blown: always numbers, and drag in plain flight."""
    places = [surface.at for surface in design.surfaces]
    assume(all(math.dist(*pair) > 0.05 for pair in itertools.combinations(places, 2)))
    made = aero_model(build_airframe(design))
    discs = len(made.airframe.discs)
    wild = FlightState(
        airspeed=9.0,
        alpha=[0.0, 0.1, 0.4, 1.6, 3.0, -0.8],
        beta=[0.0, 0.2, -0.2, 0.5, 0.0, 1.0],
        roll_rate=1.0,
        controls=np.full(len(made.units), 0.1),
    )
    blown = replace(wild, alpha=[0.0, 0.1, 0.4], beta=0.1, thrust=np.full(discs, 1.5))
    assert np.isfinite(made.forces(wild).force).all()
    assert np.isfinite(made.forces(blown).force).all()
    assert float(made.forces(FlightState(airspeed=9.0)).drag) > 0.0


# ---------------------------------------------------------------- refusals, carrying


def test_wrong_states_are_refused():
    made = model_of("dunlin")
    for state in (
        FlightState(airspeed=0.0),
        FlightState(airspeed=9.0, controls=np.zeros(9)),
        FlightState(airspeed=9.0, thrust=[1.0, 1.0, 1.0]),
    ):
        with pytest.raises(DomainError):
            made.forces(state)


def test_slow_air_is_flagged():
    found = model_of("dunlin").forces(FlightState(airspeed=[0.5, 9.0], alpha=0.05))
    assert found.within.tolist() == [False, True]


@pytest.mark.parametrize("starter", STARTS)
def test_carrying_holds_its_weight(starter):
    made = model_of(starter)
    found = carrying(made, 4.0)
    pressure = 0.5 * 1.225 * found.airspeed**2 * made.airframe.reference.area
    assert found.lift * pressure == pytest.approx(np.full(len(found.lift), 4.0), rel=1e-9)
    assert found.cruise_lift == pytest.approx(0.5, abs=0.02)
    assert float(found.cruise.total) > 0.0
    assert found.best_ratio == pytest.approx(float((found.lift / found.drag).max()))
    assert 3.0 < found.best_ratio < 20.0
    with pytest.raises(DomainError):
        carrying(made, 0.0)
