"""Lifting surfaces in space: panels between their stations, and their shape for the air."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foamwright.airframe.cuts import Cuts, controls_of, hinge, panel_cuts
from foamwright.airframe.hands import hand_of
from foamwright.airframe.model import (
    ControlShape,
    Group,
    Hand,
    PanelShape,
    StationShape,
    SurfaceShape,
)
from foamwright.airframe.planform import planform
from foamwright.airframe.sections import Strip, depth, strips
from foamwright.airframe.stations import stations
from foamwright.design.model import (
    Control,
    Panel,
    Stock,
    Surface,
    SurfaceRole,
)

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
