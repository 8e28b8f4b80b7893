"""A comparison of variants in the maker's units: the rows of a table, and one dictionary.

The dictionary is what ``--json`` prints; its keys carry their units. Lengths along the
aeroplane are given twice: from the file's own datum (``_x_mm``) and, for the hand at the
wing, behind the leading edge of the wing's root (``_behind_wing_mm``).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import Any

from foamwright import __version__
from foamwright.airframe import Group, SurfaceShape
from foamwright.assess import NEUTRAL_POINT_SCATTER, Assessment, Comparison
from foamwright.balance import MassEntry
from foamwright.brief import unchecked
from foamwright.findings import Finding
from foamwright.units import to_unit

#: What this release does not look at, said in every report.
NOT_LOOKED_AT = (
    "drag and stall",
    "motor, propeller and pack",
    "trim and thrust line",
    "performance and handling",
    "strength",
    "propeller safety",
    "sheet layout",
)

#: Marks a wanted pack place that the tray does not reach.
OUT_OF_TRAY = "†"

Cell = Callable[[Assessment], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of the table: a cell per variant."""

    label: str
    unit: str
    cells: tuple[str, ...]
    is_heading: bool = False


def rows(comparison: Comparison) -> tuple[Row, ...]:
    """Return the table of all variants, in the order a maker asks."""
    heading = [("Sizes", _SIZES), ("Weights", _WEIGHTS), ("Balance", _BALANCE), ("Lift", _LIFT)]
    table: list[Row] = []
    for title, lines in heading:
        table.append(Row(label=title, unit="", cells=(), is_heading=True))
        for label, unit, cell in lines:
            cells = tuple(cell(assessment) for assessment in comparison.assessments)
            if any(cells):
                table.append(Row(label=label, unit=unit, cells=cells))
    return tuple(table)


def wing_root(assessment: Assessment) -> float:
    """Place of the leading edge at the reference wing's root. [m]"""
    return float(reference_wing(assessment).panels[0].root.leading_edge[0])


def reference_wing(assessment: Assessment) -> SurfaceShape:
    """Return the surface the reference measures are taken from."""
    key = assessment.airframe.reference.surface
    return next(surface for surface in assessment.airframe.surfaces if surface.key == key)


def static_margin(assessment: Assessment) -> float:
    """Stick-fixed static margin, bodies and propeller left out; positive is stable. [-]"""
    ahead = assessment.stability.neutral_point - assessment.balance.point[0]
    return ahead / assessment.airframe.reference.mac


def _mm(value: float, digits: int = 0) -> str:
    return f"{round(1e3 * value, digits) + 0.0:.{digits}f}"  # + 0.0: no "-0"


def _behind_wing(assessment: Assessment, x: float) -> str:
    return _mm(x - wing_root(assessment))


def _optional(value: float | None, form: str) -> str:
    return "" if value is None else format(value, form)


def _group_mass(group: Group) -> Cell:
    def cell(assessment: Assessment) -> str:
        masses = [entry.mass for entry in assessment.balance.groups if entry.group is group]
        return f"{1e3 * sum(masses):.0f}" if masses else ""

    return cell


def _span(assessment: Assessment) -> str:
    span = assessment.span
    if span.is_empty:
        return "none"
    return f"{_behind_wing(assessment, span.forward)} to {_behind_wing(assessment, span.aft)}"


def _pack_travel(assessment: Assessment) -> str:
    ends = [[_behind_wing(assessment, x) for x in reach.balance] for reach in assessment.reaches]
    return ", ".join(f"{front} to {back}" for front, back in ends)


def _pack_place(assessment: Assessment) -> str:
    return ", ".join(_mm(reach.position) for reach in assessment.reaches)


def _pack_wanted(assessment: Assessment) -> str:
    return ", ".join(
        _mm(reach.wanted) + ("" if reach.reaches else f" {OUT_OF_TRAY}")
        for reach in assessment.reaches
    )


def _neutral_point(assessment: Assessment) -> str:
    band = 2.0 * NEUTRAL_POINT_SCATTER * assessment.airframe.reference.mac
    return f"{_behind_wing(assessment, assessment.stability.neutral_point)} ± {_mm(band)}"


_SIZES: tuple[tuple[str, str, Cell], ...] = (
    ("Span", "mm", lambda a: _mm(a.airframe.reference.span)),
    ("Wing area", "dm²", lambda a: f"{1e2 * a.airframe.reference.area:.1f}"),
    ("Mean aerodynamic chord", "mm", lambda a: _mm(a.airframe.reference.mac)),
    (
        "Aspect ratio",
        "",
        lambda a: f"{a.airframe.reference.span**2 / a.airframe.reference.area:.1f}",
    ),
    ("Tail volume", "", lambda a: _optional(a.airframe.reference.tail_volume, ".2f")),
    ("Fin volume", "", lambda a: _optional(a.airframe.reference.fin_volume, ".3f")),
    ("Wetted area", "dm²", lambda a: f"{1e2 * a.airframe.reference.wetted_area:.0f}"),
)

_WEIGHTS: tuple[tuple[str, str, Cell], ...] = (
    (
        "Ready to fly",
        "g",
        lambda a: f"{1e3 * a.balance.mass:.0f} ± {2e3 * a.balance.mass_scatter:.0f}",
    ),
    *((f"  {group.value}", "g", _group_mass(group)) for group in Group),
    (
        "Wing loading",
        "g/dm²",
        lambda a: f"{to_unit(a.balance.mass / a.airframe.reference.area, 'g/dm2'):.1f}",
    ),
)

_BALANCE: tuple[tuple[str, str, Cell], ...] = (
    (
        "Balance point, behind wing root",
        "mm",
        lambda a: (
            f"{_behind_wing(a, a.balance.point[0])} ± {_mm(2.0 * a.balance.point_scatter[0], 1)}"
        ),
    ),
    ("Allowed balance span", "mm", _span),
    ("Neutral point, behind wing root", "mm", _neutral_point),
    ("Static margin", "% chord", lambda a: f"{1e2 * static_margin(a):.1f}"),
    ("Sliding the pack balances from", "mm", _pack_travel),
    ("Pack middle as drawn, x", "mm", _pack_place),
    ("Pack middle for mid-span, x", "mm", _pack_wanted),
    ("Sideways, + right", "mm", lambda a: _mm(a.balance.point[1], 1)),
    ("Height above datum", "mm", lambda a: _mm(a.balance.point[2])),
)

_LIFT: tuple[tuple[str, str, Cell], ...] = (
    (
        "Lift slope, whole aeroplane",
        "per degree",
        lambda a: f"{math.radians(a.stability.lift_slope):.4f}",
    ),
)


def as_dictionary(comparison: Comparison) -> dict[str, Any]:
    """Return the whole comparison as plain values for ``--json``."""
    return {
        "foamwright": __version__,
        "design": comparison.design_set.name,
        "file": comparison.design_set.file,
        "variants": [_variant(assessment) for assessment in comparison.assessments],
        "common_balance_span": _span_dictionary(comparison),
        "findings": [finding_dictionary(finding) for finding in comparison.findings],
        "not_looked_at": list(NOT_LOOKED_AT),
        "brief_lines_not_checked": [
            line.topic for line in unchecked(comparison.assessments[0].design)
        ],
    }


def _span_dictionary(comparison: Comparison) -> dict[str, Any] | None:
    span = comparison.span
    if span.is_empty:
        return None
    return {"forward_x_mm": 1e3 * span.forward, "aft_x_mm": 1e3 * span.aft, "why": span.why}


def _variant(assessment: Assessment) -> dict[str, Any]:
    balance, reference = assessment.balance, assessment.airframe.reference
    return {
        "name": assessment.design.variant,
        "sizes": {
            "span_mm": 1e3 * reference.span,
            "wing_area_dm2": 1e2 * reference.area,
            "mac_mm": 1e3 * reference.mac,
            "tail_volume": reference.tail_volume,
            "fin_volume": reference.fin_volume,
            "wetted_area_dm2": 1e2 * reference.wetted_area,
        },
        "weights": {
            "mass_g": 1e3 * balance.mass,
            "mass_scatter_g": 1e3 * balance.mass_scatter,
            "groups_g": {entry.group.value: 1e3 * entry.mass for entry in balance.groups},
            "parts": [entry_dictionary(entry) for entry in balance.entries],
            "inertia_kg_m2": balance.inertia.tolist(),
        },
        "balance": {
            "point_mm": [1e3 * value for value in balance.point],
            "point_scatter_mm": [1e3 * value for value in balance.point_scatter],
            "point_behind_wing_mm": 1e3 * (balance.point[0] - wing_root(assessment)),
            "span_x_mm": [1e3 * assessment.span.forward, 1e3 * assessment.span.aft],
            "span_rule": assessment.span.why,
            "packs": [asdict(reach) for reach in assessment.reaches],
        },
        "stability": {
            "lift_slope_per_rad": assessment.stability.lift_slope,
            "neutral_point_x_mm": 1e3 * assessment.stability.neutral_point,
            "static_margin": static_margin(assessment),
            "notes": list(assessment.stability.notes),
        },
        "findings": [finding_dictionary(finding) for finding in assessment.findings],
    }


def entry_dictionary(entry: MassEntry) -> dict[str, Any]:
    """Return one line of the weight statement in grams and millimetres."""
    return {
        "part": entry.key,
        "title": entry.title,
        "hand": entry.hand.value,
        "group": entry.group.value,
        "stock": entry.stock,
        "amount": entry.amount,
        "mass_g": 1e3 * entry.mass,
        "scatter_g": 1e3 * entry.scatter,
        "centre_mm": [1e3 * value for value in entry.centre],
        "source": entry.source,
    }


def finding_dictionary(finding: Finding) -> dict[str, Any]:
    """Return one finding as plain values."""
    return asdict(finding) | {"level": finding.level.value}
