"""Builder of a case: settles the sizes, splits the front, then lets the blocks place everything.

Handed cases are designed as the left one and mirrored.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from casewright.design.assembly import PieceDesign
from casewright.design.blocks.arched_rail import arch_suits, arched_rail
from casewright.design.blocks.bays import Region
from casewright.design.blocks.body import Body, frame_reveal, large_enough, let_body
from casewright.design.blocks.case_back import case_back
from casewright.design.blocks.corner_posts import post_room, rear_posts, screws_in_sides
from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.face_frame import Wall, frame_to_case
from casewright.design.blocks.frame_grid import OuterFrame, outer_frame
from casewright.design.blocks.framed_back import framed_back
from casewright.design.blocks.front_place import gap_before_swelling
from casewright.design.blocks.grid import Grid, Members
from casewright.design.blocks.shelf_ends import dados_fit
from casewright.design.blocks.shell import Shell, shell
from casewright.design.blocks.top import Moisture
from casewright.design.blocks.wall_fixing import let_batten
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.pieces.case_device import case_device, device_clear, front_reach
from casewright.design.pieces.case_fronts import fill, fronts_out, row_laps
from casewright.design.pieces.case_stand import (
    back_in,
    back_on_edges,
    bottom_rail,
    floor_of,
    frame_low,
    hang,
    post_section,
    post_shape,
    rail_or_straps,
    scribe,
    stand,
    underside,
)
from casewright.design.pieces.case_steps import plan
from casewright.design.pieces.case_top import close_top, fixing_suits, let_top, mouldings_in_line, over_top
from casewright.design.sections import drop, projection
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder


def build_case(spec: CaseOrder, kit: Kit, moisture: Moisture, path: str, overrides: Mapping[str, float]) -> PieceDesign:
    """Return the case (of a pair, the left one) in its own frame. What cannot be built is left out and found."""
    d = Draft(path=path, practice=kit.practice, place=spec.place, overrides=overrides)
    kit = replace(kit, finish=spec.finish, top_finish=spec.top.finish)
    grid = _place_all(d, kit, spec, moisture)
    if grid is None:
        return d.unbuilt(kind=spec.kind, title=spec.title, width=spec.width, depth=spec.depth, height=spec.height)
    d.cells = tuple(grid.names)
    return d.finish(
        kind=spec.kind,
        title=spec.title,
        width=d.led["overall.width"],
        depth=d.led["overall.depth"],
        height=d.led["overall.height"],
    )


def _place_all(d: Draft, kit: Kit, spec: CaseOrder, moisture: Moisture) -> Grid | None:
    """Let every block place what is its own; None where the piece cannot be built."""
    body = _body(d, kit, spec, moisture)
    if body is None:
        return None
    s = _shell(d, kit, spec, body)
    if not shell(s) or not dados_fit(s, spec.joints.shelves):
        return None
    front = _front(s, spec)
    grid = _grid(s, spec)
    if not grid.split(spec.bays, front):
        return None
    if spec.framed:
        frame_to_case(d, body, tuple(grid.behind))
    if body.post:
        rear_posts(d, kit, body, post_shape(spec, body), spec.finish)
    made = over_top(d, kit, body, spec, moisture)
    stand(s, spec, grid)
    arched_rail(s, spec.arch)
    if spec.back.kind == "framed":
        grid.names += framed_back(s, _behind(d, grid), spec.back.panel, moisture)
    else:
        grid.names += case_back(s, _behind(d, grid), spec.back.fixing)
    case_device(s, spec, grid, made)
    rail_or_straps(s, spec, grid)
    fill(s, spec, grid, moisture)
    if body.post:
        screws_in_sides(d, body)
    close_top(s, spec, made, moisture)
    mouldings_in_line(d, spec)
    scribe(s, spec)
    hang(s, spec, grid)
    device_clear(s)
    if not d.stopped:
        plan(s, spec, grid)
    return None if d.stopped else grid


def _body(d: Draft, kit: Kit, spec: CaseOrder, wet: Moisture) -> Body | None:
    """Settle overall sizes, overhangs and the body."""
    width = d.let("overall.width", spec.width, rule="as ordered")
    depth = d.let("overall.depth", spec.depth, rule="as ordered")
    height = d.let("overall.height", spec.height, rule="as ordered")
    if not _moulded(d, kit, spec) or not back_on_edges(d, spec) or not fixing_suits(d, spec):
        return None
    if not arch_suits(d, spec.arch, spec.stand.kind, framed=spec.framed, based=spec.base):
        return None
    base_out = projection(kit.stick("base")) if spec.base else 0.0
    out = d.let("fronts.projection", fronts_out(kit, spec), rule="fronts, applied frames, hinges: what stands out most")
    top = let_top(d, kit, spec, wet, out)
    if d.stopped:
        return None
    foot = underside(d, kit, spec)
    post = post_section(d, kit, spec)
    side = kit.panel_thickness("case")
    if post is None:
        return None
    reveal = frame_reveal(d, spec.frame_reveal, spec.framed, _wrapped(spec), spec.stile_width - side)
    proud = max(0.0, post - side) if post else reveal
    body_width = width - 2 * max(top.overhang_side, base_out) - 2 * proud
    off_wall = let_batten(d, kit) if spec.stand.kind == "wall" and spec.stand.fixing == "split batten" else 0.0
    behind = max(off_wall, top.overhang_back - top.to_wall, 0.0)
    body_depth = depth - max(top.overhang_front, base_out, out) - behind
    body_height = height - top.thickness - foot
    if not large_enough(d, body_width, body_depth, body_height) or (
        post and not post_room(d, post, body_width, body_depth)
    ):
        return None
    return let_body(
        d,
        width=body_width,
        depth=body_depth,
        foot_height=foot,
        height=body_height,
        frame=d.practice["frame.thickness"] if spec.framed else 0.0,
        side=side,
        back=d.practice["frame.thickness"] if spec.back.kind == "framed" else kit.sheet("back").thickness,
        back_in=back_in(spec),
        post=post,
        back_on=spec.back.kind == "set on",
        reveal=reveal,
    )


def _wrapped(spec: CaseOrder) -> str:
    """Return what lies around the corners of the face frame, "" where nothing does."""
    if spec.stand.kind == "posts":
        return "corner posts are the outer stiles"
    return "a moulding wraps the corner" if spec.crown or spec.base else ""


def _moulded(d: Draft, kit: Kit, spec: CaseOrder) -> bool:
    """Let what crown and base cover; mouldings need a face frame to lie on, a crown a top to lie under."""
    for name, wanted in (("crown", spec.crown), ("base", spec.base)):
        lacking = _lacking(spec, name)
        if wanted and lacking:
            d.find(
                f"{name}.bare",
                Severity.STOP,
                name,
                f"a {name} moulding has nothing to lie on",
                source="common practice",
                remedy=f"give the case {lacking}, or leave the {name} moulding out",
            )
            return False
    if spec.crown:
        d.let("crown.drop", drop(kit.stick("crown")), rule="from the drawn section")
    d.let("base.height", drop(kit.stick("base")) if spec.base else 0.0, rule="from the drawn section")
    return True


def _lacking(spec: CaseOrder, moulding: str) -> str:
    """Return what a crown or base moulding lacks, "" where it can be had."""
    if not spec.framed:
        return "a face frame"
    if moulding == "crown":
        return "sides flush with its corners" if spec.stand.kind == "posts" else "" if spec.covered else "a top over it"
    if spec.stand.kind == "posts":
        return "sides flush with its corners"
    return "a stand that is not cut out for the toes" if spec.stand.kind == "sides" and spec.stand.notched else ""


def _shell(d: Draft, kit: Kit, spec: CaseOrder, body: Body) -> Shell:
    wood = wood_of(kit, "case", spec.finish)
    banded = wood.banded and not spec.framed
    return Shell(
        d=d,
        kit=kit,
        body=body,
        floor=floor_of(d, spec, body),
        band=kit.band(wood.thickness) if banded else None,
        covered=spec.covered,
        finish=spec.finish,
        wood=wood,
        lid=spec.top.kind == "lid",
        hidden_below=spec.stand.kind != "wall",
        front_reach=front_reach(d, kit, spec, body.frame),
        middle_tie=spec.top.fixed == "middle",
    )


def _behind(d: Draft, grid: Grid) -> tuple[Placed, ...]:
    """Return the panels whose rear edges the back meets."""
    ties = ("bottom", "stretcher.rear", "top_panel", "base_rail")
    panels = [p for p in grid.panels if not p.path.rpartition("/")[2].startswith("rail")]
    return (*panels, *(d.at(n) for n in ties if d.has(n)))


def _grid(s: Shell, spec: CaseOrder) -> Grid:
    members = Members(
        stile=spec.centre_stile, rail=spec.drawer_rail, laps=row_laps(s, spec), gap=gap_before_swelling(s.d, spec.gap)
    )
    return Grid(
        shell=s,
        members=members,
        cells=[],
        panels=[],
        names=[],
        behind=[],
        lines=spec.lines.rails,
        shelf_joint=spec.joints.shelves,
    )


def _front(s: Shell, spec: CaseOrder) -> Region:
    """Return the whole front: within the face frame, or between sides, bottom and top."""
    d, body = s.d, s.body
    if spec.framed:
        top = spec.top_rail_visible + (d.led["crown.drop"] if spec.crown else 0.0)
        bottom = bottom_rail(d, spec, body)
        widths = OuterFrame(
            stile=body.post or spec.stile_width,
            top_rail=top,
            bottom_rail=bottom,
            low=frame_low(spec, body),
            finish=spec.finish,
            joint=spec.joints.frame,
            posts=post_shape(spec, body),
        )
        return outer_frame(d, s.kit, body, widths, s.low, s.high)
    half = body.inside / 2
    left, right = (
        Wall(name=f"side.{hand}", face=face, thickness=s.thick, member="side.thickness", sheet="side.thickness")
        for hand, face in (("left", -half), ("right", half))
    )
    z = (s.low.face, s.high.face)
    d.let("front.height", z[1] - z[0], "body.height", "side.thickness", rule="between bottom and what ties the sides")
    return Region(
        x=(-half, half),
        z=z,
        width_name="inside.width",
        height_name="front.height",
        left=left,
        right=right,
        low=s.low,
        high=s.high,
    )
