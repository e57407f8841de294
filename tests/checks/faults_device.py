"""Faults of let-in devices."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, TOUCHING, Fault

from casewright.checks.model import Subject
from casewright.design.features.openings import Channel, Recess
from casewright.design.parts import Part

MODULE = "touch-dimmer-64"


def _recess(depth: float) -> Callable[[Part], Part]:
    def edit(part: Part) -> Part:
        return replace(part, features=tuple(replace(f, depth=depth) if type(f) is Recess else f for f in part.features))

    return edit


def _without(kind: type) -> Callable[[Part], Part]:
    return lambda part: replace(part, features=tuple(f for f in part.features if type(f) is not kind))


def _beside_the_module(subject: Subject) -> Subject:
    """Drive a screw of the top 38 mm beside the middle of the module."""
    at = subject.by_path[f"{subject.piece.path}/device"].frame.origin
    screw = "top~stretcher.front.screw[1]"
    return do.fastener(
        screw, lambda f: replace(f, frame=replace(f.frame, origin=(at[0] - 38.0, at[1], f.frame.origin[2])))
    )(subject)


def _silent(subject: Subject) -> Subject:
    """Say nothing of mains beside any step."""
    steps = tuple(replace(s, cautions=()) for s in subject.piece.steps)
    return replace(subject, piece=replace(subject.piece, steps=steps))


DEVICE = (
    Fault(
        name="a recess that leaves a veneer over the module",
        of=BEDSIDE,
        edit=do.part("top", _recess(21.0)),
        code="device.cover",
        path="device",
        also=TOUCHING,
    ),
    Fault(
        name="a module thicker than its recess",
        of=BEDSIDE,
        edit=do.bought(MODULE, thickness=18.9),
        code="device.proud",
        path="device",
    ),
    Fault(
        name="a module that fills its recess",
        of=BEDSIDE,
        edit=do.bought(MODULE, thickness=17.9),
        code="device.heat",
        path="device",
    ),
    Fault(
        name="no channel for the cable",
        of=BEDSIDE,
        edit=do.part("top", _without(Channel)),
        code="device.plug",
        path="device",
        also=TOUCHING,
    ),
    Fault(
        name="a screw beside the module",
        of=BEDSIDE,
        edit=_beside_the_module,
        code="device.fastener",
        path="device",
        also=(*TOUCHING, "tools.reach", "fastener.point", "fastener.meets"),
    ),
    Fault(
        name="the module glued into its recess",
        of=BEDSIDE,
        edit=do.joint("device~top", lambda j: replace(j, glued=True)),
        code="device.removable",
        path="device",
    ),
    Fault(
        name="a module of mains voltage, and nobody told who may connect it",
        of=BEDSIDE,
        edit=do.both(do.bought(MODULE, voltage=120.0), _silent),
        code="device.mains",
        path="device",
    ),
    Fault(
        name="the recess forgotten",
        of=BEDSIDE,
        edit=do.part("top", _without(Recess)),
        code="device.recess",
        path="device",
        also=(*TOUCHING, "assembly.blocked"),
    ),
)
