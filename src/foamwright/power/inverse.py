"""The match asked backward: which throttle gives this thrust, which holds this current."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.power.lines import PowerGroup, PowerLine
from foamwright.power.matching import SEA_LEVEL, Air, match

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# Turns of bisection: a revolution in a million.
_HALVINGS = 40
# Places at which throttle is tried, twice over: a two-thousandth, better still by the chord.
_TRIALS = 33


@dataclass(frozen=True, slots=True)
class Demand:
    """What a line takes to give a wanted thrust."""

    throttle: Array  # share of full; NaN where full throttle is not enough
    rotation: Array  # rev/s
    pack_amps: Array  # A of one line; NaN as above
    pack_volts: Array  # V
    shaft_power: Array  # W
    is_reached: Mask


def throttle_for_thrust(
    group: PowerGroup,
    *,
    thrust: ArrayLike,
    airspeed: ArrayLike,
    charge: ArrayLike = 0.5,
    air: Air = SEA_LEVEL,
) -> Demand:
    """Throttle and current at which like lines give a wanted thrust together.

    Parameters
    ----------
    group : PowerGroup
        Lines that are alike, working at one throttle.
    thrust : array_like
        Of all lines of the group together, installed. [N]
    airspeed : array_like
        Along the shafts. [m/s]
    charge : array_like
        Share of the pack's charge left. [-]
    air : Air
        Density and viscosity.

    Returns
    -------
    Demand
        Of one line; NaN where even full throttle falls short. [-, 1/s, A, V, W]
    """
    line, count = group.lines[0], len(group.lines)
    each, v, s = np.broadcast_arrays(
        np.asarray(thrust, dtype=np.float64) / count,
        np.asarray(airspeed, dtype=np.float64),
        np.asarray(charge, dtype=np.float64),
    )
    n = _rotation_for_thrust(line, each, v, air)
    size = line.propeller.diameter
    c = line.propeller.coefficients(
        v / (n * size), rotation=n, density=air.density, viscosity=air.viscosity
    )
    shaft = c.cp * air.density * n**3 * size**5
    speed, kv, controller = 2.0 * math.pi * n, line.motor.speed_constant, line.controller
    amps = np.maximum(shaft / speed * kv + line.motor.idle_current, 0.0)
    need = speed / kv + amps * (line.motor.resistance + controller.resistance)
    # need = d (E - (d + k (1-d)) amps R): the smaller root of a quadratic in d.
    k = controller.part_loss
    resting, ohms = (
        group.pack.resting_volts(s),
        group.pack.resistance_at(s) * count + controller.leads,
    )
    a, b = (1.0 - k) * amps * ohms, resting - k * amps * ohms
    root = b * b - 4.0 * a * need
    with np.errstate(invalid="ignore", divide="ignore"):
        d = 2.0 * need / (b + np.sqrt(root))
    reached = (root >= 0.0) & (d <= 1.0)
    drawn = np.where(reached, amps * (d + k * (1.0 - d)), np.nan)
    return Demand(
        throttle=np.where(reached, d, np.nan),
        rotation=n,
        pack_amps=drawn,
        pack_volts=resting - group.pack.resistance_at(s) * count * drawn,
        shaft_power=shaft,
        is_reached=reached,
    )


def _rotation_for_thrust(line: PowerLine, thrust: Array, v: Array, air: Air) -> Array:
    """Revolutions per second at which one line gives a thrust; thrust rises with them."""
    size = line.propeller.diameter
    low = np.full(thrust.shape, 0.3)
    # No propeller of any use gives less than a hundredth of density n² D⁴ at J = 0.1.
    high = np.maximum(np.sqrt(np.maximum(thrust, 0.0) / (0.01 * air.density * size**4)), 1.0)
    high = np.maximum(high, v / (0.1 * size))
    for _ in range(_HALVINGS):
        middle = np.sqrt(low * high)
        c = line.propeller.coefficients(
            v / (middle * size), rotation=middle, density=air.density, viscosity=air.viscosity
        )
        enough = c.ct * air.density * middle**2 * size**4 * line.installation.factor >= thrust
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    return np.sqrt(low * high)


def throttle_for_current(
    group: PowerGroup,
    *,
    amps: float,
    airspeed: ArrayLike = 0.0,
    charge: float = 1.0,
    air: Air = SEA_LEVEL,
) -> Array:
    """Throttle at which the pack gives a wanted current.

    Parameters
    ----------
    group : PowerGroup
        All lines at one throttle.
    amps : float
        From the pack, all lines together. [A]
    airspeed : array_like
        Along the shafts. [m/s]
    charge : float
        Share of the pack's charge left. [-]
    air : Air
        Density and viscosity.

    Returns
    -------
    ndarray
        Share of full throttle; 1 where full throttle draws no more than this. [-]
    """
    v = np.asarray(airspeed, dtype=np.float64)
    low, high = np.zeros(v.shape), np.ones(v.shape)
    throttle = high
    for _ in range(2):
        shares = np.linspace(0.0, 1.0, _TRIALS).reshape(-1, *(1 for _ in v.shape))
        tried = low + shares * (high - low)
        drawn = sum(
            point.pack_amps
            for point in match(group, throttle=tried, airspeed=v, charge=charge, air=air)
        )
        drawn = np.asarray(drawn)
        index = np.clip((drawn <= amps).sum(axis=0) - 1, 0, _TRIALS - 2)[None]
        low, high = (
            np.take_along_axis(tried, index, 0)[0],
            np.take_along_axis(tried, index + 1, 0)[0],
        )
        below = np.take_along_axis(drawn, index, 0)[0]
        above = np.take_along_axis(drawn, index + 1, 0)[0]
        share = np.clip((amps - below) / np.maximum(above - below, 1e-12), 0.0, 1.0)
        throttle = low + share * (high - low)
    return throttle
