"""Hardware items as placed things: bodies in their own frames, made from the stock's figures.

Every body is its own mirror image across its frame's x = 0, so that a mirrored piece takes the same item.
"""

from __future__ import annotations

from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame, Vec
from casewright.design.outlines import rectangle
from casewright.design.parts import Hardware
from casewright.design.volumes import Prism, Volume
from casewright.stock.model import Catch, Device, Hinge, Insert, Leveller, Pull, Slide


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Prism:
    """Return a box in an item's own frame."""
    return Prism(frame=Frame(origin=(0.0, 0.0, z[0])), outline=rectangle(x[0], y[0], x[1], y[1]), height=z[1] - z[0])


def slide_member(slide: Slide, thickness: float, member: str) -> Hardware:
    """Return one member: x up from its middle, y from its front end, z through its thickness (centred)."""
    half = thickness / 2
    return Hardware(
        item=slide.id,
        bodies=(block((-slide.height / 2, slide.height / 2), (0.0, slide.length), (-half, half)),),
        mass=slide.mass / 2,
    )


def pull_hardware(pull: Pull) -> Hardware:
    """Return a pull or knob: x along its width, y up, z out of the face it stands on."""
    if pull.centres == 0:
        return Hardware(item=pull.id, bodies=_knob(pull), mass=pull.mass)
    out = pull.projection
    half, post = pull.base_width / 2, pull.base_height / 2
    if pull.centres / 2 + post > half:  # no two posts: a cup on one flange
        flange = block((-half, half), (-post, post), (0.0, out * 0.1))
        cup = block((-half * 0.85, half * 0.85), (-post * 0.8, post * 0.8), (out * 0.1, out))
        return Hardware(item=pull.id, bodies=(flange, cup), mass=pull.mass)
    posts = tuple(cylinder((s * pull.centres / 2, 0.0, 0.0), (0.0, 0.0, 1.0), post, post, out) for s in (-1.0, 1.0))
    bar = block((-half, half), (-post, post), (out - 2 * post, out))
    return Hardware(item=pull.id, bodies=(*posts, bar), mass=pull.mass)


def _knob(pull: Pull) -> tuple[Volume, ...]:
    """Return base, swell and head: a neck of two thirds of the base, the head widest where a finger gets behind it."""
    up, out = (0.0, 0.0, 1.0), pull.projection
    base, head = pull.base_width / 2, max(pull.head, pull.base_width) / 2
    neck, front = base * 2 / 3, head * 0.8
    shape = ((0.0, base, neck, 0.4), (0.4, neck, head, 0.3), (0.7, head, front, 0.3))
    return tuple(cylinder((0.0, 0.0, at * out), up, r0, r1, high * out) for at, r0, r1, high in shape)


def hinge_leaf(hinge: Hinge, barrel: bool, lie: float) -> Hardware:
    """Return one leaf: x along the pin from its middle, y from the pin into the leaf, z out of the leaf's seat.

    The pin's axis lies `lie` above the seat; the leaf starts at the barrel's side.
    """
    h, r = hinge.height / 2, hinge.barrel_diameter / 2
    leaf = block((-h, h), (r, r + hinge.leaf_width), (0.0, hinge.leaf_thickness))
    if not barrel:
        return Hardware(item=hinge.id, bodies=(leaf,), mass=hinge.mass / 2)
    pin = cylinder((-h, 0.0, lie), (1.0, 0.0, 0.0), r, r, hinge.height)
    return Hardware(item=hinge.id, bodies=(leaf, pin), mass=hinge.mass / 2)


def leveller_hardware(leveller: Leveller, setting: float) -> Hardware:
    """Return a levelling foot: origin on the wood's lower end, z down; its pad ends at `setting`."""
    down: Vec = (0.0, 0.0, 1.0)
    pad = cylinder(
        (0.0, 0.0, setting - leveller.pad_height),
        down,
        leveller.pad_diameter / 2,
        leveller.pad_diameter / 2,
        leveller.pad_height,
    )
    stem_top = setting - leveller.pad_height - leveller.stem_length
    stem = cylinder(
        (0.0, 0.0, stem_top), down, leveller.stem_diameter / 2, leveller.stem_diameter / 2, leveller.stem_length
    )
    return Hardware(item=leveller.id, bodies=(pad, stem), mass=leveller.mass)


def insert_hardware(insert: Insert, bore: float) -> Hardware:
    """Return an insert sunk flush: origin on the wood's face, z into the wood; `bore` is its thread's diameter."""
    into: Vec = (0.0, 0.0, 1.0)
    wide, deep = insert.flange_diameter / 2, insert.flange_depth
    flange = (cylinder((0.0, 0.0, 0.0), into, wide, wide, deep),) if deep > 0 else ()
    body = cylinder((0.0, 0.0, 0.0), into, insert.hole / 2, insert.hole / 2, insert.length)
    thread = cylinder((0.0, 0.0, -1.0), into, bore / 2, bore / 2, insert.length + 2.0)
    return Hardware(item=insert.id, bodies=(*flange, body), hollows=(thread,), mass=insert.mass)


def catch_hardware(catch: Catch) -> Hardware:
    """Return a catch: x across its width (centred), y its depth from its front, z its height from its seat."""
    half = catch.width / 2
    return Hardware(
        item=catch.id, bodies=(block((-half, half), (0.0, catch.depth), (0.0, catch.height)),), mass=catch.mass
    )


def device_hardware(device: Device) -> Hardware:
    """Return a round module: origin on its inner face, z out of the recess; its cable is not drawn."""
    return Hardware(
        item=device.id,
        bodies=(
            cylinder((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), device.diameter / 2, device.diameter / 2, device.thickness),
        ),
        mass=device.mass,
    )
