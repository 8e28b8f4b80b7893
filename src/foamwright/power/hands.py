"""Handedness: which propeller, which face ahead, which way the motor turns, which thread holds.

A normal propeller is a right-hand screw: it pushes the aeroplane forward when it turns clockwise
seen from behind, whether it pulls or pushes. Its lettered face always looks in flight direction.
What changes with the mounting is how that turning looks at the motor's own shaft end, and so
which leads and which thread it takes.
"""

from __future__ import annotations

from dataclasses import dataclass

from foamwright.design.model import Mounting, Propeller, Rotation


@dataclass(frozen=True, slots=True, kw_only=True)
class Handedness:
    """How a propeller and its motor go together."""

    sense: float  # +1 clockwise seen from behind, -1 anticlockwise
    seen_from_behind: str
    seen_at_shaft: str  # looking at the end of the shaft, propeller towards you
    leads: str  # which way the three leads go
    nut_loosens: bool  # whether an ordinary right-hand nut works loose
    face: str
    roll: str  # where torque rolls the aeroplane
    yaw: str  # where the twisted slipstream pushes a fin above the shaft


def handedness(propeller: Propeller, mounting: Mounting) -> Handedness:
    """Say how propeller and motor must turn to push the aeroplane forward.

    Parameters
    ----------
    propeller : Propeller
        Normal (a right-hand screw) or reverse.
    mounting : Mounting
        Pulling or pushing.

    Returns
    -------
    Handedness
        In words that a builder can check at the bench.

    Notes
    -----
    A starting motor turns away under the nut: one that turns anticlockwise, seen at the shaft's
    end, tightens a right-hand thread. That is why tractors with normal propellers need no care.
    """
    clockwise = propeller.rotation is Rotation.NORMAL
    # At the shaft's end one looks aft at a tractor's, ahead at a pusher's.
    at_shaft_clockwise = clockwise == (mounting is Mounting.PUSHER)
    behind, shaft = _word(clockwise), _word(at_shaft_clockwise)
    leads = (
        f"The shaft must turn {shaft}, looking at its end. Try the motor without propeller; if it "
        "turns the other way, swap any two of its three leads."
    )
    return Handedness(
        sense=1.0 if clockwise else -1.0,
        seen_from_behind=behind,
        seen_at_shaft=shaft,
        leads=leads,
        nut_loosens=at_shaft_clockwise,
        face="The lettered face looks ahead, in flight direction.",
        roll="left" if clockwise else "right",
        yaw="left" if clockwise else "right",
    )


def _word(clockwise: bool) -> str:
    return "clockwise" if clockwise else "anticlockwise"
