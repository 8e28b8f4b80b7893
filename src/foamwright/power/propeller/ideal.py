"""What no propeller can better: momentum theory in the propeller's own coefficients."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def ideal_static_power(ct: ArrayLike) -> Array:
    r"""Least power coefficient standing still.

    .. math:: c_P = \sqrt{2/\pi}\; c_T^{3/2}

    Parameters
    ----------
    ct : array_like
        Thrust coefficient, zero or more. [-]

    Returns
    -------
    ndarray
        Power coefficient. [-]

    References
    ----------
    .. [1] H. Glauert in W. F. Durand (ed.), Aerodynamic Theory vol. IV, 1935 (from memory).
    """
    return np.asarray(np.sqrt(2.0 / np.pi) * np.asarray(ct, dtype=np.float64) ** 1.5)


def figure_of_merit(ct: ArrayLike, *, cp: ArrayLike) -> Array:
    """Ideal over true power standing still.

    Parameters
    ----------
    ct : array_like
        Thrust coefficient. [-]
    cp : array_like
        Power coefficient. [-]

    Returns
    -------
    ndarray
        Below 1. [-]
    """
    return ideal_static_power(ct) / np.asarray(cp, dtype=np.float64)


def ideal_efficiency(ct: ArrayLike, *, advance_ratio: ArrayLike) -> Array:
    r"""Froude efficiency, which no propeller reaches.

    .. math:: \eta = 2 / (1 + \sqrt{1 + 8 c_T/(\pi J^2)})

    Parameters
    ----------
    ct : array_like
        Thrust coefficient, zero or more. [-]
    advance_ratio : array_like
        V / (n D); 0 gives 0. [-]

    Returns
    -------
    ndarray
        Efficiency. [-]
    """
    j = np.abs(np.asarray(advance_ratio, dtype=np.float64))
    return 2.0 * j / (j + np.sqrt(j * j + 8.0 * np.asarray(ct, dtype=np.float64) / np.pi))
