"""A case: any nested grid of drawers, doors and open bays in one body, on a base of its own.

`width`, `depth` and `height` are overall: top overhang, mouldings and fronts included, pulls not, with
levelling feet at their middle setting.
"""

from __future__ import annotations

from dataclasses import field

from casewright.order.model import Around, PieceKind, Roles, Setting
from casewright.order.pieces.bays import BayOrder, read_bay
from casewright.order.pieces.bedside import BOTTOM_RAIL, DRAWER_RAIL, STILE, TOP_RAIL
from casewright.order.pieces.case_tables import BASE_HEIGHT, SCRIBED, CaseTable, StandTable
from casewright.order.pieces.lines import Lines
from casewright.units.grid import record


@record
class CaseTopOrder:
    """The top, mm; None takes what the stock dresses to, or what crown or fronts need."""

    kind: str
    thickness: float | None
    overhang_front: float | None
    overhang_side: float | None
    overhang_back: float
    fixing: str = "auto"
    finish: str = "clear"
    fixed: str = "front"
    edge: str = "square"
    edge_size: float | None = None


@record
class BackOrder:
    """What closes a case behind, and how one that is set on is fixed; "auto" is the design's."""

    kind: str = "set in"
    fixing: str = "auto"
    panel: str = "sheet panel"


@record
class StandOrder:
    """What a case stands on, mm. `tapered` faces of feet: 4 (all) or 2 (the inner ones); `skirting` (height, depth).

    `fixing` is how a wall case hangs. `free` says that the order gives no height: the usual one may follow a fellow's.
    """

    kind: str
    height: float
    setback: float
    notched: bool
    levelled: bool
    inset: float
    square: float
    cove: float
    tip: float
    tapered: int
    fixing: str = "rail"
    skirting: tuple[float, float] = (0.0, 0.0)
    free: bool = False


@record
class FrontsOrder:
    """How drawers and doors are made; `stile_width` in mm, `drawer_load` in kg; None leaves it to practice."""

    mount: str
    drawer: str
    guide: str
    door: str
    stile_width: float | None
    meeting: str = "gap"
    hinge: str = "auto"
    pulls: int | None = None
    drawer_load: float | None = None


@record
class JointsOrder:
    """How ends of fixed shelves, corners of the face frame and of a plinth are joined; "auto" is the design's."""

    shelves: str = "auto"
    frame: str = "auto"
    plinth: str = "auto"


@record
class CaseDeviceOrder:
    """A let-in device, mm: `into` the top, or the left or right wall of a bay; None leaves a place to the design."""

    into: str
    bay: str
    edge: str
    from_side: float | None
    from_front: float | None
    from_floor: float | None
    wood_over: float | None


@record
class CaseOrder:
    """One ordered case (or pair of cases), mm. `gap` None takes practice gap.inset.

    `lines` are heights over the floor that it is brought to, so that pieces line up.
    """

    kind: str
    name: str
    title: str
    hands: tuple[str, ...]
    count: int
    width: float
    depth: float
    height: float
    framed: bool
    finish: str
    stile_width: float
    centre_stile: float
    top_rail_visible: float
    drawer_rail: float
    bottom_rail_visible: float
    gap: float | None
    frame_reveal: float | None
    crown: bool
    base: bool
    bays: BayOrder
    top: CaseTopOrder
    stand: StandOrder
    fronts: FrontsOrder
    roles: Roles
    match_grain: bool = False
    arch: float = 0.0
    scribe: tuple[str, ...] = ()
    around: Around = Around()
    lines: Lines = Lines()
    joints: JointsOrder = JointsOrder()
    back: BackOrder = BackOrder()
    device: CaseDeviceOrder | None = None
    place: str = field(default="", compare=False)

    @property
    def covered(self) -> bool:
        """True where a top lies over the case; else a panel between the sides, or a lid, closes it."""
        return self.top.kind not in ("between", "lid")

    @property
    def clear(self) -> bool:
        """True where the wood is seen through the finish of the case."""
        return self.finish != "paint"


def read_case(table: CaseTable, setting: Setting) -> CaseOrder:
    """Return the record of a checked table; what it leaves open comes from [style], or the defaults."""
    style = setting.style
    stile = _first(table.stile_width, style.stile_width, STILE)
    stand = _stand(table.stand, setting)
    hands = {"none": ("",), "pair": ("left", "right")}
    return CaseOrder(
        kind=table.kind,
        name=table.name,
        title=table.title,
        hands=hands.get(table.handed, (table.handed,)),
        count=table.count,
        width=table.width,
        depth=table.depth,
        height=table.height,
        framed=table.front == "frame",
        finish=table.finish,
        stile_width=stile,
        centre_stile=_first(table.centre_stile, stile),
        top_rail_visible=_first(table.top_rail_visible, style.top_rail_visible, TOP_RAIL),
        drawer_rail=_first(table.drawer_rail, style.drawer_rail, DRAWER_RAIL),
        bottom_rail_visible=_first(table.bottom_rail_visible, style.bottom_rail_visible, BOTTOM_RAIL),
        gap=table.gap if table.gap is not None else style.gap,
        frame_reveal=style.frame_reveal if table.frame_reveal is None and _bare(table) else table.frame_reveal,
        crown=table.crown,
        base=table.base,
        bays=read_bay(table.bays),
        top=_top(table, setting, stand),
        stand=stand,
        fronts=_fronts(table, setting),
        roles=setting.roles,
        match_grain=table.match_grain,
        arch=table.arch,
        scribe=tuple(side for side in SCRIBED if side in table.scribe.split()),
        joints=JointsOrder(**table.joints.model_dump()),
        back=BackOrder(**table.back.model_dump()),
        device=None if table.device is None else CaseDeviceOrder(**table.device.model_dump()),
        around=Around(**table.around.model_dump(), contents=tuple(table.contents), hung=_hung(table)),
        place=setting.place,
    )


def _bare(table: CaseTable) -> bool:
    """True where outer stiles may stand proud of the sides, as the style may say: nothing wraps the corner."""
    return table.front == "frame" and table.stand.kind != "posts" and not (table.crown or table.base)


def _hung(table: CaseTable) -> float:
    stand = table.stand
    return stand.height or 0.0 if stand.kind == "wall" else 0.0


def _first(*values: float | None) -> float:
    return next(v for v in values if v is not None)


# What stands before a skirting; a plinth steps back from it, and sides that run to the floor are cut out for it.
BEFORE_SKIRTING = ("feet", "bracket feet", "posts")


def _top(table: CaseTable, setting: Setting, stand: StandOrder) -> CaseTopOrder:
    """Return the top; before a skirting its rear edge stands at the back plus the skirting (common practice)."""
    high, deep = stand.skirting
    before = stand.kind in BEFORE_SKIRTING or (stand.kind == "plinth" and high > stand.height)
    own = "clear" if table.finish == "paint" else table.finish
    settled = {
        "overhang_back": _first(table.top.overhang_back, deep * before),
        "finish": table.top.finish or setting.style.tops or own,
    }
    return CaseTopOrder(**table.top.model_dump() | settled)


def _stand(table: StandTable, setting: Setting) -> StandOrder:
    given = table.model_dump()
    height = BASE_HEIGHT[table.kind] if table.height is None else table.height
    room = setting.room
    skirting = (room.skirting_height, room.skirting_thickness)
    tapered = 4 if table.tapered == "four faces" else 2
    return StandOrder(
        **given | {"height": height, "tapered": tapered},
        skirting=skirting if all(skirting) else (0.0, 0.0),
        free=table.height is None,
    )


def _fronts(table: CaseTable, setting: Setting) -> FrontsOrder:
    applied = table.applied_frame if table.applied_frame is not None else setting.style.applied_frame
    drawer = table.fronts.drawer or ("applied frame" if applied else "slab")
    return FrontsOrder(
        mount=table.fronts.mount,
        drawer=drawer,
        guide=table.fronts.guide,
        door=table.fronts.door,
        stile_width=table.fronts.stile_width,
        meeting=table.fronts.meeting,
        hinge=table.fronts.hinge,
        pulls=table.fronts.pulls,
        drawer_load=table.fronts.drawer_load or setting.use.drawer_load,
    )


CASE = PieceKind(kind="case", what="case of drawers, doors and open bays", table=CaseTable, read=read_case)
