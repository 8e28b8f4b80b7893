"""Items, pushrods and gear."""

from __future__ import annotations

from typing import Annotated

from pydantic import Discriminator, Field, Tag

from foamwright.design.model import GearWire, Item, ItemKind, Pushrod, Wheel
from foamwright.design.schema.base import Reading, Table
from foamwright.design.schema.fields import Choice, Text
from foamwright.design.schema.kinds import (
    At,
    Flag,
    Key,
    Mass,
    Route,
    Scatter,
    Size,
    SmallSize,
)
from foamwright.design.schema.sections import kind_tag
from foamwright.design.schema.stock import Bought
from foamwright.design.trouble import Report

_CUBE = (0.01, 0.01, 0.01)  # m; small enough to leave the inertia to the place


class ItemIn(Bought):
    """A placed thing with a mass."""

    kind: Annotated[ItemKind, Choice(ItemKind)] = Field(description="what it is")
    at: At = Field(description="its middle")
    size: Size = Field(_CUBE, description="along x, y, z; a cube of 10 mm")
    mass: Mass = Field(description="of one, with leads and screws")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    mirror: Flag = Field(False, description="placed on the right, repeated on the left")
    moves: Annotated[str, Text(140)] | None = Field(
        None, description="the control a servo moves, such as surface.wing.control.aileron"
    )

    def build(self, key: str, report: Report, _reading: Reading) -> Item | None:
        """Return the item."""
        report.use("control", self.moves, "moves")
        if self.moves is not None and self.kind is not ItemKind.SERVO:
            report.say("KEY-CLASH", "Only a servo moves a control.", "moves")
            return None
        return Item(
            key=key,
            kind=self.kind,
            at=self.at,
            size=self.size,
            mass=self.mass.figure(self.mass_scatter),
            mirrored=self.mirror,
            moves=self.moves,
            says=self.spoken(""),
        )


class PushrodIn(Table):
    """A straight linkage rod."""

    rod: Key = Field(description="the rod or wire it is cut from")
    start: At = Field(description="one end")
    end: At = Field(description="the other end")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")

    def build(self, key: str, report: Report, _reading: Reading) -> Pushrod | None:
        """Return the pushrod."""
        report.use("rod", self.rod, "rod")
        if self.start == self.end:
            report.say("RANGE-ORDER", "A pushrod must end somewhere else than it starts.", "end")
            return None
        return Pushrod(key=key, rod=self.rod, start=self.start, end=self.end, mirrored=self.mirror)


class WheelIn(Bought):
    """A wheel."""

    kind: Annotated[str, Choice(("wheel",))] = Field(description="what it is")
    at: At = Field(description="its middle")
    diameter: SmallSize = Field(description="of the tyre")
    width: SmallSize = Field(description="of the tyre")
    mass: Mass = Field(description="of one wheel")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    mirror: Flag = Field(False, description="placed on the right, repeated on the left")

    def build(self, key: str, _report: Report, _reading: Reading) -> Wheel:
        """Return the wheel."""
        return Wheel(
            key=key,
            at=self.at,
            diameter=self.diameter,
            width=self.width,
            mass=self.mass.figure(self.mass_scatter),
            mirrored=self.mirror,
            says=self.spoken(""),
        )


class WireIn(Table):
    """A bent wire leg or a skid."""

    kind: Annotated[str, Choice(("wire", "skid"))] = Field(description="what it is")
    rod: Key = Field(description="the rod or wire it is bent from")
    points: Route = Field(description="its bends, from end to end")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")

    def build(self, key: str, report: Report, _reading: Reading) -> GearWire:
        """Return the wire."""
        report.use("rod", self.rod, "rod")
        return GearWire(
            key=key,
            is_skid=self.kind == "skid",
            rod=self.rod,
            points=self.points,
            mirrored=self.mirror,
        )


def _gear_tag(given: object) -> str | None:
    tag = kind_tag(given)
    return "<wire>" if tag == "<skid>" else tag


GearIn = Annotated[
    Annotated[WheelIn, Tag("<wheel>")] | Annotated[WireIn, Tag("<wire>")],
    Discriminator(_gear_tag),
]
