"""What a check is, and what comes of it: frozen, with its source beside every number."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air import LatticeReference, LatticeSurface
from foamwright.design.model import Design, Section, Stock

Array = NDArray[np.float64]

#: State of the air and of the aeroplane by name; every array has one member or one per value.
State = Mapping[str, Array]

#: How sure a published number is, best first.
SURE = ("read", "memory", "computed", "derived", "practice")


class Verdict(StrEnum):
    """What comes of one expected value."""

    PASS = "pass"  # noqa: S105 - no password
    KNOWN = "known miss"
    MISS = "miss"


# ---------------------------------------------------------------- what a case is about


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenReference:
    """Reference measures that a case states itself; None where the wing's own hold."""

    area: float | None = None  # m²
    chord: float | None = None  # m
    span: float | None = None  # m
    point: tuple[float, float, float] | None = None  # m, of the moments
    nose: float | None = None  # m, x from which neutral points are counted


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AeroplaneSubject:
    """An aeroplane, or parts of one, in the words of the design file."""

    design: Design
    reference: GivenReference


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LatticeSubject:
    """Lifting surfaces by points, for shapes and lattices that no design file can say."""

    surfaces: tuple[LatticeSurface, ...]
    reference: LatticeReference
    nose: float  # m, x from which the neutral point is counted


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionSubject:
    """A bare section in plane flow."""

    section: Section
    chord: float  # m
    stock: Stock


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FormulaSubject:
    """A hand formula with its inputs, by name."""

    name: str
    inputs: Mapping[str, Array]


Subject = AeroplaneSubject | LatticeSubject | SectionSubject | FormulaSubject

#: What each kind of subject is called in messages and docs.
SUBJECT_WORDS: Mapping[type[Subject], str] = {
    AeroplaneSubject: "aeroplane",
    LatticeSubject: "lattice",
    SectionSubject: "section",
    FormulaSubject: "formula",
}


# ---------------------------------------------------------------- what is asked


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Question:
    """One measure asked of one subject."""

    subject: Subject
    state: State
    of: str = ""  # the part it speaks of, where the measure needs one

    def at(self, key: str) -> Array:
        """State by name; only keys that the measure declares. [SI]"""
        return self.state[key]


class Part(StrEnum):
    """The kind of part that a measure speaks of."""

    WHOLE = ""
    SURFACE = "surface"
    CONTROL = "control"
    BODY = "body"
    PROPELLER = "propeller"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Measure:
    """Something that can be expected of a subject."""

    name: str
    what: str  # one line, with its sign
    family: str  # the room it tests
    unit: str  # as documented; "-" for none
    compute: Callable[[Question], ArrayLike]
    kind: str = ""  # kind of quantity; "" for plain numbers
    subjects: tuple[type[Subject], ...] = (AeroplaneSubject, LatticeSubject)
    needs: tuple[str, ...] = ()  # state that must be given
    takes: tuple[str, ...] = ()  # state that may be given
    of: Part = Part.WHOLE


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Expectation:
    """What a source says of one measure: one value, or one per state."""

    measure: Measure
    of: str
    state: State
    value: Array | None  # SI
    at_least: Array | None  # SI
    at_most: Array | None  # SI
    relative: float | None  # half width of the band, fraction of the value
    absolute: float | None  # half width of the band, SI
    known_miss: str  # why a miss is known and does not count; "" where it would
    note: str
    line: int | None  # where it stands in its file

    @property
    def count(self) -> int:
        """How many values are expected."""
        given = (self.value, self.at_least, self.at_most, *self.state.values())
        return max((len(each) for each in given if each is not None), default=1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """One check: a subject, a source, what the source says."""

    name: str
    file: str
    line: int | None
    what: str
    family: str
    source: str
    sure: str  # one of SURE
    note: str
    lengths: str  # units in which its numbers are shown
    masses: str
    subject: Subject
    expectations: tuple[Expectation, ...]


# ---------------------------------------------------------------- what comes of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One expected value beside what we get."""

    measure: str
    of: str
    unit: str
    state: tuple[tuple[str, str], ...]  # key and value as text
    expected: float | None  # in `unit`; None where there are only limits
    at_least: float | None  # in `unit`
    at_most: float | None  # in `unit`
    got: float | None  # in `unit`; None where there is no answer
    error: float | None  # got less expected, in `unit`; how far outside where there are limits
    relative_error: float | None
    band_relative: float | None
    band_absolute: float | None  # in `unit`
    verdict: Verdict
    why: str  # why there is no answer, or why the miss is known
    note: str
    stale: bool  # called a known miss, but it passes


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseResult:
    """A case with its checks."""

    case: Case
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """How many checks came out how."""

    passed: int = 0
    known: int = 0
    missed: int = 0

    @property
    def total(self) -> int:
        """All checks."""
        return self.passed + self.known + self.missed
