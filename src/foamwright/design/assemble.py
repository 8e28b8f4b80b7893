"""From one variant's tree to one design, with every table read once for all variants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, cast

from pydantic import TypeAdapter, ValidationError

from foamwright.design.checks.whole import check_design, check_tree, check_uses
from foamwright.design.model import BriefLine, Design, Power, Stock
from foamwright.design.schema.base import Reading
from foamwright.design.schema.fields import odd_name
from foamwright.design.schema.walk import keys_of
from foamwright.design.schema.whole import HeadIn, MarksIn
from foamwright.design.tables import GROUPS, Entry, Group, Parts, read_entry
from foamwright.design.translate import too_many, troubles_of
from foamwright.design.trouble import Loc, Report, Trouble, Use, listed, meant
from foamwright.design.variants import Version

Tree = Mapping[str, object]

_HEAD: TypeAdapter[HeadIn] = TypeAdapter(HeadIn)
_HEAD_KEYS = tuple(keys_of(HeadIn))
_TOPS = tuple(dict.fromkeys(group.path[0] for group in GROUPS))
_TOP_KEYS = (*_HEAD_KEYS, *_TOPS, "variant")
_TABLES = ("marks", "brief", *_TOPS, "variant")
_NESTED = {
    top: tuple(group.path[1] for group in GROUPS if group.path[0] == top and len(group.path) > 1)
    for top in _TOPS
}


@dataclass(frozen=True, slots=True)
class Assembler:
    """Makes designs of versions; a table that versions share is read once."""

    reading: Reading
    catalogue: Parts
    _known: dict[tuple[Loc, int], Entry] = field(default_factory=dict[tuple[Loc, int], Entry])

    def design(self, version: Version) -> tuple[Design | None, list[Trouble]]:
        """Return the design of one version, or None, and what is wrong with it."""
        report = Report(length_unit=self.reading.lengths)
        tree = version.tree
        _check_keys(tree, report)
        head, brief = self._head(tree, report)
        check_tree(tree, report)
        parts: dict[Loc, list[Any]] = {}
        uses: list[Use] = []
        for group in GROUPS:
            parts[group.path] = []
            for entry in self._entries(group, tree, report):
                report.troubles.extend(entry.troubles)
                uses.extend(entry.uses)
                parts[group.path].append(entry.value)
        check_uses(uses, tree, report)
        if head is None or report.troubles:
            return None, report.troubles
        design = _design(head, brief, parts, version.name)
        check_design(design, tree, report)
        return design, report.troubles

    def _head(
        self, tree: Tree, report: Report
    ) -> tuple[HeadIn | None, tuple[BriefLine | None, ...]]:
        raw = {key: tree[key] for key in _HEAD_KEYS if key in tree}
        long = list(too_many(raw, schema=HeadIn, loc=()))
        report.troubles.extend(long)
        for trouble in long:
            del raw[str(trouble.loc[-1])]
        try:
            head = _HEAD.validate_python(raw, context=self.reading)
        except ValidationError as error:
            report.troubles.extend(troubles_of(error, schema=HeadIn, loc=()))
            return None, ()
        lines = enumerate(head.brief)
        return head, tuple(
            line.build(report.at("brief", place), self.reading) for place, line in lines
        )

    def _entries(self, group: Group, tree: Tree, report: Report) -> list[Entry]:
        tables = _tables(group, tree, report)
        entries: list[Entry] = []
        for key, raw in tables.items():
            if odd := odd_name(key):
                report.say("NAME-ODD", odd, *group.path, key)
            elif not isinstance(raw, dict):
                text = f"A table with a name of its own is wanted here: {_header(group)}."
                report.say("VALUE-TYPE", text, *group.path, key)
            else:
                entries.append(self._entry(group, key, cast("dict[str, object]", raw)))
        return entries

    def _entry(self, group: Group, key: str, raw: dict[str, object]) -> Entry:
        # Versions share the tables that they do not change, so identity is enough; the entry
        # keeps the table alive, so that its number is not given to another.
        mark = ((*group.path, key), id(raw))
        if mark not in self._known:
            entry = read_entry(group, key, raw, catalogue=self.catalogue, reading=self.reading)
            self._known[mark] = entry
        return self._known[mark]


def _check_keys(tree: Tree, report: Report) -> None:
    for key in tree:
        if key not in _TOP_KEYS:
            text = f"There is no such table or key; the tables are {listed(_TABLES)}."
            report.say("KEY-UNKNOWN", text, key, hint=meant(key, _TOP_KEYS))
    for top in _TOPS:
        table = tree.get(top, {})
        if not isinstance(table, dict):
            report.say("VALUE-TYPE", f"A table is wanted here: [{top}. ...].", top)
            continue
        nested = _NESTED[top]
        for key in cast("dict[str, object]", table):
            if nested and key not in nested:
                text = f'"{top}" holds {listed(nested)} and nothing else.'
                report.say("KEY-UNKNOWN", text, top, key, hint=meant(key, nested))


def _header(group: Group) -> str:
    return f"[{'.'.join(group.path)}.name]"


def _tables(group: Group, tree: Tree, report: Report) -> dict[str, object]:
    node: object = tree
    for bit in group.path:
        node = cast("dict[str, object]", node).get(bit, {})
        if not isinstance(node, dict):
            if bit == group.path[-1] and len(group.path) > 1:
                text = f"Tables with names of their own are wanted here: {_header(group)}."
                report.say("VALUE-TYPE", text, *group.path)
            return {}
    tables = cast("dict[str, object]", node)
    if len(tables) > group.most:
        text = f"At most {group.most} of these are read; here are {len(tables)}."
        report.say("TOO-MANY", text, *group.path)
        return {}
    return tables


def _design(
    head: HeadIn, brief: tuple[BriefLine | None, ...], parts: Mapping[Loc, list[Any]], name: str
) -> Design:
    return Design(
        name=head.name,
        variant=name,
        summary=head.summary,
        brief=tuple(line for line in brief if line is not None),
        stock=Stock(
            sheets=tuple(parts["stock", "sheet"]),
            tapes=tuple(parts["stock", "tape"]),
            glues=tuple(parts["stock", "glue"]),
            rods=tuple(parts["stock", "rod"]),
            blocks=tuple(parts["stock", "block"]),
        ),
        surfaces=tuple(parts["surface",]),
        bodies=tuple(parts["body",]),
        power=Power(
            motors=tuple(parts["power", "motor"]),
            propellers=tuple(parts["power", "propeller"]),
            controllers=tuple(parts["power", "controller"]),
            packs=tuple(parts["power", "pack"]),
        ),
        items=tuple(parts["item",]),
        pushrods=tuple(parts["pushrod",]),
        gear=tuple(parts["gear",]),
        marks=(head.marks or MarksIn.model_validate({})).build(),
    )
