"""Edits keep comments, layout and everything else."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path

import pytest

from casewright.order import EditError, order_from_text, set_value
from casewright.order.pieces import PIECES
from casewright.order.pieces.bedside import BedsideOrder

SAMPLE = (Path(__file__).resolve().parents[2] / "examples" / "lantern-hill.toml").read_text(encoding="utf-8")


def changed_lines(before: str, after: str) -> list[str]:
    diff = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in diff if line[:2] in ("+ ", "- ")]


def test_only_the_line_of_the_value_changes_and_its_comment_stays() -> None:
    before = 'a = 1 # one\n\n[[piece]]  # the pair\nwidth = 20    # over the top\ndepth = "18 in"\n'
    after = set_value(before, ("piece", 0, "width"), "21 1/2 in")
    removed, added = changed_lines(before, after)
    assert removed.startswith("- width = 20 ")
    assert added.startswith('+ width = "21 1/2 in" ')
    assert removed.split("#")[1] == added.split("#")[1]


def test_the_edited_order_has_the_new_value() -> None:
    after = set_value(SAMPLE, ("piece", 0, "top", "thickness"), "7/8")
    piece = order_from_text(after, PIECES).pieces[0]
    assert isinstance(piece, BedsideOrder)
    assert piece.top.thickness == 22.225
    assert after.count("#") == SAMPLE.count("#")


@pytest.mark.parametrize("value", ["x", 3, 2.5, True])
def test_new_keys_and_tables(value: str | float) -> None:
    after = set_value(SAMPLE, ("practice", "gap", "inset"), value)
    assert tomllib.loads(after)["practice"]["gap"]["inset"] == value
    again = set_value(after, ("practice", "gap", "inset"), value)
    assert again == after


def test_setting_what_is_there_changes_nothing() -> None:
    assert set_value(SAMPLE, ("room", "temperature"), 21) == SAMPLE


@pytest.mark.parametrize(
    "path", [(), (0,), ("piece", 0), ("piece", 7, "width"), ("title", "x"), ("piece", "width"), ("nothing", 0, "x")]
)
def test_a_path_that_leads_nowhere_is_refused(path: tuple[str | int, ...]) -> None:
    with pytest.raises(EditError):
        set_value(SAMPLE, path, 1)


def test_a_text_that_is_no_toml_is_refused() -> None:
    with pytest.raises(EditError):
        set_value("a = ", ("a",), 1)
