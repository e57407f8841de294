"""The laws on cases: every example order, and random orders from the whole grammar."""

from __future__ import annotations

import itertools
import random
from functools import lru_cache
from pathlib import Path

import pytest
from tests.laws.case_orders import random_case
from tests.laws.orders import case, project_of, random_shop
from tests.laws.test_laws import (
    NEVER,
    box_is_the_ordered_size,
    joints_close_once,
    no_leveller_nor_pull_is_finished,
    parts_arrive_once,
    printed_sizes_fit,
    tips_stay_inside,
    what_is_made_at_assembly_is_made_once,
)

from casewright import Project, load_order, load_shop
from casewright.accepting import accepted
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import JointKind
from casewright.design.mirror import mirror_piece
from casewright.design.sites import world_box
from casewright.order import order_from_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
TRIES = 60


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    if "case_seed" in metafunc.fixturenames:
        metafunc.parametrize("case_seed", range(metafunc.config.getoption("--variants")))


def pieces_hold(project: Project, codes: tuple[str, ...] = NEVER) -> None:
    """Assert every law of a piece on every piece of a project; layouts have laws of their own."""
    stops = [
        f for f in accepted(project.piece_findings, project.order.accepted) if f.stops and f.code.startswith(codes)
    ]
    assert not stops, [f"{f.code} {f.path} {f.message}" for f in stops]
    for piece in project.assembly.pieces:
        assert piece.placed
        box_is_the_ordered_size(piece)
        joints_close_once(piece)
        parts_arrive_once(piece)
        what_is_made_at_assembly_is_made_once(piece)
        no_leveller_nor_pull_is_finished(piece)
        printed_sizes_fit(piece)
        assert mirror_piece(mirror_piece(piece)) == piece
        tips_stay_inside(piece)


@lru_cache(maxsize=2048)
def valid_case(seed: int) -> tuple[str, str]:
    """Return the first order of a case and shop after a seed whose design has no stop."""
    rng = random.Random(seed)
    for _ in range(TRIES):
        order, shop = random_case(rng), random_shop(rng)
        project = project_of(order, shop)
        if not any(f.stops for piece in project.assembly.pieces for f in piece.findings):
            return order, shop
    raise AssertionError(f"no valid case in {TRIES} tries: the ranges of the generator are wrong")


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda p: p.stem)
def test_every_example(example: Path) -> None:
    pieces_hold(Project(load_order(example), load_shop()), codes=("",))


def test_random_valid_cases(case_seed: int) -> None:
    pieces_hold(project_of(*valid_case(case_seed)))


def test_the_examples_are_the_family() -> None:
    """Ten kinds of case, inches and millimetres, paint and clear finish, sheet and solid wood."""
    specs = [spec for path in EXAMPLES for spec in load_order(path).pieces if spec.kind == "case"]
    assert len({spec.name for spec in specs}) >= 10
    assert {spec.framed for spec in specs} == {True, False}  # type: ignore[attr-defined]
    assert {spec.finish for spec in specs} == {"paint", "clear"}  # type: ignore[attr-defined]
    assert {load_order(path).units for path in EXAMPLES} == {"in", "mm"}
    shop = load_shop()
    assert any(
        dict(spec.roles).get("case", ("",))[0] == "cherry-4/4" for path in EXAMPLES for spec in [load_order(path)]
    )
    assert shop.stock.items["cherry-4/4"].species == "cherry-black"  # type: ignore[union-attr]


def test_graduated_rows_differ_by_what_was_ordered() -> None:
    project = Project(load_order(EXAMPLES[0].parent / "six-drawer-chest.toml"), load_shop())
    sizes = {s.name: s.value for s in project.assembly.pieces[0].sizes}
    for c in (1, 2):
        heights = [sizes[f"opening[c{c},r{r}].height"] for r in (1, 2, 3)]
        assert heights[1] - heights[0] == pytest.approx(25.4, abs=1e-5)
        assert heights[2] - heights[1] == pytest.approx(25.4, abs=1e-5)


@pytest.mark.parametrize("mount", ["inset", "overlay", "half-overlay"])
@pytest.mark.parametrize("front", ["frame", "frameless"])
def test_fronts_that_one_sees_are_graduated(front: str, mount: str) -> None:
    """Rule of the trade (common practice): graduation applies to visible fronts, whatever they lap over."""
    text = f"""
        width = 700
        depth = 450
        height = 900
        front = "{front}"
        bays = {{ rows = ["drawer", "drawer", "drawer"], graduate = 25 }}
        fronts = {{ mount = "{mount}", drawer = "slab" }}
        roles = {{ drawer_front = "mdf-19" }}
    """
    (design,) = case(text).assembly.pieces
    boxes = {p.path: world_box(p) for p in design.placed if p.path.endswith("/front")}
    spans = [boxes[f"case/drawer[c1,r{r}]/face/front"] for r in (1, 2, 3)]
    heights = [hi[2] - lo[2] for lo, hi in spans]
    assert heights[1] - heights[0] == pytest.approx(25.0, abs=1e-3)
    assert heights[2] - heights[1] == pytest.approx(25.0, abs=1e-3)


NESTED = """{ columns = [
    { rows = ["drawer", { columns = ["drawer", "drawer"] }] }, { rows = [{ columns = ["drawer", "drawer"] }, "drawer"] }
] }"""


@pytest.mark.parametrize(
    ("grid", "stiles"),
    [
        ('{ columns = ["drawer", "drawer"] }', 1),
        ('{ rows = [{ columns = ["open", "drawer"] }, "drawer"] }', 1),
        (NESTED.replace("\n", " "), 3),
    ],
)
def test_a_narrow_centre_stile_has_a_screw_and_a_dowel(grid: str, stiles: int) -> None:
    """Rule of the trade (common practice): under 38 mm one screw and a dowel; the rails then come before the stiles."""
    text = f"""
        width = 1100
        depth = 450
        height = 800
        centre_stile = 32
        top_rail_visible = 40
        drawer_rail = 40
        bays = {grid}
    """
    project = case(text)
    pieces_hold(project)
    (design,) = project.assembly.pieces
    held = {j.a: [] for j in design.joints if "/frame/stile[" in j.a}  # type: ignore[var-annotated]
    for joint in design.joints:
        if joint.a in held:
            held[joint.a].append(joint.kind)
    assert len(held) == stiles
    both = [JointKind.DOWEL, JointKind.POCKET_SCREWS]
    assert all(sorted(kinds, key=lambda k: k.name) == [both[0]] * 2 + [both[1]] * 2 for kinds in held.values())
    for step in design.steps:
        closed = [j for j in design.joints if j.id.removeprefix("case/") in step.closes and j.kind is JointKind.DOWEL]
        for joint in closed:
            if joint.a in held and step.moves:
                assert all(move[0] == 0.0 for move in step.moves), f"{joint.id} slides along its dowel"


@pytest.mark.parametrize(("width", "rail", "codes"), [(32, 25, ["frame.one_screw"]), (32, 40, []), (40, 25, [])])
def test_a_narrow_centre_stile_without_room_for_a_dowel_is_told(width: int, rail: int, codes: list[str]) -> None:
    """A rail of 25 mm that stands between two stiles has 12 mm for each: half a dowel of 30 mm and its cover do not."""
    text = f"""
        width = 900
        depth = 450
        height = 800
        centre_stile = {width}
        top_rail_visible = 40
        drawer_rail = {rail}
        bays = {{ rows = [{{ columns = ["drawer", "drawer"] }}, {{ columns = ["drawer", "drawer"] }}] }}
    """
    found = case(text).piece_findings
    assert sorted({f.code for f in found if f.code == "frame.one_screw"}) == codes


def test_a_shelf_in_one_dado_holds_every_law_in_both_hands() -> None:
    text = """
        front = "frameless"
        handed = "pair"
        width = 900
        depth = 380
        height = 1100
        bays = { columns = [{ rows = ["open", "open"] }, "open"] }
        joints = { shelves = "dado" }
    """
    project = case(text)
    pieces_hold(project, codes=("",))
    left, right = project.assembly.pieces
    short = [next(p for p in piece.placed if "/shelf[" in p.path).part.bands[0].short for piece in (left, right)]
    assert all((low > 0) != (high > 0) for low, high in short), "the other end meets a divider, on dowels"


def test_drawers_on_runners_need_a_rail() -> None:
    text = """
        width = 600
        depth = 450
        height = 800
        bays = { rows = ["drawer", "drawer"], between = "gap" }
        fronts = { guide = "runner" }
    """
    stops = [f for f in case(text).piece_findings if f.stops]
    assert [f.code for f in stops] == ["bay.runners"]
    assert stops[0].path.endswith("bays[all]")


@pytest.mark.parametrize(("height", "codes"), [(70, ["foot.short"]), (95, [])])
def test_in_a_low_foot_dowel_and_levelling_foot_would_meet(height: int, codes: list[str]) -> None:
    """A dowel of 80 mm stands 40 in the foot, the stem of an M8 levelling foot 25 (stock); 2 mm stay between."""
    text = f"""
        width = 700
        depth = 450
        height = 900
        bays = "drawer"
        bottom_rail_visible = 90
        stand = {{ kind = "feet", height = {height}, square = 10, cove = 6, tip = 40 }}
    """
    found = case(text).piece_findings
    assert [f.code for f in found if f.stops and f.code.startswith("foot.")] == codes


def test_a_top_reaches_back_over_a_skirting() -> None:
    """Rule of the trade (common practice): its rear edge stands at the body's back plus the skirting."""
    text = """
        width = 700
        depth = 450
        height = 900
        bays = "drawer"
        bottom_rail_visible = 90
        stand = { kind = "STAND", height = HEIGHT }
    """
    before = "[room]\nskirting_height = 120\nskirting_thickness = 18\n"
    for stand, height, reach in (("feet", 100, 18), ("bracket feet", 100, 18), ("plinth", 130, 0), ("plinth", 80, 18)):
        told = text.replace("STAND", stand).replace("HEIGHT", str(height))
        (design,) = case(told, before).assembly.pieces
        sizes = {s.name: s.value for s in design.sizes}
        assert sizes["top.overhang_back"] == reach, stand
        top, back = (world_box(p) for part in ("top", "back") for p in design.placed if p.path == f"case/{part}")
        assert top[1][1] - back[1][1] == pytest.approx(reach - sizes["top.to_wall"], abs=1e-4)


def test_columns_change_over_in_a_mirrored_case() -> None:
    text = (EXAMPLES[0].parent / "six-drawer-chest.toml").read_text(encoding="utf-8")
    text = text.replace('name = "chest"', 'name = "chest"\nhanded = "pair"').replace(
        '{ rows = ["drawer", "drawer", "drawer"], graduate = 1 },', '{ rows = ["drawer", "open"] },', 1
    )
    left, right = Project(order_from_text(text, BUILT_IN.kinds), load_shop()).assembly.pieces
    assert {p.path for p in left.placed if "/drawer[c1," in p.path}
    assert not {p.path for p in left.placed if "/drawer[c1,r2]" in p.path}
    assert {p.path for p in right.placed if "/drawer[c1,r3]" in p.path}
    assert not {p.path for p in right.placed if "/drawer[c2,r2]" in p.path}


@pytest.mark.parametrize("finish", ["paint", "clear"])
@pytest.mark.parametrize("mount", ["inset", "overlay", "half-overlay"])
@pytest.mark.parametrize("front", ["frame", "frameless"])
def test_drawers_without_rails_have_one_gap_between_them(front: str, mount: str, finish: str) -> None:
    """Rule of the trade (common practice): n fronts in one opening have n + 1 gaps, and no rail stands behind them."""
    text = f"""
        width = 600
        depth = 450
        height = 800
        front = "{front}"
        finish = "{finish}"
        bays = {{ columns = [{{ rows = ["drawer", "drawer", "drawer"], between = "gap", graduate = 20 }}, "open"] }}
        fronts = {{ mount = "{mount}", drawer = "slab" }}
        roles = {{ drawer_front = "{"cherry-4/4" if finish == "clear" else "mdf-19"}" }}
    """
    project = case(text)
    pieces_hold(project, codes=("",))
    (design,) = project.assembly.pieces
    assert not [p.path for p in design.placed if "/rail[" in p.path]
    fronts = [world_box(p) for p in design.placed if p.path.endswith("/face/front")]
    fronts.sort(key=lambda box: -box[0][2])
    sizes = {s.name: s.value for s in design.sizes}
    assert (sizes["gap.front_swelling"] > 0.3) == (finish == "clear")
    gap = sizes["gap.finished"] + sizes["gap.film"] + sizes["gap.front_swelling"]
    for above, below in itertools.pairwise(fronts):
        assert above[0][2] - below[1][2] == pytest.approx(gap, abs=1e-3)
    (chain,) = (c for c in design.chains if ".chain.fronts[" in c.id or "/chain.fronts[" in c.id)
    gaps = [item for item in chain.items if item.name.endswith(".gap")]
    assert len(gaps) == (4 if mount == "inset" else 2)
    assert sum(item.value for item in chain.items) == pytest.approx(chain.total.value, abs=1e-4)


@pytest.mark.parametrize("stand", ["plinth", "bracket feet", "feet", "sides"])
def test_a_solid_clear_case_takes_a_base_moulding_on_every_stand(stand: str) -> None:
    """Across the grain of its sides it is glued in front and slotted behind, at a height that the screws reach."""
    text = f"""
        width = 560
        depth = 450
        height = 800
        finish = "clear"
        base = true
        bays = "door"
        stand = {{ kind = "{stand}" }}
        roles = {{ case = "cherry-4/4" }}
    """
    project = case(text)
    pieces_hold(project)
    slotted = {j.id for p in project.assembly.pieces for j in p.joints if j.id.endswith("~side.left.slots")}
    assert slotted == {"case/base/left~side.left.slots"}
