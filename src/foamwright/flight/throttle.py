"""What the propellers give over throttle and airspeed, as one table that flight can ask fast."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.airframe import Airframe
from foamwright.errors import DomainError
from foamwright.flight.common import Array, as_array, as_arrays
from foamwright.power import OperatingPoint, PowerAssessment, match

#: Throttles at which the match is asked; between them a straight line is within 1 % of thrust.
THROTTLES = (0.25, 0.4, 0.55, 0.7, 0.85, 1.0)
#: Charge of the pack: half flown.
_CHARGE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Push:
    """What every propeller does in flight; the last axis is the propellers."""

    thrust: Array  # N
    torque: Array  # N m on the air, + clockwise seen from behind
    rotation: Array  # 1/s
    throttle: Array  # (...) share of full; above 1 where full throttle falls short

    @property
    def total(self) -> Array:
        """All thrust together. [N]"""
        return self.thrust.sum(axis=-1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThrustTable:
    """Thrust, torque and turning speed of all propellers, in the order of the airframe's discs.

    Thrust rises with throttle at every airspeed. The first row is power off: no thrust at all,
    the propeller folded or stopped and its drag left out.
    """

    throttle: Array  # (K,) rising from 0 to 1
    airspeed: Array  # (J,) m/s, rising
    thrust: Array  # (M, K, J) N, installed
    torque: Array  # (M, K, J) N m on the air, + clockwise seen from behind
    rotation: Array  # (M, K, J) 1/s
    scatter: float = 0.05  # one sigma of full thrust, relative

    @property
    def fastest(self) -> float:
        """Airspeed at which the table ends. [m/s]"""
        return float(self.airspeed[-1])

    def full(self, airspeed: ArrayLike) -> Array:
        """Thrust of all propellers at full throttle; nan beyond the table. [N]"""
        total = as_array(self.thrust[:, -1].sum(axis=0))
        found = np.interp(as_array(airspeed), self.airspeed, total, right=np.nan)
        return np.asarray(found, dtype=np.float64)

    def at_throttle(self, throttle: ArrayLike, *, airspeed: ArrayLike) -> Push:
        """Find what the propellers do at a throttle.

        Parameters
        ----------
        throttle : array_like
            Share of full. [-]
        airspeed : array_like
            Along the shafts. [m/s]

        Returns
        -------
        Push
            Beyond the table's airspeeds its last line is drawn on: see :attr:`fastest`.
        """
        d, v = as_arrays(throttle, airspeed)
        place = np.interp(d, self.throttle, np.arange(len(self.throttle), dtype=np.float64))
        return self._between(place, v)

    def for_thrust(self, total: ArrayLike, *, airspeed: ArrayLike) -> Push:
        """Find the throttle that gives a thrust, all propellers together.

        Parameters
        ----------
        total : array_like
            Thrust. [N]
        airspeed : array_like
            Along the shafts. [m/s]

        Returns
        -------
        Push
            Where full throttle falls short its line is drawn on: throttle is above 1 there.
        """
        wanted, v = as_arrays(total, airspeed)
        sums = self._at(self.thrust.sum(axis=0)[None], v)[..., 0]  # (K, ...)
        sums = np.maximum.accumulate(sums, axis=0)
        last = len(self.throttle) - 2
        low = np.clip((sums < wanted).sum(axis=0) - 1, 0, last)
        ends = [np.take_along_axis(sums, low[None] + k, axis=0)[0] for k in (0, 1)]
        rise = np.maximum(ends[1] - ends[0], 1e-9)
        return self._between(low + (wanted - ends[0]) / rise, v)

    def _at(self, values: Array, v: Array) -> Array:
        """Values at airspeeds, (K, ..., M)."""
        slow = np.clip(np.searchsorted(self.airspeed, v, side="right") - 1, 0, None)
        slow = np.minimum(slow, len(self.airspeed) - 2)
        ends = self.airspeed[slow], self.airspeed[slow + 1]
        t = (v - ends[0]) / (ends[1] - ends[0])
        found = values[..., slow] * (1.0 - t) + values[..., slow + 1] * t
        return np.moveaxis(found, 0, -1)

    def _between(self, place: Array, v: Array) -> Push:
        """At places along the throttle's rows, drawn on beyond the last."""
        low = np.clip(np.floor(np.nan_to_num(place)), 0, len(self.throttle) - 2)
        rows = low.astype(np.intp)
        t = (place - low)[..., None]

        def mixed(values: Array) -> Array:
            found = self._at(values, v)
            lower = np.take_along_axis(found, rows[None, ..., None], axis=0)[0]
            upper = np.take_along_axis(found, rows[None, ..., None] + 1, axis=0)[0]
            return lower * (1.0 - t) + upper * t

        ends = self.throttle[rows], self.throttle[rows + 1]
        return Push(
            thrust=mixed(self.thrust),
            torque=mixed(self.torque),
            rotation=mixed(self.rotation),
            throttle=ends[0] + t[..., 0] * (ends[1] - ends[0]),
        )


def thrust_table(airframe: Airframe, power: PowerAssessment) -> ThrustTable | None:
    """Ask the match once for all that flight will want to know.

    Parameters
    ----------
    airframe : Airframe
        Says the order of the propeller discs.
    power : PowerAssessment
        Its power, reckoned.

    Returns
    -------
    ThrustTable or None
        None where a propeller's thrust is not known, or there is none. Pack half flown.
    """
    motors = {motor.line.key: motor for motor in power.motors}
    if not airframe.discs or any(disc.motor not in motors for disc in airframe.discs):
        return None
    ends = [float(motor.full.points.airspeed[1, -1]) for motor in motors.values()]
    speeds = np.linspace(0.0, min(ends), 15, dtype=np.float64)
    points: dict[str, OperatingPoint] = {}
    for pack in power.packs:
        found = match(
            pack.group,
            throttle=np.array(THROTTLES)[:, None],
            airspeed=speeds,
            charge=_CHARGE,
            air=power.air,
        )
        points |= {line.key: point for line, point in zip(pack.group.lines, found, strict=True)}
    rows: list[list[Array]] = [[], [], []]
    for disc in airframe.discs:
        point, sense = points[disc.motor], motors[disc.motor].hand.sense
        for row, values in zip(
            rows, (point.thrust, sense * point.torque, point.rotation), strict=True
        ):
            row.append(values)
    static = power.static_thrust
    return made_table(
        THROTTLES,
        speeds,
        thrust=np.stack(rows[0]),
        torque=np.stack(rows[1]),
        rotation=np.stack(rows[2]),
        scatter=0.05 if static is None else static.relative_scatter,
    )


def made_table(
    throttle: ArrayLike,
    airspeed: ArrayLike,
    *,
    thrust: Array,
    torque: Array,
    rotation: Array,
    scatter: float = 0.05,
) -> ThrustTable:
    """Put a table together: below the lowest throttle power falls to nothing.

    Parameters
    ----------
    throttle : array_like, (K,)
        Rising, the last 1. [-]
    airspeed : array_like, (J,)
        Rising. [m/s]
    thrust, torque, rotation : ndarray, (M, K, J)
        Of each propeller. [N], [N m], [1/s]
    scatter : float, optional
        One sigma of the thrust, relative. [-]

    Returns
    -------
    ThrustTable
    """
    d, v = as_array(throttle), as_array(airspeed)
    if thrust.shape[1:] != (len(d), len(v)):
        raise DomainError("a thrust table has a row for each throttle, a column for each airspeed")
    # A windmilling propeller brakes; flown at part throttle it is never let fall so far.
    off = np.zeros_like(thrust[:, :1])
    kept = _rising(np.concatenate([off, thrust], axis=1))
    return ThrustTable(
        throttle=np.append(0.0, d),
        airspeed=v,
        thrust=kept,
        torque=np.concatenate([off, torque], axis=1),
        rotation=np.concatenate([off, rotation], axis=1),
        scatter=scatter,
    )


def _rising(thrust: Array) -> Array:
    """Full throttle as it is; lower ones never below power off unless full throttle is."""
    held: NDArray[np.float64] = np.maximum(thrust, np.minimum(0.0, thrust[:, -1:]))
    return held
