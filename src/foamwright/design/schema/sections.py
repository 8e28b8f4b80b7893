"""Sections by how they are made."""

from __future__ import annotations

from typing import Annotated

from pydantic import Discriminator, Field, Tag

from foamwright.design.checks.profiles import check_coordinates, read_coordinates, read_measured
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Face,
    FlatSection,
    FoldedSection,
    ProfiledSection,
    Section,
    StepLayer,
    SteppedSection,
)
from foamwright.design.schema.base import Reading, Table
from foamwright.design.schema.fields import Choice, Text
from foamwright.design.schema.folding import nodes_by_angle, nodes_by_rise
from foamwright.design.schema.kinds import (
    Camber,
    CamberAt,
    Coordinates,
    Depth,
    FoldAngle,
    Fraction,
    Key,
    Rise,
)
from foamwright.design.trouble import Report

_NEAR = 1e-9  # fractions closer than this are one place


class FlatIn(Table):
    """One flat sheet."""

    kind: Annotated[str, Choice(("flat",))] = Field(description="how the section is made")
    sheet: Key = Field(description="the sheet it is cut from")

    def build(self, report: Report, _reading: Reading) -> Section | None:
        """Return the section."""
        report.use("sheet", self.sheet, "sheet")
        return FlatSection(sheet=self.sheet)


class CreaseIn(Table):
    """One crease along the span."""

    at: Fraction = Field(description="its place, as a fraction of the chord")
    rise: Rise | None = Field(None, description="its height above the chord line, over the chord")
    angle: FoldAngle | None = Field(
        None, description="how far the sheet is folded there, + for a hump on top"
    )


class CreasedIn(Table):
    """One sheet with creases along the span."""

    kind: Annotated[str, Choice(("creased",))] = Field(description="how the section is made")
    sheet: Key = Field(description="the sheet it is cut from")
    creases: tuple[CreaseIn, ...] = Field(
        min_length=1,
        max_length=8,
        description="from nose to trailing edge, all by rise or all by angle",
    )

    def build(self, report: Report, _reading: Reading) -> Section | None:
        """Return the section, its ends on the chord line."""
        report.use("sheet", self.sheet, "sheet")
        if not self._is_sound(report):
            return None
        places = [crease.at for crease in self.creases]
        rises = [crease.rise for crease in self.creases if crease.rise is not None]
        if rises:
            return CreasedSection(sheet=self.sheet, nodes=nodes_by_rise(places, rises=rises))
        angles = [crease.angle for crease in self.creases if crease.angle is not None]
        nodes = nodes_by_angle(places, angles=angles)
        if nodes is None:
            report.say(
                "CREASE-FOLD",
                "These fold angles turn the sheet so far that it does not come back to its "
                "chord line; make the folds smaller.",
                "creases",
            )
            return None
        return CreasedSection(sheet=self.sheet, nodes=nodes)

    def _is_sound(self, report: Report) -> bool:
        sound = True
        before = 0.0
        for place, crease in enumerate(self.creases):
            if (crease.rise is None) == (crease.angle is None):
                code = "KEY-MISSING" if crease.rise is None else "KEY-CLASH"
                report.say(code, "A crease takes either rise or angle.", "creases", place)
                sound = False
            if not before + _NEAR < crease.at < 1.0 - _NEAR:
                report.say(
                    "CREASE-ORDER",
                    "Creases must follow each other from nose to trailing edge, each behind the "
                    "one before, none on an edge.",
                    "creases",
                    place,
                    "at",
                )
                sound = False
            before = max(before, crease.at)
        if sound and len({crease.rise is None for crease in self.creases}) > 1:
            report.say(
                "CREASE-MIXED", "Give all creases by rise, or all of them by angle.", "creases"
            )
            sound = False
        return sound


class FoldedIn(Table):
    """One sheet folded round the nose over a spar."""

    kind: Annotated[str, Choice(("folded",))] = Field(description="how the section is made")
    sheet: Key = Field(description="the sheet of the skin")
    spar_sheet: Key = Field(description="the sheet of the spar")
    spar_at: Fraction = Field(description="place of the spar, as a fraction of the chord")
    depth: Depth = Field(description="outside depth at the spar, skins included")
    nose_height: Depth = Field(description="outside height of the nose")
    lower_to: Fraction = Field(1.0, description="where the lower skin ends, over the chord")

    def build(self, report: Report, _reading: Reading) -> Section | None:
        """Return the section."""
        report.use("sheet", self.sheet, "sheet")
        report.use("sheet", self.spar_sheet, "spar_sheet")
        if not _NEAR < self.spar_at < self.lower_to - _NEAR:
            text = "The spar must stand between the nose and the end of the lower skin."
            report.say("RANGE-ORDER", text, "spar_at")
            return None
        if self.nose_height > self.depth:
            depth = report.length(self.depth)
            text = f"The nose must be no higher than the depth at the spar, {depth}."
            report.say("SECTION-DEPTH", text, "nose_height")
            return None
        return FoldedSection(
            sheet=self.sheet,
            spar_sheet=self.spar_sheet,
            spar_at=self.spar_at,
            depth=self.depth,
            nose_height=self.nose_height,
            lower_to=self.lower_to,
        )


class LayerIn(Table):
    """A strip glued on a flat base."""

    sheet: Key = Field(description="the sheet of the strip")
    start: Fraction = Field(description="its front edge, as a fraction of the chord")
    end: Fraction = Field(description="its back edge, as a fraction of the chord")
    face: Annotated[Face, Choice(Face)] = Field(Face.UPPER, description="the face it lies on")

    def build(self, report: Report) -> StepLayer | None:
        """Return the layer."""
        report.use("sheet", self.sheet, "sheet")
        if self.start >= self.end - _NEAR:
            report.say("LAYER-ORDER", "A layer must start ahead of where it ends.", "start")
            return None
        return StepLayer(sheet=self.sheet, start=self.start, end=self.end, face=self.face)


class SteppedIn(Table):
    """A flat sheet with layers glued on."""

    kind: Annotated[str, Choice(("stepped",))] = Field(description="how the section is made")
    sheet: Key = Field(description="the sheet of the base")
    layers: tuple[LayerIn, ...] = Field(
        min_length=1, max_length=12, description="the layers, from the base outwards"
    )

    def build(self, report: Report, _reading: Reading) -> Section | None:
        """Return the section."""
        report.use("sheet", self.sheet, "sheet")
        built = tuple(
            layer.build(report.at("layers", place)) for place, layer in enumerate(self.layers)
        )
        layers = tuple(layer for layer in built if layer is not None)
        if len(layers) < len(built):
            return None
        return SteppedSection(sheet=self.sheet, layers=layers)


class CurvedIn(Table):
    """One sheet bent to a smooth camber line."""

    kind: Annotated[str, Choice(("curved",))] = Field(description="how the section is made")
    sheet: Key = Field(description="the sheet it is bent from")
    camber: Camber = Field(description="height of the camber line, over the chord")
    camber_at: CamberAt = Field(0.4, description="where it is highest, as a fraction of the chord")

    def build(self, report: Report, _reading: Reading) -> Section | None:
        """Return the section."""
        report.use("sheet", self.sheet, "sheet")
        return CurvedSection(sheet=self.sheet, camber=self.camber, camber_at=self.camber_at)


class ProfiledIn(Table):
    """A core cut to coordinates."""

    kind: Annotated[str, Choice(("profiled",))] = Field(description="how the section is made")
    core: Key = Field(description="the block foam it is cut from")
    coordinates: Coordinates | None = Field(
        None, description="from the trailing edge over the upper side to the nose and back below"
    )
    coordinates_file: Annotated[str, Text(100)] | None = Field(
        None, description="a file beside this one with two columns, x and z over the chord"
    )
    polar_file: Annotated[str, Text(100)] | None = Field(
        None, description="a file beside this one with readings: reynolds alpha_deg cl cd cm"
    )

    def build(self, report: Report, reading: Reading) -> Section | None:
        """Return the section."""
        report.use("block", self.core, "core")
        if (self.coordinates is None) == (self.coordinates_file is None):
            code = "KEY-MISSING" if self.coordinates is None else "KEY-CLASH"
            report.say(code, "A profiled section takes either coordinates or coordinates_file.")
            return None
        points, key = self.coordinates, "coordinates"
        if self.coordinates_file is not None:
            key = "coordinates_file"
            points = read_coordinates(self.coordinates_file, reading.folder, report.at(key))
        if points is None or not check_coordinates(points, report.at(key)):
            return None
        measured = None
        if self.polar_file is not None:
            measured = read_measured(self.polar_file, reading.folder, report.at("polar_file"))
        return ProfiledSection(core=self.core, coordinates=points, measured=measured)


def kind_tag(given: object) -> str | None:
    """Return the tag of a table that comes in several kinds.

    The angle brackets keep tags apart from keys in pydantic's places.
    """
    if not isinstance(given, dict):
        return None
    kind: object = given.get("kind")  # pyright: ignore[reportUnknownMemberType, reportUnknownVariableType]
    return f"<{kind}>" if isinstance(kind, str) else None


SectionIn = Annotated[
    Annotated[FlatIn, Tag("<flat>")]
    | Annotated[CreasedIn, Tag("<creased>")]
    | Annotated[FoldedIn, Tag("<folded>")]
    | Annotated[SteppedIn, Tag("<stepped>")]
    | Annotated[CurvedIn, Tag("<curved>")]
    | Annotated[ProfiledIn, Tag("<profiled>")],
    Discriminator(kind_tag),
]
