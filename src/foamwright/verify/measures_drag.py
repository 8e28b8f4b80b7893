"""Measures of parasite drag by parts."""

from __future__ import annotations

from functools import lru_cache

from foamwright.air.drag import DragParts, drag_parts, drag_table
from foamwright.verify.model import AeroplaneSubject, Array, Measure, Part, Question
from foamwright.verify.subjects import aeroplane, shape

_FAMILY = "drag"
_ONLY = (AeroplaneSubject,)


@lru_cache(maxsize=8)
def _parts(subject: AeroplaneSubject) -> DragParts:
    return drag_parts(shape(subject))


def _area(question: Question) -> Array:
    return drag_table(_parts(aeroplane(question)), airspeed=question.at("speed")).total


def _body_area(question: Question) -> Array:
    table = drag_table(_parts(aeroplane(question)), airspeed=question.at("speed"))
    path = f"body.{question.of}"
    mine = [row.path == path or row.path.startswith(f"{path}.") for row in table.rows]
    return table.areas[..., mine].sum(axis=-1)


MEASURES = (
    Measure(
        name="parasite drag area",
        what="drag over dynamic pressure of everything but sections and lift, the x axis along "
        "the wind, sea level",
        family=_FAMILY,
        unit="cm2",
        kind="area",
        subjects=_ONLY,
        needs=("speed",),
        compute=_area,
    ),
    Measure(
        name="body drag area",
        what="part that one body has in the parasite drag area",
        family=_FAMILY,
        unit="cm2",
        kind="area",
        of=Part.BODY,
        subjects=_ONLY,
        needs=("speed",),
        compute=_body_area,
    ),
)
