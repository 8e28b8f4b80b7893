"""Turn what pydantic refuses into troubles in our own words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, cast

from pydantic import ValidationError

from foamwright.design.codes import CODES
from foamwright.design.schema.base import Supplied
from foamwright.design.schema.stock import NEVER_BOUGHT, Bought
from foamwright.design.schema.walk import (
    annotation_at,
    described,
    is_tag,
    keys_of,
    kinds_of,
    model_at,
    models_in,
    most_of,
    single_model,
)
from foamwright.design.trouble import ABSENT, Loc, Trouble, listed, meant, printable

_TABLES = {"model_type", "model_attributes_type", "dict_type"}
_LISTS = {"tuple_type", "list_type"}


def troubles_of(error: ValidationError, *, schema: object, loc: Loc) -> Iterator[Trouble]:
    """Yield the troubles of one table.

    Parameters
    ----------
    error : ValidationError
        What pydantic says.
    schema : object
        The annotation it was read with, to name the keys that are allowed.
    loc : tuple
        Where the table stands in the design.
    """
    errors = cast("list[Mapping[str, Any]]", error.errors(include_url=False))
    for each in errors:
        if each["type"] == "too_short" and _has_inner(errors, each["loc"]):
            continue  # its members are not counted because they are wrong themselves
        yield _trouble(each, schema, loc)


def _has_inner(errors: list[Mapping[str, Any]], loc: Loc) -> bool:
    return any(len(each["loc"]) > len(loc) and each["loc"][: len(loc)] == loc for each in errors)


def too_many(raw: Mapping[str, object], *, schema: object, loc: Loc) -> Iterator[Trouble]:
    """Yield a trouble for each list or group of tables that is longer than it may be.

    Asked before pydantic is: it counts last, after ten thousand other complaints.
    """
    model = single_model(schema, (f"<{raw.get('kind')}>",))
    if model is None:
        return
    for key, info in keys_of(model).items():
        held = raw.get(key)
        most = most_of(info)
        if most is not None and isinstance(held, list | dict):
            count = len(cast("list[object]", held))
            if count > most:
                text = f"At most {most} of these are taken; here are {count}."
                yield Trouble(code="TOO-MANY", loc=(*loc, key), text=text)


def _trouble(error: Mapping[str, Any], schema: object, base: Loc) -> Trouble:
    kind, raw_loc = str(error["type"]), cast("Loc", error["loc"])
    context = cast("Mapping[str, Any]", error.get("ctx") or {})
    loc = (*base, *_plain(raw_loc))
    given: object = error.get("input", ABSENT)
    if kind in CODES:
        return Trouble(
            code=kind,
            loc=(*loc, *context["sub"]),
            text=context["text"],
            hint=context["hint"],
            given=ABSENT if context["sub"] or raw_loc[-1:] == ("[key]",) else _unwrapped(given),
        )
    if kind == "missing":
        return _missing(schema, raw_loc, loc, given)
    if kind == "extra_forbidden":
        return _unknown(schema, raw_loc, loc)
    if kind in {"union_tag_invalid", "union_tag_not_found"}:
        return _kindless(given, annotation_at(schema, raw_loc), loc)
    code, text = _shape(kind, context)
    return Trouble(code=code, loc=loc, text=text)


def _plain(raw_loc: Loc) -> Loc:
    """Return one of pydantic's places without our tags and its marks of keys."""
    return tuple(bit for bit in raw_loc if not is_tag(bit) and bit != "[key]")


def _unwrapped(given: object) -> object:
    return given.value if isinstance(given, Supplied) else given


def _missing(schema: object, raw_loc: Loc, loc: Loc, table: object) -> Trouble:
    key = str(raw_loc[-1])
    model = model_at(schema, raw_loc[:-1])
    says = described(model, key) if model is not None else ""
    text = f'The key "{key}" is missing here' + (f": {says}." if says else ".")
    offers = model is not None and issubclass(model, Bought) and key not in NEVER_BOUGHT
    starts = isinstance(table, dict) and "from" in table
    hint = 'give it, or start from a catalogue entry: from = "..."' if offers and not starts else ""
    return Trouble(code="KEY-MISSING", loc=loc, text=text, hint=hint)


def _unknown(schema: object, raw_loc: Loc, loc: Loc) -> Trouble:
    key = str(raw_loc[-1])
    model = model_at(schema, raw_loc[:-1])
    known = tuple(keys_of(model)) if model is not None else ()
    text = f'There is no key "{printable(key, 40)}" here; the keys are {listed(known)}.'
    return Trouble(code="KEY-UNKNOWN", loc=loc, text=text, hint=meant(key, known))


def _kindless(given: object, annotation: object, loc: Loc) -> Trouble:
    if not isinstance(given, dict):
        return Trouble(code="VALUE-TYPE", loc=loc, text=_TABLE_WANTED)
    kinds = [word for _, model in models_in(annotation) for word in kinds_of(model)]
    table = cast("Mapping[str, object]", given)
    words = f" One of these: {listed(kinds)}." if kinds else ""
    if "kind" not in table:
        text = f'The key "kind" is missing here.{words}'
        return Trouble(code="KEY-MISSING", loc=(*loc, "kind"), text=text)
    kind = table["kind"]
    if not isinstance(kind, str):
        text = f"The kind is a word in quotes.{words}"
        return Trouble(code="VALUE-TYPE", loc=(*loc, "kind"), text=text)
    text = f"There is no such kind here.{words}"
    hint = meant(kind, kinds)
    return Trouble(code="VALUE-CHOICE", loc=(*loc, "kind"), text=text, hint=hint)


_TABLE_WANTED = "A table is wanted here: { key = value, ... } or a [header] of its own."


def _shape(kind: str, context: Mapping[str, Any]) -> tuple[str, str]:
    if kind in _TABLES:
        return "VALUE-TYPE", _TABLE_WANTED
    if kind in _LISTS:
        return "VALUE-TYPE", "A list is wanted here: [ ..., ... ]."
    if kind == "too_long":
        return "TOO-MANY", f"At most {context.get('max_length')} of these are taken."
    if kind == "too_short":
        return "LIST-LENGTH", f"At least {context.get('min_length')} is needed here."
    return "VALUE-TYPE", "This value cannot be used here."
