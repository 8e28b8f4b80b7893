"""Collect what cannot be made as drawn, so that all of it is said at once."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TypeVar

from foamwright.errors import DomainError, ShapeError

Made = TypeVar("Made")

_PLACED = re.compile(r"((?:surface|body|power|item|pushrod|gear)\.[^:]+): (.*)", re.DOTALL)


class Faults:
    """What went wrong with the parts of one design."""

    def __init__(self) -> None:
        self._found: list[tuple[str, str]] = []

    def made(self, path: str, make: Callable[[], Made]) -> tuple[Made, ...]:
        """Return what `make` makes; nothing, and note it, where that cannot be made.

        Parameters
        ----------
        path : str
            Path in the design; a text that begins with a path of its own goes before it.
        make : callable
            Makes the parts, or raises a DomainError.
        """
        try:
            return (make(),)
        except DomainError as error:
            placed = _PLACED.fullmatch(str(error))
            fault = (placed[1], placed[2]) if placed else (path, str(error))
            if fault not in self._found:
                self._found.append(fault)
            return ()

    def stop(self) -> None:
        """Raise a ShapeError where anything was noted."""
        if self._found:
            raise ShapeError(tuple(self._found))
