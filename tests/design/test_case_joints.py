"""Joints of a case that the order names, or that are chosen with a reason: shelves, face frame, plinth."""

from __future__ import annotations

import pytest
from tests.design.harness import CACHE, agrees_with_kernel
from tests.design.test_cases import POSTS, SIZE, box, built
from tests.laws.orders import SHOP, case

from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.sites import world_box
from casewright.solids.measure import volume_of

SHELVED = f'{SIZE}bays = {{ rows = ["open", "open"] }}\n'


def kinds_of(text: str, before: str = "", shop: str = SHOP) -> dict[str, JointKind]:
    return {j.id.removeprefix("case/"): j.kind for j in built(case(text, before, shop)).joints}


def test_a_fixed_shelf_stands_in_dados_where_a_frame_hides_them() -> None:
    """A third of an 18 mm side deep (common practice), at both ends; the joint says why."""
    piece = built(case(SHELVED))
    joint = next(j for j in piece.joints if j.id == "case/shelf[r1]~side.left")
    assert joint.kind is JointKind.DADO
    assert "bears on wood" in joint.why
    thick = piece.by_path()["case/side.left"].part.blank.thickness
    (x0, _, _), _ = box(piece, "shelf[r1]")
    assert box(piece, "side.left")[1][0] - x0 == pytest.approx(thick / 3, abs=1e-5)


SOLID = '[roles]\ncase = "cherry-4/4"\n'
MACHINES = '[[machine]]\nname = "table saw"\nkind = "table saw"\n[[machine]]\nname = "drill press"\nkind = "drill"\n'


@pytest.mark.parametrize(
    ("text", "before", "shop", "why"),
    [
        (f'front = "frameless"\n{SHELVED}', "", SHOP, "ends of the shelf's band"),
        (f'front = "frameless"\n{SHELVED}', SOLID, SHOP, ""),
        (f'front = "frameless"\n{SHELVED}', SOLID, SHOP + MACHINES, "no router"),
        (SHELVED, SOLID, SHOP, ""),
    ],
)
def test_auto_says_what_speaks_against_a_dado(text: str, before: str, shop: str, why: str) -> None:
    """By what the shelf is of, what is seen and what the shop has: a stopped dado takes a router and no band."""
    piece = built(case(text, before, shop))
    joint = next(j for j in piece.joints if j.id == "case/shelf[r1]~side.left")
    assert joint.kind is (JointKind.DOWEL if why else JointKind.DADO)
    assert why in joint.why


@pytest.mark.parametrize(
    ("wanted", "kind"),
    [
        ("pocket screws", JointKind.POCKET_SCREWS),
        ("dowels", JointKind.DOWEL),
        ("tenon", JointKind.TENON),
        ("half lap", JointKind.HALF_LAP),
    ],
)
def test_corners_of_the_face_frame_are_joined_as_ordered(wanted: str, kind: JointKind) -> None:
    text = f'{SHELVED}top_rail_visible = 60\nbottom_rail_visible = 70\njoints = {{ frame = "{wanted}" }}'
    project = case(text)
    kinds = {j.id.removeprefix("case/"): j.kind for j in built(project).joints}
    assert {kinds[f"frame/rail.{rail}~stile.{hand}"] for rail in ("top", "bottom") for hand in ("left", "right")} == {
        kind
    }
    assert not [f for f in project.piece_findings if f.stops]


@pytest.mark.parametrize(("rail", "codes"), [(28, {"frame.dowels"}), (32, set())])
def test_a_rail_too_low_for_two_dowels_is_found_at_its_key(rail: int, codes: set[str]) -> None:
    """Two of 8 mm in a frame of 19 mm: 8 between them, and a quarter of the rail from its edges to their middles."""
    project = case(f'{SHELVED}top_rail_visible = {rail}\nbottom_rail_visible = 60\njoints = {{ frame = "dowels" }}')
    found = [f for f in project.piece_findings if f.stops]
    assert {f.code for f in found} == codes
    assert {f.path for f in found} <= {"case/joints.frame"}


def test_a_plinth_is_mitred_with_keys_across_its_corners() -> None:
    """Two keys or more, their slots 0.7 of the mitre deep; each a right-angled triangle flush with both faces."""
    project = case(f'{POSTS}stand = {{ kind = "plinth" }}\njoints = {{ plinth = "keyed mitre" }}')
    piece = built(project)
    assert not [f for f in project.piece_findings if f.severity.value in ("stop", "warn")]
    agrees_with_kernel(piece, 8)
    assert {j.kind for j in piece.joints if j.id in ("case/plinth/front~left", "case/plinth/front~right")} == {
        JointKind.KEY_MITRE
    }
    keys = [p for p in piece.placed if "/plinth/key.left[" in p.path]
    assert len(keys) == round((box(piece, "plinth/front")[1][2] - box(piece, "plinth/front")[0][2]) / 40.0) >= 2
    thick = piece.by_path()["case/plinth/front"].part.blank.thickness
    deep = 0.7 * thick * 2**0.5
    for key in keys:
        b = key.part.blank
        assert (b.length, b.width) == (pytest.approx(2 * deep, abs=1e-4), pytest.approx(deep, abs=1e-4))
        assert volume_of(key.part, CACHE) == pytest.approx(deep * deep * b.thickness, rel=1e-4)
        assert key.part.rough[0] > b.length, "it stands over both faces until it is trimmed"
    sawn = next(s for s in piece.steps if "slots across" in s.text)
    assert any("cradle" in c.text for c in sawn.cautions)


def test_a_plinth_is_mitred_with_splines_where_it_is_ordered_or_seen_through_the_finish() -> None:
    ordered = kinds_of(f'{SHELVED}joints = {{ plinth = "mitre" }}')
    assert ordered["plinth/front~left"] is JointKind.SPLINE_MITRE
    assert kinds_of(f'finish = "clear"\n{SHELVED}')["plinth/front~left"] is JointKind.SPLINE_MITRE
    assert kinds_of(SHELVED)["plinth/front~left"] is JointKind.POCKET_SCREWS


@pytest.mark.parametrize("handed", ["none", "pair"])
def test_the_notch_of_a_stopped_dado_takes_the_bands_end_with_it(handed: str) -> None:
    """Banded first, notched then: between the sides the band is whole, and nothing of it stands in them."""
    project = case(f'front = "frameless"\nhanded = "{handed}"\n{SHELVED}joints = {{ shelves = "dado" }}')
    for piece in project.assembly.pieces:
        assert not [f for f in project.piece_findings if f.stops]
        agrees_with_kernel(piece, 6)
        shelf = next(p for p in piece.placed if "/shelf[" in p.path)
        side = next(p for p in piece.placed if p.path.endswith("/side.left"))
        (band,) = shelf.part.bands
        into = [f.depth for f in side.part.features if type(f).__name__ == "Dado"]
        assert band.short == (pytest.approx(into[0], abs=0.01), pytest.approx(into[0], abs=0.01))
        visible = box_of(piece, "side.right")[0][0] - box_of(piece, "side.left")[1][0]
        assert shelf.part.blank.length - sum(band.short) == pytest.approx(visible, abs=1e-3)


def box_of(piece: PieceDesign, name: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The box of a part of a piece of any hand."""
    return world_box(next(p for p in piece.placed if p.path.endswith(f"/{name}")))


def test_a_dado_beside_corner_posts_is_found_at_its_key() -> None:
    piece = case(f'{SHELVED}stand = {{ kind = "posts" }}\njoints = {{ shelves = "dado" }}').assembly.pieces[0]
    assert [(f.code, f.path) for f in piece.findings if f.stops] == [("shelf.dado", "case/joints.shelves")]
