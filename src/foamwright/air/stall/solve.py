"""Lift of all strips together, through the stall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.stall.polars import SectionsAt
from foamwright.air.stall.system import StripSystem

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: Largest error of any strip's lift coefficient that counts as solved: far below any band.
TOLERANCE = 1e-6
#: Steps after which a state is given up; attached states take 3, stalled ones 5 to 8.
STEPS = 60
#: Largest changes of a strip's lift coefficient and incidence [rad] in one step, so that no
#: step jumps from one stall to the other.
_LONGEST, _WIDEST = 0.4, 0.2
#: States solved together: more would not fit the processor's near memory.
_BATCH = 64
#: Share of the lattice's slope with which the first guess is made: that of sheet sections.
_GUESS = 0.85


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripMotion:
    """How the air meets the strips, over airspeed, one row per state."""

    u: Array  # (B, S) along x
    w: Array  # (B, S) square to the strip
    built_in: Array  # (B, S) rad, twist, camber and deflections


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripLift:
    """Solved lift of the strips, one row per state."""

    circulation: Array  # (B, S) m, over airspeed
    alpha: Array  # (B, S) rad, effective incidence of the chord
    converged: Flags  # (B,)
    steps: NDArray[np.intp]  # (B,)


def solve_strips(
    system: StripSystem,
    sections: SectionsAt,
    motion: StripMotion,
    *,
    start: Array | None = None,
) -> StripLift:
    """Find the circulations at which every strip lifts as its section does.

    Parameters
    ----------
    system : StripSystem
        The strips.
    sections : SectionsAt
        Their sections at the states' Reynolds numbers and deflections.
    motion : StripMotion
        The states.
    start : ndarray, shape (B, S), optional
        Circulations over airspeed to start from. [m]

    Returns
    -------
    StripLift

    Notes
    -----
    Newton's method on all strips of many states together. The lift that a section loses
    beyond its stall is spread over half a chord of span (``MIXING``): without that the
    equations have many saw-toothed solutions, with it Newton's method converges from any
    start in all cases tried (docs/rooms/air.md).
    """
    shape = motion.w.shape
    circulation = _guess(system, motion) if start is None else np.array(start)
    alpha = np.zeros(shape)
    converged = np.zeros(shape[0], dtype=np.bool_)
    steps = np.zeros(shape[0], dtype=np.intp)
    for first in range(0, shape[0], _BATCH):
        rows = slice(first, first + _BATCH)
        mine = np.zeros(shape[0], dtype=np.bool_)
        mine[rows] = True
        task = _Task(
            system,
            sections.take(mine),
            StripMotion(u=motion.u[rows], w=motion.w[rows], built_in=motion.built_in[rows]),
        )
        circulation[rows], alpha[rows], converged[rows], steps[rows] = _newton(
            task, circulation[rows]
        )
    return StripLift(circulation=circulation, alpha=alpha, converged=converged, steps=steps)


def _guess(system: StripSystem, motion: StripMotion) -> Array:
    """Attached flow with a slope that sections have, held to a lift that they have. [m]"""
    half = 0.5 * system.chord * 2.0 * np.pi * _GUESS * system.polars.cosine
    lift = np.clip(motion.w + motion.u * (motion.built_in - system.polars.alpha0), -0.5, 0.5)
    matrix = np.eye(len(half)) + half[:, None] * system.mutual
    return np.asarray(np.linalg.solve(matrix, (half * lift).T).T, dtype=np.float64)


@dataclass(frozen=True, slots=True, eq=False)
class _Task:
    system: StripSystem
    sections: SectionsAt
    motion: StripMotion

    def take(self, which: Flags) -> _Task:
        motion = self.motion
        return _Task(
            self.system,
            self.sections.take(which),
            StripMotion(u=motion.u[which], w=motion.w[which], built_in=motion.built_in[which]),
        )

    def alpha(self, circulation: Array) -> Array:
        """Effective incidence of the chords. [rad]"""
        motion = self.motion
        w = motion.w - wake_share(motion) * (circulation @ self.system.mutual.T)
        return np.arctan2(w, motion.u) + motion.built_in

    def residual(self, circulation: Array) -> tuple[Array, Array, Array]:
        """Circulation less that of the sections, and the slopes it is made of. [m]"""
        system, motion = self.system, self.motion
        wake = wake_share(motion)
        w = motion.w - wake * (circulation @ system.mutual.T)
        alpha = np.arctan2(w, motion.u) + motion.built_in
        held = np.clip(alpha, self.sections.hold_lower, self.sections.hold_upper)
        lift, slope = self.sections.lift(alpha)
        stalled = held != alpha
        most = lift
        if stalled.any():
            most = np.where(stalled, self.sections.lift(held)[0], lift)
        # What is spread is what is lost; where wakes no longer act, all lift is.
        most = wake * most
        own = np.where(stalled, 0.0, wake * slope)
        turn = wake * motion.u / np.maximum(motion.u**2 + w**2, _STILL)
        size = 0.5 * system.chord * np.hypot(motion.u, motion.w)
        total = most + (lift - most) @ system.spread.T
        return (
            circulation - size * total,
            size,
            np.stack([own * turn, (slope - own) * turn, turn]),
        )


def wake_share(motion: StripMotion) -> Array:
    """How far the wakes act on each strip.

    Parameters
    ----------
    motion : StripMotion
        The states.

    Returns
    -------
    ndarray, shape (B, S)
        1 up to 45 degrees of local incidence, as the lattice has them, then less and less;
        across the wind and beyond nothing: the wakes are no longer behind the strip, and
        every section stands by itself. [-]
    """
    cosine = motion.u / np.maximum(np.hypot(motion.u, motion.w), _STILL)
    t = np.clip(cosine / _TURNED, 0.0, 1.0)
    return t * t * (3.0 - 2.0 * t)


# Cosine of the incidence up to which wakes are left along x.
_TURNED = np.sqrt(0.5)
# Air slower than this share of the airspeed has no direction.
_STILL = 1e-6


def _damping(number: int) -> float:
    """Uneven steps for what has not come to rest: a kink can throw Newton's method to and fro."""
    return 1.0 if number < _PATIENCE else _UNEVEN[number % len(_UNEVEN)]


# Full steps before they become uneven.
_PATIENCE = 16
_UNEVEN = (1.0, 0.4, 0.7)


def _solved(matrix: Array, right: Array) -> Array:
    """Solution of many small systems, (B, S)."""
    answer: Array = np.asarray(np.linalg.solve(matrix, right[..., None]), dtype=np.float64)
    return answer[..., 0]


def _newton(task: _Task, circulation: Array) -> tuple[Array, Array, Flags, NDArray[np.intp]]:
    count = len(circulation)
    steps = np.zeros(count, dtype=np.intp)
    open_ = np.ones(count, dtype=np.bool_)
    circulation = circulation.copy()
    active = task
    system = task.system
    eye = np.eye(len(system.chord))
    for number in range(STEPS):
        now = circulation[open_]
        error, size, slopes = active.residual(now)
        solved = np.abs(error / system.chord).max(axis=-1) < 0.5 * TOLERANCE
        if solved.any():
            places = np.flatnonzero(open_)
            open_[places[solved]] = False
            if solved.all():
                break
            keep = ~solved
            active, now = active.take(keep), now[keep]
            error, size, slopes = error[keep], size[keep], slopes[:, keep]
        coupling = slopes[0][:, :, None] * eye + system.spread * slopes[1][:, None, :]
        matrix = eye + size[:, :, None] * (coupling @ system.mutual)
        step = _solved(matrix, -error)
        lift = 2.0 * np.abs(step / system.chord).max(axis=-1) / _LONGEST
        turned = np.abs((step @ system.mutual.T) * slopes[2]).max(axis=-1) / _WIDEST
        step *= _damping(number) / np.maximum(1.0, np.maximum(lift, turned))[:, None]
        circulation[open_] = now + step
        steps[open_] += 1
    return circulation, task.alpha(circulation), ~open_, steps
