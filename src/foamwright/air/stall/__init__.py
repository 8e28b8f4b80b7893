"""Strips through the stall: how much lift there is, and where along the span it gives way.

- :func:`strip_system`: the strips of a solved lattice with their sections;
- :func:`solve_strips`: lift of all strips together, at any incidence;
- :func:`sweep_stall`: lift against incidence, largest lift, where the stall starts;
- :func:`first_strip`: the fast estimate, right for batches.
"""

from foamwright.air.stall.results import (
    MAX_LIFT_SCATTER,
    FirstStrip,
    StallPlace,
    StallResult,
)
from foamwright.air.stall.solve import StripLift, StripMotion, solve_strips
from foamwright.air.stall.sweep import TIP_FROM, StallCase, first_strip, sweep_stall
from foamwright.air.stall.system import StripSystem, right_half, strip_system

__all__ = [
    "MAX_LIFT_SCATTER",
    "TIP_FROM",
    "FirstStrip",
    "StallCase",
    "StallPlace",
    "StallResult",
    "StripLift",
    "StripMotion",
    "StripSystem",
    "first_strip",
    "right_half",
    "solve_strips",
    "strip_system",
    "sweep_stall",
]
