"""Walk the tables of the schema: which model stands at a place, what its keys are."""

from __future__ import annotations

import operator
import types
from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Union, cast, get_args, get_origin

from annotated_types import MaxLen
from pydantic import BaseModel, Tag
from pydantic.fields import FieldInfo

from foamwright.design.schema.base import Value
from foamwright.design.schema.fields import Choice

Model = type[BaseModel]


def keys_of(model: Model) -> dict[str, FieldInfo]:
    """Return the fields of a table by the key that the file uses."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def annotation_at(annotation: object, loc: tuple[str | int, ...]) -> object:
    """Return the annotation of the table at a place, as pydantic names places; or None."""
    while loc:
        model = single_model(annotation, loc[:1])
        if is_tag(loc[0]):
            if model is None:
                return None
            annotation = model
        elif model is not None:
            info = keys_of(model).get(str(loc[0]))
            annotation = None if info is None else _whole(info)
        else:
            annotation = _inner(annotation)
        loc = loc[1:]
    return annotation


def model_at(annotation: object, loc: tuple[str | int, ...]) -> Model | None:
    """Return the model of the table at a place, as pydantic names places; None for no table."""
    return single_model(annotation_at(annotation, loc))


def kinds_of(model: Model) -> tuple[str, ...]:
    """Return the words that a table's key "kind" may be; none where it has no such key."""
    info = keys_of(model).get("kind")
    field = None if info is None else value_field(_whole(info))
    return field.known() if isinstance(field, Choice) else ()


def single_model(annotation: object, tag: tuple[str | int, ...] = ()) -> Model | None:
    """Return the model that an annotation stands for, chosen by tag where there are several."""
    found = dict(models_in(annotation))
    if not found or _inner(annotation) is not None:
        return None
    if len(found) == 1:
        return next(iter(found.values()))
    return found.get(str(tag[0])) if tag else None


def models_in(annotation: object) -> Iterator[tuple[str, Model]]:
    """Yield the tables that may stand for an annotation, each with its tag."""
    model = _as_model(annotation)
    if model is not None:
        yield "", model
    elif get_origin(annotation) is Annotated:
        inner, *metadata = get_args(annotation)
        tags = [extra.tag for extra in metadata if isinstance(extra, Tag)]
        for tag, model in models_in(inner):
            yield (tags[0] if tags else tag), model
    elif get_origin(annotation) in (Union, types.UnionType):
        for member in get_args(annotation):
            yield from models_in(member)
    else:
        inner = _inner(annotation)
        if inner is not None:
            yield from models_in(inner)


def most_of(info: FieldInfo) -> int | None:
    """Return how many members a list or table of tables may have; None for no limit."""
    return next((extra.max_length for extra in info.metadata if isinstance(extra, MaxLen)), None)


def value_field(annotation: object) -> Value | None:
    """Return the kind of value that an annotation carries."""
    for extra in getattr(annotation, "__metadata__", ()):
        if isinstance(extra, Value):
            return extra
    if get_origin(annotation) is Annotated:
        return value_field(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        for member in get_args(annotation):
            found = value_field(member)
            if found is not None:
                return found
    inner = _inner(annotation)
    return None if inner is None else value_field(inner)


def has_own_field(annotation: object) -> bool:
    """Return whether an annotation is read as one value, even where it holds several."""
    return any(isinstance(extra, Value) for extra in getattr(annotation, "__metadata__", ()))


def is_tag(bit: object) -> bool:
    """Return whether a bit of one of pydantic's places is a tag of ours, no key."""
    return isinstance(bit, str) and bit.startswith("<") and bit.endswith(">")


def field_annotation(info: FieldInfo) -> object:
    """Return the whole annotation of a field, with what pydantic has set aside."""
    return _whole(info)


def is_named(annotation: object) -> bool:
    """Return whether an annotation is a table of tables by name."""
    return get_origin(_bare(annotation)) is dict


def is_listed(annotation: object) -> bool:
    """Return whether an annotation is a list of any length."""
    args = get_args(_bare(annotation))
    return get_origin(_bare(annotation)) is tuple and args[-1:] == (Ellipsis,)


def _whole(info: FieldInfo) -> object:
    if not info.metadata:
        return info.annotation
    # As `Annotated[...]` would read; a starred index does not pass every type checker.
    return operator.getitem(cast("Any", Annotated), (info.annotation, *info.metadata))


def _as_model(annotation: object) -> Model | None:
    is_model = isinstance(annotation, type) and issubclass(annotation, BaseModel)
    return cast("Model", annotation) if is_model else None


def _bare(annotation: object) -> object:
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    return annotation


def _inner(annotation: object) -> object | None:
    """Return what a list or a table by name holds; None for anything else."""
    bare = _bare(annotation)
    args = get_args(bare)
    if get_origin(bare) is dict:
        return args[1]
    if get_origin(bare) is tuple and args[-1:] == (Ellipsis,):
        return args[0]
    return None


def described(model: Model, key: str) -> str:
    """Return what a key of a table means, for a sentence."""
    info: Mapping[str, FieldInfo] = keys_of(model)
    return (info[key].description or "").split(";")[0] if key in info else ""
