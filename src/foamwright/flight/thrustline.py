"""The thrust line: its arm about the balance point, which way power pitches, what cancels it.

Down and up thrust mean opposite things to owners of tractors and of pushers, so this room never
says a tilt by those words alone: the arm in millimetres and the way the nose goes stand with it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, Array, as_array, as_arrays, only_where
from foamwright.flight.rigidbody import flight_axes

#: An arm that no flyer feels. [m] (0.5 mm, below what foam can be built to; common practice)
NO_ARM = 0.0005


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThrustLine:
    """A thrust line about a balance point; leading axes are cases."""

    ahead: Array  # m, propeller ahead of the balance point
    above: Array  # m, above it
    right: Array  # m, to the right of it
    tilt_up: Array  # rad, of the force above the forward axis
    tilt_right: Array  # rad, of the force to the right of it

    @property
    def direction(self) -> Array:
        """Unit vector of the force: forward, right, up; (..., 3)."""
        up, side = self.tilt_up, self.tilt_right
        level = np.cos(up)
        return np.stack([level * np.cos(side), level * np.sin(side), np.sin(up)], axis=-1)

    @property
    def arm(self) -> Array:
        """How far the line passes above the balance point, seen from the side. [m]"""
        return self.above * np.cos(self.tilt_up) - self.ahead * np.sin(self.tilt_up)

    @property
    def moment_arms(self) -> Array:
        """Moment over thrust: right wing down, nose up, nose right; (..., 3). [m]"""
        x, y, z = self.ahead, self.right, self.above
        fx, fy, fz = np.moveaxis(self.direction, -1, 0)
        return np.stack([y * -fz + z * fy, -z * fx + x * fz, x * fy - y * fx], axis=-1)


def thrust_line(
    *,
    ahead: ArrayLike,
    above: ArrayLike,
    right: ArrayLike = 0.0,
    tilt_up: ArrayLike = 0.0,
    tilt_right: ArrayLike = 0.0,
) -> ThrustLine:
    """Make a thrust line from where it starts and how it leans.

    Parameters
    ----------
    ahead, above, right : array_like
        Any point of the line, from the balance point; behind and below are negative. [m]
    tilt_up, tilt_right : array_like
        Of the force on the aeroplane; what a pusher's shaft does at the propeller is the
        opposite of what its thrust does. [rad]

    Returns
    -------
    ThrustLine
    """
    parts = as_arrays(ahead, above, right, tilt_up, tilt_right)
    return ThrustLine(
        ahead=parts[0], above=parts[1], right=parts[2], tilt_up=parts[3], tilt_right=parts[4]
    )


def thrust_line_of(centre: ArrayLike, *, thrust: ArrayLike, point: ArrayLike) -> ThrustLine:
    """Make a thrust line from a propeller disc in the design's axes.

    Parameters
    ----------
    centre : array_like, (..., 3)
        Of the disc: x aft, y right, z up. [m]
    thrust : array_like, (..., 3)
        Unit vector of the force on the aeroplane, same axes. [-]
    point : array_like, (..., 3)
        Balance point. [m]

    Returns
    -------
    ThrustLine
    """
    place = flight_axes(as_array(centre) - as_array(point))
    way = flight_axes(thrust)
    return thrust_line(
        ahead=place[..., 0],
        above=-place[..., 2],
        right=place[..., 1],
        tilt_up=np.arctan2(-way[..., 2], np.hypot(way[..., 0], way[..., 1])),
        tilt_right=np.arctan2(way[..., 1], way[..., 0]),
    )


def pitching_moment(line: ThrustLine, *, thrust: ArrayLike) -> Array:
    r"""Pitching moment of thrust, nose up positive: :math:`-T a`. [N m]

    Parameters
    ----------
    line : ThrustLine
        About the balance point. [m, rad]
    thrust : array_like
        Along the line. [N]

    Returns
    -------
    ndarray
    """
    return as_array(thrust) * line.moment_arms[..., 1]


def yawing_moment(line: ThrustLine, *, thrust: ArrayLike) -> Array:
    """Yawing moment of thrust, nose right positive. [N m]

    Parameters
    ----------
    line : ThrustLine
        About the balance point. [m, rad]
    thrust : array_like
        Along the line. [N]

    Returns
    -------
    ndarray
    """
    return as_array(thrust) * line.moment_arms[..., 2]


def tilt_through_balance(*, ahead: ArrayLike, above: ArrayLike) -> Array:
    r"""Tilt at which the line passes through the balance point, :math:`\tan\tau = z/x`. [rad]

    Parameters
    ----------
    ahead, above : array_like
        Any point that keeps its place while the line tilts, such as the pivot of the mount. [m]

    Returns
    -------
    ndarray
        Tilt of the force above the forward axis: up for a tractor above the balance point, down
        for a pusher above it. nan straight above or below, where no tilt does it.
    """
    x, z = as_arrays(ahead, above)
    return np.arctan(z / only_where(np.abs(x) > 0.0, x))


def tilt_for_arm(arm: ArrayLike, *, ahead: ArrayLike, above: ArrayLike) -> Array:
    """Tilt that gives a wanted arm, the smaller of the two that do. [rad]

    Parameters
    ----------
    arm : array_like
        How far the line shall pass above the balance point. [m]
    ahead, above : array_like
        The point about which the line tilts. [m]

    Returns
    -------
    ndarray
        nan where the point lies nearer to the balance point than the arm wanted.
    """
    a, x, z = as_arrays(arm, ahead, above)
    far = np.hypot(x, z)
    share = a / np.where(far > 0.0, far, np.nan)
    # arm = far cos(tilt + turn) with tan(turn) = x/z
    angle = np.arccos(only_where(np.abs(share) <= 1.0, share))
    turn = np.arctan2(x, z)
    one, two = (np.mod(w - turn + np.pi, 2.0 * np.pi) - np.pi for w in (angle, -angle))
    return np.where(np.abs(one) <= np.abs(two), one, two)


# ---------------------------------------------------------------- what power does


def pitch_kick(thrust_step: ArrayLike, *, arm: ArrayLike, inertia: ArrayLike) -> Array:
    r"""Pitch acceleration the moment the throttle moves, :math:`-\Delta T\,a/I_y`. [rad/s²]

    Parameters
    ----------
    thrust_step : array_like
        Change of thrust. [N]
    arm : array_like
        Of the line above the balance point. [m]
    inertia : array_like
        Iy about the balance point. [kg m²]

    Returns
    -------
    ndarray
        Nose up positive.

    Notes
    -----
    Before the air answers; wash on a tail comes a moment later and is not in it.
    """
    step, a, iy = as_arrays(thrust_step, arm, inertia)
    return -step * a / iy


def elevator_for_thrust(
    thrust: ArrayLike,
    *,
    arm: ArrayLike,
    speed: ArrayLike,
    area: ArrayLike,
    chord: ArrayLike,
    pitch_elevator: ArrayLike,
    density: ArrayLike = DENSITY,
) -> Array:
    r"""Elevator that cancels the thrust's moment, by hand: :math:`T a/(q S c\,C_{m\delta})`. [rad]

    Parameters
    ----------
    thrust : array_like
        Of the propeller. [N]
    arm : array_like
        Of the line above the balance point. [m]
    speed : array_like
        Airspeed. [m/s]
    area, chord : array_like
        Reference. [m²], [m]
    pitch_elevator : array_like
        Cm by elevator, negative for a tail behind. [1/rad]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        Trailing edge down positive.

    Notes
    -----
    Leaves out the elevator's own lift and the wash on the tail: 5 % off the full solution for a
    line 0.4 of a chord above the balance point (:func:`foamwright.flight.linear.level_trim`).
    """
    t, a, v, s, c, m, rho = as_arrays(thrust, arm, speed, area, chord, pitch_elevator, density)
    return t * a / (0.5 * rho * v**2 * s * c * m)


def largest_held_thrust(
    elevator: ArrayLike,
    *,
    arm: ArrayLike,
    speed: ArrayLike,
    area: ArrayLike,
    chord: ArrayLike,
    pitch_elevator: ArrayLike,
    density: ArrayLike = DENSITY,
) -> Array:
    r"""Largest thrust whose moment an elevator still holds, as at a hand launch. [N]

    .. math:: T = q S c\,|C_{m\delta}|\,\delta / |a|

    Parameters
    ----------
    elevator : array_like
        Left beyond trim, the way that opposes. [rad]
    arm : array_like
        Of the line above the balance point. [m]
    speed : array_like
        Airspeed, such as leaving the hand. [m/s]
    area, chord : array_like
        Reference. [m²], [m]
    pitch_elevator : array_like
        Cm by elevator. [1/rad]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        Endless for a line through the balance point.
    """
    d, a, v, s, c, m, rho = as_arrays(elevator, arm, speed, area, chord, pitch_elevator, density)
    held = 0.5 * rho * v**2 * s * c * np.abs(m * d)
    with np.errstate(divide="ignore"):
        return held / np.abs(a)


def trim_slope_by_thrust(thrust_ratio: ArrayLike, *, arm: ArrayLike, chord: ArrayLike) -> Array:
    r"""Find Cm by CL that a constant thrust adds along level trims: :math:`-(T/W)(a/c)`. [-]

    Parameters
    ----------
    thrust_ratio : array_like
        Thrust over weight. [-]
    arm : array_like
        Of the line above the balance point. [m]
    chord : array_like
        Reference. [m]

    Returns
    -------
    ndarray
        Negative looks like more static margin when elevators are compared between speeds; it
        changes no restoring moment at one speed.
    """
    return -as_array(thrust_ratio) * as_array(arm) / as_array(chord)


def lift_slope_by_thrust(
    thrust: ArrayLike, *, speed: ArrayLike, area: ArrayLike, density: ArrayLike = DENSITY
) -> Array:
    """Lift slope that thrust fixed in the body adds; it adds no pitching moment. [1/rad]

    Parameters
    ----------
    thrust : array_like
        Through the balance point. [N]
    speed, area : array_like
        Airspeed [m/s] and reference area [m²].
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
    """
    t, v, s, rho = as_arrays(thrust, speed, area, density)
    return t / (0.5 * rho * v**2 * s)


def control_for_moment(
    moment: ArrayLike,
    *,
    speed: ArrayLike,
    area: ArrayLike,
    length: ArrayLike,
    slope: ArrayLike,
    density: ArrayLike = DENSITY,
) -> Array:
    r"""Find the deflection whose moment opposes a given one, :math:`-M/(q S l\,C_\delta)`. [rad]

    Parameters
    ----------
    moment : array_like
        To oppose: the motor's torque, a stopped twin's yaw, a heavy tip. [N m]
    speed : array_like
        Airspeed. [m/s]
    area, length : array_like
        Reference area [m²] and span or chord [m].
    slope : array_like
        Coefficient of that moment by the control. [1/rad]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        In the control's own sign.
    """
    m, v, s, b, k, rho = as_arrays(moment, speed, area, length, slope, density)
    return -m / (0.5 * rho * v**2 * s * b * k)


def speed_to_hold(
    moment: ArrayLike,
    *,
    deflection: ArrayLike,
    area: ArrayLike,
    length: ArrayLike,
    slope: ArrayLike,
    density: ArrayLike = DENSITY,
) -> Array:
    """Slowest airspeed at which a control holds a moment, such as one motor of a twin. [m/s]

    Parameters
    ----------
    moment : array_like
        To hold. [N m]
    deflection : array_like
        Largest of the control. [rad]
    area, length : array_like
        Reference area [m²] and span or chord [m].
    slope : array_like
        Coefficient of that moment by the control. [1/rad]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray

    Notes
    -----
    Linear control: deflections of 25° and more give less than this says.
    """
    m, d, s, b, k, rho = as_arrays(moment, deflection, area, length, slope, density)
    return np.sqrt(2.0 * np.abs(m) / (rho * s * b * np.abs(k * d)))


def shaft_torque(power: ArrayLike, *, speed: ArrayLike) -> Array:
    """Torque of a shaft; the aeroplane feels it the other way round. [N m]

    Parameters
    ----------
    power : array_like
        On the shaft. [W]
    speed : array_like
        Of the shaft. [rad/s]

    Returns
    -------
    ndarray
    """
    return as_array(power) / as_array(speed)


# ---------------------------------------------------------------- in words


def pitch_words(arm: float, *, tilt: float | None = None) -> str:
    """Say what opening the throttle does to the nose.

    Parameters
    ----------
    arm : float
        Of the line above the balance point. [m]
    tilt : float, optional
        Tilt that would null it, of the force above the forward axis. [rad]

    Returns
    -------
    str
        One sentence with the arm in millimetres and the way the nose goes; the tilt, if given,
        by which way the front of the thrust line points.
    """
    if abs(arm) < NO_ARM:
        return "The thrust line passes through the balance point: power does not pitch it."
    side, way = ("above", "down") if arm > 0.0 else ("below", "up")
    text = (
        f"The thrust line passes {1e3 * abs(arm):.0f} mm {side} the balance point:"
        f" opening the throttle pushes the nose {way}."
    )
    if tilt is None or not np.isfinite(tilt):
        return text
    leans = "up" if tilt > 0.0 else "down"
    return (
        f"{text} With the front of the line leaning {abs(np.degrees(tilt)):.1f}° {leans}"
        " it would pass through."
    )
