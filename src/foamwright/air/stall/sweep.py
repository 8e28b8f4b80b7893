"""Lift through the stall, how much there is and where along the span the stall starts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.solve import MOTIONS
from foamwright.air.stall.polars import SectionsAt
from foamwright.air.stall.results import FirstStrip, StallPlace, StallResult
from foamwright.air.stall.solve import StripLift, StripMotion, solve_strips
from foamwright.air.stall.system import StripSystem, without_middle
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Incidences of a sweep.
SWEEP = 24
#: Beyond this share of the half span a stall takes the ailerons and a wing drops: common
#: practice, no source.
TIP_FROM = 0.6
#: Half of the wing stalled ends the search for the largest lift: sheet lifts again beyond,
#: as a plate across the wind does, and nobody lands there.
_GONE = 0.5
# The sweep runs from no lift to this far beyond the estimate of half of the wing's stall. [rad]
_BEYOND = np.radians(5.0)
# But no further than this: beyond, nothing is a first stall.
_FURTHEST = np.radians(60.0)
# A surface that leans less than this is a fin and measured along its height.
_UPRIGHT = 0.5

_NOTES = (
    "controls held where they are, power off; bodies and wash are left out of the stall",
    "largest lift is good to 10 %; a section's own stall is the least sure part of it",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StallCase:
    """For what a stall is asked."""

    area: float  # m², reference area
    wing: str  # key of the main wing
    airspeed: float  # m/s, for the Reynolds numbers
    viscosity: float  # m²/s, kinematic


def first_strip(half: StripSystem, case: StallCase) -> FirstStrip:
    """Estimate the stall fast: the first strip whose lattice load reaches its largest lift.

    Parameters
    ----------
    half : StripSystem
        Right half, or both hands.
    case : StallCase
        Airspeed and reference. [m/s], [m²]

    Returns
    -------
    FirstStrip
        Largest lift 5 to 20 % below that of the coupled sweep.

    Notes
    -----
    One look at the attached span load: no iteration, right for batches.
    """
    sections = half.polars.at((case.airspeed * half.chord / case.viscosity)[None])
    straight = np.zeros_like(half.unit[0])
    reach = _reach(half, case, sections, straight)
    places = [
        _place(half, first, float(reach.lift[first]), float(reach.alpha[first]))
        for mine in _by_surface(half)
        if np.isfinite(reach.lift[first := int(mine[np.argmin(reach.lift[mine])])])
    ]
    if not places:
        raise DomainError("nothing lifts, so nothing stalls")
    return FirstStrip(where=min(places, key=lambda place: place.lift), surfaces=tuple(places))


@dataclass(frozen=True, slots=True, eq=False)
class _Reach:
    """When each strip's lattice load reaches the largest lift of its section; inf: never."""

    most: Array  # (S,) that lift
    lift: Array  # (S,) of the whole aeroplane then
    alpha: Array  # (S,) rad, incidence at which the section itself stalls in that wash


def _reach(part: StripSystem, case: StallCase, sections: SectionsAt, angles: Array) -> _Reach:
    most = sections.lift(sections.upper)[0][0]
    unit = part.circulation[:, 1]
    zero = part.circulation[:, 0] + part.circulation[:, len(MOTIONS) :] @ angles
    slope, start = (_lift(part, row, case.area) for row in (unit, zero))
    lifts = unit > 0.0
    share = np.where(lifts, (0.5 * part.chord * most - zero) / np.where(lifts, unit, 1.0), np.inf)
    lift = np.where(lifts, start + slope * np.where(lifts, share, 0.0), np.inf)
    # Circulations scaled to the lift the strip then has, and the wash they make there.
    wash = part.mutual @ zero + np.where(lifts, share, 0.0) * (part.mutual @ unit)
    built_in = part.built_in + part.by_control @ angles
    felt = np.where(lifts, part.onset[:, 1], 1.0)
    sine = (np.tan(sections.upper[0] - built_in) + wash) / felt
    return _Reach(most, lift, np.where(lifts, np.arctan(sine), np.inf))


def sweep_stall(
    system: StripSystem,
    case: StallCase,
    *,
    mirror: StripSystem | None,
    deflections: ArrayLike | None = None,
    incidences: int = SWEEP,
) -> StallResult:
    """Sweep the incidence through the stall.

    Parameters
    ----------
    system : StripSystem
        Both hands.
    case : StallCase
        Airspeed and reference. [m/s], [m²]
    mirror : StripSystem or None
        Its right half, for an aeroplane that is its own mirror image.
    deflections : array_like, (U,), optional
        Of the moving parts, trailing edge down positive. [rad]
    incidences : int, optional
        How many.

    Returns
    -------
    StallResult
        Largest lift up to the incidence at which half of the wing has stalled.

    Notes
    -----
    Every strip lifts as its section does at its own effective incidence and Reynolds number;
    the lattice says how strips feel each other. See :func:`solve_strips`.
    """
    units = system.unit.shape[1]
    angles = np.zeros(units) if deflections is None else np.asarray(deflections, dtype=np.float64)
    if angles.shape != (units,):
        raise DomainError(f"{units} deflections are needed, one for each moving part")
    moved = system.onset[:, len(MOTIONS) :] @ angles
    even = mirror is not None and system.is_even(moved)
    part = without_middle(mirror) if mirror is not None and even else system
    sections = part.polars.at(
        (case.airspeed * part.chord / case.viscosity)[None], (part.unit @ angles)[None]
    )
    reach = _reach(part, case, sections, angles)
    alpha = _incidences(part, case, reach, angles, incidences)
    built_in = part.built_in + part.by_control @ angles
    motion = StripMotion(
        u=np.broadcast_to(np.cos(alpha)[:, None], (incidences, len(part.chord))),
        w=np.sin(alpha)[:, None] * part.onset[:, 1],
        built_in=np.broadcast_to(built_in, (incidences, len(part.chord))),
    )
    lift = solve_strips(part, sections.repeated(incidences), motion)
    return _result(part, case, alpha, lift, sections, reach.most)


def _incidences(
    part: StripSystem, case: StallCase, reach: _Reach, angles: Array, count: int
) -> Array:
    """From no lift to beyond the stall of half of the wing. [rad]"""
    bent = part.circulation[:, 0] + part.circulation[:, len(MOTIONS) :] @ angles
    slope, start = (_lift(part, row, case.area) for row in (part.circulation[:, 1], bent))
    if not slope > 0.0:
        raise DomainError("nothing lifts, so nothing stalls")
    wing = _wing(part, case)
    order = wing[np.argsort(reach.alpha[wing])]
    covered: Array = np.cumsum(part.area[order])
    last = float(reach.alpha[order[int(np.argmax(covered >= _GONE * covered[-1]))]])
    none = float(-start / slope)
    if not np.isfinite(last):
        raise DomainError("the main wing does not lift, so it does not stall")
    end = min(max(last, none + float(_BEYOND)) + float(_BEYOND), none + float(_FURTHEST))
    return np.linspace(none, end, count)


def _result(
    part: StripSystem,
    case: StallCase,
    alpha: Array,
    solved: StripLift,
    sections: SectionsAt,
    most: Array,
) -> StallResult:
    lift = _lift(part, solved.circulation, case.area)
    wing = _wing(part, case)
    over = solved.alpha - sections.upper[0]  # beyond the section's own stall where positive
    stalled = ((over > 0.0)[:, wing] @ part.area[wing]) / part.area[wing].sum()
    max_lift, max_alpha = _largest(alpha, lift, stalled)
    starts = _starts(alpha, over)
    first, first_wing = (
        _start_place(part, alpha, lift, starts, mine) for mine in (np.arange(len(part.chord)), wing)
    )
    place = _span_places(part)
    return StallResult(
        airspeed=case.airspeed,
        alpha=alpha,
        lift=lift,
        converged=solved.converged,
        steps=solved.steps,
        max_lift=max_lift,
        max_alpha=max_alpha,
        first=first,
        first_wing=first_wing,
        follows=_follows(part, starts, wing),
        surfaces=tuple(part.keys[int(k)] for k in part.surface),
        place=place,
        y=part.quarter[:, 1],
        strip_lift=2.0 * solved.circulation / part.chord,
        strip_most=most,
        stalled=stalled,
        notes=_NOTES,
    )


def _lift(part: StripSystem, circulation: Array, area: float) -> Array:
    """Lift coefficient of circulations over airspeed, (..., S). [-]"""
    return 2.0 * (circulation @ (part.count * part.width * part.normal[:, 2])) / area


def _wing(part: StripSystem, case: StallCase) -> NDArray[np.intp]:
    return np.flatnonzero(part.surface == part.keys.index(case.wing))


def _by_surface(part: StripSystem) -> list[NDArray[np.intp]]:
    return [np.flatnonzero(part.surface == k) for k in np.unique(part.surface).tolist()]


def _largest(alpha: Array, lift: Array, stalled: Array) -> tuple[float, float]:
    """Largest lift up to half of the wing stalled, by a parabola through its top. [-], [rad]"""
    gone = np.flatnonzero(stalled >= _GONE)
    if not len(gone):
        return float("nan"), float("nan")
    top = int(np.argmax(lift[: gone[0] + 1]))
    if not 0 < top < len(alpha) - 1 or lift[top + 1] > lift[top]:
        return float(lift[top]), float(alpha[top])
    y0, y1, y2 = lift[top - 1 : top + 2].tolist()
    bend = y0 - 2.0 * y1 + y2
    t = 0.5 * (y0 - y2) / bend if bend < 0.0 else 0.0
    return y1 - 0.25 * (y0 - y2) * t, float(alpha[top] + t * (alpha[1] - alpha[0]))


def _starts(alpha: Array, over: Array) -> Array:
    """Incidence at which each strip reaches its section's stall; inf where it never does. [rad]"""
    stalled = over > 0.0
    row = np.argmax(stalled, axis=0)
    after, before = (
        np.take_along_axis(over, at[None], axis=0)[0] for at in (row, np.maximum(row - 1, 0))
    )
    share = np.where(row > 0, before / np.where(before < after, before - after, -1.0), 1.0)
    found = alpha[row] - (1.0 - share) * (alpha[1] - alpha[0])
    return np.where(stalled.any(axis=0), found, np.inf)


def _start_place(
    part: StripSystem, alpha: Array, lift: Array, starts: Array, mine: NDArray[np.intp]
) -> StallPlace:
    first = int(mine[np.argmin(starts[mine])])
    at = float(starts[first])
    return _place(part, first, float(np.interp(at, alpha, lift)) if np.isfinite(at) else at, at)


def _follows(part: StripSystem, starts: Array, wing: NDArray[np.intp]) -> float:
    """Incidence between the first stall of the wing's tips and that of its inner part. [rad]"""
    outer = np.abs(_span_places(part)[wing]) > TIP_FROM
    ends = [starts[wing][chosen].min() for chosen in (outer, ~outer) if chosen.any()]
    if len(ends) < 2 or not np.all(np.isfinite(ends)):
        return float("inf")
    return float(abs(ends[1] - ends[0]))


def _span_places(part: StripSystem) -> Array:
    """Place of each strip as a fraction of its surface's half span; negative on the left. [-]"""
    places = np.zeros(len(part.chord))
    y, z = part.quarter[:, 1], part.quarter[:, 2]
    half = 0.5 * part.width
    lean = np.abs(part.normal[:, 2])
    for mine in _by_surface(part):
        if float(lean[mine].max()) < _UPRIGHT:
            across = z[mine] - float((z[mine] - half[mine]).min())
            most = float((across + half[mine]).max())
        else:
            across = y[mine]
            most = float((np.abs(across) + (lean * half)[mine]).max())
        places[mine] = across / most
    return places


def _place(part: StripSystem, strip: int, lift: float, alpha: float) -> StallPlace:
    polars = part.polars
    name = polars.polars[int(polars.ends[strip, 0])].name
    return StallPlace(
        surface=part.keys[int(part.surface[strip])],
        panel=name.split(".")[1],
        place=abs(float(_span_places(part)[strip])),
        y=float(part.quarter[strip, 1]),
        lift=lift,
        alpha=alpha,
    )
