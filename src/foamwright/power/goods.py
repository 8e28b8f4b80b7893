"""Propellers, controllers and packs of the catalogue, as the power room needs them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import cast

from foamwright.design.catalogue import Catalogue, load_catalogue
from foamwright.design.model import Controller, Pack, Propeller, Rotation
from foamwright.figures import Figure
from foamwright.units import parse_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class ControllerGoods:
    """A controller that can be bought."""

    name: str
    says: str
    rating: float  # A
    mass: float  # kg


@dataclass(frozen=True, slots=True, kw_only=True)
class PackGoods:
    """A pack that can be bought."""

    name: str
    says: str
    cells: int
    capacity: float  # C
    rating: float  # 1/h
    mass: float  # kg
    size: tuple[float, float, float]  # m, along x, y, z


def propeller_goods(catalogue: Catalogue | None = None) -> tuple[Propeller, ...]:
    """Return the propellers of a catalogue; the key of each is its name there."""
    return _packaged()[0] if catalogue is None else _propellers(catalogue)


def controller_goods() -> tuple[ControllerGoods, ...]:
    """Return the controllers of the packaged catalogue, smallest first."""
    return _packaged()[1]


def pack_goods() -> tuple[PackGoods, ...]:
    """Return the packs of the packaged catalogue."""
    return _packaged()[2]


def known_propeller(propeller: Propeller) -> Propeller | None:
    """Return the entry that a propeller was taken from; None where the maker described his own."""
    for one in propeller_goods():
        if one.says == propeller.says and _blades(one) == _blades(propeller):
            return one
    return None


def known_controller(controller: Controller) -> ControllerGoods | None:
    """Return the entry that a controller was taken from; None where it is the maker's own."""
    for one in controller_goods():
        if one.says == controller.says and _same(one.rating, controller.rating):
            return one
    return None


def known_pack(pack: Pack) -> PackGoods | None:
    """Return the entry that a pack was taken from; None where it is the maker's own."""
    for one in pack_goods():
        same = _same(one.capacity, pack.capacity) and _same(one.rating, pack.rating)
        if one.says == pack.says and one.cells == pack.cells and same:
            return one
    return None


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= 1e-6 * max(abs(a), abs(b))


def with_propeller(old: Propeller, new: Propeller) -> Propeller:
    """Put another propeller in the place of the old one, with its key and its hand."""
    return Propeller(
        key=old.key,
        diameter=new.diameter,
        pitch=new.pitch,
        blades=new.blades,
        style=new.style,
        blade_width=new.blade_width,
        rotation=old.rotation,
        mass=new.mass,
        says=new.says,
    )


def with_controller(old: Controller, new: ControllerGoods) -> Controller:
    """Put another controller in the place of the old one."""
    return Controller(
        key=old.key,
        at=old.at,
        size=old.size,
        rating=new.rating,
        mass=Figure(value=new.mass),
        pack=old.pack,
        says=new.says,
    )


def with_pack(old: Pack, new: PackGoods) -> Pack:
    """Put another pack in the tray of the old one."""
    return Pack(
        key=old.key,
        cells=new.cells,
        capacity=new.capacity,
        rating=new.rating,
        mass=Figure(value=new.mass),
        size=new.size,
        position=old.position,
        tray=old.tray,
        says=new.says,
    )


def _blades(one: Propeller) -> tuple[float, float, int, str]:
    return round(one.diameter, 5), round(one.pitch, 5), one.blades, one.style


@cache
def _packaged() -> tuple[tuple[Propeller, ...], tuple[ControllerGoods, ...], tuple[PackGoods, ...]]:
    catalogue = load_catalogue()
    controllers = [
        ControllerGoods(
            name=name,
            says=str(entry.get("says", name)),
            rating=_number(entry, "rating", "current"),
            mass=_number(entry, "mass", "mass"),
        )
        for name, entry in catalogue.kinds["controller"].items()
    ]
    packs = [
        PackGoods(
            name=name,
            says=str(entry.get("says", name)),
            cells=int(cast("int", entry["cells"])),
            capacity=_number(entry, "capacity", "charge"),
            rating=_number(entry, "rating", "rating"),
            mass=_number(entry, "mass", "mass"),
            size=_size(entry),
        )
        for name, entry in catalogue.kinds["pack"].items()
    ]
    return (
        _propellers(catalogue),
        tuple(sorted(controllers, key=lambda one: (one.rating, one.mass))),
        tuple(packs),
    )


def _propellers(catalogue: Catalogue) -> tuple[Propeller, ...]:
    return tuple(
        Propeller(
            key=name,
            diameter=_number(entry, "diameter", "length"),
            pitch=_number(entry, "pitch", "length"),
            blades=int(cast("int", entry.get("blades", 2))),
            style=str(entry.get("style", "sport")),
            blade_width=(
                _number(entry, "blade_width", "length") if "blade_width" in entry else None
            ),
            rotation=Rotation.NORMAL,
            mass=Figure(value=_number(entry, "mass", "mass"), source=name),
            says=str(entry.get("says", name)),
        )
        for name, entry in catalogue.kinds["propeller"].items()
    )


def _number(entry: Mapping[str, object], key: str, kind: str) -> float:
    # Ratings stand as bare numbers, everything else names its unit.
    return parse_quantity(entry[key], kind, "C" if kind == "rating" else None)


def _size(entry: Mapping[str, object]) -> tuple[float, float, float]:
    x, y, z = (parse_quantity(side, "length") for side in cast("Sequence[object]", entry["size"]))
    return x, y, z
