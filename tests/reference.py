"""Where a published value comes from, stated beside every validation test.

A validation test compares with a number from outside the project. Each prints expected, got
and source, and the validation page of the docs is built from what they print::

    NACA_824 = Reference("Abbott, von Doenhoff, Stivers", "NACA Report 824", 1945, "symbols page")

    @pytest.mark.validation(NACA_824)
    def test_reynolds_number(agrees):
        agrees("Re of 1 ft at 100 mph", got=reynolds(...), expected=935_400, rel=4e-3)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

#: Checks a named quantity against its published value and notes it for the validation page.
Agrees = Callable[..., None]


@dataclass(frozen=True)
class Reference:
    """A publication, or one of the honest substitutes where there is none."""

    author: str
    title: str
    year: int | None
    place: str  # table, figure, page, case
    sure: str = "read"  # "read", "memory", "practice", "derived", "computed"

    def __str__(self) -> str:
        year = "" if self.year is None else str(self.year)
        said = ", ".join(bit for bit in (self.author, self.title, year, self.place) if bit)
        return f"{said} ({self.sure})"
