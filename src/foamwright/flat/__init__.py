"""Flat parts: what is cut from sheet, unrolled true to size, with folds and marks."""

from foamwright.flat.model import FlatPart, FlatSet, FoldLine, MarkLine, NotDrawn
from foamwright.flat.parts import TWIST_LIMIT, flatten
from foamwright.flat.unfold import Unfolded, place_on, unfold

__all__ = [
    "TWIST_LIMIT",
    "FlatPart",
    "FlatSet",
    "FoldLine",
    "MarkLine",
    "NotDrawn",
    "Unfolded",
    "flatten",
    "place_on",
    "unfold",
]
