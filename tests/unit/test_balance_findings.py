"""What the balance says, and that every cure works."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from foamwright.balance import (
    BalanceSpan,
    balance_findings,
    common_findings,
    common_span,
    pack_reach,
    weigh,
)
from foamwright.balance.ballast import with_mass_added
from foamwright.design.model import Item, ItemKind, Tray
from foamwright.figures import Figure
from foamwright.findings import Level
from tests.handmade import airframe, design, given, pack, pack_piece


def shape(packs=(), items=(), scatter=0.02, y=0.0, motor=0.08):
    pieces = [
        given("airframe", 0.45, (0.36, y, 0.01), size=(0.6, 0.8, 0.05), scatter=scatter),
        given("motor", motor, (0.02, 0.0, 0.0)),
        *(pack_piece(one) for one in packs),
        *(given(item.key, item.mass.value, item.at) for item in items),
    ]
    return airframe(pieces, of=design(packs, items))


def findings_of(shaped, low, high, **changes):
    """Findings with a span from low to high, in mm from the balance point."""
    balance = weigh(shaped)
    x = balance.point[0]
    span = BalanceSpan(forward=x + 1e-3 * low, aft=x + 1e-3 * high, why="rule")
    packs = shaped.design.power.packs
    middle = 0.5 * (span.forward + span.aft)
    reaches = tuple(pack_reach(balance, one, middle) for one in packs)
    return balance_findings(shaped, balance, span, reaches, **changes), span


def slugs(findings):
    return [finding.slug for finding in findings]


def after(shaped, cure):
    """The balance once the changes of a cure stand in the design."""
    packs, items = list(shaped.design.power.packs), list(shaped.design.items)
    for change in cure.changes:
        number, unit = str(change.value).split()
        value = 1e-3 * float(number)
        kind, key, field = change.path.split(".")[-3:]
        if kind == "pack":
            assert (field, unit) == ("position", "mm")
            packs = [replace(p, position=value) if p.key == key else p for p in packs]
        else:
            assert (kind, field, unit) == ("item", "mass", "g")
            items = [replace(i, mass=Figure(value=value)) if i.key == key else i for i in items]
    return weigh(shape(packs, items))


def test_well_inside_says_nothing():
    findings, _ = findings_of(shape([pack()], scatter=0.0), -10, 10)
    assert findings == ()


def test_behind_is_a_stop_with_a_cure_that_works():
    shaped = shape([pack()])
    findings, span = findings_of(shaped, -6, -2, limit_scatter=0.0)
    (finding,) = findings
    assert (finding.slug, finding.level) == ("balance-behind-span", Level.STOP)
    assert "2.0 mm behind the aft limit" in finding.text
    assert finding.where == "power.pack.main"
    (cure,) = finding.cures
    cured = after(shaped, cure)
    assert span.forward <= cured.point[0] <= span.aft
    assert cured.point[0] == pytest.approx(0.5 * (span.forward + span.aft), abs=2e-4)
    assert cure.effect.startswith('move pack "main" 18 mm forward: balance point')


@pytest.mark.parametrize("behind", [0.2, 7.3, 31.0])
def test_the_ballast_of_the_last_resort_is_enough(behind):
    """Without a pack: the whole grams that are said bring the point to its limit."""
    shaped = shape()
    findings, span = findings_of(shaped, -60.0, -behind)
    (text,) = (one.text for one in findings if one.slug == "balance-behind-span")
    grams = int(re.search(r"(\d+) g of ballast at the nose", text)[1])
    balance = weigh(shaped)
    nose = min(float(piece.mesh.vertices[:, 0].min()) for piece in shaped.pieces)
    there = with_mass_added(balance, mass=1e-3 * grams, x=nose).point[0]
    short = with_mass_added(balance, mass=1e-3 * (grams - 1), x=nose).point[0]
    assert there <= span.aft + 1e-9
    assert short > span.aft


def test_ahead_is_a_mind():
    (finding,), _ = findings_of(shape([pack()], scatter=0.0), 2, 6)
    assert (finding.slug, finding.level) == ("balance-ahead-of-span", Level.MIND)
    assert finding.text == "The balance point lies 2.0 mm ahead of the forward limit of its span."
    assert "back" in finding.cures[0].effect


@pytest.mark.parametrize(
    ("low", "high", "slug", "level"),
    [
        (-20, 1, "balance-near-aft-limit", Level.NOTE),
        (-20, -1, "balance-behind-span", Level.STOP),
        (-1, 20, "balance-near-forward-limit", Level.NOTE),
        (1, 20, "balance-ahead-of-span", Level.MIND),
    ],
)
def test_a_verdict_that_flips_inside_its_band_says_so(low, high, slug, level):
    findings, _ = findings_of(shape([pack()]), low, high, limit_scatter=0.002)
    finding = findings[0]
    assert (finding.slug, finding.level) == (slug, level)
    assert "either way" in finding.text
    assert "least sure: airframe" in finding.text
    assert finding.cures


def test_a_tray_too_short_names_the_ballast():
    shaped = shape([pack()])
    (finding,), _ = findings_of(shaped, -30, -20)
    assert finding.cures == ()
    assert "no place in the tray is enough" in finding.text
    assert "of ballast at the nose" in finding.text


def test_a_ballast_item_is_fed_where_the_tray_ends():
    lead = Item(
        key="lead",
        kind=ItemKind.BALLAST,
        at=(0.03, 0.0, 0.0),
        size=(0.01, 0.01, 0.01),
        mass=Figure(value=0.005),
        mirrored=False,
        moves=None,
    )
    shaped = shape([pack()], [lead], scatter=0.002)
    findings, span = findings_of(shaped, -30, -20)
    (cure,) = findings[0].cures
    assert [change.path for change in cure.changes] == [
        "power.pack.main.position",
        "item.lead.mass",
    ]
    cured = after(shaped, cure)
    assert span.forward <= cured.point[0] <= span.aft
    # Ballast is dear: no more of it than the limit and the band ask for.
    assert cured.point[0] > 0.5 * (span.forward + span.aft)


def test_no_pack_at_all():
    (finding,), _ = findings_of(shape(), -30, -20)
    assert finding.where == "surface.wing"
    assert "there is no pack to move" in finding.text


def test_two_packs_move_together_where_one_is_not_enough():
    packs = [pack("front"), pack("rear", mass=Figure(value=0.10), position=0.135)]
    shaped = shape(packs)
    findings, span = findings_of(shaped, -9, -5)
    cure = findings[0].cures[0]
    assert len(cure.changes) == 2
    assert span.forward <= after(shaped, cure).point[0] <= span.aft


def test_pack_and_tray():
    long = pack(tray=Tray(front=0.05, back=0.14, width=0.04, height=0.03, floor=0.0, y=0.0))
    findings, _ = findings_of(shape([long], scatter=0.0), -50, 50)
    assert slugs(findings) == ["pack-longer-than-tray"]
    assert "10 mm longer" in findings[0].text
    out = pack(position=0.15)
    shaped = shape([out], scatter=0.0)
    findings, _ = findings_of(shaped, -50, 50)
    assert slugs(findings) == ["pack-outside-tray"]
    assert "10 mm beyond the back stop" in findings[0].text
    cured = after(shaped, findings[0].cures[0])
    assert cured.point[0] < weigh(shaped).point[0]


def test_a_tray_that_cannot_make_good_the_scatter():
    findings, _ = findings_of(shape([pack()], scatter=0.10), -3, 60)
    assert "tray-short" in slugs(findings)
    finding = next(one for one in findings if one.slug == "tray-short")
    assert "nose-heavy" in finding.text
    assert "its tray lets its middle come to 140 mm" in finding.text


def test_sideways():
    findings, _ = findings_of(shape([pack()], scatter=0.0, y=0.012), -50, 50)
    (finding,) = findings
    assert finding.slug == "balance-sideways"
    assert "to the right" in finding.text
    assert "at the left tip" in finding.text
    findings, _ = findings_of(shape([pack()], scatter=0.0, y=0.004), -50, 50)
    assert findings == ()


def test_an_empty_span_is_a_stop_without_cures():
    findings, _ = findings_of(shape([pack()]), 5, -5)
    assert (findings[0].slug, findings[0].level) == ("balance-span-empty", Level.STOP)
    assert findings[0].cures == ()


# ---------------------------------------------------------------- variants


def case(name, position, low, high, motor=0.08):
    shaped = shape([pack(position=position)], motor=motor)
    balance = weigh(shaped)
    span = BalanceSpan(forward=low, aft=high, why="rule")
    return replace(shaped.design, variant=name), balance, span


def test_one_mark_for_all_variants_or_one_each():
    x = weigh(shape([pack(position=0.120)])).point[0]
    cases = [case("long", 0.120, x - 0.003, x + 0.003), case("plain", 0.120, x - 0.001, x + 0.005)]
    (finding,) = common_findings(cases, common_span([one[2] for one in cases]))
    assert (finding.slug, finding.level) == ("one-pack-mark", Level.NOTE)
    assert finding.variants == ("long", "plain")
    assert "from 115.5 to 133.6 mm" in finding.text
    heavier = case("heavier motor", 0.120, x - 0.001, x + 0.001, motor=0.09)
    (finding,) = common_findings([cases[0], heavier], common_span([cases[0][2], heavier[2]]))
    assert finding.slug == "pack-marks-differ"


def test_no_common_span():
    cases = [case("long", 0.12, 0.20, 0.21), case("plain", 0.12, 0.215, 0.22)]
    (finding,) = common_findings(cases, common_span([one[2] for one in cases]))
    assert finding.slug == "no-common-balance"
    assert 'forward limit of "plain" lies 5.0 mm behind the aft limit of "long"' in finding.text


def test_a_tray_that_misses_the_common_span():
    cases = [case("long", 0.12, 0.4, 0.5), case("plain", 0.12, 0.4, 0.5)]
    (finding,) = common_findings(cases, common_span([one[2] for one in cases]))
    assert (finding.slug, finding.level) == ("tray-misses-common-span", Level.MIND)
    assert "outside its tray" in finding.text


def test_a_single_variant_has_nothing_in_common():
    only = case("only", 0.12, 0.2, 0.3)
    assert common_findings([only], only[2]) == ()
