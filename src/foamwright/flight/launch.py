"""Getting off the ground: throws, bungees and the run on wheels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, GRAVITY, Array, Flags, as_array, as_arrays, only_where
from foamwright.flight.performance import Polar
from foamwright.flight.rigidbody import Slope, rk4_step

_STEP = 0.005  # s; the height lost changes by less than 1e-6 m with half of it
_LONGEST = 15.0  # s, a throw that has not levelled by then has failed


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Launch:
    """A throw, up to where its path is level again."""

    height_lost: Array  # m, nan where the path never levels
    speed: Array  # m/s, then
    time: Array  # s, from the hand
    levels: Flags  # whether it does so at all


def hand_launch(
    polar: Polar,
    *,
    speed: ArrayLike,
    thrust: ArrayLike,
    lift: ArrayLike,
    climb_angle: ArrayLike = 0.0,
) -> Launch:
    r"""Height lost after a throw before the path turns level.

    .. math:: \dot V = (T - D)/m - g\sin\gamma, \quad V\dot\gamma = L/m - g\cos\gamma

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]
    speed : array_like
        Leaving the hand, through the air: the throw plus the wind. [m/s]
    thrust : array_like
        Along the path, held constant. [N]
    lift : array_like
        CL that is held, below the stall's. [-]
    climb_angle : array_like, optional
        Of the path as it leaves the hand, upwards positive. [rad]

    Returns
    -------
    Launch

    Notes
    -----
    A point mass at constant lift coefficient: no pitching, no flyer. Steps of 5 ms, fourth order.
    """
    v, angle, push, cl = as_arrays(speed, climb_angle, thrust, lift)
    m, area, rho = as_arrays(polar.mass, polar.area, polar.density)
    shape = np.broadcast_shapes(v.shape, m.shape)
    per_mass = 0.5 * rho * area / m
    drag = polar.drag_coefficient(cl)

    def slope(_: float, state: Array) -> Array:
        fast, path = state[..., 0], state[..., 1]
        along = push / m - per_mass * drag * fast**2 - GRAVITY * np.sin(path)
        turn = per_mass * cl * fast - GRAVITY * np.cos(path) / fast
        return np.stack([along, turn, fast * np.sin(path)], axis=-1)

    start = np.stack(np.broadcast_arrays(v, angle, np.zeros(shape)), axis=-1)
    return _until_level(slope, start)


def _until_level(slope: Slope, start: Array) -> Launch:
    state = start
    done = np.zeros(start.shape[:-1], dtype=np.bool_)
    dipped = start[..., 1] < 0.0
    lost, speed, moment = (np.full(done.shape, np.nan) for _ in range(3))
    for count in range(round(_LONGEST / _STEP)):
        after = rk4_step(slope, count * _STEP, state, _STEP)
        turning = ~done & (state[..., 1] < 0.0) & (after[..., 1] >= 0.0)
        rise = after[..., 1] - state[..., 1]
        share = -state[..., 1] / np.where(rise == 0.0, 1.0, rise)
        middle = state + share[..., None] * (after - state)
        lost = np.where(turning, np.maximum(-middle[..., 2], 0.0), lost)
        speed = np.where(turning, middle[..., 0], speed)
        moment = np.where(turning, (count + share) * _STEP, moment)
        done, dipped = done | turning, dipped | (after[..., 1] < 0.0)
        state = after
        if np.all(done):
            break
    climbs = ~done & ~dipped  # away from the hand at once
    return Launch(
        height_lost=np.where(climbs, 0.0, lost),
        speed=np.where(climbs, start[..., 0], speed),
        time=np.where(climbs, 0.0, moment),
        levels=done | climbs,
    )


def throw_range(
    speed: ArrayLike, *, height: ArrayLike, climb_angle: ArrayLike = 0.0
) -> tuple[Array, Array]:
    """Way and time to the ground of a thrown body without lift or drag. [m], [s]

    Parameters
    ----------
    speed : array_like
        Leaving the hand. [m/s]
    height : array_like
        Of the hand. [m]
    climb_angle : array_like, optional
        Upwards positive. [rad]

    Returns
    -------
    tuple of ndarray

    Notes
    -----
    What a stalled throw comes to, and how little time it leaves.
    """
    v, h, angle = as_arrays(speed, height, climb_angle)
    up = v * np.sin(angle)
    time = (up + np.sqrt(up**2 + 2.0 * GRAVITY * h)) / GRAVITY
    return v * np.cos(angle) * time, time


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bungee:
    """A launch by rubber."""

    speed: Array  # m/s
    force: Array  # N, at the start
    load_factor: Array  # force over weight, at the start


def bungee_launch(
    stiffness: ArrayLike, *, stretch: ArrayLike, efficiency: ArrayLike, mass: ArrayLike
) -> Bungee:
    r"""Speed that a stretched rubber gives.

    .. math:: \tfrac12 k x^2 \eta = \tfrac12 m V^2

    Parameters
    ----------
    stiffness : array_like
        Pull over stretch, taken as constant. [N/m]
    stretch : array_like
        Beyond its free length. [m]
    efficiency : array_like
        Share of the energy that reaches the aeroplane. [-]
    mass : array_like
        All-up. [kg]

    Returns
    -------
    Bungee
    """
    k, x, eta, m = as_arrays(stiffness, stretch, efficiency, mass)
    return Bungee(speed=np.sqrt(eta * k / m) * x, force=k * x, load_factor=k * x / (m * GRAVITY))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TakeOff:
    """A run on wheels; nan where the thrust never gets it to speed."""

    length: Array  # m
    time: Array  # s


def take_off_run(
    mass: ArrayLike,
    *,
    area: ArrayLike,
    thrust: ArrayLike,
    rolling: ArrayLike,
    lift: ArrayLike,
    drag: ArrayLike,
    lift_off: ArrayLike,
    density: ArrayLike = DENSITY,
) -> TakeOff:
    r"""Run to lift-off speed at constant thrust, lift and drag coefficient.

    .. math:: s = \frac{1}{2B}\ln\frac{A}{A - B V^2}, \quad A = T/m - \mu g, \quad
              B = \rho S (C_D - \mu C_L)/(2m)

    Parameters
    ----------
    mass : array_like
        All-up. [kg]
    area : array_like
        Of the wing. [m²]
    thrust : array_like
        Mean over the run; that at 0.7 of lift-off speed serves. [N]
    rolling : array_like
        Rolling resistance over load; cut grass 0.05 to 0.1, hard ground 0.02 to 0.04 (common
        practice, no source). [-]
    lift, drag : array_like
        Coefficients in the attitude of the run. [-]
    lift_off : array_like
        Airspeed to reach; no wind. [m/s]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    TakeOff

    Notes
    -----
    Level ground, no wind, no bumps; wheels that stay small against the grass.
    """
    m, area, push, mu, cl, cd, v, rho = as_arrays(
        mass, area, thrust, rolling, lift, drag, lift_off, density
    )
    start = push / m - mu * GRAVITY
    start = only_where(start > 0.0, start)
    loss = 0.5 * rho * area * (cd - mu * cl) / m
    x = loss * v**2 / start
    x = only_where(x < 1.0, x)
    # s = V²/2A f(x) and t = V/A g(x), whose series start as 1 + x/2 and 1 + x/3.
    small = np.abs(x) < 1e-8
    safe = np.where(small, 0.5, x)
    root = np.sqrt(np.abs(safe))
    slow = np.arctanh(np.where(safe > 0.0, root, 0.0))
    fast = np.arctan(np.where(safe > 0.0, 0.0, root))
    length = np.where(small, 1.0 + 0.5 * x, -np.log1p(-safe) / safe)
    time = np.where(small, 1.0 + x / 3.0, (slow + fast) / root)
    return TakeOff(length=0.5 * v**2 / start * length, time=v / start * time)


def ground_drag_share(height: ArrayLike, *, span: ArrayLike) -> Array:
    r"""Induced drag near the ground over that far from it. [-]

    .. math:: \phi = (16 h/b)^2/(1 + (16 h/b)^2)

    Parameters
    ----------
    height : array_like
        Of the wing above the ground. [m]
    span : array_like
        Of the wing. [m]

    Returns
    -------
    ndarray

    References
    ----------
    .. [1] J. D. Anderson, Introduction to Flight, ch. 6 (from memory).
    """
    square = (16.0 * as_array(height) / as_array(span)) ** 2
    return square / (1.0 + square)


def mean_force_run(
    polar: Polar,
    *,
    thrust: ArrayLike,
    rolling: ArrayLike,
    largest_lift: ArrayLike,
    ground_share: ArrayLike = 1.0,
    gravity: ArrayLike = GRAVITY,
) -> Array:
    r"""Take-off run from forces averaged at 0.7 of lift-off speed. [m]

    .. math:: s = \frac{1.44\,W^2}{g \rho S C_{L,max}\,
              (T - [D + \mu(W - L)]_{0.7 V_{LO}})}

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]
    thrust : array_like
        Mean. [N]
    rolling : array_like
        Rolling resistance over load. [-]
    largest_lift : array_like
        CL at the stall, held through the run; lift-off at 1.2 of the stall's speed. [-]
    ground_share : array_like, optional
        From :func:`ground_drag_share`. [-]
    gravity : array_like, optional
        By which the weight is reckoned. [m/s²]

    Returns
    -------
    ndarray
        nan where the thrust does not suffice.

    References
    ----------
    .. [1] J. D. Anderson, Introduction to Flight, ch. 6 (from memory).
    """
    top, g = as_array(largest_lift), as_array(gravity)
    weight = as_array(polar.mass) * g
    rho, area = as_array(polar.density), as_array(polar.area)
    pressure = 0.49 * 1.44 * weight / (area * top)  # at 0.7 of 1.2 times the stall
    induced = as_array(ground_share) * as_array(polar.lift_drag) * top**2
    drag = pressure * area * (as_array(polar.zero_lift_drag) + induced)
    ground = as_array(rolling) * np.maximum(weight - pressure * area * top, 0.0)
    left = as_array(thrust) - drag - ground
    return 1.44 * weight**2 / (g * rho * area * top * only_where(left > 0.0, left))
