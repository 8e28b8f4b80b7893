"""Forces on the strips of all surfaces: lattice, sections, wash."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.thin import flap_effect
from foamwright.air.solve import MOTIONS
from foamwright.air.stall.polars import SectionsAt
from foamwright.air.stall.solve import StripMotion, solve_strips, wake_share
from foamwright.air.stall.system import StripSystem
from foamwright.air.state import FlatStates
from foamwright.air.tensor import LiftTensor, hinge_moments, loads, motion_state

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripForces:
    """What all strips add up to; loads are aft, right, up, right wing down, nose up, nose right."""

    loads: Array  # (B, 6) N, N m
    induced: Array  # (B, 3) N, the part of the force that is induced drag
    section: Array  # (B, K, 3) N, profile drag by surface
    hinge: Array  # (B, U) N m, trailing edge down
    circulation: Array  # (B, S) m²/s
    alpha: Array  # (B, S) rad, effective incidence
    over: Array  # (B, S) rad beyond the section's own stall where positive
    converged: Flags  # (B,)
    within: Flags  # (B,)


@dataclass(frozen=True, slots=True, eq=False)
class _Air:
    """Air at the strips' quarter points, (B, S) each. [m/s]"""

    aft: Array
    along: Array  # along the strip, from left to right
    up: Array  # square to the strip, from the lower face


def strip_forces(
    tensor: LiftTensor, system: StripSystem, states: FlatStates, *, added: Array | None = None
) -> StripForces:
    r"""Find the forces of all strips in states of flight.

    Parameters
    ----------
    tensor : LiftTensor
        The lattice, about the point of the states.
    system : StripSystem
        Its strips with their sections: both hands, or the right half with the middle where
        every state is its own mirror image.
    states : FlatStates
        States.
    added : ndarray, (B, S, 3), optional
        Air that propellers add at the strips. [m/s]

    Returns
    -------
    StripForces

    Notes
    -----
    The lattice's bilinear tensor gives the attached, inviscid loads. To them is added what
    the sections change: the difference of the strips' circulations, at their quarter points,
    with the wash of the Trefftz plane tilting both; profile drag along the air that meets
    the strip; and the difference of quarter-chord moments. A section that behaves as thin
    theory says changes nothing.
    """
    x = motion_state(
        tensor,
        speed=states.airspeed,
        incidence=states.alpha,
        sideslip=states.beta,
        rates=states.rates,
        deflections=states.controls,
    )
    air = _strip_air(system, tensor, x)
    blown = air if added is None else _blown(system, air, added)
    sections, motion = _meeting(system, states, x, blown, added)
    solved = solve_strips(system, sections, motion)
    circulation = solved.circulation * states.airspeed[:, None]
    rho = states.density[:, None]
    lattice = x @ system.circulation.T
    share = wake_share(motion)
    lifted, induced = _bound(system, tensor, circulation, blown, share)
    before, _ = _bound(system, tensor, lattice, air, np.ones_like(share))
    drag, moments = _profile(system, tensor, sections, solved.alpha, blown, states)
    total = loads(tensor, x) + lifted.sum(axis=1) - before.sum(axis=1) + drag.sum(axis=1) + moments
    total = _mirrored(system, total)
    surfaces = np.arange(len(system.keys))[:, None] == system.surface
    return StripForces(
        loads=total * rho,
        induced=_mirrored(system, induced.sum(axis=1)) * rho,
        section=_mirrored(system, surfaces.astype(np.float64) @ drag[..., :3]) * rho[..., None],
        hinge=hinge_moments(tensor, x) * rho,
        circulation=circulation,
        alpha=solved.alpha,
        over=np.maximum(solved.alpha - sections.upper, sections.lower - solved.alpha),
        converged=solved.converged,
        within=np.asarray(sections.within.all(axis=-1)),
    )


def mix_forces(found: list[tuple[NDArray[np.intp], Array, StripForces]], count: int) -> StripForces:
    """Mix the forces of several levels, each for some of the states.

    Parameters
    ----------
    found : list of tuple
        Which states, their weights [-] and their forces.
    count : int
        States in all.

    Returns
    -------
    StripForces
    """

    def mean(name: str) -> Array:
        first: Array = getattr(found[0][2], name)
        total = np.zeros((count, *first.shape[1:]))
        for which, weight, forces in found:
            values: Array = getattr(forces, name)
            total[which] += weight.reshape(-1, *(1,) * (values.ndim - 1)) * values
        return total

    def everywhere(name: str) -> Flags:
        flags = np.ones(count, dtype=np.bool_)
        for which, _, forces in found:
            flags[which] &= getattr(forces, name)
        return flags

    return StripForces(
        loads=mean("loads"),
        induced=mean("induced"),
        section=mean("section"),
        hinge=mean("hinge"),
        circulation=mean("circulation"),
        alpha=mean("alpha"),
        over=mean("over"),
        converged=everywhere("converged"),
        within=everywhere("within"),
    )


def _mirrored(system: StripSystem, values: Array) -> Array:
    """Where one half stands for both, nothing is left across the plane of symmetry."""
    if not np.any(system.count > 1.0):
        return values
    even = np.array([1.0, 0.0, 1.0, 0.0, 1.0, 0.0])[: values.shape[-1]]
    return values * even


def _strip_air(system: StripSystem, tensor: LiftTensor, x: Array) -> _Air:
    """Air as it comes, without vortices. The air meets a turning point with minus its speed."""
    px, py, pz = (system.quarter - np.array(tensor.reference.point)).T
    u, w, q, v, p, r = (x[:, k, None] for k in range(len(MOTIONS)))
    aft = u - q * pz - r * py
    right = -v - p * pz + r * px
    up = w + q * px + p * py
    ny, nz = system.normal[:, 1], system.normal[:, 2]
    return _Air(aft, right * nz - up * ny, right * ny + up * nz)


def _blown(system: StripSystem, air: _Air, added: Array) -> _Air:
    ny, nz = system.normal[:, 1], system.normal[:, 2]
    return _Air(
        air.aft + added[..., 0],
        air.along + added[..., 1] * nz - added[..., 2] * ny,
        air.up + added[..., 1] * ny + added[..., 2] * nz,
    )


def _meeting(
    system: StripSystem, states: FlatStates, x: Array, air: _Air, added: Array | None
) -> tuple[SectionsAt, StripMotion]:
    """Sections at the strips' own speeds, and how the air meets them as the lattice feels it."""
    speed = states.airspeed[:, None]
    local = np.hypot(air.aft, air.up)
    reynolds = local * system.chord * (states.density / states.viscosity)[:, None]
    sections = system.polars.at(reynolds, states.controls @ system.unit.T)
    felt = x[:, 1 : len(MOTIONS)] @ system.onset[:, 1 : len(MOTIONS)].T
    if added is not None:
        felt = felt + (added[..., 1:] * system.normal[:, 1:]).sum(axis=-1)
    return sections, StripMotion(
        u=air.aft / speed,
        w=felt / speed,
        built_in=system.built_in + states.controls @ system.by_control.T,
    )


def _bound(
    system: StripSystem, tensor: LiftTensor, circulation: Array, air: _Air, share: Array
) -> tuple[Array, Array]:
    """Find loads of the strips' vortices over density, (B, S, 6), and their induced drag.

    As in :mod:`foamwright.air.loads`: V x l with the bound vortex along the quarter-chord
    line; half of the Trefftz plane's wash tilts it, as far as wakes act there.
    """
    wash = 0.5 * share * (circulation @ system.far.T)
    lx = system.along[:, 0]
    lt = np.linalg.norm(system.along[:, 1:], axis=1)
    counted = circulation * system.count
    plain = _vector(system, -air.up * lt, air.up * lx, air.aft * lt - air.along * lx, counted)
    tilt = _vector(system, -wash * lt, wash * lx, np.zeros_like(wash), counted)
    return _with_moments(system, tensor, plain + tilt), tilt


def _vector(system: StripSystem, aft: Array, along: Array, up: Array, factor: Array) -> Array:
    """Turn forces aft, along the strip and square to it into aft, right, up, (B, S, 3)."""
    ny, nz = system.normal[:, 1], system.normal[:, 2]
    return np.stack(
        [factor * aft, factor * (along * nz + up * ny), factor * (up * nz - along * ny)], axis=-1
    )


def _with_moments(system: StripSystem, tensor: LiftTensor, force: Array) -> Array:
    x, y, z = (system.quarter - np.array(tensor.reference.point)).T
    aft, right, up = force[..., 0], force[..., 1], force[..., 2]
    moment = np.stack([z * right - y * up, z * aft - x * up, y * aft - x * right], axis=-1)
    return np.concatenate([force, moment], axis=-1)


def _profile(
    system: StripSystem,
    tensor: LiftTensor,
    sections: SectionsAt,
    alpha: Array,
    air: _Air,
    states: FlatStates,
) -> tuple[Array, Array]:
    """Profile drag of the strips, (B, S, 6), and the moments that sections add, (B, 6)."""
    values = sections.all(alpha)
    speed2 = air.aft**2 + air.up**2
    size = 0.5 * system.area * system.count
    push = size * values.cd * np.sqrt(speed2)
    # A stalled plate's drag stands square to it whatever comes along the span: cd has it.
    drag = _vector(system, push * air.aft, push * air.along * 0.0, push * air.up, np.ones(()))
    polars = system.polars
    fraction = np.where(polars.flap > 0.0, polars.flap, 0.5)
    own = flap_effect(fraction).cm_delta * (states.controls @ system.unit.T)
    thin = (polars.moment0 + own * polars.cosine**2) * air.aft**2
    couple = size * system.chord * (values.cm * speed2 - thin)
    moments = np.zeros((len(alpha), 6))
    moments[:, 4] = couple @ system.normal[:, 2]
    moments[:, 5] = couple @ system.normal[:, 1]
    return _with_moments(system, tensor, drag), moments
