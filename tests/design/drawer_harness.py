"""A plain open-fronted box with one drawer, or two side by side: enough of a case to try every kind of drawer in."""

from __future__ import annotations

from tests.checks.subjects import subject_of

from casewright import load_shop
from casewright.cache import Cache
from casewright.checks.attached import CHECK as ATTACHED
from casewright.checks.chains import CHECK as CHAINS
from casewright.checks.collision import CHECK as COLLISION
from casewright.checks.model import run_checks
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.drawer import drawer
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.drawer_steps import bench_drawer, bring_case_members, dry_hung, hang_drawer
from casewright.design.blocks.face_frame import Opening, Wall
from casewright.design.blocks.step_words import BACKWARDS, FORWARDS, by
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sequence import Sequence
from casewright.design.sites import centred
from casewright.findings import Finding
from casewright.shop import shop_from_text
from casewright.shop.model import Shop

CACHE = Cache()
CHECKS = (COLLISION, ATTACHED, CHAINS)
WET = Moisture(dry=6.0, damp=11.0, fitted=8.5)  # a heated house: 30 to 60 % relative humidity, common practice
SIDE, FRAME, BACK, STILE, MOVED = 18.0, 19.05, 6.0, 38.1, 900.0


def shop_with(**roles: str) -> Shop:
    """Return the built-in shop with other stock in some roles."""
    if not roles:
        return load_shop()
    rows = ["format = 1", 'name = "Fernbrook Workshop"', 'units = "mm"', "[roles]"]
    return shop_from_text("\n".join(rows + [f'{role} = "{item}"' for role, item in roles.items()]))


def harness(
    spec: DrawerSpec,
    *,
    framed: bool = False,
    columns: int = 1,
    width: float = 420.0,
    height: float = 180.0,
    depth: float = 420.0,
    shop: Shop | None = None,
) -> PieceDesign:
    """Return the box with a drawer in each opening; the opening's size is what a frame or the walls leave, mm."""
    stocked = shop or load_shop()
    kit = Kit(sizes=stocked.sizes, practice=stocked.practice)
    d = Draft(path="box", practice=kit.practice)
    body = _body(d, width, depth, height, framed)
    openings = _case(d, kit, body, framed, columns)
    for opening in openings:
        drawer(d, kit, body, opening, spec)
    if d.stopped:
        return d.unbuilt(kind="box", title="box", width=width, depth=depth, height=height)
    _plan(d, openings, framed)
    return d.finish(kind="box", title="box", width=width, depth=depth, height=height)


def found(piece: PieceDesign, shop: Shop | None = None) -> tuple[Finding, ...]:
    """Return what the builder and the real checks say of a piece."""
    practice = (shop or load_shop()).practice
    return (*piece.findings, *run_checks(CHECKS, subject_of(piece, practice, CACHE, shop)))


def _body(d: Draft, width: float, depth: float, height: float, framed: bool) -> Body:
    frame = FRAME if framed else 0.0
    for name, value in (("width", width), ("depth", depth), ("height", height)):
        d.let(f"body.{name}", value)
    for name, value in (("frame", frame), ("side", SIDE), ("back", BACK)):
        d.let(f"{name}.thickness", value)
    return Body(width=width, depth=depth, z0=0.0, z1=height, frame=frame, side=SIDE, back=BACK)


def _case(d: Draft, kit: Kit, body: Body, framed: bool, columns: int) -> tuple[Opening, ...]:
    material, y, z = kit.material("case"), (body.frame, body.depth - BACK), (0.0, body.height)
    for sign, hand in HANDS:
        d.box_part(f"side.{hand}", hand, material, side_x(sign, body.width / 2, SIDE), y, z, grain="z", thick="x")
    d.box_part("back", "back", kit.material("back"), body.x, (y[1], body.depth), z, grain="z", thick="y")
    for _, hand in HANDS:
        d.joint(f"back~side.{hand}", JointKind.GLUE, d.at(f"side.{hand}"), d.at("back"), (0.0, y[1], 0.0), glued=True)
    if columns == 2:
        d.box_part("divider", "divider", material, centred(SIDE), y, z, grain="z", thick="x")
        d.joint("back~divider", JointKind.GLUE, d.at("divider"), d.at("back"), (0.0, y[1], 0.0), glued=True)
    if framed:
        return _framed(d, kit, body, columns)
    inner = body.inside / 2
    edges = (-inner, inner) if columns == 1 else (-inner, -SIDE / 2, SIDE / 2, inner)
    return _openings(d, body, edges, edges, z, "inside.width")


def _framed(d: Draft, kit: Kit, body: Body, columns: int) -> tuple[Opening, ...]:
    """Stiles over the front edges, one rail below and above."""
    d.let("stile.width", STILE)
    half, inner = body.width / 2, body.inside / 2
    stiles = [(-half, -half + STILE, "left", "side.left"), (half - STILE, half, "right", "side.right")]
    if columns == 2:
        stiles.insert(1, (-STILE / 2, STILE / 2, "middle", "divider"))
    y, z = (0.0, FRAME), (25.0, body.height - 25.0)
    wood = kit.material("face_frame")
    for x0, x1, name, host in stiles:
        part = d.box_part(f"stile.{name}", name, wood, (x0, x1), y, (0.0, body.height), grain="z", thick="y")
        d.joint(f"stile.{name}~{host}", JointKind.GLUE, d.at(host), part, (x0, FRAME, 0.0), glued=True)
    edges = (-half + STILE, half - STILE)
    walls = (-inner, inner)
    if columns == 2:
        edges = (edges[0], -STILE / 2, STILE / 2, edges[1])
        walls = (-inner, -SIDE / 2, SIDE / 2, inner)
    return _openings(d, body, edges, walls, z, "rail.length")


def _openings(
    d: Draft, body: Body, edges: tuple[float, ...], faces: tuple[float, ...], z: tuple[float, float], width_name: str
) -> tuple[Opening, ...]:
    d.let(width_name, edges[1] - edges[0])
    d.let("opening.height", z[1] - z[0])
    member = "stile.width" if "stile.width" in d.led else "side.thickness"
    names = ("side.left", "side.right") if len(edges) == 2 else ("side.left", "divider", "divider", "side.right")
    walls = [
        Wall(name=n, face=f, thickness=SIDE, member=member, sheet="side.thickness")
        for n, f in zip(names, faces, strict=True)
    ]
    return tuple(
        Opening(
            cell=f"c{i + 1},r1",
            x=(edges[2 * i], edges[2 * i + 1]),
            z=z,
            width_name=width_name,
            height_name="opening.height",
            left=walls[2 * i],
            right=walls[2 * i + 1],
        )
        for i in range(len(edges) // 2)
    )


def _plan(d: Draft, openings: tuple[Opening, ...], framed: bool) -> None:
    s = Sequence(d)
    shell = [n for n in ("side.left", "side.right", "divider") if d.has(n)]
    s.bring(shell, "Stand the sides")
    names = [f"drawer[{o.cell}]" for o in openings]
    if framed:
        stiles = [n for n in ("stile.left", "stile.middle", "stile.right") if d.has(n)]
        s.bring(stiles, "Glue the frame on", moves=by(BACKWARDS, MOVED))
    for g in names:
        bring_case_members(s, d, g, MOVED)
    s.bring(["back"], "Glue the back on", moves=by(FORWARDS, MOVED))
    for g in names:
        bench_drawer(s, d, g, MOVED)
        dry = dry_hung(d, g)
        s.bring(dry, "Hang it dry", moves=by(BACKWARDS, MOVED), dry=True)
        s.remove(dry, "Take it off", by(FORWARDS, MOVED))
        hang_drawer(s, d, g, MOVED)
