"""The 20 fixed edits of the demonstration order: what a maker changes at the screen, one at a time.

Each edit has three values, so that it can be measured three times without meeting its own cached answer.
"""

from __future__ import annotations

from dataclasses import dataclass

LOCAL, OVERALL, STYLE = "local", "overall", "style"
# What the design aims at, 95th percentile on two cores, warm, in seconds: checked.
AIMS = {LOCAL: 0.150, OVERALL: 0.500, STYLE: 1.000}

Value = str | int | float | bool
KeyPath = tuple[str | int, ...]
PIECE: KeyPath = ("piece", 0)


@dataclass(frozen=True, slots=True)
class Edit:
    """One change: its reach, the key in the order (or in the shop), and three values that all can be built."""

    name: str
    reach: str
    path: KeyPath
    values: tuple[Value, Value, Value]
    in_shop: bool = False


EDITS: tuple[Edit, ...] = (
    Edit("gap around inset fronts", LOCAL, ("practice", "gap", "inset"), ("2.1 mm", "2.2 mm", "2.3 mm")),
    Edit("wood left over the device", LOCAL, (*PIECE, "device", "wood_over"), ("4.5 mm", "5 mm", "5.5 mm")),
    Edit("device from the front", LOCAL, (*PIECE, "device", "from_front"), ("100 mm", "105 mm", "110 mm")),
    Edit("device from the bed side", LOCAL, (*PIECE, "device", "from_bed_side"), ("108.5 mm", "110 mm", "112 mm")),
    Edit("margin of the applied frame", LOCAL, (*PIECE, "drawer", "frame_margin"), ("6 mm", "8 mm", "10 mm")),
    Edit("height of the drawer", LOCAL, (*PIECE, "drawer", "height"), ("112 mm", "118 mm", "122 mm")),
    Edit("door stiles", LOCAL, (*PIECE, "door", "stile_width"), ("52 mm", "54 mm", "56 mm")),
    Edit("door rails", LOCAL, (*PIECE, "door", "rail_width"), ("55 mm", "60 mm", "65 mm")),
    Edit("hinge side", LOCAL, (*PIECE, "door", "hinged"), ("at the bed", "away from the bed", "at the bed")),
    Edit("pull of the drawer", LOCAL, (*PIECE, "roles", "drawer_pull"), ("pull-96", "knob-30", "pull-128")),
    Edit("cove of the feet", LOCAL, (*PIECE, "feet", "cove"), ("8 mm", "10 mm", "7 mm")),
    Edit("tip of the feet", LOCAL, (*PIECE, "feet", "tip"), ("36 mm", "40 mm", "42 mm")),
    Edit("height of the feet", LOCAL, (*PIECE, "feet", "height"), ("124 mm", "130 mm", "133 mm")),
    Edit("overall width", OVERALL, (*PIECE, "width"), ("500 mm", "520 mm", "540 mm")),
    Edit("overall depth", OVERALL, (*PIECE, "depth"), ("450 mm", "465 mm", "480 mm")),
    Edit("overall height", OVERALL, (*PIECE, "height"), ("650 mm", "670 mm", "680 mm")),
    Edit("stiles of the face frames", STYLE, ("style", "stile_width"), ("36 mm", "40 mm", "42 mm")),
    Edit("top rails", STYLE, ("style", "top_rail_visible"), ("23 mm", "27 mm", "30 mm")),
    Edit("drawer rails", STYLE, ("style", "drawer_rail"), ("23 mm", "27 mm", "30 mm")),
    Edit(
        "measured thickness of the case sheet", STYLE, ("measured", "birch-plywood-18"),
        ("18.2 mm", "18.4 mm", "18.6 mm"), in_shop=True,
    ),
)  # fmt: skip
