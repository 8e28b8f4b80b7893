"""Flat parts: what is cut from sheet, in the plane, true size, in metres.

The plane of a part is seen with its named face up: x to the right, y up the page.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Hand

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FoldLine:
    """A line at which the sheet is creased."""

    start: Array  # (2,) m
    end: Array  # (2,) m
    angle: float  # rad, change of direction at mid length, > 0
    away: bool  # True: the edges fold away from the face that is up


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkLine:
    """A line drawn on the part, not cut: a balance mark, a cut line, a joint."""

    points: Array  # (n, 2) m
    text: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlatPart:
    """One flat part; parts that are mirror images carry their own hand."""

    code: str  # "WING-INNER-SKIN", stable while the names in the file stay, ASCII
    title: str  # "wing, inner panel, skin"
    path: str  # in the design file
    hands: tuple[Hand, ...]  # drawn for the first; the others are the same shape turned over
    stock: str
    thickness: float  # m
    face_up: str  # "upper face up", "outside up"
    outline: Array  # (n, 2) m, anticlockwise, first point not repeated
    holes: tuple[Array, ...]  # each (k, 2) m, clockwise
    folds: tuple[FoldLine, ...]
    marks: tuple[MarkLine, ...]
    stiff: Array | None  # (2,) unit vector: how the sheet's stiff direction should lie
    area: float  # m²
    mass: float  # kg, one piece
    length_error: float = 0.0  # m, largest, where the sheet is twisted and cannot lie truly flat

    @property
    def count(self) -> int:
        """How many are cut."""
        return len(self.hands)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotDrawn:
    """A sheet part that is weighed but not yet drawn, and why."""

    code: str
    title: str
    path: str
    reason: str
    area: float  # m², all hands together
    mass: float  # kg, all hands together


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlatSet:
    """All flat parts of one variant."""

    design: str
    variant: str
    revision: str
    parts: tuple[FlatPart, ...]
    not_drawn: tuple[NotDrawn, ...]
