"""Draughtsman's symbols: balance point, neutral point, dimension lines."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin

from foamwright.drawing.label import SMALL, arrow_head, upright
from foamwright.drawing.lettering import text_corners, text_width
from foamwright.drawing.model import (
    Anchor,
    Area,
    Circle,
    Ink,
    Layer,
    Path,
    Point,
    Primitive,
    Text,
    iso_pen,
    line,
)

_HEAD = 2.5  # mm, arrow heads of dimension lines
_STAND_OFF = 1.0  # mm, lettering above a dimension line
_PAST = 1.5  # mm, an extension line goes past the dimension line
_STEPS = 9  # points of a quarter circle


def balance_symbol(at: Point, *, radius: float = 2.6) -> tuple[Primitive, ...]:
    """Return the trade's quartered circle: two opposite quarters black."""
    x, y = at
    items: list[Primitive] = [
        Area(layer=Layer.NOTE, rings=(_disc(at, radius),), ink=Ink.PAPER),
        *(
            Area(layer=Layer.NOTE, rings=(_quarter(at, radius, start),), ink=Ink.ACCENT)
            for start in (0.5 * pi, 1.5 * pi)
        ),
    ]
    pen = iso_pen(0.25, ink=Ink.ACCENT)
    arm = 1.35 * radius
    items += [
        Circle(layer=Layer.NOTE, centre=at, radius=radius, pen=pen),
        line(Layer.NOTE, (x - arm, y), (x + arm, y), pen=pen),
        line(Layer.NOTE, (x, y - arm), (x, y + arm), pen=pen),
    ]
    return tuple(items)


def _disc(at: Point, radius: float) -> tuple[Point, ...]:
    steps = 4 * (_STEPS - 1)
    return tuple(_on(at, radius, 2.0 * pi * k / steps) for k in range(steps))


def _quarter(at: Point, radius: float, start: float) -> tuple[Point, ...]:
    rim = (_on(at, radius, start + 0.5 * pi * k / (_STEPS - 1)) for k in range(_STEPS))
    return (at, *rim)


def _on(at: Point, radius: float, angle: float) -> Point:
    return (at[0] + radius * cos(angle), at[1] + radius * sin(angle))


def neutral_symbol(at: Point, *, size: float = 2.2) -> tuple[Primitive, ...]:
    """Return the neutral point's sign: an open triangle standing on its tip."""
    x, y = at
    rim = ((x, y), (x + 0.75 * size, y + 1.3 * size), (x - 0.75 * size, y + 1.3 * size))
    return (
        Area(layer=Layer.NOTE, rings=(rim,), ink=Ink.PAPER),
        Path(layer=Layer.NOTE, points=rim, closed=True, pen=iso_pen(0.25, ink=Ink.ACCENT)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What a dimension says, and how it stands on its line."""

    words: str  # "root chord 190"
    short: str  # "190", where the words are longer than the line
    along: float = 0.5  # share of the way from start to end
    ground: Ink = Ink.PAPER  # what lies under it, so that no line runs through it


def dimension(start: Point, end: Point, figure: Figure, *, off: float) -> tuple[Primitive, ...]:
    """Return a dimension line beside two points, with extension lines, arrows and its figure.

    Parameters
    ----------
    start, end : tuple of float
        What is measured. [mm]
    figure : Figure
        What it says.
    off : float
        Distance of the line from the points; positive to the left of start to end. [mm]
    """
    length = hypot(end[0] - start[0], end[1] - start[1])
    u = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    n = (-u[1], u[0])
    a = (start[0] + off * n[0], start[1] + off * n[1])
    b = (end[0] + off * n[0], end[1] + off * n[1])
    way = 1.0 if off >= 0.0 else -1.0
    past = off + way * _PAST
    items: list[Primitive] = [line(Layer.NOTE, a, b)]
    if off:
        for point in (start, end):
            near = (point[0] + way * _STAND_OFF * n[0], point[1] + way * _STAND_OFF * n[1])
            far = (point[0] + past * n[0], point[1] + past * n[1])
            items.append(line(Layer.NOTE, near, far))
    angle = atan2(u[1], u[0])
    items += [
        arrow_head(Layer.NOTE, b, angle=angle, length=_HEAD),
        arrow_head(Layer.NOTE, a, angle=angle + pi, length=_HEAD),
        *_figure(a, b, figure),
    ]
    return tuple(items)


def _figure(a: Point, b: Point, figure: Figure) -> tuple[Primitive, ...]:
    length = hypot(b[0] - a[0], b[1] - a[1])
    fits = text_width(figure.words, height=SMALL) < length - 2.0 * _HEAD
    text = figure.words if fits else figure.short
    # the shares of the way that keep it between the arrows
    half = 0.5 * text_width(text, height=SMALL) / length
    along = min(max(figure.along, half), max(1.0 - half, 0.5)) if half < 0.5 else 0.5
    angle = upright(atan2(b[1] - a[1], b[0] - a[0]))
    above = (-sin(angle) * _STAND_OFF, cos(angle) * _STAND_OFF)
    item = Text(
        layer=Layer.NOTE,
        at=(a[0] + along * (b[0] - a[0]) + above[0], a[1] + along * (b[1] - a[1]) + above[1]),
        text=text,
        height=SMALL,
        anchor=Anchor.MIDDLE,
        angle=angle,
    )
    return on_patch(item, ground=figure.ground)


def on_patch(item: Text, *, ground: Ink = Ink.PAPER) -> tuple[Primitive, ...]:
    """Return lettering on a patch that interrupts the lines below it."""
    return (Area(layer=Layer.NOTE, rings=(text_corners(item),), ink=ground), item)
