"""What would mend an overloaded line: other propellers, controllers, packs; each one tried."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from foamwright.findings import Cure
from foamwright.power.choose import PropellerChoice, rank_propellers
from foamwright.power.goods import (
    controller_goods,
    pack_goods,
    with_controller,
    with_pack,
    with_propeller,
)
from foamwright.power.limits import (
    CONTROLLER_HEADROOM,
    PACK_HEADROOM,
    FullThrottle,
    Margins,
    full_throttle,
    margins,
)
from foamwright.power.lines import Parts, PowerGroup, pack_group, power_line
from foamwright.power.pack import KIND_CUT_OFF
from foamwright.power.state import GRAVITY, MotorState, PowerAssessment
from foamwright.power.words import controller_changes, pack_changes, propeller_changes

# A cure may cost this share of the static thrust, or leave this much of the weight.
_KEEPS_THRUST, _ENOUGH_THRUST = 0.75, 0.7
# Propellers offered for one fault.
_OFFERED = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A pack's lines with parts changed, matched anew."""

    parts: tuple[Parts, ...]
    full: FullThrottle  # of the line that the fault is in
    margins: Margins


Holds = Callable[[Tried], bool]


def fellows(power: PowerAssessment, motor: MotorState) -> tuple[MotorState, ...]:
    """Return all motors on the same pack, this one among them."""
    return tuple(one for one in power.motors if one.parts.supply == motor.parts.supply)


def tried(power: PowerAssessment, motor: MotorState, parts: tuple[Parts, ...]) -> Tried:
    """Match the motors on one pack anew with other parts, in the order of `fellows`."""
    mates = fellows(power, motor)
    number = [mate.line.key for mate in mates].index(motor.line.key)
    lines = tuple(
        power_line(one, mate.installation) for one, mate in zip(parts, mates, strict=True)
    )
    group = pack_group(parts[0], lines)
    full = full_throttle(group, number, air=power.air, with_bands=False)
    return Tried(
        parts=parts, full=full, margins=margins(group, number, parts[number].propeller, full)
    )


def group_of(power: PowerAssessment, motor: MotorState) -> PowerGroup:
    """Return the pack of a motor with its lines."""
    key = motor.parts.supply
    return next(pack.group for pack in power.packs if pack.group.key == key)


def propeller_cures(power: PowerAssessment, motor: MotorState, holds: Holds) -> tuple[Cure, ...]:
    """Other propellers of no larger disc that keep every limit and most of the thrust.

    None where a thrust reading stands beside the propeller: it would stay behind in the file.
    """
    mates = fellows(power, motor)
    if any(mate.parts.propeller.reading is not None for mate in mates):
        return ()
    now = sum(mate.full.static_thrust for mate in mates)
    cures: list[Cure] = []
    for row in ranked_for(power, motor, largest=motor.parts.propeller.diameter):
        if not row.suits or len(cures) == _OFFERED:
            break
        changed = tuple(
            replace(mate.parts, propeller=with_propeller(mate.parts.propeller, row.propeller))
            for mate in mates
        )
        if holds(tried(power, motor, changed)):
            cures.append(_propeller_cure(mates, row, now))
    return tuple(cures)


def ranked_for(
    power: PowerAssessment, motor: MotorState, *, largest: float
) -> tuple[PropellerChoice, ...]:
    """Rank the catalogue's propellers for a motor and its like, by what this aeroplane wants.

    Parameters
    ----------
    power : PowerAssessment
        Of the variant.
    motor : MotorState
        One of the motors that would all get the propeller.
    largest : float
        Largest diameter that has room. [m]

    Returns
    -------
    tuple of PropellerChoice
        Those that suit first: they keep every limit, most of today's thrust or what the weight
        asks for, and pull at 1.6 times the stalling speed.
    """
    mates = fellows(power, motor)
    now = sum(mate.full.static_thrust for mate in mates)
    share = len(mates) / len(power.motors)
    return rank_propellers(
        group_of(power, motor),
        thrust=min(_KEEPS_THRUST * now, _ENOUGH_THRUST * share * power.mass * GRAVITY),
        airspeed=1.6 * power.stall_speed,
        largest=largest,
        air=power.air,
    )


def room_for_disc(motor: MotorState, *, least: float) -> float:
    """Largest diameter that leaves a gap to the nearest piece at every tilt of the mount. [m]

    Parameters
    ----------
    motor : MotorState
        The motor with its propeller as drawn.
    least : float
        The gap to be left. [m]
    """
    spare = 0.0 if motor.clearance is None else motor.clearance.gap - least
    return motor.parts.propeller.diameter + 2.0 * max(spare, 0.0)


def _propeller_cure(mates: tuple[MotorState, ...], row: PropellerChoice, now: float) -> Cure:
    fitted = {mate.parts.propeller.key: mate.parts.propeller for mate in mates}
    changes = tuple(
        change for old in fitted.values() for change in propeller_changes(old, row.propeller)
    )
    rating = mates[0].parts.controller.rating
    effect = (
        f"{row.propeller.key}: {row.amps:.0f} A at full throttle, the controller stands "
        f"{rating / row.amps:.1f} times that; {row.static_thrust:.1f} N standing still "
        f"(now {now:.1f})"
    )
    return Cure(changes=changes, effect=effect)


def controller_cures(power: PowerAssessment, motor: MotorState) -> tuple[Cure, ...]:
    """Return the smallest controller of the catalogue that has the trade's headroom."""
    amps, mates = motor.full.amps, fellows(power, motor)
    old = motor.parts.controller
    # Twins get twins: a controller for every motor that works like this one.
    alike = [mate for mate in mates if mate.line.is_like(motor.line)]
    fed = {mate.parts.controller.key: mate.parts.controller for mate in alike}
    for goods in controller_goods():
        if goods.rating < CONTROLLER_HEADROOM * amps or goods.rating == old.rating:
            continue
        changed = tuple(
            replace(mate.parts, controller=with_controller(mate.parts.controller, goods))
            if mate in alike
            else mate.parts
            for mate in mates
        )
        after = tried(power, motor, changed)
        if after.margins.controller >= CONTROLLER_HEADROOM:
            effect = (
                f"{goods.name}: {after.margins.controller:.2f} times the full-throttle current, "
                f"{1e3 * (goods.mass - old.mass.value):+.0f} g each"
            )
            changes = tuple(
                change for one in fed.values() for change in controller_changes(one, goods)
            )
            return (Cure(changes=changes, effect=effect),)
    return ()


def pack_cures(power: PowerAssessment, motor: MotorState) -> tuple[Cure, ...]:
    """Return the lightest pack of as many cells that fits the tray and stands the current.

    None where two packs are joined: changing one of them is no cure.
    """
    old, mates = motor.parts.pack, fellows(power, motor)
    if motor.parts.second is not None:
        return ()
    room = (old.tray.back - old.tray.front, old.tray.width, old.tray.height)
    for goods in sorted(pack_goods(), key=lambda one: one.mass):
        fits = all(side <= free + 1e-6 for side, free in zip(goods.size, room, strict=True))
        new = with_pack(old, goods)
        placed = new.travel[0] - 1e-6 <= old.position <= new.travel[1] + 1e-6
        changes = pack_changes(old, goods)
        if goods.cells != old.cells or not (fits and placed and changes):
            continue
        after = tried(power, motor, tuple(replace(mate.parts, pack=new) for mate in mates))
        if after.margins.pack >= PACK_HEADROOM and after.full.volts_per_cell >= KIND_CUT_OFF:
            effect = (
                f"{goods.name}: {after.margins.pack:.2f} times the current, "
                f"{after.full.volts_per_cell:.2f} V per cell when landing is due, "
                f"{1e3 * (goods.mass - old.mass.value):+.0f} g to balance anew"
            )
            return (Cure(changes=changes, effect=effect),)
    return ()
