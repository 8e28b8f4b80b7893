"""Masses, balance point, inertia and scatter."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from hypothesis import given as given_that
from hypothesis import settings
from hypothesis import strategies as st

from foamwright.airframe import Basis, Group, Hand, Mesh
from foamwright.balance import weigh
from foamwright.balance.bodies import inertia_from, line_bodies, second_from
from tests.handmade import airframe, box_mesh, cut, given, run


def test_box_has_the_textbook_inertia():
    a, b, c, mass = 0.4, 0.2, 0.1, 0.3
    balance = weigh(airframe([given("box", mass, (0.1, 0.2, 0.3), size=(a, b, c))]))
    expected = mass / 12.0 * np.diag([b**2 + c**2, a**2 + c**2, a**2 + b**2])
    assert balance.point == pytest.approx((0.1, 0.2, 0.3), abs=1e-15)
    np.testing.assert_allclose(balance.inertia, expected, rtol=1e-12, atol=1e-17)


def test_line_has_the_textbook_inertia_of_a_rod():
    """m L²/12 across, 0 along, tilted: m/12 (L² 1 − d dᵀ)."""
    start, end = np.array([0.1, -0.2, 0.05]), np.array([0.4, 0.3, 0.15])
    balance = weigh(airframe([], [run("wing.leading-edge.hot", "hot", [start, end])]))
    d = end - start
    mass = 6.7e-3 * np.linalg.norm(d)
    assert balance.mass == pytest.approx(mass, rel=1e-14)
    np.testing.assert_allclose(balance.point, 0.5 * (start + end), rtol=1e-14)
    expected = mass / 12.0 * ((d @ d) * np.eye(3) - np.outer(d, d))
    np.testing.assert_allclose(balance.inertia, expected, rtol=1e-12, atol=1e-18)


def test_broken_line_equals_its_segments():
    rng = np.random.default_rng(3)
    points = rng.normal(size=(6, 3))
    whole = weigh(airframe([], [run("a.hot", "hot", points)]))
    parts = weigh(airframe([], [run(f"a{i}.hot", "hot", points[i : i + 2]) for i in range(5)]))
    assert whole.mass == pytest.approx(parts.mass, rel=1e-14)
    np.testing.assert_allclose(whole.point, parts.point, rtol=1e-12)
    np.testing.assert_allclose(whole.inertia, parts.inertia, rtol=1e-12, atol=1e-16)


def test_a_run_of_no_length_weighs_nothing_and_breaks_nothing():
    bodies = line_bodies([np.zeros((2, 3)), np.eye(3)], np.array([1.0, 1.0]))
    assert bodies.masses[0] == 0.0
    assert np.isfinite(bodies.centres).all()


def test_inertia_agrees_with_trimesh_on_ragged_solids():
    """trimesh integrates the same solids by its own code."""
    pieces, solids = [], []
    rng = np.random.default_rng(7)
    for number in range(6):
        hull = trimesh.convex.convex_hull(rng.normal(scale=0.1, size=(20, 3)) + rng.normal(size=3))
        mass = 0.02 * (number + 1)
        mesh = Mesh(
            vertices=np.array(hull.vertices, dtype=float),
            faces=np.array(hull.faces, dtype=np.int32),
        )
        pieces.append(given(f"p{number}", mass, (0, 0, 0), mesh=mesh))
        hull.density = mass / hull.volume
        solids.append(hull)
    balance = weigh(airframe(pieces))
    masses = np.array([solid.mass for solid in solids])
    centres = np.array([solid.center_mass for solid in solids])
    point = masses @ centres / masses.sum()
    inertia = np.zeros((3, 3))
    for solid in solids:
        arm = solid.center_mass - point
        inertia += solid.moment_inertia
        inertia += solid.mass * ((arm @ arm) * np.eye(3) - np.outer(arm, arm))
    np.testing.assert_allclose(balance.point, point, rtol=1e-11)
    np.testing.assert_allclose(balance.inertia, inertia, rtol=1e-10, atol=1e-13)


def test_every_basis_is_weighed_by_its_own_figure():
    mesh = box_mesh((0, 0, 0), (0.1, 0.1, 0.1))
    balance = weigh(
        airframe(
            [
                cut("skin", "board5", 0.0825, mesh),
                cut("rod", "carbon3", 0.5, mesh, basis=Basis.LENGTH),
                cut("pod", "blue", 2e-4, mesh, basis=Basis.VOLUME),
                given("servo", 0.009, (0, 0, 0)),
            ],
            [run("wing.skin.leading-edge.packing", "packing", [(0, 0, 0), (0, 0.5, 0)])],
        )
    )
    masses = {entry.key: entry.mass for entry in balance.entries}
    assert masses["skin"] == pytest.approx(0.0825 * 0.3, rel=1e-14)
    assert masses["rod"] == pytest.approx(0.5 * 0.011, rel=1e-14)
    assert masses["pod"] == pytest.approx(2e-4 * 30.0, rel=1e-14)
    assert masses["servo"] == 0.009
    assert masses["wing.skin.leading-edge.packing"] == pytest.approx(0.5 * 0.05 * 0.06, rel=1e-14)
    amounts = {entry.key: entry.amount for entry in balance.entries}
    assert amounts["skin"] == "0.0825 m² of board5"
    assert amounts["servo"] == "as given"
    titles = {entry.key: entry.title for entry in balance.entries}
    assert titles["wing.skin.leading-edge.packing"] == "wing, skin, leading edge, tape packing"
    sources = {entry.key: entry.source for entry in balance.entries}
    assert sources["skin"] == "three sheets weighed"


def test_groups_add_up_to_the_whole():
    balance = weigh(
        airframe(
            [
                given("a", 0.1, (0, 0, 0), group=Group.POWER),
                given("b", 0.2, (1, 0, 0), group=Group.POWER),
                given("c", 0.3, (2, 1, 0), group=Group.TAIL),
            ]
        )
    )
    assert [group.group for group in balance.groups] == [Group.TAIL, Group.POWER]
    assert sum(group.mass for group in balance.groups) == pytest.approx(balance.mass, rel=1e-14)
    assert balance.groups[1].centre == pytest.approx((2.0 / 3.0, 0.0, 0.0))


def test_scatter_of_one_stock_is_shared():
    """Two boards' worth from one stock: 5 % each add up; from two figures they add squared."""
    mesh_a, mesh_b = (box_mesh((x, 0, 0), (0.1, 0.1, 0.01)) for x in (0.0, 1.0))
    shared = weigh(airframe([cut("a", "board5", 1.0, mesh_a), cut("b", "board5", 1.0, mesh_b)]))
    assert shared.mass_scatter == pytest.approx(0.05 * 0.6, rel=1e-12)
    # One stock heavier everywhere moves the balance point nowhere.
    assert shared.point_scatter[0] == pytest.approx(0.0, abs=1e-15)
    apart = weigh(
        airframe(
            [given("a", 0.3, (0, 0, 0), scatter=0.015), given("b", 0.3, (1, 0, 0), scatter=0.015)]
        )
    )
    assert apart.mass_scatter == pytest.approx(0.05 * 0.3 * np.sqrt(2), rel=1e-12)
    assert apart.point_scatter[0] == pytest.approx(np.hypot(1, 1) * 0.015 * 0.5 / 0.6, rel=1e-12)


def test_scatter_agrees_with_a_thousand_boards():
    """First-order scatter against drawing the weights at random."""
    pieces = [
        cut("a", "board5", 0.5, box_mesh((0, 0, 0), (0.1, 0.1, 0.01))),
        cut("b", "blue", 3e-3, box_mesh((0.7, 0.2, 0), (0.1, 0.1, 0.1)), basis=Basis.VOLUME),
        given("c", 0.2, (-0.3, 0, 0.1), scatter=0.01),
    ]
    balance = weigh(airframe(pieces))
    rng = np.random.default_rng(11)
    nominal = np.array([entry.mass for entry in balance.entries])
    sigma = np.array([entry.scatter for entry in balance.entries])
    masses = nominal + sigma * rng.normal(size=(20_000, 3))
    centres = np.array([entry.centre for entry in balance.entries])
    points = masses @ centres / masses.sum(axis=1)[:, None]
    assert balance.mass_scatter == pytest.approx(masses.sum(axis=1).std(), rel=0.03)
    np.testing.assert_allclose(balance.point_scatter, points.std(axis=0), rtol=0.03)


def test_both_hands_of_one_figure_share_its_error():
    """Two servos of one kind err together: nothing sideways, all of it in the mass."""
    balance = weigh(
        airframe(
            [
                given("servo", 0.01, (0.3, y, 0), scatter=0.001, hand=hand)
                for y, hand in ((0.2, Hand.RIGHT), (-0.2, Hand.LEFT))
            ]
        )
    )
    assert balance.mass_scatter == pytest.approx(0.002, rel=1e-12)
    assert balance.point_scatter[1] == pytest.approx(0.0, abs=1e-15)


@settings(max_examples=30, deadline=None)
@given_that(st.integers(0, 2**32 - 1))
def test_mirror_images_balance_in_the_middle_and_moving_moves(seed):
    rng = np.random.default_rng(seed)
    centres, sizes = rng.uniform(-1, 1, (4, 3)), rng.uniform(0.01, 0.3, (4, 3))
    masses = rng.uniform(0.01, 0.3, 4)
    mirror = np.array([1.0, -1.0, 1.0])
    shift = rng.uniform(-1, 1, 3)

    def made(offset):
        return weigh(
            airframe(
                [
                    given(f"{side}{i}", masses[i], centres[i] * flip + offset, size=sizes[i])
                    for side, flip in (("r", 1.0), ("l", mirror))
                    for i in range(4)
                ]
            )
        )

    here, there = made(np.zeros(3)), made(shift)
    assert here.point[1] == pytest.approx(0.0, abs=1e-14)
    assert here.inertia[0, 1] == pytest.approx(0.0, abs=1e-14)
    assert here.inertia[1, 2] == pytest.approx(0.0, abs=1e-14)
    np.testing.assert_allclose(there.point, np.array(here.point) + shift, atol=1e-13)
    np.testing.assert_allclose(there.inertia, here.inertia, rtol=1e-9, atol=1e-13)
    # A real body: principal moments obey the triangle inequality.
    low, middle, high = np.linalg.eigvalsh(here.inertia)
    assert high <= low + middle + 1e-12


def test_second_moment_and_inertia_are_inverse():
    rng = np.random.default_rng(1)
    second = rng.normal(size=(5, 3, 3))
    second = second + second.transpose(0, 2, 1)
    np.testing.assert_allclose(second_from(inertia_from(second)), second, rtol=1e-12, atol=1e-14)
