"""Marks: one label for all parts of an order that are cut alike, whichever way round they lie."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Mapping

from casewright.design.parts import Part, Placed
from casewright.units.grid import record


@record
class Mark:
    """A label, the key of what it labels, and the label of its mirror image where the order has one."""

    label: str
    key: str
    mirror_of: str = ""


# Keys of marks by the key of the part: hashing a whole part costs more than turning it.
_KEPT: OrderedDict[tuple[str, bool], str] = OrderedDict()
_ROOM = 20_000


def mark_key(part: Part) -> str:
    """Return the key that equal marks share: bench features only, up to the proper turns of the blank."""
    return _kept(part, mirrored=False)


def _kept(part: Part, *, mirrored: bool) -> str:
    found = _KEPT.get((part.key, mirrored))
    if found is None:
        found = (part.mirrored() if mirrored else part).bench_key()
        _KEPT[part.key, mirrored] = found
        while len(_KEPT) > _ROOM:
            _KEPT.popitem(last=False)
    return found


def label(number: int) -> str:
    """Return A, B, … Z, AA, AB and so on for 0, 1 and up."""
    text = ""
    number += 1
    while number:
        number, digit = divmod(number - 1, 26)
        text = chr(65 + digit) + text
    return text


def assign_marks(parts: Iterable[Placed], previous: Mapping[str, str] | None = None) -> dict[str, Mark]:
    """Return a mark for each key among `parts` by first appearance; labels of `previous` (key → label) are kept.

    Hardware has no marks.
    """
    kept = dict(previous or {})
    taken = set(kept.values())
    marks: dict[str, Mark] = {}
    number = 0
    for placed in parts:
        if not isinstance(placed.thing, Part):
            continue
        key = mark_key(placed.thing)
        if key in marks:
            continue
        if key not in kept:
            while label(number) in taken:
                number += 1
            kept[key] = label(number)
            taken.add(kept[key])
        mirror = marks.get(_kept(placed.thing, mirrored=True))
        marks[key] = Mark(label=kept[key], key=key, mirror_of=mirror.label if mirror else "")
    return marks
