"""Doors of whole cases: knife hinges as ordered, bolts over a floor that lies lower than the opening."""

from __future__ import annotations

import pytest
from tests.design.test_case_backs import loud
from tests.design.test_cases import SHOP, box, built, case

from casewright.design.assembly import StepKind
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import HingeMortise
from casewright.design.features.holes import Hole
from casewright.design.paths import own_path
from casewright.stock.reading import load_stock

SIZE = "width = 900\ndepth = 420\nheight = 900\n"
KNIVES = {
    "framed": f'{SIZE}bays = {{ columns = ["door", "door"] }}\nfronts = {{ hinge = "knife" }}\n',
    "framed rows": 'width = 900\ndepth = 420\nheight = 1250\nfronts = { hinge = "knife", door = "solid panel" }\n'
    'bays = { columns = [{ rows = ["drawer", "door"] }, { rows = ["open", "pair"] }] }\n',
    "frameless": f'front = "frameless"\n{SIZE}bays = {{ columns = ["door", "pair"] }}\n'
    'fronts = { hinge = "knife", meeting = "astragal" }\n',
    "posts": f'{SIZE}bays = "pair"\nstand = {{ kind = "posts" }}\nfronts = {{ hinge = "knife", door = "glass" }}\n',
}


@pytest.mark.parametrize("what", KNIVES)
def test_doors_hang_on_knife_hinges(what: str) -> None:
    """Two leaves let into the ends of each door, two into what lies above and below it; all checks are quiet."""
    project = case(KNIVES[what])
    piece = built(project)
    assert not loud(project)
    doors = len(piece.motions) - sum("drawer" in m.id for m in piece.motions)
    leaves = [p for p in piece.placed if ".knife." in p.path or "/knife." in p.path]
    assert len(leaves) == 4 * doors
    beds = [f for p in piece.placed if hasattr(p.thing, "features") for f in p.part.features]
    knife = load_stock().knife_hinges["knife-straight-41"]
    deep = {round(f.depth, 3) for f in beds if isinstance(f, HingeMortise)}
    assert all(0 < d <= knife.leaf_thickness for d in deep)
    assert not [p for p in piece.placed if ".hinge[" in p.path]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (f'front = "frameless"\n{SIZE}bays = "door"\nfronts = {{ hinge = "knife", mount = "overlay" }}', "overlay"),
        (f'{SIZE}bays = "door"\nfronts = {{ hinge = "knife", door = "slab" }}', "sheet"),
    ],
)
def test_knife_hinges_want_an_inset_door_with_solid_ends(text: str, code: str) -> None:
    assert {f.code for f in case(text).assembly.pieces[0].findings if f.stops} == {f"door.hinge_{code}"}


def test_a_bolt_over_a_low_floor_shoots_into_a_block() -> None:
    """A shop may lay the bottom a little below the edge of the rail before it, which then forms a lip."""
    project = case(f'{SIZE}bottom_rail_visible = 90\nbays = "pair"\n', '[practice]\n"case.bottom_step" = "6 mm"\n')
    piece = built(project)
    assert not loud(project)
    floor, rail = box(piece, "bottom")[1][2], box(piece, "frame/rail.bottom")[1][2]
    assert rail - floor == pytest.approx(6.0)
    name = next(p.path for p in piece.placed if p.path.endswith(".bolt_block")).removeprefix("case/")
    low, high = box(piece, name)
    assert (low[2], high[2]) == (pytest.approx(floor), pytest.approx(rail))
    assert [f for f in piece.by_path()[f"case/{name}"].part.features if isinstance(f, Hole)]


def test_what_is_set_to_the_hung_door_is_bored_for_then() -> None:
    """Stop and catch are moved until the door lies flush and shuts, a rod marks its own hole (common practice)."""
    piece = built(case(f'{SIZE}bays = "pair"\n'))
    set_late = {j.id: j.b for j in piece.joints if ".stop~" in j.id or ".catch~" in j.id}
    assert len(set_late) == 2
    set_late |= {j.id: j.a for j in piece.joints if ".bolt." in j.id}  # and where the rod of a bolt meets the case
    drilled = [step.text for step in piece.steps if step.kind is StepKind.DRILL and "rod" in step.text]
    holes = [joint for joint in set_late if ".bolt." in joint and not joint.endswith(".rod")]
    assert len(drilled) == len(holes) > 0, "through a block and on into the floor it is one hole"
    for joint, host in set_late.items():
        bores = [f for f in piece.by_path()[host].part.features if own_path(f.joint, piece.path) == joint]
        assert bores
        assert {f.made_at for f in bores} == {MadeAt.ASSEMBLY}, joint


@pytest.mark.parametrize("shelves", [1, 2, 3])
def test_shelves_pass_the_blocks_that_hinges_stand_on(shelves: int) -> None:
    """Behind a face frame a block brings the plate flush with the opening: no whole shelf lies at its height."""
    text = (
        "width = 900\ndepth = 420\nheight = 1500\n"
        f'bays = {{ columns = [{{ holds = "door", shelves = {shelves} }}, "open"] }}\n'
        'fronts = { hinge = "cup" }\ntop = { kind = "between" }\n'
    )
    project = case(text)
    assert not [f for f in project.piece_findings if f.stops]
    piece = built(project)
    blocks = [p.path for p in piece.placed if p.path.endswith(".block")]
    assert blocks
    boards = [box(piece, f"loose[c1,r1]/{i}/board") for i in range(1, shelves + 1)]
    for path in blocks:
        low, high = box(piece, path.removeprefix("case/"))
        assert all(b[1][2] <= low[2] or b[0][2] >= high[2] for b in boards)


def test_blocks_of_cup_hinges_on_both_faces_of_a_divider_have_screws_beside_each_other() -> None:
    """Two doors hang on one divider behind a face frame, hinges at one height: no screw meets another (all checks)."""
    doors = '{ holds = "door", hinged = "right" }, { holds = "door", hinged = "left" }'
    project = case(
        f"width = 900\ndepth = 500\nheight = 800\ncentre_stile = 51\nbays = {{ columns = [{doors}] }}\n"
        'fronts = { mount = "inset", door = "slab" }\nroles = { door_slab = "birch-plywood-18" }\n'
    )
    piece = built(project)
    assert not [f for f in project.piece_findings if f.stops]
    screws = [f for f in piece.fasteners if ".block~wall" in f.joint and "case/divider[u1]" in f.parts]
    assert len(screws) == 2 * 4
    assert len({round(f.frame.origin[1], 3) for f in screws}) == 2


def test_bolts_of_pairs_over_and_under_one_thin_shelf_do_not_meet_in_it() -> None:
    """A shelf of 17.2 mm between two inset pairs: the rods end apart in it (all checks)."""
    project = case(
        'width = 800\ndepth = 420\nheight = 1400\nfront = "frameless"\nbays = { rows = ["pair", "pair"] }\n'
        'top = { kind = "between" }\nfronts = { mount = "inset", meeting = "astragal" }\n',
        shop=SHOP + "[measured]\nbirch-plywood-18 = 17.2\n",
    )
    assert not [f for f in project.piece_findings if f.stops]
    bores = [
        (p.path, f.depth)
        for p in built(project).placed
        if "/shelf[" in p.path
        for f in p.part.features
        if isinstance(f, Hole) and ".bolt." in f.joint
    ]
    assert len(bores) == 2
    assert sum(depth for _, depth in bores) < 17.2
