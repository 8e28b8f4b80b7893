"""Placed items, pushrods and gear."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from foamwright.design.model.vectors import Vec3
from foamwright.figures import Figure


class ItemKind(StrEnum):
    """What a placed item is."""

    SERVO = "servo"
    RECEIVER = "receiver"
    LINKAGE = "linkage"
    BALLAST = "ballast"
    CAMERA = "camera"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A placed thing with a mass."""

    key: str
    kind: ItemKind
    at: Vec3  # m, its middle
    size: Vec3  # m, along x, y, z
    mass: Figure  # kg, each
    mirrored: bool
    moves: str | None  # path of the control a servo moves, such as "surface.wing.control.aileron"
    says: str = ""  # what to ask for in the shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushrod:
    """A straight linkage rod."""

    key: str
    rod: str
    start: Vec3  # m
    end: Vec3  # m
    mirrored: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """A wheel."""

    key: str
    at: Vec3  # m, its middle
    diameter: float  # m
    width: float  # m
    mass: Figure  # kg, each
    mirrored: bool
    says: str = ""  # what to ask for in the shop


@dataclass(frozen=True, slots=True, kw_only=True)
class GearWire:
    """A bent wire leg or a skid: rod stock along a polyline."""

    key: str
    is_skid: bool
    rod: str
    points: tuple[Vec3, ...]  # m
    mirrored: bool


Gear = Wheel | GearWire
