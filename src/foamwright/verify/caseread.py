"""From the tree of a case file to its cases; what is wrong goes to a report."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, cast

from pydantic import BaseModel, TypeAdapter, ValidationError

from foamwright.design.schema.base import Reading
from foamwright.design.schema.fields import odd_name
from foamwright.design.schema.walk import keys_of
from foamwright.design.schema.whole import LENGTH_UNITS, MASS_UNITS
from foamwright.design.translate import too_many, troubles_of
from foamwright.design.trouble import Loc, Report, listed, meant
from foamwright.verify.designparts import TOPS, Parts, check_parts, read_parts
from foamwright.verify.expectread import read_expectations
from foamwright.verify.model import Case, Subject
from foamwright.verify.schema import CaseIn, FileIn
from foamwright.verify.subjectread import read_subject

Tree = Mapping[str, object]

_FILE: TypeAdapter[FileIn] = TypeAdapter(FileIn)
_CASE: TypeAdapter[CaseIn] = TypeAdapter(CaseIn)
_FILE_KEYS = (*keys_of(FileIn), "stock", "case")
_CASE_KEYS = (*keys_of(CaseIn), *TOPS)
#: Most cases of one file.
_MOST_CASES = 300

_NOTHING = Parts({}, ())


@dataclass(slots=True, kw_only=True)
class CaseReader:
    """Reads the cases of one file one after the other."""

    tree: Tree
    reading: Reading
    file: str
    lines: Mapping[Loc, int]
    report: Report
    _shared: Parts = field(default=_NOTHING)

    def cases(self) -> tuple[Case, ...]:
        """Return the cases that are sound; the report says what is wrong with the others."""
        for key in self.tree:
            if key not in _FILE_KEYS:
                text = f"There is no table or key of that name; there are {listed(_FILE_KEYS)}."
                self.report.say("KEY-UNKNOWN", text, key, hint=meant(key, _FILE_KEYS))
        head = {key: self.tree[key] for key in keys_of(FileIn) if key in self.tree}
        _validated(_FILE, FileIn, head, self.reading, self.report)
        stock = {"stock": self.tree["stock"]} if "stock" in self.tree else {}
        self._shared = read_parts(stock, self.reading, self.report)
        named = self._named()
        return tuple(
            case for case in (self._case(name, raw) for name, raw in named.items()) if case
        )

    def _named(self) -> dict[str, object]:
        raw = self.tree.get("case", {})
        if not isinstance(raw, dict):
            self.report.say("VALUE-TYPE", "Cases are tables with a name of their own.", "case")
            return {}
        named = cast("dict[str, object]", raw)
        if not named:
            hint = "a case begins with a header of its own: [case.my-wing]"
            self.report.say("CASE-MISSING", "No case stands in this file.", hint=hint)
        if len(named) > _MOST_CASES:
            text = f"At most {_MOST_CASES} cases are read from one file; here are {len(named)}."
            self.report.say("TOO-MANY", text, "case")
            return {}
        return named

    def _case(self, name: str, raw: object) -> Case | None:
        report = self.report.at("case", name)
        if odd := odd_name(name):
            report.say("NAME-ODD", odd)
            return None
        if not isinstance(raw, dict):
            report.say("VALUE-TYPE", "A case is a table: [case.NAME].")
            return None
        table = cast("dict[str, object]", raw)
        before = len(report.troubles)
        for key in table:
            if key not in _CASE_KEYS:
                text = f"There is no such key in a case; there are {', '.join(_CASE_KEYS)}."
                report.say("KEY-UNKNOWN", text, key, hint=meant(key, _CASE_KEYS))
        reading = self._units(table)
        own = {key: table[key] for key in keys_of(CaseIn) if key in table}
        said = cast("CaseIn | None", _validated(_CASE, CaseIn, own, reading, report))
        parts = self._parts(table, reading, report, said)
        if said is None or len(report.troubles) > before:
            return None
        subject = read_subject(said, parts=parts, tree=table, reading=reading, report=report)
        if subject is None:
            return None
        return self._made(name, said, subject, reading, report)

    def _made(
        self, name: str, said: CaseIn, subject: Subject, reading: Reading, report: Report
    ) -> Case:
        expectations = read_expectations(
            said, subject=subject, reading=reading, report=report, lines=self.lines
        )
        return Case(
            name=name,
            file=self.file,
            line=self.lines.get(("case", name)),
            what=said.what,
            family=said.family,
            source=said.source,
            sure=said.sure,
            note=said.note,
            lengths=reading.lengths,
            masses=reading.masses,
            subject=subject,
            expectations=expectations,
        )

    def _units(self, table: Mapping[str, object]) -> Reading:
        """Return what bare numbers mean in a case; a wrong unit is said when its keys are read."""
        reading = self.reading
        lengths, masses = table.get("lengths"), table.get("masses")
        if isinstance(lengths, str) and lengths in LENGTH_UNITS:
            reading = replace(reading, lengths=lengths)
        if isinstance(masses, str) and masses in MASS_UNITS:
            reading = replace(reading, masses=masses)
        return reading

    def _parts(
        self, table: Mapping[str, object], reading: Reading, report: Report, said: CaseIn | None
    ) -> Parts:
        """Return the design tables of a case, with the stock that the file shares."""
        own = {top: table[top] for top in TOPS if top in table}
        inner = Report(length_unit=reading.lengths)
        parts = _with_shared(read_parts(own, reading, inner), self._shared)
        if said is not None and said.section is not None:
            # Built once more with the subject; here for the names that it uses.
            said.section.build(inner.at("section"), reading)
            inner.troubles[:] = [each for each in inner.troubles if each.loc[:1] != ("section",)]
        check_parts(parts, tuple(inner.uses), self._with_stock(own), inner)
        for trouble in inner.troubles:
            report.troubles.append(replace(trouble, loc=(*report.loc, *trouble.loc)))
        return parts

    def _with_stock(self, own: Mapping[str, object]) -> Tree:
        """Return a case's tables with the names of the stock that the file shares."""
        merged: dict[str, dict[str, object]] = {}
        for stock in (self.tree.get("stock"), own.get("stock")):
            if isinstance(stock, dict):
                for kind, goods in cast("dict[str, object]", stock).items():
                    if isinstance(goods, dict):
                        merged.setdefault(kind, {}).update(cast("dict[str, object]", goods))
        return {**own, "stock": merged}


def _with_shared(parts: Parts, shared: Parts) -> Parts:
    """Add the goods of the file that the case does not name anew."""
    values = dict(parts.values)
    for path, goods in shared.values.items():
        own = {good.key for good in values[path]}
        values[path] = (*(good for good in goods if good.key not in own), *values[path])
    return Parts(values, parts.uses)


def _validated(
    adapter: TypeAdapter[Any],
    schema: type[BaseModel],
    raw: dict[str, object],
    reading: Reading,
    report: Report,
) -> BaseModel | None:
    """Return a table of keys, or None; what is wrong goes to the report."""
    long = list(too_many(raw, schema=schema, loc=report.loc))
    report.troubles.extend(long)
    if long:
        return None
    try:
        return cast("BaseModel", adapter.validate_python(raw, context=reading))
    except ValidationError as error:
        report.troubles.extend(troubles_of(error, schema=schema, loc=report.loc))
        return None
