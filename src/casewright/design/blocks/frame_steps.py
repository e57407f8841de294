"""The steps of a face frame on the bench: member by member, or in sets where a dowel leaves no other way.

Pocket screws let every member come from the side. The dowels of a narrow centre stile do not: it goes onto the rails
over and under it before the outer stiles close the frame, and what stands in its bays with it.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.blocks.step_words import DOWNWARDS, GLUE, LEFTWARDS, RIGHTWARDS, UPWARDS, by
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.sequence import Sequence
from casewright.design.sites import world_box
from casewright.order.pieces.bays import BayOrder

LEFT, RIGHT = "frame/stile.left", "frame/stile.right"
TOP, BOTTOM = "frame/rail.top", "frame/rail.bottom"
ONTO = "Glue and screw the next member to it, faces flush, square"
IN_TURN = (
    "Glue and screw rails and stiles to it, one after the other in the order that they are named, faces flush, square"
)
SET_ONTO = "Put the next members on their dowels and glue and screw them to it, faces flush, square"


def frame_steps(q: Sequence, d: Draft, bays: BayOrder, moved: float) -> None:
    """Join the frame on the bench, face down, from the left stile; `moved` is a distance (mm) that clears the piece."""
    in_sets = _stiles_on_dowels(d)
    sets = _Sets(q=q, d=d, moved=moved).whole(bays) if in_sets else _one_by_one(d)
    q.bring([LEFT], "Lay the left stile face down", into="frame")
    for names in sets:
        single = ONTO if in_sets or len(sets) == 1 else IN_TURN
        text = single if len(names) == 1 else ONTO.replace("the next member", "the ends of the next set")
        q.bring(names, text, into="frame", moves=by(LEFTWARDS, moved / 2), cautions=(GLUE,))
    text = "Close the frame with the right stile; compare the diagonals"
    q.bring([RIGHT], text, into="frame", moves=by(LEFTWARDS, moved / 2), cautions=(GLUE,), squares=True)


def _stiles_on_dowels(d: Draft) -> bool:
    return any("/frame/stile[" in j.id and j.id.endswith(".dowel") for j in d.joints)


def _one_by_one(d: Draft) -> list[list[str]]:
    names = [path.removeprefix(d.path + "/") for path in d.under("frame")]
    inner = [n for n in names if n not in (LEFT, RIGHT)]
    inner.sort(key=lambda n: (round(world_box(d.at(n))[0][0], 3), -world_box(d.at(n))[0][2], n))
    return [[n] for n in inner]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sets:
    """Joins what must be one before the outer stiles come. A set is the names of its members."""

    q: Sequence
    d: Draft
    moved: float

    def whole(self, bays: BayOrder) -> list[list[str]]:
        """Return the sets that stand between the outer stiles, from above."""
        inner, members = self._line(bays, "", "", columns=False)
        return self._runs("whole", [[], *inner, []], [TOP, *members, BOTTOM], (DOWNWARDS, UPWARDS))

    def _line(self, bay: BayOrder, c: str, r: str, *, columns: bool) -> tuple[list[list[list[str]]], list[str]]:
        """Return the sets between the members of a bay along one axis, and these members.

        What is split along the same axis again stands in the same line.
        """
        if len(bay.parts) < 2 or bool(bay.columns) != columns:
            if len(bay.parts) == 1:
                return self._line(bay.parts[0], *_of_part(bay, 0, c, r), columns=columns)
            return [self._across(bay, c, r)], []
        sets: list[list[list[str]]] = []
        members: list[str] = []
        for i, part in enumerate(bay.parts):
            own = _of_part(bay, i, c, r)
            inner, parted = self._line(part, *own, columns=columns)
            sets += inner
            members += parted
            name = f"frame/stile[u{own[0]}{',r' + r if r else ''}]" if columns else f"frame/rail[{_key(*own)}]"
            if i < len(bay.parts) - 1 and self.d.has(name):
                members.append(name)
        return sets[: len(members) + 1], members

    def _across(self, bay: BayOrder, c: str, r: str) -> list[list[str]]:
        """Return the sets of a bay that is split along the other axis; none where it is not."""
        if not bay.parts:
            return []
        columns = bool(bay.columns)
        inner, members = self._line(bay, c, r, columns=columns)
        return self._runs(_key(c, r), inner, members, (RIGHTWARDS, LEFTWARDS) if columns else (DOWNWARDS, UPWARDS))

    def _runs(
        self, label: str, inner: list[list[list[str]]], members: list[str], ways: tuple[Vec, Vec]
    ) -> list[list[str]]:
        """Join members that what stands between them ties together, and return the sets that come of it."""
        if not members:
            return inner[0]
        runs: list[tuple[list[list[str]], str, list[list[str]]]] = []
        for i, member in enumerate(members):
            if i and inner[i]:
                runs[-1][2].append([member])
            else:
                runs.append(([] if i else inner[0], member, []))
            runs[-1][2].extend(inner[i + 1])
        return [self._joined(f"frame_set[{label}].{n}", run, ways) for n, run in enumerate(runs, start=1)]

    def _joined(
        self, label: str, run: tuple[list[list[str]], str, list[list[str]]], ways: tuple[Vec, Vec]
    ) -> list[str]:
        before, first, after = run
        if not before and not after:
            return [first]
        held = [first]
        self.q.bring(held, "Lay the next member of the frame face down: a set is joined before the frame", into=label)
        for sets, way in ((reversed(before), ways[0]), (after, ways[1])):
            for names in sets:
                self.q.bring(names, SET_ONTO, into=label, moves=by(way, self.moved / 2), cautions=(GLUE,))
                held += names
        return held


def _of_part(bay: BayOrder, i: int, c: str, r: str) -> tuple[str, str]:
    """Return the numbers (column, row) of a part of a bay."""
    if bay.columns:
        return (f"{c}.{i + 1}" if c else str(i + 1)), r
    return c, (f"{r}.{i + 1}" if r else str(i + 1))


def _key(c: str, r: str) -> str:
    return ",".join(x for x in (f"c{c}" if c else "", f"r{r}" if r else "") if x) or "all"
