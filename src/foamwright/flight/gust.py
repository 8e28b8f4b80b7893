"""Gusts and turbulence: what a model meets near the ground and what it does to the load.

Linear increments of incidence; a gust of 3 m/s turns the wind of a model at 12 m/s by 14°, so the
answers carry the lift they ask for, and whoever uses them compares it with the stall.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, GRAVITY, Array, Flags, as_array, as_arrays, only_where

_FOOT = 0.3048
#: Heights for which the low-altitude model of turbulence is given: 10 to 1000 ft. [m]
LOWEST, HIGHEST = 10.0 * _FOOT, 1000.0 * _FOOT


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Turbulence:
    """Dryden turbulence at a height."""

    length_along: Array  # m, Lu, and across
    length_up: Array  # m, Lw
    strength_along: Array  # m/s, one sigma, and across
    strength_up: Array  # m/s, one sigma


def turbulence(height: ArrayLike, *, wind: ArrayLike) -> Turbulence:
    r"""Dryden turbulence near the ground.

    .. math:: L_w = h, \quad L_u = h/(0.177 + 0.000823\,h)^{1.2}, \quad \sigma_w = 0.1\,W_{20},
              \quad \sigma_u = \sigma_w/(0.177 + 0.000823\,h)^{0.4} \quad (h \text{ in feet})

    Parameters
    ----------
    height : array_like
        Above the ground, 3 to 305 m; nan outside. [m]
    wind : array_like
        Mean wind 6 m (20 ft) above the ground: 15, 30, 45 knots stand for light, moderate and
        severe. [m/s]

    Returns
    -------
    Turbulence

    References
    ----------
    .. [1] MIL-F-8785C, 1980, section 3.7.3, low-altitude model.
    """
    h, speed = as_arrays(height, wind)
    h = only_where((h >= LOWEST) & (h <= HIGHEST), h)
    base = 0.177 + 0.000823 * h / _FOOT
    up = 0.1 * speed
    return Turbulence(
        length_along=h / base**1.2,
        length_up=h,
        strength_along=up / base**0.4,
        strength_up=up + 0.0 * h,
    )


def spectrum_along(wave: ArrayLike, *, strength: ArrayLike, length: ArrayLike) -> Array:
    r"""Dryden spectrum along the flight, one-sided. [m³/s²]

    .. math:: \Phi_u = \sigma^2 \frac{2L}{\pi} \frac{1}{1 + (L\Omega)^2}

    Parameters
    ----------
    wave : array_like
        Spatial frequency. [rad/m]
    strength : array_like
        One sigma. [m/s]
    length : array_like
        Scale. [m]

    Returns
    -------
    ndarray
    """
    big = as_array(length)
    return as_array(strength) ** 2 * 2.0 * big / np.pi / (1.0 + (big * as_array(wave)) ** 2)


def spectrum_up(wave: ArrayLike, *, strength: ArrayLike, length: ArrayLike) -> Array:
    r"""Dryden spectrum across the flight and upwards, one-sided. [m³/s²]

    .. math:: \Phi_w = \sigma^2 \frac{L}{\pi} \frac{1 + 3(L\Omega)^2}{(1 + (L\Omega)^2)^2}

    Parameters
    ----------
    wave : array_like
        Spatial frequency. [rad/m]
    strength : array_like
        One sigma. [m/s]
    length : array_like
        Scale. [m]

    Returns
    -------
    ndarray
    """
    big = as_array(length)
    square = (big * as_array(wave)) ** 2
    return as_array(strength) ** 2 * big / np.pi * (1.0 + 3.0 * square) / (1.0 + square) ** 2


def rising_gust(distance: ArrayLike, *, strength: ArrayLike, length: ArrayLike) -> Array:
    r"""Discrete gust that rises as one minus a cosine and then stays. [m/s]

    .. math:: v = \tfrac12 V_m (1 - \cos(\pi x/d_m)), \quad 0 \le x \le d_m

    Parameters
    ----------
    distance : array_like
        Flown into it; nothing before nought. [m]
    strength : array_like
        In the end. [m/s]
    length : array_like
        Over which it rises. [m]

    Returns
    -------
    ndarray

    References
    ----------
    .. [1] MIL-F-8785C, 1980, section 3.7.2 (from memory).
    """
    share = np.clip(as_array(distance) / as_array(length), 0.0, 1.0)
    return 0.5 * as_array(strength) * (1.0 - np.cos(np.pi * share))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GustLoad:
    """What an upward gust does to a model in level flight, on straight lift curves."""

    load: Array  # load factor added, sharp-edged
    alleviated: Array  # the same with the gust's build-up and the model's own rise
    incidence: Array  # rad added
    lift: Array  # CL at that angle, without regard to the stall
    mass_ratio: Array  # mu
    alleviation: Array  # K

    def stalls(self, largest_lift: ArrayLike) -> Flags:
        """Whether the sharp gust asks for more lift than the wing has. [-]"""
        return self.lift > as_array(largest_lift)


def gust_load(
    gust: ArrayLike,
    *,
    speed: ArrayLike,
    loading: ArrayLike,
    lift_slope: ArrayLike,
    chord: ArrayLike,
    density: ArrayLike = DENSITY,
    gravity: ArrayLike = GRAVITY,
) -> GustLoad:
    r"""Load of an upward gust in level flight.

    .. math:: \Delta n = \frac{\rho V U a}{2 W/S} K, \quad K = \frac{0.88\mu}{5.3 + \mu}, \quad
              \mu = \frac{2 W/S}{\rho c a g}

    Parameters
    ----------
    gust : array_like
        Upwards. [m/s]
    speed : array_like
        Airspeed. [m/s]
    loading : array_like
        Weight over area. [N/m²]
    lift_slope : array_like
        Of the whole aeroplane. [1/rad]
    chord : array_like
        Mean. [m]
    density : array_like, optional
        Of the air. [kg/m³]
    gravity : array_like, optional
        Of the place. [m/s²]

    Returns
    -------
    GustLoad

    Notes
    -----
    Straight lift curve: where it stalls, the load ends there. K was fitted to full-size
    aeroplanes (mass ratios of some 15 and more); models lie at 3 to 10, where it is a guide.

    References
    ----------
    .. [1] 14 CFR 23.341 as before 2017 (K and mu; the constant 498 there is unit conversion).
    """
    u, v, w, a, c, rho, g = as_arrays(gust, speed, loading, lift_slope, chord, density, gravity)
    ratio = 2.0 * w / (rho * c * a * g)
    relief = 0.88 * ratio / (5.3 + ratio)
    load = 0.5 * rho * v * u * a / w
    level = w / (0.5 * rho * v**2)
    angle = np.arctan2(u, v)  # the rule above takes U/V for it: 2 % more at 14°
    return GustLoad(
        load=load,
        alleviated=relief * load,
        incidence=angle,
        lift=level + a * angle,
        mass_ratio=ratio,
        alleviation=relief,
    )


def lift_factor(speed: ArrayLike, *, gain: ArrayLike) -> Array:
    """Lift after a sudden change of headwind over that before, at the same incidence. [-]

    Parameters
    ----------
    speed : array_like
        Airspeed before. [m/s]
    gain : array_like
        Headwind gained, negative where it drops. [m/s]

    Returns
    -------
    ndarray

    Notes
    -----
    Below nought airspeed there is no answer: nan.
    """
    v, u = as_arrays(speed, gain)
    return (only_where(v + u >= 0.0, v + u) / v) ** 2
