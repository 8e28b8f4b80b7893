"""The verbs, as a newcomer calls them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = ("dunlin", "knot", "curlew", "avocet", "godwit")


def call(*words: str, folder: Path, encoding: str = "utf-8") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "foamwright", *words],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding=encoding,
        check=False,
        env=_environment() | {"PYTHONIOENCODING": encoding},
    )


def _environment() -> dict[str, str]:
    import os

    return os.environ | {"PYTHONUTF8": "1", "NO_COLOR": "1", "COLUMNS": "120"}


def test_version_and_help(tmp_path: Path):
    assert call("--version", folder=tmp_path).stdout.startswith("foamwright, version ")
    for verb in ("demo", "new", "check", "parts"):
        said = call(verb, "--help", folder=tmp_path)
        assert said.returncode == 0
        assert "--json" in said.stdout


def test_version_imports_nothing_heavy(tmp_path: Path):
    code = (
        "import sys\n"
        "sys.argv = ['foamwright', '--version']\n"
        "from foamwright.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'pydantic', 'ezdxf', 'reportlab', 'rich', 'trimesh', 'shapely'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("like", EXAMPLES)
def test_new_then_check(like: str, tmp_path: Path):
    made = call("new", "my-plane", "--like", like, folder=tmp_path)
    assert made.returncode == 0, made.stderr
    assert made.stdout.strip() == "my-plane.toml"
    checked = call("check", "my-plane.toml", "--json", folder=tmp_path)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    result = json.loads(checked.stdout)
    assert result["design"] == "my-plane"
    assert len(result["variants"]) >= 3


def test_new_never_overwrites(tmp_path: Path):
    (tmp_path / "mine.toml").write_text("precious")
    said = call("new", "mine", folder=tmp_path)
    assert said.returncode == 1
    assert "--force" in said.stderr
    assert (tmp_path / "mine.toml").read_text() == "precious"
    assert call("new", "mine", "--force", folder=tmp_path).returncode == 0


def test_new_like_something_unknown_names_the_examples(tmp_path: Path):
    said = call("new", "mine", "--like", "dunlinn", folder=tmp_path)
    assert said.returncode == 1
    assert "dunlin" in said.stderr
    assert "Traceback" not in said.stderr


def test_check_prints_a_table_of_variants(tmp_path: Path):
    call("new", "mine", folder=tmp_path)
    said = call("check", "mine.toml", folder=tmp_path)
    assert said.returncode == 0, said.stdout + said.stderr
    for words in (
        "long tips",
        "Balance point",
        "Neutral point",
        "Not looked at yet",
        "Holds for all",
    ):
        assert words in said.stdout


def test_check_one_variant_gives_the_weight_statement(tmp_path: Path):
    call("new", "mine", folder=tmp_path)
    said = call("check", "mine.toml", "--variant", "long tips", folder=tmp_path)
    assert "Weight statement" in said.stdout
    result = json.loads(
        call("check", "mine.toml", "--variant", "long tips", "--json", folder=tmp_path).stdout
    )
    (variant,) = result["variants"]
    total = sum(part["mass_g"] for part in variant["weights"]["parts"])
    assert total == pytest.approx(variant["weights"]["mass_g"], rel=1e-9)


def test_unknown_variant_is_a_usage_error(tmp_path: Path):
    call("new", "mine", folder=tmp_path)
    said = call("check", "mine.toml", "--variant", "nope", folder=tmp_path)
    assert said.returncode == 2
    assert "long tips" in said.stderr


@pytest.mark.parametrize(("name", "content"), [("none.toml", None), ("bad.toml", b"\xff\xfe\x00")])
def test_bad_files_end_in_words(name: str, content: bytes | None, tmp_path: Path):
    if content is not None:
        (tmp_path / name).write_bytes(content)
    said = call("check", name, folder=tmp_path)
    assert said.returncode == 1
    assert name in said.stderr
    assert "Traceback" not in said.stderr


def test_a_stop_finding_gives_exit_code_1(tmp_path: Path):
    call("new", "mine", folder=tmp_path)
    file = tmp_path / "mine.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text + '\n[[brief]]\ntopic = "span"\nat_most = "100 mm"\nrank = "must"\n', encoding="utf-8"
    )
    said = call("check", "mine.toml", folder=tmp_path)
    assert said.returncode == 1
    assert "brief-span" in said.stdout


def test_demo_does_the_main_job(tmp_path: Path):
    said = call("demo", folder=tmp_path)
    assert said.returncode == 0, said.stderr
    folder = tmp_path / "foamwright-demo"
    written = {path.name for path in (folder / "plan").iterdir()}
    assert (folder / "dunlin.toml").exists()
    assert {"plan-a4.pdf", "plan-letter.pdf", "plan.dxf", "plan.svg", "three-view.pdf"} <= written
    assert call("demo", folder=tmp_path).returncode == 1
    assert call("check", "foamwright-demo/dunlin.toml", folder=tmp_path).returncode == 0


def test_parts_of_two_variants_do_not_collide(tmp_path: Path):
    call("new", "mine", "--like", "knot", folder=tmp_path)
    first = call("parts", "mine.toml", folder=tmp_path)
    other = call("parts", "mine.toml", "--variant", "bare foam", "--json", folder=tmp_path)
    assert first.returncode == other.returncode == 0, first.stderr + other.stderr
    assert (tmp_path / "mine" / "everyday" / "plan-a4.pdf").exists()
    files = json.loads(other.stdout)["files"]
    assert all(Path(file).parent == Path("mine") / "bare-foam" for file in files)
    assert call("parts", "mine.toml", folder=tmp_path).returncode == 1


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "cp1252"])
def test_old_code_pages_lose_letters_and_not_the_report(encoding: str, tmp_path: Path):
    call("new", "Dünlin 🛩", folder=tmp_path)
    (file,) = tmp_path.iterdir()
    file.rename(tmp_path / "mine.toml")
    said = call("check", "mine.toml", folder=tmp_path, encoding=encoding)
    assert said.returncode == 0, said.stderr
    assert "Holds for all variants" in said.stdout
    result = call("check", "mine.toml", "--json", folder=tmp_path, encoding=encoding)
    assert json.loads(result.stdout)["design"] == "Dünlin 🛩"


def test_problems_are_json_too(tmp_path: Path):
    (tmp_path / "bad.toml").write_text('format = 1\nname = ""\n', encoding="utf-8")
    said = call("check", "bad.toml", "--json", folder=tmp_path)
    assert said.returncode == 1
    problems = json.loads(said.stdout)["problems"]
    assert {problem["code"] for problem in problems} >= {"TEXT-ODD"}
    assert {problem["line"] for problem in problems} >= {2}


@pytest.mark.parametrize("name", ["", ".", " ", "two\nlines", "x" * 61])
def test_new_refuses_names_that_no_design_may_have(name: str, tmp_path: Path):
    said = call("new", name, folder=tmp_path)
    assert said.returncode == 2
    assert "my-plane" in said.stderr
    assert not list(tmp_path.iterdir())


def test_places_that_cannot_be_written_to_end_in_words(tmp_path: Path):
    (tmp_path / "plain").write_text("a file where a folder is wanted")
    for words in (("demo", "plain"), ("new", "plain/mine"), ("new", "x/" * 3000 + "mine")):
        said = call(*words, folder=tmp_path)
        assert said.returncode == 1, said.stderr
        assert "our mistake" not in said.stderr


def test_a_reader_that_goes_away_is_no_failure(tmp_path: Path):
    call("new", "mine", folder=tmp_path)
    words = [sys.executable, "-m", "foamwright", "check", "mine.toml", "--json"]
    with subprocess.Popen(
        words, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""


def test_letters_that_the_plan_cannot_print_are_said(tmp_path: Path):
    call("new", "Tringa 鷸", "--like", "knot", folder=tmp_path)
    said = call("parts", "Tringa 鷸.toml", folder=tmp_path)
    assert said.returncode == 0, said.stderr
    assert "print as boxes: 鷸" in said.stderr


def test_the_next_command_can_be_copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Names with spaces stand in quotes; called through dev.py, the command names dev.py."""
    monkeypatch.delenv("FOAMWRIGHT_CALL", raising=False)
    assert 'foamwright check "my plane.toml"' in call("new", "my plane", folder=tmp_path).stderr
    monkeypatch.setenv("FOAMWRIGHT_CALL", "python3 dev.py run")
    assert "python3 dev.py run check two.toml" in call("new", "two", folder=tmp_path).stderr


def test_propellers_are_ranked_with_reasons(tmp_path: Path):
    call("new", "mine", "--like", "godwit", folder=tmp_path)
    said = call("check", "mine.toml", "--propellers", "--json", folder=tmp_path)
    assert said.returncode == 0, said.stderr
    (shortlist,) = json.loads(said.stdout)["propellers"]
    assert sorted(shortlist["motors"]) == ["left", "right"]
    suiting = [row["suits"] for row in shortlist["propellers"]]
    assert suiting == sorted(suiting, reverse=True)
    assert suiting[0]
    assert all(row["reasons"] for row in shortlist["propellers"])
    printed = call("check", "mine.toml", "--propellers", folder=tmp_path).stdout
    assert "best first" in printed
