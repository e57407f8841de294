"""What fills the cells of a case: drawers, doors, shelves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from casewright.design.blocks.body import Body
from casewright.design.blocks.door import door
from casewright.design.blocks.door_leaf import DoorSpec, Hinging, LeafKind, Meeting
from casewright.design.blocks.drawer import drawer
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind, Guidance
from casewright.design.blocks.fixed_panel import cleat_depth, fixed_panel
from casewright.design.blocks.front_place import FrontMount, Mount, gap_before_swelling, lap_over
from casewright.design.blocks.grid import Cell, Grid, RowLaps, Stack
from casewright.design.blocks.hanging import hanging_rod
from casewright.design.blocks.loose_shelves import loose_shelves
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.pieces.case_gaps import let_gaps, member_width
from casewright.design.sections import blank_section
from casewright.design.sites import world_box
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder
from casewright.stock.model import Hinge

GUIDES = {"side": Guidance.SIDE_MOUNT, "under": Guidance.UNDER_MOUNT, "runner": Guidance.RUNNERS}
FRONTS = {"applied frame": FrontKind.APPLIED, "slab": FrontKind.SLAB, "panel": FrontKind.PANEL}


def fronts_out(kit: Kit, spec: CaseOrder) -> float:
    """Return how far fronts and hinges stand out before the face, mm: they count in the overall depth."""
    out = 0.0
    holds = {bay.holds for bay in spec.bays.leaves()}
    lap = spec.fronts.mount != "inset"
    off = kit.practice["front.stand_off"] if lap and holds & {"drawer", "door", "pair"} else 0.0
    if "drawer" in holds:
        applied = blank_section(kit.stick("applied_moulding"))[2] if spec.fronts.drawer == "applied frame" else 0.0
        out = max(out, applied + (front_thickness(kit, spec) if lap else 0.0))
    if holds & {"door", "pair"}:
        leaf = leaf_thickness(kit, spec)
        barrel = kit.role("hinge", Hinge).barrel_diameter if hinging(spec) is Hinging.BUTT else 0.0
        out = max(out, leaf if lap else barrel)
    return out + off


def front_thickness(kit: Kit, spec: CaseOrder) -> float:
    """Return how thick drawer fronts are, mm: framed ones as the face frame, slabs as their stock."""
    framed = spec.fronts.drawer == "panel"
    return kit.practice["frame.thickness"] if framed else kit.panel_thickness("drawer_front")


def leaf_thickness(kit: Kit, spec: CaseOrder) -> float:
    """Return how thick doors are, mm: framed ones as the face frame, slabs as their stock."""
    return kit.panel_thickness("door_slab") if spec.fronts.door == "slab" else kit.practice["frame.thickness"]


def fill(s: Shell, spec: CaseOrder, grid: Grid, wet: Moisture) -> None:
    """Place what each cell holds."""
    if spec.fronts.guide == "runner" and grid.stacks:
        s.d.find(
            "bay.runners",
            Severity.STOP,
            f"bays[{grid.stacks[0].region.key}]",
            "drawers on wooden runners have a rail between them: runners and the kickers of the next need room",
            source="common practice",
            remedy='between = "rail", or slides (fronts.guide)',
        )
        return
    gaps = let_gaps(s, spec, grid.cells, wet)
    grid.let_stacks(gaps["drawer"])
    runs = _runs(grid.cells) if spec.match_grain else {}
    for cell in grid.cells:
        if cell.bay.holds == "drawer":
            run = runs.get(cell.region.cell, ("", 0))
            drawer(s.d, s.kit, _before_rail(s, cell), cell.region.opening(), _drawer(s, spec, cell, gaps, wet, run))
        elif cell.bay.holds in ("door", "pair"):
            door(s.d, s.kit, s.body, cell.region.opening(), _door(s, spec, cell, gaps), cell.region.low.face, wet)
        elif cell.bay.holds == "closed":
            fixed_panel(s, cell.region, wet)
    for stack in grid.stacks:
        _stacked(s, spec, grid, stack)
    for cell in grid.cells:
        # Rows of pin holes go around the screws of slides and hinges, so these come first.
        if cell.bay.rod:
            _rod(s, cell)
        loose_shelves(s, cell.region, cell.bay.shelves, _behind(s, spec, cell))


def _stacked(s: Shell, spec: CaseOrder, grid: Grid, stack: Stack) -> None:
    """Chain fronts that gaps alone part: n of them in an opening have n + 1 gaps, n that lap over it n − 1."""
    d, n = s.d, len(stack.bay.rows)
    groups = [f"drawer[{c.region.cell}]" for c in grid.cells[stack.first : stack.first + n]]
    heights = [_height_name(d, g) for g in groups]
    if not all(heights):
        return  # a drawer that could not be made has said why
    items = [name for g, height in zip(groups, heights, strict=True) for name in (height, f"{g}.gap")]
    total, absorber = stack.region.height_name, heights[-1]
    if spec.fronts.mount == "inset":
        items = [f"{groups[0]}.gap", *items]
    else:
        total, items = f"fronts[{stack.region.key}].height", items[:-1]
        d.let(total, sum(d.led[name] for name in items), *items, rule="the fronts and the gaps between them")
    d.chain(f"chain.fronts[{stack.region.key}]", "z", total, tuple(items), absorber, 10.0, 5e3)


def _height_name(d: Draft, g: str) -> str:
    """Return the ledger name of a drawer front's height, "" where there is no front."""
    own = [c for c in d.chains if c.id == d.full(f"{g}.chain.z")]
    return next((i.name for c in own for i in (c.total, *c.items) if ".front." in i.name), "")


def _before_rail(s: Shell, cell: Cell) -> Body:
    """Return the body as a drawer sees it: behind the uppermost ones of a wall case stands its fixing rail."""
    if not s.d.has("fixing_rail"):
        return s.body
    lo, hi = world_box(s.d.at("fixing_rail"))
    if lo[2] >= cell.region.z[1]:
        return s.body
    return replace(s.body, back_in=s.body.back_in + hi[1] - lo[1])


def _rod(s: Shell, cell: Cell) -> None:
    """Hang a rod under the ceiling of a bay."""
    region, d = cell.region, s.d
    walls = (d.at(region.left.name), d.at(region.right.name))
    hanging_rod(d, s.kit, f"hang[{region.cell}]", *walls, region.own[1], s.y[1])


def inset_depth(kit: Kit, spec: CaseOrder) -> float:
    """Return how deep inset fronts and doors lie in the case, mm; 0 where fronts lap or there are none."""
    holds = {bay.holds for bay in spec.bays.leaves()}
    if spec.fronts.mount != "inset":
        return 0.0
    thick = {"drawer": front_thickness(kit, spec)} if "drawer" in holds else {}
    if holds & {"door", "pair"}:
        thick["door"] = leaf_thickness(kit, spec)
    return max(thick.values(), default=0.0)


def _runs(cells: Sequence[Cell]) -> dict[str, tuple[str, int]]:
    """Return (run, place in it) of each drawer whose front's grain runs on in its fellows, by the name of its cell.

    Fronts of one column are cut one above the other; what has no fellow there, side by side with its row.
    """
    out: dict[str, tuple[str, int]] = {}
    drawers = [c for c in cells if c.bay.holds == "drawer"]
    for part in ("c", "r"):
        fellows: dict[str, list[Cell]] = {}
        for cell in drawers:
            if cell.region.cell not in out:
                fellows.setdefault(getattr(cell.region, part), []).append(cell)
        for number, group in fellows.items():
            if len(group) > 1:
                out |= {c.region.cell: (f"fronts[{part}{number or 1}]", i + 1) for i, c in enumerate(group)}
    return out


def _behind(s: Shell, spec: CaseOrder, cell: Cell) -> float:
    """Return the y behind which a bay's shelves must stay, mm: a fixed panel, an inset door, an astragal of a pair."""
    if cell.bay.holds == "open":
        return 0.0
    if cell.bay.holds == "closed":
        return s.y[0] + s.thick + cleat_depth(s)
    leaf = leaf_thickness(s.kit, spec) if spec.fronts.mount == "inset" else 0.0
    strip = cell.bay.holds == "pair" and spec.fronts.meeting == "astragal"
    return leaf + (blank_section(s.kit.stick("astragal"))[2] if strip else 0.0)


def _mount(s: Shell, spec: CaseOrder, cell: Cell, gap: float) -> FrontMount:
    """Return how the front of a cell lies: a member between two fronts is shared, one at the outside is not."""
    kind = Mount(spec.fronts.mount)
    if kind is Mount.INSET:
        return FrontMount(kind=kind, gap=gap)
    region = cell.region
    outer = {
        "left": region.left.name.startswith("side."),
        "right": region.right.name.startswith("side."),
        "low": region.z[0] <= _whole(s)[0] + 1e-6,
        "high": region.z[1] >= _whole(s)[1] - 1e-6,
    }
    laps = {side: _lap(s, spec, side, alone, gap) for side, alone in outer.items()}
    laps |= {side: -gap for side, loose in zip(("low", "high"), cell.loose, strict=True) if loose}
    return FrontMount(
        kind=kind,
        gap=gap,
        laps=(laps["left"], laps["right"], laps["low"], laps["high"]),
        off=s.d.practice["front.stand_off"],
    )


def row_laps(s: Shell, spec: CaseOrder) -> RowLaps:
    """Return how far fronts lap over the members above and below them, without what solid fronts swell."""
    if Mount(spec.fronts.mount) is Mount.INSET:
        return RowLaps()
    gap = gap_before_swelling(s.d, spec.gap)
    low, high = (_lap(s, spec, side, True, gap) for side in ("low", "high"))
    return RowLaps(low=low, high=high, between=_lap(s, spec, "low", False, gap), whole=_whole(s))


def _lap(s: Shell, spec: CaseOrder, side: str, alone: bool, gap: float) -> float:
    """Return how far a front laps over a member; over a face frame no further than hinges for frames reach."""
    shared = Mount(spec.fronts.mount) is Mount.HALF or not alone
    lap = lap_over(_width(s, spec, side, alone), gap, shared=shared)
    return lap if not s.framed else min(lap, s.d.practice["front.frame_lap"])


def _whole(s: Shell) -> tuple[float, float]:
    d, body = s.d, s.body
    if s.framed:
        return body.z0 + d.led["bottom_rail.width"], body.z1 - d.led["top_rail.width"]
    return s.low.face, s.high.face


def _width(s: Shell, spec: CaseOrder, side: str, alone: bool) -> float:
    """Return the width of the member beside a cell that its front may cover, mm."""
    if not s.framed:
        return s.thick
    if side in ("left", "right"):
        return spec.stile_width if alone else spec.centre_stile
    if not alone:
        return spec.drawer_rail
    return spec.bottom_rail_visible if side == "low" else spec.top_rail_visible


def _drawer(
    s: Shell, spec: CaseOrder, cell: Cell, gaps: dict[str, float], wet: Moisture, run: tuple[str, int]
) -> DrawerSpec:
    p, given = s.d.practice, spec.fronts
    width, depth = cell.region.x[1] - cell.region.x[0], s.y[1] - s.y[0]
    wide = width >= p["drawer.two_pulls_from"]
    return DrawerSpec(
        gap=gaps["drawer"],
        frame_margin=p["applied.inset"],
        front=FRONTS[given.drawer],
        mount=_mount(s, spec, cell, gaps["drawer"]),
        member=member_width(s.d, spec),
        guidance=GUIDES[given.guide],
        moisture=wet,
        load=given.drawer_load or p["drawer.load_floor"] * width * depth / 1e6,
        pulls=(given.pulls,) if given.pulls else (2, 1) if wide else (1,),
        finish=spec.finish,
        run=run[0],
        run_place=run[1],
        upright=not run[0] and _beside_slabs(spec),
        rows=spec.lines.rows,
    )


def _beside_slabs(spec: CaseOrder) -> bool:
    """True where clear fronts stand beside slab doors, whose grain is upright: theirs then runs the same way."""
    doors = {bay.holds for bay in spec.bays.leaves()} & {"door", "pair"}
    return bool(doors) and spec.clear and spec.fronts.door == spec.fronts.drawer == "slab"


def hinging(spec: CaseOrder) -> Hinging:
    """Return what doors hang on: as ordered, butts where they are inset in a frame and have solid edges, else cups."""
    if spec.fronts.hinge != "auto":
        return Hinging(spec.fronts.hinge)
    solid = spec.fronts.door != "slab"
    return Hinging.BUTT if spec.framed and spec.fronts.mount == "inset" and solid else Hinging.CUP


def _door(s: Shell, spec: CaseOrder, cell: Cell, gaps: dict[str, float]) -> DoorSpec:
    region, member = cell.region, member_width(s.d, spec)
    sign = -1 if cell.bay.hinged == "left" else 1
    hosts = (region.frame_left or region.left.name, region.frame_right or region.right.name)
    near, far = hosts if sign < 0 else hosts[::-1]
    return DoorSpec(
        gap=gaps["door"],
        stile=member,
        rail=member,
        hinge=sign,
        host=near,
        far_host=far,
        kind=LeafKind(spec.fronts.door),
        hinging=hinging(spec),
        meeting=Meeting(spec.fronts.meeting) if cell.bay.holds == "pair" else Meeting.SINGLE,
        mount=_mount(s, spec, cell, gaps["door"]),
        sill=region.frame_low or region.low.name,
        head=region.frame_high or region.high.name,
        floor=region.low.name,
        ceiling=region.high.name if region.high.face - region.z[1] < s.d.practice["door.bolt_reach"] else "",
        ceiling_z=region.high.face,
        over_floor=spec.stand.height if spec.stand.kind == "wall" else 0.0,
        finish=spec.finish,
        rows=spec.lines.rows,
    )
