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
from foamwright.air import CRUISE_LIFT
from foamwright.air.drag import Cause
from foamwright.air.state import DENSITY
from foamwright.airframe import Group, SurfaceShape
from foamwright.assess import NEUTRAL_POINT_SCATTER, Assessment, Comparison
from foamwright.balance import MassEntry, PackReach
from foamwright.brief import unchecked
from foamwright.findings import Finding
from foamwright.flight import FlightAssessment, telling
from foamwright.power import MotorState
from foamwright.power.telling import power_dictionary
from foamwright.units import to_unit

#: What this release does not look at, said in every report.
NOT_LOOKED_AT = (
    "launch, turns and wind",
    "handling and throws",
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
    heading = [
        ("Sizes", _SIZES),
        ("Weights", _WEIGHTS),
        ("Balance", _BALANCE),
        ("Air", _AIR),
        ("Power", _POWER),
        ("Flight", _FLIGHT),
    ]
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
    """Stick-fixed static margin, bodies counted, power off; positive is stable. [-]"""
    ahead = assessment.aero.neutral_point - assessment.balance.point[0]
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
    return f"{_behind_wing(assessment, assessment.aero.neutral_point)} ± {_mm(band)}"


def _number(value: float, form: str) -> str:
    return format(value, form) if math.isfinite(value) else ""


def stalling_speed(assessment: Assessment) -> float:
    """Speed at which the largest lift carries the weight, sea level; nan without a stall. [m/s]"""
    pressure = assessment.carrying.weight / (
        assessment.airframe.reference.area * assessment.stall.max_lift
    )
    return math.sqrt(2.0 * pressure / DENSITY)


def _max_lift(assessment: Assessment) -> str:
    stall = assessment.stall
    if not math.isfinite(stall.max_lift):
        return ""
    return f"{stall.max_lift:.2f} ± {2.0 * stall.max_lift_scatter:.2f}"


def _stall_start(assessment: Assessment) -> str:
    first = assessment.stall.first_wing
    return f"{100.0 * first.place:.0f} %, {first.panel}" if math.isfinite(first.alpha) else ""


def _cruise(assessment: Assessment) -> str:
    return f"{assessment.carrying.cruise_speed:.1f}"


def _cruise_drag(assessment: Assessment) -> str:
    table, area = assessment.carrying.cruise, assessment.airframe.reference.area
    return f"{float(table.total) / area:.3f} ± {2.0 * float(table.scatter) / area:.3f}"


def _share(cause: Cause | None) -> Cell:
    """Share of a cause in the drag at cruise; None: what is neither sections nor lift. [%]"""

    def cell(assessment: Assessment) -> str:
        table = assessment.carrying.cruise
        of = {c: float(table.of_cause(c)) for c in (Cause.SECTION, Cause.INDUCED)}
        area = float(table.total) - sum(of.values()) if cause is None else of[cause]
        return f"{100.0 * area / float(table.total):.0f}"

    return cell


def _best_glide(assessment: Assessment) -> str:
    found = assessment.carrying
    return f"{found.best_ratio:.1f} ± {2.0 * found.best_scatter:.1f}"


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

_AIR: tuple[tuple[str, str, Cell], ...] = (
    (
        "Lift slope, whole aeroplane",
        "per degree",
        lambda a: f"{math.radians(a.aero.lift_slope):.4f}",
    ),
    ("Largest lift coefficient", "", _max_lift),
    ("Stall starts, of half span", "", _stall_start),
    ("Stalling speed", "m/s", lambda a: _number(stalling_speed(a), ".1f")),
    (f"Cruise at lift coefficient {CRUISE_LIFT}", "m/s", _cruise),
    ("Drag coefficient there", "", _cruise_drag),
    ("  sections of wing and tail", "%", _share(Cause.SECTION)),
    ("  lift", "%", _share(Cause.INDUCED)),
    ("  bodies, gear and the rest", "%", _share(None)),
    ("Drag coefficient at no lift", "", lambda a: _number(a.carrying.zero_lift_drag, ".3f")),
    ("Best glide, power off, untrimmed", "to 1", _best_glide),
)


def _thrust(assessment: Assessment) -> str:
    thrust = assessment.power.static_thrust
    return "" if thrust is None else f"{thrust.value:.1f} ± {2.0 * thrust.scatter:.1f}"


def _each(cell: Callable[[MotorState], str]) -> Cell:
    """Return the cell of every motor, said once where all are alike."""

    def joined(assessment: Assessment) -> str:
        return ", ".join(dict.fromkeys(cell(motor) for motor in assessment.power.motors))

    return joined


def _amps(motor: MotorState) -> str:
    return f"{motor.full.amps:.0f} ± {2.0 * motor.full.amps_scatter:.0f}"


def _limits(motor: MotorState) -> str:
    most = motor.line.motor.max_current
    stands = [] if most is None else [f"{most:.0f}"]
    return " / ".join([*stands, f"{motor.line.controller.rating:.0f}"])


def _pack_amps(assessment: Assessment) -> str:
    return ", ".join(
        f"{pack.current.value:.0f} of {pack.group.pack.max_current:.0f}"
        for pack in assessment.power.packs
    )


def _minutes(assessment: Assessment) -> str:
    lasting = [pack.endurance for pack in assessment.power.packs]
    if not lasting:
        return ""
    least = min(lasting, key=lambda one: one.duration)
    return f"{least.duration / 60.0:.0f} ± {least.duration_scatter / 30.0:.0f}"


def _thrust_to_weight(assessment: Assessment) -> str:
    return _optional(assessment.power.thrust_to_weight, ".2f")


_POWER: tuple[tuple[str, str, Cell], ...] = (
    ("Static thrust, installed, pack half flown", "N", _thrust),
    ("  over weight", "", _thrust_to_weight),
    ("Full throttle, fresh pack, each motor", "A", _each(_amps)),
    ("  motor and controller stand", "A", _each(_limits)),
    ("  from the pack, of its label", "A", _pack_amps),
    ("Turning, standing still", "rpm", _each(lambda m: f"{60.0 * m.full.rotation:.0f}")),
    ("  of what the propeller stands", "%", _each(lambda m: f"{100.0 / m.margins.propeller:.0f}")),
    ("Pitch speed", "m/s", _each(lambda m: f"{m.pitch_speed:.0f}")),
    ("Pull ends at", "m/s", _each(lambda m: f"{m.full.useful_top:.0f}")),
    ("Flight, mixed, a fifth left", "min", _minutes),
)


def _flown(cell: Callable[[FlightAssessment], str]) -> Cell:
    return lambda assessment: cell(assessment.flight)


_FLIGHT: tuple[tuple[str, str, Cell], ...] = (
    ("Stalling speed, trimmed", "m/s", _flown(telling.stall_cell)),
    ("Level flight, to top speed", "m/s", _flown(telling.speeds_cell)),
    ("Best climb, full throttle", "m/s", _flown(telling.climb_cell)),
    ("Best glide, trimmed", "to 1", _flown(telling.glide_cell)),
    ("Least sink", "m/s", _flown(telling.sink_cell)),
    ("Thrust line to balance point", "mm", _flown(telling.arm_cell)),
    ("Full throttle: nose, elevator for it", "°", _flown(telling.power_cell)),
    ("Thrust tilt that calms it best", "°", _flown(telling.calm_cell)),
    ("  calmest holes of the mount", "°", _flown(telling.holes_cell)),
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
            "packs": [reach_dictionary(reach) for reach in assessment.reaches],
        },
        "stability": {
            "lift_slope_per_rad": assessment.aero.lift_slope,
            "neutral_point_x_mm": 1e3 * assessment.aero.neutral_point,
            "neutral_point_shift_by_bodies_mm": 1e3 * assessment.aero.body_shift,
            "static_margin": static_margin(assessment),
            "notes": [*assessment.aero.tensor.notes, *assessment.aero.notes],
        },
        "stall": _stall_dictionary(assessment),
        "drag": _drag_dictionary(assessment),
        "power": power_dictionary(assessment.power),
        "flight": telling.flight_dictionary(assessment.flight),
        "findings": [finding_dictionary(finding) for finding in assessment.findings],
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _stall_dictionary(assessment: Assessment) -> dict[str, Any]:
    """Return the stall, controls straight and power off; null where nothing stalls."""
    stall = assessment.stall
    return {
        "max_lift": _finite(stall.max_lift),
        "max_lift_scatter": _finite(stall.max_lift_scatter),
        "alpha_deg": _finite(math.degrees(stall.max_alpha)),
        "speed_m_s": _finite(stalling_speed(assessment)),
        "starts": {
            "surface": stall.first_wing.surface,
            "panel": stall.first_wing.panel,
            "of_half_span": stall.first_wing.place,
            "lift": _finite(stall.first_wing.lift),
            "alpha_deg": _finite(math.degrees(stall.first_wing.alpha)),
        },
        "curve": [
            {"alpha_deg": math.degrees(alpha), "lift": lift, "converged": converged}
            for alpha, lift, converged in zip(
                stall.alpha.tolist(), stall.lift.tolist(), stall.converged.tolist(), strict=True
            )
        ],
        "notes": list(stall.notes),
    }


def _drag_dictionary(assessment: Assessment) -> dict[str, Any]:
    """Return drag at cruise by parts, and the glide, power off and untrimmed."""
    found, area = assessment.carrying, assessment.airframe.reference.area
    return {
        "zero_lift": _finite(found.zero_lift_drag),
        "cruise": {
            "lift": found.cruise_lift,
            "speed_m_s": found.cruise_speed,
            "alpha_deg": math.degrees(found.cruise_alpha),
            "drag": float(found.cruise.total) / area,
            "drag_scatter": float(found.cruise.scatter) / area,
            "parts": drag_rows(assessment),
        },
        "best_glide": {
            "ratio": found.best_ratio,
            "scatter": found.best_scatter,
            "lift": found.best_lift,
            "speed_m_s": found.best_speed,
        },
        "leaves_out": [*found.leaves_out],
    }


def drag_rows(assessment: Assessment) -> list[dict[str, Any]]:
    """Return the drag of every part at cruise, largest first."""
    table, area = assessment.carrying.cruise, assessment.airframe.reference.area
    total = float(table.total)
    rows = [
        {
            "part": row.key,
            "title": row.title,
            "cause": row.cause.value,
            "drag": float(row.area) / area,
            "scatter": row.band * abs(float(row.area)) / area,
            "share": float(row.area) / total,
            "source": row.source,
        }
        for row in table.rows
    ]
    return sorted(rows, key=lambda row: -row["drag"])


def reach_dictionary(reach: PackReach) -> dict[str, Any]:
    """Return what sliding one pack does, in millimetres from the datum."""
    return {
        "pack": reach.pack,
        "position_x_mm": 1e3 * reach.position,
        "travel_x_mm": [1e3 * x for x in reach.travel],
        "balance_x_mm": [1e3 * x for x in reach.balance],
        "wanted_x_mm": 1e3 * reach.wanted,
        "target_x_mm": 1e3 * reach.target,
        "reaches": reach.reaches,
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
