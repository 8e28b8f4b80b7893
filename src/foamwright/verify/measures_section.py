"""Measures of bare sections in plane flow: theory of mean lines, potential flow, polars."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.sections import (
    PanelFlow,
    SectionPolar,
    ThinAerofoil,
    flap_effect,
    panel_flow,
    section_polar,
    thin_aerofoil,
)
from foamwright.airframe.sections import mean_line
from foamwright.design.model import ProfiledSection
from foamwright.errors import DomainError
from foamwright.verify.model import Measure, Question, SectionSubject
from foamwright.verify.subjects import section
from foamwright.verify.values import SLOPE

Array = NDArray[np.float64]

_ONLY = (SectionSubject,)
_THIN, _POTENTIAL, _POLAR = "thin sections", "potential flow", "section polars"
#: Places at which the attached branch of a polar is read, every twentieth of a degree. [rad]
_ALPHA = np.radians(np.arange(-10.0, 20.0, 0.05))
#: Where the stalls are looked for on it: below 5 and below 15 degrees.
_LOW, _HIGH = 300, 500
#: Incidences over which the slope of a lift curve is taken, as tunnels do. [deg]
_STRAIGHT = np.arange(-1.0, 5.1, 0.5)
#: The last part of the chord, where a blunt or cusped tail is drawn with few points.
_TAIL = 0.98


# ---------------------------------------------------------------- theory


def _thin(question: Question) -> ThinAerofoil:
    subject = section(question)
    return thin_aerofoil(mean_line(subject.section, chord=subject.chord, stock=subject.stock))


def _potential(question: Question) -> PanelFlow:
    subject = section(question)
    if not isinstance(subject.section, ProfiledSection):
        raise DomainError("potential flow is found round profiled sections only")
    return panel_flow(np.array(subject.section.coordinates), alpha=question.at("alpha"))


def _lowest_pressure(question: Question) -> Array:
    flow = _potential(question)
    return flow.cp[:, flow.x < _TAIL].min(axis=-1)


def _potential_slope(question: Question) -> float:
    subject = section(question)
    step = np.radians(0.5)
    asked = Question(subject=subject, state={"alpha": np.array([-step, step])})
    low, high = _potential(asked).cl.tolist()
    return (high - low) / (2.0 * step)


# ---------------------------------------------------------------- polars


@lru_cache(maxsize=8)
def _polar(subject: SectionSubject, flap: float | None) -> SectionPolar:
    polar = section_polar(subject.section, chord=subject.chord, stock=subject.stock)
    return polar if flap is None else polar.with_flap(flap)


def _asked(question: Question) -> tuple[SectionPolar, Array, Array]:
    """Polar, with its flap where one is given, Reynolds numbers and deflections. [-], [rad]"""
    flap = question.state.get("flap")
    if flap is not None and flap.size != 1:
        raise DomainError("the flap's chord is one number")
    deflection = question.state.get("deflection", np.zeros(1))
    if flap is None and np.any(deflection != 0.0):
        raise DomainError("a deflection needs a flap")
    polar = _polar(section(question), None if flap is None else float(flap[0]))
    return polar, question.at("reynolds"), deflection


def _coefficient(question: Question, name: str) -> Array:
    """Coefficient at an incidence, or at a lift on the attached branch."""
    polar, reynolds, deflection = _asked(question)
    alpha, lift = question.state.get("alpha"), question.state.get("lift")
    if (alpha is None) == (lift is None):
        raise DomainError("either the incidence alpha or the lift is to be given")
    if alpha is not None:
        found = polar.coefficients(alpha, reynolds=reynolds, deflection=deflection)
        return np.asarray(getattr(found, name), dtype=np.float64)
    return _each(question, _at_lift(name))


#: Something read off a polar at a Reynolds number, a deflection and a lift.
Find = Callable[[SectionPolar, float, float, float], float]


def _each(question: Question, find: Find) -> Array:
    """Read something off the polar in each state. [-], [rad]"""
    polar, reynolds, deflection = _asked(question)
    lift = question.state.get("lift", np.zeros(1))
    rows = np.broadcast_arrays(reynolds, deflection, lift)
    return np.array([find(polar, *row) for row in np.stack(rows, axis=-1).tolist()])


def _branch(polar: SectionPolar, reynolds: float, deflection: float) -> dict[str, Array]:
    """Incidence and coefficients between the lower and the upper stall."""
    found = polar.coefficients(_ALPHA, reynolds=reynolds, deflection=deflection)
    low, high = int(found.cl[:_LOW].argmin()), int(found.cl[:_HIGH].argmax())
    part = slice(low, high + 1)
    return {
        "alpha": _ALPHA[part],
        "cl": found.cl[part],
        "cd": found.cd[part],
        "cm": found.cm[part],
    }


def _at_lift(name: str) -> Find:
    """Return what reads a coefficient, or the incidence, at a lift between the stalls."""

    def find(polar: SectionPolar, reynolds: float, deflection: float, lift: float) -> float:
        branch = _branch(polar, reynolds, deflection)
        if not branch["cl"][0] <= lift <= branch["cl"][-1]:
            return float("nan")
        return float(np.interp(lift, branch["cl"], branch[name]))

    return find


def _slope(polar: SectionPolar, reynolds: float, deflection: float, _lift: float) -> float:
    lift = polar.lift(np.radians(_STRAIGHT), reynolds=reynolds, deflection=deflection)
    return float(np.polyfit(np.radians(_STRAIGHT), lift, 1)[0])


def _best_glide(polar: SectionPolar, reynolds: float, deflection: float, _lift: float) -> float:
    branch = _branch(polar, reynolds, deflection)
    return float((branch["cl"] / branch["cd"]).max())


def _normal_force(question: Question) -> Array:
    alpha = question.at("alpha")
    lift, drag = (_coefficient(question, name) for name in ("cl", "cd"))
    return lift * np.cos(alpha) + drag * np.sin(alpha)


def _share_of_theory(question: Question) -> Array:
    """Lift that a deflection adds at an incidence over what thin theory gives."""
    polar, reynolds, deflection = _asked(question)
    alpha = question.state.get("alpha", np.zeros(1))
    gain = polar.lift(alpha, reynolds=reynolds, deflection=deflection) - polar.lift(
        alpha, reynolds=reynolds
    )
    return gain / (flap_effect(question.at("flap")).cl_delta * deflection)


def _gain(question: Question) -> Array:
    polar, reynolds, deflection = _asked(question)
    return polar.clmax(reynolds, deflection=deflection) - polar.clmax(reynolds)


def _theory(name: str, what: str, compute: Callable[[Question], ArrayLike], **more: str) -> Measure:
    return Measure(
        name=name,
        what=f"{what} of the mean line by thin-aerofoil theory",
        family=_THIN,
        unit=more.get("unit", "-"),
        kind=more.get("kind", ""),
        subjects=_ONLY,
        compute=compute,
    )


_ANGLE = {"unit": "deg", "kind": "angle"}
_FLAP = ("deflection", "flap")

MEASURES = (
    _theory("thin zero-lift angle", "zero-lift angle", lambda q: _thin(q).alpha0, **_ANGLE),
    _theory("thin moment", "quarter-chord moment, nose up positive,", lambda q: _thin(q).cm_c4),
    _theory("thin ideal angle", "ideal incidence", lambda q: _thin(q).ideal_alpha, **_ANGLE),
    _theory("thin design lift", "lift at the ideal incidence", lambda q: _thin(q).design_cl),
    _theory(
        "thin lift without incidence",
        "lift at no incidence",
        lambda q: -2.0 * np.pi * np.tan(_thin(q).alpha0),
    ),
    Measure(
        name="potential lift",
        what="lift coefficient of a profiled section in potential flow",
        family=_POTENTIAL,
        unit="-",
        subjects=_ONLY,
        needs=("alpha",),
        compute=lambda question: _potential(question).cl,
    ),
    Measure(
        name="potential moment",
        what="quarter-chord moment of a profiled section in potential flow",
        family=_POTENTIAL,
        unit="-",
        subjects=_ONLY,
        needs=("alpha",),
        compute=lambda question: _potential(question).cm_c4,
    ),
    Measure(
        name="potential lift slope",
        what="lift coefficient per incidence about none, in potential flow",
        family=_POTENTIAL,
        unit="/rad",
        kind=SLOPE,
        subjects=_ONLY,
        compute=_potential_slope,
    ),
    Measure(
        name="lowest pressure",
        what="lowest pressure coefficient in potential flow, the last 2 % of chord left out",
        family=_POTENTIAL,
        unit="-",
        subjects=_ONLY,
        needs=("alpha",),
        compute=_lowest_pressure,
    ),
    Measure(
        name="section lift",
        what="lift coefficient",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds", "alpha"),
        takes=_FLAP,
        compute=lambda question: _coefficient(question, "cl"),
    ),
    Measure(
        name="section drag",
        what="drag coefficient at an incidence, or at a lift between the stalls",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=("alpha", "lift", *_FLAP),
        compute=lambda question: _coefficient(question, "cd"),
    ),
    Measure(
        name="section moment",
        what="quarter-chord moment at an incidence, or at a lift between the stalls",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=("alpha", "lift", *_FLAP),
        compute=lambda question: _coefficient(question, "cm"),
    ),
    Measure(
        name="section normal force",
        what="force square to the chord",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds", "alpha"),
        takes=_FLAP,
        compute=_normal_force,
    ),
    Measure(
        name="section zero-lift angle",
        what="incidence of no lift",
        family=_POLAR,
        unit="deg",
        kind="angle",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=_FLAP,
        compute=lambda question: _asked(question)[0].alpha0(
            _asked(question)[1], deflection=_asked(question)[2]
        ),
    ),
    Measure(
        name="section incidence",
        what="incidence of a lift between the stalls",
        family=_POLAR,
        unit="deg",
        kind="angle",
        subjects=_ONLY,
        needs=("reynolds", "lift"),
        takes=_FLAP,
        compute=lambda question: _each(question, _at_lift("alpha")),
    ),
    Measure(
        name="section lift slope",
        what="lift coefficient per incidence, straight line from -1 to 5 degrees",
        family=_POLAR,
        unit="/rad",
        kind=SLOPE,
        subjects=_ONLY,
        needs=("reynolds",),
        takes=_FLAP,
        compute=lambda question: _each(question, _slope),
    ),
    Measure(
        name="largest section lift",
        what="largest lift coefficient before the stall",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=_FLAP,
        compute=lambda question: _asked(question)[0].clmax(
            _asked(question)[1], deflection=_asked(question)[2]
        ),
    ),
    Measure(
        name="section stall angle",
        what="incidence of the largest lift",
        family=_POLAR,
        unit="deg",
        kind="angle",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=_FLAP,
        compute=lambda question: _asked(question)[0].stall_alpha(
            _asked(question)[1], deflection=_asked(question)[2]
        ),
    ),
    Measure(
        name="best section glide",
        what="largest lift over drag",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds",),
        takes=_FLAP,
        compute=lambda question: _each(question, _best_glide),
    ),
    Measure(
        name="flap share of theory",
        what="lift that a flap adds over what thin-aerofoil theory gives it",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds", "deflection", "flap"),
        takes=("alpha",),
        compute=_share_of_theory,
    ),
    Measure(
        name="gain of largest section lift",
        what="what a flap adds to the largest lift",
        family=_POLAR,
        unit="-",
        subjects=_ONLY,
        needs=("reynolds", "deflection", "flap"),
        compute=_gain,
    ),
)
