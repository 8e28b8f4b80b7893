"""Hand formulas of the propeller's wash."""

from __future__ import annotations

import numpy as np

from foamwright.air.wash import induced_velocity, stream_growth, tube_radius
from foamwright.verify.formulas_kit import Inputs, formula, gives
from foamwright.verify.model import Array

_INPUTS = "thrust:force airspeed:speed diameter:length behind:length density"


def _induced(given: Inputs) -> Array:
    area = 0.25 * np.pi * given["diameter"] ** 2
    return induced_velocity(
        given["thrust"], airspeed=given["airspeed"], area=area, density=given["density"]
    )


def _speed(given: Inputs) -> Array:
    growth = stream_growth(given["behind"], radius=0.5 * given["diameter"])
    return given["airspeed"] + _induced(given) * growth


def _radius(given: Inputs) -> Array:
    return tube_radius(
        given["behind"],
        radius=0.5 * given["diameter"],
        airspeed=given["airspeed"],
        induced=_induced(given),
    )


FORMULAS = (
    formula(
        "slipstream",
        "air behind a propeller taken as a disc; density in kg/m3",
        _INPUTS,
        gives("induced velocity", "added at the disc", _induced, kind="speed", unit="m/s"),
        gives("stream speed", "at the place behind", _speed, kind="speed", unit="m/s"),
        gives("stream radius", "at the place behind", _radius, kind="length", unit="mm"),
    ),
)
