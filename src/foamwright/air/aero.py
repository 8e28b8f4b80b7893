"""The aerodynamic model of an airframe: one frozen object, states in, forces out.

Nothing else in the program works out forces of the air.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.aeroplane import lift_tensor
from foamwright.air.body import (
    BodyStrips,
    body_lines,
    body_slopes,
    body_strips,
    neutral_point_shift,
    wing_flow,
)
from foamwright.air.compose import compose_forces
from foamwright.air.drag import DragParts, drag_parts
from foamwright.air.levels import LEAST_HEIGHT, Level, level_about, level_of
from foamwright.air.sections import REYNOLDS_RANGE
from foamwright.air.solve import ControlUnit
from foamwright.air.stall.results import MAX_LIFT_SCATTER, FirstStrip, StallResult
from foamwright.air.stall.sweep import StallCase, first_strip, sweep_stall
from foamwright.air.state import DENSITY, VISCOSITY, AeroForces, FlightState, flat_states
from foamwright.air.tensor import LiftTensor
from foamwright.airframe.model import Airframe
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Heights over span at which the ground is worked out; between them forces are interpolated.
GROUND_HEIGHTS = (0.1, 0.2, 0.4, 0.8)

#: What the model takes for granted, said with it.
NOTES = (
    "steady: every state as if it had lasted for ever",
    (
        "attached flow and the first stall are what it is made for; beyond, and more so beyond "
        "45 degrees, sections stand by themselves and bands are 30 % and more"
    ),
    "a strip in a stream narrower than its chord gains less lift than the model says",
    "bodies feel the wash in their drag only; the ground is felt by lifting surfaces only",
    "hinge moments are inviscid: real controls have 0.5 to 0.8 of them",
    "stated bands: lift slope 5 %, neutral point 3 % of chord, largest lift 10 %, drag 15 %",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Validity:
    """Where the model is made for, and how sure it is there; bands are two sigma."""

    reynolds: tuple[float, float] = REYNOLDS_RANGE  # of every strip; outside the edge is held
    least_height: float = LEAST_HEIGHT  # of span, above ground; below it the edge is held
    attached: float = float(np.radians(45.0))  # rad, local incidence up to which wakes act whole
    lift_slope: float = 0.05  # relative
    neutral_point: float = 0.03  # of the mean chord
    max_lift: float = 2.0 * MAX_LIFT_SCATTER  # relative
    drag: float = 0.15  # relative, of profiles; sheet and stepped sections: the table's bands


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AeroModel:
    """Everything the air does to one airframe, ready for any state of flight."""

    airframe: Airframe
    levels: tuple[Level, ...]  # free air first, then near the ground from high to low
    bodies: tuple[BodyStrips, ...]
    parts: DragParts
    lift_slope: float  # 1/rad, surfaces and bodies, inviscid, power off
    neutral_point: float  # m, x, surfaces and bodies; nan where nothing lifts
    body_shift: float  # m, by which the bodies have moved it; forward is negative
    validity: Validity = Validity()
    notes: tuple[str, ...] = NOTES

    @property
    def tensor(self) -> LiftTensor:
        """The lattice's answer for every attached state, in free air."""
        return self.levels[0].tensor

    @property
    def point(self) -> tuple[float, float, float]:
        """Point of speeds, rates and moments. [m]"""
        return self.tensor.reference.point

    @property
    def units(self) -> tuple[ControlUnit, ...]:
        """Moving parts, in the order of a state's controls."""
        return self.tensor.units

    def about(self, point: tuple[float, float, float]) -> AeroModel:
        """Return the same model about another point, such as the balance point. [m]"""
        return replace(self, levels=tuple(level_about(level, point) for level in self.levels))

    def forces(self, state: FlightState) -> AeroForces:
        """Find the forces and moments of the air.

        Parameters
        ----------
        state : FlightState
            One or many states.

        Returns
        -------
        AeroForces
            Over the states' leading axes.

        Raises
        ------
        DomainError
            Where a state has a height and the model was made without ground.

        Notes
        -----
        Any incidence and sideslip: see the model's notes for where it is true. With sections
        that behave as thin theory says it is the lattice's tensor exactly; who needs no
        sections asks that (:func:`foamwright.air.loads`), some hundred times faster.
        """
        if state.height is not None and len(self.levels) == 1:
            raise DomainError("this model knows no ground: make it with ground=True")
        flat = flat_states(state, units=len(self.units), motors=len(self.airframe.discs))
        return compose_forces(self.airframe, self.levels, self.bodies, self.parts, flat)

    def stall(
        self,
        *,
        airspeed: float,
        density: float = DENSITY,
        viscosity: float = VISCOSITY,
        controls: Array | None = None,
    ) -> StallResult:
        """Sweep the lift through the stall.

        Parameters
        ----------
        airspeed : float
            For the Reynolds numbers. [m/s]
        density : float, optional
            Of the air. [kg/m³]
        viscosity : float, optional
            Dynamic viscosity of the air. [Pa s]
        controls : ndarray, (moving parts,), optional
            Deflections, trailing edge down positive. [rad]

        Returns
        -------
        StallResult
        """
        case = self._case(airspeed, density, viscosity)
        free = self.levels[0]
        return sweep_stall(free.whole, case, mirror=free.half, deflections=controls)

    def stall_at_weight(
        self,
        weight: float,
        *,
        density: float = DENSITY,
        viscosity: float = VISCOSITY,
        controls: Array | None = None,
    ) -> StallResult:
        """Sweep the lift through the stall at the speed at which it carries a weight.

        Parameters
        ----------
        weight : float
            To carry. [N]
        density : float, optional
            Of the air. [kg/m³]
        viscosity : float, optional
            Dynamic viscosity of the air. [Pa s]
        controls : ndarray, (moving parts,), optional
            Deflections, trailing edge down positive. [rad]

        Returns
        -------
        StallResult
            At the speed of the fast estimate, within 5 % of the stalling speed; Reynolds
            number changes largest lift far less than its band over that.
        """
        speed = (2.0 * weight / (density * self.tensor.reference.area)) ** 0.5
        for _ in range(2):
            first = self.first_strip(airspeed=speed, density=density, viscosity=viscosity)
            most = max(first.where.lift, _LEAST_LIFT)
            speed = (2.0 * weight / (density * self.tensor.reference.area * most)) ** 0.5
        return self.stall(airspeed=speed, density=density, viscosity=viscosity, controls=controls)

    def first_strip(
        self, *, airspeed: float, density: float = DENSITY, viscosity: float = VISCOSITY
    ) -> FirstStrip:
        """Estimate the stall fast, controls straight.

        Parameters
        ----------
        airspeed : float
            For the Reynolds numbers. [m/s]
        density : float, optional
            Of the air. [kg/m³]
        viscosity : float, optional
            Dynamic viscosity of the air. [Pa s]

        Returns
        -------
        FirstStrip
        """
        free = self.levels[0]
        case = self._case(airspeed, density, viscosity)
        return first_strip(free.whole if free.half is None else free.half, case)

    def _case(self, airspeed: float, density: float, viscosity: float) -> StallCase:
        if not airspeed > 0.0:
            raise DomainError("a stall is asked for at an airspeed above nought")
        return StallCase(
            area=self.tensor.reference.area,
            wing=self.airframe.reference.surface,
            airspeed=airspeed,
            viscosity=viscosity / density,
        )


# The speed of the fast estimate needs a lift that no wing is below.
_LEAST_LIFT = 0.2


def aero_model(
    airframe: Airframe,
    *,
    point: tuple[float, float, float] | None = None,
    ground: bool = False,
) -> AeroModel:
    """Make the aerodynamic model of an airframe.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    point : tuple of float, optional
        Point of speeds, rates and moments; a quarter of the mean chord where not given. [m]
    ground : bool, optional
        Whether it is to be asked near the ground: that costs four lattices more.

    Returns
    -------
    AeroModel
    """
    free = level_of(airframe, lift_tensor(airframe), height=None)
    span = airframe.reference.span
    near = [
        level_of(airframe, lift_tensor(airframe, height=share * span), height=share * span)
        for share in reversed(GROUND_HEIGHTS)
        if ground
    ]
    tensor = free.tensor
    slope, zero = _wing_line(tensor, airframe.reference.surface)
    flow = wing_flow(airframe, lift_slope=slope, zero_lift_angle=zero)
    bodies = body_strips(body_lines(airframe), flow=flow)
    lift_slope, neutral_point, shift = _whole(tensor, bodies)
    model = AeroModel(
        airframe=airframe,
        levels=(free, *near),
        bodies=bodies,
        parts=drag_parts(airframe),
        lift_slope=lift_slope,
        neutral_point=neutral_point,
        body_shift=shift,
    )
    return model if point is None else model.about(point)


def _wing_line(tensor: LiftTensor, wing: str) -> tuple[float, float]:
    """Lift slope [1/rad] and zero-lift angle [rad] of the main wing among the others."""
    strips = tensor.strips
    mine = strips.surface == strips.keys.index(wing)
    carry = (strips.width * strips.normal[:, 2])[mine]
    zero, slope = 2.0 * (carry @ strips.circulation[mine, :2]) / tensor.reference.area
    return float(slope), -float(zero / slope) if slope > 0.0 else 0.0


def _whole(tensor: LiftTensor, bodies: tuple[BodyStrips, ...]) -> tuple[float, float, float]:
    """Lift slope [1/rad], neutral point and the bodies' shift of it [m], linear, x axis ahead."""
    ref = tensor.reference
    lift, moment = 2.0 * tensor.tensor[[2, 4], 0, 1] * 2.0 / ref.area
    if not lift > 0.0:
        return float(lift), float("nan"), 0.0
    surfaces = ref.point[0] - float(moment / lift)
    slopes = body_slopes(bodies, point=(surfaces, ref.point[1], ref.point[2]))
    shift = neutral_point_shift(slopes, lift_slope=float(lift), area=ref.area)
    return float(lift) + slopes.lift / ref.area, surfaces + shift, shift
