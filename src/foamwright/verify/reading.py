"""Read case files: every problem of every file, at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib.resources import files
from pathlib import Path

from foamwright.design.lines import line_map
from foamwright.design.paths import format_path, value_at
from foamwright.design.schema.base import Reading
from foamwright.design.schema.whole import LENGTH_UNITS, MASS_UNITS
from foamwright.design.textfile import check_text, parse, read_text
from foamwright.design.trouble import ABSENT, Absent, Loc, Report, Trouble, shown
from foamwright.errors import DesignFileError, Problem
from foamwright.verify.caseread import CaseReader
from foamwright.verify.model import Case
from foamwright.verify.schema import FORMAT

_MOST_PROBLEMS = 200
#: Most case files of one folder; more is the wrong folder.
_MOST_FILES = 500


def packaged_folder() -> Path:
    """Return the folder of the checks that come with the program."""
    return Path(str(files("foamwright.verify") / "cases"))


def read_cases(place: Path | None = None) -> tuple[Case, ...]:
    """Return all cases of a folder of case files, or of one file.

    Parameters
    ----------
    place : Path, optional
        The folder or file; the checks that come with the program where none is given.

    Returns
    -------
    tuple of Case
        File by file in the order of their names. SI throughout.

    Raises
    ------
    DesignFileError
        Where a file cannot be used; it carries every problem of every file.
    """
    cases: list[Case] = []
    problems: list[Problem] = []
    seen: dict[str, str] = {}
    for path in _case_files(packaged_folder() if place is None else place):
        file = path.name if place is None else str(path)
        try:
            found = read_case_text(read_text(path, file), file=file, folder=path.parent)
        except DesignFileError as error:
            problems.extend(error.problems)
            continue
        for case in found:
            if case.name in seen:
                problems.append(_twice(case, seen[case.name]))
            seen.setdefault(case.name, file)
        cases.extend(found)
    if problems:
        raise DesignFileError(tuple(problems))
    return tuple(cases)


def read_case_text(
    text: str, *, file: str = "<text>", folder: Path | None = None
) -> tuple[Case, ...]:
    """Return all cases of a case file that is at hand as text.

    Parameters
    ----------
    text : str
        What stands in the file.
    file : str, optional
        What problems call it.
    folder : Path, optional
        Where files with section coordinates are.

    Returns
    -------
    tuple of Case
        In file order. SI throughout.

    Raises
    ------
    DesignFileError
        Where the text cannot be used; it carries every problem.
    """
    check_text(text, file)
    tree = parse(text, file)
    lines = line_map(text)
    _check_format(tree, lines, file)
    reading = Reading(
        lengths=_unit(tree, "lengths", LENGTH_UNITS),
        masses=_unit(tree, "masses", MASS_UNITS),
        folder=folder,
    )
    report = Report(length_unit=reading.lengths)
    reader = CaseReader(tree=tree, reading=reading, file=file, lines=lines, report=report)
    cases = reader.cases()
    if report.troubles:
        raise DesignFileError(_problems(report.troubles, tree, lines, file))
    return cases


def _case_files(place: Path) -> Sequence[Path]:
    try:
        if not place.is_dir():
            if place.exists():
                return (place,)
            raise _no_folder(place, "There is no folder or file of that name.")
        found = sorted(path for path in place.iterdir() if path.suffix == ".toml")
    except (OSError, ValueError) as error:
        raise _no_folder(place, "The folder cannot be read.") from error
    if not found:
        raise _no_folder(place, "No case file (*.toml) stands in this folder.")
    if len(found) > _MOST_FILES:
        raise _no_folder(place, f"More than {_MOST_FILES} files stand in this folder.")
    return found


def _no_folder(place: Path, text: str) -> DesignFileError:
    hint = "docs/verify.md says how a case file is written"
    problem = Problem(
        code="CASE-FOLDER", file=str(place), line=None, path="", given="", text=text, hint=hint
    )
    return DesignFileError((problem,))


def _twice(case: Case, other: str) -> Problem:
    return Problem(
        code="CASE-TWICE",
        file=case.file,
        line=case.line,
        path=f"case.{case.name}",
        given="",
        text=f"{other} has a case of that name already.",
    )


def _check_format(tree: Mapping[str, object], lines: Mapping[Loc, int], file: str) -> None:
    given = tree.get("format", ABSENT)
    if isinstance(given, int) and not isinstance(given, bool) and given != FORMAT:
        problem = Problem(
            code="FORMAT-UNKNOWN",
            file=file,
            line=lines.get(("format",)),
            path="format",
            given=shown(given),
            text=f"This program reads format {FORMAT} of case files.",
        )
        raise DesignFileError((problem,))


def _unit(tree: Mapping[str, object], key: str, known: tuple[str, ...]) -> str:
    """Return a unit of bare numbers; a wrong one is said later, when the head is read."""
    given = tree.get(key, known[0])
    return given if isinstance(given, str) and given in known else known[0]


def _problems(
    troubles: Sequence[Trouble], tree: Mapping[str, object], lines: Mapping[Loc, int], file: str
) -> tuple[Problem, ...]:
    """Return problems in file order, each place and code once."""
    places = {(trouble.code, trouble.loc): trouble for trouble in reversed(troubles)}
    placed = sorted(places.values(), key=lambda trouble: line_of(lines, trouble.loc) or 0)
    made = [_problem(trouble, tree, lines, file) for trouble in placed[:_MOST_PROBLEMS]]
    rest = len(placed) - len(made)
    if rest:
        text = f"There are {rest} more problems; mend these first."
        made.append(
            Problem(code="PROBLEMS-CUT", file=file, line=None, path="", given="", text=text)
        )
    return tuple(made)


def _problem(
    trouble: Trouble, tree: Mapping[str, object], lines: Mapping[Loc, int], file: str
) -> Problem:
    given = trouble.given
    if isinstance(given, Absent):
        given = value_at(tree, trouble.loc)
    return Problem(
        code=trouble.code,
        file=file,
        line=line_of(lines, trouble.loc),
        path=format_path(trouble.loc, tree),
        given="" if isinstance(given, Absent) else shown(given),
        text=trouble.text,
        hint=str(trouble.hint),
    )


def line_of(lines: Mapping[Loc, int], loc: Loc) -> int | None:
    """Return the line of a place, or of the nearest table around it."""
    for end in range(len(loc), 0, -1):
        if loc[:end] in lines:
            return lines[loc[:end]]
    return None
