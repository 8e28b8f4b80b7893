"""The plan of the flat parts: on one large page, or on pages for a home printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from foamwright.drawing.layout import (
    Block,
    Choice,
    Laid,
    block_seams,
    block_size,
    lay_on_page,
    lay_on_tiles,
)
from foamwright.drawing.lettering import slug
from foamwright.drawing.model import (
    Box,
    Drawing,
    Layer,
    Point,
    Primitive,
    Text,
    iso_pen,
    rectangle,
    shifted,
)
from foamwright.drawing.pages import (
    SCALE_NOTE,
    assembly_map,
    assembly_words,
    check_bar,
    front_pages,
    seam_bar,
    tiled_pages,
)
from foamwright.drawing.paper import Frame, Paper
from foamwright.drawing.part import figure_at, part_figure
from foamwright.drawing.pdf import MAX_SIDE, Page, pdf_bytes
from foamwright.drawing.sections import (
    WIDTH,
    PlanWords,
    Section,
    cautions,
    findings_list,
    flowed,
    heading,
    line_key,
    not_drawn_list,
    notes_list,
    paragraph,
    parts_list,
    space,
    stock_list,
    title_block,
    together,
)
from foamwright.drawing.tiling import (
    OVERLAP,
    Tile,
    Tiling,
    around,
    block_crosses,
    block_tiles,
    joined,
    met_twice,
    not_empty,
)
from foamwright.errors import DomainError
from foamwright.flat.model import FlatSet

_NO_WORDS = PlanWords()
_HEIGHTS = (420.0, 594.0, 841.0, 914.0, 1189.0)  # mm: what roll and sheet printers take
_SIDE = 20.0  # mm, border at the left, ISO 5457 (from memory)
_BORDER = 12.0  # mm, border elsewhere: 10 after ISO 5457, 2 more for the check bar
_PAD = 8.0  # mm, inside the frame
_LONG = 1.6  # a page longer than this times its height is awkward to handle
_AWKWARD = 0.25  # of the paper, for each further multiple
_WALL = 6  # pages side by side in the map
_BETWEEN = 25.0  # mm, between blocks on the drawing


def plan_drawing(flat: FlatSet, *, words: PlanWords = _NO_WORDS) -> Drawing:
    """Lay all flat parts out, true size, on one large page with all that a plan must say.

    Parameters
    ----------
    flat : FlatSet
        The parts of one variant. [m]
    words : PlanWords
        What the plan says beside its parts.

    Returns
    -------
    Drawing
        One page. [mm]

    Notes
    -----
    Parts are packed by their boxes; nesting of outlines on sheets is another room's work.
    """
    choices = _choices(flat)
    column = _column(flat, words)
    heights = {*_HEIGHTS, max(_HEIGHTS[-1], _least_height(choices))}
    tried = [_tried(choices, column, height) for height in sorted(heights)]
    usable = [page for page in tried if max(page.width, page.height) <= MAX_SIDE]
    if not usable:
        raise DomainError("a part is too large for any page; print the plan in tiles")
    best = min(usable, key=lambda page: page.cost)
    return _composed(flat, words, best, column)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _PageSize:
    laid: tuple[Laid, ...]
    width: float  # mm, whole page
    height: float  # mm
    parts_width: float  # mm
    columns: int

    @property
    def cost(self) -> float:
        """Paper used, with a surcharge for a page that is a long, awkward strip. [mm²]"""
        ratio = max(self.width / self.height, self.height / self.width)
        return self.width * self.height * (1.0 + _AWKWARD * max(0.0, ratio - _LONG))


def _least_height(choices: Sequence[Choice]) -> float:
    # a page for a part that is too large for any roll: custom, but true size
    tallest = max(min(figure.size[1] for figure in choice) for choice in choices)
    return 10.0 * ceil((tallest + 2.0 * (_BORDER + _PAD)) / 10.0)


def _choices(flat: FlatSet) -> list[Choice]:
    if not flat.parts:
        raise DomainError(f'"{flat.design}, {flat.variant}" has no flat part; nothing to print')
    return [
        tuple(
            part_figure(
                part,
                revision=flat.revision,
                quarter_turn=turned,
            )
            for turned in (False, True)
        )
        for part in flat.parts
    ]


def _tried(choices: Sequence[Choice], column: Sequence[Section], height: float) -> _PageSize:
    room = height - 2.0 * (_BORDER + _PAD)
    laid, width = lay_on_page(choices, height=room)
    columns = len(flowed(column, column=WIDTH, height=room - _TITLE))
    whole = _SIDE + _BORDER + 2.0 * _PAD + width + columns * (WIDTH + 8.0)
    return _PageSize(laid=laid, width=whole, height=height, parts_width=width, columns=columns)


_TITLE = 45.0  # mm, kept free above the title block's foot


def _column(flat: FlatSet, words: PlanWords) -> tuple[Section, ...]:
    return (
        *findings_list(words.findings),
        space(),
        *together(
            (
                heading("How to use this plan"),
                paragraph(
                    "Every outline is true size, seen with the named face up. Parts with two "
                    "hands are drawn once: cut one as drawn and one with the outline turned over.",
                    sign="–",
                ),
                paragraph("Right and left are meant from the pilot's seat.", sign="–"),
            )
        ),
        space(),
        *line_key(),
        space(),
        *cautions(),
        space(),
        *notes_list(words.notes),
        space(),
        *parts_list(flat),
        space(),
        *stock_list(flat, words.stock_words),
        space(),
        *not_drawn_list(flat),
    )


def _composed(
    flat: FlatSet, words: PlanWords, page: _PageSize, column: Sequence[Section]
) -> Drawing:
    width, height = page.width, page.height
    frame = (_SIDE, _BORDER, width - _BORDER, height - _BORDER)
    items: list[Primitive] = [rectangle(Layer.NOTE, frame, pen=iso_pen(0.7))]
    origin = (_SIDE + _PAD, _BORDER + _PAD)
    for item in page.laid:
        corner = (origin[0] + item.corner[0], origin[1] + item.corner[1])
        items += figure_at(item.figure, corner)
    room = height - 2.0 * (_BORDER + _PAD)
    for index, placed in enumerate(flowed(column, column=WIDTH, height=room - _TITLE)):
        x = width - _BORDER - (page.columns - index) * (WIDTH + 8.0)
        items += shifted(placed, x, height - _BORDER - _PAD)
    block = _title(flat, words, kind="parts, true size", scale="1:1", sheet="1 of 1")
    items += shifted(block.primitives, width - _BORDER - WIDTH, _BORDER + block.height - 1.0)
    items += check_bar((_SIDE + 60.0, 4.0), upright=False)
    items += check_bar((_SIDE - 6.0, _BORDER + 60.0), upright=True)
    note = Text(layer=Layer.NOTE, at=(_SIDE + 170.0, 4.0), text=SCALE_NOTE, height=2.5)
    return Drawing(
        name=slug(f"{flat.design} {flat.variant} plan"),
        title=f"{flat.design}, {flat.variant}: parts, true size",
        primitives=(*items, note),
        bounds=(0.0, 0.0, width, height),
    )


def _title(flat: FlatSet, words: PlanWords, *, kind: str, scale: str, sheet: str) -> Section:
    return title_block(
        title=flat.design,
        subtitle=flat.variant,
        kind=kind,
        number=slug(f"{flat.design} {flat.variant} {flat.revision}").upper(),
        revision=flat.revision,
        scale=scale,
        sheet=sheet,
        words=words,
    )


# ---------------------------------------------------------------- pages


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlanPages:
    """A plan on pages: the tiles, and the written pages in front of them."""

    tiling: Tiling
    title: str
    front: tuple[Page, ...]
    tiles: tuple[Page, ...]

    @property
    def pages(self) -> tuple[Page, ...]:
        """All pages in the order of printing."""
        return (*self.front, *self.tiles)

    def pdf(self) -> bytes:
        """Return all pages as a PDF."""
        return pdf_bytes(self.pages, title=self.title)


def plan_pages(
    flat: FlatSet, *, paper: Paper, words: PlanWords = _NO_WORDS, overlap: float = OVERLAP
) -> PlanPages:
    """Lay all flat parts out, true size, on pages of a paper that a home printer takes.

    Small parts lie whole on one page; large ones across as few as can be, glued together.

    Parameters
    ----------
    flat : FlatSet
        The parts of one variant. [m]
    paper : Paper
        The paper; upright or on its long side, whichever needs fewer pages.
    words : PlanWords
        What the plan says beside its parts.
    overlap : float
        What neighbouring pages show alike. [mm]
    """
    choices = _choices(flat)
    frames = [Frame(paper=paper, landscape=way) for way in (False, True)]
    tried = [_wall(flat, choices, frame, overlap) for frame in frames]
    tiling = min(tried, key=lambda tiles: len(tiles.tiles))
    name = f"{flat.design}, {flat.variant}, revision {flat.revision}: parts, true size"
    front_frame = Frame(paper=paper, landscape=False)
    column = _front(flat, words, tiling, front_frame)
    leaves = flowed(column, column=front_frame.window[0], height=front_frame.window[1] - 4.0)
    total = len(leaves) + len(tiling.tiles)
    return PlanPages(
        tiling=tiling,
        title=name,
        front=front_pages(leaves, frame=front_frame, name=name, total=total),
        tiles=tiled_pages(tiling, name=name, first=len(leaves) + 1, total=total),
    )


def _front(flat: FlatSet, words: PlanWords, tiling: Tiling, frame: Frame) -> tuple[Section, ...]:
    count = len(tiling.tiles)
    width = frame.window[0]
    return (
        _title(flat, words, kind="parts on pages", scale="1:1", sheet=f"{count} pages of parts"),
        space(),
        assembly_map(tiling, width=width, height=80.0),
        *(paragraph(text, width=width, sign="–") for text in assembly_words(tiling)),
        *_column(flat, words),
    )


def _wall(flat: FlatSet, choices: Sequence[Choice], frame: Frame, overlap: float) -> Tiling:
    blocks = lay_on_tiles(choices, window=frame.window, overlap=overlap)
    items: list[Primitive] = []
    tiles: list[Tile] = []
    crosses: list[Point] = []
    for block, (row, column), origin in _hung(blocks, frame, overlap):
        seams = block_seams(block, window=frame.window, overlap=overlap, origin=origin)
        for item in block.laid:
            corner = (origin[0] + item.corner[0], origin[1] + item.corner[1])
            items += figure_at(item.figure, corner, seams=seams)
        items += seam_bar(items, seams)
        tiles += block_tiles(
            origin, counts=block.counts, frame=frame, overlap=overlap, first=(row, column)
        )
        crosses += block_crosses(origin, block.counts, frame=frame, overlap=overlap)
    drawing = Drawing(
        name=slug(f"{flat.design} {flat.variant} plan {frame.paper.name}"),
        title=f"{flat.design}, {flat.variant}: parts, true size",
        primitives=tuple(items),
        bounds=around(tiles),
    )
    kept = not_empty(tiles, drawing, overlap)
    codes = {tile.code for tile in kept}
    return Tiling(
        drawing=drawing,
        frame=frame,
        overlap=overlap,
        tiles=tuple(
            sorted((joined(tile, codes) for tile in kept), key=lambda t: (t.row, t.column))
        ),
        skipped=tuple(tile.code for tile in tiles if tile.code not in codes),
        crosses=met_twice(crosses, kept),
        blocks=_frames_of(blocks, frame, overlap),
    )


def _frames_of(blocks: Sequence[Block], frame: Frame, overlap: float) -> tuple[Box, ...]:
    boxes: list[Box] = []
    for block, _, (x, y) in _hung(blocks, frame, overlap):
        width, height = block_size(block, window=frame.window, overlap=overlap)
        boxes.append((x, y, x + width, y + height))
    return tuple(boxes)


def _hung(
    blocks: Sequence[Block], frame: Frame, overlap: float
) -> list[tuple[Block, tuple[int, int], Point]]:
    # blocks hang in rows like pictures on a wall: tall ones first, at most so many pages wide
    most = max(_WALL, *(block.counts[0] for block in blocks)) if blocks else _WALL
    hung: list[tuple[Block, tuple[int, int], Point]] = []
    row, column, deep, x, y = 0, 0, 0, 0.0, 0.0
    tallest = 0.0
    for block in sorted(blocks, key=lambda item: (-item.counts[1], -item.counts[0])):
        width, height = block_size(block, window=frame.window, overlap=overlap)
        if column and column + block.counts[0] > most:
            row, column, y, x = row + deep, 0, y - tallest - _BETWEEN, 0.0
            deep, tallest = 0, 0.0
        hung.append((block, (row, column), (x, y - height)))
        column, x = column + block.counts[0], x + width + _BETWEEN
        deep, tallest = max(deep, block.counts[1]), max(tallest, height)
    return hung
