"""The thrust-line map: what power does to pitch and yaw at every setting of the motor mount.

Down and up thrust mean opposite things to owners of tractors and of pushers. What counts here is
the arm of the line above the balance point, in millimetres, and which way the nose goes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air import control_deflections, derivatives
from foamwright.design.model import Motor, TiltRange
from foamwright.errors import DomainError
from foamwright.flight.common import DENSITY, Array
from foamwright.flight.thrustline import thrust_line_of, tilt_through_balance
from foamwright.flight.tilt_trials import (
    THROW,
    Moments,
    Trims,
    glides_of,
    moments_of,
    steady_of,
    trims_of,
)
from foamwright.flight.trimming import Trimmed
from foamwright.flight.whole import Aeroplane, with_tilts

#: Airspeeds of the map over the stall's: from just above it to fast cruise. Our choice.
SPEEDS = (1.2, 1.6, 2.1)
#: Throttles of the map: power off in a glide, level flight, full throttle before it has gained
#: speed. Their numbers on the map's last axis.
OFF, LEVEL, FULL = range(3)
#: One sigma of what the wash on the tail does to the pitch, relative. (common practice, no source)
WASH_SCATTER = 0.3
# How far beyond the mount the calm tilt is looked for, and how finely. [rad]
BEYOND, _FINE = float(np.radians(8.0)), float(np.radians(0.1))
# How far a wedge under a fixed mount is tried. [rad]
_WEDGE = float(np.radians(4.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThrustMap:
    """What power does at every hole of the mount; axes: holes, airspeeds, throttles.

    Angles of holes are those of the force on the aeroplane: up above, right of the forward axis.
    Elevator has its trailing edge down positive. nan where there is no balance.
    """

    drawn: tuple[float, float]  # rad, up and right, as the design has them
    up: Array  # (U,) rad, holes of the mount, or the tilt as drawn alone
    right: Array  # (R,) rad
    can_tilt: bool  # whether the mount has holes for up and down
    airspeed: Array  # (V,) m/s
    arm: Array  # (U,) m, thrust line above the balance point, mean of the motors
    through: float  # rad, tilt at which the line passes through the balance point; nan for none
    elevator: Array  # (U, V, 3) rad, needed with power off, for level flight, at full throttle
    stick: Array  # (U, V, 3) share of the throw for that, nose up; beyond 1 it is not there
    thrust: Array  # (U, V, 3) N
    kick: Array  # (U, V) rad/s², nose up, full throttle from level flight, thrust alone
    kick_washed: Array  # (U, V) rad/s², the same a moment later with the wash on the tail
    full_speed: Array  # (U,) m/s, steady flight at full throttle, elevator as for level cruise
    full_climb: Array  # (U,) m/s
    off_speed: Array  # (U,) m/s, the same with power off
    off_climb: Array  # (U,) m/s
    throw_speed: float  # m/s
    held: Array  # (U,) N, largest thrust that the elevator holds at that speed
    throw_thrust: float  # N, of full throttle there
    swing: Array  # (U,) rad, largest change of elevator between the throttles at one airspeed
    calm: float  # rad, tilt with the least swing, up to 8° beyond the mount; nan for none there
    calm_scatter: float  # rad, one sigma
    calm_swing: float  # rad, the swing there
    order: tuple[int, ...]  # holes, calmest first
    yaw: Array  # (R, V) N m, nose right, at full throttle
    rudder: Array  # (R, V) rad that holds it; nan without a rudder
    calm_right: float  # rad, tilt with the least of it
    evaluations: int

    @property
    def hole(self) -> int:
        """Number of the hole nearest to the tilt as drawn."""
        return int(np.argmin(np.abs(self.up - self.drawn[0])))

    @property
    def best(self) -> int:
        """Number of the calmest hole."""
        return self.order[0]

    @property
    def power_stick(self) -> Array:
        """Stick that full throttle asks for beyond power off, (U, V); back is positive. [-]"""
        return self.stick[..., FULL] - self.stick[..., OFF]

    @property
    def power_elevator(self) -> Array:
        """Elevator that full throttle asks for beyond power off, (U, V). [rad]"""
        return self.elevator[..., FULL] - self.elevator[..., OFF]

    @property
    def is_held(self) -> NDArray[np.bool_]:
        """Whether elevator within its throw holds every throttle, (U, V)."""
        return np.asarray((np.abs(self.stick) <= 1.0).all(axis=-1))

    @property
    def calm_is_there(self) -> bool:
        """Whether the mount reaches the calm tilt."""
        return bool(self.up.min() - 1e-9 <= self.calm <= self.up.max() + 1e-9)


def tilt_holes(range_: TiltRange | None, drawn: float) -> Array:
    """Tilts that a mount can be set to about one axis. [rad]

    Parameters
    ----------
    range_ : TiltRange or None
        Its range and step.
    drawn : float
        The tilt as drawn, the only one of a fixed mount. [rad]

    Returns
    -------
    ndarray
        Rising.
    """
    if range_ is None or not range_.step > 0.0:
        return np.array([drawn])
    count = round((range_.high - range_.low) / range_.step)
    return range_.low + range_.step * np.arange(count + 1, dtype=np.float64)


def thrust_map(plane: Aeroplane, *, stall_speed: float, glide: Trimmed) -> ThrustMap:
    """Map what power does at every hole of the motor mount.

    Parameters
    ----------
    plane : Aeroplane
        As drawn, its thrust known.
    stall_speed : float
        Of straight flight, power off. [m/s]
    glide : Trimmed
        Glides that are known, as those of its envelope; searches start from them.

    Returns
    -------
    ThrustMap

    Raises
    ------
    DomainError
        Where no thrust is known.

    Notes
    -----
    The full model, wash on everything included, is trimmed with the tilt as drawn and at both
    ends of the mount; between them the answers go by a parabola, which is true to better than
    0.05° of elevator on the examples. All motors are tilted alike. Motors of one mount only:
    ranges are those of the first. The kick counts no damping and lasts a moment.
    """
    if plane.thrust is None:
        raise DomainError("the thrust of this aeroplane's propellers is not known")
    motor = plane.airframe.design.power.motors[0]
    drawn = (motor.tilt_up, motor.tilt_right)
    up = tilt_holes(motor.mount.up, drawn[0])
    right = tilt_holes(motor.mount.right, drawn[1])
    nodes = _nodes(up, drawn[0])
    sides = _nodes(right, drawn[1])
    tilts = (*((tilt, drawn[1]) for tilt in nodes), *((drawn[0], tilt) for tilt in sides))
    every = with_tilts(plane, tilts)
    v = stall_speed * np.array(SPEEDS)
    off = glides_of(plane, v, glide=glide)
    trims = trims_of(every, v, len(nodes), off=off)
    moments = moments_of(every, trims, v, len(nodes), len(sides))
    steady = steady_of(every, trims, v, len(nodes))
    return _map(
        _Trials(
            plane=every,
            motor=motor,
            nodes=nodes,
            sides=sides,
            airspeed=v,
            trims=trims,
            moments=moments,
            steady=steady,
        ),
        up,
        right,
    )


def _nodes(holes: Array, drawn: float) -> Array:
    """Tilts at which the full model is asked: as drawn first, then the ends of the range."""
    low, high = float(holes[0]), float(holes[-1])
    if len(holes) == 1:  # a fixed mount: what a wedge would do
        low, high = drawn - _WEDGE, drawn + _WEDGE
    others = [end for end in (low, high) if abs(end - drawn) > _FINE]
    if len(others) == 1:
        others.append(0.5 * (others[0] + drawn))
    return np.array([drawn, *others])


# ---------------------------------------------------------------- from the nodes to all holes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Trials:
    plane: Aeroplane  # its holes are the nodes up and down, then those to the side
    motor: Motor
    nodes: Array
    sides: Array
    airspeed: Array
    trims: Trims
    moments: Moments
    steady: tuple[Trimmed, Trimmed]

    def over(self, values: Array, tilts: Array) -> Array:
        """Put the parabola through the nodes, its first axis, at other tilts."""
        rows = values.reshape(len(self.nodes), -1)
        found = weights(self.nodes, tilts) @ rows
        known = np.isfinite(rows)
        for column in np.flatnonzero(~known.all(axis=0)):
            there = known[:, column]
            # Fewer nodes hold less: a line through two, and nothing beyond what they span.
            if there.sum() < _LEAST_NODES:
                found[:, column] = np.nan
                continue
            ends = self.nodes[there]
            inside = (tilts >= ends.min() - 1e-9) & (tilts <= ends.max() + 1e-9)
            line = weights(ends, tilts) @ rows[there, column]
            found[:, column] = np.where(inside, line, np.nan)
        return found

    def arms(self, tilts: Array) -> Array:
        """Arm of the thrust line above the balance point, mean of the motors. [m]"""
        plane = self.plane
        holes = with_tilts(plane, tuple((tilt, self.motor.tilt_right) for tilt in tilts.tolist()))
        found = [
            [float(thrust_line_of(d.centre, thrust=d.thrust, point=plane.point).arm) for d in hole]
            for hole in holes.holes
        ]
        return np.array(found).mean(axis=1)


# Nodes that a line takes.
_LEAST_NODES = 2


def weights(nodes: Array, tilts: Array) -> Array:
    """Lagrange's weights of nodes at tilts, (tilts, nodes). [-]"""
    table = np.ones((len(tilts), len(nodes)))
    for i, here in enumerate(nodes):
        for j, there in enumerate(nodes):
            if i != j:
                table[:, i] *= (tilts - there) / (here - there)
    return table


def _map(trials: _Trials, up: Array, right: Array) -> ThrustMap:
    plane, trims, moments = trials.plane, trials.trims, trials.moments
    speeds, iy = len(trials.airspeed), float(plane.inertia[1, 1])
    stick, thrust = _needed(trials, up)
    arm = trials.arms(up)
    swing = _swing(plane, stick)
    calm, calm_swing = _calm(trials, up)
    full, off = trials.steady
    kick = (moments.push - moments.push_level) / iy
    yaw = weights(trials.sides, right) @ moments.yaw
    return ThrustMap(
        drawn=(trials.motor.tilt_up, trials.motor.tilt_right),
        up=up,
        right=right,
        can_tilt=len(up) > 1,
        airspeed=trials.airspeed,
        arm=arm,
        through=_through(trials),
        elevator=plane.elevator_angle(stick),
        stick=stick,
        thrust=thrust,
        kick=trials.over(kick, up).reshape(-1, speeds),
        kick_washed=trials.over(moments.kicked / iy, up).reshape(-1, speeds),
        full_speed=trials.over(full.airspeed, up)[:, 0],
        full_climb=trials.over(full.climb, up)[:, 0],
        off_speed=trials.over(off.airspeed, up)[:, 0],
        off_climb=trials.over(off.climb, up)[:, 0],
        throw_speed=THROW,
        held=_held(trials, up),
        throw_thrust=float(moments.throw_thrust[0, -1]),
        swing=swing,
        calm=calm,
        calm_scatter=_calm_scatter(trials, calm),
        calm_swing=calm_swing,
        order=tuple(np.argsort(np.where(np.isfinite(swing), swing, np.inf)).tolist()),
        yaw=yaw,
        rudder=_rudder(plane, trials.airspeed, yaw),
        calm_right=_calm_right(trials, right),
        evaluations=trims.off.evaluations + trims.level.evaluations + full.evaluations + 1,
    )


def _needed(trials: _Trials, tilts: Array) -> tuple[Array, Array]:
    """Stick and thrust at tilts, (tilts, V, 3); power off does not feel the tilt."""
    trims, speeds = trials.trims, len(trials.airspeed)

    def three(off: Array, level: Array, full: Array) -> Array:
        powered = [trials.over(values, tilts).reshape(-1, speeds) for values in (level, full)]
        return np.stack([np.broadcast_to(off, powered[0].shape), *powered], axis=-1)

    return (
        three(trims.off.wanted, trims.level.wanted, trims.full.wanted),
        three(np.zeros(speeds), trims.level.thrust, trims.full.thrust),
    )


def _swing(plane: Aeroplane, stick: Array) -> Array:
    """Largest change of elevator between throttles at one airspeed, (tilts,). [rad]"""
    elevator = plane.elevator_angle(stick)
    change = elevator.max(axis=-1) - elevator.min(axis=-1)
    # Only airspeeds at which every tilt can be held are fair to all.
    known = np.isfinite(change).all(axis=0)
    held = known & (np.abs(stick) <= 1.0).all(axis=(0, 2))
    which = held if held.any() else known
    return change[:, which].max(axis=-1) if which.any() else np.full(len(change), np.nan)


def _calm(trials: _Trials, up: Array) -> tuple[float, float]:
    """Tilt with the least swing, also beyond the mount, and the swing there. [rad]"""
    tilts = np.arange(up.min() - BEYOND, up.max() + BEYOND, _FINE)
    swing = _swing(trials.plane, _needed(trials, tilts)[0])
    if not np.isfinite(swing).any():
        return float("nan"), float("nan")
    best = int(np.nanargmin(swing))
    if best in (0, len(tilts) - 1):  # no least within what a parabola may be drawn on to
        return float("nan"), float("nan")
    return float(tilts[best]), float(swing[best])


def _calm_scatter(trials: _Trials, calm: float) -> float:
    """One sigma of the calm tilt: height of the balance point, and the wash it works against."""
    if not np.isfinite(calm):
        return float("nan")
    near = trials.arms(np.array([calm, calm + _FINE]))
    slope = abs(float(near[1] - near[0])) / _FINE
    doubt = np.hypot(trials.plane.point_scatter[2], WASH_SCATTER * float(near[0]))
    return float(doubt / slope) if slope > 0.0 else float("inf")


def _through(trials: _Trials) -> float:
    """Tilt at which the line passes through the balance point, the pivot standing still. [rad]"""
    x, _, z = (at - own for at, own in zip(trials.motor.at, trials.plane.point, strict=True))
    return float(tilt_through_balance(ahead=-x, above=z))


def _held(trials: _Trials, up: Array) -> Array:
    """Largest thrust that full elevator holds at the speed of a throw, (tilts,). [N]"""
    moments = trials.moments
    against = moments.throw * moments.way[:, None]  # what the elevator has left
    thrust = moments.throw_thrust
    found = np.empty(len(thrust))
    for row, (left, push) in enumerate(zip(against, thrust, strict=True)):
        found[row] = _first_nought(push, left)
    return trials.over(found, up)[:, 0]


def _first_nought(push: Array, left: Array) -> float:
    """Where a parabola through three points first falls to nought; its end where it does not."""
    fine = np.linspace(0.0, float(push[-1]), 101)
    values = weights(push, fine) @ left
    lost = np.flatnonzero(values < 0.0)
    return float(fine[max(int(lost[0]) - 1, 0)]) if lost.size else float(push[-1])


def _rudder(plane: Aeroplane, v: Array, yaw: Array) -> Array:
    """Rudder that holds a yawing moment, in its own sign; nan where nothing yaws. [rad]"""
    moved = control_deflections(plane.airframe, yaw=1.0)
    ref, found = plane.aero.tensor.reference, derivatives(plane.aero.tensor)
    slope = float(found.table[5, 5:] @ moved)
    if not abs(slope) > 0.0:
        return np.full_like(yaw, np.nan)
    throw = moved[int(np.argmax(np.abs(moved)))]
    return -yaw / (0.5 * DENSITY * v**2 * ref.area * ref.span * slope) * throw


def _calm_right(trials: _Trials, right: Array) -> float:
    """Tilt to the right with the least yaw of full throttle, also beyond the mount. [rad]"""
    tilts = np.arange(right.min() - BEYOND, right.max() + BEYOND, _FINE)
    worst = np.abs(weights(trials.sides, tilts) @ trials.moments.yaw).max(axis=-1)
    return float(tilts[int(np.argmin(worst))])
