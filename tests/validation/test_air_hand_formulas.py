"""Hand formulas against textbook examples and against exact arithmetic."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air import balance_for_margin, lattice_surface, solve_lattice, static_margin
from foamwright.air.handbook import (
    datcom_downwash,
    elliptic_line_slope,
    far_downwash,
    helmbold_slope,
    horseshoe_downwash,
)
from foamwright.air.margins import (
    neutral_point_by_volume,
    tail_lift_arm,
    tail_volume,
    tailed_moment,
)
from foamwright.air.rolling import equivalent_dihedral, strip_dihedral_roll, strip_roll_damping
from tests.reference import Reference

ANDERSON = Reference(
    "J. D. Anderson", "Introduction to Flight", None, "ch. 7 worked examples", "memory"
)
HELMBOLD = Reference(
    "H. B. Helmbold", "in Anderson, Fundamentals of Aerodynamics", 1942, "low A", "memory"
)
NELSON = Reference(
    "R. C. Nelson",
    "Flight Stability and Automatic Control, 2nd ed.",
    1998,
    "Table B.1, NAVION; balance point from memory",
    "read",
)
ROSKAM = Reference(
    "J. Roskam",
    "Airplane Flight Dynamics and Automatic Flight Controls",
    None,
    "App. B, aeroplane A in cruise; coefficients read in a stored listing",
    "read",
)
BALANCE = Reference("derivation", "moment balance of lift increments", None, "", "derived")
DATCOM = Reference("USAF", "Stability and Control Datcom", None, "section 4.4.1", "memory")
HOUGHTON = Reference(
    "E. L. Houghton, N. B. Carruthers",
    "Aerodynamics for Engineering Students",
    None,
    "downwash at a tail, printed 0.42",
    "memory",
)
STRIPS = Reference("derivation", "strip integrals; forms in Nelson, ch. 3", None, "", "derived")

PER_DEG = 180.0 / np.pi


@pytest.mark.validation(ANDERSON)
def test_tail_volume_and_moment_of_a_tailed_model(agrees):
    volume = float(tail_volume(area=0.1, chord=0.1, tail_area=0.02, arm=0.17))
    agrees("tail volume", got=volume, expected=0.34, tol_abs=1e-9)
    moment = tailed_moment(
        wing_moment=-0.032,
        lift_slope=0.08 * PER_DEG,
        tail_slope=0.1 * PER_DEG,
        volume=volume,
        balance_behind=0.11,
        downwash=0.35,
        tail_setting=np.radians(2.7),
    )
    agrees("moment", got=float(moment.at(np.radians(7.88))), expected=-0.045, tol_abs=1e-3)
    agrees("slope per deg", got=float(moment.slope) / PER_DEG, expected=-0.0133, tol_abs=1e-4)
    agrees("moment at zero lift", got=float(moment.zero), expected=0.06, tol_abs=5e-4)
    trim = float(np.degrees(moment.trim_incidence))
    agrees("trim incidence", got=trim, expected=4.5, tol_abs=0.1)


@pytest.mark.validation(ANDERSON)
def test_neutral_point_from_tail_volume(agrees):
    point = float(
        neutral_point_by_volume(wing_centre=0.24, volume=0.34, slope_ratio=1.25, downwash=0.35)
    )
    agrees("neutral point", got=point, expected=0.516, tol_abs=1e-3)
    margin = float(static_margin(0.35, x_np=point, mac=1.0))
    agrees("static margin", got=margin, expected=0.166, tol_abs=1e-3)


@pytest.mark.validation(NELSON)
def test_margin_from_derivatives(agrees):
    point = 0.295 + 0.683 / 4.44
    agrees("neutral point", got=point, expected=0.4488288, rel=1e-6)
    got = float(static_margin(0.295, x_np=point, mac=1.0))
    agrees("static margin", got=got, expected=0.1538288, rel=1e-6)


@pytest.mark.validation(ROSKAM)
def test_margin_of_a_light_aeroplane(agrees):
    point = 0.264 + 0.613 / 4.41
    agrees("neutral point", got=point, expected=0.4030023, rel=1e-6)
    got = float(static_margin(0.264, x_np=point, mac=1.0))
    agrees("static margin", got=got, expected=0.1390023, rel=1e-6)


@pytest.mark.validation(BALANCE)
@pytest.mark.parametrize(
    ("tail_area", "point"), [(0.05, 0.4619818), (0.065, 0.5193476)], ids=["tail", "larger tail"]
)
def test_neutral_point_by_lift_weighting(agrees, tail_area, point):
    """Both forms: lift weighting, and tail volume with the whole aeroplane's slope."""
    wing, tail = helmbold_slope(6.0), helmbold_slope(4.0)
    downwash = far_downwash(wing, aspect_ratio=6.0)
    agrees("downwash", got=float(downwash), expected=0.4805061, rel=1e-6)
    behind = tail_lift_arm(
        area=0.24,
        lift_slope=wing,
        tail_area=tail_area,
        tail_slope=tail,
        arm=0.55,
        downwash=downwash,
        tail_pressure=0.9,
    )
    got = 0.25 + float(behind) / 0.2
    agrees("neutral point", got=got, expected=point, rel=1e-6)
    balance = float(balance_for_margin(0.1, x_np=got * 0.2, mac=0.2)) / 0.2
    agrees("balance point for 10 %", got=balance, expected=point - 0.1, rel=1e-6)
    whole = wing + 0.9 * tail * tail_area / 0.24 * (1.0 - downwash)
    volume = tail_volume(area=0.24, chord=0.2, tail_area=tail_area, arm=0.55)
    again = neutral_point_by_volume(
        wing_centre=0.25, volume=0.9 * volume, slope_ratio=tail / whole, downwash=downwash
    )
    agrees("neutral point by volume", got=float(again), expected=point, rel=1e-6)


@pytest.mark.validation(BALANCE)
def test_tailless_balance_point(agrees):
    """Aerodynamic centre at 25 %, 8 % margin: 17 % of the chord."""
    got = 0.11 + float(balance_for_margin(0.08, x_np=0.25 * 0.28, mac=0.28))
    agrees("balance point behind the nose", got=got, expected=0.1576, rel=1e-9)


@pytest.mark.validation(BALANCE)
def test_moving_the_balance_point(agrees):
    """5 % of chord aft: margin less 0.05, moment slope plus 0.05 lift slope, Cm + 0.05 CL."""
    surface = lattice_surface(
        "wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1), twist=(0.05, 0.05)
    )
    ahead, aft = (
        solve_lattice(
            (surface,),
            reference_area=6.0,
            reference_chord=1.0,
            reference_span=6.0,
            reference_point=(x, 0.0, 0.0),
        )
        for x in (0.20, 0.25)
    )
    got = aft.moment_slope - ahead.moment_slope
    agrees("moment slope", got=got, expected=0.05 * aft.lift_slope, rel=1e-6)
    got = aft.moment_at_zero - ahead.moment_at_zero
    agrees("moment at zero", got=got, expected=0.05 * aft.lift_at_zero, rel=1e-6)
    agrees("neutral point", got=aft.neutral_point, expected=ahead.neutral_point, rel=1e-9)


@pytest.mark.validation(HELMBOLD)
@pytest.mark.parametrize(("aspect", "expected"), [(4, 3.883222), (6, 4.528664), (10, 5.15098)])
def test_helmbold_slope(agrees, aspect, expected):
    agrees(f"slope at {aspect}", got=float(helmbold_slope(aspect)), expected=expected, rel=1e-6)


@pytest.mark.validation(HELMBOLD)
def test_lifting_line_slope(agrees):
    agrees("elliptic, 6", got=float(elliptic_line_slope(6.0)), expected=4.712389, rel=1e-6)


@pytest.mark.validation(DATCOM)
@pytest.mark.parametrize(
    ("aspect", "taper", "length", "height", "expected"),
    [(6, 1, 0.5, 0.0, 0.361), (6, 1, 0.5, 0.1667, 0.290), (8, 0.5, 0.4, 0.1, 0.334)],
)
def test_datcom_downwash(agrees, aspect, taper, length, height, expected):
    got = datcom_downwash(
        aspect_ratio=aspect, taper=taper, sweep=0.0, length=length, height=height, span=1.0
    )
    agrees("downwash slope", got=float(got), expected=expected, tol_abs=1e-3)


@pytest.mark.validation(HOUGHTON)
def test_horseshoe_downwash(agrees):
    got = horseshoe_downwash(4.5, aspect_ratio=6.0, length=2.0 / 3.0, span=1.0)
    agrees("downwash slope", got=float(got), expected=0.418, tol_abs=1e-3)


@pytest.mark.validation(STRIPS)
@pytest.mark.parametrize(
    ("panels", "expected"),
    [
        ([(0, 0.4, 0.2, 0.2, 0), (0.4, 0.65, 0.2, 0.2, 12)], 7.455621),
        ([(0, 0.4, 0.2, 0.2, 4), (0.4, 0.65, 0.2, 0.12, 12)], 8.501139),
    ],
    ids=["bent tips", "tapered polyhedral"],
)
def test_equivalent_dihedral(agrees, panels, expected):
    got = equivalent_dihedral([(*p[:4], np.radians(p[4])) for p in panels])
    agrees("equivalent dihedral", got=np.degrees(got), expected=expected, tol_abs=1e-4)


@pytest.mark.validation(STRIPS)
def test_strip_dihedral_and_roll_damping(agrees):
    got = float(strip_dihedral_roll(4.6, dihedral=np.radians(5.0), taper=1.0))
    agrees("Cl_beta", got=got, expected=-0.1003564, rel=1e-6)
    got = float(strip_roll_damping(4.6, taper=1.0))
    agrees("Cl_p", got=got, expected=-0.7666667, rel=1e-6)
