"""The match: how fast a motor turns its propeller, at any throttle and airspeed.

At a share d of full throttle, with the pack's and controller's resistances folded in::

    amps = (d E - speed/Kv) / (Rm + Re + d g (N Rp + Rw)),   g = d + k (1 - d)
    (amps - I0)/Kv = cp density n² D⁵ / (2 pi)

with E the pack's resting volts, N equal lines on it, Rw the leads of each. A
controller does not brake: amps are never negative. The left side falls with speed, the right side
rises, so the root is bracketed; secant steps find it in a few, bisection where they do not.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.power.lines import PowerGroup, PowerLine
from foamwright.power.pack import CHART_SCATTER
from foamwright.power.propeller import PropellerModel
from foamwright.power.propeller.model import SEA_LEVEL_DENSITY, SEA_LEVEL_VISCOSITY

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

#: Last secant step, relative, at which the search for the speed ends. The step after it would be
#: of its square or so, hence the error lies near 1e-8.
SPEED_TOLERANCE = 1e-5

# The same for the volts of a pack that unlike motors share.
_SAG_TOLERANCE = 1e-6

# Slower than this counts as standing still. [rad/s]
_STILL = 1.0
# Advance ratio below which every propeller takes power from its shaft.
_LABOURING = 0.15
# Steps by secant before only bisection is trusted, and steps in all.
_SECANTS, _STEPS = 12, 64


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air that the propeller works in."""

    density: float = SEA_LEVEL_DENSITY  # kg/m³
    viscosity: float = SEA_LEVEL_VISCOSITY  # Pa s


SEA_LEVEL = Air()


@dataclass(frozen=True, slots=True)
class Bands:
    """One sigma of what a match says, from motor, pack, propeller and installation."""

    rotation: Array  # rev/s
    motor_amps: Array  # A
    pack_amps: Array  # A
    pack_volts: Array  # V
    input_power: Array  # W
    thrust: Array  # N
    torque: Array  # N m


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """What one line does; every array has the shape of throttle and airspeed together."""

    throttle: Array  # share of full
    airspeed: Array  # m/s
    rotation: Array  # rev/s
    advance_ratio: Array  # -
    motor_volts: Array  # V
    motor_amps: Array  # A
    pack_volts: Array  # V
    pack_amps: Array  # A, what this line draws
    input_power: Array  # W, from the pack
    shaft_power: Array  # W
    torque: Array  # N m
    thrust: Array  # N, installed
    motor_heat: Array  # W
    controller_heat: Array  # W
    converged: Mask
    bands: Bands | None = None

    @property
    def rpm(self) -> Array:
        """Turning speed as the trade counts it. [1/min]"""
        return 60.0 * self.rotation

    @property
    def propeller_efficiency(self) -> Array:
        """Thrust times airspeed over shaft power; 0 where no power goes in. [-]"""
        return _share(self.thrust * self.airspeed, self.shaft_power)

    @property
    def motor_efficiency(self) -> Array:
        """Shaft power over what the motor takes. [-]"""
        return _share(self.shaft_power, self.motor_volts * self.motor_amps)

    @property
    def efficiency(self) -> Array:
        """Thrust times airspeed over what the pack gives. [-]"""
        return _share(self.thrust * self.airspeed, self.input_power)


def _share(part: Array, whole: Array) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where((whole > 0.0) & (part > 0.0), part / whole, 0.0)


def match(
    group: PowerGroup,
    *,
    throttle: ArrayLike | tuple[ArrayLike, ...] = 1.0,
    airspeed: ArrayLike = 0.0,
    charge: ArrayLike = 1.0,
    air: Air = SEA_LEVEL,
    with_bands: bool = False,
) -> tuple[OperatingPoint, ...]:
    """Match every line of a group with its pack.

    Parameters
    ----------
    group : PowerGroup
        Lines and the pack that feeds them.
    throttle : array_like or tuple of array_like
        Share of full throttle, 0 to 1; a tuple gives every line its own. [-]
    airspeed : array_like
        Along the shafts. [m/s]
    charge : array_like
        Share of the pack's charge left. [-]
    air : Air
        Density and viscosity.
    with_bands : bool
        Whether to add the one-sigma bands, at eight times the work.

    Returns
    -------
    tuple of OperatingPoint
        One per line. Always finite; `converged` says where the search ended within tolerance.

    Notes
    -----
    Motor constants hold at steady speed; a motor out (throttle 0) windmills or stands still.
    """
    throttles = throttle if isinstance(throttle, tuple) else (throttle,) * len(group.lines)
    shape = np.broadcast_shapes(*(np.shape(d) for d in throttles), np.shape(airspeed))
    shape = np.broadcast_shapes(shape, np.shape(charge))
    given = [np.broadcast_to(np.asarray(d, dtype=np.float64), shape) for d in throttles]
    v = np.broadcast_to(np.asarray(airspeed, dtype=np.float64), shape)
    charges = np.asarray(charge, dtype=np.float64)
    errors = np.eye(_KINDS + 1, _KINDS, k=-1) if with_bands else np.zeros((1, _KINDS))
    e = errors.T.reshape(_KINDS, -1, *(1 for _ in shape))
    pack = group.pack
    source = _Source(
        volts=pack.resting_volts(charges) + e[_VOLTS] * CHART_SCATTER * pack.cells,
        resistance=pack.resistance_at(charges) * (1.0 + e[_PACK] * pack.resistance_scatter),
    )
    cases = [_Case.of(line, e) for line in group.lines]
    equal = group.is_alike and all(d is throttles[0] for d in throttles)
    if equal:
        count = float(len(cases))
        d = given[0]
        g = d + cases[0].part_loss * (1.0 - d)
        behind = count * source.resistance + cases[0].leads
        speed, done = _speeds(cases[0], source.volts * d, d * g * behind, v, air)
        solved = [(speed, done)] * len(cases)
        volts = None
    else:
        solved, volts = _shared(cases, source, given, v, air)
    return tuple(
        _point(line, case, source, solved[i], d, v, volts, len(cases), air, with_bands)
        for i, (line, case, d) in enumerate(zip(group.lines, cases, given, strict=True))
    )


# ---------------------------------------------------------------- one line as numbers

# Kinds of error that are carried through the match for the bands.
_KV, _R, _I0, _PACK, _VOLTS, _CP, _PART = range(7)
_KINDS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class _Source:
    volts: Array  # at rest
    resistance: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """Constants of a line, with a leading axis of errors."""

    propeller: PropellerModel
    kv: Array
    resistance: Array  # winding and controller
    leads: float
    idle: Array
    part_loss: Array
    power_error: Array  # sigmas of cp

    @classmethod
    def of(cls, line: PowerLine, e: Array) -> _Case:
        motor, controller = line.motor, line.controller
        winding = motor.resistance * (1.0 + e[_R] * motor.resistance_scatter)
        return cls(
            propeller=line.propeller,
            kv=motor.speed_constant * (1.0 + e[_KV] * motor.speed_scatter),
            resistance=winding + controller.resistance,
            leads=controller.leads,
            idle=motor.idle_current * (1.0 + e[_I0] * motor.idle_scatter),
            part_loss=controller.part_loss + e[_PART] * controller.part_loss_scatter,
            power_error=e[_CP],
        )

    def surplus(self, rest: _Given, x: Array, air: Air) -> Array:
        """Torque of the motor beyond what the propeller takes at speed x. [N m]"""
        n = x / (2.0 * math.pi)
        d = self.propeller.diameter
        c = self.propeller.coefficients(
            rest.airspeed / (n * d), rotation=n, density=air.density, viscosity=air.viscosity
        )
        load = c.cp + rest.power_error * c.cp_scatter
        load *= air.density * d**5 / (2.0 * math.pi) * n * n
        amps = np.maximum((rest.volts - x / rest.kv) / rest.ohms, 0.0)
        return (amps - rest.idle) / rest.kv - load


@dataclass(frozen=True, slots=True)
class _Given:
    """What holds while a speed is searched, all of one length."""

    volts: Array
    ohms: Array
    kv: Array
    idle: Array
    airspeed: Array
    power_error: Array

    def of(self, which: Mask | NDArray[np.intp]) -> _Given:
        return _Given(*(getattr(self, one.name)[which] for one in fields(self)))


def _speeds(case: _Case, volts: Array, sag: Array, v: Array, air: Air) -> tuple[Array, Mask]:
    """Speed at which motor and propeller agree. [rad/s]"""
    spread = np.broadcast_arrays(
        volts, case.resistance + sag, case.kv, case.idle, v, case.power_error
    )
    shape = spread[0].shape
    given = _Given(*(np.ascontiguousarray(one).ravel() for one in spread))
    diameter = case.propeller.diameter
    free, advance = given.kv * given.volts, 2.0 * math.pi * given.airspeed / diameter
    low = np.full_like(free, _STILL)
    high = np.maximum(free, advance / _LABOURING) + 2.0 * _STILL
    # Where even the slowest turning is held back by friction the propeller stands.
    stands = case.surplus(given, low, air) <= 0.0
    x = np.clip(np.maximum(0.75 * free, advance), 2.0 * low, 0.98 * high)
    speeds, done = np.where(stands, 0.0, x), stands.copy()
    place = np.flatnonzero(~stands)
    state = _Search.start(case, given.of(place), low[place], high[place], x[place], air)
    for count in range(_STEPS):
        if not place.size:
            break
        new = state.next(count)
        ended = np.abs(new - state.x) <= SPEED_TOLERANCE * state.x
        speeds[place] = new
        done[place[ended]] = True
        state, place = state.only(~ended, new), place[~ended]
        state = state.after(case, air)
    return speeds.reshape(shape), done.reshape(shape)


@dataclass(frozen=True, slots=True)
class _Search:
    """A search under way: a bracket, the newest speed and the step it suggests."""

    given: _Given
    low: Array
    high: Array
    x: Array
    f: Array
    step: Array

    @classmethod
    def start(
        cls, case: _Case, given: _Given, low: Array, high: Array, x: Array, air: Air
    ) -> _Search:
        f = case.surplus(given, x, air)
        # The first step takes the load to rise with the square of speed.
        load = np.maximum((given.volts - x / given.kv) / given.ohms, 0.0) / given.kv - f
        slope = -1.0 / (given.kv**2 * given.ohms) - 2.0 * np.abs(load) / x
        return cls(given, low, high, x, f, x - f / slope)

    def next(self, count: int) -> Array:
        """Return the next speed to try: the suggested one, or the middle of the bracket."""
        up = self.f > 0.0
        low, high = np.where(up, self.x, self.low), np.where(up, self.high, self.x)
        inside = (self.step > low) & (self.step < high)
        if count >= _SECANTS and count % 2:
            # Every other step halves the bracket, save where the secant has already arrived.
            inside &= np.abs(self.step - self.x) <= SPEED_TOLERANCE * self.x
        return np.where(inside, self.step, 0.5 * (low + high))

    def only(self, which: Mask, new: Array) -> _Search:
        """Keep the unfinished ones; `step` carries their next speed."""
        up = (self.f > 0.0)[which]
        x = self.x[which]
        return _Search(
            self.given.of(which),
            np.where(up, x, self.low[which]),
            np.where(up, self.high[which], x),
            x,
            self.f[which],
            new[which],
        )

    def after(self, case: _Case, air: Air) -> _Search:
        """Try the next speed and suggest another by the secant."""
        new = self.step
        f = case.surplus(self.given, new, air)
        with np.errstate(divide="ignore", invalid="ignore"):
            step = new - f * (new - self.x) / (f - self.f)
        return _Search(self.given, self.low, self.high, new, f, step)


def _shared(
    cases: list[_Case], source: _Source, throttles: list[Array], v: Array, air: Air
) -> tuple[list[tuple[Array, Mask]], Array]:
    """Lines that differ, on one pack: bracket the pack's volts under load."""

    def spared(volts: Array) -> tuple[Array, list[tuple[Array, Mask]]]:
        drawn = np.zeros(())
        solved: list[tuple[Array, Mask]] = []
        for case, d in zip(cases, throttles, strict=True):
            g = d + case.part_loss * (1.0 - d)
            speed, done = _speeds(case, d * volts, d * g * case.leads, v, air)
            ohms = case.resistance + d * g * case.leads
            drawn = drawn + g * np.maximum(d * volts - speed / case.kv, 0.0) / ohms
            solved.append((speed, done))
        return source.volts - source.resistance * drawn - volts, solved

    shape = np.broadcast_shapes(source.volts.shape, cases[0].kv.shape, v.shape)
    full = np.broadcast_to(source.volts, shape)
    low, high = np.zeros_like(full), full.copy()
    last, (f_last, solved) = full, spared(full)
    volts = full + f_last / 1.2  # a volt less draws a little less
    for count in range(_STEPS):
        f, solved = spared(volts)
        if (np.abs(f) <= _SAG_TOLERANCE * full).all():
            break
        up = f > 0.0
        low, high = np.where(up, volts, low), np.where(up, high, volts)
        with np.errstate(divide="ignore", invalid="ignore"):
            step = volts - f * (volts - last) / (f - f_last)
        inside = (step >= low) & (step <= high) & (count < _SECANTS)
        last, f_last = volts, f
        volts = np.where(inside, step, 0.5 * (low + high))
    return solved, volts


# ---------------------------------------------------------------- all that follows from the speed


def _point(
    line: PowerLine,
    case: _Case,
    source: _Source,
    solved: tuple[Array, Mask],
    d: Array,
    v: Array,
    shared_volts: Array | None,
    count: int,
    air: Air,
    with_bands: bool,
) -> OperatingPoint:
    speed, done = solved
    g = d + case.part_loss * (1.0 - d)
    amps, pack_volts = _currents(case, source, speed, d, g, shared_volts, count)
    n = speed / (2.0 * math.pi)
    size = case.propeller.diameter
    turning = np.maximum(n, _STILL / (2.0 * math.pi))
    ratio = v / (turning * size)
    c = case.propeller.coefficients(
        ratio, rotation=turning, density=air.density, viscosity=air.viscosity
    )
    push = air.density * turning**2 * size**4 * line.installation.factor
    thrust = c.ct * push
    torque = (
        (c.cp + case.power_error * c.cp_scatter)
        * air.density
        * turning**2
        * size**5
        / (2.0 * math.pi)
    )
    motor_volts = amps * (case.resistance - line.controller.resistance) + speed / case.kv
    taken, shaft = pack_volts * g * amps, torque * speed
    held = {
        "rotation": n,
        "motor_amps": amps,
        "pack_amps": g * amps,
        "pack_volts": pack_volts,
        "input_power": taken,
        "thrust": thrust,
        "torque": torque,
    }
    extra = c.ct_scatter * push, thrust * line.installation.scatter / line.installation.factor
    bands = _bands(held, extra) if with_bands else None
    rest = {
        "throttle": np.broadcast_to(d, n.shape),
        "airspeed": np.broadcast_to(v, n.shape),
        "advance_ratio": np.broadcast_to(ratio, n.shape),
        "motor_volts": motor_volts,
        "shaft_power": shaft,
        "motor_heat": np.maximum(motor_volts * amps - shaft, 0.0),
        "controller_heat": np.maximum(taken - motor_volts * amps, 0.0),
    }
    return OperatingPoint(
        **{name: _first(value) for name, value in {**held, **rest}.items()},
        converged=done[0],
        bands=bands,
    )


def _currents(
    case: _Case,
    source: _Source,
    speed: Array,
    d: Array,
    g: Array,
    shared_volts: Array | None,
    count: int,
) -> tuple[Array, Array]:
    """Amps of the motor and volts of the pack under load, from the speed."""
    if shared_volts is None:
        ohms = case.resistance + d * g * (count * source.resistance + case.leads)
        amps = np.maximum(d * source.volts - speed / case.kv, 0.0) / ohms
        return amps, source.volts - source.resistance * count * g * amps
    ohms = case.resistance + d * g * case.leads
    amps = np.maximum(d * shared_volts - speed / case.kv, 0.0) / ohms
    return amps, np.broadcast_to(shared_volts, amps.shape)


def _first(values: Array) -> Array:
    return np.asarray(values)[0]


def _bands(held: dict[str, Array], extra: tuple[Array, Array]) -> Bands:
    def sigma(name: str) -> Array:
        values = np.broadcast_to(held[name], np.broadcast_shapes(*(a.shape for a in held.values())))
        square = ((values[1:] - values[0]) ** 2).sum(axis=0)
        if name == "thrust":
            square = square + sum(term[0] ** 2 for term in extra)
        return np.sqrt(square)

    return Bands(**{one.name: sigma(one.name) for one in fields(Bands)})
