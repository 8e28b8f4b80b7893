"""Quantities that wind-tunnel cases speak of, read off a polar; angles in degrees."""

from __future__ import annotations

import numpy as np

from foamwright.air.sections import SectionPolar

_ALPHA = np.radians(np.arange(-10.0, 20.0, 0.05))


def _branch(polar: SectionPolar, reynolds: float, deflection: float):
    """Incidence, lift, drag and moment between the lower and the upper stall."""
    found = polar.coefficients(_ALPHA, reynolds=reynolds, deflection=deflection)
    low, high = int(found.cl[:300].argmin()), int(found.cl[:500].argmax())
    pick = slice(low, high + 1)
    return _ALPHA[pick], found.cl[pick], found.cd[pick], found.cm[pick]


def alpha0(polar, reynolds, deflection=0.0):
    return float(np.degrees(polar.alpha0(reynolds, deflection=deflection)))


def slope(polar, reynolds):
    alpha = np.arange(-1.0, 5.1, 0.5)
    return float(np.polyfit(alpha, polar.lift(np.radians(alpha), reynolds=reynolds), 1)[0])


def cl_at(polar, reynolds, alpha, deflection=0.0):
    return float(polar.lift(np.radians(alpha), reynolds=reynolds, deflection=deflection))


def cm_at(polar, reynolds, alpha, deflection=0.0):
    found = polar.coefficients(np.radians(alpha), reynolds=reynolds, deflection=deflection)
    return float(found.cm)


def cd_at(polar, reynolds, alpha, deflection=0.0):
    found = polar.coefficients(np.radians(alpha), reynolds=reynolds, deflection=deflection)
    return float(found.cd)


def cm_at_cl(polar, reynolds, cl):
    _, lift, _, moment = _branch(polar, reynolds, 0.0)
    return float(np.interp(cl, lift, moment))


def cd_at_cl(polar, reynolds, cl):
    _, lift, drag, _ = _branch(polar, reynolds, 0.0)
    return float(np.interp(cl, lift, drag))


def alpha_at_cl(polar, reynolds, cl):
    alpha, lift, _, _ = _branch(polar, reynolds, 0.0)
    return float(np.degrees(np.interp(cl, lift, alpha)))


def best_glide(polar, reynolds):
    _, lift, drag, _ = _branch(polar, reynolds, 0.0)
    return float((lift / drag).max())


def clmax(polar, reynolds, deflection=0.0):
    return float(polar.clmax(reynolds, deflection=deflection))


def stall_alpha(polar, reynolds):
    return float(np.degrees(polar.stall_alpha(reynolds)))
