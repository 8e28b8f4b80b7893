"""Drag parts of bodies: boxes, slabs and pylons, pods, booms."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import partial

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body.fin import free_cells
from foamwright.air.body.shape import BodyLine
from foamwright.air.drag import shapes, sources
from foamwright.air.drag.covers import Block, Cover, free_front, hidden
from foamwright.air.drag.friction import SMOOTH_TRANSITION
from foamwright.air.drag.law import SAMPLES, DragPart, Law
from foamwright.air.drag.model import Cause
from foamwright.air.drag.sources import Source
from foamwright.airframe.model import Group
from foamwright.design.model import (
    Body,
    BoomBody,
    BoxBody,
    BoxFace,
    Opening,
    PodBody,
    SlabBody,
    Stock,
)

Array = NDArray[np.float64]

# Points at which edges and booms are looked at for what hides them.
_LOOKS = 24
# How far outside a face or an edge one stands to look. [m]
_OUTSIDE = 1e-3
# Drag areas below a hundredth of a square millimetre are not there.
NOTHING = 1e-8


def body_parts(
    body: Body,
    *,
    line: BodyLine,
    stock: Stock,
    bodies: tuple[BodyLine, ...],
    covers: Sequence[Cover],
) -> list[DragPart]:
    """Find why a body drags.

    Parameters
    ----------
    body : Body
        As designed. [m]
    line : BodyLine
        Its cross-sections, of the hand as drawn. [m]
    stock : Stock
        Goods, for thicknesses and rods. [m]
    bodies : tuple of BodyLine
        All other bodies. [m]
    covers : sequence of Cover
        All other solids, bodies included.

    Returns
    -------
    list of DragPart
        Rows of one of the pair where the body is mirrored, counted twice. [m²]
    """
    match body:
        case BoxBody():
            return _box(body, line, covers)
        case SlabBody():
            return _slab(body, line, stock, bodies, covers)
        case PodBody():
            return _pod(body, line, covers)
        case BoomBody():
            return _boom(body, line, stock, covers)


def _part(
    body: Body,
    line: BodyLine,
    name: str,
    *,
    cause: Cause,
    source: Source,
    laws: tuple[Law, ...],
    run: slice = slice(None),
) -> DragPart:
    """Make a row; ``run`` says which part of the body's length it speaks of."""
    pair = " (2)" if body.mirrored else ""
    return DragPart(
        key=f"{body.key}.{name}",
        path=f"body.{body.key}",
        title=f"{body.key}, {name}{pair}",
        group=Group.BODY,
        cause=cause,
        source=source,
        count=2 if body.mirrored else 1,
        laws=laws,
        points=spread(line.x[run], line.y, line.z[run], mirrored=body.mirrored),
    )


def spread(x: Array, y: float, z: Array, *, mirrored: bool) -> Array:
    """Sample points along a part, on both hands where it is mirrored. [m]"""
    half = SAMPLES // 2
    at = np.linspace(0.0, 1.0, half + 1)[:-1] + 0.5 / half
    along = np.interp(at, np.linspace(0.0, 1.0, len(x)), x)
    high = np.interp(at, np.linspace(0.0, 1.0, len(z)), z)
    right = np.stack([along, np.full(half, y), high], axis=1)
    return np.concatenate([right, right * np.array([1.0, -1.0 if mirrored else 1.0, 1.0])])


# ---------------------------------------------------------------- boxes


def _box(body: BoxBody, line: BodyLine, covers: Sequence[Cover]) -> list[DragPart]:
    x, low, top, half = np.array([[s.x, s.bottom, s.top, 0.5 * s.width] for s in body.stations]).T
    wetted, front, lost = _box_sides(x, low, top, half)
    rubbed = wetted * float(shapes.form_factor(line.fineness)) * shapes.SQUARE_CORNERS
    faces = [float(2.0 * half[i] * (top[i] - low[i])) for i in (0, -1)]
    front += faces[0] * _free_end(line, 0, covers)
    back = lost + faces[1] * _free_end(line, -1, covers)
    skin = Law(friction=rubbed, length=line.length)
    nose = Law(fixed=shapes.FLAT_FACE * front)
    part = partial(_part, body, line)
    parts = [
        part("skin", cause=Cause.FRICTION, source=sources.BOX_FRICTION, laws=(skin,)),
        part("blunt front", cause=Cause.NOSE, source=sources.NOSE, laws=(nose,), run=slice(1)),
    ]
    if back > NOTHING:
        law, end = Law(base=back, rubbed=rubbed, length=line.length), slice(-1, None)
        parts.append(
            part("blunt back", cause=Cause.BASE, source=sources.BASE, laws=(law,), run=end)
        )
    mouth = sum(_open_area(body, opening, covers) for opening in body.openings)
    if mouth > NOTHING:
        law = Law(fixed=shapes.CAVITY * mouth)
        parts.append(part("openings", cause=Cause.CAVITY, source=sources.CAVITY, laws=(law,)))
    return parts


def _box_sides(x: Array, low: Array, top: Array, half: Array) -> tuple[float, float, float]:
    """Wetted area, front area weighted by slope, and back area that the flow leaves. [m²]"""
    step = np.diff(x)
    height = 0.5 * ((top - low)[:-1] + (top - low)[1:])
    width = half[:-1] + half[1:]
    wetted, front, lost = 0.0, 0.0, 0.0
    for rise, across, faces in (
        (np.diff(half), height, 2.0),
        (np.diff(top), width, 1.0),
        (-np.diff(low), width, 1.0),
    ):
        angle = np.arctan2(np.abs(rise), step)
        square = faces * across * np.abs(rise)  # projected on a plane square to the wind
        wetted += float((faces * across * np.hypot(step, rise)).sum())
        front += float((square * shapes.slope_share(angle))[rise > 0.0].sum())
        lost += float((square * shapes.lost_share(angle))[rise < 0.0].sum())
    return wetted, front, lost


def _free_end(line: BodyLine, end: int, covers: Sequence[Cover]) -> float:
    """Share of a box's front or back face that the wind sees."""
    x, z = float(line.x[end]), float(line.z[end])
    a, b = float(line.half_width[end]), float(line.half_height[end])
    low, high = np.array([x, line.y - a, z - b]), np.array([x, line.y + a, z + b])
    return free_front(Block(low=low, high=high), covers)


def _open_area(body: BoxBody, opening: Opening, covers: Sequence[Cover]) -> float:
    """Area of an open mouth that nothing fills; a hatch is closed. [m²]"""
    if opening.is_hatch:
        return 0.0
    at = (np.arange(5) + 0.5) / 5.0
    x = opening.start + at * (opening.end - opening.start)
    across = opening.low + at * (opening.high - opening.low)
    stations = np.array([[s.x, s.bottom, s.top, 0.5 * s.width] for s in body.stations])
    bottom, top, half = (np.interp(x, stations[:, 0], stations[:, i]) for i in (1, 2, 3))
    grid = np.empty((5, 5, 3))
    grid[..., 0] = x[:, None]
    if opening.face is BoxFace.SIDES:
        grid[..., 1], grid[..., 2] = body.y + half[:, None] + _OUTSIDE, across
    else:
        outer = top + _OUTSIDE if opening.face is BoxFace.TOP else bottom - _OUTSIDE
        grid[..., 1], grid[..., 2] = body.y + across, outer[:, None]
    free = 1.0 - float(hidden(grid, covers).mean())
    sides = 2.0 if opening.face is BoxFace.SIDES else 1.0
    return sides * (opening.end - opening.start) * (opening.high - opening.low) * free


# ---------------------------------------------------------------- upright sheet


def _slab(
    body: SlabBody,
    line: BodyLine,
    stock: Stock,
    bodies: tuple[BodyLine, ...],
    covers: Sequence[Cover],
) -> list[DragPart]:
    thick = body.layers * stock.sheet(body.sheet).thickness.value
    _, z, cell, _ = free_cells(line, bodies)
    holes = sum(_polygon(np.array(hole)) for hole in body.openings)
    side = float(cell.sum()) - holes
    if side <= 0.0:
        return []
    chord = side / float(np.ptp(z[cell > 0.0]))
    front, back = _slab_edges(np.array(body.outline), line.y, covers)
    nose = shapes.FLAT_FACE * thick * front
    skin = Law(friction=2.0 * side, length=chord)
    edges = Law(fixed=nose, edge=thick * back, ahead=nose, rubbed=2.0 * side, length=chord)
    parts = [
        _part(body, line, "skin", cause=Cause.FRICTION, source=sources.FRICTION, laws=(skin,)),
        _part(body, line, "cut edges", cause=Cause.EDGE, source=sources.EDGE, laws=(edges,)),
    ]
    if holes > 0.0:
        law = Law(fixed=2.0 * shapes.CAVITY * holes)
        parts.append(
            _part(
                body,
                line,
                "openings",
                cause=Cause.CAVITY,
                source=sources.CAVITY,
                laws=(law,),
            )
        )
    return parts


def _slab_edges(outline: Array, y: float, covers: Sequence[Cover]) -> tuple[float, float]:
    """Heights of the edges that face ahead, by slope, and of those the flow leaves. [m]"""
    turn = 1.0 if _signed(outline) > 0.0 else -1.0
    corners: list[list[float]] = [*outline.tolist(), outline[0].tolist()]
    front, back = 0.0, 0.0
    for (x1, z1), (x2, z2) in itertools.pairwise(corners):
        dx, dz = turn * (x2 - x1), turn * (z2 - z1)
        long = math.hypot(dx, dz)
        if long == 0.0 or dz == 0.0:
            continue
        # Anticlockwise with x to the right and z up, outward is (dz, -dx).
        at = (np.arange(_LOOKS) + 0.5) / _LOOKS
        points = np.stack(
            [
                x1 + at * (x2 - x1) + _OUTSIDE * dz / long,
                np.full(_LOOKS, y),
                z1 + at * (z2 - z1) - _OUTSIDE * dx / long,
            ],
            axis=1,
        )
        free = 1.0 - float(hidden(points, covers).mean())
        angle = math.asin(min(abs(dz) / long, 1.0))
        if dz < 0.0:
            front += abs(dz) * free * float(shapes.slope_share(angle))
        else:
            back += abs(dz) * free * float(shapes.lost_share(angle))
    return front, back


def _signed(corners: Array) -> float:
    x, z = (corners - corners[0]).T
    return 0.5 * float(x @ np.roll(z, -1) - z @ np.roll(x, -1))


def _polygon(corners: Array) -> float:
    return abs(_signed(corners))


# ---------------------------------------------------------------- pods and booms


def _pod(body: PodBody, line: BodyLine, covers: Sequence[Cover]) -> list[DragPart]:
    """Find the free ellipsoid's drag; where its back is hidden, only friction is left."""
    free = [_free_ring(body, side, covers) for side in (-0.5, 0.5)]
    front = 0.25 * math.pi * body.width * body.height
    fineness = body.length / math.sqrt(body.width * body.height)
    wetted = _ellipsoid_area(body.length, body.width, body.height)
    drag = float(shapes.ellipsoid_drag(fineness)) * front
    laws = (
        Law(
            fixed=drag * free[1],
            friction=0.5 * wetted * free[0] * (1.0 - free[1]),
            length=body.length,
            transition=SMOOTH_TRANSITION,
        ),
    )
    return [_part(body, line, "shell", cause=Cause.ROUND, source=sources.ELLIPSOID, laws=laws)]


def _free_ring(body: PodBody, side: float, covers: Sequence[Cover]) -> float:
    """Share of the ring half-way to the front (-0.5) or back (0.5) that the wind sees."""
    turn = 2.0 * math.pi * np.arange(_LOOKS) / _LOOKS
    wide = 0.5 * math.sqrt(1.0 - side * side)
    points = np.array(body.at) + np.stack(
        [
            np.full(_LOOKS, 0.5 * side * body.length),
            (wide * body.width) * np.cos(turn),
            (wide * body.height) * np.sin(turn),
        ],
        axis=1,
    )
    return 1.0 - float(hidden(points, covers).mean())


def _ellipsoid_area(length: float, width: float, height: float) -> float:
    """Surface of an ellipsoid by Thomsen's formula, within 1.1 %. [m²]"""
    p = 1.6075
    a, b, c = ((0.5 * side) ** p for side in (length, width, height))
    return 4.0 * math.pi * float(((a * b + a * c + b * c) / 3.0) ** (1.0 / p))


def _boom(body: BoomBody, line: BodyLine, stock: Stock, covers: Sequence[Cover]) -> list[DragPart]:
    diameter = stock.rod(body.rod).diameter
    length = math.dist(body.start, body.end)
    start, end = sorted((body.start, body.end))
    at = ((np.arange(_LOOKS) + 0.5) / _LOOKS)[:, None]
    lee = hidden(np.array(start) + at * (np.array(end) - np.array(start)), covers)
    wetted = math.pi * diameter * length * (1.0 - float(lee.mean()))
    face = 0.25 * math.pi * diameter**2
    skin = Law(friction=wetted, length=length, transition=SMOOTH_TRANSITION)
    ends = Law(
        fixed=0.0 if lee[0] else shapes.FLAT_FACE * face,
        base=0.0 if lee[-1] else face,
        rubbed=wetted,
        length=length,
        transition=SMOOTH_TRANSITION,
    )
    return [
        _part(body, line, "skin", cause=Cause.FRICTION, source=sources.FRICTION, laws=(skin,)),
        _part(
            body,
            line,
            "ends",
            cause=Cause.BASE,
            source=sources.BASE,
            laws=(ends,),
            run=slice(-1, None),
        ),
    ]
