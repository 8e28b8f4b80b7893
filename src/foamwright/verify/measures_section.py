"""Measures of bare sections in plane flow."""

from __future__ import annotations

from foamwright.air import thin_aerofoil
from foamwright.airframe.sections import mean_line
from foamwright.verify.model import Measure, Question, SectionSubject
from foamwright.verify.subjects import section

_FAMILY = "section"
_ONLY = (SectionSubject,)


def _thin(question: Question) -> tuple[float, float]:
    """Zero-lift angle and quarter-chord moment of the mean line. [rad], [-]"""
    subject = section(question)
    return thin_aerofoil(mean_line(subject.section, chord=subject.chord, stock=subject.stock))


MEASURES = (
    Measure(
        name="thin zero-lift angle",
        what="zero-lift angle of the mean line by thin-aerofoil theory, + nose up",
        family=_FAMILY,
        unit="deg",
        kind="angle",
        subjects=_ONLY,
        compute=lambda question: _thin(question)[0],
    ),
    Measure(
        name="thin moment",
        what="quarter-chord moment of the mean line by thin-aerofoil theory; nose up positive",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        compute=lambda question: _thin(question)[1],
    ),
)
