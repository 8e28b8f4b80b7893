"""Limits, signs, batches and words of the flight room's formulas."""

from __future__ import annotations

import numpy as np
import pytest

import foamwright.flight as room
from foamwright.design.model import Channel
from foamwright.flight.atmosphere import density_height, measured_air, standard_air
from foamwright.flight.gust import lift_factor, turbulence
from foamwright.flight.handling import judge, worst
from foamwright.flight.launch import hand_launch, take_off_run
from foamwright.flight.levels import (
    Category,
    FlyingLevel,
    anticipation,
    anticipation_level,
    bank_level,
    load_slope,
    phugoid_level,
    roll_level,
    short_period_level,
    time_to_bank,
)
from foamwright.flight.linear import ThrustPlace, level_trim, steady_flight
from foamwright.flight.linkage import Linkage, servo_load, surface_angle, transmission
from foamwright.flight.modes import Mode
from foamwright.flight.performance import (
    Polar,
    best_glide,
    glide_into_wind,
    level_speeds,
    level_turn,
    stall_speed,
)
from foamwright.flight.rigidbody import euler_angles, flight_axes, quaternion, to_body, to_earth
from foamwright.flight.throws import (
    bevel_travel,
    exponential_for,
    first_flight_throw,
    stick_response,
    throw_angle,
    throw_mark,
    v_tail_angles,
)
from foamwright.flight.thrustline import (
    pitch_words,
    pitching_moment,
    thrust_line,
    thrust_line_of,
    tilt_for_arm,
    tilt_through_balance,
    yawing_moment,
)
from tests.flight_aeroplanes import linear_trainer, trainer

POLAR = Polar(zero_lift_drag=0.04, lift_drag=0.065, mass=1.0, area=0.24)


def test_the_face_holds_what_it_says():
    assert sorted(room.__all__) == sorted(set(room.__all__))
    assert all(hasattr(room, name) for name in room.__all__)


# ---------------------------------------------------------------- air


def test_air_outside_the_tables_is_unknown():
    assert np.isnan(standard_air(12_000.0).density)
    assert np.isnan(measured_air(293.15, humidity=1.2).density)
    assert np.isnan(measured_air(340.0, humidity=0.5).density)
    assert np.isnan(density_height(0.2))


def test_damp_air_is_lighter_and_dry_air_is_an_ideal_gas():
    dry, damp = measured_air(303.15), measured_air(303.15, humidity=0.65)
    assert dry.density == pytest.approx(101325.0 / (287.05287 * 303.15))
    assert damp.density / dry.density == pytest.approx(0.9897, abs=5e-4)
    assert density_height(standard_air(1500.0).density) == pytest.approx(1500.0, abs=1e-6)


# ---------------------------------------------------------------- thrust line


def test_line_of_a_disc_in_the_designs_axes():
    """Propeller 0.1 m aft of and 0.08 above the balance point, thrust forward and 10° down."""
    tilt = np.radians(-10.0)
    line = thrust_line_of(
        (0.4, 0.0, 0.13), thrust=(-np.cos(tilt), 0.0, np.sin(tilt)), point=(0.3, 0.0, 0.05)
    )
    assert line.ahead == pytest.approx(-0.1)
    assert line.above == pytest.approx(0.08)
    assert line.tilt_up == pytest.approx(tilt)
    assert line.arm == pytest.approx(0.0614198, abs=1e-7)


def test_moments_are_the_cross_product():
    r, f = np.array([-0.12, 0.03, 0.07]), np.array([-0.96, 0.2, 0.1])
    f = f / np.linalg.norm(f)
    line = thrust_line_of(r, thrust=f, point=(0.0, 0.0, 0.0))
    want = flight_axes(np.cross(r, f)) * 4.0
    assert np.allclose(4.0 * line.moment_arms, want)
    assert pitching_moment(line, thrust=4.0) == pytest.approx(want[1])
    assert yawing_moment(line, thrust=4.0) == pytest.approx(want[2])


def test_tilt_gives_the_arm_asked_for():
    for arm in (-0.03, 0.0, 0.02):
        tilt = tilt_for_arm(arm, ahead=-0.1, above=0.08)
        line = thrust_line(ahead=-0.1, above=0.08, tilt_up=tilt)
        assert line.arm == pytest.approx(arm, abs=1e-12)
        assert abs(tilt) < np.pi / 2
    assert np.isnan(tilt_for_arm(0.2, ahead=0.1, above=0.05))
    assert np.isnan(tilt_through_balance(ahead=0.0, above=0.05))


@pytest.mark.parametrize(
    ("arm", "said"),
    [
        (0.061, ("61 mm above the balance point", "nose down")),
        (-0.014, ("14 mm below the balance point", "nose up")),
        (0.0001, ("through the balance point", "does not pitch")),
    ],
)
def test_words_of_the_thrust_line(arm, said):
    words = pitch_words(arm)
    assert all(bit in words for bit in said)
    assert "thrust " not in words.replace("thrust line", "")


# ---------------------------------------------------------------- linear aeroplane


def test_throttle_on_a_batch_and_no_answer_where_there_is_none():
    at = ThrustPlace(ahead=-0.1, above=0.08)
    got = steady_flight(
        linear_trainer(), thrust=np.array([0.0, 1.14, 2.28, 200.0]), elevator=0.0, thrust_at=at
    )
    assert got.converged.tolist() == [True, True, True, False]
    assert np.all(np.diff(got.speed[:3]) > 0.0)  # a line above: power speeds it up
    assert np.isnan(got.speed[3])
    one = steady_flight(linear_trainer(), thrust=1.14, elevator=0.0, thrust_at=at)
    assert one.speed == pytest.approx(got.speed[1])


def test_level_trim_is_a_steady_flight():
    at = ThrustPlace(ahead=0.3, above=-0.03, tilt_up=-0.05)
    level = level_trim(linear_trainer(), speed=11.0, thrust_at=at)
    again = steady_flight(
        linear_trainer(), thrust=level.thrust, elevator=level.elevator, thrust_at=at
    )
    assert again.speed == pytest.approx(11.0)
    assert again.path == pytest.approx(0.0, abs=1e-9)


# ---------------------------------------------------------------- performance


def test_level_speeds_carry_their_drag():
    slow, fast = level_speeds(POLAR, thrust=1.5)
    assert POLAR.drag(slow) == pytest.approx(1.5)
    assert POLAR.drag(fast) == pytest.approx(1.5)
    assert slow < best_glide(POLAR).speed < fast
    assert np.isnan(level_speeds(POLAR, thrust=0.5)[0])


def test_wind_makes_the_best_glide_faster_and_calm_is_the_best_glide():
    got = glide_into_wind(POLAR, headwind=np.array([-4.0, 0.0, 3.0, 8.0]))
    assert np.all(np.diff(got.speed) > 0.0)
    assert got.speed[1] == pytest.approx(float(best_glide(POLAR).speed))
    assert got.ratio[1] == pytest.approx(float(best_glide(POLAR).ratio))


def test_knife_edge_has_no_level_turn():
    assert np.isnan(level_turn(12.0, bank=np.pi / 2).radius)
    assert level_turn(12.0, bank=0.0).radius == np.inf
    assert np.isnan(stall_speed(1.0, area=0.24, largest_lift=1.2, bank=2.0))


def test_a_throw_that_climbs_and_one_that_never_levels():
    fast = hand_launch(POLAR, speed=12.0, thrust=3.0, lift=1.0)
    assert fast.levels
    assert fast.height_lost == 0.0
    both = hand_launch(POLAR, speed=np.array([7.0, 7.0]), thrust=3.0, lift=np.array([1.0, 0.01]))
    assert both.levels.tolist() == [True, False]
    assert np.isnan(both.height_lost[1])
    assert both.height_lost[0] == pytest.approx(0.4024, abs=1e-4)


def test_take_off_without_enough_thrust():
    held = {"area": 0.24, "rolling": 0.08, "lift": 0.3, "drag": 0.046, "lift_off": 8.9}
    assert np.isnan(take_off_run(1.0, thrust=0.5, **held).length)
    assert np.isnan(take_off_run(1.0, thrust=1.0, **held).length)
    airless = take_off_run(1.0, thrust=5.0, density=0.0, **held)
    a = 5.0 - 0.08 * 9.80665
    assert airless.length == pytest.approx(8.9**2 / (2.0 * a))
    assert airless.time == pytest.approx(8.9 / a)
    lifting = take_off_run(1.0, thrust=5.0, **(held | {"lift": 0.9}))
    assert lifting.length < airless.length


def test_turbulence_only_near_the_ground():
    assert np.isnan(turbulence(400.0, wind=7.0).length_along)
    assert np.isnan(turbulence(1.0, wind=7.0).strength_up)
    assert np.isnan(lift_factor(4.0, gain=-5.0))


# ---------------------------------------------------------------- handling


@pytest.mark.parametrize("category", Category)
def test_levels_get_worse_in_order(category):
    times = np.array([0.1, 1.3, 5.0, 20.0])
    got = roll_level(times, category=category)
    assert np.all(np.diff(got) >= 0)
    assert got[-1] == FlyingLevel.WORSE
    assert short_period_level(np.nan, category=category) == FlyingLevel.WORSE


def test_phugoid_levels():
    assert phugoid_level(0.05, double=np.inf) == 1
    assert phugoid_level(0.01, double=np.inf) == 2
    assert phugoid_level(-0.01, double=60.0) == 3
    assert phugoid_level(-0.01, double=40.0) == 4
    assert phugoid_level(-0.01, double=40.0, scale=9.0) == 3


def test_roll_performance():
    """Long after the start the bank lags the rate by one time constant."""
    assert time_to_bank(10.0, rate=2.0, time=0.05) == pytest.approx(5.05, abs=1e-9)
    assert bank_level(rate=np.radians(108.0), time=0.055) == 1
    assert bank_level(rate=np.radians(20.0), time=0.055) == 3
    assert bank_level(rate=np.radians(20.0), time=0.055, scale=9.0) == 4


def test_anticipation_of_the_trainer():
    slope = load_slope(4.6, pressure=0.5 * 1.225 * 144.0, area=0.24, mass=1.0)
    cap = anticipation(trainer().longitudinal.frequency(Mode.SHORT_PERIOD), load_slope=slope)
    assert cap == pytest.approx(10.8**2 / 9.93, rel=0.01)
    assert anticipation_level(cap) == 3  # as printed, far too quick
    assert anticipation_level(cap, scale=11.0 / 1.2) == 1  # at its own size, just right


def test_words_for_an_aeroplane_that_will_not_do():
    plane = trainer(pitch_slope=0.1, yaw_slip=-0.05, roll_slip=0.02)
    judged = judge(plane.longitudinal, lateral=plane.lateral)
    assert worst(judged) == FlyingLevel.WORSE
    text = " ".join(entry.text for entry in judged)
    assert "wander off, doubling in 2 s" in text
    assert all(entry.why.count("MIL-F-8785C") == 1 for entry in judged)
    assert "nan" not in text


def test_words_for_a_good_one():
    plane = trainer()
    text = " ".join(e.text for e in judge(plane.longitudinal, lateral=plane.lateral))
    for bit in ("damping ratio 0.77", "rises and falls once in 8 s", "doubling in 19 s"):
        assert bit in text


# ---------------------------------------------------------------- controls


def test_linkage_locks_where_the_rod_does_not_reach():
    link = Linkage(arm=0.020, horn=0.010, length=0.1)
    assert np.isnan(surface_angle(link, servo=np.radians(80.0)))
    assert np.all(np.isfinite(surface_angle(link, servo=np.radians([-20.0, 0.0, 20.0]))))


def test_transmission_is_the_slope_and_carries_the_power():
    link = Linkage(arm=0.012, horn=0.015, length=0.08, offset=0.012, arm_neutral=0.2)
    for servo in (-0.5, 0.0, 0.4):
        h = 1e-6
        ends = surface_angle(link, servo=servo + h) - surface_angle(link, servo=servo - h)
        assert transmission(link, servo=servo) == pytest.approx(float(ends) / (2 * h), rel=1e-8)
        load = servo_load(link, hinge_moment=0.03, servo=servo)
        assert load.torque == pytest.approx(0.03 * float(transmission(link, servo=servo)))
    assert servo_load(link, hinge_moment=0.03).margin(0.12) > 1.0


def test_linkage_at_neutral_is_neutral():
    link = Linkage(arm=0.012, horn=0.015, length=0.08, arm_neutral=0.3, horn_neutral=-0.1)
    assert surface_angle(link, servo=0.0) == pytest.approx(0.0, abs=1e-12)


def test_throws_there_and_back():
    mark = throw_mark(np.radians(22.0), chord=0.045)
    assert throw_angle(mark.height, chord=0.045) == pytest.approx(np.radians(22.0))
    assert mark.height < mark.straight < mark.arc
    assert np.isnan(throw_angle(0.05, chord=0.045))


def test_bevel_alone_and_gap_alone():
    assert bevel_travel(0.6, gap=0.0, thickness=0.005) == pytest.approx(0.6)
    assert bevel_travel(0.0, gap=0.001, thickness=0.005) == pytest.approx(2 * np.arctan(0.1))


def test_exponential():
    assert stick_response(1.0, exponential=0.3) == 1.0
    assert stick_response(-0.5, exponential=0.0) == -0.5
    assert exponential_for(np.radians(14.0), full=np.radians(20.0)) == pytest.approx(0.3)
    assert exponential_for(1.0, full=1.0) == 0.2


def test_advice_says_when_a_control_cannot_reach_it():
    advice = first_flight_throw(Channel.YAW, full=np.radians(15.0))
    assert advice.throw == pytest.approx(np.radians(15.0))
    assert "cannot reach" in advice.why


def test_right_rudder_of_a_v_tail():
    """Nose right needs a force to the left on the tail: right panel pushes up and left."""
    left, right = v_tail_angles(0.0, rudder=0.1)
    assert right > 0.0 > left


# ---------------------------------------------------------------- rigid body


def test_attitudes_go_there_and_back():
    angles = np.array([[0.3, -0.4, 2.0], [-2.0, 1.2, -1.0]])
    turn = quaternion(angles)
    assert np.allclose(euler_angles(turn), angles)
    vector = np.array([1.0, -2.0, 0.5])
    assert np.allclose(to_body(turn, to_earth(turn, np.broadcast_to(vector, (2, 3)))), vector)
    nose_up = to_earth(quaternion((0.0, 0.5, 0.0)), np.array([1.0, 0.0, 0.0]))
    assert np.allclose(nose_up, (np.cos(0.5), 0.0, -np.sin(0.5)))


def test_nothing_warns_at_the_edges():
    """No thrust left, no bank, no speed: nan or endless, and no warning on the way."""
    held = {"area": 0.24, "rolling": 0.1, "lift": 0.3, "drag": 0.046, "lift_off": 8.9}
    assert np.isnan(take_off_run(1.0, thrust=0.980665, **held).length)
    assert level_turn(12.0, bank=0.0).time_round == np.inf
    assert np.isnan(time_to_bank(1.0, rate=0.0, time=0.1))
    assert not level_trim(linear_trainer(), speed=0.5).converged
