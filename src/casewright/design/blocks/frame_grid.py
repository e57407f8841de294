"""The face frame of a case with a grid: outer stiles, top and bottom rails, centre stiles and rails between bays.

Common practice. Outer stiles run full height, top and bottom rails between them; what parts columns runs the full
height of its bay, what parts rows its full width. Visible widths are the input.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.design.assembly import JointKind
from casewright.design.blocks.bays import Level, Region
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.corner_posts import PLAIN, PostSpec, front_posts
from casewright.design.blocks.face_frame import frame_rail, join_member, outer_stiles, side_walls
from casewright.design.blocks.joining import Making, entry_depth, join
from casewright.design.draft import Draft
from casewright.design.joints.auto import Case, Load, Member, choose, objection
from casewright.design.joints.dowelling import two_dowels_least
from casewright.design.kit import Kit
from casewright.design.parts import Form, PartKind, Placed
from casewright.design.sites import Span, centred, world_box
from casewright.findings import Severity
from casewright.stock.model import Dowel


@dataclass(frozen=True, slots=True, kw_only=True)
class OuterFrame:
    """Widths of the outer members, mm: stiles, and rails with what a moulding covers; the finish of the frame.

    `low` is how far over the underside of the body the frame begins (toes); `joint` how the order wants its corners;
    `posts` the shape of corner posts, which stand in for the outer stiles of a body that has them.
    """

    stile: float
    top_rail: float
    bottom_rail: float
    low: float = 0.0
    finish: str = "paint"
    joint: str = "auto"
    posts: PostSpec = PLAIN


def outer_frame(d: Draft, kit: Kit, body: Body, widths: OuterFrame, low: Level, high: Level) -> Region:
    """Place stiles, top and bottom rail; return the whole front as one region between floor and ceiling."""
    d.let("stile.width", widths.stile, rule="visible width, as ordered")
    low_z = body.z0 + d.let("frame.low", widths.low, rule="where the frame begins over the underside of the body")
    d.let("stile.length", body.height - widths.low, "body.height", "frame.low", rule="outer stiles: the full height")
    if body.post:
        front_posts(d, kit, body, widths.posts, widths.finish)
    else:
        outer_stiles(d, kit, body, (low_z, body.z1), widths.finish)
    top = d.let("top_rail.width", widths.top_rail, rule="covered by the crown + visible")
    bottom = d.let("bottom_rail.width", widths.bottom_rail, rule="covered by the base moulding + visible")
    d.let(
        "front.height",
        body.z1 - low_z - top - bottom,
        "body.height",
        "frame.low",
        "top_rail.width",
        "bottom_rail.width",
        rule="between top and bottom rail",
    )
    d.chain(
        "chain.front_height",
        "z",
        "body.height",
        ("top_rail.width", "front.height", "bottom_rail.width", *(("frame.low",) if widths.low else ())),
        "front.height",
        50.0,
        5e3,
    )
    x = centred(d.led["rail.length"])
    corners(d, kit, body, {"top": (body.z1 - top, body.z1), "bottom": (low_z, low_z + bottom)}, widths)
    left, right = side_walls(body)
    return Region(
        x=x,
        z=(low_z + bottom, body.z1 - top),
        width_name="rail.length",
        height_name="front.height",
        left=left,
        right=right,
        low=low,
        high=high,
        frame_left="frame/stile.left",
        frame_right="frame/stile.right",
        frame_low="frame/rail.bottom",
        frame_high="frame/rail.top",
    )


CORNERS = {
    "pocket screws": JointKind.POCKET_SCREWS,
    "dowels": JointKind.DOWEL,
    "tenon": JointKind.TENON,
    "half lap": JointKind.HALF_LAP,
}
FOR_POSTS = (JointKind.TENON, JointKind.DOWEL)  # a leg levers at its corner
PREFERRED = (JointKind.POCKET_SCREWS, JointKind.DOWEL, JointKind.HALF_LAP)


def corners(d: Draft, kit: Kit, body: Body, rails: Mapping[str, Span], widths: OuterFrame) -> None:
    """Place the top and bottom rail at their heights (z by name) and join them to the outer stiles."""
    kind, why = _corner(d, kit, body, widths)
    stile = d.led["stile.width"]
    if kind is JointKind.DOWEL:
        _dowels_fit(d, kit, body, rails)
    into = stile if kind is JointKind.HALF_LAP else entry_depth(kind, stile, d.practice)
    size = "rail.length"
    if into:
        size = "rail.cut_length"
        d.let(size, d.led["rail.length"] + 2 * into, "rail.length", rule="the opening, and what lies in the stiles")
    for name, z in rails.items():
        sizes = (size, f"{name}_rail.width")
        across = centred(d.led[size])
        rail = frame_rail(d, kit, body, f"frame/rail.{name}", f"{name} rail", across, z, sizes, widths.finish)
        for sign, hand in HANDS:
            host = d.at(f"frame/stile.{hand}")
            if kind is JointKind.POCKET_SCREWS:
                join_member(d, kit, body, rail, host, (float(sign), 0.0, 0.0))
                continue
            if into:
                _keep_clear(d, rail, host, hand, into)
            making = Making(opens="back", shoulders=_shoulders(d, name, z))
            join(d, kit, f"frame/rail.{name}~stile.{hand}", host, rail, kind, making, why)


def _dowels_fit(d: Draft, kit: Kit, body: Body, rails: Mapping[str, Span]) -> None:
    """Find, at the key that asks for dowels, a rail that is too low for two of them beside each other."""
    name, width = min(((n, z[1] - z[0]) for n, z in rails.items()), key=lambda r: r[1])
    least = two_dowels_least(kit.all("frame_dowel", Dowel), body.frame, d.led["stile.width"], d.practice)
    if least is None or width >= least - 1e-6:
        return
    d.find(
        "frame.dowels",
        Severity.STOP,
        "joints.frame",
        f"two dowels in the end of a rail take {least:.1f} mm; the {name} rail is {width:.1f} mm high",
        value=width,
        limit=least,
        source="common practice: two dowels keep their own thickness of wood between them, and half of it outside",
        remedy='a higher rail, or joints.frame = "auto"',
    )


def _keep_clear(d: Draft, rail: Placed, host: Placed, hand: str, into: float) -> None:
    """Keep pins and screws that meet the rail out of its end, which lies in the stile."""
    lo, hi = world_box(rail)
    x = (lo[0], lo[0] + into) if hand == "left" else (hi[0] - into, hi[0])
    name = rail.path.removeprefix(d.path + "/")
    d.keep_out(f"{name}.end.{hand}", (x[0], lo[1], lo[2]), (x[1], hi[1], hi[2]), host, of=(rail,))


def _corner(d: Draft, kit: Kit, body: Body, widths: OuterFrame) -> tuple[JointKind, str]:
    """Return how the corners are joined and why: as ordered, or by load, looks and what the shop can do."""
    posts = body.post > 0
    rail = Member(form=kit.material("face_frame").form, thickness=body.frame, end=True)
    host = Member(form=Form.STICK, thickness=body.post) if posts else replace(rail, end=False)
    case = Case(a=host, b=rail, load=Load.HEAVY if posts else Load.SHELF, shop=kit.abilities)
    if widths.joint == "auto":
        chosen = choose(FOR_POSTS if posts else PREFERRED, case)
        return chosen.kind, chosen.why
    kind = CORNERS[widths.joint]
    against = objection(kind, case) if kind is JointKind.HALF_LAP else None
    if against is not None:
        d.find(
            "frame.half_lap",
            Severity.STOP,
            "joints.frame",
            f"no half lap at these corners: {against}",
            source="common practice",
            remedy="tenons, dowels or pocket screws",
        )
    return kind, "as ordered"


def _shoulders(d: Draft, name: str, z: Span) -> Span:
    """Return the shoulders of a tenon below and above: the wider one where its rail lies at the stile's end."""
    width = z[1] - z[0]
    inner, outer = (min(d.practice[k], share * width) for k, share in (("tenon.shoulder", 0.2), ("tenon.end", 0.5)))
    return (inner, outer) if name == "top" else (outer, inner)


def centre_stile(d: Draft, kit: Kit, body: Body, region: Region, name: str, x: Span, finish: str) -> Placed:
    """Place a stile between two columns of a region, between the rails above and below it."""
    stile = d.box_part(
        f"frame/{name}",
        "centre stile",
        kit.material("face_frame", finish),
        x,
        (0.0, body.frame),
        region.z,
        grain="z",
        thick="y",
        shows="front",
        coated="left right",
        sizes=(region.height_name, "centre_stile.width", "frame.thickness"),
        kind=PartKind.FRAME,
    )
    for host, way in ((region.frame_low, -1.0), (region.frame_high, 1.0)):
        join_member(d, kit, body, stile, d.at(host), (0.0, 0.0, way))
    _one_screw(d, stile, x)
    return stile


def _one_screw(d: Draft, stile: Placed, x: Span) -> None:
    """Say that a narrow stile has one screw and no dowel at an end where the rail has no room for one."""
    width, least = x[1] - x[0], d.practice["frame.one_screw_below"]
    dowels = [j for j in d.joints if j.a == stile.path and j.kind is JointKind.DOWEL]
    if width < least and len(dowels) < 2:
        ends = "at each end" if not dowels else "at one end"
        d.find(
            "frame.one_screw",
            Severity.NOTE,
            stile.path.removeprefix(d.path + "/"),
            f"a stile of {width:.1f} mm has one pocket screw and no dowel {ends}: clamp it until the glue holds",
            value=width,
            limit=least,
            source="common practice: practice frame.one_screw_below",
            remedy="wider rails over and under it have room for a dowel; a stile as wide as the limit takes two screws",
        )


def bay_rail(d: Draft, kit: Kit, body: Body, region: Region, name: str, z: Span, finish: str) -> Placed:
    """Place a rail between two rows of a region, between the stiles beside it."""
    rail = frame_rail(d, kit, body, f"frame/{name}", "rail", region.x, z, (region.width_name, "bay_rail.width"), finish)
    for host, way in ((region.frame_left, -1.0), (region.frame_right, 1.0)):
        join_member(d, kit, body, rail, d.at(host), (way, 0.0, 0.0))
    return rail
