"""Bodies in the wind: signs, symmetry, slopes against forces, limits."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.body import (
    body_forces,
    body_lines,
    body_slopes,
    body_strips,
    flow_share,
    munk_factor,
    neutral_point_shift,
    rectangle_mass,
    wing_flow,
)
from foamwright.air.body.fin import pylon_fin
from foamwright.air.body.shape import Form, lines_of, panel_covers
from foamwright.airframe import build_airframe
from foamwright.airframe.meshes import mesh_volume
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.design.model import BoxStation, SurfaceRole
from foamwright.errors import DomainError
from tests.making import boom, box, design, full_design, panel, pod, slab, stock, surface

STEP = 1e-5


def _strips(*bodies, flow=None):
    lines = tuple(line for body in bodies for line in lines_of(body, stock=stock()))
    return body_strips(lines, flow=flow)


def _cone(**changes):
    """A box with sharp ends: no lift by slender-body theory, only a couple."""
    ends = [(0.0, 1e-6), (0.2, 0.03), (0.5, 0.03), (0.7, 1e-6)]
    stations = tuple(BoxStation(x=x, bottom=-h, top=h, width=2 * h) for x, h in ends)
    return box(stations=stations, **changes)


def test_lines_have_the_bodies_volume():
    for body in (box(), pod(), boom()):
        for line in lines_of(body, stock=stock()):
            share = np.pi if line.form is Form.ROUND else 4.0
            cut = share * line.half_width * line.half_height
            width = np.diff(line.x[::2])
            volume = ((cut[:-2:2] + 4 * cut[1:-1:2] + cut[2::2]) / 6.0) @ width
            frame = build_airframe(design(bodies=(body,)))
            assert volume == pytest.approx(mesh_volume(frame.bodies[0].outside), rel=2e-3)


def test_inside_tells_bodies_apart():
    line = lines_of(pod(at=(0.0, 0.0, 0.0), length=0.2, width=0.1, height=0.06), stock=stock())[0]
    points = np.array([[0, 0.049, 0], [0, 0.051, 0], [0, 0, 0.031], [0.09, 0.03, 0], [0.11, 0, 0]])
    assert line.inside(points).tolist() == [True, False, False, False, False]
    hull = lines_of(box(), stock=stock())[0]
    points = np.array([[0.3, 0.029, 0.039], [0.3, 0.031, 0.0], [-0.01, 0.0, 0.0]])
    assert hull.inside(points).tolist() == [True, False, False]


def test_covers_hold_what_lies_in_a_surface():
    fin = surface(
        "fin", role=SurfaceRole.FIN, mirrored=False, at=(0.5, 0.0, 0.0),
        panels=(panel(length=0.2, dihedral=90.0),),
    )  # fmt: skip
    wing, upright = panel_covers(build_airframe(design(surfaces=(surface(), fin))))
    points = np.array([[0.1, 0.3, 0.002], [0.1, -0.3, -0.002], [0.1, 0.3, 0.003], [0.1, 0.6, 0.0]])
    assert wing.inside(points).tolist() == [True, True, False, False]
    points = np.array([[0.6, 0.002, 0.1], [0.6, 0.003, 0.1], [0.6, 0.0, 0.25]])
    assert upright.inside(points).tolist() == [True, False, False]


def test_slopes_are_those_of_the_forces():
    frame = build_airframe(full_design())
    flow = wing_flow(frame, lift_slope=4.4, zero_lift_angle=-0.05)
    strips = body_strips(body_lines(frame), flow=flow)
    point = (0.3, 0.0, 0.02)
    slopes = body_slopes(strips, point=point)
    up = body_forces(strips, alpha=np.array([-STEP, STEP]), point=point)
    assert np.diff(up.force[:, 2])[0] / (2 * STEP) == pytest.approx(slopes.lift, rel=0.01)
    assert np.diff(up.moment[:, 1])[0] / (2 * STEP) == pytest.approx(slopes.moment, rel=0.01)
    plain = body_strips(body_lines(frame))
    exact = body_slopes(plain, point=point)
    side = body_forces(plain, alpha=0.0, beta=np.array([-STEP, STEP]), point=point)
    assert np.diff(side.force[:, 1])[0] / (2 * STEP) == pytest.approx(exact.side, rel=1e-3)
    assert np.diff(side.moment[:, 2])[0] / (2 * STEP) == pytest.approx(exact.yaw, rel=1e-3)
    assert np.diff(side.moment[:, 0])[0] / (2 * STEP) == pytest.approx(exact.roll, rel=1e-3)


def test_a_hull_is_unstable_both_ways():
    slopes = body_slopes(_strips(_cone()), point=(0.35, 0.0, 0.0))
    assert slopes.moment > 0.0
    assert slopes.yaw < 0.0
    assert abs(slopes.lift) < 1e-9
    # As high as wide, so both ways alike.
    assert slopes.moment == pytest.approx(-slopes.yaw)


def test_a_couple_is_the_same_about_any_point():
    moments = [body_slopes(_strips(_cone()), point=(x, 0.0, 0.0)).moment for x in (0.0, 1.0)]
    assert moments[0] == pytest.approx(moments[1], rel=1e-6)


def test_a_blunt_back_lifts():
    hull = box()
    slopes = body_slopes(_strips(hull))
    (line,) = lines_of(hull, stock=stock())
    mass = np.pi * 0.03**2 * float(rectangle_mass(4.0 / 3.0)) * float(munk_factor(line.fineness))
    assert slopes.lift == pytest.approx(2.0 * mass)
    assert slopes.side < 0.0


def test_a_pylon_behind_the_balance_point_steadies():
    pylon = slab(outline=((0.4, 0.04), (0.47, 0.04), (0.47, 0.14), (0.4, 0.14)), openings=())
    strips = _strips(box(), pylon)
    lines = tuple(line for body in (box(), pylon) for line in lines_of(body, stock=stock()))
    fin = pylon_fin(lines[1], lines)
    assert fin is not None
    assert 0.4 < fin.point[0] < 0.435
    assert fin.slope == pytest.approx(2.9 * 0.007, rel=0.15)
    alone = body_slopes(_strips(box()), point=(0.2, 0.0, 0.0))
    both = body_slopes(strips, point=(0.2, 0.0, 0.0))
    assert both.yaw > alone.yaw
    assert both.roll < alone.roll  # it stands above
    assert pylon_fin(lines[0], lines) is None


def test_mirror_images_cancel_sideways():
    strips = _strips(boom())
    forces = body_forces(strips, alpha=0.3, beta=0.0)
    assert float(forces.moment[0]) == pytest.approx(0.0, abs=1e-15)
    assert float(forces.moment[2]) == pytest.approx(0.0, abs=1e-15)
    left, right = (body_forces(strips, alpha=0.2, beta=b) for b in (0.2, -0.2))
    assert left.force * [1, -1, 1] == pytest.approx(right.force)
    assert left.moment * [-1, 1, -1] == pytest.approx(right.moment)


def test_states_broadcast_and_scalars_equal_slices():
    strips = _strips(box(), slab(), pod(), boom())
    alpha, beta = np.linspace(-0.5, 0.5, 4), np.array([[0.0], [0.3]])
    forces = body_forces(strips, alpha=alpha, beta=beta)
    assert forces.force.shape == (2, 4, 3)
    one = body_forces(strips, alpha=alpha[2], beta=beta[1, 0])
    assert one.force == pytest.approx(forces.force[1, 2], rel=1e-12)
    assert one.moment == pytest.approx(forces.moment[1, 2], rel=1e-12)


def test_a_pitching_hull_is_damped_about_its_middle():
    still, turning = (
        body_forces(_strips(box()), alpha=0.0, pitch_turn=q, point=(0.3, 0.0, 0.0)).moment[1]
        for q in (0.0, 0.5)
    )
    assert float(still) == 0.0
    assert float(turning) < 0.0
    yawing = body_forces(_strips(box()), alpha=0.0, yaw_turn=0.5, point=(0.3, 0.0, 0.0))
    assert float(yawing.moment[2]) < 0.0


def test_the_wing_guides_the_flow():
    flow = wing_flow(build_airframe(full_design()), lift_slope=4.4, downwash=0.4)
    edges = np.linspace(-0.5, 1.4, 500)
    share = flow_share(edges, y=0.0, flow=flow)
    middle = 0.5 * (edges[1:] + edges[:-1])
    assert np.all(share[middle < 0.2] > 1.0)
    assert np.all(np.diff(share[middle < 0.2]) > 0.0)
    assert share[(middle > 0.22) & (middle < 0.39)] == pytest.approx(0.0)
    assert share[-1] == pytest.approx(0.6)
    assert flow_share(edges, y=0.0, flow=None) == pytest.approx(1.0)
    # One strip for all is nearly the mean of many: only the vortex's decay is read midway.
    coarse = flow_share(edges[[0, 499]], y=0.0, flow=flow)
    assert float(coarse[0]) == pytest.approx(float(share.mean()), rel=0.08)


def test_strip_edges_must_rise():
    flow = wing_flow(build_airframe(full_design()), lift_slope=4.4)
    with pytest.raises(DomainError, match="rise"):
        flow_share(np.array([0.0, 0.0, 1.0]), y=0.0, flow=flow)


def test_wings_own_lift_turns_the_body_at_zero_incidence():
    frame = build_airframe(full_design())
    lines = body_lines(frame)
    none, some = (
        body_slopes(body_strips(lines, flow=wing_flow(frame, lift_slope=4.4, zero_lift_angle=a)))
        for a in (0.0, -0.06)
    )
    assert none.moment_at_zero == pytest.approx(0.0)
    assert some.moment == pytest.approx(none.moment)
    zero = body_forces(
        body_strips(lines, flow=wing_flow(frame, lift_slope=4.4, zero_lift_angle=-0.06)), alpha=0.0
    )
    assert float(zero.moment[1]) == pytest.approx(some.moment_at_zero, rel=0.01)


@pytest.mark.parametrize("name", STARTERS)
def test_examples_lose_a_little_stability(name):
    """Neutral point 0.5 to 3 % of chord forward: slim hulls."""
    frame = build_airframe(read_design_text(starter_text(name)).variants[0])
    reference = frame.reference
    flow = wing_flow(frame, lift_slope=4.2)
    point = (reference.mac_leading_edge[0] + 0.3 * reference.mac, 0.0, 0.0)
    slopes = body_slopes(body_strips(body_lines(frame), flow=flow), point=point)
    shift = neutral_point_shift(slopes, lift_slope=4.6, area=reference.area) / reference.mac
    assert -0.03 < shift < -0.005
    assert sum(m for _, m in slopes.moments) == pytest.approx(slopes.moment)
    assert sum(m for _, m in slopes.yaws) == pytest.approx(slopes.yaw)


def test_flying_wing_has_no_tail_to_wash():
    frame = build_airframe(design(bodies=(box(),)))
    flow = wing_flow(frame, lift_slope=3.6)
    assert flow.tail > 0.2
    assert 0.2 < flow.downwash < 0.8
