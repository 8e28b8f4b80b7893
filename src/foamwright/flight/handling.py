"""How it handles: every mode against its levels, as printed and scaled, in plain words.

Guidance, not a pass: no standard judges models, and a flyer on the ground is not a pilot.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foamwright.flight.levels import (
    Category,
    FlyingLevel,
    dutch_roll_level,
    phugoid_level,
    roll_level,
    short_period_level,
    spiral_level,
)
from foamwright.flight.modes import Mode, Modes, double_time, half_time


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One quality: what was found, its level both ways, and what that means in the air."""

    mode: Mode
    printed: FlyingLevel  # by the figures as printed
    scaled: FlyingLevel  # by the figures moved to the model's size
    text: str  # what the model does, with its numbers
    why: str  # rule and source

    @property
    def agrees(self) -> bool:
        """Whether both ways give the same level; where not, neither is worth much."""
        return self.printed == self.scaled


def judge(
    longitudinal: Modes,
    *,
    lateral: Modes,
    category: Category = Category.B,
    scale: float = 1.0,
) -> tuple[Judged, ...]:
    """Judge the modes of one state of flight.

    Parameters
    ----------
    longitudinal, lateral : Modes
        Of one state each, without leading axes; roots in 1/s. [1/s]
    category : Category, optional
        What is flown. [-]
    scale : float, optional
        Full-size length over the model's, such as FULL_SPAN over the span. [-]

    Returns
    -------
    tuple of Judged
        Short period, phugoid, dutch roll, roll, spiral; a mode that is not there is said so.
    """
    return (
        _short_period(longitudinal, category),
        _phugoid(longitudinal, scale),
        _dutch_roll(lateral, category, scale),
        _roll(lateral, category, scale),
        _spiral(lateral, category, scale),
    )


def worst(judged: tuple[Judged, ...]) -> FlyingLevel:
    """Worst level of all qualities, the better of both ways each. [-]

    Parameters
    ----------
    judged : tuple of Judged
        From :func:`judge`.

    Returns
    -------
    FlyingLevel
    """
    return max(min(one.printed, one.scaled) for one in judged)


def _why(what: str, category: Category | None, scale: float) -> str:
    flown = "" if category is None else f", category {category.value}"
    return (
        f"{what} of MIL-F-8785C, class I{flown}; scaled: limits moved by Froude's law for a"
        f" length ratio of {scale:.1f}. Guidance only: no standard judges models."
    )


def _levels(printed: object, scaled: object) -> dict[str, FlyingLevel]:
    return {
        "printed": FlyingLevel(int(np.asarray(printed))),
        "scaled": FlyingLevel(int(np.asarray(scaled))),
    }


def _short_period(modes: Modes, category: Category) -> Judged:
    damping = float(modes.damping(Mode.SHORT_PERIOD))
    level = short_period_level(damping, category=category)
    if np.isnan(damping):
        text = "Pitching does not settle to an angle of its own: the balance point is too far aft."
    elif damping >= 1.0:
        text = f"After a bump in pitch it returns without a swing (damping ratio {damping:.2f})."
    else:
        swing = float(modes.period(Mode.SHORT_PERIOD))
        text = (
            f"After a bump in pitch it nods with a swing of {swing:.1f} s"
            f" and damping ratio {damping:.2f}."
        )
    return Judged(
        mode=Mode.SHORT_PERIOD,
        text=text,
        why=_why("Table IV (damping ratio, which scaling leaves alone)", category, 1.0),
        **_levels(level, level),
    )


def _phugoid(modes: Modes, scale: float) -> Judged:
    damping = float(modes.damping(Mode.PHUGOID))
    growth = float(modes.growth(Mode.PHUGOID))
    double = float(double_time(growth))
    swing = float(modes.period(Mode.PHUGOID))
    if np.isnan(growth):
        text = "Its slow swing of height and speed has merged with its nodding."
    elif growth > 0.0:
        text = f"Left alone its speed and height wander off, doubling in {double:.0f} s."
    elif np.isnan(swing):
        text = f"Left alone it comes back to its speed in half-times of {half_time(growth):.0f} s."
    else:
        text = (
            f"Left alone it rises and falls once in {swing:.0f} s,"
            f" half gone after {half_time(growth):.0f} s."
        )
    return Judged(
        mode=Mode.PHUGOID,
        text=text,
        why=_why("Section 3.2.1.2 (phugoid)", None, scale),
        **_levels(
            phugoid_level(damping, double=double),
            phugoid_level(damping, double=double, scale=scale),
        ),
    )


def _dutch_roll(modes: Modes, category: Category, scale: float) -> Judged:
    damping = float(modes.damping(Mode.DUTCH_ROLL))
    frequency = float(modes.frequency(Mode.DUTCH_ROLL))
    swing = float(modes.period(Mode.DUTCH_ROLL))
    growth = float(modes.growth(Mode.DUTCH_ROLL))
    if np.isnan(frequency) or (growth > 0.0 and np.isnan(swing)):
        text = "Pushed sideways it swings round instead of weathercocking: the fin is too small."
    elif growth > 0.0:
        text = (
            f"Its tail wags with a swing of {swing:.1f} s that grows"
            f" to double in {double_time(growth):.0f} s."
        )
    elif np.isnan(swing):
        text = "Pushed sideways it straightens without a wag."
    else:
        text = (
            f"Pushed sideways its tail wags with a swing of {swing:.1f} s"
            f" and damping ratio {damping:.2f}."
        )
    return Judged(
        mode=Mode.DUTCH_ROLL,
        text=text,
        why=_why("Table VI (dutch roll)", category, scale),
        **_levels(
            dutch_roll_level(damping, frequency=frequency, category=category),
            dutch_roll_level(damping, frequency=frequency, category=category, scale=scale),
        ),
    )


def _roll(modes: Modes, category: Category, scale: float) -> Judged:
    root = float(modes.root(Mode.ROLL))
    time = -1.0 / root if root < 0.0 else np.nan
    if np.isnan(root):
        text = "Roll and spiral have merged: it rolls in a slow swing, aileron answers late."
    elif root >= 0.0:
        text = "A roll does not settle to a rate: it has no roll damping."
    else:
        text = f"A roll comes to 95 % of its rate within {3.0 * time:.2f} s of the stick."
    return Judged(
        mode=Mode.ROLL,
        text=text,
        why=_why("Table VII (time constant of the roll)", category, scale),
        **_levels(
            roll_level(time, category=category), roll_level(time, category=category, scale=scale)
        ),
    )


def _spiral(modes: Modes, category: Category, scale: float) -> Judged:
    root = float(modes.root(Mode.SPIRAL))
    double = float(double_time(root)) if not np.isnan(root) else np.nan
    if np.isnan(root):
        text = "There is no spiral of its own: it has merged with the roll."
    elif root > 0.0:
        text = f"Left alone in a bank it tightens the turn, doubling in {double:.0f} s."
    else:
        text = f"Left alone in a bank it levels itself, half of it in {half_time(root):.0f} s."
    return Judged(
        mode=Mode.SPIRAL,
        text=text,
        why=_why("Table VIII (time to double)", category, scale),
        **_levels(
            spiral_level(double, category=category),
            spiral_level(double, category=category, scale=scale),
        ),
    )
