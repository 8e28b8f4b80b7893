"""How the findings of this room speak: numbers, and the changes that stand for a purchase."""

from __future__ import annotations

from foamwright.design.model import Controller, Pack, Propeller
from foamwright.findings import Change
from foamwright.power.goods import ControllerGoods, PackGoods, propeller_name

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
    path = f"power.propeller.{old.key}"
    if propeller_name(old) is not None:
        return (Change(path=f"{path}.from", value=new.key),)
    # The maker described his own, so his keys must change: they go before `from`.
    return (
        Change(path=f"{path}.diameter", value=inches(new.diameter)),
        Change(path=f"{path}.pitch", value=inches(new.pitch)),
        Change(path=f"{path}.blades", value=new.blades),
        Change(path=f"{path}.style", value=new.style),
        Change(path=f"{path}.mass", value=_grams(new.mass.value)),
    )


def controller_changes(
    old: Controller, new: ControllerGoods, known: tuple[ControllerGoods, ...]
) -> tuple[Change, ...]:
    """Return the changes to the file that put another controller of the catalogue in."""
    path = f"power.controller.{old.key}"
    first = next((one for one in known if abs(one.rating - old.rating) < _CLOSE), None)
    if first is None:
        rating = Change(path=f"{path}.rating", value=f"{new.rating:.4g} A")
        return rating, Change(path=f"{path}.mass", value=_grams(new.mass))
    changes = (Change(path=f"{path}.from", value=new.name),)
    if abs(first.mass - old.mass.value) > _CLOSE:  # weighed, so the file's own mass stands
        changes += (Change(path=f"{path}.mass", value=_grams(new.mass)),)
    return changes


def pack_changes(old: Pack, new: PackGoods, known: tuple[PackGoods, ...]) -> tuple[Change, ...]:
    """Return the changes to the file that put another pack of the catalogue in."""
    path = f"power.pack.{old.key}"
    first = next(
        (
            one
            for one in known
            if one.cells == old.cells
            and abs(one.capacity - old.capacity) < _CLOSE
            and abs(one.rating - old.rating) < _CLOSE
        ),
        None,
    )
    mass = Change(path=f"{path}.mass", value=_grams(new.mass))
    if first is None:
        return (
            Change(path=f"{path}.cells", value=new.cells),
            Change(path=f"{path}.capacity", value=f"{new.capacity / 3.6:.4g} mAh"),
            Change(path=f"{path}.rating", value=new.rating),
            mass,
        )
    changes = (Change(path=f"{path}.from", value=new.name),)
    return changes if abs(first.mass - old.mass.value) < _CLOSE else (*changes, mass)


def _grams(mass: float) -> str:
    return f"{round(1e3 * mass, 1):.4g} g"
