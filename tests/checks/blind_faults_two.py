# ruff: noqa: E501 (the words are their authors')
"""Twenty-five more mistakes of the trade, written by somebody who had not seen the checks.

Each says in words what must be told, and where. `order_edit` are (old, new) texts of the order, each replaced once.
"""

from __future__ import annotations

from dataclasses import replace

from tests.checks.fault_edits import both, fastener, longer, moved, part, piece, placed, swapped, without

from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blanks import Face, Turn
from casewright.design.features.openings import Channel, Slot
from casewright.design.frames import Frame, add, scale
from casewright.design.outlines import Outline, obround
from casewright.design.parts import Fastener, Part, Placed

WORK = "will not work/may hurt"
CAREFUL = "a careful maker would change it"

# --- edits of the design ---------------------------------------------------------------------------------------------


def _short(f: Fastener) -> Fastener:
    """A 5/8 in screw from the wrong box: 9.5 mm shorter."""
    return replace(f, item="pan-8x5/8", length=f.length - 9.525, thread_length=12.7)


def _slots_turned(p: Part) -> Part:
    """Every slot a quarter turn about its own middle."""

    def turned(f: object) -> object:
        if not isinstance(f, Slot):
            return f
        u0, v0, u1, v1 = f.outline.box
        u, v, wide, half = (u0 + u1) / 2, (v0 + v1) / 2, u1 - u0, (v1 - v0 - (u1 - u0)) / 2
        line = obround((u - half, v), (u + half, v), wide).canonical_start()
        return Slot(face=f.face, outline=line, depth=f.depth, joint=f.joint)

    return replace(p, features=tuple(turned(f) for f in p.features))  # type: ignore[misc]


def _channel_short(p: Part) -> Part:
    """The channel ends blind at 300 mm of the top's 401 mm width."""

    def cut(f: object) -> object:
        if not isinstance(f, Channel):
            return f
        return replace(f, outline=Outline(vertices=tuple((u, min(v, 300.0), b) for u, v, b in f.outline.vertices)))

    return replace(p, features=tuple(cut(f) for f in p.features))  # type: ignore[misc]


QUARTER = Turn(order=(1, 0, 2), flip=(True, False, False))


def _grain_across(p: Placed) -> Placed:
    """The same board in the same place, its grain the other way."""
    wide = p.part.blank.width
    frame = Frame(origin=add(p.frame.origin, scale(p.frame.y, wide)), x=scale(p.frame.y, -1.0), y=p.frame.x)
    return replace(p, thing=p.part.turned(QUARTER), frame=frame, sizes=("", "", ""))


def _keeper_glued(design: PieceDesign) -> PieceDesign:
    name = f"{design.path}/device_keeper~top"
    return replace(
        design,
        joints=tuple(replace(j, kind=JointKind.GLUE, glued=True) if j.id == name else j for j in design.joints),
        fasteners=tuple(f for f in design.fasteners if f.joint != name),
    )


def _no_straps(design: PieceDesign) -> PieceDesign:
    return replace(
        design,
        bought=tuple(b for b in design.bought if not b.path.endswith("/wall_tie")),
        steps=tuple(s for s in design.steps if not s.text.startswith("Fix the case to the wall")),
        findings=tuple(f for f in design.findings if not f.path.endswith("/wall_tie")),
    )


def _untied_above(design: PieceDesign) -> PieceDesign:
    """The rail meets the top panel no more."""
    name = f"{design.path}/fixing_rail~top_panel"
    return replace(
        design,
        joints=tuple(j for j in design.joints if j.id != name),
        fasteners=tuple(f for f in design.fasteners if f.joint != name),
        steps=tuple(replace(s, closes=tuple(c for c in s.closes if c != name)) for s in design.steps),
    )


def _no_front_band(p: Part) -> Part:
    return replace(p, bands=tuple(b for b in p.bands if b.face is not Face.EDGE0))


FRONT_SCREWS = [f"drawer[c2,r2]/face/front~box.{s}.screw[{i}]" for s in ("left", "right") for i in (1, 2)]
SHELF = "loose[c1,r1]/1/"

FAULTS: list[dict[str, object]] = [
    # --- the order ---------------------------------------------------------------------------------------------------
    {
        "name": "The base unit is ordered as one pair of doors 1400 mm wide, one loose 18 mm shelf right across: it sags.",
        "of": "base-unit",
        "order_edit": [
            ("width = 800", "width = 1400"),
            (
                '    { columns = ["drawer", "drawer"], size = 150 },    # two: one bottom of the whole width would sag\n    { holds = "pair", shelves = 1 },',
                '    { holds = "pair", shelves = 1 },',
            ),
        ],
        "words": "adjustable shelf spans about 1350 mm in 18 mm plywood and sags, some 5 mm and more under a household load "
        "(limit 2-4 mm); a divider, a thicker shelf or an edging. (The doors are nearly 700 mm wide as well.)",
        "path": ["loose[c1,r1]/1/board", "loose[c1,r1]/1", "loose[c1,r1]"],
        "bad": CAREFUL,
    },
    {
        "name": "One door in place of a pair on the wardrobe: nearly a metre wide on 2 in butt hinges.",
        "of": "wardrobe",
        "order_edit": [('{ holds = "pair", rod = true }', '{ holds = "door", rod = true }')],
        "words": "door of about 968 x 1704 mm: too wide for its hinges (2 in butts in a 19 mm frame), hinge screws overloaded, "
        "it drops and racks, and sweeps almost 1 m of room; make it a pair",
        "path": [
            "door[c1,r1]",
            "door[c1,r1].swing",
            "door[c1,r1]/hinge[1].door_leaf",
            "door[c1,r1].hinge[1].frame_leaf",
            "door[c1,r1]/stile.left",
            "door[c1,r1]/hinge[1].door_leaf~wood[1]",
            "door[c1,r1].hinge[1].frame_leaf~wood[1]",
        ],
        "bad": CAREFUL,
    },
    {
        "name": "A wardrobe only 420 mm deep with its rod along it: coat hangers do not go in, the doors do not shut.",
        "of": "wardrobe",
        "order_edit": [("depth = 600", "depth = 420")],
        "words": "about 390 mm from door to back inside; a hanger is 430-450 mm, clothes want 530-560: the doors close on the sleeves",
        "path": ["hang[c1,r1]", "hang[c1,r1]/rod", ""],
        "bad": WORK,
        "design_says": "warn at hang[c1,r1]: hangers stand out of a case that is 391 mm deep inside",
    },
    {
        "name": "The wardrobe's case is changed to solid poplar, its fixed shelf left in plywood and glued across the wide sides.",
        "of": "wardrobe",
        "order_edit": [("[use]\nclothes = true", '[roles]\ncase = "poplar-4/4"\n\n[use]\nclothes = true')],
        "words": "plywood shelf glued and dowelled over 570 mm across the grain of solid sides; the sides move about 7-9 mm a year "
        "and split or break the joint (the blocking, glued across, and the back too)",
        "path": ["shelf[r1]~side.left", "shelf[r1]~side.right", "shelf[r1]", "side.left", "side.right"],
        "bad": WORK,
    },
    {
        "name": "The narrowest door on the way in is 540 mm, and the base unit goes in assembled.",
        "of": "base-unit",
        "order_edit": [('units = "mm"', 'units = "mm"\n\n[room]\ndoor_width = 540')],
        "words": "800 x 600 x 900: its smallest side, 600 (570 without fronts and top), does not pass a door of 540 mm",
        "path": [""],
        "bad": WORK,
    },
    {
        "name": "The window seat's plinth stands back 150 mm: whoever sits down on the front edge tips it over.",
        "of": "window-seat",
        "order_edit": [("setback = 25", "setback = 150")],
        "words": "the plinth's front is 150 of 435 mm behind the front; about 90 kg on the edge against some 30-40 kg of seat, whose "
        "middle is only about 70 mm behind that line: it "
        "tips forward; set back 50-75 at most, or fix it to the wall",
        "path": ["plinth/front", "plinth", "", "lid", "lid/panel"],
        "bad": WORK,
    },
    {
        "name": "Only 1.5 mm of wood is left over the dimmer in the bedside's top.",
        "of": "lantern-hill",
        "order_edit": [('wood_over = "4 mm"', 'wood_over = "1.5 mm"')],
        "words": "1.5 mm of cherry over a 65 mm round recess: it breaks in or shows through after sanding; leave 3-4 mm",
        "path": ["device", "top", "device~top"],
        "bad": WORK,
        "design_says": "stop at device: 1.5 mm of wood over the module (the piece is then built without top and module)",
    },
    {
        "name": "The bedsides are fitted in an unheated shop at 78 % humidity for a heated room of 30 to 60 %.",
        "of": "lantern-hill",
        "order_edit": [("humidity_fitting = 45 ", "humidity_fitting = 78 ")],
        "words": "wood at about 15 % moisture when fitted, 6 to 11 % in the room: damper than it will ever be there; the 400 mm cherry "
        "top shrinks some 8-9 mm, gaps open, joints let go; dry the stock to 7-9 % first",
        "path": ["", "top", "door[c1,r2]", "top~stretcher.rear"],
        "bad": CAREFUL,
        "design_says": "refused when the order is read: room: expected humidity_low <= humidity_fitting <= humidity_high",
    },
    {
        "name": "The media unit's top is changed to solid cherry but still made as a banded sheet, screwed tight.",
        "of": "media-unit",
        "order_edit": [('top = "birch-plywood-18"', 'top = "cherry-5/4"')],
        "words": "a solid top 446 mm wide held by plain screws front and rear, with bands glued across its end grain; it moves about "
        "5-6 mm: it splits and the bands come off; order kind solid, with slots",
        "path": ["top", "top~stretcher.rear", "top~stretcher.front"],
        "bad": WORK,
        "design_says": "stop at the piece: a top that is banded needs a sheet for the role top, got a board",
    },
    {
        "name": "The media unit's right-hand door is hinged on its left, at the divider beside the drawer.",
        "of": "media-unit",
        "order_edit": [('{ holds = "door", hinged = "right", shelves = 1 }', '{ holds = "door", shelves = 1 }')],
        "words": "the two doors no longer mirror each other (knob at the outside), and the open right door swings across the drawer's "
        "front and stands in its way",
        "path": ["door[c3,r1]", "door[c3,r1].swing", "drawer[c2,r2].slide", "door[c3,r1]/pull", ""],
        "bad": CAREFUL,
    },
    {
        "name": "Red oak face frame under smooth paint on the window seat.",
        "of": "window-seat",
        "order_edit": [("[style]", '[roles]\nface_frame = "red-oak-4/4"\n\n[style]')],
        "words": "open pores of red oak print through two coats of paint; use poplar or soft maple, or fill the grain",
        "path": ["frame/stile.left", "frame/rail.top", "frame", ""],
        "bad": CAREFUL,
    },
    {
        "name": "The wall cupboard hangs with its bottom 2000 mm over the floor: nobody reaches knob or shelves.",
        "of": "wall-cupboard",
        "order_edit": [("height = 1400", "height = 2000")],
        "words": "knob at about 2620 mm and shelves at 2270-2430 mm over the floor; reach is about 1.8-2.0 m; and the case ends at "
        "2700 mm, over many ceilings",
        "path": ["", "door[c1,r1]/pull", "loose[c1,r1]/2", "loose[c1,r1]/2/board", "fixing_rail"],
        "bad": CAREFUL,
    },
    # --- the design --------------------------------------------------------------------------------------------------
    {
        "name": "The drawer's false front is held by 5/8 in screws through a 12 mm box: they hardly reach into it.",
        "of": "media-unit",
        "edit": both(*(fastener(end, _short) for end in FRONT_SCREWS)),
        "words": "screws reach only about 4 mm into the 19 mm MDF front (12 mm wanted): the front is pulled off by its knob",
        "path": ["drawer[c2,r2]/face/front~box.left", *FRONT_SCREWS, "drawer[c2,r2]/face/front~box.right"],
        "bad": WORK,
    },
    {
        "name": "The top's screws are taken 1/4 in too long: their points come out of the cherry top.",
        "of": "solid-case",
        "edit": both(*(longer(f"top~stretcher.front.screw[{i}]", 6.35) for i in (1, 2, 3, 4))),
        "words": "points stand about 3 mm out of the upper face of the top",
        "path": [*(f"top~stretcher.front.screw[{i}]" for i in (1, 2, 3, 4)), "top~stretcher.front", "top"],
        "bad": WORK,
    },
    {
        "name": "The slots in the bedside's rear stretcher are routed along the top's grain, not across it.",
        "of": "lantern-hill",
        "edit": part("stretcher.rear", _slots_turned),
        "words": "slots run left to right; the top moves front to back (about 3 mm a year at that place) and the screws stand tight: "
        "the top splits",
        "path": [
            "top~stretcher.rear",
            "top~stretcher.rear.screw[1]",
            "top~stretcher.rear.screw[2]",
            "stretcher.rear",
            "top",
        ],
        "bad": WORK,
    },
    {
        "name": "The channel for the dimmer's plug ends blind 100 mm before the back of the top.",
        "of": "lantern-hill",
        "edit": part("top", _channel_short),
        "words": "the channel is open at its recess only and ends at about 300 of 401 mm: plug and cable have no way out to the back "
        "once the top lies on the stretchers",
        "path": ["top", "device", "device~top"],
        "bad": WORK,
    },
    {
        "name": "The keeper under the dimmer is glued in place of screwed: a dead module cannot be changed.",
        "of": "lantern-hill",
        "edit": piece(_keeper_glued),
        "words": "what holds the module must come off again: two screws, no glue",
        "path": ["device_keeper~top", "device_keeper", "device"],
        "bad": CAREFUL,
    },
    {
        "name": "The drawer box is closed before its bottom, which stands in four grooves, is put in.",
        "of": "media-unit",
        "edit": swapped("drawer[c2,r2]/bottom", "drawer[c2,r2]/side.right"),
        "words": "the bottom cannot get into grooves on all four sides of a closed box: it would have to pass through the right side",
        "path": ["drawer[c2,r2]/bottom", "drawer[c2,r2]/side.right", "step14", "step15"],
        "bad": WORK,
    },
    {
        "name": "The wall cupboard's back is nailed on before the fixing rail, which comes in and is screwed from behind.",
        "of": "wall-cupboard",
        "edit": swapped("fixing_rail", "back"),
        "words": "the rail cannot come through the back, and its pocket screws on the rear face can no longer be driven",
        "path": ["fixing_rail", "back", "fixing_rail~top_panel", "fixing_rail~side.left", "step06", "step07"],
        "bad": WORK,
    },
    {
        "name": "Two of the four hinges are saved on a wardrobe door 1.7 m high.",
        "of": "wardrobe",
        "edit": without(
            *(f"door[c1,r1].left{end}" for n in (2, 3) for end in (f"/hinge[{n}].door_leaf", f".hinge[{n}].frame_leaf"))
        ),
        "words": "two 2 in butts on a door of 483 x 1704 mm, 1.55 m apart: three or four are wanted over 1.5 m; the stile bows and "
        "the screws are overloaded",
        "path": [
            "door[c1,r1].left",
            "door[c1,r1].left/hinge[1].door_leaf",
            "door[c1,r1].left.hinge[1].frame_leaf",
            "door[c1,r1].left/stile.left",
            "door[c1,r1].left.swing",
        ],
        "bad": CAREFUL,
    },
    {
        "name": "The loose cherry shelf is cut with its grain from front to back.",
        "of": "solid-case",
        "edit": placed("loose[c1,r1]/1/board", _grain_across),
        "words": "grain runs front to back over a span of 412 mm: weak across the grain, it bends or breaks, and in damp weather it "
        "grows about 2-3 mm between the sides, more than fits (1.6 a side)",
        "path": ["loose[c1,r1]/1/board", "loose[c1,r1]/1"],
        "bad": WORK,
    },
    {
        "name": "The band on the front edge of the media unit's plywood top is forgotten.",
        "of": "media-unit",
        "edit": part("top", _no_front_band),
        "words": "raw plywood edge 1500 mm long shows at the front of the top under a clear finish",
        "path": ["top"],
        "bad": CAREFUL,
    },
    {
        "name": "Nobody plans how the tall clothes wardrobe is tied to the wall: the straps are off the list, the step is gone.",
        "of": "wardrobe",
        "edit": piece(_no_straps),
        "words": "2100 mm high, 600 deep, for clothes, with drawers: it needs a tie to the wall so that it cannot tip on a child",
        "path": ["", "wall_tie"],
        "bad": WORK,
    },
    {
        "name": "The wall cupboard's fixing rail is set at the bottom of the case in place of under its top.",
        "of": "wall-cupboard",
        "edit": both(moved(("fixing_rail",), (0.0, 0.0, -575.0)), piece(_untied_above)),
        "words": "the wall screws sit about 40-85 mm over the underside of a 700 mm case: its top leans off the wall, the screws are "
        "levered out; some 70 kg hang on it; the rail belongs under the top, joined to it",
        "path": ["fixing_rail", "", "fixing_rail~back"],
        "bad": WORK,
    },
    {
        "name": "The loose shelf behind the left door is pinned at the height of the upper cup hinge.",
        "of": "media-unit",
        "edit": moved(
            (f"{SHELF}board", *(f"{SHELF}pin.{d}.{s}" for d in ("front", "rear") for s in ("left", "right"))),
            (0.0, 0.0, 128.0),
        ),
        "words": "the shelf (462 to 480 mm) runs into arm and plate of hinge 1, whose middle is at 481 mm; the plate lies 20-60 mm "
        "behind the front edge: shelf cannot lie there or the door cannot shut",
        "path": [
            "loose[c1,r1]/1/board",
            "loose[c1,r1]/1",
            "door[c1,r1].hinge[1].plate",
            "door[c1,r1]/hinge[1].cup",
            "door[c1,r1].swing",
        ],
        "bad": WORK,
    },
]
