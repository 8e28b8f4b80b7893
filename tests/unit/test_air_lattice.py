"""The lattice: symmetries, insensitivity to panelling, joints, and what it refuses."""

from __future__ import annotations

from dataclasses import astuple, replace

import numpy as np
import pytest

from foamwright.air import LatticeResult, LatticeSurface, lattice_surface, solve_lattice
from foamwright.errors import DomainError

WING_AREA = 6.0


def wing(*, shift=(0.0, 0.0, 0.0), scale=1.0, **more) -> LatticeSurface:
    """Polyhedral, tapered, slightly swept, washed out wing of span about 6."""
    leading = np.array([[0.0, 0.0, 0.0], [0.1, 1.7, 0.1], [0.4, 2.9, 0.4]])
    return lattice_surface(
        "wing",
        leading=scale * (leading + shift),
        chord=scale * np.array([1.2, 1.1, 0.6]),
        twist=np.radians([2.0, 2.0, 0.0]),
        **more,
    )


def v_tail(*, shift=(0.0, 0.0, 0.0), scale=1.0, height=0.0, root=0.0, **more) -> LatticeSurface:
    leading = np.array([[3.0, root, height], [3.2, 0.9, height + 0.6]])
    counts = {"strips": 10} | more
    return lattice_surface(
        "tail", leading=scale * (leading + shift), chord=scale * np.array([0.7, 0.5]), **counts
    )


def fin(*, shift=(0.0, 0.0, 0.0), y=0.0, mirrored=False, foot=0.0, **more) -> LatticeSurface:
    leading = np.array([[3.0, y, foot], [3.3, y, 0.8]])
    counts = {"strips": 8} | more
    return lattice_surface(
        "fin", leading=leading + shift, chord=(0.7, 0.4), mirrored=mirrored, **counts
    )


def level_tail(*, height=0.0, half_span=1.1, **more) -> LatticeSurface:
    leading = [(3.0, 0.0, height), (3.0, half_span, height)]
    counts = {"strips": 10} | more
    return lattice_surface("tail", leading=leading, chord=(0.7, 0.7), **counts)


def solved(*surfaces: LatticeSurface, scale: float = 1.0, **more) -> LatticeResult:
    return solve_lattice(
        surfaces,
        reference_area=WING_AREA * scale**2,
        reference_chord=scale,
        reference_span=6.0 * scale,
        **more,
    )


def figures(result: LatticeResult) -> np.ndarray:
    """Every coefficient of a result."""
    even = [
        result.lift_slope,
        result.moment_slope,
        result.lift_at_zero,
        result.moment_at_zero,
        result.lift_pitch_rate,
        result.moment_pitch_rate,
    ]
    assert result.lateral is not None
    return np.array([*even, *astuple(result.lateral)])


# ---------------------------------------------------------------- symmetries


def test_moving_the_aeroplane_changes_nothing():
    far = (40.0, 0.0, -7.0)
    here = solved(wing(), v_tail(), fin(), lateral=True)
    there = solved(
        wing(shift=far), v_tail(shift=far), fin(shift=far), lateral=True, reference_point=far
    )
    assert figures(there) == pytest.approx(figures(here), rel=1e-9)
    assert there.neutral_point - 40.0 == pytest.approx(here.neutral_point, abs=1e-9)


def test_a_model_of_the_model_has_the_same_coefficients():
    whole = solved(wing(), v_tail(height=0.2), lateral=True)
    small = solved(wing(scale=0.1), v_tail(height=0.2, scale=0.1), scale=0.1, lateral=True)
    assert figures(small) == pytest.approx(figures(whole), rel=1e-9)
    assert small.neutral_point == pytest.approx(0.1 * whole.neutral_point, rel=1e-9)


AEROPLANES = {
    "wing": (wing(),),
    "V-tail in the wake": (wing(), v_tail()),
    "V-tail with a root gap": (wing(), v_tail(root=0.03)),
    "fin on the tail": (wing(), level_tail(height=0.1), fin(foot=0.12)),
    "fin through the tail": (wing(), level_tail(height=0.1), fin(foot=-0.2)),
    "twin fins": (wing(), level_tail(height=0.1), fin(y=1.1, mirrored=True, foot=-0.2)),
    "fins first": (fin(y=1.7, mirrored=True, foot=0.3), wing(), level_tail()),
}


@pytest.mark.parametrize("name", AEROPLANES)
def test_halves_say_what_the_whole_says(name):
    halves = solved(*AEROPLANES[name], lateral=True)
    whole = solved(*AEROPLANES[name], lateral=True, by_halves=False)
    assert halves.is_symmetric
    assert not whole.is_symmetric
    assert figures(whole) == pytest.approx(figures(halves), rel=1e-9, abs=1e-12)
    for one, other in zip(whole.loads, halves.loads, strict=True):
        assert one.unit == pytest.approx(other.unit, abs=1e-12)


def test_one_sided_fin_and_its_mirror_image():
    """The same fin on either side: even figures equal, and the aeroplane is solved whole."""
    right = solved(wing(), fin(y=1.2, foot=0.3), lateral=True)
    left = solved(wing(), fin(y=-1.2, foot=0.3), lateral=True)
    assert not right.is_symmetric
    assert figures(left) == pytest.approx(figures(right), rel=1e-9)


def test_fin_in_the_middle_leaves_lift_alone():
    with_fin = solved(wing(), level_tail(), fin(foot=0.02))
    without = solved(wing(), level_tail())
    assert with_fin.joints == ("fin+tail",)
    assert with_fin.lift_slope == pytest.approx(without.lift_slope, rel=1e-9)
    assert with_fin.neutral_point == pytest.approx(without.neutral_point, rel=1e-9)


# ---------------------------------------------------------------- panelling and heights

COUNTS = [(10, 7, 4), (12, 9, 3), (16, 10, 4), (20, 8, 4), (14, 14, 5)]
HEIGHTS = [0.0, 0.004, 0.02, 0.1, 0.3, 1.0, -0.05]


@pytest.mark.parametrize("height", HEIGHTS)
def test_neutral_point_does_not_hang_on_panelling(height):
    """Level tail from above the wake, through it, to below: point vortices scatter by 0.1 c."""

    def case(strips: int, tail_strips: int, rows: int) -> LatticeResult:
        plane = lattice_surface(
            "wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1), strips=strips, rows=rows
        )
        return solved(plane, level_tail(height=height, strips=tail_strips, rows=rows))

    fine = case(36, 24, 5)
    for counts in COUNTS:
        coarse = case(*counts)
        assert coarse.panels <= 200
        assert coarse.lift_slope == pytest.approx(fine.lift_slope, rel=1e-3)
        assert coarse.neutral_point == pytest.approx(fine.neutral_point, abs=1.5e-3)


@pytest.mark.parametrize("height", [0.0, 0.05, -0.3])
def test_v_tail_through_the_wake(height):
    """Its halves cross the wing's wake: down from above, up from below."""
    fine = solved(wing(strips=36, rows=5), v_tail(height=height, strips=24, rows=5))
    for strips, tail_strips, rows in COUNTS:
        coarse = solved(
            wing(strips=strips, rows=rows), v_tail(height=height, strips=tail_strips, rows=rows)
        )
        assert coarse.lift_slope == pytest.approx(fine.lift_slope, rel=1.5e-3)
        assert coarse.neutral_point == pytest.approx(fine.neutral_point, abs=2e-3)


def test_canard_wake_on_the_wing():
    """Tips of a small canard trail on to the wing itself, the hardest case."""

    def case(strips: int, canard_strips: int, height: float) -> LatticeResult:
        canard = lattice_surface(
            "canard",
            leading=[(-2, 0, height), (-1.8, 0.8, height)],
            chord=(0.5, 0.3),
            strips=canard_strips,
        )
        plane = lattice_surface(
            "wing", leading=[(0, 0, 0), (0.8, 2.6, 0)], chord=(0.9, 0.5), strips=strips
        )
        return solved(plane, canard)

    for height in (0.0, 0.02, 0.1):
        fine = case(40, 24, height)
        for counts in [(10, 7), (16, 10), (20, 8)]:
            coarse = case(*counts, height)
            assert coarse.lift_slope == pytest.approx(fine.lift_slope, rel=2.5e-3)
            assert coarse.neutral_point == pytest.approx(fine.neutral_point, abs=2e-3)


@pytest.mark.parametrize("breaks", [(0.5,), (0.03, 0.97), (0.31, 0.33, 0.9), (0.2, 0.4, 0.6, 0.8)])
def test_panel_breaks_change_nothing(breaks):
    """The same wing drawn in more panels."""

    def drawn(*at: float) -> LatticeSurface:
        y = np.array([0.0, *at, 1.0]) * 3.0
        leading = np.column_stack([0.3 * y, y, 0.05 * y])
        return lattice_surface("wing", leading=leading, chord=1.2 - 0.2 * y)

    plain, pieced = solved(drawn()), solved(drawn(*breaks))
    assert pieced.lift_slope == pytest.approx(plain.lift_slope, rel=1e-3)
    assert pieced.neutral_point == pytest.approx(plain.neutral_point, abs=1e-3)


def random_wing(key: str, rng: np.random.Generator, **place: float) -> LatticeSurface:
    """Half wing of length 1 to 3 with sweep, taper, dihedral and up to two panel breaks."""
    breaks = np.sort(rng.uniform(0.05, 0.95, rng.integers(0, 3)))
    y = np.array([0.0, *breaks, 1.0]) * place["half"]
    lean = np.tan(np.radians([rng.uniform(-10.0, 35.0), place["dihedral"]]))
    leading = np.column_stack([place["nose"] + lean[0] * y, y, place["height"] + lean[1] * y])
    chord = place["chord"] * (1.0 - rng.uniform(0.0, 0.6) * y / y[-1])
    return lattice_surface(key, leading=leading, chord=chord)


@pytest.mark.parametrize("seed", range(8))
def test_goal_holds_for_random_aeroplanes(seed):
    """0.3 % of lift slope and 0.5 % of chord, with tails in, near and off the wing's wake."""
    rng = np.random.default_rng(seed)
    main = random_wing("wing", rng, half=3.0, dihedral=4.0, nose=0.0, height=0.0, chord=1.0)
    tail = random_wing(
        "tail",
        rng,
        half=rng.uniform(0.8, 1.6),
        dihedral=rng.choice([0.0, 35.0, -30.0]),
        nose=rng.uniform(2.0, 4.0),
        height=rng.choice([0.0, 0.01, 0.1, 0.4]),
        chord=0.6,
    )
    tail = replace(tail, strips=10)
    fine = solved(*(replace(one, strips=2 * one.strips, rows=6) for one in (main, tail)))
    coarse = solved(main, tail)
    assert coarse.panels <= 200
    assert coarse.lift_slope == pytest.approx(fine.lift_slope, rel=3e-3)
    assert coarse.neutral_point == pytest.approx(fine.neutral_point, abs=5e-3)


@pytest.mark.parametrize("name", ["fin on the tail", "twin fins"])
def test_joints_converge(name):
    """Sideslip with surfaces that meet: within 2 % of the fine lattice."""

    def at(factor: float) -> LatticeResult:
        finer = [
            replace(surface, strips=round(surface.strips * factor)) for surface in AEROPLANES[name]
        ]
        return solved(*finer, lateral=True)

    coarse, fine = figures(at(1.0)), figures(at(2.0))
    assert coarse == pytest.approx(fine, rel=0.02, abs=5e-4)
    assert coarse[:2] == pytest.approx(fine[:2], rel=2e-3)


# ---------------------------------------------------------------- joints


@pytest.mark.parametrize("gap", [0.002, 0.02, 0.05])
def test_small_root_gap_is_closed(gap):
    """5 mm between the halves of a model's V-tail must not move its neutral point."""
    closed, open_ = solved(wing(), v_tail()), solved(wing(), v_tail(root=gap))
    assert open_.neutral_point == pytest.approx(closed.neutral_point, abs=0.05 * gap)


def test_root_at_a_body_side_is_carried_across_and_said():
    leading = [(0.0, 0.2, 0.0), (0.0, 3.0, 0.0)]
    beside = solved(lattice_surface("wing", leading=leading, chord=(1.0, 1.0)))
    through = solved(lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1)))
    assert beside.lift_slope == pytest.approx(through.lift_slope, rel=1e-3)
    assert any("wing: the root stands 200 mm off the middle" in note for note in beside.notes)


def test_a_wide_gap_stays_open():
    leading = [(0.0, 0.6, 0.0), (0.0, 3.0, 0.0)]
    apart = solved(lattice_surface("wing", leading=leading, chord=(1.0, 1.0)))
    through = solved(lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1)))
    assert apart.lift_slope < 0.85 * through.lift_slope


@pytest.mark.parametrize(
    ("surfaces", "joints"),
    [
        ((level_tail(height=0.1), fin(foot=0.12)), ("fin+tail",)),
        ((level_tail(height=0.1), fin(foot=-0.3)), ("fin+tail",)),
        ((level_tail(height=0.1), fin(foot=0.4)), ()),
        ((level_tail(height=0.1), fin(y=1.11, mirrored=True, foot=-0.2)), ("fin+tail",)),
        ((level_tail(height=0.1), fin(y=1.11, mirrored=True, foot=0.1)), ("fin+tail",)),
        ((level_tail(height=0.1), fin(y=0.6, mirrored=True, foot=0.11)), ("fin+tail",)),
        ((level_tail(height=0.1), fin(y=-0.6, foot=0.11)), ("fin+tail",)),
        ((wing(), v_tail()), ()),
    ],
)
def test_which_surfaces_meet(surfaces, joints):
    assert solved(*surfaces).joints == joints


# ---------------------------------------------------------------- sums, signs, notes


def test_shares_and_loads_add_up():
    result = solved(wing(), v_tail(height=0.3))
    assert sum(s.lift_slope for s in result.shares) == pytest.approx(result.lift_slope)
    assert sum(s.moment_slope for s in result.shares) == pytest.approx(result.moment_slope)
    load = result.loads[0]
    level = np.diff([0.0, 1.7, 2.9]) / np.hypot(np.diff([0.0, 1.7, 2.9]), [0.1, 0.3])
    slope = np.where(load.y < 1.7, level[0], level[1])
    lift = 2.0 * (load.unit * load.width * slope).sum() / WING_AREA
    assert lift == pytest.approx(result.shares[0].lift_slope)
    assert not load.unit.flags.writeable
    assert load.chord[0] < 1.2


def test_signs():
    """Washout lowers the tips; a tail aft damps, holds the nose and the fin into the wind."""
    plain = solved(wing(), level_tail(height=0.3), fin(foot=0.3), lateral=True)
    assert plain.lateral is not None
    assert plain.moment_slope < 0.0
    assert plain.moment_pitch_rate < 0.0
    assert plain.lateral.roll_sideslip < 0.0 < plain.lateral.yaw_sideslip
    assert plain.lateral.side_sideslip < 0.0
    assert plain.lateral.roll_damping < 0.0
    assert plain.zero_lift_angle < 0.0  # the wing stands at 2 degrees


def test_zero_lift_moment_is_the_same_about_any_point():
    moments = [
        solved(wing(), v_tail(), reference_point=(x, 0.0, 0.1)).zero_lift_moment
        for x in (0.0, 0.5, 2.0)
    ]
    assert moments == pytest.approx([moments[0]] * 3, rel=1e-9)


def test_incidence_of_the_whole_is_an_angle_of_zero_lift():
    angle = np.radians(3.0)
    turned = lattice_surface(
        "wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(1, 1), twist=(angle, angle)
    )
    result = solved(turned)
    assert result.zero_lift_angle == pytest.approx(-angle, rel=1e-3)  # slope is tan(angle)
    assert result.zero_lift_moment == pytest.approx(0.0, abs=1e-12)


def test_upright_surfaces_alone_have_no_neutral_point():
    result = solved(fin(), lateral=True)
    assert result.lift_slope == 0.0
    assert np.isnan(result.neutral_point)
    assert "nothing lifts: there is no neutral point" in result.notes
    assert result.lateral is not None
    assert result.lateral.side_sideslip < 0.0


def test_the_result_says_what_is_left_out():
    assert "bodies" in solved(wing()).notes[0]


def test_lateral_figures_only_where_asked_for():
    assert solved(wing()).lateral is None
    assert solved(wing(), by_halves=False).lateral is None


@pytest.mark.parametrize(
    ("surfaces", "area", "says"),
    [
        ((), 1.0, "needs a surface"),
        ((wing(),), 0.0, "above zero"),
        ((wing(),), float("nan"), "above zero"),
        ((wing(), wing()), 1.0, "same key"),
    ],
)
def test_refusals(surfaces, area, says):
    with pytest.raises(DomainError, match=says):
        solve_lattice(surfaces, reference_area=area, reference_chord=1.0, reference_span=1.0)


def test_refuses_panels_that_do_not_follow_each_other():
    good = wing()
    first = replace(good.panels[0], tip_leading=np.ones(3))
    with pytest.raises(DomainError, match="panel 2 does not begin where 1 ends"):
        solved(replace(good, panels=(first, good.panels[1])))


def test_refuses_a_panel_without_area():
    flat = lattice_surface("wing", leading=[(0, 0, 0), (0, 3, 0)], chord=(0.0, 0.0))
    with pytest.raises(DomainError, match="without area"):
        solved(flat)
