r"""Lift and moment between the stalls.

The straight line of thin-aerofoil theory, with a measured slope; less the camber's lift that a
laminar layer loses below a certain incidence; bent over to a measured limit of the *load on the
nose*. With :math:`\alpha_0`, the ideal incidence and the design lift :math:`c_{li}` of the mean
line,

.. math:: u = a(\alpha-\alpha_0) - c_{li}, \qquad
          c_l = c_{li} + \frac{u}{(1+|u/K|^p)^{1/p}} - \Delta

so that the largest lift is :math:`c_{li}+K`. K is nearly the same for all of eleven measured
sections of 0 to 6 % camber, and the same rule gives the measured gain of a flap, which moves
:math:`c_{li}` and nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import number
from foamwright.air.sections.shape import SectionShape, smooth
from foamwright.air.sections.thin import ThinAerofoil, thin_aerofoil

Array = NDArray[np.float64]

# The slope's rise with Reynolds number is held above this: 3e5.
_SLOPE_TOP = 0.477
# Underside less hollow than this is a smooth section's; it keeps its lift. E387 has 0.2.
_HOLLOW = 0.3
# Hollow of BW-3, to which the loss was fitted.
_BW3_HOLLOW = 0.88
# The bend's exponent: below 2 there is no straight part, above 12 it has a corner.
_BEND = (2.0, 12.0)
# Arm of the lift lost aft before the stall, chords behind the quarter chord: moments of
# E387 (C) 0.08, BW-3 0.10-0.12, UIUC vol. 3.
_LOST_ARM = 0.09


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Attached:
    """Loads between the stalls; arrays are (Reynolds numbers, incidences) or broadcast to it."""

    cl: Array
    cm: Array
    load: Array  # lift less design lift
    lost: Array  # lift lost in the bend; negative on the lower branch
    hollow_lost: Array  # lift lost under a hollow sheet
    slope: Array  # 1/rad
    alpha0: float  # rad, of the straight line
    middle: float  # c_li
    middle_alpha: Array  # rad, incidence of no nose load
    limit: Array  # K
    stall: Array  # rad, incidence at which the upper stall sets in
    lower_stall: Array  # rad


def attached(shape: SectionShape, *, alpha: Array, log_reynolds: Array) -> Attached:
    """Lift and moment between the stalls.

    Parameters
    ----------
    shape : SectionShape
        The section. [-]
    alpha : ndarray
        Incidence. [rad]
    log_reynolds : ndarray
        log10 of Reynolds number, broadcast with alpha. [-]

    Returns
    -------
    Attached
        Coefficients [-], angles [rad].

    Notes
    -----
    Fitted at Re 4e4 to 3e5; see ``tables/facts.toml`` for the range and source of each figure.
    """
    thin = thin_aerofoil(shape.mean_line)
    alpha0, h = float(thin.alpha0), shape.sheetness
    camber_lift = -2.0 * np.pi * alpha0
    # The mean line at a round nose is ill-defined, so a profile's middle is its lift at no
    # incidence, as in the fit; a sheet's is the design lift of its mean line.
    middle = h * float(thin.design_cl) + (1.0 - h) * camber_lift
    r = log_reynolds - 5.0
    slope = _slope(r, camber_lift)
    limit, bend = nose_limit(shape, log_reynolds), _bend(shape)
    straight = slope * (alpha - alpha0) - middle
    size, filled_cm = _hollow(shape, thin, camber_lift)
    hollow = _hollow_loss(alpha, r, size)
    bent = straight / (1.0 + np.abs(straight / limit) ** bend) ** (1.0 / bend)
    lost = straight - bent
    load = bent - _wake_loss(alpha, r, camber_lift) - hollow
    ratio = h * number("stall.sheet_ratio") + (1.0 - h) * number("stall.ratio")
    reach = ratio * limit
    share = hollow / size if size != 0.0 else 0.0 * hollow
    cm = float(thin.cm_c4) + share * (filled_cm - float(thin.cm_c4)) + _LOST_ARM * lost
    return Attached(
        cl=middle + load,
        cm=cm,
        load=load,
        lost=lost,
        hollow_lost=hollow,
        slope=slope,
        alpha0=alpha0,
        middle=middle,
        middle_alpha=alpha0 + middle / slope,
        limit=limit,
        stall=alpha0 + (middle + reach) / slope,
        lower_stall=alpha0 + (middle - reach) / slope,
    )


def nose_limit(shape: SectionShape, log_reynolds: Array) -> Array:
    """Largest load on the nose: largest lift less design lift. [-]"""
    t = shape.thickness
    low, high = 0.067, 0.137  # the range of the fit
    profile = number("limit.profile") + number("limit.thickness") * (np.clip(t, low, high) - 0.08)
    sheet = number("limit.sheet") + number("limit.sheet_reynolds") * (log_reynolds - 5.0)
    h = shape.sheetness
    return h * sheet + (1.0 - h) * profile


def _slope(r: Array, camber_lift: float) -> Array:
    """Lift slope. [1/rad]"""
    eta = (
        number("slope.base")
        + number("slope.reynolds") * np.minimum(r, _SLOPE_TOP)
        + number("slope.camber") * abs(camber_lift)
    )
    return 2.0 * np.pi * eta


def _wake_loss(alpha: Array, r: Array, camber_lift: float) -> Array:
    """Lift lost while the laminar layer leaves the rear of the cambered side. [-]"""
    place = number("wake.place") - number("wake.reynolds") * r
    return _loss(alpha, place, number("wake.width"), number("wake.share") * camber_lift)


def _hollow(shape: SectionShape, thin: ThinAerofoil, camber_lift: float) -> tuple[float, float]:
    """Lift that goes when dead air fills the underside, and the moment then. [-]"""
    cm = float(thin.cm_c4)
    if shape.filled_line is not None:
        filled = thin_aerofoil(shape.filled_line)
        return 2.0 * np.pi * float(filled.alpha0 - thin.alpha0), float(filled.cm_c4)
    fullness = float(smooth((shape.hollow - _HOLLOW) / (_BW3_HOLLOW - _HOLLOW)))
    share = number("hollow.share") * shape.sheetness * fullness
    return share * camber_lift, cm * (1.0 - share)


def _hollow_loss(alpha: Array, r: Array, size: float) -> Array:
    """Lift lost while the air leaves a hollow underside. [-]"""
    place = number("hollow.place") - number("hollow.reynolds") * r
    return _loss(alpha, place, number("hollow.width"), size)


def _loss(alpha: Array, place_deg: Array, width_deg: float, size: float) -> Array:
    """Logistic loss below a place; camber down loses in the mirror image."""
    side = 1.0 if size >= 0.0 else -1.0
    x = (side * np.degrees(alpha) - place_deg) / width_deg
    return size * 0.5 * (1.0 - np.tanh(0.5 * x))


def _bend(shape: SectionShape) -> float:
    profile = number("bend.profile") + number("bend.thickness") * shape.thickness
    h = shape.sheetness
    return float(np.clip(h * number("bend.sheet") + (1.0 - h) * profile, *_BEND))
