"""Read a design file: every variant, every problem, at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from foamwright.design.assemble import Assembler
from foamwright.design.catalogue import load_catalogue
from foamwright.design.checks.profiles import beside
from foamwright.design.lines import line_map, line_of
from foamwright.design.model import Design, DesignSet, FileUnits
from foamwright.design.paths import child, format_path, is_list, value_at
from foamwright.design.schema.base import Reading
from foamwright.design.schema.whole import FORMAT, LENGTH_UNITS, MASS_UNITS
from foamwright.design.tables import GROUPS, Parts
from foamwright.design.textfile import check_text, parse, read_text
from foamwright.design.trouble import ABSENT, Absent, Loc, Report, Trouble, shown
from foamwright.design.variants import Version, versions_of
from foamwright.errors import DesignFileError, Problem

_MOST_PROBLEMS = 200


def read_design(path: Path, *, catalogue: Path | None = None) -> DesignSet:
    """Return the aeroplane of a design file in each of its variants.

    Parameters
    ----------
    path : Path
        The design file.
    catalogue : Path, optional
        A catalogue file of the maker's own, beside the packaged one.

    Returns
    -------
    DesignSet
        The design as drawn first, then the variants in file order. SI throughout.

    Raises
    ------
    DesignFileError
        Where the file cannot be used; it carries every problem of every variant.
    """
    file = str(path)
    text = read_text(path, file)
    return _design_set(text, file=file, folder=path.parent, catalogue=catalogue)


def read_design_text(
    text: str,
    *,
    file: str = "<text>",
    folder: Path | None = None,
    catalogue: Path | None = None,
) -> DesignSet:
    """Return the aeroplane of a design file that is at hand as text.

    Parameters
    ----------
    text : str
        What stands in the file.
    file : str, optional
        What problems call it.
    folder : Path, optional
        Where files beside it are; without one, naming such files is a problem.
    catalogue : Path, optional
        A catalogue file of the maker's own, beside the packaged one.

    Returns
    -------
    DesignSet
        The design as drawn first, then the variants in file order. SI throughout.

    Raises
    ------
    DesignFileError
        Where the text cannot be used; it carries every problem of every variant.
    """
    check_text(text, file)
    return _design_set(text, file=file, folder=folder, catalogue=catalogue)


def _design_set(text: str, *, file: str, folder: Path | None, catalogue: Path | None) -> DesignSet:
    tree = parse(text, file)
    _check_format(tree, text, file)
    reading = Reading(
        lengths=_unit(tree, "lengths", LENGTH_UNITS),
        masses=_unit(tree, "masses", MASS_UNITS),
        folder=folder,
    )
    report = Report(length_unit=reading.lengths)
    parts = _catalogue(tree, folder, catalogue, report)
    assembler = Assembler(reading, parts)
    versions = versions_of(tree, reading, report)
    found = _Found(tree, file)
    found.add(report.troubles, None)
    designs: list[Design] = []
    for version in versions:
        design, troubles = assembler.design(version)
        found.add(troubles, version)
        if design is not None:
            designs.append(design)
    if found.places:
        raise DesignFileError(found.problems(text))
    units = FileUnits(lengths=reading.lengths, masses=reading.masses)
    return DesignSet(file=file, variants=tuple(designs), units=units)


# ---------------------------------------------------------------- before the tables


def _check_format(tree: Mapping[str, object], text: str, file: str) -> None:
    """Refuse another format before its keys are called unknown one by one."""
    given = tree.get("format", ABSENT)
    if isinstance(given, int) and not isinstance(given, bool) and given != FORMAT:
        problem = Problem(
            code="FORMAT-UNKNOWN",
            file=file,
            line=line_map(text).get(("format",)),
            path="format",
            given=shown(given),
            text=f"This program reads format {FORMAT}.",
            hint="a newer program may read this file"
            if given > FORMAT
            else f"write format = {FORMAT}",
        )
        raise DesignFileError((problem,))


def _unit(tree: Mapping[str, object], key: str, known: tuple[str, ...]) -> str:
    """Return a unit of bare numbers; a wrong one is said later, when the head is read."""
    given = tree.get(key, known[0])
    return given if isinstance(given, str) and given in known else known[0]


@dataclass(frozen=True, slots=True)
class _Both:
    """Two catalogues; the first goes before the second."""

    first: Parts
    second: Parts

    def entry(self, kind: str, name: str) -> Mapping[str, object]:
        """Return an entry; KeyError where there is none."""
        try:
            return self.first.entry(kind, name)
        except KeyError:
            return self.second.entry(kind, name)

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of a kind."""
        return tuple(dict.fromkeys((*self.first.names(kind), *self.second.names(kind))))


def _catalogue(
    tree: Mapping[str, object], folder: Path | None, given: Path | None, report: Report
) -> Parts:
    """Return the catalogue: the file named on the command line, in the design, the packaged one."""
    parts: Parts = load_catalogue(given)
    name = tree.get("catalogue")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        return parts
    path = beside(name, folder)
    if path is None:
        text = "The catalogue must lie beside the design file or in a folder below it."
        report.say("CATALOGUE-FILE", text, "catalogue")
        return parts
    try:
        own = load_catalogue(path)
    except DesignFileError as error:
        for problem in error.problems:
            where = f"line {problem.line}: " if problem.line else ""
            text = f"The catalogue cannot be used: {where}{problem.text}"
            report.say("CATALOGUE-FILE", text, "catalogue", hint=problem.hint)
        return parts
    return own if given is None else _Both(parts, own)


# ---------------------------------------------------------------- problems


class _Found:
    """Troubles of all versions, each place and code once."""

    def __init__(self, tree: Mapping[str, object], file: str) -> None:
        self.tree = tree
        self.file = file
        self.places: dict[tuple[str, Loc], tuple[Trouble, Version | None, str]] = {}

    def add(self, troubles: list[Trouble], version: Version | None) -> None:
        """Take the troubles of one version; None for those of the file as a whole."""
        drawn = version is None or version.is_drawn
        for trouble in troubles:
            origin = None if version is None else version.origin(trouble.loc)
            loc = _in_file(self.tree, trouble.loc, version) if origin is None else origin
            # A trouble that the design as drawn has too is said once.
            suffix = "" if drawn or origin else f' (in the variant "{version.name}")'  # type: ignore[union-attr]
            self.places.setdefault((trouble.code, loc), (trouble, version, suffix))

    def problems(self, text: str) -> tuple[Problem, ...]:
        """Return the problems in file order, each with its line."""
        lines = line_map(text)
        placed = [(line_of(lines, loc), loc, each) for (_, loc), each in self.places.items()]
        placed.sort(key=lambda place: place[0] or 0)
        made = [self._problem(line, loc, *each) for line, loc, each in placed[:_MOST_PROBLEMS]]
        rest = len(placed) - len(made)
        if rest:
            text = f"There are {rest} more problems; mend these first."
            made.append(
                Problem(
                    code="PROBLEMS-CUT", file=self.file, line=None, path="", given="", text=text
                )
            )
        return tuple(made)

    def _problem(
        self, line: int | None, loc: Loc, trouble: Trouble, version: Version | None, suffix: str
    ) -> Problem:
        given = trouble.given
        if isinstance(given, Absent):
            given = value_at(self.tree if version is None else version.tree, trouble.loc)
        hint = str(trouble.hint)
        if not hint and version is not None:
            hint = _from_catalogue(version.tree, trouble)
        return Problem(
            code=trouble.code,
            file=self.file,
            line=line,
            path=format_path(loc, self.tree),
            given="" if isinstance(given, Absent) or not trouble.loc else shown(given),
            text=trouble.text + suffix,
            hint=hint,
        )


def _in_file(tree: object, loc: Loc, version: Version | None) -> Loc:
    """Return a place of a version as a place of the file: list members are found by name.

    A variant that leaves out a panel moves the places of those behind it.
    """
    if version is None or version.is_drawn:
        return loc
    bits: list[str | int] = []
    theirs: object = version.tree
    ours: object = tree
    for bit in loc:
        theirs = child(theirs, bit)
        step = bit
        if isinstance(bit, int) and is_list(ours):
            step = _member(ours, theirs, bit)
        ours = child(ours, step)
        bits.append(step)
    return tuple(bits)


def _member(members: list[object], wanted: object, place: int) -> int:
    """Return where the file has a member of a version's list: the same one, or its name."""
    name = child(wanted, "name")
    same = (number for number, member in enumerate(members) if member is wanted)
    named = (
        number
        for number, member in enumerate(members)
        if isinstance(name, str) and child(member, "name") == name
    )
    return next(same, next(named, place))


def _from_catalogue(tree: Mapping[str, object], trouble: Trouble) -> str:
    """Return where a value that does not stand in the file comes from."""
    if trouble.code == "KEY-MISSING":
        return ""
    for group in GROUPS:
        depth = len(group.path) + 1
        if trouble.loc[: depth - 1] == group.path and len(trouble.loc) > depth:
            entry = value_at(tree, trouble.loc[:depth])
            name = child(entry, "from")
            if isinstance(name, str) and child(entry, str(trouble.loc[depth])) is ABSENT:
                return f'this figure comes from "{shown(name)[1:-1]}" of the catalogue'
    return ""
