"""Hand formulas of sections: plain flap, friction, base drag, plate beyond the stall."""

from __future__ import annotations

from foamwright.air.sections import flap_effect
from foamwright.air.sections.deep import plate_normal_force
from foamwright.air.sections.drag import base_drag
from foamwright.verify.formulas_kit import formula, gives, one, slope

FORMULAS = (
    formula(
        "plain flap",
        "plain flap on a thin section: lift, moment and hinge moment, trailing edge down",
        "flap",
        gives("flap effectiveness", "tau", lambda given: flap_effect(given["flap"]).tau),
        slope(
            "lift by deflection",
            "at constant incidence",
            lambda given: flap_effect(given["flap"]).cl_delta,
        ),
        slope(
            "moment by deflection",
            "about the quarter chord",
            lambda given: flap_effect(given["flap"]).cm_delta,
        ),
        slope(
            "hinge moment by incidence",
            "on the flap's chord squared",
            lambda given: flap_effect(given["flap"]).ch_alpha,
        ),
        slope(
            "hinge moment by deflection",
            "on the flap's chord squared, at constant incidence",
            lambda given: flap_effect(given["flap"]).ch_delta,
        ),
    ),
    formula(
        "base drag",
        "drag of a blunt tail or a step",
        "height forebody",
        gives(
            "drag",
            "on chord; height over chord, forebody drag on chord",
            lambda given: base_drag(one(given, "height"), forebody=given["forebody"]),
        ),
    ),
    formula(
        "plate normal force",
        "force square to a plate of endless span beyond the stall",
        "incidence:angle",
        gives("normal force", "coefficient", lambda given: plate_normal_force(given["incidence"])),
    ),
)
