"""Stability derivatives for small motions, without and with dimensions, in both notations.

Axes of flight mechanics: x forward, y right, z down; rates p, q, r right wing down, nose up, nose
right. The wind comes at the trim incidence; where that is nought the axes are the stability axes
of the textbooks.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike

from foamwright.air.derivatives import MOTION_ANGLES, Derivatives
from foamwright.flight.common import DENSITY, GRAVITY, Array, as_array


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficients:
    """Derivatives without dimensions in one trimmed state; every field may be an array.

    Lift and drag square to and along the wind, side force along the body's y axis, moments about
    the body's axes. Angles in radians; rates as p b/2V, q c/2V, r b/2V; lag as the rate of
    incidence times c/2V. By speed: slope by V/V0 at constant incidence, nought at model speeds.
    """

    lift: ArrayLike  # CL, total
    drag: ArrayLike  # CD, total
    pitch: ArrayLike = 0.0  # Cm of the air, what the thrust's own moment balances
    lift_incidence: ArrayLike = 0.0
    drag_incidence: ArrayLike = 0.0
    pitch_incidence: ArrayLike = 0.0
    lift_pitch_rate: ArrayLike = 0.0
    pitch_pitch_rate: ArrayLike = 0.0
    lift_lag: ArrayLike = 0.0
    pitch_lag: ArrayLike = 0.0
    lift_speed: ArrayLike = 0.0
    drag_speed: ArrayLike = 0.0
    pitch_speed: ArrayLike = 0.0
    side_slip: ArrayLike = 0.0
    side_roll_rate: ArrayLike = 0.0
    side_yaw_rate: ArrayLike = 0.0
    roll_slip: ArrayLike = 0.0
    roll_roll_rate: ArrayLike = 0.0
    roll_yaw_rate: ArrayLike = 0.0
    yaw_slip: ArrayLike = 0.0
    yaw_roll_rate: ArrayLike = 0.0
    yaw_yaw_rate: ArrayLike = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """The steady straight flight about which motions are small; every field may be an array."""

    speed: ArrayLike  # m/s
    area: ArrayLike  # m², reference
    chord: ArrayLike  # m, reference
    span: ArrayLike  # m, reference
    incidence: ArrayLike = 0.0  # rad, of the x axis to the wind
    attitude: ArrayLike = 0.0  # rad, of the x axis to the horizon; level flight: the incidence
    density: ArrayLike = DENSITY  # kg/m³
    gravity: ArrayLike = GRAVITY  # m/s²
    thrust_slope: ArrayLike = 0.0  # N s/m, thrust by airspeed; nought for constant thrust
    thrust_tilt: ArrayLike = 0.0  # rad, above the x axis
    thrust_arm: ArrayLike = 0.0  # m, of the thrust line above the balance point


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimensional:
    """Slopes of force and moment by speeds and rates, in newtons, metres, seconds, radians.

    Letters as in the textbooks: X, Z, M by u, w, q and the rate of w; Y, L, N by v, p, r. The
    rate of u enters through the incidence too (``x_u_dot`` and so on) and is nought in axes that
    start along the wind.
    """

    x_u: ArrayLike
    x_w: ArrayLike
    z_u: ArrayLike
    z_w: ArrayLike
    m_u: ArrayLike
    m_w: ArrayLike
    m_q: ArrayLike
    x_q: ArrayLike = 0.0
    z_q: ArrayLike = 0.0
    x_u_dot: ArrayLike = 0.0
    x_w_dot: ArrayLike = 0.0
    z_u_dot: ArrayLike = 0.0
    z_w_dot: ArrayLike = 0.0
    m_u_dot: ArrayLike = 0.0
    m_w_dot: ArrayLike = 0.0
    y_v: ArrayLike = 0.0
    y_p: ArrayLike = 0.0
    y_r: ArrayLike = 0.0
    l_v: ArrayLike = 0.0
    l_p: ArrayLike = 0.0
    l_r: ArrayLike = 0.0
    n_v: ArrayLike = 0.0
    n_p: ArrayLike = 0.0
    n_r: ArrayLike = 0.0


def dimensional(coefficients: Coefficients, *, trim: Trim) -> Dimensional:
    r"""Give derivatives their dimensions.

    With :math:`C_X = C_L\sin\alpha - C_D\cos\alpha`, :math:`C_Z = -C_L\cos\alpha - C_D\sin\alpha`
    and the speed and incidence of (u, w) as functions of both:

    .. math:: X_u = \rho V S C_X \cos\alpha - \tfrac12\rho V S C_{X\alpha}\sin\alpha, \quad
              X_w = \rho V S C_X \sin\alpha + \tfrac12\rho V S C_{X\alpha}\cos\alpha

    and so on, exactly. At no incidence these are the textbook forms, such as
    :math:`Z_w = -\tfrac12\rho V S (C_{L\alpha} + C_D)`.

    Parameters
    ----------
    coefficients : Coefficients
        In the trimmed state. [-]
    trim : Trim
        That state. [m/s, m², rad]

    Returns
    -------
    Dimensional

    Notes
    -----
    Straight flight; attached, linear about the state.

    References
    ----------
    .. [1] B. Etkin, L. D. Reid, Dynamics of Flight, 3rd ed., 1996, ch. 4 and 5 (from memory).
    .. [2] R. C. Nelson, Flight Stability and Automatic Control, 2nd ed., 1998, ch. 3 (memory).
    """
    k, t = coefficients, trim
    v, s, c, b = (as_array(x) for x in (t.speed, t.area, t.chord, t.span))
    a, d = as_array(t.incidence), as_array(t.thrust_tilt)
    half = 0.5 * as_array(t.density) * v * s  # pressure times area over speed
    pull = as_array(t.thrust_slope)
    x_by, z_by = _force_slopes(k, a)
    along = 2.0 * half * x_by[0] + pull * np.cos(d)  # by airspeed
    down = 2.0 * half * z_by[0] - pull * np.sin(d)
    nose = half * c * (2.0 * as_array(k.pitch) + as_array(k.pitch_speed))
    nose = nose - pull * as_array(t.thrust_arm)
    x_u, x_w = _by_u_w(along, half * x_by[1], a)
    z_u, z_w = _by_u_w(down, half * z_by[1], a)
    m_u, m_w = _by_u_w(nose, half * c * as_array(k.pitch_incidence), a)
    pitch, lag = 0.5 * half * c, 0.5 * half * c / v  # by q; by the rate of u or w
    x_u_dot, x_w_dot = _by_u_w(0.0 * a, lag * as_array(k.lift_lag) * np.sin(a), a)
    z_u_dot, z_w_dot = _by_u_w(0.0 * a, -lag * as_array(k.lift_lag) * np.cos(a), a)
    m_u_dot, m_w_dot = _by_u_w(0.0 * a, lag * c * as_array(k.pitch_lag), a)
    turn = 0.5 * half * b
    return Dimensional(
        x_u=x_u,
        x_w=x_w,
        z_u=z_u,
        z_w=z_w,
        m_u=m_u,
        m_w=m_w,
        x_q=pitch * as_array(k.lift_pitch_rate) * np.sin(a),
        z_q=-pitch * as_array(k.lift_pitch_rate) * np.cos(a),
        m_q=pitch * c * as_array(k.pitch_pitch_rate),
        x_u_dot=x_u_dot,
        x_w_dot=x_w_dot,
        z_u_dot=z_u_dot,
        z_w_dot=z_w_dot,
        m_u_dot=m_u_dot,
        m_w_dot=m_w_dot,
        y_v=half * as_array(k.side_slip),
        y_p=turn * as_array(k.side_roll_rate),
        y_r=turn * as_array(k.side_yaw_rate),
        l_v=half * b * as_array(k.roll_slip),
        l_p=turn * b * as_array(k.roll_roll_rate),
        l_r=turn * b * as_array(k.roll_yaw_rate),
        n_v=half * b * as_array(k.yaw_slip),
        n_p=turn * b * as_array(k.yaw_roll_rate),
        n_r=turn * b * as_array(k.yaw_yaw_rate),
    )


def _force_slopes(k: Coefficients, a: Array) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    """Half the slope by V/V0, and that by incidence, of the forces along x and along z."""
    sa, ca = np.sin(a), np.cos(a)
    lift, drag = as_array(k.lift), as_array(k.drag)
    lift_v = lift + 0.5 * as_array(k.lift_speed)
    drag_v = drag + 0.5 * as_array(k.drag_speed)
    lift_a, drag_a = as_array(k.lift_incidence), as_array(k.drag_incidence)
    x = (lift_v * sa - drag_v * ca, (lift_a + drag) * sa + (lift - drag_a) * ca)
    z = (-lift_v * ca - drag_v * sa, (lift - drag_a) * sa - (lift_a + drag) * ca)
    return x, z


def _by_u_w(by_speed: Array, by_incidence: Array, a: Array) -> tuple[Array, Array]:
    """Slopes by u and w from those by airspeed and, over the speed, by incidence."""
    sa, ca = np.sin(a), np.cos(a)
    return by_speed * ca - by_incidence * sa, by_speed * sa + by_incidence * ca


def coefficients_of(
    found: Derivatives, *, drag: float = 0.0, drag_incidence: float = 0.0
) -> Coefficients:
    r"""Take the air room's derivatives of a whole aeroplane in a state without sideslip.

    Its side force lies square to the wind, that of small motions along the body's y axis:
    :math:`C_{Y\beta} = C_{Y\beta}^w - C_D`.

    Parameters
    ----------
    found : Derivatives
        About the balance point, in the trimmed state. [-]
    drag : float, optional
        Drag coefficient besides that which lift induces. [-]
    drag_incidence : float, optional
        Its slope by incidence. [1/rad]

    Returns
    -------
    Coefficients

    Notes
    -----
    The lattice is steady, so the lag of downwash is left out: it would add to the pitch damping
    the tail's own part times the downwash slope there, and the short period is a little better
    damped than this says.
    """
    alpha, beta, p, q, r = MOTION_ANGLES
    slope = found.of
    lift, induced, *_, pitch, _ = found.values.tolist()
    whole = induced + drag
    return Coefficients(
        lift=lift,
        drag=whole,
        pitch=pitch,
        lift_incidence=slope("lift", alpha),
        drag_incidence=slope("drag", alpha) + drag_incidence,
        pitch_incidence=slope("pitch", alpha),
        lift_pitch_rate=slope("lift", q),
        pitch_pitch_rate=slope("pitch", q),
        side_slip=slope("side", beta) - whole,
        side_roll_rate=slope("side", p),
        side_yaw_rate=slope("side", r),
        roll_slip=slope("roll", beta),
        roll_roll_rate=slope("roll", p),
        roll_yaw_rate=slope("roll", r),
        yaw_slip=slope("yaw", beta),
        yaw_roll_rate=slope("yaw", p),
        yaw_yaw_rate=slope("yaw", r),
    )


#: What each letter is divided by in the notation per mass: the mass or a moment of inertia.
_LONGITUDINAL, _LATERAL = ("x", "z", "m"), ("y", "l", "n")


def per_mass(derivatives: Dimensional, *, mass: ArrayLike, inertia: ArrayLike) -> Dimensional:
    """Divide forces by the mass and moments by their moment of inertia.

    The notation of one school of textbooks (Nelson, McRuer), where Z_w stands for the slope over
    the mass, in 1/s; the other (Etkin) writes the slope itself, as :class:`Dimensional` does.

    Parameters
    ----------
    derivatives : Dimensional
        Slopes themselves. [N, N m, m/s, rad/s]
    mass : array_like
        Of the aeroplane. [kg]
    inertia : array_like, (..., 3)
        Ix, Iy, Iz; the product Ixz is left to the equations of motion. [kg m²]

    Returns
    -------
    Dimensional
        The same letters, divided.
    """
    return _scaled(derivatives, mass, as_array(inertia), divide=True)


def from_per_mass(derivatives: Dimensional, *, mass: ArrayLike, inertia: ArrayLike) -> Dimensional:
    """Undo :func:`per_mass`.

    Parameters
    ----------
    derivatives : Dimensional
        Divided by mass and inertia. [1/s]
    mass : array_like
        Of the aeroplane. [kg]
    inertia : array_like, (..., 3)
        Ix, Iy, Iz. [kg m²]

    Returns
    -------
    Dimensional
        Slopes themselves. [N, N m, m/s, rad/s]
    """
    return _scaled(derivatives, mass, as_array(inertia), divide=False)


def _scaled(d: Dimensional, mass: ArrayLike, inertia: Array, *, divide: bool) -> Dimensional:
    m = as_array(mass)
    by = {"x": m, "y": m, "z": m}
    by |= {"l": inertia[..., 0], "m": inertia[..., 1], "n": inertia[..., 2]}
    changed: dict[str, ArrayLike] = {}
    for entry in fields(d):
        value, scale = as_array(getattr(d, entry.name)), by[entry.name[0]]
        changed[entry.name] = value / scale if divide else value * scale
    return replace(d, **changed)


def body_moments(coefficients: Coefficients, *, incidence: ArrayLike) -> Coefficients:
    r"""Turn the lateral derivatives of stability axes into those of the body's axes.

    .. math:: C_l = C_l^s \cos\alpha - C_n^s \sin\alpha, \quad
              C_n = C_n^s \cos\alpha + C_l^s \sin\alpha

    Parameters
    ----------
    coefficients : Coefficients
        Moments about, and rates p and r along, axes whose x lies along the wind. [-]
    incidence : array_like
        Of the body's x axis to the wind. [rad]

    Returns
    -------
    Coefficients
        About and along the body's axes.
    """
    a, k = as_array(incidence), coefficients
    sa, ca = np.sin(a), np.cos(a)

    def turned(roll: ArrayLike, yaw: ArrayLike) -> tuple[Array, Array]:
        l, n = as_array(roll), as_array(yaw)  # noqa: E741 - the symbols of the source
        return l * ca - n * sa, n * ca + l * sa

    roll_slip, yaw_slip = turned(k.roll_slip, k.yaw_slip)
    # Moments first, then the rates: p of the stability axes is p cos + r sin of the body's.
    roll_p, yaw_p = turned(k.roll_roll_rate, k.yaw_roll_rate)
    roll_r, yaw_r = turned(k.roll_yaw_rate, k.yaw_yaw_rate)
    (roll_roll, roll_yaw) = turned(roll_p, roll_r)
    (yaw_roll, yaw_yaw) = turned(yaw_p, yaw_r)
    side_roll, side_yaw = turned(k.side_roll_rate, k.side_yaw_rate)
    return replace(
        k,
        side_roll_rate=side_roll,
        side_yaw_rate=side_yaw,
        roll_slip=roll_slip,
        yaw_slip=yaw_slip,
        roll_roll_rate=roll_roll,
        roll_yaw_rate=roll_yaw,
        yaw_roll_rate=yaw_roll,
        yaw_yaw_rate=yaw_yaw,
    )
