"""What stands in the lee of what: the share of a thing that the wind sees."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body.shape import BodyLine, PanelCover

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


class Inside(Protocol):
    """A solid that can say whether points lie inside it."""

    def inside(self, points: Array) -> Mask:
        """Whether points (..., 3) lie inside. [m]"""
        ...


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """A box, or a round body along x, by its limits."""

    low: Array  # (3,) m
    high: Array  # (3,) m
    is_round: bool = False

    def inside(self, points: Array) -> Mask:
        """Whether points (..., 3) lie inside. [m]"""
        off = np.abs(2.0 * points - (self.low + self.high)) / (self.high - self.low)
        if not self.is_round:
            return np.all(off <= 1.0, axis=-1)
        return (off[..., 0] <= 1.0) & (off[..., 1] ** 2 + off[..., 2] ** 2 <= 1.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cover:
    """A solid with its limits, which tell in a moment that it hides nothing."""

    solid: Inside
    low: tuple[float, float, float]  # m
    high: tuple[float, float, float]  # m


def body_cover(line: BodyLine) -> Cover:
    """Wrap a body as a cover. [m]"""
    a, b = float(line.half_width.max()), line.half_height
    return Cover(
        solid=line,
        low=(float(line.x[0]), line.y - a, float((line.z - b).min())),
        high=(float(line.x[-1]), line.y + a, float((line.z + b).max())),
    )


def panel_cover(panel: PanelCover) -> Cover:
    """Wrap a panel of a lifting surface, both hands, as a cover. [m]"""
    corners = np.concatenate([panel.leading, panel.leading + panel.chord[:, None] * panel.aft])
    rise = float(np.abs(panel.mean_line[:, 1]).max()) * float(panel.chord.max())
    reach = rise + panel.half_depth
    low, high = corners.min(axis=0) - reach, corners.max(axis=0) + reach
    if panel.mirrored:
        low[1], high[1] = min(low[1], -high[1]), max(high[1], -low[1])
    return Cover(solid=panel, low=_triple(low), high=_triple(high))


def block_cover(block: Block) -> Cover:
    """Wrap a block as a cover. [m]"""
    return Cover(solid=block, low=_triple(block.low), high=_triple(block.high))


def _triple(point: Array) -> tuple[float, float, float]:
    x, y, z = point.tolist()
    return x, y, z


def near(covers: Iterable[Cover], low: Array, high: Array) -> list[Cover]:
    """Return the covers whose limits meet those of a place. [m]"""
    a, b = low.tolist(), high.tolist()
    return [
        c
        for c in covers
        if c.low[0] <= b[0]
        and c.high[0] >= a[0]
        and c.low[1] <= b[1]
        and c.high[1] >= a[1]
        and c.low[2] <= b[2]
        and c.high[2] >= a[2]
    ]


def hidden(points: Array, covers: Sequence[Cover]) -> Mask:
    """Whether points (..., 3) lie inside any of the solids. [m]"""
    mask = np.zeros(points.shape[:-1], dtype=bool)
    flat = points.reshape(-1, 3)
    for cover in near(covers, flat.min(axis=0), flat.max(axis=0)):
        mask |= cover.solid.inside(points)
    return mask


def free_front(block: Block, covers: Sequence[Cover]) -> float:
    """Share of a block's front that no solid hides, beside it or close ahead or behind.

    Parameters
    ----------
    block : Block
        The block. [m]
    covers : sequence of Cover
        Solids.

    Returns
    -------
    float
        1 where it stands free. [-]

    Notes
    -----
    Close is half its largest width. The front is sampled at 9 by 9 places, bodies at five
    places along x; of another block any overlap along x counts.
    """
    middle, half = 0.5 * (block.low + block.high), 0.5 * (block.high - block.low)
    reach = np.array([max(half[1], half[2]), 0.0, 0.0])
    low, high = block.low - reach, block.high + reach
    close = near(covers, low, high)
    if not close:
        return 1.0
    front = middle + half * _round_front() if block.is_round else middle + half * _front()
    along: Array = np.linspace(float(low[0]), float(high[0]), _ALONG)
    swept = np.repeat(front[:, None, :], _ALONG, axis=1)
    swept[..., 0] = along
    mask = np.zeros(len(front), dtype=bool)
    for cover in close:
        if isinstance(cover.solid, Block):
            front[:, 0] = 0.5 * (cover.low[0] + cover.high[0])
            mask |= cover.solid.inside(front)
        else:
            mask |= cover.solid.inside(swept).any(axis=1)
    return 1.0 - float(mask.mean())


_FRONT, _ALONG = 9, 5


@lru_cache(maxsize=1)
def _front() -> Array:
    """Places of the front, from -1 to 1, x left at 0; not to be written on."""
    grid = (np.arange(_FRONT) + 0.5) / _FRONT * 2.0 - 1.0
    y, z = np.meshgrid(grid, grid)
    return np.stack([np.zeros(_FRONT * _FRONT), y.ravel(), z.ravel()], axis=1)


@lru_cache(maxsize=1)
def _round_front() -> Array:
    places = _front()
    return places[(places * places).sum(axis=1) <= 1.0]
