"""Profile drag between the stalls."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.attached import Attached
from foamwright.air.sections.evidence import fact, number
from foamwright.air.sections.shape import Nose, SectionShape, smooth

Array = NDArray[np.float64]

# Below Re 5e4 the bubble terms are held: they are powers fitted above it.
_BUBBLE_LOW = 0.5
# Profiles thinner than this show no bubble drag in the fit.
_THICK = 0.075
# Design lift from which a section has an upper and a lower side.
_CAMBERED = 0.15
# The bubble drag lives at nose loads about 0.2, and is half gone 0.3 away from it.
_HUMP = (0.2, 0.3)


def laminar_friction(reynolds: Array) -> Array:
    r"""Laminar friction of one side of a plate. [-]

    Parameters
    ----------
    reynolds : ndarray
        Reynolds number on chord. [-]

    Returns
    -------
    ndarray
        :math:`1.328/\sqrt{Re}`. [-]

    References
    ----------
    .. [1] H. Blasius, 1908; H. Schlichting, Boundary-Layer Theory.
    """
    return 1.328 / np.sqrt(reynolds)


def base_drag(height: float, *, forebody: Array) -> Array:
    r"""Drag of a blunt trailing edge or of a step that faces aft, on chord.

    Parameters
    ----------
    height : float
        Height of the base, fraction of chord. [-]
    forebody : ndarray
        Drag of what lies ahead of it, on chord. [-]

    Returns
    -------
    ndarray
        Drag coefficient on chord. [-]

    Notes
    -----
    :math:`C_{D} = 0.135\,C_{Df}^{-1/3}` on base height, :math:`C_{Df}` the forebody's drag on
    that height; turbulent layers, within 40 % below Re 1e5.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory).
    """
    if height <= 0.0:
        return np.zeros_like(forebody)
    return height * number("base.factor") * (forebody / height) ** (-1.0 / 3.0)


def attached_drag(
    shape: SectionShape, loads: Attached, *, alpha: Array, log_reynolds: Array
) -> Array:
    """Profile drag between the stalls.

    Parameters
    ----------
    shape : SectionShape
        The section. [-]
    loads : Attached
        Its lift. [-]
    alpha : ndarray
        Incidence. [rad]
    log_reynolds : ndarray
        log10 of Reynolds number. [-]

    Returns
    -------
    ndarray
        Drag coefficient on chord. [-]
    """
    h = shape.sheetness
    drag = np.zeros(np.broadcast_shapes(alpha.shape, log_reynolds.shape))
    if h < 1.0:
        drag = drag + (1.0 - h) * _profile_drag(shape, loads, log_reynolds)
    if h > 0.0:
        drag = drag + h * _sheet_drag(shape, loads, alpha, log_reynolds)
    return drag + _ends_drag(shape, loads, drag)


def _profile_drag(shape: SectionShape, loads: Attached, log_reynolds: Array) -> Array:
    """Smooth sections: terms fitted to measured polars, see ``tables/facts.toml``."""
    ratio = 10.0 ** (log_reynolds - 5.0)
    friction = 2.0 * laminar_friction(10.0**log_reynolds)
    side = 1.0 if loads.middle >= 0.0 else -1.0  # camber down is the mirror image
    camber = abs(loads.middle)
    load, lost = side * loads.load, side * loads.lost
    # Without camber both sides are upper sides; from a design lift of 0.15 the lower is not.
    cambered = float(smooth(camber / _CAMBERED))
    down = np.maximum(-load, 0.0)
    up = np.maximum(load, 0.0) + (1.0 - cambered) * down
    lost = _above(lost) + (1.0 - cambered) * _above(-lost)
    under = cambered * number("drag.under") * down**2
    rub = friction * (
        number("drag.friction") + number("drag.camber") * camber + number("drag.load") * up**2
    )
    press = number("drag.load4") * up**4 + number("drag.lost") * lost
    thick = max(shape.thickness - _THICK, 0.0)
    held = np.maximum(ratio, _BUBBLE_LOW)
    either = np.sqrt(load * load + 0.0025)  # rounded, so that drag has no corner at no load
    seat = cambered * load + (1.0 - cambered) * either
    hump = 1.0 / (1.0 + ((seat - _HUMP[0]) / _HUMP[1]) ** 4)
    bubble = number("drag.bubble") * camber * hump / held**1.5
    burst = (number("drag.burst") * hump + number("drag.burst_camber") * camber) / held**3
    return rub + press + under + thick * (bubble + burst)


def _sheet_drag(shape: SectionShape, loads: Attached, alpha: Array, log_reynolds: Array) -> Array:
    """Sheets: friction and a constant, the nose suction that is lost, the hollow underside."""
    friction = 2.0 * laminar_friction(10.0**log_reynolds)
    t = shape.lead
    incidence = alpha - loads.middle_alpha
    half, width = fact("sheet.suction").at(t), fact("sheet.suction_width").at(t)
    gone = 0.5 * (1.0 + np.tanh((np.abs(np.degrees(incidence)) - half) / width))
    gone = gone - 0.5 * (1.0 - np.tanh(half / width))  # nothing is gone at no nose load
    held = loads.load + loads.hollow_lost  # what is lost under a hollow is counted below
    suction = gone * held * np.tan(np.clip(incidence, -0.6, 0.6))
    # The force lost under a hollow sheet is square to its forward underside.
    lean = np.tan(np.clip(-loads.alpha0 - alpha, -0.6, 0.6))
    hollow = _above(loads.hollow_lost * lean)
    return friction + number("sheet.pressure") + suction + hollow


def _ends_drag(shape: SectionShape, loads: Attached, drag: Array) -> Array:
    """Blunt tail, square or folded nose, steps."""
    floor = drag.min(axis=-1, keepdims=True)
    extra = base_drag(shape.tail, forebody=floor)
    if shape.nose is Nose.SQUARE:
        extra = extra + number("nose.square") * shape.nose_height
    if shape.nose is Nose.FOLDED:
        extra = extra + number("nose.folded") * shape.nose_height
    for step in shape.steps:
        extra = extra + base_drag(step.height, forebody=floor)
        lift = loads.cl if step.upper else -loads.cl
        extra = extra + number("step.suction") * step.height * _above(lift)
    return extra


def _above(value: Array) -> Array:
    """Return the part above nought, its corner rounded off within 0.01. [-]"""
    part = np.maximum(value, 0.0)
    return part * part / (part + 0.01)
