"""Pulls have room: their base on the front, their bolts off everything that they do not go through."""

from __future__ import annotations

import pytest
from tests.design.test_cases import case

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Hardware
from casewright.design.sites import world_box
from casewright.stock import load_stock
from casewright.stock.model import Pull

PULLS = {i.id: i for i in load_stock().items.values() if isinstance(i, Pull)}


def narrow(width: float, drawer: str, pull: str, pulls: str = "") -> PieceDesign:
    """Return a case with one narrow drawer beside two wide ones."""
    (piece,) = case(
        'width = 900\ndepth = 450\nheight = 700\nfront = "frameless"\n'
        f'bays = {{ columns = [{{ holds = "drawer", size = {width} }}, {{ rows = ["drawer", "drawer"] }}] }}\n'
        f'fronts = {{ mount = "inset", drawer = "{drawer}"{pulls} }}\n'
        f'roles = {{ drawer_pull = {pull}, drawer_front = "mdf-19" }}\n'
    ).assembly.pieces
    return piece


def stops(piece: PieceDesign) -> set[str]:
    return {f.code for f in piece.findings if f.stops}


def pulls_of(piece: PieceDesign, cell: str = "c1,r1") -> list[str]:
    """Return the pulls of a drawer."""
    there = [p.thing for p in piece.placed if f"[{cell}]/face/pull" in p.path]
    return [thing.item for thing in there if isinstance(thing, Hardware)]


@pytest.mark.parametrize("drawer", ["slab", "panel", "applied frame"])
@pytest.mark.parametrize("width", [150, 200, 220, 280])
def test_bolts_of_a_wide_pull_meet_neither_stiles_nor_sides(width: int, drawer: str) -> None:
    """By the boxes of the parts: bolts at 128 mm centres have a driver's 12 mm to the sides, or the pull is refused."""
    piece = narrow(width, drawer, '"pull-128"')
    if not piece.placed:
        assert stops(piece) == {"drawer.pull_field"}
        assert width < 280, "between sides and members of 57 mm at most are 166 mm: its base has 138"
        return
    assert width >= 220, "a box of 200 mm less slides and sides is 150 wide inside: 128 and two drivers are 152"
    bolts = [f.frame.origin[0] for f in piece.fasteners if "[c1,r1]/face/pull" in f.path]
    assert bolts[1] - bolts[0] == pytest.approx(PULLS["pull-128"].centres)
    parts = piece.by_path()
    for name, room in (("side", 12.0), ("face/stile", 2.0), ("face/applied", 2.0)):
        left, right = (parts.get(f"case/drawer[c1,r1]/{name}.{hand}") for hand in ("left", "right"))
        if left is not None and right is not None:
            assert world_box(left)[1][0] + room - 1e-6 <= bolts[0]
            assert bolts[1] <= world_box(right)[0][0] - room + 1e-6


def test_the_first_pull_of_the_role_with_room_is_taken() -> None:
    piece = narrow(180, "panel", '["pull-128", "knob-30"]')
    assert pulls_of(piece) == ["knob-30"]
    assert set(pulls_of(piece, "c2,r1")) == {"pull-128"}


@pytest.mark.parametrize(("width", "count"), [(280, 0), (420, 2)])
def test_two_pulls_stand_side_by_side_or_are_refused(width: int, count: int) -> None:
    """Two of 106 mm, hands apart, and room for drivers: 280 mm of front are too few, 420 enough."""
    piece = narrow(width, "slab", '"pull-96"', ", pulls = 2")
    assert pulls_of(piece) == ["pull-96"] * count
    assert stops(piece) == (set() if count else {"drawer.pull_field"})


@pytest.mark.parametrize("mount", ["inset", "overlay"])
@pytest.mark.parametrize(
    ("height", "pull", "fits"), [(260, "pull-320", False), (260, "pull-128", True), (400, "pull-320", True)]
)
def test_an_upright_pull_stays_on_its_door(height: int, pull: str, fits: bool, mount: str) -> None:
    project = case(
        'width = 600\ndepth = 450\nheight = 700\nfront = "frame"\n'
        f'bays = {{ rows = [{{ holds = "door", size = {height} }}, "open"] }}\n'
        f'fronts = {{ mount = "{mount}" }}\nroles = {{ door_pull = "{pull}" }}\n'
    )
    (piece,) = project.assembly.pieces
    assert {f.code for f in project.piece_findings if f.stops} == (set() if fits else {"door.pull_long"})
    if fits:
        knob, stile = (piece.by_path()[f"case/door[c1,r1]/{name}"] for name in ("pull", "stile.left"))
        (_, _, low), (_, _, high) = world_box(stile)
        half, z = PULLS[pull].base_width / 2, knob.frame.origin[2]
        assert low <= z - half
        assert z + half <= high
