"""The order's schema as JSON Schema, made from the catalogue; for editors that complete and check while one types."""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Annotated, Any

from pydantic import Field, create_model

from casewright.order.model import PieceKind
from casewright.order.schema import OrderTable


def order_json_schema(catalogue: tuple[PieceKind, ...]) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of an order whose pieces are of the kinds in `catalogue`."""
    tables: list[Any] = [kind.table for kind in catalogue]
    piece: Any = tables[0] if len(tables) == 1 else Annotated[reduce(or_, tables), Field(discriminator="kind")]
    model = create_model(
        "Order",
        __base__=OrderTable,
        piece=(list[piece], Field(min_length=1, description="the pieces")),
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}
