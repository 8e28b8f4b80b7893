"""Polygons in the plane."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.errors import DomainError
from foamwright.flat.plane import cut_out, lie, rotation, signed_area, tidy

BOARD = np.array([[0.0, 0.0], [0.5, 0.0], [0.5, 0.2], [0.0, 0.2]])


def rectangle(left, low, right, high):
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def test_area_agrees_with_shapely():
    rng = np.random.default_rng(5)
    hull = shapely.get_coordinates(
        shapely.convex_hull(shapely.MultiPoint(rng.normal(size=(30, 2))))
    )[:-1]
    assert abs(signed_area(hull)) == pytest.approx(shapely.Polygon(hull).area, rel=1e-13)
    assert signed_area(hull[::-1]) == pytest.approx(-signed_area(hull))


def test_tidy_drops_repeats_and_points_on_the_straight():
    ring = np.array([[0, 0], [0.2, 0], [0.5, 0], [0.5, 0], [0.5, 0.2], [0, 0.2], [0, 0.1]])
    np.testing.assert_allclose(tidy(ring), BOARD)


def test_hole_stays_a_hole_and_runs_clockwise():
    outline, (hole,) = cut_out(BOARD, [rectangle(0.1, 0.05, 0.2, 0.1)])
    assert len(outline) == 4
    assert signed_area(outline) == pytest.approx(0.1, rel=1e-12)
    assert signed_area(hole) == pytest.approx(-0.1 * 0.05, rel=1e-12)


def test_notch_at_the_edge_is_part_of_the_outline():
    outline, holes = cut_out(BOARD, [rectangle(0.1, 0.0, 0.3, 0.05)])
    assert holes == ()
    assert len(outline) == 8
    assert signed_area(outline) == pytest.approx(0.1 - 0.01, rel=1e-13)


@pytest.mark.parametrize("error", [0.0, 1e-12, -1e-12, 3e-10])
def test_rounding_leaves_no_slivers(error):
    """A notch whose edge misses the outline's by rounding still has eight corners."""
    outline, holes = cut_out(BOARD, [rectangle(0.1, error, 0.3, 0.05)])
    assert holes == ()
    assert len(outline) == 8


def test_notch_in_a_corner_and_two_that_touch():
    outline, _ = cut_out(BOARD, [rectangle(0.3, 0.0, 0.5, 0.05)])
    assert len(outline) == 6
    outline, _ = cut_out(BOARD, [rectangle(0.3, 0, 0.5, 0.05), rectangle(0.1, 0, 0.3, 0.08)])
    assert len(outline) == 8
    assert signed_area(outline) == pytest.approx(0.1 - 0.01 - 0.016, rel=1e-12)


def test_a_cut_through_is_refused():
    with pytest.raises(DomainError, match="in pieces"):
        cut_out(BOARD, [rectangle(0.2, 0.0, 0.3, 0.2)])
    with pytest.raises(DomainError, match="nothing"):
        cut_out(BOARD, [rectangle(-1, -1, 1, 1)])


@settings(max_examples=40, deadline=None)
@given(
    st.floats(-math.pi, math.pi),
    st.floats(0.02, 0.3),
    st.floats(0.0, 0.4),
)
def test_a_part_lies_along_the_page_with_its_top_up(angle, height, slant):
    part = np.array([[0, 0], [0.6, 0], [0.6 - 0.5 * slant * height, height], [0, height]])
    turned = part @ rotation(angle)
    up = np.array([0.0, 1.0]) @ rotation(angle)
    matrix = lie(turned, upward=up)
    assert np.linalg.det(matrix) == pytest.approx(1.0)
    laid = turned @ matrix
    size = laid.max(axis=0) - laid.min(axis=0)
    assert size[0] == pytest.approx(0.6, abs=1e-6)
    assert size[1] == pytest.approx(height, abs=1e-6)
    assert (up @ matrix)[1] == pytest.approx(1.0)


def test_box_is_the_smallest():
    rng = np.random.default_rng(4)
    for _ in range(5):
        points = rng.normal(size=(25, 2)) * np.array([3.0, 1.0])
        hull = shapely.get_coordinates(shapely.convex_hull(shapely.MultiPoint(points)))[:-1]
        laid = hull @ lie(hull, upward=np.array([0.0, 1.0]))
        size = laid.max(axis=0) - laid.min(axis=0)
        best = shapely.minimum_rotated_rectangle(shapely.Polygon(hull)).area
        assert size[0] * size[1] == pytest.approx(best, rel=1e-9)


def test_rounding_does_not_turn_a_part_over():
    """A trapezium has two equal boxes; a hair more or less on one edge must not flip it."""
    part = np.array([[0, 0], [0.5, 0.03], [0.5, 0.17], [0, 0.2]])
    up = np.array([0.0, 1.0])
    first = lie(part, upward=up)
    rng = np.random.default_rng(0)
    for _ in range(10):
        np.testing.assert_allclose(
            lie(part + 1e-12 * rng.normal(size=part.shape), upward=up), first, atol=1e-9
        )
