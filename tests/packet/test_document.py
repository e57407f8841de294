"""The JSON document: its schema is pinned, and its numbers are the model's."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from pydantic import TypeAdapter
from tests.packet import demo

from casewright.design.parts import Part
from casewright.packet.document import FORMAT, document, document_text
from casewright.packet.document_records import Document
from casewright.packet.document_reference import json_reference, json_schema_text

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = ROOT / "docs" / "json.schema.json"


def test_the_schema_is_pinned() -> None:
    # A change here breaks programs that read the document: give it a new `format`, then renew the file.
    made = TypeAdapter(Document).json_schema()
    assert json.loads(SCHEMA.read_text(encoding="utf-8")) == made
    assert FORMAT == "casewright/1"


def test_the_document_answers_its_schema() -> None:
    read = TypeAdapter(Document).validate_json(document_text(demo.project()), strict=False)
    assert read.format == FORMAT
    assert json.loads(json.dumps(document(demo.project()))) == json.loads(document_text(demo.project()))


def test_reference_page_is_up_to_date() -> None:
    assert (ROOT / "docs" / "json.md").read_text(encoding="utf-8") == json_reference()
    assert SCHEMA.read_text(encoding="utf-8") == json_schema_text()


def test_names_of_numbers_carry_their_unit() -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    unit = re.compile(r"_(mm|kg|percent|celsius|cents|direction)$|^(count|times|value|limit|practice|counts|unplaced)$")
    numbers = [
        name
        for table in [schema, *schema["$defs"].values()]
        for name, field in table.get("properties", {}).items()
        if '"number"' in json.dumps(field) or '"integer"' in json.dumps(field)
    ]
    assert numbers
    assert [n for n in numbers if not unit.search(n)] == []


def test_pieces_and_parts_are_the_models() -> None:
    project, read = demo.project(), document(demo.project())
    assert [p["path"] for p in read["pieces"]] == [p.path for p in project.assembly.pieces]
    for piece, given in zip(project.assembly.pieces, read["pieces"], strict=True):
        assert (given["width_mm"], given["depth_mm"], given["height_mm"]) == (piece.width, piece.depth, piece.height)
        assert len(given["placed"]) == len(piece.placed)
        assert len(given["fasteners"]) == len(piece.fasteners)
        assert {s["name"]: s["value_mm"] for s in given["sizes"]} == {s.name: s.value for s in piece.sizes}
        for chain in given["chains"]:
            assert sum(i["value_mm"] for i in chain["items"]) == pytest.approx(chain["total"]["value_mm"], abs=1e-4)
    sizes = {p["mark"]: p["cut_mm"] for p in read["parts"]}
    for piece in project.assembly.pieces:
        for placed in piece.placed:
            mark = project.mark_of(placed)
            if mark is not None and isinstance(placed.thing, Part):
                assert sorted(sizes[mark.label]) == pytest.approx(sorted(placed.thing.blank.size), abs=1e-5)


def test_layouts_hold_every_part() -> None:
    read = document(demo.project())
    laid: dict[str, int] = {}
    for layout in read["layouts"]:
        for pattern in layout["patterns"]:
            for leaf in pattern["laid"]:
                mark = leaf["part"].split("#")[0] if "#" not in leaf["part"] else ""
                laid[mark] = laid.get(mark, 0) + pattern["times"]
    solid = {r.mark for r in demo.setting().rows if r.part.blank.made_of}
    assert {m: n for m, n in laid.items() if m} == {
        p["mark"]: p["count"] for p in read["parts"] if p["mark"] not in solid
    }
