"""Trim of the whole aeroplane and its thrust-line map, on the lead examples."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import foamwright.design as design_room
from foamwright.air import aero_model
from foamwright.airframe import build_airframe
from foamwright.balance import weigh
from foamwright.design import read_design
from foamwright.errors import DomainError
from foamwright.flight import (
    Aeroplane,
    Reason,
    ThrustTable,
    aeroplane,
    envelope,
    made_table,
    thrust_map,
    tilt_holes,
    trim,
    with_tilts,
)
from foamwright.flight.feel import feel
from foamwright.flight.tasks import task_of
from foamwright.flight.tilting import FULL, LEVEL, OFF, weights

EXAMPLES = Path(design_room.__file__).parent / "examples"


def falling(motors: int, *, static: float = 2.5, torque: float = 0.03) -> ThrustTable:
    """Thrust that falls in a straight line with airspeed and with the square of throttle."""
    d, v = np.array([0.25, 0.5, 0.75, 1.0]), np.linspace(0.0, 32.0, 17)
    thrust = np.stack([static * x * x * (1.0 - v / (26.0 * x)) for x in d]) / motors
    turns = np.stack([160.0 * x + 0.5 * v for x in d])
    twist = np.stack([torque * x * x + 0.0 * v for x in d])
    side = np.where(np.arange(motors) % 2 == 0, 1.0, -1.0)
    return made_table(
        d,
        v,
        thrust=np.repeat(thrust[None], motors, axis=0),
        torque=twist * side[:, None, None],
        rotation=np.repeat(turns[None], motors, axis=0),
    )


@cache
def plane_of(name: str) -> Aeroplane:
    design = read_design(EXAMPLES / f"{name}.toml").variants[0]
    airframe = build_airframe(design)
    balance = weigh(airframe)
    aero = aero_model(airframe)
    stall = aero.stall_at_weight(9.80665 * balance.mass)
    return aeroplane(
        aero,
        balance,
        thrust=falling(len(airframe.discs), static=8.0 * balance.mass),
        largest_lift=stall.max_lift,
        stall_alpha=stall.max_alpha,
    )


@cache
def map_of(name: str) -> Any:
    plane = plane_of(name)
    found = envelope(plane)
    assert found.stall is not None
    return thrust_map(plane, stall_speed=found.stall.value, glide=found.glide)


SPEEDS = np.array([8.0, 10.0, 13.0])


@pytest.mark.parametrize("name", ["dunlin", "curlew"])
@pytest.mark.parametrize("state", [{"throttle": 0.0}, {"path": 0.0}])
def test_forces_balance(name: str, state: dict[str, float]):
    """Steady flight leaves less than a millionth of the weight, told again by the model itself."""
    plane = plane_of(name)
    found = trim(plane, airspeed=SPEEDS, **state)
    assert found.is_trimmed.all()
    assert found.residual.max() < 1e-6
    throttle = found.throttle
    felt = feel(
        plane,
        task_of(3, throttle=throttle, airspeed=SPEEDS),
        np.stack([found.alpha, found.stick, 0 * SPEEDS, found.path, SPEEDS, 0 * SPEEDS], axis=-1),
    )
    assert felt.square / plane.weight == pytest.approx(np.cos(found.path), abs=1e-6)
    assert felt.along / plane.weight == pytest.approx(np.sin(found.path), abs=1e-6)
    assert np.abs(felt.moment[:, 1]).max() < 1e-6 * plane.weight * 0.2


def test_batch_is_its_slices():
    plane = plane_of("dunlin")
    many = trim(plane, airspeed=SPEEDS, path=0.0)
    one = trim(plane, airspeed=float(SPEEDS[1]), path=0.0)
    assert one.alpha.shape == ()
    assert float(one.elevator) == pytest.approx(float(many.elevator[1]), abs=1e-6)


def test_a_glide_by_incidence_is_the_same_glide():
    plane = plane_of("curlew")
    by_speed = trim(plane, airspeed=SPEEDS, throttle=0.0)
    again = trim(plane, alpha=by_speed.alpha, throttle=0.0)
    assert again.airspeed == pytest.approx(SPEEDS, rel=1e-5)
    assert again.stick == pytest.approx(by_speed.stick, abs=1e-5)


def test_held_elevator_comes_back_to_its_speed():
    plane = plane_of("curlew")
    level = trim(plane, airspeed=10.0, path=0.0)
    back = trim(plane, stick=level.stick, throttle=level.throttle)
    assert float(back.airspeed) == pytest.approx(10.0, rel=1e-4)
    assert float(back.path) == pytest.approx(0.0, abs=1e-4)


def test_two_of_five_are_given():
    with pytest.raises(DomainError, match="two of"):
        trim(plane_of("dunlin"), airspeed=8.0)


def test_no_trim_has_its_reason():
    plane = plane_of("dunlin")
    assert trim(plane, airspeed=4.0, path=0.0).reason == Reason.STALLED
    assert trim(plane, airspeed=24.0, path=0.0).reason == Reason.POWER
    weak = replace(plane, stick_back=0.12 * plane.stick_back)
    short = trim(weak, airspeed=7.0, throttle=0.0)
    assert short.reason == Reason.ELEVATOR
    assert np.isnan(short.elevator)
    assert short.wanted > 1.0
    strong = replace(plane, thrust=falling(1, static=9.0))
    assert trim(strong, airspeed=8.0, throttle=1.0).reason == Reason.SURPLUS
    loose = replace(plane, stick_back=0.0 * plane.stick_back, elevator=None)
    assert trim(loose, airspeed=8.0, throttle=0.0).reason == Reason.NO_STICK


def test_turning_takes_lift_and_elevator():
    plane = plane_of("curlew")
    found = trim(plane, airspeed=11.0, path=0.0, bank=np.radians([0.0, 30.0, 45.0]))
    assert (np.diff(found.alpha) > 0.0).all()
    assert (np.diff(found.stick) > 0.0).all()
    assert (np.diff(found.thrust) > 0.0).all()


# ---------------------------------------------------------------- thrust


def test_throttle_and_thrust_are_each_others_inverse():
    table = falling(2)
    throttle = np.array([0.3, 0.6, 0.9])
    push = table.at_throttle(throttle, airspeed=9.0)
    assert table.for_thrust(push.total, airspeed=9.0).throttle == pytest.approx(throttle)
    assert float(table.for_thrust(0.0, airspeed=9.0).throttle) <= 0.25
    assert float(table.for_thrust(99.0, airspeed=9.0).throttle) > 1.0


def test_power_off_is_nothing_at_all():
    push = falling(1).at_throttle(0.0, airspeed=SPEEDS)
    assert not push.thrust.any()
    assert not push.torque.any()


@pytest.mark.parametrize("shift", [-0.02, 0.03])
def test_moving_the_thrust_line_changes_pitch_by_thrust_times_arm(shift: float):
    """Wash left where it was: only the line itself moves, straight up."""
    plane = plane_of("dunlin")
    moved = replace(
        plane,
        holes=tuple(
            tuple(replace(disc, centre=disc.centre + np.array([0.0, 0.0, shift])) for disc in hole)
            for hole in plane.holes
        ),
    )
    task = task_of(3, throttle=0.8, airspeed=SPEEDS, alpha=0.05, gain=None)
    x = np.stack([0.05 + 0 * SPEEDS, 0.1 + 0 * SPEEDS, *np.zeros((2, 3)), SPEEDS, 0 * SPEEDS], -1)
    before, after = (feel(one, task, x) for one in (plane, moved))
    ahead = -plane.holes[0][0].thrust[0]
    change = after.push_pitch - before.push_pitch
    assert change == pytest.approx(-before.thrust * ahead * shift, rel=1e-9)


def test_the_other_hand_of_the_propeller_mirrors_roll_and_yaw():
    """Dunlin is its own mirror image: turning the other way changes nothing else."""
    plane = plane_of("dunlin")
    assert plane.thrust is not None
    other = replace(plane, thrust=replace(plane.thrust, torque=-plane.thrust.torque))
    one, two = (trim(p, airspeed=SPEEDS, path=0.0) for p in (plane, other))
    assert two.alpha == pytest.approx(one.alpha, abs=1e-6)
    assert two.elevator == pytest.approx(one.elevator, abs=1e-6)
    assert two.roll == pytest.approx(-one.roll, rel=1e-4)
    assert two.yaw == pytest.approx(-one.yaw, rel=1e-4, abs=1e-7)


# ---------------------------------------------------------------- the map


def test_without_power_the_map_is_the_glide():
    found = map_of("dunlin")
    glide = trim(plane_of("dunlin"), airspeed=found.airspeed, throttle=0.0)
    assert np.degrees(found.elevator[0, :, OFF]) == pytest.approx(
        np.degrees(glide.elevator), abs=0.02
    )
    assert np.ptp(found.elevator[..., OFF], axis=0).max() == 0.0


def test_holes_between_the_nodes_are_those_of_the_full_model():
    """The parabola through three tilts, against trims at a hole it was not made from."""
    plane, found = plane_of("curlew"), map_of("curlew")
    hole = int(np.argmin(np.abs(found.up - np.radians(1.0))))
    tilted = with_tilts(plane, ((float(found.up[hole]), found.drawn[1]),))
    level = trim(tilted, airspeed=found.airspeed, path=0.0)
    flies = level.is_trimmed
    assert flies.sum() >= 2
    assert np.degrees(found.elevator[hole, flies, LEVEL]) == pytest.approx(
        np.degrees(level.elevator[flies]), abs=0.05
    )


def test_a_high_pusher_pushes_the_nose_down_and_leans_down_to_calm():
    found = map_of("dunlin")
    assert (found.arm > 0.05).all()
    assert (np.diff(found.arm) > 0.0).all()  # leaning up lifts the line: it starts behind
    assert (found.kick < 0.0).all()
    held = found.power_stick[found.is_held.all(axis=1)]
    assert (held[np.isfinite(held)] > 0.0).all()
    assert not found.calm_is_there
    assert found.through < 0.0
    assert found.best == 0


def test_full_throttle_takes_more_than_level_flight():
    found = map_of("curlew")
    flies = np.isfinite(found.thrust[..., LEVEL])
    assert flies[:, 0].all()
    assert (found.thrust[flies][:, FULL] > found.thrust[flies][:, LEVEL]).all()
    assert (found.thrust[..., OFF] == 0.0).all()


def test_holes_of_a_mount():
    mount = plane_of("dunlin").airframe.design.power.motors[0].mount
    assert np.degrees(tilt_holes(mount.up, 0.0)) == pytest.approx(np.arange(-8, 5))
    assert tilt_holes(None, 0.1) == pytest.approx([0.1])


def test_weights_of_nodes_reproduce_a_parabola():
    nodes, at = np.array([0.0, -2.0, 3.0]), np.array([-1.0, 0.0, 1.0, 5.0])
    assert weights(nodes, at) @ (nodes**2 - nodes) == pytest.approx(at**2 - at)


def test_a_fixed_mount_has_one_hole_and_a_calm_tilt():
    found = map_of("godwit")
    assert len(found.up) == 1
    assert not found.can_tilt
    assert np.isfinite(found.calm)


# ---------------------------------------------------------------- speeds


def test_envelope_is_in_its_order():
    found = envelope(plane_of("curlew"))
    assert found.stall is not None
    assert found.top is not None
    assert found.best_glide is not None
    assert found.stall.value < found.least_sink_speed <= found.best_glide_speed < found.top.value
    assert found.climb is not None
    assert found.climb.value > 0.0
    assert found.best_glide.scatter > 0.0


def test_without_thrust_there_is_a_glide_only():
    found = envelope(replace(plane_of("dunlin"), thrust=None))
    assert found.best_glide is not None
    assert found.top is None
    assert found.level is None
