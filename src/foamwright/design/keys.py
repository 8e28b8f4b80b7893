"""Every key of the design file, told from the schema: for the docs and for editors."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import cast

from pydantic.fields import FieldInfo

from foamwright.design.schema.base import Reading, Value
from foamwright.design.schema.fields import (
    Measured,
    Numbers,
    OneOrTwo,
    Quantity,
    bare_unit,
    value_text,
)
from foamwright.design.schema.stock import NEVER_BOUGHT, Bought
from foamwright.design.schema.walk import (
    Model,
    field_annotation,
    has_own_field,
    is_listed,
    is_named,
    keys_of,
    kinds_of,
    models_in,
    most_of,
    value_field,
)
from foamwright.design.schema.whole import HeadIn, VariantIn
from foamwright.design.tables import GROUPS

MUST = "must be given"
MUST_OR_FROM = "must be given, here or by `from`"


@dataclass(frozen=True, slots=True, kw_only=True)
class FileKey:
    """One key that a table of the design file may hold."""

    table: str  # where it stands, such as "surface.NAME.panel[]"
    kind: str  # the table's kind, where tables come in several; else ""
    what_table: str  # what the table is
    key: str
    takes: str  # what may stand there
    default: str  # what holds where it is not given, or "must be given"
    what: str  # what it means


def design_file_keys() -> tuple[FileKey, ...]:
    """Return every key of the design file, table by table.

    Returns
    -------
    tuple of FileKey
        A table that stands in several places, such as a section, is listed at the first.
    """
    seen: set[Model] = set()
    keys = list(_of_table("", "", HeadIn, seen))
    for group in GROUPS:
        keys.extend(_of_annotation(f"{'.'.join(group.path)}.NAME", group.schema, seen))
    keys.extend(_of_table("variant.NAME", "", VariantIn, seen))
    return tuple(keys)


def key_tables() -> str:
    """Return all keys as Markdown tables."""
    lines: list[str] = []
    place: tuple[str, str] | None = None
    for key in design_file_keys():
        if (key.table, key.kind) != place:
            place = (key.table, key.kind)
            title = f"`{key.table}`" if key.table else "Above all tables"
            title += f', kind = "{key.kind}"' if key.kind else ""
            lines += ["", f"### {title}", "", key.what_table, ""]
            lines += ["| key | meaning | takes | where not given |", "|---|---|---|---|"]
        lines.append(f"| `{key.key}` | {key.what} | {key.takes} | {key.default} |")
    return "\n".join(lines[1:])


def _of_annotation(table: str, annotation: object, seen: set[Model]) -> Iterator[FileKey]:
    found = list(models_in(annotation))
    for tag, model in found:
        if model not in seen:
            kind = '" or "'.join(kinds_of(model)) or tag.strip("<>")
            yield from _of_table(table, kind if len(found) > 1 else "", model, seen)


def _of_table(table: str, kind: str, model: Model, seen: set[Model]) -> Iterator[FileKey]:
    seen.add(model)
    inner: list[tuple[str, object]] = []
    for key, info in keys_of(model).items():
        annotation = field_annotation(info)
        if next(models_in(annotation), None) is not None:
            suffix = ".NAME" if is_named(annotation) else "[]" if is_listed(annotation) else ""
            inner.append((f"{table}.{key}{suffix}".lstrip("."), annotation))
        what, default = _what(info, annotation)
        if default == MUST and issubclass(model, Bought) and key not in NEVER_BOUGHT:
            default = MUST if kind and key == "kind" else MUST_OR_FROM
        yield FileKey(
            table=table,
            kind=kind,
            what_table=(model.__doc__ or "").strip().split("\n")[0],
            key=key,
            takes=_takes(annotation, info),
            default=default,
            what=what,
        )
    for place, annotation in inner:
        yield from _of_annotation(place, annotation, seen)


def _takes(annotation: object, info: FieldInfo) -> str:
    most = most_of(info)
    many = f", up to {most}" if most else ""
    if next(models_in(annotation), None) is not None:
        shape = "tables by name" if is_named(annotation) else "table"
        return ("list of tables" if is_listed(annotation) else shape) + many
    field = value_field(annotation)
    text = field.takes() if field is not None else ""
    if has_own_field(annotation):
        return text
    if is_named(annotation):
        return f"table: {text}{many}"
    return f"list of {text}{many}" if is_listed(annotation) else text


def _what(info: FieldInfo, annotation: object) -> tuple[str, str]:
    """Return the meaning of a key, and what holds where it is not given."""
    what, _, default = (info.description or "").partition("; ")
    if info.is_required():
        return what, MUST
    if default:
        return what, default
    return what, _default(info, value_field(annotation))


def _default(info: FieldInfo, field: Value | None) -> str:
    value: object = info.default
    if info.default_factory is not None or value is None or value in ((), ""):
        return "–"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value.value if isinstance(value, StrEnum) else value}"'
    quantity = field.quantity if isinstance(field, Measured | Numbers | OneOrTwo) else field
    if isinstance(value, float) and isinstance(quantity, Quantity):
        unit = "%" if quantity.kind == "fraction" else bare_unit(quantity.kind, Reading())
        return value_text(value, unit)
    if isinstance(value, tuple):
        members = cast("tuple[object, ...]", value)
        return "[" + ", ".join(f'"{member}"' for member in members) + "]"
    return str(value)
