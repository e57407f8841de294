"""What the PDF says, read back with an independent reader and compared with the model: sizes, counts, marks, holes.

The expected texts are worked out here from the design, by other ways than the pages take. On the demonstration order in
both systems, on other examples (a third of them in an ordinary run, all in both systems with `--variants 300`), and on
random bedside cabinets and cases: two in an ordinary run, fifty with `--variants 750`.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from tests.design.test_cases import SIZE, box, built, case
from tests.packet import demo
from tests.packet.reading import (
    EXAMPLES,
    PAPERS,
    context,
    drawings_in,
    example,
)

from casewright.design.assembly import PieceDesign
from casewright.design.features.holes import Hole
from casewright.design.features.shaping import EndCut
from casewright.design.parts import Form, Part
from casewright.design.printed_sizes import printed_sizes
from casewright.design.step_runs import step_numbers
from casewright.packet.hardware_list import band_rows, fastener_rows
from casewright.packet.joint_schedule import joint_rows
from casewright.packet.pages.assembling import bought_text
from casewright.packet.pages.setting import UNFRAMED, PaperName, Setting, unframed_setting
from casewright.packet.typesetting import typeset
from casewright.project import Project
from casewright.units import LengthStyle, Role, format_length

MM = 72 / 25.4  # points


def bare(mm: float, style: LengthStyle) -> str:
    return format_length(mm, Role.FREE, style, unit=False)


def with_unit(mm: float, style: LengthStyle) -> str:
    """A size with its unit, whichever that is."""
    return format_length(mm, Role.FREE, style)


def test_every_mark_is_listed_with_its_count_and_sizes(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        style = setting.printer.style
        counts: Counter[str] = Counter()
        sizes: dict[str, set[str]] = {}
        for piece in setting.pieces:
            printed = printed_sizes(piece, style)
            for placed in piece.placed:
                mark = setting.project.mark_of(placed)
                if mark is None:
                    continue
                counts[mark.label] += piece.count
                length, width, thickness = (
                    printed[name].text.removesuffix(f" {style.system}") if name else bare(mm, style)
                    for name, mm in zip(placed.sizes, placed.part.blank.size, strict=True)
                )
                # A mark of a square section may lie either way round; sheets print the measured thickness.
                sizes.setdefault(mark.label, set()).update((f"{length} {width} ", f"{length} {thickness} "))
        for mark, n in counts.items():
            row = re.search(rf"(?<!\S){mark} {n} (?!×).{{3,200}}?(?={'|'.join(map(re.escape, sizes[mark]))})", text)
            assert row, (setting.project.order.title, mark, n, sizes[mark])


@pytest.mark.parametrize("given", PAPERS)
def test_the_parts_list_has_room_for_names_and_ends_at_the_margin(given: tuple[str, PaperName]) -> None:
    """Also where parts of one sheet are both banded and cut to fit: every column at once."""
    order = next(path for path in EXAMPLES if path.stem == "media-unit")
    setting = example(order, *given)
    lists = context(setting, "parts")
    assert any(g.has_bands and g.has_rough for form in lists.forms for g in form.stocks)
    frame = replace(UNFRAMED, paper=setting.paper.name, title="parts", shop="Fernbrook Workshop", date=demo.DATE)
    for page in PdfReader(BytesIO(typeset(frame, [("parts", lists)]))).pages:
        heads: dict[str, list[tuple[float, float]]] = {}

        def read(text: str, matrix: list[float], line: list[float], *_: object, heads: Any = heads) -> None:
            x, y = line[4] * matrix[0] + matrix[4], line[5] * matrix[3] + matrix[5]
            heads.setdefault(text.strip(), []).append((x, y))

        page.extract_text(visitor_text=read)
        right = float(page.mediabox.width) - 15 * MM
        assert not [(text, at) for text, places in heads.items() for at in places if text and at[0] > right]
        names = heads.get("name", [])
        assert names
        for x, y in names:
            after = min(at[0] for at in heads["length"] if abs(at[1] - y) < 1.0 and at[0] > x)
            assert after - x > 25 * MM, "a name of the trade has room on one line or two"


def test_what_layouts_leave_on_is_said_part_by_part_where_parts_of_a_line_differ() -> None:
    """A lid that is glued up keeps an inch and a quarter of one (practice), the strip behind it 3 mm, fit.cut_over."""
    setting = example(next(path for path in EXAMPLES if path.stem == "window-seat"), "mm", "a4")
    lid = next(line for piece in context(setting, "fitting").pieces for line in piece.lines if "lid" in line.what)
    assert lid.over == ("strip behind the lid: 3 mm in length, 3 mm in width; lid: 25.5 mm in length, 6.5 mm in width")


def test_no_page_says_glue_where_a_joint_has_none() -> None:
    """Beads come off again, and a back is nailed to solid wood: neither the list nor the schedule says "glue"."""
    for stem, marked in (("wall-cupboard", "glass bead"), ("solid-case", "back to ")):
        setting = example(next(path for path in EXAMPLES if path.stem == stem), "in", "letter")
        lines = [line for line in context(setting, "fastening").lines if line.joint.startswith(marked)]
        assert {line.kind for line in lines} == {"pins"}, stem
    assert ("pins", 20) in {use for row in fastener_rows(setting_of_wall()) for use in row.uses}


def setting_of_wall() -> Project:
    return example(next(path for path in EXAMPLES if path.stem == "wall-cupboard"), "in", "letter").project


def test_edge_bands_are_bought_for_every_banded_edge() -> None:
    """By hand from the parts list: edges run along the length, ends across the width, 30 mm more each (practice).

    The shelves of 24 mm take the wide band: the usual one is 22.2 mm (7/8 in) wide.
    """
    order = next(path for path in EXAMPLES if path.stem == "tall-cupboard")
    setting = example(order, "in", "letter")
    needed: Counter[str] = Counter()
    for row in setting.rows:
        for band in row.part.bands:
            length, width, _ = row.part.finished
            needed[band.item] += round((width if band.face.value.startswith("end") else length) + 30.0, 3) * row.count
    shown = {row.item: row for row in band_rows(setting.project)}
    assert set(shown) == set(needed) == {"band-birch", "band-birch-wide"}
    hinges = next(line for line in context(setting, "hardware").hardware if "hinge" in line.name)
    assert hinges.uses == "hinge, cup; hinge, arm and plate", "four of each on every door, named once"
    for item, length in needed.items():
        assert shown[item].length == pytest.approx(length, abs=0.5)
        feet = math.ceil(length / 304.8)
        assert f"at least {feet} ft" in {s.amount for s in context(setting, "hardware").supplies}
    assert all(
        p.part.blank.thickness <= setting.project.stock[b.item].width
        for p in setting.pieces[0].placed
        if isinstance(p.thing, Part)
        for b in p.part.bands
    )


def test_what_is_bought_without_a_place_comes_with_a_step(settings: list[tuple[Setting, str]]) -> None:
    """Bumpers, felt, straps: as many in the steps as on the list."""
    for setting, _ in settings:
        for piece, steps in steps_of(setting):
            brought = "; ".join(brings for *_, brings in steps)
            for item, count in Counter(line.item for line in piece.bought for _ in range(line.count)).items():
                name = re.escape(setting.project.stock[item].name)
                assert sum(int(n or 1) for n in re.findall(rf"{name}(?: ×(\d+))?(?=[,;]|$)", brought)) == count, item


def test_fasteners_of_all_joints_are_the_models(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        lines = context(setting, "fastening").lines
        placed = Counter(f.item for p in setting.pieces for f in p.fasteners for _ in range(p.count))
        names = Counter({setting.project.stock[item].name: n for item, n in placed.items()})
        shown: Counter[str] = Counter()
        for line in lines:
            assert line.count == line.each * line.joints
            shown[line.fastener] += line.count
            first = demo.plain(f"{line.joint} {line.marks}").strip()
            assert first.replace("– ", "–") in text.replace("– ", "–"), first
            assert all(demo.as_set(hole) in text for hole in line.holes), line.holes
        assert shown == names


def test_every_bench_hole_of_a_joint_is_in_its_line(settings: list[tuple[Setting, str]]) -> None:
    for setting, _ in settings:
        lines = context(setting, "fastening").lines
        said = " ".join(hole for line in lines for hole in line.holes)
        for piece in setting.pieces:
            held = {f.joint for f in piece.fasteners}
            for placed in piece.placed:
                for f in placed.thing.features if isinstance(placed.thing, Part) else ():
                    if isinstance(f, Hole) and f.joint in held and f.depth is not None and not f.bore_diameter:
                        through = f.depth >= placed.part.blank.extent(f.face)[2] - 1e-6
                        depth = "through" if through else f"× {bare(f.depth, setting.printer.style)} deep"
                        assert f" {depth}" in said, (placed.path, f)


def test_no_hole_of_a_joint_is_said_to_be_deeper_than_its_part_is_thick() -> None:
    """A slide's screws go through thin blocking into the divider: "19/32 deep" was said of wood 25/64 thick."""
    project = case(f'{SIZE}bays = {{ columns = ["drawer", "drawer"] }}\n')
    piece = built(project)
    thick = {
        mark.label: placed.part.blank.thickness
        for placed in piece.placed
        if isinstance(placed.thing, Part) and (mark := project.mark_of(placed)) is not None
    }
    through = set()
    for row in joint_rows(project):
        for bore in row.bores:
            if bore.part == "slide blocking" and row.a.startswith("slide, case"):
                (blocking,) = {thick[label] for pair in row.marks for label in pair if label}
                assert bore.hole.depth is None or bore.hole.depth < blocking, row
                through.add(bore.hole.depth is None)
    assert through == {True, False}, "thin blocking at the divider, thick at the sides"


def test_mouldings_have_case_line_and_long_point(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        style = setting.printer.style
        profiles = context(setting, "mouldings").profiles
        lines = {line.mark: line for profile in profiles for line in profile.lines}
        for piece in setting.pieces:
            sizes = {s.name: s.value for s in piece.sizes}
            for placed in piece.placed:
                mark = setting.project.mark_of(placed)
                if mark is None or placed.part.form is not Form.STICK:
                    continue
                if not any(isinstance(f, EndCut) for f in placed.part.features):
                    continue
                line, long = lines[mark.label], printed_sizes(piece, style)[placed.sizes[0]].text
                assert line.long_point == long.removesuffix(f" {style.system}")
                run, _, name = placed.path.removeprefix(piece.path + "/").partition("/")
                if run in ("crown", "base"):
                    along = sizes["body.width" if name == "front" else "body.depth"]
                    assert line.case_line == bare(along, style), (placed.path, along)
                assert f"{line.mark} {line.count} {line.name} {line.case_line} {line.long_point}" in text


def test_steps_bring_every_mark_once_and_fits_come_between_their_steps(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        for piece, steps in steps_of(setting):
            brought: Counter[str] = Counter()
            for number, words, brings in steps:
                assert demo.plain(words) in text, (number, words)
                for label, times in re.findall(r"(?:^|, )([A-Z]+)(?: ×(\d+))?(?=,|;|$)", brings):
                    brought[label] += int(times or 1)
            own = Counter(setting.marks_of(piece).values())
            assert {m: n for m, n in brought.items() if m in own} == dict(own)
        for fit in context(setting, "fitting").pieces:
            for line in fit.lines:
                after = int(re.search(r"step (\d+)", line.after)[1]) if "step" in line.after else 0  # type: ignore[index]
                assert after < int(line.before), line


def steps_of(setting: Setting) -> list[tuple[PieceDesign, list[tuple[int, str, str]]]]:
    """Number, words and what is brought of each step, of the pieces that have a list and of their mirror images."""
    mirrors = {other.path: setting.project.assembly.pieces.index(p) for p in setting.pieces
               if (other := setting.twins.get(p.path)) is not None}  # fmt: skip
    out = []
    for piece, shown in zip(setting.shown_whole, context(setting, "assembling").pieces, strict=True):
        out.append(
            (
                piece,
                [
                    (s.number, " ".join(w for w in (str(s.number), s.lead, s.turn, s.text) if w), s.brings)
                    for s in shown.steps
                ],
            )
        )
        if shown.mirror:
            twin = setting.project.assembly.pieces[mirrors[piece.path]]
            assert twin.title == shown.mirror
            out.append((twin, [(s.number, s.mirrored or s.text, s.mirror_brings or s.brings) for s in shown.steps]))
    return out


def test_a_step_has_the_number_in_print_that_findings_name(settings: list[tuple[Setting, str]]) -> None:
    """The path of a finding about a step ends in that number, and so does its message."""
    for setting, _ in settings:
        for piece in setting.pieces:
            named = {step.id: int(step.id.rpartition("/step")[2].partition(".")[0]) for step in piece.steps}
            assert named == step_numbers(piece)
        for finding in setting.project.findings:
            if at := re.search(r"/step(\d+)(?:\.\d+)?$", finding.path):
                assert finding.message.startswith(f"step {int(at[1])}:")


def test_a_glue_up_that_goes_on_is_left_to_hold_once() -> None:
    """The frame of a back: rails, panels, muntins one after the other; the clamps stay on from its last stile."""
    order = case(
        'bays = { rows = ["open", "open"] }\nwidth = 900\nheight = 900\ndepth = 300\nback = { kind = "framed" }\n'
    )
    (shown,) = context(unframed_setting(order, "letter"), "assembling").pieces
    first = next(i for i, step in enumerate(shown.steps) if "stile of the back" in step.text)
    last = next(i for i, step in enumerate(shown.steps) if "framed back into" in step.text)
    glued = [" ".join(step.notes) for step in shown.steps[first + 1 : last]]
    assert len(glued) >= 5
    assert all("wood glue" in note for note in glued)
    assert ["45 min" in note for note in glued] == [False] * (len(glued) - 1) + [True]


def test_tops_are_cut_to_size_once_what_they_cover_stands(settings: list[tuple[Setting, str]]) -> None:
    for setting, _ in settings:
        for piece in setting.pieces:
            if f"{piece.path}/top" not in {p.path for p in piece.placed}:
                continue
            texts = [step.text for step in piece.steps]
            (cut,) = (
                i for i, t in enumerate(texts) if re.search(r"[Cc]ut (it|the top|the top's parts) to size over", t)
            )
            brought = {b: i for i, step in reversed(list(enumerate(piece.steps))) for b in step.brings}
            carried = ("side.", "frame", "crown", "back")
            covered = [i for b, i in brought.items() if b.removeprefix(f"{piece.path}/").startswith(carried)]
            assert max(covered) < cut < brought[f"{piece.path}/top"], piece.path


def test_diagonals_are_those_of_the_rectangles(settings: list[tuple[Setting, str]]) -> None:
    for setting, _ in settings:
        for piece, shown in zip(setting.shown_whole, context(setting, "assembling").pieces, strict=True):
            # where units of several sizes are made together, their places stand before their diagonals
            notes = " ".join(note for step in shown.steps for note in step.notes).lower()
            notes = notes.replace("right stile and left stile", "left stile and right stile")  # of a mirror image
            for width, height, over in rectangles(piece, setting.project.practice["frame.trim"]):
                across = with_unit(math.hypot(width, height), setting.printer.style)
                assert f"both diagonals {across}{over}." in notes


def test_diagonals_of_a_front_that_is_trimmed_later_are_those_of_its_rough_sizes() -> None:
    """Stiles and rails of a framed drawer front are left 3 mm long (practice `fit.cut_over`) until its glue holds."""
    order = case(
        'bays = { rows = ["drawer", "open"] }\nwidth = 700\nheight = 600\ndepth = 400\nfronts = { drawer = "panel" }'
    )
    setting = unframed_setting(order, "letter")
    piece = built(order)
    face = "drawer[c1,r1]/face"
    stile, rail = (piece.by_path()[f"case/{face}/{name}"].part for name in ("stile.left", "rail.top"))
    wide = box(piece, f"{face}/stile.right")[1][0] - box(piece, f"{face}/stile.left")[0][0]
    assert stile.rough[0] - stile.finished[0] == pytest.approx(3.0)
    across = with_unit(math.hypot(stile.rough[0], wide + rail.rough[0] - rail.finished[0]), setting.printer.style)
    (shown,) = context(setting, "assembling").pieces
    (closed,) = (step for step in shown.steps if step.text.startswith("Close the front"))
    assert f"Both diagonals {across}, before it is trimmed." in closed.notes


def test_bought_things_that_a_step_brings_are_counted() -> None:
    slides = [
        f"slide, {kind} member, {hand}" for _ in range(3) for kind in ("case", "drawer") for hand in ("left", "right")
    ]
    assert (
        bought_text(slides)
        == "slide, case member, left and right, ×3 each; slide, drawer member, left and right, ×3 each"
    )
    feet = [f"levelling foot, {place}" for place in ("front left", "front right", "rear left", "rear right")]
    assert bought_text([*feet, "felt pad"]) == "levelling foot ×4; felt pad"


def rectangles(piece: PieceDesign, trim: float) -> list[tuple[float, float, str]]:
    """Drawer boxes and framed doors, of a bedside cabinet also face frame and case, by their ledger sizes.

    The stiles of a face frame are `trim` mm too wide until it is on its case, both of them.
    """
    s = {size.name: size.value for size in piece.sizes}
    bedside = piece.kind == "bedside"
    frame = (
        (s["frame.width"] if "frame.reveal" in s else s["body.width"] + 2 * trim, s["stile.length"]) if bedside else ()
    )
    over = ", before it is trimmed" if "frame.reveal" not in s else ""
    out = [(*frame, over), (s["body.width"], s["side.length"], "")] if bedside else []
    for group in (m.id.rpartition("/")[2].rpartition(".")[0] for m in piece.motions):
        if f"{group}.box.width" in s:
            out.append((s[f"{group}.box.width"], s[f"{group}.box.depth"], ""))
        if f"{group}.height" in s and any(p.path.startswith(f"{piece.path}/{group}/stile") for p in piece.placed):
            out.append((s[f"{group}.width"], s[f"{group}.height"], ""))
    return out


@pytest.mark.parametrize(("system", "paper"), PAPERS)
def test_every_text_of_every_drawing_is_on_the_page(system: str, paper: PaperName) -> None:
    text = " ".join(demo.texts(demo.pdf(system, paper)))
    for name, made in demo.contexts(system, paper):
        for drawing in drawings_in(made):
            said = [demo.as_set(t.text) for t in drawing.texts]
            missing = [t for t in said if t not in text]
            assert not missing, (name, drawing.alt, missing)
