"""The order of assembly of a bedside cabinet, with the cautions that belong beside the steps."""

from __future__ import annotations

from casewright.design.blocks.body import HANDS
from casewright.design.blocks.device_steps import cut_recess, lay_module
from casewright.design.blocks.door_steps import bench_door, dry_hung_door, hang_door
from casewright.design.blocks.drawer_steps import (
    bench_drawer,
    bring_case_members,
    dry_hung,
    hang_drawer,
)
from casewright.design.blocks.face_frame import Opening, glue_frame, trim_frame
from casewright.design.blocks.feet_steps import bring_feet, make_feet
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
    UPWARDS,
    by,
)
from casewright.design.blocks.top import TIES
from casewright.design.blocks.top_edge import run_edge
from casewright.design.blocks.top_steps import TIGHT, cut_top
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sequence import Sequence
from casewright.order.pieces.bedside import TopOrder


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
        "Hang drawer and door dry, the front held by a screw through its pull hole into the box, and set every gap "
        "with shims",
        moves=by(BACKWARDS, moved),
        dry=True,
    )
    s.drill("Bore the front's pilot holes through the box; then carry the pull's holes on through it")
    s.remove(names, "Take drawer, slides, door and hinges off again for the finish", by(FORWARDS, moved))


def frame_and_case(s: Sequence, d: Draft, moved: float) -> None:
    """Face frame on the bench, then the carcass, then the frame on the carcass."""
    s.bring(["frame/stile.left"], "Lay the left stile face down", into="frame")
    rails = [n for n in ("frame/rail.top", "frame/rail.drawer", "frame/rail.bottom") if d.has(n)]
    s.bring(rails, "Glue and screw the rails to it, faces flush, square", into="frame", moves=by(LEFTWARDS, moved / 2))
    s.bring(
        ["frame/stile.right"],
        "Close the frame with the right stile; compare the diagonals",
        into="frame",
        moves=by(LEFTWARDS, moved / 2),
    )
    s.bring(["side.left"], "Stand the left side")
    inner = ["bottom", *(n for n in TIES if d.has(n)), "base_rail"]
    s.bring(
        inner,
        "Dry fit, then glue and screw bottom, stretchers and base rail to it",
        moves=by(LEFTWARDS, moved),
        cautions=(GLUE,),
    )
    s.bring(
        ["side.right"],
        "Close the carcass with the right side; compare the diagonals",
        moves=by(LEFTWARDS, moved),
        cautions=(LIFT,),
    )
    s.bring(["frame"], glue_frame(d), moves=by(BACKWARDS, moved / 2))
    s.work(trim_frame(d))
    bring_case_members(s, d, "drawer[c1,r1]", moved)
    blocks = [f"block.{p}.{h}" for p in ("front", "rear") for _, h in HANDS if d.has(f"block.{p}.{h}")]
    if blocks:
        s.bring(blocks, "Glue and screw the corner blocks, flush with the underside", moves=by(UPWARDS, moved / 2))
    s.bring(
        ["back"],
        "Glue and nail the back into its rabbets; it squares the case",
        moves=by(FORWARDS, moved),
        cautions=(PINS,),
    )


def trim(s: Sequence, d: Draft, moved: float) -> None:
    """Mouldings as glued sets, then the feet."""
    for name in [n for n in ("base", "crown") if d.has(f"{n}/front")]:
        for side in ("left", "front", "right"):
            s.bring(
                [f"{name}/{side}"],
                f"Glue the mitres of the {name} set together on the bench",
                into=name,
                cautions=(GLUE,),
            )
        s.bring([name], f"Slip the {name} set on, glue and pin it", moves=by(BACKWARDS, moved / 2), cautions=(PINS,))
    make_feet(s, d)
    bring_feet(s, d, moved)


def hang(s: Sequence, d: Draft, drawer: Opening, door: Opening, moved: float, fixed: str) -> None:
    """After the finish: top, module, slides, drawer, door."""
    upper = ["top"]
    s.bring(["top"], "Lay the finished top face down on a blanket", into="top.set")
    if d.has("device"):
        lay_module(s, d, into="top.set")
        upper += ["device", "device_keeper"]
    s.bring(
        upper,
        f"Lay the top on, fix it from below: {TIGHT[fixed]}, free in the slots",
        moves=by(DOWNWARDS, moved),
        cautions=(LIFT,),
    )
    hang_drawer(s, d, f"drawer[{drawer.cell}]", moved)
    hang_door(s, d, f"door[{door.cell}]", moved)
