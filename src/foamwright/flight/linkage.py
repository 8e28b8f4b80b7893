"""Servo to surface: the four-bar linkage exactly, what it resolves, what load the servo feels.

The servo's shaft lies at the origin, the hinge ahead of it along the pushrod by ``length`` and off
it by ``offset`` on the side of the arms; both arms stand square to that line at nought. Positive
turns carry an arm's end along the pushrod towards the hinge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from foamwright.flight.common import DENSITY, Array, as_array, as_arrays, only_where

#: Torque a servo should have over what the hinge asks. [-] (common practice, no source)
TORQUE_MARGIN = 2.0
#: Share of a servo's travel that full throw should use. [-] (common practice, no source)
TRAVEL_USE = (0.8, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Linkage:
    """A servo arm, a pushrod and a horn; every length may be an array."""

    arm: ArrayLike  # m, servo shaft to the rod's hole
    horn: ArrayLike  # m, hinge line to the rod's hole
    length: ArrayLike  # m, shaft to hinge line along the rod
    offset: ArrayLike = 0.0  # m, hinge line off the shaft, on the side of the arms
    aside: ArrayLike = 0.0  # m, rod's ends apart sideways, both axes parallel
    arm_neutral: ArrayLike = 0.0  # rad, arm at neutral, from square
    horn_neutral: ArrayLike = 0.0  # rad, horn at neutral, from square

    @property
    def rod(self) -> Array:
        """Length of the pushrod. [m]"""
        along, off = _between(self, as_array(self.arm_neutral), as_array(self.horn_neutral))
        return np.sqrt(along**2 + off**2 + as_array(self.aside) ** 2)


def _between(link: Linkage, servo: Array, surface: Array) -> tuple[Array, Array]:
    """From the arm's hole to the horn's hole, along and off the line. [m]"""
    arm, horn = as_array(link.arm), as_array(link.horn)
    along = as_array(link.length) + horn * np.sin(surface) - arm * np.sin(servo)
    off = as_array(link.offset) + horn * np.cos(surface) - arm * np.cos(servo)
    return along, off


def surface_angle(link: Linkage, *, servo: ArrayLike) -> Array:
    r"""Deflection of the surface at a servo angle, exactly. [rad]

    .. math:: D\sin\beta + H\cos\beta = \frac{L^2 - r_2^2 - D^2 - H^2 - s^2}{2 r_2}

    with D and H from the arm's hole to the hinge.

    Parameters
    ----------
    link : Linkage
        Its lengths. [m]
    servo : array_like
        Angle of the arm from its neutral. [rad]

    Returns
    -------
    ndarray
        From the horn's neutral; nan where the rod does not reach.
    """
    turn = as_array(servo) + as_array(link.arm_neutral)
    arm, horn = as_array(link.arm), as_array(link.horn)
    along = as_array(link.length) - arm * np.sin(turn)
    off = as_array(link.offset) - arm * np.cos(turn)
    rest = link.rod**2 - as_array(link.aside) ** 2 - horn**2 - along**2 - off**2
    reach = np.hypot(along, off)
    share = rest / (2.0 * horn * reach)
    inside = np.arcsin(only_where(np.abs(share) <= 1.0, share))
    return inside - np.arctan2(off, along) - as_array(link.horn_neutral)


def transmission(link: Linkage, *, servo: ArrayLike) -> Array:
    """Turn of the surface over turn of the servo there: also torque over hinge moment. [-]

    Parameters
    ----------
    link : Linkage
        Its lengths. [m]
    servo : array_like
        Angle of the arm from its neutral. [rad]

    Returns
    -------
    ndarray
    """
    turn = as_array(servo) + as_array(link.arm_neutral)
    surface = surface_angle(link, servo=servo) + as_array(link.horn_neutral)
    along, off = _between(link, turn, surface)
    arm, horn = as_array(link.arm), as_array(link.horn)
    driven = arm * (along * np.cos(turn) - off * np.sin(turn))
    return driven / (horn * (along * np.cos(surface) - off * np.sin(surface)))


def linear_surface_angle(link: Linkage, *, servo: ArrayLike) -> Array:
    r"""Deflection by the simple rule :math:`\sin\beta = (r_1/r_2)\sin\alpha`. [rad]

    Parameters
    ----------
    link : Linkage
        Its arms. [m]
    servo : array_like
        Angle of the arm. [rad]

    Returns
    -------
    ndarray
    """
    share = as_array(link.arm) / as_array(link.horn) * np.sin(as_array(servo))
    return np.arcsin(only_where(np.abs(share) <= 1.0, share))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Travel:
    """What a servo's travel does at the surface."""

    plus: Array  # rad, at the servo's positive end
    minus: Array  # rad, at its negative end

    @property
    def differential(self) -> Array:
        """Larger over smaller travel. [-]"""
        one, two = np.abs(self.plus), np.abs(self.minus)
        return np.maximum(one, two) / np.minimum(one, two)


def surface_travel(link: Linkage, *, servo: ArrayLike) -> Travel:
    """Travel of the surface for a servo that turns as far each way.

    Parameters
    ----------
    link : Linkage
        Its lengths; an arm off square at neutral makes differential. [m]
    servo : array_like
        Each way. [rad]

    Returns
    -------
    Travel
    """
    turn = as_array(servo)
    return Travel(plus=surface_angle(link, servo=turn), minus=surface_angle(link, servo=-turn))


def surface_error(link: Linkage, *, dead_band: ArrayLike, slop: ArrayLike) -> Array:
    """Uncertainty of the surface from a servo's dead band and loose holes, near neutral. [rad]

    Parameters
    ----------
    link : Linkage
        Its arms. [m]
    dead_band : array_like
        Of the servo. [rad]
    slop : array_like
        Of the rod's ends, in all. [m]

    Returns
    -------
    ndarray
    """
    arm, horn, band, loose = as_arrays(link.arm, link.horn, dead_band, slop)
    return band * arm / horn + loose / horn


# ---------------------------------------------------------------- load


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ServoLoad:
    """What holding a surface asks of its servo."""

    hinge_moment: Array  # N m, size
    torque: Array  # N m, at the servo, size
    rod_force: Array  # N, size

    def margin(self, servo_torque: ArrayLike) -> Array:
        """Torque there is over torque needed; see TORQUE_MARGIN. [-]"""
        return as_array(servo_torque) / self.torque


def servo_load(
    link: Linkage,
    *,
    hinge_moment: ArrayLike,
    servo: ArrayLike = 0.0,
) -> ServoLoad:
    """Torque and rod force that a hinge moment asks for, by virtual work.

    Parameters
    ----------
    link : Linkage
        Its lengths. [m]
    hinge_moment : array_like
        At that deflection, from the air. [N m]
    servo : array_like, optional
        Angle of the arm from its neutral. [rad]

    Returns
    -------
    ServoLoad

    Notes
    -----
    No friction: tape hinges and bent rods take their share, hence the margin.
    """
    moment = np.abs(as_array(hinge_moment))
    turn = as_array(servo) + as_array(link.arm_neutral)
    surface = surface_angle(link, servo=servo) + as_array(link.horn_neutral)
    along, off = _between(link, turn, surface)
    square = np.abs(along * np.cos(surface) - off * np.sin(surface)) / link.rod
    return ServoLoad(
        hinge_moment=moment,
        torque=moment * np.abs(transmission(link, servo=servo)),
        rod_force=moment / (as_array(link.horn) * square),
    )


def hinge_moment(
    coefficient: ArrayLike,
    *,
    speed: ArrayLike,
    area: ArrayLike,
    chord: ArrayLike,
    density: ArrayLike = DENSITY,
) -> Array:
    r"""Hinge moment of a surface, :math:`q S c\,C_h`. [N m]

    Parameters
    ----------
    coefficient : array_like
        Ch on the control's own area and chord. [-]
    speed : array_like
        Airspeed; 1.2 of the fastest is customary. [m/s]
    area, chord : array_like
        Of the control behind its hinge. [m²], [m]
    density : array_like, optional
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
        In the coefficient's sign.
    """
    k, v, s, c, rho = as_arrays(coefficient, speed, area, chord, density)
    return 0.5 * rho * v**2 * s * c * k
