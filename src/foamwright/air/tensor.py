"""One small tensor that holds every linear load of an aeroplane, in any state of motion."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.lattice import LEFT_OUT, shape_notes
from foamwright.air.loads import load_arms, suction_arms
from foamwright.air.mesh import Lattice
from foamwright.air.results import LatticeReference
from foamwright.air.skew import skew_tensor
from foamwright.air.solve import (
    MOTIONS,
    ControlUnit,
    Solution,
    on_hand,
    solve_states,
)
from foamwright.air.strips import LatticeStrips, strip_table
from foamwright.air.surfaces import LatticeSurface
from foamwright.errors import DomainError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LiftTensor:
    r"""Loads of an aeroplane in every attached state, power off.

    A state x is (u, w, q, v, p, r, then u times the deflection of each moving part): speeds
    of the reference point through the air, forward, down and to the right [m/s]; rates, nose
    up, right wing down and nose right [rad/s]; deflections, trailing edge towards the lower
    face [rad]. Circulations are linear in x, loads bilinear:
    :math:`F_f/\rho = \sum_{ik} x_i T_{fik} x_k`.
    """

    reference: LatticeReference
    units: tuple[ControlUnit, ...]
    tensor: Array  # (6, N, N), loads over density: m², m³ by speeds; symmetric in the states
    drag: Array  # (N, N) the induced drag in it
    hinge: Array  # (U, N) hinge moment over density and u, trailing edge down positive
    strips: LatticeStrips
    lattice: Lattice  # both halves, for the velocity at other places
    circulation: Array  # (P, N) of each panel by unit state
    ground: float | None  # m, z of the ground
    joints: tuple[str, ...]
    unknowns: int
    is_symmetric: bool
    notes: tuple[str, ...]

    @property
    def states(self) -> tuple[str, ...]:
        """Names of the states, "surface.control.hand" for the moving parts."""
        return (*MOTIONS, *(f"{u.surface}.{u.key}.{u.hand}" for u in self.units))


def solve_tensor(
    surfaces: tuple[LatticeSurface, ...],
    *,
    reference: LatticeReference,
    height: float | None = None,
    by_halves: bool = True,
) -> LiftTensor:
    """Solve the lattice of an aeroplane once, for everything.

    Parameters
    ----------
    surfaces : tuple of LatticeSurface
        All lifting surfaces, their keys different. [m]
    reference : LatticeReference
        Measures of the coefficients, and the point of moments, speeds and turning. [m]
    height : float, optional
        Of that point above level ground; free air where not given. [m]
    by_halves : bool, optional
        Solve an aeroplane that is its own mirror image by halves.

    Returns
    -------
    LiftTensor

    Notes
    -----
    Linear lifting-surface theory, see :func:`foamwright.air.solve_lattice`. Forces are those
    on the bound vortices and on the trailing ones in the surfaces, in the air as it comes.
    The drag that lift induces is that of the Trefftz plane, given to the strips by half the
    wash felt there: its sum is exact for the load, its share between wing and tail is that of
    surfaces one above the other (M. Munk's stagger theorem). Valid for attached flow and
    incidence up to about 10 degrees. In sideslip each surface's wake leaves aside as that
    surface itself feels it, to first order; other surfaces feel it along x. In pitch, roll
    and yaw a deflection acts with the speed of the reference point. Ground is felt by images and is
    true for heights above a tenth of the span.

    References
    ----------
    .. [1] J. Katz, A. Plotkin, Low-Speed Aerodynamics, 2nd ed., 2001, chs. 8 and 12.
    .. [2] M. M. Munk, The minimum induced drag of aerofoils, NACA Report 121, 1923.
    """
    if not min(reference.area, reference.chord, reference.span) > 0.0:
        raise DomainError("a lattice needs reference measures above zero")
    if height is not None and not height > 0.0:
        raise DomainError("the height above ground must be above zero")
    ground = None if height is None else reference.point[2] - height
    solution = solve_states(surfaces, point=reference.point, by_halves=by_halves, ground=ground)
    parts = strip_table(solution, tuple(surface.key for surface in surfaces))
    tensor, drag = _tensors(solution, parts, reference.point)
    lifts = float(tensor[2, 0, 1]) > 0.0
    return LiftTensor(
        reference=reference,
        units=solution.units,
        tensor=_kept(tensor),
        drag=_kept(drag),
        hinge=_kept(_hinges(solution)),
        strips=parts,
        lattice=solution.lattice,
        circulation=_kept(solution.circulation),
        ground=ground,
        joints=solution.joints,
        unknowns=solution.unknowns,
        is_symmetric=solution.is_symmetric,
        notes=(*LEFT_OUT, *shape_notes(solution, lifts=lifts)),
    )


def _kept(values: Array) -> Array:
    values.flags.writeable = False
    return values


def _tensors(
    solution: Solution, strips: LatticeStrips, point: tuple[float, float, float]
) -> tuple[Array, Array]:
    """Find loads and induced drag over density, symmetric in the states."""
    lattice, circulation = solution.lattice, solution.circulation
    wash = 0.5 * solution.far[lattice.strip]
    suction = suction_arms(lattice, point)
    tensor = (suction[:, :, None] * wash).transpose(0, 2, 1) @ circulation
    drag = tensor[0].copy()
    tensor[:, :6] += load_arms(lattice, point) @ circulation
    tensor += skew_tensor(lattice, strips, point)
    return 0.5 * (tensor + tensor.transpose(0, 2, 1)), 0.5 * (drag + drag.T)


def _hinges(solution: Solution) -> Array:
    """Hinge moment by unit state; a hinge's own load is added in closed form, (U, N)."""
    lattice, units = solution.lattice, solution.units
    arms = lattice.hinge_arm[:, list(solution.columns)] * on_hand(lattice, units, solution.half)
    moments = arms.T @ solution.circulation
    own = np.arange(len(units))
    moments[own, len(MOTIONS) + own] += lattice.hinge_own[list(solution.columns)]
    moments[:, 0] += lattice.hinge_bent[list(solution.columns)]
    return moments


# ---------------------------------------------------------------- states and what comes of them


def motion_state(
    tensor: LiftTensor,
    *,
    speed: ArrayLike = 1.0,
    incidence: ArrayLike = 0.0,
    sideslip: ArrayLike = 0.0,
    rates: ArrayLike = (0.0, 0.0, 0.0),
    deflections: ArrayLike | None = None,
) -> Array:
    """State of an aeroplane from speed and angles.

    Parameters
    ----------
    tensor : LiftTensor
        Says which moving parts there are.
    speed : array_like, optional
        True airspeed of the reference point. [m/s]
    incidence : array_like, optional
        Of the x axis, nose up positive. [rad]
    sideslip : array_like, optional
        Positive with the wind from the right. [rad]
    rates : array_like, (..., 3), optional
        Right wing down, nose up, nose right. [rad/s]
    deflections : array_like, (..., U), optional
        Of the moving parts in the order of ``tensor.units``. [rad]

    Returns
    -------
    ndarray, (..., N)
        Speeds [m/s] and rates [rad/s].
    """
    v, a, b = (np.asarray(value, dtype=np.float64) for value in (speed, incidence, sideslip))
    turn = np.asarray(rates, dtype=np.float64)
    units = len(tensor.units)
    angles = np.zeros(units) if deflections is None else np.asarray(deflections, dtype=np.float64)
    if angles.shape[-1:] != (units,):
        raise DomainError(f"{units} deflections are needed, one for each moving part")
    shape = np.broadcast_shapes(v.shape, a.shape, b.shape, turn.shape[:-1], angles.shape[:-1])
    x = np.empty((*shape, len(MOTIONS) + units))
    x[..., 0] = v * np.cos(a) * np.cos(b)
    x[..., 1] = v * np.sin(a) * np.cos(b)
    x[..., 2] = turn[..., 1]
    x[..., 3] = v * np.sin(b)
    x[..., 4] = turn[..., 0]
    x[..., 5] = turn[..., 2]
    x[..., 6:] = x[..., :1] * angles
    return x


def loads(tensor: LiftTensor, state: Array) -> Array:
    """Find forces and moments over density in a state, about the reference point.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`motion_state`. [m/s]

    Returns
    -------
    ndarray, (..., 6)
        Force aft, right, up [m⁴/s²]; moment right wing down, nose up, nose right. [m⁵/s²]
    """
    count = state.shape[-1]
    half = state @ tensor.tensor.reshape(6 * count, count).T
    return np.matmul(half.reshape(*state.shape[:-1], 6, count), state[..., None])[..., 0]


def wind_forces(tensor: LiftTensor, state: Array) -> Array:
    """Coefficients along and across the wind: lift, drag, side force; roll, pitch, yaw.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`motion_state`. [m/s]

    Returns
    -------
    ndarray, (..., 6)
        On the reference measures and the speed of the reference point. Lift is square to the
        wind in the plane of symmetry; moments are about the body's axes. [-]
    """
    ref = tensor.reference
    u, w, v = state[..., 0], state[..., 1], state[..., 3]
    plane = np.hypot(u, w)
    square = plane * plane + v * v
    speed = np.sqrt(square)
    force = loads(tensor, state) * (2.0 / ref.area / square)[..., None]
    aft, right, up = force[..., 0], force[..., 1], force[..., 2]
    ahead = (u * aft + w * up) / plane  # along the wind seen from the side
    return np.stack(
        [
            (u * up - w * aft) / plane,
            (plane * ahead - v * right) / speed,
            (plane * right + v * ahead) / speed,
            force[..., 3] / ref.span,
            force[..., 4] / ref.chord,
            force[..., 5] / ref.span,
        ],
        axis=-1,
    )


def induced_drag(tensor: LiftTensor, state: Array) -> Array:
    """Induced drag over density, of the Trefftz plane.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`motion_state`. [m/s]

    Returns
    -------
    ndarray, (...)
        [m⁴/s²]
    """
    return ((state @ tensor.drag) * state).sum(axis=-1)


def span_efficiency(tensor: LiftTensor, state: Array) -> Array:
    r"""Span efficiency e of the load in a state.

    .. math:: e = C_L^2/(\pi A C_{Di}),\quad A = b^2/S

    Lift is that of the circulation, before the induced drag, which the tensor lays along x
    instead of along the wind, takes its small part away.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`motion_state`. [m/s]

    Returns
    -------
    ndarray, (...)
        nan where there is no drag. [-]
    """
    ref = tensor.reference
    u, w = state[..., 0], state[..., 1]
    square = (state[..., (0, 1, 3)] ** 2).sum(axis=-1)
    drag = 2.0 * induced_drag(tensor, state) / (ref.area * square)
    lift = wind_forces(tensor, state)[..., 0] + drag * w / np.hypot(u, w)
    with np.errstate(divide="ignore", invalid="ignore"):
        value = lift**2 * ref.area / (np.pi * ref.span**2 * drag)
    return np.where(drag > 0.0, value, np.nan)


def hinge_moments(tensor: LiftTensor, state: Array) -> Array:
    """Hinge moments over density of all moving parts, trailing edge down positive.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    state : ndarray, (..., N)
        From :func:`motion_state`. [m/s]

    Returns
    -------
    ndarray, (..., U)
        In the order of ``tensor.units``; positive pushes the trailing edge towards the lower
        face. [m⁵/s²]

    Notes
    -----
    Inviscid plane-flow loads of thin sections without gap or balance. Real controls are
    lighter: measured moments of plain flaps reach 0.5 to 0.8 (common practice, no source).
    """
    return (state @ tensor.hinge.T) * state[..., :1]


def about(tensor: LiftTensor, point: tuple[float, float, float]) -> LiftTensor:
    """Move the reference point of moments, speeds and turning; the lattice is not touched.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane.
    point : tuple of float
        New reference point, for instance the balance point. [m]

    Returns
    -------
    LiftTensor
        With states and loads about that point.
    """
    x, y, z = (old - new for old, new in zip(tensor.reference.point, point, strict=True))
    count = len(tensor.states)
    # Motion of the old point from that of the new one, and the loads the other way.
    move = np.eye(count)
    move[0, 2], move[0, 5] = -z, -y
    move[1, 4], move[1, 2] = y, x
    move[3, 5], move[3, 4] = -x, z
    shift = np.eye(6)
    shift[3, 1], shift[3, 2] = z, -y
    shift[4, 0], shift[4, 2] = z, -x
    shift[5, 0], shift[5, 1] = y, -x
    turned = move.T @ tensor.tensor @ move
    strips = tensor.strips
    return replace(
        tensor,
        reference=replace(tensor.reference, point=point),
        tensor=_kept(np.tensordot(shift, turned, axes=1)),
        drag=_kept(move.T @ tensor.drag @ move),
        hinge=_kept(tensor.hinge @ move),
        circulation=_kept(tensor.circulation @ move),
        strips=replace(
            strips,
            circulation=_kept(strips.circulation @ move),
            geometric=_kept(strips.geometric @ move),
            far=_kept(strips.far @ move),
        ),
    )
