"""Throws: degrees and millimetres at a marked point, mixing, bevels, exponential, first flights."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from foamwright.design.model import Channel
from foamwright.flight.common import Array, as_array, as_arrays, only_where

#: Throws either way for the first flights of a slow foam trainer. [rad] (common practice, no
#: source)
FIRST_FLIGHT = MappingProxyType(
    {
        Channel.ROLL: (np.radians(10.0), np.radians(15.0)),
        Channel.PITCH: (np.radians(10.0), np.radians(14.0)),
        Channel.YAW: (np.radians(20.0), np.radians(30.0)),
    }
)
#: Exponential that such a model is given. [-] (common practice, no source)
EXPONENTIAL = (0.2, 0.4)
#: Aileron up over down, by how the section is curved. [-] (common practice, no source)
DIFFERENTIAL_CAMBERED, DIFFERENTIAL_SYMMETRIC = (1.5, 2.5), (1.0, 1.2)
#: Camber above which a section counts as curved, of chord. [-] (common practice, no source)
_CURVED = 0.015


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThrowMark:
    """A throw as a ruler shows it."""

    height: Array  # m, square to the chord, from neutral: what a ruler stood beside it reads
    straight: Array  # m, from neutral to there in a straight line: what a ruler laid on reads
    arc: Array  # m, along the arc


def throw_mark(angle: ArrayLike, *, chord: ArrayLike) -> ThrowMark:
    r"""Throw at a marked point: :math:`c\sin\delta`, :math:`2c\sin(\delta/2)`, :math:`c\delta`.

    Parameters
    ----------
    angle : array_like
        Deflection. [rad]
    chord : array_like
        Hinge line to the marked point, as at the trailing edge of the wider end. [m]

    Returns
    -------
    ThrowMark
    """
    d, c = as_arrays(angle, chord)
    return ThrowMark(height=c * np.sin(d), straight=2.0 * c * np.sin(0.5 * d), arc=c * d)


def throw_angle(height: ArrayLike, *, chord: ArrayLike) -> Array:
    """Deflection of a throw measured square to the chord. [rad]

    Parameters
    ----------
    height : array_like
        At the marked point, from neutral. [m]
    chord : array_like
        Hinge line to the marked point. [m]

    Returns
    -------
    ndarray
        nan where the height is more than the chord.
    """
    share = as_array(height) / as_array(chord)
    return np.arcsin(only_where(np.abs(share) <= 1.0, share))


def streamwise_angle(angle: ArrayLike, *, sweep: ArrayLike) -> Array:
    r"""Deflection along the stream of a control on a swept hinge. [rad]

    .. math:: \tan\delta_s = \tan\delta \cos\Lambda

    Parameters
    ----------
    angle : array_like
        About the hinge. [rad]
    sweep : array_like
        Of the hinge line. [rad]

    Returns
    -------
    ndarray
    """
    d = as_array(angle)
    return np.arctan2(np.sin(d) * np.cos(as_array(sweep)), np.cos(d))


def bevel_travel(bevel: ArrayLike, *, gap: ArrayLike, thickness: ArrayLike) -> Array:
    r"""Travel towards the open side of a skin hinge before the edges touch. [rad]

    .. math:: \delta = \beta + \arctan\frac{g}{2t} +
              \arcsin\frac{g\cos\beta}{2\sqrt{t^2 + g^2/4}}

    Parameters
    ----------
    bevel : array_like
        Of the control's edge, from square. [rad]
    gap : array_like
        Between both edges at the skin that is the hinge. [m]
    thickness : array_like
        Of the sheet. [m]

    Returns
    -------
    ndarray

    Notes
    -----
    Hinge in the middle of the gap, in the skin; the fixed edge is square. Away from the open side
    the skin only folds. Foam gives a little more.
    """
    b, g, t = as_arrays(bevel, gap, thickness)
    half = 0.5 * g
    return b + np.arctan2(half, t) + np.arcsin(half * np.cos(b) / np.hypot(t, half))


# ---------------------------------------------------------------- mixing


def elevon_angles(elevator: ArrayLike, *, aileron: ArrayLike) -> tuple[Array, Array]:
    """Left and right deflection of elevons. [rad]

    Parameters
    ----------
    elevator : array_like
        Trailing edge down positive on both. [rad]
    aileron : array_like
        Half the difference, right wing down positive: left trailing edge down. [rad]

    Returns
    -------
    tuple of ndarray
    """
    both, half = as_arrays(elevator, aileron)
    return both + half, both - half


def v_tail_angles(elevator: ArrayLike, *, rudder: ArrayLike) -> tuple[Array, Array]:
    """Left and right deflection of a V-tail with its tips up. [rad]

    Parameters
    ----------
    elevator : array_like
        Trailing edge down positive on both. [rad]
    rudder : array_like
        Nose right positive: the right trailing edge goes down, the left one up. [rad]

    Returns
    -------
    tuple of ndarray
    """
    both, half = as_arrays(elevator, rudder)
    return both - half, both + half


def v_tail_areas(area: ArrayLike, *, dihedral: ArrayLike) -> tuple[Array, Array]:
    r"""Tailplane and fin that a V-tail stands for, :math:`S\cos^2\Gamma`, :math:`S\sin^2\Gamma`.

    Parameters
    ----------
    area : array_like
        Of both panels. [m²]
    dihedral : array_like
        Of each panel. [rad]

    Returns
    -------
    tuple of ndarray
        As a tailplane and as a fin. [m²]

    References
    ----------
    .. [1] P. E. Purser, J. P. Campbell, NACA Report 823, 1945 (from memory).
    """
    s, angle = as_arrays(area, dihedral)
    return s * np.cos(angle) ** 2, s * np.sin(angle) ** 2


def v_tail_dihedral(ratio: ArrayLike) -> Array:
    """Dihedral of a V-tail for a wanted ratio of fin to tailplane. [rad]

    Parameters
    ----------
    ratio : array_like
        Fin area over tailplane area. [-]

    Returns
    -------
    ndarray
    """
    return np.arctan(np.sqrt(as_array(ratio)))


# ---------------------------------------------------------------- advice


@dataclass(frozen=True, slots=True, kw_only=True)
class ThrowAdvice:
    """Throw of one channel for the first flights."""

    throw: float  # rad, each way
    exponential: float  # share of the cubic, 0 to 1
    why: str


def first_flight_throw(channel: Channel, *, full: float) -> ThrowAdvice:
    """Suggest a throw and exponential for the first flights.

    Parameters
    ----------
    channel : Channel
        Pitch, roll or yaw. [-]
    full : float
        What the control can do each way, the smaller one. [rad]

    Returns
    -------
    ThrowAdvice
        The middle of the customary range, or all there is where that is less.

    Raises
    ------
    KeyError
        For a channel without custom, such as flaps.
    """
    low, high = FIRST_FLIGHT[channel]
    throw = min(0.5 * (low + high), full)
    expo = exponential_for(throw, full=full)
    custom = f"{np.degrees(low):.0f} to {np.degrees(high):.0f}° is the custom for a slow trainer"
    short = "" if throw >= low else "; the control cannot reach that"
    return ThrowAdvice(
        throw=throw, exponential=expo, why=f"{custom} (common practice, no source){short}"
    )


def exponential_for(throw: float, *, full: float) -> float:
    """Exponential that makes the full throw as soft in the middle as a smaller one. [-]

    Parameters
    ----------
    throw, full : float
        Throw that feels right, and the one set. [rad]

    Returns
    -------
    float
        1 less their ratio, kept within the customary 0.2 to 0.4.
    """
    return float(np.clip(1.0 - throw / full, *EXPONENTIAL))


def stick_response(stick: ArrayLike, *, exponential: ArrayLike) -> Array:
    r"""Share of the throw at a stick position, :math:`(1-e)\,x + e\,x^3`. [-]

    Parameters
    ----------
    stick : array_like
        -1 to 1. [-]
    exponential : array_like
        Share of the cubic; transmitters differ in sign. [-]

    Returns
    -------
    ndarray
    """
    x, e = as_arrays(stick, exponential)
    return (1.0 - e) * x + e * x**3


def differential_range(camber: float) -> tuple[float, float]:
    """Customary range of aileron up over aileron down. [-]

    Parameters
    ----------
    camber : float
        Of the section, of its chord. [-]

    Returns
    -------
    tuple of float
        Curved or flat-bottomed sections want more of it (common practice, no source).
    """
    return DIFFERENTIAL_CAMBERED if camber >= _CURVED else DIFFERENTIAL_SYMMETRIC
