"""What a maker has measured, and two packs on one controller: from the file to the match."""

from __future__ import annotations

import math

import pytest

from foamwright.airframe import build_airframe
from foamwright.design import changed_text, read_design_text, starter_text
from foamwright.errors import DesignFileError
from foamwright.findings import Change
from foamwright.power import assess_power, motor_model, pack_model, parts_of, power_line
from foamwright.power.lines import Parts, kept_propeller

READINGS = """measured = [
  { volts = "11.1 V", amps = "5 A", rpm = 22900 },
  { volts = "11.0 V", amps = "9 A", rpm = 21900 },
  { volts = "10.9 V", amps = "13 A", rpm = 20900 },
]
"""


def dunlin(*, motor: str = "", pack: str = "", controller: str = ""):
    text = starter_text("dunlin")
    for header, extra in (
        ("[power.motor.main]\n", motor),
        ("[power.pack.main]\n", pack),
        ("[power.controller.esc]\n", controller),
    ):
        text = text.replace(header, header + extra)
    return text


def first(text: str):
    return read_design_text(text).variants[0]


def test_a_measured_line_replaces_the_label():
    motor = first(dunlin(motor=READINGS)).power.motors[0]
    model = motor_model(motor)
    assert model.source == "measured line"
    assert model.speed_scatter == pytest.approx(0.01)
    assert model.has_controller
    # the points lie on 2206 rpm/V and 0.1445 ohm, worked by hand: 1000 rpm cost 4 A and -0.1 V
    fitted = model.speed_constant * 30.0 / math.pi
    assert model.resistance * 4.0 + 0.1 == pytest.approx(1000.0 / fitted, rel=1e-3)
    parts = parts_of(first(dunlin(motor=READINGS)), motor)
    assert isinstance(parts, Parts)
    assert power_line(parts).controller.resistance == 0.0


@pytest.mark.parametrize(
    "readings",
    [
        pytest.param(((11.0, 5.0, 20000),), id="one"),
        pytest.param(((11.0, 5.0, 20000), (11.0, 5.1, 20000), (11.0, 5.2, 20000)), id="alike"),
    ],
)
def test_readings_that_tell_nothing_are_refused(readings):
    rows = ", ".join(
        f'{{ volts = "{volts} V", amps = "{amps} A", rpm = {rpm} }}'
        for volts, amps, rpm in readings
    )
    with pytest.raises(DesignFileError) as refused:
        read_design_text(dunlin(motor=f"measured = [{rows}]\n"))
    assert "LIST-LENGTH" in str(refused.value)


def test_a_measured_pack_has_its_own_resistance():
    pack = first(dunlin(pack='resistance = "31 mohm"\n')).power.packs[0]
    model = pack_model(pack)
    assert model.resistance == pytest.approx(0.031)
    assert model.resistance_scatter < 0.15


def test_a_scale_reading_reaches_the_propeller():
    (propeller,) = first(starter_text("dunlin")).power.propellers
    assert propeller.reading is not None
    assert propeller.reading.thrust == pytest.approx(0.42 * 9.80665)
    assert propeller.reading.rotation == pytest.approx(300.0)
    model = kept_propeller(propeller)
    assert "static reading" in model.basis
    ct = float(model.coefficients(0.0, rotation=300.0).ct)
    assert ct * 1.225 * 300.0**2 * 0.127**4 == pytest.approx(propeller.reading.thrust, rel=0.05)


SECOND = """
[power.pack.second]
from = "pack 3-cell 1500 mAh"
position = 154
tray = { front = 74, back = 236, width = 40, height = 30, floor = -16, y = 0 }
"""


def two_packs(joined: str, second: str = SECOND) -> str:
    extra = f'second_pack = "second"\njoined = "{joined}"\n'
    return dunlin(controller=extra).replace("[item.receiver]", second + "\n[item.receiver]", 1)


@pytest.mark.parametrize(("joined", "cells", "share"), [("series", 6, 1.0), ("parallel", 3, 2.0)])
def test_two_packs_on_one_controller(joined, cells, share):
    design = first(two_packs(joined))
    power = assess_power(build_airframe(design), mass=0.5)
    (pack,) = power.packs
    assert pack.group.key == "main+second"
    assert pack.group.pack.cells == cells
    assert pack.group.pack.capacity == pytest.approx(share * 1.5 * 3600.0)


def test_unlike_packs_in_parallel_are_refused():
    other = SECOND.replace("3-cell 1500", "2-cell 1000")
    with pytest.raises(DesignFileError) as refused:
        read_design_text(two_packs("parallel", other))
    assert "charge each other" in str(refused.value)
    assert read_design_text(two_packs("series", other)).variants


def test_a_second_pack_must_be_another():
    with pytest.raises(DesignFileError) as refused:
        read_design_text(dunlin(controller='second_pack = "main"\n'))
    assert "KEY-MISSING" in str(refused.value)


def test_the_hand_of_a_propeller_can_be_changed_in_the_file():
    change = Change(path="power.propeller.three.rotation", value="reverse")
    assert first(changed_text(starter_text("dunlin"), (change,))).power.propellers[0].rotation == (
        "reverse"
    )
