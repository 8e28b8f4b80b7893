"""Hand formulas of flight: air, stall, glide, turn, thrust line, simple modes."""

from __future__ import annotations

import numpy as np

from foamwright.flight import (
    Air,
    Polar,
    best_glide,
    density_height,
    geopotential,
    least_sink,
    level_turn,
    pitching_moment,
    stall_speed,
    standard_air,
    thrust_line,
)
from foamwright.flight.dihedral import rudder_roll_rate
from foamwright.flight.modes import phugoid_damping, phugoid_frequency
from foamwright.flight.performance import induced_factor
from foamwright.flight.thrustline import ThrustLine
from foamwright.verify.formulas_kit import Inputs, formula, gives, rest, wanted
from foamwright.verify.model import Array

_SPEED = {"kind": "speed", "unit": "m/s"}


def _air(given: Inputs) -> Air:
    return standard_air(given["height"], warmer=given.get("warmer", np.zeros(1)))


def _polar(given: Inputs) -> Polar:
    return Polar(
        zero_lift_drag=given["zero_lift_drag"],
        lift_drag=given["lift_drag"],
        mass=given["mass"],
        area=given["area"],
        density=given["density"],
    )


def _line(given: Inputs) -> ThrustLine:
    return thrust_line(ahead=given["ahead"], above=given["above"], tilt_up=given["tilt_up"])


def _most_glide(given: Inputs) -> Array:
    factor = induced_factor(given["aspect_ratio"], efficiency=given["efficiency"])
    return 0.5 / np.sqrt(factor * given["zero_lift_drag"])


FORMULAS = (
    formula(
        "standard air",
        "air of the standard atmosphere at a height in its own measure, or warmer by some kelvin",
        "height:length warmer? speed:speed? chord:length?",
        gives("temperature", "of the air", lambda g: _air(g).temperature, unit="K"),
        gives("pressure", "of the air", lambda g: _air(g).pressure, unit="Pa"),
        gives("density", "of the air", lambda g: _air(g).density, unit="kg/m3"),
        gives("sound speed", "of dry air", lambda g: _air(g).sound_speed, **_SPEED),
        gives("viscosity", "dynamic", lambda g: _air(g).viscosity, unit="Pa s"),
        gives("kinematic viscosity", "of air", lambda g: _air(g).kinematic_viscosity, unit="m2/s"),
        gives(
            "density height",
            "where standard air is as thin",
            lambda g: density_height(_air(g).density),
            kind="length",
            unit="m",
        ),
        gives(
            "reynolds number",
            "of a chord at a speed",
            lambda g: _air(g).reynolds(wanted(g, "speed"), chord=wanted(g, "chord")),
        ),
    ),
    formula(
        "geopotential",
        "height in the standard's own measure",
        "height:length",
        gives(
            "height",
            "gravity taken as constant",
            lambda g: geopotential(g["height"]),
            kind="length",
            unit="m",
        ),
    ),
    formula(
        "stall speed",
        "slowest steady speed, also in a level turn; density in kg/m3",
        "mass:mass area:area largest_lift density bank:angle?",
        gives(
            "stall speed",
            "of steady flight",
            lambda g: stall_speed(g["mass"], **rest(g, "mass")),
            **_SPEED,
        ),
    ),
    formula(
        "glide",
        "glide of a parabolic polar; density in kg/m3",
        "zero_lift_drag lift_drag mass:mass area:area density",
        gives("best lift", "of the flattest glide", lambda g: best_glide(_polar(g)).lift),
        gives("best glide", "lift over drag", lambda g: best_glide(_polar(g)).ratio),
        gives("best glide speed", "of that glide", lambda g: best_glide(_polar(g)).speed, **_SPEED),
        gives("least sink lift", "of the least sink", lambda g: least_sink(_polar(g)).lift),
        gives("least sink", "downwards", lambda g: least_sink(_polar(g)).sink, **_SPEED),
        gives("least sink speed", "of that", lambda g: least_sink(_polar(g)).speed, **_SPEED),
    ),
    formula(
        "largest glide ratio",
        "of a parabolic polar by aspect ratio and efficiency",
        "zero_lift_drag aspect_ratio efficiency",
        gives("glide ratio", "lift over drag", _most_glide),
    ),
    formula(
        "level turn",
        "steady level turn",
        "speed:speed bank:angle",
        gives(
            "load factor",
            "lift over weight",
            lambda g: level_turn(g["speed"], bank=g["bank"]).load_factor,
        ),
        gives(
            "radius",
            "of the circle",
            lambda g: level_turn(g["speed"], bank=g["bank"]).radius,
            kind="length",
            unit="m",
        ),
        gives(
            "time round",
            "of a whole circle",
            lambda g: level_turn(g["speed"], bank=g["bank"]).time_round,
            kind="time",
            unit="s",
        ),
    ),
    formula(
        "thrust arm",
        "pitching moment of a thrust, its point from the balance point",
        "ahead:length above:length tilt_up:angle thrust:force",
        gives(
            "moment",
            "nose up positive",
            lambda g: pitching_moment(_line(g), thrust=g["thrust"]),
            unit="N m",
        ),
    ),
    formula(
        "rudder roll",
        "roll rate by dihedral while a rudder holds a sideslip",
        "roll_slip:slope damping sideslip:angle speed:speed span:length",
        gives(
            "roll rate",
            "right wing down, degrees per second",
            lambda g: np.degrees(rudder_roll_rate(g["roll_slip"], **rest(g, "roll_slip"))),
            unit="deg/s",
        ),
    ),
    formula(
        "phugoid",
        "slow pitching oscillation by Lanchester",
        "speed:speed glide_ratio?",
        gives(
            "period",
            "independent of the aeroplane",
            lambda g: 2.0 * np.pi / phugoid_frequency(g["speed"]),
            kind="time",
            unit="s",
        ),
        gives(
            "damping ratio",
            "at constant thrust",
            lambda g: phugoid_damping(wanted(g, "glide_ratio")),
        ),
    ),
)
