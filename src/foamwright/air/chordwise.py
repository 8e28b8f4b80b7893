"""Where the vortices of a strip stand along the chord, and what slope they see."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@lru_cache(maxsize=32)
def chord_points(rows: int) -> tuple[Array, Array]:
    r"""Vortex and control points along a strip, as fractions of its chord.

    Parameters
    ----------
    rows : int
        Vortices along the chord, at least 1. [-]

    Returns
    -------
    tuple of ndarray
        Vortex points and control points, fractions of chord from the leading edge. [-]

    Notes
    -----
    With :math:`x = (1 - \cos\theta)/2` and n rows the vortices stand at
    :math:`\theta = (2i - 1)\pi/(2n + 1)` and the control points at
    :math:`\theta = 2i\pi/(2n + 1)`: the Gauss points for the weight
    :math:`\sqrt{(1 - x)/x}` of a flat plate. In plane flow lift and moment are exact for
    any mean line whose slope is a polynomial of degree n or less. One row gives 1/4 and 3/4.

    References
    ----------
    .. [1] H. Multhopp, Methods for calculating the lift distribution of wings, ARC
       R&M 2884, 1950, for the chordwise points (from memory).
    """
    i = np.arange(1, rows + 1, dtype=np.float64)
    step = np.pi / (2 * rows + 1)
    vortex = 0.5 - 0.5 * np.cos((2.0 * i - 1.0) * step)
    control = 0.5 - 0.5 * np.cos(2.0 * i * step)
    vortex.flags.writeable = control.flags.writeable = False
    return vortex, control


def glauert_series(mean_line: Array, *, order: int) -> Array:
    r"""Cosine series of the slope of a mean line made of straight pieces.

    Parameters
    ----------
    mean_line : ndarray, shape (k, 2)
        Points (x, z) from nose to tail, fractions of chord, x from 0 to 1. [-]
    order : int
        Highest term wanted. [-]

    Returns
    -------
    ndarray, shape (order + 1,)
        :math:`a_k` in :math:`dz/dx = a_0 + \sum a_k \cos k\theta`. [-]

    Notes
    -----
    Exact for straight pieces, so for creased and stepped sheet as it is drawn.

    References
    ----------
    .. [1] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII.
    """
    x, z = mean_line[:, 0], mean_line[:, 1]
    theta = np.arccos(np.clip(1.0 - 2.0 * x, -1.0, 1.0))
    slope = np.diff(z) / np.diff(x)
    k = np.arange(1, order + 1, dtype=np.float64)[:, None]
    series = np.empty(order + 1)
    series[0] = slope @ np.diff(theta) / np.pi
    series[1:] = (2.0 / np.pi) * (np.diff(np.sin(k * theta), axis=1) / k) @ slope
    return series


def control_slopes(mean_line: Array, *, rows: int) -> Array:
    """Slope of a mean line as the control points of a strip must see it.

    Parameters
    ----------
    mean_line : ndarray, shape (k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]
    rows : int
        Vortices along the chord. [-]

    Returns
    -------
    ndarray, shape (rows,)
        dz/dx at the control points, + where the line climbs towards the tail. [-]

    Notes
    -----
    The series up to term ``rows`` rather than the slope at the point: a crease or a hinge
    may then lie anywhere, and lift and moment in plane flow stay exact with it.
    """
    _, control = chord_points(rows)
    theta = np.arccos(1.0 - 2.0 * control)
    terms = np.cos(np.outer(theta, np.arange(rows + 1)))
    return terms @ glauert_series(mean_line, order=rows)


def thin_aerofoil(mean_line: Array) -> tuple[float, float]:
    """Zero-lift angle and quarter-chord moment of a thin section in plane flow.

    Parameters
    ----------
    mean_line : ndarray, shape (k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]

    Returns
    -------
    tuple of float
        Zero-lift angle [rad], negative for upward camber; moment coefficient about the
        quarter chord, nose up positive. [-]

    Notes
    -----
    Inviscid. Below a Reynolds number of about 3e5 real sections shift by up to half a degree.

    References
    ----------
    .. [1] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII.
    """
    a0, a1, a2 = glauert_series(mean_line, order=2).tolist()
    return a0 - 0.5 * a1, 0.25 * np.pi * (a2 - a1)
