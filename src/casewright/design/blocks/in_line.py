"""What of a piece is brought to the height of a matching piece: the place of a pull, the edges of mouldings.

Common practice. A pull follows that of the row that matches its own, where nothing else says where it stands: on a
plain front, and on the stile of a door. In what frames it, it stays in the middle.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from casewright.design.draft import Draft
from casewright.design.parts import Part, Placed
from casewright.design.sites import Span, world_box
from casewright.findings import Severity
from casewright.order.pieces.lines import Edges, RowLine

IN_LINE = 0.5  # mm: the eye sees no more


def pull_in_line(
    d: Draft, name: str, own: float, row: Span, holds: str, rows: Sequence[RowLine], room: Span | None
) -> float:
    """Return the height of a pull: as that of the matching row in `rows`, else its `own`, mm over the floor.

    `row` is the span of its front; a row matches that holds the same and whose edges lie within the shop's reach.
    `room` is where the pull may stand, None where it stays; a finding says where it cannot follow.
    """
    line = _matching(d, row, holds, rows)
    if line is None or abs(line.pull - own) <= IN_LINE:
        return own
    if room is not None and room[0] - 1e-6 <= line.pull <= room[1] + 1e-6:
        return line.pull
    remedy = "rows of one height, or plain fronts, on which a pull can move"
    out_of_line(d, name, "its pull", own - line.pull, remedy)
    return own


def _matching(d: Draft, row: Span, holds: str, rows: Sequence[RowLine]) -> RowLine | None:
    reach = d.practice["style.reach"]
    near = [r for r in rows if r.holds == holds and max(abs(r.low - row[0]), abs(r.high - row[1])) <= reach]
    return min(near, key=lambda r: (abs(r.low - row[0]) + abs(r.high - row[1]), r.low, r.pull), default=None)


def edges_of(placed: Iterable[Placed], moulding: str) -> Edges | None:
    """Return the lower and upper edge of a run of moulding ("base" or "crown") over the floor, mm; None without one."""
    run = (p for p in placed if p.path.partition("/")[2].startswith(f"{moulding}/") and isinstance(p.thing, Part))
    boxes = [world_box(p) for p in run]
    return (min(lo[2] for lo, _ in boxes), max(hi[2] for _, hi in boxes)) if boxes else None


def moulding_in_line(d: Draft, name: str, edges: Edges | None, line: Edges | None) -> None:
    """Find a moulding whose lower or upper edge is off that of a matching piece."""
    if edges is None or line is None:
        return
    low, high = edges[0] - line[0], edges[1] - line[1]
    off, edge = max(((low, "lower"), (high, "upper")), key=lambda e: abs(e[0]))
    if abs(off) > IN_LINE:
        key = "stand.height" if name == "base" else "top.thickness"
        remedy = f"one {key} and one stick for the role {name} in all pieces of the set, or leave {key} out"
        out_of_line(d, name, f"the {edge} edge of its {name} moulding", off, remedy)


def out_of_line(d: Draft, name: str, what: str, off: float, remedy: str) -> None:
    """Find what lies `off` mm over (below 0: under) that of a matching piece."""
    d.find(
        "style.line_up",
        Severity.WARN,
        name,
        f"{what} lies {abs(off):.1f} mm {'over' if off > 0 else 'under'} that of a matching piece",
        value=abs(off),
        limit=IN_LINE,
        source="the order asks for pieces that line up",
        remedy=remedy,
    )
