"""Write changes into a design file and leave every other byte as it was."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, cast

from foamwright.design.lines import line_map
from foamwright.design.paths import (
    child,
    format_path,
    is_list,
    is_table,
    nearest_path,
    parse_path,
    resolve,
    value_at,
)
from foamwright.design.reading import read_design_text
from foamwright.design.textfile import parse, read_text
from foamwright.design.trouble import ABSENT, Loc, shown
from foamwright.errors import DesignFileError, InternalError, Problem
from foamwright.files import write_atomically
from foamwright.findings import Change, Value

# The one table that a change may open: everything in it has a default.
_MAY_OPEN = ("marks",)


def write_changes(
    path: Path, changes: tuple[Change, ...], *, catalogue: Path | None = None
) -> None:
    """Write changes into a design file.

    The changed text is read again, with all its variants, before anything is written;
    comments, order and every byte that is not changed stay. The new file replaces the old
    one in one step.

    Parameters
    ----------
    path : Path
        The design file.
    changes : tuple of Change
        Paths with the values they take, as the file would write them.
    catalogue : Path, optional
        The catalogue file of the maker's own that the design needs.

    Raises
    ------
    DesignFileError
        Where a path is not in the file, or the changed file would not be a sound design.
        The old file is untouched.
    FoamwrightError
        Where the file cannot be written.
    """
    file = str(path)
    text = read_text(path, file)
    changed = changed_text(text, changes, file=file)
    read_design_text(changed, file=file, folder=path.parent, catalogue=catalogue)
    if changed != text:
        write_atomically(path, changed.encode("utf-8"))


def changed_text(text: str, changes: Sequence[Change], *, file: str = "<text>") -> str:
    """Return the text of a design file with changes made.

    Parameters
    ----------
    text : str
        The design file.
    changes : sequence of Change
        Paths with the values they take, as the file would write them.
    file : str, optional
        What problems call it.

    Returns
    -------
    str
        The new text; whether it is a sound design is for the reader.

    Raises
    ------
    DesignFileError
        Where the text is not TOML or a path is not in it; it carries every problem.
    """
    tree = parse(text, file)
    problems: list[Problem] = []
    places: list[tuple[Loc, Any]] = []
    for change in changes:
        found = _place(change, tree, text, file)
        if isinstance(found, Problem):
            problems.append(found)
        else:
            places.append((found, _plain(change.value)))
    if problems:
        raise DesignFileError(tuple(problems))
    return _rewritten(text, tree, places) if places else text


# ---------------------------------------------------------------- where


def _place(change: Change, tree: dict[str, object], text: str, file: str) -> Loc | Problem:
    """Return the place that a change means, or why it cannot be made."""
    bits = parse_path(change.path)
    if bits is None:
        return _problem("PATH-UNKNOWN", "This is not a path.", change, file)
    if isinstance(change.value, float) and not math.isfinite(change.value):
        return _problem("NUMBER-NOT-FINITE", "The new value is not a finite number.", change, file)
    loc = resolve(tree, bits)
    if loc is None and len(bits) == 2 and bits[0] in _MAY_OPEN and bits[0] not in tree:
        return bits
    if loc is None:
        near = nearest_path(tree, bits)
        hint = f'did you mean "{near}"?' if near else ""
        return _problem(
            "PATH-UNKNOWN", "Nothing in this file stands at that path.", change, file, hint=hint
        )
    found = value_at(tree, loc)
    if isinstance(change.value, Mapping) and is_table(found):
        return loc
    if is_table(found) or is_list(found):
        line = line_map(text).get(loc)
        what = "a table" if is_table(found) else "a list"
        sentence = f"At that path stands {what}; a single value cannot take its place."
        return _problem("CHANGE-REFUSED", sentence, change, file, line=line)
    return loc


def _problem(
    code: str, text: str, change: Change, file: str, *, hint: str = "", line: int | None = None
) -> Problem:
    return Problem(
        code=code,
        file=file,
        line=line,
        path=format_path((change.path,)) if parse_path(change.path) is None else change.path,
        given=shown(change.value),
        text=text,
        hint=hint,
    )


def _plain(value: Value) -> Any:
    """Return a value as the file writes it: subclasses made plain, 102.0 as 102."""
    if isinstance(value, bool | str):
        return value
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if isinstance(value, float):
        number = float(value)
        return int(number) if number.is_integer() and abs(number) < 1e15 else number
    return int(value)


# ---------------------------------------------------------------- how


def _rewritten(text: str, tree: dict[str, object], places: list[tuple[Loc, Any]]) -> str:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    # tomlkit ends the lines it adds with \n, so it works on such lines alone.
    is_crlf = "\r\n" in text and "\n" not in text.replace("\r\n", "")
    try:
        document = cast("Any", tomlkit.parse(text.replace("\r\n", "\n") if is_crlf else text))
        for loc, value in places:
            _set(document, loc, value)
        changed = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, AttributeError) as error:
        raise InternalError(
            f"the change could not be written ({error}); please report it"
        ) from error
    if is_crlf:
        changed = changed.replace("\n", "\r\n")
    _check_rewritten(changed, tree, places)
    return changed


def _set(document: Any, loc: Loc, value: Any) -> None:
    node = document
    for bit in loc[:-1]:
        if isinstance(bit, str) and bit not in node:
            node[bit] = {}
        node = node[bit]
    node[loc[-1]] = _on_one_line(value)


def _on_one_line(value: Any) -> Any:
    """Return tables and lists as tomlkit writes them on one line; anything else as it is."""
    import tomlkit

    if is_table(value):
        table = tomlkit.inline_table()
        for key, one in value.items():
            table[key] = _on_one_line(one)
        return table
    if is_list(value):
        cells = tomlkit.array()
        for one in value:
            cells.append(_on_one_line(one))
        return cells
    return value


def _check_rewritten(changed: str, tree: dict[str, object], places: list[tuple[Loc, Any]]) -> None:
    """Make sure that nothing but the changes has changed."""
    wanted = _copied(tree)
    for loc, value in places:
        node: Any = wanted
        for bit in loc[:-1]:
            if isinstance(bit, str) and child(node, bit) is ABSENT:
                node[bit] = {}
            node = node[bit]
        node[loc[-1]] = value
    if tomllib.loads(changed) != wanted:
        raise InternalError("the change would alter more than it should; please report it")


def _copied(node: object) -> Any:
    if is_table(node):
        return {key: _copied(value) for key, value in node.items()}
    return [_copied(value) for value in node] if is_list(node) else node
