"""Tiles cover the drawing, neighbours register, small parts stay whole."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from foamwright.drawing.geometry import shapes_of
from foamwright.drawing.lettering import box_of
from foamwright.drawing.model import Drawing, Layer, line, rectangle
from foamwright.drawing.paper import PAPERS, Frame, paper_named
from foamwright.drawing.plan import plan_drawing, plan_pages
from foamwright.drawing.tiling import (
    calm_shift,
    cut_outlines,
    grid_tiling,
    holds,
    row_letters,
    tile_code,
    tiles_needed,
)
from foamwright.errors import DomainError
from tests.unit.drawing_samples import sample_set


def big(*items) -> Drawing:
    return Drawing(name="big", title="big", primitives=tuple(items), bounds=(0, 0, 700, 500))


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3", "A0"])
def test_tiles_cover_every_primitive(paper):
    drawing = plan_drawing(sample_set())
    tiling = grid_tiling(drawing, paper=PAPERS[paper])
    seen = shapely.union_all([shapely.box(*tile.window) for tile in tiling.tiles])
    assert all(seen.buffer(1e-6).covers(shape) for shape in shapes_of(drawing.primitives))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_pages_cover_every_primitive(paper):
    tiling = plan_pages(sample_set(), paper=PAPERS[paper]).tiling
    seen = shapely.union_all([shapely.box(*tile.window) for tile in tiling.tiles])
    for shape in shapes_of(tiling.drawing.primitives):
        assert seen.buffer(1e-6).covers(shape)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_small_parts_are_whole_on_one_page(paper):
    pages = plan_pages(sample_set(), paper=PAPERS[paper])
    width, height = pages.tiling.frame.window
    for outline in cut_outlines(pages.tiling.drawing):
        left, bottom, right, top = box_of(outline)
        if right - left < 100.0 and top - bottom < 100.0:
            whole = [
                tile
                for tile in pages.tiling.tiles
                if holds(tile, (left, bottom)) and holds(tile, (right, top))
            ]
            assert whole, outline.points
    assert width > 100.0
    assert height > 100.0


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_pages_keep_the_overlap(paper):
    tiling = plan_pages(sample_set(), paper=PAPERS[paper]).tiling
    by_code = {tile.code: tile for tile in tiling.tiles}
    joined = 0
    for tile in tiling.tiles:
        if tile.neighbours.right:
            other = by_code[tile.neighbours.right]
            assert tile.window[2] - other.window[0] == pytest.approx(tiling.overlap)
            assert other.neighbours.left == tile.code
            joined += 1
        if tile.neighbours.above:
            other = by_code[tile.neighbours.above]
            assert tile.window[3] - other.window[1] == pytest.approx(tiling.overlap)
            assert other.neighbours.below == tile.code
    assert joined


def test_crosses_stand_on_overlap_centre_lines_of_two_pages():
    drawing = big(rectangle(Layer.CUT, (5, 5, 695, 495)))
    tiling = grid_tiling(drawing, paper=PAPERS["A4"])
    assert tiling.crosses
    for x, y in tiling.crosses:
        pages = [tile for tile in tiling.tiles if holds(tile, (x, y))]
        assert len(pages) in (2, 4)
        left = max(tile.window[0] for tile in pages)
        right = min(tile.window[2] for tile in pages)
        low = max(tile.window[1] for tile in pages)
        high = min(tile.window[3] for tile in pages)
        middle_x = right - left == pytest.approx(12.0) and x == pytest.approx(0.5 * (left + right))
        middle_y = high - low == pytest.approx(12.0) and y == pytest.approx(0.5 * (low + high))
        assert middle_x or middle_y


def test_empty_tiles_are_skipped_and_listed():
    drawing = big(line(Layer.MARK, (5, 5), (60, 5)), line(Layer.MARK, (650, 480), (690, 480)))
    tiling = grid_tiling(drawing, paper=PAPERS["A4"])
    assert len(tiling.tiles) == 2
    assert tiling.skipped
    assert all(tile.neighbours.right is None for tile in tiling.tiles)
    assert not tiling.crosses


def test_the_inside_of_a_large_part_is_no_empty_tile():
    drawing = big(rectangle(Layer.CUT, (5, 5, 695, 495)))
    assert not grid_tiling(drawing, paper=PAPERS["A4"]).skipped


def test_nothing_to_print_says_so():
    with pytest.raises(DomainError, match="nothing to print"):
        grid_tiling(big(), paper=PAPERS["A4"])


def test_seams_shift_away_from_slots():
    """Two tiles with 60 mm of slack: the seam moves off a slot that stands in the middle."""
    starts, ends = np.array([0.0, 145.0]), np.array([300.0, 155.0])
    shift = calm_shift(starts, ends, 300.0, 186.0, 12.0)
    seam = 186.0 - 6.0 - shift
    assert not 145.0 < seam < 155.0
    assert 0.0 <= shift <= 60.0


def test_both_ways_of_laying_the_paper_are_tried():
    wide = Drawing(
        name="w",
        title="w",
        primitives=(rectangle(Layer.CUT, (0, 0, 260, 170)),),
        bounds=(0, 0, 260, 170),
    )
    assert len(grid_tiling(wide, paper=PAPERS["A4"]).tiles) == 1
    assert len(grid_tiling(wide, paper=PAPERS["A4"], landscape=False).tiles) == 2


@pytest.mark.parametrize(
    ("row", "letters"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA")]
)
def test_row_letters(row, letters):
    assert row_letters(row) == letters
    assert tile_code(row, 2) == f"{letters}3"


def test_exact_fit_needs_no_further_tile():
    assert tiles_needed(2 * 174.0 + 12.0, page=186.0, overlap=12.0) == 2
    assert tiles_needed(2 * 174.0 + 12.1, page=186.0, overlap=12.0) == 3
    assert tiles_needed(5.0, page=186.0, overlap=12.0) == 1


def test_too_much_overlap_is_refused():
    with pytest.raises(DomainError, match="overlap"):
        tiles_needed(100.0, page=10.0, overlap=10.0)


def test_papers_by_name():
    assert paper_named("a4") is PAPERS["A4"]
    with pytest.raises(DomainError, match="A4"):
        paper_named("B5")


def test_margins_leave_what_printers_reach():
    frame = Frame(paper=PAPERS["A4"], landscape=True)
    assert frame.margin >= 10.0
    assert frame.window == (297.0 - 28.0, 210.0 - 28.0)
