"""Box bodies as cut parts.

Corner rule: the sides run the full outside height; top and bottom lie between the sides;
cross pieces (ends and formers) stand between all four. Every section square to the x axis is
exact at its stations: outside measures as drawn, sheets as thick along y and z as their slope
makes them, which at a bend between two slopes is the mean of both.

Doublers lie inside their face: on the sides between top and bottom, on top and bottom between
the sides and what doubles them. Formers are smaller where doublers pass. Openings go through
doublers too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamwright.airframe.hands import drawn_hand
from foamwright.airframe.meshes import Mask, frozen, mesh_area, mesh_volume
from foamwright.airframe.model import (
    Array,
    BodyShape,
    Hand,
)
from foamwright.airframe.solids import ring_mesh
from foamwright.design.model import BoxBody, BoxFace, Doubler, Opening, SheetStock, Stock
from foamwright.errors import DomainError

# Strips of sheet narrower than this are not there: a hundredth of the finest cut. [m]
_NOTHING = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BoxBuild:
    """A box body's outside and the thickness of its walls, station by station.

    y counts from the body's own middle plane.
    """

    body: BoxBody
    sheet: SheetStock
    hand: Hand  # of the body as drawn
    x: Array  # (n,) m
    bottom: Array  # (n,) m, outside
    top: Array  # (n,) m, outside
    half: Array  # (n,) m, half the outside width
    wall: Array  # (n,) m, thickness of a side along y
    roof: Array  # (n,) m, thickness of the top along z
    floor: Array  # (n,) m, thickness of the bottom along z
    doublers: tuple[tuple[Doubler, float], ...]  # with their thickness [m]

    def at(self, values: Array, x: Array) -> Array:
        """Interpolate one of the station measures to places along the body. [m]"""
        return np.interp(x, self.x, values)

    def doubled(self, face: BoxFace, start: float, end: float) -> float:
        """Thickness of the thickest doubler of a face between two places. [m]"""
        return max(
            (
                thick
                for doubler, thick in self.doublers
                if doubler.face is face and doubler.start < end and start < doubler.end
            ),
            default=0.0,
        )


def box_build(body: BoxBody, *, stock: Stock) -> BoxBuild:
    """Measure a box body's walls.

    Parameters
    ----------
    body : BoxBody
        As designed. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    BoxBuild
        Outside and walls at every station. [m]

    Raises
    ------
    DomainError
        Where stations do not run aft, or the walls leave no room inside.
    """
    where = f"body.{body.key}"
    x = np.array([station.x for station in body.stations])
    if len(x) < 2 or np.any(np.diff(x) <= 0.0):
        raise DomainError(f"{where}: a box needs two or more stations, each aft of the one before")
    bottom = np.array([station.bottom for station in body.stations])
    top = np.array([station.top for station in body.stations])
    half = np.array([0.5 * station.width for station in body.stations])
    sheet = stock.sheet(body.sheet)
    t = sheet.thickness.value
    wall, roof, floor = (_along_axis(x, line, t) for line in (half, top, bottom))
    if np.any(half <= wall) or np.any(top - bottom <= roof + floor):
        raise DomainError(
            f"{where}: at a station the outside is no larger than two sheets of "
            f"{1e3 * t:.1f} mm; widen it or use thinner sheet"
        )
    return BoxBuild(
        body=body,
        sheet=sheet,
        hand=drawn_hand(body.y, mirrored=body.mirrored),
        x=x,
        bottom=bottom,
        top=top,
        half=half,
        wall=wall,
        roof=roof,
        floor=floor,
        doublers=tuple(
            (doubler, stock.sheet(doubler.sheet).thickness.value) for doubler in body.doublers
        ),
    )


def _along_axis(x: Array, line: Array, thickness: float) -> Array:
    """Thickness of a sloping sheet square to x, at every station. [m]"""
    slope = np.diff(line) / np.diff(x)
    steep = np.sqrt(1.0 + slope * slope)
    return thickness * 0.5 * (np.append(steep[0], steep) + np.append(steep, steep[-1]))


# ---------------------------------------------------------------- outside


def box_shape(build: BoxBuild) -> BodyShape:
    """Outside of a box body as drawn; its wetted area counts the ends that are closed.

    Parameters
    ----------
    build : BoxBuild
        The measured body. [m]

    Returns
    -------
    BodyShape
        Envelope and its measures. [m, m², m³]
    """
    half, y = build.half, build.body.y
    # Anticlockwise seen from behind: left below, right below, right above, left above.
    corners = [
        np.stack([build.x, y + side * half, height], axis=1)
        for side, height in (
            (-1.0, build.bottom),
            (1.0, build.bottom),
            (1.0, build.top),
            (-1.0, build.top),
        )
    ]
    outside = ring_mesh(np.stack(corners, axis=1))
    wetted = mesh_area(outside)
    for station, closed in ((0, build.body.ends[0]), (-1, build.body.ends[1])):
        if not closed:
            height = float(build.top[station] - build.bottom[station])
            wetted -= 2.0 * float(half[station]) * height
    return BodyShape(
        key=build.body.key,
        path=f"body.{build.body.key}",
        kind="box",
        hand=build.hand,
        outside=outside,
        length=float(build.x[-1] - build.x[0]),
        width=2.0 * float(half.max()),
        height=float(build.top.max() - build.bottom.min()),
        wetted_area=wetted,
        volume=mesh_volume(outside),
    )


# ---------------------------------------------------------------- faces


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layer:
    """A sheet parallel to a face: where it lies and how far it reaches, station by station."""

    face: BoxFace
    x: Array  # (k,) m, places at which it bends, begins or ends
    low: Array  # (k,) m, across the face: z on sides, y on top and bottom
    high: Array  # (k,) m
    outer: Array  # (k,) m, square to the face: y on sides, z on top and bottom
    inner: Array  # (k,) m


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CutSheet:
    """A layer with its openings, as points and cells."""

    mid: Array  # (k, r, 3) m
    outer: Array  # (k, r, 3) m
    inner: Array  # (k, r, 3) m
    cells: Mask  # (k - 1, r - 1)
    holes: tuple[Array, ...]


def _places(build: BoxBuild, start: float, end: float, openings: Sequence[Opening]) -> Array:
    """Start, end, and all stations and opening edges between them. [m]"""
    marks = [start, end, *(edge for opening in openings for edge in (opening.start, opening.end))]
    places = np.unique(np.concatenate([build.x, np.array(marks)]))
    return places[(places >= start) & (places <= end)]


def face_layer(build: BoxBuild, face: BoxFace, start: float, end: float) -> Layer:
    """Return the body's own sheet of a face between two places."""
    x = _places(build, start, end, openings_of(build.body, face))
    bottom, top, half = (build.at(line, x) for line in (build.bottom, build.top, build.half))
    wall = build.at(build.wall, x)
    match face:
        case BoxFace.SIDES:
            return Layer(face=face, x=x, low=bottom, high=top, outer=half, inner=half - wall)
        case BoxFace.TOP:
            inner = top - build.at(build.roof, x)
            return Layer(face=face, x=x, low=wall - half, high=half - wall, outer=top, inner=inner)
        case BoxFace.BOTTOM:
            inner = bottom + build.at(build.floor, x)
            return Layer(
                face=face, x=x, low=wall - half, high=half - wall, outer=bottom, inner=inner
            )


def openings_of(body: BoxBody, face: BoxFace) -> list[Opening]:
    """Return the openings of one face, those across y counted from the body's own middle."""
    mine = [opening for opening in body.openings if opening.face is face]
    if face is BoxFace.SIDES or body.y == 0.0:
        return mine
    return [replace(one, low=one.low - body.y, high=one.high - body.y) for one in mine]


def cut_layer(build: BoxBuild, layer: Layer, openings: Sequence[Opening]) -> CutSheet:
    """Lay a grid over a layer, with a line along every edge of the openings of its face.

    An opening that reaches the edge of the sheet is a notch in it.
    """
    mine = [opening for opening in openings if _meets(layer, opening)]
    edges = np.unique([edge for opening in mine for edge in (opening.low, opening.high)])
    rows = np.empty((len(layer.x), len(edges) + 2))
    rows[:, 0], rows[:, -1] = layer.low, layer.high
    rows[:, 1:-1] = np.clip(edges, layer.low[:, None], layer.high[:, None])
    # A cell without height at both ends lies beyond the edge of the sheet.
    tall = np.diff(rows, axis=1) > _NOTHING
    cells = tall[:-1] | tall[1:]
    for opening in mine:
        along = (layer.x[:-1] >= opening.start) & (layer.x[1:] <= opening.end)
        low, high = np.searchsorted(edges, (opening.low, opening.high)) + 1
        cells[along, low:high] = False
    if not np.any(cells):
        raise DomainError(
            f"body.{build.body.key}: its openings leave nothing of a sheet on its "
            f"{layer.face.value}"
        )
    points = [
        _on_face(build, layer, rows, across)
        for across in (0.5 * (layer.outer + layer.inner), layer.outer, layer.inner)
    ]
    return CutSheet(
        mid=points[0],
        outer=points[1],
        inner=points[2],
        cells=cells,
        holes=tuple(_hole(build, layer, opening) for opening in mine),
    )


def _meets(layer: Layer, opening: Opening) -> bool:
    """Whether an opening takes anything out of a layer."""
    if not (opening.start < layer.x[-1] and layer.x[0] < opening.end):
        return False
    part = within(layer, opening)
    return bool(np.any(part.high - part.low > _NOTHING))


def _on_face(build: BoxBuild, layer: Layer, rows: Array, across: Array) -> Array:
    """Points of a layer (k, r, 3) from places along, across and square to its face. [m]"""
    points = np.empty((*rows.shape, 3))
    points[..., 0] = layer.x[:, None]
    if layer.face is BoxFace.SIDES:
        points[..., 1] = build.body.y + across[:, None]
        points[..., 2] = rows
    else:
        points[..., 1] = build.body.y + rows
        points[..., 2] = across[:, None]
    return points


def within(layer: Layer, opening: Opening) -> Layer:
    """Return the part of a layer that an opening takes out."""
    inside = (layer.x >= opening.start) & (layer.x <= opening.end)
    low, high = layer.low[inside], layer.high[inside]
    return Layer(
        face=layer.face,
        x=layer.x[inside],
        low=np.clip(opening.low, low, high),
        high=np.clip(opening.high, low, high),
        outer=layer.outer[inside],
        inner=layer.inner[inside],
    )


def _hole(build: BoxBuild, layer: Layer, opening: Opening) -> Array:
    """Outline of an opening on the mid-sheet, with a point at every station it passes."""
    part = within(layer, opening)
    rows = np.stack([part.low, part.high], axis=1)
    points = _on_face(build, part, rows, 0.5 * (part.outer + part.inner))
    return frozen(np.concatenate([points[:, 0], points[::-1, 1]]))


# ---------------------------------------------------------------- doublers


def doubler_outline(build: BoxBuild, doubler: Doubler, *, thickness: float) -> Array:
    """Outline of a doubler on its middle, of one on the sides that at greater y.

    Parameters
    ----------
    build : BoxBuild
        The measured body. [m]
    doubler : Doubler
        As designed. [m]
    thickness : float
        Thickness of its sheet. [m]

    Returns
    -------
    ndarray, (k, 3)
        Corners, first point not repeated. [m]
    """
    layer = doubler_layer(build, doubler, thickness=thickness)
    rows = np.stack([layer.low, layer.high], axis=1)
    points = _on_face(build, layer, rows, 0.5 * (layer.outer + layer.inner))
    return np.concatenate([points[:, 0], points[::-1, 1]])


def doubler_layer(build: BoxBuild, doubler: Doubler, *, thickness: float) -> Layer:
    """Return the layer of a doubler inside its face; its sheet's thickness in m."""
    where = f"body.{build.body.key}.doubler.{doubler.key}"
    if not build.x[0] - _NOTHING <= doubler.start < doubler.end <= build.x[-1] + _NOTHING:
        raise DomainError(f"{where}: must run aft between the two ends of its body")
    x = _places(build, doubler.start, doubler.end, openings_of(build.body, doubler.face))
    bottom, top, half = (build.at(line, x) for line in (build.bottom, build.top, build.half))
    wall, roof, floor = (build.at(line, x) for line in (build.wall, build.roof, build.floor))
    share = thickness / build.sheet.thickness.value
    if doubler.face is BoxFace.SIDES:
        return Layer(
            face=doubler.face,
            x=x,
            low=bottom + floor,
            high=top - roof,
            outer=half - wall,
            inner=half - wall - share * wall,
        )
    beside = build.doubled(BoxFace.SIDES, doubler.start, doubler.end)
    width = half - wall * (1.0 + beside / build.sheet.thickness.value)
    at_top = doubler.face is BoxFace.TOP
    outer = top - roof if at_top else bottom + floor
    inner = outer - share * roof if at_top else outer + share * floor
    return Layer(face=doubler.face, x=x, low=-width, high=width, outer=outer, inner=inner)


# ---------------------------------------------------------------- cross pieces


def cross_outline(build: BoxBuild, *, x: float, thickness: float) -> Array:
    """Corners of a cross piece, anticlockwise seen from behind, (4, 3).

    Parameters
    ----------
    build : BoxBuild
        The measured body. [m]
    x, thickness : float
        Place of its middle and thickness along x. [m]

    Returns
    -------
    ndarray, (4, 3)
        Mid-sheet corners: left below, right below, right above, left above. [m]
    """
    start, end = x - 0.5 * thickness, x + 0.5 * thickness
    t = build.sheet.thickness.value
    place = np.array([x])
    side, low, high = (
        1.0 + build.doubled(face, start, end) / t
        for face in (BoxFace.SIDES, BoxFace.BOTTOM, BoxFace.TOP)
    )
    half = float((build.at(build.half, place) - side * build.at(build.wall, place))[0])
    bottom = float((build.at(build.bottom, place) + low * build.at(build.floor, place))[0])
    top = float((build.at(build.top, place) - high * build.at(build.roof, place))[0])
    if half <= 0.0 or top <= bottom:
        raise DomainError(
            f"body.{build.body.key}: at x = {1e3 * x:.0f} mm its walls and doublers leave no room "
            "for a cross piece"
        )
    y = build.body.y
    return np.array(
        [
            [x, y - half, bottom],
            [x, y + half, bottom],
            [x, y + half, top],
            [x, y - half, top],
        ]
    )
