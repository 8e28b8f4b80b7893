"""Does the pack fit its tray, and the tilt its mount?"""

from __future__ import annotations

import math

from foamwright.design.model import Motor, Pack
from foamwright.design.trouble import Report

_CLOSE = 1e-6  # m; a micrometre is no misfit
_NEAR = 1e-9  # rad


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
