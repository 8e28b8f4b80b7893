"""Every check gathered for the flight room is done, done elsewhere, or left out with a reason."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

import pytest

from tests.flight_cases import FOLDER, case_names

ROOT = Path(__file__).parents[2]
COVERAGE = tomllib.loads((FOLDER / "coverage.toml").read_text(encoding="utf-8"))
GATHERED = 176


@cache
def _source(file: str) -> str:
    return (ROOT / file).read_text(encoding="utf-8")


def test_every_check_is_accounted_for_once():
    names = [name for part in COVERAGE.values() for name in part]
    assert set(COVERAGE) == {"here", "elsewhere", "left-out"}
    assert len(names) == len(set(names)) == GATHERED


def test_figures_kept_here_are_those_checked_here():
    assert set(case_names()) == set(COVERAGE["here"])


@pytest.mark.parametrize("part", ["here", "elsewhere"])
def test_named_tests_exist(part):
    for name, where in COVERAGE[part].items():
        file, test = where.split("::")
        assert f"def {test}(" in _source(file), f"{name}: {where}"


def test_every_figure_is_read_by_a_test():
    """Its name stands in the file that checks it, whole or as one of a family."""
    for name, where in COVERAGE["here"].items():
        source = _source(where.split("::")[0])
        family, _, last = name.partition("-")
        parts = [name, f'"{last}"', f'"{name.rpartition("-")[2]}"', f'"{last.partition("-")[2]}"']
        assert any(bit in source for bit in parts), f"{family}: {name} not read in {where}"


def test_what_is_left_out_says_why():
    assert all(len(reason) > 30 for reason in COVERAGE["left-out"].values())
