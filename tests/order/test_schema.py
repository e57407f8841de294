"""The schema follows the catalogue; the reference pages follow the schema."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Literal

import pytest
from pydantic import Field

from casewright.order import PieceKind, order_from_text, order_json_schema
from casewright.order.model import Setting
from casewright.order.pieces import PIECES
from casewright.order.pieces.bedside import BEDSIDE, BedsideTable
from casewright.order.reference import order_reference, shop_reference
from casewright.shop import library_practice
from casewright.shop.schema import Length, Table
from casewright.units.grid import record

DOCS = Path(__file__).resolve().parents[2] / "docs"


class StoolTable(Table):
    """A stool, as a plug-in might add it."""

    kind: Literal["stool"] = Field(description="kind of piece")
    name: str = Field(default="stool", description="name in paths")
    height: Length = Field(description="overall height")


@record
class StoolOrder:
    kind: str
    name: str
    height: float
    place: str
    hands: tuple[str, ...] = ("",)
    count: int = 1
    roles: tuple[tuple[str, tuple[str, ...]], ...] = ()


def read_stool(table: StoolTable, setting: Setting) -> StoolOrder:
    return StoolOrder(kind=table.kind, name=table.name, height=table.height, place=setting.place)


STOOL = PieceKind(kind="stool", what="stool", table=StoolTable, read=read_stool)


def test_a_kind_of_piece_is_one_line_in_the_catalogue() -> None:
    text = 'format = 1\ntitle = "t"\n[[piece]]\nkind = "stool"\nheight = 450\n[[piece]]\nkind = "bedside"\n'
    order = order_from_text(text, (*PIECES, STOOL))
    assert [p.kind for p in order.pieces] == ["stool", "bedside"]


@pytest.mark.parametrize("catalogue", [PIECES, (BEDSIDE, STOOL)])
def test_json_schema(catalogue: tuple[PieceKind, ...]) -> None:
    schema = order_json_schema(catalogue)
    assert json.loads(json.dumps(schema)) == schema
    assert {"format", "title", "piece"} <= set(schema["required"])
    width = schema["$defs"]["BedsideTable"]["properties"]["width"]
    assert {t["type"] for t in width["anyOf"]} == {"number", "string"}
    assert width["description"] == "overall width"
    assert ("StoolTable" in schema["$defs"]) == (STOOL in catalogue)


def test_reference_pages_are_up_to_date() -> None:
    assert (DOCS / "order.md").read_text(encoding="utf-8") == order_reference(PIECES)
    assert (DOCS / "shop.md").read_text(encoding="utf-8") == shop_reference()


def test_every_key_and_practice_value_is_documented() -> None:
    order, shop = order_reference(PIECES), shop_reference()
    for name, field in BedsideTable.model_fields.items():
        assert field.description
        assert f"| `{name}` |" in order
    assert "None" not in order
    for rule in library_practice().rules:
        assert f"| `{rule.name}` |" in shop
