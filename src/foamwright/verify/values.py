"""Numbers of a case file: read with their unit into SI, and shown again in a unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import cast

import numpy as np
from numpy.typing import NDArray

from foamwright.design.schema.base import Reading
from foamwright.design.schema.fields import bare_unit
from foamwright.design.trouble import Report
from foamwright.units import KINDS, UnitError, parse_quantity, to_unit

Array = NDArray[np.float64]

#: A slope against an angle: bare numbers are per radian, text may say "/deg".
SLOPE = "slope"
_PER = {"/rad": 1.0, "/deg": 180.0 / math.pi}

#: Most values that one expectation may hold.
MOST_VALUES = 200
_LARGEST = 1e15


@dataclass(frozen=True, slots=True)
class Numbers:
    """One number, or a list of them."""

    values: Array  # SI
    is_list: bool


def read_number(given: object, kind: str, reading: Reading) -> float:
    """Return one number in SI.

    Parameters
    ----------
    given : object
        A number, or text with a unit.
    kind : str
        Kind of quantity; "" for a plain number.
    reading : Reading
        Units of bare numbers.

    Raises
    ------
    UnitError
        Where it is no such number.
    """
    if kind == SLOPE and isinstance(given, str):
        for unit, factor in _PER.items():
            if given.rstrip().endswith(unit):
                return factor * _plain(given.rstrip().removesuffix(unit).strip())
        raise UnitError("UNIT-UNKNOWN", 'A slope takes "/rad" or "/deg", such as "0.08 /deg".')
    if kind in ("", SLOPE):
        return _plain(given)
    return parse_quantity(given, kind, bare_unit(kind, reading))


def read_numbers(given: object, kind: str, reading: Reading, report: Report) -> Numbers | None:
    """Return a number or a list of numbers; what is wrong goes to the report.

    Parameters
    ----------
    given : object
        What stands in the file.
    kind : str
        Kind of quantity; "" for plain numbers.
    reading : Reading
        Units of bare numbers.
    report : Report
        Takes the troubles.
    """
    is_list = isinstance(given, list)
    members = cast("list[object]", given) if is_list else [given]
    if not 0 < len(members) <= MOST_VALUES:
        report.say("LIST-LENGTH", f"A list of 1 to {MOST_VALUES} numbers is wanted here.")
        return None
    values: list[float] = []
    for place, member in enumerate(members):
        try:
            values.append(read_number(member, kind, reading))
        except UnitError as error:
            sub = (place,) if is_list else ()
            report.say(error.code, error.text, *sub, hint=error.hint)
    if len(values) < len(members):
        return None
    return Numbers(np.array(values), is_list)


def _plain(given: object) -> float:
    """Return a plain number, also from text: decimals take a point, "%" is understood."""
    if isinstance(given, str):
        return parse_quantity(given, "fraction", "")
    if isinstance(given, bool) or not isinstance(given, int | float):
        raise UnitError("VALUE-TYPE", "A number is wanted here, or a list of numbers.")
    if isinstance(given, int) and given.bit_length() > 60:
        raise UnitError("VALUE-TOO-LARGE", "No number of a check is as large as this.")
    number = float(given)
    if not math.isfinite(number):
        raise UnitError("NUMBER-NOT-FINITE", "Neither infinity nor “not a number” is of use here.")
    if abs(number) > _LARGEST:
        raise UnitError("VALUE-TOO-LARGE", "No number of a check is as large as this.")
    return number


# ---------------------------------------------------------------- showing


def shown_unit(kind: str, unit: str, *, lengths: str, masses: str) -> str:
    """Return the unit a value is shown in: that of bare numbers, else the documented one.

    Parameters
    ----------
    kind : str
        Kind of quantity; "" for plain numbers.
    unit : str
        Unit of plain numbers, as documented.
    lengths, masses : str
        Units of the case.
    """
    if kind in ("", SLOPE):
        return unit
    bare = bare_unit(kind, Reading(lengths=lengths, masses=masses))
    if bare:
        return bare
    known = KINDS[kind].units
    return unit if bare == "" or unit in known else next(iter(known))


def in_unit(value: float, kind: str, unit: str) -> float:
    """Return an SI value in the unit that it is shown in. [`unit`]"""
    return value if kind in ("", SLOPE, "fraction") else to_unit(value, unit)
