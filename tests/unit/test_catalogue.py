"""The catalogue: what it offers, and what it says about a maker's own file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foamwright.design.catalogue import KEYS, KINDS, LARGEST_FILE, load_catalogue
from foamwright.errors import DesignFileError, Problem

CATALOGUE = load_catalogue()
EVERY = [(kind, name) for kind in KINDS for name in CATALOGUE.names(kind)]

OPTIONAL = {"blade_width"}


def own(folder: Path, text: str | bytes) -> Path:
    path = folder / "own.toml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def problems(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(DesignFileError) as refused:
        load_catalogue(path)
    return refused.value.problems


def the_problem(path: Path) -> Problem:
    (only,) = problems(path)
    return only


# ---------------------------------------------------------------- what it offers


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_entries(kind: str) -> None:
    assert len(CATALOGUE.names(kind)) >= 4


@pytest.mark.parametrize(("kind", "name"), EVERY)
def test_every_entry_is_whole_and_names_its_source(kind: str, name: str) -> None:
    entry = CATALOGUE.entry(kind, name)
    assert set(entry) >= set(KEYS[kind]) - OPTIONAL
    assert re.search(r"\((read|memory|practice|derived)\)$", str(entry["source"]))
    assert str(entry["says"]).strip()


def test_what_the_format_page_names_is_there() -> None:
    for kind, name in (
        ("sheet", "foam board 5 mm light"),
        ("sheet", "birch ply 3 mm"),
        ("tape", "packing tape 48 mm"),
        ("glue", "hot melt bead 3 mm"),
        ("rod", "carbon tube 5x3"),
        ("block", "expanded polystyrene block"),
        ("motor", "outrunner 250-450 g class"),
        ("propeller", "propeller 5x4 three-blade"),
        ("controller", "controller 30 A"),
        ("pack", "pack 3-cell 1300 mAh"),
        ("item", "servo 9 g"),
        ("wheel", "foam wheel 50 mm"),
    ):
        assert CATALOGUE.entry(kind, name)


def test_an_unknown_name_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        CATALOGUE.entry("sheet", "unobtainium")
    with pytest.raises(KeyError):
        CATALOGUE.names("sail")


def test_entries_cannot_be_changed() -> None:
    entry = CATALOGUE.entry("pack", "pack 3-cell 1300 mAh")
    with pytest.raises(TypeError):
        entry["cells"] = 4  # type: ignore[index]
    assert isinstance(entry["size"], tuple)


def test_the_packaged_part_is_read_once() -> None:
    assert load_catalogue() is load_catalogue()


# ---------------------------------------------------------------- a maker's own file


def test_own_entries_are_added(tmp_path: Path) -> None:
    path = own(
        tmp_path,
        '[sheet."hall board"]\nkind = "foam board"\nweight = "281 g/m2"\nsize = ["1 m", "70 cm"]\n',
    )
    catalogue = load_catalogue(path)
    assert catalogue.entry("sheet", "hall board")["weight"] == "281 g/m2"
    assert catalogue.names("sheet")[:-1] == CATALOGUE.names("sheet")
    assert "hall board" not in CATALOGUE.names("sheet")


def test_own_entry_wins_whole(tmp_path: Path) -> None:
    """Where both know a name nothing of the packaged entry is left."""
    path = own(tmp_path, '[item."servo 9 g"]\nmass = "10.4 g"\n')
    assert dict(load_catalogue(path).entry("item", "servo 9 g")) == {"mass": "10.4 g"}


def test_a_byte_order_mark_is_no_trouble(tmp_path: Path) -> None:
    path = own(tmp_path, b'\xef\xbb\xbf[glue.mine]\nline_mass = "5 g/m"\n')
    assert load_catalogue(path).entry("glue", "mine")


def test_an_empty_file_is_an_empty_catalogue(tmp_path: Path) -> None:
    assert load_catalogue(own(tmp_path, "")).names("rod") == CATALOGUE.names("rod")


def test_unknown_kind(tmp_path: Path) -> None:
    problem = the_problem(own(tmp_path, '\n[sheets."hall board"]\nweight = "281 g/m2"\n'))
    assert (problem.code, problem.line, problem.path) == ("CATALOGUE-KIND", 2, "sheets")
    assert problem.hint == 'did you mean "sheet"?'


def test_unknown_key_with_line_and_hint(tmp_path: Path) -> None:
    problem = the_problem(
        own(tmp_path, '[sheet."hall board"]\nkind = "foam"\nwieght = "281 g/m2"\n')
    )
    assert (problem.code, problem.line) == ("CATALOGUE-KEY", 3)
    assert problem.path == 'sheet."hall board".wieght'
    assert problem.hint == 'did you mean "weight"?'


@pytest.mark.parametrize(
    ("kind", "line", "code"),
    [
        ("sheet", "weight = 281", "UNIT-MISSING"),
        ("sheet", 'weight = "heavy"', "NUMBER-UNREADABLE"),
        ("sheet", 'weight = "281 mm"', "UNIT-WRONG-KIND"),
        ("sheet", 'weight = "281 g/qm"', "UNIT-UNKNOWN"),
        ("sheet", 'weight = "-281 g/m2"', "VALUE-RANGE"),
        ("sheet", "kind = 3", "VALUE-TYPE"),
        ("sheet", 'size = "A2"', "VALUE-TYPE"),
        ("sheet", "size = [762, 508]", "UNIT-MISSING"),
        ("sheet", "thickness = 2020-01-01", "VALUE-TYPE"),
        ("propeller", "blades = true", "VALUE-RANGE"),
        ("propeller", "blades = -2", "VALUE-RANGE"),
        ("propeller", "blades = 2.5", "VALUE-RANGE"),
        ("pack", "cells = nan", "VALUE-RANGE"),
        ("pack", "rating = inf", "NUMBER-NOT-FINITE"),
        ("motor", 'mass = "0 g"', "VALUE-RANGE"),
    ],
)
def test_wrong_values(tmp_path: Path, kind: str, line: str, code: str) -> None:
    problem = the_problem(own(tmp_path, f"[{kind}.mine]\n{line}\n"))
    assert (problem.code, problem.line) == (code, 2)


def test_what_may_be_zero_or_bare(tmp_path: Path) -> None:
    path = own(tmp_path, '[rod.a]\nbore = "0 mm"\nline_mass_scatter = 0\n[pack.a]\nrating = 25\n')
    assert load_catalogue(path).entry("pack", "a")["rating"] == 25


def test_a_bare_measure_is_shown_with_its_unit(tmp_path: Path) -> None:
    """A catalogue serves many design files; none of their units may be taken for granted."""
    problem = the_problem(own(tmp_path, "[sheet.mine]\nthickness = 4.8\n"))
    assert '"4.8 mm"' in problem.hint


def test_all_problems_at_once(tmp_path: Path) -> None:
    path = own(tmp_path, "[sail.mine]\na = 1\n[sheet.mine]\nweight = 3\ncolour = 1\n")
    assert [problem.code for problem in problems(path)] == [
        "CATALOGUE-KIND",
        "UNIT-MISSING",
        "CATALOGUE-KEY",
    ]


def test_the_right_table_is_pointed_at(tmp_path: Path) -> None:
    path = own(tmp_path, '[rod.a]\nbore = "1 mm"\n[rod."b c"]\nbore = 2\n')
    assert the_problem(path).line == 4


@pytest.mark.parametrize("text", ["sheet = 3\n", "[sheet]\nmine = 3\n", "[[sheet]]\na = 1\n"])
def test_entries_that_are_no_tables(tmp_path: Path, text: str) -> None:
    assert the_problem(own(tmp_path, text)).code == "CATALOGUE-ENTRY"


@pytest.mark.parametrize("name", ["", "   ", "a\\nb", "x" * 81, "\\u001b[2J"])
def test_names_that_no_one_can_ask_for(tmp_path: Path, name: str) -> None:
    problem = the_problem(own(tmp_path, f'[sheet."{name}"]\nweight = "3 g/m2"\n'))
    assert problem.code == "CATALOGUE-NAME"
    assert problem.path.isprintable()


def test_a_terminal_is_never_given_orders(tmp_path: Path) -> None:
    problem = the_problem(own(tmp_path, '[sheet.mine]\nweight = "\\u001b[2J"\n'))
    assert problem.given.isprintable()


# ---------------------------------------------------------------- hostile files


def test_syntax_error_has_its_line(tmp_path: Path) -> None:
    problem = the_problem(own(tmp_path, '[sheet.mine]\nweight = "3\n'))
    assert (problem.code, problem.line) == ("CATALOGUE-SYNTAX", 2)


def test_key_given_twice(tmp_path: Path) -> None:
    assert the_problem(own(tmp_path, "[rod.a]\n[rod.a]\n")).code == "CATALOGUE-SYNTAX"


def test_brackets_without_end(tmp_path: Path) -> None:
    assert the_problem(own(tmp_path, "a = " + "[" * 5000)).code == "CATALOGUE-SYNTAX"


def test_a_number_of_ten_thousand_digits(tmp_path: Path) -> None:
    path = own(tmp_path, "[pack.mine]\ncells = " + "9" * 10_000)
    assert problems(path)[0].code in {"CATALOGUE-SYNTAX", "VALUE-RANGE"}


def test_not_utf_8(tmp_path: Path) -> None:
    problem = the_problem(own(tmp_path, b"# fine\n# caf\xe9\n"))
    assert (problem.code, problem.line) == ("CATALOGUE-ENCODING", 2)


def test_too_large(tmp_path: Path) -> None:
    assert the_problem(own(tmp_path, b"#" * (LARGEST_FILE + 1))).code == "CATALOGUE-TOO-LARGE"


def test_missing_folder_and_endless_files(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere.toml", tmp_path, Path("/dev/zero"), Path("a\0b")):
        assert the_problem(path).code == "CATALOGUE-UNREADABLE"
