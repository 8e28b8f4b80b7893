"""How near the turning blades come to the airframe, at every tilt that the mount allows."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, Disc, Piece
from foamwright.design.model import Motor, Mounting, TiltRange

Array = NDArray[np.float64]

#: Least gap between blades and anything that does not turn, mount flexed. Common practice; a
#: rule for full-size aeroplanes asks 13 mm along and 25 mm around (14 CFR 23.925, from memory).
LEAST_CLEARANCE = 5e-3  # m

#: Blades begin at this share of the radius; within it there is only hub, shaft, spinner.
HUB_SHARE, LEAST_HUB = 0.2, 0.010  # -, m

# Faces are cut until points lie this near to each other, or as near as this error needs. [m]
_SPACING, _ERROR = 4e-3, 3e-4
# Beyond this nothing is looked at more closely. [m]
_NEAR = 0.025
# Each axis of a mount is tried at its ends and half way. The gap runs evenly between two settings,
# or passes through a sheet: then both lie within 5 mm of it up to discs of 250 mm and tilts of 8°.
_SETTINGS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """The nearest thing to a disc."""

    gap: float  # m; 0 where blades cut it; the search ends at 25 mm
    piece: str  # title of the piece, "" where nothing is near
    path: str  # its path in the design
    tilt_up: float  # rad, setting at which it is nearest
    tilt_right: float  # rad
    drawn: float  # m, gap at the tilt as drawn


def disc_clearance(
    airframe: Airframe, motor: Motor, *, diameter: float | None = None
) -> Clearance | None:
    """Nearest approach of a motor's blades to every piece, over all settings of its mount.

    Parameters
    ----------
    airframe : Airframe
        All pieces with their meshes.
    motor : Motor
        One with a propeller; need not stand where the airframe's own does.
    diameter : float, optional
        Of another propeller than its own. [m]

    Returns
    -------
    Clearance or None
        None without a propeller.

    Notes
    -----
    Blades are taken as a flat ring from a fifth of the radius outward: they bend forward under
    load and mounts flex, hence the least gap. Sampled on the faces; half a millimetre of error at
    5 mm, less beyond. The motor itself and what turns with it within the hub are left out.
    """
    drawn = next((one for one in airframe.discs if one.motor == motor.key), None)
    if drawn is None:
        return None
    centre, axis = _place(motor, motor.tilt_up, motor.tilt_right)
    size = drawn.diameter if diameter is None else diameter
    disc = replace(drawn, centre=centre, thrust=axis, diameter=size)
    settings, radius = tuple(_settings(motor)), 0.5 * disc.diameter
    places = _Places.of(motor, settings)
    corners, owner, pieces = _near_faces(airframe, motor, disc, places)
    if not corners.size:
        return Clearance(gap=_NEAR, piece="", path="", tilt_up=0.0, tilt_right=0.0, drawn=_NEAR)
    gaps, whose = _nearest(corners, owner, places, radius)
    worst = int(gaps.argmin())
    gap, piece, setting = float(gaps[worst]), pieces[int(whose[worst])], settings[worst]
    is_near = gap < _NEAR
    return Clearance(
        gap=min(gap, _NEAR),
        piece=piece.title if is_near else "",
        path=piece.path if is_near else "",
        tilt_up=setting[0],
        tilt_right=setting[1],
        drawn=min(float(gaps[0]), _NEAR),
    )


def _settings(motor: Motor) -> Iterator[tuple[float, float]]:
    ups = _range(motor.mount.up, motor.tilt_up)
    rights = _range(motor.mount.right, motor.tilt_right)
    yield motor.tilt_up, motor.tilt_right
    yield from itertools.product(ups, rights)


def _range(limits: TiltRange | None, now: float) -> list[float]:
    if limits is None:
        return [now]
    return [float(x) for x in np.linspace(limits.low, limits.high, _SETTINGS)]


def _place(motor: Motor, up: float, right: float) -> tuple[Array, Array]:
    """Centre and axis of the disc at a tilt. [m]"""
    axis = np.array([-math.cos(up) * math.cos(right), math.cos(up) * math.sin(right), math.sin(up)])
    way = axis if motor.mounting is Mounting.TRACTOR else -axis
    return np.array(motor.at) + motor.reach * way, axis


def _near_faces(
    airframe: Airframe, motor: Motor, disc: Disc, places: _Places
) -> tuple[Array, NDArray[np.intp], list[Piece]]:
    """Faces of all pieces near the disc, and whose they are."""
    own = (f"power.motor.{motor.key}", f"power.propeller.{motor.propeller}")
    radius = 0.5 * disc.diameter
    reach, as_drawn = places.swing(radius) + _NEAR, places.as_drawn()
    faces: list[Array] = []
    pieces: list[Piece] = []
    for piece in airframe.pieces:
        if piece.path in own:
            continue
        local = piece.mesh.vertices - disc.centre
        along = local @ disc.thrust
        if along.min() > reach or along.max() < -reach:
            continue
        across = np.linalg.norm(local - along[:, None] * disc.thrust, axis=1)
        if piece.path.startswith("item.") and across.max() <= _hub(radius):
            continue  # a collet, a ring, a spinner: it turns with the blades
        corners = piece.mesh.vertices[piece.mesh.faces]
        middle, size = _balls(corners)
        near = _gaps(middle, as_drawn, radius)[0] - size < reach
        if near.any():
            faces.append(corners[near])
            pieces.append(piece)
    if not pieces:
        return np.zeros((0, 3, 3)), np.zeros(0, dtype=np.intp), pieces
    owner = np.repeat(np.arange(len(pieces)), [len(one) for one in faces])
    return np.concatenate(faces), owner, pieces


def _balls(triangles: Array) -> tuple[Array, Array]:
    """Middles of triangles, and the radii of balls around them that hold the whole."""
    middle = triangles.mean(axis=1)
    return middle, np.linalg.norm(triangles - middle[:, None], axis=2).max(axis=1)


def _nearest(
    triangles: Array, owner: NDArray[np.intp], places: _Places, radius: float
) -> tuple[Array, NDArray[np.intp]]:
    """Gap and whose it is, by setting: triangles are cut small where they may be the nearest.

    The first setting is the one as drawn, whose own gap is wanted; of the others the least.
    """
    count = len(places.axes)
    best, whose = np.full(count, np.inf), np.zeros(count, dtype=np.intp)
    while triangles.size:
        middle, size = _balls(triangles)
        points = np.concatenate([middle, *triangles.transpose(1, 0, 2)])
        gaps = _gaps(points, places, radius).reshape(count, 4, -1).min(axis=1)
        through = _crossed(triangles, places) & (size <= 0.5 * _SPACING)
        if through.any():
            gaps = np.where(through, _gaps(middle, places, radius, flat=True), gaps)
        place = gaps.argmin(axis=1)
        found = np.take_along_axis(gaps, place[:, None], axis=1)[:, 0]
        whose, best = np.where(found < best, owner[place], whose), np.minimum(found, best)
        # From the nearest point of a plane face the distance grows at most as a hypotenuse, so
        # no point of a triangle lies nearer than this.
        least = np.sqrt(np.maximum(gaps * gaps - size * size, 0.0))
        wanted = np.full(count, min(float(best.min()), _NEAR))
        wanted[0] = min(float(best[0]), _NEAR)
        keep = (least < wanted[:, None] - _ERROR).any(axis=0) & (size > 0.5 * _SPACING)
        triangles, owner = _halved(triangles[keep]), np.concatenate([owner[keep], owner[keep]])
    return best, whose


def _halved(triangles: Array) -> Array:
    """Cut triangles across their longest edges: first halves, then second ones."""
    edges = np.linalg.norm(triangles - np.roll(triangles, 1, axis=1), axis=2)
    # Edge k runs from the corner before to corner k.
    k, rows = edges.argmax(axis=1), np.arange(len(triangles))
    b, a, c = triangles[rows, k], triangles[rows, k - 1], triangles[rows, (k + 1) % 3]
    m = 0.5 * (a + b)
    return np.concatenate([np.stack([a, m, c], axis=1), np.stack([m, b, c], axis=1)])


def _hub(radius: float) -> float:
    return max(HUB_SHARE * radius, LEAST_HUB)


def _crossed(triangles: Array, places: _Places) -> NDArray[np.bool_]:
    """Whether triangles reach through the plane of the disc, by setting."""
    along = (triangles - places.origin) @ places.axes.T - places.shift  # (t, 3, n)
    return np.asarray(((along.min(axis=1) <= 0.0) & (along.max(axis=1) >= 0.0)).T)


def _gaps(points: Array, places: _Places, radius: float, *, flat: bool = False) -> Array:
    """Distance of points to the ring that the blades sweep, by setting; `flat` in its plane. [m]"""
    local = points - places.origin
    along = places.axes @ local.T - places.shift[:, None]
    reach = (local * local).sum(axis=1) - 2.0 * places.centres @ local.T + places.away[:, None]
    across = np.sqrt(np.maximum(reach - along * along, 0.0))
    beside = np.maximum(np.maximum(across - radius, _hub(radius) - across), 0.0)
    return beside if flat else np.hypot(along, beside)


@dataclass(frozen=True, slots=True)
class _Places:
    """Centres and axes of a disc at several settings, about its centre as drawn."""

    origin: Array  # (3,) m
    centres: Array  # (n, 3) m, from the origin
    axes: Array  # (n, 3)
    shift: Array  # (n,) m, centres along their axes
    away: Array  # (n,) m², squares of the centres

    @classmethod
    def of(cls, motor: Motor, settings: tuple[tuple[float, float], ...]) -> _Places:
        """Place a motor's disc at settings, the first of which is as drawn."""
        placed = [_place(motor, up, right) for up, right in settings]
        centres = np.array([centre for centre, _ in placed])
        axes = np.array([axis for _, axis in placed])
        local = centres - centres[0]
        return cls(centres[0], local, axes, (local * axes).sum(axis=1), (local**2).sum(axis=1))

    def as_drawn(self) -> _Places:
        """Return the first setting alone."""
        return _Places(self.origin, *(one[:1] for one in self._rest()))

    def _rest(self) -> tuple[Array, Array, Array, Array]:
        return self.centres, self.axes, self.shift, self.away

    def swing(self, radius: float) -> float:
        """Largest way that any point of the disc moves. [m]"""
        turn = np.linalg.norm(self.axes - self.axes[0], axis=1).max()
        return float(np.linalg.norm(self.centres, axis=1).max() + turn * radius)
