"""The whole aeroplane as flight asks it: air, weight, propellers, stick, in one frozen value."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air import AeroModel, control_deflections, derivatives
from foamwright.airframe import Airframe, Disc
from foamwright.airframe.placed import discs as design_discs
from foamwright.balance import Balance
from foamwright.design.model import Power
from foamwright.flight.common import GRAVITY, Array
from foamwright.flight.throttle import ThrustTable


@dataclass(frozen=True, slots=True, kw_only=True)
class Slopes:
    """Coefficients of the linear aeroplane, power off, where trims start; by radian and stick."""

    lift: float  # at no incidence
    lift_slope: float
    lift_stick: float
    pitch: float
    pitch_slope: float
    pitch_stick: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aeroplane:
    """One variant, ready to be trimmed.

    The stick runs from -1 to 1, full throw, nose up positive. Several settings of the motor
    mount can stand side by side: a *hole* is one of them.
    """

    aero: AeroModel  # about the balance point; its discs are those of every hole, one by one
    mass: float  # kg
    point: tuple[float, float, float]  # m, balance point
    point_scatter: tuple[float, float, float]  # m, one sigma
    inertia: Array  # (3, 3) kg m²
    holes: tuple[tuple[Disc, ...], ...]  # the first as drawn
    thrust: ThrustTable | None  # None where no propeller's thrust is known
    stick_back: Array  # (moving parts) rad, at full throw nose up
    stick_forward: Array  # (moving parts) rad, at full throw nose down
    elevator: int | None  # the moving part whose angle is told as elevator
    slopes: Slopes
    largest_lift: float  # CL, power off
    stall_alpha: float  # rad

    @property
    def weight(self) -> float:
        """Weight. [N]"""
        return self.mass * GRAVITY

    @property
    def airframe(self) -> Airframe:
        """Shape."""
        return self.aero.airframe

    @property
    def motors(self) -> int:
        """Propellers of one hole."""
        return len(self.holes[0])

    def controls(self, stick: Array) -> Array:
        """Deflections of all moving parts; the line is drawn on beyond full throw. [rad]"""
        back, forward = np.maximum(stick, 0.0), np.maximum(-stick, 0.0)
        return back[..., None] * self.stick_back + forward[..., None] * self.stick_forward

    def elevator_angle(self, stick: Array) -> Array:
        """Deflection that is told as elevator, trailing edge down positive. [rad]"""
        if self.elevator is None:
            return np.full(np.shape(stick), np.nan)
        return self.controls(stick)[..., self.elevator]


def aeroplane(
    aero: AeroModel,
    balance: Balance,
    *,
    thrust: ThrustTable | None = None,
    largest_lift: float,
    stall_alpha: float,
) -> Aeroplane:
    """Put together what flight needs to know of a variant.

    Parameters
    ----------
    aero : AeroModel
        About any point.
    balance : Balance
        Mass, balance point and inertia. [kg, m, kg m²]
    thrust : ThrustTable, optional
        What its propellers give.
    largest_lift : float
        CL of the stall, power off. [-]
    stall_alpha : float
        Incidence there. [rad]

    Returns
    -------
    Aeroplane
    """
    about = aero.about(balance.point)
    airframe = aero.airframe
    back = control_deflections(airframe, pitch=1.0)
    return Aeroplane(
        aero=about,
        mass=balance.mass,
        point=balance.point,
        point_scatter=balance.point_scatter,
        inertia=balance.inertia,
        holes=(airframe.discs,),
        thrust=thrust,
        stick_back=back,
        stick_forward=control_deflections(airframe, pitch=-1.0),
        elevator=int(np.argmax(np.abs(back))) if np.any(back != 0.0) else None,
        slopes=_slopes(about, back, balance.point[0]),
        largest_lift=largest_lift,
        stall_alpha=stall_alpha,
    )


def _slopes(aero: AeroModel, back: Array, cg: float) -> Slopes:
    found, ref = derivatives(aero.tensor), aero.tensor.reference
    by_stick = found.table[:, 5:] @ back
    return Slopes(
        lift=float(found.values[0]),
        lift_slope=aero.lift_slope,
        lift_stick=float(by_stick[0]),
        pitch=float(found.values[4]),
        pitch_slope=-aero.lift_slope * (aero.neutral_point - cg) / ref.chord,
        pitch_stick=float(by_stick[4]),
    )


def with_tilts(plane: Aeroplane, tilts: tuple[tuple[float, float], ...]) -> Aeroplane:
    """Put settings of the motor mounts side by side, all motors tilted alike.

    Parameters
    ----------
    plane : Aeroplane
        As drawn.
    tilts : tuple of (float, float)
        Thrust up, and to the right, of the forward axis, one pair for each hole. [rad]

    Returns
    -------
    Aeroplane
        The pivots stay where they are; discs move round them.
    """
    power = plane.airframe.design.power
    return with_discs(plane, tuple(design_discs(_tilted(power, up, right)) for up, right in tilts))


def with_discs(plane: Aeroplane, holes: tuple[tuple[Disc, ...], ...]) -> Aeroplane:
    """Put discs side by side as holes. [m]"""
    every = tuple(disc for discs in holes for disc in discs)
    airframe = replace(plane.airframe, discs=every)
    return replace(plane, aero=replace(plane.aero, airframe=airframe), holes=holes)


def _tilted(power: Power, up: float, right: float) -> Power:
    motors = tuple(replace(motor, tilt_up=up, tilt_right=right) for motor in power.motors)
    return replace(power, motors=motors)


def disc_arrays(plane: Aeroplane) -> tuple[Array, Array, Array]:
    """Centres from the balance point, ways of thrust and diameters, (holes, motors, ...). [m]"""
    centre = np.array([[disc.centre for disc in hole] for hole in plane.holes])
    way = np.array([[disc.thrust for disc in hole] for hole in plane.holes])
    size: NDArray[np.float64] = np.array([[d.diameter for d in hole] for hole in plane.holes])
    if not size.size:
        nothing = np.zeros((len(plane.holes), 0, 3))
        return nothing, nothing, size
    return centre - np.array(plane.point), way, size
