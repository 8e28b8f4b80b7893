"""Throws, linkages, servo loads, mixing and dihedral against exact geometry."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.design.model import Channel
from foamwright.flight.dihedral import (
    flat_rise,
    joint_bevel,
    rudder_roll_rate,
    square_cut_gap,
    tip_rise,
)
from foamwright.flight.linkage import (
    TORQUE_MARGIN,
    TRAVEL_USE,
    Linkage,
    hinge_moment,
    linear_surface_angle,
    servo_load,
    surface_angle,
    surface_error,
    surface_travel,
)
from foamwright.flight.throws import (
    EXPONENTIAL,
    FIRST_FLIGHT,
    bevel_travel,
    differential_range,
    elevon_angles,
    first_flight_throw,
    streamwise_angle,
    throw_mark,
    v_tail_areas,
    v_tail_dihedral,
)
from tests.flight_cases import Case, case
from tests.reference import Reference

MM = 1e-3


@pytest.mark.validation(case("CTL-MM-40-15").reference)
@pytest.mark.parametrize("name", ["CTL-MM-40-15", "CTL-MM-55-20"])
def test_throw_in_millimetres(agrees, name):
    one = case(name)
    got = throw_mark(np.radians(one["angle"]), chord=one["surface_chord"] * MM)
    one.check(agrees, "vertical", got.height / MM)
    one.check(agrees, "chord_length", got.straight / MM)
    one.check(agrees, "error_if_arc_used", (got.arc - got.height) / MM)


def linkage(one: Case, **more) -> Linkage:
    return Linkage(
        arm=one["servo_arm"] * MM,
        horn=one["horn"] * MM,
        length=one["d"] * MM,
        offset=one.inputs.get("h", 0.0) * MM,
        **more,
    )


BARS = tuple(f"CTL-4BAR-{k}" for k in ("EQ", "SOFT", "SOFTN", "OFFSET"))


@pytest.mark.validation(case("CTL-4BAR-EQ").reference)
@pytest.mark.parametrize("name", BARS)
def test_four_bar_linkage(agrees, name):
    one = case(name)
    link, servo = linkage(one), np.radians(one["servo_angle"])
    one.check(agrees, "surface_angle", np.degrees(surface_angle(link, servo=servo)))
    one.check(agrees, "rod_length", link.rod / MM)
    one.check(agrees, "linear_estimate", np.degrees(linear_surface_angle(link, servo=servo)))


DIFFERENTIAL, SKEW, SWEPT = case("CTL-DIFF"), case("CTL-3D"), case("CTL-SWEPT2")
LOAD, SLOP = case("CTL-HINGE"), case("CTL-RESOL")
V_TAIL, ELEVON = case("CTL-VTAIL"), case("CTL-ELEVON")


@pytest.mark.validation(DIFFERENTIAL.reference)
def test_differential_from_an_arm_off_square(agrees):
    link = linkage(DIFFERENTIAL, arm_neutral=np.radians(DIFFERENTIAL["servo_neutral"]))
    got = surface_travel(link, servo=np.radians(DIFFERENTIAL["servo_travel"]))
    for key, value in (("travel_plus", got.plus), ("travel_minus", got.minus)):
        agrees(key, got=np.degrees(value), expected=DIFFERENTIAL.expected[key], tol_abs=0.02)
    agrees("ratio", got=got.differential, expected=DIFFERENTIAL.expected["ratio"], rel=2e-3)


@pytest.mark.validation(SKEW.reference)
def test_pushrod_that_runs_sideways(agrees):
    servo = np.radians(SKEW["servo_angle"])
    link = linkage(SKEW, aside=SKEW["lateral_offset"] * MM)
    SKEW.check(agrees, "surface_angle", np.degrees(surface_angle(link, servo=servo)))
    SKEW.check(agrees, "rod_length", link.rod / MM)
    straight = surface_angle(linkage(SKEW), servo=servo)
    SKEW.check(agrees, "same_without_offset", np.degrees(straight))


@pytest.mark.validation(SWEPT.reference)
def test_swept_hinge(agrees):
    got = streamwise_angle(np.radians(SWEPT["hinge_angle"]), sweep=np.radians(SWEPT["sweep"]))
    SWEPT.check(agrees, "streamwise", np.degrees(got))


@pytest.mark.validation(LOAD.reference)
def test_servo_torque(agrees):
    moment = hinge_moment(
        LOAD["Ch"],
        speed=LOAD["V"],
        area=LOAD["surface_area"],
        chord=LOAD["surface_chord"],
        density=LOAD["rho"],
    )
    # A long rod, so that it stands square to both arms as the small-angle figures take it.
    link = Linkage(arm=LOAD["servo_arm"] * MM, horn=LOAD["horn"] * MM, length=10.0)
    got = servo_load(link, hinge_moment=moment)
    LOAD.check(agrees, "hinge_moment", got.hinge_moment)
    LOAD.check(agrees, "servo_torque_small_angle", got.torque)
    LOAD.check(agrees, "servo_torque_kgcm", got.torque / (9.80665 * 0.01))
    LOAD.check(agrees, "rod_force", got.rod_force)


@pytest.mark.validation(SLOP.reference)
def test_dead_band_and_slop(agrees):
    link = Linkage(arm=SLOP["servo_arm"] * MM, horn=SLOP["horn"] * MM, length=0.1)
    got = surface_error(
        link, dead_band=np.radians(SLOP["servo_deadband"]), slop=SLOP["rod_slop"] * MM
    )
    SLOP.check(agrees, "surface_error", np.degrees(got))


@pytest.mark.validation(V_TAIL.reference)
def test_v_tail(agrees):
    flat, upright = v_tail_areas(V_TAIL["S_total"], dihedral=np.radians(V_TAIL["dihedral"]))
    V_TAIL.check(agrees, "S_h", flat)
    V_TAIL.check(agrees, "S_v", upright)
    V_TAIL.check(agrees, "dihedral_for_ratio_Sv_Sh_0p5", np.degrees(v_tail_dihedral(0.5)))


@pytest.mark.validation(ELEVON.reference)
def test_elevons(agrees):
    left, right = elevon_angles(ELEVON["elevator"], aileron=ELEVON["aileron"])
    ELEVON.check(agrees, "left", left)
    ELEVON.check(agrees, "right", right)


POLYGONS = Reference(
    "none",
    "edges of two sheets as polygons, by bisection",
    None,
    "worked for this project",
    "derived",
)


@pytest.mark.validation(POLYGONS)
@pytest.mark.parametrize(
    ("gap", "bevel", "expected"), [(1, 0, 11.421), (2, 0, 22.620), (1, 30, 40.654), (0, 45, 45.0)]
)
def test_travel_of_a_bevelled_hinge(agrees, gap, bevel, expected):
    got = bevel_travel(np.radians(bevel), gap=gap * MM, thickness=5.0 * MM)
    agrees("travel", got=float(np.degrees(got)), expected=expected, tol_abs=5e-4)


# ---------------------------------------------------------------- dihedral as built

PLAIN, BENT, RUDDER = case("DIH-RISE"), case("DIH-POLY"), case("DIH-RUDROLL")


@pytest.mark.validation(PLAIN.reference)
def test_two_panel_wing(agrees):
    panel, angle = PLAIN["panel"] * MM, np.radians(PLAIN["dihedral"])
    rise, half = tip_rise([panel], dihedrals=[angle])
    PLAIN.check(agrees, "tip_rise", rise / MM)
    PLAIN.check(agrees, "projected_half_span", half / MM)
    jig = flat_rise(panel, bend=2.0 * angle) / MM
    PLAIN.check(agrees, "joint_included_rise_one_panel_flat", jig)
    PLAIN.check(agrees, "root_bevel", np.degrees(joint_bevel(2.0 * angle)))
    gap = square_cut_gap(6.0 * MM, bend=2.0 * angle) / MM
    PLAIN.check(agrees, "gap_if_square_cut_6mm_sheet", gap)


@pytest.mark.validation(BENT.reference)
def test_polyhedral_joint(agrees):
    one, angles = BENT, np.radians([BENT["g1"], BENT["g2"]])
    bend = angles[1] - angles[0]
    one.check(agrees, "joint_angle", np.degrees(bend))
    one.check(agrees, "bevel_each_face", np.degrees(joint_bevel(bend)))
    rise, _ = tip_rise([one["inner"] * MM, one["outer"] * MM], dihedrals=angles.tolist())
    one.check(agrees, "tip_rise", rise / MM)
    jig = flat_rise(one["outer"] * MM, bend=bend) / MM
    one.check(agrees, "outer_tip_height_inner_flat", jig)


@pytest.mark.validation(RUDDER.reference)
def test_roll_by_rudder_and_dihedral(agrees):
    one = RUDDER
    got = rudder_roll_rate(
        one["Clb"],
        damping=one["Clp"],
        sideslip=np.radians(one["beta"]),
        speed=one["V"],
        span=one["b"],
    )
    one.check(agrees, "p", np.degrees(got))


# ---------------------------------------------------------------- custom of the trade

THROW, RATIO, SERVO = case("PRA-THROW"), case("PRA-DIFF"), case("PRA-SERVO")
CHANNELS = {Channel.ROLL: "aileron", Channel.PITCH: "elevator", Channel.YAW: "rudder"}


@pytest.mark.validation(THROW.reference)
@pytest.mark.parametrize("channel", CHANNELS)
def test_first_flight_throws(agrees, channel):
    low, high = THROW.expected[CHANNELS[channel]]
    for got, want in zip(FIRST_FLIGHT[channel], (low, high), strict=True):
        agrees("range", got=float(np.degrees(got)), expected=want, rel=1e-9)
    advice = first_flight_throw(channel, full=np.radians(35.0))
    assert low <= np.degrees(advice.throw) <= high
    assert EXPONENTIAL[0] <= advice.exponential <= EXPONENTIAL[1]
    for got, want in zip(EXPONENTIAL, THROW.expected["expo"], strict=True):
        agrees("exponential", got=100.0 * got, expected=want, rel=1e-9)


@pytest.mark.validation(RATIO.reference)
@pytest.mark.parametrize(("camber", "key"), [(0.04, "flat_bottom_trainer"), (0.0, "symmetrical")])
def test_aileron_differential(agrees, camber, key):
    for got, want in zip(differential_range(camber), RATIO.expected[key], strict=True):
        agrees("ratio", got=got, expected=want, rel=1e-9)


@pytest.mark.validation(SERVO.reference)
def test_servo_sizing(agrees):
    agrees("margin", got=TORQUE_MARGIN, expected=SERVO.expected["torque_margin"], rel=1e-9)
    for got, want in zip(TRAVEL_USE, SERVO.expected["surface_travel_use"], strict=True):
        agrees("travel", got=100.0 * got, expected=want, rel=1e-9)
