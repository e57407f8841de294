"""Let-in devices: sound as designed; each fault is found at the device."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.checks.seeding import (
    found,
    one,
    project_of,
    subject_at,
    text_of,
    told,
    with_joint,
    with_part,
    without_joints,
)

from casewright.checks import device
from casewright.checks.model import Subject
from casewright.design.assembly import PieceDesign
from casewright.design.features.openings import Channel, Recess
from casewright.design.mirror import mirror_finding, mirror_piece
from casewright.design.outlines import circle, rectangle
from casewright.design.parts import Part
from casewright.findings import Severity
from casewright.stock.model import Device

CHECK = device.CHECK
SUBJECT = subject_at(project_of(text_of("lantern-hill")), "bedside.left")
PIECE = SUBJECT.piece
P = PIECE.path
DEVICE = f"{P}/device"
ITEM = SUBJECT.items["touch-dimmer-64"]


def recessed(depth: float | None = None, channel: Channel | None = None, *, without: type | None = None) -> PieceDesign:
    """The top with another depth of its recess, another channel, or without one of them."""

    def edit(part: Part) -> Part:
        out = []
        for f in part.features:
            if without is not None and type(f) is without:
                continue
            if type(f) is Recess and depth is not None:
                f = replace(f, depth=depth)
            if type(f) is Channel and channel is not None:
                f = channel
            out.append(f)
        return replace(part, features=tuple(out))

    return with_part(PIECE, f"{P}/top", edit)


def of_item(**changes: Any) -> Subject:
    """The same piece with other figures of the device's own data."""
    assert isinstance(ITEM, Device)
    other = replace(ITEM, **changes)
    roles = tuple(
        (role, tuple(other if item.id == ITEM.id else item for item in served)) for role, served in SUBJECT.sizes.roles
    )
    return replace(SUBJECT, sizes=replace(SUBJECT.sizes, roles=roles))


def test_the_demo_is_let_alone() -> None:
    assert found(CHECK, SUBJECT) == ()


def test_the_wood_over_it_is_what_the_recess_leaves() -> None:
    """By hand: a top of 22.225 mm, a recess of 18.225 mm: 4 mm stay; the dimmer reads through 2 to 6 mm."""
    thin = one(found(CHECK, SUBJECT, recessed(21.0)), "device.cover")
    assert (thin.path, thin.severity) == (DEVICE, Severity.STOP)
    assert thin.value == pytest.approx(1.225)
    assert thin.limit == pytest.approx(2.0)
    thick = one(found(CHECK, SUBJECT, recessed(15.5)), "device.cover")
    assert thick.value == pytest.approx(6.725)
    assert thick.limit == pytest.approx(6.0)
    # a device that would work through bare veneer: the wood's own least holds
    assert one(found(CHECK, of_item(range_least=0.5), recessed(21.0)), "device.cover").limit == pytest.approx(2.0)


def test_one_that_lies_bare_needs_no_wood_over_it() -> None:
    bare = of_item(range_least=0.0, range_most=0.0)
    assert told(found(CHECK, bare, recessed(22.225))) == set()
    assert ("device.cover", DEVICE) in told(found(CHECK, bare), Severity.STOP)


def test_a_device_that_stands_proud_or_has_no_air() -> None:
    proud = one(found(CHECK, of_item(thickness=18.9)), "device.proud")
    assert (proud.path, proud.severity) == (DEVICE, Severity.STOP)
    close = one(found(CHECK, of_item(thickness=17.9)), "device.heat")
    assert (close.path, close.severity) == (DEVICE, Severity.WARN)
    assert one(found(CHECK, of_item(diameter=64.8)), "device.heat").path == DEVICE


def test_the_plug_needs_a_channel_that_leads_out_and_is_large_enough() -> None:
    none = one(found(CHECK, SUBJECT, recessed(without=Channel)), "device.plug")
    assert (none.path, none.severity) == (DEVICE, Severity.STOP)
    own = next(f for f in SUBJECT.by_path[f"{P}/top"].part.features if isinstance(f, Channel))
    u0, v0, u1, v1 = own.outline.box
    blind = replace(own, outline=rectangle(u0, v0, u1, v1 - 60.0))
    assert one(found(CHECK, SUBJECT, recessed(channel=blind)), "device.plug").path == DEVICE
    narrow = one(found(CHECK, of_item(plug_width=15.0)), "device.plug")
    assert narrow.value == pytest.approx(14.0)
    assert narrow.limit == pytest.approx(15.0)
    flat = one(found(CHECK, of_item(plug_height=12.0)), "device.plug")
    assert flat.value == pytest.approx(11.0)
    assert flat.limit == pytest.approx(12.0)


def test_a_screw_beside_it_is_too_near() -> None:
    screw = next(f for f in PIECE.fasteners if f.joint == f"{P}/top~stretcher.front")
    at = SUBJECT.by_path[DEVICE].frame.origin
    near = replace(screw.frame, origin=(at[0] - 38.0, at[1], screw.frame.origin[2]))
    moved = tuple(replace(f, frame=near) if f == screw else f for f in PIECE.fasteners)
    finding = one(found(CHECK, SUBJECT, replace(PIECE, fasteners=moved)), "device.fastener")
    assert (finding.path, finding.severity, finding.related) == (DEVICE, Severity.STOP, (screw.path,))
    # by hand: 38 mm from its middle, less its radius of 32 and the shank's
    assert finding.value == pytest.approx(38.0 - 32.0 - screw.shank_radius, abs=0.01)


def test_it_must_be_carried_and_come_out_again() -> None:
    glued = with_joint(PIECE, f"{P}/device~top", lambda j: replace(j, glued=True))
    assert one(found(CHECK, SUBJECT, glued), "device.removable").severity is Severity.WARN
    loose = without_joints(PIECE, lambda j: j.id == f"{P}/device~keeper")
    assert one(found(CHECK, SUBJECT, loose), "device.removable").severity is Severity.STOP
    stuck = with_joint(PIECE, f"{P}/device_keeper~top", lambda j: replace(j, glued=True))
    finding = one(found(CHECK, SUBJECT, stuck), "device.removable")
    assert (finding.path, finding.severity) == (DEVICE, Severity.WARN)


def test_mains_needs_its_caution() -> None:
    mains = of_item(voltage=120.0)
    assert one(found(CHECK, mains), "device.mains").severity is Severity.NOTE
    silent = replace(PIECE, steps=tuple(replace(s, cautions=()) for s in PIECE.steps))
    finding = one(found(CHECK, mains, silent), "device.mains")
    assert (finding.path, finding.severity, finding.unit) == (DEVICE, Severity.STOP, "V")


def test_one_without_a_recess() -> None:
    assert told(found(CHECK, SUBJECT, recessed(without=Recess)), Severity.STOP) == {("device.recess", DEVICE)}
    beside = with_part(
        PIECE,
        f"{P}/top",
        lambda part: replace(
            part,
            features=tuple(
                replace(f, outline=circle(40.0, 40.0, 33.0)) if type(f) is Recess else f for f in part.features
            ),
        ),
    )
    assert ("device.recess", DEVICE) in told(found(CHECK, SUBJECT, beside), Severity.STOP)


def test_mirrored_pieces_have_mirrored_findings() -> None:
    broken = recessed(21.0, without=Channel)
    own = {(m := mirror_finding(f, PIECE.cells)).code + m.path + m.message for f in found(CHECK, SUBJECT, broken)}
    assert own
    assert own == {f.code + f.path + f.message for f in found(CHECK, SUBJECT, mirror_piece(broken))}
