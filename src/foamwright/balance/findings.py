"""What the balance says: behind or ahead of its span, tray, sideways; and what would mend it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from foamwright.airframe import Airframe
from foamwright.balance.ballast import ballast_for, lateral_moment, tip_mass, with_mass_added
from foamwright.balance.model import Balance, BalanceSpan, PackReach
from foamwright.balance.pack import (
    chief_pack,
    pack_entry,
    settle_packs,
    with_packs_at,
)
from foamwright.balance.trays import spare_findings, tray_findings, whole_millimetres
from foamwright.balance.weigh import chief_doubt
from foamwright.balance.words import HAIR, mm, place, way
from foamwright.design.model import Design, Item, ItemKind, Pack
from foamwright.findings import Change, Cure, Finding, Level

#: Sideways offset over span from which it is worth mending. It is what 10 g at half a metre does
#: to 0.8 kg of 1.2 m span: about half a degree of aileron for ever. Common practice, no source.
SIDEWAYS_LIMIT = 0.005

# A cure inside the span must win this much clearance, else it is fuss. [m]
_WORTH = 1e-3


def balance_findings(
    airframe: Airframe,
    balance: Balance,
    span: BalanceSpan,
    reaches: Sequence[PackReach],
    *,
    limit_scatter: float = 0.0,
) -> tuple[Finding, ...]:
    """Check one variant's balance against its span, its trays and its middle plane.

    Parameters
    ----------
    airframe : Airframe
        The shape: its ends are where ballast could go.
    balance : Balance
        As weighed.
    span : BalanceSpan
        The allowed range.
    reaches : sequence of PackReach
        One for every pack of the design.
    limit_scatter : float
        One sigma of the span's own limits, from the band of the neutral point. [m]

    Returns
    -------
    tuple of Finding
        Behind the span is a stop, ahead of it a mind. A verdict that flips within two sigma
        says so. Every cure was tried on this balance and ends inside the span.
    """
    return (
        *_span_findings(airframe, balance, span, limit_scatter),
        *tray_findings(airframe.design, balance, reaches),
        *spare_findings(airframe.design, balance, span),
        *_sideways_findings(airframe, balance),
    )


# ---------------------------------------------------------------- in or out of the span


def _span_findings(
    airframe: Airframe, balance: Balance, span: BalanceSpan, limit_scatter: float
) -> tuple[Finding, ...]:
    band = 2.0 * math.hypot(balance.point_scatter[0], limit_scatter)
    packs = airframe.design.power.packs
    verdict = _verdict(balance, span, band)
    if verdict is None:
        return ()
    slug, level, text = verdict
    if slug == "balance-near-aft-limit" and packs:
        level = Level.NOTE  # the pack makes it good once weighed; "tray-short" says if it cannot
    cures = () if span.is_empty else _cures(airframe, balance, span, band)
    if not cures and not span.is_empty:
        text += _last_resort(airframe, balance, span)
    main = chief_pack(balance, packs)
    where = f"power.pack.{main.key}" if main else f"surface.{airframe.reference.surface}"
    return (Finding(slug=slug, level=level, text=text, where=where, why=span.why, cures=cures),)


def _verdict(balance: Balance, span: BalanceSpan, band: float) -> tuple[str, Level, str] | None:
    x = balance.point[0]
    behind, ahead = x - span.aft, span.forward - x
    if span.is_empty:
        return "balance-span-empty", Level.STOP, "No balance point is allowed at all."
    if behind > 0.0:
        text = f"The balance point lies {mm(behind)} mm behind the aft limit of its span"
        return "balance-behind-span", Level.STOP, text + _flip(behind, band, balance)
    if ahead > 0.0:
        text = f"The balance point lies {mm(ahead)} mm ahead of the forward limit of its span"
        return "balance-ahead-of-span", Level.MIND, text + _flip(ahead, band, balance)
    if -behind < band:
        text = f"The balance point lies {mm(-behind)} mm ahead of the aft limit of its span"
        return "balance-near-aft-limit", Level.MIND, text + _flip(-behind, band, balance)
    if -ahead < band:
        text = f"The balance point lies {mm(-ahead)} mm behind the forward limit of its span"
        return "balance-near-forward-limit", Level.NOTE, text + _flip(-ahead, band, balance)
    return None


def _flip(distance: float, band: float, balance: Balance) -> str:
    if distance >= band:
        return "."
    text = f", within its band of ± {mm(band)} mm: the finished aeroplane may come out either way."
    if distance < 2.0 * balance.point_scatter[0]:
        text += f" Weigh first what is least sure: {chief_doubt(balance.entries)}."
    return text


def _cures(
    airframe: Airframe, balance: Balance, span: BalanceSpan, band: float
) -> tuple[Cure, ...]:
    """Move the packs to mid-span, or as near as the trays allow; else feed a ballast item."""
    packs = airframe.design.power.packs
    middle = 0.5 * (span.forward + span.aft)
    places = whole_millimetres(balance, packs, settle_packs(balance, packs, middle))
    settled = with_packs_at(balance, packs, places)
    now = _clearance(balance, span)
    if _clearance(settled, span) > (now + _WORTH if now >= 0.0 else 0.0):
        return (_pack_cure(balance, settled, packs, places, span),)
    if now >= 0.0:
        return ()  # only near a limit, and the packs already do what they can
    # Ballast is dear: only just inside, by the band where the span is wide enough for it.
    inside = min(band, 0.5 * (span.aft - span.forward))
    target = min(max(settled.point[0], span.forward + inside), span.aft - inside)
    return _ballast_cures(airframe.design, balance, settled, places, span=span, target=target)


def _clearance(balance: Balance, span: BalanceSpan) -> float:
    """Distance to the nearer limit; negative outside. [m]"""
    return min(span.aft - balance.point[0], balance.point[0] - span.forward)


def _pack_changes(
    balance: Balance, packs: Sequence[Pack], places: Mapping[str, float]
) -> tuple[Change, ...]:
    return tuple(
        Change(path=f"power.pack.{pack.key}.position", value=f"{place(places[pack.key])} mm")
        for pack in packs
        if abs(places[pack.key] - pack_entry(balance, pack).centre[0]) > HAIR
    )


def _pack_cure(
    balance: Balance,
    settled: Balance,
    packs: Sequence[Pack],
    places: Mapping[str, float],
    span: BalanceSpan,
) -> Cure:
    moves = [
        f'pack "{pack.key}" {mm(abs(shift))} mm {way(shift)}'
        for pack in packs
        if abs(shift := places[pack.key] - pack_entry(balance, pack).centre[0]) > HAIR
    ]
    return Cure(
        changes=_pack_changes(balance, packs, places),
        effect=f"move {' and '.join(moves)}: {_where_in(settled, span)}",
    )


def _ballast_cures(
    design: Design,
    balance: Balance,
    settled: Balance,
    places: Mapping[str, float],
    *,
    span: BalanceSpan,
    target: float,
) -> tuple[Cure, ...]:
    """Change the mass of a ballast item that the design already has, where that works."""
    cures: list[Cure] = []
    for item in design.items:
        if item.kind is not ItemKind.BALLAST or item.at[0] == target:
            continue
        count = 2 if item.mirrored else 1
        wanted = settled.mass * (settled.point[0] - target) / (target - item.at[0]) / count
        grams = math.ceil(1e3 * (item.mass.value + wanted) - HAIR)
        after = with_mass_added(
            settled, mass=count * (1e-3 * grams - item.mass.value), x=item.at[0]
        )
        if grams >= 0 and _clearance(after, span) >= 0.0:
            cures.append(_ballast_cure(item, grams, balance, after, design, places, span))
    return tuple(cures)


def _ballast_cure(
    item: Item,
    grams: int,
    balance: Balance,
    after: Balance,
    design: Design,
    places: Mapping[str, float],
    span: BalanceSpan,
) -> Cure:
    change = Change(path=f"item.{item.key}.mass", value=f"{grams} g")
    return Cure(
        changes=(*_pack_changes(balance, design.power.packs, places), change),
        effect=(
            f'ballast "{item.key}" from {1e3 * item.mass.value:.0f} to {grams} g, packs at their '
            f"best places: {_where_in(after, span)}, {1e3 * after.mass:.0f} g in all"
        ),
    )


def _last_resort(airframe: Airframe, balance: Balance, span: BalanceSpan) -> str:
    if _clearance(balance, span) >= 0.0:
        return ""
    nose, tail = ends(airframe)
    packs = airframe.design.power.packs
    behind = balance.point[0] > span.aft
    target = span.aft if behind else span.forward
    if not (nose < target if behind else target < tail):
        return ""
    ballast = ballast_for(balance, packs, target=target, nose_x=nose, tail_x=tail)
    if ballast is None:
        return ""
    how = "no place in the tray is enough" if packs else "there is no pack to move"
    return (
        f" To reach the limit {how}: {math.ceil(1e3 * ballast.mass - HAIR)} g of ballast at the "
        f"{ballast.place} would do it, or shift parts."
    )


def ends(airframe: Airframe) -> tuple[float, float]:
    """Foremost and aftmost x of the bodies, or of all pieces where there are none. [m]"""
    meshes = [body.outside for body in airframe.bodies] or [p.mesh for p in airframe.pieces]
    lows = [float(mesh.vertices[:, 0].min()) for mesh in meshes]
    highs = [float(mesh.vertices[:, 0].max()) for mesh in meshes]
    return min(lows), max(highs)


# ---------------------------------------------------------------- sideways


def _sideways_findings(airframe: Airframe, balance: Balance) -> tuple[Finding, ...]:
    y, wing = balance.point[1], airframe.reference
    if abs(y) < SIDEWAYS_LIMIT * wing.span:
        return ()
    side, light = ("right", "left") if y > 0.0 else ("left", "right")
    grams = 1e3 * tip_mass(balance, tip_y=0.5 * wing.span)
    moment = abs(lateral_moment(balance))
    return (
        Finding(
            slug="balance-sideways",
            level=Level.MIND,
            text=(
                f"The balance point lies {mm(abs(y))} mm to the {side}: {moment:.3f} N m that "
                f"aileron must hold for ever. {grams:.0f} g at the {light} tip, or moving a part "
                "across, levels it."
            ),
            where=f"surface.{wing.surface}",
            why=(
                f"offset above {100 * SIDEWAYS_LIMIT:.1f} % of span, about half a degree of "
                "aileron: common practice, no source"
            ),
        ),
    )


def _where_in(balance: Balance, span: BalanceSpan) -> str:
    to_aft, to_forward = span.aft - balance.point[0], balance.point[0] - span.forward
    if to_aft <= to_forward:
        return f"balance point {mm(to_aft)} mm ahead of the aft limit"
    return f"balance point {mm(to_forward)} mm behind the forward limit"
