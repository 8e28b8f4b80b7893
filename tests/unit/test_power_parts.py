"""Motor, pack, hands, moments, endurance: what must hold whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foamwright.design.model import Joined, Mounting, Rotation
from foamwright.errors import DomainError
from foamwright.power import (
    Air,
    Leg,
    discharge,
    endurance,
    fit_motor_line,
    gyroscopic_couple,
    handedness,
    joined_packs,
    match,
    motor_model,
    pack_model,
    propeller_loads,
    swirl_speed,
    winding_temperature,
)
from foamwright.power.motor import hot_resistance
from foamwright.power.pack import cell_resistance
from tests import making, powering

# ---------------------------------------------------------------- motor


def test_a_label_is_not_believed():
    model = motor_model(making.motor(speed_constant=powering.rpm_per_volt(1000.0)))
    assert model.speed_constant == pytest.approx(powering.rpm_per_volt(950.0))
    assert model.speed_scatter == pytest.approx(0.05)


def test_a_motor_without_constants_is_guessed_and_says_so():
    model = motor_model(making.motor(resistance=None, idle_current=None))
    assert model.resistance_scatter > 0.2
    assert "guessed" in model.source
    with pytest.raises(DomainError):
        motor_model(making.motor(speed_constant=None))


def test_a_line_through_exact_points():
    speed, amps = np.array([9000.0, 8500.0, 8000.0]), np.array([2.0, 7.0, 12.0])
    volts = speed / 950.0 + amps * 0.08
    fit = fit_motor_line(volts=volts, amps=amps, rpm=speed)
    assert fit.speed_constant == pytest.approx(powering.rpm_per_volt(950.0))
    assert fit.resistance == pytest.approx(0.08)
    assert fit.residual == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("volts", "amps", "rpm"),
    [
        pytest.param([10.0, 10.0], [1.0, 2.0], [9000, 8900], id="two points"),
        pytest.param([10.0] * 3, [1.0] * 3, [9000] * 3, id="all alike"),
        pytest.param(
            [10.0, 9.0, 8.0], [2.0, 6.0, 10.0], [9000, 9000, 9000], id="less than nothing"
        ),
    ],
)
def test_points_that_make_no_line(volts, amps, rpm):
    with pytest.raises(DomainError):
        fit_motor_line(volts=volts, amps=amps, rpm=rpm)


def test_air_cools_a_winding():
    model = powering.motor()
    slow, fast = winding_temperature(model, heat=20.0, airspeed=[5.0, 20.0])
    assert 20.0 < fast < slow < 200.0
    assert hot_resistance(0.1, temperature=125.0) == pytest.approx(0.1393)


# ---------------------------------------------------------------- pack


def test_resistance_follows_capacity_rating_and_age():
    base = cell_resistance(3600.0)
    assert cell_resistance(7200.0) == pytest.approx(0.5 * base)
    assert cell_resistance(3600.0, rating=60.0) == pytest.approx(0.5 * base)
    assert cell_resistance(3600.0, age=1.0) == pytest.approx(2.0 * base)
    assert cell_resistance(3600.0, celsius=0.0) > 2.0 * base


def test_packs_joined():
    one = pack_model(making.pack())
    series, parallel = (
        joined_packs((one, one), Joined.SERIES),
        joined_packs((one, one), Joined.PARALLEL),
    )
    assert (series.cells, series.capacity, series.max_current) == (
        6,
        one.capacity,
        one.max_current,
    )
    assert series.resistance == pytest.approx(2.0 * one.resistance)
    assert (parallel.cells, parallel.capacity) == (3, 2.0 * one.capacity)
    assert parallel.max_current == pytest.approx(2.0 * one.max_current)
    assert series.energy == pytest.approx(parallel.energy)
    with pytest.raises(DomainError):
        joined_packs((one, pack_model(making.pack(cells=2))), Joined.PARALLEL)
    with pytest.raises(DomainError):
        joined_packs((), Joined.SERIES)


def test_unlike_packs_in_parallel_share_by_conductance():
    """The stiffer pack carries more, and meets its limit first."""
    stiff, soft = powering.pack(resistance=0.01, max_current=30.0), powering.pack(resistance=0.03)
    both = joined_packs((stiff, soft), Joined.PARALLEL)
    assert both.resistance == pytest.approx(0.0075)
    assert both.max_current == pytest.approx(40.0)


# ---------------------------------------------------------------- flying


def test_constant_current_lasts_its_charge():
    tied = powering.group()
    amps = float(match(tied, throttle=0.5, charge=0.6)[0].pack_amps)
    found = endurance(tied, [Leg(name="on", share=1.0, airspeed=0.0, throttle=0.5)], radio=0.0)
    assert found.duration == pytest.approx(0.8 * tied.pack.capacity / amps, rel=0.05)
    assert found.distance == 0.0


def test_a_glide_costs_only_the_radio():
    tied = powering.group()
    found = endurance(tied, [Leg(name="glide", share=1.0, airspeed=9.0, thrust=0.0)], radio=0.4)
    assert found.current == pytest.approx(0.4)
    assert found.distance == pytest.approx(9.0 * found.duration)


def test_what_full_throttle_cannot_fly_is_named():
    legs = [Leg(name="tow", share=1.0, airspeed=9.0, thrust=60.0)]
    assert endurance(powering.group(), legs).shortfall == ("tow",)


def test_unlike_motors_fly_a_thrust_together():
    pair = powering.group(powering.line("a"), powering.line("b", motor=powering.motor(900.0)))
    leg = Leg(name="cruise", share=1.0, airspeed=9.0, thrust=3.0)
    mixed = endurance(pair, [leg]).duration
    same = endurance(powering.group(powering.line("a"), powering.line("b")), [leg]).duration
    assert mixed == pytest.approx(same, rel=0.1)


def test_volts_over_a_flight():
    tied = powering.group()
    profile = [
        Leg(name="climb", share=60.0, airspeed=9.0, throttle=1.0),
        Leg(name="cruise", share=240.0, airspeed=12.0, thrust=1.5),
    ]
    flown = discharge(tied, profile, radio=0.0)
    assert flown.time[-1] == pytest.approx(300.0)
    used = float((0.5 * (flown.current[1:] + flown.current[:-1]) * np.diff(flown.time)).sum())
    assert (1.0 - flown.charge[-1]) * tied.pack.capacity == pytest.approx(used, rel=0.02)
    assert (np.diff(flown.charge) < 0.0).all()
    # Less throttle lets the volts rise again.
    assert flown.volts[flown.leg == 1][0] > flown.volts[flown.leg == 0][-1]
    assert not flown.ends_empty
    assert discharge(tied, [Leg(name="on", share=3600.0, airspeed=0.0, throttle=1.0)]).ends_empty


# ---------------------------------------------------------------- hands


@pytest.mark.parametrize(
    ("rotation", "mounting", "behind", "shaft", "loosens"),
    [
        (Rotation.NORMAL, Mounting.TRACTOR, "clockwise", "anticlockwise", False),
        (Rotation.REVERSE, Mounting.TRACTOR, "anticlockwise", "clockwise", True),
        (Rotation.NORMAL, Mounting.PUSHER, "clockwise", "clockwise", True),
        (Rotation.REVERSE, Mounting.PUSHER, "anticlockwise", "anticlockwise", False),
    ],
)
def test_hands(rotation, mounting, behind, shaft, loosens):
    hand = handedness(making.propeller(rotation=rotation), mounting)
    assert hand.seen_from_behind == behind
    assert hand.seen_at_shaft == shaft
    assert hand.nut_loosens is loosens
    assert "any two" in hand.leads
    assert hand.sense == (1.0 if behind == "clockwise" else -1.0)


def loads(sense: float = 1.0, **changes):
    fields = {
        "thrust": 4.0,
        "torque": 0.06,
        "rotation": 200.0,
        "thrust_slope": 5e-3,
        "airspeed": 12.0,
        "air": Air(),
    }
    return propeller_loads(making.propeller(), sense=sense, **{**fields, **changes})


def test_signs_of_a_clockwise_propeller():
    """Torque rolls left; nose up yaws left; spin along the forward axis."""
    found = loads()
    assert float(found.torque_reaction) == -0.06
    assert float(found.yaw_by_incidence) < 0.0
    assert float(found.spin) > 0.0
    assert float(found.swirl) > 0.0
    assert float(found.normal_force) > 0.0
    other = loads(sense=-1.0)
    assert float(other.yaw_by_incidence) == -float(found.yaw_by_incidence)
    assert float(other.normal_force) == float(found.normal_force)


def test_standing_still_an_angle_does_nothing():
    found = loads(airspeed=0.0)
    assert float(found.normal_force) == 0.0
    assert float(found.yaw_by_incidence) == 0.0


def test_side_force_near_the_strip_estimate():
    """Ribner's fin against a blade strip at 0.7 radius: of one size."""
    n = 200.0
    turn = 2.0 * math.pi * n
    strip = 0.5 * (2.0 * 0.06 / turn) * 12.0 / (0.7 * 0.0635) ** 2
    assert 0.3 < float(loads().normal_force) / strip < 3.0


def test_swirl_keeps_angular_momentum():
    speed = swirl_speed(0.06, thrust=4.0, diameter=0.127, airspeed=12.0, density=1.225)
    assert float(loads().swirl) == pytest.approx(float(speed))


def test_gyroscopic_couple_of_a_clockwise_propeller():
    """Nose up pushes the nose right; nose right pushes it down."""
    pitch, yaw = gyroscopic_couple(0.01, pitch_rate=2.0, yaw_rate=0.0)
    assert (float(pitch), float(yaw)) == (0.0, 0.02)
    pitch, yaw = gyroscopic_couple(0.01, pitch_rate=0.0, yaw_rate=1.0)
    assert (float(pitch), float(yaw)) == (-0.01, 0.0)
