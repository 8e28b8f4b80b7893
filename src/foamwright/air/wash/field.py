"""Velocity that propellers add at points of the aeroplane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.wash.disc import SWIRL_MOMENT, induced_velocity
from foamwright.airframe.model import Disc
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: The tube's edge is blended over this share of its cross-section either way: from 0.89 to
#: 1.10 of its radius. The area inside stays that of the sharp tube.
EDGE = 0.2
#: Swirl sets in over this share of the disc's radius ahead of and behind the disc.
ONSET = 0.1
# Gauss points and weights on 0..1 for the drift of the tube's middle line.
_GAUSS = ((0.1127016654, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.8872983346, 5.0 / 18.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wash:
    """What propellers do to the air at points; the last axis but one of vectors is points."""

    added: Array  # (..., points, 3) m/s, x aft, y right, z up
    inside: Array  # (..., points) share of the point that lies in a stream tube, 0 to 1
    wind: Array  # (..., 3) m/s, the air's velocity without propellers

    @property
    def velocity(self) -> Array:
        """Velocity of the air. [m/s]"""
        return self.wind[..., None, :] + self.added

    @property
    def pressure_ratio(self) -> Array:
        """Dynamic pressure over that of flight; NaN where the aeroplane stands still. [-]"""
        here = (self.velocity**2).sum(axis=-1)
        free = (self.wind**2).sum(axis=-1)[..., None]
        return np.divide(here, free, out=np.full_like(here, np.nan), where=free > 0.0)

    @property
    def upflow(self) -> Array:
        """Angle of the air above the x axis, in the x z plane. [rad]"""
        v = self.velocity
        return np.arctan2(v[..., 2], v[..., 0])

    @property
    def sideflow(self) -> Array:
        """Angle of the air to the right of the x axis, in the x y plane. [rad]"""
        v = self.velocity
        return np.arctan2(v[..., 1], v[..., 0])

    @property
    def upflow_change(self) -> Array:
        """By how much propellers turn the air up: local incidence gained. [rad]"""
        return self.upflow - np.arctan2(self.wind[..., 2], self.wind[..., 0])[..., None]

    @property
    def sideflow_change(self) -> Array:
        """By how much propellers turn the air to the right. [rad]"""
        return self.sideflow - np.arctan2(self.wind[..., 1], self.wind[..., 0])[..., None]


def air_velocity(airspeed: ArrayLike, *, alpha: ArrayLike = 0.0, beta: ArrayLike = 0.0) -> Array:
    """Velocity of the air past the aeroplane, x aft, y right, z up.

    Parameters
    ----------
    airspeed : array_like
        True airspeed. [m/s]
    alpha : array_like, optional
        Incidence of the x axis. [rad]
    beta : array_like, optional
        Sideslip, positive with the wind from the right. [rad]

    Returns
    -------
    ndarray, shape (..., 3)
        Velocity. [m/s]
    """
    v, a, b = np.broadcast_arrays(
        *(np.asarray(x, dtype=np.float64) for x in (airspeed, alpha, beta))
    )
    slip = v * np.cos(b)
    return np.stack([slip * np.cos(a), -v * np.sin(b), slip * np.sin(a)], axis=-1)


def wash(
    points: Array,
    *,
    discs: Sequence[Disc],
    wind: ArrayLike,
    thrust: ArrayLike,
    torque: ArrayLike = 0.0,
    density: ArrayLike = 1.225,
) -> Wash:
    r"""Find what the propellers add to the air at points.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        Points of the aeroplane. [m]
    discs : sequence of Disc
        Propeller discs. [m]
    wind : array_like, shape (..., 3)
        Velocity of the air past the aeroplane, see :func:`air_velocity`. [m/s]
    thrust : array_like, shape (..., discs)
        Of each disc. [N]
    torque : array_like, optional, shape (..., discs)
        On the air, positive in the sense of a right-hand screw along the thrust: the
        propeller turns clockwise seen from behind. [N m]
    density : array_like, optional
        Of the air, (...). [kg/m³]

    Returns
    -------
    Wash
        Broadcast over the states' leading axes. NaN where momentum theory does not hold.

    Notes
    -----
    Inside the stream tube of each disc the air is even over the cross-section: along the
    axis :math:`v\,(1 + s/\sqrt{R^2 + s^2})`, ahead of the disc too; across it the inflow
    that continuity asks for, :math:`-\tfrac12 r\,du/ds`; behind the disc the swirl that
    carries the torque, its moment of momentum kept as the tube narrows. Outside nothing. The
    tube's middle line drifts with the wind across the axis. Left out: mixing with the air
    outside (the edge is blended over ``EDGE``), what wing and body do to the tube, and that
    a wing in a narrow stream gains less lift than its dynamic pressure says. Streams of
    several discs are added.

    References
    ----------
    .. [1] B. W. McCormick, Aerodynamics, Aeronautics, and Flight Mechanics (from memory).
    .. [2] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. XV.
    """
    air = np.asarray(wind, dtype=np.float64)
    count = len(discs)
    push, turn = (np.asarray(x, dtype=np.float64) for x in (thrust, torque))
    if push.shape[-1:] not in ((count,), (1,), ()):
        raise DomainError(f"thrust needs one value for each of {count} discs along its last axis")
    rho = np.asarray(density, dtype=np.float64)
    states = np.broadcast_shapes(air.shape[:-1], push.shape[:-1], turn.shape[:-1], rho.shape)
    air = np.broadcast_to(air, (*states, 3))
    push, turn = (np.broadcast_to(x, (*states, count)) for x in (push, turn))
    added = np.zeros((*states, len(points), 3))
    out = np.ones((*states, len(points)))
    for i, disc in enumerate(discs):
        one = _Stream(disc, air, push[..., i], turn[..., i], rho)
        outside = 1.0 - one.add(points, added)
        out = out * outside
    return Wash(added=added, inside=1.0 - out, wind=air)


class _Stream:
    """Stream of one disc, for all states; arrays of states carry a last axis of one."""

    def __init__(
        self, disc: Disc, air: Array, thrust: Array, torque: Array, density: Array
    ) -> None:
        self.centre, self.radius = disc.centre, 0.5 * disc.diameter
        self.aft = -disc.thrust
        area = np.pi * self.radius**2
        along = air @ self.aft
        induced = induced_velocity(thrust, airspeed=along, area=area, density=density)
        self.speed, self.induced = along[..., None], induced[..., None]
        self.through = self.speed + self.induced
        flow = density * area * (along + induced)
        arm = flow * self.radius * SWIRL_MOMENT
        nominal = np.divide(torque, arm, out=np.zeros_like(arm + torque), where=arm > 0.0)
        self.swirl = nominal[..., None]
        self.cross = air - along[..., None] * self.aft  # wind across the axis, (..., 3)

    def add(self, points: Array, added: Array) -> Array:
        """Add this stream's velocity at the points; return their share inside it."""
        off = points - self.centre
        s = off @ self.aft
        radial = off - s[:, None] * self.aft
        root = np.hypot(self.radius, s)
        here = self.speed + self.induced * (1.0 + s / root)
        # Tube's cross-section over the disc's; where no air moves at all it stays the disc's.
        narrow = np.divide(self.through, here, out=np.ones_like(here), where=here > 0.0)
        lateral = self._lateral(radial, s)
        square = sum(part * part for part in lateral) / self.radius**2
        place = square / narrow  # squared radius over that of the tube
        inside = _edge(place)
        # du/ds = v R²/(R² + s²)^(3/2); continuity gives the radial speed per radius.
        inward = -0.5 * self.induced * (self.radius**2 / root**3)
        turning = self._turning(s, place, narrow)
        axial = inside * self.induced * (1.0 + s / root)
        inward, turning = inside * inward, inside * turning
        # The propeller turns right-handed about its thrust, which points along -aft.
        y, z = lateral[1], lateral[2]
        x = lateral[0]
        a = self.aft
        added[..., 0] += axial * a[0] + inward * x - turning * (a[1] * z - a[2] * y)
        added[..., 1] += axial * a[1] + inward * y - turning * (a[2] * x - a[0] * z)
        added[..., 2] += axial * a[2] + inward * z - turning * (a[0] * y - a[1] * x)
        return inside

    def _lateral(self, radial: Array, s: Array) -> tuple[Array, Array, Array]:
        """Offset of the points from the tube's drifting middle line, x, y, z. [m]"""
        drift = np.zeros(np.broadcast_shapes(self.speed.shape, s.shape))
        if not np.any(self.cross):
            x, y, z = (np.broadcast_to(radial[:, i], drift.shape) for i in range(3))
            return x, y, z
        for at, weight in _GAUSS:
            t = at * s
            here = self.speed + self.induced * (1.0 + t / np.hypot(self.radius, t))
            drift += np.divide(weight * s, here, out=np.zeros_like(here), where=here > 0.0)
        x, y, z = (radial[:, i] - drift * self.cross[..., i, None] for i in range(3))
        return x, y, z

    def _turning(self, s: Array, place: Array, narrow: Array) -> Array:
        """Swirl over radius, whose moment of momentum the narrowing tube keeps. [1/s]"""
        # v_t = v0 g(xi)/n, n = r/R, at radius xi n R: over that radius, n² = narrow.
        onset = _smooth(0.5 + 0.5 * s / (ONSET * self.radius))
        shape = 1.0 / np.sqrt(place + _CORE_SQUARE)
        return self.swirl * onset * shape / (self.radius * narrow)


_CORE_SQUARE = 0.0625


def _smooth(u: Array) -> Array:
    v = np.clip(u, 0.0, 1.0)
    return v * v * (3.0 - 2.0 * v)


def _edge(place: Array) -> Array:
    """Share inside, from the squared radius over the tube's: even about 1, so areas are kept."""
    return _smooth((1.0 + EDGE - place) / (2.0 * EDGE))
