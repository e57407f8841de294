"""How a top of any kind is fixed to any parts under it: screws, slotted screws, buttons, figure-eight plates.

One line stays put, in front as a rule: all movement then goes to the wall. Common practice: a fixing every 8 to 12 in;
level parts take screws from below, in slots where the top moves; upright ones take figure-eight plates where the top
moves along them (they swing), and buttons where it moves across them (the tongue goes in and out of its groove).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from casewright.design.blocks.body import Body
from casewright.design.blocks.top import Moisture, ScrewFixing, fixings, line_name, line_y
from casewright.design.blocks.top_buttons import fix_buttons
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.blocks.top_plates import fix_plates, plates_on_cleat
from casewright.design.blocks.top_support import Support, over, support_of
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, world_box
from casewright.findings import Severity

SCREW_EDGE = 8.0  # mm from the groove of a top's rail to its screws


class Way(Enum):
    """How the top is fixed to one part."""

    AUTO = "auto"
    SCREWS = "screws, slotted where the top moves"
    BUTTONS = "buttons"
    PLATES = "figure-eight plates"


def fix_made(
    d: Draft,
    kit: Kit,
    body: Body,
    made: MadeTop,
    wet: Moisture,
    supports: Sequence[Placed],
    way: Way = Way.AUTO,
    fixed: str = "front",
) -> tuple[str, ...]:
    """Fix a top to parts whose upper edges lie under it; return the names of the hardware.

    Tight is the part at `fixed` of those that run across the case ("front", "middle" or "rear"). `way` holds for
    upright parts (and is refused for level ones, which take screws). Raises KitError, ValueError.
    """
    under = sorted((support_of(d, body, s) for s in supports), key=lambda s: (world_box(s.placed)[0][1], s.name))
    across = [s for s in under if s.along_x] or under[:1]
    first = across[_PLACE[fixed](len(across))]
    f = _fixing(d, kit, body, made, wet, across, fixed)
    names: list[str] = []
    for s in under:
        if s.level:
            _screwed(f, made, s)
        elif _way(s, s is first, way) is Way.PLATES:
            names += fix_plates(f, made, s)
        else:
            names += fix_buttons(f, made, s)
    return tuple(names)


_PLACE: dict[str, Callable[[int], int]] = {"front": lambda n: 0, "middle": lambda n: n // 2, "rear": lambda n: n - 1}


def _fixing(
    d: Draft, kit: Kit, body: Body, made: MadeTop, wet: Moisture, across: Sequence[Support], fixed: str
) -> ScrewFixing:
    """Return what the lines of screws share: where the top stays put, on which of the parts across the case."""
    wanted = min(body.frame + d.practice["top.screw_from_frame"], made.front_to - SCREW_EDGE)
    front = line_y(across[0].placed, wanted)
    i = _PLACE[fixed](len(across))
    lo, hi = world_box(across[i].placed)
    line = front if i == 0 else _within(made, lo[1], hi[1])
    return ScrewFixing(
        d=d, kit=kit, wet=wet, fixed=line, coefficient=made.coefficient, moves=made.moves, stays=fixed, front=front
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """Sides that take buttons or plates between ties: `way`, the spans (y) that are free, and the sides themselves."""

    way: Way
    spans: tuple[Span, ...]
    sides: tuple[Placed, ...]


def fix_to_walls(
    d: Draft,
    kit: Kit,
    body: Body,
    made: MadeTop,
    wet: Moisture,
    ties: Sequence[Placed],
    walls: Walls,
    fixed: str = "front",
) -> tuple[str, ...]:
    """Fix a top by screws through ties, tight in the one at `fixed`, and by buttons or plates along the sides.

    Screws hold it to the rear tie as well where that is long, or where a side has no room. Returns the names of the
    hardware.
    """
    across = [support_of(d, body, tie) for tie in ties]
    rear = across[-1]
    f = _fixing(d, kit, body, made, wet, across, fixed)
    for tie in across[:-1]:
        _screwed(f, made, tie)
    names: list[str] = []
    bare = False
    for side in walls.sides:
        got = []
        for i, free in enumerate(walls.spans):
            s = support_of(d, body, side)
            part = f".{('front', 'rear')[i]}" if len(walls.spans) > 1 else ""
            s = replace(s, span=free, name=s.name + part, part=part)
            got += plates_on_cleat(f, body, made, s) if walls.way is Way.PLATES else fix_buttons(f, made, s)
        names += got
        bare = bare or not got
    lo, hi = world_box(rear.placed)
    if not names:
        d.find(
            "top.fixing",
            Severity.STOP,
            "top.fixing",
            f"{walls.way.value} find no room along the sides, between the ties and over what is fixed there",
            source="common practice",
            remedy='top.fixing = "auto"',
        )
    if bare or fixed == "rear" or hi[0] - lo[0] > 2 * d.practice["top.fixing_spacing"]:
        _screwed(f, made, rear)
    return tuple(names)


def _way(s: Support, first: bool, way: Way) -> Way:
    if way is not Way.AUTO:
        return way
    return Way.PLATES if first or not s.along_x else Way.BUTTONS


def _screwed(f: ScrewFixing, made: MadeTop, s: Support) -> None:
    """Lines of screws along a part that runs across the case, single screws at the ends of one that runs back."""
    lo, hi = world_box(s.placed)
    x = (max(lo[0], made.across[0]), min(hi[0], made.across[1]))
    if s.along_x:
        y = next((y for y in (f.fixed, f.front) if lo[1] < y < hi[1]), _within(made, lo[1], hi[1]))
        f.line(f"top~{s.name}", s.placed, over(made, y), x, y, fixings(f.d, hi[0] - lo[0]), line_name(s.name))
        if s.name == "stretcher.front":
            f.land(s.placed, over(made, y))
        return
    inset = f.d.practice["top.screw_ends"]
    for word, y in (("front", lo[1] + inset), ("rear", hi[1] - inset)):
        f.line(
            f"top~{s.name}.{word}", s.placed, over(made, y), x, y, 1, line_name(f"{s.name}.{word}")
        )  # fmt: skip


def _within(made: MadeTop, low: float, high: float) -> float:
    """Return the middle of what a part and the top's rear member have in common (y)."""
    lo, hi = world_box(made.rear)
    a, b = max(low, lo[1]), min(high, hi[1])
    return (a + b) / 2 if b > a else (low + high) / 2
