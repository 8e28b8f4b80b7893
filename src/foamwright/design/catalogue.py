"""The catalogue of generic goods and parts that a design file names with ``from``.

An entry has the same keys as the table of the design file that names it, so that the
reader lays the maker's own keys over it. It adds ``says`` (what to ask for in the shop),
``source`` (whence the figures, and how sure) and scatters (one standard deviation).
A maker may keep a catalogue file of his own in the same form; his entry wins.
"""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import NoReturn, cast

from foamwright.errors import DesignFileError, InternalError, Problem
from foamwright.units import UnitError, parse_quantity

Entry = Mapping[str, object]
Kind = Mapping[str, Entry]  # entries of one kind by name

#: Largest catalogue file that is read; far beyond any honest one. [byte]
LARGEST_FILE = 1_000_000

_LONGEST_NAME = 80
_LONGEST_SHOWN = 60
_MANY = 100  # more blades or cells than any model carries

#: Kinds of value that are not quantities with a unit.
_TEXT, _NUMBER, _SIZES = "text", "number", "lengths"

_COMMON = {"says": _TEXT, "source": _TEXT}
_MASS = {"mass": "mass", "mass_scatter": "fraction"}

#: The keys of each kind of goods, each with the kind of its value: one of
#: :data:`foamwright.units.KINDS`, or "text", "number", "lengths".
KEYS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "sheet": {
            "kind": _TEXT,
            "thickness": "length",
            "thickness_scatter": "fraction",
            "weight": "areal weight",
            "weight_scatter": "fraction",
            "size": _SIZES,
            "stiff": _TEXT,
            "facing": _TEXT,
            "facing_thickness": "length",
            **_COMMON,
        },
        "tape": {
            "width": "length",
            "weight": "areal weight",
            "weight_scatter": "fraction",
            **_COMMON,
        },
        "glue": {"line_mass": "line mass", "line_mass_scatter": "fraction", **_COMMON},
        "rod": {
            "diameter": "length",
            "bore": "length",
            "line_mass": "line mass",
            "line_mass_scatter": "fraction",
            **_COMMON,
        },
        "block": {"density": "density", "density_scatter": "fraction", **_COMMON},
        "motor": {
            "diameter": "length",
            "length": "length",
            "speed_constant": "speed constant",
            "resistance": "resistance",
            "idle_current": "current",
            "max_current": "current",
            **_MASS,
            **_COMMON,
        },
        "propeller": {
            "diameter": "length",
            "pitch": "length",
            "blades": _NUMBER,
            "style": _TEXT,
            "blade_width": "length",
            **_MASS,
            **_COMMON,
        },
        "controller": {"rating": "current", "size": _SIZES, **_MASS, **_COMMON},
        "pack": {
            "cells": _NUMBER,
            "capacity": "charge",
            "rating": "rating",
            "size": _SIZES,
            **_MASS,
            **_COMMON,
        },
        "item": {"kind": _TEXT, "size": _SIZES, **_MASS, **_COMMON},
        "wheel": {"diameter": "length", "width": "length", **_MASS, **_COMMON},
    }
)

#: The kinds of the catalogue, in the order in which a design file uses them.
KINDS = tuple(KEYS)

# These have one customary form only, so a bare number says all.
_BARE = {"fraction": "", "rating": "C"}

_HEADER = re.compile(r"\s*\[\s*(?P<name>[^\]]+?)\s*\]\s*(?:#.*)?$")
_AT_LINE = re.compile(r"\(at line (\d+), column \d+\)")


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Generic goods and parts by kind and name."""

    kinds: Mapping[str, Kind]

    def entry(self, kind: str, name: str) -> Entry:
        """Return the entry of that kind and name; KeyError where there is none."""
        return self.kinds[kind][name]

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of that kind in catalogue order; KeyError for an unknown kind."""
        return tuple(self.kinds[kind])


def load_catalogue(extra: Path | None = None) -> Catalogue:
    """Return the packaged catalogue, with the entries of the maker's own file laid over it.

    Parameters
    ----------
    extra : Path, optional
        A catalogue file of the maker's own.

    Returns
    -------
    Catalogue
        All entries. Where both know a name the maker's own entry stands alone: the two
        are not mixed, so that what the maker wrote is all there is to read.

    Raises
    ------
    DesignFileError
        Where the maker's own file cannot be used; it carries every problem found.
    """
    packaged = _packaged()
    if extra is None:
        return packaged
    own = _read_own(extra)
    return Catalogue(
        MappingProxyType(
            {
                kind: MappingProxyType({**packaged.kinds[kind], **own.get(kind, {})})
                for kind in KINDS
            }
        )
    )


@cache
def _packaged() -> Catalogue:
    kinds: dict[str, dict[str, Entry]] = {kind: {} for kind in KINDS}
    folder = files("foamwright.design") / "catalogue"
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if not file.name.endswith(".toml"):
            continue
        text = file.read_text(encoding="utf-8")
        tables = tomllib.loads(text)
        problems = tuple(_problems(tables, text=text, file=file.name))
        if problems:
            raise InternalError(str(DesignFileError(problems)))
        for kind, entries in tables.items():
            kinds[kind].update({name: _frozen(entry) for name, entry in entries.items()})
    return Catalogue(
        MappingProxyType({kind: MappingProxyType(entries) for kind, entries in kinds.items()})
    )


def _frozen(entry: Mapping[str, object]) -> Entry:
    return MappingProxyType(
        {
            key: tuple(cast("list[object]", value)) if isinstance(value, list) else value
            for key, value in entry.items()
        }
    )


# ---------------------------------------------------------------- the maker's own file


def _read_own(path: Path) -> dict[str, dict[str, Entry]]:
    text = _text_of(path)
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        _refuse(path, code="CATALOGUE-SYNTAX", text="The brackets are nested too deeply.")
    except ValueError as error:
        found = _AT_LINE.search(str(error))
        _refuse(
            path,
            code="CATALOGUE-SYNTAX",
            text=f"This is not TOML: {_AT_LINE.sub('', str(error)).strip()}.",
            line=int(found[1]) if found else None,
        )
    problems = tuple(_problems(tables, text=text, file=str(path)))
    if problems:
        raise DesignFileError(problems)
    return {
        kind: {name: _frozen(entry) for name, entry in entries.items()}
        for kind, entries in tables.items()
    }


def _text_of(path: Path) -> str:
    try:
        # A pipe or a device would hold us for ever, so only plain files are opened.
        if not stat.S_ISREG(path.stat().st_mode):
            _refuse(path, code="CATALOGUE-UNREADABLE", text="A catalogue must be a plain file.")
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        _refuse(path, code="CATALOGUE-UNREADABLE", text=f"The file cannot be read: {reason}.")
    if len(raw) > LARGEST_FILE:
        _refuse(
            path,
            code="CATALOGUE-TOO-LARGE",
            text="The file is larger than 1 MB; no catalogue needs that much.",
        )
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        _refuse(
            path,
            code="CATALOGUE-ENCODING",
            text="The file is not UTF-8 text.",
            line=raw.count(b"\n", 0, error.start) + 1,
            hint="save it as UTF-8 in your editor",
        )


def _refuse(
    path: Path, *, code: str, text: str, line: int | None = None, hint: str = ""
) -> NoReturn:
    raise DesignFileError(
        (Problem(code=code, file=str(path), line=line, path="", given="", text=text, hint=hint),)
    ) from None


# ---------------------------------------------------------------- checks


@dataclass(frozen=True, slots=True)
class _Place:
    """Where in a catalogue file a problem stands."""

    file: str
    text: str
    kind: str
    name: str = ""

    def problem(
        self, code: str, text: str, *, key: str = "", given: object = None, hint: str = ""
    ) -> Problem:
        bits = (self.kind, f'"{self.name}"' if self.name else "", key)
        return Problem(
            code=code,
            file=self.file,
            line=self._line(key),
            path=_printable(".".join(bit for bit in bits if bit)),
            given="" if given is None else _shown(given),
            text=text,
            hint=hint,
        )

    def _line(self, key: str) -> int | None:
        """Line of the key below its table's header, as near as the text tells."""
        headers = {
            f"{self.kind}.{quote}{self.name}{quote}" if self.name else self.kind
            for quote in ('"', "'", "")
        }
        header_line: int | None = None
        for number, line in enumerate(self.text.splitlines(), start=1):
            header = _HEADER.match(line)
            if header:
                if header_line is not None:
                    break
                if header["name"] in headers or (
                    not self.name and header["name"].partition(".")[0].strip() == self.kind
                ):
                    header_line = number
            elif header_line is not None and key and line.partition("=")[0].strip(" \t\"'") == key:
                return number
        return header_line


def _problems(tables: Mapping[str, object], *, text: str, file: str) -> Iterator[Problem]:
    for kind, entries in tables.items():
        place = _Place(file, text, kind)
        if kind not in KEYS:
            yield place.problem(
                "CATALOGUE-KIND",
                f"The catalogue knows no such kind; the kinds are {', '.join(KINDS)}.",
                hint=_meant(kind, KINDS),
            )
        elif not isinstance(entries, dict):
            yield place.problem(
                "CATALOGUE-ENTRY", f'An entry is a table: [{kind}."its name"].', given=entries
            )
        else:
            for name, entry in cast("dict[str, object]", entries).items():
                yield from _entry_problems(entry, _Place(file, text, kind, name))


def _entry_problems(entry: object, place: _Place) -> Iterator[Problem]:
    if not place.name.strip() or len(place.name) > _LONGEST_NAME or not place.name.isprintable():
        yield place.problem(
            "CATALOGUE-NAME",
            f"An entry's name is one printable line of 1 to {_LONGEST_NAME} characters.",
        )
        return
    if not isinstance(entry, dict):
        yield place.problem(
            "CATALOGUE-ENTRY",
            f'An entry is a table: [{place.kind}."{place.name}"].',
            given=entry,
        )
        return
    for key, value in cast("dict[str, object]", entry).items():
        value_kind = KEYS[place.kind].get(key)
        if value_kind is None:
            yield place.problem(
                "CATALOGUE-KEY",
                f"A {place.kind} has no such key; it has {', '.join(KEYS[place.kind])}.",
                key=key,
                given=value,
                hint=_meant(key, tuple(KEYS[place.kind])),
            )
            continue
        try:
            _check_value(key, value, kind=value_kind)
        except UnitError as wrong:
            yield place.problem(wrong.code, wrong.text, key=key, given=value, hint=wrong.hint)


def _check_value(key: str, value: object, *, kind: str) -> None:
    """Raise UnitError where the value is not of its kind.

    A catalogue serves many design files, each with its own units of bare numbers, so a
    measure always names its unit here.
    """
    if kind == _TEXT:
        if not isinstance(value, str):
            raise UnitError("VALUE-TYPE", "This must be text in quotes.")
    elif kind == _SIZES:
        if not isinstance(value, list):
            raise UnitError("VALUE-TYPE", 'A size is a list of lengths: ["45 mm", "24 mm"].')
        for length in cast("list[object]", value):
            _check_value(key, length, kind="length")
    elif kind == _NUMBER:
        if isinstance(value, bool) or not isinstance(value, int) or not 0 < value < _MANY:
            raise UnitError("VALUE-RANGE", f"This must be a whole number from 1 to {_MANY - 1}.")
    else:
        quantity = parse_quantity(value, kind, _BARE.get(kind))
        if quantity < 0 or (quantity == 0 and not _allows_zero(key)):
            raise UnitError("VALUE-RANGE", "This must be above zero.")


def _allows_zero(key: str) -> bool:
    return key.endswith("_scatter") or key in {"bore", "facing_thickness"}


def _meant(word: str, known: tuple[str, ...]) -> str:
    near = get_close_matches(word, known, n=1)
    return f'did you mean "{near[0]}"?' if near else ""


def _shown(value: object) -> str:
    text = _printable(f'"{value}"' if isinstance(value, str) else str(value))
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."


def _printable(text: str) -> str:
    """Return the text with what a terminal would obey replaced by question marks."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)
