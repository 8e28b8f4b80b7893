"""The shape in space of one variant: frozen, exact, with no mass in it.

Axes: x aft, y right, z up. Metres. Arrays are read-only.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from foamwright.design.model import Design, Mix, SurfaceRole, Vec3
from foamwright.figures import Figure

Array = NDArray[np.float64]
Index = NDArray[np.int32]


class Hand(StrEnum):
    """Side of the aeroplane, seen from the pilot's seat."""

    RIGHT = "right"
    LEFT = "left"
    CENTRE = "centre"


class Group(StrEnum):
    """Groups of the weight statement."""

    WING = "wing"
    TAIL = "tail"
    BODY = "body"
    POWER = "power"
    RADIO = "radio"
    GEAR = "gear"


class Basis(StrEnum):
    """What the amount of a piece counts, hence how its mass is found."""

    AREA = "area"  # m² of sheet
    LENGTH = "length"  # m of rod or wire
    VOLUME = "volume"  # m³ of block foam
    GIVEN = "given"  # the mass stands in the design file or the catalogue


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """A closed triangle mesh; faces turn anticlockwise seen from outside."""

    vertices: Array  # (n, 3) m
    faces: Index  # (m, 3)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RuledSheet:
    """A piece of sheet spanned by straight rulings between two polylines.

    Facet i lies between nodes i and i + 1 of both lines. A wing skin runs from its
    inboard to its outboard section; a box side from its bottom to its top edge.
    """

    first: Array  # (n, 3) m, mid-sheet
    second: Array  # (n, 3) m, mid-sheet
    thickness: float  # m
    folds: tuple[int, ...]  # inner node numbers at which the sheet is creased
    holes: tuple[Array, ...] = ()  # each (k, 3) m, polygon on the mid-sheet


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlateSheet:
    """A flat piece of sheet: a plane polygon."""

    outline: Array  # (n, 3) m, mid-sheet, plane
    thickness: float  # m
    holes: tuple[Array, ...] = ()  # each (k, 3) m


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """One thing that is cut, bought or placed: a closed solid and what it is made of."""

    key: str  # "wing.inner.skin"; unique together with hand
    path: str  # where it stands in the design file: "surface.wing.panel.inner"
    title: str  # "wing, inner panel, skin"
    group: Group
    hand: Hand
    stock: str | None  # key of the stock it is made of; None where the mass is given
    basis: Basis
    amount: float  # m², m or m³ by basis; 0 for GIVEN
    given: Figure | None  # kg, for GIVEN
    sheet: RuledSheet | PlateSheet | None  # for sheet pieces: what is cut
    mesh: Mesh


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LineRun:
    """Tape or glue laid along a polyline, once."""

    key: str  # "wing.inner.leading-edge.packing"
    path: str
    group: Group
    hand: Hand
    stock: str
    points: Array  # (n, 3) m

    @property
    def length(self) -> float:
        """Length of the run. [m]"""
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StationShape:
    """A section in space at one end of a panel."""

    leading_edge: Array  # (3,) m
    chord: float  # m
    aft: Array  # (3,) unit vector along the chord
    up: Array  # (3,) unit vector in the section plane, square to aft
    stretch: float  # 1/cos of half the joint angle: heights along `up` are multiplied by it
    mean_line: Array  # (k, 2) fractions of chord, x from 0 to 1, mid of the section

    @property
    def trailing_edge(self) -> Array:
        """Trailing edge. [m]"""
        return self.leading_edge + self.chord * self.aft


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelShape:
    """One panel, right hand (or centre), between two stations."""

    name: str
    path: str
    root: StationShape
    tip: StationShape
    dihedral: float  # rad
    thickness: float  # fraction of the mean chord, largest


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlShape:
    """A control's place on its panel, as fractions, and what moves it."""

    key: str
    path: str
    panel: str
    start: float  # fraction of panel length
    end: float
    start_hinge: float  # hinge line, fraction of the local chord at start
    end_hinge: float
    throw_up: float  # rad
    throw_down: float  # rad
    mixes: tuple[Mix, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Planform:
    """Measures of a lifting surface, both halves where it is mirrored."""

    area: float  # m², along the surface (panel areas added)
    projected_area: float  # m², seen from above (from the side for fins)
    span: float  # m, tip to tip, projected (root to tip for a single fin)
    aspect_ratio: float  # span² / projected area
    mac: float  # m, mean aerodynamic chord
    mac_leading_edge: Vec3  # m, on the right half (y of one half; z mean)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurfaceShape:
    """A lifting surface in space."""

    key: str
    path: str
    role: SurfaceRole
    mirrored: bool
    panels: tuple[PanelShape, ...]
    controls: tuple[ControlShape, ...]
    planform: Planform


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyShape:
    """A body's outside: for pictures, volumes and drag."""

    key: str
    path: str
    kind: str  # "box", "slab", "pylon", "pod", "boom"
    hand: Hand
    outside: Mesh  # closed outside envelope
    length: float  # m
    width: float  # m
    height: float  # m
    wetted_area: float  # m²
    volume: float  # m³


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Disc:
    """A propeller disc."""

    motor: str
    path: str
    centre: Array  # (3,) m
    thrust: Array  # (3,) unit vector of the thrust on the aeroplane (forward at zero tilt)
    diameter: float  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """Reference measures of the whole aeroplane, taken from its main wing."""

    surface: str  # key of the main wing
    area: float  # m², projected, S
    span: float  # m, b
    mac: float  # m, c
    mac_leading_edge: Vec3  # m
    tail_volume: float | None  # horizontal tail volume, None without a tail
    fin_volume: float | None  # vertical tail volume
    wetted_area: float  # m², surfaces both faces and bodies


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Airframe:
    """The shape of one variant."""

    design: Design
    reference: Reference
    surfaces: tuple[SurfaceShape, ...]
    bodies: tuple[BodyShape, ...]
    pieces: tuple[Piece, ...]
    lines: tuple[LineRun, ...]
    discs: tuple[Disc, ...]
