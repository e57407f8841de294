"""What a part drawing shows at a scale: which views, what is called out, which coordinates run along which view.

A coordinate goes into the running sizes of its view. Two that would lie too close to be told apart on paper,
and those across a view that is too slender, are said in the call-out instead ("3/8 from face 0"), and features
that differ in them are called out apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from casewright.design.blanks import Face
from casewright.design.frames import Vec, dot
from casewright.design.marks import label as letters
from casewright.design.parts import Part
from casewright.packet.drawing.callouts import SEAT, Called, CallOut, Place, Words, called
from casewright.packet.drawing.meetings import Meeting
from casewright.packet.drawing.part_views import NORMALS, PartView, folded, main_view
from casewright.packet.drawing.subject import SizeWords, Subject, face_name
from casewright.packet.standing import bench_part, main_face

SLENDER = 13.0  # mm on paper: across a view narrower than this, coordinates are said in words
CLOSE = 3.5  # mm on paper: running sizes nearer to each other stand aside of what they measure
APART = 1.4  # mm on paper between two running sizes that can be told apart
SAME = 0.05  # mm of wood: coordinates this close are one
SLIVER = 1.0  # mm on paper: a narrower seat has no room for the dot of a leader
ALONG = (0.5, 0.3, 0.7, 0.15, 0.85)  # of a line or of a seat: where a leader may end
DATUM = ("end 0", "edge 0", "face 0")  # by blank axis
NEAREST = "; nearest to "  # before the place of those of a kind that have no running size


@dataclass(slots=True)
class PlannedView:
    """A view of the plan, and the running coordinates along its two directions: mm → where they are needed."""

    view: PartView
    across: dict[float, list[Place]] = field(default_factory=dict)  # along the paper's x
    up: dict[float, list[Place]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plan:
    """The views, the main one first, what is called out, and where other parts sit, by the face that shows it."""

    part: Part
    views: tuple[PlannedView, ...]
    callouts: tuple[CallOut, ...]
    bored: Face | None = None  # the face from which holes go through, if there are any
    seats: tuple[tuple[Face, Meeting], ...] = ()

    @property
    def main(self) -> PlannedView:
        """The main view."""
        return self.views[0]

    def of(self, face: Face) -> PlannedView:
        """Return the view that shows a face."""
        return next(v for v in self.views if v.view.face is face)


def plan_of(subject: Subject, k: float, *, all_lettered: bool = False) -> Plan:
    """Return the plan of a part's drawing at `k` mm of paper for a mm of the part.

    With `all_lettered` every call-out has a letter, so that none depends on a leader: for crowded parts.
    """
    part = bench_part(subject.part)
    face = main_face(part)
    found = _stepped([called(f, Words(part.blank, subject.words, face)) for f in part.features])
    ends, both = _one_end(found)
    main = main_view(face)
    faces = [face, *(f for f in Face if f is not face and any(c.place.face is f for c in ends))]
    views = tuple(PlannedView(folded(main, f)) for f in faces)
    through = any(c.hole and "through" in c.words and c.place.face is face for c in ends)
    seats = tuple((_shown_on(met, faces), met) for met in subject.met)
    plan = Plan(part, views, (), face if through else None, seats)
    found = [*ends, *(_seat_in_words(part, shown, met, k, subject.met) for shown, met in seats)]
    return replace(plan, callouts=_grouped(plan, found, both, subject.words, k, all_lettered))


def _shown_on(met: Meeting, faces: list[Face]) -> Face:
    """Return the face of those drawn whose view shows a seat: its own, the one it is seen through from, or the main."""
    return next(f for f in (met.face, met.face.opposite, faces[0]) if f in faces)


def _seat_in_words(part: Part, shown: Face, met: Meeting, k: float, all_met: Sequence[Meeting]) -> Called:
    """Return the seat of another part as a call-out that points at its lines.

    It points into it where a line is the border of another seat as well: a dot on that would not say of which.
    """
    where = "" if shown is met.face else " behind" if shown is met.face.opposite else f" on {face_name(met.face)}"
    rivals = [other for other in all_met if met.borders(other)]
    points = _within(part, met, rivals) if rivals and met.narrowest * k >= SLIVER else []
    for a, b in met.lines(part) if not points else ():
        points += [_between(a, b, t) for t in ALONG]
    return Called(f"{SEAT}{met.mark}, {met.name}{where}", Place(shown, tuple(points), met.located(part)))


def _within(part: Part, met: Meeting, rivals: Sequence[Meeting]) -> list[Vec]:
    """Return points along the middle of a seat, then to both sides of it; not where a mitred neighbour lies as well."""
    u0, v0, u1, v1 = met.box
    shares = [(t, s) for s in (0.5, 0.25, 0.75) for t in ALONG]
    if u1 - u0 < v1 - v0:
        shares = [(s, t) for t, s in shares]
    places = [(u0 + (u1 - u0) * s, v0 + (v1 - v0) * t) for s, t in shares]
    return [part.blank.point(met.face, at) for at in places if not any(other.holds(at) for other in rivals)]


def _between(a: Vec, b: Vec, t: float) -> Vec:
    x, y, z = (p + (q - p) * t for p, q in zip(a, b, strict=True))
    return (x, y, z)


def strain(subject: Subject, k: float) -> float:
    """Return how hard a drawing at a scale is to read.

    The number of places said in words, since lines to them would lie on each other, and half of the running sizes that
    stand aside of what they measure.
    """
    plan = plan_of(subject, k)
    said = sum(c.text.count(" from ") + c.text.count(NEAREST) for c in plan.callouts)
    rows = [sorted(row) for view in plan.views for row in (view.across, view.up)]
    return said + sum((b - a) * k < CLOSE for row in rows for a, b in pairwise(row)) / 2


def _in_all(hole: Called) -> str:
    """A narrower hole that goes on in a wider one is as deep as both together."""
    return " in all" if hole.words.endswith("deep") else ""


def _stepped(found: list[Called]) -> list[Called]:
    """Say holes on one axis, from one face, together: the wider one first, as they are bored."""
    by_axis: dict[tuple[Face, tuple[tuple[int, float], ...]], list[Called]] = {}
    for c in found:
        if c.hole:
            by_axis.setdefault((c.place.face, c.place.located), []).append(c)
    out = [c for c in found if not c.hole]
    for together in by_axis.values():
        ordered = sorted(together, key=lambda c: -c.place.radius)
        words = ordered[0].words + "".join(f", then {c.words}{_in_all(c)}" for c in ordered[1:])
        sizes = tuple(s for c in ordered for s in c.sizes)
        out.append(replace(ordered[0], words=words, sizes=sizes))
    return out


def _one_end(found: list[Called]) -> tuple[list[Called], frozenset[int]]:
    """Leave out what end 1 repeats of end 0, and return which are on both ends (by identity)."""
    by_end = {face: [c for c in found if c.place.face is face] for face in (Face.END0, Face.END1)}

    def sign(items: list[Called]) -> list[tuple[str, tuple[tuple[int, float], ...]]]:
        return sorted((c.words, c.place.located) for c in items)

    if by_end[Face.END0] and sign(by_end[Face.END0]) == sign(by_end[Face.END1]):
        kept = [c for c in found if c.place.face is not Face.END1]
        return _alike(kept), frozenset(id(c) for c in by_end[Face.END0])
    return _alike(found), frozenset()


def _alike(found: list[Called]) -> list[Called]:
    """Say once "at both ends", "along both edges" where two cuts have the same words and lie on opposite sides."""
    for how, side in (("at", "end"), ("along", "end"), ("along", "edge")):
        found = _on_both(found, f" {how} {side} 0", f" {how} {side} 1", f" {how} both {side}s")
    return found


def _on_both(found: list[Called], low: str, high: str, both: str) -> list[Called]:
    """Put what ends in `low` and what says the same of `high` into one, which points at both."""
    out = list(found)
    for one in found:
        stem = one.words.removesuffix(low)
        twin = next((c for c in out if c.words == stem + high and c.place.face is one.place.face), None)
        if stem == one.words or twin is None:
            continue
        out.remove(twin)
        place = replace(one.place, points=one.place.points + twin.place.points)
        out[out.index(one)] = replace(one, words=stem + both, place=place)
    return out


def _grouped(
    plan: Plan, found: list[Called], both: frozenset[int], words: SizeWords, k: float, all_lettered: bool
) -> tuple[CallOut, ...]:
    said: dict[int, dict[int, str]] = {id(c): {} for c in found}
    for planned in plan.views:
        own = [c for c in found if c.place.face is planned.view.face]
        for direction, running in ((planned.view.right, planned.across), (planned.view.up, planned.up)):
            axis, _ = planned.view.axis(direction)
            slender = plan.part.blank.size[axis] * k < SLENDER
            for one, mm in _said(own, axis, slender, k, running):
                before = said[id(one)].get(axis)
                text = f"{one.place.text(axis, mm, words)} from {DATUM[axis]}"
                said[id(one)][axis] = f"{before}, {text}" if before else text
    alike: dict[tuple[str, Face], list[Called]] = {}
    for one in found:
        alike.setdefault((one.words, one.place.face), []).append(one)
    together = {key: _said_together(own, said, k) for key, own in alike.items()}
    groups: dict[tuple[str, str, Face], CallOut] = {}
    for one in found:
        shared = together[one.words, one.place.face]
        given = f", {', '.join(said[id(one)].values())}" if said[id(one)] else ""
        given = given if shared is None else shared
        key = (one.words, given, one.place.face)
        if key not in groups:
            groups[key] = CallOut(one.words + given, one.hole, one.sizes, both_ends=id(one) in both)
        groups[key].places.append(one.place)
    out = tuple(groups.values())
    kinds = [words for words, *_ in groups]
    split = [c for c, words in zip(out, kinds, strict=True) if not c.hole and kinds.count(words) > 1]
    told_apart = [c for c in out if c.hole]
    told_apart = list(out) if all_lettered else [*(told_apart if len(told_apart) > 1 else []), *split]
    for i, c in enumerate(told_apart):
        c.letter = letters(i).lower()
    return out


def _said_together(alike: Sequence[Called], said: dict[int, dict[int, str]], k: float) -> str | None:
    """Return in words the places of features alike, of which only some are said; None where it is not plain of which.

    It is plain of those nearest to the datum: they are the ones there that have no running size.
    """
    common, nearest = "", ""
    for axis in sorted({axis for c in alike for axis in said[id(c)]}):
        texts = [said[id(c)].get(axis, "") for c in alike]
        given = {text for text in texts if text}
        if len(given) > 1:
            return None
        (text,) = given
        if all(texts):
            common += f", {text}"
            continue
        places = [[mm for a, mm in c.place.located if a == axis] for c in alike]
        near = {mm[0] for mm, text in zip(places, texts, strict=True) if text and len(mm) == 1}
        far = [mm for own, text in zip(places, texts, strict=True) if not text for mm in own]
        if len(near) != 1 or not far or (min(far) - max(near)) * k < CLOSE:
            return None
        nearest += f"{NEAREST}{DATUM[axis]}: {text.removesuffix(f' from {DATUM[axis]}')}"
    return common + nearest


def _said(
    own: Sequence[Called], axis: int, slender: bool, k: float, running: dict[float, list[Place]]
) -> list[tuple[Called, float]]:
    """Fill the running sizes of one direction of a view; return what is to be said in words instead."""
    located = sorted(((mm, i) for i, c in enumerate(own) for a, mm in c.place.located if a == axis), key=lambda t: t)
    out: list[tuple[Called, float]] = []
    last = 0.0  # the datum itself
    for mm, i in located:
        one = own[i]
        near = next((r for r in running if abs(r - mm) <= SAME), None)
        if slender:
            out.append((one, mm))
        elif near is not None:
            running[near].append(one.place)
        elif (mm - last) * k < APART:
            out.append((one, mm))
        else:
            running[mm] = [one.place]
            last = mm
    return out


def place_on(view: PartView, face: Face) -> str:
    """Return where a view stands as to the main one: "main", "above", "below", "left", "right", "far"."""
    main_face_of = view.face
    if face is main_face_of:
        return "main"
    normal = NORMALS[face]
    towards = NORMALS[main_face_of]
    if abs(dot(normal, towards)) > 0.5:
        return "far"
    if abs(dot(normal, view.up)) > 0.5:
        return "above" if dot(normal, view.up) > 0 else "below"
    return "right" if dot(normal, view.right) > 0 else "left"
