"""States to trim, put as tasks: what is given, what is free, in one row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import DomainError
from foamwright.flight.common import Array, as_array

Index = NDArray[np.intp]

#: The unknowns in their order: rad, share, over weight, rad, m/s, g. The last is the gain of speed
#: along the path, nought in steady flight.
ALPHA, STICK, THRUST, PATH, SPEED, GAIN = range(6)
UNKNOWNS = 6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Task:
    """States to trim, one a row, each with its own two givens."""

    known: Array  # (B, 6) alpha, stick, throttle, path, airspeed, gain; nan where free
    free: Index  # (B, 3) numbers of the free ones; thrust stands for throttle
    bank: Array  # (B,) rad
    hole: Index  # (B,)

    def take(self, rows: Index) -> Task:
        """Only some of the states."""
        return Task(
            known=self.known[rows],
            free=self.free[rows],
            bank=self.bank[rows],
            hole=self.hole[rows],
        )


def task_of(
    count: int,
    *,
    alpha: ArrayLike | None = None,
    stick: ArrayLike | None = None,
    throttle: ArrayLike | None = None,
    path: ArrayLike | None = None,
    airspeed: ArrayLike | None = None,
    gain: ArrayLike | None = 0.0,
    hole: ArrayLike = 0,
    bank: ArrayLike = 0.0,
) -> Task:
    """Put states with the same givens into a task; three of the six stay free.

    Parameters
    ----------
    count : int
        States. [-]
    alpha, stick, throttle, path, airspeed, gain : array_like, optional
        What is given. [rad], [-], [-], [rad], [m/s], [g]
    hole : array_like of int, optional
        Setting of the motor mount. [-]
    bank : array_like, optional
        Of a turn. [rad]

    Returns
    -------
    Task
    """
    given = (alpha, stick, throttle, path, airspeed, gain)
    columns = [
        np.full(count, np.nan) if value is None else np.broadcast_to(as_array(value), count)
        for value in given
    ]
    free = np.array([k for k, value in enumerate(given) if value is None], dtype=np.intp)
    if len(free) != 3:
        raise DomainError("three of alpha, stick, throttle, path, airspeed and gain stay free")
    return Task(
        known=np.stack(columns, axis=-1),
        free=np.broadcast_to(free, (count, 3)),
        bank=np.broadcast_to(as_array(bank), count),
        hole=np.broadcast_to(np.asarray(hole, dtype=np.intp), count),
    )


def join_tasks(*tasks: Task) -> Task:
    """Put tasks below each other, so that the whole model is asked once for all."""
    return Task(
        known=np.concatenate([task.known for task in tasks]),
        free=np.concatenate([task.free for task in tasks]),
        bank=np.concatenate([task.bank for task in tasks]),
        hole=np.concatenate([task.hole for task in tasks]),
    )
