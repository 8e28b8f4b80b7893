"""What reads well and still cannot be made: each such part is said, with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from foamwright.assess import assess, compare
from foamwright.design import read_design, read_design_text, starter_text
from foamwright.errors import DesignFileError, ShapeError

DUNLIN = starter_text("dunlin")


def _line(text: str, start: str) -> int:
    return next(n for n, line in enumerate(text.splitlines(), 1) if line.startswith(start))


@pytest.mark.parametrize(
    ("old", "new", "path", "header", "words"),
    [
        ("width = 30", "width = 8", "body.hull", "[body.hull]", "two sheets"),
        (
            'creases = [{ at = "35 %", rise = "5 %" }]',
            'creases = [{ at = "35 %", angle = 50 }, { at = "36 %", angle = 50 }]',
            "surface.wing",
            "[surface.wing]",
            "too thick for a facet",
        ),
        (
            "points = [[26, 0, -21.5], [74, 0, -27.5]",
            "points = [[26, 0, -21.5], [26, 0, -21.5]",
            "gear.keel",
            "[gear.keel]",
            "coincide",
        ),
        (
            "chord = 36 ",
            "chord = 140 ",
            "surface.wing.panel.inner",
            "[[surface.wing.panel]]",
            "hinge line lies ahead",
        ),
    ],
)
def test_parts_that_cannot_be_made_are_problems_with_a_line(
    tmp_path: Path, old: str, new: str, path: str, header: str, words: str
):
    assert old in DUNLIN
    text = DUNLIN.replace(old, new, 1)
    file = tmp_path / "dunlin.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DesignFileError) as caught:
        compare(read_design(file))
    (problem,) = (each for each in caught.value.problems if each.path == path)
    assert problem.code == "SHAPE-IMPOSSIBLE"
    assert problem.line == _line(text, header)
    assert words in problem.text


def test_every_part_that_cannot_be_made_is_said_at_once(tmp_path: Path):
    text = DUNLIN.replace("width = 30", "width = 8", 1).replace(
        "dihedral = 36 ", "dihedral = 89 ", 1
    )
    file = tmp_path / "dunlin.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DesignFileError) as caught:
        compare(read_design(file))
    assert [problem.path for problem in caught.value.problems] == ["surface.tail", "body.hull"]


def test_a_variant_that_cannot_be_made_is_named():
    text = DUNLIN + '"body.hull.stations[1].width" = 8\n'
    with pytest.raises(DesignFileError, match='in the variant "small pack"'):
        compare(read_design_text(text))


@pytest.mark.parametrize(
    ("dihedral", "role", "words"),
    [(90, "wing", "stands on edge"), (0, "fin", "lies flat")],
)
def test_a_surface_seen_edge_on_is_refused(dihedral: int, role: str, words: str):
    text = f"""
format = 1
name = "Edge"
[stock.sheet.foam]
kind = "foam"
thickness = 5
weight = 200
size = [700, 500]
[surface.wing]
role = "wing"
at = [0, 0, 0]
mirror = true
section = {{ kind = "flat", sheet = "foam" }}
panel = [{{ name = "one", length = 300, root_chord = 150 }}]
[surface.other]
role = "{role}"
at = [400, 0, 10]
section = {{ kind = "flat", sheet = "foam" }}
panel = [{{ name = "one", length = 200, root_chord = 150, dihedral = {dihedral} }}]
"""
    with pytest.raises(ShapeError, match=f"surface.other: {words}"):
        assess(read_design_text(text).variants[0])
