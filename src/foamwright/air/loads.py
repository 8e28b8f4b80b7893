"""Forces and moments of bound vortices in the air that meets them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.mesh import Lattice

Array = NDArray[np.float64]


def load_arms(lattice: Lattice, point: tuple[float, float, float]) -> Array:
    r"""Force and moment of a unit circulation on each panel, by unit state of motion.

    Parameters
    ----------
    lattice : Lattice
        Panels.
    point : tuple of float
        Reference point of moments, speeds and turning. [m]

    Returns
    -------
    ndarray, shape (6, 6, P)
        By load (force aft, right, up; moment right wing down, nose up, nose right), state of
        motion (u, w, q, v, p, r) and panel; over density. [m, m²]

    Notes
    -----
    With the bound vortex :math:`\mathbf l = l_x\hat x + l_t\hat t` and air at
    :math:`(V_x, V_t, V_n)` along x, along the strip and square to it,

    .. math:: \mathbf V\times\mathbf l = -V_n l_t\hat x + V_n l_x\hat t + (V_x l_t - V_t l_x)\hat n

    The first two terms are the suction of the leading edge. The legs, from the vortex to the
    trailing edge, add :math:`-V_t L\hat n`; square to the surface the air stands still, so they
    feel no :math:`V_n`.
    """
    nodes = lattice.nodes - np.array(point)
    a, b = nodes[lattice.left], nodes[lattice.right]
    along, middle = b - a, 0.5 * (a + b)
    normal = lattice.strips.normal[lattice.strip].T  # (y, z)
    tangent = np.stack([normal[1], -normal[0]])
    lx, lt = along[:, 0], along[:, 1] * tangent[0] + along[:, 2] * tangent[1]
    vx, vt, vn = _air(middle, tangent, normal)
    push = vx * lt - vt * lx
    total = _loads(middle, -vn * lt, vn * lx * tangent[:, None] + push * normal[:, None])
    for node, sense in ((lattice.right, 1.0), (lattice.left, -1.0)):
        length = lattice.node_tail[node] - lattice.node_x[node]
        place = nodes[node]
        place[:, 0] += 0.5 * length
        slip = -sense * length * _air(place, tangent, normal)[1]
        total += _loads(place, np.zeros_like(slip), slip * normal[:, None])
    return total


def suction_arms(lattice: Lattice, point: tuple[float, float, float]) -> Array:
    """Force and moment of a unit circulation on each panel in air at unit speed square to it.

    Parameters
    ----------
    lattice : Lattice
        Panels.
    point : tuple of float
        Reference point of moments. [m]

    Returns
    -------
    ndarray, shape (6, P)
        By load and panel; over density. [m, m²]
    """
    nodes = lattice.nodes - np.array(point)
    a, b = nodes[lattice.left], nodes[lattice.right]
    along, middle = b - a, 0.5 * (a + b)
    ny, nz = lattice.strips.normal[lattice.strip].T
    tangent = np.stack([nz, -ny])
    lt = along[:, 1] * nz - along[:, 2] * ny
    return _loads(middle, -lt[None], (along[:, 0] * tangent)[:, None])[:, 0]


def _air(place: Array, tangent: Array, normal: Array) -> tuple[Array, Array, Array]:
    """Air along x, along the strip and square to it, by unit state of motion, (6, P) each.

    Air meets the reference point backwards, upwards and from the right; it meets a turning
    point with minus the point's speed.
    """
    x, y, z = place.T
    nothing, one = np.zeros_like(x), np.ones_like(x)
    back = np.stack([one, nothing, -z, nothing, nothing, -y])
    right = np.stack([nothing, nothing, nothing, -one, -z, x])
    up = np.stack([nothing, one, x, nothing, y, nothing])
    return (
        back,
        right * tangent[0] + up * tangent[1],
        right * normal[0] + up * normal[1],
    )


def _loads(place: Array, aft: Array, across: Array) -> Array:
    """Stack forces and their moments right wing down, nose up and nose right, (6, m, P)."""
    x, y, z = place.T
    right, up = across
    return np.stack([aft, right, up, z * right - y * up, z * aft - x * up, y * aft - x * right])
