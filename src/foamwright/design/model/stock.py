"""Goods the aeroplane is made from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from foamwright.figures import Figure


class SheetKind(StrEnum):
    """What a sheet is made of."""

    FOAM_BOARD = "foam board"  # foam core between paper or film facings
    FOAM = "foam"  # bare foam sheet
    PLY = "ply"
    BALSA = "balsa"
    CARD = "card"


class StiffWay(StrEnum):
    """The stiff direction of a sheet, seen on the sheet as sold."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class OffCut:
    """A left-over rectangle that may be used first."""

    length: float  # m
    width: float  # m
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet good: foam board, bare foam, ply, balsa, card."""

    key: str
    kind: SheetKind
    says: str  # what to ask for in the shop, by property
    thickness: Figure  # m
    weight: Figure  # kg/m²
    length: float  # m
    width: float  # m
    count: int | None  # sheets at hand; None where the maker did not say
    stiff: StiffWay
    facing: str  # "paper", "film", "none"
    facing_thickness: float  # m, one facing
    off_cuts: tuple[OffCut, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeStock:
    """Tape, laid in lines."""

    key: str
    says: str
    width: float  # m
    weight: Figure  # kg/m², film and adhesive

    @property
    def line_mass(self) -> Figure:
        """Mass of one metre of tape. [kg/m]"""
        return Figure(
            value=self.weight.value * self.width,
            scatter=self.weight.scatter * self.width,
            source=self.weight.source,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueStock:
    """Glue, laid in beads."""

    key: str
    says: str
    line_mass: Figure  # kg/m of one bead


@dataclass(frozen=True, slots=True, kw_only=True)
class RodStock:
    """Rod, tube, wire or stick, used by length."""

    key: str
    says: str
    diameter: float  # m
    bore: float  # m, 0 for solid
    line_mass: Figure  # kg/m


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockStock:
    """Block foam for cut cores and carved pods, used by volume."""

    key: str
    says: str
    density: Figure  # kg/m³


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """All goods the design uses. Keys are unique over all five kinds."""

    sheets: tuple[SheetStock, ...] = ()
    tapes: tuple[TapeStock, ...] = ()
    glues: tuple[GlueStock, ...] = ()
    rods: tuple[RodStock, ...] = ()
    blocks: tuple[BlockStock, ...] = ()

    def sheet(self, key: str) -> SheetStock:
        """Return the sheet good of that key; KeyError where there is none."""
        return _by_key(self.sheets, key)

    def rod(self, key: str) -> RodStock:
        """Return the rod, tube or wire of that key; KeyError where there is none."""
        return _by_key(self.rods, key)

    def block(self, key: str) -> BlockStock:
        """Return the block foam of that key; KeyError where there is none."""
        return _by_key(self.blocks, key)

    def line(self, key: str) -> TapeStock | GlueStock:
        """Return the tape or glue of that key; KeyError where there is none."""
        goods: tuple[TapeStock | GlueStock, ...] = (*self.tapes, *self.glues)
        return _by_key(goods, key)


_Good = TypeVar("_Good", SheetStock, TapeStock | GlueStock, RodStock, BlockStock)


def _by_key(goods: tuple[_Good, ...], key: str) -> _Good:
    for good in goods:
        if good.key == key:
            return good
    raise KeyError(key)
