"""Parasite drag by parts: bodies, motors, gear, rods, gaps, corners."""

from foamwright.air.drag.friction import laminar_friction, plate_friction, turbulent_friction
from foamwright.air.drag.law import DragPart, DragParts, Law, gather
from foamwright.air.drag.model import (
    Cause,
    DragRow,
    DragTable,
    add_rows,
    share_lines,
)
from foamwright.air.drag.parts import drag_parts
from foamwright.air.drag.table import drag_table

__all__ = [
    "Cause",
    "DragPart",
    "DragParts",
    "DragRow",
    "DragTable",
    "Law",
    "add_rows",
    "drag_parts",
    "drag_table",
    "gather",
    "laminar_friction",
    "plate_friction",
    "share_lines",
    "turbulent_friction",
]
