"""The tables of a case file that the design file does not have."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from foamwright.design.schema.base import Reading, Table, Value, refuse
from foamwright.design.schema.fields import (
    Choice,
    Numbers,
    Points,
    Quantity,
    Text,
    Whole,
    as_list,
)
from foamwright.design.schema.kinds import Chord, Flag, Key, Line
from foamwright.design.schema.sections import SectionIn
from foamwright.design.schema.whole import LENGTH_UNITS, MASS_UNITS
from foamwright.verify.model import SURE

#: The format of case files that this program reads.
FORMAT = 1

_LONG = Text(600)
_MOST_POINTS = 60
_PLACE = Quantity("length", "-10 m", "10 m")


class AnyValue(Value):
    """A value that is read once it is known what is asked."""

    def __init__(self, words: str) -> None:
        self.words = words

    def read(self, given: object, reading: Reading) -> object:  # noqa: ARG002 - one shape for all
        """Return the value as it stands."""
        return given

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return self.words


class Several(Value):
    """A list of quantities of one kind, of any length up to a limit."""

    def __init__(self, quantity: Quantity, *, least: int, most: int) -> None:
        self.quantity, self.least, self.most = quantity, least, most

    def read(self, given: object, reading: Reading) -> tuple[float, ...]:
        """Return the quantities. [SI]"""
        values = as_list(given, f"A list of {self.quantity.kind}s is wanted here: [..., ...].")
        if len(values) > self.most:
            refuse("TOO-MANY", f"At most {self.most} are taken; here are {len(values)}.")
        if len(values) < self.least:
            refuse("LIST-LENGTH", f"At least {self.least} are needed; here are {len(values)}.")
        return Numbers(self.quantity, len(values), "...").read(values, reading)

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return f"list of {self.least} to {self.most}, each {self.quantity.takes()}"


Amount = Annotated[object, AnyValue("number or list, in the measure's unit")]
States = Annotated[object, AnyValue("table of states, each a number or a list")]
Inputs = Annotated[object, AnyValue("table of inputs, each a number or a list")]
MaybeLong = Annotated[str, Text(600, may_be_empty=True)]


class FileIn(Table):
    """What stands above the cases of a file."""

    format: Annotated[int, Whole(1, 1_000_000)] = Field(description=f"format number: {FORMAT}")
    says: MaybeLong = Field("", description="what the file is about")
    lengths: Annotated[str, Choice(LENGTH_UNITS)] = Field("mm", description="unit of bare lengths")
    masses: Annotated[str, Choice(MASS_UNITS)] = Field("g", description="unit of bare masses")


class ReferenceIn(Table):
    """Reference measures, where a source uses other ones than the wing's own."""

    area: Annotated[float, Quantity("area", "1e-8 m2", "1000 m2")] | None = Field(
        None, description="area of the coefficients"
    )
    chord: Annotated[float, Quantity("length", "0.1 mm", "100 m")] | None = Field(
        None, description="chord of pitching moments and pitch rate"
    )
    span: Annotated[float, Quantity("length", "0.1 mm", "100 m")] | None = Field(
        None, description="span of rolling and yawing moments and roll rate"
    )
    point: Annotated[tuple[float, ...], Numbers(_PLACE, 3, "x, y, z")] | None = Field(
        None, description="point of the moments"
    )
    nose: Annotated[float, _PLACE] | None = Field(
        None, description="x from which the neutral point is counted"
    )


class LatticeIn(Table):
    """A lifting surface by points: for shapes and lattices that no design file can say."""

    name: Key = Field(description="its name")
    leading: Annotated[
        tuple[tuple[float, ...], ...], Points(_PLACE, 3, "x, y, z", 2, _MOST_POINTS)
    ] = Field(description="points of the leading edge, from root to tip")
    chord: Annotated[
        tuple[float, ...],
        Several(Quantity("length", "0 mm", "10 m"), least=2, most=_MOST_POINTS),
    ] = Field(description="chords at these points, along x")
    twist: (
        Annotated[
            tuple[float, ...],
            Several(Quantity("angle", "-45 deg", "45 deg"), least=2, most=_MOST_POINTS),
        ]
        | None
    ) = Field(None, description="angles of the chords to the x axis, + nose up")
    mirror: Flag = Field(True, description="drawn for the right, repeated on the left")
    strips: Annotated[int, Whole(1, 60)] | None = Field(
        None, description="strips along the half span; as many as the program uses itself"
    )
    rows: Annotated[int, Whole(1, 20)] | None = Field(
        None, description="vortices along the chord; as many as the program uses itself"
    )
    even: Flag = Field(False, description="equal strips, as in a hand-made lattice")


class ExpectIn(Table):
    """What the source says of one measure."""

    measure: Line = Field(description="its name, see the list of measures")
    of: Line | None = Field(
        None,
        description="the surface, control, body or propeller it speaks of, where there are several",
    )
    state: States | None = Field(None, description="states beside or instead of the case's own")
    value: Amount | None = Field(None, description="the published value, or a list of them")
    at_least: Amount | None = Field(None, description="a lower limit instead of a value")
    at_most: Amount | None = Field(None, description="an upper limit instead of a value")
    tolerance: Annotated[float, Quantity("fraction", "0.0001 %", "100 %")] | None = Field(
        None, description="half width of the band, as a share of the value"
    )
    tolerance_abs: Amount | None = Field(
        None, description="half width of the band, in the measure's unit"
    )
    known_miss: Annotated[str, _LONG] | None = Field(
        None, description="why it misses, so that it is counted apart and does not fail"
    )
    note: MaybeLong = Field("", description="what a reader should know")


class CaseIn(Table):
    """One check, beside the design file's own tables of what it is about."""

    what: Annotated[str, _LONG] = Field(description="what is checked, in a line")
    family: Key = Field(description="the family it is counted with")
    source: Annotated[str, _LONG] = Field(description="where the values come from")
    sure: Annotated[str, Choice(SURE)] = Field(description="how sure they are")
    note: MaybeLong = Field("", description="what a reader should know")
    known_miss: Annotated[str, _LONG] | None = Field(
        None, description="why its misses are known, so that they do not fail"
    )
    lengths: Annotated[str, Choice(LENGTH_UNITS)] | None = Field(
        None, description="unit of bare lengths; that of the file"
    )
    masses: Annotated[str, Choice(MASS_UNITS)] | None = Field(
        None, description="unit of bare masses; that of the file"
    )
    section: SectionIn | None = Field(None, description="a bare section, as in a panel")
    chord: Chord | None = Field(None, description="chord of the bare section")
    lattice: tuple[LatticeIn, ...] = Field((), max_length=20, description="surfaces by points")
    reference: ReferenceIn | None = Field(
        None, description="reference measures; those of the main wing"
    )
    formula: Line | None = Field(None, description="a hand formula, see the list of formulas")
    inputs: Inputs | None = Field(None, description="its inputs, by name")
    state: States | None = Field(None, description="states of all measures of the case")
    expect: tuple[ExpectIn, ...] = Field((), max_length=100, description="what the source says")
