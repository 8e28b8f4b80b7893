"""Steady vortex lattice of a whole aeroplane: lift slope, neutral point, span loads."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.loads import load_arms
from foamwright.air.results import (
    LateralSlopes,
    LatticeReference,
    LatticeResult,
    SpanLoad,
    SurfaceShare,
)
from foamwright.air.solve import Solution, solve_states, strip_sums
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
    if not min(reference_area, reference_chord, reference_span) > 0.0:
        raise DomainError("a lattice needs reference measures above zero")
    reference = LatticeReference(
        area=reference_area, chord=reference_chord, span=reference_span, point=reference_point
    )
    solution = solve_states(surfaces, point=reference_point, complete=lateral, by_halves=by_halves)
    sums = _sums(solution, reference, len(surfaces))
    return _result(solution, reference, sums, [s.key for s in surfaces], lateral=lateral)


def _sums(solution: Solution, reference: LatticeReference, surfaces: int) -> Array:
    """Coefficients at unit forward speed by surface, load and state of motion, (K, 5, 6).

    Lift, pitch, side, roll, yaw; linear in the circulations, rates over 2V.
    """
    s, c, b = reference.area, reference.chord, reference.span
    arms = load_arms(solution.lattice, reference.point)[[2, 4, 1, 3, 5], 0]
    arms *= (2.0 / s / np.array([1.0, c, 1.0, b, b]))[:, None]
    rates = np.array([1.0, 1.0, 2.0 / c, 1.0, 2.0 / b, 2.0 / b])
    belongs = solution.lattice.owner == np.arange(surfaces)[:, None]
    return (belongs[:, None] * arms) @ (solution.circulation[:, :6] * rates)


def _result(
    solution: Solution,
    reference: LatticeReference,
    sums: Array,
    keys: list[str],
    *,
    lateral: bool,
) -> LatticeResult:
    whole = sums.sum(axis=0)
    (lift_zero, lift_slope, lift_rate), (moment_zero, moment_slope, moment_rate) = whole[
        :2, :3
    ].tolist()
    lifts = lift_slope > 0.0
    ahead = moment_slope / lift_slope if lifts else np.nan  # lift's arm, in chords
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
        lateral=LateralSlopes(
            side_sideslip=float(whole[2, 3]),
            roll_sideslip=float(whole[3, 3]),
            yaw_sideslip=float(whole[4, 3]),
            roll_damping=float(whole[3, 4]),
        )
        if lateral
        else None,
        shares=tuple(_share(key, of) for key, of in zip(keys, sums.tolist(), strict=True)),
        loads=_loads(solution, keys),
        joints=solution.joints,
        panels=solution.half,
        is_symmetric=solution.is_symmetric,
        notes=(*LEFT_OUT, *shape_notes(solution, lifts=lifts)),
    )


def _share(key: str, sums: list[list[float]]) -> SurfaceShare:
    lift, pitch = sums[:2]
    return SurfaceShare(
        key=key,
        lift_slope=lift[1],
        moment_slope=pitch[1],
        lift_at_zero=lift[0],
        moment_at_zero=pitch[0],
    )


def _loads(solution: Solution, keys: list[str]) -> tuple[SpanLoad, ...]:
    """Span loads of the halves given: c cl = 2 circulation / speed, summed over each strip."""
    strips = solution.lattice.strips
    load = 2.0 * strip_sums(solution.lattice, solution.circulation[:, [1, 0]])
    width = np.linalg.norm(strips.edges[:, 1] - strips.edges[:, 0], axis=1)
    given = np.arange(len(strips.surface)) <= solution.lattice.strip[solution.half - 1]
    loads: list[SpanLoad] = []
    for k, key in enumerate(keys):
        mine = given & (strips.surface == k)
        y, z, chord, unit, at_zero = (
            strips.yz[mine, 0],
            strips.yz[mine, 1],
            strips.chord[mine],
            load[mine, 0],
            load[mine, 1],
        )
        of = width[mine]
        for values in (y, z, of, chord, unit, at_zero):
            values.flags.writeable = False
        loads.append(SpanLoad(key=key, y=y, z=z, width=of, chord=chord, unit=unit, at_zero=at_zero))
    return tuple(loads)


def shape_notes(solution: Solution, *, lifts: bool) -> tuple[str, ...]:
    """Say what was taken for granted about the shape of an aeroplane.

    Parameters
    ----------
    solution : Solution
        Its lattice, solved.
    lifts : bool
        Whether anything lifts.

    Returns
    -------
    tuple of str
    """
    notes = [
        f"{key}: the root stands {1e3 * y:.0f} mm off the middle; lift is"
        " carried across the gap as over a body"
        for key, y in solution.carried
    ]
    if not lifts:
        notes.append("nothing lifts: there is no neutral point")
    return tuple(notes)
