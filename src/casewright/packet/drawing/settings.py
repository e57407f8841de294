"""Fence and height of every rabbet, groove, dado, lap, tenon, mortise and spline slot, on saw or router.

1. A cut that runs through is sawn with the face in which it lies down, a stopped one, or one that the fence does not
   reach, is routed with the widest straight bit that it has room for. A rabbet in an end is cut flat, from the end, as
   a tenon's cheek is; a groove in an end stands in a tenoning jig.
2. The fence is given from one side of the part for all passes, to the near side of the blade or bit: for a rabbet from
   the side that it lies on, else from edge 0, end 0 or face 0, as the drawing has it.
3. The outermost passes make the walls: with a blade of kerf k a cut from d to d + w wants the fence at d and at
   d + w − k. Passes between them take at most a kerf each, ⌈w / k⌉ in all.
4. They are printed from the printed place and width, so that a cut made at the printed settings is as wide as the
   printed size, and no more than a division wider (a tenon no longer, and no more than a division shorter). Where an
   inch drawing gives the width in mm as well, since something real must fit, so it does the wall.

Common practice: two passes for a rabbet or groove wider than the blade, both settings from the same face, the height,
and a test on scrap.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from casewright.design.blanks import Blank, Face, face_of
from casewright.design.features.cuts import Dado, Groove, HalfLap, Rabbet, RectCut, Tenon
from casewright.design.features.openings import Mortise
from casewright.design.parts import Part
from casewright.packet.drawing.slot_settings import slot_words
from casewright.packet.drawing.subject import SNUG, SizeWords, face_name, listed
from casewright.packet.printed import decimal
from casewright.shop.model import Machines
from casewright.units import Role, parse_length, round_length
from casewright.units.grid import snap

EPS = 1e-6
OFF = 0.1  # mm that a printed height of the blade may be off without a word
SAME = 0.05  # mm: a cut this much wider than the blade is one pass
INCH = 25.4
# Straight bits as they are sold (common practice), mm, by the system of the drawing.
BITS = {
    "in": tuple(INCH * n / 16 for n in (2, 3, 4, 5, 6, 8, 10, 12)),
    "mm": (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 18.0, 20.0),
}
SAWN = (Rabbet, Groove, Dado, HalfLap)


@dataclass(frozen=True, slots=True)
class Trench:
    """A cut with two walls, mm: from `near` to `near + width` off a `side` of the part, `depth` deep in `face`.

    `stopped` where it does not run through; `role` says how its width is rounded.
    """

    name: str
    face: Face
    side: Face
    near: float
    width: float
    depth: float
    stopped: bool = False
    role: Role = Role.HOUSING


@dataclass(frozen=True, slots=True)
class Settings:
    """How a trench is cut, mm: `tool` is "saw" or "router", `wide` its kerf or bit.

    `first` and `last` are the fence's places at the two walls, `passes` how many side by side, `layers` one upon the
    other; `far` is the place at the wall away from the reference side as it is printed.
    """

    trench: Trench
    tool: str
    wide: float
    first: float
    last: float
    passes: int
    far: str = ""
    layers: int = 1


def settings_words(part: Part, words: SizeWords, machines: Machines, layer: float) -> tuple[str, ...]:
    """Return the settings of a part in words, those of the saw first; `layer` (mm) is what a router takes at once."""
    found = [s for t in trenches(part) if (s := settings_of(t, part.blank, words, machines, layer)) is not None]
    slots = slot_words(part, words, machines, layer, BITS[words.style.system])
    sawn, routed = (
        [*_grouped([s for s in found if s.tool == tool], words), *more]
        for tool, more in zip(("saw", "router"), slots, strict=True)
    )
    out = []
    saw = machines.of("table saw")
    if sawn and saw is not None:
        out.append(f"table saw, kerf {words.drill(saw.kerf)}, try on scrap: " + "; ".join(sawn))
    if routed:
        out.append("router, try on scrap: " + "; ".join(routed))
    return tuple(out)


def trenches(part: Part) -> Iterator[Trench]:
    """Give what of a part is cut with a fence; a tenon is two to four cuts from its end."""
    for feature in part.features:
        if isinstance(feature, Tenon):
            yield from _cheeks(feature, part.blank)
        elif isinstance(feature, SAWN):
            yield from _trench(feature, part.blank)
        elif isinstance(feature, Mortise):
            yield from _trench(_boxed(feature), part.blank)


def _trench(cut: RectCut, blank: Blank) -> Iterator[Trench]:
    du, dv, through = blank.extent(cut.face)
    if cut.depth >= through - EPS:
        return
    spans = ((cut.u0, cut.u1, du), (cut.v0, cut.v1, dv))
    across = _across(cut, spans)
    lo, hi, size = spans[across]
    other = spans[1 - across]
    axis = cut.face.uv_axes[across]
    high = hi >= size - EPS and lo > EPS
    found = Trench(
        "mortise" if type(cut) is RectCut else cut.describe(),
        cut.face,
        face_of(axis, high),
        size - hi if high else lo,
        hi - lo,
        cut.depth,
        stopped=other[0] > EPS or other[1] < other[2] - EPS,
    )
    yield _laid_down(found) if found.near <= EPS and not found.stopped else found


def _laid_down(rabbet: Trench) -> Trench:
    """Return a rabbet in an end as it is cut with the part flat, as a tenon's cheek is: nobody stands it on its end."""
    if rabbet.face.axis != 0:
        return rabbet
    return replace(rabbet, face=rabbet.side, side=rabbet.face, width=rabbet.depth, depth=rabbet.width)


def _boxed(mortise: Mortise) -> RectCut:
    """Return the rectangle that a mortise fills, whatever its ends."""
    u0, v0, u1, v1 = mortise.outline.box
    return RectCut(face=mortise.face, u0=u0, u1=u1, v0=v0, v1=v1, depth=mortise.depth)


def _across(cut: RectCut, spans: tuple[tuple[float, float, float], tuple[float, float, float]]) -> int:
    """Return which of a face's two directions lies across a cut: a dado's and a lap's is the length, else the short."""
    axes = cut.face.uv_axes
    if isinstance(cut, Dado | HalfLap) and 0 in axes:
        return axes.index(0)
    (u0, u1, du), (v0, v1, dv) = spans
    full_u, full_v = u1 - u0 >= du - EPS, v1 - v0 >= dv - EPS
    if full_u != full_v:
        return 1 if full_u else 0
    return 1 if u1 - u0 >= v1 - v0 else 0


def _cheeks(tenon: Tenon, blank: Blank) -> Iterator[Trench]:
    width, thick, _ = blank.extent(tenon.face)
    sides = (
        (Face.FACE0, tenon.v0), (Face.FACE1, thick - tenon.v1), (Face.EDGE0, tenon.u0), (Face.EDGE1, width - tenon.u1)
    )  # fmt: skip
    for face, depth in sides:
        if depth > EPS:
            yield Trench("tenon", face, tenon.face, 0.0, tenon.length, depth, role=Role.INSERT)


def settings_of(trench: Trench, blank: Blank, words: SizeWords, machines: Machines, layer: float) -> Settings | None:
    """Return how a trench is cut with what the shop has, None where it has nothing for it.

    From the far side where the fence does not reach it from the near one.
    """
    saw = machines.of("table saw")
    reach = saw.rip_most if saw is not None and saw.rip_most is not None else math.inf
    size = blank.size[trench.side.axis]
    away = replace(trench, side=trench.side.opposite, near=size - trench.near - trench.width)
    nearest = next((t for t in (trench, away) if t.near + t.width <= reach), None)
    if saw is not None and 0 < saw.kerf <= trench.width + SAME and not trench.stopped and nearest is not None:
        return _passes(nearest, "saw", saw.kerf, words)
    bits = [bit for bit in BITS[words.style.system] if bit <= trench.width + SAME]
    if machines.of("router") is None or not bits:
        return None
    layers = max(1, math.ceil(round(trench.depth / layer, 6)))
    return replace(_passes(trench, "router", bits[-1], words), layers=layers)


def _passes(trench: Trench, tool: str, wide: float, words: SizeWords) -> Settings:
    """Settle both fences on the printed sizes: the wall at the reference side as printed, the other by the width."""
    near = round_length(trench.near, Role.FREE, words.style)
    printed = words.rounded(trench.width, trench.role)
    far = max(near, round_length(near + printed - wide, trench.role, words.style))
    count = max(1, math.ceil(round((trench.width - SAME) / wide, 6)))
    if count == 1:
        far = near
    exact = near + trench.width - wide
    fitted = words.style.system == "in" and trench.role is Role.HOUSING and count > 1 and abs(far - exact) >= SNUG
    text = words.place(far) + (f" ({decimal(snap(exact), 2)} mm)" if fitted else "")
    first, last = (far, near) if trench.near <= EPS else (near, far)
    return Settings(trench, tool, wide, first, last, count, text)


def _grouped(settings: Iterable[Settings], words: SizeWords) -> list[str]:
    """Return each setting once, with all faces and sides that are cut at it."""
    groups: dict[tuple[object, ...], list[Settings]] = {}
    for s in settings:
        t = s.trench
        text = (
            t.name,
            s.wide,
            s.first,
            s.last,
            s.far,
            s.passes,
            s.layers,
            words.text(t.depth, Role.HOUSING),
            t.side.axis,
        )
        groups.setdefault(text, []).append(s)
    return [_words(group, words) for group in groups.values()]


def _words(group: list[Settings], words: SizeWords) -> str:
    one = group[0]
    faces = _sides(s.trench.face for s in group)
    sides = _sides(s.trench.side for s in group)
    near = words.place(min(one.first, one.last))
    places = near
    if one.passes > 1:
        places = f"{near}, then {one.far}" if one.trench.near > EPS else f"{one.far}, then {near}"
    if one.passes > 2:
        places += f", {one.passes} passes in all"
    if one.tool == "saw":
        high = _height(one.trench.depth, words)
        stands = " in a tenoning jig" if one.trench.face.axis == 0 else ""
        return f"{one.trench.name}, {faces} down{stands}, blade {high} high, fence {places} from {sides}"
    depth = words.shallow(one.trench.depth, Role.HOUSING)
    layers = f" in {one.layers} layers" if one.layers > 1 else ""
    stopped = "stopped " if one.trench.stopped and one.trench.name != "mortise" else ""
    bit = f"bit {words.drill(one.wide)}, {depth} deep{layers}"
    return f"{stopped}{one.trench.name} in {faces}, {bit}, fence {places} from {sides}"


def _height(depth: float, words: SizeWords) -> str:
    """Return a height of the blade, in mm as well where a division of an inch is off by what a joint would show."""
    text = words.text(depth, Role.HOUSING)
    if words.style.system != "in" or abs(parse_length(text, "in") - depth) < OFF:
        return words.shallow(depth, Role.HOUSING)
    return f"{text} ({decimal(depth, 1)} mm)"


def _sides(faces: Iterable[Face]) -> str:
    """Return faces in words: "edge 0", "either end"."""
    found = dict.fromkeys(faces)
    if len(found) == 2 and len({f.axis for f in found}) == 1:
        return f"either {face_name(next(iter(found)))[:-2]}"
    return listed([face_name(f) for f in found])
