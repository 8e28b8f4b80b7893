"""The five kinds of stock."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from foamwright.design.checks.stock import check_sheet
from foamwright.design.model import (
    BlockStock,
    GlueStock,
    OffCut,
    RodStock,
    SheetKind,
    SheetStock,
    StiffWay,
    TapeStock,
)
from foamwright.design.schema.base import FILE, Given, Reading, Table
from foamwright.design.schema.fields import Choice, Whole
from foamwright.design.schema.kinds import (
    ArealWeight,
    Bore,
    Count,
    Density,
    FacingThickness,
    Line,
    LineMass,
    Scatter,
    SheetSize,
    SmallSize,
    Thickness,
)
from foamwright.design.trouble import Report
from foamwright.figures import Figure
from foamwright.units import to_unit

FACINGS = ("paper", "film", "none")

#: Keys that no catalogue can know.
NEVER_BOUGHT = ("at", "position", "tray", "mounting", "reach")


class Bought(Table):
    """A table that may start from an entry of the catalogue."""

    from_: Line | None = Field(
        None,
        alias="from",
        description="an entry of the catalogue, which gives the keys that are not given here",
    )
    says: Line | None = Field(None, description="what to ask for in the shop")

    def spoken(self, otherwise: str) -> str:
        """Return what to ask for in the shop."""
        return self.says or self.from_ or otherwise


class OffCutIn(Table):
    """Left-over rectangles."""

    size: SheetSize = Field(description="length and width")
    count: Annotated[int, Whole(1, 1000)] = Field(1, description="how many there are")


class SheetIn(Bought):
    """A sheet good."""

    kind: Annotated[SheetKind, Choice(SheetKind)] = Field(description="what it is made of")
    thickness: Thickness = Field(description="as measured")
    thickness_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    weight: ArealWeight = Field(description="per area, as weighed")
    weight_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    size: SheetSize = Field(description="length and width as sold")
    count: Count | None = Field(None, description="how many are at hand")
    stiff: Annotated[StiffWay, Choice(StiffWay)] = Field(
        StiffWay.NONE, description="its stiff direction"
    )
    facing: Annotated[str, Choice(FACINGS)] | None = Field(
        None, description="what covers its faces; paper on foam board, else none"
    )
    facing_thickness: FacingThickness | None = Field(None, description="of one facing")
    off_cuts: tuple[OffCutIn, ...] = Field(
        (), max_length=100, description="left-overs to use first"
    )

    def build(self, key: str, report: Report, _reading: Reading) -> SheetStock | None:
        """Return the sheet."""
        facing = self.facing or ("paper" if self.kind is SheetKind.FOAM_BOARD else "none")
        if facing != "none" and self.facing_thickness is None:
            text = "A sheet with facings needs the thickness of one facing."
            report.say("KEY-MISSING", text, "facing_thickness")
            return None
        sheet = SheetStock(
            key=key,
            kind=self.kind,
            says=self.spoken(f"{self.kind}, {to_unit(self.thickness.value, 'mm'):.3g} mm"),
            thickness=self.thickness.figure(self.thickness_scatter),
            weight=self.weight.figure(self.weight_scatter),
            length=self.size[0],
            width=self.size[1],
            count=self.count,
            stiff=self.stiff,
            facing=facing,
            facing_thickness=0.0 if facing == "none" else self.facing_thickness or 0.0,
            off_cuts=tuple(
                OffCut(length=cut.size[0], width=cut.size[1], count=cut.count)
                for cut in self.off_cuts
            ),
        )
        check_sheet(sheet, report)
        return sheet


class TapeIn(Bought):
    """A tape."""

    width: SmallSize = Field(description="its width")
    weight: ArealWeight = Field(description="film and adhesive, per area")
    weight_scatter: Scatter | None = Field(None, description="one standard deviation, relative")

    def build(self, key: str, _report: Report, _reading: Reading) -> TapeStock:
        """Return the tape."""
        return TapeStock(
            key=key,
            says=self.spoken(f"tape, {to_unit(self.width, 'mm'):.3g} mm wide"),
            width=self.width,
            weight=self.weight.figure(self.weight_scatter),
        )


class GlueIn(Bought):
    """A glue."""

    line_mass: LineMass = Field(description="mass per length of one bead")
    line_mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")

    def build(self, key: str, _report: Report, _reading: Reading) -> GlueStock:
        """Return the glue."""
        return GlueStock(
            key=key,
            says=self.spoken("glue"),
            line_mass=self.line_mass.figure(self.line_mass_scatter),
        )


class RodIn(Bought):
    """A rod, tube, wire or stick."""

    diameter: SmallSize = Field(description="outside")
    bore: Bore = Field(0.0, description="inside; 0 where it is solid")
    line_mass: LineMass | None = Field(None, description="mass per length")
    line_mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    density: Density | None = Field(None, description="of its material, in place of line_mass")
    density_scatter: Scatter | None = Field(None, description="one standard deviation, relative")

    def build(self, key: str, report: Report, _reading: Reading) -> RodStock | None:
        """Return the rod."""
        if self.bore >= self.diameter:
            text = f"The bore must be smaller than the diameter, {report.length(self.diameter)}."
            report.say("ROD-BORE", text, "bore")
            return None
        if self._says_twice():
            report.say("KEY-CLASH", "Give either line_mass or density, not both.", "density")
            return None
        line_mass = self._line_mass()
        if line_mass is None:
            report.say("KEY-MISSING", "A rod needs line_mass or density.", "line_mass")
            return None
        return RodStock(
            key=key,
            says=self.spoken(f"rod, {to_unit(self.diameter, 'mm'):.3g} mm"),
            diameter=self.diameter,
            bore=self.bore,
            line_mass=line_mass,
        )

    def _says_twice(self) -> bool:
        if self.line_mass is None or self.density is None:
            return False
        return self.line_mass.source == self.density.source == FILE

    def _line_mass(self) -> Figure | None:
        """Mass per length. [kg/m]"""
        # A line mass of the catalogue gives way to a density that the maker states.
        stated = self.density is not None and self.density.source == FILE
        if self.line_mass is not None and not stated:
            return self.line_mass.figure(self.line_mass_scatter)
        if self.density is None:
            return None
        area = 0.25 * math.pi * (self.diameter**2 - self.bore**2)
        given = Given(self.density.value * area, self.density.source)
        return given.figure(self.density_scatter)


class BlockIn(Bought):
    """A block foam."""

    density: Density = Field(description="as weighed")
    density_scatter: Scatter | None = Field(None, description="one standard deviation, relative")

    def build(self, key: str, _report: Report, _reading: Reading) -> BlockStock:
        """Return the block foam."""
        return BlockStock(
            key=key,
            says=self.spoken("block foam"),
            density=self.density.figure(self.density_scatter),
        )
