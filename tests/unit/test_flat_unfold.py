"""Unrolling keeps lengths, areas and angles."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.airframe import RuledSheet
from foamwright.errors import DomainError
from foamwright.flat import place_on, unfold
from foamwright.flat.folds import fold_angle, fold_lines


def ruled(first, second, folds=(), holes=()):
    return RuledSheet(
        first=np.asarray(first, dtype=float),
        second=np.asarray(second, dtype=float),
        thickness=0.005,
        folds=tuple(folds),
        holes=tuple(np.asarray(hole, dtype=float) for hole in holes),
    )


def edges(line):
    return np.linalg.norm(np.diff(line, axis=0), axis=1)


def creased(angle, taper=0.6, sweep=0.3, length=0.5):
    """A creased, tapered, swept panel with plane facets: a slice of a pyramid."""
    nodes = np.array([[0.0, 0.0, 0.0], [0.07, 0.0, 0.02], [0.12, 0.0, 0.024], [0.2, 0.0, 0.0]])
    nodes[1:-1, 2] *= angle
    tip = taper * nodes + np.array([sweep * length, length, 0.05])
    return ruled(nodes, tip, folds=(1, 2))


def rotated(points, seed):
    rng = np.random.default_rng(seed)
    q, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    if np.linalg.det(q) < 0.0:
        q[:, 0] = -q[:, 0]
    return points @ q.T + rng.normal(size=3)


@pytest.mark.parametrize("angle", [-1.0, 0.3, 1.0])
def test_creased_tapered_swept_panel_is_exact(angle):
    sheet = creased(angle)
    flat = unfold(sheet)
    assert flat.length_error < 1e-14
    for line in ("first", "second"):
        np.testing.assert_allclose(
            edges(getattr(flat, line)), edges(getattr(sheet, line)), rtol=1e-12
        )
    rulings = np.linalg.norm(sheet.second - sheet.first, axis=1)
    np.testing.assert_allclose(
        np.linalg.norm(flat.second - flat.first, axis=1), rulings, rtol=1e-12
    )
    # All six lengths of every facet: both diagonals too.
    for one, other in ((slice(None, -1), slice(1, None)), (slice(1, None), slice(None, -1))):
        np.testing.assert_allclose(
            np.linalg.norm(flat.first[one] - flat.second[other], axis=1),
            np.linalg.norm(sheet.first[one] - sheet.second[other], axis=1),
            rtol=1e-12,
        )


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**31))
def test_unrolling_does_not_care_where_the_sheet_stands(seed):
    sheet = creased(1.0)
    moved = ruled(rotated(sheet.first, seed), rotated(sheet.second, seed), folds=(1, 2))
    np.testing.assert_allclose(unfold(moved).first, unfold(sheet).first, atol=1e-13)
    np.testing.assert_allclose(unfold(moved).second, unfold(sheet).second, atol=1e-13)
    assert fold_angle(moved, 1) == pytest.approx(fold_angle(sheet, 1), abs=1e-12)


def test_a_square_lies_as_it_is_seen_from_its_upper_side():
    """Nodes aft, rulings to the right: seen from above, nose up the page, root left."""
    flat = unfold(ruled([[0, 0, 0], [0.2, 0, 0]], [[0, 0.5, 0], [0.2, 0.5, 0]]))
    np.testing.assert_allclose(flat.first, [[0, 0], [0, -0.2]], atol=1e-15)
    np.testing.assert_allclose(flat.second, [[0.5, 0], [0.5, -0.2]], atol=1e-15)


@pytest.mark.parametrize("pointed", ["front", "back", "both"])
def test_a_sheet_may_begin_or_end_in_a_point(pointed):
    first = np.array([[0.0, 0, 0], [0.2, 0, -0.03], [0.5, 0, -0.02], [0.8, 0, 0]])
    second = first * np.array([1.0, 1.0, -1.0]) + np.array([0.0, 0.0, 0.0])
    first[0, 2] = 0.0 if pointed in ("front", "both") else -0.01
    first[-1, 2] = 0.0 if pointed in ("back", "both") else -0.01
    second[0, 2], second[-1, 2] = -first[0, 2], -first[-1, 2]
    sheet = ruled(first, second)
    flat = unfold(sheet)
    assert flat.length_error < 1e-14
    np.testing.assert_allclose(edges(flat.first), edges(first), rtol=1e-12)
    np.testing.assert_allclose(edges(flat.second), edges(second), rtol=1e-12)
    # It lies in the plane y = 0 already: unrolling is only a turn, so all distances stay.
    both = np.concatenate([first, second])[:, [0, 2]]
    laid = np.concatenate([flat.first, flat.second])
    np.testing.assert_allclose(
        np.linalg.norm(laid[:, None] - laid[None], axis=2),
        np.linalg.norm(both[:, None] - both[None], axis=2),
        atol=1e-14,
    )


def test_a_sheet_pointed_in_its_middle_or_without_width_is_refused():
    line = np.array([[0.0, 0, 0], [0.1, 0, 0], [0.2, 0, 0]])
    other = line + np.array([[0, 0.1, 0], [0, 0, 0], [0, 0.1, 0]])
    with pytest.raises(DomainError, match="between its ends"):
        unfold(ruled(line, other))
    with pytest.raises(DomainError, match="without width"):
        unfold(ruled(line, line))


def test_a_twisted_sheet_says_by_how_much_it_is_wrong():
    """Two degrees of washout on 160 x 500: the free diagonal is out by hundredths of a mm."""
    twist = math.radians(2.0)
    first = np.array([[0.0, 0, 0], [0.16, 0, 0]])
    second = np.array([[0, 0.5, 0], [0.16 * math.cos(twist), 0.5, 0.16 * math.sin(twist)]])
    flat = unfold(ruled(first, second))
    np.testing.assert_allclose(edges(flat.second), [0.16], rtol=1e-12)
    free = np.linalg.norm(flat.first[1] - flat.second[0]) - np.linalg.norm(first[1] - second[0])
    assert flat.length_error == pytest.approx(abs(free))
    assert 1e-6 < flat.length_error < 1e-4


def test_places_on_plane_facets_keep_their_distances():
    sheet = creased(1.0)
    flat = unfold(sheet)
    rng = np.random.default_rng(2)
    for facet in range(3):
        u, v = rng.uniform(size=(2, 5, 1))
        inner = (1 - u) * sheet.first[facet] + u * sheet.first[facet + 1]
        outer = (1 - u) * sheet.second[facet] + u * sheet.second[facet + 1]
        points = (1 - v) * inner + v * outer
        laid = place_on(sheet, flat, points)
        np.testing.assert_allclose(
            np.linalg.norm(laid[:, None] - laid[None], axis=2),
            np.linalg.norm(points[:, None] - points[None], axis=2),
            atol=1e-14,
        )
    np.testing.assert_allclose(place_on(sheet, flat, sheet.first), flat.first, atol=1e-14)
    np.testing.assert_allclose(place_on(sheet, flat, sheet.second), flat.second, atol=1e-14)


def test_places_on_a_facet_that_comes_to_a_point():
    sheet = ruled([[0, 0, 0], [0.2, 0, 0]], [[0.1, 0.5, 0], [0.1, 0.5, 0]])
    flat = unfold(sheet)
    points = np.array([[0.1, 0.25, 0.0], [0.05, 0.1, 0.0], [0.1, 0.4999, 0.0]])
    laid = place_on(sheet, flat, points)
    np.testing.assert_allclose(
        np.linalg.norm(laid[:, None] - laid[None], axis=2),
        np.linalg.norm(points[:, None] - points[None], axis=2),
        atol=1e-12,
    )


# ---------------------------------------------------------------- folds


@pytest.mark.parametrize("degrees", [-40.0, -3.0, 0.5, 25.0, 89.0])
@pytest.mark.parametrize("skew", [0.0, 0.4])
def test_fold_angle_is_the_angle_between_the_facets(degrees, skew):
    turn = math.radians(degrees)
    d = np.array([skew, 1.0, 0.0]) * 0.5  # the crease runs slanted
    axis = d / np.linalg.norm(d)
    # A facet ahead of the crease, level, and one behind it turned about the crease.
    square = np.array([axis[1], -axis[0], 0.0])
    ahead = np.array([-0.1, 0.0, 0.0])
    behind = math.cos(turn) * square + math.sin(turn) * np.array([0, 0, 1.0])
    behind = 0.15 * behind + 0.03 * axis
    first = np.stack([ahead, np.zeros(3), behind])
    sheet = ruled(first, first + d, folds=(1,))
    normals = [np.cross(first[i + 1] - first[i], d) for i in (0, 1)]
    cosine = normals[0] @ normals[1] / np.linalg.norm(normals[0]) / np.linalg.norm(normals[1])
    assert abs(fold_angle(sheet, 1)) == pytest.approx(math.acos(cosine), abs=1e-9)
    # Behind the crease the sheet rises: towards the upper side, + in our count.
    assert fold_angle(sheet, 1) == pytest.approx(turn, abs=1e-12)
    (line,) = fold_lines(sheet, unfold(sheet), is_turned=False)
    assert line.angle == pytest.approx(abs(turn))
    assert line.away is (degrees < 0.0)
    (line,) = fold_lines(sheet, unfold(sheet), is_turned=True)
    assert line.away is (degrees > 0.0)


def test_a_crease_that_is_not_folded_is_no_line():
    sheet = ruled(
        [[0, 0, 0], [0.1, 0, 0], [0.2, 0, 0]], [[0, 1, 0], [0.1, 1, 0], [0.2, 1, 0]], folds=(1,)
    )
    assert fold_lines(sheet, unfold(sheet), is_turned=False) == ()
