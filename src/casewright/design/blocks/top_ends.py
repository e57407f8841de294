"""Breadboard ends: across the ends of a solid top, on its tongue, pegged so that the top can move in them.

Common practice: the tongue is a third of the thickness; the middle peg is tight (and glued around), the others stand
in slots of the tongue as long as half the top moves; the groove is stopped and longer than the tongue is wide.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import Joint, JointKind
from casewright.design.blocks.body import hand_of, side_x
from casewright.design.draft import Draft
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.features.hole_rows import spread
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Slot
from casewright.design.frames import Vec
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import driven_frame
from casewright.design.joints.tenons import tenon_thickness
from casewright.design.kit import Kit, KitError
from casewright.design.outlines import obround
from casewright.design.parts import Allowance, Fastener, PartKind, Placed
from casewright.design.sites import Span, entry, sink, world_box
from casewright.stock.model import Dowel

UP: Vec = (0.0, 0.0, 1.0)
STOP = 20.0  # mm: the tongue ends this far inside the edges of the top, so that it does not show
ROOM = 1.0  # mm: what groove and slots are longer than the movement asks for, either way


@dataclass(frozen=True, slots=True, kw_only=True)
class Pegs:
    """Pegs from below through end a and the tongue of b, blind: tight in the middle, in slots elsewhere.

    `at` are their places (y), the middle one tight; `x` where they stand; `slot` the length of the slots.
    """

    dowel: Dowel
    x: float
    at: tuple[float, ...]
    middle: float
    slot: float
    height: float  # of the pegs: up to the cover under the upper face

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Bore the end, bore or slot the tongue, place the pegs."""
        a, b = site.placed[joint.a], site.placed[joint.b]
        low = world_box(a)[0][2]
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        for i, y in enumerate(self.at):
            point: Vec = (self.x, y, low)
            face, at, _ = entry(a, point, UP)
            bore = Hole(face=face, u=at[0], v=at[1], diameter=self.dowel.diameter, depth=self.height, joint=joint.id)
            features.append((a.path, bore))
            features.append((b.path, self._in_tongue(b, point, joint)))
            fasteners.append(
                Fastener(
                    path=f"{joint.id}.peg[{i + 1}]",
                    item=self.dowel.id,
                    joint=joint.id,
                    parts=(joint.a, joint.b),
                    frame=driven_frame(point, UP),
                    length=self.height,
                    shank_radius=self.dowel.diameter / 2,
                    thread_length=0.0,
                )
            )
        return Resolution(features=tuple(features), fasteners=tuple(fasteners))

    def _in_tongue(self, b: Placed, point: Vec, joint: Joint) -> Feature:
        face, (u, v), _ = entry(b, point, UP)
        through = b.part.blank.thickness
        if abs(point[1] - self.middle) < 1e-6:
            return Hole(face=face, u=u, v=v, diameter=self.dowel.diameter, joint=joint.id)
        half = (self.slot - self.dowel.diameter) / 2
        outline = obround((u, v - half), (u, v + half), self.dowel.diameter).canonical_start()
        return Slot(face=face, outline=outline, depth=through, joint=joint.id)


def breadboard_end(d: Draft, kit: Kit, panel: Placed, sign: int, wide: float, tongue: float, move: float) -> Placed:
    """Place the end on one side of a panel whose tongues lie inside its blank; `move` is either way from the middle."""
    hand = hand_of(sign)
    lo, hi = world_box(panel)
    shoulder = hi[0] - tongue
    end = d.box_part(
        f"top_end.{hand}",
        f"{hand} breadboard end",
        kit.material("breadboard", kit.top_finish),
        side_x(sign, shoulder + wide, wide),
        (lo[1], hi[1]),
        (lo[2], hi[2]),
        grain="y",
        thick="z",
        shows=f"up {hand} front",
        coated="down back",
        rough=Allowance(length=d.practice["rough.length"], width=d.practice["rough.width"]),
        sizes=("top.width", "top.end_width", "top.thickness"),
        kind=PartKind.TOP_END,
    )
    t = tenon_thickness(hi[2] - lo[2], d.practice)
    z = ((lo[2] + hi[2] - t) / 2, (lo[2] + hi[2] + t) / 2)
    y = (lo[1] + STOP + move, hi[1] - STOP - move)
    d.cut(panel, _tongue(panel, sign, y, z, tongue))
    room = move + ROOM
    x = _mirrored((shoulder, shoulder + tongue + d.practice["tenon.spare"]), sign)
    groove = sink(
        Groove,
        end,
        (-float(sign), 0.0, 0.0),
        (x[0], y[0] - room, z[0]),
        (x[1], y[1] + room, z[1] + d.practice["fit.slip"]),
    )
    d.cut(end, groove)
    middle = (lo[1] + hi[1]) / 2
    d.joint(
        f"top_end.{hand}~top",
        JointKind.TONGUE,
        end,
        panel,
        (sign * shoulder, middle, z[0]),
        _pegs(d, kit, sign * (shoulder + tongue / 2), y, middle, move, hi[2] - lo[2]),
        why="tight and glued in the middle only; the other pegs stand in slots: the top moves across the end's grain",
    )
    return end


def _tongue(panel: Placed, sign: int, y: Span, z: Span, length: float) -> Tenon:
    face = panel.face_towards((float(sign), 0.0, 0.0))
    p, q = panel.frame.local_point((0.0, y[0], z[0])), panel.frame.local_point((0.0, y[1], z[1]))
    u, v = face.uv_axes
    return Tenon(
        face=face,
        u0=min(p[u], q[u]),
        u1=max(p[u], q[u]),
        v0=min(p[v], q[v]),
        v1=max(p[v], q[v]),
        length=length,
    )


def _pegs(d: Draft, kit: Kit, x: float, y: Span, middle: float, move: float, thickness: float) -> Pegs:
    height = thickness - d.practice["fastener.point_cover"]
    fits = [p for p in kit.all("frame_dowel", Dowel) if p.diameter <= 8.0 and p.length >= height]
    if not fits:
        raise KitError("pegs of a breadboard end", f"a dowel of 8 mm or less, {height:.1f} mm long", "none")
    dowel = min(fits, key=lambda p: (p.diameter, p.length, p.id))
    half = (y[1] - y[0]) / 2 - 2 * dowel.diameter - move
    steps = spread(2 * half, 0.0, d.practice["breadboard.pin_apart"])
    places = [middle - half + s for s in steps]
    if len(places) % 2 == 0:
        places = [middle - half, middle, middle + half] if len(places) == 2 else _odd(places, middle)
    return Pegs(
        dowel=dowel,
        x=x,
        at=tuple(sorted(places)),
        middle=middle,
        slot=2 * (move + ROOM) + dowel.diameter,
        height=height,
    )


def _odd(places: list[float], middle: float) -> list[float]:
    """Return evenly spread places with one in the middle."""
    low, high, count = places[0], places[-1], len(places)
    return [low + (high - low) * i / count for i in range(count + 1)] if count % 2 == 0 else [*places, middle]


def _mirrored(x: Span, sign: int) -> Span:
    return x if sign > 0 else (-x[1], -x[0])
