"""Rectangles on a page: the first, simple laying out of parts by their boxes.

Free space is kept as the largest free rectangles (they overlap); a new rectangle takes the
leftmost, then lowest place that holds it. True nesting of outlines is another room's work.

References
----------
.. [1] J. Jylänki, A thousand ways to pack the bin, 2010: maximal rectangles, bottom-left rule
   (value of the idea from memory; the code is our own).
"""

from __future__ import annotations

from collections.abc import Iterable

from foamwright.drawing.model import Box

_TOUCH = 1e-6  # mm: boxes that touch do not overlap


class FreeSpace:
    """What is still free on one page: largest free rectangles."""

    def __init__(self, room: Box) -> None:
        self._free: list[Box] = [room]

    def places(self, width: float, height: float) -> Iterable[Box]:
        """Return the lower left place in every free rectangle that holds this size. [mm]"""
        for left, bottom, right, top in self._free:
            if right - left >= width - _TOUCH and top - bottom >= height - _TOUCH:
                yield (left, bottom, left + width, bottom + height)

    def places_within(self, window: Box, width: float, height: float) -> Iterable[Box]:
        """Return places that lie wholly in a window, one in every free rectangle. [mm]"""
        for free in self._free:
            left, bottom = max(free[0], window[0]), max(free[1], window[1])
            right, top = min(free[2], window[2]), min(free[3], window[3])
            if right - left >= width - _TOUCH and top - bottom >= height - _TOUCH:
                yield (left, bottom, left + width, bottom + height)

    def leftmost(self, width: float, height: float) -> Box | None:
        """Return the leftmost, then lowest place for this size, or None. [mm]"""
        return min(self.places(width, height), key=lambda box: (box[2], box[1]), default=None)

    def take(self, box: Box) -> None:
        """Take a box out of the free space. [mm]"""
        pieces = [piece for free in self._free for piece in _less(free, box)]
        # sets would lose the order that makes the layout repeatable
        unique = list(dict.fromkeys(pieces))
        self._free = [
            piece
            for piece in unique
            if not any(other is not piece and _within(piece, other) for other in unique)
        ]


def _less(free: Box, box: Box) -> Iterable[Box]:
    left, bottom, right, top = free
    if (
        box[0] >= right - _TOUCH
        or box[2] <= left + _TOUCH
        or box[1] >= top - _TOUCH
        or box[3] <= bottom + _TOUCH
    ):
        yield free
        return
    if box[0] > left + _TOUCH:
        yield (left, bottom, box[0], top)
    if box[2] < right - _TOUCH:
        yield (box[2], bottom, right, top)
    if box[1] > bottom + _TOUCH:
        yield (left, bottom, right, box[1])
    if box[3] < top - _TOUCH:
        yield (left, box[3], right, top)


def _within(inner: Box, outer: Box) -> bool:
    return (
        inner[0] >= outer[0]
        and inner[1] >= outer[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )
