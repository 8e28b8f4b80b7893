"""The thrust line: exact cases of geometry, trim and throttle."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.flight.linear import (
    LinearAeroplane,
    ThrustPlace,
    level_trim,
    neutral_point_from_slopes,
    steady_flight,
    trim_at_lift,
)
from foamwright.flight.thrustline import (
    control_for_moment,
    elevator_for_thrust,
    largest_held_thrust,
    lift_slope_by_thrust,
    pitch_kick,
    pitch_words,
    pitching_moment,
    shaft_torque,
    speed_to_hold,
    thrust_line,
    tilt_for_arm,
    tilt_through_balance,
    trim_slope_by_thrust,
    yawing_moment,
)
from tests.flight_aeroplanes import linear_trainer
from tests.flight_cases import case

ARMS = ("THR-ARM-A", "THR-ARM-B", "THR-ARM-D", "THR-ARM-E", "THR-ARM-F")
THROUGH = case("THR-THRU-A")


@pytest.mark.validation(case("THR-ARM-A").reference)
@pytest.mark.parametrize("name", ARMS)
def test_arm_and_moment(agrees, name):
    one = case(name)
    line = thrust_line(
        ahead=one["x_fwd_of_cg"], above=one["z_above_cg"], tilt_up=np.radians(one["tilt_up"])
    )
    one.check(agrees, "arm_above_cg", 1e3 * line.arm)
    one.check(agrees, "pitching_moment", pitching_moment(line, thrust=one["T"]))


@pytest.mark.validation(THROUGH.reference)
def test_tilt_through_the_balance_point(agrees):
    place = {"ahead": THROUGH["x_fwd"], "above": THROUGH["z_above"]}
    THROUGH.check(agrees, "tilt_up", np.degrees(tilt_through_balance(**place)))
    THROUGH.check(agrees, "tilt_up", np.degrees(tilt_for_arm(0.0, **place)))


LEVEL = ("THR-LEVEL-0", "THR-LEVEL-A", "THR-LEVEL-C", "THR-LEVEL-D", "THR-LEVEL-E")


def place_of(inputs) -> ThrustPlace:
    return ThrustPlace(
        ahead=inputs["x_fwd"], above=inputs["z_above"], tilt_up=np.radians(inputs["tilt_up"])
    )


@pytest.mark.validation(case("THR-LEVEL-0").reference)
@pytest.mark.parametrize("name", LEVEL)
def test_level_trim(agrees, name):
    one = case(name)
    got = level_trim(linear_trainer(), speed=one["V"], thrust_at=place_of(one))
    base = level_trim(linear_trainer(), speed=one["V"])
    one.check(agrees, "alpha", np.degrees(got.incidence))
    one.check(agrees, "elevator", np.degrees(got.elevator))
    one.check(agrees, "thrust", got.thrust)
    change = np.degrees(got.elevator - base.elevator)
    one.check(agrees, "elevator_change_vs_base", change)


THROTTLE = tuple(f"THR-THROTTLE-{k}" for k in ("0-0", "0-2", "A-0", "A-2", "F-1p5"))


@pytest.mark.validation(case("THR-THROTTLE-0-0").reference)
@pytest.mark.parametrize("name", THROTTLE)
def test_new_steady_flight_after_the_throttle_moves(agrees, name):
    one = case(name)
    got = steady_flight(
        linear_trainer(),
        thrust=one["thrust"],
        elevator=np.radians(one["elevator"]),
        thrust_at=place_of(one),
    )
    one.check(agrees, "V", got.speed)
    one.check(agrees, "alpha", np.degrees(got.incidence))
    one.check(agrees, "gamma", np.degrees(got.path))
    one.check(agrees, "climb_rate", got.climb)


KICK, LAUNCH, CONSTANT = case("THR-KICK"), case("THR-LAUNCH"), case("THR-CONST-T")
RIGHT, TORQUE, INCIDENCE = case("THR-RIGHT"), case("THR-TORQUE"), case("THR-ALPHA")
TWIN, RULE, WORDS = case("THR-TWIN"), case("THR-RULE"), case("THR-WORDS")


@pytest.mark.validation(KICK.reference)
def test_kick_when_the_throttle_opens(agrees):
    got = pitch_kick(KICK["T_step"], arm=KICK["arm"], inertia=KICK["Iyy"])
    KICK.check(agrees, "qdot", np.degrees(got))


@pytest.mark.validation(LAUNCH.reference)
def test_thrust_that_the_elevator_holds_at_a_hand_launch(agrees):
    got = largest_held_thrust(
        np.radians(LAUNCH["elevator_available_up"]),
        arm=LAUNCH["arm"],
        speed=LAUNCH["V"],
        area=LAUNCH["S"],
        chord=LAUNCH["c"],
        pitch_elevator=LAUNCH["Cmd"],
        density=LAUNCH["rho"],
    )
    LAUNCH.check(agrees, "T_max", got)


@pytest.mark.validation(CONSTANT.reference)
def test_apparent_stability_by_constant_thrust(agrees):
    got = trim_slope_by_thrust(CONSTANT["T_over_W"], arm=CONSTANT["z_over_c"], chord=1.0)
    CONSTANT.check(agrees, "dCm_dCL", got)
    CONSTANT.check(agrees, "apparent_static_margin_gain", -got)


@pytest.mark.validation(RIGHT.reference)
def test_right_thrust(agrees):
    line = thrust_line(
        ahead=RIGHT["x_fwd"], above=0.0, tilt_right=np.radians(RIGHT["right_thrust"])
    )
    RIGHT.check(agrees, "N", yawing_moment(line, thrust=RIGHT["T"]))
    RIGHT.check(agrees, "side_force", RIGHT["T"] * line.direction[1])


@pytest.mark.validation(TORQUE.reference)
def test_aileron_against_the_motors_torque(agrees):
    one = TORQUE
    torque = shaft_torque(one["shaft_power"], speed=one["rpm"] * 2.0 * np.pi / 60.0)
    one.check(agrees, "torque", torque)
    got = control_for_moment(
        -torque,
        speed=one["V"],
        area=one["S"],
        length=one["b"],
        slope=one["Clda"],
        density=one["rho"],
    )
    one.check(agrees, "aileron", np.degrees(got))


@pytest.mark.validation(INCIDENCE.reference)
def test_lift_slope_by_thrust(agrees):
    one = INCIDENCE
    more = lift_slope_by_thrust(one["T"], speed=one["V"], area=one["S"], density=one["rho"])
    one.check(agrees, "CLa_eff", one["CLa"] + more)
    one.check(agrees, "Cma_eff", one["Cma"])  # no arm, no moment


@pytest.mark.validation(TWIN.reference)
def test_twin_with_one_motor_stopped(agrees):
    """The live motor is on the left, so it yaws to the right and the rudder goes against it."""
    one = TWIN
    line = thrust_line(ahead=0.0, above=0.0, right=-one["y_motor"])
    moment = yawing_moment(line, thrust=one["T_live"])
    one.check(agrees, "N", moment)
    held = {"area": one["S"], "length": one["b"], "slope": one["Cndr"], "density": one["rho"]}
    rudder = control_for_moment(moment, speed=one["V"], **held)
    one.check(agrees, "rudder", np.degrees(rudder))
    slowest = speed_to_hold(moment, deflection=np.radians(one["dr_max"]), **held)
    one.check(agrees, "V_min_control", slowest)


@pytest.mark.validation(RULE.reference)
def test_hand_estimate_of_the_trim_change(agrees):
    plane, at = linear_trainer(), place_of(case("THR-LEVEL-A"))
    base = level_trim(plane, speed=12.0)
    full = level_trim(plane, speed=12.0, thrust_at=at).elevator - base.elevator
    hand = elevator_for_thrust(
        base.thrust, arm=at.arm, speed=12.0, area=0.24, chord=0.2, pitch_elevator=-1.1
    )
    RULE.check(agrees, "hand_estimate", np.degrees(hand))
    RULE.check(agrees, "full", np.degrees(full))


@pytest.mark.validation(WORDS.reference)
@pytest.mark.parametrize(("ahead", "sign"), [(-0.1, -1.0), (0.1, 1.0)], ids=["pusher", "tractor"])
def test_which_way_to_tilt_a_line_above_the_balance_point(agrees, ahead, sign):
    """Pusher: down at the front. Tractor: up. Both with the arm in mm and the nose's way."""
    tilt = float(tilt_through_balance(ahead=ahead, above=0.08))
    agrees("sign of the tilt", got=np.sign(tilt), expected=sign, rel=1e-9)
    words = pitch_words(0.08, tilt=tilt)
    assert "80 mm above the balance point" in words
    assert "nose down" in words
    assert ("leaning 38.7° up" if sign > 0 else "leaning 38.7° down") in words


PYLON, POWER = case("PRA-PYLON"), case("PRA-PWR")


@pytest.mark.validation(PYLON.reference)
@pytest.mark.parametrize(("ahead", "tilts_up"), [(0.1, True), (-0.1, False)])
def test_high_motors_tilt_as_owners_found(ahead, tilts_up):
    """Tractor up, 5° and more; pusher down at the front. Coupling is less, not gone, at 5°."""
    nulled = tilt_through_balance(ahead=ahead, above=0.08)
    assert bool(nulled > 0.0) is tilts_up
    assert abs(np.degrees(nulled)) > 5.0
    five = np.radians(5.0) * np.sign(nulled)
    line = thrust_line(ahead=ahead, above=0.08, tilt_up=five)
    assert 0.0 < line.arm < 0.08


@pytest.mark.validation(POWER.reference)
@pytest.mark.parametrize(("above", "way"), [(-0.03, "up"), (0.03, "down")])
def test_power_change_test(above, way):
    """Nose up with power: line too low; tilting its front down raises its arm, and the reverse."""
    line = thrust_line(ahead=0.25, above=above)
    assert f"nose {way}" in pitch_words(float(line.arm))
    down = thrust_line(ahead=0.25, above=above, tilt_up=np.radians(-3.0))
    assert down.arm > line.arm


# ---------------------------------------------------------------- linear trim

SLOPES, AUTHORITY, ROSKAM = case("NP-TRIMSLOPE"), case("CTL-ELEV-AUTH"), case("NP-RSK")
LATERAL = case("PRA-LATBAL")


def linear(k, *, cl0="CL0", cla="CLa", cld="CLd", cm0="Cm0", cma="Cma", cmd="Cmd"):
    return LinearAeroplane(
        mass=1.0,
        area=1.0,
        chord=1.0,
        lift_zero=k[cl0],
        lift_slope=k[cla],
        lift_elevator=k[cld],
        drag_zero=0.0,
        drag_lift=0.0,
        pitch_zero=k[cm0],
        pitch_slope=k[cma],
        pitch_elevator=k[cmd],
    )


@pytest.mark.validation(SLOPES.reference)
def test_neutral_point_from_two_balance_points(agrees):
    got = neutral_point_from_slopes(
        [SLOPES["cg1"], SLOPES["cg2"]], slopes=[SLOPES["slope1"], SLOPES["slope2"]]
    )
    SLOPES.check(agrees, "x_np", got)


@pytest.mark.validation(AUTHORITY.reference)
def test_elevator_that_stalls_it(agrees):
    alpha, elevator = trim_at_lift(linear(AUTHORITY), lift=AUTHORITY["CLmax"])
    AUTHORITY.check(agrees, "alpha", np.degrees(alpha))
    AUTHORITY.check(agrees, "elevator", np.degrees(elevator))


@pytest.mark.validation(ROSKAM.reference)
def test_trim_of_a_light_aeroplane(agrees):
    plane = linear(ROSKAM, cld="CLde", cmd="Cmde")
    alpha, elevator = trim_at_lift(plane, lift=ROSKAM["CL"])
    ROSKAM.check(agrees, "static_margin", plane.static_margin)
    ROSKAM.check(agrees, "x_np", ROSKAM["x_cg"] + plane.static_margin)
    ROSKAM.check(agrees, "alpha", np.degrees(alpha))
    ROSKAM.check(agrees, "elevator", np.degrees(elevator))


@pytest.mark.validation(LATERAL.reference)
def test_aileron_for_a_heavy_tip(agrees):
    """10 g at 0.5 m, on the trainer of the other cases (Cl 0.18 per radian of aileron)."""
    moment = 0.010 * 9.80665 * 0.5
    got = control_for_moment(-moment, speed=12.0, area=0.24, length=1.2, slope=0.18)
    agrees("moment", got=moment, expected=LATERAL.expected["moment"], rel=1e-6)
    agrees("aileron", got=np.degrees(got), expected=LATERAL.expected["aileron"], rel=1e-5)
