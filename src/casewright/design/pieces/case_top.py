"""What closes a case above: its sizes, then the top itself, then how it is fixed and what runs around it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.in_line import edges_of, moulding_in_line
from casewright.design.blocks.lid import LidSpec, lid, lid_stock
from casewright.design.blocks.mouldings import moulding_run
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import Moisture, TopSpec, let_wander, ties_of
from casewright.design.blocks.top_edge import top_edge
from casewright.design.blocks.top_fixing import Walls, Way, fix_made, fix_to_walls
from casewright.design.blocks.top_kinds import MadeTop, make_top
from casewright.design.blocks.top_sound import board_gives, covers_crown
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.pieces.case_fronts import inset_depth
from casewright.design.sections import projection
from casewright.design.sites import world_box
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder
from casewright.stock.model import Board, Sheet

WAYS = {"buttons": Way.BUTTONS, "figure plates": Way.PLATES}
WHOLE = ("solid", "banded")  # tops that lie over the sides in one part


def fixing_suits(d: Draft, spec: CaseOrder) -> bool:
    """True where the top can be fixed as ordered; else it is found."""
    if spec.top.fixing not in WAYS or spec.top.kind in WHOLE:
        return True
    d.find(
        "top.fixing",
        Severity.STOP,
        "top.fixing",
        f"{spec.top.fixing} hold a top that lies over both sides in one part, and this one is {spec.top.kind}",
        source="common practice",
        remedy='top.fixing = "auto", or a top of solid wood or a banded sheet',
    )
    return False


def let_top(d: Draft, kit: Kit, spec: CaseOrder, wet: Moisture, fronts: float) -> TopSpec:
    """Settle thickness and overhangs; a case that a panel closes has neither. `fronts` is how far fronts stand out."""
    if spec.top.kind == "lid":
        return _let_lid(d, kit, spec)
    if not spec.covered:
        for name in ("overhang_side", "overhang_front", "overhang_back", "thickness", "to_wall"):
            d.let(f"top.{name}", 0.0, rule="the case is closed between its sides")
        return TopSpec(thickness=0.0, overhang_front=0.0, overhang_side=0.0, overhang_back=0.0, to_wall=0.0)
    crown = projection(kit.stick("crown")) if spec.crown else 0.0
    reveal, rear = d.practice["crown.reveal"], spec.top.overhang_back
    shrinks = 0.0
    if isinstance(kit.sizes.item("top"), Board):
        shrinks = let_wander(d, kit, spec.top.fixed, spec.depth, rear, wet).front
    else:
        d.let("top.to_wall", d.practice["top.wall_clearance"], rule="practice: off the wall; a sheet does not grow")
    out = max(crown, fronts if spec.fronts.mount != "inset" else 0.0)
    front = d.let(
        "top.overhang_front",
        _or(spec.top.overhang_front, out + reveal + shrinks),
        rule="as ordered, or what stands out under it + reveal, at the dry end too",
    )
    side = d.let(
        "top.overhang_side", _or(spec.top.overhang_side, crown + reveal), rule="as ordered, or the crown + reveal"
    )
    d.let("top.overhang_back", rear, rule="as ordered: skirting or none")
    thick = d.let("top.thickness", _thickness(d, kit, spec), rule="as ordered, or what the stock gives")
    covers_crown(d, front, side, crown, shrinks)
    return TopSpec(
        thickness=thick,
        overhang_front=front,
        overhang_side=side,
        overhang_back=rear,
        to_wall=d.led["top.to_wall"],
    )


def _let_lid(d: Draft, kit: Kit, spec: CaseOrder) -> TopSpec:
    """A lid is as thick as its stock and stands out in front, so that fingers get under it."""
    p = d.practice
    front = d.let(
        "top.overhang_front", _or(spec.top.overhang_front, p["lid.finger"]), rule="as ordered, or what fingers need"
    )
    side = d.let("top.overhang_side", _or(spec.top.overhang_side, 0.0), rule="as ordered, or flush")
    rear = d.let("top.overhang_back", spec.top.overhang_back, rule="as ordered: skirting or none")
    thick = d.let("top.thickness", lid_stock(kit, kit.top_finish).thickness, rule="what the stock of the lid gives")
    return TopSpec(thickness=thick, overhang_front=front, overhang_side=side, overhang_back=rear, to_wall=0.0)


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def _thickness(d: Draft, kit: Kit, spec: CaseOrder) -> float:
    item = kit.sizes.item("top")
    if isinstance(item, Sheet):
        return item.thickness
    board = kit.board("top")
    wanted = _or(spec.top.thickness, d.practice["top.finished_share"] * board.dressed)
    board_gives(d, kit, wanted)
    return wanted


def over_top(d: Draft, kit: Kit, body: Body, spec: CaseOrder, wet: Moisture) -> MadeTop | None:
    """Place a top that lies over the case, None where there is none."""
    if not spec.covered:
        return None
    sizes = d.led
    top = TopSpec(
        thickness=sizes["top.thickness"],
        overhang_front=sizes["top.overhang_front"],
        overhang_side=sizes["top.overhang_side"],
        overhang_back=sizes["top.overhang_back"],
        to_wall=sizes["top.to_wall"],
    )
    return make_top(d, kit, _behind(kit, body, spec), top, spec.top.kind, wet)


def _behind(kit: Kit, body: Body, spec: CaseOrder) -> Body:
    """Return the body as the screws of its top see it: they stand behind inset fronts and fixed panels, too."""
    return replace(body, frame=max(_behind_front(body, spec), inset_depth(kit, spec)))


def _behind_front(body: Body, spec: CaseOrder) -> float:
    """Return where the case is open behind its front (y, mm): the frame, and a panel fixed behind it."""
    closed = any(bay.holds == "closed" for bay in spec.bays.leaves())
    return body.frame + (body.side if closed else 0.0)


def _lid(s: Shell, spec: CaseOrder) -> LidSpec:
    """Under the lid the case is open behind its front."""
    sizes = s.d.led
    names = [path.removeprefix(s.d.path + "/") for path in s.d.under("")]
    boxes = [world_box(s.d.at(name)) for name in names if name.startswith("divider[")]
    return LidSpec(
        overhang_front=sizes["top.overhang_front"],
        clear_from=_behind_front(s.body, spec),
        floor_z=s.floor,
        overhang_side=sizes["top.overhang_side"],
        overhang_back=sizes["top.overhang_back"],
        uprights=tuple((lo[0], hi[0]) for lo, hi in boxes if hi[2] >= s.body.z1 - s.thick - 1.0),
        finish=spec.top.finish,
    )


DEVICE = ("device", "device_keeper")  # screwed to the top while it lies on its face
DRIVER_LONG = 105.0  # mm: an offset driver with its longest bit; what lies deeper under a stretcher is in nobody's way


def _past_kickers(d: Draft, made: MadeTop) -> None:
    """Keep the top's screws, which go up through the stretchers, clear of kickers and their blocking below these."""
    top = world_box(d.at("stretcher.front"))[1][2]
    for path in d.under(""):
        name = path.removeprefix(d.path + "/")
        if not name.startswith("drawer[") or "/" in name or not (".kicker." in name or ".upper_blocking." in name):
            continue
        lo, hi = world_box(d.at(name))
        if hi[2] > top - d.led["side.thickness"] - DRIVER_LONG:
            owners = (d.at(name), *(d.at(n) for n in DEVICE if d.has(n)))
            d.keep_out(f"{name}.top", lo, (hi[0], hi[1], top), *owners, of=(made.front, made.rear))


def mouldings_in_line(d: Draft, spec: CaseOrder) -> None:
    """Find a crown or base moulding that is off that of a matching piece, where the order wants them on one line."""
    placed = [d.at(path.removeprefix(d.path + "/")) for path in d.under("")]
    for name, line in (("base", spec.lines.base), ("crown", spec.lines.crown)):
        moulding_in_line(d, name, edges_of(placed, name), line)


def close_top(s: Shell, spec: CaseOrder, made: MadeTop | None, wet: Moisture) -> None:
    """Fix the top and run the mouldings: last, when every keepout is known."""
    d, kit, body = s.d, s.kit, s.body
    if s.lid:
        lid(d, kit, body, _lid(s, spec), wet)
        # Barrels stand up over the lid; the height that the client sees is the lid's.
        hinges = [f"lid{of}hinge[{i}]" for i in range(1, 20) for of in "./"]
        d.excluded.extend(d.full(n) for n in hinges if d.has(n))
    if made is not None:
        clear = _behind(kit, body, spec)
        ties = ties_of(d)
        _past_kickers(d, made)
        if spec.top.fixing in WAYS:
            spans = tuple((world_box(a)[1][1], world_box(b)[0][1]) for a, b in pairwise(ties))
            sides = tuple(d.at(f"side.{hand}") for _, hand in HANDS)
            walls = Walls(way=WAYS[spec.top.fixing], spans=spans, sides=sides)
            fix_to_walls(d, kit, clear, made, wet, ties, walls, spec.top.fixed)
        else:
            fix_made(d, kit, clear, made, wet, ties, fixed=spec.top.fixed)
    top_edge(d, spec.top.edge, spec.top.edge_size)
    if spec.base:
        moulding_run(d, kit, body, name="base", role="base", foot_z=body.z0, moisture=wet.damp - wet.dry)
    if spec.crown:
        foot = body.z1 - d.led["crown.drop"]
        moulding_run(d, kit, body, name="crown", role="crown", foot_z=foot, moisture=wet.damp - wet.dry)
    if body.back_in:
        _off_back(d)


def _off_back(d: Draft) -> None:
    """Keep a moulding's pins out of the edge of a back that stands in before a skirting: they run past it."""
    paths = [path.removeprefix(d.path + "/") for path in d.under("")]
    backs = [d.at(name) for name in paths if name == "back" or name.startswith("back[")]
    for part in (d.at(name) for name in paths if name.startswith(("base/", "crown/"))):
        for back in backs:
            name = f"{part.path.removeprefix(d.path + '/')}.{back.path.rpartition('/')[2]}"
            d.keep_out(name, *world_box(back), back, of=(part,))
