"""A plan's files are written together, and never over others."""

from __future__ import annotations

import io
from importlib.resources import files
from pathlib import Path

import ezdxf
import pypdf
import pytest

from foamwright.airframe import build_airframe
from foamwright.balance import weigh
from foamwright.design import read_design
from foamwright.drawing import plan_contents, plan_words, write_files
from foamwright.errors import FoamwrightError
from tests.unit.drawing_samples import sample_set

NAMES = {
    "plan-big.pdf",
    "plan.svg",
    "plan.dxf",
    "plan-a4.pdf",
    "plan-letter.pdf",
    "three-view.pdf",
    "three-view.svg",
    "model.glb",
}


@pytest.fixture(scope="module")
def contents() -> dict[str, bytes]:
    path = Path(str(files("foamwright.design").joinpath("examples", "knot.toml")))
    airframe = build_airframe(read_design(path).variants[0])
    steps: list[str] = []
    made = plan_contents(
        airframe, flat=sample_set(), balance=weigh(airframe), progress=steps.append
    )
    assert len(steps) >= 5
    return made


def test_the_set_is_whole_and_readable(contents):
    assert set(contents) == NAMES
    for name in ("plan-big.pdf", "plan-a4.pdf", "plan-letter.pdf", "three-view.pdf"):
        assert len(pypdf.PdfReader(io.BytesIO(contents[name])).pages) >= 1
    assert not ezdxf.read(io.StringIO(contents["plan.dxf"].decode("ascii"))).audit().errors
    assert contents["plan.svg"].startswith(b"<svg ")
    assert contents["model.glb"].startswith(b"glTF")


def test_files_are_written_and_not_overwritten(tmp_path, contents):
    folder = tmp_path / "new" / "plan"
    paths = write_files(folder, contents)
    assert {path.name for path in paths} == NAMES
    assert all(path.read_bytes() == contents[path.name] for path in paths)
    (folder / "plan.dxf").write_bytes(b"mine")
    with pytest.raises(FoamwrightError, match=r"already holds.*nothing was written"):
        write_files(folder, contents)
    assert (folder / "plan.dxf").read_bytes() == b"mine"
    write_files(folder, contents, force=True)
    assert (folder / "plan.dxf").read_bytes() == contents["plan.dxf"]


def test_one_file_in_the_way_stops_all(tmp_path, contents):
    (tmp_path / "three-view.svg").write_text("mine")
    with pytest.raises(FoamwrightError, match=r"three-view\.svg"):
        write_files(tmp_path, contents)
    assert [path.name for path in tmp_path.iterdir()] == ["three-view.svg"]


def test_a_folder_that_cannot_be_made_says_so(tmp_path, contents):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(FoamwrightError, match="cannot make"):
        write_files(tmp_path / "file" / "plan", contents)


def test_words_come_from_the_design_file():
    path = Path(str(files("foamwright.design").joinpath("examples", "dunlin.toml")))
    words = plan_words(build_airframe(read_design(path).variants[0]))
    assert words.licence == "CC BY 4.0"
    assert "board" in words.stock_words
