"""Section polars: a strip model's call, one call alone, building a polar.

Run: ``.venv/bin/pytest benchmarks/test_air_sections.py --benchmark-enable``. Goal of the room:
1,000 stations at one incidence each below 2 ms.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.unit.air_sections_samples import CHORD, SECTIONS, STOCK, sample

from foamwright.air.sections import section_polar

RNG = np.random.default_rng(0)
ALPHA = RNG.uniform(-0.3, 0.3, 1000)
REYNOLDS = RNG.uniform(5e4, 2e5, 1000)


@pytest.mark.parametrize("deflection", [0.0, 0.1])
def test_thousand_stations(benchmark, deflection):
    polar = sample("creased").with_flap(0.25)
    benchmark(polar.coefficients, ALPHA, reynolds=REYNOLDS, deflection=deflection)


def test_one_station(benchmark):
    polar = sample("creased")
    benchmark(polar.coefficients, 0.1, reynolds=1e5)


@pytest.mark.parametrize("name", ["flat", "folded", "profiled"])
def test_build(benchmark, name):
    benchmark(section_polar, SECTIONS[name], chord=CHORD, stock=STOCK)
