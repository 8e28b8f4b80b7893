"""Speeds, glides, climbs, turns, launches against closed forms and a textbook's aeroplanes."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.flight.launch import (
    bungee_launch,
    ground_drag_share,
    hand_launch,
    mean_force_run,
    take_off_run,
    throw_range,
)
from foamwright.flight.performance import (
    LOADING_BANDS,
    Polar,
    best_glide,
    climb_energy,
    climb_rate,
    cube_loading,
    dive_speed,
    endurance,
    glide_into_wind,
    induced_factor,
    least_sink,
    level_turn,
    loading_word,
    pull_load_factor,
    stall_margin_speed,
    stall_speed,
    usable_glide,
    wing_loading,
    zoom_height,
)
from tests.flight_cases import Case, case

POUND, OUNCE, INCH, FOOT = 0.45359237, 0.028349523125, 0.0254, 0.3048


def polar(one: Case, **changes) -> Polar:
    given = {"mass": one.inputs.get("mass", 1.0), "area": one.inputs.get("S", 0.24)}
    return Polar(
        zero_lift_drag=one.inputs.get("CD0", 0.04),
        lift_drag=one.inputs.get("k", 0.065),
        **(given | changes),
    )


STALL, TURN_STALL = case("PERF-STALL"), case("TIP-ACCEL")


@pytest.mark.validation(STALL.reference)
@pytest.mark.parametrize(
    ("key", "mass", "bank"),
    [
        ("Vs", 1.0, 0.0),
        ("Vs_45", 1.0, 45.0),
        ("Vs_60", 1.0, 60.0),
        ("Vs_0p7kg", 0.7, 0.0),
        ("Vs_1p4kg", 1.4, 0.0),
    ],
)
def test_stall_speed(agrees, key, mass, bank):
    got = stall_speed(
        mass,
        area=STALL["S"],
        largest_lift=STALL["CLmax"],
        density=STALL["rho"],
        bank=np.radians(bank),
    )
    STALL.check(agrees, key, got)


@pytest.mark.validation(TURN_STALL.reference)
def test_margin_over_the_stall_in_a_turn(agrees):
    got = stall_margin_speed(TURN_STALL["margin"], bank=np.radians(TURN_STALL["bank"]))
    TURN_STALL.check(agrees, "V_over_Vs", got)


CUBE_US, CUBE_SI, FOAM = case("PERF-WCL1"), case("PERF-WCL2"), case("PERF-GLIDE-DATA")


@pytest.mark.validation(CUBE_US.reference)
def test_cube_loading_of_an_aerobatic_model(agrees):
    mass, area = CUBE_US["weight"] * POUND, CUBE_US["area"] * INCH**2
    CUBE_US.check(agrees, "wcl", cube_loading(mass, area=area) * FOOT**3 / OUNCE)
    CUBE_US.check(agrees, "wing_loading", wing_loading(mass, area=area) * FOOT**2 / OUNCE)


@pytest.mark.validation(CUBE_SI.reference)
def test_cube_loading_in_both_units(agrees):
    mass, area = CUBE_SI["mass"], CUBE_SI["area"]
    CUBE_SI.check(agrees, "wcl_si", cube_loading(mass, area=area))
    CUBE_SI.check(agrees, "wcl_oz", cube_loading(mass, area=area) * FOOT**3 / OUNCE)
    CUBE_SI.check(agrees, "wing_loading", wing_loading(mass, area=area) * 10.0)


@pytest.mark.validation(FOAM.reference)
def test_loading_and_speed_of_a_flown_foam_glider(agrees):
    mass, area = FOAM["mass"], FOAM["S"]
    FOAM.check(agrees, "wing_loading", wing_loading(mass, area=area) * 10.0)
    FOAM.check(agrees, "AR", FOAM["b"] ** 2 / area)
    FOAM.check(agrees, "V", polar(FOAM).speed(FOAM["CL"]))
    FOAM.check(agrees, "wcl", cube_loading(mass, area=area))


BANDS = case("PRA-WCL")


@pytest.mark.validation(BANDS.reference)
def test_loading_bands(agrees):
    """Limits as customary, and a word on either side of each."""
    limits = [limit / 1.001154 for limit, _ in LOADING_BANDS]
    for got, (low, high) in zip(limits[:-1], list(BANDS.expected.values())[:-1], strict=True):
        agrees("limit [oz/ft3]", got=got, expected=high, rel=1e-9)
        word = loading_word(0.5 * (low + high))
        assert word == loading_word(high * 0.99)
        assert word != loading_word(high * 1.01)


LIGHT, GLIDE, CLIP = case("PERF-AND-LD"), case("PERF-POLAR"), case("PERF-CLIP")
LIGHTER, WIND = case("PERF-MASS-0p8"), case("PERF-WIND")


@pytest.mark.validation(LIGHT.reference)
def test_best_glide_of_a_light_aeroplane(agrees):
    aspect = LIGHT["b"] ** 2 / LIGHT["S"]
    plane = Polar(
        zero_lift_drag=LIGHT["CD0"],
        lift_drag=induced_factor(aspect, efficiency=LIGHT["e"]),
        mass=1.0,
        area=1.0,
    )
    LIGHT.check(agrees, "LD_max", best_glide(plane).ratio)
    LIGHT.check(agrees, "AR", aspect)


@pytest.mark.validation(GLIDE.reference)
def test_best_glide_and_least_sink(agrees):
    far, slow = best_glide(polar(GLIDE)), least_sink(polar(GLIDE))
    GLIDE.check(agrees, "CL_best_glide", far.lift)
    GLIDE.check(agrees, "LD_max", far.ratio)
    GLIDE.check(agrees, "V_best_glide", far.speed)
    GLIDE.check(agrees, "CL_min_sink", slow.lift)
    GLIDE.check(agrees, "V_min_sink", slow.speed)
    GLIDE.check(agrees, "V_ratio", far.speed / slow.speed)
    GLIDE.check(agrees, "LD_at_min_sink_over_max", slow.ratio / far.ratio)
    GLIDE.check(agrees, "min_sink", slow.sink)


@pytest.mark.validation(CLIP.reference)
def test_least_sink_that_the_stall_allows(agrees):
    plane = polar(CLIP)
    ideal = least_sink(plane)
    got = usable_glide(ideal, polar=plane, largest_lift=CLIP["CLmax"])
    CLIP.check(agrees, "V", got.speed)
    CLIP.check(agrees, "CL", got.lift)
    CLIP.check(agrees, "sink", got.sink)
    assert bool(got.lift == ideal.lift) is CLIP.expected["ideal_CL_reachable"]


@pytest.mark.validation(LIGHTER.reference)
def test_the_same_airframe_lighter(agrees):
    plane = polar(GLIDE, mass=LIGHTER["mass"])
    far, slow = best_glide(plane), least_sink(plane)
    LIGHTER.check(agrees, "LD_max", far.ratio)
    LIGHTER.check(agrees, "V_best_glide", far.speed)
    LIGHTER.check(agrees, "min_sink", slow.sink)
    LIGHTER.check(agrees, "power_min", plane.power(slow.speed))


@pytest.mark.validation(WIND.reference)
def test_glide_against_the_wind(agrees):
    plane = polar(WIND, area=1.0, mass=WIND["W_over_S"] / 9.80665)
    got = glide_into_wind(plane, headwind=WIND["headwind"])
    WIND.check(agrees, "V_best", got.speed)
    WIND.check(agrees, "ground_glide_ratio", got.ratio)


CLIMB, ZOOM, TURN = case("PERF-ROC"), case("PERF-ZOOM"), case("PERF-TURN")
ALOFT, DIVE = case("PERF-END"), case("PERF-DIVE")


@pytest.mark.validation(CLIMB.reference)
def test_climb_and_what_it_takes_from_the_pack(agrees):
    plane, power = polar(CLIMB), CLIMB["P_prop_output"]
    CLIMB.check(agrees, "P_required", plane.power(CLIMB["V"]))
    climb = climb_rate(plane, speed=CLIMB["V"], power=power)
    CLIMB.check(agrees, "climb", climb)
    used = climb_energy(100.0, climb=climb, power=power, efficiency=CLIMB["eta_total"])
    CLIMB.check(agrees, "battery_energy_per_100m", used / 3600.0)


@pytest.mark.validation(ZOOM.reference)
def test_zoom(agrees):
    ZOOM.check(agrees, "dh", zoom_height(ZOOM["V1"], slow=ZOOM["V2"]))


@pytest.mark.validation(TURN.reference)
def test_level_turn(agrees):
    got = level_turn(TURN["V"], bank=np.radians(TURN["bank"]))
    TURN.check(agrees, "n", got.load_factor)
    TURN.check(agrees, "R", got.radius)
    TURN.check(agrees, "rate", np.degrees(got.rate))
    TURN.check(agrees, "time_360", got.time_round)


@pytest.mark.validation(ALOFT.reference)
def test_endurance(agrees):
    power, eta = ALOFT["P_required"], ALOFT["eta_total"]
    time = endurance(ALOFT["battery"] * 3600.0, usable=ALOFT["usable"], efficiency=eta, power=power)
    ALOFT.check(agrees, "time", time / 60.0)
    ALOFT.check(agrees, "mean_battery_power", power / eta)
    slow = least_sink(polar(GLIDE))
    agrees("least power", got=float(polar(GLIDE).power(slow.speed)), expected=power, rel=1e-5)


@pytest.mark.validation(DIVE.reference)
def test_dive(agrees):
    got = dive_speed(polar(DIVE))
    stall = stall_speed(1.0, area=DIVE["S"], largest_lift=1.2)
    DIVE.check(agrees, "V", got)
    DIVE.check(agrees, "V_over_Vs", got / stall)
    DIVE.check(agrees, "pull_out_n_at_CLmax", pull_load_factor(got, stall=stall))


RUN, GRASS = case("PERF-AND-TO"), case("PERF-TO-EXACT")
HAND, BALL, BUNGEE = case("PERF-HAND"), case("PERF-BALL"), case("PERF-BUNGEE")


@pytest.mark.validation(RUN.reference)
def test_take_off_run_by_mean_forces(agrees):
    """In feet, slugs and pounds as the book; any coherent units do."""
    one, weight = RUN, RUN["W"]
    share = ground_drag_share(one["h_wing"], span=one["b"])
    one.check(agrees, "phi", share)
    plane = Polar(
        zero_lift_drag=one["CD0"],
        lift_drag=induced_factor(one["b"] ** 2 / one["S"], efficiency=one["e"]),
        mass=weight / one["g"],
        area=one["S"],
        density=one["rho"],
    )
    got = mean_force_run(
        plane,
        thrust=one["T"],
        rolling=one["mu_r"],
        largest_lift=one["CLmax"],
        ground_share=share,
        gravity=one["g"],
    )
    one.check(agrees, "s_LO", got)


@pytest.mark.validation(GRASS.reference)
def test_take_off_run_from_grass(agrees):
    one = GRASS
    stall = stall_speed(one["mass"], area=one["S"], largest_lift=one["CLmax"])
    one.check(agrees, "V_lo", 1.2 * stall)
    got = take_off_run(
        one["mass"],
        area=one["S"],
        thrust=one["T"],
        rolling=one["mu_roll"],
        lift=one["CL_roll"],
        drag=one["CD_roll"],
        lift_off=1.2 * stall,
        density=one["rho"],
    )
    one.check(agrees, "roll", got.length)
    one.check(agrees, "time", got.time)


@pytest.mark.validation(HAND.reference)
def test_height_lost_after_a_throw(agrees):
    got = hand_launch(polar(HAND), speed=HAND["V0"], thrust=HAND["T"], lift=HAND["CL"])
    HAND.check(agrees, "height_lost", got.height_lost)
    HAND.check(agrees, "speed_then", got.speed)
    HAND.check(agrees, "time", got.time)


@pytest.mark.validation(BALL.reference)
def test_throw_without_lift(agrees):
    way, time = throw_range(BALL["V0"], height=BALL["h0"], climb_angle=BALL["angle"])
    BALL.check(agrees, "range", way)
    BALL.check(agrees, "time", time)


@pytest.mark.validation(BUNGEE.reference)
def test_bungee(agrees):
    got = bungee_launch(
        BUNGEE["k"], stretch=BUNGEE["stretch"], efficiency=BUNGEE["eta"], mass=BUNGEE["mass"]
    )
    BUNGEE.check(agrees, "V", got.speed)
    BUNGEE.check(agrees, "peak_force", got.force)
    BUNGEE.check(agrees, "peak_load_factor", got.load_factor)
