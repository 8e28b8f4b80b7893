"""Every example in every variant: weights add up, inertias can exist, cures hold in the file."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.airframe import build_airframe
from foamwright.balance import (
    BalanceSpan,
    balance_findings,
    balance_with_pack_at,
    common_findings,
    common_span,
    pack_reach,
    weigh,
)
from foamwright.design import STARTERS, changed_text, read_design_text, starter_text


@pytest.mark.parametrize("starter", STARTERS)
def test_weights_and_inertias_of_every_variant(starter):
    for design in read_design_text(starter_text(starter)).variants:
        airframe = build_airframe(design)
        balance = weigh(airframe)
        assert len(balance.entries) == len(airframe.pieces) + len(airframe.lines)
        assert sum(entry.mass for entry in balance.entries) == pytest.approx(balance.mass)
        assert sum(group.mass for group in balance.groups) == pytest.approx(balance.mass)
        assert all(entry.mass >= 0.0 for entry in balance.entries)
        assert all(entry.source for entry in balance.entries)
        assert len({(e.key, e.hand) for e in balance.entries}) == len(balance.entries)
        # An aeroplane is flat: yaw inertia lies just below the sum of the other two, and no
        # real body can have more.
        x, y, z = np.diag(balance.inertia)
        assert 0.8 * (x + y) < z < x + y
        assert np.linalg.eigvalsh(balance.inertia)[0] > 0.0
        np.testing.assert_array_equal(balance.inertia, balance.inertia.T)


@pytest.mark.parametrize("starter", STARTERS)
def test_a_moved_pack_equals_the_file_with_the_pack_moved(starter):
    text = starter_text(starter)
    design = read_design_text(text).variants[0]
    balance = weigh(build_airframe(design))
    pack = design.power.packs[0]
    # Towards the further end of the tray, so that there is something to cure.
    end = max(pack.travel, key=lambda stop: abs(stop - pack.position))
    place = 0.3 * pack.position + 0.7 * end
    quick = balance_with_pack_at(balance, pack, place)
    span = BalanceSpan(forward=quick.point[0] - 1e-3, aft=quick.point[0] + 1e-3, why="rule")
    reaches = tuple(pack_reach(balance, one, quick.point[0]) for one in design.power.packs)
    findings = balance_findings(build_airframe(design), balance, span, reaches)
    cure = next(
        cure
        for finding in findings
        for cure in finding.cures
        if finding.slug.startswith("balance-")
    )
    changed = read_design_text(changed_text(text, cure.changes)).variants[0]
    moved = changed.power.packs[0].position
    anew = weigh(build_airframe(changed))
    predicted = balance_with_pack_at(balance, pack, moved)
    assert span.forward <= anew.point[0] <= span.aft
    assert anew.point == pytest.approx(predicted.point, abs=1e-12)
    np.testing.assert_allclose(anew.inertia, predicted.inertia, rtol=1e-9, atol=1e-12)


def test_what_all_variants_have_in_common():
    variants = read_design_text(starter_text("dunlin")).variants
    cases = []
    for design in variants:
        balance = weigh(build_airframe(design))
        x = balance.point[0]
        cases.append((design, balance, BalanceSpan(forward=x - 0.02, aft=x + 0.02, why="rule")))
    (finding,) = common_findings(cases, common_span([span for _, _, span in cases]))
    assert finding.variants == tuple(design.variant for design in variants)
    assert all(design.variant in finding.text for design in variants)
