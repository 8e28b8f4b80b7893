"""Whether each pack fits its tray, and whether the tray can make good the scatter of weights."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from foamwright.balance.model import Balance, BalanceSpan, PackReach
from foamwright.balance.pack import balance_with_pack_at, chief_pack, pack_entry, pack_window
from foamwright.balance.words import HAIR, mm, place, way
from foamwright.design.model import Design, Pack
from foamwright.findings import Change, Cure, Finding, Level

_MOMENTS = "moments: the pack moves whole mass / pack mass times as far as the balance point"

_HALF = 0.5e-3  # m


def tray_findings(
    design: Design, balance: Balance, reaches: Sequence[PackReach]
) -> tuple[Finding, ...]:
    """Check that every pack fits its tray and lies in it."""
    findings: list[Finding] = []
    for pack, reach in _with_reach(design, reaches):
        front, back = reach.travel
        if front > back:
            findings.append(_too_long(pack, front - back))
        elif not front - HAIR <= pack.position <= back + HAIR:
            findings.append(_outside_tray(pack, balance))
    return tuple(findings)


def _with_reach(design: Design, reaches: Sequence[PackReach]) -> tuple[tuple[Pack, PackReach], ...]:
    by_key = {pack.key: pack for pack in design.power.packs}
    return tuple((by_key[reach.pack], reach) for reach in reaches)


def _too_long(pack: Pack, excess: float) -> Finding:
    return Finding(
        slug="pack-longer-than-tray",
        level=Level.STOP,
        text=f'Pack "{pack.key}" is {mm(excess)} mm longer than its tray.',
        where=f"power.pack.{pack.key}",
        why="length of the pack against the stops of its tray",
    )


def _outside_tray(pack: Pack, balance: Balance) -> Finding:
    front, back = pack.travel
    middle = whole_millimetres(balance, (pack,), {pack.key: min(max(pack.position, front), back)})[
        pack.key
    ]
    shift = middle - pack.position
    moved = balance_with_pack_at(balance, pack, middle).point[0] - balance.point[0]
    return Finding(
        slug="pack-outside-tray",
        level=Level.STOP,
        text=(
            f'Pack "{pack.key}" is drawn {mm(abs(shift))} mm beyond the '
            f"{'front' if shift > 0.0 else 'back'} stop of its tray."
        ),
        where=f"power.pack.{pack.key}",
        why="half the pack's length from the stops of its tray",
        cures=(
            Cure(
                changes=(
                    Change(path=f"power.pack.{pack.key}.position", value=f"{place(middle)} mm"),
                ),
                effect=(
                    f"move it {mm(abs(shift))} mm {way(shift)}, to the stop: balance point "
                    f"{mm(abs(moved))} mm {way(moved)}"
                ),
            ),
        ),
    )


def spare_findings(design: Design, balance: Balance, span: BalanceSpan) -> tuple[Finding, ...]:
    """Check that the heaviest pack's tray can make good the weights' scatter, m Δx / m_pack."""
    packs = design.power.packs
    x = balance.point[0]
    if span.is_empty or not span.forward <= x <= span.aft:
        return ()
    pack = chief_pack(balance, packs)
    if pack is None:
        return ()
    entry = pack_entry(balance, pack)
    front, back = pack.travel
    if front > back or not entry.mass > 0.0:
        return ()
    window = pack_window(balance, pack, span)
    swing = 2.0 * balance.point_scatter[0] * balance.mass / entry.mass
    needs: list[tuple[str, str, float, float]] = []
    if window.aft - swing < front - HAIR:
        needs.append(("tail", "forward", window.aft - swing, front))
    if window.forward + swing > back + HAIR:
        needs.append(("nose", "back", window.forward + swing, back))
    return tuple(
        Finding(
            slug="tray-short",
            level=Level.MIND,
            text=(
                f"If the weights come out as {end}-heavy as their scatter allows, pack "
                f'"{pack.key}" must go {where} to {place(need)} mm; its tray lets its middle '
                f"come to {place(stop)} mm."
            ),
            where=f"power.pack.{pack.key}",
            why=f"{_MOMENTS}; two sigma of the weights",
        )
        for end, where, need, stop in needs
    )


def whole_millimetres(
    balance: Balance, packs: Sequence[Pack], places: Mapping[str, float]
) -> Mapping[str, float]:
    """Whole millimetres, as a maker marks them, but never past a stop of the tray.

    A pack that would move by less than half of one stays where it is.
    """
    rounded: dict[str, float] = {}
    for pack in packs:
        wanted = places[pack.key]
        here = pack_entry(balance, pack).centre[0]
        if abs(wanted - here) < _HALF:
            rounded[pack.key] = here
            continue
        front, back = pack.travel
        whole = 1e-3 * round(1e3 * wanted)
        if whole < front - HAIR:
            whole = 1e-3 * math.ceil(1e3 * front - HAIR)
        if whole > back + HAIR:
            whole = 1e-3 * math.floor(1e3 * back + HAIR)
        rounded[pack.key] = whole if front - HAIR <= whole <= back + HAIR else wanted
    return rounded
