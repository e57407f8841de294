"""What a case stands on: where its body begins and its bottom lies, and the parts under it."""

from __future__ import annotations

from casewright.design.blocks.body import Body
from casewright.design.blocks.bracket_feet import BracketSpec, bracket_feet
from casewright.design.blocks.corner_posts import PLAIN, PostSpec
from casewright.design.blocks.feet import FeetSpec, feet
from casewright.design.blocks.floor_sides import SidesSpec, side_gap, sides_to_floor
from casewright.design.blocks.grid import Grid
from casewright.design.blocks.plinth import PlinthSpec, plinth
from casewright.design.blocks.scribe import scribe_side, scribe_top
from casewright.design.blocks.shell import Shell, closes_above
from casewright.design.blocks.wall_fixing import (
    fixing_rail,
    hang_by_battens,
    hang_by_rail,
    tip_restraint,
    usual_contents,
)
from casewright.design.draft import Draft
from casewright.design.features.cuts import Notch
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sections import blank_section
from casewright.design.sites import DIRECTIONS, sink, world_box
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder
from casewright.stock.model import Dowel


def underside(d: Draft, kit: Kit, spec: CaseOrder) -> float:
    """Return the height of the body's underside above the floor, mm: hardly any where its sides run to the floor."""
    if spec.stand.kind == "sides":
        return side_gap(d, kit, SidesSpec(toe_height=0.0, toe_depth=0.0, levelled=spec.stand.levelled))
    return spec.stand.height if spec.stand.kind in ("feet", "bracket feet", "posts", "plinth") else 0.0


def post_section(d: Draft, kit: Kit, spec: CaseOrder) -> float | None:
    """Return the section of corner posts, mm, 0 where the case stands on something else; None, found, where barred."""
    if spec.stand.kind != "posts":
        return 0.0
    if not spec.framed:
        d.find(
            "post.frame",
            Severity.STOP,
            "stand.kind",
            "corner posts are the stiles of a face frame, and the case has none",
            source="common practice",
            remedy='front = "frame", or another stand',
        )
        return None
    return blank_section(kit.stick("corner_post"))[1]


def post_shape(spec: CaseOrder, body: Body) -> PostSpec:
    """Return how corner posts are tapered below their square part: on the inner faces, to the tip.

    Plain where the tip is as wide as the post, or the taper would be steeper than 45°.
    """
    given, below = spec.stand, body.z0 - spec.stand.square
    taper = max(0.0, body.post - given.tip)
    return PostSpec(taper=taper, taper_from=below) if 0 < taper < below else PLAIN


def back_in(spec: CaseOrder) -> float:
    """Return how far the back stands in so that sides to the floor can be notched for the skirting, mm."""
    return spec.stand.skirting[1] if spec.stand.kind == "sides" else 0.0


def back_on_edges(d: Draft, spec: CaseOrder) -> bool:
    """True where the back may be set on the rear edges of the sides, or is not; what bars it is found."""
    if spec.back.kind == "framed" and spec.stand.kind == "wall":
        d.find(
            "back.hung",
            Severity.STOP,
            "back.kind",
            "a case hangs by a back of one sheet, and nobody sees a framed one on a wall",
            source="common practice",
            remedy='back.kind = "set in"',
        )
        return False
    if spec.back.kind != "set on":
        return True
    barred = ""
    if spec.stand.kind == "posts":
        barred = "rear corner posts stand where it would lie"
    elif back_in(spec):
        barred = "sides that run to the floor are cut out for the skirting, and it would stand before that"
    if barred:
        d.find(
            "back.set_on",
            Severity.STOP,
            "back.kind",
            f"the back cannot be set on: {barred}",
            source="common practice",
            remedy='back.kind = "set in", or another stand',
        )
        return False
    if spec.clear:
        d.find(
            "back.edges",
            Severity.NOTE,
            "back",
            "the edges of a back that is set on show at the sides",
            source="common practice",
            remedy='back.kind = "set in" where the case stands free',
        )
    return True


def kick(spec: CaseOrder, body: Body) -> float:
    """Return how far the bottom's underside lies over the underside of sides that run to the floor, mm; else 0."""
    return spec.stand.height - body.z0 if spec.stand.kind == "sides" else 0.0


def frame_low(spec: CaseOrder, body: Body) -> float:
    """Return how far over the sides' lower ends a face frame begins, mm: over the toes where it is cut out for them."""
    return kick(spec, body) if spec.stand.notched else 0.0


def bottom_rail(d: Draft, spec: CaseOrder, body: Body) -> float:
    """Return the width of the face frame's bottom rail, mm: what a moulding covers and what shows."""
    down = kick(spec, body) - frame_low(spec, body)
    return max(down, spec.bottom_rail_visible + d.led["base.height"])


def floor_of(d: Draft, spec: CaseOrder, body: Body) -> float:
    """Return the height of the bottom's upper face, mm: at the bottom rail's edge, or the bottom's own thickness up.

    Over a base of its own that leaves no room for strips, the bottom lies at the underside and the rail forms a lip.
    """
    if not spec.framed:
        return body.z0 + kick(spec, body) + body.side
    if frame_low(spec, body):
        return body.z0 + kick(spec, body) + max(body.side, bottom_rail(d, spec, body) - d.practice["case.bottom_step"])
    floor = body.z0 + bottom_rail(d, spec, body) - d.practice["case.bottom_step"]
    own_base = spec.stand.kind in ("plinth", "bracket feet")
    if own_base and floor - body.z0 < 2 * body.side + d.practice["base_rail.least"]:
        return body.z0 + body.side
    return floor


def stand(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Place what is under the body."""
    if spec.stand.kind == "feet":
        _feet(s, spec)
    if spec.stand.kind == "sides":
        _sides(s, spec)
    if spec.stand.kind == "plinth":
        plinth(s.d, s.kit, s.body, _plinth(s, spec), s.d.at("bottom"))
    if spec.stand.kind == "bracket feet":
        bracket_feet(s.d, s.kit, s.body, _brackets(s, spec), s.d.at("bottom"))


def rail_or_straps(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Give a wall case its fixing rail, and a tall or clothes-holding one the straps that keep it from tipping."""
    d = s.d
    above = closes_above(d)
    if spec.stand.kind != "wall":
        if spec.height > d.practice["tie.height"]:
            tip_restraint(d, s.kit, above)
        return
    if not d.has("back"):
        return
    lo, hi = world_box(fixing_rail(d, s.kit, s.body, d.at("back"), above, spec.finish))
    lo = (lo[0], lo[1], hi[2] - d.led["fixing_rail.width"])  # with the band of its lower edge
    for panel in grid.panels:
        box = world_box(panel)
        if all(box[0][i] < hi[i] - 1e-6 and box[1][i] > lo[i] + 1e-6 for i in range(3)):
            d.cut(panel, sink(Notch, panel, DIRECTIONS["back"], lo, hi))
            d.keep_out(f"{panel.path.removeprefix(d.path + '/')}.notch", lo, hi, d.at("fixing_rail"), of=(panel,))


def hang(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Hang a wall case, once everything is placed that its screws bear."""
    d = s.d
    if not d.has("fixing_rail"):
        return
    levels = [p for p in grid.panels if _is_shelf(p)]
    shelves = s.body.inside + sum(p.part.blank.length for p in levels)
    shelves += sum(c.bay.shelves * (c.region.inside[1] - c.region.inside[0]) for c in grid.cells)
    by = hang_by_battens if spec.stand.fixing == "split batten" else hang_by_rail
    by(d, s.kit, s.body, d.at("back"), d.at("fixing_rail"), usual_contents(d, shelves))


def _is_shelf(panel: Placed) -> bool:
    return panel.path.rpartition("/")[2].startswith("shelf")


def _plinth(s: Shell, spec: CaseOrder) -> PlinthSpec:
    high, deep = spec.stand.skirting
    behind = deep if high <= spec.stand.height else 0.0
    # A butted corner shows end grain or plies, which paint hides and a clear finish does not.
    mitred = spec.joints.plinth in ("mitre", "keyed mitre") or (spec.joints.plinth == "auto" and spec.clear)
    return PlinthSpec(
        set_back=spec.stand.setback,
        behind=behind,
        mitred=mitred,
        keyed=spec.joints.plinth == "keyed mitre",
        levelled=spec.stand.levelled,
        finish=spec.finish,
    )


def _brackets(s: Shell, spec: CaseOrder) -> BracketSpec:
    """Return feet of the shop's usual outline, the curve as large as it leaves room for."""
    p = s.d.practice
    length, ankle, web = p["bracket.length"], p["bracket.ankle"], p["bracket.web"]
    radius = min(spec.stand.height - web, length - ankle - p["bracket.level"])
    return BracketSpec(length=length, ankle=ankle, web=web, radius=radius, finish=spec.finish)


def _sides(s: Shell, spec: CaseOrder) -> None:
    """Cut sides that run to the floor, and close the space under the bottom where no face frame does."""
    d, given = s.d, spec.stand
    under = s.floor - s.thick - s.body.z0
    board = not spec.framed or given.notched
    if board and under < d.practice["base_rail.least"]:
        d.find(
            "stand.low",
            Severity.STOP,
            "stand.height",
            f"only {under:.1f} mm are left under the bottom for a toe board",
            value=under,
            limit=d.practice["base_rail.least"],
            source="practice base_rail.least",
            remedy="a higher stand, or a plinth",
        )
        return
    back = max(given.setback or (d.practice["toe.depth"] if given.notched else 0.0), d.led["edge.band"])
    cut = SidesSpec(
        toe_height=under if board else 0.0,
        toe_depth=back if board else 0.0,
        notched=given.notched,
        skirting_height=given.skirting[0],
        skirting_depth=given.skirting[1],
        levelled=given.levelled,
        finish=spec.finish,
    )
    sides_to_floor(d, s.kit, s.body, cut, d.at("bottom"))
    if d.has("toe_board"):
        # Pocket screws of the bottom stand clear of it: a driver must reach them. What is screwed in from above ends
        # over the bottom's underside, and does not come into this room; a pocket opens there, and does.
        toe, bottom = d.at("toe_board"), d.at("bottom")
        (x0, y0, _), (x1, y1, z1) = world_box(toe)
        room, under = d.practice["fastener.driver"], d.practice["pocket.diameter"] / 2 - 0.5
        d.keep_out("toe_board.room", (x0, y0 - room, z1 - room), (x1, y1 + room, z1 - under), toe, of=(bottom,))


def _feet(s: Shell, spec: CaseOrder) -> None:
    d = s.d
    dowel = s.kit.role("foot_dowel", Dowel)
    flat = abs(s.floor - s.thick - s.body.z0) < 1e-6
    needed = max(d.practice["base_rail.least"], dowel.length / 2 + 2 * d.practice["fastener.point_cover"])
    if not flat and (not d.has("base_rail") or s.floor - s.thick - s.body.z0 < needed):
        d.find(
            "feet.no_room",
            Severity.STOP,
            "stand.kind",
            "corner blocks and the dowels that hold feet have no room under the bottom",
            value=s.floor - s.thick - s.body.z0,
            limit=needed,
            source="common practice",
            remedy="a face frame with a wider bottom rail, bracket feet, or a plinth",
        )
        return
    stick = s.kit.stick("foot")
    _, section, _ = blank_section(stick)
    given = spec.stand
    feet(
        d,
        s.kit,
        s.body,
        FeetSpec(
            inset=given.inset,
            taper=(section - given.tip) / (2 if given.tapered == 4 else 1),
            square=given.square,
            cove_radius=given.cove,
            cove_depth=given.cove * d.practice["foot.cove_share"],
            inner_only=given.tapered != 4,
        ),
        d.at("bottom") if flat else None,
    )


def scribe(s: Shell, spec: CaseOrder) -> None:
    """Place strips that are scribed to the walls and the ceiling; the ordered sizes are the case's without them."""
    if spec.scribe and (spec.crown or spec.base or s.body.post):
        s.d.find(
            "scribe.moulding",
            Severity.STOP,
            "scribe",
            "scribing strips have no room beside mouldings that run around the case, or beside corner posts",
            source="common practice",
            remedy="leave the mouldings or posts out, or the strips",
        )
        return
    skirting = 0.0 if spec.stand.kind == "wall" else spec.stand.skirting[1]
    for hand in spec.scribe:
        if hand == "top":
            over = next(s.d.at(n) for n in ("top_frame.front", "top", "top_panel", "stretcher.rear") if s.d.has(n))
            strip = scribe_top(s.d, s.kit, s.body, over, spec.finish)
        else:
            strip = scribe_side(s.d, s.kit, s.body, -1 if hand == "left" else 1, spec.finish, skirting)
        s.d.excluded.append(strip.path)
