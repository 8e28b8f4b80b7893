"""The surfaces of an aeroplane in free air or at one height above the ground."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.stall.system import StripSystem, right_half, strip_system
from foamwright.air.tensor import LiftTensor, about
from foamwright.airframe.model import Airframe

Array = NDArray[np.float64]

#: Below this share of the span the images of a flat ground are no longer true: validity of
#: the lattice's ground effect.
LEAST_HEIGHT = 0.1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Level:
    """Lattice and strips at one height; the strips also folded on to the right half."""

    height: float | None  # m, of the reference point; None in free air
    tensor: LiftTensor
    whole: StripSystem
    half: StripSystem | None  # None for an aeroplane that is not its own mirror image

    @property
    def share(self) -> float:
        """Share of free air, see :func:`air_share`. [-]"""
        if self.height is None:
            return 1.0
        return float(air_share(np.asarray(self.height / self.tensor.reference.span)))


def air_share(height: Array) -> Array:
    r"""Share of induced drag that is left near the ground, by which levels are interpolated.

    .. math:: \phi = (16 h/b)^2 / (1 + (16 h/b)^2)

    Parameters
    ----------
    height : ndarray
        Over span. [-]

    Returns
    -------
    ndarray
        0 at the ground, 1 in free air. [-]

    References
    ----------
    .. [1] B. W. McCormick, Aerodynamics, Aeronautics, and Flight Mechanics (from memory).
    """
    square = (16.0 * height) ** 2
    return square / (1.0 + square)


def level_of(airframe: Airframe, tensor: LiftTensor, *, height: float | None) -> Level:
    """Put the strips of a lattice beside it.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    tensor : LiftTensor
        Its lattice at that height.
    height : float or None
        Of the reference point above ground; None in free air. [m]

    Returns
    -------
    Level
    """
    whole = strip_system(airframe, tensor)
    half = right_half(whole) if tensor.is_symmetric else None
    return Level(height=height, tensor=tensor, whole=whole, half=half)


def level_about(level: Level, point: tuple[float, float, float]) -> Level:
    """Move the point of speeds, rates and moments. [m]

    The height goes with it: that of the new point.
    """
    tensor = about(level.tensor, point)
    circulation = tensor.strips.circulation
    whole = replace(level.whole, circulation=circulation, onset=level.whole.inverse @ circulation)
    rise = point[2] - level.tensor.reference.point[2]
    return Level(
        height=None if level.height is None else level.height + rise,
        tensor=tensor,
        whole=whole,
        half=None if level.half is None else right_half(whole),
    )
