"""Motors, propellers, controllers and packs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from foamwright.design.model.vectors import Vec3
from foamwright.figures import Figure


class Mounting(StrEnum):
    """Which way the propeller works."""

    TRACTOR = "tractor"
    PUSHER = "pusher"


class Rotation(StrEnum):
    """Hand of the propeller: which way it turns to push forward, seen from behind."""

    NORMAL = "normal"  # clockwise, a right-hand screw
    REVERSE = "reverse"


class Joined(StrEnum):
    """How two packs feed one controller."""

    SERIES = "series"
    PARALLEL = "parallel"


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorReading:
    """One point of a motor at full throttle on the bench."""

    volts: float  # V at the controller
    amps: float  # A
    speed: float  # rad/s


@dataclass(frozen=True, slots=True, kw_only=True)
class ThrustReading:
    """Thrust of a propeller standing still, and how fast it turned."""

    thrust: float  # N
    rotation: float  # rev/s


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltRange:
    """Adjustment of the thrust tilt about one axis."""

    low: float  # rad
    high: float  # rad
    step: float  # rad


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """The adjustable mount: pivot to disc, ranges, lock pegs."""

    up: TiltRange | None
    right: TiltRange | None
    peg_diameter: float | None  # m
    peg_radius: float | None  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Propeller:
    """A propeller as the maker knows it."""

    key: str
    diameter: float  # m
    pitch: float  # m
    blades: int
    style: str  # class of blade, such as "sport", "thin electric", "slow flyer"
    blade_width: float | None  # m, largest
    rotation: Rotation
    mass: Figure  # kg
    says: str = ""  # what to ask for in the shop
    reading: ThrustReading | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor:
    """A motor with its place, its tilt and what hangs on it."""

    key: str
    at: Vec3  # m, pivot of the mount, on the thrust line
    mounting: Mounting
    tilt_up: float  # rad, thrust vector above the forward x axis
    tilt_right: float  # rad, thrust vector to the right of it
    reach: float  # m, pivot to propeller disc along the shaft, away from the motor
    diameter: float  # m
    length: float  # m
    mass: Figure  # kg, with mount and screws
    speed_constant: float | None  # rad/s per volt
    resistance: float | None  # ohm
    idle_current: float | None  # A
    max_current: float | None  # A
    propeller: str | None
    controller: str | None
    mount: Mount
    says: str = ""  # what to ask for in the shop
    measured: tuple[MotorReading, ...] = ()  # full throttle, different loads


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """A speed controller."""

    key: str
    at: Vec3  # m
    size: Vec3  # m, along x, y, z
    rating: float  # A
    mass: Figure  # kg
    pack: str | None
    says: str = ""  # what to ask for in the shop
    second_pack: str | None = None
    joined: Joined = Joined.SERIES  # how the second pack goes with the first


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The space a pack can slide in; the pack's long side lies along x."""

    front: float  # m, x of the front stop
    back: float  # m, x of the back stop
    width: float  # m
    height: float  # m
    floor: float  # m, z
    y: float  # m, middle


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A pack of cells and where it lies."""

    key: str
    cells: int  # in series
    capacity: float  # coulomb
    rating: float  # discharge rating, multiples of capacity per hour
    mass: Figure  # kg
    size: Vec3  # m, along x, y, z as it lies
    position: float  # m, x of its middle
    tray: Tray
    says: str = ""  # what to ask for in the shop
    resistance: float | None = None  # ohm, whole pack, as a charger tells it

    @property
    def travel(self) -> tuple[float, float]:
        """Foremost and aftmost place of the pack's middle in its tray. [m]"""
        half = 0.5 * self.size[0]
        return self.tray.front + half, self.tray.back - half

    @property
    def middle(self) -> Vec3:
        """Middle of the pack where the design puts it. [m]"""
        return self.position, self.tray.y, self.tray.floor + 0.5 * self.size[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """Everything that turns the propellers."""

    motors: tuple[Motor, ...] = ()
    propellers: tuple[Propeller, ...] = ()
    controllers: tuple[Controller, ...] = ()
    packs: tuple[Pack, ...] = ()

    def propeller(self, key: str) -> Propeller:
        """Return the propeller of that key; KeyError where there is none."""
        for propeller in self.propellers:
            if propeller.key == key:
                return propeller
        raise KeyError(key)
