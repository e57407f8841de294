"""Groups of a piece in words: which drawer, door or leaf a name like "door[c1,r2].left" speaks of."""

from __future__ import annotations

import re

_CELL = re.compile(r"\[c([\d.]+),r([\d.]+)\](?:\.(\w+))?")
_POINT = re.compile(r"\.(?=[a-z])")


def place_words(name: str) -> str:
    """Return "column 1, row 2, left" for "door[c1,r2].left"; empty where a name has no column and row."""
    found = _CELL.search(name)
    return _cell(found) if found is not None else ""


def group_words(name: str) -> str:
    """Return what a group is called: "drawer[c1,r1]/face" is "drawer, column 1, row 1, face".

    "foot.front.left" is "foot, front left".
    """
    words = _CELL.sub(lambda m: f", {_cell(m)}", name).replace("/", ", ")
    return _POINT.sub(" ", _POINT.sub(", ", words, count=1))


def _cell(found: re.Match[str]) -> str:
    column, row, leaf = found.groups()
    return f"column {column}, row {row}" + (f", {leaf}" if leaf else "")
