"""A drawer front of stiles and rails with a sheet panel in their groove, and what fills the room behind the panel.

Common practice: stub tenons as long as the groove is deep, the sheet panel glued. The box is screwed to the
frame, and a block behind the panel takes the pull's bolts.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, hand_of
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.front_place import FrontPlace
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.kit import Kit
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import DIRECTIONS, Span, centred
from casewright.findings import Severity
from casewright.stock.model import Pull
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class FramedFront:
    """The panel, the block behind it, stiles from the left, rails from below, and a member's width less groove, mm."""

    panel: Placed
    block: Placed
    stiles: tuple[Placed, Placed]
    rails: tuple[Placed, Placed]
    whole: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Sizes of one frame, mm: its place, members' width, groove."""

    place: FrontPlace
    member: float
    groove: float
    depth: float

    @property
    def sight(self) -> tuple[Span, Span]:
        """Between the members: (x, z)."""
        (x, z), m = (self.place.x, self.place.z), self.member
        return (x[0] + m, x[1] - m), (z[0] + m, z[1] - m)

    @property
    def middle(self) -> float:
        """Of its thickness, y."""
        return (self.place.y[0] + self.place.y[1]) / 2


def framed_front(d: Draft, kit: Kit, spec: DrawerSpec, place: FrontPlace, g: str) -> FramedFront | None:
    """Place the frame, its panel and the block behind it; None and a finding where the panel would not show."""
    frame = _let_frame(d, kit, spec, place, g)
    if frame is None:
        return None
    stiles = [_stile(d, kit, spec, frame, g, sign) for sign, _ in HANDS]
    low, high = frame.place.z
    rails = [
        _rail(d, kit, spec, frame, g, "bottom", (low, low + frame.member), stiles),
        _rail(d, kit, spec, frame, g, "top", (high - frame.member, high), stiles),
    ]
    panel = _panel(d, kit, spec, frame, g, (*stiles, *rails))
    return FramedFront(
        panel=panel,
        block=_block(d, kit, frame, g, panel),
        stiles=(stiles[0], stiles[1]),
        rails=(rails[0], rails[1]),
        whole=frame.member - frame.depth,
    )


def _let_frame(d: Draft, kit: Kit, spec: DrawerSpec, place: FrontPlace, g: str) -> _Frame | None:
    p = d.practice
    member = d.let(f"{g}.front.member", spec.member or p["door.stile_width"], rule="as ordered, or practice")
    panel = d.let(f"{g}.panel.thickness", kit.sheet("door_panel").thickness, rule="panel sheet as measured")
    depth = d.let(f"{g}.front.groove", p["door.stub_tenon"], rule="practice", role=Role.HOUSING)
    frame = _Frame(place=place, member=member, groove=panel, depth=depth)
    base = min(p.base[1] for p in kit.all("drawer_pull", Pull))
    sight = min(s[1] - s[0] for s in frame.sight)
    least = max(p["door.sight_least"], base + p["pull.field_room"])
    if sight < least:
        d.find(
            "drawer.sight",
            Severity.STOP,
            f"{g}/face",
            f"the panel would show {sight:.1f} mm",
            value=sight,
            limit=least,
            source="common practice: room for the pull's base in the panel",
            remedy="a higher drawer, narrower stiles and rails, or a slab front",
        )
        return None
    names = (f"{g}.front.member", f"{g}.front.sight", f"{g}.front.member")
    length = d.led[f"{g}.front.length"]
    d.let(names[1], length - 2 * member, f"{g}.front.length", names[0], rule="between the stiles")
    d.chain(f"{g}.chain.members", "x", f"{g}.front.length", names, f"{g}.front.length", 50.0, 5e3)
    tenon = d.let(
        f"{g}.front.tenon",
        depth - p["door.tenon_play"],
        f"{g}.front.groove",
        rule="groove less a little, so that the shoulders close",
        role=Role.INSERT,
    )
    d.let(f"{g}.rail.length", d.led[names[1]] + 2 * tenon, names[1], f"{g}.front.tenon", rule="two tenons over")
    d.fit(f"{g}.fit.tenon", f"{g}.front.groove", f"{g}.front.tenon", 0.0, 2.5, source="common practice")
    return frame


def _groove(member: Placed, frame: _Frame, opens: Vec) -> Groove:
    blank = member.part.blank
    v0 = (blank.thickness - frame.groove) / 2
    face = member.face_towards(opens)
    return Groove(face=face, u0=0.0, u1=blank.length, v0=v0, v1=v0 + frame.groove, depth=frame.depth)


def _stile(d: Draft, kit: Kit, spec: DrawerSpec, frame: _Frame, g: str, sign: int) -> Placed:
    x = frame.place.x
    own = (x[0], x[0] + frame.member) if sign < 0 else (x[1] - frame.member, x[1])
    stile = d.box_part(
        f"{g}/face/stile.{hand_of(sign)}",
        f"drawer front stile, {hand_of(sign)}",
        kit.material("door_frame", spec.finish),
        own,
        frame.place.y,
        frame.place.z,
        grain="z",
        thick="y",
        shows="front",
        coated="back left right up down",
        sizes=(f"{g}.front.width", f"{g}.front.member", f"{g}.front.thickness"),
        kind=PartKind.FRONT_MEMBER,
    )
    d.cut(stile, _groove(stile, frame, (-float(sign), 0.0, 0.0)))
    return stile


def _rail(
    d: Draft, kit: Kit, spec: DrawerSpec, frame: _Frame, g: str, name: str, z: Span, stiles: list[Placed]
) -> Placed:
    middle = (frame.place.x[0] + frame.place.x[1]) / 2
    rail = d.box_part(
        f"{g}/face/rail.{name}",
        f"drawer front rail, {name}",
        kit.material("door_frame", spec.finish),
        centred(d.led[f"{g}.rail.length"], middle),
        frame.place.y,
        z,
        grain="x",
        thick="y",
        shows="front",
        coated="back up down",
        sizes=(f"{g}.rail.length", f"{g}.front.member", f"{g}.front.thickness"),
        kind=PartKind.FRONT_MEMBER,
    )
    d.cut(rail, _groove(rail, frame, DIRECTIONS["up" if name == "bottom" else "down"]))
    blank, v0 = rail.part.blank, (rail.part.blank.thickness - frame.groove) / 2
    for stile, (sign, hand) in zip(stiles, HANDS, strict=True):
        tongue = Tenon(
            face=rail.face_towards((float(sign), 0.0, 0.0)),
            u0=0.0,
            u1=blank.width,
            v0=v0,
            v1=v0 + frame.groove,
            length=d.led[f"{g}.front.tenon"],
        )
        x = frame.sight[0][0 if sign < 0 else 1]
        d.joint(
            f"{g}/face/rail.{name}~stile.{hand}",
            JointKind.STUB_TENON,
            rail,
            stile,
            (x, frame.middle, (z[0] + z[1]) / 2),
            Cuts(cuts=((rail.path, tongue),)),
            glued=True,
        )
    return rail


def _panel(d: Draft, kit: Kit, spec: DrawerSpec, frame: _Frame, g: str, members: tuple[Placed, ...]) -> Placed:
    spans = []
    for name, because, sight in (
        ("length", f"{g}.front.length", frame.sight[0]),
        ("width", f"{g}.front.width", frame.sight[1]),
    ):
        seat = d.let(
            f"{g}.panel.seat_{name}",
            sight[1] - sight[0] + 2 * frame.depth,
            because,
            f"{g}.front.groove",
            rule="between groove floors",
            role=Role.HOUSING,
        )
        cut = d.let(
            f"{g}.panel.{name}",
            seat - d.practice["door.panel_play_sheet"],
            f"{g}.panel.seat_{name}",
            rule="a sheet panel needs little play",
            role=Role.INSERT,
        )
        d.fit(f"{g}.fit.panel_{name}", f"{g}.panel.seat_{name}", f"{g}.panel.{name}", 0.5, 4.0)
        spans.append(centred(cut, (sight[0] + sight[1]) / 2))
    panel = d.box_part(
        f"{g}/face/panel",
        "drawer front panel",
        kit.material("door_panel", spec.finish),
        spans[0],
        centred(frame.groove, frame.middle),
        spans[1],
        grain="x",
        thick="y",
        shows="front",
        coated="back",
        sizes=(f"{g}.panel.length", f"{g}.panel.width", f"{g}.panel.thickness"),
        kind=PartKind.FRONT_PANEL,
    )
    for member in members:
        name = member.path.rpartition("/")[2]
        why = "a sheet panel may be glued"
        d.joint(f"{g}/face/panel~{name}", JointKind.GROOVE, member, panel, member.frame.origin, glued=True, why=why)
    return panel


def _block(d: Draft, kit: Kit, frame: _Frame, g: str, panel: Placed) -> Placed:
    """A block between panel and box, as thick as the room there, under the pull or pulls."""
    back = frame.middle + frame.groove / 2
    thick = d.let(
        f"{g}.front.block",
        frame.place.y[1] - back,
        f"{g}.front.thickness",
        f"{g}.panel.thickness",
        rule="from the panel to the box",
    )
    (x0, x1), (z0, z1) = frame.sight
    play = d.practice["door.panel_play_sheet"]
    block = d.box_part(
        f"{g}/face/block",
        "block behind the panel",
        kit.blocking(thick),
        (x0 + play, x1 - play),
        (back, back + thick),
        centred(min(d.practice["front.block"], z1 - z0 - 2 * play), (z0 + z1) / 2),
        grain="x",
        thick="y",
        sizes=("", "", f"{g}.front.block"),
        kind=PartKind.FRONT_BLOCK,
    )
    d.joint(
        f"{g}/face/block~panel",
        JointKind.GLUE,
        block,
        panel,
        ((x0 + x1) / 2, back, (z0 + z1) / 2),
        glued=True,
        why="it fills the room behind the panel, so that the pull's bolts do not bend it",
    )
    return block
