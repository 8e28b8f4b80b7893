"""Lifting surfaces as cut parts: skins, layers, spars, cores and the controls cut from them.

Every sheet part is one piece, with its cut-outs. A panel's sheet is ruled from its root to its
tip section, node to node. A control is the part of the sheet aft of its hinge line; the gap is
taken from the panel. Hinges are cut square to the sheet; bevels are not in the solids. On a
folded section a control is two strips, the upper skin and, where the lower skin reaches that
far aft, the lower one, each a piece of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foamwright.airframe.cuts import Cuts, controls_of, hinge, local_chord, panel_cuts
from foamwright.airframe.hands import hand_of, piece_hands
from foamwright.airframe.meshes import (
    Mask,
    frozen,
    grid_area,
    grid_mesh,
    mesh_volume,
)
from foamwright.airframe.model import (
    Array,
    Basis,
    ControlShape,
    Group,
    Hand,
    PanelShape,
    Piece,
    RuledSheet,
    StationShape,
    SurfaceShape,
)
from foamwright.airframe.planform import planform
from foamwright.airframe.sections import Strip, bent_nodes, core_lines, depth, offset, strips
from foamwright.airframe.solids import rod_mesh
from foamwright.airframe.stations import joint_angles, place, starts_in_middle, stations
from foamwright.design.model import (
    Control,
    CurvedSection,
    Joint,
    Panel,
    ProfiledSection,
    Stock,
    Surface,
    SurfaceRole,
)
from foamwright.errors import DomainError

_WINGS = (SurfaceRole.WING, SurfaceRole.CANARD)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelBuild:
    """One panel between its stations, with its sheets at both ends."""

    panel: Panel
    key: str  # "wing.inner"
    path: str  # "surface.wing.panel.inner"
    title: str  # "wing, inner panel"
    root: StationShape
    tip: StationShape
    root_strips: tuple[Strip, ...]
    tip_strips: tuple[Strip, ...]
    cuts: Cuts | None
    controls: tuple[Control, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceBuild:
    """A surface's panels in space, with what is needed to cut its parts and lay its lines."""

    surface: Surface
    stock: Stock
    group: Group
    hand: Hand  # of the half that is drawn
    panels: tuple[PanelBuild, ...]


def surface_build(surface: Surface, *, stock: Stock) -> SurfaceBuild:
    """Stand a surface's panels in space.

    Parameters
    ----------
    surface : Surface
        As designed. [m, rad]
    stock : Stock
        Goods it is made of. [m]

    Returns
    -------
    SurfaceBuild
        Panels with stations, sheets and cuts. [m]
    """
    panels: list[PanelBuild] = []
    pairs = stations(surface, stock=stock)
    for panel, (root, tip) in zip(surface.panels, pairs, strict=True):
        panels.append(
            PanelBuild(
                panel=panel,
                key=f"{surface.key}.{panel.name}",
                path=f"surface.{surface.key}.panel.{panel.name}",
                title=f"{surface.key}, {panel.name} panel",
                root=root,
                tip=tip,
                root_strips=strips(panel.root_section, chord=panel.root_chord, stock=stock),
                tip_strips=strips(panel.tip_section, chord=panel.tip_chord, stock=stock),
                cuts=panel_cuts(surface, panel),
                controls=controls_of(surface, panel),
            )
        )
    middle = float(np.mean([pair[i].leading_edge[1] for pair in pairs for i in (0, 1)]))
    return SurfaceBuild(
        surface=surface,
        stock=stock,
        group=Group.WING if surface.role in _WINGS else Group.TAIL,
        hand=Hand.RIGHT if surface.mirrored else hand_of(middle),
        panels=tuple(panels),
    )


def surface_shape(build: SurfaceBuild) -> SurfaceShape:
    """Shape of a surface for the air: stations, controls, planform. [m, rad]"""
    surface = build.surface
    return SurfaceShape(
        key=surface.key,
        path=f"surface.{surface.key}",
        role=surface.role,
        mirrored=surface.mirrored,
        panels=tuple(_panel_shape(part, build.stock) for part in build.panels),
        controls=tuple(
            _control_shape(surface, part.panel, control)
            for part in build.panels
            for control in part.controls
        ),
        planform=planform(surface),
    )


def _panel_shape(part: PanelBuild, stock: Stock) -> PanelShape:
    panel = part.panel
    deepest = max(
        depth(panel.root_section, chord=panel.root_chord, stock=stock),
        depth(panel.tip_section, chord=panel.tip_chord, stock=stock),
    )
    return PanelShape(
        name=panel.name,
        path=part.path,
        root=part.root,
        tip=part.tip,
        dihedral=panel.dihedral,
        thickness=deepest / (0.5 * (panel.root_chord + panel.tip_chord)),
    )


def _control_shape(surface: Surface, panel: Panel, control: Control) -> ControlShape:
    start, end = hinge(panel, control)
    return ControlShape(
        key=control.key,
        path=f"surface.{surface.key}.control.{control.key}",
        panel=panel.name,
        start=control.start,
        end=control.end,
        start_hinge=start,
        end_hinge=end,
        throw_up=control.throw_up,
        throw_down=control.throw_down,
        mixes=control.mixes,
    )


# ---------------------------------------------------------------- pieces


def surface_pieces(build: SurfaceBuild) -> tuple[Piece, ...]:
    """Every part of a surface, both hands.

    Parameters
    ----------
    build : SurfaceBuild
        The surface in space.

    Returns
    -------
    tuple of Piece
        Panels from root to tip, each followed by its controls, then joint rods. [m², m³, m]

    Raises
    ------
    DomainError
        Where a control cannot be cut from its panel.
    """
    drawn: list[Piece] = []
    for part in build.panels:
        if isinstance(part.panel.root_section, ProfiledSection):
            drawn += _core_pieces(build, part)
        else:
            for root, tip in zip(part.root_strips, part.tip_strips, strict=True):
                drawn += _strip_pieces(build, part, root, tip)
    mirrored = build.surface.mirrored
    pieces = [piece for one in drawn for piece in piece_hands(one, mirrored=mirrored)]
    for joint in build.surface.joints:
        if joint.rod is not None:
            pieces += _joint_rod(build, joint)
    return tuple(pieces)


def _strip_pieces(build: SurfaceBuild, part: PanelBuild, root: Strip, tip: Strip) -> list[Piece]:
    """Cut the panel's piece of one sheet, and its controls' pieces of the same sheet."""
    if part.cuts is None or root.part == "spar":
        rows = np.array([0.0, 1.0])
        grid = _grid(part, root, tip, rows, root.nodes[None], tip.nodes[None])
        return [_sheet_piece(build, part, root, grid)]
    split = _split(part, root, tip, rows=part.cuts.rows, edge=part.cuts.edge)
    grid = _grid(part, root, tip, part.cuts.rows, split.root, split.tip)
    cells = np.ones((len(part.cuts.rows) - 1, grid.mid.shape[1] - 1), dtype=bool)
    if split.aft is not None:
        cells[part.cuts.cut, split.aft :] = False
    if split.fore is not None:
        cells[part.cuts.cut, : split.fore] = False
    if split.aft is None and split.fore is None:
        return [_sheet_piece(build, part, root, grid)]
    pieces = [_sheet_piece(build, part, root, grid, cells=cells, split=split)]
    for control in part.controls:
        pieces += _control_pieces(build, part, control, root, tip)
    return pieces


def _control_pieces(
    build: SurfaceBuild, part: PanelBuild, control: Control, root: Strip, tip: Strip
) -> list[Piece]:
    rows = np.array([control.start, control.end])
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
    """Rule a sheet from its root nodes to its tip nodes, row by row."""
    share = rows[:, None, None]
    faces: list[Array] = []
    for side in (0.0, 0.5, -0.5):
        at_root = offset(inner, side * root.thickness) if side else inner
        at_tip = offset(outer, side * tip.thickness) if side else outer
        one, two = place(part.root, at_root), place(part.tip, at_tip)
        # Written so that root and tip rows are the station's points to the last bit.
        faces.append((1.0 - share) * one + share * two)
    return _Grid(mid=faces[0], upper=faces[1], lower=faces[2])


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


# ---------------------------------------------------------------- cores


def _core_pieces(build: SurfaceBuild, part: PanelBuild) -> list[Piece]:
    """Cut a core, and its controls square to the chord."""
    cuts = part.cuts
    if cuts is None:
        rows = np.array([0.0, 1.0])
        return [_core_piece(build, part, rows=rows, places=_core_places(part)[None], nose=True)]
    # Columns ahead of and behind the mean hinge, drawn so that one lies on the cut.
    mean = float(cuts.edge.mean())
    places = _core_places(part)
    ahead, behind = places[places < mean] / mean, (places[places > mean] - mean) / (1.0 - mean)
    edge = cuts.edge[:, None]
    behind = np.concatenate([[0.0], behind])
    columns = np.concatenate([edge * ahead, edge + (1.0 - edge) * behind], axis=1)
    cells = np.ones((len(cuts.rows) - 1, columns.shape[1] - 1), dtype=bool)
    cells[cuts.cut, len(ahead) :] = False
    pieces = [
        _core_piece(build, part, rows=cuts.rows, places=columns, nose=True, cells=cells),
    ]
    for control in part.controls:
        front = np.array(hinge(part.panel, control))[:, None]
        pieces.append(
            _core_piece(
                build,
                part,
                rows=np.array([control.start, control.end]),
                places=front + (1.0 - front) * behind,
                nose=False,
                control=control,
            )
        )
    return pieces


def _core_places(part: PanelBuild) -> Array:
    """Places along the chord at which either end's coordinates have a corner."""
    lines = [
        line
        for section in (part.panel.root_section, part.panel.tip_section)
        if isinstance(section, ProfiledSection)
        for line in (core_lines(section).upper, core_lines(section).lower)
    ]
    return np.unique(np.concatenate([line[:, 0] for line in lines]))


def _core_piece(
    build: SurfaceBuild,
    part: PanelBuild,
    *,
    rows: Array,
    places: Array,
    nose: bool,
    cells: Mask | None = None,
    control: Control | None = None,
) -> Piece:
    faces: list[Array] = []
    ends: list[tuple[tuple[Array, Array], StationShape]] = []
    for section, station in (
        (part.panel.root_section, part.root),
        (part.panel.tip_section, part.tip),
    ):
        assert isinstance(section, ProfiledSection)  # noqa: S101 — same kind at both ends
        ends.append((core_lines(section).at(places), station))
    share = rows[:, None, None]
    for side in (0, 1):
        one, two = (
            place(station, station.chord * np.stack([places, heights[side]], axis=-1))
            for heights, station in ends
        )
        faces.append((1.0 - share) * one + share * two)
    tail = bool(np.all(faces[0][:, -1] == faces[1][:, -1]))
    mesh = grid_mesh(faces[0], faces[1], cells=cells, nose=nose, tail=tail)
    surface, section = build.surface, part.panel.root_section
    assert isinstance(section, ProfiledSection)  # noqa: S101
    return Piece(
        key=f"{part.key}.core" if control is None else f"{part.key}.{control.key}",
        path=part.path if control is None else f"surface.{surface.key}.control.{control.key}",
        title=f"{part.title}, core" if control is None else f"{surface.key}, {control.key}",
        group=build.group,
        hand=build.hand,
        stock=section.core,
        basis=Basis.VOLUME,
        amount=mesh_volume(mesh),
        given=None,
        sheet=None,
        mesh=mesh,
    )


# ---------------------------------------------------------------- joint rods


def _joint_rod(build: SurfaceBuild, joint: Joint) -> tuple[Piece, ...]:
    """Lay the rod across a joint: straight, half on either side, square to the joint plane."""
    surface = build.surface
    number = next(k for k, part in enumerate(build.panels) if part.panel.name == joint.panel)
    part = build.panels[number]
    assert joint.rod is not None  # noqa: S101 — asked by the caller
    rod = build.stock.rod(joint.rod)
    angle, _ = joint_angles(surface)[number]
    way = np.array([0.0, np.cos(angle), np.sin(angle)])
    line = part.root.mean_line
    height = float(np.interp(joint.rod_at, line[:, 0], line[:, 1]))
    middle = place(part.root, part.root.chord * np.array([joint.rod_at, height]))
    points = middle + np.outer([-0.5 * joint.rod_length, 0.5 * joint.rod_length], way)
    shared = number == 0 and starts_in_middle(surface)
    piece = Piece(
        key=f"{surface.key}.{joint.key}.rod",
        path=f"surface.{surface.key}.joint.{joint.key}",
        title=f"{surface.key}, {joint.key}, rod",
        group=build.group,
        hand=Hand.CENTRE if shared else build.hand,
        stock=rod.key,
        basis=Basis.LENGTH,
        amount=joint.rod_length,
        given=None,
        sheet=None,
        mesh=rod_mesh(points, diameter=rod.diameter, bore=rod.bore),
    )
    return piece_hands(piece, mirrored=surface.mirrored and not shared)
