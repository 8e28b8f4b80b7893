"""Folders of measured propellers and bench runs, as the verb takes them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from foamwright.errors import FoamwrightError
from foamwright.verify.suites import print_suite, suite_dictionary, suite_in

DATA = Path(__file__).resolve().parent.parent / "data"


@pytest.fixture
def few(tmp_path: Path) -> Path:
    """Three of the measured propellers, to be quick."""
    for file in sorted((DATA / "props").glob("P05*"))[:6]:
        shutil.copy(file, tmp_path)
    shutil.copy(DATA / "props" / "manifest.csv", tmp_path)
    return tmp_path


def test_a_folder_of_propellers_gives_the_error_table(few: Path, capsys: pytest.CaptureFixture):
    suite = suite_in(few)
    assert suite is not None
    told = suite_dictionary(suite)
    assert next(tier["told"] for tier in told["tiers"]) == "nominal"
    assert all(0.0 <= tier["ct_median"] < 1.0 for tier in told["tiers"])
    print_suite(suite)
    assert "nominal" in capsys.readouterr().out


def test_a_bench_file_gives_the_error_table():
    suite = suite_in(DATA / "bench_static_5in.csv")
    assert suite is not None
    assert {tier.tier for tier in suite.tiers} == {"nominal", "class", "class, reading"}


def test_a_folder_of_case_files_is_neither(tmp_path: Path):
    (tmp_path / "mine.toml").write_text("format = 1\n")
    assert suite_in(tmp_path) is None


@pytest.mark.parametrize("content", [b"", b"id,what\nx,1\n", b"\xff\xfe\x00", b"id\n"])
def test_a_manifest_that_cannot_be_used_ends_in_words(few: Path, content: bytes):
    (few / "manifest.csv").write_bytes(content)
    with pytest.raises(FoamwrightError, match=r"docs/verify\.md"):
        suite_in(few)


def test_a_bench_file_without_its_columns_ends_in_words(tmp_path: Path):
    (tmp_path / "bench.csv").write_text("motor,prop\nM01,x\n")
    with pytest.raises(FoamwrightError, match=r"docs/verify\.md"):
        suite_in(tmp_path)
