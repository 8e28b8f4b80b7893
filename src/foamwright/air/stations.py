"""Where the strips of a surface begin and end along its span."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

#: Share of the full-cosine map at an end that is not free. The load is smooth there on a
#: straight wing (0 would do) and kinked on a swept one (1 would do); half serves both: with
#: 4 x 14 panels lift slope 0.15 % and neutral point 0.0035 of chord at 45 degrees of sweep.
_GATHER = 0.5
#: Points of the table that turns the map round.
_GRID = 257


def strip_stations(
    breaks: Array, *, strips: int, root_free: bool, tip_free: bool, uniform: bool = False
) -> tuple[Array, Array]:
    """Edges and control points of the strips of one surface along its span.

    Parameters
    ----------
    breaks : ndarray
        Increasing places, from root to tip, that must be strip edges, both ends included. [m]
    strips : int
        Strips wanted; more are made where the breaks ask for it. [-]
    root_free, tip_free : bool
        Whether the surface ends in the open there, so that its load falls to zero with a
        vertical tangent; otherwise it goes on (a centre line, a joint).
    uniform : bool, optional
        Equal strips between breaks, control points in their middle: for hand lattices.

    Returns
    -------
    tuple of ndarray
        Edges (n + 1) and control points (n). [m]

    Notes
    -----
    A map s(u) gathers strips at the ends as the cosine law does. Breaks are given whole
    numbers of strips, and u runs through them as a monotone cubic, so that widths change
    gently. Control points lie at the middle of u, not of s: the rule that makes the strip
    sums exact for elliptic load.
    """
    s0, length = float(breaks[0]), float(breaks[-1] - breaks[0])
    u_breaks = _inverse((breaks - s0) / length, root_free, tip_free, uniform)
    numbers = _whole_numbers(u_breaks, strips)
    count = int(numbers[-1])
    half_steps = np.arange(2 * count + 1) / 2.0
    u = _monotone_cubic(half_steps, numbers.astype(np.float64), u_breaks)
    s = s0 + length * _gathered(u, root_free, tip_free, uniform)
    s[2 * numbers] = breaks  # exactly, not to rounding
    if uniform:
        return s[::2], 0.5 * (s[:-1:2] + s[2::2])
    return s[::2], s[1::2]


def _gathered(u: Array, root_free: bool, tip_free: bool, uniform: bool) -> Array:
    """Place along the span, 0 to 1, at parameter u from 0 to 1."""
    if uniform:
        return u
    both = 0.5 - 0.5 * np.cos(np.pi * u)
    if root_free and tip_free:
        return both
    if tip_free:
        return _GATHER * both + (1.0 - _GATHER) * np.sin(0.5 * np.pi * u)
    if root_free:
        return _GATHER * both + (1.0 - _GATHER) * (1.0 - np.cos(0.5 * np.pi * u))
    return _GATHER * both + (1.0 - _GATHER) * u


def _inverse(s: Array, root_free: bool, tip_free: bool, uniform: bool) -> Array:
    """Parameter u at place s, from a table: it only steers how the strips are shared out."""
    grid = np.linspace(0.0, 1.0, _GRID)
    return np.interp(s, _gathered(grid, root_free, tip_free, uniform), grid)


def _whole_numbers(u: Array, strips: int) -> NDArray[np.intp]:
    """Strip number of each break: near u times the count, at least one strip between."""
    numbers = [0]
    count = max(strips, len(u) - 1)
    for i, here in enumerate(u[1:].tolist(), start=1):
        left = len(u) - 1 - i  # breaks still to come, each needs a strip
        wanted = math.floor(here * count + 0.5)
        numbers.append(min(max(wanted, numbers[-1] + 1), count - left))
    return np.asarray(numbers, dtype=np.intp)


def _monotone_cubic(x: Array, knots: Array, values: Array) -> Array:
    """Monotone piecewise cubic through the knots, evaluated at x.

    F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17, 1980; slopes by the weighted
    harmonic mean of Fritsch and Butland, 1984; end slopes are those of the end pieces.
    """
    h = np.diff(knots)
    secant = np.diff(values) / h
    slope = np.empty_like(values)
    slope[0], slope[-1] = secant[0], secant[-1]
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    slope[1:-1] = (w1 + w2) / (w1 / secant[:-1] + w2 / secant[1:])
    i = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, len(h) - 1)
    t = (x - knots[i]) / h[i]
    a, b = h[i] * slope[i], h[i] * slope[i + 1]
    rise = values[i + 1] - values[i]
    return values[i] + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))
