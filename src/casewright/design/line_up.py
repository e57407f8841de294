"""Matching pieces line up: rails, pulls and mouldings are brought to the heights of those of a leading case.

Common practice: the eye runs along a row of pieces and stops at every line that lies a little higher or lower. Of cases
of one height that with the most rails leads; of several, one whose pulls stay in the middle of what frames them. Rows
that give no size of their own follow its rails as far as the shop's reach; pulls follow those of the row that matches,
of a case of any height; a stand and a top whose height and thickness the order leaves open follow the base moulding and
the crown of the case that says them, or leads. What cannot follow is found.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import chain

from casewright.design.assembly import PieceDesign
from casewright.design.blocks.in_line import edges_of
from casewright.design.parts import Hardware, Part, Placed
from casewright.design.sites import world_box
from casewright.order.pieces.case import CaseOrder
from casewright.order.pieces.lines import Edges, RowLine

Design = Callable[[CaseOrder], PieceDesign]
STANDS = ("feet", "bracket feet", "plinth")  # whose height is that of the body's underside


def lead(
    cases: Sequence[CaseOrder], design: Design, key: Callable[[CaseOrder], str], reach: float
) -> tuple[CaseOrder, ...]:
    """Return the cases, in the given order, each with the lines that it is to follow; `key` tells unequal ones apart.

    Which one leads does not depend on their order. A stand's height or a top's thickness moves by `reach` mm at most.
    """
    different = {key(case): case for case in cases}
    if len(different) < 2:
        return tuple(cases)
    led = _with_lines(_with_mouldings(different, design, reach), design)
    return tuple(_named(led[key(case)], case) for case in cases)


def _named(led: CaseOrder, case: CaseOrder) -> CaseOrder:
    """Return a led case under the name, and in the hands and number, in which an equal one is ordered."""
    return replace(led, name=case.name, hands=case.hands, count=case.count, place=case.place)


def _group(case: CaseOrder) -> tuple[float, float]:
    """Return what cases have in common that stand, or hang, beside each other: height, and height over the floor."""
    return case.height, case.stand.height if case.stand.kind == "wall" else 0.0


# --- mouldings ---


def _with_mouldings(cases: dict[str, CaseOrder], design: Design, reach: float) -> dict[str, CaseOrder]:
    """Return the cases with stands and tops that follow, and the edges of mouldings that theirs are held against."""
    out = dict(cases)
    based = [k for k, case in cases.items() if case.base]
    if len(based) > 1:
        first = max(based, key=lambda k: (not cases[k].stand.free, len(rails_of(design(cases[k]))), k))
        edges = edges_of(design(cases[first]).placed, "base")
        if edges is not None:
            out |= {k: _on_stand(out[k], edges, reach) for k in based}
    for group in _groups(out).values():
        crowned = [k for k in group if out[k].crown]
        if len(crowned) > 1:
            _follow_crown(out, crowned, design, reach)
    return out


def _on_stand(case: CaseOrder, edges: Edges, reach: float) -> CaseOrder:
    """Return a case with its base moulding on a line, where its stand is free to go there."""
    stand = case.stand
    if stand.free and stand.kind in STANDS and abs(stand.height - edges[0]) <= reach:
        stand = replace(stand, height=edges[0])
    return replace(case, stand=stand, lines=replace(case.lines, base=edges))


def _follow_crown(cases: dict[str, CaseOrder], crowned: Sequence[str], design: Design, reach: float) -> None:
    """Bring tops without a thickness of their own to that of one of them, as far as their boards give it."""
    first = max(crowned, key=lambda k: (cases[k].top.thickness is not None, len(rails_of(design(cases[k]))), k))
    leader = design(cases[first])
    edges, thick = edges_of(leader.placed, "crown"), _size(leader, "top.thickness")
    if edges is None or thick is None:
        return
    for k in crowned:
        top, own = cases[k].top, _size(design(cases[k]), "top.thickness")
        if top.thickness is None and own is not None and 0.0 < own - thick <= reach:
            top = replace(top, thickness=thick)
        cases[k] = replace(cases[k], top=top, lines=replace(cases[k].lines, crown=edges))


def _size(piece: PieceDesign, name: str) -> float | None:
    return next((s.value for s in piece.sizes if s.name == name), None)


def _wood(placed: Placed) -> bool:
    return isinstance(placed.thing, Part)


# --- rails and pulls ---


def _groups(cases: dict[str, CaseOrder]) -> dict[tuple[float, float], list[str]]:
    out: dict[tuple[float, float], list[str]] = {}
    for k in sorted(cases):
        out.setdefault(_group(cases[k]), []).append(k)
    return out


def _with_lines(cases: dict[str, CaseOrder], design: Design) -> dict[str, CaseOrder]:
    """Return the cases with the rails and the rows that they follow: leaders first, each follows those before it."""
    rails = {k: rails_of(design(case)) for k, case in cases.items()}
    groups = _groups(cases)
    leaders = {group: max(of, key=lambda k: (len(rails[k]), _pulls_stay(cases[k]), k)) for group, of in groups.items()}
    out, before = dict(cases), dict[float, tuple[RowLine, ...]]()
    for group, first in sorted(leaders.items(), key=lambda item: (len(rails[item[1]]), item[1]), reverse=True):
        hung, fellows = group[1], groups[group]
        lines = rails[first] if len(fellows) > 1 else ()
        for k in (first, *(k for k in fellows if k != first)):
            follows = replace(out[k].lines, rails=lines, rows=before.get(hung, ()))
            out[k] = replace(out[k], lines=follows)
            if k == first:
                before[hung] = tuple(chain(before.get(hung, ()), rows_of(design(out[k]))))
    return out


def _pulls_stay(case: CaseOrder) -> bool:
    """True where the pulls of drawers stand in the middle of what frames them, and follow no other."""
    return case.fronts.drawer != "slab"


def rails_of(piece: PieceDesign) -> tuple[float, ...]:
    """Return the heights of the upper edges of what parts its rows, mm over the floor, from below."""
    edges = set()
    for placed in piece.placed:
        name = placed.path.partition("/")[2]
        if _wood(placed) and name.startswith(("frame/rail[", "shelf[", "rail[")):
            edges.add(round(world_box(placed)[1][2], 3))
    return tuple(sorted(edges))


def rows_of(piece: PieceDesign) -> tuple[RowLine, ...]:
    """Return the rows of drawers and doors of a piece with the heights of their pulls, from below, each once."""
    rows = set()
    for placed in piece.placed:
        group, pull, _ = placed.path.rpartition("/pull")
        if not pull or not isinstance(placed.thing, Hardware):
            continue
        boxes = [world_box(p) for p in piece.placed if p.path.startswith(f"{group}/") and _wood(p)]
        low, high = min(lo[2] for lo, _ in boxes), max(hi[2] for _, hi in boxes)
        holds = "drawer" if group.endswith("/face") else "door"
        rows.add((low, high, holds, placed.frame.origin[2]))
    return tuple(RowLine(low=low, high=high, holds=holds, pull=z) for low, high, holds, z in sorted(rows))
