"""One flat part as a figure: outline, folds, marks and its label, true size in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, pi, sin

import numpy as np
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from foamwright.airframe import Hand
from foamwright.drawing.geometry import shape_of
from foamwright.drawing.label import (
    LARGE,
    MIDDLE,
    Block,
    Label,
    Row,
    along_line,
    leader,
    longest_segment,
    place_inside,
)
from foamwright.drawing.lettering import wrapped, wrapped_code
from foamwright.drawing.model import Layer, Path, Placing, Point, Primitive, line, shifted
from foamwright.flat.model import FlatPart, FoldLine

MM = 1000.0  # a design is in metres, a drawing in millimetres: here and nowhere else
_ROOM = 2.0  # mm, lettering from an outline
_SEAM_ROOM = 7.0  # mm, lettering from the middle of an overlap: clear of both pages' rims
_LINE_ROOM = 1.2  # mm, lettering from a fold or a mark
_OUTSIDE = 82.0  # mm, widest label outside its part
_WRAPS = (60.0, 46.0, 36.0)  # mm, widths tried for a label inside
_LEADER = 5.0  # mm, between a part and its label outside


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartFigure:
    """A part as it lies, its lower left at the origin, with the room its label needs."""

    part: FlatPart
    cuts: tuple[Path, ...]  # mm, outline and holes
    inner: tuple[Path, ...]  # mm, folds and marks
    solid: Polygon  # mm, what is kept
    labels: tuple[Label, ...]  # most wanted first
    outside: Block | None  # label below or beside, where none fits inside
    beside: bool
    size: tuple[float, float]  # mm, with an outside label

    @property
    def box(self) -> tuple[float, float]:
        """Width and height of the part alone. [mm]"""
        _, _, right, top = self.solid.bounds
        return right, top


def part_figure(part: FlatPart, *, revision: str, quarter_turn: bool = False) -> PartFigure:
    """Return the figure of a part.

    Parameters
    ----------
    part : FlatPart
        The part. [m]
    revision : str
        Revision printed on it.
    quarter_turn : bool
        Whether it is turned a quarter anticlockwise on the page.
    """
    angle = 0.5 * pi if quarter_turn else 0.0
    place = _to_page(part, angle)
    outline, holes = place(part.outline), [place(hole) for hole in part.holes]
    solid = Polygon(outline, holes)
    cuts = tuple(Path(layer=Layer.CUT, points=ring, closed=True) for ring in (outline, *holes))
    inner = _fold_lines(part, place) + _mark_lines(part, place)
    labels = _labels(part, revision=revision, angle=angle)
    room = _room(solid, (*inner, *_line_labels(part, solid, inner, ())))
    outside = None if place_inside(room, labels) else _narrow(labels[1][0], _OUTSIDE)
    size, beside = _size(solid, outside)
    return PartFigure(
        part=part,
        cuts=cuts,
        inner=inner,
        solid=solid,
        labels=labels,
        outside=outside,
        beside=beside,
        size=size,
    )


def _size(solid: Polygon, outside: Block | None) -> tuple[tuple[float, float], bool]:
    """Return the size with an outside label, and whether that label stands beside the part."""
    width, height = solid.bounds[2], solid.bounds[3]
    if outside is None:
        return (width, height), False
    wide, tall = outside.size
    below = (max(width, wide), height + _LEADER + tall)
    right = (width + _LEADER + wide, max(height, tall))
    beside = right[0] * right[1] < below[0] * below[1]
    return (right if beside else below), beside


def figure_at(
    figure: PartFigure, corner: Point, *, seams: Sequence[LineString] = ()
) -> tuple[Primitive, ...]:
    """Return a figure drawn with the lower left of its box at `corner`.

    Parameters
    ----------
    figure : PartFigure
        The part.
    corner : tuple of float
        Lower left on the drawing. [mm]
    seams : sequence of LineString
        Lines on the drawing that lettering should not stand on: seams of pages. [mm]
    """
    up = 0.0
    if figure.outside is not None and not figure.beside:
        up = figure.outside.size[1] + _LEADER
    x, y = corner[0], corner[1] + up
    part, solid = figure.part, figure.solid
    own = [affinity.translate(seam, -x, -y).buffer(_SEAM_ROOM) for seam in seams]
    letters = _line_labels(part, solid, figure.inner, own)
    drawn = shifted((*figure.cuts, *figure.inner, *letters), x, y)
    if figure.outside is not None:
        return (*drawn, *_outside_label(figure, corner))
    room = _room(solid, (*figure.inner, *letters))
    calm = room.difference(unary_union(own)) if own else room
    label = place_inside(calm, figure.labels) or place_inside(room, figure.labels)
    return (*drawn, *shifted(label or (), x, y))


def _outside_label(figure: PartFigure, corner: Point) -> tuple[Primitive, ...]:
    block = figure.outside
    if block is None:
        return ()
    wide, tall = block.size
    width, height = figure.box
    if figure.beside:
        at = (width + _LEADER, 0.5 * (max(height, tall) - tall))
        start = (at[0] - 1.0, at[1] + 0.5 * tall)
        lift = 0.0
    else:
        at = (0.0, -_LEADER - tall)
        start = (min(0.5 * wide, 0.5 * width), at[1] + tall + 1.0)
        lift = tall + _LEADER
    label = (*shifted(block.primitives(), *at), *leader(Layer.NOTE, start, figure.solid))
    return shifted(label, corner[0], corner[1] + lift)


# ---------------------------------------------------------------- lines


class _ToPage:
    """Metres on the part to millimetres on the page, lower left at the origin."""

    def __init__(self, angle: float, corner: NDArray[np.float64]) -> None:
        self._placing = Placing(angle=angle, dx=-float(corner[0]), dy=-float(corner[1]))

    def __call__(self, points: NDArray[np.float64]) -> tuple[Point, ...]:
        return tuple(self._placing.point((MM * float(x), MM * float(y))) for x, y in points)


def _to_page(part: FlatPart, angle: float) -> _ToPage:
    turned = Placing(angle=angle)
    points = [turned.point((MM * float(x), MM * float(y))) for x, y in part.outline]
    return _ToPage(angle, np.array(points).min(axis=0))


def _fold_lines(part: FlatPart, place: _ToPage) -> tuple[Path, ...]:
    return tuple(line(Layer.FOLD, *_ends(fold, place)) for fold in part.folds)


def _ends(fold: FoldLine, place: _ToPage) -> tuple[Point, Point]:
    start, end = place(np.array([fold.start, fold.end]))
    return start, end


def _mark_lines(part: FlatPart, place: _ToPage) -> tuple[Path, ...]:
    return tuple(Path(layer=Layer.MARK, points=place(mark.points)) for mark in part.marks)


def fold_words(fold: FoldLine) -> str:
    """Return what is written along a fold: its angle, and which way the edges go."""
    way = "down" if fold.away else "up"
    return f"fold {degrees(fold.angle):.0f}° {way}"


def _line_labels(
    part: FlatPart, solid: Polygon, inner: Sequence[Path], avoided: Sequence[BaseGeometry]
) -> tuple[Primitive, ...]:
    shapes = [shape_of(item) for item in inner]
    windows = [Polygon(ring) for ring in solid.interiors]
    words = [fold_words(fold) for fold in part.folds] + [mark.text for mark in part.marks]
    layers = [Layer.FOLD] * len(part.folds) + [Layer.MARK] * len(part.marks)
    letters: list[Primitive] = []
    written: list[BaseGeometry] = []
    sheet, said = Polygon(solid.exterior), set[str]()
    for item, text, layer in zip(inner, words, layers, strict=True):
        if not text:
            continue
        label = along_line(
            layer,
            longest_segment(item.points),
            text,
            home=solid,
            taken=(*shapes, *avoided),
            letters=written,
            windows=windows,
        )
        # the other half of a fold that an opening cuts in two is named already
        if text in said and not sheet.covers(shape_of(label[0])):
            continue
        said.add(text)
        letters += label
        written.append(shape_of(label[0]))
        shapes += [shape_of(piece) for piece in label[1:] if isinstance(piece, Path)]
    return tuple(letters)


def _room(solid: Polygon, lines: Sequence[Primitive]) -> BaseGeometry:
    free = solid.buffer(-_ROOM)
    if not lines:
        return free
    return free.difference(unary_union([shape_of(item).buffer(_LINE_ROOM) for item in lines]))


# ---------------------------------------------------------------- words


def _labels(part: FlatPart, *, revision: str, angle: float) -> tuple[Label, ...]:
    stiff = _direction(part, angle)
    words = (
        part.title,
        count_words(part.hands),
        f"{part.stock}, {MM * part.thickness:g} mm, {part.face_up}",
        f"{area_words(part.area)}, {mass_words(part.mass)} each, rev {revision}",
    )
    small = tuple(Row(text=text) for text in words)
    code = Row(text=part.code, height=MIDDLE, bold=True)
    full = Block(rows=(code, *small), stiff=stiff)
    paired = tuple(Row(text="; ".join(pair)) for pair in (words[:2], words[2:]))
    halves = (
        Block(rows=(Row(text="; ".join((part.code, *words[:2]))),), stiff=stiff),
        Block(rows=(Row(text="; ".join(words[2:])),)),
    )
    return (
        (Block(rows=(Row(text=part.code, height=LARGE, bold=True), *small), stiff=stiff),),
        (full,),
        *((_narrow(full, width),) for width in _WRAPS),
        (Block(rows=(code, *paired), stiff=stiff),),
        (Block(rows=(Row(text="; ".join((part.code, *words))),), stiff=stiff),),
        halves,
    )


def _narrow(block: Block, width: float) -> Block:
    return replace(block, rows=tuple(item for row in block.rows for item in _broken(row, width)))


def _broken(row: Row, width: float) -> tuple[Row, ...]:
    breaks = wrapped_code if row.bold else wrapped
    rows = breaks(row.text, width=width, height=row.height, bold=row.bold)
    return tuple(replace(row, text=item) for item in rows)


def _direction(part: FlatPart, angle: float) -> float | None:
    if part.stiff is None:
        return None
    x, y = float(part.stiff[0]), float(part.stiff[1])
    c, s = cos(angle), sin(angle)
    return atan2(s * x + c * y, c * x - s * y)


def count_words(hands: Sequence[Hand]) -> str:
    """Return how many are cut, and which of them turned over."""
    if not hands:
        return "none"
    first = hands[0]
    drawn = sum(hand is first for hand in hands)
    others = len(hands) - drawn
    if not others:
        side = "" if first is Hand.CENTRE else f", {first.value} hand"
        return f"cut {drawn}{side}"
    turned = next(hand for hand in hands if hand is not first)
    if drawn == others == 1:
        return f"mirror: cut one as drawn ({first.value}), one turned over ({turned.value})"
    return f"mirror: cut {drawn} as drawn ({first.value}), {others} turned over ({turned.value})"


def area_words(area: float) -> str:
    """Return an area in words. [m² in, cm² out]"""
    value = 1e4 * area
    return f"{value:.0f} cm²" if value >= 100.0 else f"{value:.1f} cm²"


def mass_words(mass: float) -> str:
    """Return a mass in words. [kg in, g out]"""
    return f"{1e3 * mass:.1f} g" if mass < 0.1 else f"{1e3 * mass:.0f} g"
