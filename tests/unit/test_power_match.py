"""The match: exact cases, limits, robustness, the match asked backward."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.power import Air, Installation, match, throttle_for_current, throttle_for_thrust
from foamwright.power.matching import SPEED_TOLERANCE
from tests import powering
from tests.powering import ConstantPropeller, FallingPropeller

THROTTLE = np.linspace(0.0, 1.0, 21)[:, None]
SPEEDS = np.linspace(0.0, 30.0, 21)


def one(**changes):
    (point,) = match(powering.group(), **changes)
    return point


def test_torque_of_motor_and_propeller_agree():
    """The equations of the module's head, put together again from what came out."""
    line = powering.line(controller=powering.controller(part_loss=0.3))
    point = match(powering.group(line), throttle=THROTTLE, airspeed=SPEEDS, charge=0.6)[0]
    turning = point.rotation > 1.0
    kt = 1.0 / line.motor.speed_constant
    drive = kt * (point.motor_amps - line.motor.idle_current)
    assert drive[turning] == pytest.approx(point.torque[turning], abs=2e-6)
    speed = 2.0 * math.pi * point.rotation
    driven = turning & (point.motor_amps > 0.0)
    assert (point.motor_volts - point.motor_amps * line.motor.resistance)[driven] == pytest.approx(
        (speed * kt)[driven]
    )
    share = point.throttle + 0.3 * (1.0 - point.throttle)
    assert point.pack_amps == pytest.approx(share * point.motor_amps)
    resting = 3 * 3.87 - point.pack_amps * 0.02
    assert point.pack_volts == pytest.approx(resting, rel=1e-6)


def test_energy_is_kept():
    point = one(throttle=THROTTLE, airspeed=SPEEDS)
    spent = point.shaft_power + point.motor_heat + point.controller_heat
    driven = point.shaft_power > 0.0
    assert spent[driven] == pytest.approx(point.input_power[driven], rel=1e-4)


def test_every_place_of_a_wide_map_settles():
    point = one(throttle=THROTTLE, airspeed=np.linspace(0.0, 120.0, 41))
    assert point.converged.all()
    assert np.isfinite(point.thrust).all()


def test_scalar_equals_slice_of_a_map():
    table = one(throttle=THROTTLE, airspeed=SPEEDS)
    alone = one(throttle=float(THROTTLE[13, 0]), airspeed=float(SPEEDS[7]))
    assert float(table.rotation[13, 7]) == pytest.approx(float(alone.rotation), rel=SPEED_TOLERANCE)
    assert alone.rotation.shape == ()


def test_more_throttle_turns_faster_and_speed_unloads():
    point = one(throttle=THROTTLE[1:], airspeed=SPEEDS[:12])
    assert (np.diff(point.rotation, axis=0) > -1e-6).all()
    full = one(airspeed=SPEEDS[:12])
    assert (np.diff(full.pack_amps) < 1e-6).all()
    assert (np.diff(full.thrust) < 0.0).all()


def test_a_dead_motor_draws_nothing():
    point = one(throttle=0.0, airspeed=SPEEDS)
    assert (point.pack_amps == 0.0).all()
    assert float(point.rotation[0]) == 0.0
    assert float(point.thrust[0]) == pytest.approx(0.0, abs=1e-3)


def test_a_dive_drives_the_propeller_without_braking():
    point = one(throttle=0.3, airspeed=40.0)
    assert float(point.motor_amps) == 0.0
    assert float(point.thrust) < 0.0
    assert float(point.rotation) > 0.0


def test_two_alike_equal_two_taken_one_by_one():
    """The closed form of like lines against the search for the pack's volts."""
    pair = powering.group(powering.line("right"), powering.line("left"))
    alike = match(pair, throttle=0.8, airspeed=9.0)
    nearly = replace(pair.lines[1], motor=replace(pair.lines[1].motor, mass=0.051))
    apart = match(replace(pair, lines=(pair.lines[0], nearly)), throttle=0.8, airspeed=9.0)
    for a, b in zip(alike, apart, strict=True):
        assert float(a.rotation) == pytest.approx(float(b.rotation), rel=1e-4)
        assert float(a.pack_volts) == pytest.approx(float(b.pack_volts), rel=1e-5)


def test_one_motor_out_leaves_the_other_more_volts():
    pair = powering.group(powering.line("right"), powering.line("left"))
    both = match(pair)
    alone, dead = match(pair, throttle=(1.0, 0.0))
    assert float(alone.pack_volts) > float(both[0].pack_volts)
    assert float(alone.thrust) > float(both[0].thrust)
    assert float(dead.pack_amps) == 0.0


def test_unlike_motors_share_a_sagging_pack():
    weak = powering.group(
        powering.line("big"), powering.line("small", motor=powering.motor(1600.0)), resistance=0.15
    )
    big, small = match(weak, throttle=(1.0, 0.6))
    drawn = float(big.pack_amps + small.pack_amps)
    assert float(big.pack_volts) == pytest.approx(3 * 4.2 - 0.15 * drawn, rel=1e-5)
    assert float(big.pack_volts) == pytest.approx(float(small.pack_volts))


def test_installation_takes_its_share_of_thrust_only():
    free = match(powering.group())[0]
    pushed = powering.line(installation=Installation(kind="pusher", loss=0.05, scatter=0.04))
    placed = match(powering.group(pushed), with_bands=True)[0]
    assert float(placed.thrust) == pytest.approx(0.95 * float(free.thrust))
    assert float(placed.pack_amps) == pytest.approx(float(free.pack_amps))
    assert placed.bands is not None
    assert float(placed.bands.thrust) == pytest.approx(float(placed.thrust) * 0.04 / 0.95, rel=0.05)


def test_bands_agree_with_drawn_motors():
    """Linear bands against 400 random motors, propellers and packs."""
    spread = powering.line(
        motor=powering.motor(speed_scatter=0.05, resistance_scatter=0.15, idle_scatter=0.15),
        propeller=FallingPropeller(0.2032, 0.105, 0.045, ct_scatter=0.006, cp_scatter=0.003),
    )
    tied = powering.group(spread, resistance_scatter=0.2)
    point = match(tied, airspeed=8.0, with_bands=True)[0]
    rng = np.random.default_rng(3)
    thrust, amps = [], []
    for _ in range(400):
        e = rng.normal(size=7)
        motor = replace(
            spread.motor,
            speed_constant=spread.motor.speed_constant * (1 + 0.05 * e[0]),
            resistance=spread.motor.resistance * (1 + 0.15 * e[1]),
            idle_current=spread.motor.idle_current * (1 + 0.15 * e[2]),
        )
        blades = FallingPropeller(0.2032, 0.105, 0.045 + 0.003 * e[4])
        drawn = powering.line(motor=motor, propeller=blades)
        pack = replace(tied.pack, resistance=0.02 * (1 + 0.2 * e[3]))
        got = match(replace(tied, lines=(drawn,), pack=pack), airspeed=8.0)[0]
        n = float(got.rotation)
        thrust.append(float(got.thrust) + 0.006 * e[5] * 1.225 * n**2 * 0.2032**4)
        amps.append(float(got.pack_amps))
    assert point.bands is not None
    assert float(point.bands.thrust) == pytest.approx(float(np.std(thrust)), rel=0.12)
    assert float(point.bands.pack_amps) == pytest.approx(float(np.std(amps)), rel=0.12)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    kv=st.floats(200.0, 6000.0),
    ohms=st.floats(0.005, 2.0),
    idle=st.floats(0.05, 4.0),
    diameter=st.floats(0.06, 0.6),
    cp=st.floats(0.01, 0.2),
    sag=st.floats(0.001, 1.0),
    throttle=st.floats(0.0, 1.0),
    speed=st.floats(0.0, 80.0),
)
def test_any_match_settles(kv, ohms, idle, diameter, cp, sag, throttle, speed):
    line = powering.line(
        motor=powering.motor(kv, resistance=ohms, idle_current=idle),
        propeller=FallingPropeller(diameter, 2.0 * cp, cp),
        controller=powering.controller(part_loss=0.3),
    )
    (point,) = match(powering.group(line, resistance=sag), throttle=throttle, airspeed=speed)
    assert bool(point.converged)
    assert np.isfinite([point.thrust, point.pack_amps, point.torque]).all()
    assert float(point.pack_volts) >= 0.0


def test_thin_air_turns_faster_and_pulls_less():
    low, high = one(), one(air=Air(density=1.0))
    assert float(high.rotation) > float(low.rotation)
    assert float(high.thrust) < float(low.thrust)


# ---------------------------------------------------------------- asked backward


@pytest.mark.parametrize("loss", [0.0, 0.3])
def test_throttle_for_a_thrust_gives_that_thrust(loss):
    line = powering.line(controller=powering.controller(part_loss=loss))
    pair = powering.group(line, replace(line, key="other"))
    need = throttle_for_thrust(pair, thrust=4.0, airspeed=10.0, charge=0.7)
    points = match(pair, throttle=float(need.throttle), airspeed=10.0, charge=0.7)
    assert sum(float(point.thrust) for point in points) == pytest.approx(4.0, rel=1e-4)
    assert float(points[0].pack_amps) == pytest.approx(float(need.pack_amps), rel=1e-4)
    assert float(points[0].pack_volts) == pytest.approx(float(need.pack_volts), rel=1e-5)


def test_a_thrust_beyond_reach_says_so():
    need = throttle_for_thrust(powering.group(), thrust=[1.0, 40.0], airspeed=5.0)
    assert need.is_reached.tolist() == [True, False]
    assert np.isnan(need.throttle[1])


def test_throttle_that_holds_a_current():
    tied = powering.group()
    full = float(match(tied)[0].pack_amps)
    throttle = throttle_for_current(tied, amps=0.5 * full, airspeed=[0.0, 6.0])
    points = match(tied, throttle=throttle, airspeed=[0.0, 6.0])[0]
    assert points.pack_amps == pytest.approx(0.5 * full, rel=2e-3)
    assert float(throttle_for_current(tied, amps=2.0 * full)) == 1.0


def test_constant_propeller_ignores_speed():
    tied = powering.group(powering.line(propeller=ConstantPropeller(0.2, 0.1, 0.04)))
    point = match(tied, airspeed=[0.0, 10.0, 20.0])[0]
    assert point.rotation == pytest.approx(float(point.rotation[0]), rel=1e-5)
