"""A number with its band, its source and the record it belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Record(StrEnum):
    """The four records that are never mixed."""

    DESIGN = "design"  # intent
    PLAN = "plan"  # what was published
    BUILD = "build"  # this airframe, as weighed
    FLIGHT = "flight"  # what happened


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A value in SI with its one-sigma scatter, its source and its record."""

    value: float
    scatter: float = 0.0  # one sigma, same unit as value, >= 0
    source: str = "design file"
    record: Record = Record.DESIGN

    @property
    def low(self) -> float:
        """Value less two sigma. [same unit]"""
        return self.value - 2.0 * self.scatter

    @property
    def high(self) -> float:
        """Value plus two sigma. [same unit]"""
        return self.value + 2.0 * self.scatter

    @property
    def relative_scatter(self) -> float:
        """One sigma over the value; 0 for a zero value. [-]"""
        return self.scatter / abs(self.value) if self.value else 0.0
