"""What the air sees of a section as it is built: mean line, thickness, nose, steps, hollow."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

#: Thinner than the first a solid section behaves as a sheet, thicker than the second as a
#: profile: BW-3 (0.050) is the thickest that shows the loss of a sheet, GM15 (0.067) the
#: thinnest that does not.
_SHEET, _PROFILE = 0.052, 0.067
# How far back a round nose reaches: the mean line is drawn straight ahead of it.
_ROUND = 0.025
# A trailing edge that meets the air first is taken no sharper than the thinnest plate measured.
_SHARP = 0.02
# Places along the chord at which a profile's lines are read.
_READINGS = 121


class Make(StrEnum):
    """How a section is made."""

    FLAT = "flat"
    CREASED = "creased"
    CURVED = "curved"
    STEPPED = "stepped"
    FOLDED = "folded"
    PROFILED = "profiled"


class Nose(StrEnum):
    """How the nose of a sheet is finished."""

    ROUND = "round"  # sanded or taped round
    SQUARE = "square"  # as cut
    FOLDED = "folded"  # the skin folded round a nose strip


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step that faces aft: the end of a glued-on layer."""

    at: float  # fraction of chord
    height: float  # fraction of chord
    upper: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionShape:
    """What the air sees of a section, in fractions of chord."""

    make: Make
    mean_line: Array  # (k, 2), what the flow is led by: fairings of dead air included
    thickness: float  # largest
    lead: float  # thickness of what meets the air at the nose: the base sheet of a stepped section
    tail: float  # thickness of the trailing edge
    nose: Nose
    nose_height: float  # height of a square or folded nose
    hollow: float  # 0 flat underside .. 1 underside as hollow as the camber
    sheetness: float  # 0 behaves as a profile .. 1 behaves as a sheet
    steps: tuple[Step, ...] = ()
    filled_line: Array | None = None  # mean line while dead air fills an open underside

    @property
    def family(self) -> str:
        """Whose bands hold: "profile", "sheet", "folded" or "stepped"."""
        if self.make in (Make.STEPPED, Make.FOLDED):
            return str(self.make)
        return "sheet" if self.sheetness > 0.5 else "profile"

    def reversed(self) -> SectionShape:
        """Return the section as the air meets it tail first. [-]"""
        line = self.mean_line[::-1] * np.array([-1.0, 1.0]) + np.array([1.0, 0.0])
        return SectionShape(
            make=self.make,
            mean_line=line,
            thickness=self.thickness,
            lead=max(self.tail, _SHARP),
            tail=self.tail,
            nose=self.nose,
            nose_height=0.0,
            hollow=self.hollow,
            sheetness=1.0,  # a sharp edge foremost
            steps=(),
        )


def profile_shape(upper: Array, lower: Array) -> SectionShape:
    """Shape of a solid section from its upper and lower line.

    Parameters
    ----------
    upper, lower : ndarray, (k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]

    Returns
    -------
    SectionShape
        In fractions of chord. [-]

    Notes
    -----
    Incidence is measured from the x axis of the coordinates. Hollow is how far the underside
    rises above its own lower tangent, over the camber.
    """
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, _READINGS))
    top = np.interp(x, upper[:, 0], upper[:, 1])
    under = np.interp(x, lower[:, 0], lower[:, 1])
    middle = 0.5 * (top + under)
    # Half way between the sides says nothing in a round nose: the line runs straight into it.
    slope = np.interp(2.0 * _ROUND, x, middle) - np.interp(_ROUND, x, middle)
    nose = np.interp(_ROUND, x, middle) + (x - _ROUND) / _ROUND * slope
    middle = np.where(x < _ROUND, nose, middle)
    line = np.stack([x, middle - middle[0]], axis=1)
    t = float(np.max(top - under))
    camber = float(np.max(np.abs(line[:, 1] - line[-1, 1] * x)))
    hollow = _rise_above_tangent(x, under) / camber if camber > 1e-3 else 0.0
    return SectionShape(
        make=Make.PROFILED,
        mean_line=line,
        thickness=t,
        lead=t,
        tail=max(0.0, float(top[-1] - under[-1])),
        nose=Nose.ROUND,
        nose_height=0.0,
        hollow=min(hollow, 1.0),
        sheetness=1.0 - float(smooth((t - _SHEET) / (_PROFILE - _SHEET))),
    )


def _rise_above_tangent(x: Array, z: Array) -> float:
    """Largest height of a line above its lower convex hull."""
    hull = [0]
    for i in range(1, len(x)):
        while len(hull) > 1 and _turns_up(x, z, hull[-2], hull[-1], i):
            hull.pop()
        hull.append(i)
    return float(np.max(z - np.interp(x, x[hull], z[hull])))


def _turns_up(x: Array, z: Array, a: int, b: int, c: int) -> bool:
    """Whether b lies on or above the line from a to c."""
    return bool((z[b] - z[a]) * (x[c] - x[a]) >= (z[c] - z[a]) * (x[b] - x[a]))


def smooth(u: Array | float) -> Array:
    """Smooth step from 0 to 1 over u from 0 to 1, level at both ends. [-]"""
    v = np.clip(np.asarray(u, dtype=np.float64), 0.0, 1.0)
    return v * v * (3.0 - 2.0 * v)
