"""What each strip carries in a state of motion."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.tensor import LiftTensor

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripLoads:
    """Load of every strip, in the order of ``tensor.strips``; leading axes are states."""

    circulation: Array  # (..., S) m²/s
    speed: Array  # (..., S) m/s, of the air along the chord
    lift: Array  # (..., S) m³/s², per span and density, square to the strip
    coefficient: Array  # (..., S) lift coefficient on the strip's chord and speed
    effective: Array  # (..., S) rad, incidence from zero lift in plane flow
    induced: Array  # (..., S) rad, of the air by all other vortices, upwards positive


def strip_loads(tensor: LiftTensor, state: Array) -> StripLoads:
    """Span loading in a state.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`foamwright.air.motion_state`. [m/s]

    Returns
    -------
    StripLoads

    Notes
    -----
    Attached. The strip's speed is that of its quarter point along x, so a wing that yaws
    carries more on its outer side; sweep does not change it.
    """
    strips = tensor.strips
    arm = strips.quarter - np.array(tensor.reference.point)
    u, q, r = (state[..., k, None] for k in (0, 2, 5))
    speed = u - q * arm[:, 2] - r * arm[:, 1]
    circulation = state @ strips.circulation.T
    effective = circulation / (np.pi * strips.chord * speed)
    return StripLoads(
        circulation=circulation,
        speed=speed,
        lift=circulation * speed,
        coefficient=2.0 * np.pi * effective,
        effective=effective,
        induced=effective - (state @ strips.geometric.T) / speed,
    )
