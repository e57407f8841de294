"""Backs: set into rabbets, or set on the rear edges; a wall case on a split batten."""

from __future__ import annotations

import pytest
from tests.checks.seeding import without_joints
from tests.design.harness import CACHE, agrees_with_kernel
from tests.design.test_cases import CHERRY, SIZE, box, built, case

from casewright.checks import racking
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blanks import Face
from casewright.design.features.cuts import Rabbet
from casewright.design.features.holes import PocketHole
from casewright.design.parts import Intent, Part
from casewright.packet.hardware_list import fastener_rows, hardware_rows
from casewright.project import Project
from casewright.solids.measure import volume_of

GRID = 'bays = { columns = ["door", { rows = ["drawer", "open"] }] }\n'
HUNG = (
    'front = "frameless"\nwidth = 800\ndepth = 320\nheight = 700\ntop = { kind = "between" }\n'
    'bays = { columns = ["open", { holds = "open", shelves = 1 }] }\n'
    'stand = { kind = "wall", height = 1200, fixing = "split batten" }\n'
)
NAILED = {"": JointKind.PINS, "nails": JointKind.PINS, "screws": JointKind.BUTT_SCREWS}


def loud(project: Project) -> set[str]:
    return {f"{f.code} {f.path}" for f in project.piece_findings if f.severity.value in ("stop", "warn")}


@pytest.mark.parametrize("fixing", NAILED)
def test_a_back_is_set_on_the_rear_edges_of_sides_without_rabbets(fixing: str) -> None:
    more = f', fixing = "{fixing}"' if fixing else ""
    project = case(f'{SIZE}{GRID}back = {{ kind = "set on"{more} }}')
    piece = built(project)
    assert not loud(project)
    side, back = box(piece, "side.left"), box(piece, "back")
    assert side[1][1] == pytest.approx(back[0][1]), "the sides are short by the back's thickness"
    assert not [f for f in piece.by_path()["case/side.left"].part.features if isinstance(f, Rabbet)]
    # a little inside both sides' outer faces, never proud
    assert side[0][0] + 1.0 == pytest.approx(back[0][0])
    kinds = {j.id.removeprefix("case/"): j.kind for j in piece.joints}
    assert kinds["back~side.left"] is kinds["back~bottom"] is NAILED[fixing]
    # an edge is entered in its middle: half of 19.05 mm, by a brad or screw that bites 18 mm or more
    held = [f for f in piece.fasteners if f.joint == "case/back~side.left"]
    assert len(held) >= 4
    for f in held:
        assert f.frame.origin[0] - side[0][0] == pytest.approx((side[1][0] - side[0][0]) / 2, abs=1e-3)
        assert side[1][1] - f.tip[1] >= 17.9
    text = " ".join(s.text for s in piece.steps)
    assert "onto the rear edges" in text


def test_on_solid_sides_it_is_screwed_without_glue() -> None:
    piece = built(case(f'{SIZE}{GRID}back = {{ kind = "set on" }}', CHERRY))
    joints = [j for j in piece.joints if j.id.startswith("case/back")]
    assert {j.kind for j in joints} == {JointKind.SCREWS}
    assert not [j for j in joints if j.glued]


def codes(text: str, before: str = "") -> set[str]:
    return {f.code for f in case(text, before).assembly.pieces[0].findings if f.stops}


def test_what_bars_a_back_from_being_set_on_is_found() -> None:
    assert codes(f'{SIZE}{GRID}stand = {{ kind = "posts" }}\nback = {{ kind = "set on" }}') == {"back.set_on"}
    skirting = "[room]\nskirting_height = 120\nskirting_thickness = 15\n"
    assert codes(f'{SIZE}{GRID}stand = {{ kind = "sides" }}\nback = {{ kind = "set on" }}', skirting) == {"back.set_on"}
    with pytest.raises(Exception, match="set on"):
        case(f'{SIZE}{GRID}back = {{ fixing = "screws" }}')


def test_a_wall_case_hangs_on_a_split_batten_and_keeps_its_ordered_depth() -> None:
    project = case(HUNG)
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 6)
    assert piece.depth == pytest.approx(320.0)
    case_half, wall_half = (piece.by_path()[f"case/batten.{name}"] for name in ("case", "wall"))
    assert wall_half.frame.origin[1] == pytest.approx(320.0), "its back lies on the wall"
    # two halves with one bevel between them: together as much wood as two plain strips less both wedges
    assert volume_of(case_half.part, CACHE) > volume_of(wall_half.part, CACHE), "the wall's half is the shorter"
    assert {f.code: f.severity.value for f in piece.findings}["wall.load"] == "note"
    last = next(s for s in piece.steps if any(b.endswith("batten.wall") for b in s.brings))
    assert any("studs" in c.text for c in last.cautions)
    assert not [f for f in piece.fasteners if f.joint == "case/batten.case~fixing_rail" and f.frame.origin[1] < 300.0]


def test_battens_lie_over_the_screws_of_a_back_that_is_set_on() -> None:
    """Its screws have flat heads, flush with it: battens and spacer lie on it."""
    project = case(f'{HUNG}back = {{ kind = "set on", fixing = "screws" }}')
    built(project)
    assert not loud(project)


def test_more_than_its_screws_bear_stops_a_wall_case() -> None:
    heavy = HUNG.replace("shelves = 1", "shelves = 4")
    assert "wall.load" in codes(heavy, "[practice]\nwall.screw_load = 10\n")


@pytest.mark.parametrize("fixing", ["rail", "split batten"])
def test_what_the_wall_screws_bear_counts_doors_and_shelves(fixing: str) -> None:
    """Everything that hangs there, blanks by their volume and density; a metre of shelf holds 25 kg (practice)."""
    text = HUNG.replace('"open", {', '"door", {').replace(', fixing = "split batten"', f', fixing = "{fixing}"')
    piece = built(case(f'{text}fronts = {{ mount = "overlay", door = "glass" }}\n'))
    things = [p.thing for p in piece.placed]
    own = sum(t.mass for t in things if not isinstance(t, Part))
    for part in (t for t in things if isinstance(t, Part)):
        across = part.blank.width * part.blank.thickness if part.blank.section is None else part.blank.section.area
        own += part.blank.length * across * 1e-9 * part.mass_density
    assert any("/door[" in p.path for p in piece.placed)
    (note,) = [f for f in piece.findings if f.code == "wall.load"]
    screws = sum(line.count for line in piece.bought if line.item.startswith("washer-10"))
    shelves = (inside_left_of(piece, "side.right", "side.left") + inside_left_of(piece, "side.right", "divider")) / 1000
    assert note.value == pytest.approx((own + 25.0 * shelves) / screws, rel=0.01)


def test_the_list_says_that_screws_go_into_the_wall_and_straps_tie_to_it() -> None:
    screws = {row.item: row.uses for row in fastener_rows(case(HUNG.replace(', fixing = "split batten"', "")))}
    assert screws["washer-10x3"] == (("fixing rail to the wall", 2),)
    tall = case(f"{SIZE}{GRID}".replace("height = 800", "height = 1900"))
    assert ("ties the case to the wall", 1) in {u for row in hardware_rows(tall) for u in row.uses}


def inside_left_of(piece: PieceDesign, right: str, left: str) -> float:
    """The clear width between two uprights, mm."""
    found = next(p.path.removeprefix("case/") for p in piece.placed if p.path.startswith(f"case/{left}"))
    return box(piece, right)[0][0] - box(piece, found)[1][0]


def test_no_pocket_opens_in_a_face_that_shows_and_front_edges_are_finished() -> None:
    """A case on the wall is seen from below: neither top nor bottom may have pockets."""
    text = HUNG.replace(', fixing = "split batten"', "")
    for piece in (built(case(text)), built(case(f"{SIZE}{GRID}"))):
        for placed in piece.placed:
            if isinstance(placed.thing, Part):
                shown = {u.face for u in placed.thing.faces if u.intent is Intent.SHOWS}
                pockets = {f.face for f in placed.thing.features if isinstance(f, PocketHole)}
                assert not pockets & shown, placed.path
    piece = built(case(text))
    for name in ("side.left", "side.right", "bottom", "top_panel"):
        placed = piece.by_path()[f"case/{name}"]
        front = placed.face_towards((0.0, -1.0, 0.0))
        assert front in {u.face for u in placed.thing.faces if u.finish}, name
    bottom = piece.by_path()["case/bottom"]
    assert {u.face for u in bottom.thing.faces if u.intent is Intent.SHOWS} == {Face.FACE0, Face.FACE1, Face.EDGE0}
    assert "bottom~side.left" in {j.id.removeprefix("case/") for j in piece.joints if j.kind is JointKind.DOWEL}


# --- framed backs ---

FRAMED = {
    "behind a divider": (f'{SIZE}{GRID}back = {{ kind = "framed" }}', ""),
    "solid panels": (f'{SIZE}{GRID}back = {{ kind = "framed", panel = "solid panel" }}', ""),
    "solid case": (
        f'{SIZE}bays = {{ columns = ["open", "open"] }}\nback = {{ kind = "framed", panel = "solid panel" }}', CHERRY,
    ),
    "posts": (f'{SIZE}bays = "open"\nstand = {{ kind = "posts" }}\nback = {{ kind = "framed" }}', ""),
}  # fmt: skip


@pytest.mark.parametrize("what", FRAMED)
def test_a_framed_back_is_a_frame_with_panels_in_rabbets(what: str) -> None:
    text, before = FRAMED[what]
    project = case(text, before)
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 8)
    host = "post.rear" if what == "posts" else "side"
    kinds = {j.id.removeprefix("case/"): j for j in piece.joints}
    for hand in ("left", "right"):
        assert kinds[f"back/stile.{hand}~{host}.{hand}"].kind is JointKind.RABBET
        assert kinds[f"back/rail.top~back/stile.{hand}"].kind is JointKind.STUB_TENON
    solid = "solid" in what
    panel = kinds["back[p1]/panel~stile.left"]
    assert (panel.kind, panel.glued) == ((JointKind.TONGUE, False) if solid else (JointKind.GROOVE, True))
    # no solid panel shows more than practice says, and a muntin stands behind the divider
    muntins = [p for p in piece.placed if "/back/muntin[" in p.path]
    widths = [p.part.blank.width for p in piece.placed if p.path.endswith("]/panel") and "/back[" in p.path]
    assert len(widths) == len(muntins) + 1
    assert max(widths) <= (320.0 if solid else 700.0) + 2 * 16.0
    if "divider" in what:
        (x0, _, _), (x1, _, _) = box(piece, "back/muntin[m1]")
        middle = sum(b[0] for b in box(piece, "divider[u1]")) / 2
        assert (x0 + x1) / 2 == pytest.approx(middle, abs=0.01)


def test_a_back_keeps_the_case_square_while_its_frame_and_its_pieces_are_fastened() -> None:
    project = case(f'front = "frameless"\n{SIZE}bays = "open"\nback = {{ kind = "framed" }}')
    piece, (ordered,) = built(project), project._ordered

    def found(prefix: str) -> set[str]:
        broken = without_joints(piece, lambda j: j.id.startswith(prefix))
        return {f.code for f in racking.run(project._subject(ordered, broken))}

    assert found("case/none") == set()
    assert found("case/back/rail.top~back/stile.left") == {"racking.open"}
    assert found("case/back/stile.right~side.right") == {"racking.open"}
    wide = 'front = "frameless"\nwidth = 1700\ndepth = 420\nheight = 1300\ntop = { kind = "between" }\n'
    pieces = case(f'{wide}bays = {{ columns = ["open", "open", "open"] }}')
    assert not [f for f in pieces.piece_findings if f.code == "racking.open"]


def test_a_hung_case_has_a_sheet_back() -> None:
    hung = HUNG.replace(', fixing = "split batten"', "")
    assert codes(f'{hung}back = {{ kind = "framed" }}') == {"back.hung"}
