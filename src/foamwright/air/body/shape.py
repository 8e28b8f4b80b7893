"""What the air sees of a body: cross-sections along it, and what lies inside it."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe.meshes import cross
from foamwright.airframe.model import Airframe, PanelShape, SurfaceShape
from foamwright.airframe.sections import depth
from foamwright.design.model import (
    Body,
    BoomBody,
    BoxBody,
    PodBody,
    SlabBody,
    Stock,
    Surface,
)

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

#: Strips along a body: with areas averaged by Simpson's rule an ellipsoid comes out exact and
#: an ogive to 1e-6.
STRIPS = 40


class Form(StrEnum):
    """Shape of a cross-section."""

    BOX = "box"  # rectangle with sharp corners
    ROUND = "round"  # ellipse
    PLATE = "plate"  # upright sheet


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyLine:
    """One body, one hand: its cross-sections at the edges and middles of strips along it."""

    key: str
    path: str
    form: Form
    is_pylon: bool
    x: Array  # (2n + 1,) m, edges and middles of strips by turns
    y: float  # m, middle plane
    z: Array  # (2n + 1,) m, middle height
    half_width: Array  # (2n + 1,) m
    half_height: Array  # (2n + 1,) m

    @property
    def length(self) -> float:
        """Length along x. [m]"""
        return float(self.x[-1] - self.x[0])

    @property
    def frontal_area(self) -> float:
        """Largest cross-section. [m²]"""
        share = np.pi if self.form is Form.ROUND else 4.0
        return float(np.max(share * self.half_width * self.half_height))

    @property
    def fineness(self) -> float:
        """Length over the diameter of the circle as large as the largest section. [-]"""
        return self.length / float(np.sqrt(4.0 / np.pi * self.frontal_area))

    def inside(self, points: Array) -> Mask:
        """Whether points (..., 3) lie inside the outside envelope. [m]"""
        x, y, z = points[..., 0], points[..., 1], points[..., 2]
        half = np.interp(x, self.x, self.half_width)
        high = np.interp(x, self.x, self.half_height)
        across, up = np.abs(y - self.y), np.abs(z - np.interp(x, self.x, self.z))
        within = (x >= self.x[0]) & (x <= self.x[-1])
        if self.form is Form.ROUND:
            # Multiplied out, so that the points of an ellipsoid (half = 0) need no division.
            return within & ((across * high) ** 2 + (up * half) ** 2 <= (half * high) ** 2)
        return within & (across <= half) & (up <= high)


def body_lines(airframe: Airframe) -> tuple[BodyLine, ...]:
    """Cross-sections of every body of an airframe, both hands.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]

    Returns
    -------
    tuple of BodyLine
        In the order of the design file; a mirrored body's right hand first. [m]
    """
    stock = airframe.design.stock
    return tuple(line for body in airframe.design.bodies for line in lines_of(body, stock=stock))


def lines_of(body: Body, *, stock: Stock) -> tuple[BodyLine, ...]:
    """Cross-sections of one body, both hands.

    Parameters
    ----------
    body : Body
        As designed. [m]
    stock : Stock
        Goods, for thicknesses and rods. [m]

    Returns
    -------
    tuple of BodyLine
        One, or two where it is mirrored. [m]
    """
    match body:
        case BoxBody():
            line = _box_line(body)
        case SlabBody():
            line = _slab_line(body, stock)
        case PodBody():
            line = _pod_line(body)
        case BoomBody():
            line = _boom_line(body, stock)
    if not body.mirrored:
        return (line,)
    other = BodyLine(
        key=line.key,
        path=line.path,
        form=line.form,
        is_pylon=line.is_pylon,
        x=line.x,
        y=-line.y,
        z=line.z,
        half_width=line.half_width,
        half_height=line.half_height,
    )
    return (line, other)


def _line(
    body: Body, form: Form, *, x: Array, y: float, z: Array, half_width: Array, half_height: Array
) -> BodyLine:
    return BodyLine(
        key=body.key,
        path=f"body.{body.key}",
        form=form,
        is_pylon=isinstance(body, SlabBody) and body.is_pylon,
        x=x,
        y=y,
        z=z,
        half_width=half_width,
        half_height=half_height,
    )


def _cuts(corners: Array) -> Array:
    """Edges and middles of strips, with an edge at every corner. [m]"""
    span = float(corners[-1] - corners[0])
    edges: list[Array] = [corners[:1]]
    marks: list[float] = corners.tolist()
    for start, end in itertools.pairwise(marks):
        count = max(1, round(STRIPS * (end - start) / span))
        edges.append(np.linspace(start, end, count + 1)[1:])
    edge = np.concatenate(edges)
    places = np.empty(2 * len(edge) - 1)
    places[::2], places[1::2] = edge, 0.5 * (edge[:-1] + edge[1:])
    return places


def _box_line(body: BoxBody) -> BodyLine:
    at = np.array([[s.x, s.bottom, s.top, 0.5 * s.width] for s in body.stations])
    x = _cuts(at[:, 0])
    low, high, half = (np.interp(x, at[:, 0], at[:, i]) for i in (1, 2, 3))
    return _line(
        body,
        Form.BOX,
        x=x,
        y=body.y,
        z=0.5 * (low + high),
        half_width=half,
        half_height=0.5 * (high - low),
    )


def _slab_line(body: SlabBody, stock: Stock) -> BodyLine:
    """Lowest and highest edge of the outline at each place; notches between are filled."""
    outline = np.array(body.outline)
    x = _cuts(np.unique(outline[:, 0]))
    low, high = np.full_like(x, np.inf), np.full_like(x, -np.inf)
    for start, end in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        a, b = (start, end) if start[0] <= end[0] else (end, start)
        on = (x >= a[0]) & (x <= b[0])
        if a[0] == b[0]:
            low[on] = np.minimum(low[on], min(a[1], b[1]))
            high[on] = np.maximum(high[on], max(a[1], b[1]))
            continue
        height = np.interp(x[on], [a[0], b[0]], [a[1], b[1]])
        low[on], high[on] = np.minimum(low[on], height), np.maximum(high[on], height)
    half = 0.5 * body.layers * stock.sheet(body.sheet).thickness.value
    return _line(
        body,
        Form.PLATE,
        x=x,
        y=body.y,
        z=0.5 * (low + high),
        half_width=np.full_like(x, half),
        half_height=0.5 * (high - low),
    )


def _pod_line(body: PodBody) -> BodyLine:
    place = _cuts(np.array([-1.0, 1.0]))
    round_off = np.sqrt(np.maximum(1.0 - place * place, 0.0))
    return _line(
        body,
        Form.ROUND,
        x=body.at[0] + 0.5 * body.length * place,
        y=body.at[1],
        z=np.full_like(place, body.at[2]),
        half_width=0.5 * body.width * round_off,
        half_height=0.5 * body.height * round_off,
    )


def _boom_line(body: BoomBody, stock: Stock) -> BodyLine:
    """Booms run along x, near enough; one that starts behind its end is turned round."""
    ends = sorted((body.start, body.end))
    x = _cuts(np.array([ends[0][0], max(ends[1][0], ends[0][0] + 1e-9)]))
    share = (x - x[0]) / (x[-1] - x[0])
    half = np.full_like(x, 0.5 * stock.rod(body.rod).diameter)
    return _line(
        body,
        Form.ROUND,
        x=x,
        y=0.5 * (body.start[1] + body.end[1]),
        z=ends[0][2] + share * (ends[1][2] - ends[0][2]),
        half_width=half,
        half_height=half,
    )


# ---------------------------------------------------------------- what hides what


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelCover:
    """A panel of a lifting surface as a solid: mean line and half its largest depth."""

    key: str  # of the surface
    leading: Array  # (2, 3) m, root and tip
    chord: Array  # (2,) m
    aft: Array  # (3,)
    up: Array  # (3,)
    mean_line: Array  # (k, 2)
    half_depth: float  # m
    mirrored: bool

    def inside(self, points: Array) -> Mask:
        """Whether points (..., 3) lie inside, on either hand. [m]"""
        here = self._inside(points)
        return here | self._inside(points * np.array([1.0, -1.0, 1.0])) if self.mirrored else here

    def _inside(self, points: Array) -> Mask:
        off = points - self.leading[0]
        edge = self.leading[1] - self.leading[0]
        place: Array = off[..., 1] * edge[1] + off[..., 2] * edge[2]
        place = place / float(edge[1] ** 2 + edge[2] ** 2)
        share = np.clip(place, 0.0, 1.0)
        chord = self.chord[0] + share * (self.chord[1] - self.chord[0])
        off = off - share[..., None] * edge
        at: Array = (off * self.aft).sum(axis=-1) / chord
        line = np.interp(at, self.mean_line[:, 0], self.mean_line[:, 1])
        height: Array = (off * self.up).sum(axis=-1) - chord * line
        within = (place >= -_SLACK) & (place <= 1.0 + _SLACK) & (at >= 0.0) & (at <= 1.0)
        return within & (np.abs(height) <= self.half_depth)


#: A place this share of a panel's length outside it still counts as on it.
_SLACK = 1e-9


def panel_covers(airframe: Airframe) -> tuple[PanelCover, ...]:
    """Panels of all lifting surfaces as solids, for what is let into them.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]

    Returns
    -------
    tuple of PanelCover
        The largest depth of a section holds over the whole chord. [m]
    """
    pairs = zip(airframe.surfaces, airframe.design.surfaces, strict=True)
    stock = airframe.design.stock
    return tuple(cover for shape, plan in pairs for cover in _covers(shape, plan, stock))


def _covers(shape: SurfaceShape, plan: Surface, stock: Stock) -> list[PanelCover]:
    covers: list[PanelCover] = []
    for panel, drawn in zip(shape.panels, plan.panels, strict=True):
        deep = depth(drawn.root_section, chord=drawn.root_chord, stock=stock)
        covers.append(
            PanelCover(
                key=shape.key,
                leading=np.stack([panel.root.leading_edge, panel.tip.leading_edge]),
                chord=np.array([panel.root.chord, panel.tip.chord]),
                aft=panel.root.aft,
                up=_normal(panel),
                mean_line=panel.root.mean_line,
                half_depth=0.5 * deep,
                mirrored=shape.mirrored,
            )
        )
    return covers


def _normal(panel: PanelShape) -> Array:
    """Return the unit vector square to the panel, on the side its section calls up."""
    along = panel.tip.leading_edge - panel.root.leading_edge
    normal = cross(panel.root.aft, along)
    return normal * np.sign(normal @ panel.root.up) / np.sqrt(float(normal @ normal))
