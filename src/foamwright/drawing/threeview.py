"""The three-view: plan, side and front of the aeroplane, with what balances and pulls it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, Disc, Group, Piece
from foamwright.balance.model import Balance, BalanceSpan
from foamwright.drawing.label import SMALL
from foamwright.drawing.lettering import slug
from foamwright.drawing.model import (
    Anchor,
    Area,
    Box,
    Drawing,
    Ink,
    Layer,
    Path,
    Point,
    Primitive,
    Text,
    iso_pen,
    line,
    rectangle,
    shifted,
)
from foamwright.drawing.overlays import (
    ACCENT_PEN,
    BAR_PEN,
    CHAIN_PEN,
    Stand,
    Subject,
    caption,
    side_notes,
)
from foamwright.drawing.paper import PAPERS
from foamwright.drawing.part import MM
from foamwright.drawing.sections import PlanWords, Section, heading, title_block
from foamwright.drawing.symbols import Figure, balance_symbol, dimension, neutral_symbol
from foamwright.drawing.views import Sight, View, disc_outline, sight
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Standard reductions, ISO 5455 (from memory).
SCALES = (1, 2, 5, 10, 20, 50)
_PAPERS = ("A3", "A2", "A1", "A0")
_BORDER, _PAD = 10.0, 5.0  # mm: border of ISO 5457 (from memory), and inside the frame
_COLUMN = 150.0  # mm, of side view, figures and title block
_GAP = 8.0  # mm, between the columns
_FILLED = 0.30  # of the sheet's width, at least, for the plan view
_PLAN_FOOT = 16.0  # mm, span and caption below the plan view
_FRONT_FOOT = 9.0  # mm, caption below the front view
_SIDE_HEAD = 12.0  # mm, thrust line above the side view
_SIDE_FOOT = 36.0  # mm, length, balance rule and caption below the side view
_NO_WORDS = PlanWords()


def three_view(
    airframe: Airframe,
    *,
    balance: Balance | None = None,
    balance_span: BalanceSpan | None = None,
    neutral_point: float | None = None,
    words: PlanWords = _NO_WORDS,
) -> Drawing:
    """Draw plan, side and front view at a standard scale.

    Parameters
    ----------
    airframe : Airframe
        The shape of one variant. [m]
    balance : Balance, optional
        Gives the balance point and the flying mass.
    balance_span : BalanceSpan, optional
        Where the balance point may lie. [m]
    neutral_point : float, optional
        Neutral point along x. [m]
    words : PlanWords
        Owner, licence and date for the title block.

    Returns
    -------
    Drawing
        One sheet of ISO 216 paper. [mm]

    Notes
    -----
    What is not given is not drawn. Scales are those of ISO 5455.
    """
    subject = Subject(
        airframe=airframe, balance=balance, span=balance_span, neutral_point=neutral_point
    )
    inner = tuple(piece for piece in airframe.pieces if _is_inner(piece))
    sights = {
        # from ahead the inner things lie behind each other, and their lines would say nothing
        view: sight(airframe.pieces, view, inner=() if view is View.FRONT else inner)
        for view in View
    }
    boxes = {view: _box(airframe, sights[view]) for view in View}
    table = (*_figures(subject), *_key(subject))
    paper, scale = _chosen(boxes, table)
    return _composed(subject, sights, boxes, table, words, paper=paper, scale=scale)


def _is_inner(piece: Piece) -> bool:
    # what sits inside and matters for the balance, and the rods that carry the loads
    return piece.group in (Group.POWER, Group.RADIO) or piece.key.endswith(".rod")


def _box(airframe: Airframe, seen: Sight) -> Box:
    left, bottom, right, top = seen.outline.bounds
    for disc in airframe.discs:
        rim = _rim(disc, seen.view)
        left, bottom = min(left, rim[:, 0].min()), min(bottom, rim[:, 1].min())
        right, top = max(right, rim[:, 0].max()), max(top, rim[:, 1].max())
    return (float(left), float(bottom), float(right), float(top))


def _rim(disc: Disc, view: View) -> Array:
    return disc_outline(disc.centre, disc.thrust, disc.diameter, view)


# ---------------------------------------------------------------- scale and paper


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sizes:
    """Sizes of the views on paper. [mm]"""

    plan: Point
    front: Point
    side: Point

    @property
    def left(self) -> Point:
        """Width and height of the left column: plan over front."""
        width = max(self.plan[0], self.front[0])
        return width, self.plan[1] + _PLAN_FOOT + self.front[1] + _FRONT_FOOT

    def right(self, table: Sequence[Section]) -> Point:
        """Width and height of the right column: side, figures, title block."""
        tall = _SIDE_HEAD + self.side[1] + _SIDE_FOOT
        return max(_COLUMN, self.side[0]), tall + sum(item.height for item in table) + 40.0


def _sizes(boxes: dict[View, Box], scale: int) -> _Sizes:
    def size(view: View) -> Point:
        left, bottom, right, top = boxes[view]
        return MM * (right - left) / scale, MM * (top - bottom) / scale

    return _Sizes(plan=size(View.PLAN), front=size(View.FRONT), side=size(View.SIDE))


def _chosen(boxes: dict[View, Box], table: Sequence[Section]) -> tuple[str, int]:
    fits: list[tuple[str, int]] = []
    for name in _PAPERS:
        width, height = PAPERS[name].size(landscape=True)
        room = (width - 2.0 * (_BORDER + _PAD), height - 2.0 * (_BORDER + _PAD))
        for scale in SCALES:
            sizes = _sizes(boxes, scale)
            left, right = sizes.left, sizes.right(table)
            if left[0] + _GAP + right[0] <= room[0] and max(left[1], right[1]) <= room[1]:
                if left[0] >= _FILLED * width:
                    return name, scale
                fits.append((name, scale))
                break
    if not fits:
        raise DomainError("the aeroplane is too large for a three-view on any paper up to A0")
    return fits[0]


# ---------------------------------------------------------------- composition


def _composed(
    subject: Subject,
    sights: dict[View, Sight],
    boxes: dict[View, Box],
    table: Sequence[Section],
    words: PlanWords,
    *,
    paper: str,
    scale: int,
) -> Drawing:
    width, height = PAPERS[paper].size(landscape=True)
    frame = (_BORDER, _BORDER, width - _BORDER, height - _BORDER)
    sizes = _sizes(boxes, scale)
    right = frame[2] - _PAD - sizes.right(table)[0]
    top = frame[3] - _PAD
    left_room = right - _GAP - frame[0] - _PAD
    spare = max(0.0, top - frame[1] - _PAD - sizes.left[1])
    middle = frame[0] + _PAD + 0.5 * left_room
    plan_top = top - 0.3 * spare
    front_top = plan_top - sizes.plan[1] - _PLAN_FOOT - 0.3 * spare
    stands = {
        View.PLAN: _stand(boxes[View.PLAN], scale, middle=middle, top=plan_top),
        View.FRONT: _stand(boxes[View.FRONT], scale, middle=middle, top=front_top),
        View.SIDE: _stand(
            boxes[View.SIDE],
            scale,
            middle=right + 0.5 * sizes.right(table)[0],
            top=top - _SIDE_HEAD,
        ),
    }
    items: list[Primitive] = [rectangle(Layer.NOTE, frame, pen=iso_pen(0.7))]
    for view in View:
        items += _view(subject, sights[view], stands[view])
    items += _plan_notes(subject, boxes[View.PLAN], stands[View.PLAN])
    items += side_notes(subject, sights[View.SIDE], boxes[View.SIDE], stands[View.SIDE])
    items += caption(View.FRONT, boxes[View.FRONT], stands[View.FRONT], drop=6.0)
    y = stands[View.SIDE].at((0.0, boxes[View.SIDE][1]))[1] - _SIDE_FOOT
    x = frame[2] - _PAD - _COLUMN
    for section in table:
        items += shifted(section.primitives, x, y)
        y -= section.height
    items += _title(subject, words, scale=scale, corner=(frame[2], frame[1]))
    design = subject.airframe.design
    return Drawing(
        name=slug(f"{design.name} {design.variant} three-view"),
        title=f"{design.name}, {design.variant}: three-view",
        primitives=tuple(items),
        bounds=(0.0, 0.0, width, height),
    )


def _stand(box: Box, scale: int, *, middle: float, top: float) -> Stand:
    k = MM / scale
    return Stand(scale=k, dx=middle - 0.5 * k * (box[0] + box[2]), dy=top - k * box[3])


def _title(
    subject: Subject, words: PlanWords, *, scale: int, corner: Point
) -> tuple[Primitive, ...]:
    design = subject.airframe.design
    block = title_block(
        title=design.name,
        subtitle=design.variant,
        kind="three-view",
        number=slug(f"{design.name} {design.variant} 3v").upper(),
        revision=design.marks.revision,
        scale=f"1:{scale}",
        sheet="1 of 1",
        words=words,
        width=_COLUMN,
    )
    return shifted(block.primitives, corner[0] - _COLUMN, corner[1] + block.height - 1.0)


# ---------------------------------------------------------------- views


def _view(subject: Subject, seen: Sight, stand: Stand) -> list[Primitive]:
    items: list[Primitive] = []
    for part in seen.outline.geoms:
        rings = [np.asarray(part.exterior.coords)[:-1]]
        rings += [np.asarray(ring.coords)[:-1] for ring in part.interiors]
        lines = tuple(stand.line(ring) for ring in rings)
        items.append(Area(layer=Layer.SHADE, rings=lines, ink=Ink.WASH))
    items += [Path(layer=Layer.HIDDEN, points=stand.line(points)) for points in seen.hidden]
    items += [Path(layer=Layer.EDGE, points=stand.line(points)) for points in seen.edges]
    for part in seen.outline.geoms:
        for ring in (part.exterior, *part.interiors):
            points = stand.line(np.asarray(ring.coords)[:-1])
            items.append(Path(layer=Layer.OUTLINE, points=points, closed=True))
    for disc in subject.airframe.discs:
        rim = stand.line(_rim(disc, seen.view))
        items.append(Path(layer=Layer.CENTRE, points=rim))
    return items


def _plan_notes(subject: Subject, box: Box, stand: Stand) -> list[Primitive]:
    airframe = subject.airframe
    half = 0.5 * airframe.reference.span
    tip = _tip_x(airframe)
    left, right = stand.at((-half, -tip)), stand.at((half, -tip))
    foot = stand.at((0.0, box[1]))[1] - 7.0
    figure = Figure(words=f"span {MM * 2.0 * half:.0f}", short=f"{MM * 2.0 * half:.0f}")
    span = dimension(left, right, figure, off=foot - left[1])
    items: list[Primitive] = [*span, *_chord(subject, stand)]
    items += caption(View.PLAN, box, stand, drop=13.5)
    items += _plan_balance(subject, stand)
    return items


def _tip_x(airframe: Airframe) -> float:
    for surface in airframe.surfaces:
        if surface.key == airframe.reference.surface:
            return float(surface.panels[-1].tip.trailing_edge[0])
    return 0.0


def _chord(subject: Subject, stand: Stand) -> tuple[Primitive, ...]:
    edge, chord = subject.wing_edge
    y = -(_body_half_width(subject.airframe) + 9.0 / stand.scale)
    start, end = stand.at((y, -edge)), stand.at((y, -(edge + chord)))
    figure = Figure(
        words=f"root chord {MM * chord:.0f}", short=f"{MM * chord:.0f}", along=0.32, ground=Ink.WASH
    )
    return dimension(end, start, figure, off=0.0)


def _body_half_width(airframe: Airframe) -> float:
    middle = [body for body in airframe.bodies if abs(_mean_y(body.outside.vertices)) < 0.01]
    return max((0.5 * body.width for body in middle), default=0.0)


def _mean_y(points: Array) -> float:
    return float(points[:, 1].mean())


def _plan_balance(subject: Subject, stand: Stand) -> list[Primitive]:
    """Return the balance point, and beside the body the span and the neutral point."""
    items: list[Primitive] = []
    y = _body_half_width(subject.airframe) + 8.0 / stand.scale
    arm = 4.0 / stand.scale
    span = subject.span
    if span is not None and not span.is_empty:
        ends = [((y - arm, -x), (y + arm, -x)) for x in (span.forward, span.aft)]
        items += [line(Layer.NOTE, stand.at(a), stand.at(b), pen=ACCENT_PEN) for a, b in ends]
        bar = (stand.at((y, -span.aft)), stand.at((y, -span.forward)))
        items.append(line(Layer.NOTE, *bar, pen=BAR_PEN))
    if subject.neutral_point is not None:
        items += neutral_symbol(stand.at((y + 2.0 * arm, -subject.neutral_point)))
    if subject.balance is not None:
        x, across, _ = subject.balance.point
        items += balance_symbol(stand.at((across, -x)))
    return items


# ---------------------------------------------------------------- figures and key


def _figures(subject: Subject) -> tuple[Section, ...]:
    rows = [_figure_row(name, value) for name, value in _figure_words(subject)]
    return (heading("Main figures"), *rows, Section(primitives=(), height=3.0))


def _figure_words(subject: Subject) -> list[tuple[str, str]]:
    reference = subject.airframe.reference
    edge, chord = subject.wing_edge
    rows = [
        ("span; root chord", f"{MM * reference.span:.0f} mm; {MM * chord:.0f} mm"),
        (
            "wing area; mean chord",
            f"{100.0 * reference.area:.1f} dm²; {MM * reference.mac:.0f} mm",
        ),
    ]
    balance, span, neutral = subject.balance, subject.span, subject.neutral_point
    if balance is not None:
        loading = 1e3 * balance.mass / (100.0 * reference.area)
        mass = f"{1e3 * balance.mass:.0f} ± {2e3 * balance.mass_scatter:.0f} g"
        rows.append(("flying mass (95 %); wing loading", f"{mass}; {loading:.1f} g/dm²"))
        rows.append(
            (
                "balance point: from the datum; behind the root leading edge",
                f"{MM * balance.point[0]:.0f}; {MM * (balance.point[0] - edge):.0f} mm",
            )
        )
    if span is not None and not span.is_empty:
        rows.append(
            (
                "balance span behind the root leading edge",
                f"{MM * (span.forward - edge):.0f} to {MM * (span.aft - edge):.0f} mm",
            )
        )
    if neutral is not None and balance is not None:
        margin = 100.0 * (neutral - balance.point[0]) / reference.mac
        rows.append(("static margin", f"{margin:.1f} % of the mean chord"))
    return rows


def _figure_row(name: str, value: str) -> Section:
    items: tuple[Primitive, ...] = (
        Text(layer=Layer.NOTE, at=(0.0, -3.6), text=name, height=SMALL),
        Text(layer=Layer.NOTE, at=(_COLUMN, -3.6), text=value, height=SMALL, anchor=Anchor.END),
        line(Layer.NOTE, (0.0, -5.2), (_COLUMN, -5.2), pen=iso_pen(0.13)),
    )
    return Section(primitives=items, height=5.4)


def _key(subject: Subject) -> tuple[Section, ...]:
    y = -2.8
    rows: list[tuple[tuple[Primitive, ...], str]] = []
    if subject.balance is not None:
        rows.append((balance_symbol((8.0, y)), "balance point, as designed"))
    if subject.span is not None and not subject.span.is_empty:
        bar = line(Layer.NOTE, (3.0, y), (13.0, y), pen=BAR_PEN)
        rows.append(((bar,), "balance span: where the balance point may lie"))
    if subject.neutral_point is not None:
        rows.append((neutral_symbol((8.0, y - 1.4)), "neutral point"))
    if subject.airframe.discs:
        sample = line(Layer.NOTE, (0.0, y), (16.0, y), pen=CHAIN_PEN)
        rows.append(((sample,), "thrust line; the arrow points where it pulls"))
    if subject.airframe.design.power.packs:
        tray = rectangle(Layer.HIDDEN, (0.0, y - 1.8, 16.0, y + 1.8))
        box = (4.0, y - 1.8, 12.0, y + 0.8)
        pack = rectangle(Layer.NOTE, box, pen=iso_pen(0.25))
        cross = line(Layer.NOTE, (box[0], box[1]), (box[2], box[3]), pen=iso_pen(0.13))
        rows.append(((tray, pack, cross), "pack in its tray"))
    sections = [_key_row(sample, words) for sample, words in rows]
    return (
        heading("Signs; places are in mm aft of the datum"),
        *sections,
        Section(primitives=(), height=2.0),
    )


def _key_row(sample: tuple[Primitive, ...], words: str) -> Section:
    text = Text(layer=Layer.NOTE, at=(20.0, -4.0), text=words, height=SMALL)
    return Section(primitives=(*sample, text), height=6.6)
