"""Dihedral as built, in millimetres at the tips and joints, and how a rudder rolls by it.

Equivalent dihedral, dihedral effect and roll damping by strips are the air room's
(:mod:`foamwright.air.rolling`).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from foamwright.air.rolling import equivalent_dihedral, strip_dihedral_roll, strip_roll_damping
from foamwright.flight.common import Array, as_array
from foamwright.flight.modes import steady_roll

__all__ = [
    "equivalent_dihedral",
    "flat_rise",
    "joint_bevel",
    "rudder_roll_rate",
    "square_cut_gap",
    "strip_dihedral_roll",
    "strip_roll_damping",
    "tip_rise",
]


def tip_rise(lengths: Sequence[float], *, dihedrals: Sequence[float]) -> tuple[float, float]:
    """Height and half span of a tip over its root. [m]

    Parameters
    ----------
    lengths : sequence of float
        Of the panels, root to tip, along themselves. [m]
    dihedrals : sequence of float
        Of each panel to the horizontal. [rad]

    Returns
    -------
    tuple of float
        Rise and projected half span.
    """
    along, angle = as_array(lengths), as_array(dihedrals)
    return float(along @ np.sin(angle)), float(along @ np.cos(angle))


def flat_rise(length: ArrayLike, *, bend: ArrayLike) -> Array:
    """Height of a panel's tip while its neighbour lies flat on the bench: the jig block. [m]

    Parameters
    ----------
    length : array_like
        Of the panel that is propped up. [m]
    bend : array_like
        Whole angle of the joint: twice the dihedral at the middle of a plain wing. [rad]

    Returns
    -------
    ndarray
    """
    return as_array(length) * np.sin(as_array(bend))


def joint_bevel(bend: ArrayLike) -> Array:
    """Bevel of each face of a joint, half its angle. [rad]

    Parameters
    ----------
    bend : array_like
        Whole angle of the joint. [rad]

    Returns
    -------
    ndarray
    """
    return 0.5 * as_array(bend)


def square_cut_gap(thickness: ArrayLike, *, bend: ArrayLike) -> Array:
    """Gap that each square-cut face leaves at the far side of a joint. [m]

    Parameters
    ----------
    thickness : array_like
        Of the sheet. [m]
    bend : array_like
        Whole angle of the joint. [rad]

    Returns
    -------
    ndarray
    """
    return as_array(thickness) * np.tan(0.5 * as_array(bend))


def rudder_roll_rate(
    roll_slip: ArrayLike,
    *,
    damping: ArrayLike,
    sideslip: ArrayLike,
    speed: ArrayLike,
    span: ArrayLike,
) -> Array:
    r"""Roll rate by dihedral while a rudder holds a sideslip. [rad/s]

    .. math:: p = \frac{C_{l\beta}}{-C_{lp}} \frac{2V}{b} \beta

    Parameters
    ----------
    roll_slip : array_like
        Cl by sideslip, negative for dihedral. [1/rad]
    damping : array_like
        Cl by p b/2V, negative. [-]
    sideslip : array_like
        Held; wind from the right positive, so right rudder makes it negative. [rad]
    speed, span : array_like
        Airspeed [m/s] and span [m].

    Returns
    -------
    ndarray
        Right wing down positive.

    Notes
    -----
    Once settled; the yaw that holds the sideslip is left out.
    """
    helix = steady_roll(as_array(roll_slip) * as_array(sideslip), damping=damping)
    return helix * 2.0 * as_array(speed) / as_array(span)
