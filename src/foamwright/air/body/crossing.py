"""Drag of a body's cross-section in the part of the wind that crosses it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.body.shape import Form

Array = NDArray[np.float64]

#: Drag of an endlessly long circular cylinder below the critical Reynolds number.
#: C. Matthews, Aeronautical Engineer's Data Book, 2002, fig. 5.13(b), p. 95, read.
CYLINDER = 1.2

# Rectangles, flat side to the wind: side along over side across the wind, and drag on the
# side across. F. M. White, Fluid Mechanics, table of two-dimensional bodies (from memory);
# the plate, 1.98, in Matthews (read).
_ASPECT = np.array([0.0, 0.1, 0.4, 0.7, 1.2, 2.0, 2.5, 3.0, 6.0])
_RECTANGLE = np.array([1.98, 1.9, 2.3, 2.7, 2.1, 1.8, 1.4, 1.3, 0.9])

# A cylinder across the wind against an endless one, over diameter by length: 0.63, 0.74,
# 0.82, 0.98 and 1.2 at length over diameter 1, 5, 10, 40 and without end (Matthews, read).
_SHORTNESS = np.array([0.0, 1 / 40, 1 / 10, 1 / 5, 1.0])
_SHARE = np.array([1.2, 0.98, 0.82, 0.74, 0.63]) / CYLINDER


def section_drag(form: Form, *, along: ArrayLike, across: ArrayLike) -> Array:
    """Drag coefficient of an endlessly long cylinder, on its side across the wind.

    Parameters
    ----------
    form : Form
        Shape of the cross-section.
    along, across : array_like
        Sides along and across the crossing wind. [m]

    Returns
    -------
    ndarray
        Of a rectangle by its sides, of a round section that of the circle. [-]

    Notes
    -----
    Below the critical Reynolds number (2e5 on the diameter); sharp corners. Beyond six
    times as long as wide the last value holds. An ellipse that is no circle differs.
    """
    side, width = np.asarray(along, dtype=np.float64), np.asarray(across, dtype=np.float64)
    if form is Form.ROUND:
        return np.full(np.broadcast_shapes(side.shape, width.shape), CYLINDER)
    ratio = np.divide(side, width, out=np.full_like(side / 1.0, np.inf), where=width > 0.0)
    return np.interp(ratio, _ASPECT, _RECTANGLE)


def length_share(fineness: ArrayLike) -> Array:
    """Crosswind drag of a finite cylinder against an endless one.

    Parameters
    ----------
    fineness : array_like
        Length over width across the wind. [-]

    Returns
    -------
    ndarray
        0.525 at 1 or less, 1 without end. [-]

    Notes
    -----
    The factor eta of Allen and Perkins, from circular cylinders.

    References
    ----------
    .. [1] H. J. Allen, E. W. Perkins, NACA TR 1048, 1951 (from memory).
    .. [2] C. Matthews, Aeronautical Engineer's Data Book, 2002, fig. 5.13(b) (read).
    """
    return np.interp(1.0 / np.asarray(fineness, dtype=np.float64), _SHORTNESS, _SHARE)
