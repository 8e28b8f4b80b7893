"""What turns the propellers."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from foamwright.design.checks.power import check_measured, check_mount, check_pack
from foamwright.design.model import (
    Controller,
    Joined,
    Motor,
    MotorReading,
    Mount,
    Mounting,
    Pack,
    Propeller,
    Rotation,
    ThrustReading,
    TiltRange,
    Tray,
)
from foamwright.design.schema.base import Reading, Table
from foamwright.design.schema.fields import Choice, Whole
from foamwright.design.schema.kinds import (
    At,
    Charge,
    Coordinate,
    Current,
    Extent,
    Force,
    Key,
    Mass,
    PropellerSize,
    Rating,
    Reach,
    Resistance,
    Rpm,
    Scatter,
    ShortLine,
    Size,
    SmallSize,
    SpeedConstant,
    Tilt,
    TiltPair,
    TiltStep,
    Volts,
)
from foamwright.design.schema.stock import Bought
from foamwright.design.trouble import Report


class MountIn(Table):
    """The adjustable mount of a motor."""

    up: TiltPair | None = Field(None, description="range of tilt_up: [low, high]")
    up_step: TiltStep | None = Field(None, description="step between its settings")
    right: TiltPair | None = Field(None, description="range of tilt_right: [low, high]")
    right_step: TiltStep | None = Field(None, description="step between its settings")
    peg_diameter: SmallSize | None = Field(None, description="of the lock peg")
    peg_radius: Extent | None = Field(None, description="pivot to lock peg")

    def build(self, report: Report) -> Mount:
        """Return the mount."""
        return Mount(
            up=_tilt_range(self.up, self.up_step, report, "up"),
            right=_tilt_range(self.right, self.right_step, report, "right"),
            peg_diameter=self.peg_diameter,
            peg_radius=self.peg_radius,
        )


_FIXED = Mount(up=None, right=None, peg_diameter=None, peg_radius=None)


def _tilt_range(
    limits: tuple[float, float] | None, step: float | None, report: Report, key: str
) -> TiltRange | None:
    if limits is None:
        if step is not None:
            text = f"A step needs a range to go with it: {key} = [low, high]."
            report.say("KEY-MISSING", text, key)
        return None
    low, high = limits
    if low >= high:
        report.say("RANGE-ORDER", "The range must go from its low end to its high end.", key)
        return None
    if step is not None and step > high - low:
        report.say("VALUE-TOO-LARGE", "The step is larger than the whole range.", f"{key}_step")
        return None
    # A mount without stated steps is set anywhere in its range.
    return TiltRange(low=low, high=high, step=0.0 if step is None else step)


class MotorReadingIn(Table):
    """A motor at full throttle on the bench."""

    volts: Volts = Field(description="at the controller")
    amps: Current = Field(description="into the controller")
    rpm: Rpm = Field(description="turns in a minute")


class MotorIn(Bought):
    """A motor, its place and its tilt."""

    at: At = Field(description="pivot of the mount, on the thrust line")
    mounting: Annotated[Mounting, Choice(Mounting)] = Field(description="pulls or pushes")
    tilt_up: Tilt = Field(0.0, description="thrust above the forward x axis")
    tilt_right: Tilt = Field(0.0, description="thrust to the right of the forward x axis")
    reach: Reach = Field(description="pivot to the propeller disc, along the shaft")
    diameter: SmallSize = Field(description="of the motor")
    length: SmallSize = Field(description="of the motor, without its shaft")
    mass: Mass = Field(description="with mount and screws")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    speed_constant: SpeedConstant | None = Field(None, description="turning speed per volt")
    resistance: Resistance | None = Field(None, description="of its winding")
    idle_current: Current | None = Field(None, description="without a propeller")
    max_current: Current | None = Field(None, description="the most it stands")
    propeller: Key | None = Field(None, description="the propeller on it")
    controller: Key | None = Field(None, description="the controller that feeds it")
    mount: MountIn | None = Field(None, description="what its tilt can be set to")
    measured: tuple[MotorReadingIn, ...] = Field(
        (), max_length=100, description="on the bench at full throttle: three loads or more"
    )

    def build(self, key: str, report: Report, _reading: Reading) -> Motor:
        """Return the motor; what is wrong with it goes to the report."""
        report.use("propeller", self.propeller, "propeller")
        report.use("controller", self.controller, "controller")
        motor = Motor(
            key=key,
            at=self.at,
            mounting=self.mounting,
            tilt_up=self.tilt_up,
            tilt_right=self.tilt_right,
            reach=self.reach,
            diameter=self.diameter,
            length=self.length,
            mass=self.mass.figure(self.mass_scatter),
            speed_constant=self.speed_constant,
            resistance=self.resistance,
            idle_current=self.idle_current,
            max_current=self.max_current,
            propeller=self.propeller,
            controller=self.controller,
            mount=self.mount.build(report.at("mount")) if self.mount else _FIXED,
            says=self.spoken(""),
            measured=tuple(
                MotorReading(volts=one.volts, amps=one.amps, speed=one.rpm * math.pi / 30.0)
                for one in self.measured
            ),
        )
        check_mount(motor, report)
        check_measured(motor, report)
        return motor


class ThrustReadingIn(Table):
    """A propeller's thrust standing still, on a kitchen scale."""

    thrust: Force = Field(description="what the scale shows")
    rpm: Rpm = Field(description="turns in a minute")


class PropellerIn(Bought):
    """A propeller."""

    diameter: PropellerSize = Field(description="tip to tip")
    pitch: PropellerSize = Field(description="advance in one turn")
    blades: Annotated[int, Whole(1, 8)] = Field(2, description="how many")
    style: ShortLine = Field("sport", description='class of blade, such as "slow flyer"')
    blade_width: SmallSize | None = Field(
        None, description="largest width of a blade outside 60 % of its radius"
    )
    rotation: Annotated[Rotation, Choice(Rotation)] = Field(
        Rotation.NORMAL, description="normal: a right-hand screw, clockwise from behind"
    )
    mass: Mass = Field(description="of one propeller")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    reading: ThrustReadingIn | None = Field(None, description="its thrust as measured")

    def build(self, key: str, _report: Report, _reading: Reading) -> Propeller:
        """Return the propeller."""
        return Propeller(
            key=key,
            diameter=self.diameter,
            pitch=self.pitch,
            blades=self.blades,
            style=self.style,
            blade_width=self.blade_width,
            rotation=self.rotation,
            mass=self.mass.figure(self.mass_scatter),
            says=self.spoken(""),
            reading=(
                ThrustReading(thrust=self.reading.thrust, rotation=self.reading.rpm / 60.0)
                if self.reading
                else None
            ),
        )


class ControllerIn(Bought):
    """A speed controller."""

    at: At = Field(description="its middle")
    size: Size = Field(description="along x, y, z as it lies")
    rating: Current = Field(description="the current it stands")
    mass: Mass = Field(description="with leads and connectors")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    pack: Key | None = Field(None, description="the pack that feeds it")
    second_pack: Key | None = Field(None, description="another pack that feeds it as well")
    joined: Annotated[Joined, Choice(Joined)] = Field(
        Joined.SERIES, description="how the second pack goes with the first"
    )

    def build(self, key: str, report: Report, _reading: Reading) -> Controller:
        """Return the controller."""
        report.use("pack", self.pack, "pack")
        report.use("pack", self.second_pack, "second_pack")
        return Controller(
            key=key,
            at=self.at,
            size=self.size,
            rating=self.rating,
            mass=self.mass.figure(self.mass_scatter),
            pack=self.pack,
            says=self.spoken(""),
            second_pack=self.second_pack,
            joined=self.joined,
        )


class TrayIn(Table):
    """The space a pack can slide in."""

    front: Coordinate = Field(description="x of the front stop")
    back: Coordinate = Field(description="x of the back stop")
    width: Extent = Field(description="across, inside")
    height: Extent = Field(description="upright, inside")
    floor: Coordinate = Field(description="z of its floor")
    y: Coordinate = Field(0.0, description="its middle")

    def build(self) -> Tray:
        """Return the tray."""
        return Tray(
            front=self.front,
            back=self.back,
            width=self.width,
            height=self.height,
            floor=self.floor,
            y=self.y,
        )


class PackIn(Bought):
    """A pack of cells and its tray."""

    cells: Annotated[int, Whole(1, 14)] = Field(description="cells in series")
    capacity: Charge = Field(description="its capacity")
    rating: Rating = Field(description="discharge rating, multiples of the capacity per hour")
    mass: Mass = Field(description="with leads and connector")
    mass_scatter: Scatter | None = Field(None, description="one standard deviation, relative")
    size: Size = Field(description="along x, y, z as it lies")
    position: Coordinate = Field(description="x of its middle")
    tray: TrayIn = Field(description="the space it can slide in")
    resistance: Resistance | None = Field(None, description="of the whole pack, as measured")

    def build(self, key: str, report: Report, _reading: Reading) -> Pack:
        """Return the pack; what is wrong with it goes to the report."""
        pack = Pack(
            key=key,
            cells=self.cells,
            capacity=self.capacity,
            rating=self.rating,
            mass=self.mass.figure(self.mass_scatter),
            size=self.size,
            position=self.position,
            tray=self.tray.build(),
            says=self.spoken(""),
            resistance=self.resistance,
        )
        check_pack(pack, report)
        return pack
