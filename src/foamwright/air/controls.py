"""What the pilot's channels do to each control of each hand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.solve import ControlUnit
from foamwright.airframe.model import Airframe, ControlShape, Hand, PanelShape, SurfaceShape
from foamwright.design.model import Channel, SurfaceRole

Array = NDArray[np.float64]

#: Channels in their order wherever they stand in one array.
CHANNELS = (Channel.PITCH, Channel.ROLL, Channel.YAW, Channel.FLAP)
#: Sine of the lean below which a panel yaws by rolling, not by its side force.
_LEVEL = 0.25
#: A wing nearer to the reference point than this many mean chords trims by its section.
_NEAR = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a control stands and which way its panel faces, from the reference point."""

    x: float  # m
    y: float
    z: float
    ny: float
    nz: float


def control_units(airframe: Airframe) -> tuple[ControlUnit, ...]:
    """List the moving parts of an aeroplane, in the order of its lattice.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]

    Returns
    -------
    tuple of ControlUnit
    """
    return tuple(unit for unit, _, _ in _moving(airframe))


def control_deflections(
    airframe: Airframe,
    *,
    pitch: ArrayLike = 0.0,
    roll: ArrayLike = 0.0,
    yaw: ArrayLike = 0.0,
    flap: ArrayLike = 0.0,
) -> Array:
    """Deflection of every moving part for what the pilot asks.

    Parameters
    ----------
    airframe : Airframe
        Its controls say which channels they follow, and their throws. [rad]
    pitch, roll, yaw, flap : array_like, optional
        From -1 to 1, full throw; nose up, right wing down, nose right and trailing edge down
        are positive. [-]

    Returns
    -------
    ndarray, (..., U)
        In the order of :func:`control_units`, trailing edge towards the lower face
        positive. [rad]

    Notes
    -----
    The sense of each is that of the moment it makes about the quarter point of the main
    wing's mean chord: a tail's trailing edge goes up for nose up, a canard's down. On a wing
    about that point, as an elevon, it goes up. A panel that stands nearly level yaws by
    rolling the same way. Shares of several channels add; no control goes beyond its throws.
    """
    asked = np.stack(
        np.broadcast_arrays(*(np.asarray(c, dtype=np.float64) for c in (pitch, roll, yaw, flap))),
        axis=-1,
    )
    moving = _moving(airframe)
    if not moving:
        return np.zeros((*asked.shape[:-1], 0))
    share = asked @ np.array([gains for _, _, gains in moving]).T
    down = np.array([control.throw_down for _, control, _ in moving])
    up = np.array([control.throw_up for _, control, _ in moving])
    return np.clip(share, -1.0, 1.0) * np.where(share > 0.0, down, up)


def _moving(airframe: Airframe) -> list[tuple[ControlUnit, ControlShape, list[float]]]:
    """List moving parts with their share of each channel, signed."""
    found: list[tuple[ControlUnit, ControlShape, list[float]]] = []
    for surface in airframe.surfaces:
        hands = (Hand.RIGHT, Hand.LEFT) if surface.mirrored else (Hand.CENTRE,)
        panels = {panel.name: panel for panel in surface.panels}
        for control in surface.controls:
            place = _place(airframe, panels[control.panel], control)
            for hand in hands:
                senses = _senses(surface, _mirrored(place, hand), airframe.reference.mac)
                gains = [
                    sense * sum(mix.gain for mix in control.mixes if mix.channel is channel)
                    for channel, sense in zip(CHANNELS, senses, strict=True)
                ]
                unit = ControlUnit(surface=surface.key, key=control.key, hand=hand)
                found.append((unit, control, gains))
    return found


def _place(airframe: Airframe, panel: PanelShape, control: ControlShape) -> _Place:
    """Middle of the hinge line from the quarter point of the main wing's mean chord."""
    at = 0.5 * (control.start + control.end)
    hinge = 0.5 * (control.start_hinge + control.end_hinge)
    ends = [
        station.leading_edge + hinge * station.chord * station.aft
        for station in (panel.root, panel.tip)
    ]
    x0, _, z0 = airframe.reference.mac_leading_edge
    x, y, z = (ends[0] * (1.0 - at) + ends[1] * at).tolist()
    along = (panel.tip.leading_edge - panel.root.leading_edge)[1:]
    ny, nz = (np.array([-along[1], along[0]]) / np.hypot(*along)).tolist()
    return _Place(x=x - x0 - 0.25 * airframe.reference.mac, y=y, z=z - z0, ny=ny, nz=nz)


def _mirrored(place: _Place, hand: Hand) -> _Place:
    if hand is not Hand.LEFT:
        return place
    return _Place(x=place.x, y=-place.y, z=place.z, ny=-place.ny, nz=place.nz)


def _senses(surface: SurfaceShape, place: _Place, mac: float) -> list[float]:
    """Sign of the deflection that does what each channel asks for.

    A deflection towards the lower face pushes the panel along its normal.
    """
    roll = _sign(place.z * place.ny - place.y * place.nz)
    level = abs(place.ny) < _LEVEL
    near = surface.role is SurfaceRole.WING and abs(place.x) < _NEAR * mac
    return [
        -_sign(place.nz) if near else -_sign(place.x * place.nz),
        roll,
        roll if level else -_sign(place.x * place.ny),
        _sign(place.nz),
    ]


def _sign(value: float) -> float:
    """-1, 0 or 1; a panel that stands upright neither lifts nor sinks."""
    return 0.0 if abs(value) < 1e-9 else float(np.sign(value))
