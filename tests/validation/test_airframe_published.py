"""Planform and dihedral geometry against worked cases."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foamwright.airframe import RuledSheet, build_airframe
from tests import making
from tests.reference import Agrees, Reference

TRAPEZOID = Reference(
    "closed forms",
    "mean aerodynamic chord of a straight-tapered wing",
    None,
    "c = 2/3 cr (1 + l + l²)/(1 + l)",
    "derived",
)
DELTA = Reference(
    "closed forms", "mean aerodynamic chord of a delta wing", None, "l = 0", "derived"
)
DIHEDRAL = Reference(
    "trigonometry", "rise and bevel of a dihedral joint", None, "L sin G", "derived"
)


@pytest.mark.validation(TRAPEZOID)
def test_mac_of_a_tapered_swept_wing(agrees: Agrees):
    """Span 1.2 m, chords 0.24 and 0.16 m, leading edge swept 6 degrees."""
    panel = making.panel(length=0.6, root_chord=0.24, tip_chord=0.16, sweep=6.0)
    airframe = build_airframe(making.design(surfaces=(making.surface(panels=(panel,)),)))
    measures = airframe.surfaces[0].planform
    agrees("area [m²]", got=measures.projected_area, expected=0.24, rel=1e-5)
    agrees("mac [m]", got=measures.mac, expected=0.2026667, rel=1e-5)
    agrees("y of mac [m]", got=measures.mac_leading_edge[1], expected=0.28, rel=1e-5)
    agrees("x of mac [m]", got=measures.mac_leading_edge[0], expected=0.02942919, rel=1e-5)
    agrees("aspect ratio", got=measures.aspect_ratio, expected=6.0, rel=1e-5)


@pytest.mark.validation(DELTA)
def test_mac_of_a_delta_wing(agrees: Agrees):
    """Span 0.9 m, root 0.6 m, tip without chord."""
    panel = making.panel(length=0.45, root_chord=0.6, tip_chord=0.0)
    airframe = build_airframe(making.design(surfaces=(making.surface(panels=(panel,)),)))
    measures = airframe.surfaces[0].planform
    agrees("mac [m]", got=measures.mac, expected=0.4, rel=1e-6)
    agrees("y of mac [m]", got=measures.mac_leading_edge[1], expected=0.15, rel=1e-6)


@pytest.mark.validation(DIHEDRAL)
def test_rise_and_root_bevel_of_a_two_panel_wing(agrees: Agrees):
    """Panels of 600 mm, 5 degrees each, sheet of 6 mm."""
    stock = making.stock(sheets=(making.sheet("board", 0.006, 0.3),))
    panel = making.panel(length=0.6, dihedral=5.0)
    airframe = build_airframe(
        making.design(surfaces=(making.surface(panels=(panel,)),), stock=stock)
    )
    shape = airframe.surfaces[0].panels[0]
    agrees("tip rise [mm]", got=1e3 * shape.tip.leading_edge[2], expected=52.29345, tol_abs=0.05)
    agrees("half span [mm]", got=1e3 * shape.tip.leading_edge[1], expected=597.7168, tol_abs=0.05)
    bevel = math.degrees(math.acos(1.0 / shape.root.stretch))
    agrees("root bevel [deg]", got=bevel, expected=5.0, tol_abs=1e-9)
    skin = next(one for one in airframe.pieces if one.key == "wing.half.skin")
    assert isinstance(skin.sheet, RuledSheet)
    way = np.array([0.0, math.cos(math.radians(5.0)), math.sin(math.radians(5.0))])
    root = skin.mesh.vertices[np.abs(skin.mesh.vertices[:, 1]) < 1e-9] @ way
    agrees(
        "cut back of one face [mm]",
        got=1e3 * float(root.max() - root.min()),
        expected=0.524932,
        tol_abs=0.05,
    )


@pytest.mark.validation(DIHEDRAL)
def test_rise_and_bevel_of_a_polyhedral_wing(agrees: Agrees):
    """400 mm at 4 degrees, then 250 mm at 12 degrees to the horizontal."""
    panels = (
        making.panel("inner", length=0.4, dihedral=4.0),
        making.panel("outer", length=0.25, dihedral=12.0),
    )
    airframe = build_airframe(making.design(surfaces=(making.surface(panels=panels),)))
    inner, outer = airframe.surfaces[0].panels
    agrees("tip rise [mm]", got=1e3 * outer.tip.leading_edge[2], expected=79.88051, tol_abs=0.05)
    bevel = math.degrees(math.acos(1.0 / outer.root.stretch))
    agrees("bevel of each face [deg]", got=bevel, expected=4.0, tol_abs=1e-9)
    joint = math.degrees(outer.dihedral - inner.dihedral)
    agrees("joint angle [deg]", got=joint, expected=8.0, tol_abs=1e-9)
