"""Bodies in the wind against exact potential flow, tables and a converged lattice."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.body import (
    WingFlow,
    body_forces,
    body_slopes,
    body_strips,
    carry_over,
    flow_share,
    length_share,
    munk_factor,
    rectangle_mass,
    section_drag,
)
from foamwright.air.body.mass import ellipsoid_masses, elliptic_integrals
from foamwright.air.body.shape import Form, lines_of
from foamwright.air.body.wingflow import vortex_downwash
from tests.making import boom, pod, stock
from tests.reference import Reference

MUNK = Reference("M. M. Munk", "NACA TR 184; Lamb's formulas", 1924, "airship hulls", "memory")
NEWMAN = Reference("J. N. Newman", "Marine Hydrodynamics", 1977, "table 4.3, square", "memory")
BOXES = Reference(
    "own boundary-element solution", "apparent mass of rectangles", None, "", "computed"
)
TABLES = Reference(
    "M. Abramowitz, I. A. Stegun", "Handbook of Mathematical Functions", 1964, "17.1", "memory"
)
MATTHEWS = Reference(
    "C. Matthews", "Aeronautical Engineer's Data Book", 2002, "fig. 5.13(b), p. 95"
)
GLAUERT = Reference(
    "H. Glauert", "The Elements of Aerofoil and Airscrew Theory", 1926, "flat plate", "derived"
)
LATTICE = Reference(
    "converged horseshoe lattice", "centreline of a rectangular wing, A = 6", None, "", "computed"
)
PITTS = Reference(
    "W. C. Pitts, J. N. Nielsen, G. E. Kaattari", "NACA TR 1307", 1957, "K_W, K_B", "memory"
)


@pytest.mark.validation(MUNK)
@pytest.mark.parametrize(
    ("fineness", "expected"),
    [(2, 0.494), (3, 0.682), (4, 0.778), (5, 0.835), (6, 0.872), (8, 0.916), (10, 0.940)],
)
def test_munk_factor_of_ellipsoids(agrees, fineness, expected):
    got = float(munk_factor(fineness))
    agrees(f"k2 - k1 at {fineness}", got=got, expected=expected, tol_abs=0.003)


@pytest.mark.validation(MUNK)
def test_apparent_mass_of_one_ellipsoid(agrees):
    along, across = ellipsoid_masses(6.0)
    agrees("k1", got=along, expected=0.0452, tol_abs=1e-4)
    agrees("k2", got=across, expected=0.9171, tol_abs=1e-4)


@pytest.mark.validation(MUNK)
def test_unstable_moment_of_an_ellipsoid_body(agrees):
    """0.9 m by 0.15 m on 0.24 m² and 0.2 m of chord."""
    lines = lines_of(pod(at=(0.0, 0.0, 0.0), length=0.9, width=0.15, height=0.15), stock=stock())
    slopes = body_slopes(body_strips(lines))
    agrees("dM/dalpha over q", got=slopes.moment, expected=0.01849, rel=0.01)
    agrees("Cm_alpha", got=slopes.moment / (0.24 * 0.2), expected=0.385, rel=0.02)
    agrees("yaw: the same, other sign", got=-slopes.yaw, expected=0.01849, rel=0.01)
    volume = slopes.moment / (2.0 * float(munk_factor(6.0)))
    agrees("volume", got=volume, expected=0.010603, rel=0.005)


@pytest.mark.validation(BOXES)
@pytest.mark.parametrize(
    ("aspect", "expected"),
    [(0.001, 1.0), (0.1, 1.141), (0.25, 1.248), (0.5, 1.364), (1.0, 1.513), (2.0, 1.696)],
)
def test_apparent_mass_of_rectangles(agrees, aspect, expected):
    agrees(f"b/a = {aspect}", got=rectangle_mass(aspect), expected=expected, rel=0.01)


@pytest.mark.validation(NEWMAN)
def test_apparent_mass_of_a_square(agrees):
    agrees("A/a²", got=np.pi * float(rectangle_mass(1.0)), expected=4.754, rel=2e-4)


@pytest.mark.validation(TABLES)
def test_elliptic_integrals(agrees):
    first, second = elliptic_integrals(0.5)
    agrees("K(0.5)", got=first, expected=1.854074677301372, rel=1e-14)
    agrees("E(0.5)", got=second, expected=1.350643881047675, rel=1e-14)


@pytest.mark.validation(MATTHEWS)
@pytest.mark.parametrize(
    ("fineness", "expected"), [(1.0, 0.63), (5.0, 0.74), (10.0, 0.82), (40.0, 0.98), (1e9, 1.2)]
)
def test_cylinders_across_the_wind(agrees, fineness, expected):
    got = float(section_drag(Form.ROUND, along=1.0, across=1.0) * length_share(fineness))
    agrees(f"length {fineness:g}", got=got, expected=expected, rel=0.01)


@pytest.mark.validation(MATTHEWS)
def test_boom_square_to_the_wind(agrees):
    """Ten diameters long, by the forces of the whole body at 90 degrees."""
    lines = lines_of(
        boom(start=(0.0, 0.0, 0.0), end=(0.06, 0.0, 0.0), mirrored=False), stock=stock()
    )
    forces = body_forces(body_strips(lines), alpha=0.5 * np.pi)
    got = float(forces.force[2]) / (0.06 * 0.006)
    agrees("drag on length times width", got=got, expected=0.82, rel=0.01)


@pytest.mark.validation(MATTHEWS)
def test_long_plate_square_to_the_wind(agrees):
    got = float(section_drag(Form.PLATE, along=0.0, across=1.0))
    agrees("long plate", got=got, expected=1.98, rel=0.05)


def _flow(**changes: float) -> WingFlow:
    fields = {
        "mean_chord": 1.0, "span": 6.0, "lift_slope": 4.2147, "tail": 3.25, "downwash": 0.408,
        "zero_lift_angle": 0.0,
    }  # fmt: skip
    edge = np.array([0.0, 3.0])
    return WingFlow(y=edge, leading=np.zeros(2), chord=np.ones(2), **{**fields, **changes})


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize("distance", [0.05, 0.25, 1.0, 3.0])
def test_upwash_ahead_of_an_endless_wing(agrees, distance):
    """Plane flow of a flat plate: 1 + excess is sqrt(1 + c/d). The horseshoe's centre stands
    for an elliptic load, 4/pi of the mean, so that much less lift makes it plane."""
    flow = _flow(span=1e6, lift_slope=2.0 * np.pi * np.pi / 4.0)
    edges = np.array([-distance - 1e-4, -distance + 1e-4])
    got = float(flow_share(edges, y=0.0, flow=flow)[0])
    agrees(f"d = {distance}", got=got, expected=np.sqrt(1.0 + 1.0 / distance), rel=1e-4)


@pytest.mark.validation(LATTICE)
@pytest.mark.parametrize(
    ("distance", "expected"),
    [(0.05, 3.717), (0.1, 2.699), (0.25, 1.837), (0.5, 1.443), (1.0, 1.206), (2.0, 1.080)],
)
def test_upwash_ahead_of_a_wing(agrees, distance, expected):
    edges = np.array([-distance - 1e-4, -distance + 1e-4])
    got = float(flow_share(edges, y=0.0, flow=_flow())[0])
    agrees(f"dbeta/dalpha at d = {distance} c", got=got, expected=expected, rel=0.02)


@pytest.mark.validation(LATTICE)
@pytest.mark.parametrize(("distance", "expected"), [(1.5, 0.516), (3.0, 0.408), (6.0, 0.373)])
def test_downwash_behind_a_wing(agrees, distance, expected):
    got = vortex_downwash(_flow(), distance=distance)
    agrees(f"deps/dalpha at l = {distance} c", got=got, expected=expected, tol_abs=0.015)


@pytest.mark.validation(PITTS)
def test_lift_carried_over(agrees):
    for width, wing, body in ((0.0, 1.0, 0.0), (1.0 - 1e-6, 2.0, 2.0)):
        on_wing, on_body = carry_over(width)
        agrees(f"K_W at {width:g}", got=on_wing, expected=wing, tol_abs=1e-3)
        agrees(f"K_B at {width:g}", got=on_body, expected=body, tol_abs=1e-3)
    on_wing, on_body = carry_over(0.3)
    agrees("sum at 0.3", got=float(on_wing + on_body), expected=1.69, rel=1e-12)
