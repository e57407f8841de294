"""The order of a sheet's settings: every line once, a plate before it is cut, no more visits than the best order has.

The best order is found by enumerating all orders of small trees, one line at a time, with no code of the project.
"""

from __future__ import annotations

from functools import cache

from hypothesis import given
from hypothesis import strategies as st

from casewright.layout.model import Axis, Cut, Laid, Rest
from casewright.packet.cut_order import Node, ordered_runs

SIZES = (60, 90, 130)


@st.composite
def trees(draw: st.DrawFn, axis: Axis = Axis.RIP, depth: int = 3) -> Node:
    """A cut tree whose pieces have sizes of few kinds; places do not matter here."""
    width = draw(st.sampled_from(SIZES))
    if depth == 0 or draw(st.booleans()):
        return Laid(part="A", x=0, y=0, length=width, width=width, turned=False)
    other = Axis.CROSSCUT if axis is Axis.RIP else Axis.RIP
    pieces = draw(st.lists(trees(other, depth - 1), min_size=1, max_size=3))
    rest = Rest(x=0, y=0, length=10, width=10, keep=False)
    lines = tuple(range(len(pieces)))
    return Cut(axis=axis, x=0, y=0, length=width, width=width, lines=lines, kerf=3, pieces=(*pieces, rest))


def setting(cut: Cut, piece: Node) -> str:
    return str(piece.length if cut.axis is Axis.CROSSCUT else piece.width)


def cuts_of(node: Node) -> list[Cut]:
    return [node, *(c for p in node.pieces for c in cuts_of(p))] if isinstance(node, Cut) else []


def fewest(root: Node) -> int:
    """Enumerate every order of single lines; a fence that stays where it is costs nothing."""
    cuts = cuts_of(root)
    at = {id(c): i for i, c in enumerate(cuts)}
    parent = {at[id(p)]: (at[id(c)], i) for c in cuts for i, p in enumerate(c.pieces) if isinstance(p, Cut)}

    @cache
    def left(done: tuple[int, ...], fence: tuple[Axis, str] | None) -> int:
        best = None
        for i, cut in enumerate(cuts):
            over, place = parent.get(i, (i, -1))
            free = place < 0 or done[over] > min(place, len(cuts[over].lines) - 1)
            if done[i] < len(cut.lines) and free:
                key = (cut.axis, setting(cut, cut.pieces[done[i]]))
                after = tuple(d + (k == i) for k, d in enumerate(done))
                cost = left(after, key) + (key != fence)
                best = cost if best is None else min(best, cost)
        return best or 0

    return left((0,) * len(cuts), None)


@given(trees())
def test_no_order_visits_a_fence_less_often(root: Node) -> None:
    visits = ordered_runs(root, setting)
    made: dict[int, int] = {}
    there = {id(root)}
    for visit in visits:
        assert len({run.key for run in visit}) == 1
        for run in visit:
            assert id(run.cut) in there, "cut before it was there"
            assert made.get(id(run.cut), 0) == run.first
            made[id(run.cut)] = run.first + len(run.pieces)
            there |= {id(p) for p in run.pieces} | ({id(run.last)} if run.last is not None else set())
    assert made == {id(c): len(c.lines) for c in cuts_of(root)}
    if sum(len(c.lines) for c in cuts_of(root)) <= 9:
        assert len(visits) == fewest(root)
