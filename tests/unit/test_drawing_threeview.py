"""The three-view: what is seen, what hides what, and that it fits its sheet."""

from __future__ import annotations

from importlib.resources import files
from math import cos, radians, sin
from pathlib import Path as FilePath

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from foamwright.airframe import Airframe, Basis, Disc, Group, Hand, Mesh, Piece, build_airframe
from foamwright.balance import Balance, BalanceSpan, weigh
from foamwright.design import read_design
from foamwright.drawing.lettering import text_corners
from foamwright.drawing.model import Area, Drawing, Ink, Layer, Text, pen_of
from foamwright.drawing.model import Path as Line
from foamwright.drawing.overlays import thrust_arm
from foamwright.drawing.symbols import Figure, balance_symbol, dimension
from foamwright.drawing.threeview import SCALES, three_view
from foamwright.drawing.views import View, disc_outline, seen_from, sight

BOX = np.array(
    [[0, 1, 3], [0, 3, 2], [4, 7, 5], [4, 6, 7], [0, 5, 1], [0, 4, 5], [2, 3, 7], [2, 7, 6],
     [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]],
    dtype=np.int32,
)  # fmt: skip


def block(key: str, low: tuple[float, ...], high: tuple[float, ...]) -> Piece:
    """A block between two corners."""
    corners = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
    vertices = np.array(low) + corners * (np.array(high) - np.array(low))
    return Piece(
        key=key,
        path=key,
        title=key,
        group=Group.POWER,
        hand=Hand.CENTRE,
        stock=None,
        basis=Basis.GIVEN,
        amount=0.0,
        given=None,
        sheet=None,
        mesh=Mesh(vertices=vertices, faces=BOX),
    )


def test_directions_of_the_views():
    """Nose up and right wing right in plan; nose left in side view; right wing left from ahead."""
    nose, right, top = np.array([[-1.0, 0, 0]]), np.array([[0, 1.0, 0]]), np.array([[0, 0, 1.0]])
    assert seen_from(View.PLAN, nose)[0].tolist() == [0.0, 1.0, 0.0]
    assert seen_from(View.PLAN, right)[0].tolist() == [1.0, 0.0, 0.0]
    assert seen_from(View.SIDE, nose)[0].tolist() == [-1.0, 0.0, 0.0]
    assert seen_from(View.SIDE, right)[0][2] == -1.0
    assert seen_from(View.SIDE, top)[0].tolist() == [0.0, 1.0, 0.0]
    assert seen_from(View.FRONT, right)[0].tolist() == [-1.0, 0.0, 0.0]
    assert seen_from(View.FRONT, nose)[0][2] == 1.0


def test_outline_is_the_union_of_what_is_seen():
    pieces = (block("a", (0, 0, 0), (0.2, 0.1, 0.05)), block("b", (0.1, 0, 0), (0.3, 0.1, 0.05)))
    seen = sight(pieces, View.PLAN)
    assert seen.outline.area == pytest.approx(0.3 * 0.1, rel=1e-6)


def test_what_lies_below_is_hidden_and_what_lies_above_is_seen():
    lid = block("lid", (0, 0, 0.10), (0.2, 0.2, 0.11))
    low = block("low", (0.05, 0.05, 0.0), (0.15, 0.15, 0.05))
    high = block("high", (0.05, 0.05, 0.11), (0.15, 0.15, 0.15))
    below = sight((lid, low), View.PLAN, inner=(low,))
    assert sum(_length(line) for line in below.hidden) == pytest.approx(0.4, rel=0.03)
    assert not below.edges
    above = sight((lid, high), View.PLAN, inner=(high,))
    assert sum(_length(line) for line in above.edges) == pytest.approx(0.4, rel=0.03)
    assert not above.hidden


def test_a_thing_half_under_a_lid_is_half_hidden():
    lid = block("lid", (0, 0, 0.10), (0.1, 0.2, 0.11))
    rod = block("low", (0.02, 0.05, 0.0), (0.2, 0.15, 0.05))
    seen = sight((lid, rod), View.PLAN, inner=(rod,))
    hidden = sum(_length(line) for line in seen.hidden)
    assert hidden == pytest.approx(0.1 + 2 * 0.08, rel=0.05)


def _length(points: np.ndarray) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def test_a_disc_seen_square_on_is_a_circle():
    rim = disc_outline(np.zeros(3), np.array([-1.0, 0.0, 0.0]), 0.2, View.FRONT)
    assert np.hypot(*rim.T) == pytest.approx(np.full(len(rim), 0.1))
    edge_on = disc_outline(np.zeros(3), np.array([-1.0, 0.0, 0.0]), 0.2, View.PLAN)
    assert np.ptp(edge_on[:, 1]) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("height", "tilt", "arm"),
    [(0.1, 0.0, 0.1), (-0.05, 0.0, -0.05), (0.0, radians(5.0), 0.4 * sin(radians(5.0)))],
)
def test_thrust_arm_is_positive_above_the_balance_point(dunlin, height, tilt, arm):
    """A disc 0.4 m aft of the balance point; a thrust tilted up passes above what is ahead."""
    x, y, z = dunlin[1].point
    disc = Disc(
        motor="m",
        path="m",
        centre=np.array([x + 0.4, y, z + height]),
        thrust=np.array([-cos(tilt), 0.0, sin(tilt)]),
        diameter=0.15,
    )
    assert thrust_arm(disc, dunlin[1]) == pytest.approx(arm, abs=1e-12)


# ---------------------------------------------------------------- the whole sheet


@pytest.fixture(scope="module")
def dunlin() -> tuple[Airframe, Balance]:
    path = FilePath(str(files("foamwright.design").joinpath("examples", "dunlin.toml")))
    airframe = build_airframe(read_design(path).variants[0])
    return airframe, weigh(airframe)


@pytest.fixture(scope="module")
def sheet(dunlin) -> Drawing:
    airframe, balance = dunlin
    x = balance.point[0]
    span = BalanceSpan(forward=x - 0.01, aft=x + 0.008, why="")
    return three_view(airframe, balance=balance, balance_span=span, neutral_point=x + 0.02)


def said(drawing: Drawing) -> list[str]:
    return [item.text for item in drawing.primitives if isinstance(item, Text)]


def test_the_sheet_is_standard_paper_at_a_standard_scale(sheet):
    assert (sheet.width, sheet.height) == (420.0, 297.0)
    scale = next(text for text in said(sheet) if text.startswith("1:"))
    assert int(scale[2:]) in SCALES


def test_the_outline_is_as_long_and_wide_as_the_aeroplane(dunlin, sheet):
    span = 1000.0 * dunlin[0].reference.span / 5.0
    widths = []
    for item in sheet.on(Layer.OUTLINE):
        assert isinstance(item, Line)
        xs = [point[0] for point in item.points]
        widths.append(max(xs) - min(xs))
    assert max(widths) == pytest.approx(span, abs=0.4)
    assert f"span {1000.0 * dunlin[0].reference.span:.0f}" in said(sheet)


def test_main_dimensions_and_balance_are_in_words(sheet):
    words = " | ".join(said(sheet))
    for word in ("span ", "length ", "root chord 190", "balance span", "neutral point", "thrust"):
        assert word in words


def test_lettering_stays_inside_the_frame_and_apart(sheet):
    frame = shapely.box(10.0, 10.0, 410.0, 287.0)
    areas = [
        (item.text, Polygon(text_corners(item)))
        for item in sheet.primitives
        if isinstance(item, Text)
    ]
    for text, area in areas:
        assert frame.contains(area), text
    for k, (text, area) in enumerate(areas):
        for other, beside in areas[k + 1 :]:
            assert area.intersection(beside).area < 0.05, (text, other)


def test_one_accent_and_never_alone(sheet):
    """Accent lines and signs are told apart without colour: by width, pattern or shape."""
    inks = {item.ink for item in sheet.primitives if isinstance(item, Area | Text)}
    assert inks <= {Ink.BLACK, Ink.ACCENT, Ink.WASH, Ink.PAPER}
    outline = pen_of(next(item for item in sheet.on(Layer.OUTLINE) if isinstance(item, Line)))
    hidden = pen_of(next(item for item in sheet.on(Layer.HIDDEN) if isinstance(item, Line)))
    assert outline.width > hidden.width
    assert hidden.dash


def test_what_is_not_known_is_not_drawn(dunlin):
    bare = three_view(dunlin[0])
    words = " | ".join(said(bare))
    assert "balance" not in words
    assert "neutral point" not in words
    assert "thrust line" in words


def test_balance_symbol_has_two_black_quarters():
    areas = [item for item in balance_symbol((0.0, 0.0), radius=2.0) if isinstance(item, Area)]
    quarters = [item for item in areas if item.ink is Ink.ACCENT]
    middles = [Polygon(item.rings[0]).centroid for item in quarters]
    assert len(quarters) == 2
    assert middles[0].x * middles[0].y < 0.0
    assert middles[0].x == pytest.approx(-middles[1].x)


def test_dimension_figures_shorten_on_short_lines():
    long = dimension((0, 0), (60, 0), Figure(words="root chord 190", short="190"), off=5.0)
    short = dimension((0, 0), (14, 0), Figure(words="root chord 190", short="190"), off=5.0)
    assert [item.text for item in long if isinstance(item, Text)] == ["root chord 190"]
    assert [item.text for item in short if isinstance(item, Text)] == ["190"]
