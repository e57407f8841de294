"""The framed carcass: sides, raised bottom, stretchers, rear base rail, back set into rabbets.

Common practice: sides run the full body height; what stands between them ends at the back; screws through
a side only where a moulding covers them, else pocket screws from a hidden face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.shell import middle_free
from casewright.design.draft import Draft, Material
from casewright.design.features.cuts import Rabbet
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts, Detail
from casewright.design.joints.others import PinLine
from casewright.design.joints.pockets import PocketLine, pocket_setting, pockets_apart
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit, KitError
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import DIRECTIONS, Span, along, centred, middle, sink, span, world_box
from casewright.stock.model import Pin
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """The heights at which a moulding hides a screw through a side: (z from, z to), mm."""

    spans: tuple[Span, ...]

    def hides(self, z: float, radius: float) -> bool:
        """True where a head of that radius at height z lies wholly under a moulding."""
        return any(lo <= z - radius and z + radius <= hi for lo, hi in self.spans)


def carcass(
    d: Draft,
    kit: Kit,
    body: Body,
    *,
    floor_z: float,
    covered: Covered,
    front_reach: float = 0.0,
    middle_tie: bool = False,
) -> bool:
    """Place the carcass; True where it stands, else what is in its way is found.

    `floor_z` is the upper face of the bottom; the front stretcher reaches at least to `front_reach` (y, mm). A
    `middle_tie` is a third stretcher, on which a top stays put.
    """
    material = kit.material("case", kit.finish)
    t = body.side
    _sides(d, kit, body)
    d.let("bottom.length", body.inside, "inside.width", rule="between the sides")
    d.let(
        "bottom.width",
        body.inner_back - body.frame,
        "body.depth",
        "frame.thickness",
        "back.thickness",
        rule="from the frame to the back, which is set in",
    )
    x = centred(d.led["bottom.length"])
    y_in = span(body.frame, d.led["bottom.width"])
    bottom = d.box_part(
        "bottom",
        "bottom",
        material,
        x,
        y_in,
        span(floor_z - t, t),
        grain="x",
        thick="z",
        shows="up",
        sizes=("bottom.length", "bottom.width", "side.thickness"),
        kind=PartKind.CASE,
    )
    ties = _stretchers(d, material, body, front_reach, middle_tie)
    if not ties:
        return False
    rail_height = d.let(
        "base_rail.width", floor_z - t - body.z0, "side.thickness", rule="from the underside of the body to the bottom"
    )
    base = d.box_part(
        "base_rail",
        "rear base rail",
        material,
        centred(d.led["stretcher.length"]),
        (body.inner_back - t, body.inner_back),
        span(body.z0, rail_height),
        grain="x",
        thick="y",
        sizes=("stretcher.length", "base_rail.width", "side.thickness"),
    )
    for part, opens in ((bottom, "down"), *((tie, "down") for tie in ties), (base, "front")):
        _between_sides(d, kit, body, part, opens, covered)
    return True


def _stretchers(d: Draft, material: Material, body: Body, front_reach: float, middle_tie: bool) -> tuple[Placed, ...]:
    """Place the stretchers, from the front; none, and a finding, where one in the middle has no room."""
    p, t = d.practice, body.side
    d.let("stretcher.length", body.inside, "inside.width", rule="between the sides")
    depth = d.let("stretcher.width", p["stretcher.width"], rule="practice: room for the top's screws")
    front_depth = d.let(
        "stretcher.front_width",
        max(depth, front_reach - body.frame),
        "stretcher.width",
        "frame.thickness",
        rule="practice, or wide enough to hold screws behind a let-in device",
    )
    sx = centred(d.led["stretcher.length"])
    top_z = span(body.z1 - t, t)
    places = {
        "front": span(body.frame, front_depth),
        "middle": centred(depth, (body.frame + body.inner_back) / 2),
        "rear": (body.inner_back - depth, body.inner_back),
    }
    if middle_tie and not middle_free(d, places["front"][1], places["middle"][0]):
        return ()
    return tuple(
        d.box_part(
            f"stretcher.{place}",
            f"{place} stretcher",
            material,
            sx,
            y,
            top_z,
            grain="x",
            thick="z",
            sizes=(
                "stretcher.length",
                "stretcher.front_width" if place == "front" else "stretcher.width",
                "side.thickness",
            ),
            kind=PartKind.CASE,
        )
        for place, y in places.items()
        if place != "middle" or middle_tie
    )


def _sides(d: Draft, kit: Kit, body: Body) -> None:
    d.let("side.length", body.height, "body.height", rule="sides run the full body height")
    d.let(
        "side.width", body.depth - body.frame, "body.depth", "frame.thickness", rule="from the frame to the body's back"
    )
    for sign, hand in HANDS:
        d.box_part(
            f"side.{hand}",
            f"{hand} side",
            kit.material("case", kit.finish),
            side_x(sign, body.width / 2, body.side),
            span(body.frame, d.led["side.width"]),
            span(body.z0, d.led["side.length"]),
            grain="z",
            thick="x",
            shows=hand,
            coated="right" if hand == "left" else "left",
            sizes=("side.length", "side.width", "side.thickness"),
            kind=PartKind.CASE,
        )


def _between_sides(d: Draft, kit: Kit, body: Body, part: Placed, opens: str, covered: Covered) -> None:
    """Join a part that stands between the sides: screws through the side if hidden, else pocket screws."""
    p = d.practice
    run = _JointRun.of(part, body)
    bite = body.side + p["butt.bite"]
    screw = kit.screw("wood", 8, bite, bite + 12.0, role="case_screw", shortest=True)
    ends = min(p["butt.ends"], run.length / 5)
    hidden = all(covered.hides(z, screw.head_diameter / 2) for z in run.heights(ends))
    count = max(2, round(run.length / p["butt.screw_spacing"]) + 1)
    name = part.path.removeprefix(d.path + "/")
    for sign, hand in HANDS:
        side = d.at(f"side.{hand}")
        inner = run.line(sign * body.inside / 2)
        if hidden:
            start, end = run.line(sign * body.width / 2)
            detail: Detail = ScrewLine(
                screw=screw,
                start=start,
                end=end,
                drive=(-float(sign), 0.0, 0.0),
                count=count,
                ends=ends,
                apart=p["fastener.apart"],
            )
            d.joint(
                f"{name}~side.{hand}",
                JointKind.BUTT_SCREWS,
                side,
                part,
                inner[0],
                detail,
                glued=True,
                why="a moulding covers the heads",
            )
        else:
            d.joint(
                f"{name}~side.{hand}",
                JointKind.POCKET_SCREWS,
                part,
                side,
                inner[0],
                _pockets(kit, body, inner, opens, sign, count, max(ends, min(p["fastener.driver"], run.length / 3))),
                glued=True,
                why="no moulding covers a screw through the side at this height",
            )


def _pockets(kit: Kit, body: Body, line: tuple[Vec, Vec], opens: str, sign: int, count: int, ends: float) -> PocketLine:
    p = kit.practice
    screw = kit.pocket_screw(body.side)
    setting = pocket_setting(screw, body.side, body.side, p)
    if setting is None:
        raise KitError("pocket screws in the case", "a case sheet of 16 mm or more", f"{body.side:.1f} mm")
    return PocketLine(
        screw=screw,
        start=line[0],
        end=line[1],
        opens=DIRECTIONS[opens],
        drive=(float(sign), 0.0, 0.0),
        setting=setting,
        count=count,
        ends=ends,
        apart=pockets_apart(along(*line)[1], ends, p),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _JointRun:
    """Where a part that stands between the sides meets them: a line at half its thickness."""

    upright: bool
    lo: Vec
    hi: Vec

    @classmethod
    def of(cls, part: Placed, body: Body) -> _JointRun:
        lo, hi = world_box(part)
        return cls(upright=hi[2] - lo[2] > hi[1] - lo[1], lo=lo, hi=hi)

    @property
    def length(self) -> float:
        axis = 2 if self.upright else 1
        return self.hi[axis] - self.lo[axis]

    def heights(self, ends: float) -> Span:
        if self.upright:
            return (self.lo[2] + ends, self.hi[2] - ends)
        mid = (self.lo[2] + self.hi[2]) / 2
        return (mid, mid)

    def line(self, x: float) -> tuple[Vec, Vec]:
        mid = middle(self.lo, self.hi)
        if self.upright:
            return (x, mid[1], self.lo[2]), (x, mid[1], self.hi[2])
        return (x, self.lo[1], mid[2]), (x, self.hi[1], mid[2])


def back(d: Draft, kit: Kit, body: Body) -> None:
    """Place the back in rabbets of the sides and let it cover bottom, rear stretcher and base rail."""
    p = d.practice
    rabbet = d.let(
        "back.rabbet_depth",
        body.side * p["back.rabbet_share"],
        "side.thickness",
        rule="half the side",
        role=Role.HOUSING,
    )
    d.let(
        "back.seat",
        body.inside + 2 * rabbet,
        "inside.width",
        "back.rabbet_depth",
        rule="between the rabbets' walls",
        role=Role.HOUSING,
    )
    width = d.let(
        "back.width",
        d.led["back.seat"] - p["back.play"],
        "back.seat",
        rule="play so that it drops in",
        role=Role.INSERT,
    )
    d.let("back.length", body.height, "body.height", rule="the back runs the full body height")
    d.fit("fit.back", "back.seat", "back.width", 0.0, 3.0, source="common practice")
    panel = d.box_part(
        "back",
        "back",
        kit.material("back", kit.finish),
        centred(width),
        span(body.inner_back, body.back),
        span(body.z0, d.led["back.length"]),
        grain="z",
        thick="y",
        coated="front",
        sizes=("back.length", "back.width", "back.thickness"),
        kind=PartKind.BACK,
    )
    for sign, hand in HANDS:
        side = d.at(f"side.{hand}")
        cut = sink(
            Rabbet,
            side,
            (-float(sign), 0.0, 0.0),
            (min(sign * (body.inside / 2 + rabbet), sign * body.inside / 2), body.inner_back, body.z0),
            (max(sign * (body.inside / 2 + rabbet), sign * body.inside / 2), body.depth, body.z1),
        )
        d.joint(
            f"back~side.{hand}",
            JointKind.RABBET,
            side,
            panel,
            (sign * body.inside / 2, body.inner_back, body.z0),
            Cuts(cuts=((side.path, cut),)),
            glued=True,
        )
        _brads(d, kit, panel, side, f"back~side.{hand}.brads", sign * (body.inside / 2 + rabbet / 2), body)
    for name in ("bottom", "stretcher.rear", "base_rail"):
        _brads_across(d, kit, panel, d.at(name), body)


def _brads(d: Draft, kit: Kit, panel: Placed, other: Placed, joint: str, x: float, body: Body) -> None:
    pin = kit.role("brad", Pin)
    line = PinLine(
        pin=pin,
        start=(x, body.depth, body.z0),
        end=(x, body.depth, body.z1),
        drive=(0.0, -1.0, 0.0),
        count=_brad_count(d, body.height, 25.0),
        ends=25.0,
        apart=20.0,
    )
    d.joint(joint, JointKind.PINS, panel, other, (x, body.inner_back, body.z0), line, glued=True)


def _brads_across(d: Draft, kit: Kit, panel: Placed, other: Placed, body: Body) -> None:
    pin = kit.role("brad", Pin)
    lo, hi = world_box(other)
    z = middle(lo, hi)[2]
    name = other.path.removeprefix(d.path + "/")
    line = PinLine(
        pin=pin,
        start=(lo[0], body.depth, z),
        end=(hi[0], body.depth, z),
        drive=(0.0, -1.0, 0.0),
        count=_brad_count(d, body.inside, 30.0),
        ends=30.0,
        apart=20.0,
    )
    d.joint(f"back~{name}", JointKind.PINS, panel, other, (0.0, body.inner_back, z), line, glued=True)


def _brad_count(d: Draft, length: float, ends: float) -> int:
    """Return how many brads keep within the greatest spacing."""
    return max(2, math.ceil((length - 2 * ends) / d.practice["back.brad_spacing"]) + 1)
