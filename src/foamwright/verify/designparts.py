"""The design file's own tables inside a case: one case's tables become one design."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from foamwright.design.catalogue import load_catalogue
from foamwright.design.checks.whole import check_design, check_uses
from foamwright.design.model import Design, Power, Stock
from foamwright.design.schema.base import Reading
from foamwright.design.schema.fields import odd_name
from foamwright.design.schema.whole import MarksIn
from foamwright.design.tables import GROUPS, Group, read_entry
from foamwright.design.trouble import Loc, Report, Use, listed, meant

Tree = Mapping[str, object]

#: The design file's tables that a case may hold, by their first name.
TOPS = tuple(dict.fromkeys(group.path[0] for group in GROUPS))
_NESTED = {
    top: tuple(group.path[1] for group in GROUPS if group.path[0] == top and len(group.path) > 1)
    for top in TOPS
}


@dataclass(frozen=True, slots=True)
class Parts:
    """The tables of one case, read: what each of them became, and the names they use."""

    values: Mapping[Loc, tuple[Any, ...]]
    uses: tuple[Use, ...]

    def stock(self) -> Stock:
        """Goods of the case."""
        return Stock(
            sheets=self.values["stock", "sheet"],
            tapes=self.values["stock", "tape"],
            glues=self.values["stock", "glue"],
            rods=self.values["stock", "rod"],
            blocks=self.values["stock", "block"],
        )

    def design(self, name: str) -> Design:
        """Return the parts as a design of that name."""
        return Design(
            name=name,
            variant="as drawn",
            summary="",
            brief=(),
            stock=self.stock(),
            surfaces=self.values["surface",],
            bodies=self.values["body",],
            power=Power(
                motors=self.values["power", "motor"],
                propellers=self.values["power", "propeller"],
                controllers=self.values["power", "controller"],
                packs=self.values["power", "pack"],
            ),
            items=self.values["item",],
            pushrods=self.values["pushrod",],
            gear=self.values["gear",],
            marks=MarksIn.model_validate({}).build(),
        )


def read_parts(tree: Tree, reading: Reading, report: Report) -> Parts:
    """Return the design tables of a tree; what is wrong goes to the report.

    Parameters
    ----------
    tree : mapping
        Tables of the design file by their first name, and nothing else.
    reading : Reading
        Units of bare numbers, folder of the file.
    report : Report
        Takes the troubles, with places inside the tree.
    """
    values: dict[Loc, tuple[Any, ...]] = {}
    uses: list[Use] = []
    _check_names(tree, report)
    for group in GROUPS:
        built: list[Any] = []
        for key, raw in _tables(group, tree, report).items():
            entry = read_entry(group, key, raw, catalogue=load_catalogue(None), reading=reading)
            report.troubles.extend(entry.troubles)
            uses.extend(entry.uses)
            if entry.value is not None:
                built.append(entry.value)
        values[group.path] = tuple(built)
    return Parts(values, tuple(uses))


def check_parts(parts: Parts, uses: tuple[Use, ...], tree: Tree, report: Report) -> None:
    """Say which names stand for nothing and what does not fit together."""
    check_uses((*parts.uses, *uses), tree, report)
    if not report.troubles:
        check_design(parts.design("case"), tree, report)


def _check_names(tree: Tree, report: Report) -> None:
    for top, table in tree.items():
        if not isinstance(table, dict):
            report.say("VALUE-TYPE", f"A table is wanted here: [{top}. ...].", top)
            continue
        nested = _NESTED[top]
        for key in cast("dict[str, object]", table):
            if nested and key not in nested:
                text = f'"{top}" holds {listed(nested)} and nothing else.'
                report.say("KEY-UNKNOWN", text, top, key, hint=meant(key, nested))


def _tables(group: Group, tree: Tree, report: Report) -> dict[str, dict[str, object]]:
    node: object = tree
    for bit in group.path:
        node = cast("dict[str, object]", node).get(bit, {})
        if not isinstance(node, dict):
            if len(group.path) > 1 and bit == group.path[-1]:
                report.say("VALUE-TYPE", "Tables with names of their own belong here.", *group.path)
            return {}
    named = cast("dict[str, object]", node)
    if len(named) > group.most:
        text = f"At most {group.most} of these are read; here are {len(named)}."
        report.say("TOO-MANY", text, *group.path)
        return {}
    tables: dict[str, dict[str, object]] = {}
    for key, raw in named.items():
        if odd := odd_name(key):
            report.say("NAME-ODD", odd, *group.path, key)
        elif not isinstance(raw, dict):
            text = f"A table with a name of its own is wanted here: [{'.'.join(group.path)}.NAME]."
            report.say("VALUE-TYPE", text, *group.path, key)
        else:
            tables[key] = cast("dict[str, object]", raw)
    return tables
