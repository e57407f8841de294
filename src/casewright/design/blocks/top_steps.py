"""The steps of a top that is laid on: cut to size once what it covers stands, then joined.

Each is silent where a piece has no such top.
"""

from __future__ import annotations

from collections.abc import Iterable

from casewright.design.assembly import Joint
from casewright.design.blocks.step_words import (
    BACKWARDS,
    BORE,
    DOWNWARDS,
    FORWARDS,
    GLUE,
    LEFTWARDS,
    LIFT,
    PLANE,
    RIGHTWARDS,
    SAW,
    UPWARDS,
    by,
)
from casewright.design.draft import Draft
from casewright.design.sequence import Sequence

TIGHT = {"front": "tight at the front", "middle": "tight in the middle", "rear": "tight at the rear"}
ONTO = {"left": RIGHTWARDS, "right": LEFTWARDS, "front": BACKWARDS}


def top_parts(d: Draft) -> list[str]:
    """Return the names of the top's parts in the order in which they are joined on the bench."""
    if d.has("top_frame.front"):
        return ["top_frame.front", "top_frame.left", "top_frame.right", "top", "top_frame.rear"]
    groups = ("top_end", "top_edging")
    return ["top"] + [f"{g}.{side}" for g in groups for side in ("left", "right", "front") if d.has(f"{g}.{side}")]


def set_joints(d: Draft) -> list[Joint]:
    """Return the joints that hold the parts of a top to each other; none where it is one part."""
    parts = {d.full(name) for name in top_parts(d)}
    return [joint for joint in d.joints if {joint.a, joint.b} <= parts]


def cut_top(s: Sequence, d: Draft) -> None:
    """The top gets its size once what it covers stands; what is let into it is measured from its edges after that."""
    if not d.has("top"):
        return
    over = "over the case and its mouldings" if d.has("crown/front") else "over the case"
    top = d.at("top").part
    if len(top_parts(d)) > 1:
        text = f"Cut the top's parts to size {over}: the panel is smaller than the top by what is joined to its edges"
    else:
        first = "Flatten the top and cut it" if top.blank.made_of is not None else "Cut the top"
        then = "; then band its edges" if top.bands else ""
        text = f"{first} to size {over}, its edges square to each other{then}"
    s.work(text, (SAW, *((PLANE,) if top.blank.made_of is not None else ())), cuts=top_parts(d))


def join_top(s: Sequence, d: Draft, moved: float) -> None:
    """Join on the bench what belongs to a top: ends, edging, frame. Silent where it is one part."""
    first, *rest = top_parts(d) if d.has("top") else [""]
    if not rest:
        return
    s.bring([first], "Lay the top's first part face down on a blanket", into="top.set")
    words = "glue it on"
    if d.has("top_frame.front"):
        words = "glue it: the tenons, and the panel in its grooves too, as a sheet does not move"
    elif d.has("top_end.left"):
        words = "peg it from below: glue at the middle peg only, so that the top can move in its ends"
    for name in rest:
        way = FORWARDS if d.has("top_frame.front") else ONTO[name.rpartition(".")[2]]
        s.bring(
            [name],
            f"Fit it dry, then {words}",
            into="top.set",
            moves=by(way, moved / 2),
            cautions=(GLUE,),
        )


def bore_top(s: Sequence, d: Draft, moved: float, later: Iterable[str] = ()) -> None:
    """Lay the top on dry and bore it for its screws through the holes under it; then it comes off for its finish.

    `later` names hardware (plates, buttons) through which it is bored once it is there.
    """
    if not d.has("top"):
        return
    parts = top_parts(d)
    before = {*s.joints_of(*later), *(joint.id.removeprefix(d.path + "/") for joint in set_joints(d))}
    s.bring(
        parts,
        "Lay the top on dry, its overhangs equal and parallel, and clamp it",
        moves=by(DOWNWARDS, moved),
        cautions=(LIFT,),
        dry=True,
    )
    s.drill(
        "Bore the top for its screws from below, through the holes and slots that hold it: with a stop on the bit, so "
        "that nothing comes out above",
        (BORE,),
        makes=[j for j in s.joints_of(*parts) if j not in before],
        made_in=parts,
    )
    s.remove(parts, "Take the top off again for its finish", by(UPWARDS, moved))
