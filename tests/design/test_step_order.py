"""The order of work that trade notes prescribe: each test names its rule (common practice)."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from pathlib import Path

import pytest
from tests.design.drawer_harness import WET, harness
from tests.laws.orders import project_of

from casewright import Project, load_order
from casewright.design.assembly import Lie, PieceDesign, StepKind
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.blocks.feet_steps import PLACES
from casewright.design.blocks.step_words import TURN
from casewright.design.features.base import MadeAt
from casewright.design.features.holes import Hole
from casewright.design.features.shaping import Taper
from casewright.design.frames import Frame, dot
from casewright.design.parts import Part
from casewright.design.step_runs import step_numbers, step_runs
from casewright.design.volumes import HalfSpace
from casewright.shop import load_shop

EXAMPLES = Path(__file__).parents[2] / "examples"

SHOP = 'format = 1\nname = "Fernbrook Workshop"\nunits = "mm"\n'
HEAD = (
    'format = 1\ntitle = "order of work"\nunits = "mm"\n[[piece]]\nkind = "case"\nname = "case"\n'
    "width = 600\ndepth = 420\nheight = 800\n"
)


def step_at(piece: PieceDesign, words: str) -> int:
    """Return where the only step stands that says something. Raises AssertionError where there is no or another one."""
    found = [i for i, s in enumerate(piece.steps) if words in s.text]
    assert len(found) == 1, f"{words!r} in {len(found)} steps"
    return found[0]


def brought_at(piece: PieceDesign, name: str) -> int:
    """Return where a part arrives by its own name."""
    return next(i for i, s in enumerate(piece.steps) if f"{piece.path}/{name}" in s.brings)


@pytest.mark.parametrize(
    ("front", "before", "after"),
    [
        (FrontKind.APPLIED, "applied.left", None),
        (FrontKind.SLAB, "front", None),
        (FrontKind.PANEL, None, "block"),
    ],
)
def test_pull_holes_go_through_the_whole_front_and_before_its_moulding(
    front: FrontKind, before: str | None, after: str | None
) -> None:
    """Rule 18: before any moulding; through a framed front once panel and block are in."""
    piece = harness(DrawerSpec(gap=3.0, frame_margin=16.0, front=front, moisture=WET))
    face = "drawer[c1,r1]/face"
    at = step_at(piece, "bore the pull's holes")
    assert before is None or at < brought_at(piece, f"{face}/{before}")
    assert after is None or at > brought_at(piece, f"{face}/{after}")
    moulding = "moulding" in piece.steps[at].text
    assert moulding is (front is FrontKind.APPLIED)


FLANGED = 'insert = "insert-m6-flange"\nleveller = "leveller-m6"\n'


def feet_of(stand: str, shop: str = "") -> PieceDesign:
    order = f'{HEAD}crown = true\nbase = true\nbays = {{ rows = ["drawer", "drawer"] }}\nstand = {{ {stand} }}\n'
    return project_of(order, f"{SHOP}[roles]\n{shop}").assembly.pieces[0]


def in_order(text: str, *words: str) -> None:
    """Assert that words stand in a text in this order."""
    places = [text.index(w) for w in words]
    assert places == sorted(places), text


def test_feet_are_made_together_and_shaped_while_long_and_square() -> None:
    """Rule 30: floor end, counterbore, insert's hole; coves and tapers on the square blank; the top crosscut last."""
    piece = feet_of('kind = "feet"', FLANGED)
    bored = step_at(piece, "square the floor ends")
    in_order(piece.steps[bored].text, "square the floor ends", "counterbore", "bore for the insert", "for the stem")
    shaped = step_at(piece, "cove all four faces")
    in_order(piece.steps[shaped].text, "long and square", "cove", "taper")
    cut = step_at(piece, "Crosscut the top ends of all feet last")
    brought = [brought_at(piece, f"foot.{place}/{what}") for what in ("insert", "leveller") for place in PLACES]
    assert [bored, shaped, cut, *brought] == sorted([bored, shaped, cut, *brought])
    glued_on = [i for i, s in enumerate(piece.steps) if "case/foot.front.left/wood" in s.brings][-1]
    painted = max(i for i, s in enumerate(piece.steps) if s.kind is StepKind.FINISH)
    assert brought[3] < glued_on < painted < brought[4], "levelling feet stay out of the paint"
    plain = feet_of('kind = "feet"')
    assert "counterbore" not in plain.steps[step_at(plain, "square the floor ends")].text, "nothing to counterbore for"


@pytest.mark.parametrize(("height", "tip"), [(120, 38), (150, 45)])
def test_a_taper_jig_holds_opposite_faces_at_twice_the_angle(height: float, tip: float) -> None:
    """Rule 30: one setting for two adjacent faces; the angle between two opposite tapered planes is twice that."""
    piece = feet_of(f'kind = "feet", height = {height}, tip = {tip}')
    foot = piece.by_path()["case/foot.front.left/wood"].part
    tapers = [f for f in foot.features if isinstance(f, Taper)]
    a, b = (half_space_of(t, foot) for t in tapers if t.face.axis == 1)
    between = 180.0 - math.degrees(math.acos(dot(a.z, b.z)))
    text = piece.steps[step_at(piece, "taper jig")].text
    single, double, again = (float(m) for m in re.findall(r"([\d.]+)°", text))
    assert double == pytest.approx(between, abs=0.06), text
    assert single == again == pytest.approx(between / 2, abs=0.06)
    inner = feet_of(f'kind = "feet", height = {height}, tip = {tip}, tapered = "inner faces"')
    text = inner.steps[step_at(inner, "taper jig")].text
    assert "two inner faces" in text
    assert text.count("°") == 1, "no tapered face lies across from another"


def half_space_of(taper: Taper, part: Part) -> Frame:
    (space,) = taper.lower(part.blank)
    assert isinstance(space, HalfSpace)
    return space.frame


def test_posts_are_joined_while_square_and_tapered_last() -> None:
    """Rule 30: mortises and bores want square stock; both inner faces are tapered at one setting of the jig."""
    order = f'{HEAD}bays = {{ rows = ["open", "door"] }}\nstand = {{ kind = "posts", height = 150, tip = 30 }}\n'
    piece = project_of(order, SHOP).assembly.pieces[0]
    at = step_at(piece, "all four posts together")
    in_order(piece.steps[at].text, "square", "mortise", "bore", "rabbet", "last, taper")
    assert at < brought_at(piece, "frame/stile.left")
    taper = next(f for f in piece.by_path()["case/frame/stile.left"].part.features if isinstance(f, Taper))
    assert math.tan(math.radians(float(re.findall(r"([\d.]+)°", piece.steps[at].text)[0]))) == pytest.approx(
        taper.inset / taper.start, abs=0.002
    )


def test_a_foot_keeps_its_surplus_at_the_top_end() -> None:
    """Rule 30: about 25 mm, which the crosscut of the top takes off last."""
    piece = feet_of('kind = "feet"')
    for place in PLACES:
        foot = piece.by_path()[f"case/foot.{place}/wood"]
        assert foot.part.allowance.length == pytest.approx(25.0, abs=0.5)
        assert foot.part.allowance.at is foot.face_towards((0.0, 0.0, 1.0))


def test_panels_of_strips_are_glued_up_and_edges_banded_before_anything_is_joined() -> None:
    """Glue-ups rest before they are cut; a band is ironed on while its panel is still free (common practice)."""
    solid = 'finish = "clear"\nbays = { columns = ["open", { rows = ["drawer", "drawer"] }] }\n'
    order = f'{HEAD}front = "frameless"\n{solid}[piece.roles]\ncase = "cherry-4/4"\n'
    piece = project_of(order, SHOP).assembly.pieces[0]
    text = piece.steps[step_at(piece, "Glue up from strips")].text
    assert step_at(piece, "Glue up from strips") == 0
    for name in ("side ×2", "bottom", "divider", "drawer front ×2", "top"):
        assert re.search(rf"(?:: |, ){name}[,;]", text), (name, text)
    assert not any("Band the edges" in s.text for s in piece.steps), "solid wood has no bands"
    sheet = project_of(f'{HEAD}front = "frameless"\nbays = {{ columns = ["door", "open"] }}\n', SHOP).assembly.pieces[0]
    first = min(i for i, s in enumerate(sheet.steps) if s.brings)
    assert step_at(sheet, "Band the edges that the parts list names, ends before edges") < first
    assert any("hot iron" in c.text for c in sheet.steps[step_at(sheet, "Band the edges")].cautions)


def test_steps_of_door_and_back_say_what_is_there() -> None:
    """A glazed door has mortises and a rabbet, no groove; a back is nailed to solid wood without glue."""
    text = f'{HEAD}front = "frameless"\nbays = "door"\nfronts = {{ mount = "overlay", door = "glass" }}\n'
    glazed = project_of(text, SHOP).assembly.pieces[0]
    door = " ".join(s.text for s in glazed.steps if "door" in s.text)
    assert "groove" not in door
    ordered = step_at(glazed, "order it 3 mm smaller both ways: toughened glass")
    assert brought_at(glazed, "door[c1,r1]/stile.right") < ordered < brought_at(glazed, "door[c1,r1]/glass")
    for role, words in (("cherry-4/4", "Nail the back into its rabbets, without glue"), ("", "Glue and nail the back")):
        given = f'[piece.roles]\ncase = "{role}"\n' if role else ""
        piece = project_of(f'{HEAD}front = "frameless"\nbays = "open"\n{given}', SHOP).assembly.pieces[0]
        assert step_at(piece, words)


def test_a_wall_case_is_hung_by_its_underside_into_the_studs_that_are_there() -> None:
    text = f'{HEAD}front = "frameless"\nbays = "open"\ntop = {{ kind = "between" }}\n'
    piece = project_of(f'{text}stand = {{ kind = "wall", height = 1400 }}\n', SHOP).assembly.pieces[0]
    words = piece.steps[step_at(piece, "Hang the case")].text
    assert "its underside 1400 mm over the floor" in words
    assert "bore it anew for as many" in words


def test_a_case_lies_on_its_front_edges_while_its_carcass_is_joined_and_is_turned_with_a_caution() -> None:
    """Common practice: front edges on one plane; what is turned over is heavy."""
    order = f'{HEAD}crown = true\nbays = {{ rows = ["drawer", "drawer", "drawer"] }}\n'
    piece = project_of(order, SHOP).assembly.pieces[0]
    joined = [s for s in piece.steps if s.packed]
    assert {s.lie for s in joined} == {Lie.FRONT}
    assert joined[0] is next(s for s in piece.steps if s.into == piece.path and s.kind is StepKind.BRING)
    own = [s for s in piece.steps if s.into == piece.path]
    turned = [b for a, b in pairwise(own[own.index(joined[0]) :]) if a.lie is not b.lie]
    assert [s.lie for s in turned] == [Lie.BACK, Lie.FRONT, Lie.HEAD, Lie.BACK, Lie.UPRIGHT], (
        "frame, back, plinth, crown"
    )
    assert all(TURN in s.cautions for s in turned)
    assert all(TURN not in s.cautions for s in own if s not in turned)


@pytest.mark.parametrize("name", ["six-drawer-chest", "lantern-hill"])
def test_nothing_is_driven_from_the_face_that_a_case_lies_on(name: str) -> None:
    """Common practice: a screw is driven from above or from the side; heads that lie on the bench are out of reach."""
    project = Project(load_order(EXAMPLES / f"{name}.toml"), load_shop())
    down = {Lie.FRONT: (0.0, -1.0, 0.0), Lie.BACK: (0.0, 1.0, 0.0)}
    seen = 0
    for piece in project.assembly.pieces:
        for step in piece.steps:
            held = [f for f in piece.fasteners if f.joint in step.closes and step.into == piece.path]
            for fastener in held if step.lie in down else ():
                seen += 1
                assert dot(fastener.frame.direction((0.0, 0.0, 1.0)), down[step.lie]) > -0.9, (
                    f"{fastener.path}, while the case lies {step.lie.value}: {step.text}"
                )
    assert seen


def test_steps_of_drawers_alike_are_numbered_once_for_all_of_them() -> None:
    piece = project_of(f'{HEAD}bays = {{ rows = ["drawer", "drawer", "drawer"] }}\n', SHOP).assembly.pieces[0]
    runs = [run for run in step_runs(piece) if run.units]
    assert {len(run.units) for run in runs} == {3}
    assert len({run.block for run in runs}) == 2, "made on the bench, hung after the finish"
    assert sum(len(run.steps) for run in step_runs(piece)) == len(piece.steps)
    assert set(step_numbers(piece)) == {s.id for s in piece.steps}


def test_a_top_gets_its_size_in_the_step_that_says_so_and_its_holes_through_what_holds_it() -> None:
    piece = project_of(f'{HEAD}bays = {{ rows = ["open"] }}\n', SHOP).assembly.pieces[0]
    cut = next(i for i, s in enumerate(piece.steps) if "case/top" in s.cuts)
    bored = next(i for i, s in enumerate(piece.steps) if "case/top" in s.made_in)
    laid = max(i for i, s in enumerate(piece.steps) if "case/top" in s.brings)
    assert cut < bored < laid
    top = piece.by_path()["case/top"].part
    assert all(f.made_at is MadeAt.ASSEMBLY for f in top.features if isinstance(f, Hole))
