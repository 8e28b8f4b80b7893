"""What the record says of sections at low Reynolds numbers, each figure with its source.

The figures stand in ``tables/facts.toml``: value, band, range, source, and how sure it is
(*read*, *memory*, *fitted*, *derived*, *practice*).
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import InternalError

Array = NDArray[np.float64]

#: Reynolds numbers that the tables speak for; beyond them the edge holds and is flagged.
REYNOLDS_RANGE = (2.0e4, 5.0e5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One figure of the record, or one row of figures."""

    key: str
    value: float  # NaN for a row
    places: tuple[float, ...]
    values: tuple[float, ...]
    band: float  # one standard deviation, in the figure's own unit
    unit: str
    range: str
    source: str
    sure: str  # "read", "memory", "fitted", "derived", "practice"

    def at(self, place: ArrayLike) -> Array:
        """Value at a place of the row, straight between places and held beyond. [own unit]"""
        return np.interp(np.asarray(place, dtype=np.float64), self.places, self.values)

    def __str__(self) -> str:
        """Source and how sure."""
        return f"{self.source} ({self.sure})"


@lru_cache(maxsize=1)
def tables() -> dict[str, dict[str, Any]]:
    """All tables of the facts file by dotted key, as they stand there."""
    text = files("foamwright.air.sections").joinpath("tables/facts.toml").read_text("utf-8")
    shelves: dict[str, dict[str, dict[str, Any]]] = tomllib.loads(text)
    return {f"{shelf}.{name}": row for shelf, rows in shelves.items() for name, row in rows.items()}


@lru_cache(maxsize=128)
def fact(key: str) -> Fact:
    """Return one fact by its dotted key, such as ``"limit.profile"``."""
    row = tables().get(key)
    if row is None or not ("value" in row or "values" in row):
        raise InternalError(f"no fact {key!r} in the section tables; please report this")
    single = "value" in row
    return Fact(
        key=key,
        value=float(row["value"]) if single else float("nan"),
        places=() if single else tuple(map(float, row["places"])),
        values=() if single or _is_nested(row) else tuple(map(float, row["values"])),
        band=float(row["band"]),
        unit=str(row["unit"]) if "unit" in row else "",
        range=str(row["range"]) if "range" in row else "",
        source=str(row["source"]),
        sure=str(row["sure"]),
    )


def number(key: str) -> float:
    """Return the value of a single fact. [own unit]"""
    return fact(key).value


def _is_nested(row: dict[str, Any]) -> bool:
    return isinstance(row["values"][0], list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """One standard deviation of a family's coefficients over Reynolds number."""

    family: str
    log_reynolds: tuple[float, ...]
    cl: tuple[float, ...]  # absolute
    cd: tuple[float, ...]  # of the drag
    cm: tuple[float, ...]  # absolute
    source: str

    def at(self, log_reynolds: Array) -> tuple[Array, Array, Array]:
        """Bands of lift [-], drag [of the drag] and moment [-] at log10 of Reynolds number."""
        return (
            np.interp(log_reynolds, self.log_reynolds, self.cl),
            np.interp(log_reynolds, self.log_reynolds, self.cd),
            np.interp(log_reynolds, self.log_reynolds, self.cm),
        )


@lru_cache(maxsize=16)
def bands(family: str) -> Bands:
    """Return the bands of a family: "profile", "sheet", "stepped" or "folded"."""
    row = tables().get(f"band.{family}")
    if row is None:
        raise InternalError(f"no bands for {family!r} in the section tables; please report this")
    return Bands(
        family=family,
        log_reynolds=tuple(float(np.log10(r)) for r in row["reynolds"]),
        cl=tuple(map(float, row["cl"])),
        cd=tuple(map(float, row["cd"])),
        cm=tuple(map(float, row["cm"])),
        source=str(row["source"]),
    )
