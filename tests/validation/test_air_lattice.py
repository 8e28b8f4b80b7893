"""The lattice against converged lifting-surface theory and against worked examples."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air import LatticeResult, LatticeSurface, lattice_surface, solve_lattice
from tests.reference import Reference

# An own check script of another kind: a plain horseshoe lattice with a quarter-panel tip inset,
# Richardson extrapolation over three or four lattices. It repeats to five digits the accurate
# slopes of square and aspect-ratio-2 wings of E. O. Tuck, J. Austral. Math. Soc. B 35, 1993.
CONVERGED = Reference(
    "own check script", "converged linear lifting-surface theory", None, "planforms", "computed"
)
JORDAN = Reference(
    "P. F. Jordan; E. van Spiegel", "exact series for the circular wing", 1971, "slope", "memory"
)
BERTIN = Reference(
    "J. J. Bertin, M. L. Smith",
    "Aerodynamics for Engineers",
    None,
    "example of a swept wing by the vortex lattice method",
    "memory",
)
WARREN = Reference("NASA SP-405 and lecture notes", "Warren-12 planform", 1976, "slopes", "memory")
JONES = Reference("R. T. Jones", "NACA TR 835", 1946, "slender wings, with lattice", "computed")
SWANSON = Reference(
    "R. S. Swanson, E. L. Priddy", "NACA ARR L5F23", 1945, "Summary: roll damping", "read"
)


def wing(
    aspect: float,
    *,
    taper: float = 1.0,
    sweep: float = 0.0,
    dihedral: float = 0.0,
    twist: float = 0.0,
    pieces: int = 1,
    **counts: int,
) -> tuple[LatticeSurface, float, float]:
    """Wing of mean chord 1: surface, mean aerodynamic chord and x of its leading edge.

    Sweep is of the quarter-chord line, angles in degrees; twist is linear in angle.
    """
    half = 0.5 * aspect
    root = 2.0 / (1.0 + taper)
    y = np.linspace(0.0, half, pieces + 1)
    chord = root * (1.0 - (1.0 - taper) * y / half)
    nose = 0.25 * (root - chord) + np.tan(np.radians(sweep)) * y
    leading = np.column_stack([nose, y, np.tan(np.radians(dihedral)) * y])
    surface = lattice_surface(
        "wing", leading=leading, chord=chord, twist=np.radians(twist) * y / half, **counts
    )
    mac = root * 2.0 / 3.0 * (1.0 + taper + taper**2) / (1.0 + taper)
    mac_y = half / 3.0 * (1.0 + 2.0 * taper) / (1.0 + taper)
    return surface, mac, float(np.interp(mac_y, y, nose))


def solved(surface: LatticeSurface, aspect: float, **more: object) -> LatticeResult:
    return solve_lattice(
        (surface,), reference_area=aspect, reference_chord=1.0, reference_span=aspect, **more
    )


@pytest.mark.validation(CONVERGED)
@pytest.mark.parametrize(
    ("aspect", "slope", "centre"),
    [(2, 2.4744, 0.2093), (6, 4.2147, 0.2388), (8, 4.5861, 0.2420), (10, 4.8385, 0.2438)],
)
def test_rectangular_wing(agrees, aspect, slope, centre):
    """Not the lifting line's 4.53 at aspect ratio 6."""
    result = solved(wing(aspect)[0], aspect)
    agrees(f"lift slope, A {aspect}", got=result.lift_slope, expected=slope, rel=1e-3)
    agrees(f"neutral point, A {aspect}", got=result.neutral_point, expected=centre, tol_abs=5e-4)


@pytest.mark.validation(CONVERGED)
@pytest.mark.parametrize(
    ("aspect", "taper", "sweep", "slope", "centre", "slope_band", "centre_band"),
    [
        pytest.param(8, 0.4, 0, 4.745, 0.2435, 2e-3, 1e-3, id="tapered"),
        pytest.param(4, 0.5, 45, 3.178, 0.269, 3e-3, 7e-3, id="tapered-swept"),
        pytest.param(5, 1.0, 45, 3.185, 0.176, 3e-3, 5e-3, id="swept"),
    ],
)
def test_tapered_and_swept_wings(
    agrees, aspect, taper, sweep, slope, centre, slope_band, centre_band
):
    """Band of the reference set for swept wings: 1 % and 0.01 of chord."""
    surface, mac, nose = wing(aspect, taper=taper, sweep=sweep)
    result = solved(surface, aspect)
    agrees("lift slope", got=result.lift_slope, expected=slope, rel=slope_band)
    behind = (result.neutral_point - nose) / mac
    agrees("neutral point", got=behind, expected=centre, tol_abs=centre_band)


def elliptic(span: float, area: float, *, straight_quarter: bool, strips: int) -> LatticeSurface:
    """Ellipse cut into as many straight panels as it has strips."""
    u = np.linspace(0.0, 1.0, strips + 1)
    y = 0.25 * (1.0 - np.cos(np.pi * u)) + 0.5 * np.sin(0.5 * np.pi * u)
    chord = 4.0 * area / (np.pi * span) * np.sqrt(np.clip(1.0 - y * y, 0.0, None))
    nose = (-0.25 if straight_quarter else -0.5) * chord
    leading = np.column_stack([nose, 0.5 * span * y, np.zeros_like(y)])
    return lattice_surface("wing", leading=leading, chord=chord, strips=strips)


@pytest.mark.validation(JORDAN)
def test_circular_wing(agrees):
    surface = elliptic(2.0, np.pi, straight_quarter=False, strips=16)
    result = solve_lattice(
        (surface,), reference_area=np.pi, reference_chord=1.0, reference_span=2.0
    )
    agrees("lift slope", got=result.lift_slope, expected=1.790023, rel=2e-3)


@pytest.mark.validation(CONVERGED)
def test_elliptic_wing(agrees):
    """Curved tips in straight pieces: 0.25 % low with 16 of them."""
    surface = elliptic(6.0, 6.0, straight_quarter=True, strips=16)
    agrees("lift slope", got=solved(surface, 6.0).lift_slope, expected=4.393, rel=4e-3)


@pytest.mark.validation(SWANSON)
def test_roll_damping_of_an_elliptic_wing(agrees):
    """13 % below the lifting line's -(pi/4) A/(A + 4)."""
    surface = elliptic(6.0, 6.0, straight_quarter=True, strips=16)
    result = solved(surface, 6.0, lateral=True)
    line = -0.25 * np.pi * 6.0 / 10.0
    assert result.lateral is not None
    agrees("share", got=result.lateral.roll_damping / line, expected=0.87, tol_abs=0.01)


@pytest.mark.validation(BERTIN)
def test_textbook_hand_lattice(agrees):
    """Four equal strips, one row: a test of the signs of Biot and Savart, not of accuracy."""
    leading = [(0.0, 0.0, 0.0), (0.5, 0.5, 0.0)]
    surface = lattice_surface(
        "wing", leading=leading, chord=(0.2, 0.2), strips=4, rows=1, uniform=True
    )
    result = solve_lattice((surface,), reference_area=0.2, reference_chord=0.2, reference_span=1.0)
    agrees("lift slope", got=result.lift_slope, expected=1.0963 * np.pi, rel=1e-4)
    circulation = result.loads[0].unit / 2.0 / (4.0 * np.pi)
    for got, expected in zip(circulation, (0.0273, 0.02873, 0.02864, 0.02496), strict=True):
        agrees("circulation", got=got, expected=expected, rel=3e-3)


@pytest.mark.validation(WARREN)
def test_warren_planform(agrees):
    leading = [(0.0, 0.0, 0.0), (1.41421 * np.tan(np.radians(53.54)), 1.41421, 0.0)]
    surface = lattice_surface("wing", leading=leading, chord=(1.5, 0.5))
    result = solve_lattice(
        (surface,), reference_area=2.82843, reference_chord=1.0, reference_span=2.82843
    )
    agrees("lift slope", got=result.lift_slope, expected=2.743, rel=2e-3)
    agrees("moment slope about the apex", got=result.moment_slope, expected=-3.10, rel=1e-2)


@pytest.mark.validation(CONVERGED)
def test_delta_wing(agrees):
    leading = [(0.0, 0.0, 0.0), (2.0, 1.0, 0.0)]
    surface = lattice_surface("wing", leading=leading, chord=(2.0, 0.0))
    result = solve_lattice((surface,), reference_area=2.0, reference_chord=2.0, reference_span=2.0)
    agrees("lift slope", got=result.lift_slope, expected=2.2005, rel=4e-3)
    agrees("neutral point", got=result.neutral_point / 2.0, expected=0.590, tol_abs=5e-3)


@pytest.mark.validation(JONES)
@pytest.mark.parametrize(("aspect", "share"), [(0.25, 0.947), (0.5, 0.902)])
def test_slender_deltas(agrees, aspect, share):
    root = 4.0 / aspect
    leading = [(0.0, 0.0, 0.0), (root, 1.0, 0.0)]
    surface = lattice_surface("wing", leading=leading, chord=(root, 0.0), rows=8)
    result = solve_lattice(
        (surface,), reference_area=root, reference_chord=root, reference_span=2.0
    )
    got = result.lift_slope / (0.5 * np.pi * aspect)
    agrees(f"share of pi A/2, A {aspect}", got=got, expected=share, tol_abs=0.01)


@pytest.mark.validation(CONVERGED)
def test_washout(agrees):
    """Linear in angle, so sixteen ruled pieces; the lifting line says 0.4325."""
    surface, _, _ = wing(8, taper=0.5, twist=-3.0, pieces=16, strips=40)
    result = solved(surface, 8)
    washout = np.radians(3.0)
    agrees("lift slope", got=result.lift_slope, expected=4.728, rel=2e-3)
    got = result.zero_lift_angle / washout
    agrees("root angle at zero lift over washout", got=got, expected=0.4303, tol_abs=0.001)
    lift = result.lift_at_zero + result.lift_slope * np.radians(5.0)
    agrees("lift at 5 degrees", got=lift, expected=0.3061, rel=0.004)


@pytest.mark.validation(CONVERGED)
def test_dihedral_effect(agrees):
    result = solved(wing(6, dihedral=5.0)[0], 6, lateral=True, reference_point=(0.25, 0.0, 0.0))
    assert result.lateral is not None
    agrees("Cl_beta", got=result.lateral.roll_sideslip, expected=-0.0643, rel=0.005)
    agrees("CY_beta", got=result.lateral.side_sideslip, expected=-0.0215, rel=0.02)


@pytest.mark.validation(CONVERGED)
def test_rate_derivatives(agrees):
    result = solved(wing(6)[0], 6, lateral=True, reference_point=(0.25, 0.0, 0.0))
    assert result.lateral is not None
    agrees("Cl_p", got=result.lateral.roll_damping, expected=-0.4402, rel=2e-3)
    agrees("CL_q", got=result.lift_pitch_rate, expected=4.309, rel=2e-3)
    agrees("Cm_q", got=result.moment_pitch_rate, expected=-0.705, rel=3e-3)


def wing_and_tail(setting: float = 0.0) -> tuple[LatticeSurface, LatticeSurface]:
    tail = lattice_surface(
        "tail",
        leading=[(3.1, 0.0, 0.3), (3.1, 1.2, 0.3)],
        chord=(0.6, 0.6),
        twist=(setting, setting),
        strips=10,
    )
    return wing(6)[0], tail


@pytest.mark.validation(CONVERGED)
def test_wing_and_tail(agrees):
    """The tail stands in the wake: this is the neutral point of an aeroplane."""
    setting = 1e-3
    result = solve_lattice(
        wing_and_tail(setting),
        reference_area=6.0,
        reference_chord=1.0,
        reference_span=6.0,
        reference_point=(0.25, 0.0, 0.0),
    )
    agrees("lift slope", got=result.lift_slope, expected=4.78, rel=1e-3)
    agrees("neutral point", got=result.neutral_point, expected=0.573, tol_abs=1e-3)
    agrees("share of the tail", got=result.shares[1].lift_slope, expected=0.531, rel=2e-3)
    agrees("lift by tail setting", got=result.lift_at_zero / setting, expected=0.9175, rel=2e-3)
    agrees("moment by it", got=result.moment_at_zero / setting, expected=-2.577, rel=2e-3)


@pytest.mark.validation(CONVERGED)
@pytest.mark.parametrize(
    ("behind", "above", "expected"),
    [
        (1.5, 0.0, 0.516),
        (3.0, 0.0, 0.408),
        (6.0, 0.0, 0.373),
        (1.5, 0.5, 0.447),
        (3.0, 0.5, 0.365),
        (6.0, 0.5, 0.332),
        (1.5, 1.0, 0.349),
        (3.0, 1.0, 0.312),
        (6.0, 1.0, 0.285),
    ],
)
def test_downwash_behind_a_wing(agrees, behind, above, expected):
    """Felt by a feather: a surface so small that the wing does not notice it."""
    nose = 0.25 + behind - 0.005
    feather = lattice_surface(
        "feather", leading=[(nose, 0.0, above), (nose, 0.01, above)], chord=(0.01, 0.01), strips=4
    )
    measures = {"reference_area": 6.0, "reference_chord": 1.0, "reference_span": 6.0}
    alone = solve_lattice((feather,), **measures).lift_slope
    behind_wing = solve_lattice((wing(6)[0], feather), **measures).shares[1].lift_slope
    got = 1.0 - behind_wing / alone
    agrees(
        f"downwash slope {behind} c behind, {above} c above",
        got=got,
        expected=expected,
        tol_abs=4e-3,
    )


@pytest.mark.validation(CONVERGED)
def test_flap_as_a_crease_in_the_mean_line(agrees):
    """25 % full-span flap: the hinge need not lie on a row, slopes go in as cosine series."""
    deflection = 1e-3
    line = np.array([[0.0, 0.0], [0.75, 0.0], [1.0, -0.25 * deflection]])
    flapped = lattice_surface(
        "wing", leading=[(0.0, 0.0, 0.0), (0.0, 3.0, 0.0)], chord=(1.0, 1.0), mean_line=line
    )
    result = solved(flapped, 6, reference_point=(0.25, 0.0, 0.0))
    lift, moment = result.lift_at_zero / deflection, result.moment_at_zero / deflection
    agrees("CL_delta", got=lift, expected=2.649, rel=2e-3)
    agrees("Cm_delta", got=moment, expected=-0.594, rel=3e-3)
    agrees("alpha_delta", got=lift / result.lift_slope, expected=0.6286, rel=2e-3)
