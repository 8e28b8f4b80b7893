"""Hand formulas of drag: friction, blunt shapes, rods."""

from __future__ import annotations

from foamwright.air.body import Form, length_share, section_drag
from foamwright.air.drag import laminar_friction, turbulent_friction
from foamwright.air.drag.shapes import block_drag, cylinder_drag
from foamwright.verify.formulas_kit import formula, gives

FORMULAS = (
    formula(
        "plate friction",
        "skin friction of a flat plate, one side, mean over its length",
        "reynolds",
        gives("laminar", "all laminar", lambda given: laminar_friction(given["reynolds"])),
        gives(
            "turbulent",
            "turbulent from its front edge",
            lambda given: turbulent_friction(given["reynolds"]),
        ),
    ),
    formula(
        "block end-on",
        "drag of a plate, block or cylinder with its flat end to the wind",
        "fineness",
        gives(
            "drag",
            "on the front; fineness is length over diameter",
            lambda given: block_drag(given["fineness"]),
        ),
    ),
    formula(
        "cylinder crosswise",
        "drag of a circular cylinder of some length across the wind, below Re 2e5",
        "fineness",
        gives(
            "drag",
            "on diameter times length; fineness is length over diameter",
            lambda given: (
                section_drag(Form.ROUND, along=1.0, across=1.0) * length_share(given["fineness"])
            ),
        ),
    ),
    formula(
        "wire",
        "drag of an endless wire across the wind",
        "reynolds",
        gives(
            "drag",
            "on diameter times length; Reynolds number of the diameter",
            lambda given: cylinder_drag(given["reynolds"]),
        ),
    ),
)
