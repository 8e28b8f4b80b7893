"""A polar as a table over Reynolds number and incidence, read smoothly.

Every polar, measured or worked out, becomes one table: rows evenly spaced in log Re, columns
every half degree right round. Between them a cubic (Catmull and Rom) runs both ways, so that
values and slopes are continuous; drag is held as its logarithm and stays positive.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import REYNOLDS_RANGE

Array = NDArray[np.float64]

#: Half a degree. [rad]
STEP = np.pi / 360.0
#: Incidences of the columns, -π to π. [rad]
ALPHA: Array = np.linspace(-np.pi, np.pi, 721)
#: log10 of the Reynolds numbers of the rows.
LOG_REYNOLDS: Array = np.linspace(math.log10(REYNOLDS_RANGE[0]), math.log10(REYNOLDS_RANGE[1]), 15)
ALPHA.flags.writeable = LOG_REYNOLDS.flags.writeable = False

_ROWS, _COLUMNS = len(LOG_REYNOLDS), len(ALPHA) - 1
_ROW_STEP = float(LOG_REYNOLDS[1] - LOG_REYNOLDS[0])
# What a cell holds: cl, ln cd, cm, share of attached flow.
CELL = 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PolarGrid:
    """Values at the nodes, with a row or column repeated beyond each edge."""

    cells: Array  # (rows + 2, columns + 3, CELL)


def polar_grid(cl: Array, cd: Array, cm: Array, share: Array) -> PolarGrid:
    """Table of a polar.

    Parameters
    ----------
    cl, cd, cm, share : ndarray, (15, 721)
        Lift, drag, moment and share of attached flow at every node; the last column repeats
        the first. [-]

    Returns
    -------
    PolarGrid
        Read it with :func:`read_grid`.
    """
    cells = np.stack([cl, np.log(cd), cm, share], axis=-1)
    # -π and π are one incidence, met from both sides.
    cells[:, 0] = cells[:, -1] = 0.5 * (cells[:, 0] + cells[:, -1])
    cells = np.concatenate([cells[:, -2:-1], cells, cells[:, 1:2]], axis=1)
    cells = np.concatenate([cells[:1], cells, cells[-1:]], axis=0)
    cells.flags.writeable = False
    return PolarGrid(cells=cells)


def read_grid(grid: PolarGrid, *, alpha: Array, log_reynolds: Array) -> Array:
    """Read a table.

    Parameters
    ----------
    grid : PolarGrid
        The table.
    alpha : ndarray
        Incidence, any; wrapped to -π to π. [rad]
    log_reynolds : ndarray
        log10 of Reynolds number, broadcast with alpha; held at the edges. [-]

    Returns
    -------
    ndarray, (..., 4)
        cl, ln cd, cm, share. [-]
    """
    alpha, log_reynolds = np.broadcast_arrays(alpha, log_reynolds)
    shape = alpha.shape
    u = (alpha.ravel() / STEP + 0.5 * _COLUMNS) % _COLUMNS
    v = np.clip((log_reynolds.ravel() - LOG_REYNOLDS[0]) / _ROW_STEP, 0.0, _ROWS - 1.0)
    i = np.minimum(u.astype(np.intp), _COLUMNS - 1)
    j = np.minimum(v.astype(np.intp), _ROWS - 2)
    across, along = _cubic(u - i), _cubic(v - j)
    flat = grid.cells.reshape(-1, CELL)
    width = grid.cells.shape[1]
    start = j * width + i
    total = np.zeros((len(start), CELL))
    for row in range(4):
        line = np.zeros((len(start), CELL))
        for column in range(4):
            line += across[column][:, None] * flat[start + row * width + column]
        total += along[row][:, None] * line
    return total.reshape(*shape, CELL)


def _cubic(t: Array) -> tuple[Array, Array, Array, Array]:
    """Weights of the four nodes about a place; continuous in value and slope."""
    t2 = t * t
    t3 = t2 * t
    return (
        0.5 * (-t3 + 2.0 * t2 - t),
        0.5 * (3.0 * t3 - 5.0 * t2 + 2.0),
        0.5 * (-3.0 * t3 + 4.0 * t2 + t),
        0.5 * (t3 - t2),
    )
