"""Closed forms against brute force, and their limits."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.sections import (
    acting_deflection,
    flap_effect,
    glauert_terms,
    hinge_bias,
    thin_aerofoil,
)
from foamwright.errors import DomainError


def test_stack_of_mean_lines_equals_one_by_one():
    rng = np.random.default_rng(3)
    x = np.sort(rng.uniform(0.05, 0.95, (4, 2, 5)), axis=-1)
    x = np.concatenate([np.zeros((4, 2, 1)), x, np.ones((4, 2, 1))], axis=-1)
    z = rng.uniform(-0.05, 0.05, x.shape)
    lines = np.stack([x, z], axis=-1)
    together = thin_aerofoil(lines)
    assert together.alpha0.shape == (4, 2)
    for i in np.ndindex(4, 2):
        alone = thin_aerofoil(lines[i])
        for field in ("alpha0", "ideal_alpha", "design_cl", "cm_c4"):
            assert getattr(alone, field) == pytest.approx(float(getattr(together, field)[i]))


def test_terms_equal_their_integrals():
    line = np.array([[0.0, 0.0], [0.2, 0.03], [0.55, 0.05], [1.0, 0.0]])
    theta = (np.arange(200_000) + 0.5) * np.pi / 200_000
    slope = np.diff(line[:, 1]) / np.diff(line[:, 0])
    at = slope[np.searchsorted(line[1:-1, 0], 0.5 - 0.5 * np.cos(theta))]
    terms = glauert_terms(line, order=4)
    assert terms[0] == pytest.approx(at.mean(), abs=1e-6)
    for n in range(1, 5):
        assert terms[n] == pytest.approx(2.0 * (at * np.cos(n * theta)).mean(), abs=2e-5)


def test_flap_is_a_kinked_mean_line():
    drop = 1e-4
    for fraction in (0.15, 0.3, 0.6):
        line = [[0.0, 0.0], [1.0 - fraction, 0.0], [1.0, -drop * fraction]]
        thin, flap = thin_aerofoil(line), flap_effect(fraction)
        assert -thin.alpha0 / drop == pytest.approx(float(flap.tau), rel=1e-6)
        assert thin.cm_c4 / drop == pytest.approx(float(flap.cm_delta), rel=1e-6)
        assert thin.ideal_alpha / drop == pytest.approx(float(flap.ideal_delta), rel=1e-6)
        assert thin.design_cl / drop == pytest.approx(float(flap.design_cl_delta), rel=1e-6)
        bias = hinge_bias(line, fraction=fraction)
        assert bias / drop == pytest.approx(float(flap.ch_delta), rel=1e-6)


def test_step_is_the_limit_of_a_ramp():
    step = thin_aerofoil([[0.0, 0.01], [0.4, 0.01], [0.4, 0.0], [1.0, 0.0]])
    ramp = thin_aerofoil([[0.0, 0.01], [0.4, 0.01], [0.4 + 1e-7, 0.0], [1.0, 0.0]])
    assert step.alpha0 == pytest.approx(float(ramp.alpha0), rel=1e-5)
    assert step.cm_c4 == pytest.approx(float(ramp.cm_c4), rel=1e-5)


@pytest.mark.parametrize("kink", [0.15, 0.4, 0.7, 0.9])
def test_hinge_bias_equals_its_integral(kink):
    deflection, hinge = 0.02, 0.7
    theta_h, phi = np.arccos(1.0 - 2.0 * hinge), np.arccos(1.0 - 2.0 * kink)
    n = 400_000
    theta = theta_h + (np.arange(n) + 0.5) * (np.pi - theta_h) / n
    load = (
        4.0
        * deflection
        * (
            (1.0 - phi / np.pi) / np.tan(0.5 * theta)
            + np.log(np.abs(np.sin(0.5 * (theta + phi)) / np.sin(0.5 * (theta - phi)))) / np.pi
        )
    )
    arm = 0.5 * (np.cos(theta_h) - np.cos(theta))
    moment = (load * arm * 0.5 * np.sin(theta)).mean() * (np.pi - theta_h)
    line = [[0.0, 0.0], [kink, 0.0], [1.0, -deflection * (1.0 - kink)]]
    assert hinge_bias(line, fraction=0.3) == pytest.approx(-moment / 0.09, rel=1e-4)


def test_a_flap_of_the_whole_chord_is_incidence():
    flap = flap_effect(1.0 - 1e-9)
    assert flap.tau == pytest.approx(1.0, abs=1e-4)
    assert flap.cm_delta == pytest.approx(0.0, abs=1e-4)


@pytest.mark.parametrize(
    "line",
    [
        [[0.0, 0.0]],
        [[0.1, 0.0], [1.0, 0.0]],
        [[0.0, 0.0], [0.9, 0.0]],
        [[0.0, 0.0], [0.6, 0.0], [0.5, 0.0], [1.0, 0.0]],
    ],
)
def test_no_such_mean_line(line):
    with pytest.raises(DomainError):
        thin_aerofoil(line)


def test_hinge_bias_refuses_steps():
    with pytest.raises(DomainError):
        hinge_bias([[0.0, 0.01], [0.4, 0.01], [0.4, 0.0], [1.0, 0.0]], fraction=0.3)


@pytest.mark.parametrize("fraction", [0.0, 1.0, -0.2, np.nan])
def test_no_such_flap(fraction):
    with pytest.raises(DomainError):
        flap_effect(fraction)


def test_acting_deflection_is_odd_rising_and_less_than_the_angle():
    angle = np.radians(np.linspace(-60.0, 60.0, 241))
    for reynolds in (1e4, 1e5, 1.4e5, 2e5, 3e5, 4e5, 1e6):
        acting = acting_deflection(angle, reynolds=reynolds)
        np.testing.assert_allclose(acting, -acting[::-1], atol=1e-12)
        assert np.all(np.diff(acting) > 0.0)
        assert np.all(np.abs(acting) <= np.abs(angle) + 1e-12)
    beyond = acting_deflection(np.radians([60.0, 80.0]), reynolds=1e5)
    assert beyond[0] == pytest.approx(beyond[1])
