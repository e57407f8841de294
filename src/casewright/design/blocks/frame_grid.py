"""The face frame of a case with a grid: outer stiles, top and bottom rails, centre stiles and rails between bays.

Common practice. Outer stiles run full height, top and bottom rails between them; what parts columns runs the full
height of its bay, what parts rows its full width. Visible widths are the input.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.blocks.bays import Level, Region
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.face_frame import frame_rail, join_member, outer_stiles, side_walls
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred


@dataclass(frozen=True, slots=True, kw_only=True)
class OuterFrame:
    """Widths of the outer members, mm: stiles, and rails with what a moulding covers; the finish of the frame.

    `low` is how far over the underside of the body the frame begins (toes).
    """

    stile: float
    top_rail: float
    bottom_rail: float
    low: float = 0.0
    finish: str = "paint"


def outer_frame(d: Draft, kit: Kit, body: Body, widths: OuterFrame, low: Level, high: Level) -> Region:
    """Place stiles, top and bottom rail; return the whole front as one region between floor and ceiling."""
    d.let("stile.width", widths.stile, rule="visible width, as ordered")
    low_z = body.z0 + d.let("frame.low", widths.low, rule="where the frame begins over the underside of the body")
    d.let("stile.length", body.height - widths.low, "body.height", "frame.low", rule="outer stiles: the full height")
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
    for name, z in (("top", (body.z1 - top, body.z1)), ("bottom", (low_z, low_z + bottom))):
        sizes = ("rail.length", f"{name}_rail.width")
        rail = frame_rail(d, kit, body, f"frame/rail.{name}", f"{name} rail", x, z, sizes, widths.finish)
        for sign, hand in HANDS:
            join_member(d, kit, body, rail, d.at(f"frame/stile.{hand}"), (float(sign), 0.0, 0.0))
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
    )
    for host, way in ((region.frame_low, -1.0), (region.frame_high, 1.0)):
        join_member(d, kit, body, stile, d.at(host), (0.0, 0.0, way))
    return stile


def bay_rail(d: Draft, kit: Kit, body: Body, region: Region, name: str, z: Span, finish: str) -> Placed:
    """Place a rail between two rows of a region, between the stiles beside it."""
    rail = frame_rail(d, kit, body, f"frame/{name}", "rail", region.x, z, (region.width_name, "bay_rail.width"), finish)
    for host, way in ((region.frame_left, -1.0), (region.frame_right, 1.0)):
        join_member(d, kit, body, rail, d.at(host), (way, 0.0, 0.0))
    return rail
