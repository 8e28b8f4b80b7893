"""The lettering: font files, widths of texts, wrapping, and the box a primitive fills.

The fonts are cuts of an open-licensed one (see ``fonts/README.md``): Latin, Greek,
Cyrillic, arrows and the signs a plan needs. They are embedded in every PDF and SVG.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from math import cos, sin
from typing import Any, cast

from foamwright.drawing.model import Anchor, Arc, Area, Box, Circle, Path, Point, Primitive, Text

CAPITAL = 0.66  # height of the capitals over the type size, of both fonts
DESCENT = 0.32  # below the base line, over the height of the capitals
FAMILY = "Foamwright Plan"
_NO_WIDTH = "\u200b"  # marks a place where a code may be broken

#: What stands for signs that plain ASCII lacks, in files whose readers garble others.
_ASCII = {
    "°": " deg",
    "²": "2",
    "³": "3",
    "±": "+/-",
    "×": "x",
    "·": "-",
    "–": "-",
    "—": "-",
    "−": "-",
    "→": "->",
    "←": "<-",
    "↑": "^",
    "↓": "v",
    "≥": ">=",
    "≤": "<=",
    "’": "'",
    "“": '"',
    "”": '"',
    "…": "...",
    "ß": "ss",
    "æ": "ae",
    "ø": "o",
    "ł": "l",
    "đ": "d",
    "⌀": "dia ",
    "Ø": "O",
    "Ł": "L",
    "Æ": "AE",
    "½": "1/2",
    "α": "alpha",
}


def font_name(*, bold: bool) -> str:
    """Return the name of a font as the PDF knows it."""
    return "FoamwrightPlan-Bold" if bold else "FoamwrightPlan-Regular"


def font_bytes(*, bold: bool) -> bytes:
    """Return a font file."""
    name = "plan-bold.ttf" if bold else "plan-regular.ttf"
    return files("foamwright.drawing").joinpath("fonts", name).read_bytes()


@cache
def _face(bold: bool) -> tuple[dict[int, float], float]:
    # reportlab reads the widths that its own PDF writer will use
    from io import BytesIO

    from reportlab.pdfbase.ttfonts import TTFontFace

    face = cast("Any", TTFontFace(BytesIO(font_bytes(bold=bold))))
    return dict(face.charWidths), float(face.defaultWidth)


def has_letters(text: str) -> bool:
    """Return whether the font holds every sign of a text."""
    widths, _ = _face(False)
    return all(ord(sign) in widths for sign in text)


def text_width(text: str, *, height: float, bold: bool = False) -> float:
    """Return the width of a line of lettering.

    Parameters
    ----------
    text : str
        The line.
    height : float
        Height of the capitals. [mm]
    bold : bool
        Whether it is bold.

    Returns
    -------
    float
        Its width. [mm]
    """
    widths, missing = _face(bold)
    units = sum(widths.get(ord(sign), missing) for sign in text if sign != _NO_WIDTH)
    return units / 1000.0 * height / CAPITAL


def wrapped(text: str, *, width: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """Break a text at its spaces into lines no wider than `width` [mm]."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height=height, bold=bold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def wrapped_code(text: str, *, width: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """Break a code at its hyphens, which stay, into lines no wider than `width` [mm]."""
    rows = wrapped(text.replace("-", "-\u200b "), width=width, height=height, bold=bold)
    return tuple(row.replace("-\u200b ", "-").replace("\u200b", "") for row in rows)


def plain(text: str) -> str:
    """Return a text in ASCII: accents dropped, signs spelt out, the rest as question marks."""
    spelt = "".join(_ASCII.get(sign, sign) for sign in text)
    bare = unicodedata.normalize("NFKD", spelt)
    kept = "".join(sign for sign in bare if not unicodedata.combining(sign))
    return kept.encode("ascii", "replace").decode("ascii")


def slug(text: str) -> str:
    """Return a text as an ASCII name for files and numbers, such as "dunlin-long-tips"."""
    return re.sub(r"[^a-z0-9]+", "-", plain(text).lower()).strip("-")


def text_corners(item: Text) -> tuple[Point, Point, Point, Point]:
    """Return the corners of the rectangle that a text fills. [mm]"""
    width = text_width(item.text, height=item.height, bold=item.bold)
    left = {Anchor.START: 0.0, Anchor.MIDDLE: -0.5 * width, Anchor.END: -width}[item.anchor]
    low = -DESCENT * item.height
    c, s = cos(item.angle), sin(item.angle)
    x, y = item.at

    def there(u: float, v: float) -> Point:
        return (x + c * u - s * v, y + s * u + c * v)

    return (
        there(left, low),
        there(left + width, low),
        there(left + width, item.height),
        there(left, item.height),
    )


def box_of(item: Primitive) -> Box:
    """Return the upright box that a primitive fills (an arc counts as its circle). [mm]"""
    match item:
        case Path():
            return _hull(item.points)
        case Area():
            return _hull(point for ring in item.rings for point in ring)
        case Circle() | Arc():
            (x, y), r = item.centre, item.radius
            return (x - r, y - r, x + r, y + r)
        case Text():
            return _hull(text_corners(item))


def extent(items: Iterable[Primitive]) -> Box:
    """Return the upright box that primitives fill together. [mm]"""
    boxes = [box_of(item) for item in items]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _hull(points: Iterable[Point]) -> Box:
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))
