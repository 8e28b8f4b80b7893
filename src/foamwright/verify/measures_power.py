"""Measures of propellers as the design file describes them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from foamwright.design.model import Propeller
from foamwright.power import PropellerModel, propeller_model
from foamwright.power.propeller import PropellerCoefficients
from foamwright.verify.model import AeroplaneSubject, Array, Measure, Part, Question
from foamwright.verify.subjects import aeroplane

_FAMILY = "propellers"
_NEEDS = ("advance_ratio", "rotation")


@lru_cache(maxsize=16)
def _model(propeller: Propeller) -> PropellerModel:
    return propeller_model(propeller)


def _coefficients(question: Question) -> PropellerCoefficients:
    propellers = aeroplane(question).design.power.propellers
    propeller = next(each for each in propellers if each.key == question.of)
    return _model(propeller).coefficients(
        question.at("advance_ratio"), rotation=question.at("rotation") / 60.0
    )


def _efficiency(question: Question) -> Array:
    found, advance = _coefficients(question), question.at("advance_ratio")
    return np.where(found.cp > 0.0, advance * found.ct / found.cp, np.nan)


MEASURES = (
    Measure(
        name="thrust coefficient",
        what="thrust over density, revolutions per second squared and diameter to the fourth",
        family=_FAMILY,
        unit="-",
        of=Part.PROPELLER,
        subjects=(AeroplaneSubject,),
        needs=_NEEDS,
        compute=lambda question: _coefficients(question).ct,
    ),
    Measure(
        name="power coefficient",
        what="shaft power over density, revolutions per second cubed and diameter to the fifth",
        family=_FAMILY,
        unit="-",
        of=Part.PROPELLER,
        subjects=(AeroplaneSubject,),
        needs=_NEEDS,
        compute=lambda question: _coefficients(question).cp,
    ),
    Measure(
        name="propeller efficiency",
        what="thrust times airspeed over shaft power",
        family=_FAMILY,
        unit="-",
        of=Part.PROPELLER,
        subjects=(AeroplaneSubject,),
        needs=_NEEDS,
        compute=_efficiency,
    ),
)
