"""The kinds of stock: name, record, the data file and table that holds its items, and what it is sold by."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from casewright.stock import fittings, model


@dataclass(frozen=True, slots=True)
class StockKind:
    """One kind of stock; `name` is its field in `Stock` and its table in a shop file."""

    name: str
    record: Callable[..., Any]
    file: str
    table: str
    per: str
    what: str


KINDS: tuple[StockKind, ...] = (
    StockKind("sheets", model.Sheet, "sheets", "items", "sheet", "sheet goods and solid-edge panels"),
    StockKind("boards", model.Board, "boards", "items", "board foot", "lumber of one thickness class"),
    StockKind("sticks", model.Stick, "sticks", "items", "metre", "mouldings, square and round stock"),
    StockKind("bands", fittings.EdgeBand, "bands", "items", "metre", "edge bands"),
    StockKind("slides", model.Slide, "slides", "items", "each", "side-mount drawer slides"),
    StockKind("under_slides", fittings.UnderSlide, "slides", "under", "each", "under-mount drawer slides"),
    StockKind("hinges", model.Hinge, "hinges", "butt", "each", "butt hinges"),
    StockKind("cup_hinges", fittings.CupHinge, "hinges", "cup", "each", "concealed hinges with a cup"),
    StockKind("knife_hinges", fittings.KnifeHinge, "hinges", "knife", "pair", "knife hinges"),
    StockKind("lid_stays", fittings.LidStay, "hinges", "lid_stays", "each", "stays of lids"),
    StockKind("pulls", model.Pull, "pulls", "items", "each", "knobs and pulls"),
    StockKind("screws", model.Screw, "screws", "items", "each", "screws"),
    StockKind("pins", model.Pin, "pins", "items", "each", "pins and brads"),
    StockKind("dowels", model.Dowel, "hardware", "dowels", "each", "dowels"),
    StockKind("inserts", model.Insert, "feet", "inserts", "each", "threaded inserts"),
    StockKind("levellers", model.Leveller, "feet", "levellers", "each", "levelling feet"),
    StockKind("ready_feet", fittings.ReadyFoot, "feet", "ready", "each", "feet bought ready"),
    StockKind("glides", fittings.Glide, "feet", "glides", "each", "glides"),
    StockKind("catches", model.Catch, "hardware", "catches", "each", "catches"),
    StockKind("strikes", fittings.Strike, "hardware", "strikes", "each", "steel plates that catches hold"),
    StockKind("door_bolts", fittings.DoorBolt, "hardware", "door_bolts", "each", "bolts of pairs of doors"),
    StockKind("magnets", fittings.Magnet, "hardware", "magnets", "each", "let-in magnets"),
    StockKind("shelf_pins", fittings.ShelfPin, "hardware", "shelf_pins", "each", "pins of loose shelves"),
    StockKind("figure_plates", fittings.FigurePlate, "hardware", "figure_plates", "each", "figure plates of tops"),
    StockKind("buttons", fittings.Button, "hardware", "buttons", "each", "table buttons"),
    StockKind("wall_fixings", fittings.WallFixing, "hardware", "wall_fixings", "each", "rails and ties to the wall"),
    StockKind("rod_ends", fittings.RodEnd, "hardware", "rod_ends", "each", "sockets of hanging rods"),
    StockKind("devices", model.Device, "devices", "items", "each", "low-voltage modules that are let in"),
    StockKind("bumpers", model.Bumper, "hardware", "bumpers", "each", "bumpers"),
    StockKind("glues", model.Glue, "supplies", "glues", "litre", "glues"),
    StockKind("finishes", model.Finish, "supplies", "finishes", "litre", "finishing products"),
)
