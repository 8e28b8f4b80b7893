"""Which face of a part is up on the page, and which way it points."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, Hand, PanelShape, Piece, SurfaceShape
from foamwright.design.model import Body, BoxBody, Surface

Array = NDArray[np.float64]

# Within 60 degrees of a direction a face is named after it.
_NEAR = 0.5


class Lies(StrEnum):
    """How a part lies in the aeroplane; decides what points up the page."""

    ALONG_SPAN = "along the span"  # skins, layers, controls: nose up the page
    ACROSS_CHORD = "across the chord"  # spar webs: upper edge up the page
    ALONG_BODY = "along the body"  # sides, top, bottom, doublers, slabs
    ACROSS_BODY = "across the body"  # formers and ends: top up the page


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """A part as it is looked at."""

    lies: Lies
    face_up: str
    viewer: Array  # (3,) direction from the part to whoever looks at its named face
    upward: Array  # (3,) direction that points up the page where it can


def view_of(airframe: Airframe, piece: Piece, *, normal: Array, middle: Array) -> View:
    """Choose the named face of a piece of sheet.

    Parameters
    ----------
    airframe : Airframe
        The shape, for what the piece belongs to.
    piece : Piece
        The piece of sheet.
    normal : ndarray, (3,)
        Unit vector square to it, either way.
    middle : ndarray, (3,)
        Its middle. [m]

    Returns
    -------
    View
        Upper face for lifting surfaces, outside for bodies, front for what stands across.
    """
    panel = panel_of(airframe, piece)
    if panel is not None:
        return _surface_view(panel, piece.hand, normal, is_mirrored=_is_image(airframe, piece))
    return _body_view(body_of(airframe, piece), piece.hand, normal, middle)


def surface_of(airframe: Airframe, piece: Piece) -> SurfaceShape | None:
    """Lifting surface a piece belongs to, by its path."""
    kind, _, rest = piece.path.partition(".")
    if kind != "surface":
        return None
    key = rest.partition(".")[0]
    return next((shape for shape in airframe.surfaces if shape.key == key), None)


def designed_surface(airframe: Airframe, piece: Piece) -> Surface:
    """Return the surface of a piece as the design file says it."""
    key = piece.path.split(".")[1]
    return next(surface for surface in airframe.design.surfaces if surface.key == key)


def panel_of(airframe: Airframe, piece: Piece) -> PanelShape | None:
    """Panel a piece of a lifting surface is cut from; None for bodies."""
    shape = surface_of(airframe, piece)
    if shape is None:
        return None
    name = piece.path.split(".")[-1]
    if ".control." in piece.path:
        name = next(control.panel for control in shape.controls if control.key == name)
    return next((panel for panel in shape.panels if panel.name == name), None)


def _is_image(airframe: Airframe, piece: Piece) -> bool:
    """Whether a piece of a lifting surface is the mirror image of what is drawn."""
    shape = surface_of(airframe, piece)
    return shape is not None and shape.mirrored and piece.hand is Hand.LEFT


def body_of(airframe: Airframe, piece: Piece) -> Body | None:
    """Body a piece belongs to, by its path; None for lifting surfaces."""
    kind, _, rest = piece.path.partition(".")
    if kind != "body":
        return None
    key = rest.partition(".")[0]
    return next((body for body in airframe.design.bodies if body.key == key), None)


def _surface_view(panel: PanelShape, hand: Hand, normal: Array, *, is_mirrored: bool) -> View:
    flip = np.array([1.0, -1.0, 1.0]) if is_mirrored else np.ones(3)
    up = (panel.root.up + panel.tip.up) * flip
    up = up / np.linalg.norm(up)
    forward = -(panel.root.aft + panel.tip.aft) * flip
    if abs(float(normal @ up)) < _NEAR:
        return View(lies=Lies.ACROSS_CHORD, face_up="front face up", viewer=forward, upward=up)
    face = "upper face up" if abs(up[2]) >= _NEAR else _side_face(float(up[1]), hand)
    return View(lies=Lies.ALONG_SPAN, face_up=face, viewer=up, upward=forward)


def _body_view(body: Body | None, hand: Hand, normal: Array, middle: Array) -> View:
    x, y, z = np.eye(3)
    if abs(normal[0]) > _NEAR:
        return View(lies=Lies.ACROSS_BODY, face_up="front face up", viewer=-x, upward=z)
    if not isinstance(body, BoxBody):
        return View(lies=Lies.ALONG_BODY, face_up=_side_face(1.0, hand), viewer=y, upward=z)
    if abs(normal[1]) >= abs(normal[2]):
        # A mirrored body stands on either side; its own middle plane is on the sheet's side.
        plane = body.y if not body.mirrored or middle[1] * body.y >= 0.0 else -body.y
        outward = y if middle[1] >= plane else -y
        return View(lies=Lies.ALONG_BODY, face_up="outside up", viewer=outward, upward=z)
    places = [station.x for station in body.stations]
    waist = [0.5 * (station.bottom + station.top) for station in body.stations]
    outward = z if middle[2] >= np.interp(float(middle[0]), places, waist) else -z
    return View(lies=Lies.ALONG_BODY, face_up="outside up", viewer=outward, upward=y)


def _side_face(across: float, hand: Hand) -> str:
    """Name of an upright face by the way it looks along y; pairs have an inner and an outer."""
    if hand is Hand.CENTRE:
        return "right face up" if across > 0.0 else "left face up"
    return "outer face up" if (across > 0.0) == (hand is Hand.RIGHT) else "inner face up"
