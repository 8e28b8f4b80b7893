"""How slow, how fast, how far and how steeply: the whole aeroplane trimmed, with bands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foamwright.air.stall.results import MAX_LIFT_SCATTER
from foamwright.figures import Figure
from foamwright.flight.common import Array
from foamwright.flight.tasks import PATH, join_tasks, task_of
from foamwright.flight.trimming import Reason, Trimmed, part, solve, start_from
from foamwright.flight.whole import Aeroplane

#: Incidences of the glide below that of the stall, over it. [-]
GLIDES: Array = np.array([0.1, 0.25, 0.4, 0.55, 0.7, 0.82, 0.92, 1.0])
#: Airspeeds over the stall's at which level flight and climb are tried. [-]
SPEEDS: Array = np.array([1.15, 1.4, 1.8, 2.3])
# Residual at which these trims count as found: some hundredths of a degree of elevator.
_TOLERANCE = 3e-4
_FROM = "trim of the whole aeroplane"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Envelope:
    """Speeds, glide and climb, everything trimmed; None where there is no such flight.

    Bands are one sigma. Those of glide and sink come from the drag's, with lift as it is; of the
    stalling speed from half of the largest lift's; of top speed and climb from thrust and drag.
    """

    stall: Figure | None  # m/s, straight flight, power off
    best_glide: Figure | None  # lift over drag
    best_glide_speed: float  # m/s
    least_sink: Figure | None  # m/s
    least_sink_speed: float  # m/s
    slowest: float  # m/s, of level flight: power on, or where the wing stalls
    top: Figure | None  # m/s, level at full throttle
    climb: Figure | None  # m/s, best of the airspeeds tried
    climb_speed: float  # m/s, nan where it climbs straight up
    is_vertical: bool  # whether thrust beats weight and drag at some airspeed
    level_throttle: float  # share of full at 1.4 times the stall; nan without level flight
    glide: Trimmed  # (A,) power off by incidence
    level: Trimmed | None  # (V,)
    full: Trimmed | None  # (V,) steady climb at full throttle


def envelope(plane: Aeroplane) -> Envelope:
    """Find speeds, glide and climb of one variant.

    Parameters
    ----------
    plane : Aeroplane
        The aeroplane; power counts where its thrust is known.

    Returns
    -------
    Envelope

    Notes
    -----
    Best glide and least sink by a parabola through the best of eight trimmed incidences and its
    neighbours. No wind, no turn, out of the ground's reach, pack half flown.
    """
    glide = solve(
        plane,
        task_of(len(GLIDES), alpha=_incidences(plane), throttle=0.0),
        tolerance=_TOLERANCE,
        is_quick=True,
    )
    stall = _stall(glide)
    ratio, ratio_speed = _best(glide, -1.0 / np.tan(glide.path))
    sink, sink_speed = _best(glide, glide.climb)
    level = full = top = None
    if plane.thrust is not None and stall is not None:
        level, full, top = _powered(plane, stall.value, glide)
    relative = glide.drag_scatter / glide.drag
    doubt = float(np.nanmean(relative)) if np.isfinite(relative).any() else 0.0
    climb, climb_speed, is_vertical = _climb(plane, full, doubt)
    return Envelope(
        stall=stall,
        best_glide=_figure(ratio, doubt * ratio),
        best_glide_speed=ratio_speed,
        least_sink=_figure(-sink, doubt * -sink),
        least_sink_speed=sink_speed,
        slowest=_slowest(level, stall),
        top=_top(plane, top, doubt),
        climb=climb,
        climb_speed=climb_speed,
        is_vertical=is_vertical,
        level_throttle=float(level.throttle[1]) if level is not None else float("nan"),
        glide=glide,
        level=level,
        full=full,
    )


def _incidences(plane: Aeroplane) -> Array:
    """From little lift to the stall."""
    top = plane.stall_alpha if np.isfinite(plane.stall_alpha) else float(np.radians(12.0))
    none = -plane.slopes.lift / plane.slopes.lift_slope
    return none + (top - none) * GLIDES


def _figure(value: float, scatter: float) -> Figure | None:
    return Figure(value=value, scatter=abs(scatter), source=_FROM) if np.isfinite(value) else None


def _stall(glide: Trimmed) -> Figure | None:
    """Slowest trimmed glide; where the elevator runs out first that is the slowest."""
    if not np.isfinite(glide.airspeed).any():
        return None
    # Of the glides the one with the largest lift: beyond it lift falls again.
    slowest = float(np.nanmin(glide.airspeed * np.sqrt(1.0 / np.cos(glide.path))))
    return _figure(slowest, 0.5 * MAX_LIFT_SCATTER * slowest)


def _best(glide: Trimmed, values: Array) -> tuple[float, float]:
    """Largest value over the glides and its airspeed, by a parabola in incidence."""
    if not np.isfinite(values).any():
        return float("nan"), float("nan")
    i = int(np.nanargmax(values))
    near = slice(max(i - 1, 0), i + 2)
    a, y, v = glide.alpha[near], values[near], glide.airspeed[near]
    if len(a) < 3 or not np.isfinite(a).all():
        return float(values[i]), float(glide.airspeed[i])
    middle = a[1]
    second, first, nought = _parabola(a - middle, y)
    place = float(np.clip(-0.5 * first / second, a[0] - middle, a[2] - middle))
    curve = _parabola(a - middle, v)
    best = nought + first * place + second * place**2
    return best, curve[2] + curve[1] * place + curve[0] * place**2


def _parabola(x: Array, y: Array) -> tuple[float, float, float]:
    """Second, first and noughth coefficient of the parabola through three points."""
    second, first, nought = np.linalg.solve(np.vander(x, 3), y).tolist()
    return float(second), float(first), float(nought)


def _powered(plane: Aeroplane, stall: float, glide: Trimmed) -> tuple[Trimmed, Trimmed, Trimmed]:
    v = stall * SPEEDS
    count = len(v)
    level = start_from(glide, v)
    climbing = level.copy()
    climbing[:, PATH] = np.nan  # from thrust, as the search finds it
    start = np.concatenate([level, climbing, np.full((1, level.shape[1]), np.nan)])
    found = solve(
        plane,
        join_tasks(
            task_of(count, airspeed=v, path=0.0),
            task_of(count, airspeed=v, throttle=1.0),
            task_of(1, throttle=1.0, path=0.0),
        ),
        start=start,
        tolerance=_TOLERANCE,
        is_quick=True,
    )
    rows = (slice(0, count), slice(count, 2 * count), slice(2 * count, 2 * count + 1))
    level, full, top = (part(found, row, (row.stop - row.start,)) for row in rows)
    return level, full, top


def _slowest(level: Trimmed | None, stall: Figure | None) -> float:
    if level is None or stall is None or not level.is_trimmed.any():
        return float("nan")
    return stall.value if level.is_trimmed[0] else float(np.nanmin(level.airspeed))


def _top(plane: Aeroplane, top: Trimmed | None, doubt: float) -> Figure | None:
    """Top speed with the band that thrust and drag leave it."""
    table = plane.thrust
    if top is None or table is None or not bool(top.is_trimmed[0]):
        return None
    v, thrust = float(top.airspeed[0]), float(top.thrust[0])
    near = table.full(np.array([v - 0.5, v + 0.5]))
    # Spare thrust falls with speed by the thrust's own slope and by that of drag, twice D/V.
    slope = float(near[1] - near[0]) - 2.0 * thrust / v
    error = thrust * float(np.hypot(table.scatter, doubt))
    return _figure(v, error / abs(slope))


def _climb(
    plane: Aeroplane, full: Trimmed | None, doubt: float
) -> tuple[Figure | None, float, bool]:
    table = plane.thrust
    if full is None or table is None:
        return None, float("nan"), False
    is_vertical = bool((full.reason == Reason.SURPLUS).any())
    if not full.is_trimmed.any():
        return None, float("nan"), is_vertical
    best = int(np.nanargmax(full.climb))
    v, thrust, climb = (float(x[best]) for x in (full.airspeed, full.thrust, full.climb))
    drag = thrust - plane.weight * climb / v
    error = v / plane.weight * float(np.hypot(table.scatter * thrust, doubt * drag))
    return _figure(climb, error), v, is_vertical
