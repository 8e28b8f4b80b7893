"""What a real plain flap does at low Reynolds numbers.

A flap acts as an ideal one at a smaller deflection: the share comes from a measured tail
section, and thin-aerofoil theory does the rest. Lift, moment and, through the nose load, the
largest lift follow from that one number.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.sections.evidence import number, tables
from foamwright.errors import DomainError

Array = NDArray[np.float64]

# An open gap of this width has the whole measured effect. [of chord]
_OPEN = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Flap:
    """A plain flap on a section."""

    fraction: float  # flap chord over chord, behind the hinge
    gap: float = 0.0  # of chord; 0 where tape, skin or fabric closes the hinge

    def __post_init__(self) -> None:
        """Refuse what is no flap."""
        if not 0.0 < self.fraction < 1.0:
            raise DomainError("a flap's chord lies between 0 and 1 of the section's chord")
        if self.gap < 0.0:
            raise DomainError("a hinge gap is nought or more")


def acting_deflection(deflection: ArrayLike, *, reynolds: ArrayLike, gap: float = 0.0) -> Array:
    """Deflection at which an ideal flap would act as the real one does, odd in deflection.

    Parameters
    ----------
    deflection : array_like
        Deflection, down positive. [rad]
    reynolds : array_like
        Reynolds number on the section's chord. [-]
    gap : float, optional
        Open gap at the hinge, of chord. [-]

    Returns
    -------
    ndarray
        Smaller than the deflection, rising with it. [rad]

    Notes
    -----
    Measured on one 30 % flap at 10 and 20 degrees, Re 1e5 to 4e5; held beyond in Reynolds
    number and drawn on to 60 degrees, where the band is 30 %.

    References
    ----------
    .. [1] G. A. Williamson and others, Summary of Low-Speed Airfoil Data, vols. 5 and 6,
       University of Illinois, 2012: W1011 with 30 % flap.
    """
    angle = np.degrees(np.asarray(deflection, dtype=np.float64))
    r = np.log10(np.asarray(reynolds, dtype=np.float64))
    angle, r = np.broadcast_arrays(angle, r)
    places, rows, values, slopes = _table()
    size = np.abs(angle)
    r = np.clip(r, rows[0], rows[-1])
    total = np.zeros(size.shape)
    for k in range(len(rows)):
        total = total + _hat(r, rows, k) * _monotone(size, places, values[k], slopes[k])
    kept = 1.0 - number("flap.gap") * min(gap / _OPEN, 1.0)
    return np.radians(np.sign(angle) * total * kept)


def flap_drag(deflection: ArrayLike, *, fraction: float) -> Array:
    """Drag that a deflected plain flap adds at given lift on the nose.

    Parameters
    ----------
    deflection : array_like
        Deflection. [rad]
    fraction : float
        Flap chord over chord. [-]

    Returns
    -------
    ndarray
        On chord. [-]

    References
    ----------
    .. [1] A. D. Young, ARC R&M 2622, 1947, as quoted in design handbooks (from memory).
    """
    s = np.sin(np.asarray(deflection, dtype=np.float64))
    return number("flap.drag") * fraction**1.38 * s * s


@lru_cache(maxsize=1)
def _table() -> tuple[Array, Array, Array, Array]:
    row = tables()["flap.share"]
    places = np.array(row["places"], dtype=np.float64)
    rows = np.log10(np.array(row["reynolds"], dtype=np.float64))
    values = np.array(row["values"], dtype=np.float64)
    return places, rows, values, np.array([_slopes(places, line) for line in values])


def _hat(r: Array, rows: Array, k: int) -> Array:
    """Weight of one row, smooth between rows."""
    one = np.zeros(len(rows))
    one[k] = 1.0
    weight: Array = np.interp(r, rows, one)
    return weight * weight * (3.0 - 2.0 * weight)


def _slopes(x: Array, y: Array) -> Array:
    """Slopes of a monotone cubic (F. N. Fritsch, J. Butland, 1984)."""
    h, secant = np.diff(x), np.diff(y) / np.diff(x)
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    inner = (w1 + w2) / (w1 / secant[:-1] + w2 / secant[1:])
    return np.concatenate([[secant[0]], inner, [0.0]])


def _monotone(x: Array, knots: Array, values: Array, slopes: Array) -> Array:
    """Monotone cubic, level beyond its last knot."""
    x = np.minimum(x, knots[-1])
    i = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, len(knots) - 2)
    h = knots[i + 1] - knots[i]
    t = (x - knots[i]) / h
    a, b = h * slopes[i], h * slopes[i + 1]
    rise = values[i + 1] - values[i]
    return values[i] + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))
