"""Hands: which side of the aeroplane a thing is on, and its mirror image on the other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from foamwright.airframe.meshes import MIRROR, frozen, mirror_mesh, turned
from foamwright.airframe.model import (
    Array,
    BodyShape,
    Hand,
    LineRun,
    Mesh,
    Piece,
    PlateSheet,
    RuledSheet,
)

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


def mirror_points(points: Array, *, about: float = 0.0) -> Array:
    """Return points mirrored in the plane y = about; in the middle plane bit for bit. [m]"""
    if about == 0.0:
        return frozen(points * MIRROR)
    return frozen(points * MIRROR + np.array([0.0, 2.0 * about, 0.0]))


def mirror_piece(piece: Piece, *, about: float = 0.0) -> Piece:
    """Return the piece mirrored in the plane y = about, as the other hand. [m]"""
    mesh = piece.mesh
    return replace(
        piece,
        hand=_OTHER[piece.hand],
        mesh=Mesh(vertices=mirror_points(mesh.vertices, about=about), faces=turned(mesh.faces)),
        sheet=None if piece.sheet is None else _mirror_sheet(piece.sheet, about=about),
    )


def _mirror_sheet(sheet: RuledSheet | PlateSheet, *, about: float) -> RuledSheet | PlateSheet:
    holes = tuple(mirror_points(hole, about=about) for hole in sheet.holes)
    if isinstance(sheet, RuledSheet):
        return replace(
            sheet,
            first=mirror_points(sheet.first, about=about),
            second=mirror_points(sheet.second, about=about),
            holes=holes,
        )
    return replace(sheet, outline=mirror_points(sheet.outline, about=about), holes=holes)


def mirror_line(line: LineRun) -> LineRun:
    """Return the same run on the other side."""
    return replace(line, hand=_OTHER[line.hand], points=mirror_points(line.points))


def piece_hands(piece: Piece, *, mirrored: bool) -> tuple[Piece, ...]:
    """Return the piece, with its mirror image where it has one."""
    return (piece, mirror_piece(piece)) if mirrored else (piece,)


def mirror_body(shape: BodyShape) -> BodyShape:
    """Return the same body on the other side."""
    return replace(shape, hand=_OTHER[shape.hand], outside=mirror_mesh(shape.outside))
