"""What the power says of whole aeroplanes, and that every cure works in the file itself."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from foamwright.airframe import build_airframe
from foamwright.balance import weigh
from foamwright.design import STARTERS, changed_text, read_design_text, starter_text
from foamwright.findings import Change, Level
from foamwright.power import (
    assess_power,
    loads_of,
    one_out,
    parts_of,
    power_findings,
    rank_propellers,
)
from foamwright.power.goods import controller_goods, pack_goods, propeller_goods
from foamwright.power.lines import Missing, kept_propeller


def looked_at(text: str):
    """Findings of the first variant of a design text, by slug, and its power."""
    airframe = build_airframe(read_design_text(text).variants[0])
    power = assess_power(airframe, mass=weigh(airframe).mass)
    return {finding.slug: finding for finding in power_findings(airframe, power)}, power


def changed(name: str, **values) -> str:
    changes = tuple(
        Change(path=path.replace("__", "."), value=value) for path, value in values.items()
    )
    return changed_text(starter_text(name), changes)


SICK = [
    pytest.param(
        changed("curlew", power__motor__main__max_current="12 A"), "motor-overload", id="motor"
    ),
    pytest.param(
        changed("dunlin", power__controller__esc__from="controller 12 A"),
        "controller-headroom|controller-overload",
        id="controller",
    ),
    pytest.param(
        changed("curlew", power__controller__esc__rating="13 A"),
        "controller-headroom|controller-overload",
        id="own controller",
    ),
    pytest.param(
        changed("godwit", power__controller__right__from="controller 60 A"),
        "controller-too-large",
        id="large controller",
    ),
    pytest.param(
        changed(
            "curlew", power__pack__main__from="pack 3-cell 450 mAh", power__pack__main__mass=38
        ),
        "pack-headroom|pack-overload",
        id="pack",
    ),
    pytest.param(
        changed(
            "godwit", power__pack__main__from="pack 3-cell 450 mAh", power__pack__main__mass=38
        ),
        "pack-sags",
        id="sag",
    ),
    pytest.param(
        changed("curlew", power__propeller__main__from="propeller 9x4.7 slow flyer"),
        "propeller-too-fast",
        id="rpm",
    ),
    pytest.param(
        changed("avocet", power__propeller__main__rotation="normal"),
        "pusher-propeller",
        id="pusher",
    ),
    pytest.param(
        changed("curlew", power__propeller__main__rotation="reverse"), "propeller-nut", id="nut"
    ),
    pytest.param(changed("dunlin", power__motor__main__reach=14), "disc-clearance", id="clearance"),
]


@pytest.mark.parametrize(("text", "slugs"), SICK)
def test_it_is_found_and_every_cure_works_in_the_file(text, slugs):
    wanted = slugs.split("|")
    found, _ = looked_at(text)
    slug = next(one for one in wanted if one in found)
    finding = found[slug]
    assert finding.cures, finding.text
    for cure in finding.cures:
        after, _ = looked_at(changed_text(text, cure.changes))
        assert not [one for one in wanted if one in after], cure.effect


def test_a_weak_motor_is_found():
    found, power = looked_at(changed("curlew", power__propeller__main__from="propeller 5x3"))
    assert power.thrust_to_weight is not None
    assert ("thrust-weak" in found) == (power.thrust_to_weight < 0.25)
    text = starter_text("knot").replace('says = "On its belly', 'says = "On its belly')
    heavy, _ = looked_at(text)
    assert "thrust-weak" not in heavy


def test_a_gap_in_the_chain_is_named():
    design = read_design_text(starter_text("dunlin")).variants[0]
    bare = replace(
        design,
        power=replace(
            design.power, motors=tuple(replace(m, controller=None) for m in design.power.motors)
        ),
    )
    missing = parts_of(bare, bare.power.motors[0])
    assert missing == Missing(motor="main", lacks="controller")
    airframe = build_airframe(bare)
    power = assess_power(airframe, mass=0.5)
    assert (power.motors, power.packs, power.static_thrust) == ((), (), None)
    (finding,) = power_findings(airframe, power)
    assert (finding.slug, finding.level) == ("power-incomplete", Level.NOTE)


@cache
def of(name: str):
    return looked_at(starter_text(name))


@pytest.mark.parametrize("name", STARTERS)
def test_the_examples_are_sound(name):
    """No limit is passed and no disc is near anything, in any of the five as drawn."""
    found, power = of(name)
    assert not [one for one in found.values() if one.level is Level.STOP]
    assert not {"motor-overload", "controller-overload", "pack-overload"} & set(found)
    assert power.thrust_to_weight is not None
    assert 0.4 < power.thrust_to_weight < 2.0
    assert power.duration is not None
    assert 5.0 < power.duration / 60.0 < 90.0
    for motor in power.motors:
        assert bool(motor.full.points.converged.all())
        assert motor.pitch_speed > 2.0 * power.stall_speed
        assert 20.0 < motor.winding < 130.0


def test_twins_are_named_once_and_balance_each_other():
    _, power = of("godwit")
    right, left = power.motors
    assert right.line.is_like(left.line)
    assert right.full.pack_amps == pytest.approx(2.0 * right.full.amps)
    group = power.packs[0].group
    turns = [loads_of(one, group, throttle=1.0, airspeed=12.0) for one in power.motors]
    assert float(turns[0].torque_reaction + turns[1].torque_reaction) == pytest.approx(0.0)
    dead, alive = one_out(group, "right", airspeed=10.0)
    assert alive > 1.0
    assert abs(dead) < 0.3 * alive


def test_ranking_puts_what_suits_first_and_says_why_not():
    _, power = of("curlew")
    group = power.packs[0].group
    rows = rank_propellers(group, thrust=3.0, airspeed=10.0)
    assert len(rows) == len(propeller_goods())
    assert [row.suits for row in rows] == sorted((row.suits for row in rows), reverse=True)
    assert rows[0].suits
    assert rows[0].static_thrust >= 3.0
    assert all(row.reasons for row in rows)
    small = rank_propellers(group, largest=0.16)
    assert all(row.propeller.diameter <= 0.16 for row in small if row.suits)
    assert any("no room" in reason for row in small for reason in row.reasons)


def test_ranking_agrees_with_the_match():
    _, power = of("curlew")
    motor, group = power.motors[0], power.packs[0].group
    (row,) = rank_propellers(group, candidates=(motor.parts.propeller,), airspeed=12.0)
    assert row.amps == pytest.approx(motor.full.amps, rel=1e-4)
    assert row.static_thrust == pytest.approx(motor.full.static_thrust, rel=1e-4)
    assert row.pitch_speed == pytest.approx(motor.pitch_speed, rel=1e-4)


def test_goods_of_the_catalogue():
    assert len(propeller_goods()) > 10
    assert [one.rating for one in controller_goods()] == sorted(
        one.rating for one in controller_goods()
    )
    assert all(one.capacity > 0.0 and len(one.size) == 3 for one in pack_goods())
    one = propeller_goods()[0]
    assert kept_propeller(one) is kept_propeller(replace(one, key="other"))
    assert np.isfinite(one.mass.value)
