"""SVG from the drawing model, true size: one user unit is one millimetre."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from io import BytesIO
from math import cos, degrees, sin
from typing import Any, cast
from xml.sax.saxutils import escape, quoteattr

from foamwright.drawing.lettering import CAPITAL, FAMILY, font_bytes, text_width
from foamwright.drawing.model import (
    PENS,
    Arc,
    Area,
    Circle,
    Drawing,
    Ink,
    Layer,
    Path,
    Pen,
    Point,
    Primitive,
    Text,
)
from foamwright.drawing.pdf import INKS


def svg_text(drawing: Drawing, *, paper: str | None = None, embed_font: bool = True) -> str:
    """Return an SVG whose width and height are in mm and whose viewBox is in mm.

    Parameters
    ----------
    drawing : Drawing
        What to draw. [mm]
    paper : str, optional
        Colour of the page, such as "#fdfbf6"; None leaves it clear.
    embed_font : bool
        Whether the letters used are carried along, so that it looks the same everywhere.

    Notes
    -----
    Every layer is a group with its name; the group carries the layer's pen.

    References
    ----------
    .. [1] SVG 1.1, sections 7.2 and 7.10; CSS: 1 in is 96 px.
    """
    width, height = _n(drawing.width), _n(drawing.height)
    lines = [
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1"',
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">',
        f"<title>{escape(drawing.title)}</title>",
        f"<style>{_style(drawing, embed_font=embed_font)}</style>",
    ]
    if paper:
        lines.append(f'<rect width="{width}" height="{height}" fill={quoteattr(paper)}/>')
    lines += _groups(drawing, paper or _colour(Ink.PAPER))
    return "\n".join([*lines, "</svg>", ""])


def _groups(drawing: Drawing, paper: str) -> Iterable[str]:
    # runs of one layer share a group, so that the order of drawing is kept
    run: Layer | None = None
    for item in drawing.primitives:
        if item.layer is not run:
            if run is not None:
                yield "</g>"
            run = item.layer
            yield f'<g class="{run.value}" {_pen(PENS[run])}>'
        yield _element(item, drawing, paper)
    if run is not None:
        yield "</g>"


def _style(drawing: Drawing, *, embed_font: bool) -> str:
    rules = [
        "path,circle{stroke-linejoin:round}",
        f"text{{font-family:'{FAMILY}',sans-serif;stroke:none;fill:{_colour(Ink.BLACK)}}}",
        ".b{font-weight:600}",
    ]
    if embed_font:
        for bold in (False, True):
            used = "".join(
                item.text
                for item in drawing.primitives
                if isinstance(item, Text) and item.bold is bold
            )
            if used:
                rules.insert(0, _font_face(used, bold=bold))
    return "\n".join(rules)


def _font_face(used: str, *, bold: bool) -> str:
    data = b64encode(_font_subset(used, bold=bold)).decode("ascii")
    weight = 600 if bold else 400
    return (
        f"@font-face{{font-family:'{FAMILY}';font-weight:{weight};"
        f"src:url(data:font/ttf;base64,{data}) format('truetype')}}"
    )


def _font_subset(used: str, *, bold: bool) -> bytes:
    from fontTools import subset
    from fontTools.ttLib import TTFont

    font = cast("Any", TTFont(BytesIO(font_bytes(bold=bold)), recalcTimestamp=False))
    options = cast("Any", subset.Options())
    options.layout_features = ["kern"]
    options.hinting = False
    maker = cast("Any", subset.Subsetter(options))
    maker.populate(unicodes=sorted({ord(sign) for sign in used}))
    maker.subset(font)
    buffer = BytesIO()
    font.save(buffer)
    return buffer.getvalue()


def _element(item: Primitive, drawing: Drawing, paper: str) -> str:
    left, _, _, top = drawing.bounds

    def place(point: Point) -> str:
        return f"{_n(point[0] - left)} {_n(top - point[1])}"

    match item:
        case Path():
            data = "M" + " L".join(place(p) for p in item.points) + (" Z" if item.closed else "")
            return f'<path d="{data}"{_own(item.pen)}/>'
        case Area():
            data = " ".join("M" + " L".join(place(p) for p in ring) + " Z" for ring in item.rings)
            fill = paper if item.ink is Ink.PAPER else _colour(item.ink)
            return f'<path d="{data}" stroke="none" fill="{fill}" fill-rule="evenodd"/>'
        case Circle():
            x, y = place(item.centre).split()
            return f'<circle cx="{x}" cy="{y}" r="{_n(item.radius)}"{_own(item.pen)}/>'
        case Arc():
            r = _n(item.radius)
            large = int(item.end - item.start > 3.141592653589793)
            start, end = (place(_on(item, angle)) for angle in (item.start, item.end))
            return f'<path d="M{start} A{r} {r} 0 {large} 0 {end}"{_own(item.pen)}/>'
        case Text():
            return _text(item, place(item.at))


def _on(item: Arc, angle: float) -> Point:
    x, y = item.centre
    return (x + item.radius * cos(angle), y + item.radius * sin(angle))


def _text(item: Text, place: str) -> str:
    x, y = place.split()
    width = text_width(item.text, height=item.height, bold=item.bold)
    looks = ' class="b"' if item.bold else ""
    if item.ink is not Ink.BLACK:
        looks += f' style="fill:{_colour(item.ink)}"'
    if item.angle:
        looks += f' transform="rotate({_n(-degrees(item.angle))} {x} {y})"'
    # textLength holds the width even where another font stands in
    return (
        f'<text x="{x}" y="{y}" font-size="{_n(item.height / CAPITAL)}" '
        f'text-anchor="{item.anchor.value}" textLength="{_n(width)}" '
        f'lengthAdjust="spacingAndGlyphs"{looks}>{escape(item.text)}</text>'
    )


def _own(pen: Pen | None) -> str:
    return "" if pen is None else " " + _pen(pen)


def _pen(pen: Pen) -> str:
    dash = ",".join(_n(length) for length in pen.dash) or "none"
    return (
        f'fill="none" stroke="{_colour(pen.ink)}" stroke-width="{_n(pen.width)}" '
        f'stroke-dasharray="{dash}"'
    )


def _colour(ink: Ink) -> str:
    return "#" + "".join(f"{round(255 * part):02x}" for part in INKS[ink])


def _n(value: float) -> str:
    # four digits: a ten-thousandth of a millimetre
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
