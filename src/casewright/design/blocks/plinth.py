"""A plinth: a frame of its own from the floor to the underside of the body, screwed up into it from within.

Common practice. Its front stands back for the toes or lies flush; front corners mitred with a spline or keys, or
butted; the rear stands between the ends; stretchers under wide cases; cleats along ends and stretchers take the screws.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.joining import Corner, Making, join, keyed_mitre, mitre
from casewright.design.blocks.landings import landing, screw_up
from casewright.design.blocks.level_feet import floor_gap, let_setting, level_block
from casewright.design.draft import Draft, Material
from casewright.design.features.hole_rows import spread
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred, world_box
from casewright.findings import Severity
from casewright.stock.model import Board, Leveller, Sheet

HEIGHT_LEAST = 40.0  # mm: lower, no pocket screw holds its corners


@dataclass(frozen=True, slots=True, kw_only=True)
class PlinthSpec:
    """How far a plinth stands back from the body, mm: in front, at both sides, behind (skirting).

    `mitred` front corners, with keys where `keyed`, else with a spline, or butted. `levelled` puts levelling feet in
    its corners. `finish` is that of its face.
    """

    set_back: float
    inset: float = 0.0
    behind: float = 0.0
    mitred: bool = False
    keyed: bool = False
    levelled: bool = False
    finish: str = "paint"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    x: Span
    y: Span
    z: Span
    thick: float
    material: Material


def plinth(d: Draft, kit: Kit, body: Body, spec: PlinthSpec, above: Placed | None = None) -> tuple[str, ...]:
    """Place a plinth under a body; `above` is the case's bottom, if that lies at the underside.

    Returns the names of its own parts (`plinth/…`), the strips in the case first where there are any.
    """
    box = _let(d, kit, body, spec)
    if box is None:
        return ()
    front, rear, ends = _frame(d, kit, box, spec)
    between = _stretchers(d, kit, box, front, rear)
    land = landing(d, kit, body, above, spec.inset + d.practice["plinth.cleat"])
    for hand, end in ends.items():
        cleat = _cleat(d, kit, box, end, f"plinth/cleat.{hand}", 1.0 if hand == "left" else -1.0)
        screw_up(d, kit, cleat, land.over(hand), f"plinth/cleat.{hand}~case", "from within, without glue: it comes off")
    for i, stretcher in enumerate(between):
        if not land.strips:
            cleat = _cleat(d, kit, box, stretcher, f"plinth/cleat[{i + 1}]", 1.0)
            screw_up(d, kit, cleat, land.left, f"plinth/cleat[{i + 1}]~case", "from within, without glue: it comes off")
    if spec.levelled:
        _blocks(d, kit, box, front, rear, ends, {hand: _over(land.over(hand), above) for hand in ends})
    return (*land.strips, "plinth")


def _let(d: Draft, kit: Kit, body: Body, spec: PlinthSpec) -> _Box | None:
    item = kit.sizes.panel("plinth")
    thick = d.let("plinth.thickness", item.thickness if isinstance(item, Sheet) else item.dressed, rule="as measured")
    d.let("plinth.set_back", spec.set_back, rule="as ordered")
    low = 0.0
    if spec.levelled:
        leveller = kit.role("leveller", Leveller)
        let_setting(d, leveller)
        low = floor_gap(leveller, d.practice)
    d.let("plinth.gap", low, rule="over the floor; it clears it with the levelling feet fully in")
    height = d.let("plinth.height", body.z0 - low, "foot.height", "plinth.gap", rule="floor to the body's underside")
    width = d.let("plinth.width", body.width - 2 * spec.inset, "body.width", rule="body less both insets")
    depth = d.let(
        "plinth.depth",
        body.depth - spec.set_back - spec.behind,
        "body.depth",
        "plinth.set_back",
        rule="body less what it stands back in front and behind",
    )
    if height < HEIGHT_LEAST or min(width, depth) < 4 * thick + 2 * d.practice["plinth.cleat"]:
        d.find(
            "plinth.small",
            Severity.STOP,
            "plinth",
            f"a plinth of {width:.0f} × {depth:.0f} × {height:.0f} mm is too small to be joined",
            value=height,
            limit=HEIGHT_LEAST,
            source="room for pocket screws and cleats (common practice)",
            remedy="a higher plinth that stands back less",
        )
        return None
    y = (spec.set_back, spec.set_back + depth)
    return _Box(x=centred(width), y=y, z=(low, body.z0), thick=thick, material=kit.material("plinth", spec.finish))


def _frame(d: Draft, kit: Kit, b: _Box, spec: PlinthSpec) -> tuple[Placed, Placed, dict[str, Placed]]:
    t = b.thick
    y0 = b.y[0] if spec.mitred else b.y[0] + t
    d.let("plinth.end_length", b.y[1] - y0, "plinth.depth", rule="to the front's outer or inner face")
    d.let("plinth.rear_length", b.x[1] - b.x[0] - 2 * t, "plinth.width", "plinth.thickness", rule="between the ends")
    # The ends of a butted front are seen from beside; paint hides them.
    shows = "front left right" if spec.finish != "paint" and not spec.mitred else "front"
    front = _part(d, b, "plinth/front", "front of the plinth", b.x, (b.y[0], b.y[0] + t), "x", shows, "plinth.width")
    ends = {
        hand: _part(
            d, b, f"plinth/end.{hand}", f"{hand} end of the plinth", side_x(sign, b.x[1], t), (y0, b.y[1]), "y", hand,
            "plinth.end_length",
        )
        for sign, hand in HANDS
    }  # fmt: skip
    inner = (b.x[0] + t, b.x[1] - t)
    rear = _part(d, b, "plinth/rear", "rear of the plinth", inner, (b.y[1] - t, b.y[1]), "x", "", "plinth.rear_length")
    for sign, hand in HANDS:
        other = "right" if hand == "left" else "left"
        if spec.mitred:
            corner = Corner(
                at=(sign * b.x[1], b.y[0], b.z[0]), along=(float(sign), 0.0, 0.0), onward=(0.0, 1.0, 0.0), z=b.z
            )
            if spec.keyed:
                keyed_mitre(d, kit, f"plinth/front~{hand}", front, ends[hand], corner, f"plinth/key.{hand}")
            else:
                mitre(d, kit, f"plinth/front~{hand}", front, ends[hand], corner, f"plinth/spline.{hand}")
        else:
            making = Making(opens=other)
            join(d, kit, f"plinth/front~{hand}", front, ends[hand], JointKind.POCKET_SCREWS, making, "pockets inside")
        join(
            d,
            kit,
            f"plinth/rear~{hand}",
            ends[hand],
            rear,
            JointKind.POCKET_SCREWS,
            Making(opens="front"),
            "pockets inside",
        )
    return front, rear, ends


def _part(d: Draft, b: _Box, name: str, label: str, x: Span, y: Span, grain: str, shows: str, size: str) -> Placed:
    return d.box_part(
        name,
        label,
        b.material,
        x,
        y,
        b.z,
        grain=grain,
        thick="y" if grain == "x" else "x",
        shows=shows,
        sizes=(size, "plinth.height", "plinth.thickness"),
    )


def _stretchers(d: Draft, kit: Kit, b: _Box, front: Placed, rear: Placed) -> list[Placed]:
    """Stretchers from front to rear, so that nothing spans more than practice."""
    places = spread(b.x[1] - b.x[0], 0.0, d.practice["plinth.stretcher_apart"])[1:-1]
    y = (b.y[0] + b.thick, b.y[1] - b.thick)
    if places:
        d.let("plinth.stretcher_length", y[1] - y[0], "plinth.depth", "plinth.thickness", rule="between front and rear")
    out = []
    for i, at in enumerate(places):
        name = f"plinth/stretcher[{i + 1}]"
        x = centred(b.thick, b.x[0] + at)
        part = _part(d, b, name, "stretcher of the plinth", x, y, "y", "", "plinth.stretcher_length")
        for word, host in (("front", front), ("rear", rear)):
            join(d, kit, f"{name}~{word}", host, part, JointKind.POCKET_SCREWS, Making(opens="left"), "pockets inside")
        out.append(part)
    return out


def _cleat(d: Draft, kit: Kit, b: _Box, host: Placed, name: str, sign: float) -> Placed:
    """A strip along a part of the plinth, flush with its upper edge, on the side `sign`; glued and screwed to it."""
    p = d.practice
    lo, hi = world_box(host)
    wide, t = p["plinth.cleat"], b.thick
    face = hi[0] if sign > 0 else lo[0]
    x = (face, face + wide) if sign > 0 else (face - wide, face)
    y = (max(lo[1], b.y[0] + t), min(hi[1], b.y[1] - t))
    if "plinth.cleat_length" not in d.led:
        d.let("plinth.cleat_length", y[1] - y[0], "plinth.depth", "plinth.thickness", rule="between front and rear")
    cleat = d.box_part(
        name,
        "cleat of the plinth",
        kit.material("plinth"),
        x,
        y,
        (b.z[1] - t, b.z[1]),
        grain="y",
        thick="z",
        sizes=("plinth.cleat_length", "", "plinth.thickness"),
    )
    screw = kit.screw("wood", 8, wide + 8.0, wide + t - p["fastener.point_cover"], role="block_screw")
    z = b.z[1] - t / 2
    far = face + sign * wide
    line = ScrewLine(
        screw=screw,
        start=(far, y[0], z),
        end=(far, y[1], z),
        drive=(-sign, 0.0, 0.0),
        count=max(2, round((y[1] - y[0]) / p["butt.screw_spacing"])),
        ends=min(p["butt.ends"], (y[1] - y[0]) / 5) / 2,
        apart=p["fastener.apart"],
    )
    d.joint(f"{name}~host", JointKind.BUTT_SCREWS, cleat, host, (face, y[0], z), line, glued=True, why="from inside")
    return cleat


def _over(lands: Placed, above: Placed | None) -> tuple[Placed, ...]:
    """Return what lies over a cleat up to the inside of the case: its bottom, and the strip under a raised one."""
    return (lands,) if above is None or lands is above else (lands, above)


def _blocks(
    d: Draft,
    kit: Kit,
    b: _Box,
    front: Placed,
    rear: Placed,
    ends: dict[str, Placed],
    over: dict[str, tuple[Placed, ...]],
) -> None:
    """A block with a levelling foot in each corner, under the cleats; `over` lies over these, by hand."""
    board = kit.role("block", Board)
    side = d.let("plinth.block", board.dressed, rule="what the board dresses to, square")
    low = d.led["leveller.setting"]
    z = (low, b.z[1] - b.thick)
    d.let("plinth.block_length", z[1] - z[0], "plinth.height", "leveller.setting", rule="levelling foot to cleat")
    for place, host, y in (
        ("front", front, (b.y[0] + b.thick, b.y[0] + b.thick + side)),
        ("rear", rear, (b.y[1] - b.thick - side, b.y[1] - b.thick)),
    ):
        for sign, hand in HANDS:
            name = f"plinth/block.{place}.{hand}"
            block = d.box_part(
                f"{name}/wood",
                f"block of the plinth, {place} {hand}",
                kit.material("block"),
                side_x(sign, b.x[1] - b.thick, side),
                y,
                z,
                grain="z",
                thick="y",
                sizes=("plinth.block_length", "plinth.block", "plinth.block"),
            )
            for other in (host, ends[hand]):
                own = other.path.rpartition("/")[2]
                join(d, kit, f"{name}~{own}", other, block, JointKind.GLUE, Making(), "narrow: it cannot tear")
            cleat, (lo, hi) = d.at(f"plinth/cleat.{hand}"), world_box(block)
            level_block(d, kit, block, name, f"{place} {hand}", (cleat, *over[hand]))
            # No driver reaches the cleat's screws over it.
            room = d.practice["fastener.driver"]
            d.keep_out(f"{name}.over", (lo[0], lo[1] - room, hi[2]), (hi[0], hi[1] + room, b.z[1]), of=(cleat,))
