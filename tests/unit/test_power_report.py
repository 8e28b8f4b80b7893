"""The power section of the report: rows, dictionary, what is printed for one variant."""

from __future__ import annotations

import json

import pytest

from foamwright.assess import compare
from foamwright.design import read_design_text, starter_text
from foamwright.power.telling import power_rows
from foamwright.report import NOT_LOOKED_AT, as_dictionary, rows
from foamwright.terminal import print_comparison


@pytest.fixture(scope="module")
def comparison():
    return compare(read_design_text(starter_text("knot")))


def test_rows_in_the_order_a_maker_asks(comparison):
    table = rows(comparison)
    start = next(i for i, row in enumerate(table) if row.label == "Power")
    after = [i for i, row in enumerate(table) if row.is_heading and i > start]
    power = table[start + 1 : after[0] if after else None]
    labels = [row.label for row in power]
    assert labels[0].startswith("Static thrust")
    assert labels[-1].startswith("Flight")
    assert all("" not in row.cells for row in power)
    assert "±" in power[0].cells[0]
    assert not any("propeller and pack" in line for line in NOT_LOOKED_AT)


def test_dictionary_agrees_with_the_assessment(comparison):
    found = comparison.assessments[0].power
    said = as_dictionary(comparison)["variants"][0]["power"]
    assert json.loads(json.dumps(said, allow_nan=False)) == said
    assert said["static_thrust_N"] == found.static_thrust.value
    assert said["motors"][0]["current_A"] == found.motors[0].full.amps
    assert said["packs"][0]["minutes"] == pytest.approx(found.duration / 60.0)
    assert said["packs"][0]["cautions"]


def test_full_throttle_over_airspeed_ends_where_pull_ends(comparison):
    (motor,) = comparison.assessments[0].power.motors
    table = power_rows(motor)
    thrust = [float(row[1]) for row in table]
    assert thrust == sorted(thrust, reverse=True)
    assert len(table) > 5
    assert all(len(row) == 9 for row in table)


def test_one_variant_is_told_how_its_propeller_goes_on(comparison, capsys):
    print_comparison(comparison, with_parts=True)
    said = " ".join(capsys.readouterr().out.split())
    for wanted in (
        "Power of motor main (tractor)",
        'Motor "main" turns clockwise seen from behind',
        "swap any two of its three leads",
        "Mix of flying: 15 % climb",
        "Store at 3.80 to 3.85 V per cell",
    ):
        assert wanted in said
