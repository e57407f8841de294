"""Findings shown in their place: what a path names, pictures that can be read, their numbers on page and screen."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.packet import demo

from casewright.cli.main import marks_of, pictures_of
from casewright.cli.printing import print_findings
from casewright.findings import Finding, Severity
from casewright.packet.drawing.located import located_picture
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.primitives import Circle, Fill, LineRole, Text
from casewright.packet.finding_places import numbered_places, place_of
from casewright.packet.pages.findings import PICTURE, findings
from casewright.packet.pages.setting import setting_of

PIECE = next(p for p in demo.project().assembly.pieces if p.path == "bedside.left")


def warning(path: str, *related: str, severity: Severity = Severity.WARN, accepted: str = "") -> Finding:
    return Finding(code="test.place", severity=severity, path=path, message="there", related=related, accepted=accepted)


def test_a_path_names_a_thing_a_group_a_screw_or_the_parts_of_a_joint() -> None:
    joint, screw = PIECE.joints[0], PIECE.fasteners[0]
    door = tuple(p.path for p in PIECE.placed if p.path.startswith("bedside.left/door[c1,r2]"))
    for path, things, fasteners in (
        ("bedside.left/device", ("bedside.left/device",), ()),
        ("bedside.left/door[c1,r2]", door, ()),
        (screw.path, (), (screw.path,)),
        (joint.id, (joint.a, joint.b), ()),
    ):
        place = place_of(warning(path), demo.project().assembly.pieces)
        assert place is not None, path
        assert (place.piece.path, place.things, place.fasteners) == ("bedside.left", things, fasteners)


@pytest.mark.parametrize("path", ["bedside.left", "stock/cherry", "shop", "bedside.lefty/door", "bedside.left/no"])
def test_what_names_nothing_inside_a_piece_has_no_place(path: str) -> None:
    assert place_of(warning(path), demo.project().assembly.pieces) is None


def test_a_piece_that_could_not_be_built_has_no_place() -> None:
    bare = replace(PIECE, placed=(), joints=(), fasteners=(), steps=(), motions=())
    assert place_of(warning("bedside.left/device"), [bare]) is None


def test_notes_have_no_picture_unless_they_are_accepted() -> None:
    found = (
        warning("bedside.left/device", severity=Severity.NOTE),
        warning("bedside.left/device", severity=Severity.NOTE, accepted="known"),
        warning("bedside.right/device", severity=Severity.STOP),
    )
    assert [f for f, _ in numbered_places(found, demo.project().assembly)] == list(found[1:])


@pytest.mark.parametrize(
    "path", ["bedside.left/device", "bedside.left/frame/stile.left", "bedside.left/back", PIECE.fasteners[-1].path]
)
def test_a_picture_marks_the_place_and_can_be_read(path: str) -> None:
    place = place_of(warning(path), [PIECE])
    assert place is not None
    marks = demo.setting().marks_of(PIECE)
    shown = located_picture(PIECE, place.things, place.fasteners, marks, demo.SHARED, PICTURE)
    assert shown.width <= PICTURE[0] + 1e-9
    assert shown.height <= PICTURE[1] + 1e-9
    assert not overlaps(shown)
    (area,) = [i for i in shown.items if isinstance(i, Fill)]
    xs, ys = zip(*(p for ring in area.rings for p in ring), strict=True)
    rings = [i for i in shown.items if isinstance(i, Circle) and i.role is LineRole.OUTLINE]
    assert bool(rings) == (max(max(xs) - min(xs), max(ys) - min(ys)) < 7.0), "what is small stands in a ring"
    for ring in rings:
        assert abs(ring.centre[0] - (min(xs) + max(xs)) / 2) < 0.01
    assert [i.text for i in shown.items if isinstance(i, Text)] == ([marks[path]] if path in marks else [])


def test_nothing_to_mark_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing to mark"):
        located_picture(PIECE, ("bedside.left/absent",), (), {}, demo.SHARED, PICTURE)


def test_page_and_screen_number_the_pictures_alike(capsys: pytest.CaptureFixture[str]) -> None:
    found = [warning("bedside.left/frame/stile.left"), warning("bedside.left", "bedside.left/device"), demo.STOP]
    project = demo.with_findings(found)
    lines = findings(setting_of(project, "letter", demo.DATE, draft=True)).lines
    numbers = [line.picture for line in lines if line.picture]
    assert numbers == list(range(1, len(numbers) + 1))
    assert [line.drawing is not None for line in lines] == [line.picture > 0 for line in lines]
    assert {f.path: n for f, n in pictures_of(project).items()} == {
        line.path: line.picture for line in lines if line.picture
    }
    (stile,) = [line for line in lines if line.path == "bedside.left/frame/stile.left"]
    assert stile.marks == demo.setting().marks_of(PIECE)["bedside.left/frame/stile.left"]
    print_findings(project.findings, project.style, marks_of(project), pictures_of(project))
    told = capsys.readouterr().out
    assert f"page “Findings” of the packet, picture {stile.picture}" in told
    assert f"(mark {stile.marks})" in told
