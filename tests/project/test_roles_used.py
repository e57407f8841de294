"""Roles that an order names and nothing is made of."""

from __future__ import annotations

from tests.checks.seeding import changed, project_of, text_of

from casewright.findings import Finding


def unused(text: str) -> list[Finding]:
    return [f for f in project_of(text).findings if f.code == "role.unused"]


def test_what_an_order_names_and_no_piece_takes_is_noted() -> None:
    text = changed(text_of("media-unit"), ("[roles]\n", '[roles]\nfoot_dowel = "dowel-8x30"\nbase = "base-76"\n'))
    assert [(f.path, f.message.rpartition("role ")[2].partition(",")[0]) for f in unused(text)] == [
        ("roles", "base"),
        ("roles", "foot_dowel"),
    ]


def test_what_is_taken_is_not() -> None:
    assert not unused(text_of("media-unit"))
    assert not unused(text_of("tall-cupboard"))
