"""Hand formulas of bodies."""

from __future__ import annotations

from foamwright.air.body import ellipsoid_masses, length_share, munk_factor, rectangle_mass
from foamwright.verify.formulas_kit import formula, gives

FORMULAS = (
    formula(
        "ellipsoid masses",
        "apparent-mass factors of an ellipsoid of revolution",
        "fineness",
        gives("mass along", "k1", lambda given: ellipsoid_masses(given["fineness"])[0]),
        gives("mass across", "k2", lambda given: ellipsoid_masses(given["fineness"])[1]),
        gives("munk factor", "k2 - k1", lambda given: munk_factor(given["fineness"])),
    ),
    formula(
        "rectangle mass",
        "apparent mass of a rectangle moving across its width",
        "aspect",
        gives(
            "mass over circle",
            "over that of the circle on its width; aspect is side along over side across",
            lambda given: rectangle_mass(given["aspect"]),
        ),
    ),
    formula(
        "length share",
        "crosswind drag of a finite cylinder over that of an endless one",
        "fineness",
        gives("share", "of 1.2", lambda given: length_share(given["fineness"])),
    ),
)
