"""Where surfaces meet, so that their strips can be made to meet there too.

Chord lines are drawn along x, so a surface seen from behind is a polyline in (y, z) and
a joint is a point where two polylines touch over a common stretch of x.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.surfaces import LatticeSurface
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: An end nearer than this share of its chord to the centre plane or to another surface meets
#: it: sheet thicknesses and glue gaps, not open air.
SNAP = 0.08
#: A root further out than SNAP but nearer than this share of its chord is carried across: a
#: body fills such a gap, and lift goes on over it (common practice, no source).
CARRY = 0.35
#: Steeper than this the root of a mirrored surface is a twin fin's and carries nothing across.
_STEEP = np.radians(60.0)
#: A stub beyond a joint shorter than this share of SNAP is cut off: it is a sheet's thickness.
_STUB = 0.3
#: Sine of an angle, or share of a length, that counts as nothing.
_PARALLEL = 1e-6
#: Overlap of two chords that makes a joint, as a share of the shorter one.
_OVERLAP = 0.1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Skeleton:
    """One surface seen from behind, with its chords."""

    source: LatticeSurface
    yz: Array  # (n, 2) m, panel ends
    nose: Array  # (n, 2) m, x of the leading edge at the root and at the tip of a panel ...
    chord: Array  # ... and its chord there; one row per panel
    breaks: tuple[tuple[int, float], ...]  # (panel, fraction) of extra strip edges
    root_closed: bool  # goes on there: centre plane or joint
    tip_closed: bool
    carried: bool  # panel 0 is the stretch carried across a body

    @property
    def is_centred(self) -> bool:
        """Whether it lies in the plane y = 0."""
        return not self.source.mirrored and bool(np.all(self.yz[:, 0] == 0.0))

    def reach(self, panel: int, at: float) -> tuple[float, float]:
        """Leading and trailing edge there. [m]"""
        nose = float(self.nose[panel] @ (1.0 - at, at))
        return nose, nose + float(self.chord[panel] @ (1.0 - at, at))


def skeletons(surfaces: tuple[LatticeSurface, ...]) -> tuple[tuple[Skeleton, ...], tuple[str, ...]]:
    """Surfaces seen from behind, their ends brought together where they meet.

    Parameters
    ----------
    surfaces : tuple of LatticeSurface
        The aeroplane.

    Returns
    -------
    tuple
        Skeletons in the same order, and the joined pairs as ``"wing+fin"``, for the notes.
    """
    bones = [_closed_at_centre(_skeleton(surface)) for surface in surfaces]
    met: set[tuple[int, int]] = set()
    for i, j in permutations(range(len(bones)), 2):
        for tip in (False, True):
            if _end_meets(bones, i, j, tip=tip):
                met.add((i, j))
    # Ends first: one that pokes through by a sheet's thickness is no crossing.
    for i, j in combinations(range(len(bones)), 2):
        if _cross(bones, i, j):
            met.add((i, j))
    joined = {"+".join(sorted((surfaces[i].key, surfaces[j].key))) for i, j in met}
    return tuple(bones), tuple(sorted(joined))


def _skeleton(surface: LatticeSurface) -> Skeleton:
    panels = surface.panels
    yz = np.array([p.root_leading[1:] for p in panels] + [panels[-1].tip_leading[1:]])
    nose = np.array([[p.root_leading[0], p.tip_leading[0]] for p in panels])
    tail = np.array([[p.root_trailing[0], p.tip_trailing[0]] for p in panels])
    chord = tail - nose
    length = np.linalg.norm(np.diff(yz, axis=0), axis=1)
    for i, panel in enumerate(panels[:-1]):
        if np.linalg.norm(panel.tip_leading[1:] - yz[i + 1]) > 0.01 * length.sum():
            raise DomainError(f"{surface.key}: panel {i + 2} does not begin where {i + 1} ends")
    if np.any(chord < 0.0) or np.any(chord.sum(axis=1) <= 0.0) or np.any(length <= 0.0):
        raise DomainError(f"{surface.key}: a panel without area")
    breaks = tuple((i, at) for i, p in enumerate(panels) for at in p.stations if 0.0 < at < 1.0)
    return Skeleton(
        source=surface,
        yz=yz,
        nose=nose,
        chord=chord,
        breaks=breaks,
        root_closed=False,
        tip_closed=False,
        carried=False,
    )


def _closed_at_centre(bone: Skeleton) -> Skeleton:
    """Bring ends near the centre plane onto it, or carry the root across a body."""
    yz = bone.yz.copy()
    chord = bone.chord[0, 0]
    if not bone.source.mirrored:
        if np.all(np.abs(yz[:, 0]) < SNAP * chord):  # a fin in the middle
            yz[:, 0] = 0.0
        return replace(bone, yz=yz)
    if abs(yz[-1, 0]) < SNAP * bone.chord[-1, 1]:  # an A-tail closes at its tip
        yz[-1, 0] = 0.0
        return replace(bone, yz=yz, tip_closed=True)
    across = np.diff(yz, axis=0)[0]
    if abs(yz[0, 0]) < SNAP * chord:
        yz[0, 0] = 0.0
        return replace(bone, yz=yz, root_closed=True)
    if yz[0, 0] > CARRY * chord or abs(np.arctan2(across[1], across[0])) > _STEEP:
        return bone
    return replace(
        bone,
        yz=np.vstack([[0.0, yz[0, 1]], yz]),
        nose=np.vstack([np.full(2, bone.nose[0, 0]), bone.nose]),
        chord=np.vstack([np.full(2, chord), bone.chord]),
        breaks=tuple((panel + 1, at) for panel, at in bone.breaks),
        root_closed=True,
        carried=True,
    )


def _outward(bone: Skeleton) -> Array:
    """Polyline on the right-hand side, where joints with mirrored surfaces are looked for."""
    return bone.yz * (_side(bone), 1.0)


def _side(bone: Skeleton) -> float:
    """-1 for a single surface on the left, otherwise 1."""
    return -1.0 if not bone.source.mirrored and bone.yz[:, 0].mean() < 0.0 else 1.0


def _end_meets(bones: list[Skeleton], i: int, j: int, *, tip: bool) -> bool:
    """Bring one end of surface i onto surface j where it meets it; say whether it does."""
    one, other = bones[i], bones[j]
    row = -1 if tip else 0
    here = _outward(one)[row]
    limit = SNAP * 0.5 * float(one.chord[row].sum())
    panel, at, foot = _nearest(_outward(other), here)
    if np.linalg.norm(here - foot) > limit:
        return False
    if not _overlap(
        one.reach(len(one.chord) - 1 if tip else 0, float(tip)), other.reach(panel, at)
    ):
        return False
    at_end = _end_at(other, panel, foot, _STUB * limit)
    if at_end is None:
        bones[i] = _moved(one, foot, tip=tip)
        bones[j] = replace(other, breaks=(*other.breaks, (panel, at)))
        return True
    # Two ends meet: the one that need only grow or shrink moves.
    place = (
        foot
        if _lengthwise(one, foot - here, tip=tip) >= _lengthwise(other, foot - here, tip=at_end)
        else here
    )
    bones[i] = _moved(one, place, tip=tip)
    bones[j] = _moved(other, place, tip=at_end)
    return True


def _end_at(bone: Skeleton, panel: int, place: Array, stub: float) -> bool | None:
    """Whether a place is at the tip (True) or at the root (False) of a surface; else None."""
    line = _outward(bone)
    if panel == 0 and np.linalg.norm(place - line[0]) < stub:
        return False
    if panel == len(line) - 2 and np.linalg.norm(place - line[-1]) < stub:
        return True
    return None


def _lengthwise(bone: Skeleton, way: Array, *, tip: bool) -> float:
    """How much of a way lies along the end panel of a surface. [m]"""
    line = _outward(bone)
    along = line[-1] - line[-2] if tip else line[1] - line[0]
    return abs(float(way @ along)) / float(np.linalg.norm(along))


def _moved(bone: Skeleton, to: Array, *, tip: bool) -> Skeleton:
    """Bring one end to a joint; what stands in the middle plane stays in it."""
    yz = bone.yz.copy()
    row = -1 if tip else 0
    y = 0.0 if yz[row, 0] == 0.0 else to[0] * _side(bone)
    yz[row] = y, to[1]
    return replace(bone, yz=yz, tip_closed=True) if tip else replace(bone, yz=yz, root_closed=True)


def _nearest(line: Array, point: Array) -> tuple[int, float, Array]:
    """Piece, fraction along it and foot of the point of a polyline nearest to a point."""
    step = np.diff(line, axis=0)
    at = np.clip(((point - line[:-1]) * step).sum(axis=1) / (step**2).sum(axis=1), 0.0, 1.0)
    feet = line[:-1] + at[:, None] * step
    piece = int(np.argmin(((feet - point) ** 2).sum(axis=1)))
    return piece, float(at[piece]), feet[piece]


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    common = min(one[1], other[1]) - max(one[0], other[0])
    return common > _OVERLAP * min(one[1] - one[0], other[1] - other[0])


def _cross(bones: list[Skeleton], i: int, j: int) -> bool:
    """Put a strip edge on both surfaces where they pass through each other."""
    one, other = _outward(bones[i]), _outward(bones[j])
    found = False
    for m in range(len(one) - 1):
        for n in range(len(other) - 1):
            met = _crossing(one[m], one[m + 1], other[n], other[n + 1])
            if met is None:
                continue
            at, to = met
            if not _overlap(bones[i].reach(m, at), bones[j].reach(n, to)):
                continue
            bones[i] = replace(bones[i], breaks=(*bones[i].breaks, (m, at)))
            bones[j] = replace(bones[j], breaks=(*bones[j].breaks, (n, to)))
            found = True
    return found


def _crossing(a: Array, b: Array, c: Array, d: Array) -> tuple[float, float] | None:
    """Fractions along a-b and c-d where they pass through each other; None where not."""
    one, other, off = b - a, d - c, c - a
    turn = float(one[0] * other[1] - one[1] * other[0])
    if abs(turn) < _PARALLEL * float(np.hypot(*one) * np.hypot(*other)):
        return None
    at = float(off[0] * other[1] - off[1] * other[0]) / turn
    to = float(off[0] * one[1] - off[1] * one[0]) / turn
    inside = all(_PARALLEL < place < 1.0 - _PARALLEL for place in (at, to))
    return (at, to) if inside else None
