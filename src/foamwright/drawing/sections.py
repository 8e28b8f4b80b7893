"""The written parts of a plan: title block, line key, parts list, notes.

Every section hangs from its upper left corner at the origin, so that sections flow down a
column or from page to page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from foamwright.drawing.label import LEADING, MIDDLE, SMALL, double_arrow
from foamwright.drawing.lettering import text_width, wrapped, wrapped_code
from foamwright.drawing.model import (
    PENS,
    Anchor,
    Layer,
    Path,
    Pen,
    Point,
    Primitive,
    Text,
    iso_pen,
    line,
    rectangle,
    shifted,
)
from foamwright.drawing.part import MM, area_words, mass_words
from foamwright.findings import Finding, Level
from foamwright.flat.model import FlatPart, FlatSet, NotDrawn

WIDTH = 180.0  # mm, of a title block after ISO 7200
_CAPTION = 1.8  # mm, capitals of the captions in the title block
_STEP = LEADING * SMALL  # mm, line to line of notes
_FRAME = iso_pen(0.35)
_THIN = iso_pen(0.13)


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Something written or drawn that hangs from its upper left corner."""

    primitives: tuple[Primitive, ...]  # mm, y <= 0
    height: float  # mm, with the space below it
    keep: bool = False  # stays on one page with what follows


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanWords:
    """What a plan says beside its parts."""

    owner: str = ""  # ISO 7200: legal owner
    licence: str = ""
    issued: str = ""  # ISO 7200: date of issue, as written by the maker
    maker: str = "Foamwright"  # ISO 7200: creator
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    stock_words: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


#: Short cautions; each speaks of a thing done with this very plan (common practice).
CAUTIONS = (
    "Knife: new blade, metal rule, several light passes, holding hand behind the blade. Cap it.",
    "Hot glue burns: keep cold water at hand. Try it on scrap; it can melt the core.",
    "Solvents, many sprays and ordinary cyanoacrylate dissolve polystyrene foam: try on scrap.",
    "Hot wire: polystyrene only, with air moving. Never polyurethane or PVC: poisonous fumes.",
    "Propeller off while you set up. A motor may start the instant the pack is plugged in.",
)

#: What each line means, in the builder's words.
LINE_WORDS: Mapping[Layer, str] = MappingProxyType(
    {
        Layer.CUT: "cut through",
        Layer.HALF_CUT: "score: cut half way, far skin left whole",
        Layer.FOLD: "fold; up or down: the way the edges go, as the sheet lies before you",
        Layer.BEVEL: "bevel this edge, angle beside it",
        Layer.GLUE: "glue face",
        Layer.TAPE: "tape",
        Layer.MARK: "mark on the sheet, do not cut: balance, cut-down lines, joints",
    }
)


def heading(text: str) -> Section:
    """Return a heading over a section."""
    item = Text(layer=Layer.NOTE, at=(0.0, -MIDDLE), text=text, height=MIDDLE, bold=True)
    return Section(primitives=(item,), height=MIDDLE + 2.5, keep=True)


def paragraph(text: str, *, width: float = WIDTH, sign: str = "") -> Section:
    """Return a wrapped paragraph; `sign` hangs before it, such as a bullet or a level."""
    indent = 5.0 if sign else 0.0
    rows = wrapped(text, width=width - indent, height=SMALL)
    items: list[Primitive] = [
        Text(layer=Layer.NOTE, at=(indent, -SMALL - k * _STEP), text=row, height=SMALL)
        for k, row in enumerate(rows)
    ]
    if sign:
        items.append(Text(layer=Layer.NOTE, at=(0.0, -SMALL), text=sign, height=SMALL, bold=True))
    return Section(primitives=tuple(items), height=len(rows) * _STEP + 0.8)


def space(height: float = 4.0) -> Section:
    """Return blank space between sections. [mm]"""
    return Section(primitives=(), height=height)


def together(sections: Sequence[Section]) -> tuple[Section, ...]:
    """Return sections that stay on one page, if a page holds them all."""
    return (*(replace(section, keep=True) for section in sections[:-1]), *sections[-1:])


# ---------------------------------------------------------------- title block


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    caption: str
    text: str
    width: float  # mm
    height: float = MIDDLE  # mm, of the capitals
    bold: bool = False


def title_block(
    *,
    title: str,
    subtitle: str,
    kind: str,
    number: str,
    revision: str,
    scale: str,
    sheet: str,
    words: PlanWords,
    width: float = WIDTH,
) -> Section:
    """Return a title block with the data fields of ISO 7200, 180 mm wide or less.

    References
    ----------
    .. [1] ISO 7200:2004, data fields in title blocks (from memory).
    """
    owner = words.owner or words.licence
    rows = (
        (
            14.0,
            (
                _Cell(caption="title", text=title, width=74.0, height=5.0, bold=True),
                _Cell(caption="variant", text=subtitle, width=60.0),
                _Cell(caption="document", text=kind, width=46.0),
            ),
        ),
        (
            11.0,
            (
                _Cell(caption="identification number", text=number, width=74.0),
                _Cell(caption="revision", text=revision, width=20.0, bold=True),
                _Cell(caption="scale", text=scale, width=20.0),
                _Cell(caption="units", text="mm", width=20.0),
                _Cell(caption="sheet", text=sheet, width=46.0),
            ),
        ),
        (
            11.0,
            (
                _Cell(caption="owner, licence", text=owner, width=74.0, height=SMALL),
                _Cell(caption="drawn by", text=words.maker, width=40.0, height=SMALL),
                _Cell(caption="approved by", text="", width=33.0, height=SMALL),
                _Cell(caption="date of issue", text=words.issued, width=33.0, height=SMALL),
            ),
        ),
    )
    items: list[Primitive] = []
    y = 0.0
    for height, cells in rows:
        x = 0.0
        for cell in cells:
            fitted = replace(cell, width=cell.width * width / WIDTH)
            items += _cell(fitted, (x, y), height)
            x += fitted.width
        y -= height
    items.append(rectangle(Layer.NOTE, (0.0, y, width, 0.0), pen=iso_pen(0.7)))
    return Section(primitives=tuple(items), height=-y + 1.0)


def _cell(cell: _Cell, corner: Point, height: float) -> list[Primitive]:
    x, y = corner
    fitted = _fitted(cell)
    return [
        rectangle(Layer.NOTE, (x, y - height, x + cell.width, y), pen=_FRAME),
        Text(
            layer=Layer.NOTE, at=(x + 1.5, y - 1.3 - _CAPTION), text=cell.caption, height=_CAPTION
        ),
        Text(
            layer=Layer.NOTE,
            at=(x + 1.5, y - height + 1.9),
            text=fitted[0],
            height=fitted[1],
            bold=cell.bold,
        ),
    ]


def _fitted(cell: _Cell) -> tuple[str, float]:
    # a long name is lettered smaller, never cut off
    width = text_width(cell.text, height=cell.height, bold=cell.bold)
    return cell.text, cell.height * min(1.0, (cell.width - 3.0) / max(width, 1e-9))


# ---------------------------------------------------------------- line key


def line_key(*, width: float = WIDTH) -> tuple[Section, ...]:
    """Return the key to the lines; samples lie on the note layer, so nothing of it is cut."""
    rows = [_key_row(PENS[layer], words, width) for layer, words in LINE_WORDS.items()]
    middle = (12.5, -1.5)
    arrow = double_arrow(Layer.NOTE, middle, angle=0.0, length=14.0)
    words = paragraph("stiff way of the sheet lies along this arrow", width=width - 30.0)
    stiff = (*arrow, *shifted(words.primitives, 30.0, 0.0))
    rows.append(Section(primitives=stiff, height=_STEP + 1.2))
    return together((heading("Lines"), *rows))


def _key_row(pen: Pen, words: str, width: float) -> Section:
    sample = Path(layer=Layer.NOTE, points=((0.0, -0.5 * SMALL), (25.0, -0.5 * SMALL)), pen=pen)
    text = paragraph(words, width=width - 30.0)
    return Section(
        primitives=(sample, *shifted(text.primitives, 30.0, 0.0)), height=text.height + 0.4
    )


# ---------------------------------------------------------------- lists

_RISE = 1.6  # mm, capitals from the rule above them
_COLUMNS = (  # heading, share of the width, whether numbers stand at the right
    ("part", 0.27, False),
    ("what it is", 0.31, False),
    ("cut", 0.05, True),
    ("stock", 0.18, False),
    ("area", 0.10, True),
    ("each", 0.09, True),
)


def parts_list(flat: FlatSet, *, width: float = WIDTH) -> tuple[Section, ...]:
    """Return the list of parts: code, title, count, stock, area, expected mass."""
    rows = [_table_row([name for name, _, _ in _COLUMNS], width, bold=True)]
    rows += [_table_row(_entries(part), width) for part in flat.parts]
    pieces = sum(part.count for part in flat.parts)
    mass = sum(part.count * part.mass for part in flat.parts)
    area = sum(part.count * part.area for part in flat.parts)
    total = ["together", "", f"{pieces}", "", area_words(area), mass_words(mass)]
    rows.append(_table_row(total, width, bold=True))
    return together((heading("Parts"), *rows))


def _entries(part: FlatPart) -> list[str]:
    return [
        part.code,
        part.title,
        f"{part.count}",
        f"{part.stock}, {MM * part.thickness:g} mm",
        area_words(part.area),
        mass_words(part.mass),
    ]


def not_drawn_list(flat: FlatSet, *, width: float = WIDTH) -> tuple[Section, ...]:
    """Return what is weighed but not drawn here, and why; empty where there is nothing."""
    if not flat.not_drawn:
        return ()
    rows = [
        paragraph(
            f"{', '.join(_undrawn(part))}: {part.reason}",
            width=width,
            sign="–",
        )
        for part in flat.not_drawn
    ]
    return together((heading("Not drawn here"), *rows))


def _undrawn(part: NotDrawn) -> list[str]:
    # what is cut from a block has no area of sheet
    area = [area_words(part.area)] if part.area > 0.0 else []
    return [f"{part.code}, {part.title}", *area, mass_words(part.mass)]


def stock_list(flat: FlatSet, says: Mapping[str, str]) -> tuple[Section, ...]:
    """Return what each stock is in the words of the shop, for those that have any."""
    used = dict.fromkeys(part.stock for part in flat.parts)
    rows = [paragraph(f"{key}: {says[key]}", sign="–") for key in used if says.get(key)]
    return together((heading("Stock"), *rows)) if rows else ()


def _table_row(entries: Sequence[str], width: float, *, bold: bool = False) -> Section:
    items: list[Primitive] = []
    deepest = 1
    x = 0.0
    for text, (name, share, right) in zip(entries, _COLUMNS, strict=True):
        wide = share * width
        rows = (wrapped_code if name == "part" else wrapped)(
            text, width=wide - 2.0, height=SMALL, bold=bold
        )
        deepest = max(deepest, len(rows))
        for k, row in enumerate(rows):
            items.append(
                Text(
                    layer=Layer.NOTE,
                    at=(x + wide - 1.0 if right else x + 1.0, -_RISE - SMALL - k * _STEP),
                    text=row,
                    height=SMALL,
                    anchor=Anchor.END if right else Anchor.START,
                    bold=bold,
                )
            )
        x += wide
    height = deepest * _STEP + 1.4
    items.append(line(Layer.NOTE, (0.0, -height), (width, -height), pen=_THIN))
    return Section(primitives=tuple(items), height=height, keep=bold)


def cautions(*, width: float = WIDTH) -> tuple[Section, ...]:
    """Return the cautions that belong to cutting and gluing this plan."""
    rows = [paragraph(text, width=width, sign="!") for text in CAUTIONS]
    return together((heading("Cautions"), *rows))


def findings_list(findings: Sequence[Finding], *, width: float = WIDTH) -> tuple[Section, ...]:
    """Return what the checks say and the builder must know: stops first, then minds."""
    told = [item for level in (Level.STOP, Level.MIND) for item in findings if item.level is level]
    if not told:
        return ()
    rows = [paragraph(f"{item.level.upper()}: {item.text}", width=width, sign="!") for item in told]
    return together((heading("Before you build"), *rows))


def notes_list(notes: Sequence[str], *, width: float = WIDTH) -> tuple[Section, ...]:
    """Return the maker's own notes; empty where there are none."""
    if not notes:
        return ()
    return together((heading("Notes"), *(paragraph(text, width=width, sign="–") for text in notes)))


# ---------------------------------------------------------------- flowing


def flowed(
    sections: Sequence[Section], *, column: float, height: float, columns: int = 1, gap: float = 8.0
) -> tuple[tuple[Primitive, ...], ...]:
    """Flow sections down columns, then on to further pages.

    Parameters
    ----------
    sections : sequence of Section
        What is set, in order.
    column, height : float
        Width and height of a column. [mm]
    columns : int
        Columns on a page.
    gap : float
        Between columns. [mm]

    Returns
    -------
    tuple of tuple of Primitive
        For each page what stands on it, its upper left at the origin. [mm]
    """
    pages: list[list[Primitive]] = [[]]
    index, y = 0, 0.0
    for group in _groups(sections, height):
        tall = sum(section.height for section in group)
        if y > 0.0 and y + tall > height:
            index, y = index + 1, 0.0
            if index % columns == 0:
                pages.append([])
        for section in group:
            if not section.primitives and y == 0.0:
                continue  # no blank space at the head of a column
            x = (index % columns) * (column + gap)
            pages[-1] += shifted(section.primitives, x, -y)
            y += section.height
    return tuple(tuple(page) for page in pages)


def _groups(sections: Sequence[Section], height: float) -> list[list[Section]]:
    groups: list[list[Section]] = []
    open_group = False
    for section in sections:
        if open_group and height >= sum(item.height for item in (*groups[-1], section)):
            groups[-1].append(section)
        else:
            groups.append([section])
        open_group = section.keep
    return groups
