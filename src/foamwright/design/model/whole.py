"""The whole design, one variant of it, and the file it came from."""

from __future__ import annotations

from dataclasses import dataclass

from foamwright.design.model.bodies import Body
from foamwright.design.model.brief import BriefLine
from foamwright.design.model.placed import Gear, Item, Pushrod
from foamwright.design.model.power import Power
from foamwright.design.model.stock import Stock
from foamwright.design.model.surfaces import Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the plan must carry."""

    revision: str
    licence: str
    notes: tuple[str, ...]
    balance_span: bool  # balance marks on the wing
    thrust_line: bool
    cut_lines: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One variant of a design: all intent, nothing computed."""

    name: str
    variant: str
    summary: str
    brief: tuple[BriefLine, ...]
    stock: Stock
    surfaces: tuple[Surface, ...]
    bodies: tuple[Body, ...]
    power: Power
    items: tuple[Item, ...]
    pushrods: tuple[Pushrod, ...]
    gear: tuple[Gear, ...]
    marks: Marks


@dataclass(frozen=True, slots=True, kw_only=True)
class FileUnits:
    """Units of bare numbers in the file."""

    lengths: str  # "mm", "cm", "m", "in", ...
    masses: str  # "g", "kg", "oz", ...


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignSet:
    """A design file read: the same aeroplane in each variant it is flown in."""

    file: str
    variants: tuple[Design, ...]  # the first is the design as drawn
    units: FileUnits

    @property
    def name(self) -> str:
        """Name of the aeroplane."""
        return self.variants[0].name

    def variant(self, name: str) -> Design:
        """Return the variant of that name; KeyError where there is none."""
        for design in self.variants:
            if design.variant == name:
                return design
        raise KeyError(name)
