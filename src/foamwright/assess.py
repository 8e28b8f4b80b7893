"""The whole flow for one variant, and for all of them together: read this first.

A design is read once (:func:`foamwright.design.read_design`) and flows one way. Every step is
a pure function on frozen values; what a later step does not yet exist for is absent here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from foamwright.air import (
    AeroModel,
    Carrying,
    StallResult,
    aero_model,
    carrying,
    stall_findings,
)
from foamwright.air.state import DENSITY
from foamwright.airframe import Airframe, build_airframe
from foamwright.balance import (
    Balance,
    BalanceSpan,
    PackReach,
    balance_findings,
    balance_span,
    common_findings,
    common_span,
    pack_reach,
    weigh,
)
from foamwright.brief import Measures, brief_findings
from foamwright.design import Design, DesignSet, SurfaceRole, shape_problems
from foamwright.errors import DesignFileError, DomainError, ShapeError
from foamwright.findings import Finding
from foamwright.flight import FlightAssessment, assess_flight, trim_findings
from foamwright.power import PowerAssessment, assess_power, customary_mix, power_findings
from foamwright.progress import Progress, no_progress

#: Standard gravity. [m/s²]
GRAVITY = 9.80665

#: One sigma of the neutral point, as a fraction of the mean chord: the lattice itself is good to
#: 0.005; bodies, propeller and low speed bring the stated band to 0.03. Common practice, no source.
NEUTRAL_POINT_SCATTER = 0.015


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Assessment:
    """Everything known about one variant before the first cut."""

    design: Design
    airframe: Airframe
    balance: Balance
    aero: AeroModel
    stall: StallResult  # controls straight, power off
    carrying: Carrying  # lift and drag at the speeds that carry its weight
    power: PowerAssessment
    flight: FlightAssessment  # trimmed: speeds, glide, climb, the thrust line
    span: BalanceSpan
    reaches: tuple[PackReach, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """All variants side by side, and what holds for all of them."""

    design_set: DesignSet
    assessments: tuple[Assessment, ...]
    span: BalanceSpan  # balance span common to all variants
    findings: tuple[Finding, ...]  # equal findings merged; each names its variants


def assess(design: Design) -> Assessment:
    """Carry one variant through the rooms: shape, weigh, air, power, flight, findings."""
    airframe = build_airframe(design)
    balance = weigh(airframe)
    aero = aero_model(airframe)
    span = balance_span(
        neutral_point=aero.neutral_point,
        mac=airframe.reference.mac,
        flyer=_flyer(design),
        has_tail=has_tail(design),
    )
    weight = GRAVITY * balance.mass
    stall, carried = aero.stall_at_weight(weight), carrying(aero, weight)
    power = _power(airframe, balance, stall, carried)
    flight = assess_flight(aero, balance, stall=stall, power=power, flyer=_flyer(design))
    target = 0.5 * (span.forward + span.aft)
    reaches = tuple(pack_reach(balance, pack, target) for pack in design.power.packs)
    findings = (
        *balance_findings(
            airframe,
            balance,
            span,
            reaches,
            limit_scatter=NEUTRAL_POINT_SCATTER * airframe.reference.mac,
        ),
        *stall_findings(aero, stall, cruise_speed=carried.cruise_speed),
        *power_findings(airframe, power),
        *trim_findings(flight),
        *brief_findings(design, _measures(airframe, balance, aero)),
    )
    return Assessment(
        design=design,
        airframe=airframe,
        balance=balance,
        aero=aero,
        stall=stall,
        carrying=carried,
        power=power,
        flight=flight,
        span=span,
        reaches=reaches,
        findings=tuple(replace(finding, variants=(design.variant,)) for finding in findings),
    )


def compare(design_set: DesignSet, *, progress: Progress = no_progress) -> Comparison:
    """Assess every variant and find what holds for all of them."""
    assessments = assess_all(design_set, progress=progress)
    span = common_span(tuple(assessment.span for assessment in assessments))
    cases = tuple((found.design, found.balance, found.span) for found in assessments)
    return Comparison(
        design_set=design_set,
        assessments=assessments,
        span=span,
        findings=(
            *merge(tuple(finding for found in assessments for finding in found.findings)),
            *common_findings(cases, span),
        ),
    )


def assess_all(
    design_set: DesignSet, *, progress: Progress = no_progress
) -> tuple[Assessment, ...]:
    """Assess every variant; what cannot be made as drawn is said of all of them at once."""
    assessments: list[Assessment] = []
    faults: list[tuple[str, str, str]] = []
    for design in design_set.variants:
        progress(f'assessing "{design.variant}"')
        try:
            assessments.append(assess(design))
        except ShapeError as error:
            faults += [(design.variant, *fault) for fault in error.faults]
        except DomainError as error:
            faults.append((design.variant, "", str(error)))
    if faults:
        drawn = design_set.variants[0].variant
        raise DesignFileError(shape_problems(design_set.file, faults, drawn=drawn))
    return tuple(assessments)


def merge(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Put equal findings of several variants together, in the order they first came."""
    merged: dict[tuple[str, str, str], Finding] = {}
    for finding in findings:
        key = (finding.slug, finding.where, finding.text)
        first = merged.get(key)
        merged[key] = (
            finding if first is None else replace(first, variants=first.variants + finding.variants)
        )
    return tuple(merged.values())


def has_tail(design: Design) -> bool:
    """Whether a second surface shares the work of trimming in pitch."""
    trimming = (SurfaceRole.TAILPLANE, SurfaceRole.V_TAIL, SurfaceRole.CANARD)
    return any(surface.role in trimming for surface in design.surfaces)


def _flyer(design: Design) -> str:
    said = [line.says for line in design.brief if line.topic == "flyer"]
    return said[0] if said else ""


def _power(
    airframe: Airframe, balance: Balance, stall: StallResult, carried: Carrying
) -> PowerAssessment:
    lifting = 0.5 * DENSITY * airframe.reference.area * stall.max_lift
    stall_speed = math.sqrt(carried.weight / lifting) if lifting > 0.0 else math.nan
    drag = 0.5 * DENSITY * carried.cruise_speed**2 * float(carried.cruise.total)
    if not math.isfinite(stall_speed + carried.cruise_speed + drag):
        return assess_power(airframe, mass=balance.mass)
    mix = customary_mix(
        mass=balance.mass,
        stall_speed=stall_speed,
        cruise_speed=carried.cruise_speed,
        cruise_drag=drag,
    )
    return assess_power(airframe, mass=balance.mass, stall_speed=stall_speed, legs=mix)


def _measures(airframe: Airframe, balance: Balance, aero: AeroModel) -> Measures:
    reference = airframe.reference
    sheet_area: dict[str, float] = {}
    for piece in airframe.pieces:
        if piece.sheet is not None and piece.stock is not None:
            sheet_area[piece.stock] = sheet_area.get(piece.stock, 0.0) + piece.amount
    margin = (aero.neutral_point - balance.point[0]) / reference.mac
    return Measures(
        values={
            "flying mass": balance.mass,
            "span": reference.span,
            "wing area": reference.area,
            "wing loading": balance.mass / reference.area,
            "static margin": margin,
        },
        sheet_area=sheet_area,
    )
