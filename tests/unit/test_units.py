"""Trade units: every factor against pint, and every refusal in words that help."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.units import KINDS, UnitError, from_unit, parse_quantity, to_unit, unit_names

#: How pint spells our units, where it does so otherwise, and the SI unit of each kind.
PINT_NAMES = {
    "in": "inch",
    "ft": "foot",
    "oz": "avoirdupois_ounce",
    "lb": "avoirdupois_pound",
    "rpm": "revolutions_per_minute",
    "mph": "mile / hour",
    "kn": "knot",
    "min": "minute",
    "h": "hour",
    "mohm": "milliohm",
    "gf": "gram_force",
    "kgf": "kilogram_force",
    "ozf": "ounce_force",
    "C": "dimensionless",
    "%": "percent",
}
SI = {
    "length": "m",
    "mass": "kg",
    "angle": "rad",
    "area": "m**2",
    "areal weight": "kg/m**2",
    "wing loading": "kg/m**2",
    "density": "kg/m**3",
    "line mass": "kg/m",
    "volume": "m**3",
    "speed": "m/s",
    "time": "s",
    "charge": "coulomb",
    "speed constant": "rad/s/V",
    "resistance": "ohm",
    "current": "ampere",
    "voltage": "V",
    "power": "W",
    "force": "N",
    "rating": "dimensionless",
    "fraction": "dimensionless",
}
UNITS = [(kind, unit) for kind in KINDS for unit in unit_names(kind)]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


def _for_pint(unit: str) -> str:
    parts = []
    for part in unit.split("/"):
        name, power = (part[:-1], f"**{part[-1]}") if part[-1] in "23" else (part, "")
        name = PINT_NAMES.get(name, name)
        parts.append(f"({name}){power}")
    return " / ".join(parts)


@pytest.mark.parametrize(("kind", "unit"), UNITS)
def test_every_factor_agrees_with_pint(registry, kind, unit):
    expected = registry.Quantity(1.0, _for_pint(unit)).to(SI[kind]).magnitude
    assert KINDS[kind].units[unit] == pytest.approx(expected, rel=1e-12)


def test_every_kind_is_compared_with_pint():
    assert set(SI) == set(KINDS)


def test_a_unit_has_one_factor_whatever_the_kind():
    factors: dict[str, set[float]] = {}
    for kind in KINDS.values():
        for unit, factor in kind.units.items():
            factors.setdefault(unit, set()).add(factor)
    assert {unit: found for unit, found in factors.items() if len(found) > 1} == {}


def test_other_spellings_lead_to_units_of_the_kind():
    for kind in KINDS.values():
        assert set(kind.spellings.values()) <= set(kind.units)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("7 in", "length", 0.1778),
        ('7"', "length", 0.1778),
        ("1/8 in", "length", 0.003175),
        ("3 1/2 in", "length", 0.0889),
        ("3-1/2 in", "length", 0.0889),
        ("-1/8 in", "length", -0.003175),
        ("+3.5mm", "length", 0.0035),
        (".5 m", "length", 0.5),
        ("1e3 mm", "length", 1.0),
        ("4.2 oz", "mass", 4.2 * 0.45359237 / 16),
        ("31 deg", "angle", math.radians(31)),
        ("31°", "angle", math.radians(31)),
        ("−3°", "angle", math.radians(-3)),
        ("300 g/m²", "areal weight", 0.3),
        ("35 %", "fraction", 0.35),
        ("35%", "fraction", 0.35),
        ("1300 mAh", "charge", 4680.0),
        ("1500 rpm/V", "speed constant", 1500 * 2 * math.pi / 60),
        ("80 mΩ", "resistance", 0.08),
        ("28 dm2", "area", 0.28),
        ("25 C", "rating", 25.0),
        ("20 km/h", "speed", 20 / 3.6),
    ],
)
def test_text_with_its_unit(text, kind, expected):
    assert parse_quantity(text, kind) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("number", "kind", "unit", "expected"),
    [
        (190, "length", "mm", 0.19),
        (7.5, "length", "in", 0.1905),
        ("190", "length", "mm", 0.19),
        (0.35, "fraction", "", 0.35),
        (1300, "charge", "mAh", 4680.0),
        (-2, "angle", "deg", math.radians(-2)),
    ],
)
def test_bare_numbers_take_the_unit_they_are_told(number, kind, unit, expected):
    assert parse_quantity(number, kind, unit) == pytest.approx(expected, rel=1e-12)


def test_round_trade_figures_are_round_in_si():
    # 0.001 cannot be written in binary; multiplying by it would leave crumbs on the plan.
    assert parse_quantity(380, "length", "mm") == 0.38
    assert parse_quantity("35 %", "fraction") == 0.35
    assert parse_quantity("4.8 mm", "length") == 0.0048


@pytest.mark.parametrize(
    ("value", "kind", "unit", "code", "hint"),
    [
        ("18 cmm", "length", "mm", "UNIT-UNKNOWN", 'did you mean "18 cm"?'),
        ("18 MM", "length", "mm", "UNIT-UNKNOWN", 'did you mean "18 mm"?'),
        ("12 oz/ft^2", "wing loading", None, "UNIT-UNKNOWN", 'did you mean "12 oz/ft2"?'),
        ("18 furlongs of some sort", "length", "mm", "UNIT-UNKNOWN", ""),
        ("4 oz", "length", "mm", "UNIT-WRONG-KIND", ""),
        ("3,5 mm", "length", "mm", "NUMBER-COMMA", 'did you mean "3.5 mm"?'),
        ("1,300 mAh", "charge", "mAh", "NUMBER-COMMA", 'write "1300 mAh" or "1.300 mAh"'),
        ("abc", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("mm", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("1/0 in", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("4 ft 3 in", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("9" * 5000, "length", "mm", "NUMBER-UNREADABLE", ""),
        ("nan mm", "length", "mm", "NUMBER-UNREADABLE", ""),
        ("nan", "length", "mm", "NUMBER-NOT-FINITE", ""),
        ("-inf", "length", "mm", "NUMBER-NOT-FINITE", ""),
        (math.inf, "length", "mm", "NUMBER-NOT-FINITE", ""),
        (math.nan, "length", "mm", "NUMBER-NOT-FINITE", ""),
        (10**400, "length", "mm", "NUMBER-NOT-FINITE", ""),
        ("1e400 mm", "length", "mm", "NUMBER-NOT-FINITE", ""),
        (1e30, "length", "mm", "VALUE-TOO-LARGE", ""),
        (True, "length", "mm", "VALUE-TYPE", ""),
        (None, "length", "mm", "VALUE-TYPE", ""),
        ([3], "length", "mm", "VALUE-TYPE", ""),
        (28, "area", None, "UNIT-MISSING", 'write it as text, such as "28 dm2"'),
    ],
)
def test_refusals_name_the_fault_and_the_way_out(value, kind, unit, code, hint):
    with pytest.raises(UnitError) as caught:
        parse_quantity(value, kind, unit)
    assert caught.value.code == code
    assert caught.value.hint == hint
    assert caught.value.text.endswith(".")


@given(st.sampled_from(UNITS), st.floats(-1e6, 1e6))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_there_and_back_again(kind_and_unit, number):
    kind, unit = kind_and_unit
    value = parse_quantity(number, kind, unit)
    assert to_unit(value, unit) == pytest.approx(number, rel=1e-12, abs=1e-300)
    assert from_unit(number, unit) == value


@given(st.text(max_size=80), st.sampled_from(list(KINDS)))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_any_text_is_a_finite_number_or_a_unit_error(text, kind):
    try:
        value = parse_quantity(text, kind, unit_names(kind)[0])
    except UnitError:
        return
    assert math.isfinite(value)
