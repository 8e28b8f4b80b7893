"""Lift and drag at the speeds at which an aeroplane carries its weight."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.aero import AeroModel
from foamwright.air.drag import DragTable
from foamwright.air.state import DENSITY, VISCOSITY, AeroForces, FlightState
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Lift coefficient of the cruise that is looked at: near best glide of small models, and well
#: off the stall. Our choice, no source.
CRUISE_LIFT = 0.5
#: What the drag leaves out.
LEFT_OUT = (
    "the tail's load for balance and its drag: controls are straight",
    "stopped or windmilling propellers",
    "through-flow for cooling, control horns, screws, tape edges, surface roughness",
)
# Incidences looked at, from well below no lift; the last is beyond the first stall. [rad]
_INCIDENCES: Array = np.radians(np.arange(-8.0, 17.0, 2.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Carrying:
    """Lift against drag in level flight at a weight, controls straight, power off, untrimmed.

    Untrimmed: what the tail must carry to balance is not in it; that is the flight room's.
    """

    weight: float  # N
    alpha: Array  # (A,) rad, incidences with positive lift up to the first stall
    airspeed: Array  # (A,) m/s, that carries the weight at that lift
    lift: Array  # (A,) CL
    drag: Array  # (A,) CD
    zero_lift_drag: float  # CD where nothing lifts, at cruising speed; nan where it never does
    cruise_lift: float  # CL
    cruise_alpha: float  # rad
    cruise_speed: float  # m/s
    cruise: DragTable  # by part at cruise
    leaves_out: tuple[str, ...]  # what that drag does not count
    best_ratio: float  # largest CL/CD
    best_scatter: float  # one sigma, from the drag's
    best_lift: float  # CL there
    best_speed: float  # m/s


def carrying(
    model: AeroModel, weight: float, *, density: float = DENSITY, viscosity: float = VISCOSITY
) -> Carrying:
    """Find lift against drag at the speeds that carry a weight.

    Parameters
    ----------
    model : AeroModel
        The aeroplane.
    weight : float
        To carry. [N]
    density : float, optional
        Of the air. [kg/m³]
    viscosity : float, optional
        Dynamic viscosity of the air. [Pa s]

    Returns
    -------
    Carrying

    Raises
    ------
    DomainError
        Where it cannot lift at all.

    Notes
    -----
    Drag is that of :meth:`AeroModel.forces`: sections, lift, and every part in the wind.
    """
    if not weight > 0.0:
        raise DomainError("a weight above nought is needed")
    load = 2.0 * weight / (density * model.tensor.reference.area)
    cruise_speed = float(np.sqrt(load / CRUISE_LIFT))
    alpha = _INCIDENCES

    def at(incidence: Array, speed: Array | float) -> AeroForces:
        return model.forces(
            FlightState(airspeed=speed, alpha=incidence, density=density, viscosity=viscosity)
        )

    first = at(alpha, cruise_speed)
    climbs = _climbing(first.lift)
    if not first.lift[climbs][-1] > _LITTLE:
        raise DomainError("this aeroplane does not lift with its nose up")
    zero_drag = _zero_lift_drag(first, climbs)
    cruise_lift = min(CRUISE_LIFT, float(first.lift[climbs][-1]))
    cruise_alpha = float(np.interp(cruise_lift, first.lift[climbs], alpha[climbs]))
    cruise_speed = float(np.sqrt(load / cruise_lift))
    lifting = alpha[climbs][first.lift[climbs] > _LITTLE]
    speed = np.sqrt(load / first.lift[climbs][first.lift[climbs] > _LITTLE])
    found = at(np.append(lifting, cruise_alpha), np.append(speed, cruise_speed))
    ratio = found.lift / found.drag
    best = int(np.argmax(ratio[:-1]))
    scatter = found.table.scatter / found.table.total
    return Carrying(
        weight=weight,
        alpha=lifting,
        airspeed=np.sqrt(load / np.maximum(found.lift[:-1], 0.5 * _LITTLE)),
        lift=found.lift[:-1],
        drag=found.drag[:-1],
        zero_lift_drag=zero_drag,
        cruise_lift=float(found.lift[-1]),
        cruise_alpha=cruise_alpha,
        cruise_speed=cruise_speed,
        cruise=_one_state(found.table, -1),
        leaves_out=LEFT_OUT,
        best_ratio=float(ratio[best]),
        best_scatter=float(ratio[best] * scatter[best]),
        best_lift=float(found.lift[best]),
        best_speed=float(np.sqrt(load / found.lift[best])),
    )


def _one_state(table: DragTable, state: int) -> DragTable:
    return replace(
        table,
        rows=tuple(replace(row, area=row.area[..., state]) for row in table.rows),
        areas=table.areas[state],
    )


# Lift below which a speed that carries the weight is not looked for.
_LITTLE = 0.1


def _climbing(lift: Array) -> NDArray[np.intp]:
    """Places about no lift over which lift rises with incidence without a break."""
    rises = np.diff(lift) > 0.0
    middle = int(np.argmin(np.abs(lift)))
    last = middle
    while last < len(lift) - 1 and rises[last]:
        last += 1
    start = middle
    while start > 0 and rises[start - 1]:
        start -= 1
    return np.arange(start, last + 1)


def _zero_lift_drag(forces: AeroForces, climbs: NDArray[np.intp]) -> float:
    lift, drag = forces.lift[climbs], forces.drag[climbs]
    if not lift[0] < 0.0 < lift[-1]:
        return float("nan")
    return float(np.interp(0.0, lift, drag))
