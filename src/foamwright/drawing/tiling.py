"""Tiles: a large drawing in windows that overlap, one window a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil

import numpy as np
import shapely
from numpy.typing import NDArray

from foamwright.drawing.geometry import shapes_of
from foamwright.drawing.lettering import box_of
from foamwright.drawing.model import Box, Drawing, Layer, Path, Point
from foamwright.drawing.paper import Frame, Paper
from foamwright.errors import DomainError

OVERLAP = 12.0  # mm; 10 to 15 is common practice, no source
_HAIR = 1e-9  # of a tile: a drawing that fits exactly needs no further tile
_SHIFT_STEP = 1.0  # mm, between the places tried for the tile grid
_SMALL = 60.0  # mm: a closed cut below this size is a slot, a hole or a small part
_WEIGHT = 10.0  # how much worse a cut small feature is than a cut large part


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours:
    """Codes of the tiles that a tile joins; None where there is none."""

    left: str | None = None
    right: str | None = None
    below: str | None = None
    above: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One window on the drawing: one page."""

    code: str  # row letter from above, column number from the left: "B3"
    row: int  # from 0, counted from above
    column: int  # from 0
    window: Box  # mm, on the drawing
    neighbours: Neighbours = field(default_factory=Neighbours)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """All pages of one drawing."""

    drawing: Drawing
    frame: Frame
    overlap: float  # mm
    tiles: tuple[Tile, ...]
    skipped: tuple[str, ...]  # codes of tiles that would be empty
    crosses: tuple[Point, ...]  # mm, on the drawing: registration crosses
    blocks: tuple[Box, ...] = ()  # mm, on the drawing: what is glued together to one sheet

    @property
    def rows(self) -> int:
        """Rows of the tile grid."""
        return 1 + max(tile.row for tile in self.tiles)

    @property
    def columns(self) -> int:
        """Columns of the tile grid."""
        return 1 + max(tile.column for tile in self.tiles)


def tiles_needed(length: float, *, page: float, overlap: float) -> int:
    r"""Return how many tiles cover a length.

    .. math:: n = \lceil (W - o) / (p - o) \rceil

    Parameters
    ----------
    length : float
        What is to be covered. [mm]
    page : float
        Length of one tile's window. [mm]
    overlap : float
        What two neighbours show alike. [mm]
    """
    if overlap >= page:
        raise DomainError(f"an overlap of {overlap:g} mm leaves nothing of a {page:g} mm page")
    return max(1, ceil((length - overlap) / (page - overlap) - _HAIR))


def row_letters(row: int) -> str:
    """Return A, B, ... Z, AA, AB, ... for rows counted from 0."""
    letters = ""
    count = row + 1
    while count:
        count, rest = divmod(count - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def tile_code(row: int, column: int) -> str:
    """Return the code of a tile, such as "B3"; row and column count from 0."""
    return f"{row_letters(row)}{column + 1}"


def grid_tiling(
    drawing: Drawing, *, paper: Paper, overlap: float = OVERLAP, landscape: bool | None = None
) -> Tiling:
    """Cover a drawing with a grid of tiles.

    Parameters
    ----------
    drawing : Drawing
        What is to be printed. [mm]
    paper : Paper
        The paper; both ways of laying it are tried unless `landscape` says one.
    overlap : float
        What two neighbours show alike. [mm]
    landscape : bool, optional
        Whether the paper lies on its long side.

    Returns
    -------
    Tiling
        With the fewest pages; the grid is shifted within its slack so that seams run
        through as few slots, holes and parts as can be. Empty tiles are skipped and listed.
    """
    ways = (False, True) if landscape is None else (landscape,)
    tried = [_grid(drawing, Frame(paper=paper, landscape=way), overlap) for way in ways]
    return min(tried, key=lambda tiling: len(tiling.tiles))


def _grid(drawing: Drawing, frame: Frame, overlap: float) -> Tiling:
    left, bottom, right, top = drawing.bounds
    width, height = frame.window
    nx = tiles_needed(right - left, page=width, overlap=overlap)
    ny = tiles_needed(top - bottom, page=height, overlap=overlap)
    boxes = np.array([_box(path) for path in cut_outlines(drawing)]).reshape(-1, 4)
    x = left - calm_shift(boxes[:, 0] - left, boxes[:, 2] - left, right - left, width, overlap)
    y = bottom - calm_shift(
        boxes[:, 1] - bottom, boxes[:, 3] - bottom, top - bottom, height, overlap
    )
    tiles = block_tiles((x, y), counts=(nx, ny), frame=frame, overlap=overlap)
    kept = not_empty(tiles, drawing, overlap)
    codes = {tile.code for tile in kept}
    return Tiling(
        drawing=drawing,
        frame=frame,
        overlap=overlap,
        tiles=tuple(joined(tile, codes) for tile in kept),
        skipped=tuple(tile.code for tile in tiles if tile.code not in codes),
        crosses=met_twice(block_crosses((x, y), (nx, ny), frame=frame, overlap=overlap), kept),
        blocks=(around(kept),),
    )


def cut_outlines(drawing: Drawing) -> tuple[Path, ...]:
    """Return the closed outlines that are cut."""
    return tuple(item for item in drawing.on(Layer.CUT) if isinstance(item, Path) and item.closed)


def _box(path: Path) -> Box:
    return box_of(path)


def calm_shift(
    starts: NDArray[np.float64],
    ends: NDArray[np.float64],
    length: float,
    page: float,
    overlap: float,
) -> float:
    """Return how far a row of tiles best starts before the drawing.

    Parameters
    ----------
    starts, ends : ndarray
        Where each closed cut starts and ends along the row. [mm]
    length : float
        Length of the drawing along the row. [mm]
    page : float
        Length of one window. [mm]
    overlap : float
        Shared length of neighbours. [mm]

    Returns
    -------
    float
        Shift, 0 up to the slack of the row. [mm]
    """
    count = tiles_needed(length, page=page, overlap=overlap)
    slack = count * (page - overlap) + overlap - length
    if count == 1 or not starts.size:
        return 0.5 * slack
    tried = np.arange(0.0, slack + 1e-6, _SHIFT_STEP)
    pitch = page - overlap
    seams = pitch * np.arange(1, count) + 0.5 * overlap  # from the row's start
    places = seams[:, None, None] - tried[None, :, None]
    crossed = (starts < places) & (ends > places)
    weight = np.where(ends - starts < _SMALL, _WEIGHT, 1.0)
    cost = (crossed * weight).sum(axis=(0, 2))
    best = np.flatnonzero(cost == cost.min())
    return float(tried[best[np.argmin(np.abs(tried[best] - 0.5 * slack))]])


def block_tiles(
    origin: Point,
    *,
    counts: tuple[int, int],
    frame: Frame,
    overlap: float,
    first: tuple[int, int] = (0, 0),
) -> tuple[Tile, ...]:
    """Return a block of tiles that are glued together, row by row from above.

    Parameters
    ----------
    origin : tuple of float
        Lower left of the block on the drawing. [mm]
    counts : tuple of int
        Columns and rows.
    frame : Frame
        The page.
    overlap : float
        Shared length of neighbours. [mm]
    first : tuple of int
        Row and column of the block's upper left tile in the codes.
    """
    nx, ny = counts
    width, height = frame.window
    tiles: list[Tile] = []
    for j in range(ny):
        for i in range(nx):
            x = origin[0] + i * (width - overlap)
            y = origin[1] + (ny - 1 - j) * (height - overlap)
            row, column = first[0] + j, first[1] + i
            near = Neighbours(
                left=tile_code(row, column - 1) if i else None,
                right=tile_code(row, column + 1) if i < nx - 1 else None,
                below=tile_code(row + 1, column) if j < ny - 1 else None,
                above=tile_code(row - 1, column) if j else None,
            )
            tiles.append(
                Tile(
                    code=tile_code(row, column),
                    row=row,
                    column=column,
                    window=(x, y, x + width, y + height),
                    neighbours=near,
                )
            )
    return tuple(tiles)


def block_crosses(
    origin: Point, counts: tuple[int, int], *, frame: Frame, overlap: float
) -> tuple[Point, ...]:
    """Return the registration crosses of a block: on the centre lines of its overlaps.

    They stand where four tiles meet, halfway along every seam, and near its outer ends.
    """
    xs = _seams(origin[0], counts[0], frame.window[0], overlap)
    ys = _seams(origin[1], counts[1], frame.window[1], overlap)
    across = _stops(origin[0], counts[0], frame.window[0], overlap)
    along = _stops(origin[1], counts[1], frame.window[1], overlap)
    found = {(x, y) for x in xs for y in along} | {(x, y) for x in across for y in ys}
    return tuple(sorted(found))


_INSET = 12.0  # mm, of the outermost crosses from the end of a seam


def _seams(start: float, count: int, page: float, overlap: float) -> list[float]:
    pitch = page - overlap
    return [start + i * pitch + 0.5 * overlap for i in range(1, count)]


def _stops(start: float, count: int, page: float, overlap: float) -> list[float]:
    end = start + count * (page - overlap) + overlap
    knots = [start + _INSET, *_seams(start, count, page, overlap), end - _INSET]
    return [*knots, *(0.5 * (a + b) for a, b in pairwise(knots))]


def _cell(tile: Tile, overlap: float) -> Box:
    # what a tile alone answers for: up to the centre lines of its overlaps
    left, bottom, right, top = tile.window
    near, half = tile.neighbours, 0.5 * overlap
    return (
        left + half if near.left else left,
        bottom + half if near.below else bottom,
        right - half if near.right else right,
        top - half if near.above else top,
    )


def not_empty(tiles: Sequence[Tile], drawing: Drawing, overlap: float) -> tuple[Tile, ...]:
    """Return the tiles that show something which no neighbour shows as well."""
    shapes = shapes_of(drawing.primitives)
    cells = [shapely.box(*_cell(tile, overlap)) for tile in tiles]
    kept = tuple(
        tile
        for tile, cell in zip(tiles, cells, strict=True)
        if bool(np.any(shapely.intersects(shapes, cell)))
    )
    if not kept:
        raise DomainError(f'the drawing "{drawing.name}" is empty; there is nothing to print')
    return kept


def joined(tile: Tile, codes: set[str]) -> Tile:
    """Return a tile that joins printed tiles only."""

    def kept(code: str | None) -> str | None:
        return code if code in codes else None

    near = tile.neighbours
    return Tile(
        code=tile.code,
        row=tile.row,
        column=tile.column,
        window=tile.window,
        neighbours=Neighbours(
            left=kept(near.left),
            right=kept(near.right),
            below=kept(near.below),
            above=kept(near.above),
        ),
    )


def met_twice(crosses: Sequence[Point], tiles: Sequence[Tile]) -> tuple[Point, ...]:
    """Return the crosses that stand on two pages or more; one alone registers nothing."""
    return tuple(point for point in crosses if sum(holds(tile, point) for tile in tiles) > 1)


def holds(tile: Tile, point: Point) -> bool:
    """Return whether a point of the drawing lies in a tile's window."""
    left, bottom, right, top = tile.window
    return left <= point[0] <= right and bottom <= point[1] <= top


def around(tiles: Sequence[Tile]) -> Box:
    """Return the box round all windows. [mm]"""
    return (
        min(tile.window[0] for tile in tiles),
        min(tile.window[1] for tile in tiles),
        max(tile.window[2] for tile in tiles),
        max(tile.window[3] for tile in tiles),
    )
