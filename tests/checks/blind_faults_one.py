# ruff: noqa: E501 (the words are their authors')
"""Twenty-five mistakes of the trade, written by somebody who had not seen the checks: orders with a wrong line, and
small edits of sound examples.

Each says in words what must be told, and where. `order_edit` are (old, new) texts of the order, each replaced once.
"""

from __future__ import annotations

from dataclasses import replace

from tests.checks.blind_edits import (
    BOLT_JOINT,
    KNOB,
    KNOB_JOINT,
    deeper_groove,
    fasteners_into,
    fasteners_moved,
    fasteners_of,
    holes_of,
    knob_hole,
    no_channel,
    no_keepout,
    short_slots,
    thicker,
    unbored,
)
from tests.checks.fault_edits import both, joint, moved, part, placed, resized, room, swapped, without

from casewright.design.parts import Form

HURT = "will not work/may hurt"
CHANGE = "a careful maker would change it"


FAULTS: list[dict[str, object]] = [
    # ------------------------------------------------------------------ edits of the order
    {
        "name": "The bookcase's divider was left out to get one wide bay: 0.9 m of shelf in 18 mm plywood, full of books.",
        "of": "low-bookcase",
        "piece": "bookcase",
        "order_edit": [('    { rows = ["open", "open"] },\n', "")],
        "words": "the shelf sags: some 3.5-4 mm at once under 30-37 kg/m of books, 7-8 mm in time, over a span of "
        "about 0.9 m (L/384 would be 2.3 mm); shorten the span, thicken the shelf or edge it",
        "path": [
            "loose[c1,r1]/1/board",
            "loose[c1,r1]/2/board",
            "loose[c1,r1]",
            "loose[c1]/1/board",
            "loose[all]/1/board",
        ],
        "bad": CHANGE,
    },
    {
        "name": "A 256 mm bar pull chosen for the little bedside drawer whose front carries an applied frame.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "order_edit": [("base = true\n", 'base = true\nroles = { drawer_pull = "pull-256" }\n')],
        "words": "the pull's base (266 mm) is wider than the field inside the applied frame (about 250 mm): it lies "
        "on the moulding and does not sit flat",
        "path": [
            "drawer[c1,r1]/face/pull",
            "drawer[c1,r1]/face/front",
            "drawer[c1,r1]",
            "drawer[c1,r1]/face/applied.left",
        ],
        "bad": HURT,
    },
    {
        "name": "A top of 1 1/8 in ordered out of 5/4 boards.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "order_edit": [('thickness = "7/8"', 'thickness = "1 1/8"')],
        "words": "5/4 dresses to 1 1/16 in (27 mm) flat boards and about 1 in once the glue-up is flattened: 1 1/8 in "
        "(28.6 mm) is not in it; take 6/4",
        "path": ["top", "top.thickness", "piece.top.thickness", ""],
        "bad": HURT,
        "design_says": "stop top.thicknessness at top.thicknessness: 'a top of 28.6 mm does not come out of this board' (no design of the piece)",
    },
    {
        "name": "The touch module put 2 in from the bed side of the top: right over the side panel.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "order_edit": [('from_bed_side = "4 1/4"', "from_bed_side = 2")],
        "words": "the module (64 mm round, centre about 51 mm from the edge) lies over the 18 mm side and the stretcher's "
        "end, its keeper and screws cannot be reached or do not fit; move it inwards to about 4 in",
        "path": ["device", "device_keeper", "side.right", "stretcher.front", "piece.device.from_bed_side"],
        "bad": HURT,
        "design_says": "stop device.place at device: 'the module sits 50.8 mm from the side edge and meets the case'",
    },
    {
        "name": "The clothes chest made only 16 in deep.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "order_edit": [("depth = 22\n", "depth = 16\n")],
        "words": "a chest for clothes 34 in high and 16 in deep comes over with a drawer out and a child on it; more than "
        "was accepted at 22 in deep (22.6): the acceptance must not cover it any longer",
        "path": [""],
        "bad": HURT,
    },
    {
        "name": "Drawers meant for 60 kg (tools, records) on slides that are rated at 45 kg a pair.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "order_edit": [
            (
                'stand = { kind = "feet", height = 4, tip = "1 5/8" }\n',
                'stand = { kind = "feet", height = 4, tip = "1 5/8" }\nfronts = { drawer_load = 60 }\n',
            )
        ],
        "words": "60 kg (and the drawer's own few kg) on slides rated 45 kg: heavier slides or less load; the thin "
        "bottom (5.4 mm over 0.48 x 0.45 m) would want looking at as well",
        "path": [
            "drawer[c1,r1]",
            "drawer[c1,r1].slide_case.left",
            "drawer[c1,r1]/slide_drawer.left",
            "drawer[c1,r1]/bottom",
        ],
        "bad": HURT,
        "design_says": "stop drawer.load at drawer[c1,r1] and the other five: 'the slides that fit bear 45 kg, the drawer 60 kg'",
    },
    {
        "name": "Ten-inch slides taken for a 22 in deep chest because they lay on the shelf.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "order_edit": [
            ('title = "Six-drawer chest"\n', 'title = "Six-drawer chest"\nroles = { slide = ["slide-10"] }\n')
        ],
        "words": "the drawers are only 10 in (256 mm) deep in a case about 500 mm deep inside: half of the chest is "
        "empty behind them; 18 in slides fit",
        "path": ["drawer[c1,r1]", "drawer[c1,r1].slide_case.left", "drawer[c1,r1]/slide_drawer.left", ""],
        "bad": CHANGE,
    },
    {
        "name": "The console's 400 mm legs set on little 8 x 30 mm dowels.",
        "of": "console",
        "piece": "console",
        "order_edit": [("[[piece]]\n", '[roles]\nfoot_dowel = "dowel-8x30"\n\n[[piece]]\n')],
        "words": "15 mm of an 8 mm dowel in the foot's end grain holds a leg of 400 mm (at least 40 mm, the 12 x 80 in "
        "stock): it breaks out when the console is pushed",
        "path": [
            "foot.front.left/wood~block",
            "foot.front.left/wood~block.dowel[1]",
            "foot.front.left/wood",
            "foot.front.left",
        ],
        "bad": HURT,
    },
    {
        "name": "The console's feet tapered to 5/8 in at the floor, with M8 levellers in them.",
        "of": "console",
        "piece": "console",
        "order_edit": [('tip = "1 1/4"', 'tip = "5/8"')],
        "words": "no wood is left around the insert (about 12 mm in a tip of 16 mm; 2.5 times the insert, about 30 mm, is "
        "wanted): the foot splits",
        "path": ["foot.front.left/wood", "foot.front.left/insert", "foot.front.left", "piece.stand.tip", ""],
        "bad": HURT,
        "design_says": "stop foot.tip at foot: 'the foot's tip is 15.9 mm'",
    },
    {
        "name": "Top overhang of half an inch over a crown that stands out an inch and a quarter.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "order_edit": [
            ('overhang_front = "1 1/2"', 'overhang_front = "1/2"'),
            ('overhang_side = "1 1/2"', 'overhang_side = "1/2"'),
        ],
        "words": "the crown (projection about 31 mm) stands out beyond the top (12.7 mm) by some 18 mm, its upper edge and "
        "ledge are seen: overhang at least the projection and a reveal, 37 mm",
        "path": ["top", "crown/front", "crown/left", "piece.top.overhang_front", ""],
        "bad": CHANGE,
        "design_says": "stop top.overhang at top.overhang_side: 'the crown stands out beyond the top'",
    },
    {
        "name": "A cupboard glued up whole goes up a stair that is 400 mm wide at its narrowest.",
        "of": "tall-cupboard",
        "piece": "cupboard",
        "order_edit": [('units = "mm"\n', 'units = "mm"\n\n[room]\nstair_width = 400\n')],
        "words": "the least size of the piece is its depth, 420 mm (with the pulls more; 400 mm without doors at the best): "
        "it does not pass a stair of 400 mm",
        "path": ["", "room.stair_width"],
        "bad": HURT,
    },
    # ------------------------------------------------------------------ edits of the design
    {
        "name": "The groove for the drawer's bottom ploughed 9.5 mm deep into a 12 mm side.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": part("drawer[c1,r1]/side.left", deeper_groove(9.5)),
        "words": "2.5 mm of 12 mm are left behind the groove (half, 6 mm, is the most): the side breaks along it; the bottom "
        "no longer fills it either",
        "path": ["drawer[c1,r1]/side.left", "drawer[c1,r1]/bottom~side.left", "drawer[c1,r1]/bottom"],
        "bad": HURT,
    },
    {
        "name": "The door knob bored and bolted into the hinge stile.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": both(
            moved((KNOB,), (-2 * 137.081998046875, 0.0, 0.0)),
            part("door[c1,r2]/stile.right", holes_of(KNOB_JOINT, lambda h: None)),
            part("door[c1,r2]/stile.left", knob_hole),
            fasteners_into(KNOB_JOINT, "door[c1,r2]/stile.right", "door[c1,r2]/stile.left"),
            joint(KNOB_JOINT, lambda j: replace(j, a=j.a.replace("stile.right", "stile.left"))),
        ),
        "words": "the knob is 27 mm from the hinges' pin: no leverage against the catch; it belongs on the other stile",
        "path": [KNOB, KNOB_JOINT, "door[c1,r2]", "door[c1,r2]/stile.left"],
        "bad": HURT,
    },
    {
        "name": "A chest cut and fitted for a house at 30-60 % goes to one by the sea that reaches 85 %.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "edit": room(humidity_high=85.0),
        "words": "from 30 to 85 % (6 to 18 % MC) the cherry top moves some 13 mm at the rear screws, 434 mm from its fixed "
        "line; the slots let it move about 8 mm: it bows or splits, and its back edge comes 7 mm or more towards the wall",
        "path": ["top~stretcher.rear", "stretcher.rear", "top", "top~stretcher.rear.screw[1]", ""],
        "bad": HURT,
    },
    {
        "name": "Plain round holes drilled where the rear screws of the chest's solid top need slots.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "edit": part("stretcher.rear", short_slots(0.6)),
        "words": "the cherry top moves about 5 mm over the year at 430 mm from its fixed line, the holes allow less than "
        "1 mm: the top splits or the screws shear; slots of 12 mm or so across the grain",
        "path": ["top~stretcher.rear", "stretcher.rear", "top", "top~stretcher.rear.screw[1]"],
        "bad": HURT,
    },
    {
        "name": "The door's panel made of solid poplar and glued into its grooves like the sheet one.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": part(
            "door[c1,r2]/panel",
            lambda p: replace(p, form=Form.BOARD, stock="poplar-4/4", grain=True, mass_density=470.4),
        ),
        "words": "a solid panel 244 mm wide moves 3 mm over the year (1.7 mm out from fitting day, 0.5 mm a side is there) and "
        "is glued on all sides: it splits or bursts the frame; leave it free, pinned in the middle",
        "path": ["door[c1,r2]/panel", "door[c1,r2]/panel~stile.left", "door[c1,r2]/panel~stile.right", "door[c1,r2]"],
        "bad": HURT,
    },
    {
        "name": "One-inch screws driven up through the 18 mm bottom into the end of the divider.",
        "of": "low-bookcase",
        "piece": "bookcase",
        "edit": fasteners_of("divider[u1]~bottom", item="screw-8x1", length=25.4, thread_length=16.9),
        "words": "only 7 mm bite in the edge of the plywood, 25 mm is wanted (45 mm screws): they pull out",
        "path": ["divider[u1]~bottom", "divider[u1]~bottom.screw[1]", "divider[u1]"],
        "bad": HURT,
    },
    {
        "name": "The false front screwed on from inside with 1 1/2 in screws.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": both(
            fasteners_of("drawer[c1,r1]/face/front~box.left", item="washer-8x1-1/2", length=41.1, thread_length=25.4),
            fasteners_of("drawer[c1,r1]/face/front~box.right", item="washer-8x1-1/2", length=41.1, thread_length=25.4),
        ),
        "words": "38 mm of screw through a 12 mm box front into a 19 mm front: the points come out of the painted face by "
        "7 mm (31 mm of wood in all); 1 in is right",
        "path": [
            "drawer[c1,r1]/face/front~box.left.screw[1]",
            "drawer[c1,r1]/face/front~box.left",
            "drawer[c1,r1]/face/front",
            "drawer[c1,r1]",
        ],
        "bad": HURT,
    },
    {
        "name": "A door of 1.8 m hung on its top and bottom hinge alone.",
        "of": "tall-cupboard",
        "piece": "cupboard",
        "edit": both(
            without(
                "door[c1,r1].left/hinge[2].cup",
                "door[c1,r1].left.hinge[2].plate",
                "door[c1,r1].left/hinge[3].cup",
                "door[c1,r1].left.hinge[3].plate",
            ),
            placed("door[c1,r1].left/stile.left", unbored(1262.9, 727.1)),
            placed("side.left", unbored(1262.9, 727.1)),
        ),
        "words": "two cup hinges do not carry a door 1.8 m high, some 5-6 kg with its knob, nor keep it straight: four at this height "
        "(three at the very least)",
        "path": [
            "door[c1,r1].left",
            "door[c1,r1].left/hinge[1].cup",
            "door[c1,r1].left.hinge[1].plate",
            "door[c1,r1].left/stile.left",
        ],
        "bad": CHANGE,
    },
    {
        "name": "The drawer box glued up on four sides before its bottom is in.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": swapped("drawer[c1,r1]/bottom", "drawer[c1,r1]/side.right"),
        "words": "a bottom in grooves on four sides cannot be put in once the last side is on: slide it in first",
        "path": ["drawer[c1,r1]/bottom", "drawer[c1,r1]", "drawer[c1,r1]/side.right"],
        "bad": HURT,
    },
    {
        "name": "The back nailed on before the slide blocking of a drawer went in from behind.",
        "of": "console",
        "piece": "console",
        "edit": swapped("drawer[c1,r1].blocking.left", "back"),
        "words": "the blocking comes from behind and the back is in its way (307 mm long, it does not turn in through the "
        "opening to be screwed): blocking first, then the back",
        "path": ["drawer[c1,r1].blocking.left", "drawer[c1,r1].blocking.right", "back", "drawer[c1,r1]"],
        "bad": HURT,
    },
    {
        "name": "Slide blocking planed 1.5 mm too thick: proud of the opening, and the slide with it.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": both(
            part("drawer[c1,r1].blocking.left", thicker(1.5)),
            moved(("drawer[c1,r1].slide_case.left",), (1.5, 0.0, 0.0)),
            fasteners_moved("drawer[c1,r1].blocking.left~side.left", (1.5, 0.0, 0.0)),
        ),
        "words": "the blocking stands 1.3 mm into the opening; the slide has 11.6 mm where it needs 12.7: the drawer binds "
        "or does not go in",
        "path": [
            "drawer[c1,r1].blocking.left",
            "drawer[c1,r1].slide_case.left",
            "drawer[c1,r1]/slide_drawer.left",
            "drawer[c1,r1]",
        ],
        "bad": HURT,
    },
    {
        "name": "The channel for the touch module's cable was never routed.",
        "of": "lantern-hill",
        "piece": "bedside.left",
        "edit": both(part("top", no_channel), no_keepout("device.channel")),
        "words": "cable and plug (12 x 9 mm) have no way from the recess to the back: a channel that takes the plug",
        "path": ["device", "top", "device~top", "device_keeper"],
        "bad": HURT,
    },
    {
        "name": "An adjustable shelf cut 20 mm short: it drops between its pins.",
        "of": "tall-cupboard",
        "piece": "cupboard",
        "edit": resized("loose[c1,r1]/2/board", length=-20.0),
        "words": "840.8 mm in 864 mm: 11.6 mm a side where pins reach 10 mm; the shelf falls with what is on it (3 mm play "
        "in all is usual)",
        "path": [
            "loose[c1,r1]/2/board",
            "loose[c1,r1]/2/pin.front.left",
            "loose[c1,r1]/2/board~pin.front.left",
            "loose[c1,r1].fit",
            "loose[c1,r1]",
        ],
        "bad": HURT,
    },
    {
        "name": "The knob of one middle drawer bored 15 mm lower than that of its neighbour.",
        "of": "six-drawer-chest",
        "piece": "chest",
        "edit": both(
            moved(("drawer[c1,r2]/face/pull",), (0.0, 0.0, -15.0)),
            # both blanks have their width downwards
            part("drawer[c1,r2]/face/front", holes_of(BOLT_JOINT, lambda h: replace(h, v=h.v + 15.0))),
            part("drawer[c1,r2]/box_front", holes_of(BOLT_JOINT, lambda h: replace(h, v=h.v + 15.0))),
        ),
        "words": "pulls of one row are out of line by 15 mm (left 505, right 520 mm above the floor); it is not in the "
        "middle of its front as the others are either",
        "path": ["drawer[c1,r2]/face/pull", "drawer[c2,r2]/face/pull", "drawer[c1,r2]/face/front", "drawer[c1,r2]"],
        "bad": CHANGE,
    },
]
