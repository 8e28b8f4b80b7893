"""Bodies as cut parts: boxes and their corner rule, slabs, pods, booms."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from foamwright.airframe import (
    Airframe,
    Basis,
    Hand,
    Piece,
    PlateSheet,
    RuledSheet,
    build_airframe,
    is_closed,
    mesh_properties,
)
from foamwright.design.model import (
    Body,
    BoxBody,
    BoxFace,
    BoxStation,
    Doubler,
    Former,
    Opening,
)
from foamwright.errors import DomainError
from foamwright.figures import Figure
from tests import making

T = 0.005  # m, the board of tests.making
PLY = 0.003  # m


def built(body: Body) -> Airframe:
    return build_airframe(making.design(bodies=(body,)))


def parts(body: Body) -> dict[tuple[str, str], Piece]:
    return {
        (one.key, one.hand.value): one for one in built(body).pieces if one.path.startswith("body.")
    }


def volume(one: Piece) -> float:
    return float(mesh_properties([one.mesh]).volume[0])


@pytest.mark.parametrize(
    "body",
    [
        making.box(),
        making.tapered_box(),
        making.tapered_box(ends=(False, True)),
        making.tapered_box(y=0.2, mirrored=True, openings=()),
        making.slab(),
        making.slab(layers=3, y=0.2, mirrored=True, is_pylon=False),
        making.pod(),
        making.pod(block=None, mass=Figure(value=0.01), at=(0.0, 0.1, 0.0), mirrored=True),
        making.boom(),
        making.boom(rod="wire", mirrored=False),
    ],
    ids=lambda body: type(body).__name__,
)
def test_pieces_and_outsides_are_closed_and_look_outward(body):
    airframe = built(body)
    meshes = [one.mesh for one in airframe.pieces] + [one.outside for one in airframe.bodies]
    for mesh in meshes:
        other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        assert is_closed(mesh)
        assert other.is_watertight
        assert other.is_winding_consistent
        assert other.volume > 0.0


# ---------------------------------------------------------------- boxes


def test_straight_box_follows_the_corner_rule():
    """Sides full height, top and bottom between them, ends inside all four."""
    found = parts(making.box())
    assert found["hull.side", "right"].amount == pytest.approx(0.6 * 0.08)
    assert found["hull.side", "left"].amount == pytest.approx(0.6 * 0.08)
    assert found["hull.top", "centre"].amount == pytest.approx(0.6 * (0.06 - 2 * T))
    assert found["hull.bottom", "centre"].amount == pytest.approx(0.6 * (0.06 - 2 * T))
    end = (0.06 - 2 * T) * (0.08 - 2 * T)
    assert found["hull.end.front", "centre"].amount == pytest.approx(end)
    assert found["hull.end.back", "centre"].amount == pytest.approx(end)


def test_parts_of_a_straight_box_fill_its_shell_without_gap_or_overlap():
    found = parts(making.box())
    solid = sum(volume(one) for one in found.values())
    shell = 0.6 * 0.06 * 0.08 - (0.6 - 2 * T) * (0.06 - 2 * T) * (0.08 - 2 * T)
    assert solid == pytest.approx(shell, rel=1e-12)


def test_open_ends_have_no_cross_piece_and_are_not_wetted():
    closed, opened = built(making.box()), built(making.box(ends=(False, True)))
    keys = {one.key for one in opened.pieces}
    assert "hull.end.front" not in keys
    assert "hull.end.back" in keys
    assert closed.bodies[0].wetted_area == pytest.approx(
        2 * (0.6 * 0.06 + 0.6 * 0.08 + 0.06 * 0.08)
    )
    assert opened.bodies[0].wetted_area == pytest.approx(closed.bodies[0].wetted_area - 0.06 * 0.08)
    assert closed.bodies[0].volume == pytest.approx(0.6 * 0.06 * 0.08)


def test_sloping_walls_keep_their_thickness():
    """Sheet area times thickness is the solid; a facet is as long as it slopes."""
    stations = (
        BoxStation(x=0.0, bottom=-0.03, top=0.03, width=0.05),
        BoxStation(x=0.3, bottom=-0.05, top=0.05, width=0.11),
    )
    found = parts(making.box(stations=stations))
    side = found["hull.side", "right"]
    assert side.amount == pytest.approx(math.hypot(0.3, 0.03) * 0.08, rel=1e-12)
    for one in found.values():
        assert one.sheet is not None
        assert volume(one) == pytest.approx(one.amount * one.sheet.thickness, rel=2e-3)


def test_outside_measures_are_as_drawn():
    airframe = built(making.tapered_box())
    (shape,) = airframe.bodies
    assert (shape.kind, shape.hand) == ("box", Hand.CENTRE)
    assert shape.length == pytest.approx(0.9)
    assert shape.width == pytest.approx(0.056)
    assert shape.height == pytest.approx(0.066)
    for station in making.tapered_box().stations:
        corners = {
            (station.x, side * 0.5 * station.width, z)
            for side in (-1, 1)
            for z in (station.bottom, station.top)
        }
        assert corners <= {tuple(point) for point in shape.outside.vertices}


def test_only_out_of_plane_bends_are_folds():
    stations = (
        BoxStation(x=0.0, bottom=-0.02, top=0.03, width=0.04),
        BoxStation(x=0.1, bottom=-0.04, top=0.03, width=0.06),
        BoxStation(x=0.3, bottom=-0.04, top=0.03, width=0.06),
        BoxStation(x=0.5, bottom=-0.01, top=0.03, width=0.06),
    )
    found = parts(making.box(stations=stations))
    folds = {
        name: found[name, hand].sheet.folds
        for name, hand in (
            ("hull.side", "right"),
            ("hull.top", "centre"),
            ("hull.bottom", "centre"),
        )
    }
    assert folds == {"hull.side": (1,), "hull.top": (), "hull.bottom": (1, 2)}


def test_ruled_faces_have_their_nodes_at_the_stations():
    side = parts(making.tapered_box())["hull.side", "right"].sheet
    assert isinstance(side, RuledSheet)
    assert side.first[:, 0] == pytest.approx([0.0, 0.1, 0.4, 0.9])
    assert side.first[:, 2] == pytest.approx([-0.014, -0.03, -0.03, 0.0])
    assert side.second[:, 2] == pytest.approx([0.012, 0.03, 0.036, 0.03])


def test_opening_takes_its_area_and_a_hatch_keeps_it():
    opening = Opening(
        key="hatch", face=BoxFace.TOP, start=0.1, end=0.25, low=-0.02, high=0.015, is_hatch=True
    )
    whole, cut = parts(making.box()), parts(making.box(openings=(opening,)))
    taken = 0.15 * 0.035
    assert whole["hull.top", "centre"].amount - cut["hull.top", "centre"].amount == (
        pytest.approx(taken)
    )
    cover = cut["hull.hatch.hatch", "centre"]
    assert cover.amount == pytest.approx(taken)
    assert cover.path == "body.hull.opening.hatch"
    (hole,) = cut["hull.top", "centre"].sheet.holes
    assert shapely.Polygon(hole[:, :2]).area == pytest.approx(taken)
    assert np.unique(hole[:, 2]) == pytest.approx([0.04 - 0.5 * T])


def test_opening_in_the_sides_is_in_both_and_bends_with_them():
    opening = Opening(
        key="exit", face=BoxFace.SIDES, start=0.05, end=0.2, low=-0.01, high=0.01, is_hatch=False
    )
    body = making.tapered_box(openings=(opening,))
    found = parts(body)
    whole = parts(replace(body, openings=()))
    for hand in ("right", "left"):
        sheet = found["hull.side", hand].sheet
        (hole,) = sheet.holes
        assert len(hole) == 6  # a station lies between its ends
        taken = whole["hull.side", hand].amount - found["hull.side", hand].amount
        bend = math.hypot(0.05, 0.05 * 0.09) + 0.1
        assert taken == pytest.approx(0.02 * bend, rel=1e-3)


def test_an_opening_up_to_the_edge_is_a_notch():
    opening = Opening(
        key="notch", face=BoxFace.TOP, start=0.5, end=0.6, low=-0.03, high=0.03, is_hatch=False
    )
    top = parts(making.box(openings=(opening,)))["hull.top", "centre"]
    assert is_closed(top.mesh)
    assert top.amount == pytest.approx(0.5 * 0.05)


def test_an_opening_that_leaves_nothing_is_refused():
    opening = Opening(
        key="all", face=BoxFace.TOP, start=0.0, end=0.6, low=-0.1, high=0.1, is_hatch=False
    )
    with pytest.raises(DomainError, match="leave nothing"):
        built(making.box(openings=(opening,)))


def test_former_is_the_inside_less_its_opening():
    former = Former(key="bay", x=0.3, sheet="ply", opening=0.36)
    one = parts(making.box(formers=(former,)))["hull.former.bay", "centre"]
    inside = (0.06 - 2 * T) * (0.08 - 2 * T)
    assert one.amount == pytest.approx(0.64 * inside)
    assert one.stock == "ply"
    assert isinstance(one.sheet, PlateSheet)
    (hole,) = one.sheet.holes
    assert shapely.Polygon(hole[:, 1:]).area == pytest.approx(0.36 * inside)
    assert shapely.Polygon(one.sheet.outline[:, 1:]).area == pytest.approx(inside)
    x = one.mesh.vertices[:, 0]
    assert (x.min(), x.max()) == pytest.approx((0.3 - 0.5 * PLY, 0.3 + 0.5 * PLY))


def test_former_makes_room_for_doublers():
    former = Former(key="bay", x=0.3, sheet="ply", opening=0.0)
    doublers = (
        Doubler(key="s", face=BoxFace.SIDES, start=0.1, end=0.4, sheet="board"),
        Doubler(key="b", face=BoxFace.BOTTOM, start=0.1, end=0.4, sheet="ply"),
    )
    found = parts(making.box(formers=(former,), doublers=doublers))
    assert found["hull.former.bay", "centre"].amount == pytest.approx(
        (0.06 - 4 * T) * (0.08 - 2 * T - PLY)
    )
    assert found["hull.doubler.s", "right"].amount == pytest.approx(0.3 * (0.08 - 2 * T))
    assert found["hull.doubler.s", "left"].amount == pytest.approx(0.3 * (0.08 - 2 * T))
    assert found["hull.doubler.b", "centre"].amount == pytest.approx(0.3 * (0.06 - 4 * T))


def test_doublers_are_cut_where_their_face_is():
    doubler = Doubler(key="d", face=BoxFace.TOP, start=0.1, end=0.4, sheet="ply")
    opening = Opening(
        key="o", face=BoxFace.TOP, start=0.3, end=0.5, low=-0.01, high=0.01, is_hatch=False
    )
    found = parts(making.box(doublers=(doubler,), openings=(opening,)))
    one = found["hull.doubler.d", "centre"]
    assert is_closed(one.mesh)
    assert one.amount == pytest.approx(0.3 * 0.05 - 0.1 * 0.02)
    assert len(one.sheet.holes) == 1


def test_a_body_off_the_middle_has_outer_and_inner_sides():
    body = making.box(y=0.2, mirrored=True)
    found = parts(body)
    for hand in ("right", "left"):
        assert {"hull.side.outer", "hull.side.inner"} <= {k for k, h in found if h == hand}
    outer = found["hull.side.outer", "right"].mesh.vertices[:, 1]
    inner = found["hull.side.inner", "right"].mesh.vertices[:, 1]
    assert (inner.min(), outer.max()) == pytest.approx((0.17, 0.23))
    left = found["hull.side.outer", "left"].mesh.vertices[:, 1]
    assert left.min() == pytest.approx(-0.23)


def test_openings_off_the_middle_are_where_they_are_drawn():
    opening = Opening(
        key="o", face=BoxFace.TOP, start=0.3, end=0.5, low=0.195, high=0.21, is_hatch=True
    )
    cover = parts(making.box(y=0.2, openings=(opening,)))["hull.hatch.o", "right"]
    y = cover.mesh.vertices[:, 1]
    assert (y.min(), y.max()) == pytest.approx((0.195, 0.21))


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"stations": making.box().stations[:1]}, "two or more stations"),
        ({"stations": making.box().stations[::-1]}, "aft of the one before"),
        (
            {"stations": tuple(replace(one, width=0.009) for one in making.box().stations)},
            "no larger than two sheets",
        ),
        ({"formers": (Former(key="f", x=2.0, sheet="ply", opening=0.0),)}, "between the two ends"),
        ({"formers": (Former(key="f", x=0.3, sheet="ply", opening=1.0),)}, "less than its whole"),
        (
            {"doublers": (Doubler(key="d", face=BoxFace.TOP, start=0.5, end=0.9, sheet="ply"),)},
            "between the two ends",
        ),
    ],
    ids=["one station", "order", "narrow", "former outside", "former gone", "doubler outside"],
)
def test_boxes_that_cannot_be_cut_are_refused(changes, text):
    body: BoxBody = making.box(**changes)
    with pytest.raises(DomainError, match=text):
        built(body)


# ---------------------------------------------------------------- slabs, pods, booms


def test_slab_layers_lie_side_by_side_and_agree_with_shapely():
    body = making.slab()
    found = parts(body)
    polygon = shapely.Polygon(body.outline, body.openings)
    for k, low in ((1, -T), (2, 0.0)):
        one = found[f"pylon.layer-{k}", "centre"]
        assert one.amount == pytest.approx(polygon.area, rel=1e-12)
        assert volume(one) == pytest.approx(polygon.area * T, rel=1e-12)
        assert one.mesh.vertices[:, 1].min() == pytest.approx(low)
    (shape,) = built(body).bodies
    whole = shapely.Polygon(body.outline)
    assert shape.kind == "pylon"
    assert shape.wetted_area == pytest.approx(2 * whole.area + whole.length * 2 * T)
    assert shape.volume == pytest.approx(whole.area * 2 * T)


def test_slab_without_area_is_refused():
    with pytest.raises(DomainError, match="larger than its openings"):
        built(making.slab(outline=((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)), openings=()))


def test_pod_of_block_counts_its_volume_and_a_given_one_does_not():
    true = math.pi / 6 * 0.12 * 0.05 * 0.04
    carved = parts(making.pod())["dome", "centre"]
    assert (carved.basis, carved.stock) == (Basis.VOLUME, "white")
    assert carved.amount == pytest.approx(true, rel=1e-12)
    assert volume(carved) == pytest.approx(true, rel=1e-9)
    mass = Figure(value=0.014)
    given = parts(making.pod(block=None, mass=mass))["dome", "centre"]
    assert (given.basis, given.stock, given.given, given.amount) == (Basis.GIVEN, None, mass, 0.0)
    with pytest.raises(DomainError, match="block stock or a mass"):
        built(making.pod(block=None, mass=None))


def test_wetted_area_of_a_ball_is_near_the_true_one():
    """24 sides: a ball of equal volume has 0.4 % more surface in facets."""
    (shape,) = built(making.pod(length=0.1, width=0.1, height=0.1)).bodies
    assert shape.wetted_area == pytest.approx(math.pi * 0.1**2, rel=5e-3)


def test_boom_counts_its_length():
    body = making.boom()
    one = parts(body)["boom", "right"]
    length = math.dist(body.start, body.end)
    assert (one.basis, one.stock) == (Basis.LENGTH, "tube")
    assert one.amount == pytest.approx(length)
    assert volume(one) == pytest.approx(length * math.pi / 4 * (6e-3**2 - 4e-3**2), rel=1e-9)
    shape = built(body).bodies[0]
    assert shape.volume == pytest.approx(length * math.pi / 4 * 6e-3**2, rel=1e-9)
    assert shape.wetted_area == pytest.approx(math.pi * 6e-3 * length + 2 * math.pi / 4 * 6e-3**2)
    assert [shape.hand for shape in built(body).bodies] == [Hand.RIGHT, Hand.LEFT]
