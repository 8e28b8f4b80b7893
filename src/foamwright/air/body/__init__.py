"""Bodies in the wind: unstable moments, lift and side force, what hides in what."""

from foamwright.air.body.carry import carry_over
from foamwright.air.body.crossing import length_share, section_drag
from foamwright.air.body.forces import (
    CROSS_BAND,
    MOMENT_BAND,
    BodyForces,
    BodySlopes,
    BodyStrips,
    body_forces,
    body_slopes,
    body_strips,
    neutral_point_shift,
)
from foamwright.air.body.mass import ellipsoid_masses, munk_factor, rectangle_mass
from foamwright.air.body.shape import BodyLine, Form, body_lines
from foamwright.air.body.wingflow import WingFlow, flow_share, wing_flow

__all__ = [
    "CROSS_BAND",
    "MOMENT_BAND",
    "BodyForces",
    "BodyLine",
    "BodySlopes",
    "BodyStrips",
    "Form",
    "WingFlow",
    "body_forces",
    "body_lines",
    "body_slopes",
    "body_strips",
    "carry_over",
    "ellipsoid_masses",
    "flow_share",
    "length_share",
    "munk_factor",
    "neutral_point_shift",
    "rectangle_mass",
    "section_drag",
    "wing_flow",
]
