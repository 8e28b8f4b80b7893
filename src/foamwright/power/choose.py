"""Which propellers suit this motor, controller and pack: a ranked table with reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.design.model import Propeller
from foamwright.power.disc import pitch_speed
from foamwright.power.goods import propeller_goods
from foamwright.power.limits import (
    CONTROLLER_HEADROOM,
    FRESH,
    HALF,
    LANDING,
    PACK_HEADROOM,
    RPM_CAUTION,
    rpm_limit,
)
from foamwright.power.lines import PowerGroup, kept_propeller
from foamwright.power.matching import SEA_LEVEL, Air, match
from foamwright.power.pack import CUT_OFF_VOLTS, KIND_CUT_OFF


@dataclass(frozen=True, slots=True, kw_only=True)
class PropellerChoice:
    """How one propeller would do."""

    propeller: Propeller
    suits: bool
    reasons: tuple[str, ...]  # what it fails in, or what it does well
    static_thrust: float  # N, all motors, pack half flown
    thrust_at_speed: float  # N, all motors, at the wanted speed
    amps: float  # A, one motor, fresh pack, standing still
    pack_amps: float  # A, all motors
    rotation: float  # 1/s, fresh pack, at the wanted speed or standing still, the faster
    pitch_speed: float  # m/s, pack half flown
    watts: float  # W from the pack, all motors, standing still
    efficiency: float  # thrust times wanted speed over watts, full throttle


def rank_propellers(
    group: PowerGroup,
    *,
    thrust: float = 0.0,
    airspeed: float = 0.0,
    candidates: Sequence[Propeller] | None = None,
    largest: float = float("inf"),
    air: Air = SEA_LEVEL,
) -> tuple[PropellerChoice, ...]:
    """Rank propellers for a group's motor, controller and pack.

    Parameters
    ----------
    group : PowerGroup
        Its lines each get the propeller tried.
    thrust : float
        Wanted standing still, all motors together. [N]
    airspeed : float
        Wanted to be reached with a tenth of the static thrust to spare. [m/s]
    candidates : sequence of Propeller, optional
        Those of the packaged catalogue, when left out.
    largest : float
        Largest diameter that has room. [m]
    air : Air
        Density and viscosity.

    Returns
    -------
    tuple of PropellerChoice
        Those that suit first, the most thrust at speed for the watts first among them; then
        the others, the least wrong first.
    """
    tried = propeller_goods() if candidates is None else tuple(candidates)
    rows = [_choice(group, one, thrust, airspeed, largest, air) for one in tried]

    def order(row: PropellerChoice) -> tuple[bool, int, float]:
        return not row.suits, _faults(row), -_merit(row, airspeed)

    return tuple(sorted(rows, key=order))


def _faults(row: PropellerChoice) -> int:
    return 0 if row.suits else len(row.reasons)


def _merit(row: PropellerChoice, airspeed: float) -> float:
    return row.efficiency if airspeed > 0.0 else row.static_thrust / max(row.watts, 1e-9)


def _choice(
    group: PowerGroup, one: Propeller, thrust: float, airspeed: float, largest: float, air: Air
) -> PropellerChoice:
    model = kept_propeller(one)
    tried = replace(group, lines=tuple(replace(line, propeller=model) for line in group.lines))
    # Columns: standing still, at the wanted speed; rows: fresh, half flown, landing due.
    speeds = np.array([0.0, airspeed])
    charges = np.array([FRESH, HALF, LANDING])[:, None]
    points = match(tried, airspeed=speeds, charge=charges, air=air)
    push = np.add.reduce([point.thrust for point in points])
    drawn = np.add.reduce([point.pack_amps for point in points])
    watts = np.add.reduce([point.input_power for point in points])
    amps = max(float(point.pack_amps[0, 0]) for point in points)
    turns = max(float(point.rotation[0].max()) for point in points)
    cell = float(points[0].pack_volts[2, 0]) / group.pack.cells
    static = float(points[0].rotation[1, 0])
    row = PropellerChoice(
        propeller=one,
        suits=True,
        reasons=(),
        static_thrust=float(push[1, 0]),
        thrust_at_speed=float(push[1, 1]),
        amps=amps,
        pack_amps=float(drawn[0, 0]),
        rotation=turns,
        pitch_speed=float(pitch_speed(one.pitch, rotation=static)),
        watts=float(watts[1, 0]),
        efficiency=float(push[1, 1] * airspeed / max(float(watts[1, 1]), 1e-9)),
    )
    wrong = _wrong(group, row, thrust, airspeed, cell, largest)
    return replace(row, suits=not wrong, reasons=wrong or _right(group, row))


def _wrong(
    group: PowerGroup,
    row: PropellerChoice,
    thrust: float,
    airspeed: float,
    cell: float,
    largest: float,
) -> tuple[str, ...]:
    line, limit = group.lines[0], rpm_limit(row.propeller)
    most = line.motor.max_current
    says: list[str] = []
    if most is not None and row.amps > most:
        says.append(f"{row.amps:.0f} A: the motor stands {most:.0f} A")
    if row.amps * CONTROLLER_HEADROOM > line.controller.rating:
        says.append(f"{row.amps:.0f} A: no headroom in a {line.controller.rating:.0f} A controller")
    if row.pack_amps * PACK_HEADROOM > group.pack.max_current:
        says.append(f"{row.pack_amps:.0f} A: no headroom in a {group.pack.max_current:.0f} A pack")
    if row.rotation > RPM_CAUTION * limit:
        says.append(f"{60.0 * row.rotation:.0f} rpm: this class stands {60.0 * limit:.0f}")
    if cell < CUT_OFF_VOLTS + 0.5 * (KIND_CUT_OFF - CUT_OFF_VOLTS):
        says.append(f"sags to {cell:.2f} V per cell")
    if row.static_thrust < thrust:
        says.append(f"{row.static_thrust:.1f} N standing still, wanted {thrust:.1f}")
    if airspeed > 0.0 and row.thrust_at_speed < 0.1 * row.static_thrust:
        says.append(f"no pull left at {airspeed:.0f} m/s")
    if row.propeller.diameter > largest + 1e-9:
        says.append("no room for its disc")
    return tuple(says)


def _right(group: PowerGroup, row: PropellerChoice) -> tuple[str, ...]:
    rating = group.lines[0].controller.rating
    return (
        f"{row.static_thrust:.1f} N at {row.amps:.0f} A, controller {rating / row.amps:.1f} times",
        f"pitch speed {row.pitch_speed:.0f} m/s",
    )
