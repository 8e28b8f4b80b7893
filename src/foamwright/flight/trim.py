"""Steady flight of the whole aeroplane: air, thrust, wash and weight in balance.

Of airspeed, incidence, stick, throttle and climb path any two say how it is flown; the other
three come out. Elevator angles have their trailing edge down positive.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.state import FlightState
from foamwright.errors import DomainError
from foamwright.flight.aeroplane import Aeroplane, disc_arrays
from foamwright.flight.common import GRAVITY, Array, Flags, as_array, only_where
from foamwright.flight.throttle import Push, ThrustTable
from foamwright.power.moments import propeller_loads
from foamwright.power.match import SEA_LEVEL

Index = NDArray[np.intp]

#: Forces over weight, and moment over weight times chord, that are left when a trim counts as
#: found: far below any band.
TOLERANCE = 5e-7
#: Evaluations after which a state is given up; most take 4 to 7.
STEPS = 24
# The five unknowns in their order, and the longest step of each: rad, stick, weights, rad, share.
_ALPHA, _STICK, _THRUST, _PATH, _SPEED = range(5)
_LONGEST: Array = np.array([0.08, 0.5, 0.3, 0.3, 0.2])


class Reason(IntEnum):
    """Why there is a trim, or none."""

    TRIMMED = 0
    STALLED = 1  # too slow: the wing does not carry the weight
    ELEVATOR = 2  # the control has not enough throw
    POWER = 3  # full throttle does not give the thrust
    NO_STICK = 4  # nothing moves the nose up and down
    NOT_FOUND = 5  # the search did not settle

    @property
    def says(self) -> str:
        """In words."""
        return _WORDS[self]


_WORDS = {
    Reason.TRIMMED: "trimmed",
    Reason.STALLED: "too slow: the wing stalls first",
    Reason.ELEVATOR: "the elevator has not enough throw",
    Reason.POWER: "full throttle is not enough",
    Reason.NO_STICK: "no control moves the nose up and down",
    Reason.NOT_FOUND: "no balance found",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trimmed:
    """Steady flight in many states, over their leading axes; nan where there is none."""

    airspeed: Array  # m/s
    alpha: Array  # rad
    elevator: Array  # rad, trailing edge down
    stick: Array  # share of the throw, nose up
    wanted: Array  # stick that would be needed, known also beyond the throw
    thrust: Array  # N, all propellers
    throttle: Array  # share of full
    path: Array  # rad, of climb
    lift: Array  # CL of the air, wash included
    drag: Array  # CD of the air
    drag_scatter: Array  # one sigma
    roll: Array  # N m right wing down that ailerons must still oppose, no sideslip
    yaw: Array  # N m nose right that rudder must still oppose
    residual: Array  # what is left, over weight and chord
    reason: NDArray[np.int64]  # of Reason
    evaluations: int  # times the whole model was asked

    @property
    def is_trimmed(self) -> Flags:
        """Whether there is steady flight within throw and power."""
        return self.reason == Reason.TRIMMED

    @property
    def climb(self) -> Array:
        """Rate of climb. [m/s]"""
        return self.airspeed * np.sin(self.path)


def trim(
    plane: Aeroplane,
    *,
    airspeed: ArrayLike | None = None,
    alpha: ArrayLike | None = None,
    stick: ArrayLike | None = None,
    throttle: ArrayLike | None = None,
    path: ArrayLike | None = None,
    bank: ArrayLike = 0.0,
    hole: ArrayLike = 0,
) -> Trimmed:
    r"""Steady flight: forces and pitching moment in balance.

    .. math:: N\cos\phi = W\cos\gamma, \quad X = W\sin\gamma, \quad M = 0

    with N and X the forces of air and propellers square to and along the path.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane.
    airspeed : array_like, optional
        True. [m/s]
    alpha : array_like, optional
        Incidence of the x axis. [rad]
    stick : array_like, optional
        Share of the throw, nose up. [-]
    throttle : array_like, optional
        Share of full; 0 is power off: no thrust, and no drag of the propeller. [-]
    path : array_like, optional
        Of climb; 0 is level flight. [rad]
    bank : array_like, optional
        Of a steady turn. [rad]
    hole : array_like of int, optional
        Setting of the motor mount. [-]

    Returns
    -------
    Trimmed
        Exactly two of the five are given, the others found.

    Notes
    -----
    No sideslip: what turns and rolls it besides is told, not balanced. In a turn the pitch rate
    counts, the yaw rate does not. Quasi-steady; pack half flown. The search starts from the
    linear aeroplane and goes on by Broyden's method on the full forces, so that stall, sections
    and wash count.

    References
    ----------
    .. [1] C. G. Broyden, Math. Comp. 19 (1965), 577 (method, from memory).
    """
    given = {
        _ALPHA: alpha,
        _STICK: stick,
        _THRUST: throttle,
        _PATH: path,
        _SPEED: airspeed,
    }
    known = {key: as_array(value) for key, value in given.items() if value is not None}
    if len(known) != 2:
        raise DomainError("give two of airspeed, alpha, stick, throttle and path, no more, no less")
    turn, which = as_array(bank), np.asarray(hole, dtype=np.intp)
    shape = np.broadcast_shapes(*(v.shape for v in known.values()), turn.shape, which.shape)
    flat = {key: np.broadcast_to(value, shape).ravel() for key, value in known.items()}
    count = int(np.prod(shape, dtype=np.intp))
    free = np.array([key for key in given if key not in known], dtype=np.intp)
    task = Task(
        known=np.stack([flat.get(k, np.full(count, np.nan)) for k in range(5)], axis=-1),
        free=np.broadcast_to(free, (count, 3)),
        bank=np.broadcast_to(turn, shape).ravel(),
        hole=np.broadcast_to(which, shape).ravel(),
    )
    return shaped(solve(plane, task), shape)


# ---------------------------------------------------------------- many different tasks at once


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Task:
    """States to trim, one a row, each with its own two givens."""

    known: Array  # (B, 5) alpha, stick, throttle, path, airspeed; nan where free
    free: Index  # (B, 3) numbers of the free ones; thrust stands for throttle
    bank: Array  # (B,) rad
    hole: Index  # (B,)

    def take(self, rows: Index) -> Task:
        """Only some of the states."""
        return Task(
            known=self.known[rows],
            free=self.free[rows],
            bank=self.bank[rows],
            hole=self.hole[rows],
        )


def task_of(
    count: int,
    *,
    alpha: ArrayLike | None = None,
    stick: ArrayLike | None = None,
    throttle: ArrayLike | None = None,
    path: ArrayLike | None = None,
    airspeed: ArrayLike | None = None,
    hole: ArrayLike = 0,
) -> Task:
    """States with the same two givens, to be joined with others by :func:`join_tasks`."""
    given = (alpha, stick, throttle, path, airspeed)
    columns = [
        np.full(count, np.nan) if value is None else np.broadcast_to(as_array(value), count)
        for value in given
    ]
    free = np.array([k for k, value in enumerate(given) if value is None], dtype=np.intp)
    return Task(
        known=np.stack(columns, axis=-1),
        free=np.broadcast_to(free, (count, 3)),
        bank=np.zeros(count),
        hole=np.broadcast_to(np.asarray(hole, dtype=np.intp), count),
    )


def join_tasks(*tasks: Task) -> Task:
    """Put tasks below each other, so that the whole model is asked once for all."""
    return Task(
        known=np.concatenate([task.known for task in tasks]),
        free=np.concatenate([task.free for task in tasks]),
        bank=np.concatenate([task.bank for task in tasks]),
        hole=np.concatenate([task.hole for task in tasks]),
    )


def solve(plane: Aeroplane, task: Task, *, tolerance: float = TOLERANCE) -> Trimmed:
    """Trim states in one row.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane.
    task : Task
        States.
    tolerance : float, optional
        Of the residual over weight and chord. [-]

    Returns
    -------
    Trimmed
    """
    x = _start(plane, task)
    count, rows = len(x), np.arange(len(x), dtype=np.intp)
    felt = feel(plane, task, x)
    residual = _residual(plane, task, x, felt)
    slope = _first_slope(plane, task, x, felt)
    done = np.zeros(count, dtype=np.bool_)
    evaluations = 1
    best = (x.copy(), residual.copy(), felt)
    open_ = rows
    for _ in range(STEPS):
        size = np.abs(residual).max(axis=-1)
        done[open_] = size < tolerance
        # A state that has lost itself is left alone.
        go_on = ~(size < tolerance) & np.isfinite(size)
        if not go_on.any():
            break
        open_, residual, slope = open_[go_on], residual[go_on], slope[go_on]
        some = task.take(open_)
        step = _step(slope, residual, some.free)
        x[open_] = x[open_] + step
        now = feel(plane, some, x[open_])
        evaluations += 1
        after = _residual(plane, some, x[open_], now)
        slope = _broyden(slope, step, after - residual, some.free)
        residual = after
        best = (x, _put(best[1], open_, after), best[2].with_rows(open_, now))
    return _result(plane, task, best[0], best[1], best[2], done, evaluations)


def _put(whole: Array, rows: Index, values: Array) -> Array:
    whole[rows] = values
    return whole


def _scaled(free: Index) -> Array:
    return _LONGEST[free]


def _step(slope: Array, residual: Array, free: Index) -> Array:
    """Newton's step in the five unknowns, none longer than its limit, (B, 5)."""
    scale = _scaled(free)
    try:
        move = np.linalg.solve(slope * scale[:, None, :], -residual[..., None])[..., 0]
    except np.linalg.LinAlgError:
        move = np.stack(
            [np.linalg.lstsq(a, -r, rcond=None)[0] for a, r in zip(slope * scale[:, None], residual, strict=True)]
        )
    move = move / np.maximum(1.0, np.abs(move).max(axis=-1))[:, None]
    full = np.zeros((len(free), 5))
    np.put_along_axis(full, free, move * scale, axis=-1)
    return full


def _broyden(slope: Array, step: Array, change: Array, free: Index) -> Array:
    """Correct the slopes by what the last step has shown."""
    scale = _scaled(free)
    moved = np.take_along_axis(step, free, axis=-1) / scale
    length = np.maximum((moved**2).sum(axis=-1), 1e-30)[:, None, None]
    scaled = slope * scale[:, None, :]
    missed = change - (scaled @ moved[..., None])[..., 0]
    return (scaled + missed[..., None] * moved[:, None, :] / length) / scale[:, None, :]


# ---------------------------------------------------------------- what the aeroplane feels


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

    def with_rows(self, rows: Index, other: Felt) -> Felt:
        """Put newer rows in."""
        values = {}
        for name in self.__dataclass_fields__:
            whole: Array = getattr(self, name).copy()
            whole[rows] = getattr(other, name)
            values[name] = whole
        return Felt(**values)


def feel(plane: Aeroplane, task: Task, x: Array) -> Felt:
    """Ask the whole model once for all states.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane.
    task : Task
        Says which throttles are held; elsewhere thrust is among the unknowns.
    x : ndarray, (B, 5)
        Alpha [rad], stick [-], thrust over weight [-], path [rad], airspeed [m/s].

    Returns
    -------
    Felt
    """
    alpha, stick, v = x[:, _ALPHA], x[:, _STICK], x[:, _SPEED]
    push, slope = _push(plane, task, x)
    off = bool(np.all(push.thrust == 0.0))
    turn = 1.0 / np.cos(task.bank)
    forces = plane.aero.forces(
        FlightState(
            airspeed=v,
            alpha=alpha,
            pitch_rate=GRAVITY / v * (turn - 1.0 / turn),
            controls=plane.controls(stick),
            thrust=None if off else _by_hole(plane, task.hole, push.thrust),
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
        total = np.where(np.isnan(task.known[:, _THRUST]), x[:, _THRUST] * plane.weight, 0.0)
        if plane.motors:
            nothing = np.repeat(total[:, None] / plane.motors, plane.motors, axis=1)
        idle = np.zeros((count, plane.motors))
        return Push(thrust=nothing, torque=idle, rotation=idle, throttle=np.zeros(count)), 0.0 * total
    table, v = plane.thrust, x[:, _SPEED]
    held = ~np.isnan(task.known[:, _THRUST])
    asked = table.at_throttle(np.where(held, task.known[:, _THRUST], 0.0), airspeed=v)
    near = table.at_throttle(np.where(held, task.known[:, _THRUST], 0.0), airspeed=v + _NEAR)
    slope = np.where(held, (near.total - asked.total) / _NEAR, 0.0)
    if held.all():
        return asked, slope
    wanted = table.for_thrust(x[:, _THRUST] * plane.weight, airspeed=v)
    return Push(
        thrust=np.where(held[:, None], asked.thrust, wanted.thrust),
        torque=np.where(held[:, None], asked.torque, wanted.torque),
        rotation=np.where(held[:, None], asked.rotation, wanted.rotation),
        throttle=np.where(held, asked.throttle, wanted.throttle),
    ), slope


_NEAR = 0.05  # m/s over which the thrust's slope is taken


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
    own = _about(place, thrust)
    moment = own + _about(place, across) + couples
    return (thrust + across).sum(axis=1), moment.sum(axis=1), own[..., 1].sum(axis=1), up.mean(axis=1)


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


def _about(place: Array, force: Array) -> Array:
    """Moment of forces: right wing down, nose up, nose right. [N m]"""
    x, y, z = np.moveaxis(place, -1, 0)
    aft, right, up = np.moveaxis(force, -1, 0)
    return np.stack([z * right - y * up, z * aft - x * up, y * aft - x * right], axis=-1)


# ---------------------------------------------------------------- equations, start, slopes


def _residual(plane: Aeroplane, task: Task, x: Array, felt: Felt) -> Array:
    weight, chord = plane.weight, plane.aero.tensor.reference.chord
    path = x[:, _PATH]
    return np.stack(
        [
            felt.square * np.cos(task.bank) / weight - np.cos(path),
            felt.along / weight - np.sin(path),
            felt.moment[:, 1] / (weight * chord),
        ],
        axis=-1,
    )


def _start(plane: Aeroplane, task: Task) -> Array:
    """Answer of the linear aeroplane, power off and gliding flat, (B, 5)."""
    s, ref = plane.slopes, plane.aero.tensor.reference
    known = task.known
    alpha, stick, throttle, path, v = known.T
    load = 2.0 * plane.weight / (_DENSITY * ref.area * np.cos(task.bank))
    whole = s.lift_slope * s.pitch_stick - s.lift_stick * s.pitch_slope
    with np.errstate(invalid="ignore", divide="ignore"):
        lift = load / v**2
        by_lift = (s.pitch_stick * (lift - s.lift) + s.lift_stick * s.pitch) / whole
        by_stick = -(s.pitch + s.pitch_stick * stick) / s.pitch_slope
        a = np.where(np.isnan(alpha), np.where(np.isnan(v), by_stick, by_lift), alpha)
        a = np.where(np.isnan(a), _EASY, a)
        a = np.clip(a, -_STEEP, plane.stall_alpha if np.isfinite(plane.stall_alpha) else _STEEP)
        a = np.where(np.isnan(alpha), a, alpha)
        e = -(s.pitch + s.pitch_slope * a) / s.pitch_stick
        e = np.where(np.isnan(stick), np.nan_to_num(np.clip(e, -1.0, 1.0)), stick)
        found = np.maximum(s.lift + s.lift_slope * a + s.lift_stick * e, _LITTLE)
        speed = np.where(np.isnan(v), np.sqrt(load / found), v)
    slope = np.where(np.isnan(path), np.where(np.nan_to_num(throttle) > 0.0, 0.1, -0.1), path)
    thrust = np.where(np.isnan(throttle), _DRAGS, 0.0)
    return np.stack([a, e, thrust, slope, speed], axis=-1)


_DENSITY = 1.225
_EASY, _STEEP, _LITTLE, _DRAGS = 0.05, 0.25, 0.1, 0.15


def _first_slope(plane: Aeroplane, task: Task, x: Array, felt: Felt) -> Array:
    """Slopes of the residuals by the free unknowns, from the linear aeroplane, (B, 3, 3)."""
    s, ref = plane.slopes, plane.aero.tensor.reference
    v, weight = x[:, _SPEED], plane.weight
    pull = 0.5 * _DENSITY * v**2 * ref.area / weight
    lean = x[:, _ALPHA] + felt.tilt
    push = felt.thrust / weight
    arm = np.where(felt.thrust != 0.0, felt.push_pitch / np.where(felt.thrust != 0.0, felt.thrust, 1.0), 0.0)
    arm = np.where(felt.thrust != 0.0, arm, _arm(plane, task.hole)) / ref.chord
    cosine = np.cos(task.bank)
    table = np.zeros((len(x), 3, 5))
    # Lift of a section is some 0.9 of thin theory's; drag by lift of an ordinary wing.
    table[:, 0, _ALPHA] = (pull * s.lift_slope + push * np.cos(lean)) * cosine
    table[:, 0, _STICK] = pull * s.lift_stick * cosine
    table[:, 0, _THRUST] = np.sin(lean) * cosine
    table[:, 0, _PATH] = np.sin(x[:, _PATH])
    table[:, 0, _SPEED] = 2.0 * pull * felt.lift / v * cosine
    table[:, 1, _ALPHA] = -pull * 0.12 * felt.lift * s.lift_slope - push * np.sin(lean)
    table[:, 1, _THRUST] = np.cos(lean)
    table[:, 1, _PATH] = -np.cos(x[:, _PATH])
    table[:, 1, _SPEED] = -2.0 * pull * felt.drag / v + felt.thrust_slope / weight * np.cos(lean)
    table[:, 2, _ALPHA] = pull * s.pitch_slope
    table[:, 2, _STICK] = pull * s.pitch_stick
    table[:, 2, _THRUST] = arm
    air = (felt.moment[:, 1] - felt.push_pitch) / (weight * ref.chord)
    table[:, 2, _SPEED] = 2.0 * air / v + arm * felt.thrust_slope / weight
    return np.take_along_axis(table, task.free[:, None, :], axis=-1)


def _arm(plane: Aeroplane, hole: Index) -> Array:
    """Pitching moment over thrust, nose up, mean of the propellers, by state. [m]"""
    if not plane.motors:
        return np.zeros(len(hole))
    centres, ways, _ = disc_arrays(plane)
    return _about(centres, ways)[..., 1].mean(axis=1)[hole]


# ---------------------------------------------------------------- the answer


def _result(
    plane: Aeroplane,
    task: Task,
    x: Array,
    residual: Array,
    felt: Felt,
    done: Flags,
    evaluations: int,
) -> Trimmed:
    reason = _reasons(plane, task, x, felt, done)
    good = reason == Reason.TRIMMED
    stick = x[:, _STICK]
    return Trimmed(
        airspeed=only_where(good, x[:, _SPEED]),
        alpha=only_where(good, x[:, _ALPHA]),
        elevator=only_where(good, plane.elevator_angle(stick)),
        stick=only_where(good, stick),
        wanted=only_where(done, stick),
        thrust=only_where(good, felt.thrust),
        throttle=only_where(good, felt.throttle),
        path=only_where(good, x[:, _PATH]),
        lift=only_where(good, felt.lift),
        drag=only_where(good, felt.drag),
        drag_scatter=only_where(good, felt.scatter),
        roll=only_where(good, felt.moment[:, 0]),
        yaw=only_where(good, felt.moment[:, 2]),
        residual=np.abs(residual).max(axis=-1),
        reason=reason,
        evaluations=evaluations,
    )


def _reasons(
    plane: Aeroplane, task: Task, x: Array, felt: Felt, done: Flags
) -> NDArray[np.int64]:
    reason = np.full(len(x), int(Reason.TRIMMED))
    wing = plane.largest_lift if np.isfinite(plane.largest_lift) else np.inf
    ref = plane.aero.tensor.reference
    v = task.known[:, _SPEED]
    with np.errstate(invalid="ignore"):
        carried = 0.5 * _DENSITY * v**2 * ref.area * wing < 0.9 * plane.weight
        short = felt.throttle > 1.0 + 1e-6
        beyond = np.isnan(task.known[:, _ALPHA]) & (felt.stalled > _HALF)
        stalled = done & beyond | ~done & (carried | beyond)
        reason[done & short] = Reason.POWER
        reason[done & (np.abs(x[:, _STICK]) > 1.0 + 1e-9)] = Reason.ELEVATOR
    reason[~done] = Reason.NOT_FOUND
    if plane.thrust is not None:
        reason[~done & ~(x[:, _SPEED] <= plane.thrust.fastest)] = Reason.POWER
    reason[stalled] = Reason.STALLED
    if plane.elevator is None:
        reason[:] = Reason.NO_STICK
    return reason


_HALF = 0.5  # of the wing's area beyond its sections' stall: it flies no longer


def shaped(found: Trimmed, shape: tuple[int, ...]) -> Trimmed:
    """Lay a row of states out again over their leading axes."""
    values = {
        name: getattr(found, name).reshape(shape)
        for name in Trimmed.__dataclass_fields__
        if name != "evaluations"
    }
    return Trimmed(**values, evaluations=found.evaluations)


def part(found: Trimmed, rows: slice, shape: tuple[int, ...]) -> Trimmed:
    """Some rows of a joined answer, laid out."""
    values = {
        name: getattr(found, name)[rows].reshape(shape)
        for name in Trimmed.__dataclass_fields__
        if name != "evaluations"
    }
    return Trimmed(**values, evaluations=found.evaluations)


def power_known(plane: Aeroplane) -> ThrustTable:
    """Thrust table of an aeroplane that has one; DomainError otherwise."""
    if plane.thrust is None:
        raise DomainError("the thrust of this aeroplane's propellers is not known")
    return plane.thrust
