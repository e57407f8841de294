"""One way to name a joint of the case between two placed parts, whatever its kind.

`join(d, kit, id, a, b, kind)`: part a is the one that is entered (a side, a stile), part b the one that stands
against it, or in it by `entry_depth(kind, …)`. Which kind it is, `joints.auto` says, or the order.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.mitres import KeySlot
from casewright.design.features.shaping import end_cut_from_normal
from casewright.design.frames import Frame, Vec, Z, add, cross, scale, unit
from casewright.design.joints.base import Cuts, Detail, Nothing
from casewright.design.joints.dowelling import DowelLine, dowel_count, dowel_ends, dowel_setting, dowels_apart
from casewright.design.joints.housings import HalfLapped, Housed, dado_depth
from casewright.design.joints.meeting import Meeting, meeting
from casewright.design.joints.mitring import mitred_end, with_slot
from casewright.design.joints.others import PinLine
from casewright.design.joints.pockets import PocketLine, joint_count, pocket_setting
from casewright.design.joints.screws import ScrewLine
from casewright.design.joints.tenons import TenonIn, tenon_thickness
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, Part, Placed
from casewright.design.sites import DIRECTIONS, bounds, depth_along, middle, world_box
from casewright.shop.model import Practice
from casewright.stock.model import Dowel, Pin, Screw

SHORT = 100.0  # mm: one screw holds a shorter end where there is no room for two
SQUARE = 0.999  # cosine: a member whose grain runs so nearly square to a joint meets it with its end
HOUSED = (JointKind.DADO, JointKind.RABBET, JointKind.GROOVE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """What a joint may want besides its kind.

    `opens`: the face of b that holds pockets, or the half of a that a half lap takes. `slack`: where the slip of a
    housing lies. `stop`: how far a dado stays behind a's edge on the side `stop_at`. `count` 0 is by practice.
    """

    opens: str = "down"
    slack: str = "up"
    stop: float = 0.0
    stop_at: str = "front"
    count: int = 0
    shoulders: tuple[float, float] | None = None
    glued: bool = True


def out_of_sight(practice: Practice) -> Making:
    """Return how a dado is made that does not show in front: stopped, by practice."""
    return Making(stop=practice["dado.stop"])


def entry_depth(kind: JointKind, thickness: float, practice: Practice) -> float:
    """Return how far b goes into part a of a thickness, mm: 0 for joints in which it stands against it."""
    cover = practice["fastener.point_cover"]
    if kind is JointKind.DADO or kind is JointKind.GROOVE:
        return dado_depth(thickness, practice["dado.share"], cover)
    if kind is JointKind.RABBET:
        return thickness * practice["back.rabbet_share"]
    if kind is JointKind.STUB_TENON:
        return min(practice["door.stub_tenon"], thickness / 2)
    if kind is JointKind.TENON:
        return min(practice["door.tenon"], thickness - cover - practice["tenon.spare"])
    return thickness if kind is JointKind.HALF_LAP else 0.0


def join(
    d: Draft, kit: Kit, id_: str, a: Placed, b: Placed, kind: JointKind, how: Making = Making(), why: str = ""
) -> str:
    """Name the joint of two placed parts and how it is made; return its id.

    Raises KitError where the stock has nothing for it, ValueError where the two do not meet or the kind is another.
    """
    if kind is JointKind.HALF_LAP:
        at = meeting_point(a, b)
        return d.joint(id_, kind, a, b, at, HalfLapped(opens=how.opens), glued=how.glued, why=why)
    m = meeting(a, b)
    if kind is JointKind.POCKET_SCREWS:
        return d.joint(id_, kind, b, a, m.middle, _pockets(kit, a, b, m, how), glued=how.glued, why=why)
    detail = _detail(d, kit, a, b, m, kind, how)
    return d.joint(id_, kind, a, b, m.middle, detail, glued=how.glued and kind is not JointKind.SCREWS, why=why)


def _detail(d: Draft, kit: Kit, a: Placed, b: Placed, m: Meeting, kind: JointKind, how: Making) -> Detail:
    if kind in (JointKind.BUTT_SCREWS, JointKind.SCREWS):
        return _screws(kit, a, m, how)
    if kind in HOUSED:
        return Housed(slack=how.slack, stop=how.stop, stop_at=how.stop_at)
    if kind is JointKind.DOWEL:
        return _dowels(kit, a, b, m, how)
    if kind in (JointKind.TENON, JointKind.STUB_TENON):
        shoulder = d.practice["tenon.shoulder"]
        shoulders = how.shoulders if how.shoulders is not None else (shoulder, shoulder)
        return TenonIn(thick=tenon_thickness(m.thickness, d.practice), shoulders=shoulders)
    if kind is JointKind.PINS:
        return _pins(kit, a, m, how)
    if kind in (JointKind.GLUE, JointKind.EDGE_GLUE):
        return Nothing()
    raise ValueError(f"{kind.value} is not made by join")


def _screws(kit: Kit, a: Placed, m: Meeting, how: Making) -> ScrewLine:
    """Through a from its outer face, around whatever is hidden there."""
    p = kit.practice
    through = depth_along(a, m.drive)
    screw = kit.screw(
        "wood", 8, through + p["butt.bite"] - 1.0, through + p["butt.bite"] + 12.0, role="case_screw", shortest=True
    )
    start, end = m.line(m.plane - m.drive[m.axis] * through)
    return ScrewLine(
        screw=screw,
        start=start,
        end=end,
        drive=m.drive,
        count=how.count or max(2, round(m.length / p["butt.screw_spacing"]) + 1),
        ends=min(p["butt.ends"], m.length / 5),
        apart=p["fastener.apart"],
    )


def _pockets(kit: Kit, a: Placed, b: Placed, m: Meeting, how: Making) -> PocketLine:
    p, opens = kit.practice, DIRECTIONS[how.opens]
    thickness = depth_along(b, opens)
    screw = kit.pocket_screw(thickness)
    setting = pocket_setting(screw, thickness, depth_along(a, m.drive), p)
    if setting is None:
        raise KitError("pocket screws", "parts of 16 mm or more", f"{thickness:.1f} mm")
    start, end = m.line()
    return PocketLine(
        screw=screw,
        start=start,
        end=end,
        opens=opens,
        drive=scale(m.drive, -1.0),
        setting=setting,
        count=how.count or _pocket_count(b, m, p),
        ends=min(p["pocket.ends"], m.length / 4),
        apart=p["fastener.apart"],
        least=1 if m.length < SHORT else 0,
    )


def _pocket_count(b: Placed, m: Meeting, p: Practice) -> int:
    """Return how many pocket screws hold the end of a member, or a long edge, which has those of a case joint."""
    if abs(b.frame.x[m.axis]) > SQUARE:
        return max(joint_count(m.length, p), round(m.length / p["butt.screw_spacing"]))
    return max(2, round(m.length / p["butt.screw_spacing"]) + 1)


def _dowels(kit: Kit, a: Placed, b: Placed, m: Meeting, how: Making) -> DowelLine:
    p = kit.practice
    rooms = depth_along(a, m.drive), depth_along(b, m.drive)
    dowels = kit.all("frame_dowel", Dowel)
    # Two dowels keep their own thickness of wood between them: a narrow end takes thinner ones.
    beside = [dowel for dowel in dowels if 2 * dowel.diameter <= m.length - 2 * dowel_ends(m.length, p) + 1e-6]
    setting = dowel_setting(beside, m.thickness, *rooms, p) or dowel_setting(dowels, m.thickness, *rooms, p)
    if setting is None:
        raise KitError("dowels", f"a dowel for {m.thickness:.1f} mm and {rooms[0]:.1f} mm deep", "none that fits")
    start, end = m.line()
    return DowelLine(
        setting=setting,
        start=start,
        end=end,
        drive=m.drive,
        count=how.count or dowel_count(m.length, p),
        ends=dowel_ends(m.length, p),
        apart=dowels_apart(setting.dowel.diameter, p),
    )


def _pins(kit: Kit, a: Placed, m: Meeting, how: Making) -> PinLine:
    """Brads through a into b."""
    p = kit.practice
    through = depth_along(a, m.drive)
    start, end = m.line(m.plane - m.drive[m.axis] * through)
    pins = sorted(kit.all("brad", Pin), key=lambda pin: pin.length)
    pin = next((pin for pin in pins if pin.length >= 2 * through), pins[-1])
    return PinLine(
        pin=pin,
        start=start,
        end=end,
        drive=m.drive,
        count=how.count or max(2, round(m.length / p["back.brad_spacing"]) + 1),
        ends=min(25.0, m.length / 5),
        apart=20.0,
    )


def meeting_point(a: Placed, b: Placed) -> Vec:
    """Return the middle of what two parts that lie in one another have in common."""
    (al, ah), (bl, bh) = world_box(a), world_box(b)
    lo = (max(al[0], bl[0]), max(al[1], bl[1]), max(al[2], bl[2]))
    hi = (min(ah[0], bh[0]), min(ah[1], bh[1]), min(ah[2], bh[2]))
    return middle(lo, hi)


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """An upright mitred corner: a foot of its line, the way of the first board to it, and the way on of the second.

    `z` is the span of the boards; both turn towards their inner side.
    """

    at: Vec
    along: Vec
    onward: Vec
    z: tuple[float, float]

    @property
    def normal(self) -> Vec:
        """Off the first board, square to the mitre."""
        return unit(add(self.along, self.onward))


def mitre(
    d: Draft, kit: Kit, id_: str, a: Placed, b: Placed, corner: Corner, name: str, why: str = ""
) -> Placed | None:
    """Mitre two upright boards at an outside corner and strengthen them with a spline; return the spline.

    The boards reach to the corner's long point. `name` is the spline's; empty for none: then the glue alone holds.
    """
    n = corner.normal
    one, two = mitred_end(a, corner.at, n), mitred_end(b, corner.at, scale(n, -1.0))
    if not name:
        cuts = Cuts(cuts=one.features + two.features)
        d.joint(id_, JointKind.MITRE, a, b, corner.at, cuts, glued=True, why=why)
        return None
    sheet = kit.sheet("spline")
    p = d.practice
    width, depth = sheet.thickness + p["fit.slip"], p["spline.depth"]
    one = with_slot(one, corner.onward, width, depth)
    two = with_slot(two, scale(corner.along, -1.0), width, depth)
    cuts = Cuts(cuts=one.features + two.features)
    d.joint(id_, JointKind.SPLINE_MITRE, a, b, corner.at, cuts, glued=True, why=why or "end grain holds little glue")
    spline = _spline(d, kit, name, corner, one.mouth, sheet.thickness)
    for board in (a, b):
        other = board.path.rpartition("/")[2]
        d.joint(f"{id_}.spline~{other}", JointKind.GLUE, board, spline, corner.at, Nothing(), glued=True)
    return spline


def _spline(d: Draft, kit: Kit, name: str, corner: Corner, mouth: Vec, thickness: float) -> Placed:
    """A strip of sheet across the mitre, as high as the boards; it lies against one wall of its slots."""
    p, n = d.practice, corner.normal
    length, height = 2 * p["spline.depth"] - p["tenon.spare"], corner.z[1] - corner.z[0]
    through = cross(n, Z)
    shift = -thickness / 2 + p["fit.slip"] / 2
    low = (mouth[0], mouth[1], corner.z[0])
    origin = add(add(low, scale(n, -length / 2)), scale(through, shift))
    material = kit.material("spline")
    part = Part(
        form=material.form,
        stock=material.item,
        blank=Blank(length=length, width=height, thickness=thickness),
        grain=material.grain,
        mass_density=material.density,
    )
    return d.place_part(name, "spline", part, Frame(origin=origin, x=n, y=Z))


def keyed_mitre(
    d: Draft, kit: Kit, id_: str, a: Placed, b: Placed, corner: Corner, name: str, why: str = ""
) -> tuple[Placed, ...]:
    """Mitre two upright boards, and let keys into slots sawn across the glued corner; return the keys, from below.

    A key is a triangle whose grain runs across the corner from board to board; it stands a little over both faces
    until it is trimmed flush. `name` is what the keys are called, each with its number.
    """
    n, p = corner.normal, d.practice
    one, two = mitred_end(a, corner.at, n), mitred_end(b, corner.at, scale(n, -1.0))
    thick = kit.sheet("spline").thickness
    width = thick + p["fit.slip"]
    board = min(a.part.blank.thickness, b.part.blank.thickness)
    deep = p["key.depth_share"] * board * math.sqrt(2.0)
    for what, size in (("length", 2 * deep), ("width", deep)):
        if f"key.{what}" not in d.led:
            d.let(f"key.{what}", size, rule="from face to face, and from the outer corner to the floor of its slot")
    heights = _key_heights(corner.z, p["key.apart"])
    cuts = list(one.features + two.features)
    for end, outer in ((one, scale(corner.onward, -1.0)), (two, corner.along)):
        blank = end.placed.part.blank
        level = end.placed.face_towards(DIRECTIONS["down"])
        for z in heights:
            slot = KeySlot(
                face=end.cut.face,
                at=end.cut.at,
                mitre=end.cut.mitre,
                bevel=end.cut.bevel,
                level=level,
                offset=(z - corner.z[0]) * blank.size[level.axis] / (corner.z[1] - corner.z[0]),
                width=width,
                depth=deep,
                outer=end.placed.face_towards(outer),
                joint=d.full(id_),
            )
            cuts.append((end.placed.path, slot))
    why = why or "end grain holds little glue: keys tie both boards"
    d.joint(id_, JointKind.KEY_MITRE, a, b, corner.at, Cuts(cuts=tuple(cuts)), glued=True, why=why)
    keys = tuple(_key(d, kit, f"{name}[{i + 1}]", corner, z, deep, thick) for i, z in enumerate(heights))
    for i, key in enumerate(keys):
        lo, hi = _around(corner, heights[i], width, deep)
        d.keep_out(f"{name}[{i + 1}].slot", lo, hi, key, of=(a, b))
        for host in (a, b):
            other = host.path.rpartition("/")[2]
            d.joint(f"{id_}.key[{i + 1}]~{other}", JointKind.GLUE, host, key, corner.at, Nothing(), glued=True)
    return keys


def _key_heights(z: tuple[float, float], apart: float) -> tuple[float, ...]:
    """Return the heights of the middles of keys: two at least, as even as can be, the outer ones half a space in."""
    count = max(2, round((z[1] - z[0]) / apart))
    return tuple(z[0] + (i + 0.5) * (z[1] - z[0]) / count for i in range(count))


def _around(corner: Corner, z: float, width: float, deep: float) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) around a slot for a key."""
    leg = deep * math.sqrt(2.0)
    ends = [corner.at, add(corner.at, scale(corner.along, -leg)), add(corner.at, scale(corner.onward, leg))]
    lo, hi = bounds(ends)
    return (lo[0], lo[1], z - width / 2), (hi[0], hi[1], z + width / 2)


def _key(d: Draft, kit: Kit, name: str, corner: Corner, z: float, deep: float, thick: float) -> Placed:
    """Place one key, trimmed flush: its base on the floor of its slot, its point at the outer corner."""
    p = d.practice
    inward = unit(add(corner.onward, scale(corner.along, -1.0)))
    across = scale(inward, -1.0)
    run = cross(across, Z)
    low = z - thick / 2 - p["fit.slip"] / 2  # it lies on the lower wall of its slot
    foot = add((corner.at[0], corner.at[1], low), scale(inward, deep))
    material = kit.material("spline")
    part = Part(
        form=material.form,
        stock=material.item,
        blank=Blank(length=2 * deep, width=deep, thickness=thick),
        features=(
            end_cut_from_normal((-1.0, 1.0, 0.0), deep / 2),
            end_cut_from_normal((1.0, 1.0, 0.0), 2 * deep - deep / 2),
        ),
        allowance=Allowance(length=2 * p["key.over"], width=p["key.over"]),
        grain=material.grain,
        mass_density=material.density,
    )
    frame = Frame(origin=add(foot, scale(run, -deep)), x=run, y=across)
    return d.place_part(name, "key", part, frame, sizes=("key.length", "key.width", ""))


def one_screw(
    kit: Kit,
    screw: Screw,
    start: Vec,
    drive: Vec,
    through: float,
    into: Placed,
    pilot_at: MadeAt = MadeAt.BENCH,
) -> ScrewLine:
    """One screw through a hardware's own hole; a shorter one of its kind where the wood is too thin for it."""
    most = through + depth_along(into, drive) - kit.practice["fastener.point_cover"]
    if screw.length > most:
        screw = kit.screw(screw.kind, screw.gauge, through + 6.0, most)
    end = add(start, (1.0, 0.0, 0.0))
    return ScrewLine(
        screw=screw, start=start, end=end, drive=drive, count=1, ends=0.0, apart=1.0, forced=(0.0,), bare=True,
        pilot_at=pilot_at,
    )  # fmt: skip
