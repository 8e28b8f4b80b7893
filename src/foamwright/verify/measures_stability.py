"""Measures of sideslip and turning: dihedral effect, damping in roll and pitch."""

from __future__ import annotations

from foamwright.air import LateralSlopes
from foamwright.air.rolling import equivalent_dihedral
from foamwright.airframe.model import PanelShape
from foamwright.errors import DomainError
from foamwright.verify.model import AeroplaneSubject, Measure, Part, Question
from foamwright.verify.subjects import aeroplane, lattice, shape, surface_named
from foamwright.verify.values import SLOPE

_FAMILY = "stability"


def _lateral(question: Question) -> LateralSlopes:
    slopes = lattice(question).lateral
    if slopes is None:
        raise DomainError("sideslip was not solved")
    return slopes


def _equivalent_dihedral(question: Question) -> float:
    surface = surface_named(shape(aeroplane(question)), question.of)
    return equivalent_dihedral([_seen(panel) for panel in surface.panels])


def _seen(panel: PanelShape) -> tuple[float, float, float, float, float]:
    """Panel seen from above: ends, chords there, dihedral. [m], [rad]"""
    root, tip = panel.root, panel.tip
    ends = float(root.leading_edge[1]), float(tip.leading_edge[1])
    return (*ends, root.chord, tip.chord, panel.dihedral)


MEASURES = (
    Measure(
        name="side force by sideslip",
        what="side force coefficient per sideslip (wind from the right positive); right positive",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        compute=lambda question: _lateral(question).side_sideslip,
    ),
    Measure(
        name="roll by sideslip",
        what="rolling moment coefficient per sideslip; negative is stable",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        compute=lambda question: _lateral(question).roll_sideslip,
    ),
    Measure(
        name="yaw by sideslip",
        what="yawing moment coefficient per sideslip; positive is stable",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        compute=lambda question: _lateral(question).yaw_sideslip,
    ),
    Measure(
        name="roll by roll rate",
        what="rolling moment coefficient per p b / 2V; negative damps",
        family=_FAMILY,
        unit="-",
        compute=lambda question: _lateral(question).roll_damping,
    ),
    Measure(
        name="lift by pitch rate",
        what="lift coefficient per q c / 2V, turning about the point of the moments",
        family=_FAMILY,
        unit="-",
        compute=lambda question: lattice(question).lift_pitch_rate,
    ),
    Measure(
        name="moment by pitch rate",
        what="pitching moment coefficient per q c / 2V; negative damps",
        family=_FAMILY,
        unit="-",
        compute=lambda question: lattice(question).moment_pitch_rate,
    ),
    Measure(
        name="equivalent dihedral",
        what="plain dihedral that rolls as much as a surface bent in panels, by strips",
        family=_FAMILY,
        unit="deg",
        kind="angle",
        of=Part.SURFACE,
        subjects=(AeroplaneSubject,),
        compute=_equivalent_dihedral,
    ),
)
