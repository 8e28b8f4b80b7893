"""Does the pack fit its tray, and the tilt its mount?"""

from __future__ import annotations

import math

from foamwright.design.model import Joined, Motor, Pack, Power
from foamwright.design.trouble import Report

_CLOSE = 1e-6  # m; a micrometre is no misfit
_NEAR = 1e-9  # rad

# Common practice, no source.
_FEWEST_READINGS, _LEAST_SPREAD = 3, 1.3


def check_pack(pack: Pack, report: Report) -> None:
    """Say what does not fit between a pack and its tray."""
    tray = pack.tray
    if tray.front >= tray.back:
        back = report.length(tray.back)
        text = f"The front stop must lie ahead of the back stop, which is at {back}."
        report.say("RANGE-ORDER", text, "tray", "front")
        return
    fits = True
    rooms = (
        ("long", pack.size[0], tray.back - tray.front),
        ("wide", pack.size[1], tray.width),
        ("high", pack.size[2], tray.height),
    )
    for word, size, room in rooms:
        if size > room + _CLOSE:
            text = f"The pack is {report.length(size)} {word}; its tray has {report.length(room)}."
            report.say("PACK-TOO-BIG", text, "size")
            fits = False
    foremost, aftmost = pack.travel
    if fits and not foremost - _CLOSE <= pack.position <= aftmost + _CLOSE:
        text = (
            "The middle of the pack can lie between "
            f"{report.length(foremost)} and {report.length(aftmost)} in this tray."
        )
        report.say("PACK-OUTSIDE", text, "position")


def check_mount(motor: Motor, report: Report) -> None:
    """Say where a motor is tilted beyond what its mount can be set to."""
    tilts = (
        ("tilt_up", motor.tilt_up, motor.mount.up),
        ("tilt_right", motor.tilt_right, motor.mount.right),
    )
    for key, tilt, limits in tilts:
        if limits is not None and not limits.low - _NEAR <= tilt <= limits.high + _NEAR:
            low, high = math.degrees(limits.low), math.degrees(limits.high)
            text = f"The mount can be set from {low:.4g} to {high:.4g} degrees."
            report.say("TILT-OUTSIDE", text, key)


def check_measured(motor: Motor, report: Report) -> None:
    """Say where measured points cannot tell a motor's speed constant from its resistance."""
    if not motor.measured:
        return
    amps = [reading.amps for reading in motor.measured]
    if len(amps) < _FEWEST_READINGS or max(amps) < _LEAST_SPREAD * min(amps):
        text = (
            f"A motor's line takes {_FEWEST_READINGS} readings or more, the largest current "
            f"{_LEAST_SPREAD:g} times the smallest: try a larger and a smaller propeller."
        )
        report.say("LIST-LENGTH", text, "measured")


def check_joined_packs(power: Power, report: Report) -> None:
    """Say where two packs on one controller do not go together."""
    packs = {pack.key: pack for pack in power.packs}
    for controller in power.controllers:
        if controller.second_pack is None:
            continue
        where = ("power", "controller", controller.key, "second_pack")
        first, second = packs.get(controller.pack or ""), packs.get(controller.second_pack)
        if first is None or first is second:
            text = "A second pack needs another one to go with it: pack = its name."
            report.say("KEY-MISSING", text, *where)
        elif second is not None and (
            controller.joined is Joined.PARALLEL and first.cells != second.cells
        ):
            text = (
                f"In parallel both packs need the same number of cells: {first.cells} "
                f"and {second.cells} would charge each other."
            )
            report.say("VALUE-CHOICE", text, *where)
