"""Settings of saw and router, trade notes rule 34: both walls from one face, the height, as the sizes are printed."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.packet import demo

from casewright.design.blanks import Blank, Face
from casewright.design.features.cuts import RectCut, Tenon
from casewright.design.features.mitres import MitreSlot
from casewright.design.features.openings import mortise
from casewright.design.features.stopped import dado, groove, rabbet
from casewright.design.parts import Form, Part
from casewright.packet.drawing.settings import Settings, settings_of, settings_words, trenches
from casewright.packet.drawing.slot_settings import sawn_slot
from casewright.packet.drawing.subject import SizeWords
from casewright.packet.pages.part_drawings import printed_subjects
from casewright.shop.slices import Machine, Machines
from casewright.units import INCHES, MILLIMETRES, LengthStyle, Role, round_length

INCH = 25.4
BLANK = Blank(length=700.0, width=300.0, thickness=19.0)
LAYER = 6.0
STYLES = (INCHES, MILLIMETRES, LengthStyle(system="mm", division=0.1))


def shop(kerf: float = INCH / 8, rip_most: float | None = None, router: bool = True) -> Machines:
    saws = (Machine(name="saw", kind="table saw", kerf=kerf, rip_most=rip_most),) if kerf else ()
    routers = (Machine(name="router", kind="router"),) if router else ()
    return Machines(machines=(*saws, *routers), lift_one=25.0, lift_two=45.0)


def part(*features: RectCut | Tenon, blank: Blank = BLANK) -> Part:
    return Part(form=Form.BOARD, stock="poplar-4/4", blank=blank, features=features)


def found(made: Part, machines: Machines, style: LengthStyle = INCHES) -> list[Settings]:
    words = SizeWords(style=style)
    all_of = [settings_of(t, made.blank, words, machines, LAYER) for t in trenches(made)]
    return [s for s in all_of if s is not None]


def walls(one: Settings) -> tuple[float, float]:
    """Where the walls come, from the reference side: the nearest pass begins, the furthest one ends."""
    return min(one.first, one.last), max(one.first, one.last) + one.wide


@given(
    near=st.floats(0, 200),
    width=st.floats(3.3, 60),
    kerf=st.sampled_from((INCH / 8, 3 * INCH / 32, 2.2, 3.0)),
    style=st.sampled_from(STYLES),
    low=st.booleans(),
)
def test_the_outermost_passes_make_the_printed_cut(
    near: float, width: float, kerf: float, style: LengthStyle, low: bool
) -> None:
    """Law: walls as printed, never narrower than the cut, less than a division wider; no wood left between passes."""
    near = round(near, 3)
    made = part(groove(BLANK, Face.FACE0, Face.EDGE0 if low else Face.EDGE1, near, round(width, 3), 6.0))
    (one,) = found(made, shop(kerf), style)
    step = float(style.step)
    printed = round_length(round(width, 3), Role.HOUSING, style)
    start, end = walls(one)
    if one.trench.side is (Face.EDGE0 if low or near > 0 else Face.EDGE1):
        assert start == pytest.approx(round_length(one.trench.near, Role.FREE, style))
    if one.passes > 1:
        assert printed - 1e-3 <= end - start < printed + step + 1e-3
        assert (end - start - one.wide) / (one.passes - 1) <= one.wide + step, "a rib would stay between two passes"
    if (kerf / step) == pytest.approx(round(kerf / step)) and one.passes > 1:
        assert end - start == pytest.approx(printed, abs=1e-3), "exact where the blade is a whole number of divisions"


def test_a_rabbet_by_hand() -> None:
    """7/32 wide with a blade of 1/8: the wall with the fence at 3/32, the rest with the blade against a scrap face."""
    made = part(rabbet(BLANK, Face.FACE1, Face.EDGE1, 7 * INCH / 32, 3 * INCH / 8))
    (text,) = settings_words(made, SizeWords(style=INCHES), shop(), LAYER)
    assert text == (
        "table saw, kerf 1/8, try on scrap: rabbet, face 1 down, blade 3/8 high, fence 3/32, then 0 from edge 1"
    )


def test_a_wide_dado_says_its_passes_and_is_reached_from_the_nearer_end() -> None:
    """3/4 wide, 12 in from an end, with 1/8: six passes; a fence of 20 in does not reach it from the far end."""
    made = part(dado(BLANK, Face.FACE0, 12 * INCH, 0.75 * INCH, 6.35))
    (one,) = found(made, shop())
    assert (one.first, one.last, one.passes) == (pytest.approx(12 * INCH), pytest.approx(12.625 * INCH), 6)
    far = part(dado(BLANK, Face.FACE0, 650.0, 19.05, 6.35))
    (one,) = found(far, shop(rip_most=20 * INCH))
    assert one.trench.side is Face.END1
    assert one.trench.near == pytest.approx(700 - 650 - 19.05)
    (one,) = found(far, shop(rip_most=20.0))
    assert one.tool == "router", "the fence reaches it from neither end"


def test_a_tenon_is_cut_from_its_shoulder_to_the_end() -> None:
    made = part(Tenon(face=Face.END0, u0=0.0, u1=300.0, v0=6.35, v1=12.7, length=INCH))
    both = found(made, shop())
    assert {s.trench.face for s in both} == {Face.FACE0, Face.FACE1}
    assert all((s.first, s.last, s.passes) == (pytest.approx(7 * INCH / 8), 0.0, 8) for s in both)
    text = settings_words(made, SizeWords(style=INCHES), shop(), LAYER)[0]
    assert "tenon, either face down, blade 1/4 high, fence 7/8, then 0, 8 passes in all from end 0" in text


def test_a_rabbet_in_an_end_is_cut_flat_and_a_groove_there_stands_in_a_jig() -> None:
    """Common practice, and every saw's manual: nothing narrow is stood on its end along the fence by hand."""
    lap = part(rabbet(BLANK, Face.END0, Face.FACE0, 6.35, INCH))
    flat = "face 0 down, blade 1/4 high, fence 7/8, then 0, 8 passes in all from end 0"
    assert flat in settings_words(lap, SizeWords(style=INCHES), shop(), LAYER)[0]
    slot = part(groove(BLANK, Face.END0, Face.FACE0, 6.35, 6.35, 6.35))
    upright = "groove, end 0 down in a tenoning jig, blade 1/4 high, fence 1/4, then 3/8 from face 0"
    assert upright in settings_words(slot, SizeWords(style=INCHES), shop(), LAYER)[0]


@pytest.mark.parametrize(("width", "bit"), [(6.35, "1/4"), (9.0, "5/16"), (5.0, "3/16")])
def test_a_stopped_groove_is_routed_in_layers(width: float, bit: str) -> None:
    """A blade would run out of it: the widest bit it has room for, layers of 6 mm."""
    made = part(groove(BLANK, Face.FACE0, Face.EDGE0, 50.8, width, 13.0, 40.0, 0.0))
    (one,) = found(made, shop())
    assert one.tool == "router"
    assert one.wide <= width
    assert one.layers == math.ceil(13.0 / 6.0)
    assert f"stopped groove in face 0, bit {bit}, " in settings_words(made, SizeWords(style=INCHES), shop(), LAYER)[0]
    assert found(made, shop(router=False)) == []


def test_a_mortise_is_routed_with_a_bit_of_its_own_width() -> None:
    made = part(mortise(Face.EDGE0, (100.0, 150.0), (6.35, 12.7), 25.0, rounded=True))
    (text,) = settings_words(made, SizeWords(style=INCHES), shop(), LAYER)
    assert text == "router, try on scrap: mortise in edge 0, bit 1/4, 1 deep in 5 layers, fence 1/4 from face 0"


def test_drawings_print_the_settings_of_the_shops_own_saw() -> None:
    """The demonstration shop's blade is 1/8; the rabbet takes a back that measures 5.4 mm: 5.4 − 3.175 is 2.225."""
    side = next(s for s in printed_subjects(demo.setting()) if s.name.startswith("side, left"))
    assert any("kerf 1/8" in t and "fence 3/32 (2.23 mm), then 0 from" in t for t in side.settings)


@pytest.mark.parametrize("end", [Face.END0, Face.END1])
@pytest.mark.parametrize("short", [Face.FACE0, Face.FACE1])
@pytest.mark.parametrize(("bevel", "kerf"), [(45.0, 3.175), (45.0, 6.55), (50.0, 2.2)])
def test_the_blade_as_it_is_set_makes_the_slot_for_a_spline(end: Face, short: Face, bevel: float, kerf: float) -> None:
    """Against the slot's own solid: the blade's middle, from the table at the fence's place, runs into its floor."""
    at = 9.5 if end is Face.END0 else 690.5
    tilted = bevel if short is Face.FACE1 else -bevel
    slot = MitreSlot(face=end, at=at, mitre=0.0, bevel=tilted, level=short, offset=9.4, width=6.55, depth=8.0)
    made = Part(form=Form.BOARD, stock="poplar-4/4", blank=BLANK, features=(slot,))
    sawn = sawn_slot(made, slot, kerf)
    assert sawn is not None
    assert sawn.down is short
    assert sawn.tilt == pytest.approx(90.0 - bevel)
    out = -1.0 if end is Face.END0 else 1.0
    thick, tan = BLANK.thickness, math.tan(math.radians(bevel))
    middle, into = slot.axis(BLANK)  # of the slot's mouth, and the way into the wood
    long_edge = at + out * thick / 2 * tan  # the bevel passes through the middle of the thickness at `at`
    spare = max(0.0, (slot.width - kerf) / 2)
    run = (out * math.sin(math.radians(bevel)), 0.0, math.cos(math.radians(bevel)))
    for one, sign in zip(sawn.passes, (-1, 1) if len(sawn.passes) == 2 else (0,), strict=True):
        up = 1.0 if sawn.down is Face.FACE0 else -1.0
        table = 0.0 if up > 0 else thick
        start = (long_edge - out * one.fence, table)
        mouth = [middle[i] + sign * spare * (run[i] if i == 0 else up * run[i]) for i in range(3)]
        floor = [mouth[i] + slot.depth * into[i] for i in range(3)]
        assert abs(floor[2] - table) == pytest.approx(one.height, abs=1e-6)
        # The line from the table to the floor is the blade: it runs along the slot's own axis.
        line = (floor[0] - start[0], floor[2] - start[1])
        assert line[0] * into[2] - line[1] * into[0] == pytest.approx(0.0, abs=1e-6)


def test_a_stopped_slot_for_a_spline_is_routed_and_both_ends_share_a_line() -> None:
    ends = [
        MitreSlot(face=f, at=at, mitre=0.0, bevel=45.0, level=Face.FACE1, offset=9.4, width=6.55, depth=8.0, stop0=stop)
        for f, at, stop in ((Face.END0, 9.5, 20.0), (Face.END1, 690.5, 20.0))
    ]
    made = Part(form=Form.BOARD, stock="poplar-4/4", blank=BLANK, features=tuple(ends))
    (text,) = settings_words(made, SizeWords(style=MILLIMETRES), shop(), LAYER)
    assert text.startswith("router, try on scrap: spline slot in either end, square to its bevel")
    assert "bit 6," in text
    assert "20 short of one edge" in text
    assert settings_words(made, SizeWords(style=MILLIMETRES), shop(router=False), LAYER) == ()
    through = Part(
        form=Form.BOARD, stock="poplar-4/4", blank=BLANK, features=tuple(replace(e, stop0=0.0) for e in ends)
    )
    (text,) = settings_words(through, SizeWords(style=MILLIMETRES), shop(), LAYER)
    assert "blade tilted 45° away from the fence" in text
