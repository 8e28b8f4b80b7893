"""How the findings of this room speak: numbers, and the changes that stand for a purchase."""

from __future__ import annotations

from foamwright.design.model import Controller, Pack, Propeller
from foamwright.findings import Change
from foamwright.power.goods import (
    ControllerGoods,
    PackGoods,
    known_controller,
    known_pack,
    known_propeller,
)

_INCH = 0.0254
_CLOSE = 1e-6


def within(value: float, scatter: float, digits: int = 0) -> str:
    """Write a value with its band of two sigma."""
    return f"{value:.{digits}f} ± {2.0 * scatter:.{digits}f}"


def inches(length: float) -> str:
    """Write a length in inches as shops do. [in]"""
    return f"{length / _INCH:.4g} in"


def spoken(propeller: Propeller) -> str:
    """Name a propeller as a shop does."""
    size = f"{propeller.diameter / _INCH:.3g} x {propeller.pitch / _INCH:.3g} in"
    return f"{size}, {propeller.blades} blades, {propeller.style}"


def propeller_changes(old: Propeller, new: Propeller) -> tuple[Change, ...]:
    """Return the changes to the file that put another propeller of the catalogue on."""
    path, known = f"power.propeller.{old.key}", known_propeller(old)
    if known is not None:
        return _taken(path, new.key, old.mass.value, known.mass.value, new.mass.value)
    # The maker described his own: his keys go before `from`, so they must change.
    return (
        Change(path=f"{path}.diameter", value=inches(new.diameter)),
        Change(path=f"{path}.pitch", value=inches(new.pitch)),
        Change(path=f"{path}.blades", value=new.blades),
        Change(path=f"{path}.style", value=new.style),
        Change(path=f"{path}.mass", value=_grams(new.mass.value)),
    )


def controller_changes(old: Controller, new: ControllerGoods) -> tuple[Change, ...]:
    """Return the changes to the file that put another controller of the catalogue in."""
    path, known = f"power.controller.{old.key}", known_controller(old)
    if known is not None:
        return _taken(path, new.name, old.mass.value, known.mass, new.mass)
    rating = Change(path=f"{path}.rating", value=f"{new.rating:.4g} A")
    return rating, Change(path=f"{path}.mass", value=_grams(new.mass))


def pack_changes(old: Pack, new: PackGoods) -> tuple[Change, ...]:
    """Return the changes to the file that put another pack of the catalogue in.

    None for a pack that the maker described himself, for its size is a list, which no change
    sets; none where he measured its resistance, which would stay behind.
    """
    path, known = f"power.pack.{old.key}", known_pack(old)
    if known is None or old.resistance is not None:
        return ()
    return _taken(path, new.name, old.mass.value, known.mass, new.mass)


def _taken(path: str, name: str, now: float, listed: float, mass: float) -> tuple[Change, ...]:
    """Name another entry; a mass of its own that the file gives (weighed) must change as well."""
    change = Change(path=f"{path}.from", value=name)
    if abs(now - listed) <= _CLOSE:
        return (change,)
    return change, Change(path=f"{path}.mass", value=_grams(mass))


def _grams(mass: float) -> str:
    return f"{round(1e3 * mass, 1):.4g} g"
