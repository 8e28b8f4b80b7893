"""True size, measured on the written files by readers that are not ours."""

from __future__ import annotations

import io
from importlib.resources import files
from math import dist, hypot, pi, tan
from pathlib import Path as FilePath

import numpy as np
import pyogrio
import pypdf
import pypdfium2
import pytest
import shapely
import svgelements
from pypdf.generic import ContentStream

from foamwright.airframe import build_airframe
from foamwright.balance import weigh
from foamwright.design import read_design
from foamwright.drawing.dxf import dxf_text
from foamwright.drawing.model import Arc, Drawing, Layer, Path, rectangle
from foamwright.drawing.pages import tiled_pages
from foamwright.drawing.paper import PAPERS
from foamwright.drawing.pdf import PT_PER_MM, Page, page_of, pdf_bytes
from foamwright.drawing.plan import plan_drawing, plan_pages
from foamwright.drawing.svg import svg_text
from foamwright.drawing.tiling import grid_tiling, tiles_needed
from foamwright.flat import FlatSet, flatten
from tests.reference import Reference
from tests.unit.drawing_samples import sample_set

ISO_216 = Reference("ISO", "ISO 216, trimmed sizes, A series", 2007, "table 1", "memory")
TILES = Reference("-", "n = ceil((W - o) / (p - o))", None, "counted by hand", "derived")
UNITS = Reference("-", "inch = 25.4 mm, point = 1/72 in, CSS px = 1/96 in", None, "definitions")
PAPER_SIZES = (
    ("A0", 841.0, 1189.0),
    ("A1", 594.0, 841.0),
    ("A2", 420.0, 594.0),
    ("A3", 297.0, 420.0),
    ("A4", 210.0, 297.0),
)


@pytest.mark.validation(ISO_216)
@pytest.mark.parametrize(("name", "width", "height"), PAPER_SIZES)
def test_paper_sizes(agrees, name, width, height):
    agrees(f"{name} width [mm]", got=PAPERS[name].width, expected=width)
    agrees(f"{name} height [mm]", got=PAPERS[name].height, expected=height)


@pytest.mark.validation(TILES)
@pytest.mark.parametrize(
    ("name", "landscape", "count"),
    [("A4", False, 9), ("A4", True, 10), ("Letter", False, 9), ("Letter", True, 8)],
)
def test_tile_counts(agrees, name, landscape, count):
    """A sheet of 508 x 762 mm, overlap 10, margins 6.35 mm (the safe printer margin)."""
    width, height = PAPERS[name].size(landscape=landscape)
    across = tiles_needed(508.0, page=width - 12.7, overlap=10.0)
    up = tiles_needed(762.0, page=height - 12.7, overlap=10.0)
    agrees(f"tiles on {name}", got=across * up, expected=count)


@pytest.mark.validation(UNITS)
def test_units_of_the_writers(agrees):
    agrees("PDF pt per mm", got=PT_PER_MM, expected=2.834646, tol_abs=1e-5)
    agrees("A4 width [pt]", got=210.0 * PT_PER_MM, expected=595.276, tol_abs=1e-3)
    agrees("A4 height [pt]", got=297.0 * PT_PER_MM, expected=841.890, tol_abs=1e-3)


BULGE = Reference(
    "Autodesk", "DXF reference, LWPOLYLINE", None, "group 42: tangent of a quarter arc", "memory"
)


@pytest.mark.validation(BULGE)
def test_quarter_arc_in_dxf(agrees):
    """The arc read back has the bulge of 90 degrees: its points lie on the same circle."""
    import ezdxf

    arc = Arc(layer=Layer.CUT, centre=(50.0, 50.0), radius=40.0, start=0.0, end=0.5 * pi)
    page = Drawing(name="a", title="a", primitives=(arc,), bounds=(0.0, 0.0, 100.0, 100.0))
    read = ezdxf.read(io.StringIO(dxf_text(page))).modelspace().query("ARC").first
    included = np.radians(read.dxf.end_angle - read.dxf.start_angle)
    agrees("bulge of 90 degrees", got=tan(included / 4.0), expected=0.414214, tol_abs=1e-5)


# ---------------------------------------------------------------- PDF: check bars

BARS = Reference("-", "check bar of 100 mm on both axes of every page", None, "-", "practice")


def segments(page: pypdf.PageObject, reader: pypdf.PdfReader) -> list[tuple[float, ...]]:
    """Straight strokes of a page in millimetres, from its content stream."""
    stack: list[np.ndarray] = []
    matrix = np.eye(3)
    found: list[tuple[float, ...]] = []
    pen: tuple[float, float] | None = None

    def place(x: float, y: float) -> tuple[float, float]:
        u, v, _ = np.array([x, y, 1.0]) @ matrix
        return float(u) / PT_PER_MM, float(v) / PT_PER_MM

    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        numbers = [float(n) for n in operands if isinstance(n, int | float)]
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            matrix = np.array([[a, b, 0], [c, d, 0], [e, f, 1.0]]) @ matrix
        elif operator == b"m":
            pen = place(*numbers)
        elif operator == b"l" and pen is not None:
            end = place(*numbers)
            found.append((*pen, *end))
            pen = end
    return found


@pytest.mark.validation(BARS)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_check_bars_of_every_page(agrees, paper):
    """Within 0.02 mm on both axes of every page, in the file as written."""
    pages = plan_pages(sample_set(), paper=PAPERS[paper])
    reader = pypdf.PdfReader(io.BytesIO(pages.pdf()))
    assert len(reader.pages) == len(pages.pages)
    for number, page in enumerate(reader.pages, start=1):
        lines = segments(page, reader)
        level = [x1 - x0 for x0, y0, x1, y1 in lines if y0 == y1 and abs(x1 - x0 - 100) < 0.5]
        upright = [y1 - y0 for x0, y0, x1, y1 in lines if x0 == x1 and abs(y1 - y0 - 100) < 0.5]
        assert level
        assert upright
        agrees(f"{paper} page {number}, level bar [mm]", got=level[0], expected=100, tol_abs=0.02)
        agrees(f"{paper} page {number}, upright bar", got=upright[0], expected=100, tol_abs=0.02)


@pytest.mark.validation(BARS)
def test_check_bars_in_a_raster_of_600_dpi(agrees):
    """The end ticks of both bars, by their grey weight, in a render by an independent reader."""
    pages = plan_pages(sample_set(), paper=PAPERS["A4"])
    tile = pages.tiles[0]
    data = pdf_bytes([tile], title="t")
    image = pypdfium2.PdfDocument(data)[0].render(scale=600 / 72, grayscale=True).to_numpy()
    ink = 255.0 - image.reshape(image.shape[0], image.shape[1]).astype(float)
    left, bottom = pages.tiling.frame.corner
    # just below the level bar and left of the upright bar only their ticks stand
    level = _ticks(ink, tile, (left + 28.0, bottom - 6.2, left + 131.0, bottom - 5.8), across=True)
    agrees("level bar in a raster [mm]", got=level, expected=100.0, tol_abs=0.02)
    upright = _ticks(
        ink, tile, (left - 4.5, bottom + 10.0, left - 4.1, bottom + 122.0), across=False
    )
    agrees("upright bar in a raster [mm]", got=upright, expected=100.0, tol_abs=0.02)


def _ticks(
    ink: np.ndarray, page: Page, box: tuple[float, float, float, float], *, across: bool
) -> float:
    dots = 600 / 25.4
    rows = slice(round((page.height - box[3]) * dots), round((page.height - box[1]) * dots))
    columns = slice(round(box[0] * dots), round(box[2] * dots))
    line = ink[rows, columns].mean(axis=0 if across else 1)
    tick = 0.35 * dots
    where = np.flatnonzero(line > 0.5 * line.max())
    places = []
    for edge in (where[0], where[-1]):
        near = slice(max(0, int(edge - 2 * tick)), int(edge + 2 * tick))
        weights = line[near]
        places.append(
            float(np.average(np.arange(near.start, near.start + weights.size), weights=weights))
        )
    return (places[1] - places[0]) / dots


REGISTER = Reference(
    "-", "one point of the drawing is printed by both neighbours", None, "-", "practice"
)


@pytest.mark.validation(REGISTER)
def test_crosses_of_neighbours_are_the_same_point(agrees):
    """The crosses of two neighbours, read from the file, differ by one tile pitch exactly."""
    outline = rectangle(Layer.CUT, (5.0, 5.0, 395.0, 250.0))
    drawing = Drawing(name="d", title="d", primitives=(outline,), bounds=(0, 0, 400, 255))
    tiling = grid_tiling(drawing, paper=PAPERS["A4"], landscape=False)
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(tiled_pages(tiling, name="d"), title="d")))
    left, right, *_ = (_cross_centres(page, reader) for page in reader.pages)
    pitch = tiling.frame.window[0] - tiling.overlap
    kept = [point for point in left if point[0] > pitch]  # those on the seam to the right
    assert len(kept) == 3
    for x, y in kept:
        gap = min(dist((x - pitch, y), other) for other in right)
        agrees("cross to cross across the seam [mm]", got=gap, expected=0.0, tol_abs=2e-3)


def _cross_centres(page: pypdf.PageObject, reader: pypdf.PdfReader) -> list[tuple[float, float]]:
    arms = [line for line in segments(page, reader) if abs(_length(line) - 8.0) < 1e-3]
    level = {(round((a + c) / 2, 3), round(b, 3)) for a, b, c, d in arms if b == d}
    upright = {(round(a, 3), round((b + d) / 2, 3)) for a, b, c, d in arms if a == c}
    return sorted(level & upright)


def _length(line: tuple[float, ...]) -> float:
    return hypot(line[2] - line[0], line[3] - line[1])


# ---------------------------------------------------------------- DXF and SVG by other readers

GDAL = Reference("GDAL", "OGR DXF driver, reading the written file", None, "-", "computed")
SVGELEMENTS = Reference("svgelements", "reading the written file", None, "-", "computed")


def flat_set(name: str) -> FlatSet:
    """Return the handmade set, or the parts of an example."""
    if name == "handmade":
        return sample_set()
    path = files("foamwright.design").joinpath("examples", f"{name}.toml")
    airframe = build_airframe(read_design(FilePath(str(path))).variants[0])
    return flatten(airframe, weigh(airframe))


EXAMPLES = ("handmade", "avocet", "curlew", "dunlin", "godwit", "knot")


@pytest.mark.validation(GDAL)
@pytest.mark.parametrize("name", EXAMPLES)
def test_areas_and_lengths_of_the_dxf(agrees, tmp_path, name):
    """Areas within 0.01 %, lengths within 0.005 %."""
    flat = flat_set(name)
    path = tmp_path / "plan.dxf"
    path.write_text(dxf_text(plan_drawing(flat)), encoding="ascii")
    meta, _, geometry, fields = pyogrio.raw.read(path)
    layers = fields[list(meta["fields"]).index("Layer")]
    read = list(zip(layers, shapely.from_wkb(geometry), strict=True))
    rings = [shapely.polygons(shapely.get_coordinates(s)).area for on, s in read if on == "CUT"]
    assert len(rings) == sum(1 + len(part.holes) for part in flat.parts)
    for part in flat.parts:
        for ring in (part.outline, *part.holes):
            expected = 1e6 * abs(_ring_area(ring))
            nearest = min(rings, key=lambda area, e=expected: abs(area - e))
            agrees(f"{part.code}, area [mm²]", got=nearest, expected=expected, rel=1e-4)
    folds = sorted(s.length for on, s in read if on == "FOLD" and s.geom_type == "LineString")
    drawn = sorted(
        1e3 * float(np.linalg.norm(fold.end - fold.start))
        for part in flat.parts
        for fold in part.folds
    )
    assert len(folds) == len(drawn)
    for got, expected in zip(folds, drawn, strict=True):
        agrees("fold line, length [mm]", got=got, expected=expected, rel=5e-5)
    square = next(s for on, s in read if on == "CHECK" and s.length > 300.0)
    agrees("check square, round its edge [mm]", got=square.length, expected=400.0, rel=5e-5)


def _ring_area(points: np.ndarray) -> float:
    x, y = points.T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


@pytest.mark.validation(SVGELEMENTS)
def test_areas_of_the_svg(agrees):
    page = plan_drawing(sample_set())
    read = svgelements.SVG.parse(io.StringIO(svg_text(page, embed_font=False)), ppi=25.4)
    found = [
        shapely.polygons([(p.x, p.y) for p in item.as_points()]).area
        for item in read.elements()
        if isinstance(item, svgelements.Path)
        and item.stroke_width == pytest.approx(0.5)
        and len(item) > 3
    ]
    for outline in page.on(Layer.CUT):
        assert isinstance(outline, Path)
        expected = shapely.polygons(outline.points).area
        nearest = min(found, key=lambda area: abs(area - expected))
        agrees("cut outline, area [mm²]", got=nearest, expected=expected, rel=1e-4)


@pytest.mark.validation(UNITS)
def test_page_of_the_large_plan(agrees):
    page = plan_drawing(sample_set())
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes([page_of(page)], title="t")))
    box = reader.pages[0].mediabox
    agrees("page width [pt]", got=float(box.width), expected=page.width * 72 / 25.4, tol_abs=1e-3)
