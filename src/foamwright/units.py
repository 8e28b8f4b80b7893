"""Trade units at the edge: text or a bare number in, SI out, and back again.

The table below is the whole of it: exact factors, by kind. No library of units is used at
run time, because importing one costs 0.3 s and every verb would pay it; instead the tests
compare every factor in the table with pint.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from types import MappingProxyType
from typing import NoReturn

_LONGEST_TEXT = 60
_LARGEST = 1e15  # no quantity of a model aeroplane comes near it, whatever its unit


class UnitError(ValueError):
    """Text or a number that is not a quantity of the wanted kind.

    Attributes
    ----------
    code : str
        Stable code, such as "UNIT-UNKNOWN".
    text : str
        One sentence a beginner understands.
    hint : str
        What to do next; may be empty.
    """

    def __init__(self, code: str, text: str, hint: str = "") -> None:
        self.code = code
        self.text = text
        self.hint = hint
        super().__init__(f"{text} {hint}".rstrip())


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity and the units it takes."""

    name: str  # "length"
    noun: str  # "lengths", as a sentence begins
    units: Mapping[str, float]  # unit to SI, the units that messages offer first
    spellings: Mapping[str, str]  # other ways to write a unit


_INCH = 0.0254
_FOOT = 0.3048
_POUND = 0.45359237
_OUNCE = _POUND / 16.0
_TURN = 2.0 * math.pi
_MILE = 1609.344
_GRAVITY = 9.80665  # standard gravity, defines the gram-force


def _kind(
    name: str, noun: str, units: dict[str, float], spellings: dict[str, str] | None = None
) -> Kind:
    return Kind(name, noun, MappingProxyType(units), MappingProxyType(spellings or {}))


#: Every kind of quantity by name. The first unit of a kind is the one messages suggest.
KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            _kind(
                "length",
                "lengths",
                {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": _INCH, "ft": _FOOT},
                {'"': "in", "″": "in", "inch": "in", "inches": "in"},
            ),
            _kind("mass", "masses", {"g": 1e-3, "kg": 1.0, "oz": _OUNCE, "lb": _POUND}),
            _kind(
                "angle",
                "angles",
                {"deg": math.pi / 180.0, "rad": 1.0},
                {"°": "deg", "degree": "deg", "degrees": "deg"},
            ),
            _kind(
                "area",
                "areas",
                {
                    "dm2": 1e-2,
                    "cm2": 1e-4,
                    "mm2": 1e-6,
                    "m2": 1.0,
                    "in2": _INCH**2,
                    "ft2": _FOOT**2,
                },
                {"sq in": "in2", "sq ft": "ft2"},
            ),
            _kind(
                "areal weight",
                "weights per area",
                {
                    "g/m2": 1e-3,
                    "kg/m2": 1.0,
                    "g/dm2": 0.1,
                    "oz/ft2": _OUNCE / _FOOT**2,
                    "oz/in2": _OUNCE / _INCH**2,
                    "lb/ft2": _POUND / _FOOT**2,
                },
                {"gsm": "g/m2"},
            ),
            _kind(
                "wing loading",
                "wing loadings",
                {
                    "g/dm2": 0.1,
                    "g/m2": 1e-3,
                    "kg/m2": 1.0,
                    "oz/ft2": _OUNCE / _FOOT**2,
                    "oz/in2": _OUNCE / _INCH**2,
                    "lb/ft2": _POUND / _FOOT**2,
                },
                {"oz/sq ft": "oz/ft2"},
            ),
            _kind(
                "density",
                "densities",
                {"kg/m3": 1.0, "g/cm3": 1e3, "lb/ft3": _POUND / _FOOT**3},
            ),
            _kind(
                "line mass",
                "masses per length",
                {"g/m": 1e-3, "kg/m": 1.0, "oz/ft": _OUNCE / _FOOT, "oz/in": _OUNCE / _INCH},
            ),
            _kind("volume", "volumes", {"cm3": 1e-6, "dm3": 1e-3, "m3": 1.0, "in3": _INCH**3}),
            _kind(
                "speed",
                "speeds",
                {
                    "m/s": 1.0,
                    "km/h": 1.0 / 3.6,
                    "mph": _MILE / 3600.0,
                    "ft/s": _FOOT,
                    "kn": 1852.0 / 3600.0,
                },
            ),
            _kind("time", "times", {"s": 1.0, "min": 60.0, "h": 3600.0}),
            _kind("charge", "capacities", {"mAh": 3.6, "Ah": 3600.0}),
            _kind("speed constant", "speed constants", {"rpm/V": _TURN / 60.0, "rad/s/V": 1.0}),
            _kind(
                "resistance",
                "resistances",
                {"ohm": 1.0, "mohm": 1e-3},
                {"\u03a9": "ohm", "\u2126": "ohm", "m\u03a9": "mohm", "m\u2126": "mohm"},
            ),
            _kind("current", "currents", {"A": 1.0, "mA": 1e-3}),
            _kind("voltage", "voltages", {"V": 1.0, "mV": 1e-3}),
            _kind("power", "powers", {"W": 1.0, "kW": 1e3}),
            _kind(
                "force",
                "forces",
                {"N": 1.0, "gf": 1e-3 * _GRAVITY, "kgf": _GRAVITY, "ozf": _OUNCE * _GRAVITY},
            ),
            _kind("rating", "discharge ratings", {"C": 1.0}),
            _kind("fraction", "fractions", {"%": 0.01}),
        )
    }
)

_FACTORS = {name: factor for kind in KINDS.values() for name, factor in kind.units.items()}
_KIND_OF = {name: kind.name for kind in reversed(tuple(KINDS.values())) for name in kind.units}

# Dividing by 1000 rounds right where multiplying by 0.001 does not: "35 %" is 0.35.
_DIVISORS = {10.0**-power: 10.0**power for power in range(1, 10)}

_DECIMAL = re.compile(r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)\s*(.*)")
_FRACTION = re.compile(
    r"([+-]?)(?:([0-9]{1,6})(?:\s+|\s*-\s*))?([0-9]{1,6})\s*/\s*([0-9]{1,6})(.*)"
)
_COMMA = re.compile(r"([0-9]),([0-9]+)")
_SUPERSCRIPTS = str.maketrans({"²": "2", "³": "3", "−": "-", "\u00a0": " ", "\u202f": " "})


def parse_quantity(given: object, kind: str, default_unit: str | None = None) -> float:
    """Return a quantity in SI from text with a unit or from a bare number.

    Parameters
    ----------
    given : object
        Text such as "7 in", "3 1/2 in" or "35 %", or a number in `default_unit`.
    kind : str
        Name of the kind of quantity, a key of `KINDS`.
    default_unit : str, optional
        Unit of a bare number; "" for a bare number that is SI already. Where it is None,
        bare numbers are refused.

    Returns
    -------
    float
        The quantity. [SI unit of the kind; fractions, ratings: -]

    Raises
    ------
    UnitError
        Where it is no such quantity; it says why and what to write instead.
    """
    wanted = KINDS[kind]
    if isinstance(given, str):
        return _from_text(given, wanted, default_unit)
    if isinstance(given, bool) or not isinstance(given, int | float):
        raise UnitError(
            "VALUE-TYPE",
            f"A number is wanted here, or text with a unit, such as {_example(wanted)}.",
        )
    try:
        number = float(given)
    except OverflowError:
        number = math.inf
    return _si(_checked(number), _bare_factor(number, wanted, default_unit))


def to_unit(value: float, unit: str) -> float:
    """Return an SI value in a trade unit.

    Parameters
    ----------
    value : float
        The quantity. [SI unit of its kind]
    unit : str
        Name of the unit, such as "mm", "oz/ft2"; KeyError where there is none.

    Returns
    -------
    float
        The quantity. [`unit`]
    """
    return value / _FACTORS[unit]


def from_unit(value: float, unit: str) -> float:
    """Return a value in a trade unit as SI.

    Parameters
    ----------
    value : float
        The quantity. [`unit`]
    unit : str
        Name of the unit, such as "mm", "oz/ft2"; KeyError where there is none.

    Returns
    -------
    float
        The quantity. [SI unit of its kind]
    """
    return _si(value, _FACTORS[unit])


def unit_names(kind: str) -> tuple[str, ...]:
    """Return the names of the units that a kind takes, the customary one first."""
    return tuple(KINDS[kind].units)


def _si(number: float, factor: float) -> float:
    divisor = _DIVISORS.get(factor)
    return number * factor if divisor is None else number / divisor


# ---------------------------------------------------------------- reading text


def _from_text(text: str, kind: Kind, default_unit: str | None) -> float:
    if len(text) > _LONGEST_TEXT:
        raise UnitError(
            "NUMBER-UNREADABLE",
            f"This text is far too long for a number with a unit, such as {_example(kind)}.",
        )
    plain = text.translate(_SUPERSCRIPTS).strip()
    if _COMMA.search(plain):
        _refuse_comma(plain)
    number, rest = _number_and_rest(plain, kind)
    unit = rest.strip()
    if not unit:
        return _si(_checked(number), _bare_factor(number, kind, default_unit))
    factor = kind.units.get(unit) or kind.units.get(kind.spellings.get(unit, ""))
    if factor is None:
        _refuse_unit(plain[: len(plain) - len(rest)].strip(), unit, kind)
    return _si(_checked(number), factor)


def _number_and_rest(plain: str, kind: Kind) -> tuple[float, str]:
    fraction = _FRACTION.fullmatch(plain)
    if fraction:
        sign, whole, over, under, rest = fraction.groups()
        if int(under) == 0:
            raise UnitError("NUMBER-UNREADABLE", "A fraction cannot be divided by zero.")
        size = int(whole or 0) + int(over) / int(under)
        return (-size if sign == "-" else size), rest
    decimal = _DECIMAL.fullmatch(plain)
    if decimal:
        return float(decimal[1]), decimal[2]
    if plain.casefold().lstrip("+-") in {"nan", "inf", "infinity"}:
        _checked(math.nan)
    raise UnitError(
        "NUMBER-UNREADABLE",
        f"This is not a number with a unit; write it like {_example(kind)}.",
    )


def _bare_factor(number: float, kind: Kind, default_unit: str | None) -> float:
    if default_unit is None:
        units = ", ".join(kind.units)
        first = next(iter(kind.units))
        raise UnitError(
            "UNIT-MISSING",
            f"A bare number does not say its unit here; {kind.noun} take {units}.",
            f'write it as text, such as "{number:g} {first}"',
        )
    return 1.0 if not default_unit else kind.units[default_unit]


def _checked(number: float) -> float:
    if not math.isfinite(number):
        raise UnitError(
            "NUMBER-NOT-FINITE", "Neither infinity nor a “not a number” is of use here."
        )
    if abs(number) > _LARGEST:
        raise UnitError("VALUE-TOO-LARGE", "No number of a model aeroplane is as large as this.")
    return number


def _refuse_comma(plain: str) -> NoReturn:
    found = _COMMA.search(plain)
    point = _COMMA.sub(r"\1.\2", plain, count=1)
    hint = f'did you mean "{point}"?'
    # 1,300 may be thirteen hundred or one and three tenths; only the maker knows.
    if found is not None and len(found[2]) == 3:
        joined = _COMMA.sub(r"\1\2", plain)
        hint = f'write "{joined}" or "{point}"'
    raise UnitError("NUMBER-COMMA", "Decimals take a point here, not a comma.", hint)


def _refuse_unit(number: str, unit: str, kind: Kind) -> NoReturn:
    units = ", ".join(kind.units)
    if any(letter.isdigit() for letter in unit) and " " in unit:
        raise UnitError(
            "NUMBER-UNREADABLE",
            f"One number with one unit is wanted here, such as {_example(kind)}.",
        )
    other = _KIND_OF.get(unit)
    if other is not None:
        raise UnitError(
            "UNIT-WRONG-KIND",
            f'"{unit}" is a unit for {KINDS[other].noun}; {kind.noun} take {units}.',
        )
    near = _nearest_unit(unit, kind)
    raise UnitError(
        "UNIT-UNKNOWN",
        f'The unit "{_printable(unit)}" is unknown; {kind.noun} take {units}.',
        f'did you mean "{number} {near}"?' if near else "",
    )


def _nearest_unit(unit: str, kind: Kind) -> str:
    for name in kind.units:
        if name.casefold() == unit.casefold().rstrip("."):
            return name
    spaced = unit.replace(" per ", "/").replace(" ", "").replace("^", "")
    near = get_close_matches(spaced, kind.units, n=3, cutoff=0.5)
    # Of equally near ones, the one that begins alike: fingers slip at the end of a word.
    near.sort(key=lambda name: name[0] != spaced[0])
    return near[0] if near else ""


def _example(kind: Kind) -> str:
    return f'"12 {next(iter(kind.units))}"'


def _printable(text: str) -> str:
    return "".join(letter if letter.isprintable() else "?" for letter in text)
