"""The verb, as a maker calls it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from foamwright.cli import cli
from tests.unit.verify_text import FORMULA, HEAD, SOUND, WING, changed


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "checks.toml").write_text(SOUND, encoding="utf-8")
    return tmp_path


def call(*words: str):
    return CliRunner().invoke(cli, ["verify", *words])


def test_a_folder_that_passes(folder: Path):
    said = call(str(folder))
    assert said.exit_code == 0
    assert "wing: A flat wing" in said.stdout
    assert "our own (derived)" in said.stdout
    assert "✓ pass" in said.stdout
    assert "All 5 checks lie in their bands." in said.stdout
    assert max(len(line) for line in said.stdout.splitlines()) <= 100


def test_one_file(folder: Path):
    assert call(str(folder / "checks.toml")).exit_code == 0


def test_a_miss_ends_with_1(folder: Path):
    text = changed(SOUND, "4.2147", "5")
    (folder / "checks.toml").write_text(text, encoding="utf-8")
    said = call(str(folder))
    assert said.exit_code == 1
    assert "✗ MISS" in said.stdout
    assert "wing, lift slope [/rad]: expected 5, got 4.21" in said.stdout
    assert "1 of 5 checks miss their band." in said.stdout


def test_a_known_miss_does_not(folder: Path):
    text = changed(HEAD + WING, "value = 4.2147", 'value = 5\nknown_miss = "a wrong book"')
    (folder / "checks.toml").write_text(text, encoding="utf-8")
    said = call(str(folder))
    assert said.exit_code == 0
    assert "~ known miss" in said.stdout
    assert "wing, lift slope: a wrong book" in said.stdout


def test_json(folder: Path):
    said = call(str(folder), "--json")
    assert said.exit_code == 0
    assert json.loads(said.stdout)["total"]["checks"] == 5


def test_one_family(folder: Path):
    said = call(str(folder), "--family", "formulas", "--json")
    told = json.loads(said.stdout)
    assert [case["name"] for case in told["cases"]] == ["slope"]


def test_a_family_that_is_not_there(folder: Path):
    said = call(str(folder), "--family", "wing")
    assert said.exit_code == 2
    assert 'no family "wing"; there are wings, sections, formulas' in said.stderr


def test_hostile_folder_ends_in_words(tmp_path: Path):
    (tmp_path / "a.toml").write_bytes(b"\xff\xfe\0")
    (tmp_path / "b.toml").write_text("format = 1\n" + FORMULA, encoding="utf-8")
    said = call(str(tmp_path))
    assert said.exit_code == 1
    assert "FILE-ENCODING" in str(said.exception)
