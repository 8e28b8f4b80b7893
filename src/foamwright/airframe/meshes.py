"""Closed triangle meshes: sheets over a grid, mirror images, integrals.

Faces turn anticlockwise seen from outside. Which corners make a face depends only on the
shape of a grid, so these tables are kept; only the points are new each time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe.model import Array, Index, Mesh

Mask = NDArray[np.bool_]

#: Negates y: the left side from the right.
MIRROR: Array = np.array([1.0, -1.0, 1.0])
MIRROR.setflags(write=False)


def frozen(values: Array) -> Array:
    """Return the array itself, made read-only."""
    values.setflags(write=False)
    return values


def frozen_index(values: NDArray[np.integer]) -> Index:
    """Return corner numbers as a read-only table."""
    index = np.ascontiguousarray(values, dtype=np.int32)
    index.setflags(write=False)
    return index


# ---------------------------------------------------------------- integrals


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MeshProperties:
    """Integrals over the solids that n closed meshes bound."""

    area: Array  # (n,) m², of the surface
    volume: Array  # (n,) m³, positive when the faces look outward
    centroid: Array  # (n, 3) m
    second_moment: Array  # (n, 3, 3) m⁵, integral of r rᵀ dV about the centroid

    @property
    def inertia(self) -> Array:
        """Inertia tensors about the centroids at unit density. [m⁵]"""
        spread = np.trace(self.second_moment, axis1=1, axis2=2)
        return spread[:, None, None] * np.eye(3) - self.second_moment


def mesh_properties(meshes: Sequence[Mesh]) -> MeshProperties:
    r"""Areas, volumes, centroids and second moments of many closed meshes at once.

    Every triangle spans a signed tetrahedron with an origin near its mesh:

    .. math:: \int r r^T dV = \frac{V}{20}(aa^T + bb^T + cc^T + ss^T), \quad s = a + b + c

    Parameters
    ----------
    meshes : sequence of Mesh
        Closed meshes. [m]

    Returns
    -------
    MeshProperties
        One entry for each mesh. [m², m³, m, m⁵]

    Notes
    -----
    Exact for the mesh. A mesh without volume has its vertices' mean as centroid and no
    second moment.

    References
    ----------
    .. [1] B. Mirtich, Fast and accurate computation of polyhedral mass properties, Journal of
       Graphics Tools 1(2), 1996 (the same integrals; value from memory).
    """
    count = len(meshes)
    if count == 0:
        empty = np.zeros(0)
        return MeshProperties(
            area=empty,
            volume=empty,
            centroid=np.zeros((0, 3)),
            second_moment=np.zeros((0, 3, 3)),
        )
    # An origin inside each mesh keeps far-away small parts from losing digits.
    corners = np.concatenate([mesh.vertices for mesh in meshes])
    sizes = np.array([len(mesh.vertices) for mesh in meshes])
    first = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    origin = np.add.reduceat(corners, first, axis=0) / sizes[:, None]
    local = corners - np.repeat(origin, sizes, axis=0)
    face_counts = np.array([len(mesh.faces) for mesh in meshes])
    faces = np.concatenate([mesh.faces for mesh in meshes]) + np.repeat(first, face_counts)[:, None]
    starts = np.concatenate([[0], np.cumsum(face_counts)[:-1]])
    a, b, c = local[faces[:, 0]], local[faces[:, 1]], local[faces[:, 2]]
    normal = cross(b - a, c - a)
    area = np.add.reduceat(0.5 * np.sqrt((normal * normal).sum(axis=1)), starts)
    six_volumes = (a * normal).sum(axis=1)
    total = a + b + c
    volume = np.add.reduceat(six_volumes, starts) / 6.0
    moment = np.add.reduceat(six_volumes[:, None] * total, starts, axis=0) / 24.0
    outer = (
        a[:, :, None] * a[:, None, :]
        + b[:, :, None] * b[:, None, :]
        + c[:, :, None] * c[:, None, :]
        + total[:, :, None] * total[:, None, :]
    )
    second = np.add.reduceat(six_volumes[:, None, None] * outer, starts, axis=0) / 120.0
    solid = volume != 0.0
    shift = np.where(solid[:, None], moment / np.where(solid, volume, 1.0)[:, None], 0.0)
    second = second - volume[:, None, None] * shift[:, :, None] * shift[:, None, :]
    return MeshProperties(area=area, volume=volume, centroid=origin + shift, second_moment=second)


def cross(a: Array, b: Array) -> Array:
    """Cross product over the last axis; np.cross spends most of its time on checks."""
    out = np.empty(np.broadcast_shapes(a.shape, b.shape))
    out[..., 0] = a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1]
    out[..., 1] = a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2]
    out[..., 2] = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return out


def mesh_volume(mesh: Mesh) -> float:
    """Volume of one closed mesh; positive when its faces look outward. [m³]"""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] - mesh.vertices[0] for i in range(3))
    return float((a * cross(b, c)).sum()) / 6.0


def mesh_area(mesh: Mesh) -> float:
    """Surface area of one mesh. [m²]"""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    normal = cross(b - a, c - a)
    return 0.5 * float(np.sqrt((normal * normal).sum(axis=1)).sum())


def is_closed(mesh: Mesh) -> bool:
    """Whether every edge is run through once each way, so that the mesh bounds a solid."""
    faces = mesh.faces.astype(np.int64)
    if len(faces) == 0:
        return False
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    if np.any(edges[:, 0] == edges[:, 1]):
        return False
    size = len(mesh.vertices)
    there = np.sort(edges[:, 0] * size + edges[:, 1])
    back = np.sort(edges[:, 1] * size + edges[:, 0])
    return bool(np.array_equal(there, back) and np.all(np.diff(there) != 0))


# ---------------------------------------------------------------- mirror and join


def mirror_mesh(mesh: Mesh) -> Mesh:
    """Return the mesh mirrored in y = 0, faces turned so that they still look outward."""
    return Mesh(vertices=frozen(mesh.vertices * MIRROR), faces=turned(mesh.faces))


def turned(faces: Index) -> Index:
    """Return faces that look the other way."""
    return frozen_index(faces[:, ::-1])


def join_meshes(meshes: Sequence[Mesh]) -> Mesh:
    """Return several closed meshes as one of several solids."""
    sizes = np.cumsum([0] + [len(mesh.vertices) for mesh in meshes[:-1]])
    return Mesh(
        vertices=frozen(np.concatenate([mesh.vertices for mesh in meshes])),
        faces=frozen_index(
            np.concatenate([mesh.faces + size for mesh, size in zip(meshes, sizes, strict=True)])
        ),
    )


# ---------------------------------------------------------------- sheets as grids


def grid_mesh(
    upper: Array, lower: Array, *, cells: Mask | None = None, nose: bool = False, tail: bool = False
) -> Mesh:
    """Mesh a sheet given by points on both faces over a grid of cells.

    Parameters
    ----------
    upper, lower : ndarray, (r, c, 3)
        Points of both faces. Column step x row step points from lower to upper. [m]
    cells : ndarray of bool, (r - 1, c - 1), optional
        Which cells are there; the others are cut out. All, when left out.
    nose, tail : bool
        Whether both faces meet in one line at the first, at the last column.

    Returns
    -------
    Mesh
        Closed, walls at every edge of what is there. [m]
    """
    rows, columns = upper.shape[:2]
    key = b"" if cells is None else cells.tobytes()
    faces, used = grid_faces(rows, columns, key, nose, tail)
    points = np.concatenate([upper.reshape(-1, 3), lower.reshape(-1, 3)])
    return Mesh(vertices=frozen(points[used]), faces=faces)


@lru_cache(maxsize=1024)
def grid_faces(rows: int, columns: int, key: bytes, nose: bool, tail: bool) -> tuple[Index, Index]:
    """Faces of a grid sheet, and which of its points they use."""
    shape = rows - 1, columns - 1
    cells = np.frombuffer(key, dtype=bool).reshape(shape) if key else np.ones(shape, dtype=bool)
    top = np.arange(rows * columns).reshape(rows, columns)
    low = top + rows * columns
    if nose:
        low[:, 0] = top[:, 0]
    if tail:
        low[:, -1] = top[:, -1]
    row, column = np.nonzero(cells)
    # Corners of a cell, anticlockwise seen from the upper face, and the neighbour that
    # shares the edge from each corner to the next.
    around = ((0, 0), (0, 1), (1, 1), (1, 0))
    beside = ((-1, 0), (0, 1), (1, 0), (0, -1))
    padded = np.pad(cells, 1)
    t = [top[row + i, column + j] for i, j in around]
    u = [low[row + i, column + j] for i, j in around]
    parts = [
        np.stack([t[0], t[1], t[2]], axis=1),
        np.stack([t[0], t[2], t[3]], axis=1),
        np.stack([u[2], u[1], u[0]], axis=1),
        np.stack([u[3], u[2], u[0]], axis=1),
    ]
    for k, (i, j) in enumerate(beside):
        bare = ~padded[row + 1 + i, column + 1 + j]
        p, q = t[k][bare], t[(k + 1) % 4][bare]
        r, s = u[k][bare], u[(k + 1) % 4][bare]
        parts += [np.stack([q, p, r], axis=1), np.stack([q, r, s], axis=1)]
    faces = np.concatenate(parts)
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]  # where both faces meet in one line
    used, place = np.unique(faces, return_inverse=True)
    return frozen_index(place.reshape(-1, 3)), frozen_index(used)


def grid_area(points: Array, cells: Mask | None = None) -> float:
    """Area of the cells of a grid of straight-lined patches.

    Parameters
    ----------
    points : ndarray, (r, c, 3)
        Mid-sheet points. [m]
    cells : ndarray of bool, (r - 1, c - 1), optional
        Which cells count. All, when left out.

    Returns
    -------
    float
        Area. [m²]

    Notes
    -----
    Exact for plane cells. For twisted ones, Gauss points two by two on the bilinear patch:
    within 2e-6 up to 10 degrees of twist over a square.
    """
    a, b = points[:-1, :-1], points[:-1, 1:]
    d, c = points[1:, :-1], points[1:, 1:]
    bend = (a - b) + (c - d)
    normal = cross((b - a) + _GAUSS_V * bend, (d - a) + _GAUSS_U * bend)
    patch = np.sqrt((normal * normal).sum(axis=-1)).sum(axis=0)
    return 0.25 * float(patch.sum() if cells is None else patch[cells].sum())


_GAUSS = 0.5 + np.array([-0.5, 0.5]) / math.sqrt(3.0)
_GAUSS_U: Array = np.tile(_GAUSS, 2)[:, None, None, None]
_GAUSS_V: Array = np.repeat(_GAUSS, 2)[:, None, None, None]
