"""The hand formulas that a case may name: their inputs and what each of them gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from numpy.typing import ArrayLike

from foamwright.air.body import ellipsoid_masses, length_share, munk_factor, rectangle_mass
from foamwright.air.handbook import (
    datcom_downwash,
    elliptic_line_slope,
    far_downwash,
    helmbold_slope,
    horseshoe_downwash,
)
from foamwright.air.margins import (
    TailedMoment,
    balance_for_margin,
    neutral_point_by_volume,
    static_margin,
    tail_lift_arm,
    tail_volume,
    tailed_moment,
)
from foamwright.air.rolling import strip_dihedral_roll, strip_roll_damping
from foamwright.balance import ballast_mass, two_scale_point
from foamwright.errors import DomainError
from foamwright.verify.model import Array, FormulaSubject, Measure, Question
from foamwright.verify.values import SLOPE

#: Inputs by name: what a formula is given.
Inputs = Mapping[str, Array]


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One input of a formula."""

    name: str
    kind: str  # kind of quantity; "" for plain numbers
    optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Formula:
    """A hand formula: inputs by name, and the measures that it gives."""

    name: str
    what: str
    inputs: tuple[Input, ...]
    gives: Mapping[str, Measure]


def _gives(
    name: str, what: str, compute: Callable[[Inputs], ArrayLike], *, kind: str = "", unit: str = "-"
) -> Measure:
    def asked(question: Question) -> ArrayLike:
        if not isinstance(question.subject, FormulaSubject):
            raise DomainError("this measure wants a formula")
        return compute(question.subject.inputs)

    return Measure(
        name=name,
        what=what,
        family="formula",
        unit=unit,
        kind=kind,
        subjects=(FormulaSubject,),
        compute=asked,
    )


def _formula(name: str, what: str, inputs: str, *gives: Measure) -> Formula:
    """Make a formula; `inputs` reads "name:kind name name:kind?", "?" for optional ones."""
    return Formula(
        name=name,
        what=what,
        inputs=tuple(_input(word) for word in inputs.split()),
        gives=MappingProxyType({measure.name: measure for measure in gives}),
    )


def _input(word: str) -> Input:
    name, _, kind = word.removesuffix("?").partition(":")
    return Input(name=name, kind=kind, optional=word.endswith("?"))


def _slope(name: str, what: str, compute: Callable[[Inputs], ArrayLike]) -> Measure:
    return _gives(name, what, compute, kind=SLOPE, unit="/rad")


def _tailed(inputs: Inputs) -> TailedMoment:
    return tailed_moment(**{name: value for name, value in inputs.items() if name != "incidence"})


def _formulas() -> tuple[Formula, ...]:
    return (
        _formula(
            "helmbold slope",
            "lift slope of a straight wing by Helmbold's formula",
            f"aspect_ratio section_slope:{SLOPE}?",
            _slope(
                "lift slope",
                "of the wing",
                lambda given: helmbold_slope(given["aspect_ratio"], **_rest(given, "aspect_ratio")),
            ),
        ),
        _formula(
            "elliptic line slope",
            "lift slope of an elliptic wing by the lifting line",
            f"aspect_ratio section_slope:{SLOPE}?",
            _slope(
                "lift slope",
                "of the wing",
                lambda given: elliptic_line_slope(
                    given["aspect_ratio"], **_rest(given, "aspect_ratio")
                ),
            ),
        ),
        _formula(
            "far downwash",
            "downwash slope far behind an elliptic wing",
            f"lift_slope:{SLOPE} aspect_ratio",
            _gives(
                "downwash slope",
                "far behind",
                lambda given: far_downwash(given["lift_slope"], **_rest(given, "lift_slope")),
            ),
        ),
        _formula(
            "datcom downwash",
            "downwash slope at a tail, by the handbook's fit to measurements",
            "aspect_ratio taper sweep:angle length:length height:length span:length",
            _gives("downwash slope", "at the tail", lambda given: datcom_downwash(**given)),
        ),
        _formula(
            "horseshoe downwash",
            "downwash slope behind a wing taken as one horseshoe vortex",
            f"lift_slope:{SLOPE} aspect_ratio length:length span:length",
            _gives(
                "downwash slope",
                "at the tail",
                lambda given: horseshoe_downwash(given["lift_slope"], **_rest(given, "lift_slope")),
            ),
        ),
        _formula(
            "tail volume",
            "horizontal tail volume coefficient",
            "area:area chord:length tail_area:area arm:length",
            _gives("tail volume", "S_t l / (S c)", lambda given: tail_volume(**given)),
        ),
        _formula(
            "neutral point by volume",
            "neutral point from the tail volume",
            "wing_centre volume slope_ratio downwash",
            _gives(
                "neutral point",
                "in mean chords",
                lambda given: neutral_point_by_volume(**given),
            ),
        ),
        _formula(
            "tail lift arm",
            "neutral point behind the wing's aerodynamic centre, by weighing lift slopes",
            f"area:area lift_slope:{SLOPE} tail_area:area tail_slope:{SLOPE} arm:length "
            "downwash tail_pressure?",
            _gives(
                "neutral point behind wing",
                "behind the wing's aerodynamic centre",
                lambda given: tail_lift_arm(**given),
                kind="length",
                unit="mm",
            ),
        ),
        _formula(
            "static margin",
            "balance point ahead of the neutral point",
            "x_cg:length x_np:length mac:length",
            _gives(
                "static margin",
                "in mean chords; positive is stable",
                lambda given: static_margin(given["x_cg"], **_rest(given, "x_cg")),
            ),
        ),
        _formula(
            "balance for margin",
            "balance point that gives a static margin",
            "margin x_np:length mac:length",
            _gives(
                "balance point x",
                "from the datum of the neutral point",
                lambda given: balance_for_margin(given["margin"], **_rest(given, "margin")),
                kind="length",
                unit="mm",
            ),
        ),
        _formula(
            "tailed moment",
            "pitching moment of a wing with a tail about the balance point",
            f"wing_moment lift_slope:{SLOPE} tail_slope:{SLOPE} volume balance_behind downwash "
            "tail_setting:angle downwash_at_zero:angle? incidence:angle?",
            _gives(
                "moment",
                "at the incidence given",
                lambda given: _tailed(given).at(_wanted(given, "incidence")),
            ),
            _slope("moment slope", "per incidence", lambda given: _tailed(given).slope),
            _gives("moment at zero", "at zero lift of the wing", lambda given: _tailed(given).zero),
            _gives(
                "trim incidence",
                "incidence without moment",
                lambda given: _tailed(given).trim_incidence,
                kind="angle",
                unit="deg",
            ),
        ),
        _formula(
            "strip dihedral roll",
            "rolling moment of a plain dihedral in sideslip, by strips",
            f"lift_slope:{SLOPE} dihedral:angle taper",
            _slope(
                "roll by sideslip",
                "negative is stable",
                lambda given: strip_dihedral_roll(
                    given["lift_slope"], **_rest(given, "lift_slope")
                ),
            ),
        ),
        _formula(
            "strip roll damping",
            "rolling moment by roll rate, by strips",
            f"lift_slope:{SLOPE} taper",
            _gives(
                "roll by roll rate",
                "per p b / 2V; negative damps",
                lambda given: strip_roll_damping(given["lift_slope"], **_rest(given, "lift_slope")),
            ),
        ),
        _formula(
            "ballast",
            "weight that brings the balance point to where it is wanted",
            "mass:mass point:length target:length at:length",
            _gives(
                "ballast",
                "to be added there",
                lambda given: ballast_mass(
                    _one(given, "mass"),
                    point=_one(given, "point"),
                    target=_one(given, "target"),
                    at=_one(given, "at"),
                ),
                kind="mass",
                unit="g",
            ),
        ),
        _formula(
            "two scales",
            "balance point from the readings of two scales",
            "front:mass rear:mass front_x:length rear_x:length",
            _gives(
                "balance point x",
                "from the datum of the scales",
                lambda given: two_scale_point(
                    _one(given, "front"),
                    _one(given, "rear"),
                    front_x=_one(given, "front_x"),
                    rear_x=_one(given, "rear_x"),
                ),
                kind="length",
                unit="mm",
            ),
        ),
    )


def _body_formulas() -> tuple[Formula, ...]:
    return (
        _formula(
            "ellipsoid masses",
            "apparent-mass factors of an ellipsoid of revolution",
            "fineness",
            _gives("mass along", "k1", lambda given: ellipsoid_masses(given["fineness"])[0]),
            _gives("mass across", "k2", lambda given: ellipsoid_masses(given["fineness"])[1]),
            _gives("munk factor", "k2 - k1", lambda given: munk_factor(given["fineness"])),
        ),
        _formula(
            "rectangle mass",
            "apparent mass of a rectangle moving across its width",
            "aspect",
            _gives(
                "mass over circle",
                "over that of the circle on its width; aspect is side along over side across",
                lambda given: rectangle_mass(given["aspect"]),
            ),
        ),
        _formula(
            "length share",
            "crosswind drag of a finite cylinder over that of an endless one",
            "fineness",
            _gives("share", "of 1.2", lambda given: length_share(given["fineness"])),
        ),
    )


def _rest(given: Inputs, name: str) -> dict[str, Array]:
    return {key: value for key, value in given.items() if key != name}


def _wanted(given: Inputs, name: str) -> Array:
    if name not in given:
        raise DomainError(f'this measure needs the input "{name}"')
    return given[name]


def _one(given: Inputs, name: str) -> float:
    """Return an input of a formula that takes one number only."""
    if given[name].size != 1:
        raise DomainError(f'"{name}" takes one number here, not a list')
    return float(given[name].reshape(-1)[0])


#: Every formula by name.
FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.name: formula for formula in (*_formulas(), *_body_formulas())}
)
