"""Dotted paths of a design file, such as surface.wing.panel.tip.length or brief[2].at_most.

Members of a list of tables go by their name or by their place, counted from 1.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TypeGuard, cast

from foamwright.design.trouble import ABSENT, Loc, nearest, printable

_LONGEST_PATH = 400
_SEGMENT = re.compile(r'(?:"([^"]*)"|([^."\[\]]+))((?:\[\s*[0-9]{1,4}\s*\])*)(\.|$)')
_INDEX = re.compile(r"[0-9]+")
_PLAIN = re.compile(r"[^.\"\[\]]+")


def parse_path(path: str) -> Loc | None:
    """Return the bits of a path: names, and places counted from 0; None for no path."""
    if not path or len(path) > _LONGEST_PATH:
        return None
    bits: list[str | int] = []
    place = 0
    while place < len(path):
        found = _SEGMENT.match(path, place)
        if found is None:
            return None
        quoted, plain, indices, end = found.groups()
        bits.append(plain.strip() if quoted is None else quoted)
        bits.extend(int(digits) - 1 for digits in _INDEX.findall(indices))
        place = found.end()
        if end == "." and place == len(path):
            return None
    return None if any(bit == -1 for bit in bits) else tuple(bits)


def format_path(loc: Loc, tree: object = None) -> str:
    """Return the path of a place; list members that have a name of their own go by it."""
    text = ""
    node = tree
    for bit in loc:
        node = child(node, bit)
        name = node.get("name") if is_table(node) else None
        if isinstance(bit, str):
            shown = printable(bit, 60)
            plain = bit and len(bit) <= 60 and _PLAIN.fullmatch(bit) is not None
            text += ("." if text else "") + (shown if plain else f'"{shown}"')
        elif isinstance(name, str) and 0 < len(name) <= 40 and _PLAIN.fullmatch(name):
            text += f".{printable(name)}"
        else:
            text += f"[{bit + 1}]"
    return text


def is_table(node: object) -> TypeGuard[dict[str, object]]:
    """Return whether a node of the tree is a table."""
    return isinstance(node, dict)


def is_list(node: object) -> TypeGuard[list[object]]:
    """Return whether a node of the tree is a list."""
    return isinstance(node, list)


def child(node: object, bit: str | int) -> object:
    """Return what stands at one bit inside a table or list; ABSENT where there is nothing."""
    if isinstance(node, Mapping) and isinstance(bit, str):
        return cast("Mapping[str, object]", node).get(bit, ABSENT)
    if isinstance(node, list | tuple) and isinstance(bit, int):
        members = cast("Sequence[object]", node)
        return members[bit] if 0 <= bit < len(members) else ABSENT
    return ABSENT


def value_at(tree: object, loc: Loc) -> object:
    """Return what stands at a place; ABSENT where there is nothing."""
    node = tree
    for bit in loc:
        node = child(node, bit)
        if node is ABSENT:
            break
    return node


def resolve(tree: object, bits: Loc) -> Loc | None:
    """Return the place that a path means in a tree; None where its last table is not there.

    The last bit may be a key that is not given yet. Names of list members become places.
    """
    node: object = tree
    loc: list[str | int] = []
    for number, bit in enumerate(bits):
        last = number == len(bits) - 1
        step = _place_of(node, bit) if isinstance(bit, str) else bit
        found = child(node, step)
        if found is ABSENT and not (last and isinstance(node, Mapping) and isinstance(step, str)):
            return None
        loc.append(step)
        node = found
    return tuple(loc)


def nearest_path(tree: object, bits: Loc) -> str:
    """Return the nearest path that is in the tree, or nothing where none is near."""
    node: object = tree
    loc: list[str | int] = []
    for bit in bits:
        step = _place_of(node, bit) if isinstance(bit, str) else bit
        if child(node, step) is ABSENT:
            near = nearest(bit, _names_in(node))
            if not near:
                return ""
            step = _place_of(node, near)
        loc.append(step)
        node = child(node, step)
    return format_path(tuple(loc), tree)


def _place_of(node: object, name: str) -> str | int:
    if isinstance(node, list):
        for place, member in enumerate(cast("list[object]", node)):
            if child(member, "name") == name:
                return place
    return name


def _names_in(node: object) -> list[str]:
    if isinstance(node, Mapping):
        return [str(key) for key in cast("Mapping[str, object]", node)]
    if isinstance(node, list):
        names = (child(member, "name") for member in cast("list[object]", node))
        return [name for name in names if isinstance(name, str)]
    return []
