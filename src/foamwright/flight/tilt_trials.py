"""What the full model says at a few settings of the motor mount, asked as seldom as may be."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, Array
from foamwright.flight.feel import Felt, feel, thrust_arm
from foamwright.flight.tasks import ALPHA, PATH, SPEED, STICK, THRUST, Index, join_tasks, task_of
from foamwright.flight.trimming import Trimmed, part, solve, start_from
from foamwright.flight.whole import Aeroplane, disc_arrays

#: Speed of a throw by hand. [m/s] (common practice, no source)
THROW = 7.0
#: Residual at which these trims count as found: some hundredths of a degree of elevator.
TOLERANCE = 3e-4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trims:
    """Trims at the nodes: settings of the mount at which the full model is asked."""

    off: Trimmed  # (V,)
    level: Trimmed  # (N, V)
    full: Trimmed  # (N, V)


def trims_of(plane: Aeroplane, v: Array, nodes: int, *, off: Trimmed) -> Trims:
    """Trim level and at full throttle, at all airspeeds and nodes; power off is known."""
    count = nodes * len(v)
    hole, speed = np.repeat(np.arange(nodes), len(v)), np.tile(v, nodes)
    task = join_tasks(
        task_of(count, airspeed=speed, path=0.0, hole=hole),
        task_of(count, airspeed=speed, path=0.0, throttle=1.0, gain=None, hole=hole),
    )
    start = _powered_start(plane, off, speed, hole)
    found = solve(plane, task, start=start, tolerance=TOLERANCE, is_quick=True)
    shape = (nodes, len(v))
    return Trims(
        off=off,
        level=part(found, slice(0, count), shape),
        full=part(found, slice(count, 2 * count), shape),
    )


def glides_of(plane: Aeroplane, v: Array, *, glide: Trimmed) -> Trimmed:
    """Trim without power at airspeeds, from glides already known."""
    task = task_of(len(v), airspeed=v, throttle=0.0)
    start = start_from(glide, v)
    return solve(plane, task, start=start, tolerance=TOLERANCE, is_quick=True)


def _powered_start(plane: Aeroplane, off: Trimmed, speed: Array, hole: Index) -> Array:
    """Start from the glide, the stick moved against the thrust's own moment, (2B, 6)."""
    start = np.tile(start_from(off, speed), (2, 1))
    if plane.thrust is None:
        return start
    ref, pressure = plane.aero.tensor.reference, 0.5 * DENSITY * speed**2
    level = start[: len(speed), THRUST] * plane.weight
    thrust = np.concatenate([level, plane.thrust.full(speed)])
    power = pressure * ref.area * ref.chord * plane.slopes.pitch_stick
    turn = thrust * np.tile(thrust_arm(plane, hole) / power, 2)
    start[:, STICK] = np.clip(start[:, STICK] - turn, -1.5, 1.5)
    start[:, PATH] = 0.0
    return start


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moments:
    """Moments in states that are not in balance."""

    kicked: Array  # (N, V) N m, nose up, full throttle at the incidence and stick of level flight
    push: Array  # (N, V) N m, nose up, of full thrust alone, and of level flight's
    push_level: Array  # (N, V)
    yaw: Array  # (S, V) N m
    throw: Array  # (N, 3) N m nose up with the elevator against the thrust, at three thrusts
    throw_thrust: Array  # (N, 3) N
    way: Array  # (N,) which way the stick is held


def moments_of(plane: Aeroplane, trims: Trims, v: Array, nodes: int, sides: int) -> Moments:
    """Ask the model once for all moments in states that are not in balance."""
    count, speeds = nodes * len(v), len(v)
    level, full = trims.level, trims.full
    centre, ways, _ = disc_arrays(plane)
    arm = (centre[..., 2] * ways[..., 0] - centre[..., 0] * ways[..., 2]).mean(axis=1)[:nodes]
    way = np.where(arm < 0.0, 1.0, -1.0)
    throttles = np.array([0.0, 0.5, 1.0])
    thrown = nodes * len(throttles)
    rows = [
        # alpha, stick, throttle, airspeed, hole
        _rows(level.alpha, level.wanted, 1.0, v, np.arange(nodes)[:, None]),
        _rows(level.alpha, level.wanted, level.throttle, v, np.arange(nodes)[:, None]),
        _rows(full.alpha[0], full.wanted[0], 1.0, v, nodes + np.arange(sides)[:, None]),
        _rows(float(trims.off.alpha[0]), way[:, None], throttles, THROW, np.arange(nodes)[:, None]),
    ]
    table = np.concatenate(rows)
    table = np.where(np.isfinite(table), table, 0.0)
    felt = _felt(plane, table)
    last = 2 * count + sides * speeds
    return Moments(
        kicked=felt.moment[:count, 1].reshape(nodes, speeds),
        push=felt.push_pitch[:count].reshape(nodes, speeds),
        push_level=felt.push_pitch[count : 2 * count].reshape(nodes, speeds),
        yaw=felt.moment[2 * count : last, 2].reshape(sides, speeds),
        throw=felt.moment[last:, 1].reshape(nodes, len(throttles)),
        throw_thrust=felt.thrust[last : last + thrown].reshape(nodes, len(throttles)),
        way=way,
    )


def _rows(
    alpha: ArrayLike, stick: ArrayLike, throttle: ArrayLike, speed: ArrayLike, hole: ArrayLike
) -> Array:
    columns = np.broadcast_arrays(alpha, stick, throttle, speed, hole)
    return np.stack([np.asarray(c, dtype=np.float64).ravel() for c in columns], axis=-1)


def _felt(plane: Aeroplane, table: Array) -> Felt:
    alpha, stick, throttle, speed, hole = table.T
    task = task_of(
        len(table),
        throttle=throttle,
        airspeed=speed,
        alpha=alpha,
        gain=None,
        hole=hole.astype(np.intp),
    )
    nothing = np.zeros(len(table))
    return feel(plane, task, np.stack([alpha, stick, nothing, nothing, speed, nothing], axis=-1))


def steady_of(plane: Aeroplane, trims: Trims, v: Array, nodes: int) -> tuple[Trimmed, Trimmed]:
    """Steady flight after full throttle and after none, elevator as for level cruise."""
    middle = len(v) // 2
    stick = trims.level.wanted[:, middle]
    hole = np.arange(nodes)
    task = join_tasks(
        task_of(nodes, stick=stick, throttle=1.0, hole=hole),
        task_of(nodes, stick=stick, throttle=0.0, hole=hole),
    )
    start = np.full((2 * nodes, 6), np.nan)
    for row in range(nodes):
        for step, opened in ((0, True), (nodes, False)):
            start[row + step] = _settling(plane, trims.level, row, middle, opened=opened)
    found = solve(plane, task, start=start, tolerance=TOLERANCE, is_quick=True)
    return part(found, slice(0, nodes), (nodes,)), part(found, slice(nodes, 2 * nodes), (nodes,))


def _settling(plane: Aeroplane, level: Trimmed, row: int, place: int, *, opened: bool) -> Array:
    """Guess where it settles with the stick of level flight, by a scan of airspeeds, (6,).

    The linear aeroplane through that level flight: at each airspeed its incidence balances the
    thrust's moment; where it also carries the weight it may settle.
    """
    start = np.full(6, np.nan)
    table, s, ref = plane.thrust, plane.slopes, plane.aero.tensor.reference
    v0, a0, t0 = (float(x[row, place]) for x in (level.airspeed, level.alpha, level.thrust))
    if table is None or not np.isfinite(v0 + a0 + t0):
        return start
    v = np.linspace(0.6 * v0, min(2.2 * v0, table.fastest), 120, dtype=np.float64)
    arm = float(thrust_arm(plane, np.array([row], dtype=np.intp))[0])
    thrust = table.full(v) if opened else np.zeros_like(v)
    pull, pull0 = (0.5 * DENSITY * x**2 * ref.area for x in (v, np.array(v0)))
    turn = (thrust / pull - t0 / pull0) * arm / ref.chord
    alpha = a0 - turn / s.pitch_slope
    lift0, drag0 = float(level.lift[row, place]), float(level.drag[row, place])
    lift = lift0 + s.lift_slope * (alpha - a0)
    drag = drag0 + _BY_LIFT * (lift**2 - lift0**2)
    path = np.arcsin(np.clip((thrust - pull * drag) / plane.weight, -0.95, 0.95))
    spare = pull * lift + thrust * np.sin(alpha) - plane.weight * np.cos(path)
    turns = np.flatnonzero(spare[1:] * spare[:-1] <= 0.0)
    if not turns.size:
        return start
    k = int(turns[np.argmin(np.abs(v[turns] - v0))])
    start[[ALPHA, PATH, SPEED]] = alpha[k], path[k], v[k]
    return start


# Drag coefficient by the square of the lift's, of an ordinary wing, where searches start.
_BY_LIFT = 0.08
