"""What is drawn over the three-view: balance point and span, neutral point, thrust, packs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot

import numpy as np
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import Polygon

from foamwright.airframe import Airframe, Disc
from foamwright.balance.model import Balance, BalanceSpan
from foamwright.drawing.label import SMALL, arrow_head
from foamwright.drawing.lettering import text_corners
from foamwright.drawing.model import (
    Anchor,
    Box,
    Ink,
    Layer,
    Path,
    Point,
    Primitive,
    Text,
    iso_pen,
    line,
    rectangle,
)
from foamwright.drawing.part import MM
from foamwright.drawing.symbols import Figure, balance_symbol, dimension, neutral_symbol, on_patch
from foamwright.drawing.views import Sight, View, seen_from
from foamwright.errors import DomainError

Array = NDArray[np.float64]

ACCENT_PEN = iso_pen(0.25, ink=Ink.ACCENT)
CHAIN_PEN = iso_pen(0.25, (24.0, 3.0, 0.5, 3.0), ink=Ink.ACCENT)
BAR_PEN = iso_pen(1.0, ink=Ink.ACCENT)
_THIN_RED = iso_pen(0.13, ink=Ink.ACCENT)
_CLEAR = 1.5  # mm, lettering from the aeroplane


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Subject:
    """The aeroplane and what is known of its balance."""

    airframe: Airframe
    balance: Balance | None
    span: BalanceSpan | None
    neutral_point: float | None

    @property
    def wing_edge(self) -> tuple[float, float]:
        """Leading edge and chord of the main wing at its root. [m]"""
        reference = self.airframe.reference
        for surface in self.airframe.surfaces:
            if surface.key == reference.surface:
                root = surface.panels[0].root
                return float(root.leading_edge[0]), root.chord
        raise DomainError(f'the main wing "{reference.surface}" is not among the surfaces')


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a view stands on the page: metres on its own page to millimetres."""

    scale: float  # mm per m
    dx: float  # mm
    dy: float  # mm

    def at(self, point: Sequence[float] | Array) -> Point:
        """Return a point of the view on the page. [m in, mm out]"""
        return (self.scale * float(point[0]) + self.dx, self.scale * float(point[1]) + self.dy)

    def line(self, points: Array) -> tuple[Point, ...]:
        """Return a line of the view on the page. [m in, mm out]"""
        return tuple(self.at(point) for point in points)


_CAPTIONS = {
    View.PLAN: "plan, from above",
    View.SIDE: "side, from the left",
    View.FRONT: "front, from ahead",
}


def caption(view: View, box: Box, stand: Stand, *, drop: float) -> tuple[Primitive, ...]:
    """Return the name of a view, `drop` [mm] below it."""
    x, y = stand.at((0.5 * (box[0] + box[2]), box[1]))
    return (
        Text(
            layer=Layer.NOTE,
            at=(x, y - drop),
            text=_CAPTIONS[view],
            height=SMALL,
            anchor=Anchor.MIDDLE,
            bold=True,
        ),
    )


# ---------------------------------------------------------------- side view


def side_notes(subject: Subject, seen: Sight, box: Box, stand: Stand) -> list[Primitive]:
    """Return what stands over and below the side view."""
    foot = stand.at((0.0, box[1]))[1] - 26.0
    left, right = stand.at((box[0], box[1])), stand.at((box[2], box[1]))
    length = f"{MM * (box[2] - box[0]):.0f}"
    figure = Figure(words=f"length {length}", short=length)
    items: list[Primitive] = [*dimension(left, right, figure, off=foot - left[1])]
    items += _packs(subject.airframe, stand)
    for disc in subject.airframe.discs[:1]:
        items += _thrust(subject, disc, seen, stand)
    items += _balance_rule(subject, box, stand)
    items += caption(View.SIDE, box, stand, drop=32.5)
    return items


def _packs(airframe: Airframe, stand: Stand) -> list[Primitive]:
    items: list[Primitive] = []
    for pack in airframe.design.power.packs:
        tray, (length, _, height) = pack.tray, pack.size
        box = (
            *stand.at((tray.front, tray.floor)),
            *stand.at((tray.back, tray.floor + tray.height)),
        )
        items.append(rectangle(Layer.HIDDEN, box))
        x, _, z = pack.middle
        low = stand.at((x - 0.5 * length, z - 0.5 * height))
        high = stand.at((x + 0.5 * length, z + 0.5 * height))
        items.append(rectangle(Layer.NOTE, (*low, *high), pen=iso_pen(0.25)))
        items.append(line(Layer.NOTE, low, high, pen=iso_pen(0.13)))
        items.append(line(Layer.NOTE, (low[0], high[1]), (high[0], low[1]), pen=iso_pen(0.13)))
    return items


def _thrust(subject: Subject, disc: Disc, seen: Sight, stand: Stand) -> list[Primitive]:
    centre = seen_from(View.SIDE, disc.centre[None, :])[0, :2]
    way = seen_from(View.SIDE, disc.thrust[None, :])[0, :2]
    way = way / np.linalg.norm(way)
    foot = centre
    if subject.balance is not None:
        here = np.array([subject.balance.point[0], subject.balance.point[2]])
        foot = centre + np.dot(here - centre, way) * way
    reach = max(0.0, float(np.dot(foot - centre, way))) + 18.0 / stand.scale
    start = stand.at(centre - way * 12.0 / stand.scale)
    end = stand.at(centre + way * reach)
    angle = atan2(end[1] - start[1], end[0] - start[0])
    items: list[Primitive] = [line(Layer.NOTE, start, end, pen=CHAIN_PEN), _red_head(end, angle)]
    words = [f"thrust line{_tilt_words(degrees(atan2(way[1], -way[0])))}"]
    if subject.balance is not None:
        arm = thrust_arm(disc, subject.balance)
        side = "above" if arm > 0.0 else "below"
        words.append(f"{MM * abs(arm):.0f} {side} the balance point")
        bp = subject.balance.point
        items.append(line(Layer.NOTE, stand.at((bp[0], bp[2])), stand.at(foot), pen=ACCENT_PEN))
    return [*items, *_thrust_words(words, (start, end), seen, stand)]


def _thrust_words(
    words: Sequence[str], ends: tuple[Point, Point], seen: Sight, stand: Stand
) -> tuple[Primitive, ...]:
    # ahead of the arrow, else behind the disc, else above everything with a leader
    start, end = ends
    solid = affinity.affine_transform(
        seen.outline, [stand.scale, 0.0, 0.0, stand.scale, stand.dx, stand.dy]
    )
    near = solid.buffer(_CLEAR)
    for drop in (0.0, -6.0, 6.0):
        for x, y, anchor in ((end[0] - 3.0, end[1], Anchor.END), (*start, Anchor.START)):
            items = _red_rows(words, (x + 1.5, y + 0.4 + drop), anchor)
            texts = [item for item in items if isinstance(item, Text)]
            if not any(near.intersects(Polygon(text_corners(item))) for item in texts):
                return items
    top = solid.bounds[3] + 8.0
    leader = line(Layer.NOTE, (end[0] - 2.0, top + 0.5), end, pen=_THIN_RED)
    return (*_red_rows(words, (end[0] - 3.0, top), Anchor.END), leader)


def _red_rows(words: Sequence[str], at: Point, anchor: Anchor) -> tuple[Primitive, ...]:
    rows = [_red(text, (at[0], at[1] - 4.4 * k), anchor) for k, text in enumerate(words)]
    return tuple(item for row in rows for item in row)


def _red_head(tip: Point, angle: float) -> Path:
    head = arrow_head(Layer.NOTE, tip, angle=angle, length=3.0)
    return Path(layer=Layer.NOTE, points=head.points, pen=ACCENT_PEN)


def _tilt_words(tilt: float) -> str:
    if abs(tilt) < 0.05:
        return ""
    return f", points {abs(tilt):.1f}° {'up' if tilt > 0 else 'down'}"


def _balance_rule(subject: Subject, box: Box, stand: Stand) -> list[Primitive]:
    """Return what lies where along x: a rule below the side view, with its words."""
    y = stand.at((0.0, box[1]))[1] - 5.0
    items: list[Primitive] = []
    span, neutral, balance = subject.span, subject.neutral_point, subject.balance
    if span is not None and not span.is_empty:
        a, b = stand.at((span.forward, 0.0))[0], stand.at((span.aft, 0.0))[0]
        items.append(line(Layer.NOTE, (a, y), (b, y), pen=BAR_PEN))
        items += [line(Layer.NOTE, (x, y - 1.5), (x, y + 1.5), pen=ACCENT_PEN) for x in (a, b)]
        words = f"balance span {MM * span.forward:.0f} to {MM * span.aft:.0f}"
        items.extend(_red(words, (a - 2.5, y - 0.5 * SMALL), Anchor.END))
    if neutral is not None:
        x, z = stand.at((neutral, 0.0))
        items += neutral_symbol((x, y))
        words = f"neutral point {MM * neutral:.0f}"
        items.extend(_red(words, (x + 3.0, y - 0.5 * SMALL + 1.0), Anchor.START))
    if balance is not None:
        x, z = stand.at((balance.point[0], balance.point[2]))
        low = y - 8.0
        items.append(line(Layer.NOTE, (x, z), (x, low), pen=_THIN_RED))
        words = f"balance point {MM * balance.point[0]:.0f}"
        items.extend(_red(words, (x + 1.5, low), Anchor.START))
        items += balance_symbol((x, z))
    return items


def _red(text: str, at: Point, anchor: Anchor) -> tuple[Primitive, ...]:
    item = Text(layer=Layer.NOTE, at=at, text=text, height=SMALL, anchor=anchor, ink=Ink.ACCENT)
    return on_patch(item)


def thrust_arm(disc: Disc, balance: Balance) -> float:
    """Return the arm of the thrust line about the balance point in side view.

    Positive where the line passes above the balance point. [m]
    """
    way = np.array([disc.thrust[0], disc.thrust[2]])
    way = way / hypot(float(way[0]), float(way[1]))
    gap = np.array(
        [balance.point[0] - disc.centre[0], balance.point[2] - disc.centre[2]], dtype=float
    )
    # forward is -x, so a point below the line gives a negative cross product
    return float(way[1] * gap[0] - way[0] * gap[1]) * -1.0
