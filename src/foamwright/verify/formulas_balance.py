"""Hand formulas of the balance."""

from __future__ import annotations

from foamwright.balance import ballast_mass, two_scale_point
from foamwright.verify.formulas_kit import formula, gives, one

FORMULAS = (
    formula(
        "ballast",
        "weight that brings the balance point to where it is wanted",
        "mass:mass point:length target:length at:length",
        gives(
            "ballast",
            "to be added there",
            lambda given: ballast_mass(
                one(given, "mass"),
                point=one(given, "point"),
                target=one(given, "target"),
                at=one(given, "at"),
            ),
            kind="mass",
            unit="g",
        ),
    ),
    formula(
        "two scales",
        "balance point from the readings of two scales",
        "front:mass rear:mass front_x:length rear_x:length",
        gives(
            "balance point x",
            "from the datum of the scales",
            lambda given: two_scale_point(
                one(given, "front"),
                one(given, "rear"),
                front_x=one(given, "front_x"),
                rear_x=one(given, "rear_x"),
            ),
            kind="length",
            unit="mm",
        ),
    ),
)
