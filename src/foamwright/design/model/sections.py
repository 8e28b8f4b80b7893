"""How a panel's section is made."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from foamwright.design.model.vectors import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatSection:
    """One flat sheet."""

    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CreasedSection:
    """One sheet with creases along the span."""

    sheet: str
    nodes: tuple[Point, ...]  # mid-sheet, fractions of chord, from (0, 0) to (1, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedSection:
    """One sheet folded round the nose over a spar: lower skin, nose, upper skin."""

    sheet: str
    spar_sheet: str
    spar_at: float  # fraction of chord
    depth: float  # m, outside depth at the spar, skins included
    nose_height: float  # m, outside height of the nose
    lower_to: float  # fraction of chord where the lower skin ends


class Face(StrEnum):
    """Upper or lower face of a surface."""

    UPPER = "upper"
    LOWER = "lower"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLayer:
    """A strip of sheet glued on a flat base; it starts and ends in a step."""

    sheet: str
    start: float  # fraction of chord
    end: float  # fraction of chord
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class SteppedSection:
    """A flat sheet with layers glued on."""

    sheet: str
    layers: tuple[StepLayer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvedSection:
    """One sheet bent to a smooth camber line."""

    sheet: str
    camber: float  # fraction of chord
    camber_at: float  # fraction of chord


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPolar:
    """Readings of a section in a tunnel; None where nothing was measured."""

    source: str
    #: Reynolds number, incidence [rad], cl, cd, cm of each reading.
    rows: tuple[tuple[float, float, float, float | None, float | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfiledSection:
    """A core cut to coordinates."""

    core: str  # key of a block stock
    coordinates: tuple[Point, ...]  # trailing edge, upper side, nose, lower side; closed by code
    measured: MeasuredPolar | None = None


Section = (
    FlatSection | CreasedSection | FoldedSection | SteppedSection | CurvedSection | ProfiledSection
)
