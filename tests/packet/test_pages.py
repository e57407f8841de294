"""The packet's PDF read back with an independent reader, every mark, size and count compared with the model."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject
from tests.packet import demo
from tests.packet.reading import drawings_in

from casewright.design.mirror import swap_hands
from casewright.design.parts import Form, Hardware, Part
from casewright.design.printed_sizes import printed_sizes
from casewright.packet.cut_plan import CutStep
from casewright.packet.group_words import alike_words
from casewright.packet.hardware_list import fastener_rows, hardware_rows
from casewright.packet.pages.assembling import assembling
from casewright.packet.pages.cover import Cover, cover
from casewright.packet.pages.drawings import Drawing
from casewright.packet.pages.layouts import LayoutItem, Layouts, LayoutSheet
from casewright.packet.pages.registry import PAGES
from casewright.packet.pages.setting import UNFRAMED, PaperName, findings_state, setting_of
from casewright.packet.typesetting import timestamp, typeset
from casewright.stock.model import Hinge, Slide
from casewright.units import Role, format_length, parse_length, round_length

BOTH: list[tuple[str, PaperName]] = [("in", "letter"), ("mm", "a4")]


@pytest.mark.parametrize(("system", "paper"), BOTH)
def test_paper_and_foot_of_every_page(system: str, paper: PaperName) -> None:
    reader = PdfReader(BytesIO(demo.pdf(system, paper)))
    short, long = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}[paper]  # points: ANSI Y14.1 size A, ISO 216
    frame = demo.setting(system, paper).frame
    for number, page in enumerate(reader.pages, 1):
        sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert sides == pytest.approx([short, long], abs=0.02)
        text = demo.texts(demo.pdf(system, paper))[number - 1]
        for said in ("Do not scale", frame.revision, demo.DATE, frame.units, frame.state, frame.title):
            assert said in text, (number, said)
        assert f"page {number} of {len(reader.pages)}" in text
        # ISO 5456-2 draws in first angle, ASME Y14.3 in third.
        assert {"letter": "third", "a4": "first"}[paper] + " angle projection" in text
        pieces = [p.title for p in demo.setting(system, paper).pieces]
        assert any(said in text for said in ("all pieces", *pieces)), number
        assert "DRAFT" not in text


@pytest.mark.parametrize(("system", "paper"), BOTH)
def test_parts_list_says_what_the_model_says(system: str, paper: PaperName) -> None:
    project, printed = demo.project(system), " ".join(demo.texts(demo.pdf(system, paper)))
    counts = Counter(
        project.mark_of(p).label for piece in project.assembly.pieces for p in piece.placed for _ in range(piece.count)
        if isinstance(p.thing, Part)
    )  # fmt: skip
    rows = demo.setting(system, paper).rows
    assert {r.mark: r.count for r in rows} == dict(counts)
    for row in rows:
        sizes = " ".join(p.text.removesuffix(f" {system}") for p in row.finished_printed[:2])
        start = f"{row.mark} {row.count} {row.name.split(',')[0].split(';')[0]}"
        assert re.search(rf"{re.escape(start)}[^|]{{0,90}}? {re.escape(sizes)} ", printed), (row.mark, start, sizes)


@pytest.mark.parametrize("system", ["in", "mm"])
def test_a_parts_printed_size_is_that_of_the_ledger_sizes_which_it_names(system: str) -> None:
    project = demo.project(system)
    style = project.style
    rows = {row.mark: row for row in demo.setting(system, "letter" if system == "in" else "a4").rows}
    for piece in project.assembly.pieces:
        printed = printed_sizes(piece, style)
        for placed in piece.placed:
            mark = project.mark_of(placed)
            if mark is None or placed.part.blank.size != rows[mark.label].cut:
                continue
            for name, size, mm in zip(placed.sizes, rows[mark.label].printed, placed.part.blank.size, strict=True):
                assert parse_length(size.text) == pytest.approx(size.value, abs=1e-6)
                if name:
                    assert size.text == printed[name].text, (placed.path, name)
                else:
                    assert size.value == round_length(mm, Role.FREE, style)


def test_rough_sizes_are_rounded_up() -> None:
    for row in demo.setting().rows:
        for size, rough, cut in zip(row.rough_printed, row.rough, row.cut, strict=True):
            assert rough == cut or size.value >= rough - 1e-3


def test_sheet_thickness_is_printed_as_measured() -> None:
    text = " ".join(demo.texts(demo.pdf()))
    for row in demo.setting().rows:
        if row.form is Form.SHEET:
            assert f"{row.cut[2]:g} mm ({row.cut[2] / 25.4:.3f} in)" in text


def test_cover_gives_overall_sizes_pulls_and_levelling_range() -> None:
    project, cover = demo.project(), demo.texts(demo.pdf())[0]
    style = project.style
    for piece in project.assembly.pieces:
        size = " × ".join(
            format_length(v, Role.FREE, style, unit=False) for v in (piece.width, piece.depth, piece.height)
        )
        assert f"{size} in" in cover
        assert piece.title in cover
    assert "height on its levelling feet" in cover
    assert "pulls stand out further by" in cover
    for said in (project.order.client, project.order.due, project.shop.name):
        assert said in cover


def test_contents_name_every_page_with_its_number() -> None:
    pages = demo.texts(demo.pdf())
    contents = pages[0].partition("In these pages")[2]
    titles = [demo.plain(str(e.title)) for e in PdfReader(BytesIO(demo.pdf())).outline if not isinstance(e, list)]
    assert len(titles) > 15
    for name in titles[1:]:  # the first is the cover's own
        found = re.search(rf"{re.escape(name)} ?[ .]+(\d+)", contents)
        assert found is not None, name
        assert name in pages[int(found[1]) - 1], name


def test_contents_of_more_pieces_than_the_cover_holds_have_a_page() -> None:
    cover = demo.context("cover")
    shown = [("cover", replace(cover, contents=False)), ("fitting", demo.context("fitting"))]
    first, second, third = demo.texts(typeset(demo.setting().frame, shown))
    assert "In these pages" not in first
    assert re.search(r"In these pages Cut to fit ?[ .]+3", second)
    assert third.count("Cut to fit") == 1
    assert _cover_of(4).contents
    six = _cover_of(6)
    assert not six.contents
    pages = demo.texts(typeset(demo.setting().frame, [("cover", six)]))
    assert len(pages) == 2, "six pieces with their sizes stand on one page, the contents on the next"
    assert pages[0].count("parts to cut") == 6


def _cover_of(pieces: int) -> Cover:
    """The cover of so many pieces: the demonstration's two, over and over."""
    setting = demo.setting()
    twin = demo.with_findings(())
    assembly = twin.assembly
    vars(twin)["assembly"] = replace(assembly, pieces=assembly.pieces * (pieces // 2))
    return cover(replace(setting, project=twin))


def test_mirror_images_follow_in_the_order_of_the_pieces() -> None:
    shown = demo.context("assembled")
    (left,), (right,) = shown.pieces, shown.mirrors
    assert (left.place, right.place) == (0, 1)
    turned = replace(shown, pieces=(replace(left, place=1),), mirrors=(replace(right, place=0),))
    assert "The mirror image of" in demo.texts(typeset(demo.setting().frame, [("assembled", turned)]))[0]


def test_steps_say_what_is_made_together_with_other_pieces() -> None:
    (both,) = demo.context("assembling").pieces
    assert (both.made, both.shared) == (2, ()), "the pair is one list, and nothing is outside of it"
    left, right = assembling(replace(demo.setting(), twins={})).pieces
    marks = [set(demo.setting().marks_of(piece).values()) for piece in demo.setting().pieces]
    assert left.shared == right.shared
    assert {text.split()[0] for text in left.shared} == marks[0] & marks[1]
    feet = next(row for row in demo.setting().rows if row.name == "foot")
    assert f"{feet.mark} (8 in all)" in left.shared


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (["drawer[c1,r1]/face"], "drawer, column 1, row 1, face"),
        (["drawer[c1,r3]", "drawer[c2,r3]"], "drawer, column 1, row 3; column 2, row 3"),
        (["foot.front.left", "foot.front.right"], "foot"),
        (["frame", "frame"], "frame"),
        (["top/set"], "top set"),
    ],
)
def test_alike_units_are_named_by_all_their_places(names: list[str], words: str) -> None:
    assert alike_words(names) == words


def test_exploded_views_carry_every_mark_of_their_piece() -> None:
    pages = demo.texts(demo.pdf())
    shown = (*demo.context("exploded").pieces, *demo.context("groups").groups)
    drawn = {t.text for one in shown for t in one.drawing.texts}
    keyed = {entry.mark for one in shown for entry in one.key}
    for piece in demo.setting().shown_whole:
        assert any(f"{piece.title}: taken apart" in t and "In these pages" not in t for t in pages)
        marks = set(demo.setting().marks_of(piece).values())
        assert marks <= drawn
        assert marks <= keyed


def test_a_mirror_image_is_shown_by_its_front_and_every_mark_that_differs() -> None:
    setting, pages = demo.setting(), demo.texts(demo.pdf())
    left, right = setting.pieces
    assert setting.shown_whole == (left,)
    (page,) = (t for t in pages if f"The mirror image of {left.title}" in t)
    ours, theirs = setting.marks_of(right), setting.marks_of(left)
    for path, mark in ours.items():
        there = theirs[swap_hands(path, right.cells)]
        assert mark == there or re.search(rf"\b{there} {mark} ", page), (path, mark, there)
    steps = " ".join(s.brings + " " + s.mirror_brings for p in demo.context("assembling").pieces for s in p.steps)
    assert set(ours.values()) | set(theirs.values()) <= set(re.findall(r"\b[A-Z]{1,2}\b", steps))


def test_layouts_show_every_part_as_often_as_it_is_cut() -> None:
    context = demo.context("layouts")
    shown: Counter[str] = Counter()
    for item in context.items:
        for sheet in item.sheets:
            marks = [t.text for t in sheet.drawing.texts]
            shown.update({m: marks.count(m) * sheet.times for m in set(marks)})
    for row in demo.setting().rows:
        made_of = row.part.blank.made_of
        strips = sum(n for text, n in shown.items() if re.fullmatch(rf"{row.mark}\d*-\d+", text))
        assert strips >= row.count if made_of else shown[row.mark] == row.count, row.mark


def test_sheets_of_one_stock_stand_in_their_order_whatever_their_shapes() -> None:
    """Cards and wide pictures by turns: board 2 never before board 1, which has the head of its stock."""
    frame = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>'

    def sheet(number: int, card: bool, cuts: int) -> LayoutSheet:
        wide, high = (80.0, 40.0) if card else (170.0, 70.0)
        steps = tuple(CutStep(numbers=str(n + 1), verb="rip", setting="100", gives="A") for n in range(cuts))
        drawing = Drawing(svg=frame, width=wide, height=high, alt="a board", texts=())
        return LayoutSheet(
            name=f"b{number}", title=f"board {number}: long", times=1, drawing=drawing, steps=steps, before="", left="",
            card=card,
        )  # fmt: skip

    def item(name: str, *sheets: LayoutSheet) -> LayoutItem:
        heads = ("cut", "", "set to, mm", "gives")
        return LayoutItem(
            item=name, name=name, form="board", heads=heads, summary=f"all of {name}", outcome="best found", to_buy="",
            shared="", glued="", unplaced=(), sheets=sheets,
        )  # fmt: skip

    mixed = [(True, 4), (False, 20), (True, 30), (True, 2), (True, 9), (False, 22)]
    oak = item("oak", *(sheet(n, card, cuts) for n, (card, cuts) in enumerate(mixed, 1)))
    ash = item("ash", sheet(1, False, 24), sheet(2, True, 3))
    elm = item("elm", sheet(1, True, 1))
    given = replace(UNFRAMED, paper="a4", title="order", date=demo.DATE)
    pdf = typeset(given, [("layouts", Layouts(unit="mm", cards=2, items=(oak, ash, elm)))])
    text = " ".join(demo.texts(pdf))
    assert re.findall(r"board (\d): long", text).count("1") == 3
    for name, count in (("oak", 6), ("ash", 2), ("elm", 1)):
        heads = re.findall(rf"{name} (?:all of {name}; best found\. )?board (\d): long", text)
        assert heads == [str(n) for n in range(1, count + 1)], name
        assert re.search(rf"{name} all of {name}; best found\. board 1", text)


def test_cuts_are_numbered_without_gaps_and_each_is_in_the_steps() -> None:
    context = demo.context("layouts")
    for item in context.items:
        for sheet in item.sheets:
            spans = [[int(n) for n in s.numbers.split("–")] for s in sheet.steps]
            numbers = [n for span in spans for n in range(span[0], span[-1] + 1)]
            assert numbers == list(range(1, len(numbers) + 1)), sheet.name
            said = [t.text for t in sheet.drawing.texts]
            assert all(str(n) in said for n in numbers), sheet.name
            assert str(len(numbers) + 1) not in said or item.form == "stick", sheet.name  # lengths may be whole numbers


def test_hardware_and_fasteners_are_counted_over_the_order() -> None:
    project = demo.project()
    context = demo.context("hardware")
    screws = Counter(f.item for piece in project.assembly.pieces for f in piece.fasteners for _ in range(piece.count))
    assert {r.name: r.count for r in context.fasteners} == {project.stock[i].name: n for i, n in screws.items()}
    placed = Counter(
        p.thing.item for piece in project.assembly.pieces for p in piece.placed for _ in range(piece.count)
        if isinstance(p.thing, Hardware)
    )  # fmt: skip
    for item_id, n in placed.items():
        item = project.stock[item_id]
        whole = n // 2 if isinstance(item, (Slide, Hinge)) else n  # two members a slide, two leaves a hinge
        assert next(r for r in context.hardware if r.name == item.name).count == whole
    text = " ".join(demo.texts(demo.pdf()))
    for row in (*context.hardware, *context.fasteners):
        assert f"{row.count} {row.name.split(',')[0]}" in text


def test_assumptions_hold_measured_stock_room_and_practice_that_was_read() -> None:
    context = demo.context("assumptions")
    text = " ".join(demo.texts(demo.pdf()))
    names = {line.name for line in context.practice}
    assert {"drawer.side_clearance", "gap.inset", "rough.length", "sheet.trim"} <= names
    assert names < {rule.name for rule in demo.project().practice.rules}  # not every rule of the shop: those used
    assert all(name in text for name in names)
    assert "measured now" in text
    assert "30 to 60 % relative humidity" in text


def test_findings_come_worst_first_with_remedy_and_reason() -> None:
    found = demo.with_findings([demo.STOP, demo.ACCEPTED])
    made = setting_of(found, "letter", demo.DATE, draft=True)
    page = next(p for p in PAGES if p.name == "findings")
    context = page.context(made)
    assert [line.severity for line in context.lines] == sorted(
        (line.severity for line in context.lines), key=["stop", "warn", "note"].index
    )
    text = " ".join(demo.texts(typeset(made.frame, [(page.name, context)])))
    for said in (made.printer.in_both(demo.STOP.message), "Do: a lower drawer", "Accepted: the client knows", "STOP"):
        assert said in text, said
    assert findings_state(found.findings).startswith("findings: 1 stop, ")
    assert findings_state(found.findings).endswith("1 warning accepted")


def test_findings_alike_of_a_pair_are_one_entry_with_both_paths() -> None:
    found, lines = demo.project().findings, demo.context("findings").lines
    assert sum(line.path.count(", ") + 1 for line in lines) == len(found)
    assert len(lines) < len(found)
    both = [line for line in lines if ", " in line.path]
    assert all(line.path == f"{(own := line.path.partition(', ')[0])}, {swap_hands(own)}" for line in both)


def test_layouts_say_which_strips_make_a_panel() -> None:
    found = [item for item in demo.context("layouts").items if item.glued]
    assert found
    for item in found:
        drawn = {t.text for sheet in item.sheets for t in sheet.drawing.texts}
        strips = {label for label in drawn if re.fullmatch(r"[A-Z]+\d*-\d+", label)}
        named = re.findall(r"([A-Z]+\d*)-1 to \1-(\d+)", item.glued)
        assert strips == {f"{panel}-{n}" for panel, last in named for n in range(1, int(last) + 1)}


def test_a_draft_says_so_on_every_page() -> None:
    made = setting_of(demo.with_findings([demo.STOP]), "a4", demo.DATE, draft=True)
    pages = [p for p in PAGES if p.name in ("parts", "layouts", "findings", "cautions")]
    for text in demo.texts(typeset(made.frame, [(p.name, p.context(made)) for p in pages])):
        assert "DRAFT: not for cutting" in text


def test_the_pdf_is_tagged_and_every_picture_has_words() -> None:
    reader = PdfReader(BytesIO(demo.pdf()))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value is True
    assert root["/Lang"] == "en"
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()
    figures = [e for e in _elements(root["/StructTreeRoot"]) if e.get("/S") == "/Figure"]
    pictures = sum(len(drawings_in(context)) for _, context in demo.contexts("in", "letter"))
    assert len(figures) == pictures
    assert all(len(str(f["/Alt"])) > 20 for f in figures)
    assert root["/ViewerPreferences"]["/DisplayDocTitle"].value is True  # PDF/UA-1, 7.1
    assert reader.metadata is not None
    assert reader.metadata.title == demo.setting().frame.title
    kinds = {e.get("/S") for e in _elements(root["/StructTreeRoot"])}
    assert {"/H1", "/H2", "/Table", "/TH", "/TD", "/Figure"} <= kinds
    assert all(page["/Tabs"] == "/S" for page in reader.pages)  # PDF/UA-1, 7.18.3


def test_bookmarks_name_every_page_and_every_mark() -> None:
    reader = PdfReader(BytesIO(demo.pdf()))
    marks = {f"{row.mark}: {row.name}" for row in demo.setting().rows}
    found = dict(_bookmarks(reader, reader.outline))
    assert marks <= set(found)
    titles = [title for title in found if title not in marks]
    assert len(titles) >= len(PAGES) - 1
    for title, number in found.items():
        text = demo.texts(demo.pdf())[number]
        # A page sets "1-5/8" as a whole number and a true fraction.
        assert re.sub(r"(\d)-(\d+/\d)", r"\1 \2", title.partition(":")[0]) in text, (title, number)


def _bookmarks(reader: PdfReader, entries: list[Any]) -> Iterator[tuple[str, int]]:
    for entry in entries:
        if isinstance(entry, list):
            yield from _bookmarks(reader, entry)
        else:
            number = reader.get_destination_page_number(entry)
            assert number is not None
            yield demo.plain(str(entry.title)), number


def _elements(node: DictionaryObject) -> list[DictionaryObject]:
    out, queue = [], [node]
    while queue:
        kids = queue.pop().get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            element = kid.get_object()
            if isinstance(element, DictionaryObject):
                out.append(element)
                queue.append(element)
    return out


def test_only_the_packages_own_fonts_are_used() -> None:
    reader = PdfReader(BytesIO(demo.pdf()))
    fonts = {str(f.get_object()["/BaseFont"]) for p in reader.pages for f in p["/Resources"]["/Font"].values()}
    assert fonts
    assert all("SourceSans3" in f for f in fonts)


def test_same_contexts_same_bytes() -> None:
    made = demo.setting()
    contexts = [(p.name, p.context(made)) for p in PAGES if p.name in ("cover", "parts", "layouts")]
    assert typeset(made.frame, contexts) == typeset(made.frame, contexts)


def test_the_stamp_is_the_callers_date() -> None:
    assert timestamp("2026-11-02").isoformat() == "2026-11-02T00:00:00+00:00"
    assert timestamp("some day").year == 1970
    meta = PdfReader(BytesIO(demo.pdf())).metadata
    assert meta is not None
    assert meta["/CreationDate"].startswith("D:20261102")


@pytest.mark.parametrize(("system", "paper"), [("in", "letter"), ("mm", "a4")])
def test_the_words_below_the_title_of_the_part_drawings_end_above_the_first_drawing(system, paper) -> None:  # type: ignore[no-untyped-def]
    """By where the PDF has its texts: the last line ends with "the part itself", the drawings' heads are larger."""
    page = next(p for p in PdfReader(BytesIO(demo.pdf(system, paper))).pages if "Sizes run from" in p.extract_text())
    found: list[tuple[float, str]] = []

    def visit(text: str, place: list[float], *_: object) -> None:
        if text.strip():
            found.append((place[5], text))

    page.extract_text(visitor_text=visit)
    title = next(n for n, (_, text) in enumerate(found) if "Part drawings" in text)
    first = next(n for n, (_, text) in enumerate(found) if re.match(r"\w+: ", text))  # the bookmark of a drawing
    legend = min(y for y, _ in found[title:first])
    drawn = max(y for y, _ in found[first + 1 :] if y < found[title][0])
    assert (legend - drawn) / 72 * 25.4 > 4.0, "mm from base line to base line"


def test_the_list_says_which_hardware_its_screws_hold() -> None:
    """ "hardware screws 24" beside 24 screws said nothing; equal hinges are named once, not by number."""
    rows = fastener_rows(demo.project())
    uses = {use for row in rows for use, _ in row.uses}
    assert "hardware screws" not in uses
    assert {"hinge, door leaf", "hinge, frame leaf"} <= uses
    assert all(not re.search(r" \d+,", use) for row in hardware_rows(demo.project()) for use, _ in row.uses)


def test_the_list_says_where_every_bought_thing_is() -> None:
    where = {line.name: line.uses for line in demo.context("hardware").hardware}
    assert all(where.values())
    assert where["touch-dimmer module, 64 mm round, low voltage"] == "in the top"
