"""What a case stands on: where its body begins and its bottom lies, and the parts under it."""

from __future__ import annotations

from casewright.design.blocks.body import Body
from casewright.design.blocks.bracket_feet import BracketSpec, bracket_feet
from casewright.design.blocks.feet import FeetSpec, feet
from casewright.design.blocks.grid import Grid
from casewright.design.blocks.held import How, hold
from casewright.design.blocks.plinth import PlinthSpec, plinth
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.wall_fixing import fixing_rail, tip_restraint
from casewright.design.draft import Draft
from casewright.design.features.cuts import Notch
from casewright.design.parts import Placed
from casewright.design.sections import blank_section
from casewright.design.sites import DIRECTIONS, centred, sink, world_box
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder


def underside(d: Draft, spec: CaseOrder) -> float:
    """Return the height of the body's underside above the floor, mm; 0 where its sides run to the floor."""
    return spec.stand.height if spec.stand.kind in ("feet", "bracket feet", "plinth") else 0.0


def bottom_rail(d: Draft, spec: CaseOrder) -> float:
    """Return the width of the face frame's bottom rail, mm: what a moulding covers and what shows."""
    kick = spec.stand.height if spec.stand.kind == "sides" else 0.0
    return max(kick, spec.bottom_rail_visible + d.led["base.height"])


def floor_of(d: Draft, spec: CaseOrder, body: Body) -> float:
    """Return the height of the bottom's upper face, mm: at the bottom rail's edge, or the bottom's own thickness up.

    Over a base of its own that leaves no room for strips, the bottom lies at the underside and the rail forms a lip.
    """
    kick = spec.stand.height if spec.stand.kind == "sides" else 0.0
    if not spec.framed:
        return body.z0 + kick + body.side
    floor = body.z0 + bottom_rail(d, spec) - d.practice["case.bottom_step"]
    own_base = spec.stand.kind in ("plinth", "bracket feet")
    if own_base and floor - body.z0 < 2 * body.side + d.practice["base_rail.least"]:
        return body.z0 + body.side
    return floor


def stand(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Place what is under the body."""
    if spec.stand.kind == "feet":
        _feet(s, spec)
    if spec.stand.kind == "sides" and not spec.framed:
        _toe_board(s, spec)
    if spec.stand.kind == "plinth":
        plinth(s.d, s.kit, s.body, _plinth(s, spec), s.d.at("bottom"))
    if spec.stand.kind == "bracket feet":
        bracket_feet(s.d, s.kit, s.body, _brackets(s, spec), s.d.at("bottom"))


def hang_or_tie(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Give a wall case its fixing rail, and a tall or clothes-holding one the straps that keep it from tipping."""
    d = s.d
    if spec.stand.kind != "wall":
        if spec.height > d.practice["tie.height"]:
            tip_restraint(d, s.kit)
        return
    if not d.has("back"):
        return
    above = d.at("top_panel" if d.has("top_panel") else "stretcher.rear")
    levels = [p for p in grid.panels if _is_shelf(p)]
    metres = (s.body.inside + sum(p.part.blank.length for p in levels)) / 1000
    metres += sum(c.bay.shelves * (c.region.inside[1] - c.region.inside[0]) for c in grid.cells) / 1000
    fixing_rail(d, s.kit, s.body, d.at("back"), above, metres * d.practice["wall.shelf_load"], spec.finish)
    lo, hi = world_box(d.at("fixing_rail"))
    for panel in grid.panels:
        box = world_box(panel)
        if all(box[0][i] < hi[i] - 1e-6 and box[1][i] > lo[i] + 1e-6 for i in range(3)):
            d.cut(panel, sink(Notch, panel, DIRECTIONS["back"], lo, hi))
            d.keep_out(f"{panel.path.removeprefix(d.path + '/')}.notch", lo, hi, d.at("fixing_rail"), of=(panel,))


def _is_shelf(panel: Placed) -> bool:
    return panel.path.rpartition("/")[2].startswith("shelf")


def _plinth(s: Shell, spec: CaseOrder) -> PlinthSpec:
    return PlinthSpec(set_back=spec.stand.setback, finish=spec.finish)


def _brackets(s: Shell, spec: CaseOrder) -> BracketSpec:
    """Return feet of the shop's usual outline, the curve as large as it leaves room for."""
    p = s.d.practice
    length, ankle, web = p["bracket.length"], p["bracket.ankle"], p["bracket.web"]
    radius = min(spec.stand.height - web, length - ankle - p["bracket.level"])
    return BracketSpec(length=length, ankle=ankle, web=web, radius=radius, finish=spec.finish)


def _toe_board(s: Shell, spec: CaseOrder) -> None:
    """Close the space under the bottom between sides that run to the floor."""
    d, body, t = s.d, s.body, s.thick
    height = d.let("toe_board.width", s.floor - t - body.z0, "side.thickness", rule="from the floor to the bottom")
    if height < d.practice["base_rail.least"]:
        d.find(
            "stand.low",
            Severity.STOP,
            "stand.height",
            f"only {height:.1f} mm are left under the bottom for a toe board",
            value=height,
            limit=d.practice["base_rail.least"],
            source="practice base_rail.least",
            remedy="a higher stand, or a plinth",
        )
        return
    back = max(spec.stand.setback, d.led["edge.band"])
    board = d.box_part(
        "toe_board",
        "toe board",
        s.material,
        centred(d.let("toe_board.length", body.inside, "inside.width", rule="between the sides")),
        (body.frame + back, body.frame + back + t),
        (body.z0, body.z0 + height),
        grain="x",
        thick="y",
        shows="front",
        sizes=("toe_board.length", "toe_board.width", "side.thickness"),
    )
    for hand in ("left", "right"):
        hold(d, s.kit, board, d.at(f"side.{hand}"), hand, How.POCKETS, opens="back")


def _feet(s: Shell, spec: CaseOrder) -> None:
    d = s.d
    if not d.has("base_rail"):
        d.find(
            "feet.no_room",
            Severity.STOP,
            "stand.kind",
            "corner blocks that hold feet have no room under the bottom",
            value=s.floor - s.thick - s.body.z0,
            limit=d.practice["base_rail.least"],
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
    )
