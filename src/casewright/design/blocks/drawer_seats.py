"""What slides and runners are fixed to: the wall itself, or blocking that brings its face flush with the opening.

Common practice. Each side alone: from the opening's edge to the wall behind it, never proud. What runs from front to
back on a wall of solid wood is not glued and has slots, for the wall moves that way.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from casewright.design.assembly import Joint, JointKind
from casewright.design.blocks.body import HANDS, hand_of
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.drawer_stock import moves_of
from casewright.design.blocks.face_frame import Opening, Wall
from casewright.design.blocks.shared_wall import keep_screws, moved_clear, screw_boxes, taken_in
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.features.holes import Hole
from casewright.design.frames import Vec
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import ScrewLine, pilot
from casewright.design.kit import Kit, KitError
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import Span, between, blocked, entry, spots, world_box
from casewright.findings import Severity
from casewright.stock.model import Screw
from casewright.units.printed import Role

BITE = 8.0  # mm of a strip's screws in what it is fixed to, at least
BLOCKING_HOLDS = 18.0  # mm of blocking in which a strip's screws hold
FLUSH = 1e-6  # mm: a wall whose face is the opening's edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """One side of an opening as a slide or runner sees it.

    `face` is the x of the face that it is fixed to, `onto` the part that has it; `wall` is the upright behind, the same
    part where there is no blocking. `row` is the row of a slide's holes that its screws take: 0 the middle one, 1 an
    upper, −1 a lower one.
    """

    sign: int
    face: float
    onto: Placed
    wall: Placed
    beside: Wall
    blocking: float
    row: int = 0

    @property
    def hand(self) -> str:
        """The name of the side."""
        return hand_of(self.sign)

    @property
    def shared(self) -> bool:
        """True where another drawer may be fixed to the other side of the wall."""
        return _is_shared(self.beside)

    @property
    def room(self) -> float:
        """Wood behind the face, mm."""
        return self.blocking + self.beside.thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockingPlan:
    """Where blocking would stand: y and z spans, the z of its screws, and y places (from its front) to go around.

    `flush` blocking lies exactly in line with the opening, for slides that reach into the face frame. `name` is what
    the part is called in the piece.
    """

    y: Span
    z: Span
    screw_z: float
    taken: tuple[float, ...] = ()
    why: str = "driven from inside, flush under the slide"
    flush: bool = False
    name: str = "blocking"


def seats(
    d: Draft, kit: Kit, opening: Opening, g: str, spec: DrawerSpec, plan: BlockingPlan, rules: tuple[str, str]
) -> dict[int, Seat] | None:
    """Place blocking where the opening's edge stands before its wall; None and a finding where there is no room.

    `rules` says in words where the blocking's length and width come from.
    """
    if not _has_room(d, opening, g):
        return None
    blocked = [s for s, _ in HANDS if opening.behind(s) > FLUSH]
    if blocked:
        because = f"{g}.slide.length" if f"{g}.slide.length" in d.led else "body.depth"
        d.let(f"{g}.{plan.name}.length", plan.y[1] - plan.y[0], because, rule=rules[0])
        d.let(f"{g}.{plan.name}.width", plan.z[1] - plan.z[0], rule=rules[1])
    return {sign: _seat(d, kit, opening, g, spec, plan, sign, sign in blocked) for sign, _ in HANDS}


def _has_room(d: Draft, opening: Opening, g: str) -> bool:
    least = d.practice["blocking.least"]
    thin = [b for b in (opening.behind(s) - d.practice["drawer.blocking_under"] for s, _ in HANDS) if b < least]
    thin = [b for b in thin if b + d.practice["drawer.blocking_under"] > FLUSH or b < -least]
    if not thin:
        return True
    d.find(
        "drawer.blocking",
        Severity.STOP,
        g,
        f"only {min(thin):.1f} mm between the opening and the side for blocking",
        value=min(thin),
        limit=least,
        source="common practice",
        remedy="make the stiles wider",
    )
    return False


def _seat(
    d: Draft, kit: Kit, opening: Opening, g: str, spec: DrawerSpec, plan: BlockingPlan, sign: int, blocked: bool
) -> Seat:
    beside = opening.wall(sign)
    wall = d.at(beside.name)
    if not blocked:
        return Seat(
            sign=sign, face=beside.face, onto=wall, wall=wall, beside=beside, blocking=0.0, row=_row_of(opening)
        )
    name = _blocking_name(opening, g, sign)
    thickness = _let_blocking(d, opening, name, sign, 0.0 if plan.flush else d.practice["drawer.blocking_under"])
    face = beside.face - sign * thickness
    block = d.box_part(
        f"{g}.{plan.name}.{hand_of(sign)}",
        f"slide blocking, {hand_of(sign)}",
        kit.blocking(thickness),
        between(face, beside.face),
        plan.y,
        plan.z,
        grain="y",
        thick="x",
        sizes=(f"{g}.{plan.name}.length", f"{g}.{plan.name}.width", name),
        kind=PartKind.BLOCKING if plan.name == "blocking" else PartKind.OTHER,
    )
    seat = Seat(sign=sign, face=face, onto=block, wall=wall, beside=beside, blocking=thickness, row=_row_of(opening))
    fix_along(d, kit, seat, block, wall, spec.moisture, (thickness, beside.face), plan)
    return seat


def _is_shared(wall: Wall) -> bool:
    return not wall.name.rpartition("/")[2].startswith("side.")


def _row_of(opening: Opening) -> int:
    """Return the row of holes of a drawer's slides, one on both sides, so that one setting bores for both.

    Drawers beside each other take the upper and the lower row by turns, where a wall between them is shared.
    """
    if not any(_is_shared(opening.wall(sign)) for sign, _ in HANDS):
        return 0
    column = int(re.findall(r"c(\d+)", opening.cell)[-1])
    return 1 if column % 2 else -1


def _blocking_name(opening: Opening, g: str, sign: int) -> str:
    """Name the thickness by the wall that it fills up to, so that alike blocking is named alike."""
    alike = opening.left.sheet == opening.right.sheet and opening.left.member == opening.right.member
    alike = alike and abs(opening.behind(-1) - opening.behind(1)) < FLUSH
    return f"{g}.blocking.thickness" if alike else f"{g}.blocking.{hand_of(sign)}.thickness"


def _let_blocking(d: Draft, opening: Opening, name: str, sign: int, under: float) -> float:
    wall = opening.wall(sign)
    if name in d.led:
        return d.led[name]
    thickness = d.let(
        name,
        opening.behind(sign) - under,
        wall.member,
        wall.sheet,
        rule="from the opening's edge to the wall, a little behind the edge and never proud of it",
        role=Role.INSERT,
    )
    d.fit(
        f"{name}.fit",
        wall.member,
        name,
        0.0,
        0.4,
        allow=opening.behind(sign) - d.led[wall.member],
        source="slide flush with the opening, never proud: +0/−0.4 mm (common practice)",
    )
    return thickness


def fix_along(
    d: Draft,
    kit: Kit,
    seat: Seat,
    part: Placed,
    onto: Placed,
    wet: Moisture | None,
    at: tuple[float, float],
    plan: BlockingPlan,
) -> None:
    """Fix a strip that runs from front to back on the inner face of a wall or blocking.

    `at` is (its thickness, the x of the face that it lies on). Glued and screwed on sheet goods and on blocking; on
    solid wood, which moves from front to back, screwed alone: fast in front, in slots behind.
    """
    thickness, face = at
    p, y, sign = d.practice, plan.y, seat.sign
    on_wall = onto is seat.wall
    # Thick blocking holds its strips alone; through thin blocking screws go on into the wall.
    wood = seat.beside.thickness if on_wall else seat.blocking if seat.blocking >= BLOCKING_HOLDS else seat.room
    through = thickness + wood
    inner = face - sign * thickness
    name = f"{part.path.removeprefix(d.path + '/')}~{onto.path.removeprefix(d.path + '/')}"
    moves = moves_of(kit, onto) if on_wall else 0.0
    # Where none of the lengths in stock suits a thick strip, a shorter one goes in a counterbore; a slot has none.
    least = thickness + BITE if moves else max(thickness / 2, 1.0) + BITE
    screw = kit.screw("wood", 8, least, through - p["fastener.point_cover"], role="block_screw")
    bare = ScrewLine(
        screw=screw,
        start=(inner, y[0], plan.screw_z),
        end=(inner, y[1], plan.screw_z),
        drive=(float(sign), 0.0, 0.0),
        count=0,
        ends=30.0,
        apart=40.0,
        sunk=max(0.0, thickness + BITE - screw.length),
    )
    places = _places(d, seat, bare, y[1] - y[0], plan.taken, moves)
    line = replace(bare, count=len(places), forced=places)
    origin = (face, y[0], plan.screw_z)
    keep_screws(d, name, line, part)
    hosts = _hosts(d, seat, onto, y[0], places)
    if len(hosts) > 1 or onto.path not in (h.path for h, _ in hosts):
        _fix_to_each(d, part, line, hosts, name, origin, moves, wet)
        return
    if moves == 0.0 or wet is None:
        passes = not on_wall and bare.sunk + screw.length > thickness + seat.blocking - p["drawer.slide_screw_short"]
        detail = MemberScrews(line=line, wall=seat.wall.path) if passes else line
        d.joint(name, JointKind.BUTT_SCREWS, part, onto, origin, detail, glued=True, why=plan.why)
        return
    slot = moves * (wet.damp - wet.dry) * (places[-1] - places[0]) + screw.clearance + p["top.slot_extra"]
    why = "the solid wall moves from front to back: fast in front, slots behind, no glue"
    front = replace(line, forced=places[:1], count=1)
    rest = replace(line, forced=places[1:], count=len(places) - 1, slot=slot)
    d.joint(name, JointKind.SCREWS, part, onto, origin, front, why=why)
    d.joint(f"{name}.slots", JointKind.SLOTTED_SCREWS, part, onto, origin, rest, why=why)


def _hosts(
    d: Draft, seat: Seat, onto: Placed, y0: float, places: Sequence[float]
) -> list[tuple[Placed, tuple[float, ...]]]:
    """Return what the screws at `places` (mm behind y0) go into, from the front: a side stands between corner posts.

    Posts are flush with the side inside, so that what lies on the side lies on them. A place on the seam stays with
    the side.
    """
    hand = seat.hand
    if onto is not seat.wall or seat.beside.name != f"side.{hand}" or not d.has(f"post.rear.{hand}"):
        return [(onto, tuple(places))]
    low, high = world_box(onto)[0][1], world_box(onto)[1][1]
    groups = (
        (d.at(f"frame/stile.{hand}"), tuple(p for p in places if y0 + p < low - SEAM)),
        (onto, tuple(p for p in places if low - SEAM <= y0 + p <= high + SEAM)),
        (d.at(f"post.rear.{hand}"), tuple(p for p in places if y0 + p > high + SEAM)),
    )
    return [(host, at) for host, at in groups if at]


def _fix_to_each(
    d: Draft,
    part: Placed,
    line: ScrewLine,
    hosts: Sequence[tuple[Placed, tuple[float, ...]]],
    name: str,
    origin: Vec,
    moves: float,
    wet: Moisture | None,
) -> None:
    """Screw a strip to a side and to the corner posts beside it: its first screw fast, the rest in slots on solid wood.

    It is glued to a side of sheet alone: on a post it lies across the grain.
    """
    own = part.path.removeprefix(d.path + "/")
    first = line.forced[0]
    slot = 0.0
    if moves and wet is not None:
        reach = line.forced[-1] - first
        slot = moves * (wet.damp - wet.dry) * reach + line.screw.clearance + d.practice["top.slot_extra"]
    for host, places in hosts:
        side = host.path.endswith(f"/{name.rpartition('~')[2]}")
        id_ = name if side else f"{own}~{host.path.removeprefix(d.path + '/')}"
        fast = tuple(p for p in places if not slot or p == first)
        rest = tuple(p for p in places if p not in fast)
        if fast:
            glued = side and not slot
            kind, why = JointKind.SCREWS, "a corner post beside the side takes it as well: no glue across its grain"
            if side:
                kind, why = (JointKind.BUTT_SCREWS if glued else JointKind.SCREWS), "on the side, between the posts"
            d.joint(id_, kind, part, host, origin, replace(line, forced=fast, count=len(fast)), glued=glued, why=why)
        if rest:
            detail = replace(line, forced=rest, count=len(rest), slot=slot)
            why = "the solid side moves from front to back: slots, no glue"
            d.joint(f"{id_}.slots", JointKind.SLOTTED_SCREWS, part, host, origin, detail, why=why)


SEAM = 4.0  # mm: a screw nearer to the seam of side and post would split the side (common practice)


def _places(
    d: Draft, seat: Seat, bare: ScrewLine, length: float, taken: tuple[float, ...], moves: float
) -> tuple[float, ...]:
    """Return where the screws of a strip stand along it, mm from its front, clear of the places in `taken`.

    On a wall with another strip or slide on its other face they stand clear of that one's screws, too.
    """
    blocks = [(h - 12.0, h + 12.0) for h in taken]
    if seat.beside.name == f"side.{seat.hand}" and d.has(f"post.rear.{seat.hand}"):
        lo, hi = world_box(seat.wall)
        seams = [y - bare.start[1] for y in (lo[1], hi[1])]
        blocks += [(y - 2 * SEAM, y + 2 * SEAM) for y in seams]
        if moves:  # a solid side takes the rear post with it: the strip is held in front, and by slots in the side
            blocks.append((seams[1], length))
    boxes = [b for wall in {seat.wall.path: seat.wall, seat.onto.path: seat.onto}.values() for b in taken_in(d, wall)]
    reach = bare.sunk + bare.screw.length
    blocks += blocked(bare.start, (0.0, 1.0, 0.0), bare.drive, reach, bare.screw.diameter / 2, boxes)
    base = spots(length, 3, 30.0, 40.0, blocks) or spots(length, 2, 30.0, 40.0, blocks)
    return base or spots(length, 2, 15.0, 30.0, blocks) or (30.0, length - 30.0)


MARK = 0.1  # mm: what a screw enters by less than this is not bored for it


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberScrews:
    """Screws of a hardware member into thin blocking, through which they go on into the wall at `wall`."""

    line: ScrewLine
    wall: str

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Drive the screws, and bore the wall for each that reaches it."""
        made = self.line.resolve(joint, site)
        features, fasteners = list(made.features), []
        into = site.placed[self.wall]
        for f in made.fasteners:
            face, at, _ = entry(into, f.frame.origin, self.line.drive)
            tip = into.frame.local_point(f.tip)
            size = into.part.blank.size[face.axis]
            depth = size - tip[face.axis] if face.high else tip[face.axis]
            if depth < MARK:
                # Not bored; but what touches the wall by less than a mark is there all the same.
                fasteners.append(replace(f, parts=(*f.parts, self.wall)) if depth > 0 else f)
                continue
            bore = pilot(self.line.screw, into.part.mass_density)
            features.append((self.wall, Hole(face=face, u=at[0], v=at[1], diameter=bore, depth=depth, joint=joint.id)))
            fasteners.append(replace(f, parts=(*f.parts, self.wall)))
        return Resolution(features=tuple(features), fasteners=tuple(fasteners), findings=made.findings)


SUNK = 0.5  # mm: screw heads lie this deep inside a slide's member


def bite(screw: Screw) -> float:
    """Return how far a slide's screw goes into the wood, mm: its head lies inside the member."""
    whole = screw.length + (0.0 if screw.sink_angle > 0 else screw.head_height)
    return whole - screw.head_height - SUNK


def member_screws(
    d: Draft,
    kit: Kit,
    seat: Seat,
    member: Placed,
    screws: tuple[str, ...],
    holes: Sequence[float],
    at: tuple[float, float],
    up: float,
    reach: float = 0.0,
) -> None:
    """Screw a slide's case member outwards into its seat, the heads inside the member, from `at` (y, z) on.

    Of the `screws` (ids, the longest first) the first is taken whose point stays in the wood.
    The seat's row of holes is `up` mm above or below the middle; on a wall that two drawers share it is as far off it
    as `reach` (`up`, if 0) where the other drawer's screws stand there.
    """
    short, (y0, z) = d.practice["drawer.slide_screw_short"], at
    named = [kit.named_screw(s) for s in screws]
    screw = next((s for s in named if bite(s) <= seat.room - short), None)
    if screw is None:
        raise KitError(member.name, f"a screw for {seat.room:.1f} mm of wood", f"{named[-1].name} as the shortest")
    x = seat.face - seat.sign * (screw.head_height + SUNK)
    length = max(holes)

    def at_row(row: float) -> ScrewLine:
        return ScrewLine(
            screw=screw,
            start=(x, y0, row),
            end=(x, y0 + length, row),
            drive=(float(seat.sign), 0.0, 0.0),
            count=len(holes),
            ends=0.0,
            apart=0.0,
            forced=tuple(holes),
            bare=True,
        )

    taken = taken_in(d, seat.wall) if seat.shared else []
    wanted = z + seat.row * up
    line = at_row(
        moved_clear(lambda row: screw_boxes(at_row(row)), taken, wanted, (z - (reach or up), z + (reach or up)))
    )
    keep_screws(d, member.path.removeprefix(d.path + "/"), line, member)
    thin = seat.blocking and bite(screw) > seat.blocking - short
    hosts = _hosts(d, seat, seat.onto, y0, line.forced)
    for host, places in hosts:
        if host is not seat.onto:
            name = f"{member.path.removeprefix(d.path + '/')}~{host.path.removeprefix(d.path + '/')}"
            own = replace(line, forced=places, count=len(places))
            d.joint(name, JointKind.HARDWARE, member, host, (seat.face, y0, z), own, why="it lies on the post as well")
    line = replace(line, forced=next((at for host, at in hosts if host is seat.onto), ()))
    if not line.forced:
        return
    d.joint(
        f"{member.path.removeprefix(d.path + '/')}~wood",
        JointKind.HARDWARE,
        member,
        seat.onto,
        (seat.face, y0, z),
        MemberScrews(line=line, wall=seat.wall.path) if thin else line,
    )
