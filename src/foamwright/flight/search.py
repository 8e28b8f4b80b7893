"""The search for steady flight: from the linear aeroplane to balance on the full forces."""

from __future__ import annotations

import numpy as np

from foamwright.flight.common import DENSITY, Array, Flags
from foamwright.flight.feel import Felt, feel, thrust_arm
from foamwright.flight.tasks import ALPHA, GAIN, PATH, SPEED, STICK, THRUST, UNKNOWNS, Index, Task
from foamwright.flight.whole import Aeroplane

#: Forces over weight, and moment over weight times chord, that are left when a trim counts as
#: found: far below any band.
TOLERANCE = 5e-7
#: Broyden's steps at most; most states take 4 to 7.
STEPS, QUICK_STEPS = 14, 6
# The longest step of each unknown: rad, share, weights, rad, m/s, g.
_LONGEST: Array = np.array([0.08, 0.5, 0.3, 0.3, 2.0, 0.5])


def search(
    plane: Aeroplane,
    task: Task,
    *,
    start: Array | None = None,
    tolerance: float = TOLERANCE,
    is_quick: bool = False,
) -> Search:
    """Trim states in one row.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane.
    task : Task
        States.
    start : ndarray, (B, 6), optional
        Alpha [rad], stick [-], thrust over weight [-], path [rad], airspeed [m/s] and gain [g] to
        start from; those of the linear aeroplane where not given. What is known is put in.
    tolerance : float, optional
        Of the residual over weight and chord. [-]
    is_quick : bool, optional
        Give up what does not settle at once, instead of trying again.

    Returns
    -------
    Search

    Notes
    -----
    Broyden's steps first; what they do not settle is tried again by Newton's, its slopes from
    differences of the full model.
    """
    x = _start(plane, task)
    if start is not None:
        x = np.where(np.isfinite(start), start, x)
        x = np.where(np.isnan(task.known) | (np.arange(UNKNOWNS) == THRUST), x, task.known)
    found = Search(plane, task, x, tolerance)
    found.broyden(QUICK_STEPS if is_quick else STEPS)
    if not is_quick:
        found.newton()
    return found


class Search:
    """A search under way: the newest states, and the nearest to balance so far."""

    def __init__(self, plane: Aeroplane, task: Task, x: Array, tolerance: float) -> None:
        self.plane, self.task, self.tolerance = plane, task, tolerance
        self.x = x
        self.felt = feel(plane, task, x)
        self.residual = _residual(plane, task, x, self.felt)
        self.evaluations = 1

    @property
    def size(self) -> Array:
        """What is left of each state."""
        return np.abs(self.residual).max(axis=-1)

    @property
    def done(self) -> Flags:
        """States in balance."""
        return self.size < self.tolerance

    def _ask(self, rows: Index, x: Array) -> tuple[Felt, Array]:
        some = self.task.take(rows)
        felt = feel(self.plane, some, x)
        self.evaluations += 1
        return felt, _residual(self.plane, some, x, felt)

    def _keep(self, rows: Index, x: Array, felt: Felt, residual: Array) -> None:
        """Take over what is nearer to balance than what there was."""
        nearer = np.abs(residual).max(axis=-1) < self.size[rows]
        which = rows[nearer]
        self.x[which], self.residual[which] = x[nearer], residual[nearer]
        self.felt = self.felt.with_rows(which, felt.take(nearer))

    def broyden(self, steps: int) -> None:
        """Go on with slopes that learn from each step."""
        slope = _first_slope(self.plane, self.task, self.x, self.felt)
        rows = np.arange(len(self.x), dtype=np.intp)
        x, residual = self.x.copy(), self.residual.copy()
        for _ in range(steps):
            go_on = ~(np.abs(residual).max(axis=-1) < self.tolerance)
            if not go_on.any():
                break
            rows, x, residual, slope = rows[go_on], x[go_on], residual[go_on], slope[go_on]
            free = self.task.free[rows]
            step = _step(slope, residual, free)
            x = _kept_flying(x + step)
            felt, after = self._ask(rows, x)
            slope = _broyden(slope, step, after - residual, free)
            residual = after
            self._keep(rows, x, felt, after)

    def newton(self) -> None:
        """Go on with slopes from differences, where it has not settled and might."""
        rows = np.flatnonzero(~self.done & _can_be(self.plane, self.task))
        for _ in range(NEWTON_STEPS):
            rows = rows[~self.done[rows]]
            if not rows.size:
                break
            x, free = self.x[rows], self.task.free[rows]
            moved = np.repeat(x[:, None], 3, axis=1)
            place = np.arange(3)
            moved[:, place, free] += _DIFFERENCE * _scaled(free)
            _, near = self._ask(np.repeat(rows, 3), moved.reshape(-1, UNKNOWNS))
            change = near.reshape(-1, 3, 3) - self.residual[rows][:, None]
            slope = change.transpose(0, 2, 1) / (_DIFFERENCE * _scaled(free))[:, None, :]
            step = _step(slope, self.residual[rows], free)
            before = self.size[rows]
            for share in (1.0, 0.4, 0.15):
                short = self.size[rows] >= before
                if not short.any():
                    break
                some = rows[short]
                tried = _kept_flying(x[short] + share * step[short])
                self._keep(some, tried, *self._ask(some, tried))
            rows = rows[self.size[rows] < 0.97 * before]


# Step of differences, as a share of the longest step.
_DIFFERENCE = 0.01
#: Newton's steps at most, and the slowest airspeed that is looked at. [m/s]
NEWTON_STEPS, _SLOWEST = 12, 1.0


def _kept_flying(x: Array) -> Array:
    """Hold the search where the model can be asked at all."""
    x[:, SPEED] = np.maximum(x[:, SPEED], _SLOWEST)
    x[:, ALPHA] = np.clip(x[:, ALPHA], -0.6, 0.8)
    x[:, STICK] = np.clip(x[:, STICK], -3.0, 3.0)
    return x


def _can_be(plane: Aeroplane, task: Task) -> Flags:
    """Whether the wing could carry the weight at the airspeed given, power helping a little."""
    v = task.known[:, SPEED]
    most = plane.largest_lift if np.isfinite(plane.largest_lift) else np.inf
    carried = 0.5 * DENSITY * v**2 * plane.aero.tensor.reference.area * most
    return ~(carried * np.cos(task.bank) < 0.85 * plane.weight)


def _scaled(free: Index) -> Array:
    return _LONGEST[free]


def _step(slope: Array, residual: Array, free: Index) -> Array:
    """Newton's step in the five unknowns, none longer than its limit, (B, 6)."""
    scale = _scaled(free)
    # The smallest of all shifts keeps a singular system from ending the search of the others.
    matrix = slope * scale[:, None, :] + 1e-12 * np.eye(3)
    move = np.linalg.solve(matrix, -residual[..., None])[..., 0]
    move = move / np.maximum(1.0, np.abs(move).max(axis=-1))[:, None]
    full = np.zeros((len(free), UNKNOWNS))
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


# ---------------------------------------------------------------- equations, start, slopes


def _residual(plane: Aeroplane, task: Task, x: Array, felt: Felt) -> Array:
    weight, chord = plane.weight, plane.aero.tensor.reference.chord
    path = x[:, PATH]
    return np.stack(
        [
            felt.square * np.cos(task.bank) / weight - np.cos(path),
            felt.along / weight - np.sin(path) - x[:, GAIN],
            felt.moment[:, 1] / (weight * chord),
        ],
        axis=-1,
    )


def _start(plane: Aeroplane, task: Task) -> Array:
    """Answer of the linear aeroplane, its path from thrust and an ordinary drag, (B, 6)."""
    known = task.known
    _, stick, throttle, path, v, _ = known.T
    thrust = np.nan_to_num(throttle)
    slope = np.nan_to_num(path)
    speed = np.where(np.isnan(v), _fast(plane, thrust), v)
    a, e, speed = _linear(plane, task, slope, speed)
    for _ in range(2):  # path and lift hang on each other
        if plane.thrust is not None:
            push = plane.thrust.at_throttle(thrust, airspeed=speed).total / plane.weight
            drags = _drag(plane, speed) / plane.weight
            slope = np.where(
                np.isnan(path) & ~np.isnan(throttle),
                np.arcsin(np.clip(push - drags, -_STEEPEST, _STEEPEST)),
                slope,
            )
        a, e, speed = _linear(plane, task, slope, speed)
    drags = _drag(plane, speed) / plane.weight + np.sin(slope)
    e = np.where(np.isnan(stick), np.clip(np.nan_to_num(e), -1.0, 1.0), stick)
    thrusts = np.where(np.isnan(throttle), drags, 0.0)
    return np.stack([a, e, thrusts, slope, speed, np.zeros(len(a))], axis=-1)


def _linear(plane: Aeroplane, task: Task, slope: Array, speed: Array) -> tuple[Array, Array, Array]:
    """Incidence, stick and airspeed of the linear aeroplane on a path."""
    s, ref = plane.slopes, plane.aero.tensor.reference
    alpha, stick, throttle, _, v, _ = task.known.T
    load = 2.0 * plane.weight * np.cos(slope) / (DENSITY * ref.area * np.cos(task.bank))
    whole = s.lift_slope * s.pitch_stick - s.lift_stick * s.pitch_slope
    # Throttle and path alone: at the fast end of level flight.
    given = np.where(~np.isnan(throttle) & ~np.isnan(task.known[:, PATH]) & np.isnan(v), speed, v)
    with np.errstate(invalid="ignore", divide="ignore"):
        by_lift = (s.pitch_stick * (load / given**2 - s.lift) + s.lift_stick * s.pitch) / whole
        by_stick = -(s.pitch + s.pitch_stick * stick) / s.pitch_slope
        a = np.where(np.isnan(given), by_stick, by_lift)
        top = plane.stall_alpha if np.isfinite(plane.stall_alpha) else _STEEP
        a = np.clip(np.where(np.isnan(a), _EASY, a), -_STEEP, top)
        a = np.where(np.isnan(alpha), a, alpha)
        e = -(s.pitch + s.pitch_slope * a) / s.pitch_stick
        moved = np.where(np.isnan(stick), np.nan_to_num(np.clip(e, -1.0, 1.0)), stick)
        lift = np.maximum(s.lift + s.lift_slope * a + s.lift_stick * moved, _LITTLE)
        return a, e, np.where(np.isnan(given), np.sqrt(load / lift), given)


def _drag(plane: Aeroplane, v: Array) -> Array:
    """Drag of an ordinary foam aeroplane, where searches start. [N]"""
    pull = 0.5 * DENSITY * v**2 * plane.aero.tensor.reference.area
    lift = np.minimum(plane.weight / pull, 1.2)
    return pull * (0.05 + 0.08 * lift**2)


def _fast(plane: Aeroplane, throttle: Array) -> Array:
    """Fastest airspeed at which a throttle overcomes that drag. [m/s]"""
    table = plane.thrust
    ref = plane.aero.tensor.reference
    easy = np.sqrt(2.0 * plane.weight / (DENSITY * ref.area * 0.5))
    if table is None:
        return np.full(len(throttle), easy)
    v = np.linspace(0.5 * easy, table.fastest, 40, dtype=np.float64)
    spare = table.at_throttle(throttle[:, None], airspeed=v).total > _drag(plane, v)
    last = len(v) - 1 - np.argmax(spare[:, ::-1], axis=1)
    return np.where(spare.any(axis=1), v[last], easy)


_EASY, _STEEP, _LITTLE, _STEEPEST = 0.05, 0.25, 0.1, 0.95


def _first_slope(plane: Aeroplane, task: Task, x: Array, felt: Felt) -> Array:
    """Slopes of the residuals by the free unknowns, from the linear aeroplane, (B, 3, 3)."""
    s, ref = plane.slopes, plane.aero.tensor.reference
    v, weight = x[:, SPEED], plane.weight
    pull = 0.5 * DENSITY * v**2 * ref.area / weight
    lean = x[:, ALPHA] + felt.tilt
    push = felt.thrust / weight
    arm = np.where(
        felt.thrust != 0.0, felt.push_pitch / np.where(felt.thrust != 0.0, felt.thrust, 1.0), 0.0
    )
    arm = np.where(felt.thrust != 0.0, arm, thrust_arm(plane, task.hole)) / ref.chord
    cosine = np.cos(task.bank)
    table = np.zeros((len(x), 3, UNKNOWNS))
    # Lift of a section is some 0.9 of thin theory's; drag by lift of an ordinary wing.
    table[:, 0, ALPHA] = (pull * s.lift_slope + push * np.cos(lean)) * cosine
    table[:, 0, STICK] = pull * s.lift_stick * cosine
    table[:, 0, THRUST] = np.sin(lean) * cosine
    table[:, 0, PATH] = np.sin(x[:, PATH])
    table[:, 0, SPEED] = 2.0 * pull * felt.lift / v * cosine
    table[:, 1, ALPHA] = -pull * 0.12 * felt.lift * s.lift_slope - push * np.sin(lean)
    table[:, 1, THRUST] = np.cos(lean)
    table[:, 1, PATH] = -np.cos(x[:, PATH])
    table[:, 1, GAIN] = -1.0
    table[:, 1, SPEED] = -2.0 * pull * felt.drag / v + felt.thrust_slope / weight * np.cos(lean)
    table[:, 2, ALPHA] = pull * s.pitch_slope
    table[:, 2, STICK] = pull * s.pitch_stick
    table[:, 2, THRUST] = arm
    air = (felt.moment[:, 1] - felt.push_pitch) / (weight * ref.chord)
    table[:, 2, SPEED] = 2.0 * air / v + arm * felt.thrust_slope / weight
    return np.take_along_axis(table, task.free[:, None, :], axis=-1)
