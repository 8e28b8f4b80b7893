"""How the aeroplane flies and what the air does to it: arrays of states in, forces out."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.drag import DragTable
from foamwright.errors import DomainError

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Standard atmosphere at sea level: density [kg/m³] and dynamic viscosity [Pa s] (US Standard
#: Atmosphere, 1976).
DENSITY = 1.225
VISCOSITY = 1.7894e-5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlightState:
    """One or many states of flight; every field broadcasts over leading axes."""

    airspeed: ArrayLike  # m/s, true, of the model's point
    alpha: ArrayLike = 0.0  # rad, incidence of the x axis
    beta: ArrayLike = 0.0  # rad, sideslip, positive with the wind from the right
    roll_rate: ArrayLike = 0.0  # rad/s, right wing down
    pitch_rate: ArrayLike = 0.0  # rad/s, nose up
    yaw_rate: ArrayLike = 0.0  # rad/s, nose right
    controls: ArrayLike | None = None  # (..., moving parts) rad, trailing edge down
    thrust: ArrayLike | None = None  # (..., propellers) N; None: power off
    torque: ArrayLike = 0.0  # (..., propellers) N m on the air, clockwise seen from behind
    density: ArrayLike = DENSITY  # kg/m³
    viscosity: ArrayLike = VISCOSITY  # Pa s
    height: ArrayLike | None = None  # m, of the model's point above level ground


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AeroForces:
    """Forces of the air in states of flight, over their leading axes.

    Axes of the design: force aft, right, up; moment right wing down, nose up, nose right,
    about the model's point. Thrust itself is not in them; its wash is.
    """

    force: Array  # (..., 3) N
    moment: Array  # (..., 3) N m
    lift: Array  # CL, square to the wind in the plane of symmetry
    drag: Array  # CD, along the wind
    side: Array  # CY, to the right, square to both
    roll: Array  # Cl about the stability axes (x along the wind seen from the side)
    pitch: Array  # Cm
    yaw: Array  # Cn about the stability axes
    table: DragTable  # drag areas by part [m²], on the dynamic pressure of flight
    hinge: Array  # (..., moving parts) N m, pushing the trailing edge down positive
    stalled: Array  # (...) share of the main wing's area beyond its section's stall
    converged: Flags  # (...) the strips' equations are solved
    within: Flags  # (...) every strip's Reynolds number is inside the tables, height too


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlatStates:
    """States broadcast against each other and laid out in one row."""

    shape: tuple[int, ...]
    airspeed: Array  # (B,)
    alpha: Array
    beta: Array
    rates: Array  # (B, 3) roll, pitch, yaw
    controls: Array  # (B, U)
    thrust: Array | None  # (B, M)
    torque: Array  # (B, M)
    density: Array
    viscosity: Array
    height: Array | None  # (B,)

    @property
    def count(self) -> int:
        """How many states."""
        return len(self.airspeed)

    def take(self, which: NDArray[np.intp]) -> FlatStates:
        """Only some of the states."""
        return FlatStates(
            shape=(len(which),),
            airspeed=self.airspeed[which],
            alpha=self.alpha[which],
            beta=self.beta[which],
            rates=self.rates[which],
            controls=self.controls[which],
            thrust=None if self.thrust is None else self.thrust[which],
            torque=self.torque[which],
            density=self.density[which],
            viscosity=self.viscosity[which],
            height=None if self.height is None else self.height[which],
        )


def flat_states(state: FlightState, *, units: int, motors: int) -> FlatStates:
    """Broadcast a state's fields and lay the states out in one row.

    Parameters
    ----------
    state : FlightState
        One or many states.
    units, motors : int
        Moving parts and propellers of the model.

    Returns
    -------
    FlatStates

    Raises
    ------
    DomainError
        Where a field has the wrong number of moving parts or propellers, or an airspeed is
        not above nought.
    """
    plain = [
        np.asarray(value, dtype=np.float64)
        for value in (
            state.airspeed,
            state.alpha,
            state.beta,
            state.roll_rate,
            state.pitch_rate,
            state.yaw_rate,
            state.density,
            state.viscosity,
            0.0 if state.height is None else state.height,
        )
    ]
    controls = _rows(state.controls, units, "deflections are needed, one for each moving part")
    thrust = _rows(state.thrust, motors, "thrusts are needed, one for each propeller")
    torque = np.asarray(state.torque, dtype=np.float64)
    torque = torque if torque.ndim else np.full(motors, float(torque))
    shape = np.broadcast_shapes(
        *(value.shape for value in plain), controls.shape[:-1], thrust.shape[:-1], torque.shape[:-1]
    )
    v, alpha, beta, p, q, r, rho, mu, height = (
        np.broadcast_to(value, shape).ravel() for value in plain
    )
    if not np.all(v > 0.0):
        raise DomainError("the airspeed must be above nought; at rest only thrust acts")
    return FlatStates(
        shape=shape,
        airspeed=v,
        alpha=alpha,
        beta=beta,
        rates=np.stack([p, q, r], axis=-1),
        controls=_flat(controls, shape, units),
        thrust=None if state.thrust is None else _flat(thrust, shape, motors),
        torque=_flat(torque, shape, motors),
        density=rho,
        viscosity=mu,
        height=None if state.height is None else height,
    )


def _rows(values: ArrayLike | None, count: int, text: str) -> Array:
    rows = np.zeros(count) if values is None else np.asarray(values, dtype=np.float64)
    if rows.shape[-1:] != (count,):
        raise DomainError(f"{count} {text}")
    return rows


def _flat(values: Array, shape: tuple[int, ...], count: int) -> Array:
    return np.broadcast_to(values, (*shape, count)).reshape(math.prod(shape), count)
