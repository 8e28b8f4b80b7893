"""The small tools of the design room: lines, paths, folds, outlines."""

from __future__ import annotations

import math
import tomllib
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.design.checks.outlines import crosses_itself, encloses, is_flat, signed_area
from foamwright.design.lines import line_map
from foamwright.design.paths import format_path, nearest_path, parse_path, resolve
from foamwright.design.schema.folding import nodes_by_angle
from foamwright.design.starters import STARTERS, starter_text
from foamwright.design.trouble import printable, shown
from tests.unit.design_text import LEGAL

# ---------------------------------------------------------------- lines


def _leaves(node, loc=()):
    yield loc
    members = node.items() if isinstance(node, dict) else enumerate(node)
    for bit, value in members:
        if isinstance(value, dict | list):
            yield from _leaves(value, (*loc, bit))
        else:
            yield (*loc, bit)


@pytest.mark.parametrize("text", [LEGAL, *map(starter_text, STARTERS)])
def test_every_key_has_its_line(text):
    lines = line_map(text)
    written = text.split("\n")
    for loc in _leaves(tomllib.loads(text)):
        if not loc:
            continue
        assert loc in lines, loc
        if isinstance(loc[-1], str):
            assert loc[-1] in written[lines[loc] - 1]


def test_lines_of_all_that_toml_has():
    text = '''\
# comment = 1
top = """
many
lines = 2 "quoted" \\"""" # end
'single' = \'\'\'
a = 3\'\'\'\'
"quoted \\u0041" . bare."x.y" = { a = 1, b = [
  1, # one
  { c = "}]#", d = [[], [2,
    3]] },
], e.f = 2020-01-01 }

[ tab . "le" ] # header
  key=[1,2,
]
[[list]]
a = 1
[list.inner]
b = 2
[[list.more]]
[[list.more]]
c = 3
[[list]]
a = 4
[[list.more]]
c = 5
[tab.other]
z = 1'''
    tree = tomllib.loads(text)
    lines = line_map(text)
    assert all(loc in lines for loc in _leaves(tree) if loc)
    assert lines["top",] == 2
    assert lines["single",] == 5
    assert lines["quoted A", "bare", "x.y", "b", 0] == 8
    assert lines["quoted A", "bare", "x.y", "b", 1, "d"] == 9
    assert lines["quoted A", "bare", "x.y", "b", 1, "d", 1, 1] == 10
    assert lines["quoted A", "bare", "x.y", "e", "f"] == 11
    assert lines["tab", "le", "key", 1] == 14
    assert lines["list", 0, "inner", "b"] == 19
    assert lines["list", 0, "more", 1, "c"] == 22
    assert lines["list", 1, "a"] == 24
    assert lines["list", 1, "more", 0, "c"] == 26
    assert lines["tab", "other", "z"] == 28


@given(st.text(alphabet="[]{}=.\"'\n #\\a1,", max_size=60))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_lines_never_fail_on_what_toml_accepts(text):
    try:
        tree = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = line_map(text)
    assert all(loc in lines for loc in _leaves(tree) if loc)


# ---------------------------------------------------------------- paths


@pytest.mark.parametrize(
    ("path", "bits"),
    [
        ("name", ("name",)),
        ("power.pack.main.position", ("power", "pack", "main", "position")),
        ("brief[2].at_most", ("brief", 1, "at_most")),
        ("body.pylon.outline[3][1]", ("body", "pylon", "outline", 2, 0)),
        ('variant."a b".set."x.y[1]"', ("variant", "a b", "set", "x.y[1]")),
        ("stock.sheet.my board.weight", ("stock", "sheet", "my board", "weight")),
        ("surface.flügel.panel", ("surface", "flügel", "panel")),
        ("", None),
        (".", None),
        ("a.", None),
        (".a", None),
        ("a..b", None),
        ("a[0]", None),
        ("a[x]", None),
        ("a]", None),
        ('a."b', None),
        ("a" * 500, None),
    ],
)
def test_paths_are_taken_apart(path, bits):
    assert parse_path(path) == bits


def test_paths_go_by_the_names_of_list_members():
    tree = tomllib.loads(LEGAL)
    loc = resolve(tree, parse_path("surface.wing.panel.tip.length"))
    assert loc == ("surface", "wing", "panel", 1, "length")
    assert format_path(loc, tree) == "surface.wing.panel.tip.length"
    assert resolve(tree, parse_path("surface.wing.panel.tpi.length")) is None
    assert resolve(tree, parse_path("surface.wing.panel.tip.sweep"))[-1] == "sweep"


def test_every_place_of_a_file_has_a_path_that_leads_back():
    tree = tomllib.loads(LEGAL)
    for loc in _leaves(tree):
        if loc:
            assert resolve(tree, parse_path(format_path(loc, tree))) == loc


def test_the_nearest_path_mends_every_bit():
    tree = tomllib.loads(LEGAL)
    near = nearest_path(tree, parse_path("surfaces.wing.panels.tipp.lenght"))
    assert near == "surface.wing.panel.tip.length"
    assert nearest_path(tree, parse_path("nothing.like.it")) == ""


# ---------------------------------------------------------------- shown


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "true"),
        ("a", '"a"'),
        ("\x1b[31m", '"?[31m"'),
        ([1, "a", [2], {"b": 1}], '[1, "a", [...], {...}]'),
        ({}, "{}"),
        pytest.param(16**100000, "a number of very many digits", id="huge"),
    ],
)
def test_values_are_shown_on_one_line(value, text):
    assert shown(value) == text


def test_long_values_are_cut():
    assert len(shown("x" * 10**6)) <= 60
    assert len(shown(list(range(10**5)))) <= 66
    assert printable("a" * 300) == "a" * 197 + "..."


# ---------------------------------------------------------------- folds


def test_one_fold_is_a_triangle():
    nodes = nodes_by_angle([0.5], angles=[math.radians(20)])
    assert nodes[1] == pytest.approx((0.5, 0.5 * math.tan(math.radians(10))))


@given(
    st.lists(
        st.tuples(st.floats(0.05, 0.95), st.floats(-25.0, 25.0)),
        min_size=1,
        max_size=5,
        unique_by=lambda crease: round(crease[0], 2),
    )
)
@settings(max_examples=60, deadline=None, derandomize=True)
def test_folds_turn_as_told_and_end_on_the_chord(creases):
    creases.sort()
    places = [at for at, _ in creases]
    angles = [math.radians(angle) for _, angle in creases]
    nodes = nodes_by_angle(places, angles=angles)
    assert nodes[0] == (0.0, 0.0)
    assert nodes[-1] == (1.0, 0.0)
    slopes = [math.atan2(z1 - z0, x1 - x0) for (x0, z0), (x1, z1) in pairwise(nodes)]
    turned = [before - after for before, after in pairwise(slopes)]
    assert turned == pytest.approx(angles, abs=1e-9)


# ---------------------------------------------------------------- outlines


SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


@pytest.mark.parametrize(
    ("points", "crosses"),
    [
        (SQUARE, False),
        (SQUARE[::-1], False),
        ((SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]), True),
        ((*SQUARE, SQUARE[0]), True),
        ((*SQUARE, (0.0, 0.5)), False),  # a corner on a straight edge is fine
        ((*SQUARE, (0.5, 0.0)), True),  # touches the bottom
        (((0.0, 0.0), (1.0, 0.0), (0.5, 0.0)), True),  # runs back on itself
        (((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), False),
        (((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.5), (0.0, 2.0)), False),
        (((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.0), (0.0, 2.0)), True),
    ],
)
def test_crossing_outlines(points, crosses):
    assert crosses_itself(points) is crosses


@given(st.integers(0, 9), st.booleans())
@settings(max_examples=20, deadline=None, derandomize=True)
def test_where_an_outline_begins_does_not_matter(shift, turned):
    shape = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.5), (0.0, 2.0))
    points = shape[shift % 5 :] + shape[: shift % 5]
    points = points[::-1] if turned else points
    assert not crosses_itself(points)
    assert abs(signed_area(points)) == pytest.approx(4.0 - 1.5)


def test_flat_and_enclosed():
    assert is_flat(((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)))
    inner = tuple((0.25 + 0.5 * x, 0.25 + 0.5 * z) for x, z in SQUARE)
    assert encloses(SQUARE, inner)
    assert not encloses(inner, SQUARE)
    assert not encloses(SQUARE, tuple((x + 0.5, z) for x, z in inner))
    assert not encloses(SQUARE, SQUARE)
