"""DXF from the drawing model: R2010, millimetres, one layer a meaning, equal bytes each time."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from contextlib import contextmanager
from importlib import import_module
from io import StringIO
from math import degrees
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, cast

from foamwright.drawing.lettering import plain
from foamwright.drawing.model import (
    PENS,
    SHEET_LAYERS,
    Anchor,
    Arc,
    Area,
    Box,
    Circle,
    Drawing,
    Ink,
    Layer,
    Path,
    Pen,
    Text,
    corners,
    pen_of,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

MILLIMETRES = 4  # $INSUNITS
CHECK_SIDE = 100.0  # mm, of the square on layer CHECK
_PATTERN_ALONG = 128  # polyline flag: the pattern runs on through the corners
_CLEAR = 20.0  # mm between the page and the check square

#: Colour numbers: told apart on a dark screen too; the meaning is in layer, pattern, weight.
_COLOURS: Mapping[Layer, int] = MappingProxyType(
    {
        Layer.CUT: 7,
        Layer.HALF_CUT: 4,
        Layer.FOLD: 5,
        Layer.BEVEL: 30,
        Layer.GLUE: 3,
        Layer.TAPE: 6,
        Layer.MARK: 1,
        Layer.NOTE: 8,
        Layer.CHECK: 2,
        Layer.OUTLINE: 7,
        Layer.EDGE: 7,
        Layer.HIDDEN: 8,
        Layer.CENTRE: 8,
        Layer.SHADE: 9,
    }
)


def dxf_text(drawing: Drawing) -> str:
    """Return a DXF of a drawing, to be written as ASCII.

    Parameters
    ----------
    drawing : Drawing
        What to draw; its lower left comes to lie at the origin. [mm]

    Notes
    -----
    Texts are ASCII, since some readers garble others. A square of 100 mm a side lies on
    layer CHECK, left of the page, as a guard against a wrong scale. Fills other than black
    or accent are left out.

    References
    ----------
    .. [1] DXF reference, header variables $INSUNITS (4: millimetres), $MEASUREMENT.
    """
    from ezdxf.filemanagement import new

    with _fixed_metadata():
        document = new("R2010", units=MILLIMETRES)
        document.header["$MEASUREMENT"] = 1
        document.header["$LTSCALE"] = 1.0
        document.styles.add("PLAN", font="txt")
        _layers(document, drawing)
        space = document.modelspace()
        for item in drawing.primitives:
            _add(space, document, item, drawing.bounds)
        _check_square(space)
        _sorted_classes(document)
        buffer = StringIO()
        document.write(buffer)
    return buffer.getvalue()


@contextmanager
def _fixed_metadata() -> Generator[None]:
    # dates and identity numbers would differ in every file
    options = cast("Any", import_module("ezdxf")).options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _sorted_classes(document: Document) -> None:
    # the library registers classes in the order of a set, which varies by hash seed
    section = document.classes
    section.add_required_classes(document.dxfversion)
    known = sorted(section.classes.items())
    section.classes.clear()
    section.classes.update(known)


def layer_name(layer: Layer) -> str:
    """Return the name of a layer in DXF."""
    return layer.value.upper()


def _layers(document: Document, drawing: Drawing) -> None:
    used = {item.layer for item in drawing.primitives}
    for layer in Layer:
        if layer in used or layer in SHEET_LAYERS or layer is Layer.CHECK:
            pen = PENS[layer]
            document.layers.add(
                layer_name(layer),
                color=_COLOURS[layer],
                linetype=_linetype(document, pen),
                lineweight=round(100 * pen.width),
            )


def _linetype(document: Document, pen: Pen) -> str:
    if not pen.dash:
        return "CONTINUOUS"
    name = "PEN-" + "-".join(f"{length:g}" for length in pen.dash).replace(".", "_")
    if name not in document.linetypes:
        signed = [length if i % 2 == 0 else -length for i, length in enumerate(pen.dash)]
        document.linetypes.add(name, [sum(pen.dash), *signed])
    return name


def _add(
    space: Modelspace, document: Document, item: Path | Area | Circle | Arc | Text, bounds: Box
) -> None:
    left, bottom = bounds[0], bounds[1]
    attributes = _attributes(document, item)
    match item:
        case Path():
            points = [(x - left, y - bottom) for x, y in item.points]
            polyline = space.add_lwpolyline(points, close=item.closed, dxfattribs=attributes)
            polyline.dxf.flags |= _PATTERN_ALONG
        case Area():
            if item.ink in (Ink.BLACK, Ink.ACCENT):
                hatch = space.add_hatch(color=256, dxfattribs=attributes)
                for ring in item.rings:
                    hatch.paths.add_polyline_path([(x - left, y - bottom) for x, y in ring])
        case Circle():
            centre = (item.centre[0] - left, item.centre[1] - bottom)
            space.add_circle(centre, item.radius, dxfattribs=attributes)
        case Arc():
            centre = (item.centre[0] - left, item.centre[1] - bottom)
            ends = degrees(item.start), degrees(item.end)
            space.add_arc(centre, item.radius, *ends, dxfattribs=attributes)
        case Text():
            _add_text(space, item, (item.at[0] - left, item.at[1] - bottom), attributes)


def _attributes(document: Document, item: Path | Area | Circle | Arc | Text) -> dict[str, Any]:
    attributes: dict[str, Any] = {"layer": layer_name(item.layer)}
    if isinstance(item, Path | Circle | Arc) and item.pen is not None:
        pen = pen_of(item)
        attributes["linetype"] = _linetype(document, pen)
        attributes["lineweight"] = round(100 * pen.width)
    return attributes


def _add_text(
    space: Modelspace, item: Text, at: tuple[float, float], attributes: dict[str, Any]
) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        Anchor.START: TextEntityAlignment.LEFT,
        Anchor.MIDDLE: TextEntityAlignment.CENTER,
        Anchor.END: TextEntityAlignment.RIGHT,
    }[item.anchor]
    text = space.add_text(
        plain(item.text),
        height=item.height,
        rotation=degrees(item.angle),
        dxfattribs={**attributes, "style": "PLAN"},
    )
    text.set_placement(at, align=align)


def _check_square(space: Modelspace) -> None:
    left = -(CHECK_SIDE + _CLEAR)
    attributes = {"layer": layer_name(Layer.CHECK)}
    box = (left, 0.0, left + CHECK_SIDE, CHECK_SIDE)
    space.add_lwpolyline(corners(box), close=True, dxfattribs=attributes)
    text = space.add_text("100 x 100 mm", height=5.0, dxfattribs={**attributes, "style": "PLAN"})
    text.set_placement((left + 5.0, 5.0))
