"""What every file of this room shares: arrays, gravity, words for lengths."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

#: Standard gravity. [m/s²] (ISO 80000-3, 1901 conference)
GRAVITY = 9.80665
#: Standard air at sea level. [kg/m³] (US Standard Atmosphere, 1976)
DENSITY = 1.225


def as_array(value: ArrayLike) -> Array:
    """Take scalars and sequences as float64 arrays."""
    return np.asarray(value, dtype=np.float64)


def as_arrays(*values: ArrayLike) -> tuple[Array, ...]:
    """Take several values as float64 arrays broadcast against each other."""
    return tuple(np.broadcast_arrays(*(as_array(value) for value in values)))


def only_where(good: NDArray[np.bool_], values: ArrayLike) -> Array:
    """Values where they hold, nan elsewhere: out of validity is never a clamp."""
    return np.where(good, values, np.nan)
