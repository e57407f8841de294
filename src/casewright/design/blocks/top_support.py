"""A part under a top, as the top's fixings see it: which way it lies, which of its length is free for them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.blocks.body import Body
from casewright.design.blocks.shared_wall import meets
from casewright.design.blocks.top import ScrewFixing
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.draft import Draft
from casewright.design.features.hole_rows import spread
from casewright.design.frames import Vec, dot
from casewright.design.parts import Part, Placed
from casewright.design.sites import Span, world_box

LEVEL_MOST = 40.0  # mm: a part thicker than this from below is no stretcher to screw through
WALL_END = 25.0  # mm: from a tie to the first button or plate along a side, at least
APART = 60.0  # mm: two buttons or plates along a side stand no nearer to each other


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A part under the top: `inward` points into the case from an upright one; level ones are screwed through.

    `span` is what of its length may take fixings (y of one that runs back, mm); all of it where it is None. `part`
    says which of several spans it is, ".front" or ".rear".
    """

    placed: Placed
    name: str
    level: bool
    along_x: bool
    inward: Vec
    span: Span | None = None
    part: str = ""


def support_of(d: Draft, body: Body, placed: Placed) -> Support:
    """Return a part of the case (world frame, mm) as a support of its top; `inward` is towards the middle."""
    lo, hi = world_box(placed)
    size = [hi[i] - lo[i] for i in range(3)]
    along_x = size[0] >= size[1]
    mid_x, mid_y = (lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2
    if along_x:
        inward: Vec = (0.0, 1.0 if mid_y < body.depth / 2 else -1.0, 0.0)
    else:
        inward = (1.0 if mid_x < 0 else -1.0, 0.0, 0.0)
    return Support(
        placed=placed,
        name=placed.path.removeprefix(d.path + "/"),
        level=size[2] <= LEVEL_MOST and size[2] <= min(size[0], size[1]) + 1e-6,
        along_x=along_x,
        inward=inward,
    )


def over(made: MadeTop, y: float) -> Placed:
    """Return which member of a top lies over a line across the case at `y`, mm: its front or its rear one."""
    lo, hi = world_box(made.rear)
    return made.rear if lo[1] <= y <= hi[1] else made.front


def free_places(f: ScrewFixing, made: MadeTop, s: Support, face: float, room: tuple[float, float, float]) -> list[Vec]:
    """Return the places of a support where nothing stands in the way of a fitting.

    `room` is how far it reaches inwards from the inner `face`, to both sides, and below the top, mm.
    """
    if s.span is None:
        return _along(f, s)
    d, (inwards, half, down) = f.d, room
    # What is kept free for fasteners of the top and of this part counts too: drivers pass there.
    ours = {s.placed.path, made.front.path, made.rear.path}
    taken = [(k.lo, k.hi) for k in d.keepouts if not k.of or set(k.of) & ours]
    names = (path.removeprefix(d.path + "/") for path in d.under(""))
    taken += [world_box(p) for p in map(d.at, names) if isinstance(p.thing, Part) and p.path != s.placed.path]
    out = []
    for at in _along(f, s):
        x = sorted((face * s.inward[0], (face + inwards) * s.inward[0]))
        box = ((x[0], at[1] - half, at[2] - down), (x[1], at[1] + half, at[2] - 1e-3))
        if not meets([box], taken):
            out.append(at)
    return out


def inner_face(s: Support) -> float:
    """Return how far the inner face of an upright part lies along its inward direction."""
    lo, hi = world_box(s.placed)
    return max(dot(lo, s.inward), dot(hi, s.inward))


def _along(f: ScrewFixing, s: Support) -> list[Vec]:
    lo, hi = world_box(s.placed)
    axis = 0 if s.along_x else 1
    mid: Vec = ((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, hi[2])
    out: list[Vec] = []
    if s.span is not None:
        (low, high), spare = s.span, WALL_END
        if high - low < 2 * spare:
            return out
        if high - low < 2 * spare + APART:
            return [(mid[0], (low + high) / 2, mid[2])]
        count = max(1, math.ceil((high - low - 2 * spare) / f.d.practice["top.fixing_spacing"]) + 1)
        step = (high - low - 2 * spare) / max(1, count - 1)
        return [(mid[0], low + spare + i * step, mid[2]) for i in range(count)]
    length = hi[axis] - lo[axis]
    for at in spread(length, min(f.d.practice["top.screw_ends"] * 1.5, length / 4), f.d.practice["top.fixing_spacing"]):
        p = list(mid)
        p[axis] = lo[axis] + at
        out.append((p[0], p[1], p[2]))
    return out
