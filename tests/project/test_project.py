"""The project: stages computed once, layouts verified, findings accepted and reopened, slices that redesign nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.accepting import worse
from casewright.cache import Cache
from casewright.catalogue import BUILT_IN, Catalogue
from casewright.design.parts import Form, Part
from casewright.findings import Finding, Severity
from casewright.layout.model import Status, to_grid_up
from casewright.order import order_from_text
from casewright.shop import shop_from_text

TEXT = DEMO.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def project() -> Project:
    return Project(load_order(DEMO), load_shop())


def test_every_part_of_every_piece_is_laid_out(project: Project) -> None:
    wanted = sum(w.count for need in project.needs for w in need.wanted)
    parts = [p for piece in project.assembly.pieces for p in piece.placed if isinstance(p.thing, Part)]
    assert wanted == len(parts)
    assert {need.form for need in project.needs} == set(Form)
    for laid in project.layouts:
        assert not laid.findings
        assert not laid.layout.unplaced
        outcome = laid.layout.outcome
        assert outcome.bound <= outcome.value
        assert outcome.status is not Status.INFEASIBLE


def test_rough_sizes_are_what_is_laid_out(project: Project) -> None:
    need = next(n for n in project.needs if n.form is Form.BOARD and n.item.startswith("cherry"))
    top = need.wanted[0]
    part = need.demand.parts[0]
    assert part.length == to_grid_up(top.part.blank.length + 25.4)
    assert top.part.finished == top.part.blank.size, "no bands: finished is cut"


def test_a_new_price_redesigns_nothing() -> None:
    cache = Cache()
    order = load_order(DEMO)
    first = Project(order, load_shop(), cache)
    assert first.assembly.pieces
    assert first.piece_findings is not None
    before = len(cache)
    shop = load_shop()
    dearer = replace(shop, prices=replace(shop.prices, margin=0.5))
    second = Project(order, dearer, cache)
    assert second.assembly == first.assembly
    assert second.piece_findings == first.piece_findings
    assert len(cache) == before, "nothing was computed anew"


def test_marks_once_printed_are_kept(project: Project) -> None:
    kept = {key: mark.label for key, mark in project.marks.items()}
    wider = order_from_text(TEXT.replace("width = 19", "width = 20"), BUILT_IN.kinds)
    again = Project(wider, load_shop(), marks_before=kept)
    for key, mark in again.marks.items():
        if key in kept:
            assert mark.label == kept[key]
        else:
            assert mark.label not in kept.values()
    labels = [m.label for m in again.marks.values()]
    assert len(set(labels)) == len(labels)


def test_count_multiplies_parts_and_not_designs() -> None:
    one = Project(load_order(DEMO), load_shop())
    many = Project(
        order_from_text(TEXT.replace('handed = "pair"', 'handed = "pair"\ncount = 7'), BUILT_IN.kinds), load_shop()
    )
    assert len(many.assembly.pieces) == len(one.assembly.pieces)
    assert sum(w.count for n in many.needs for w in n.wanted) == 7 * sum(w.count for n in one.needs for w in n.wanted)


def test_an_accepted_finding_keeps_its_reason_and_reopens_when_it_gets_worse() -> None:
    path = "bedside.left/device"
    accept = f'\n[[accept]]\ncode = "device.packing"\npath = "{path}"\nvalue = 7.4\nreason = "felt is at hand"\n'
    project = Project(order_from_text(TEXT + accept, BUILT_IN.kinds), load_shop())
    left = next(f for f in project.findings if f.code == "device.packing" and f.path == path)
    right = next(f for f in project.findings if f.code == "device.packing" and f.path != path)
    assert left.accepted == "felt is at hand"
    assert not right.accepted
    finding = Finding(code="c", severity=Severity.STOP, path="p", message="m", value=5.0, limit=4.0)
    assert worse(finding, 4.5)
    assert not worse(finding, 5.0)
    low = replace(finding, value=3.0, limit=4.0)
    assert worse(low, 3.5)
    assert not worse(low, 2.5)


def test_a_shop_that_lacks_what_a_joint_needs_gives_a_finding_not_a_crash() -> None:
    shop = shop_from_text(
        'format = 1\nname = "F"\nunits = "mm"\n[roles]\ncase = "multi-ply-birch-9"\n[measured]\nmulti-ply-birch-9 = 9'
    )
    project = Project(load_order(DEMO), shop)
    assert project.stops
    assert all(not p.placed for p in project.assembly.pieces)
    assert {f.code for f in project.stops} & {"stock.lacking", "stile.narrow"}


def test_two_entries_of_one_name_are_refused_by_the_catalogue() -> None:
    with pytest.raises(ValueError, match="bedside"):
        BUILT_IN.plus(Catalogue(kinds=BUILT_IN.kinds))
    assert BUILT_IN.plus(Catalogue()) == BUILT_IN


def test_mitres_share_a_cut_only_where_the_section_survives_a_turn() -> None:
    """A plain rectangle lies end for end as it lay before; a crown or an ogee does not (common practice)."""

    from casewright.demand import stick_demand
    from casewright.layout.model import StickDemand

    project = Project(load_order(DEMO), load_shop())
    sticks = {n.item: n for n in project.needs if isinstance(n.demand, StickDemand)}
    assert not any(n.demand.share_mitres for item, n in sticks.items() if item.startswith(("crown", "base", "panel")))  # type: ignore[union-attr]
    mitred = next(n for item, n in sticks.items() if item.startswith("panel"))
    flat = [replace(w, part=replace(w.part, blank=replace(w.part.blank, section=None))) for w in mitred.wanted]
    stick = project.stock[mitred.item]
    shared = stick_demand(stick, tuple(flat), project.practice, project.shop.machines, 1.0)  # type: ignore[arg-type]
    assert shared.share_mitres
