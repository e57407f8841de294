"""Faces and bands under a clear finish: no fibreboard, no band on solid wood, none of another wood."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.seeding import changed, found, project_of, subject_at, text_of, told, with_part

from casewright.checks import looks_faces
from casewright.design.blanks import Face
from casewright.design.parts import Band
from casewright.findings import Severity

EXAMPLES = ("media-unit", "solid-case", "base-unit", "window-seat")


@pytest.mark.parametrize("example", EXAMPLES)
def test_sound_examples_are_quiet(example: str) -> None:
    assert not found(looks_faces.CHECK, subject_at(project_of(text_of(example))))


def test_fibreboard_fronts_that_an_order_names_for_a_clear_finish_are_found() -> None:
    text = changed(text_of("media-unit"), ("[roles]\n", '[roles]\ndrawer_front = "mdf-19"\n'))
    findings = found(looks_faces.CHECK, subject_at(project_of(text)))
    assert told(findings, Severity.WARN) == {("looks.paint_grade", "media/drawer[c2,r2]/face/front")}


def test_a_band_on_a_solid_shelf_is_found() -> None:
    subject = subject_at(project_of(text_of("solid-case")))
    shelf = "cherry/loose[c1,r1]/1/board"
    banded = with_part(
        subject.piece, shelf, lambda p: replace(p, bands=(Band(face=Face.EDGE0, item="band-birch", thickness=0.6),))
    )
    assert ("looks.band", shelf) in told(found(looks_faces.CHECK, subject, banded), Severity.WARN)


def test_a_band_of_another_wood_is_found_and_the_right_one_is_chosen() -> None:
    cherry = changed(text_of("media-unit"), ("[roles]\n", '[roles]\ncase = "cherry-plywood-18"\n'))
    subject = subject_at(project_of(cherry))
    assert {b.item for p in subject.piece.placed for b in getattr(p.thing, "bands", ())} == {"band-cherry"}
    birch = changed(cherry, ("[roles]\n", '[roles]\nedge_band = "band-birch"\n'))
    findings = found(looks_faces.CHECK, subject_at(project_of(birch)))
    assert ("looks.band", "media/drawer[c2,r2]/face/front") in told(findings, Severity.WARN)
