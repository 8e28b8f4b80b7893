"""Hands: which side of the aeroplane a thing is on, and its mirror image on the other."""

from __future__ import annotations

from dataclasses import replace

from foamwright.airframe.meshes import MIRROR, frozen, mirror_mesh
from foamwright.airframe.model import Array, Hand, LineRun, Piece, PlateSheet, RuledSheet

#: Nearer to the middle plane than this counts as on it: a hundredth of the finest cut. [m]
ON_MIDDLE = 1e-6

_OTHER = {Hand.RIGHT: Hand.LEFT, Hand.LEFT: Hand.RIGHT, Hand.CENTRE: Hand.CENTRE}


def hand_of(y: float) -> Hand:
    """Side of the aeroplane of a thing at y. [m]"""
    if abs(y) < ON_MIDDLE:
        return Hand.CENTRE
    return Hand.RIGHT if y > 0.0 else Hand.LEFT


def drawn_hand(y: float, *, mirrored: bool) -> Hand:
    """Hand of a thing as drawn: a mirrored one is drawn for the right unless y says left."""
    if mirrored:
        return Hand.LEFT if y < -ON_MIDDLE else Hand.RIGHT
    return hand_of(y)


def mirror_points(points: Array) -> Array:
    """Return points mirrored in y = 0, bit for bit. [m]"""
    return frozen(points * MIRROR)


def mirror_piece(piece: Piece) -> Piece:
    """Return the same piece on the other side."""
    return replace(
        piece,
        hand=_OTHER[piece.hand],
        mesh=mirror_mesh(piece.mesh),
        sheet=None if piece.sheet is None else _mirror_sheet(piece.sheet),
    )


def _mirror_sheet(sheet: RuledSheet | PlateSheet) -> RuledSheet | PlateSheet:
    holes = tuple(mirror_points(hole) for hole in sheet.holes)
    if isinstance(sheet, RuledSheet):
        return replace(
            sheet,
            first=mirror_points(sheet.first),
            second=mirror_points(sheet.second),
            holes=holes,
        )
    return replace(sheet, outline=mirror_points(sheet.outline), holes=holes)


def mirror_line(line: LineRun) -> LineRun:
    """Return the same run on the other side."""
    return replace(line, hand=_OTHER[line.hand], points=mirror_points(line.points))


def piece_hands(piece: Piece, *, mirrored: bool) -> tuple[Piece, ...]:
    """Return the piece, with its mirror image where it has one."""
    return (piece, mirror_piece(piece)) if mirrored else (piece,)
