"""The schema of the order file, apart from the pieces: each kind has its own in order/pieces."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from casewright.shop.schema import Length, LengthOrZero, Table, Text, UnitName
from casewright.stock.sundries import Sundry

Percent = Annotated[float, Field(ge=1, le=95)]
MOST_PIECES = 1000


def _as_list(value: object) -> object:
    return [value] if isinstance(value, str) else value


Items = Annotated[list[str], BeforeValidator(_as_list)]
RolesTable = dict[str, Items]
FinishName = Literal["paint", "clear", "stained clear", "oil"]
SundryName = Literal[
    "wood filler", "masking tape", "shims", "cloths", "tip restraint", "ballast", "metal can", "dust mask",
    "respirator", "gloves", "eye protection", "hearing protection",
]  # fmt: skip
FixedLine = Literal["front", "middle", "rear"]
EdgeName = Literal["square", "chamfer", "roundover", "cove", "ogee"]
EDGE = "what is run along its upper edge, in front and at the sides; the rear stays square"
EDGE_SIZE = "how far that reaches into face and edge; without it, practice top.edge"
FIXED = (
    "the line on which a solid top is screwed fast: it moves in slots to the wall (front), both ways alike (middle, on "
    "a stretcher of its own), or to the front (rear)"
)


class RoomTable(Table):
    """The room in which the pieces will stand."""

    humidity_low: Percent = Field(default=30.0, description="driest relative humidity of the year, %")
    humidity_high: Percent = Field(default=60.0, description="dampest relative humidity of the year, %")
    humidity_fitting: Percent = Field(default=45.0, description="relative humidity of the shop on fitting day, %")
    temperature: float = Field(default=21.0, ge=0, le=45, description="room temperature, °C")
    wood_moisture: float | None = Field(
        default=None,
        ge=2,
        le=30,
        description="what a meter reads in the boards, %; without it, as the fitting day's air",
    )
    mattress_height: Length | None = Field(default=None, description="upper side of the mattress above the floor")
    skirting_height: LengthOrZero = Field(default=0.0, description="height of the skirting board")
    skirting_thickness: LengthOrZero = Field(default=0.0, description="thickness of the skirting board")
    socket_height: Length | None = Field(
        default=None, description="middle of the wall sockets behind the pieces above the floor"
    )
    plug_depth: LengthOrZero = Field(default=45.0, description="how far a plug stands out of its socket")
    door_width: Length | None = Field(default=None, description="narrowest door on the way in")
    stair_width: Length | None = Field(default=None, description="narrowest stair on the way in")

    @model_validator(mode="after")
    def _humidity_in_order(self) -> RoomTable:
        if not self.humidity_low <= self.humidity_fitting <= self.humidity_high:
            raise ValueError("expected humidity_low ≤ humidity_fitting ≤ humidity_high")
        return self


class UseTable(Table):
    """What the pieces are used for."""

    top_load: float = Field(default=25.0, ge=0, le=500, description="load on each top, kg")
    clothes: bool = Field(
        default=False, description="clothes are kept in them (a safety rule for tipping then applies)"
    )
    drawer_load: float | None = Field(
        default=None, gt=0, le=200, description="what each drawer bears, kg; without it, practice drawer.load_floor"
    )


class AroundTable(Table):
    """What stands beside a piece; its left and right are those of the left-hand one of a pair."""

    wall_left: LengthOrZero | None = Field(default=None, description="from its left side to a wall, where there is one")
    wall_right: LengthOrZero | None = Field(default=None, description="from its right side to a wall")
    bed_left: LengthOrZero | None = Field(default=None, description="from its left side to a bed of mattress_height")
    bed_right: LengthOrZero | None = Field(default=None, description="from its right side to a bed")


class SharedStyle(Table):
    """Sizes that the pieces share: given under [style] for all, or in a piece for itself."""

    stile_width: Length | None = Field(default=None, description="visible width of the face frame's stiles")
    top_rail_visible: Length | None = Field(
        default=None, description="visible width of the face frame's top rail, below the crown"
    )
    drawer_rail: Length | None = Field(default=None, description="width of the rail between drawer and door")
    bottom_rail_visible: Length | None = Field(
        default=None, description="visible width of the face frame's bottom rail, above the base moulding"
    )
    gap: Length | None = Field(
        default=None, description="finished gap around inset fronts; without it, practice gap.inset"
    )
    frame_reveal: LengthOrZero | None = Field(
        default=None,
        description="how far outer stiles stand proud of the sides where no moulding wraps the corner; 0 is flush, "
        "with a chamfer along the seam; without it, practice frame.reveal",
    )
    applied_frame: bool | None = Field(default=None, description="a moulding is applied as a frame on drawer fronts")


class StyleTable(SharedStyle):
    """What all pieces of the order share."""

    line_up: bool = Field(
        default=False,
        description="cases line up: rails of those of one height, pulls of rows that match, crowns and base mouldings; "
        "what the order leaves open follows the case that has most of it",
    )
    paint: Text = Field(default="painted", description="paint and colour, for the list of what is bought")
    tops: FinishName | None = Field(
        default=None,
        description="finish of tops that name none: paint, clear coats, stain under clear coats, or wiping oil",
    )
    top_finish: Text = Field(default="clear", description="clear finish and sheen, for the list of what is bought")


class NeedTable(Table):
    """What the reason of an acceptance promises and nothing else of the order names: it is put on the buying list."""

    thing: SundryName = Field(description="what it is")
    mass: float = Field(default=0.0, ge=0, le=1000, description="of ballast, and of nothing else: how heavy, kg")

    @model_validator(mode="after")
    def _weighed(self) -> NeedTable:
        ballast = self.thing == Sundry.BALLAST.value
        if ballast != (self.mass > 0):
            raise ValueError(
                "ballast without its mass: give mass, in kg" if ballast else f"a mass of {self.thing}: leave mass out"
            )
        return self


class AcceptTable(Table):
    """A finding that is accepted; it opens again when its value gets worse."""

    code: Text = Field(description="code of the finding")
    path: Text = Field(description="path of the finding")
    value: float | None = Field(default=None, allow_inf_nan=False, description="value when it was accepted")
    reason: Text = Field(min_length=3, description="why it is accepted")
    needs: list[NeedTable] = Field(default=[], description="what that reason promises, for the buying list")


class OrderTable(Table):
    """The order file."""

    format: Literal[1] = Field(description="format of this file")
    title: Text = Field(description="title of the order, on every page")
    client: Text = Field(default="", description="who ordered it")
    due: datetime.date | None = Field(default=None, description="date of delivery, such as 2026-03-01")
    units: UnitName = Field(
        default="mm",
        description="unit of a number without one in this file; sizes are printed in it too, unless the shop says how",
    )
    shop: Text = Field(default="", description="shop file, relative to this file's folder")
    room: RoomTable = Field(default=RoomTable(), description="the room")
    use: UseTable = Field(default=UseTable(), description="what the pieces are used for")
    style: StyleTable = Field(default=StyleTable(), description="what the pieces share")
    practice: dict[str, Any] = Field(default={}, description="practice values for this order alone")
    roles: RolesTable = Field(default={}, description="stock items by role for this order alone")
    piece: list[dict[str, Any]] = Field(
        default=[], max_length=MOST_PIECES, description="the pieces, each under its own [[piece]]"
    )
    accept: list[AcceptTable] = Field(default=[], description="findings that are accepted")
