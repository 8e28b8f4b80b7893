"""Modes against textbooks (NAVION, 747) and against a Jacobian taken numerically elsewhere."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.flight.derivatives import Trim, dimensional, per_mass
from foamwright.flight.levels import (
    Category,
    phugoid_level,
    short_period_level,
)
from foamwright.flight.linear import LinearAeroplane
from foamwright.flight.modes import (
    Mode,
    double_time,
    half_time,
    lateral_modes,
    longitudinal_matrix,
    longitudinal_modes,
    period,
    phugoid_damping,
    phugoid_frequency,
    roll_time,
    spiral_margin,
    steady_roll,
)
from tests.flight_aeroplanes import NAVION_TRIM, navion, navion_inertia, small_uav, trainer
from tests.flight_cases import case

NAVION, NAVION_POLY, NAVION_TIMES = (case(f"MODE-NAV-{k}") for k in ("LON", "LON-POLY", "T"))
JUMBO, JUMBO_Z = case("MODE-747-LON"), case("MODE-747-LON-Z")


def check_pair(agrees, one, key, modes, mode):
    root = modes.pair(mode)[..., 0]
    one.check(agrees, f"{key}_re", root.real)
    one.check(agrees, f"{key}_im", root.imag)


@pytest.mark.validation(NAVION.reference)
def test_navion_from_its_derivatives(agrees):
    modes = longitudinal_modes(navion())
    check_pair(agrees, NAVION, "phugoid", modes, Mode.PHUGOID)
    check_pair(agrees, NAVION, "short_period", modes, Mode.SHORT_PERIOD)


@pytest.mark.validation(NAVION.reference)
def test_navion_matrix_as_printed(agrees):
    """Rounded as the book prints it; the last row's zeros are exact."""
    printed = np.array(NAVION_POLY["A"])
    got = navion()
    for k, j in ((0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 2)):
        agrees(f"entry {k}{j}", got=got[k, j], expected=printed[k, j], rel=0.015)


@pytest.mark.validation(NAVION_POLY.reference)
def test_navion_polynomial(agrees):
    got = np.poly(np.array(NAVION_POLY["A"]))
    NAVION_POLY.check(agrees, "coefficients", got)
    assert np.allclose(np.poly(longitudinal_modes(np.array(NAVION_POLY["A"])).roots).real, got)


@pytest.mark.validation(NAVION_TIMES.reference)
def test_navion_times(agrees):
    for key, mode in (("ph", "phugoid"), ("sp", "short_period")):
        root = complex(*NAVION_TIMES[mode])
        NAVION_TIMES.check(agrees, f"T_{key}", period(root))
        NAVION_TIMES.check(agrees, f"thalf_{key}", half_time(root))


@pytest.mark.validation(NAVION.reference)
def test_navion_in_the_other_notation(agrees):
    """Per mass, as the book tabulates it: Z_w -2.02, M_q -2.05, M_w dot -0.0051, M_w -0.05."""
    whole = dimensional(navion(derivatives=True), trim=NAVION_TRIM)
    mass, inertia = navion_inertia()
    got = per_mass(whole, mass=mass, inertia=np.diag(inertia))
    agrees("Z_w", got=float(got.z_w), expected=-2.02, tol_abs=0.005)
    agrees("M_w", got=float(got.m_w), expected=-0.05, tol_abs=0.001)
    agrees("M_q", got=float(got.m_q), expected=-2.05, tol_abs=0.03)
    agrees("M_w dot", got=float(got.m_w_dot), expected=-0.0051, tol_abs=1e-4)


@pytest.mark.validation(JUMBO.reference)
def test_jumbo_from_its_matrix(agrees):
    matrix = np.array(JUMBO["A"])
    modes = longitudinal_modes(matrix)
    check_pair(agrees, JUMBO, "phugoid", modes, Mode.PHUGOID)
    check_pair(agrees, JUMBO, "short_period", modes, Mode.SHORT_PERIOD)
    JUMBO.check(agrees, "char_poly", np.poly(matrix))


@pytest.mark.validation(JUMBO_Z.reference)
def test_jumbo_periods_and_damping(agrees):
    modes = longitudinal_modes(np.array(JUMBO["A"]))
    for key, mode in (("ph", Mode.PHUGOID), ("sp", Mode.SHORT_PERIOD)):
        JUMBO_Z.check(agrees, f"{key}_T", modes.period(mode))
        JUMBO_Z.check(agrees, f"{key}_zeta", modes.damping(mode))
        JUMBO_Z.check(agrees, f"{key}_wn", modes.frequency(mode))


# ---------------------------------------------------------------- a trainer of 1 kg

CHANGES = {
    "MODE-TR-BASE": {},
    "MODE-TR-CGAFT": {"pitch_slope": -0.3},
    "MODE-TR-LOWDIH": {"roll_slip": -0.03},
    "MODE-TR-BIGFIN": {"yaw_slip": 0.12, "yaw_yaw_rate": -0.15, "side_slip": -0.5},
    "MODE-TR-LONGNOSE": {"pitch_inertia": 0.1},
}
OUTPUTS = {
    "sp": (0, Mode.SHORT_PERIOD),
    "ph": (0, Mode.PHUGOID),
    "dr": (1, Mode.DUTCH_ROLL),
    "roll": (1, Mode.ROLL),
    "spiral": (1, Mode.SPIRAL),
}


def check_modes(agrees, one, both):
    for key, (plane, mode) in OUTPUTS.items():
        if f"{key}_re" in one.expected:
            check_pair(agrees, one, key, both[plane], mode)
        elif key in one.expected:
            one.check(agrees, key, both[plane].root(mode))


@pytest.mark.validation(case("MODE-TR-BASE").reference)
@pytest.mark.parametrize("name", CHANGES)
def test_trainer(agrees, name):
    one = case(name)
    state = trainer(**CHANGES[name])
    one.check(agrees, "alpha_trim", np.degrees(state.incidence))
    check_modes(agrees, one, (state.longitudinal, state.lateral))


UNSTABLE = case("MODE-TR-UNSTABLE")


@pytest.mark.validation(UNSTABLE.reference)
def test_trainer_with_its_balance_point_too_far_aft(agrees):
    state = trainer(pitch_slope=0.1)
    UNSTABLE.check(agrees, "alpha_trim", np.degrees(state.incidence))
    UNSTABLE.check(agrees, "real_roots", np.sort(state.longitudinal.roots.real))
    assert not state.longitudinal.stable
    assert UNSTABLE.expected["unstable"] is True
    assert np.all(state.longitudinal.roots.imag == 0.0)


@pytest.mark.validation(case("MODE-BM-E2-35").reference)
@pytest.mark.parametrize("name", ["MODE-BM-E2-35", "MODE-BM-E1-15"])
def test_small_uavs(agrees, name):
    one = case(name)
    state = small_uav(one["parameters"], speed=one["V"])
    one.check(agrees, "alpha", np.degrees(state.incidence))
    one.check(agrees, "de", np.degrees(state.elevator))
    one.check(agrees, "T", state.thrust)
    check_modes(agrees, one, (state.longitudinal, state.lateral))


# ---------------------------------------------------------------- single roots and rules

LANCHESTER, DAMPING = case("MODE-LANCH"), case("MODE-PHZETA")
MARGINS, FLYING_WING = case("MODE-E1-SM"), case("MODE-FLYW5")
ROLL, SPIRAL, DOUBLE = case("MODE-ROLL"), case("MODE-SPIRALSIGN"), case("MODE-T2")


@pytest.mark.validation(LANCHESTER.reference)
def test_lanchesters_phugoid(agrees):
    omega = phugoid_frequency(LANCHESTER["V"])
    LANCHESTER.check(agrees, "omega", omega)
    LANCHESTER.check(agrees, "T", period(1j * omega))
    LANCHESTER.check(agrees, "T_over_V", period(1j * omega) / LANCHESTER["V"])


@pytest.mark.validation(DAMPING.reference)
def test_phugoid_damping(agrees):
    zeta = phugoid_damping(DAMPING["LD"])
    DAMPING.check(agrees, "zeta", zeta)
    root = -zeta * phugoid_frequency(12.0)
    DAMPING.check(agrees, "t_half_at_12_mps", half_time(root))


@pytest.mark.validation(MARGINS.reference)
def test_margins_of_small_uavs(agrees):
    for name, key in (("E1", "SM_E1"), ("E2", "SM_E2"), ("E2_second_edition", "SM_E2_second")):
        slopes = MARGINS[name]
        aeroplane = LinearAeroplane(
            mass=1.0,
            area=1.0,
            chord=1.0,
            lift_zero=0.0,
            lift_slope=slopes["CLa"],
            lift_elevator=0.0,
            drag_zero=0.0,
            drag_lift=0.0,
            pitch_zero=0.0,
            pitch_slope=slopes["Cma"],
            pitch_elevator=-1.0,
        )
        MARGINS.check(agrees, key, aeroplane.static_margin)
    for name in ("E1", "E2"):
        assert (MARGINS[name]["Cnb"] > 0.0) is MARGINS.expected[f"{name}_directionally_stable"]


@pytest.mark.validation(FLYING_WING.reference)
def test_modes_of_a_research_flying_wing(agrees):
    one, omega = FLYING_WING, phugoid_frequency(FLYING_WING["V"])
    one.check(agrees, "lanchester_wn", omega)
    one.check(agrees, "ratio", one["ph_wn"] / omega)
    zeta, wn = one["ph_zeta"], one["ph_wn"]
    root = complex(-zeta * wn, wn * (1.0 - zeta**2) ** 0.5)
    one.check(agrees, "ph_T", period(root))
    one.check(agrees, "ph_T_double", double_time(root))
    level = short_period_level(one["sp_zeta"], category=Category.B)
    assert level == one.expected["sp_level_B"]
    assert phugoid_level(zeta, double=double_time(root)) == 4


@pytest.mark.validation(ROLL.reference)
def test_roll_mode(agrees):
    one = ROLL
    time = roll_time(
        one["Clp"],
        speed=one["V"],
        area=one["S"],
        span=one["b"],
        inertia=one["Ix"],
        density=one["rho"],
    )
    one.check(agrees, "tau", time)
    helix = steady_roll(one["Clda"] * np.radians(one["da"]), damping=one["Clp"])
    one.check(agrees, "pb_2V", helix)
    one.check(agrees, "p", np.degrees(helix * 2.0 * one["V"] / one["b"]))


@pytest.mark.validation(SPIRAL.reference)
@pytest.mark.parametrize(
    ("number", "changes"),
    [
        (1, {}),
        (2, {"roll_slip": -0.18}),
        (3, {"yaw_slip": 0.02, "yaw_yaw_rate": -0.04}),
    ],
)
def test_spiral_criterion(agrees, number, changes):
    """Its sign agrees with the root of the trainer with the same derivatives."""
    k = SPIRAL[f"case{number}"]
    margin = spiral_margin(
        roll_slip=k["Clb"], yaw_yaw_rate=k["Cnr"], yaw_slip=k["Cnb"], roll_yaw_rate=k["Clr"]
    )
    agrees("margin", got=float(margin), expected=SPIRAL.expected["margins"][number - 1], rel=1e-9)
    stable = SPIRAL.expected[f"case{number}_stable"]
    assert bool(margin > 0.0) is stable
    root = trainer(**changes).lateral.root(Mode.SPIRAL)
    assert bool(root < 0.0) is stable


@pytest.mark.validation(DOUBLE.reference)
def test_time_to_double(agrees):
    DOUBLE.check(agrees, "T2", double_time(DOUBLE["root"]))


@pytest.mark.validation(NAVION.reference)
def test_modes_are_the_same_in_any_units(agrees):
    """Feet and slugs or metres and kilograms: a root is in 1/s in both."""
    foot, slug = 0.3048, 14.593903
    trim = replace(
        NAVION_TRIM,
        speed=NAVION_TRIM.speed * foot,
        area=NAVION_TRIM.area * foot**2,
        chord=NAVION_TRIM.chord * foot,
        span=NAVION_TRIM.span * foot,
        density=NAVION_TRIM.density * slug / foot**3,
        gravity=NAVION_TRIM.gravity * foot,
    )
    assert isinstance(trim, Trim)
    mass, inertia = navion_inertia()
    matrix = longitudinal_matrix(
        dimensional(navion(derivatives=True), trim=trim),
        trim=trim,
        mass=mass * slug,
        inertia=inertia * slug * foot**2,
    )
    modes = longitudinal_modes(matrix)
    check_pair(agrees, NAVION, "phugoid", modes, Mode.PHUGOID)
    check_pair(agrees, NAVION, "short_period", modes, Mode.SHORT_PERIOD)


def test_lateral_modes_of_many_cases_at_once():
    """A batch names each of its cases as that case alone is named."""
    matrices = np.stack([trainer(roll_slip=k).lateral_matrix for k in (-0.03, -0.09, -0.2, 0.05)])
    whole = lateral_modes(matrices)
    for k, matrix in enumerate(matrices):
        one = lateral_modes(matrix)
        assert np.array_equal(one.names, whole.names[k])
        assert np.allclose(one.roots, whole.roots[k])
