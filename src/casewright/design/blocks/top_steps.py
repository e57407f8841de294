"""The steps of a top that is laid on: cut to size once what it covers stands, then joined.

Each is silent where a piece has no such top.
"""

from __future__ import annotations

from casewright.design.blocks.step_words import BACKWARDS, FORWARDS, GLUE, LEFTWARDS, RIGHTWARDS, SAW, by
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
    s.work(text, (SAW,))


def join_top(s: Sequence, d: Draft, moved: float) -> None:
    """Lay the top on the bench and join what belongs to it: ends, edging, frame."""
    if not d.has("top"):
        return
    first, *rest = top_parts(d)
    s.bring([first], "Lay the top face down on a blanket", into="top.set")
    for name in rest:
        way = FORWARDS if d.has("top_frame.front") else ONTO[name.rpartition(".")[2]]
        s.bring(
            [name],
            "Fit it dry, then join it: glue only where the wood beside it does not move across the joint",
            into="top.set",
            moves=by(way, moved / 2),
            cautions=(GLUE,),
        )
