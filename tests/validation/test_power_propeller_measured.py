"""The propeller model against measured propellers of makes it was not fitted to."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from foamwright.power.propeller import propeller_suite
from foamwright.power.propeller.laws import LAWS, Laws, laws_from
from foamwright.power.propeller.measured import (
    MeasuredPropeller,
    read_bench,
    read_propellers,
)
from foamwright.power.propeller.suite import (
    TIERS,
    SuiteResult,
    TierErrors,
    bench_propellers,
    model_for,
)
from tests.reference import Reference

DATA = Path(__file__).parents[1] / "data"
UIUC = Reference(
    "J. Brandt, R. Deters, G. Ananda, O. Dantsker, M. Selig",
    "UIUC Propeller Database, vols. 1 to 3",
    None,
    "tables in tests/data/props",
)
BENCH = Reference(
    "StrawsonDesign/motor_propeller_testing", "static bench, five-inch propellers", 2018, ""
)

#: Goals for propellers the model was not fitted to: median RMS over J, ct and cp, as shares of the
#: propeller's largest. The project's own goals, set from what a first model reached.
GOALS = [
    pytest.param("nominal", 0.11, 0.125),
    pytest.param(
        "class, width",
        0.09,
        0.11,
        marks=pytest.mark.xfail(
            strict=True, reason=("10.1 and 13.1 %: class and width do not carry from make to make")
        ),
    ),
    pytest.param(
        "geometry",
        0.07,
        0.095,
        marks=pytest.mark.xfail(strict=True, reason=("7.2 and 9.6 %: just missed")),
    ),
    pytest.param("geometry, reading", 0.05, 0.075),
]


@cache
def left_out() -> dict[str, Laws]:
    text = (DATA / "props" / "left_out.json").read_text(encoding="utf-8")
    return {make: laws_from(numbers) for make, numbers in json.loads(text).items()}


@cache
def suite() -> SuiteResult:
    return propeller_suite(DATA / "props", laws_for=lambda make: left_out()[make])


@cache
def measured() -> dict[str, MeasuredPropeller]:
    return {one.key: one for one in read_propellers(DATA / "props")}


def tier(result: SuiteResult, name: str) -> TierErrors:
    return next(one for one in result.tiers if one.tier == name)


@pytest.mark.validation(UIUC)
@pytest.mark.parametrize(("name", "ct", "cp"), GOALS)
def test_error_on_makes_left_out(agrees, name, ct, cp):
    """RMS over all rows, share of the propeller's largest coefficient, median over propellers."""
    found = tier(suite(), name)
    agrees(f"{name}: ct error", got=found.ct_median, expected=0.0, tol_abs=ct)
    agrees(f"{name}: cp error", got=found.cp_median, expected=0.0, tol_abs=cp)


@pytest.mark.validation(UIUC)
@pytest.mark.parametrize("name", TIERS)
def test_bands_hold_what_they_say(agrees, name):
    """Bands come from other makes' left-out errors; four in five rows should lie inside."""
    found = tier(suite(), name)
    agrees(f"{name}: inside ct band", got=found.ct_inside, expected=0.825, tol_abs=0.075)
    agrees(f"{name}: inside cp band", got=found.cp_inside, expected=0.825, tol_abs=0.075)


#: Outside the 25 % of the reference set: known misses. tests/regression holds them where they are.
OUTSIDE = {
    "P100x0470-2b-a": "the slow flyer, whose make is the only one of its class",
    "P050x0375-3b-a": "among the widest research blades",
    "P050x0375-4b-a": "among the widest research blades",
    "P110x0700-2b-d": "a sport propeller of coarser pitch than it says",
}

CASES = {
    "P050x0375-2b-b": (7323, (0.283231, 0.492347, 0.644286)),
    "P050x0375-3b-a": (6947, (0.283707, 0.474113, 0.625676)),
    "P050x0375-4b-a": (5952, (0.283516, 0.472304, 0.663177)),
    "P050x0375-3b-b": (7947, (0.245034, 0.446988, 0.572756)),
    "P045x0300-2b-a": (10837, (0.226293, 0.397289, 0.521626)),
    "P042x0400-2b-a": (9880, (0.373552, 0.615081, 0.814292)),
    "P051x0276-2b-a": (9427, (0.211543, 0.366531, 0.509007)),
    "P090x0450-2b-a": (6922, (0.233, 0.394, 0.529)),
    "P090x0470-2b-a": (6768, (0.216, 0.355, 0.474)),
    "P090x0675-3b-a": (5460, (0.270441, 0.440272, 0.599477)),
    "P100x0700-2b-b": (6542, (0.29, 0.486, 0.647)),
    "P100x0470-2b-a": (6528, (0.225, 0.395, 0.528)),
    "P100x0600-2b-e": (6648, (0.244, 0.414, 0.554)),
    "P110x0700-2b-d": (6170, (0.292, 0.501, 0.68)),
}


@pytest.mark.validation(UIUC)
@pytest.mark.parametrize(
    "key",
    [
        pytest.param(key, marks=pytest.mark.xfail(strict=True, reason=OUTSIDE[key]))
        if key in OUTSIDE
        else key
        for key in CASES
    ],
)
def test_single_propellers(agrees, key):
    """Told diameter, pitch and blades only: 25 % of the largest coefficient."""
    one, (rpm, advances) = measured()[key], CASES[key]
    share = 0.25
    model = model_for(one, tier="nominal", laws=left_out()[one.make])
    assert model is not None
    rows = [int(np.flatnonzero(one.is_static & (np.round(60.0 * one.rotation) == rpm))[0])]
    rows += [int(np.argmin(np.abs(one.advance_ratio - j))) for j in advances]
    for row in rows:
        j = float(one.advance_ratio[row])
        got = model.coefficients(j, rotation=float(one.rotation[row]))
        agrees(f"{key} ct at J {j:.2f}", got=float(got.ct), expected=float(one.ct[row]),
               tol_abs=share * float(one.ct.max()))  # fmt: skip
        agrees(f"{key} cp at J {j:.2f}", got=float(got.cp), expected=float(one.cp[row]),
               tol_abs=share * float(one.cp.max()))  # fmt: skip


#: Bench values of the reference set, estimated there from the same rows
SAID = {
    "T050x0400-2b-a": (0.129, 0.058),
    "T050x0400-3b-a": (0.140, 0.0717),
    "T050x0400-3b-b": (0.149, 0.0808),
    "T050x0450-3b-b": (0.145, 0.0773),
    "T050x0530-3b-a": (0.172, 0.0983),
}


@pytest.mark.validation(BENCH)
def test_bench_coefficients(agrees):
    """Thrust is read; power is an estimate from amps, good to 12 %."""
    for one in bench_propellers(read_bench(DATA / "bench_static_5in.csv")):
        ct, cp = SAID[one.key]
        agrees(f"{one.key} ct", got=one.ct, expected=ct, rel=0.02)
        agrees(f"{one.key} cp", got=one.cp, expected=cp, rel=0.07)


@pytest.mark.validation(UIUC)
def test_windmilling(agrees):
    """Rows beyond zero thrust, down to ct -0.13, told the measured blade: rms over the peak."""
    misses = []
    for one in measured().values():
        model = model_for(one, tier="geometry", laws=left_out()[one.make])
        mills = one.ct < -0.005
        if model is not None and mills.sum() > 3:
            got = model.coefficients(one.advance_ratio[mills], rotation=one.rotation[mills])
            misses.append(np.sqrt(np.mean((got.ct - one.ct[mills]) ** 2)) / one.ct.max())
    agrees("windmilling ct", got=float(np.median(misses)), expected=0.0, tol_abs=0.12)


def test_laws_in_use_are_near_all_left_out():
    """No single make decides the constants."""
    for name in ("slope", "top_lift", "drag"):
        mine = getattr(LAWS.section, name)
        others = [getattr(laws.section, name) for laws in left_out().values()]
        assert np.allclose(others, mine, rtol=0.25)
