"""The opening schedule, read back from the PDF and compared with the model: openings, fronts, gaps, slides, hinges.

On the orders of `test_reading_back.py`; fronts and gaps are worked out from the parts as they stand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

import pytest
from tests.design.test_cases import built, case
from tests.packet import demo
from tests.packet.reading import (
    context,
)

from casewright.cache import Cache
from casewright.design.assembly import MotionKind, PieceDesign
from casewright.design.parts import Part
from casewright.design.printed_sizes import printed_sizes
from casewright.packet.openings import openings
from casewright.packet.pages.setting import Setting, unframed_setting
from casewright.packet.part_sizes import cut_sizes
from casewright.solids.collide import placed_boxes
from casewright.stock.fittings import CupHinge, KnifeHinge, UnderSlide
from casewright.stock.model import Hinge, Slide

HINGES = (Hinge, CupHinge, KnifeHinge)


@dataclass
class ShownOpening:
    """A drawer or door of the schedule and its group in the piece."""

    kind: str
    name: str
    group: str
    facts: dict[str, str]


def opening_lines(setting: Setting, piece: PieceDesign) -> list[ShownOpening]:
    """The lines of a piece, by the place in the title: "Door in column 1, row 1, left"."""
    found = [p for p in context(setting, "openings").pieces if p.titles == piece.title]
    out = []
    for motion in piece.motions if found else ():
        group = motion.id.rpartition(".")[0]
        if group.endswith("/lid"):
            continue
        kind = "Drawer" if motion.kind is MotionKind.SLIDE else "Door"
        cell = re.search(r"\[c([\d.]+),r([\d.]+)\](?:\.(\w+))?", group)
        for line in found[0].openings:
            if cell is None or line.title == f"{kind} in column {cell[1]}, row {cell[2]}" + (
                f", {cell[3]}" if cell[3] else ""
            ):
                out.append(ShownOpening(kind, line.title, group, dict(line.facts)))
    return out


def front_size(piece: PieceDesign, group: str) -> tuple[float, float]:
    """Width and height of a drawer's front, or of a door's leaf without the strip that covers the gap to the other.

    A box on under-mount slides may be wider than its front, and an astragal reaches behind the other leaf.
    """
    face = f"{group}/face/" if any(p.path.startswith(f"{group}/face/") for p in piece.placed) else f"{group}/"
    parts = tuple(
        p
        for p in piece.placed
        if p.path.startswith(face) and isinstance(p.thing, Part) and not p.path.endswith("/astragal")
    )
    boxes = placed_boxes(parts, Cache())
    x, _, z = (boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0)).tolist()
    return x, z


def millimetres(text: str, unit: str) -> float:
    """A printed size as mm: "19 9/16" in is 496.9."""
    return float(sum(Fraction(word) for word in text.split())) * (25.4 if unit == "in" else 1.0)


def pair_of(text: str) -> tuple[float, float]:
    """ "19 9/16 × 19 11/16 in" as mm."""
    size, unit = text.partition(";")[0].rsplit(" ", 1)  # "…; no rail between" may follow
    one, two = size.split(" × ")
    return millimetres(one, unit), millimetres(two, unit)


def edges_of(facts: dict[str, str]) -> tuple[float, float, float, float]:
    """By how much a front is larger than its opening on the left, right, below and above: gaps count less than 0."""
    found: dict[str, float] = {}
    for what, value in facts.items():
        if (kind := what.partition(" ")[0]) in ("gap", "laps"):
            mm = re.search(r"([\d.]+) mm", value)
            assert mm, value
            if kind == "gap":
                count = re.search(r"(\d+) shims", value)
                assert count, value
                assert int(count[1]) == max(1, int(float(mm[1]) / 0.3 + 1e-6)), value  # one shim is 0.3 mm
            for side in what.split(" ")[1::2]:
                found[side] = float(mm[1]) * (1.0 if kind == "laps" else -1.0)
    return found["left"], found["right"], found["below"], found["above"]


def test_lids_have_their_sizes_hinges_and_stays(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        fine = 0.51 if setting.printer.unit == "mm" else 25.4 / 31
        for piece in setting.pieces:
            lids = [m for m in piece.motions if m.id.endswith("lid.swing")]
            found = [p for p in context(setting, "openings").pieces if p.titles == piece.title]
            shown = [line for p in found for line in p.openings if line.title == "Lid"]
            assert len(shown) == len(lids)
            for line, motion in zip(shown, lids, strict=True):
                group, facts = motion.id.rpartition(".")[0], dict(line.facts)
                assert all(demo.as_set(value) in text for value in facts.values())
                boxes = {p.path: b for p, b in zip(piece.placed, placed_boxes(piece.placed, Cache()), strict=True)}
                panel, strip = boxes[f"{group}/panel"], boxes[f"{group}_strip"]
                size = facts["lid, length × width × thickness"].rpartition(" ")[0].split(" × ")
                for axis, said in enumerate(size):
                    is_so = pytest.approx(float(panel[3 + axis] - panel[axis]), abs=fine)
                    assert millimetres(said, setting.printer.unit) == is_so
                gap = re.search(r"([\d.]+) mm", facts["gap between them"])
                assert gap
                assert float(gap[1]) == pytest.approx(float(strip[1] - panel[4]), abs=0.01)
                leaves = [p for p in piece.placed if p.path.startswith(f"{group}/hinge[")]
                assert sum(what.startswith("hinge ") for what in facts) == len(leaves)
                assert facts["hinged"] == f"at the back; opens {motion.reach:.0f}°"


def test_every_drawer_says_its_slide(settings: list[tuple[Setting, str]]) -> None:
    for setting, _ in settings:
        for piece in setting.pieces:
            for o in opening_lines(setting, piece):
                own = [p for p in piece.placed if p.path.startswith((f"{o.group}/", f"{o.group}."))]
                items = [setting.project.stock.get(_item(p)) for p in own]
                slides = {i.name for i in items if isinstance(i, Slide | UnderSlide)}
                assert {value.partition(";")[0] for what, value in o.facts.items() if what == "slide"} == slides


def test_openings_fronts_gaps_and_laps_are_those_of_the_parts(settings: list[tuple[Setting, str]]) -> None:
    """Fronts as their parts stand in the piece; opening, gaps and laps must add up to them."""
    for setting, text in settings:
        for piece in setting.pieces:
            shown = {f"{o.kind} {o.name}": o for o in opening_lines(setting, piece)}
            assert len(shown) == sum(not m.id.endswith("lid.swing") for m in piece.motions), (piece.path, list(shown))
            for line in shown.values():
                for what, value in line.facts.items():
                    assert demo.as_set(value) in text, (line.name, what, value)
                width, height = front_size(piece, line.group)
                front = line.facts["front" if line.kind == "Drawer" else "door"]
                fine = 0.51 if setting.printer.unit == "mm" else 25.4 / 31  # a size may be rounded down to its division
                assert pair_of(front) == pytest.approx((width, height), abs=fine), (line.group, front)
                opening = pair_of(line.facts["opening, width × height"])
                left, right, below, above = edges_of(line.facts)
                assert opening[1] + below + above == pytest.approx(height, abs=fine), line.group
                leaves = [o for o in shown.values() if o.group.rpartition("].")[0] == line.group.rpartition("].")[0]]
                if line.group.endswith((".left", ".right")):
                    one, two = (front_size(piece, o.group)[0] for o in leaves)
                    outer = edges_of(leaves[0].facts)[0] + edges_of(leaves[1].facts)[1]
                    assert opening[0] + outer + edges_of(leaves[0].facts)[1] == pytest.approx(one + two, abs=fine)
                else:
                    assert opening[0] + left + right == pytest.approx(width, abs=fine), line.group


def test_a_front_has_one_size_on_all_pages(settings: list[tuple[Setting, str]]) -> None:
    """A slab's finished size, a framed door's stiles: as the opening schedule prints the front, so the parts list."""
    for setting, _ in settings:
        rows = {row.mark: row for row in setting.rows}
        for piece in setting.pieces:
            marks = setting.marks_of(piece)
            for line in opening_lines(setting, piece):
                front = line.facts["front" if line.kind == "Drawer" else "door"]
                shown = set(front.removesuffix(f" {setting.printer.unit}").split(" × "))
                for end in ("/slab", "/face/front"):
                    if f"{line.group}{end}" in marks:
                        row = rows[marks[f"{line.group}{end}"]]
                        assert shown == {setting.printer.printed(s) for s in row.finished_printed[:2]}, line.group
                if f"{line.group}/stile.left" in marks:
                    row = rows[marks[f"{line.group}/stile.left"]]
                    assert front.endswith(f"× {setting.printer.printed(row.printed[0])} {setting.printer.unit}")


def test_hinge_sides_and_pulls_are_those_of_the_model(settings: list[tuple[Setting, str]]) -> None:
    for setting, text in settings:
        for piece in setting.pieces:
            for o in opening_lines(setting, piece):
                for what, value in o.facts.items():
                    if what.startswith("pull"):
                        assert demo.as_set(value) in text
                hinges = [
                    p for p in piece.placed
                    if p.path.startswith(f"{o.group}/") and isinstance(setting.project.stock.get(_item(p)), HINGES)
                ]  # fmt: skip
                if o.kind == "Drawer" or not hinges:
                    continue
                x = [p.frame.origin[0] for p in hinges]
                middle = placed_boxes(tuple(p for p in piece.placed if p.path.startswith(f"{o.group}/")), Cache())
                low, high = float(middle[:, 0].min()), float(middle[:, 3].max())
                side = "left" if sum(x) / len(x) < (low + high) / 2 else "right"
                assert o.facts["hinged"].split(",")[0] == f"on the {side}", o.group
                listed = [value for what, value in o.facts.items() if what.startswith("hinge ")]
                if not any(isinstance(setting.project.stock.get(_item(p)), KnifeHinge) for p in hinges):
                    assert len(listed) == len({round(p.frame.origin[2], 1) for p in hinges}), o.group


def _item(placed: object) -> str:
    return getattr(getattr(placed, "thing", None), "item", "")


@pytest.mark.parametrize("height", [900, 905, 911])  # one of which falls between two divisions the wrong way
def test_a_leaf_is_as_high_in_the_opening_schedule_as_its_stiles_in_the_parts_list(height: int) -> None:
    """The leaves of an overlay pair were printed as the opening with its laps, their stiles 1/32 in shorter."""
    text = f'front = "frameless"\nwidth = 800\ndepth = 600\nheight = {height}\nbays = "pair"\n'
    project = case(text + 'fronts = { mount = "overlay", door = "sheet panel" }\n')
    setting = unframed_setting(project, "letter")
    piece = built(project)
    printed = printed_sizes(piece, setting.printer.style)
    for o in openings(project, piece):
        stile = next(p for p in piece.placed if p.path == f"{o.group}/stile.left")
        cut = cut_sizes(stile, piece, printed, setting.printer.style)[0]
        assert printed[o.front_sizes[1]].text == cut.text
