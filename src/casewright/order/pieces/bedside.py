"""A bedside cabinet: inset drawer over inset door, face frame, solid top, mouldings, feet.

`width`, `depth` and `height` are overall: top overhang, mouldings and fronts included, pulls not, with
levelling feet at their middle setting. Hands: "left" is the piece to the left of the bed as one faces
the headboard; the bed is to its right.
"""

from __future__ import annotations

from dataclasses import field
from typing import Annotated, Literal

from pydantic import Field, model_validator

from casewright.order.contents import ContentName
from casewright.order.model import Around, PieceKind, Roles, Setting
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
    StyleTable,
)
from casewright.shop.schema import Length, LengthOrZero, Table, Text
from casewright.units.grid import record

INCH = 25.4
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9-]*$", max_length=40)]
Hand = Literal["pair", "left", "right"]

# Defaults in mm where neither the piece nor [style] gives a size.
HEIGHT = 26 * INCH
STILE = 1.5 * INCH
TOP_RAIL = 1 * INCH
DRAWER_RAIL = 1 * INCH
BOTTOM_RAIL = 1 * INCH


class TopTable(Table):
    """The solid top."""

    thickness: Length | None = Field(
        default=None, description="finished thickness; without it, the board's dressed one"
    )
    overhang_front: Length | None = Field(
        default=None, description="beyond the face frame; without it, the crown's projection and practice crown.reveal"
    )
    overhang_side: Length | None = Field(default=None, description="beyond each side; without it, as in front")
    overhang_back: LengthOrZero | None = Field(
        default=None,
        description="beyond the back; without it, the thickness of a skirting that the piece stands before",
    )
    finish: FinishName | None = Field(
        default=None,
        description="finish of the top; without it, that of [style] tops, or the body's where it is not paint, else "
        "clear coats",
    )
    fixed: FixedLine = Field(default="front", description=FIXED)
    edge: EdgeName = Field(default="square", description=EDGE)
    edge_size: Length | None = Field(default=None, description=EDGE_SIZE)

    @model_validator(mode="after")
    def _sized_where_it_is_shaped(self) -> TopTable:
        if self.edge_size is not None and self.edge == "square":
            raise ValueError("expected edge_size beside an edge that is not square")
        return self


class DrawerTable(Table):
    """The drawer."""

    height: Length = Field(default=4.5 * INCH, description="height of its opening between the rails")
    frame_margin: Length | None = Field(
        default=None, description="edge of the front to the applied frame; without it, practice applied.inset"
    )


class DoorTable(Table):
    """The frame-and-panel door."""

    stile_width: Length | None = Field(
        default=None, description="width of stiles; without it, practice door.stile_width"
    )
    rail_width: Length | None = Field(default=None, description="width of rails; without it, as the stiles")
    hinged: Literal["away from the bed", "at the bed"] = Field(
        default="away from the bed", description="the side on which the hinges are"
    )
    hinges: int = Field(default=2, ge=2, le=4, description="number of hinges")


class FeetTable(Table):
    """Square tapered feet with a cove, on levelling feet."""

    height: Length = Field(
        default=5 * INCH, description="floor to the underside of the body, levellers at their middle"
    )
    inset: LengthOrZero = Field(default=0.0, description="outer faces set in from the body's")
    square: Length = Field(default=1 * INCH, description="length of the square part below the body")
    cove: LengthOrZero = Field(default=0.375 * INCH, description="radius of the cove below the square part; 0 is none")
    tip: Length = Field(default=1.5 * INCH, description="side of the square at the floor end")
    tapered: Literal["four faces", "inner faces"] = Field(default="four faces", description="which faces are tapered")


class DeviceTable(Table):
    """A low-voltage module let into the underside of the top, at the corner next to the bed."""

    from_front: Length = Field(default=3 * INCH, description="its centre from the top's front edge")
    from_bed_side: Length = Field(default=3 * INCH, description="its centre from the top's edge next to the bed")
    wood_over: Length = Field(default=4.0, description="wood left over it after sanding")


class BedsideTable(SharedStyle):
    """A bedside cabinet."""

    kind: Literal["bedside"] = Field(description="kind of piece")
    name: Name = Field(default="bedside", description="name in paths: small letters, digits and hyphens")
    title: Text = Field(default="Bedside cabinet", description="name on the pages")
    handed: Hand = Field(default="pair", description="a left and a right one, or one hand alone")
    count: int = Field(default=1, ge=1, le=1000, description="how many of each hand")
    width: Length = Field(default=20 * INCH, description="overall width")
    depth: Length = Field(default=18 * INCH, description="overall depth")
    height: Length | None = Field(
        default=None, description="overall height; without it, [room] mattress_height, else 26 in"
    )
    finish: FinishName = Field(
        default="paint", description="finish of the body: paint, clear coats, stain under clear coats, or wiping oil"
    )
    crown: bool = Field(default=True, description="a crown moulding under the top")
    base: bool = Field(default=True, description="a base moulding around the body's lower edge")
    top: TopTable = Field(default=TopTable(), description="the top")
    drawer: DrawerTable = Field(default=DrawerTable(), description="the drawer")
    door: DoorTable = Field(default=DoorTable(), description="the door")
    feet: FeetTable = Field(default=FeetTable(), description="the feet")
    device: DeviceTable | None = Field(default=None, description="a let-in device; without the table, none")
    around: AroundTable = Field(default=AroundTable(), description="what stands beside it")
    contents: list[ContentName] = Field(default=[], description="what it is to keep")
    roles: RolesTable = Field(default={}, description="stock items by role for this piece alone")


@record
class TopOrder:
    """The top, mm; None takes the board's dressed thickness, or the crown's projection and reveal."""

    thickness: float | None
    overhang_front: float | None
    overhang_side: float | None
    overhang_back: float
    finish: str = "clear"
    fixed: str = "front"
    edge: str = "square"
    edge_size: float | None = None


@record
class DrawerOrder:
    """The drawer, mm: height of its opening; None takes practice applied.inset; whether a frame is applied."""

    height: float
    frame_margin: float | None
    applied_frame: bool


@record
class DoorOrder:
    """The door, mm; None takes practice door.stile_width. `hinged_at_bed` says on which side the hinges are."""

    stile_width: float | None
    rail_width: float | None
    hinged_at_bed: bool
    hinges: int


@record
class FeetOrder:
    """The feet, mm. `tapered` faces: 4 (all) or 2 (the inner ones)."""

    height: float
    inset: float
    square: float
    cove: float
    tip: float
    tapered: int


@record
class DeviceOrder:
    """A let-in device, mm: its centre from the top's front edge and bed-side edge, wood left over it."""

    from_front: float
    from_bed_side: float
    wood_over: float


@record
class BedsideOrder:
    """One ordered bedside cabinet or pair, mm. `gap` None takes practice gap.inset.

    `name` is the first part of paths; a hand follows it: "bedside.left".
    """

    kind: str
    name: str
    title: str
    hands: tuple[str, ...]
    count: int
    width: float
    depth: float
    height: float
    stile_width: float
    top_rail_visible: float
    drawer_rail: float
    bottom_rail_visible: float
    gap: float | None
    frame_reveal: float | None
    crown: bool
    base: bool
    top: TopOrder
    drawer: DrawerOrder
    door: DoorOrder
    feet: FeetOrder
    device: DeviceOrder | None
    roles: Roles
    finish: str = "paint"
    around: Around = Around()
    place: str = field(default="", compare=False)


def read_bedside(table: BedsideTable, setting: Setting) -> BedsideOrder:
    """Return the record of a checked table; what it leaves open comes from [style], [room], or the defaults."""
    style = setting.style
    mattress = setting.room.mattress_height
    bare = not (table.crown or table.base)  # else a moulding wraps the corner: stiles and sides are flush
    return BedsideOrder(
        kind=table.kind,
        name=table.name,
        title=table.title,
        hands=("left", "right") if table.handed == "pair" else (table.handed,),
        count=table.count,
        width=table.width,
        depth=table.depth,
        height=_first(table.height, mattress, HEIGHT),
        stile_width=_first(table.stile_width, style.stile_width, STILE),
        top_rail_visible=_first(table.top_rail_visible, style.top_rail_visible, TOP_RAIL),
        drawer_rail=_first(table.drawer_rail, style.drawer_rail, DRAWER_RAIL),
        bottom_rail_visible=_first(table.bottom_rail_visible, style.bottom_rail_visible, BOTTOM_RAIL),
        gap=table.gap if table.gap is not None else style.gap,
        frame_reveal=style.frame_reveal if table.frame_reveal is None and bare else table.frame_reveal,
        crown=table.crown,
        base=table.base,
        top=_top(table, setting),
        drawer=_drawer(table, style),
        door=_door(table.door),
        feet=_feet(table.feet),
        device=None if table.device is None else DeviceOrder(**table.device.model_dump()),
        roles=setting.roles,
        finish=table.finish,
        around=Around(**table.around.model_dump(), contents=tuple(table.contents)),
        place=setting.place,
    )


def _first(*values: float | None) -> float:
    return next(v for v in values if v is not None)


def _top(table: BedsideTable, setting: Setting) -> TopOrder:
    top, own = table.top, "clear" if table.finish == "paint" else table.finish
    settled = {
        "overhang_back": _first(top.overhang_back, _skirting(setting)),
        "finish": top.finish or setting.style.tops or own,
    }
    return TopOrder(**top.model_dump() | settled)


def _skirting(setting: Setting) -> float:
    """Return the thickness of the skirting before which the feet stand, mm; 0 without one."""
    room = setting.room
    return room.skirting_thickness if room.skirting_height else 0.0


def _drawer(table: BedsideTable, style: StyleTable) -> DrawerOrder:
    applied = table.applied_frame if table.applied_frame is not None else style.applied_frame
    return DrawerOrder(
        height=table.drawer.height,
        frame_margin=table.drawer.frame_margin,
        applied_frame=True if applied is None else applied,
    )


def _door(table: DoorTable) -> DoorOrder:
    return DoorOrder(
        stile_width=table.stile_width,
        rail_width=table.rail_width if table.rail_width is not None else table.stile_width,
        hinged_at_bed=table.hinged == "at the bed",
        hinges=table.hinges,
    )


def _feet(table: FeetTable) -> FeetOrder:
    return FeetOrder(
        height=table.height,
        inset=table.inset,
        square=table.square,
        cove=table.cove,
        tip=table.tip,
        tapered=4 if table.tapered == "four faces" else 2,
    )


BEDSIDE = PieceKind(kind="bedside", what="bedside cabinet with drawer and door", table=BedsideTable, read=read_bedside)
