"""Drag parts of lifting surfaces that their sections do not know: gaps, corners, cut edges."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body.shape import BodyLine
from foamwright.air.drag import shapes, sources
from foamwright.air.drag.bodies import NOTHING
from foamwright.air.drag.law import SAMPLES, DragPart, Law
from foamwright.air.drag.model import Cause
from foamwright.airframe.model import Airframe, Group, SurfaceShape
from foamwright.airframe.sections import depth
from foamwright.design.model import (
    Control,
    CreasedSection,
    CurvedSection,
    FlatSection,
    FoldedSection,
    Panel,
    ProfiledSection,
    Section,
    SteppedSection,
    Stock,
    Surface,
    SurfaceRole,
)

Array = NDArray[np.float64]

_WINGS = (SurfaceRole.WING, SurfaceRole.CANARD)
#: A root within this of a body's outside stands on it. [m]
_TOUCHING = 0.012


def surface_parts(airframe: Airframe, *, bodies: tuple[BodyLine, ...]) -> list[DragPart]:
    """Find the gaps of controls and the corners between surfaces and bodies.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    bodies : tuple of BodyLine
        All bodies. [m]

    Returns
    -------
    list of DragPart
        Rows of both halves of a surface together. [m²]
    """
    stock = airframe.design.stock
    parts: list[DragPart] = []
    for shape, plan in zip(airframe.surfaces, airframe.design.surfaces, strict=True):
        parts += [_gap(shape, plan, control, stock) for control in plan.controls]
        parts += _corner(shape, plan, stock, bodies)
    return parts


def edge_parts(airframe: Airframe) -> list[DragPart]:
    """Find what square-cut edges of the lifting surfaces cost.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]

    Returns
    -------
    list of DragPart
        For surfaces made of sheet, both edges as cut, together. [m²]

    Notes
    -----
    Section drag that already counts blunt noses and tails must not be added to these. They
    tell what rounding the leading and thinning the trailing edge can save at most.
    """
    stock = airframe.design.stock
    pairs = zip(airframe.surfaces, airframe.design.surfaces, strict=True)
    return [part for shape, plan in pairs for part in _edges(shape, plan, stock)]


def _surface_part(
    shape: SurfaceShape,
    name: str,
    *,
    path: str,
    title: str,
    cause: Cause,
    source: sources.Source,
    laws: tuple[Law, ...],
    points: Array,
) -> DragPart:
    return DragPart(
        key=f"{shape.key}.{name}",
        path=path,
        title=title,
        group=Group.WING if shape.role in _WINGS else Group.TAIL,
        cause=cause,
        source=source,
        count=2 if shape.mirrored else 1,
        laws=laws,
        points=points,
    )


def _along(shape: SurfaceShape, panel: int, start: float, end: float, chord: float) -> Array:
    """Sample points on a panel at a fraction of its chord, both hands. [m]"""
    at = start + (end - start) * ((np.arange(SAMPLES // 2) + 0.5) / (SAMPLES // 2))[:, None]
    root, tip = shape.panels[panel].root, shape.panels[panel].tip
    ends = [s.leading_edge + chord * s.chord * s.aft for s in (root, tip)]
    right = ends[0] + at * (ends[1] - ends[0])
    return np.concatenate([right, right * np.array([1.0, -1.0 if shape.mirrored else 1.0, 1.0])])


def _sheet_thickness(section: Section, stock: Stock) -> float:
    """Thickness of the sheet a hinge is cut through; 0 for a core. [m]"""
    if isinstance(section, ProfiledSection):
        return 0.0
    return stock.sheet(section.sheet).thickness.value


def _gap(shape: SurfaceShape, plan: Surface, control: Control, stock: Stock) -> DragPart:
    number = [panel.name for panel in plan.panels].index(control.panel)
    panel = plan.panels[number]
    long = panel.length * (control.end - control.start)
    t = _sheet_thickness(panel.root_section, stock)
    mouth = control.gap + t * math.tan(control.bevel)
    return _surface_part(
        shape,
        f"{control.key}.gap",
        path=f"surface.{shape.key}.control.{control.key}",
        title=f"{shape.key}, gap of {control.key}" + (" (2)" if shape.mirrored else ""),
        cause=Cause.CAVITY,
        source=sources.CAVITY,
        laws=(Law(fixed=shapes.CAVITY * mouth * long),),
        points=_along(shape, number, control.start, control.end, 0.75),
    )


def _corner(
    shape: SurfaceShape, plan: Surface, stock: Stock, bodies: tuple[BodyLine, ...]
) -> list[DragPart]:
    root, panel = shape.panels[0].root, plan.panels[0]
    middle = root.leading_edge + 0.5 * root.chord * root.aft
    steps = _TOUCHING * np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 0.0, -1.0]])
    if not any(bool(body.inside(middle + steps).any()) for body in bodies):
        return []
    thick = depth(panel.root_section, chord=panel.root_chord, stock=stock)
    drag = thick**2 * float(shapes.wall_corner(thick / panel.root_chord))
    if drag <= NOTHING:
        return []
    return [
        _surface_part(
            shape,
            "corner",
            path=f"surface.{shape.key}",
            title=f"{shape.key}, corner with the body" + (" (2)" if shape.mirrored else ""),
            cause=Cause.JUNCTION,
            source=sources.JUNCTION,
            laws=(Law(fixed=drag),),
            points=_along(shape, 0, 0.0, 0.0, 0.5),
        )
    ]


def _edges(shape: SurfaceShape, plan: Surface, stock: Stock) -> list[DragPart]:
    laws = tuple(law for panel in plan.panels for law in _edge_law(panel, stock))
    if not laws:
        return []
    return [
        _surface_part(
            shape,
            "cut edges",
            path=f"surface.{shape.key}",
            title=f"{shape.key}, cut edges" + (" (2)" if shape.mirrored else ""),
            cause=Cause.EDGE,
            source=sources.EDGE,
            laws=laws,
            points=_along(shape, 0, 0.0, 1.0, 0.5),
        )
    ]


def _edge_law(panel: Panel, stock: Stock) -> list[Law]:
    """Return the law of both edges of a panel; a core has fair ones."""
    section = panel.root_section
    t = _sheet_thickness(section, stock)
    match section:
        case FlatSection() | CreasedSection() | CurvedSection() | SteppedSection():
            face = t
        case FoldedSection():
            face = 0.0  # the nose is folded round
        case ProfiledSection():
            return []
    chord = 0.5 * (panel.root_chord + panel.tip_chord)
    # Only the wind square to a swept edge presses on it.
    nose = shapes.FLAT_FACE * face * panel.length * math.cos(panel.sweep) ** 2
    rubbed = 2.0 * chord * panel.length
    return [Law(fixed=nose, edge=t * panel.length, ahead=nose, rubbed=rubbed, length=chord)]
