"""`piece.glb`: a piece as binary glTF 2.0, for any viewer.

Metres, y up: (x, y, z) of the piece in mm becomes (x, z, −y) / 1000. Equal parts share a mesh; faces
are shaded flat. Each node's `extras` say path, name, mark and the vector (metres, glTF axes) by which it moves
in the exploded picture; the scene's say how drawers and doors move: members (path prefixes), a line (origin, direction)
and a reach (metres, or degrees about the line). Same piece, same bytes.

Source of the layout: Khronos Group, glTF 2.0 Specification, sections 3 (concepts) and 4 (GLB).
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from casewright.design.assembly import Motion, MotionKind
from casewright.design.frames import Vec
from casewright.packet.drawing.primitives import Tone
from casewright.packet.drawing.tones import ToneOf, tone_of
from casewright.solids.mesh import Floats, Mesh, Node, Scene

MAGIC, VERSION = 0x46546C67, 2
JSON_CHUNK, BINARY_CHUNK = 0x4E4F534A, 0x004E4942
FLOAT, UNSIGNED_INT = 5126, 5125
ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 34962, 34963
Y_UP = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])  # rows: glTF axes in the piece's


def glb(
    scene: Scene,
    title: str,
    *,
    marks: Mapping[str, str] | None = None,
    offsets: Mapping[str, Vec] | None = None,
    motions: Sequence[Motion] = (),
    tones: ToneOf = tone_of,
) -> bytes:
    """Return a scene as the bytes of a GLB file; `marks` and explode `offsets` (mm, piece frame) are by path.

    `motions` are those of the piece, in its own frame.
    """
    writer = _Writer()
    looks: dict[tuple[str, Tone], int] = {}
    nodes = []
    for node in scene.nodes:
        tone = tones(node.thing)
        if (node.key, tone) not in looks:
            looks[node.key, tone] = writer.mesh(scene.meshes[node.key], node.key, tone)
        extras = _extras(node, marks or {}, offsets or {})
        nodes.append({"name": node.path, "mesh": looks[node.key, tone], "matrix": _matrix(node), "extras": extras})
    return writer.document(title, nodes, [_motion(m) for m in motions])


def _extras(node: Node, marks: Mapping[str, str], offsets: Mapping[str, Vec]) -> dict[str, Any]:
    explode = Y_UP @ np.array(offsets.get(node.path, (0.0, 0.0, 0.0))) / 1000
    return {
        "path": node.path,
        "name": node.name,
        "mark": marks.get(node.path, ""),
        "explode": [_tidy(v) for v in explode.tolist()],
    }


def _motion(motion: Motion) -> dict[str, Any]:
    slides = motion.kind is MotionKind.SLIDE
    return {
        "id": motion.id,
        "kind": motion.kind.value,
        "members": list(motion.members),
        "origin": [_tidy(v) for v in (Y_UP @ np.array(motion.origin) / 1000).tolist()],
        "direction": [_tidy(v) for v in (Y_UP @ np.array(motion.direction)).tolist()],
        "reach": _tidy(motion.reach / 1000 if slides else motion.reach),
    }


def _matrix(node: Node) -> list[float]:
    """Return the node's 4 × 4 matrix, column by column: own frame in metres and glTF axes to the scene."""
    frame = node.frame
    turn = Y_UP @ np.array([frame.x, frame.y, frame.z]).T @ Y_UP.T
    shift = Y_UP @ np.array(frame.origin) / 1000
    columns = np.column_stack((turn, shift)).T
    return [_tidy(v) for column, w in zip(columns, (0.0, 0.0, 0.0, 1.0), strict=True) for v in (*column.tolist(), w)]


def _tidy(value: float) -> float:
    return round(value, 9) + 0.0


def _flat_shaded(mesh: Mesh) -> tuple[NDArray[np.float32], NDArray[np.float32], NDArray[np.uint32]]:
    """Return (positions, normals, indices): a vertex for each different corner and direction of a face."""
    corner = mesh.triangles.reshape(-1)
    direction = np.round(np.repeat(mesh.normals, 3, axis=0), 5) + 0.0
    rows = np.column_stack((corner, direction))
    _, first, index = np.unique(rows, axis=0, return_index=True, return_inverse=True)
    positions: Floats = mesh.positions[corner[first]] @ Y_UP.T / 1000
    normals: Floats = np.repeat(mesh.normals, 3, axis=0)[first] @ Y_UP.T
    return positions.astype(np.float32), normals.astype(np.float32), index.reshape(-1).astype(np.uint32)


class _Writer:
    """Collects the binary chunk and the tables that point into it."""

    def __init__(self) -> None:
        self._binary = bytearray()
        self._views: list[dict[str, Any]] = []
        self._accessors: list[dict[str, Any]] = []
        self._meshes: list[dict[str, Any]] = []
        self._materials: list[dict[str, Any]] = []
        self._material_of: dict[Tone, int] = {}

    def mesh(self, mesh: Mesh, name: str, tone: Tone) -> int:
        """Add a mesh in a tone and return its index."""
        positions, normals, indices = _flat_shaded(mesh)
        bounds = {"min": positions.min(axis=0).tolist(), "max": positions.max(axis=0).tolist()}
        attributes = {
            "POSITION": self._accessor(positions, "VEC3", FLOAT, ARRAY_BUFFER, bounds),
            "NORMAL": self._accessor(normals, "VEC3", FLOAT, ARRAY_BUFFER, {}),
        }
        primitive = {
            "attributes": attributes,
            "indices": self._accessor(indices, "SCALAR", UNSIGNED_INT, ELEMENT_ARRAY_BUFFER, {}),
            "material": self._material(tone),
        }
        self._meshes.append({"name": name, "primitives": [primitive]})
        return len(self._meshes) - 1

    def document(self, title: str, nodes: list[dict[str, Any]], motions: list[dict[str, Any]]) -> bytes:
        """Return the whole file."""
        scene: dict[str, Any] = {"name": title, "nodes": list(range(len(nodes)))}
        if motions:
            scene["extras"] = {"motions": motions}
        content = {
            "asset": {"version": "2.0", "generator": "Casewright"},
            "scene": 0,
            "scenes": [scene],
            "nodes": nodes,
            "meshes": self._meshes,
            "materials": self._materials,
            "accessors": self._accessors,
            "bufferViews": self._views,
            "buffers": [{"byteLength": len(self._binary)}],
        }
        text = json.dumps(content, separators=(",", ":"), ensure_ascii=False).encode()
        chunks = _chunk(JSON_CHUNK, text, b" ") + _chunk(BINARY_CHUNK, bytes(self._binary), b"\0")
        return struct.pack("<III", MAGIC, VERSION, 12 + len(chunks)) + chunks

    def _accessor(
        self, values: NDArray[np.generic], kind: str, component: int, target: int, bounds: dict[str, Any]
    ) -> int:
        raw = values.tobytes()
        self._views.append({"buffer": 0, "byteOffset": len(self._binary), "byteLength": len(raw), "target": target})
        self._binary += raw  # every element is 4 bytes: views stay aligned
        table = {"bufferView": len(self._views) - 1, "componentType": component, "count": len(values), "type": kind}
        self._accessors.append(table | bounds)
        return len(self._accessors) - 1

    def _material(self, tone: Tone) -> int:
        if tone not in self._material_of:
            self._material_of[tone] = len(self._materials)
            colour = [*(_tidy(_linear(c / 255)) for c in tone), 1.0]
            surface = {"baseColorFactor": colour, "metallicFactor": 0.0, "roughnessFactor": 0.8}
            self._materials.append({"pbrMetallicRoughness": surface})
        return self._material_of[tone]


def _linear(share: float) -> float:
    # sRGB to linear light (IEC 61966-2-1).
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def _chunk(kind: int, content: bytes, padding: bytes) -> bytes:
    content += padding * (-len(content) % 4)
    return struct.pack("<II", len(content), kind) + content
