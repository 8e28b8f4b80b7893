"""What the modes must do for any aeroplane: limits, names, batches, axes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.air import (
    LatticeReference,
    derivatives,
    lattice_surface,
    loads,
    motion_state,
    solve_tensor,
)
from foamwright.flight.derivatives import (
    Coefficients,
    Trim,
    body_moments,
    coefficients_of,
    dimensional,
    from_per_mass,
    per_mass,
)
from foamwright.flight.linear import ThrustPlace, level_trim
from foamwright.flight.modes import (
    Mode,
    double_time,
    dutch_roll_approximation,
    half_time,
    lateral_matrix,
    lateral_modes,
    longitudinal_matrix,
    longitudinal_modes,
    period,
    phugoid_frequency,
    short_period_approximation,
)
from foamwright.flight.rigidbody import (
    RigidBody,
    flight_axes,
    flight_inertia,
    motion,
    motion_slope,
)
from tests.flight_aeroplanes import TRAINER_RATES, linear_trainer, trainer, trainer_loads

LONGITUDINAL = (7, 9, 11)  # u, w, q in a packed state; attitude follows by the quaternion
LATERAL = (8, 10, 12)


def flown_slope(plane, *, inertia):
    """Slope of the flown equations about trim, by complex-free central differences."""
    alpha = float(plane.incidence)
    body = RigidBody(mass=1.0, inertia=inertia)
    slope = motion_slope(body, trainer_loads(plane))

    def start(changes):
        values = dict.fromkeys(("u", "v", "w", "p", "q", "r", "bank", "pitch"), 0.0) | changes
        return motion(
            angles=(values["bank"], alpha + values["pitch"], 0.0),
            velocity=(
                12.0 * np.cos(alpha) + values["u"],
                values["v"],
                12.0 * np.sin(alpha) + values["w"],
            ),
            rates=(values["p"], values["q"], values["r"]),
        ).packed()

    def column(name, rows):
        h = 1e-5
        change = slope(0.0, start({name: h})) - slope(0.0, start({name: -h}))
        return change[list(rows)] / (2.0 * h)

    return column


@pytest.mark.parametrize("product", [0.0, 0.006])
def test_matrices_are_the_slopes_of_the_flown_equations(product):
    plane = trainer()
    inertia = plane.inertia.copy()
    inertia[0, 2] = inertia[2, 0] = -product
    column = flown_slope(plane, inertia=inertia)
    held = {"trim": plane.trim, "mass": 1.0, "inertia": inertia}
    slopes = dimensional(plane.coefficients, trim=plane.trim)
    lon, lat = longitudinal_matrix(slopes, **held), lateral_matrix(slopes, **held)
    for k, name in enumerate(("u", "w", "q", "pitch")):
        assert np.allclose(column(name, LONGITUDINAL), lon[:3, k], atol=2e-6), name
    for k, name in enumerate(("v", "p", "r", "bank")):
        assert np.allclose(column(name, LATERAL), lat[:3, k], atol=2e-6), name


def test_thrust_above_the_balance_point_enters_by_speed():
    """Held thrust makes a moment that the air's own must oppose: that part grows with speed."""
    at = ThrustPlace(ahead=-0.1, above=0.08)
    plane = linear_trainer()
    steady = level_trim(plane, speed=12.0, thrust_at=at)
    k = plane.coefficients(steady.incidence, steady.elevator)
    slopes = dimensional(k, trim=replace(trainer().trim, incidence=0.0, attitude=0.0))
    moment = float(steady.thrust) * 0.08  # the air's, nose up, at trim
    assert float(slopes.m_u) == pytest.approx(2.0 * moment / 12.0, rel=1e-6)


def test_batch_equals_its_cases():
    slopes = np.linspace(-1.0, 0.3, 27)
    planes = [trainer(pitch_slope=k) for k in slopes]
    whole = longitudinal_modes(np.stack([p.longitudinal_matrix for p in planes]))
    for k, plane in enumerate(planes):
        one = plane.longitudinal
        assert np.allclose(whole.roots[k], one.roots)
        assert np.array_equal(whole.names[k], one.names)
    assert whole.frequency(Mode.SHORT_PERIOD).shape == (27,)


def test_arrays_in_fields_broadcast():
    k = Coefficients(
        lift=0.46,
        drag=0.05,
        lift_incidence=4.6,
        pitch_incidence=np.array([-0.6, -0.3]),
        pitch_pitch_rate=-12.0,
    )
    trim = trainer().trim
    matrix = longitudinal_matrix(
        dimensional(k, trim=trim), trim=trim, mass=1.0, inertia=np.diag([0.035, 0.05, 0.08])
    )
    assert matrix.shape == (2, 4, 4)


@pytest.mark.parametrize("slope", [-2.0, -0.6, -0.2, -0.02, 0.0, 0.1, 0.5])
def test_every_longitudinal_root_has_a_name(slope):
    modes = trainer(pitch_slope=slope).longitudinal
    names = modes.names.tolist()
    assert names.count(Mode.SHORT_PERIOD) in (0, 2)
    assert names.count(Mode.PHUGOID) == names.count(Mode.SHORT_PERIOD)
    assert np.all(np.diff(np.abs(modes.roots)) <= 1e-12)


def companion(roots):
    """A matrix with these roots."""
    return np.diag(np.ones(3), -1) - np.eye(4)[:, :1] @ np.poly(roots)[None, 1:].real


def test_third_oscillation():
    modes = longitudinal_modes(companion([-9.0, -0.5 + 1j, -0.5 - 1j, 0.1]))
    assert modes.names.tolist() == [
        Mode.PITCH_ROOTS, Mode.THIRD_OSCILLATION, Mode.THIRD_OSCILLATION, Mode.PITCH_ROOTS,
    ]  # fmt: skip
    assert np.isnan(modes.damping(Mode.SHORT_PERIOD))
    assert not modes.has(Mode.PHUGOID)
    assert modes.frequency(Mode.THIRD_OSCILLATION) == pytest.approx(np.sqrt(1.25))


@pytest.mark.parametrize(
    ("roots", "swings", "names"),
    [
        ([-5, 0.1, -1 + 6j, -1 - 6j], True, "dutch roll, dutch roll, roll, spiral"),
        ([-9, 0.1, -1 + 6j, -1 - 6j], True, "roll, dutch roll, dutch roll, spiral"),
        ([-1 + 6j, -1 - 6j, -1 + 0.5j, -1 - 0.5j], True, "dutch roll, dutch roll, roll-spiral,"),
        ([-9, 2, -0.1 + 1j, -0.1 - 1j], True, "roll, spiral, dutch roll, dutch roll"),
        ([-9, 2, -0.1 + 1j, -0.1 - 1j], False, "dutch roll, dutch roll, roll-spiral,"),
        ([-9, -3, 2, 0.01], False, "roll, dutch roll, dutch roll, spiral"),
        ([3, -2, -1, 0.01], False, "dutch roll, roll, dutch roll, spiral"),
    ],
)
def test_names_of_lateral_roots(roots, swings, names):
    """Sideslip and yaw hold the last two roots where they swing alone, else the first two."""
    matrix = np.zeros((4, 4))
    places = ((1, 3), (0, 2)) if swings else ((0, 2), (1, 3))
    for place, (one, two) in zip(places, (roots[:2], roots[2:]), strict=True):
        one, two = complex(one), complex(two)
        block = [[one.real, one.imag], [-one.imag, two.real]]
        matrix[np.ix_(place, place)] = block
    got = lateral_modes(matrix)
    assert np.allclose(np.sort_complex(got.roots), np.sort_complex(np.array(roots, dtype=complex)))
    assert ", ".join(got.names.tolist()).startswith(names)


def test_two_real_roots_keep_a_damping_ratio():
    modes = longitudinal_modes(companion([-8.0, -2.0, -0.1 + 0.5j, -0.1 - 0.5j]))
    assert modes.frequency(Mode.SHORT_PERIOD) == pytest.approx(4.0)
    assert modes.damping(Mode.SHORT_PERIOD) == pytest.approx(10.0 / 8.0)
    assert np.allclose(modes.pair(Mode.SHORT_PERIOD), [-2.0, -8.0])
    assert np.isnan(modes.period(Mode.SHORT_PERIOD))
    assert modes.growth(Mode.SHORT_PERIOD) == pytest.approx(-2.0)


def test_times_of_roots():
    assert half_time(-0.5) == pytest.approx(np.log(2.0) / 0.5)
    assert double_time(-0.5) == np.inf
    assert half_time(0.0) == np.inf
    assert np.isnan(period(-1.0))
    assert np.isnan(double_time(np.nan))


def test_approximations_come_near():
    """Short period within 2 %; dutch roll without its rolling within 15 %; Lanchester 35 %."""
    plane = trainer()
    lon, lat = plane.longitudinal, plane.lateral
    got, _ = short_period_approximation(plane.longitudinal_matrix)
    assert got == pytest.approx(float(lon.frequency(Mode.SHORT_PERIOD)), rel=0.02)
    got, _ = dutch_roll_approximation(plane.lateral_matrix)
    assert got == pytest.approx(float(lat.frequency(Mode.DUTCH_ROLL)), rel=0.15)
    got = phugoid_frequency(12.0)
    assert float(lon.frequency(Mode.PHUGOID)) == pytest.approx(got, rel=0.35)


def test_notations_go_both_ways():
    slopes = dimensional(trainer().coefficients, trim=trainer().trim)
    held = {"mass": 1.3, "inertia": (0.035, 0.05, 0.08)}
    again = from_per_mass(per_mass(slopes, **held), **held)
    for name in ("x_u", "z_w", "m_q", "y_v", "l_p", "n_r"):
        assert getattr(again, name) == pytest.approx(float(getattr(slopes, name)))
    assert per_mass(slopes, **held).l_p == pytest.approx(float(slopes.l_p) / 0.035)


def test_stability_axes_give_the_same_roots_as_body_axes():
    """The same aeroplane in both axes, its inertia turned too."""
    plane, alpha = trainer(), 0.12
    level = replace(plane.trim, incidence=alpha, attitude=alpha)
    along = replace(plane.trim, incidence=0.0, attitude=0.0)
    turned = replace(plane.coefficients, **TRAINER_RATES)
    body = body_moments(turned, incidence=alpha)
    c, s = np.cos(alpha), np.sin(alpha)
    turn = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])
    one = lateral_modes(
        lateral_matrix(dimensional(body, trim=level), trim=level, mass=1.0, inertia=plane.inertia)
    )
    two = lateral_modes(
        lateral_matrix(
            dimensional(turned, trim=along),
            trim=along,
            mass=1.0,
            inertia=turn @ plane.inertia @ turn.T,
        )
    )
    assert np.allclose(one.roots, two.roots, rtol=1e-9)


def test_inertia_in_both_axes():
    there = flight_inertia([[1.0, 0.1, -0.2], [0.1, 2.0, 0.3], [-0.2, 0.3, 3.0]])
    assert there.tolist() == [[1.0, -0.1, -0.2], [-0.1, 2.0, -0.3], [-0.2, -0.3, 3.0]]
    assert np.array_equal(flight_inertia(there), [[1, 0.1, -0.2], [0.1, 2, 0.3], [-0.2, 0.3, 3]])


def test_derivatives_of_a_lattice():
    """Forces along the body's axes change with speeds u, v, w as the lattice's own loads do."""
    reference = LatticeReference(area=6.0, chord=1.0, span=6.0, point=(0.3, 0.0, 0.1))
    surfaces = (
        lattice_surface(
            "wing", leading=[(0, 0, 0), (0.2, 3, 0.3)], chord=(1.1, 0.9), twist=(0.02, 0.02)
        ),
        lattice_surface(
            "fin", leading=[(3, 0, 0), (3.2, 0, 0.9)], chord=(0.8, 0.6), mirrored=False
        ),
    )
    tensor, alpha, speed = solve_tensor(surfaces, reference=reference), 0.08, 9.0
    found = derivatives(tensor, incidence=alpha)
    trim = Trim(speed=speed, area=6.0, chord=1.0, span=6.0, incidence=alpha, attitude=alpha)
    slopes = dimensional(coefficients_of(found), trim=trim)

    def forces(u=0.0, v=0.0, w=0.0):
        there = np.array([speed * np.cos(alpha) + u, v, speed * np.sin(alpha) + w])
        fast = np.linalg.norm(there)
        state = motion_state(
            tensor,
            speed=fast,
            incidence=np.arctan2(there[2], there[0]),
            sideslip=np.arcsin(there[1] / fast),
        )
        got = 1.225 * loads(tensor, state)
        return np.concatenate([flight_axes(got[:3]), got[3:]])

    def column(**change):
        ((name, h),) = change.items()
        return (forces(**{name: h}) - forces(**{name: -h})) / (2.0 * h)

    by_u, by_v, by_w = column(u=1e-4), column(v=1e-4), column(w=1e-4)
    assert np.allclose(by_u[[0, 2, 4]], [slopes.x_u, slopes.z_u, slopes.m_u], rtol=1e-6)
    assert np.allclose(by_w[[0, 2, 4]], [slopes.x_w, slopes.z_w, slopes.m_w], rtol=1e-6)
    assert np.allclose(by_v[[1, 3, 5]], [slopes.y_v, slopes.l_v, slopes.n_v], rtol=1e-6)
    assert float(slopes.n_v) > 0.0 > float(slopes.y_v)


def test_a_case_without_numbers_does_not_stop_the_others():
    good = trainer()
    for matrix, find, mode in (
        (good.longitudinal_matrix, longitudinal_modes, Mode.SHORT_PERIOD),
        (good.lateral_matrix, lateral_modes, Mode.DUTCH_ROLL),
    ):
        both = find(np.stack([np.full((4, 4), np.nan), matrix]))
        assert both.stable.tolist()[0] is False
        assert both.has(mode).tolist() == [False, True]
        assert np.isnan(both.damping(mode)[0])
        assert both.damping(mode)[1] == pytest.approx(float(find(matrix).damping(mode)))
