"""Primitives are recorded once, moved exactly, and never lettered backwards."""

from __future__ import annotations

from math import pi

import pytest

from foamwright.drawing.lettering import extent, has_letters, plain, text_width, wrapped
from foamwright.drawing.model import (
    PENS,
    SHEET_LAYERS,
    Anchor,
    Arc,
    Area,
    Circle,
    Drawing,
    Layer,
    Path,
    Placing,
    Text,
    line,
    placed,
    shifted,
)

ISO_128_WIDTHS = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}


def test_every_layer_has_a_pen_of_the_series():
    assert set(PENS) == set(Layer)
    assert {pen.width for pen in PENS.values()} <= ISO_128_WIDTHS


def test_sheet_layers_differ_by_pattern_or_weight_alone():
    """No two layers of a sheet look alike in one colour."""
    looks = {
        (PENS[layer].width, tuple(round(part / PENS[layer].width, 6) for part in PENS[layer].dash))
        for layer in (*SHEET_LAYERS, Layer.CHECK)
    }
    assert len(looks) == len(SHEET_LAYERS) + 1
    patterns = [PENS[layer].dash for layer in SHEET_LAYERS]
    assert len({tuple(pattern) for pattern in patterns if pattern}) == 5
    solid = {PENS[layer].width for layer in (*SHEET_LAYERS, Layer.CHECK) if not PENS[layer].dash}
    assert solid == {0.5, 0.35, 0.25, 0.18}


def test_quarter_turns_are_exact():
    turned = Placing(angle=0.5 * pi, dx=7.0).point((3.0, 2.0))
    assert turned == (5.0, 3.0)


@pytest.mark.parametrize(
    "item",
    [
        Path(layer=Layer.CUT, points=((1.0, 2.0), (4.0, 2.0), (4.0, 8.0)), closed=True),
        Area(layer=Layer.NOTE, rings=(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)),)),
        Circle(layer=Layer.CUT, centre=(3.0, 4.0), radius=2.0),
        Arc(layer=Layer.CUT, centre=(3.0, 4.0), radius=2.0, start=0.2, end=1.0),
        Text(layer=Layer.NOTE, at=(5.0, 6.0), text="part", height=2.5),
    ],
    ids=lambda item: type(item).__name__,
)
def test_mirrored_twice_is_unchanged(item):
    mirror = Placing(mirrored=True)
    twice = placed(placed([item], mirror), mirror)[0]
    assert extent([twice]) == pytest.approx(extent([item]))
    if isinstance(item, Arc):
        assert (twice.start, twice.end) == pytest.approx((item.start, item.end))


def test_mirrored_lettering_stays_readable():
    (text,) = placed(
        [Text(layer=Layer.NOTE, at=(5.0, 6.0), text="part", height=2.5)], Placing(mirrored=True)
    )
    assert isinstance(text, Text)
    assert text.text == "part"
    assert text.anchor is Anchor.END
    assert text.angle == 0.0
    assert text.at == (-5.0, 6.0)


def test_page_size_and_layers():
    items = (line(Layer.CUT, (0, 0), (1, 1)), line(Layer.FOLD, (0, 0), (1, 1)))
    page = Drawing(name="t", title="t", primitives=items, bounds=(10.0, 20.0, 110.0, 50.0))
    assert (page.width, page.height) == (100.0, 30.0)
    assert page.on(Layer.FOLD) == items[1:]


def test_moved_items_keep_their_size():
    items = (line(Layer.CUT, (0, 0), (3, 4)), Circle(layer=Layer.CUT, centre=(0, 0), radius=1))
    moved = extent(shifted(items, 10.0, -5.0))
    assert moved == pytest.approx((9.0, -6.0, 13.0, -1.0))


# ---------------------------------------------------------------- lettering


def test_the_font_holds_what_plans_say():
    signs = "ÀÉÎÕÜßæøåłčąñőșğžĐ Ωµαβφ Привет ° ² ³ ± × · – — − → ← ↑ ↓ ≥ ≤ ½ € “” ’ …"
    assert has_letters(signs)
    assert not has_letters("飛")


def test_width_scales_with_height():
    assert text_width("WING-SPAR", height=5.0) == pytest.approx(
        2.0 * text_width("WING-SPAR", height=2.5)
    )
    assert text_width("ii", height=2.5) < text_width("mm", height=2.5)


def test_wrapping_keeps_words_and_width():
    text = "Hot glue burns: keep cold water at hand. Try it on scrap; it can melt the core."
    rows = wrapped(text, width=50.0, height=2.5)
    assert " ".join(rows) == text
    assert len(rows) > 1
    assert all(text_width(row, height=2.5) <= 50.0 for row in rows)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("fold 12° down", "fold 12 deg down"),
        ("Größe 4 × 5 ± 1", "Grosse 4 x 5 +/- 1"),
        ("aile supérieure", "aile superieure"),
        ("крыло", "?????"),
    ],
)
def test_plain_text_is_ascii(text, expected):
    assert plain(text) == expected
    assert plain(text).isascii()
