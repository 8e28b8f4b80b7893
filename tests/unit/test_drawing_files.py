"""Written files: read back by other people's readers, equal bytes every time."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from importlib.resources import files
from math import pi

import ezdxf
import pypdf
import pytest
import svgelements

from foamwright.drawing.dxf import dxf_text
from foamwright.drawing.lettering import plain
from foamwright.drawing.model import (
    PENS,
    SHEET_LAYERS,
    Arc,
    Area,
    Circle,
    Drawing,
    Layer,
    Path,
    Text,
    corners,
    line,
    rectangle,
)
from foamwright.drawing.pdf import MAX_SIDE, Page, page_of, pdf_bytes
from foamwright.drawing.plan import plan_drawing
from foamwright.drawing.svg import svg_text
from foamwright.errors import DomainError
from tests.unit.drawing_samples import sample_set


@pytest.fixture(scope="module")
def page() -> Drawing:
    items = [
        rectangle(Layer.CUT, (20.0, 30.0, 140.0, 90.0)),
        Circle(layer=Layer.CUT, centre=(60.0, 60.0), radius=10.0),
        Arc(layer=Layer.MARK, centre=(60.0, 60.0), radius=20.0, start=0.0, end=0.5 * pi),
        Text(layer=Layer.NOTE, at=(30.0, 40.0), text="5 mm × 30° é", height=5.0, bold=True),
        Area(layer=Layer.NOTE, rings=(corners((150.0, 30.0, 160.0, 40.0)),)),
    ]
    items += [line(layer, (20.0, 100.0 + k), (120.0, 100.0 + k)) for k, layer in enumerate(Layer)]
    return Drawing(name="t", title="a <page>", primitives=tuple(items), bounds=(10, 20, 190, 140))


# ---------------------------------------------------------------- PDF


def test_pdf_page_is_the_drawing(page):
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes([page_of(page)], title="t")))
    box = reader.pages[0].mediabox
    assert float(box.width) == pytest.approx(180.0 * 72 / 25.4, abs=1e-3)
    assert float(box.height) == pytest.approx(120.0 * 72 / 25.4, abs=1e-3)


def test_pdf_asks_for_no_scaling_and_embeds_its_fonts(page):
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes([page_of(page)], title="t")))
    preferences = reader.trailer["/Root"]["/ViewerPreferences"].get_object()
    assert preferences["/PrintScaling"] == "/None"
    fonts = reader.pages[0]["/Resources"]["/Font"].get_object()
    used = [font.get_object() for font in fonts.values()]
    embedded = [font for font in used if "/FontDescriptor" in font]
    assert embedded
    assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in embedded)
    assert "5 mm × 30° é" in reader.pages[0].extract_text()


def test_pdf_refuses_a_page_beyond_readers():
    huge = Page(width=MAX_SIDE + 1.0, height=100.0, primitives=())
    with pytest.raises(DomainError, match="too large"):
        pdf_bytes([huge], title="t")


# ---------------------------------------------------------------- DXF


@pytest.fixture(scope="module")
def reread(page):
    return ezdxf.read(io.StringIO(dxf_text(page)))


def test_dxf_is_sound_and_in_millimetres(reread):
    audit = reread.audit()
    assert not audit.errors
    assert not audit.fixes
    assert reread.header["$INSUNITS"] == 4
    assert reread.dxfversion == "AC1024"


def test_dxf_layers_have_their_own_look(reread):
    looks = []
    for layer in (*SHEET_LAYERS, Layer.CHECK):
        entry = reread.layers.get(layer.value.upper())
        assert entry.dxf.lineweight == round(100 * PENS[layer].width)
        looks.append((entry.dxf.linetype, entry.dxf.lineweight))
    assert len(set(looks)) == len(looks)


def test_dxf_patterns_are_in_millimetres(reread):
    entry = reread.layers.get("HALF-CUT")
    pattern = reread.linetypes.get(entry.dxf.linetype)
    lengths = [tag.value for tag in pattern.pattern_tags.tags if tag.code == 49]
    assert lengths == pytest.approx([12 * 0.35, -3 * 0.35])


def test_dxf_carries_a_check_square(reread):
    lines = reread.modelspace().query('LWPOLYLINE[layer=="CHECK"]')
    (square,) = [item for item in lines if item.closed]
    xs, ys = zip(*((point[0], point[1]) for point in square), strict=True)
    assert max(xs) - min(xs) == 100.0
    assert max(ys) - min(ys) == 100.0


def test_dxf_is_ascii(page):
    text = dxf_text(page)
    assert text.isascii()
    assert plain("5 mm × 30° é") in text


# ---------------------------------------------------------------- SVG


def test_svg_units_are_millimetres(page):
    text = svg_text(page)
    assert 'width="180mm" height="120mm" viewBox="0 0 180 120"' in text
    assert "&lt;page&gt;" in text


def test_svg_is_read_at_true_size(page):
    shapes = list(svgelements.SVG.parse(io.StringIO(svg_text(page)), ppi=25.4).elements())
    boxes = [
        item.bbox() for item in shapes if isinstance(item, svgelements.Path) and len(item) == 5
    ]
    left, top, right, bottom = boxes[0]
    assert (right - left, bottom - top) == pytest.approx((120.0, 60.0))
    assert (left, top) == pytest.approx((10.0, 50.0))


def test_svg_groups_carry_the_pens(page):
    text = svg_text(page)
    for layer in SHEET_LAYERS:
        assert f'<g class="{layer.value}"' in text
    assert 'stroke-width="0.35" stroke-dasharray="4.2,1.05"' in text


# ---------------------------------------------------------------- repeatable

_SCRIPT = """
import hashlib, sys
from pathlib import Path
from foamwright.airframe import build_airframe
from foamwright.design import read_design
from foamwright.drawing.threeview import three_view
from tests.unit.drawing_samples import sample_set
from foamwright.drawing.plan import plan_drawing, plan_pages
from foamwright.drawing.paper import PAPERS
from foamwright.drawing.pdf import page_of, pdf_bytes
from foamwright.drawing.svg import svg_text
from foamwright.drawing.dxf import dxf_text
page = plan_drawing(sample_set())
for content in (
    pdf_bytes([page_of(page)], title="t"), svg_text(page).encode(), dxf_text(page).encode(),
    plan_pages(sample_set(), paper=PAPERS["A4"]).pdf(),
    svg_text(three_view(build_airframe(read_design(Path(sys.argv[1])).variants[0]))).encode(),
):
    print(hashlib.sha256(content).hexdigest())
"""


def test_bytes_repeat_across_hash_seeds():
    """A plan written twice is the same file, so that plans can be compared and published."""
    example = files("foamwright.design").joinpath("examples", "knot.toml")
    sums = []
    for seed in ("1", "4"):  # once told the order of a set apart
        done = subprocess.run(
            [sys.executable, "-c", _SCRIPT, str(example)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        )
        sums.append(done.stdout.split())
    assert len(sums[0]) == 5
    assert sums[0] == sums[1]
    page = plan_drawing(sample_set())
    assert hashlib.sha256(dxf_text(page).encode()).hexdigest() == sums[0][2]


def test_every_cut_of_the_plan_is_a_closed_outline():
    cuts = plan_drawing(sample_set()).on(Layer.CUT)
    assert cuts
    assert all(isinstance(item, Path) and item.closed for item in cuts)
