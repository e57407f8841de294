"""Corner posts: legs that run from the floor to the top as the corners of a case.

Common practice: the front ones are the outer stiles of the face frame, whose rails are tenoned into them; the sides
stand between the front and the rear ones, flush with their inner faces, on dowels; the back lies in rabbets of the
rear ones. Legs taper below the case, on their inner faces alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Face
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.joining import join
from casewright.design.draft import Draft
from casewright.design.features.shaping import Taper
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, PartKind, Placed
from casewright.design.sites import Span, world_box
from casewright.findings import Severity

EDGE = 4.0  # mm: a screw nearer to the edge of a side splits it


@dataclass(frozen=True, slots=True, kw_only=True)
class PostSpec:
    """Posts tapered on their inner faces by `taper` mm at the floor, from `taper_from` mm over the floor down."""

    taper: float = 0.0
    taper_from: float = 0.0


PLAIN = PostSpec()  # square all the way down


def post_room(d: Draft, section: float, width: float, depth: float) -> bool:
    """True where posts of a section leave room between them in a body of an outer width and depth, mm; else found."""
    room = min(width, depth) - 2 * section
    least = d.practice["body.least"] / 2
    if room >= least:
        return True
    d.find(
        "post.room",
        Severity.STOP,
        "stand",
        f"posts leave {room:.0f} mm between them",
        value=room,
        limit=least,
        remedy="thinner posts, or a larger case",
    )
    return False


def front_posts(d: Draft, kit: Kit, body: Body, spec: PostSpec, finish: str) -> None:
    """Place the front posts as the outer stiles of the face frame, and let the rails between them."""
    d.let("post.section", body.post, rule="square stick")
    d.let("post.length", body.z1, "body.height", "foot.height", rule="floor to the underside of the top")
    d.let("post.across", body.outer, "body.width", "post.section", rule="over the posts, which stand before the sides")
    for sign, hand in HANDS:
        _post(d, kit, body, spec, f"frame/stile.{hand}", sign, hand, (0.0, body.post), finish)
    d.let("rail.length", body.outer - 2 * body.post, "post.across", "post.section", rule="between the posts")
    d.chain("chain.front", "x", "post.across", ("post.section", "rail.length", "post.section"), "post.across", 0.0, 1e4)


def rear_posts(d: Draft, kit: Kit, body: Body, spec: PostSpec, finish: str) -> None:
    """Place the rear posts, and dowel the sides to all four."""
    for sign, hand in HANDS:
        y = (body.depth - body.post, body.depth)
        rear = _post(d, kit, body, spec, f"post.rear.{hand}", sign, hand, y, finish)
        side = d.at(f"side.{hand}")
        why = "long grain of the post on the side's edge; dowels bear the case"
        for name, post in ((f"frame/stile.{hand}", d.at(f"frame/stile.{hand}")), (f"post.rear.{hand}", rear)):
            join(d, kit, f"side.{hand}~{name}", post, side, JointKind.DOWEL, why=why)
            # What is screwed to the side beside a post keeps to the side.
            lo, hi = world_box(post)
            d.keep_out(f"{name}.beside", lo, hi, post, of=(side,))


def screws_in_sides(d: Draft, body: Body) -> None:
    """Find hardware beside posts whose own holes lie on the seam of side and post: its screws would split the side."""
    for _, hand in HANDS:
        low, high = body.side_y
        past = [y for _, y, _ in d.fixed_screws(d.at(f"side.{hand}")) if not low + EDGE <= y <= high - EDGE]
        if past:
            d.find(
                "post.hardware",
                Severity.STOP,
                "stand.kind",
                f"{len(past)} screws of slides would stand on the seam of the {hand} side and a corner post",
                value=float(len(past)),
                unit="",
                source="the hardware's own holes",
                remedy="slides of another length, a deeper case, thinner posts, or another stand",
            )


def _post(
    d: Draft, kit: Kit, body: Body, spec: PostSpec, name: str, sign: int, hand: str, y: Span, finish: str
) -> Placed:
    front = y[0] == 0.0
    post = d.box_part(
        name,
        f"{'front' if front else 'rear'} {hand} post",
        kit.material("corner_post", finish),
        side_x(sign, body.outer / 2, body.post),
        y,
        (0.0, body.z1),
        grain="z",
        thick="y",
        shows=f"{hand} front" if front else hand,
        coated=f"{'right' if hand == 'left' else 'left'} back" + ("" if front else " front"),
        rough=Allowance(length=d.practice["rough.length"]),
        sizes=("post.length", "post.section", "post.section"),
        kind=PartKind.FRAME if front else PartKind.OTHER,
    )
    if spec.taper > 0:
        for way in ((-float(sign), 0.0, 0.0), (0.0, 1.0 if front else -1.0, 0.0)):
            face = post.face_towards(way)
            d.cut(post, Taper(face=face, towards=Face.END0, start=spec.taper_from, inset=spec.taper))
    return post
