"""Cases and walls: fixing rail, split battens, scribing strips, hanging rod; what the screws bear, by hand."""

from __future__ import annotations

import pytest
from tests.design.harness import agrees_with_kernel, box, done, found, kit_of, sizes, sound
from tests.design.test_cases import built, case

from casewright.design.blocks.hanging import hanging_rod
from casewright.design.blocks.scribe import scribe_side, scribe_top
from casewright.design.blocks.wall_fixing import (
    fixing_rail,
    hang_by_battens,
    hang_by_rail,
    own_mass,
    tip_restraint,
    usual_contents,
)
from casewright.design.features.holes import Hole
from casewright.findings import Severity

KIT = kit_of()


def railed(width: float = 900.0):
    d, body = box(width=width, z0=0.0, z1=600.0)
    return d, body, fixing_rail(d, KIT, body, d.at("back"), d.at("stretcher.rear"))


def hung(contents: float):
    d, body, rail = railed()
    return d, body, hang_by_rail(d, KIT, body, d.at("back"), rail, contents)


def only_notes(d) -> None:
    """The design is sound but for what it says about the wall."""
    piece = done(d)
    told = [f for f in found(piece) if f.severity is not Severity.NOTE]
    assert not told, told[:3]


def test_a_fixing_rail_says_what_each_screw_bears() -> None:
    d, _, held = hung(contents=40.0)
    # 900 mm wide: 861.9 inside, 80 off its ends, a screw every 16 in (406.4 mm): 2.
    assert held.screws == 2
    assert held.each == pytest.approx((own_mass(d) + 40.0) / 2)
    only_notes(d)
    (note,) = [f for f in d.findings if f.code == "wall.load"]
    assert (note.severity, note.value) == (Severity.NOTE, pytest.approx(held.each, abs=1e-3))
    for name in ("fixing_rail", "back"):
        holes = [f for f in done(d).by_path()[f"bench/{name}"].part.features if isinstance(f, Hole)]
        assert len(holes) >= 2
    assert [(b.item, b.count) for b in d.bought] == [("washer-10x3", 2)]


def test_too_much_on_a_screw_stops_the_design() -> None:
    d, _, _ = hung(contents=120.0)
    assert [f.severity for f in d.findings if f.code == "wall.load"] == [Severity.STOP]


def test_mass_of_a_plain_box() -> None:
    """A board 1 m × 100 × 20 mm of 600 kg/m³ has 1.2 kg: the harness's box, part by part."""
    d, _ = box()
    parts = [p.part for p in done(d).placed]
    by_hand = sum(p.blank.length * p.blank.width * p.blank.thickness * 1e-9 * p.mass_density for p in parts)
    assert own_mass(d) == pytest.approx(by_hand)


def test_split_battens_hang_the_case_off_the_wall_by_their_thickness() -> None:
    d, body, rail = railed()
    hang_by_battens(d, KIT, body, d.at("back"), rail, 20.0)
    only_notes(d)
    piece = done(d)
    agrees_with_kernel(piece, 6)
    thick = sizes(piece)["batten.thickness"]
    wall = piece.by_path()["bench/batten.wall"]
    assert wall.frame.origin[1] == pytest.approx(body.depth + thick)
    assert {j.kind.value for j in piece.joints if j.id == "bench/batten.case~wall"} == {"held removably"}


def test_a_tip_restraint_is_listed_and_told() -> None:
    d, _ = box()
    tip_restraint(d, KIT, d.at("stretcher.front"))
    assert [(b.item, b.count) for b in d.bought] == [("tip-strap", 1)]
    assert [f.severity for f in d.findings] == [Severity.NOTE]
    assert f"screw the straps to the {d.at('stretcher.front').name}" in d.findings[0].remedy


@pytest.mark.parametrize(
    ("top", "closed_by"), [("", "rear stretcher"), ('top = { kind = "between" }\n', "top panel")]
)  # a top over the case lies on stretchers, one between the sides closes it
def test_straps_are_screwed_to_what_closes_the_case(top: str, closed_by: str) -> None:
    project = case(f'width = 800\ndepth = 500\nheight = 1500\n{top}bays = "pair"\n')
    names = {p.name for p in built(project).placed}
    (found,) = [f for f in project.findings if f.code == "wall.tie"]
    assert closed_by in names
    assert f"screw the straps to the {closed_by} and to a stud" in found.remedy
    assert any(f"with its straps, before it is used: its {closed_by} to a stud" in s.text for s in built(project).steps)


def test_scribing_strips_are_cut_over() -> None:
    d, body = box()
    for sign in (-1, 1):
        scribe_side(d, KIT, body, sign)
    scribe_top(d, KIT, body, d.at("stretcher.front"))
    piece = sound(d)
    strip = piece.by_path()["bench/scribe.left"].part
    assert strip.rough[1] - strip.blank.width == pytest.approx(19.05 - 6.35)


def test_a_hanging_rod_lies_in_its_sockets() -> None:
    d, body = box(width=900.0, depth=580.0, z1=1800.0)
    rod = hanging_rod(d, KIT, "hanging", d.at("side.left"), d.at("side.right"), body.z1 - body.side, body.inner_back)
    assert not d.findings
    piece = sound(d)
    agrees_with_kernel(piece, 5)
    assert body.inside - rod.part.blank.length == pytest.approx(2 * 3.0 + 1.0)
    assert rod.frame.origin[2] + rod.part.blank.thickness / 2 == pytest.approx(1800.0 - body.side - 65.0)


def test_a_long_rod_in_a_shallow_case_is_told() -> None:
    d, body = box(width=1400.0, depth=350.0, z1=1800.0)
    hanging_rod(d, KIT, "hanging", d.at("side.left"), d.at("side.right"), 1700.0, body.inner_back)
    assert {f.code for f in d.findings} == {"rod.span", "rod.load", "rod.depth"}


def test_contents_go_by_the_length_of_the_shelves() -> None:
    d, _ = box()
    assert usual_contents(d, 2400.0) == pytest.approx(2.4 * KIT.practice["wall.shelf_load"])


RODS = {
    "rods on both faces": "width = 1200\ndepth = 580\nheight = 1500\nstand = { kind = 'plinth', height = 80 }\n"
    'bays = { columns = [{ holds = "open", rod = true }, { holds = "open", rod = true }] }\n',
    "runners": "width = 1118.5\ndepth = 476\nheight = 1384\nstile_width = 54.5\ncentre_stile = 57\ndrawer_rail = 27\n"
    "top_rail_visible = 28\nbottom_rail_visible = 75.5\nstand = { kind = 'feet', height = 117, setback = 51 }\n"
    'back = { kind = "framed", panel = "solid panel" }\nfronts = { drawer = "panel", guide = "runner" }\n'
    'bays = { columns = [{ rows = ["drawer", "drawer", "drawer"] }, { holds = "open", rod = true }] }\n',
}


@pytest.mark.parametrize("what", RODS)
def test_screws_of_a_rod_meet_none_from_the_other_face_of_a_divider(what: str) -> None:
    """By their axes: two screws in one divider are further apart than half the sum of their diameters."""
    piece = built(case(f'{RODS[what]}front = "frame"\ntop = {{ kind = "between" }}\n'))
    inside = [f for f in piece.fasteners if "case/divider[u1]" in f.parts and abs(f.frame.z[0]) > 0.9]
    rods = [f for f in inside if "/socket." in f.path]
    assert len(rods) >= 2
    for rod in rods:
        for other in (f for f in inside if f is not rod):
            (_, y, z), (_, other_y, other_z) = rod.frame.origin, other.frame.origin
            apart = ((y - other_y) ** 2 + (z - other_z) ** 2) ** 0.5
            assert apart > rod.shank_radius + other.shank_radius, other.path
    assert len({f.frame.origin[2] for f in rods}) == 2, "rods side by side are level"
