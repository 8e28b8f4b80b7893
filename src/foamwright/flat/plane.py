"""Polygons in the plane: area, cutting out, and how a part lies on the page."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Points nearer than this are one point: far below a knife's line, far above rounding. [m]
SAME = 1e-8

# Two ways to lie are equally good when their boxes differ by less than this share; the one
# that turns the part least is taken, so that rounding cannot turn a part over.
_EQUAL = 1e-6

# A part is turned on its side only where it is clearly higher than wide; one about as high
# as wide reads better the way it flies.
_CLEARLY = 1.1

# Left-overs below this are rounding, not parts. [m²]
_SLIVER = 1e-9


def signed_area(ring: Array) -> float:
    """Area of a ring, positive where it runs anticlockwise. [m²]"""
    # Measured from its first point, which then adds nothing to the sum.
    x, y = (ring[1:] - ring[0]).T
    return 0.5 * float(x[:-1] @ y[1:] - y[:-1] @ x[1:])


def anticlockwise(ring: Array) -> Array:
    """Return the ring running anticlockwise, from the same first point."""
    return ring if signed_area(ring) >= 0.0 else np.concatenate([ring[:1], ring[:0:-1]])


def tidy(ring: Array) -> Array:
    """Drop repeated points and points on the straight between their neighbours."""
    step = np.concatenate([ring[1:], ring[:1]]) - ring
    ring = ring[np.hypot(step[:, 0], step[:, 1]) > SAME]
    after = np.concatenate([ring[1:], ring[:1]]) - ring
    before = np.concatenate([after[-1:], after[:-1]])
    across = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    chord = np.hypot(*(before + after).T)
    return ring[np.abs(across) > SAME * chord]


def cut_out(outline: Array, holes: Sequence[Array]) -> tuple[Array, tuple[Array, ...]]:
    """Cut holes from an outline; one that touches the edge becomes a notch.

    Parameters
    ----------
    outline : ndarray, (n, 2)
        Simple polygon. [m]
    holes : sequence of ndarray
        Each (k, 2). [m]

    Returns
    -------
    tuple
        The outline, anticlockwise, and the holes left inside it, clockwise. [m]

    Raises
    ------
    DomainError
        Where the holes cut the part in pieces or leave nothing of it.
    """
    ring = anticlockwise(tidy(outline))
    if not holes:
        return ring, ()
    shape: shapely.Geometry = shapely.Polygon(ring)
    for hole in holes:
        knife = shapely.Polygon(tidy(hole))
        # Both must share their points where they share an edge, else rounding leaves slivers.
        shape = shapely.snap(shape, knife, SAME)
        shape = shapely.difference(shape, shapely.snap(knife, shape, SAME))
    parts = [
        part
        for part in shapely.get_parts(shape)
        if isinstance(part, shapely.Polygon) and part.area > _SLIVER
    ]
    if len(parts) != 1:
        raise DomainError(
            "its openings cut it in pieces" if parts else "its openings leave nothing of it"
        )
    inner = (_ring(inside) for inside in parts[0].interiors)
    return anticlockwise(_ring(parts[0].exterior)), tuple(anticlockwise(one)[::-1] for one in inner)


def _ring(line: shapely.LinearRing) -> Array:
    return tidy(shapely.get_coordinates(line)[:-1])


def rotation(angle: float) -> Array:
    """Matrix that turns row vectors anticlockwise when they stand to its left."""
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, s], [-s, c]])


def lie(outline: Array, *, upward: Array) -> Array:
    """Turn that lays a part along the page with its smallest box, as little as needed.

    Parameters
    ----------
    outline : ndarray, (n, 2)
        The part. [m]
    upward : ndarray, (2,)
        Direction that should point up the page, or left where it lies along the page. [-]

    Returns
    -------
    ndarray, (2, 2)
        Matrix for row vectors; its determinant is 1.

    Notes
    -----
    The smallest box of a polygon has a side along one edge of its hull, so the hull's edges
    are all there is to try.
    """
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.MultiPoint(outline)))
    edges = np.diff(hull, axis=0)
    angles = np.unique(np.round(np.arctan2(edges[:, 1], edges[:, 0]) % (0.5 * math.pi), 12))
    c, s = np.cos(angles), np.sin(angles)
    wide = _extent(np.outer(hull[:, 0], c) + np.outer(hull[:, 1], s))
    high = _extent(np.outer(hull[:, 1], c) - np.outer(hull[:, 0], s))
    turns = -angles + np.where(high > wide * _CLEARLY, -0.5 * math.pi, 0.0)
    turns = (turns + 0.5 * math.pi) % math.pi - 0.5 * math.pi
    size = wide * high
    good = np.flatnonzero(size <= size.min() * (1.0 + _EQUAL))
    best = rotation(float(turns[good[np.argmin(np.abs(turns[good]))]]))
    points = upward @ best
    turned = points[1] < -_LEVEL or (abs(points[1]) <= _LEVEL and points[0] > 0.0)
    return -best if turned else best


_LEVEL = 1e-6  # a direction this little off the page's horizontal counts as lying along it


def _extent(values: Array) -> Array:
    return values.max(axis=0) - values.min(axis=0)
