"""Parts of a box body: sides, top, bottom, ends, formers, doublers, hatch covers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from foamwright.airframe.boxes import (
    BoxBuild,
    CutSheet,
    Layer,
    cross_outline,
    cut_layer,
    doubler_layer,
    face_layer,
    openings_of,
    within,
)
from foamwright.airframe.hands import mirror_piece, piece_hands
from foamwright.airframe.meshes import frozen, grid_area, grid_mesh
from foamwright.airframe.model import Array, Basis, Group, Hand, Piece, PlateSheet, RuledSheet
from foamwright.design.model import BoxFace, Doubler, Former, Opening, SheetStock, Stock
from foamwright.errors import DomainError

# Slopes that differ by less than this are one: a hundredth of a millimetre in a metre. [-]
_STRAIGHT = 1e-5


def box_pieces(build: BoxBuild, *, stock: Stock) -> tuple[Piece, ...]:
    """Every part of a box body, both hands.

    Parameters
    ----------
    build : BoxBuild
        The measured body. [m]
    stock : Stock
        Goods. [m]

    Returns
    -------
    tuple of Piece
        Sides, top, bottom, ends, formers, doublers, hatch covers. [m²]

    Raises
    ------
    DomainError
        Where a former or doubler lies outside the body, or openings leave nothing of a sheet.
    """
    body = build.body
    pieces: list[Piece] = []
    for face in BoxFace:
        layer = face_layer(build, face, float(build.x[0]), float(build.x[-1]))
        openings = openings_of(body, face)
        cut = cut_layer(build, layer, openings)
        name = "side" if face is BoxFace.SIDES else face.value
        pieces += _face_pieces(build, layer, cut, part=name, sheet=build.sheet)
        pieces += [
            piece
            for opening in openings
            if opening.is_hatch
            for piece in _hatch_pieces(build, layer, opening)
        ]
    for closed, end, name in zip(body.ends, (0, -1), ("front", "back"), strict=True):
        if closed:
            inward = 0.5 * build.sheet.thickness.value * (1.0 if end == 0 else -1.0)
            pieces += _cross_pieces(
                build,
                part=f"end.{name}",
                path=f"body.{body.key}",
                x=float(build.x[end]) + inward,
                sheet=build.sheet,
            )
    for former in body.formers:
        pieces += _former_pieces(build, former, stock)
    for doubler in body.doublers:
        pieces += _doubler_pieces(build, doubler, stock)
    return tuple(pieces)


def _face_pieces(
    build: BoxBuild,
    layer: Layer,
    cut: CutSheet,
    *,
    part: str,
    sheet: SheetStock,
    path: str | None = None,
) -> tuple[Piece, ...]:
    """Return the piece of a cut layer on each side of the body that has it, both hands."""
    body = build.body
    # The upper face of a grid is where (step across) x (step along) points.
    upper, lower = cut.outer, cut.inner
    if layer.face is BoxFace.TOP:
        upper, lower = lower, upper
    keep = np.isin(layer.x, build.x)
    keep[[0, -1]] = True
    first, second = frozen(cut.mid[keep, 0]), frozen(cut.mid[keep, -1])
    piece = Piece(
        key=f"{body.key}.{part}",
        path=path or f"body.{body.key}",
        title=f"{body.key}, {part.replace('.', ', ')}",
        group=Group.BODY,
        hand=build.hand,
        stock=sheet.key,
        basis=Basis.AREA,
        amount=grid_area(cut.mid, cut.cells),
        given=None,
        sheet=RuledSheet(
            first=first,
            second=second,
            thickness=sheet.thickness.value,
            folds=_folds(build, layer.face, first[:, 0]),
            holes=cut.holes,
        ),
        mesh=grid_mesh(upper, lower, cells=cut.cells),
    )
    if layer.face is BoxFace.SIDES:
        return _side_pair(build, piece)
    return piece_hands(piece, mirrored=body.mirrored)


def _folds(build: BoxBuild, face: BoxFace, x: Array) -> tuple[int, ...]:
    """Inner nodes at which a face bends out of its own plane, seen on the outside."""
    outside = {BoxFace.SIDES: build.half, BoxFace.TOP: build.top, BoxFace.BOTTOM: build.bottom}
    slope = np.diff(build.at(outside[face], x)) / np.diff(x)
    return tuple(int(node) + 1 for node in np.flatnonzero(np.abs(np.diff(slope)) > _STRAIGHT))


def _side_pair(build: BoxBuild, piece: Piece) -> tuple[Piece, ...]:
    """Both sides of a body from the one at greater y: mirrored in the body's own plane."""
    body = build.body
    if build.hand is Hand.CENTRE:
        right = replace(piece, hand=Hand.RIGHT)
        return right, mirror_piece(right)
    far, near = ("outer", "inner") if build.hand is Hand.RIGHT else ("inner", "outer")
    other = replace(mirror_piece(piece, about=body.y), hand=build.hand)
    return tuple(
        hand
        for one, name in ((piece, far), (other, near))
        for hand in piece_hands(_renamed(one, name), mirrored=body.mirrored)
    )


def _renamed(piece: Piece, name: str) -> Piece:
    return replace(piece, key=f"{piece.key}.{name}", title=f"{piece.title}, {name}")


def _hatch_pieces(build: BoxBuild, layer: Layer, opening: Opening) -> tuple[Piece, ...]:
    """Return the cover of a hatch: what its opening takes out of the face."""
    cover = within(layer, opening)
    return _face_pieces(
        build,
        cover,
        cut_layer(build, cover, ()),
        part=f"hatch.{opening.key}",
        sheet=build.sheet,
        path=f"body.{build.body.key}.opening.{opening.key}",
    )


def _doubler_pieces(build: BoxBuild, doubler: Doubler, stock: Stock) -> tuple[Piece, ...]:
    sheet = stock.sheet(doubler.sheet)
    layer = doubler_layer(build, doubler, thickness=sheet.thickness.value)
    return _face_pieces(
        build,
        layer,
        cut_layer(build, layer, openings_of(build.body, doubler.face)),
        part=f"doubler.{doubler.key}",
        sheet=sheet,
        path=f"body.{build.body.key}.doubler.{doubler.key}",
    )


def _former_pieces(build: BoxBuild, former: Former, stock: Stock) -> tuple[Piece, ...]:
    where = f"body.{build.body.key}.former.{former.key}"
    if not build.x[0] <= former.x <= build.x[-1]:
        raise DomainError(f"{where}: must stand between the two ends of its body")
    if not 0.0 <= former.opening < 1.0:
        raise DomainError(f"{where}: its opening takes from nothing to less than its whole area")
    return _cross_pieces(
        build,
        part=f"former.{former.key}",
        path=where,
        x=former.x,
        sheet=stock.sheet(former.sheet),
        opening=former.opening,
    )


def _cross_pieces(
    build: BoxBuild, *, part: str, path: str, x: float, sheet: SheetStock, opening: float = 0.0
) -> tuple[Piece, ...]:
    """Return a cross piece; its opening is its own outline made smaller, in its middle."""
    body, t = build.body, sheet.thickness.value
    outline = cross_outline(build, x=x, thickness=t)
    shares = np.array([0.0, 1.0])
    cells = np.ones((1, 1), dtype=bool)
    holes: tuple[Array, ...] = ()
    if opening > 0.0:
        edge = 0.5 * (1.0 - math.sqrt(opening))
        shares = np.array([0.0, edge, 1.0 - edge, 1.0])
        cells = np.ones((3, 3), dtype=bool)
        cells[1, 1] = False
        middle = outline.mean(axis=0)
        holes = (frozen(middle + math.sqrt(opening) * (outline - middle)),)
    left, right = outline[0, 1], outline[1, 1]
    bottom, top = outline[0, 2], outline[2, 2]
    mid = np.empty((len(shares), len(shares), 3))
    mid[..., 0] = x
    mid[..., 1] = left + (right - left) * shares
    mid[..., 2] = (bottom + (top - bottom) * shares)[:, None]
    half = np.array([0.5 * t, 0.0, 0.0])
    piece = Piece(
        key=f"{body.key}.{part}",
        path=path,
        title=f"{body.key}, {part.replace('.', ', ')}",
        group=Group.BODY,
        hand=build.hand,
        stock=sheet.key,
        basis=Basis.AREA,
        amount=grid_area(mid, cells),
        given=None,
        sheet=PlateSheet(outline=frozen(outline), thickness=t, holes=holes),
        mesh=grid_mesh(mid + half, mid - half, cells=cells),
    )
    return piece_hands(piece, mirrored=body.mirrored)
