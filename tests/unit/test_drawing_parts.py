"""Part figures, their labels and how they are laid out."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import pi, radians

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from foamwright.airframe import Hand
from foamwright.assess import assess
from foamwright.design import STARTERS, read_design_text, starter_text
from foamwright.drawing.label import Block, Row, along_line, upright
from foamwright.drawing.layout import lay_on_page, lay_on_tiles
from foamwright.drawing.lettering import extent, text_corners
from foamwright.drawing.model import Drawing, Layer, Path, Text
from foamwright.drawing.packing import FreeSpace
from foamwright.drawing.paper import PAPERS
from foamwright.drawing.part import (
    area_words,
    count_words,
    figure_at,
    fold_words,
    mass_words,
    part_figure,
)
from foamwright.drawing.plan import plan_drawing, plan_pages
from foamwright.drawing.sections import PlanWords, Section, flowed, heading, paragraph, together
from foamwright.drawing.svg import svg_text
from foamwright.errors import DomainError
from foamwright.findings import Finding, Level
from foamwright.flat import flatten
from foamwright.flat.model import FoldLine
from tests.unit.drawing_samples import part, ring, sample_set


def texts(items) -> list[str]:
    return [item.text for item in items if isinstance(item, Text)]


@pytest.fixture(scope="module")
def plan() -> Drawing:
    return plan_drawing(sample_set())


# ---------------------------------------------------------------- words


@pytest.mark.parametrize(
    ("hands", "words"),
    [
        ((Hand.CENTRE,), "cut 1"),
        ((Hand.CENTRE, Hand.CENTRE), "cut 2"),
        ((Hand.LEFT,), "cut 1, left hand"),
        ((Hand.RIGHT, Hand.LEFT), "mirror: cut one as drawn (right), one turned over (left)"),
        (
            (Hand.RIGHT, Hand.LEFT, Hand.RIGHT, Hand.LEFT),
            "mirror: cut 2 as drawn (right), 2 turned over (left)",
        ),
    ],
)
def test_count_words(hands, words):
    assert count_words(hands) == words


def test_areas_and_masses_in_words():
    assert area_words(0.0412) == "412 cm²"
    assert area_words(0.000164) == "1.6 cm²"
    assert mass_words(0.0123) == "12.3 g"
    assert mass_words(0.2345) == "234 g"


def test_folds_say_angle_and_way():
    fold = FoldLine(start=np.zeros(2), end=np.ones(2), angle=radians(14.2), away=True)
    assert fold_words(fold) == "fold 14° down"
    assert fold_words(replace(fold, away=False)) == "fold 14° up"


# ---------------------------------------------------------------- figures


@pytest.mark.parametrize("turned", [False, True])
def test_figures_are_true_size_and_start_at_the_corner(turned):
    wing = sample_set().parts[0]
    figure = part_figure(wing, revision="A", quarter_turn=turned)
    items = figure_at(figure, (50.0, 70.0))
    cuts = [item for item in items if isinstance(item, Path) and item.layer is Layer.CUT]
    assert Polygon(cuts[0].points).area == pytest.approx(1e6 * wing.area)
    left, bottom, right, top = extent(cuts)
    assert (left, bottom) == pytest.approx((50.0, 70.0))
    size = (360.0, 420.0) if turned else (420.0, 360.0)
    assert (right - left, top - bottom) == pytest.approx(size)


@pytest.mark.parametrize("item", sample_set().parts, ids=lambda item: item.code)
def test_every_part_says_all_that_a_builder_needs(item):
    said = " ".join(texts(figure_at(part_figure(item, revision="C"), (0.0, 0.0))))
    said = said.replace("- ", "-")
    for word in (item.code, count_words(item.hands).split(":")[0], item.stock, "5 mm", "rev C"):
        assert word in said
    assert mass_words(item.mass) in said
    assert "face up" in said


@pytest.mark.parametrize("item", sample_set().parts, ids=lambda item: item.code)
def test_labels_never_cross_outlines(item):
    figure = part_figure(item, revision="A")
    items = figure_at(figure, (0.0, 0.0))
    cuts = [
        shapely.linearrings(piece.points)
        for piece in items
        if isinstance(piece, Path) and piece.layer is Layer.CUT
    ]
    for text in items:
        if isinstance(text, Text) and text.layer is Layer.NOTE:
            assert not any(cut.intersects(Polygon(text_corners(text))) for cut in cuts), text.text


def test_small_parts_have_their_label_outside_with_a_leader():
    tiny = part("TINY", "tiny", ring((0, 0), (20, 0), (20, 12), (0, 12)))
    figure = part_figure(tiny, revision="A")
    assert figure.outside is not None
    items = figure_at(figure, (0.0, 0.0))
    left, bottom, right, top = extent(items)
    assert right - left <= figure.size[0] + 0.01
    assert top - bottom <= figure.size[1] + 0.01


def test_turned_part_turns_its_stiff_arrow():
    item = part("STRIP", "strip", ring((0, 0), (300, 0), (300, 60), (0, 60)))
    level = part_figure(item, revision="A").labels[0][0].stiff
    turned = part_figure(item, revision="A", quarter_turn=True).labels[0][0].stiff
    assert level == pytest.approx(0.0)
    assert turned == pytest.approx(0.5 * pi)


def test_a_part_without_stiff_way_has_no_arrow():
    item = part("BLANK", "blank", ring((0, 0), (90, 0), (90, 90), (0, 90)), stiff=None)
    assert part_figure(item, revision="A").labels[0][0].stiff is None


def test_blocks_know_their_size():
    block = Block(rows=(Row(text="WING-SPAR", height=5.0, bold=True), Row(text="cut 2")), stiff=0.0)
    left, bottom, right, top = extent(block.primitives())
    assert right - left <= block.size[0] + 1e-6
    assert top - bottom <= block.size[1] + 1e-6
    assert left >= -1e-6
    assert bottom >= -1e-6


@pytest.mark.parametrize("angle", [0.0, 0.4, 1.3, 1.8, 3.0, -0.3, -1.2, -1.57])
def test_lettering_never_stands_on_its_head(angle):
    turned = upright(angle)
    assert np.sin(turned - angle) == pytest.approx(0.0, abs=1e-9)
    assert -radians(75.1) < turned <= radians(105.1)


def test_crowded_lines_get_a_leader():
    """Three lines 1.5 mm apart: the middle one is named at a distance."""
    home = shapely.box(0.0, 0.0, 200.0, 60.0)
    lines = [shapely.linestrings([(0.0, y), (200.0, y)]) for y in (28.5, 30.0, 31.5)]
    items = along_line(
        Layer.MARK, ((0.0, 30.0), (200.0, 30.0)), "balance point", home=home, taken=lines
    )
    assert len(items) == 3
    (text,) = [item for item in items if isinstance(item, Text)]
    assert not any(line.intersects(Polygon(text_corners(text))) for line in lines)


def test_a_leader_steps_aside_from_other_lettering():
    """The middle of the line is named already; the second name reaches past that lettering."""
    home = shapely.box(0.0, 0.0, 40.0, 60.0)
    ends = ((0.0, 30.0), (40.0, 30.0))
    taken = [shapely.box(0.0, 30.5, 40.0, 60.0), shapely.linestrings(ends)]
    (first,) = along_line(Layer.FOLD, ends, "fold 2° up", home=home, taken=taken)
    written = [Polygon(text_corners(first))]
    text, *leader = along_line(
        Layer.MARK, ends, "former pylon", home=home, taken=taken, letters=written
    )
    assert len(leader) == 2
    assert home.contains(Polygon(text_corners(text)))
    assert not written[0].intersects(Polygon(text_corners(text)))
    assert not written[0].intersects(shapely.linestrings(leader[0].points))


def test_a_line_across_a_narrow_strip_is_named_in_the_opening_beside_it():
    window = shapely.box(8.0, 5.0, 60.0, 95.0)
    home = shapely.box(0.0, 0.0, 68.0, 100.0).difference(window)
    ends = ((0.0, 50.0), (8.0, 50.0))
    (text,) = along_line(
        Layer.FOLD,
        ends,
        "fold 12° up",
        home=home,
        taken=[shapely.linestrings(ends)],
        windows=[window],
    )
    assert window.contains(Polygon(text_corners(text)))


@pytest.mark.parametrize("like", STARTERS)
def test_no_lettering_of_an_example_crosses_other_lettering(like):
    """On the large plan, where no seam narrows the room."""
    found = assess(read_design_text(starter_text(like)).variants[0])
    plan = plan_drawing(flatten(found.airframe, found.balance, span=found.span))
    words = [Polygon(text_corners(item)) for item in plan.primitives if isinstance(item, Text)]
    tree = shapely.STRtree(words)
    met = tree.query(words, predicate="overlaps")
    assert not [
        (first, second)
        for first, second in met.T
        if words[first].intersection(words[second]).area > 0.5
    ]


# ---------------------------------------------------------------- packing and layout


def test_free_space_never_overlaps():
    space = FreeSpace((0.0, 0.0, 100.0, 100.0))
    taken = []
    for size in [(60.0, 40.0), (40.0, 60.0), (40.0, 40.0), (60.0, 60.0), (10.0, 10.0)]:
        place = space.leftmost(*size)
        if place is not None:
            space.take(place)
            taken.append(shapely.box(*place))
    assert len(taken) >= 4
    assert all(a.intersection(b).area < 1e-6 for a, b in combinations(taken, 2))


def test_parts_on_the_page_do_not_overlap(plan):
    solids = [
        Polygon(item.points)
        for item in plan.on(Layer.CUT)
        if isinstance(item, Path) and Polygon(item.points).exterior.is_ccw
    ]
    assert len(solids) == len(sample_set().parts)
    assert all(a.distance(b) > 5.0 for a, b in combinations(solids, 2))
    page = shapely.box(*plan.bounds)
    assert all(page.contains(solid) for solid in solids)


def test_a_page_too_low_holds_nothing():
    choices = [(part_figure(sample_set().parts[0], revision="A"),)]
    assert lay_on_page(choices, height=100.0) == ((), float("inf"))


def test_blocks_of_pages_hold_every_part_once():
    parts = sample_set().parts
    choices = [
        tuple(part_figure(item, revision="A", quarter_turn=turned) for turned in (False, True))
        for item in parts
    ]
    blocks = lay_on_tiles(choices, window=(182.0, 269.0), overlap=12.0)
    laid = [item.figure.part.code for block in blocks for item in block.laid]
    assert sorted(laid) == sorted(item.code for item in parts)
    for block in blocks:
        width = block.counts[0] * 170.0 + 12.0
        height = block.counts[1] * 257.0 + 12.0
        for item in block.laid:
            assert item.corner[0] >= 0.0
            assert item.corner[0] + item.figure.size[0] <= width
            assert item.corner[1] + item.figure.size[1] <= height


def test_parts_on_pages_do_not_overlap():
    drawing = plan_pages(sample_set(), paper=PAPERS["A4"]).tiling.drawing
    solids = [
        Polygon(item.points)
        for item in drawing.on(Layer.CUT)
        if isinstance(item, Path) and Polygon(item.points).exterior.is_ccw
    ]
    assert all(a.distance(b) > 5.0 for a, b in combinations(solids, 2))


# ---------------------------------------------------------------- the written parts


def test_plan_names_what_it_does_not_draw(plan):
    said = " ".join(texts(plan.primitives))
    assert "Not drawn here" in said
    assert "WING-NOSE-CAP" in said


def test_plan_prints_stops_and_minds_before_notes():
    found = (
        Finding(slug="b", level=Level.NOTE, text="Only said elsewhere.", where="", why=""),
        Finding(slug="a", level=Level.MIND, text="The pack is tight.", where="", why=""),
        Finding(slug="c", level=Level.STOP, text="It balances too far aft.", where="", why=""),
    )
    said = " ".join(texts(plan_drawing(sample_set(), words=PlanWords(findings=found)).primitives))
    assert said.index("STOP: It balances") < said.index("MIND: The pack")
    assert "Only said elsewhere" not in said


def test_nothing_of_the_key_lies_on_a_layer_that_is_cut(plan):
    """A cutter that takes every line of a layer finds parts alone."""
    outlines = sum(1 + len(item.holes) for item in sample_set().parts)
    assert len(plan.on(Layer.CUT)) == outlines
    assert len([item for item in plan.on(Layer.FOLD) if isinstance(item, Path)]) == 2


def test_large_plan_carries_both_check_bars(plan):
    bars = [item for item in plan.on(Layer.CHECK) if isinstance(item, Path)]
    level = [p for p in bars if abs(p.points[1][0] - p.points[0][0]) == pytest.approx(100.0)]
    upright_bars = [p for p in bars if abs(p.points[1][1] - p.points[0][1]) == pytest.approx(100.0)]
    assert len(level) == 1
    assert len(upright_bars) == 1


def test_all_lettering_stays_on_the_page(plan):
    page = shapely.box(*plan.bounds)
    for item in plan.primitives:
        if isinstance(item, Text):
            assert page.contains(Polygon(text_corners(item))), item.text


def test_lettering_is_large_enough_to_read(plan):
    """Ten point and more for all but captions and margins (house rule)."""
    heights = {item.height for item in plan.primitives if isinstance(item, Text)}
    assert min(heights) >= 1.8
    assert sum(item.height < 2.3 for item in plan.primitives if isinstance(item, Text)) < 16


def test_flowing_keeps_lists_together():
    rows = [Section(primitives=(), height=10.0) for _ in range(4)]
    lists = (*together((heading("one"), *rows)), *together((heading("two"), *rows)))
    marked = tuple(
        replace(section, primitives=paragraph(f"row {k}").primitives)
        for k, section in enumerate(lists)
    )
    pages = flowed(marked, column=100.0, height=70.0)
    assert [texts(page) for page in pages] == [
        [f"row {k}" for k in range(5)],
        [f"row {k}" for k in range(5, 10)],
    ]


def test_lists_longer_than_a_page_flow_on():
    rows = together([replace(paragraph(f"row {k}"), height=10.0) for k in range(25)])
    pages = flowed(rows, column=100.0, height=100.0)
    assert sum(len(texts(page)) for page in pages) == 25
    assert len(pages) == 3


# ---------------------------------------------------------------- odd sets


def with_parts(*parts):
    return replace(sample_set(), parts=parts)


def test_nothing_to_print_says_so():
    with pytest.raises(DomainError, match="no flat part"):
        plan_drawing(with_parts())
    with pytest.raises(DomainError, match="no flat part"):
        plan_pages(with_parts(), paper=PAPERS["A4"])


def test_a_part_beyond_every_roll_gets_a_page_of_its_own_size():
    large = part("LARGE", "large", ring((0, 0), (3000, 0), (3000, 1500), (0, 1500)))
    page = plan_drawing(with_parts(large))
    assert page.height > 1500.0


def test_a_part_beyond_every_page_is_refused_with_a_way_out():
    huge = part("HUGE", "huge", ring((0, 0), (6000, 0), (6000, 100), (0, 100)))
    with pytest.raises(DomainError, match="print the plan in tiles"):
        plan_drawing(with_parts(huge))
    assert len(plan_pages(with_parts(huge), paper=PAPERS["A4"]).tiles) > 20


def test_odd_names_are_written_and_name_files_in_ascii():
    odd = part("CODE", "Flügel, Größe « über »", ring((0, 0), (100, 0), (100, 80), (0, 80)))
    flat = replace(with_parts(odd), design='Strandläufer №1 "x" <&>', variant="größer/länger")
    page = plan_drawing(flat)
    assert page.name == "strandlaufer-no1-x-grosser-langer-plan"
    assert "&lt;&amp;&gt;" in svg_text(page)
