"""The ground of every table: what a bare number means here, and how a value is refused."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple, NoReturn, cast

from pydantic import BaseModel, ConfigDict
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from foamwright.design.trouble import Guess
from foamwright.figures import Figure

#: The source of a figure that stands in the file itself.
FILE = "design file"


class Table(BaseModel):
    """A table of the design file: no unknown keys, never changed once read."""

    model_config = ConfigDict(extra="forbid", frozen=True)


@dataclass(frozen=True, slots=True)
class Reading:
    """What holds while one file is read."""

    lengths: str = "mm"  # unit of bare lengths
    masses: str = "g"  # unit of bare masses
    folder: Path | None = None  # where files beside the design file are


class Supplied(NamedTuple):
    """A value from the catalogue, with where the catalogue has it from."""

    value: object
    source: str


class Given(NamedTuple):
    """A measured value in SI, with where it comes from."""

    value: float
    source: str

    def figure(self, relative_scatter: float | None) -> Figure:
        """Return it as a figure with one standard deviation of scatter.

        Parameters
        ----------
        relative_scatter : float or None
            One standard deviation over the value; None where nobody said. [-]
        """
        scatter = abs(self.value) * (relative_scatter or 0.0)
        return Figure(value=self.value, scatter=scatter, source=self.source)


class Value:
    """A kind of value: how it is read, and how the docs describe it."""

    def read(self, given: object, reading: Reading) -> object:
        """Return the value in SI; refuse what is not one."""
        raise NotImplementedError

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        """Let pydantic call :meth:`read` for a value annotated with this field."""
        return core_schema.with_info_plain_validator_function(self._validate)

    def _validate(self, given: object, info: core_schema.ValidationInfo) -> object:
        return self.read(given, cast("Reading", info.context))


def refuse(
    code: str, text: str, hint: str | Guess = "", sub: tuple[str | int, ...] = ()
) -> NoReturn:
    """Refuse a value.

    Parameters
    ----------
    code : str
        A key of :data:`foamwright.design.codes.CODES`.
    text : str
        What is wrong and what is allowed, in one sentence.
    hint : str or Guess, optional
        What to do next.
    sub : tuple, optional
        Where inside the value, for lists.
    """
    # The template only passes through; the translator takes the pieces from the context.
    context = {"text": text, "hint": hint, "sub": sub}
    raise PydanticCustomError(code, "{text}", context)  # pyright: ignore[reportArgumentType]
