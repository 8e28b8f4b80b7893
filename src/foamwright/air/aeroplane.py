"""The lattice of an airframe: from its shape in space to lift slope and neutral point."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.lattice import solve_lattice
from foamwright.air.results import LatticeResult
from foamwright.air.surfaces import TAIL_STRIPS, WING_STRIPS, LatticePanel, LatticeSurface
from foamwright.airframe.model import Airframe, ControlShape, PanelShape, StationShape, SurfaceShape
from foamwright.design.model import SurfaceRole

Array = NDArray[np.float64]

#: What :func:`stability` finds, by the name the rest of the house calls it.
Stability = LatticeResult

_STRIPS = {SurfaceRole.WING: WING_STRIPS}
#: A control that ends nearer than this share of the panel's length to the panel's end gets no
#: strip edge of its own: a sliver of a strip would say no more.
_SLIVER = 0.03


def lattice_surfaces(airframe: Airframe) -> tuple[LatticeSurface, ...]:
    """Lifting surfaces of an airframe as the lattice takes them.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]

    Returns
    -------
    tuple of LatticeSurface
        In the order of the airframe. [m]
    """
    return tuple(_surface(shape) for shape in airframe.surfaces)


def stability(airframe: Airframe, *, lateral: bool = False) -> Stability:
    """Lift slope, neutral point and zero-lift figures of an aeroplane, power off.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    lateral : bool, optional
        Whether sideslip and roll are solved too.

    Returns
    -------
    Stability
        On the airframe's reference area, chord and span, moments about the quarter point
        of the main wing's mean chord.

    Notes
    -----
    See :func:`foamwright.air.solve_lattice`. Bodies and propellers are left out.
    """
    measures = airframe.reference
    x, _, z = measures.mac_leading_edge
    return solve_lattice(
        lattice_surfaces(airframe),
        reference_area=measures.area,
        reference_chord=measures.mac,
        reference_span=measures.span,
        reference_point=(x + 0.25 * measures.mac, 0.0, z),
        lateral=lateral,
    )


def _surface(shape: SurfaceShape) -> LatticeSurface:
    return LatticeSurface(
        key=shape.key,
        panels=tuple(_panel(panel, shape.controls) for panel in shape.panels),
        mirrored=shape.mirrored,
        strips=_STRIPS.get(shape.role, TAIL_STRIPS),
    )


def _panel(panel: PanelShape, controls: tuple[ControlShape, ...]) -> LatticePanel:
    along = (panel.tip.leading_edge - panel.root.leading_edge)[1:]
    normal = np.array([0.0, -along[1], along[0]]) / np.hypot(*along)
    edges = {at for c in controls if c.panel == panel.name for at in (c.start, c.end)}
    return LatticePanel(
        root_leading=panel.root.leading_edge,
        root_trailing=panel.root.trailing_edge,
        tip_leading=panel.tip.leading_edge,
        tip_trailing=panel.tip.trailing_edge,
        root_mean_line=_mean_line(panel.root, normal),
        tip_mean_line=_mean_line(panel.tip, normal),
        stations=tuple(sorted(at for at in edges if _SLIVER < at < 1.0 - _SLIVER)),
    )


def _mean_line(station: StationShape, normal: Array) -> Array:
    """Mean line with heights square to the panel: at a joint its plane leans and is stretched."""
    return station.mean_line * (1.0, station.stretch * float(station.up @ normal))
