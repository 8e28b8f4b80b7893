"""Parts laid out on one large page, or on blocks of pages that are glued together.

By their boxes only (see :mod:`foamwright.drawing.packing`), level or turned a quarter.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from foamwright.drawing.model import Box, Point
from foamwright.drawing.packing import FreeSpace
from foamwright.drawing.part import PartFigure
from foamwright.drawing.tiling import tiles_needed

GAP = 6.0  # mm, between the boxes of two parts
_ENDLESS = 1e5  # mm, more than any page
_STEP = 2.0  # mm, between the places tried for a block's contents
_EDGE = 3.0  # mm, parts stay so far from the rim of a block's outer pages
_MORE_SEAMS = 1  # a part may cross one page more than it must, if that saves a page

Choice = tuple[PartFigure, ...]  # the same part, level and turned


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """A figure in its place."""

    figure: PartFigure
    corner: Point  # mm, lower left


def lay_on_page(choices: Sequence[Choice], *, height: float) -> tuple[tuple[Laid, ...], float]:
    """Lay parts out on a page of a given height.

    Parameters
    ----------
    choices : sequence of Choice
        The parts, each in the ways it may lie.
    height : float
        Height of the page's room. [mm]

    Returns
    -------
    laid : tuple of Laid
        The parts in their places.
    width : float
        Width used; infinite where a part does not fit. [mm]
    """
    space = FreeSpace((0.0, 0.0, _ENDLESS, height + GAP))
    laid: list[Laid] = []
    width = 0.0
    for choice in sorted(choices, key=_by_size):
        found = [
            (box, figure)
            for figure in choice
            if (box := space.leftmost(figure.size[0] + GAP, figure.size[1] + GAP)) is not None
        ]
        if not found:
            return (), float("inf")
        box, figure = min(found, key=lambda entry: (entry[0][2], entry[0][1]))
        space.take(box)
        laid.append(Laid(figure=figure, corner=(box[0], box[1])))
        width = max(width, box[2] - GAP)
    return tuple(laid), width


def _by_size(choice: Choice) -> tuple[float, str]:
    width, height = choice[0].size
    return (-max(width, height), choice[0].part.code)


# ---------------------------------------------------------------- blocks of pages


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """Pages that are glued together, with the parts on them."""

    counts: tuple[int, int]  # columns, rows
    laid: tuple[Laid, ...]  # mm, from the block's lower left


@dataclass(slots=True, kw_only=True)
class _Open:
    counts: tuple[int, int]
    space: FreeSpace
    laid: list[Laid]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """Windows of a block's pages."""

    window: tuple[float, float]
    overlap: float

    def counts(self, size: tuple[float, float]) -> tuple[int, int]:
        """Pages that a size needs, across and up."""
        return (
            tiles_needed(size[0] + 2 * _EDGE, page=self.window[0], overlap=self.overlap),
            tiles_needed(size[1] + 2 * _EDGE, page=self.window[1], overlap=self.overlap),
        )

    def size(self, counts: tuple[int, int]) -> tuple[float, float]:
        """Size of a block. [mm]"""
        width, height = self.window
        gap = self.overlap
        return counts[0] * (width - gap) + gap, counts[1] * (height - gap) + gap

    def own(self, counts: tuple[int, int]) -> list[Box]:
        """Return what each page of a block shows alone, enlarged by the gap a box carries. [mm]

        A small part that lies there is printed once, not in part on the neighbour as well.
        """
        across = _alone(counts[0], self.window[0], self.overlap)
        up = _alone(counts[1], self.window[1], self.overlap)
        return [(x0, y0, x1 + GAP, y1 + GAP) for x0, x1 in across for y0, y1 in up]

    def crossed(self, box: Box) -> int:
        """Pages that a box in a block lies on."""
        return self._along(box[0], box[2] - GAP, self.window[0]) * self._along(
            box[1], box[3] - GAP, self.window[1]
        )

    def shared(self, box: Box, counts: tuple[int, int]) -> bool:
        """Whether a neighbouring page shows some of a box that lies whole on one."""
        bare = (box[0], box[1], box[2] - GAP, box[3] - GAP)
        return self.crossed(box) == 1 and not any(
            bare[0] >= own[0] and bare[1] >= own[1] and bare[2] <= own[2] and bare[3] <= own[3]
            for own in self.own(counts)
        )

    def _along(self, start: float, end: float, page: float) -> int:
        pitch = page - self.overlap
        first = max(0.0, np.floor((end - page) / pitch + 1.0 - 1e-9))
        if first * pitch <= start + 1e-9:
            return 1
        half = 0.5 * self.overlap
        return int(np.floor((end - half) / pitch) - np.floor(max(0.0, start - half) / pitch)) + 1


def _alone(count: int, page: float, overlap: float) -> list[tuple[float, float]]:
    pitch = page - overlap
    return [
        (k * pitch + (overlap if k else 0.0), k * pitch + page - (overlap if k < count - 1 else 0))
        for k in range(count)
    ]


def lay_on_tiles(
    choices: Sequence[Choice], *, window: tuple[float, float], overlap: float
) -> tuple[Block, ...]:
    """Lay parts out so that small ones lie whole on one page and large ones across few.

    Parameters
    ----------
    choices : sequence of Choice
        The parts, each in the ways it may lie.
    window : tuple of float
        Width and height of one page's window. [mm]
    overlap : float
        What neighbouring pages show alike. [mm]
    """
    grid = _Grid(window=window, overlap=overlap)
    opened: list[_Open] = []
    for choice in sorted(choices, key=lambda item: (-_pages(item, grid), *_by_size(item))):
        fewest = _pages(choice, grid)
        found = min(_in_blocks(choice, opened, grid), key=lambda item: item[0], default=None)
        if found is not None and found[0][0] <= fewest + (_MORE_SEAMS if fewest > 1 else 0):
            _, block, box, figure = found
        else:
            figure = min(choice, key=lambda item: _count(item, grid))
            block = _opened(grid.counts(figure.size), grid)
            opened.append(block)
            box = (_EDGE, _EDGE, _EDGE + figure.size[0] + GAP, _EDGE + figure.size[1] + GAP)
        block.space.take(box)
        block.laid.append(Laid(figure=figure, corner=(box[0], box[1])))
    return tuple(_settled(block, grid) for block in opened)


def _opened(counts: tuple[int, int], grid: _Grid) -> _Open:
    width, height = grid.size(counts)
    room = (_EDGE, _EDGE, width - _EDGE + GAP, height - _EDGE + GAP)
    return _Open(counts=counts, space=FreeSpace(room), laid=[])


def _pages(choice: Choice, grid: _Grid) -> int:
    return min(_count(figure, grid) for figure in choice)


def _count(figure: PartFigure, grid: _Grid) -> int:
    across, up = grid.counts(figure.size)
    return across * up


_Found = tuple[tuple[float, ...], _Open, Box, PartFigure]


def _in_blocks(choice: Choice, opened: Sequence[_Open], grid: _Grid) -> Iterable[_Found]:
    for index, block in enumerate(opened):
        for figure in choice:
            size = (figure.size[0] + GAP, figure.size[1] + GAP)
            boxes = list(block.space.places(*size))
            for window in grid.own(block.counts):
                boxes += block.space.places_within(window, *size)
            for box in boxes:
                rank = (grid.crossed(box), grid.shared(box, block.counts), index, box[0] + box[1])
                yield (rank, block, box, figure)


def _settled(block: _Open, grid: _Grid) -> Block:
    # the contents are moved within their slack so that seams meet as little as can be
    dx = _calm(block, grid, axis=0)
    dy = _calm(block, grid, axis=1)
    laid = tuple(
        Laid(figure=item.figure, corner=(item.corner[0] + dx, item.corner[1] + dy))
        for item in block.laid
    )
    return Block(counts=block.counts, laid=laid)


def _calm(block: _Open, grid: _Grid, *, axis: int) -> float:
    count, page = block.counts[axis], grid.window[axis]
    ends = max(item.corner[axis] + item.figure.size[axis] for item in block.laid)
    slack = grid.size(block.counts)[axis] - _EDGE - ends
    if slack <= _STEP:
        return 0.0
    if count == 1:
        return 0.5 * slack
    spans = _spans(block, axis)
    tried = np.arange(0.0, slack, _STEP)
    pitch = page - grid.overlap
    starts, stops, weights = (np.array(part)[:, None] for part in zip(*spans, strict=True))
    starts, stops = starts + tried, stops + tried
    first = np.maximum(0.0, np.floor((stops - page) / pitch + 1.0 - 1e-9))
    whole = first * pitch <= starts
    seams = pitch * np.arange(1, count) + 0.5 * grid.overlap
    cut = ((seams > starts[..., None]) & (seams < stops[..., None])).sum(axis=-1)
    cost = (weights * (cut + 3.0 * ~whole)).sum(axis=0)
    return float(tried[int(np.argmin(cost))])


def _spans(block: _Open, axis: int) -> list[tuple[float, float, float]]:
    # start, end, weight of everything that a seam had better not meet
    spans: list[tuple[float, float, float]] = []
    for item in block.laid:
        start = item.corner[axis]
        spans.append((start, start + item.figure.size[axis], 1.0))
        for ring in item.figure.solid.interiors:
            low, high = ring.bounds[axis], ring.bounds[axis + 2]
            spans.append((start + low, start + high, 10.0))
    return spans


def block_seams(
    block: Block, *, window: tuple[float, float], overlap: float, origin: Point
) -> tuple[LineString, ...]:
    """Return the centre lines of a block's overlaps on the drawing. [mm]"""
    grid = _Grid(window=window, overlap=overlap)
    width, height = grid.size(block.counts)
    x0, y0 = origin
    half = 0.5 * overlap
    upright = [
        LineString([(x, y0), (x, y0 + height)])
        for i in range(1, block.counts[0])
        for x in [x0 + i * (window[0] - overlap) + half]
    ]
    level = [
        LineString([(x0, y), (x0 + width, y)])
        for j in range(1, block.counts[1])
        for y in [y0 + j * (window[1] - overlap) + half]
    ]
    return (*upright, *level)


def block_size(block: Block, *, window: tuple[float, float], overlap: float) -> Point:
    """Return width and height of a block. [mm]"""
    return _Grid(window=window, overlap=overlap).size(block.counts)
