"""Hand formulas of wings: lift slope, downwash, rolling."""

from __future__ import annotations

from foamwright.air.handbook import (
    datcom_downwash,
    elliptic_line_slope,
    far_downwash,
    helmbold_slope,
    horseshoe_downwash,
)
from foamwright.air.rolling import strip_dihedral_roll, strip_roll_damping
from foamwright.verify.formulas_kit import formula, gives, rest, slope
from foamwright.verify.values import SLOPE

FORMULAS = (
    formula(
        "helmbold slope",
        "lift slope of a straight wing by Helmbold's formula",
        f"aspect_ratio section_slope:{SLOPE}?",
        slope(
            "lift slope",
            "of the wing",
            lambda given: helmbold_slope(given["aspect_ratio"], **rest(given, "aspect_ratio")),
        ),
    ),
    formula(
        "elliptic line slope",
        "lift slope of an elliptic wing by the lifting line",
        f"aspect_ratio section_slope:{SLOPE}?",
        slope(
            "lift slope",
            "of the wing",
            lambda given: elliptic_line_slope(given["aspect_ratio"], **rest(given, "aspect_ratio")),
        ),
    ),
    formula(
        "far downwash",
        "downwash slope far behind an elliptic wing",
        f"lift_slope:{SLOPE} aspect_ratio",
        gives(
            "downwash slope",
            "far behind",
            lambda given: far_downwash(given["lift_slope"], **rest(given, "lift_slope")),
        ),
    ),
    formula(
        "datcom downwash",
        "downwash slope at a tail, by the handbook's fit to measurements",
        "aspect_ratio taper sweep:angle length:length height:length span:length",
        gives("downwash slope", "at the tail", lambda given: datcom_downwash(**given)),
    ),
    formula(
        "horseshoe downwash",
        "downwash slope behind a wing taken as one horseshoe vortex",
        f"lift_slope:{SLOPE} aspect_ratio length:length span:length",
        gives(
            "downwash slope",
            "at the tail",
            lambda given: horseshoe_downwash(given["lift_slope"], **rest(given, "lift_slope")),
        ),
    ),
    formula(
        "strip dihedral roll",
        "rolling moment of a plain dihedral in sideslip, by strips",
        f"lift_slope:{SLOPE} dihedral:angle taper",
        slope(
            "roll by sideslip",
            "negative is stable",
            lambda given: strip_dihedral_roll(given["lift_slope"], **rest(given, "lift_slope")),
        ),
    ),
    formula(
        "strip roll damping",
        "rolling moment by roll rate, by strips",
        f"lift_slope:{SLOPE} taper",
        gives(
            "roll by roll rate",
            "per p b / 2V; negative damps",
            lambda given: strip_roll_damping(given["lift_slope"], **rest(given, "lift_slope")),
        ),
    ),
)
