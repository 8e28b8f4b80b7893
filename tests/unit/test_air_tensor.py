"""The tensor: its derivatives, symmetries, shift, ground, hands, strips, layouts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from foamwright.air import (
    LatticeControl,
    LatticeReference,
    LatticeSurface,
    LiftTensor,
    about,
    derivatives,
    hinge_moments,
    induced_drag,
    lattice_surface,
    loads,
    motion_state,
    solve_lattice,
    solve_tensor,
    span_efficiency,
    strip_loads,
    wash_at,
    wind_forces,
)
from foamwright.air.sections.thin import hinge_bias
from foamwright.airframe import Hand
from foamwright.errors import DomainError

REFERENCE = LatticeReference(area=6.0, chord=1.0, span=6.0, point=(0.3, 0.0, 0.1))
AILERON = LatticeControl(key="aileron", panel=1, start=0.2, end=0.9, start_hinge=0.7, end_hinge=0.8)
PLAIN = LatticeControl(key="plain", start_hinge=0.7, end_hinge=0.7)


def wing(**more) -> LatticeSurface:
    """Polyhedral, tapered, slightly swept, washed out."""
    more.setdefault("controls", (AILERON,))
    return lattice_surface(
        "wing",
        leading=[(0.0, 0.0, 0.0), (0.1, 1.7, 0.1), (0.4, 2.9, 0.4)],
        chord=(1.2, 1.1, 0.6),
        twist=np.radians([2.0, 2.0, 0.0]),
        **more,
    )


def tail(*, lean=0.0, height=0.2, half=1.0, nose=3.0, key="tail", **more) -> LatticeSurface:
    more = {"strips": 10, "controls": (PLAIN,)} | more
    leading = [(nose, 0.0, height), (nose + 0.2, half, height + np.tan(np.radians(lean)) * half)]
    return lattice_surface(key, leading=leading, chord=(0.7, 0.5), **more)


def fin(*, y=0.0, foot=0.22, top=0.9, mirrored=False, key="fin", **more) -> LatticeSurface:
    more = {"strips": 8, "controls": (PLAIN,)} | more
    return lattice_surface(
        key, leading=[(3.0, y, foot), (3.3, y, top)], chord=(0.7, 0.4), mirrored=mirrored, **more
    )


def turned_fin() -> LatticeSurface:
    """In the middle, its trailing edge set to the right at the tip: an offset fin."""
    plain = fin()
    panel = plain.panels[0]
    moved = replace(panel, tip_trailing=panel.tip_trailing + np.array([0.0, 0.02, 0.0]))
    return replace(plain, panels=(moved,))


def solved(*surfaces: LatticeSurface, reference=REFERENCE, **more) -> LiftTensor:
    return solve_tensor(surfaces, reference=reference, **more)


AEROPLANES: dict[str, tuple[LatticeSurface, ...]] = {
    "tail and fin": (wing(), tail(), fin()),
    "V-tail": (wing(), tail(lean=35.0)),
    "T-tail": (wing(), tail(height=0.9), fin(foot=0.05)),
    "twin fins": (wing(), tail(), fin(y=1.0, mirrored=True, foot=0.0)),
    "offset fin": (wing(), tail(), turned_fin()),
}


def a_state(tensor: LiftTensor, seed: int = 0) -> np.ndarray:
    rng = np.random.default_rng(seed)
    return motion_state(
        tensor,
        speed=12.0,
        incidence=0.08,
        sideslip=0.05,
        rates=rng.uniform(-0.5, 0.5, 3),
        deflections=rng.uniform(-0.2, 0.2, len(tensor.units)),
    )


# ---------------------------------------------------------------- sums and slopes


@pytest.mark.parametrize("name", AEROPLANES)
def test_slopes_at_no_incidence_are_those_of_the_lattice(name):
    """Suction across leaning strips, of second order, is not in the slopes of the lattice."""
    tensor = solved(*AEROPLANES[name], reference=replace(REFERENCE, point=(0.3, 0.0, 0.0)))
    result = solve_lattice(
        AEROPLANES[name],
        reference_area=6.0,
        reference_chord=1.0,
        reference_span=6.0,
        reference_point=(0.3, 0.0, 0.0),
        lateral=True,
    )
    slopes = derivatives(tensor)
    assert slopes.values[0] == pytest.approx(result.lift_at_zero, rel=1e-3)
    assert slopes.of("lift", "incidence") == pytest.approx(result.lift_slope, rel=3e-3)
    assert slopes.neutral_point == pytest.approx(result.neutral_point, abs=3e-3)
    assert result.lateral is not None
    assert slopes.of("yaw", "sideslip") == pytest.approx(result.lateral.yaw_sideslip, abs=2e-3)


def test_slopes_of_flat_surfaces_are_those_of_the_lattice_to_the_last_figure():
    flat = lattice_surface("wing", leading=[(0, 0, 0), (0.5, 3, 0)], chord=(1.2, 0.8))
    surfaces = (flat, tail(height=0.3), fin(foot=0.32))
    tensor = solved(*surfaces)
    result = solve_lattice(
        surfaces,
        reference_area=6.0,
        reference_chord=1.0,
        reference_span=6.0,
        reference_point=REFERENCE.point,
        lateral=True,
    )
    slopes = derivatives(tensor)
    assert slopes.of("lift", "incidence") == pytest.approx(result.lift_slope, rel=1e-12)
    assert slopes.of("pitch", "incidence") == pytest.approx(result.moment_slope, rel=1e-12)
    assert slopes.of("pitch", "pitch rate") == pytest.approx(result.moment_pitch_rate, rel=1e-12)
    assert slopes.neutral_point == pytest.approx(result.neutral_point, rel=1e-12)
    assert result.lateral is not None
    lateral = result.lateral
    assert slopes.of("side", "sideslip") == pytest.approx(lateral.side_sideslip, rel=1e-12)
    assert slopes.of("yaw", "sideslip") == pytest.approx(lateral.yaw_sideslip, rel=1e-12)
    assert slopes.of("roll", "roll rate") == pytest.approx(lateral.roll_damping, rel=1e-12)


@pytest.mark.parametrize("name", AEROPLANES)
def test_derivatives_are_differences(name):
    tensor = solved(*AEROPLANES[name])
    here = np.concatenate([[0.07, 0.04, 0.01, 0.004, -0.02], 0.1 * np.ones(len(tensor.units))])
    over = 2.0 / np.array([6.0, 1.0, 6.0])

    def at(values: np.ndarray) -> np.ndarray:
        return wind_forces(
            tensor,
            motion_state(
                tensor,
                incidence=values[0],
                sideslip=values[1],
                rates=values[2:5] * over,
                deflections=values[5:],
            ),
        )

    slopes = derivatives(
        tensor, incidence=0.07, sideslip=0.04, rates=here[2:5], deflections=here[5:]
    )
    assert slopes.values == pytest.approx(at(here), rel=1e-12, abs=1e-15)
    for column in range(len(here)):
        step = np.zeros_like(here)
        step[column] = 1e-4
        difference = (at(here + step) - at(here - step)) / 2e-4
        assert slopes.table[:, column] == pytest.approx(difference, rel=1e-6, abs=1e-7)


def test_one_state_of_many_is_that_state_alone():
    tensor = solved(*AEROPLANES["tail and fin"])
    many = np.stack([a_state(tensor, seed) for seed in range(6)]).reshape(2, 3, -1)
    for function in (loads, wind_forces, induced_drag, hinge_moments, span_efficiency):
        whole = function(tensor, many)
        assert whole.shape[:2] == (2, 3)
        assert whole[1, 2] == pytest.approx(function(tensor, many[1, 2]), rel=1e-12)
    assert strip_loads(tensor, many).lift[1, 2] == pytest.approx(
        strip_loads(tensor, many[1, 2]).lift
    )


def test_loads_go_with_the_square_of_speed():
    tensor = solved(*AEROPLANES["V-tail"])
    slow, fast = (motion_state(tensor, speed=v, incidence=0.05) for v in (5.0, 10.0))
    assert loads(tensor, fast) == pytest.approx(4.0 * loads(tensor, slow))
    assert wind_forces(tensor, fast) == pytest.approx(wind_forces(tensor, slow))


def test_drag_is_what_lift_induces():
    """Along the wind nothing is left but the Trefftz plane's drag."""
    flat = lattice_surface("wing", leading=[(0, 0, 0), (0.5, 3, 0)], chord=(1.2, 0.8))
    tensor = solved(flat)
    state = motion_state(tensor, incidence=0.1)
    drag = wind_forces(tensor, state)[1]
    expected = 2.0 / 6.0 * induced_drag(tensor, state) * np.cos(0.1)
    assert drag == pytest.approx(expected, rel=1e-9)
    lift = wind_forces(tensor, state)[0]
    assert drag == pytest.approx(lift**2 / (np.pi * 6.0), rel=0.06)


def test_drag_is_never_negative():
    for surfaces in AEROPLANES.values():
        assert np.linalg.eigvalsh(solved(*surfaces).drag).min() > -1e-9


# ---------------------------------------------------------------- symmetries


@pytest.mark.parametrize("name", AEROPLANES)
@pytest.mark.parametrize("height", [None, 1.5])
def test_halves_say_what_the_whole_says(name, height):
    halves = solved(*AEROPLANES[name], height=height)
    whole = solved(*AEROPLANES[name], height=height, by_halves=False)
    assert halves.is_symmetric
    assert not whole.is_symmetric
    assert halves.units == whole.units
    for what in ("tensor", "drag", "hinge", "circulation"):
        one, other = getattr(halves, what), getattr(whole, what)
        assert one == pytest.approx(other, rel=1e-9, abs=1e-9 * abs(other).max())
    for what in ("circulation", "far", "response", "geometric"):
        one, other = getattr(halves.strips, what), getattr(whole.strips, what)
        assert one == pytest.approx(other, rel=1e-9, abs=1e-9 * abs(other).max())


def test_the_mirror_image_of_a_state_has_the_mirrored_loads():
    tensor = solved(*AEROPLANES["tail and fin"])
    angles = np.array([0.1, -0.05, 0.02, 0.07, 0.03])  # right, left, right, left, fin
    there = np.array([-0.05, 0.1, 0.07, 0.02, -0.03])
    one = motion_state(
        tensor, incidence=0.06, sideslip=0.04, rates=(0.1, 0.2, -0.1), deflections=angles
    )
    other = motion_state(
        tensor, incidence=0.06, sideslip=-0.04, rates=(-0.1, 0.2, 0.1), deflections=there
    )
    turned = loads(tensor, other) * (1, -1, 1, -1, 1, -1)
    assert turned == pytest.approx(loads(tensor, one), rel=1e-9, abs=1e-12)


def test_one_single_surface_from_tip_to_tip_is_a_mirrored_pair():
    pair = lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1), strips=24)
    single = lattice_surface(
        "wing", leading=[(0, -3, 0), (0, 3, 0)], chord=(1, 1), strips=40, mirrored=False
    )
    one, other = derivatives(solved(pair)), derivatives(solved(single))
    assert other.table == pytest.approx(one.table, rel=2e-3, abs=2e-4)


def test_unequal_tips_roll():
    """A longer right tip lifts more: left wing down, and the drag is further out too."""
    leading = [(0, -2.6, 0), (0, 0, 0), (0, 3, 0)]
    uneven = lattice_surface("wing", leading=leading, chord=(1, 1, 1), strips=30, mirrored=False)
    tensor = solved(uneven)
    assert not tensor.is_symmetric
    roll, yaw = wind_forces(tensor, motion_state(tensor, incidence=0.1))[[3, 5]]
    assert roll < -0.005
    assert yaw * np.cos(0.1) - roll * np.sin(0.1) > 0.0  # about the wind's own upright
    still = motion_state(tensor, incidence=0.1, rates=(0.1, 0.0, 0.0))
    assert wind_forces(tensor, still)[3] < roll


def test_fin_to_one_side():
    right = solved(wing(), fin(y=1.2, foot=0.3))
    left = solved(wing(), fin(y=-1.2, foot=0.3))
    one = loads(right, motion_state(right, incidence=0.05, sideslip=0.03))
    other = loads(left, motion_state(left, incidence=0.05, sideslip=-0.03))
    assert other * (1, -1, 1, -1, 1, -1) == pytest.approx(one, rel=1e-9, abs=1e-12)


def test_one_sided_deflection_is_half_of_both():
    tensor = solved(*AEROPLANES["tail and fin"])
    slopes = derivatives(tensor)
    assert [unit.hand for unit in tensor.units[:2]] == [Hand.RIGHT, Hand.LEFT]
    right, left = slopes.columns[5:7]
    assert right == "wing.aileron.right"
    for what, sign in (("lift", 1), ("pitch", 1), ("roll", -1), ("side", -1)):
        assert slopes.of(what, right) == pytest.approx(sign * slopes.of(what, left), rel=1e-9)


def test_an_offset_fin_steers_and_halves_know_it():
    straight = solved(wing(), tail(), fin())
    offset = solved(*AEROPLANES["offset fin"])
    assert offset.is_symmetric  # its equations are, its answer is not
    state = motion_state(straight, incidence=0.05)
    assert wind_forces(straight, state)[5] == pytest.approx(0.0, abs=1e-12)
    assert wind_forces(offset, state)[5] > 1e-4  # trailing edge right: nose right


# ---------------------------------------------------------------- signs


def test_signs_of_motion_and_controls():
    slopes = derivatives(solved(*AEROPLANES["tail and fin"]), incidence=0.1)
    assert slopes.of("pitch", "pitch rate") < 0.0
    assert slopes.of("roll", "roll rate") < 0.0
    assert slopes.of("yaw", "yaw rate") < 0.0
    assert slopes.of("roll", "sideslip") < 0.0 < slopes.of("yaw", "sideslip")
    assert slopes.of("roll", "yaw rate") > 0.0  # the outer wing is faster
    assert slopes.of("yaw", "roll rate") < 0.0  # the rising wing's lift leans back
    assert slopes.of("side", "fin.plain.centre") < 0.0 < slopes.of("yaw", "fin.plain.centre")
    assert slopes.of("roll", "wing.aileron.right") < 0.0
    assert slopes.of("pitch", "tail.plain.right") < 0.0 < slopes.of("lift", "tail.plain.right")


def test_ailerons_yaw_against_the_turn():
    """On a wing alone: right wing down pulls the nose left."""
    tensor = solved(wing())
    level = motion_state(tensor, incidence=0.12)
    turning = motion_state(tensor, incidence=0.12, deflections=(-0.1, 0.1))
    change = wind_forces(tensor, turning) - wind_forces(tensor, level)
    assert change[3] > 0.0 > change[5] * np.cos(0.12) - change[3] * np.sin(0.12)


def test_roll_with_sideslip_at_lift():
    """Sweep adds to the dihedral effect as lift grows; a swept-forward wing takes away."""

    def slope(sweep: float) -> float:
        swept = lattice_surface(
            "wing", leading=[(0, 0, 0), (3 * np.tan(np.radians(sweep)), 3, 0)], chord=(1, 1)
        )
        tensor = solved(swept)
        low, high = (derivatives(tensor, incidence=a).of("roll", "sideslip") for a in (0.0, 0.1))
        return high - low

    assert slope(30.0) < slope(0.0) < slope(-30.0)


def test_a_control_pushes_back_on_its_hinge():
    tensor = solved(*AEROPLANES["tail and fin"])
    for number in range(len(tensor.units)):
        angles = np.zeros(len(tensor.units))
        angles[number] = 0.1
        free = hinge_moments(tensor, motion_state(tensor))
        moved = hinge_moments(tensor, motion_state(tensor, deflections=angles))
        assert moved[number] < free[number]
        others = np.delete(moved - free, number)
        assert np.all(np.abs(others) < abs(moved[number] - free[number]))


def test_hinge_moment_does_not_hang_on_rows():
    def at(rows: int) -> np.ndarray:
        tensor = solved(wing(rows=rows))
        state = motion_state(tensor, incidence=0.05, deflections=(0.1, -0.05))
        return hinge_moments(tensor, state)

    fine = at(12)
    assert at(4) == pytest.approx(fine, abs=0.04 * abs(fine).max())


def test_hinge_moment_of_camber_is_exact_in_plane_flow():
    """A crease ahead of the hinge, on both ends of a long wing or bent otherwise at the tip."""
    crease = np.array([[0.0, 0.0], [0.35, 0.05], [1.0, 0.0]])
    for mean_line in (crease, np.array([[0.0, 0.0], [0.7, 0.03], [1.0, 0.0]])):
        long = lattice_surface(
            "wing",
            leading=[(0, 0, 0), (0, 2000, 0)],
            chord=(1, 1),
            mean_line=mean_line,
            controls=(PLAIN,),
        )
        tensor = solved(long)
        moment = hinge_moments(tensor, motion_state(tensor))
        expected = 0.5 * 0.3**2 * 2000 * float(hinge_bias(mean_line, fraction=0.3))
        assert moment == pytest.approx([expected] * 2, rel=2e-3)
        panel = replace(long.panels[0], tip_mean_line=np.array([[0.0, 0.0], [1.0, 0.0]]))
        ruled = solved(replace(long, panels=(panel,)))
        half = hinge_moments(ruled, motion_state(ruled))
        assert half == pytest.approx([0.5 * expected] * 2, rel=0.01)


def test_a_step_in_the_mean_line_is_left_to_the_rows():
    step = np.array([[0.0, 0.0], [0.5, 0.02], [0.5, 0.0], [1.0, 0.0]])
    tensor = solved(
        lattice_surface(
            "wing",
            leading=[(0, 0, 0), (0, 3, 0)],
            chord=(1, 1),
            mean_line=step,
            controls=(PLAIN,),
        )
    )
    assert np.all(np.isfinite(hinge_moments(tensor, motion_state(tensor))))


# ---------------------------------------------------------------- the point, the ground


@pytest.mark.parametrize("name", ["tail and fin", "V-tail"])
def test_moving_the_reference_point_solves_nothing_anew(name):
    point = (0.55, 0.02, -0.3)
    moved = about(solved(*AEROPLANES[name]), point)
    anew = solved(*AEROPLANES[name], reference=replace(REFERENCE, point=point))
    assert moved.reference == anew.reference
    for what in ("tensor", "drag", "hinge", "circulation"):
        one, other = getattr(moved, what), getattr(anew, what)
        assert one == pytest.approx(other, rel=1e-9, abs=1e-11)
    assert moved.strips.geometric == pytest.approx(anew.strips.geometric, abs=1e-11)
    state = a_state(anew)
    assert strip_loads(moved, state).lift == pytest.approx(strip_loads(anew, state).lift)


def test_neutral_point_is_where_the_moment_slope_ends():
    tensor = solved(*AEROPLANES["tail and fin"], reference=replace(REFERENCE, point=(0.3, 0, 0)))
    there = derivatives(tensor).neutral_point
    moved = about(tensor, (there, 0.0, 0.0))
    slope = derivatives(moved)
    assert slope.of("pitch", "incidence") == pytest.approx(0.0, abs=1e-9)


def test_high_above_the_ground_is_free_air():
    free = solved(*AEROPLANES["tail and fin"])
    gaps = []
    for height in (6.0, 60.0, 600.0):
        near = solved(*AEROPLANES["tail and fin"], height=height)
        gaps.append(abs(near.tensor - free.tensor).max() / abs(free.tensor).max())
    assert gaps[0] > 50 * gaps[1] > 2500 * gaps[2]
    assert gaps[2] < 1e-6


def test_near_the_ground_lift_grows_and_drag_falls():
    surfaces = AEROPLANES["tail and fin"]
    previous = derivatives(solved(*surfaces))
    state_of = [solved(*surfaces), *(solved(*surfaces, height=h) for h in (3.0, 1.5, 0.8))]
    slopes = [derivatives(t).of("lift", "incidence") for t in state_of]
    efficiency = [float(span_efficiency(t, motion_state(t, incidence=0.1))) for t in state_of]
    assert slopes == sorted(slopes)
    assert efficiency == sorted(efficiency)
    assert slopes[0] == previous.of("lift", "incidence")


def test_air_does_not_go_through_the_ground():
    tensor = solved(*AEROPLANES["V-tail"], height=1.2)
    rng = np.random.default_rng(2)
    where = np.column_stack([rng.uniform(-3, 9, 20), rng.uniform(-4, 4, 20), np.full(20, -1.1)])
    assert wash_at(tensor, where)[:, 2] == pytest.approx(np.zeros((20, len(tensor.states))))


# ---------------------------------------------------------------- strips and wash


def test_strips_add_up():
    tensor = solved(*AEROPLANES["V-tail"])
    state = motion_state(tensor, speed=10.0, incidence=0.06)
    strip = strip_loads(tensor, state)
    up = (strip.lift * tensor.strips.normal[:, 2] * tensor.strips.width).sum()
    assert up == pytest.approx(loads(tensor, state)[2], rel=2e-3)  # suction leans with the strips
    assert tensor.strips.area.sum() == pytest.approx(
        2 * (0.5 * 2.3 * np.hypot(1.7, 0.1) + 0.5 * 1.7 * np.hypot(1.2, 0.3))
        + 2 * 0.6 * np.hypot(1.0, np.tan(np.radians(35.0))),
        rel=2e-3,
    )
    assert set(tensor.strips.hands) == {Hand.RIGHT, Hand.LEFT}
    assert np.all(tensor.strips.along[:, 1] > 0.0)


def test_response_of_strips():
    """Air added from below on every strip of a level wing is a sinking wing."""
    level = lattice_surface("wing", leading=[(0, 0, 0), (0.3, 3, 0)], chord=(1.0, 0.6))
    strips = solved(level).strips
    assert strips.response.sum(axis=1) == pytest.approx(strips.circulation[:, 1], rel=1e-9)
    assert strips.geometric[:, 1] == pytest.approx(np.ones(len(strips.chord)), rel=1e-12)
    rolled = strips.response @ strips.quarter[:, 1]
    assert rolled == pytest.approx(strips.circulation[:, 4], rel=1e-9, abs=1e-12)
    added = np.linspace(0.0, 1.0, len(strips.chord))
    carried = strips.response @ added
    felt = np.pi * strips.chord * (added + strips.mutual @ carried)
    assert felt == pytest.approx(carried, rel=1e-9)
    assert np.all(strips.induced[:, 1] < 0.0)


def test_response_of_strips_of_a_whole_aeroplane():
    """Twisting one panel of an unsymmetrical case by hand: a strip's own circulation rises."""
    strips = solved(*AEROPLANES["tail and fin"]).strips
    assert np.all(np.diag(strips.response) > 0.0)
    assert strips.response[0, 0] < np.pi * strips.chord[0]
    # Fin in the middle: air from its lower face (the right) makes it carry, wings the odd way.
    fin_strips = [i for i, hand in enumerate(strips.hands) if hand is Hand.CENTRE]
    column = strips.response[:, fin_strips].sum(axis=1)
    tails = strips.surface == 1
    right = np.array([hand is Hand.RIGHT for hand in strips.hands])
    assert column[tails & right] == pytest.approx(-column[tails & ~right], rel=1e-9)


def test_wash_far_ahead_is_nothing_and_behind_it_is_downwards():
    tensor = solved(*AEROPLANES["tail and fin"])
    assert abs(wash_at(tensor, (-1e4, 0.0, 0.0))).max() < 1e-6
    state = motion_state(tensor, incidence=0.1)
    behind = wash_at(tensor, [(8.0, 0.3, 0.0), (8.0, -0.3, 0.0)]) @ state
    assert np.all(behind[:, 2] < -0.01)
    assert behind[0] * (1, -1, 1) == pytest.approx(behind[1])
    assert wash_at(tensor, np.zeros((2, 4, 3))).shape == (2, 4, 3, len(tensor.states))


def test_wash_is_bounded_in_the_wake():
    tensor = solved(wing(controls=()))
    y = np.linspace(0.0, 2.8, 400)
    points = np.column_stack([np.full_like(y, 4.0), y, np.interp(y, [0, 1.7, 2.9], [0, 0.1, 0.4])])
    wash = (wash_at(tensor, points) @ motion_state(tensor, incidence=0.1))[:, 2]
    assert np.all(np.abs(wash) < 0.15)


# ---------------------------------------------------------------- every legal layout


def straight(key, *, half, chord, nose, height, strips=16, dihedral=0.0, rows=4, root=0.0):
    lift = np.tan(np.radians(dihedral)) * (half - root)
    leading = [(nose, root, height), (nose, half, height + lift)]
    return lattice_surface(key, leading=leading, chord=(chord, chord), strips=strips, rows=rows)


def upright(key, *, y, foot, top, strips, rows, mirrored=False):
    leading = [(3.0, y, foot), (3.1, y, top)]
    return lattice_surface(
        key, leading=leading, chord=(0.6, 0.5), mirrored=mirrored, strips=strips, rows=rows
    )


Layout = Callable[[float, int, int, int], tuple[LatticeSurface, ...]]


def _main(strips: int, rows: int, height: float = 0.0) -> LatticeSurface:
    return straight("wing", half=3.0, chord=1.0, nose=0.0, height=height, strips=strips, rows=rows)


def t_tail(z: float, n: int, m: int, rows: int):
    return (
        _main(n, rows),
        straight("tail", half=1.0, chord=0.6, nose=3.1, height=z + 0.7, strips=m, rows=rows),
        upright("fin", y=0.0, foot=z, top=z + 0.7, strips=m, rows=rows),
    )


def v_tail(z: float, n: int, m: int, rows: int):
    tail_ = straight(
        "tail", half=1.0, chord=0.6, nose=3, height=z, strips=m, rows=rows, dihedral=38
    )
    return _main(n, rows), tail_


def inverted_v(z: float, n: int, m: int, rows: int):
    tail_ = straight(
        "tail", half=1.0, chord=0.6, nose=3, height=z + 0.3, strips=m, rows=rows, dihedral=-35
    )
    return _main(n, rows), tail_


def cruciform(z: float, n: int, m: int, rows: int):
    return (
        _main(n, rows),
        straight("tail", half=1.0, chord=0.6, nose=3.0, height=z, strips=m, rows=rows),
        upright("fin", y=0.0, foot=z - 0.35, top=z + 0.6, strips=m, rows=rows),
    )


def canard(z: float, n: int, m: int, rows: int):
    fore = straight("canard", half=1.1, chord=0.5, nose=-2.5, height=z, strips=m, rows=rows)
    return _main(n, rows), fore


def twin_boom(z: float, n: int, m: int, rows: int):
    return (
        _main(n, rows),
        straight("tail", half=0.9, chord=0.6, nose=3.0, height=z, strips=m, rows=rows),
        upright("fin", y=0.9, foot=z - 0.1, top=z + 0.5, strips=m, rows=rows, mirrored=True),
    )


def biplane(z: float, n: int, m: int, rows: int):
    return (
        _main(n, rows),
        straight("upper", half=2.7, chord=0.9, nose=-0.3, height=0.8 + z, strips=n, rows=rows),
        straight("tail", half=1.0, chord=0.6, nose=3.0, height=z, strips=m, rows=rows),
    )


def wide_tail(z: float, n: int, m: int, rows: int):
    tail_ = straight("tail", half=2.2, chord=0.6, nose=3.0, height=z, strips=m, rows=rows)
    return _main(n, rows), tail_


LAYOUTS: tuple[Layout, ...] = (
    t_tail,
    v_tail,
    inverted_v,
    cruciform,
    canard,
    twin_boom,
    biplane,
    wide_tail,
)


@pytest.mark.parametrize("height", [0.0, 0.01, 0.15])
@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda f: f.__name__)
def test_neutral_point_of_every_layout(layout, height):
    """Moves by less than half a per cent of chord whatever the panelling and tail height."""

    def at(*counts: int) -> float:
        return derivatives(solved(*layout(height, *counts))).neutral_point

    fine = at(30, 20, 5)
    for counts in ((10, 7, 4), (14, 10, 3), (16, 10, 4), (20, 8, 4)):
        assert at(*counts) == pytest.approx(fine, abs=5e-3)


# ---------------------------------------------------------------- refusals


def test_refusals():
    with pytest.raises(DomainError, match="below the whole"):
        solved(wing(), tail(), height=0.05)
    with pytest.raises(DomainError, match="above zero"):
        solved(wing(), height=-1.0)
    with pytest.raises(DomainError, match="above zero"):
        solved(wing(), reference=replace(REFERENCE, chord=0.0))
    with pytest.raises(DomainError, match="lies on none"):
        solved(wing(controls=(replace(AILERON, panel=2),)))
    with pytest.raises(DomainError, match="leaves the chord"):
        solved(wing(controls=(replace(AILERON, start_hinge=1.2),)))
    with pytest.raises(DomainError, match="2 deflections"):
        motion_state(solved(wing()), deflections=(0.1,))


def test_arrays_are_kept():
    tensor = solved(wing())
    for values in (tensor.tensor, tensor.drag, tensor.hinge, tensor.circulation):
        assert not values.flags.writeable
    assert not derivatives(tensor).table.flags.writeable


def test_no_drag_has_no_efficiency():
    flat = solved(lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1)))
    assert np.isnan(span_efficiency(flat, motion_state(flat)))


def test_span_efficiency_is_that_of_the_load_at_any_incidence():
    flat = solved(lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1)))
    small, large = (span_efficiency(flat, motion_state(flat, incidence=a)) for a in (0.001, 0.25))
    assert large == pytest.approx(float(small), rel=1e-9)


def test_controls_of_a_wing_carried_across_a_body():
    """Its panels are counted from the root that was drawn, not from the stretch in the body."""

    def roll(root: float) -> float:
        leading = [(0.0, root, 0.0), (0.0, 1.5, 0.0), (0.0, 3.0, 0.0)]
        control = replace(AILERON, start=0.0, end=1.0, start_hinge=0.75, end_hinge=0.75)
        tensor = solved(
            lattice_surface("wing", leading=leading, chord=(1.0, 1.0, 1.0), controls=(control,))
        )
        return derivatives(tensor).of("roll", "wing.aileron.right")

    assert roll(0.2) == pytest.approx(roll(0.0), rel=2e-3)


def test_a_control_that_ends_just_short_of_its_panel_counts_for_what_it_is():
    """No sliver of a strip is made; the last strip is moved in part."""

    def lift(end: float) -> float:
        control = replace(PLAIN, end=end)
        flat = lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1))
        tensor = solved(replace(flat, controls=(control,)))
        return derivatives(tensor).of("lift", "wing.plain.right")

    short, whole = lift(0.975), lift(1.0)
    assert 0.97 * whole < short < 0.999 * whole


@pytest.mark.parametrize("height", [0.1, 0.15])
def test_ground_effect_converges_close_to_the_ground(height):
    """At a tenth of the span, within the goal of the lattice in free air."""

    def at(strips: int, rows: int) -> LiftTensor:
        flat = lattice_surface(
            "wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1), strips=strips, rows=rows
        )
        return solved(flat, height=6.0 * height)

    coarse, fine = at(16, 4), at(40, 8)
    state = motion_state(fine, incidence=0.01)
    assert wind_forces(coarse, state)[0] == pytest.approx(wind_forces(fine, state)[0], rel=1e-3)
    one, other = (float(span_efficiency(t, state)) for t in (coarse, fine))
    assert one == pytest.approx(other, rel=1e-3)
