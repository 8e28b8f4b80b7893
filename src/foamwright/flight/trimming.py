"""Steady flight of the whole aeroplane: air, thrust, wash and weight in balance.

Of airspeed, incidence, stick, throttle and climb path any two say how it is flown; the other
three come out. Elevator angles have their trailing edge down positive.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import DomainError
from foamwright.flight.common import DENSITY, Array, Flags, as_array, only_where
from foamwright.flight.feel import Felt
from foamwright.flight.search import TOLERANCE, Search, search
from foamwright.flight.tasks import (
    ALPHA,
    GAIN,
    PATH,
    SPEED,
    STICK,
    THRUST,
    UNKNOWNS,
    Task,
    task_of,
)
from foamwright.flight.whole import Aeroplane


class Reason(IntEnum):
    """Why there is a trim, or none."""

    TRIMMED = 0
    STALLED = 1  # too slow: the wing does not carry the weight
    ELEVATOR = 2  # the control has not enough throw
    POWER = 3  # full throttle does not give the thrust
    SURPLUS = 4  # more thrust than drag and weight: no steady flight at this speed
    NO_STICK = 5  # nothing moves the nose up and down
    NOT_FOUND = 6  # the search did not settle

    @property
    def says(self) -> str:
        """In words."""
        return _WORDS[self]


_WORDS = {
    Reason.TRIMMED: "trimmed",
    Reason.STALLED: "too slow: the wing stalls first",
    Reason.ELEVATOR: "the elevator has not enough throw",
    Reason.POWER: "full throttle is not enough",
    Reason.SURPLUS: "more thrust than weight: it goes on gaining speed, even straight up",
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
    gain: Array  # g, of speed along the path: nought where it is steady
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
        "alpha": alpha,
        "stick": stick,
        "throttle": throttle,
        "path": path,
        "airspeed": airspeed,
    }
    known = {key: as_array(value) for key, value in given.items() if value is not None}
    if len(known) != 2:
        raise DomainError("give two of airspeed, alpha, stick, throttle and path, no more, no less")
    turn, which = as_array(bank), np.asarray(hole, dtype=np.intp)
    shape = np.broadcast_shapes(*(v.shape for v in known.values()), turn.shape, which.shape)

    def row(values: ArrayLike) -> Array:
        return np.broadcast_to(values, shape).ravel()

    task = task_of(
        int(np.prod(shape, dtype=np.intp)),
        **{key: row(value) for key, value in known.items()},
        hole=row(which),
        bank=row(turn),
    )
    return shaped(solve(plane, task), shape)


def solve(
    plane: Aeroplane,
    task: Task,
    *,
    start: Array | None = None,
    tolerance: float = TOLERANCE,
    is_quick: bool = False,
) -> Trimmed:
    """Trim many states of different kinds in one row; see :mod:`foamwright.flight.search`."""
    found = search(plane, task, start=start, tolerance=tolerance, is_quick=is_quick)
    return _result(plane, task, found)


def _result(plane: Aeroplane, task: Task, search: Search) -> Trimmed:
    x, felt, done = search.x, search.felt, search.done
    reason = _reasons(plane, task, x, felt, done)
    good = reason == Reason.TRIMMED
    stick = x[:, STICK]
    return Trimmed(
        airspeed=only_where(good, x[:, SPEED]),
        alpha=only_where(good, x[:, ALPHA]),
        elevator=only_where(good, plane.elevator_angle(stick)),
        stick=only_where(good, stick),
        wanted=only_where(done, stick),
        thrust=only_where(good, felt.thrust),
        throttle=only_where(good, felt.throttle),
        path=only_where(good, x[:, PATH]),
        gain=only_where(good, x[:, GAIN]),
        lift=only_where(good, felt.lift),
        drag=only_where(good, felt.drag),
        drag_scatter=only_where(good, felt.scatter),
        roll=only_where(good, felt.moment[:, 0]),
        yaw=only_where(good, felt.moment[:, 2]),
        residual=search.size,
        reason=reason,
        evaluations=search.evaluations,
    )


def _reasons(plane: Aeroplane, task: Task, x: Array, felt: Felt, done: Flags) -> NDArray[np.int64]:
    reason = np.full(len(x), int(Reason.TRIMMED))
    wing = plane.largest_lift if np.isfinite(plane.largest_lift) else np.inf
    ref = plane.aero.tensor.reference
    v = task.known[:, SPEED]
    with np.errstate(invalid="ignore"):
        carried = 0.5 * DENSITY * v**2 * ref.area * wing < 0.9 * plane.weight
        short = felt.throttle > 1.0 + 1e-6
        beyond = np.isnan(task.known[:, ALPHA]) & (felt.stalled > _HALF)
        stalled = done & beyond | ~done & (carried | beyond)
        reason[done & short] = Reason.POWER
        reason[done & (np.abs(x[:, STICK]) > 1.0 + 1e-9)] = Reason.ELEVATOR
    reason[~done] = Reason.NOT_FOUND
    surplus = np.isnan(task.known[:, PATH]) & (felt.along > _STEEP * plane.weight)
    reason[~done & surplus] = Reason.SURPLUS
    if plane.thrust is not None:
        reason[~done & ~(x[:, SPEED] <= plane.thrust.fastest)] = Reason.POWER
    reason[stalled] = Reason.STALLED
    if plane.elevator is None:
        reason[:] = Reason.NO_STICK
    return reason


# Thrust less drag over weight beyond which there is no steady climb to find.
_STEEP = 0.95
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
    """Lay out some rows of a joined answer."""
    values = {
        name: getattr(found, name)[rows].reshape(shape)
        for name in Trimmed.__dataclass_fields__
        if name != "evaluations"
    }
    return Trimmed(**values, evaluations=found.evaluations)


def start_from(glide: Trimmed, airspeed: Array) -> Array:
    """Guess states at airspeeds from glides that are known, for searches to start from.

    Parameters
    ----------
    glide : Trimmed
        In one row, power off.
    airspeed : ndarray, (B,)
        Wanted. [m/s]

    Returns
    -------
    ndarray, (B, 6)
        Alpha [rad], stick [-], thrust that would hold it level, over weight [-], path of the
        glide [rad]; nan elsewhere and where nothing glides.
    """
    start = np.full((len(airspeed), UNKNOWNS), np.nan)
    known = glide.is_trimmed
    if known.sum() < _LEAST_KNOWN:
        return start
    order = np.argsort(glide.airspeed[known])
    v = glide.airspeed[known][order]
    columns = ((ALPHA, glide.alpha), (STICK, glide.wanted), (PATH, glide.path))
    for column, values in columns:
        start[:, column] = np.interp(airspeed, v, values[known][order])
    start[:, THRUST] = -np.tan(start[:, PATH])
    return start


_LEAST_KNOWN = 2
