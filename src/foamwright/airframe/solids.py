"""Solids for rods, boxes, round bodies and plates, as closed meshes."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from typing import cast

import mapbox_earcut  # pyright: ignore[reportMissingImports]
import numpy as np
from numpy.typing import NDArray

from foamwright.airframe.meshes import cross, frozen, frozen_index, grid_faces, mesh_volume
from foamwright.airframe.model import Array, Index, Mesh
from foamwright.design.model import Point, Vec3
from foamwright.errors import DomainError

# The triangulator: corners and where its rings end, to corner numbers three by three.
_Triangulate = Callable[[Array, NDArray[np.uint32]], Index]

# Sides of a rod in the mesh. Its polygon has the area of the circle, so volume is exact and
# the second moment of area is within 1 % (regular octagon of equal area: +0.56 %).
_ROD_SIDES = 8
# Sides of wheels, motors and pods, which are large enough to be looked at.
_ROUND_SIDES = 24
# A bent rod is mitred; beyond this turn the mitre runs far out of the bend.
_LARGEST_BEND = math.radians(150.0)


def box_mesh(centre: Vec3, size: Vec3) -> Mesh:
    """Box with its sides along the axes, by centre and full sizes. [m]"""
    points = np.array(centre) + _BOX_CORNERS * np.array(size)
    return Mesh(vertices=frozen(points), faces=grid_faces(2, 2, b"", False, False)[0])


# In the order of a grid of 2 x 2: rows along y, columns along x, upper face first.
_BOX_CORNERS = 0.5 * np.array(
    [[x, y, z] for z in (1.0, -1.0) for y in (-1.0, 1.0) for x in (-1.0, 1.0)]
)


def ellipsoid_mesh(centre: Vec3, size: Vec3) -> Mesh:
    """Ellipsoid by centre and full axes; the mesh has the volume of the true body. [m]"""
    points, faces = _unit_ball()
    return Mesh(vertices=frozen(np.array(centre) + points * (0.5 * np.array(size))), faces=faces)


@lru_cache(maxsize=1)
def _unit_ball() -> tuple[Array, Index]:
    """Ball of radius 1 along x, enlarged so that the mesh holds 4/3 pi."""
    angle = np.linspace(0.0, math.pi, _ROUND_SIDES // 2 + 1)[1:-1]
    ring = _circle(_ROUND_SIDES)
    rings = np.empty((len(angle), _ROUND_SIDES, 3))
    rings[:, :, 0] = -np.cos(angle)[:, None]
    rings[:, :, 1:] = np.sin(angle)[:, None, None] * ring
    points = np.concatenate([[[-1.0, 0.0, 0.0]], rings.reshape(-1, 3), [[1.0, 0.0, 0.0]]])
    faces = _ring_faces(len(angle), _ROUND_SIDES, capped=False) + 1
    near = np.arange(_ROUND_SIDES)
    after = (near + 1) % _ROUND_SIDES
    last = 1 + (len(angle) - 1) * _ROUND_SIDES
    front = np.stack([np.zeros_like(near), 1 + after, 1 + near], axis=1)
    back = np.stack([np.full_like(near, len(points) - 1), last + near, last + after], axis=1)
    mesh = Mesh(vertices=points, faces=frozen_index(np.concatenate([front, faces, back])))
    scale = (4.0 / 3.0 * math.pi / mesh_volume(mesh)) ** (1.0 / 3.0)
    return frozen(points * scale), mesh.faces


def cylinder_mesh(start: Array, end: Array, *, diameter: float) -> Mesh:
    """Round body between the middles of its two ends; volume of the true cylinder. [m]"""
    return _sweep(np.stack([start, end]), diameter, sides=_ROUND_SIDES)


def rod_mesh(points: Array, *, diameter: float, bore: float = 0.0) -> Mesh:
    """Rod, tube or bent wire along a polyline, mitred at its bends.

    Parameters
    ----------
    points : ndarray, (n, 3)
        Middle line. [m]
    diameter, bore : float
        Outside and inside; bore 0 is solid. [m]

    Returns
    -------
    Mesh
        Closed; its cross-section has the area of the true one. [m]

    Raises
    ------
    DomainError
        Where the line stands still or turns by more than 150 degrees.
    """
    outside = _sweep(points, diameter, sides=_ROD_SIDES)
    if bore <= 0.0:
        return outside
    inside = _sweep(points, bore, sides=_ROD_SIDES)
    return Mesh(
        vertices=frozen(np.concatenate([outside.vertices, inside.vertices])),
        faces=_tube_faces(len(points), _ROD_SIDES),
    )


@lru_cache(maxsize=16)
def _circle(sides: int) -> Array:
    """Regular polygon with the area of the unit circle."""
    angle = 2.0 * math.pi * np.arange(sides) / sides
    scale = math.sqrt(2.0 * math.pi / (sides * math.sin(2.0 * math.pi / sides)))
    return frozen(scale * np.stack([np.cos(angle), np.sin(angle)], axis=1))


def _sweep(points: Array, diameter: float, *, sides: int) -> Mesh:
    """Carry a polygon along a polyline, ring by ring onto the mitre planes."""
    step = np.diff(points, axis=0)
    long = np.sqrt((step * step).sum(axis=1))
    if not np.all(long > 0.0):
        raise DomainError("a rod needs points that differ from each other; two of them coincide")
    step = step / long[:, None]
    across = np.array([0.0, 1.0, 0.0]) if abs(step[0, 1]) < 0.9 else np.array([0.0, 0.0, 1.0])
    first = cross(step[0], across)
    first /= math.sqrt(float(first @ first))
    second = cross(step[0], first)
    ring = points[0] + 0.5 * diameter * (_circle(sides) @ np.stack([first, second]))
    rings = [ring]
    for i, d in enumerate(step):
        plane = d + step[i + 1] if i + 1 < len(step) else d
        lean = float(plane @ d)
        if i + 1 < len(step) and float(d @ step[i + 1]) < math.cos(_LARGEST_BEND):
            raise DomainError(
                "a rod may turn by up to 150 degrees at one point; this one turns more"
            )
        ring = ring + np.outer((points[i + 1] - ring) @ plane / lean, d)
        rings.append(ring)
    return Mesh(
        vertices=frozen(np.concatenate(rings)),
        faces=_ring_faces(len(points), sides, capped=True),
    )


@lru_cache(maxsize=256)
def _ring_faces(rings: int, sides: int, *, capped: bool) -> Index:
    """Faces between rings that turn anticlockwise seen from where the rings come from."""
    near = np.arange(sides)
    after = (near + 1) % sides
    base = (np.arange(rings - 1) * sides)[:, None]
    a, b = (base + near).ravel(), (base + after).ravel()
    c, d = b + sides, a + sides
    parts = [np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)]
    if capped:
        fan = np.stack([np.zeros(sides - 2, int), near[1:-1], near[2:]], axis=1)
        parts += [fan[:, ::-1], fan + (rings - 1) * sides]
    return frozen_index(np.concatenate(parts))


@lru_cache(maxsize=256)
def _tube_faces(rings: int, sides: int) -> Index:
    """Faces of a tube: outer wall, inner wall, a ring at either end."""
    inner = rings * sides
    outer_wall = _ring_faces(rings, sides, capped=False)
    near = np.arange(sides)
    after = (near + 1) % sides
    last = (rings - 1) * sides
    parts = [outer_wall, outer_wall[:, ::-1] + inner]
    for at, turn in ((0, 1), (last, -1)):
        p, q = near + at, after + at
        r, s = p + inner, q + inner
        parts += [np.stack([q, p, r], 1)[:, ::turn], np.stack([q, r, s], 1)[:, ::turn]]
    return frozen_index(np.concatenate(parts))


def ring_mesh(rings: Array) -> Mesh:
    """Mesh a body through convex rings of corners, with a flat cap at either end.

    Parameters
    ----------
    rings : ndarray, (n, k, 3)
        Corners, anticlockwise seen from behind the last ring. [m]

    Returns
    -------
    Mesh
        Closed. [m]
    """
    count, sides = rings.shape[:2]
    return Mesh(
        vertices=frozen(rings.reshape(-1, 3).copy()),
        faces=_ring_faces(count, sides, capped=True),
    )


# ---------------------------------------------------------------- plates


def plate_mesh(
    outline: tuple[Point, ...], holes: tuple[tuple[Point, ...], ...], *, low: float, high: float
) -> Mesh:
    """Upright plate: a polygon in the x z plane with holes, from y = low to y = high. [m]"""
    corners, triangles, rings = _plate_plan(outline, holes)
    count = len(corners)
    points = np.empty((2 * count, 3))
    points[:count, 0::2] = corners
    points[count:, 0::2] = corners
    points[:count, 1] = low
    points[count:, 1] = high
    return Mesh(vertices=frozen(points), faces=_plate_faces(count, triangles, rings))


@lru_cache(maxsize=64)
def _plate_plan(
    outline: tuple[Point, ...], holes: tuple[tuple[Point, ...], ...]
) -> tuple[Array, Index, tuple[int, ...]]:
    """Corners (outline anticlockwise, holes clockwise), triangles and where rings end."""
    rings = [_turn(np.array(outline), 1.0)]
    rings += [_turn(np.array(hole), -1.0) for hole in holes]
    corners = np.concatenate(rings)
    ends = np.cumsum([len(ring) for ring in rings]).astype(np.uint32)
    # The triangulator is a compiled module without type stubs.
    triangulate = cast("_Triangulate", mapbox_earcut.triangulate_float64)
    triangles = triangulate(corners, ends).astype(np.int32).reshape(-1, 3)
    a, b, c = (corners[triangles[:, i]] for i in range(3))
    turned = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) < (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    triangles[turned] = triangles[turned][:, ::-1]
    return frozen(corners), frozen_index(triangles), tuple(int(end) for end in ends)


def _turn(ring: Array, sense: float) -> Array:
    return ring if polygon_area(ring) * sense > 0.0 else ring[::-1]


def _plate_faces(count: int, triangles: Index, ends: tuple[int, ...]) -> Index:
    # Anticlockwise with x to the right and z up looks towards -y: the low side.
    walls: list[NDArray[np.int64]] = []
    start = 0
    for end in ends:
        p = np.arange(start, end)
        q = np.concatenate([p[1:], p[:1]])
        walls += [
            np.stack([q, p, p + count], axis=1),
            np.stack([q, p + count, q + count], axis=1),
        ]
        start = end
    return frozen_index(np.concatenate([triangles, triangles[:, ::-1] + count, *walls]))


def plate_area(outline: tuple[Point, ...], holes: tuple[tuple[Point, ...], ...]) -> float:
    """Area of a polygon less its holes. [m²]"""
    taken = sum(abs(polygon_area(np.array(hole))) for hole in holes)
    return abs(polygon_area(np.array(outline))) - taken


def polygon_area(corners: Array) -> float:
    """Signed area of a plane polygon (n, 2); positive when anticlockwise. [m²]"""
    x, z = (corners - corners[0]).T
    return 0.5 * float(x @ np.roll(z, -1) - z @ np.roll(x, -1))
