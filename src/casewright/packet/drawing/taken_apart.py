"""A piece taken apart so that every mark can be read: the whole in units, each with a number, and every unit alone.

1. A *unit* is what is built apart and brought to the piece as one (frame, drawer, foot …); the *body* is all that is
   brought singly. Which they are is said by the steps. Units with the same marks share a number.
2. The whole shows units as they stand, each moved back along the way it arrived, with its number alone.
3. Each unit is shown taken apart with its marks, from the side that shows most of them; what is covered there is
   pointed at in a further picture from the side that shows most of the rest.
4. Where not all balloons of a picture find room, the same picture is drawn twice, each with half of them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.balloons import marked_points
from casewright.packet.drawing.explode import Explosion, explosion, groups_of, members_of, unit_explosion
from casewright.packet.drawing.picture import picture
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import XY, Picture
from casewright.packet.drawing.subject import listed
from casewright.solids.collide import is_under
from casewright.solids.hide import project
from casewright.solids.mesh import scene_of
from casewright.solids.view import THREE_QUARTER, View, view_from

BODY = "body"
MOST_NAMES = 3  # of the parts of a unit that has no name of its own
_RISE = math.sin(math.radians(35.0))
# The usual view first; others look from the left, from behind and from below.
VIEWS: tuple[View, ...] = (
    THREE_QUARTER,
    view_from("three-quarter from the left", (-0.55, -1.0, _RISE)),
    view_from("three-quarter from below", (0.55, -1.0, -_RISE)),
    view_from("three-quarter from behind", (0.55, 1.0, _RISE)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """What is brought as one: its number in the piece, its group's path in the piece ("body" for the rest), its things.

    `group` is what its steps build; `paths` are those of its things, `alike` the names of all that the piece has.
    """

    number: int
    name: str
    group: str
    paths: tuple[str, ...]
    alike: tuple[str, ...]


def units_of(piece: PieceDesign, marks: Mapping[str, str]) -> tuple[Unit, ...]:
    """Return the units of a piece without repeats, the body first; `marks` are by path."""
    return tuple(unit for unit, _ in _numbered(piece, marks))


def whole_apart(piece: PieceDesign, cache: Cache, marks: Mapping[str, str], fit: XY) -> tuple[Picture, ...]:
    """Return the whole piece in units with their numbers: one picture, or more where not all numbers find room."""
    numbered = _numbered(piece, marks)
    alike = [paths for _, each in numbered for paths in each]
    exploded = unit_explosion(piece, cache, alike)
    numbers = {path: str(unit.number) for unit, each in numbered for paths in each for path in paths}
    return tuple(_marked(piece, cache, THREE_QUARTER, exploded, numbers, fit, ()))


def unit_apart(piece: PieceDesign, cache: Cache, marks: Mapping[str, str], unit: Unit, fit: XY) -> tuple[Picture, ...]:
    """Return one unit taken apart with every mark that it has."""
    own = {path: mark for path, mark in marks.items() if path in frozenset(unit.paths)}
    exploded = explosion(piece, cache, into=unit.group, only=unit.paths)
    left, out = dict(own), []
    while left:
        view, shown = _best_view(piece, cache, exploded, unit.paths, left)
        out += _marked(piece, cache, view, exploded, shown, fit, unit.paths)
        seen = frozenset(shown.values())
        left = {path: mark for path, mark in left.items() if mark not in seen}
    return tuple(out)


def _numbered(piece: PieceDesign, marks: Mapping[str, str]) -> list[tuple[Unit, list[tuple[str, ...]]]]:
    """Return each unit with the paths of all that are alike."""
    by_marks: dict[tuple[str, ...], list[tuple[str, tuple[str, ...]]]] = {}
    for group, paths in _grouped(piece).items():
        key = tuple(sorted(marks[p] for p in paths if p in marks)) or paths
        by_marks.setdefault(key, []).append((group, paths))
    out = []
    for number, alike in enumerate(by_marks.values(), 1):
        group, paths = alike[0]
        names = tuple(_name(piece, each, its) for each, its in alike)
        unit = Unit(number=number, name=names[0], group=group, paths=paths, alike=names)
        out.append((unit, [paths for _, paths in alike]))
    return out


def _name(piece: PieceDesign, group: str, paths: tuple[str, ...]) -> str:
    """Return what a unit is called: by its path in the piece, or by what it consists of where that says nothing."""
    if group == piece.path:
        return BODY
    name = group.removeprefix(piece.path + "/")
    if not name.startswith("set["):
        return name
    parts = list(dict.fromkeys(p.name for p in piece.placed if p.path in paths))
    return listed(parts) if len(parts) <= MOST_NAMES else f"{listed(parts[:MOST_NAMES])} and so on"


def _grouped(piece: PieceDesign) -> dict[str, tuple[str, ...]]:
    """Return what belongs to each unit: a thing to the largest group that brings it, or whose path it has."""
    members = {g: frozenset(members_of(piece, g)) for g in groups_of(piece) if g != piece.path}
    by_size = sorted(members, key=lambda g: -len(members[g]))
    found: dict[str, list[str]] = {piece.path: []}
    for placed in piece.placed:
        brought = next((g for g in by_size if placed.path in members[g]), None)
        named = max((g for g in members if is_under(placed.path, g)), key=len, default=piece.path)
        found.setdefault(brought or named, []).append(placed.path)
    return {group: tuple(paths) for group, paths in found.items() if paths}


def _best_view(
    piece: PieceDesign, cache: Cache, exploded: Explosion, paths: Sequence[str], marks: Mapping[str, str]
) -> tuple[View, dict[str, str]]:
    """Return the view that shows most marks, and those marks by path; all of them where no view shows one."""
    best: tuple[View, frozenset[str]] | None = None
    wanted = frozenset(marks.values())
    for view in VIEWS:
        seen = _seen(piece, cache, exploded, paths, marks, view)
        if best is None or len(seen) > len(best[1]):
            best = (view, seen)
        if seen == wanted:
            break
    assert best is not None
    view, seen = best
    return view, {path: mark for path, mark in marks.items() if mark in (seen or wanted)}


def _seen(
    piece: PieceDesign, cache: Cache, exploded: Explosion, paths: Sequence[str], marks: Mapping[str, str], view: View
) -> frozenset[str]:
    scene = scene_of(_only(piece, paths), cache)
    return frozenset(
        p.mark for p in marked_points(scene, project(scene, view, exploded.offsets), marks) if not p.covered
    )


def _only(piece: PieceDesign, paths: Sequence[str]) -> PieceDesign:
    wanted = frozenset(paths)
    return replace(piece, placed=tuple(p for p in piece.placed if p.path in wanted), fasteners=())


def _marked(
    piece: PieceDesign,
    cache: Cache,
    view: View,
    exploded: Explosion,
    marks: Mapping[str, str],
    fit: XY,
    only: tuple[str, ...],
) -> list[Picture]:
    """Return a picture with all of its marks, or several of the same with a share each."""
    try:
        return [picture(piece, view, cache, fit=fit, shaded=True, exploded=exploded, marks=marks, only=only)]
    except NoRoom:
        names = sorted(set(marks.values()), key=lambda m: (len(m), m))
        if len(names) < 2:
            raise
    halves = (frozenset(names[: len(names) // 2]), frozenset(names[len(names) // 2 :]))
    return [
        shown
        for half in halves
        for shown in _marked(piece, cache, view, exploded, {p: m for p, m in marks.items() if m in half}, fit, only)
    ]
