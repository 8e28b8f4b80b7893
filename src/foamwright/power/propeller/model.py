"""What a maker can say of a propeller, and the coefficients that come of it.

Coefficients are those of the propeller trade::

    J  = V / (n D)                 advance ratio, n in revolutions per second
    ct = T / (density n² D⁴)       thrust positive forward
    cp = P / (density n³ D⁵)       power the shaft takes; negative when the air drives it
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import DomainError
from foamwright.power.propeller.table import Table, look_up

Array = NDArray[np.float64]

#: Air at sea level, 15 °C (ISO 2533).
SEA_LEVEL_DENSITY = 1.225  # kg/m³
SEA_LEVEL_VISCOSITY = 1.7894e-5  # Pa s

#: Scatters either side of a figure that the stated four in five propellers lie within.
FOUR_IN_FIVE = 1.2816


@dataclass(frozen=True, slots=True, kw_only=True)
class BladeGeometry:
    """Chord and twist as measured along one blade, from the root outward."""

    radius_fraction: tuple[float, ...]  # r/R, rising, within 0 to 1
    chord_fraction: tuple[float, ...]  # chord/R
    twist: tuple[float, ...]  # rad, chord line to plane of rotation

    def __post_init__(self) -> None:
        r, c = self.radius_fraction, self.chord_fraction
        if not len(r) == len(c) == len(self.twist) >= 4:
            raise DomainError("a blade takes four stations or more, each with chord and twist")
        rising = all(a < b for a, b in pairwise(r))
        if not (rising and r[0] >= 0.0 and r[-1] <= 1.0 and min(c) >= 0.0 and max(c) < 1.0):
            raise DomainError("stations must rise from 0 to 1, chords lie between 0 and R")


@dataclass(frozen=True, slots=True, kw_only=True)
class StaticReading:
    """One thrust reading standing still: kitchen scale, and how fast the propeller turned.

    Speed comes from a tachometer, or from volts and amps with the motor's two constants.
    """

    thrust: float  # N
    density: float = SEA_LEVEL_DENSITY  # kg/m³
    rotation: float | None = None  # rev/s
    volts: float | None = None  # V at the controller
    amps: float | None = None  # A
    speed_constant: float | None = None  # rad/s per volt
    resistance: float | None = None  # ohm, motor and controller

    @property
    def speed(self) -> float:
        """Revolutions per second, read or from the motor line n = Kv (V - I R). [1/s]"""
        if self.rotation is not None:
            return self.rotation
        parts = (self.volts, self.amps, self.speed_constant, self.resistance)
        if any(part is None for part in parts):
            raise DomainError(
                "a static reading takes rev/s, or volts and amps with Kv and resistance"
            )
        volts, amps, constant, ohms = (float(part) for part in parts if part is not None)
        return constant * (volts - amps * ohms) / (2.0 * np.pi)

    @property
    def is_speed_measured(self) -> bool:
        """Whether the speed was read, not inferred from volts and amps."""
        return self.rotation is not None


@dataclass(frozen=True, slots=True)
class PropellerCoefficients:
    """Thrust and power coefficients with one-sigma scatters, broadcast alike."""

    ct: Array
    cp: Array
    ct_scatter: Array
    cp_scatter: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class PropellerModel:
    """A propeller ready to be asked for its coefficients at any operating point."""

    diameter: float  # m
    pitch: float  # m
    blades: int
    style: str  # the nominal blade style it was taken for
    basis: str  # what it rests on, such as "diameter, pitch, blades, class"
    reference_chord: float  # m, at 3/4 radius, of its Reynolds number
    table: Table = field(repr=False)
    notes: tuple[str, ...] = ()

    def tip_reynolds(
        self,
        rotation: ArrayLike,
        *,
        density: ArrayLike = SEA_LEVEL_DENSITY,
        viscosity: ArrayLike = SEA_LEVEL_VISCOSITY,
    ) -> Array:
        """Reynolds number of tip speed and chord at 3/4 radius.

        Parameters
        ----------
        rotation : array_like
            Revolutions per second. [1/s]
        density : array_like, optional
            Of the air. [kg/m³]
        viscosity : array_like, optional
            Dynamic. [Pa s]

        Returns
        -------
        ndarray
            Reynolds number. [-]
        """
        tip = np.pi * self.diameter * np.abs(np.asarray(rotation, dtype=np.float64))
        kinematic = np.asarray(viscosity, dtype=np.float64) / np.asarray(density, dtype=np.float64)
        return tip * self.reference_chord / kinematic

    def coefficients(
        self,
        advance_ratio: ArrayLike,
        *,
        rotation: ArrayLike | None = None,
        tip_reynolds: ArrayLike | None = None,
        density: ArrayLike = SEA_LEVEL_DENSITY,
        viscosity: ArrayLike = SEA_LEVEL_VISCOSITY,
    ) -> PropellerCoefficients:
        """Thrust and power coefficients with their scatters.

        Parameters
        ----------
        advance_ratio : array_like
            V / (n D); 0 standing still, negative when flown backward. [-]
        rotation : array_like, optional
            Revolutions per second; give this or `tip_reynolds`. [1/s]
        tip_reynolds : array_like, optional
            Of tip speed and chord at 3/4 radius. [-]
        density : array_like, optional
            Of the air. [kg/m³]
        viscosity : array_like, optional
            Dynamic. [Pa s]

        Returns
        -------
        PropellerCoefficients
            Broadcast over the arguments. [-]

        Notes
        -----
        Smooth to the first derivative. NaN in gives NaN out.
        """
        if (rotation is None) == (tip_reynolds is None):
            raise DomainError("give rotation or tip Reynolds number, one of the two")
        if tip_reynolds is None:
            assert rotation is not None  # noqa: S101
            tip_reynolds = self.tip_reynolds(rotation, density=density, viscosity=viscosity)
        return PropellerCoefficients(*look_up(self.table, advance_ratio, tip_reynolds))
