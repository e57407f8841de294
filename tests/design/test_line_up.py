"""Cases of a set line up: pulls of rows that match and mouldings come to one height, or a finding says what does not.

Held to what a client sees who walks along the pieces: heights over the floor, measured on the parts.
"""

from __future__ import annotations

import pytest
from tests.design.test_cases import HEAD, SHOP
from tests.laws.orders import project_of

from casewright.design.assembly import PieceDesign
from casewright.design.sites import world_box
from casewright.findings import Finding

LINE_UP = "[style]\nline_up = true\n"
THREE = '{ rows = ["drawer", "drawer", "drawer"] }'
SEEN = 0.5  # mm: less than that the eye does not see


def case_of(name: str, bays: str, more: str = "", height: int = 800) -> str:
    size = f"width = 600\ndepth = 420\nheight = {height}\n"
    return f'[[piece]]\nkind = "case"\nname = "{name}"\n{size}bays = {bays}\n{more}\n'


def set_of(*cases: str, style: str = LINE_UP) -> dict[str, PieceDesign]:
    return {p.path: p for p in project_of(HEAD + style + "".join(cases), SHOP).assembly.pieces}


def pulls(piece: PieceDesign) -> list[float]:
    return sorted(p.frame.origin[2] for p in piece.placed if p.path.rpartition("/")[2].startswith("pull"))


def off_line(pieces: dict[str, PieceDesign]) -> list[Finding]:
    return [f for p in pieces.values() for f in p.findings if f.code == "style.line_up"]


def edges(piece: PieceDesign, moulding: str) -> tuple[float, float]:
    boxes = [world_box(p) for p in piece.placed if f"/{moulding}/" in p.path]
    return min(lo[2] for lo, _ in boxes), max(hi[2] for _, hi in boxes)


INSET = case_of("a-inset", THREE, 'fronts = { drawer = "slab" }')
OVERLAY = case_of("b-overlay", THREE, 'fronts = { drawer = "slab", mount = "overlay" }')


@pytest.mark.parametrize("order", [(INSET, OVERLAY), (OVERLAY, INSET)])
def test_pulls_of_rows_that_match_stand_at_one_height(order: tuple[str, str]) -> None:
    apart, level = set_of(*order, style=""), set_of(*order)
    steps = [abs(a - b) for a, b in zip(*(pulls(p) for p in apart.values()), strict=True)]
    assert max(steps) > SEEN, "an overlay front laps over more above than below: the middle of the first is off"
    first, second = (pulls(p) for p in level.values())
    assert first == pytest.approx(second, abs=SEEN)
    assert not off_line(level)
    assert all(p.placed for p in level.values())


def test_a_pull_in_the_middle_of_its_frame_stays_there_and_is_found() -> None:
    framed = case_of("b-framed", THREE, 'fronts = { drawer = "panel", mount = "overlay" }')
    assert not off_line(set_of(case_of("c-slab", THREE, 'fronts = { drawer = "slab" }'), framed)), "slabs follow it"
    for more in range(1, 7):  # whichever comes first by their keys, the one whose pulls cannot move leads
        slab = case_of("c-slab", THREE, 'fronts = { drawer = "slab" }').replace("depth = 420", f"depth = {420 + more}")
        assert not off_line(set_of(slab, framed)), more
    found = off_line(set_of(case_of("c-inset", THREE, 'fronts = { drawer = "panel" }'), framed))
    (name,) = {f.path.partition("/")[0] for f in found}  # both stay: whichever does not lead is off
    assert [f.path for f in found] == [f"{name}/drawer[c1,r1]/face/pull", f"{name}/drawer[c1,r3]/face/pull"]
    assert all(f.value is not None and f.value > SEEN and "pull" in f.message for f in found)


def test_pulls_line_up_in_rows_of_cases_of_two_heights() -> None:
    low = case_of("low", THREE, 'fronts = { drawer = "slab" }')
    tall = case_of(
        "tall", '{ rows = ["door", { holds = "drawer", size = 190 }] }', 'fronts = { mount = "overlay" }', 1500
    )
    level = set_of(low, tall)
    lowest = [pulls(p)[0] for p in level.values()]
    assert lowest[0] == pytest.approx(lowest[1], abs=SEEN)
    assert pulls(set_of(low, tall, style="")["tall"])[0] != pytest.approx(lowest[0], abs=SEEN)


def test_pulls_of_doors_follow_a_door_beside_them() -> None:
    rows = f'{{ rows = [{{ holds = "drawer", size = 200 }}, "door"] }}, {THREE}'
    lead = case_of("a", f"{{ columns = [{rows}] }}")
    own = case_of("b", '{ rows = [{ holds = "drawer", size = 180 }, "door"] }')
    level = set_of(lead, own)
    door = {
        name: [p.frame.origin[2] for p in piece.placed if "/door[" in p.path and p.path.endswith("/pull")]
        for name, piece in level.items()
    }
    assert door["a"] == pytest.approx(door["b"], abs=SEEN)
    found = [f.path for f in off_line(level)]
    assert "b/bays[all]" in found, "the rail with a size of its own is found"
    assert not [path for path in found if "door" in path]


FEET = 'base = true\nbottom_rail_visible = 60\nstand = {{ kind = "feet"{} }}'


def test_a_base_moulding_follows_on_a_stand_whose_height_is_left_open() -> None:
    says, open_, other = (case_of(n, THREE, FEET.format(h), 800 + 50 * i) for i, (n, h) in enumerate(
        (("says", ", height = 110"), ("open", ""), ("other", ", height = 140"))))  # fmt: skip
    level = set_of(says, open_)
    assert edges(level["says"], "base") == pytest.approx(edges(level["open"], "base"), abs=SEEN)
    assert edges(set_of(says, open_, style="")["open"], "base")[0] == pytest.approx(127.0, abs=SEEN), "the usual 5 in"
    assert not off_line(level)
    found = off_line(set_of(says, other))
    assert [f.path.partition("/")[2] for f in found] == ["base"]
    assert found[0].value == pytest.approx(30.0, abs=SEEN)


def test_a_crown_follows_under_a_top_whose_thickness_is_left_open() -> None:
    thick = "crown = true\ntop = {{ {} }}"
    says, open_, other = (case_of(n, THREE, thick.format(t)) for n, t in (
        ("says", "thickness = 20"), ("open", ""), ("other", "thickness = 22")))  # fmt: skip
    level = set_of(says, open_)
    assert edges(level["says"], "crown") == pytest.approx(edges(level["open"], "crown"), abs=SEEN)
    apart = set_of(says, open_, style="")
    assert edges(apart["says"], "crown")[1] - edges(apart["open"], "crown")[1] > SEEN
    assert not off_line(level)
    assert [f.value for f in off_line(set_of(says, other)) if "crown" in f.message] == [pytest.approx(2.0, abs=SEEN)]
