"""The drawing model: recorded primitives on named layers, in millimetres, y up the page.

A drawing is recorded once and replayed by the writers to DXF, SVG and PDF. Lines differ
by pattern and weight after ISO 128, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from math import cos, pi, sin
from types import MappingProxyType

Point = tuple[float, float]  # mm
Box = tuple[float, float, float, float]  # mm, left, bottom, right, top


class Layer(StrEnum):
    """What a line means. A part's sheet has the first eight; pictures have the last five."""

    CUT = "cut"
    HALF_CUT = "half-cut"
    FOLD = "fold"
    BEVEL = "bevel"
    GLUE = "glue"
    TAPE = "tape"
    MARK = "mark"
    NOTE = "note"
    CHECK = "check"  # check bars and squares, never a part
    OUTLINE = "outline"
    EDGE = "edge"
    HIDDEN = "hidden"
    CENTRE = "centre"
    SHADE = "shade"


SHEET_LAYERS = (
    Layer.CUT,
    Layer.HALF_CUT,
    Layer.FOLD,
    Layer.BEVEL,
    Layer.GLUE,
    Layer.TAPE,
    Layer.MARK,
    Layer.NOTE,
)


class Ink(StrEnum):
    """Inks of the page. The accent only repeats what a pattern or a symbol already says."""

    BLACK = "black"
    ACCENT = "accent"
    WASH = "wash"  # pale tone for surfaces in a picture
    PAPER = "paper"  # covers what lies below


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """Width and pattern of a line."""

    width: float  # mm
    dash: tuple[float, ...] = ()  # mm, drawn and blank lengths in turn; () is solid
    ink: Ink = Ink.BLACK


def iso_pen(width: float, units: tuple[float, ...] = (), *, ink: Ink = Ink.BLACK) -> Pen:
    """Return a pen whose pattern is counted in line widths, as ISO 128 does.

    Parameters
    ----------
    width : float
        Line width. [mm]
    units : tuple of float
        Drawn and blank lengths in turn, in line widths; empty for solid. [-]
    ink : Ink
        Ink of the line.

    References
    ----------
    .. [1] ISO 128-2, line elements: dot up to 0.5 d, gap 3 d, short dash 6 d, dash 12 d,
       long dash 24 d, gap of a spaced line 18 d (values from memory).
    """
    return Pen(width=width, dash=tuple(width * unit for unit in units), ink=ink)


_DOT, _GAP, _DASH, _LONG, _SPACE = 0.5, 3.0, 12.0, 24.0, 18.0  # in line widths, ISO 128-2

#: Line widths are members of the ISO 128 series 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm.
PENS: Mapping[Layer, Pen] = MappingProxyType(
    {
        Layer.CUT: iso_pen(0.5),
        Layer.HALF_CUT: iso_pen(0.35, (_DASH, _GAP)),
        Layer.FOLD: iso_pen(0.25, (_LONG, _GAP, _DOT, _GAP)),
        Layer.BEVEL: iso_pen(0.25, (_LONG, _GAP, _DOT, _GAP, _DOT, _GAP)),
        Layer.GLUE: iso_pen(0.35, (_DOT, _GAP)),
        Layer.TAPE: iso_pen(0.25, (_DASH, _SPACE)),
        Layer.MARK: iso_pen(0.25),
        Layer.NOTE: iso_pen(0.18),
        Layer.CHECK: iso_pen(0.35),
        Layer.OUTLINE: iso_pen(0.5),
        Layer.EDGE: iso_pen(0.25),
        Layer.HIDDEN: iso_pen(0.18, (_DASH, _GAP)),
        Layer.CENTRE: iso_pen(0.18, (_LONG, _GAP, _DOT, _GAP)),
        Layer.SHADE: iso_pen(0.13),
    }
)


class Anchor(StrEnum):
    """Which end of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A polyline; closed, it is a polygon's outline."""

    layer: Layer
    points: tuple[Point, ...]  # mm
    closed: bool = False
    pen: Pen | None = None  # None: the layer's own


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled area without an outline; inner rings are holes (even-odd)."""

    layer: Layer
    rings: tuple[tuple[Point, ...], ...]  # mm
    ink: Ink = Ink.BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A full circle."""

    layer: Layer
    centre: Point  # mm
    radius: float  # mm
    pen: Pen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of a circle, anticlockwise from start to end."""

    layer: Layer
    centre: Point  # mm
    radius: float  # mm
    start: float  # rad
    end: float  # rad, > start
    pen: Pen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of lettering on its base line."""

    layer: Layer
    at: Point  # mm
    text: str
    height: float  # mm, height of the capitals, as ISO 3098 counts it
    anchor: Anchor = Anchor.START
    angle: float = 0.0  # rad, anticlockwise
    bold: bool = False
    ink: Ink = Ink.BLACK


Primitive = Path | Area | Circle | Arc | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A named page of recorded primitives."""

    name: str  # ASCII, names files
    title: str
    primitives: tuple[Primitive, ...]
    bounds: Box  # mm, the whole page

    @property
    def width(self) -> float:
        """Width of the page. [mm]"""
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        """Height of the page. [mm]"""
        return self.bounds[3] - self.bounds[1]

    def on(self, layer: Layer) -> tuple[Primitive, ...]:
        """Return what lies on one layer."""
        return tuple(item for item in self.primitives if item.layer is layer)


def pen_of(item: Path | Circle | Arc) -> Pen:
    """Return the pen that draws a primitive."""
    return item.pen or PENS[item.layer]


def line(layer: Layer, start: Point, end: Point, *, pen: Pen | None = None) -> Path:
    """Return a straight line between two points [mm]."""
    return Path(layer=layer, points=(start, end), pen=pen)


def rectangle(layer: Layer, box: Box, *, pen: Pen | None = None) -> Path:
    """Return the outline of a box [mm]."""
    return Path(layer=layer, points=corners(box), closed=True, pen=pen)


def corners(box: Box) -> tuple[Point, Point, Point, Point]:
    """Return the corners of a box, anticlockwise from its lower left. [mm]"""
    left, bottom, right, top = box
    return ((left, bottom), (right, bottom), (right, top), (left, top))


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Mirror in the y axis (if asked), then turn about the origin, then move."""

    dx: float = 0.0  # mm
    dy: float = 0.0  # mm
    angle: float = 0.0  # rad, anticlockwise
    mirrored: bool = False

    def point(self, point: Point) -> Point:
        """Return where a point comes to lie. [mm]"""
        x, y = point
        if self.mirrored:
            x = -x
        c, s = _turn(self.angle)
        return (c * x - s * y + self.dx, s * x + c * y + self.dy)

    def direction(self, angle: float) -> float:
        """Return where a direction comes to point. [rad]"""
        return (pi - angle if self.mirrored else angle) + self.angle


def _turn(angle: float) -> tuple[float, float]:
    # quarter turns are exact, so that upright parts stay upright to the last bit
    quarters = angle / (0.5 * pi)
    if abs(quarters - round(quarters)) < 1e-12:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    return cos(angle), sin(angle)


def placed(items: Iterable[Primitive], placing: Placing) -> tuple[Primitive, ...]:
    """Return primitives moved, turned or mirrored; lettering stays readable."""
    return tuple(_placed(item, placing) for item in items)


def _placed(item: Primitive, placing: Placing) -> Primitive:
    match item:
        case Path():
            return replace(item, points=tuple(placing.point(p) for p in item.points))
        case Area():
            rings = tuple(tuple(placing.point(p) for p in ring) for ring in item.rings)
            return replace(item, rings=rings)
        case Circle():
            return replace(item, centre=placing.point(item.centre))
        case Arc():
            ends = (placing.direction(item.start), placing.direction(item.end))
            start, end = reversed(ends) if placing.mirrored else ends
            return replace(item, centre=placing.point(item.centre), start=start, end=end)
        case Text():
            return _placed_text(item, placing)


def _placed_text(item: Text, placing: Placing) -> Text:
    at = placing.point(item.at)
    if not placing.mirrored:
        return replace(item, at=at, angle=item.angle + placing.angle)
    # letters are never written backwards: the line keeps its side, the text runs the other way
    swap = {Anchor.START: Anchor.END, Anchor.MIDDLE: Anchor.MIDDLE, Anchor.END: Anchor.START}
    return replace(item, at=at, anchor=swap[item.anchor], angle=placing.angle - item.angle)


def shifted(items: Iterable[Primitive], dx: float, dy: float) -> tuple[Primitive, ...]:
    """Return primitives moved by so much [mm]."""
    return placed(items, Placing(dx=dx, dy=dy))
