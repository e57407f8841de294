"""A case: any nested grid of drawers, doors and open bays in one body, on a base of its own.

`width`, `depth` and `height` are overall: top overhang, mouldings and fronts included, pulls not, with
levelling feet at their middle setting.
"""

from __future__ import annotations

from dataclasses import field
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from casewright.order.contents import ContentName
from casewright.order.model import Around, PieceKind, Roles, Setting
from casewright.order.pieces.bays import Bay, BayOrder, read_bay
from casewright.order.pieces.bedside import BOTTOM_RAIL, DRAWER_RAIL, INCH, STILE, TOP_RAIL, Name
from casewright.order.pieces.lines import Lines
from casewright.order.schema import (
    EDGE,
    EDGE_SIZE,
    FIXED,
    AroundTable,
    EdgeName,
    FinishName,
    FixedLine,
    RolesTable,
    SharedStyle,
)
from casewright.shop.schema import Length, LengthOrZero, Table, Text
from casewright.units.grid import record

Hand = Literal["none", "pair", "left", "right"]
Front = Literal["frame", "frameless"]
MountName = Literal["inset", "overlay", "half-overlay"]
Stand = Literal["feet", "bracket feet", "posts", "plinth", "sides", "wall"]
TopKind = Literal["solid", "banded", "panelled", "breadboard", "between", "lid"]
DrawerFront = Literal["applied frame", "slab", "panel"]
Guide = Literal["side", "under", "runner"]
Leaf = Literal["sheet panel", "solid panel", "glass", "slab"]
MeetingName = Literal["gap", "astragal"]
ShelfJoint = Literal["auto", "dado", "dowels"]
FrameJoint = Literal["auto", "pocket screws", "dowels", "tenon", "half lap"]
TopFixing = Literal["auto", "slotted screws", "buttons", "figure plates"]
BackKind = Literal["set in", "set on", "framed"]
BackPanel = Literal["sheet panel", "solid panel"]
BackFixing = Literal["auto", "nails", "screws"]
WallFixingName = Literal["rail", "split batten"]
HingeName = Literal["auto", "butt", "cup", "knife"]
PlinthJoint = Literal["auto", "pocket screws", "mitre", "keyed mitre"]
DeviceHost = Literal["top", "left wall", "right wall"]
CellName = Annotated[str, Field(pattern=r"^(c[1-9][0-9.]*,r[1-9][0-9.]*)?$", max_length=40)]
SCRIBED = ("left", "right", "top")

BASE_HEIGHT = {
    "feet": 5 * INCH,
    "bracket feet": 5 * INCH,
    "posts": 5 * INCH,
    "plinth": 3 * INCH,
    "sides": 3 * INCH,
    "wall": 0.0,
}


class CaseTopTable(Table):
    """What closes the case above."""

    kind: TopKind = Field(
        default="solid",
        description="solid wood, a banded sheet, a panelled frame, solid with breadboard ends, a panel between the "
        "sides, or a lid that lifts up",
    )
    thickness: Length | None = Field(
        default=None, description="finished thickness; without it, what the stock dresses to"
    )
    overhang_front: LengthOrZero | None = Field(
        default=None, description="beyond the front; without it, what crown or fronts need and practice crown.reveal"
    )
    overhang_side: LengthOrZero | None = Field(default=None, description="beyond each side; without it, as in front")
    overhang_back: LengthOrZero | None = Field(
        default=None,
        description="beyond the back; without it, the thickness of a skirting that the piece stands before",
    )
    fixing: TopFixing = Field(
        default="auto",
        description="how a top over the case is fixed behind its front: screws in slots through the rear stretcher "
        "(`auto` takes these), or buttons or figure-eight plates along the sides",
    )
    finish: FinishName | None = Field(
        default=None,
        description="finish of the top; without it, that of [style] tops, or the case's where it is not paint",
    )
    fixed: FixedLine = Field(default="front", description=FIXED)
    edge: EdgeName = Field(default="square", description=EDGE)
    edge_size: Length | None = Field(default=None, description=EDGE_SIZE)

    @model_validator(mode="after")
    def _shaped_where_it_is_solid(self) -> CaseTopTable:
        if self.edge != "square" and self.kind in ("banded", "between"):
            raise ValueError(
                'expected edge beside a top of solid wood: kind = "solid", "breadboard", "panelled" or "lid"'
            )
        if self.edge_size is not None and self.edge == "square":
            raise ValueError("expected edge_size beside an edge that is not square")
        return self

    @model_validator(mode="after")
    def _fixed_where_it_moves(self) -> CaseTopTable:
        if self.fixed != "front" and self.kind not in ("solid", "breadboard"):
            raise ValueError('expected fixed beside kind = "solid" or "breadboard": the others hardly move')
        return self


class BackTable(Table):
    """What closes the case behind."""

    kind: BackKind = Field(
        default="set in",
        description="a sheet set into rabbets of the sides, one set on the rear edges of sides that have none, or a "
        "frame with panels, set into rabbets",
    )
    panel: BackPanel = Field(default="sheet panel", description="panels of a framed back: sheet, or solid wood")
    fixing: BackFixing = Field(
        default="auto",
        description="a back that is set on: nails with glue, or screws; `auto` nails it to sheet, screws it to solid "
        "wood",
    )

    @model_validator(mode="after")
    def _screwed_where_set_on(self) -> BackTable:
        if self.fixing != "auto" and self.kind != "set on":
            raise ValueError('expected fixing beside kind = "set on": in rabbets a back is glued and nailed')
        if self.panel != "sheet panel" and self.kind != "framed":
            raise ValueError('expected panel beside kind = "framed"')
        return self


class StandTable(Table):
    """What the case stands or hangs on."""

    kind: Stand = Field(
        default="plinth",
        description="tapered feet, bracket feet, corner posts, a plinth, sides that run to the floor, or nothing: it "
        "hangs on a wall",
    )
    height: LengthOrZero | None = Field(
        default=None,
        description="floor to the underside of the body (feet, posts, plinth) or of the bottom (sides); for a wall "
        "case, how high it hangs",
    )
    setback: LengthOrZero = Field(
        default=0.0, description="how far a plinth, or the toe board between the sides, stands back"
    )
    notched: bool = Field(
        default=False, description="sides to the floor: they, and a face frame, are cut out for the toes as well"
    )
    levelled: bool = Field(
        default=False,
        description="levelling feet in a plinth, or inside sides that run to the floor; the bottom is bored over "
        "them, so that a key turns them from inside",
    )
    inset: LengthOrZero = Field(default=0.0, description="feet: outer faces set in from the body's")
    square: Length = Field(default=1 * INCH, description="feet, posts: length of the square part below the body")
    cove: LengthOrZero = Field(default=0.375 * INCH, description="tapered feet: radius of the cove; 0 is none")
    tip: Length = Field(default=1.5 * INCH, description="feet, posts: side of the square at the floor")
    tapered: Literal["four faces", "inner faces"] = Field(
        default="four faces", description="tapered feet: which faces are tapered"
    )
    fixing: WallFixingName = Field(
        default="rail",
        description="a wall case: screws through a rail inside it, or a split batten behind it, one half on the wall",
    )


class FrontsTable(Table):
    """How drawers and doors are made."""

    mount: MountName = Field(default="inset", description="where fronts and doors lie")
    drawer: DrawerFront | None = Field(
        default=None, description="drawer fronts; without it, with an applied frame where the style says so, else slabs"
    )
    guide: Guide = Field(default="side", description="side-mount slides, under-mount slides, or wooden runners")
    door: Leaf = Field(default="sheet panel", description="doors: frame and panel, glass, or slabs")
    hinge: HingeName = Field(
        default="auto",
        description="hinges of doors; `auto`: butts in a face frame with inset doors of solid edges, else cups; "
        "knife hinges, let into the ends, hang inset doors with or without a frame",
    )
    meeting: MeetingName = Field(default="gap", description="how doors of a pair meet: a gap, or an astragal behind it")
    pulls: Literal[1, 2] | None = Field(
        default=None, description="pulls of a drawer; without it, two from the width in practice drawer.two_pulls_from"
    )
    drawer_load: float | None = Field(
        default=None, gt=0, le=200, description="what each drawer bears, kg; without it, as [use] or practice"
    )
    stile_width: Length | None = Field(
        default=None, description="stiles and rails of doors and panelled fronts; without it, practice door.stile_width"
    )


class JointsTable(Table):
    """How the case is joined, where the order wants to say so; `auto` goes by material, load, looks and machines."""

    shelves: ShelfJoint = Field(
        default="auto", description="ends of fixed shelves in the sides; in dividers they have dowels"
    )
    frame: FrameJoint = Field(default="auto", description="corners of the face frame")
    plinth: PlinthJoint = Field(
        default="auto",
        description="front corners of a plinth: pocket screws, a mitre with a spline, or a mitre with keys "
        "across the corner",
    )


class CaseDeviceTable(Table):
    """A low-voltage module let into the case from within, its plug led out at the back; the role `device` says which.

    Left and right are those of the left-hand one of a pair.
    """

    into: DeviceHost = Field(
        default="top", description="the underside of the top, or the left or right wall of a bay (a side, a divider)"
    )
    bay: CellName = Field(
        default="", description="a wall: the bay, such as `c1,r2`; without it, the first one that has no drawer"
    )
    edge: Literal["left", "right"] = Field(default="right", description="the top: the edge that from_side counts from")
    from_side: Length | None = Field(
        default=None, description="the top: its centre from that edge; without it, as near as the case allows"
    )
    from_front: Length | None = Field(
        default=None,
        description="its centre from the front edge of the top, or from the front of the case; without it, as near as "
        "the case allows, and in the middle of a wall",
    )
    from_floor: Length | None = Field(
        default=None, description="a wall: its centre above the floor of its bay; without it, half-way up"
    )
    wood_over: Length | None = Field(
        default=None, description="wood left over it after sanding; without it, what it works through best"
    )


class CaseTable(SharedStyle):
    """A case of drawers, doors and open bays."""

    kind: Literal["case"] = Field(description="kind of piece")
    name: Name = Field(description="name in paths: small letters, digits and hyphens")
    title: Text = Field(default="Case", description="name on the pages")
    handed: Hand = Field(default="none", description="a left and a right one, or one hand alone; drawn as the left one")
    count: int = Field(default=1, ge=1, le=1000, description="how many (of each hand)")
    width: Length = Field(description="overall width")
    depth: Length = Field(description="overall depth")
    height: Length = Field(description="overall height")
    front: Front = Field(default="frame", description="with a face frame, or frameless with banded edges")
    finish: FinishName = Field(
        default="paint",
        description="finish of the case: paint, clear coats, stain under clear coats, or wiping oil",
    )
    centre_stile: Length | None = Field(
        default=None, description="visible width of stiles between columns; without it, as the outer stiles"
    )
    crown: bool = Field(default=False, description="a crown moulding under the top")
    base: bool = Field(default=False, description="a base moulding around the body's lower edge")
    arch: LengthOrZero = Field(
        default=0.0,
        description="rise of an arch in the lower edge of the face frame's bottom rail, between posts or feet or under "
        "a wall case; 0 is straight",
    )
    match_grain: bool = Field(
        default=False, description="drawer fronts of one column, or of one row, are cut in sequence: the grain runs on"
    )
    scribe: str = Field(
        default="",
        description="where strips are scribed to walls and ceiling, such as `left right top`; they add to the sizes",
    )
    bays: Bay = Field(description="the grid of the front")
    top: CaseTopTable = Field(default=CaseTopTable(), description="the top")
    back: BackTable = Field(default=BackTable(), description="the back")
    stand: StandTable = Field(default=StandTable(), description="what it stands on")
    fronts: FrontsTable = Field(default=FrontsTable(), description="drawers and doors")
    joints: JointsTable = Field(default=JointsTable(), description="how it is joined")
    device: CaseDeviceTable | None = Field(default=None, description="a let-in device; without the table, none")
    around: AroundTable = Field(default=AroundTable(), description="what stands beside it")
    contents: list[ContentName] = Field(default=[], description="what it is to keep")
    roles: RolesTable = Field(default={}, description="stock items by role for this piece alone")

    @field_validator("scribe")
    @classmethod
    def _known_sides(cls, value: str) -> str:
        unknown = [word for word in value.split() if word not in SCRIBED]
        if unknown:
            raise ValueError(f"expected some of {', '.join(SCRIBED)}, got {' '.join(unknown)}")
        return value


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
