"""The order of assembly of a bedside cabinet, with the cautions that belong beside the steps."""

from __future__ import annotations

from casewright.design.assembly import Caution, Lie
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.device_steps import cut_recess, lay_module
from casewright.design.blocks.door_steps import bench_door, dry_hung_door, hang_door
from casewright.design.blocks.drawer_steps import (
    bench_drawer,
    bore_fronts,
    bring_case_members,
    dry_hung,
    dry_slides,
    hang_drawer,
)
from casewright.design.blocks.face_frame import Opening, glue_frame, trim_frame
from casewright.design.blocks.feet_steps import bring_feet, feet_of, make_feet, screw_levellers_in
from casewright.design.blocks.finish_steps import finish_body, finish_top
from casewright.design.blocks.panel_steps import prepare_panels
from casewright.design.blocks.step_words import (
    BACKWARDS,
    DOWNWARDS,
    FORWARDS,
    GLUE,
    LEFTWARDS,
    LIFT,
    PINS,
    ROUT,
    TIP,
    UPWARDS,
    by,
    stand,
)
from casewright.design.blocks.top import TIES
from casewright.design.blocks.top_edge import run_edge
from casewright.design.blocks.top_steps import TIGHT, bore_top, cut_top
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sequence import Sequence
from casewright.order.pieces.bedside import TopOrder
from casewright.stock.sundries import Sundry, needs

HEAD_MOST = 1000.0  # mm: a case no larger than this is turned upside down by two people (common practice)


def plan(d: Draft, kit: Kit, drawer: Opening, door: Opening, moved: float, top: TopOrder) -> None:
    """Plan every step; `moved` is a distance (mm) that clears the piece."""
    s = Sequence(d)
    prepare_panels(s, d)
    frame_and_case(s, d, moved)
    bench_drawer(s, d, f"drawer[{drawer.cell}]", moved)
    bench_door(s, d, f"door[{door.cell}]", moved)
    trim(s, d, moved)
    cut_top(s, d)
    run_edge(s, d, top.edge)
    s.lie = Lie.UPRIGHT
    bore_top(s, d, moved)
    if d.has("device"):
        cut_recess(s, d, "the top's underside, measured from its finished edges")
    dry_hang(s, d, drawer, door, moved)
    finish_body(s, kit)
    finish_top(s, kit)
    hang(s, d, drawer, door, moved, top.fixed)


def dry_hang(s: Sequence, d: Draft, drawer: Opening, door: Opening, moved: float) -> None:
    """Drawer and door meet the case before any finish: gaps, bores and pilots are settled, then all comes off."""
    g, h = f"drawer[{drawer.cell}]", f"door[{door.cell}]"
    names = dry_hung(d, g)
    names += dry_hung_door(d, h)
    if not names:
        return
    s.bring(
        names,
        f"Hang drawer and door dry{dry_slides(d, [g])}, the front held by a screw through its pull hole into the box, "
        "and set every gap with shims",
        moves=by(BACKWARDS, moved),
        dry=True,
        needs=needs(Sundry.SHIMS),
    )
    if dry_hung(d, g):
        bore_fronts(s, d, [g])
    s.remove(names, "Take drawer, slides, door and hinges off again for the finish", by(FORWARDS, moved))


def frame_and_case(s: Sequence, d: Draft, moved: float) -> None:
    """Face frame on the bench, then the carcass, then the frame on the carcass."""
    s.bring(["frame/stile.left"], "Lay the left stile face down", into="frame")
    rails = [n for n in ("frame/rail.top", "frame/rail.drawer", "frame/rail.bottom") if d.has(n)]
    s.bring(
        rails,
        "Glue and screw the rails to it, faces flush, square",
        into="frame",
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
    )
    s.bring(
        ["frame/stile.right"],
        "Close the frame with the right stile; compare the diagonals",
        into="frame",
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
        squares=True,
    )
    s.lie = Lie.FRONT
    s.bring(["side.left"], stand("left side", moved), packed=True)
    inner = ["bottom", *(n for n in TIES if d.has(n)), "base_rail"]
    s.bring(
        inner,
        "Glue and screw bottom, stretchers and base rail to it",
        moves=by(LEFTWARDS, moved),
        cautions=(GLUE,),
        dry_fit=True,
        packed=True,
    )
    s.bring(
        ["side.right"],
        "Close the carcass with the right side; compare the diagonals",
        moves=by(LEFTWARDS, moved),
        cautions=(GLUE,),
        packed=True,
        squares=True,
    )
    s.lie = Lie.BACK
    s.bring(["frame"], glue_frame(d), moves=by(BACKWARDS, moved / 2), cautions=(GLUE,))
    trim_seams(s, d)
    bring_blocks(s, d, moved, "front")
    s.lie = Lie.FRONT
    bring_case_members(s, d, "drawer[c1,r1]", moved)
    bring_blocks(s, d, moved, "rear")
    s.bring(
        ["back"],
        "Glue and nail the back into its rabbets; it squares the case",
        moves=by(FORWARDS, moved),
        cautions=(GLUE, PINS),
    )


def bring_blocks(s: Sequence, d: Draft, moved: float, place: str) -> None:
    """Corner blocks of the front or the rear; the case lies so that the rail's screws are driven from above."""
    blocks = [f"block.{place}.{hand}" for _, hand in HANDS if d.has(f"block.{place}.{hand}")]
    if blocks:
        text = f"Glue and screw the {place} corner blocks, flush with the underside"
        s.bring(blocks, text, moves=by(UPWARDS, moved / 2), cautions=(GLUE,))


def trim_seams(s: Sequence, d: Draft) -> None:
    """Trim the frame that is glued on, and run its seams."""
    hands = [hand for _, hand in HANDS]
    parts = [n for hand in hands for n in (f"frame/stile.{hand}", f"side.{hand}") if d.has(n)]
    s.work(trim_frame(d), (ROUT,), makes=s.joints_of(*parts), made_in=parts)


def under(moved: float) -> Lie:
    """Return how a case lies while it gets what stands under it; `moved` is its largest size, mm."""
    return Lie.HEAD if moved <= HEAD_MOST else Lie.BACK


def trim(s: Sequence, d: Draft, moved: float) -> None:
    """Mouldings as glued sets, then the feet; the case lies on its back, then upside down if two can turn it."""
    sets = [n for n in ("base", "crown") if d.has(f"{n}/front")]
    if sets:
        s.lie = Lie.BACK
    for name in sets:
        for side in ("left", "front", "right"):
            s.bring(
                [f"{name}/{side}"],
                f"Glue the mitres of the {name} set together on the bench",
                into=name,
                cautions=(GLUE,),
            )
        s.bring(
            [name],
            f"Slip the {name} set on from the front, glue and pin it",
            moves=by(BACKWARDS, moved / 2),
            cautions=(GLUE, PINS),
        )
    make_feet(s, d)
    if feet_of(d):
        s.lie = under(moved)
    bring_feet(s, d, moved)


def hang(s: Sequence, d: Draft, drawer: Opening, door: Opening, moved: float, fixed: str) -> None:
    """After the finish: levelling feet, top, module, slides, drawer, door; then where it stands."""
    s.lie = Lie.BACK
    screw_levellers_in(s, d)
    s.lie = Lie.UPRIGHT
    upper = ["top"]
    s.bring(["top"], "Lay the finished top face down on a blanket", into="top.set")
    if d.has("device"):
        lay_module(s, d, into="top.set")
        upper += ["device", "device_keeper"]
    s.bring(
        upper,
        f"Lay the top on where it was bored, fix it from below: {TIGHT[fixed]}, free in the slots",
        moves=by(DOWNWARDS, moved),
        cautions=(LIFT,),
    )
    hang_drawer(s, d, f"drawer[{drawer.cell}]", moved)
    hang_door(s, d, f"door[{door.cell}]", moved)
    set_in_place(s, d)


def set_in_place(s: Sequence, d: Draft, cautions: tuple[Caution, ...] = (TIP,)) -> None:
    """Bring the finished piece where it stands and level it."""
    levelled = any(path.endswith("/leveller") for path in d.under(""))
    text = "turn its levelling feet until it stands level and all four bear" if levelled else "shim it level"
    groups = [path.removeprefix(d.path + "/").partition("[")[0] for path in d.under("")]
    hung = " and ".join(f"{word}s" for word in ("door", "drawer") if word in groups)
    again = f"; set {hung} once more" if hung else ""
    shims = () if levelled else needs(Sundry.SHIMS)
    s.work(f"Set the piece in its place, {text}{again}", (LIFT, *cautions), needs=shims)
