"""Flying-quality limits of MIL-F-8785C (1980), class I, and their Froude scaling.

The specification is for piloted aeroplanes. For models it is guidance only: this room says what
it gives as printed, and what it gives with its limits moved to the model's size by Froude scaling
(times shorter, frequencies higher by the root of the length ratio). The flyer on the ground does
not scale: reaction stays 0.2 to 0.4 s, so quicker is not always better.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import GRAVITY, Array, Whole, as_array, as_arrays, only_where


class FlyingLevel(IntEnum):
    """How good a quality is."""

    ONE = 1  # clearly adequate
    TWO = 2  # adequate, with more work for the flyer
    THREE = 3  # can be flown, with much work
    WORSE = 4  # worse than Level 3


class Category(StrEnum):
    """What is being flown."""

    A = "A"  # quick, precise: aerobatics
    B = "B"  # gradual: cruise, climb, glide
    C = "C"  # take-off, approach and landing


#: Length of the full-size light aeroplane that a model is scaled from: its span. [m] (common
#: practice, no source)
FULL_SPAN = 11.0

_INF = float("inf")
#: Damping ratio of the short period: smallest and largest of Levels 1 to 3 (Table IV, memory).
SHORT_PERIOD_DAMPING = MappingProxyType(
    {
        Category.A: ((0.35, 1.30), (0.25, 2.00), (0.15, _INF)),
        Category.B: ((0.30, 2.00), (0.20, 2.00), (0.15, _INF)),
        Category.C: ((0.35, 1.30), (0.25, 2.00), (0.15, _INF)),
    }
)
#: Control anticipation parameter, smallest and largest of Levels 1 and 2. [rad/s² per g] (figures
#: of section 3.2.2.1.1, memory)
ANTICIPATION = MappingProxyType(
    {
        Category.A: ((0.28, 3.6), (0.16, 10.0)),
        Category.B: ((0.085, 3.6), (0.038, 10.0)),
        Category.C: ((0.16, 3.6), (0.096, 10.0)),
    }
)
#: Dutch roll: smallest damping ratio, its product with frequency, and frequency. [-, rad/s, rad/s]
#: (Table VI, class I; category A in part from memory)
DUTCH_ROLL = MappingProxyType(
    {
        Category.A: ((0.19, 0.35, 1.0), (0.02, 0.05, 0.4), (0.0, -_INF, 0.4)),
        Category.B: ((0.08, 0.15, 0.4), (0.02, 0.05, 0.4), (0.0, -_INF, 0.4)),
        Category.C: ((0.08, 0.15, 1.0), (0.02, 0.05, 0.4), (0.0, -_INF, 0.4)),
    }
)
#: Largest time constant of the roll. [s] (Table VII, class I)
ROLL_TIME = MappingProxyType(
    {Category.A: (1.0, 1.4, 10.0), Category.B: (1.4, 3.0, 10.0), Category.C: (1.0, 1.4, 10.0)}
)
#: Smallest time in which the spiral doubles. [s] (Table VIII, memory)
SPIRAL_DOUBLE = MappingProxyType(
    {Category.A: (12.0, 8.0, 4.0), Category.B: (20.0, 8.0, 4.0), Category.C: (12.0, 8.0, 4.0)}
)
#: Phugoid: damping ratios of Levels 1 and 2, and the time to double of Level 3 [s] (section
#: 3.2.1.2, memory).
PHUGOID = (0.04, 0.0, 55.0)
#: Bank angle [rad] and the times [s] of Levels 1 to 3 in which full aileron must reach it (Table
#: IX, class I, memory).
BANK_TIME = MappingProxyType(
    {
        Category.A: (np.radians(60.0), (1.3, 1.7, 2.6)),
        Category.B: (np.radians(60.0), (1.7, 2.5, 3.4)),
        Category.C: (np.radians(30.0), (1.3, 1.8, 2.6)),
    }
)
#: Helix angle of a full-aileron roll that pilots found enough. [rad] (R. R. Gilruth, NACA Report
#: 755, 1943; memory)
HELIX = 0.07


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FroudeFactors:
    """What quantities of the full-size aeroplane are multiplied by to give the model's."""

    speed: Array
    time: Array
    frequency: Array
    mass: Array  # at equal density of structure and air
    inertia: Array
    wing_loading: Array
    angular_acceleration: Array
    power: Array


def froude_factors(ratio: ArrayLike) -> FroudeFactors:
    """Scale at constant gravity and air density.

    Parameters
    ----------
    ratio : array_like
        Full-size length over the model's. [-]

    Returns
    -------
    FroudeFactors

    References
    ----------
    .. [1] C. H. Wolowicz, J. S. Bowman, W. P. Gilbert, NASA TP-1435, 1979 (factors from memory).
    """
    n = as_array(ratio)
    return FroudeFactors(
        speed=n**-0.5,
        time=n**-0.5,
        frequency=n**0.5,
        mass=n**-3.0,
        inertia=n**-5.0,
        wing_loading=1.0 / n,
        angular_acceleration=n,
        power=n**-3.5,
    )


def short_period_level(damping: ArrayLike, *, category: Category = Category.B) -> Whole:
    """Level of the short period's damping; scaling leaves it alone. [-]

    Parameters
    ----------
    damping : array_like
        Ratio; nan (no such mode) is worse than Level 3. [-]
    category : Category, optional
        What is flown. [-]

    Returns
    -------
    ndarray of int
        1 to 3, or 4 where worse.
    """
    z = as_array(damping)
    return _level(*((z >= low) & (z <= high) for low, high in SHORT_PERIOD_DAMPING[category]))


def phugoid_level(damping: ArrayLike, *, double: ArrayLike, scale: ArrayLike = 1.0) -> Whole:
    """Level of the phugoid, every category. [-]

    Parameters
    ----------
    damping : array_like
        Ratio. [-]
    double : array_like
        Time in which it doubles; endless where it dies out. [s]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
    """
    z, time, n = as_arrays(damping, double, scale)
    one, two, slowest = PHUGOID
    return _level(z >= one, z >= two, time >= slowest / np.sqrt(n))


def dutch_roll_level(
    damping: ArrayLike,
    *,
    frequency: ArrayLike,
    category: Category = Category.B,
    scale: ArrayLike = 1.0,
) -> Whole:
    """Level of the dutch roll, class I. [-]

    Parameters
    ----------
    damping : array_like
        Ratio. [-]
    frequency : array_like
        Natural. [rad/s]
    category : Category, optional
        What is flown. [-]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
    """
    z, w, n = as_arrays(damping, frequency, scale)
    slow = w / np.sqrt(n)
    limits = DUTCH_ROLL[category]
    return _level(*((z >= a) & (z * slow >= b) & (slow >= c) for a, b, c in limits))


def roll_level(
    time: ArrayLike, *, category: Category = Category.B, scale: ArrayLike = 1.0
) -> Whole:
    """Level of the roll's time constant, class I. [-]

    Parameters
    ----------
    time : array_like
        Constant, positive. [s]
    category : Category, optional
        What is flown. [-]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
    """
    t, n = as_arrays(time, scale)
    full = t * np.sqrt(n)
    return _level(*((full > 0.0) & (full <= limit) for limit in ROLL_TIME[category]))


def spiral_level(
    double: ArrayLike, *, category: Category = Category.B, scale: ArrayLike = 1.0
) -> Whole:
    """Level of the spiral. [-]

    Parameters
    ----------
    double : array_like
        Time in which the bank doubles; endless where it rights itself. [s]
    category : Category, optional
        What is flown. [-]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
    """
    t, n = as_arrays(double, scale)
    full = t * np.sqrt(n)
    return _level(*(full >= limit for limit in SPIRAL_DOUBLE[category]))


def anticipation(frequency: ArrayLike, *, load_slope: ArrayLike) -> Array:
    r"""Control anticipation parameter, :math:`\omega^2/(n/\alpha)`. [rad/s² per g]

    Parameters
    ----------
    frequency : array_like
        Natural, of the short period. [rad/s]
    load_slope : array_like
        Load factor by incidence, q S CL_alpha / W. [1/rad]

    Returns
    -------
    ndarray
        How sharply the nose starts for the load it ends with.
    """
    return as_array(frequency) ** 2 / as_array(load_slope)


def anticipation_level(
    value: ArrayLike, *, category: Category = Category.B, scale: ArrayLike = 1.0
) -> Whole:
    """Level of the control anticipation parameter. [-]

    Parameters
    ----------
    value : array_like
        From :func:`anticipation`. [rad/s² per g]
    category : Category, optional
        What is flown. [-]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
        1, 2, or 3 for all outside: Level 3's own limits are not held here.
    """
    cap, n = as_arrays(value, scale)
    full = cap / n
    inside = [(full >= low) & (full <= high) for low, high in ANTICIPATION[category]]
    return _level(inside[0], inside[1], np.ones_like(inside[0]))


def time_to_bank(bank: ArrayLike, *, rate: ArrayLike, time: ArrayLike) -> Array:
    r"""Time in which a roll from rest reaches a bank. [s]

    .. math:: \phi = p\,(t - \tau(1 - e^{-t/\tau}))

    Parameters
    ----------
    bank : array_like
        To reach. [rad]
    rate : array_like
        Steady roll rate of that aileron. [rad/s]
    time : array_like
        Time constant of the roll. [s]

    Returns
    -------
    ndarray

    Notes
    -----
    Aileron at once, rolling alone. Newton from above on a convex curve.
    """
    angle, p, tau = as_arrays(bank, rate, time)
    want = angle / only_where(p > 0.0, p)  # without a rate it never gets there
    t = want + tau
    for _ in range(60):
        fade = np.exp(-t / tau)
        step = (t - tau * (1.0 - fade) - want) / (1.0 - fade)
        t = t - step
        if np.all(np.abs(step) <= 1e-12 * t):
            break
    return t


def bank_level(
    *, rate: ArrayLike, time: ArrayLike, category: Category = Category.B, scale: ArrayLike = 1.0
) -> Whole:
    """Level of full-aileron roll, class I: how soon it banks 60°, or 30° in category C. [-]

    Parameters
    ----------
    rate : array_like
        Steady roll rate at full aileron. [rad/s]
    time : array_like
        Time constant of the roll. [s]
    category : Category, optional
        What is flown. [-]
    scale : array_like, optional
        Full-size length over the model's, 1 for the figures as printed. [-]

    Returns
    -------
    ndarray of int
    """
    bank, limits = BANK_TIME[category]
    full = time_to_bank(bank, rate=rate, time=time) * np.sqrt(as_array(scale))
    return _level(*(full <= limit for limit in limits))


def load_slope(
    lift_slope: ArrayLike, *, pressure: ArrayLike, area: ArrayLike, mass: ArrayLike
) -> Array:
    """Load factor by incidence. [1/rad]

    Parameters
    ----------
    lift_slope : array_like
        Of the whole aeroplane. [1/rad]
    pressure : array_like
        Dynamic. [Pa]
    area, mass : array_like
        Reference area [m²] and mass [kg].

    Returns
    -------
    ndarray
    """
    a, q, s, m = as_arrays(lift_slope, pressure, area, mass)
    return q * s * a / (m * GRAVITY)


def _level(*met: ArrayLike) -> Whole:
    """First level whose limits are met, 4 where none are."""
    conditions = [np.asarray(entry, dtype=np.bool_) for entry in met]
    levels = [np.int64(k + 1) for k in range(len(conditions))]
    return np.select(conditions, levels, default=np.int64(FlyingLevel.WORSE)).astype(np.int64)
