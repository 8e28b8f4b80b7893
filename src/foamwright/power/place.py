"""What the place of a propeller costs it: tractor, pusher, pylon, slot."""

from __future__ import annotations

import numpy as np

from foamwright.airframe import Airframe, Disc
from foamwright.design.model import Motor, Mounting
from foamwright.power.lines import FREE, Installation

#: Share of thrust lost and its one sigma. Tractor: a wing in the slipstream costs 1 to 3 % of
#: propulsive efficiency (NACA full-scale tests, abstract read). Pushers: sources disagree between 0
#: and 15 %; no measurement at model scale was found.
TRACTOR = (0.02, 0.005)
PUSHER = (0.05, 0.04)

_WHY = {
    "tractor": "body and wing in the slipstream: 1 to 3 %, NACA full-scale tests",
    "pusher": "works in the wake of what stands ahead: 5 %, band 0 to 15 %, sources disagree",
}


def installation(airframe: Airframe, motor: Motor) -> Installation:
    """Say how a propeller is placed and what that costs.

    Parameters
    ----------
    airframe : Airframe
        Its bodies and surfaces around the disc.
    motor : Motor
        The motor.

    Returns
    -------
    Installation
        Kind, loss of thrust and its band.
    """
    disc = next((one for one in airframe.discs if one.motor == motor.key), None)
    if disc is None:
        return FREE
    if motor.mounting is Mounting.TRACTOR:
        loss, scatter = TRACTOR
        return Installation(kind="tractor", loss=loss, scatter=scatter, why=_WHY["tractor"])
    loss, scatter = PUSHER
    kind = "slot pusher" if _in_slot(airframe, disc) else "pusher"
    if kind == "pusher" and _on_pylon(airframe, motor):
        kind = "pylon pusher"
    return Installation(kind=kind, loss=loss, scatter=scatter, why=_WHY["pusher"])


def _on_pylon(airframe: Airframe, motor: Motor) -> bool:
    for body in airframe.bodies:
        low, high = body.outside.vertices.min(axis=0), body.outside.vertices.max(axis=0)
        near = low[0] - 0.05 <= motor.at[0] <= high[0] + 0.05 and abs(motor.at[2] - high[2]) < 0.05
        if body.kind == "pylon" and near:
            return True
    return False


def _in_slot(airframe: Airframe, disc: Disc) -> bool:
    """Whether sheet stands both ahead of and behind the disc, within its own depth of view."""
    radius = 0.5 * disc.diameter
    ahead = behind = False
    for piece in airframe.pieces:
        if not piece.path.startswith(("surface.", "body.")):
            continue
        local = piece.mesh.vertices - disc.centre
        along = local @ disc.thrust
        across = np.linalg.norm(local - along[:, None] * disc.thrust, axis=1)
        seen = (across < radius) & (np.abs(along) < 0.4 * disc.diameter)
        ahead |= bool((seen & (along > 0.0)).any())
        behind |= bool((seen & (along < 0.0)).any())
    return ahead and behind
