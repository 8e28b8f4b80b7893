"""A piece of sheet laid in the plane: true lengths, named face up, along the page."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, Piece, PlateSheet, RuledSheet
from foamwright.flat.folds import fold_lines
from foamwright.flat.model import FoldLine
from foamwright.flat.plane import cut_out, lie
from foamwright.flat.unfold import Unfolded, cross, facets, place_on, unfold
from foamwright.flat.views import Lies, View, view_of

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """A piece in the plane as its view shows it, before it is moved onto the page."""

    view: View
    outline: Array  # (n, 2) m, anticlockwise
    holes: tuple[Array, ...]  # each (k, 2) m, clockwise
    folds: tuple[FoldLine, ...]
    rulings: Unfolded | None  # of a ruled sheet, as seen in this view
    facets: Array  # (m, 4, 2) m, corners going round
    x: Array  # (m, 4) m, place of the facets' corners along the aeroplane
    stiff: Array | None  # (2,) unit vector, or None where the part has no such direction
    upward: Array  # (2,) direction that points up the page where it can
    length_error: float  # m


def lay_ruled(airframe: Airframe, piece: Piece, sheet: RuledSheet) -> Laid:
    """Unroll a ruled sheet with its named face up.

    Parameters
    ----------
    airframe : Airframe
        The shape the piece belongs to.
    piece : Piece
        The piece.
    sheet : RuledSheet
        Its sheet. [m]

    Returns
    -------
    Laid
        In the plane. [m]
    """
    first, second = sheet.first, sheet.second
    ruling = second.mean(axis=0) - first.mean(axis=0)
    along = 0.5 * ((first[-1] - first[0]) + (second[-1] - second[0]))
    normal = cross(along, ruling)
    normal = normal / np.linalg.norm(normal)
    middle = 0.5 * (first.mean(axis=0) + second.mean(axis=0))
    view = view_of(airframe, piece, normal=normal, middle=middle)
    # Unfolding shows the side that (along) x (ruling) points to.
    is_turned = float(normal @ view.viewer) < 0.0
    flip = np.array([1.0, -1.0]) if is_turned else np.ones(2)
    flat = unfold(sheet)
    holes = [place_on(sheet, flat, hole) for hole in sheet.holes]
    folds = fold_lines(sheet, flat, is_turned=is_turned)
    border = np.concatenate([flat.first, flat.second[::-1]])
    outline, inner = cut_out(border * flip, [hole * flip for hole in holes])
    seen = Unfolded(
        first=flat.first * flip, second=flat.second * flip, length_error=flat.length_error
    )
    spanwise = view.lies in (Lies.ALONG_SPAN, Lies.ACROSS_CHORD)
    return Laid(
        view=view,
        outline=outline,
        holes=inner,
        folds=tuple(_flipped(fold, flip) for fold in folds),
        rulings=seen,
        facets=seen.corners,
        x=facets(first, second)[..., 0],
        stiff=_ruling_way(seen) if spanwise else _node_way(seen),
        upward=_in_plane(view.upward, along=along, ruling=ruling, seen=seen),
        length_error=flat.length_error,
    )


def _flipped(fold: FoldLine, flip: Array) -> FoldLine:
    return FoldLine(start=fold.start * flip, end=fold.end * flip, angle=fold.angle, away=fold.away)


def _ruling_way(flat: Unfolded) -> Array:
    return _unit(flat.second.mean(axis=0) - flat.first.mean(axis=0))


def _node_way(flat: Unfolded) -> Array:
    return _unit(flat.first[-1] - flat.first[0] + flat.second[-1] - flat.second[0])


def _unit(vector: Array) -> Array:
    return vector / np.linalg.norm(vector)


def _in_plane(direction: Array, *, along: Array, ruling: Array, seen: Unfolded) -> Array:
    """Carry a direction in space into the plane, by its shares of nodes' and rulings' ways."""
    # Square parts only: enough to say which way is up.
    share = (direction @ along) / (along @ along), (direction @ ruling) / (ruling @ ruling)
    length = float(np.linalg.norm(along)), float(np.linalg.norm(ruling))
    return share[0] * length[0] * _node_way(seen) + share[1] * length[1] * _ruling_way(seen)


def lay_plate(airframe: Airframe, piece: Piece, sheet: PlateSheet) -> Laid:
    """Lay a plane plate down with its named face up.

    Parameters
    ----------
    airframe : Airframe
        The shape the piece belongs to.
    piece : Piece
        The piece.
    sheet : PlateSheet
        Its sheet. [m]

    Returns
    -------
    Laid
        In the plane. [m]
    """
    corners = sheet.outline
    origin = corners.mean(axis=0)
    normal = _area_vector(corners)
    normal = normal / np.linalg.norm(normal)
    view = view_of(airframe, piece, normal=normal, middle=origin)
    normal = normal if float(normal @ view.viewer) >= 0.0 else -normal
    up = _unit(view.upward - (view.upward @ normal) * normal)
    axes = np.stack([cross(up, normal), up], axis=1)
    outline, holes = cut_out(
        (corners - origin) @ axes, [(hole - origin) @ axes for hole in sheet.holes]
    )
    back = axes[0]  # how x grows over the plane
    length = float(np.hypot(back[0], back[1]))
    return Laid(
        view=view,
        outline=outline,
        holes=holes,
        folds=(),
        rulings=None,
        facets=_covering(outline),
        x=_covering(outline) @ back + origin[0],
        # A cross piece has no x in its plane, hence no way its sheet should lie.
        stiff=back / length if length > _SLANT else None,
        upward=np.array([0.0, 1.0]),
        length_error=float(np.abs((corners - origin) @ normal).max()),
    )


_SLANT = 0.1  # 6 degrees: below it a plate counts as square to x


def _area_vector(corners: Array) -> Array:
    arm = corners[1:] - corners[0]
    return 0.5 * cross(arm[:-1], arm[1:]).sum(axis=0)


def _covering(outline: Array) -> Array:
    """Box round a polygon, as one facet."""
    (left, low), (right, high) = outline.min(axis=0), outline.max(axis=0)
    box = np.array([[left, low], [right, low], [right, high], [left, high]])
    return box[None]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Page:
    """How a laid piece is moved onto the page: turned, then shifted into the first quadrant."""

    turn: Array  # (2, 2)
    shift: Array  # (2,) m

    def place(self, points: Array) -> Array:
        """Points on the page, locked. [m]"""
        placed = points @ self.turn + self.shift
        placed.setflags(write=False)
        return placed

    def direction(self, vector: Array | None) -> Array | None:
        """Direction on the page, locked. [-]"""
        if vector is None:
            return None
        turned = vector @ self.turn
        turned.setflags(write=False)
        return turned


def page_for(laid: Laid) -> Page:
    """Lay the longest direction along the page, low left corner at the origin."""
    turn = lie(laid.outline, upward=laid.upward)
    return Page(turn=turn, shift=-(laid.outline @ turn).min(axis=0))
