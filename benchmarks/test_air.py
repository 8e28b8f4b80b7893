"""The lattice, beside LAPACK's own solution of a system of the same size.

Run: ``OPENBLAS_NUM_THREADS=1 .venv/bin/pytest benchmarks/test_air.py --benchmark-enable``.
No test here asserts a time. ``extra_info`` holds the ratio to getrf and getrs in the same run.
"""

from __future__ import annotations

import time

import numpy as np
import pytest
from scipy.linalg import lu_factor, lu_solve

from foamwright.air import (
    LatticeControl,
    LatticeReference,
    derivatives,
    lattice_surface,
    lattice_surfaces,
    lift_tensor,
    loads,
    motion_state,
    solve_lattice,
    solve_tensor,
    stability,
    wash_at,
)
from foamwright.air.influence import Reflection, influence, leg_factors
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


@pytest.mark.parametrize(("strips", "rows"), [(16, 4), (34, 4), (33, 8)])
def test_complete_analysis_by_size(benchmark, strips, rows):
    """All static, rate and control derivatives; panels of the whole aeroplane.

    Goals: 200 / 400 / 800 panels in 2 / 5 / 20 ms.
    """
    aileron = (LatticeControl(key="c", start=0.5, start_hinge=0.75, end_hinge=0.75),)
    wing = lattice_surface(
        "wing",
        leading=[(0, 0, 0), (0.1, 0.6, 0.04)],
        chord=(0.2, 0.15),
        strips=strips,
        rows=rows,
        controls=aileron,
    )
    tail = lattice_surface(
        "tail",
        leading=[(0.6, 0, 0), (0.62, 0.2, 0)],
        chord=(0.12, 0.09),
        strips=strips // 2,
        rows=rows,
        controls=aileron,
    )
    reference = LatticeReference(area=0.21, chord=0.18, span=1.2, point=(0.05, 0.0, 0.0))
    benchmark(lambda: derivatives(solve_tensor((wing, tail), reference=reference)))
    tensor = solve_tensor((wing, tail), reference=reference)
    note_ratio(benchmark, len(tensor.lattice.strip))
    benchmark.extra_info["unknowns_of_a_half"] = tensor.unknowns


def test_complete_analysis_of_a_design(benchmark, airframe):
    tensor = lift_tensor(airframe)
    benchmark(lambda: derivatives(lift_tensor(airframe), incidence=0.05))
    note_ratio(benchmark, len(tensor.lattice.strip))


def test_complete_analysis_near_the_ground(benchmark, airframe):
    benchmark(lambda: lift_tensor(airframe, height=0.5))


@pytest.mark.parametrize("count", [1, 1000])
def test_loads_in_states(benchmark, airframe, count):
    """Goals: one state 20 microseconds, 1,000 at once 1 ms."""
    tensor = lift_tensor(airframe)
    state = motion_state(tensor, speed=10.0, incidence=np.linspace(0.0, 0.1, count))
    benchmark(loads, tensor, state if count > 1 else state[0])


def test_all_derivatives_of_a_kept_tensor(benchmark, airframe):
    tensor = lift_tensor(airframe)
    benchmark(lambda: derivatives(tensor, incidence=0.05))


def test_wash_at_a_hundred_places(benchmark, airframe):
    tensor = lift_tensor(airframe)
    points = np.random.default_rng(0).uniform(-1.0, 1.0, (100, 3))
    benchmark(wash_at, tensor, points)


def test_influence_alone(benchmark, airframe):
    lattice = build_lattice(skeletons(lattice_surfaces(airframe))[0])
    image = Reflection(side=True)
    factor = leg_factors(lattice, reflection=image)
    benchmark(influence, lattice, factor=factor, reflection=image)
    note_ratio(benchmark, len(lattice.strip))
