"""Closed meshes and their integrals, against closed forms and an independent library."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
import trimesh

from foamwright.airframe import Mesh, is_closed, mesh_properties
from foamwright.airframe.meshes import (
    grid_area,
    grid_mesh,
    join_meshes,
    mesh_area,
    mesh_volume,
    mirror_mesh,
)
from foamwright.airframe.solids import (
    box_mesh,
    cylinder_mesh,
    ellipsoid_mesh,
    plate_area,
    plate_mesh,
    ring_mesh,
    rod_mesh,
)
from foamwright.errors import DomainError

BENT = np.array([[0.0, 0.0, 0.0], [0.1, 0.0, 0.0], [0.1, 0.1, -0.05], [0.2, 0.1, -0.1]])
PLATE = ((0.0, 0.0), (0.3, 0.0), (0.35, 0.2), (0.1, 0.25))
HOLES = (((0.1, 0.05), (0.2, 0.05), (0.15, 0.1)), ((0.2, 0.12), (0.25, 0.12), (0.25, 0.18)))


def sheet_with_notch() -> Mesh:
    """A plane sheet of 4 x 3 cells with two of them cut out."""
    x, y = np.meshgrid(np.arange(5.0), np.arange(4.0))
    mid = np.stack([x, y, 0.0 * x], axis=-1)
    up = np.array([0.0, 0.0, 0.5])
    cells = np.ones((3, 4), dtype=bool)
    cells[1, 2:] = False
    return grid_mesh(mid + up, mid - up, cells=cells)


SOLIDS = {
    "box": box_mesh((0.1, -0.2, 0.3), (0.2, 0.1, 0.05)),
    "ball": ellipsoid_mesh((0.0, 0.1, 0.0), (0.2, 0.1, 0.06)),
    "cylinder": cylinder_mesh(
        np.array([0.0, 0.0, 0.0]), np.array([0.1, 0.05, 0.02]), diameter=0.03
    ),
    "rod": rod_mesh(BENT, diameter=0.004),
    "tube": rod_mesh(BENT, diameter=0.006, bore=0.004),
    "upright rod": rod_mesh(np.array([[0.0, 0.0, 0.0], [0.0, 0.2, 0.0]]), diameter=0.004),
    "plate": plate_mesh(PLATE, HOLES, low=-0.01, high=0.02),
    "clockwise plate": plate_mesh(PLATE[::-1], HOLES, low=0.0, high=0.005),
    "notched sheet": sheet_with_notch(),
}


@pytest.mark.parametrize("name", SOLIDS)
def test_solids_are_closed_and_look_outward(name):
    mesh = SOLIDS[name]
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert is_closed(mesh)
    assert other.is_watertight
    assert other.is_winding_consistent
    assert mesh_volume(mesh) > 0.0
    assert mesh_volume(mesh) == pytest.approx(other.volume, rel=1e-12)
    assert mesh_area(mesh) == pytest.approx(other.area, rel=1e-12)


def test_integrals_agree_with_an_independent_library_for_many_meshes_at_once():
    meshes = list(SOLIDS.values())
    ours = mesh_properties(meshes)
    for k, mesh in enumerate(meshes):
        other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        assert ours.volume[k] == pytest.approx(other.volume, rel=1e-10)
        assert ours.area[k] == pytest.approx(other.area, rel=1e-10)
        assert ours.centroid[k] == pytest.approx(other.center_mass, abs=1e-12)
        assert ours.inertia[k] == pytest.approx(other.moment_inertia, rel=1e-7, abs=1e-15)


def test_box_has_the_textbook_integrals():
    """V = abc, I_xx = V (b² + c²)/12."""
    a, b, c = 0.2, 0.1, 0.05
    found = mesh_properties([box_mesh((1.0, 2.0, 3.0), (a, b, c))])
    volume = a * b * c
    assert found.volume[0] == pytest.approx(volume, rel=1e-12)
    assert found.centroid[0] == pytest.approx([1.0, 2.0, 3.0], abs=1e-14)
    wanted = np.diag([b * b + c * c, a * a + c * c, a * a + b * b]) * volume / 12.0
    assert found.inertia[0] == pytest.approx(wanted, rel=1e-10, abs=1e-18)
    assert found.area[0] == pytest.approx(2.0 * (a * b + b * c + c * a), rel=1e-12)


def test_far_from_the_origin_nothing_is_lost():
    near = mesh_properties([box_mesh((0.0, 0.0, 0.0), (0.01, 0.02, 0.03))])
    far = mesh_properties([box_mesh((100.0, -50.0, 20.0), (0.01, 0.02, 0.03))])
    assert far.volume == pytest.approx(near.volume, rel=1e-9)
    assert far.second_moment == pytest.approx(near.second_moment, rel=1e-9, abs=1e-16)


def test_no_meshes_give_empty_integrals():
    found = mesh_properties([])
    assert found.volume.shape == (0,)
    assert found.centroid.shape == (0, 3)
    assert found.inertia.shape == (0, 3, 3)


def test_a_mesh_without_volume_keeps_a_finite_centre():
    flat = box_mesh((0.1, 0.2, 0.3), (0.1, 0.1, 0.0))
    found = mesh_properties([flat])
    assert found.volume[0] == 0.0
    assert found.centroid[0] == pytest.approx([0.1, 0.2, 0.3])
    assert np.all(found.second_moment == 0.0)


def test_round_bodies_have_the_true_volume():
    ball = ellipsoid_mesh((0.0, 0.0, 0.0), (0.2, 0.1, 0.06))
    assert mesh_volume(ball) == pytest.approx(math.pi / 6.0 * 0.2 * 0.1 * 0.06, rel=1e-12)
    rod = rod_mesh(np.array([[0.0, 0.0, 0.0], [0.3, 0.0, 0.4]]), diameter=0.006, bore=0.004)
    assert mesh_volume(rod) == pytest.approx(0.5 * math.pi / 4.0 * (0.006**2 - 0.004**2), rel=1e-9)


def test_a_bent_rod_keeps_its_volume():
    """A mitre adds outside what it takes inside."""
    length = float(np.linalg.norm(np.diff(BENT, axis=0), axis=1).sum())
    assert mesh_volume(rod_mesh(BENT, diameter=0.004)) == pytest.approx(
        length * math.pi / 4.0 * 0.004**2, rel=1e-6
    )


def test_a_rod_that_stands_still_or_turns_back_is_refused():
    with pytest.raises(DomainError, match="coincide"):
        rod_mesh(np.zeros((2, 3)), diameter=0.004)
    back = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.01, 0.0]])
    with pytest.raises(DomainError, match="150 degrees"):
        rod_mesh(back, diameter=0.004)


def test_plate_agrees_with_shapely():
    polygon = shapely.Polygon(PLATE, HOLES)
    assert plate_area(PLATE, HOLES) == pytest.approx(polygon.area, rel=1e-12)
    plate = plate_mesh(PLATE, HOLES, low=-0.01, high=0.02)
    assert mesh_volume(plate) == pytest.approx(0.03 * polygon.area, rel=1e-12)
    assert mesh_area(plate) == pytest.approx(2.0 * polygon.area + 0.03 * polygon.length, rel=1e-12)


def test_a_grid_with_a_hole_and_a_notch_counts_only_what_is_there():
    mesh = sheet_with_notch()
    assert mesh_volume(mesh) == pytest.approx(10.0)
    assert len(mesh.vertices) == 2 * 20  # every corner still borders a cell
    x, y = np.meshgrid(np.arange(5.0), np.arange(4.0))
    cells = np.ones((3, 4), dtype=bool)
    cells[1, 2:] = False
    assert grid_area(np.stack([x, y, x + 2.0 * y], axis=-1), cells) == pytest.approx(
        10.0 * math.sqrt(1.0 + 1.0 + 4.0)
    )


def test_area_of_a_twisted_patch_agrees_with_fine_triangles():
    u, v = np.meshgrid(np.linspace(0.0, 1.0, 2), np.linspace(0.0, 1.0, 2))
    fine_u, fine_v = np.meshgrid(np.linspace(0.0, 1.0, 301), np.linspace(0.0, 1.0, 301))
    twist = math.tan(math.radians(10.0))

    def patch(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.stack([a, b, twist * a * b], axis=-1)

    assert grid_area(patch(u, v)) == pytest.approx(grid_area(patch(fine_u, fine_v)), rel=2e-6)


def test_open_doubled_and_turned_meshes_are_not_closed():
    box = SOLIDS["box"]
    open_box = Mesh(vertices=box.vertices, faces=box.faces[1:])
    twice = Mesh(vertices=box.vertices, faces=np.concatenate([box.faces, box.faces]))
    turned = Mesh(vertices=box.vertices, faces=np.concatenate([box.faces[:1, ::-1], box.faces[1:]]))
    assert not is_closed(open_box)
    assert not is_closed(twice)
    assert not is_closed(turned)
    assert not is_closed(Mesh(vertices=box.vertices, faces=box.faces[:0]))


def test_mirror_and_join():
    tube = SOLIDS["tube"]
    other = mirror_mesh(tube)
    assert is_closed(other)
    assert np.array_equal(other.vertices, tube.vertices * [1.0, -1.0, 1.0])
    assert mesh_volume(other) == pytest.approx(mesh_volume(tube), rel=1e-12)
    both = join_meshes([tube, other])
    assert is_closed(both)
    assert mesh_volume(both) == pytest.approx(2.0 * mesh_volume(tube), rel=1e-12)


def test_ring_mesh_of_a_frustum():
    """V = h/3 (A + B + sqrt(AB)) for a pyramid cut parallel to its base."""
    square = np.array([[0.0, -0.5, -0.5], [0.0, 0.5, -0.5], [0.0, 0.5, 0.5], [0.0, -0.5, 0.5]])
    back = 0.5 * square + [3.0, 0.0, 0.0]
    mesh = ring_mesh(np.stack([square, back]))
    assert is_closed(mesh)
    assert mesh_volume(mesh) == pytest.approx(3.0 / 3.0 * (1.0 + 0.25 + 0.5), rel=1e-12)
