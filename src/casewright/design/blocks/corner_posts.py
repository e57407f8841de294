"""Corner posts: legs that run from the floor to the top as the corners of a case, rails tenoned between them.

Common practice: tenons a third of the rail thick; where two meet inside a post they end short of each other; posts
stand proud of the rails by a small shadow line, or flush with them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Face
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.joining import Making, join
from casewright.design.draft import Draft
from casewright.design.features.shaping import Taper
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, world_box
from casewright.findings import Severity

CLEAR = 1.0  # mm of wood between two tenons that meet in a post


@dataclass(frozen=True, slots=True, kw_only=True)
class PostSpec:
    """Posts from `low` to the underside of the top; tapered on their inner faces by `taper` mm below `taper_from`.

    `reveal` is how far rails stand back from the posts' outer faces.
    """

    low: float = 0.0
    taper: float = 0.0
    taper_from: float = 0.0
    reveal: float = 3.0
    finish: str = "paint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Posts:
    """The four posts by place ("front.left" …), and the side of their square section."""

    at: Mapping[str, Placed]
    section: float
    reveal: float


def corner_posts(d: Draft, kit: Kit, body: Body, spec: PostSpec) -> Posts | None:
    """Place four posts at the corners of a body; None where they leave no room between them."""
    _, section, _ = blank_section(kit.stick("corner_post"))
    d.let("post.section", section, rule="square stick")
    length = d.let("post.length", body.z1 - spec.low, "body.height", rule="floor to the underside of the top")
    room = min(body.width, body.depth) - 2 * section
    if room < d.practice["body.least"] / 2:
        d.find(
            "post.room",
            Severity.STOP,
            "post",
            f"posts leave {room:.0f} mm between them",
            value=room,
            limit=d.practice["body.least"] / 2,
            remedy="thinner posts, or a larger case",
        )
        return None
    posts: dict[str, Placed] = {}
    for front in (True, False):
        y = (0.0, section) if front else (body.depth - section, body.depth)
        for sign, hand in HANDS:
            place = f"{'front' if front else 'rear'}.{hand}"
            post = d.box_part(
                f"post.{place}",
                f"{place.replace('.', ' ')} post",
                kit.material("corner_post", spec.finish),
                side_x(sign, body.width / 2, section),
                y,
                (body.z1 - length, body.z1),
                grain="z",
                thick="y",
                shows=f"{hand} {'front' if front else 'back'}",
                rough=Allowance(length=d.practice["rough.length"]),
                sizes=("post.length", "post.section", "post.section"),
            )
            _taper(d, post, spec, sign, front)
            posts[place] = post
    return Posts(at=posts, section=section, reveal=spec.reveal)


def _taper(d: Draft, post: Placed, spec: PostSpec, sign: int, front: bool) -> None:
    """The two inner faces lean in towards the floor."""
    if spec.taper <= 0:
        return
    start = spec.taper_from
    for way in ((-float(sign), 0.0, 0.0), (0.0, 1.0 if front else -1.0, 0.0)):
        d.cut(post, Taper(face=post.face_towards(way), towards=Face.END0, start=start, inset=spec.taper))


def rails_between(
    d: Draft, kit: Kit, posts: Posts, heights: Sequence[tuple[str, Span]], role: str, thickness: float, finish: str
) -> tuple[Placed, ...]:
    """Place rails between the posts on all four sides at each height (name, z span), tenoned into them.

    They are named `rail.<name>.front`, `.rear`, `.left`, `.right`, and stand back from the posts by the reveal.
    """
    tenon = _tenon(d, posts, thickness)
    out: list[Placed] = []
    for name, z in heights:
        for side in ("front", "rear", "left", "right"):
            out.append(_rail(d, kit, posts, name, side, z, role, thickness, tenon, finish))
    return tuple(out)


def _tenon(d: Draft, posts: Posts, thickness: float) -> float:
    """Return the length of tenons: practice, or as long as two that meet in a post stay apart."""
    middle = posts.reveal + thickness / 2 - thickness * d.practice["door.tenon_share"] / 2
    return d.let(
        "post.tenon_length",
        min(d.practice["post.tenon"], posts.section - middle - CLEAR - thickness * d.practice["door.tenon_share"]),
        "post.section",
        rule="practice, short of the tenon that comes from the other side",
    )


def _rail(
    d: Draft, kit: Kit, posts: Posts, name: str, side: str, z: Span, role: str, t: float, tenon: float, finish: str
) -> Placed:
    across = side in ("front", "rear")
    a, b = ("left", "right") if across else ("front", "rear")
    first, last = (posts.at[f"{side}.{h}"] if across else posts.at[f"{h}.{side}"] for h in (a, b))
    axis = 0 if across else 1
    run = (world_box(first)[1][axis] - tenon, world_box(last)[0][axis] + tenon)
    lo, hi = world_box(first)
    other = 1 - axis
    near = side in ("front", "left")
    face = lo[other] + posts.reveal if near else hi[other] - posts.reveal
    thick: Span = (face, face + t) if near else (face - t, face)
    x, y = (run, thick) if across else (thick, run)
    size = "post.rail_across" if across else "post.rail_back"
    if size not in d.led:
        d.let(size, run[1] - run[0], "post.section", "post.tenon_length", rule="between the posts + two tenons")
    way = {"front": "front", "rear": "back", "left": "left", "right": "right"}[side]
    rail = d.box_part(
        f"rail.{name}.{side}",
        f"{name} rail, {side}",
        kit.material(role, finish),
        x,
        y,
        z,
        grain="x" if across else "y",
        thick="y" if across else "x",
        shows=way,
        sizes=(size, "", ""),
    )
    shoulder = min(d.practice["tenon.shoulder"], (z[1] - z[0]) / 5)
    for post, word in ((first, a), (last, b)):
        # A tenon at the post's upper end keeps its distance from it by a wider shoulder.
        top = max(shoulder, d.practice["tenon.end"] - (world_box(post)[1][2] - z[1]))
        making = Making(shoulders=(shoulder, top))
        join(d, kit, f"rail.{name}.{side}~post.{word}", post, rail, JointKind.TENON, making)
    return rail
