"""Hold the design against its own brief: every measured line a must or a wish."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from foamwright.design import BriefLine, Design, Rank
from foamwright.findings import Finding, Level
from foamwright.units import to_unit

#: Topics that a number is computed for, with the unit they are spoken in.
SPOKEN_UNITS: Mapping[str, str] = {
    "flying mass": "g",
    "span": "mm",
    "wing area": "dm2",
    "wing loading": "g/dm2",
    "static margin": "%",
    "sheets": "sheets",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What has been computed, by the topics of the brief, in SI."""

    values: Mapping[str, float]
    sheet_area: Mapping[str, float]  # m² of parts, by sheet stock


def brief_findings(design: Design, measures: Measures) -> tuple[Finding, ...]:
    """Return a finding for every line not kept, and for stock that cannot be enough.

    Parameters
    ----------
    design : Design
        The variant, with its brief and its stock.
    measures : Measures
        What was computed for it.

    Returns
    -------
    tuple of Finding
        A missed *must* is a stop, a missed *wish* a mind. Lines that nothing computed yet
        speaks to are left alone: :func:`unchecked` lists them.
    """
    values = {**measures.values, "sheets": float(sum(_least_sheets(design, measures).values()))}
    lines = (_line_finding(number, line, values) for number, line in enumerate(design.brief, 1))
    return (*(found for found in lines if found is not None), *_stock_findings(design, measures))


def unchecked(design: Design) -> tuple[BriefLine, ...]:
    """Return the lines with limits that nothing computed yet speaks to."""
    return tuple(
        line for line in design.brief if _has_limit(line) and line.topic not in SPOKEN_UNITS
    )


def _has_limit(line: BriefLine) -> bool:
    return line.at_least is not None or line.at_most is not None


def _least_sheets(design: Design, measures: Measures) -> dict[str, int]:
    """Sheets that the area alone needs; laying the parts out may need more."""
    return {
        sheet.key: math.ceil(measures.sheet_area.get(sheet.key, 0.0) / (sheet.length * sheet.width))
        for sheet in design.stock.sheets
    }


def _line_finding(number: int, line: BriefLine, values: Mapping[str, float]) -> Finding | None:
    value = values.get(line.topic)
    if value is None:
        return None
    if line.at_most is not None and value > line.at_most:
        limit, word = line.at_most, "at most"
    elif line.at_least is not None and value < line.at_least:
        limit, word = line.at_least, "at least"
    else:
        return None
    return Finding(
        slug=f"brief-{line.topic.replace(' ', '-')}",
        level=Level.STOP if line.rank is Rank.MUST else Level.MIND,
        text=(
            f"The brief says {word} {_say(limit, line.topic)} {line.topic} ({line.rank.value}); "
            f"it comes to {_say(value, line.topic)}."
        ),
        where=f"brief[{number}]",
        why="the design's own brief" + (f": {line.note}" if line.note else ""),
    )


def _stock_findings(design: Design, measures: Measures) -> tuple[Finding, ...]:
    least = _least_sheets(design, measures)
    return tuple(
        Finding(
            slug="stock-short",
            level=Level.MIND,
            text=(
                f"The parts cut from {sheet.key} add up to "
                f"{measures.sheet_area[sheet.key]:.2f} m²: at least {least[sheet.key]} sheets, "
                f"and {sheet.count} at hand."
            ),
            where=f"stock.sheet.{sheet.key}",
            why="area of the parts over area of a sheet; laying them out may need more",
        )
        for sheet in design.stock.sheets
        if sheet.count is not None and least[sheet.key] > sheet.count
    )


def _say(value: float, topic: str) -> str:
    unit = SPOKEN_UNITS[topic]
    if unit == "sheets":
        return f"{value:.0f}"
    return f"{to_unit(value, unit):.4g} {unit}"
