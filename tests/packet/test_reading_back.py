"""What the PDF says, read back with an independent reader and compared with the model: sizes, counts, marks, holes.

The expected texts are worked out here from the design, by other ways than the pages take. On the demonstration order,
and on random ones.
"""

from __future__ import annotations

import math
import re
from collections import Counter

import pytest
from tests.packet import demo
from tests.packet.reading import context, drawings_in, random_setting, written

from casewright.design.assembly import MotionKind, PieceDesign
from casewright.design.features.holes import Hole
from casewright.design.features.shaping import EndCut
from casewright.design.parts import Part
from casewright.design.printed_sizes import printed_sizes
from casewright.packet.pages.setting import PaperName, Setting
from casewright.stock.model import Hinge
from casewright.units import LengthStyle, Role, format_length

BOTH: list[tuple[str, PaperName]] = [("in", "letter"), ("mm", "a4")]
SHARE = 6  # of the laws' random orders one in so many is printed


@pytest.fixture(scope="module")
def settings(variants: int) -> list[tuple[Setting, str]]:
    """The demonstration order in both systems, and random orders: setting and everything that the PDF says."""
    shown = [(demo.setting(*given), " ".join(demo.texts(demo.pdf(*given)))) for given in BOTH]
    seeds = range(9_000, 9_000 + max(1, variants // SHARE))
    return shown + [(random_setting(seed), written(seed)) for seed in seeds]


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
            row = re.search(rf"(?<!\S){mark} {n} (?!×).{{3,140}}?(?={'|'.join(map(re.escape, sizes[mark]))})", text)
            assert row, (setting.project.order.title, mark, n, sizes[mark])


def test_openings_fronts_gaps_and_shims(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        unit = setting.printer.unit
        for piece in setting.pieces:
            printed = {
                name: p.text.removesuffix(f" {unit}") for name, p in printed_sizes(piece, setting.printer.style).items()
            }
            chains = {c.id: c for c in piece.chains}
            for motion in piece.motions:
                group = motion.id.rpartition(".")[0]
                x, z = chains[f"{group}.chain.x"], chains[f"{group}.chain.z"]
                assert f"opening, width × height {printed[x.total.name]} × {printed[z.total.name]} {unit}" in text
                front, gap = x.items[1], x.items[0]
                name = "front" if motion.kind is MotionKind.SLIDE else "door"
                assert f"{name} {printed[front.name]} × {printed[z.items[1].name]} {unit}" in text
                # The gap again by hand: half of what the front leaves of the opening; one shim is 0.3 mm.
                left = (x.total.value - front.value) / 2
                assert left == pytest.approx(gap.value, abs=1e-3)
                mm = f"{left:.2f}".rstrip("0").rstrip(".")
                length = (
                    f"{mm} mm"
                    if unit == "mm"
                    else rf"{format_length(left, Role.FREE, setting.printer.style)} \({mm} mm\)"
                )
                assert re.search(rf"gap left and right {length} each, {round(left / 0.3)} shims", text), (group, left)


def test_hinge_sides_and_pulls_are_those_of_the_model(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        for piece, shown in zip(setting.pieces, context(setting, "openings").pieces, strict=True):
            hinges = [p for p in piece.placed if isinstance(setting.project.stock.get(_item(p)), Hinge)]
            doors = [o for o in shown.openings if o.title.startswith("Door")]
            side = "left" if hinges[0].frame.origin[0] < 0 else "right"
            assert [dict(o.facts)["hinged"].split(",")[0] for o in doors] == [f"on the {side}"]
            leaves = {p.path.partition("hinge[")[2][0] for p in hinges}
            assert sum(what.startswith("hinge ") for o in doors for what, _ in o.facts) == len(leaves)
            for o in shown.openings:
                pull = dict(o.facts)["pull, to its middle"]
                assert demo.plain(pull) in text


def _item(placed: object) -> str:
    return getattr(getattr(placed, "thing", None), "item", "")


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
            assert first in text, first
            assert all(demo.plain(hole) in text for hole in line.holes), line.holes
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
                        depth = bare(f.depth, setting.printer.style)
                        assert f"× {depth} deep" in said, (placed.path, f)


def test_mouldings_have_case_line_and_long_point(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        style = setting.printer.style
        profiles = context(setting, "mouldings").profiles
        lines = {line.mark: line for profile in profiles for line in profile.lines}
        for piece in setting.pieces:
            sizes = {s.name: s.value for s in piece.sizes}
            for placed in piece.placed:
                mark = setting.project.mark_of(placed)
                if mark is None or not any(isinstance(f, EndCut) for f in placed.part.features):
                    continue
                line = lines[mark.label]
                assert line.long_point == bare(placed.part.blank.length, style)
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
                for word in brings.partition(";")[0].split(", "):
                    label, _, times = word.partition(" ×")
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
        out.append((piece, [(s.number, f"{s.number} {s.text}", s.brings) for s in shown.steps]))
        if shown.mirror:
            twin = setting.project.assembly.pieces[mirrors[piece.path]]
            assert twin.title == shown.mirror
            out.append((twin, [(s.number, s.mirrored or s.text, s.mirror_brings or s.brings) for s in shown.steps]))
    return out


def test_diagonals_are_those_of_the_rectangles(settings: list[tuple[Setting, str]]) -> None:
    for setting, _ in settings:
        for piece, shown in zip(setting.shown_whole, context(setting, "assembling").pieces, strict=True):
            notes = " ".join(note for step in shown.steps for note in step.notes)
            for width, height in rectangles(piece):
                assert (
                    f"Both diagonals {format_length(math.hypot(width, height), Role.FREE, setting.printer.style)}."
                    in notes
                )


def rectangles(piece: PieceDesign) -> list[tuple[float, float]]:
    """Face frame, case, drawer box and door by their ledger sizes."""
    s = {size.name: size.value for size in piece.sizes}
    group = [m.id.rpartition("/")[2].rpartition(".")[0] for m in piece.motions]
    drawer, door = (next(g for g in group if g.startswith(kind)) for kind in ("drawer", "door"))
    return [
        (s["body.width"], s["stile.length"]),
        (s["body.width"], s["side.length"]),
        (s[f"{drawer}.box.width"], s[f"{drawer}.box.depth"]),
        (s[f"{door}.width"], s[f"{door}.height"]),
    ]


@pytest.mark.parametrize(("system", "paper"), BOTH)
def test_every_text_of_every_drawing_is_on_the_page(system: str, paper: PaperName) -> None:
    text = " ".join(demo.texts(demo.pdf(system, paper)))
    for name, made in demo.contexts(system, paper):
        for drawing in drawings_in(made):
            # A page sets "2-1/2" as a whole number and a true fraction.
            said = [re.sub(r"(\d)-(\d+/\d)", r"\1 \2", demo.plain(t.text).strip()) for t in drawing.texts]
            missing = [t for t in said if t not in text]
            assert not missing, (name, drawing.alt, missing)
