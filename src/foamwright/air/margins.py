"""Hand formulas for tail volume, neutral point, static margin and pitching moment.

Arguments may be scalars or arrays that broadcast.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def _array(value: ArrayLike) -> Array:
    return np.asarray(value, dtype=np.float64)


def tail_volume(
    *, area: ArrayLike, chord: ArrayLike, tail_area: ArrayLike, arm: ArrayLike
) -> Array:
    r"""Horizontal tail volume coefficient.

    .. math:: V_H = S_t l_t / (S c)

    Parameters
    ----------
    area, tail_area : array_like
        Of wing and tail. [m²]
    chord : array_like
        Mean aerodynamic chord of the wing. [m]
    arm : array_like
        From the balance point, or the wing's aerodynamic centre, to the tail's; say which. [m]

    Returns
    -------
    ndarray
        Volume coefficient. [-]

    References
    ----------
    .. [1] B. Etkin, L. D. Reid, Dynamics of Flight, 3rd ed., 1996, ch. 2.
    """
    return _array(tail_area) * _array(arm) / (_array(area) * _array(chord))


def static_margin(x_cg: ArrayLike, *, x_np: ArrayLike, mac: ArrayLike) -> Array:
    r"""Find how far the balance point lies ahead of the neutral point; positive is stable.

    .. math:: K_n = (x_{np} - x_{cg})/\bar c = -C_{m\alpha}/C_{L\alpha}

    Parameters
    ----------
    x_cg, x_np : array_like
        Balance point and neutral point, aft of one datum. [m]
    mac : array_like
        Mean aerodynamic chord. [m]

    Returns
    -------
    ndarray
        Static margin, stick fixed, as a fraction of the chord. [-]

    References
    ----------
    .. [1] B. Etkin, L. D. Reid, Dynamics of Flight, 3rd ed., 1996, ch. 2.
    """
    return (_array(x_np) - _array(x_cg)) / _array(mac)


def balance_for_margin(margin: ArrayLike, *, x_np: ArrayLike, mac: ArrayLike) -> Array:
    """Balance point that gives a wanted static margin.

    Parameters
    ----------
    margin : array_like
        Static margin wanted. [-]
    x_np : array_like
        Neutral point. [m]
    mac : array_like
        Mean aerodynamic chord. [m]

    Returns
    -------
    ndarray
        Balance point, from the datum of the neutral point. [m]
    """
    return _array(x_np) - _array(margin) * _array(mac)


def neutral_point_by_volume(
    *, wing_centre: ArrayLike, volume: ArrayLike, slope_ratio: ArrayLike, downwash: ArrayLike
) -> Array:
    r"""Neutral point from tail volume, as a fraction of the chord.

    .. math:: h_n = h_{ac} + V_H (a_t/a)(1 - d\epsilon/d\alpha)

    Parameters
    ----------
    wing_centre : array_like
        Aerodynamic centre of wing and body, fraction of chord. [-]
    volume : array_like
        Tail volume. [-]
    slope_ratio : array_like
        Lift slope of the tail over that of the whole aeroplane where the arm of the volume is
        from the wing's aerodynamic centre (exact); over that of wing and body where it is from
        the balance point (the usual approximation). [-]
    downwash : array_like
        Downwash slope at the tail. [-]

    Returns
    -------
    ndarray
        Neutral point, fraction of chord. [-]

    References
    ----------
    .. [1] J. D. Anderson, Introduction to Flight, ch. 7 (from memory).
    """
    return _array(wing_centre) + _array(volume) * _array(slope_ratio) * (1.0 - _array(downwash))


def tail_lift_arm(
    *,
    area: ArrayLike,
    lift_slope: ArrayLike,
    tail_area: ArrayLike,
    tail_slope: ArrayLike,
    arm: ArrayLike,
    downwash: ArrayLike,
    tail_pressure: ArrayLike = 1.0,
) -> Array:
    r"""Distance of the neutral point behind the wing's aerodynamic centre, by lift weighting.

    .. math:: x = l\,\frac{\eta a_t S_t (1 - d\epsilon/d\alpha)}
              {a_w S + \eta a_t S_t (1 - d\epsilon/d\alpha)}

    Parameters
    ----------
    area, tail_area : array_like
        Of wing and tail. [m²]
    lift_slope, tail_slope : array_like
        Of wing and tail, each on its own area. [1/rad]
    arm : array_like
        Aerodynamic centre of the wing to that of the tail. [m]
    downwash : array_like
        Downwash slope at the tail. [-]
    tail_pressure : array_like, optional
        Dynamic pressure at the tail over that of flight. [-]

    Returns
    -------
    ndarray
        Distance. [m]

    Notes
    -----
    Moment balance of the two lift increments; bodies left out.
    """
    tail = _array(tail_pressure) * _array(tail_slope) * _array(tail_area) * (1.0 - _array(downwash))
    return _array(arm) * tail / (_array(lift_slope) * _array(area) + tail)


@dataclass(frozen=True, slots=True, kw_only=True)
class TailedMoment:
    """Pitching moment of a wing with a tail about the balance point, linear in incidence."""

    zero: Array  # Cm at zero lift of the wing
    slope: Array  # Cm per rad of the wing's incidence from zero lift

    def at(self, incidence: ArrayLike) -> Array:
        """Moment coefficient at an incidence from zero lift of the wing [rad]. [-]"""
        return self.zero + self.slope * _array(incidence)

    @property
    def trim_incidence(self) -> Array:
        """Incidence from zero lift of the wing at which the moment is nought. [rad]"""
        return -self.zero / self.slope


def tailed_moment(
    *,
    wing_moment: ArrayLike,
    lift_slope: ArrayLike,
    tail_slope: ArrayLike,
    volume: ArrayLike,
    balance_behind: ArrayLike,
    downwash: ArrayLike,
    tail_setting: ArrayLike,
    downwash_at_zero: ArrayLike = 0.0,
) -> TailedMoment:
    r"""Pitching moment of a wing with a tail about the balance point.

    .. math:: C_m = C_{m,ac} + a (h - h_{ac})\alpha
              + V_H a_t [i_t + \epsilon_0 - (1 - d\epsilon/d\alpha)\alpha]

    Parameters
    ----------
    wing_moment : array_like
        Of wing and body about their aerodynamic centre. [-]
    lift_slope, tail_slope : array_like
        Of wing and body, and of the tail. [1/rad]
    volume : array_like
        Tail volume with the arm from the balance point. [-]
    balance_behind : array_like
        Balance point behind the aerodynamic centre of wing and body, in chords. [-]
    downwash : array_like
        Downwash slope at the tail. [-]
    tail_setting : array_like
        Tail leading edge down against the wing's zero-lift line is positive. [rad]
    downwash_at_zero : array_like, optional
        Downwash at zero lift of the wing. [rad]

    Returns
    -------
    TailedMoment

    References
    ----------
    .. [1] J. D. Anderson, Introduction to Flight, ch. 7 (from memory).
    """
    tail = _array(volume) * _array(tail_slope)
    return TailedMoment(
        zero=_array(wing_moment) + tail * (_array(tail_setting) + _array(downwash_at_zero)),
        slope=_array(lift_slope) * _array(balance_behind) - tail * (1.0 - _array(downwash)),
    )
