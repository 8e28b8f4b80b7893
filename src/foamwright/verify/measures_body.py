"""Measures of bodies in the wind."""

from __future__ import annotations

from functools import lru_cache

from foamwright.air.body import BodyLine, BodySlopes, body_lines, body_slopes, body_strips
from foamwright.airframe import BodyShape
from foamwright.errors import DomainError
from foamwright.verify.model import AeroplaneSubject, Measure, Part, Question
from foamwright.verify.subjects import aeroplane, shape

_FAMILY = "bodies"
_ONLY = (AeroplaneSubject,)


def _shapes(question: Question) -> tuple[BodyShape, ...]:
    return tuple(body for body in shape(aeroplane(question)).bodies if body.key == question.of)


@lru_cache(maxsize=8)
def _lines(subject: AeroplaneSubject) -> tuple[BodyLine, ...]:
    return body_lines(shape(subject))


def _slopes(question: Question) -> BodySlopes:
    """Slopes of one body by itself, both hands, about the reference point. [m²], [m³]"""
    subject = aeroplane(question)
    lines = tuple(line for line in _lines(subject) if line.key == question.of)
    return body_slopes(body_strips(lines), point=subject.reference.point or (0.0, 0.0, 0.0))


def _coefficient(question: Question) -> float:
    said = aeroplane(question).reference
    if said.area is None or said.chord is None:
        raise DomainError("reference = { area = ..., chord = ... } is needed")
    return _slopes(question).moment / (said.area * said.chord)


MEASURES = (
    Measure(
        name="body volume",
        what="volume inside the outside of a body, both hands",
        family=_FAMILY,
        unit="cm3",
        kind="volume",
        of=Part.BODY,
        subjects=_ONLY,
        compute=lambda question: sum(body.volume for body in _shapes(question)),
    ),
    Measure(
        name="body wetted area",
        what="outside area of a body, both hands",
        family=_FAMILY,
        unit="dm2",
        kind="area",
        of=Part.BODY,
        subjects=_ONLY,
        compute=lambda question: sum(body.wetted_area for body in _shapes(question)),
    ),
    Measure(
        name="body moment area",
        what="pitching moment of a body by itself over dynamic pressure, per radian of "
        "incidence; positive is unstable",
        family=_FAMILY,
        unit="m3",
        of=Part.BODY,
        subjects=_ONLY,
        compute=lambda question: _slopes(question).moment,
    ),
    Measure(
        name="body moment slope",
        what="pitching moment coefficient of a body by itself per incidence, on the reference's "
        "area and chord; positive is unstable",
        family=_FAMILY,
        unit="/rad",
        of=Part.BODY,
        subjects=_ONLY,
        compute=_coefficient,
    ),
    Measure(
        name="body yaw area",
        what="yawing moment of a body by itself over dynamic pressure, per radian of sideslip; "
        "negative is unstable",
        family=_FAMILY,
        unit="m3",
        of=Part.BODY,
        subjects=_ONLY,
        compute=lambda question: _slopes(question).yaw,
    ),
)
