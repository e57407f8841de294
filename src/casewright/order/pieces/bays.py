"""The grid of a front: bays split into columns and rows, down to drawers, doors and open bays."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from casewright.shop.schema import Length, Table
from casewright.units.grid import record

Holds = Literal["drawer", "door", "pair", "open", "closed"]
Between = Literal["rail", "shelf", "gap"]
MOST_PARTS = 12


def _as_table(value: object) -> object:
    """A bay may be written as the name of what it holds."""
    return {"holds": value} if isinstance(value, str) else value


class BayTable(Table):
    """One bay of the front: what it holds, or the columns or rows that it is split into.

    Its size is the width (of a column) or height (of a row) of the opening, or a share of what the others leave.
    """

    holds: Holds | None = Field(
        default=None,
        description="what the bay holds: a drawer, a door, a pair of doors, or nothing: it is open, or closed by a "
        "fixed panel; open where it is not said and not split",
    )
    columns: list[Bay] = Field(default=[], max_length=MOST_PARTS, description="bays side by side, from the left")
    rows: list[Bay] = Field(default=[], max_length=MOST_PARTS, description="bays one above the other, from the top")
    size: Length | None = Field(default=None, description="width of a column's or height of a row's opening")
    share: float = Field(
        default=1.0, gt=0, le=100, description="share of what is left, for a bay without a size; equal where not given"
    )
    graduate: Length | None = Field(
        default=None, description="each row is this much higher than the one above it; the rows then give no sizes"
    )
    between: Between | None = Field(
        default=None,
        description="what parts the rows: a rail, a shelf, or between drawers their gap alone; without it, a shelf "
        "wherever a bay needs a floor, else a rail",
    )
    hinged: Literal["left", "right"] = Field(default="left", description="the side on which a door is hinged")
    shelves: int = Field(default=0, ge=0, le=12, description="adjustable shelves in the bay")
    rod: bool = Field(default=False, description="a hanging rod under the bay's ceiling")

    @model_validator(mode="after")
    def _one_use(self) -> BayTable:
        uses = [name for name in ("holds", "columns", "rows") if getattr(self, name)]
        if len(uses) > 1:
            raise ValueError(f"expected one of holds, columns and rows in a bay, got {' and '.join(uses)}")
        if self.graduate is not None and (len(self.rows) < 2 or any(b.size is not None for b in self.rows)):
            raise ValueError("expected two or more rows without sizes beside graduate")
        if self.between is not None and not self.rows:
            raise ValueError("expected rows beside between: it says what parts them")
        if self.between == "gap" and any(row.holds != "drawer" for row in self.rows):
            raise ValueError("expected drawers in all rows that a gap alone parts")
        if (self.columns or self.rows) and (self.shelves or self.rod):
            raise ValueError("expected shelves and rod in a bay that is not split")
        if self.holds == "drawer" and (self.shelves or self.rod):
            raise ValueError("expected no shelves or rod in a drawer's bay")
        return self


Bay = Annotated[BayTable, BeforeValidator(_as_table)]
BayTable.model_rebuild()


@record
class BayOrder:
    """One bay, mm: what it holds, or its `columns` or `rows`. `size` 0 takes a `share` of what the others leave.

    `graduate` is the difference in height from row to row, 0 for none; `between` "" leaves the choice to the design.
    """

    holds: str
    columns: tuple[BayOrder, ...] = ()
    rows: tuple[BayOrder, ...] = ()
    size: float = 0.0
    share: float = 1.0
    graduate: float = 0.0
    between: str = ""
    hinged: str = "left"
    shelves: int = 0
    rod: bool = False

    @property
    def parts(self) -> tuple[BayOrder, ...]:
        """Its columns or rows."""
        return self.columns or self.rows

    def leaves(self) -> Iterator[BayOrder]:
        """Yield the bays that are not split, from the left and the top."""
        if not self.parts:
            yield self
        for part in self.parts:
            yield from part.leaves()


def read_bay(table: BayTable) -> BayOrder:
    """Return the record of a checked bay."""
    split: dict[str, Any] = {name: tuple(read_bay(b) for b in getattr(table, name)) for name in ("columns", "rows")}
    return BayOrder(
        holds="" if table.columns or table.rows else table.holds or "open",
        size=table.size or 0.0,
        share=table.share,
        graduate=table.graduate or 0.0,
        between=table.between or "",
        hinged=table.hinged,
        shelves=table.shelves,
        rod=table.rod,
        **split,
    )
