"""The knob or pull of a door, on its latch side: where a hand is, within the door, its bolts clear of what is behind.

Common practice. A pull with two bolts stands upright. Of the pulls of the role the first is taken that has room.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.door_fittings import OUT, stop_size
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import pull_hardware
from casewright.design.blocks.in_line import pull_in_line
from casewright.design.draft import Draft
from casewright.design.frames import Frame
from casewright.design.joints.others import ThroughBolt
from casewright.design.kit import Kit
from casewright.design.sites import Span
from casewright.findings import Severity
from casewright.stock.model import Pull

HEAD = 8.0  # mm from the axis of a bolt to what the door closes against: its head, and a little


def fit_pull(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec, floor_z: float) -> None:
    """Place the knob or pull and bolt it through; a finding where none of the role has room.

    `floor_z` is the upper face of what carries the door's stop.
    """
    pulls = kit.all("door_pull", Pull)
    rooms = [(pull, _room(d, kit, opening, leaf, spec, floor_z, pull)) for pull in pulls]
    pull, room = next(((p, r) for p, r in rooms if r[0] <= r[1] + 1e-6), rooms[0])
    if room[0] > room[1] + 1e-6:
        _too_long(d, leaf, pull, room)
        return
    stile = d.at(leaf.member(-leaf.hinge))
    x = leaf.outer(-leaf.hinge, spec.stile / 2)
    half = pull.centres / 2
    z = _reached(d, leaf, half, spec, room)
    axes = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)) if half == 0 else ((0.0, 0.0, 1.0), (-1.0, 0.0, 0.0))
    knob = d.place_hardware(
        f"{leaf.g}/pull",
        "door knob" if half == 0 else "door pull",
        pull_hardware(pull),
        Frame(origin=(x, leaf.y[0], z), x=axes[0], y=axes[1]),
    )
    d.excluded.append(knob.path)
    bolt = kit.screw("machine", 8, leaf.t + 4.0, leaf.t + d.practice["pull.thread_most"], role="pull_screw")
    for suffix, at in (("", z),) if half == 0 else (("[1]", z - half), ("[2]", z + half)):
        d.joint(
            f"{leaf.g}/pull~stile{suffix}",
            JointKind.HARDWARE,
            stile,
            knob,
            (x, leaf.y[0], at),
            ThroughBolt(bolt=bolt, point=(x, leaf.y[1], at), drive=OUT, through=(stile.path,), hole=pull.hole),
        )


def _room(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec, floor_z: float, pull: Pull) -> Span:
    """Return the span of z in which the middle of a pull has room, its second below its first where it has none.

    Its base stays on the door, its bolts within the opening and over the stop of an inset one.
    """
    base = (pull.base_width + d.practice["pull.field_room"]) / 2
    bolts = pull.centres / 2 + HEAD
    low, high = opening.z
    if spec.placed.inset:
        low = max(low, floor_z + stop_size(kit.stick("door_stop"))[0])
    return max(leaf.z[0] + base, low + bolts), min(leaf.z[1] - base, high - bolts)


def _reached(d: Draft, leaf: Leaf, half: float, spec: DoorSpec, room: Span) -> float:
    """Return the height of a pull's middle: near a low door's upper end, near a high one's lower end, else by hand.

    A hand is at a height over the floor, which lies `over_floor` below the piece where that hangs on a wall. On a door
    too low for that it stands where it has `room`. Where a row of a matching piece has its pull in reach, it is that
    one's height.
    """
    below = d.practice["door.pull_below_top"] + half
    top, low = leaf.z[1] - below, leaf.z[0] + below
    own = min(top, max(low, d.practice["door.pull_height"] - spec.over_floor))
    own = min(max(own, room[0]), room[1])
    return pull_in_line(d, f"{leaf.g}/pull", own, leaf.z, "door", spec.rows, (min(low, own), max(top, own)))


def _too_long(d: Draft, leaf: Leaf, pull: Pull, room: Span) -> None:
    need, got = leaf.height + room[0] - room[1], leaf.height
    d.find(
        "door.pull_long",
        Severity.STOP,
        leaf.g,
        f"the door is {got:.1f} mm high; upright on it, the {pull.name} needs {need:.1f} mm",
        value=got,
        limit=need,
        source="common practice: its base on the door, its bolts clear of what the door closes against",
        remedy="a shorter pull or a knob for the role door_pull, or a higher door",
    )
