"""Things that are bought and placed: power, items, pushrods, gear.

Their solids stand for pictures, for the balance and for the first ground contact: boxes,
round bodies and rods of the sizes in the design file. Where the file gives no size, an edge
of one millimetre stands for it.
"""

from __future__ import annotations

import math

import numpy as np

from foamwright.airframe.hands import drawn_hand, piece_hands
from foamwright.airframe.meshes import frozen, grid_mesh, join_meshes
from foamwright.airframe.model import Array, Basis, Disc, Group, Mesh, Piece
from foamwright.airframe.solids import box_mesh, cylinder_mesh, rod_mesh
from foamwright.design.model import (
    Design,
    Gear,
    GearWire,
    Item,
    Motor,
    Mounting,
    Power,
    Propeller,
    Pushrod,
    Stock,
    Vec3,
    Wheel,
)
from foamwright.errors import DomainError
from foamwright.figures import Figure

# Nothing placed is thinner than this in its solid, so that it has a volume. [m]
_THINNEST = 1e-3
# Shape of a blade for pictures where the file gives no width; common practice, no source.
_BLADE_WIDTH = 0.10  # of the diameter
_BLADE_THICKNESS = 0.15  # of its width
_HUB = 0.10  # diameter, of the propeller's


def placed_pieces(design: Design) -> tuple[Piece, ...]:
    """Every placed thing of a design, both hands.

    Parameters
    ----------
    design : Design
        The design. [m, kg]

    Returns
    -------
    tuple of Piece
        Motors with their propellers, controllers, packs, items, pushrods, gear. [m, kg]
    """
    stock = design.stock
    pieces = list(_power_pieces(design.power))
    for item in design.items:
        pieces += _item(item)
    for rod in design.pushrods:
        pieces += _pushrod(rod, stock)
    for part in design.gear:
        pieces += _gear(part, stock)
    return tuple(pieces)


# ---------------------------------------------------------------- power


def thrust_way(motor: Motor) -> Array:
    """Direction of a motor's thrust on the aeroplane, a unit vector.

    Forward is -x. ``tilt_up`` turns the thrust from forward to up, ``tilt_right`` from
    forward to the right; a pusher's thrust points forward too.
    """
    up, right = motor.tilt_up, motor.tilt_right
    return frozen(
        np.array(
            [
                -math.cos(up) * math.cos(right),
                math.cos(up) * math.sin(right),
                math.sin(up),
            ]
        )
    )


def _shaft_way(motor: Motor) -> Array:
    """Direction from the pivot to the propeller: ahead for a tractor, behind for a pusher."""
    way = thrust_way(motor)
    return way if motor.mounting is Mounting.TRACTOR else -way


def discs(power: Power) -> tuple[Disc, ...]:
    """Propeller discs of all motors that carry a propeller. [m]"""
    return tuple(
        Disc(
            motor=motor.key,
            path=f"power.motor.{motor.key}",
            centre=frozen(np.array(motor.at) + motor.reach * _shaft_way(motor)),
            thrust=thrust_way(motor),
            diameter=power.propeller(motor.propeller).diameter,
        )
        for motor in power.motors
        if motor.propeller is not None
    )


def _power_pieces(power: Power) -> list[Piece]:
    pieces: list[Piece] = []
    for motor in power.motors:
        pieces.append(_motor(motor))
        if motor.propeller is not None:
            pieces.append(_propeller(motor, power.propeller(motor.propeller)))
    pieces += [
        _given(
            f"controller.{controller.key}",
            path=f"power.controller.{controller.key}",
            title=f"controller, {controller.key}",
            group=Group.POWER,
            mass=controller.mass,
            y=controller.at[1],
            mesh=_box(controller.at, controller.size),
        )
        for controller in power.controllers
    ]
    pieces += [
        _given(
            f"pack.{pack.key}",
            path=f"power.pack.{pack.key}",
            title=f"pack, {pack.key}",
            group=Group.POWER,
            mass=pack.mass,
            y=pack.middle[1],
            mesh=_box(pack.middle, pack.size),
        )
        for pack in power.packs
    ]
    return pieces


def _motor(motor: Motor) -> Piece:
    """Stand a round body on the shaft, from the pivot outward, behind the disc."""
    way = _shaft_way(motor)
    length, diameter = max(motor.length, _THINNEST), max(motor.diameter, _THINNEST)
    # The motor sits on its mount; one longer than the reach ends at the disc.
    front = min(length, max(motor.reach, 0.0)) if motor.reach > 0.0 else 0.5 * length
    ends = np.array(motor.at) + np.outer([front - length, front], way)
    return _given(
        f"motor.{motor.key}",
        path=f"power.motor.{motor.key}",
        title=f"motor, {motor.key}",
        group=Group.POWER,
        mass=motor.mass,
        y=motor.at[1],
        mesh=cylinder_mesh(ends[0], ends[1], diameter=diameter),
    )


def _propeller(motor: Motor, propeller: Propeller) -> Piece:
    """Flat blades round a hub; the first blade of an odd number stands up."""
    way = _shaft_way(motor)
    centre = np.array(motor.at) + motor.reach * way
    across = np.array([way[1], -way[0], 0.0])
    across /= math.hypot(way[0], way[1])
    upward = np.cross(across, way)
    upward *= math.copysign(1.0, upward[2])
    across = np.cross(upward, way)
    width = propeller.blade_width or _BLADE_WIDTH * propeller.diameter
    thick = max(_BLADE_THICKNESS * width, _THINNEST)
    hub = _HUB * propeller.diameter
    half = 0.5 * max(2.0 * thick, _THINNEST) * way
    solids = [cylinder_mesh(centre - half, centre + half, diameter=hub)]
    turn = 0.5 * math.pi if propeller.blades % 2 else 0.0
    for blade in range(propeller.blades):
        angle = turn + 2.0 * math.pi * blade / propeller.blades
        out = math.cos(angle) * across + math.sin(angle) * upward
        solids.append(
            _slat(
                centre + 0.5 * hub * out,
                centre + 0.5 * propeller.diameter * out,
                width=width,
                thick=thick,
                way=way,
            )
        )
    return _given(
        f"propeller.{motor.key}",
        path=f"power.propeller.{propeller.key}",
        title=f"propeller, {propeller.key}, on {motor.key}",
        group=Group.POWER,
        mass=propeller.mass,
        y=motor.at[1],
        mesh=join_meshes(solids),
    )


def _slat(start: Array, end: Array, *, width: float, thick: float, way: Array) -> Mesh:
    """Lay a flat bar from start to end, its thickness along ``way``."""
    out = (end - start) / math.sqrt(float((end - start) @ (end - start)))
    side = 0.5 * width * np.cross(way, out)
    edges = np.array([[start - side, end - side], [start + side, end + side]])
    # Column step x row step is out x (way x out) = way: from lower to upper face.
    return grid_mesh(edges + 0.5 * thick * way, edges - 0.5 * thick * way)


# ---------------------------------------------------------------- items, rods, gear


def _item(item: Item) -> tuple[Piece, ...]:
    piece = _given(
        f"item.{item.key}",
        path=f"item.{item.key}",
        title=f"{item.kind.value}, {item.key}".replace("_", " "),
        group=Group.RADIO,
        mass=item.mass,
        y=item.at[1],
        mirrored=item.mirrored,
        mesh=_box(item.at, item.size),
    )
    return piece_hands(piece, mirrored=item.mirrored)


def _pushrod(pushrod: Pushrod, stock: Stock) -> tuple[Piece, ...]:
    piece = rod_piece(
        f"pushrod.{pushrod.key}",
        path=f"pushrod.{pushrod.key}",
        title=f"pushrod, {pushrod.key}",
        group=Group.RADIO,
        rod=pushrod.rod,
        stock=stock,
        points=(pushrod.start, pushrod.end),
        mirrored=pushrod.mirrored,
    )
    return piece_hands(piece, mirrored=pushrod.mirrored)


def _gear(gear: Gear, stock: Stock) -> tuple[Piece, ...]:
    match gear:
        case Wheel():
            piece = _wheel(gear)
        case GearWire():
            piece = rod_piece(
                f"gear.{gear.key}",
                path=f"gear.{gear.key}",
                title=f"{'skid' if gear.is_skid else 'gear wire'}, {gear.key}",
                group=Group.GEAR,
                rod=gear.rod,
                stock=stock,
                points=gear.points,
                mirrored=gear.mirrored,
            )
    return piece_hands(piece, mirrored=gear.mirrored)


def _wheel(wheel: Wheel) -> Piece:
    x, y, z = wheel.at
    half = 0.5 * max(wheel.width, _THINNEST)
    mesh = cylinder_mesh(
        np.array([x, y - half, z]),
        np.array([x, y + half, z]),
        diameter=max(wheel.diameter, _THINNEST),
    )
    return _given(
        f"gear.{wheel.key}",
        path=f"gear.{wheel.key}",
        title=f"wheel, {wheel.key}",
        group=Group.GEAR,
        mass=wheel.mass,
        y=y,
        mirrored=wheel.mirrored,
        mesh=mesh,
    )


def rod_piece(
    key: str,
    *,
    path: str,
    title: str,
    group: Group,
    rod: str,
    stock: Stock,
    points: tuple[Vec3, ...],
    mirrored: bool,
) -> Piece:
    """Rod, tube or wire along a polyline, as drawn. [m]"""
    goods = stock.rod(rod)
    line = np.array(points)
    step = np.diff(line, axis=0)
    try:
        mesh = rod_mesh(line, diameter=goods.diameter, bore=goods.bore)
    except DomainError as error:
        raise DomainError(f"{path}: {error}") from error
    return Piece(
        key=key,
        path=path,
        title=title,
        group=group,
        hand=drawn_hand(float(line[:, 1].mean()), mirrored=mirrored),
        stock=rod,
        basis=Basis.LENGTH,
        amount=float(np.sqrt((step * step).sum(axis=1)).sum()),
        given=None,
        sheet=None,
        mesh=mesh,
    )


def _given(
    key: str,
    *,
    path: str,
    title: str,
    group: Group,
    mass: Figure,
    y: float,
    mesh: Mesh,
    mirrored: bool = False,
) -> Piece:
    return Piece(
        key=key,
        path=path,
        title=title,
        group=group,
        hand=drawn_hand(y, mirrored=mirrored),
        stock=None,
        basis=Basis.GIVEN,
        amount=0.0,
        given=mass,
        sheet=None,
        mesh=mesh,
    )


def _box(centre: Vec3, size: Vec3) -> Mesh:
    x, y, z = (max(edge, _THINNEST) for edge in size)
    return box_mesh(centre, (x, y, z))
