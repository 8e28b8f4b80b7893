"""Print a comparison for people: one table, the findings, what was not looked at."""

from __future__ import annotations

import textwrap

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table

from foamwright.assess import Assessment, Comparison
from foamwright.brief import unchecked
from foamwright.findings import Finding, Level
from foamwright.report import NOT_LOOKED_AT, rows

#: Levels are told apart by word and weight of type, never by colour alone.
_STYLE = {Level.STOP: "bold reverse", Level.MIND: "bold", Level.NOTE: ""}


def print_comparison(comparison: Comparison, *, with_parts: bool) -> None:
    """Print the report on stdout; `with_parts` adds the weight statement part by part."""
    console = Console(highlight=False, markup=False)
    first = comparison.assessments[0].design
    console.print(f"{first.name}, revision {first.marks.revision}", style="bold")
    if first.summary:
        console.print(first.summary)
    console.print(_table(comparison))
    if with_parts:
        for assessment in comparison.assessments:
            console.print(_weights(assessment))
    _print_common_span(console, comparison)
    _print_findings(console, comparison)
    _print_absent(console, comparison)


def _table(comparison: Comparison) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("", no_wrap=True)
    table.add_column("", style="dim", no_wrap=True)
    for assessment in comparison.assessments:
        table.add_column(assessment.design.variant, justify="right")
    for row in rows(comparison):
        if row.is_heading:
            table.add_section()
            table.add_row(row.label, style="bold")
        else:
            table.add_row(row.label, row.unit, *row.cells)
    return table


def _weights(assessment: Assessment) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False, title="Weight statement", title_justify="left")
    for name, side in (("Part", "left"), ("Side", "left"), ("Made of", "left")):
        table.add_column(name, justify=side)
    for name in ("g", "±", "x mm", "y mm", "z mm"):
        table.add_column(name, justify="right", no_wrap=True)
    for entry in assessment.balance.entries:
        places = (f"{1e3 * value:.0f}" for value in entry.centre)
        grams = f"{1e3 * entry.mass:.1f}"
        scatter = f"{2e3 * entry.scatter:.1f}"
        table.add_row(entry.title, entry.hand.value, entry.amount, grams, scatter, *places)
    return table


def _print_common_span(console: Console, comparison: Comparison) -> None:
    if len(comparison.assessments) < 2:
        return
    span = comparison.span
    if span.is_empty:
        console.print("No balance point suits all variants.", style="bold")
    else:
        console.print(
            f"Holds for all variants: balance point {1e3 * span.forward:.0f} to "
            f"{1e3 * span.aft:.0f} mm behind the datum."
        )


def _print_findings(console: Console, comparison: Comparison) -> None:
    console.print()
    if not comparison.findings:
        console.print("Findings: none in what was looked at.", style="bold")
        return
    console.print("Findings", style="bold")
    several = len(comparison.assessments) > 1
    order = list(Level)
    for finding in sorted(comparison.findings, key=lambda found: order.index(found.level)):
        _print_finding(console, finding, several=several)


def _print_finding(console: Console, finding: Finding, *, several: bool) -> None:
    variants = f"  ({', '.join(finding.variants)})" if several else ""
    console.print(f"{finding.level.value:>5}", style=_STYLE[finding.level], end="")
    console.print(f"  {finding.slug}{variants}")
    _indent(console, finding.text)
    _indent(console, f"why: {finding.why}", style="dim")
    for cure in finding.cures:
        changes = ", ".join(f"{change.path} = {change.value}" for change in cure.changes)
        _indent(console, f"cure: {cure.effect}  [{changes}]")


def _indent(console: Console, text: str, *, style: str = "") -> None:
    width = max(40, min(console.width, 100))
    console.print(
        textwrap.fill(text, width, initial_indent=" " * 7, subsequent_indent=" " * 9), style=style
    )


def _print_absent(console: Console, comparison: Comparison) -> None:
    console.print()
    absent = f"Not looked at yet: {', '.join(NOT_LOOKED_AT)}."
    topics = [line.topic for line in unchecked(comparison.assessments[0].design)]
    if topics:
        absent += f" Lines of the brief not checked: {', '.join(topics)}."
    console.print(textwrap.fill(absent, max(40, min(console.width, 100))), style="dim")
