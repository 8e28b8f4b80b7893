"""The pack: resting volts against charge, resistance, limits, several packs joined.

Volts under load are ``n · resting volts(charge) - I · resistance``. A hobby pack tells nobody its
resistance; it is taken from capacity, rating, temperature and age, with a wide band.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.design.model import Joined, Pack
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Resting volts of one lithium polymer cell against charge left, the chart of the trade (read in
#: a public document; good to 0.03 V, worse below a tenth; within 0.1 V of Chen and Rincon-Mora).
CHART_CHARGE = np.linspace(0.0, 1.0, 21)
CHART_VOLTS = np.concatenate(
    [
        [3.27, 3.61, 3.69, 3.71, 3.73, 3.75, 3.77, 3.79, 3.80, 3.82, 3.84],
        [3.85, 3.87, 3.91, 3.95, 3.98, 4.02, 4.08, 4.11, 4.15, 4.20],
    ]
)
CHART_CHARGE.setflags(write=False)
CHART_VOLTS.setflags(write=False)
CHART_SCATTER = 0.015  # V, one sigma

#: Resistance of a cell times its capacity, at ratings of 25 and 60 C, new, 25 °C; its one sigma,
#: relative (a factor of 1.5 is two sigma). Common practice, no source.
RESISTANCE_CAPACITY = ((25.0, 0.020), (60.0, 0.010))  # ohm Ah
RESISTANCE_SCATTER = 0.22

#: Arrhenius energy of a cell's resistance: textbook form, value a common estimate.
ACTIVATION_ENERGY, GAS_CONSTANT = 25_000.0, 8.314  # J/mol, J/(mol K)
REFERENCE_TEMPERATURE = 298.15  # K

#: Limits per cell, common practice; the same figures stand in five vendors' and clubs' pages.
FULL_VOLTS, NOMINAL_VOLTS, CUT_OFF_VOLTS, KIND_CUT_OFF = 4.20, 3.70, 3.0, 3.2  # V
STORAGE_VOLTS = (3.80, 3.85)  # V
USABLE_FRACTION = 0.8

#: What a maker must be told about lithium packs. Common practice.
CAUTIONS = (
    "Store at 3.80 to 3.85 V per cell, in a box that does not burn.",
    "Land with a fifth of the charge left: 3.7 V per cell or more, resting.",
    "Never below 3.0 V per cell under load; set the controller to cut off at 3.2 V.",
    "Charge at 1 C unless the label allows more, never above 4.20 V, below 0 °C or above 45 °C.",
    "Never charge unattended, nor a swollen or dented pack.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PackModel:
    """A pack ready to be loaded."""

    cells: int  # in series
    capacity: float  # C
    resistance: float  # ohm, whole pack, at its temperature, above a fifth of charge
    max_current: float  # A, rating times capacity
    resistance_scatter: float = RESISTANCE_SCATTER
    usable: float = USABLE_FRACTION

    def resting_volts(self, charge: ArrayLike) -> Array:
        """Volts without load at a share of charge left. [V]"""
        return self.cells * cell_volts(charge)

    def resistance_at(self, charge: ArrayLike) -> Array:
        """Resistance at a share of charge left; it rises when nearly empty. [ohm]"""
        return self.resistance * resistance_shape(charge)

    @property
    def energy(self) -> float:
        """Energy at 3.7 V per cell, as the rules for travel count it. [J]"""
        return self.capacity * NOMINAL_VOLTS * self.cells


def cell_volts(charge: ArrayLike) -> Array:
    """Resting volts of one cell by the trade's chart.

    Parameters
    ----------
    charge : array_like
        Share of charge left, 0 to 1. [-]

    Returns
    -------
    ndarray
        Resting volts. [V]
    """
    return np.interp(np.asarray(charge, dtype=np.float64), CHART_CHARGE, CHART_VOLTS)


def cell_volts_measured(charge: ArrayLike) -> Array:
    """Resting volts of one measured polymer cell of 850 mAh.

    Parameters
    ----------
    charge : array_like
        Share of charge left, 0 to 1. [-]

    Returns
    -------
    ndarray
        Resting volts. [V]

    References
    ----------
    .. [1] M. Chen, G. A. Rincon-Mora, Accurate electrical battery model, IEEE Trans. Energy
       Conversion 21(2), 2006.
    """
    s = np.asarray(charge, dtype=np.float64)
    return -1.031 * np.exp(-35.0 * s) + 3.685 + 0.2156 * s - 0.1178 * s**2 + 0.3201 * s**3


def resistance_shape(charge: ArrayLike) -> Array:
    """Rise of a cell's resistance when nearly empty, 1 when full.

    Parameters
    ----------
    charge : array_like
        Share of charge left, 0 to 1. [-]

    Returns
    -------
    ndarray
        Over its value when full: 1.6 at a twentieth left. [-]

    References
    ----------
    .. [1] Chen and Rincon-Mora, as above: the shape is used, not the ohms of their old cell.
    """
    return 1.0 + 0.1562 / 0.07446 * np.exp(-24.37 * np.asarray(charge, dtype=np.float64))


def temperature_factor(celsius: ArrayLike) -> Array:
    """Resistance of a cell over its value at 25 °C.

    Parameters
    ----------
    celsius : array_like
        Of the cells. [°C]

    Returns
    -------
    ndarray
        Ratio; the physical spread is -25 to +40 %. [-]
    """
    kelvin = np.asarray(celsius, dtype=np.float64) + 273.15
    exponent = ACTIVATION_ENERGY / GAS_CONSTANT * (1.0 / kelvin - 1.0 / REFERENCE_TEMPERATURE)
    return np.exp(exponent)


def cell_resistance(
    capacity: float, *, rating: float = 25.0, celsius: float = 25.0, age: float = 0.0
) -> float:
    """Resistance of one cell.

    Parameters
    ----------
    capacity : float
        Of the cell. [C]
    rating : float
        Discharge rating of the label; between 25 and 60 C it halves. [1/h]
    celsius : float
        Temperature. [°C]
    age : float
        0 new, 1 old: twice the resistance. [-]

    Returns
    -------
    float
        Resistance. Common practice, a factor of 1.5 either way. [ohm]
    """
    (low, first), (high, last) = RESISTANCE_CAPACITY
    share = math.log(min(max(rating, low), high) / low) / math.log(high / low)
    product = first * (last / first) ** share
    return product * 3600.0 / capacity * (1.0 + age) * float(temperature_factor(celsius))


def pack_model(pack: Pack, *, celsius: float = 25.0, age: float = 0.0) -> PackModel:
    """Model a pack of the design file.

    Parameters
    ----------
    pack : Pack
        As the maker knows it; a resistance measured on it stands as it is.
    celsius : float
        Temperature of the cells. [°C]
    age : float
        0 new, 1 old. [-]

    Returns
    -------
    PackModel
        Ready to be loaded.
    """
    told = pack.resistance
    cell = cell_resistance(pack.capacity, rating=pack.rating, celsius=celsius, age=age)
    return PackModel(
        cells=pack.cells,
        capacity=pack.capacity,
        resistance=told if told is not None else pack.cells * cell,
        max_current=pack.rating * pack.capacity / 3600.0,
        resistance_scatter=0.1 if told is not None else RESISTANCE_SCATTER,
    )


def joined_packs(packs: Sequence[PackModel], joined: Joined) -> PackModel:
    """Several packs in series or in parallel as one.

    Parameters
    ----------
    packs : sequence of PackModel
        In parallel all must have the same number of cells.
    joined : Joined
        How they are joined.

    Returns
    -------
    PackModel
        In series the smallest capacity counts, in parallel currents share by conductance.

    Raises
    ------
    DomainError
        Where packs of unlike cells would be joined in parallel: one would charge the other.
    """
    if not packs:
        raise DomainError("no packs to join")
    if joined is Joined.SERIES:
        return replace(
            packs[0],
            cells=sum(pack.cells for pack in packs),
            capacity=min(pack.capacity for pack in packs),
            resistance=sum(pack.resistance for pack in packs),
            max_current=min(pack.max_current for pack in packs),
        )
    if len({pack.cells for pack in packs}) > 1:
        raise DomainError("packs in parallel need the same number of cells")
    conductance = sum(1.0 / pack.resistance for pack in packs)
    # The pack of least current per its own share of it reaches its limit first.
    limit = min(pack.max_current * pack.resistance for pack in packs) * conductance
    return replace(
        packs[0],
        capacity=sum(pack.capacity for pack in packs),
        resistance=1.0 / conductance,
        max_current=limit,
    )


def resistance_from_step(*, volts: tuple[float, float], amps: tuple[float, float]) -> float:
    """Resistance of a pack from volts at two loads.

    Parameters
    ----------
    volts, amps : tuple of float
        At the lesser and the greater load. [V, A]

    Returns
    -------
    float
        Resistance of the pack. [ohm]
    """
    return (volts[0] - volts[1]) / (amps[1] - amps[0])
