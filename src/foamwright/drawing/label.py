"""Labels: blocks of lettering, and finding them a place that hides no line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from foamwright.drawing.lettering import DESCENT, extent, text_corners, text_width
from foamwright.drawing.model import (
    Anchor,
    Area,
    Layer,
    Path,
    Placing,
    Point,
    Primitive,
    Text,
    line,
    placed,
)

SMALL = 2.5  # mm, capitals of notes: a little above ten point (common practice, no source)
MIDDLE = 3.5  # mm
LARGE = 5.0  # mm, of part codes (common practice, no source)
LEADING = 1.75  # line to line, over the height of the capitals
_ARROW = 14.0  # mm, length of the arrow of the stiff direction
_ARROW_HEAD = 2.4  # mm
_GAP = 3.0  # mm, between lettering and arrow
_STEEP = 5.0 * pi / 12.0  # rad, 75 degrees: the steepest lettering that reads downward
_INTO = 2.5  # mm, a leader ends so far inside what it points at


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of a block."""

    text: str
    height: float = SMALL  # mm
    bold: bool = False

    @property
    def width(self) -> float:
        """Width of the lettering. [mm]"""
        return text_width(self.text, height=self.height, bold=self.bold)


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines under each other, with an arrow beside them; lower left at the origin."""

    rows: tuple[Row, ...]
    stiff: float | None = None  # rad, direction of the arrow on the page

    @property
    def lettering(self) -> tuple[float, float]:
        """Width and height of the lines alone. [mm]"""
        below = DESCENT * self.rows[-1].height
        tall = self.rows[0].height + below + sum(LEADING * row.height for row in self.rows[1:])
        return max(row.width for row in self.rows), tall

    @property
    def arrow(self) -> tuple[float, float]:
        """Width and height of the arrow's own box. [mm]"""
        if self.stiff is None:
            return 0.0, 0.0
        return (
            max(_ARROW_HEAD, _ARROW * abs(cos(self.stiff))),
            max(_ARROW_HEAD, _ARROW * abs(sin(self.stiff))),
        )

    @property
    def size(self) -> tuple[float, float]:
        """Width and height. [mm]"""
        width, height = self.lettering
        wide, tall = self.arrow
        return width + (_GAP + wide if wide else 0.0), max(height, tall)

    def primitives(self, layer: Layer = Layer.NOTE) -> tuple[Primitive, ...]:
        """Return the block drawn with its lower left at the origin."""
        width, height = self.lettering
        _, whole = self.size
        y = whole - 0.5 * (whole - height) - self.rows[0].height
        items: list[Primitive] = []
        for index, row in enumerate(self.rows):
            if index:
                y -= LEADING * row.height
            items.append(
                Text(layer=layer, at=(0.0, y), text=row.text, height=row.height, bold=row.bold)
            )
        if self.stiff is not None:
            middle = (width + _GAP + 0.5 * self.arrow[0], 0.5 * whole)
            items += double_arrow(layer, middle, angle=self.stiff, length=_ARROW)
        return tuple(items)


def double_arrow(layer: Layer, middle: Point, *, angle: float, length: float) -> tuple[Path, ...]:
    """Return an arrow with a head at either end. [mm, rad]"""
    c, s = cos(angle), sin(angle)
    half = 0.5 * length
    ends = [(middle[0] + k * half * c, middle[1] + k * half * s) for k in (-1.0, 1.0)]
    items = [line(layer, ends[0], ends[1])]
    for end, way in zip(ends, (angle, angle + pi), strict=True):
        items.append(arrow_head(layer, end, angle=way + pi, length=_ARROW_HEAD))
    return tuple(items)


def arrow_head(layer: Layer, tip: Point, *, angle: float, length: float) -> Path:
    """Return an open arrow head that points in the direction `angle` [rad]."""
    spread = pi / 12.0  # half of 30 degrees
    sides = [
        (tip[0] - length * cos(angle + k * spread), tip[1] - length * sin(angle + k * spread))
        for k in (-1.0, 1.0)
    ]
    return Path(layer=layer, points=(sides[0], tip, sides[1]))


def upright(angle: float) -> float:
    """Return a direction turned by half a turn where lettering would stand on its head. [rad]

    Steep lettering reads upward, so that it is read from the right side of the page.
    """
    turned = (angle + _STEEP) % pi - _STEEP
    return turned + pi if turned <= -_STEEP + 1e-9 else turned


# ---------------------------------------------------------------- blocks inside a part

_STEPS = 24  # places tried along the longer side of a part


Label = tuple[Block, ...]  # blocks that are placed one after the other


def place_inside(room: BaseGeometry, labels: Sequence[Label]) -> tuple[Primitive, ...] | None:
    """Return the first of the labels that fits into a room, drawn in its place.

    Parameters
    ----------
    room : geometry
        Where lettering may stand: the part less its lines and a margin. [mm]
    labels : sequence of Label
        In the order of preference. Each block is tried level, then upright.

    Returns
    -------
    tuple of Primitive or None
        None where none fits.
    """
    for label in labels:
        left = room
        items: list[Primitive] = []
        for block in label:
            found = _place_block(left, block)
            if found is None:
                break
            items += found
            left = left.difference(shapely.box(*extent(found)).buffer(LEADING))
        else:
            return tuple(items)
    return None


def _place_block(room: BaseGeometry, block: Block) -> tuple[Primitive, ...] | None:
    if room.is_empty:
        return None
    middle = room.centroid
    for quarter in (False, True):
        drawn = _turned(block) if quarter else block
        width, height = drawn.size
        size = (height, width) if quarter else (width, height)
        corner = _free_corner(room, size, (middle.x, middle.y))
        if corner is None:
            continue
        if not quarter:
            return placed(drawn.primitives(), Placing(dx=corner[0], dy=corner[1]))
        side = Placing(dx=corner[0] + height, dy=corner[1], angle=0.5 * pi)
        return placed(drawn.primitives(), side)
    return None


def _turned(block: Block) -> Block:
    # the arrow shows a direction on the part, so it is turned back before the block is turned
    return block if block.stiff is None else replace(block, stiff=block.stiff - 0.5 * pi)


def _free_corner(room: BaseGeometry, size: tuple[float, float], middle: Point) -> Point | None:
    left, bottom, right, top = room.bounds
    width, height = size
    if width > right - left or height > top - bottom:
        return None
    xs = np.linspace(left, right - width, _STEPS)
    ys = np.linspace(bottom, top - height, _STEPS)
    x, y = (part.ravel() for part in np.meshgrid(xs, ys))
    boxes = shapely.box(x, y, x + width, y + height)
    shapely.prepare(room)
    fits = np.flatnonzero(shapely.covers(room, boxes))
    if not fits.size:
        return None
    away = np.hypot(x[fits] + 0.5 * width - middle[0], y[fits] + 0.5 * height - middle[1])
    best = fits[int(np.argmin(away))]
    return float(x[best]), float(y[best])


# ---------------------------------------------------------------- lettering along a line

_PLACES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)  # along the line
_OFF = 1.4  # mm, lettering from its line
_CLEAR = 0.4  # mm, lettering from other lines
_BEYOND = 2.5  # mm, from the end of a line to lettering that goes on from it
_REACH = 0.45  # of a text's width, from its middle to a leader near its end
_AWAY = (5.0, 9.0, 13.0, 17.0)  # mm, tried with a leader where lines lie close together
_MET = 10.0  # cost of lettering on another line or another lettering
_OUT = 4.0  # cost of lettering that leaves the part


def along_line(
    layer: Layer,
    ends: tuple[Point, Point],
    text: str,
    *,
    home: BaseGeometry,
    taken: Sequence[BaseGeometry],
    letters: Sequence[BaseGeometry] = (),
    windows: Sequence[Polygon] = (),
) -> tuple[Primitive, ...]:
    """Return lettering along a line, where it meets least of what is taken.

    Parameters
    ----------
    layer : Layer
        Layer of the lettering.
    ends : tuple of points
        The line. [mm]
    text : str
        What it says.
    home : geometry
        Where it should stay, such as the part. [mm]
    taken : sequence of geometry
        Other lines, and places where no lettering should stand. [mm]
    letters : sequence of geometry
        Other lettering, which no leader may cross either. [mm]
    windows : sequence of Polygon
        Openings of the part: scrap, lettered where the part itself has no room. [mm]

    Returns
    -------
    tuple of Primitive
        The text, and a leader where it had to stand off.
    """
    close = [
        _beside(layer, ends, text, place=place, off=_OFF * side)
        for side in (1.0, -1.0)
        for place in _PLACES
    ]
    met = (*taken, *letters)
    # text over text is worse than text over a line
    best = min(close, key=lambda item: _cost(item, home, (*met, *letters, *letters)))
    if _cost(best, home, met) == 0.0:
        return (best,)
    found = _standing_off(layer, ends, text, homes=(home,), taken=met, letters=letters)
    if found or not windows:
        return found or (best,)
    met = (*met, *(window.exterior for window in windows))
    for item in _beyond(layer, ends, text):
        if any(_cost(item, window, met) == 0.0 for window in windows):
            return (item,)
    homes = (home, *windows)
    found = _standing_off(layer, ends, text, homes=homes, taken=met, letters=letters)
    return found or (best,)


def _beyond(layer: Layer, ends: tuple[Point, Point], text: str) -> Iterator[Text]:
    """Lettering that goes on where a short line ends, its middle on the line."""
    long = hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
    away = (0.5 * text_width(text, height=SMALL) + _BEYOND) / long
    for place in (1.0 + away, -away):
        # "off" is measured to the lower edge of the capitals
        yield _beside(layer, ends, text, place=place, off=-0.5 * SMALL, below=False)


def _standing_off(
    layer: Layer,
    ends: tuple[Point, Point],
    text: str,
    *,
    homes: Sequence[BaseGeometry],
    taken: Sequence[BaseGeometry],
    letters: Sequence[BaseGeometry],
) -> tuple[Primitive, ...]:
    """Return lettering away from its line with a leader to it; nothing where there is no room."""
    for away in _AWAY:
        for side in (1.0, -1.0):
            for place in _PLACES:
                item = _beside(layer, ends, text, place=place, off=away * side)
                if all(_cost(item, home, taken) > 0.0 for home in homes):
                    continue
                for foot in _feet(item, ends, place):
                    reach = _to_line(item, ends, place=foot, off=away * side)
                    if not any(LineString(reach[0].points).intersects(other) for other in letters):
                        return (item, *reach)
    return ()


def _feet(item: Text, ends: tuple[Point, Point], place: float) -> Iterator[float]:
    """Places along the line for the foot of a leader: below the middle of a text or its ends."""
    (x0, y0), (x1, y1) = ends
    reach = _REACH * text_width(item.text, height=item.height) / hypot(x1 - x0, y1 - y0)
    return (foot for foot in (place, place - reach, place + reach) if 0.0 <= foot <= 1.0)


def _beside(
    layer: Layer,
    ends: tuple[Point, Point],
    text: str,
    *,
    place: float,
    off: float,
    below: bool = True,
) -> Text:
    (x0, y0), (x1, y1) = ends
    angle = upright(atan2(y1 - y0, x1 - x0))
    # below the line the height of the capitals comes on top
    rise = off - SMALL if below and off < 0.0 else off
    return Text(
        layer=layer,
        at=(
            x0 + place * (x1 - x0) - rise * sin(angle),
            y0 + place * (y1 - y0) + rise * cos(angle),
        ),
        text=text,
        height=SMALL,
        anchor=Anchor.MIDDLE,
        angle=angle,
    )


def _to_line(
    item: Text, ends: tuple[Point, Point], *, place: float, off: float
) -> tuple[Path, Area]:
    foot = (
        ends[0][0] + place * (ends[1][0] - ends[0][0]),
        ends[0][1] + place * (ends[1][1] - ends[0][1]),
    )
    near = off - 0.6 if off > 0.0 else off + 0.6
    start = (foot[0] - near * sin(item.angle), foot[1] + near * cos(item.angle))
    return (line(Layer.NOTE, start, foot), dot(foot))


def _cost(item: Text, home: BaseGeometry, taken: Sequence[BaseGeometry]) -> float:
    area = Polygon(text_corners(item)).buffer(_CLEAR)
    met = _MET * sum(area.intersects(other) for other in taken)
    return met + (0.0 if home.covers(area) else _OUT)


def longest_segment(points: Sequence[Point]) -> tuple[Point, Point]:
    """Return the ends of the longest straight piece of a polyline. [mm]"""
    return max(
        pairwise(points), key=lambda pair: hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1])
    )


def leader(layer: Layer, start: Point, target: BaseGeometry) -> tuple[Primitive, ...]:
    """Return a leader from a label to what it speaks of, with a dot a little inside."""
    on_edge, _ = nearest_points(target, Spot(start))
    length = hypot(on_edge.x - start[0], on_edge.y - start[1])
    further = 1.0 + _INTO / max(length, 1e-6)
    inside = Spot(
        start[0] + further * (on_edge.x - start[0]), start[1] + further * (on_edge.y - start[1])
    )
    end = inside if target.contains(inside) else on_edge
    return (line(layer, start, (end.x, end.y)), dot((end.x, end.y), layer=layer))


def dot(at: Point, *, layer: Layer = Layer.NOTE) -> Area:
    """Return the black dot that ends a leader on a surface."""
    rim = tuple(
        (at[0] + 0.5 * cos(k * pi / 6.0), at[1] + 0.5 * sin(k * pi / 6.0)) for k in range(12)
    )
    return Area(layer=layer, rings=(rim,))
