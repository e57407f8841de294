"""What an order may say of a case: its tables and the words they take; sizes in mm as read, None where left open."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from casewright.order.contents import ContentName
from casewright.order.pieces.bays import Bay
from casewright.order.pieces.bedside import INCH, Name
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
