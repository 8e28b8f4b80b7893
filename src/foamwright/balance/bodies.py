"""Second moments of mass: sums of rigid bodies and of lines, about any point.

The second moment S = ∫ r rᵀ dm is carried instead of the inertia tensor, because it adds and
shifts with one outer product; the inertia tensor is tr(S) 1 − S.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bodies:
    """Rigid bodies side by side; arrays of one length."""

    masses: Array  # (n,) kg
    centres: Array  # (n, 3) m
    seconds: Array  # (n, 3, 3) kg m², ∫ r rᵀ dm about each body's own centre


def line_bodies(polylines: Sequence[Array], line_masses: Array) -> Bodies:
    """Spread masses evenly along polylines; exact for straight segments.

    Parameters
    ----------
    polylines : sequence of ndarray
        Each (k, 3), k >= 2. [m]
    line_masses : ndarray
        Mass per length of each. [kg/m]

    Returns
    -------
    Bodies
        One body per polyline.

    Notes
    -----
    A straight segment of mass m and direction d has m d dᵀ/12 about its middle. The width of
    the tape or bead is left out: a 25 mm tape adds m (25 mm)²/12, nothing beside its arm.
    """
    if not polylines:
        return Bodies(masses=np.zeros(0), centres=np.zeros((0, 3)), seconds=np.zeros((0, 3, 3)))
    counts = np.array([len(points) - 1 for points in polylines])
    starts = np.concatenate([points[:-1] for points in polylines])
    ends = np.concatenate([points[1:] for points in polylines])
    owner = np.repeat(np.arange(len(polylines)), counts)
    along = ends - starts
    mass = np.sqrt(np.einsum("ni,ni->n", along, along)) * line_masses[owner]
    middle = 0.5 * (starts + ends)
    masses = _sum_by(owner, mass, len(polylines))
    moments = _sum_by(owner, mass[:, None] * middle, len(polylines))
    # A run of no length has no middle of mass; its first point serves.
    first = np.stack([points[0] for points in polylines])
    some = masses > 0.0
    centres = np.where(some[:, None], moments / np.where(some, masses, 1.0)[:, None], first)
    arm = middle - centres[owner]
    second = mass[:, None, None] * (outer(arm) + outer(along) / 12.0)
    return Bodies(masses=masses, centres=centres, seconds=_sum_by(owner, second, len(polylines)))


def join(first: Bodies, second: Bodies) -> Bodies:
    """Put two lists of bodies behind one another."""
    return Bodies(
        masses=np.concatenate([first.masses, second.masses]),
        centres=np.concatenate([first.centres, second.centres]),
        seconds=np.concatenate([first.seconds, second.seconds]),
    )


def centre_of(bodies: Bodies) -> Array:
    """Return the common centre of mass. [m]"""
    return (bodies.masses @ bodies.centres) / bodies.masses.sum()


def second_about(bodies: Bodies, point: Array) -> Array:
    """Second moment of all bodies about a point, by the parallel-axis theorem. [kg m²]"""
    arm = bodies.centres - point
    return bodies.seconds.sum(axis=0) + np.einsum("n,ni,nj->ij", bodies.masses, arm, arm)


def inertia_from(second: Array) -> Array:
    """Inertia tensor of a second moment; leading axes are batch. [kg m²]"""
    trace = np.trace(second, axis1=-2, axis2=-1)
    # Sums in different order leave the two halves a last bit apart; a tensor has one value.
    even = 0.5 * (second + np.swapaxes(second, -1, -2))
    return trace[..., None, None] * np.eye(3) - even


def second_from(inertia: Array) -> Array:
    """Second moment of an inertia tensor; leading axes are batch. [kg m²]"""
    half_trace = 0.5 * np.trace(inertia, axis1=-2, axis2=-1)
    return half_trace[..., None, None] * np.eye(3) - inertia


def outer(vectors: Array) -> Array:
    """Each vector times itself as a matrix; leading axes are batch."""
    return vectors[..., :, None] * vectors[..., None, :]


def _sum_by(owner: NDArray[np.int64], values: Array, count: int) -> Array:
    total = np.zeros((count, *values.shape[1:]))
    np.add.at(total, owner, values)
    return total
