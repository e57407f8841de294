"""Buttons under a top: their tongues go in and out of a groove as the top moves across."""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.hardware import block
from casewright.design.blocks.joining import one_screw
from casewright.design.blocks.top import ScrewFixing
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.blocks.top_support import Support, free_places, inner_face, over
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import Groove
from casewright.design.frames import Frame, Vec, Z, add, cross, dot, scale
from casewright.design.joints.base import Cuts, Detail, Nothing
from casewright.design.parts import Hardware
from casewright.design.sites import depth_along, sink, world_box
from casewright.findings import Severity
from casewright.stock.fittings import Button

TONGUE_LEAST = 3.0  # mm of a button's tongue that stay in the groove at the dry end


def button_hardware(button: Button) -> Hardware:
    """Return a button: x across its width, y from its shoulder along the tongue, z up; its upper face is z = 0."""
    half, body = button.width / 2, button.length - button.tongue_length
    low = -button.tongue_drop - button.tongue_thickness
    return Hardware(
        item=button.id,
        bodies=(
            block((-half, half), (-body, 0.0), (-button.thickness, 0.0)),
            block((-half, half), (0.0, button.tongue_length), (max(low, -button.thickness), -button.tongue_drop)),
        ),
        mass=button.mass,
    )


def fix_buttons(f: ScrewFixing, made: MadeTop, s: Support) -> list[str]:
    """Place buttons along an upright part, with the groove or the slots for their tongues; return their names."""
    d, button = f.d, f.kit.role("button", Button)
    lo, hi = world_box(s.placed)
    face = inner_face(s)
    across = dot(s.inward, (0.0, 1.0, 0.0)) != 0.0
    gap = _button_gap(f, made, s, button, face) if across else 1.0
    # A thin side takes less of the tongue: the shoulder then stands further off.
    gap = max(gap, button.tongue_length + 1.0 - _groove_depth(s, button))
    names: list[str] = []
    half = button.width / 2
    room = (button.length - button.tongue_length + gap, half, button.thickness)
    for i, at in enumerate(free_places(f, made, s, face, room)):
        point = add(at, scale(s.inward, face + gap - dot(at, s.inward)))
        top = over(made, point[1])
        frame = Frame(origin=(point[0], point[1], hi[2]), x=cross(scale(s.inward, -1.0), Z), y=scale(s.inward, -1.0))
        name = f"button.{s.name}[{i + 1}]"
        placed = d.place_hardware(name, "button", button_hardware(button), frame)
        cuts: Detail = Nothing()
        if s.span is not None:
            cuts = Cuts(cuts=((s.placed.path, _groove(d, s, button, *_slot(f, made, s, button, point))),))
        elif i == 0:
            cuts = Cuts(cuts=((s.placed.path, _groove(d, s, button, lo, hi)),))
        d.joint(f"{name}~{s.name}", JointKind.BUTTONS, s.placed, placed, point, cuts, why=_button_why(across))
        screw = f.kit.named_screw(button.screw)
        body = button.length - button.tongue_length
        start = add((point[0], point[1], hi[2] - button.thickness), scale(s.inward, body / 2))
        d.joint(
            f"{name}~top",
            JointKind.SCREWS,
            placed,
            top,
            start,
            one_screw(f.kit, screw, start, Z, button.thickness, top, MadeAt.ASSEMBLY),
        )
        names.append(name)
    return names


def _slot(f: ScrewFixing, made: MadeTop, s: Support, button: Button, at: Vec) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) of a side in which one button's slot lies: it slides along that as the top moves."""
    lo, hi = world_box(s.placed)
    move = f.coefficient * (f.wet.damp - f.wet.dry) * made.moves(f.fixed, at[1])
    half = button.width / 2 + move + f.d.practice["button.play"]
    return (lo[0], at[1] - half, lo[2]), (hi[0], at[1] + half, hi[2])


def _button_why(across: bool) -> str:
    return "the top moves across: the tongue goes in and out" if across else "the top moves along the groove"


def _button_gap(f: ScrewFixing, made: MadeTop, s: Support, button: Button, face: float) -> float:
    """Return how far the shoulder stands off the part: what the top can still grow towards it, and 1 mm."""
    y = abs(face)
    distance = made.moves(f.fixed, y)
    grow = f.coefficient * (f.wet.damp - f.wet.fitted) * distance
    shrink = f.coefficient * (f.wet.fitted - f.wet.dry) * distance
    gap = max(0.0, grow) + 1.0
    left = button.tongue_length - gap - max(0.0, shrink)
    if left < TONGUE_LEAST:
        f.d.find(
            "button.short",
            Severity.WARN,
            s.name,
            f"{left:.1f} mm of the buttons' tongues stay in the groove at the dry end",
            value=left,
            limit=TONGUE_LEAST,
            source="common practice: movement of the top between its fixed line and the groove",
            remedy="buttons with a longer tongue, or a fixed line in the middle of the top",
        )
    return gap


def _groove(d: Draft, s: Support, button: Button, lo: Vec, hi: Vec) -> Groove:
    """A groove along the inner face; the tongue bears on its upper wall, the play lies below."""
    high = hi[2] - button.tongue_drop
    low = high - button.tongue_thickness - d.practice["button.play"]
    deep = _groove_depth(s, button)
    face = inner_face(s)
    a, b = list(lo), list(hi)
    axis = 1 if s.along_x else 0
    way = s.inward[axis]
    a[axis], b[axis] = sorted((face * way, (face - deep) * way))
    if s.span is not None:
        d.keep_out(f"{s.name}.slot[{lo[1]:.0f}]", (a[0], a[1], low), (b[0], b[1], high), of=(s.placed,))
    return sink(Groove, s.placed, s.inward, (a[0], a[1], low), (b[0], b[1], high))


def _groove_depth(s: Support, button: Button) -> float:
    """Return how deep a tongue's groove is, mm: the tongue and a little, in a side at most half its thickness."""
    deep = button.tongue_length + 1.0
    return deep if s.span is None else min(deep, depth_along(s.placed, s.inward) / 2)
