"""Speeds, glide, sink, climb, turns and endurance from a parabolic drag polar, in closed form.

The polar is CD = CD0 + k CL², which holds between a little above the stall and high speed; the
whole aeroplane's own table of drag is no parabola, and these formulas check it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, GRAVITY, Array, as_array, as_arrays, only_where

_MARGIN_OVER_STALL = 1.1  # slowest speed to fly at, over the stall; common practice, no source
_STEPS, _CLOSE = 60, 1e-13  # Newton on a convex quintic: some ten steps are enough


@dataclass(frozen=True, slots=True, kw_only=True)
class Polar:
    """A parabolic drag polar with the weight it carries; every field may be an array."""

    zero_lift_drag: ArrayLike  # CD0
    lift_drag: ArrayLike  # k, drag coefficient over lift coefficient squared
    mass: ArrayLike  # kg
    area: ArrayLike  # m²
    density: ArrayLike = DENSITY  # kg/m³

    @property
    def weight(self) -> Array:
        """Weight. [N]"""
        return as_array(self.mass) * GRAVITY

    def speed(self, lift: ArrayLike) -> Array:
        """Airspeed at which a lift coefficient carries the weight, level or nearly so. [m/s]"""
        load = self.weight / as_array(self.area)
        return np.sqrt(2.0 * load / (as_array(self.density) * as_array(lift)))

    def lift(self, speed: ArrayLike) -> Array:
        """Lift coefficient that carries the weight at an airspeed. [-]"""
        pressure = 0.5 * as_array(self.density) * as_array(speed) ** 2
        return self.weight / (pressure * as_array(self.area))

    def drag_coefficient(self, lift: ArrayLike) -> Array:
        """Drag coefficient at a lift coefficient. [-]"""
        return as_array(self.zero_lift_drag) + as_array(self.lift_drag) * as_array(lift) ** 2

    def drag(self, speed: ArrayLike, *, load_factor: ArrayLike = 1.0) -> Array:
        """Drag in flight at a load factor. [N]"""
        pressure = 0.5 * as_array(self.density) * as_array(speed) ** 2 * as_array(self.area)
        lift = as_array(load_factor) * self.weight / pressure
        return pressure * self.drag_coefficient(lift)

    def sink(self, speed: ArrayLike) -> Array:
        """Rate of sink without power, small angles. [m/s]"""
        return as_array(speed) * self.drag(speed) / self.weight

    def power(self, speed: ArrayLike) -> Array:
        """Power that level flight takes from the propeller's stream. [W]"""
        return as_array(speed) * self.drag(speed)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GlidePoint:
    """One way to glide: how fast, at which lift, how far and how steeply down."""

    speed: Array  # m/s
    lift: Array  # CL
    ratio: Array  # lift over drag
    sink: Array  # m/s, downwards


def induced_factor(aspect_ratio: ArrayLike, *, efficiency: ArrayLike) -> Array:
    """Find k = 1/(pi e A) of a polar. [-]

    Parameters
    ----------
    aspect_ratio : array_like
        Span squared over area. [-]
    efficiency : array_like
        Span efficiency of the whole aeroplane; 0.3 to 0.8 was measured on small models. [-]

    Returns
    -------
    ndarray
    """
    return 1.0 / (np.pi * as_array(efficiency) * as_array(aspect_ratio))


def stall_speed(
    mass: ArrayLike,
    *,
    area: ArrayLike,
    largest_lift: ArrayLike,
    density: ArrayLike = DENSITY,
    bank: ArrayLike = 0.0,
    load_factor: ArrayLike = 1.0,
) -> Array:
    r"""Find the slowest speed of steady flight, in a level turn too. [m/s]

    .. math:: V_s = \sqrt{2 n m g / (\rho S C_{L,max})}, \quad n = 1/\cos\phi

    Parameters
    ----------
    mass : array_like
        All-up. [kg]
    area : array_like
        Of the wing. [m²]
    largest_lift : array_like
        CL of the whole aeroplane, trimmed. [-]
    density : array_like, optional
        Of the air. [kg/m³]
    bank : array_like, optional
        Of a level turn. [rad]
    load_factor : array_like, optional
        Of a pull besides the turn. [-]

    Returns
    -------
    ndarray

    Notes
    -----
    Steady. Bank below 90°; nan beyond.
    """
    n = as_array(load_factor) * turn_load_factor(bank)
    top = as_array(largest_lift)
    return np.sqrt(2.0 * n * as_array(mass) * GRAVITY / (as_array(density) * as_array(area) * top))


def stall_margin_speed(margin: ArrayLike, *, bank: ArrayLike) -> Array:
    """Airspeed over the level stall for a margin over the stall in a turn. [-]

    Parameters
    ----------
    margin : array_like
        Airspeed wanted over the stall in that turn. [-]
    bank : array_like
        Of a level turn. [rad]

    Returns
    -------
    ndarray
    """
    return as_array(margin) * np.sqrt(turn_load_factor(bank))


def wing_loading(mass: ArrayLike, *, area: ArrayLike) -> Array:
    """Mass over area. [kg/m²]

    Parameters
    ----------
    mass, area : array_like
        All-up [kg] and of the wing [m²].

    Returns
    -------
    ndarray
    """
    return as_array(mass) / as_array(area)


def cube_loading(mass: ArrayLike, *, area: ArrayLike) -> Array:
    """Mass over area to the power 1.5: how fast a model looks, whatever its size. [kg/m³]

    Parameters
    ----------
    mass, area : array_like
        All-up [kg] and of the wing [m²].

    Returns
    -------
    ndarray

    References
    ----------
    .. [1] F. Reynolds, Model Builder, Sept. 1989 (method as quoted in a stored page).
    """
    return as_array(mass) / as_array(area) ** 1.5


#: Cube loading up to which a model counts as such, in kg/m³. (limits of 3, 5, 7, 10, 13, 17
#: oz/ft³ from memory of modellers' tables; common practice)
LOADING_BANDS = tuple(
    (limit * 1.001154, word)
    for limit, word in (
        (3.0, "indoor"),
        (5.0, "slow flyer"),
        (7.0, "park flyer"),
        (10.0, "trainer or sailplane"),
        (13.0, "sport"),
        (17.0, "fast"),
        (np.inf, "for experts"),
    )
)


def loading_word(loading: float) -> str:
    """Name what kind of model a cube loading belongs to.

    Parameters
    ----------
    loading : float
        Cube loading. [kg/m³]

    Returns
    -------
    str
    """
    return next(word for limit, word in LOADING_BANDS if loading <= limit)


def best_glide(polar: Polar) -> GlidePoint:
    r"""Find the flattest glide in calm air.

    .. math:: C_L = \sqrt{C_{D0}/k}, \quad (L/D)_{max} = 1/(2\sqrt{C_{D0} k})

    Parameters
    ----------
    polar : Polar
        Of the aeroplane, propeller stopped or folded. [kg, m²]

    Returns
    -------
    GlidePoint
        Its lift coefficient may lie beyond the stall; see :func:`usable_glide`.
    """
    return _glide_at(polar, np.sqrt(as_array(polar.zero_lift_drag) / as_array(polar.lift_drag)))


def least_sink(polar: Polar) -> GlidePoint:
    r"""Find the slowest sink in calm air, also the least power of level flight.

    .. math:: C_L = \sqrt{3 C_{D0}/k}

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]

    Returns
    -------
    GlidePoint
        Its lift coefficient may lie beyond the stall; see :func:`usable_glide`.
    """
    lift = np.sqrt(3.0 * as_array(polar.zero_lift_drag) / as_array(polar.lift_drag))
    return _glide_at(polar, lift)


def usable_glide(
    point: GlidePoint,
    *,
    polar: Polar,
    largest_lift: ArrayLike,
    margin: ArrayLike = _MARGIN_OVER_STALL,
) -> GlidePoint:
    """Return the glide itself where the stall allows it, else the one at a margin over the stall.

    Parameters
    ----------
    point : GlidePoint
        The ideal one. [m/s]
    polar : Polar
        It was made from. [kg, m²]
    largest_lift : array_like
        CL at the stall. [-]
    margin : array_like, optional
        Slowest speed allowed, over the stall's. [-]

    Returns
    -------
    GlidePoint
    """
    limit = as_array(largest_lift) / as_array(margin) ** 2
    return _glide_at(polar, np.minimum(point.lift, limit))


def _glide_at(polar: Polar, lift: Array) -> GlidePoint:
    speed = polar.speed(lift)
    ratio = lift / polar.drag_coefficient(lift)
    return GlidePoint(speed=speed, lift=lift, ratio=ratio, sink=speed / ratio)


def glide_into_wind(polar: Polar, *, headwind: ArrayLike) -> GlidePoint:
    r"""Find the flattest glide over the ground against a wind.

    With :math:`D = a V^2 + b/V^2` the way over ground per height is greatest where
    :math:`2aV^5 - 3awV^4 - 2bV + bw = 0`.

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]
    headwind : array_like
        Against the flight; negative from behind. [m/s]

    Returns
    -------
    GlidePoint
        Its ratio is over the ground; nan where Newton's steps did not settle.
    """
    w = as_array(headwind)
    rho, area, weight = as_array(polar.density), as_array(polar.area), polar.weight
    a = 0.5 * rho * area * as_array(polar.zero_lift_drag)
    b = 2.0 * as_array(polar.lift_drag) * weight**2 / (rho * area)
    # From above every root the quintic is convex, so the steps come down without a jump.
    v = 1.6 * np.maximum((b / a) ** 0.25, np.maximum(w, 0.0)) + np.maximum(w, 0.0)
    step = v
    for _ in range(_STEPS):
        rest = 2.0 * a * v**5 - 3.0 * a * w * v**4 - 2.0 * b * v + b * w
        step = rest / (10.0 * a * v**4 - 12.0 * a * w * v**3 - 2.0 * b)
        v = v - step
        if np.all(np.abs(step) <= _CLOSE * v):
            break
    v = only_where(np.abs(step) <= 1e-9 * np.abs(v), v)
    sink = polar.sink(v)
    return GlidePoint(speed=v, lift=polar.lift(v), ratio=(v - w) / sink, sink=sink)


def level_speeds(polar: Polar, *, thrust: ArrayLike) -> tuple[Array, Array]:
    r"""Slow and fast speed at which a thrust holds level flight.

    .. math:: q S = \frac{T \pm \sqrt{T^2 - 4 C_{D0} k W^2}}{2 C_{D0}}

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]
    thrust : array_like
        Along the flight path, the same at both speeds. [N]

    Returns
    -------
    tuple of ndarray
        Slow and fast; nan where the thrust does not hold it at all. The slow one may lie below
        the stall. [m/s]

    Notes
    -----
    Thrust of a propeller falls with speed: intersect with its own curve for a top speed.
    """
    t, drag = as_array(thrust), as_array(polar.zero_lift_drag)
    inside = t**2 - 4.0 * drag * as_array(polar.lift_drag) * polar.weight**2
    root = np.sqrt(only_where(inside >= 0.0, np.maximum(inside, 0.0)))
    scale = as_array(polar.density) * as_array(polar.area) * drag
    return np.sqrt((t - root) / scale), np.sqrt((t + root) / scale)


def climb_rate(polar: Polar, *, speed: ArrayLike, power: ArrayLike) -> Array:
    """Rate of climb from what power is left over. [m/s]

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]
    speed : array_like
        Airspeed. [m/s]
    power : array_like
        Thrust times airspeed, what the propeller gives. [W]

    Returns
    -------
    ndarray
        Negative where it sinks.

    Notes
    -----
    Lift taken as the weight: good to 6 % up to 20° of climb, too low in induced drag's favour
    beyond.
    """
    return (as_array(power) - polar.power(speed)) / polar.weight


def zoom_height(fast: ArrayLike, *, slow: ArrayLike) -> Array:
    """Height that speed buys without losses. [m]

    Parameters
    ----------
    fast, slow : array_like
        Airspeed before and after. [m/s]

    Returns
    -------
    ndarray
    """
    return (as_array(fast) ** 2 - as_array(slow) ** 2) / (2.0 * GRAVITY)


def dive_speed(polar: Polar) -> Array:
    """Speed at which drag carries the weight, straight down, power off. [m/s]

    Parameters
    ----------
    polar : Polar
        Of the aeroplane. [kg, m²]

    Returns
    -------
    ndarray

    Notes
    -----
    What a long dive tends to; foam flutters before, so never a speed to try.
    """
    drag = as_array(polar.zero_lift_drag)
    return np.sqrt(2.0 * polar.weight / (as_array(polar.density) * as_array(polar.area) * drag))


def pull_load_factor(speed: ArrayLike, *, stall: ArrayLike) -> Array:
    """Largest load factor that the wing can pull at a speed before it stalls. [-]

    Parameters
    ----------
    speed, stall : array_like
        Airspeed and the level stall's. [m/s]

    Returns
    -------
    ndarray
    """
    return (as_array(speed) / as_array(stall)) ** 2


# ---------------------------------------------------------------- turns


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Turn:
    """A steady level turn."""

    load_factor: Array  # lift over weight
    radius: Array  # m
    rate: Array  # rad/s

    @property
    def time_round(self) -> Array:
        """Time of a full circle; endless without bank. [s]"""
        with np.errstate(divide="ignore"):
            return 2.0 * np.pi / self.rate


def turn_load_factor(bank: ArrayLike) -> Array:
    """Lift over weight in a level turn; nan at 90° of bank and beyond. [-]

    Parameters
    ----------
    bank : array_like
        Of the wings. [rad]

    Returns
    -------
    ndarray
    """
    cosine = np.cos(as_array(bank))
    return 1.0 / only_where(cosine > 1e-9, cosine)


def level_turn(speed: ArrayLike, *, bank: ArrayLike) -> Turn:
    r"""Steady level turn without sideslip.

    .. math:: n = 1/\cos\phi, \quad R = V^2/(g \tan\phi)

    Parameters
    ----------
    speed : array_like
        Airspeed. [m/s]
    bank : array_like
        Of the wings. [rad]

    Returns
    -------
    Turn
    """
    v, angle = as_arrays(speed, bank)
    n = turn_load_factor(angle)
    slope = np.sqrt(n**2 - 1.0)
    with np.errstate(divide="ignore"):
        radius = v**2 / (GRAVITY * slope)  # endless without bank
    return Turn(load_factor=n, radius=radius, rate=GRAVITY * slope / v)


# ---------------------------------------------------------------- what the pack gives


def endurance(
    energy: ArrayLike, *, usable: ArrayLike, efficiency: ArrayLike, power: ArrayLike
) -> Array:
    """Time aloft at a steady power. [s]

    Parameters
    ----------
    energy : array_like
        Of a full pack. [J]
    usable : array_like
        Share of it that is flown out. [-]
    efficiency : array_like
        From the pack to the propeller's thrust power. [-]
    power : array_like
        Thrust power, :meth:`Polar.power`. [W]

    Returns
    -------
    ndarray
    """
    drawn = as_array(power) / as_array(efficiency)
    return as_array(energy) * as_array(usable) / drawn


def climb_energy(
    height: ArrayLike, *, climb: ArrayLike, power: ArrayLike, efficiency: ArrayLike
) -> Array:
    """Energy that a climb takes from the pack. [J]

    Parameters
    ----------
    height : array_like
        To climb. [m]
    climb : array_like
        Rate of climb. [m/s]
    power : array_like
        Thrust power meanwhile. [W]
    efficiency : array_like
        From the pack to thrust power. [-]

    Returns
    -------
    ndarray
    """
    return as_array(height) / as_array(climb) * as_array(power) / as_array(efficiency)
