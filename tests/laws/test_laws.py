"""The laws that every design must keep, on the demonstration order and on random valid orders."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.laws.orders import project_of, valid_texts

from casewright import Project, load_order, load_shop
from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import PieceDesign, Step, StepKind
from casewright.design.features.base import MadeAt
from casewright.design.features.edges import EdgeProfile
from casewright.design.ledger import Size
from casewright.design.mirror import mirror_piece
from casewright.design.parts import Part
from casewright.design.paths import own_path
from casewright.design.printed_sizes import keeps_chain, keeps_fit, printed_sizes
from casewright.order import order_from_text
from casewright.solids.collide import overall_box
from casewright.units import LengthStyle
from casewright.units.grid import canonical

STYLES = (
    LengthStyle(system="in", division=32),
    LengthStyle(system="in", division=16),
    LengthStyle(system="mm", division=0.1),
    LengthStyle(system="mm", division=0.5),
)
CACHE = Cache()
DEMO = Path(__file__).parents[2] / "examples" / "lantern-hill.toml"


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    if "seed" in metafunc.fixturenames:
        metafunc.parametrize("seed", range(metafunc.config.getoption("--variants")))


# What no design may ever have; other findings (a drawer overloaded, a screw near an edge) are the order's own.
NEVER = ("collision", "attached", "chain", "layout", "check.crashed")


def holds(project: Project, codes: tuple[str, ...] = ("",)) -> None:
    """Assert every law on every piece of a project, and that no finding of these codes (all) stops it."""
    assert project.assembly.pieces
    stops = [f for f in project.stops if f.code.startswith(codes)]
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


def box_is_the_ordered_size(piece: PieceDesign) -> None:
    lo, hi = overall_box(piece, CACHE, piece.excluded)
    for size, low, high in zip((piece.width, piece.depth, piece.height), lo, hi, strict=True):
        assert abs(high - low - size) < 1e-4
    assert abs(lo[2]) < 1e-4, "stands on the floor"
    assert abs(lo[0] + hi[0]) < 1e-4, "x = 0 is the middle"


def joints_close_once(piece: PieceDesign) -> None:
    closed = [c for s in piece.steps for c in s.closes]
    assert sorted(closed) == sorted(j.id for j in piece.joints)


def what_is_made_at_assembly_is_made_once(piece: PieceDesign) -> None:
    """Each hole or trim made at assembly is made in one step, not after its joint closes; every fastener is driven."""
    joints = {j.id for j in piece.joints}
    closed = {c: i for i, s in enumerate(piece.steps) for c in s.closes}
    assert {f.joint for f in piece.fasteners} <= joints == set(closed), "driven where its joint closes"
    made = [
        (own_path(f.joint, piece.path), p.path, isinstance(f, EdgeProfile))
        for p in piece.placed
        if isinstance(p.thing, Part)
        for f in p.thing.features
        if f.made_at is MadeAt.ASSEMBLY
    ]
    for joint, path, edge in made:
        steps = [i for i, s in enumerate(piece.steps) if joint in s.makes and path in s.made_in]
        assert len(steps) == 1, f"{joint} in {path} is made in {len(steps)} steps"
        late = steps[0] - closed[joint]
        held = any(f.joint == joint for f in piece.fasteners)
        if edge:  # a seam, or the edge of a joined top, is run once it is glued
            assert late > 0, f"{joint}: its edge is run {-late} steps too early"
            continue
        # A bolt's rod marks its own hole.
        assert late <= 0 or (not held and late == 1), f"{joint}: {late} steps too late"
    named = {(j, p) for s in piece.steps for j in s.makes for p in s.made_in}
    assert {(joint, path) for joint, path, _ in made} <= named


def no_leveller_nor_pull_is_finished(piece: PieceDesign) -> None:
    """What a coat would spoil comes after the last coat: levelling feet, pulls, knobs, felt and bumpers."""
    last = max((i for i, s in enumerate(piece.steps) if s.kind is StepKind.FINISH), default=-1)
    loose = [p.path for p in piece.placed if p.path.endswith(("/leveller", "/pull", "/device"))]
    for i, step in enumerate(piece.steps[: last + 1]):
        early = [p for p in loose if any(p == b or p.startswith(f"{b}/") for b in step.brings)]
        assert not early, f"{step.id} of {i} brings {early} before the finish"


def parts_arrive_once(piece: PieceDesign) -> None:
    """Replay the steps: each thing ends in the piece, brought into each place once more than it is removed."""
    where: dict[str, str] = {}
    for step in piece.steps:
        for name in step.brings:
            members = [p.path for p in piece.placed if p.path == name or p.path.startswith(name + "/")]
            assert members, f"{step.id} brings nothing called {name}"
            for path in members:
                if step.kind is StepKind.REMOVE:
                    assert where[path] == piece.path, f"{path} is taken away and was not there"
                    where[path] = "taken away"
                    continue
                assert where.get(path) != step.into, f"{path} arrives in {step.into} twice"
                where[path] = step.into
    assert where == {p.path: piece.path for p in piece.placed}
    assert all(has_moves(s) for s in piece.steps)


def has_moves(step: Step) -> bool:
    return not step.moves or step.kind in (StepKind.BRING, StepKind.REMOVE)


def printed_sizes_fit(piece: PieceDesign) -> None:
    names = {s.name for s in piece.sizes}
    for style in STYLES:
        printed = printed_sizes(piece, style)
        assert set(printed) == names
        assert all(keeps_fit(fit, printed) for fit in piece.fits)
        assert all(keeps_chain(chain, printed) for chain in piece.chains)


def tips_stay_inside(piece: PieceDesign) -> None:
    """No screw, pin or dowel comes out of the last part that it is driven into."""
    by_path = piece.by_path()
    for fastener in piece.fasteners:
        tip = fastener.tip
        boxes = [by_path[p] for p in fastener.parts]
        assert any(_holds(placed, tip) for placed in boxes), f"{fastener.path} comes out"


def _holds(placed: object, tip: tuple[float, float, float]) -> bool:
    thing = placed.thing  # type: ignore[attr-defined]
    if not isinstance(thing, Part):
        return True  # a bolt ends in its pull
    local = placed.frame.local_point(tip)  # type: ignore[attr-defined]
    return all(-1e-6 <= c <= s + 1e-6 for c, s in zip(local, thing.blank.size, strict=True))


def test_demonstration_order() -> None:
    project = Project(load_order(DEMO), load_shop())
    holds(project)
    assert {p.path for p in project.assembly.pieces} == {"bedside.left", "bedside.right"}


def test_random_valid_orders(seed: int) -> None:
    order, shop, _ = valid_texts(seed)
    holds(project_of(order, shop), NEVER)


@pytest.mark.parametrize("seed_", range(4))
def test_same_input_same_design(seed_: int) -> None:
    order, shop, _ = valid_texts(seed_)
    first, second = project_of(order, shop), project_of(order, shop)
    assert canonical(first.assembly) == canonical(second.assembly)
    assert first.marks == second.marks
    assert first.findings == second.findings


def test_parts_do_not_depend_on_the_order_of_pieces() -> None:
    text = DEMO.read_text(encoding="utf-8")
    head, piece = text.split("[[piece]]")
    other = piece.replace('name = "bedside"', 'name = "second"').replace("width = 19", "width = 21")
    shop = load_shop()
    one = Project(order_from_text(f"{head}[[piece]]{piece}\n[[piece]]{other}", BUILT_IN.kinds), shop)
    two = Project(order_from_text(f"{head}[[piece]]{other}\n[[piece]]{piece}", BUILT_IN.kinds), shop)
    assert set(one.assembly.pieces) == set(two.assembly.pieces)
    assert len(one.assembly.pieces) == 4
    assert {m.key for m in one.marks.values()} == {m.key for m in two.marks.values()}


def test_mirrored_pair_is_a_mirror_image_hidden_things_too() -> None:
    left, right = Project(load_order(DEMO), load_shop()).assembly.pieces
    for a in left.placed:
        twin = right.by_path()[mirror_piece(left).placed[left.placed.index(a)].path]
        ends = [a.frame.point(p) for p in ((0.0, 0.0, 0.0), (1.0, 2.0, 3.0))]
        length = a.thing.blank.length if isinstance(a.thing, Part) else 0.0
        twins = [twin.frame.point((length - p[0], p[1], p[2])) for p in ((0.0, 0.0, 0.0), (1.0, 2.0, 3.0))]
        for e, t in zip(ends, twins, strict=True):
            assert (-e[0], e[1], e[2]) == pytest.approx(t, abs=2e-6)
    assert left.by_path()["bedside.left/device"].frame.origin[0] > 0, "the bed is to the left cabinet's right"
    assert right.by_path()["bedside.right/device"].frame.origin[0] < 0


def test_thicker_sheet_changes_every_dependent_size_and_all_still_holds() -> None:
    from casewright.shop import shop_from_text

    order = load_order(DEMO)
    rest = "birch-plywood-6 = 5.4\nmulti-ply-birch-12 = 12.0\nmdf-19 = 19.0\nmdf-6 = 6.4"
    head = 'format = 1\nname = "F"\nunits = "mm"\n[measured]\n'
    shops = [shop_from_text(f"{head}birch-plywood-18 = {t}\n{rest}") for t in ("18.0", "18.6")]
    before, after = (Project(order, shop) for shop in shops)
    holds(after)
    old = {s.name: s for s in before.assembly.pieces[0].sizes}
    new = {s.name: s for s in after.assembly.pieces[0].sizes}
    changed = {n for n in old if old[n].value != new[n].value}
    dependent = _dependents(new, "side.thickness")
    assert {"inside.width", "bottom.length", "stretcher.length", "back.width", "back.rabbet_depth"} <= changed
    assert changed <= dependent, "only what rests on the sheet's thickness changes"
    assert new["inside.width"].value == pytest.approx(old["inside.width"].value - 1.2, abs=1e-5)
    assert new["overall.width"] == old["overall.width"]


def _dependents(sizes: dict[str, Size], root: str) -> set[str]:
    out = {root}
    for name, size in sizes.items():
        if out & set(size.because):
            out.add(name)
    return out


def test_every_size_says_why() -> None:
    piece = Project(load_order(DEMO), load_shop()).assembly.pieces[0]
    for size in piece.sizes:
        assert size.rule, f"{size.name} gives no reason"
    named = {n for p in piece.placed for n in p.sizes if n}
    assert named <= {s.name for s in piece.sizes}


def test_empty_override_changes_nothing_and_a_measured_one_is_followed() -> None:
    order, shop = load_order(DEMO), load_shop()
    plain = Project(order, shop)
    assert Project(order, shop, overrides={"bedside.left": {}}).assembly == plain.assembly
    measured = Project(order, shop, overrides={"bedside.left": {"stile.width": 38.6}})
    left = {s.name: s for s in measured.assembly.pieces[0].sizes}
    assert left["stile.width"].value == 38.6
    assert left["stile.width"].measured
    was = {s.name: s.value for s in plain.assembly.pieces[0].sizes}
    assert left["rail.length"].value == pytest.approx(was["rail.length"] - 1.0, abs=1e-5)
    assert not measured.stops


def test_a_symmetric_check_finds_in_the_mirror_image_what_the_project_says_of_it() -> None:
    from dataclasses import replace

    from casewright.checks.model import run_checks
    from casewright.design.mirror import mirror_finding

    project = Project(load_order(DEMO), load_shop())
    left, right = project.assembly.pieces
    loose = [j for j in left.joints if not j.id.endswith("/back~side.left")][5:]
    moved = [replace(p, frame=p.frame.moved((0.0, 0.7, 0.3))) if p.path.endswith("/bottom") else p for p in left.placed]
    broken = replace(left, placed=tuple(moved), joints=tuple(loose))
    checks = BUILT_IN.checks
    found = run_checks(checks, replace(project.subject(left.path), piece=broken))
    mirrored = run_checks(checks, replace(project.subject(left.path), piece=mirror_piece(broken)))
    assert found
    carried = {mirror_finding(f) for f in found}
    # A pair of parts may be named from either side.
    assert {(f.code, frozenset((f.path, *f.related))) for f in carried} == {
        (f.code, frozenset((f.path, *f.related))) for f in mirrored
    }
    assert right.path == "bedside.right"
