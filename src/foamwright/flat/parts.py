"""Flat parts of one variant: every piece of sheet, true size, in the plane."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.airframe import Airframe, Basis, Hand, Piece, PlateSheet, RuledSheet
from foamwright.balance import Balance, BalanceSpan
from foamwright.design.model import CreasedSection, CurvedSection, FoldedSection, StiffWay
from foamwright.errors import DomainError, InternalError
from foamwright.flat.lay import Laid, Page, lay_plate, lay_ruled, page_for
from foamwright.flat.marks import clip, clip_folds
from foamwright.flat.model import FlatPart, FlatSet, FoldLine, MarkLine, NotDrawn
from foamwright.flat.placing import drafts_for
from foamwright.flat.plane import signed_area
from foamwright.flat.views import designed_surface, panel_of

#: A twisted sheet whose second diagonal is out by more cannot be drawn as flat: half a
#: millimetre is a careful knife's line. Common practice, no source. [m]
TWIST_LIMIT = 0.5e-3

# Left and right are one part where no point differs by more: rounding, not shape. [m]
_MIRROR = 1e-9


def flatten(
    airframe: Airframe,
    balance: Balance,
    *,
    span: BalanceSpan | None = None,
    twist_limit: float = TWIST_LIMIT,
) -> FlatSet:
    """Lay every piece of sheet into the plane.

    Parameters
    ----------
    airframe : Airframe
        The shape of the variant.
    balance : Balance
        Its masses, and the balance point that is marked.
    span : BalanceSpan, optional
        Allowed balance points, marked on the main wing where the design wants it. [m]
    twist_limit : float
        Largest length error of a twisted sheet that is still drawn. [m]

    Returns
    -------
    FlatSet
        Parts in the order of the airframe's pieces, and the sheet parts that are not drawn yet
        with the reason.

    Notes
    -----
    Exact for plane facets: areas, edges and angles are those in space. A facet twisted by
    washout has no exact development; its error is carried by the part.
    """
    parts: list[FlatPart] = []
    missing: list[NotDrawn] = []
    masses = {(entry.key, entry.hand): entry.mass for entry in balance.entries}
    context = _Context(
        airframe=airframe, balance=balance, span=span, masses=masses, limit=twist_limit
    )
    for code, pieces in _coded(airframe.pieces):
        made = _made(context, code, pieces)
        if isinstance(made, FlatPart):
            parts.append(made)
        else:
            missing.append(made)
    design = airframe.design
    return FlatSet(
        design=design.name,
        variant=design.variant,
        revision=design.marks.revision,
        parts=tuple(parts),
        not_drawn=tuple(missing),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Context:
    airframe: Airframe
    balance: Balance
    span: BalanceSpan | None
    masses: dict[tuple[str, Hand], float]
    limit: float

    def mass(self, piece: Piece) -> float:
        """Mass of a piece as weighed. [kg]"""
        try:
            return self.masses[piece.key, piece.hand]
        except KeyError:
            raise InternalError(f"{piece.key} was not weighed; please report this") from None


# ---------------------------------------------------------------- which pieces are one part


def _coded(pieces: Sequence[Piece]) -> list[tuple[str, tuple[Piece, ...]]]:
    """Pieces that need a drawing, right and left together where they mirror each other."""
    by_key: dict[str, list[Piece]] = {}
    for piece in pieces:
        if piece.sheet is not None or piece.basis is Basis.VOLUME:
            by_key.setdefault(piece.key, []).append(piece)
    coded: list[tuple[str, tuple[Piece, ...]]] = []
    taken: set[str] = set()
    for key, group in by_key.items():
        ordered = sorted(group, key=lambda piece: _ORDER[piece.hand])
        alike = len(ordered) == 1 or (len(ordered) == 2 and _are_mirrored(ordered[0], ordered[1]))
        for one in [ordered] if alike else [[piece] for piece in ordered]:
            words = key if alike else f"{key}.{one[0].hand.value}"
            coded.append((_code(words, taken), tuple(one)))
    return coded


_ORDER = {Hand.RIGHT: 0, Hand.CENTRE: 1, Hand.LEFT: 2}


def _are_mirrored(one: Piece, other: Piece) -> bool:
    if one.stock != other.stock or {one.hand, other.hand} != {Hand.RIGHT, Hand.LEFT}:
        return False
    left, right = _points(one), _points(other)
    if left.shape != right.shape:
        return False
    return bool(np.abs(left * np.array([1.0, -1.0, 1.0]) - right).max(initial=0.0) <= _MIRROR)


def _points(piece: Piece) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    sheet = piece.sheet
    if isinstance(sheet, RuledSheet):
        return np.concatenate([sheet.first, sheet.second, *sheet.holes])
    if isinstance(sheet, PlateSheet):
        return np.concatenate([sheet.outline, *sheet.holes])
    return piece.mesh.vertices


def _code(key: str, taken: set[str]) -> str:
    """Return a code of ASCII letters, digits and dashes that no other part has."""
    plain = unicodedata.normalize("NFKD", key).encode("ascii", "ignore").decode()
    words = "".join(letter if letter.isalnum() else "-" for letter in plain.upper())
    code = "-".join(word for word in words.split("-") if word) or "PART"
    number = 2
    unique = code
    while unique in taken:
        unique = f"{code}-{number}"
        number += 1
    taken.add(unique)
    return unique


# ---------------------------------------------------------------- one part


def _made(context: _Context, code: str, pieces: tuple[Piece, ...]) -> FlatPart | NotDrawn:
    piece = pieces[0]
    reason = _not_yet(context.airframe, piece)
    if reason is None:
        try:
            laid = _laid(context.airframe, piece)
        except DomainError as error:
            reason = str(error)
        else:
            if laid.length_error <= context.limit:
                return _part(context, code, pieces, laid)
            reason = (
                "twisted too much to lie flat: an edge would come out "
                f"{1e3 * laid.length_error:.1f} mm wrong"
            )
    area = sum(one.amount for one in pieces if one.basis is Basis.AREA)
    return NotDrawn(
        code=code,
        title=piece.title,
        path=piece.path,
        reason=reason,
        area=area,
        mass=sum(context.mass(one) for one in pieces),
    )


def _not_yet(airframe: Airframe, piece: Piece) -> str | None:
    """Why a piece cannot be drawn yet; None where it can."""
    sheet = piece.sheet
    if sheet is None:
        return "cut from block: its templates are not drawn yet"
    if isinstance(sheet, PlateSheet) or len(sheet.first) == 2 or panel_of(airframe, piece) is None:
        return None
    name = _panel_name(airframe, piece)
    panel = next(one for one in designed_surface(airframe, piece).panels if one.name == name)
    match panel.root_section:
        case CreasedSection():
            return None
        case FoldedSection():
            return "folded round its nose: what its folds take up is not drawn yet"
        case CurvedSection():
            return "bent to a curve: what the bend takes up is not drawn yet"
        case _:
            return "bent along the span in a way that is not drawn yet"


def _panel_name(airframe: Airframe, piece: Piece) -> str:
    panel = panel_of(airframe, piece)
    return "" if panel is None else panel.name


def _laid(airframe: Airframe, piece: Piece) -> Laid:
    if isinstance(piece.sheet, RuledSheet):
        return lay_ruled(airframe, piece, piece.sheet)
    if isinstance(piece.sheet, PlateSheet):
        return lay_plate(airframe, piece, piece.sheet)
    raise InternalError(f"{piece.key} is no sheet; please report this")


def _part(context: _Context, code: str, pieces: tuple[Piece, ...], laid: Laid) -> FlatPart:
    piece, page = pieces[0], page_for(laid)
    drafts = drafts_for(
        context.airframe, piece, laid, point=context.balance.point[0], span=context.span
    )
    marks = clip(drafts, laid.outline, laid.holes)
    return FlatPart(
        code=code,
        title=piece.title,
        path=piece.path,
        hands=tuple(one.hand for one in pieces),
        stock=piece.stock or "",
        thickness=piece.sheet.thickness if piece.sheet is not None else 0.0,
        face_up=laid.view.face_up,
        outline=page.place(laid.outline),
        holes=tuple(page.place(hole) for hole in laid.holes),
        folds=tuple(
            _placed(fold, page) for fold in clip_folds(laid.folds, laid.outline, laid.holes)
        ),
        marks=tuple(MarkLine(points=page.place(mark.points), text=mark.text) for mark in marks),
        stiff=page.direction(laid.stiff) if _has_stiff_way(context.airframe, piece) else None,
        area=signed_area(laid.outline) + sum(signed_area(hole) for hole in laid.holes),
        mass=context.mass(piece),
        length_error=laid.length_error,
    )


def _placed(fold: FoldLine, page: Page) -> FoldLine:
    return FoldLine(
        start=page.place(fold.start), end=page.place(fold.end), angle=fold.angle, away=fold.away
    )


def _has_stiff_way(airframe: Airframe, piece: Piece) -> bool:
    return airframe.design.stock.sheet(piece.stock or "").stiff is not StiffWay.NONE
