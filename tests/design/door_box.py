"""A plain box with one opening, to hang doors in: frameless or with a face frame, every joint glued."""

from __future__ import annotations

from functools import lru_cache

from tests.checks.subjects import subject_of

from casewright import load_shop
from casewright.cache import Cache
from casewright.checks import attached, chains, collision
from casewright.checks.model import run_checks
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.door import door
from casewright.design.blocks.door_leaf import DoorSpec
from casewright.design.blocks.door_steps import bench_door, bring_door_blocks, dry_hung_door, hang_door
from casewright.design.blocks.face_frame import Opening, Wall
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sequence import Sequence
from casewright.design.sites import centred
from casewright.findings import Finding
from casewright.shop.model import Practice
from casewright.shop.sizes import stock_sizes

CHECKS = (collision.CHECK, attached.CHECK, chains.CHECK)
SIDE, BACK, FRAME = 18.0, 5.4, 19.05
ROOM = Moisture(dry=6.5, damp=11.0, fitted=8.5)
CACHE = Cache()


@lru_cache
def kit_of(*served: tuple[str, str]) -> Kit:
    """Return the built-in shop's kit, roles served by other items where given."""
    shop = load_shop()
    roles = dict(shop.roles) | {role: (item,) for role, item in served}
    return Kit(sizes=stock_sizes(shop.stock, roles, shop.measured), practice=shop.practice)


def box(
    spec: DoorSpec,
    *,
    width: float,
    height: float,
    kit: Kit,
    frame: float = 0.0,
    wet: Moisture = ROOM,
    stile: float = 57.15,
) -> tuple[Draft, PieceDesign]:
    """Return the draft and the finished piece: an opening of width × height mm with its door, `stile` mm beside it."""
    p: Practice = kit.practice
    stile = stile if frame else SIDE
    body = Body(width=width + 2 * stile, depth=400.0, z0=0.0, z1=height + 2 * stile, frame=frame, side=SIDE, back=BACK)
    d = Draft(path="box", practice=p)
    d.let("width", width)
    d.let("height", height)
    d.let("stile.width", stile)
    d.let("side.thickness", SIDE)
    d.let("frame.thickness", frame)
    z = (stile, stile + height)
    _shell(d, kit, body, z)
    if frame:
        _frame(d, kit, body, z, stile)
    left, right = (
        Wall(
            name=f"side.{hand}",
            face=sign * body.inside / 2,
            thickness=SIDE,
            member="stile.width",
            sheet="side.thickness",
        )
        for sign, hand in HANDS
    )
    opening = Opening(
        cell="c1,r1", x=centred(width), z=z, width_name="width", height_name="height", left=left, right=right
    )
    door(d, kit, body, opening, spec, z[0], wet)
    _steps(d, max(width, height, 400.0))
    return d, d.finish(kind="box", title="Box", width=body.width, depth=body.depth, height=body.height)


def _shell(d: Draft, kit: Kit, body: Body, z: tuple[float, float]) -> None:
    sheet = kit.material("case")
    y = (body.frame, body.depth)
    for sign, hand in HANDS:
        d.box_part(
            f"side.{hand}", hand, sheet, side_x(sign, body.width / 2, SIDE), y, (0.0, body.z1), grain="z", thick="x"
        )
    for name, low in (("bottom", z[0] - SIDE), ("ceiling", z[1])):
        panel = d.box_part(name, name, sheet, centred(body.inside), y, (low, low + SIDE), grain="x", thick="z")
        for _, hand in HANDS:
            side = d.at(f"side.{hand}")
            d.joint(f"{name}~side.{hand}", JointKind.GLUE, side, panel, panel.frame.origin, glued=True)


def _frame(d: Draft, kit: Kit, body: Body, z: tuple[float, float], stile: float) -> None:
    wood = kit.material("face_frame")
    y = (0.0, body.frame)
    for sign, hand in HANDS:
        upright = d.box_part(
            f"frame/stile.{hand}",
            hand,
            wood,
            side_x(sign, body.width / 2, stile),
            y,
            (0.0, body.z1),
            grain="z",
            thick="y",
        )
        side = d.at(f"side.{hand}")
        d.joint(f"side.{hand}~frame", JointKind.GLUE, side, upright, upright.frame.origin, glued=True)
    for name, low in (("top", z[1]), ("bottom", z[0] - stile)):
        rail = d.box_part(
            f"frame/rail.{name}",
            name,
            wood,
            centred(body.width - 2 * stile),
            y,
            (low, low + stile),
            grain="x",
            thick="y",
        )
        for _, hand in HANDS:
            upright = d.at(f"frame/stile.{hand}")
            d.joint(f"frame/{name}~{hand}", JointKind.GLUE, upright, rail, rail.frame.origin, glued=True)


def _steps(d: Draft, moved: float) -> None:
    s = Sequence(d)
    g = "door[c1,r1]"
    case = [n for n in ("side.left", "side.right", "bottom", "ceiling") if d.has(n)]
    case += [f"frame/{n}" for n in ("stile.left", "stile.right", "rail.top", "rail.bottom") if d.has(f"frame/{n}")]
    s.bring(case, "Stand the box")
    bring_door_blocks(s, d, g, moved)
    bench_door(s, d, g, moved)
    dry = dry_hung_door(d, g)
    if dry:
        s.bring(dry, "Hang it dry", dry=True)
        s.remove(dry, "Take it off")
    hang_door(s, d, g, moved)


def checked(piece: PieceDesign, practice: Practice) -> list[Finding]:
    """Return what the design and the real checks find."""
    return [*piece.findings, *run_checks(CHECKS, subject_of(piece, practice, CACHE))]
