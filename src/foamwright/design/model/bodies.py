"""Fuselages, slabs, pods, booms and pylons."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from foamwright.design.model.surfaces import LineUse
from foamwright.design.model.vectors import Point, Vec3
from foamwright.figures import Figure


class BoxFace(StrEnum):
    """A face of a box body."""

    SIDES = "sides"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxStation:
    """Outside measures of a box body at one place along it."""

    x: float  # m
    bottom: float  # m, z of the outside bottom
    top: float  # m, z of the outside top
    width: float  # m, outside


@dataclass(frozen=True, slots=True, kw_only=True)
class Former:
    """A cross piece inside a box body, square to the x axis."""

    key: str
    x: float  # m
    sheet: str
    opening: float  # fraction of its area cut out, 0 to below 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubler:
    """A second layer inside a face of a box body."""

    key: str
    face: BoxFace
    start: float  # m, x
    end: float  # m, x
    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A rectangle cut out of a face; a hatch keeps its cover."""

    key: str
    face: BoxFace
    start: float  # m, x
    end: float  # m, x
    low: float  # m, across the face: z on sides, y on top and bottom
    high: float  # m
    is_hatch: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxBody:
    """A box fuselage from a side outline and plan widths; y = 0 is its middle plane."""

    key: str
    sheet: str
    y: float  # m, middle plane
    mirrored: bool
    stations: tuple[BoxStation, ...]
    ends: tuple[bool, bool]  # front closed, back closed
    formers: tuple[Former, ...] = ()
    doublers: tuple[Doubler, ...] = ()
    openings: tuple[Opening, ...] = ()
    lines: tuple[LineUse, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabBody:
    """An upright sheet body or pylon: outline in side view, one or more layers."""

    key: str
    is_pylon: bool
    sheet: str
    layers: int
    y: float  # m, middle plane
    mirrored: bool
    outline: tuple[Point, ...]  # m, (x, z), simple polygon
    openings: tuple[tuple[Point, ...], ...] = ()  # m, simple polygons inside the outline
    lines: tuple[LineUse, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PodBody:
    """A rounded pod: an ellipsoid, carved from block or bought with a given mass."""

    key: str
    at: Vec3  # m, its middle
    length: float  # m
    width: float  # m
    height: float  # m
    mirrored: bool
    block: str | None  # key of the block stock, or None where mass is given
    mass: Figure | None  # kg


@dataclass(frozen=True, slots=True, kw_only=True)
class BoomBody:
    """A rod or tube that carries a tail."""

    key: str
    rod: str
    start: Vec3  # m
    end: Vec3  # m
    mirrored: bool


Body = BoxBody | SlabBody | PodBody | BoomBody
