"""What formulas are made of: inputs by name, and the measures that they give."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from numpy.typing import ArrayLike

from foamwright.errors import DomainError
from foamwright.verify.model import Array, FormulaSubject, Measure, Question
from foamwright.verify.values import SLOPE

#: Inputs by name: what a formula is given.
Inputs = Mapping[str, Array]


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One input of a formula."""

    name: str
    kind: str  # kind of quantity; "" for plain numbers
    optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Formula:
    """A hand formula: inputs by name, and the measures that it gives."""

    name: str
    what: str
    inputs: tuple[Input, ...]
    gives: Mapping[str, Measure]


def gives(
    name: str, what: str, compute: Callable[[Inputs], ArrayLike], *, kind: str = "", unit: str = "-"
) -> Measure:
    """Make a measure that a formula gives, computed from its inputs."""

    def asked(question: Question) -> ArrayLike:
        if not isinstance(question.subject, FormulaSubject):
            raise DomainError("this measure wants a formula")
        return compute(question.subject.inputs)

    return Measure(
        name=name,
        what=what,
        family="formula",
        unit=unit,
        kind=kind,
        subjects=(FormulaSubject,),
        compute=asked,
    )


def formula(name: str, what: str, inputs: str, *gives: Measure) -> Formula:
    """Make a formula.

    `inputs` reads "name:kind name name:kind?": "?" for optional ones, "-" for a space in a kind.
    """
    return Formula(
        name=name,
        what=what,
        inputs=tuple(_input(word) for word in inputs.split()),
        gives=MappingProxyType({measure.name: measure for measure in gives}),
    )


def _input(word: str) -> Input:
    name, _, kind = word.removesuffix("?").partition(":")
    return Input(name=name, kind=kind.replace("-", " "), optional=word.endswith("?"))


def slope(name: str, what: str, compute: Callable[[Inputs], ArrayLike]) -> Measure:
    """Make a measure that is a slope against an angle."""
    return gives(name, what, compute, kind=SLOPE, unit="/rad")


def rest(given: Inputs, name: str) -> dict[str, Array]:
    """Return the inputs but one."""
    return {key: value for key, value in given.items() if key != name}


def wanted(given: Inputs, name: str) -> Array:
    """Return an input that only some measures of a formula need."""
    if name not in given:
        raise DomainError(f'this measure needs the input "{name}"')
    return given[name]


def one(given: Inputs, name: str) -> float:
    """Return an input of a formula that takes one number only."""
    if given[name].size != 1:
        raise DomainError(f'"{name}" takes one number here, not a list')
    return float(given[name].reshape(-1)[0])
