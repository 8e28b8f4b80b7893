"""From a design's section to what the air sees of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import number
from foamwright.air.sections.shape import Make, Nose, SectionShape, Step, profile_shape
from foamwright.airframe.sections import Strip, core_lines, depth, mean_line, strips
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Face,
    FlatSection,
    FoldedSection,
    ProfiledSection,
    Section,
    StepLayer,
    SteppedSection,
    Stock,
)
from foamwright.errors import DomainError

Array = NDArray[np.float64]

# Places nearer than this are one place, in chords.
_SAME = 1e-9


def section_shape(
    section: Section, *, chord: float, stock: Stock, nose: Nose = Nose.ROUND
) -> SectionShape:
    """Read off what the air sees of a section as it is built.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord, which sets the thickness ratio of sheet. [m]
    stock : Stock
        Goods, for the thicknesses. [m]
    nose : Nose, optional
        How the nose of a sheet section is finished; a folded section has a folded nose and a
        profiled one its own.

    Returns
    -------
    SectionShape
        In fractions of chord. [-]

    Notes
    -----
    Behind a step the dead air is drawn as a straight fairing of 6.26 step heights [1]_, and the
    mean line runs midway between the faired faces. The open underside of a folded section keeps
    both lines: the one of the skin itself and the one with dead air in the hollow.

    References
    ----------
    .. [1] D. M. Driver, H. L. Seegmiller, AIAA J. 23(2), 1985.
    """
    if not chord > 0.0:
        raise DomainError(f"a section needs a chord above nought; it is {chord:g} m")
    match section:
        case FlatSection() | CreasedSection() | CurvedSection():
            return _sheet_shape(section, chord=chord, stock=stock, nose=nose)
        case SteppedSection():
            return _stepped_shape(section, chord=chord, stock=stock, nose=nose)
        case FoldedSection():
            return _folded_shape(section, chord=chord, stock=stock)
        case ProfiledSection():
            lines = core_lines(section)
            return profile_shape(lines.upper, lines.lower)


_MAKES = {FlatSection: Make.FLAT, CreasedSection: Make.CREASED, CurvedSection: Make.CURVED}


def _sheet_shape(
    section: FlatSection | CreasedSection | CurvedSection,
    *,
    chord: float,
    stock: Stock,
    nose: Nose,
) -> SectionShape:
    t = stock.sheet(section.sheet).thickness.value / chord
    return SectionShape(
        make=_MAKES[type(section)],
        mean_line=mean_line(section, chord=chord, stock=stock),
        thickness=t,
        lead=t,
        tail=t,
        nose=nose,
        nose_height=t,
        hollow=0.0 if isinstance(section, FlatSection) else 1.0,
        sheetness=1.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Glued:
    """A layer on its face, in fractions of chord, and the dead air behind it."""

    start: float
    end: float
    low: float  # what it stands on, from the middle of the base
    height: float
    upper: bool

    @property
    def fairing_end(self) -> float:
        """Where the flow lies on again behind it."""
        return min(1.0, self.end + number("step.reattach") * self.height)

    def rise(self, places: Array) -> Array:
        """Height of the faired layer from the middle of the base; 0 away from it. [-]"""
        high = self.low + self.height
        is_first = self.start <= 0.0
        at = [
            -1.0 if is_first else self.start,
            self.start + self.height,
            self.end,
            max(self.fairing_end, self.end + _SAME),
        ]
        heights = [high if is_first else self.low, high, high, self.low]
        return np.interp(places, at, heights, left=0.0, right=0.0)


def _glued(layer: StepLayer, strip: Strip, chord: float) -> _Glued:
    middle = abs(float(strip.nodes[0, 1]))
    return _Glued(
        start=layer.start,
        end=layer.end,
        low=(middle - 0.5 * strip.thickness) / chord,
        height=strip.thickness / chord,
        upper=layer.face is Face.UPPER,
    )


def _stepped_shape(
    section: SteppedSection, *, chord: float, stock: Stock, nose: Nose
) -> SectionShape:
    base, *layers = strips(section, chord=chord, stock=stock)
    t = base.thickness / chord
    glued = [_glued(a, b, chord) for a, b in zip(section.layers, layers, strict=True)]
    marks = [0.0, 1.0]
    for on in glued:
        marks += [on.start, on.start + on.height, on.end, on.fairing_end]
    places = np.unique(np.clip(np.array(marks), 0.0, 1.0))
    upper, lower = np.full(len(places), 0.5 * t), np.full(len(places), -0.5 * t)
    for on in glued:
        rise = on.rise(places)
        if on.upper:
            upper = np.maximum(upper, rise)
        else:
            lower = np.minimum(lower, -rise)
    steps = tuple(Step(at=on.end, height=on.height, upper=on.upper) for on in glued if on.end < 1.0)
    return SectionShape(
        make=Make.STEPPED,
        mean_line=np.stack([places, 0.5 * (upper + lower)], axis=1),
        thickness=depth(section, chord=chord, stock=stock) / chord,
        lead=t,
        tail=float(upper[-1] - lower[-1]),
        nose=nose,
        nose_height=float(upper[0] - lower[0]),
        hollow=0.0,
        sheetness=1.0,
        steps=steps,
    )


def _folded_shape(section: FoldedSection, *, chord: float, stock: Stock) -> SectionShape:
    t = stock.sheet(section.sheet).thickness.value / chord
    line = mean_line(section, chord=chord, stock=stock)
    # Upper face: nose, spar and tail; the middle line is half way up to it from the lower face.
    places = np.array([0.0, section.spar_at])
    upper = 2.0 * np.interp(places, line[:, 0], line[:, 1]) + 0.5 * t
    is_open = section.lower_to < 1.0
    tail = t if is_open else 2.0 * t
    top = float(line[-1, 1]) + 0.5 * tail
    marks = [0.0, section.spar_at, 1.0]
    steps: tuple[Step, ...] = ()
    under_at, under = np.array([0.0, 1.0]), np.array([-0.5 * t, top - tail])
    if is_open:
        share = (section.lower_to - section.spar_at) / (1.0 - section.spar_at)
        gap = float(upper[1] + share * (top - upper[1])) - t + 0.5 * t
        end = min(1.0, section.lower_to + number("step.reattach") * gap)
        skin = float(np.interp(end, [section.spar_at, 1.0], [upper[1], top])) - t
        under_at = np.array([0.0, section.lower_to, end, 1.0 + _SAME])
        under = np.array([-0.5 * t, -0.5 * t, skin, top - tail])
        marks += [section.lower_to, end]
        steps = (Step(at=section.lower_to, height=gap, upper=False),)
    x = np.unique(np.array(marks))
    over = np.interp(x, [*places, 1.0], [*upper, top])
    filled = np.stack([x, 0.5 * (over + np.interp(x, under_at, under))], axis=1)
    return SectionShape(
        make=Make.FOLDED,
        mean_line=line,
        thickness=section.depth / chord,
        lead=section.nose_height / chord,
        tail=tail,
        nose=Nose.FOLDED,
        nose_height=section.nose_height / chord,
        hollow=0.0,
        sheetness=0.0,
        steps=steps,
        filled_line=filled if is_open else None,
    )
