"""What a case is about: an aeroplane, surfaces by points, a bare section or a formula."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

import numpy as np

from foamwright.air import LatticeReference, LatticeSurface, lattice_surface
from foamwright.air.surfaces import ROWS, WING_STRIPS
from foamwright.design.schema.base import Reading
from foamwright.design.trouble import Report, listed, meant
from foamwright.verify.designparts import TOPS, Parts
from foamwright.verify.formulas import FORMULAS
from foamwright.verify.formulas_kit import Formula
from foamwright.verify.model import (
    AeroplaneSubject,
    Array,
    FormulaSubject,
    GivenReference,
    LatticeSubject,
    SectionSubject,
    Subject,
)
from foamwright.verify.schema import CaseIn, LatticeIn, ReferenceIn
from foamwright.verify.values import read_numbers

#: Most panels of a lattice by points: the matrix then takes 50 MB.
_MOST_PANELS = 2400

_THINGS = (
    "the design file's tables (surface, body, item, ...)",
    "section",
    "lattice",
    "formula",
)


def read_subject(
    said: CaseIn, *, parts: Parts, tree: Mapping[str, object], reading: Reading, report: Report
) -> Subject | None:
    """Return what a case is about; None where the report says what is wrong.

    Parameters
    ----------
    said : CaseIn
        The case's own keys.
    parts : Parts
        The design file's tables of the case, with the stock of the file.
    tree : mapping
        The case as it stands in the file.
    reading : Reading
        Units of bare numbers.
    report : Report
        Takes the troubles.
    """
    is_aeroplane = any(top in tree for top in TOPS if top != "stock")
    given = (is_aeroplane, said.section is not None, bool(said.lattice), said.formula is not None)
    if sum(given) != 1:
        much = "several things at once" if any(given) else "nothing"
        text = f"A case is about one thing; this one is about {much}. It takes one of these: "
        report.say("CASE-SUBJECT", f"{text}{'; '.join(_THINGS)}.")
        return None
    _check_beside(said, report)
    before = len(report.troubles)
    subject: Subject | None
    if is_aeroplane:
        subject = AeroplaneSubject(
            design=parts.design(str(report.loc[-1])), reference=_given(said.reference)
        )
    elif said.lattice:
        subject = _lattice(said, report)
    elif said.section is not None:
        subject = _section(said, parts, reading, report)
    else:
        subject = _formula(said, reading, report)
    return subject if len(report.troubles) == before else None


def _check_beside(said: CaseIn, report: Report) -> None:
    """Say which keys stand beside a subject that has no use for them."""
    if said.chord is not None and said.section is None:
        report.say("KEY-CLASH", "A chord stands beside a bare section only.", "chord")
    if said.inputs is not None and said.formula is None:
        report.say("KEY-CLASH", "Inputs stand beside a formula only.", "inputs")
    if said.reference is not None and (said.section is not None or said.formula is not None):
        text = "A bare section and a formula have no reference measures."
        report.say("CASE-REFERENCE", text, "reference")


def _given(reference: ReferenceIn | None) -> GivenReference:
    if reference is None:
        return GivenReference()
    point = None if reference.point is None else cast("tuple[float, float, float]", reference.point)
    return GivenReference(
        area=reference.area,
        chord=reference.chord,
        span=reference.span,
        point=point,
        nose=reference.nose,
    )


# ---------------------------------------------------------------- lattice


def _lattice(said: CaseIn, report: Report) -> LatticeSubject | None:
    given = _given(said.reference)
    if given.area is None or given.chord is None or given.span is None:
        text = "Surfaces by points need reference = { area = ..., chord = ..., span = ... }."
        report.say("CASE-REFERENCE", text, "reference")
        return None
    names = [surface.name for surface in said.lattice]
    for place, name in enumerate(names):
        if name in names[:place]:
            text = "Another surface by points has that name."
            report.say("NAME-TWICE", text, "lattice", place, "name")
    panels = sum(_panels(surface) for surface in said.lattice)
    if panels > _MOST_PANELS:
        text = f"At most {_MOST_PANELS} vortices are solved; here are {panels}."
        report.say("TOO-MANY", text, "lattice")
    surfaces = tuple(
        _points(surface, report.at("lattice", place)) for place, surface in enumerate(said.lattice)
    )
    point = given.point or (0.0, 0.0, 0.0)
    return LatticeSubject(
        surfaces=tuple(surface for surface in surfaces if surface is not None),
        reference=LatticeReference(
            area=given.area, chord=given.chord, span=given.span, point=point
        ),
        nose=given.nose or 0.0,
    )


def _panels(surface: LatticeIn) -> int:
    strips = max(surface.strips or WING_STRIPS, len(surface.chord))
    return strips * (surface.rows or ROWS)


def _points(surface: LatticeIn, report: Report) -> LatticeSurface | None:
    count = len(surface.leading)
    for key, values in (("chord", surface.chord), ("twist", surface.twist)):
        if values is not None and len(values) != count:
            text = f"The leading edge has {count} points; here are {len(values)} values."
            report.say("LIST-LENGTH", text, key)
            return None
    steps = np.diff(np.array(surface.leading)[:, 1:], axis=0)
    if not np.all(np.hypot(steps[:, 0], steps[:, 1]) > 0.0):
        text = "Each point of the leading edge lies further out than the one before."
        report.say("RANGE-ORDER", text, "leading")
        return None
    if not max(surface.chord) > 0.0:
        report.say("VALUE-TOO-SMALL", "A surface without chord is none.", "chord")
        return None
    return lattice_surface(
        surface.name,
        leading=surface.leading,
        chord=surface.chord,
        twist=surface.twist,
        mirrored=surface.mirror,
        strips=surface.strips or WING_STRIPS,
        rows=surface.rows or ROWS,
        uniform=surface.even,
    )


# ---------------------------------------------------------------- section


def _section(said: CaseIn, parts: Parts, reading: Reading, report: Report) -> SectionSubject | None:
    if said.section is None:
        return None
    section = said.section.build(report.at("section"), reading)
    if said.chord is None:
        report.say("KEY-MISSING", 'The key "chord" is missing here: of the section.', "chord")
    if section is None or said.chord is None:
        return None
    return SectionSubject(section=section, chord=said.chord, stock=parts.stock())


# ---------------------------------------------------------------- formula


def _formula(said: CaseIn, reading: Reading, report: Report) -> FormulaSubject | None:
    formula = FORMULAS.get(said.formula or "")
    if formula is None:
        text = f"There is no formula of that name; there are {', '.join(FORMULAS)}."
        report.say("FORMULA-UNKNOWN", text, "formula", hint=meant(said.formula, FORMULAS))
        return None
    raw = said.inputs
    if not isinstance(raw, dict):
        text = f"The formula needs its inputs: {_needed(formula)}."
        report.say("FORMULA-INPUT", text, "inputs")
        return None
    return _with_inputs(formula, cast("dict[str, object]", raw), reading, report)


def _with_inputs(
    formula: Formula, raw: Mapping[str, object], reading: Reading, report: Report
) -> FormulaSubject:
    known = {each.name: each for each in formula.inputs}
    inputs: dict[str, Array] = {}
    for name, given in raw.items():
        if name not in known:
            text = f"The formula has no such input; it has {listed(known)}."
            report.say("FORMULA-INPUT", text, "inputs", name, hint=meant(name, known))
            continue
        numbers = read_numbers(given, known[name].kind, reading, report.at("inputs", name))
        if numbers is not None:
            inputs[name] = numbers.values
    missing = [each.name for each in formula.inputs if not each.optional and each.name not in raw]
    if missing:
        text = f"Inputs are missing: {listed(missing)}."
        report.say("FORMULA-INPUT", text, "inputs")
    return FormulaSubject(name=formula.name, inputs=inputs)


def _needed(formula: Formula) -> str:
    return ", ".join(each.name for each in formula.inputs if not each.optional)
