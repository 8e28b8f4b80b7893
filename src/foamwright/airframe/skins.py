"""Sheet parts of a lifting surface: skins, layers, spars and the controls cut from them.

Every sheet part is one piece, with its cut-outs. A panel's sheet is ruled from its root to its
tip section, node to node. A control is the part of the sheet aft of its hinge line; the gap is
taken from the panel. Hinges are cut square to the sheet; bevels are not in the solids. On a
folded section a control is two strips, the upper skin and, where the lower skin reaches that
far aft, the lower one, each a piece of its own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from foamwright.airframe.cuts import Cuts, hinge, local_chord, span_of
from foamwright.airframe.meshes import Mask, frozen, grid_area, grid_mesh
from foamwright.airframe.model import Array, Basis, Piece, RuledSheet, StationShape
from foamwright.airframe.sections import Strip, bent_nodes, offset_move
from foamwright.airframe.stations import place
from foamwright.airframe.surfaces import PanelBuild, SurfaceBuild
from foamwright.design.model import Control, CurvedSection
from foamwright.errors import DomainError


def sheet_pieces(build: SurfaceBuild, part: PanelBuild, root: Strip, tip: Strip) -> list[Piece]:
    """Cut the panel's piece of one sheet, and its controls' pieces of the same sheet.

    Parameters
    ----------
    build : SurfaceBuild
        The surface in space.
    part : PanelBuild
        One of its panels.
    root, tip : Strip
        The sheet at both ends of the panel. [m]

    Returns
    -------
    list of Piece
        The drawn half's pieces, the panel's own first. [m²]

    Raises
    ------
    DomainError
        Where a control cannot be cut from one flat facet.
    """
    split = None
    if part.cuts is not None and root.part != "spar":
        split = _split(part, root, tip, rows=part.cuts.rows, edge=part.cuts.edge)
    if part.cuts is None or split is None or (split.aft is None and split.fore is None):
        grid = _grid(part, root, tip, np.array([0.0, 1.0]), root.nodes[None], tip.nodes[None])
        return [_sheet_piece(build, part, root, grid)]
    grid = _grid(part, root, tip, part.cuts.rows, split.root, split.tip)
    cells = np.ones((len(part.cuts.rows) - 1, grid.mid.shape[1] - 1), dtype=bool)
    if split.aft is not None:
        cells[part.cuts.cut, split.aft :] = False
    if split.fore is not None:
        cells[part.cuts.cut, : split.fore] = False
    pieces = [_sheet_piece(build, part, root, grid, cells=cells, split=split)]
    for control in part.controls:
        pieces += _control_pieces(build, part, control, root, tip)
    return pieces


def _control_pieces(
    build: SurfaceBuild, part: PanelBuild, control: Control, root: Strip, tip: Strip
) -> list[Piece]:
    rows = np.array(span_of(control))
    edge = np.array(hinge(part.panel, control))
    split = _split(part, root, tip, rows=rows, edge=edge)
    named: list[tuple[str, Array, Array]] = []
    if split.aft is not None:
        named.append(("", split.root[:, split.aft :], split.tip[:, split.aft :]))
    if split.fore is not None:
        fore = slice(None, split.fore + 1)
        named.append(("lower", split.root[:, fore], split.tip[:, fore]))
    pieces: list[Piece] = []
    for suffix, inner, outer in named:
        names = [name for name in ("" if root.part == "skin" else root.part, suffix) if name]
        pieces.append(
            _piece(
                build,
                key=".".join([part.key, control.key, *names]),
                path=f"surface.{build.surface.key}.control.{control.key}",
                title=", ".join([build.surface.key, control.key, *names]),
                strip=root,
                grid=_grid(part, root, tip, rows, inner, outer),
            )
        )
    return pieces


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Grid:
    """A sheet over rows along the span and nodes along its section."""

    mid: Array  # (s, k, 3) m
    upper: Array  # (s, k, 3) m
    lower: Array  # (s, k, 3) m


def _grid(
    part: PanelBuild, root: Strip, tip: Strip, rows: Array, inner: Array, outer: Array
) -> _Grid:
    """Rule a sheet from its root nodes to its tip nodes, row by row.

    At root and tip the faces end in the plane of the joint; rows between, where a control
    begins or ends, are cut square to the panel.
    """
    share = rows[:, None, None]
    ends = ((root, inner, part.root), (tip, outer, part.tip))
    mids = [place(station, nodes) for _, nodes, station in ends]
    mid = (1.0 - share) * mids[0] + share * mids[1]
    moves = [offset_move(nodes, 0.5 * strip.thickness) for strip, nodes, _ in ends]
    square = [
        move @ _square_frame(part, station)
        for move, (_, _, station) in zip(moves, ends, strict=True)
    ]
    move = (1.0 - share) * square[0] + share * square[1]
    for k, (at, (_, _, station)) in enumerate(zip((0, -1), ends, strict=True)):
        if rows[at] == k:
            move[at] = moves[k][at] @ np.stack([station.aft, station.stretch * station.up])
    return _Grid(mid=mid, upper=mid + move, lower=mid - move)


def _square_frame(part: PanelBuild, station: StationShape) -> Array:
    """Aft and up at a station, square to the panel's own span, (2, 3)."""
    c, s = station.aft[0], station.up[0]  # of the tilt
    angle = part.panel.dihedral
    y, z = -math.sin(angle), math.cos(angle)
    return np.array([[c, -s * y, -s * z], [s, c * y, c * z]])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Split:
    """Nodes of a strip at root and tip, row by row, with nodes put in where it is cut."""

    root: Array  # (s, k, 2) m
    tip: Array  # (s, k, 2) m
    aft: int | None  # column of the cut before the aft end
    fore: int | None  # column of the cut after the first end, of a folded lower skin


def _split(part: PanelBuild, root: Strip, tip: Strip, *, rows: Array, edge: Array) -> _Split:
    """Put nodes into a strip where a line along the span crosses it.

    Only the facets at a strip's ends can be crossed: a hinge lies aft of the last crease.
    """
    if root.bend is not None and tip.bend is not None:
        return _split_bend(part, root.bend, tip.bend, edge=edge)
    x = root.nodes[:, 0] * (1.0 - rows[:, None]) + tip.nodes[:, 0] * rows[:, None]
    wanted = edge * local_chord(part.panel, rows)
    inner = np.broadcast_to(root.nodes, (len(rows), *root.nodes.shape))
    outer = np.broadcast_to(tip.nodes, (len(rows), *tip.nodes.shape))
    aft = fore = None
    if _reaches(part, x[:, -1], wanted):
        share = _share(part, x[:, -2], x[:, -1], wanted)
        inner, outer = (_insert(nodes, len(root.nodes) - 1, share) for nodes in (inner, outer))
        aft = len(root.nodes) - 1
    if len(root.nodes) > 2 and _reaches(part, x[:, 0], wanted):
        share = _share(part, x[:, 1], x[:, 0], wanted)
        inner, outer = (_insert(nodes, 1, 1.0 - share) for nodes in (inner, outer))
        fore = 1
        aft = None if aft is None else aft + 1
    return _Split(root=inner, tip=outer, aft=aft, fore=fore)


def _reaches(part: PanelBuild, end: Array, wanted: Array) -> bool:
    beyond = end > wanted
    if np.all(beyond):
        return True
    if np.any(beyond):
        raise DomainError(
            f"{part.path}: the edge of a layer or of the lower skin crosses a hinge line; let it "
            "end ahead of the hinge or run to the trailing edge"
        )
    return False


def _share(part: PanelBuild, before: Array, end: Array, wanted: Array) -> Array:
    share = (wanted - before) / (end - before)
    if np.any(share <= 0.0):
        raise DomainError(
            f"{part.path}: a hinge line lies ahead of the last crease or of the front of a layer; "
            "a control is cut from one flat facet, so make its chord smaller"
        )
    return share


def _insert(nodes: Array, at: int, share: Array) -> Array:
    one, two = nodes[:, at - 1], nodes[:, at]
    new = one + share[:, None] * (two - one)
    return np.concatenate([nodes[:, :at], new[:, None], nodes[:, at:]], axis=1)


def _split_bend(
    part: PanelBuild, root: CurvedSection, tip: CurvedSection, *, edge: Array
) -> _Split:
    """Give a smooth bend new nodes, of which one lies on the cut in every row."""
    count = len(part.root_strips[0].nodes)
    aft = int(np.clip(round(float(edge.mean()) * (count - 1)), 1, count - 2))
    ahead = np.linspace(0.0, 1.0, aft + 1)[:-1]
    behind = np.linspace(0.0, 1.0, count - aft)
    at = np.concatenate(
        [edge[:, None] * ahead, edge[:, None] + (1.0 - edge[:, None]) * behind], axis=1
    )
    return _Split(
        root=part.panel.root_chord * bent_nodes(root, at),
        tip=part.panel.tip_chord * bent_nodes(tip, at),
        aft=aft,
        fore=None,
    )


def _sheet_piece(
    build: SurfaceBuild,
    part: PanelBuild,
    strip: Strip,
    grid: _Grid,
    *,
    cells: Mask | None = None,
    split: _Split | None = None,
) -> Piece:
    holes: list[Array] = []
    if split is not None and part.cuts is not None:
        holes = _notches(part.cuts, split, grid.mid)
    return _piece(
        build,
        key=f"{part.key}.{strip.part}",
        path=part.path,
        title=f"{part.title}, {strip.part.replace('-', ' ')}",
        strip=strip,
        grid=grid,
        cells=cells,
        holes=tuple(holes),
        ruling=_ruling(part, strip),
    )


def _ruling(part: PanelBuild, strip: Strip) -> tuple[Array, Array]:
    """Mid-lines of the whole sheet at root and tip, whatever is cut from it."""
    tip = next(other for other in part.tip_strips if other.part == strip.part)
    return place(part.root, strip.nodes), place(part.tip, tip.nodes)


def _notches(cuts: Cuts, split: _Split, mid: Array) -> list[Array]:
    """Outlines of the cut-outs on the mid-sheet, each touching the sheet's edge."""
    notches: list[Array] = []
    for zone in np.flatnonzero(cuts.cut):
        if cuts.rows[zone] == cuts.rows[zone + 1]:
            continue  # two controls meet here: a step, not a cut-out
        both = mid[zone : zone + 2]
        if split.aft is not None:
            notches.append(np.concatenate([both[0, split.aft :], both[1, split.aft :][::-1]]))
        if split.fore is not None:
            fore = slice(None, split.fore + 1)
            notches.append(np.concatenate([both[0, fore][::-1], both[1, fore]]))
    return [frozen(notch) for notch in notches]


def _piece(
    build: SurfaceBuild,
    *,
    key: str,
    path: str,
    title: str,
    strip: Strip,
    grid: _Grid,
    cells: Mask | None = None,
    holes: tuple[Array, ...] = (),
    ruling: tuple[Array, Array] | None = None,
) -> Piece:
    first, second = (grid.mid[0].copy(), grid.mid[-1].copy()) if ruling is None else ruling
    return Piece(
        key=key,
        path=path,
        title=title,
        group=build.group,
        hand=build.hand,
        stock=strip.sheet.key,
        basis=Basis.AREA,
        amount=grid_area(grid.mid, cells),
        given=None,
        sheet=RuledSheet(
            first=frozen(first),
            second=frozen(second),
            thickness=strip.thickness,
            folds=strip.folds if ruling is not None else (),
            holes=holes,
        ),
        mesh=grid_mesh(grid.upper, grid.lower, cells=cells),
    )
