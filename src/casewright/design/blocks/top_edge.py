"""The profile along the upper edge of a top: chamfer, roundover, cove or ogee, in front and at both sides.

Common practice: run once the top is joined and flat, across the ends first, so that what breaks out there goes with
the pass along the front. On a top that is joined of several parts it is made at assembly: no single part has it yet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from casewright.design.blanks import Face
from casewright.design.blocks.step_words import ROUT
from casewright.design.blocks.top_steps import set_joints, top_parts
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.edges import EdgeProfile, chamfer, edge_cove, ogee, roundover
from casewright.design.parts import Placed
from casewright.design.sequence import Sequence
from casewright.design.sites import DIRECTIONS
from casewright.findings import Severity

SQUARE = "square"
# An ogee of a size is a round and a hollow of half of it.
PROFILES: dict[str, Callable[[Face, Face, float], EdgeProfile]] = {
    "chamfer": lambda face, side, size: chamfer(face, side, size),
    "roundover": lambda face, side, size: roundover(face, side, size),
    "cove": lambda face, side, size: edge_cove(face, side, size),
    "ogee": lambda face, side, size: ogee(face, side, size / 2),
}
# Which way the edges look that show, by part of a top.
EDGES = {
    "top": ("front", "left", "right"),
    "top_frame.front": ("front", "left", "right"),
    "top_frame.rear": ("left", "right"),
    "top_frame.left": ("left",),
    "top_frame.right": ("right",),
    "top_end.left": ("left", "front"),
    "top_end.right": ("right", "front"),
    "lid/panel": ("front", "left", "right"),
    "lid_strip": ("left", "right"),
}


def top_edge(d: Draft, shape: str, size: float | None) -> None:
    """Run a profile along the upper edge of a top or lid that is placed; `size` (mm) None is by practice.

    Raises KeyError for a shape that is none of PROFILES.
    """
    if shape == SQUARE:
        return
    parts = [(d.at(name), ways) for name, ways in EDGES.items() if d.has(name)]
    if d.has("top_frame.front"):
        parts = [(p, ways) for p, ways in parts if p.path != d.full("top")]  # its panel shows no edge
    if d.has("top_end.left"):
        parts = [(p, ("front",) if p.path == d.full("top") else ways) for p, ways in parts]
    size = d.let("top.edge_size", d.practice["top.edge"] if size is None else size, rule="as ordered, or practice")
    thick = min(p.part.blank.thickness for p, _ in parts)
    if any(p.part.bands for p, _ in parts) or size > thick / 2:
        _refused(d, size, thick / 2, banded=any(p.part.bands for p, _ in parts))
        return
    d.let("top.edge", size, "top.edge_size", rule=f"{shape}, along front and sides")
    for placed, ways in parts:
        up = placed.face_towards(DIRECTIONS["up"])
        sides = (placed.face_towards(DIRECTIONS[way]) for way in ways)
        d.cut(placed, *(_of_its_set(d, placed, PROFILES[shape](up, side, size)) for side in sides))


def _of_its_set(d: Draft, placed: Placed, profile: EdgeProfile) -> EdgeProfile:
    """Return the profile as one that is run once the part is joined to others of its top; else as it is."""
    joints = [j for j in set_joints(d) if placed.path in (j.a, j.b)]
    return replace(profile, made_at=MadeAt.ASSEMBLY, joint=joints[0].id) if joints else profile


def _refused(d: Draft, size: float, most: float, *, banded: bool) -> None:
    d.find(
        "top.edge",
        Severity.STOP,
        "top.edge",
        "a profile would cut the bands of this top through"
        if banded
        else f"a profile of {size:.1f} mm takes more than half of the top's thickness",
        value=size,
        limit=0.0 if banded else most,
        source="common practice",
        remedy='top.edge = "square", or a top of solid wood' if banded else "a smaller top.edge_size, or a thicker top",
    )


def run_edge(s: Sequence, d: Draft, shape: str) -> None:
    """Plan the run of the profile; silent where the edge stays square."""
    if "top.edge" not in d.led:
        return
    what = "lid and the strip behind it" if d.has("lid/panel") else "top"
    joints = tuple(j.id.removeprefix(d.path + "/") for j in set_joints(d))
    named = f"{'an' if shape == 'ogee' else 'a'} {shape}"
    run = f"Turn the joined top face up and run {named}" if joints else f"Run {named}"
    size = d.led["top.edge"]
    radii = f", both radii {size / 2:g} mm," if shape == "ogee" else ""
    s.work(
        f"{run} of {size:g} mm{radii} along the upper edge of the {what}, in passes: across the ends "
        "first, a scrap clamped where the bit leaves, then along the front; the rear stays square",
        (ROUT,),
        makes=joints,
        made_in=top_parts(d) if joints else (),
    )
