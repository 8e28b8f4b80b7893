"""The drag table: rows, shares and bands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe.model import Group
from foamwright.errors import DomainError

Array = NDArray[np.float64]


class Cause(StrEnum):
    """Why a part drags. Rows of one cause share its error; causes are independent."""

    FRICTION = "skin"
    NOSE = "blunt front"
    BASE = "blunt back"
    EDGE = "cut edges"
    BLOCK = "in the wind"
    ROUND = "round body"
    WIRE = "wire"
    WHEEL = "wheel"
    CAVITY = "gap or opening"
    JUNCTION = "corner"
    SECTION = "section"  # profile drag of lifting sections, added by the caller
    INDUCED = "induced"  # price of lift, added by the caller


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DragRow:
    """One line of the table."""

    key: str  # "hull.skin", unique in a table
    path: str  # where it stands in the design file
    title: str  # "hull, skin"; of a pair "main wheel (2)"
    group: Group
    cause: Cause
    area: Array  # (...,) m², drag over the dynamic pressure of flight
    band: float  # one sigma, relative
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DragTable:
    """Drag by parts, for one or many states."""

    rows: tuple[DragRow, ...]
    areas: Array  # (..., rows) m²
    leaves_out: tuple[str, ...]

    @property
    def total(self) -> Array:
        """Drag area of all rows. [m²]"""
        return self.areas.sum(axis=-1)

    @property
    def shares(self) -> Array:
        """Share of each row in the total, (..., rows). [-]"""
        return self.areas / self.total[..., None]

    @property
    def scatter(self) -> Array:
        """One sigma of the total: causes independent, rows of one cause together. [m²]"""
        bands = np.array([row.band for row in self.rows])
        causes = [row.cause for row in self.rows]
        squares = np.zeros(self.areas.shape[:-1])
        for cause in dict.fromkeys(causes):
            of = np.array([bands[i] if c is cause else 0.0 for i, c in enumerate(causes)])
            squares = squares + (self.areas @ of) ** 2
        return np.sqrt(squares)

    def row(self, key: str) -> DragRow:
        """Return the row of that key; KeyError where there is none."""
        for row in self.rows:
            if row.key == key:
                return row
        raise KeyError(key)

    def of_group(self, group: Group) -> Array:
        """Drag area of all rows of a group. [m²]"""
        return self._sum([row.group is group for row in self.rows])

    def of_cause(self, cause: Cause) -> Array:
        """Drag area of all rows of a cause. [m²]"""
        return self._sum([row.cause is cause for row in self.rows])

    def of_path(self, path: str) -> Array:
        """Drag area of all rows of one part of the design file. [m²]"""
        return self._sum([row.path == path for row in self.rows])

    def _sum(self, which: list[bool]) -> Array:
        return np.asarray(self.areas[..., np.array(which, dtype=bool)].sum(axis=-1))


def add_rows(table: DragTable, rows: tuple[DragRow, ...]) -> DragTable:
    """Add rows that another part of the room found, such as section and induced drag.

    Parameters
    ----------
    table : DragTable
        The table. [m²]
    rows : tuple of DragRow
        Rows with drag areas on the same dynamic pressure, that of flight; their states
        broadcast with the table's. [m²]

    Returns
    -------
    DragTable
        With the rows at its end. [m²]

    Raises
    ------
    DomainError
        Where a key is taken.
    """
    keys = [row.key for row in (*table.rows, *rows)]
    if len(set(keys)) < len(keys):
        raise DomainError("two rows of a drag table have the same key")
    columns = np.broadcast_arrays(
        *(table.areas[..., i] for i in range(len(table.rows))),
        *(np.asarray(row.area, dtype=np.float64) for row in rows),
    )
    return DragTable(
        rows=(*table.rows, *rows),
        areas=np.stack(columns, axis=-1),
        leaves_out=table.leaves_out,
    )


def share_lines(table: DragTable, *, at: tuple[int, ...] = ()) -> tuple[str, ...]:
    """Say what each part costs, largest first: "hull, skin: 21 % of the drag".

    Parameters
    ----------
    table : DragTable
        The table. [m²]
    at : tuple of int, optional
        Which state, where the table has several.

    Returns
    -------
    tuple of str
        One sentence a row; rows below one half per cent are put together.
    """
    shares = table.shares[at]
    order = np.argsort(-shares, kind="stable")
    lines: list[str] = []
    rest = 0.0
    for i in order.tolist():
        share = float(shares[i])
        if share < _SMALL:
            rest += share
        else:
            lines.append(f"{table.rows[i].title}: {100.0 * share:.0f} % of the drag")
    if rest > 0.0:
        lines.append(f"everything else: {100.0 * rest:.1f} % of the drag")
    return tuple(lines)


#: Rows of a smaller share are not named.
_SMALL = 0.005
