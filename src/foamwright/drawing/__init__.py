"""Drawings: one model in millimetres, written as PDF, SVG and DXF, true size and tiled."""

from foamwright.drawing.dxf import dxf_text
from foamwright.drawing.files import (
    missing_letters,
    plan_contents,
    plan_words,
    write_files,
    write_plan,
)
from foamwright.drawing.glb import write_glb
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
    Placing,
    Point,
    Primitive,
    Text,
    placed,
    shifted,
)
from foamwright.drawing.pages import tiled_pages
from foamwright.drawing.paper import PAPERS, Frame, Paper, paper_named
from foamwright.drawing.pdf import Page, page_of, pdf_bytes
from foamwright.drawing.plan import PlanPages, plan_drawing, plan_pages
from foamwright.drawing.sections import PlanWords
from foamwright.drawing.svg import svg_text
from foamwright.drawing.threeview import three_view
from foamwright.drawing.tiling import Tile, Tiling, grid_tiling, tiles_needed
from foamwright.drawing.views import Sight, View, sight

__all__ = [
    "PAPERS",
    "PENS",
    "SHEET_LAYERS",
    "Anchor",
    "Arc",
    "Area",
    "Box",
    "Circle",
    "Drawing",
    "Frame",
    "Ink",
    "Layer",
    "Page",
    "Paper",
    "Path",
    "Pen",
    "Placing",
    "PlanPages",
    "PlanWords",
    "Point",
    "Primitive",
    "Sight",
    "Text",
    "Tile",
    "Tiling",
    "View",
    "dxf_text",
    "grid_tiling",
    "missing_letters",
    "page_of",
    "paper_named",
    "pdf_bytes",
    "placed",
    "plan_contents",
    "plan_drawing",
    "plan_pages",
    "plan_words",
    "shifted",
    "sight",
    "svg_text",
    "three_view",
    "tiled_pages",
    "tiles_needed",
    "write_files",
    "write_glb",
    "write_plan",
]
