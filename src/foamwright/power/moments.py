"""What a turning propeller does to the aeroplane besides pulling it.

Sense +1 is clockwise seen from behind in flight direction. Axes x aft, y right, z up; forces and
moments act on the aeroplane at the disc, about these axes (right-hand rule).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.design.model import Propeller
from foamwright.power.disc import induced_speed
from foamwright.power.matching import Air

Array = NDArray[np.float64]

#: A propeller's moment of inertia over mass times diameter squared: a slender rod has 1/12; blades
#: taper and the hub is heavy. Common practice, no source; one sigma a fifth.
ROD_SHARE = 0.7 / 12.0

#: Aspect ratio of the fin that a propeller at an angle is like.
FIN_ASPECT = 8.0

#: Largest blade width over radius by blade class, two-blade propellers of the UIUC data base; three
#: and four blades 0.8 to 0.93 of it. Others as sport.
WIDTH_OF_STYLE = {
    "sport": 0.175,
    "thin electric": 0.195,
    "slow flyer": 0.228,
    "multirotor": 0.22,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PropellerLoads:
    """Forces and moments of one propeller beside its thrust, per angle where it says so."""

    torque_reaction: Array  # N m about the forward axis, + rolls the right wing down
    swirl: Array  # m/s at 0.7 radius, + clockwise seen from behind
    normal_force: Array  # N per rad of angle between shaft and air, towards the side it points to
    yaw_by_incidence: Array  # N m per rad of incidence, + nose right
    pitch_by_sideslip: Array  # N m per rad of sideslip (wind from the right), + nose up
    spin: Array  # kg m²/s, angular momentum along the forward axis


def side_area(propeller: Propeller) -> float:
    """Blade area seen from the side, half the blades counted.

    Parameters
    ----------
    propeller : Propeller
        Its pitch gives the blade angle, its class or width the chord.

    Returns
    -------
    float
        Area: half the blades times the integral of chord times sine of blade angle. [m²]
    """
    radius = 0.5 * propeller.diameter
    wide = propeller.blade_width or WIDTH_OF_STYLE.get(propeller.style, 0.175) * radius
    r = np.linspace(0.2, 1.0, 33) * radius
    # An ordinary plan: widest at 45 % of the radius, a third of that at the tip. Common practice.
    chord = wide * np.interp(r / radius, [0.2, 0.45, 0.8, 1.0], [0.75, 1.0, 0.75, 0.33])
    sine = propeller.pitch / np.hypot(propeller.pitch, 2.0 * math.pi * r)
    strip = chord * sine
    return 0.5 * propeller.blades * float((0.5 * (strip[1:] + strip[:-1]) * np.diff(r)).sum())


def propeller_loads(
    propeller: Propeller,
    *,
    sense: float,
    thrust: ArrayLike,
    torque: ArrayLike,
    rotation: ArrayLike,
    thrust_slope: ArrayLike,
    airspeed: ArrayLike,
    air: Air,
) -> PropellerLoads:
    r"""Torque reaction, swirl, side force at an angle, P-factor and angular momentum.

    .. math:: N/\alpha = q_d\, S_{side}\, \frac{2\pi A}{A+2}, \qquad
              M/\alpha = \tfrac12 V\, \partial T/\partial\Omega

    Parameters
    ----------
    propeller : Propeller
        For its blades and its mass.
    sense : float
        +1 clockwise seen from behind, -1 the other way. [-]
    thrust : array_like
        Of the propeller. [N]
    torque : array_like
        Of the shaft. [N m]
    rotation : array_like
        Revolutions per second. [1/s]
    thrust_slope : array_like
        Thrust gained per turning speed at the same airspeed. [N s]
    airspeed : array_like
        Along the shaft. [m/s]
    air : Air
        Density.

    Returns
    -------
    PropellerLoads
        On the aeroplane. [N m, m/s, N/rad, N m/rad, kg m²/s]

    Notes
    -----
    The moment of the down-going blade: a blade at azimuth psi meets V alpha sin(psi) more speed,
    so its thrust changes by that over its radius times dT/dOmega; the radius drops out. Inflow
    lag is left out; good to a third. A clockwise propeller yaws the nose left when the nose is up.

    References
    ----------
    .. [1] H. S. Ribner, NACA reports 819 and 820, 1945 (abstracts): a propeller in yaw is like a
       fin of its side area, aspect ratio about 8, at the speed through its disc.
    """
    v, n = np.asarray(airspeed, dtype=np.float64), np.asarray(rotation, dtype=np.float64)
    q, t = np.asarray(torque, dtype=np.float64), np.asarray(thrust, dtype=np.float64)
    d = propeller.diameter
    through = v + induced_speed(t, diameter=d, airspeed=v, density=air.density)
    slope = 2.0 * math.pi * FIN_ASPECT / (FIN_ASPECT + 2.0)
    # The angle at the disc is smaller by V over V + v: the inflow straightens the stream.
    fin = 0.5 * air.density * v * through * side_area(propeller) * slope
    flow = air.density * 0.25 * math.pi * d**2 * through * 0.35 * d
    swirl = np.where(flow > 0.0, q / np.maximum(flow, 1e-12), 0.0)
    moment = 0.5 * v * np.asarray(thrust_slope, dtype=np.float64)
    inertia = ROD_SHARE * propeller.mass.value * d**2
    return PropellerLoads(
        torque_reaction=-sense * q,
        swirl=sense * swirl,
        normal_force=fin,
        yaw_by_incidence=-sense * moment,
        pitch_by_sideslip=-sense * moment,
        spin=sense * inertia * 2.0 * math.pi * n,
    )


def gyroscopic_couple(
    spin: ArrayLike, *, pitch_rate: ArrayLike, yaw_rate: ArrayLike
) -> tuple[Array, Array]:
    """Couple of a spinning propeller on a turning aeroplane.

    Parameters
    ----------
    spin : array_like
        Angular momentum along the forward axis, + clockwise seen from behind. [kg m²/s]
    pitch_rate, yaw_rate : array_like
        + nose up, + nose right. [rad/s]

    Returns
    -------
    tuple of ndarray
        Moments in pitch (+ nose up) and yaw (+ nose right). [N m]

    Notes
    -----
    Clockwise seen from behind: pitching the nose up yaws it right, yawing it right pitches it down.
    """
    h = np.asarray(spin, dtype=np.float64)
    q, r = np.asarray(pitch_rate, dtype=np.float64), np.asarray(yaw_rate, dtype=np.float64)
    return -h * r, h * q


def force_couple(torque: float, *, span: float) -> float:
    """Lift that a half wing must give and the other spare to hold the shaft's torque.

    Parameters
    ----------
    torque : float
        Of the shaft. [N m]
    span : float
        Wing span; the forces act at the half-spans' middles. [m]

    Returns
    -------
    float
        Force at each. [N]
    """
    return torque / (0.5 * span)
