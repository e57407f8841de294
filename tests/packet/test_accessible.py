"""The packet's PDF against what PDF/UA-1 (ISO 14289-1) asks and a program can check, read with an independent reader.

Clause numbers are those of ISO 14289-1:2014; structure types and attributes those of ISO 32000-1, 14.7 and 14.8.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import ArrayObject, BooleanObject, ContentStream, DictionaryObject, IndirectObject
from tests.packet import demo

PAINT = {b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"S", b"s", b"sh", b"Do", b"Tj", b"TJ", b"'", b'"', b"EI"}
SET_TYPES = {
    "Document", "Div", "P", "H1", "H2", "H3", "Table", "THead", "TBody", "TR", "TH", "TD", "Figure", "Span",
    "TOC", "TOCI", "Reference", "Link",
}  # fmt: skip
PAPERS: Any = pytest.mark.parametrize(("system", "paper"), [("in", "letter"), ("mm", "a4")])


@cache
def reader(system: Any, paper: Any) -> PdfReader:
    return PdfReader(BytesIO(demo.pdf(system, paper)))


def root_of(pdf: PdfReader) -> DictionaryObject:
    root = pdf.trailer["/Root"]
    assert isinstance(root, DictionaryObject)
    return root


def children(element: DictionaryObject) -> list[Any]:
    kids = element.get("/K")
    kids = kids.get_object() if isinstance(kids, IndirectObject) else kids
    return [] if kids is None else [k.get_object() for k in kids] if isinstance(kids, ArrayObject) else [kids]


def elements(element: DictionaryObject) -> Iterator[DictionaryObject]:
    """Yield the structure elements below one, in the order in which they are read."""
    for kid in children(element):
        if isinstance(kid, DictionaryObject) and "/S" in kid:
            yield kid
            yield from elements(kid)


@cache
def structure(system: str, paper: str) -> tuple[DictionaryObject, ...]:
    return tuple(elements(root_of(reader(system, paper))["/StructTreeRoot"]))


def kind(element: DictionaryObject) -> str:
    return str(element["/S"])[1:]


def of_kind(system: str, paper: str, *kinds: str) -> list[DictionaryObject]:
    return [e for e in structure(system, paper) if kind(e) in kinds]


@PAPERS
def test_it_says_what_it_is(system: str, paper: str) -> None:
    pdf = reader(system, paper)
    root = root_of(pdf)
    assert root["/Lang"] == "en"  # 7.2
    assert root["/MarkInfo"]["/Marked"] == BooleanObject(True)  # 6.2
    assert root["/MarkInfo"].get("/Suspects", BooleanObject(False)) == BooleanObject(False)  # 7.1
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == BooleanObject(True)  # 7.1
    said = root["/Metadata"].get_object().get_data().decode()
    assert re.search(r"<pdfuaid:part>1</pdfuaid:part>|pdfuaid:part=\"1\"", said)  # 5
    assert demo.project().order.title in said  # 7.1: dc:title
    assert pdf.metadata is not None
    assert pdf.metadata.title == demo.project().order.title
    assert not pdf.is_encrypted  # 7.16


@PAPERS
def test_every_element_is_of_a_known_kind(system: str, paper: str) -> None:
    roles = {k[1:]: v[1:] for k, v in root_of(reader(system, paper))["/StructTreeRoot"]["/RoleMap"].items()}
    for element in structure(system, paper):
        known = kind(element)
        while known not in SET_TYPES and known in roles:  # 7.1: what is not standard is mapped to what is
            known = roles[known]
        assert known in SET_TYPES, kind(element)


@PAPERS
def test_headings_go_down_one_step_at_a_time(system: str, paper: str) -> None:
    levels = [int(kind(e)[1]) for e in of_kind(system, paper, "H1", "H2", "H3", "H4", "H5", "H6")]
    assert levels[0] == 1  # 7.4.2
    assert all(after <= before + 1 for before, after in pairwise(levels))


@PAPERS
def test_every_figure_says_what_it_shows(system: str, paper: str) -> None:
    figures = of_kind(system, paper, "Figure")
    shown = [f.drawing.alt for page in demo.context("part-drawings", system, paper).figures.pages for f in page.figures]
    said = [str(e.get("/Alt", "")) for e in figures]
    assert all(len(text) > 10 for text in said)  # 7.3
    assert set(shown) <= set(said)
    assert all(_attribute(e, "/BBox") for e in figures)  # ISO 32000-1, 14.8.5.4.3


@PAPERS
def test_tables_have_headers_and_whole_rows(system: str, paper: str) -> None:
    tables = of_kind(system, paper, "Table")
    assert len(tables) > 20
    for table in tables:
        rows = [e for e in elements(table) if kind(e) == "TR"]
        cells = [[k for k in children(row) if isinstance(k, DictionaryObject) and "/S" in k] for row in rows]
        assert {kind(c) for row in cells for c in row} <= {"TH", "TD"}  # 7.5
        heads = [c for row in cells for c in row if kind(c) == "TH"]
        assert heads
        assert all(_attribute(c, "/Scope") in ("/Column", "/Row", "/Both") for c in heads)
        wide = {sum(int(_attribute(c, "/ColSpan") or 1) for c in row) for row in cells}
        assert len(wide) == 1, wide  # ISO 32000-1, 14.8.4.3.4: a row is as wide as its table


def _attribute(element: DictionaryObject, name: str) -> Any:
    given = element.get("/A")
    given = given.get_object() if given is not None else []
    for one in given if isinstance(given, ArrayObject) else [given]:
        found = one.get_object().get(name)
        if found is not None:
            return found
    return None


@PAPERS
def test_nothing_is_painted_that_is_neither_tagged_nor_an_artifact(system: str, paper: str) -> None:
    pdf = reader(system, paper)
    for number, page in enumerate(pdf.pages, 1):
        tagged, artifacts, loose = _painted(pdf, page)
        assert not loose, f"page {number}: {loose[:3]}"  # 7.1
        assert tagged, f"page {number} has nothing to read"
        assert artifacts, f"page {number}: head and foot are artifacts"
        assert page["/Tabs"] == "/S"  # 7.18.3
        owners = _parents(pdf)[int(page["/StructParents"])]
        assert set(tagged) == set(range(len(owners)))
        assert all("/S" in owner.get_object() for owner in owners)


def _painted(pdf: PdfReader, page: PageObject) -> tuple[list[int], int, list[bytes]]:
    """Return the numbers of tagged content on a page, how many artifacts it has, and what is painted beside both."""
    tagged: list[int] = []
    artifacts = 0
    loose: list[bytes] = []
    open_marks: list[bool] = []
    for operands, operator in ContentStream(page.get_contents(), pdf).operations:
        if operator in (b"BDC", b"BMC"):
            has = isinstance(operands[-1], DictionaryObject) and "/MCID" in operands[-1]
            is_artifact = operands[0] == "/Artifact"
            tagged += [int(operands[-1]["/MCID"])] if has else []
            artifacts += is_artifact
            open_marks.append(has or is_artifact)
        elif operator == b"EMC":
            open_marks.pop()
        elif operator in PAINT and not any(open_marks):
            loose.append(operator)
    assert not open_marks
    return tagged, artifacts, loose


@cache
def _parents(pdf: PdfReader) -> dict[int, Any]:
    """Return the parent tree flat: the elements of each page's tagged content, by the page's number in it."""
    out: dict[int, Any] = {}

    def read(node: DictionaryObject) -> None:
        numbers = node.get("/Nums", ArrayObject())
        out.update({int(numbers[i]): numbers[i + 1].get_object() for i in range(0, len(numbers), 2)})
        for kid in node.get("/Kids", ()):
            read(kid.get_object())

    read(root_of(pdf)["/StructTreeRoot"]["/ParentTree"].get_object())
    return out


@PAPERS
def test_links_say_where_they_lead(system: str, paper: str) -> None:
    pdf = reader(system, paper)
    links = [a.get_object() for page in pdf.pages for a in page.get("/Annots", ())]
    assert len(links) >= len(of_kind(system, paper, "TOCI")) > 0
    for link in links:
        assert link["/Subtype"] == "/Link"
        assert len(str(link.get("/Contents", ""))) > 3  # 7.18.5
        assert kind(_parents(pdf)[int(link["/StructParent"])]) == "Link"  # 7.18.1


@PAPERS
def test_bookmarks_are_the_headings(system: str, paper: str) -> None:
    pdf = reader(system, paper)
    top = [b for b in pdf.outline if not isinstance(b, list)]
    titles = [b.title for b in top]
    assert len(of_kind(system, paper, "H1")) >= len(titles) > 10  # 7.17
    assert titles[0] == demo.project().order.title
    for name in ("Parts list", "Layouts", "Part drawings", "Findings"):
        assert name in titles
    pages = [pdf.get_destination_page_number(b) for b in top]
    assert pages == sorted(pages)
    assert None not in pages


@PAPERS
def test_fonts_are_in_the_file_and_readable(system: str, paper: str) -> None:
    seen = {}
    for page in reader(system, paper).pages:
        fonts = page["/Resources"].get("/Font", {})
        seen |= {f.get_object()["/BaseFont"]: f.get_object() for f in fonts.values()}
    assert seen
    for name, font in seen.items():
        below = font["/DescendantFonts"][0].get_object()
        held = below["/FontDescriptor"].get_object()
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(held), name  # 7.21.4.1
        assert "/ToUnicode" in font, name  # 7.21.7
