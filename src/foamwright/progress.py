"""How long work says what it is doing: it is handed a function, and the edges hand one over."""

from __future__ import annotations

from collections.abc import Callable

#: Told what is being done, in a few words.
Progress = Callable[[str], None]


def no_progress(step: str) -> None:
    """Say nothing."""
    del step
