"""Aeroplanes of textbooks and of our own invention, for the flight room's tests."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal, overload

import numpy as np
from numpy.typing import NDArray

from foamwright.flight.derivatives import Coefficients, Trim, dimensional
from foamwright.flight.linear import LinearAeroplane, Steady, level_trim
from foamwright.flight.modes import (
    Modes,
    lateral_matrix,
    lateral_modes,
    longitudinal_matrix,
    longitudinal_modes,
)
from foamwright.flight.rigidbody import Loads, Motion
from tests.flight_cases import case

Array = NDArray[np.float64]

_NAVION = case("MODE-NAV-LON").inputs
#: Feet, slugs, seconds, as the book has it.
NAVION_TRIM = Trim(
    speed=_NAVION["u0"],
    area=_NAVION["S"],
    chord=_NAVION["c"],
    span=_NAVION["b"],
    density=_NAVION["rho"],
    gravity=_NAVION["g"],
)


def navion_inertia() -> tuple[float, Array]:
    return _NAVION["W"] / _NAVION["g"], np.diag([float(_NAVION[k]) for k in ("Ix", "Iy", "Iz")])


@overload
def navion(*, derivatives: Literal[True]) -> Coefficients: ...
@overload
def navion(*, derivatives: Literal[False] = False) -> Array: ...
def navion(*, derivatives: bool = False) -> Coefficients | Array:
    """The NAVION's longitudinal derivatives, or its matrix, in feet and slugs."""
    k = Coefficients(
        lift=_NAVION["CL"],
        drag=_NAVION["CD"],
        lift_incidence=_NAVION["CLa"],
        drag_incidence=_NAVION["CDa"],
        pitch_incidence=_NAVION["Cma"],
        pitch_lag=_NAVION["Cmadot"],
        pitch_pitch_rate=_NAVION["Cmq"],
    )
    if derivatives:
        return k
    mass, inertia = navion_inertia()
    return longitudinal_matrix(
        dimensional(k, trim=NAVION_TRIM), trim=NAVION_TRIM, mass=mass, inertia=inertia
    )


@dataclass(frozen=True)
class Flown:
    """A linear aeroplane in level flight, with its small motions."""

    aeroplane: LinearAeroplane
    steady: Steady
    coefficients: Coefficients
    trim: Trim
    inertia: Array
    longitudinal_matrix: Array
    lateral_matrix: Array

    @property
    def incidence(self) -> Array:
        return self.steady.incidence

    @property
    def elevator(self) -> Array:
        return self.steady.elevator

    @property
    def thrust(self) -> Array:
        return self.steady.thrust

    @property
    def longitudinal(self) -> Modes:
        return longitudinal_modes(self.longitudinal_matrix)

    @property
    def lateral(self) -> Modes:
        return lateral_modes(self.lateral_matrix)


def flown(
    aeroplane: LinearAeroplane, *, speed: float, span: float, inertia: Array, rates: dict[str, Any]
) -> Flown:
    steady = level_trim(aeroplane, speed=speed)
    k = replace(aeroplane.coefficients(steady.incidence, steady.elevator), **rates)
    trim = Trim(
        speed=speed,
        area=aeroplane.area,
        chord=aeroplane.chord,
        span=span,
        incidence=steady.incidence,
        attitude=steady.incidence,
        density=aeroplane.density,
        gravity=aeroplane.gravity,
    )
    held = {"trim": trim, "mass": aeroplane.mass, "inertia": inertia}
    slopes = dimensional(k, trim=trim)
    return Flown(
        aeroplane=aeroplane,
        steady=steady,
        coefficients=k,
        trim=trim,
        inertia=inertia,
        longitudinal_matrix=longitudinal_matrix(slopes, **held),
        lateral_matrix=lateral_matrix(slopes, **held),
    )


TRAINER_RATES = {
    "lift_pitch_rate": 6.0,
    "pitch_pitch_rate": -12.0,
    "side_slip": -0.35,
    "side_roll_rate": 0.0,
    "side_yaw_rate": 0.0,
    "roll_slip": -0.09,
    "roll_roll_rate": -0.50,
    "roll_yaw_rate": 0.14,
    "yaw_slip": 0.06,
    "yaw_roll_rate": -0.05,
    "yaw_yaw_rate": -0.09,
}


def linear_trainer(*, pitch_slope: float = -0.60, feels: bool = True) -> LinearAeroplane:
    """The invented 1 kg trainer of the THR and MODE cases."""
    return LinearAeroplane(
        mass=1.0,
        area=0.24,
        chord=0.2,
        lift_zero=0.25,
        lift_slope=4.6,
        lift_elevator=0.40,
        drag_zero=0.040,
        drag_lift=0.065,
        pitch_zero=0.05,
        pitch_slope=pitch_slope,
        pitch_elevator=-1.10,
        drag_feels_elevator=feels,
    )


def trainer(*, pitch_slope: float = -0.60, pitch_inertia: float = 0.05, **changes: float) -> Flown:
    """The same at 12 m/s with its rates and sideslip; drag there without the elevator's lift."""
    return flown(
        linear_trainer(pitch_slope=pitch_slope, feels=False),
        speed=12.0,
        span=1.2,
        inertia=np.diag([0.035, pitch_inertia, 0.08]),
        rates=TRAINER_RATES | changes,
    )


def small_uav(p: dict[str, float], *, speed: float) -> Flown:
    """A published set of coefficients; drag without the elevator's lift."""
    aeroplane = LinearAeroplane(
        mass=p["m"],
        area=p["S"],
        chord=p["c"],
        lift_zero=p["CL0"],
        lift_slope=p["CLa"],
        lift_elevator=p["CLd"],
        drag_zero=p["CD0"],
        drag_lift=p["k"],
        pitch_zero=p["Cm0"],
        pitch_slope=p["Cma"],
        pitch_elevator=p["Cmd"],
        drag_feels_elevator=False,
        density=p["rho"],
        gravity=p["g"],
    )
    inertia = np.diag([p["Ix"], p["Iy"], p["Iz"]])
    inertia[0, 2] = inertia[2, 0] = -p["Ixz"]
    rates = {
        "lift_pitch_rate": p["CLq"],
        "pitch_pitch_rate": p["Cmq"],
        "side_slip": p["CYb"],
        "side_roll_rate": p["CYp"],
        "side_yaw_rate": p["CYr"],
        "roll_slip": p["Clb"],
        "roll_roll_rate": p["Clp"],
        "roll_yaw_rate": p["Clr"],
        "yaw_slip": p["Cnb"],
        "yaw_roll_rate": p["Cnp"],
        "yaw_yaw_rate": p["Cnr"],
    }
    return flown(aeroplane, speed=speed, span=p["b"], inertia=inertia, rates=rates)


def trainer_loads(plane: Flown) -> Loads:
    """Force and moment of the trainer's coefficients and its thrust, in any state near trim."""
    a, k, trim = plane.aeroplane, plane.coefficients, plane.trim
    elevator, thrust = plane.elevator, plane.thrust

    def loads(_: float, here: Motion) -> tuple[Array, Array]:
        u, v, w = np.moveaxis(here.velocity, -1, 0)
        fast = np.sqrt(u**2 + v**2 + w**2)
        alpha, beta = np.arctan2(w, u), np.arcsin(v / fast)
        p, q, r = np.moveaxis(here.rates, -1, 0)
        roll, pitch, yaw = p * trim.span, q * trim.chord, r * trim.span
        roll, pitch, yaw = (0.5 * x / fast for x in (roll, pitch, yaw))
        lift = a.lift(alpha, elevator) + k.lift_pitch_rate * pitch
        drag = a.drag(alpha, elevator)
        area = 0.5 * trim.density * fast**2 * trim.area
        side = k.side_slip * beta + k.side_roll_rate * roll + k.side_yaw_rate * yaw
        force = np.stack(
            [
                area * (lift * np.sin(alpha) - drag * np.cos(alpha)) + thrust,
                area * side,
                -area * (lift * np.cos(alpha) + drag * np.sin(alpha)),
            ],
            axis=-1,
        )
        turns = (
            k.roll_slip * beta + k.roll_roll_rate * roll + k.roll_yaw_rate * yaw,
            a.pitch(alpha, elevator) + k.pitch_pitch_rate * pitch,
            k.yaw_slip * beta + k.yaw_roll_rate * roll + k.yaw_yaw_rate * yaw,
        )
        lengths = (trim.span, trim.chord, trim.span)
        moment = [area * length * turn for length, turn in zip(lengths, turns, strict=True)]
        return force, np.stack(moment, axis=-1)

    return loads
