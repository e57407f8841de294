"""The line of a key path in a TOML text."""

from __future__ import annotations

import pytest

from casewright.shop.lines import key_text, line_of, place_of

TEXT = '''# a comment = with [signs]
title = "a # b = [c]"
note = """
[not.a.table]
width = 3
"""
"quoted key" = 1
[room]
height = 5 # [x]
list = [
  1,  # one ]
  2,
]
a.b.c = 1

[[piece]]
kind = "x"

[piece.top]
thickness = 1

[[piece]]
kind = "y"
door = { width = 2, height = 3 }

[[piece.shelf]]
at = 1
[[piece.shelf]]
at = 2
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("note",), 3),
        (("quoted key",), 7),
        (("room",), 8),
        (("room", "height"), 9),
        (("room", "list"), 10),
        (("room", "list", 1), 10),
        (("room", "a", "b", "c"), 14),
        (("room", "missing"), 8),
        (("piece", 0), 16),
        (("piece", 0, "kind"), 17),
        (("piece", 0, "top"), 19),
        (("piece", 0, "top", "thickness"), 20),
        (("piece", 1, "kind"), 23),
        (("piece", 1, "door", "height"), 24),
        (("piece", 1, "shelf", 0, "at"), 27),
        (("piece", 1, "shelf", 1, "at"), 29),
        (("nowhere",), None),
    ],
)
def test_line_of(path: tuple[str | int, ...], line: int | None) -> None:
    assert line_of(TEXT, path) == line


def test_shown_paths_and_places() -> None:
    assert key_text(("piece", 0, "top", "thickness")) == "piece[1].top.thickness"
    assert place_of("a.toml", TEXT, ("piece", 1)) == "a.toml:22"
    assert place_of("a.toml", TEXT, ("nowhere",)) == "a.toml"
