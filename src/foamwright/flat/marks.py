"""Lines drawn on a part but not cut: stations, cut lines, rods, places of other parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from foamwright.flat.model import FoldLine, MarkLine
from foamwright.flat.unfold import Unfolded

Array = NDArray[np.float64]

_PENCIL = 1e-3  # m; a shorter mark says nothing


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draft:
    """A mark before it is clipped to its part: one or more straight pieces."""

    segments: Array  # (k, 2, 2) m
    text: str


def station_draft(corners: Array, x: Array, level: float, text: str) -> Draft | None:
    """Line on a part at which x has one value.

    Parameters
    ----------
    corners : ndarray, (m, 4, 2)
        The part's facets in the plane, going round. [m]
    x : ndarray, (m, 4)
        Place along the aeroplane of their corners. [m]
    level : float
        Place wanted. [m]
    text : str
        What is written on the line.

    Returns
    -------
    Draft or None
        None where the station misses the part. Straight across every facet, which is exact
        where the facet is plane.
    """
    height = x - level
    mixed = (height.min(axis=1) < 0.0) & (height.max(axis=1) >= 0.0)
    segments: list[Array] = []
    for number in np.flatnonzero(mixed).tolist():
        ends = _crossings(corners[number], height[number])
        if len(ends) == 2:
            segments.append(np.stack(ends))
    return Draft(segments=np.stack(segments), text=text) if segments else None


def _crossings(corners: Array, height: Array) -> list[Array]:
    ends: list[Array] = []
    for i in range(4):
        low, high = i, (i + 1) % 4
        if height[low] >= 0.0:
            low, high = high, low
        if height[low] < 0.0 <= height[high]:
            # Always from below, so that neighbours that share the edge agree to the last bit.
            share = height[low] / (height[low] - height[high])
            ends.append(corners[low] + share * (corners[high] - corners[low]))
    return ends


def across_draft(flat: Unfolded, share: float, text: str) -> Draft:
    """Line across all rulings at one share of their length, as a cut parallel to the end."""
    nodes = (1.0 - share) * flat.first + share * flat.second
    return Draft(segments=np.stack([nodes[:-1], nodes[1:]], axis=1), text=text)


def along_draft(
    flat: Unfolded, start: float, end: float, text: str, *, span: tuple[float, float] = (0.0, 1.0)
) -> Draft:
    """Line along a sheet of two nodes, between shares of its chord at either end.

    Parameters
    ----------
    flat : Unfolded
        The sheet in the plane. [m]
    start, end : float
        Shares of the width at the first and at the second line. [-]
    text : str
        What is written on the line.
    span : tuple of float
        From where to where along the rulings. [-]

    Returns
    -------
    Draft
        One straight line.
    """
    root = _at_share(flat.first, start)
    tip = _at_share(flat.second, end)
    line = np.stack([root + share * (tip - root) for share in span])
    return Draft(segments=line[None], text=text)


def _at_share(line: Array, share: float) -> Array:
    return line[0] + share * (line[-1] - line[0])


def clip(drafts: Sequence[Draft], outline: Array, holes: Sequence[Array]) -> tuple[MarkLine, ...]:
    """Cut marks off where their part ends; the longest stretch of each keeps the text."""
    if not drafts:
        return ()
    part = shapely.Polygon(outline, holes)
    marks: list[MarkLine] = []
    for draft in drafts:
        stretches = stretches_inside(draft.segments, part)
        marks += [
            MarkLine(points=points, text=draft.text if first else "")
            for first, points in zip([True, *[False] * len(stretches)], stretches, strict=False)
        ]
    return tuple(marks)


def clip_folds(
    folds: Sequence[FoldLine], outline: Array, holes: Sequence[Array]
) -> tuple[FoldLine, ...]:
    """Cut folds off where their part ends, so that none runs across an opening."""
    if not folds:
        return ()
    part = shapely.Polygon(outline, holes)
    return tuple(
        replace(fold, start=points[0], end=points[-1])
        for fold in folds
        for points in stretches_inside(np.stack([fold.start, fold.end])[None], part)
    )


def stretches_inside(segments: Array, part: shapely.Polygon) -> list[Array]:
    """Return the stretches of joined segments that lie in the part, longest first. [m]"""
    inside = shapely.intersection(shapely.MultiLineString(list(segments)), part)
    joined = shapely.simplify(shapely.line_merge(inside), 1e-9)
    return [
        shapely.get_coordinates(one)
        for one in sorted(shapely.get_parts(joined), key=_length, reverse=True)
        if isinstance(one, shapely.LineString) and _length(one) > _PENCIL
    ]


def _length(line: shapely.Geometry) -> float:
    return float(shapely.length(line))
