"""Motion of a rigid body in six degrees of freedom: Newton, Euler and a quaternion.

Body axes of flight mechanics: x forward, y right, z down, at the balance point; earth axes x
ahead, y right, z down, flat and still. The design's axes (x aft, y right, z up) are these turned
by half a turn about y: :func:`flight_axes` goes either way.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import GRAVITY, Array, as_array

#: Slope of a state in time: (time [s], state (..., n)) to (..., n).
Slope = Callable[[float, Array], Array]
#: Force and moment on the body, gravity left out: (time [s], motion) to two (..., 3).
Loads = Callable[[float, "Motion"], tuple[Array, Array]]

_TURN = np.array([-1.0, 1.0, -1.0])


def flight_axes(vector: ArrayLike) -> Array:
    """Turn a vector between the design's axes and those of flight mechanics; its own inverse.

    Parameters
    ----------
    vector : array_like, (..., 3)
        x aft, y right, z up, or x forward, y right, z down. [any]

    Returns
    -------
    ndarray, (..., 3)
    """
    return as_array(vector) * _TURN


def flight_inertia(inertia: ArrayLike) -> Array:
    """Turn an inertia tensor between the design's axes and those of flight mechanics.

    Parameters
    ----------
    inertia : array_like, (..., 3, 3)
        About the balance point, products with their minus sign: the entry of x and z is
        -Ixz of the textbooks and the same in both axes. [kg m²]

    Returns
    -------
    ndarray, (..., 3, 3)
    """
    return as_array(inertia) * np.outer(_TURN, _TURN)


@dataclass(frozen=True, slots=True, kw_only=True)
class RigidBody:
    """What moves: mass and inertia about its balance point."""

    mass: float  # kg
    inertia: Array  # (3, 3) kg m², axes of flight mechanics


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Motion:
    """Where a body is and how it moves; every field over the same leading axes."""

    place: Array  # (..., 3) m, in the earth: ahead, right, down
    attitude: Array  # (..., 4) unit quaternion, body to earth, scalar first
    velocity: Array  # (..., 3) m/s, in the body: forward, right, down
    rates: Array  # (..., 3) rad/s, in the body: roll, pitch, yaw

    @property
    def height(self) -> Array:
        """Height above the origin. [m]"""
        return -self.place[..., 2]

    @property
    def angles(self) -> Array:
        """Bank, pitch attitude and heading, (..., 3). [rad]"""
        return euler_angles(self.attitude)

    @property
    def earth_velocity(self) -> Array:
        """Velocity in the earth's axes, (..., 3). [m/s]"""
        return to_earth(self.attitude, self.velocity)

    def packed(self) -> Array:
        """Lay the state out in one row, (..., 13)."""
        return np.concatenate([self.place, self.attitude, self.velocity, self.rates], axis=-1)


def motion(
    *,
    place: ArrayLike = (0.0, 0.0, 0.0),
    angles: ArrayLike = (0.0, 0.0, 0.0),
    velocity: ArrayLike = (0.0, 0.0, 0.0),
    rates: ArrayLike = (0.0, 0.0, 0.0),
) -> Motion:
    """Make a state of motion from bank, pitch attitude and heading.

    Parameters
    ----------
    place : array_like, (..., 3), optional
        In the earth, z down. [m]
    angles : array_like, (..., 3), optional
        Bank, pitch attitude, heading. [rad]
    velocity : array_like, (..., 3), optional
        In the body. [m/s]
    rates : array_like, (..., 3), optional
        Roll, pitch, yaw. [rad/s]

    Returns
    -------
    Motion
    """
    parts = np.broadcast_arrays(*(as_array(p) for p in (place, angles, velocity, rates)))
    return Motion(place=parts[0], attitude=quaternion(parts[1]), velocity=parts[2], rates=parts[3])


def quaternion(angles: ArrayLike) -> Array:
    """Make the unit quaternion, scalar first, of bank, pitch attitude and heading.

    Parameters
    ----------
    angles : array_like, (..., 3)
        Heading turned first, then pitch, then bank. [rad]

    Returns
    -------
    ndarray, (..., 4)
    """
    half = 0.5 * as_array(angles)
    (cr, cp, cy), (sr, sp, sy) = (np.moveaxis(f(half), -1, 0) for f in (np.cos, np.sin))
    parts = (
        cr * cp * cy + sr * sp * sy,
        sr * cp * cy - cr * sp * sy,
        cr * sp * cy + sr * cp * sy,
        cr * cp * sy - sr * sp * cy,
    )
    return np.stack(parts, axis=-1)


def euler_angles(attitude: Array) -> Array:
    """Bank, pitch attitude and heading of a quaternion.

    Parameters
    ----------
    attitude : ndarray, (..., 4)
        Unit quaternion. [-]

    Returns
    -------
    ndarray, (..., 3)
        Pitch attitude within a quarter turn either way. [rad]
    """
    w, x, y, z = np.moveaxis(attitude, -1, 0)
    bank = np.arctan2(2.0 * (w * x + y * z), 1.0 - 2.0 * (x * x + y * y))
    pitch = np.arcsin(np.clip(2.0 * (w * y - x * z), -1.0, 1.0))
    heading = np.arctan2(2.0 * (w * z + x * y), 1.0 - 2.0 * (y * y + z * z))
    return np.stack([bank, pitch, heading], axis=-1)


def to_earth(attitude: Array, vector: Array) -> Array:
    """Turn a vector of the body into the earth's axes.

    Parameters
    ----------
    attitude : ndarray, (..., 4)
        Unit quaternion. [-]
    vector : ndarray, (..., 3)
        In the body. [any]

    Returns
    -------
    ndarray, (..., 3)
    """
    scalar, axis = attitude[..., :1], attitude[..., 1:]
    twice = 2.0 * np.cross(axis, vector)
    return vector + scalar * twice + np.cross(axis, twice)


def to_body(attitude: Array, vector: Array) -> Array:
    """Turn a vector of the earth into the body's axes; undoes :func:`to_earth`.

    Parameters
    ----------
    attitude : ndarray, (..., 4)
        Unit quaternion. [-]
    vector : ndarray, (..., 3)
        In the earth. [any]

    Returns
    -------
    ndarray, (..., 3)
    """
    return to_earth(attitude * np.array([1.0, -1.0, -1.0, -1.0]), vector)


def turn_rates(turn: ArrayLike, *, bank: ArrayLike, pitch: ArrayLike) -> Array:
    r"""Body rates in a steady turn.

    .. math:: (p, q, r) = \Omega\,(-\sin\theta,\ \sin\phi\cos\theta,\ \cos\phi\cos\theta)

    Parameters
    ----------
    turn : array_like
        Rate of heading, to the right positive. [rad/s]
    bank, pitch : array_like
        Held attitude. [rad]

    Returns
    -------
    ndarray, (..., 3)
        Roll, pitch, yaw. [rad/s]
    """
    omega, phi, theta = np.broadcast_arrays(as_array(turn), as_array(bank), as_array(pitch))
    level = omega * np.cos(theta)
    return np.stack([-omega * np.sin(theta), level * np.sin(phi), level * np.cos(phi)], axis=-1)


def motion_slope(
    body: RigidBody, loads: Loads, *, gravity: float = GRAVITY
) -> Callable[[float, Array], Array]:
    r"""Make the equations of motion of a body.

    .. math:: \dot v = F/m + g - \omega \times v, \quad
              I \dot\omega = M - \omega \times I\omega, \quad \dot e = \tfrac12 e \otimes \omega

    Parameters
    ----------
    body : RigidBody
        Mass and inertia. [kg, kg m²]
    loads : callable
        Force and moment on the body in its own axes, gravity left out. [N], [N m]
    gravity : float, optional
        Down in the earth. [m/s²]

    Returns
    -------
    callable
        Slope of the packed state.

    References
    ----------
    .. [1] B. Etkin, L. D. Reid, Dynamics of Flight, 3rd ed., 1996, ch. 4 (from memory).
    """
    inverse = np.linalg.inv(body.inertia)
    down = np.array([0.0, 0.0, gravity])

    def slope(time: float, state: Array) -> Array:
        here = unpacked(state)
        force, moment = loads(time, here)
        v, w = here.velocity, here.rates
        speed_up = force / body.mass + to_body(here.attitude, down) - np.cross(w, v)
        spin_up = (moment - np.cross(w, w @ body.inertia.T)) @ inverse.T
        return np.concatenate(
            [here.earth_velocity, _turning(here.attitude, w), speed_up, spin_up], axis=-1
        )

    return slope


def unpacked(state: Array) -> Motion:
    """Read a state laid out in one row; its quaternion is brought back to unit length.

    Parameters
    ----------
    state : ndarray, (..., 13)
        From :meth:`Motion.packed`. [m, -, m/s, rad/s]

    Returns
    -------
    Motion
    """
    turn = state[..., 3:7]
    unit = turn / np.linalg.norm(turn, axis=-1, keepdims=True)
    return Motion(
        place=state[..., :3], attitude=unit, velocity=state[..., 7:10], rates=state[..., 10:13]
    )


def _turning(attitude: Array, rates: Array) -> Array:
    w, x, y, z = np.moveaxis(attitude, -1, 0)
    p, q, r = np.moveaxis(rates, -1, 0)
    parts = (
        -x * p - y * q - z * r,
        w * p + y * r - z * q,
        w * q + z * p - x * r,
        w * r + x * q - y * p,
    )
    return 0.5 * np.stack(parts, axis=-1)


def rk4_step(slope: Slope, time: float, state: Array, step: float) -> Array:
    """Go one step of the classical fourth-order Runge-Kutta method.

    Parameters
    ----------
    slope : callable
        Of the state. [1/s]
    time, step : float
        Now, and how far to go. [s]
    state : ndarray
        Now. [any]

    Returns
    -------
    ndarray
        The state a step later; its error falls as the fourth power of the step.
    """
    half = 0.5 * step
    k1 = slope(time, state)
    k2 = slope(time + half, state + half * k1)
    k3 = slope(time + half, state + half * k2)
    k4 = slope(time + step, state + step * k3)
    return state + step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)


def integrate(slope: Slope, start: Array, *, step: float, count: int) -> tuple[Array, Array]:
    """Follow a state for a number of equal steps.

    Parameters
    ----------
    slope : callable
        Of the state. [1/s]
    start : ndarray, (..., n)
        At time nought. [any]
    step : float
        Of time. [s]
    count : int
        How many. [-]

    Returns
    -------
    tuple of ndarray
        Times (count + 1,) and states (count + 1, ..., n). [s]
    """
    states = np.empty((count + 1, *start.shape))
    states[0] = start
    for k in range(count):
        states[k + 1] = rk4_step(slope, k * step, states[k], step)
    return step * np.arange(count + 1, dtype=np.float64), states


def fly(
    body: RigidBody,
    start: Motion,
    *,
    loads: Loads,
    step: float,
    count: int,
    gravity: float = GRAVITY,
) -> tuple[Array, Motion]:
    """Follow the motion of a body.

    Parameters
    ----------
    body : RigidBody
        Mass and inertia. [kg, kg m²]
    start : Motion
        At time nought. [m, m/s, rad/s]
    loads : callable
        Force and moment on it, gravity left out. [N], [N m]
    step : float
        Of time; a hundredth of the fastest mode's period is plenty. [s]
    count : int
        How many steps. [-]
    gravity : float, optional
        Down in the earth. [m/s²]

    Returns
    -------
    tuple
        Times [s], and the motion with time as its first axis.
    """
    slope = motion_slope(body, loads, gravity=gravity)
    times, states = integrate(slope, start.packed(), step=step, count=count)
    return times, unpacked(states)
