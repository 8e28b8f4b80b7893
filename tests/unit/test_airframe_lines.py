"""Tape and glue lines: as long as the real run, on the right side, as often as said."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foamwright.airframe import Hand, LineRun, build_airframe
from foamwright.design.model import (
    Along,
    Body,
    BoxFace,
    Doubler,
    Former,
    JointKind,
    LineUse,
    Surface,
    SurfaceRole,
)
from tests import making

T = 0.005


def runs(surface: Surface) -> list[LineRun]:
    return list(build_airframe(making.design(surfaces=(surface,))).lines)


def wing(along: Along, *, times: int = 1, **changes: object) -> Surface:
    return making.surface(lines=(LineUse(use="tape", along=along, runs=times),), **changes)


def body_runs(body: Body) -> list[LineRun]:
    return list(build_airframe(making.design(bodies=(body,))).lines)


def total(lines: list[LineRun]) -> float:
    return sum(line.length for line in lines)


TAPERED = (making.panel(root_chord=0.2, tip_chord=0.14, sweep=12.0, dihedral=5.0),)


@pytest.mark.parametrize(
    ("along", "expected"),
    [
        (Along.LEADING_EDGE, 2 * 0.5 / math.cos(math.radians(12.0))),
        (Along.TRAILING_EDGE, 2 * math.hypot(0.5, 0.5 * math.tan(math.radians(12.0)) - 0.06)),
        (Along.TIPS, 2 * 0.14),
        (Along.JOINTS, 0.2),
        (Along.CREASES, 0.0),
        (Along.HINGES, 0.0),
        (Along.SPAR, 0.0),
        (Along.LAYERS, 0.0),
    ],
)
def test_lengths_on_a_flat_tapered_panel(along, expected):
    assert total(runs(wing(along, panels=TAPERED))) == pytest.approx(expected)


def test_the_joint_in_the_middle_is_shared():
    (line,) = runs(wing(Along.JOINTS, panels=TAPERED))
    assert line.hand is Hand.CENTRE
    assert np.all(line.points[:, 1] == 0.0)


def test_outer_joints_are_on_both_sides():
    panels = (making.panel("inner"), making.panel("tip", dihedral=10.0))
    lines = runs(wing(Along.JOINTS, panels=panels))
    assert [line.hand for line in lines] == [Hand.CENTRE, Hand.RIGHT, Hand.LEFT]
    assert total(lines) == pytest.approx(3 * 0.2)


def test_roots_off_the_middle_are_joints_on_both_sides():
    lines = runs(wing(Along.JOINTS, at=(0.0, 0.03, 0.0)))
    assert [line.hand for line in lines] == [Hand.RIGHT, Hand.LEFT]


def test_joint_of_a_fin_is_in_the_middle_once():
    fin = making.surface(
        "fin",
        role=SurfaceRole.FIN,
        mirrored=False,
        panels=(making.panel(dihedral=90.0),),
        lines=(LineUse(use="glue", along=Along.JOINTS, runs=1),),
    )
    (line,) = build_airframe(making.design(surfaces=(making.surface(), fin))).lines
    assert (line.hand, line.stock, line.path) == (Hand.CENTRE, "glue", "surface.fin.panel.half")


def test_runs_repeat_a_line_under_keys_of_their_own():
    lines = runs(wing(Along.LEADING_EDGE, times=3))
    assert [line.key for line in lines if line.hand is Hand.RIGHT] == [
        "wing.half.leading-edge.tape",
        "wing.half.leading-edge.tape.2",
        "wing.half.leading-edge.tape.3",
    ]
    assert total(lines) == pytest.approx(3 * 2 * 0.5)


def test_creases_and_joints_follow_the_sheet():
    panels = (making.panel(section=making.CREASED),)
    (joint,) = runs(wing(Along.JOINTS, panels=panels))
    assert joint.length == pytest.approx(0.2 * (math.hypot(0.35, 0.05) + math.hypot(0.65, 0.05)))
    creases = runs(wing(Along.CREASES, panels=panels))
    assert total(creases) == pytest.approx(2 * 0.5)
    assert creases[0].points[0] == pytest.approx([0.35 * 0.2, 0.0, 0.05 * 0.2])


def test_lines_of_a_folded_section():
    panels = (making.panel(section=making.FOLDED),)
    assert len(runs(wing(Along.CREASES, panels=panels))) == 2 * 3
    spar = runs(wing(Along.SPAR, panels=panels))
    assert total(spar) == pytest.approx(2 * 2 * 0.5)
    assert spar[0].points[0] == pytest.approx([0.06, 0.0, 0.5 * T])
    (nose, _) = runs(wing(Along.LEADING_EDGE, panels=panels))
    assert nose.points[0, 0] == pytest.approx(0.5 * T)


def test_without_a_web_the_spar_is_the_rod_that_is_built_in():
    built_in = making.joint()
    plugged = making.joint("plug", kind=JointKind.PLUGGED)
    (line,) = runs(wing(Along.SPAR, joints=(built_in,)))
    assert line.length == pytest.approx(0.2)
    assert line.hand is Hand.CENTRE
    assert runs(wing(Along.SPAR, joints=(plugged,))) == []


def test_both_long_edges_of_every_layer():
    panels = (making.panel(section=making.STEPPED),)
    assert total(runs(wing(Along.LAYERS, panels=panels))) == pytest.approx(2 * 3 * 2 * 0.5)


@pytest.mark.parametrize("kind", making.SECTIONS)
def test_hinges_run_along_the_control(kind):
    panels = (making.panel(section=making.SECTIONS[kind]),)
    lines = runs(wing(Along.HINGES, panels=panels, controls=(making.control(),)))
    assert [line.path for line in lines] == ["surface.wing.control.flap"] * 2
    assert total(lines) == pytest.approx(2 * 0.6 * 0.5)
    assert lines[0].points[:, 0] == pytest.approx([0.16, 0.16])


def test_edges_of_a_straight_box_are_four():
    body = making.box(lines=(LineUse(use="glue", along=Along.EDGES, runs=1),))
    lines = body_runs(body)
    assert len(lines) == 4
    assert total(lines) == pytest.approx(4 * 0.6)
    assert {line.hand for line in lines} == {Hand.RIGHT, Hand.LEFT}
    assert abs(lines[0].points[0, 1]) == pytest.approx(0.03 - T)


def test_formers_are_glued_all_round_and_so_are_the_ends():
    body = making.box(
        formers=(Former(key="bay", x=0.3, sheet="ply", opening=0.5),),
        lines=(LineUse(use="glue", along=Along.FORMERS, runs=1),),
    )
    lines = body_runs(body)
    assert [line.key for line in lines] == [
        "hull.end.front.glue",
        "hull.end.back.glue",
        "hull.former.bay.glue",
    ]
    assert total(lines) == pytest.approx(3 * 2 * ((0.06 - 2 * T) + (0.08 - 2 * T)))


def test_doublers_are_glued_round_their_outline():
    body = making.box(
        doublers=(
            Doubler(key="s", face=BoxFace.SIDES, start=0.1, end=0.4, sheet="ply"),
            Doubler(key="t", face=BoxFace.TOP, start=0.45, end=0.55, sheet="ply"),
        ),
        lines=(LineUse(use="glue", along=Along.DOUBLERS, runs=1),),
    )
    lines = body_runs(body)
    assert [line.hand for line in lines] == [Hand.RIGHT, Hand.LEFT, Hand.CENTRE]
    assert total(lines) == pytest.approx(2 * 2 * (0.3 + 0.07) + 2 * (0.1 + 0.05))


def test_a_box_off_the_middle_has_its_lines_on_both_sides_of_itself():
    body = making.box(y=0.2, mirrored=True, lines=(LineUse(use="glue", along=Along.EDGES, runs=1),))
    lines = body_runs(body)
    assert len(lines) == 8
    assert {line.hand for line in lines} == {Hand.RIGHT, Hand.LEFT}
    right = [line.points[0, 1] for line in lines if line.hand is Hand.RIGHT]
    assert sorted(set(np.round(right, 9))) == pytest.approx([0.175, 0.225])


def test_slab_edges_are_its_outline():
    body = making.slab(
        outline=((0.0, 0.0), (0.3, 0.0), (0.3, 0.4)),
        openings=(),
        lines=(LineUse(use="glue", along=Along.EDGES, runs=2),),
    )
    lines = body_runs(body)
    assert total(lines) == pytest.approx(2 * (0.3 + 0.4 + 0.5))


def test_pods_and_booms_have_no_lines():
    assert body_runs(making.pod()) == []
    assert body_runs(making.boom()) == []
