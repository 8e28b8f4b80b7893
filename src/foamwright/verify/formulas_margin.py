"""Hand formulas of neutral point, static margin and pitching moment."""

from __future__ import annotations

from foamwright.air.margins import (
    TailedMoment,
    balance_for_margin,
    neutral_point_by_volume,
    static_margin,
    tail_lift_arm,
    tail_volume,
    tailed_moment,
)
from foamwright.verify.formulas_kit import Inputs, formula, gives, rest, slope, wanted
from foamwright.verify.values import SLOPE


def _tailed(inputs: Inputs) -> TailedMoment:
    return tailed_moment(**rest(inputs, "incidence"))


FORMULAS = (
    formula(
        "tail volume",
        "horizontal tail volume coefficient",
        "area:area chord:length tail_area:area arm:length",
        gives("tail volume", "S_t l / (S c)", lambda given: tail_volume(**given)),
    ),
    formula(
        "neutral point by volume",
        "neutral point from the tail volume",
        "wing_centre volume slope_ratio downwash",
        gives(
            "neutral point",
            "in mean chords",
            lambda given: neutral_point_by_volume(**given),
        ),
    ),
    formula(
        "tail lift arm",
        "neutral point behind the wing's aerodynamic centre, by weighing lift slopes",
        f"area:area lift_slope:{SLOPE} tail_area:area tail_slope:{SLOPE} arm:length "
        "downwash tail_pressure?",
        gives(
            "neutral point behind wing",
            "behind the wing's aerodynamic centre",
            lambda given: tail_lift_arm(**given),
            kind="length",
            unit="mm",
        ),
    ),
    formula(
        "static margin",
        "balance point ahead of the neutral point",
        "x_cg:length x_np:length mac:length",
        gives(
            "static margin",
            "in mean chords; positive is stable",
            lambda given: static_margin(given["x_cg"], **rest(given, "x_cg")),
        ),
    ),
    formula(
        "balance for margin",
        "balance point that gives a static margin",
        "margin x_np:length mac:length",
        gives(
            "balance point x",
            "from the datum of the neutral point",
            lambda given: balance_for_margin(given["margin"], **rest(given, "margin")),
            kind="length",
            unit="mm",
        ),
    ),
    formula(
        "tailed moment",
        "pitching moment of a wing with a tail about the balance point",
        f"wing_moment lift_slope:{SLOPE} tail_slope:{SLOPE} volume balance_behind downwash "
        "tail_setting:angle downwash_at_zero:angle? incidence:angle?",
        gives(
            "moment",
            "at the incidence given",
            lambda given: _tailed(given).at(wanted(given, "incidence")),
        ),
        slope("moment slope", "per incidence", lambda given: _tailed(given).slope),
        gives("moment at zero", "at zero lift of the wing", lambda given: _tailed(given).zero),
        gives(
            "trim incidence",
            "incidence without moment",
            lambda given: _tailed(given).trim_incidence,
            kind="angle",
            unit="deg",
        ),
    ),
)
