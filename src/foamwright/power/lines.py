"""What hangs together: a motor with its controller and propeller, and the pack that feeds it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

from foamwright.design.model import Controller, Design, Motor, Pack, Propeller, Rotation
from foamwright.figures import Figure
from foamwright.power.controller import ControllerModel, controller_model
from foamwright.power.motor import MotorModel, motor_model
from foamwright.power.pack import PackModel, joined_packs, pack_model
from foamwright.power.propeller import PropellerModel, StaticReading, propeller_model


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """What the place of a propeller costs it in thrust."""

    kind: str  # "tractor", "pusher", "pylon pusher", "slot pusher"
    loss: float = 0.0  # share of the free propeller's thrust
    scatter: float = 0.0  # one sigma, same share
    why: str = ""

    @property
    def factor(self) -> float:
        """Installed thrust over that of the free propeller. [-]"""
        return 1.0 - self.loss


FREE = Installation(kind="free")


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLine:
    """One motor with its controller and its propeller."""

    key: str  # of the motor
    motor: MotorModel
    controller: ControllerModel
    propeller: PropellerModel
    installation: Installation = FREE

    def is_like(self, other: PowerLine) -> bool:
        """Whether both work alike, so that one stands for the other."""
        return (
            self.motor == other.motor
            and self.controller == other.controller
            and self.propeller is other.propeller
            and self.installation == other.installation
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerGroup:
    """All lines that one pack, or several joined ones, feed."""

    key: str  # of the pack, or of both joined by a plus
    lines: tuple[PowerLine, ...]
    pack: PackModel

    @property
    def is_alike(self) -> bool:
        """Whether all lines are alike."""
        return all(line.is_like(self.lines[0]) for line in self.lines[1:])


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The parts of one line as the design names them."""

    motor: Motor
    propeller: Propeller
    controller: Controller
    pack: Pack
    second: Pack | None = None

    @property
    def supply(self) -> str:
        """What feeds it: the key of its pack, or of both joined by a plus."""
        return self.pack.key if self.second is None else f"{self.pack.key}+{self.second.key}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A motor that cannot be reckoned, and what it lacks."""

    motor: str
    lacks: str = field(default="")


def parts_of(design: Design, motor: Motor) -> Parts | Missing:
    """Find what hangs on a motor; a chain with a gap says where it ends."""
    power = design.power
    controllers = {one.key: one for one in power.controllers}
    packs = {one.key: one for one in power.packs}
    if motor.propeller is None:
        return Missing(motor=motor.key, lacks="propeller")
    if motor.controller is None:
        return Missing(motor=motor.key, lacks="controller")
    controller = controllers[motor.controller]
    if controller.pack is None:
        return Missing(motor=motor.key, lacks="pack")
    if motor.speed_constant is None and not motor.measured:
        return Missing(motor=motor.key, lacks="speed constant")
    return Parts(
        motor=motor,
        propeller=power.propeller(motor.propeller),
        controller=controller,
        pack=packs[controller.pack],
        second=packs.get(controller.second_pack or ""),
    )


def power_line(parts: Parts, installation: Installation = FREE) -> PowerLine:
    """Model one line."""
    motor, controller = motor_model(parts.motor), controller_model(parts.controller)
    if motor.has_controller:
        controller = replace(controller, resistance=0.0)  # the measured line counts it already
    return PowerLine(
        key=parts.motor.key,
        motor=motor,
        controller=controller,
        propeller=kept_propeller(parts.propeller),
        installation=installation,
    )


def pack_group(parts: Parts, lines: tuple[PowerLine, ...]) -> PowerGroup:
    """Put the lines that one pack feeds, or two joined ones, together with it."""
    pack = pack_model(parts.pack)
    if parts.second is not None:
        pack = joined_packs((pack, pack_model(parts.second)), parts.controller.joined)
    return PowerGroup(key=parts.supply, lines=lines, pack=pack)


def kept_propeller(propeller: Propeller) -> PropellerModel:
    """Model a propeller; the same blades give the same model without work."""
    # Key, hand, mass and name do not turn the air.
    blades = replace(propeller, key="kept", rotation=Rotation.NORMAL, mass=_NO_MASS, says="")
    return _kept(blades)


_NO_MASS = Figure(value=0.0)


@lru_cache(maxsize=512)
def _kept(propeller: Propeller) -> PropellerModel:
    scale = propeller.reading
    reading = None if scale is None else StaticReading(thrust=scale.thrust, rotation=scale.rotation)
    return propeller_model(propeller, reading=reading)
