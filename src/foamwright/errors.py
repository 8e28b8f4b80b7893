"""The error tree, and the Problem that a design file can have.

::

    FoamwrightError
    ├ DesignFileError(problems)   the user's file
    ├ DomainError(ValueError)     input outside a model's validity
    │ └ ShapeError(faults)        parts that cannot be made as drawn
    ├ ConvergenceError            a single case that did not converge
    └ InternalError               ours; asks for a report
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong in a file: where, what was given, what is allowed, what to do."""

    code: str  # stable, documented, such as "UNIT-UNKNOWN"
    file: str  # as the user named it
    line: int | None  # counted from 1; None where no line can be named
    path: str  # dotted path in the file, "" for the file as a whole
    given: str  # what stands there, as written (shortened)
    text: str  # one sentence a beginner understands: what is wrong, what is allowed
    hint: str = ""  # what to do next, such as 'did you mean "18 cm"?'

    def __str__(self) -> str:
        """Two or three lines: place and given value, the sentence, the hint."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        head = "  ".join(bit for bit in (place, self.path) if bit)
        if self.given:
            head += f" = {self.given}" if self.path else f"  {self.given}"
        lines = [f"{head}   [{self.code}]", f"  {self.text}"]
        if self.hint:
            lines.append(f"  {self.hint}")
        return "\n".join(lines)


class FoamwrightError(Exception):
    """Anything this package raises on purpose."""


class DesignFileError(FoamwrightError):
    """The user's file cannot be used; carries every problem found, in file order."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class DomainError(FoamwrightError, ValueError):
    """Input outside a model's range of validity."""


class ShapeError(DomainError):
    """Parts that cannot be made as drawn: the path of each in the design, and what is wrong."""

    def __init__(self, faults: tuple[tuple[str, str], ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(f"{path}: {text}" if path else text for path, text in faults))


class ConvergenceError(FoamwrightError):
    """A single case that did not converge."""


class InternalError(FoamwrightError):
    """Our own mistake; the text asks for a report."""
