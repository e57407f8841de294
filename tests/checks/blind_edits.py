"""Small edits that the blind faults of `blind_faults_one.py` are made with, as they were written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tests.checks.fault_edits import piece

from casewright.design.assembly import PieceDesign
from casewright.design.blanks import Face
from casewright.design.features.cuts import Groove
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Channel, Slot
from casewright.design.frames import Vec
from casewright.design.outlines import obround
from casewright.design.parts import Part, Placed

KNOB = "door[c1,r2]/pull"
KNOB_JOINT = "door[c1,r2]/pull~stile"
BOLT_JOINT = "drawer[c1,r2]/face/pull~front[1]"


def holes_of(joint_end: str, change: Callable[[Hole], Hole | None]) -> Callable[[Part], Part]:
    """Change (or drop) the straight holes that a joint bored into a part."""

    def edit(p: Part) -> Part:
        hit = 0
        kept = []
        for f in p.features:
            if isinstance(f, Hole) and f.joint.split("/", 1)[-1] == joint_end:
                hit += 1
                new = change(f)
                if new is not None:
                    kept.append(new)
            else:
                kept.append(f)
        assert hit, joint_end
        return replace(p, features=tuple(kept))

    return edit


def fasteners_of(joint_end: str, **given: object):
    """Set fields of all fasteners of a joint."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{joint_end}"
        assert any(f.joint == name for f in design.fasteners), name
        return replace(design, fasteners=tuple(replace(f, **given) if f.joint == name else f for f in design.fasteners))

    return piece(run)


def fasteners_moved(joint_end: str, by: Vec):
    """Drive all fasteners of a joint elsewhere."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{joint_end}"
        assert any(f.joint == name for f in design.fasteners), name
        return replace(
            design,
            fasteners=tuple(replace(f, frame=f.frame.moved(by)) if f.joint == name else f for f in design.fasteners),
        )

    return piece(run)


def fasteners_into(joint_end: str, old: str, new: str):
    """Let the fasteners of a joint go into another part."""

    def run(design: PieceDesign) -> PieceDesign:
        name, was, now = (f"{design.path}/{e}" for e in (joint_end, old, new))
        assert any(f.joint == name and was in f.parts for f in design.fasteners), name
        return replace(
            design,
            fasteners=tuple(
                replace(f, parts=tuple(now if p == was else p for p in f.parts)) if f.joint == name else f
                for f in design.fasteners
            ),
        )

    return piece(run)


def deeper_groove(depth: float) -> Callable[[Part], Part]:
    """Plough the groove to another depth."""

    def edit(p: Part) -> Part:
        assert any(isinstance(f, Groove) for f in p.features)
        return replace(p, features=tuple(replace(f, depth=depth) if isinstance(f, Groove) else f for f in p.features))

    return edit


def short_slots(straight: float) -> Callable[[Part], Part]:
    """Make every slot shorter about its middle: `straight` mm between the centres of its round ends."""

    def edit(p: Part) -> Part:
        hit = 0
        out = []
        for f in p.features:
            if isinstance(f, Slot):
                hit += 1
                us = [v[0] for v in f.outline.vertices]
                vs = [v[1] for v in f.outline.vertices]
                u, v, wide = (min(us) + max(us)) / 2, (min(vs) + max(vs)) / 2, max(us) - min(us)
                out.append(replace(f, outline=obround((u, v - straight / 2), (u, v + straight / 2), wide)))
            else:
                out.append(f)
        assert hit
        return replace(p, features=tuple(out))

    return edit


def no_channel(p: Part) -> Part:
    """Forget the cable's channel."""
    kept = tuple(f for f in p.features if not isinstance(f, Channel))
    assert len(kept) == len(p.features) - 1
    return replace(p, features=kept)


def no_keepout(end: str):
    """Forget a keepout."""

    def run(design: PieceDesign) -> PieceDesign:
        kept = tuple(k for k in design.keepouts if k.id != f"{design.path}/{end}")
        assert len(kept) == len(design.keepouts) - 1, end
        return replace(design, keepouts=kept)

    return piece(run)


def unbored(*heights: float) -> Callable[[Placed], Placed]:
    """Leave out the holes that lie within 40 mm of some heights (of the piece): those of a hinge."""

    def edit(p: Placed) -> Placed:
        def height(f: Hole) -> float:
            return p.frame.point(p.part.blank.point(f.face, (f.u, f.v)))[2]

        kept = tuple(
            f for f in p.part.features if not (isinstance(f, Hole) and any(abs(height(f) - z) < 40.0 for z in heights))
        )
        assert len(kept) < len(p.part.features)
        return replace(p, thing=replace(p.part, features=kept))

    return edit


def thicker(by: float) -> Callable[[Part], Part]:
    """Plane a part thicker (on its face1)."""
    return lambda p: replace(p, blank=replace(p.blank, thickness=p.blank.thickness + by))


def knob_hole(p: Part) -> Part:
    """Bore the knob's hole into the middle of the hinge stile, as high as it was in the other one."""
    hole = Hole(face=Face.FACE1, u=198.55299609375, v=25.4, diameter=4.7625, joint="@/" + KNOB_JOINT)
    return replace(p, features=(*p.features, hole))
