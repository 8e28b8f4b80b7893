"""Every example in every variant: all sheet is drawn or named, area and mass to the last bit."""

from __future__ import annotations

import pytest
import shapely

from foamwright.airframe import Basis, build_airframe
from foamwright.balance import BalanceSpan, weigh
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.flat import flatten


def flat_sets(starter):
    for design in read_design_text(starter_text(starter)).variants:
        airframe = build_airframe(design)
        balance = weigh(airframe)
        x = balance.point[0]
        span = BalanceSpan(forward=x - 0.01, aft=x + 0.01, why="")
        yield airframe, balance, flatten(airframe, balance, span=span)


@pytest.mark.parametrize("starter", STARTERS)
def test_all_sheet_is_drawn_or_named(starter):
    for airframe, balance, flat in flat_sets(starter):
        masses = {(entry.key, entry.hand): entry.mass for entry in balance.entries}
        pieces = [p for p in airframe.pieces if p.sheet is not None or p.basis is Basis.VOLUME]
        area = sum(p.amount for p in pieces if p.basis is Basis.AREA)
        mass = sum(masses[p.key, p.hand] for p in pieces)
        drawn = sum(one.area * one.count for one in flat.parts)
        missing = sum(one.area for one in flat.not_drawn)
        assert drawn + missing == pytest.approx(area, rel=2e-4)  # twisted tips
        assert sum(one.mass * one.count for one in flat.parts) + sum(
            one.mass for one in flat.not_drawn
        ) == pytest.approx(mass, rel=1e-12)
        assert all(one.reason for one in flat.not_drawn)
        codes = [one.code for one in (*flat.parts, *flat.not_drawn)]
        assert len(set(codes)) == len(codes)
        assert all(code.isascii() for code in codes)


@pytest.mark.parametrize("starter", STARTERS)
def test_every_part_is_a_sound_polygon_of_the_right_area(starter):
    for airframe, _, flat in flat_sets(starter):
        amounts = {(p.path, p.title): p.amount for p in airframe.pieces}
        for one in flat.parts:
            shape = shapely.Polygon(one.outline, one.holes)
            assert shape.is_valid, one.code
            assert shape.area == pytest.approx(one.area, rel=1e-10), one.code
            # A facet out by d over a length L is out by about d/L of its area, a few times over.
            exact = one.length_error < 1e-12
            assert one.area == pytest.approx(
                amounts[one.path, one.title], rel=1e-9 if exact else 3e-4
            ), one.code
            edge = shape.buffer(1e-6)
            for mark in one.marks:
                assert edge.covers(shapely.LineString(mark.points)), (one.code, mark.text)
            for fold in one.folds:
                assert edge.covers(shapely.LineString([fold.start, fold.end])), one.code


@pytest.mark.parametrize("starter", STARTERS)
def test_codes_stay_over_the_variants(starter):
    """A part that two variants share has one name in both."""
    first, *others = [flat for _, _, flat in flat_sets(starter)]
    named = {(one.path, one.title): one.code for one in first.parts}
    for other in others:
        for one in other.parts:
            assert named.get((one.path, one.title), one.code) == one.code
