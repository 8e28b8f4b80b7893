"""A linear aeroplane: coefficients straight in incidence and elevator, drag a parabola in lift.

It carries closed checks and quick estimates; the whole aeroplane's own forces, with stall and
wash, are not these. Elevator positive with its trailing edge down.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, GRAVITY, Array, Flags, as_array, as_arrays, only_where
from foamwright.flight.derivatives import Coefficients

_STEPS, _CLOSE = 200, 1e-13
_UPRIGHT = 0.5 * np.pi  # rad, an incidence beyond it is no flight


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearAeroplane:
    """Lift, drag and pitching moment of a linear aeroplane; every field may be an array."""

    mass: ArrayLike  # kg
    area: ArrayLike  # m²
    chord: ArrayLike  # m
    lift_zero: ArrayLike  # CL at no incidence
    lift_slope: ArrayLike  # 1/rad
    lift_elevator: ArrayLike  # 1/rad
    drag_zero: ArrayLike  # CD0
    drag_lift: ArrayLike  # k of CD0 + k CL²
    pitch_zero: ArrayLike  # Cm about the balance point at no incidence
    pitch_slope: ArrayLike  # 1/rad
    pitch_elevator: ArrayLike  # 1/rad, negative for a tail behind
    drag_feels_elevator: bool = True  # whether its lift counts in k CL²
    density: ArrayLike = DENSITY  # kg/m³
    gravity: ArrayLike = GRAVITY  # m/s²

    @property
    def weight(self) -> Array:
        """Weight. [N]"""
        return as_array(self.mass) * as_array(self.gravity)

    @property
    def static_margin(self) -> Array:
        """Stick-fixed, from the slopes. [chord]"""
        return -as_array(self.pitch_slope) / as_array(self.lift_slope)

    def lift(self, incidence: ArrayLike, elevator: ArrayLike) -> Array:
        """Lift coefficient. [-]"""
        free = as_array(self.lift_zero) + as_array(self.lift_slope) * as_array(incidence)
        return free + as_array(self.lift_elevator) * as_array(elevator)

    def drag(self, incidence: ArrayLike, elevator: ArrayLike) -> Array:
        """Drag coefficient. [-]"""
        moved = as_array(elevator) if self.drag_feels_elevator else 0.0 * as_array(elevator)
        return as_array(self.drag_zero) + as_array(self.drag_lift) * (
            self.lift(incidence, moved) ** 2
        )

    def pitch(self, incidence: ArrayLike, elevator: ArrayLike) -> Array:
        """Pitching moment coefficient about the balance point. [-]"""
        free = as_array(self.pitch_zero) + as_array(self.pitch_slope) * as_array(incidence)
        return free + as_array(self.pitch_elevator) * as_array(elevator)

    def coefficients(self, incidence: ArrayLike, elevator: ArrayLike) -> Coefficients:
        """Longitudinal derivatives in a state; rates are for the caller to add. [-]"""
        moved = as_array(elevator) if self.drag_feels_elevator else 0.0 * as_array(elevator)
        slope = 2.0 * as_array(self.drag_lift) * self.lift(incidence, moved)
        return Coefficients(
            lift=self.lift(incidence, elevator),
            drag=self.drag(incidence, elevator),
            pitch=self.pitch(incidence, elevator),
            lift_incidence=self.lift_slope,
            drag_incidence=slope * as_array(self.lift_slope),
            pitch_incidence=self.pitch_slope,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ThrustPlace:
    """Where thrust acts in the plane of symmetry, from the balance point."""

    ahead: ArrayLike = 0.0  # m, forward
    above: ArrayLike = 0.0  # m, up
    tilt_up: ArrayLike = 0.0  # rad, of the force above the forward axis

    @property
    def arm(self) -> Array:
        """Arm of the thrust line above the balance point. [m]"""
        tilt = as_array(self.tilt_up)
        return as_array(self.above) * np.cos(tilt) - as_array(self.ahead) * np.sin(tilt)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Steady:
    """Steady straight flight; nan where there is none."""

    speed: Array  # m/s
    incidence: Array  # rad
    elevator: Array  # rad, trailing edge down
    thrust: Array  # N
    path: Array  # rad, of climb
    converged: Flags

    @property
    def climb(self) -> Array:
        """Rate of climb. [m/s]"""
        return self.speed * np.sin(self.path)


def trim_at_lift(
    aeroplane: LinearAeroplane, *, lift: ArrayLike, pitch: ArrayLike = 0.0
) -> tuple[Array, Array]:
    """Incidence and elevator at which lift and pitching moment are as wanted. [rad]

    Parameters
    ----------
    aeroplane : LinearAeroplane
        With its coefficients. [-]
    lift : array_like
        CL wanted. [-]
    pitch : array_like, optional
        Cm wanted: nought, or what balances the thrust. [-]

    Returns
    -------
    tuple of ndarray

    Notes
    -----
    Two linear equations; at the CL of the stall it is the elevator that stalls it.
    """
    a = aeroplane
    la, ld, ma, md = as_arrays(a.lift_slope, a.lift_elevator, a.pitch_slope, a.pitch_elevator)
    more = as_array(lift) - as_array(a.lift_zero)
    turn = as_array(pitch) - as_array(a.pitch_zero)
    whole = la * md - ld * ma
    return (md * more - ld * turn) / whole, (la * turn - ma * more) / whole


def level_trim(
    aeroplane: LinearAeroplane, *, speed: ArrayLike, thrust_at: ThrustPlace | None = None
) -> Steady:
    r"""Incidence, elevator and thrust of level flight at a speed.

    .. math:: L + T\sin(\alpha + \tau) = W, \quad T\cos(\alpha + \tau) = D, \quad
              q S c\,C_m = T\,a

    Parameters
    ----------
    aeroplane : LinearAeroplane
        With its coefficients. [-]
    speed : array_like
        Airspeed. [m/s]
    thrust_at : ThrustPlace, optional
        The thrust line; through the balance point where not given. [m, rad]

    Returns
    -------
    Steady

    Notes
    -----
    Thrust is found by going round the equations; it settles as long as drag is well below weight.
    """
    at = ThrustPlace() if thrust_at is None else thrust_at
    v, tilt, arm = as_arrays(speed, at.tilt_up, at.arm)
    area, chord = as_array(aeroplane.area), as_array(aeroplane.chord)
    force = 0.5 * as_array(aeroplane.density) * v**2 * area
    thrust, change = 0.0 * force, np.inf + 0.0 * force
    alpha = elevator = 0.0 * force
    with np.errstate(all="ignore"):  # cases without an answer run away and are marked below
        for _ in range(_STEPS):
            up = thrust * np.sin(alpha + tilt)
            lift = (aeroplane.weight - up) / force
            alpha, elevator = trim_at_lift(
                aeroplane, lift=lift, pitch=thrust * arm / (force * chord)
            )
            new = force * aeroplane.drag(alpha, elevator) / np.cos(alpha + tilt)
            change, thrust = np.abs(new - thrust), new
            if np.all(change <= _CLOSE * np.abs(thrust)):
                break
    good = np.isfinite(thrust) & (change <= 1e-9 * np.abs(thrust)) & (np.abs(alpha) < _UPRIGHT)
    return Steady(
        speed=only_where(good, v),
        incidence=only_where(good, alpha),
        elevator=only_where(good, elevator),
        thrust=only_where(good, thrust),
        path=only_where(good, 0.0 * v),
        converged=good,
    )


def steady_flight(
    aeroplane: LinearAeroplane,
    *,
    thrust: ArrayLike,
    elevator: ArrayLike,
    thrust_at: ThrustPlace | None = None,
) -> Steady:
    r"""Where flight settles at a thrust and an elevator held fixed: what the throttle does.

    .. math:: q S c\,C_m(\alpha, \delta) = T\,a, \quad
              (q S C_L + T\sin)^2 + (T\cos - q S C_D)^2 = W^2

    Parameters
    ----------
    aeroplane : LinearAeroplane
        With its coefficients. [-]
    thrust : array_like
        Held, the same at every speed. [N]
    elevator : array_like
        Held. [rad]
    thrust_at : ThrustPlace, optional
        The thrust line; through the balance point where not given. [m, rad]

    Returns
    -------
    Steady
        Not converged where no steady flight was found, such as a model that loops or dives.

    Notes
    -----
    Newton on incidence and dynamic pressure from the glide at that elevator. It says where flight
    may settle, not whether the way there is a stable one.
    """
    at = ThrustPlace() if thrust_at is None else thrust_at
    t, d, tilt, arm = as_arrays(thrust, elevator, at.tilt_up, at.arm)
    alpha = -aeroplane.pitch(0.0, d) / as_array(aeroplane.pitch_slope)
    lift = aeroplane.lift(alpha, d)
    force = aeroplane.weight / np.hypot(lift, aeroplane.drag(alpha, d))
    change = np.inf + 0.0 * force
    with np.errstate(all="ignore"):  # cases without an answer run away and are marked below
        for _ in range(_STEPS):
            da, df = _newton(aeroplane, alpha, force, (t, d, tilt, arm))
            alpha, force = alpha - da, np.where(force > df, force - df, 0.5 * force)
            change = np.abs(da) + np.abs(df / force)
            if np.all(change <= _CLOSE):
                break
        good = (change <= 1e-9) & (force > 0.0) & (np.abs(alpha) < _UPRIGHT)
        good = good & (aeroplane.lift(alpha, d) > 0.0)
        up = force * aeroplane.lift(alpha, d) + t * np.sin(alpha + tilt)
        along = t * np.cos(alpha + tilt) - force * aeroplane.drag(alpha, d)
        speed = np.sqrt(2.0 * force / (as_array(aeroplane.density) * as_array(aeroplane.area)))
    return Steady(
        speed=only_where(good, speed),
        incidence=only_where(good, alpha),
        elevator=only_where(good, d + 0.0 * alpha),
        thrust=only_where(good, t + 0.0 * alpha),
        path=only_where(good, np.arctan2(along, up)),
        converged=good,
    )


def _newton(
    a: LinearAeroplane, alpha: Array, force: Array, held: tuple[Array, Array, Array, Array]
) -> tuple[Array, Array]:
    """Newton's step in incidence and in dynamic pressure times area."""
    t, d, tilt, arm = held
    chord, weight = as_array(a.chord), a.weight
    k = a.coefficients(alpha, d)
    lift, drag, pitch, lift_a, drag_a, pitch_a = as_arrays(
        k.lift, k.drag, k.pitch, k.lift_incidence, k.drag_incidence, k.pitch_incidence
    )
    sine, cosine = np.sin(alpha + tilt), np.cos(alpha + tilt)
    up, along = force * lift + t * sine, t * cosine - force * drag
    one = (force * chord * pitch - t * arm) / (weight * chord)
    two = (up**2 + along**2) / weight**2 - 1.0
    one_a, one_f = force * pitch_a / weight, pitch / weight
    two_a = 2.0 * (up * (force * lift_a + t * cosine) - along * (t * sine + force * drag_a))
    two_a = two_a / weight**2
    two_f = 2.0 * (up * lift - along * drag) / weight**2
    whole = one_a * two_f - one_f * two_a
    return (one * two_f - one_f * two) / whole, (one_a * two - one * two_a) / whole


def neutral_point_from_slopes(points: ArrayLike, *, slopes: ArrayLike) -> Array:
    r"""Neutral point from flights at two balance points.

    The slope of trimmed elevator by lift coefficient falls to nought there, on a straight line.

    Parameters
    ----------
    points : array_like, (..., 2)
        Balance points flown. [m or chord]
    slopes : array_like, (..., 2)
        Elevator by lift coefficient at each. [rad]

    Returns
    -------
    ndarray
        In the unit of the balance points.

    Notes
    -----
    Stick fixed, power as flown; elevator lift small beside the wing's.
    """
    x, y = as_array(points), as_array(slopes)
    return x[..., 0] - y[..., 0] * (x[..., 1] - x[..., 0]) / (y[..., 1] - y[..., 0])
