"""Variants: named sets of changes to the design file's own paths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import cast

from pydantic import TypeAdapter, ValidationError

from foamwright.design.paths import child, is_list, is_table, nearest_path, parse_path, resolve
from foamwright.design.schema.base import Reading
from foamwright.design.schema.fields import odd_name
from foamwright.design.schema.whole import AS_DRAWN, VariantIn
from foamwright.design.tables import GROUPS
from foamwright.design.translate import troubles_of
from foamwright.design.trouble import ABSENT, Loc, Report, Trouble, listed, meant

Tree = Mapping[str, object]

#: What holds for the whole file, so that no variant may change it.
FIXED = ("format", "name", "lengths", "masses", "as_drawn", "catalogue", "variant")

MOST_VARIANTS = 30
_MOST_CHANGES = 200

_ADAPTER: TypeAdapter[VariantIn] = TypeAdapter(VariantIn)
_GROUP_PATHS = {group.path for group in GROUPS}


@dataclass(frozen=True, slots=True)
class Version:
    """The file's tree as one variant changes it."""

    name: str
    tree: Tree
    origins: tuple[tuple[Loc, Loc], ...] = ()  # changed place, where the change stands in the file
    is_drawn: bool = False  # the design as the file draws it

    def origin(self, loc: Loc) -> Loc | None:
        """Return where in the file a changed value stands; None for one that is not changed."""
        for changed, source in reversed(self.origins):
            if loc[: len(changed)] == changed:
                return (*source, *loc[len(changed) :])
        return None


@dataclass(frozen=True, slots=True)
class _Change:
    """One change: a value, or ABSENT for a table left out."""

    bits: Loc | None  # None where the text is no path
    text: str
    value: object
    origin: Loc


def versions_of(tree: Tree, reading: Reading, report: Report) -> tuple[Version, ...]:
    """Return the design as drawn and all its variants; what is wrong goes to the report.

    Parameters
    ----------
    tree : mapping
        The whole file.
    reading : Reading
        Units of bare numbers, folder of the file.
    report : Report
        Takes the troubles.
    """
    as_drawn = tree.get("as_drawn", AS_DRAWN)
    name = as_drawn if isinstance(as_drawn, str) else AS_DRAWN
    drawn = {key: value for key, value in tree.items() if key != "variant"}
    base = Version(name, drawn, is_drawn=True)
    named = _Variants(base, _declared(tree, name, reading, report.at("variant")), report)
    versions = [named.version(key) for key in named.declared]
    return (base, *(version for version in versions if version is not None))


def _declared(tree: Tree, as_drawn: str, reading: Reading, report: Report) -> dict[str, VariantIn]:
    raw = tree.get("variant", {})
    if not isinstance(raw, dict):
        text = "Variants are tables with a name of their own."
        report.say("VALUE-TYPE", text, hint='write [variant."some name"]')
        return {}
    tables = cast("dict[str, object]", raw)
    if len(tables) > MOST_VARIANTS:
        report.say(
            "TOO-MANY", f"At most {MOST_VARIANTS} variants are read; here are {len(tables)}."
        )
        return {}
    declared: dict[str, VariantIn] = {}
    for key, table in tables.items():
        if odd := odd_name(key):
            report.say("NAME-ODD", odd, key)
        elif key == as_drawn:
            text = f'The design as drawn has that name already: as_drawn = "{key}".'
            report.say("VARIANT-NAME", text, key)
        else:
            _declare(key, table, reading, report, declared)
    return declared


def _declare(
    key: str, table: object, reading: Reading, report: Report, declared: dict[str, VariantIn]
) -> None:
    try:
        declared[key] = _ADAPTER.validate_python(table, context=reading)
    except ValidationError as error:
        loc = (*report.loc, key)
        report.troubles.extend(troubles_of(error, schema=VariantIn, loc=loc))


@dataclass(frozen=True, slots=True)
class _Variants:
    """The variants of one file, each made once."""

    base: Version
    declared: dict[str, VariantIn]
    report: Report

    def version(self, key: str) -> Version | None:
        """Return one variant's tree; None where it cannot be made."""
        chain = self._chain(key)
        if chain is None:
            return None
        version = Version(key, self.base.tree)
        for ancestor in chain:
            # Ancestors speak of their own troubles in their own turn.
            report = self.report if ancestor == key else Report()
            version = self._changed(version, ancestor, report.at("variant", ancestor))
        return version

    def _chain(self, key: str) -> list[str] | None:
        """Return the variants to go through, from the design as drawn to this one."""
        chain = [key]
        while (like := self.declared[chain[0]].like) not in (None, self.base.name):
            if like in chain:
                if like == key:
                    text = (
                        "Variants start from each other in a circle: "
                        + " ← ".join((*chain, chain[0]))
                        + "."
                    )
                    self.report.say("VARIANT-LOOP", text, "variant", key, "like")
                return None
            if like not in self.declared:
                if len(chain) == 1:
                    self._say_unknown(key, like)
                return None
            chain.insert(0, like)
        return chain

    def _say_unknown(self, key: str, like: str | None) -> None:
        known = (self.base.name, *(name for name in self.declared if name != key))
        text = f"There is no variant of that name to start from; there are {listed(known)}."
        self.report.say("VARIANT-UNKNOWN", text, "variant", key, "like", hint=meant(like, known))

    def _changed(self, version: Version, key: str, report: Report) -> Version:
        changes = list(_changes(self.declared[key], report.loc))
        if len(changes) > _MOST_CHANGES:
            report.say("TOO-MANY", f"A variant makes at most {_MOST_CHANGES} changes.")
            return version
        for change in changes:
            version = _apply(change, version, report)
        return version


def _changes(variant: VariantIn, loc: Loc) -> Iterator[_Change]:
    """Yield what a variant leaves out, then what it sets."""
    for place, path in enumerate(variant.without):
        yield _Change(parse_path(path), path, ABSENT, (*loc, "without", place))
    yield from _settings(variant.set, (), (*loc, "set"))


def _settings(table: Mapping[str, object], before: Loc, origin: Loc) -> Iterator[_Change]:
    """Yield the settings; tables under plain names are gone into, as unquoted paths make them."""
    for key, value in table.items():
        here = (*origin, key)
        bits = parse_path(key)
        if bits is not None and len(bits) == 1 and is_table(value) and value:
            yield from _settings(value, (*before, *bits), here)
        else:
            yield _Change(None if bits is None else (*before, *bits), key, value, here)


def _apply(change: _Change, version: Version, report: Report) -> Version:
    if change.bits is None:
        text = "This is not a path, such as surface.wing.panel.tip.length."
        _say(report, "PATH-UNKNOWN", text, change)
        return version
    if change.bits[0] in FIXED:
        text = f'"{change.bits[0]}" holds for the whole file; a variant cannot change it.'
        _say(report, "VARIANT-FIXED", text, change)
        return version
    loc = _place(change, version.tree)
    if loc is None:
        text = "Nothing in this file stands at that path."
        near = nearest_path(version.tree, change.bits)
        _say(report, "PATH-UNKNOWN", text, change, f'did you mean "{near}"?' if near else "")
        return version
    if change.value is ABSENT and not isinstance(_found(version.tree, loc), dict):
        text = "Only whole tables can be left out, such as gear.main; set a value to change it."
        _say(report, "PATH-UNKNOWN", text, change)
        return version
    tree = cast("Tree", _with(version.tree, loc, change.value))
    if change.value is ABSENT and isinstance(loc[-1], int):
        return Version(version.name, tree, tuple(_moved_up(version.origins, loc)))
    return Version(version.name, tree, (*version.origins, (loc, change.origin)))


def _moved_up(origins: tuple[tuple[Loc, Loc], ...], gone: Loc) -> Iterator[tuple[Loc, Loc]]:
    """Yield the origins after a member of a list is gone: those behind it move up."""
    depth = len(gone) - 1
    place = cast("int", gone[-1])
    for changed, source in origins:
        bit = changed[depth] if len(changed) > depth and changed[:depth] == gone[:depth] else None
        if not isinstance(bit, int) or bit < place:
            yield changed, source
        elif bit > place:
            yield (*changed[:depth], bit - 1, *changed[depth + 1 :]), source


def _place(change: _Change, tree: Tree) -> Loc | None:
    bits = cast("Loc", change.bits)
    loc = resolve(tree, bits)
    if change.value is ABSENT:
        return None if loc is None or _found(tree, loc) is ABSENT else loc
    # A whole new table may open a group that the file does not have yet.
    if loc is None and bits[:-1] in _GROUP_PATHS and isinstance(change.value, dict):
        return bits
    return loc


def _found(tree: object, loc: Loc) -> object:
    for bit in loc:
        tree = child(tree, bit)
    return tree


def _with(node: object, loc: Loc, value: object) -> object:
    """Return a node with one place changed; everything else is shared with the old one."""
    if not loc:
        return value
    bit, rest = loc[0], loc[1:]
    if is_list(node):
        members = list(node)
        if not rest and value is ABSENT:
            del members[cast("int", bit)]
        else:
            members[cast("int", bit)] = _with(members[cast("int", bit)], rest, value)
        return members
    table: dict[str, object] = dict(node) if is_table(node) else {}
    if not rest and value is ABSENT:
        table.pop(cast("str", bit), None)
    else:
        table[cast("str", bit)] = _with(table.get(cast("str", bit)), rest, value)
    return table


def _say(report: Report, code: str, text: str, change: _Change, hint: str = "") -> None:
    given = change.text if change.value is ABSENT else change.value
    report.troubles.append(Trouble(code=code, loc=change.origin, text=text, hint=hint, given=given))
