"""Features against formulas: the wood that each takes, by hand, and what it leaves where."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from tests.solids.ocp_oracle import oracle_volume

from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.curves import arch, bracket, shaped_edge
from casewright.design.features.cuts import Groove, Rabbet
from casewright.design.features.edges import EdgeProfile, RipBevel, VGroove, chamfer, edge_cove, ogee, roundover
from casewright.design.features.hole_rows import HoleRow, pin_rows, spread
from casewright.design.features.mitres import KeySlot, MitreSlot
from casewright.design.features.openings import Recess, mortise
from casewright.design.features.shaping import EndCut
from casewright.design.features.stopped import dado, groove, half_lap, rabbet
from casewright.design.outlines import Outline, placed, rectangle
from casewright.design.parts import Band, Form, Part
from casewright.shop.outline_svg import svg_loops
from casewright.solids.evaluate import Solid, solid_of
from casewright.stock.sections import sound_loop

BOARD = Blank(length=300.0, width=80.0, thickness=20.0)
WHOLE = 300.0 * 80.0 * 20.0


def made(*features: Feature, blank: Blank = BOARD, bands: tuple[Band, ...] = ()) -> Solid:
    part = Part(form=Form.BOARD, stock="poplar-4/4", blank=blank, features=features, bands=bands)
    return solid_of(part.lowered())


def taken(*features: Feature, blank: Blank = BOARD) -> float:
    """Volume of the wood that features take, in mm³."""
    return blank.length * blank.width * blank.thickness - made(*features, blank=blank).body.volume()


def holds(solid: Solid, x: float, y: float, z: float) -> bool:
    """Return whether a point lies in the wood: a small cube there is wood."""
    from manifold3d import Manifold

    cube = Manifold.cube((0.02, 0.02, 0.02), True).translate((x, y, z))
    return bool((cube ^ solid.body).volume() > 4e-6)


# --- edges ---


def test_a_rip_bevel_takes_a_wedge() -> None:
    """15° over 20 mm of thickness: ½ · 20² · tan 15° · 300."""
    bevel = RipBevel(face=Face.EDGE1, datum=Face.FACE0, angle=15.0)
    assert taken(bevel) == pytest.approx(0.5 * 400 * math.tan(math.radians(15)) * 300)
    assert holds(made(bevel), 150, 79.9, 0.1)
    assert not holds(made(bevel), 150, 75, 19.9)
    inset = replace(bevel, inset=2.0)
    assert taken(inset) - taken(bevel) == pytest.approx(2 * 20 * 300)
    assert inset.describe() == "rip bevel"


@pytest.mark.parametrize(
    ("face", "datum"), [(Face.END0, Face.FACE0), (Face.EDGE0, Face.EDGE1), (Face.EDGE0, Face.END0)]
)
def test_a_rip_bevel_needs_neighbours_along_the_grain(face: Face, datum: Face) -> None:
    with pytest.raises(ValueError, match="runs along"):
        RipBevel(face=face, datum=datum, angle=15.0)


PROFILES = [
    (chamfer(Face.FACE1, Face.EDGE1, 4.0), 8.0),
    (chamfer(Face.FACE1, Face.EDGE1, 4.0, 6.0), 12.0),
    (roundover(Face.FACE1, Face.EDGE1, 6.0), 36 * (1 - math.pi / 4)),
    (roundover(Face.FACE1, Face.EDGE1, 6.0, step=2.0), 36 * (1 - math.pi / 4) + 12),
    (edge_cove(Face.FACE1, Face.EDGE1, 6.0), 36 * math.pi / 4),
    (edge_cove(Face.FACE1, Face.EDGE1, 6.0, step=2.0), 36 * math.pi / 4 + 12),
    # Round (1 − π/4) r², the square under it, and the hollow π/4 r²: together 2 r².
    (ogee(Face.FACE1, Face.EDGE1, 4.0), 2 * 16),
]


@pytest.mark.parametrize(("profile", "section"), PROFILES, ids=lambda v: v.shape if isinstance(v, EdgeProfile) else "")
def test_an_edge_profile_takes_its_section_along_the_arris(profile: EdgeProfile, section: float) -> None:
    assert profile.area == pytest.approx(section, rel=1e-5)  # the bulge sits on the grid
    assert taken(profile) == pytest.approx(section * 300, rel=2e-4)
    stopped = replace(profile, stop0=40.0, stop1=60.0)
    assert taken(stopped) == pytest.approx(section * 200, rel=2e-4)
    assert stopped.describe() == f"stopped {profile.shape}"
    assert holds(made(stopped), 39.9, 79.9, 19.9)
    assert not holds(made(stopped), 40.1, 79.9, 19.9)


@pytest.mark.parametrize("face", list(Face))
def test_any_arris_can_be_rounded_and_is_told_in_one_way(face: Face) -> None:
    sizes = BOARD.size
    for side in Face:
        if side.axis == face.axis:
            continue
        profile = roundover(face, side, 5.0, step=1.0)
        length = sizes[3 - face.axis - side.axis]
        assert taken(profile) == pytest.approx((25 * (1 - math.pi / 4) + 5) * length, rel=2e-4)
        assert chamfer(face, side, 3.0, 5.0) == chamfer(side, face, 5.0, 3.0)
        assert profile.face.axis > profile.side.axis


def test_the_step_of_a_roundover_lies_below_its_face_whichever_axis_comes_first() -> None:
    """A fillet of 2 mm at the edge, then the quarter circle about y = 72, z = 14: at y = 75 it passes z = 19.196."""
    profile = roundover(Face.EDGE1, Face.FACE1, 6.0, step=2.0)
    wood = made(profile)
    assert not holds(wood, 150, 78.1, 15.9)  # below the edge by up to the step, the full radius goes
    assert not holds(wood, 150, 78.1, 14.1)
    assert holds(wood, 150, 78.1, 13.9)
    assert not holds(wood, 150, 75.0, 19.25)
    assert holds(wood, 150, 75.0, 19.15)


def test_a_v_groove_takes_a_triangle() -> None:
    seam = VGroove(face=Face.FACE1, along=0, at=30.0, depth=2.0, angle=90.0)
    assert seam.width == pytest.approx(4.0)
    assert taken(seam) == pytest.approx(4.0 * 300)
    across = VGroove(face=Face.EDGE0, along=2, at=30.0, depth=2.0, angle=60.0)
    assert taken(across) == pytest.approx(4 * math.tan(math.radians(30)) * 20)
    with pytest.raises(ValueError, match="runs along its face"):
        VGroove(face=Face.FACE1, along=2, at=30.0, depth=2.0)


# --- cuts from an edge, stopped ---


def test_rabbets_and_grooves_by_their_distance_from_an_edge() -> None:
    assert rabbet(BOARD, Face.FACE1, Face.EDGE1, 9.0, 6.0) == Rabbet(
        face=Face.FACE1, u0=0.0, u1=300.0, v0=71.0, v1=80.0, depth=6.0
    )
    cut = groove(BOARD, Face.FACE0, Face.EDGE1, 12.0, 6.0, 5.0, stop0=10.0, stop1=20.0)
    assert cut == Groove(face=Face.FACE0, u0=10.0, u1=280.0, v0=62.0, v1=68.0, depth=5.0)
    assert taken(cut) == pytest.approx(270 * 6 * 5)
    assert taken(dado(BOARD, Face.FACE1, 100.0, 18.0, 6.0, stop1=10.0)) == pytest.approx(18 * 6 * 70)
    assert taken(rabbet(BOARD, Face.EDGE0, Face.END1, 9.0, 6.0)) == pytest.approx(9 * 6 * 20)
    with pytest.raises(ValueError, match="does not border"):
        rabbet(BOARD, Face.FACE1, Face.FACE0, 9.0, 6.0)


def test_two_half_laps_fill_each_other() -> None:
    lap = half_lap(BOARD, Face.FACE1, 100.0, 80.0, 10.0)
    assert taken(lap) == pytest.approx(80 * 80 * 10)
    assert taken(lap) == pytest.approx(taken(half_lap(BOARD, Face.FACE0, 100.0, 80.0, 10.0)))
    assert lap.describe() == "half lap"


@pytest.mark.parametrize("rounded", [False, True])
@pytest.mark.parametrize(("u", "v"), [((50.0, 90.0), (6.0, 14.0)), ((50.0, 58.0), (2.0, 18.0))])
def test_a_mortise_square_or_with_round_ends(u: tuple[float, float], v: tuple[float, float], rounded: bool) -> None:
    """Round ends leave (4 − π) r² of the rectangle, r half its width."""
    cut = mortise(Face.EDGE0, u, v, 30.0, rounded=rounded)
    area = (u[1] - u[0]) * (v[1] - v[0]) - ((4 - math.pi) * 16 if rounded else 0)
    assert taken(cut) == pytest.approx(area * 30, rel=2e-4)
    assert cut.outline.box == pytest.approx((u[0], v[0], u[1], v[1]))
    assert cut.describe() == "mortise"
    assert taken(replace(cut, depth=80.0)) == pytest.approx(area * 80, rel=2e-4)


# --- rows ---


def test_a_row_of_holes_takes_that_many_cylinders() -> None:
    row = HoleRow(face=Face.FACE1, u=37.0, v=20.0, along=0, count=6, pitch=32.0, diameter=5.0, depth=12.0)
    assert taken(row) == pytest.approx(6 * math.pi * 6.25 * 12, rel=2e-3)
    assert [h.u for h in row.holes] == [37.0 + 32 * i for i in range(6)]
    assert taken(replace(row, depth=None)) == pytest.approx(6 * math.pi * 6.25 * 20, rel=2e-3)
    with pytest.raises(ValueError, match="two or more"):
        replace(row, count=1)


def test_pin_rows_fit_between_their_limits() -> None:
    """32 mm system: 5 mm holes 32 mm apart; from 40 to 260 mm there is room for 1 + 220 // 32 = 7."""
    rows = pin_rows(Face.FACE1, (40.0, 260.0), (37.0, 60.0), 5.0, 12.0)
    assert [(r.count, r.v, r.places[-1][0]) for r in rows] == [(7, 37.0, 232.0), (7, 60.0, 232.0)]


@pytest.mark.parametrize(
    ("length", "inset", "spacing", "count"), [(300, 30, 90, 4), (300, 30, 80, 4), (300, 30, 79, 5), (50, 30, 90, 1)]
)
def test_dowels_spread_evenly(length: float, inset: float, spacing: float, count: int) -> None:
    places = spread(length, inset, spacing)
    assert len(places) == count
    steps = [b - a for a, b in pairwise(places)]
    assert all(s == pytest.approx(steps[0]) and s <= spacing + 1e-6 for s in steps)
    assert sum(places) / count == pytest.approx(length / 2)


# --- curves ---


@pytest.mark.parametrize("edge", [Face.EDGE0, Face.EDGE1])
def test_an_arch_takes_a_segment_of_a_circle(edge: Face) -> None:
    """Chord 200, rise 25: r = 200²/(8·25) + 25/2 = 212.5; area r² (θ − sin θ)/2 with θ = 2 asin(100/r)."""
    r = 212.5
    theta = 2 * math.asin(100 / r)
    cut = arch(BOARD, edge, (50.0, 250.0), 25.0)
    assert taken(cut) == pytest.approx(r * r * (theta - math.sin(theta)) / 2 * 20, rel=2e-4)
    near = (lambda d: d) if edge is Face.EDGE0 else (lambda d: 80 - d)
    assert not holds(made(cut), 150, near(24.9), 10)
    assert holds(made(cut), 150, near(25.1), 10)
    assert cut.describe() == "curved edge"


def test_a_bracket_foot_keeps_its_ankle() -> None:
    """220 × 50 beside an ankle of 80, less the corner that the quarter circle of 30 leaves."""
    cut = bracket(BOARD, Face.EDGE0, 80.0, 50.0, 30.0)
    assert taken(cut) == pytest.approx((220 * 50 - 900 * (1 - math.pi / 4)) * 20, rel=2e-4)
    wood = made(cut)
    assert holds(wood, 79.9, 0.1, 10)
    assert not holds(wood, 80.1, 0.1, 10)
    assert holds(wood, 299, 50.1, 10)
    assert not holds(wood, 299, 49.9, 10)
    full = bracket(BOARD, Face.EDGE0, 80.0, 50.0, 50.0)
    assert taken(full) == pytest.approx((220 * 50 - 2500 * (1 - math.pi / 4)) * 20, rel=2e-4)


def test_a_free_curve_is_cut_to_the_edge() -> None:
    cut = shaped_edge(BOARD, Face.EDGE1, ((0.0, 10.0, 0.0), (100.0, 10.0, 0.0), (100.0, 30.0, 0.0), (200.0, 0.0, 0.0)))
    assert taken(cut) == pytest.approx((1000 + 1500) * 20)
    with pytest.raises(ValueError, match="low to high"):
        shaped_edge(BOARD, Face.EDGE1, ((9.0, 0.0, 0.0), (3.0, 5.0, 0.0)))
    with pytest.raises(ValueError, match="edge0 or edge1"):
        arch(BOARD, Face.END0, (0.0, 50.0), 5.0)
    with pytest.raises(ValueError, match="half its span"):
        arch(BOARD, Face.EDGE0, (0.0, 50.0), 26.0)


def test_a_recess_from_a_drawing_keeps_its_area() -> None:
    """A 30 × 20 plate with a round end, as an SVG path, turned a quarter: 600 + π·10²/2 square mm."""
    path = b'<svg width="90mm" viewBox="0 0 90 90"><path d="M0 0 H30 A10 10 0 0 1 30 20 H0 Z"/></svg>'
    (loop,) = svg_loops(path, "", None)
    outline = placed(Outline(vertices=sound_loop(loop)), (100.0, 30.0), 90.0)
    cut = Recess(face=Face.FACE1, outline=outline, depth=8.0)
    assert taken(cut) == pytest.approx((600 + math.pi * 50) * 8, rel=2e-4)
    assert outline.box == pytest.approx((100.0, 30.0, 120.0, 70.0))


# --- mitres ---


def test_a_spline_slot_in_a_frame_mitre() -> None:
    """45° across 80 mm: the mitred face is 80·√2 long, and 6 × 10 mm of it goes, with the slanted ends of the slot.

    The slot's floor is as long as its mouth: at one side it runs out of the wood, at the other it is cut off as far.
    """
    cut = EndCut(face=Face.END1, at=250.0, mitre=45.0)
    slot = MitreSlot(
        face=Face.END1, at=250.0, mitre=45.0, bevel=0.0, level=Face.FACE0, offset=10.0, width=6.0, depth=10.0
    )
    alone = taken(cut)
    # A parallelogram of height 10 between two lines at 45°, cut off by the edges, is a trapezium or parallelogram
    # of length 80·√2 throughout.
    assert taken(cut, slot) - alone == pytest.approx(80 * math.sqrt(2) * 10 * 6, rel=1e-6)
    assert slot.describe() == "spline slot"
    wood = made(cut, slot)
    assert not holds(wood, 249, 40, 10)
    assert holds(wood, 249, 40, 6.9)
    assert holds(wood, 250 - 15.1, 40, 10)  # 10 mm square to the mitre is 14.1 mm along the board


def test_a_spline_slot_in_a_case_mitre_stays_near_the_inside() -> None:
    """A side bevelled 45°: the slot runs across the width, its middle 8 mm from the inner corner on the cut."""
    cut = EndCut(face=Face.END1, at=290.0, mitre=0.0, bevel=45.0)
    slot = MitreSlot(
        face=Face.END1, at=290.0, mitre=0.0, bevel=45.0, level=Face.FACE1, offset=8.0, width=3.0, depth=6.0, stop0=10.0
    )
    assert taken(cut, slot) - taken(cut) == pytest.approx(3 * 6 * 70, rel=1e-6)
    wood = made(cut, slot)
    # face1 is where the normal leans to, so the cut is shortest there: the inside of the case. The cut meets it at 280.
    middle = (280 + 8 / math.sqrt(2) - 0.5, 20 - 8 / math.sqrt(2) - 0.5)
    assert not holds(wood, middle[0], 40, middle[1])
    assert holds(wood, middle[0], 9.9, middle[1])


def test_a_key_slot_takes_a_corner_triangle_of_each_part() -> None:
    """45°, 20 deep from the corner along the mitre: one part's share is a right triangle of 20 × 20 / 2."""
    cut = EndCut(face=Face.END1, at=250.0, mitre=45.0)
    key = KeySlot(
        face=Face.END1, at=250.0, mitre=45.0, bevel=0.0, level=Face.FACE0, offset=10.0, width=3.0, depth=20.0,
        outer=Face.EDGE0,
    )  # fmt: skip
    assert taken(cut, key) - taken(cut) == pytest.approx(20 * 20 / 2 * 3, rel=1e-6)
    assert key.made_at is MadeAt.ASSEMBLY
    wood = made(cut, key)
    assert not holds(wood, 289, 0.5, 10)  # the long point is at 290 on edge0
    assert holds(wood, 289, 0.5, 8.4)
    with pytest.raises(ValueError, match="mitred corner"):
        replace(key, mitre=0.0)


# --- bands ---


def test_bands_add_to_the_size_and_meet_at_corners() -> None:
    """Two ends of 2 mm and a front edge of 1 mm: the finished box is full, its corners too, and turns keep it."""
    blank = Blank(length=400.0, width=200.0, thickness=18.0)
    bands = (
        Band(face=Face.EDGE0, item="band-white-1", thickness=1.0),
        Band(face=Face.END0, item="band-white-2", thickness=2.0),
        Band(face=Face.END1, item="band-white-2", thickness=2.0),
    )
    part = Part(form=Form.SHEET, stock="melamine-white-18mm", blank=blank, bands=bands)
    assert part.finished == (404.0, 201.0, 18.0)
    solid = solid_of(part.lowered())
    assert solid.body.volume() == pytest.approx(404 * 201 * 18, rel=1e-9)
    assert solid.low == pytest.approx((-2.0, -1.0, 0.0), abs=1e-9)
    assert solid.high == pytest.approx((402.0, 200.0, 18.0), abs=1e-9)
    assert holds(solid, -1.9, -0.9, 9)
    again = replace(part, bands=bands[::-1])
    assert again.key == part.key
    assert solid_of(again.lowered()).body.volume() == pytest.approx(solid.body.volume())
    mirrored = solid_of(part.mirrored().lowered())
    assert mirrored.body.volume() == pytest.approx(solid.body.volume())


ORACLE: list[tuple[Feature, ...]] = [
    (RipBevel(face=Face.EDGE1, datum=Face.FACE0, angle=15.0), roundover(Face.FACE1, Face.EDGE0, 5.0, step=1.0)),
    (
        ogee(Face.FACE1, Face.EDGE1, 4.0),
        chamfer(Face.FACE0, Face.END0, 3.0, 5.0),
        edge_cove(Face.END1, Face.EDGE0, 6.0),
    ),
    (arch(BOARD, Face.EDGE0, (50.0, 250.0), 25.0), VGroove(face=Face.FACE1, along=0, at=60.0, depth=2.0)),
    (bracket(BOARD, Face.EDGE1, 80.0, 40.0, 30.0), mortise(Face.EDGE0, (20.0, 60.0), (6.0, 14.0), 30.0, rounded=True)),
    (
        EndCut(face=Face.END1, at=250.0, mitre=30.0, bevel=20.0),
        MitreSlot(
            face=Face.END1, at=250.0, mitre=30.0, bevel=20.0, level=Face.FACE1, offset=9.0, width=4.0, depth=9.0,
            stop0=8.0,
        ),
        HoleRow(face=Face.FACE1, u=37.0, v=20.0, along=0, count=4, pitch=32.0, diameter=5.0, depth=12.0),
    ),
    (
        EndCut(face=Face.END0, at=50.0, mitre=-45.0),
        KeySlot(
            face=Face.END0, at=50.0, mitre=-45.0, bevel=0.0, level=Face.FACE0, offset=10.0, width=3.0, depth=25.0,
            outer=Face.EDGE1,
        ),
    ),
]  # fmt: skip


@pytest.mark.parametrize("features", ORACLE, ids=lambda fs: fs[0].describe())
def test_the_independent_kernel_agrees(features: tuple[Feature, ...]) -> None:
    """Open CASCADE on the same volumes."""
    part = Part(form=Form.BOARD, stock="poplar-4/4", blank=BOARD, features=features)
    assert made(*features).body.volume() == pytest.approx(oracle_volume(part.lowered()), rel=1e-4)


def test_a_through_rectangle_is_left_open() -> None:
    notch = Recess(face=Face.FACE0, outline=rectangle(100.0, -1.0, 140.0, 30.0), depth=20.0)
    assert taken(notch) == pytest.approx(40 * 30 * 20)
