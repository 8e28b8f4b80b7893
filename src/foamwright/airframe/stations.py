"""Stations: where each panel's sections stand in space.

The right-hand half is drawn. A panel runs along (0, cos G, sin G) from its root to its tip,
G its own angle to the horizontal; its leading edge goes aft by tan(sweep) in the panel's own
plane. A section stands in the plane that halves the joint: its heights are stretched by
1/cos of half the joint angle, so the sheet keeps its thickness up to the mitre.
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from foamwright.airframe.hands import ON_MIDDLE
from foamwright.airframe.meshes import frozen
from foamwright.airframe.model import Array, StationShape
from foamwright.airframe.sections import mean_line
from foamwright.design.model import Section, Stock, Surface
from foamwright.errors import DomainError

# Beyond this half joint angle a mitre is more than 3.9 sheets long and no maker's joint.
_LARGEST_HALF_ANGLE = math.radians(75.0)


def stations(surface: Surface, *, stock: Stock) -> tuple[tuple[StationShape, StationShape], ...]:
    """Root and tip station of every panel of the right-hand half, or of the only one.

    Parameters
    ----------
    surface : Surface
        The surface as designed. [m, rad]
    stock : Stock
        Goods its sections are made of. [m]

    Returns
    -------
    tuple of pairs of StationShape
        Neighbouring panels share the plane of their joint; the root of a mirrored surface
        that starts in the middle lies in y = 0. [m]

    Raises
    ------
    DomainError
        Where two panels, or a mirrored pair, are folded too sharply to be mitred.
    """
    joints = joint_angles(surface)
    edge = np.array(surface.at)
    pairs: list[tuple[StationShape, StationShape]] = []
    for k, panel in enumerate(surface.panels):
        out = np.array([math.tan(panel.sweep), math.cos(panel.dihedral), math.sin(panel.dihedral)])
        tip_edge = edge + panel.length * out
        pairs.append(
            (
                _station(
                    edge,
                    chord=panel.root_chord,
                    tilt=surface.incidence + panel.root_twist,
                    joint=joints[k],
                    section=panel.root_section,
                    stock=stock,
                ),
                _station(
                    tip_edge,
                    chord=panel.tip_chord,
                    tilt=surface.incidence + panel.tip_twist,
                    joint=joints[k + 1],
                    section=panel.tip_section,
                    stock=stock,
                ),
            )
        )
        edge = tip_edge
    return tuple(pairs)


def starts_in_middle(surface: Surface) -> bool:
    """Whether both halves of a mirrored surface meet in the middle plane."""
    return surface.mirrored and abs(surface.at[1]) < ON_MIDDLE


def joint_angles(surface: Surface) -> tuple[tuple[float, float], ...]:
    """Angle of the section plane and stretch of heights at root, joints and tip. [rad, -]"""
    angles = [panel.dihedral for panel in surface.panels]
    # The mirror image is the neighbour of a root in the middle; elsewhere nothing is.
    inboard = -angles[0] if starts_in_middle(surface) else angles[0]
    chain = [inboard, *angles, angles[-1]]
    joints: list[tuple[float, float]] = []
    for k, (before, after) in enumerate(itertools.pairwise(chain)):
        half = 0.5 * abs(after - before)
        if half > _LARGEST_HALF_ANGLE:
            raise DomainError(_too_sharp(surface, k, half))
        joints.append((0.5 * (before + after), 1.0 / math.cos(half)))
    return tuple(joints)


def _too_sharp(surface: Surface, joint: int, half: float) -> str:
    if joint == 0:
        return (
            f"surface.{surface.key}: its two halves stand {math.degrees(half):.0f} degrees to the "
            "horizontal and meet in the middle; an upright surface there needs mirror = false, "
            "or a place off the middle"
        )
    name = surface.panels[joint].name
    return (
        f"surface.{surface.key}.panel.{name}: turns by {math.degrees(2.0 * half):.0f} degrees "
        "against the panel before it; up to 150 degrees can be mitred"
    )


def _station(
    edge: Array,
    *,
    chord: float,
    tilt: float,
    joint: tuple[float, float],
    section: Section,
    stock: Stock,
) -> StationShape:
    angle, stretch = joint
    normal = np.array([0.0, -math.sin(angle), math.cos(angle)])
    along = np.array([1.0, 0.0, 0.0])
    return StationShape(
        leading_edge=frozen(edge.copy()),
        chord=chord,
        aft=frozen(math.cos(tilt) * along - math.sin(tilt) * normal),
        up=frozen(math.sin(tilt) * along + math.cos(tilt) * normal),
        stretch=stretch,
        mean_line=mean_line(section, chord=chord, stock=stock),
    )


def place(station: StationShape, nodes: Array) -> Array:
    """Points of a section (..., 2), x aft and z up of its leading edge, in space. [m]"""
    return (
        station.leading_edge
        + nodes[..., 0, None] * station.aft
        + nodes[..., 1, None] * (station.stretch * station.up)
    )
