"""The propeller model: its promises to those who call it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from foamwright.errors import DomainError
from foamwright.power.propeller import (
    BladeGeometry,
    StaticReading,
    bench_suite,
    propeller_model,
    propeller_suite,
)
from foamwright.power.propeller.build import ANGLE_START, ANGLE_STEP, propeller_models
from foamwright.power.propeller.element import Rings, ring_flow, ring_loads, solve_inflow
from foamwright.power.propeller.laws import (
    HUB,
    LAWS,
    STATIONS,
    WEIGHTS,
    lift_and_drag,
)
from foamwright.power.propeller.measured import named_propeller
from foamwright.power.propeller.styles import NOMINAL_WIDTHS, STYLES, nominal_width, style_of
from foamwright.power.propeller.suite import TIERS

DATA = Path(__file__).parents[1] / "data"
SPORT = named_propeller("ten", diameter=0.254, pitch=0.1524, blades=2, style="sport")
MODEL = propeller_model(SPORT)
BLADE = BladeGeometry(
    radius_fraction=(0.15, 0.3, 0.5, 0.7, 0.9, 1.0),
    chord_fraction=(0.12, 0.17, 0.18, 0.16, 0.11, 0.02),
    twist=tuple(np.radians((32.0, 30.0, 21.0, 15.5, 12.0, 10.5))),
)


def slow_but_sure(j: float, tip_reynolds: float, blade=BLADE) -> tuple[float, float]:
    """The same laws by bisection, ring by ring."""
    law = LAWS.tiers["geometry"]
    chord = np.interp(STATIONS, blade.radius_fraction, blade.chord_fraction)
    chord = chord * np.exp(law.chord[0])
    twist = np.interp(STATIONS, blade.radius_fraction, blade.twist)
    rings = Rings(
        radius=STATIONS,
        chord=chord,
        angle=twist + law.angle + law.class_angle.get("sport", 0.0),
        blades=2.0,
        hub=HUB,
    )
    number = tip_reynolds * STATIONS * chord / np.interp(0.75, STATIONS, chord)

    def section(incidence, reynolds, ratio):
        lift, drag = lift_and_drag(incidence, reynolds, ratio, law=LAWS.section)
        return lift, drag * np.exp(law.drag)

    phi = solve_inflow(
        np.arctan(j / (np.pi * STATIONS)), rings=rings, section=section, reynolds=number
    )
    flow = ring_flow(phi, rings=rings, section=section, reynolds=number)
    ct, cp = ring_loads(phi, flow=flow, rings=rings, advance_ratio=np.array(j))
    return float(ct @ WEIGHTS), float(cp @ WEIGHTS)


@pytest.mark.parametrize("j", [-0.3, 0.0, 0.07, 0.31, 0.55, 0.8, 1.1, 2.0, 4.0])
@pytest.mark.parametrize("number", [2e4, 6e4, 2.5e5])
def test_table_equals_bisection(j, number):
    model = propeller_model(SPORT, geometry=BLADE)
    got = model.coefficients(j, tip_reynolds=number)
    ct, cp = slow_but_sure(j, number)
    # 1 % of the peak of ct, 2 % of that of cp; grows as J² where coefficients do
    size = 1.0 + (j / 2.2) ** 2
    assert float(got.ct) == pytest.approx(ct, abs=0.0012 * size)
    assert float(got.cp) == pytest.approx(cp, abs=0.0009 * size)


def test_scalars_equal_slices_of_a_batch():
    j = np.linspace(-0.5, 1.5, 21)[:, None]
    n = np.linspace(20.0, 250.0, 21)
    batch = MODEL.coefficients(j, rotation=n)
    assert batch.ct.shape == batch.cp_scatter.shape == (21, 21)
    one = MODEL.coefficients(float(j[7, 0]), rotation=float(n[3]))
    assert one.ct.shape == ()
    for name in ("ct", "cp", "ct_scatter", "cp_scatter"):
        assert float(getattr(one, name)) == pytest.approx(float(getattr(batch, name)[7, 3]))


def test_many_equal_each():
    others = [replace(SPORT, key=str(b), blades=b) for b in (2, 3, 4)]
    for model, blade in zip(propeller_models(others), others, strict=True):
        got = model.coefficients(0.2, rotation=100.0)
        assert got.ct == propeller_model(blade).coefficients(0.2, rotation=100.0).ct


def test_smooth_to_the_first_derivative():
    """Slopes either side of every node agree."""
    nodes = np.tan(ANGLE_START + ANGLE_STEP * np.arange(1, 30)) * 0.7 * np.pi
    h = 1e-6
    ask = {"tip_reynolds": 7e4}
    here = MODEL.coefficients(nodes, **ask)
    left, right = MODEL.coefficients(nodes - h, **ask), MODEL.coefficients(nodes + h, **ask)
    for name in ("ct", "cp", "ct_scatter", "cp_scatter"):
        a = (getattr(here, name) - getattr(left, name)) / h
        b = (getattr(right, name) - getattr(here, name)) / h
        assert np.allclose(a, b, atol=1e-4)


def test_finite_for_any_blade_and_speed():
    """No iteration, so nothing that could fail to converge."""
    rng = np.random.default_rng(4)
    j = np.concatenate([np.linspace(-0.9, 3.0, 40), [10.0, 1e3]])[:, None]
    for _ in range(60):
        diameter = rng.uniform(0.08, 0.4)
        blade = named_propeller(
            "any",
            diameter=diameter,
            pitch=diameter * rng.uniform(0.15, 1.6),
            blades=int(rng.integers(1, 7)),
            style=str(rng.choice(STYLES)),
            width=rng.choice([None, diameter * rng.uniform(0.03, 0.2)]),
        )
        got = propeller_model(blade).coefficients(j, rotation=[0.0, 5.0, 90.0, 600.0])
        for values in (got.ct, got.cp, got.ct_scatter, got.cp_scatter):
            assert np.isfinite(values).all()
        assert (got.ct_scatter > 0.0).all()
        assert (got.ct[:, 2][j[:, 0] == 0.0] > 0.0).all()
        assert got.ct[-1, 2] < 0.0


def test_drives_then_brakes_then_mills():
    got = MODEL.coefficients(np.array([0.0, 0.4, 1.2]), rotation=100.0)
    assert got.ct[0] > got.ct[1] > 0.0 > got.ct[2]
    assert got.cp[0] > 0.0 > got.cp[2]
    outside = MODEL.coefficients(np.array([-0.8, 0.4, 2.0]), rotation=100.0)
    assert outside.ct_scatter[0] > outside.ct_scatter[1] < outside.ct_scatter[2]


def test_nan_in_gives_nan_out():
    got = MODEL.coefficients(np.array([0.3, np.nan]), rotation=100.0)
    assert np.isfinite(got.ct[0])
    assert np.isnan(got.ct[1])


def test_reading_brings_thrust_to_the_scale():
    plain = float(MODEL.coefficients(0.0, rotation=110.0).ct)
    for share in (0.85, 1.0, 1.2):
        thrust = share * plain * 1.225 * 110.0**2 * 0.254**4
        model = propeller_model(SPORT, reading=StaticReading(thrust=thrust, rotation=110.0))
        got = model.coefficients(0.0, rotation=110.0)
        # Not all the way: the reading has a scatter, and so have propellers
        assert float(got.ct) == pytest.approx(share * plain, rel=0.035)
        assert got.ct_scatter < MODEL.coefficients(0.0, rotation=110.0).ct_scatter
        assert "reading" in model.basis


def test_reading_by_volts_and_amps_weighs_less():
    constant, ohms = 104.7, 0.1  # rad/s per V, ohm
    volts, amps = 8.0, 11.0
    rotation = constant * (volts - amps * ohms) / (2.0 * np.pi)
    plain = float(MODEL.coefficients(0.0, rotation=rotation).ct)
    thrust = 1.2 * plain * 1.225 * rotation**2 * 0.254**4
    electric = StaticReading(
        thrust=thrust, volts=volts, amps=amps, speed_constant=constant, resistance=ohms
    )
    assert electric.speed == pytest.approx(rotation)
    by_amps = propeller_model(SPORT, reading=electric).coefficients(0.0, rotation=rotation)
    counted = StaticReading(thrust=thrust, rotation=rotation)
    by_count = propeller_model(SPORT, reading=counted).coefficients(0.0, rotation=rotation)
    assert plain < float(by_amps.ct) < float(by_count.ct)
    with pytest.raises(DomainError):
        _ = StaticReading(thrust=1.0, volts=8.0).speed


def test_more_knowledge_is_named():
    assert propeller_model(replace(SPORT, style="")).basis == "diameter, pitch, blades"
    assert MODEL.basis.endswith("class")
    assert propeller_model(replace(SPORT, blade_width=0.024)).basis.endswith("class, width")
    assert "measured" in propeller_model(SPORT, geometry=BLADE).basis


def test_wider_blades_pull_more():
    narrow, wide = (
        propeller_model(replace(SPORT, blade_width=w)).coefficients(0.0, rotation=100.0).ct
        for w in (0.018, 0.03)
    )
    assert narrow < wide


def test_styles_and_notes():
    assert style_of("Slow-Fly") == style_of("slow flyer") == "slow flyer"
    assert style_of("carved by hand") == ""
    assert all(style_of(style) == style for style in STYLES)
    assert set(NOMINAL_WIDTHS) <= set(STYLES)
    assert nominal_width("slow-fly", diameter=0.2) == pytest.approx(0.0227)
    assert nominal_width("carved by hand", diameter=0.2) is None
    odd = propeller_model(replace(SPORT, style="carved by hand", diameter=0.7))
    assert len(odd.notes) == 3  # style, size, pitch over diameter


@pytest.mark.parametrize(
    "change", [{"diameter": 0.0}, {"pitch": -0.1}, {"blades": 0}], ids=lambda c: next(iter(c))
)
def test_nonsense_is_refused(change):
    with pytest.raises(DomainError):
        propeller_model(replace(SPORT, **change))


def test_one_of_rotation_and_number():
    with pytest.raises(DomainError):
        MODEL.coefficients(0.1)
    with pytest.raises(DomainError):
        MODEL.coefficients(0.1, rotation=100.0, tip_reynolds=5e4)
    number = float(MODEL.tip_reynolds(100.0))
    a, b = (MODEL.coefficients(0.1, **k) for k in ({"rotation": 100.0}, {"tip_reynolds": number}))
    assert a.ct == b.ct


def test_blade_geometry_is_checked():
    with pytest.raises(DomainError):
        replace(BLADE, twist=BLADE.twist[:-1])
    with pytest.raises(DomainError):
        replace(BLADE, radius_fraction=BLADE.radius_fraction[::-1])


def test_suite_reads_a_folder_laid_out_like_the_tables(tmp_path):
    names = "P090x0500-2b-d.csv", "P090x0500-2b-d_geom.csv"
    for name in names:
        (tmp_path / name).write_bytes((DATA / "props" / name).read_bytes())
    lines = (DATA / "props" / "manifest.csv").read_text(encoding="utf-8").splitlines()
    # The second has no table here and is left out
    kept = [lines[0], *(line for line in lines if line.startswith(("P090x0500-2b-d", "P040x0250")))]
    (tmp_path / "manifest.csv").write_text("\n".join(kept), encoding="utf-8")
    found = propeller_suite(tmp_path)
    assert [one.count for one in found.tiers] == [1] * len(TIERS)
    assert found.propellers[0].ct_error < 0.1


def test_suites_refuse_folders_without_tables(tmp_path):
    with pytest.raises(DomainError):
        propeller_suite(tmp_path)
    with pytest.raises(DomainError):
        bench_suite(tmp_path)
    (tmp_path / "bench_mine.csv").write_text("motor,prop\nM1,P1\n", encoding="utf-8")
    with pytest.raises(DomainError, match="D_in"):
        bench_suite(tmp_path)


def test_bench_suite_finds_the_one_file_of_a_folder(tmp_path):
    text = (DATA / "bench_static_5in.csv").read_text(encoding="utf-8")
    (tmp_path / "bench_mine.csv").write_text(text, encoding="utf-8")
    assert bench_suite(tmp_path).tiers[0].count == 5
