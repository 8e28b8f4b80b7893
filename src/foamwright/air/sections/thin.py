"""Thin-aerofoil theory of mean lines made of straight pieces, in closed form.

A creased, stepped or hinged sheet *is* a polygon, so nothing is approximated but the theory
itself: every integral is summed piece by piece. With x = (1 - cos θ)/2 the slope of the mean
line is constant over a piece, and

    A0 = α - a0,   A1 = a1,   A2 = a2,   a_n = (2/π) Σ s [sin nθ / n],   a0 = (1/π) Σ s [θ]

are the first terms of Glauert's series. All functions take a stack of mean lines: the last
two axes are the points, leading axes are free.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Two places along the chord nearer than this are one place: a vertical step.
_SAME = 1e-12
#: How far from 0 and 1 a mean line may start and end; a hundredth of a per cent of chord.
_END = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThinAerofoil:
    """What thin-aerofoil theory says of a mean line."""

    alpha0: Array  # rad, incidence of no lift, negative for upward camber
    ideal_alpha: Array  # rad, incidence at which the flow meets the nose head on (A0 = 0)
    design_cl: Array  # lift coefficient at the ideal incidence
    cm_c4: Array  # moment about the quarter chord, nose up positive, at every incidence


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlapEffect:
    """What thin-aerofoil theory says of a plain flap, per radian of deflection, down positive."""

    tau: Array  # -dα0/dδ
    cl_delta: Array  # 1/rad, at constant incidence
    cm_delta: Array  # 1/rad, quarter-chord moment
    ideal_delta: Array  # dα_ideal/dδ, negative
    design_cl_delta: Array  # 1/rad, lift at the ideal incidence
    ch_alpha: Array  # 1/rad, hinge moment on flap chord squared, trailing edge down positive
    ch_delta: Array  # 1/rad, at constant incidence


def glauert_terms(mean_line: ArrayLike, *, order: int = 2) -> Array:
    r"""Cosine series of the slope of a mean line.

    Parameters
    ----------
    mean_line : array_like, (..., k, 2)
        Points (x, z) from nose to tail, fractions of chord; x from 0 to 1, never falling. Two
        points with one x are a vertical step. [-]
    order : int, optional
        Highest term. [-]

    Returns
    -------
    ndarray, (..., order + 1)
        :math:`a_n` in :math:`dz/dx = a_0 + \sum a_n \cos n\theta`. [-]

    Notes
    -----
    A step of height h at θ is the limit of a steep ramp: its share of each integral is
    :math:`h\,(d\theta/dx)` times the integrand, with :math:`d\theta/dx = 2/\sin\theta`.

    References
    ----------
    .. [1] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII.
    """
    line = _checked(mean_line)
    x, z = line[..., 0], line[..., 1]
    theta = np.arccos(np.clip(1.0 - 2.0 * x, -1.0, 1.0))
    run, rise = np.diff(x, axis=-1), np.diff(z, axis=-1)
    step = run < _SAME
    slope = np.where(step, 0.0, rise / np.where(step, 1.0, run))
    # A step at an end of the chord has no finite share; it moves the end and no slope.
    sine = np.sin(theta[..., :-1])
    jump = np.where(step & (sine > _SAME), 2.0 * rise / np.where(sine > _SAME, sine, 1.0), 0.0)
    n = np.arange(1, order + 1, dtype=np.float64)
    angle = theta[..., None] * n
    terms = np.empty((*x.shape[:-1], order + 1))
    terms[..., 0] = (slope * np.diff(theta, axis=-1) + jump).sum(axis=-1) / np.pi
    pieces = slope[..., None] * np.diff(np.sin(angle), axis=-2) / n
    steps = jump[..., None] * np.cos(angle[..., :-1, :])
    terms[..., 1:] = (2.0 / np.pi) * (pieces + steps).sum(axis=-2)
    return terms


def thin_aerofoil(mean_line: ArrayLike) -> ThinAerofoil:
    r"""Zero-lift angle, ideal incidence, design lift and moment of a thin section.

    Parameters
    ----------
    mean_line : array_like, (..., k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]

    Returns
    -------
    ThinAerofoil
        Angles [rad], coefficients [-], one per mean line.

    Notes
    -----
    Inviscid, thickness left out. :math:`\tan\alpha_0 = a_0 - a_1/2`: the integral gives the
    tangent rather than the angle, which makes the circular arc exact (Kutta 1902: zero lift at
    -atan 2h, lift 4πh at no incidence) and differs from the usual form in third order only.
    Real sections below Re 3e5 shift by up to half a degree, thin concave ones by more.

    References
    ----------
    .. [1] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII.
    .. [2] W. M. Kutta, Illustr. Aeronaut. Mitt. 6, 1902 (value from memory).
    """
    terms = glauert_terms(mean_line)
    a0, a1, a2 = terms[..., 0], terms[..., 1], terms[..., 2]
    return ThinAerofoil(
        alpha0=np.arctan(a0 - 0.5 * a1),
        ideal_alpha=a0,
        design_cl=np.pi * a1,
        cm_c4=0.25 * np.pi * (a2 - a1),
    )


def flap_effect(fraction: ArrayLike) -> FlapEffect:
    r"""Lift, moment and hinge moments of a plain flap on a thin section.

    Parameters
    ----------
    fraction : array_like
        Flap chord over chord, above 0 and below 1. [-]

    Returns
    -------
    FlapEffect
        Per radian, deflection down positive.

    Notes
    -----
    Inviscid, no gap, small deflections. With the hinge at :math:`\theta_h` and
    :math:`s = \sin\theta_h`, :math:`c = \cos\theta_h`, :math:`r = \pi - \theta_h`:

    .. math:: \tau = (r + s)/\pi,\quad c_{m\delta} = -\tfrac12 s (1 - c),\quad
       d\alpha_i/d\delta = -r/\pi

    .. math:: E^2 c_{h\alpha} = -I_1,\quad
       E^2 c_{h\delta} = -\frac1\pi\Bigl(r I_1 + \tfrac12 s (s + c r)\Bigr)

    with :math:`I_1 = c (r - s) + s - \tfrac12 r + \tfrac14\sin 2\theta_h`. Real hinges give 0.5
    to 0.85 of the lift at low Reynolds numbers: see :mod:`foamwright.air.sections.flaps`.

    References
    ----------
    .. [1] H. Glauert, ARC R&M 1095, 1927 (theory from memory; integrals worked out here).
    """
    e = np.asarray(fraction, dtype=np.float64)
    if np.any(~((e > 0.0) & (e < 1.0))):
        raise DomainError("a flap's chord lies between 0 and 1 of the section's chord")
    c = 2.0 * e - 1.0  # cos θh = 1 - 2 xh with xh = 1 - e
    s = np.sqrt(1.0 - c * c)
    r = np.pi - np.arccos(c)
    i1 = _hinge_integral(c, s, r)
    tau = (r + s) / np.pi
    return FlapEffect(
        tau=tau,
        cl_delta=2.0 * np.pi * tau,
        cm_delta=-0.5 * s * (1.0 - c),
        ideal_delta=-r / np.pi,
        design_cl_delta=2.0 * s,
        ch_alpha=-i1 / e**2,
        ch_delta=-(r * i1 + 0.5 * s * (s + c * r)) / (np.pi * e**2),
    )


def hinge_bias(mean_line: ArrayLike, *, fraction: ArrayLike) -> Array:
    r"""Hinge moment of an undeflected flap at no incidence, from the camber alone.

    Parameters
    ----------
    mean_line : array_like, (..., k, 2)
        Points (x, z) from nose to tail, fractions of chord, without vertical steps. [-]
    fraction : array_like
        Flap chord over chord. [-]

    Returns
    -------
    ndarray
        Moment coefficient on flap chord squared, trailing edge down positive. [-]

    Notes
    -----
    The mean line is one slope over the whole chord and a kink at each inner point; a kink is a
    flap with its hinge there. The load of a kink at φ is
    :math:`4\delta\{(1-\varphi/\pi)\cot(\theta/2) + \pi^{-1}\ln|\sin\frac{\theta+\varphi}2/
    \sin\frac{\theta-\varphi}2|\}`, integrated over the flap in closed form.
    """
    line = _checked(mean_line)
    e = np.asarray(fraction, dtype=np.float64)
    run = np.diff(line[..., 0], axis=-1)
    if np.any(run < _SAME):
        raise DomainError("hinge moments need a mean line without vertical steps")
    slope = np.diff(line[..., 1], axis=-1) / run
    kink = -np.diff(slope, axis=-1)  # each a flap deflection, down positive
    cp = 1.0 - 2.0 * line[..., 1:-1, 0]
    sp = np.sqrt(1.0 - cp * cp)
    ch = (2.0 * e - 1.0)[..., None]
    sh = np.sqrt(1.0 - ch * ch)
    r = np.pi - np.arccos(ch)
    i1 = _hinge_integral(ch, sh, r)
    d = cp - ch
    share = (np.pi - np.arccos(cp)) / np.pi * i1 + _kink_integral(cp, sp, sh, r, d) / np.pi
    load = (-slope[..., :1] * i1)[..., 0] + (kink * share).sum(axis=-1)
    return -load / e**2


def _hinge_integral(c: Array, s: Array, r: Array) -> Array:
    """∫ (1 + cos θ)(cos θh - cos θ) dθ from the hinge to the tail."""
    return c * (r - s) + s - 0.5 * r + 0.5 * s * c


def _kink_integral(cp: Array, sp: Array, sh: Array, r: Array, d: Array) -> Array:
    """∫ ln|...| (cos θh - cos θ) sin θ dθ from the hinge to the tail, kink at φ.

    By parts with P = (cos θ - cos θh)²/2 and the logarithm's slope -sin φ/(cos φ - cos θ).
    """
    # sin((θh+φ)/2)/sin((θh-φ)/2) squared = (1 - cos(θh+φ))/(1 - cos(θh-φ))
    ch = cp - d
    plus, minus = 1.0 - (ch * cp - sh * sp), 1.0 - (ch * cp + sh * sp)
    same = minus < _SAME  # kink on the hinge: d² ln|d| is 0 there
    log = 0.5 * np.log(np.where(same, 1.0, plus / np.where(same, 1.0, minus)))
    return 0.5 * sp * (sh + (cp - 2.0 * d) * r) + 0.5 * d * d * log


def _checked(mean_line: ArrayLike) -> Array:
    line = np.asarray(mean_line, dtype=np.float64)
    if line.ndim < 2 or line.shape[-1] != 2 or line.shape[-2] < 2:
        raise DomainError("a mean line is at least two points (x, z)")
    x = line[..., 0]
    if np.any(abs(x[..., 0]) > _END) or np.any(abs(x[..., -1] - 1.0) > _END):
        raise DomainError("a mean line runs from x = 0 to x = 1, in fractions of chord")
    if np.any(np.diff(x, axis=-1) < -_SAME):
        raise DomainError("a mean line's x must not fall on the way from nose to tail")
    return line
