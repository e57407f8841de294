"""Cases as a client orders them: what stands where, what is glued, what lines up."""

from __future__ import annotations

import math

import pytest
from tests.design.harness import agrees_with_kernel
from tests.laws.orders import HEAD, SHOP, case, project_of

from casewright.checks import movement_joints
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blanks import proper_turns
from casewright.design.features.holes import PocketHole
from casewright.design.line_up import rails_of
from casewright.design.parts import Hardware, Part
from casewright.design.sites import world_box
from casewright.project import Project

SIZE = "width = 900\ndepth = 420\nheight = 800\n"
GRID = 'bays = { columns = ["door", { rows = ["drawer", "drawer", "drawer"] }] }\n'
SKIRTING = "[room]\nskirting_height = 120\nskirting_thickness = 15\n"
CHERRY = '[roles]\ncase = "cherry-4/4"\nface_frame = "cherry-4/4"\n'


def built(project: Project) -> PieceDesign:
    piece = project.assembly.pieces[0]
    assert not [f for f in piece.findings if f.stops]
    return piece


def box(piece: PieceDesign, name: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    return world_box(piece.by_path()[f"case/{name}"])


def test_levelling_feet_carry_sides_that_run_to_the_floor() -> None:
    text = f'front = "frameless"\n{SIZE}{GRID}stand = {{ kind = "sides", height = 110, levelled = true }}\n'
    piece = built(case(text + 'fronts = { mount = "overlay" }'))
    assert box(piece, "side.left")[0][2] > 0, "the feet carry it"
    assert len([p for p in piece.placed if p.path.endswith("/leveller")]) == 4
    assert piece.height == 800


def test_sides_that_run_to_the_floor_are_mirror_images() -> None:
    """Their notches are made from the inner face: else the right one had a drawing, and a mark, of another kind."""
    piece = built(case(f'front = "frameless"\n{SIZE}bays = "open"\nstand = {{ kind = "sides", height = 110 }}\n'))
    left, right = (piece.by_path()[f"case/side.{hand}"] for hand in ("left", "right"))
    assert left.part.mirrored().key in {right.part.turned(t).key for t in proper_turns(right.part.blank)}


def test_pockets_of_a_toe_board_keep_off_each_other() -> None:
    """Those up into the bottom have the distances of a case joint and begin beyond those at the board's ends."""
    piece = built(case(f'front = "frameless"\n{SIZE}bays = "open"\nstand = {{ kind = "sides", height = 110 }}\n'))
    board = piece.by_path()["case/toe_board"].part
    pockets = [f for f in board.features if isinstance(f, PocketHole)]
    long = [f for f in pockets if abs(f.dv) > 0.9]
    ends = [f for f in pockets if abs(f.du) > 0.9]
    assert len(long) == round(board.blank.length / 150) + 1  # practice butt.screw_spacing
    assert ends
    half, mouth = 9.525 / 2, 9.525 / 2 / math.sin(math.radians(15.0))  # a bit 3/8 in thick at 15° (practice pocket.*)
    for up in long:
        for end in ends:
            apart = abs(up.u - end.u), abs(up.v - end.v)
            assert max(apart) > half + mouth - 1.0, (up, end)


def test_sides_are_notched_for_the_skirting_and_the_back_stands_before_it() -> None:
    piece = built(case(f'{SIZE}{GRID}stand = {{ kind = "sides", height = 110 }}', SKIRTING))
    wall = box(piece, "side.left")[1][1]
    assert wall - box(piece, "back")[1][1] == pytest.approx(15.0)
    side = piece.by_path()["case/side.left"].part
    assert any(type(f).__name__ == "Notch" and 120.0 in {round(f.u1 - f.u0, 3), round(f.v1 - f.v0, 3)}
               for f in side.features)  # fmt: skip


def test_a_framed_case_is_cut_out_for_the_toes_above_which_its_frame_begins() -> None:
    piece = built(case(f'{SIZE}{GRID}stand = {{ kind = "sides", height = 100, notched = true }}'))
    assert box(piece, "frame/stile.left")[0][2] == pytest.approx(100.0)
    depth = box(piece, "toe_board")[0][1]
    assert depth == pytest.approx(19.05 + 76.2), "3 in behind the front edge of the sides, behind a 3/4 in frame"


def test_scribing_strips_add_to_the_ordered_sizes() -> None:
    text = f'front = "frameless"\n{SIZE}{GRID}top = {{ kind = "between" }}\nscribe = "left top"\n'
    piece = built(case(text + 'fronts = { mount = "overlay" }'))
    assert box(piece, "scribe.left")[0][0] < -450.0
    assert box(piece, "scribe.top")[1][2] > 800.0
    with pytest.raises(Exception, match="left, right, top"):
        case(text.replace("left top", "floor"))


def test_strips_beside_mouldings_are_found_at_their_key() -> None:
    text = f'{SIZE}{GRID}stand = {{ kind = "feet" }}\nbottom_rail_visible = 80\nbase = true\nscribe = "left"'
    found = {f.code: f.path for f in case(text).assembly.pieces[0].findings}
    assert found["scribe.moulding"] == "case/scribe"


def test_fronts_of_a_column_are_cut_in_sequence_where_the_grain_is_matched() -> None:
    piece = built(case(f'{SIZE}{GRID}match_grain = true\nfronts = {{ drawer = "slab" }}'))
    fronts = [p.thing for p in piece.placed if p.path.endswith("/face/front") and isinstance(p.thing, Part)]
    assert {f.run for f in fronts} == {"fronts[c2]"}
    assert sorted(f.run_place for f in fronts) == [1, 2, 3]


def test_a_wide_drawer_has_two_pulls_and_a_pair_its_astragal() -> None:
    text = f'{SIZE}bays = {{ rows = [{{ holds = "drawer", size = 150 }}, "pair"] }}\n'
    piece = built(case(text + 'fronts = { meeting = "astragal" }'))
    names = {p.path.removeprefix("case/") for p in piece.placed}
    assert {"drawer[c1,r1]/face/pull.left", "drawer[c1,r1]/face/pull.right"} <= names
    assert any(n.endswith("/astragal") for n in names)
    single = built(case(text + "fronts = { pulls = 1 }"))
    assert "case/drawer[c1,r1]/face/pull" in {p.path for p in single.placed}


def test_gaps_of_solid_fronts_leave_room_to_swell() -> None:
    text = f'{SIZE}{GRID}fronts = {{ drawer = "slab" }}\n'
    sheet = {s.name: s.value for s in built(case(text)).sizes}
    solid = {s.name: s.value for s in built(case(text + 'roles = { drawer_front = "cherry-4/4" }')).sizes}
    assert sheet["gap.front_swelling"] == 0.0
    grown = solid["drawer[c2,r1].gap"] - sheet["drawer[c2,r1].gap"]
    assert grown == pytest.approx(solid["gap.front_swelling"])
    # Wood Handbook Eq. 13-2, Table 13-5: black cherry C_T = 0.00248; the two gaps share the growth.
    height = max(solid[f"opening[c2,r{i}].height"] for i in (1, 2, 3))
    assert 0.1 < solid["gap.front_swelling"] < 0.00248 * 8 * height / 2


def test_a_shop_without_a_pocket_jig_joins_the_shell_with_dowels_and_says_why() -> None:
    plain = built(case(f'front = "frameless"\n{SIZE}{GRID}fronts = {{ mount = "overlay" }}'))
    assert JointKind.POCKET_SCREWS in {j.kind for j in plain.joints}
    from casewright.design.joints.auto import Abilities
    from casewright.design.kit import Kit
    from casewright.design.pieces.case import build_case
    from casewright.order.fitting import practice_for, sizes_for
    from casewright.shop import shop_from_text

    project = case(f'front = "frameless"\n{SIZE}{GRID}fronts = {{ mount = "overlay" }}\n')
    spec, shop = project.order.pieces[0], shop_from_text(SHOP)
    kit = Kit(
        sizes=sizes_for(project.order, spec, shop),
        practice=practice_for(project.order, shop),
        abilities=Abilities(pocket_jig=False),
    )
    piece = build_case(spec, kit, project.moisture, "case", {})  # type: ignore[arg-type]
    tie = next(j for j in piece.joints if j.id == "case/bottom~side.left")
    assert tie.kind is JointKind.DOWEL
    assert "no pocket jig" in tie.why


SOLID = {
    "mouldings": 'crown = true\nbase = true\nstand = { kind = "feet" }\nbottom_rail_visible = 80\n',
    "plinth and runners": 'stand = { kind = "plinth" }\nfronts = { guide = "runner" }\n',
    "sides": 'stand = { kind = "sides", height = 100 }\n',
}


@pytest.mark.parametrize("what", SOLID)
def test_nothing_is_glued_across_the_grain_of_a_solid_case(what: str) -> None:
    project = case(f"{SIZE}{GRID}{SOLID[what]}", CHERRY)
    piece = built(project)
    (ordered,) = project._ordered
    assert not [f.path for f in movement_joints.run(project._subject(ordered, piece)) if f.stops]
    glued = {j.id for j in piece.joints if j.glued}
    assert not [j for j in glued if "back" in j.partition("/")[2][:5]]
    slots = [j for j in piece.joints if j.kind is JointKind.SLOTTED_SCREWS]
    assert slots, "what runs from front to back lets the sides move"
    if what == "mouldings":
        sides = {j.id for j in slots if "/crown/" in j.id or "/base/" in j.id}
        assert {"case/crown/left~side.left.slots", "case/base/right~side.right.slots"} <= sides


def piece_of(name: str, bays: str, width: int = 600) -> str:
    return f'[[piece]]\nkind = "case"\nname = "{name}"\nwidth = {width}\ndepth = 420\nheight = 800\nbays = {bays}\n'


LEADER = piece_of("leader", '{ rows = ["drawer", "drawer", "drawer", "drawer"], graduate = 20 }')
FOLLOWER = piece_of("follower", '{ rows = ["drawer", { holds = "pair", share = 1.25 }] }')
STUBBORN = piece_of("stubborn", '{ rows = [{ holds = "drawer", size = 150 }, "door"] }', 450)


@pytest.mark.parametrize("texts", [(LEADER, FOLLOWER), (FOLLOWER, LEADER)])
def test_rails_of_cases_of_one_height_line_up_whichever_is_ordered_first(texts: tuple[str, str]) -> None:
    apart = {p.path: p for p in project_of(HEAD + "".join(texts), SHOP).assembly.pieces}
    lines = set(rails_of(apart["leader"]))
    assert not lines & set(rails_of(apart["follower"]))
    asked = f"{HEAD}[style]\nline_up = true\n" + "".join(texts)
    level = {p.path: p for p in project_of(asked, SHOP).assembly.pieces}
    assert set(rails_of(level["leader"])) == lines, "who leads stays as it was"
    assert set(rails_of(level["follower"])) < lines
    assert not [f for p in level.values() for f in p.findings if f.code == "style.line_up"]


def test_a_row_with_a_size_of_its_own_is_found_out_of_line() -> None:
    project = project_of(f"{HEAD}[style]\nline_up = true\n{LEADER}{STUBBORN}", SHOP)
    found = [f for p in project.assembly.pieces for f in p.findings if f.code == "style.line_up"]
    assert [f.path for f in found] == ["stubborn/bays[all]"]
    assert (found[0].value or 0.0) > 0.5


# --- feet under a bottom that leaves no room for blocks ---


@pytest.mark.parametrize(("more", "before"), [("height = 150", ""), ("height = 130, inset = 20", CHERRY)])
def test_a_frameless_case_stands_on_feet_under_plates(more: str, before: str) -> None:
    stand = f'stand = {{ kind = "feet", {more} }}\n'
    project = case(f'front = "frameless"\n{SIZE}bays = {{ columns = ["open", "open"] }}\n{stand}', before)
    piece = built(project)
    assert not [f for f in project.piece_findings if f.severity.value in ("stop", "warn")]
    agrees_with_kernel(piece, 6)
    for place in ("front", "rear"):
        for hand in ("left", "right"):
            plate, foot = box(piece, f"foot_plate.{place}.{hand}"), box(piece, f"foot.{place}.{hand}/wood")
            assert plate[1][2] == pytest.approx(box(piece, "bottom")[0][2]), "under the bottom"
            assert foot[1][2] == pytest.approx(plate[0][2]), "the foot stands under it"
            assert plate[1][0] - plate[0][0] > foot[1][0] - foot[0][0] + 30.0, "with room for screws beside the foot"
    kinds = {j.id.removeprefix("case/"): j for j in piece.joints}
    assert kinds["foot.front.left/wood~plate"].kind is JointKind.DOWEL
    assert kinds["foot_plate.front.left~bottom.along"].glued == (not before)


# --- corner posts ---

SEAM = "[practice]\nframe.thickness = 17\n"
POSTS = f'{SIZE}bays = {{ columns = ["door", {{ holds = "open", shelves = 1 }}] }}\n'


def test_a_case_stands_on_its_corner_posts() -> None:
    """Posts from the floor to the top, 2 in square; rails tenoned into them, sides doweled between, a back in them."""
    piece = built(case(f'{POSTS}stand = {{ kind = "posts", height = 150 }}'))
    posts = [box(piece, f"{name}.{hand}") for name in ("frame/stile", "post.rear") for hand in ("left", "right")]
    assert all(lo[2] == 0.0 and hi[2] == pytest.approx(box(piece, "top")[0][2]) for lo, hi in posts)
    assert all(hi[0] - lo[0] == pytest.approx(50.8) for lo, hi in posts)
    kinds = {j.id.removeprefix("case/"): j.kind for j in piece.joints}
    assert kinds["frame/rail.top~stile.left"] is JointKind.TENON
    assert kinds["side.left~post.rear.left"] is kinds["side.left~frame/stile.left"] is JointKind.DOWEL
    assert kinds["back~post.rear.left"] is JointKind.RABBET
    assert box(piece, "side.left")[0][1] == pytest.approx(50.8), "the side stands between the posts"
    assert not [f for f in case(f'{POSTS}stand = {{ kind = "posts", height = 150 }}').piece_findings if f.stops]


def test_corner_posts_want_a_face_frame_and_no_mouldings() -> None:
    bare = case(f'front = "frameless"\n{POSTS}stand = {{ kind = "posts" }}').assembly.pieces[0]
    assert [f.code for f in bare.findings if f.stops] == ["post.frame"]
    crowned = case(f'crown = true\n{POSTS}stand = {{ kind = "posts" }}').assembly.pieces[0]
    assert [f.code for f in crowned.findings if f.stops] == ["crown.bare"]


@pytest.mark.parametrize(
    ("fronts", "before"),
    [
        ('guide = "side", mount = "overlay"', ""),
        ('guide = "under", mount = "overlay"', ""),
        ('guide = "runner"', ""),
        ('guide = "runner"', CHERRY),
    ],
)
def test_slides_and_runners_beside_posts_are_screwed_to_side_and_posts(fronts: str, before: str) -> None:
    """The posts are flush with the sides inside: each screw enters the wood that it stands before."""
    drawers = f'{SIZE}bays = {{ rows = ["drawer", "drawer"] }}\nfronts = {{ {fronts} }}\n'
    project = case(f'{drawers}stand = {{ kind = "posts" }}', before)
    piece = built(project)
    assert not [f for f in project.piece_findings if f.stops]
    side = box(piece, "side.left")
    posts = 0
    for f in piece.fasteners:
        host = f.parts[-1].removeprefix("case/")
        if f.joint.startswith("case/drawer[") and host in ("side.left", "frame/stile.left", "post.rear.left"):
            posts += host != "side.left"
            assert (side[0][1] + 4.0 <= f.frame.origin[1] <= side[1][1] - 4.0) == (host == "side.left")
    assert posts >= 2 or before, "solid sides take the rear posts with them: their strips lie on the side"


def test_screws_on_the_seam_of_side_and_post_are_found() -> None:
    drawers = f'{SIZE}bays = {{ rows = ["drawer", "drawer"] }}\nfronts = {{ drawer = "panel" }}\n'
    piece = case(f'{drawers}stand = {{ kind = "posts" }}', SEAM).assembly.pieces[0]
    assert "post.hardware" in {f.code for f in piece.findings if f.stops}


def test_drawers_bear_what_the_order_says_they_are_used_for() -> None:
    drawers = f'{SIZE}bays = {{ rows = ["drawer", "drawer"] }}\n'
    heavy = case(drawers, "[use]\ndrawer_load = 150\n").assembly.pieces[0]
    assert "drawer.load" in {f.code for f in heavy.findings if f.stops}
    assert built(case(drawers, "[use]\ndrawer_load = 12\n")).placed


def test_brads_of_a_thick_back_bite_into_what_stands_behind_it() -> None:
    project = case(f'{SIZE}{GRID}roles = {{ back = "birch-plywood-12" }}')
    piece = built(project)
    brads = [j for j in piece.joints if j.kind is JointKind.PINS and j.id.startswith("case/back~")]
    assert brads, "a glued back is nailed too"
    assert not [f for f in project.piece_findings if f.code == "fastener.bite"]


def test_doors_hang_on_the_hinges_that_the_order_names() -> None:
    def hinges(text: str) -> set[str]:
        piece = built(case(f'{SIZE}bays = {{ columns = ["door", "open"] }}\n{text}'))
        return {
            p.thing.item.partition("-")[0] for p in piece.placed if "hinge" in p.path and isinstance(p.thing, Hardware)
        }

    assert hinges("") == hinges('fronts = { hinge = "butt" }') == {"butt"}
    assert hinges('fronts = { hinge = "cup" }') == {"cup"}


def test_a_slide_screw_whose_tip_just_touches_the_wall_behind_its_blocking_bores_nothing_there() -> None:
    text = (
        "width = 1257\ndepth = 574.5\nheight = 901\nstile_width = 59.5\ncentre_stile = 45\n"
        "drawer_rail = 28.5\ntop_rail_visible = 27.5\nbottom_rail_visible = 62\n"
        'bays = { rows = [{ columns = ["drawer", "open"] }, '
        '{ columns = [{ holds = "drawer", size = 293.5 }, "drawer", "drawer", "drawer"] }] }\n'
        'fronts = { mount = "inset", drawer = "applied frame", guide = "under" }\n'
    )
    sheets = "[measured]\nbirch-plywood-18 = 17.6\nbirch-plywood-6 = 6.0\nmulti-ply-birch-12 = 11.8\n"
    assert built(case(text + 'top = { kind = "breadboard" }\n', shop=SHOP + sheets)).placed


@pytest.mark.parametrize("above", ['{ holds = "drawer", size = 150 }', '{ rows = ["open", "drawer"], size = 500 }'])
@pytest.mark.parametrize("front", ["frame", "frameless"])
def test_loose_shelves_behind_a_door_end_under_the_drawer_above_it(front: str, above: str) -> None:
    """Nothing but a rail parts the two: the shelves stand in the door's opening, even."""
    text = f'front = "{front}"\nwidth = 600\ndepth = 450\nheight = 1300\n'
    piece = built(case(f'{text}bays = {{ rows = [{above}, {{ holds = "door", shelves = 2 }}] }}'))
    high = next(s.value for s in piece.sizes if s.name == "opening[r2].height")
    door = piece.by_path()["case/bottom"]
    floor = door.frame.origin[2]
    shelves = [p.frame.origin[2] for p in piece.placed if p.path.startswith("case/loose[") and p.path.endswith("board")]
    assert len(shelves) == 2
    below, above_them = shelves[0] - floor, floor + high - shelves[1]
    assert below == pytest.approx(above_them, abs=80.0), "to two holes or so, and the step of the floor"
    assert min(below, above_them, shelves[1] - shelves[0]) > 90.0


def test_stiles_stand_proud_of_the_sides_by_the_reveal() -> None:
    """Rule of the trade (common practice): flush where a moulding wraps the corner, else proud by a stated reveal."""
    flush, proud = (built(case(f"{SIZE}{GRID}frame_reveal = {reveal}\n")) for reveal in (0, 3))
    for piece, reveal in ((flush, 0.0), (proud, 3.0)):
        stile, side = box(piece, "frame/stile.left"), box(piece, "side.left")
        assert side[0][0] - stile[0][0] == pytest.approx(reveal)
        assert box(piece, "top")[1][0] - box(piece, "top")[0][0] == pytest.approx(900.0), "the ordered width stays"
        blocking = piece.by_path()["case/drawer[c2,r1].blocking.right"].part.blank.thickness
        assert blocking == pytest.approx(38.1 - side[1][0] + side[0][0] - reveal - 0.2, abs=0.21), (
            "a narrower gap to fill"
        )
        chamfers = [
            f for f in piece.by_path()["case/frame/stile.left"].part.features if f.__class__.__name__ == "EdgeProfile"
        ]
        assert len(chamfers) == (0 if reveal else 1)
        over = piece.by_path()["case/frame/stile.left"].part.allowance.width
        assert over == (0.0 if reveal else 0.5), "flush stiles are trimmed on the sides"
        glued = next(s.text for s in piece.steps if s.text.startswith("Glue the face frame on"))
        assert ("3 mm proud" in glued) == bool(reveal)
        across = [[item.value for item in c.items] for c in piece.chains if c.id == "case/chain.reveal"]
        body = box(piece, "side.right")[1][0] - side[0][0]
        assert [pytest.approx(row) for row in across] == ([[reveal, body, reveal]] if reveal else []), "is drawn"


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ("crown = true", "a moulding wraps the corner"),
        ('front = "frameless"', "no face frame"),
        ('stand = { kind = "posts" }', "corner posts"),
        ("stile_width = 40\nframe_reveal = 30", "do not cover them"),
    ],
)
def test_a_reveal_that_cannot_be_is_found_at_its_key(rows: str, message: str) -> None:
    reveal = "" if "frame_reveal" in rows else "frame_reveal = 3\n"
    found = [f for f in case(f"{SIZE}{reveal}{rows}\n{GRID}").assembly.pieces[0].findings if f.code == "frame.reveal"]
    assert [f.path for f in found] == ["case/frame_reveal"]
    assert message in found[0].message


def test_without_chamfer_or_reveal_the_seam_is_told() -> None:
    plain = "[practice]\napplied.seam_chamfer = 0\n"
    codes = {f.code for f in case(f"{SIZE}{GRID}", plain).piece_findings}
    assert "frame.seam" in codes
    assert "frame.seam" not in {f.code for f in case(f"{SIZE}{GRID}frame_reveal = 2\n", plain).piece_findings}


def test_a_style_gives_its_reveal_to_pieces_without_mouldings_alone() -> None:
    style = "[style]\nframe_reveal = 3\n"
    bare, wrapped = (built(case(f"{SIZE}{rows}{GRID}", style)) for rows in ("", "crown = true\n"))
    assert box(bare, "frame/stile.left")[0][0] == pytest.approx(box(bare, "side.left")[0][0] - 3.0)
    assert box(wrapped, "frame/stile.left")[0][0] == pytest.approx(box(wrapped, "side.left")[0][0])


@pytest.mark.parametrize("guide", ["side", "runner"])
def test_solid_drawer_bottoms_move_to_the_rear_and_push_nothing(guide: str) -> None:
    """Rule of the trade (common practice): grain from side to side, slid in from behind, one slotted screw there."""
    roles = 'roles = { drawer_side = "poplar-4/4", drawer_bottom = "poplar-4/4" }\n'
    rows = f'{SIZE}drawer_rail = 40\nbays = {{ rows = ["drawer", "drawer"] }}\nfronts = {{ guide = "{guide}" }}\n'
    project = case(rows + roles)
    assert not [f for f in project.piece_findings if f.stops]
    bottoms = [p for p in project.assembly.pieces[0].placed if p.path.endswith("]/bottom")]
    assert all(p.part.blank.made_of is not None for p in bottoms)
