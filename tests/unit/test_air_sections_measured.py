"""What a maker brings: coordinates and measured polars."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.air.sections import (
    library_polar,
    measured_polar,
    polar_as_known,
    read_coordinates_text,
    read_polar_text,
)
from foamwright.design import ProfiledSection, Stock
from foamwright.design.polarfile import read_polar
from foamwright.errors import DesignFileError, DomainError

TABLE = """# my own section, wind tunnel of the evening class
reynolds, alpha_deg, cl, cd, cm
60000, -4, -0.30, 0.040, -0.05
60000,  0,  0.15, 0.025, -0.06
60000,  4,  0.60, 0.028, -0.06
60000,  8,  0.95, 0.045, -0.05
60000, 12,  1.00, 0.120, -0.09
120000, -4, -0.25, 0.030,
120000,  0,  0.20, 0.018,
120000,  4,  0.65, 0.019,
120000,  8,  1.02, 0.033,
"""
OUTLINE = """My section
100 0
75 5
50 8
25 8.5
10 6
2.5 3
0 0
2.5 -1.5
10 -2
25 -2
50 -1.2
75 -0.5
100 0
"""


def codes(error: pytest.ExceptionInfo[DesignFileError]) -> set[str]:
    return {problem.code for problem in error.value.problems}


def test_coordinates_are_scaled_to_the_chord():
    shape = read_coordinates_text(OUTLINE, file="mine.dat")
    assert shape.thickness == pytest.approx(0.105, abs=0.002)
    assert shape.mean_line[0] == pytest.approx([0.0, 0.0])
    turned = "\n".join(reversed(OUTLINE.splitlines()[1:]))
    other = read_coordinates_text(turned, file="mine.dat")
    np.testing.assert_allclose(other.mean_line, shape.mean_line, atol=1e-12)


def test_readings_come_back():
    shape = read_coordinates_text(OUTLINE, file="mine.dat")
    readings = read_polar_text(TABLE, file="mine.csv")
    polar = measured_polar(readings, shape=shape, name="mine", source="my tunnel")
    found = polar.coefficients(readings.alpha, reynolds=readings.reynolds)
    np.testing.assert_allclose(found.cl, readings.cl, atol=0.03)
    np.testing.assert_allclose(found.cd, readings.cd, rtol=0.12)
    has_moment = np.isfinite(readings.cm)
    np.testing.assert_allclose(found.cm[has_moment], readings.cm[has_moment], atol=0.02)
    assert polar.sources == ("my tunnel",)
    assert polar.reynolds_range == (60000.0, 120000.0)
    assert not polar.coefficients(0.0, reynolds=2e5).within


def test_blends_with_the_general_polar_beyond_the_readings():
    shape = read_coordinates_text(OUTLINE, file="mine.dat")
    readings = read_polar_text(TABLE, file="mine.csv")
    polar = measured_polar(readings, shape=shape, name="mine", source="my tunnel")
    found = polar.coefficients(np.radians([45.0, 90.0, 180.0, -90.0]), reynolds=6e4)
    assert found.cd[1] == pytest.approx(1.9, abs=0.1)
    assert found.cl[0] == pytest.approx(1.1, abs=0.15)
    alpha = np.radians(np.linspace(-30.0, 40.0, 1401))
    assert np.abs(np.diff(polar.lift(alpha, reynolds=6e4))).max() < 0.02


def test_drag_and_moment_may_be_left_out():
    table = "reynolds alpha_deg cl\n" + "".join(f"100000 {a} {0.1 * a}\n" for a in range(-4, 9, 2))
    shape = read_coordinates_text(OUTLINE, file="mine.dat")
    readings = read_polar_text(table, file="mine.txt")
    assert np.all(np.isnan(readings.cd))
    polar = measured_polar(readings, shape=shape, name="mine", source="mine")
    assert polar.lift(np.radians(5.0), reynolds=1e5) == pytest.approx(0.5, abs=0.01)
    assert polar.coefficients(0.0, reynolds=1e5).cd > 0.005


@pytest.mark.parametrize("parting", [",", ";", "\t", "  "])
def test_columns_may_be_parted_in_four_ways(parting):
    rows = [["reynolds", "alpha_deg", "cl", "cd"]]
    rows += [["1e5", str(a), str(0.1 * a), "0.02"] for a in range(5)]
    text = "\ufeff" + "\n".join(parting.join(row) for row in rows)
    assert len(read_polar_text(text, file="t").cl) == 5


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "POLAR-EMPTY"),
        ("# nothing but a remark\n", "POLAR-EMPTY"),
        ("1 2 3\n", "POLAR-HEADING"),
        ("reynolds,alpha_deg\n1,2\n", "POLAR-HEADING"),
        ("reynolds,alpha_deg,cl,cl\n", "POLAR-HEADING"),
        ("reynolds,alpha_deg,cl,drag\n", "POLAR-HEADING"),
        ("reynolds alpha_deg cl\n1e5 2\n", "POLAR-COLUMNS"),
        ("reynolds alpha_deg cl\n1e5 2 high\n", "POLAR-NUMBER"),
        ("reynolds,alpha_deg,cl\n1e5,2,\n", "POLAR-NUMBER"),
        ("reynolds alpha_deg cl\n1e5 2 nan\n", "POLAR-NUMBER"),
        ("reynolds alpha_deg cl\n1e5 200 1\n", "POLAR-RANGE"),
        ("reynolds alpha_deg cl cd\n1e5 2 1 0\n", "POLAR-RANGE"),
        ("reynolds alpha_deg cl\n60 2 1\n", "POLAR-RANGE"),
        ("reynolds alpha_deg cl\n1e5 2 0.2\n1e5 4 0.4\n", "POLAR-FEW"),
        ("reynolds alpha_deg cl\n", "POLAR-FEW"),
    ],
)
def test_a_table_that_cannot_be_used_says_why(text, code):
    if code == "POLAR-FEW" and text.count("\n") == 1:
        with pytest.raises(DesignFileError):
            read_polar_text(text, file="mine.csv")
        return
    with pytest.raises(DesignFileError) as error:
        read_polar_text(text, file="mine.csv")
    assert code in codes(error)
    assert "mine.csv" in str(error.value)


def test_all_problems_come_at_once_with_their_lines():
    text = "reynolds alpha_deg cl\n1e5 2 high\n1e5 300 0.3\n1e5 4\n"
    with pytest.raises(DesignFileError) as error:
        read_polar_text(text, file="mine.csv")
    assert [problem.line for problem in error.value.problems] == [2, 3, 4]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1 0\n0 0\n1 0\n", "COORDINATES-FEW"),
        (OUTLINE + "oops 3\n", "COORDINATES-NUMBER"),
        (OUTLINE + "1 2 3\n", "COORDINATES-NUMBER"),
        (OUTLINE.replace("75 5\n", "75 5\n90 4\n"), "COORDINATES-ORDER"),
        ("\n".join(f"{k / 10} 0" for k in range(12)), "COORDINATES-ORDER"),
        (OUTLINE.replace("75 -0.5", "75 9"), "COORDINATES-CROSSED"),
    ],
)
def test_an_outline_that_cannot_be_used_says_why(text, code):
    with pytest.raises(DesignFileError) as error:
        read_coordinates_text(text, file="mine.dat")
    assert code in codes(error)


def test_no_such_measured_section():
    with pytest.raises(DomainError):
        library_polar("mine")


def test_a_makers_readings_stand_in_for_the_general_polar():
    """A profiled section with readings gives them back; without, the general polar."""
    readings = read_polar(TABLE, file="mine.csv")
    outline = ((1.0, 0.001), (0.5, 0.06), (0.1, 0.05), (0.0, 0.0), (0.1, -0.02), (0.5, -0.02))
    section = ProfiledSection(
        core="white", coordinates=(*outline, (1.0, -0.001)), measured=readings
    )
    known = polar_as_known(section, chord=0.2, stock=Stock())
    plain = polar_as_known(replace(section, measured=None), chord=0.2, stock=Stock())
    reynolds, alpha, lift, *_ = readings.rows[0]
    assert known.coefficients(alpha, reynolds=reynolds).cl == pytest.approx(lift, abs=0.02)
    assert plain.coefficients(alpha, reynolds=reynolds).cl != pytest.approx(lift, abs=1e-6)
    assert known.sources == ("measured: mine.csv",)
