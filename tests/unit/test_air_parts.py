"""Pieces of the lattice: points along the chord, strips along the span, wake integrals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from foamwright.air import thin_aerofoil
from foamwright.air.chordwise import (
    chord_points,
    control_slopes,
    hinge_slopes,
    hinge_weights,
    plane_flow,
)
from foamwright.air.sections.thin import flap_effect
from foamwright.air.stations import strip_stations
from foamwright.air.wakes import band_inverse, strip_band_inverse

# ---------------------------------------------------------------- along the chord


def in_plane_flow(line: np.ndarray, rows: int) -> tuple[float, float]:
    """Zero-lift angle and quarter-chord moment of a mean line by the lattice in plane flow."""
    vortex, control = chord_points(rows)
    downwash = 1.0 / (2.0 * np.pi * (control[:, None] - vortex))
    lines = np.column_stack([np.ones(rows), -control_slopes(line, rows=rows)])
    strength = np.linalg.solve(downwash, lines)
    lift = 2.0 * strength.sum(axis=0)
    moment = -2.0 * ((vortex - 0.25) @ strength)
    assert lift[0] == pytest.approx(2.0 * np.pi)
    assert moment[0] == pytest.approx(0.0, abs=1e-12)
    return -lift[1] / lift[0], float(moment[1])


MEAN_LINES = {
    "crease": np.array([[0, 0], [0.35, 0.05], [1, 0]]),
    "two creases": np.array([[0, 0], [0.2, 0.04], [0.7, 0.05], [1, 0]]),
    "hinge": np.array([[0, 0], [0.83, 0], [1, -0.02]]),
    "step": np.array([[0, 0], [0.5, 0.012], [0.501, 0.004], [1, 0]]),
}


@pytest.mark.parametrize("rows", [2, 3, 4, 7])
@pytest.mark.parametrize("name", MEAN_LINES)
def test_any_mean_line_is_exact_in_plane_flow(name, rows):
    """Creases need not lie between rows; one row has no moment to give."""
    angle, moment = in_plane_flow(MEAN_LINES[name], rows)
    exact_angle, exact_moment = thin_aerofoil(MEAN_LINES[name])
    assert angle == pytest.approx(exact_angle, rel=1e-9, abs=1e-12)
    assert moment == pytest.approx(exact_moment, rel=1e-9, abs=1e-12)


def test_one_row_is_the_classic_quarter_and_three_quarter_points():
    vortex, control = chord_points(1)
    assert float(vortex[0]) == pytest.approx(0.25)
    assert float(control[0]) == pytest.approx(0.75)


def test_flat_line_has_no_slope():
    assert control_slopes(np.array([[0.0, 0.0], [1.0, 0.0]]), rows=4) == pytest.approx(np.zeros(4))


# ---------------------------------------------------------------- along the span


@given(
    inner=st.lists(st.floats(0.02, 0.98), max_size=5, unique=True),
    strips=st.integers(1, 30),
    root_free=st.booleans(),
    tip_free=st.booleans(),
    uniform=st.booleans(),
)
def test_strips_keep_every_break_and_their_order(inner, strips, root_free, tip_free, uniform):
    breaks = np.array([0.0, *sorted(inner), 1.0]) * 0.7 + 0.1
    if np.diff(breaks).min() < 1e-4:
        return
    edge, control = strip_stations(
        breaks, strips=strips, root_free=root_free, tip_free=tip_free, uniform=uniform
    )
    assert set(breaks.tolist()) <= set(edge.tolist())
    assert np.all(np.diff(edge) > 0.0)
    assert np.all((control > edge[:-1]) & (control < edge[1:]))
    assert len(control) == max(strips, len(breaks) - 1)


def test_strips_crowd_at_a_free_tip_only():
    edge, _ = strip_stations(np.array([0.0, 1.0]), strips=12, root_free=False, tip_free=True)
    width = np.diff(edge)
    assert width[-1] < 0.25 * width.max()
    assert width[0] > 0.5 * width.max()
    edge, _ = strip_stations(np.array([0.0, 1.0]), strips=12, root_free=True, tip_free=True)
    assert np.diff(edge) == pytest.approx(np.diff(edge)[::-1])


def test_uniform_strips_have_their_control_in_the_middle():
    edge, control = strip_stations(
        np.array([0.0, 2.0]), strips=4, root_free=False, tip_free=True, uniform=True
    )
    assert edge == pytest.approx([0.0, 0.5, 1.0, 1.5, 2.0])
    assert control == pytest.approx([0.25, 0.75, 1.25, 1.75])


# ---------------------------------------------------------------- wakes

PLACES = st.complex_numbers(max_magnitude=3.0, allow_nan=False, allow_infinity=False)


def by_points(z1: complex, z2: complex, a: complex, b: complex, count: int) -> complex:
    """Mean of 1/(z - place) by the midpoint rule in both."""
    t = (np.arange(count) + 0.5) / count
    off = (z1 + t * (z2 - z1))[:, None] - (a + t * (b - a))
    return complex((1.0 / off).mean())


@pytest.mark.parametrize(
    ("strip", "band"),
    [
        pytest.param((0.0, 1.0), (0.2 + 0.5j, 0.9 + 0.4j), id="above"),
        pytest.param((0.0, 1.0), (2.0, 3.0), id="beside"),
        pytest.param((0.0, 1.0), (1.0, 1.0 + 1.0j), id="corner"),
        pytest.param((0.0, 1.0), (-1.0 - 0.2j, -0.5 - 2.0j), id="below and left"),
        pytest.param((0.0, 1.0j), (-0.3 + 0.41j, 0.5 + 0.48j), id="crossing"),
    ],
)
def test_mean_over_strip_and_band(strip, band):
    ends = [np.array([end], dtype=complex) for end in (*strip, *band)]
    got = complex(strip_band_inverse(*ends)[0])
    assert got == pytest.approx(by_points(*strip, *band, 700), abs=0.02)


def test_mean_over_a_band_it_lies_on_is_the_principal_value():
    """Symmetric overlap: what pulls left and right is in balance across the strip."""
    z1, z2, a, b = (np.array([v], dtype=complex) for v in (0.0, 1.0, 0.0, 1.0))
    assert strip_band_inverse(z1, z2, a, b)[0].real == pytest.approx(0.0, abs=1e-12)
    z1, z2, a, b = (np.array([v], dtype=complex) for v in (0.0, 1.0, 0.5, 1.5))
    x = (np.arange(200_000) + 0.5) / 200_000
    numeric = np.log(np.abs((x - 0.5) / (x - 1.5))).mean()
    assert strip_band_inverse(z1, z2, a, b)[0].real == pytest.approx(numeric, abs=1e-4)


@given(z1=PLACES, z2=PLACES, a=PLACES, b=PLACES, turn=st.floats(-3.0, 3.0))
@example(z1=1 + 0j, z2=1j, a=0j, b=1.5j, turn=1.0)  # its end lies on the band
def test_mean_turns_with_the_picture(z1, z2, a, b, turn):
    if min(abs(z1 - z2), abs(a - b)) < 0.05:
        return
    spun = np.exp(1j * turn)
    plain = strip_band_inverse(*(np.array([v]) for v in (z1, z2, a, b)))[0]
    turned = strip_band_inverse(*(np.array([v * spun]) for v in (z1, z2, a, b)))[0]
    collinear = abs(((z2 - z1).conjugate() * (b - a)).imag) < 1e-9
    if not collinear:
        assert turned * spun == pytest.approx(plain, rel=1e-6, abs=1e-6)


def test_far_bands_act_as_points():
    point = np.array([4.0 + 9.0j])
    got = band_inverse(point, np.array([0.0 + 0j]), np.array([0.01 + 0j]))[0]
    assert got == pytest.approx(1.0 / (point[0] - 0.005), rel=1e-6)


def test_a_point_at_the_end_of_a_band_gives_no_infinity():
    got = band_inverse(np.array([1.0 + 0j]), np.array([1.0 + 0j]), np.array([2.0 + 0j]))
    assert np.isfinite(got).all()


@pytest.mark.parametrize("rows", [1, 4, 7])
def test_hinged_plates_are_mean_lines_too(rows):
    hinges = np.array([1e-9, 0.2, 0.75, 0.97])
    for hinge, slopes in zip(hinges, hinge_slopes(hinges, rows=rows), strict=True):
        line = np.array([[0.0, 0.0], [hinge, 0.0], [1.0, hinge - 1.0]])
        assert slopes == pytest.approx(control_slopes(line, rows=rows), abs=1e-9)


@pytest.mark.parametrize("rows", [1, 3, 4, 8])
def test_a_strip_alone_in_plane_flow(rows):
    """Flat plate: lift of 2 pi per radian at the quarter point, hinge moment of thin theory."""
    circulation = plane_flow(rows).sum(axis=1)
    assert circulation.sum() == pytest.approx(np.pi)
    assert circulation @ chord_points(rows)[0] == pytest.approx(0.25 * np.pi)
    fractions = np.array([0.2, 0.25, 0.3])
    moment = hinge_weights(1.0 - fractions, rows=rows) @ circulation
    assert 2.0 * moment / fractions**2 == pytest.approx(flap_effect(fractions).ch_alpha)
