"""Volumes by formula and by an independent kernel."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.solids.ocp_oracle import oracle_volume
from tests.solids.things import COVE_SECTION, board, every_feature

from casewright.cache import Cache
from casewright.design.blanks import Blank, Face
from casewright.design.features.cuts import Tenon
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.openings import Recess
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.frames import Frame
from casewright.design.outlines import circle, obround, polygon, rectangle, rounded_rectangle
from casewright.design.parts import Band, Form, Hardware, Part
from casewright.design.volumes import Cone, HalfSpace, Loft, Lowered, Prism
from casewright.solids.evaluate import SolidError, solid, solid_of
from casewright.solids.measure import mass_of, volume_of

WITHIN = 1e-3  # the agreement that is asked for; most are far closer
FLOOR = Frame()


def measured(lowered: Lowered) -> float:
    return float(solid_of(lowered).body.volume())


def test_a_box_is_length_by_width_by_thickness() -> None:
    assert volume_of(board(812.8, 304.8, 19.05), Cache()) == pytest.approx(812.8 * 304.8 * 19.05, rel=1e-12)


def test_a_through_hole_takes_a_cylinder() -> None:
    part = board(100.0, 50.0, 20.0, Hole(face=Face.FACE1, u=30.0, v=20.0, diameter=10.0))
    assert volume_of(part, Cache()) == pytest.approx(100 * 50 * 20 - math.pi * 25 * 20, rel=1e-12)


def test_a_countersunk_hole_takes_a_cylinder_and_the_rest_of_a_cone() -> None:
    part = board(
        100.0, 50.0, 20.0, Hole(face=Face.FACE1, u=30.0, v=20.0, diameter=6.0, countersink=12.0, sink_angle=90.0)
    )
    cone = math.pi * 3.0 * (6.0**2 + 6.0 * 3.0 + 3.0**2) / 3
    assert volume_of(part, Cache()) == pytest.approx(100 * 50 * 20 - math.pi * 9 * 17 - cone, rel=1e-6)


def test_a_taper_takes_a_wedge() -> None:
    part = board(500.0, 40.0, 40.0, Taper(face=Face.FACE1, towards=Face.END1, start=200.0, inset=12.0))
    assert volume_of(part, Cache()) == pytest.approx(500 * 40 * 40 - 300 * 12 / 2 * 40, rel=1e-9)


def test_a_cove_takes_a_circular_segment() -> None:
    part = board(100.0, 30.0, 20.0, Cove(face=Face.FACE1, at=50.0, radius=10.0, depth=4.0))
    half = math.acos(6.0 / 10.0)
    segment = 100.0 * (half - math.sin(half) * math.cos(half))
    assert volume_of(part, Cache()) == pytest.approx(100 * 30 * 20 - segment * 30, rel=1e-6)


def test_a_mitred_moulding_is_its_area_by_its_mean_length() -> None:
    # Cavalieri: a plane end through the section's centroid leaves the length at the centroid.
    part = board(300.0, 18.0, 18.0, EndCut(face=Face.END1, at=280.0, mitre=45.0), section=COVE_SECTION)
    length = 280.0 - (COVE_SECTION.centroid[0] - 9.0)
    assert volume_of(part, Cache()) == pytest.approx(COVE_SECTION.area * length, rel=WITHIN)


def test_a_tenon_leaves_its_tongue() -> None:
    part = board(200.0, 60.0, 20.0, Tenon(face=Face.END1, u0=10.0, u1=50.0, v0=6.0, v1=14.0, length=30.0))
    assert volume_of(part, Cache()) == pytest.approx(170 * 60 * 20 + 30 * 40 * 8, rel=1e-12)


def test_a_band_adds_its_material() -> None:
    blank = Blank(length=300.0, width=100.0, thickness=18.0)
    part = Part(form=Form.SHEET, stock="s", blank=blank, bands=(Band(face=Face.EDGE0, item="b", thickness=0.8),))
    assert volume_of(part, Cache()) == pytest.approx(300 * 100.8 * 18, rel=1e-9)
    assert solid(part, Cache()).low[1] == pytest.approx(-0.8, abs=1e-9)


@pytest.mark.parametrize(
    "outline",
    [
        circle(3.0, 4.0, 32.0),
        obround((0.0, 0.0), (40.0, 9.0), 7.0),
        rounded_rectangle(0.0, 0.0, 50.0, 30.0, 6.0),
        COVE_SECTION,
    ],
)
def test_a_prism_of_arcs_has_the_area_of_its_arcs(outline) -> None:
    prism = Prism(frame=FLOOR, outline=outline, height=11.0)
    assert measured(Lowered(base=(prism,))) == pytest.approx(outline.area * 11.0, rel=1e-12)


@pytest.mark.parametrize(("r0", "r1"), [(5.0, 5.0), (5.0, 2.0), (0.0, 4.0), (4.0, 0.0), (0.4, 0.4)])
def test_a_cone_has_the_volume_of_the_formula(r0: float, r1: float) -> None:
    cone = Cone(frame=FLOOR, r0=r0, r1=r1, height=9.0)
    assert measured(Lowered(base=(cone,))) == pytest.approx(cone.volume, rel=1e-12)


def test_lofts_agree_with_the_prismatoid_formula_also_where_they_twist() -> None:
    square = rectangle(-20.0, -20.0, 20.0, 20.0)
    foot = Loft(frame=FLOOR, lower=square, upper=rectangle(-12.0, -14.0, 15.0, 12.0), height=90.0)
    twisted = Loft(
        frame=FLOOR, lower=square, upper=polygon([(-4.0, -18.0), (18.0, -6.0), (5.0, 17.0), (-17.0, 6.0)]), height=90.0
    )
    assert measured(Lowered(base=(foot,))) == pytest.approx(foot.volume, rel=1e-12)
    assert measured(Lowered(base=(twisted,))) == pytest.approx(twisted.volume, rel=1e-6)


def test_facets_lie_inside_bodies_and_outside_cuts() -> None:
    disc = Prism(frame=FLOOR, outline=circle(0.0, 0.0, 20.0), height=10.0)
    plate = Prism(frame=FLOOR, outline=rectangle(-30.0, -30.0, 30.0, 30.0), height=10.0)
    body = float(solid_of(Lowered(base=(disc,)), 0.0).body.volume())
    cut = 36000.0 - float(solid_of(Lowered(base=(plate,), removals=(disc,)), 0.0).body.volume())
    assert body < disc.volume < cut
    # A chord error of at most 0.01 mm takes at most 0.01 mm × the curved surface.
    assert max(cut - disc.volume, disc.volume - body) < 0.01 * 2 * math.pi * 20.0 * 10.0


def lowered_cases() -> dict[str, Lowered]:
    pocket = PocketHole(
        face=Face.FACE0, u=180.0, v=35.0, du=1.0, dv=0.0, angle=15.0, diameter=4.0, pocket_diameter=9.5,
        shoulder=12.0, run=20.7,
    )  # fmt: skip
    wide = board(200.0, 70.0, 19.0, pocket)
    crossing = board(
        120.0, 60.0, 60.0, Hole(face=Face.FACE1, u=60.0, v=30.0, diameter=20.0),
        Hole(face=Face.EDGE1, u=60.0, v=30.0, diameter=16.0), EndCut(face=Face.END1, at=75.0, mitre=40.0, bevel=20.0),
    )  # fmt: skip
    moulding = board(
        250.0, 18.0, 18.0, EndCut(face=Face.END1, at=220.0, mitre=38.0, bevel=-12.0),
        EndCut(face=Face.END0, at=20.0, mitre=45.0), section=COVE_SECTION,
    )  # fmt: skip
    foot = board(
        90.0, 60.0, 60.0, Taper(face=Face.FACE1, towards=Face.END1, start=30.0, inset=14.0),
        Taper(face=Face.EDGE1, towards=Face.END1, start=30.0, inset=14.0),
        Cove(face=Face.FACE1, at=22.0, radius=8.0, depth=6.0), Cove(face=Face.EDGE1, at=22.0, radius=8.0, depth=6.0),
    )  # fmt: skip
    slotted = board(
        150.0, 60.0, 19.0, Recess(face=Face.FACE1, outline=obround((40.0, 30.0), (60.0, 30.0), 5.0), depth=19.0),
        Recess(face=Face.FACE1, outline=obround((40.0, 30.0), (60.0, 30.0), 12.0), depth=8.0),
    )  # fmt: skip
    twisted = Loft(
        frame=Frame(origin=(5.0, 6.0, 7.0)), lower=rectangle(0.0, 0.0, 30.0, 30.0),
        upper=polygon([(6.0, 2.0), (28.0, 8.0), (22.0, 28.0), (3.0, 20.0)]), height=50.0,
    )  # fmt: skip
    parts = {
        "every feature": every_feature(),
        "pocket": wide,
        "crossing holes": crossing,
        "moulding": moulding,
        "foot": foot,
        "slot": slotted,
    }
    return {name: p.lowered() for name, p in parts.items()} | {"twisted loft": Lowered(base=(twisted,))}


@pytest.mark.parametrize("name", lowered_cases())
def test_the_independent_kernel_agrees(name: str) -> None:
    lowered = lowered_cases()[name]
    assert measured(lowered) == pytest.approx(oracle_volume(lowered), rel=1e-5)


@given(
    mitre=st.floats(-60, 60), bevel=st.floats(-45, 45), diameter=st.floats(3, 30), depth=st.floats(2, 40),
    radius=st.floats(5, 30), share=st.floats(0.1, 1.0),
)  # fmt: skip
def test_random_parts_agree_with_the_independent_kernel(mitre, bevel, diameter, depth, radius, share) -> None:
    part = board(
        400.0, 80.0, 45.0, EndCut(face=Face.END1, at=340.0, mitre=mitre, bevel=bevel),
        Hole(face=Face.FACE1, u=150.0, v=40.0, diameter=diameter, depth=depth),
        Cove(face=Face.EDGE1, at=60.0, radius=radius, depth=radius * share * 0.9),
        Taper(face=Face.FACE0, towards=Face.END0, start=200.0, inset=8.0),
    )  # fmt: skip
    assert volume_of(part, Cache()) == pytest.approx(oracle_volume(part.lowered()), rel=1e-5)


def test_masses() -> None:
    cache = Cache()
    assert mass_of(board(1000.0, 100.0, 20.0), cache) == pytest.approx(0.002 * 600.0)
    knob = Hardware(item="knob", mass=0.03, bodies=(Cone(frame=FLOOR, r0=6.0, r1=12.0, height=25.0),))
    assert mass_of(knob, cache) == 0.03


def test_a_part_cut_away_entirely_is_empty() -> None:
    gone = Lowered(
        base=(Prism(frame=FLOOR, outline=rectangle(0.0, 0.0, 10.0, 10.0), height=5.0),),
        removals=(HalfSpace(frame=Frame(origin=(0.0, 0.0, -1.0))),),
    )
    assert solid_of(gone).empty


def test_volumes_that_make_no_solid_say_so() -> None:
    with pytest.raises(SolidError, match="half-space"):
        solid_of(Lowered(base=(HalfSpace(frame=FLOOR),)))
