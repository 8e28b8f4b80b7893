"""What a pack lasts for: endurance and distance for a mix of flying, volts over a flight."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.power.inverse import throttle_for_thrust
from foamwright.power.lines import PowerGroup
from foamwright.power.matching import SEA_LEVEL, Air, match

Array = NDArray[np.float64]

#: Current of receiver and three or four small servos. Common practice, no source. [A]
RADIO_CURRENT = 0.4

#: One sigma of what a pack holds against its label, and of the air that slows the aeroplane.
#: Common practice, no source.
CAPACITY_SCATTER, DRAG_SCATTER = 0.05, 0.20

# States of charge between full and empty at which currents are asked for.
_PLACES = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A way of flying: full or part throttle, or as much of it as a thrust takes."""

    name: str
    share: float  # of the time in a mix; seconds in a profile
    airspeed: float  # m/s
    throttle: float | None = None  # share of full
    thrust: float | None = None  # N, of all motors of the group, instead of a throttle


@dataclass(frozen=True, slots=True, kw_only=True)
class Endurance:
    """What a pack lasts for in a mix of flying."""

    duration: float  # s, to the usable share of charge
    duration_scatter: float  # s, one sigma
    distance: float  # m through still air
    current: float  # A, mean
    legs: tuple[Leg, ...]
    shortfall: tuple[str, ...]  # names of legs that full throttle cannot fly


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Discharge:
    """A pack's volts and charge over a flight."""

    time: Array  # s
    volts: Array  # V under load
    volts_per_cell: Array  # V
    current: Array  # A
    charge: Array  # share left
    leg: NDArray[np.intp]  # number of the leg flown
    ends_empty: bool  # whether the usable charge ran out on the way


def watt_hours(*, cells: int, capacity: float) -> float:
    """Energy of a pack as the rules of travel count it, at 3.7 V per cell.

    Parameters
    ----------
    cells : int
        In series.
    capacity : float
        Of the pack. [C]

    Returns
    -------
    float
        Energy. [Wh]
    """
    return cells * 3.7 * capacity / 3600.0


def minutes_at_power(*, cells: int, capacity: float, power: float, usable: float = 0.8) -> float:
    """Flight time at constant power by the shop rule.

    Parameters
    ----------
    cells : int
        In series.
    capacity : float
        Of the pack. [C]
    power : float
        From the pack. [W]
    usable : float
        Share of the charge that is flown. [-]

    Returns
    -------
    float
        Time. [min]
    """
    return 60.0 * watt_hours(cells=cells, capacity=capacity) * usable / power


def leg_currents(
    group: PowerGroup, leg: Leg, charge: Array, *, air: Air = SEA_LEVEL
) -> tuple[Array, Array]:
    """Return the pack's current and volts on one leg, at several states of charge.

    Parameters
    ----------
    group : PowerGroup
        Lines and pack.
    leg : Leg
        How it is flown.
    charge : ndarray
        Share of charge left. [-]
    air : Air
        Density and viscosity.

    Returns
    -------
    tuple of ndarray
        Amps and volts; a thrust beyond reach is flown at full throttle. [A, V]
    """
    count, v = len(group.lines), leg.airspeed
    if leg.thrust is not None and leg.thrust <= 0.0:
        return np.zeros_like(charge), group.pack.resting_volts(charge)
    full = leg.throttle if leg.throttle is not None else 1.0
    points = match(group, throttle=full, airspeed=v, charge=charge, air=air)
    amps = np.add.reduce([point.pack_amps for point in points])
    if leg.thrust is not None and group.is_alike:
        need = throttle_for_thrust(group, thrust=leg.thrust, airspeed=v, charge=charge, air=air)
        amps = np.where(need.is_reached, count * need.pack_amps, amps)
    elif leg.thrust is not None:
        amps = _amps_of_unlike(group, leg, charge, air)
    return amps, group.pack.resting_volts(charge) - group.pack.resistance_at(charge) * amps


def _amps_of_unlike(group: PowerGroup, leg: Leg, charge: Array, air: Air) -> Array:
    """Unlike motors share one stick: read the current off at the thrust that is wanted."""
    throttle = np.linspace(0.0, 1.0, 41)[:, None]
    points = match(group, throttle=throttle, airspeed=leg.airspeed, charge=charge, air=air)
    push = np.add.reduce([point.thrust for point in points])
    amps = np.add.reduce([point.pack_amps for point in points])
    wanted = leg.thrust or 0.0
    return np.array(
        [np.interp(wanted, push[:, i], amps[:, i]) for i in range(charge.size)], dtype=np.float64
    )


def endurance(
    group: PowerGroup,
    legs: Sequence[Leg],
    *,
    start: float = 1.0,
    radio: float = RADIO_CURRENT,
    air: Air = SEA_LEVEL,
) -> Endurance:
    """Time and distance that a pack lasts for in a mix of flying.

    Parameters
    ----------
    group : PowerGroup
        Lines and pack.
    legs : sequence of Leg
        Their shares of the time are scaled to one.
    start : float
        Share of charge at the start. [-]
    radio : float
        Current of the radio, all the time. [A]
    air : Air
        Density and viscosity.

    Returns
    -------
    Endurance
        To the usable share of the charge, the legs taken in turn throughout.
    """
    total = sum(leg.share for leg in legs)
    charge = np.linspace(start, 1.0 - group.pack.usable, _PLACES)
    currents = [leg_currents(group, leg, charge, air=air)[0] for leg in legs]
    shares = np.array([leg.share / total for leg in legs])
    mean = shares @ np.stack(currents) + radio
    rate = group.pack.capacity / mean
    # The trapezium over charge, which falls.
    seconds = float(-(0.5 * (rate[1:] + rate[:-1]) * np.diff(charge)).sum())
    speed = float(shares @ np.array([leg.airspeed for leg in legs]))
    used = group.pack.capacity * (charge[0] - charge[-1])
    thrust_share = sum(
        float(share * amps.mean())
        for leg, share, amps in zip(legs, shares, currents, strict=True)
        if leg.thrust is not None
    ) / float(mean.mean())
    scatter = math.hypot(CAPACITY_SCATTER, DRAG_SCATTER * thrust_share, 0.05)
    return Endurance(
        duration=seconds,
        duration_scatter=scatter * seconds,
        distance=speed * seconds,
        current=float(used) / seconds,
        legs=tuple(legs),
        shortfall=_shortfall(group, legs, air),
    )


def _shortfall(group: PowerGroup, legs: Sequence[Leg], air: Air) -> tuple[str, ...]:
    names: list[str] = []
    for leg in legs:
        if leg.thrust is None or leg.thrust <= 0.0:
            continue
        points = match(group, throttle=1.0, airspeed=leg.airspeed, charge=0.5, air=air)
        if sum(float(point.thrust) for point in points) < leg.thrust:
            names.append(leg.name)
    return tuple(names)


def discharge(
    group: PowerGroup,
    profile: Sequence[Leg],
    *,
    start: float = 1.0,
    step: float = 2.0,
    radio: float = RADIO_CURRENT,
    air: Air = SEA_LEVEL,
) -> Discharge:
    """Volts under load over a whole flight.

    Parameters
    ----------
    group : PowerGroup
        Lines and pack.
    profile : sequence of Leg
        Flown one after the other; `share` is the time of each in seconds.
    start : float
        Share of charge at the start. [-]
    step : float
        Between the points given back. [s]
    radio : float
        Current of the radio. [A]
    air : Air
        Density and viscosity.

    Returns
    -------
    Discharge
        From the start to the end of the profile, or until the pack holds nothing.
    """
    grid = np.linspace(0.0, 1.0, 41)
    tables = [leg_currents(group, leg, grid, air=air) for leg in profile]
    time, charge, legs = [0.0], [start], [0]
    amps = [float(np.interp(start, grid, tables[0][0])) + radio]
    volts = [float(np.interp(start, grid, tables[0][1]))]
    for number, (leg, (current, under_load)) in enumerate(zip(profile, tables, strict=True)):
        steps = max(1, round(leg.share / step))
        dt = leg.share / steps
        for _ in range(steps):
            i = float(np.interp(charge[-1], grid, current)) + radio
            half = charge[-1] - 0.5 * i * dt / group.pack.capacity
            i = float(np.interp(half, grid, current)) + radio  # the midpoint rule
            charge.append(max(charge[-1] - i * dt / group.pack.capacity, 0.0))
            time.append(time[-1] + dt)
            amps.append(i)
            volts.append(float(np.interp(charge[-1], grid, under_load)))
            legs.append(number)
            if charge[-1] <= 0.0:
                break
        if charge[-1] <= 0.0:
            break
    return Discharge(
        time=np.array(time),
        volts=np.array(volts),
        volts_per_cell=np.array(volts) / group.pack.cells,
        current=np.array(amps),
        charge=np.array(charge),
        leg=np.array(legs, dtype=np.intp),
        ends_empty=charge[-1] < 1.0 - group.pack.usable,
    )
