"""Sliding packs, windows, ballast and spans."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foamwright.balance import (
    BalanceSpan,
    balance_span,
    balance_with_pack_at,
    ballast_for,
    common_span,
    lateral_moment,
    pack_for,
    pack_reach,
    pack_window,
    settle_packs,
    sweep_pack,
    tip_mass,
    weigh,
    with_mass_added,
    with_packs_at,
)
from foamwright.errors import DomainError
from foamwright.figures import Figure
from tests.handmade import airframe, design, given, pack, pack_piece


def aeroplane(*packs, nose=0.0):
    pieces = [
        given("airframe", 0.45, (0.36, 0.0, 0.01), size=(0.6, 0.8, 0.05), scatter=0.02),
        given("motor", 0.08 + nose, (0.02, 0.0, 0.0)),
        *(pack_piece(one) for one in packs),
    ]
    return weigh(airframe(pieces, of=design(packs)))


def test_moved_pack_equals_weighing_anew():
    main = pack(mass=Figure(value=0.15, scatter=0.006))
    moved = replace(main, position=0.087)
    quick = balance_with_pack_at(aeroplane(main), main, 0.087)
    slow = aeroplane(moved)
    assert quick.point == pytest.approx(slow.point, abs=1e-15)
    np.testing.assert_allclose(quick.inertia, slow.inertia, rtol=1e-12, atol=1e-16)
    assert quick.point_scatter == pytest.approx(slow.point_scatter, abs=1e-15)
    for one, other in zip(quick.groups, slow.groups, strict=True):
        assert one.centre == pytest.approx(other.centre, abs=1e-15)
    for one, other in zip(quick.entries, slow.entries, strict=True):
        assert one.centre == pytest.approx(other.centre, abs=1e-15)


def test_sweep_equals_its_slices():
    main = pack()
    balance = aeroplane(main)
    places = np.linspace(0.05, 0.2, 7)
    sweep = sweep_pack(balance, main, places)
    for place, point, inertia in zip(places, sweep.points, sweep.inertias, strict=True):
        single = balance_with_pack_at(balance, main, place)
        assert tuple(point) == pytest.approx(single.point, abs=1e-16)
        np.testing.assert_allclose(inertia, single.inertia, rtol=1e-13, atol=1e-18)


def test_pack_for_lands_on_its_target():
    main = pack()
    balance = aeroplane(main)
    place = pack_for(balance, main, 0.25)
    assert balance_with_pack_at(balance, main, place).point[0] == pytest.approx(0.25, abs=1e-15)


def test_reach_says_what_the_tray_buys():
    main = pack()
    balance = aeroplane(main)
    reach = pack_reach(balance, main, balance.point[0])
    assert reach.travel == pytest.approx((0.100, 0.140))
    assert reach.wanted == pytest.approx(main.position)
    assert reach.reaches
    bought = reach.balance[1] - reach.balance[0]
    assert bought == pytest.approx(0.040 * 0.15 / balance.mass, rel=1e-12)
    assert not pack_reach(balance, main, balance.point[0] + 0.02).reaches


def test_window_ends_put_the_balance_on_the_limits():
    main = pack()
    balance = aeroplane(main)
    x = balance.point[0]
    span = BalanceSpan(forward=x - 0.002, aft=x + 0.010, why="")
    window = pack_window(balance, main, span)
    assert balance_with_pack_at(balance, main, window.forward).point[0] == pytest.approx(x - 0.002)
    assert window.in_tray == pytest.approx((window.forward, 0.140))
    far = pack_window(balance, main, BalanceSpan(forward=x + 0.05, aft=x + 0.06, why=""))
    assert far.in_tray is None


def test_the_heavier_pack_moves_first_and_the_other_only_for_the_rest():
    small = pack("small", mass=Figure(value=0.05))
    main = pack("main")
    balance = aeroplane(small, main)
    x = balance.point[0]
    near = settle_packs(balance, (small, main), x - 0.002)
    assert near["small"] == pytest.approx(small.position)
    assert near["main"] < main.position
    far = settle_packs(balance, (small, main), x - 0.0045)
    assert far["main"] == pytest.approx(0.100)
    assert 0.100 < far["small"] < small.position
    settled = with_packs_at(balance, (small, main), far)
    assert settled.point[0] == pytest.approx(x - 0.0045, abs=1e-15)
    assert set(settle_packs(balance, (small, main), x - 1.0).values()) == {0.100}


def test_no_ballast_where_the_tray_is_enough():
    main = pack()
    balance = aeroplane(main)
    target = balance.point[0] - 0.003
    assert ballast_for(balance, (main,), target=target, nose_x=0.0, tail_x=0.9) is None


@pytest.mark.parametrize(("shift", "place"), [(-0.03, "nose"), (0.03, "tail")])
def test_ballast_with_the_pack_at_its_best_end(shift, place):
    main = pack()
    balance = aeroplane(main)
    target = balance.point[0] + shift
    ballast = ballast_for(balance, (main,), target=target, nose_x=0.0, tail_x=0.9)
    assert ballast is not None
    assert ballast.place == place
    assert ballast.mass > 0.0
    assert ballast.pack_position == pytest.approx(main.travel[0 if shift < 0 else 1])
    settled = balance_with_pack_at(balance, main, ballast.pack_position)
    done = with_mass_added(settled, mass=ballast.mass, x=ballast.x)
    assert done.point[0] == pytest.approx(target, abs=1e-15)
    assert done.mass == pytest.approx(balance.mass + ballast.mass)


def test_ballast_without_a_pack_and_in_a_hopeless_place():
    balance = aeroplane()
    ballast = ballast_for(balance, (), target=0.2, nose_x=0.0, tail_x=0.9)
    assert ballast is not None
    assert math.isnan(ballast.pack_position)
    with pytest.raises(DomainError, match="ahead of the target"):
        ballast_for(balance, (), target=0.2, nose_x=0.3, tail_x=0.9)


def test_added_mass_equals_weighing_anew():
    balance = aeroplane()
    added = with_mass_added(balance, mass=0.03, x=0.1)
    small = 1e-3  # the side of a lump that is nearly a point: 5e-9 kg m² of its own
    whole = weigh(
        airframe(
            [
                given("airframe", 0.45, (0.36, 0.0, 0.01), size=(0.6, 0.8, 0.05)),
                given("motor", 0.08, (0.02, 0.0, 0.0)),
                given("lump", 0.03, (0.1, 0.0, balance.point[2]), size=(small,) * 3),
            ]
        )
    )
    assert added.point == pytest.approx(whole.point, abs=1e-12)
    np.testing.assert_allclose(added.inertia, whole.inertia, rtol=0.0, atol=6e-9)


def test_sideways_balance():
    balance = weigh(airframe([given("all", 0.8, (0.3, 0.005, 0.0))]))
    assert lateral_moment(balance, gravity=10.0) == pytest.approx(0.04)
    grams = tip_mass(balance, tip_y=0.5)
    assert grams == pytest.approx(0.008)
    levelled = weigh(
        airframe([given("all", 0.8, (0.3, 0.005, 0.0)), given("lead", grams, (0.3, -0.5, 0.0))])
    )
    assert levelled.point[1] == pytest.approx(0.0, abs=1e-15)


# ---------------------------------------------------------------- spans


@pytest.mark.parametrize(
    ("flyer", "least", "most"),
    [
        ("a beginner with an instructor", 0.10, 0.15),
        ("sport flyer; not her first aeroplane", 0.10, 0.15),
        ("sport", 0.05, 0.15),
        ("Improver", 0.05, 0.15),
        ("some practice", 0.05, 0.15),
        ("aerobatics", 0.03, 0.15),
        ("", 0.05, 0.15),
        ("an unreasonable person", 0.05, 0.15),
    ],
)
def test_span_follows_the_flyer(flyer, least, most):
    span = balance_span(neutral_point=0.4, mac=0.2, flyer=flyer, has_tail=True)
    assert span.forward == pytest.approx(0.4 - most * 0.2)
    assert span.aft == pytest.approx(0.4 - least * 0.2)
    assert "common practice" in span.why
    assert "NACA" in span.why


def test_span_of_a_flying_wing():
    span = balance_span(neutral_point=0.4, mac=0.2, flyer="beginner", has_tail=False)
    assert (span.forward, span.aft) == pytest.approx((0.384, 0.394))


def test_no_chord_no_span():
    with pytest.raises(DomainError):
        balance_span(neutral_point=0.4, mac=0.0, flyer="", has_tail=True)


def test_common_span_is_the_intersection():
    spans = [
        BalanceSpan(forward=0.30, aft=0.34, why="rule"),
        BalanceSpan(forward=0.32, aft=0.36, why="rule"),
    ]
    common = common_span(spans)
    assert (common.forward, common.aft) == (0.32, 0.34)
    assert common.why == "what all 2 variants allow: rule"
    assert not common.is_empty
    assert common_span([*spans, BalanceSpan(forward=0.35, aft=0.4, why="rule")]).is_empty
    assert common_span(spans[:1]) == spans[0]
    with pytest.raises(DomainError):
        common_span([])
