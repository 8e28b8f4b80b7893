"""What every section polar must do, whatever the section."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from foamwright.air.sections import (
    REYNOLDS_RANGE,
    Make,
    Nose,
    SectionPolar,
    library_polar,
    section_polar,
    shape_polar,
)
from foamwright.errors import DomainError
from tests.unit.air_sections_samples import CHORD, SECTIONS, STOCK, sample

NAMES = [*SECTIONS, "e387", "bw3"]
ROUND = np.linspace(-np.pi, np.pi, 1441)


@lru_cache
def polar(name: str) -> SectionPolar:
    return library_polar(name) if name in ("e387", "bw3") else sample(name)


def test_every_make_has_a_sample():
    assert {polar(name).shape.make for name in SECTIONS} == set(Make)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("reynolds", [1e4, 2e4, 6e4, 1.3e5, 5e5, 2e6])
def test_finite_with_drag_above_nought_right_round(name, reynolds):
    found = (
        polar(name)
        .with_flap(0.25)
        .coefficients(ROUND, reynolds=reynolds, deflection=np.array([[-0.5], [0.0], [0.5]]))
    )
    for value in (found.cl, found.cd, found.cm, found.cl_band, found.cd_band, found.cm_band):
        assert np.all(np.isfinite(value))
    assert found.cd.min() > 0.003
    assert np.abs(found.cl).max() < 3.0
    assert found.cd.max() < 2.8


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("deflection", [0.0, 0.2])
def test_values_and_slopes_run_on(name, deflection):
    """A step of 1e-6 moves values by no more than a slope allows, and slopes hardly at all."""
    p = polar(name).with_flap(0.3)
    rng = np.random.default_rng(1)
    alpha = np.concatenate([rng.uniform(-4.0, 4.0, 400), ROUND[::7]])
    h = 1e-5

    def slope(at):
        up = p.coefficients(at + h, reynolds=9e4, deflection=deflection)
        down = p.coefficients(at - h, reynolds=9e4, deflection=deflection)
        return np.array([up.cl - down.cl, up.cd - down.cd, up.cm - down.cm]) / (2.0 * h)

    before, after = slope(alpha), slope(alpha + 3e-5)
    assert np.abs(before).max() < 25.0
    assert np.abs(after - before).max() < 0.1


@pytest.mark.parametrize("name", NAMES)
def test_runs_on_in_reynolds_number(name):
    p = polar(name)
    log_re = np.linspace(4.0, 6.0, 2001)
    found = p.coefficients(0.07, reynolds=10.0**log_re)
    inside = (log_re > np.log10(REYNOLDS_RANGE[0])) & (log_re < np.log10(REYNOLDS_RANGE[1]))
    for value in (found.cl, np.log(found.cd), found.cm):
        assert np.abs(np.diff(value)).max() < 0.01
        slope = np.diff(value[inside]) / np.diff(log_re[inside])
        assert np.abs(np.diff(slope)).max() < 0.06
    low, high = p.reynolds_range
    np.testing.assert_array_equal(found.within, (10.0**log_re >= low) & (10.0**log_re <= high))


def test_edge_is_held_outside_the_tables():
    low, high = REYNOLDS_RANGE
    for outside, edge in ((low / 3.0, low), (high * 3.0, high)):
        out = polar("creased").coefficients(0.1, reynolds=outside)
        held = polar("creased").coefficients(0.1, reynolds=edge)
        assert not out.within
        assert held.within
        assert out.cl == pytest.approx(float(held.cl), abs=1e-12)
        assert out.cd == pytest.approx(float(held.cd), rel=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_one_turn_is_no_turn(name):
    p = polar(name)
    here = p.coefficients(ROUND[::10], reynolds=1e5)
    there = p.coefficients(ROUND[::10] + 2.0 * np.pi, reynolds=1e5)
    np.testing.assert_allclose(here.cl, there.cl, atol=1e-9)
    np.testing.assert_allclose(here.cd, there.cd, rtol=1e-9)


@pytest.mark.parametrize("name", ["flat", "symmetric"])
def test_symmetric_sections_are_odd_in_incidence_and_flap(name):
    p = polar(name).with_flap(0.3)
    for deflection in (0.0, 0.25):
        up = p.coefficients(ROUND, reynolds=8e4, deflection=deflection)
        down = p.coefficients(-ROUND, reynolds=8e4, deflection=-deflection)
        np.testing.assert_allclose(up.cl, -down.cl, atol=1e-9)
        np.testing.assert_allclose(up.cd, down.cd, rtol=1e-9)
        np.testing.assert_allclose(up.cm, -down.cm, atol=1e-9)
    assert p.alpha0(1e5) == pytest.approx(0.0, abs=1e-9)
    assert p.clmax(1e5) == pytest.approx(-float(p.clmin(1e5)), abs=1e-9)


@pytest.mark.parametrize("name", ["creased", "profiled"])
def test_camber_down_is_the_mirror_image(name):
    shape = polar(name).shape
    turned = shape_polar(replace(shape, mean_line=shape.mean_line * np.array([1.0, -1.0])))
    up = polar(name).coefficients(ROUND, reynolds=8e4)
    down = turned.coefficients(-ROUND, reynolds=8e4)
    np.testing.assert_allclose(up.cl, -down.cl, atol=1e-9)
    np.testing.assert_allclose(up.cd, down.cd, rtol=1e-9)
    np.testing.assert_allclose(up.cm, -down.cm, atol=1e-9)


def test_a_flat_sheet_met_tail_first_is_the_same_sheet():
    p = polar("flat")
    alpha = np.radians(np.linspace(-85.0, 85.0, 35))
    ahead = p.coefficients(alpha, reynolds=1e5)
    behind = p.coefficients(np.pi - alpha, reynolds=1e5)
    np.testing.assert_allclose(behind.cl, -ahead.cl, atol=0.02)
    np.testing.assert_allclose(behind.cd, ahead.cd, rtol=0.03, atol=0.002)


@pytest.mark.parametrize("name", NAMES)
def test_vector_equals_scalar(name):
    p = polar(name).with_flap(0.3)
    rng = np.random.default_rng(7)
    alpha, reynolds = rng.uniform(-3.0, 3.0, 40), 10.0 ** rng.uniform(4.2, 5.8, 40)
    deflection = rng.uniform(-0.6, 0.6, 40)
    together = p.coefficients(alpha, reynolds=reynolds, deflection=deflection)
    for i in range(40):
        alone = p.coefficients(alpha[i], reynolds=reynolds[i], deflection=deflection[i])
        assert alone.cl.shape == ()
        for field in ("cl", "cd", "cm", "attached", "cl_band", "cd_band", "cm_band"):
            assert getattr(alone, field) == pytest.approx(
                float(getattr(together, field)[i]), abs=1e-12
            )


def test_arguments_broadcast():
    found = polar("flat").coefficients(np.zeros((3, 1)), reynolds=np.full(4, 1e5))
    assert found.cl.shape == found.within.shape == found.cd_band.shape == (3, 4)


@pytest.mark.parametrize("name", SECTIONS)
@pytest.mark.parametrize("reynolds", [3e4, 1e5, 3e5])
def test_lift_rises_between_the_stalls(name, reynolds):
    p = polar(name)
    low = -4.0 if name in ("creased", "curved") else -6.0
    alpha = np.radians(np.arange(low, np.degrees(p.stall_alpha(reynolds)) - 1.0, 0.25))
    assert np.all(np.diff(p.lift(alpha, reynolds=reynolds)) > 0.0)


@pytest.mark.parametrize("name", SECTIONS)
def test_force_of_a_stalled_section_grows_to_a_right_angle(name):
    alpha = np.radians(np.arange(25.0, 90.1, 1.0))
    found = polar(name).coefficients(alpha, reynolds=1e5)
    normal = found.cl * np.cos(alpha) + found.cd * np.sin(alpha)
    assert np.all(np.diff(normal) > -1e-6)
    assert np.all(np.diff(found.cd) > 0.0)


@pytest.mark.parametrize("name", NAMES)
def test_flap_down_lifts(name):
    p = polar(name).with_flap(0.3)
    deflection = np.radians(np.arange(-30.0, 30.1, 2.0))
    found = p.coefficients(0.05, reynolds=1e5, deflection=deflection)
    near = found.attached > 0.95
    assert np.all(np.diff(found.cl[near]) > 0.0)
    assert np.all(np.diff(found.cm[near]) < 1e-9)
    assert np.all(np.diff(p.alpha0(1e5, deflection=deflection[8:24])) < 0.0)
    assert p.clmax(1e5, deflection=0.2) > p.clmax(1e5)


def test_a_gap_takes_effect_from_a_flap():
    closed = polar("flat").with_flap(0.3).lift(0.0, reynolds=1e5, deflection=0.1)
    ajar = polar("flat").with_flap(0.3, gap=0.0025).lift(0.0, reynolds=1e5, deflection=0.1)
    opened = polar("flat").with_flap(0.3, gap=0.02).lift(0.0, reynolds=1e5, deflection=0.1)
    assert closed > ajar > opened > 0.8 * closed


def test_without_a_flap_a_deflection_does_nothing():
    p = polar("creased")
    assert p.lift(0.1, reynolds=1e5, deflection=0.3) == p.lift(0.1, reynolds=1e5)


@pytest.mark.parametrize(("fraction", "gap"), [(0.0, 0.0), (1.0, 0.0), (0.3, -0.01)])
def test_no_such_flap(fraction, gap):
    with pytest.raises(DomainError):
        polar("flat").with_flap(fraction, gap=gap)


def test_thin_evidence_is_said_in_every_answer():
    for name, word in [
        ("stepped", "no measured polar"),
        ("folded", "not measured"),
        ("creased", "no measured polar"),
        ("flat", "thin sheet"),
    ]:
        found = polar(name).coefficients(0.1, reynolds=1e5)
        assert any(word in note for note in found.notes), name
        assert found.sources
    assert polar("stepped").coefficients(0.1, reynolds=1e5).cl_band > 2 * float(
        polar("profiled").coefficients(0.1, reynolds=1e5).cl_band
    )


def test_square_nose_costs_drag_and_says_so():
    def flat(nose):
        return section_polar(SECTIONS["flat"], chord=CHORD, stock=STOCK, nose=nose)

    square, rounded = flat(Nose.SQUARE), flat(Nose.ROUND)
    alpha = np.radians([-4.0, 0.0, 4.0])
    dearer = (
        square.coefficients(alpha, reynolds=1e5).cd - rounded.coefficients(alpha, reynolds=1e5).cd
    )
    np.testing.assert_allclose(dearer, 0.65 * 0.025, rtol=1e-6)
    assert any("square nose" in note for note in square.notes)


def test_drag_falls_and_lift_rises_with_reynolds_number():
    reynolds = np.array([2e4, 5e4, 1e5, 2e5, 5e5])
    for name in SECTIONS:
        found = polar(name).coefficients(0.06, reynolds=reynolds)
        assert np.all(np.diff(found.cd) < 0.0), name
        assert np.all(np.diff(found.cl) > -0.01), name


@pytest.mark.parametrize("name", SECTIONS)
def test_zero_lift_is_where_lift_is_zero(name):
    p = polar(name)
    for reynolds in (4e4, 1e5, 3e5):
        assert p.lift(p.alpha0(reynolds), reynolds=reynolds) == pytest.approx(0.0, abs=2e-3)


def test_thicker_sheet_on_the_same_chord_drags_more():
    thin = section_polar(SECTIONS["flat"], chord=0.25, stock=STOCK)
    thick = section_polar(SECTIONS["flat"], chord=0.10, stock=STOCK)
    assert thick.coefficients(0.0, reynolds=1e5).cd > thin.coefficients(0.0, reynolds=1e5).cd


def test_chord_must_be_positive():
    with pytest.raises(DomainError):
        section_polar(SECTIONS["flat"], chord=0.0, stock=STOCK)
