"""Measures of the shape in space."""

from __future__ import annotations

import math

from foamwright.airframe import Planform, Reference, SurfaceShape
from foamwright.airframe.planform import tail_areas
from foamwright.verify.model import AeroplaneSubject, Measure, Part, Question
from foamwright.verify.subjects import aeroplane, shape, surface_named

_FAMILY = "geometry"
_ONLY = (AeroplaneSubject,)


def _reference(question: Question) -> Reference:
    return shape(aeroplane(question)).reference


def _surface(question: Question) -> SurfaceShape:
    return surface_named(shape(aeroplane(question)), question.of)


def _planform(question: Question) -> Planform:
    return _surface(question).planform


def _tip(question: Question, axis: int) -> float:
    panels = _surface(question).panels
    ends = panels[0].root.leading_edge, panels[-1].tip.leading_edge
    return float(ends[1][axis] - ends[0][axis])


def _tail_area(question: Question, part: int) -> float:
    surfaces = aeroplane(question).design.surfaces
    return tail_areas(next(each for each in surfaces if each.key == question.of))[part]


def _nan_for_none(value: float | None) -> float:
    return math.nan if value is None else value


MEASURES = (
    Measure(
        name="area",
        what="area of a surface seen from above (of fins from the side), both halves",
        family=_FAMILY,
        unit="dm2",
        kind="area",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).projected_area,
    ),
    Measure(
        name="span",
        what="span of a surface, tip to tip, seen from above",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).span,
    ),
    Measure(
        name="aspect ratio",
        what="aspect ratio of a surface: span squared over area",
        family=_FAMILY,
        unit="-",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).aspect_ratio,
    ),
    Measure(
        name="mean chord",
        what="mean aerodynamic chord of a surface",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).mac,
    ),
    Measure(
        name="mean chord x",
        what="leading edge of the mean chord behind the datum",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).mac_leading_edge[0],
    ),
    Measure(
        name="mean chord y",
        what="place of the mean chord along the half span",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _planform(question).mac_leading_edge[1],
    ),
    Measure(
        name="tip rise",
        what="tip of a surface above its root",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _tip(question, 2),
    ),
    Measure(
        name="half span",
        what="tip of a surface beside its root, seen from above",
        family=_FAMILY,
        unit="mm",
        kind="length",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _tip(question, 1),
    ),
    Measure(
        name="tail volume",
        what="horizontal tail volume coefficient, arm from quarter point to quarter point",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        compute=lambda question: _nan_for_none(_reference(question).tail_volume),
    ),
    Measure(
        name="fin volume",
        what="vertical tail volume coefficient, arm from quarter point to quarter point",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        compute=lambda question: _nan_for_none(_reference(question).fin_volume),
    ),
    Measure(
        name="area for pitch",
        what="area that a tail surface has for pitch; of a V-tail, S cos² of its dihedral",
        family=_FAMILY,
        unit="dm2",
        kind="area",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _tail_area(question, 0),
    ),
    Measure(
        name="area for yaw",
        what="area that a tail surface has for yaw; of a V-tail, S sin² of its dihedral",
        family=_FAMILY,
        unit="dm2",
        kind="area",
        of=Part.SURFACE,
        subjects=_ONLY,
        compute=lambda question: _tail_area(question, 1),
    ),
)
