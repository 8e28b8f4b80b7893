"""The drag table: what counts, what hides, how rows add up."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from foamwright.air.drag import (
    Cause,
    DragRow,
    Law,
    add_rows,
    drag_parts,
    drag_table,
    plate_friction,
    share_lines,
)
from foamwright.air.drag.covers import Block, block_cover, free_front, hidden
from foamwright.airframe import Group, build_airframe
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.design.model import BoxFace, BoxStation, ItemKind, Mounting, Opening
from foamwright.errors import DomainError
from tests.making import (
    FOLDED,
    boom,
    box,
    control,
    design,
    full_design,
    item,
    motor,
    panel,
    pod,
    power,
    pushrod,
    slab,
    surface,
    wheel,
    wire,
)


def _table(airspeed=12.0, edges=False, **changes):
    frame = build_airframe(design(**changes))
    return drag_table(drag_parts(frame, edges=edges), airspeed=airspeed)


def test_a_bare_wing_has_no_rows():
    table = _table()
    assert table.rows == ()
    assert float(table.total) == 0.0


def test_every_kind_of_part_has_its_rows():
    table = drag_table(drag_parts(build_airframe(full_design())), airspeed=12.0)
    keys = {row.key for row in table.rows}
    assert {
        "hull.skin",
        "hull.blunt front",
        "hull.openings",
        "pylon.skin",
        "pylon.cut edges",
        "dome.shell",
        "boom.skin",
        "item.servo",
        "gear.main",
        "gear.leg",
        "wing.aileron.gap",
        "tail.ruddervator.gap",
    } <= keys
    assert len(keys) == len(table.rows)
    assert all(row.source and row.title and row.path for row in table.rows)
    assert all(0.0 < row.band < 1.0 for row in table.rows)
    assert np.all(table.areas >= 0.0)


@pytest.mark.parametrize("name", STARTERS)
def test_examples_are_foam_models(name):
    """Without sections 0.008 to 0.04 on the wing: foam models have 0.02 to 0.06 in all
    (common practice, no source)."""
    for plan in read_design_text(starter_text(name)).variants:
        frame = build_airframe(plan)
        table = drag_table(drag_parts(frame), airspeed=12.0)
        assert 0.008 < float(table.total) / frame.reference.area < 0.04
        assert 0.05 < float(table.scatter / table.total) < 0.3
        assert float(table.shares.sum()) == pytest.approx(1.0)


def test_wheels_show_between_variants():
    plans = read_design_text(starter_text("dunlin"))
    skid, wheels = (
        drag_table(drag_parts(build_airframe(plans.variant(name))), airspeed=12.0)
        for name in ("long tips", "wheels")
    )
    more = float(wheels.total - skid.total)
    gear = float(wheels.of_group(Group.GEAR) - skid.of_group(Group.GEAR))
    assert more == pytest.approx(gear)
    assert 0.1 < gear / float(wheels.total) < 0.4


def test_states_broadcast_and_scalars_equal_slices():
    parts = drag_parts(build_airframe(full_design()))
    speeds = np.array([6.0, 12.0, 24.0])
    densities = np.array([[1.225], [1.0]])
    table = drag_table(parts, airspeed=speeds, density=densities)
    assert table.areas.shape == (2, 3, len(parts.parts))
    assert table.rows[0].area.shape == (2, 3)
    for i, j in itertools.product(range(2), range(3)):
        one = drag_table(parts, airspeed=speeds[j], density=densities[i, 0])
        assert one.areas == pytest.approx(table.areas[i, j], rel=1e-12)
        assert float(one.total) == pytest.approx(float(table.total[i, j]))


def test_no_airspeed_says_nan():
    parts = drag_parts(build_airframe(full_design()))
    assert np.isnan(drag_table(parts, airspeed=0.0).row("hull.skin").area)


def test_friction_falls_with_speed_and_steps_nowhere():
    speeds = np.linspace(4.0, 30.0, 200)
    parts = drag_parts(build_airframe(full_design()))
    skin = drag_table(parts, airspeed=speeds).row("hull.skin").area
    assert np.all(np.diff(skin) < 0.0)
    edge = 3e5 * np.array([1.0 - 1e-9, 1.0 + 1e-9])
    below, above = plate_friction(edge, transition=3e5)
    assert below == pytest.approx(above, rel=1e-6)


def test_a_mirrored_part_counts_twice():
    one = _table(bodies=(slab(mirrored=False, y=0.1),))
    two = _table(bodies=(slab(mirrored=True, y=0.1),))
    assert two.areas == pytest.approx(2.0 * one.areas)
    assert two.row("pylon.skin").title == "pylon, skin (2)"


def test_what_lies_in_a_body_costs_nothing():
    outside = item("servo", kind=ItemKind.SERVO, at=(0.3, 0.0, 0.2), size=(0.02, 0.03, 0.012))
    inside = item("servo", kind=ItemKind.SERVO, at=(0.3, 0.0, 0.0), size=(0.02, 0.03, 0.012))
    half = item("servo", kind=ItemKind.SERVO, at=(0.3, 0.0, 0.04), size=(0.02, 0.03, 0.012))
    areas = [
        float(_table(bodies=(box(),), items=(thing,)).of_path("item.servo"))
        for thing in (outside, inside, half)
    ]
    assert areas[1] == 0.0
    assert 0.3 < areas[2] / areas[0] < 0.6
    fineness = 0.02 / math.sqrt(4.0 / math.pi * 0.03 * 0.012)
    drag = float(np.interp(fineness, [0.0, 1.0], [1.17, 0.91]))
    assert areas[0] == pytest.approx(drag * 0.03 * 0.012, rel=1e-9)


def test_what_is_let_into_a_wing_costs_nothing():
    thick = surface(panels=(panel(section=FOLDED),))
    # The servo lies between the skins of a folded wing 22 mm deep, whose middle is at 8.5 mm.
    servo = item("servo", kind=ItemKind.SERVO, at=(0.07, 0.2, 0.0085), size=(0.02, 0.03, 0.01))
    table = _table(surfaces=(thick,), items=(servo,))
    assert float(table.of_path("item.servo")) == 0.0


def test_a_small_thing_hides_behind_a_large_one():
    plate = item("plate", at=(0.0, 0.0, 0.3), size=(0.003, 0.04, 0.04))
    engine = motor(at=(0.005, 0.0, 0.3), mounting=Mounting.PUSHER, propeller=None)
    both = _table(items=(plate,), power=power(motors=(engine,), controllers=(), packs=()))
    keys = [row.key for row in both.rows]
    assert keys == ["item.plate"]
    far = motor(at=(0.3, 0.0, 0.3), mounting=Mounting.PUSHER, propeller=None)
    apart = _table(items=(plate,), power=power(motors=(far,), controllers=(), packs=()))
    assert [row.key for row in apart.rows] == ["item.plate", "motor.main"]


def test_a_pod_rounds_an_open_front():
    plain = _table(bodies=(box(),))
    rounded = _table(
        bodies=(box(), pod(at=(0.0, 0.0, 0.0), length=0.1, width=0.0599, height=0.0799))
    )
    front = float(plain.row("hull.blunt front").area)
    assert float(rounded.row("hull.blunt front").area) < 0.35 * front
    # Its back is inside the box: no wake of its own.
    assert float(rounded.row("dome.shell").area) < 0.1 * front


def test_slopes_of_a_box():
    """A nose that widens gently costs little, a tail that closes gently nothing."""
    gentle = (
        BoxStation(x=0.0, bottom=-0.02, top=0.02, width=0.04),
        BoxStation(x=0.2, bottom=-0.03, top=0.03, width=0.06),
        BoxStation(x=0.6, bottom=-0.012, top=0.012, width=0.024),
    )
    wing = surface(at=(0.2, 0.0, 0.2))
    table = _table(bodies=(box(stations=gentle),), surfaces=(wing,))
    assert float(table.row("hull.blunt front").area) == pytest.approx(0.7 * 0.04**2, rel=0.02)
    assert float(table.row("hull.blunt back").area) < 0.05 * float(table.total)
    steep = (*gentle[:2], BoxStation(x=0.24, bottom=-0.012, top=0.012, width=0.024))
    cut_off = _table(bodies=(box(stations=steep),), surfaces=(wing,))
    assert float(cut_off.row("hull.blunt back").area) > 10 * float(
        table.row("hull.blunt back").area
    )


def test_a_hatch_is_closed_and_a_filled_hole_too():
    def mouth(**changes):
        hole = {"key": "hole", "face": BoxFace.TOP, "start": 0.4, "end": 0.48}
        hole |= {"low": -0.005, "high": 0.005, "is_hatch": False}
        return Opening(**{**hole, **changes})

    keys = [
        {row.key for row in _table(bodies=(box(openings=(mouth(),)),)).rows},
        {row.key for row in _table(bodies=(box(openings=(mouth(is_hatch=True),)),)).rows},
    ]
    assert "hull.openings" in keys[0]
    assert "hull.openings" not in keys[1]
    filled = slab(outline=((0.39, 0.0), (0.49, 0.0), (0.49, 0.1), (0.39, 0.1)), openings=())
    table = _table(bodies=(box(openings=(mouth(),)), filled))
    assert "hull.openings" not in {row.key for row in table.rows}


def test_holes_of_a_slab_take_skin_and_give_cavities():
    plain = _table(bodies=(slab(openings=()),))
    holed = _table(bodies=(slab(),))
    hole = 0.5 * 0.02 * 0.03
    assert float(holed.row("pylon.openings").area) == pytest.approx(2.0 * 0.02 * hole)
    assert float(holed.row("pylon.skin").area) < float(plain.row("pylon.skin").area)


def test_a_pylon_in_a_hull_counts_only_outside():
    free = slab(outline=((0.4, 0.04), (0.47, 0.04), (0.47, 0.14), (0.4, 0.14)), openings=())
    sunk = slab(outline=((0.4, -0.03), (0.47, -0.03), (0.47, 0.14), (0.4, 0.14)), openings=())
    tables = [_table(bodies=(box(), body)) for body in (free, sunk)]
    for key in ("pylon.skin", "pylon.cut edges"):
        a, b = (float(table.row(key).area) for table in tables)
        assert a == pytest.approx(b, rel=0.05)


def test_wires_lean():
    across = wire(points=((0.2, 0.0, -0.2), (0.2, 0.0, -0.3)), mirrored=False)
    along = wire(points=((0.2, 0.0, -0.2), (0.3, 0.0, -0.2)), mirrored=False)
    a, b = (float(_table(gear=(leg,)).row("gear.leg").area) for leg in (across, along))
    assert 0.9 < a / (0.002 * 0.1) < 1.3
    assert b == pytest.approx(0.02 * 0.002 * 0.1)


def test_a_pushrod_inside_the_hull_costs_nothing():
    hidden_rod = pushrod(start=(0.1, 0.0, 0.0), end=(0.5, 0.0, 0.0), mirrored=False)
    table = _table(bodies=(box(),), pushrods=(hidden_rod,))
    assert "pushrod.tail" not in {row.key for row in table.rows}


def test_cut_edges_only_on_demand():
    assert "wing.cut edges" not in {row.key for row in _table().rows}
    table = _table(edges=True)
    on_wing = float(table.row("wing.cut edges").area) / 0.2
    # 5 mm on 200 mm: 0.7 of the thickness in front and some 0.15 behind.
    assert on_wing == pytest.approx((0.7 + 0.145) * 0.025, rel=0.03)


def test_gaps_follow_the_bevel():
    narrow = _table(surfaces=(surface(controls=(control(bevel=0.0),)),))
    wide = _table(surfaces=(surface(controls=(control(),)),))
    assert float(narrow.total) == pytest.approx(2 * 0.02 * 0.001 * 0.3)
    assert float(wide.total) == pytest.approx(2 * 0.02 * 0.006 * 0.3)


def test_pressure_ratio_scales_what_stands_in_it():
    parts = drag_parts(build_airframe(design(gear=(wheel(),), bodies=(boom(),))))
    ratio = np.ones(len(parts.parts))
    keys = [part.key for part in parts.parts]
    ratio[keys.index("gear.main")] = 2.0
    plain = drag_table(parts, airspeed=10.0)
    blown = drag_table(parts, airspeed=10.0, pressure_ratio=ratio)
    assert float(blown.row("gear.main").area) == pytest.approx(
        2 * float(plain.row("gear.main").area)
    )
    assert float(blown.row("boom.skin").area) == pytest.approx(float(plain.row("boom.skin").area))


def test_rows_can_be_added_and_keys_stay_single():
    speeds = np.array([8.0, 16.0])
    table = drag_table(drag_parts(build_airframe(full_design())), airspeed=speeds)
    row = DragRow(
        key="wing.section",
        path="surface.wing",
        title="wing, section",
        group=Group.WING,
        cause=Cause.SECTION,
        area=np.array([4e-3, 3e-3]),
        band=0.2,
        source="section tables",
    )
    more = add_rows(table, (row,))
    assert more.total == pytest.approx(table.total + row.area)
    assert more.of_cause(Cause.SECTION) == pytest.approx(row.area)
    assert more.leaves_out == table.leaves_out
    with pytest.raises(DomainError, match="same key"):
        add_rows(more, (row,))
    with pytest.raises(KeyError):
        table.row("wing.section")


def test_scatter_adds_rows_of_one_cause_and_squares_of_others():
    rows = tuple(
        DragRow(
            key=str(i), path="", title="", group=Group.BODY, cause=cause,
            area=np.array(area), band=band, source="",
        )
        for i, (cause, area, band) in enumerate(
            [(Cause.WIRE, 1.0, 0.1), (Cause.WIRE, 2.0, 0.1), (Cause.WHEEL, 4.0, 0.1)]
        )
    )  # fmt: skip
    empty = drag_table(drag_parts(build_airframe(design())), airspeed=10.0)
    table = add_rows(empty, rows)
    assert float(table.scatter) == pytest.approx(0.5)


def test_sentences_name_the_large_and_sum_the_small():
    table = drag_table(drag_parts(build_airframe(full_design())), airspeed=np.array([8.0, 16.0]))
    lines = share_lines(table, at=(1,))
    assert lines[0].endswith("% of the drag")
    assert any(line.startswith("wheel, main (2): ") for line in lines)
    assert len(set(lines)) == len(lines)


def test_left_and_right_slab_drag_the_same():
    right, left = (_table(bodies=(slab(y=y),)) for y in (0.2, -0.2))
    assert right.areas == pytest.approx(left.areas)


def test_a_design_scaled_up_scales_by_area_at_the_same_reynolds_number():
    small, large = (
        box(
            stations=tuple(
                BoxStation(x=k * x, bottom=-k * h, top=k * h, width=k * w)
                for x, h, w in ((0.0, 0.02, 0.04), (0.2, 0.03, 0.05), (0.8, 0.01, 0.03))
            )
        )
        for k in (1.0, 2.0)
    )
    a = _table(bodies=(small,), airspeed=20.0)
    b = _table(bodies=(large,), airspeed=10.0)
    assert b.areas == pytest.approx(4.0 * a.areas, rel=1e-9)


def test_free_front_of_a_block():
    block = Block(low=np.array([0.0, -0.02, -0.02]), high=np.array([0.01, 0.02, 0.02]))
    assert free_front(block, []) == 1.0
    behind = Block(low=np.array([0.015, 0.0, -1.0]), high=np.array([0.016, 1.0, 1.0]))
    assert free_front(block, [block_cover(behind)]) == pytest.approx(0.5, abs=0.06)
    far = Block(low=np.array([0.2, -1.0, -1.0]), high=np.array([0.3, 1.0, 1.0]))
    assert free_front(block, [block_cover(far)]) == 1.0
    points = np.array([[0.005, 0.0, 0.0], [0.5, 0.0, 0.0]])
    assert hidden(points, [block_cover(block)]).tolist() == [True, False]


def test_a_law_with_nothing_is_nothing():
    assert Law() == Law(fixed=0.0)
