"""The whole flow: what must hold for any aeroplane, and for the five examples."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from foamwright.air import stability
from foamwright.airframe import build_airframe
from foamwright.assess import assess, compare, has_tail
from foamwright.balance import weigh
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.findings import Level
from foamwright.report import as_dictionary, rows, static_margin
from tests.strategies import designs

FEW = settings(
    max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


@pytest.fixture(scope="module", params=STARTERS)
def comparison(request: pytest.FixtureRequest):
    return compare(read_design_text(starter_text(request.param)))


def test_examples_balance_in_their_span(comparison):
    for found in comparison.assessments:
        assert found.span.forward < found.balance.point[0] < found.span.aft
        assert static_margin(found) > 0.03
        assert all(reach.travel[0] <= reach.position <= reach.travel[1] for reach in found.reaches)
    assert not comparison.span.is_empty


def test_examples_have_no_stop(comparison):
    assert not [finding for finding in comparison.findings if finding.level is Level.STOP]


def test_every_finding_names_its_variants_and_its_reason(comparison):
    names = {design.variant for design in comparison.design_set.variants}
    for finding in comparison.findings:
        assert set(finding.variants) <= names
        assert finding.variants
        assert finding.why


def test_table_has_a_cell_for_every_variant(comparison):
    for row in rows(comparison):
        assert row.is_heading or len(row.cells) == len(comparison.assessments)


def test_dictionary_adds_up(comparison):
    for variant in as_dictionary(comparison)["variants"]:
        weights = variant["weights"]
        total = sum(part["mass_g"] for part in weights["parts"])
        assert total == pytest.approx(weights["mass_g"], rel=1e-12)
        assert sum(weights["groups_g"].values()) == pytest.approx(total, rel=1e-12)


def test_the_keys_of_the_json_carry_their_units(comparison):
    """What the file said in metres comes out in millimetres and says so."""
    for found, variant in zip(
        comparison.assessments, as_dictionary(comparison)["variants"], strict=True
    ):
        (reach,), (pack,) = found.reaches, variant["balance"]["packs"]
        assert pack["position_x_mm"] == pytest.approx(1e3 * reach.position)
        assert pack["travel_x_mm"] == pytest.approx([1e3 * x for x in reach.travel])
        assert pack["balance_x_mm"] == pytest.approx([1e3 * x for x in reach.balance])
        assert pack["wanted_x_mm"] == pytest.approx(1e3 * reach.wanted)
        assert set(pack) == {
            "pack",
            "position_x_mm",
            "travel_x_mm",
            "balance_x_mm",
            "wanted_x_mm",
            "target_x_mm",
            "reaches",
        }


def test_a_flying_wing_has_no_tail():
    assert not has_tail(read_design_text(starter_text("knot")).variants[0])
    assert has_tail(read_design_text(starter_text("dunlin")).variants[0])


@FEW
@given(design=designs())
def test_any_legal_design_is_assessed(design):
    assume(_apart(design))
    found = assess(design)
    assert found.balance.mass > 0.0
    assert np.isfinite(found.balance.point).all()
    assert np.linalg.eigvalsh(found.balance.inertia).min() > 0.0
    assert found.aero.lift_slope > 0.0


@FEW
@given(design=designs())
def test_neutral_point_and_balance_point_move_with_the_aeroplane(design):
    """The same aeroplane drawn 0.3 m further aft of the datum."""
    assume(_apart(design))
    shift = 0.3
    moved = _moved(design, shift)
    first, second = build_airframe(design), build_airframe(moved)
    here, there = stability(first), stability(second)
    assert there.neutral_point == pytest.approx(here.neutral_point + shift, abs=1e-9)
    assert there.lift_slope == pytest.approx(here.lift_slope, rel=1e-9)
    assert weigh(second).point[0] == pytest.approx(weigh(first).point[0] + shift, abs=1e-9)


def _apart(design) -> bool:
    """Whether no two surfaces start in the same place, which no file may say."""
    places = [surface.at for surface in design.surfaces]
    return all(math.dist(*pair) > 0.05 for pair in itertools.combinations(places, 2))


def _moved(design, shift: float):
    surfaces = tuple(
        replace(surface, at=(surface.at[0] + shift, *surface.at[1:])) for surface in design.surfaces
    )
    return replace(
        design,
        surfaces=surfaces,
        bodies=tuple(_moved_body(body, shift) for body in design.bodies),
        power=replace(
            design.power,
            motors=tuple(_moved_at(motor, shift) for motor in design.power.motors),
            controllers=tuple(_moved_at(one, shift) for one in design.power.controllers),
            packs=tuple(_moved_pack(pack, shift) for pack in design.power.packs),
        ),
        items=tuple(_moved_at(item, shift) for item in design.items),
        pushrods=tuple(
            replace(rod, start=_further(rod.start, shift), end=_further(rod.end, shift))
            for rod in design.pushrods
        ),
        gear=tuple(
            _moved_at(gear, shift)
            if hasattr(gear, "at")
            else replace(gear, points=tuple(_further(point, shift) for point in gear.points))
            for gear in design.gear
        ),
    )


def _further(point, shift: float):
    return (point[0] + shift, *point[1:])


def _moved_at(thing, shift: float):
    return replace(thing, at=_further(thing.at, shift))


def _moved_pack(pack, shift: float):
    tray = replace(pack.tray, front=pack.tray.front + shift, back=pack.tray.back + shift)
    return replace(pack, position=pack.position + shift, tray=tray)


def _moved_body(body, shift: float):
    if hasattr(body, "stations"):
        return replace(
            body,
            stations=tuple(replace(place, x=place.x + shift) for place in body.stations),
            formers=tuple(replace(former, x=former.x + shift) for former in body.formers),
            doublers=tuple(
                replace(one, start=one.start + shift, end=one.end + shift) for one in body.doublers
            ),
            openings=tuple(
                replace(one, start=one.start + shift, end=one.end + shift) for one in body.openings
            ),
        )
    if hasattr(body, "outline"):
        return replace(
            body,
            outline=tuple(_further(point, shift) for point in body.outline),
            openings=tuple(
                tuple(_further(point, shift) for point in hole) for hole in body.openings
            ),
        )
    if hasattr(body, "rod"):
        return replace(body, start=_further(body.start, shift), end=_further(body.end, shift))
    return _moved_at(body, shift)
