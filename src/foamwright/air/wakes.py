r"""Means of 1/D over pieces of a trailing sheet, in the plane seen from behind.

Points of that plane are complex numbers y + iz. The velocity of a trailing vortex at a
distance D is :math:`i/\bar D` apart from its strength, so means of 1/D say all.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Sine of the angle below which two segments count as parallel.
_PARALLEL = 1e-12
#: A strip that crosses its band nearer to its own end than this share only touches it: the
#: sliver beyond would lie along the cut of the logarithm, on this side or that by rounding.
_TOUCH = 1e-9
#: A distance [m] that is nothing, yet may be divided by.
_NOTHING = 1e-100


def band_inverse(point: Complex, a: Complex, b: Complex) -> Complex:
    """Mean over the segment a-b of 1/(point - place).

    Parameters
    ----------
    point, a, b : ndarray
        Places y + iz; broadcast. [m]

    Returns
    -------
    ndarray
        Principal value where the point lies on the segment. [1/m]
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        value = np.log((point - a) / (point - b)) / (b - a)
    return np.where(np.isfinite(value), value, 0.0)


def strip_band_inverse(z1: Complex, z2: Complex, a: Complex, b: Complex) -> Complex:
    r"""Mean of 1/(z - place), z over the strip z1-z2 and place over the band a-b.

    Parameters
    ----------
    z1, z2, a, b : ndarray, shape (n,)
        Ends of strips and bands, pair by pair. [m]

    Returns
    -------
    ndarray, shape (n,)
        Principal value where they overlap. [1/m]

    Notes
    -----
    The double integral is a sum of :math:`H(x) = x \ln x` over the four differences of the
    ends. The differences z - place fill a parallelogram; when it does not hold the origin,
    the cut of the logarithm is laid opposite to its middle and so misses it. A strip that
    crosses its band is cut there first: either part then has the origin on its edge only.
    """
    strip, band = z2 - z1, b - a
    cross = (strip.conj() * band).imag
    tilted = np.abs(cross) > _PARALLEL * np.abs(strip) * np.abs(band)
    cross = np.where(tilted, cross, 1.0)
    on_strip = ((a - z1).conj() * band).imag / cross
    on_band = ((a - z1).conj() * strip).imag / cross
    meet = (
        tilted & (on_strip > _TOUCH) & (on_strip < 1.0 - _TOUCH) & (on_band > 0.0) & (on_band < 1.0)
    )
    cut = z1 + np.where(meet, on_strip, 0.0) * strip
    return (_corners(z1, cut, a, b) + _corners(cut, z2, a, b)) / (strip * band)


def _corners(z1: Complex, z2: Complex, a: Complex, b: Complex) -> Complex:
    """Double integral of 1/(z - place) from the four corners of the parallelogram."""
    turn = (z1 + z2 - a - b).conj()
    size = np.abs(turn)
    off = size > _NOTHING
    turn = np.where(off, turn / np.where(off, size, 1.0), 1.0)
    return (
        _x_log_x(z2 - a, turn)
        + _x_log_x(z1 - b, turn)
        - _x_log_x(z2 - b, turn)
        - _x_log_x(z1 - a, turn)
    )


def _x_log_x(x: Complex, turn: Complex) -> Complex:
    """X times the logarithm of x turned; the turn itself drops out of the four corners."""
    turned = x * turn
    return x * np.log(np.where(turned == 0.0, 1.0, turned))
