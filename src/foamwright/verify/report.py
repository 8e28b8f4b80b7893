"""Results as plain values for ``--json``, and counts by family."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from foamwright import __version__
from foamwright.verify.model import CaseResult, Check, Tally
from foamwright.verify.running import tally


def by_family(results: Sequence[CaseResult]) -> dict[str, tuple[CaseResult, ...]]:
    """Put results of one family together, families in the order they first come."""
    families: dict[str, list[CaseResult]] = {}
    for result in results:
        families.setdefault(result.case.family, []).append(result)
    return {family: tuple(members) for family, members in families.items()}


def as_dictionary(results: Sequence[CaseResult]) -> dict[str, Any]:
    """Return all results as plain values for ``--json``.

    Parameters
    ----------
    results : sequence of CaseResult
        What came of the cases.

    Returns
    -------
    dict
        The program's version, the cases with their checks, counts by family and in all.
    """
    families = by_family(results)
    return {
        "foamwright": __version__,
        "cases": [_case(result) for result in results],
        "families": {name: _tally(tally(members)) for name, members in families.items()},
        "total": _tally(tally(results)),
    }


def _tally(counts: Tally) -> dict[str, int]:
    return asdict(counts) | {"checks": counts.total}


def _case(result: CaseResult) -> dict[str, Any]:
    case = result.case
    return {
        "name": case.name,
        "file": case.file,
        "line": case.line,
        "what": case.what,
        "family": case.family,
        "source": case.source,
        "sure": case.sure,
        "note": case.note,
        "checks": [_check(check) for check in result.checks],
    }


def _check(check: Check) -> dict[str, Any]:
    return asdict(check) | {"state": dict(check.state), "verdict": check.verdict.value}
