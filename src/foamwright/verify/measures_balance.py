"""Measures of mass, balance point and inertia."""

from __future__ import annotations

import math
from functools import lru_cache

from foamwright.balance import Balance, weigh
from foamwright.verify.model import AeroplaneSubject, Measure, Question
from foamwright.verify.subjects import aeroplane, shape

_FAMILY = "balance"
_AXES = ("roll", "pitch", "yaw")


@lru_cache(maxsize=8)
def _weighed(subject: AeroplaneSubject) -> Balance:
    return weigh(shape(subject))


def _balance(question: Question) -> Balance:
    return _weighed(aeroplane(question))


def _gyration(question: Question, axis: int) -> float:
    balance = _balance(question)
    return math.sqrt(float(balance.inertia[axis, axis]) / balance.mass)


def _flatness(question: Question) -> float:
    roll, pitch, yaw = _balance(question).inertia.diagonal().tolist()
    return yaw / (roll + pitch)


def _point(axis: int, name: str, what: str) -> Measure:
    return Measure(
        name=name,
        what=what,
        family=_FAMILY,
        unit="mm",
        kind="length",
        subjects=(AeroplaneSubject,),
        compute=lambda question: _balance(question).point[axis],
    )


def _inertia(axis: int) -> Measure:
    return Measure(
        name=f"inertia in {_AXES[axis]}",
        what=f"moment of inertia in {_AXES[axis]} about the balance point",
        family=_FAMILY,
        unit="kg m2",
        subjects=(AeroplaneSubject,),
        compute=lambda question: float(_balance(question).inertia[axis, axis]),
    )


def _radius(axis: int) -> Measure:
    return Measure(
        name=f"radius of gyration in {_AXES[axis]}",
        what=f"root of the moment of inertia in {_AXES[axis]} over the mass",
        family=_FAMILY,
        unit="mm",
        kind="length",
        subjects=(AeroplaneSubject,),
        compute=lambda question: _gyration(question, axis),
    )


MEASURES = (
    Measure(
        name="mass",
        what="mass ready to fly",
        family=_FAMILY,
        unit="g",
        kind="mass",
        subjects=(AeroplaneSubject,),
        compute=lambda question: _balance(question).mass,
    ),
    _point(0, "balance point x", "balance point behind the datum"),
    _point(1, "balance point y", "balance point to the right of the middle"),
    _point(2, "balance point z", "balance point above the datum"),
    *(_inertia(axis) for axis in range(3)),
    *(_radius(axis) for axis in range(3)),
    Measure(
        name="flatness",
        what="inertia in yaw over those in roll and pitch together; 1 for a flat aeroplane",
        family=_FAMILY,
        unit="-",
        subjects=(AeroplaneSubject,),
        compute=_flatness,
    ),
)
