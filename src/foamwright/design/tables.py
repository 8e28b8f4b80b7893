"""The groups of named tables in a design file, and how one of them is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol, cast

from pydantic import TypeAdapter, ValidationError

from foamwright.design.schema.base import Reading, Supplied
from foamwright.design.schema.bodies import BodyIn
from foamwright.design.schema.placed import GearIn, ItemIn, PushrodIn
from foamwright.design.schema.power import ControllerIn, MotorIn, PackIn, PropellerIn
from foamwright.design.schema.stock import BlockIn, GlueIn, RodIn, SheetIn, TapeIn
from foamwright.design.schema.surfaces import SurfaceIn
from foamwright.design.translate import too_many, troubles_of
from foamwright.design.trouble import Report, Trouble, Use, meant

Raw = Mapping[str, object]


class Parts(Protocol):
    """Catalogue entries by kind and name."""

    def entry(self, kind: str, name: str) -> Mapping[str, object]:
        """Return an entry; KeyError where there is none."""
        ...

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of a kind."""
        ...


@dataclass(frozen=True, slots=True)
class Group:
    """A group of named tables, such as [stock.sheet.NAME]."""

    path: tuple[str, ...]
    schema: Any
    catalogue: str | None = None  # kind of the catalogue's entries
    most: int = 60
    adapter: TypeAdapter[Any] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "adapter", TypeAdapter(self.schema))


#: Every group, in the order of the docs.
GROUPS = (
    Group(("stock", "sheet"), SheetIn, "sheet"),
    Group(("stock", "tape"), TapeIn, "tape"),
    Group(("stock", "glue"), GlueIn, "glue"),
    Group(("stock", "rod"), RodIn, "rod"),
    Group(("stock", "block"), BlockIn, "block"),
    Group(("surface",), SurfaceIn, most=20),
    Group(("body",), BodyIn, most=40),
    Group(("power", "motor"), MotorIn, "motor", most=12),
    Group(("power", "propeller"), PropellerIn, "propeller", most=24),
    Group(("power", "controller"), ControllerIn, "controller", most=12),
    Group(("power", "pack"), PackIn, "pack", most=12),
    Group(("item",), ItemIn, "item", most=120),
    Group(("pushrod",), PushrodIn),
    Group(("gear",), GearIn, "wheel"),
)

# Values of the catalogue that carry their source into a figure.
_MEASURED = frozenset({"thickness", "weight", "mass", "density", "line_mass"})


@dataclass(frozen=True, slots=True)
class Entry:
    """One named table, read: its value, or None, and what is wrong with it."""

    value: Any
    troubles: tuple[Trouble, ...]
    uses: tuple[Use, ...]
    raw: object  # kept so that its identity stays its own


def read_entry(group: Group, key: str, raw: Raw, *, catalogue: Parts, reading: Reading) -> Entry:
    """Return one named table, validated and built.

    Parameters
    ----------
    group : Group
        The group it belongs to.
    key : str
        Its name.
    raw : mapping
        What the file says.
    catalogue : Parts
        Where `from` looks.
    reading : Reading
        Units of bare numbers, folder of the file.
    """
    report = Report((*group.path, key), length_unit=reading.lengths)
    merged, found = _with_catalogue(group, raw, catalogue, report)
    value: Any = None
    report.troubles.extend(too_many(raw, schema=group.schema, loc=report.loc))
    if report.troubles and report.troubles[-1].code == "TOO-MANY":
        return Entry(value, tuple(report.troubles), tuple(report.uses), raw)
    try:
        model = group.adapter.validate_python(merged, context=reading)
    except ValidationError as error:
        wrong = troubles_of(error, schema=group.schema, loc=report.loc)
        # Without its entry most keys are missing; that is one trouble, not ten.
        report.troubles.extend(each for each in wrong if found or each.code != "KEY-MISSING")
    else:
        value = model.build(key, report, reading)
    return Entry(value, tuple(report.troubles), tuple(report.uses), raw)


def _with_catalogue(
    group: Group, raw: Raw, catalogue: Parts, report: Report
) -> tuple[dict[str, object], bool]:
    """Lay the maker's own keys over the catalogue's; say whether the entry was found."""
    name = raw.get("from")
    if group.catalogue is None or not isinstance(name, str):
        return dict(raw), True
    if group.path == ("gear",) and raw.get("kind") != "wheel":
        return dict(raw), True
    try:
        entry = catalogue.entry(group.catalogue, name)
    except KeyError:
        known = catalogue.names(group.catalogue)
        text = f"The catalogue has no {group.catalogue} of that name; it has {len(known)} others."
        report.say("CATALOGUE-UNKNOWN", text, "from", hint=meant(name, known))
        return dict(raw), False
    source = str(entry.get("source") or "no source")
    supplied = {
        key: Supplied(value, source) if key in _MEASURED else value
        for key, value in entry.items()
        if key != "source"
    }
    return {**supplied, **cast("dict[str, object]", raw)}, True
