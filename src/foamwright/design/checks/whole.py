"""Does the whole aeroplane make sense: names that are used, span, masses, folded sections?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import cast

from foamwright.design.checks.power import check_joined_packs
from foamwright.design.model import (
    Design,
    FoldedSection,
    Item,
    Panel,
    PodBody,
    SheetStock,
    Surface,
    SurfaceRole,
    Wheel,
)
from foamwright.design.paths import parse_path, value_at
from foamwright.design.trouble import ABSENT, Loc, Report, Trouble, Use, listed, meant

Tree = Mapping[str, object]

_WIDEST = 6.0  # m, tip to tip
_SAME_PLACE = 5e-3  # m, about a sheet's thickness
_SAME_TILT = math.radians(5.0)  # panels nearer than this share their air
_HEAVIEST = 25.0  # kg, all given masses together

#: Where the names of each kind of use are declared.
_HOMES: Mapping[str, tuple[Loc, ...]] = {
    "sheet": (("stock", "sheet"),),
    "tape or glue": (("stock", "tape"), ("stock", "glue")),
    "rod": (("stock", "rod"),),
    "block": (("stock", "block"),),
    "propeller": (("power", "propeller"),),
    "controller": (("power", "controller"),),
    "pack": (("power", "pack"),),
}
_STOCK = ("sheet", "tape", "glue", "rod", "block")


def check_tree(tree: Tree, report: Report) -> None:
    """Say what the tables lack or name twice, before they are looked into."""
    surfaces = _names(tree, ("surface",))
    roles = [value_at(tree, ("surface", key, "role")) for key in surfaces]
    known = {*SurfaceRole}
    # A role that is no role may be meant for the wing; that is said where it stands.
    if "wing" not in roles and all(isinstance(role, str) and role in known for role in roles):
        text = 'An aeroplane needs a surface with role = "wing".'
        hint = "add a table [surface.wing]" if not surfaces else ""
        report.say("WING-MISSING", text, "surface", hint=hint)
    seen: dict[str, str] = {}
    for kind in _STOCK:
        for name in _names(tree, ("stock", kind)):
            if name in seen:
                text = f"A {seen[name]} has that name already; stock names differ from each other."
                report.say("NAME-TWICE", text, "stock", kind, name)
            seen.setdefault(name, kind)


def check_uses(uses: Iterable[Use], tree: Tree, report: Report) -> None:
    """Say which names stand for nothing."""
    for use in uses:
        if use.kind == "control":
            _check_moves(use, tree, report)
            continue
        homes = _HOMES[use.kind]
        known = list(dict.fromkeys(name for home in homes for name in _names(tree, home)))
        if use.name not in known:
            report.troubles.append(_unknown(use, known, tree))


def check_design(design: Design, tree: Tree, report: Report) -> None:
    """Say what does not fit in a design whose tables are sound."""
    for surface in design.surfaces:
        _check_span(surface, report)
    _check_places(design.surfaces, report)
    sheets = {sheet.key: sheet for sheet in design.stock.sheets}
    for surface in design.surfaces:
        for place, panel in enumerate(surface.panels):
            _check_depth(surface.key, place, panel, sheets, tree, report)
    _check_mass(design, report)
    check_joined_packs(design.power, report)


def _names(tree: Tree, home: Loc) -> list[str]:
    table = value_at(tree, home)
    return list(cast("dict[str, object]", table)) if isinstance(table, dict) else []


def _unknown(use: Use, known: list[str], tree: Tree) -> Trouble:
    is_stock = use.kind not in {"propeller", "controller", "pack"}
    for kind in _STOCK:
        if is_stock and use.name in _names(tree, ("stock", kind)):
            text = f"This is a {kind} of the stock; a {use.kind} is wanted here."
            return Trouble(code="STOCK-UNKNOWN", loc=use.loc, text=text)
    there = f"there is {listed(known)}" if known else "there is none"
    home = f"stock.{use.kind}" if is_stock else f"power.{use.kind}"
    home = home.replace("tape or glue", "tape or stock.glue")
    code = "STOCK-UNKNOWN" if is_stock else "PART-UNKNOWN"
    text = f"No {use.kind} of that name is declared under {home}; {there}."
    return Trouble(code=code, loc=use.loc, text=text, hint=meant(use.name, known))


def _check_moves(use: Use, tree: Tree, report: Report) -> None:
    bits = parse_path(use.name)
    known = [
        f"surface.{key}.control.{name}"
        for key in _names(tree, ("surface",))
        for name in _names(tree, ("surface", key, "control"))
    ]
    shape = bits is not None and len(bits) == 4 and (bits[0], bits[2]) == ("surface", "control")
    if not shape or value_at(tree, cast("Loc", bits)) is ABSENT:
        text = f"No control stands at that path; there is {listed(known) or 'none'}."
        hint = meant(use.name, known)
        report.troubles.append(Trouble(code="PART-UNKNOWN", loc=use.loc, text=text, hint=hint))


def _check_span(surface: Surface, report: Report) -> None:
    half = sum(panel.length * math.cos(panel.dihedral) for panel in surface.panels)
    span = 2.0 * (half + abs(surface.at[1])) if surface.mirrored else half
    if span > _WIDEST:
        text = (
            f"The whole span comes to {report.length(span)}; the most is {report.length(_WIDEST)}."
        )
        report.say("SPAN-TOO-LARGE", text, "surface", surface.key)


def _check_places(surfaces: tuple[Surface, ...], report: Report) -> None:
    for place, surface in enumerate(surfaces):
        for other in surfaces[:place]:
            near = math.dist(surface.at, other.at) < _SAME_PLACE
            tilt = abs(surface.panels[0].dihedral - other.panels[0].dihedral)
            if near and tilt < _SAME_TILT:
                text = f'It lies in the same place as surface "{other.key}".'
                hint = "move one of them, or make them panels of one surface"
                report.say("SURFACES-MEET", text, "surface", surface.key, "at", hint=hint)


def _check_depth(
    key: str, place: int, panel: Panel, sheets: Mapping[str, SheetStock], tree: Tree, report: Report
) -> None:
    for word, section in (("section", panel.root_section), ("tip_section", panel.tip_section)):
        if not isinstance(section, FoldedSection) or section.sheet not in sheets:
            continue
        skins = 2.0 * sheets[section.sheet].thickness.value
        if section.depth > skins:
            continue
        # A section without a table of its own is the panel's or the surface's, and is said once.
        own: Loc = ("surface", key, "panel", place)
        homes: tuple[Loc, ...] = ((*own, word), (*own, "section"), ("surface", key, "section"))
        loc = next(home for home in homes if value_at(tree, home) is not ABSENT)
        text = f"Two skins take {report.length(skins)}, which leaves no room for a spar."
        trouble = Trouble(code="SECTION-DEPTH", loc=(*loc, "depth"), text=text)
        if trouble not in report.troubles:
            report.troubles.append(trouble)


def _check_mass(design: Design, report: Report) -> None:
    power = design.power
    total = sum(motor.mass.value for motor in power.motors)
    total += sum(controller.mass.value for controller in power.controllers)
    total += sum(pack.mass.value for pack in power.packs)
    for part in (*design.items, *design.gear, *design.bodies):
        if isinstance(part, Item | Wheel | PodBody) and part.mass is not None:
            total += part.mass.value * (2.0 if part.mirrored else 1.0)
    if total > _HEAVIEST:
        text = f"The masses given in the file add up to {total:.3g} kg; the most is 25 kg."
        report.say("MASS-TOO-LARGE", text)
