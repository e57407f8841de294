"""Crown angles and moulding lengths against published tables."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.design.harness import agrees_with_kernel, bench, kit_of, sound
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blanks import Blank
from casewright.design.blocks.moulding_runs import End, Ends, Leg, run_along
from casewright.design.draft import Draft
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Frame, cosd, scale, sind
from casewright.design.parts import Form, Part
from casewright.design.sections import (
    Run,
    blank_section,
    drop,
    frame_of,
    installed,
    mitre_cut,
    mitre_normal,
    projection,
)
from casewright.stock.reading import load_stock

# Wall corner, then mitre / bevel of crown lying flat on the saw at 38° and 45° spring.
# Source: mitre = atan(sin s / tan(C/2)), bevel = asin(cos s · cos(C/2)); the 90° row is the widely printed one
# (31.62 / 33.86 and 35.26 / 30.00), the others were checked by vectors (trigonometric derivation, two decimals).
FLAT_ANGLES = [
    (60, 46.84, 43.03, 50.77, 37.76),
    (85, 33.90, 35.52, 37.66, 31.42),
    (89, 32.07, 34.20, 35.74, 30.29),
    (90, 31.62, 33.86, 35.26, 30.00),
    (91, 31.17, 33.53, 34.79, 29.71),
    (95, 29.43, 32.17, 32.94, 28.54),
    (120, 19.57, 23.20, 22.21, 20.70),
    (135, 14.31, 17.55, 16.32, 15.70),
    (150, 9.37, 11.77, 10.73, 10.55),
]


def cut_at(corner: float, spring: float) -> EndCut:
    """The end of a crown piece along +x at an outside corner where the walls make that angle."""
    stick = replace(load_stock().sticks["crown-cove-41"], spring=float(spring))
    _, width, thick = blank_section(stick)
    run = Run(start=(0.0, 0.0, 0.0), along=(1.0, 0.0, 0.0), out=(0.0, -1.0, 0.0))
    turn = 180.0 - corner
    onward = (cosd(turn), sind(turn), 0.0)
    blank = Blank(length=500.0, width=width, thickness=thick)
    return mitre_cut(frame_of(stick, run), blank, (400.0, 0.0, 0.0), mitre_normal(run.along, onward))


@pytest.mark.parametrize(("corner", "mitre38", "bevel38", "mitre45", "bevel45"), FLAT_ANGLES)
def test_crown_angles_flat_on_the_saw(
    corner: float, mitre38: float, bevel38: float, mitre45: float, bevel45: float
) -> None:
    for spring, mitre, bevel in ((38, mitre38, bevel38), (45, mitre45, bevel45)):
        cut = cut_at(corner, spring)
        assert abs(cut.mitre) == pytest.approx(mitre, abs=0.006)
        assert abs(cut.bevel) == pytest.approx(bevel, abs=0.006)


def test_drop_and_projection_follow_the_spring_angle() -> None:
    # drop = w cos s, projection = w sin s (common practice); 1-5/8 in across the face at 45°.
    stick = load_stock().sticks["crown-cove-41"]
    width = 1.625 * 25.4
    assert drop(stick) == pytest.approx(width * math.cos(math.radians(45)), abs=0.01)
    assert projection(stick) == pytest.approx(width * math.sin(math.radians(45)), abs=0.01)
    assert blank_section(stick)[1] == pytest.approx(width, abs=0.01)


def test_section_of_the_blank_is_the_installed_section_turned() -> None:
    for stick in load_stock().sticks.values():
        section, width, thick = blank_section(stick)
        assert section.area == pytest.approx(installed(stick).area, rel=1e-6)
        x0, y0, x1, y1 = section.box
        assert (x0, y0) == pytest.approx((0.0, 0.0), abs=2e-6)
        assert (x1, y1) == pytest.approx((width, thick), abs=2e-6)


def test_lengths_are_long_point_to_long_point() -> None:
    # Front = body + 2 projections, return = body depth + 1 projection (common practice).
    piece = Project(load_order(DEMO), load_shop()).assembly.pieces[0]
    sizes = {s.name: s.value for s in piece.sizes}
    by_path = piece.by_path()
    for name in ("base", "crown"):
        out = sizes[f"{name}.projection"]
        front = by_path[f"{piece.path}/{name}/front"].part.blank.length
        side = by_path[f"{piece.path}/{name}/left"].part.blank.length
        assert front == pytest.approx(sizes["body.width"] + 2 * out, abs=1e-5)
        assert side == pytest.approx(sizes["body.depth"] + out, abs=1e-5)
    assert out < sizes["top.overhang_front"], "the top covers the crown"


# --- any polyline ---


SQUARE = Ends()


def wall(turns: list[float], lengths: list[float], ends: Ends = SQUARE, role: str = "base") -> PieceDesign:
    """A run along upright boards, each turned from the one before it (positive: around an outside corner)."""
    d = bench()
    legs, at, heading = [], (0.0, 0.0), 0.0
    for i, (turn, length) in enumerate(zip(turns, lengths, strict=True)):
        heading += turn
        way = (cosd(heading), sind(heading))
        end = (at[0] + way[0] * length, at[1] + way[1] * length)
        host_board(d, f"board[{i + 1}]", at, way, length)
        legs.append(Leg(name=f"leg[{i + 1}]", start=at, end=end, host=f"board[{i + 1}]"))
        at = end
    run_along(d, kit_of(), legs, name="run", role=role, foot_z=0.0, ends=ends)
    for i in range(len(legs) - 1):  # the boards themselves are held together elsewhere
        a, b = d.at(f"board[{i + 1}]"), d.at(f"board[{i + 2}]")
        d.joint(f"boards[{i + 1}]", JointKind.HELD, a, b, (*legs[i].end, 0.0))
    return sound(d)


def host_board(d: Draft, name: str, at: tuple[float, float], way: tuple[float, float], length: float) -> None:
    """A board 19 mm thick behind a wall line, clear of the corners."""
    part = Part(form=Form.BOARD, stock="poplar-4/4", blank=Blank(length=length - 60.0, width=120.0, thickness=19.0))
    start = (at[0] + 30.0 * way[0], at[1] + 30.0 * way[1], 0.0)
    frame = Frame(origin=start, x=(way[0], way[1], 0.0), y=(0.0, 0.0, 1.0))
    d.place_part(name, name, part, frame.moved(scale(frame.z, -19.0)))


ENDS = Ends(first=End.RETURN, last=End.RETURN)


@pytest.mark.parametrize("role", ["base", "crown"])
@pytest.mark.parametrize("turn", [90.0, 45.0, 30.0, 60.0, -90.0, -45.0])
def test_corners_close_at_any_angle(turn: float, role: str) -> None:
    """The real checks hold on outside and inside corners: mitres touch, nothing runs into anything."""
    piece = wall([0.0, turn], [300.0, 250.0], role=role)
    out = projection(load_stock().sticks["base-76" if role == "base" else "crown-cove-41"])
    first = piece.by_path()["bench/run/leg[1]"].part.blank.length
    # Long point beyond an outside corner by projection × tan(half the turn); on the wall at an inside one.
    assert first == pytest.approx(300.0 + max(0.0, out * math.tan(math.radians(turn / 2))), abs=1e-5)
    agrees_with_kernel(piece, 2)


def test_returns_are_as_long_as_the_moulding_stands_out() -> None:
    piece = wall([0.0], [300.0], ENDS)
    out = projection(load_stock().sticks["base-76"])
    assert piece.by_path()["bench/run/leg[1]"].part.blank.length == pytest.approx(300.0 + 2 * out, abs=1e-5)
    for name in ("return.first", "return.last"):
        assert piece.by_path()[f"bench/run/{name}"].part.blank.length == pytest.approx(out, abs=1e-5)
    agrees_with_kernel(piece, 3)


def test_a_run_around_a_recess_and_a_closed_run() -> None:
    wall([0.0, -90.0, 90.0, 90.0], [200.0, 150.0, 300.0, 200.0])
    piece = wall([0.0, 90.0, 90.0, 90.0], [400.0, 300.0, 400.0, 300.0], Ends(closed=True))
    assert sum(j.kind is JointKind.MITRE for j in piece.joints) == 4


def test_legs_that_do_not_follow_each_other_are_refused() -> None:
    legs = [
        Leg(name="a", start=(0.0, 0.0), end=(100.0, 0.0), host="x"),
        Leg(name="b", start=(120.0, 0.0), end=(120.0, 90.0), host="x"),
    ]
    with pytest.raises(ValueError, match="leg b does not start where a ends"):
        run_along(bench(), kit_of(), legs, name="run", role="base", foot_z=0.0)
    back = [legs[0], replace(legs[1], start=(100.0, 0.0), end=(0.0, 0.0))]
    with pytest.raises(ValueError, match="straight back"):
        run_along(bench(), kit_of(), back, name="run", role="base", foot_z=0.0)
