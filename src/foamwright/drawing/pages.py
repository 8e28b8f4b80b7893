"""Pages of a tiled plan: what is printed round the window, and the pages in front."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
from shapely import STRtree, box
from shapely.geometry import LineString

from foamwright.drawing.geometry import shape_of
from foamwright.drawing.label import LARGE
from foamwright.drawing.lettering import extent, text_width
from foamwright.drawing.model import (
    Anchor,
    Area,
    Box,
    Circle,
    Ink,
    Layer,
    Path,
    Point,
    Primitive,
    Text,
    corners,
    iso_pen,
    line,
    rectangle,
    shifted,
)
from foamwright.drawing.paper import Frame
from foamwright.drawing.pdf import Page, Window
from foamwright.drawing.sections import Section
from foamwright.drawing.tiling import Tile, Tiling, cut_outlines, holds

BAR = 100.0  # mm, check bar
SCALE_NOTE = "Print at 100 %, scaling none. Check that both bars measure 100 mm."
_TICK = 3.0  # mm
_THIN = iso_pen(0.13)
_CROSS = 4.0  # mm, half of a registration cross
_RING = 2.0  # mm
_BAR_ROOM = 6.0  # mm, a bar across a seam stays so far from the ends of the seam
_BAR_FROM = 30.0  # mm, right of the window: the map and the code stand before it


def tiled_pages(
    tiling: Tiling, *, name: str, first: int = 1, total: int | None = None
) -> tuple[Page, ...]:
    """Return the pages of a tiling, row by row.

    Parameters
    ----------
    tiling : Tiling
        The tiles.
    name : str
        Printed at the head of every page.
    first : int
        Number of the first page.
    total : int, optional
        Number of all pages; by default those of the tiling.
    """
    pages: list[Page] = []
    width, height = tiling.frame.size
    count = total or len(tiling.tiles)
    for index, tile in enumerate(tiling.tiles):
        head = f"{name}; page {first + index} of {count}"
        furniture = (
            *page_furniture(tiling.frame, head=head),
            *_tile_furniture(tiling, tile),
            *_crosses(tiling, tile),
        )
        pages.append(
            Page(
                width=width,
                height=height,
                primitives=furniture,
                window=Window(drawing=tiling.drawing, seen=tile.window, at=tiling.frame.corner),
            )
        )
    return tuple(pages)


def check_bar(start: Point, *, upright: bool) -> tuple[Primitive, ...]:
    """Return a bar of 100 mm with ticks at its ends and middle, and its length in words."""
    x, y = start

    def at(along: float, off: float) -> Point:
        return (x - off, y + along) if upright else (x + along, y + off)

    ticks = [
        line(Layer.CHECK, at(along, -size), at(along, size))
        for along, size in ((0.0, 0.5 * _TICK), (0.5 * BAR, 0.25 * _TICK), (BAR, 0.5 * _TICK))
    ]
    words = Text(
        layer=Layer.CHECK,
        at=at(0.25 * BAR, 0.8),
        text="check: 100 mm",
        height=2.0,
        anchor=Anchor.MIDDLE,
        angle=0.5 * pi if upright else 0.0,
    )
    return (line(Layer.CHECK, at(0.0, 0.0), at(BAR, 0.0)), *ticks, words)


def seam_bar(drawn: Sequence[Primitive], seams: Sequence[LineString]) -> tuple[Primitive, ...]:
    """Return a bar of 200 mm across the first seam that has free room for it, or nothing.

    Parameters
    ----------
    drawn : sequence of Primitive
        What is drawn already. [mm]
    seams : sequence of LineString
        Centre lines of the overlaps of one block, level or upright. [mm]
    """
    tree = STRtree([shape_of(item) for item in drawn])
    for seam in seams:
        (x0, y0), (x1, y1) = seam.coords
        upright = y0 == y1
        end = x1 - x0 if upright else y1 - y0
        for step in np.arange(_BAR_ROOM, end - _BAR_ROOM, 2.0):
            start = (x0 + step, y0 - BAR) if upright else (x0 - BAR, y0 + step)
            bar = _long_bar(start, upright=upright)
            if not tree.query(box(*extent(bar)).buffer(2.0), predicate="intersects").size:
                return bar
    return ()


def _long_bar(start: Point, *, upright: bool) -> tuple[Primitive, ...]:
    x, y = start

    def at(along: float, off: float) -> Point:
        return (x - off, y + along) if upright else (x + along, y + off)

    ticks = [
        line(Layer.CHECK, at(along, -0.5 * _TICK), at(along, 0.5 * _TICK))
        for along in (0.0, BAR, 2.0 * BAR)
    ]
    words = Text(
        layer=Layer.CHECK,
        at=at(0.5 * BAR, 0.8),
        text="check after gluing: 200 mm",
        height=2.0,
        anchor=Anchor.MIDDLE,
        angle=0.5 * pi if upright else 0.0,
    )
    return (line(Layer.CHECK, at(0.0, 0.0), at(2.0 * BAR, 0.0)), *ticks, words)


def page_furniture(frame: Frame, *, head: str) -> tuple[Primitive, ...]:
    """Return what every page carries in its margins: both check bars, scale note, heading."""
    height = frame.size[1]
    left, bottom = frame.corner
    bar_start = left + _BAR_FROM
    return (
        *check_bar((bar_start, bottom - 5.0), upright=False),
        *check_bar((left - 3.5, bottom + 16.0), upright=True),
        _small((bar_start + BAR + 4.0, bottom - 5.5), SCALE_NOTE.split(". ")[0] + "."),
        _small((left + 12.0, height - frame.margin + 1.5), f"{head}; {frame.paper.name}"),
    )


def _small(at: Point, text: str) -> Text:
    return Text(layer=Layer.NOTE, at=at, text=text, height=2.0)


# ---------------------------------------------------------------- tiles


def _tile_furniture(tiling: Tiling, tile: Tile) -> tuple[Primitive, ...]:
    frame = tiling.frame
    (left, bottom), (wide, tall) = frame.corner, frame.window
    right, top = left + wide, bottom + tall
    near = tile.neighbours
    code = Text(
        layer=Layer.NOTE, at=(left + 10.0, bottom - 6.5), text=tile.code, height=LARGE, bold=True
    )
    items: list[Primitive] = [
        rectangle(Layer.NOTE, (left, bottom, right, top), pen=_THIN),
        code,
        *_small_map(tiling, tile, (left - 8.0, bottom - 7.5, left + 8.0, bottom - 0.5)),
    ]
    middle = (0.5 * (left + right), 0.5 * (bottom + top))
    upright = 0.5 * pi
    if near.right:
        items.append(_joins(near.right, (right + 3.2, middle[1]), upright))
    if near.left:
        items.append(_joins(near.left, (left - 1.2, top - 40.0), upright))
    if near.above:
        items.append(_joins(near.above, (middle[0] + 30.0, top + 1.5), 0.0))
    if near.below:
        items.append(_joins(near.below, (left + _BAR_FROM + 0.75 * BAR, bottom - 3.4), 0.0))
    return (*items, *_seam_ticks(tiling, tile))


def _joins(code: str, at: Point, angle: float) -> Text:
    return Text(
        layer=Layer.NOTE,
        at=at,
        text=f"joins {code}",
        height=2.0,
        anchor=Anchor.MIDDLE,
        angle=angle,
        bold=True,
    )


def _seam_ticks(tiling: Tiling, tile: Tile) -> list[Primitive]:
    # where to trim: from tick to tick, outside the drawing
    (left, bottom), (wide, tall) = tiling.frame.corner, tiling.frame.window
    half = 0.5 * tiling.overlap
    right, top = left + wide, bottom + tall
    near = tile.neighbours
    items: list[Primitive] = []
    for code, x in ((near.left, left + half), (near.right, right - half)):
        if code:
            items += [
                line(Layer.NOTE, (x, top), (x, top + 3.0), pen=_THIN),
                line(Layer.NOTE, (x, bottom), (x, bottom - 3.0), pen=_THIN),
            ]
    for code, y in ((near.below, bottom + half), (near.above, top - half)):
        if code:
            items += [
                line(Layer.NOTE, (left, y), (left - 2.5, y), pen=_THIN),
                line(Layer.NOTE, (right, y), (right + 3.0, y), pen=_THIN),
            ]
    return items


def _crosses(tiling: Tiling, tile: Tile) -> list[Primitive]:
    (left, bottom), seen = tiling.frame.corner, tile.window
    items: list[Primitive] = []
    for point in tiling.crosses:
        if holds(tile, point):
            x, y = point[0] - seen[0] + left, point[1] - seen[1] + bottom
            items += [
                line(Layer.CHECK, (x - _CROSS, y), (x + _CROSS, y), pen=_THIN),
                line(Layer.CHECK, (x, y - _CROSS), (x, y + _CROSS), pen=_THIN),
                Circle(layer=Layer.CHECK, centre=(x, y), radius=_RING, pen=_THIN),
            ]
    return items


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fit:
    """Drawing to map: a scale and a shift."""

    scale: float
    dx: float
    dy: float

    def point(self, point: Point) -> Point:
        return (point[0] * self.scale + self.dx, point[1] * self.scale + self.dy)

    def box(self, box: Box) -> Box:
        return (*self.point((box[0], box[1])), *self.point((box[2], box[3])))


def _small_map(tiling: Tiling, tile: Tile, room: Box) -> list[Primitive]:
    """Return a thumbnail of the pages with this one black."""
    fit = _fit(_whole(tiling), room)
    items: list[Primitive] = [
        rectangle(Layer.NOTE, fit.box(other.window), pen=_THIN) for other in tiling.tiles
    ]
    items.append(Area(layer=Layer.NOTE, rings=(corners(fit.box(tile.window)),), ink=Ink.BLACK))
    return items


def _whole(tiling: Tiling) -> Box:
    windows = [tile.window for tile in tiling.tiles]
    return (
        min(window[0] for window in windows),
        min(window[1] for window in windows),
        max(window[2] for window in windows),
        max(window[3] for window in windows),
    )


def _fit(whole: Box, room: Box) -> _Fit:
    scale = min(
        (room[2] - room[0]) / (whole[2] - whole[0]), (room[3] - room[1]) / (whole[3] - whole[1])
    )
    return _Fit(
        scale=scale,
        dx=0.5 * (room[0] + room[2]) - 0.5 * scale * (whole[0] + whole[2]),
        dy=0.5 * (room[1] + room[3]) - 0.5 * scale * (whole[1] + whole[3]),
    )


# ---------------------------------------------------------------- pages in front


def assembly_map(tiling: Tiling, *, width: float, height: float) -> Section:
    """Return the key map: every page with its code, the parts on them in small."""
    whole = _whole(tiling)
    scale = min(width / (whole[2] - whole[0]), height / (whole[3] - whole[1]))
    tall = scale * (whole[3] - whole[1])
    fit = _fit(whole, (0.0, -tall, width, 0.0))
    items: list[Primitive] = []
    for path in cut_outlines(tiling.drawing):
        points = tuple(fit.point(point) for point in path.points)
        items.append(Path(layer=Layer.NOTE, points=points, closed=True, pen=_THIN))
    for tile in tiling.tiles:
        box = fit.box(tile.window)
        items.append(rectangle(Layer.NOTE, box, pen=iso_pen(0.18, (12.0, 3.0))))
        items += _map_code(tile.code, box)
    for block in tiling.blocks:
        items.append(rectangle(Layer.NOTE, fit.box(block), pen=iso_pen(0.35)))
    return Section(primitives=tuple(items), height=tall + 5.0)


def _map_code(code: str, box: Box) -> list[Primitive]:
    size = min(LARGE, 0.3 * (box[3] - box[1]), 0.3 * (box[2] - box[0]))
    x, y = 0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3]) - 0.5 * size
    half = 0.5 * text_width(code, height=size, bold=True) + 0.3 * size
    patch = (x - half, y - 0.3 * size, x + half, y + 1.3 * size)
    return [
        Area(layer=Layer.NOTE, rings=(corners(patch),), ink=Ink.PAPER),
        Text(layer=Layer.NOTE, at=(x, y), text=code, height=size, anchor=Anchor.MIDDLE, bold=True),
    ]


def assembly_words(tiling: Tiling) -> tuple[str, ...]:
    """Return how the pages are printed and put together, in words."""
    words = [
        f"{SCALE_NOTE} Else look for “actual size” or 100 % where you print.",
        "Pages framed together in the map are glued together; the others stand alone.",
        f"Lay a page {tiling.overlap:g} mm over its neighbour until the ringed crosses meet.",
        "Hold both against a window to see them. To trim a page, cut from tick to tick.",
        "After gluing, measure the bars that cross a seam: 200 mm.",
        "Cut parts straight through the seams of the paper; a seam means nothing for the part.",
    ]
    if tiling.skipped:
        words.append("Not printed, since they would be empty: " + ", ".join(tiling.skipped) + ".")
    return tuple(words)


def front_pages(
    flowed: Sequence[Sequence[Primitive]], *, frame: Frame, name: str, total: int
) -> tuple[Page, ...]:
    """Return pages of flowed sections with the same margins as the tiles."""
    width, height = frame.size
    left = frame.corner[0]
    top = height - frame.margin
    pages: list[Page] = []
    for index, items in enumerate(flowed):
        head = f"{name}; page {index + 1} of {total}"
        furniture = page_furniture(frame, head=head)
        pages.append(
            Page(
                width=width,
                height=height,
                primitives=(*furniture, *shifted(items, left, top - 2.0)),
            )
        )
    return tuple(pages)
