"""Primitives as shapely geometry, for questions such as: does this meet that page?"""

from __future__ import annotations

from math import ceil, cos, pi, sin

import numpy as np
import shapely
from shapely.geometry import LinearRing, LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from foamwright.drawing.lettering import text_corners
from foamwright.drawing.model import Arc, Area, Circle, Layer, Path, Primitive, Text

_STEP = pi / 36.0  # rad between the points of an arc


def shape_of(item: Primitive) -> BaseGeometry:
    """Return the geometry that a primitive covers; a closed cut counts as the whole part."""
    match item:
        case Path():
            return _path(item)
        case Area():
            return MultiPolygon([Polygon(ring) for ring in item.rings])
        case Circle():
            return LinearRing(_round(item.centre, item.radius, 0.0, 2.0 * pi)[:-1])
        case Arc():
            return LineString(_round(item.centre, item.radius, item.start, item.end))
        case Text():
            return Polygon(text_corners(item))


def _path(item: Path) -> BaseGeometry:
    if not item.closed:
        return LineString(item.points)
    if item.layer is Layer.CUT:
        return Polygon(item.points)
    return LinearRing(item.points)


def _round(
    centre: tuple[float, float], radius: float, start: float, end: float
) -> list[tuple[float, float]]:
    count = max(2, ceil((end - start) / _STEP))
    angles = np.linspace(start, end, count + 1)
    return [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles]


def shapes_of(items: tuple[Primitive, ...]) -> list[BaseGeometry]:
    """Return the geometry of each primitive."""
    shapes = [shape_of(item) for item in items]
    shapely.prepare(shapes)
    return shapes
