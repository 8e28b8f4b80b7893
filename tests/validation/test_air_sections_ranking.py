"""What the record says of sections without giving numbers, and of angles beyond the stall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.air.sections import (
    Make,
    Nose,
    SectionPolar,
    SectionShape,
    profile_shape,
    section_polar,
    shape_polar,
)
from foamwright.design.model import (
    Face,
    FlatSection,
    SheetKind,
    SheetStock,
    StepLayer,
    SteppedSection,
    StiffWay,
    Stock,
)
from foamwright.figures import Figure
from tests.reference import Agrees, Reference

LAITONE = Reference("E. V. Laitone", "Experiments in Fluids 23, 405-409", 1997, "abstract")
CHEN = Reference("W. Chen, L. P. Bernal", "AIAA 2008-316", 2008, "abstract")
LUMSDAINE = Reference(
    "Lumsdaine, Johnson, Fletcher, Peach", "NASA CR, Univ. of Tennessee", 1974, "abstract", "memory"
)
SANDIA = Reference(
    "R. E. Sheldahl, P. C. Klimas", "SAND80-2114", 1981, "NACA 0012, Re 1.6e5", sure="read"
)
CRITZOS = Reference("Critzos, Heyson, Boswinkle", "NACA TN 3361", 1955, "summary")

ALPHA = np.radians(np.arange(-10.0, 20.0, 0.1))


def sheet(camber: float = 0.0) -> SectionPolar:
    x = np.linspace(0.0, 1.0, 41)
    return shape_polar(
        SectionShape(
            make=Make.CURVED if camber else Make.FLAT,
            mean_line=np.stack([x, 4.0 * camber * x * (1.0 - x)], axis=1),
            thickness=0.02,
            lead=0.02,
            tail=0.0,
            nose=Nose.ROUND,
            nose_height=0.02,
            hollow=1.0 if camber else 0.0,
            sheetness=1.0,
        )
    )


def naca_0012() -> SectionPolar:
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 81))
    half = 0.6 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    return shape_polar(profile_shape(np.stack([x, half], axis=1), np.stack([x, -half], axis=1)))


def glide(polar: SectionPolar, reynolds: float) -> float:
    found = polar.coefficients(ALPHA, reynolds=reynolds)
    return float((found.cl / found.cd).max())


@pytest.mark.validation(LAITONE)
@pytest.mark.parametrize("reynolds", [2e4, 3e4, 5e4, 7e4])
def test_arc_plate_is_best_below_70000(reynolds):
    """Greatest lift-drag ratio, and more lift at every positive angle of the tests."""
    arc, flat, thick = sheet(0.05), sheet(), naca_0012()
    assert glide(arc, reynolds) > max(glide(flat, reynolds), glide(thick, reynolds))
    alpha = np.radians(np.arange(0.0, 16.0, 1.0))
    lift = arc.lift(alpha, reynolds=reynolds)
    assert np.all(lift > flat.lift(alpha, reynolds=reynolds))
    assert np.all(lift > thick.lift(alpha, reynolds=reynolds))


def stepped_and_flat() -> tuple[SectionPolar, SectionPolar]:
    """Layer of the same sheet from the nose to mid chord, on 2 % sheet; and the sheet alone."""
    board = SheetStock(
        key="board",
        kind=SheetKind.FOAM,
        says="foam",
        thickness=Figure(value=0.004),
        weight=Figure(value=0.2),
        length=1.0,
        width=1.0,
        count=None,
        stiff=StiffWay.NONE,
        facing="none",
        facing_thickness=0.0,
    )
    stock = Stock(sheets=(board,), tapes=(), glues=(), rods=(), blocks=())
    layer = StepLayer(sheet="board", start=0.0, end=0.5, face=Face.UPPER)
    stepped = SteppedSection(sheet="board", layers=(layer,))
    return (
        section_polar(stepped, chord=0.2, stock=stock),
        section_polar(FlatSection(sheet="board"), chord=0.2, stock=stock),
    )


@pytest.mark.validation(LUMSDAINE)
@pytest.mark.parametrize("reynolds", [1e5, 2e5, 5e5])
def test_stepped_section_glides_worse_than_its_flat_sheet(reynolds):
    """No numbers exist. At Re 6e4 and below ours come out level, within 4 %."""
    stepped, flat = stepped_and_flat()
    assert glide(stepped, reynolds) < glide(flat, reynolds)
    assert any("stepped" in note for note in stepped.notes)


@pytest.mark.validation(CHEN)
@pytest.mark.parametrize("reynolds", [6e4, 1e5, 2e5, 2.5e5])
def test_facets_cost_little(reynolds):
    """Three flat facets above, flat below, 9.2 % thick: drag within 20 % of the smooth section.

    Ours sees the facets in the mean line only, so this says that a faceted mean line of the same
    height does no harm; a crease's own drag is taken to be nothing.
    """
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 161))
    under = np.stack([[0.0, 0.02, 1.0], [0.0, -0.01, 0.0]], axis=1)
    crown = np.stack([[0.0, 0.02, 0.25, 0.6, 1.0], [0.0, 0.032, 0.0832, 0.062, 0.0]], axis=1)
    knots = np.interp(x, crown[:, 0], crown[:, 1])
    smooth = knots.copy()
    for _ in range(60):
        smooth[1:-1] = 0.25 * smooth[:-2] + 0.5 * smooth[1:-1] + 0.25 * smooth[2:]
    smooth *= knots.max() / smooth.max()
    faceted = shape_polar(profile_shape(crown, under))
    rounded = shape_polar(profile_shape(np.stack([x, smooth], axis=1), under))
    cl = np.array([0.4, 0.6, 0.8])
    drags = []
    for polar in (faceted, rounded):
        found = polar.coefficients(ALPHA[:200], reynolds=reynolds)
        drags.append(np.interp(cl, found.cl, found.cd))
    np.testing.assert_allclose(drags[0], drags[1], rtol=0.2)
    assert faceted.clmax(reynolds) > rounded.clmax(reynolds) - 0.08


@pytest.mark.validation(SANDIA)
@pytest.mark.parametrize(
    ("alpha", "cl", "cd"),
    [
        (40.0, 1.035, 0.920),
        (45.0, 1.050, 1.075),
        (60.0, 0.875, 1.470),
        (75.0, 0.500, 1.735),
        (90.0, 0.090, 1.800),
        (105.0, -0.320, 1.700),
        (120.0, -0.670, 1.465),
        (135.0, -0.930, 1.085),
        (170.0, -0.850, 0.140),
        (180.0, 0.0, 0.025),
    ],
)
def test_naca_0012_right_round(agrees: Agrees, alpha, cl, cd):
    """Read second hand; band 0.17 of the force. At 20 to 35 deg ours has up to 0.25 more lift."""
    found = naca_0012().coefficients(np.radians(alpha), reynolds=1.6e5)
    band = 0.17 * np.hypot(cl, cd) + 0.005
    agrees(f"cl at {alpha:g} deg", got=found.cl, expected=cl, tol_abs=band)
    agrees(f"cd at {alpha:g} deg", got=found.cd, expected=cd, tol_abs=band)


@pytest.mark.validation(CRITZOS)
def test_naca_0012_across_and_tail_first(agrees: Agrees):
    """Drag at 90 deg 2.02 to 2.08 at Re 1.8e6; tail first about twice the drag nose first."""
    found = naca_0012().coefficients(np.radians([0.0, 90.0, 180.0]), reynolds=5e5)
    agrees("drag at 90 deg", got=found.cd[1], expected=2.05, rel=0.10)
    agrees("drag tail first over nose first", got=found.cd[2] / found.cd[0], expected=2.0, rel=0.25)


@pytest.mark.validation(LUMSDAINE)
def test_square_nose_and_step_only_add_drag():
    stepped, _ = stepped_and_flat()
    square = shape_polar(replace(stepped.shape, nose=Nose.SQUARE))
    bare = shape_polar(replace(stepped.shape, steps=()))
    alpha = np.radians(np.arange(-4.0, 9.0))
    drag = stepped.coefficients(alpha, reynolds=1e5).cd
    assert np.all(square.coefficients(alpha, reynolds=1e5).cd > drag)
    assert np.all(bare.coefficients(alpha, reynolds=1e5).cd < drag)
