"""Print a comparison for people: one table, the findings, what was not looked at."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterator, Sequence

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table

from foamwright.assess import GRAVITY as _GRAVITY
from foamwright.assess import Assessment, Comparison
from foamwright.brief import unchecked
from foamwright.findings import Finding, Level
from foamwright.flight import telling
from foamwright.power import CAUTIONS, MotorState, Shortlist
from foamwright.power.telling import PROPELLER_COLUMNS, power_rows, propeller_rows
from foamwright.report import (
    NOT_LOOKED_AT,
    OUT_OF_TRAY,
    Row,
    drag_rows,
    rows,
    wing_root,
)

#: Levels are told apart by word and weight of type, never by colour alone.
_STYLE = {Level.STOP: "bold reverse", Level.MIND: "bold", Level.NOTE: ""}

_GAP = 3  # blanks between columns
_PIPED = 120  # columns where the output goes to a file or another program


def plain_console() -> Console:
    """Return a console that prints words as they stand, wide enough where nobody looks."""
    console = Console(highlight=False, markup=False)
    if not console.is_terminal and "COLUMNS" not in os.environ:
        console.width = _PIPED
    return console


def print_comparison(comparison: Comparison, *, with_parts: bool) -> None:
    """Print the report on stdout; `with_parts` adds the weight statement part by part."""
    console = plain_console()
    first = comparison.assessments[0].design
    console.print(f"{first.name}, revision {first.marks.revision}", style="bold")
    if first.summary:
        console.print(first.summary)
    for table in _tables(comparison, console.width):
        console.print(table)
    console.print("± two standard deviations", style="dim")
    if any(not reach.reaches for found in comparison.assessments for reach in found.reaches):
        console.print(f"{OUT_OF_TRAY} outside its tray")
    if any(telling.is_beyond_mount(found.flight) for found in comparison.assessments):
        console.print(f"{telling.OUT_OF_MOUNT} beyond the mount")
    if with_parts:
        for assessment in comparison.assessments:
            console.print(_weights(assessment))
            console.print(_drag(assessment))
            _print_power(console, assessment)
            _print_thrust_line(console, assessment)
    _print_common_span(console, comparison)
    _print_findings(console, comparison)
    _print_absent(console, comparison)


def _tables(comparison: Comparison, width: int) -> Iterator[Table]:
    """One table, or several one below the other where the variants do not fit side by side."""
    table = rows(comparison)
    names = [assessment.design.variant for assessment in comparison.assessments]
    lead = max(len(row.label) for row in table) + max(len(row.unit) for row in table) + 2 * _GAP
    wide = [
        max(len(name), *(len(row.cells[place]) for row in table if not row.is_heading)) + _GAP
        for place, name in enumerate(names)
    ]
    first = 0
    while first < len(names):
        last = first + 1
        while last < len(names) and lead + sum(wide[first : last + 1]) <= width:
            last += 1
        yield _table(table, names, range(first, last))
        first = last


def _table(table: Sequence[Row], names: Sequence[str], places: range) -> Table:
    drawn = Table(box=SIMPLE_HEAD, pad_edge=False)
    drawn.add_column("", no_wrap=True)
    drawn.add_column("", style="dim", no_wrap=True)
    for place in places:
        drawn.add_column(names[place], justify="right", no_wrap=True)
    for row in table:
        if row.is_heading:
            drawn.add_section()
            drawn.add_row(row.label, style="bold")
        else:
            drawn.add_row(row.label, row.unit, *(row.cells[place] for place in places))
    return drawn


def _weights(assessment: Assessment) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False, title="Weight statement", title_justify="left")
    for name in ("Part", "Side", "Made of"):
        table.add_column(name)
    for name in ("g", "±", "x mm", "y mm", "z mm"):
        table.add_column(name, justify="right", no_wrap=True)
    for entry in assessment.balance.entries:
        places = (f"{1e3 * value:.0f}" for value in entry.centre)
        grams = f"{1e3 * entry.mass:.1f}"
        scatter = f"{2e3 * entry.scatter:.1f}"
        table.add_row(entry.title, entry.hand.value, entry.amount, grams, scatter, *places)
    return table


def _drag(assessment: Assessment) -> Table:
    found = assessment.carrying
    title = (
        f"Drag at cruise: {found.cruise_speed:.1f} m/s, lift coefficient {found.cruise_lift:.2f}, "
        "power off"
    )
    table = Table(box=SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left")
    table.add_column("Part")
    table.add_column("Why")
    for name in ("%", "coefficient", "±", "grams"):
        table.add_column(name, justify="right", no_wrap=True)
    lift = found.cruise_lift
    for row in drag_rows(assessment):
        grams = 1e3 * found.weight / _GRAVITY * row["drag"] / lift
        table.add_row(
            row["title"],
            row["cause"],
            f"{100.0 * row['share']:.1f}",
            f"{row['drag']:.4f}",
            f"{2.0 * row['scatter']:.4f}",
            f"{grams:.1f}",
        )
    return table


def _print_power(console: Console, assessment: Assessment) -> None:
    """Print full throttle over airspeed for each kind of motor, and how its propeller goes on."""
    power = assessment.power
    for motor in power.motors:
        alike = [one for one in power.motors if one.line.is_like(motor.line)]
        if alike[0] is motor:
            console.print(_power(motor, [one.line.key for one in alike]))
    for motor in power.motors:
        hand = motor.hand
        text = f'Motor "{motor.line.key}" turns {hand.seen_from_behind} seen from behind. '
        _indent(console, text + f"{hand.face} {hand.leads}")
    if power.packs:
        _indent(console, f"Mix of flying: {power.mix}.")
        _indent(console, f"Packs: {' '.join(CAUTIONS)}")


def _power(motor: MotorState, names: Sequence[str]) -> Table:
    kind = motor.installation.kind
    title = f"Power of motor {', '.join(names)} ({kind}): full throttle, pack half flown"
    table = Table(box=SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left")
    columns = ("m/s", "N", "±", "A", "rpm", "W shaft", "% propeller", "% motor", "% in all")
    for name in columns:
        table.add_column(name, justify="right", no_wrap=True)
    for cells in power_rows(motor):
        table.add_row(*cells)
    return table


def print_propellers(shortlists: Sequence[Shortlist]) -> None:
    """Print which propellers of the catalogue would do, the best first, each with its reasons."""
    console = plain_console()
    for shortlist in shortlists:
        title = (
            f"Propellers for motor {', '.join(shortlist.motors)}, best first; there is room for "
            f"{1e3 * shortlist.largest:.0f} mm. Full throttle, standing still"
        )
        table = Table(box=SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left")
        for name in PROPELLER_COLUMNS:
            is_word = name in ("Propeller", "", "Why")
            table.add_column(name, justify="left" if is_word else "right", no_wrap=name != "Why")
        for cells in propeller_rows(shortlist):
            table.add_row(*cells)
        console.print(table)


def _print_thrust_line(console: Console, assessment: Assessment) -> None:
    """Print what power does at every hole of the motor mount."""
    found = assessment.flight.thrust_map
    if found is None:
        return
    title = telling.tilt_title(found)
    table = Table(box=SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left")
    for name in telling.TILT_COLUMNS:
        table.add_column(name, justify="right")
    for cells in telling.tilt_rows(found):
        table.add_row(*cells)
    console.print(table)
    for text in telling.tilt_words(assessment.flight):
        _indent(console, text)


def _print_common_span(console: Console, comparison: Comparison) -> None:
    if len(comparison.assessments) < 2:
        return
    span = comparison.span
    if span.is_empty:
        console.print("No balance point suits all variants.", style="bold")
    else:
        root = wing_root(comparison.assessments[0])
        same = all(wing_root(assessment) == root for assessment in comparison.assessments)
        start, behind = (root, "the wing root's leading edge") if same else (0.0, "the datum")
        console.print(
            f"Holds for all variants: balance point {1e3 * (span.forward - start):.0f} to "
            f"{1e3 * (span.aft - start):.0f} mm behind {behind}."
        )


def _print_findings(console: Console, comparison: Comparison) -> None:
    console.print()
    if not comparison.findings:
        console.print("Findings: none in what was looked at.", style="bold")
        return
    console.print("Findings", style="bold")
    everybody = tuple(assessment.design.variant for assessment in comparison.assessments)
    for group in _groups(comparison.findings):
        first = group[0]
        console.print(f"{first.level.value:>5}", style=_STYLE[first.level], end="")
        console.print(f"  {first.slug}")
        for finding in group:
            _print_finding(console, finding, everybody)
        _indent(console, f"Why: {first.why}.", style="dim")


def _groups(findings: tuple[Finding, ...]) -> tuple[tuple[Finding, ...], ...]:
    """Put findings that make the same point together, graver ones first."""
    grouped: dict[tuple[int, str, str], list[Finding]] = {}
    order = list(Level)
    for finding in findings:
        key = (order.index(finding.level), finding.slug, finding.why)
        grouped.setdefault(key, []).append(finding)
    return tuple(tuple(grouped[key]) for key in sorted(grouped, key=lambda key: key[0]))


def _print_finding(console: Console, finding: Finding, everybody: tuple[str, ...]) -> None:
    variants = "" if finding.variants == everybody else f"{', '.join(finding.variants)}: "
    _indent(console, variants + finding.text)
    for cure in finding.cures:
        changes = ", ".join(str(change) for change in cure.changes)
        _indent(console, f"Cure: {cure.effect} ({changes}).", deeper=2)


def _indent(console: Console, text: str, *, style: str = "", deeper: int = 0) -> None:
    width = max(40, min(console.width, 100))
    lead = " " * (7 + deeper)
    filled = textwrap.fill(text, width, initial_indent=lead, subsequent_indent=lead + "  ")
    console.print(filled, style=style)


def _print_absent(console: Console, comparison: Comparison) -> None:
    console.print()
    absent = f"Not looked at yet: {', '.join(NOT_LOOKED_AT)}."
    topics = [line.topic for line in unchecked(comparison.assessments[0].design)]
    if topics:
        absent += f" Lines of the brief not checked: {', '.join(topics)}."
    console.print(textwrap.fill(absent, max(40, min(console.width, 100))), style="dim")
