"""The match, its map, a hundred propellers ranked, and the whole power of Dunlin.

Run: ``.venv/bin/pytest benchmarks/test_power.py --benchmark-enable``. No test here asserts a time.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.airframe import build_airframe
from foamwright.balance import weigh
from foamwright.design import read_design_text, starter_text
from foamwright.power import (
    assess_power,
    disc_clearance,
    match,
    power_findings,
    rank_propellers,
    throttle_for_thrust,
)
from foamwright.power.goods import propeller_goods


@pytest.fixture(scope="module")
def airframe():
    return build_airframe(read_design_text(starter_text("dunlin")).variants[0])


@pytest.fixture(scope="module")
def mass(airframe):
    return weigh(airframe).mass


@pytest.fixture(scope="module")
def group(airframe, mass):
    return assess_power(airframe, mass=mass).packs[0].group


def test_one_point(benchmark, group):
    benchmark(match, group, throttle=0.8, airspeed=10.0)


def test_one_point_with_bands(benchmark, group):
    benchmark(match, group, throttle=0.8, airspeed=10.0, with_bands=True)


def test_map_21_by_21(benchmark, group):
    """Goal: under 2 ms."""
    throttle, speed = np.linspace(0.0, 1.0, 21)[:, None], np.linspace(0.0, 30.0, 21)
    benchmark(match, group, throttle=throttle, airspeed=speed)


def test_throttle_for_a_thrust(benchmark, group):
    benchmark(throttle_for_thrust, group, thrust=1.0, airspeed=10.0)


def test_a_hundred_propellers_ranked(benchmark, group):
    """Goal: under 100 ms, the propellers themselves modelled before."""
    goods = propeller_goods()
    hundred = [
        replace(goods[i % len(goods)], pitch=goods[i % len(goods)].pitch * (1.0 + 0.02 * (i // 17)))
        for i in range(100)
    ]
    rank_propellers(group, candidates=hundred, airspeed=12.0)
    benchmark(rank_propellers, group, candidates=hundred, airspeed=12.0)


def test_clearance_at_every_tilt(benchmark, airframe):
    benchmark(disc_clearance, airframe, airframe.design.power.motors[0])


def test_power_of_dunlin(benchmark, airframe, mass):
    benchmark(assess_power, airframe, mass=mass)


def test_findings_of_dunlin(benchmark, airframe, mass):
    power = assess_power(airframe, mass=mass)
    benchmark(power_findings, airframe, power)
