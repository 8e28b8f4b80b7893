"""Print results for people: a table by family, then what missed and the counts."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from foamwright.verify.model import CaseResult, Check, Tally, Verdict
from foamwright.verify.report import by_family
from foamwright.verify.running import tally

#: Verdicts are told apart by mark and word, never by colour alone.
_MARKS = {
    Verdict.PASS: ("✓ pass", ""),
    Verdict.KNOWN: ("~ known miss", "dim"),
    Verdict.MISS: ("✗ MISS", "bold"),
}
_WIDEST = 100
_NARROWEST = 60


def print_results(results: Sequence[CaseResult]) -> None:
    """Print all results on stdout, then the misses and the counts."""
    console = Console(highlight=False, markup=False)
    if not console.is_terminal:
        console = Console(highlight=False, markup=False, width=_WIDEST)
    for family, members in by_family(results).items():
        console.rule(Text(family, style="bold"), align="left", characters="─")
        before = ""
        for result in members:
            _print_case(console, result, before)
            before = _source(result)
    _print_troubles(console, results)
    _print_counts(console, results)


def _width(console: Console) -> int:
    return max(_NARROWEST, min(console.width, _WIDEST))


def _say(console: Console, text: str, *, lead: str = "", style: str = "") -> None:
    width = _width(console)
    filled = textwrap.fill(text, width, initial_indent=lead, subsequent_indent=lead)
    console.print(filled, style=style, soft_wrap=True)


def _source(result: CaseResult) -> str:
    return f"{result.case.source} ({result.case.sure})"


def _print_case(console: Console, result: CaseResult, before: str) -> None:
    """Print one case; `before` is the source of the case before it, said once only."""
    case, source = result.case, _source(result)
    console.print()
    _say(console, f"{case.name}: {case.what}", style="bold")
    _say(console, "source as above" if source == before else source, lead="  ", style="dim")
    for note in dict.fromkeys((case.note, *(check.note for check in result.checks))):
        if note:
            _say(console, f"note: {note}", lead="  ", style="dim")
    console.print(_table(console, result.checks))


def _table(console: Console, checks: Sequence[Check]) -> Table:
    table = Table(box=None, pad_edge=False, width=_width(console), padding=(0, 1, 0, 0))
    table.add_column("", width=1)
    table.add_column("measure", ratio=1)
    for name in ("expected", "got", "off by", "band"):
        table.add_column(name, justify="right", no_wrap=True, min_width=9)
    table.add_column("", no_wrap=True, min_width=12)
    for check in checks:
        mark, style = _MARKS[check.verdict]
        table.add_row(
            "",
            _label(check),
            _expected(check),
            "no answer" if check.got is None else _number(check.got),
            _error(check),
            _band(check),
            mark,
            style=style,
        )
    return table


def _label(check: Check) -> str:
    name = f"{check.measure} of {check.of}" if check.of else check.measure
    unit = "" if check.unit == "-" else f" [{check.unit}]"
    state = "".join(f", {key} {value}" for key, value in check.state)
    return f"{name}{unit}{state}"


def _number(value: float) -> str:
    return f"{value + 0.0:.5g}"  # + 0.0: no "-0"


def _expected(check: Check) -> str:
    if check.expected is not None:
        return _number(check.expected)
    if check.at_most is None:
        return f"≥ {_number(check.at_least or 0.0)}"
    if check.at_least is None:
        return f"≤ {_number(check.at_most)}"
    return f"{_number(check.at_least)} to {_number(check.at_most)}"


def _error(check: Check) -> str:
    if check.error is None:
        return ""
    if check.band_relative is not None and check.relative_error is not None:
        return f"{_rounded(100.0 * check.relative_error, 100.0 * check.band_relative)} %"
    if check.expected is None:
        return "" if check.error == 0.0 else f"{check.error:+.3g}"
    return _rounded(check.error, check.band_absolute or 1.0)


def _rounded(error: float, band: float) -> str:
    """Return an error with its sign, to a hundredth of its band or finer."""
    digits = min(8, max(0, 2 - math.floor(math.log10(band))))
    return f"{round(error, digits) + 0.0:+.{digits}f}"  # + 0.0: no "-0"


def _band(check: Check) -> str:
    if check.band_relative is not None:
        return f"± {100.0 * check.band_relative:.3g} %"
    return "" if check.band_absolute is None else f"± {_number(check.band_absolute)}"


# ---------------------------------------------------------------- after the table


def _print_troubles(console: Console, results: Sequence[CaseResult]) -> None:
    for verdict, title in ((Verdict.MISS, "Misses"), (Verdict.KNOWN, "Known misses")):
        lines = [
            (result.case.name, check)
            for result in results
            for check in result.checks
            if check.verdict is verdict
        ]
        if lines:
            console.print()
            console.print(title, style="bold")
        for text in dict.fromkeys(_trouble(name, check) for name, check in lines):
            _say(console, text, lead="  ")
    stale = {
        f"{result.case.name}: {check.measure}"
        for result in results
        for check in result.checks
        if check.stale
    }
    for text in sorted(stale):
        _say(console, f"{text} is called a known miss, but it passes; take the word out.")


def _trouble(name: str, check: Check) -> str:
    if check.verdict is Verdict.KNOWN:
        return f"{name}, {check.measure}: {check.why}"
    if check.got is None:
        return f"{name}, {check.measure}: no answer, {check.why}"
    return f"{name}, {_label(check)}: expected {_expected(check)}, got {_number(check.got)}"


def _print_counts(console: Console, results: Sequence[CaseResult]) -> None:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("")
    for name in ("checks", "pass", "known miss", "miss"):
        table.add_column(name, justify="right")
    families = by_family(results)
    for family, members in families.items():
        table.add_row(family, *_counts(tally(members)))
    whole = tally(results)
    if len(families) > 1:
        table.add_row("all", *_counts(whole), style="bold")
    console.print()
    console.print(table)
    console.print()
    console.print(_verdict(whole), style="bold")


def _counts(counts: Tally) -> tuple[str, ...]:
    numbers = (counts.total, counts.passed, counts.known, counts.missed)
    return tuple(str(number) for number in numbers)


def _verdict(counts: Tally) -> str:
    if counts.missed:
        known = f", {counts.known} more are known to" if counts.known else ""
        return f"{counts.missed} of {counts.total} checks miss their band{known}."
    if counts.known:
        return f"{counts.passed} checks pass; {counts.known} miss their band as they are known to."
    return f"All {counts.total} checks lie in their bands."
