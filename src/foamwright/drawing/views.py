"""Views of the airframe: what is seen from above, from the left, from ahead.

Outlines come from the exact union of projected triangles; what hides what is asked of a
depth picture of one millimetre a dot, so a line may end half a millimetre early or late.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from foamwright.airframe import Mesh, Piece, RuledSheet

Array = NDArray[np.float64]

_DOT = 1e-3  # m, of the depth picture
_NEAR = 1.5e-3  # m: what lies less than this behind the nearest surface counts as seen
_SAMPLE = 2e-3  # m, between the points of a line that are tested
_SHARP = np.cos(np.radians(50.0))  # below this the facets of a round thing would show
_SLENDER = 8e-3  # m: a hidden rod thinner than this is one line
_GRID = 1e-6  # m, snapping of the union
_FAR = -1e9  # m, depth where nothing is


class View(StrEnum):
    """From where the aeroplane is seen."""

    PLAN = "plan"  # from above, nose up the page: right wing at the right
    SIDE = "side"  # from the left, nose to the left
    FRONT = "front"  # from ahead: right wing at the left


#: Rows: page x, page y, nearness to the viewer; columns: aeroplane x, y, z.
_LOOK = {
    View.PLAN: np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]),
    View.SIDE: np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]),
    View.FRONT: np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]]),
}


def seen_from(view: View, points: Array) -> Array:
    """Return points as page x, page y and nearness to the viewer, (n, 3). [m]"""
    return np.asarray(points, dtype=float) @ _LOOK[view].T


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sight:
    """What one view shows. [m] on the page, at the aeroplane's own size."""

    view: View
    outline: MultiPolygon  # of everything together
    edges: tuple[Array, ...]  # each (n, 2): lines inside the outline that are seen
    hidden: tuple[Array, ...]  # each (n, 2): outlines of inner things that are not seen


def sight(pieces: Sequence[Piece], view: View, *, inner: Sequence[Piece] = ()) -> Sight:
    """Return what a view shows of the pieces.

    Parameters
    ----------
    pieces : sequence of Piece
        Everything that may be seen or hide something. [m]
    view : View
        From where.
    inner : sequence of Piece
        Those of them whose hidden outlines are wanted, such as the pack.
    """
    flat = [_Flat.of(piece.mesh, view) for piece in pieces]
    depth = _DepthPicture(flat)
    whole = _polygons(shapely.union_all([_silhouette(item) for item in flat], grid_size=_GRID))
    wanted = {id(piece) for piece in inner}
    seen: list[LineString] = []
    unseen: list[LineString] = []
    for piece, item in zip(pieces, flat, strict=True):
        visible, behind = depth.split(_edges(item))
        folded, _ = depth.split(_fold_edges(piece, view))
        seen += visible + folded
        if id(piece) in wanted:
            unseen += _slender(item, depth) or behind
    rim = whole.boundary.buffer(0.8 * _DOT)
    return Sight(
        view=view,
        outline=whole,
        edges=_tidy(shapely.difference(_joined(seen), rim)),
        hidden=_tidy(_joined(unseen)),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Flat:
    """A mesh in page coordinates."""

    points: Array  # (n, 3) page x, page y, nearness
    faces: NDArray[np.int32]

    @classmethod
    def of(cls, mesh: Mesh, view: View) -> _Flat:
        return cls(points=seen_from(view, mesh.vertices), faces=mesh.faces)

    @property
    def normals(self) -> Array:
        corner = self.points[self.faces]
        normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
        length = np.linalg.norm(normal, axis=1, keepdims=True)
        return normal / np.where(length > 0.0, length, 1.0)


def _silhouette(item: _Flat) -> BaseGeometry:
    corner = item.points[item.faces][:, :, :2]
    sides = corner[:, 1:] - corner[:, :1]
    twice = sides[:, 0, 0] * sides[:, 1, 1] - sides[:, 0, 1] * sides[:, 1, 0]
    kept = corner[np.abs(twice) > 1e-10]
    if not len(kept):
        return Polygon()
    rings = np.concatenate([kept, kept[:, :1]], axis=1)
    return shapely.union_all(shapely.polygons(rings), grid_size=_GRID)


def _polygons(shape: BaseGeometry) -> MultiPolygon:
    parts = list(cast("Any", shapely.get_parts(shape)))
    kept = [_without_specks(part) for part in parts if isinstance(part, Polygon)]
    return MultiPolygon([part for part in kept if part.area > 1e-6])


def _without_specks(part: Polygon) -> Polygon:
    holes = [ring for ring in part.interiors if Polygon(ring).area > 1e-5]
    return Polygon(part.exterior, holes)


def _edges(item: _Flat) -> Array:
    """Return the edges that make a line: sharp ones and those at the turn of the surface."""
    faces = item.faces
    pairs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    owner = np.tile(np.arange(len(faces)), 3)
    ordered = np.sort(pairs, axis=1)
    order = np.lexsort((ordered[:, 1], ordered[:, 0]))
    ordered, owner = ordered[order], owner[order]
    same = np.all(ordered[1:] == ordered[:-1], axis=1)
    first = np.flatnonzero(same)
    normals = item.normals
    one, two = normals[owner[first]], normals[owner[first + 1]]
    sharp = np.sum(one * two, axis=1) < _SHARP
    turn = one[:, 2] * two[:, 2] <= 0.0
    return item.points[ordered[first[sharp | turn]]]


def _fold_edges(piece: Piece, view: View) -> Array:
    """Return the creases of a piece of sheet, lifted to the face that is seen."""
    sheet = piece.sheet
    if not isinstance(sheet, RuledSheet) or not sheet.folds:
        return np.empty((0, 2, 3))
    folds = list(sheet.folds)
    ends = np.stack([sheet.first[folds], sheet.second[folds]], axis=1)
    lifted = ends @ _LOOK[view].T
    lifted[..., 2] += 0.5 * sheet.thickness
    return lifted


def _slender(item: _Flat, depth: _DepthPicture) -> list[LineString]:
    """Return a thin straight rod as one line along its middle, where it is hidden."""
    points = item.points
    middle = points.mean(axis=0)
    _, sizes, ways = np.linalg.svd(points - middle, full_matrices=False)
    along = (points - middle) @ ways[0]
    across = (points - middle) @ ways[1:].T
    if sizes[0] <= 0.0 or np.ptp(across, axis=0).max() > _SLENDER:
        return []
    ends = middle + np.outer([along.min(), along.max()], ways[0])
    if np.linalg.norm((ends[1] - ends[0])[:2]) < 10.0 * _SLENDER:
        return []
    _, behind = depth.split(ends[None])
    return behind


class _DepthPicture:
    """How near the nearest surface is, dot by dot."""

    def __init__(self, flat: Sequence[_Flat]) -> None:
        points = np.concatenate([item.points for item in flat])
        self._low = points[:, :2].min(axis=0) - 3.0 * _DOT
        size = np.ceil((points[:, :2].max(axis=0) + 3.0 * _DOT - self._low) / _DOT).astype(int)
        self._near = np.full((size[1] + 1, size[0] + 1), _FAR)
        for item in flat:
            for triangle in item.points[item.faces]:
                self._paint(triangle)
        self._near = _lowest_around(self._near)

    def _paint(self, triangle: Array) -> None:
        xy = (triangle[:, :2] - self._low) / _DOT
        (x0, y0), (x1, y1), (x2, y2) = xy
        twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        if abs(twice) < 1e-6:
            return
        low = np.floor(xy.min(axis=0)).astype(int)
        high = np.ceil(xy.max(axis=0)).astype(int)
        gx: Array = np.arange(low[0], high[0] + 1, dtype=float)
        gy: Array = np.arange(low[1], high[1] + 1, dtype=float)[:, None]
        b = ((gx - x0) * (y2 - y0) - (x2 - x0) * (gy - y0)) / twice
        c = ((x1 - x0) * (gy - y0) - (gx - x0) * (y1 - y0)) / twice
        inside = (b >= -1e-9) & (c >= -1e-9) & (b + c <= 1.0 + 1e-9)
        z = triangle[0, 2] + b * (triangle[1, 2] - triangle[0, 2])
        z = z + c * (triangle[2, 2] - triangle[0, 2])
        patch = self._near[low[1] : high[1] + 1, low[0] : high[0] + 1]
        np.maximum(patch, np.where(inside, z, _FAR), out=patch)

    def split(self, edges: Array) -> tuple[list[LineString], list[LineString]]:
        """Return the parts of edges (n, 2, 3) that are seen, and those that are not."""
        seen: list[LineString] = []
        unseen: list[LineString] = []
        for start, end in edges:
            length = float(np.linalg.norm((end - start)[:2]))
            if length < 1e-5:
                continue
            count = max(1, int(np.ceil(length / _SAMPLE)))
            middle = (np.arange(count) + 0.5) / count
            points = start + middle[:, None] * (end - start)
            visible = self._visible(points)
            ends = np.flatnonzero(np.diff(visible.astype(int))) + 1
            cuts = np.concatenate([[0], ends, [count]]) / count
            for k in range(len(cuts) - 1):
                span = start + cuts[k : k + 2, None] * (end - start)
                shown = visible[round(cuts[k] * count)]
                (seen if shown else unseen).append(LineString(span[:, :2]))
        return seen, unseen

    def _visible(self, points: Array) -> NDArray[np.bool_]:
        dots = np.rint((points[:, :2] - self._low) / _DOT).astype(int)
        return points[:, 2] >= self._near[dots[:, 1], dots[:, 0]] - _NEAR


def _lowest_around(picture: Array) -> Array:
    # a line at the rim of a surface is seen if any dot beside it lets it be seen
    padded = np.pad(picture, 1, mode="edge")
    return np.minimum.reduce(
        [
            padded[1 + dy : padded.shape[0] - 1 + dy, 1 + dx : padded.shape[1] - 1 + dx]
            for dx, dy in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1))
        ]
    )


def _joined(lines: Sequence[LineString]) -> BaseGeometry:
    if not lines:
        return MultiLineString()
    merged = shapely.union_all(lines, grid_size=_GRID)
    return shapely.line_merge(merged)


_SHORT = 2.5e-3  # m: shorter left-overs are crumbs of the depth picture


def _tidy(shape: BaseGeometry) -> tuple[Array, ...]:
    merged = shapely.line_merge(shape) if not shape.is_empty else shape
    parts = list(cast("Any", shapely.get_parts(merged)))
    lines = [part for part in parts if isinstance(part, LineString) and part.length > _SHORT]
    return tuple(
        np.asarray(shapely.get_coordinates(shapely.simplify(line, 1e-4))) for line in lines
    )


def disc_outline(centre: Array, normal: Array, diameter: float, view: View) -> Array:
    """Return a disc's rim as seen in a view, (n, 2). [m]"""
    normal = normal / np.linalg.norm(normal)
    helper = np.array([0.0, 1.0, 0.0]) if abs(normal[1]) < 0.9 else np.array([0.0, 0.0, 1.0])
    u = np.cross(normal, helper)
    u /= np.linalg.norm(u)
    v = np.cross(normal, u)
    angles = np.linspace(0.0, 2.0 * np.pi, 73)[:, None]
    rim = centre + 0.5 * diameter * (np.cos(angles) * u + np.sin(angles) * v)
    return seen_from(view, rim)[:, :2]
