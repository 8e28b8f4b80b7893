"""Momentum theory of the propeller disc, its slipstream and swirl, and simple shop arithmetic."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

#: Mean radius at which the swirl counts, share of the tip radius.
SWIRL_RADIUS = 0.7


@dataclass(frozen=True, slots=True)
class IdealDisc:
    """The least a disc must spend for its thrust."""

    induced: Array  # m/s at the disc
    power: Array  # W
    efficiency: Array  # -
    wake: Array  # m/s, far behind


def induced_speed(
    thrust: ArrayLike, *, diameter: ArrayLike, airspeed: ArrayLike, density: ArrayLike = 1.225
) -> Array:
    r"""Speed that a disc adds to the air going through it.

    .. math:: T = 2 \rho A v (V + v)

    Parameters
    ----------
    thrust : array_like
        Positive forward; a braking disc gives a negative speed. [N]
    diameter : array_like
        Of the disc. [m]
    airspeed : array_like
        Along the shaft. [m/s]
    density : array_like
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        Induced speed at the disc. [m/s]

    Notes
    -----
    A brake of more than momentum theory allows (ring state) is held at half the airspeed.

    References
    ----------
    .. [1] H. Glauert, Airplane propellers, in Durand, Aerodynamic Theory IV, 1935.
    """
    t, v = np.asarray(thrust, dtype=np.float64), np.asarray(airspeed, dtype=np.float64)
    area = 0.25 * math.pi * np.asarray(diameter, dtype=np.float64) ** 2
    rho = np.asarray(density, dtype=np.float64)
    return 0.5 * (np.sqrt(np.maximum(v * v + 2.0 * t / (rho * area), 0.0)) - v)


def ideal_disc(
    thrust: ArrayLike, *, diameter: ArrayLike, airspeed: ArrayLike, density: ArrayLike = 1.225
) -> IdealDisc:
    """Ideal power, efficiency and wake of a disc.

    Parameters
    ----------
    thrust : array_like
        Positive forward. [N]
    diameter : array_like
        Of the disc. [m]
    airspeed : array_like
        Along the shaft. [m/s]
    density : array_like
        Of the air. [kg/m³]

    Returns
    -------
    IdealDisc
        No swirl, no drag, even loading. [m/s, W, -]
    """
    v = induced_speed(thrust, diameter=diameter, airspeed=airspeed, density=density)
    speed, t = np.asarray(airspeed, dtype=np.float64), np.asarray(thrust, dtype=np.float64)
    through = speed + v
    efficiency = np.where(through > 0.0, speed / np.maximum(through, 1e-12), 0.0)
    return IdealDisc(v, t * through, efficiency, speed + 2.0 * v)


def slipstream(
    thrust: ArrayLike,
    *,
    diameter: float,
    airspeed: ArrayLike,
    behind: ArrayLike,
    density: float = 1.225,
) -> tuple[Array, Array]:
    """Axial speed and radius of the slipstream at a distance behind the disc.

    Parameters
    ----------
    thrust : array_like
        Positive forward. [N]
    diameter : float
        Of the disc. [m]
    airspeed : array_like
        Along the shaft. [m/s]
    behind : array_like
        Distance behind the disc; negative is ahead. [m]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    tuple of ndarray
        Speed and radius. [m/s, m]

    References
    ----------
    .. [1] B. W. McCormick, Aerodynamics, Aeronautics and Flight Mechanics (vortex cylinder).
    """
    radius = 0.5 * diameter
    v = induced_speed(thrust, diameter=diameter, airspeed=airspeed, density=density)
    x, ahead = np.asarray(behind, dtype=np.float64), np.asarray(airspeed, dtype=np.float64)
    speed = ahead + v * (1.0 + x / np.sqrt(radius**2 + x**2))
    share = np.where(speed > 0.0, (ahead + v) / np.maximum(speed, 1e-12), 1.0)
    return speed, radius * np.sqrt(share)


def swirl_speed(
    torque: ArrayLike, *, thrust: ArrayLike, diameter: float, airspeed: ArrayLike, density: float
) -> Array:
    """Mean sideways speed of the twisted slipstream, Q / (density A (V + v) r).

    Parameters
    ----------
    torque : array_like
        Of the shaft. [N m]
    thrust : array_like
        Positive forward. [N]
    diameter : float
        Of the disc. [m]
    airspeed : array_like
        Along the shaft. [m/s]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        Speed in the sense of rotation, at 0.7 of the radius. [m/s]
    """
    v = induced_speed(thrust, diameter=diameter, airspeed=airspeed, density=density)
    area = 0.25 * math.pi * diameter**2
    through = np.asarray(airspeed, dtype=np.float64) + v
    flow = density * area * through * SWIRL_RADIUS * 0.5 * diameter
    q = np.asarray(torque, dtype=np.float64)
    return np.where(flow > 0.0, q / np.maximum(flow, 1e-12), 0.0)


def pitch_speed(pitch: ArrayLike, *, rotation: ArrayLike) -> Array:
    """Speed at which a screw of that pitch would advance.

    Parameters
    ----------
    pitch : array_like
        Advance in one turn. [m]
    rotation : array_like
        Revolutions per second. [1/s]

    Returns
    -------
    ndarray
        Pitch speed. [m/s]
    """
    return np.asarray(pitch, dtype=np.float64) * np.asarray(rotation, dtype=np.float64)
