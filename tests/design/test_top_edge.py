"""The profile along a top's upper edge, tops of every kind."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.design.harness import CACHE, agrees_with_kernel
from tests.design.test_case_backs import loud
from tests.design.test_cases import SIZE, built, case
from tests.laws.orders import SHOP, project_of
from tests.solids.ocp_oracle import volume_of_shape

from casewright.design.features.edges import EdgeProfile
from casewright.order.errors import OrderError
from casewright.packet import step
from casewright.packet.standing import bench_part
from casewright.solids.measure import volume_of

GRID = 'bays = "pair"\n'
# What of a square of the size goes, as a share: triangle; square less a quarter circle; quarter circle; half of each.
TAKEN = {"chamfer": 0.5, "roundover": 1 - math.pi / 4, "cove": math.pi / 4, "ogee": 0.5}


def shaped(shape: str, kind: str, size: str = "", grid: str = GRID) -> str:
    high = SIZE.replace("800", "450") if kind == "lid" else SIZE
    return f'{high}{grid}top = {{ kind = "{kind}", edge = "{shape}"{size} }}\n'


@pytest.mark.parametrize("shape", TAKEN)
def test_a_solid_top_loses_what_its_profile_takes(shape: str) -> None:
    """By hand: the section of the profile × the arris, less what two arrises at a corner share."""
    size = 8.0
    project = case(shaped(shape, "solid", f", edge_size = {size}"))
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 6)
    top = piece.by_path()["case/top"].part
    whole = replace(top, features=tuple(f for f in top.features if not isinstance(f, EdgeProfile)))
    arrises = top.blank.length + 2 * top.blank.width
    section = TAKEN[shape] * size * size
    got = volume_of(whole, CACHE) - volume_of(top, CACHE)
    assert section * (arrises - 4 * size) <= got <= section * arrises
    assert volume_of_shape(step.shape_of(top.lowered())) == pytest.approx(volume_of(top, CACHE), rel=1e-6), "STEP"
    run = next(s for s in piece.steps if s.text.startswith("Run a"))
    assert "across the ends first" in run.text
    assert ("both radii 4 mm," in run.text) == (shape == "ogee"), "a bit is bought by its radius, half of the whole"
    assert any("router" in c.text for c in run.cautions)


@pytest.mark.parametrize(("kind", "parts"), [("panelled", 4), ("breadboard", 3), ("lid", 2)])
def test_every_part_whose_edge_shows_is_shaped(kind: str, parts: int) -> None:
    project = case(shaped("roundover", kind, grid='bays = "closed"\n' if kind == "lid" else GRID))
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 6)
    own = [p for p in piece.placed if "/top" in p.path or "lid" in p.path]
    cut = [p for p in own if any(isinstance(f, EdgeProfile) for f in getattr(p.thing, "features", ()))]
    assert len(cut) == parts
    assert {f.sizes for p in cut for f in p.part.features if isinstance(f, EdgeProfile)} == {(6.0, 6.0)}, "top.edge"
    # What is joined is shaped as one: its parts leave the bench square, as their drawings show them.
    assert not any(isinstance(f, EdgeProfile) for p in cut for f in bench_part(p.part).features) or kind == "lid"
    at, run = next((i, s) for i, s in enumerate(piece.steps) if "along the upper edge" in s.text)
    first = "Run" if kind == "lid" else "Turn the joined top face up and run"
    assert run.text.startswith(f"{first} a roundover")
    last = next(s.text for s in piece.steps if s.text.startswith("Set the piece in its place"))
    assert ("set doors once more" in last) == (kind != "lid"), "only what hangs in it is set"
    assert "drawers" not in last
    joined = [i for i, s in enumerate(piece.steps) if s.into == "case/top.set"]
    assert kind == "lid" or (len(joined) > 2 and max(joined) < at)


def test_a_bedside_cabinet_takes_it_too() -> None:
    head = 'format = 1\ntitle = "b"\nunits = "mm"\n[[piece]]\nkind = "bedside"\n'
    head += '[piece.top]\nedge = "ogee"\nedge_size = 10\n'
    project = project_of(head, SHOP)
    assert not [f for f in project.piece_findings if f.stops]
    for piece in project.assembly.pieces:
        top = next(p.part for p in piece.placed if p.path.endswith("/top"))
        assert len([f for f in top.features if isinstance(f, EdgeProfile)]) == 3
        assert any("ogee of 10 mm" in s.text for s in piece.steps)


def test_a_profile_that_takes_too_much_is_found_and_a_sheet_takes_none() -> None:
    found = [f for f in case(shaped("cove", "solid", ", edge_size = 18")).assembly.pieces[0].findings if f.stops]
    assert [(f.code, f.path) for f in found] == [("top.edge", "case/top.edge")]
    with pytest.raises(OrderError, match="solid wood"):
        case(shaped("cove", "banded"))
    with pytest.raises(OrderError, match="not square"):
        case(shaped("square", "solid", ", edge_size = 8"))
    lid = shaped("chamfer", "lid", grid='bays = "closed"\nroles = { lid = "birch-plywood-18" }\n')
    assert {f.code for f in case(lid).assembly.pieces[0].findings if f.stops} == {"top.edge"}
