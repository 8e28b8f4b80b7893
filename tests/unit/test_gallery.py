"""Every picture of the docs gallery is drawn anew by its script."""

from __future__ import annotations

import shutil
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
GALLERY = ROOT / "docs" / "gallery"
SCRIPTS = sorted(path.name for path in GALLERY.glob("*.py") if path.name != "plotting.py")


@pytest.fixture(scope="module")
def gallery(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the gallery without its pictures, and the measurements that it draws from."""
    root = tmp_path_factory.mktemp("docs")
    shutil.copytree(GALLERY, root / "docs" / "gallery", ignore=shutil.ignore_patterns("*.svg"))
    shutil.copytree(ROOT / "tests" / "data", root / "tests" / "data")
    return root / "docs" / "gallery"


@pytest.mark.parametrize("script", SCRIPTS)
def test_a_script_draws_its_pictures(script: str, gallery: Path):
    before = set(gallery.glob("*.svg"))
    subprocess.run([sys.executable, script], cwd=gallery, check=True, capture_output=True)
    drawn = set(gallery.glob("*.svg")) - before
    assert drawn
    for picture in drawn:
        assert (GALLERY / picture.name).exists(), "a picture that is not committed"
        assert ET.parse(picture).getroot().tag.endswith("svg")
        assert "nan" not in picture.read_text(encoding="utf-8").lower()
