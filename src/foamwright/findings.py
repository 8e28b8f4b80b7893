"""Finding and Cure: what a check says, where on the aeroplane, why, what would mend it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Level(StrEnum):
    """How much a finding matters. A stop never blocks drawing: it is printed on the plan."""

    STOP = "stop"
    MIND = "mind"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change to the design file: the value that a path takes, as the file would write it."""

    path: str  # such as "power.pack.main.position"
    value: float | int | str | bool  # in the file's own units, ready to be written


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
