"""Matching pieces line up: rails of cases of one height are brought to the heights of one of them, the leading one.

Common practice: the eye runs along a row of pieces and stops at every rail that lies a little higher or lower. The
case with the most rails leads those of its height; rows that give no size of their own follow it as far as the shop's
reach, and what cannot follow is found.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Part
from casewright.design.sites import world_box
from casewright.order.pieces.case import CaseOrder

Design = Callable[[CaseOrder], PieceDesign]


def lead(cases: Sequence[CaseOrder], design: Design, key: Callable[[CaseOrder], str]) -> tuple[CaseOrder, ...]:
    """Return the cases, in the given order, each with the lines that it is to follow; `key` tells unequal ones apart.

    Which one leads does not depend on their order.
    """
    groups: dict[float, list[CaseOrder]] = {}
    for case in cases:
        groups.setdefault(case.height, []).append(case)
    lines = {height: _lines(group, design, key) for height, group in groups.items()}
    return tuple(replace(case, lines=lines[case.height]) for case in cases)


def _lines(group: Sequence[CaseOrder], design: Design, key: Callable[[CaseOrder], str]) -> tuple[float, ...]:
    different = {key(case): case for case in group}
    if len(different) < 2:
        return ()
    found = [(rails_of(design(case)), name) for name, case in sorted(different.items())]
    return max(found, key=lambda f: (len(f[0]), f[1]))[0]


def rails_of(piece: PieceDesign) -> tuple[float, ...]:
    """Return the heights of the upper edges of what parts its rows, mm over the floor, from below."""
    edges = set()
    for placed in piece.placed:
        name = placed.path.partition("/")[2]
        if isinstance(placed.thing, Part) and name.startswith(("frame/rail[", "shelf[", "rail[")):
            edges.add(round(world_box(placed)[1][2], 3))
    return tuple(sorted(edges))
