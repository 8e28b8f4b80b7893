"""Build the generated pages of the docs, and check that all pages tell the truth.

python tools/docs.py                     write docs/commands.md and the table of README.md
python tools/docs.py --validation LOG    write docs/validation.md from a test log
python tools/docs.py --check             fail when a page is stale, a link is dead, a room has
no page or a public argument has no unit
"""

from __future__ import annotations

import argparse
import importlib
import inspect
import json
import pkgutil
import re
import sys
import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

import foamwright

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
README = ROOT / "README.md"
COMMANDS = DOCS / "commands.md"
VALIDATION = DOCS / "validation.md"
PHYSICS = ("airframe", "balance", "air", "power", "flight", "flat")
NUMERIC = re.compile(r"\b(float|Array|NDArray|ArrayLike)\b")

EXIT_CODES = (
    "0 good · 1 problems found (in the file, or a finding that says stop) · 2 wrong usage · "
    "3 our own fault"
)
VALIDATION_HEAD = (
    "Every check against a value from outside the project, as the tests ran it. `read`: seen in a "
    "stored copy of the source; `memory`: value from memory of the publication; `derived` or "
    "`computed`: mathematics or a converged calculation, no publication claimed; `practice`: "
    "common practice, no source. Made by `tools/docs.py --validation`."
)


# ---------------------------------------------------------------- generated pages


def commands_page() -> str:
    """Return the page of all verbs, from their own help texts."""
    from foamwright.cli import cli

    lines = ["# Commands", "", "Made by `tools/docs.py` from the program's own help.", ""]
    for name, command in [("", cli), *sorted(cli.commands.items())]:
        title = f"foamwright {name}".strip()
        context = click.Context(command, info_name=title, max_content_width=100, terminal_width=100)
        lines += [f"## {title}", "", "```text", command.get_help(context).rstrip(), "```", ""]
    lines += [
        "## Exit codes",
        "",
        EXIT_CODES,
        "",
    ]
    return "\n".join(lines)


def validation_page(log: Path) -> str:
    """Return the page of published checks, from the log that the tests write."""
    rows = {}
    for line in log.read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        rows[row["test"], row["what"]] = row
    lines = [
        "# Validation",
        "",
        VALIDATION_HEAD,
        "",
    ]
    rooms: dict[str, list[str]] = {}
    for (test, what), row in sorted(rows.items()):
        room = Path(test.split("::", maxsplit=1)[0]).stem.removeprefix("test_").split("_")[0]
        band = f"{100 * row['rel']:.3g} %" if row["rel"] else f"± {row['abs']:.3g}"
        rooms.setdefault(room, []).append(
            f"| {what} | {row['expected']:.5g} | {row['got']:.5g} | {band} | {row['source']} |"
        )
    for room, table in rooms.items():
        lines += [f"## {room}", "", "| quantity | expected | got | band | source |"]
        lines += ["|---|---|---|---|---|", *table, ""]
    return "\n".join(lines)


#: Lines of the report that README shows, of all that `check` prints.
SHOWN = (
    "Span",
    "Ready to fly",
    "Balance point, behind wing root",
    "Allowed balance span",
    "Static margin",
    "Sliding the pack balances from",
    "Static thrust, installed, pack half flown",
    "Full throttle, fresh pack, each motor",
    "Flight, mixed, a fifth left",
)
TABLE = re.compile(
    r"(?<=<!-- table: made by tools/docs\.py -->\n).*?(?=<!-- /table -->)", re.DOTALL
)
NOT_YET = re.compile(r"(?<=<!-- not yet -->).*?(?=<!-- /not yet -->)", re.DOTALL)


def readme_page() -> str:
    """Return README with the table of the lead example, and what is not looked at, as of now."""
    from foamwright.assess import compare
    from foamwright.design import read_design_text, starter_text
    from foamwright.report import NOT_LOOKED_AT, rows

    comparison = compare(read_design_text(starter_text("dunlin")))
    table = [row for row in rows(comparison) if row.label in SHOWN]
    names = tuple(found.design.variant for found in comparison.assessments)
    columns = list(zip(names, *(row.cells for row in table), strict=True))
    wide = [max(len(cell) for cell in column) + 3 for column in columns]
    label = max(len(row.label) for row in table) + 1
    unit = max(len(row.unit) for row in table)

    def line(label_text: str, unit_text: str, cells: Sequence[str]) -> str:
        lead = f"{label_text:<{label}}{unit_text:>{unit}}"
        return lead + "".join(f"{cell:>{width}}" for cell, width in zip(cells, wide, strict=True))

    lines = ["```", line("", "", names), *(line(row.label, row.unit, row.cells) for row in table)]
    marks = [finding.text for finding in comparison.findings if finding.slug == "one-pack-mark"]
    lines += ["", *(textwrap.fill(text, 96) for text in marks), "```", ""]
    page = TABLE.sub(lambda _: "\n".join(lines), README.read_text(encoding="utf-8"))
    return NOT_YET.sub(lambda _: f"\n{textwrap.fill(', '.join(NOT_LOOKED_AT), 96)}\n", page)


# ---------------------------------------------------------------- checks


def stale_pages() -> Iterator[str]:
    """Yield a complaint for each generated page that is not what it should be."""
    if not COMMANDS.exists() or COMMANDS.read_text(encoding="utf-8") != commands_page():
        yield "docs/commands.md is stale: run python tools/docs.py"
    if README.read_text(encoding="utf-8") != readme_page():
        yield "the table in README.md is stale: run python tools/docs.py, then tools/pictures.py"


def dead_links() -> Iterator[str]:
    """Yield a complaint for each relative link or picture that leads nowhere."""
    pages = [*ROOT.glob("*.md"), *DOCS.rglob("*.md"), *(ROOT / "changelog.d").glob("*.md")]
    for page in pages:
        text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
        for target in re.findall(r"\]\(([^)\s]+)\)|src=\"([^\"]+)\"", text):
            link = (target[0] or target[1]).split("#", maxsplit=1)[0]
            if link and "://" not in link and not (page.parent / link).exists():
                yield f"{page.relative_to(ROOT)}: link to {link} leads nowhere"


def rooms_without_page() -> Iterator[str]:
    """Yield a complaint for each room without a page."""
    for module in pkgutil.iter_modules(foamwright.__path__):
        if module.ispkg and not (DOCS / "rooms" / f"{module.name}.md").exists():
            yield f"docs/rooms/{module.name}.md is missing"


def arguments_without_unit() -> Iterator[str]:
    """Yield a complaint for each public numeric argument whose docstring gives no unit."""
    for room in PHYSICS:
        face = importlib.import_module(f"foamwright.{room}")
        for name in face.__all__:
            thing = getattr(face, name)
            if inspect.isfunction(thing):
                yield from _missing_units(f"{room}.{name}", thing)


def _missing_units(name: str, function: object) -> Iterator[str]:
    document = inspect.getdoc(function) or ""
    section = re.search(r"Parameters\n-+\n(.*?)(?=\n\w[\w ]*\n-+\n|\Z)", document, re.DOTALL)
    described = section.group(1) if section else ""
    for argument in inspect.signature(function).parameters.values():  # type: ignore[arg-type]
        if not NUMERIC.search(str(argument.annotation)):
            continue
        block = re.search(
            rf"^(?:[\w, ]*\b)?{argument.name}\b[^\n]*:?[^\n]*\n((?:[ ]+[^\n]*\n?)*)",
            described,
            re.MULTILINE,
        )
        if block is None or not re.search(r"\[[^\]]+\]", block.group(0)):
            yield f"{name}: argument {argument.name} has no [unit] in its docstring"


def readme_complaints() -> Iterator[str]:
    """Yield a complaint when README lacks one of its two commands."""
    text = README.read_text(encoding="utf-8")
    for command in ("python3 dev.py demo", "python3 dev.py test"):
        if not re.search(rf"^{re.escape(command)}$", text, re.MULTILINE):
            yield f"README.md does not give the command: {command}"


def complaints() -> Iterator[str]:
    """Yield every complaint."""
    yield from stale_pages()
    yield from dead_links()
    yield from rooms_without_page()
    yield from arguments_without_unit()
    yield from readme_complaints()


def main() -> int:
    """Write pages or check them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--validation", type=Path, metavar="LOG")
    options = parser.parse_args()
    if options.check:
        found = list(complaints())
        print("\n".join(found) or "The docs tell the truth, as far as this check sees.")
        return 1 if found else 0
    COMMANDS.write_text(commands_page(), encoding="utf-8")
    README.write_text(readme_page(), encoding="utf-8")
    if options.validation:
        VALIDATION.write_text(validation_page(options.validation), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
