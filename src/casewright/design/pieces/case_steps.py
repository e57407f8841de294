"""The order of assembly of a case: frame, shell with its grid, what closes it, fronts, finish, hang."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.design.assembly import Caution, Lie
from casewright.design.blocks.arched_rail import saw_arch
from casewright.design.blocks.back_steps import close_back
from casewright.design.blocks.base_steps import bring_base
from casewright.design.blocks.device_steps import cut_recess, in_the_top, lay_module
from casewright.design.blocks.door_steps import bench_door, bring_door_blocks, dry_hung_door, dry_knives, hang_door
from casewright.design.blocks.drawer_steps import (
    bench_drawer,
    bore_fronts,
    bring_case_members,
    dry_hung,
    dry_slides,
    hang_drawer,
)
from casewright.design.blocks.face_frame import glue_frame
from casewright.design.blocks.feet_steps import PLACES, make_posts, screw_levellers_in
from casewright.design.blocks.finish_steps import finish_body, finish_top
from casewright.design.blocks.frame_steps import frame_steps
from casewright.design.blocks.grid import Grid
from casewright.design.blocks.lid_steps import bench_lid, hang_lid_steps
from casewright.design.blocks.panel_steps import prepare_panels
from casewright.design.blocks.scribe import STEP as SCRIBE
from casewright.design.blocks.shell import Shell, closes_above
from casewright.design.blocks.step_words import (
    BACKWARDS,
    BORE,
    FORWARDS,
    GLUE,
    LEFTWARDS,
    LIFT,
    PINS,
    RIGHTWARDS,
    TIED,
    TIP,
    by,
    stand,
)
from casewright.design.blocks.top import TIES
from casewright.design.blocks.top_edge import run_edge
from casewright.design.blocks.top_steps import TIGHT, bore_top, cut_top, join_top, top_parts
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.kit import Kit
from casewright.design.pieces.bedside_steps import bring_blocks, set_in_place, trim, trim_seams, under
from casewright.design.sequence import Sequence
from casewright.order.pieces.bays import BayOrder
from casewright.order.pieces.case import CaseOrder
from casewright.stock.sundries import Sundry, needs

HANG = Caution(
    text=(
        "Two people hold a case while it is screwed up; find studs and check for cables and pipes first; the wall and"
        " its fixings must bear the case and what it holds: where in doubt ask a builder."
    ),
)
SET_ON = "Join the next part of the set to it, on its own front edge"
DOWN: Vec = (0.0, 0.0, -1.0)
UP: Vec = (0.0, 0.0, 1.0)


def plan(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Plan every step."""
    d = s.d
    moved = max(spec.width, spec.depth, spec.height)
    q = Sequence(d)
    prepare_panels(q, d)
    if spec.framed:
        make_posts(q, d)
        saw_arch(q, d)
        frame_steps(q, d, spec.bays, moved)
    q.lie = Lie.FRONT
    _shell(q, s, spec.bays, moved)
    if spec.framed:
        q.lie = Lie.BACK
        _frame_on(q, s, moved)
    q.lie = Lie.FRONT
    cells = [c.region.cell for c in grid.cells]
    _close_bays(q, d, cells, moved)
    for cell in cells:
        bring_case_members(q, d, f"drawer[{cell}]", moved)
        bring_door_blocks(q, d, f"door[{cell}]", moved)
    _blocks(q, d, moved)
    close_back(q, d, moved)
    _fronts_and_base(q, d, cells, moved)
    run_edge(q, d, spec.top.edge)
    q.lie = Lie.UPRIGHT
    bore_top(q, d, moved, _loose(d))
    _dry(q, d, cells, moved)
    finish_body(q, s.kit)
    _close_above(q, d, s.kit, moved, TIGHT[spec.top.fixed])
    if spec.stand.kind == "wall":
        _hang_case(q, d, spec)
    _fit_out(q, d, cells, moved)
    _set_up(q, d, spec)


def _fronts_and_base(q: Sequence, d: Draft, cells: list[str], moved: float) -> None:
    """What is made on the bench while the case rests, and what goes under and around it."""
    for cell in cells:
        bench_drawer(q, d, f"drawer[{cell}]", moved)
    for cell in cells:
        bench_door(q, d, f"door[{cell}]", moved)
    bench_lid(q, d, moved)
    if d.has("plinth/front") or any(d.has(f"foot.{place}/plate") for place in PLACES):
        q.lie = under(moved) if under(moved) is Lie.HEAD else Lie.FRONT
    bring_base(q, d, moved)
    trim(q, d, moved)
    cut_top(q, d)
    join_top(q, d, moved)


def _close_above(q: Sequence, d: Draft, kit: Kit, moved: float, tight: str) -> None:
    """Top or lid are finished apart; the finished case gets its levelling feet, then what closes it."""
    if d.has("top"):
        if in_the_top(d):
            cut_recess(q, d, "the top's underside, measured from its finished edges")
        finish_top(q, kit)
    elif d.has("lid/panel"):
        finish_top(q, kit, "lid")
    if any(path.endswith("/leveller") for path in d.under("")):
        q.lie = Lie.BACK
        screw_levellers_in(q, d)
        q.lie = Lie.UPRIGHT
    if d.has("top"):
        _lay_top(q, d, moved, tight)
    hang_lid_steps(q, d, moved)


def _fit_out(q: Sequence, d: Draft, cells: list[str], moved: float) -> None:
    """What goes into the finished case: device, rods, drawers, doors, shelves."""
    if _in_a_wall(d):
        lay_module(q, d)
    for cell in cells:
        _hang_rod(q, d, f"hang[{cell}]")
    for cell in cells:
        hang_drawer(q, d, f"drawer[{cell}]", moved)
    for cell in cells:
        hang_door(q, d, f"door[{cell}]", moved)
    for cell in cells:
        _lay_shelves(q, d, f"loose[{cell}]")


def _set_up(q: Sequence, d: Draft, spec: CaseOrder) -> None:
    """Bring a standing case where it stands; scribe what meets the walls; tie it to the wall."""
    tied = any(line.path == d.full("wall_tie") for line in d.bought)
    if spec.stand.kind != "wall":
        set_in_place(q, d, () if tied else (TIP,))
    strips = [f"scribe.{side}" for side in spec.scribe]
    if strips:
        q.bring(strips, SCRIBE, cautions=(PINS,))
    if tied:
        text = f"Fix the case to the wall with its straps, before it is used: its {closes_above(d).name} to a stud"
        q.work(text, (TIED,), uses=["wall_tie"])


def _hang_case(q: Sequence, d: Draft, spec: CaseOrder) -> None:
    """Hang the case while it is light: before its drawers, doors and shelves."""
    screws = [line.path.removeprefix(f"{d.path}/") for line in d.bought]
    screws = [name for name in screws if name in ("batten.wall", "fixing_rail")]
    if d.has("batten.wall"):
        low = d.at("batten.wall").frame.origin[2] + spec.stand.height
        q.bring(
            ["batten.wall"],
            f"Screw the wall's half of the split batten into studs, level, its lower edge {low:.0f} mm over the floor, "
            "the bevel up and towards the wall; lift the case over it and let it down until the bevels draw it home",
            moves=((0.0, -60.0, 0.0), (0.0, 0.0, 40.0)),
            cautions=(HANG,),
            uses=screws,
        )
    else:
        q.work(
            f"Hang the case, its underside {spec.stand.height:.0f} mm over the floor: screws through its fixing rail "
            "into studs; where those stand elsewhere than the rail's holes, bore it anew for as many",
            (HANG,),
            uses=screws,
        )


def _lay_top(q: Sequence, d: Draft, moved: float, tight: str) -> None:
    plates = [n for n in _loose(d) if n.startswith("plate.")]
    if plates:
        q.bring(plates, "Let the figure-eight plates into the cleats, one screw each: they swing", moves=by(DOWN, 40.0))
    device = ["device", "device_keeper"] if in_the_top(d) else []
    if device:
        parts = top_parts(d)
        if len(parts) == 1:
            q.bring(parts, "Lay the finished top face down on a blanket", into="top.set")
        lay_module(q, d, into="top.set")
    buttons = [n for n in _loose(d) if n.startswith("button.")]
    text = f"Lay the top on where it was bored, fix it from below: {tight}"
    if plates:
        text += ", then bore it through the plates and fix it by them"
    elif not buttons:
        text += ", free in the slots"
    q.bring(
        top_parts(d) + device,
        text,
        moves=by(DOWN, moved),
        cautions=(LIFT, *((BORE,) if plates else ())),
        makes=q.joints_of(*plates),
        made_in=top_parts(d),
    )
    for hand, way in (("left", LEFTWARDS), ("right", RIGHTWARDS)):
        own = [n for n in buttons if n.startswith(f"button.side.{hand}")]
        if own:
            text = f"Slip the buttons into their slots in the {hand} side, a little off the shoulder"
            q.bring(
                own,
                f"{text}; bore the top through them, with a stop on the bit, and screw them to it",
                moves=by(way, 20.0),
                cautions=(BORE,),
                makes=q.joints_of(*own),
                made_in=top_parts(d),
            )


def _loose(d: Draft) -> list[str]:
    """Return the plates and buttons that hold the top."""
    names = (p.removeprefix(d.path + "/") for p in d.under(""))
    return [n for n in names if n.startswith(("plate.", "button."))]


def _in_a_wall(d: Draft) -> bool:
    return d.has("device") and not in_the_top(d)


def _host(d: Draft) -> str:
    """Return what the part that a device is let into is called."""
    joint = next(j for j in d.joints if j.b == d.full("device") and j.a != d.full("device_keeper"))
    return d.at(joint.a.removeprefix(d.path + "/")).name


def _names(d: Draft, group: str) -> list[str]:
    return [p.removeprefix(d.path + "/") for p in d.under(group)]


def _frame_on(q: Sequence, s: Shell, moved: float) -> None:
    """The frame goes on the case; where its stiles are corner posts, the rear ones follow."""
    q.bring(["frame"], glue_frame(s.d), moves=by(BACKWARDS, moved / 2), cautions=(GLUE,))
    if not s.body.post:
        trim_seams(q, s.d)
        bring_blocks(q, s.d, moved, "front")
        return
    q.lie = Lie.FRONT
    q.bring(
        [f"post.rear.{hand}" for hand in ("left", "right")],
        "Glue and dowel the rear posts to the sides; all four feet on one plane",
        moves=by(FORWARDS, moved / 2),
        cautions=(GLUE,),
    )


# --- the shell ---


def _shell(q: Sequence, s: Shell, bays: BayOrder, moved: float) -> None:
    """Build the grid from the inside out, then close it with bottom and top, then with the sides."""
    d = s.d
    if _in_a_wall(d):
        cut_recess(q, d, f"the inner face of the {_host(d)}, and cut the back out where the plug passes it")
    units = _units(q, d, bays, "", "", moved)
    ties = [n for n in (*TIES, "top_panel") if d.has(n)]
    low = [n for n in ("base_rail", "toe_board") if d.has(n)]
    loose = all(n.startswith(("shelf", "rail")) for unit in units for n in unit)
    if loose:
        q.bring(["side.left"], stand("left side", moved), packed=True)
        for unit in [["bottom", *low], *reversed(units), ties]:
            q.bring(
                unit,
                "Join it to the side",
                moves=by(LEFTWARDS, moved),
                cautions=(GLUE,),
                packed=True,
                dry_fit=True,
            )
    else:
        q.bring(["bottom"], stand("bottom", moved), packed=True)
        for unit in units:
            text = "Join to the bottom what stands on it"
            q.bring(unit, text, moves=by(DOWN, moved), cautions=(GLUE,), packed=True, dry_fit=True)
        what = "top panel" if "top_panel" in ties else "stretchers"
        inner = {d.full(name) for unit in units for name in unit}
        tied = any({j.a, j.b} & inner and {j.a, j.b} & {d.full(tie) for tie in ties} for j in d.joints)
        if tied:
            text = f"Join the {what} above to what stands on the bottom"
            q.bring(ties, text, moves=by(DOWN, moved), cautions=(GLUE,), packed=True)
        text = "Join the left side to all of it"
        q.bring(["side.left"], text, moves=by(RIGHTWARDS, moved), cautions=(GLUE,), packed=True)
        if ties and not tied:
            q.bring(ties, f"Join the {what} to the side", moves=by(LEFTWARDS, moved), cautions=(GLUE,), packed=True)
        if low:
            text = "Join the rail below the bottom to the side"
            q.bring(low, text, moves=by(LEFTWARDS, moved), cautions=(GLUE,), packed=True)
    q.bring(
        ["side.right"],
        "Close the case with the right side; compare the diagonals",
        moves=by(LEFTWARDS, moved),
        cautions=(GLUE,),
        packed=True,
        squares=True,
    )


def _units(q: Sequence, d: Draft, bay: BayOrder, c: str, r: str, moved: float) -> list[list[str]]:
    """Return what of a bay arrives together in the shell; what hangs together by itself is joined on the bench first.

    Dividers stand on floors, shelves hang between walls: each set is closed before what encloses it.
    """
    if not bay.parts:
        return []
    if bay.columns:
        children = [_units(q, d, b, _under(c, i), r, moved) for i, b in enumerate(bay.columns)]
        members = [f"divider[u{_under(c, i)}{',r' + r if r else ''}]" for i in range(len(bay.columns) - 1)]
        ways = (RIGHTWARDS, LEFTWARDS)
    else:
        children = [_units(q, d, b, c, _under(r, i), moved) for i, b in enumerate(bay.rows)]
        keys = [",".join(x for x in (f"c{c}" if c else "", f"r{_under(r, i)}") if x) for i in range(len(bay.rows) - 1)]
        members = [next((n for n in (f"shelf[{k}]", f"rail[{k}]") if d.has(n)), "") for k in keys]
        ways = (DOWN, UP)
    loose = [[m] for m in members if m]
    kind = "divider" if bay.columns else ("shelf", "rail")
    if all(len(unit) == 1 and unit[0].startswith(kind) for child in children for unit in child):
        # Columns of columns stand side by side, rows of rows lie one above the other: nothing encloses them here.
        between = [[[m]] if m else [] for m in members]
        return [u for child, after in zip(children, [*between, []], strict=True) for u in (*child, *after)]
    if not loose:
        return [u for child in children for u in child]
    return [_set(q, d, f"set[{_key(c, r)}]", children, members, ways, moved)]


def _set(
    q: Sequence,
    d: Draft,
    label: str,
    children: list[list[list[str]]],
    members: list[str],
    ways: tuple[Vec, Vec],
    moved: float,
) -> list[str]:
    """Join a set on the bench: its first member, what stands before it, then the rest one after the other."""
    first = next(i for i, m in enumerate(members) if m)
    held = [members[first]]
    q.bring(
        held, "Stand the first part on its front edge: this set is joined before it goes between the sides", into=label
    )
    # What stands before the first member comes from there: the nearest goes on before the next.
    before = [unit for child in children[: first + 1] for unit in child]
    for unit in reversed(before):
        q.bring(unit, SET_ON, into=label, moves=by(ways[0], moved / 2), cautions=(GLUE,), dry_fit=True)
        held += unit
    for i, child in enumerate(children):
        for unit in child if i > first else ():
            q.bring(unit, SET_ON, into=label, moves=by(ways[1], moved / 2), cautions=(GLUE,), dry_fit=True)
            held += unit
        if i < len(members) and members[i] and i != first:
            q.bring([members[i]], SET_ON, into=label, moves=by(ways[1], moved / 2), cautions=(GLUE,), dry_fit=True)
            held.append(members[i])
    return held


def _under(number: str, i: int) -> str:
    return f"{number}.{i + 1}" if number else str(i + 1)


def _key(c: str, r: str) -> str:
    return ",".join(x for x in (f"c{c}" if c else "", f"r{r}" if r else "") if x) or "all"


# --- after the shell ---


def _close_bays(q: Sequence, d: Draft, cells: Iterable[str], moved: float) -> None:
    """Fix the panels of closed bays; cleats hold those of solid wood."""
    closed = [f"closed[{c}]" for c in cells if d.has(f"closed[{c}]")]
    cleats = [n for n in (f"{c}.cleat.{hand}" for c in closed for hand in ("left", "right")) if d.has(n)]
    text = "Glue the fixed panels in, and screw or pin them from behind"
    if cleats:
        text = "Glue and screw the fixed panels along their lower edges alone"
    if closed:
        q.bring(closed, text, moves=by(FORWARDS, moved), cautions=(GLUE,))
    if cleats:
        q.bring(
            cleats,
            "Glue the cleats to the uprights behind the panels; screw these to them in their slots, without glue",
            moves=by(FORWARDS, moved),
            cautions=(GLUE,),
        )


def _blocks(q: Sequence, d: Draft, moved: float) -> None:
    parts = ("", ".front", ".rear")  # one cleat a side, or two where the top is fixed in the middle
    cleats = [n for n in (f"top_cleat.{hand}{part}" for hand in ("left", "right") for part in parts) if d.has(n)]
    if cleats:
        text = "Fix the cleats along the sides, flush with their upper edges"
        q.bring(cleats, text, moves=by(DOWN, moved / 2), cautions=(GLUE,))
    bring_blocks(q, d, moved, "rear")
    plates = [n for n in (f"foot_plate.{p}.{h}" for p in ("front", "rear") for h in ("left", "right")) if d.has(n)]
    if plates:
        text = "Glue and screw the plates of the feet under the bottom, at its corners"
        q.bring(plates, text, moves=by(UP, moved / 2), cautions=(GLUE,))
    feet = [n for n in (f"level.{p}.{h}" for p in ("front", "rear") for h in ("left", "right")) if d.has(f"{n}/wood")]
    if feet:
        q.bring(
            [n for foot in feet for n in (f"{foot}/wood", f"{foot}/insert")],
            "Glue the blocks of the levelling feet into the corners, their inserts in them",
            moves=by(UP, moved / 2),
            cautions=(GLUE,),
        )


def _dry(q: Sequence, d: Draft, cells: Iterable[str], moved: float) -> None:
    """Drawers and doors meet the case before any finish: gaps, bores and pilots are settled, then all comes off."""
    names: list[str] = []
    knives: list[str] = []
    for cell in cells:
        names += dry_hung(d, f"drawer[{cell}]")
        names += dry_hung_door(d, f"door[{cell}]")
        knives += dry_knives(d, f"door[{cell}]")
    if not names:
        return
    if knives:
        q.bring(knives, "Let the knife hinges' leaves into the case, one screw each, to try the doors", dry=True)
    drawers = [f"drawer[{cell}]" for cell in cells if dry_hung(d, f"drawer[{cell}]")]
    doors = any(dry_hung_door(d, f"door[{cell}]") for cell in cells)
    what = " and ".join(w for w, there in (("drawers", drawers), ("doors", doors)) if there)
    held = ", each front held by a screw through its pull hole into the box," if drawers else ""
    q.bring(
        names,
        f"Hang {what} dry{dry_slides(d, drawers)}{held} and set every gap with shims",
        moves=by(BACKWARDS, moved),
        dry=True,
        needs=needs(Sundry.SHIMS),
    )
    if drawers:
        bore_fronts(q, d, drawers)
    off = ", ".join(w for w, there in (("drawers with what guides them", drawers), ("doors", doors)) if there)
    q.remove(names + knives, f"Take {off} off again for the finish", by(FORWARDS, moved))


def _hang_rod(q: Sequence, d: Draft, g: str) -> None:
    if not d.has(f"{g}/rod"):
        return
    q.bring(
        [f"{g}/socket.left", f"{g}/rod", f"{g}/socket.right"],
        "Slip both sockets on the rod, hold it level under the ceiling of its bay, and screw them to its walls",
    )


def _lay_shelves(q: Sequence, d: Draft, g: str) -> None:
    """Pins first, then each shelf, tilted in: no straight move brings it through a framed opening."""
    for i in range(1, 13):
        if not d.has(f"{g}/{i}/board"):
            return
        pins = [n for n in _names(d, f"{g}/{i}") if "/pin." in n]
        with q.each(f"{g}/{i}", "shelf"):
            q.bring(pins, "Push the shelf pins into their holes, all at one height")
            q.bring([f"{g}/{i}/board"], "Tilt the shelf in and lay it on its pins")
