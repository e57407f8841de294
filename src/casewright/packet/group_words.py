"""Groups of a piece in words: which drawer, door or leaf a name like "door[c1,r2].left" speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_CELL = re.compile(r"\[c([\d.]+),r([\d.]+)\](?:\.(\w+))?")
_POINT = re.compile(r"\.(?=[a-z])")


def place_words(name: str) -> str:
    """Return "column 1, row 2, left" for "door[c1,r2].left"; empty where a name has no column and row."""
    found = _CELL.search(name)
    return _cell(found) if found is not None else ""


def places_words(names: Iterable[str]) -> str:
    """Return where several stand, those of a column together: "column 1, rows 1 and 2; column 2, row 1".

    What stands at no column and row is named by its corner: "foot.front.left" is "front left".
    """
    columns: dict[tuple[str, str], dict[str, None]] = {}
    corners: list[str] = []
    for name in names:
        if (found := _CELL.search(name)) is not None:
            column, row, leaf = found.groups()
            columns.setdefault((column, leaf or ""), {})[row] = None
        else:
            corners.append(name.rpartition("/")[2].partition(".")[2].replace(".", " "))
    rows = (
        f"column {column}, row{'s' if len(own) > 1 else ''} {listed(tuple(own))}{f', {leaf}' if leaf else ''}"
        for (column, leaf), own in columns.items()
    )
    return "; ".join((*rows, *corners))


def listed(words: Sequence[str]) -> str:
    """Return words as one list: "1, 2 and 3"."""
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def group_words(name: str) -> str:
    """Return what a group is called: "drawer[c1,r1]/face" is "drawer, column 1, row 1, face".

    "foot.front.left" is "foot, front left", and "top/set", what is joined to a top before it is laid on, "top set".
    """
    name = name.removesuffix("/set") + " set" * name.endswith("/set")
    words = _CELL.sub(lambda m: f", {_cell(m)}", name).replace("/", ", ")
    return _POINT.sub(" ", _POINT.sub(", ", words, count=1))


def alike_words(names: Sequence[str]) -> str:
    """Return what several groups that are alike are called together, each by its place where it has a row and column.

    "drawer[c1,r3]" and "drawer[c2,r3]" are "drawer, column 1, row 3; column 2, row 3"; four feet are "foot".
    """
    words = group_words(names[0])
    if len(names) == 1:
        return words
    place = place_words(names[0])
    return words.replace(place, places_words(names)) if place else words.partition(", ")[0]


def _cell(found: re.Match[str]) -> str:
    column, row, leaf = found.groups()
    return f"column {column}, row {row}" + (f", {leaf}" if leaf else "")
