"""A framed back: stiles, rails and muntins around panels, set into rabbets of the sides.

Common practice. Stiles run full height, rails between them on stub tenons in the panels' groove, muntins between the
rails: behind dividers of full height, and wherever a panel would be too wide. Sheet panels are glued; solid ones are
free, pinned in the middle of both rails. Stiles are glued and nailed into the rabbets, rails and muntins glued and
screwed to the edges behind which they lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from casewright.design.assembly import JointKind
from casewright.design.blocks.case_back import LEAST, is_upright, let_seat, rabbets, screwed_on
from casewright.design.blocks.door_frame import deep_enough
from casewright.design.blocks.door_leaf import DoorSpec, Leaf, LeafKind
from casewright.design.blocks.door_panel import sheet_panel, solid_panel
from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import Moisture
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import DIRECTIONS, Span, centred, middle, span, world_box
from casewright.findings import Severity
from casewright.units.printed import Role

CLEAR = 3.0  # mm: between a groove and a screw
LINE_LEAST = 24.0  # mm: a shorter meeting takes no two screws
RAIL_OVER = 20.0  # mm: a rail stands this far over (the bottom), or below (what ties the sides above)
WAYS: dict[str, Vec] = {
    name: DIRECTIONS[way] for name, way in (("left", "right"), ("right", "left"), ("top", "down"), ("bottom", "up"))
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """The frame: outer spans, the width of stiles and muntins, the rails' spans up, groove and depth; mm."""

    x: Span
    y: Span
    z: Span
    wide: float
    top: Span
    low: Span
    groove: float
    depth: float
    tenon: float

    @property
    def t(self) -> float:
        """Its thickness."""
        return self.y[1] - self.y[0]


def framed_back(s: Shell, behind: Sequence[Placed], panel: str, wet: Moisture) -> tuple[tuple[str, str], ...]:
    """Place a framed back; `panel` is "sheet panel" or "solid panel", `behind` the panels whose edges it is fixed to.

    Returns the names in brackets of its panels and muntins, each with its name in the mirrored case.
    """
    kind = LeafKind(panel)
    frame, muntins = _let(s, behind, kind, wet)
    if not _sound(s, frame, muntins, kind):
        return ()
    stiles = _stiles(s, frame)
    rails = {name: _rail(s, frame, name, stiles) for name in ("top", "bottom")}
    uprights = [_muntin(s, frame, i + 1, x, rails) for i, x in enumerate(muntins)]
    rabbets(s, (frame.x[0] - s.d.led["back.play"] / 2, frame.x[1] + s.d.led["back.play"] / 2), *stiles.values())
    row = [stiles["left"], *uprights, stiles["right"]]
    for hand, stile in stiles.items():
        # Pins of mouldings outside would come through what the rabbet leaves of a side.
        d, host = s.d, f"post.rear.{hand}" if s.body.post else f"side.{hand}"
        (x0, y0, z0), hi = world_box(stile)
        lo = (x0, y0 + d.practice["fastener.clearance"], z0)  # what stands before it may come as near as that
        d.keep_out(f"back.rabbet.{hand}", lo, hi, stile, of=(d.at(host),))
    for i, (a, b) in enumerate(pairwise(row)):
        _panel(s, frame, i + 1, a, b, rails, kind, wet)
    _fix(s, frame, (*rails.values(), *uprights), behind)
    n = len(muntins)
    names = [(f"m{i}", f"m{n + 1 - i}") for i in range(1, n + 1)]
    return (*names, *((f"p{i}", f"p{n + 2 - i}") for i in range(1, n + 2)))


def _let(s: Shell, behind: Sequence[Placed], kind: LeafKind, wet: Moisture) -> tuple[_Frame, tuple[float, ...]]:
    """Let the sizes of the frame; return it and the middles of its muntins."""
    d, body, p = s.d, s.body, s.d.practice
    seat = let_seat(s)
    wide = d.let("back.member", p["back.member_width"], rule="practice: stiles and muntins")
    most = p["back.panel_most"] if kind is LeafKind.SOLID else p["back.panel_most_sheet"]
    full = sorted(middle(*world_box(x))[0] for x in behind if is_upright(x) and world_box(x)[1][2] > 0.9 * s.high.face)
    inner = _muntins((seat[0] + wide, seat[1] - wide), wide, most, full)
    grows = wood_of(s.kit, "door_frame", s.finish).swells(wet, wide * (2 + len(inner)))
    play = d.let(
        "back.play", p["back.play"] + grows, rule="so that it drops in, and what its members grow to the damp end"
    )
    width = d.let(
        "back.width", seat[1] - seat[0] - play, "back.seat", "back.play", rule="less its play", role=Role.INSERT
    )
    d.fit("fit.back", "back.seat", "back.width", 0.0, play + 2.0, source="common practice")
    low = d.let(
        "back.rail.low", s.floor - body.z0 + RAIL_OVER, rule="from the underside of the body to over the bottom"
    )
    top = d.let("back.rail.top", s.thick + RAIL_OVER, "side.thickness", rule="over what ties the sides above")
    x, y, z = centred(width), span(body.inner_back, body.back), span(body.z0, d.led["back.length"])
    groove, depth = _groove(s, (x[0] + wide, *inner, x[1] - wide), wide, kind, wet)
    tenon = d.let(
        "back.tenon", depth - p["door.tenon_play"], "back.groove.depth", rule="shoulders close", role=Role.INSERT
    )
    d.fit("back.fit.tenon", "back.groove.depth", "back.tenon", 0.0, 2.5, source="common practice")
    frame = _Frame(
        x=x,
        y=y,
        z=z,
        wide=wide,
        top=(z[1] - top, z[1]),
        low=(z[0], z[0] + low),
        groove=groove,
        depth=depth,
        tenon=tenon,
    )
    return frame, inner


def _muntins(room: Span, wide: float, most: float, full: Sequence[float]) -> tuple[float, ...]:
    """Return the middles of muntins: one behind each divider of full height, more where a panel would be too wide."""
    fixed = [m for m in full if room[0] + wide < m < room[1] - wide]
    edges = [room[0] - wide / 2, *fixed, room[1] + wide / 2]
    out: list[float] = []
    for a, b in pairwise(edges):
        count = max(1, math.ceil((b - a - wide) / most))
        out += [a + (b - a) * i / count for i in range(1, count)]
        out.append(b)
    return tuple(out[:-1])


def _groove(s: Shell, edges: Sequence[float], wide: float, kind: LeafKind, wet: Moisture) -> tuple[float, float]:
    """Let the groove of the panels: its width and depth, mm; as deep as the widest panel asks for."""
    d, p = s.d, s.d.practice
    rule = "a third of the members"
    groove = p["door.tenon_share"] * s.body.back
    if kind is LeafKind.SHEET:
        groove, rule = s.kit.sheet("door_panel").thickness, "panel sheet as measured"
    groove = d.let("back.groove.width", groove, rule=rule, role=Role.HOUSING)
    deep = p["door.stub_tenon"]
    if kind is LeafKind.SOLID:
        sights = [b - a for a, b in pairwise(edges)]
        deep = deep_enough(d, s.kit, max(sights), wet)
    return groove, d.let("back.groove.depth", deep, rule="holds the panels over the year", role=Role.HOUSING)


def _sound(s: Shell, f: _Frame, muntins: Sequence[float], kind: LeafKind) -> bool:
    d, p = s.d, s.d.practice
    sight = f.top[0] - f.low[1]
    if sight < p["door.sight_least"]:
        d.find(
            "back.small",
            Severity.STOP,
            "back.kind",
            f"a framed back would show panels of {sight:.0f} mm",
            value=sight,
            limit=p["door.sight_least"],
            remedy='back.kind = "set in"',
        )
        return False
    if kind is LeafKind.SOLID and f.depth > p["door.groove_most"]:
        d.find(
            "back.panel_moves",
            Severity.STOP,
            "back.panel",
            f"solid panels of this width need grooves {f.depth:.1f} mm deep to stay in them over the year",
            value=f.depth,
            limit=p["door.groove_most"],
            source="movement of the species over the room's moisture range (Wood Handbook Eq. 13-2)",
            remedy="a sheet panel, a calmer wood, or a smaller practice back.panel_most",
        )
        return False
    return True


def _stiles(s: Shell, f: _Frame) -> dict[str, Placed]:
    out = {}
    for hand, x in (("left", (f.x[0], f.x[0] + f.wide)), ("right", (f.x[1] - f.wide, f.x[1]))):
        out[hand] = s.d.box_part(
            f"back/stile.{hand}",
            f"back stile, {hand}",
            s.kit.material("door_frame", s.finish),
            x,
            f.y,
            f.z,
            grain="z",
            thick="y",
            coated="front back",
            sizes=("back.length", "back.member", "back.thickness"),
            kind=PartKind.BACK_MEMBER,
        )
        s.d.cut(out[hand], _along(out[hand], f, WAYS[hand]))
    return out


def _rail(s: Shell, f: _Frame, name: str, stiles: dict[str, Placed]) -> Placed:
    d = s.d
    inner = (f.x[0] + f.wide, f.x[1] - f.wide)
    size = "back.rail.length"
    if size not in d.led:
        rule = "between the stiles, and two tenons"
        d.let(size, inner[1] - inner[0] + 2 * f.tenon, "back.width", "back.member", "back.tenon", rule=rule)
    z = f.top if name == "top" else f.low
    rail = d.box_part(
        f"back/rail.{name}",
        f"back rail, {name}",
        s.kit.material("door_frame", s.finish),
        (inner[0] - f.tenon, inner[1] + f.tenon),
        f.y,
        z,
        grain="x",
        thick="y",
        coated="front back",
        sizes=(size, "back.rail.top" if name == "top" else "back.rail.low", "back.thickness"),
        kind=PartKind.BACK_MEMBER,
    )
    d.cut(rail, _along(rail, f, WAYS[name]))
    for hand, stile in stiles.items():
        x = inner[0] if hand == "left" else inner[1]
        _tenon(s, f, rail, stile, DIRECTIONS[hand], (x, f.y[0], (z[0] + z[1]) / 2))
    return rail


def _muntin(s: Shell, f: _Frame, i: int, x: float, rails: dict[str, Placed]) -> Placed:
    d = s.d
    size = "back.muntin.length"
    if size not in d.led:
        rule = "between the rails, and two tenons"
        d.let(size, f.top[0] - f.low[1] + 2 * f.tenon, "back.length", "back.tenon", rule=rule)
    muntin = d.box_part(
        f"back/muntin[m{i}]",
        "back muntin",
        s.kit.material("door_frame", s.finish),
        centred(f.wide, x),
        f.y,
        (f.low[1] - f.tenon, f.top[0] + f.tenon),
        grain="z",
        thick="y",
        coated="front back",
        sizes=(size, "back.member", "back.thickness"),
        kind=PartKind.BACK_MEMBER,
    )
    d.cut(muntin, _along(muntin, f, DIRECTIONS["left"]), _along(muntin, f, DIRECTIONS["right"]))
    for name, way, z in (("top", "up", f.top[0]), ("bottom", "down", f.low[1])):
        _tenon(s, f, muntin, rails[name], DIRECTIONS[way], (x, f.y[0], z))
    return muntin


def _along(member: Placed, f: _Frame, opens: Vec) -> Groove:
    """Return the groove for the panels along a member's inner edge."""
    blank, v0 = member.part.blank, (f.t - f.groove) / 2
    face = member.face_towards(opens)
    return Groove(face=face, u0=0.0, u1=blank.length, v0=v0, v1=v0 + f.groove, depth=f.depth)


def _tenon(s: Shell, f: _Frame, member: Placed, host: Placed, way: Vec, at: Vec) -> None:
    """A stub tenon as thick as the groove on the end of a member, glued in it."""
    blank, v0 = member.part.blank, (f.t - f.groove) / 2
    tongue = Tenon(
        face=member.face_towards(way), u0=0.0, u1=blank.width, v0=v0, v1=v0 + f.groove, length=s.d.led["back.tenon"]
    )
    a, b = (p.path.removeprefix(s.d.path + "/") for p in (member, host))
    s.d.joint(f"{a}~{b}", JointKind.STUB_TENON, member, host, at, Cuts(cuts=((member.path, tongue),)), glued=True)


def _panel(
    s: Shell, f: _Frame, i: int, a: Placed, b: Placed, rails: dict[str, Placed], kind: LeafKind, wet: Moisture
) -> None:
    """Place one panel between two uprights, as that of a door."""
    d, g = s.d, f"back[p{i}]"
    x, z = (world_box(a)[0][0], world_box(b)[1][0]), (f.low[1] - f.wide, f.top[0] + f.wide)
    d.let(f"{g}.width", x[1] - x[0], "back.width", rule="over the uprights beside it")
    d.let(f"{g}.height", z[1] - z[0], "back.length", rule="its sight, and a member's width above and below")
    d.let(f"{g}.groove.depth", f.depth, "back.groove.depth", rule="as the frame's", role=Role.HOUSING)
    if kind is LeafKind.SHEET:
        d.let(f"{g}.panel.thickness", f.groove, "back.groove.width", rule="panel sheet as measured")
    else:
        d.let(f"{g}.groove.width", f.groove, "back.groove.width", rule="as the frame's", role=Role.HOUSING)
    leaf = Leaf(
        g=g, x=x, y=f.y, z=z, hinge=-1, edge=x[0], latch=x[1], host="", thick="back.thickness",
        groove=f.groove, depth=f.depth, tenon=f.tenon,
    )  # fmt: skip
    spec = DoorSpec(gap=0.0, stile=f.wide, rail=f.wide, hinge=-1, kind=kind, finish=s.finish)
    names = [p.path.removeprefix(d.path + "/") for p in (a, b, rails["top"], rails["bottom"])]
    fill = sheet_panel if kind is LeafKind.SHEET else solid_panel
    hosts = (names[0], names[1], names[2], names[3])
    fill(d, s.kit, leaf, spec, wet, hosts=hosts, label="back panel", fitted=PartKind.BACK_PANEL)


def _fix(s: Shell, f: _Frame, members: Sequence[Placed], behind: Sequence[Placed]) -> None:
    """Glue and screw rails and muntins to the edges behind which they lie, clear of their grooves and tenons."""
    for member in members:
        (x0, _, z0), (x1, _, z1) = _solid(f, member)
        for other in behind:
            low, high = world_box(other)
            x, z = (max(x0, low[0]), min(x1, high[0])), (max(z0, low[2]), min(z1, high[2]))
            if x[1] - x[0] < LEAST or z[1] - z[0] < LEAST:
                continue
            if is_upright(other):
                mid = (low[0] + high[0]) / 2
                inside, a, b = x0 + LEAST < mid < x1 - LEAST, (mid, z[0]), (mid, z[1])
            else:
                mid = (low[2] + high[2]) / 2
                inside, a, b = z0 + LEAST < mid < z1 - LEAST, (x[0], mid), (x[1], mid)
            if inside and abs(b[0] - a[0]) + abs(b[1] - a[1]) >= LINE_LEAST:
                names = [p.path.removeprefix(s.d.path + "/") for p in (member, other)]
                screwed_on(s, member, other, a, b, f"{names[0]}~{names[1]}", along=True)


def _solid(f: _Frame, member: Placed) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) of a member in which no groove, tenon or panel lies."""
    (x0, y0, z0), (x1, y1, z1) = world_box(member)
    off = f.depth + CLEAR
    if "muntin" in member.path:
        return (x0 + off, y0, z0 + off), (x1 - off, y1, z1 - off)
    low = z0 > (f.z[0] + f.z[1]) / 2  # of the top rail the lower edge is grooved
    return (x0 + off, y0, z0 + (off if low else 0.0)), (x1 - off, y1, z1 - (0.0 if low else off))
