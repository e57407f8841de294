"""An inset drawer: box on side-mount slides behind a face frame, false front with an applied frame, pull.

Trade notes 11–19. Everything hangs on the opening: the box is the opening less the slides' room, the
blocking brings each slide flush with the opening on its own side, the front leaves its gaps.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind, Motion, MotionKind
from casewright.design.blanks import Blank
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import pull_hardware, slide_member
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, Rabbet
from casewright.design.features.shaping import end_cut_from_normal
from casewright.design.frames import Frame, Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import PinLine, ThroughBolt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline
from casewright.design.parts import Form, Part, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, centred, sink, span, world_box
from casewright.findings import Severity
from casewright.stock.model import Pin, Pull, Slide, Stick
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """What the order says of one drawer, mm: gap around the wood of the front, margin of the applied frame."""

    gap: float
    frame_margin: float
    applied_frame: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    """Where the drawer box stands: spans of the whole box."""

    name: str
    x: Span
    y: Span
    z: Span
    wood: float
    bottom: float


def drawer(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec) -> None:
    """Place a whole drawer with its slides and blocking; findings where it cannot be built."""
    g = f"drawer[{opening.cell}]"
    front_t = _front(d, kit, opening, spec, g)
    slide = _choose_slide(d, kit, body, g, front_t)
    if slide is None:
        return
    box = _let_box(d, kit, body, opening, slide, g, front_t)
    if box is None:
        return
    _box_parts(d, kit, box, opening)
    _slides(d, kit, body, opening, slide, box, front_t)
    _nail_box(d, kit, box)
    _hang_front(d, kit, box, g, front_t)
    d.motions.append(
        Motion(
            id=d.full(f"{g}.slide"),
            kind=MotionKind.SLIDE,
            members=(d.full(g),),
            origin=(0.0, 0.0, box.z[0]),
            direction=(0.0, -1.0, 0.0),
            reach=slide.travel,
        )
    )


def _front(d: Draft, kit: Kit, opening: Opening, spec: DrawerSpec, g: str) -> float:
    sheet = kit.sheet("drawer_front")
    d.let(f"{g}.gap", spec.gap, rule="finished gap + paint film + swelling")
    t = d.let(f"{g}.front.thickness", sheet.thickness, rule="front sheet as measured")
    for axis, housing, name, size in (
        ("x", opening.width_name, "length", opening.width),
        ("z", opening.height_name, "width", opening.height),
    ):
        d.let(
            f"{g}.front.{name}",
            size - 2 * spec.gap,
            housing,
            f"{g}.gap",
            rule="opening less two gaps",
            role=Role.INSERT,
        )
        d.chain(
            f"{g}.chain.{axis}",
            axis,
            housing,
            (f"{g}.gap", f"{g}.front.{name}", f"{g}.gap"),
            f"{g}.gap",
            spec.gap * 0.4,
            spec.gap + 1.0,
        )
        d.fit(f"{g}.fit.{axis}", housing, f"{g}.front.{name}", spec.gap, 2 * spec.gap + 2.5, source="common practice")
    mid_z = (opening.z[0] + opening.z[1]) / 2
    front = d.box_part(
        f"{g}/face/front",
        "drawer front",
        kit.material("drawer_front", "paint"),
        centred(d.led[f"{g}.front.length"]),
        (0.0, t),
        centred(d.led[f"{g}.front.width"], mid_z),
        grain="x",
        thick="y",
        shows="front",
    )
    if spec.applied_frame:
        _applied_frame(d, kit, front, spec.frame_margin, g)
    return t


def _applied_frame(d: Draft, kit: Kit, front: Placed, margin: float, g: str) -> None:
    """Four mitred mouldings on the front, their outer edge `margin` inside the front's."""
    stick = kit.stick("applied_moulding")
    section, width, thick = blank_section(stick)
    lo, hi = world_box(front)
    x, z = (lo[0] + margin, hi[0] - margin), (lo[2] + margin, hi[2] - margin)
    d.let(f"{g}.applied.length", x[1] - x[0], f"{g}.front.length", rule="front less two margins, long points")
    d.let(f"{g}.applied.height", z[1] - z[0], f"{g}.front.width", rule="front less two margins, long points")
    # Blank y points from the outer edge to the field, z out of the front: the run goes round anticlockwise.
    sides = (
        ("bottom", (x[0], 0.0, z[0]), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), x[1] - x[0]),
        ("top", (x[1], 0.0, z[1]), (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0), x[1] - x[0]),
        ("left", (x[0], 0.0, z[1]), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0), z[1] - z[0]),
        ("right", (x[1], 0.0, z[0]), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), z[1] - z[0]),
    )
    placed = [
        _applied(d, kit, g, stick, section, (width, thick), name, at, run, inward, length)
        for name, at, run, inward, length in sides
    ]
    pin = kit.role("pin", Pin)
    for p in placed:
        a, b = p.frame.point((0.0, width / 2, thick)), p.frame.point((p.part.blank.length, width / 2, thick))
        name = p.path.removeprefix(d.path + "/")
        count = max(2, round(p.part.blank.length / d.practice["pin.spacing"]))
        line = PinLine(
            pin=pin,
            start=a,
            end=b,
            drive=(0.0, 1.0, 0.0),
            count=count,
            ends=min(2 * width, 0.36 * p.part.blank.length),
            apart=10.0,
        )
        d.joint(f"{name}~front", JointKind.PINS, p, front, p.frame.origin, line, glued=True)
    for a_name, b_name in (("bottom", "left"), ("left", "top"), ("top", "right"), ("right", "bottom")):
        p, q = d.at(f"{g}/face/applied.{a_name}"), d.at(f"{g}/face/applied.{b_name}")
        d.joint(f"{g}/face/applied.{a_name}~{b_name}", JointKind.MITRE, p, q, q.frame.origin, glued=True)


def _applied(
    d: Draft,
    kit: Kit,
    g: str,
    stick: Stick,
    section: Outline,
    size: tuple[float, float],
    name: str,
    at: Vec,
    run: Vec,
    inward: Vec,
    length: float,
) -> Placed:
    # Blank x along the run, y from the outer edge to the field, z out of the front (x × y must be −y of the piece).
    frame = Frame(origin=at, x=run, y=inward)
    blank = Blank(length=length, width=size[0], thickness=size[1], section=section)
    half = size[0] / 2
    cuts = (
        end_cut_from_normal((-1.0, 1.0, 0.0), half),
        end_cut_from_normal((1.0, 1.0, 0.0), length - half),
    )
    part = Part(form=Form.STICK, stock=stick.id, blank=blank, features=cuts, mass_density=stick.density)
    return d.place_part(
        f"{g}/face/applied.{name}", f"applied moulding, {name}", part, frame, shows="front", finish="paint"
    )


def _choose_slide(d: Draft, kit: Kit, body: Body, g: str, front_t: float) -> Slide | None:
    family = kit.slides()
    room = body.inner_back - d.practice["slide.behind"] - front_t
    fits = [s for s in family if s.set_back + s.length <= room]
    if not fits:
        d.find(
            "drawer.no_slide",
            Severity.STOP,
            g,
            f"no slide in stock fits a depth of {room:.1f} mm",
            value=room,
            limit=min(s.set_back + s.length for s in family),
            source="trade notes 13",
            remedy="make the case deeper or stock a shorter slide",
        )
        return None
    best = max(fits, key=lambda s: (s.length, s.id))
    d.let(
        f"{g}.slide.length",
        best.length,
        "body.depth",
        "back.thickness",
        f"{g}.front.thickness",
        rule="the longest in stock that fits behind the front",
    )
    return best


def _let_box(d: Draft, kit: Kit, body: Body, opening: Opening, slide: Slide, g: str, front_t: float) -> _Box | None:
    p = d.practice
    wood = d.let(f"{g}.box.thickness", kit.sheet("drawer_side").thickness, rule="drawer sheet as measured")
    bottom = d.let(f"{g}.bottom.thickness", kit.sheet("drawer_bottom").thickness, rule="bottom sheet as measured")
    play = d.let(f"{g}.play", 2 * p["drawer.side_clearance"], rule="room of both slides: aim of 25.4 to 27.0 mm")
    width = d.let(
        f"{g}.box.width",
        opening.width - play,
        opening.width_name,
        f"{g}.play",
        rule="opening less the slides' room",
        role=Role.INSERT,
    )
    height = d.let(
        f"{g}.box.height",
        opening.height - p["drawer.below"] - p["drawer.above"],
        opening.height_name,
        rule="opening less room below and above",
        role=Role.INSERT,
    )
    depth = d.let(
        f"{g}.box.depth",
        slide.set_back + slide.length,
        f"{g}.slide.length",
        rule="as long as the slide",
        role=Role.INSERT,
    )
    if height < slide.height + p["drawer.over_slide"]:
        d.find(
            "drawer.too_low",
            Severity.STOP,
            g,
            f"the box would be {height:.1f} mm high",
            value=height,
            limit=slide.height + p["drawer.over_slide"],
            source="trade notes 14",
            remedy="give the drawer a higher front or take a lower slide",
        )
        return None
    low = opening.z[0] + p["drawer.below"]
    return _Box(name=g, x=centred(width), y=span(front_t, depth), z=(low, low + height), wood=wood, bottom=bottom)


def _box_parts(d: Draft, kit: Kit, box: _Box, opening: Opening) -> None:
    g, t, p = box.name, box.wood, d.practice
    material = kit.material("drawer_side", "clear")
    for sign, hand in HANDS:
        d.box_part(
            f"{g}/side.{hand}",
            f"drawer side, {hand}",
            material,
            side_x(sign, box.x[1], t),
            box.y,
            box.z,
            grain="y",
            thick="x",
        )
    tongue = d.let(
        f"{g}.box.tongue", t * p["drawer.tongue_share"], f"{g}.box.thickness", rule="left of the side at its rabbets"
    )
    across = d.let(
        f"{g}.box.front_length",
        box.x[1] - box.x[0] - 2 * tongue,
        f"{g}.box.width",
        f"{g}.box.tongue",
        rule="between the tongues of the sides' rabbets",
        role=Role.INSERT,
    )
    d.fit(
        f"{g}.fit.slides",
        opening.width_name,
        f"{g}.box.front_length",
        25.4,
        27.0,
        allow=-2 * tongue,
        source="ball-bearing side-mount slides, 12.7 mm a side (common practice; fact book §8)",
    )
    for name, y in (("front", (box.y[0], box.y[0] + t)), ("back", (box.y[1] - t, box.y[1]))):
        part = d.box_part(
            f"{g}/box_{name}", f"drawer box {name}", material, centred(across), y, box.z, grain="x", thick="y"
        )
        for sign, hand in HANDS:
            _box_corner(d, kit, box, part, d.at(f"{g}/side.{hand}"), sign, name == "front", tongue)
    inside = d.let(
        f"{g}.box.inside", box.x[1] - box.x[0] - 2 * t, f"{g}.box.width", f"{g}.box.thickness", rule="between the sides"
    )
    _box_bottom(d, kit, box, inside, min(t * p["drawer.groove_share"], p["drawer.groove_most"]))


def _box_corner(
    d: Draft, kit: Kit, box: _Box, part: Placed, side: Placed, sign: int, front: bool, tongue: float
) -> None:
    """A glued rabbet, nailed from the box's outer face, which the false front or the case hides.

    Box stock is too thin to hold the heads of pocket screws below its face.
    """
    t = box.wood
    y = (box.y[0], box.y[0] + t) if front else (box.y[1] - t, box.y[1])
    inner, wall = sign * (box.x[1] - t), sign * (box.x[1] - tongue)
    cut = sink(
        Rabbet, side, (-float(sign), 0.0, 0.0), (min(inner, wall), y[0], box.z[0]), (max(inner, wall), y[1], box.z[1])
    )
    name = part.path.removeprefix(d.path + "/")
    hand = "left" if sign < 0 else "right"
    at = (inner, y[0], box.z[0])
    d.joint(
        f"{name}~side.{hand}",
        JointKind.RABBET,
        side,
        part,
        at,
        Cuts(cuts=((side.path, cut),)),
        glued=True,
        why="box stock is too thin for pocket screws",
    )


def _nail_box(d: Draft, kit: Kit, box: _Box) -> None:
    """Brads through the outer faces of box front and back into the sides, around the slides' screws."""
    t, g = box.wood, box.name
    pin = next((q for q in kit.all("brad", Pin) if q.length >= t + 12.0), kit.all("brad", Pin)[-1])
    for part_name, face, drive in (("front", box.y[0], 1.0), ("back", box.y[1], -1.0)):
        part = d.at(f"{g}/box_{part_name}")
        for sign, hand in HANDS:
            side = d.at(f"{g}/side.{hand}")
            x = sign * (box.x[1] - (t + d.led[f"{g}.box.tongue"]) / 2)
            line = PinLine(
                pin=pin,
                start=(x, face, box.z[0]),
                end=(x, face, box.z[1]),
                drive=(0.0, drive, 0.0),
                count=3,
                ends=10.0,
                apart=12.0,
            )
            d.joint(
                f"{g}/box_{part_name}~side.{hand}.brads",
                JointKind.PINS,
                part,
                side,
                (x, face, box.z[0]),
                line,
                why="holds while the glue sets",
            )


def _box_bottom(d: Draft, kit: Kit, box: _Box, inside: float, groove: float) -> None:
    g, t, p = box.name, box.wood, d.practice
    groove = d.let(
        f"{g}.groove.depth", groove, f"{g}.box.thickness", rule="half the side, 6 mm at most", role=Role.HOUSING
    )
    d.let(f"{g}.groove.width", box.bottom, f"{g}.bottom.thickness", rule="bottom as measured", role=Role.HOUSING)
    deep = box.y[1] - box.y[0] - 2 * t
    z = span(box.z[0] + p["drawer.groove_up"], box.bottom)
    spans: dict[str, Span] = {}
    for axis, size, base, because in (
        ("length", inside, 0.0, f"{g}.box.inside"),
        ("width", deep, (box.y[0] + box.y[1]) / 2, f"{g}.box.depth"),
    ):
        d.let(
            f"{g}.bottom.seat_{axis}",
            size + 2 * groove,
            because,
            f"{g}.groove.depth",
            rule="between groove floors",
            role=Role.HOUSING,
        )
        cut = d.let(
            f"{g}.bottom.{axis}",
            size + 2 * groove - p["drawer.bottom_play"],
            f"{g}.bottom.seat_{axis}",
            rule="play so that it slides in",
            role=Role.INSERT,
        )
        d.fit(
            f"{g}.fit.bottom_{axis}",
            f"{g}.bottom.seat_{axis}",
            f"{g}.bottom.{axis}",
            0.5,
            4.0,
            source="common practice",
        )
        spans[axis] = centred(cut, base)
    bottom = d.box_part(
        f"{g}/bottom",
        "drawer bottom",
        kit.material("drawer_bottom", "clear"),
        spans["length"],
        spans["width"],
        z,
        grain="x",
        thick="z",
    )
    walls: tuple[tuple[str, Vec, Vec, Vec], ...] = (
        ("side.left", (1.0, 0.0, 0.0), (box.x[0], box.y[0], z[0]), (box.x[0] + t, box.y[1], z[1])),
        ("side.right", (-1.0, 0.0, 0.0), (box.x[1] - t, box.y[0], z[0]), (box.x[1], box.y[1], z[1])),
        ("box_front", (0.0, 1.0, 0.0), (box.x[0], box.y[0], z[0]), (box.x[1], box.y[0] + t, z[1])),
        ("box_back", (0.0, -1.0, 0.0), (box.x[0], box.y[1] - t, z[0]), (box.x[1], box.y[1], z[1])),
    )
    for name, opens, lo, hi in walls:
        wall = d.at(f"{g}/{name}")
        shallow = _to_depth(lo, hi, opens, groove)
        cut_feature = sink(Groove, wall, opens, *shallow)
        d.joint(
            f"{g}/bottom~{name}", JointKind.GROOVE, wall, bottom, shallow[0], Cuts(cuts=((wall.path, cut_feature),))
        )


def _to_depth(lo: Vec, hi: Vec, opens: Vec, depth: float) -> tuple[Vec, Vec]:
    """Return the part of a box that lies within `depth` of its side towards `opens`."""
    axis = next(i for i in range(3) if opens[i])
    a, b = list(lo), list(hi)
    if opens[axis] > 0:
        a[axis] = b[axis] - depth
    else:
        b[axis] = a[axis] + depth
    return (a[0], a[1], a[2]), (b[0], b[1], b[2])


def _slides(d: Draft, kit: Kit, body: Body, opening: Opening, slide: Slide, box: _Box, front_t: float) -> None:
    """Blocking, case members and drawer members on both sides."""
    p, g = d.practice, box.name
    need = body.inside / 2 - opening.x[1]
    thickness = d.let(
        f"{g}.blocking.thickness",
        need,
        "stile.width",
        "side.thickness",
        rule="from the opening's edge to the side, so that the slide lies flush; never proud",
        role=Role.INSERT,
    )
    if need < p["blocking.least"]:
        d.find(
            "drawer.blocking",
            Severity.STOP,
            g,
            f"only {need:.1f} mm between the opening and the side for blocking",
            value=need,
            limit=p["blocking.least"],
            source="trade notes 12",
            remedy="make the stiles wider",
        )
        return
    mid_z = (box.z[0] + box.z[1]) / 2
    y = span(front_t + slide.set_back, slide.length)
    block_y = (body.frame, y[1])
    d.let(
        f"{g}.blocking.length", block_y[1] - block_y[0], f"{g}.slide.length", rule="from the frame to the slide's end"
    )
    width = d.let(f"{g}.blocking.width", slide.height + p["blocking.over"], rule="slide and 5 mm above and below")
    for sign, hand in HANDS:
        side = d.at(f"side.{hand}")
        x = (opening.x[1], opening.x[1] + thickness) if sign > 0 else (-opening.x[1] - thickness, -opening.x[1])
        block = d.box_part(
            f"{g}.blocking.{hand}",
            f"slide blocking, {hand}",
            kit.material("blocking"),
            x,
            block_y,
            centred(width, mid_z),
            grain="y",
            thick="x",
        )
        _fix_blocking(d, kit, body, block, side, sign, hand, g, (mid_z, block_y, width), slide)
        gap = opening.x[1] - box.x[1]
        for member, outer, onto in (
            ("case", opening.x[1], block),
            ("drawer", box.x[1] + gap / 2, d.at(f"{g}/side.{hand}")),
        ):
            group = f"{g}/" if member == "drawer" else f"{g}."
            hardware = slide_member(slide, gap / 2, member)
            frame = Frame(origin=(sign * (outer - gap / 4), y[0], mid_z), x=(0.0, 0.0, 1.0), y=(0.0, 1.0, 0.0))
            placed = d.place_hardware(
                f"{group}slide_{member}.{hand}", f"slide, {member} member, {hand}", hardware, frame
            )
            d.keep_out(
                *_slide_box(f"{group}slide_{member}.{hand}", placed, sign, outer, gap, y, mid_z, slide), placed, onto
            )
            _slide_screws(d, kit, placed, onto, slide, member, sign, outer, gap, (y[0], mid_z))
        d.joint(
            f"{g}.slides.{hand}",
            JointKind.HARDWARE,
            d.at(f"{g}.slide_case.{hand}"),
            d.at(f"{g}/slide_drawer.{hand}"),
            (sign * (opening.x[1] - gap / 2), y[0], mid_z),
            why="the members run in each other",
        )


def _slide_box(
    name: str, placed: Placed, sign: int, outer: float, gap: float, y: Span, z: float, slide: Slide
) -> tuple[str, Vec, Vec]:
    a, b = sign * outer, sign * (outer - gap / 2)
    return (
        name,
        (min(a, b), y[0], z - slide.height / 2),
        (max(a, b), y[1], z + slide.height / 2),
    )


def _fix_blocking(
    d: Draft,
    kit: Kit,
    body: Body,
    block: Placed,
    side: Placed,
    sign: int,
    hand: str,
    g: str,
    at: tuple[float, Span, float],
    slide: Slide,
) -> None:
    mid_z, y, width = at
    p = d.practice
    thick = block.part.blank.thickness
    # Heads sink below the slide's seat, the points stay inside the side.
    screw = kit.screw("wood", 8, thick + 8.0, thick + body.side - p["fastener.point_cover"])
    # Above and below the slide, so that its own screws and these never meet.
    z = mid_z + width / 2 - (width - slide.height) / 4 - 1.0
    inner = sign * (body.inside / 2 - thick)
    d.joint(
        f"{g}.blocking~side.{hand}",
        JointKind.BUTT_SCREWS,
        block,
        side,
        (sign * body.inside / 2, y[0], mid_z),
        ScrewLine(
            screw=screw,
            start=(inner, y[0], z),
            end=(inner, y[1], z),
            drive=(float(sign), 0.0, 0.0),
            count=3,
            ends=30.0,
            apart=40.0,
        ),
        glued=True,
        why="driven from inside, hidden by the drawer",
    )


def _slide_screws(
    d: Draft,
    kit: Kit,
    member: Placed,
    onto: Placed,
    slide: Slide,
    kind: str,
    sign: int,
    outer: float,
    gap: float,
    at: tuple[float, float],
) -> None:
    case = kind == "case"
    screw = kit.named_screw(slide.case_screw if case else slide.screw)
    holes = slide.case_holes if case else slide.drawer_holes
    y0, z = at
    # Case members are screwed outwards into the blocking, drawer members inwards into the box side; the
    # heads lie inside the member.
    way = float(sign) if case else -float(sign)
    face = sign * outer if case else sign * (outer - gap / 2)
    x = face - way * (screw.head_height + 0.5)
    d.joint(
        f"{member.path.removeprefix(d.path + '/')}~wood",
        JointKind.HARDWARE,
        member,
        onto,
        (face, y0, z),
        ScrewLine(
            screw=screw,
            start=(x, y0, z),
            end=(x, y0 + slide.length, z),
            drive=(way, 0.0, 0.0),
            count=len(holes),
            ends=0.0,
            apart=0.0,
            forced=holes,
            bare=True,
        ),
    )


def _hang_front(d: Draft, kit: Kit, box: _Box, g: str, front_t: float) -> None:
    """The pull's bolts go through front and box; screws from inside the box hold the front besides."""
    p = d.practice
    pull = kit.role("drawer_pull", Pull)
    front, inner = d.at(f"{g}/face/front"), d.at(f"{g}/box_front")
    lo, hi = world_box(front)
    z = (lo[2] + hi[2]) / 2
    hardware = pull_hardware(pull)
    knob = d.place_hardware(
        f"{g}/face/pull", "drawer pull", hardware, Frame(origin=(0.0, 0.0, z), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
    )
    d.excluded.append(knob.path)
    bolt = kit.screw("machine", 8, front_t + box.wood + 4.0, front_t + box.wood + p["pull.thread_most"])
    centres = (0.0,) if pull.centres == 0 else (-pull.centres / 2, pull.centres / 2)
    inside_y = box.y[0] + box.wood
    for i, x in enumerate(centres):
        d.joint(
            f"{g}/face/pull~front[{i + 1}]",
            JointKind.HARDWARE,
            front,
            knob,
            (x, 0.0, z),
            ThroughBolt(
                bolt=bolt,
                point=(x, inside_y, z),
                drive=(0.0, -1.0, 0.0),
                through=(front.path, inner.path),
                hole=pull.hole,
            ),
        )
    screw = kit.screw("washer-head", 8, box.wood + 8.0, box.wood + front_t - p["fastener.point_cover"])
    for sign, hand in HANDS:
        x = sign * (min(hi[0], box.x[1]) - box.wood) * p["front.screw_share"]
        d.joint(
            f"{g}/face/front~box.{hand}",
            JointKind.SCREWS,
            inner,
            front,
            (x, box.y[0], z),
            ScrewLine(
                screw=screw,
                start=(x, inside_y, box.z[0] + 20.0),
                end=(x, inside_y, box.z[1]),
                drive=(0.0, -1.0, 0.0),
                count=2,
                ends=12.0,
                apart=20.0,
            ),
            why="from inside the box, once the gaps are set",
        )
