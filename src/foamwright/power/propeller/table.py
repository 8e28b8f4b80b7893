"""Coefficients kept on a grid, so that an operating point costs microseconds.

The grid runs evenly in the advance angle psi = atan(J / (0.7 pi)), that of the blade at 0.7 of the
radius, and in the logarithm of Reynolds number. It holds coefficients over (1 + tan² psi), which
stay finite up to a propeller that stands still in the wind. Between nodes runs a bicubic with
slopes by central differences: smooth to the first derivative.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

#: Turns advance ratio into the tangent of the advance angle at 0.7 radius.
BLADE_TANGENT = 1.0 / (0.7 * np.pi)

#: Cubic of a cell from four neighbouring values (Catmull-Rom): rows are powers 0 to 3.
_CUBIC = 0.5 * np.array(
    [[0.0, 2.0, 0.0, 0.0], [-1.0, 0.0, 1.0, 0.0], [2.0, -5.0, 4.0, -1.0], [-1.0, 3.0, -3.0, 1.0]]
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Bicubic pieces of ct, cp and their scatters over advance angle and Reynolds number."""

    angle_start: float  # rad
    angle_step: float  # rad
    log_start: float  # natural logarithm of Reynolds number
    log_step: float
    pieces: Array = field(repr=False)  # (angle cells, log cells, 4, 4, 4)


def _padded(values: Array, axis: int) -> Array:
    """Add a node at both ends, on the straight line of the last two."""
    v = np.moveaxis(values, axis, 0)
    v = np.concatenate([[2.0 * v[0] - v[1]], v, [2.0 * v[-1] - v[-2]]])
    return np.moveaxis(v, 0, axis)


def make_table(
    values: Array, *, angle_start: float, angle_step: float, log_start: float, log_step: float
) -> Table:
    """Lay bicubic pieces through node values.

    Parameters
    ----------
    values : ndarray
        By angle, Reynolds number and kind (ct, cp, scatters), over 1 + tan² psi. [-]
    angle_start, angle_step : float
        First node and spacing in advance angle. [rad]
    log_start, log_step : float
        First node and spacing in the natural logarithm of Reynolds number. [-]

    Returns
    -------
    Table
        Ready for `look_up`.
    """
    p = _padded(_padded(values, 0), 1)
    rows, columns = values.shape[0] - 1, values.shape[1] - 1
    near = np.stack([p[i : i + rows] for i in range(4)], axis=1)
    near = np.stack([near[:, :, j : j + columns] for j in range(4)], axis=3)
    pieces = np.einsum("pa,qb,iajbk->ijpqk", _CUBIC, _CUBIC, near, optimize=True)
    return Table(
        angle_start=angle_start,
        angle_step=angle_step,
        log_start=log_start,
        log_step=log_step,
        pieces=np.ascontiguousarray(pieces),
    )


def look_up(
    table: Table, advance_ratio: ArrayLike, tip_reynolds: ArrayLike
) -> tuple[Array, Array, Array, Array]:
    """Read ct, cp and their scatters.

    Parameters
    ----------
    table : Table
        Of one propeller.
    advance_ratio : array_like
        V / (n D). [-]
    tip_reynolds : array_like
        Held to the ends of the table beyond them. [-]

    Returns
    -------
    tuple of ndarray
        ct, cp, scatter of ct, scatter of cp. [-]
    """
    tangent = BLADE_TANGENT * np.asarray(advance_ratio, dtype=np.float64)
    number = np.asarray(tip_reynolds, dtype=np.float64)
    rows, columns = table.pieces.shape[:2]
    x = (np.arctan(tangent) - table.angle_start) / table.angle_step
    y = (np.log(np.maximum(number, 1.0)) - table.log_start) / table.log_step
    x, y = np.broadcast_arrays(x, np.clip(y, 0.0, columns))
    i = np.clip(np.nan_to_num(x), 0.0, rows - 1).astype(np.intp)
    j = np.clip(np.nan_to_num(y), 0.0, columns - 1).astype(np.intp)
    u, v = x - i, y - j
    piece = table.pieces[i, j]
    # Horner in both directions: first along the angle, then along the Reynolds number
    u3, v2 = u[..., None, None], v[..., None]
    line = ((piece[..., 3, :, :] * u3 + piece[..., 2, :, :]) * u3 + piece[..., 1, :, :]) * u3
    line += piece[..., 0, :, :]
    value = ((line[..., 3, :] * v2 + line[..., 2, :]) * v2 + line[..., 1, :]) * v2 + line[..., 0, :]
    value *= (1.0 + tangent * tangent)[..., None] if tangent.ndim else 1.0 + tangent * tangent
    return value[..., 0], value[..., 1], value[..., 2], value[..., 3]
