"""Every problem of a case file: its code, its line, its words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foamwright.errors import DesignFileError
from foamwright.verify import read_case_text, read_cases
from foamwright.verify.codes import CODES
from tests.unit.verify_text import (
    FORMULA,
    HEAD,
    LATTICE,
    SECTION,
    SOUND,
    WING,
    changed,
    problems,
    read,
)


def only(text: str) -> object:
    found = problems(text)
    assert len(found) == 1, [str(problem) for problem in found]
    return found[0]


def test_the_sound_file_has_no_problem():
    assert [case.name for case in read(SOUND)] == ["wing", "fold", "slope", "points"]


SPOILT = {
    "CASE-MISSING": [(HEAD, "stock", "stock")],
    "CASE-SUBJECT": [
        (HEAD + SECTION, re.search(r"section = .*\n", SECTION)[0], ""),
        (HEAD + FORMULA, "inputs =", 'section = { kind = "flat", sheet = "plate" }\ninputs ='),
    ],
    "CASE-REFERENCE": [
        (LATTICE, 'area = "0.24 m2"\n', ""),
        (HEAD + SECTION, "chord = 200\n", "chord = 200\nreference = { chord = 200 }\n"),
    ],
    "EXPECT-MISSING": [(WING, WING[WING.index("[[case.wing.expect]]") :], "")],
    "EXPECT-BAND": [
        (WING, 'tolerance = "1 %"', ""),
        (WING, 'tolerance = "1 %"', 'tolerance = "1 %"\ntolerance_abs = 0.1'),
        (WING, "value = 4.2147", "value = 0"),
        (WING, 'tolerance = "1 %"', "tolerance_abs = 0"),
        (WING, 'tolerance = "1 %"', "tolerance_abs = [0.1, 0.2]"),
        (WING, "value = 4.2147", "at_least = 4"),
        (WING, 'value = 4.2147\ntolerance = "1 %"', "at_least = 5\nat_most = 4"),
    ],
    "EXPECT-LENGTHS": [
        (FORMULA, "value = [3.883222, 4.528664]", "value = [1, 2, 3]"),
        (
            WING,
            'measure = "lift slope"',
            'measure = "lift"\nstate = { alpha = [1, 2] }\nat_least = [0, 0, 0]',
        ),
    ],
    "MEASURE-UNKNOWN": [
        (WING, '"lift slope"', '"lift slop"'),
        (FORMULA, '"lift slope"', '"downwash slope"'),
    ],
    "MEASURE-SUBJECT": [(WING, '"lift slope"', '"thin moment"')],
    "MEASURE-PART": [
        (WING, '"lift slope"', '"lift slope"\nof = "main"'),
        (WING, '"lift slope"', '"share of lift slope"\nof = "tail"'),
        (WING, '"lift slope"', '"body volume"'),
    ],
    "STATE-UNKNOWN": [(WING, 'sure = "derived"', 'sure = "derived"\nstate = { alfa = 4 }')],
    "STATE-MISSING": [(WING, '"lift slope"', '"lift"')],
    "STATE-UNUSED": [
        (WING, 'sure = "derived"', 'sure = "derived"\nstate = { alpha = 4 }'),
        (WING, '"lift slope"', '"lift slope"\nstate = { alpha = 4 }'),
    ],
    "FORMULA-UNKNOWN": [(FORMULA, '"helmbold slope"', '"helmbolt slope"')],
    "FORMULA-INPUT": [
        (FORMULA, "aspect_ratio =", "aspect =  1, aspect_ratio ="),
        (FORMULA, "inputs = { aspect_ratio = [4, 6] }", "inputs = {}"),
        (FORMULA, "inputs = { aspect_ratio = [4, 6] }", ""),
    ],
    # codes of the design file, met here
    "KEY-UNKNOWN": [
        (WING, "family", "famly"),
        (WING, "mirror = true", "miror = true"),
        (WING, "[case.wing.surface.main]", "[case.wing.surfaces.main]"),
        (WING, "value =", "values ="),
    ],
    "KEY-MISSING": [
        (WING, 'source = "our own"\n', ""),
        (SECTION, "chord = 200\n", ""),
        (WING, "value = 4.2147\n", ""),
    ],
    "KEY-CLASH": [
        (WING, 'sure = "derived"', 'sure = "derived"\nchord = 200'),
        (WING, 'sure = "derived"', 'sure = "derived"\ninputs = {}'),
        (WING, "value = 4.2147", "value = 4.2147\nat_most = 5"),
    ],
    "NAME-ODD": [(WING, "[case.wing]", '[case."a/b"]\n[case.wing]')],
    "NAME-TWICE": [
        (
            LATTICE,
            "[[case.points.expect]]",
            (
                '[[case.points.lattice]]\nname = "wing"\nleading = [[0, 0, 9], [0, 600, 9]]\n'
                "chord = [200, 200]\n\n[[case.points.expect]]"
            ),
        )
    ],
    "VALUE-TYPE": [
        (WING, "value = 4.2147", "value = true"),
        (WING, 'sure = "derived"', 'sure = "derived"\nstate = 4'),
        (WING, "[case.wing]\n", "[case]\nodd = 4\n[case.wing]\n"),
    ],
    "VALUE-CHOICE": [(WING, '"derived"', '"certain"')],
    "VALUE-TOO-LARGE": [
        (WING, '"lift slope"', '"lift"\nstate = { alpha = 400 }'),
        (WING, "value = 4.2147", "value = 1e300"),
    ],
    "VALUE-TOO-SMALL": [(LATTICE, "chord = [200, 200]", "chord = [0, 0]")],
    "NUMBER-NOT-FINITE": [(WING, "value = 4.2147", "value = nan")],
    "NUMBER-COMMA": [(WING, "value = 4.2147", 'value = "4,2 /rad"')],
    "UNIT-UNKNOWN": [
        (WING, "value = 4.2147", 'value = "4.2 per rad"'),
        (WING, "root_chord = 200", 'root_chord = "200 mn"'),
    ],
    "UNIT-MISSING": [(WING, '"lift slope"', '"area"')],
    "LIST-LENGTH": [
        (WING, "value = 4.2147", "value = []"),
        (LATTICE, "chord = [200, 200]", "chord = [200, 200, 200]"),
    ],
    "RANGE-ORDER": [(LATTICE, "[[0, 0, 0], [0, 600, 0]]", "[[0, 0, 0], [9, 0, 0]]")],
    "TOO-MANY": [(LATTICE, "chord = [200, 200]", "chord = [200, 200]\nstrips = 60\nrows = 20\n")],
    "STOCK-UNKNOWN": [(WING, '"plate"', '"board"'), (SECTION, '"plate"', '"board"')],
    "MIRROR-MISSING": [(WING, "mirror = true\n", "")],
    "FORMAT-UNKNOWN": [("format = 1\n" + FORMULA, "format = 1", "format = 2")],
}
#: Not met by spoiling one file.
ELSEWHERE = {"CASE-FOLDER", "CASE-TWICE"}


@pytest.mark.parametrize(
    ("code", "text", "old", "new"),
    [(code, *spoil) for code, spoils in SPOILT.items() for spoil in spoils],
)
def test_code(code: str, text: str, old: str, new: str):
    head = "" if text.startswith(("format", HEAD[:20])) else HEAD
    if code == "TOO-MANY":
        text = text.replace("[[case.points.expect]]", _more_surfaces() + "[[case.points.expect]]")
    found = problems(changed(head + text, old, new))
    assert code in {problem.code for problem in found}, [str(problem) for problem in found]
    for problem in found:
        assert problem.line is not None or problem.code == "CASE-MISSING"
        assert problem.text.endswith(".")


def _more_surfaces() -> str:
    return "".join(
        f'[[case.points.lattice]]\nname = "w{k}"\nleading = [[0, 0, {k}], [0, 600, {k}]]\n'
        "chord = [200, 200]\nstrips = 60\nrows = 20\n\n"
        for k in range(1, 3)
    )


def test_every_code_has_a_test():
    assert set(CODES) <= set(SPOILT) | ELSEWHERE


def test_lines_and_paths_are_true():
    problem = only(HEAD + changed(WING, '"lift slope"', '"lift slop"'))
    text = HEAD + WING
    assert problem.line == text[: text.index("measure =")].count("\n") + 1
    assert problem.path == "case.wing.expect[1].measure"
    assert problem.given == '"lift slop"'
    assert problem.hint == 'did you mean "lift slope"?'


def test_all_problems_of_all_cases_come_at_once():
    text = changed(changed(SOUND, '"lift slope"', '"lift slop"'), "-0.1", '"-0.1 mm"')
    assert [problem.code for problem in problems(text)] == ["MEASURE-UNKNOWN", "UNIT-WRONG-KIND"]


def test_a_wrong_shared_stock_is_said_once():
    text = changed(SOUND, "thickness = 3", 'thickness = "3 mn"')
    found = problems(text)
    assert [problem.code for problem in found] == ["UNIT-UNKNOWN"]
    assert found[0].path == "stock.sheet.plate.thickness"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\0",
        "format = 1\ncase = 3",
        "format = 1\n[case]\nx = 1",
        "format = 1\n[[case]]\n",
        "format = 1\nstock = 4\n[case.x]",
        "format = 1\n[case.x]\nexpect = 4",
        "format = 1\n[case.x]\nlattice = [1, 2]\nsurface = []\nexpect = [{}]",
        "format = 1\n[case.x]\nsection = [[[]]]\nsurface.wing = 1",
        "format = 1\n[case.x.state]\nalpha = {}\n[[case.x.expect]]\nmeasure = []",
        "a." * 400 + "b = 1",
        "format = 1\nx = " + "[" * 400 + "]" * 400,
        "format = 1\n[case.x]\nwhat = " + "9" * 5000,
    ],
)
def test_hostile_text_ends_in_words(text: str):
    with pytest.raises(DesignFileError):
        read_case_text(text)


def test_folder_without_case_files(tmp_path: Path):
    for place in (tmp_path, tmp_path / "nowhere", tmp_path / "nul\0"):
        with pytest.raises(DesignFileError) as caught:
            read_cases(place)
        assert [problem.code for problem in caught.value.problems] == ["CASE-FOLDER"]


def test_the_same_case_in_two_files(tmp_path: Path):
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text("format = 1\n" + FORMULA, encoding="utf-8")
    with pytest.raises(DesignFileError) as caught:
        read_cases(tmp_path)
    (problem,) = caught.value.problems
    assert problem.code == "CASE-TWICE"
    assert problem.file.endswith("b.toml")
    assert problem.line == 3


def test_problems_of_all_files_come_at_once(tmp_path: Path):
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text("format = 9\n", encoding="utf-8")
    with pytest.raises(DesignFileError) as caught:
        read_cases(tmp_path)
    assert len(caught.value.problems) == 2
