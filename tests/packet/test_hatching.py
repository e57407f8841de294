"""Cut surfaces on paper: patterns that differ without their tones, bands along banded edges and nowhere else."""

from __future__ import annotations

from itertools import pairwise

import shapely

from casewright.design.blanks import Blank, Face
from casewright.design.frames import Frame
from casewright.design.parts import Band, Form, Part, Placed
from casewright.packet.drawing.conventions import CONVENTIONS
from casewright.packet.drawing.cutting import CutPart, Plane
from casewright.packet.drawing.edge_bands import LEAST, band_areas
from casewright.packet.drawing.hatch_key import SWATCHES, hatch_key
from casewright.packet.drawing.hatching import BAND, TONES, Material, pattern
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.primitives import Fill, Text
from casewright.solids.view import FRONT, PLAN

SIZE = (600.0, 300.0, 18.0)


def shelf(*faces: Face, thickness: float = 0.6) -> Placed:
    bands = tuple(Band(face=face, item="band", thickness=thickness) for face in faces)
    blank = Blank(length=SIZE[0], width=SIZE[1], thickness=SIZE[2])
    part = Part(form=Form.SHEET, stock="ply", blank=blank, bands=bands, mass_density=600.0)
    return Placed(path="p/shelf", name="shelf", thing=part, frame=Frame(origin=(10.0, 20.0, 30.0)))


def cut(placed: Placed, area: shapely.Polygon) -> CutPart:
    return CutPart(placed, area, (0.0, 0.0, 1.0))


def test_a_banded_edge_has_a_strip_of_its_length_and_a_raw_edge_has_none() -> None:
    k = 0.25
    placed = shelf(Face.EDGE1, Face.END0)
    level = Plane(
        PLAN, 39.0
    )  # through the middle of the shelf, which reaches from x 10 − band to 610, y 20 to 320 + band
    area = shapely.box(9.4, 20.0, 610.0, 320.6)
    edge, end = band_areas(cut(placed, area), level, k)
    deep = LEAST / k
    assert edge.bounds == (9.4, 320.6 - deep, 610.0, 320.6)
    assert end.bounds == (9.4, 20.0, 9.4 + deep, 320.6)


def test_a_thick_band_is_drawn_as_thick_as_it_is() -> None:
    placed = shelf(Face.EDGE0, thickness=3.0)
    (strip,) = band_areas(cut(placed, shapely.box(10.0, 17.0, 610.0, 320.0)), Plane(PLAN, 39.0), 1.0)
    assert strip.bounds == (10.0, 17.0, 610.0, 20.0)


def test_a_cut_along_the_band_has_no_strip() -> None:
    # A plane square to y through the shelf meets its ends, not its edges.
    across = Plane(FRONT, -100.0)
    area = shapely.box(10.0, 30.0, 610.0, 48.0)
    assert band_areas(cut(shelf(Face.EDGE0), area), across, 1.0) == ()
    (strip,) = band_areas(cut(shelf(Face.END1), area), across, 1.0)
    assert strip.bounds[2] == 610.0


def test_materials_differ_without_their_tones() -> None:
    area = shapely.box(0.0, 0.0, 40.0, 18.0)
    found = {m: pattern(m, area, area, (1.0, 0.0), 1) for m in Material if m is not Material.METAL}
    ends = {m: lines.ends for m, lines in found.items() if lines is not None}
    assert len(ends) == len(found)
    longest = {m: max(abs(e[2] - e[0]) + abs(e[3] - e[1]) for e in e_s) for m, e_s in ends.items()}
    assert longest[Material.FIBRE] < 0.5  # dots
    assert longest[Material.PLIES] == longest[Material.LONG_GRAIN] == 40.0  # lines, of plywood every other one dashed
    dashed = {m: any(1.0 < e[2] - e[0] <= 2.0 + 1e-9 for e in ends[m]) for m in (Material.PLIES, Material.LONG_GRAIN)}
    assert dashed == {Material.PLIES: True, Material.LONG_GRAIN: False}
    assert 0.5 < longest[Material.END_GRAIN] < 10.0  # rings
    lightness = sorted(tone[0] for tone in (*TONES.values(), BAND))
    assert all(b - a >= 6 for a, b in pairwise(lightness))
    assert all(len(set(tone)) == 1 for tone in (*TONES.values(), BAND)), "grey, as a copy is"


def test_thin_and_narrow_areas_are_told_too() -> None:
    for size in ((40.0, 0.8), (0.8, 40.0), (0.9, 0.9)):
        area = shapely.box(0.0, 0.0, *size)
        for material in (Material.FIBRE, Material.PLIES, Material.LONG_GRAIN):
            for number in range(3):
                assert pattern(material, area, area, (1.0, 0.0), number) is not None, (size, material, number)


def test_the_key_shows_every_pattern_and_can_be_read() -> None:
    for convention in CONVENTIONS.values():
        key = hatch_key(convention)
        assert [i.text for i in key.items if isinstance(i, Text)] == [name for name, _, _ in SWATCHES]
        assert {i.tone for i in key.items if isinstance(i, Fill)} == {*TONES.values(), BAND}
        assert not overlaps(key)
