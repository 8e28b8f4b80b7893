"""All parts of a lifting surface: sheets or cores panel by panel, then joint rods."""

from __future__ import annotations

import numpy as np

from foamwright.airframe.cores import core_pieces
from foamwright.airframe.hands import piece_hands
from foamwright.airframe.model import Basis, Hand, Piece
from foamwright.airframe.skins import sheet_pieces
from foamwright.airframe.solids import rod_mesh
from foamwright.airframe.stations import joint_angles, place, starts_in_middle
from foamwright.airframe.surfaces import SurfaceBuild
from foamwright.design.model import Joint, ProfiledSection


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
            drawn += core_pieces(build, part)
        else:
            for root, tip in zip(part.root_strips, part.tip_strips, strict=True):
                drawn += sheet_pieces(build, part, root, tip)
    mirrored = build.surface.mirrored
    pieces = [piece for one in drawn for piece in piece_hands(one, mirrored=mirrored)]
    for joint in build.surface.joints:
        if joint.rod is not None:
            pieces += _joint_rod(build, joint)
    return tuple(pieces)


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
