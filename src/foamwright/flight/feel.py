"""What the aeroplane feels in flight: forces and moments of air and propellers together."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from foamwright.air.state import FlightState
from foamwright.flight.common import DENSITY, GRAVITY, Array, Flags
from foamwright.flight.tasks import ALPHA, SPEED, STICK, THRUST, Index, Task
from foamwright.flight.throttle import Push
from foamwright.flight.whole import Aeroplane, disc_arrays
from foamwright.power import SEA_LEVEL, propeller_loads


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Felt:
    """Forces of air and propellers in states, one a row."""

    along: Array  # (B,) N, along the path, forward
    square: Array  # (B,) N, square to it, up
    moment: Array  # (B, 3) N m, right wing down, nose up, nose right
    push_pitch: Array  # (B,) N m, the thrust's own pitching moment
    thrust: Array  # (B,) N
    throttle: Array  # (B,)
    tilt: Array  # (B,) rad, mean of the propellers
    lift: Array
    drag: Array
    scatter: Array  # one sigma of the drag coefficient
    stalled: Array
    thrust_slope: Array  # (B,) N s/m by airspeed, at the same throttle

    def take(self, which: Flags) -> Felt:
        """Only some rows."""
        return Felt(**{one.name: self._of(one.name)[which] for one in fields(self)})

    def with_rows(self, rows: Index, other: Felt) -> Felt:
        """Put newer rows in."""
        values: dict[str, Array] = {}
        for one in fields(self):
            whole = self._of(one.name).copy()
            whole[rows] = other._of(one.name)
            values[one.name] = whole
        return Felt(**values)

    def _of(self, name: str) -> Array:
        values: Array = getattr(self, name)
        return values


def feel(plane: Aeroplane, task: Task, x: Array) -> Felt:
    """Ask the whole model once for all states.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane.
    task : Task
        Says which throttles are held; elsewhere thrust is among the unknowns.
    x : ndarray, (B, 6)
        Alpha [rad], stick [-], thrust over weight [-], path [rad], airspeed [m/s], gain [g].

    Returns
    -------
    Felt
    """
    alpha, stick, v = x[:, ALPHA], x[:, STICK], x[:, SPEED]
    push, slope = _push(plane, task, x)
    off = bool(np.all(push.thrust == 0.0))
    turn = 1.0 / np.cos(task.bank)
    forces = plane.aero.forces(
        FlightState(
            airspeed=v,
            alpha=alpha,
            pitch_rate=GRAVITY / v * (turn - 1.0 / turn),
            controls=plane.controls(stick),
            thrust=None if off else _by_hole(plane, task.hole, _washing(plane, push.thrust, v)),
            torque=0.0 if off else _by_hole(plane, task.hole, push.torque),
        )
    )
    force, moment, pitch, tilt = _propellers(plane, task.hole, push, alpha, v)
    aft, _, up = (forces.force + force).T
    ca, sa = np.cos(alpha), np.sin(alpha)
    area = plane.aero.tensor.reference.area
    return Felt(
        along=-(ca * aft + sa * up),
        square=ca * up - sa * aft,
        moment=forces.moment + moment,
        push_pitch=pitch,
        thrust=push.total,
        throttle=push.throttle,
        tilt=tilt,
        lift=forces.lift,
        drag=forces.drag,
        scatter=np.broadcast_to(forces.table.scatter / area, v.shape),
        stalled=forces.stalled,
        thrust_slope=slope,
    )


def _push(plane: Aeroplane, task: Task, x: Array) -> tuple[Push, Array]:
    """Propellers in the states, and the slope of their thrust by airspeed."""
    count = len(x)
    if plane.thrust is None:
        nothing = np.zeros((count, plane.motors))
        # Without a known propeller thrust is a bare force through the discs' middles.
        total = np.where(np.isnan(task.known[:, THRUST]), x[:, THRUST] * plane.weight, 0.0)
        if plane.motors:
            nothing = np.repeat(total[:, None] / plane.motors, plane.motors, axis=1)
        idle = np.zeros((count, plane.motors))
        return Push(
            thrust=nothing, torque=idle, rotation=idle, throttle=np.zeros(count)
        ), 0.0 * total
    table, v = plane.thrust, x[:, SPEED]
    held = ~np.isnan(task.known[:, THRUST])
    asked = table.at_throttle(np.where(held, task.known[:, THRUST], 0.0), airspeed=v)
    near = table.at_throttle(np.where(held, task.known[:, THRUST], 0.0), airspeed=v + _NEAR)
    slope = np.where(held, (near.total - asked.total) / _NEAR, 0.0)
    if held.all():
        return asked, slope
    wanted = table.for_thrust(x[:, THRUST] * plane.weight, airspeed=v)
    return Push(
        thrust=np.where(held[:, None], asked.thrust, wanted.thrust),
        torque=np.where(held[:, None], asked.torque, wanted.torque),
        rotation=np.where(held[:, None], asked.rotation, wanted.rotation),
        throttle=np.where(held, asked.throttle, wanted.throttle),
    ), slope


_NEAR = 0.05  # m/s over which the thrust's slope is taken


def _washing(plane: Aeroplane, thrust: Array, v: Array) -> Array:
    """Thrust as the wash feels it: a search may stray beyond what momentum theory can say."""
    size = disc_arrays(plane)[2][0]
    least = -_BRAKING * DENSITY * 0.25 * np.pi * size**2 * (v**2)[:, None]
    return np.maximum(thrust, least)


# Of density, disc and airspeed squared; at 0.5 half the speed is taken out at the disc.
_BRAKING = 0.35


def _by_hole(plane: Aeroplane, hole: Index, values: Array) -> Array:
    """Put the propellers' values into the columns of their hole, (B, holes * motors)."""
    if len(plane.holes) == 1:
        return values
    rows = np.zeros((len(values), len(plane.holes), plane.motors))
    rows[np.arange(len(values)), hole] = values
    return rows.reshape(len(values), -1)


def _propellers(
    plane: Aeroplane, hole: Index, push: Push, alpha: Array, v: Array
) -> tuple[Array, Array, Array, Array]:
    """Force, moment, pitching moment of thrust alone [N, N m] and mean tilt [rad], (B, ...)."""
    if not plane.motors:
        nothing = np.zeros((len(v), 3))
        return nothing, nothing, np.zeros(len(v)), np.zeros(len(v))
    centres, ways, _ = disc_arrays(plane)
    place, way = centres[hole], ways[hole]  # (B, M, 3)
    thrust = push.thrust[..., None] * way
    up = np.arctan2(way[..., 2], -way[..., 0])
    right = np.arctan2(way[..., 1], -way[..., 0])
    loads = _edgewise(plane, push, v)
    across = np.zeros_like(thrust)
    across[..., 1] = loads[0] * right
    across[..., 2] = loads[0] * (alpha[:, None] + up)
    couples = np.zeros_like(thrust)
    couples[..., 0] = -push.torque
    couples[..., 2] = loads[1] * (alpha[:, None] + up)
    own = moments_about(place, thrust)
    moment = own + moments_about(place, across) + couples
    return (
        (thrust + across).sum(axis=1),
        moment.sum(axis=1),
        own[..., 1].sum(axis=1),
        up.mean(axis=1),
    )


def _edgewise(plane: Aeroplane, push: Push, v: Array) -> tuple[Array, Array]:
    """Force square to the shaft [N/rad] and yawing couple [N m/rad] of air at an angle, (B, M)."""
    table = plane.thrust
    if table is None:
        return np.zeros_like(push.thrust), np.zeros_like(push.thrust)
    power = plane.airframe.design.power
    motors = {motor.key: motor for motor in power.motors}
    # What stands still is not there; below the lowest throttle it fades away.
    turning = np.minimum(push.throttle / table.throttle[1], 1.0)
    sideways, couple = np.zeros_like(push.thrust), np.zeros_like(push.thrust)
    for number, disc in enumerate(plane.holes[0]):
        name = motors[disc.motor].propeller
        if name is None:
            continue
        turns = np.maximum(push.rotation[:, number], 1.0)
        thrust = push.thrust[:, number]
        loads = propeller_loads(
            power.propeller(name),
            sense=1.0,
            thrust=np.maximum(thrust, 0.0),
            torque=push.torque[:, number],
            rotation=turns,
            # At one airspeed thrust grows about with the square of the speed of turning.
            thrust_slope=np.maximum(thrust, 0.0) / (np.pi * turns),
            airspeed=v,
            air=SEA_LEVEL,
        )
        sideways[:, number] = loads.normal_force * turning
        couple[:, number] = loads.yaw_by_incidence * turning * np.sign(push.torque[:, number])
    return sideways, couple


def moments_about(place: Array, force: Array) -> Array:
    """Moment of forces: right wing down, nose up, nose right. [N m]"""
    x, y, z = np.moveaxis(place, -1, 0)
    aft, right, up = np.moveaxis(force, -1, 0)
    return np.stack([z * right - y * up, z * aft - x * up, y * aft - x * right], axis=-1)


def thrust_arm(plane: Aeroplane, hole: Index) -> Array:
    """Pitching moment over thrust, nose up, mean of the propellers, by state. [m]"""
    if not plane.motors:
        return np.zeros(len(hole))
    centres, ways, _ = disc_arrays(plane)
    return moments_about(centres, ways)[..., 1].mean(axis=1)[hole]
