"""A piece designed under any name and given its own is the piece designed under its own name."""

from __future__ import annotations

from dataclasses import replace

from tests.laws.orders import project_of, random_order, random_shop
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import PieceDesign
from casewright.design.build import design_piece, handed, moisture_of, nameless
from casewright.design.kit import Kit
from casewright.design.mirror import mirror_piece
from casewright.design.paths import ANY, own_piece
from casewright.order import order_from_text
from casewright.order.fitting import practice_for, sizes_for
from casewright.units.grid import canonical

NAME = "left-hand-chest"


def designed(project: Project, path: str) -> PieceDesign:
    """Return the first piece of an order, designed under a path."""
    order, shop = project.order, project.shop
    spec = order.pieces[0]
    kit = Kit(sizes=sizes_for(order, spec, shop), practice=practice_for(order, shop))
    return design_piece(BUILT_IN.builder(spec.kind), nameless(spec), path, kit, moisture_of(order.room), {})


def projects() -> list[Project]:
    import random

    rng = random.Random(5)
    return [Project(load_order(DEMO), load_shop())] + [
        project_of(random_order(rng), random_shop(rng)) for _ in range(4)
    ]


def test_own_name_given_later_is_own_name_from_the_start() -> None:
    for project in projects():
        any_name = designed(project, ANY)
        for own, meant in ((own_piece(any_name, NAME, ""), designed(project, NAME)),):
            assert canonical(own) == canonical(meant)
            assert {f.joint for p in own.placed for f in getattr(p.thing, "features", ())} <= {
                "", *(ANY + j.id.removeprefix(NAME) for j in own.joints)
            }  # fmt: skip


def test_a_name_that_speaks_of_left_and_right_is_kept_in_the_mirror_image() -> None:
    project = projects()[0]
    right = own_piece(handed(designed(project, ANY), "right"), f"{NAME}.right", "")
    assert right.path == f"{NAME}.right"
    assert all(p.path.startswith(f"{NAME}.right/") for p in right.placed)
    plain = mirror_piece(designed(project, "chest.left"))
    assert [p.path.removeprefix("chest.right") for p in plain.placed] == [
        p.path.removeprefix(f"{NAME}.right") for p in right.placed
    ]


def test_equal_pieces_of_other_names_are_designed_checked_and_laid_out_once() -> None:
    text = DEMO.read_text(encoding="utf-8")
    head, piece = text.split("[[piece]]")
    twin = piece.replace('name = "bedside"', 'name = "twin"')
    cache = Cache()
    shop = load_shop()
    first = Project(order_from_text(text, BUILT_IN.kinds), shop, cache)
    assert first.piece_findings is not None
    assert first.marks
    before = len(cache)
    both = Project(order_from_text(f"{head}[[piece]]{piece}\n[[piece]]{twin}", BUILT_IN.kinds), shop, cache)
    assert len(both.assembly.pieces) == 4
    assert both.marks == first.marks
    assert {f.path.split("/")[0] for f in both.piece_findings} >= {"twin.left", "twin.right"}
    assert len(both.piece_findings) == 2 * len(first.piece_findings)
    assert len(cache) == before, "nothing was computed anew"
    assert sum(w.count for n in both.needs for w in n.wanted) == 2 * sum(w.count for n in first.needs for w in n.wanted)
    places = {p.place for piece in both.assembly.pieces for p in piece.placed}
    assert len(places) == 2, "each says where in the order it comes from"


def test_what_is_ordered_tells_nothing_of_name_count_or_hand() -> None:
    spec = load_order(DEMO).pieces[0]
    other = replace(spec, name="other", count=9, hands=("right",), place="elsewhere")  # type: ignore[type-var]
    assert nameless(spec) == nameless(other)
