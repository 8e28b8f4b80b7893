"""What the aeroplane is for: each line a must or a wish."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Rank(StrEnum):
    """How firmly a line of the brief is meant."""

    MUST = "must"
    WISH = "wish"


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefLine:
    """One line of the brief; a measured topic has limits, a spoken one has ``says``."""

    topic: str  # "flying mass", "flyer", "wind", ... (see design/schema for the list)
    rank: Rank
    says: str = ""
    at_least: float | None = None  # SI
    at_most: float | None = None  # SI
    note: str = ""
