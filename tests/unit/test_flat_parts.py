"""Flat parts of drawn designs: faces, hands, areas, marks, what is not drawn."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from foamwright.airframe import Hand, build_airframe
from foamwright.balance import BalanceSpan, weigh
from foamwright.design.model import Marks
from foamwright.flat import flatten
from tests.drawn import (
    CREASED,
    CURVED,
    FOLDED,
    PROFILED,
    STEPPED,
    aeroplane,
    control,
    fin,
    hull,
    panel,
    pylon,
    wing,
)
from tests.handmade import design


def drawn(of, span=None, **changes):
    airframe = build_airframe(of)
    return airframe, flatten(airframe, weigh(airframe), span=span, **changes)


@pytest.fixture(scope="module")
def whole():
    return drawn(aeroplane(), BalanceSpan(forward=0.262, aft=0.280, why="rule"))


def part(flat, code):
    return next(one for one in flat.parts if one.code == code)


def area(one):
    return shapely.Polygon(one.outline, one.holes).area


def texts(one):
    return [mark.text for mark in one.marks if mark.text]


# ---------------------------------------------------------------- all of them


def test_every_piece_of_sheet_is_drawn_once(whole):
    airframe, flat = whole
    sheets = [piece for piece in airframe.pieces if piece.sheet is not None]
    assert sum(one.count for one in flat.parts) == len(sheets)
    assert flat.not_drawn == ()
    assert [one.code for one in flat.parts] == [
        "WING-INNER-SKIN",
        "WING-INNER-AILERON",
        "WING-TIP-SKIN",
        "FIN-ALL-SKIN",
        "HULL-SIDE",
        "HULL-TOP",
        "HULL-HATCH-HATCH",
        "HULL-BOTTOM",
        "HULL-END-FRONT",
        "HULL-END-BACK",
        "HULL-FORMER-BAY",
        "HULL-FORMER-SEAT",
        "HULL-DOUBLER-NOSE",
        "PYLON-LAYER-1",
        "PYLON-LAYER-2",
    ]
    assert (flat.design, flat.variant, flat.revision) == ("Handmade", "as drawn", "A")


def test_areas_are_those_of_the_airframe(whole):
    """Within 1e-9 where facets are plane; a twisted tip within its own error."""
    airframe, flat = whole
    for one in flat.parts:
        piece = next(p for p in airframe.pieces if p.path == one.path and p.title == one.title)
        exact = one.length_error < 1e-8
        assert one.area == pytest.approx(piece.amount, rel=2e-9 if exact else 2e-4), one.code
        assert area(one) == pytest.approx(one.area, rel=1e-11), one.code
    assert [one.code for one in flat.parts if one.length_error >= 1e-8] == ["WING-TIP-SKIN"]


def test_masses_are_those_weighed(whole):
    airframe, flat = whole
    masses = {(entry.key, entry.hand): entry.mass for entry in weigh(airframe).entries}
    for one in flat.parts:
        piece = next(p for p in airframe.pieces if p.path == one.path and p.title == one.title)
        assert one.mass == masses[piece.key, piece.hand]


def test_parts_lie_in_the_first_quadrant_longest_side_along(whole):
    _, flat = whole
    for one in flat.parts:
        low, high = one.outline.min(axis=0), one.outline.max(axis=0)
        np.testing.assert_allclose(low, 0.0, atol=1e-15)
        assert high[1] <= 1.1 * high[0] + 1e-12, one.code
        assert not one.outline.flags.writeable
        ring = shapely.LinearRing(one.outline)
        assert ring.is_ccw, one.code
        assert ring.is_simple, one.code
        assert all(not shapely.LinearRing(hole).is_ccw for hole in one.holes)


def test_hands(whole):
    _, flat = whole
    hands = {one.code: one.hands for one in flat.parts}
    both = (Hand.RIGHT, Hand.LEFT)
    assert hands["WING-INNER-SKIN"] == both
    assert hands["HULL-SIDE"] == both
    assert hands["HULL-DOUBLER-NOSE"] == both
    assert hands["FIN-ALL-SKIN"] == (Hand.CENTRE,)
    assert part(flat, "HULL-SIDE").count == 2


def test_faces(whole):
    _, flat = whole
    faces = {one.code: one.face_up for one in flat.parts}
    assert faces["WING-INNER-SKIN"] == faces["WING-INNER-AILERON"] == "upper face up"
    assert faces["FIN-ALL-SKIN"] == "left face up"
    assert faces["HULL-SIDE"] == faces["HULL-TOP"] == faces["HULL-BOTTOM"] == "outside up"
    assert faces["HULL-FORMER-SEAT"] == "front face up"
    assert faces["PYLON-LAYER-1"] == "right face up"


def test_pairs_of_upright_faces_are_inner_and_outer():
    """Left and right would be wrong on one of the two."""
    fins = replace(fin(), mirrored=True, at=(0.65, 0.2, 0.03))
    slabs = pylon(layers=1, y=0.2, mirrored=True)
    _, flat = drawn(design(surfaces=(wing(), fins), bodies=(slabs,)))
    assert part(flat, "FIN-ALL-SKIN").face_up == "inner face up"
    assert part(flat, "FIN-ALL-SKIN").hands == (Hand.RIGHT, Hand.LEFT)
    assert part(flat, "PYLON-LAYER-1").face_up == "outer face up"


def test_stiff_ways(whole):
    """Along the span for surfaces, along x for bodies; cross pieces and card have none."""
    _, flat = whole
    stiff = {one.code: one.stiff for one in flat.parts}
    np.testing.assert_allclose(stiff["WING-INNER-SKIN"], [1, 0], atol=1e-5)
    assert abs(stiff["HULL-SIDE"][0]) > 0.99
    assert stiff["HULL-FORMER-SEAT"] is None  # square to x
    assert stiff["HULL-FORMER-BAY"] is None  # card has no stiff direction
    assert abs(stiff["PYLON-LAYER-1"][1]) > 0.9  # it stands: x runs up the page
    for way in stiff.values():
        assert way is None or np.linalg.norm(way) == pytest.approx(1.0)


def test_folds(whole):
    """The crease stands 5 % of chord high at 35 %: atan(5/35) + atan(5/65) in the section."""
    _, flat = whole
    (fold,) = part(flat, "WING-INNER-SKIN").folds
    assert fold.away  # edges fall away from the upper face
    section = math.atan2(0.05, 0.35) + math.atan2(0.05, 0.65)
    # The section stands upright where the wing is joined, so along the panel it is a little
    # steeper than drawn: its heights are those of the drawn section over cos 4 degrees at most.
    assert fold.angle == pytest.approx(section, rel=2.5e-3)
    side = part(flat, "HULL-SIDE")
    assert len(side.folds) == 2
    assert all(fold.away for fold in side.folds)  # a hull that is widest in its middle


def test_seen_from_the_named_face():
    """A right wing's upper face: root left, nose up; its aileron notch at the foot."""
    of = design(surfaces=(wing(panel(tip_chord=0.1, sweep=0.3), controls=(control(),)),))
    _, flat = drawn(of)
    skin = part(flat, "WING-INNER-SKIN")
    # The root is the longer end and stands left.
    ends = [
        np.ptp(skin.outline[np.abs(skin.outline[:, 0] - x) < 0.06, 1])
        for x in (skin.outline[:, 0].min(), skin.outline[:, 0].max())
    ]
    assert ends[0] > ends[1]
    whole_box = shapely.box(*skin.outline.min(axis=0), *skin.outline.max(axis=0))
    foot = whole_box.intersection(shapely.box(0.2, 0.0, 0.3, 0.02))
    assert foot.intersection(shapely.Polygon(skin.outline)).area < 0.5 * foot.area


def test_side_is_seen_from_outside(whole):
    """Right side, outside up, top up the page: its nose points right."""
    _, flat = whole
    side = part(flat, "HULL-SIDE")
    right = side.outline[:, 0] > side.outline[:, 0].max() - 0.03
    left = side.outline[:, 0] < 0.03
    assert np.ptp(side.outline[right, 1]) > np.ptp(side.outline[left, 1])
    former = next(mark for mark in side.marks if mark.text == "former bay")
    assert former.points[:, 0].mean() > 0.6 * side.outline[:, 0].max()


# ---------------------------------------------------------------- marks


def test_marks_of_the_wing(whole):
    _, flat = whole
    skin = part(flat, "WING-INNER-SKIN")
    assert texts(skin) == [
        "balance point",
        "balance span, forward limit",
        "balance span, aft limit",
        "rod carbon3, joint middle",
        "rod carbon3, joint plug",
    ]
    assert "cut line windy" in texts(part(flat, "WING-TIP-SKIN"))
    assert texts(part(flat, "WING-INNER-AILERON")) == []


def test_balance_marks_lie_where_they_should():
    """A level wing: the mark stands its distance behind the leading edge, over the whole span."""
    of = design(surfaces=(wing(incidence=0.0),))
    _, flat = drawn(of, BalanceSpan(forward=0.25, aft=0.27, why=""))
    skin = part(flat, "WING-INNER-SKIN")
    marks = {mark.text: mark.points for mark in skin.marks}
    for text, x in (("balance span, forward limit", 0.25), ("balance span, aft limit", 0.27)):
        np.testing.assert_allclose(marks[text][:, 1], 0.19 - (x - 0.21), atol=1e-12)
        assert np.ptp(marks[text][:, 0]) == pytest.approx(0.36)


def test_marks_that_are_not_wanted_or_miss_the_part():
    of = design(surfaces=(wing(),))
    plain = replace(
        of,
        marks=Marks(
            revision="B",
            licence="",
            notes=(),
            balance_span=False,
            thrust_line=False,
            cut_lines=False,
        ),
    )
    _, flat = drawn(plain, BalanceSpan(forward=0.25, aft=0.27, why=""))
    assert part(flat, "WING-INNER-SKIN").marks == ()
    assert flat.revision == "B"
    _, flat = drawn(of, BalanceSpan(forward=0.1, aft=0.9, why=""))
    assert texts(part(flat, "WING-INNER-SKIN")) == ["balance point"]


def test_cut_line_lies_at_its_share_of_the_panel(whole):
    """Every stretch of it divides its ruling 55 to 45."""
    _, flat = whole
    tip = part(flat, "WING-TIP-SKIN")
    cut = next(mark for mark in tip.marks if mark.text == "cut line windy")
    assert cut.points[:, 0].mean() == pytest.approx(0.55 * 0.19, abs=1e-3)


def test_former_marks(whole):
    _, flat = whole
    assert texts(part(flat, "HULL-SIDE")) == ["former bay", "former seat"]
    assert texts(part(flat, "HULL-HATCH-HATCH")) == []
    side = part(flat, "HULL-SIDE")
    marks = {mark.text: mark.points[:, 0].mean() for mark in side.marks}
    # 143 mm apart along x; the side between them slopes by half a degree.
    assert abs(marks["former bay"] - marks["former seat"]) == pytest.approx(0.143, abs=5e-4)


def test_layers():
    of = design(surfaces=(wing(panel(section=STEPPED)),))
    _, flat = drawn(of)
    assert [one.code for one in flat.parts] == ["WING-INNER-SKIN", "WING-INNER-LAYER-1"]
    base, layer = flat.parts
    assert "layer 1, back, upper face" in texts(base)
    assert layer.area == pytest.approx(0.4 * 0.19 * 0.36, rel=1e-9)
    mark = next(mark for mark in base.marks if mark.text.startswith("layer 1"))
    np.testing.assert_allclose(mark.points[:, 1], 0.6 * 0.19, atol=1e-9)


# ---------------------------------------------------------------- not drawn


@pytest.mark.parametrize(
    ("section", "reason", "others"),
    [
        (FOLDED, "folded round its nose", ["WING-INNER-SPAR"]),
        (CURVED, "bent to a curve", []),
        (PROFILED, "cut from block", []),
    ],
)
def test_what_is_not_drawn_says_why_and_how_heavy_it_is(section, reason, others):
    airframe, flat = drawn(design(surfaces=(wing(panel(section=section)),)))
    (missing,) = flat.not_drawn
    assert reason in missing.reason
    entries = weigh(airframe).entries
    masses = [e.mass for e in entries if e.title == missing.title]
    assert len(masses) == 2
    assert missing.mass == pytest.approx(sum(masses))
    amounts = [p.amount for p in airframe.pieces if p.title == missing.title]
    assert missing.area == pytest.approx(0.0 if section is PROFILED else sum(amounts))
    assert [one.code for one in flat.parts] == others


def test_spar_web_of_a_folded_wing():
    airframe, flat = drawn(design(surfaces=(wing(panel(section=FOLDED)),)))
    web = part(flat, "WING-INNER-SPAR")
    assert web.face_up == "front face up"
    piece = next(p for p in airframe.pieces if p.key == "wing.inner.spar")
    assert web.area == pytest.approx(piece.amount, rel=1e-9)


def test_too_much_twist_is_not_drawn():
    of = design(surfaces=(wing(panel(tip_twist=math.radians(-20.0))),))
    _, flat = drawn(of)
    (missing,) = flat.not_drawn
    assert "twisted too much to lie flat" in missing.reason
    _, flat = drawn(of, twist_limit=1.0)
    assert flat.not_drawn == ()
    assert flat.parts[0].length_error > 0.5e-3


def test_a_little_washout_is_drawn_and_says_its_error():
    _, flat = drawn(design(surfaces=(wing(panel(tip_twist=math.radians(-2.0))),)))
    assert 1e-6 < flat.parts[0].length_error < 1e-4


# ---------------------------------------------------------------- hands and codes


def test_bodies_on_both_sides():
    """Twin booms: outer and inner side of each are pairs of their own."""
    boom = hull(
        key="boom", y=0.2, mirrored=True, formers=(), doublers=(), openings=(), ends=(False, False)
    )
    airframe, flat = drawn(design(surfaces=(wing(),), bodies=(boom,)))
    codes = {one.code: one for one in flat.parts}
    assert {"BOOM-SIDE-OUTER", "BOOM-SIDE-INNER"} <= set(codes)
    for one in flat.parts:
        assert one.hands == (Hand.RIGHT, Hand.LEFT)
        if one.code.startswith("BOOM"):
            assert one.face_up == "outside up"
    assert codes["BOOM-SIDE-OUTER"].area == pytest.approx(codes["BOOM-SIDE-INNER"].area)
    sheets = [piece for piece in airframe.pieces if piece.sheet is not None]
    assert sum(one.count for one in flat.parts) == len(sheets)


def test_unlike_hands_are_parts_of_their_own():
    airframe = build_airframe(design(surfaces=(wing(),)))
    left = next(p for p in airframe.pieces if p.hand is Hand.LEFT)
    other = replace(left, sheet=replace(left.sheet, first=left.sheet.first * 1.001))
    pieces = tuple(other if p is left else p for p in airframe.pieces)
    airframe = replace(airframe, pieces=pieces)
    flat = flatten(airframe, weigh(airframe))
    assert [one.code for one in flat.parts] == ["WING-INNER-SKIN-RIGHT", "WING-INNER-SKIN-LEFT"]
    assert all(one.face_up == "upper face up" for one in flat.parts)


def test_codes_are_ascii_and_unique():
    airframe = build_airframe(design(surfaces=(wing(), fin())))
    names = ["flügel.mitte.haut", "flugel.mitte.haut", "крыло", "крыло2"]
    sheets = [p for p in airframe.pieces if p.hand is not Hand.LEFT]
    pieces = tuple(replace(sheets[0], key=name, hand=Hand.CENTRE) for name in names)
    airframe = replace(airframe, pieces=pieces)
    flat = flatten(airframe, weigh(airframe))
    codes = [one.code for one in flat.parts]
    assert codes == ["FLUGEL-MITTE-HAUT", "FLUGEL-MITTE-HAUT-2", "PART", "2"]


def test_left_drawn_surface_shows_its_upper_face():
    """A lone half that is drawn for the left by a negative y keeps its upper face up."""
    of = design(
        surfaces=(
            wing(),
            wing(panel("only", CREASED), key="half", mirrored=False, at=(0.21, -0.8, 0.04)),
        )
    )
    _, flat = drawn(of)
    half = part(flat, "HALF-ONLY-SKIN")
    assert half.hands == (Hand.LEFT,)
    assert half.face_up == "upper face up"
    assert half.folds[0].away
