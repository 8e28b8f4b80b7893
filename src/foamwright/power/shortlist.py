"""Which propellers of the catalogue would do, for each pack and the motors on it."""

from __future__ import annotations

from dataclasses import dataclass

from foamwright.power.choose import PropellerChoice
from foamwright.power.clearance import LEAST_CLEARANCE
from foamwright.power.cures import fellows, ranked_for, room_for_disc
from foamwright.power.state import PowerAssessment


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shortlist:
    """The catalogue's propellers for the motors on one pack, the best first."""

    motors: tuple[str, ...]  # keys of the motors that would all get the propeller
    largest: float  # m, largest disc that has room
    choices: tuple[PropellerChoice, ...]


def shortlists(power: PowerAssessment) -> tuple[Shortlist, ...]:
    """Rank the catalogue's propellers for every pack's motors.

    Parameters
    ----------
    power : PowerAssessment
        Of one variant.

    Returns
    -------
    tuple of Shortlist
        One for each pack that feeds a motor; all propellers, with the reasons of each.
    """
    found: dict[str, Shortlist] = {}
    for motor in power.motors:
        if motor.parts.supply in found:
            continue
        mates = fellows(power, motor)
        largest = min(room_for_disc(mate, least=LEAST_CLEARANCE) for mate in mates)
        found[motor.parts.supply] = Shortlist(
            motors=tuple(mate.parts.motor.key for mate in mates),
            largest=largest,
            choices=ranked_for(power, motor, largest=largest),
        )
    return tuple(found.values())
