"""The tables of docs/verify.md, told from the schema and the registries."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from pydantic import BaseModel

from foamwright.design.schema.walk import (
    field_annotation,
    is_listed,
    keys_of,
    models_in,
    value_field,
)
from foamwright.verify.codes import CODES
from foamwright.verify.formulas import FORMULAS
from foamwright.verify.formulas_kit import Formula, Input
from foamwright.verify.measures import MEASURES
from foamwright.verify.model import SUBJECT_WORDS, Measure
from foamwright.verify.schema import CaseIn, ExpectIn, FileIn, LatticeIn, ReferenceIn
from foamwright.verify.states import STATES

_MODELS = (
    ("Above all cases", FileIn),
    ("`case.NAME`", CaseIn),
    ("`case.NAME.expect[]`", ExpectIn),
    ("`case.NAME.reference`", ReferenceIn),
    ("`case.NAME.lattice[]`", LatticeIn),
)


def key_tables() -> str:
    """Return all keys of a case file that the design file does not have."""
    lines: list[str] = []
    for title, model in _MODELS:
        lines += ["", f"### {title}", "", (model.__doc__ or "").strip().split("\n")[0], ""]
        rows = [
            (f"`{key}`", _what(model, key), _takes(model, key), _default(model, key))
            for key in keys_of(model)
        ]
        lines += _table(("key", "meaning", "takes", "where not given"), rows)
    return "\n".join(lines[1:])


def measure_tables() -> str:
    """Return all measures, family by family."""
    lines: list[str] = []
    for family in dict.fromkeys(measure.family for measure in MEASURES.values()):
        lines += ["", f"### {family}", ""]
        members = [measure for measure in MEASURES.values() if measure.family == family]
        rows = [
            (f"`{m.name}`", m.what, m.unit, _asked_of(m), str(m.of) or "–", _states(m))
            for m in members
        ]
        heads = ("measure", "what it is", "unit", "asked of", "`of`", "`state`")
        lines += _table(heads, rows)
    return "\n".join(lines[1:])


def formula_table() -> str:
    """Return all formulas with their inputs and what they give."""
    rows = [
        (f"`{formula.name}`", formula.what, _inputs(formula), _gives(formula))
        for formula in FORMULAS.values()
    ]
    return "\n".join(_table(("formula", "what it is", "inputs", "measures"), rows))


def state_table() -> str:
    """Return all states."""
    rows = [(f"`{key.name}`", key.what, key.kind or "number") for key in STATES.values()]
    return "\n".join(_table(("state", "what it is", "takes"), rows))


def code_table() -> str:
    """Return all codes of case files."""
    return "\n".join(_table(("code", "meaning"), [(f"`{c}`", what) for c, what in CODES.items()]))


#: Tables of the page by the name of their place in it.
TABLES: Mapping[str, Callable[[], str]] = MappingProxyType(
    {
        "keys": key_tables,
        "states": state_table,
        "measures": measure_tables,
        "formulas": formula_table,
        "codes": code_table,
    }
)


def _table(heads: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> list[str]:
    lines = [f"| {' | '.join(heads)} |", "|" + "---|" * len(heads)]
    return [*lines, *(f"| {' | '.join(row)} |" for row in rows)]


# ---------------------------------------------------------------- keys


def _what(model: type[BaseModel], key: str) -> str:
    return (keys_of(model)[key].description or "").partition("; ")[0]


def _default(model: type[BaseModel], key: str) -> str:
    info = keys_of(model)[key]
    if info.is_required():
        return "must be given"
    default = (info.description or "").partition("; ")[2]
    if default:
        return default
    value: object = info.default
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) and value else "–"


def _takes(model: type[BaseModel], key: str) -> str:
    annotation = field_annotation(keys_of(model)[key])
    if key == "section":
        return "table, see the [design file](design-file.md)"
    if next(models_in(annotation), None) is not None:
        return "list of tables" if is_listed(annotation) else "table"
    field = value_field(annotation)
    return "" if field is None else field.takes()


# ---------------------------------------------------------------- measures and formulas


def _asked_of(measure: Measure) -> str:
    return ", ".join(SUBJECT_WORDS[kind] for kind in measure.subjects)


def _states(measure: Measure) -> str:
    needs = [f"`{key}`" for key in measure.needs]
    takes = [f"`{key}`, optional" for key in measure.takes]
    return ", ".join((*needs, *takes)) or "–"


def _inputs(formula: Formula) -> str:
    return ", ".join(_input(each) for each in formula.inputs)


def _input(given: Input) -> str:
    kind = f" ({given.kind})" if given.kind else ""
    return f"`{given.name}`{kind}{', optional' if given.optional else ''}"


def _gives(formula: Formula) -> str:
    told = [
        f"`{measure.name}`{'' if measure.unit == '-' else f' [{measure.unit}]'}: {measure.what}"
        for measure in formula.gives.values()
    ]
    return "; ".join(told)
