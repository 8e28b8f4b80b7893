"""Steady vortex lattice of a whole aeroplane: lift slope, neutral point, span loads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.influence import influence
from foamwright.air.junctions import Skeleton, skeletons
from foamwright.air.mesh import Lattice, both_halves, build_lattice
from foamwright.air.results import (
    LateralSlopes,
    LatticeReference,
    LatticeResult,
    SpanLoad,
    SurfaceShare,
)
from foamwright.air.surfaces import LatticeSurface
from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Said with every result.
LEFT_OUT = (
    "bodies, gear and propellers are left out; a body moves the neutral point forward",
    "inviscid and thin: a real model differs by 5 % in lift slope, 3 % of chord in neutral point",
    "wakes lie along the x axis; they neither sag nor roll up",
)


def solve_lattice(
    surfaces: tuple[LatticeSurface, ...],
    *,
    reference_area: float,
    reference_chord: float,
    reference_span: float,
    reference_point: tuple[float, float, float] = (0.0, 0.0, 0.0),
    lateral: bool = False,
    by_halves: bool = True,
) -> LatticeResult:
    r"""Solve the steady lattice of an aeroplane.

    Parameters
    ----------
    surfaces : tuple of LatticeSurface
        All lifting surfaces, their keys different. [m]
    reference_area : float
        S. [m²]
    reference_chord : float
        c, for pitching moments and the pitch rate. [m]
    reference_span : float
        b, for rolling and yawing moments and the roll rate. [m]
    reference_point : tuple of float, optional
        Point of the moments and of the turning. [m]
    lateral : bool, optional
        Whether sideslip and roll are solved too.
    by_halves : bool, optional
        Solve an aeroplane that is its own mirror image by halves: the same answer from a
        quarter of the work.

    Returns
    -------
    LatticeResult

    Notes
    -----
    Linear lifting-surface theory at low speed: surfaces without thickness, chord lines drawn
    along x at the height of the leading edge; incidence, twist and camber as slopes; wakes
    along x; loads to first order. With the numbers of strips and rows that are built in,
    lift slope is within 0.3 % and neutral point within 0.5 % of chord of the converged
    answer of that theory (docs/rooms/air.md); how near the theory comes to a real model is
    said in the notes of the result.

    References
    ----------
    .. [1] J. Katz, A. Plotkin, Low-Speed Aerodynamics, 2nd ed., 2001, ch. 12.
    """
    _check(surfaces, min(reference_area, reference_chord, reference_span))
    reference = LatticeReference(
        area=reference_area, chord=reference_chord, span=reference_span, point=reference_point
    )
    bones, joints = skeletons(surfaces)
    lattice = build_lattice(bones)
    mirrored = np.array([surface.mirrored for surface in surfaces])
    centred = np.array([bone.is_centred for bone in bones])
    symmetric = by_halves and bool(np.all(mirrored | centred))
    if symmetric:
        sums = _halves(lattice, reference, centred, lateral=lateral)
    else:
        sums = _whole(both_halves(lattice, mirrored=mirrored), reference, lateral=lateral)
    return _result(lattice, reference, sums, bones, joints, symmetric=symmetric)


def _check(surfaces: tuple[LatticeSurface, ...], smallest: float) -> None:
    if not surfaces or not smallest > 0.0:
        raise DomainError("a lattice needs a surface, and reference measures above zero")
    keys = {surface.key for surface in surfaces}
    if len(keys) < len(surfaces):
        raise DomainError("two surfaces have the same key")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sums:
    """Circulations and coefficients; even cases: incidence, zero, pitch rate."""

    circulation: Array  # (P, 2) m, per unit speed: at 1 rad of incidence and at zero
    lift: Array  # (K, 3) by surface and even case
    pitch: Array  # (K, 3)
    lateral: LateralSlopes | None


def _onsets(lattice: Lattice, reference: LatticeReference) -> tuple[Array, Array]:
    """Return the air's normal velocity without vortices, (P, 3) even and (P, 2) odd. [-]

    Even: 1 rad of incidence, the surface's own slopes, a pitch rate of 2V/c. Odd: 1 rad of
    sideslip, a roll rate of 2V/b. Air meets a turning point with minus the point's speed.
    """
    normal = lattice.strips.normal[lattice.strip]
    x, y, z = (lattice.controls - np.array(reference.point)).T
    pitch = normal[:, 1] * x * (2.0 / reference.chord)
    roll = (normal[:, 1] * y - normal[:, 0] * z) * (2.0 / reference.span)
    return (
        np.column_stack([normal[:, 1], -lattice.slope, pitch]),
        np.column_stack([-normal[:, 0], roll]),
    )


def _arms(lattice: Lattice, reference: LatticeReference) -> Array:
    """Lift, pitch, side, roll and yaw coefficients per unit of circulation, (5, P). [1/m]

    The force is air density times speed times circulation times x cross the bound vortex;
    moments are nose up, right wing down, nose right.
    """
    nodes = lattice.nodes
    along = nodes[lattice.right] - nodes[lattice.left]
    x, y, z = (0.5 * (nodes[lattice.right] + nodes[lattice.left]) - np.array(reference.point)).T
    lift = along[:, 1] * (2.0 / reference.area)
    side = -along[:, 2] * (2.0 / reference.area)
    return np.stack(
        [
            lift,
            -x * lift / reference.chord,
            side,
            (z * side - y * lift) / reference.span,
            -x * side / reference.span,
        ]
    )


def _halves(
    lattice: Lattice,
    reference: LatticeReference,
    centred: NDArray[np.bool_],
    *,
    lateral: bool,
) -> _Sums:
    """Even system on the mirrored surfaces; odd system on them and the fins in the middle."""
    middle = centred[lattice.owner]
    direct, mirror = influence(lattice), influence(lattice, image=True)
    even, odd = _onsets(lattice, reference)
    arms = _arms(lattice, reference)
    circulation = np.zeros_like(even)
    wings = np.flatnonzero(~middle)
    if len(wings):
        system = direct + mirror
        if len(wings) < len(middle):
            system = system[np.ix_(wings, wings)]
        circulation[wings] = np.linalg.solve(system, -even[wings])
    slopes = None
    if lateral:
        # A fin in the middle is its own image, turning the other way: half of it twice.
        weight = np.where(middle, 0.5, 1.0)
        turning = np.linalg.solve((direct - mirror) * weight, -odd)
        slopes = _lateral(arms, 2.0 * weight[:, None] * turning)
    return _sums(lattice, arms, 2.0 * circulation, slopes, circulation, len(centred))


def _whole(lattice: Lattice, reference: LatticeReference, *, lateral: bool) -> _Sums:
    """Both halves as one system."""
    even, odd = _onsets(lattice, reference)
    onsets = np.hstack([even, odd]) if lateral else even
    circulation = np.asarray(np.linalg.solve(influence(lattice), -onsets), dtype=np.float64)
    arms = _arms(lattice, reference)
    slopes = _lateral(arms, circulation[:, 3:]) if lateral else None
    count = int(lattice.owner.max()) + 1
    return _sums(lattice, arms, circulation[:, :3], slopes, circulation[:, :3], count)


def _sums(
    lattice: Lattice,
    arms: Array,
    counted: Array,
    lateral: LateralSlopes | None,
    circulation: Array,
    surfaces: int,
) -> _Sums:
    belongs = lattice.owner == np.arange(surfaces)[:, None]
    return _Sums(
        circulation=circulation[:, :2],
        lift=(belongs * arms[0]) @ counted,
        pitch=(belongs * arms[1]) @ counted,
        lateral=lateral,
    )


def _lateral(arms: Array, turning: Array) -> LateralSlopes:
    slip, roll = (arms[2:] @ turning).T.tolist()
    return LateralSlopes(
        side_sideslip=slip[0], roll_sideslip=slip[1], yaw_sideslip=slip[2], roll_damping=roll[1]
    )


def _result(
    lattice: Lattice,
    reference: LatticeReference,
    sums: _Sums,
    bones: tuple[Skeleton, ...],
    joints: tuple[str, ...],
    *,
    symmetric: bool,
) -> LatticeResult:
    lift_slope, lift_zero, lift_rate = sums.lift.sum(axis=0).tolist()
    moment_slope, moment_zero, moment_rate = sums.pitch.sum(axis=0).tolist()
    lifts = lift_slope > 0.0
    ahead = moment_slope / lift_slope if lifts else np.nan  # lift's arm, in chords
    keys = [bone.source.key for bone in bones]
    shares = [
        SurfaceShare(
            key=key,
            lift_slope=lift[0],
            moment_slope=pitch[0],
            lift_at_zero=lift[1],
            moment_at_zero=pitch[1],
        )
        for key, lift, pitch in zip(keys, sums.lift.tolist(), sums.pitch.tolist(), strict=True)
    ]
    return LatticeResult(
        reference=reference,
        lift_slope=lift_slope,
        moment_slope=moment_slope,
        neutral_point=reference.point[0] - reference.chord * ahead,
        lift_at_zero=lift_zero,
        moment_at_zero=moment_zero,
        zero_lift_angle=-lift_zero / lift_slope if lifts else np.nan,
        zero_lift_moment=moment_zero - ahead * lift_zero,
        lift_pitch_rate=lift_rate,
        moment_pitch_rate=moment_rate,
        lateral=sums.lateral,
        shares=tuple(shares),
        loads=tuple(_load(lattice, sums.circulation, k, key) for k, key in enumerate(keys)),
        joints=joints,
        panels=len(lattice.strip),
        is_symmetric=symmetric,
        notes=(*LEFT_OUT, *_shape_notes(bones, lifts=lifts)),
    )


def _load(lattice: Lattice, circulation: Array, surface: int, key: str) -> SpanLoad:
    """Span load of the half given: c cl = 2 circulation / speed, summed over each strip."""
    strips = lattice.strips
    mine = strips.surface == surface
    load = np.zeros((len(strips.surface), 2))
    np.add.at(load, lattice.strip, 2.0 * circulation[: len(lattice.strip)])
    width = np.linalg.norm(strips.edges[mine, 1] - strips.edges[mine, 0], axis=1)
    y, z, unit, at_zero = strips.yz[mine, 0], strips.yz[mine, 1], load[mine, 0], load[mine, 1]
    chord = strips.chord[mine]
    for values in (y, z, width, chord, unit, at_zero):
        values.flags.writeable = False
    return SpanLoad(key=key, y=y, z=z, width=width, chord=chord, unit=unit, at_zero=at_zero)


def _shape_notes(bones: tuple[Skeleton, ...], *, lifts: bool) -> tuple[str, ...]:
    notes = [
        f"{bone.source.key}: the root stands {1e3 * bone.yz[1, 0]:.0f} mm off the middle; lift is"
        " carried across the gap as over a body"
        for bone in bones
        if bone.carried
    ]
    if not lifts:
        notes.append("nothing lifts: there is no neutral point")
    return tuple(notes)
