"""The three-constant motor: speed constant, resistance, idle current; and its heat.

::

    speed  = Kv (V - I R)        torque = (I - I0) / Kv

with Kv in rad/s per volt, so that one over Kv is the torque constant.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.design.model import Motor
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Speed constant seen under load over the one on the label, and its one sigma: eleven outrunners
#: on a static bench, StrawsonDesign/motor_propeller_testing (MIT, 2018): -10 to +11 %, median -5 %.
LABEL_RATIO, LABEL_SCATTER = 0.95, 0.05

#: One sigma of a resistance and an idle current that a catalogue or a regression gives, relative.
#: The regressions are good to a factor of 1.5 either way.
GIVEN_SCATTER, GUESSED_SCATTER = 0.15, 0.25

#: Resistance of copper per kelvin, IEC 60028.
COPPER_COEFFICIENT = 0.00393  # 1/K

#: Winding temperature from which magnets and enamel suffer. Common practice, no source.
WARM_WINDING, HOT_WINDING = 80.0, 110.0  # °C


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorModel:
    """A motor as three constants with their one-sigma scatters."""

    speed_constant: float  # rad/s per V, as seen under load
    resistance: float  # ohm, winding, at 25 °C
    idle_current: float  # A
    speed_scatter: float = 0.0  # relative
    resistance_scatter: float = 0.0  # relative
    idle_scatter: float = 0.0  # relative
    max_current: float | None = None  # A
    diameter: float = 0.028  # m
    length: float = 0.026  # m
    mass: float = 0.05  # kg
    source: str = "given"
    has_controller: bool = False  # whether the resistance counts controller and its leads


@dataclass(frozen=True, slots=True)
class MotorPoint:
    """What a motor does at given volts and amps at its terminals."""

    speed: Array  # rad/s
    torque: Array  # N m
    shaft_power: Array  # W
    input_power: Array  # W
    efficiency: Array  # -


def motor_model(motor: Motor) -> MotorModel:
    """Model a motor of the design file; what it does not say is guessed from its speed constant.

    Parameters
    ----------
    motor : Motor
        As the maker knows it. A label's speed constant is taken at 0.95 of itself.

    Returns
    -------
    MotorModel
        With the scatters that its sources deserve.

    Raises
    ------
    DomainError
        Where the motor has no speed constant, or its readings make no line.
    """
    if motor.measured:
        return _measured_model(motor)
    if motor.speed_constant is None:
        raise DomainError(f'motor "{motor.key}" has no speed constant')
    resistance, idle = guessed_constants(motor.speed_constant)
    knows_r, knows_i = motor.resistance is not None, motor.idle_current is not None
    if motor.resistance is not None:
        resistance = motor.resistance
    if motor.idle_current is not None:
        idle = motor.idle_current
    return MotorModel(
        speed_constant=LABEL_RATIO * motor.speed_constant,
        resistance=resistance,
        idle_current=idle,
        speed_scatter=LABEL_SCATTER,
        resistance_scatter=GIVEN_SCATTER if knows_r else GUESSED_SCATTER,
        idle_scatter=GIVEN_SCATTER if knows_i else GUESSED_SCATTER,
        max_current=motor.max_current,
        diameter=motor.diameter,
        length=motor.length,
        mass=motor.mass.value,
        source="label and catalogue" if knows_r else "guessed from the speed constant",
    )


def _measured_model(motor: Motor) -> MotorModel:
    """Model a motor from its own bench: the line says speed constant and resistance."""
    fit = fit_motor_line(
        volts=[one.volts for one in motor.measured],
        amps=[one.amps for one in motor.measured],
        rpm=[one.speed * 30.0 / math.pi for one in motor.measured],
    )
    knows_idle = motor.idle_current is not None
    idle = motor.idle_current
    if idle is None:
        idle = guessed_constants(fit.speed_constant)[1]
    return MotorModel(
        speed_constant=fit.speed_constant,
        resistance=fit.resistance,
        idle_current=idle,
        # Two readings more than unknowns leave little to judge by: never better than this.
        speed_scatter=max(fit.speed_scatter, 0.01),
        resistance_scatter=max(fit.resistance_scatter, 0.05),
        idle_scatter=GIVEN_SCATTER if knows_idle else GUESSED_SCATTER,
        max_current=motor.max_current,
        diameter=motor.diameter,
        length=motor.length,
        mass=motor.mass.value,
        source="measured line",
        has_controller=True,
    )


def guessed_constants(speed_constant: float) -> tuple[float, float]:
    """First guess of winding resistance and idle current from the speed constant.

    Parameters
    ----------
    speed_constant : float
        Of the label. [rad/s per V]

    Returns
    -------
    tuple of float
        Resistance and idle current; expect a factor of 1.5 either way. [ohm, A]

    References
    ----------
    .. [1] O. Gur, A. Rosen, Optimizing electric propulsion systems for UAVs, AIAA 2008-5916.
    """
    kv = speed_constant * 30.0 / math.pi  # rpm per volt, as the regression has it
    resistance = 60_000.0 / kv**2
    return resistance, 0.2 / resistance**0.6


def motor_point(motor: MotorModel, *, volts: ArrayLike, amps: ArrayLike) -> MotorPoint:
    """Speed, torque and efficiency at given volts and amps.

    Parameters
    ----------
    motor : MotorModel
        The motor.
    volts, amps : array_like
        At its terminals. [V, A]

    Returns
    -------
    MotorPoint
        Broadcast over volts and amps. [rad/s, N m, W, -]

    References
    ----------
    .. [1] M. Drela, First-order DC electric motor model, MIT, 2007 (from memory).
    """
    v, i = np.asarray(volts, dtype=np.float64), np.asarray(amps, dtype=np.float64)
    kv = motor.speed_constant
    speed = kv * (v - i * motor.resistance)
    torque = (i - motor.idle_current) / kv
    shaft, taken = speed * torque, v * i
    with np.errstate(divide="ignore", invalid="ignore"):
        efficiency = np.where(taken > 0.0, shaft / taken, 0.0)
    return MotorPoint(speed, torque, shaft, taken, efficiency)


def best_current(motor: MotorModel, *, volts: float) -> tuple[float, float]:
    """Return the current of best efficiency at given volts, and that efficiency.

    Parameters
    ----------
    motor : MotorModel
        The motor.
    volts : float
        At its terminals. [V]

    Returns
    -------
    tuple of float
        Current and efficiency: sqrt(I0 V/R) and (1 - sqrt(I0 R/V))². [A, -]
    """
    i0, r = motor.idle_current, motor.resistance
    return math.sqrt(i0 * volts / r), (1.0 - math.sqrt(i0 * r / volts)) ** 2


# ---------------------------------------------------------------- a measured line


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorLine:
    """A motor line fitted to measured points at full throttle."""

    speed_constant: float  # rad/s per V
    resistance: float  # ohm, motor and controller together
    speed_scatter: float  # relative, one sigma
    resistance_scatter: float  # relative, one sigma
    residual: float  # V, root mean square


def fit_motor_line(*, volts: ArrayLike, amps: ArrayLike, rpm: ArrayLike) -> MotorLine:
    """Fit V = speed/Kv + I R to measured full-throttle points of one motor.

    Parameters
    ----------
    volts, amps : array_like
        At the controller, three points or more of different load. [V, A]
    rpm : array_like
        Turning speed. [1/min]

    Returns
    -------
    MotorLine
        Least squares, with one-sigma scatters from the residuals.

    Raises
    ------
    DomainError
        Where the points do not tell speed and resistance apart.

    Notes
    -----
    The resistance is that of motor, controller and leads up to where volts were read.
    """
    v, i = np.asarray(volts, dtype=np.float64), np.asarray(amps, dtype=np.float64)
    speed = np.asarray(rpm, dtype=np.float64) * math.pi / 30.0
    terms = np.stack([speed, i], axis=1)
    if v.size < 3 or np.linalg.matrix_rank(terms / np.abs(terms).max(axis=0), tol=1e-3) < 2:
        raise DomainError("a motor line takes three points or more at different loads")
    (slope, resistance), *_ = np.linalg.lstsq(terms, v, rcond=None)
    if slope <= 0.0 or resistance <= 0.0:
        raise DomainError("these points make no motor: speed and amps must both cost volts")
    misfit = terms @ np.array([slope, resistance]) - v
    variance = float(misfit @ misfit) / max(v.size - 2, 1)
    spread = np.sqrt(np.diag(np.linalg.inv(terms.T @ terms)) * variance)
    return MotorLine(
        speed_constant=1.0 / float(slope),
        resistance=float(resistance),
        speed_scatter=float(spread[0] / slope),
        resistance_scatter=float(spread[1] / resistance),
        residual=float(np.sqrt(misfit @ misfit / v.size)),
    )


# ---------------------------------------------------------------- heat


def winding_temperature(
    motor: MotorModel,
    *,
    heat: ArrayLike,
    airspeed: ArrayLike,
    ambient: float = 20.0,
    density: float = 1.225,
    viscosity: float = 1.7894e-5,
) -> Array:
    r"""Steady winding temperature from the heat a motor makes and the air that passes it.

    .. math:: T = T_a + q/(h A), \quad Nu = 0.037\,Re^{0.8} Pr^{1/3}, \; Re = V L / \nu

    Parameters
    ----------
    motor : MotorModel
        Its diameter and length give the surface.
    heat : array_like
        Input power less shaft power. [W]
    airspeed : array_like
        Of the air past it, slipstream included. [m/s]
    ambient : float
        Air temperature. [°C]
    density, viscosity : float
        Of the air. [kg/m³, Pa s]

    Returns
    -------
    ndarray
        Temperature after minutes; good to 40 % of its rise. [°C]

    Notes
    -----
    A turbulent flat plate as long as the motor, wetted on its outside and once more within, as an
    outrunner is open. Not validated against a measured motor. A few seconds of full throttle
    stay far below it: 30 g of copper and iron take 12 J per kelvin.

    References
    ----------
    .. [1] F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, ch. 7 (memory).
    """
    speed = np.maximum(np.asarray(airspeed, dtype=np.float64), 2.0)  # its own bell stirs the air
    length, prandtl, conductivity = motor.length, 0.71, 0.0257
    reynolds = density * speed * length / viscosity
    film = 0.037 * reynolds**0.8 * prandtl ** (1.0 / 3.0) * conductivity / length
    outside = math.pi * motor.diameter * (motor.length + 0.5 * motor.diameter)
    return ambient + np.asarray(heat, dtype=np.float64) / (film * 2.0 * outside)


def hot_resistance(resistance: ArrayLike, *, temperature: ArrayLike, cold: float = 25.0) -> Array:
    """Resistance of copper at a temperature.

    Parameters
    ----------
    resistance : array_like
        When cold. [ohm]
    temperature : array_like
        Now. [°C]
    cold : float
        When it was measured. [°C]

    Returns
    -------
    ndarray
        Resistance now. [ohm]
    """
    warm = np.asarray(temperature, dtype=np.float64) - cold
    return np.asarray(resistance, dtype=np.float64) * (1.0 + COPPER_COEFFICIENT * warm)
