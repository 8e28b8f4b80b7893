"""Section theory against closed forms and exact flows."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.sections import (
    Make,
    Nose,
    SectionShape,
    flap_effect,
    panel_flow,
    shape_polar,
    thin_aerofoil,
)
from foamwright.air.sections.deep import plate_normal_force
from foamwright.air.sections.drag import base_drag, laminar_friction
from tests.reference import Agrees, Reference

GLAUERT = Reference("H. Glauert", "ARC R&M 1095", 1927, "plain flap", sure="computed")
KUTTA = Reference(
    "W. M. Kutta", "Illustr. Aeronaut. Mitt. 6", 1902, "circular arc", sure="computed"
)
CREASE = Reference("", "thin-aerofoil integrals of a folded plate", None, "", sure="computed")
ABBOTT = Reference(
    "Abbott, von Doenhoff", "Theory of Wing Sections", 1959, "mean lines 24, 44", sure="computed"
)
MAPPING = Reference("", "Karman-Trefftz section, conformal mapping", None, "exact", sure="computed")
PANELS = Reference("", "NACA 0012, converged panel solution", None, "", sure="computed")
BLASIUS = Reference("H. Blasius", "plate friction", 1908, "1.328/sqrt(Re)")
HOERNER = Reference("S. F. Hoerner", "Fluid-Dynamic Drag", 1965, "chapter 3", sure="memory")
MATTHEWS = Reference("C. Matthews", "Aeronautical Engineer's Data Book", 2002, "figure 5.13b")
NACA_824 = Reference(
    "Abbott, von Doenhoff, Stivers",
    "NACA Report 824",
    1945,
    "as tabulated in Datcom",
    sure="memory",
)


def four_digit_line(camber: float, at: float, count: int = 401) -> np.ndarray:
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, count))
    ahead = camber / at**2 * (2.0 * at * x - x**2)
    behind = camber / (1.0 - at) ** 2 * (1.0 - 2.0 * at + 2.0 * at * x - x**2)
    return np.stack([x, np.where(x < at, ahead, behind)], axis=1)


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize(
    ("fraction", "tau", "cl", "cm", "ch_alpha", "ch_delta"),
    [
        (0.20, 0.5498, 3.4546, -0.6400, -0.4994, -0.9229),
        (0.25, 0.6090, 3.8264, -0.6495, -0.5653, -0.9436),
        (0.30, 0.6607, 4.1516, -0.6416, -0.6274, -0.9654),
    ],
)
def test_plain_flap(agrees: Agrees, fraction, tau, cl, cm, ch_alpha, ch_delta):
    flap = flap_effect(fraction)
    agrees(f"tau, {fraction:g} flap", got=flap.tau, expected=tau, tol_abs=2e-4)
    agrees(f"cl_delta, {fraction:g} flap", got=flap.cl_delta, expected=cl, rel=2e-4)
    agrees(f"cm_delta, {fraction:g} flap", got=flap.cm_delta, expected=cm, tol_abs=2e-4)
    agrees(f"ch_alpha, {fraction:g} flap", got=flap.ch_alpha, expected=ch_alpha, rel=2e-4)
    agrees(f"ch_delta, {fraction:g} flap", got=flap.ch_delta, expected=ch_delta, rel=2e-4)


@pytest.mark.validation(KUTTA)
@pytest.mark.parametrize(("height", "alpha0"), [(0.02, -2.291), (0.04, -4.574), (0.06, -6.843)])
def test_circular_arc_plate(agrees: Agrees, height, alpha0):
    x = np.linspace(0.0, 1.0, 801)
    thin = thin_aerofoil(np.stack([x, 4.0 * height * x * (1.0 - x)], axis=1))
    agrees(
        f"alpha0 of a {height:g} arc", got=np.degrees(thin.alpha0), expected=alpha0, tol_abs=2e-3
    )
    lift = -2.0 * np.pi * np.tan(thin.alpha0)
    agrees("lift at no incidence", got=lift, expected=4.0 * np.pi * height, rel=1e-4)
    agrees("moment", got=thin.cm_c4, expected=-np.pi * height, rel=1e-4)


@pytest.mark.validation(CREASE)
def test_one_crease(agrees: Agrees):
    thin = thin_aerofoil([[0.0, 0.0], [0.5, 0.05], [1.0, 0.0]])
    agrees("alpha0 [deg]", got=np.degrees(thin.alpha0), expected=-3.648, tol_abs=0.01)
    agrees("moment at no lift", got=thin.cm_c4, expected=-0.1, tol_abs=1e-9)
    agrees("design lift", got=thin.design_cl, expected=0.4, tol_abs=1e-9)
    agrees("ideal incidence", got=thin.ideal_alpha, expected=0.0, tol_abs=1e-12)


@pytest.mark.validation(ABBOTT)
@pytest.mark.parametrize(
    ("camber", "alpha0", "cm", "ideal"),
    [(0.02, -2.077, -0.0531, 0.257), (0.04, -4.154, -0.1062, 0.515)],
)
def test_four_digit_mean_lines(agrees: Agrees, camber, alpha0, cm, ideal):
    thin = thin_aerofoil(four_digit_line(camber, 0.4))
    agrees("alpha0 [deg]", got=np.degrees(thin.alpha0), expected=alpha0, tol_abs=0.02)
    agrees("moment", got=thin.cm_c4, expected=cm, tol_abs=2e-4)
    agrees("ideal incidence [deg]", got=np.degrees(thin.ideal_alpha), expected=ideal, tol_abs=0.005)


@pytest.mark.validation(NACA_824)
def test_zero_lift_of_2412_at_high_reynolds_number(agrees: Agrees):
    thin = thin_aerofoil(four_digit_line(0.02, 0.4))
    agrees("alpha0 of NACA 2412 [deg]", got=np.degrees(thin.alpha0), expected=-2.0, tol_abs=0.3)


@pytest.mark.validation(NACA_824)
@pytest.mark.xfail(strict=True, reason="thin theory's -0.0531 lies 0.0061 off: thickness and wake")
def test_moment_of_2412_at_high_reynolds_number(agrees: Agrees):
    """The measured moment, -0.047, with the band of 0.006 that the case gives it."""
    thin = thin_aerofoil(four_digit_line(0.02, 0.4))
    agrees("moment of NACA 2412", got=thin.cm_c4, expected=-0.047, tol_abs=0.006)


def karman_trefftz(count: int = 321) -> np.ndarray:
    """Circle about -0.08 + 0.06i through 1, trailing edge 15 degrees, scaled to its chord."""
    n, centre = 2.0 - 15.0 / 180.0, -0.08 + 0.06j
    start = np.angle(1.0 - centre)
    circle = centre + abs(1.0 - centre) * np.exp(
        1j * (start + np.linspace(0.0, 2.0 * np.pi, count))
    )
    circle[0] = circle[-1] = 1.0
    up, down = (circle + 1.0) ** n, (circle - 1.0) ** n
    z = n * (up + down) / (up - down)
    low, high = z.real.min(), z.real.max()
    return np.stack([(z.real - low) / (high - low), z.imag / (high - low)], axis=1)


@pytest.mark.validation(MAPPING)
def test_exact_section(agrees: Agrees):
    flow = panel_flow(karman_trefftz(), alpha=np.radians([0.0, 5.0, 8.0]))
    clear = flow.x < 0.98
    for k, (cl, cm, low) in enumerate(
        [(0.3907, -0.0909, -0.711), (1.0021, -0.1031, -1.675), (1.3656, -0.1104, -3.721)]
    ):
        agrees("cl", got=flow.cl[k], expected=cl, rel=0.005)
        agrees("cm", got=flow.cm_c4[k], expected=cm, tol_abs=0.002)
        agrees("lowest pressure", got=flow.cp[k, clear].min(), expected=low, rel=0.02)


@pytest.mark.validation(MAPPING)
@pytest.mark.parametrize(
    ("x", "upper", "cp"),
    [
        (0.878372, False, 0.23588),
        (0.675154, False, 0.15223),
        (0.438141, False, 0.09797),
        (0.220825, False, 0.14094),
        (0.065367, False, 0.45936),
        (0.039409, True, -1.50662),
        (0.165460, True, -1.28788),
        (0.352234, True, -1.07144),
        (0.567625, True, -0.75045),
        (0.774997, True, -0.36217),
        (0.934136, True, 0.02952),
    ],
)
def test_exact_pressures_at_5_degrees(agrees: Agrees, x, upper, cp):
    flow = panel_flow(karman_trefftz(), alpha=np.radians(5.0))
    nose = int(np.argmin(flow.x))
    side = slice(nose, None) if upper else slice(nose, None, -1)
    agrees("cp", got=np.interp(x, flow.x[side], flow.cp[0, side]), expected=cp, tol_abs=0.02)


@pytest.mark.validation(PANELS)
def test_naca_0012_inviscid(agrees: Agrees):
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 161))
    half = 0.6 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    outline = np.concatenate([np.stack([x, half], axis=1)[::-1], np.stack([x, -half], axis=1)[1:]])
    flow = panel_flow(outline, alpha=np.radians([0.0, 1.0, 5.0, 10.0]))
    agrees("cl at 5 deg", got=flow.cl[2], expected=0.603, rel=0.005)
    agrees("cl at 10 deg", got=flow.cl[3], expected=1.2014, rel=0.005)
    agrees("cm at 5 deg", got=flow.cm_c4[2], expected=-0.0069, tol_abs=0.0015)
    agrees("cm at 10 deg", got=flow.cm_c4[3], expected=-0.0135, tol_abs=0.0015)
    slope = (flow.cl[1] - flow.cl[0]) / np.radians(1.0)
    agrees("lift slope [1/rad]", got=slope, expected=6.919, rel=0.005)


@pytest.mark.validation(BLASIUS)
@pytest.mark.parametrize(
    ("reynolds", "friction"),
    [(3e4, 0.00767), (6e4, 0.00542), (1e5, 0.0042), (2e5, 0.00297), (3e5, 0.00242), (1e6, 0.00133)],
)
def test_laminar_friction(agrees: Agrees, reynolds, friction):
    got = laminar_friction(np.array(reynolds))
    agrees(f"friction at Re {reynolds:g}", got=got, expected=friction, rel=0.005)


@pytest.mark.validation(HOERNER)
def test_base_drag(agrees: Agrees):
    """2-D section, chord 200 mm, base 3 mm, forebody drag 0.012."""
    got = base_drag(0.015, forebody=np.array(0.012))
    agrees("base drag on chord", got=got, expected=0.0022, rel=0.05)
    agrees("base drag on its height", got=got / 0.015, expected=0.145, rel=0.03)


@pytest.mark.validation(HOERNER)
@pytest.mark.parametrize(("alpha", "cn"), [(30.0, 1.27), (45.0, 1.61), (60.0, 1.82), (90.0, 1.98)])
def test_plate_beyond_the_stall(agrees: Agrees, alpha, cn):
    agrees("formula", got=plate_normal_force(np.radians(alpha)), expected=cn, rel=0.01)
    plate = SectionShape(
        make=Make.FLAT,
        mean_line=np.array([[0.0, 0.0], [1.0, 0.0]]),
        thickness=0.02,
        lead=0.02,
        tail=0.0,
        nose=Nose.ROUND,
        nose_height=0.02,
        hollow=0.0,
        sheetness=1.0,
    )
    c = shape_polar(plate).coefficients(np.radians(alpha), reynolds=1e5)
    got = c.cl * np.cos(np.radians(alpha)) + c.cd * np.sin(np.radians(alpha))
    agrees("flat plate", got=got, expected=cn, rel=0.08)


@pytest.mark.validation(MATTHEWS)
def test_long_plate_across_the_stream(agrees: Agrees):
    agrees("cn", got=plate_normal_force(np.array(0.5 * np.pi)), expected=1.98, rel=0.01)
