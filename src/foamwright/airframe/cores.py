"""Cut cores: the solid parts of profiled panels and the controls cut from them.

A core is ruled from its root to its tip coordinates at equal fractions of chord. Controls are
cut square to the chord.
"""

from __future__ import annotations

import numpy as np

from foamwright.airframe.cuts import hinge, span_of
from foamwright.airframe.meshes import Mask, grid_mesh, mesh_volume
from foamwright.airframe.model import Array, Basis, Piece, StationShape
from foamwright.airframe.sections import core_lines
from foamwright.airframe.stations import place
from foamwright.airframe.surfaces import PanelBuild, SurfaceBuild
from foamwright.design.model import Control, ProfiledSection


def core_pieces(build: SurfaceBuild, part: PanelBuild) -> list[Piece]:
    """Cut a panel's core, and its controls square to the chord.

    Parameters
    ----------
    build : SurfaceBuild
        The surface in space.
    part : PanelBuild
        One of its panels, with profiled sections.

    Returns
    -------
    list of Piece
        The drawn half's pieces, the panel's own first. [m³]
    """
    cuts = part.cuts
    if cuts is None:
        rows = np.array([0.0, 1.0])
        return [_core_piece(build, part, rows=rows, places=_core_places(part)[None], nose=True)]
    places = _core_places(part)
    columns, front = _columns(places, cuts.edge)
    cells = np.ones((len(cuts.rows) - 1, columns.shape[1] - 1), dtype=bool)
    cells[cuts.cut, front:] = False
    pieces = [_core_piece(build, part, rows=cuts.rows, places=columns, nose=True, cells=cells)]
    for control in part.controls:
        columns, front = _columns(places, np.array(hinge(part.panel, control)))
        pieces.append(
            _core_piece(
                build,
                part,
                rows=np.array(span_of(control)),
                places=columns[:, front:],
                nose=False,
                control=control,
            )
        )
    return pieces


def _columns(places: Array, edge: Array) -> tuple[Array, int]:
    """Places along the chord, row by row, of which one lies on the edge; and its number.

    Where the edge stays at one fraction of the chord, all others stay where they were.
    """
    mean = float(edge.mean())
    ahead, behind = places[places < mean] / mean, (places[places > mean] - mean) / (1.0 - mean)
    at = edge[:, None]
    return np.concatenate([at * ahead, at, at + (1.0 - at) * behind], axis=1), len(ahead)


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
