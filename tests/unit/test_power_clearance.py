"""Clearance of the disc: known distances, tilts, what is left out; how a propeller is placed."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foamwright.airframe import Disc, build_airframe
from foamwright.design import read_design_text, starter_text
from foamwright.design.model import Mount, Mounting, TiltRange
from foamwright.power import disc_clearance, installation
from foamwright.power.clearance import LEAST_CLEARANCE
from tests import handmade, making

RADIUS = 0.1
FREE = Mount(up=None, right=None, peg_diameter=None, peg_radius=None)


def shape(*pieces, motor=None, drawn=None):
    """An airframe with a disc of 100 mm radius, 35 mm ahead of a motor at the origin."""
    motor = motor or making.motor()
    disc = Disc(
        motor=motor.key,
        path=f"power.motor.{motor.key}",
        centre=np.array([-0.035, 0.0, 0.0]),
        thrust=np.array([-1.0, 0.0, 0.0]),
        diameter=2.0 * RADIUS,
    )
    return handmade.airframe(pieces, discs=(disc,))


def block(key, centre, size=(0.01, 0.01, 0.01), **changes):
    return handmade.given(key, 0.01, centre, size=size, **changes)


def gap(*pieces, motor=None):
    motor = motor or making.motor()
    found = disc_clearance(shape(*pieces, motor=motor), motor)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("centre", "expected"),
    [
        pytest.param((-0.018, 0.05, 0.0), 0.012, id="behind"),
        pytest.param((-0.052, 0.0, 0.06), 0.012, id="ahead"),
        pytest.param((-0.035, 0.117, 0.0), 0.012, id="beside"),
        pytest.param((-0.035, 0.05, 0.0), 0.0, id="cut"),
        pytest.param((-0.021, 0.1170, 0.0), math.hypot(0.009, 0.012), id="past the tip"),
    ],
)
def test_distance_to_a_block(centre, expected):
    found = gap(block("rib", centre))
    assert found.gap == pytest.approx(expected, abs=6e-4)
    assert found.piece == "rib"
    assert found.drawn == pytest.approx(found.gap)


def test_a_large_face_near_its_middle():
    """The nearest point of a large triangle lies far from its corners."""
    wall = block("wall", (0.0, 0.0, 0.0), size=(0.05, 0.6, 0.6))
    assert gap(wall).gap == pytest.approx(0.010, abs=2e-4)


def test_nothing_near():
    found = gap(block("tail", (0.5, 0.0, 0.0)))
    assert (found.gap, found.piece) == (0.025, "")
    assert gap().gap == 0.025


def test_what_turns_with_the_blades_is_left_out():
    ring = block("ring", (-0.035, 0.0, 0.0))
    shaft = replace(ring, path="power.motor.main")
    blades = replace(ring, path="power.propeller.five")
    assert gap(ring).gap == 0.025
    assert gap(shaft).gap == 0.025
    assert gap(blades).gap == 0.025
    # but a wire of the gear through the disc is not
    assert gap(replace(block("leg", (-0.035, 0.05, 0.0)), path="gear.leg")).gap == 0.0


def test_a_tilt_brings_the_tips_nearer():
    """8 degrees swing the lower tip by 14 mm; a rib behind it comes that much nearer."""
    low = math.radians(-8.0)
    mount = replace(FREE, up=TiltRange(low=low, high=0.0, step=math.radians(1.0)))
    motor = making.motor(mount=mount)
    rib = block("rib", (-0.015, 0.0, -0.095))
    found = gap(rib, motor=motor)
    assert found.drawn == pytest.approx(0.015, abs=6e-4)
    assert found.gap < found.drawn - 0.010
    # at full tilt the disc's lower edge has moved aft, or the upper one: the worst is an end
    assert found.tilt_up in (pytest.approx(low), pytest.approx(0.0))


def test_a_motor_may_be_tried_elsewhere():
    motor = making.motor()
    rib = block("rib", (-0.018, 0.05, 0.0))
    airframe = shape(rib)
    further = disc_clearance(airframe, replace(motor, reach=motor.reach + 0.005))
    assert further is not None
    assert further.gap == pytest.approx(0.017, abs=6e-4)
    smaller = disc_clearance(airframe, motor, diameter=0.06)
    assert smaller is not None
    assert smaller.gap > 0.018


def test_a_motor_without_propeller_has_no_disc():
    assert disc_clearance(handmade.airframe(()), making.motor(propeller=None)) is None


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("dunlin", "pylon pusher"),
        ("knot", "tractor"),
        ("curlew", "tractor"),
        ("avocet", "pusher"),
        ("godwit", "tractor"),
    ],
)
def test_places_of_the_examples(name, kind):
    design = read_design_text(starter_text(name)).variants[0]
    airframe = build_airframe(design)
    for motor in design.power.motors:
        assert installation(airframe, motor).kind == kind
        found = disc_clearance(airframe, motor)
        assert found is not None
        assert found.gap > LEAST_CLEARANCE


def test_a_disc_between_sheets_is_in_a_slot():
    motor = making.motor(mounting=Mounting.PUSHER)
    ahead = replace(block("front", (-0.06, 0.05, 0.0)), path="body.front")
    behind = replace(block("back", (-0.01, 0.05, 0.0)), path="body.back")
    assert installation(shape(ahead, behind, motor=motor), motor).kind == "slot pusher"
    assert installation(shape(ahead, motor=motor), motor).kind == "pusher"
