"""The face frame: outer stiles full height, rails between them, pocket screws from behind; glued to the case.

Common practice. Visible widths are the input; rails under mouldings are covered + visible.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.edges import EdgeProfile
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import DowelAt
from casewright.design.joints.pockets import PocketLine, joint_count, pocket_setting
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, Form, PartKind, Placed
from casewright.design.sites import Span, centred, depth_along, spots, world_box
from casewright.findings import Severity
from casewright.stock.model import Dowel


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """An upright beside an opening: the part's name, the x of its face towards the opening, its thickness, mm.

    `member` names the ledger size of the frame member before it, `sheet` that of its own thickness.
    """

    name: str
    face: float
    thickness: float
    member: str
    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One opening of the frame: spans in x and z, mm, its cell ("c1,r2"), its ledger sizes and its walls."""

    cell: str
    x: Span
    z: Span
    width_name: str
    height_name: str
    left: Wall
    right: Wall

    @property
    def middle(self) -> float:
        """Where its middle lies across, mm."""
        return (self.x[0] + self.x[1]) / 2

    def edge(self, sign: int) -> float:
        """Return the x of its left (−1) or right (1) edge."""
        return self.x[0] if sign < 0 else self.x[1]

    def wall(self, sign: int) -> Wall:
        """Return the upright behind its left (−1) or right (1) edge."""
        return self.left if sign < 0 else self.right

    def behind(self, sign: int) -> float:
        """Return how far the wall stands back from the opening's edge on a side, mm: what blocking fills."""
        return sign * (self.wall(sign).face - self.edge(sign))

    @property
    def width(self) -> float:
        """Across."""
        return self.x[1] - self.x[0]

    @property
    def height(self) -> float:
        """Up."""
        return self.z[1] - self.z[0]


def face_frame(
    d: Draft,
    kit: Kit,
    body: Body,
    *,
    stile: float,
    top_rail: float,
    bottom_rail: float,
    rails: tuple[tuple[str, float, float], ...],
) -> tuple[Opening, ...]:
    """Place stiles and rails; `rails` are inner rails from the top as (name, width, height of the opening above it).

    The last opening takes what is left. Returns the openings from the top.
    """
    stile = d.let("stile.width", stile, rule="visible width, as ordered")
    d.let("stile.length", body.height, "body.height", rule="outer stiles run the full height")
    outer_stiles(d, kit, body, (body.z0, body.z1), kit.finish)
    across = centred(d.led["rail.length"])
    top_rail = d.let("top_rail.width", top_rail, rule="covered by the crown + visible")
    bottom_rail = d.let("bottom_rail.width", bottom_rail, rule="covered by the base moulding + visible")
    _rail(d, kit, body, "rail.top", "top rail", across, (body.z1 - top_rail, body.z1), "top_rail.width")
    openings: list[Opening] = []
    z = body.z1 - top_rail
    names = ["top_rail.width"]
    for i, (name, width, height) in enumerate(rails):
        h = d.let(f"opening[c1,r{i + 1}].height", height, rule="front as ordered and its gaps")
        openings.append(_opening(body, i, across, (z - h, z)))
        width = d.let(f"{name}.width", width, rule="visible width, as ordered")
        _rail(
            d,
            kit,
            body,
            f"rail.{name}",
            f"{name} rail".replace("_", " "),
            across,
            (z - h - width, z - h),
            f"{name}.width",
        )
        names += [f"opening[c1,r{i + 1}].height", f"{name}.width"]
        z -= h + width
    low = body.z0 + bottom_rail
    last = f"opening[c1,r{len(rails) + 1}].height"
    d.let(last, z - low, "body.height", *names, "bottom_rail.width", rule="what the rails leave")
    openings.append(_opening(body, len(rails), across, (low, z)))
    _rail(d, kit, body, "rail.bottom", "bottom rail", across, (body.z0, low), "bottom_rail.width")
    d.chain("chain.front_height", "z", "body.height", (*names, last, "bottom_rail.width"), last, 50.0, 5e3)
    return tuple(openings)


def outer_stiles(d: Draft, kit: Kit, body: Body, z: Span, finish: str) -> None:
    """Place both outer stiles over a height, and let the rails between; their own width and length are let already."""
    stile = d.led["stile.width"]
    for sign, hand in HANDS:
        d.box_part(
            f"frame/stile.{hand}",
            f"{hand} stile",
            kit.material("face_frame", finish),
            side_x(sign, body.outer / 2, stile),
            (0.0, body.frame),
            z,
            grain="z",
            thick="y",
            shows="front " + hand,
            coated="right" if hand == "left" else "left",
            rough=Allowance(width=0.0 if body.reveal else d.practice["frame.trim"]),
            surplus=hand,
            sizes=("stile.length", "stile.width", "frame.thickness"),
            kind=PartKind.FRAME,
        )
    whole = "body.width"
    if body.reveal:
        whole = "frame.width"
        d.let(whole, body.outer, "body.width", "frame.reveal", rule="over the stiles, which stand proud of the sides")
        d.chain("chain.reveal", "x", whole, ("frame.reveal", "body.width", "frame.reveal"), whole, 0.0, 1e4)
    d.let("rail.length", body.outer - 2 * stile, whole, "stile.width", rule="between the stiles: the opening")
    d.chain("chain.front", "x", whole, ("stile.width", "rail.length", "stile.width"), whole, 0.0, 1e4)


def side_walls(body: Body) -> tuple[Wall, Wall]:
    """Return the sides of a case as the walls left and right behind its outer stiles."""
    left, right = (
        Wall(
            name=f"side.{hand}",
            face=sign * body.inside / 2,
            thickness=body.side,
            member="stile.width",
            sheet="side.thickness",
        )
        for sign, hand in HANDS
    )
    return left, right


def frame_rail(
    d: Draft, kit: Kit, body: Body, name: str, label: str, x: Span, z: Span, sizes: tuple[str, str], finish: str
) -> Placed:
    """Place a rail of the frame; `sizes` are the ledger names of its length and width."""
    return d.box_part(
        name,
        label,
        kit.material("face_frame", finish),
        x,
        (0.0, body.frame),
        z,
        grain="x",
        thick="y",
        shows="front",
        coated="up down",
        sizes=(*sizes, "frame.thickness"),
        kind=PartKind.FRAME,
    )


def _opening(body: Body, i: int, x: Span, z: Span) -> Opening:
    cell = f"c1,r{i + 1}"
    left, right = side_walls(body)
    return Opening(
        cell=cell, x=x, z=z, width_name="rail.length", height_name=f"opening[{cell}].height", left=left, right=right
    )


def _rail(d: Draft, kit: Kit, body: Body, name: str, label: str, x: Span, z: Span, width_name: str) -> None:
    rail = frame_rail(d, kit, body, f"frame/{name}", label, x, z, ("rail.length", width_name), kit.finish)
    for sign, hand in HANDS:
        join_member(d, kit, body, rail, d.at(f"frame/stile.{hand}"), (float(sign), 0.0, 0.0))


def join_member(d: Draft, kit: Kit, body: Body, member: Placed, host: Placed, drive: Vec) -> None:
    """Join the end of a frame member that looks along `drive` to the edge of another: pockets at the back, glue.

    On a member that parts two bays another one may stand opposite: each screw keeps to its own half of it, and where
    that is too little wood, the screws of one pass beside those of the other, or go around them.
    """
    p = d.practice
    lo, hi = world_box(member)
    along = 0 if drive[2] else 2  # the axis across the member, along which its screws stand
    axis = 2 - along
    end = [(a + b) / 2 for a, b in zip(lo, hi, strict=True)]
    end[axis] = hi[axis] if drive[axis] > 0 else lo[axis]
    shared = host.path.rpartition("/")[2].endswith("]")
    room = depth_along(host, drive)
    foot = _Foot(member=member, host=host, drive=drive, end=end, along=along, span=(lo[along], hi[along]))
    screw = kit.pocket_screw(body.frame, kit.material("face_frame").hard)
    own_half = pocket_setting(screw, body.frame, room / 2, p) if shared else None
    setting = own_half or pocket_setting(screw, body.frame, room, p)
    if setting is None:
        raise KitError("pocket screws in the face frame", "a frame of 16 mm or more", f"{body.frame:.1f} mm")
    beside = PAST * sum(drive) if shared and own_half is None else 0.0
    narrow = foot.width < p["frame.one_screw_below"]
    # Between rails a narrow stile keeps its screw where no dowel has room; the screw may then yield to others.
    deep = room / (2 if shared else 1)
    dowelled = narrow and (not drive[2] or _dowel_fits(d, kit, deep))
    # A narrow member takes one screw and, beside it, a dowel against twisting (common practice).
    screw_at = (0.7 if beside > 0 else 0.3) * foot.width
    ends = min(p["pocket.frame_ends"], (foot.width - p["pocket.frame_apart"]) / 2)
    count = joint_count(foot.width, p)
    evenly = spots(foot.width, count, ends, p["pocket.frame_apart"], ()) if shared else ()
    forced = (screw_at,) if narrow else tuple(place + beside for place in evenly or ())
    line = PocketLine(
        screw=screw,
        start=foot.at(foot.span[0]),
        end=foot.at(foot.span[1]),
        opens=(0.0, 1.0, 0.0),
        drive=drive,
        setting=setting,
        count=count,
        ends=ends,
        apart=p["pocket.frame_apart"],
        forced=forced,
        yield_to=shared and own_half is None and not dowelled,
        least=1,
    )
    why = "pockets on the hidden rear face"
    d.joint(foot.name(d), JointKind.POCKET_SCREWS, member, host, _vec(end), line, glued=True, why=why)
    if dowelled:
        _steadied(d, kit, foot, foot.span[0] + screw_at + p["pocket.diameter"] / 2, deep)


PAST = 3.5  # mm: screws from both sides of a narrow member stand this much aside, and miss each other


@dataclass(frozen=True, slots=True, kw_only=True)
class _Foot:
    """The end of a frame member on the edge of another: its middle, and its span along axis `along`, mm."""

    member: Placed
    host: Placed
    drive: Vec
    end: list[float]
    along: int
    span: Span

    @property
    def width(self) -> float:
        return self.span[1] - self.span[0]

    def at(self, place: float) -> Vec:
        return _at(self.end, self.along, place)

    def name(self, d: Draft) -> str:
        one, other = (m.path.removeprefix(d.path + "/") for m in (self.member, self.host))
        return f"{one}~{other.removeprefix('frame/')}"


def _dowel_fits(d: Draft, kit: Kit, room: float) -> bool:
    """True where half a dowel goes into a member with this much room (mm) for it."""
    return kit.role("frame_dowel", Dowel).length / 2 + d.practice["fastener.point_cover"] / 2 <= room


def _steadied(d: Draft, kit: Kit, foot: _Foot, pocket: float, room: float) -> None:
    """A dowel midway between a narrow member's pocket, which ends at `pocket`, and its other edge."""
    dowel = kit.role("frame_dowel", Dowel)
    if not _dowel_fits(d, kit, room):
        return
    point = foot.at((pocket + foot.span[1]) / 2)
    d.joint(
        f"{foot.name(d)}.dowel",
        JointKind.DOWEL,
        foot.member,
        foot.host,
        point,
        DowelAt(dowel=dowel, points=(point,), drive=foot.drive),
        glued=True,
        why="one screw alone lets a narrow member turn",
    )


def _vec(p: list[float]) -> Vec:
    return (p[0], p[1], p[2])


def _at(point: list[float], axis: int, value: float) -> Vec:
    return _vec([value if i == axis else c for i, c in enumerate(point)])


def frame_to_case(d: Draft, body: Body, behind: tuple[tuple[str, str], ...] = ()) -> None:
    """Glue the frame to the front edges of sides, bottom and front stretcher, and of what else stands behind it.

    `behind` are further pairs of names: a member of the frame, and the panel whose edge it covers.
    """
    # The frame is made up of stiles and rails, the carcass of sides and bottom: they must end flush.
    d.fit(
        "fit.frame_flush",
        "bottom.length",
        "rail.length",
        -0.8,
        0.8,
        allow=body.outer - body.width - 2 * (d.led["stile.width"] - body.side),
        source="what a flush-trim bit takes off",
    )
    # Corner posts are doweled to the sides by their own block.
    pairs = [] if body.post else [(f"frame/stile.{h}", f"side.{h}") for _, h in HANDS]
    seams = {a: _seam(d, d.at(a), d.at(b), float(sign)) for (a, b), (sign, _) in zip(pairs, HANDS, strict=False)}
    pairs += [("frame/rail.bottom", "bottom"), *behind]
    pairs += [("frame/rail.top", n) for n in ("stretcher.front", "top_panel") if d.has(n)]
    for a, b in pairs:
        lo, hi = world_box(d.at(b))
        d.joint(
            f"{b}~{a}",
            JointKind.GLUE,
            d.at(b),
            d.at(a),
            ((lo[0] + hi[0]) / 2, body.frame, (lo[2] + hi[2]) / 2),
            seams.get(a),
            glued=True,
            why="clamped: no nail shows",
        )


def glue_frame(d: Draft) -> str:
    """Return how the frame is glued on, in words."""
    if "frame.reveal" not in d.led:
        return "Glue the face frame on, flush with the sides, under clamps"
    reveal = d.led["frame.reveal"]
    return (
        f"Glue the face frame on, its stiles {reveal:g} mm proud of both sides, against a strip so thick, under clamps"
    )


def trim_frame(d: Draft) -> str:
    """Return what is done to the frame once it is glued on, in words."""
    if "frame.reveal" in d.led:
        return "Break the rear arrises of the outer stiles that stand proud of the sides; take glue off the corner"
    trim, seam = d.practice["frame.trim"], d.practice["applied.seam_chamfer"]
    text = f"Trim the outer stiles flush with the sides: they are {trim:g} mm over" if trim else "Sand the seams flush"
    return f"{text}; run a chamfer of {seam:g} mm along the seams of stiles and sides" if seam else text


def _seam(d: Draft, stile: Placed, side: Placed, sign: float) -> Cuts | None:
    """A chamfer on both sides of the seam of a solid stile and a sheet side, which would print through paint."""
    size = d.practice["applied.seam_chamfer"]
    if "frame.reveal" in d.led or side.part.form is not Form.SHEET or stile.part.form is Form.SHEET:
        return None
    if size <= 0:
        d.find(
            "frame.seam",
            Severity.NOTE,
            stile.path.removeprefix(d.path + "/"),
            "the seam of this solid stile and its sheet side will print through paint in a year or two",
            value=size,
            source="common practice",
            remedy="practice applied.seam_chamfer, or frame_reveal",
        )
        return None
    return Cuts(
        cuts=tuple(
            (
                placed.path,
                EdgeProfile(
                    face=placed.face_towards((sign, 0.0, 0.0)),
                    side=placed.face_towards((0.0, to_seam, 0.0)),
                    curve=((size, 0.0, 0.0), (0.0, size, 0.0)),
                    shape="chamfer",
                    made_at=MadeAt.ASSEMBLY,
                    joint=f"{side.path}~{stile.path.removeprefix(d.path + '/')}",
                ),
            )
            for placed, to_seam in ((stile, 1.0), (side, -1.0))
        )
    )
