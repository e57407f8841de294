"""The order of assembly of a bedside cabinet, with the cautions that belong beside the steps."""

from __future__ import annotations

from casewright.design.blocks.body import HANDS
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.sequence import Sequence

LEFTWARDS: Vec = (-1.0, 0.0, 0.0)
BACKWARDS: Vec = (0.0, 1.0, 0.0)
FORWARDS: Vec = (0.0, -1.0, 0.0)
DOWNWARDS: Vec = (0.0, 0.0, -1.0)
UPWARDS: Vec = (0.0, 0.0, 1.0)

PINS = "Wear eye protection; keep hands out of the line of a pin, which may turn in the wood."
GLUE = "Follow the glue maker's directions; epoxy and cyanoacrylate call for gloves and fresh air."
LIFT = "Two people lift a glued-up case; lift with the legs."
PAINT = (
    "Ventilate, wear the respirator that the maker of the finish names, no flames near solvents; spread oily rags "
    "flat outdoors or keep them under water in a closed metal can: they can take fire by themselves."
)
POWER = "Low voltage only inside the furniture; mains wiring is for a licensed electrician and local codes."
TIP = "Fix the cabinet to the wall where children may climb it; see the tip restraint's own directions."


def by(way: Vec, distance: float) -> tuple[Vec, ...]:
    """Return one move of a distance along a way."""
    return ((way[0] * distance + 0.0, way[1] * distance + 0.0, way[2] * distance + 0.0),)


def plan(d: Draft, drawer: Opening, door: Opening, moved: float) -> None:
    """Plan every step; `moved` is a distance (mm) that clears the piece."""
    s = Sequence(d)
    s.work("Glue the top up from strips over its final size; let it rest a day before it is flattened and cut", (GLUE,))
    frame_and_case(s, d, moved)
    box(s, f"drawer[{drawer.cell}]", moved)
    door_leaf(s, f"door[{door.cell}]", moved)
    trim(s, d, moved)
    dry_hang(s, d, drawer, door, moved)
    s.finish(
        "Fill and sand, prime, sand, prime, sand, two coats of paint; let it cure before hardware goes on", (PAINT,)
    )
    s.finish("Finish the top apart, all its faces alike, so that it stays flat", (PAINT,))
    hang(s, d, drawer, door, moved)


def dry_hang(s: Sequence, d: Draft, drawer: Opening, door: Opening, moved: float) -> None:
    """Drawer and door meet the case before any paint: gaps, bores and pilots are settled, then all comes off."""
    g, h = f"drawer[{drawer.cell}]", f"door[{door.cell}]"
    names: list[str] = []
    if d.has(f"{g}/side.left"):
        names += [f"{g}.slide_case.{hand}" for _, hand in HANDS] + [f"{g}/slide_drawer.{hand}" for _, hand in HANDS]
        names += [n for n in _members(d, g) if n not in names and not n.endswith("/pull")]
    if d.has(f"{h}/stile.left"):
        names += _leaves(d, h) + [n for n in _members(d, h) if not n.endswith("/pull")]
    if not names:
        return
    s.bring(
        names,
        "Hang drawer and door dry, the front held by its pull holes and tape; set every gap with shims",
        moves=by(BACKWARDS, moved),
        dry=True,
    )
    s.drill("Carry the pull's holes on through the box; bore the front's pilot holes through the box")
    s.remove(names, "Take drawer, slides, door and hinges off again for the paint", by(FORWARDS, moved))


def _leaves(d: Draft, g: str) -> list[str]:
    return [n for n in (f"{g}.hinge[{w}].frame_leaf" for w in range(1, 5)) if d.has(n)]


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
    inner = ["bottom", "stretcher.front", "stretcher.rear", "base_rail"]
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
    s.bring(["frame"], "Glue the face frame on, flush with the sides, under clamps", moves=by(BACKWARDS, moved / 2))
    blocking = [n for n in (f"drawer[c1,r1].blocking.{h}" for _, h in HANDS) if d.has(n)]
    if blocking:
        s.bring(
            blocking,
            "Plane the blocking to the opening, a little behind its edge and never proud; glue and screw it",
            moves=by(FORWARDS, moved),
        )
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
    for place in ("front", "rear"):
        for _, hand in HANDS:
            foot = f"foot.{place}.{hand}"
            if not d.has(f"{foot}/wood"):
                continue
            s.bring(
                [f"{foot}/wood", f"{foot}/insert"],
                "On the long blank: square the floor end, bore for the insert, cove, taper; crosscut the top end last, "
                "bore it for the dowel; then set the insert with epoxy",
                into=foot,
                moves=by(UPWARDS, 60.0),
                cautions=(GLUE,),
            )
            s.bring([f"{foot}/leveller"], "Screw the levelling foot in", into=foot, moves=by(UPWARDS, 60.0))
            s.bring([foot], f"Glue the {place} {hand} foot on its dowel", moves=by(UPWARDS, moved / 2))


def box(s: Sequence, g: str, moved: float) -> None:
    """The drawer box and its front, each on the bench."""
    if not s.d.has(f"{g}/side.left"):
        return
    s.bring([f"{g}/side.left"], "Lay the left drawer side down, groove up", into=g)
    s.bring(
        [f"{g}/box_front", f"{g}/box_back"],
        "Glue box front and back into its rabbets and pin them",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
    )
    s.bring([f"{g}/bottom"], "Slide the bottom into its grooves, dry", into=g, moves=by(LEFTWARDS, moved))
    s.bring([f"{g}/side.right"], "Close the box; compare the diagonals", into=g, moves=by(LEFTWARDS, moved / 2))
    face = f"{g}/face"
    s.drill("Bore the pull's holes through the front before any moulding goes on it")
    s.bring([f"{face}/front"], "Lay the front face up", into=face)
    for side in ("left", "bottom", "right", "top"):
        if s.d.has(f"{face}/applied.{side}"):
            s.bring(
                [f"{face}/applied.{side}"],
                "Glue and pin the applied frame, mitres tight",
                into=face,
                moves=by(BACKWARDS, 80.0),
                cautions=(PINS,),
            )


def door_leaf(s: Sequence, g: str, moved: float) -> None:
    """The door on the bench."""
    if not s.d.has(f"{g}/stile.left"):
        return
    s.bring([f"{g}/stile.left"], "Lay the left door stile down, groove up", into=g)
    s.bring(
        [f"{g}/rail.top", f"{g}/rail.bottom"],
        "Glue the rails' tenons into its groove",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
    )
    s.bring([f"{g}/panel"], "Slide the panel in, glue in its grooves", into=g, moves=by(LEFTWARDS, moved))
    s.bring(
        [f"{g}/stile.right"],
        "Close the door; flat on the bench, compare the diagonals",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
    )


def hang(s: Sequence, d: Draft, drawer: Opening, door: Opening, moved: float) -> None:
    """After the paint: top, module, slides, drawer, door."""
    upper = ["top"]
    s.bring(["top"], "Lay the finished top face down on a blanket", into="top.set")
    if d.has("device"):
        s.bring(
            ["device"],
            "Lay the module in its recess, its plug in the channel to the back",
            into="top.set",
            moves=by(UPWARDS, 60.0),
            cautions=(POWER,),
        )
        s.bring(
            ["device_keeper"], "Hold it with the keeper, two screws, no glue", into="top.set", moves=by(UPWARDS, 60.0)
        )
        upper += ["device", "device_keeper"]
    s.bring(
        upper,
        "Lay the top on, fix it from below: tight at the front, free in the slots",
        moves=by(DOWNWARDS, moved),
        cautions=(LIFT,),
    )
    g = f"drawer[{drawer.cell}]"
    if d.has(f"{g}/side.left"):
        members = [f"{g}.slide_case.{h}" for _, h in HANDS]
        s.bring(members, "Screw the case members to the blocking", moves=by(BACKWARDS, moved))
        s.bring(
            [f"{g}/slide_drawer.{h}" for _, h in HANDS],
            "Screw the drawer members to the box",
            into=g,
            moves=by(BACKWARDS, 60.0),
        )
        s.bring(_box_members(d, g), "Slide the box in", moves=by(BACKWARDS, moved))
        s.bring(
            [n for n in _members(d, f"{g}/face") if not n.endswith("/pull")],
            "Screw the front on from inside, the gaps as they were set",
            moves=by(BACKWARDS, moved / 2),
        )
        s.bring([f"{g}/face/pull"], "Bolt the pull on", moves=by(BACKWARDS, 80.0))
    g = f"door[{door.cell}]"
    if d.has(f"{g}/stile.left"):
        leaves = _leaves(d, g)
        own = [n for n in (f"{g}/hinge[{w}].door_leaf" for w in range(1, 5)) if d.has(n)]
        if leaves:
            s.bring(own, "Screw the hinges to the door", into=g, moves=by(BACKWARDS, 60.0))
            s.bring(leaves, "Open the hinges, screw their other leaves to the stile", moves=by(BACKWARDS, 60.0))
        s.bring([n for n in _members(d, g) if not n.endswith("/pull")], "Hang the door", moves=by(BACKWARDS, moved / 2))
        s.bring([f"{g}/pull"], "Bolt the knob on", moves=by(BACKWARDS, 80.0), cautions=(TIP,))
    if d.has(f"{g}.stop"):
        s.bring(
            [f"{g}.stop", f"{g}.catch"],
            "Set the stop and the catch to the hung door and screw them down",
            moves=by(BACKWARDS, moved),
        )


def _members(d: Draft, g: str) -> list[str]:
    return [p.removeprefix(d.path + "/") for p in d.under(g)]


def _box_members(d: Draft, g: str) -> list[str]:
    return [n for n in _members(d, g) if not n.startswith(f"{g}/face")]
