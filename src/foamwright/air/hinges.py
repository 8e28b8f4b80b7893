"""Controls laid over the strips of one surface: slopes and hinge moments."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.chordwise import (
    control_slopes,
    hinge_slopes,
    hinge_weights,
    plane_flow,
)
from foamwright.air.junctions import Skeleton
from foamwright.air.sections.thin import flap_effect, hinge_bias
from foamwright.air.surfaces import LatticeControl
from foamwright.errors import DomainError

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Points of a mean line nearer in x than this share of chord are a vertical step.
_STEP = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaidControls:
    """What unit deflections of a surface's controls do to it, the half given."""

    deflected: Array  # (P, C) slope, falling towards the tail: negative
    hinge_arm: Array  # (P, C) m², hinge moment over density, speed and circulation
    hinge_own: Array  # (C,) m³, over density, speed² and its own deflection, besides that
    hinge_bent: Array  # (C,) m³, over density and speed², of the camber, besides that


def lay_controls(
    bone: Skeleton, *, ends: Array, edge: Array, owner: Places, chord: Array
) -> LaidControls:
    """Lay the controls over the strips of a surface.

    Parameters
    ----------
    bone : Skeleton
        The surface. [m]
    ends : ndarray
        Panel ends along it. [m]
    edge : ndarray, shape (S + 1,)
        Strip edges along it. [m]
    owner : ndarray, shape (S,)
        Panel of each strip.
    chord : ndarray, shape (S,)
        Chord of each strip. [m]

    Returns
    -------
    LaidControls

    Notes
    -----
    Turned by a small angle about its hinge, the control's slope along x is the angle times
    the cosine of the hinge's sweep. The slope enters as the cosine series of a hinged plate,
    so the hinge need not lie on a row. The loads of the hinge and of creases on the flap are
    exact in plane flow; what the rest of the aeroplane adds is smooth and taken from the
    circulations.
    """
    rows, count = bone.source.rows, len(bone.source.controls)
    deflected = np.zeros((len(owner), rows, count))
    arm = np.zeros((len(owner), rows, count))
    own, bent = np.zeros(count), np.zeros(count)
    for number, control in enumerate(bone.source.controls):
        flap = _flap(bone, control, ends=ends, edge=edge, owner=owner, chord=chord)
        weights = hinge_weights(flap.hinge, rows=rows) * (flap.chord * flap.width)[:, None]
        deflected[flap.strips, :, number] = flap.turn[:, None] * hinge_slopes(flap.hinge, rows=rows)
        arm[flap.strips, :, number] = weights
        own[number] = _missing_of_hinge(flap, weights)
        bent[number] = _missing_of_camber(bone, flap, weights)
    return LaidControls(
        deflected=deflected.reshape(len(owner) * rows, count),
        hinge_arm=arm.reshape(len(owner) * rows, count),
        hinge_own=own,
        hinge_bent=bent,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Flap:
    """One control, strip by strip."""

    panel: int  # of the skeleton
    strips: Places
    at: Array  # places along the panel, fractions
    chord: Array  # m, of the strips
    hinge: Array  # fraction of chord
    width: Array  # m, along the hinge
    turn: Array  # slope along x by deflection


def _flap(
    bone: Skeleton,
    control: LatticeControl,
    *,
    ends: Array,
    edge: Array,
    owner: Places,
    chord: Array,
) -> _Flap:
    panel = control.panel + (1 if bone.carried else 0)
    if not 0 <= panel < len(bone.chord) or not 0.0 <= control.start < control.end <= 1.0:
        raise DomainError(f"{bone.source.key}.{control.key}: lies on none of its panels")
    length = ends[panel + 1] - ends[panel]
    at = (edge - ends[panel]) / length
    covered = np.minimum(at[1:], control.end) - np.maximum(at[:-1], control.start)
    mine = np.flatnonzero((owner == panel) & (covered > 0.0))
    share = covered[mine] / (at[1:] - at[:-1])[mine]
    middle = np.clip(0.5 * (at[1:] + at[:-1])[mine], control.start, control.end)
    hinge, lean = _hinge(bone, control, panel, middle, length)
    return _Flap(
        panel=panel,
        strips=mine,
        at=middle,
        chord=chord[mine],
        hinge=hinge,
        width=(edge[1:] - edge[:-1])[mine] * share * lean,
        turn=lean * share,
    )


def _missing_of_hinge(flap: _Flap, weights: Array) -> float:
    """Find what the rows do not see of a hinge's load on its own flap, by deflection. [m³]"""
    rows, e = weights.shape[1], 1.0 - flap.hinge
    onset = -flap.turn[:, None] * hinge_slopes(flap.hinge, rows=rows)
    seen = (weights * (onset @ plane_flow(rows).T)).sum(axis=1) * flap.chord
    exact = 0.5 * (flap.chord * e) ** 2 * flap_effect(e).ch_delta * flap.width * flap.turn
    return float((exact - seen).sum())


def _missing_of_camber(bone: Skeleton, flap: _Flap, weights: Array) -> float:
    """Find what the rows do not see of the load of creases ahead of the hinge and on it. [m³]

    Sections are ruled between the ends of a panel, slope times chord being linear.
    """
    panel = bone.source.panels[flap.panel - (1 if bone.carried else 0)]
    rows, e = weights.shape[1], 1.0 - flap.hinge
    missing = np.zeros_like(e)
    root = (panel.root_trailing[0] - panel.root_leading[0]) * (1.0 - flap.at)
    tip = (panel.tip_trailing[0] - panel.tip_leading[0]) * flap.at
    if np.array_equal(panel.root_mean_line, panel.tip_mean_line):
        ends = [(panel.root_mean_line, root + tip)]
    else:
        ends = [(panel.root_mean_line, root), (panel.tip_mean_line, tip)]
    for line, share in ends:
        # A vertical step has an endless load there; the rows see what the series has of it.
        if len(line) < 3 or np.any(np.diff(line[:, 0]) < _STEP):
            continue
        onset = -control_slopes(line, rows=rows)
        seen = weights @ (plane_flow(rows) @ onset)
        exact = 0.5 * flap.chord * e**2 * hinge_bias(line, fraction=e) * flap.width
        missing += share * (exact - seen)
    return float(missing.sum())


def _hinge(
    bone: Skeleton, control: LatticeControl, panel: int, at: Array, length: float
) -> tuple[Array, float]:
    """Hinge as a fraction of chord at places along the panel, and the cosine of its sweep."""

    def between(values: Array, share: Array) -> Array:
        return values[0] * (1.0 - share) + values[1] * share

    ends = np.array([control.start, control.end])
    fractions = np.array([control.start_hinge, control.end_hinge])
    x = between(bone.nose[panel], ends) + fractions * between(bone.chord[panel], ends)
    rise = (x[1] - x[0]) / ((control.end - control.start) * length)
    share = (at - control.start) / (control.end - control.start)
    place = between(x, share) - between(bone.nose[panel], at)
    fraction = place / between(bone.chord[panel], at)
    if not np.all((fraction > 0.0) & (fraction < 1.0)):
        raise DomainError(f"{bone.source.key}.{control.key}: its hinge leaves the chord")
    return fraction, float(1.0 / np.hypot(1.0, rise))
