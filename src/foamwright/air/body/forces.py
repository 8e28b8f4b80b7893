"""Forces and moments of bodies at incidence and sideslip."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.body.crossing import length_share, section_drag
from foamwright.air.body.fin import Fin, pylon_fin
from foamwright.air.body.mass import munk_factor, rectangle_mass
from foamwright.air.body.shape import BodyLine, Form
from foamwright.air.body.wingflow import WingFlow, flow_share

Array = NDArray[np.float64]

#: One sigma of a body's moment, relative: experiment finds 0.7 to 1.0 of the exact
#: potential moment of a body by itself (NACA TR 184 and after, memory).
MOMENT_BAND = 0.15
#: One sigma of the drag of a body across the wind, relative: scatter of the shapes' record.
CROSS_BAND = 0.25


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyStrips:
    """One body made ready: apparent mass, crosswind drag and the wing's share, by strips."""

    key: str
    path: str
    x: Array  # (n,) m, middles of strips
    y: float  # m
    z: Array  # (n,) m
    width: Array  # (n,) m, length of each strip along x
    lift_mass: Array  # (n,) m², apparent-mass area for flow along z, with Munk's factor
    side_mass: Array  # (n,) m², for flow along y
    lift_end: float  # m², lift_mass of a blunt back end
    side_end: float  # m²
    end: tuple[float, float, float]  # m, middle of the back end
    share: Array  # (n,) of the incidence, d(beta)/d(alpha)
    end_share: float  # at the back end
    zero_lift_angle: float  # rad, of the wing
    lift_drag: Array  # (n,) m², crosswind drag area for flow along z
    side_drag: Array  # (n,) m², for flow along y
    fin: Fin | None  # a pylon works as a fin in sideslip instead


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodyForces:
    """Forces and moments over dynamic pressure; axes x aft, y right, z up."""

    force: Array  # (..., 3) m²
    moment: Array  # (..., 3) m³: right wing down, nose up, nose right


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BodySlopes:
    """Slopes at zero incidence and sideslip, over dynamic pressure, all bodies together."""

    lift: float  # m²/rad, per incidence
    moment: float  # m³/rad, nose up per incidence: positive is unstable
    lift_at_zero: float  # m², with the x axis along the wind: what the wing's lift there does
    moment_at_zero: float  # m³, nose up
    side: float  # m²/rad, to the right per sideslip (wind from the right)
    yaw: float  # m³/rad, nose right per sideslip: negative is unstable
    roll: float  # m³/rad, right wing down per sideslip
    band: float  # one sigma, relative, of moment and yaw
    moments: tuple[tuple[str, float], ...]  # m³/rad, nose up, by body key
    yaws: tuple[tuple[str, float], ...]  # m³/rad, nose right, by body key


def body_strips(
    bodies: tuple[BodyLine, ...], *, flow: WingFlow | None = None
) -> tuple[BodyStrips, ...]:
    """Make bodies ready for :func:`body_forces`.

    Parameters
    ----------
    bodies : tuple of BodyLine
        All bodies, both hands. [m]
    flow : WingFlow, optional
        The wing's flow along them; without it each body stands by itself.

    Returns
    -------
    tuple of BodyStrips
        In the same order. [m, m²]
    """
    return tuple(_strips(body, bodies, flow) for body in bodies)


def _strips(body: BodyLine, bodies: tuple[BodyLine, ...], flow: WingFlow | None) -> BodyStrips:
    edges, width = body.x[::2], np.diff(body.x[::2])
    a, b = body.half_width, body.half_height
    munk = float(munk_factor(body.fineness))
    lift, side = (munk * mass for mass in _masses(body))
    share = flow_share(edges, y=body.y, flow=flow)
    short = float(length_share(max(body.length / float(2.0 * np.max(np.maximum(a, b))), 1.0)))
    middle = slice(1, None, 2)
    return BodyStrips(
        key=body.key,
        path=body.path,
        x=body.x[middle],
        y=body.y,
        z=body.z[middle],
        width=width,
        lift_mass=_mean(lift),
        side_mass=_mean(side),
        lift_end=float(lift[-1]),
        side_end=float(side[-1]),
        end=(float(body.x[-1]), body.y, float(body.z[-1])),
        share=share,
        end_share=float(share[-1]),
        zero_lift_angle=0.0 if flow is None else flow.zero_lift_angle,
        lift_drag=short * width * 2.0 * _mean(a * section_drag(body.form, along=b, across=a)),
        side_drag=short * width * 2.0 * _mean(b * section_drag(body.form, along=a, across=b)),
        fin=pylon_fin(body, bodies),
    )


def _mean(values: Array) -> Array:
    """Mean over each strip from its edges and its middle, by Simpson's rule."""
    return (values[:-2:2] + 4.0 * values[1:-1:2] + values[2::2]) / 6.0


def _masses(body: BodyLine) -> tuple[Array, Array]:
    """Apparent-mass areas for flow along z and along y, at edges and middles. [m²]"""
    a, b = body.half_width, body.half_height
    if body.form is Form.ROUND:
        return np.pi * a * a, np.pi * b * b
    lift = np.pi * a * a * rectangle_mass(b / np.maximum(a, _POINT))
    return lift, np.pi * b * b * rectangle_mass(a / np.maximum(b, _POINT))


# A sharp end is no thinner than this, for the quotient of its sides. [m]
_POINT = 1e-9


def body_forces(
    strips: tuple[BodyStrips, ...],
    *,
    alpha: ArrayLike,
    beta: ArrayLike = 0.0,
    pitch_turn: ArrayLike = 0.0,
    yaw_turn: ArrayLike = 0.0,
    point: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> BodyForces:
    r"""Find the forces and moments of bodies over dynamic pressure.

    Parameters
    ----------
    strips : tuple of BodyStrips
        Bodies made ready. [m]
    alpha : array_like
        Incidence of the x axis, any size. [rad]
    beta : array_like, optional
        Sideslip, positive with the wind from the right. [rad]
    pitch_turn, yaw_turn : array_like, optional
        Pitch and yaw rate over airspeed, nose up and nose right positive. [rad/m]
    point : tuple of float, optional
        Point of the moments and of the turning. [m]

    Returns
    -------
    BodyForces
        Broadcast over the states' leading axes. [m², m³]

    Notes
    -----
    Slender-body momentum, :math:`dN/dx = \rho V_x\, d(A v)/dx`, with v the crossing speed at
    each place: the couple of the whole body, and the lift of a blunt back end. Boxes have
    the apparent mass of their rectangles, all are reduced by Munk's factor. To it is added
    the drag of the open wind that crosses, :math:`\eta c_d v |v|`, which rules at large
    angles. Axial force is left out: it stands in the drag table. The wing's up- and downwash
    is taken to grow with sin α cos α, α from the wing's zero lift, as long as its flow is
    attached. In sideslip bodies stand by themselves; a pylon works as a fin. A real body by
    itself has 0.7 to 1.0 of the moment: see ``MOMENT_BAND``.

    References
    ----------
    .. [1] M. M. Munk, NACA TR 184, 1924 (memory).
    .. [2] H. Multhopp, NACA TM 1036, 1942 (abstract read).
    .. [3] H. J. Allen, E. W. Perkins, NACA TR 1048, 1951 (memory).
    """
    states = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (alpha, beta, pitch_turn, yaw_turn))
    )
    wind = _Wind(*(state[..., None] for state in states))
    force = np.zeros((*states[0].shape, 3))
    moment = np.zeros_like(force)
    for body in strips:
        _add_body(force, moment, body, wind, np.asarray(point, dtype=np.float64))
    return BodyForces(force=force, moment=moment)


@dataclass(frozen=True, slots=True, eq=False)
class _Wind:
    """States with a last axis for the strips."""

    alpha: Array
    beta: Array
    pitch: Array
    yaw: Array

    def at(
        self, x: Array, share: Array, *, about: float, zero: float
    ) -> tuple[Array, Array, Array]:
        """Speed of the air along x, y and z at places of a body, over airspeed. [-]"""
        slip = np.cos(self.beta)
        u = np.cos(self.alpha) * slip
        lifting = self.alpha - zero
        w = slip * (np.sin(self.alpha) + (share - 1.0) * np.sin(lifting) * np.cos(lifting))
        arm = x - about
        # The tail of a nose that rises sinks: the air meets it from below.
        return u, -np.sin(self.beta) + self.yaw * arm, w + self.pitch * arm


def _add_body(force: Array, moment: Array, body: BodyStrips, wind: _Wind, point: Array) -> None:
    about, zero = float(point[0]), body.zero_lift_angle
    u, v, w = wind.at(body.x, body.share, about=about, zero=zero)
    _, v_end, w_end = wind.at(
        np.array([body.end[0]]), np.array([body.end_share]), about=about, zero=zero
    )
    u1 = u[..., 0]
    # Over q: 2 u A v. Momentum left in the air behind a blunt end is the force on the body.
    lift_end = 2.0 * u1 * w_end[..., 0] * body.lift_end
    side_end = np.zeros_like(lift_end)
    if body.fin is None:
        side_end = 2.0 * u1 * v_end[..., 0] * body.side_end
        moment[..., 2] += 2.0 * u1 * (v @ (body.side_mass * body.width))
    moment[..., 1] += 2.0 * u1 * (w @ (body.lift_mass * body.width))
    _apply(force, moment, side_end, lift_end, np.asarray(body.end) - point)
    # Crossing drag rules where the wing has stalled and washes no more: the open wind's.
    _, v_open, w_open = wind.at(body.x, np.ones_like(body.x), about=about, zero=zero)
    cross = np.hypot(v_open, w_open)
    lift, side = cross * w_open * body.lift_drag, cross * v_open * body.side_drag
    _apply_many(force, moment, body, side, lift, point)
    if body.fin is not None:
        arm = np.array(body.fin.point)
        _, v_fin, _ = wind.at(arm[:1], np.ones(1), about=about, zero=zero)
        # u v = cos β sin β: the lift of a low fin, which fades as the wind crosses it.
        push = body.fin.slope * u1 * v_fin[..., 0]
        _apply(force, moment, push, np.zeros_like(push), arm - point)


def _apply(force: Array, moment: Array, side: Array, lift: Array, arm: Array) -> None:
    """Add a force at an arm; moments right wing down, nose up, nose right."""
    force[..., 1] += side
    force[..., 2] += lift
    moment[..., 0] -= arm[1] * lift - arm[2] * side
    moment[..., 1] -= arm[0] * lift
    moment[..., 2] -= arm[0] * side


def _apply_many(
    force: Array, moment: Array, body: BodyStrips, side: Array, lift: Array, point: Array
) -> None:
    x, z = body.x - point[0], body.z - point[2]
    total = lift.sum(axis=-1)
    force[..., 1] += side.sum(axis=-1)
    force[..., 2] += total
    moment[..., 0] -= (body.y - point[1]) * total - side @ z
    moment[..., 1] -= lift @ x
    moment[..., 2] -= side @ x


def body_slopes(
    strips: tuple[BodyStrips, ...], *, point: tuple[float, float, float] = (0.0, 0.0, 0.0)
) -> BodySlopes:
    """Slopes of the bodies' forces at zero incidence and sideslip, over dynamic pressure.

    Parameters
    ----------
    strips : tuple of BodyStrips
        Bodies made ready. [m]
    point : tuple of float, optional
        Point of the moments. [m]

    Returns
    -------
    BodySlopes
        Divide by the wing area, and moments by its chord or span, for coefficients. [m², m³]

    Notes
    -----
    The slopes are exact: at zero the crossing drag has none. See :func:`body_forces`.
    """
    at = np.asarray(point, dtype=np.float64)
    rows = np.array([_slopes(body, at) for body in strips]).reshape(-1, 7)
    lift, moment, side, yaw, roll, lift_zero, moment_zero = rows.sum(axis=0).tolist()
    return BodySlopes(
        lift=lift,
        moment=moment,
        lift_at_zero=lift_zero,
        moment_at_zero=moment_zero,
        side=side,
        yaw=yaw,
        roll=roll,
        band=MOMENT_BAND,
        moments=tuple((b.key, float(row[1])) for b, row in zip(strips, rows, strict=True)),
        yaws=tuple((b.key, float(row[3])) for b, row in zip(strips, rows, strict=True)),
    )


def _slopes(body: BodyStrips, point: Array) -> tuple[float, ...]:
    back = np.asarray(body.end) - point
    lift, moment = _pitching(body, back, body.share, body.end_share)
    # With the x axis along the wind only the wing's own wash is left: -zero per share less 1.
    zero = -body.zero_lift_angle
    held, turned = _pitching(body, back, body.share - 1.0, body.end_share - 1.0)
    if body.fin is None:
        side = -2.0 * body.side_end
        yaw = -2.0 * float(body.side_mass @ body.width) - float(back[0]) * side
        arm = back
    else:
        arm = np.array(body.fin.point) - point
        side = -body.fin.slope
        yaw = -float(arm[0]) * side
    return lift, moment, side, yaw, float(arm[2]) * side, zero * held, zero * turned


def _pitching(body: BodyStrips, back: Array, share: Array, end: float) -> tuple[float, float]:
    lift = 2.0 * body.lift_end * end
    couple = 2.0 * float((share * body.lift_mass) @ body.width)
    return lift, couple - float(back[0]) * lift


def neutral_point_shift(slopes: BodySlopes, *, lift_slope: float, area: float) -> float:
    r"""How far the bodies move the neutral point; forward is negative.

    .. math:: \Delta x = -\frac{dM/d\alpha / q}{a S + dL/d\alpha/q}

    Parameters
    ----------
    slopes : BodySlopes
        About the neutral point of the surfaces by themselves. [m², m³]
    lift_slope : float
        Of the surfaces. [1/rad]
    area : float
        Reference area of that slope. [m²]

    Returns
    -------
    float
        Along x. [m]
    """
    return -slopes.moment / (lift_slope * area + slopes.lift)
