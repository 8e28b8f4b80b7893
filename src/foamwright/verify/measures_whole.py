"""Measures of the whole aeroplane: lattice, sections, stall, bodies and parts together."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from foamwright.air.aero import AeroModel, aero_model
from foamwright.air.stall.results import StallResult
from foamwright.air.state import AeroForces, FlightState
from foamwright.verify.model import AeroplaneSubject, Array, Measure, Question
from foamwright.verify.subjects import aeroplane, lattice_nose, shape
from foamwright.verify.values import SLOPE

_FAMILY = "whole aeroplane"
_ONLY = (AeroplaneSubject,)


@lru_cache(maxsize=8)
def _made(subject: AeroplaneSubject) -> AeroModel:
    return aero_model(shape(subject), point=subject.reference.point)


def _model(question: Question) -> AeroModel:
    return _made(aeroplane(question))


def _forces(question: Question) -> AeroForces:
    state = FlightState(airspeed=question.at("speed"), alpha=question.at("alpha"))
    return _model(question).forces(state)


def _area_share(question: Question) -> float:
    """Return the wing's own area over that of the case's reference. [-]"""
    own, given = shape(aeroplane(question)).reference.area, aeroplane(question).reference.area
    return 1.0 if given is None else own / given


def _chord_share(question: Question) -> float:
    own, given = shape(aeroplane(question)).reference.mac, aeroplane(question).reference.chord
    return 1.0 if given is None else own / given


def _moment(question: Question) -> Array:
    return _forces(question).pitch * _area_share(question) * _chord_share(question)


def _neutral_point(question: Question) -> float:
    own, given = shape(aeroplane(question)).reference.mac, aeroplane(question).reference.chord
    behind = _model(question).neutral_point - lattice_nose(aeroplane(question))
    return behind / (given or own)


def _stalls(question: Question) -> list[StallResult]:
    return [_model(question).stall(airspeed=speed) for speed in question.at("speed").tolist()]


def _most(question: Question) -> Array:
    share = _area_share(question)
    return np.array([stall.max_lift * share for stall in _stalls(question)])


MEASURES = (
    Measure(
        name="aeroplane lift",
        what="lift coefficient at an incidence, through the stall, power off, sea level",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        needs=("speed", "alpha"),
        compute=lambda question: _forces(question).lift * _area_share(question),
    ),
    Measure(
        name="aeroplane drag",
        what="drag coefficient at an incidence, all parts and lift, power off, sea level",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        needs=("speed", "alpha"),
        compute=lambda question: _forces(question).drag * _area_share(question),
    ),
    Measure(
        name="aeroplane moment",
        what="pitching moment coefficient at an incidence, power off; nose up positive",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        needs=("speed", "alpha"),
        compute=_moment,
    ),
    Measure(
        name="aeroplane lift slope",
        what="lift coefficient per incidence, surfaces and bodies, attached flow",
        family=_FAMILY,
        unit="/rad",
        kind=SLOPE,
        subjects=_ONLY,
        compute=lambda question: _model(question).lift_slope * _area_share(question),
    ),
    Measure(
        name="aeroplane neutral point",
        what="neutral point of surfaces and bodies behind the leading edge of the mean chord, in "
        "mean chords",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        compute=_neutral_point,
    ),
    Measure(
        name="shift by bodies",
        what="how far the bodies move the neutral point; forward is negative",
        family=_FAMILY,
        unit="mm",
        kind="length",
        subjects=_ONLY,
        compute=lambda question: _model(question).body_shift,
    ),
    Measure(
        name="largest lift",
        what="largest lift coefficient, power off, sea level",
        family=_FAMILY,
        unit="-",
        subjects=_ONLY,
        needs=("speed",),
        compute=_most,
    ),
    Measure(
        name="stall angle",
        what="incidence of the largest lift, power off, sea level",
        family=_FAMILY,
        unit="deg",
        kind="angle",
        subjects=_ONLY,
        needs=("speed",),
        compute=lambda question: np.array([stall.max_alpha for stall in _stalls(question)]),
    ),
)
