"""The catalogue against the figures it is drawn from."""

from __future__ import annotations

import re

import pytest

from foamwright.design.catalogue import load_catalogue
from tests.reference import Agrees, Reference

CATALOGUE = load_catalogue()


def number(kind: str, name: str, key: str) -> float:
    """Return the number of a text with a unit, in that unit."""
    found = re.match(r"[\d.]+", str(CATALOGUE.entry(kind, name)[key]))
    assert found
    return float(found[0])


def scatter(kind: str, name: str, key: str) -> float:
    return number(kind, name, key + "_scatter") / 100


LIGHT_BOARD = Reference(
    "hobby article", "Weighed foam boards", None, "20 x 30 x 3/16 in light board, 115 g"
)


@pytest.mark.validation(LIGHT_BOARD)
def test_light_board_and_a_part_of_it(agrees: Agrees) -> None:
    """The entry is rounded to 1 g/m², hence rel=0.1 %."""
    weight = number("sheet", "foam board 5 mm light", "weight")
    area = 20 * 30 * 0.0254**2
    agrees("light board, g/m²", got=weight, expected=115 / area, rel=1e-3)
    agrees("part of 0.0825 m², g", got=weight * 0.0825, expected=24.509, rel=1e-3)


ORDINARY_BOARD = Reference(
    "hobby article", "Weighed foam boards", None, "ordinary board, 0.39 g per square inch"
)


@pytest.mark.validation(ORDINARY_BOARD)
def test_ordinary_board(agrees: Agrees) -> None:
    weight = number("sheet", "foam board 5 mm ordinary", "weight")
    agrees("ordinary board, g/m²", got=weight, expected=0.39 / 0.0254**2, rel=1e-3)


HEAVY_BOARD = Reference(
    "hobby article", "Weighed foam boards", None, "premium board, about 253 g per 20 x 30 in"
)


@pytest.mark.validation(HEAVY_BOARD)
def test_heavy_board(agrees: Agrees) -> None:
    weight = number("sheet", "foam board 5 mm heavy", "weight")
    area = 20 * 30 * 0.0254**2
    agrees("heavy board, g/m²", got=weight, expected=253 / area, rel=1e-3)


BEAD = Reference(
    "common practice", "Hot melt glue at 950 kg/m³", None, "3 mm round bead", sure="memory"
)


@pytest.mark.validation(BEAD)
def test_hot_melt_bead(agrees: Agrees) -> None:
    got = number("glue", "hot melt bead 3 mm", "line_mass")
    agrees("3 mm bead, g/m", got=got, expected=6.715, rel=1e-3)


WIRE = Reference("geometry", "Steel wire at 7850 kg/m³", None, "2.5 mm", sure="derived")


@pytest.mark.validation(WIRE)
def test_music_wire(agrees: Agrees) -> None:
    got = number("rod", "music wire 2.5 mm", "line_mass")
    agrees("2.5 mm wire, g/m", got=got, expected=38.534, rel=1e-3)


TUBE = Reference(
    "supplier page",
    "Technical material specifications, pultruded carbon tube",
    None,
    "density 1500 kg/m³, a minimum",
)


@pytest.mark.validation(TUBE)
def test_carbon_tube_is_not_lighter_than_the_read_minimum(agrees: Agrees) -> None:
    """We take 1550 kg/m³; the read value is a minimum, hence rel=5 %."""
    got = number("rod", "carbon tube 5x3", "line_mass")
    agrees("5x3 tube, g/m", got=got, expected=1500 * 0.7854 * (25 - 9) / 1000, rel=0.05)


PACK_LAW = Reference(
    "own fit",
    "m = 0.7 + 27 C N over 14 read and 9 common-practice packs",
    None,
    "rms 13.6 %, largest 37 %",
    sure="derived",
)


@pytest.mark.validation(PACK_LAW)
@pytest.mark.parametrize(
    ("name", "expected"), [("pack 3-cell 1500 mAh", 122.2), ("pack 4-cell 2200 mAh", 238.3)]
)
def test_pack_law(agrees: Agrees, name: str, expected: float) -> None:
    agrees(f"{name}, g", got=number("pack", name, "mass"), expected=expected, rel=1e-3)


READ_PACKS = Reference(
    "public lists and pages of packs", "Packs with capacity, cells and mass", None, "as read"
)


@pytest.mark.validation(READ_PACKS)
@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("pack 3-cell 1500 mAh", 106.0),
        ("pack 3-cell 1500 mAh", 136.0),
        ("pack 4-cell 1300 mAh", 160.0),
        ("pack 4-cell 2200 mAh", 250.0),
        ("pack 4-cell 1300 mAh high current", 160.0),
        ("pack 4-cell 1300 mAh high current", 190.0),
    ],
)
def test_read_packs_lie_within_the_band(agrees: Agrees, name: str, read: float) -> None:
    """Two sigma of the stated scatter; the 190 g pack is of the high-current kind."""
    got = number("pack", name, "mass")
    agrees(f"{name}, g", got=got, expected=read, tol_abs=2 * got * scatter("pack", name, "mass"))


PACK_DENSITY = Reference(
    "common practice", "Density of lithium polymer packs", None, "1.8 to 2.1 g/cm³", sure="practice"
)


@pytest.mark.validation(PACK_DENSITY)
@pytest.mark.parametrize("name", CATALOGUE.names("pack"))
def test_pack_sizes(agrees: Agrees, name: str) -> None:
    sizes = CATALOGUE.entry("pack", name)["size"]
    assert isinstance(sizes, tuple)
    volume = 1.0
    for size in sizes:
        volume *= float(str(size).removesuffix(" mm")) / 10
    got = number("pack", name, "mass") / volume
    agrees(f"{name}, g/cm³", got=got, expected=1.95, tol_abs=0.15)


READ_CONTROLLERS = Reference(
    "listings, and an open mass budget of a home-built foam-board aeroplane",
    "Speed controllers",
    None,
    "20 A 15 to 19 g, 30 A 32 and 33 g",
)


@pytest.mark.validation(READ_CONTROLLERS)
@pytest.mark.parametrize(
    ("name", "read"),
    [("controller 20 A", 17.0), ("controller 30 A", 32.0), ("controller 30 A", 33.0)],
)
def test_read_controllers_lie_within_the_band(agrees: Agrees, name: str, read: float) -> None:
    got = number("controller", name, "mass")
    band = 2 * got * scatter("controller", name, "mass")
    agrees(f"{name}, g", got=got, expected=read, tol_abs=band)


READ_MOTORS = Reference(
    "open mass budget of a home-built foam-board aeroplane; motor data pages",
    "Motors",
    None,
    "41 g with an 11 g mount; 72 g with mount and leads",
)


@pytest.mark.validation(READ_MOTORS)
@pytest.mark.parametrize("read", [52.0, 72.0])
def test_read_motors_lie_within_the_band(agrees: Agrees, read: float) -> None:
    name = "outrunner 500-900 g class"
    got = number("motor", name, "mass")
    band = 2 * got * scatter("motor", name, "mass")
    agrees(f"{name}, with mount, g", got=got, expected=read, tol_abs=band)


SERVO = Reference(
    "specification pages, and an open mass budget of a home-built foam-board aeroplane",
    "Servo of the 9 g class",
    None,
    "12 g with lead and horn",
)


@pytest.mark.validation(SERVO)
def test_servo_as_installed(agrees: Agrees) -> None:
    agrees("9 g servo, g", got=number("item", "servo 9 g", "mass"), expected=12.0, tol_abs=0.0)


BIRCH = Reference(
    "Finnish Forest Industries Federation",
    "Handbook of Finnish Plywood",
    2007,
    "680 kg/m³",
    sure="memory",
)


@pytest.mark.validation(BIRCH)
@pytest.mark.parametrize(
    ("name", "expected"), [("birch ply 1.5 mm", 1020), ("birch ply 3 mm", 2040)]
)
def test_birch_ply(agrees: Agrees, name: str, expected: float) -> None:
    agrees(f"{name}, g/m²", got=number("sheet", name, "weight"), expected=expected, tol_abs=0.0)


PACKING_TAPE = Reference(
    "supplier pages of polypropylene film",
    "Film of 0.902 to 0.907 g/cm³; build-up 25 to 30 µm and 15 to 22 µm adhesive common practice",
    None,
    "48 mm tape, 2.1 g/m",
    sure="derived",
)


@pytest.mark.validation(PACKING_TAPE)
def test_packing_tape(agrees: Agrees) -> None:
    name = "packing tape 48 mm"
    got = number("tape", name, "weight") * number("tape", name, "width") / 1000
    agrees("48 mm tape, g/m", got=got, expected=2.1, rel=0.02)
