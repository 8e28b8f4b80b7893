"""Air at the field: the standard atmosphere below 11 km, and air as measured, damp or dry."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import GRAVITY, Array, as_array, as_arrays, only_where

#: Sea level of the standard. [K], [Pa]
SEA_TEMPERATURE, SEA_PRESSURE = 288.15, 101325.0
#: How temperature falls with height. [K/m]
LAPSE = 0.0065
#: Gas constants of dry air and of water vapour. [J/(kg K)] (287.05287 is the standard's 8.31432
#: over 28.9644; 461.5 follows from a molar mass of 18.016)
DRY_GAS, VAPOUR_GAS = 287.05287, 461.5
#: Radius of the earth by which the standard turns heights into geopotential ones. [m]
EARTH_RADIUS = 6_356_766.0
#: Height of the tropopause, and the lowest height the standard tabulates. [m]
HIGHEST, LOWEST = 11_000.0, -5_000.0
#: Sutherland's constants in the standard. [kg/(m s K^1/2)], [K]
_SUTHERLAND, _SUTHERLAND_TEMPERATURE = 1.458e-6, 110.4
_HEAT_RATIO = 1.4
_POWER = GRAVITY / (DRY_GAS * LAPSE)  # 5.2559, pressure by temperature


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Air:
    """Air at one place or many."""

    temperature: Array  # K
    pressure: Array  # Pa
    density: Array  # kg/m³

    @property
    def viscosity(self) -> Array:
        """Dynamic viscosity, by Sutherland's law. [Pa s]"""
        t = self.temperature
        return _SUTHERLAND * t**1.5 / (t + _SUTHERLAND_TEMPERATURE)

    @property
    def kinematic_viscosity(self) -> Array:
        """Viscosity over density. [m²/s]"""
        return self.viscosity / self.density

    @property
    def sound_speed(self) -> Array:
        """Speed of sound of dry air. [m/s]"""
        return np.sqrt(_HEAT_RATIO * DRY_GAS * self.temperature)

    def reynolds(self, speed: ArrayLike, *, chord: ArrayLike) -> Array:
        """Reynolds number of a chord. [-]

        Parameters
        ----------
        speed : array_like
            Airspeed. [m/s]
        chord : array_like
            Length along the flow. [m]

        Returns
        -------
        ndarray
        """
        return as_array(speed) * as_array(chord) / self.kinematic_viscosity


def geopotential(height: ArrayLike) -> Array:
    """Height in the standard's own measure, gravity taken as constant. [m]

    Parameters
    ----------
    height : array_like
        Geometric height above the sea. [m]

    Returns
    -------
    ndarray
    """
    z = as_array(height)
    return EARTH_RADIUS * z / (EARTH_RADIUS + z)


def standard_air(height: ArrayLike = 0.0, *, warmer: ArrayLike = 0.0) -> Air:
    r"""Air of the standard atmosphere, or of one warmer throughout at the same pressure.

    .. math:: T = T_0 - L h, \quad p = p_0 (T/T_0)^{g/(RL)}, \quad \rho = p/(R (T + \Delta T))

    Parameters
    ----------
    height : array_like, optional
        Geopotential height above the sea; at model heights the geometric one serves. [m]
    warmer : array_like, optional
        Temperature above the standard's at that height. [K]

    Returns
    -------
    Air

    Notes
    -----
    From -5 to 11 km; nan outside. Dry air.

    References
    ----------
    .. [1] US Standard Atmosphere, NOAA, NASA, USAF, 1976.
    """
    h, more = as_arrays(height, warmer)
    cold = only_where((h >= LOWEST) & (h <= HIGHEST), SEA_TEMPERATURE - LAPSE * h)
    pressure = SEA_PRESSURE * (cold / SEA_TEMPERATURE) ** _POWER
    temperature = cold + more
    return Air(
        temperature=temperature, pressure=pressure, density=pressure / (DRY_GAS * temperature)
    )


def density_height(density: ArrayLike) -> Array:
    """Height in the standard atmosphere at which the air is as thin as this. [m]

    Parameters
    ----------
    density : array_like
        Of the air at hand. [kg/m³]

    Returns
    -------
    ndarray
        Geopotential height, below 11 km; nan outside. [m]
    """
    sea = SEA_PRESSURE / (DRY_GAS * SEA_TEMPERATURE)
    share = (as_array(density) / sea) ** (1.0 / (_POWER - 1.0))
    height = SEA_TEMPERATURE / LAPSE * (1.0 - share)
    return only_where((height >= LOWEST) & (height <= HIGHEST), height)


def saturation_pressure(temperature: ArrayLike) -> Array:
    r"""Pressure of water vapour at which air is full of it. [Pa]

    .. math:: p_s = 610.94 \exp\frac{17.625\,t}{243.04 + t}

    Parameters
    ----------
    temperature : array_like
        Of the air; t is the same in degrees Celsius. [K]

    Returns
    -------
    ndarray

    Notes
    -----
    Over water, -40 to 50 °C within 0.4 %; nan outside.

    References
    ----------
    .. [1] O. A. Alduchov, R. E. Eskridge, J. Appl. Meteorology 35, 1996 (from memory).
    """
    t = as_array(temperature) - 273.15
    good = (t >= -40.0) & (t <= 50.0)
    held = only_where(good, t)
    return 610.94 * np.exp(17.625 * held / (243.04 + held))


def measured_air(
    temperature: ArrayLike, *, pressure: ArrayLike = SEA_PRESSURE, humidity: ArrayLike = 0.0
) -> Air:
    r"""Air by thermometer, barometer and hygrometer.

    .. math:: \rho = \frac{p - \varphi p_s}{R_d T} + \frac{\varphi p_s}{R_v T}

    Parameters
    ----------
    temperature : array_like
        Of the air. [K]
    pressure : array_like, optional
        At the field itself, not brought down to the sea. [Pa]
    humidity : array_like, optional
        Relative humidity, 0 to 1. [-]

    Returns
    -------
    Air

    Notes
    -----
    Ideal gases; damp air is the lighter one (1 % at 30 °C and 65 %). Viscosity and sound are
    those of dry air.
    """
    t, p, wet = as_arrays(temperature, pressure, humidity)
    wet = only_where((wet >= 0.0) & (wet <= 1.0), wet)
    # Dry air needs no vapour pressure, so its temperature may lie outside that formula.
    vapour = np.where(wet > 0.0, wet * saturation_pressure(t), 0.0 * wet)
    density = (p - vapour) / (DRY_GAS * t) + vapour / (VAPOUR_GAS * t)
    return Air(temperature=t, pressure=p, density=density)
