"""The model file, read back by hand from the specification's byte layout."""

from __future__ import annotations

import json
import struct
from pathlib import Path

import numpy as np
import pytest
from tests.packet import demo
from tests.solids.things import cabinet

from casewright.cache import Cache
from casewright.design.assembly import MotionKind
from casewright.packet.drawing.explode import explode_offsets
from casewright.packet.gltf import glb
from casewright.packet.write import write_packet
from casewright.solids.collide import is_under, overall_box
from casewright.solids.measure import volume_of
from casewright.solids.mesh import scene_of


def read(data: bytes) -> tuple[dict, bytes]:
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    assert size % 4 == 0
    content = json.loads(data[20 : 20 + size])
    binary_size, kind = struct.unpack_from("<I4s", data, 20 + size)
    assert kind == b"BIN\0"
    assert 28 + size + binary_size == len(data)
    assert content["buffers"][0]["byteLength"] <= binary_size
    return content, data[28 + size :]


def array(content: dict, binary: bytes, index: int) -> np.ndarray:
    accessor = content["accessors"][index]
    view = content["bufferViews"][accessor["bufferView"]]
    width = {"SCALAR": 1, "VEC3": 3}[accessor["type"]]
    kind = {5126: "<f4", 5125: "<u4"}[accessor["componentType"]]
    values = np.frombuffer(binary, kind, accessor["count"] * width, view["byteOffset"])
    return values.reshape(-1, width)


@pytest.fixture(scope="module")
def model() -> tuple[dict, bytes]:
    piece, cache = cabinet(), Cache()
    marks = {"p/side.left": "A", "p/side.right": "A", "p/top": "B"}
    return read(glb(scene_of(piece, cache), "cabinet", marks=marks, offsets=explode_offsets(piece, cache)))


def triangles(model: tuple[dict, bytes], node: dict) -> tuple[np.ndarray, np.ndarray]:
    """Corners (m, 3, 3) in the scene, metres, and normals (m, 3, 3)."""
    content, binary = model
    primitive = content["meshes"][node["mesh"]]["primitives"][0]
    index = array(content, binary, primitive["indices"]).ravel()
    m = np.array(node["matrix"]).reshape(4, 4).T
    points = array(content, binary, primitive["attributes"]["POSITION"])[index].astype(float)
    normals = array(content, binary, primitive["attributes"]["NORMAL"])[index].astype(float)
    return (points @ m[:3, :3].T + m[:3, 3]).reshape(-1, 3, 3), (normals @ m[:3, :3].T).reshape(-1, 3, 3)


def test_it_holds_every_placed_thing_in_its_place(model) -> None:
    content, _ = model
    piece = cabinet()
    assert [n["name"] for n in content["nodes"]] == [p.path for p in piece.placed]
    points = np.concatenate([triangles(model, n)[0].reshape(-1, 3) for n in content["nodes"]])
    (x0, y0, z0), (x1, y1, z1) = overall_box(piece, Cache(), exclude=())
    assert points.min(axis=0) * 1000 == pytest.approx([x0, z0, -y1], abs=1e-3)
    assert points.max(axis=0) * 1000 == pytest.approx([x1, z1, -y0], abs=1e-3)


def test_faces_look_outwards_and_enclose_the_volume(model) -> None:
    content, _ = model
    for node, placed in zip(content["nodes"], cabinet().placed, strict=True):
        corners, normals = triangles(model, node)
        a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
        face = np.cross(b - a, c - a)
        assert (np.einsum("ij,ij->i", face, normals[:, 0]) > 0).all()
        assert (normals[:, 0] == normals[:, 1]).all()
        enclosed = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
        assert enclosed == pytest.approx(volume_of(placed.thing, Cache()) * 1e-9, rel=3e-3)


def test_matrices_are_rotations(model) -> None:
    for node in model[0]["nodes"]:
        m = np.array(node["matrix"]).reshape(4, 4).T
        assert np.linalg.det(m[:3, :3]) == pytest.approx(1.0)
        assert m[3].tolist() == [0.0, 0.0, 0.0, 1.0]


def test_equal_parts_share_a_mesh(model) -> None:
    nodes = {n["name"]: n for n in model[0]["nodes"]}
    assert nodes["p/side.left"]["mesh"] == nodes["p/side.right"]["mesh"] != nodes["p/top"]["mesh"]
    assert len(model[0]["meshes"]) == len({p.thing.key for p in cabinet().placed})


def test_extras_name_mark_and_explode(model) -> None:
    extras = {n["name"]: n["extras"] for n in model[0]["nodes"]}
    assert extras["p/top"]["mark"] == "B"
    assert extras["p/top"]["name"] == "top"
    x, y, z = extras["p/top"]["explode"]
    assert (x, z) == (0.0, 0.0)
    assert y > 0.01  # up is y
    assert extras["p/side.left"]["explode"] == [0.0, 0.0, 0.0]


def test_bounds_are_those_of_the_positions(model) -> None:
    content, binary = model
    for mesh in content["meshes"]:
        accessor = content["accessors"][mesh["primitives"][0]["attributes"]["POSITION"]]
        values = array(content, binary, mesh["primitives"][0]["attributes"]["POSITION"])
        assert values.min(axis=0) == pytest.approx(accessor["min"])
        assert values.max(axis=0) == pytest.approx(accessor["max"])


def test_the_same_piece_gives_the_same_bytes() -> None:
    assert glb(scene_of(cabinet(), Cache()), "c") == glb(scene_of(cabinet(), Cache()), "c")


def test_motions_of_drawers_and_doors_are_in_the_scene(tmp_path: Path) -> None:
    """What a written packet's model says of its drawers and doors is what the design says, in metres and y up."""
    files = write_packet(demo.project(), tmp_path / "p", date=demo.DATE, pages=())
    for piece in demo.project().assembly.pieces:
        file = next(f for f in files if f.name == f"{piece.path}.glb")
        content, _ = read(file.read_bytes())
        motions = {m["id"]: m for m in content["scenes"][0]["extras"]["motions"]}
        assert {m.id for m in piece.motions} == set(motions)
        for motion in piece.motions:
            said = motions[motion.id]
            slides = motion.kind is MotionKind.SLIDE
            assert said["kind"] == ("slide" if slides else "swing")
            assert said["reach"] == pytest.approx(motion.reach / 1000 if slides else motion.reach)
            (x, y, z), (u, v, w) = motion.origin, motion.direction
            assert said["origin"] == pytest.approx([x / 1000, z / 1000, -y / 1000])
            assert said["direction"] == pytest.approx([u, w, -v])
            moved = [n for n in content["nodes"] if any(is_under(n["extras"]["path"], m) for m in said["members"])]
            assert moved, motion.id
        assert any(any(n["extras"]["explode"]) for n in content["nodes"])
