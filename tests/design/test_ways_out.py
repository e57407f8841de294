"""Pieces that a maker would build in another way than the first that comes to mind: the design finds that way.

Each order was refused, or stopped by a check, before the design knew the way out (docs/reading-of-stops.md). A piece is
held to what a maker measures on it, and to every check.
"""

from __future__ import annotations

import pytest
from tests.design.test_cases import HEAD, SHOP, box, built, case
from tests.laws.orders import project_of

from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.features.openings import Slot
from casewright.design.sites import world_box
from casewright.project import Project
from casewright.stock.reading import load_stock

STOCK = load_stock()
SIZE = "width = 600\ndepth = 420\nheight = 800\n"
CHERRY = 'roles = { case = "cherry-4/4", shelf = "cherry-4/4" }\n'
CLIMATE = "[room]\nhumidity_low = 24\nhumidity_high = 64\nhumidity_fitting = 52\n"


def sound(project: Project) -> PieceDesign:
    """Return the left piece of a project that neither its design nor any check stops."""
    assert not [f"{f.code} {f.path} {f.message}" for f in project.piece_findings if f.stops]
    return built(project)


def fasteners(piece: PieceDesign, joint: str) -> list[tuple[float, float, float]]:
    return [f.frame.origin for f in piece.fasteners if f.joint == f"case/{joint}"]


def test_a_low_floor_is_packed_up_for_stop_catch_and_bolts() -> None:
    text = (
        'width = 920\ndepth = 480\nheight = 900\nbottom_rail_visible = 47\nbays = "pair"\ntop = { kind = "between" }\n'
        'stand = { kind = "plinth", height = 105 }\nfronts = { door = "glass" }\n'
    )
    piece = sound(case(text))
    packing, rail, door = box(piece, "door[c1,r1].packing"), box(piece, "frame/rail.bottom"), "door[c1,r1].left/"
    assert packing[0][2] == box(piece, "bottom")[1][2] < rail[1][2] == packing[1][2]
    meets = box(piece, "door[c1,r1].left.stop")[1][2] - box(piece, f"{door}rail.bottom")[0][2]
    assert meets > 8.0, "the stop, not the air over it, is what the door closes against"
    assert min(z for _, _, z in fasteners(piece, "door[c1,r1].right/bolt.bottom~door[1]")) > rail[1][2]


def test_screws_of_stiles_over_and_under_one_rail_go_around_each_other() -> None:
    rows = '{ columns = ["open", "open"], size = 300 }, { columns = [{ holds = "open", size = 490.5 }, "open"] }'
    text = (
        "width = 1077\ndepth = 350\nheight = 900\nstile_width = 41.5\ncentre_stile = 57.5\ndrawer_rail = 26.5\n"
        f'bays = {{ rows = [{rows}] }}\ntop = {{ kind = "between" }}\n'
    )
    piece = sound(case(text))
    over, under = (fasteners(piece, f"frame/stile[u1,r{r}]~rail[r1]") for r in (1, 2))
    assert over
    assert under
    assert min(abs(a[0] - b[0]) for a in over for b in under) > 5.0, "shanks of 4 mm, and wood between them"


@pytest.mark.parametrize("front", ["frameless", "frame"])
def test_a_solid_fixed_panel_swells_upwards_from_its_lower_edge(front: str) -> None:
    text = f'front = "{front}"\nwidth = 900\ndepth = 420\nheight = 733\nbays = {{ columns = ["open", "closed"] }}\n'
    piece = sound(case(text + 'stand = { kind = "plinth", height = 96 }\n' + CHERRY, CLIMATE))
    panel, ceiling = box(piece, "closed[c2,r1]"), box(piece, "stretcher.front")[0][2]
    height = panel[1][2] - panel[0][2]
    # Wood Handbook table 13-5: black cherry, C_T 0.00248 per %; wood at 24, 64 and 52 % of humidity holds about 4.9,
    # 11.7 and 9.5 % of water (table 4-2, from memory).
    assert ceiling - panel[1][2] >= 0.00248 * (11.7 - 9.7) * height
    joints = {j.id.removeprefix("case/"): j for j in piece.joints if "/closed" in j.id}
    assert [i for i, j in joints.items() if j.glued and i.startswith("closed[c2,r1]~")] == ["closed[c2,r1]~bottom"]
    cleats = [p.part for p in piece.placed if ".cleat." in p.path]
    slots = [f for c in cleats for f in c.features if isinstance(f, Slot)]
    assert len(cleats) == 2
    assert len(slots) >= 4
    longest = max(max(f.outline.box[2] - f.outline.box[0], f.outline.box[3] - f.outline.box[1]) for f in slots)
    assert longest >= 4.2 + 0.00248 * (11.7 - 4.9) * height * 0.95, "a shank of #8, and what the panel moves"


def test_a_fixed_panel_between_corner_posts_is_screwed_to_them() -> None:
    text = 'width = 1060\ndepth = 340\nheight = 900\nbays = "closed"\nstand = { kind = "posts", height = 240 }\n'
    piece = sound(case(text + 'top = { kind = "between" }\n'))
    held = {j.id.partition("~")[2]: j.kind for j in piece.joints if j.id.startswith("case/closed[c1,r1]~")}
    posts = ("frame/stile.left", "frame/stile.right", "bottom")
    assert all(held[post] is JointKind.POCKET_SCREWS for post in posts)


@pytest.mark.parametrize(
    "text",
    [
        'front = "frameless"\nwidth = 431\ndepth = 448\nheight = 506\nbays = { columns = ["closed", "closed"] }\n'
        'top = { kind = "lid" }\nstand = { kind = "sides", height = 91, setback = 22.5 }\n',
        'width = 1320\ndepth = 505\nheight = 713\nbays = { columns = ["open", "closed", "open", "open"] }\n'
        'top = { kind = "panelled" }\nstand = { kind = "sides", height = 105 }\n',
        "width = 1007.5\ndepth = 416\nheight = 480\nstile_width = 44\ncentre_stile = 49.5\ntop_rail_visible = 43\n"
        'bays = { columns = ["drawer", "open"] }\ntop = { kind = "panelled" }\n'
        'fronts = { guide = "runner", mount = "half-overlay", drawer = "panel" }\n',
        'width = 708\ndepth = 380\nheight = 720\nbays = "closed"\ntop = { kind = "panelled" }\n',
    ],
    ids=["lid over a divider", "top beside a fixed panel", "top over a kicker", "panelled top over a closed bay"],
)  # fmt: skip
def test_a_driver_comes_to_every_screw_under_a_top_or_lid(text: str) -> None:
    sound(case(text, shop=f"{SHOP}[measured]\nbirch-plywood-18 = 17.3\n"))


def test_a_framed_front_whose_screws_no_driver_reaches_is_refused_by_the_design() -> None:
    text = (
        'front = "frameless"\nwidth = 508\ndepth = 492\nheight = 900\nbays = { rows = ["drawer", "drawer"] }\n'
        'fronts = { mount = "overlay", drawer = "panel", guide = "runner" }\nstand = { kind = "wall", height = 900 }\n'
        'top = { kind = "between" }\nroles = { case = "melamine-white-19mm", drawer_side = "birch-plywood-12" }\n'
    )
    stops = [f for f in case(text).assembly.pieces[0].findings if f.stops]
    assert {f.code for f in stops} == {"drawer.front_screws"}
    assert all(f.value is not None and f.limit is not None and f.value < f.limit for f in stops)


def test_hinges_move_to_the_ends_of_a_low_door() -> None:
    text = (
        'width = 500\ndepth = 420\nheight = 400\nbays = "door"\ntop = { kind = "between" }\nstand = { kind = "feet" }\n'
    )
    piece = sound(case(text + "fronts = { stile_width = 38 }\nbottom_rail_visible = 75\n"))
    door = box(piece, "door[c1,r1]/stile.left")
    heights = [p.frame.origin[2] for p in piece.placed if p.path.endswith(".frame_leaf")]
    half = STOCK.hinges["butt-51"].height / 2
    assert 167.0 <= door[1][2] - door[0][2] < 229.0
    assert len(heights) == 2
    assert 19.9 <= door[1][2] - max(heights) - half < 51.0, "as near to the end as it needs, and 20 mm at least"


@pytest.mark.parametrize("visible", [32, 38])
def test_two_dowels_stand_in_a_rail_from_32_mm_on(visible: int) -> None:
    rails = f'top_rail_visible = {visible}\nbottom_rail_visible = 60\njoints = {{ frame = "dowels" }}\n'
    piece = sound(case(f'{SIZE}bays = "open"\ntop = {{ kind = "between" }}\n{rails}'))
    heights = sorted(z for _, _, z in fasteners(piece, "frame/rail.top~stile.left"))
    dowel = next(f for f in piece.fasteners if f.joint == "case/frame/rail.top~stile.left")
    assert len(heights) == 2
    assert heights[1] - heights[0] >= 4 * dowel.shank_radius - 1e-6, "two diameters apart"


def test_what_is_screwed_down_from_above_passes_over_the_toe_board() -> None:
    text = 'front = "frameless"\nwidth = 555\ndepth = 580\nheight = 900\nbays = "door"\ntop = { kind = "between" }\n'
    stand = 'stand = { kind = "sides", height = 96, setback = 12, levelled = true }\n'
    piece = sound(case(text + stand + 'fronts = { hinge = "cup" }\n'))
    assert len(fasteners(piece, "door[c1,r1].stop~bottom")) == 2


def test_a_low_base_rail_takes_two_pockets() -> None:
    text = (
        '[[piece]]\nkind = "bedside"\nhanded = "left"\nwidth = 530\ndepth = 535\nheight = 769\nstile_width = 47.5\n'
        "bottom_rail_visible = 65\ncrown = false\nbase = false\n"
    )
    piece = sound(project_of(HEAD + text, SHOP))
    places = [f.frame.origin for f in piece.fasteners if f.joint.endswith("/base_rail~side.left")]
    assert len(places) == 2
    assert abs(places[0][2] - places[1][2]) >= 15.0


def test_the_panel_of_a_panelled_top_is_sheet_in_a_solid_case_too() -> None:
    text = f'{SIZE}bays = "open"\ntop = {{ kind = "panelled" }}\n'
    piece = sound(case(text + CHERRY))
    parts = {p.path: p.part.stock for p in piece.placed if p.path in ("case/top", "case/side.left")}
    assert parts == {"case/top": "birch-plywood-18", "case/side.left": "cherry-4/4"}


def test_a_short_screw_in_a_counterbore_holds_a_thick_strip() -> None:
    """Blocking of 23.9 mm on a side of 17.2: 1 1/4 in is too short by a hair, 1 1/2 in too long by one."""
    shop = SHOP + "[measured]\nbirch-plywood-18 = 17.2\n"
    text = (
        '[[piece]]\nkind = "bedside"\nhanded = "left"\nwidth = 480\ndepth = 500\nheight = 722\nbase = false\n'
        'stile_width = "26/16 in"\nbottom_rail_visible = 76\n'
    )
    piece = sound(project_of(HEAD + text, shop))
    block = next(p for p in piece.placed if p.path.endswith("/drawer[c1,r1].blocking.left"))
    thick, (_, inner) = block.part.blank.thickness, world_box(block)
    screws = [f for f in piece.fasteners if block.path + "~" in f.joint]
    assert 23.75 < thick < 24.0
    assert screws
    assert all(8.0 - 1e-3 <= inner[0] - thick - f.tip[0] <= 17.2 - 3.0 for f in screws)


def test_battens_of_a_lid_stand_beside_a_divider() -> None:
    text = 'front = "frameless"\nwidth = 1082\ndepth = 300\nheight = 430\nbays = { columns = ["closed", "closed"] }\n'
    shop = f"{SHOP}[measured]\nbirch-plywood-18 = 17.9\n"
    piece = sound(case(text + 'top = { kind = "lid" }\nstand = { kind = "plinth", height = 100 }\n', shop=shop))
    assert box(piece, "lid/batten.middle[1]")[0][0] > box(piece, "divider[u1]")[1][0]


def test_a_crown_is_pinned_beside_a_back_that_stands_in_before_the_skirting() -> None:
    text = f'{SIZE}bays = "open"\ncrown = true\nstand = {{ kind = "sides", height = 100 }}\n'
    piece = sound(case(text, "[room]\nskirting_height = 95\nskirting_thickness = 14\n"))
    back = box(piece, "back")
    pins = [y for _, y, _ in fasteners(piece, "crown/left~side.left")]
    assert pins
    assert all(not back[0][1] - 1.0 < y < back[1][1] + 1.0 for y in pins)


@pytest.mark.parametrize("front", ["frame", "frameless"])
def test_shelves_of_a_bay_stay_out_of_the_drawers_beyond_its_rail(front: str) -> None:
    rows = '{ rows = ["open", "drawer"] }, { holds = "door", shelves = 2 }'
    text = f'front = "{front}"\nwidth = 600\ndepth = 460\nheight = 1300\nbays = {{ rows = [{rows}] }}\n'
    piece = sound(case(text + 'top = { kind = "between" }\nfronts = { hinge = "cup" }\n'))
    rail = box(piece, "frame/rail[r1]" if front == "frame" else "rail[r1]")
    shelves = [box(piece, p.path.removeprefix("case/")) for p in piece.placed if p.path.endswith("/board")]
    assert len(shelves) == 2
    assert max(high[2] for _, high in shelves) < rail[0][2]
