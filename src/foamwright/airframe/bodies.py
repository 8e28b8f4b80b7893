"""Bodies: boxes, slabs and pylons, pods, booms."""

from __future__ import annotations

import math

import numpy as np

from foamwright.airframe.boxes import box_build, box_shape
from foamwright.airframe.boxparts import box_pieces
from foamwright.airframe.hands import drawn_hand, mirror_body, piece_hands
from foamwright.airframe.meshes import frozen, mesh_area, mesh_volume
from foamwright.airframe.model import Basis, BodyShape, Group, Mesh, Piece, PlateSheet
from foamwright.airframe.placed import rod_piece
from foamwright.airframe.solids import ellipsoid_mesh, plate_area, plate_mesh, rod_mesh
from foamwright.design.model import Body, BoomBody, BoxBody, PodBody, Point, SlabBody, Stock
from foamwright.errors import DomainError


def body_shapes(body: Body, *, stock: Stock) -> tuple[BodyShape, ...]:
    """Outside of a body, both hands.

    Parameters
    ----------
    body : Body
        As designed. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    tuple of BodyShape
        Closed envelopes. Openings of boxes and slabs are closed over in them. The wetted
        area counts every outer face of the envelope, of a box only those ends that are
        closed. [m, m², m³]
    """
    match body:
        case BoxBody():
            shape = box_shape(box_build(body, stock=stock))
        case SlabBody():
            shape = _slab_shape(body, stock)
        case PodBody():
            shape = _pod_shape(body)
        case BoomBody():
            shape = _boom_shape(body, stock)
    return (shape, mirror_body(shape)) if body.mirrored else (shape,)


def body_pieces(body: Body, *, stock: Stock) -> tuple[Piece, ...]:
    """Every part of a body, both hands.

    Parameters
    ----------
    body : Body
        As designed. [m]
    stock : Stock
        Goods. [m]

    Returns
    -------
    tuple of Piece
        What is cut, carved or bought for it. [m², m, m³]
    """
    match body:
        case BoxBody():
            return box_pieces(box_build(body, stock=stock), stock=stock)
        case SlabBody():
            return _slab_pieces(body, stock)
        case PodBody():
            return piece_hands(_pod_piece(body), mirrored=body.mirrored)
        case BoomBody():
            piece = rod_piece(
                body.key,
                path=f"body.{body.key}",
                title=f"{body.key}, boom",
                group=Group.BODY,
                rod=body.rod,
                stock=stock,
                points=(body.start, body.end),
                mirrored=body.mirrored,
            )
            return piece_hands(piece, mirrored=body.mirrored)


def _shape(
    body: SlabBody | PodBody | BoomBody, *, kind: str, y: float, outside: Mesh, wetted: float
) -> BodyShape:
    size = outside.vertices.max(axis=0) - outside.vertices.min(axis=0)
    return BodyShape(
        key=body.key,
        path=f"body.{body.key}",
        kind=kind,
        hand=drawn_hand(y, mirrored=body.mirrored),
        outside=outside,
        length=float(size[0]),
        width=float(size[1]),
        height=float(size[2]),
        wetted_area=wetted,
        volume=mesh_volume(outside),
    )


# ---------------------------------------------------------------- slabs and pylons


def _slab_shape(body: SlabBody, stock: Stock) -> BodyShape:
    half = 0.5 * body.layers * stock.sheet(body.sheet).thickness.value
    outside = plate_mesh(body.outline, (), low=body.y - half, high=body.y + half)
    kind = "pylon" if body.is_pylon else "slab"
    return _shape(body, kind=kind, y=body.y, outside=outside, wetted=mesh_area(outside))


def _slab_pieces(body: SlabBody, stock: Stock) -> tuple[Piece, ...]:
    """Layers side by side, counted from the left of the body as drawn."""
    sheet = stock.sheet(body.sheet)
    t = sheet.thickness.value
    area = plate_area(body.outline, body.openings)
    if body.layers < 1 or area <= 0.0:
        raise DomainError(
            f"body.{body.key}: needs at least one layer and an outline larger than its openings"
        )
    pieces: list[Piece] = []
    for layer in range(body.layers):
        y = body.y + (layer - 0.5 * (body.layers - 1)) * t
        piece = Piece(
            key=f"{body.key}.layer-{layer + 1}",
            path=f"body.{body.key}",
            title=f"{body.key}, layer {layer + 1}",
            group=Group.BODY,
            hand=drawn_hand(body.y, mirrored=body.mirrored),
            stock=sheet.key,
            basis=Basis.AREA,
            amount=area,
            given=None,
            sheet=PlateSheet(
                outline=frozen(_upright(body.outline, y)),
                thickness=t,
                holes=tuple(frozen(_upright(hole, y)) for hole in body.openings),
            ),
            mesh=plate_mesh(body.outline, body.openings, low=y - 0.5 * t, high=y + 0.5 * t),
        )
        pieces += piece_hands(piece, mirrored=body.mirrored)
    return tuple(pieces)


def _upright(corners: tuple[Point, ...], y: float) -> np.ndarray:
    points = np.full((len(corners), 3), y)
    points[:, 0::2] = corners
    return points


# ---------------------------------------------------------------- pods and booms


def _pod_mesh(body: PodBody) -> Mesh:
    return ellipsoid_mesh(body.at, (body.length, body.width, body.height))


def _pod_shape(body: PodBody) -> BodyShape:
    outside = _pod_mesh(body)
    return _shape(body, kind="pod", y=body.at[1], outside=outside, wetted=mesh_area(outside))


def _pod_piece(body: PodBody) -> Piece:
    """Return a pod: of block foam it counts its volume, with a given mass nothing."""
    if body.block is None and body.mass is None:
        raise DomainError(f"body.{body.key}: a pod needs a block stock or a mass")
    volume = math.pi / 6.0 * body.length * body.width * body.height
    return Piece(
        key=body.key,
        path=f"body.{body.key}",
        title=f"{body.key}, pod",
        group=Group.BODY,
        hand=drawn_hand(body.at[1], mirrored=body.mirrored),
        stock=body.block,
        basis=Basis.GIVEN if body.block is None else Basis.VOLUME,
        amount=0.0 if body.block is None else volume,
        given=body.mass if body.block is None else None,
        sheet=None,
        mesh=_pod_mesh(body),
    )


def _boom_shape(body: BoomBody, stock: Stock) -> BodyShape:
    points = np.array([body.start, body.end])
    diameter = stock.rod(body.rod).diameter
    outside = rod_mesh(points, diameter=diameter)
    length = math.dist(body.start, body.end)
    wetted = math.pi * diameter * (length + 0.5 * diameter)
    y = 0.5 * (body.start[1] + body.end[1])
    return _shape(body, kind="boom", y=y, outside=outside, wetted=wetted)
