"""Files are written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foamwright.errors import FoamwrightError
from foamwright.files import write_atomically


def test_writes_and_replaces(tmp_path: Path):
    path = tmp_path / "plan.txt"
    write_atomically(path, b"first")
    write_atomically(path, b"second")
    assert path.read_bytes() == b"second"
    assert [entry.name for entry in tmp_path.iterdir()] == ["plan.txt"]


def test_old_file_survives_a_failure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "plan.txt"
    path.write_bytes(b"old")

    def fail(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(FoamwrightError, match="No space left"):
        write_atomically(path, b"new")
    assert path.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["plan.txt"]


def test_missing_folder_is_said(tmp_path: Path):
    with pytest.raises(FoamwrightError, match="cannot write"):
        write_atomically(tmp_path / "nowhere" / "plan.txt", b"x")
