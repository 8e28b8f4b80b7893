"""Finding and Cure: what a check says, where on the aeroplane, why, what would mend it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Level(StrEnum):
    """How much a finding matters. A stop never blocks drawing: it is printed on the plan."""

    STOP = "stop"
    MIND = "mind"
    NOTE = "note"


#: A value as a design file writes it: one figure or word, a list, or a table on one line.
Value = float | int | str | bool | tuple["Value", ...] | Mapping[str, "Value"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change to the design file: the value that a path takes, as the file would write it."""

    path: str  # such as "power.pack.main.position"
    value: Value  # in the file's own units, ready to be written

    def __str__(self) -> str:
        """Return the change as a line of the file."""
        return f"{self.path} = {written(self.value)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """Changes to the design file, computed to work, with their predicted effect."""

    changes: tuple[Change, ...]
    effect: str  # "move the pack 18 mm forward: balance point 6 mm ahead of the aft limit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What one check says about one or more variants."""

    slug: str  # "balance-behind-span"
    level: Level
    text: str  # one plain sentence with the number and the limit
    where: str  # design path of the part it speaks of, such as "power.pack.main"
    why: str  # the rule and its source
    variants: tuple[str, ...] = ()  # names of the variants it holds for
    cures: tuple[Cure, ...] = ()


def written(value: Value) -> str:
    """Return a value as a design file writes it, in words for people; texts without quotes."""
    return _written(value, quoted=False)


def _written(value: Value, *, quoted: bool) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"' if quoted else value
    if isinstance(value, tuple):
        return f"[{', '.join(_written(one, quoted=True) for one in value)}]"
    if isinstance(value, Mapping):
        cells = (f"{key} = {_written(one, quoted=True)}" for key, one in value.items())
        return f"{{ {', '.join(cells)} }}"
    return str(value)
