"""The power of one variant, ready for reports: what each motor does, how long the pack lasts."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.airframe import Airframe
from foamwright.figures import Figure
from foamwright.power.clearance import Clearance, disc_clearance
from foamwright.power.disc import induced_speed, pitch_speed
from foamwright.power.flying import Endurance, Leg, endurance
from foamwright.power.hands import Handedness, handedness
from foamwright.power.limits import FullThrottle, Margins, full_throttle, margins, rpm_limit
from foamwright.power.lines import (
    Installation,
    Missing,
    Parts,
    PowerGroup,
    PowerLine,
    pack_group,
    parts_of,
    power_line,
)
from foamwright.power.matching import SEA_LEVEL, Air, match
from foamwright.power.moments import PropellerLoads, propeller_loads
from foamwright.power.motor import winding_temperature
from foamwright.power.place import installation

#: A mix of flying where none is stated: shares of the time, airspeeds over the stall, and the lift
#: over drag of a foam aeroplane at cruise. Common practice, no source.
CLIMB_SHARE, CRUISE_SHARE, GLIDE_SHARE = 0.15, 0.60, 0.25
CLIMB_SPEED, CRUISE_SPEED, GLIDE_SPEED = 1.3, 1.6, 1.3
LIFT_OVER_DRAG = 5.0

#: Lift coefficient at which a sheet wing stalls, where no better one is given.
STALL_LIFT = 1.0

GRAVITY = 9.80665  # m/s²


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MotorState:
    """One motor with all that hangs on it."""

    parts: Parts
    line: PowerLine
    full: FullThrottle
    margins: Margins
    hand: Handedness
    clearance: Clearance | None
    winding: float  # °C, steady, full throttle held standing still, fresh pack
    pitch_speed: float  # m/s, standing still, pack half flown

    @property
    def installation(self) -> Installation:
        """How its propeller is placed."""
        return self.line.installation

    @property
    def rpm_limit(self) -> float:
        """Fastest turning its propeller stands. [1/s]"""
        return rpm_limit(self.parts.propeller)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PackState:
    """One pack with all that it feeds."""

    group: PowerGroup
    current: Figure  # A, full throttle standing still, fresh
    volts_per_cell: float  # V, full throttle standing still, landing due
    endurance: Endurance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PowerAssessment:
    """Everything known about the power of one variant."""

    motors: tuple[MotorState, ...]
    packs: tuple[PackState, ...]
    missing: tuple[Missing, ...]
    mass: float  # kg, flying
    static_thrust: Figure | None  # N, all motors, installed, pack half flown
    stall_speed: float  # m/s, from weight and wing, for the mix and the rules
    mix: str  # the mix of flying in words
    air: Air

    @property
    def thrust_to_weight(self) -> float | None:
        """Static thrust over weight. [-]"""
        if self.static_thrust is None:
            return None
        return self.static_thrust.value / (self.mass * GRAVITY)

    @property
    def duration(self) -> float | None:
        """Flight in the mix until the first pack is down to its reserve. [s]"""
        return min((pack.endurance.duration for pack in self.packs), default=None)


def assess_power(
    airframe: Airframe,
    *,
    mass: float,
    stall_speed: float | None = None,
    legs: Sequence[Leg] | None = None,
    air: Air = SEA_LEVEL,
) -> PowerAssessment:
    """Reckon the power of one variant.

    Parameters
    ----------
    airframe : Airframe
        The shape and its design.
    mass : float
        Flying mass. [kg]
    stall_speed : float, optional
        For the rules and the mix; from a lift coefficient of 1 when left out. [m/s]
    legs : sequence of Leg, optional
        A mix of flying for all motors together; a customary one when left out.
    air : Air
        Density and viscosity.

    Returns
    -------
    PowerAssessment
        Motors that lack a part are named in `missing`.
    """
    found = [parts_of(airframe.design, motor) for motor in airframe.design.power.motors]
    parts = [one for one in found if isinstance(one, Parts)]
    lines = [power_line(one, installation(airframe, one.motor)) for one in parts]
    groups = _groups(parts, lines)
    stall = stall_speed
    if stall is None or not math.isfinite(stall):
        lifting = 0.5 * air.density * airframe.reference.area * STALL_LIFT
        stall = math.sqrt(mass * GRAVITY / lifting)
    motors = tuple(
        _motor_state(airframe, one, line, groups[one.supply], air)
        for one, line in zip(parts, lines, strict=True)
    )
    mix = tuple(legs) if legs is not None else customary_mix(mass=mass, stall_speed=stall)
    return PowerAssessment(
        motors=motors,
        packs=tuple(_pack_state(group, motors, mix, len(lines), air) for group in groups.values()),
        missing=tuple(one for one in found if isinstance(one, Missing)),
        mass=mass,
        static_thrust=_all_thrust(motors),
        stall_speed=stall,
        mix=mix_words(mix),
        air=air,
    )


def customary_mix(
    *,
    mass: float,
    stall_speed: float,
    cruise_speed: float | None = None,
    cruise_drag: float | None = None,
) -> tuple[Leg, ...]:
    """Return a mix of flying where none is stated: climb, cruise, glide.

    Parameters
    ----------
    mass : float
        Flying mass. [kg]
    stall_speed : float
        Stall speed. [m/s]
    cruise_speed : float, optional
        1.6 times the stall, when left out. [m/s]
    cruise_drag : float, optional
        Drag there, which thrust must meet; a fifth of the weight, when left out. [N]

    Returns
    -------
    tuple of Leg
        Shares of the time; common practice, no source.
    """
    drag = mass * GRAVITY / LIFT_OVER_DRAG if cruise_drag is None else cruise_drag
    cruise = CRUISE_SPEED * stall_speed if cruise_speed is None else cruise_speed
    return (
        Leg(name="climb", share=CLIMB_SHARE, airspeed=CLIMB_SPEED * stall_speed, throttle=1.0),
        Leg(name="cruise", share=CRUISE_SHARE, airspeed=cruise, thrust=drag),
        Leg(name="glide", share=GLIDE_SHARE, airspeed=GLIDE_SPEED * stall_speed, thrust=0.0),
    )


def mix_words(legs: Sequence[Leg]) -> str:
    """Say a mix of flying in words."""
    total = sum(leg.share for leg in legs)
    bits: list[str] = []
    for leg in legs:
        how = "full throttle" if leg.throttle == 1.0 else f"{leg.thrust or 0.0:.1f} N"
        if leg.throttle is not None and leg.throttle != 1.0:
            how = f"{100 * leg.throttle:.0f} % throttle"
        bits.append(f"{100 * leg.share / total:.0f} % {leg.name} ({how}, {leg.airspeed:.0f} m/s)")
    return ", ".join(bits)


def _groups(parts: Sequence[Parts], lines: Sequence[PowerLine]) -> Mapping[str, PowerGroup]:
    firsts = {one.supply: one for one in reversed(parts)}
    return {
        key: pack_group(
            first,
            tuple(line for one, line in zip(parts, lines, strict=True) if one.supply == key),
        )
        for key, first in sorted(firsts.items())
    }


def _motor_state(
    airframe: Airframe, parts: Parts, line: PowerLine, group: PowerGroup, air: Air
) -> MotorState:
    number = [one.key for one in group.lines].index(line.key)
    full = full_throttle(group, number, air=air)
    rotation = full.rotation
    return MotorState(
        parts=parts,
        line=line,
        full=full,
        margins=margins(group, number, parts.propeller, full),
        hand=handedness(parts.propeller, parts.motor.mounting),
        clearance=disc_clearance(airframe, parts.motor),
        winding=_winding(line, full, air),
        pitch_speed=float(pitch_speed(parts.propeller.pitch, rotation=rotation)),
    )


def _winding(line: PowerLine, full: FullThrottle, air: Air) -> float:
    points = full.points
    # A tractor's motor stands in the fast stream, a pusher's in the air drawn in.
    past = induced_speed(
        points.thrust[0, 0],
        diameter=line.propeller.diameter,
        airspeed=0.0,
        density=air.density,
    )
    heat = points.motor_heat[0, 0]
    return float(
        winding_temperature(
            line.motor, heat=heat, airspeed=past, density=air.density, viscosity=air.viscosity
        )
    )


def _all_thrust(motors: Sequence[MotorState]) -> Figure | None:
    if not motors:
        return None
    # Motors and propellers of a kind are wrong alike, so their scatters add straight.
    return Figure(
        value=sum(motor.full.static_thrust for motor in motors),
        scatter=sum(motor.full.static_thrust_scatter for motor in motors),
        source="match of motor, propeller and pack, half flown",
    )


def _pack_state(
    group: PowerGroup, motors: Sequence[MotorState], mix: Sequence[Leg], count: int, air: Air
) -> PackState:
    mine = [motor for motor in motors if motor.parts.supply == group.key]
    share = len(group.lines) / count
    legs = [leg if leg.thrust is None else replace(leg, thrust=share * leg.thrust) for leg in mix]
    lasting = endurance(group, legs, air=air)
    full = mine[0].full
    return PackState(
        group=group,
        current=Figure(
            value=full.pack_amps, scatter=full.pack_amps_scatter, source="match, fresh pack"
        ),
        volts_per_cell=full.volts_per_cell,
        endurance=lasting,
    )


def loads_of(
    motor: MotorState, group: PowerGroup, *, throttle: float, airspeed: float, air: Air = SEA_LEVEL
) -> PropellerLoads:
    """Return forces and moments of one motor's propeller beside its thrust.

    Parameters
    ----------
    motor : MotorState
        The motor.
    group : PowerGroup
        What shares its pack.
    throttle : float
        Of all motors on that pack, share of full. [-]
    airspeed : float
        Along the shaft. [m/s]
    air : Air
        Density and viscosity.

    Returns
    -------
    PropellerLoads
        On the aeroplane, at the disc. [N m, m/s, N/rad, kg m²/s]
    """
    number = [line.key for line in group.lines].index(motor.line.key)
    point = match(group, throttle=throttle, airspeed=airspeed, charge=0.5, air=air)[number]
    n, size = max(float(point.rotation), 1e-3), motor.line.propeller.diameter
    turns = n * np.array([0.99, 1.01])
    c = motor.line.propeller.coefficients(
        airspeed / (turns * size), rotation=turns, density=air.density, viscosity=air.viscosity
    )
    push = c.ct * air.density * turns**2 * size**4
    slope = float((push[1] - push[0]) / (2.0 * math.pi * (turns[1] - turns[0])))
    return propeller_loads(
        motor.parts.propeller,
        sense=motor.hand.sense,
        thrust=point.thrust,
        torque=point.torque,
        rotation=point.rotation,
        thrust_slope=slope,
        airspeed=airspeed,
        air=air,
    )


def one_out(
    group: PowerGroup, key: str, *, throttle: float = 1.0, airspeed: float = 0.0
) -> tuple[float, ...]:
    """Thrust of every line of a group when one of its motors is out.

    Parameters
    ----------
    group : PowerGroup
        Lines and pack.
    key : str
        The motor that has stopped.
    throttle : float
        Of the others, share of full. [-]
    airspeed : float
        Along the shafts. [m/s]

    Returns
    -------
    tuple of float
        Thrust of each, in the group's order; the dead one drags where it windmills. [N]
    """
    throttles = tuple(0.0 if line.key == key else throttle for line in group.lines)
    points = match(group, throttle=throttles, airspeed=airspeed, charge=0.5)
    return tuple(float(point.thrust) for point in points)
