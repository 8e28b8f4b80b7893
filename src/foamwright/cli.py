"""The command line: a verb, then a file. Results on stdout, talk on stderr.

Exit codes: 0 good, 1 problems found, 2 usage, 3 our own fault.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from foamwright import __version__

if TYPE_CHECKING:
    from foamwright.assess import Assessment, Comparison
    from foamwright.design import Design, DesignSet

GOOD, PROBLEMS, USAGE, OURS = 0, 1, 2, 3
LONGEST_NAME = 60  # letters, as design files allow

#: Our matrices are small: a second thread costs more than it brings, on a busy machine ten times
#: more. Read by the linear algebra under numpy when it is first imported; a value set outside wins.
ONE_THREAD = (
    "OPENBLAS_NUM_THREADS",
    "OMP_NUM_THREADS",
    "MKL_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
)
for _name in ONE_THREAD:
    os.environ.setdefault(_name, "1")

file_argument = click.argument("file", type=click.Path(path_type=Path))
json_option = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
variant_option = click.option(
    "--variant", metavar="NAME", help="Only this variant (default: see the verb)."
)
force_option = click.option("--force", is_flag=True, help="Overwrite files that are there.")
catalogue_option = click.option(
    "--catalogue",
    type=click.Path(path_type=Path),
    help="Your own catalogue file, used beside the packaged one.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="foamwright")
def cli() -> None:
    """From a design file to a balanced aeroplane and a true-size plan.

    \b
    foamwright demo                   see the whole job on the lead example
    foamwright new my-plane           start a design file of your own
    foamwright check my-plane.toml    sizes, weights, balance, stability, findings
    foamwright parts my-plane.toml    write the true-size plan
    foamwright verify                 run the published checks and print how near we come
    """  # noqa: D301 - click wants its own \b


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path), default=Path("foamwright-demo"))
@force_option
@json_option
def demo(folder: Path, *, force: bool, as_json: bool) -> None:
    """Do the main job on the lead example, in FOLDER (default: foamwright-demo).

    Writes the design file, checks every variant of it and writes the true-size plan.
    """
    from foamwright.design import starter_text

    file = folder / "dunlin.toml"
    _write_new(file, starter_text("dunlin"), force=force)
    design_set = _read(file, None)
    comparison = _compare(design_set, None)
    result = _told(comparison, as_json=as_json)
    written = _write_parts(comparison.assessments[0], folder / "plan", force=force)
    if as_json:
        _print_json(result | {"files": [str(path) for path in written]})
    else:
        _say_written(written)
        _talk(f"Next: open {folder / 'plan' / 'three-view.pdf'}, then change {file} and run")
        _talk(f"  {_call('check', str(file))}")


@cli.command()
@click.argument("name")
@click.option(
    "--like",
    metavar="EXAMPLE",
    default="dunlin",
    show_default=True,
    help="The example to start from: dunlin, knot, curlew, avocet or godwit.",
)
@force_option
@json_option
def new(name: str, like: str, *, force: bool, as_json: bool) -> None:
    """Write NAME.toml, a design file of your own that starts from an example."""
    from foamwright.design import starter_text

    path = Path(name.removesuffix(".toml") + ".toml")
    title = path.name.removesuffix(".toml")
    if not (title.strip(" .") and title.isprintable() and len(title) <= LONGEST_NAME):
        raise click.UsageError(
            "NAME becomes the name of the file and of the aeroplane: write one to "
            f"{LONGEST_NAME} letters, such as my-plane"
        )
    _write_new(path, starter_text(like, name=title), force=force)
    if as_json:
        _print_json({"file": str(path), "like": like})
    else:
        click.echo(str(path))
        _talk(f"Next: change it in any text editor, then run  {_call('check', str(path))}")


@cli.command()
@file_argument
@variant_option
@catalogue_option
@click.option(
    "--propellers",
    is_flag=True,
    help="Also rank the catalogue's propellers for one variant (default: as drawn).",
)
@json_option
def check(
    file: Path, variant: str | None, catalogue: Path | None, *, propellers: bool, as_json: bool
) -> None:
    """Print sizes, weights, balance, stability and findings of FILE, all variants side by side.

    With --variant, only that one, with its weight statement part by part.
    Ends with exit code 1 when a finding says stop.
    """
    design_set = _read(file, catalogue)
    comparison = _compare(design_set, variant)
    result = _told(comparison, as_json=as_json, with_parts=variant is not None)
    if propellers:
        result["propellers"] = _propellers(comparison.assessments[0], as_json=as_json)
    if as_json:
        _print_json(result)
    if any(finding["level"] == "stop" for finding in result["findings"]):
        sys.exit(PROBLEMS)


@cli.command()
@file_argument
@variant_option
@catalogue_option
@click.option(
    "--folder",
    type=click.Path(path_type=Path),
    help="Where to write (default: FILE's name / the variant's name, beside FILE).",
)
@force_option
@json_option
def parts(
    file: Path,
    variant: str | None,
    catalogue: Path | None,
    folder: Path | None,
    *,
    force: bool,
    as_json: bool,
) -> None:
    """Write the true-size plan of FILE: PDF on A4, Letter and one big page, DXF, SVG, GLB.

    Draws the variant as drawn in the file, or the one --variant names.
    """
    design_set = _read(file, catalogue)
    design = _pick(design_set, variant)
    folder = folder or file.with_suffix("") / design.variant.replace(" ", "-")
    (assessment,) = _compare(design_set, design.variant).assessments
    written = _write_parts(assessment, folder, force=force)
    if as_json:
        _print_json({"variant": design.variant, "files": [str(path) for path in written]})
    else:
        _say_written(written)


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path), required=False)
@click.option(
    "--family", "families", metavar="NAME", multiple=True, help="Only this family; may be repeated."
)
@json_option
def verify(folder: Path | None, families: tuple[str, ...], *, as_json: bool) -> None:
    """Run the published checks and print how near we come: case by case, then by family.

    With FOLDER, run the case files (*.toml) of that folder, or one such file, instead of the
    packaged checks. Ends with exit code 1 when a value lies outside its band and the case
    does not say that it is known to.

    A FOLDER of measured propellers (manifest.csv and a CSV for each) or a CSV file of static
    bench runs gives the error table of the propeller model instead.
    """
    from foamwright.verify import as_dictionary, read_cases, run_cases, tally
    from foamwright.verify.suites import print_suite, suite_dictionary, suite_in

    suite = None if folder is None else suite_in(folder)
    if suite is not None:
        if as_json:
            _print_json(suite_dictionary(suite))
        else:
            print_suite(suite)
        return

    cases = read_cases(folder)
    known = tuple(dict.fromkeys(case.family for case in cases))
    for family in families:
        if family not in known:
            raise click.UsageError(f'no family "{family}"; there are {", ".join(known)}')
    wanted = tuple(case for case in cases if not families or case.family in families)
    results = run_cases(wanted, progress=_progress())
    _clear_progress()
    if as_json:
        _print_json(as_dictionary(results))
    else:
        from foamwright.verify.table import print_results

        print_results(results)
    if tally(results).missed:
        sys.exit(PROBLEMS)


def main() -> None:
    """Run the command line and turn every failure into words and an exit code."""
    from foamwright.errors import DesignFileError, FoamwrightError

    _print_anything()
    try:
        cli.main(standalone_mode=False)
    except click.exceptions.Abort:
        _talk("Stopped.")
        sys.exit(PROBLEMS)
    except click.ClickException as problem:
        problem.show()
        sys.exit(USAGE)
    except DesignFileError as problem:
        if "--json" in sys.argv:
            _print_json({"problems": [asdict(each) for each in problem.problems]})
        _talk(str(problem))
        sys.exit(PROBLEMS)
    except FoamwrightError as problem:
        _talk(str(problem))
        sys.exit(PROBLEMS)
    except OSError as refusal:
        _stop_printing()
        where = f"{refusal.filename}: " if refusal.filename else ""
        _talk(f"{where}{refusal.strerror or refusal}")
        sys.exit(PROBLEMS)
    except Exception as fault:  # noqa: BLE001 - the last door: our own mistakes get words too
        _talk(f"Foamwright itself failed: {type(fault).__name__}: {fault}")
        _talk("That is our mistake. Please report it with the design file and this command:")
        _talk("  " + " ".join(["foamwright", *sys.argv[1:]]))
        sys.exit(OURS)


def _print_anything() -> None:
    """Print a question mark for a letter that an old code page lacks, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _stop_printing() -> None:
    """Drop what stdout still holds: Python would complain of it once more at its own end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


# ---------------------------------------------------------------- steps


def _read(file: Path, catalogue: Path | None) -> DesignSet:
    from foamwright.design import read_design

    return read_design(file, catalogue=catalogue)


def _pick(design_set: DesignSet, variant: str | None) -> Design:
    if variant is None:
        return design_set.variants[0]
    names = [design.variant for design in design_set.variants]
    if variant not in names:
        listed = ", ".join(f'"{name}"' for name in names)
        raise click.UsageError(f'no variant "{variant}" in {design_set.file}; it has {listed}')
    return design_set.variant(variant)


def _compare(design_set: DesignSet, variant: str | None) -> Comparison:
    from foamwright.assess import compare

    if variant is not None:
        design_set = replace(design_set, variants=(_pick(design_set, variant),))
    comparison = compare(design_set, progress=_progress())
    _clear_progress()
    return comparison


def _told(comparison: Comparison, *, as_json: bool, with_parts: bool = False) -> dict[str, Any]:
    from foamwright.report import as_dictionary

    if not as_json:
        from foamwright.terminal import print_comparison

        print_comparison(comparison, with_parts=with_parts)
    return as_dictionary(comparison)


def _propellers(assessment: Assessment, *, as_json: bool) -> list[dict[str, Any]]:
    from foamwright.power import shortlists
    from foamwright.power.telling import propellers_dictionary

    found = shortlists(assessment.power)
    if not as_json:
        from foamwright.terminal import print_propellers

        print_propellers(found)
    return [propellers_dictionary(shortlist) for shortlist in found]


def _write_parts(assessment: Assessment, folder: Path, *, force: bool) -> tuple[Path, ...]:
    from foamwright.drawing import missing_letters, write_plan

    written = write_plan(assessment, folder, force=force, progress=_progress())
    if odd := missing_letters(assessment.airframe):
        _clear_progress()
        _talk(f"These letters are not in the plan's font and print as boxes: {odd}")
    return written


def _progress() -> Callable[[str], None]:
    def step(text: str) -> None:
        if sys.stderr.isatty():
            click.echo(f"\r\x1b[K{text} ...", nl=False, err=True)

    return step


def _write_new(path: Path, text: str, *, force: bool) -> None:
    from foamwright.errors import FoamwrightError
    from foamwright.files import write_atomically

    if path.exists() and not force:
        raise FoamwrightError(f"{path} is there already; --force overwrites it")
    path.parent.mkdir(parents=True, exist_ok=True)
    write_atomically(path, text.encode("utf-8"))


def _clear_progress() -> None:
    if sys.stderr.isatty():
        click.echo("\r\x1b[K", nl=False, err=True)


def _say_written(written: tuple[Path, ...]) -> None:
    _clear_progress()
    for path in written:
        click.echo(str(path))


def _print_json(result: dict[str, Any]) -> None:
    readable = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    click.echo(json.dumps(result, indent=2, ensure_ascii=not readable, allow_nan=False))


def _call(*words: str) -> str:
    """Return a command as this program was called: bare, or through another that says so."""
    program = os.environ.get("FOAMWRIGHT_CALL", "foamwright")
    return " ".join((program, *(f'"{word}"' if " " in word else word for word in words)))


def _talk(text: str) -> None:
    click.echo(text, err=True)
