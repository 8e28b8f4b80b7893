"""Propeller wash: what stands in it, how it fades, what is out of its range."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.body import body_lines
from foamwright.air.drag import drag_parts, drag_table
from foamwright.air.wash import (
    air_velocity,
    body_points,
    body_share,
    drag_points,
    induced_velocity,
    part_ratios,
    strip_wash,
    surface_strips,
    swirl_share,
    tube_radius,
    wash,
)
from foamwright.airframe import Disc, build_airframe
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.errors import DomainError

AXIS = np.array([[x, 0.0, 0.0] for x in (-0.5, -0.1, 0.0, 0.1, 0.5)])


def _disc(centre=(0.0, 0.0, 0.0), thrust=(-1.0, 0.0, 0.0), diameter=0.2) -> Disc:
    way = np.array(thrust) / np.linalg.norm(thrust)
    return Disc(
        motor="main", path="power.motor.main", centre=np.array(centre), thrust=way,
        diameter=diameter,
    )  # fmt: skip


def test_no_thrust_adds_nothing():
    found = wash(AXIS, discs=[_disc()], wind=air_velocity(10.0, alpha=0.1), thrust=0.0)
    assert found.added == pytest.approx(0.0)
    assert found.pressure_ratio == pytest.approx(1.0)
    assert found.upflow_change == pytest.approx(0.0)


def test_no_discs_add_nothing():
    found = wash(AXIS, discs=[], wind=air_velocity(10.0), thrust=np.zeros(0))
    assert found.added == pytest.approx(0.0)
    assert found.inside == pytest.approx(0.0)


def test_air_quickens_along_the_axis():
    found = wash(AXIS, discs=[_disc()], wind=air_velocity(10.0), thrust=3.0)
    speed = found.velocity[:, 0]
    assert np.all(np.diff(speed) > 0.0)
    assert speed[0] > 10.0
    assert np.all(found.inside == 1.0)
    assert found.pressure_ratio == pytest.approx((speed / 10.0) ** 2)


def test_outside_the_tube_nothing_changes():
    points = np.array([[0.3, 0.12, 0.0], [0.3, 0.0, -0.2], [-0.3, 0.2, 0.0]])
    found = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=3.0, torque=0.1)
    assert found.added == pytest.approx(0.0)
    assert found.inside == pytest.approx(0.0)


def test_the_edge_is_smooth_and_as_wide_as_said():
    v = float(induced_velocity(3.0, airspeed=10.0, area=np.pi * 0.01))
    r = float(tube_radius(0.2, radius=0.1, airspeed=10.0, induced=v))
    y = r * np.linspace(0.8, 1.2, 401)
    points = np.stack([np.full_like(y, 0.2), y, np.zeros_like(y)], axis=1)
    inside = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=3.0).inside
    assert np.all(np.diff(inside) <= 1e-15)
    assert np.abs(np.diff(inside)).max() < 0.01
    assert np.all(inside[y < 0.89 * r] == 1.0)
    assert np.all(inside[y > 1.1 * r] == 0.0)
    assert np.interp(r, y, inside) == pytest.approx(0.5, abs=0.01)


def test_states_broadcast_and_scalars_equal_slices():
    speeds, thrusts = np.array([6.0, 12.0, 18.0]), np.array([[1.0], [4.0]])
    winds = air_velocity(speeds, alpha=0.1, beta=0.05)
    many = wash(AXIS, discs=[_disc()], wind=winds, thrust=thrusts[..., None], torque=0.02)
    assert many.added.shape == (2, 3, 5, 3)
    one = wash(AXIS, discs=[_disc()], wind=winds[1], thrust=thrusts[1], torque=0.02)
    assert one.added == pytest.approx(many.added[1, 1], rel=1e-12)
    assert one.upflow == pytest.approx(many.upflow[1, 1], rel=1e-12)


def test_the_frame_does_not_matter():
    """The same disc, wind and points turned and moved give the same wash, turned."""
    angle = 0.4
    turn = np.array(
        [[np.cos(angle), 0, np.sin(angle)], [0, 1, 0], [-np.sin(angle), 0, np.cos(angle)]]
    )
    move = np.array([0.3, -0.2, 0.1])
    points = np.array([[0.1, 0.03, 0.02], [0.3, -0.02, 0.05], [-0.05, 0.0, 0.06]])
    wind = air_velocity(9.0, alpha=0.1, beta=-0.05)
    plain = wash(points, discs=[_disc()], wind=wind, thrust=2.0, torque=0.05)
    there = wash(
        points @ turn.T + move,
        discs=[_disc(centre=move, thrust=turn @ [-1.0, 0.0, 0.0])],
        wind=turn @ wind,
        thrust=2.0,
        torque=0.05,
    )
    assert there.added == pytest.approx(plain.added @ turn.T)


def test_the_stream_drifts_with_the_wind_across():
    wind = air_velocity(10.0, alpha=0.2)
    up = wash(np.array([[1.0, 0.0, 0.13]]), discs=[_disc()], wind=wind, thrust=3.0)
    down = wash(np.array([[1.0, 0.0, -0.05]]), discs=[_disc()], wind=wind, thrust=3.0)
    assert float(up.inside[0]) == 1.0
    assert float(down.inside[0]) == 0.0
    # The stream itself runs flatter than the wind.
    assert float(up.upflow_change[0]) < 0.0


def test_swirl_turns_with_the_torque_and_dies_ahead():
    points = np.array([[0.2, 0.05, 0.0], [-0.2, 0.05, 0.0]])
    found = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=3.0, torque=0.05)
    other = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=3.0, torque=-0.05)
    assert found.added[0, 2] < 0.0
    assert other.added[0, 2] == pytest.approx(-found.added[0, 2])
    assert found.added[1, 2] == pytest.approx(0.0, abs=1e-12)
    assert float(swirl_share(0.0)) == 0.0


def test_two_streams_are_added():
    discs = [_disc(centre=(0.0, y, 0.0)) for y in (0.3, -0.3)]
    points = np.array([[0.3, 0.3, 0.0], [0.3, -0.3, 0.0], [0.3, 0.0, 0.0]])
    found = wash(points, discs=discs, wind=air_velocity(10.0), thrust=np.array([3.0, 1.0]))
    assert found.inside.tolist() == [1.0, 1.0, 0.0]
    assert found.added[0, 0] > found.added[1, 0] > 0.0


def test_standing_still_has_speed_but_no_ratio():
    found = wash(AXIS, discs=[_disc()], wind=np.zeros(3), thrust=3.0)
    assert found.velocity[-1, 0] > 5.0
    assert np.all(np.isnan(found.pressure_ratio))


def test_braking_beyond_the_theory_says_nan():
    weak = induced_velocity(-0.5, airspeed=10.0, area=0.03)
    assert -5.0 < float(weak) < 0.0
    assert np.isnan(induced_velocity(-5.0, airspeed=10.0, area=0.03))
    assert np.isnan(induced_velocity(1.0, airspeed=-2.0, area=0.03))
    found = wash(AXIS, discs=[_disc()], wind=air_velocity([10.0, 10.0]), thrust=[[-9.0], [1.0]])
    assert np.all(np.isnan(found.added[0, :, 0]))
    assert not np.any(np.isnan(found.added[1]))


def test_thrust_must_fit_the_discs():
    with pytest.raises(DomainError, match="2 discs"):
        wash(AXIS, discs=[_disc(), _disc()], wind=air_velocity(10.0), thrust=np.ones(3))


@pytest.mark.parametrize("name", STARTERS)
def test_what_stands_in_the_wash_of_the_examples(name):
    frame = build_airframe(read_design_text(starter_text(name)).variants[0])
    discs, wind = frame.discs, air_velocity(12.0, alpha=0.05)
    strips = surface_strips(frame)
    found = strip_wash(strips, wash(strips.points, discs=discs, wind=wind, thrust=2.0))
    assert found.inside.shape == (len(strips.surface),)
    assert np.all((found.inside >= 0.0) & (found.inside <= 1.0))
    assert np.all(found.pressure_ratio > 0.9)
    wing = [key == frame.reference.surface for key in strips.surface]
    share = float(found.inside[wing] @ strips.area[wing]) / float(strips.area[wing].sum())
    assert 0.0 < share < 0.4
    # Both hands of an even aeroplane stand in the same air.
    left = strips.is_left
    if not left.all() and left.any() and abs(discs[0].thrust[1]) < 1e-12:
        right = ~left & np.isin(strips.surface, np.array(strips.surface)[left])
        assert found.inside[left] == pytest.approx(found.inside[right], abs=1e-9)


def test_areas_of_strips_are_those_of_the_surfaces():
    frame = build_airframe(read_design_text(starter_text("curlew")).variants[0])
    strips = surface_strips(frame)
    for shape in frame.surfaces:
        mine = np.array([key == shape.key for key in strips.surface])
        assert float(strips.area[mine].sum()) == pytest.approx(shape.planform.area, rel=1e-6)


def test_a_tractor_blows_its_hull():
    frame = build_airframe(read_design_text(starter_text("curlew")).variants[0])
    parts = drag_parts(frame)
    wind = air_velocity(12.0)
    found = wash(drag_points(parts), discs=frame.discs, wind=wind, thrust=5.0)
    ratios = part_ratios(parts, found)
    idle, blown = (
        drag_table(parts, airspeed=12.0, pressure_ratio=ratio) for ratio in (None, ratios)
    )
    assert float(blown.total) > 1.2 * float(idle.total)
    assert float(blown.row("gear.main").area) == pytest.approx(float(idle.row("gear.main").area))
    (hull,) = body_lines(frame)
    share = body_share(hull, wash(body_points(hull), discs=frame.discs, wind=wind, thrust=5.0))
    assert 0.8 < float(share) <= 1.0 + 1e-12
    with pytest.raises(DomainError, match="points"):
        part_ratios(parts, wash(AXIS, discs=frame.discs, wind=wind, thrust=5.0))
