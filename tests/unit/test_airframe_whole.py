"""The whole airframe: mirror images, shifts, scales, random designs, planform, reference."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from foamwright.airframe import (
    Airframe,
    Basis,
    Hand,
    PlateSheet,
    RuledSheet,
    build_airframe,
    is_closed,
    mesh_properties,
)
from foamwright.design.model import Along, Design, LineUse, Surface, SurfaceRole
from foamwright.errors import DomainError
from tests import making
from tests.strategies import designs, surfaces

MIRROR = np.array([1.0, -1.0, 1.0])
SHIFT = np.array([0.7, 0.0, -0.3])


def check_mirror_images(airframe: Airframe) -> None:
    """Every left piece and line is its right one with y negated, to the last bit."""
    right = {one.key: one for one in airframe.pieces if one.hand is Hand.RIGHT}
    left = {one.key: one for one in airframe.pieces if one.hand is Hand.LEFT}
    for key, one in left.items():
        other = right[key]
        assert np.array_equal(one.mesh.vertices, other.mesh.vertices * MIRROR), key
        assert np.array_equal(one.mesh.faces, other.mesh.faces[:, ::-1]), key
        assert one.amount == other.amount
        match one.sheet, other.sheet:
            case RuledSheet(), RuledSheet():
                assert np.array_equal(one.sheet.first, other.sheet.first * MIRROR)
                assert np.array_equal(one.sheet.second, other.sheet.second * MIRROR)
                assert one.sheet.folds == other.sheet.folds
            case PlateSheet(), PlateSheet():
                assert np.array_equal(one.sheet.outline, other.sheet.outline * MIRROR)
            case _:
                assert one.sheet is None
                assert other.sheet is None
    lines = {line.key: line for line in airframe.lines if line.hand is Hand.RIGHT}
    for line in airframe.lines:
        if line.hand is Hand.LEFT:
            assert np.array_equal(line.points, lines[line.key].points * MIRROR)


def test_mirror_images_are_exact():
    check_mirror_images(build_airframe(making.full_design()))


def test_arrays_are_read_only():
    airframe = build_airframe(making.full_design())
    arrays = [line.points for line in airframe.lines]
    for one in airframe.pieces:
        arrays += [one.mesh.vertices, one.mesh.faces]
        match one.sheet:
            case RuledSheet(first=first, second=second, holes=holes):
                arrays += [first, second, *holes]
            case PlateSheet(outline=outline, holes=holes):
                arrays += [outline, *holes]
            case _:
                pass
    for shape in airframe.surfaces:
        for panel in shape.panels:
            arrays += [panel.root.leading_edge, panel.root.aft, panel.root.up, panel.root.mean_line]
    for body in airframe.bodies:
        arrays += [body.outside.vertices, body.outside.faces]
    for disc in airframe.discs:
        arrays += [disc.centre, disc.thrust]
    assert not any(array.flags.writeable for array in arrays)


def test_keys_are_unique_with_their_hand():
    airframe = build_airframe(making.full_design())
    keys = [(one.key, one.hand) for one in airframe.pieces]
    assert len(set(keys)) == len(keys)
    assert all(one.title and one.path for one in airframe.pieces)


def shifted(design: Design, dx: float, dz: float) -> Design:
    """Surfaces, box stations and items moved; everything else left out."""

    def move(at: tuple[float, float, float]) -> tuple[float, float, float]:
        return at[0] + dx, at[1], at[2] + dz

    box = making.tapered_box()
    moved = replace(
        box,
        stations=tuple(
            replace(one, x=one.x + dx, bottom=one.bottom + dz, top=one.top + dz)
            for one in box.stations
        ),
        formers=tuple(replace(one, x=one.x + dx) for one in box.formers),
        doublers=tuple(
            replace(one, start=one.start + dx, end=one.end + dx) for one in box.doublers
        ),
        openings=tuple(
            replace(
                one,
                start=one.start + dx,
                end=one.end + dx,
                low=one.low + (dz if one.face.value == "sides" else 0.0),
                high=one.high + (dz if one.face.value == "sides" else 0.0),
            )
            for one in box.openings
        ),
    )
    return making.design(
        surfaces=tuple(replace(one, at=move(one.at)) for one in design.surfaces),
        bodies=(moved,),
        items=tuple(replace(one, at=move(one.at)) for one in design.items),
    )


def test_moving_everything_moves_every_point_and_changes_no_amount():
    here = build_airframe(shifted(making.full_design(), 0.0, 0.0))
    there = build_airframe(shifted(making.full_design(), 0.7, -0.3))
    for one, other in zip(here.pieces, there.pieces, strict=True):
        assert one.key == other.key
        assert other.mesh.vertices == pytest.approx(one.mesh.vertices + SHIFT, abs=1e-12)
        assert np.array_equal(one.mesh.faces, other.mesh.faces)
        assert other.amount == pytest.approx(one.amount, rel=1e-9)
    assert there.reference.area == here.reference.area
    assert there.reference.mac_leading_edge == pytest.approx(
        np.add(here.reference.mac_leading_edge, (0.7, 0.0, -0.3))
    )
    assert there.reference.tail_volume == pytest.approx(here.reference.tail_volume)


@pytest.mark.parametrize("kind", making.SECTIONS)
def test_areas_grow_with_the_square_and_volumes_with_the_cube(kind):
    section = making.SECTIONS[kind]
    big_section = (
        replace(section, depth=2 * section.depth, nose_height=2 * section.nose_height)
        if kind == "folded"
        else section
    )
    stock = making.stock()
    big_stock = replace(
        stock,
        sheets=tuple(
            replace(one, thickness=replace(one.thickness, value=2 * one.thickness.value))
            for one in stock.sheets
        ),
    )
    panel = making.panel(section=section, sweep=10.0, dihedral=5.0, tip_chord=0.15, tip_twist=-2.0)
    big_panel = replace(
        panel,
        length=2 * panel.length,
        root_chord=2 * panel.root_chord,
        tip_chord=2 * panel.tip_chord,
        root_section=big_section,
        tip_section=big_section,
    )
    flap = making.control()
    big_flap = replace(flap, start_chord=0.08, end_chord=0.08, gap=0.002)
    small = build_airframe(
        making.design(surfaces=(making.surface(panels=(panel,), controls=(flap,)),))
    )
    big = build_airframe(
        making.design(
            surfaces=(making.surface(panels=(big_panel,), controls=(big_flap,)),), stock=big_stock
        )
    )
    assert big.reference.area == pytest.approx(4 * small.reference.area)
    assert big.reference.mac == pytest.approx(2 * small.reference.mac)
    for one, other in zip(small.pieces, big.pieces, strict=True):
        power = 8 if one.basis is Basis.VOLUME else 4
        assert other.amount == pytest.approx(power * one.amount, rel=1e-9)
        assert other.mesh.vertices == pytest.approx(2 * one.mesh.vertices, abs=1e-12)


# ---------------------------------------------------------------- random designs


@settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(designs())
def test_random_designs_give_closed_solids_of_the_right_size(design: Design):
    airframe = build_airframe(design)
    found = mesh_properties([one.mesh for one in airframe.pieces])
    for one, volume in zip(airframe.pieces, found.volume, strict=True):
        assert is_closed(one.mesh), one.key
        assert volume > 0.0, one.key
        assert one.basis is Basis.GIVEN or one.amount > 0.0, one.key
        # Mitres of steep short panels and swept spar webs leave up to a seventh.
        if one.sheet is not None:
            assert volume == pytest.approx(one.amount * one.sheet.thickness, rel=0.15), one.key
    for body in airframe.bodies:
        assert is_closed(body.outside)
        assert body.volume > 0.0
        assert body.wetted_area > 0.0
    assert all(line.length > 0.0 for line in airframe.lines)
    check_mirror_images(airframe)


# ---------------------------------------------------------------- planform and reference


def integrated(surface: Surface, *, steps: int = 4000) -> tuple[float, float, np.ndarray]:
    """Projected half area, mac and its leading edge by the midpoint rule."""
    upright = surface.role is SurfaceRole.FIN
    edge = np.array(surface.at)
    area = square = 0.0
    place = np.zeros(3)
    for panel in surface.panels:
        way = np.array([math.tan(panel.sweep), math.cos(panel.dihedral), math.sin(panel.dihedral)])
        share = (np.arange(steps) + 0.5) / steps
        chord = panel.root_chord + share * (panel.tip_chord - panel.root_chord)
        width = panel.length * abs(way[2] if upright else way[1]) / steps
        points = edge + share[:, None] * panel.length * way
        area += float(chord.sum()) * width
        square += float((chord**2).sum()) * width
        place = place + (points * chord[:, None]).sum(axis=0) * width
        edge = edge + panel.length * way
    return area, square / area, place / area


@settings(max_examples=30, deadline=None, derandomize=True, database=None)
@given(surfaces(kind="flat"))
def test_planform_agrees_with_integration(surface: Surface):
    measures = build_airframe(making.design(surfaces=(surface,))).surfaces[0].planform
    area, mac, place = integrated(surface)
    assert measures.projected_area == pytest.approx(2 * area, rel=1e-6)
    assert measures.mac == pytest.approx(mac, rel=1e-6)
    assert measures.mac_leading_edge == pytest.approx(place, rel=1e-5, abs=1e-6)
    assert measures.aspect_ratio == pytest.approx(measures.span**2 / measures.projected_area)


def test_planform_agrees_with_the_points_of_the_stations():
    airframe = build_airframe(making.full_design())
    for shape in airframe.surfaces:
        tip = shape.panels[-1].tip
        assert shape.planform.span == pytest.approx(2 * tip.leading_edge[1])
        half = sum(
            0.5 * (part.root.chord + part.tip.chord)
            * (part.tip.leading_edge[1] - part.root.leading_edge[1])
            for part in shape.panels
        )  # fmt: skip
        assert shape.planform.projected_area == pytest.approx(2 * half)


def test_sweep_goes_aft_along_the_panel():
    panel = making.panel(length=0.4, sweep=30.0, dihedral=20.0)
    shape = build_airframe(making.design(surfaces=(making.surface(panels=(panel,)),))).surfaces[0]
    assert shape.panels[0].tip.leading_edge == pytest.approx(
        [
            0.4 * math.tan(math.radians(30.0)),
            0.4 * math.cos(math.radians(20.0)),
            0.4 * math.sin(math.radians(20.0)),
        ]
    )


def test_twin_fins_are_measured_from_the_side_each_by_its_own_height():
    fin = making.surface(
        "fin",
        role=SurfaceRole.FIN,
        at=(0.8, 0.17, 0.0),
        panels=(making.panel(length=0.15, root_chord=0.1, dihedral=90.0),),
    )
    measures = build_airframe(making.design(surfaces=(making.surface(), fin))).surfaces[1].planform
    assert measures.projected_area == pytest.approx(2 * 0.015)
    assert measures.span == pytest.approx(0.15)
    assert measures.aspect_ratio == pytest.approx(1.5)


def test_the_reference_is_the_wing_with_the_largest_area():
    small = making.surface("lower", panels=(making.panel(length=0.3),))
    airframe = build_airframe(making.design(surfaces=(small, making.surface("upper"))))
    assert airframe.reference.surface == "upper"
    assert airframe.reference.area == pytest.approx(0.2)
    assert airframe.reference.tail_volume is None
    assert airframe.reference.fin_volume is None
    assert airframe.reference.wetted_area == pytest.approx(2 * (0.2 + 0.12))


def test_an_aeroplane_without_a_wing_is_refused():
    tail = making.surface("tail", role=SurfaceRole.TAILPLANE)
    with pytest.raises(DomainError, match='role = "wing"'):
        build_airframe(making.design(surfaces=(tail,)))


def test_a_wing_on_edge_has_no_area_from_above():
    wing = making.surface(mirrored=False, panels=(making.panel(dihedral=-90.0),))
    upright = replace(wing, role=SurfaceRole.FIN, panels=(making.panel(dihedral=0.0),))
    with pytest.raises(DomainError, match="seen from the side"):
        build_airframe(making.design(surfaces=(upright,)))


def test_tail_volumes():
    """V_H = S_h l / (S c), V_V = S_v l / (S b), quarter point to quarter point."""
    tail = making.surface(
        "tail",
        role=SurfaceRole.TAILPLANE,
        at=(0.8, 0.0, 0.0),
        panels=(making.panel(length=0.2, root_chord=0.1),),
    )
    fin = making.surface(
        "fin",
        role=SurfaceRole.FIN,
        at=(0.8, 0.0, 0.0),
        mirrored=False,
        panels=(making.panel(length=0.15, root_chord=0.12, dihedral=90.0),),
    )
    reference = build_airframe(making.design(surfaces=(making.surface(), tail, fin))).reference
    wing_quarter = 0.25 * 0.2
    assert reference.tail_volume == pytest.approx(0.04 * (0.8 + 0.025 - wing_quarter) / (0.2 * 0.2))
    assert reference.fin_volume == pytest.approx(0.018 * (0.8 + 0.03 - wing_quarter) / (0.2 * 1.0))


def test_a_v_tail_counts_for_both_by_the_squares():
    """S cos² G for pitch and S sin² G for yaw, NACA Report 823."""
    tail = making.surface(
        "tail",
        role=SurfaceRole.V_TAIL,
        at=(0.8, 0.0, 0.0),
        panels=(making.panel(length=0.2, root_chord=0.1, dihedral=35.0),),
    )
    reference = build_airframe(making.design(surfaces=(making.surface(), tail))).reference
    arm, angle = 0.8 + 0.025 - 0.05, math.radians(35.0)
    assert reference.tail_volume == pytest.approx(0.04 * math.cos(angle) ** 2 * arm / 0.04)
    assert reference.fin_volume == pytest.approx(0.04 * math.sin(angle) ** 2 * arm / 0.2)


def test_every_along_of_a_surface_is_known():
    uses = tuple(LineUse(use="tape", along=along, runs=1) for along in Along)
    wing = making.surface(
        panels=(making.panel(section=making.FOLDED),), controls=(making.control(),), lines=uses
    )
    named = {
        line.key.split(".")[-2].split("-2")[0]
        for line in build_airframe(making.design(surfaces=(wing,))).lines
    }
    assert {"leading-edge", "trailing-edge", "tips", "joints", "creases", "hinges", "spar"} <= named


def test_panels_follow_each_other():
    shape = build_airframe(making.full_design()).surfaces[0]
    for one, other in pairwise(shape.panels):
        assert np.array_equal(one.tip.leading_edge, other.root.leading_edge)
