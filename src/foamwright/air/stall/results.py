"""What the strips say of a stall, as frozen values."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: One sigma of the largest lift, relative: its stated band of 10 % is two of them. Trials of
#: strip methods and the scatter of largest lift at low Reynolds numbers; common practice.
MAX_LIFT_SCATTER = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class StallPlace:
    """Where along the span a stall starts, and when."""

    surface: str
    panel: str  # its name
    place: float  # of the surface's half span, 0 at the middle, 1 at the tip
    y: float  # m
    lift: float  # CL of the whole aeroplane when it starts
    alpha: float  # rad, of the x axis


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstStrip:
    """Fast estimate: lift at which the first strip reaches its section's largest."""

    where: StallPlace
    surfaces: tuple[StallPlace, ...]  # the first strip of each surface


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StallResult:
    """Lift of the whole aeroplane through the stall, controls held, power off."""

    airspeed: float  # m/s, for the Reynolds numbers
    alpha: Array  # (A,) rad, of the x axis
    lift: Array  # (A,) CL
    converged: Flags  # (A,)
    steps: NDArray[np.intp]  # (A,)
    max_lift: float  # CLmax
    max_alpha: float  # rad
    first: StallPlace  # first strip of any surface
    first_wing: StallPlace  # first strip of the main wing
    follows: float  # rad, until the wing's other part (tips or inner part) starts; inf: never
    surfaces: tuple[str, ...]  # (S,) surface of each strip of the right half, or of both
    place: Array  # (S,) of the half span; negative on the left
    y: Array  # (S,) m
    strip_lift: Array  # (A, S) cl along the stream
    strip_most: Array  # (S,) cl that its section can reach
    stalled: Array  # (A,) share of the main wing's area that is stalled
    notes: tuple[str, ...]

    @property
    def margin(self) -> Array:
        """Lift coefficient each strip has in hand, (A, S); what a stalled one lost is negative."""
        return self.strip_most - self.strip_lift

    @property
    def max_lift_scatter(self) -> float:
        """One sigma of the largest lift. [-]"""
        return MAX_LIFT_SCATTER * self.max_lift
