"""PDF from the drawing model, true size, with the same bytes every time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from math import degrees
from typing import Any, cast

from foamwright.drawing.lettering import CAPITAL, box_of, font_bytes, font_name, text_width
from foamwright.drawing.model import (
    Anchor,
    Arc,
    Area,
    Box,
    Circle,
    Drawing,
    Ink,
    Path,
    Pen,
    Point,
    Primitive,
    Text,
    pen_of,
)
from foamwright.errors import DomainError

PT_PER_MM = 72.0 / 25.4  # PDF unit: 1/72 inch, ISO 32000-1
MAX_SIDE = 14_400 / PT_PER_MM  # mm; usual reader limit (value from memory)

#: Red, green, blue of the inks. The accent is dark enough to read in a grey print.
INKS = {
    Ink.BLACK: (0.10, 0.10, 0.12),
    Ink.ACCENT: (0.72, 0.16, 0.10),
    Ink.WASH: (0.945, 0.93, 0.89),
    Ink.PAPER: (1.0, 1.0, 1.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A part of a drawing shown on a page: what is seen, and where its corner comes to lie."""

    drawing: Drawing
    seen: Box  # mm, on the drawing
    at: Point  # mm, on the page, of the lower left of what is seen


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page: a window on a larger drawing (if any) and what is printed round it."""

    width: float  # mm
    height: float  # mm
    primitives: tuple[Primitive, ...]  # on the page
    window: Window | None = None


def page_of(drawing: Drawing) -> Page:
    """Return a drawing as one page of its own size."""
    window = Window(drawing=drawing, seen=drawing.bounds, at=(0.0, 0.0))
    return Page(width=drawing.width, height=drawing.height, primitives=(), window=window)


def pdf_bytes(pages: Sequence[Page], *, title: str) -> bytes:
    """Return a PDF of so many pages, each of its own size.

    Parameters
    ----------
    pages : sequence of Page
        The pages. [mm]
    title : str
        Title in the file's own data.

    Returns
    -------
    bytes
        The file; equal pages give equal bytes.

    Notes
    -----
    ``/PrintScaling /None`` is set, but many print paths ignore it: hence the check bars.

    References
    ----------
    .. [1] ISO 32000-1:2008, table 150 (viewer preferences).
    """
    from reportlab.pdfgen.canvas import Canvas

    _fonts()
    buffer = BytesIO()
    canvas = cast("Any", Canvas(buffer, invariant=1, pageCompression=1))
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setSubject("true size, print at 100 %, scaling none")
    canvas.setCreator("Foamwright")
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        _page(canvas, page)
    canvas.save()
    return buffer.getvalue()


@cache
def _fonts() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    register = cast("Callable[[Any], None]", pdfmetrics.registerFont)
    for bold in (False, True):
        register(TTFont(font_name(bold=bold), BytesIO(font_bytes(bold=bold))))


def _page(canvas: Any, page: Page) -> None:
    if max(page.width, page.height) > MAX_SIDE:
        raise DomainError(
            f"a page of {page.width:.0f} x {page.height:.0f} mm is too large for a PDF; "
            f"the limit is {MAX_SIDE:.0f} mm a side. Print it in tiles instead."
        )
    canvas.setPageSize((page.width * PT_PER_MM, page.height * PT_PER_MM))
    if page.window is not None:
        _replay_window(canvas, page.window)
    _replay(canvas, page.primitives)
    canvas.showPage()


def _replay_window(canvas: Any, window: Window) -> None:
    left, bottom, right, top = window.seen
    canvas.saveState()
    canvas.translate((window.at[0] - left) * PT_PER_MM, (window.at[1] - bottom) * PT_PER_MM)
    clip = canvas.beginPath()
    clip.rect(
        left * PT_PER_MM, bottom * PT_PER_MM, (right - left) * PT_PER_MM, (top - bottom) * PT_PER_MM
    )
    canvas.clipPath(clip, stroke=0, fill=0)
    _replay(canvas, (item for item in window.drawing.primitives if _meets(item, window.seen)))
    canvas.restoreState()


_WIDEST = 2.0  # mm, more than half of any pen: what only a line's edge reaches is kept


def _meets(item: Primitive, seen: Box) -> bool:
    left, bottom, right, top = box_of(item)
    return (
        left <= seen[2] + _WIDEST
        and right >= seen[0] - _WIDEST
        and bottom <= seen[3] + _WIDEST
        and top >= seen[1] - _WIDEST
    )


def _replay(canvas: Any, items: Iterable[Primitive]) -> None:
    canvas.setLineJoin(1)
    for item in items:
        match item:
            case Path():
                _stroke(canvas, pen_of(item), _outline(canvas, (item.points,), item.closed))
            case Area():
                canvas.setFillColorRGB(*INKS[item.ink])
                path = _outline(canvas, item.rings, True)
                canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
            case Circle():
                path = canvas.beginPath()
                path.circle(*_pt(item.centre), item.radius * PT_PER_MM)
                _stroke(canvas, pen_of(item), path)
            case Arc():
                _stroke(canvas, pen_of(item), _arc(canvas, item))
            case Text():
                _text(canvas, item)


def _pt(point: Point) -> Point:
    return (point[0] * PT_PER_MM, point[1] * PT_PER_MM)


def _outline(canvas: Any, rings: Sequence[Sequence[Point]], closed: bool) -> Any:
    path = canvas.beginPath()
    for ring in rings:
        path.moveTo(*_pt(ring[0]))
        for point in ring[1:]:
            path.lineTo(*_pt(point))
        if closed:
            path.close()
    return path


def _arc(canvas: Any, item: Arc) -> Any:
    (x, y), r = _pt(item.centre), item.radius * PT_PER_MM
    path = canvas.beginPath()
    start = degrees(item.start)
    path.arc(x - r, y - r, x + r, y + r, start, degrees(item.end) - start)
    return path


def _stroke(canvas: Any, pen: Pen, path: Any) -> None:
    canvas.setStrokeColorRGB(*INKS[pen.ink])
    canvas.setLineWidth(pen.width * PT_PER_MM)
    canvas.setDash([length * PT_PER_MM for length in pen.dash])
    canvas.drawPath(path, stroke=1, fill=0)


def _text(canvas: Any, item: Text) -> None:
    width = text_width(item.text, height=item.height, bold=item.bold)
    shift = {Anchor.START: 0.0, Anchor.MIDDLE: -0.5 * width, Anchor.END: -width}[item.anchor]
    canvas.saveState()
    canvas.setFillColorRGB(*INKS[item.ink])
    canvas.setFont(font_name(bold=item.bold), item.height / CAPITAL * PT_PER_MM)
    canvas.translate(*_pt(item.at))
    if item.angle:
        canvas.rotate(degrees(item.angle))
    canvas.drawString(shift * PT_PER_MM, 0.0, item.text)
    canvas.restoreState()
