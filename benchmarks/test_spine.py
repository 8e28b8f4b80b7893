"""Dunlin from file to figures, and the start-up of the program.

Run: ``.venv/bin/pytest benchmarks --benchmark-enable``. No test here asserts a time.
"""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from foamwright.air import stability
from foamwright.airframe import build_airframe
from foamwright.airframe.build import forget_parts
from foamwright.assess import assess, compare
from foamwright.balance import weigh
from foamwright.design import read_design_text, starter_text
from foamwright.flat import flatten

TEXT = starter_text("dunlin")


@pytest.fixture(scope="module")
def design():
    return read_design_text(TEXT).variants[0]


def test_read_all_variants(benchmark):
    benchmark(read_design_text, TEXT)


def test_airframe(benchmark, design):
    benchmark.pedantic(build_airframe, (design,), setup=forget_parts, rounds=50)


def test_airframe_with_kept_parts(benchmark, design):
    """What a slider costs that leaves surfaces and bodies alone."""
    benchmark(build_airframe, design)


def test_balance(benchmark, design):
    airframe = build_airframe(design)
    benchmark(weigh, airframe)


def test_lattice(benchmark, design):
    airframe = build_airframe(design)
    benchmark(stability, airframe)


def test_flat(benchmark, design):
    airframe = build_airframe(design)
    balance = weigh(airframe)
    benchmark(flatten, airframe, balance)


def test_spine_of_one_variant(benchmark):
    """Read all variants; shape, weigh and find the neutral point of one: goal under 25 ms."""

    def spine() -> None:
        airframe = build_airframe(read_design_text(TEXT).variants[0])
        weigh(airframe)
        stability(airframe)

    benchmark.pedantic(spine, setup=forget_parts, rounds=30)


def test_one_variant_from_file_to_findings(benchmark):
    """All that `check` works out for one variant."""
    benchmark.pedantic(
        lambda: assess(read_design_text(TEXT).variants[0]), setup=forget_parts, rounds=30
    )


def test_all_variants_from_file_to_findings(benchmark):
    benchmark.pedantic(lambda: compare(read_design_text(TEXT)), setup=forget_parts, rounds=10)


def test_dense_solve_of_200(benchmark):
    """A yardstick for the machine: one dense solve of 200 unknowns."""
    rng = np.random.default_rng(1)
    matrix, right = rng.normal(size=(200, 200)), rng.normal(size=(200, 2))
    benchmark(np.linalg.solve, matrix, right)


def test_start_up_of_version(benchmark):
    """Goal: under 0.3 s."""
    command = [sys.executable, "-m", "foamwright", "--version"]
    benchmark.pedantic(lambda: subprocess.run(command, check=True, capture_output=True), rounds=5)
