"""Small airframes made by hand: boxes, plates and lines with known masses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from foamwright.airframe import (
    Airframe,
    Basis,
    Group,
    Hand,
    LineRun,
    Mesh,
    Piece,
    Reference,
)
from foamwright.design.model import (
    BlockStock,
    Design,
    GlueStock,
    Item,
    Marks,
    Pack,
    Power,
    RodStock,
    SheetKind,
    SheetStock,
    StiffWay,
    Stock,
    TapeStock,
    Tray,
)
from foamwright.figures import Figure

BOX_FACES = [
    (0, 2, 1),
    (0, 3, 2),
    (4, 5, 6),
    (4, 6, 7),
    (0, 1, 5),
    (0, 5, 4),
    (1, 2, 6),
    (1, 6, 5),
    (2, 3, 7),
    (2, 7, 6),
    (3, 0, 4),
    (3, 4, 7),
]


def box_mesh(centre: Sequence[float], size: Sequence[float]) -> Mesh:
    """A closed box, faces outward."""
    corners = np.array(
        [(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)]
    )
    vertices = np.asarray(centre) + (corners - 0.5) * np.asarray(size)
    return Mesh(vertices=vertices, faces=np.array(BOX_FACES, dtype=np.int32))


def given(key: str, mass: float, at: Sequence[float], **changes: Any) -> Piece:
    """A bought thing: a small box with its mass given."""
    scatter = changes.pop("scatter", 0.0)
    size = changes.pop("size", (0.02, 0.02, 0.02))
    fields: dict[str, Any] = {
        "key": key,
        "path": f"item.{key}",
        "title": key,
        "group": Group.RADIO,
        "hand": Hand.CENTRE,
        "stock": None,
        "basis": Basis.GIVEN,
        "amount": 0.0,
        "given": Figure(value=mass, scatter=scatter),
        "sheet": None,
        "mesh": box_mesh(at, size),
    }
    return Piece(**{**fields, **changes})


def cut(key: str, stock: str, amount: float, mesh: Mesh, **changes: Any) -> Piece:
    """A thing cut from stock, by area unless said otherwise."""
    fields: dict[str, Any] = {
        "key": key,
        "path": f"surface.{key}",
        "title": key,
        "group": Group.WING,
        "hand": Hand.CENTRE,
        "stock": stock,
        "basis": Basis.AREA,
        "amount": amount,
        "given": None,
        "sheet": None,
        "mesh": mesh,
    }
    return Piece(**{**fields, **changes})


def run(key: str, stock: str, points: Sequence[Sequence[float]], **changes: Any) -> LineRun:
    """Tape or glue along a polyline."""
    fields: dict[str, Any] = {
        "key": key,
        "path": "surface.wing",
        "group": Group.WING,
        "hand": Hand.CENTRE,
        "stock": stock,
        "points": np.asarray(points, dtype=float),
    }
    return LineRun(**{**fields, **changes})


STOCK = Stock(
    sheets=(
        SheetStock(
            key="board5",
            kind=SheetKind.FOAM_BOARD,
            says="5 mm paper-faced foam board",
            thickness=Figure(value=0.005),
            weight=Figure(value=0.3, scatter=0.015, source="three sheets weighed"),
            length=0.7,
            width=0.5,
            count=4,
            stiff=StiffWay.LENGTH,
            facing="paper",
            facing_thickness=0.3e-3,
        ),
        SheetStock(
            key="card",
            kind=SheetKind.CARD,
            says="0.4 mm card",
            thickness=Figure(value=0.4e-3),
            weight=Figure(value=0.25),
            length=0.7,
            width=0.5,
            count=None,
            stiff=StiffWay.NONE,
            facing="none",
            facing_thickness=0.0,
        ),
    ),
    tapes=(
        TapeStock(
            key="packing", says="packing tape", width=0.05, weight=Figure(value=0.06, scatter=0.006)
        ),
    ),
    glues=(GlueStock(key="hot", says="hot glue", line_mass=Figure(value=6.7e-3, scatter=2e-3)),),
    rods=(
        RodStock(
            key="carbon3", says="3 mm rod", diameter=0.003, bore=0.0, line_mass=Figure(value=0.011)
        ),
    ),
    blocks=(BlockStock(key="blue", says="blue foam", density=Figure(value=30.0, scatter=1.5)),),
)


def pack(key: str = "main", **changes: Any) -> Pack:
    """A pack of 150 g in a tray 40 mm longer than itself."""
    fields: dict[str, Any] = {
        "key": key,
        "cells": 3,
        "capacity": 1.5 * 3600.0,
        "rating": 25.0,
        "mass": Figure(value=0.150),
        "size": (0.100, 0.034, 0.025),
        "position": 0.120,
        "tray": Tray(front=0.050, back=0.190, width=0.04, height=0.03, floor=-0.02, y=0.0),
    }
    return Pack(**{**fields, **changes})


def pack_piece(pack: Pack) -> Piece:
    """The pack as a piece of the airframe."""
    return given(
        f"pack.{pack.key}",
        pack.mass.value,
        pack.middle,
        scatter=pack.mass.scatter,
        size=pack.size,
        path=f"power.pack.{pack.key}",
        group=Group.POWER,
    )


def design(packs: Sequence[Pack] = (), items: Sequence[Item] = (), **changes: Any) -> Design:
    """A design with stock and packs and nothing else."""
    fields: dict[str, Any] = {
        "name": "Handmade",
        "variant": "as drawn",
        "summary": "",
        "brief": (),
        "stock": STOCK,
        "surfaces": (),
        "bodies": (),
        "power": Power(packs=tuple(packs)),
        "items": tuple(items),
        "pushrods": (),
        "gear": (),
        "marks": Marks(
            revision="A",
            licence="",
            notes=(),
            balance_span=True,
            thrust_line=True,
            cut_lines=True,
        ),
    }
    return Design(**{**fields, **changes})


def airframe(
    pieces: Sequence[Piece],
    lines: Sequence[LineRun] = (),
    *,
    of: Design | None = None,
    **changes: Any,
) -> Airframe:
    """An airframe of given pieces; 1.2 m span, 0.2 m chord."""
    fields: dict[str, Any] = {
        "design": of or design(),
        "reference": Reference(
            surface="wing",
            area=0.24,
            span=1.2,
            mac=0.2,
            mac_leading_edge=(0.3, 0.28, 0.0),
            tail_volume=None,
            fin_volume=None,
            wetted_area=0.6,
        ),
        "surfaces": (),
        "bodies": (),
        "pieces": tuple(pieces),
        "lines": tuple(lines),
        "discs": (),
    }
    return Airframe(**{**fields, **changes})
