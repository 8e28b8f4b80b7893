"""Hand formulas of the power room: disc, motor, controller, leads, pack."""

from __future__ import annotations

import math

import numpy as np

from foamwright.power import ideal_disc, motor_point, pitch_speed
from foamwright.power.controller import chopper, wire_diameter, wire_resistance
from foamwright.power.disc import IdealDisc
from foamwright.power.flying import minutes_at_power, watt_hours
from foamwright.power.motor import MotorModel, MotorPoint, best_current, guessed_constants
from foamwright.power.pack import (
    cell_volts,
    cell_volts_measured,
    resistance_from_step,
    resistance_shape,
    temperature_factor,
)
from foamwright.verify.formulas_kit import Inputs, formula, gives, one
from foamwright.verify.model import Array

_RPM = 30.0 / math.pi


def _disc(given: Inputs) -> IdealDisc:
    return ideal_disc(
        given["thrust"],
        diameter=given["diameter"],
        airspeed=given["airspeed"],
        density=given["density"],
    )


def _motor(given: Inputs) -> MotorModel:
    return MotorModel(
        speed_constant=one(given, "speed_constant"),
        resistance=one(given, "resistance"),
        idle_current=one(given, "idle_current"),
    )


def _point(given: Inputs) -> MotorPoint:
    return motor_point(_motor(given), volts=given["volts"], amps=given["amps"])


def _chopped(given: Inputs, part: int) -> Array:
    return chopper(given["duty"], pack_volts=given["volts"], motor_amps=given["amps"])[part]


def _wire_drop(given: Inputs) -> Array:
    ohms = wire_resistance(
        one(given, "gauge"), length=one(given, "length"), temperature=one(given, "celsius")
    )
    return given["amps"] * ohms


def _stepped(given: Inputs) -> float:
    volts, amps = given["volts"].tolist(), given["amps"].tolist()
    return resistance_from_step(volts=(volts[0], volts[-1]), amps=(amps[0], amps[-1]))


def _minutes(given: Inputs) -> float:
    return 60.0 * minutes_at_power(
        cells=round(one(given, "cells")),
        capacity=one(given, "capacity"),
        power=one(given, "power"),
    )


FORMULAS = (
    formula(
        "ideal disc",
        "least that a disc must spend for its thrust; density in kg/m3",
        "thrust:force diameter:length airspeed:speed density",
        gives(
            "induced velocity", "at the disc", lambda g: _disc(g).induced, kind="speed", unit="m/s"
        ),
        gives("ideal power", "in the air", lambda g: _disc(g).power, kind="power", unit="W"),
        gives("ideal efficiency", "thrust power over it", lambda g: _disc(g).efficiency),
        gives("wake speed", "far behind", lambda g: _disc(g).wake, kind="speed", unit="m/s"),
    ),
    formula(
        "motor",
        "motor of three constants at its volts and amps",
        "speed_constant:speed-constant resistance:resistance idle_current:current "
        "volts:voltage amps:current",
        gives("rotation", "revolutions per minute", lambda g: _point(g).speed * _RPM, unit="rpm"),
        gives("torque", "at the shaft", lambda g: _point(g).torque, unit="N m"),
        gives(
            "shaft power", "at the shaft", lambda g: _point(g).shaft_power, kind="power", unit="W"
        ),
        gives("efficiency", "shaft over input", lambda g: _point(g).efficiency),
        gives(
            "best current",
            "of best efficiency",
            lambda g: best_current(_motor(g), volts=one(g, "volts"))[0],
            kind="current",
            unit="A",
        ),
        gives(
            "best efficiency",
            "at the best current",
            lambda g: best_current(_motor(g), volts=one(g, "volts"))[1],
        ),
    ),
    formula(
        "motor guess",
        "resistance and idle current guessed from the speed constant",
        "speed_constant:speed-constant",
        gives(
            "resistance",
            "of the winding",
            lambda g: guessed_constants(one(g, "speed_constant"))[0],
            kind="resistance",
            unit="ohm",
        ),
        gives(
            "idle current",
            "without load",
            lambda g: guessed_constants(one(g, "speed_constant"))[1],
            kind="current",
            unit="A",
        ),
    ),
    formula(
        "controller",
        "ideal controller at part throttle",
        "duty volts:voltage amps:current",
        gives("motor volts", "mean", lambda g: _chopped(g, 0), kind="voltage", unit="V"),
        gives("pack current", "mean", lambda g: _chopped(g, 1), kind="current", unit="A"),
    ),
    formula(
        "copper wire",
        "copper wire by its American gauge; length of both leads together",
        "gauge length:length amps:current celsius",
        gives(
            "wire diameter",
            "of the copper",
            lambda g: wire_diameter(one(g, "gauge")),
            kind="length",
            unit="mm",
        ),
        gives("lost volts", "along it", _wire_drop, kind="voltage", unit="V"),
    ),
    formula(
        "cell",
        "resting volts and resistance of a cell by its charge",
        "charge",
        gives(
            "resting volts",
            "of one measured cell",
            lambda g: cell_volts_measured(g["charge"]),
            kind="voltage",
            unit="V",
        ),
        gives(
            "chart volts",
            "by the chart of the trade",
            lambda g: cell_volts(g["charge"]),
            kind="voltage",
            unit="V",
        ),
        gives("rise of resistance", "over that at full", lambda g: resistance_shape(g["charge"])),
    ),
    formula(
        "cold cell",
        "resistance of a cell by its temperature",
        "celsius",
        gives("factor", "over that at 25 degrees", lambda g: temperature_factor(g["celsius"])),
    ),
    formula(
        "resistance by step",
        "resistance of a pack from its volts at two currents",
        "volts:voltage amps:current",
        gives("resistance", "of the pack", _stepped, kind="resistance", unit="ohm"),
    ),
    formula(
        "pack energy",
        "nominal energy of a pack, and how long four fifths of it last",
        "cells capacity:charge power:power",
        gives(
            "energy",
            "nominal",
            lambda g: watt_hours(cells=round(one(g, "cells")), capacity=one(g, "capacity")),
            unit="Wh",
        ),
        gives("time", "at that power", _minutes, kind="time", unit="min"),
    ),
    formula(
        "pitch speed",
        "advance of a propeller that does not slip; rotation in revolutions per minute",
        "pitch:length rotation",
        gives(
            "speed",
            "along its axis",
            lambda g: pitch_speed(g["pitch"], rotation=np.asarray(g["rotation"]) / 60.0),
            kind="speed",
            unit="m/s",
        ),
    ),
)
