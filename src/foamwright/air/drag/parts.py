"""All parts of an aeroplane that drag."""

from __future__ import annotations

from foamwright.air.body.shape import body_lines, panel_covers
from foamwright.air.drag.bodies import body_parts
from foamwright.air.drag.covers import body_cover, panel_cover
from foamwright.air.drag.law import DragPart, DragParts, gather
from foamwright.air.drag.placed import block_parts, gear_parts, pushrod_parts
from foamwright.air.drag.surfaces import edge_parts, surface_parts
from foamwright.airframe.model import Airframe


def drag_parts(airframe: Airframe, *, edges: bool = False) -> DragParts:
    """Everything on an aeroplane that drags besides its sections and its lift.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    edges : bool, optional
        Whether square-cut edges of the lifting surfaces are rows of their own. Leave it off
        where section drag counts noses and tails, as that of this room does.

    Returns
    -------
    DragParts
        For :func:`drag_table`, at any speed; find it once for each shape. [m²]

    Notes
    -----
    What lies inside a body or a section, or close ahead of or behind something larger, does
    not count. Pairs are one part, counted twice.
    """
    design, stock = airframe.design, airframe.design.stock
    bodies = body_lines(airframe)
    lines = [(line, body_cover(line)) for line in bodies]
    panels = [panel_cover(panel) for panel in panel_covers(airframe)]
    everything = [*(cover for _, cover in lines), *panels]
    parts: list[DragPart] = []
    for body in design.bodies:
        others = tuple(line for line in bodies if line.key != body.key)
        covers = [*(cover for line, cover in lines if line.key != body.key), *panels]
        own = next(line for line in bodies if line.key == body.key)
        parts += body_parts(body, line=own, stock=stock, bodies=others, covers=covers)
    parts += block_parts(airframe, covers=everything)
    for gear in design.gear:
        parts += gear_parts(gear, stock=stock, covers=everything)
    for pushrod in design.pushrods:
        parts += pushrod_parts(pushrod, stock=stock, covers=everything)
    parts += surface_parts(airframe, bodies=bodies)
    if edges:
        parts += edge_parts(airframe)
    return gather(tuple(parts))
