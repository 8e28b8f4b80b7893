"""What the power says: overload, over-speed, weak pack, hand, clearance; and what would mend it."""

from __future__ import annotations

import math
from dataclasses import replace

from foamwright.airframe import Airframe
from foamwright.design.model import Mounting, Propeller, Rotation
from foamwright.findings import Change, Cure, Finding, Level
from foamwright.power.clearance import LEAST_CLEARANCE, disc_clearance
from foamwright.power.cures import (
    Tried,
    controller_cures,
    pack_cures,
    propeller_cures,
)
from foamwright.power.goods import controller_goods
from foamwright.power.hands import handedness
from foamwright.power.limits import (
    CONTROLLER_HEADROOM,
    CONTROLLER_TOO_LARGE,
    PACK_HEADROOM,
    RPM_CAUTION,
)
from foamwright.power.motor import HOT_WINDING
from foamwright.power.pack import CUT_OFF_VOLTS, KIND_CUT_OFF
from foamwright.power.state import MotorState, PowerAssessment
from foamwright.power.words import controller_changes, spoken, within

#: Static thrust over weight: the least that climbs away, and what a throw by hand wants. Magazine
#: columns of 2001 and 2004, read; the hand launch is common practice.
LEAST_THRUST, LAUNCH_THRUST = 0.25, 0.5

#: Pitch speed over stall speed below which there is no speed to fly on. Common practice, no source.
LEAST_PITCH_SPEED = 2.0

_PRACTICE = "common practice, no source"
_WELL_BEYOND = 1.2  # times a speed limit that nobody has read again
_FURTHEST = 0.020  # m that a cure moves a disc further out


def power_findings(airframe: Airframe, power: PowerAssessment) -> tuple[Finding, ...]:
    """Check one variant's power against its limits, its place and its weight.

    Parameters
    ----------
    airframe : Airframe
        The shape.
    power : PowerAssessment
        As reckoned.

    Returns
    -------
    tuple of Finding
        Every cure was matched anew and keeps its limit. Motors that work alike on one pack and
        have one fault are named once, by the first of them.
    """
    findings: list[Finding] = []
    for motor in power.motors:
        first = next(mate for mate in power.motors if mate.line.is_like(motor.line))
        if first is motor:
            findings += _line_findings(power, motor)
        findings += _hand_findings(power, motor)
        findings += _clearance_findings(airframe, motor)
    findings += _pack_findings(power)
    findings += _thrust_findings(airframe, power)
    findings += [
        Finding(
            slug="power-incomplete",
            level=Level.NOTE,
            text=f'Motor "{one.motor}" has no {one.lacks}: its thrust and current are not known.',
            where=f"power.motor.{one.motor}",
            why="a match takes motor, propeller, controller and pack",
        )
        for one in power.missing
    ]
    return tuple(findings)


# ---------------------------------------------------------------- currents


def _draws(motor: MotorState) -> str:
    full = motor.full
    return (
        f"Full throttle draws {within(full.amps, full.amps_scatter)} A through motor "
        f'"{motor.line.key}"'
    )


def _line_findings(power: PowerAssessment, motor: MotorState) -> list[Finding]:
    found = (
        *_motor_findings(motor),
        *_controller_findings(power, motor),
        *_propeller_findings(motor),
    )
    others = ("motor-overload", "controller-overload", "controller-headroom", "propeller-too-fast")
    if not any(finding.slug in others for finding in found):
        return list(found)
    # Another propeller helps against each of these, and is sought once for all.
    cures = propeller_cures(power, motor, lambda after: after.margins.is_kept)
    return [
        replace(one, cures=(*cures, *one.cures)) if one.slug in others else one for one in found
    ]


def _motor_findings(motor: MotorState) -> list[Finding]:
    findings: list[Finding] = []
    most, margin = motor.line.motor.max_current, motor.margins.motor
    if most is not None and margin is not None and margin < 1.0:
        findings.append(
            Finding(
                slug="motor-overload",
                level=_graver(motor.full.amps - most, 2.0 * motor.full.amps_scatter),
                text=f"{_draws(motor)}; it stands {most:.0f} A.",
                where=f"power.motor.{motor.line.key}",
                why="the motor's own limit, fresh pack, standing still",
            )
        )
    if motor.winding > HOT_WINDING:
        findings.append(
            Finding(
                slug="motor-hot",
                level=Level.MIND,
                text=(
                    f"Full throttle held standing still brings the winding of motor "
                    f'"{motor.line.key}" to about {motor.winding:.0f} °C; in flight it is cooler.'
                ),
                where=f"power.motor.{motor.line.key}",
                why=f"enamel and magnets suffer beyond {HOT_WINDING:.0f} °C: {_PRACTICE}",
            )
        )
    return findings


def _graver(beyond: float, band: float) -> Level:
    """Return a stop where a limit is passed for sure, a mind where the band may save it."""
    return Level.STOP if beyond > band else Level.MIND


def _controller_findings(power: PowerAssessment, motor: MotorState) -> list[Finding]:
    margin, rating = motor.margins.controller, motor.line.controller.rating
    where = f"power.controller.{motor.parts.controller.key}"
    if margin < CONTROLLER_HEADROOM:
        beyond = margin < 1.0
        level = _graver(motor.full.amps - rating, 2.0 * motor.full.amps_scatter)
        return [
            Finding(
                slug="controller-overload" if beyond else "controller-headroom",
                level=level if beyond else Level.MIND,
                text=f"{_draws(motor)}; its controller is rated {rating:.0f} A.",
                where=where,
                why=(
                    f"{CONTROLLER_HEADROOM:g} times the full-throttle current, the trade's 20 to "
                    f"30 % of headroom, with air flowing past it: {_PRACTICE}"
                ),
                cures=controller_cures(power, motor),
            )
        ]
    smaller = [
        one
        for one in controller_goods()
        if CONTROLLER_HEADROOM * motor.full.amps + 2.0 * motor.full.amps_scatter
        <= one.rating
        < rating
    ]
    if margin > CONTROLLER_TOO_LARGE and smaller:
        goods, old = smaller[0], motor.parts.controller
        saved = 1e3 * (old.mass.value - goods.mass)
        if saved < 1.0:
            return []
        effect = f"{goods.name}: {goods.rating / motor.full.amps:.1f} times, {saved:.0f} g lighter"
        changes = controller_changes(old, goods)
        return [
            Finding(
                slug="controller-too-large",
                level=Level.NOTE,
                text=f"{_draws(motor)}; a controller of {rating:.0f} A is {margin:.1f} times that.",
                where=where,
                why=f"beyond {CONTROLLER_TOO_LARGE:g} times it only weighs: {_PRACTICE}",
                cures=(Cure(changes=changes, effect=effect),),
            )
        ]
    return []


def _pack_findings(power: PowerAssessment) -> list[Finding]:
    findings: list[Finding] = []
    for pack in power.packs:
        motor = next(one for one in power.motors if one.parts.supply == pack.group.key)
        where, most = f"power.pack.{motor.parts.pack.key}", pack.group.pack.max_current
        amps, band = pack.current.value, 2.0 * pack.current.scatter
        if motor.margins.pack < PACK_HEADROOM:
            beyond = amps > most
            findings.append(
                Finding(
                    slug="pack-overload" if beyond else "pack-headroom",
                    level=_graver(amps - most, band) if beyond else Level.MIND,
                    text=(
                        f"Full throttle takes {amps:.0f} ± {band:.0f} A from pack "
                        f'"{pack.group.key}"; its label allows {most:.0f} A.'
                    ),
                    where=where,
                    why=f"{PACK_HEADROOM:g} times the current, for labels flatter: {_PRACTICE}",
                    cures=(
                        *pack_cures(power, motor),
                        *propeller_cures(power, motor, lambda after: after.margins.is_kept),
                    ),
                )
            )
        if pack.volts_per_cell < KIND_CUT_OFF:
            cuts = pack.volts_per_cell < CUT_OFF_VOLTS

            def holds(after: Tried) -> bool:
                return after.margins.is_kept and after.full.volts_per_cell >= KIND_CUT_OFF

            findings.append(
                Finding(
                    slug="pack-sags",
                    level=Level.STOP if cuts else Level.MIND,
                    text=(
                        f'Full throttle with a fifth of charge left pulls pack "{pack.group.key}" '
                        f"down to {pack.volts_per_cell:.2f} V per cell: the controller may cut "
                        "the motor on the landing approach."
                    ),
                    where=where,
                    why=f"controllers cut at {CUT_OFF_VOLTS:.1f} to {KIND_CUT_OFF:.1f} V per cell",
                    cures=(
                        *pack_cures(power, motor),
                        *propeller_cures(power, motor, holds),
                    ),
                )
            )
    return findings


# ---------------------------------------------------------------- the propeller


def _propeller_findings(motor: MotorState) -> list[Finding]:
    margin = motor.margins.propeller
    if margin >= 1.0 / RPM_CAUTION:
        return []
    fastest = 60.0 * motor.full.fastest
    return [
        Finding(
            slug="propeller-too-fast",
            # The limits are from memory, so only what lies well beyond them is a stop.
            level=Level.STOP if margin < 1.0 / _WELL_BEYOND else Level.MIND,
            text=(
                f"The propeller ({spoken(motor.parts.propeller)}) reaches {fastest:.0f} rpm in "
                f"fast flight; its class stands {60.0 * motor.rpm_limit:.0f} rpm."
            ),
            where=f"power.propeller.{motor.parts.propeller.key}",
            why=(
                "makers' limits, a constant over the diameter, minded from "
                f"{100 * RPM_CAUTION:.0f} % on: values from memory, check your propeller's own"
            ),
        )
    ]


def _hand_findings(power: PowerAssessment, motor: MotorState) -> list[Finding]:
    if not motor.hand.nut_loosens:
        return []
    propeller, mounting = motor.parts.propeller, motor.parts.motor.mounting
    # Motors that turn against each other are meant: one of them has the awkward hand.
    paired = any(other.hand.sense != motor.hand.sense for other in power.motors)
    pushes = mounting is Mounting.PUSHER
    return [
        Finding(
            slug="pusher-propeller" if pushes else "propeller-nut",
            level=Level.NOTE if paired else Level.MIND,
            text=(
                f'Motor "{motor.line.key}" {"pushes" if pushes else "pulls"} with a '
                f"{propeller.rotation.value} propeller, so its shaft turns "
                f"{motor.hand.seen_at_shaft} seen at its end: swap two of the three leads, and "
                "lock the nut, for a right-hand thread works loose. The lettered face still looks "
                "ahead."
            ),
            where=f"power.propeller.{propeller.key}",
            why="a starting motor turns away under its nut",
            cures=() if paired else _hand_cures(propeller, mounting),
        )
    ]


def _hand_cures(propeller: Propeller, mounting: Mounting) -> tuple[Cure, ...]:
    normal = propeller.rotation is Rotation.NORMAL
    other = Rotation.REVERSE if normal else Rotation.NORMAL
    after = handedness(replace(propeller, rotation=other), mounting)
    if after.nut_loosens:
        return ()
    change = Change(path=f"power.propeller.{propeller.key}.rotation", value=other.value)
    turns = f"turns {after.seen_from_behind} seen from behind"
    return (Cure(changes=(change,), effect=f"a {other.value} propeller {turns}: the nut holds"),)


def _clearance_findings(airframe: Airframe, motor: MotorState) -> list[Finding]:
    near = motor.clearance
    if near is None or near.gap >= LEAST_CLEARANCE:
        return []
    part, cuts = motor.parts.motor, near.gap < 1e-3
    tilt = f"{math.degrees(near.tilt_up):+.0f}° up, {math.degrees(near.tilt_right):+.0f}° right"
    how = "cuts into" if cuts else f"comes within {1e3 * near.gap:.1f} mm of"
    return [
        Finding(
            slug="disc-clearance",
            level=Level.STOP if cuts else Level.MIND,
            text=(
                f'The propeller of motor "{part.key}" {how} "{near.piece}" with the mount at '
                f"{tilt} ({1e3 * near.drawn:.0f} mm as drawn)."
            ),
            where=f"power.motor.{part.key}",
            why=f"{1e3 * LEAST_CLEARANCE:.0f} mm with the mount flexed: {_PRACTICE}",
            cures=_clearance_cures(airframe, motor),
        )
    ]


def _clearance_cures(airframe: Airframe, motor: MotorState) -> tuple[Cure, ...]:
    """Move the disc further out along its shaft, by whole millimetres, as far as it takes."""
    part = motor.parts.motor
    for more in range(1, round(1e3 * _FURTHEST) + 1):
        moved = replace(part, reach=part.reach + 1e-3 * more)
        after = disc_clearance(airframe, moved)
        if after is not None and after.gap >= LEAST_CLEARANCE:
            change = Change(
                path=f"power.motor.{part.key}.reach", value=f"{1e3 * moved.reach:.4g} mm"
            )
            effect = (
                f"disc {more} mm further from the motor: {1e3 * after.gap:.1f} mm clear at every "
                "setting of the mount"
            )
            return (Cure(changes=(change,), effect=effect),)
    return ()


# ---------------------------------------------------------------- enough of it


def _thrust_findings(airframe: Airframe, power: PowerAssessment) -> list[Finding]:
    ratio, thrust = power.thrust_to_weight, power.static_thrust
    if ratio is None or thrust is None or power.missing:
        return []
    findings: list[Finding] = []
    launch = " ".join(line.says for line in airframe.design.brief if line.topic == "launch")
    by_hand = any(word in launch.lower() for word in ("throw", "hand"))
    least = LAUNCH_THRUST if by_hand else LEAST_THRUST
    where = f"power.motor.{power.motors[0].line.key}"
    if ratio < least:
        findings.append(
            Finding(
                slug="thrust-weak",
                level=Level.STOP if ratio < LEAST_THRUST else Level.MIND,
                text=(
                    f"Static thrust is {ratio:.2f} of the weight; "
                    f"{'a throw by hand' if by_hand else 'a climb'} wants {least:g}."
                ),
                where=where,
                why="magazine columns of 2001 and 2004; hand launch: common practice",
            )
        )
    speed = min(motor.pitch_speed for motor in power.motors)
    if speed < LEAST_PITCH_SPEED * power.stall_speed:
        findings.append(
            Finding(
                slug="pitch-speed-low",
                level=Level.MIND,
                text=(
                    f"Pitch speed is {speed:.0f} m/s, {speed / power.stall_speed:.1f} times the "
                    "stall: little pull is left at flying speed."
                ),
                where=where,
                why=f"pitch speed {LEAST_PITCH_SPEED:g} times the stall or more: {_PRACTICE}",
            )
        )
    return findings
