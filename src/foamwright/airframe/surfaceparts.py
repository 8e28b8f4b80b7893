"""All parts of a lifting surface: sheets or cores panel by panel, then joint rods."""

from __future__ import annotations

import math

import numpy as np

from foamwright.airframe.cores import core_pieces
from foamwright.airframe.hands import piece_hands
from foamwright.airframe.model import Array, Basis, Hand, Piece
from foamwright.airframe.skins import sheet_pieces
from foamwright.airframe.solids import rod_mesh
from foamwright.airframe.stations import place, starts_in_middle
from foamwright.airframe.surfaces import SurfaceBuild
from foamwright.design.model import Joint, ProfiledSection, RodStock


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
            pieces += _joint_rod(build, joint, build.stock.rod(joint.rod))
    return tuple(pieces)


def joint_rod_line(build: SurfaceBuild, joint: Joint) -> Array:
    """Middle line of the rod across a joint, (3, 3).

    Parameters
    ----------
    build : SurfaceBuild
        The surface in space.
    joint : Joint
        One of its joints. [m]

    Returns
    -------
    ndarray, (3, 3)
        Half of its length into each panel, square to the x axis, bent at the joint where
        the panels' dihedral differs. At a root that is not mirrored it runs straight on. [m]
    """
    number = joint_number(build, joint)
    part, surface = build.panels[number], build.surface
    outer = part.panel.dihedral
    inner = build.panels[number - 1].panel.dihedral if number else outer
    if number == 0 and starts_in_middle(surface):
        inner = -outer
    line = part.root.mean_line
    height = float(np.interp(joint.rod_at, line[:, 0], line[:, 1]))
    middle = place(part.root, part.root.chord * np.array([joint.rod_at, height]))
    half = 0.5 * joint.rod_length
    return np.stack(
        [
            middle - half * np.array([0.0, math.cos(inner), math.sin(inner)]),
            middle,
            middle + half * np.array([0.0, math.cos(outer), math.sin(outer)]),
        ]
    )


def joint_number(build: SurfaceBuild, joint: Joint) -> int:
    """Return the place of a joint's panel among the panels, from 0 at the root."""
    return next(k for k, part in enumerate(build.panels) if part.panel.name == joint.panel)


def _joint_rod(build: SurfaceBuild, joint: Joint, rod: RodStock) -> tuple[Piece, ...]:
    """Lay the rod across a joint; one in the middle plane is there once."""
    surface = build.surface
    shared = joint_number(build, joint) == 0 and starts_in_middle(surface)
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
        mesh=rod_mesh(joint_rod_line(build, joint), diameter=rod.diameter, bore=rod.bore),
    )
    return piece_hands(piece, mirrored=surface.mirrored and not shared)
