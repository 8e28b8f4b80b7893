"""The airframe as a GLB file: binary glTF 2.0, metres, y up."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import numpy as np

from foamwright.airframe import Airframe, Group, Piece
from foamwright.design.model import SheetKind, Stock

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

# glTF looks along +z with y up, so its x points to the aeroplane's left: from x aft, y right,
# z up to (-y, z, -x), a pure rotation.
_TO_GLTF = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])

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
    # Untyped here: the library is imported by this one function and checked by what it writes.
    import trimesh  # noqa: PLC0415
    from trimesh.visual import TextureVisuals  # noqa: PLC0415
    from trimesh.visual.material import PBRMaterial  # noqa: PLC0415

    make_scene = cast("Callable[..., Any]", trimesh.Scene)
    make_mesh = cast("Callable[..., Any]", trimesh.Trimesh)
    make_visual = cast("Callable[..., Any]", TextureVisuals)
    make_material = cast("Callable[..., Any]", PBRMaterial)
    scene = make_scene(base_frame=airframe.design.name)
    materials: dict[str, Any] = {}
    for piece in airframe.pieces:
        name, colour = _look(piece, airframe.design.stock)
        if name not in materials:
            materials[name] = make_material(
                name=name,
                baseColorFactor=[*colour, 255],
                metallicFactor=0.0,
                roughnessFactor=0.9,
            )
        mesh = make_mesh(
            vertices=piece.mesh.vertices @ _TO_GLTF.T,
            faces=piece.mesh.faces,
            process=False,
        )
        mesh.visual = make_visual(material=materials[name])
        node = f"{piece.key} {piece.hand.value}"
        scene.add_geometry(mesh, node_name=node, geom_name=node)
    return bytes(scene.export(file_type="glb"))


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
