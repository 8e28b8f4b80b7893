"""Normal velocity at the control points from unit horseshoe vortices."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.mesh import Lattice, Stations
from foamwright.air.wakes import band_inverse, strip_band_inverse

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Places = NDArray[np.intp]

_FOUR_PI = 4.0 * np.pi
#: A wake band nearer to a control line than this many strip widths is averaged over the strip.
#: From 1 to 2.5 the neutral point moves by less than 0.002 of chord, usually by 0.0003.
_NEAR = 2.5
#: Below this squared distance [m²] a trailing line and a control line are the same line;
#: it can only happen between surfaces that overlap, and then has no meaning.
_SAME_LINE = 1e-14


@dataclass(frozen=True, slots=True, kw_only=True)
class Reflection:
    """Vortices as they stand, or their mirror images."""

    side: bool = False  # in the plane y = 0, turning the way that lifts
    ground: float | None = None  # m, z of level ground they are mirrored in

    @property
    def sign(self) -> float:
        """What a mirror does to the sense of a vortex. [-]"""
        return (-1.0 if self.side else 1.0) * (1.0 if self.ground is None else -1.0)

    def plane(self, yz: Array) -> Array:
        """Images of places (y, z) in the plane seen from behind. [m]"""
        turn = np.array([-1.0 if self.side else 1.0, 1.0 if self.ground is None else -1.0])
        shift = 0.0 if self.ground is None else 2.0 * self.ground
        return yz * turn + (0.0, shift)

    def space(self, points: Array) -> Array:
        """Images of points (x, y, z). [m]"""
        return np.concatenate([points[..., :1], self.plane(points[..., 1:])], axis=-1)


AS_IT_STANDS = Reflection()


def influence(lattice: Lattice, *, factor: Array, reflection: Reflection = AS_IT_STANDS) -> Array:
    r"""Velocity along each panel's normal from a unit vortex on each panel.

    Parameters
    ----------
    lattice : Lattice
        Strips, stations and panels.
    factor : ndarray, shape (S, T)
        From :func:`leg_factors`, same reflection. [1/m]
    reflection : Reflection, optional
        Take the vortices' mirror images.

    Returns
    -------
    ndarray, shape (P, P)
        Row: control point, column: vortex of strength 1 m²/s. [1/m]

    Notes
    -----
    A horseshoe is a straight bound vortex and two legs to infinity along x. The legs lie in
    the surface, so it equals the vortex ring with its wake. Bound vortex from a to b:

    .. math:: 4\pi\mathbf V = \frac{(\mathbf r_a \times \mathbf r_b)(r_a + r_b)}
              {r_a r_b (r_a r_b + \mathbf r_a\cdot\mathbf r_b)}

    The numerator is linear in the control point, hence one matrix product; the bracket
    below is :math:`((r_a + r_b)^2 - l^2)/2` by the law of cosines. A leg from a node, with
    :math:`\rho` square to x:

    .. math:: 4\pi\mathbf V = \hat{\mathbf x} \times \boldsymbol\rho / \rho^2 \, (1 + \Delta x/r)

    References
    ----------
    .. [1] J. Katz, A. Plotkin, Low-Speed Aerodynamics, 2nd ed., 2001, secs. 2.12 and 12.1.
    """
    # The products below lose figures far from the origin: bring it near.
    middle = np.array([lattice.node_x.mean(), 0.0, lattice.stations.yz[:, 1].mean()])
    nodes = reflection.space(lattice.nodes) - middle
    points = lattice.controls - middle
    # Transposed all through: whole rows are then copied from nodes to panels.
    stretch, distance = _legs_along(points, nodes)
    stretch *= factor.T[:, lattice.strip][lattice.node_station]
    total = _bound(lattice, points, nodes, distance)
    total += stretch[lattice.right]
    total -= stretch[lattice.left]
    total *= reflection.sign / _FOUR_PI
    return total.T


def far_wash(lattice: Lattice, *, factor: Array, reflection: Reflection = AS_IT_STANDS) -> Array:
    """Velocity along the strips' normals far behind, from a unit circulation of each strip.

    Parameters
    ----------
    lattice : Lattice
        Strips and stations.
    factor : ndarray, shape (S, T)
        From :func:`leg_factors`, same reflection. [1/m]
    reflection : Reflection, optional
        Take the vortices' mirror images.

    Returns
    -------
    ndarray, shape (S, S)
        In the Trefftz plane, where only the wakes are felt. [1/m]
    """
    left, right = strip_stations_of(lattice)
    wash = factor[:, right] - factor[:, left]
    return wash * (2.0 * reflection.sign / _FOUR_PI)


def strip_stations_of(lattice: Lattice) -> tuple[Places, Places]:
    """Left and right strip edge of each strip.

    Parameters
    ----------
    lattice : Lattice
        Strips and stations.

    Returns
    -------
    tuple of ndarray
        Numbers of stations, one per strip.
    """
    first, stations = lattice.first, lattice.node_station
    return stations[lattice.left[first]], stations[lattice.right[first]]


def _legs_along(points: Array, nodes: Array) -> tuple[Array, Array]:
    """Part of a leg's influence that grows along x, 1 + dx/r, and r: (M, P). [-], [m]"""
    dx = np.subtract.outer(-nodes[:, 0], -points[:, 0])
    r = dx * dx
    off = np.empty_like(r)
    for k in (1, 2):
        np.subtract.outer(nodes[:, k], points[:, k], out=off)
        off *= off
        r += off
    np.sqrt(r, out=r)
    dx /= r
    dx += 1.0
    return dx, r


def _bound(lattice: Lattice, points: Array, nodes: Array, distance: Array) -> Array:
    """4 pi times the normal velocity from the bound vortices, (P vortices, P points). [1/m]"""
    ny, nz = lattice.strips.normal[lattice.strip].T
    x, y, z = points.T
    a, b = nodes[lattice.left], nodes[lattice.right]
    # n.(ra x rb) = (n x c).(a - b) + n.(a x b) for a control point c; n has no x
    here = np.stack([ny * z - nz * y, nz * x, -ny * x, ny, nz])
    across = np.empty((len(a), 5))
    across[:, :3] = a - b
    across[:, 3] = a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2]
    across[:, 4] = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    bound = across @ here
    ra, rb = distance[lattice.left], distance[lattice.right]
    both = ra + rb
    bound *= both
    ra *= rb
    both *= both
    both -= ((a - b) ** 2).sum(axis=1)[:, None]
    ra *= both
    bound /= ra
    bound *= 2.0
    return bound


def leg_factors(lattice: Lattice, *, reflection: Reflection = AS_IT_STANDS) -> Array:
    """Part of a leg's influence that its strip and its station decide.

    Parameters
    ----------
    lattice : Lattice
        Strips and stations.
    reflection : Reflection, optional
        Take the vortices' mirror images.

    Returns
    -------
    ndarray, shape (S, T)
        4 pi times the velocity along the strip's normal per circulation, where the leg
        begins. [1/m]

    Notes
    -----
    With D = y + iz from vortex to control line, 4 pi V = i / conj(D), so its part along
    the normal n is the real part of -i n / D.
    """
    strips, stations = lattice.strips, lattice.stations
    line: Complex = _plane(strips.yz)
    turned: Complex = -1.0j * _plane(strips.normal)
    trail: Complex = _plane(reflection.plane(stations.yz))
    off = line[:, None] - trail
    size2 = off.real**2 + off.imag**2
    factor = (turned[:, None] * off.conj()).real / np.maximum(size2, _SAME_LINE)
    strange = strips.surface[:, None] != stations.surface
    if strange.any():
        spread = (turned[:, None] * _spread(lattice, reflection)).real
        factor = np.where(strange, spread, factor)
    for joint in stations.joints:
        _meet(factor, stations, np.array(joint))
    return factor


def _meet(factor: Array, stations: Stations, joint: Places) -> None:
    """Make the wakes of surfaces that meet cancel on their common line.

    There the end of one surface trails its whole circulation, and the other one steps by as
    much. Both go with one kernel, that of the surface which goes through, so that only the
    sheet that is left is felt. The half strip of sheet next to the joint on the other
    surfaces is half the step to the next strip edge (circulation extrapolated to the joint)
    and keeps the kernel of its own surface.
    """
    ends = stations.is_end[joint]
    leading = joint if ends.all() else joint[~ends]
    owners = np.unique(stations.surface[leading])
    common = sum(
        (factor[:, leading[stations.surface[leading] == owner]].mean(axis=1) for owner in owners),
        start=np.zeros(len(factor)),
    ) / len(owners)
    for station in joint.tolist():
        own = factor[:, station] - common
        for beside in (station - 1, station + 1):
            if _inner(stations, station, beside):
                factor[:, beside] += 0.5 * own
    factor[:, joint] = common[:, None]


def _inner(stations: Stations, station: int, beside: int) -> bool:
    """Whether `beside` is a strip edge of the same half, and neither end of it."""
    return (
        0 <= beside < len(stations.surface)
        and stations.run[beside] == stations.run[station]
        and not stations.is_end[beside]
    )


def _spread(lattice: Lattice, reflection: Reflection) -> Complex:
    """Mean of 1/D over the wake bands of the stations, seen from strips of other surfaces, (S, T).

    A trailing vortex stands for a piece of a sheet. Where the sheet passes close to another
    surface the vortex must be spread over that piece and felt by the whole strip, or the
    answer hangs on how the strips of the two surfaces happen to lie.
    """
    strips, stations = lattice.strips, lattice.stations
    i, j = np.nonzero(strips.surface[:, None] != stations.surface[stations.band_station])
    line: Complex = _plane(strips.yz)[i]
    edges: Complex = _plane(strips.edges)
    a: Complex = _plane(reflection.plane(stations.yz))[stations.band_station][j]
    b: Complex = _plane(reflection.plane(stations.band_to))[j]
    mean = band_inverse(line, a, b)
    width = np.abs(edges[:, 1] - edges[:, 0])[i]
    near = np.flatnonzero(_distance(line, a, b) < _NEAR * width)
    mean[near] = strip_band_inverse(edges[i[near], 0], edges[i[near], 1], a[near], b[near])
    inverse = np.zeros((len(strips.surface), len(stations.band_station)), dtype=np.complex128)
    inverse[i, j] = mean * stations.band_share[j]
    # The bands of a station stand next to each other, and each station has one at least.
    starts = np.flatnonzero(np.diff(stations.band_station, prepend=-1))
    return np.add.reduceat(inverse, starts, axis=1)


def _plane(yz: Array) -> Complex:
    """Places y + iz of the plane in which wakes are seen from behind."""
    return np.asarray(yz[..., 0] + 1.0j * yz[..., 1], dtype=np.complex128)


def _distance(point: Complex, a: Complex, b: Complex) -> Array:
    """Distance of points from segments. [m]"""
    along = b - a
    at = ((point - a) * along.conj()).real / (along.real**2 + along.imag**2)
    return np.abs(point - a - np.clip(at, 0.0, 1.0) * along)
