"""The lattice of an airframe: from its shape in space to lift slope and neutral point."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.lattice import solve_lattice
from foamwright.air.results import LatticeReference, LatticeResult
from foamwright.air.surfaces import (
    TAIL_STRIPS,
    WING_STRIPS,
    LatticeControl,
    LatticePanel,
    LatticeSurface,
    control_stations,
)
from foamwright.air.tensor import LiftTensor, solve_tensor
from foamwright.airframe.model import Airframe, PanelShape, StationShape, SurfaceShape
from foamwright.design.model import SurfaceRole

Array = NDArray[np.float64]

#: What :func:`stability` finds, by the name the rest of the house calls it.
Stability = LatticeResult

_STRIPS = {SurfaceRole.WING: WING_STRIPS}


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
        tuple(replace(surface, controls=()) for surface in lattice_surfaces(airframe)),
        reference_area=measures.area,
        reference_chord=measures.mac,
        reference_span=measures.span,
        reference_point=(x + 0.25 * measures.mac, 0.0, z),
        lateral=lateral,
    )


def lift_tensor(airframe: Airframe, *, height: float | None = None) -> LiftTensor:
    """Solve the lattice of an aeroplane once, for everything.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    height : float, optional
        Of the quarter point of the main wing's mean chord above level ground; free air where
        not given. [m]

    Returns
    -------
    LiftTensor
        On the airframe's reference area, chord and span, about the quarter point of the main
        wing's mean chord; :func:`foamwright.air.about` moves it to the balance point.

    Notes
    -----
    See :func:`foamwright.air.solve_tensor`. Bodies and propellers are left out.
    """
    measures = airframe.reference
    x, _, z = measures.mac_leading_edge
    return solve_tensor(
        lattice_surfaces(airframe),
        reference=LatticeReference(
            area=measures.area,
            chord=measures.mac,
            span=measures.span,
            point=(x + 0.25 * measures.mac, 0.0, z),
        ),
        height=height,
    )


def _surface(shape: SurfaceShape) -> LatticeSurface:
    names = [panel.name for panel in shape.panels]
    controls = tuple(
        LatticeControl(
            key=control.key,
            panel=names.index(control.panel),
            start=control.start,
            end=control.end,
            start_hinge=control.start_hinge,
            end_hinge=control.end_hinge,
        )
        for control in shape.controls
    )
    return LatticeSurface(
        key=shape.key,
        panels=tuple(
            _panel(panel, control_stations(controls, i)) for i, panel in enumerate(shape.panels)
        ),
        mirrored=shape.mirrored,
        strips=_STRIPS.get(shape.role, TAIL_STRIPS),
        controls=controls,
    )


def _panel(panel: PanelShape, stations: tuple[float, ...]) -> LatticePanel:
    along = (panel.tip.leading_edge - panel.root.leading_edge)[1:]
    normal = np.array([0.0, -along[1], along[0]]) / np.hypot(*along)
    return LatticePanel(
        root_leading=panel.root.leading_edge,
        root_trailing=panel.root.trailing_edge,
        tip_leading=panel.tip.leading_edge,
        tip_trailing=panel.tip.trailing_edge,
        root_mean_line=_mean_line(panel.root, normal),
        tip_mean_line=_mean_line(panel.tip, normal),
        stations=stations,
    )


def _mean_line(station: StationShape, normal: Array) -> Array:
    """Mean line with heights square to the panel: at a joint its plane leans and is stretched."""
    return station.mean_line * (1.0, station.stretch * float(station.up @ normal))
