"""How much of its limits a power line uses, and the headroom the trade keeps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.design.model import Propeller
from foamwright.power.lines import PowerGroup
from foamwright.power.matching import SEA_LEVEL, Air, OperatingPoint, match

Array = NDArray[np.float64]

#: What a controller must stand over the full-throttle current on the bench, the trade's 20 to 30 %
#: taken at its middle; and the pack's label over the current it is asked for. Common practice.
CONTROLLER_HEADROOM, PACK_HEADROOM = 1.25, 1.25
#: A controller of more than this many times the current is dead weight. Common practice.
CONTROLLER_TOO_LARGE = 3.0

#: Makers' speed limits: a constant over the diameter in inches, by blade class (values from memory
#: of published limits, to be checked against the propeller's own); mind them from 80 % on.
RPM_INCH = {
    "slow flyer": 65_000.0,
    "multirotor": 105_000.0,
    "thin electric": 145_000.0,
    "sport": 190_000.0,
}
RPM_CAUTION = 0.8
_INCH = 0.0254

#: Charge of a pack fresh, half flown, and when the landing is due.
FRESH, HALF, LANDING = 1.0, 0.5, 0.2

#: Useful pull ends where this share of the static thrust is left.
USEFUL_THRUST = 0.1

# Airspeeds at which full throttle is tried, as shares of the pitch speed standing still.
_SPEEDS = np.linspace(0.0, 1.4, 22)
_CHARGES = np.array([FRESH, HALF, LANDING])[:, None]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FullThrottle:
    """One line at full throttle, all its fellows likewise: by charge (rows) and airspeed."""

    points: OperatingPoint  # (3, n): fresh, half flown, landing due; n airspeeds from 0
    pack_amps: float  # A, all lines of the group, fresh, standing still
    pack_amps_scatter: float  # A, one sigma
    volts_per_cell: float  # V, standing still, landing due

    @property
    def amps(self) -> float:
        """Current of this line, fresh pack, standing still. [A]"""
        return float(self.points.pack_amps[0, 0])

    @property
    def amps_scatter(self) -> float:
        """One sigma of it. [A]"""
        return _sigma(self.points, "pack_amps")

    @property
    def static_thrust(self) -> float:
        """Installed thrust standing still, pack half flown. [N]"""
        return float(self.points.thrust[1, 0])

    @property
    def static_thrust_scatter(self) -> float:
        """One sigma of it. [N]"""
        bands = self.points.bands
        return float(bands.thrust[1, 0]) if bands is not None else 0.0

    @property
    def rotation(self) -> float:
        """Turning speed standing still, pack half flown. [1/s]"""
        return float(self.points.rotation[1, 0])

    @property
    def fastest(self) -> float:
        """Turning speed with a fresh pack at the speed where useful pull ends. [1/s]"""
        speeds: Array = self.points.airspeed[0]
        turns: Array = self.points.rotation[0]
        return float(np.interp(self.useful_top, speeds, turns))

    @property
    def useful_top(self) -> float:
        """Airspeed at which a tenth of the static thrust is left, pack half flown. [m/s]"""
        thrust: Array = self.points.thrust[1]
        speeds: Array = self.points.airspeed[1]
        short = np.flatnonzero(thrust < USEFUL_THRUST * thrust[0])
        if not short.size or short[0] == 0:
            return float(speeds[-1])
        i = int(short[0])
        ends = [USEFUL_THRUST * thrust[0] - thrust[i], thrust[i - 1] - thrust[i]]
        return float(speeds[i] - (speeds[i] - speeds[i - 1]) * ends[0] / ends[1])


def _sigma(points: OperatingPoint, name: str) -> float:
    return 0.0 if points.bands is None else float(getattr(points.bands, name)[0, 0])


def full_throttle(
    group: PowerGroup, number: int, *, air: Air = SEA_LEVEL, with_bands: bool = True
) -> FullThrottle:
    """Try one line of a group at full throttle over airspeeds and states of charge.

    Parameters
    ----------
    group : PowerGroup
        Lines and pack.
    number : int
        Which line. [-]
    air : Air
        Density and viscosity.
    with_bands : bool
        Whether to add the one-sigma bands.

    Returns
    -------
    FullThrottle
        Currents, thrust, speeds. [A, N, m/s, 1/s]
    """
    line = group.lines[number]
    free = line.motor.speed_constant * float(group.pack.resting_volts(FRESH)) / 6.2832
    speeds = _SPEEDS * 0.85 * free * line.propeller.pitch
    points = match(group, airspeed=speeds, charge=_CHARGES, air=air, with_bands=with_bands)
    mine = points[number]
    amps = sum(float(point.pack_amps[0, 0]) for point in points)
    return FullThrottle(
        points=mine,
        pack_amps=amps,
        # Motors of a kind share their errors, so these add straight.
        pack_amps_scatter=sum(_sigma(point, "pack_amps") for point in points),
        volts_per_cell=float(mine.pack_volts[2, 0]) / group.pack.cells,
    )


def rpm_limit(propeller: Propeller) -> float:
    """Fastest turning that its class of blade stands.

    Parameters
    ----------
    propeller : Propeller
        An unknown class counts as the weakest but one.

    Returns
    -------
    float
        Revolutions per second. [1/s]
    """
    constant = RPM_INCH.get(propeller.style, RPM_INCH["multirotor"])
    return constant / (propeller.diameter / _INCH) / 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """Limits over what is asked of them; 1 is at the limit, below it is beyond."""

    motor: float | None  # None where the file gives no limit
    controller: float
    pack: float
    propeller: float  # turning speed

    @property
    def is_kept(self) -> bool:
        """Whether all limits are kept with the trade's headroom."""
        return (
            (self.motor is None or self.motor >= 1.0)
            and self.controller >= CONTROLLER_HEADROOM
            and self.pack >= PACK_HEADROOM
            and self.propeller >= 1.0 / RPM_CAUTION
        )


def margins(group: PowerGroup, number: int, propeller: Propeller, full: FullThrottle) -> Margins:
    """Compare one line at full throttle with its limits."""
    line = group.lines[number]
    most = line.motor.max_current
    amps = max(full.amps, 1e-9)
    return Margins(
        motor=None if most is None else most / amps,
        controller=line.controller.rating / amps,
        pack=group.pack.max_current / max(full.pack_amps, 1e-9),
        propeller=rpm_limit(propeller) / max(full.fastest, 1e-9),
    )
