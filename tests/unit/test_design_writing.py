"""Changes go into the file; comments, order and every other byte stay."""

from __future__ import annotations

import difflib
import os
import stat
import tomllib

import pytest

from foamwright.design import changed_text, read_design, write_changes
from foamwright.design.starters import STARTERS, starter_text
from foamwright.errors import DesignFileError, FoamwrightError
from foamwright.findings import Change
from tests.unit.design_text import LEGAL, line_of, read


def _change(path: str, value: float | str | bool) -> Change:
    return Change(path=path, value=value)


def _diff(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.split("\n"), after.split("\n"))
    return [line for line in lines if line[0] in "+-"]


@pytest.mark.parametrize(
    ("path", "value", "before", "after"),
    [
        ("power.pack.main.position", 111.5, "position = 120", "position = 111.5"),
        ("power.pack.main.position", 112.0, "position = 120", "position = 112"),
        ("surface.wing.panel.tip.length", 215, "length = 220", "length = 215"),
        ("surface.wing.panel[2].length", 215, "length = 220", "length = 215"),
        ("brief[2].at_most", "650 g", 'at_most = "700 g"', 'at_most = "650 g"'),
        ("surface.wing.section.creases[1].rise", "6 %", 'rise = "5 %"', 'rise = "6 %"'),
        ("power.pack.main.tray.floor", -14, "floor = -15", "floor = -14"),
        ("surface.wing.at[3]", 36, "at = [210, 0, 35]", "at = [210, 0, 36]"),
        ("body.hull.stations[2].width", 42, "width = 40 }", "width = 42 }"),
        ("body.pylon.outline[3][1]", 481, "[480, 130]", "[481, 130]"),
        ("body.hull.opening.hatch.hatch", False, "hatch = true", "hatch = false"),
        ("surface.wing.control.aileron.follows.roll", 0.9, "{ roll = 1.0 }", "{ roll = 0.9 }"),
        ("summary", 'say "x"', '"Every table once."', r'"say \"x\""'),
        (
            'variant."short tips".set."surface.wing.panel.tip.length"',
            205,
            '"surface.wing.panel.tip.length" = 210',
            '"surface.wing.panel.tip.length" = 205',
        ),
    ],
)
def test_a_value_is_changed_and_nothing_else(path, value, before, after):
    assert LEGAL.count(before) == 1
    assert changed_text(LEGAL, (_change(path, value),)) == LEGAL.replace(before, after)


@pytest.mark.parametrize(
    ("path", "value", "line", "behind"),
    [
        ("surface.wing.panel.tip.sweep", 3, "sweep = 3", "tip_twist = -2"),
        ("surface.wing.joint.plug.rod_at", "35 %", 'rod_at = "35 %"', "rod_length = 160"),
        ("power.motor.main.tilt_right", 1.5, "tilt_right = 1.5", "mount = {"),
        ("marks.licence", "CC0", 'licence = "CC0"', "notes = ["),
        ("item.servo.size[1]", 3, None, None),
    ],
)
def test_a_key_that_is_not_given_yet_goes_behind_the_last_of_its_table(path, value, line, behind):
    if line is None:
        with pytest.raises(DesignFileError, match="PATH-UNKNOWN"):
            changed_text(LEGAL, (_change(path, value),))
        return
    changed = changed_text(LEGAL, (_change(path, value),))
    assert _diff(LEGAL, changed) == [f"+ {line}"]
    assert line_of(changed, line) == line_of(LEGAL, behind) + 1
    read(changed)


def test_marks_may_be_opened():
    text = LEGAL.replace('[marks]\nrevision = "B"\nnotes = ["one", "two"]\n', "")
    changed = changed_text(text, (_change("marks.revision", "C"),))
    assert read(changed).variants[0].marks.revision == "C"
    assert changed.startswith(text.rstrip("\n"))


@pytest.mark.parametrize("name", STARTERS)
def test_comments_of_the_examples_stay(name):
    text = starter_text(name)
    changed = changed_text(text, (_change("marks.revision", "Z"), _change("name", "Other")))
    assert len(_diff(text, changed)) == 4
    assert text.count("#") == changed.count("#")


def test_no_change_is_no_change():
    assert changed_text(LEGAL, ()) == LEGAL


def test_line_ends_stay_as_they_were(tmp_path):
    path = tmp_path / "d.toml"
    path.write_bytes(LEGAL.replace("\n", "\r\n").encode())
    write_changes(path, (_change("surface.wing.panel.tip.sweep", 3),))
    content = path.read_bytes()
    assert content.count(b"\r\n") == content.count(b"\n") == LEGAL.count("\n") + 1
    write_changes(path, (_change("summary", "plain ✓ text"),))
    assert path.read_bytes().decode("utf-8").count("✓") == 1


def test_the_file_on_disk_is_replaced_in_one_step(tmp_path):
    path = tmp_path / "d.toml"
    path.write_text(LEGAL, encoding="utf-8")
    path.chmod(0o640)
    write_changes(path, (_change("power.pack.main.position", 130), _change("summary", "new")))
    design = read_design(path).variants[0]
    assert design.power.packs[0].position == 0.13
    assert design.summary == "new"
    assert os.listdir(tmp_path) == ["d.toml"]  # noqa: PTH208 - names are what is asked
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    ("path", "value", "code", "words"),
    [
        ("power.pack.mian.position", 100, "PATH-UNKNOWN", "power.pack.main.position"),
        ("surface.wing.panel.tpi.length", 100, "PATH-UNKNOWN", "surface.wing.panel.tip.length"),
        ("surface.wing.panel[9].length", 100, "PATH-UNKNOWN", ""),
        ("brief[0].at_most", 1, "PATH-UNKNOWN", "not a path"),
        ("..", 1, "PATH-UNKNOWN", "not a path"),
        ("power.pack.main", 1, "CHANGE-REFUSED", "a table"),
        ("surface.wing.at", 1, "CHANGE-REFUSED", "a list"),
        ("power.pack.main.positoin", 100, "KEY-UNKNOWN", "position"),
        ("power.pack.main.position", 1000, "PACK-OUTSIDE", "between"),
        ("power.pack.main.position", float("nan"), "NUMBER-NOT-FINITE", "finite"),
        ("surface.wing.panel.tip.length", "18 cmm", "UNIT-UNKNOWN", "18 cm"),
        ("format", 3, "FORMAT-UNKNOWN", "format 1"),
        ("stock.sheet.board.kind", "paper", "VALUE-CHOICE", "card"),
    ],
)
def test_a_change_that_makes_no_sense_leaves_the_file_alone(tmp_path, path, value, code, words):
    file = tmp_path / "d.toml"
    file.write_text(LEGAL, encoding="utf-8")
    with pytest.raises(DesignFileError) as caught:
        write_changes(file, (_change("summary", "new"), _change(path, value)))
    assert [problem.code for problem in caught.value.problems] == [code]
    assert words in str(caught.value)
    assert file.read_text(encoding="utf-8") == LEGAL


def test_a_broken_file_is_not_written_to(tmp_path):
    file = tmp_path / "d.toml"
    file.write_text("format = ", encoding="utf-8")
    with pytest.raises(DesignFileError):
        write_changes(file, (_change("name", "x"),))
    assert file.read_text(encoding="utf-8") == "format = "


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path, monkeypatch):
    file = tmp_path / "d.toml"
    file.write_text(LEGAL, encoding="utf-8")

    def refuse(*_args: object, **_kwargs: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", refuse)
    with pytest.raises(FoamwrightError, match="No space left"):
        write_changes(file, (_change("summary", "new"),))
    assert file.read_text(encoding="utf-8") == LEGAL
    assert os.listdir(tmp_path) == ["d.toml"]  # noqa: PTH208 - names are what is asked


def test_numbers_of_other_libraries_are_written_plainly():
    import numpy as np

    changed = changed_text(LEGAL, (_change("power.pack.main.position", np.float64(110.25)),))
    assert "position = 110.25\n" in changed


def test_a_table_is_written_on_one_line_and_read_back():
    table = {"kind": "creased", "sheet": "board", "creases": ({"at": "35 %", "rise": "7 %"},)}
    change = Change(path="surface.wing.panel.inner.tip_section", value=table)
    changed = changed_text(LEGAL, (change,))
    line = next(line for line in changed.splitlines() if line.startswith("tip_section"))
    assert tomllib.loads(line)["tip_section"] == table | {
        "creases": [{"at": "35 %", "rise": "7 %"}]
    }
    again = Change(path=change.path, value=table | {"creases": ({"at": "35 %", "rise": "6 %"},)})
    assert "6 %" in changed_text(changed, (again,))
    assert str(change) == (
        "surface.wing.panel.inner.tip_section = "
        '{ kind = "creased", sheet = "board", creases = [{ at = "35 %", rise = "7 %" }] }'
    )
