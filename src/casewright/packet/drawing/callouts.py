"""Features in words: what is made, with which sizes, and where it is to be located from the datum corner.

A call-out speaks of all equal features of a part at once. Each place says which face shows it, points of the blank
that a leader may point at, and the blank coordinates (from end 0, edge 0, face 0) by which it is located.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature
from casewright.design.features.cuts import HingeMortise, RectCut, Tenon
from casewright.design.features.edges import EdgeProfile, RipBevel, VGroove
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.mitres import KeySlot, MitreSlot
from casewright.design.features.openings import Recess
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.frames import Vec
from casewright.design.outlines import Outline, arc_circle
from casewright.packet.drawing.primitives import Shown
from casewright.packet.drawing.subject import SizeWords, face_name
from casewright.packet.printed import decimal
from casewright.units import Role, format_angle, parse_length

EPS = 1e-6
SEAT = "seat of "  # how call-outs begin that say where another part stands
ROW_OFF = 0.5  # mm that the last hole of a row may be off without a word: shelf pins have that play


@dataclass(frozen=True, slots=True)
class Place:
    """One occurrence: the face that shows it, points for a leader, coordinates (axis, mm) to locate it.

    Where the feature starts at the datum, its coordinate is its size as well and is rounded as its words round that:
    `roles` say how.
    """

    face: Face
    points: tuple[Vec, ...]
    located: tuple[tuple[int, float], ...]
    radius: float = 0.0  # of a round mouth, for leaders that end on its rim
    roles: tuple[tuple[int, Role], ...] = ()

    def text(self, axis: int, mm: float, sizes: SizeWords) -> str:
        """Return a coordinate as it is printed."""
        role = dict(self.roles).get(axis)
        return sizes.place(mm) if role is None else sizes.text(mm, role)


@dataclass(frozen=True, slots=True)
class Called:
    """One feature in words, its place, the sizes that the words give; holes may be told apart by letters."""

    words: str
    place: Place
    sizes: tuple[Shown, ...] = ()
    hole: bool = False


@dataclass(slots=True)
class CallOut:
    """Equal features: the words for one of them, and all their places."""

    words: str
    hole: bool
    sizes: tuple[Shown, ...]
    places: list[Place] = field(default_factory=list)
    letter: str = ""
    both_ends: bool = False

    @property
    def is_seat(self) -> bool:
        """True where it says where another part stands, and nothing is made."""
        return self.words.startswith(SEAT)

    @property
    def text(self) -> str:
        """The call-out as it is printed: letter, count and words."""
        count = len(self.places) * (2 if self.both_ends else 1)
        words = (f"{count}× " if count > 1 else "") + self.words + (", both ends alike" if self.both_ends else "")
        return f"{self.letter}  {words}" if self.letter else words


@dataclass(frozen=True, slots=True)
class Words:
    """What words are made with: the blank, how sizes are printed, which face is looked at first."""

    blank: Blank
    sizes: SizeWords
    main: Face


def called(feature: Feature, words: Words) -> Called:
    """Return a feature in words. Raises TypeError for a kind of feature that has none."""
    for kind, describe in _DESCRIBERS:
        if isinstance(feature, kind):
            return describe(feature, words)
    raise TypeError(f"no words for a {type(feature).__name__}")


def _hole(hole: Hole, w: Words) -> Called:
    _, _, through = w.blank.extent(hole.face)
    open_ended = hole.depth is None or hole.depth >= through - EPS
    shown = [Shown("diameter", hole.diameter, w.sizes.drill(hole.diameter))]
    text = f"Ø {w.sizes.drill(hole.diameter)}"
    if open_ended:
        text += " through"
    elif hole.depth is not None:
        text += f", {w.sizes.text(hole.depth)} deep"
        shown.append(Shown("depth", hole.depth, w.sizes.text(hole.depth)))
    mouth = hole.diameter
    if hole.bore_diameter > 0:
        text += f", counterbore Ø {w.sizes.drill(hole.bore_diameter)}, {w.sizes.text(hole.bore_depth)} deep"
        mouth = hole.bore_diameter
    if hole.countersink > hole.diameter:
        text += f", csk Ø {w.sizes.nearest_drill(hole.countersink)} × {format_angle(hole.sink_angle)}"
        mouth = max(mouth, hole.countersink)
    plain = open_ended and mouth == hole.diameter
    face = w.main if plain and w.main.axis == hole.face.axis else hole.face
    at = w.blank.point(face, (hole.u, hole.v))
    u, v = hole.face.uv_axes
    return Called(text, Place(face, (at,), ((u, hole.u), (v, hole.v)), mouth / 2), tuple(shown), hole=True)


def _pocket(pocket: PocketHole, w: Words) -> Called:
    u, v = pocket.face.uv_axes
    at = w.blank.point(pocket.face, (pocket.u, pocket.v))
    along_u = abs(pocket.du) > abs(pocket.dv)
    # The jig sets the distance from the edge that the screw leaves; where it stands along that edge is measured.
    located = ((v, pocket.v),) if along_u else ((u, pocket.u),)
    text = (
        f"pocket hole Ø {w.sizes.drill(pocket.pocket_diameter)} at {format_angle(pocket.angle)}, stepped to "
        f"Ø {w.sizes.drill(pocket.diameter)}, {w.sizes.text(pocket.shoulder)} of wood left before the edge"
    )
    return Called(text, Place(pocket.face, (at,), located), (Shown("shoulder", pocket.shoulder, ""),))


def _rect(cut: RectCut, w: Words) -> Called:
    du, dv, through = w.blank.extent(cut.face)
    u, v = cut.face.uv_axes
    spans = ((cut.u0, cut.u1, du), (cut.v0, cut.v1, dv))
    full = [lo <= EPS and hi >= size - EPS for lo, hi, size in spans]
    sides = [hi - lo for lo, hi, _ in spans]
    role = Role.FREE if isinstance(cut, HingeMortise) else Role.HOUSING
    depth = "through" if cut.depth >= through - EPS else f"{w.sizes.shallow(cut.depth, role)} deep"
    name = cut.describe()
    if any(full) and not all(full):
        wide = sides[1] if full[0] else sides[0]
        size = f"{w.sizes.snug(wide, Role.HOUSING)} wide, {depth}, " + ("full length" if full[0] else "right across")
        shown = [Shown("width", wide, w.sizes.text(wide, Role.HOUSING))]
    else:
        long, wide = sides if sides[0] >= sides[1] else sides[::-1]
        size = f"{w.sizes.text(long, Role.HOUSING)} × {w.sizes.text(wide, Role.HOUSING)}, {depth}"
        shown = [Shown("length", long, w.sizes.text(long)), Shown("width", wide, w.sizes.text(wide))]
    shown.append(Shown("depth", cut.depth, w.sizes.text(cut.depth, Role.HOUSING)))
    located = tuple(
        (axis, lo) for axis, (lo, hi, end) in zip((u, v), spans, strict=True) if lo > EPS and hi < end - EPS
    )
    where = _open_sides(cut.face, spans)
    text = f"{name} {size}" + (f", along {where}" if where and not located else "")
    points = tuple(
        w.blank.point(cut.face, (cut.u0 + fu * sides[0], cut.v0 + fv * sides[1]))
        for fu, fv in ((0.5, 0.5), (0.3, 0.5), (0.7, 0.5), (0.15, 0.5), (0.85, 0.5), (0.5, 0.2), (0.5, 0.8))
    )
    return Called(text, Place(cut.face, points, located), tuple(shown))


def _open_sides(face: Face, spans: tuple[tuple[float, float, float], ...]) -> str:
    """Return the border that a cut lies on, where it lies on just one: "edge 0"."""
    kinds = [("end", "edge", "face")[axis] for axis in face.uv_axes]
    found = []
    for kind, (lo, hi, size) in zip(kinds, spans, strict=True):
        low, high = lo <= EPS, hi >= size - EPS
        if low != high:
            found.append(f"{kind} {0 if low else 1}")
    return found[0] if len(found) == 1 else ""


def _tenon(tenon: Tenon, w: Words) -> Called:
    thick, wide = tenon.v1 - tenon.v0, tenon.u1 - tenon.u0
    text = f"tenon {w.sizes.text(tenon.length, Role.INSERT)} long, {w.sizes.snug(thick, Role.INSERT)} thick"
    if wide < w.blank.width - EPS:
        text += f", {w.sizes.text(wide, Role.INSERT)} wide, {w.sizes.place(tenon.u0)} from edge 0"
    text += f", {w.sizes.place(tenon.v0)} from face 0"
    x = w.blank.length - tenon.length / 2 if tenon.face.high else tenon.length / 2
    edge = Face.EDGE0 if w.main is Face.FACE1 else Face.EDGE1
    y = 0.0 if edge is Face.EDGE0 else w.blank.width
    points = ((x, y, tenon.v0), (x, y, tenon.v1))
    shown = (Shown("length", tenon.length, ""), Shown("thickness", thick, ""))
    shoulder = w.blank.length - tenon.length if tenon.face.high else tenon.length
    roles = () if tenon.face.high else ((0, Role.INSERT),)
    return Called(text, Place(edge, points, ((0, shoulder),), roles=roles), shown)


def _recess(recess: Recess, w: Words) -> Called:
    _, _, through = w.blank.extent(recess.face)
    u, v = recess.face.uv_axes
    x0, y0, x1, y1 = recess.outline.box
    du, dv, _ = w.blank.extent(recess.face)
    inside_box = (max(x0, 0.0), max(y0, 0.0), min(x1, du), min(y1, dv))
    open_ended = recess.depth >= through - EPS
    depth = "through" if open_ended else f"{w.sizes.text(recess.depth, Role.HOUSING)} deep"
    size, radius, shown = _outline_words(recess.outline, inside_box, w)
    text = f"{recess.describe()} {size}, {depth}" if not radius else f"{recess.describe()} Ø {size}, {depth}"
    if not radius and recess.describe() == "slot":
        text += f", along the {('length', 'width', 'thickness')[(u, v)[y1 - y0 > x1 - x0]]}"
    face = w.main if open_ended and w.main.axis == recess.face.axis else recess.face
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    centred = radius or recess.describe() == "slot"
    located = _outline_located((u, v), recess.outline.box, (du, dv), bool(centred))
    if not centred:
        text += "".join(f", open to {side}" for side in _beyond(recess.face, recess.outline.box, (du, dv)))
    if radius:
        points: tuple[Vec, ...] = (w.blank.point(face, middle),)
    else:
        inside = [(x0 + fu * (x1 - x0), y0 + fv * (y1 - y0)) for fu, fv in ((0.5, 0.5), (0.5, 0.8), (0.5, 0.25))]
        points = tuple(w.blank.point(face, p) for p in inside if 0 <= p[0] <= du and 0 <= p[1] <= dv)
    roles = tuple((axis, Role.HOUSING) for axis, mm in located if not centred and mm == (x1, y1)[(u, v).index(axis)])
    return Called(text, Place(face, points, located, radius, roles), shown)


def _outline_words(
    outline: Outline, box: tuple[float, float, float, float], w: Words
) -> tuple[str, float, tuple[Shown, ...]]:
    """Return the size of what an outline takes of the face (`box`) in words, and its radius where it is a circle."""
    x0, y0, x1, y1 = box
    if len(outline.vertices) == 2 and abs((x1 - x0) - (y1 - y0)) < 1e-6:
        size = w.sizes.bore(x1 - x0)
        return size, (x1 - x0) / 2, (Shown("diameter", x1 - x0, size),)
    long, wide = sorted((x1 - x0, y1 - y0), reverse=True)
    texts = [w.sizes.text(s, Role.HOUSING) for s in (long, wide)]
    text = f"{texts[1]} × {texts[0]}" if _is_obround(outline) else f"{texts[0]} × {texts[1]}"
    radii = sorted({round(arc_circle(a, b, k)[1], 3) for a, b, k in outline.sides if k})
    if radii and not _is_obround(outline):
        text += f", R {w.sizes.text(radii[0])}"
    if _is_obround(outline):
        text = f"{w.sizes.drill(wide)} × {texts[0]}"
    return text, 0.0, (Shown("length", long, texts[0]), Shown("width", wide, texts[1]))


def _is_obround(outline: Outline) -> bool:
    return len(outline.vertices) == 4 and sum(abs(k - 1.0) < 1e-9 for *_, k in outline.vertices) == 2


def _outline_located(
    axes: tuple[int, int], box: tuple[float, float, float, float], size: tuple[float, float], centred: bool
) -> tuple[tuple[int, float], ...]:
    out = []
    for i, axis in enumerate(axes):
        lo, hi = box[i], box[i + 2]
        if centred:
            out.append((axis, (lo + hi) / 2))
        elif lo > EPS:
            out.append((axis, lo))
        elif hi < size[i] - EPS:
            out.append((axis, hi))
    return tuple(out)


def _beyond(face: Face, box: tuple[float, float, float, float], size: tuple[float, float]) -> list[str]:
    kinds = [("end", "edge", "face")[axis] for axis in face.uv_axes]
    out = []
    for i, kind in enumerate(kinds):
        out += [f"{kind} 0"] if box[i] <= EPS else []
        out += [f"{kind} 1"] if box[i + 2] >= size[i] - EPS else []
    return out


def _end_cut(cut: EndCut, w: Words) -> Called:
    name = cut.describe()
    if cut.mitre and cut.bevel:
        angles = f"{format_angle(abs(cut.mitre))}, bevel {format_angle(abs(cut.bevel))}"
    else:
        angles = format_angle(abs(cut.mitre or cut.bevel))
    text = f"{name} {angles} at {face_name(cut.face)}"
    face = w.main
    if not cut.mitre:
        face = Face.EDGE0 if w.main is Face.FACE1 else Face.EDGE1
    points = tuple(_on_plane(cut, w.blank, share, face) for share in (0.5, 0.25, 0.75, 0.08, 0.92))
    shown = tuple(Shown(n, abs(a), format_angle(abs(a))) for n, a in (("mitre", cut.mitre), ("bevel", cut.bevel)) if a)
    return Called(text, Place(face, points, ()), shown)


def _on_plane(cut: EndCut, blank: Blank, share: float, face: Face) -> Vec:
    """Return a point of a cut in a view of `face`, at a share of what is seen from side to side there."""
    (nx, ny, nz), (_, width, thick) = cut.normal(), blank.size
    y = share * width if cut.mitre else (width if face.high else 0.0)
    z = thick / 2 if cut.mitre else share * thick
    return (cut.at - (ny * (y - width / 2) + nz * (z - thick / 2)) / nx, y, z)


def _taper(taper: Taper, w: Words) -> Called:
    run = w.blank.length - taper.start if taper.towards.high else taper.start
    text = (
        f"taper {w.sizes.text(taper.inset)} in over the last {w.sizes.text(run)} to {face_name(taper.towards)} "
        f"({format_angle(taper.angle(w.blank), 1)})"
    )
    face = w.main
    x = (w.blank.length + taper.start) / 2 if taper.towards.high else taper.start / 2
    low = taper.inset / 2
    deep = w.blank.size[taper.face.axis] - low if taper.face.high else low
    middle = w.blank.width / 2
    at: Vec = (x, deep, _surface(w)) if taper.face.axis == 1 else (x, middle, _surface(w))
    return Called(text, Place(face, (at,), ()), (Shown("inset", taper.inset, ""), Shown("run", run, "")))


def _cove(cove: Cove, w: Words) -> Called:
    text = f"cove R {w.sizes.text(cove.radius)}, {w.sizes.text(cove.depth)} deep"
    deep = w.blank.width - cove.depth if cove.face.high else cove.depth
    at: Vec = (cove.at, deep if cove.face.axis == 1 else w.blank.width / 2, _surface(w))
    located = ((0, cove.at),)
    return Called(
        text, Place(w.main, (at,), located), (Shown("radius", cove.radius, ""), Shown("depth", cove.depth, ""))
    )


def _rip_bevel(bevel: RipBevel, w: Words) -> Called:
    text = f"rip bevel {format_angle(bevel.angle)} at {face_name(bevel.face)}, measured from {face_name(bevel.datum)}"
    if bevel.inset:
        text += f", {w.sizes.text(bevel.inset)} in from it"
    shown = (Shown("angle", bevel.angle, format_angle(bevel.angle)),)
    return Called(text, Place(w.main, (_on_sides(w, bevel.face),), ()), shown)


def _edge_profile(profile: EdgeProfile, w: Words) -> Called:
    run, drop = profile.sizes
    size = w.sizes.text(run) if abs(run - drop) < EPS else f"{w.sizes.text(run)} × {w.sizes.text(drop)}"
    text = f"{profile.describe()} {size}, {face_name(profile.face)} to {face_name(profile.side)}"
    radius = run / 2 if profile.shape == "ogee" else 0.0  # its round and its hollow are half of it each
    if radius:
        text += f", both radii {w.sizes.text(radius)}"
    for name, stop in (("low", profile.stop0), ("high", profile.stop1)):
        if stop:
            text += f", stops {w.sizes.text(stop)} before the {name} end"
    found = (("along the face", run), ("down the side", drop), *((("radius", radius),) if radius else ()))
    shown = tuple(Shown(name, value, w.sizes.text(value)) for name, value in found)
    return Called(text, Place(w.main, (_on_sides(w, profile.face, profile.side),), ()), shown)


def _v_groove(groove: VGroove, w: Words) -> Called:
    across = next(axis for axis in groove.face.uv_axes if axis != groove.along)
    middle = w.blank.size[groove.along] / 2
    at = (middle, groove.at) if groove.along < across else (groove.at, middle)
    text = f"V-groove {format_angle(groove.angle)}, {w.sizes.shallow(groove.depth, Role.FREE)} deep"
    located = ((across, groove.at),)
    shown = (Shown("depth", groove.depth, w.sizes.text(groove.depth)),)
    return Called(text, Place(groove.face, (w.blank.point(groove.face, at),), located), shown)


def _hole_row(row: HoleRow, w: Words) -> Called:
    depth = "through" if row.depth is None else f"{w.sizes.text(row.depth)} deep"
    text = f"row of {row.count} holes Ø {w.sizes.drill(row.diameter)}, {depth}, {_pitch(row, w)} apart"
    u, v = row.face.uv_axes
    points = tuple(w.blank.point(row.face, place) for place in row.places)
    shown = (Shown("diameter", row.diameter, w.sizes.drill(row.diameter)), Shown("pitch", row.pitch, ""))
    return Called(text, Place(row.face, points, ((u, row.u), (v, row.v)), row.diameter / 2), shown)


def _pitch(row: HoleRow, w: Words) -> str:
    """Return how far the holes of a row are apart: in mm as well where the division adds up to another last hole."""
    text = w.sizes.place(row.pitch)
    off = abs(parse_length(text, w.sizes.style.system) - row.pitch) * (row.count - 1)
    return text if w.sizes.style.system != "in" or off < ROW_OFF else f"{text} ({decimal(row.pitch, 1)} mm)"


def _mitre_slot(slot: MitreSlot | KeySlot, w: Words) -> Called:
    wide, deep = w.sizes.text(slot.width, Role.HOUSING), w.sizes.text(slot.depth, Role.HOUSING)
    text = (
        f"{slot.describe()} {wide} wide, {deep} deep in {face_name(slot.face)}, its middle "
        f"{w.sizes.place(slot.offset)} from {face_name(slot.level)} on the mitre"
    )
    if isinstance(slot, KeySlot):
        text += f", from {face_name(slot.outer)}"
    shown = (Shown("width", slot.width, ""), Shown("depth", slot.depth, ""), Shown("offset", slot.offset, ""))
    return Called(text, Place(w.main, ((slot.at, w.blank.width / 2, _surface(w)),), ()), shown)


def _on_sides(w: Words, *faces: Face) -> Vec:
    """Return the middle of the main face, moved to the sides that are named: where a cut along them is seen."""
    at = [w.blank.length / 2, w.blank.width / 2, _surface(w)]
    for face in faces:
        if face.axis != w.main.axis:
            at[face.axis] = w.blank.size[face.axis] if face.high else 0.0
    return (at[0], at[1], at[2])


def _surface(w: Words) -> float:
    return w.blank.thickness if w.main.high else 0.0


_DESCRIBERS: tuple[tuple[type[Any], Callable[[Any, Words], Called]], ...] = (
    (Hole, _hole), (PocketHole, _pocket), (RectCut, _rect), (Tenon, _tenon), (Recess, _recess), (EndCut, _end_cut),
    (Taper, _taper), (Cove, _cove), (RipBevel, _rip_bevel), (EdgeProfile, _edge_profile), (VGroove, _v_groove),
    (HoleRow, _hole_row), (MitreSlot, _mitre_slot), (KeySlot, _mitre_slot),
)  # fmt: skip
