"""Sections: what the air does to a section as it is built, at every incidence.

- :func:`section_polar`: the polar of a section of a design;
- :class:`SectionPolar`: lift, drag and moment, largest lift, zero lift, with bands and sources;
- :func:`thin_aerofoil`, :func:`flap_effect`, :func:`hinge_bias`: theory in closed form;
- :func:`panel_flow`: inviscid pressures round a closed section;
- :func:`read_coordinates_text`, :func:`read_polar_text`, :func:`measured_polar`: what a maker
  brings.
"""

from foamwright.air.sections.evidence import REYNOLDS_RANGE, Fact, fact
from foamwright.air.sections.flaps import Flap, acting_deflection
from foamwright.air.sections.general import section_polar, shape_polar
from foamwright.air.sections.made import section_shape
from foamwright.air.sections.measured import (
    LIBRARY,
    Readings,
    library_polar,
    measured_polar,
    polar_as_known,
    read_coordinates_text,
    read_polar_text,
)
from foamwright.air.sections.panel import PanelFlow, panel_flow
from foamwright.air.sections.polar import SectionCoefficients, SectionPolar
from foamwright.air.sections.shape import (
    Make,
    Nose,
    SectionShape,
    Step,
    profile_shape,
)
from foamwright.air.sections.thin import (
    FlapEffect,
    ThinAerofoil,
    flap_effect,
    glauert_terms,
    hinge_bias,
    thin_aerofoil,
)

__all__ = [
    "LIBRARY",
    "REYNOLDS_RANGE",
    "Fact",
    "Flap",
    "FlapEffect",
    "Make",
    "Nose",
    "PanelFlow",
    "Readings",
    "SectionCoefficients",
    "SectionPolar",
    "SectionShape",
    "Step",
    "ThinAerofoil",
    "acting_deflection",
    "fact",
    "flap_effect",
    "glauert_terms",
    "hinge_bias",
    "library_polar",
    "measured_polar",
    "panel_flow",
    "polar_as_known",
    "profile_shape",
    "read_coordinates_text",
    "read_polar_text",
    "section_polar",
    "section_shape",
    "shape_polar",
    "thin_aerofoil",
]
