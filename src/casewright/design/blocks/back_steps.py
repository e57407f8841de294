"""Steps of a back: set into its rabbets, set on, or framed on the bench before it goes in."""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.step_words import (
    DUST,
    FORWARDS,
    GLUE,
    LEFTWARDS,
    PAINT,
    PINS,
    RAGS,
    by,
)
from casewright.design.draft import Draft
from casewright.design.frames import Z
from casewright.design.sequence import Sequence


def close_back(q: Sequence, d: Draft, moved: float) -> None:
    """Close a case from behind: the fixing rail, then the back, then the case's half of a split batten."""
    if d.has("fixing_rail"):
        q.bring(
            ["fixing_rail"],
            "Set the fixing rail under the top: pocket screws from behind, glue",
            moves=by(FORWARDS, moved),
            cautions=(GLUE,),
        )
    if d.has("back/stile.left"):
        _framed_back(q, d, moved)
        return
    q.bring(
        ["back"] if d.has("back") else [f"back[b{i}]" for i in range(1, 9) if d.has(f"back[b{i}]")],
        _back_text(d),
        moves=by(FORWARDS, moved),
        cautions=(GLUE, PINS),
    )
    if d.has("batten.case"):
        q.bring(
            ["batten.case", "batten.spacer"],
            "Glue the case's half of the split batten and the spacer to the back, the bevel down and towards the case; "
            "screw the half on from behind, through the back into the rail",
            moves=by(FORWARDS, moved),
            cautions=(GLUE,),
        )


def _framed_back(q: Sequence, d: Draft, moved: float) -> None:
    """Its frame is closed on the bench, from the left, then it goes into the rabbets."""
    muntins = [n for n in (f"back/muntin[m{i}]" for i in range(1, 20)) if d.has(n)]
    panels = [f"back[p{i}]/panel" for i in range(1, len(muntins) + 2)]
    free = "back[p1].panel.free" in d.led
    if free:
        q.finish("Colour and finish the solid panels of the back all over before they go in", (PAINT, RAGS, DUST))
    q.bring(["back/stile.left"], "Lay the left stile of the back down, groove up", into="back.set")
    rails = ["back/rail.top", "back/rail.bottom"]
    q.bring(
        rails[:1],
        "Glue the top rail's tenon into it",
        into="back.set",
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
    )
    how = "dry, free in its grooves" if free else "glue in its grooves"
    for i, panel in enumerate(panels):
        q.bring([panel], f"Slide the next panel in, {how}", into="back.set", moves=by(Z, moved))
        if i < len(muntins):
            text = "Glue the next muntin into the rail, onto the panel's edge"
            q.bring([muntins[i]], text, into="back.set", moves=by(Z, moved), cautions=(GLUE,))
    q.bring(rails[1:], "Close it below with the bottom rail", into="back.set", moves=by(Z, moved / 2))
    text = "Close it with the right stile; flat on the bench, compare the diagonals"
    q.bring(["back/stile.right"], text, into="back.set", moves=by(LEFTWARDS, moved / 2), cautions=(GLUE,), squares=True)
    text = "Glue and nail the framed back into its rabbets, screw it to the edges before it; it squares the case"
    q.bring(["back", *panels], text, moves=by(FORWARDS, moved), cautions=(PINS,))


def _back_text(d: Draft) -> str:
    """Return how the back goes on."""
    if "back.cover" not in d.led:
        glued = any(j.glued for j in d.joints if j.id.removeprefix(d.path + "/").startswith("back"))
        how = "Glue and nail the back into its rabbets" if glued else "Nail the back into its rabbets, without glue"
        return f"{how}; it squares the case"
    kinds = {j.kind for j in d.joints if j.id.removeprefix(d.path + "/").startswith("back")}
    how = "Glue and nail the back on"
    if kinds & {JointKind.SCREWS, JointKind.BUTT_SCREWS}:
        how = "Screw the back on, without glue" if JointKind.SCREWS in kinds else "Glue and screw the back on"
    return f"{how}: onto the rear edges, a little inside both sides, the case's diagonals equal; it squares the case"
