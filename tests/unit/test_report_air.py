"""What the report says of stall and drag: rows, dictionary, printed table."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from foamwright.assess import assess, compare
from foamwright.design import DesignSet, changed_text, read_design_text, starter_text
from foamwright.findings import Change, Finding, Level
from foamwright.report import NOT_LOOKED_AT, as_dictionary, drag_rows, rows, stalling_speed
from foamwright.terminal import print_comparison


@pytest.fixture(scope="module")
def dunlin() -> DesignSet:
    return read_design_text(starter_text("dunlin"))


@pytest.fixture(scope="module")
def comparison(dunlin):
    return compare(dunlin)


def test_rows_say_stall_and_drag(comparison):
    table = {row.label: row.cells for row in rows(comparison)}
    for label in ("Largest lift coefficient", "Stall starts, of half span", "Stalling speed"):
        assert all(table[label])
    shares = [
        table[label]
        for label in table
        if label.strip() in ("sections of wing and tail", "lift", "bodies, gear and the rest")
    ]
    for column in zip(*shares, strict=True):
        assert sum(map(float, column)) == pytest.approx(100.0, abs=1.5)
    assert not any("stall" in topic or "drag" in topic for topic in NOT_LOOKED_AT)


def test_stalling_speed_carries_the_weight(comparison):
    for found in comparison.assessments:
        speed = stalling_speed(found)
        lift = 0.5 * 1.225 * speed**2 * found.airframe.reference.area * found.stall.max_lift
        assert lift == pytest.approx(9.80665 * found.balance.mass, rel=1e-9)
        assert speed < found.carrying.cruise_speed


def test_dictionary_holds_stall_and_drag_and_is_json(comparison):
    result = json.loads(json.dumps(as_dictionary(comparison), allow_nan=False))
    for variant in result["variants"]:
        stall, drag = variant["stall"], variant["drag"]
        assert 0.8 < stall["max_lift"] < 1.4
        assert stall["starts"]["surface"] == "wing"
        assert all(point["converged"] for point in stall["curve"])
        parts = drag["cruise"]["parts"]
        assert sum(part["drag"] for part in parts) == pytest.approx(drag["cruise"]["drag"])
        assert sum(part["share"] for part in parts) == pytest.approx(1.0)
        assert all(part["source"] for part in parts)
        assert drag["best_glide"]["ratio"] > 3.0
        assert variant["stability"]["neutral_point_shift_by_bodies_mm"] < 0.0


def test_parts_come_largest_first(comparison):
    drags = [row["drag"] for row in drag_rows(comparison.assessments[0])]
    assert drags == sorted(drags, reverse=True)


def test_one_variant_prints_its_drag(dunlin, capsys):
    alone = replace(dunlin, variants=dunlin.variants[:1])
    print_comparison(compare(alone), with_parts=True)
    said = capsys.readouterr().out
    assert "Drag at cruise" in said
    assert "wing, sections" in said
    assert "lift (induced)" in said


def test_a_tip_stall_reaches_the_report_with_its_cures(dunlin):
    design = dunlin.variants[0]
    wing = design.surfaces[0]
    tip = replace(wing.panels[-1], tip_chord=0.06, length=0.26, tip_twist=0.0)
    changed = replace(
        design,
        surfaces=(replace(wing, panels=(*wing.panels[:-1], tip)), *design.surfaces[1:]),
    )
    (found,) = (f for f in assess(changed).findings if f.slug == "tip-stall")
    assert found.level is Level.MIND
    assert found.variants == (design.variant,)
    assert found.cures
    for cure in found.cures:
        assert cure.changes[0].path.startswith("surface.wing.panel.tip.")
        assert "half span" in cure.effect


def test_cures_written_into_the_file_take_the_warning_away():
    """The whole way round: file, finding, cure, file, no such finding."""
    changes = (
        Change(path="surface.wing.panel.tip.tip_chord", value="60 mm"),
        Change(path="surface.wing.panel.tip.length", value="260 mm"),
        Change(path="surface.wing.panel.tip.tip_twist", value="0 deg"),
    )
    text = changed_text(starter_text("dunlin"), changes)
    (found,) = _tip_stalls(text)
    fields = {cure.changes[0].path.rsplit(".", 1)[1] for cure in found.cures}
    assert {"tip_chord", "tip_section"} <= fields
    for cure in found.cures:
        assert not _tip_stalls(changed_text(text, cure.changes)), cure.effect


def _tip_stalls(text: str) -> list[Finding]:
    design = read_design_text(text).variants[0]
    return [found for found in assess(design).findings if found.slug == "tip-stall"]


def test_margin_uses_the_whole_aeroplane(comparison):
    found = comparison.assessments[0]
    margin = found.aero.neutral_point - found.balance.point[0]
    said = as_dictionary(comparison)["variants"][0]["stability"]["static_margin"]
    assert said == pytest.approx(margin / found.airframe.reference.mac)
    assert math.isfinite(said)
