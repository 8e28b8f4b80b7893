"""The lattice, beside LAPACK's own solution of a system of the same size.

Run: ``OPENBLAS_NUM_THREADS=1 .venv/bin/pytest benchmarks/test_air.py --benchmark-enable``.
No test here asserts a time. ``extra_info`` holds the ratio to getrf and getrs in the same run.
"""

from __future__ import annotations

import time

import numpy as np
import pytest
from scipy.linalg import lu_factor, lu_solve

from foamwright.air import lattice_surface, lattice_surfaces, solve_lattice, stability
from foamwright.air.influence import influence
from foamwright.air.junctions import skeletons
from foamwright.air.mesh import build_lattice
from foamwright.airframe import build_airframe
from foamwright.design import read_design_text, starter_text


def lapack_seconds(count: int) -> float:
    """Best of many: factor and solve for three right-hand sides."""
    rng = np.random.default_rng(1)
    matrix = rng.standard_normal((count, count)) + 10.0 * np.eye(count)
    right = rng.standard_normal((count, 3))
    best = np.inf
    for _ in range(30):
        start = time.perf_counter()
        lu_solve(lu_factor(matrix, check_finite=False), right, check_finite=False)
        best = min(best, time.perf_counter() - start)
    return best


def note_ratio(benchmark, unknowns: int) -> None:
    seconds = lapack_seconds(unknowns)
    benchmark.extra_info["panels"] = unknowns
    benchmark.extra_info["lapack_ms"] = round(1e3 * seconds, 3)
    if benchmark.stats is not None:
        ratio = benchmark.stats.stats.min / seconds
        benchmark.extra_info["times_lapack"] = round(ratio, 1)


@pytest.fixture(scope="module", params=["dunlin", "curlew", "godwit"])
def airframe(request):
    return build_airframe(read_design_text(starter_text(request.param)).variants[0])


def test_stability_of_a_design(benchmark, airframe):
    """Goal: 6 ms on one core."""
    result = benchmark(stability, airframe)
    note_ratio(benchmark, result.panels)


def test_stability_with_sideslip_and_roll(benchmark, airframe):
    result = benchmark(lambda: stability(airframe, lateral=True))
    note_ratio(benchmark, result.panels)


@pytest.mark.parametrize(("strips", "rows"), [(16, 4), (26, 4), (40, 5), (64, 6)])
def test_lattice_by_size(benchmark, strips, rows):
    """Wing and tail; panels of the half model."""
    wing = lattice_surface(
        "wing", leading=[(0, 0, 0), (0.1, 0.6, 0.04)], chord=(0.2, 0.15), strips=strips, rows=rows
    )
    tail = lattice_surface(
        "tail",
        leading=[(0.6, 0, 0), (0.62, 0.2, 0)],
        chord=(0.12, 0.09),
        strips=strips // 2,
        rows=rows,
    )
    result = benchmark(
        lambda: solve_lattice(
            (wing, tail), reference_area=0.21, reference_chord=0.18, reference_span=1.2
        )
    )
    note_ratio(benchmark, result.panels)


def test_influence_alone(benchmark, airframe):
    lattice = build_lattice(skeletons(lattice_surfaces(airframe))[0])
    benchmark(influence, lattice, image=True)
    note_ratio(benchmark, len(lattice.strip))
