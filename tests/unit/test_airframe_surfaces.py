"""Surfaces as cut parts: sections of every kind, mitres, controls, joints."""

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
    RuledSheet,
    build_airframe,
    is_closed,
    mesh_properties,
)
from foamwright.airframe.sections import folded_outline, strips
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Design,
    Face,
    ProfiledSection,
    StepLayer,
    SteppedSection,
    Surface,
    SurfaceRole,
)
from foamwright.errors import DomainError
from tests import making

T = 0.005  # m, the board of tests.making


def built(surface: Surface, **changes: object) -> Airframe:
    return build_airframe(making.design(surfaces=(surface,), **changes))


def piece(airframe: Airframe, key: str, hand: Hand = Hand.RIGHT) -> Piece:
    return next(one for one in airframe.pieces if one.key == key and one.hand is hand)


def ruled(one: Piece) -> RuledSheet:
    assert isinstance(one.sheet, RuledSheet)
    return one.sheet


def volume(one: Piece) -> float:
    return float(mesh_properties([one.mesh]).volume[0])


def bent_wing(section: object, **changes: object) -> Surface:
    """Two panels with dihedral, taper, sweep, twist and two controls that meet."""
    return making.surface(
        incidence=2.0,
        panels=(
            making.panel("inner", length=0.15, root_chord=0.19, dihedral=3.0, section=section),
            making.panel(
                "tip", length=0.25, root_chord=0.19, tip_chord=0.13, sweep=5.0, dihedral=15.0,
                tip_twist=-2.0, section=section,
            ),
        ),
        controls=(
            making.control("flap", panel="tip", start=0.1, end=0.5, start_chord=0.045),
            making.control("aileron", panel="tip", start=0.5, end=0.9, start_chord=0.035),
        ),
        **changes,
    )  # fmt: skip


# ---------------------------------------------------------------- every kind of section


@pytest.mark.parametrize("kind", making.SECTIONS)
@pytest.mark.parametrize("plain", [True, False], ids=["plain", "with controls"])
def test_pieces_are_closed_and_look_outward(kind, plain):
    wing = bent_wing(making.SECTIONS[kind])
    if plain:
        wing = replace(wing, controls=())
    for one in built(wing).pieces:
        other = trimesh.Trimesh(one.mesh.vertices, one.mesh.faces, process=False)
        assert is_closed(one.mesh), one.key
        assert other.is_watertight, one.key
        assert other.is_winding_consistent, one.key
        assert other.volume > 0.0, one.key
        assert one.amount > 0.0, one.key


@pytest.mark.parametrize("kind", [kind for kind in making.SECTIONS if kind != "profiled"])
def test_solids_hold_area_times_thickness(kind):
    """Twist and mitres leave at most 0.3 %."""
    for one in built(bent_wing(making.SECTIONS[kind])).pieces:
        assert volume(one) == pytest.approx(one.amount * ruled(one).thickness, rel=3e-3), one.key


@pytest.mark.parametrize("kind", [kind for kind in making.SECTIONS if kind != "profiled"])
def test_untwisted_level_panels_hold_it_exactly(kind):
    """A folded sheet wedged at its nose keeps its volume too: a mitre gives what it takes."""
    wing = making.surface(
        panels=(making.panel(section=making.SECTIONS[kind]),), controls=(making.control(),)
    )
    for one in built(wing).pieces:
        assert volume(one) == pytest.approx(one.amount * ruled(one).thickness, rel=1e-9), one.key


def test_area_of_a_tapered_swept_panel_less_its_control_agrees_with_shapely():
    panel = making.panel(root_chord=0.2, tip_chord=0.14, sweep=12.0)
    control = making.control(start_chord=0.05, end_chord=0.03, gap=0.002)
    airframe = built(making.surface(panels=(panel,), controls=(control,)))

    def edge(share: float) -> tuple[float, float]:
        aft = share * 0.5 * math.tan(math.radians(12.0))
        return aft, aft + 0.2 + share * (0.14 - 0.2)

    def corners(*places: tuple[float, float]) -> shapely.Polygon:
        return shapely.Polygon([(x, share * 0.5) for share, x in places])

    whole = corners((0, edge(0)[0]), (0, edge(0)[1]), (1, edge(1)[1]), (1, edge(1)[0]))
    notch = corners(
        (0.2, edge(0.2)[1] - 0.052), (0.2, edge(0.2)[1]), (0.8, edge(0.8)[1]),
        (0.8, edge(0.8)[1] - 0.032),
    )  # fmt: skip
    flap = corners(
        (0.2, edge(0.2)[1] - 0.05), (0.2, edge(0.2)[1]), (0.8, edge(0.8)[1]),
        (0.8, edge(0.8)[1] - 0.03),
    )  # fmt: skip
    skin = piece(airframe, "wing.half.skin")
    assert skin.amount == pytest.approx(whole.difference(notch).area, rel=1e-12)
    assert piece(airframe, "wing.half.flap").amount == pytest.approx(flap.area, rel=1e-12)
    (hole,) = ruled(skin).holes
    drawn = shapely.Polygon(hole[:, :2])
    assert drawn.area == pytest.approx(notch.area, rel=1e-12)
    assert drawn.symmetric_difference(notch).area == pytest.approx(0.0, abs=1e-15)


def test_the_ruled_sheet_of_a_cut_panel_is_the_whole_panel():
    cut = ruled(piece(built(making.surface(controls=(making.control(),))), "wing.half.skin"))
    whole = ruled(piece(built(making.surface()), "wing.half.skin"))
    assert np.array_equal(cut.first, whole.first)
    assert np.array_equal(cut.second, whole.second)


@pytest.mark.parametrize(
    ("kind", "folds"),
    [("flat", ()), ("creased", (1,)), ("curved", ()), ("stepped", ()), ("folded", (1, 2, 3))],
)
def test_folds_are_where_the_sheet_is_creased(kind, folds):
    airframe = built(making.surface(panels=(making.panel(section=making.SECTIONS[kind]),)))
    assert ruled(piece(airframe, "wing.half.skin")).folds == folds


def test_a_creased_skin_is_as_wide_as_its_facets():
    section = CreasedSection(sheet="board", nodes=((0, 0), (0.25, 0.045), (0.76, 0.003), (1, 0)))
    airframe = built(making.surface(panels=(making.panel(section=section),)))
    wide = sum(
        0.2 * math.dist(a, b) for a, b in zip(section.nodes[:-1], section.nodes[1:], strict=True)
    )
    assert piece(airframe, "wing.half.skin").amount == pytest.approx(0.5 * wide, rel=1e-12)


def test_a_curved_skin_is_as_wide_as_its_arc():
    """Two parabolas; arc length by fine steps. 23 facets are 1e-4 short of it."""
    section = CurvedSection(sheet="board", camber=0.08, camber_at=0.3)
    airframe = built(making.surface(panels=(making.panel(section=section),)))
    x = np.linspace(0.0, 1.0, 20001)
    z = np.where(x < 0.3, 0.08 / 0.09 * (0.6 * x - x**2), 0.08 / 0.49 * (0.4 + 0.6 * x - x**2))
    arc = 0.2 * float(np.hypot(np.diff(x), np.diff(z)).sum())
    assert piece(airframe, "wing.half.skin").amount == pytest.approx(0.5 * arc, rel=1e-4)
    line = airframe.surfaces[0].panels[0].root.mean_line
    assert line[:, 1].max() == pytest.approx(0.08, rel=2e-3)
    assert line[0] == pytest.approx([0.0, 0.0])
    assert line[-1] == pytest.approx([1.0, 0.0], abs=1e-15)


# ---------------------------------------------------------------- folded


def test_outside_measures_of_a_folded_section_are_as_drawn():
    wing = making.surface(panels=(making.panel(section=making.FOLDED),))
    skin = piece(built(wing), "wing.half.skin").mesh.vertices
    x, z = skin[:, 0], skin[:, 2]
    at_spar = np.abs(x - 0.3 * 0.2) < 1e-9
    assert z[at_spar].max() == pytest.approx(making.FOLDED.depth - 0.5 * T, abs=1e-12)
    assert z.min() == pytest.approx(-0.5 * T, abs=1e-12)
    nose = np.abs(x) < 1e-9
    assert z[nose].max() - z[nose].min() == pytest.approx(making.FOLDED.nose_height, abs=1e-12)
    assert x.min() == pytest.approx(0.0, abs=1e-12)


def test_upper_skin_lies_on_the_lower_at_the_trailing_edge():
    nodes = strips(making.FOLDED, chord=0.2, stock=making.stock())[0].nodes
    outline = folded_outline(making.FOLDED, chord=0.2, stock=making.stock())
    slope = nodes[-1] - nodes[-2]
    normal = np.array([slope[1], -slope[0]]) / np.hypot(*slope)  # to the inside
    inner = nodes[-1] + 0.5 * T * normal
    assert inner == pytest.approx([0.2, 0.5 * T], abs=1e-12)
    # The sheet is as thick from crown to inner face as anywhere.
    crown = outline[3] - inner
    assert abs(crown @ normal) == pytest.approx(T, abs=1e-12)


def test_spar_web_stands_between_the_skins():
    """h = z_u - z_l - t/cos - t/cos, at the steeper of the slopes that meet on it."""
    airframe = built(making.surface(panels=(making.panel(section=making.FOLDED),)))
    web = ruled(piece(airframe, "wing.half.spar"))
    height = float(np.linalg.norm(web.first[1] - web.first[0]))
    front = math.atan2(making.FOLDED.depth - making.FOLDED.nose_height, 0.06)
    assert height == pytest.approx(making.FOLDED.depth - T - T / math.cos(front), abs=1e-9)
    assert web.first[0, 2] == pytest.approx(0.5 * T)
    assert piece(airframe, "wing.half.spar").stock == "ply"


def test_a_folded_control_is_two_strips_where_the_lower_skin_reaches_it():
    panel = making.panel(section=making.FOLDED)
    full = built(making.surface(panels=(panel,), controls=(making.control(),)))
    keys = {one.key for one in full.pieces}
    assert {"wing.half.flap", "wing.half.flap.lower"} <= keys
    short = replace(making.FOLDED, lower_to=0.6)
    panel = making.panel(section=short)
    part = built(making.surface(panels=(panel,), controls=(making.control(),)))
    assert "wing.half.flap.lower" not in {one.key for one in part.pieces}
    assert len(ruled(piece(full, "wing.half.skin")).holes) == 2
    assert len(ruled(piece(part, "wing.half.skin")).holes) == 1


# ---------------------------------------------------------------- stepped and profiled


def test_layers_lie_on_what_they_overlap():
    z = [strip.nodes[0, 1] for strip in strips(making.STEPPED, chord=0.2, stock=making.stock())]
    assert z == pytest.approx([0.0, 0.005, 0.0090, -0.0040])
    apart = SteppedSection(
        sheet="board",
        layers=(
            StepLayer(sheet="board", start=0.0, end=0.2, face=Face.UPPER),
            StepLayer(sheet="ply", start=0.3, end=0.5, face=Face.UPPER),
        ),
    )
    z = [strip.nodes[0, 1] for strip in strips(apart, chord=0.2, stock=making.stock())]
    assert z == pytest.approx([0.0, 0.005, 0.004])


def test_mean_line_of_a_stepped_section_stands_half_a_layer_higher():
    section = SteppedSection(
        sheet="board", layers=(StepLayer(sheet="board", start=0.1, end=0.5, face=Face.UPPER),)
    )
    airframe = built(making.surface(panels=(making.panel(section=section),)))
    panel = airframe.surfaces[0].panels[0]
    line = panel.root.mean_line
    at = np.interp([0.05, 0.3, 0.7], line[:, 0], line[:, 1])
    assert at == pytest.approx([0.0, 0.5 * T / 0.2, 0.0], abs=1e-12)
    assert panel.thickness == pytest.approx(2.0 * T / 0.2)


def test_a_core_has_the_volume_of_its_profile_along_the_panel():
    airframe = built(making.surface(panels=(making.panel(section=making.PROFILED),)))
    core = piece(airframe, "wing.half.core")
    area = shapely.Polygon(making.PROFILE).area * 0.2**2
    assert core.basis is Basis.VOLUME
    assert core.stock == "white"
    assert core.sheet is None
    assert core.amount == pytest.approx(0.5 * area, rel=1e-9)


def test_a_core_and_its_control_are_the_core_less_the_gap():
    gap = 0.002
    whole = built(making.surface(panels=(making.panel(section=making.PROFILED),)))
    cut = built(
        making.surface(
            panels=(making.panel(section=making.PROFILED),), controls=(making.control(gap=gap),)
        )
    )
    lines = shapely.Polygon(making.PROFILE)
    slit = lines.intersection(shapely.box(0.8 - gap / 0.2, -1.0, 0.8, 1.0)).area * 0.2**2
    wanted = piece(whole, "wing.half.core").amount - 0.6 * 0.5 * slit
    parts = piece(cut, "wing.half.core").amount + piece(cut, "wing.half.flap").amount
    assert parts == pytest.approx(wanted, rel=1e-9)


# ---------------------------------------------------------------- mitres and joints


def test_a_mirrored_root_lies_in_the_middle_plane_to_the_last_bit():
    wing = bent_wing(making.CREASED)
    airframe = built(wing)
    root = airframe.surfaces[0].panels[0].root
    assert root.leading_edge[1] == root.aft[1] == root.up[1] == 0.0
    sheet = ruled(piece(airframe, "wing.inner.skin"))
    assert np.all(sheet.first[:, 1] == 0.0)
    skin = piece(airframe, "wing.inner.skin").mesh.vertices
    assert np.count_nonzero(skin[:, 1] == 0.0) == 2 * len(sheet.first)


def test_neighbouring_panels_share_their_joint_to_the_last_bit():
    airframe = built(bent_wing(making.CREASED))
    inner, tip = airframe.surfaces[0].panels
    assert np.array_equal(inner.tip.leading_edge, tip.root.leading_edge)
    assert np.array_equal(inner.tip.up, tip.root.up)
    assert inner.tip.stretch == tip.root.stretch == pytest.approx(1.0 / math.cos(math.radians(6.0)))
    one = ruled(piece(airframe, "wing.inner.skin")).second
    two = ruled(piece(airframe, "wing.tip.skin")).first
    assert np.array_equal(one, two)
    a = piece(airframe, "wing.inner.skin").mesh.vertices
    b = piece(airframe, "wing.tip.skin").mesh.vertices
    shared = {tuple(point) for point in a} & {tuple(point) for point in b}
    assert len(shared) == 2 * len(one)


@pytest.mark.parametrize("angle", [5.0, 35.0, 60.0])
def test_the_sheet_keeps_its_thickness_up_to_the_mitre(angle):
    airframe = built(making.surface(panels=(making.panel(dihedral=angle),)))
    skin = piece(airframe, "wing.half.skin").mesh.vertices
    normal = np.array([0.0, -math.sin(math.radians(angle)), math.cos(math.radians(angle))])
    heights = skin @ normal
    assert np.unique(heights.round(12)) == pytest.approx([-0.5 * T, 0.5 * T])


def test_a_surface_off_the_middle_is_cut_square_at_its_root():
    wing = making.surface(at=(0.0, 0.03, 0.0), panels=(making.panel(dihedral=10.0),))
    root = built(wing).surfaces[0].panels[0].root
    assert root.stretch == 1.0
    assert root.up == pytest.approx(
        [0.0, -math.sin(math.radians(10.0)), math.cos(math.radians(10.0))]
    )


def test_incidence_and_twist_turn_the_nose_up():
    wing = making.surface(incidence=3.0, panels=(making.panel(tip_twist=-5.0),))
    panel = built(wing).surfaces[0].panels[0]
    assert panel.root.trailing_edge[2] == pytest.approx(-0.2 * math.sin(math.radians(3.0)))
    assert panel.tip.trailing_edge[2] == pytest.approx(0.2 * math.sin(math.radians(2.0)))


def test_a_fin_stands_up_in_the_middle():
    fin = making.surface(
        "fin",
        role=SurfaceRole.FIN,
        at=(0.8, 0.0, 0.05),
        mirrored=False,
        panels=(making.panel(length=0.15, dihedral=90.0, sweep=20.0),),
    )
    airframe = build_airframe(making.design(surfaces=(making.surface(), fin)))
    skin = piece(airframe, "fin.half.skin", Hand.CENTRE)
    low, high = skin.mesh.vertices.min(axis=0), skin.mesh.vertices.max(axis=0)
    assert low[1] == pytest.approx(-0.5 * T)
    assert high[1] == pytest.approx(0.5 * T)
    assert high[2] == pytest.approx(0.05 + 0.15)
    assert airframe.surfaces[1].planform.span == pytest.approx(0.15)


def test_an_upright_pair_in_the_middle_is_refused():
    fin = making.surface(panels=(making.panel(dihedral=90.0),))
    with pytest.raises(DomainError, match="mirror = false"):
        built(fin)


def test_panels_that_fold_back_on_each_other_are_refused():
    wing = making.surface(
        panels=(making.panel("a", dihedral=-80.0), making.panel("b", dihedral=80.0)),
        at=(0.0, 0.1, 0.0),
    )
    with pytest.raises(DomainError, match=r"panel\.b: turns by 160 degrees"):
        built(wing)


def test_twin_fins_have_both_hands():
    fin = making.surface(
        "fin", role=SurfaceRole.FIN, at=(0.8, 0.17, 0.0), panels=(making.panel(dihedral=90.0),)
    )
    airframe = build_airframe(making.design(surfaces=(making.surface(), fin)))
    right, left = piece(airframe, "fin.half.skin"), piece(airframe, "fin.half.skin", Hand.LEFT)
    assert right.mesh.vertices[:, 1].min() > 0.16
    assert left.mesh.vertices[:, 1].max() < -0.16


def test_rod_across_the_middle_is_there_once_and_bends_with_the_panels():
    wing = making.surface(panels=(making.panel(dihedral=4.0),), joints=(making.joint(),))
    rods = [one for one in built(wing).pieces if one.key == "wing.middle.rod"]
    (rod,) = rods
    assert rod.hand is Hand.CENTRE
    assert rod.basis is Basis.LENGTH
    assert rod.amount == 0.2
    assert rod.mesh.vertices[:, 2].max() == pytest.approx(
        0.1 * math.sin(math.radians(4.0)), abs=4e-3
    )
    centre = mesh_properties([rod.mesh]).centroid[0]
    assert centre[0] == pytest.approx(0.3 * 0.2)
    assert centre[1] == pytest.approx(0.0, abs=1e-9)


def test_rod_at_an_outer_joint_is_there_on_both_sides():
    wing = bent_wing(making.FLAT, joints=(making.joint("plug", panel="tip"),))
    rods = [one for one in built(wing).pieces if one.key == "wing.plug.rod"]
    assert [one.hand for one in rods] == [Hand.RIGHT, Hand.LEFT]


# ---------------------------------------------------------------- controls


def test_a_control_over_the_whole_panel_leaves_a_narrower_one():
    control = making.control(start=0.0, end=1.0, gap=0.001)
    airframe = built(making.surface(controls=(control,)))
    skin = piece(airframe, "wing.half.skin")
    assert is_closed(skin.mesh)
    assert skin.mesh.vertices[:, 0].max() == pytest.approx(0.2 - 0.041)
    assert skin.amount == pytest.approx(0.5 * 0.159)


def test_two_controls_that_meet_leave_a_step():
    """At the same place along the panel the cut-out has two depths."""
    airframe = built(bent_wing(making.FLAT))
    skin = piece(airframe, "wing.tip.skin")
    assert is_closed(skin.mesh)
    assert len(ruled(skin).holes) == 2


def test_control_shape_says_where_the_hinge_is():
    control = making.control(start_chord=0.05, end_chord=0.03)
    shape = built(making.surface(controls=(control,))).surfaces[0].controls[0]
    assert (shape.start_hinge, shape.end_hinge) == pytest.approx((0.75, 0.85))
    assert shape.path == "surface.wing.control.flap"
    assert shape.throw_up == control.throw_up


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"start_chord": 0.15}, "last crease"),
        ({"start_chord": 0.2}, "less than the panel's own chord"),
        ({"end": 1.2}, "must run outward"),
        ({"start": 0.9, "end": 0.5}, "must run outward"),
    ],
    ids=["crease", "whole chord", "outside", "backwards"],
)
def test_controls_that_cannot_be_cut_are_refused(changes, text):
    panel = making.panel(section=making.CREASED)
    wing = making.surface(panels=(panel,), controls=(making.control(**changes),))
    with pytest.raises(DomainError, match=text):
        built(wing)


def test_controls_that_overlap_are_refused():
    controls = (making.control("a"), making.control("b", start=0.5, end=0.9))
    with pytest.raises(DomainError, match=r"control\.b: runs from"):
        built(making.surface(controls=controls))


def test_a_layer_that_ends_on_the_hinge_of_one_end_only_is_refused():
    section = SteppedSection(
        sheet="board", layers=(StepLayer(sheet="ply", start=0.1, end=0.8, face=Face.UPPER),)
    )
    control = making.control(start_chord=0.06, end_chord=0.03)
    wing = making.surface(panels=(making.panel(section=section),), controls=(control,))
    with pytest.raises(DomainError, match="crosses a hinge line"):
        built(wing)


def test_sheets_too_thick_for_their_folds_are_refused():
    sharp = CreasedSection(sheet="board", nodes=((0, 0), (0.3, 0.3), (0.305, 0.3), (1, 0)))
    with pytest.raises(DomainError, match="too thick for a facet"):
        built(making.surface(panels=(making.panel(section=sharp),)))
    flat_nose = replace(making.FOLDED, nose_height=0.006)
    with pytest.raises(DomainError, match="nose at least two sheets high"):
        built(making.surface(panels=(making.panel(section=flat_nose),)))


def test_odd_profiles_are_refused():
    for points, text in (
        (((1, 0), (0.5, 0.1), (0.6, 0.05), (0, 0), (0.5, -0.1), (1, 0)), "without turning back"),
        (((1, 0), (0.5, -0.1), (0, 0), (0.5, 0.1), (1, 0)), "crosses its upper line"),
        (((0, 0), (0.5, 0.1), (1, 0)), "over the nose and back"),
    ):
        section = ProfiledSection(core="white", coordinates=points)
        with pytest.raises(DomainError, match=text):
            built(making.surface(panels=(making.panel(section=section),)))


def test_a_delta_tip_without_chord_is_closed():
    wing = making.surface(panels=(making.panel(tip_chord=0.0, sweep=30.0),))
    skin = piece(built(wing), "wing.half.skin")
    assert is_closed(skin.mesh)
    assert skin.amount == pytest.approx(0.5 * 0.5 * 0.2)


def test_names_that_would_make_the_same_part_are_refused():
    wing = making.surface(controls=(making.control("skin"),))
    with pytest.raises(DomainError, match=r"called wing\.half\.skin"):
        built(wing)


def test_groups_follow_the_role(sample: Design):
    groups = {one.key.split(".")[0]: one.group.value for one in build_airframe(sample).pieces}
    assert groups["wing"] == "wing"
    assert groups["tail"] == "tail"
    assert groups["hull"] == "body"
    assert groups["motor"] == groups["pack"] == groups["propeller"] == "power"
    assert groups["item"] == groups["pushrod"] == "radio"
    assert groups["gear"] == "gear"


@pytest.fixture(scope="module")
def sample() -> Design:
    return making.full_design()


def test_a_control_a_hair_from_root_and_tip_runs_to_them():
    """Fractions from lengths carry rounding; the root stays in the middle plane."""
    control = making.control(start=1e-13, end=1.0 - 1e-13)
    airframe = built(making.surface(panels=(making.panel(dihedral=9.0),), controls=(control,)))
    for key in ("wing.half.skin", "wing.half.flap"):
        skin = piece(airframe, key)
        assert is_closed(skin.mesh)
        assert np.count_nonzero(skin.mesh.vertices[:, 1] == 0.0) == 4


def test_two_controls_that_meet_within_rounding_leave_no_sliver():
    controls = (
        making.control("a", start=0.2, end=0.5),
        making.control("b", start=0.5 + 1e-12, end=0.9),
    )
    skin = piece(built(making.surface(controls=controls)), "wing.half.skin")
    assert is_closed(skin.mesh)
    assert len(ruled(skin).holes) == 2


def test_a_layer_narrower_than_its_ramps_keeps_its_height():
    section = SteppedSection(
        sheet="board", layers=(StepLayer(sheet="board", start=0.3, end=0.32, face=Face.LOWER),)
    )
    panel = built(making.surface(panels=(making.panel(section=section),))).surfaces[0].panels[0]
    line = panel.root.mean_line
    assert np.all(np.diff(line[:, 0]) > 0.0)
    assert line[:, 1].min() == pytest.approx(-0.5 * T / 0.2)
    assert panel.thickness == pytest.approx(2.0 * T / 0.2)


@pytest.mark.parametrize("kind", ["flat", "creased", "curved", "stepped"])
def test_pointed_tips_of_every_single_sheet(kind):
    panel = making.panel(tip_chord=0.0, section=making.SECTIONS[kind])
    for one in built(making.surface(panels=(panel,))).pieces:
        assert is_closed(one.mesh)
        assert one.amount > 0.0
