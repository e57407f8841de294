"""What fills a door's frame: a glued sheet, a solid panel that may move, or glass behind beads.

Common practice. A solid panel is free on each side by half of its growth to the damp end and a little more, and is
held in its middle alone, so that it moves both ways alike.
"""

from __future__ import annotations

from typing import TypeAlias

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.drawer_stock import glue_up, over_size, wood_of
from casewright.design.blocks.hardware import block
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.features.cuts import Rabbet
from casewright.design.features.shaping import end_cut_from_normal
from casewright.design.frames import Frame, Vec
from casewright.design.joints.others import PinLine
from casewright.design.kit import Kit
from casewright.design.parts import Form, Hardware, Part, PartKind, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, centred, sink
from casewright.findings import Severity
from casewright.stock.model import Sheet
from casewright.units.printed import Role

LABEL = "door panel"
Hosts: TypeAlias = tuple[str, str, str, str]  # names of the members around a panel: left, right, above, below


def _hosts(leaf: Leaf, given: Hosts | None) -> Hosts:
    g = leaf.g
    return given or (f"{g}/stile.left", f"{g}/stile.right", f"{g}/rail.top", f"{g}/rail.bottom")


def _last(name: str) -> str:
    return name.rpartition("/")[2]


def _let_seat(d: Draft, leaf: Leaf, spec: DoorSpec, axis: str) -> float:
    """Let the room between the groove floors, across or up, mm."""
    g = leaf.g
    across = axis == "width"
    size = leaf.x[1] - leaf.x[0] - 2 * spec.stile if across else leaf.z[1] - leaf.z[0] - 2 * spec.rail
    return d.let(
        f"{g}.panel.seat_{axis}",
        size + 2 * leaf.depth,
        f"{g}.{axis}",
        f"{g}.groove.depth",
        rule="between groove floors",
        role=Role.HOUSING,
    )


def _let_cut(d: Draft, leaf: Leaf, axis: str, seat: float, play: float, fit: Span, rule: str, *why: str) -> Span:
    """Let a panel's size, `play` mm less than its seat; `fit` is the least and most play. Returns where it lies."""
    g = leaf.g
    cut = d.let(f"{g}.panel.{axis}", seat - play, f"{g}.panel.seat_{axis}", *why, rule=rule, role=Role.INSERT)
    d.fit(f"{g}.fit.panel_{axis}", f"{g}.panel.seat_{axis}", f"{g}.panel.{axis}", *fit, source="common practice")
    return centred(cut, leaf.middle if axis == "width" else (leaf.z[0] + leaf.z[1]) / 2)


def sheet_panel(
    d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, wet: Moisture, *, hosts: Hosts | None = None, label: str = LABEL,
    fitted: PartKind = PartKind.DOOR_PANEL,
) -> None:  # fmt: skip
    """Place a panel of sheet, glued in its grooves: `wet` does not move it.

    `hosts` are the members around it, those of the leaf where they are not given; `fitted` is what it is where parts
    are cut to fit.
    """
    g, play = leaf.g, d.practice["door.panel_play_sheet"]
    x, z = (
        _let_cut(d, leaf, axis, _let_seat(d, leaf, spec, axis), play, (0.5, 4.0), "a sheet panel needs little play")
        for axis in ("width", "height")
    )
    panel = d.box_part(
        f"{g}/panel",
        label,
        kit.material("door_panel", spec.finish),
        x,
        centred(leaf.groove, leaf.middle_y),
        z,
        grain="z",
        thick="y",
        shows="front",
        coated="back",
        sizes=(f"{g}.panel.height", f"{g}.panel.width", f"{g}.panel.thickness"),
        kind=fitted,
    )
    for member in _hosts(leaf, hosts):
        frame = d.at(member)
        d.joint(
            f"{g}/panel~{_last(member)}",
            JointKind.GROOVE,
            frame,
            panel,
            frame.frame.origin,
            glued=True,
            why="a sheet panel may be glued",
        )


def solid_panel(
    d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, wet: Moisture, *, hosts: Hosts | None = None, label: str = LABEL,
    fitted: PartKind = PartKind.DOOR_PANEL,
) -> None:  # fmt: skip
    """Place a solid panel, rabbeted at the back to a tongue for the groove, pinned in the middle of both rails.

    `hosts` are the members around it, those of the leaf where they are not given; `fitted` is what it is where parts
    are cut to fit.
    """
    g, p = leaf.g, d.practice
    most = leaf.t - leaf.cheek
    wood = wood_of(kit, "door_panel_solid", spec.finish, planed=min(2 * leaf.groove, most))
    seat = _let_seat(d, leaf, spec, "width")
    grows = d.let(f"{g}.panel.swelling", wood.swells(wet, seat), f"{g}.panel.seat_width", rule=_why(wood.moves, wet))
    free = d.let(
        f"{g}.panel.free",
        grows / 2 + p["door.panel_free"],
        f"{g}.panel.swelling",
        rule="half of what it grows to the damp end, and a little: on each side",
    )
    held = 2 * (leaf.depth - p["door.panel_in_groove"] - wood.shrinks(wet, seat) / 2)
    x = _let_cut(d, leaf, "width", seat, 2 * free, (2 * free - 0.01, held), "free to move", f"{g}.panel.free")
    play = p["door.panel_play_sheet"]
    z = _let_cut(
        d, leaf, "height", _let_seat(d, leaf, spec, "height"), play, (0.5, 4.0), "hardly moves along the grain"
    )
    t = d.let(f"{g}.panel.thickness", wood.thickness, rule="planed")
    tongue = min(
        d.let(f"{g}.panel.tongue", leaf.groove - p["fit.slip"], f"{g}.groove.width", rule="slips in", role=Role.INSERT),
        t,
    )
    front = leaf.y[0] + leaf.cheek
    strips = glue_up(wood, x[1] - x[0], p)
    panel = d.box_part(
        f"{g}/panel",
        label,
        wood.material,
        x,
        (front, front + t),
        z,
        grain="z",
        thick="y",
        shows="front",
        coated="back",
        rough=over_size(strips, p),
        made_of=strips,
        sizes=(f"{g}.panel.height", f"{g}.panel.width", f"{g}.panel.thickness"),
        kind=fitted,
    )
    if t > tongue:
        d.cut(panel, *_back_steps(panel, leaf, x, z, (front + tongue, front + t), spec, free))
    left, right, top, low = _hosts(leaf, hosts)
    for member in (left, right):
        frame = d.at(member)
        d.joint(f"{g}/panel~{_last(member)}", JointKind.TONGUE, frame, panel, frame.frame.origin, why=_FREE)
    for member in (top, low):
        _pin_middle(d, kit, leaf, spec, panel, d.at(member), _last(member), tongue)


_FREE = "solid wood is never held across its grain"


def _why(coefficient: float, wet: Moisture) -> str:
    return f"C {coefficient:.5f} × ({wet.damp:.1f} − {wet.fitted:.1f}) % × width; across the grain"


def _back_steps(
    panel: Placed, leaf: Leaf, x: Span, z: Span, y: Span, spec: DoorSpec, free: float
) -> tuple[Rabbet, ...]:
    """Return the rabbets that leave the tongue: the field between them clears the frame when the panel has grown."""
    sight_x = (leaf.x[0] + spec.stile + free, leaf.x[1] - spec.stile - free)
    sight_z = (leaf.z[0] + spec.rail + 1.0, leaf.z[1] - spec.rail - 1.0)
    boxes = (
        ((x[0], z[0]), (sight_x[0], z[1])),
        ((sight_x[1], z[0]), (x[1], z[1])),
        ((x[0], z[0]), (x[1], sight_z[0])),
        ((x[0], sight_z[1]), (x[1], z[1])),
    )
    back = (0.0, 1.0, 0.0)
    return tuple(sink(Rabbet, panel, back, (a[0], y[0], a[1]), (b[0], y[1], b[1])) for a, b in boxes)


def _pin_middle(
    d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, panel: Placed, rail: Placed, member: str, tongue: float
) -> None:
    """One pin from the back through the rail into the middle of the panel's end."""
    top = member == "rail.top"
    z = (leaf.z[1] - spec.rail + leaf.depth / 2) if top else (leaf.z[0] + spec.rail - leaf.depth / 2)
    behind = leaf.t - leaf.cheek - leaf.groove
    pin = kit.pin("pin", behind + leaf.groove - tongue, tongue + leaf.cheek)
    line = PinLine(
        pin=pin,
        start=(leaf.middle - 20.0, leaf.y[1], z),
        end=(leaf.middle + 20.0, leaf.y[1], z),
        drive=(0.0, -1.0, 0.0),
        count=1,
        ends=15.0,
        apart=0.0,
    )
    d.joint(
        f"{leaf.g}/panel~{member}",
        JointKind.PINS,
        rail,
        panel,
        (leaf.middle, leaf.y[1], z),
        line,
        why="pinned in the middle alone, so that it moves both ways alike",
    )


def glass_pane(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, wet: Moisture) -> None:
    """Place a pane in the frame's rabbet, held by mitred beads that are pinned, not glued; `wet` does not move it."""
    g, play = leaf.g, d.practice["door.glass_play"]
    glass = kit.role("glass", Sheet)
    _, width, thick = blank_section(kit.stick("glass_bead"))
    front = leaf.y[0] + leaf.cheek
    room = leaf.y[1] - front
    if glass.thickness + thick > room + 1e-6 or width > leaf.depth:
        d.find(
            "door.glass_deep",
            Severity.STOP,
            g,
            f"glass and bead are {glass.thickness + thick:.1f} mm deep, the rabbet {room:.1f} mm",
            value=glass.thickness + thick,
            limit=room,
            source=glass.source,
            remedy="a smaller bead, thinner glass, or thicker members",
        )
        return
    fit, rule = (0.6 * play, play + 2.5), "never pinched"
    seats = [_let_seat(d, leaf, spec, axis) for axis in ("width", "height")]
    x, z = (
        _let_cut(d, leaf, axis, seat, play, fit, rule) for axis, seat in zip(("width", "height"), seats, strict=True)
    )
    half = ((x[1] - x[0]) / 2, (z[1] - z[0]) / 2)
    body = block((-half[0], half[0]), (0.0, glass.thickness), (-half[1], half[1]))
    mass = 4 * half[0] * half[1] * glass.thickness * glass.density * 1e-9
    middle = (leaf.middle, front, (leaf.z[0] + leaf.z[1]) / 2)
    pane = d.place_hardware(
        f"{g}/glass",
        "glass",
        Hardware(item=glass.id, bodies=(body,), mass=mass, ordered=(2 * half[0], 2 * half[1])),
        Frame(origin=middle),
    )
    beads = _beads(d, kit, leaf, spec, pane, front + glass.thickness, (seats[0], seats[1]))
    d.keep_out(f"{g}/glass", (x[0], front, z[0]), (x[1], front + glass.thickness, z[1]), pane, *beads)


def _beads(
    d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, pane: Placed, y: float, seats: tuple[float, float]
) -> list[Placed]:
    g = leaf.g
    stick = kit.stick("glass_bead")
    section, width, thick = blank_section(stick)
    x, z = centred(seats[0], leaf.middle), centred(seats[1], (leaf.z[0] + leaf.z[1]) / 2)
    # Blank y from the rabbet's wall to the glass, z out to the back: the run goes round clockwise seen from in front.
    sides: tuple[tuple[str, str, Vec, Vec, Vec, float], ...] = (
        ("bottom", "rail.bottom", (x[1], y, z[0]), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), seats[0]),
        ("top", "rail.top", (x[0], y, z[1]), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0), seats[0]),
        ("left", "stile.left", (x[0], y, z[0]), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), seats[1]),
        ("right", "stile.right", (x[1], y, z[1]), (0.0, 0.0, -1.0), (-1.0, 0.0, 0.0), seats[1]),
    )
    pin = kit.pin("pin", width, spec.stile - leaf.depth)
    beads = []
    for name, member, at, run, inward, length in sides:
        half = width / 2
        blank = Blank(length=length, width=width, thickness=thick, section=section)
        cuts = (
            end_cut_from_normal((-1.0, 1.0, 0.0), half),
            end_cut_from_normal((1.0, 1.0, 0.0), length - half),
        )
        part = Part(
            form=Form.STICK, stock=stick.id, blank=blank, features=cuts, mass_density=stick.density, kind=PartKind.BEAD
        )
        seat = "width" if name in ("top", "bottom") else "height"
        bead = d.place_part(
            f"{g}/bead.{name}",
            f"glass bead, {name}",
            part,
            Frame(origin=at, x=run, y=inward),
            coated="back",
            finish=spec.finish,
            sizes=(f"{g}.panel.seat_{seat}", "", ""),
        )
        low = thick / 5  # in the square foot of the bead, clear of the glass
        line = PinLine(
            pin=pin,
            start=bead.frame.point((0.0, width, low)),
            end=bead.frame.point((length, width, low)),
            drive=(-inward[0] + 0.0, -inward[1] + 0.0, -inward[2] + 0.0),
            count=max(2, round(length / d.practice["pin.spacing"])),
            ends=min(4 * width, 0.36 * length),
            apart=10.0,
        )
        host = d.at(f"{g}/{member}")
        d.joint(f"{g}/bead.{name}~{member}", JointKind.PINS, bead, host, at, line, why="no glue: glass can be replaced")
        d.joint(f"{g}/glass~bead.{name}", JointKind.HELD, bead, pane, at, why="the beads hold the glass")
        beads.append(bead)
    return beads
