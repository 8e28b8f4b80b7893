"""Hand formulas for dihedral effect and roll damping, by strips.

Arguments may be scalars or arrays that broadcast.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def _array(value: ArrayLike) -> Array:
    return np.asarray(value, dtype=np.float64)


def equivalent_dihedral(panels: Sequence[tuple[float, float, float, float, float]]) -> float:
    r"""Plain dihedral that rolls as much in sideslip as a wing bent in panels.

    .. math:: \Gamma_e = \int \Gamma c y\,dy \Big/ \int c y\,dy

    Parameters
    ----------
    panels : sequence of tuple
        Inner and outer end seen from above [m], chords there [m], dihedral [rad].

    Returns
    -------
    float
        Equivalent dihedral. [rad]

    Notes
    -----
    Strip theory; weights by area and arm.
    """
    weights = [
        # integral of c y dy over a panel with straight edges
        (y1 - y0) * (c0 * (2.0 * y0 + y1) + c1 * (y0 + 2.0 * y1)) / 6.0
        for y0, y1, c0, c1, _ in panels
    ]
    angles = [panel[4] for panel in panels]
    return float(np.average(angles, weights=weights))


def strip_dihedral_roll(lift_slope: ArrayLike, *, dihedral: ArrayLike, taper: ArrayLike) -> Array:
    r"""Find the rolling moment of a dihedral in sideslip; negative is stable.

    .. math:: C_{l\beta} = -\frac{a\Gamma}{6}\,\frac{1 + 2\lambda}{1 + \lambda}

    Parameters
    ----------
    lift_slope : array_like
        Of the wing. [1/rad]
    dihedral : array_like
        Of the whole wing, tips up. [rad]
    taper : array_like
        Tip chord over root chord. [-]

    Returns
    -------
    ndarray
        Per radian of sideslip. [1/rad]

    Notes
    -----
    Strip theory: half as much again as lifting-surface theory finds at aspect ratio 6.

    References
    ----------
    .. [1] R. C. Nelson, Flight Stability and Automatic Control, 2nd ed., 1998 (from memory).
    """
    taper_ratio = _array(taper)
    share = (1.0 + 2.0 * taper_ratio) / (1.0 + taper_ratio)
    return -_array(lift_slope) * _array(dihedral) / 6.0 * share


def strip_roll_damping(lift_slope: ArrayLike, *, taper: ArrayLike) -> Array:
    r"""Find the rolling moment of a wing due to its roll rate; negative damps.

    .. math:: C_{lp} = -\frac{a}{12}\,\frac{1 + 3\lambda}{1 + \lambda}

    Parameters
    ----------
    lift_slope : array_like
        Of the wing. [1/rad]
    taper : array_like
        Tip chord over root chord. [-]

    Returns
    -------
    ndarray
        Per p b / 2V. [-]

    Notes
    -----
    Strip theory: about 45 % above lifting-line theory at aspect ratio 6.

    References
    ----------
    .. [1] R. C. Nelson, Flight Stability and Automatic Control, 2nd ed., 1998, ch. 3 (memory).
    """
    taper_ratio = _array(taper)
    return -_array(lift_slope) / 12.0 * (1.0 + 3.0 * taper_ratio) / (1.0 + taper_ratio)
