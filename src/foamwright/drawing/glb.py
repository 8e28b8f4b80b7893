"""The airframe as a GLB file: binary glTF 2.0, metres, y up."""

from __future__ import annotations

import importlib
from typing import Any

import numpy as np

from foamwright.airframe import Airframe, Group, Piece
from foamwright.design.model import SheetKind, Stock

# Targets of buffer views, glTF 2.0 section 5.11.5.
_VERTICES, _FACES = 34962, 34963

# glTF looks along +z with y up, so its x points to the aeroplane's left: from x aft, y right,
# z up to (-y, z, -x), a pure rotation.
_TO_GLTF = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])

# Colours as screens show them.
_SHEETS = {
    SheetKind.FOAM_BOARD: (236, 232, 222),
    SheetKind.FOAM: (214, 228, 236),
    SheetKind.PLY: (198, 160, 108),
    SheetKind.BALSA: (226, 204, 160),
    SheetKind.CARD: (190, 170, 140),
}
_BLOCK = (244, 244, 240)
_ROD = (58, 60, 64)
_GROUPS = {
    Group.WING: (225, 225, 225),
    Group.TAIL: (225, 225, 225),
    Group.BODY: (205, 205, 210),
    Group.POWER: (178, 74, 52),
    Group.RADIO: (62, 98, 140),
    Group.GEAR: (70, 74, 70),
}

_Colour = tuple[int, int, int]


def write_glb(airframe: Airframe) -> bytes:
    """Write every piece as a node of one scene.

    Parameters
    ----------
    airframe : Airframe
        The shape of one variant. [m]

    Returns
    -------
    bytes
        GLB 2.0. Metres, y up, the nose towards +z. A node carries the piece's key and hand,
        a material the stock it is made of, or the group of what is bought.

    References
    ----------
    .. [1] Khronos Group, glTF 2.0 Specification, section 3.4, coordinate system and units;
       section 3.7.2.1: without normals a viewer shades every face flat.
    """
    # Slow to import and without type hints: fetched by the one function that needs it, which
    # is checked by what it writes.
    trimesh: Any = importlib.import_module("trimesh")
    visual: Any = importlib.import_module("trimesh.visual")
    scene = trimesh.Scene(base_frame=airframe.design.name)
    materials: dict[str, Any] = {}
    for piece in airframe.pieces:
        name, colour = _look(piece, airframe.design.stock)
        if name not in materials:
            materials[name] = visual.material.PBRMaterial(
                name=name,
                baseColorFactor=[*(_linear(part) for part in colour), 255],
                metallicFactor=0.0,
                roughnessFactor=0.9,
            )
        mesh = trimesh.Trimesh(
            vertices=piece.mesh.vertices @ _TO_GLTF.T, faces=piece.mesh.faces, process=False
        )
        mesh.visual = visual.TextureVisuals(material=materials[name])
        node = f"{piece.key} {piece.hand.value}"
        scene.add_geometry(mesh, node_name=node, geom_name=node)
    return bytes(trimesh.exchange.gltf.export_glb(scene, tree_postprocessor=_finish))


def _finish(tree: dict[str, Any]) -> None:
    """Say what each buffer view holds, so that a viewer need not find out."""
    tree["asset"]["generator"] = "foamwright"
    for mesh in tree["meshes"]:
        for part in mesh["primitives"]:
            for accessor, target in (
                (part["attributes"]["POSITION"], _VERTICES),
                (part["indices"], _FACES),
            ):
                view = tree["accessors"][accessor]["bufferView"]
                tree["bufferViews"][view]["target"] = target


def _linear(part: int) -> int:
    """Colour part of a material, which is linear in light, from one as screens show it.

    References
    ----------
    .. [1] IEC 61966-2-1:1999, sRGB transfer function (value from memory).
    """
    share = part / 255.0
    light = share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
    return round(255.0 * light)


def _look(piece: Piece, stock: Stock) -> tuple[str, _Colour]:
    """Name and colour of a piece's material."""
    for sheet in stock.sheets:
        if sheet.key == piece.stock:
            return sheet.key, _SHEETS[sheet.kind]
    if any(block.key == piece.stock for block in stock.blocks):
        return str(piece.stock), _BLOCK
    if piece.stock is not None:
        return piece.stock, _ROD
    return piece.group.value, _GROUPS[piece.group]
