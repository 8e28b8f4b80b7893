"""Which parts of the aeroplane stand in the wash: strips of surfaces, bodies, drag parts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body.shape import BodyLine
from foamwright.air.drag.law import DragParts
from foamwright.air.wash.field import Wash
from foamwright.airframe.model import Airframe, SurfaceShape
from foamwright.errors import DomainError

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Strips along each panel, and points along the span of each strip.
STRIPS, LOOKS = 8, 4
# Points round a body: its middle line and its sides, top and bottom.
_ROUND = np.array([[0.0, 0.0], [1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceStrips:
    """Strips of all lifting surfaces, both hands, and the points at which they feel wash."""

    points: Array  # (strips * LOOKS, 3) m, strip by strip
    width: Array  # (strips,) m, along the surface
    area: Array  # (strips,) m²
    surface: tuple[str, ...]  # (strips,) key of the surface
    panel: tuple[str, ...]  # (strips,) name of the panel
    is_left: NDArray[np.bool_]  # (strips,) mirror images


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripWash:
    """Wash of strips, last axis the strips."""

    inside: Array  # share of the strip inside a stream tube
    pressure_ratio: Array  # mean of dynamic pressure over that of flight
    upflow_change: Array  # rad
    sideflow_change: Array  # rad


def surface_strips(airframe: Airframe, *, chord: float = 0.25) -> SurfaceStrips:
    """Cut all lifting surfaces into strips.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    chord : float, optional
        Where along the chord the wash is felt. [-]

    Returns
    -------
    SurfaceStrips
        Equal strips of each panel, right half root to tip, then its mirror image. [m]
    """
    points: list[Array] = []
    width: list[Array] = []
    area: list[Array] = []
    names: list[tuple[str, str, bool]] = []
    for shape in airframe.surfaces:
        for is_left in (False, True) if shape.mirrored else (False,):
            for number, panel in enumerate(shape.panels):
                place, wide, large = _strips(shape, number, chord)
                points.append(place * np.array([1.0, -1.0 if is_left else 1.0, 1.0]))
                width.append(wide)
                area.append(large)
                names += [(shape.key, panel.name, is_left)] * STRIPS
    return SurfaceStrips(
        points=np.concatenate(points),
        width=np.concatenate(width),
        area=np.concatenate(area),
        surface=tuple(name[0] for name in names),
        panel=tuple(name[1] for name in names),
        is_left=np.array([name[2] for name in names]),
    )


def _strips(shape: SurfaceShape, number: int, chord: float) -> tuple[Array, Array, Array]:
    root, tip = shape.panels[number].root, shape.panels[number].tip
    at = ((np.arange(STRIPS * LOOKS) + 0.5) / (STRIPS * LOOKS))[:, None]
    ends = [s.leading_edge + chord * s.chord * s.aft for s in (root, tip)]
    points = ends[0] + at * (ends[1] - ends[0])
    out = (tip.leading_edge - root.leading_edge)[1:]
    wide = np.full(STRIPS, float(np.hypot(out[0], out[1])) / STRIPS)
    middle = (np.arange(STRIPS) + 0.5) / STRIPS
    return points, wide, wide * (root.chord + middle * (tip.chord - root.chord))


def strip_wash(strips: SurfaceStrips, wash: Wash) -> StripWash:
    """Average the wash at the strips' points over each strip.

    Parameters
    ----------
    strips : SurfaceStrips
        Strips. [m]
    wash : Wash
        At their points. [m/s]

    Returns
    -------
    StripWash
        (..., strips). [-, rad]

    Notes
    -----
    The dynamic pressure ratio is what lift and drag of a strip grow by if its stream is wide
    against its chord. In a narrower one lift grows less, down to half of the excess (order
    of magnitude only; Koning and Smelt and Davies treat it, from memory).
    """
    _check(wash, len(strips.points))
    return StripWash(
        inside=_means(wash.inside),
        pressure_ratio=_means(wash.pressure_ratio),
        upflow_change=_means(wash.upflow_change),
        sideflow_change=_means(wash.sideflow_change),
    )


def _means(values: Array) -> Array:
    return values.reshape(*values.shape[:-1], -1, LOOKS).mean(axis=-1)


def _check(wash: Wash, count: int) -> None:
    if wash.inside.shape[-1] != count:
        raise DomainError(
            f"the wash was found at {wash.inside.shape[-1]} points, these parts have {count}"
        )


def drag_points(parts: DragParts) -> Array:
    """Points (parts * samples, 3) at which drag parts feel wash. [m]"""
    return parts.points.reshape(-1, 3)


def part_ratios(parts: DragParts, wash: Wash) -> Array:
    """Dynamic pressure of each drag part over that of flight, mean of its samples.

    Parameters
    ----------
    parts : DragParts
        Drag parts.
    wash : Wash
        At :func:`drag_points`. [m/s]

    Returns
    -------
    ndarray, shape (..., parts)
        For the drag table. [-]
    """
    count = parts.points.shape[0] * parts.points.shape[1]
    _check(wash, count)
    ratio = wash.pressure_ratio
    return ratio.reshape(*ratio.shape[:-1], *parts.points.shape[:2]).mean(axis=-1)


def body_points(body: BodyLine) -> Array:
    """Points on the middle line and the sides of a body, at the middle of each strip.

    Parameters
    ----------
    body : BodyLine
        The body. [m]

    Returns
    -------
    ndarray, shape (strips * 5, 3)
        Strip by strip. [m]
    """
    x, z, a, b = (v[1::2] for v in (body.x, body.z, body.half_width, body.half_height))
    points = np.empty((len(x), len(_ROUND), 3))
    points[..., 0] = x[:, None]
    points[..., 1] = body.y + a[:, None] * _ROUND[:, 0]
    points[..., 2] = z[:, None] + b[:, None] * _ROUND[:, 1]
    return points.reshape(-1, 3)


def body_share(body: BodyLine, wash: Wash) -> Array:
    """Share of a body's skin that lies inside stream tubes.

    Parameters
    ----------
    body : BodyLine
        The body. [m]
    wash : Wash
        At :func:`body_points`. [m/s]

    Returns
    -------
    ndarray, shape (...,)
        Strips weighted by their girth and length. [-]
    """
    _check(wash, len(_ROUND) * (len(body.x) // 2))
    sides = wash.inside.reshape(*wash.inside.shape[:-1], -1, len(_ROUND))
    girth = (body.half_width + body.half_height)[1::2] * np.diff(body.x[::2])
    return np.asarray(sides[..., 1:].mean(axis=-1) @ girth) / float(girth.sum())
