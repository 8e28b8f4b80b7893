"""From what a case is about to its shape in space and its lattice; each is made once."""

from __future__ import annotations

import math
from functools import lru_cache

from foamwright.air import (
    LatticeReference,
    LatticeResult,
    LatticeSurface,
    lattice_surfaces,
    solve_lattice,
)
from foamwright.airframe import Airframe, Reference, SurfaceShape, build_airframe
from foamwright.airframe.bodies import body_pieces, body_shapes
from foamwright.airframe.lines import body_lines
from foamwright.airframe.placed import discs, placed_pieces
from foamwright.design.model import Design, SurfaceRole
from foamwright.errors import DomainError
from foamwright.verify.model import AeroplaneSubject, LatticeSubject, Question, SectionSubject

#: How many subjects are kept: the measures of one case follow each other.
_KEPT = 8

#: What an aeroplane without a wing is measured by: nothing.
_NO_WING = Reference(
    surface="",
    area=math.nan,
    span=math.nan,
    mac=math.nan,
    mac_leading_edge=(math.nan, math.nan, math.nan),
    tail_volume=None,
    fin_volume=None,
    wetted_area=math.nan,
)


def aeroplane(question: Question) -> AeroplaneSubject:
    """Return the aeroplane that is asked about."""
    if not isinstance(question.subject, AeroplaneSubject):
        raise DomainError("this measure wants an aeroplane")
    return question.subject


def section(question: Question) -> SectionSubject:
    """Return the bare section that is asked about."""
    if not isinstance(question.subject, SectionSubject):
        raise DomainError("this measure wants a bare section")
    return question.subject


@lru_cache(maxsize=_KEPT)
def shape(subject: AeroplaneSubject) -> Airframe:
    """Shape of an aeroplane in space; without a wing it has no reference measures. [m]"""
    design = subject.design
    if any(surface.role is SurfaceRole.WING for surface in design.surfaces):
        return build_airframe(design)
    return _without_wing(design)


def _without_wing(design: Design) -> Airframe:
    """Bodies and placed things alone."""
    if design.surfaces:
        raise DomainError('of its surfaces one needs role = "wing"')
    stock = design.stock
    return Airframe(
        design=design,
        reference=_NO_WING,
        surfaces=(),
        bodies=tuple(part for body in design.bodies for part in body_shapes(body, stock=stock)),
        pieces=(
            *(piece for body in design.bodies for piece in body_pieces(body, stock=stock)),
            *placed_pieces(design),
        ),
        lines=tuple(line for body in design.bodies for line in body_lines(body, stock=stock)),
        discs=discs(design.power),
    )


def surface_named(airframe: Airframe, name: str) -> SurfaceShape:
    """Return a surface by its name; the reading has made sure that there is one."""
    return next(surface for surface in airframe.surfaces if surface.key == name)


def lattice_nose(subject: AeroplaneSubject | LatticeSubject) -> float:
    """Place from which neutral points are counted: the mean chord's leading edge. [m]"""
    if isinstance(subject, LatticeSubject):
        return subject.nose
    given = subject.reference.nose
    return shape(subject).reference.mac_leading_edge[0] if given is None else given


def lattice_given(
    subject: AeroplaneSubject | LatticeSubject,
) -> tuple[tuple[LatticeSurface, ...], LatticeReference]:
    """Surfaces of a lattice and what its coefficients are made with. [m]"""
    if isinstance(subject, LatticeSubject):
        return subject.surfaces, subject.reference
    airframe = shape(subject)
    if not airframe.surfaces:
        raise DomainError("there is no surface to lift")
    own, said = airframe.reference, subject.reference
    x, _, z = own.mac_leading_edge
    reference = LatticeReference(
        area=said.area or own.area,
        chord=said.chord or own.mac,
        span=said.span or own.span,
        point=said.point or (x + 0.25 * own.mac, 0.0, z),
    )
    return lattice_surfaces(airframe), reference


@lru_cache(maxsize=_KEPT)
def solved(subject: AeroplaneSubject | LatticeSubject) -> LatticeResult:
    """Lattice of an aeroplane or of surfaces by points, with sideslip and roll."""
    surfaces, reference = lattice_given(subject)
    return solve_lattice(
        surfaces,
        reference_area=reference.area,
        reference_chord=reference.chord,
        reference_span=reference.span,
        reference_point=reference.point,
        lateral=True,
    )


def lattice(question: Question) -> LatticeResult:
    """Solved lattice of what is asked about."""
    subject = question.subject
    if not isinstance(subject, AeroplaneSubject | LatticeSubject):
        raise DomainError("this measure wants an aeroplane or a lattice")
    return solved(subject)
