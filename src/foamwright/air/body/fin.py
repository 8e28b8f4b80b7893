"""A pylon in sideslip: a low, upright wing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body.shape import BodyLine, Form
from foamwright.air.handbook import helmbold_slope

Array = NDArray[np.float64]

#: Upright sheet shorter than this many times its height is a fin, longer a body. Slender-body
#: and low-wing formulas agree for long ones: the choice moves little.
_LONGEST = 2.0
#: Heights at which the free part of a sheet is measured, for each strip.
HEIGHTS = 32
#: Nearer than this to another body's outside counts as standing on it. [m]
_TOUCH = 3e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Fin:
    """Side force of an upright sheet."""

    slope: float  # m²/rad
    point: tuple[float, float, float]  # m, where it acts


def pylon_fin(body: BodyLine, bodies: tuple[BodyLine, ...]) -> Fin | None:
    """Read an upright sheet as a fin; None where it is no short upright sheet.

    Parameters
    ----------
    body : BodyLine
        The body. [m]
    bodies : tuple of BodyLine
        All bodies; what lies inside another does not count. [m]

    Returns
    -------
    Fin or None
        Helmbold's slope for the free part; its aspect ratio is doubled where it stands on
        another body, which mirrors it. The force acts at a quarter of the mean chord. [m²]

    References
    ----------
    .. [1] H. B. Helmbold, 1942: see :func:`foamwright.air.handbook.helmbold_slope`.
    """
    if body.form is not Form.PLATE:
        return None
    x, z, cell, stands = free_cells(body, bodies)
    area = float(cell.sum())
    if area <= 0.0:
        return None
    height = float(np.ptp(z[cell > 0.0]))
    if not 0.0 < body.length < _LONGEST * height:
        return None
    aspect = height * height / area * (2.0 if stands else 1.0)
    front = float((cell * x).sum()) / area - 0.25 * area / height
    middle = float((cell * z).sum()) / area
    return Fin(slope=float(helmbold_slope(aspect)) * area, point=(front, body.y, middle))


def free_cells(body: BodyLine, bodies: tuple[BodyLine, ...]) -> tuple[Array, Array, Array, bool]:
    """Cut an upright sheet into cells and drop those that lie in another body.

    Parameters
    ----------
    body : BodyLine
        The sheet. [m]
    bodies : tuple of BodyLine
        All bodies. [m]

    Returns
    -------
    tuple
        Places x and z [m] and areas [m²] of the cells, 0 for a hidden one; whether any was.
    """
    places = (np.arange(HEIGHTS) + 0.5) / HEIGHTS * 2.0 - 1.0
    x, half, middle = (v[1::2, None] for v in (body.x, body.half_height, body.z))
    z = middle + half * places
    points = np.stack([np.broadcast_to(x, z.shape), np.full_like(z, body.y), z], axis=-1)
    hidden = np.zeros(z.shape, dtype=bool)
    for other in bodies:
        if other is not body:
            hidden |= other.inside(points)
    cell = 2.0 * half / HEIGHTS * np.diff(body.x[::2])[:, None]
    stands = bool(hidden.any()) or _touches(body, bodies)
    return points[..., 0], z, np.where(hidden, 0.0, cell), stands


def _touches(body: BodyLine, bodies: tuple[BodyLine, ...]) -> bool:
    """Whether the sheet's lower or upper edge stands on another body."""
    reach = body.half_height + _TOUCH
    edges = np.stack([body.z - reach, body.z + reach])
    points = np.stack(
        [np.broadcast_to(body.x, edges.shape), np.full_like(edges, body.y), edges], -1
    )
    return any(bool(other.inside(points).any()) for other in bodies if other is not body)
