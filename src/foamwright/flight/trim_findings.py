"""What trim and the thrust line say, and the hole of the mount that would calm it."""

from __future__ import annotations

import math

import numpy as np

from foamwright.findings import Change, Cure, Finding, Level
from foamwright.flight.assessment import FlightAssessment
from foamwright.flight.thrustline import NO_ARM
from foamwright.flight.tilt_trials import glides_of, trims_of
from foamwright.flight.tilting import BEYOND, LEVEL, SPEEDS, WASH_SCATTER, ThrustMap
from foamwright.flight.trimming import Reason
from foamwright.flight.whole import with_tilts

#: A cure must take away this share of the swing, else it is fuss.
WORTH = 0.15
_PRACTICE = "common practice, no source"
_FLAT = (
    "power may ask for 10 % of the elevator's throw on a learner's aeroplane, 20 % on others: "
    + _PRACTICE
)
# Below this an angle is called nought. [rad]
_TURN = float(np.radians(0.05))


def trim_findings(flight: FlightAssessment) -> tuple[Finding, ...]:
    """Check trims, speeds and the thrust line of one variant.

    Parameters
    ----------
    flight : FlightAssessment
        As found.

    Returns
    -------
    tuple of Finding
        Every cure was trimmed anew on the full model.
    """
    findings = [*_glide_findings(flight), *_power_findings(flight)]
    found = flight.thrust_map
    if found is not None:
        findings += _thrust_findings(flight, found)
    return tuple(findings)


def _glide_findings(flight: FlightAssessment) -> list[Finding]:
    glide = flight.envelope.glide
    if glide.is_trimmed.any():
        return []
    reason = Reason(int(glide.reason[len(glide.reason) // 2]))
    return [
        Finding(
            slug="no-trim",
            level=Level.STOP,
            text=f"There is no steady glide at all: {reason.says}.",
            where=f"surface.{flight.plane.airframe.reference.surface}",
            why="forces and pitching moment of the whole aeroplane must balance",
        )
    ]


def _power_findings(flight: FlightAssessment) -> list[Finding]:
    level = flight.envelope.level
    if level is None or level.is_trimmed.any() or not (level.reason == Reason.POWER).any():
        return []
    motor = flight.plane.airframe.design.power.motors[0]
    return [
        Finding(
            slug="no-level-flight",
            level=Level.STOP,
            text="Full throttle does not hold it level at any airspeed that was tried.",
            where=f"power.motor.{motor.key}",
            why="thrust along the path must meet the drag of the trimmed aeroplane",
        )
    ]


# ---------------------------------------------------------------- the thrust line


def _thrust_findings(flight: FlightAssessment, found: ThrustMap) -> list[Finding]:
    findings: list[Finding] = []
    pitch = _pitch_finding(flight, found)
    if pitch is not None:
        findings.append(pitch)
    throw = _throw_finding(flight, found)
    if throw is not None:
        findings.append(throw)
    calm = _calm_finding(found, flight, is_asked=pitch is not None)
    if calm is not None:
        findings.append(calm)
    return findings


def arm_words(arm: float) -> str:
    """Say where a thrust line passes. [m]"""
    if abs(arm) < NO_ARM:
        return "through the balance point"
    side = "above" if arm > 0.0 else "below"
    return f"{1e3 * abs(arm):.0f} mm {side} the balance point"


def nose_words(found: ThrustMap, hole: int) -> str:
    """Say which way the nose goes as power comes on."""
    asked = found.power_stick[hole]
    if not np.isfinite(asked).any():
        return "which way is not known"
    worst = float(asked[int(np.nanargmax(np.abs(asked)))])
    return "nose down" if worst > 0.0 else "nose up"


def worst(found: ThrustMap, hole: int) -> tuple[float, float]:
    """Largest swing at a hole among the airspeeds it holds, and that airspeed. [rad], [m/s]"""
    if not found.is_held[hole].any():
        return float("nan"), float("nan")
    elevator = found.elevator[hole]
    change = elevator.max(axis=-1) - elevator.min(axis=-1)
    change = np.where(found.is_held[hole], change, -np.inf)
    place = int(np.argmax(change))
    return float(change[place]), float(found.airspeed[place])


def _throw(flight: FlightAssessment) -> float:
    """Smaller throw of the elevator. [rad]"""
    number = flight.plane.elevator
    if number is None:
        return float("nan")
    back, forward = flight.plane.stick_back, flight.plane.stick_forward
    return float(min(abs(back[number]), abs(forward[number])))


def _pitch_finding(flight: FlightAssessment, found: ThrustMap) -> Finding | None:
    hole = found.hole
    most, speed = worst(found, hole)
    lost = ~found.is_held[hole]
    allowed = flight.flat * _throw(flight)
    if not lost.any() and not most > allowed:
        return None
    text = f"Opening the throttle pushes the {nose_words(found, hole)}"
    if not lost.all():
        text += (
            f": at {speed:.1f} m/s the elevator must move {np.degrees(most):.1f}° between glide "
            f"and full throttle ({np.degrees(allowed):.1f}° is called flat)"
        )
    text += f"; the thrust line passes {arm_words(float(found.arm[hole]))}"
    if lost.any():
        slow = float(found.airspeed[lost].max())
        text += f". At {slow:.1f} m/s and below, full elevator does not hold full throttle"
    motor = flight.plane.airframe.design.power.motors[0]
    return Finding(
        slug="power-pitch",
        level=Level.MIND,
        text=text + ".",
        where=f"power.motor.{motor.key}",
        why=_FLAT,
        cures=_hole_cures(flight, found, allowed),
    )


def _hole_cures(flight: FlightAssessment, found: ThrustMap, allowed: float) -> tuple[Cure, ...]:
    """Set the mount to its calmest hole, where that is worth it; trimmed anew."""
    best, hole = found.best, found.hole
    if best == hole or not math.isfinite(found.swing[hole]):
        return ()
    tilt = float(found.up[best])
    # Airspeeds at which both tilts hold full throttle, so that like is compared with like.
    off = glides_of(flight.plane, found.airspeed, glide=flight.envelope.glide)
    tilted = with_tilts(flight.plane, ((tilt, found.drawn[1]),))
    trims = trims_of(tilted, found.airspeed, 1, off=off)
    stick = np.stack([trims.off.wanted, trims.level.wanted[0], trims.full.wanted[0]], axis=-1)
    elevator = flight.plane.elevator_angle(stick)
    change = elevator.max(axis=-1) - elevator.min(axis=-1)
    before = found.elevator[hole].max(axis=-1) - found.elevator[hole].min(axis=-1)
    both = (np.abs(stick) <= 1.0).all(axis=-1) & found.is_held[hole]
    if not both.any():
        return ()
    now, then = float(before[both].max()), float(change[both].max())
    if not then < (1.0 - WORTH) * now:
        return ()
    rest = "" if then <= allowed else f", still more than the {np.degrees(allowed):.1f}° of flat"
    changes = tuple(
        Change(path=f"power.motor.{motor.key}.tilt_up", value=degrees(tilt))
        for motor in flight.plane.airframe.design.power.motors
    )
    effect = (
        f"thrust tilt {degrees(tilt):g}°, the line {arm_words(float(found.arm[best]))}: glide to "
        f"full throttle asks {np.degrees(then):.1f}° of elevator instead of "
        f"{np.degrees(now):.1f}°{rest}"
    )
    return (Cure(changes=changes, effect=effect),)


def degrees(angle: float) -> float:
    """Return an angle as the file writes it, to a tenth of a degree."""
    return round(float(np.degrees(angle)), 1) + 0.0


def _throw_finding(flight: FlightAssessment, found: ThrustMap) -> Finding | None:
    hole = found.hole
    held, full = float(found.held[hole]), found.throw_thrust
    if not held < 0.98 * full:
        return None
    level = found.thrust[hole, :, LEVEL]
    needed = float(np.nanmin(level)) if np.isfinite(level).any() else 0.0
    share = _throttle_words(flight, held, found.throw_speed)
    motor = flight.plane.airframe.design.power.motors[0]
    return Finding(
        slug="launch-power",
        level=Level.STOP if held < needed else Level.MIND,
        text=(
            f"Thrown at {found.throw_speed:.0f} m/s, full elevator holds the nose against "
            f"{held:.1f} N of the {full:.1f} N that full throttle gives{share}: launch at part "
            "throttle and open it once it flies."
        ),
        where=f"power.motor.{motor.key}",
        why=(
            "pitching moment of thrust and wash against the elevator's at the speed of a throw; "
            f"{found.throw_speed:.0f} m/s is {_PRACTICE}"
        ),
    )


def _throttle_words(flight: FlightAssessment, thrust: float, speed: float) -> str:
    table = flight.plane.thrust
    if table is None:
        return ""
    share = float(table.for_thrust(thrust, airspeed=speed).throttle)
    return f" ({100.0 * share:.0f} % throttle)"


def _calm_finding(found: ThrustMap, flight: FlightAssessment, *, is_asked: bool) -> Finding | None:
    """Tell where the calm tilt lies if the mount does not reach it, or has no holes."""
    if not is_asked or found.calm_is_there:
        return None
    low, high = float(found.up.min()), float(found.up.max())
    known = math.isfinite(found.calm)
    if known and low - found.calm < _TURN and found.calm - high < _TURN:
        return None
    reach = (
        f"the mount reaches {degrees(low):g}° to {degrees(high):g}°"
        if found.can_tilt
        else f"the mount is fixed at {degrees(low):g}°"
    )
    if known:
        band = float(np.degrees(2.0 * found.calm_scatter))
        text = (
            f"Power would be calmest with the front of the thrust line leaning {_leans(found.calm)}"
        )
        text += f" (± {band:.0f}°); {reach}"
    else:
        text = f"No thrust tilt within {degrees(BEYOND):g}° of the mount's own calms power; {reach}"
        if math.isfinite(found.through):
            text += f", through the balance point the line would lean {_leans(found.through)}"
    motor = flight.plane.airframe.design.power.motors[0]
    return Finding(
        slug="tilt-beyond-mount",
        level=Level.NOTE,
        text=f"{text}. Moving the motor, or a mix of throttle and elevator, does the rest.",
        where=f"power.motor.{motor.key}",
        why=(
            "least change of elevator between glide, level flight and full throttle at "
            f"{SPEEDS[0]} to {SPEEDS[-1]} times the stall; band from the height of "
            f"the balance point and {100 * WASH_SCATTER:.0f} % of the wash's part ({_PRACTICE})"
        ),
    )


def _leans(angle: float) -> str:
    return f"{abs(degrees(angle)):.0f}° {'up' if angle > 0.0 else 'down'}"
