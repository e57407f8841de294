"""Docs that cannot rot: every page is linked, every link and file named exists, every noun of the code is explained."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from tests.architecture.sources import ROOT, modules

DOCS = ROOT / "docs"
PAGES = sorted((*ROOT.glob("*.md"), *DOCS.rglob("*.md")))
LINK = re.compile(r"\]\((?!https?:|#|mailto:)([^)#\s]+)")
NAMED = re.compile(
    r"`((?:src|tests|docs|examples|benchmarks|scripts)/[\w./-]+)`"
)  # a name with <…> in it stands for many
# The records that a reader meets: all their public classes stand in the glossary.
NOUNS = (
    "findings",
    "design.blanks",
    "design.volumes",
    "design.ledger",
    "design.parts",
    "design.assembly",
    "stock.model",
    "stock.fittings",
)
FEATURES = "design.features."
FOR_THE_CODE_ALONE = {"RectCut", "Fact", "Price", "Pin", "Dowel", "Glue", "Finish"}


def identify(page: Path) -> str:
    return page.relative_to(ROOT).as_posix()


def test_every_page_is_linked_from_the_index() -> None:
    index = (DOCS / "README.md").read_text(encoding="utf-8")
    linked = {(DOCS / target).resolve() for target in LINK.findall(index)}
    assert set(DOCS.rglob("*.md")) - {DOCS / "README.md"} <= linked


@pytest.mark.parametrize("page", PAGES, ids=identify)
def test_links_lead_somewhere(page: Path) -> None:
    targets = LINK.findall(page.read_text(encoding="utf-8"))
    assert [t for t in targets if not (page.parent / t).exists()] == []


@pytest.mark.parametrize("page", PAGES, ids=identify)
def test_files_that_are_named_exist(page: Path) -> None:
    named = NAMED.findall(page.read_text(encoding="utf-8"))
    assert [n for n in named if not (ROOT / n).exists()] == []


def test_every_noun_stands_in_the_glossary() -> None:
    glossary = (DOCS / "glossary.md").read_text(encoding="utf-8")
    explained = set(re.findall(r"`(\w+)`", glossary))
    nouns = {
        node.name
        for module in modules()
        if module.name in NOUNS or module.name.startswith(FEATURES)
        for node in module.tree.body
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_")
    }
    assert len(nouns) > 40
    assert sorted(nouns - explained - FOR_THE_CODE_ALONE) == []


def test_every_room_stands_in_the_flow() -> None:
    flow = (DOCS / "flow.md").read_text(encoding="utf-8")
    rooms = {m.room for m in modules()} - {"", "__main__"}
    assert [r for r in sorted(rooms) if f"`{r}`" not in flow and f"`{r}.py`" not in flow] == []
