"""Meshes of placed things, for pictures and models: triangles, normals, and the edges that are drawn.

Equal parts share one mesh; a `Scene` is meshes by key and placed nodes in the order of the piece.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame
from casewright.design.parts import Fastener, Hardware, Part
from casewright.design.volumes import Cone, Lowered
from casewright.solids.evaluate import solid, solid_of
from casewright.units.grid import key_of

SHARP = math.cos(math.radians(20.0))  # facets of an arc meet at less: their lines are not drawn
SLIVER = 1e-4  # mm: booleans leave triangles thinner than this, whose normals mean nothing
FLAT = 1.0 - 1e-7  # faces of one plane

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """A closed mesh in its own frame, mm.

    `positions` (n, 3); `triangles` (m, 3), counter-clockwise seen from outside; `normals` (m, 3);
    `edges` (k, 2) with the `neighbours` (k, 2) triangles of each, flat edges left out; `sharp` (k,) says which
    are drawn wherever they are seen.
    """

    positions: Floats
    triangles: Indices
    normals: Floats
    edges: Indices
    neighbours: Indices
    sharp: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Node:
    """One placed mesh: path, what a maker calls it, the mesh's key, its place; `thing` is what it shows."""

    path: str
    name: str
    key: str
    frame: Frame
    thing: Part | Hardware | Fastener


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Every mesh of a piece once, and where it stands."""

    meshes: dict[str, Mesh]
    nodes: tuple[Node, ...]


def scene_of(piece: PieceDesign, cache: Cache, *, fasteners: bool = False) -> Scene:
    """Return the meshes of a piece: parts and hardware, and fasteners (for looks only) where asked."""
    meshes: dict[str, Mesh] = {}
    nodes = []
    for placed in piece.placed:
        meshes[placed.thing.key] = mesh_of(placed.thing, cache)
        nodes.append(Node(placed.path, placed.name, placed.thing.key, placed.frame, placed.thing))
    for fastener in piece.fasteners if fasteners else ():
        key, mesh = _fastener_mesh(fastener, cache)
        meshes[key] = mesh
        nodes.append(Node(fastener.path, fastener.item, key, fastener.frame, fastener))
    return Scene(meshes=meshes, nodes=tuple(nodes))


def mesh_of(thing: Part | Hardware, cache: Cache) -> Mesh:
    """Return the mesh of a part or hardware item in its own frame."""
    return cache.made("mesh", thing.key, lambda: meshed(solid(thing, cache).body))


def meshed(body: Manifold) -> Mesh:
    """Return a solid as a mesh with the edges that can be drawn, cleared of slivers up to 0.0001 mm thick."""
    raw = body.simplify(SLIVER).to_mesh64()
    positions: Floats = np.ascontiguousarray(raw.vert_properties[:, :3])
    triangles: Indices = np.ascontiguousarray(raw.tri_verts.astype(np.int64))
    normals = _normals(positions, triangles)
    edges, neighbours = _edges(triangles)
    turn = (normals[neighbours[:, 0]] * normals[neighbours[:, 1]]).sum(axis=1)
    bent = turn < FLAT
    return Mesh(
        positions=positions,
        triangles=triangles,
        normals=normals,
        edges=edges[bent],
        neighbours=neighbours[bent],
        sharp=turn[bent] < SHARP,
    )


def _normals(positions: Floats, triangles: Indices) -> Floats:
    a, b, c = (positions[triangles[:, i]] for i in range(3))
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1, keepdims=True)
    scaled: Floats = normal / np.where(size > 0, size, 1.0)
    return scaled


def _edges(triangles: Indices) -> tuple[Indices, Indices]:
    # Each edge of a closed mesh is walked once in each direction; sorting brings the two together.
    sides = np.concatenate([triangles[:, [i, (i + 1) % 3]] for i in range(3)])
    owner = np.tile(np.arange(len(triangles)), 3)
    ends = np.sort(sides, axis=1)
    order = np.lexsort((owner, ends[:, 1], ends[:, 0]))
    return ends[order][::2], owner[order].reshape(-1, 2)


def _fastener_mesh(fastener: Fastener, cache: Cache) -> tuple[str, Mesh]:
    shape = (fastener.length, fastener.shank_radius, fastener.head_radius, fastener.head_height)
    key = "fastener-" + key_of(shape)
    return key, cache.made("mesh", key, lambda: meshed(solid_of(Lowered(base=_fastener_bodies(fastener))).body))


def _fastener_bodies(fastener: Fastener) -> tuple[Cone, ...]:
    r = fastener.shank_radius
    shank = Cone(frame=Frame(), r0=r, r1=r, height=fastener.length)
    if fastener.head_radius <= 0 or fastener.head_height <= 0:
        return (shank,)
    return (shank, Cone(frame=Frame(), r0=fastener.head_radius, r1=r, height=fastener.head_height))
