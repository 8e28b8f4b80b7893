"""Balance against worked cases and published inertias."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foamwright.airframe import Basis
from foamwright.balance import (
    balance_span,
    balance_with_pack_at,
    ballast_for,
    ballast_mass,
    lateral_moment,
    pack_for,
    tip_mass,
    two_scale_point,
    weigh,
)
from foamwright.figures import Figure
from tests.handmade import STOCK, airframe, box_mesh, cut, design, given, pack, pack_piece, run
from tests.reference import Reference

MOMENTS = Reference("none", "sums of moments", None, "worked by hand for this project", "derived")
GEOMETRY = Reference("none", "geometry and density", None, "worked for this project", "derived")
PARALLEL = Reference("none", "parallel-axis theorem", None, "worked for this project", "derived")
FOAM_1285 = Reference(
    "not identified", "public script for a 1.285 kg foam model", None, "inertia block"
)
FOAM_1345 = Reference(
    "not identified", "public script for a 1.345 kg, 1.206 m model", None, "inertia block"
)
NACA_TUNNEL = Reference(
    "NACA",
    "Effects of static margin and rotational damping in pitch on longitudinal stability, "
    "free-flight tunnel",
    1944,
    "summary: especially unsteady at 3 % or less",
)
PRACTICE = Reference("none", "static margin bands of model flyers", None, "no source", "practice")

#: Part, mass [kg], x behind the nose [m].
PARTS = (
    ("motor and propeller", 0.085, 0.02),
    ("battery", 0.180, 0.13),
    ("controller", 0.030, 0.11),
    ("receiver", 0.010, 0.25),
    ("wing servos", 0.024, 0.33),
    ("wing", 0.210, 0.345),
    ("fuselage", 0.160, 0.43),
    ("tail servos", 0.024, 0.52),
    ("tail", 0.060, 0.94),
)


def listed_aeroplane():
    return weigh(airframe([given(key, mass, (x, 0.0, 0.0)) for key, mass, x in PARTS]))


@pytest.mark.validation(MOMENTS)
def test_balance_point_of_a_list_of_parts(agrees):
    balance = listed_aeroplane()
    agrees("mass of nine parts [kg]", got=balance.mass, expected=0.783, rel=1e-6)
    agrees("their balance point [m]", got=balance.point[0], expected=0.3179438, rel=1e-6)


@pytest.mark.validation(MOMENTS)
def test_nose_ballast_for_a_target(agrees):
    balance = listed_aeroplane()
    ballast = ballast_for(balance, (), target=0.31, nose_x=0.02, tail_x=0.95)
    assert ballast is not None
    agrees("ballast at the motor [g]", got=1e3 * ballast.mass, expected=21.44828, tol_abs=0.1)


@pytest.mark.validation(MOMENTS)
def test_ballast_form(agrees):
    """m (x - x_t) / (x_t - x_b), and it does what it says."""
    mass = ballast_mass(0.62, point=0.214, target=0.205, at=0.03)
    agrees("nose mass by moments [kg]", got=mass, expected=0.62 * 0.009 / 0.175, rel=1e-12)
    whole = (0.62 * 0.214 + mass * 0.03) / (0.62 + mass)
    agrees("balance point with it [m]", got=whole, expected=0.205, rel=1e-12)


@pytest.mark.validation(MOMENTS)
def test_pack_shift(agrees):
    """720 g, 12 mm behind its target, pack of 165 g."""
    main = pack(mass=Figure(value=0.165))
    rest = given("rest", 0.720 - 0.165, (0.4, 0.0, 0.0))
    balance = weigh(airframe([rest, pack_piece(main)], of=design([main])))
    wanted = pack_for(balance, main, balance.point[0] - 0.012)
    agrees(
        "pack to move forward [mm]",
        got=1e3 * (main.position - wanted),
        expected=52.364,
        rel=1e-3,
    )


@pytest.mark.validation(MOMENTS)
def test_two_scales(agrees):
    """Readings made from a known aeroplane lead back to its balance point."""
    balance = listed_aeroplane()
    front_x, rear_x = 0.25, 0.80
    rear = balance.mass * (balance.point[0] - front_x) / (rear_x - front_x)
    point = two_scale_point(balance.mass - rear, rear, front_x=front_x, rear_x=rear_x)
    agrees("balance point by two scales [m]", got=point, expected=0.3179438, rel=1e-6)


@pytest.mark.validation(MOMENTS)
def test_balance_mark_at_28_percent(agrees):
    """Mean chord 202.6667 mm beginning 29.42919 mm behind the root's leading edge."""
    mac, start = 0.2026667, 0.02942919
    span = balance_span(neutral_point=start + 0.43 * mac, mac=mac, flyer="", has_tail=True)
    agrees(
        "28 % of mac, 15 % ahead of 43 % [mm]",
        got=1e3 * span.forward,
        expected=86.17585,
        tol_abs=0.1,
    )


@pytest.mark.validation(PARALLEL)
def test_inertia_after_moving_the_battery(agrees):
    """1 kg whose 150 g battery goes from 0.1 to 0.3 m ahead of the balance point."""
    main = pack(mass=Figure(value=0.15), size=(1e-4, 1e-4, 1e-4), position=-0.1)
    # The rest balances the battery at x = 0 and makes the whole 0.05 kg m² in pitch.
    rest_x = 0.15 * 0.1 / 0.85
    own = 0.05 - 0.15 * 0.1**2 - 0.85 * rest_x**2
    side = math.sqrt(own * 12.0 / (2.0 * 0.85))
    rest = given("rest", 0.85, (rest_x, 0.0, main.middle[2]), size=(side, side, side))
    balance = weigh(airframe([rest, pack_piece(main)], of=design([main])))
    agrees("pitch inertia before [kg m²]", got=balance.inertia[1, 1], expected=0.05, rel=1e-6)
    moved = balance_with_pack_at(balance, main, -0.3)
    agrees("balance shift forward [m]", got=-moved.point[0], expected=0.03, rel=1e-6)
    # The case is first order: it takes 0.05 + 0.15 (0.3² - 0.1²) - 1.0 * 0.03².
    agrees("pitch inertia after [kg m²]", got=moved.inertia[1, 1], expected=0.0611, rel=1e-6)


@pytest.mark.validation(GEOMETRY)
def test_line_and_sheet_masses(agrees):
    wire = replace(STOCK.rods[0], line_mass=Figure(value=7850.0 * math.pi / 4.0 * 0.0025**2))
    bead = replace(STOCK.glues[0], line_mass=Figure(value=950.0 * math.pi / 4.0 * 0.003**2))
    board = replace(STOCK.sheets[0], weight=Figure(value=0.29708))
    stock = replace(STOCK, rods=(wire,), glues=(bead,), sheets=(board,))
    mesh = box_mesh((0, 0, 0), (1, 1, 1))
    balance = weigh(
        airframe(
            [
                cut("wire", "carbon3", 1.0, mesh, basis=Basis.LENGTH),
                cut("part", "board5", 0.0825, mesh),
            ],
            [run("bead", "hot", [(0, 0, 0), (0, 0.6, 0), (0.4, 0.6, 0)])],
            of=design(stock=stock),
        )
    )
    grams = {entry.key: 1e3 * entry.mass for entry in balance.entries}
    agrees("1 m of 3 mm bead [g]", got=grams["bead"], expected=6.715, rel=1e-3)
    agrees("1 m of 2.5 mm steel wire [g]", got=grams["wire"], expected=38.534, rel=1e-3)
    agrees("0.0825 m² of light board [g]", got=grams["part"], expected=24.509, rel=1e-3)


def gyration(mass, x, y, z):
    return [math.sqrt(value / mass) for value in (x, y, z)]


def plate_aeroplane(mass, moments):
    """A box with the published principal moments: what a real solid of that inertia is."""
    x, y, z = moments
    sides = [math.sqrt(6.0 * (a + b - c) / mass) for a, b, c in ((y, z, x), (z, x, y), (x, y, z))]
    return weigh(airframe([given("all", mass, (0.0, 0.0, 0.0), size=sides)]))


@pytest.mark.validation(FOAM_1285)
def test_radii_of_gyration_of_a_1285_g_model(agrees):
    """The published moments belong to a solid that can exist, and lead back to its radii."""
    balance = plate_aeroplane(1.285, (0.042, 0.029, 0.066))
    radii = gyration(balance.mass, *np.diag(balance.inertia))
    for name, got, expected in zip("xyz", radii, (0.1807894, 0.1502268, 0.2266316), strict=True):
        agrees(f"radius of gyration k{name} [m]", got=got, expected=expected, rel=1e-4)
    x, y, z = np.diag(balance.inertia)
    agrees("flatness Iz/(Ix+Iy)", got=z / (x + y), expected=0.9295775, rel=1e-4)


@pytest.mark.validation(FOAM_1345)
def test_radii_of_gyration_of_a_1345_g_model(agrees):
    balance = plate_aeroplane(1.345, (0.051, 0.078, 0.112))
    radii = gyration(balance.mass, *np.diag(balance.inertia))
    for name, got, expected in zip("xyz", radii, (0.194726, 0.2408165, 0.2885678), strict=True):
        agrees(f"radius of gyration k{name} [m]", got=got, expected=expected, rel=1e-4)
    agrees("kx over span", got=radii[0] / 1.206, expected=0.1614643, rel=1e-4)


@pytest.mark.validation(PRACTICE)
@pytest.mark.parametrize(
    ("flyer", "has_tail", "low", "high"),
    [
        pytest.param("first aeroplane", True, 0.10, 0.15, id="first flights"),
        pytest.param("trainer for the club", True, 0.10, 0.15, id="trainer"),
        pytest.param("sport", True, 0.05, 0.15, id="sport, and its first flights"),
        pytest.param("", False, 0.03, 0.08, id="flying wing"),
    ],
)
def test_static_margin_bands(agrees, flyer, has_tail, low, high):
    """Sport has 5-10 % and first flights 10-15 %, so its span runs from 5 to 15 %."""
    span = balance_span(neutral_point=1.0, mac=1.0, flyer=flyer, has_tail=has_tail)
    agrees("least static margin", got=1.0 - span.aft, expected=low, rel=1e-9)
    agrees("most static margin", got=1.0 - span.forward, expected=high, rel=1e-9)


@pytest.mark.validation(NACA_TUNNEL)
@pytest.mark.parametrize("has_tail", [True, False])
def test_static_margin_never_below_the_unsteady_one(agrees, has_tail):
    span = balance_span(neutral_point=1.0, mac=1.0, flyer="aerobatics", has_tail=has_tail)
    agrees("floor of static margin", got=1.0 - span.aft, expected=0.03, rel=1e-3)


@pytest.mark.validation(MOMENTS)
def test_ten_grams_at_half_a_metre(agrees):
    heavy = given("weight", 0.010, (0.3, 0.5, 0.0))
    balance = weigh(airframe([given("rest", 0.79, (0.3, 0.0, 0.0)), heavy]))
    agrees("rolling moment [N m]", got=lateral_moment(balance), expected=0.04903325, rel=1e-6)
    agrees(
        "weight at the other tip [g]",
        got=1e3 * tip_mass(balance, tip_y=0.5),
        expected=10.0,
        rel=1e-9,
    )
