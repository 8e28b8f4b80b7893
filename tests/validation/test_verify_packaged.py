"""Every packaged check lies in its band, or is known to miss and says why.

The sources and the bands stand in the case files, ``src/foamwright/verify/cases``.
"""

from __future__ import annotations

import pytest

from foamwright.verify import Case, Verdict, read_cases, run_case
from tests.reference import Reference

CASES = read_cases()


def _reference(case: Case) -> Reference:
    return Reference(
        author=case.source, title=case.what, year=None, place=case.file, sure=case.sure
    )


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(case, id=case.name, marks=pytest.mark.validation(_reference(case)))
        for case in CASES
    ],
)
def test_packaged_case(case: Case, request: pytest.FixtureRequest):
    agrees = request.getfixturevalue("agrees")
    for check in run_case(case).checks:
        assert not check.stale, f"{check.measure} is called a known miss, but it passes"
        assert check.verdict is not Verdict.MISS, check
        if check.verdict is Verdict.PASS and check.expected is not None:
            agrees(
                f"{case.name}: {check.measure}",
                got=check.got,
                expected=check.expected,
                rel=check.band_relative or 1e-9,
                tol_abs=check.band_absolute or 0.0,
            )


def test_there_are_checks_of_every_room():
    families = {case.family for case in CASES}
    assert {"planform", "stability", "downwash", "induced drag", "controls", "ground"} <= families
    assert {"geometry", "balance", "bodies", "thin sections", "section polars"} <= families
