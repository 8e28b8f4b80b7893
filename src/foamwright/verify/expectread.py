"""What a case expects: measures, states, published values and their bands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

import numpy as np

from foamwright.design.schema.base import Reading
from foamwright.design.trouble import Loc, Report, listed, meant
from foamwright.verify.formulas import FORMULAS
from foamwright.verify.measures import MEASURES
from foamwright.verify.model import (
    SUBJECT_WORDS,
    AeroplaneSubject,
    Array,
    Expectation,
    FormulaSubject,
    LatticeSubject,
    Measure,
    Part,
    Subject,
)
from foamwright.verify.schema import CaseIn, ExpectIn
from foamwright.verify.states import STATES
from foamwright.verify.values import Numbers, read_numbers


def read_expectations(
    said: CaseIn,
    *,
    subject: Subject,
    reading: Reading,
    report: Report,
    lines: Mapping[Loc, int],
) -> tuple[Expectation, ...]:
    """Return what a case expects; what is wrong goes to the report.

    Parameters
    ----------
    said : CaseIn
        The case's own keys.
    subject : Subject
        What it is about.
    reading : Reading
        Units of bare numbers.
    report : Report
        Takes the troubles.
    lines : mapping
        Lines of the file by place.
    """
    if not said.expect:
        hint = f"add a table [[case.{report.loc[-1]}.expect]]"
        report.say("EXPECT-MISSING", "This case expects nothing.", hint=hint)
        return ()
    states = _states(said.state, reading, report)
    reader = _Reader(
        subject=subject, states=states, reading=reading, lines=lines, known_miss=said.known_miss
    )
    found = [
        reader.expectation(each, report.at("expect", place))
        for place, each in enumerate(said.expect)
    ]
    for key in states:
        if key not in reader.used and not report.troubles:
            text = "No measure of this case looks at that state."
            report.say("STATE-UNUSED", text, "state", key)
    return tuple(each for each in found if each is not None)


def _states(raw: object, reading: Reading, report: Report) -> dict[str, Numbers]:
    """Return states by name; what is wrong goes to the report."""
    if raw is None:
        return {}
    if not isinstance(raw, dict):
        text = 'A table of states is wanted here: { alpha = "5 deg" }.'
        report.say("VALUE-TYPE", text, "state")
        return {}
    states: dict[str, Numbers] = {}
    for name, given in cast("dict[str, object]", raw).items():
        key = STATES.get(name)
        if key is None:
            text = f"There is no state of that name; there are {listed(STATES)}."
            report.say("STATE-UNKNOWN", text, "state", name, hint=meant(name, STATES))
            continue
        numbers = read_numbers(given, key.kind, reading, report.at("state", name))
        if numbers is None:
            continue
        if np.any((numbers.values < key.low) | (numbers.values > key.high)):
            code = "VALUE-TOO-SMALL" if np.any(numbers.values < key.low) else "VALUE-TOO-LARGE"
            text = f"This lies outside what makes sense for {key.what}."
            report.say(code, text, "state", name)
        states[name] = numbers
    return states


@dataclass(slots=True, kw_only=True)
class _Band:
    """Half widths of a band, or none where there are limits."""

    relative: float | None = None
    absolute: float | None = None


class _Reader:
    """Reads the expectations of one case; notes which states they look at."""

    def __init__(
        self,
        *,
        subject: Subject,
        states: Mapping[str, Numbers],
        reading: Reading,
        lines: Mapping[Loc, int],
        known_miss: str | None,
    ) -> None:
        self.subject, self.states, self.reading = subject, states, reading
        self.lines, self.known_miss = lines, known_miss
        self.used: set[str] = set()

    def expectation(self, said: ExpectIn, report: Report) -> Expectation | None:
        """Return one expectation, or None where the report says what is wrong."""
        before = len(report.troubles)
        measure = self._measure(said, report)
        if measure is None:
            return None
        of = self._part(said, measure, report)
        states = self._looked_at(said, measure, report)
        given = {
            key: read_numbers(raw, measure.kind, self.reading, report.at(key))
            for key, raw in (
                ("value", said.value),
                ("at_least", said.at_least),
                ("at_most", said.at_most),
            )
            if raw is not None
        }
        band = self._band(said, measure, given, report)
        _check_lengths(self._lists(states, given), report)
        if len(report.troubles) > before:
            return None
        value, low, high = (
            None if (numbers := given.get(key)) is None else numbers.values
            for key in ("value", "at_least", "at_most")
        )
        return Expectation(
            measure=measure,
            of=of,
            state={key: numbers.values for key, numbers in states.items()},
            value=value,
            at_least=low,
            at_most=high,
            relative=band.relative,
            absolute=band.absolute,
            known_miss=said.known_miss or self.known_miss or "",
            note=said.note,
            line=self.lines.get(report.loc),
        )

    def _measure(self, said: ExpectIn, report: Report) -> Measure | None:
        if isinstance(self.subject, FormulaSubject):
            known = FORMULAS[self.subject.name].gives
        else:
            known = MEASURES
        measure = known.get(said.measure)
        if measure is None:
            fitting = [
                name for name, each in known.items() if isinstance(self.subject, each.subjects)
            ]
            text = f"There is no measure of that name here; there are {', '.join(fitting)}."
            hint = meant(said.measure, fitting)
            report.say("MEASURE-UNKNOWN", text, "measure", hint=hint)
            return None
        if not isinstance(self.subject, measure.subjects):
            wanted = " or ".join(SUBJECT_WORDS[kind] for kind in measure.subjects)
            here = SUBJECT_WORDS[type(self.subject)]
            text = f"This measure is asked of the subject {wanted}; the case is about a {here}."
            report.say("MEASURE-SUBJECT", text, "measure")
            return None
        return measure

    def _part(self, said: ExpectIn, measure: Measure, report: Report) -> str:
        """Return the part that a measure speaks of; the only one where there is one only."""
        if measure.of is Part.WHOLE:
            if said.of is not None:
                text = "This measure speaks of the whole, not of a part."
                report.say("MEASURE-PART", text, "of")
            return ""
        names = _part_names(self.subject, measure.of)
        if said.of is None and len(names) == 1:
            return names[0]
        if said.of not in names:
            there = listed(names) or "none"
            text = f"This measure speaks of a {measure.of}; there is {there}."
            hint = 'name it: of = "..."' if said.of is None else meant(said.of, names)
            report.say("MEASURE-PART", text, "of", hint=hint)
            return ""
        return said.of

    def _looked_at(self, said: ExpectIn, measure: Measure, report: Report) -> Mapping[str, Numbers]:
        """Return the states that a measure looks at."""
        own = _states(said.state, self.reading, report)
        looks = (*measure.needs, *measure.takes)
        for key in own:
            if key not in looks:
                text = f'The measure "{measure.name}" does not look at that state.'
                report.say("STATE-UNUSED", text, "state", key)
        merged = {**self.states, **own}
        self.used.update(looks)
        for key in measure.needs:
            if key not in merged and not report.troubles:
                text = f'The measure "{measure.name}" needs the state "{key}": {STATES[key].what}.'
                hint = f"add state = {{ {key} = ... }}"
                report.say("STATE-MISSING", text, hint=hint)
        return {key: merged[key] for key in looks if key in merged}

    def _band(
        self,
        said: ExpectIn,
        measure: Measure,
        given: Mapping[str, Numbers | None],
        report: Report,
    ) -> _Band:
        """Return the band of an expectation, after its rules."""
        if not given:
            text = "A value, or at_least, or at_most, is wanted here."
            report.say("KEY-MISSING", text, "value")
            return _Band()
        if "value" not in given:
            _check_limits(said, given, report)
            return _Band()
        if len(given) > 1:
            text = "Give either a value with its band, or limits."
            report.say("KEY-CLASH", text, "value")
        if (said.tolerance is None) == (said.tolerance_abs is None):
            much = "none" if said.tolerance is None else "both"
            text = f"A value takes tolerance or tolerance_abs; here is {much} of them."
            report.say("EXPECT-BAND", text, "value")
            return _Band()
        if said.tolerance is not None:
            numbers = given["value"]
            if numbers is not None and np.any(numbers.values == 0.0):
                text = "A share of nought is no band; give tolerance_abs."
                report.say("EXPECT-BAND", text, "tolerance")
            return _Band(relative=said.tolerance)
        width = read_numbers(
            said.tolerance_abs, measure.kind, self.reading, report.at("tolerance_abs")
        )
        if width is None:
            return _Band()
        if width.is_list or not width.values[0] > 0.0:
            report.say("EXPECT-BAND", "One number above nought is wanted here.", "tolerance_abs")
        return _Band(absolute=float(width.values[0]))

    def _lists(
        self, states: Mapping[str, Numbers], given: Mapping[str, Numbers | None]
    ) -> dict[str, int]:
        """Return the length of every list that must go with the others."""
        lists = {
            key: len(numbers.values)
            for key, numbers in (*states.items(), *given.items())
            if numbers is not None and numbers.is_list
        }
        if isinstance(self.subject, FormulaSubject):
            for key, values in self.subject.inputs.items():
                if len(values) > 1:
                    lists[key] = len(values)
        return lists


def _check_limits(said: ExpectIn, given: Mapping[str, Numbers | None], report: Report) -> None:
    if said.tolerance is not None or said.tolerance_abs is not None:
        report.say("EXPECT-BAND", "Limits are the band; a tolerance is out of place.")
    low, high = given.get("at_least"), given.get("at_most")
    if low is not None and high is not None and np.any(_crossed(low.values, high.values)):
        report.say("EXPECT-BAND", "The lower limit lies above the upper one.", "at_least")


def _crossed(low: Array, high: Array) -> Array:
    if 1 not in (len(low), len(high)) and len(low) != len(high):
        return np.zeros(1)  # said as lists of different lengths
    return np.asarray(low > high, dtype=np.float64)


def _check_lengths(lists: Mapping[str, int], report: Report) -> None:
    if len(set(lists.values())) > 1:
        told = ", ".join(f"{key} has {count}" for key, count in lists.items())
        text = f"Lists that belong together have one length: {told}."
        report.say("EXPECT-LENGTHS", text)


def _part_names(subject: Subject, part: Part) -> list[str]:
    if isinstance(subject, LatticeSubject):
        return [surface.key for surface in subject.surfaces] if part is Part.SURFACE else []
    if not isinstance(subject, AeroplaneSubject):
        return []
    design = subject.design
    if part is Part.SURFACE:
        return [surface.key for surface in design.surfaces]
    if part is Part.BODY:
        return [body.key for body in design.bodies]
    if part is Part.PROPELLER:
        return [propeller.key for propeller in design.power.propellers]
    return [control.key for surface in design.surfaces for control in surface.controls]
