"""What the balance of all variants has in common: one span, one pack mark."""

from __future__ import annotations

from collections.abc import Sequence

from foamwright.balance.model import Balance, BalanceSpan
from foamwright.balance.pack import PackWindow, chief_pack, pack_window
from foamwright.balance.words import mm, place
from foamwright.design.model import Design
from foamwright.findings import Finding, Level

Case = tuple[Design, Balance, BalanceSpan]


def common_findings(cases: Sequence[Case], span: BalanceSpan) -> tuple[Finding, ...]:
    """Say what the variants' balance spans and packs have in common.

    Parameters
    ----------
    cases : sequence of (Design, Balance, BalanceSpan)
        One per variant.
    span : BalanceSpan
        Common to all, from :func:`common_span`; may be empty.

    Returns
    -------
    tuple of Finding
        Nothing for a single variant.
    """
    if len(cases) <= 1:
        return ()
    names = tuple(design.variant for design, _, _ in cases)
    if span.is_empty:
        return (_no_common_span(cases, span, names),)
    chiefs = (chief_pack(balance, design.power.packs) for design, balance, _ in cases)
    keys = dict.fromkeys(pack.key for pack in chiefs if pack is not None)
    return tuple(_common_pack(key, cases, span) for key in keys)


def _no_common_span(
    cases: Sequence[Case],
    span: BalanceSpan,
    names: tuple[str, ...],
) -> Finding:
    foremost = max(cases, key=lambda case: case[2].forward)[0].variant
    aftmost = min(cases, key=lambda case: case[2].aft)[0].variant
    return Finding(
        slug="no-common-balance",
        level=Level.MIND,
        text=(
            f'No balance point suits all variants: the forward limit of "{foremost}" lies '
            f'{mm(span.forward - span.aft)} mm behind the aft limit of "{aftmost}". Give each '
            "variant its own marks."
        ),
        where="variants",
        why=span.why,
        variants=names,
    )


def _common_pack(key: str, cases: Sequence[Case], span: BalanceSpan) -> Finding:
    windows = {
        design.variant: pack_window(balance, pack, span)
        for design, balance, _ in cases
        for pack in design.power.packs
        if pack.key == key
    }
    reached = {name: window.in_tray for name, window in windows.items()}
    lows = [low for low, _ in filter(None, reached.values())]
    highs = [high for _, high in filter(None, reached.values())]
    level = Level.NOTE
    slug = "pack-marks-differ"
    if None in reached.values():
        slug, level = "tray-misses-common-span", Level.MIND
        text = f'The tray of pack "{key}" cannot hold the common balance span: '
    elif max(lows) <= min(highs):
        slug = "one-pack-mark"
        text = (
            f'With pack "{key}" from {place(max(lows))} to {place(min(highs))} mm every variant '
            "balances in the common span: "
        )
    else:
        text = f'Pack "{key}" needs a mark of its own for each variant: '
    return Finding(
        slug=slug,
        level=level,
        text=text + "; ".join(_said(name, window) for name, window in windows.items()) + ".",
        where=f"power.pack.{key}",
        why=f"{span.why}",
        variants=tuple(windows),
    )


def _said(name: str, window: PackWindow) -> str:
    inside = window.in_tray
    low, high = inside or (window.forward, window.aft)
    beyond = "" if inside else ", outside its tray"
    return f"{name} {place(low)} to {place(high)} mm{beyond}"
