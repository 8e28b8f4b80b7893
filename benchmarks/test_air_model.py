"""The aerodynamic model: making it, asking it, sweeping it through the stall.

Run: ``OPENBLAS_NUM_THREADS=1 .venv/bin/pytest benchmarks/test_air_model.py --benchmark-enable``.
No test here asserts a time.
"""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air import FlightState, aero_model, carrying
from foamwright.airframe import build_airframe
from foamwright.design import STARTERS, read_design_text, starter_text

AIRFRAMES = {
    starter: build_airframe(read_design_text(starter_text(starter)).variants[0])
    for starter in STARTERS
}


@pytest.mark.parametrize("starter", AIRFRAMES)
def test_make_a_model(benchmark, starter):
    benchmark(aero_model, AIRFRAMES[starter])


@pytest.mark.parametrize("starter", AIRFRAMES)
def test_sweep_through_the_stall(benchmark, starter):
    model = aero_model(AIRFRAMES[starter])
    stall = benchmark(lambda: model.stall(airspeed=8.0))
    benchmark.extra_info["incidences"] = len(stall.alpha)
    benchmark.extra_info["converged"] = float(stall.converged.mean())


@pytest.mark.parametrize("starter", AIRFRAMES)
def test_estimate_the_stall(benchmark, starter):
    model = aero_model(AIRFRAMES[starter])
    benchmark(lambda: model.first_strip(airspeed=8.0))


@pytest.mark.parametrize("count", [1, 20, 500])
def test_forces_in_many_states(benchmark, count):
    model = aero_model(AIRFRAMES["dunlin"])
    generator = np.random.default_rng(2)
    state = FlightState(
        airspeed=generator.uniform(6.0, 14.0, count),
        alpha=generator.uniform(-0.05, 0.25, count),
        beta=generator.uniform(-0.1, 0.1, count),
        controls=generator.normal(0.0, 0.1, (count, len(model.units))),
    )
    benchmark(lambda: model.forces(state))


def test_carry_a_weight(benchmark):
    model = aero_model(AIRFRAMES["dunlin"])
    benchmark(lambda: carrying(model, 4.4))
