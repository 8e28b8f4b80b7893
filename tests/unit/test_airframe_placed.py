"""Placed things: power, items, pushrods, gear; signs of the thrust."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foamwright.airframe import (
    Airframe,
    Basis,
    Hand,
    Piece,
    build_airframe,
    is_closed,
    mesh_properties,
)
from foamwright.design.model import Design, Mounting
from foamwright.figures import Figure
from tests import making


def piece(airframe: Airframe, key: str, hand: Hand = Hand.CENTRE) -> Piece:
    return next(one for one in airframe.pieces if one.key == key and one.hand is hand)


def with_motor(**changes: object) -> Airframe:
    return build_airframe(making.design(power=making.power(motors=(making.motor(**changes),))))


def centre(one: Piece) -> np.ndarray:
    return mesh_properties([one.mesh]).centroid[0]


def test_thrust_points_forward():
    (disc,) = with_motor().discs
    assert disc.thrust == pytest.approx([-1.0, 0.0, 0.0])
    assert disc.diameter == 0.127
    assert disc.path == "power.motor.main"


def test_tilt_up_turns_the_thrust_from_forward_to_up():
    (disc,) = with_motor(tilt_up=5.0).discs
    angle = math.radians(5.0)
    assert disc.thrust == pytest.approx([-math.cos(angle), 0.0, math.sin(angle)])


def test_tilt_right_turns_the_thrust_from_forward_to_the_right():
    (disc,) = with_motor(tilt_right=5.0).discs
    angle = math.radians(5.0)
    assert disc.thrust == pytest.approx([-math.cos(angle), math.sin(angle), 0.0])


@pytest.mark.parametrize("mounting", Mounting)
def test_thrust_is_a_unit_vector_and_forward_for_both_mountings(mounting):
    (disc,) = with_motor(mounting=mounting, tilt_up=-8.0, tilt_right=4.0).discs
    assert float(np.linalg.norm(disc.thrust)) == pytest.approx(1.0, rel=1e-15)
    assert disc.thrust[0] < 0.0


def test_a_tractor_turns_ahead_of_its_pivot():
    (disc,) = with_motor(at=(0.1, 0.0, 0.0), tilt_up=-3.0).discs
    angle = math.radians(3.0)
    assert disc.centre == pytest.approx(
        [0.1 - 0.035 * math.cos(angle), 0.0, -0.035 * math.sin(angle)]
    )


def test_a_pusher_turns_behind_its_pivot_and_its_disc_rises_as_its_thrust_dips():
    (disc,) = with_motor(at=(0.1, 0.0, 0.0), mounting=Mounting.PUSHER, tilt_up=-3.0).discs
    angle = math.radians(3.0)
    assert disc.thrust[2] < 0.0
    assert disc.centre == pytest.approx(
        [0.1 + 0.035 * math.cos(angle), 0.0, 0.035 * math.sin(angle)]
    )


def test_a_motor_without_propeller_has_no_disc():
    airframe = with_motor(propeller=None)
    assert airframe.discs == ()
    assert not any(one.key.startswith("propeller") for one in airframe.pieces)


def test_motor_lies_between_pivot_and_disc():
    airframe = with_motor(at=(0.1, 0.0, 0.0))
    x = piece(airframe, "motor.main").mesh.vertices[:, 0]
    assert (x.min(), x.max()) == pytest.approx((0.1 - 0.026, 0.1))
    long = with_motor(at=(0.1, 0.0, 0.0), length=0.05)
    x = piece(long, "motor.main").mesh.vertices[:, 0]
    assert (x.min(), x.max()) == pytest.approx((0.1 - 0.035, 0.1 + 0.015))


@pytest.mark.parametrize("blades", [2, 3, 4])
def test_propeller_is_centred_in_its_disc_and_as_wide(blades):
    power = making.power(propellers=(making.propeller(blades=blades),))
    airframe = build_airframe(making.design(power=power))
    one = piece(airframe, "propeller.main")
    assert is_closed(one.mesh)
    assert one.path == "power.propeller.five"
    assert centre(one) == pytest.approx(airframe.discs[0].centre, abs=1e-12)
    radius = np.linalg.norm((one.mesh.vertices - airframe.discs[0].centre)[:, 1:], axis=1).max()
    assert radius == pytest.approx(0.0635, rel=0.02)
    assert np.all(mesh_properties([one.mesh]).volume > 0.0)


def test_one_propeller_on_two_motors_is_two_pieces():
    motors = (
        making.motor("right", at=(0.2, 0.3, 0.0)),
        making.motor("left", at=(0.2, -0.3, 0.0)),
    )
    airframe = build_airframe(making.design(power=making.power(motors=motors)))
    assert piece(airframe, "propeller.right", Hand.RIGHT).given == Figure(value=0.006)
    assert piece(airframe, "propeller.left", Hand.LEFT).given == Figure(value=0.006)


def test_boxes_stand_where_they_are_placed(sample: Design):
    airframe = build_airframe(sample)
    pack = piece(airframe, "pack.main")
    assert centre(pack) == pytest.approx(sample.power.packs[0].middle)
    assert np.ptp(pack.mesh.vertices, axis=0) == pytest.approx(sample.power.packs[0].size)
    assert centre(piece(airframe, "controller.esc")) == pytest.approx((0.33, 0.0, 0.0))
    assert centre(piece(airframe, "item.receiver")) == pytest.approx((0.25, 0.0, 0.0))
    servo = piece(airframe, "item.servo", Hand.LEFT)
    assert centre(servo) == pytest.approx((0.3, -0.25, 0.04))
    assert servo.title == "servo, servo"


def test_given_masses_are_carried_as_they_are(sample: Design):
    for one in build_airframe(sample).pieces:
        assert (one.basis is Basis.GIVEN) == (one.given is not None)
        assert (one.basis is Basis.GIVEN) == (one.stock is None)


def test_a_thing_without_size_still_has_a_volume():
    airframe = build_airframe(making.design(items=(making.item(size=(0.0, 0.0, 0.0)),)))
    assert mesh_properties([piece(airframe, "item.receiver").mesh]).volume[0] == pytest.approx(1e-9)


def test_wires_and_pushrods_count_their_length(sample: Design):
    airframe = build_airframe(sample)
    leg = piece(airframe, "gear.leg", Hand.RIGHT)
    points = np.array(making.wire().points)
    assert leg.amount == pytest.approx(float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum()))
    assert (leg.basis, leg.stock, leg.title) == (Basis.LENGTH, "wire", "gear wire, leg")
    rod = piece(airframe, "pushrod.tail", Hand.LEFT)
    assert rod.amount == pytest.approx(math.dist((0.3, 0.02, 0.01), (0.72, 0.02, 0.02)))


def test_wheels_turn_about_y(sample: Design):
    wheel = piece(build_airframe(sample), "gear.main", Hand.RIGHT)
    assert np.ptp(wheel.mesh.vertices[:, 1]) == pytest.approx(0.015)
    assert np.ptp(wheel.mesh.vertices[:, 0]) == pytest.approx(0.05, rel=0.02)
    assert centre(wheel) == pytest.approx((0.23, 0.11, -0.11))


@pytest.fixture(scope="module")
def sample() -> Design:
    return making.full_design()
