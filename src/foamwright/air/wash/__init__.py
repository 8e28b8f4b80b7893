"""Propeller wash: what a working propeller adds to the air, and what stands in it."""

from foamwright.air.wash.disc import (
    induced_velocity,
    stream_growth,
    swirl_share,
    tube_radius,
)
from foamwright.air.wash.field import Wash, air_velocity, wash
from foamwright.air.wash.parts import (
    StripWash,
    SurfaceStrips,
    body_points,
    body_share,
    drag_points,
    part_ratios,
    strip_wash,
    surface_strips,
)

__all__ = [
    "StripWash",
    "SurfaceStrips",
    "Wash",
    "air_velocity",
    "body_points",
    "body_share",
    "drag_points",
    "induced_velocity",
    "part_ratios",
    "stream_growth",
    "strip_wash",
    "surface_strips",
    "swirl_share",
    "tube_radius",
    "wash",
]
