"""Levels of flying qualities against the specification's tables, printed and scaled."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.flight.handling import judge
from foamwright.flight.levels import (
    DUTCH_ROLL,
    FULL_SPAN,
    HELIX,
    ROLL_TIME,
    SHORT_PERIOD_DAMPING,
    SPIRAL_DOUBLE,
    Category,
    dutch_roll_level,
    froude_factors,
    phugoid_level,
    roll_level,
    short_period_level,
    spiral_level,
)
from foamwright.flight.modes import Mode, double_time, steady_roll
from tests.flight_aeroplanes import trainer
from tests.flight_cases import case

DAMPING, WAG, ROLL, SPIRAL = (case(f"HQ-{k}") for k in ("SPDAMP", "DR", "ROLL", "SPIRAL"))
TRAINER, FROUDE, SCALED, HELIX_CASE = (case(f"HQ-{k}") for k in ("TR", "FROUDE", "SCALED", "PB2V"))


def rows_agree(agrees, what, got, expected):
    for one, want in zip(got, expected, strict=True):
        if not np.isnan(want):  # no limit there
            agrees(what, got=one, expected=want, tol_abs=1e-9)


@pytest.mark.validation(DAMPING.reference)
def test_short_period_limits(agrees):
    for level in (1, 2, 3):
        for category, key in ((Category.A, "AC"), (Category.B, "B"), (Category.C, "AC")):
            got = SHORT_PERIOD_DAMPING[category][level - 1]
            rows_agree(agrees, f"{category} {level}", got, DAMPING.expected[f"level{level}_{key}"])


@pytest.mark.validation(WAG.reference)
def test_dutch_roll_limits(agrees):
    for category in Category:
        for level in (1, 2, 3):
            key = f"{category}_L1" if level == 1 else f"all_L{level}"
            got = DUTCH_ROLL[category][level - 1]
            rows_agree(agrees, f"{category} {level}", got, WAG.expected[key])


@pytest.mark.validation(ROLL.reference)
def test_roll_limits(agrees):
    for category, key in ((Category.A, "A_C"), (Category.B, "B"), (Category.C, "A_C")):
        rows_agree(agrees, str(category), ROLL_TIME[category], ROLL.expected[key])


@pytest.mark.validation(SPIRAL.reference)
def test_spiral_limits(agrees):
    for category, key in ((Category.A, "A_C"), (Category.B, "B"), (Category.C, "A_C")):
        rows_agree(agrees, str(category), SPIRAL_DOUBLE[category], SPIRAL.expected[key])


@pytest.mark.validation(case("HQ-DR-C1").reference)
@pytest.mark.parametrize("name", ["HQ-DR-C1", "HQ-DR-C2", "HQ-DR-C3", "HQ-DR-C5"])
def test_level_of_a_dutch_roll(agrees, name):
    one = case(name)
    got = dutch_roll_level(one["zeta"], frequency=one["wn"], category=Category(one["category"]))
    one.check(agrees, "level", got)


@pytest.mark.validation(case("HQ-SP-C1").reference)
@pytest.mark.parametrize("name", ["HQ-SP-C1", "HQ-SP-C2", "HQ-SP-C4", "HQ-SP-C5"])
def test_level_of_a_short_period(agrees, name):
    one = case(name)
    got = short_period_level(one["zeta"], category=Category(one["category"]))
    one.check(agrees, "level", got)


@pytest.mark.validation(TRAINER.reference)
def test_trainer_by_the_printed_figures(agrees):
    plane = trainer()
    lon, lat, one = plane.longitudinal, plane.lateral, TRAINER
    zeta, swing = lat.damping(Mode.DUTCH_ROLL), lat.frequency(Mode.DUTCH_ROLL)
    tau = -1.0 / lat.root(Mode.ROLL)
    double = double_time(lat.root(Mode.SPIRAL))
    one.check(agrees, "sp_zeta", lon.damping(Mode.SHORT_PERIOD))
    one.check(agrees, "ph_zeta", lon.damping(Mode.PHUGOID))
    one.check(agrees, "dr_zeta", zeta)
    one.check(agrees, "dr_zeta_wn", zeta * swing)
    one.check(agrees, "roll_tau", tau)
    one.check(agrees, "spiral_T2", double)
    levels = {
        "sp_level": short_period_level(lon.damping(Mode.SHORT_PERIOD)),
        "ph_level": phugoid_level(lon.damping(Mode.PHUGOID), double=np.inf),
        "dr_level": dutch_roll_level(zeta, frequency=swing),
        "roll_level": roll_level(tau),
        "spiral_level_B": spiral_level(double),
    }
    for key, got in levels.items():
        agrees(key, got=float(got), expected=one.expected[key], tol_abs=1e-9)
    judged = {entry.mode: entry for entry in judge(lon, lateral=lat, scale=FULL_SPAN / 1.2)}
    assert [int(entry.printed) for entry in judged.values()] == [1, 1, 1, 1, 2]
    # Scaled, a spiral may double in 6.6 s: the trainer's 19 s are Level 1.
    assert judged[Mode.SPIRAL].scaled == 1
    assert not judged[Mode.SPIRAL].agrees


@pytest.mark.validation(FROUDE.reference)
def test_froude_factors(agrees):
    got = froude_factors(FROUDE["N"])
    FROUDE.check(agrees, "speed", got.speed)
    FROUDE.check(agrees, "time", got.time)
    FROUDE.check(agrees, "frequency", got.frequency)
    FROUDE.check(agrees, "mass_equal_density", got.mass)
    FROUDE.check(agrees, "inertia", got.inertia)
    FROUDE.check(agrees, "wing_loading", got.wing_loading)
    FROUDE.check(agrees, "angular_acceleration", got.angular_acceleration)
    FROUDE.check(agrees, "power", got.power)


@pytest.mark.validation(SCALED.reference)
def test_limits_moved_to_a_model(agrees):
    """Also that each level turns where the moved limit says, from both sides."""
    one, ratio = SCALED, SCALED["b_full"] / SCALED["b_model"]
    k = froude_factors(ratio)
    one.check(agrees, "N", ratio)
    one.check(agrees, "sqrtN", k.frequency)
    one.check(agrees, "wn_factor", k.frequency)
    one.check(agrees, "CAP_factor", k.frequency**2)
    roll, spiral = ROLL_TIME[Category.B][0] * k.time, SPIRAL_DOUBLE[Category.B][0] * k.time
    _, rate, swing = DUTCH_ROLL[Category.B][0]
    one.check(agrees, "roll_tau_limit_B", roll)
    one.check(agrees, "spiral_T2_limit_B", spiral)
    one.check(agrees, "dr_wn_min_B", swing * k.frequency)
    one.check(agrees, "dr_zeta_wn_min_B", rate * k.frequency)
    near = np.array([0.999, 1.001])
    assert roll_level(near * roll, scale=ratio).tolist() == [1, 2]
    assert spiral_level(near * spiral, scale=ratio).tolist() == [2, 1]
    wag = dutch_roll_level(0.9, frequency=near * swing * k.frequency, scale=ratio)
    assert wag.tolist() == [4, 1]


@pytest.mark.validation(HELIX_CASE.reference)
def test_helix_angle_of_full_aileron(agrees):
    one = HELIX_CASE
    got = steady_roll(one["Clda"] * np.radians(one["da"]), damping=one["Clp"])
    one.check(agrees, "pb_2V", got)
    one.check(agrees, "criterion", HELIX)
    assert bool(got >= HELIX) is one.expected["passes"]
