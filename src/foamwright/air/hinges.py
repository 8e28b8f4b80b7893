"""Controls laid over the strips of one surface: slopes and hinge moments."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.chordwise import hinge_slopes, hinge_weights, plane_flow
from foamwright.air.junctions import Skeleton
from foamwright.air.sections.thin import flap_effect
from foamwright.air.surfaces import LatticeControl
from foamwright.errors import DomainError

Array = NDArray[np.float64]
Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaidControls:
    """What unit deflections of a surface's controls do to it, the half given."""

    deflected: Array  # (P, C) slope, falling towards the tail: negative
    hinge_arm: Array  # (P, C) m², hinge moment over density, speed and circulation
    hinge_own: Array  # (C,) m³, and over density, speed² and its own deflection besides


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
    so the hinge need not lie on a row. The load of a hinge on its own flap is exact in plane
    flow; what the rest of the aeroplane adds is smooth and taken from the circulations.
    """
    rows, count = bone.source.rows, len(bone.source.controls)
    deflected = np.zeros((len(owner), rows, count))
    arm = np.zeros((len(owner), rows, count))
    own = np.zeros(count)
    for number, control in enumerate(bone.source.controls):
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
        slope = -lean * share[:, None] * hinge_slopes(hinge, rows=rows)
        deflected[mine, :, number] = -slope
        c = chord[mine]
        width = (edge[1:] - edge[:-1])[mine] * share * lean
        weights = hinge_weights(hinge, rows=rows) * (c * width)[:, None]
        arm[mine, :, number] = weights
        effect = flap_effect(1.0 - hinge)
        exact = 0.5 * (c * (1.0 - hinge)) ** 2 * effect.ch_delta * width * lean * share
        seen = (weights * (slope @ plane_flow(rows).T)).sum(axis=1) * c
        own[number] = (exact - seen).sum()
    return LaidControls(
        deflected=deflected.reshape(len(owner) * rows, count),
        hinge_arm=arm.reshape(len(owner) * rows, count),
        hinge_own=own,
    )


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
