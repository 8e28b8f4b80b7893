"""Folders of measured propellers and bench runs: the error table, tier by tier."""

from __future__ import annotations

import csv
import math
from pathlib import Path
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.table import Table

from foamwright.errors import FoamwrightError
from foamwright.power.propeller.measured import MANIFEST
from foamwright.power.propeller.suite import SuiteResult, bench_suite, propeller_suite
from foamwright.terminal import plain_console

_BENCH = "bench*.csv"


def suite_in(place: Path) -> SuiteResult | None:
    """Judge the propeller model on a folder or file of measurements.

    Parameters
    ----------
    place : Path
        A folder with ``manifest.csv`` and a CSV for each propeller, or a CSV file of bench runs,
        or a folder that holds one named ``bench*.csv``.

    Returns
    -------
    SuiteResult or None
        None where the place is laid out like neither: it may hold case files.

    Raises
    ------
    FoamwrightError
        When the tables cannot be read.
    """
    try:
        if place.is_dir() and (place / MANIFEST).is_file():
            return _not_empty(propeller_suite(place))
        if place.suffix.lower() == ".csv" or (place.is_dir() and any(place.glob(_BENCH))):
            return _not_empty(bench_suite(place))
    except (OSError, ValueError, KeyError, csv.Error) as error:
        said = f"there is no column {error}" if isinstance(error, KeyError) else str(error)
        raise FoamwrightError(
            f"{place} cannot be read as measured propellers: {said}; docs/verify.md says how such "
            "tables are laid out"
        ) from error
    return None


def _not_empty(suite: SuiteResult) -> SuiteResult:
    if not suite.propellers:
        raise ValueError("it names no propeller with measurements beside it")
    return suite


def suite_dictionary(suite: SuiteResult) -> dict[str, Any]:
    """Return the error table as plain values for ``--json``; all errors are shares."""
    return {
        "compared": suite.says,
        "tiers": [
            {
                "told": tier.tier,
                "propellers": tier.count,
                "ct_median": tier.ct_median,
                "ct_90th": tier.ct_ninety,
                "cp_median": tier.cp_median,
                "cp_90th": tier.cp_ninety,
                "static_ct_median": _number(tier.static_median),
                "ct_inside_band": tier.ct_inside,
                "cp_inside_band": tier.cp_inside,
            }
            for tier in suite.tiers
        ],
        "propellers": [
            {
                "propeller": one.key,
                "told": one.tier,
                "ct_error": one.ct_error,
                "cp_error": one.cp_error,
                "static_ct_error": _number(one.static_error),
                "ct_inside_band": one.ct_inside,
                "cp_inside_band": one.cp_inside,
            }
            for one in suite.propellers
        ],
    }


def print_suite(suite: SuiteResult) -> None:
    """Print the error table on stdout."""
    console = plain_console()
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("What the model is told", no_wrap=True)
    for heading in (
        "propellers",
        "CT %\nmedian",
        "90th",
        "CP %\nmedian",
        "90th",
        "static CT %\nmedian",
        "CT in\nband %",
        "CP in\nband %",
    ):
        table.add_column(heading, justify="right")
    for tier in suite.tiers:
        errors = (tier.ct_median, tier.ct_ninety, tier.cp_median, tier.cp_ninety)
        shares = (*errors, tier.static_median, tier.ct_inside, tier.cp_inside)
        cells = ("" if math.isnan(share) else f"{100.0 * share:.1f}" for share in shares)
        table.add_row(tier.tier, str(tier.count), *cells)
    console.print(table)
    console.print(f"{suite.says}; the band is meant to hold four readings in five.")


def _number(value: float) -> float | None:
    return None if math.isnan(value) else value
