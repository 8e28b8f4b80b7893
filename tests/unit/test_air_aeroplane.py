"""The lattice of whole designs: every starter in every variant."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.air import (
    LatticeResult,
    Stability,
    lattice_surfaces,
    solve_lattice,
    stability,
    static_margin,
)
from foamwright.airframe import Airframe, build_airframe
from foamwright.design import STARTERS, Control, read_design_text, starter_text

AIRFRAMES = {
    f"{starter}, {design.variant}": build_airframe(design)
    for starter in STARTERS
    for design in read_design_text(starter_text(starter)).variants
}


def finer(airframe: Airframe) -> LatticeResult:
    measures = airframe.reference
    surfaces = tuple(
        replace(surface, strips=2 * surface.strips, rows=6)
        for surface in lattice_surfaces(airframe)
    )
    return solve_lattice(
        surfaces,
        reference_area=measures.area,
        reference_chord=measures.mac,
        reference_span=measures.span,
    )


@pytest.mark.parametrize("name", AIRFRAMES)
def test_every_variant_is_near_its_finer_lattice(name):
    """The goal: 0.3 % of lift slope and 0.5 % of chord with 200 panels or fewer."""
    airframe = AIRFRAMES[name]
    result, fine = stability(airframe), finer(airframe)
    assert isinstance(result, Stability)
    assert result.is_symmetric
    assert result.panels <= 200
    assert result.lift_slope == pytest.approx(fine.lift_slope, rel=1e-3)
    mac = airframe.reference.mac
    assert result.neutral_point == pytest.approx(fine.neutral_point, abs=1e-3 * mac)
    assert result.zero_lift_moment == pytest.approx(
        fine.moment_at_zero - fine.lift_at_zero * fine.moment_slope / fine.lift_slope,
        abs=5e-4,
    )


@pytest.mark.parametrize("name", AIRFRAMES)
def test_every_variant_is_a_likely_aeroplane(name):
    """Bounds that any tailed or tailless model keeps, to catch a slipped unit or sign."""
    airframe = AIRFRAMES[name]
    result = stability(airframe, lateral=True)
    measures = airframe.reference
    behind = (result.neutral_point - measures.mac_leading_edge[0]) / measures.mac
    assert 0.15 < behind < 0.8
    assert 3.0 < result.lift_slope < 6.0
    assert np.radians(-7.0) < result.zero_lift_angle < np.radians(1.0)
    assert result.lateral is not None
    assert result.lateral.roll_sideslip < 0.0 < result.lateral.yaw_sideslip
    assert result.lateral.roll_damping < -0.3


@pytest.mark.parametrize("name", AIRFRAMES)
def test_moments_are_about_the_quarter_of_the_mean_chord(name):
    airframe = AIRFRAMES[name]
    result = stability(airframe)
    measures = airframe.reference
    quarter = measures.mac_leading_edge[0] + 0.25 * measures.mac
    assert result.reference.point[0] == pytest.approx(quarter)
    margin = static_margin(quarter, x_np=result.neutral_point, mac=measures.mac)
    assert float(margin) == pytest.approx(-result.moment_slope / result.lift_slope)


@pytest.mark.parametrize("name", AIRFRAMES)
def test_heights_of_mean_lines_are_square_to_the_panel(name):
    """At a joint the section leans and is stretched by just as much as it leans."""
    airframe = AIRFRAMES[name]
    for shape, surface in zip(airframe.surfaces, lattice_surfaces(airframe), strict=True):
        for panel, given in zip(surface.panels, shape.panels, strict=True):
            for line, station in (
                (panel.root_mean_line, given.root),
                (panel.tip_mean_line, given.tip),
            ):
                assert line[:, 0] == pytest.approx(station.mean_line[:, 0])
                assert line[:, 1] == pytest.approx(station.mean_line[:, 1], rel=5e-3, abs=1e-12)


def test_control_ends_fall_on_strip_edges():
    """So that a control's strips are its own; ends within 3 % of a panel's end do without."""
    seen = 0
    for airframe in AIRFRAMES.values():
        surfaces = {surface.key: surface for surface in lattice_surfaces(airframe)}
        for design_surface in airframe.design.surfaces:
            for control in design_surface.controls:
                assert isinstance(control, Control)
                names = [panel.name for panel in design_surface.panels]
                stations = surfaces[design_surface.key].panels[names.index(control.panel)].stations
                inside = {at for at in (control.start, control.end) if 0.03 < at < 0.97}
                assert inside <= set(stations)
                seen += len(inside)
    assert seen > 0
