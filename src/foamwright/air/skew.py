"""What a wake that leaves to one side changes: sideslip of a wing that lifts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.mesh import Lattice
from foamwright.air.strips import LatticeStrips

Array = NDArray[np.float64]
Places = NDArray[np.intp]


def skew_wash(lattice: Lattice, strips: LatticeStrips, mine: Places) -> Array:
    r"""Wash that a wake gains when it leaves to one side, per unit of the sideslip's tangent.

    Parameters
    ----------
    lattice : Lattice
        Both halves.
    strips : LatticeStrips
        Their strips.
    mine : ndarray of int, shape (n,)
        Strips of one surface.

    Returns
    -------
    ndarray, shape (n, n)
        Velocity along the normal at the three-quarter points by circulation of the strips. [1/m]

    Notes
    -----
    A leg that begins at the trailing edge with direction d is felt at a distance r as
    :math:`4\pi\mathbf V = \mathbf d\times\mathbf r/(r(r - \mathbf d\cdot\mathbf r))`. This is
    its derivative where d turns from x to the left, as air does that comes from the right.
    Between surfaces the derivative would be without bound where a tail stands in the wake,
    so there wakes stay along x.
    """
    first = lattice.first[mine]
    wash = np.zeros((len(mine), len(mine)))
    place, normal = strips.three_quarter[mine], strips.normal[mine]
    ny, nz = normal[:, 1:2], normal[:, 2:]
    for node, sense in ((lattice.right[first], 1.0), (lattice.left[first], -1.0)):
        yz = lattice.stations.yz[lattice.node_station[node]]
        rx = np.subtract.outer(place[:, 0], lattice.node_tail[node])
        ry, rz = (np.subtract.outer(place[:, k + 1], yz[:, k]) for k in (0, 1))
        r = np.sqrt(rx * rx + ry * ry + rz * rz)
        gap = r - rx
        # (-y^ x r).n and (x^ x r).n
        turned, straight = nz * rx, nz * ry - ny * rz
        wash += sense * (turned - straight * ry / gap) / (r * gap)
    return wash / (4.0 * np.pi)


def skew_tensor(
    lattice: Lattice, strips: LatticeStrips, point: tuple[float, float, float]
) -> Array:
    """Find the loads that the skew of the wakes adds, over density, by two states.

    Parameters
    ----------
    lattice : Lattice
        Both halves.
    strips : LatticeStrips
        Their strips.
    point : tuple of float
        Reference point. [m]

    Returns
    -------
    ndarray, shape (6, N, N)
        Not symmetric: first the state that blows the wake aside, then the one that lifts. [m²]

    Notes
    -----
    Each surface's wake leaves with the air that meets the middle of that surface from the
    side, whatever point the aeroplane turns about. Strips answer with their response; the
    lift they gain acts at their quarter points.
    """
    arm = strips.quarter - np.array(point)
    across = strips.along[:, 1] * strips.normal[:, 2] - strips.along[:, 2] * strips.normal[:, 1]
    _, right, up = (across[:, None] * strips.normal).T
    x, y, z = arm.T
    loads = np.stack([0.0 * up, right, up, z * right - y * up, -x * up, -x * right])
    count = strips.circulation.shape[1]
    total = np.zeros((6, count, count))
    for surface in range(len(strips.keys)):
        mine = np.flatnonzero(strips.surface == surface)
        wash = skew_wash(lattice, strips, mine) @ strips.circulation[mine]
        gained = loads @ (strips.response[:, mine] @ wash)
        middle = strips.area[mine] @ arm[mine] / strips.area[mine].sum()
        blown = np.zeros(count)
        blown[3], blown[4], blown[5] = 1.0, middle[2], -middle[0]
        total += blown[:, None] * gained[:, None, :]
    return total
