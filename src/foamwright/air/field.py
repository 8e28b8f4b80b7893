"""Velocity of the air that an aeroplane's vortices make at other places."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.influence import Reflection
from foamwright.air.mesh import Lattice
from foamwright.air.tensor import LiftTensor
from foamwright.air.wakes import band_inverse

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

_FOUR_PI = 4.0 * np.pi
#: A length squared [m²] that is nothing, yet may be divided by.
_NOTHING = 1e-300


def wash_at(tensor: LiftTensor, points: ArrayLike) -> Array:
    """Velocity at other places from all vortices, by unit state.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    points : array_like, (..., 3)
        Places, not on a lifting surface. [m]

    Returns
    -------
    ndarray, (..., 3, N)
        Of the air, aft, right and up; times a state it is a velocity. [-]

    Notes
    -----
    Trailing vortices are spread over the sheets they stand for, so the wash is bounded in the
    wake as well. Within a strip's width or a row's length of a surface it is that of
    the lattice, not of the surface. A lattice without the air's own motion: add that.
    """
    where = np.asarray(points, dtype=np.float64)
    flat = where.reshape(-1, 3)
    total = np.zeros((len(flat), 3, len(tensor.lattice.strip)))
    for ground in (None,) if tensor.ground is None else (None, tensor.ground):
        reflection = Reflection(ground=ground)
        total += (reflection.sign / _FOUR_PI) * _from_vortices(tensor.lattice, flat, reflection)
    return (total @ tensor.circulation).reshape(*where.shape, -1)


def _from_vortices(lattice: Lattice, points: Array, reflection: Reflection) -> Array:
    """4 pi times the velocity from a unit horseshoe of each panel, (K, 3, P). [1/m]"""
    nodes = reflection.space(lattice.nodes)
    away = points[:, None] - nodes  # (K, M, 3)
    distance = np.sqrt((away**2).sum(axis=-1))
    left, right = lattice.left, lattice.right
    ra, rb = distance[:, left], distance[:, right]
    both = ra * rb
    dot = (away[:, left] * away[:, right]).sum(axis=-1)
    share = (ra + rb) / np.maximum(both * (both + dot), _NOTHING)
    velocity = np.cross(away[:, left], away[:, right]) * share[..., None]
    legs = _sheets(lattice, points, reflection)[:, lattice.node_station]
    legs *= 1.0 + away[..., 0] / np.maximum(distance, np.sqrt(_NOTHING))
    turn = legs[:, right] - legs[:, left]
    velocity[..., 1] += turn.real
    velocity[..., 2] += turn.imag
    return velocity.transpose(0, 2, 1)


def _sheets(lattice: Lattice, points: Array, reflection: Reflection) -> Complex:
    """Velocity y + iz of the sheet each strip edge stands for, where it begins, (K, T)."""
    stations = lattice.stations

    def plane(yz: Array) -> Complex:
        image = reflection.plane(yz)
        return np.asarray(image[..., 0] + 1.0j * image[..., 1], dtype=np.complex128)

    here = np.asarray(points[:, 1] + 1.0j * points[:, 2], dtype=np.complex128)
    edge = plane(stations.yz[stations.band_station])
    inverse = band_inverse(here[:, None], edge, plane(stations.band_to))
    shares = np.zeros((len(stations.band_station), len(stations.surface)))
    shares[np.arange(len(shares)), stations.band_station] = stations.band_share
    return 1.0j * np.conj(inverse @ shares)
