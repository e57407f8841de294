"""The back of a case: sheets in rabbets of the sides, or on their rear edges, in as few pieces as the sheets allow.

Common practice. It is fixed to all it meets: nailed with glue, and where it is set on solid sides, screwed. Grain
stands where a sheet is wide enough, else it lies; where one sheet does not cover the case, the pieces meet on the rear
edge of a divider that runs the full height.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.shell import Shell
from casewright.design.features.cuts import Rabbet
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import PinLine
from casewright.design.joints.screws import ScrewLine
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import Span, depth_along, middle, sink, span, world_box
from casewright.findings import Severity
from casewright.stock.model import Pin, Sheet
from casewright.units.printed import Role

FORWARD: Vec = (0.0, -1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """One piece of the back: its name, its span across, the ledger name of its width."""

    name: str
    x: Span
    width: str


def case_back(s: Shell, behind: tuple[Placed, ...], fixing: str = "auto") -> tuple[tuple[str, str], ...]:
    """Place the back; `behind` are the panels whose rear edges it is fixed to, level and upright.

    `fixing` of a back that is set on: "nails", "screws" or "auto". Returns the names in brackets of its pieces, each
    with its name in the mirrored case.
    """
    seat = _let_cover(s) if s.body.back_on else let_seat(s)
    full = [p for p in behind if is_upright(p) and _high(p) > 0.9 * s.high.face]
    pieces = _pieces(s, seat, sorted(middle(*world_box(p))[0] for p in full))
    if pieces is None:
        return ()
    placed = [_place(s, piece) for piece in pieces]
    if s.body.back_on:
        behind = (*behind, *(s.d.at(f"side.{hand}") for _, hand in HANDS))
    else:
        rabbets(s, seat, placed[0], placed[-1])
    screwed = s.body.back_on and (fixing == "screws" or (fixing == "auto" and s.wood.solid))
    for piece, panel in zip(pieces, placed, strict=True):
        for other in behind:
            _fix(s, piece, panel, other, screwed)
    n = len(pieces)
    return tuple((f"b{i + 1}", f"b{n - i}") for i in range(n)) if n > 1 else ()


def is_upright(placed: Placed) -> bool:
    """True for a panel that stands from front to back."""
    lo, hi = world_box(placed)
    return hi[0] - lo[0] < min(hi[2] - lo[2], hi[1] - lo[1])


def _high(placed: Placed) -> float:
    return world_box(placed)[1][2]


def let_seat(s: Shell) -> Span:
    """Let rabbets and the room between their walls; return where the walls stand."""
    d, body, p = s.d, s.body, s.d.practice
    rabbet = d.let(
        "back.rabbet_depth",
        body.side * p["back.rabbet_share"],
        "side.thickness",
        rule="half the side",
        role=Role.HOUSING,
    )
    seat = d.let(
        "back.seat",
        body.inside + 2 * rabbet,
        "inside.width",
        "back.rabbet_depth",
        rule="between the rabbets' walls",
        role=Role.HOUSING,
    )
    d.let("back.length", body.height, "body.height", rule="the back runs the full body height")
    return (-seat / 2, seat / 2)


def _let_cover(s: Shell) -> Span:
    """Let how wide a back lies on the rear edges; return where its ends stand: a little inside the outer faces."""
    d, body = s.d, s.body
    cover = d.let(
        "back.cover",
        body.width - 2 * d.practice["back.on_inside"] + d.practice["back.play"],
        "body.width",
        rule="inside the outer faces of both sides, so that nothing of it stands proud",
    )
    d.let("back.length", body.height, "body.height", rule="the back runs the full body height")
    return (-cover / 2, cover / 2)


def _fits(sheet: Sheet, trim: float, width: float, height: float) -> bool:
    long, wide = sheet.length - 2 * trim, sheet.width - 2 * trim
    return (width <= wide and height <= long) or (width <= long and height <= wide)


def _pieces(s: Shell, seat: Span, joints: list[float]) -> tuple[_Piece, ...] | None:
    """Split the back at as few of the dividers as its sheets ask for."""
    d = s.d
    sheet, trim, play = s.kit.sheet("back"), d.practice["sheet.trim"], d.practice["back.play"]
    ends = [seat[0] + play / 2]
    places = [*joints, seat[1] - play / 2]
    while places:
        reach = [x for x in places if _fits(sheet, trim, x - ends[-1], s.body.height)]
        if not reach:
            d.find(
                "back.too_large",
                Severity.STOP,
                "back",
                f"no sheet for the back covers {places[0] - ends[-1]:.0f} × {s.body.height:.0f} mm in one piece",
                value=places[0] - ends[-1],
                limit=sheet.width - 2 * trim,
                source=sheet.source,
                remedy="a larger sheet for the role back, or a divider of full height on which two pieces meet",
            )
            return None
        ends.append(reach[-1])
        places = [x for x in places if x > reach[-1]]
    if len(ends) == 2:
        if s.body.back_on:
            d.let("back.width", ends[1] - ends[0], "back.cover", rule="over both sides, a little inside their faces")
            return (_Piece(name="back", x=(ends[0], ends[1]), width="back.width"),)
        d.let("back.width", ends[1] - ends[0], "back.seat", rule="play so that it drops in", role=Role.INSERT)
        d.fit("fit.back", "back.seat", "back.width", 0.0, 3.0, source="common practice")
        return (_Piece(name="back", x=(ends[0], ends[1]), width="back.width"),)
    out = []
    for i, (a, b) in enumerate(pairwise(ends)):
        a, b = (a if i == 0 else a + play / 2), (b if i == len(ends) - 2 else b - play / 2)
        name = f"back[b{i + 1}]"
        wide = "back.cover" if s.body.back_on else "back.seat"
        d.let(f"{name}.width", b - a, wide, rule="to the middle of a divider, less play", role=Role.INSERT)
        out.append(_Piece(name=name, x=(a, b), width=f"{name}.width"))
    return tuple(out)


def _place(s: Shell, piece: _Piece) -> Placed:
    d, body = s.d, s.body
    upright = piece.x[1] - piece.x[0] <= s.kit.sheet("back").width - 2 * d.practice["sheet.trim"]
    sizes = ("back.length", piece.width) if upright else (piece.width, "back.length")
    return d.box_part(
        piece.name,
        "back",
        s.kit.material("back", s.finish),
        piece.x,
        span(body.inner_back, body.back),
        span(body.z0, d.led["back.length"]),
        grain="z" if upright else "x",
        thick="y",
        coated="front",
        sizes=(*sizes, "back.thickness"),
        kind=PartKind.BACK,
    )


def rabbets(s: Shell, seat: Span, first: Placed, last: Placed) -> None:
    """Cut the rabbets of the sides (or rear posts), glue and nail the outer parts of the back into them."""
    d, body = s.d, s.body
    for sign, hand in HANDS:
        host = f"post.rear.{hand}" if body.post else f"side.{hand}"
        side, panel = d.at(host), first if sign < 0 else last
        inner, wall = sign * body.inside / 2, seat[0] if sign < 0 else seat[1]
        cut = sink(
            Rabbet,
            side,
            (-float(sign), 0.0, 0.0),
            (min(inner, wall), body.inner_back, body.z0),
            (max(inner, wall), body.depth, body.z1),
        )
        at = (inner, body.inner_back, body.z0)
        name = panel.path.removeprefix(d.path + "/")
        d.joint(
            f"{name}~{host}",
            JointKind.RABBET,
            side,
            panel,
            at,
            Cuts(cuts=((side.path, cut),)),
            glued=not s.wood.solid,
        )
        x = (inner + wall) / 2
        _line(s, panel, side, (x, body.z0), (x, body.z1), f"{name}~{host}.brads")


def _fix(s: Shell, piece: _Piece, panel: Placed, other: Placed, screwed: bool) -> None:
    """Brads or screws into the rear edge of a panel, as far as this piece covers it."""
    d, body = s.d, s.body
    lo, hi = world_box(other)
    mid = middle(lo, hi)
    low, high = max(lo[0], piece.x[0]), min(hi[0], piece.x[1])
    if high - low < LEAST:
        return
    name = other.path.removeprefix(d.path + "/")
    across = not is_upright(other)
    # Into the middle of an edge, that of a side too, which the back does not cover to its outer face.
    x = (low, high) if across else (mid[0] if low <= mid[0] <= high else (low + high) / 2,) * 2
    z = (mid[2], mid[2]) if across else (max(lo[2], body.z0), min(hi[2], body.z1))
    if screwed:
        screwed_on(s, panel, other, (x[0], z[0]), (x[1], z[1]), f"{piece.name}~{name}")
        return
    _line(s, panel, other, (x[0], z[0]), (x[1], z[1]), f"{piece.name}~{name}")


Point = tuple[float, float]  # (x, z) on the back


def screwed_on(s: Shell, panel: Placed, other: Placed, a: Point, b: Point, id_: str, *, along: bool = False) -> None:
    """Flat-head screws through the back, glued on the edges of sheet, not on solid wood, which may move.

    `along` says that the grain of both runs along the line: then they are glued in any case.
    """
    glued = along or not s.wood.solid
    d, y = s.d, s.body.outer_back
    thick = s.body.back
    most = depth_along(other, FORWARD) - d.practice["fastener.point_cover"]
    bite = min(max(d.practice["butt.bite"], EDGE_SCREW - thick), most - SCREW_STEP)
    length = abs(b[0] - a[0]) + abs(b[1] - a[1])
    ends = min(d.practice["butt.ends"], length / 4)
    line = ScrewLine(
        screw=s.kit.screw("wood", 8, thick + bite, thick + most, shortest=True),
        start=(a[0], y, a[1]),
        end=(b[0], y, b[1]),
        drive=FORWARD,
        count=max(2, math.ceil((length - 2 * ends) / d.practice["butt.screw_spacing"]) + 1),
        ends=ends,
        apart=min(d.practice["fastener.apart"], length / 3),
        least=2,
    )
    kind, why = JointKind.BUTT_SCREWS, "as ordered"
    if not glued:
        kind, why = JointKind.SCREWS, "solid wood is not glued to a sheet: the screws alone hold it"
    d.joint(id_, kind, panel, other, (a[0], s.body.inner_back, a[1]), line, glued=glued, why=why)


LEAST = 5.0  # mm of an edge that take a brad; less is only touched
EDGE_SCREW = 38.0  # mm: the least length of a screw in the edge of sheet (common practice: 1-1/2 in)
SCREW_STEP = 7.0  # mm: screws in stock differ by a quarter of an inch
NAIL_BITE = 18.0  # mm that a brad stands in an edge that holds a back set on it (common practice)
BITE = 8.0  # mm that a brad stands in the edge behind a back (common practice)


def _line(s: Shell, panel: Placed, other: Placed, a: tuple[float, float], b: tuple[float, float], id_: str) -> None:
    y, ends = s.body.outer_back, 25.0
    length = abs(b[0] - a[0]) + abs(b[1] - a[1])
    ends = min(ends, length / 4)
    count = max(2, math.ceil((length - 2 * ends) / s.d.practice["back.brad_spacing"]) + 1)
    line = PinLine(
        pin=_brad(s, other),
        start=(a[0], y, a[1]),
        end=(b[0], y, b[1]),
        drive=FORWARD,
        count=count,
        ends=ends,
        apart=min(20.0, length / 3),
    )
    s.d.joint(id_, JointKind.PINS, panel, other, (a[0], s.body.inner_back, a[1]), line, glued=not s.wood.solid)


def _brad(s: Shell, other: Placed) -> Pin:
    """Return the shortest brad that bites enough through the back, or the longest there is that stays in the wood."""
    brads = sorted(s.kit.all("brad", Pin), key=lambda p: (p.length, p.id))
    thick = s.body.back
    room = depth_along(other, FORWARD) - s.d.practice["fastener.point_cover"]
    least = thick + (min(NAIL_BITE, room - 1.0) if s.body.back_on else BITE)
    right = [brad for brad in brads if least <= brad.length <= thick + room]
    if right:
        return right[0]
    return next((b for b in reversed(brads) if b.length <= thick + room), brads[-1]) if s.body.back_on else brads[-1]
