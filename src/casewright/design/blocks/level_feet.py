"""Levelling feet: an insert in the end grain of a foot or block, and the foot that screws into it.

Common practice. Heights are given with the foot at its middle setting; what hangs beside it clears the floor with the
foot fully in. Behind a base that is closed all round no spanner comes to them: they are turned from inside the case,
with a key through a hole in its bottom.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.hardware import insert_hardware, leveller_hardware
from casewright.design.draft import Draft
from casewright.design.features.holes import Hole
from casewright.design.frames import Frame, Vec
from casewright.design.joints.others import Drilled
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import depth_along, entry, world_box
from casewright.findings import Severity
from casewright.shop.model import Practice
from casewright.stock.model import Insert, Leveller

UP: Vec = (0.0, 0.0, 1.0)
STEM_ROOM = 2.0  # mm above the stem when it is screwed fully in


def level_foot(
    d: Draft, insert: Insert, leveller: Leveller, wood: Placed, at: Vec, name: str, label: str, *, through: bool = False
) -> None:
    """Place insert and levelling foot under a piece of wood whose lower end lies at `at`; its setting is in the ledger.

    They are named `name/insert` and `name/leveller`. `through` bores the wood right up, for a key from above.
    """
    sleeve = d.place_hardware(
        f"{name}/insert",
        f"threaded insert, {label}",
        insert_hardware(insert, leveller.stem_diameter),
        Frame(origin=at, x=(1.0, 0.0, 0.0), y=(0.0, 1.0, 0.0)),
    )
    d.joint(
        f"{name}/insert~wood",
        JointKind.INSERT,
        wood,
        sleeve,
        at,
        Drilled(
            part=wood.path,
            points=(at,),
            drive=UP,
            diameter=insert.hole,
            depth=insert.length,
            bore_diameter=insert.flange_diameter,
            bore_depth=insert.flange_depth,
        ),
        glued=True,
        why="epoxy: it is end grain",
    )
    pad = d.place_hardware(
        f"{name}/leveller",
        f"levelling foot, {label}",
        leveller_hardware(leveller, d.led["leveller.setting"]),
        Frame(origin=at, x=(1.0, 0.0, 0.0), y=(0.0, -1.0, 0.0)),
    )
    d.joint(
        f"{name}/leveller~insert",
        JointKind.THREAD,
        sleeve,
        pad,
        at,
        Drilled(
            part=wood.path,
            points=(at,),
            drive=UP,
            diameter=leveller.stem_diameter + 1.0,
            depth=depth_along(wood, UP) if through else stem(leveller),
        ),
    )


def stem(leveller: Leveller) -> float:
    """Return how deep a hole the stem needs when it is screwed fully in, past the insert."""
    return leveller.stem_length - (leveller.least - leveller.pad_height) + STEM_ROOM


def let_setting(d: Draft, leveller: Leveller) -> float:
    """Record the middle setting of the levelling feet, once, and return it."""
    name = "leveller.setting"
    return d.led[name] if name in d.led else d.let(name, leveller.middle, rule="levelling feet at their middle setting")


def floor_gap(leveller: Leveller, practice: Practice) -> float:
    """Return how high above the floor a base ends that levelling feet carry: it clears it with the feet fully in."""
    return leveller.middle - leveller.least + practice["plinth.floor_gap"]


def level_block(d: Draft, kit: Kit, block: Placed, name: str, label: str, over: tuple[Placed, ...] = ()) -> None:
    """Put a levelling foot under the middle of a block whose grain is upright; a block too low for it is found.

    `over` is what lies over the block up to the inside of the case: it is bored for a key, and so is the block.
    """
    insert, leveller = kit.role("insert", Insert), kit.role("leveller", Leveller)
    lo, hi = world_box(block)
    needed = max(stem(leveller), insert.length) + d.practice["fastener.point_cover"]
    if hi[2] - lo[2] < needed:
        d.find(
            "base.low",
            Severity.STOP,
            name,
            f"a block of {hi[2] - lo[2]:.1f} mm is too low for insert and levelling foot",
            value=hi[2] - lo[2],
            limit=needed,
            source="length of the stem, fully in (stock)",
            remedy="a higher base, or one without levelling feet",
        )
        return
    at = ((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, lo[2])
    level_foot(d, insert, leveller, block, at, name, label, through=bool(over))
    if over:
        _access(d, at, name, block, over)


def _access(d: Draft, at: Vec, name: str, block: Placed, over: tuple[Placed, ...]) -> None:
    """Bore what lies over a block in line with its levelling foot, and keep screws out of the bore."""
    wide = d.practice["leveller.access"]
    for part in over:
        face, (u, v), _ = entry(part, at, UP)
        d.cut(part, Hole(face=face, u=u, v=v, diameter=wide))
    top = max(world_box(p)[1][2] for p in over)
    lo = (at[0] - wide / 2, at[1] - wide / 2, at[2])
    d.keep_out(f"{name}.access", lo, (at[0] + wide / 2, at[1] + wide / 2, top), of=(block, *over))
