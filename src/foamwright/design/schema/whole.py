"""The head of a design file, its marks and its variants."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from foamwright.design.model import Marks
from foamwright.design.schema.base import Reading, Table, Value, refuse
from foamwright.design.schema.brief import BriefLineIn
from foamwright.design.schema.fields import Choice, Text, Whole
from foamwright.design.schema.kinds import Flag, Key, Line, MaybeLine, ShortLine

#: The format that this program reads.
FORMAT = 1

LENGTH_UNITS = ("mm", "cm", "m", "in", "ft")
MASS_UNITS = ("g", "kg", "oz", "lb")

#: The name of the design as drawn where the file gives none.
AS_DRAWN = "as drawn"


class MarksIn(Table):
    """What the plan carries."""

    revision: ShortLine = Field("A", description="revision letter of the plan")
    licence: Annotated[str, Text(100, may_be_empty=True)] = Field(
        "", description="under which the plan may be shared"
    )
    notes: tuple[Line, ...] = Field((), max_length=30, description="lines printed on the plan")
    balance_span: Flag = Field(True, description="balance marks on the wing")
    thrust_line: Flag = Field(True, description="the thrust line in the views")
    cut_lines: Flag = Field(True, description="cut lines on the parts")

    def build(self) -> Marks:
        """Return the marks."""
        return Marks(
            revision=self.revision,
            licence=self.licence,
            notes=self.notes,
            balance_span=self.balance_span,
            thrust_line=self.thrust_line,
            cut_lines=self.cut_lines,
        )


class HeadIn(Table):
    """What stands above the tables, with brief and marks."""

    format: Annotated[int, Whole(1, 1_000_000)] = Field(description=f"format number: {FORMAT}")
    name: ShortLine = Field(description="name of the aeroplane")
    summary: MaybeLine = Field("", description="one line about it")
    lengths: Annotated[str, Choice(LENGTH_UNITS)] = Field("mm", description="unit of bare lengths")
    masses: Annotated[str, Choice(MASS_UNITS)] = Field("g", description="unit of bare masses")
    as_drawn: Key = Field(AS_DRAWN, description="name of the variant that the file draws")
    catalogue: Annotated[str, Text(100)] | None = Field(
        None, description="a catalogue file of your own, beside this file"
    )
    marks: MarksIn | None = Field(None, description="what the plan carries")
    brief: tuple[BriefLineIn, ...] = Field((), max_length=60, description="lines of the brief")


class Raw(Value):
    """Values that are read once they stand at their place in the design."""

    def read(self, given: object, reading: Reading) -> object:  # noqa: ARG002 - one shape for all
        """Return the value as it stands."""
        if not isinstance(given, dict):
            refuse("VALUE-TYPE", 'A table of changes is wanted here: { "path" = value }.')
        return given  # pyright: ignore[reportUnknownVariableType]

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return "table of paths and values"


class VariantIn(Table):
    """A named set of changes to the file's own paths."""

    says: MaybeLine = Field("", description="what it is for")
    like: Key | None = Field(None, description="the variant it starts from; the design as drawn")
    set: Annotated[dict[str, object], Raw()] = Field(
        default_factory=dict[str, object], description="values to change, by path"
    )
    without: tuple[Annotated[str, Text(200)], ...] = Field(
        (), max_length=60, description="tables to leave out, by path"
    )
