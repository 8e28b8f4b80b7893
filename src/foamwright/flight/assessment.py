"""The flight of one variant, ready for reports: trims, speeds, the thrust line."""

from __future__ import annotations

import re
from dataclasses import dataclass

from foamwright.air import AeroModel, StallResult
from foamwright.balance import Balance
from foamwright.flight.speeds import Envelope, envelope
from foamwright.flight.throttle import thrust_table
from foamwright.flight.tilting import ThrustMap, thrust_map
from foamwright.flight.whole import Aeroplane, aeroplane
from foamwright.power import PowerAssessment

#: Share of the elevator's throw that full throttle may ask for and still be called flat, for a
#: learner and for others. (common practice, no source)
FLAT_LEARNER, FLAT = 0.10, 0.20
_LEARNER = ("beginner", "first", "learn", "train", "novice", "new", "school", "pupil")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlightAssessment:
    """Everything known about one variant in the air."""

    plane: Aeroplane
    envelope: Envelope
    thrust_map: ThrustMap | None  # None where no propeller's thrust is known
    flyer: str  # as the brief says
    flat: float  # share of the elevator's throw that this flyer calls flat


def assess_flight(
    aero: AeroModel,
    balance: Balance,
    *,
    stall: StallResult,
    power: PowerAssessment,
    flyer: str = "",
) -> FlightAssessment:
    """Trim one variant through its speeds and map its thrust line.

    Parameters
    ----------
    aero : AeroModel
        Of the variant. [SI]
    balance : Balance
        As weighed.
    stall : StallResult
        Controls straight, power off.
    power : PowerAssessment
        Its power.
    flyer : str, optional
        Who flies it, in the brief's words.

    Returns
    -------
    FlightAssessment
    """
    plane = aeroplane(
        aero,
        balance,
        thrust=thrust_table(aero.airframe, power),
        largest_lift=stall.max_lift,
        stall_alpha=stall.max_alpha,
    )
    found = envelope(plane)
    known = plane.thrust is not None and plane.elevator is not None and found.stall is not None
    return FlightAssessment(
        plane=plane,
        envelope=found,
        thrust_map=thrust_map(plane, stall_speed=found.stall.value, glide=found.glide)
        if known and found.stall is not None
        else None,
        flyer=flyer,
        flat=flat_share(flyer),
    )


def flat_share(flyer: str) -> float:
    """Share of the elevator's throw that a flyer lets power ask for. [-]"""
    said = flyer.lower()
    learns = any(re.search(rf"\b{word}", said) for word in _LEARNER)
    return FLAT_LEARNER if learns else FLAT
