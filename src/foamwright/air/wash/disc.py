"""The propeller disc of momentum theory: induced velocity and the stream tube through it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def induced_velocity(
    thrust: ArrayLike, *, airspeed: ArrayLike, area: ArrayLike, density: ArrayLike = 1.225
) -> Array:
    r"""Velocity that a disc adds to the air that passes through it.

    .. math:: T = 2\rho A\,v\,(V + v)

    Parameters
    ----------
    thrust : array_like
        Negative where the propeller brakes. [N]
    airspeed : array_like
        Along the axis, 0 or above. [m/s]
    area : array_like
        Of the disc. [m²]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        v at the disc; far behind it is 2v. NaN where it flies backwards, or brakes by more
        than momentum theory can say (half the speed is taken out at the disc). [m/s]

    References
    ----------
    .. [1] W. J. M. Rankine, R. E. Froude; as in H. Glauert, The Elements of Aerofoil and
       Airscrew Theory, 1926, ch. XV.
    """
    t, v0, a, rho = (np.asarray(x, dtype=np.float64) for x in (thrust, airspeed, area, density))
    square = 0.25 * v0 * v0 + t / (2.0 * rho * a)
    valid = (square >= 0.0) & (v0 >= 0.0)
    root = np.sqrt(np.where(valid, square, 0.0))
    # T/(2 rho A)/(V/2 + root) is the same without the difference of nearly equal numbers.
    down = 0.5 * v0 + root
    v = np.divide(t, 2.0 * rho * a * down, out=np.zeros_like(down + t), where=down > 0.0)
    return np.where(valid, v, np.nan)


def stream_growth(place: ArrayLike, *, radius: ArrayLike) -> Array:
    r"""How far the added velocity has grown at a place along the axis.

    .. math:: 1 + s/\sqrt{R^2 + s^2}

    Parameters
    ----------
    place : array_like
        s, behind the disc positive. [m]
    radius : array_like
        R, of the disc. [m]

    Returns
    -------
    ndarray
        0 far ahead, 1 at the disc, 2 far behind. [-]

    Notes
    -----
    On the axis of a vortex tube that starts at the disc and does not contract.

    References
    ----------
    .. [1] B. W. McCormick, Aerodynamics, Aeronautics, and Flight Mechanics (from memory).
    """
    s = np.asarray(place, dtype=np.float64)
    return 1.0 + s / np.hypot(np.asarray(radius, dtype=np.float64), s)


def tube_radius(
    place: ArrayLike, *, radius: ArrayLike, airspeed: ArrayLike, induced: ArrayLike
) -> Array:
    r"""Radius of the stream tube at a place along the axis, by continuity.

    .. math:: r^2\,(V + v\,g(s)) = R^2\,(V + v)

    Parameters
    ----------
    place : array_like
        s, behind the disc positive. [m]
    radius : array_like
        Of the disc. [m]
    airspeed, induced : array_like
        V along the axis, and v at the disc. [m/s]

    Returns
    -------
    ndarray
        Endless where no air moves. [m]
    """
    v0, v = np.asarray(airspeed, dtype=np.float64), np.asarray(induced, dtype=np.float64)
    here = v0 + v * stream_growth(place, radius=radius)
    ratio = np.divide(v0 + v, here, out=np.full_like(here, np.inf), where=here > 0.0)
    return np.asarray(radius, dtype=np.float64) * np.sqrt(np.where(v0 + v > 0.0, ratio, 1.0))


def swirl_share(share: ArrayLike) -> Array:
    r"""Swirl at a share of the tube's radius, over its nominal value.

    .. math:: \xi/\sqrt{\xi^2 + \xi_c^2}

    Parameters
    ----------
    share : array_like
        Radius over the tube's. [-]

    Returns
    -------
    ndarray
        0 on the axis. [-]

    Notes
    -----
    Even swirl outside a core of a quarter of the radius; the core has no source. Scaled by
    ``SWIRL_MOMENT`` it carries the torque exactly.
    """
    xi = np.asarray(share, dtype=np.float64)
    return xi / np.sqrt(xi * xi + _CORE * _CORE)


_CORE = 0.25
_TOP = float(np.sqrt(1.0 + _CORE**2))
#: Integral of 2 xi² times the swirl's share over the disc: torque over mass flow, radius and
#: nominal swirl. Without a core it is 2/3: the mean radius of "about 0.7 R".
SWIRL_MOMENT = 2.0 * ((_TOP**3 / 3.0 - _CORE**2 * _TOP) - (_CORE**3 / 3.0 - _CORE**3))
