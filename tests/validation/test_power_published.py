"""Motor, controller, pack, disc and the match against published and worked values."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pytest

from foamwright.design.model import Mounting, Rotation
from foamwright.power import (
    Air,
    fit_motor_line,
    handedness,
    ideal_disc,
    match,
    motor_point,
    pitch_speed,
    rpm_limit,
    slipstream,
)
from foamwright.power.controller import chopper, wire_diameter, wire_resistance
from foamwright.power.findings import LAUNCH_THRUST, LEAST_THRUST
from foamwright.power.flying import minutes_at_power, watt_hours
from foamwright.power.limits import CONTROLLER_HEADROOM
from foamwright.power.lines import Parts, kept_propeller, pack_group, power_line
from foamwright.power.moments import FIN_ASPECT, force_couple
from foamwright.power.motor import LABEL_RATIO, best_current, guessed_constants
from foamwright.power.pack import (
    CHART_VOLTS,
    CUT_OFF_VOLTS,
    FULL_VOLTS,
    STORAGE_VOLTS,
    USABLE_FRACTION,
    cell_resistance,
    cell_volts,
    cell_volts_measured,
    resistance_from_step,
    resistance_shape,
    temperature_factor,
)
from foamwright.power.place import TRACTOR
from foamwright.power.state import GRAVITY
from tests import making, powering
from tests.bench import bench_rows
from tests.making import propeller
from tests.powering import ConstantPropeller
from tests.reference import Reference

MOMENTUM = Reference(
    "Rankine, Froude; H. Glauert", "in Durand, Aerodynamic Theory IV", 1935, "disc", "memory"
)
WORKED = Reference("none", "equations of the match", None, "worked for this project", "derived")
DRELA = Reference("M. Drela", "First-order DC electric motor model", 2007, "MIT", "memory")
GUR_ROSEN = Reference(
    "O. Gur, A. Rosen", "AIAA 2008-5916", 2008, "regressions, read in a stored code comment"
)
CHOPPER = Reference("none", "averaging of a DC chopper", None, "textbook", "memory")
COPPER = Reference("ASTM B258; IEC 60028", "wire gauges; copper", None, "formulas", "memory")
CHEN = Reference(
    "M. Chen, G. A. Rincon-Mora", "IEEE Trans. Energy Conversion 21(2)", 2006, "coefficients"
)
CHART = Reference("not known", "trade chart of resting volts", None, "public document")
STEP = Reference("not known", "worked example in a hobby forum", None, "one sample")
PRACTICE = Reference("none", "habits of model flyers", None, "no source", "practice")
BENCH = Reference(
    "StrawsonDesign", "motor_propeller_testing", 2018, "public repository, MIT, raw tables"
)
MCCORMICK = Reference(
    "B. W. McCormick",
    "Aerodynamics, Aeronautics and Flight Mechanics",
    None,
    "vortex cylinder",
    "memory",
)
MECHANICS = Reference("Hoerner, Borst", "Fluid-Dynamic Lift", None, "mechanics", "memory")
RIBNER = Reference("H. S. Ribner", "NACA reports 819 and 820", 1945, "abstracts")
NACA_WING = Reference(
    "NACA",
    "Effect of the wings of single engine airplanes on propulsive efficiency",
    None,
    "abstract",
)
COLUMNS = Reference("not named", "magazine columns of 2001 and 2004", 2004, "power loading")
RPM = Reference("makers", "published speed limits of propellers", None, "not re-read", "memory")


# ---------------------------------------------------------------- the disc


@pytest.mark.validation(MOMENTUM)
@pytest.mark.parametrize(
    ("thrust", "diameter", "speed", "induced", "power", "efficiency", "wake"),
    [
        pytest.param(5.0, 0.127, 0.0, 12.693, 63.463, 0.0, 25.385, id="static-5in"),
        pytest.param(2.0, 0.2032, 12.0, 1.8213, 27.643, 0.86823, 15.643, id="cruise-8in"),
    ],
)
def test_actuator_disc(agrees, thrust, diameter, speed, induced, power, efficiency, wake):
    disc = ideal_disc(thrust, diameter=diameter, airspeed=speed)
    agrees("induced speed [m/s]", got=disc.induced, expected=induced, rel=1e-4)
    agrees("ideal power [W]", got=disc.power, expected=power, rel=1e-4)
    agrees("ideal efficiency", got=disc.efficiency, expected=efficiency, rel=1e-4)
    agrees("far wake [m/s]", got=disc.wake, expected=wake, rel=1e-4)


@pytest.mark.validation(MOMENTUM)
def test_figure_of_merit(agrees):
    """In units of density, revolutions and diameter one, thrust and power are CT and CP."""
    ideal = float(ideal_disc(0.1299, diameter=1.0, airspeed=0.0, density=1.0).power)
    agrees("ideal static CP", got=ideal, expected=0.037355, rel=1e-4)
    agrees("figure of merit", got=ideal / 0.0531, expected=0.70349, rel=1e-4)
    ceiling = ideal_disc(0.06, diameter=1.0, airspeed=0.5, density=1.0).efficiency
    agrees("Froude efficiency", got=ceiling, expected=0.88132, rel=1e-4)


@pytest.mark.validation(MCCORMICK)
def test_slipstream(agrees):
    speed, radius = slipstream(4.0, diameter=0.2032, airspeed=10.0, behind=0.2)
    agrees("slipstream [m/s]", got=speed, expected=16.961, rel=1e-3)
    agrees("its radius [m]", got=radius, expected=0.091245, rel=1e-3)


# ---------------------------------------------------------------- motor


@pytest.mark.validation(DRELA)
@pytest.mark.parametrize(
    ("kv", "ohms", "idle", "volts", "amps", "expected"),
    [
        pytest.param(
            1000.0, 0.08, 0.8, 10.0, 15.0,
            (8800.0, 0.1356, 124.96, 150.0, 0.83307, 10.0, 0.8464, 125.0), id="kv1000",
        ),
        pytest.param(
            2760.0, 0.31, 0.77, 7.2, 8.0,
            (13027.0, 0.025015, 34.126, 57.6, 0.59246, 4.2289, 0.66899, 23.226), id="brushed400",
        ),
    ],
)  # fmt: skip
def test_first_order_motor(agrees, kv, ohms, idle, volts, amps, expected):
    model = powering.motor(kv, resistance=ohms, idle_current=idle)
    point = motor_point(model, volts=volts, amps=amps)
    current, best = best_current(model, volts=volts)
    got = (
        point.speed * 30.0 / math.pi,
        point.torque,
        point.shaft_power,
        point.input_power,
        point.efficiency,
        current,
        best,
        volts / model.resistance,
    )
    names = ("rpm", "torque", "shaft W", "input W", "efficiency", "best A", "best", "stall A")
    for name, value, right in zip(names, got, expected, strict=True):
        agrees(f"motor {kv:.0f}: {name}", got=float(value), expected=right, rel=1e-4)


@pytest.mark.validation(GUR_ROSEN)
def test_first_guess_from_the_speed_constant(agrees):
    ohms, idle = guessed_constants(powering.rpm_per_volt(1000.0))
    agrees("resistance [ohm]", got=ohms, expected=0.06, rel=1e-3)
    agrees("idle current [A]", got=idle, expected=1.0818, rel=1e-3)


@pytest.mark.validation(BENCH)
@pytest.mark.parametrize(
    ("name", "kv", "ohms"),
    [pytest.param("M01", 2394.0, 0.097, id="M01"), pytest.param("M11", 2321.0, 0.083, id="M11")],
)
def test_motor_line_of_measured_points(agrees, name, kv, ohms):
    fit = _fitted(name)
    agrees(f"{name} rpm/V", got=fit.speed_constant * 30.0 / math.pi, expected=kv, rel=0.01)
    agrees(f"{name} ohm", got=fit.resistance, expected=ohms, rel=0.15)
    assert fit.residual < 0.02
    assert fit.speed_scatter < 0.01


def _fitted(name: str):
    rows = bench_rows(motor=name)
    full = rows["esc_us"] >= 1990
    return fit_motor_line(volts=rows["V_V"][full], amps=rows["I_A"][full], rpm=rows["rpm"][full])


@pytest.mark.validation(BENCH)
def test_label_against_speed_constant_under_load(agrees):
    """Motors M05 and M12 have too few points below the supply's limit."""
    ratios = []
    for name in sorted(set(bench_rows()["motor"])):
        rows = bench_rows(motor=name)
        if np.count_nonzero((rows["esc_us"] >= 1990) & (rows["rpm"] > 0)) >= 4:
            kv = _fitted(name).speed_constant * 30.0 / math.pi
            ratios.append(kv / rows["Kv_nominal"][0])
    agrees("median ratio", got=float(np.median(ratios)), expected=0.95, tol_abs=0.03)
    agrees("least ratio", got=min(ratios), expected=0.90, tol_abs=0.03)
    agrees("greatest ratio", got=max(ratios), expected=1.11, tol_abs=0.03)
    agrees("ratio taken for a label", got=LABEL_RATIO, expected=0.95, tol_abs=1e-9)


@pytest.mark.validation(BENCH)
def test_part_throttle_of_measured_motors(agrees):
    """Pack current at part throttle from speed alone: the bench the loss was fitted to.

    Four motors whose lines fit within 0.03 V.

    The propeller's torque coefficient comes from the same motor at full throttle; idle 0.6 A.
    """
    ratios = []
    for name in ("M01", "M02", "M10", "M11"):
        fit, rows = _fitted(name), bench_rows(motor=name)
        kv, ohms, idle = fit.speed_constant, fit.resistance, 0.6
        for blades in sorted(set(rows["prop"])):
            on = rows["prop"] == blades
            full = on & (rows["esc_us"] >= 1990)
            part = on & (rows["esc_us"] < 1850) & (rows["esc_us"] > 1350)
            if not full.any():
                continue
            speed = rows["rpm"] * math.pi / 30.0
            load = np.median((rows["I_A"][full] - idle) / speed[full] ** 2)
            amps = idle + load * speed[part] ** 2
            duty = (speed[part] / kv + amps * ohms) / rows["V_V"][part]
            _, drawn = chopper(duty, pack_volts=1.0, motor_amps=amps, part_loss=0.30)
            ratios += list(drawn / rows["I_A"][part])
    agrees("pack amps, ours over measured", got=float(np.median(ratios)), expected=1.0, rel=0.06)
    agrees("their scatter", got=float(np.std(ratios)), expected=0.0, tol_abs=0.12)


# ---------------------------------------------------------------- controller and leads


@pytest.mark.validation(CHOPPER)
def test_ideal_chopper(agrees):
    volts, amps = chopper(0.5, pack_volts=11.1, motor_amps=10.0)
    agrees("motor volts", got=float(volts), expected=5.55, rel=1e-4)
    agrees("pack amps", got=float(amps), expected=5.0, rel=1e-4)


@pytest.mark.validation(COPPER)
def test_wire(agrees):
    agrees("16 AWG [mm]", got=1e3 * wire_diameter(16), expected=1.291, rel=1e-3)
    area = 0.25e6 * math.pi * wire_diameter(16) ** 2
    agrees("16 AWG [mm²]", got=area, expected=1.309, rel=1e-3)
    per_metre = 1e3 * wire_resistance(16, length=1.0)
    agrees("16 AWG [mohm/m]", got=per_metre, expected=13.17, rel=1e-3)
    cold = 20.0 * wire_resistance(16, length=0.4)
    agrees("drop at 20 A [V]", got=cold, expected=0.1054, rel=1e-3)
    warm = 20.0 * wire_resistance(16, length=0.4, temperature=60.0)
    agrees("drop at 60 °C [V]", got=warm, expected=0.122, rel=1e-3)


@pytest.mark.validation(PRACTICE)
def test_headroom_of_a_controller(agrees):
    agrees("headroom", got=CONTROLLER_HEADROOM - 1.0, expected=0.25, tol_abs=0.05)


# ---------------------------------------------------------------- pack


@pytest.mark.validation(CHEN)
@pytest.mark.parametrize(
    ("charge", "volts", "ohms"),
    [
        pytest.param(1.0, 4.1029, 0.07446, id="full"),
        pytest.param(0.5, 3.8034, 0.074461, id="half"),
        pytest.param(0.2, 3.7250, 0.075654, id="fifth"),
        pytest.param(0.05, 3.5164, 0.12064, id="twentieth"),
    ],
)
def test_measured_cell(agrees, charge, volts, ohms):
    agrees("resting volts", got=float(cell_volts_measured(charge)), expected=volts, rel=1e-4)
    rise = 0.07446 * float(resistance_shape(charge))
    agrees("series ohms", got=rise, expected=ohms, rel=1e-4)


@pytest.mark.validation(CHART)
def test_chart_of_the_trade_lies_near_the_measured_cell(agrees):
    charge = np.linspace(0.0, 1.0, 21)
    assert np.array_equal(cell_volts(charge), CHART_VOLTS)
    off = np.abs(cell_volts(charge) - cell_volts_measured(charge))[2:]
    agrees("furthest apart above a tenth [V]", got=float(off.max()), expected=0.10, tol_abs=5e-3)
    for share, volts in ((1.0, 4.20), (0.6, 3.87), (0.2, 3.73), (0.0, 3.27)):
        agrees(f"at {share:g}", got=float(cell_volts(share)), expected=volts, tol_abs=1e-9)


@pytest.mark.validation(STEP)
def test_resistance_from_two_loads(agrees):
    pack = resistance_from_step(volts=(14.8, 13.7), amps=(5.0, 85.0))
    agrees("pack [ohm]", got=pack, expected=0.01375, rel=1e-3)
    agrees("cell [ohm]", got=pack / 4, expected=0.0034375, rel=1e-3)
    ours = cell_resistance(5.0 * 3600.0, rating=40.0)
    agrees("by our law, 40 C [ohm]", got=ours, expected=0.0034375, rel=0.5)


@pytest.mark.validation(PRACTICE)
def test_resistance_of_a_cell(agrees):
    for rating in (25.0, 40.0, 60.0):
        ours = cell_resistance(2.2 * 3600.0, rating=rating)
        agrees(f"2.2 Ah at {rating:g} C [ohm]", got=ours, expected=6.5e-3, tol_abs=2.7e-3)
    for celsius, ratio in ((0.0, 2.52), (10.0, 1.71), (40.0, 0.617)):
        ours = float(temperature_factor(celsius))
        agrees(f"ratio at {celsius:g} °C", got=ours, expected=ratio, rel=0.01)


@pytest.mark.validation(WORKED)
def test_sag_of_three_cells(agrees):
    model = powering.pack(resistance=3 * 0.015 / 2.2)
    agrees("pack [ohm]", got=model.resistance, expected=0.020455, rel=1e-4)
    resting = float(model.resting_volts(0.6))
    agrees("resting [V]", got=resting, expected=11.61, rel=5e-3)
    volts = resting - 25.0 * (float(model.resistance_at(0.6)) + 0.006)
    agrees("at 25 A [V]", got=volts, expected=10.949, rel=5e-3)
    agrees("a cell [V]", got=volts / 3, expected=3.6495, rel=5e-3)
    heat = 25.0**2 * float(model.resistance_at(0.6))
    agrees("heat in the pack [W]", got=heat, expected=12.784, rel=5e-3)
    rate = 25.0 * 3600.0 / model.capacity
    agrees("multiples of capacity", got=rate, expected=11.364, rel=5e-3)


@pytest.mark.validation(PRACTICE)
def test_energy_and_limits(agrees):
    capacity = 2.2 * 3600.0
    agrees("energy [Wh]", got=watt_hours(cells=3, capacity=capacity), expected=24.42, rel=1e-3)
    minutes = minutes_at_power(cells=3, capacity=capacity, power=120.0)
    agrees("minutes at 120 W", got=minutes, expected=9.768, rel=1e-3)
    four = watt_hours(cells=4, capacity=1.5 * 3600.0)
    agrees("4 cells, 1.5 Ah [Wh]", got=four, expected=22.2, rel=1e-3)
    agrees("full [V]", got=FULL_VOLTS, expected=4.2, tol_abs=1e-9)
    agrees("least under load [V]", got=CUT_OFF_VOLTS, expected=3.0, tol_abs=1e-9)
    agrees("storage [V]", got=STORAGE_VOLTS[0], expected=3.80, tol_abs=1e-9)
    agrees("usable", got=USABLE_FRACTION, expected=0.8, tol_abs=1e-9)


# ---------------------------------------------------------------- the match


@pytest.mark.validation(WORKED)
@pytest.mark.parametrize(
    ("cells", "rp", "re", "kv", "i0", "d", "ct", "cp", "rho", "expected"),
    [
        pytest.param(
            3, 0.02, 0.004, 1000.0, 0.7, 0.2032, 0.105, 0.045, 1.225,
            (10333.0, 10.14, 11.347, 115.06, 97.547, 6.5041), id="3s-8x4",
        ),
        pytest.param(
            2, 0.03, 0.005, 2600.0, 0.8, 0.127, 0.15, 0.078, 1.2,
            (16356.0, 10.758, 7.3773, 79.363, 62.642, 3.4796), id="2s-5x4-3b",
        ),
    ],
)  # fmt: skip
def test_static_match(agrees, cells, rp, re, kv, i0, d, ct, cp, rho, expected):
    """The chart has 3.85 V per cell at 55 % of charge, the case's own volts."""
    one = powering.line(
        propeller=ConstantPropeller(d, ct, cp),
        motor=powering.motor(kv, idle_current=i0),
        controller=powering.controller(resistance=re),
    )
    tied = powering.group(one, cells=cells, resistance=rp)
    (point,) = match(tied, charge=0.55, air=Air(density=rho))
    got = (
        point.rpm,
        point.pack_amps,
        point.pack_volts,
        point.input_power,
        point.shaft_power,
        point.thrust,
    )
    for name, value, right in zip(
        ("rpm", "A", "V", "W in", "W shaft", "N"), got, expected, strict=True
    ):
        agrees(f"static match: {name}", got=float(value), expected=right, rel=1e-3)
    grams_per_watt = 1e3 * float(point.thrust) / GRAVITY / float(point.input_power)
    agrees(
        "grams per watt",
        got=grams_per_watt,
        expected=1e3 * expected[5] / GRAVITY / expected[3],
        rel=1e-3,
    )


@pytest.mark.validation(WORKED)
def test_shop_arithmetic(agrees):
    agrees(
        "pitch speed [m/s]",
        got=float(pitch_speed(0.1016, rotation=200.0)),
        expected=20.32,
        rel=1e-4,
    )
    torque = 100.0 / (9000.0 * math.pi / 30.0)
    agrees("torque of 100 W at 9000 rpm [N m]", got=torque, expected=0.1061, rel=1e-3)
    agrees("couple [N]", got=force_couple(torque, span=1.0), expected=0.21221, rel=1e-4)


# ---------------------------------------------------------------- place and rules


@pytest.mark.validation(MECHANICS)
def test_hand_of_a_standard_tractor(agrees):
    hand = handedness(propeller(rotation=Rotation.NORMAL), Mounting.TRACTOR)
    agrees("sense, + clockwise from behind", got=hand.sense, expected=1.0, tol_abs=0.0)
    assert (hand.seen_from_behind, hand.roll, hand.yaw) == ("clockwise", "left", "left")
    assert not hand.nut_loosens


@pytest.mark.validation(RIBNER)
def test_propeller_as_a_fin(agrees):
    agrees("aspect ratio of the fin", got=FIN_ASPECT, expected=8.0, tol_abs=0.0)


@pytest.mark.validation(NACA_WING)
def test_loss_of_a_tractor(agrees):
    agrees("wing in the slipstream", got=TRACTOR[0], expected=0.02, tol_abs=0.01)


@pytest.mark.validation(RPM)
@pytest.mark.parametrize(
    ("style", "constant"),
    [
        ("slow flyer", 65_000.0),
        ("multirotor", 105_000.0),
        ("thin electric", 145_000.0),
        ("sport", 190_000.0),
    ],
)
def test_speed_limits(agrees, style, constant):
    limit = 60.0 * rpm_limit(propeller(diameter=10 * 0.0254, style=style))
    agrees(f"ten inches, {style} [rpm]", got=limit, expected=constant / 10.0, rel=1e-9)


@pytest.mark.validation(COLUMNS)
def test_rules_of_thrust_over_weight(agrees):
    agrees("least that climbs", got=LEAST_THRUST, expected=0.25, tol_abs=1e-9)
    agrees("thrown by hand", got=LAUNCH_THRUST, expected=0.5, tol_abs=1e-9)


@pytest.mark.validation(PRACTICE)
def test_three_cells_and_a_small_three_blade_stay_inside_40_amperes(agrees):
    """A 2450 rpm/V motor, 5 x 4 in three-blade: the usual 40 A controller keeps its headroom."""
    kv = powering.rpm_per_volt(2450.0)
    ohms, idle = guessed_constants(kv)
    motor = making.motor(speed_constant=kv, resistance=ohms, idle_current=idle)
    parts = Parts(
        motor=motor,
        propeller=propeller(diameter=5 * 0.0254, pitch=4 * 0.0254, blades=3, style="multirotor"),
        controller=making.controller(rating=40.0),
        pack=making.pack(cells=3, capacity=1.5 * 3600.0, rating=60.0),
    )
    tied = pack_group(parts, (power_line(parts),))
    (point,) = match(tied, charge=1.0)
    share = 40.0 / float(point.pack_amps)
    agrees("headroom at least 1.25, got over it", got=min(share, 1.25), expected=1.25, rel=1e-9)
    assert float(point.pack_amps) > 8.0


@pytest.mark.validation(BENCH)
@pytest.mark.parametrize("name", ["T050x0400-3b-a", "T050x0400-2b-a", "T050x0450-3b-b"])
def test_whole_chain_against_the_bench(agrees, name):
    """Speed, current and thrust at full throttle on 7 V, motor M01 by its own line.

    The propeller is known by diameter, pitch, blades and style only: its band is wide.
    """
    rows = bench_rows(motor="M01", prop=name)
    full = (rows["esc_us"] >= 1990) & (rows["supply_nominal_V"] == 7)
    volts, amps, rpm, grams = (
        float(rows[key][full][0]) for key in ("V_V", "I_A", "rpm", "thrust_gf")
    )
    fit = _fitted("M01")
    blades = propeller(
        diameter=5 * 0.0254,
        pitch=float(rows["P_in"][0]) * 0.0254,
        blades=int(rows["blades"][0]),
        style="multirotor",
    )
    one = powering.line(
        propeller=kept_propeller(blades),
        motor=powering.motor(
            fit.speed_constant * 30.0 / math.pi, resistance=fit.resistance, idle_current=0.6
        ),
        controller=powering.controller(resistance=0.0, leads=0.0),
    )
    # A stiff supply: as many cells as there are volts, at the chart's 4.2 V each.
    stiff = powering.group(one, cells=1, resistance=0.0)
    (point,) = match(_at_volts(stiff, volts), charge=1.0, air=Air(density=1.20), with_bands=True)
    bands = point.bands
    assert bands is not None
    for what, got, right, band in (
        ("rpm", float(point.rpm), rpm, 120.0 * float(bands.rotation)),
        ("A", float(point.pack_amps), amps, 2.0 * float(bands.pack_amps)),
        ("gf", 1e3 * float(point.thrust) / GRAVITY, grams, 2e3 * float(bands.thrust) / GRAVITY),
    ):
        agrees(f"M01 with {name}: {what}", got=got, expected=right, tol_abs=band)


def _at_volts(tied, volts: float):
    """The group on a supply of fixed volts."""

    @dataclass(frozen=True)
    class Supply:
        cells: int = 1

        def resting_volts(self, charge):
            return np.full(np.shape(charge), volts)

        def resistance_at(self, charge):
            return np.zeros(np.shape(charge))

        resistance_scatter: float = 0.0

    return replace(tied, pack=Supply())
