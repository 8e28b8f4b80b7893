"""Unrolling a sheet into the plane, facet by facet, every edge at its true length."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import RuledSheet
from foamwright.errors import DomainError

Array = NDArray[np.float64]

# Steps of the search for a place on a twisted facet; Newton's method doubles its digits at
# every step, so a start anywhere on the facet is exact long before.
_STEPS = 12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Unfolded:
    """A ruled sheet in the plane, seen so that nodes run down and rulings to the right.

    What is up is the side that (node to node) x (first line to second line) points to.
    """

    first: Array  # (n, 2) m
    second: Array  # (n, 2) m
    length_error: float  # m, largest error of a facet's second diagonal; 0 where facets are plane

    @property
    def corners(self) -> Array:
        """Corners of each facet, going round, (n - 1, 4, 2). [m]"""
        return facets(self.first, self.second)


def facets(first: Array, second: Array) -> Array:
    """Corners of each facet going round: first i, second i, second i+1, first i+1. [m]"""
    return np.stack([first[:-1], second[:-1], second[1:], first[1:]], axis=1)


def cross(a: Array, b: Array) -> Array:
    """Cross product over the last axis; numpy's own spends most of its time on checks."""
    x = a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1]
    y = a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2]
    z = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return np.stack([x, y, z], axis=-1)


def unfold(sheet: RuledSheet) -> Unfolded:
    """Unroll a ruled sheet into the plane.

    Parameters
    ----------
    sheet : RuledSheet
        Two polylines of equal node count. [m]

    Returns
    -------
    Unfolded
        The polylines in the plane. [m]

    Notes
    -----
    Each facet is laid down as two triangles with their lengths in space, one facet after the
    other, so all edges and rulings keep their lengths. That is exact for plane facets, hence
    for every developable sheet. A twisted facet has no exact development: its second diagonal
    comes out too long or too short by ``length_error``, which the sheet must stretch.
    """
    first, second = sheet.first, sheet.second
    start = _widest(first, second)
    flat_first, flat_second = np.zeros((len(first), 2)), np.zeros((len(first), 2))
    flat_second[start, 0] = np.linalg.norm(second[start] - first[start])
    for i in range(start, len(first) - 1):
        _lay(first, second, flat_first, flat_second, known=i, new=i + 1, side=-1.0)
    for i in range(start, 0, -1):
        _lay(first, second, flat_first, flat_second, known=i, new=i - 1, side=1.0)
    error = _diagonals(flat_first, flat_second) - _diagonals(first, second)
    return Unfolded(
        first=flat_first,
        second=flat_second,
        length_error=float(np.abs(error).max(initial=0.0)),
    )


def _widest(first: Array, second: Array) -> int:
    """Ruling to begin with: the first one, unless the sheet begins in a point."""
    lengths = np.linalg.norm(second - first, axis=1)
    wide = np.flatnonzero(lengths > 1e-3 * lengths.max(initial=0.0))
    if not lengths.max(initial=0.0) > 0.0:
        raise DomainError("a sheet without width cannot be unrolled")
    return int(wide[0])


def _lay(
    first: Array,
    second: Array,
    flat_first: Array,
    flat_second: Array,
    *,
    known: int,
    new: int,
    side: float,
) -> None:
    """Lay one facet down beside a ruling that already lies; fills the new nodes in place."""
    a, b, c, d = first[known], second[known], second[new], first[new]
    flat_a, flat_b = flat_first[known], flat_second[known]
    if not _apart(a, b):
        raise DomainError("a sheet that narrows to a point between its ends cannot be unrolled")
    flat_c = _beside(c, a, b, flat_a, flat_b, side=side)
    flat_second[new] = flat_c
    if _apart(a, c):
        flat_first[new] = _beside(d, a, c, flat_a, flat_c, side=side)
    else:
        flat_first[new] = _beside(d, a, b, flat_a, flat_b, side=side)


def _apart(a: Array, b: Array) -> bool:
    return bool(np.linalg.norm(b - a) > 0.0)


def _beside(
    point: Array, a: Array, b: Array, flat_a: Array, flat_b: Array, *, side: float
) -> Array:
    """Third corner of a triangle: along its base and square to it as in space."""
    base = b - a
    length = np.sqrt(base @ base)
    arm = point - a
    along = (arm @ base) / length
    # From the remainder, not from the three lengths: those lose half the digits when the
    # corner lies on the base.
    rest = arm - (along / length) * base
    height = side * np.sqrt(rest @ rest)
    way = (flat_b - flat_a) / length
    return np.array(
        [
            flat_a[0] + along * way[0] - height * way[1],
            flat_a[1] + along * way[1] + height * way[0],
        ]
    )


def _diagonals(first: Array, second: Array) -> Array:
    """Diagonal of each facet that the triangles leave out."""
    return np.linalg.norm(first[1:] - second[:-1], axis=1)


# ---------------------------------------------------------------- places on the sheet


def place_on(sheet: RuledSheet, flat: Unfolded, points: Array) -> Array:
    """Carry points of the sheet in space into the plane.

    Parameters
    ----------
    sheet : RuledSheet
        The sheet in space. [m]
    flat : Unfolded
        The same sheet in the plane. [m]
    points : ndarray, (k, 3)
        Points on it, or a little beyond its edges. [m]

    Returns
    -------
    ndarray, (k, 2)
        The same points in the plane. [m]

    Notes
    -----
    By their shares (u across the facet, v along the ruling) on the facet's bilinear patch,
    which is exact where the facet is plane.
    """
    corners = facets(sheet.first, sheet.second)
    shares = _shares(corners, points)
    best = _nearest_facet(corners, shares, points)
    pick = np.arange(len(points))
    return _patch(flat.corners[best], shares[best, pick])


def _patch(corners: Array, shares: Array) -> Array:
    """Points of bilinear patches; corners (..., 4, d), shares (..., 2)."""
    u, v = shares[..., 0, None], shares[..., 1, None]
    a, b, c, d = (corners[..., i, :] for i in range(4))
    return (1 - u) * ((1 - v) * a + v * b) + u * ((1 - v) * d + v * c)


def _shares(corners: Array, points: Array) -> Array:
    """Shares of every point on every facet, (m, k, 2), by Newton's method."""
    grid = np.broadcast_to(corners[:, None], (len(corners), len(points), 4, 3))
    a, b, c, d = (grid[..., i, :] for i in range(4))
    shares = np.full((*grid.shape[:2], 2), 0.5)
    for _ in range(_STEPS):
        u, v = shares[..., 0, None], shares[..., 1, None]
        by_u = (1 - v) * (d - a) + v * (c - b)
        by_v = (1 - u) * (b - a) + u * (c - d)
        rest = points - _patch(grid, shares)
        step = _least_squares(by_u, by_v, rest)
        shares = np.clip(shares + step, -2.0, 3.0)
        if np.abs(step).max(initial=0.0) < 1e-15:
            break
    return shares


def _least_squares(one: Array, two: Array, rest: Array) -> Array:
    aa, bb, ab = (_dot(x, y) for x, y in ((one, one), (two, two), (one, two)))
    p, q = _dot(one, rest), _dot(two, rest)
    det = aa * bb - ab * ab
    # Where a facet comes to a point its ruling has no direction; any share will do there.
    safe = np.where(det > 1e-30 * (aa + bb) ** 2, det, np.inf)
    return np.stack([(bb * p - ab * q) / safe, (aa * q - ab * p) / safe], axis=-1)


def _dot(a: Array, b: Array) -> Array:
    return (a * b).sum(axis=-1)


def _nearest_facet(corners: Array, shares: Array, points: Array) -> NDArray[np.int64]:
    inside = np.clip(shares, 0.0, 1.0)
    gap = points - _patch(corners[:, None], inside)
    return np.argmin(_dot(gap, gap), axis=0)
