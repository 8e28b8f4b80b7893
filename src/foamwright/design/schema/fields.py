"""The kinds of values that the tables are made of."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from enum import StrEnum
from typing import cast

from pydantic_core import PydanticCustomError

from foamwright.design.schema.base import FILE, Given, Reading, Supplied, Value, refuse
from foamwright.design.trouble import listed, meant
from foamwright.units import UnitError, parse_quantity, to_unit

#: Unit of a bare number by kind; kinds that are not here take text with a unit only.
BARE_UNITS = {
    "angle": "deg",
    "areal weight": "g/m2",
    "density": "kg/m3",
    "line mass": "g/m",
    "charge": "mAh",
    "speed constant": "rpm/V",
    "resistance": "ohm",
    "current": "A",
    "rating": "",
    "fraction": "",
}

_LONGEST_NAME = 40


def bare_unit(kind: str, reading: Reading) -> str | None:
    """Return the unit of a bare number; "" for SI, None where bare numbers say nothing."""
    if kind == "length":
        return reading.lengths
    return reading.masses if kind == "mass" else BARE_UNITS.get(kind)


@dataclass(frozen=True, slots=True)
class Quantity(Value):
    """A number with a unit, between two limits that are spoken as they are written here."""

    kind: str
    low: str
    high: str
    _limits: tuple[float, float] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        limits = tuple(parse_quantity(text, self.kind, "") for text in (self.low, self.high))
        object.__setattr__(self, "_limits", limits)

    def read(self, given: object, reading: Reading) -> float:
        """Return the quantity. [SI]"""
        unit = bare_unit(self.kind, reading)
        try:
            value = parse_quantity(given, self.kind, unit)
        except UnitError as error:
            refuse(error.code, error.text, error.hint)
        low, high = self._limits
        if not low <= value <= high:
            code = "VALUE-TOO-SMALL" if value < low else "VALUE-TOO-LARGE"
            text = f"This lies outside what makes sense here: from {self.low} to {self.high}."
            refuse(code, text, self._hint(given, value, unit))
        return value

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"{self.kind}, {self.low} to {self.high}"

    def _hint(self, given: object, value: float, unit: str | None) -> str:
        if isinstance(given, str):
            return ""
        if self.kind == "fraction":
            percent = f'did you mean "{given} %"?'
            return percent if 1.0 < value <= 100.0 * self._limits[1] else ""
        return f'a bare number here counts as "{unit}": this reads as {value_text(value, unit)}'


@dataclass(frozen=True, slots=True)
class Measured(Value):
    """A quantity that may come from the catalogue and then says so."""

    quantity: Quantity

    def read(self, given: object, reading: Reading) -> Given:
        """Return the value with its source. [SI]"""
        if isinstance(given, Supplied):
            return Given(self.quantity.read(given.value, reading), f"catalogue: {given.source}")
        return Given(self.quantity.read(given, reading), FILE)

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return self.quantity.takes()


@dataclass(frozen=True, slots=True)
class Place:
    """A place along something: a share of its length, or a length from its root."""

    value: float  # fraction or m
    is_share: bool

    def share_of(self, whole: float) -> float:
        """Return the place as a fraction of a whole length. [-]"""
        return self.value if self.is_share else self.value / whole


@dataclass(frozen=True, slots=True)
class PlaceAlong(Value):
    """A place along a panel."""

    def read(self, given: object, reading: Reading) -> Place:
        """Return the place; text with % is a share, everything else a length."""
        if isinstance(given, str) and "%" in given:
            return Place(_SHARE.read(given, reading), is_share=True)
        return Place(_DISTANCE.read(given, reading), is_share=False)

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return "fraction as text with %, or a length from the root"


_SHARE = Quantity("fraction", "0 %", "100 %")
_DISTANCE = Quantity("length", "0 mm", "3 m")


@dataclass(frozen=True, slots=True)
class Numbers(Value):
    """A list of quantities of one kind, so many."""

    quantity: Quantity
    count: int
    names: str  # "x, y, z"

    def read(self, given: object, reading: Reading) -> tuple[float, ...]:
        """Return the quantities. [SI]"""
        values = as_list(given, f"A list of {self.count} numbers is wanted here: [{self.names}].")
        if len(values) != self.count:
            refuse(
                "LIST-LENGTH",
                f"The list needs {self.count} numbers, [{self.names}]; it has {len(values)}.",
                "decimals take a point: a comma begins the next number"
                if len(values) > self.count
                else "",
            )
        return tuple(
            _inside(self.quantity, value, reading, place) for place, value in enumerate(values)
        )

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"[{self.names}], each {self.quantity.takes()}"


@dataclass(frozen=True, slots=True)
class OneOrTwo(Value):
    """A quantity, or two for both ends."""

    quantity: Quantity

    def read(self, given: object, reading: Reading) -> tuple[float, float]:
        """Return the quantity at both ends. [SI]"""
        if isinstance(given, list | tuple):
            pair = Numbers(self.quantity, 2, "at from, at to").read(cast("object", given), reading)
            return pair[0], pair[1]
        value = self.quantity.read(given, reading)
        return value, value

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"{self.quantity.takes()}; or [at from, at to]"


@dataclass(frozen=True, slots=True)
class Points(Value):
    """A list of points, each with so many quantities."""

    quantity: Quantity
    dimensions: int
    names: str
    least: int
    most: int

    def read(self, given: object, reading: Reading) -> tuple[tuple[float, ...], ...]:
        """Return the points. [SI]"""
        rows = as_list(given, f"A list of points is wanted here: [[{self.names}], ...].")
        if len(rows) < self.least:
            refuse("LIST-LENGTH", f"At least {self.least} points are needed; here are {len(rows)}.")
        if len(rows) > self.most:
            refuse("TOO-MANY", f"At most {self.most} points are taken; here are {len(rows)}.")
        return tuple(self._point(row, reading, place) for place, row in enumerate(rows))

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"list of {self.least} to {self.most} points [{self.names}]"

    def _point(self, row: object, reading: Reading, place: int) -> tuple[float, ...]:
        if not isinstance(row, list | tuple) or len(cast("list[object]", row)) != self.dimensions:
            refuse(
                "LIST-LENGTH",
                f"Each point is a list of {self.dimensions} numbers: [{self.names}].",
                sub=(place,),
            )
        values = cast("list[object]", row)
        return tuple(
            _inside(self.quantity, value, reading, place, inner)
            for inner, value in enumerate(values)
        )


@dataclass(frozen=True, slots=True)
class Text(Value):
    """A line of text."""

    longest: int = 200
    may_be_empty: bool = False

    def read(self, given: object, reading: Reading) -> str:  # noqa: ARG002 - one shape for all
        """Return the text."""
        if not isinstance(given, str):
            refuse("VALUE-TYPE", "Text in quotes is wanted here.")
        if len(given) > self.longest:
            refuse("TEXT-ODD", f"This text is longer than the {self.longest} characters allowed.")
        if not given.strip() and not self.may_be_empty:
            refuse("TEXT-ODD", "This text is empty.")
        if not given.isprintable():
            refuse("TEXT-ODD", "This text holds line breaks or characters that cannot be printed.")
        return given

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"text, up to {self.longest} characters"


@dataclass(frozen=True, slots=True)
class Name(Value):
    """A name that the maker gives."""

    def read(self, given: object, reading: Reading) -> str:  # noqa: ARG002 - one shape for all
        """Return the name."""
        if not isinstance(given, str):
            refuse("VALUE-TYPE", "A name in quotes is wanted here.")
        if odd := odd_name(given):
            refuse("NAME-ODD", odd)
        return given

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return "name"


def odd_name(name: str) -> str:
    """Return what is odd about a name, or nothing.

    Letters of any script are welcome, with their marks; what could break a path, a file
    name or a terminal is not.
    """
    if not name or len(name) > _LONGEST_NAME:
        return f"A name must have 1 to {_LONGEST_NAME} characters."
    if name != name.strip():
        return "A name must not begin or end with a space."
    if all(letter in " -_" or unicodedata.category(letter)[0] in "LMN" for letter in name):
        return ""
    return "A name must be made of letters, digits, spaces, - and _ only."


@dataclass(frozen=True, slots=True)
class Choice(Value):
    """One of a few words."""

    words: type[StrEnum] | tuple[str, ...]

    def read(self, given: object, reading: Reading) -> str:  # noqa: ARG002 - one shape for all
        """Return the word, as a member of the enumeration where it is one."""
        known = self.known()
        if not isinstance(given, str) or given not in known:
            text = f"One of these words is wanted here: {listed(known)}."
            code = "VALUE-CHOICE" if isinstance(given, str) else "VALUE-TYPE"
            refuse(code, text, meant(given, known))
        return given if isinstance(self.words, tuple) else self.words(given)

    def known(self) -> tuple[str, ...]:
        """Return the words."""
        if isinstance(self.words, tuple):
            return self.words
        return tuple(str(word) for word in self.words)

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return ", ".join(f'"{word}"' for word in self.known())


@dataclass(frozen=True, slots=True)
class Whole(Value):
    """A whole number between two limits."""

    low: int
    high: int

    def read(self, given: object, reading: Reading) -> int:  # noqa: ARG002 - one shape for all
        """Return the number."""
        wanted = f"A whole number from {self.low} to {self.high} is wanted here."
        if isinstance(given, bool) or not isinstance(given, int | float):
            refuse("VALUE-TYPE", wanted)
        if isinstance(given, float) and not given.is_integer():
            finite = given - given == 0.0
            refuse("VALUE-TYPE" if finite else "NUMBER-NOT-FINITE", wanted)
        if given < self.low:
            refuse("VALUE-TOO-SMALL", wanted)
        if given > self.high:
            refuse("VALUE-TOO-LARGE", wanted)
        return int(given)

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"whole number, {self.low} to {self.high}"


@dataclass(frozen=True, slots=True)
class YesNo(Value):
    """Yes or no."""

    def read(self, given: object, reading: Reading) -> bool:  # noqa: ARG002 - one shape for all
        """Return whether it is so."""
        if not isinstance(given, bool):
            refuse("VALUE-TYPE", "Either true or false is wanted here, without quotes.")
        return given

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return "true or false"


# ---------------------------------------------------------------- helpers


def as_list(given: object, wanted: str) -> list[object]:
    """Return a list; refuse anything else with the sentence given."""
    if not isinstance(given, list | tuple):
        refuse("VALUE-TYPE", wanted)
    return list(cast("list[object]", given))


def value_text(value: float, unit: str | None) -> str:
    """Return a quantity as text in a unit."""
    return f"{to_unit(value, unit):.6g} {unit}" if unit else f"{value:.6g}"


def _inside(quantity: Quantity, value: object, reading: Reading, *sub: int) -> float:
    """Read one number of a list; a refusal says which one."""
    try:
        return quantity.read(value, reading)
    except PydanticCustomError as error:
        context = error.context or {}
        refuse(error.type, str(context["text"]), context["hint"], sub)
