"""Drag parts of what is placed: motors, items, wheels, wires, pushrods."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foamwright.air.drag import shapes, sources
from foamwright.air.drag.bodies import NOTHING, spread
from foamwright.air.drag.covers import Block, Cover, block_cover, free_front, hidden
from foamwright.air.drag.law import DragPart, Law
from foamwright.air.drag.model import Cause
from foamwright.airframe.model import Airframe, Group, Piece
from foamwright.design.model import Gear, GearWire, Pushrod, Stock, Vec3, Wheel

Array = NDArray[np.float64]

#: Pieces that stand in the wind as blocks where nothing covers them.
_BLOCKS = ("motor.", "item.", "controller.", "pack.")
#: Less of a block than this share showing is a corner of its stand-in solid, not a part.
_SHOWING = 0.02
#: Points along each straight run of wire that are looked at for what hides them.
_LOOKS = 16


def block_parts(airframe: Airframe, *, covers: Sequence[Cover]) -> list[DragPart]:
    """Find what stands in the wind as a block: motors, servos, plates, cameras.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    covers : sequence of Cover
        Bodies and lifting surfaces.

    Returns
    -------
    list of DragPart
        Large ones first; a small one close behind or ahead of a larger is in its lee. [m²]
    """
    hands: dict[str, list[Piece]] = {}
    for piece in airframe.pieces:
        if piece.key.startswith(_BLOCKS):
            hands.setdefault(piece.key, []).append(piece)
    blocks = {key: [_solid(piece) for piece in pair] for key, pair in hands.items()}
    known = list(covers)
    parts: list[DragPart] = []
    for key in sorted(blocks, key=lambda key: (-_front(blocks[key][0]), key)):
        part = _block(hands[key][0], blocks[key], known)
        known += [block_cover(block) for block in blocks[key]]
        if part is not None:
            parts.append(part)
    return parts


def _solid(piece: Piece) -> Block:
    vertices = piece.mesh.vertices
    return Block(
        low=vertices.min(axis=0),
        high=vertices.max(axis=0),
        is_round=piece.key.startswith("motor."),
    )


def _front(block: Block) -> float:
    """Area of the front, without the last digits that a mirror image may change. [m²]"""
    size = block.high - block.low
    return round(float(size[1] * size[2]) * (0.25 * math.pi if block.is_round else 1.0), 9)


def _block(piece: Piece, hands: list[Block], covers: Sequence[Cover]) -> DragPart | None:
    block, count = hands[0], len(hands)
    free = free_front(block, covers)
    if free < _SHOWING:
        return None
    front = _front(block)
    fineness = float(block.high[0] - block.low[0]) / math.sqrt(4.0 / math.pi * front)
    middle = 0.5 * (block.low + block.high)
    return DragPart(
        key=piece.key,
        path=piece.path,
        title=piece.title.removeprefix("other, ") + (f" ({count})" if count > 1 else ""),
        group=piece.group,
        cause=Cause.BLOCK,
        source=sources.BLOCK,
        count=count,
        laws=(Law(fixed=float(shapes.block_drag(fineness)) * front * free),),
        points=spread(
            np.array([block.low[0], block.high[0]]),
            float(middle[1]),
            np.full(2, middle[2]),
            mirrored=count > 1,
        ),
    )


# ---------------------------------------------------------------- gear and rods


def gear_parts(gear: Gear, *, stock: Stock, covers: Sequence[Cover]) -> list[DragPart]:
    """Find the drag of a wheel, a wire leg or a skid.

    Parameters
    ----------
    gear : Wheel or GearWire
        As designed. [m]
    stock : Stock
        Goods, for rods. [m]
    covers : sequence of Cover
        Bodies and lifting surfaces.

    Returns
    -------
    list of DragPart
        None where all of it is hidden. [m²]
    """
    match gear:
        case Wheel():
            return [_wheel(gear)]
        case GearWire():
            return _rod(
                gear,
                key=f"gear.{gear.key}",
                title=f"{'skid' if gear.is_skid else 'gear wire'}, {gear.key}",
                group=Group.GEAR,
                points=gear.points,
                stock=stock,
                covers=covers,
            )


def pushrod_parts(pushrod: Pushrod, *, stock: Stock, covers: Sequence[Cover]) -> list[DragPart]:
    """Find the drag of the part of a pushrod that lies outside. [m²]"""
    return _rod(
        pushrod,
        key=f"pushrod.{pushrod.key}",
        title=f"pushrod, {pushrod.key}",
        group=Group.RADIO,
        points=(pushrod.start, pushrod.end),
        stock=stock,
        covers=covers,
    )


def _wheel(wheel: Wheel) -> DragPart:
    x, y, z = wheel.at
    r = 0.5 * wheel.diameter
    return DragPart(
        key=f"gear.{wheel.key}",
        path=f"gear.{wheel.key}",
        title=f"wheel, {wheel.key}" + (" (2)" if wheel.mirrored else ""),
        group=Group.GEAR,
        cause=Cause.WHEEL,
        source=sources.WHEEL,
        count=2 if wheel.mirrored else 1,
        laws=(Law(fixed=shapes.WHEEL * wheel.diameter * wheel.width),),
        points=spread(np.full(2, x), y, np.array([z - r, z + r]), mirrored=wheel.mirrored),
    )


def _rod(
    rod: GearWire | Pushrod,
    *,
    key: str,
    title: str,
    group: Group,
    points: tuple[Vec3, ...],
    stock: Stock,
    covers: Sequence[Cover],
) -> list[DragPart]:
    diameter = stock.rod(rod.rod).diameter
    laws: list[Law] = []
    for start, end in itertools.pairwise(np.array(points)):
        way = end - start
        long = float(np.sqrt(way @ way))
        if long == 0.0:
            continue
        looks = start + ((np.arange(_LOOKS) + 0.5) / _LOOKS)[:, None] * way
        free = 1.0 - float(hidden(looks, covers).mean())
        lean = math.hypot(float(way[1]), float(way[2])) / long
        if free > 0.0:
            laws.append(Law(rod=diameter * long * free, diameter=diameter, lean=lean))
    if sum(law.rod for law in laws) <= NOTHING:
        return []
    middle = np.array(points)
    return [
        DragPart(
            key=key,
            path=key,
            title=title + (" (2)" if rod.mirrored else ""),
            group=group,
            cause=Cause.WIRE,
            source=sources.WIRE,
            count=2 if rod.mirrored else 1,
            laws=tuple(laws),
            points=spread(
                middle[:, 0], float(middle[:, 1].mean()), middle[:, 2], mirrored=rod.mirrored
            ),
        )
    ]
