"""Measures of the lattice along the flow: lift, pitching moment, neutral point, downwash."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air import (
    LatticeResult,
    LatticeSurface,
    lattice_surface,
    lattice_surfaces,
    solve_lattice,
)
from foamwright.errors import DomainError
from foamwright.verify.model import (
    AeroplaneSubject,
    LatticeSubject,
    Measure,
    Part,
    Question,
)
from foamwright.verify.subjects import aeroplane, lattice, lattice_nose, shape, solved
from foamwright.verify.values import SLOPE

Array = NDArray[np.float64]

_FAMILY = "planform"
#: A small change of setting for slopes; the lattice is linear in it. [rad]
_SETTING = 1e-3
#: Chord and half span of the feather that feels the downwash, over the wing's mean chord.
_FEATHER = 0.01


def _neutral_point(question: Question) -> float:
    subject = question.subject
    if not isinstance(subject, AeroplaneSubject | LatticeSubject):
        raise DomainError("this measure wants an aeroplane or a lattice")
    result = lattice(question)
    return (result.neutral_point - lattice_nose(subject)) / result.reference.chord


def _lift(question: Question) -> Array:
    result = lattice(question)
    return result.lift_at_zero + result.lift_slope * question.at("alpha")


def _moment(question: Question) -> Array:
    result = lattice(question)
    return result.moment_at_zero + result.moment_slope * question.at("alpha")


def _share(question: Question) -> float:
    shares = {share.key: share.lift_slope for share in lattice(question).shares}
    return shares[question.of]


def _reset(question: Question) -> tuple[LatticeResult, LatticeResult]:
    """Lattice as drawn, and with one surface set a little more nose up."""
    subject = aeroplane(question)
    surfaces = tuple(
        replace(surface, incidence=surface.incidence + _SETTING)
        if surface.key == question.of
        else surface
        for surface in subject.design.surfaces
    )
    changed = replace(subject, design=replace(subject.design, surfaces=surfaces))
    return solved(subject), solved(changed)


def _lift_by_setting(question: Question) -> float:
    before, after = _reset(question)
    return (after.lift_at_zero - before.lift_at_zero) / _SETTING


def _moment_by_setting(question: Question) -> float:
    before, after = _reset(question)
    return (after.moment_at_zero - before.moment_at_zero) / _SETTING


def _downwash(question: Question) -> Array:
    """Felt by a feather: a surface so small that the wing does not notice it."""
    airframe = shape(aeroplane(question))
    wings = tuple(lattice_surfaces(airframe))
    x, _, z = airframe.surfaces[0].panels[0].root.leading_edge.tolist()
    quarter = x + 0.25 * airframe.surfaces[0].panels[0].root.chord
    size = _FEATHER * airframe.reference.mac
    behind, above = np.broadcast_arrays(question.at("behind"), question.at("above"))
    slopes = [
        _felt(wings, _feather(quarter + at, height + z, size), airframe.reference.area)
        for at, height in zip(behind.tolist(), above.tolist(), strict=True)
    ]
    return np.array(slopes)


def _feather(x: float, z: float, size: float) -> LatticeSurface:
    nose = x - 0.5 * size
    return lattice_surface(
        "the feather that feels it",
        leading=[(nose, 0.0, z), (nose, size, z)],
        chord=(size, size),
        strips=4,
    )


def _felt(wings: tuple[LatticeSurface, ...], feather: LatticeSurface, area: float) -> float:
    alone, behind = (
        solve_lattice(
            surfaces, reference_area=area, reference_chord=1.0, reference_span=1.0
        ).shares[-1]
        for surfaces in ((feather,), (*wings, feather))
    )
    return 1.0 - behind.lift_slope / alone.lift_slope


def _circulation(question: Question) -> Array:
    """Circulation of the strips over 4 pi times speed, span and incidence, root to tip."""
    result = lattice(question)
    load = next(load for load in result.loads if load.key == question.of)
    return 0.5 * load.unit / (4.0 * np.pi * result.reference.span)


MEASURES = (
    Measure(
        name="lift slope",
        what="lift coefficient per incidence",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        compute=lambda question: lattice(question).lift_slope,
    ),
    Measure(
        name="moment slope",
        what="pitching moment coefficient per incidence, about the quarter point of the mean "
        "chord or the point of the reference; nose up positive",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        compute=lambda question: lattice(question).moment_slope,
    ),
    Measure(
        name="neutral point",
        what="neutral point behind the leading edge of the mean chord, in mean chords",
        family=_FAMILY,
        unit="-",
        compute=_neutral_point,
    ),
    Measure(
        name="neutral point x",
        what="neutral point behind the datum",
        family=_FAMILY,
        unit="mm",
        kind="length",
        compute=lambda question: lattice(question).neutral_point,
    ),
    Measure(
        name="lift",
        what="lift coefficient at an incidence, attached flow",
        family=_FAMILY,
        unit="-",
        needs=("alpha",),
        compute=_lift,
    ),
    Measure(
        name="moment",
        what="pitching moment coefficient at an incidence, about the same point as its slope",
        family=_FAMILY,
        unit="-",
        needs=("alpha",),
        compute=_moment,
    ),
    Measure(
        name="zero-lift angle",
        what="incidence of the x axis at which nothing lifts, attached flow",
        family=_FAMILY,
        unit="deg",
        kind="angle",
        compute=lambda question: lattice(question).zero_lift_angle,
    ),
    Measure(
        name="zero-lift moment",
        what="pitching moment coefficient at zero lift; nose up positive",
        family=_FAMILY,
        unit="-",
        compute=lambda question: lattice(question).zero_lift_moment,
    ),
    Measure(
        name="share of lift slope",
        what="part that one surface has in the lift slope",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        of=Part.SURFACE,
        compute=_share,
    ),
    Measure(
        name="lift by setting",
        what="lift coefficient per change of one surface's incidence",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        of=Part.SURFACE,
        subjects=(AeroplaneSubject,),
        compute=_lift_by_setting,
    ),
    Measure(
        name="moment by setting",
        what="pitching moment coefficient per change of one surface's incidence",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        of=Part.SURFACE,
        subjects=(AeroplaneSubject,),
        compute=_moment_by_setting,
    ),
    Measure(
        name="downwash slope",
        what="downwash angle per incidence at a point in the middle plane, by the lattice",
        family="downwash",
        unit="-",
        subjects=(AeroplaneSubject,),
        needs=("behind", "above"),
        compute=_downwash,
    ),
    Measure(
        name="strip circulation",
        what="circulation of each strip, root to tip, over 4 pi times speed, span and incidence",
        family=_FAMILY,
        unit="-",
        of=Part.SURFACE,
        compute=_circulation,
    ),
)
