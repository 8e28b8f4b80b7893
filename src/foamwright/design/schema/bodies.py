"""Bodies: boxes, slabs and pylons, pods, booms."""

from __future__ import annotations

from typing import Annotated

from pydantic import Discriminator, Field, Tag

from foamwright.design.checks.bodies import check_box, check_slab
from foamwright.design.model import (
    BoomBody,
    BoxBody,
    BoxFace,
    BoxStation,
    Doubler,
    Former,
    Opening,
    PodBody,
    SlabBody,
)
from foamwright.design.schema.base import Reading, Table
from foamwright.design.schema.fields import Choice, Whole
from foamwright.design.schema.kinds import (
    At,
    Coordinate,
    Extent,
    Flag,
    Key,
    Mass,
    OpenFraction,
    Outline,
    Scatter,
)
from foamwright.design.schema.sections import kind_tag
from foamwright.design.schema.surfaces import LineIn
from foamwright.design.trouble import Report


class StationIn(Table):
    """Outside measures at one place along a box."""

    x: Coordinate = Field(description="its place")
    bottom: Coordinate = Field(description="z of the outside bottom")
    top: Coordinate = Field(description="z of the outside top")
    width: Extent = Field(description="outside width")

    def build(self) -> BoxStation:
        """Return the station."""
        return BoxStation(x=self.x, bottom=self.bottom, top=self.top, width=self.width)


class FormerIn(Table):
    """A cross piece inside a box."""

    x: Coordinate = Field(description="its place")
    sheet: Key | None = Field(None, description="the sheet it is cut from; that of the body")
    opening: OpenFraction = Field(0.0, description="how much of its area is cut out")


class DoublerIn(Table):
    """A second layer inside a face."""

    face: Annotated[BoxFace, Choice(BoxFace)] = Field(description="the face it lies on")
    start: Coordinate = Field(alias="from", description="x of its front")
    end: Coordinate = Field(alias="to", description="x of its back")
    sheet: Key | None = Field(None, description="the sheet it is cut from; that of the body")


class OpeningIn(Table):
    """A rectangle cut out of a face."""

    face: Annotated[BoxFace, Choice(BoxFace)] = Field(description="the face it is cut out of")
    start: Coordinate = Field(alias="from", description="x of its front")
    end: Coordinate = Field(alias="to", description="x of its back")
    low: Coordinate = Field(description="across the face: z on the sides, y on top and bottom")
    high: Coordinate = Field(description="across the face, the other edge")
    hatch: Flag = Field(False, description="whether the cut-out piece is kept as a cover")


class BoxIn(Table):
    """A box body."""

    kind: Annotated[str, Choice(("box",))] = Field(description="how the body is made")
    sheet: Key = Field(description="the sheet it is cut from")
    y: Coordinate = Field(0.0, description="its middle plane")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")
    stations: tuple[StationIn, ...] = Field(
        min_length=2, max_length=60, description="outside measures from front to back"
    )
    closed: tuple[Annotated[str, Choice(("front", "back"))], ...] = Field(
        ("front", "back"), max_length=2, description="the ends that carry a cross piece"
    )
    lines: tuple[LineIn, ...] = Field((), max_length=30, description="tape and glue")
    former: dict[Key, FormerIn] = Field(
        default_factory=dict[str, FormerIn], max_length=40, description="cross pieces by name"
    )
    doubler: dict[Key, DoublerIn] = Field(
        default_factory=dict[str, DoublerIn], max_length=40, description="second layers by name"
    )
    opening: dict[Key, OpeningIn] = Field(
        default_factory=dict[str, OpeningIn], max_length=40, description="cut-outs by name"
    )

    def build(self, key: str, report: Report, _reading: Reading) -> BoxBody:
        """Return the body; what is wrong with it goes to the report."""
        report.use("sheet", self.sheet, "sheet")
        for group in (self.former, self.doubler):
            word = "former" if group is self.former else "doubler"
            for name, part in group.items():
                report.use("sheet", part.sheet, word, name, "sheet")
        body = BoxBody(
            key=key,
            sheet=self.sheet,
            y=self.y,
            mirrored=self.mirror,
            stations=tuple(station.build() for station in self.stations),
            ends=("front" in self.closed, "back" in self.closed),
            formers=tuple(
                Former(key=name, x=part.x, sheet=part.sheet or self.sheet, opening=part.opening)
                for name, part in self.former.items()
            ),
            doublers=tuple(
                Doubler(
                    key=name,
                    face=part.face,
                    start=part.start,
                    end=part.end,
                    sheet=part.sheet or self.sheet,
                )
                for name, part in self.doubler.items()
            ),
            openings=tuple(
                Opening(
                    key=name,
                    face=part.face,
                    start=part.start,
                    end=part.end,
                    low=part.low,
                    high=part.high,
                    is_hatch=part.hatch,
                )
                for name, part in self.opening.items()
            ),
            lines=tuple(
                line.build(report.at("lines", place)) for place, line in enumerate(self.lines)
            ),
        )
        check_box(body, report)
        return body


class SlabIn(Table):
    """An upright sheet body or a pylon."""

    kind: Annotated[str, Choice(("slab", "pylon"))] = Field(description="how the body is made")
    sheet: Key = Field(description="the sheet it is cut from")
    layers: Annotated[int, Whole(1, 12)] = Field(1, description="sheets glued face to face")
    y: Coordinate = Field(0.0, description="its middle plane")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")
    outline: Outline = Field(description="in side view, in order round the piece")
    openings: tuple[Outline, ...] = Field(
        (), max_length=20, description="cut-outs in side view, each a list of points"
    )
    lines: tuple[LineIn, ...] = Field((), max_length=30, description="tape and glue")

    def build(self, key: str, report: Report, _reading: Reading) -> SlabBody:
        """Return the body; what is wrong with it goes to the report."""
        report.use("sheet", self.sheet, "sheet")
        body = SlabBody(
            key=key,
            is_pylon=self.kind == "pylon",
            sheet=self.sheet,
            layers=self.layers,
            y=self.y,
            mirrored=self.mirror,
            outline=self.outline,
            openings=self.openings,
            lines=tuple(
                line.build(report.at("lines", place)) for place, line in enumerate(self.lines)
            ),
        )
        check_slab(body, report)
        return body


class PodIn(Table):
    """A rounded pod."""

    kind: Annotated[str, Choice(("pod",))] = Field(description="how the body is made")
    at: At = Field(description="its middle")
    length: Extent = Field(description="along x")
    width: Extent = Field(description="along y")
    height: Extent = Field(description="along z")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")
    block: Key | None = Field(None, description="the block foam it is carved from; or mass")
    mass: Mass | None = Field(None, description="its mass where it is bought or moulded; or block")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")

    def build(self, key: str, report: Report, _reading: Reading) -> PodBody | None:
        """Return the body."""
        report.use("block", self.block, "block")
        if (self.block is None) == (self.mass is None):
            code = "KEY-MISSING" if self.block is None else "KEY-CLASH"
            report.say(code, "A pod takes either a block foam or a mass.", "mass")
            return None
        return PodBody(
            key=key,
            at=self.at,
            length=self.length,
            width=self.width,
            height=self.height,
            mirrored=self.mirror,
            block=self.block,
            mass=self.mass.figure(self.mass_scatter) if self.mass else None,
        )


class BoomIn(Table):
    """A rod that carries a tail."""

    kind: Annotated[str, Choice(("boom",))] = Field(description="how the body is made")
    rod: Key = Field(description="the rod or tube it is cut from")
    start: At = Field(description="its front end")
    end: At = Field(description="its back end")
    mirror: Flag = Field(False, description="drawn on the right, repeated on the left")

    def build(self, key: str, report: Report, _reading: Reading) -> BoomBody | None:
        """Return the body."""
        report.use("rod", self.rod, "rod")
        if self.start == self.end:
            report.say("RANGE-ORDER", "A boom must end somewhere else than it starts.", "end")
            return None
        return BoomBody(key=key, rod=self.rod, start=self.start, end=self.end, mirrored=self.mirror)


def _body_tag(given: object) -> str | None:
    tag = kind_tag(given)
    return "<slab>" if tag == "<pylon>" else tag


BodyIn = Annotated[
    Annotated[BoxIn, Tag("<box>")]
    | Annotated[SlabIn, Tag("<slab>")]
    | Annotated[PodIn, Tag("<pod>")]
    | Annotated[BoomIn, Tag("<boom>")],
    Discriminator(_body_tag),
]
