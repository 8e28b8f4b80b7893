"""The fitted laws: how sections work, what blades look like, how sure that is.

Numbers are in `fitted`, with the data they rest on; `tools/fit_propeller.py` makes them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from foamwright.power.propeller.fitted import FITTED

Array = NDArray[np.float64]

#: Where blades begin, and the Gauss points between there and the tip.
HUB = 0.15
_points, _weights = np.polynomial.legendre.leggauss(8)
STATIONS: Array = HUB + 0.5 * (1.0 - HUB) * (1.0 + _points)
WEIGHTS: Array = 0.5 * (1.0 - HUB) * _weights

#: Reynolds number at which the section constants are given; it divides, so any would do.
REFERENCE_REYNOLDS = 5e4

#: Diameter, and largest width over radius, at which the blade laws have their constant.
REFERENCE_DIAMETER = 0.23  # m
REFERENCE_WIDTH = 0.195

#: Width counts outside this r/R, where blades work: some bulge near the hub, and some hubs are
#: wider than their blades.
WIDTH_FROM = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionLaw:
    """Lift and drag of a small propeller's section, in effective constants."""

    slope: float  # 1/rad
    slope_reynolds: float  # exponent
    top_lift: float  # where the soft stall levels off, far from the hub
    top_reynolds: float  # exponent
    top_inboard: float  # share more near the hub, where the blade is wide for its radius
    low_lift: float  # the same below zero lift
    drag: float  # least
    drag_reynolds: float  # exponent, negative sense
    drag_lift: float  # on (cl - best)²
    best_lift: float
    drag_incidence: float  # on sin² of incidence
    zero_reynolds: float  # rad per e-fold, effective camber lost at low Reynolds number


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """One sigma over the peak coefficient, at 0, 1/2 and 1 of the advance of zero thrust."""

    ct: tuple[float, float, float]
    cp: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class TierLaw:
    """From what is known to the effective angle, chord and drag of a blade."""

    angle: float  # rad, added to the twist
    chord: tuple[float, float, float, float]  # ln: constant, by ln D, ln blades/2, ln width
    drag: float  # ln of the factor
    class_angle: Mapping[str, float]  # rad, by style
    class_chord: Mapping[str, float]  # ln, by style
    spread: tuple[float, float, float]  # one sigma: angle [rad], ln chord, ln drag
    bands: Bands
    bands_read: Bands  # with a static reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Laws:
    """Everything fitted."""

    section: SectionLaw
    chord: Array  # chord/R of the common blade at `STATIONS`
    twist: Array  # rad, its twist less that of a screw of the nominal pitch
    tiers: Mapping[str, TierLaw]


def laws_from(numbers: Mapping[str, Any]) -> Laws:
    """Read laws from plain numbers.

    Parameters
    ----------
    numbers : mapping
        As `fitted.FITTED`. [-]

    Returns
    -------
    Laws
        The same, named.
    """

    def bands(entry: Mapping[str, Any]) -> Bands:
        return Bands(ct=tuple(entry["ct"]), cp=tuple(entry["cp"]))

    def tier(entry: Mapping[str, Any]) -> TierLaw:
        plain = {key: entry[key] for key in ("angle", "drag", "class_angle", "class_chord")}
        return TierLaw(
            **plain,
            chord=tuple(entry["chord"]),
            spread=tuple(entry["spread"]),
            bands=bands(entry["bands"]),
            bands_read=bands(entry["bands_read"]),
        )

    return Laws(
        section=SectionLaw(**numbers["section"]),
        chord=np.asarray(numbers["chord"], dtype=np.float64),
        twist=np.asarray(numbers["twist"], dtype=np.float64),
        tiers={name: tier(entry) for name, entry in numbers["tiers"].items()},
    )


def lift_and_drag(
    incidence: Array, reynolds: Array, chord_over_radius: Array, *, law: SectionLaw
) -> tuple[Array, Array]:
    """Give lift and drag coefficient at any incidence.

    Parameters
    ----------
    incidence : ndarray
        From the zero-lift line at the reference Reynolds number. [rad]
    reynolds : ndarray
        Of rotation and chord. [-]
    chord_over_radius : ndarray
        Chord over distance from the shaft. [-]
    law : SectionLaw
        Constants.

    Returns
    -------
    tuple of ndarray
        Lift and drag coefficient. [-]

    Notes
    -----
    Lift levels off as a hyperbolic tangent instead of breaking: rotating blades, and wind-tunnel
    propellers at 20,000 to 90,000, show no stall at the incidence where their sections would.
    More lift near the hub follows the usual square of chord over radius, bounded. Beyond 45°
    nothing was fitted.

    References
    ----------
    .. [1] H. Snel, R. Houwink, J. Bosschers, Sectional prediction of lift coefficients on
       rotating wind turbine blades in stall, 1994 (the square law; from memory).
    """
    ratio = np.log(reynolds / REFERENCE_REYNOLDS)
    angle = incidence + law.zero_reynolds * ratio
    line = law.slope * np.exp(law.slope_reynolds * ratio) * angle
    square = chord_over_radius * chord_over_radius
    top = law.top_lift * np.exp(law.top_reynolds * ratio)
    top = top * (1.0 + law.top_inboard * square / (1.0 + square))
    limit = np.where(line > 0.0, top, law.low_lift)
    sine = np.sin(angle)
    lift = limit * np.tanh(line / limit) * np.cos(angle)
    drag = law.drag * np.exp(-law.drag_reynolds * ratio)
    drag = drag + law.drag_lift * (lift - law.best_lift) ** 2 + law.drag_incidence * sine * sine
    return lift, drag


#: The laws in use.
LAWS = laws_from(FITTED)
