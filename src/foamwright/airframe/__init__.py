"""Shape in space: surfaces, sections, bodies, placed items, meshes."""

from foamwright.airframe.build import build_airframe
from foamwright.airframe.meshes import MeshProperties, is_closed, mesh_properties
from foamwright.airframe.model import (
    Airframe,
    Basis,
    BodyShape,
    ControlShape,
    Disc,
    Group,
    Hand,
    LineRun,
    Mesh,
    PanelShape,
    Piece,
    Planform,
    PlateSheet,
    Reference,
    RuledSheet,
    StationShape,
    SurfaceShape,
)

__all__ = [
    "Airframe",
    "Basis",
    "BodyShape",
    "ControlShape",
    "Disc",
    "Group",
    "Hand",
    "LineRun",
    "Mesh",
    "MeshProperties",
    "PanelShape",
    "Piece",
    "Planform",
    "PlateSheet",
    "Reference",
    "RuledSheet",
    "StationShape",
    "SurfaceShape",
    "build_airframe",
    "is_closed",
    "mesh_properties",
]
