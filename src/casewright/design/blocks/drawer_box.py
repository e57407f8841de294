"""A drawer box: glued rabbets at the corners, sheet bottom in grooves on four sides.

Common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, hand_of
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, Rabbet
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import PinLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, between, centred, sink, span
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """Where the drawer box stands: spans of the whole box."""

    name: str
    x: Span
    y: Span
    z: Span
    wood: float
    bottom: float

    @property
    def middle(self) -> float:
        """Where its middle lies across, mm."""
        return (self.x[0] + self.x[1]) / 2

    def outer(self, sign: int, inset: float = 0.0) -> float:
        """Return the x of its left (−1) or right (1) outer face, or a plane `inset` mm inside it."""
        return self.x[0] + inset if sign < 0 else self.x[1] - inset


def drawer_box(d: Draft, kit: Kit, box: Box, opening: Opening) -> None:
    """Place the four walls and the bottom."""
    g, t, p = box.name, box.wood, d.practice
    material = kit.material("drawer_side", "clear")
    for sign, hand in HANDS:
        d.box_part(
            f"{g}/side.{hand}",
            f"drawer side, {hand}",
            material,
            between(box.outer(sign), box.outer(sign, t)),
            box.y,
            box.z,
            grain="y",
            thick="x",
            sizes=(f"{g}.box.depth", f"{g}.box.height", f"{g}.box.thickness"),
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
            f"{g}/box_{name}",
            f"drawer box {name}",
            material,
            centred(across, box.middle),
            y,
            box.z,
            grain="x",
            thick="y",
            sizes=(f"{g}.box.front_length", f"{g}.box.height", f"{g}.box.thickness"),
        )
        for sign, hand in HANDS:
            _box_corner(d, kit, box, part, d.at(f"{g}/side.{hand}"), sign, name == "front", tongue)
    inside = d.let(
        f"{g}.box.inside", box.x[1] - box.x[0] - 2 * t, f"{g}.box.width", f"{g}.box.thickness", rule="between the sides"
    )
    _box_bottom(d, kit, box, inside, min(t * p["drawer.groove_share"], p["drawer.groove_most"]))


def _box_corner(
    d: Draft, kit: Kit, box: Box, part: Placed, side: Placed, sign: int, front: bool, tongue: float
) -> None:
    """A glued rabbet, nailed from the box's outer face, which the false front or the case hides.

    Box stock is too thin to hold the heads of pocket screws below its face.
    """
    t = box.wood
    y = (box.y[0], box.y[0] + t) if front else (box.y[1] - t, box.y[1])
    inner, wall = box.outer(sign, t), box.outer(sign, tongue)
    cut = sink(
        Rabbet, side, (-float(sign), 0.0, 0.0), (min(inner, wall), y[0], box.z[0]), (max(inner, wall), y[1], box.z[1])
    )
    name = part.path.removeprefix(d.path + "/")
    hand = hand_of(sign)
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


def nail_box(d: Draft, kit: Kit, box: Box) -> None:
    """Brads through the outer faces of box front and back into the sides, around the slides' screws."""
    t, g = box.wood, box.name
    # Thin pins, above the groove: a brad would split the edge of thin box stock.
    pin = kit.pin("pin", t, box.y[1] - box.y[0])
    low = box.z[0] + d.practice["drawer.groove_up"] + box.bottom
    for part_name, face, drive in (("front", box.y[0], 1.0), ("back", box.y[1], -1.0)):
        part = d.at(f"{g}/box_{part_name}")
        for sign, hand in HANDS:
            side = d.at(f"{g}/side.{hand}")
            x = box.outer(sign, (t + d.led[f"{g}.box.tongue"]) / 2)
            line = PinLine(
                pin=pin,
                start=(x, face, low),
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


def _box_bottom(d: Draft, kit: Kit, box: Box, inside: float, groove: float) -> None:
    g, t, p = box.name, box.wood, d.practice
    groove = d.let(
        f"{g}.groove.depth", groove, f"{g}.box.thickness", rule="half the side, 6 mm at most", role=Role.HOUSING
    )
    d.let(f"{g}.groove.width", box.bottom, f"{g}.bottom.thickness", rule="bottom as measured", role=Role.HOUSING)
    deep = box.y[1] - box.y[0] - 2 * t
    z = span(box.z[0] + p["drawer.groove_up"], box.bottom)
    spans: dict[str, Span] = {}
    for axis, size, base, because in (
        ("length", inside, box.middle, f"{g}.box.inside"),
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
        sizes=(f"{g}.bottom.length", f"{g}.bottom.width", f"{g}.bottom.thickness"),
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
