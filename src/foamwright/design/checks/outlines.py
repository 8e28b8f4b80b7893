"""Plain polygons: do they cross, are they flat, does one enclose the other?

Our own few lines, because importing a geometry library would take longer than reading the
whole design; outlines have at most 100 corners.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from foamwright.design.model import Point

_TOUCH = 1e-7  # m; edges nearer than this touch
_SMALLEST = 1e-6  # m²; a square millimetre

Edge = tuple[Point, Point]


def is_flat(points: Sequence[Point]) -> bool:
    """Return whether a polygon encloses less than a square millimetre."""
    return abs(signed_area(points)) < _SMALLEST


def signed_area(points: Sequence[Point]) -> float:
    """Return the area of a polygon, positive where it runs anticlockwise. [m²]

    Parameters
    ----------
    points : sequence of (float, float)
        Corners; the first is not repeated. [m]
    """
    return 0.5 * sum(x0 * z1 - x1 * z0 for (x0, z0), (x1, z1) in _edges(points))


def crosses_itself(points: Sequence[Point]) -> bool:
    """Return whether a polygon crosses or touches itself, or repeats a corner."""
    edges = list(_edges(points))
    if any(_near(a, b) for a, b in edges):
        return True
    last = len(edges) - 1
    for first, second in _close_pairs(edges):
        if second - first in (1, last):
            before, after = (
                (second, first) if second - first == last and last > 1 else (first, second)
            )
            if _folds_back(edges[before], edges[after]):
                return True
        elif _meet(edges[first], edges[second]):
            return True
    return False


def encloses(outer: Sequence[Point], inner: Sequence[Point]) -> bool:
    """Return whether one polygon lies inside another without touching it."""
    if not all(_is_inside(point, outer) for point in inner):
        return False
    edges = [*_edges(outer), *_edges(inner)]
    count = len(outer)
    return not any(
        first < count <= second and _meet(edges[first], edges[second])
        for first, second in _close_pairs(edges)
    )


def _close_pairs(edges: Sequence[Edge]) -> Iterator[tuple[int, int]]:
    """Yield the numbers of every two edges whose boxes touch, the smaller first."""
    boxes = sorted(
        (
            min(a[0], b[0]),
            max(a[0], b[0]) + _TOUCH,
            min(a[1], b[1]),
            max(a[1], b[1]) + _TOUCH,
            number,
        )
        for number, (a, b) in enumerate(edges)
    )
    for place, (_, right, low, high, first) in enumerate(boxes):
        for left, _, other_low, other_high, second in boxes[place + 1 :]:
            if left > right:
                break
            if other_low <= high and low <= other_high:
                yield min(first, second), max(first, second)


def _edges(points: Sequence[Point]) -> Iterator[Edge]:
    yield from pairwise((*points, points[0]))


def _near(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < _TOUCH and abs(a[1] - b[1]) < _TOUCH


def _cross(o: Point, a: Point, b: Point) -> float:
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])


def _meet(one: Edge, other: Edge) -> bool:
    """Whether two edges cross or touch."""
    (a, b), (c, d) = one, other
    if _cross(a, b, c) * _cross(a, b, d) < 0.0 and _cross(c, d, a) * _cross(c, d, b) < 0.0:
        return True
    return any(_on(point, edge) for point, edge in ((a, other), (b, other), (c, one), (d, one)))


def _on(point: Point, edge: Edge) -> bool:
    """Whether a point lies on an edge."""
    (x0, z0), (x1, z1) = edge
    dx, dz = x1 - x0, z1 - z0
    length = dx * dx + dz * dz
    share = ((point[0] - x0) * dx + (point[1] - z0) * dz) / length if length else 0.0
    share = min(max(share, 0.0), 1.0)
    return _near(point, (x0 + share * dx, z0 + share * dz))


def _folds_back(before: Edge, after: Edge) -> bool:
    """Whether the second of two neighbours runs back along the first."""
    return _on(after[1], before) or _on(before[0], after)


def _is_inside(point: Point, polygon: Sequence[Point]) -> bool:
    x, z = point
    inside = False
    for (x0, z0), (x1, z1) in _edges(polygon):
        if (z0 > z) != (z1 > z) and x < x0 + (x1 - x0) * (z - z0) / (z1 - z0):
            inside = not inside
    return inside
