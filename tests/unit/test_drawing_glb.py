"""The GLB file, read back by two readers: our own few lines and a library."""

from __future__ import annotations

import io
import json
import struct
from typing import Any

import numpy as np
import pytest
import trimesh

from foamwright.airframe import Airframe, build_airframe
from foamwright.airframe.meshes import mesh_volume
from foamwright.drawing.glb import write_glb
from tests import making


@pytest.fixture(scope="module")
def airframe() -> Airframe:
    return build_airframe(making.full_design())


@pytest.fixture(scope="module")
def data(airframe: Airframe) -> bytes:
    return write_glb(airframe)


def chunks(data: bytes) -> tuple[dict[str, Any], bytes]:
    """JSON and binary chunk of a GLB, glTF 2.0 section 4.4."""
    magic, version, length = struct.unpack_from("<4sII", data, 0)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    tree = json.loads(data[20 : 20 + size])
    start = 20 + size
    binary_size, kind = struct.unpack_from("<I4s", data, start)
    assert kind == b"BIN\x00"
    assert start + 8 + binary_size == len(data)
    return tree, data[start + 8 :]


def array(tree: dict[str, Any], binary: bytes, number: int) -> np.ndarray:
    accessor = tree["accessors"][number]
    view = tree["bufferViews"][accessor["bufferView"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    kind, width = {5126: ("<f4", 3), 5125: ("<u4", 1)}[accessor["componentType"]]
    values = np.frombuffer(binary, kind, accessor["count"] * width, start)
    return values.reshape(-1, width) if width > 1 else values


def test_every_piece_is_a_node_by_key_and_hand(airframe, data):
    tree, _ = chunks(data)
    wanted = {f"{one.key} {one.hand.value}" for one in airframe.pieces}
    assert {node["name"] for node in tree["nodes"] if "mesh" in node} == wanted
    assert tree["asset"] == {"version": "2.0", "generator": "foamwright"}


def test_points_are_metres_with_y_up_and_the_nose_to_z(airframe, data):
    tree, binary = chunks(data)
    meshes = {
        node["name"]: tree["meshes"][node["mesh"]] for node in tree["nodes"] if "mesh" in node
    }
    for one in airframe.pieces:
        (part,) = meshes[f"{one.key} {one.hand.value}"]["primitives"]
        points = array(tree, binary, part["attributes"]["POSITION"])
        x, y, z = one.mesh.vertices.T
        assert points == pytest.approx(np.stack([-y, z, -x], axis=1), abs=1e-6)
        faces = array(tree, binary, part["indices"]).reshape(-1, 3)
        assert np.array_equal(faces, one.mesh.faces)


def test_faces_still_look_outward(airframe, data):
    scene = trimesh.load(io.BytesIO(data), file_type="glb", process=False)
    for one in airframe.pieces:
        mesh = scene.geometry[f"{one.key} {one.hand.value}"]
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(mesh_volume(one.mesh), rel=1e-4)


def test_materials_are_named_by_stock_or_group(airframe, data):
    tree, _ = chunks(data)
    names = [material["name"] for material in tree["materials"]]
    assert len(set(names)) == len(names)
    assert set(names) == {one.stock or one.group.value for one in airframe.pieces}
    nodes = {node["name"]: node for node in tree["nodes"]}
    board = tree["meshes"][nodes["wing.inner.skin left"]["mesh"]]["primitives"][0]["material"]
    assert names[board] == "board"


def test_buffer_views_say_what_they_hold(data):
    tree, _ = chunks(data)
    assert {view["target"] for view in tree["bufferViews"]} == {34962, 34963}


def test_the_same_airframe_gives_the_same_bytes(airframe, data):
    assert write_glb(airframe) == data
