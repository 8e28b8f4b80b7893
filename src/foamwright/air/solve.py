"""Circulations for every unit state of an aeroplane, from one factorisation."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from foamwright.air.chordwise import plane_flow
from foamwright.air.influence import Reflection, far_wash, influence, leg_factors
from foamwright.air.junctions import skeletons
from foamwright.air.mesh import Lattice, both_halves, build_lattice
from foamwright.air.surfaces import LatticeSurface
from foamwright.airframe.model import Hand
from foamwright.errors import DomainError

Array = NDArray[np.float64]
Places = NDArray[np.intp]
Flags = NDArray[np.bool_]

#: States of motion, in their order: forward speed, sinking speed and pitch rate, then speed to
#: the right, roll and yaw rate. Controls follow.
MOTIONS = ("u", "w", "q", "v", "p", "r")
_EVEN, _ODD = (0, 1, 2), (3, 4, 5)
#: Among the states: those that a surface in the middle feels too if it is bent or twisted.
_BENT = (0, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlUnit:
    """One moving part: a control of one hand."""

    surface: str
    key: str
    hand: Hand  # CENTRE: of a surface that is not mirrored


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solution:
    """What the lattice says of unit states, both halves.

    A state is (u, w, q, v, p, r, then u times each deflection): speeds of the reference point
    through the air, forward, down and to the right [m/s], rates, nose up, right wing down and
    nose right [rad/s], deflections with the trailing edge towards the lower face [rad].
    """

    lattice: Lattice  # both halves
    half: int  # panels of the halves given; they come first
    units: tuple[ControlUnit, ...]
    columns: tuple[int, ...]  # of each unit's control in the lattice
    circulation: Array  # (P, N), of a unit of each state
    far: Array  # (S, N), wash along the strips' normals in the Trefftz plane
    onset: Array  # (P, N), normal velocity of the air without vortices
    response: Array  # (S, S) m, strip circulation by normal velocity added over one strip
    joints: tuple[str, ...]
    carried: tuple[tuple[str, float], ...]  # surfaces carried across a body, root's y [m]
    hands: tuple[Hand, ...]  # of each strip
    unknowns: int  # of the system, or of either half system
    is_symmetric: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Answers:
    """One system's answers on the halves given."""

    states: Array  # (P, m) circulations
    far: Array  # (S, m)
    strips: Array  # (S, S) strip circulations


def solve_states(
    surfaces: tuple[LatticeSurface, ...],
    *,
    point: tuple[float, float, float],
    complete: bool = True,
    by_halves: bool = True,
    ground: float | None = None,
) -> Solution:
    """Solve the lattice for unit states of motion, of each control and of each strip.

    Parameters
    ----------
    surfaces : tuple of LatticeSurface
        All lifting surfaces, their keys different. [m]
    point : tuple of float
        Reference point of speeds and turning. [m]
    complete : bool, optional
        Whether the odd half system of a symmetric aeroplane is solved too, and the response
        of the strips; their columns are zero otherwise.
    by_halves : bool, optional
        Solve an aeroplane that is its own mirror image by halves: the same answer from a
        quarter of the work.
    ground : float, optional
        z of level ground, felt by the images of all vortices. [m]

    Returns
    -------
    Solution
    """
    _check(surfaces)
    bones, joints = skeletons(surfaces)
    half = build_lattice(bones)
    mirrored = np.array([surface.mirrored for surface in surfaces])
    centred = np.array([bone.is_centred for bone in bones])
    symmetric = by_halves and point[1] == 0.0 and bool(np.all(mirrored | centred))
    whole = both_halves(half, mirrored=mirrored)
    if ground is not None and not float(whole.stations.yz[:, 1].min()) > ground:
        raise DomainError("the ground must lie below the whole aeroplane")
    units, columns = _units(surfaces)
    onset = np.hstack([motion_onsets(whole, point), -_slopes(whole, units, columns, half)])
    if symmetric:
        states, far, strips = _by_halves(
            half, onset, columns, units, mirrored, centred, ground, complete=complete
        )
    else:
        states, far, strips = _as_whole(whole, onset, ground)
    return Solution(
        lattice=whole,
        half=len(half.strip),
        units=units,
        columns=tuple(columns),
        circulation=states,
        far=far,
        onset=onset,
        response=strips,
        joints=joints,
        carried=tuple((b.source.key, float(b.yz[1, 0])) for b in bones if b.carried),
        hands=_hands(half, mirrored),
        unknowns=len(half.strip) if symmetric else len(whole.strip),
        is_symmetric=symmetric,
    )


def motion_onsets(lattice: Lattice, point: tuple[float, float, float]) -> Array:
    """Air's normal velocity without vortices, by unit state of motion.

    Parameters
    ----------
    lattice : Lattice
        Control points, normals and slopes.
    point : tuple of float
        Reference point. [m]

    Returns
    -------
    ndarray, shape (P, 6)
        In the order of MOTIONS; speeds [-], rates [m].

    Notes
    -----
    Air meets a turning point with minus the point's speed. Slopes meet the local speed along
    x, which pitch and yaw rate change too.
    """
    ny, nz = lattice.strips.normal[lattice.strip].T
    x, y, z = (lattice.controls - np.array(point)).T
    s = lattice.slope
    return np.column_stack([-s, nz, nz * x + s * z, -ny, nz * y - ny * z, ny * x + s * y])


def strip_sums(lattice: Lattice, values: Array) -> Array:
    """Add over the panels of each strip.

    Parameters
    ----------
    lattice : Lattice
        Its panels go strip by strip.
    values : ndarray, shape (P, ...)
        One row per panel. [-]

    Returns
    -------
    ndarray, shape (S, ...)
        One row per strip. [-]
    """
    return np.add.reduceat(values, lattice.first, axis=0)


def plane_weights(lattice: Lattice) -> Array:
    """Share of each control point in the normal velocity of its strip in plane flow.

    Parameters
    ----------
    lattice : Lattice
        Its panels go strip by strip.

    Returns
    -------
    ndarray, shape (P,)
        Weights; those of a strip add up to one. [-]
    """
    counts = np.diff(np.append(lattice.first, len(lattice.strip)))
    return np.concatenate([_plane_share(rows) for rows in counts.tolist()])


@lru_cache(maxsize=32)
def _plane_share(rows: int) -> Array:
    return plane_flow(rows).sum(axis=0) / np.pi


def _check(surfaces: tuple[LatticeSurface, ...]) -> None:
    if not surfaces:
        raise DomainError("a lattice needs a surface")
    if len({surface.key for surface in surfaces}) < len(surfaces):
        raise DomainError("two surfaces have the same key")


def _units(surfaces: tuple[LatticeSurface, ...]) -> tuple[tuple[ControlUnit, ...], list[int]]:
    """List moving parts, and the column of each one's control in the lattice."""
    units: list[ControlUnit] = []
    columns: list[int] = []
    column = 0
    for surface in surfaces:
        hands = (Hand.RIGHT, Hand.LEFT) if surface.mirrored else (Hand.CENTRE,)
        for control in surface.controls:
            units += [ControlUnit(surface=surface.key, key=control.key, hand=h) for h in hands]
            columns += [column] * len(hands)
            column += 1
    return tuple(units), columns


def on_hand(lattice: Lattice, units: tuple[ControlUnit, ...], half: int) -> Array:
    """Whether a panel stands on the hand of a moving part.

    Parameters
    ----------
    lattice : Lattice
        Both halves.
    units : tuple of ControlUnit
        Moving parts.
    half : int
        Panels of the halves given, which come first. [-]

    Returns
    -------
    ndarray, shape (P, U)
        One or nothing. [-]
    """
    given = (np.arange(len(lattice.strip)) < half)[:, None]
    left = np.array([unit.hand is Hand.LEFT for unit in units], dtype=np.bool_)
    return (given != left).astype(np.float64)


def _slopes(
    whole: Lattice, units: tuple[ControlUnit, ...], columns: list[int], half: Lattice
) -> Array:
    """Slope of every panel by unit deflection of each moving part, (P, U)."""
    return whole.deflected[:, columns] * on_hand(whole, units, len(half.strip))


def _hands(half: Lattice, mirrored: Flags) -> tuple[Hand, ...]:
    surfaces = half.strips.surface.tolist()
    given = [Hand.RIGHT if mirrored[k] else Hand.CENTRE for k in surfaces]
    return (*given, *(Hand.LEFT for k in surfaces if mirrored[k]))


# ---------------------------------------------------------------- one system


def _as_whole(lattice: Lattice, onset: Array, ground: float | None) -> tuple[Array, Array, Array]:
    """Both halves as one system."""
    direct, far = _system(lattice, ground=ground, side=False)
    answers = _solved(lattice, direct, onset, far)
    return answers.states, answers.far, answers.strips


def _system(lattice: Lattice, *, ground: float | None, side: bool) -> tuple[Array, Array]:
    """Influence of the vortices (or of their images on the other side), near and far."""
    near = far = np.zeros(())
    for z in (None,) if ground is None else (None, ground):
        reflection = Reflection(side=side, ground=z)
        factor = leg_factors(lattice, reflection=reflection)
        near = near + influence(lattice, factor=factor, reflection=reflection)
        far = far + far_wash(lattice, factor=factor, reflection=reflection)
    return near, far


def _solved(
    lattice: Lattice, system: Array, onset: Array, far: Array, *, with_strips: bool = True
) -> _Answers:
    count = len(lattice.strips.surface)
    columns = onset
    if with_strips:
        columns = np.hstack([onset, lattice.strip[:, None] == np.arange(count)])
    answer = np.asarray(np.linalg.solve(system, -columns), dtype=np.float64)
    sums = strip_sums(lattice, answer)
    states = onset.shape[1]
    return _Answers(
        states=answer[:, :states],
        far=far @ sums[:, :states],
        strips=sums[:, states:] if with_strips else np.zeros((count, count)),
    )


# ---------------------------------------------------------------- two half systems


def _by_halves(
    half: Lattice,
    onset: Array,
    columns: list[int],
    units: tuple[ControlUnit, ...],
    mirrored: Flags,
    centred: Flags,
    ground: float | None,
    *,
    complete: bool,
) -> tuple[Array, Array, Array]:
    """Even system on the mirrored surfaces; odd system on them and the fins in the middle."""
    direct, far_direct = _system(half, ground=ground, side=False)
    mirror, far_mirror = _system(half, ground=ground, side=True)
    motion = onset[: len(half.strip), :6]
    deflected = -half.deflected
    middle, strips_middle = centred[half.owner], centred[half.strips.surface]
    even = _even(
        half,
        direct + mirror,
        np.hstack([motion[:, _EVEN], deflected]),
        far_direct + far_mirror,
        middle,
        with_strips=complete,
    )
    odd = None
    if complete:
        # A fin in the middle is its own image, turning the other way: half of it twice.
        weight = np.where(middle, 0.5, 1.0)
        bent = motion[:, _BENT] * middle[:, None]
        odd = _solved(
            half,
            (direct - mirror) * weight,
            np.hstack([motion[:, _ODD], deflected, bent]),
            (far_direct - far_mirror) * np.where(strips_middle, 0.5, 1.0),
        )
    panels = np.flatnonzero(mirrored[half.owner])
    strips = np.flatnonzero(mirrored[half.strips.surface])
    nothing = np.zeros((len(half.strips.surface),) * 2)
    return (
        _both(even.states, None if odd is None else odd.states, columns, units, panels),
        _both(even.far, None if odd is None else odd.far, columns, units, strips),
        _both_strips(even.strips, nothing if odd is None else odd.strips, strips_middle, strips),
    )


def _even(
    half: Lattice,
    system: Array,
    onset: Array,
    far: Array,
    middle: Flags,
    *,
    with_strips: bool,
) -> _Answers:
    """Even system, in which a surface in the middle takes no part."""
    if not middle.any():
        return _solved(half, system, onset, far, with_strips=with_strips)
    onset = np.where(middle[:, None], 0.0, onset)
    system = np.where(middle[:, None] | middle, 0.0, system)
    places = np.flatnonzero(middle)
    system[places, places] = 1.0
    answers = _solved(half, system, onset, far, with_strips=with_strips)
    alone = np.unique(half.strip[middle])
    answers.far[alone] = 0.0
    answers.strips[alone] = 0.0
    answers.strips[:, alone] = 0.0
    return answers


def _both(
    even: Array,
    odd: Array | None,
    columns: list[int],
    units: tuple[ControlUnit, ...],
    copied: Places,
) -> Array:
    """Right and left hand from the even and the odd part of each state."""
    count = len(MOTIONS) + len(units)
    same, other = np.zeros((len(even), count)), np.zeros((len(even), count))
    same[:, _EVEN] = even[:, :3]
    if odd is not None:
        other[:, _ODD] = odd[:, :3]
        other[:, _BENT] = odd[:, -2:]
    for state, (column, unit) in enumerate(zip(columns, units, strict=True), start=len(MOTIONS)):
        share = 1.0 if unit.hand is Hand.CENTRE else 0.5
        same[:, state] = share * even[:, 3 + column]
        if odd is not None:
            other[:, state] = (-share if unit.hand is Hand.LEFT else share) * odd[:, 3 + column]
    return np.vstack([same + other, (same - other)[copied]])


def _both_strips(even: Array, odd: Array, middle: Flags, copied: Places) -> Array:
    """Response of all strips to each of them: one side is half even and half odd."""
    same, other = 0.5 * even, np.where(middle, 1.0, 0.5) * odd
    right = np.vstack([same + other, (same - other)[copied]])
    left = np.vstack([same - other, (same + other)[copied]])[:, copied]
    return np.hstack([right, left])
