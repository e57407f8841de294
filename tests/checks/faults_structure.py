"""Faults of what holds a piece together: contacts, chains and fits, fasteners in each other's way."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, DOOR, DRAWER, TOUCHING, Fault

from casewright.checks.model import Subject
from casewright.design.assembly import ChainItem, PieceDesign
from casewright.shop.model import Practice

HINGE_SCREW = f"{DOOR}/hinge[1].door_leaf~wood[1].screw[1]"


def _long_total(design: PieceDesign) -> PieceDesign:
    first = design.chains[0]
    wrong = replace(first, total=ChainItem(name=first.total.name, value=first.total.value + 0.5))
    return replace(design, chains=(wrong, *design.chains[1:]))


def _thick_slides(design: PieceDesign) -> PieceDesign:
    return replace(
        design,
        fits=tuple(
            replace(f, insert=ChainItem(name=f.insert.name, value=f.insert.value + 1.0))
            if f.id.endswith(f"{DRAWER}.fit.slides")
            else f
            for f in design.fits
        ),
    )


def _screwed_twice(design: PieceDesign) -> PieceDesign:
    screw = next(f for f in design.fasteners if f.path.endswith(HINGE_SCREW))
    return replace(design, fasteners=(*design.fasteners, replace(screw, path=f"{screw.path}.again")))


def _through_the_module(design: PieceDesign) -> PieceDesign:
    keepout = next(k for k in design.keepouts if k.id.endswith("device.keepout"))
    x, y, z = ((a + b) / 2 for a, b in zip(keepout.lo, keepout.hi, strict=True))
    return replace(
        design,
        fasteners=tuple(
            replace(f, frame=replace(f.frame, origin=(x, y, z)))
            if f.path.endswith("top~stretcher.front.screw[1]")
            else f
            for f in design.fasteners
        ),
    )


def _no_practice(subject: Subject) -> Subject:
    return replace(subject, practice=Practice(rules=()))


STRUCTURE = (
    Fault(
        name="the bottom pushed a hair into the side",
        of=BEDSIDE,
        edit=do.moved(("bottom",), (0.05, 0.0, 0.0)),
        code="collision.parts",
        path="side.right",
        also=TOUCHING,
    ),
    Fault(
        name="the back forgotten by every joint",
        of=BEDSIDE,
        edit=do.unjoined("back"),
        code="attached.loose",
        path="back",
        also=TOUCHING,
    ),
    Fault(
        name="a door stop a millimetre above the bottom that it is glued to",
        of=BEDSIDE,
        edit=do.moved((f"{DOOR}.stop",), (0.0, 0.0, 1.0)),
        code="attached.gap",
        path=f"{DOOR}.stop~bottom",
        also=TOUCHING,
    ),
    Fault(
        name="a row of sizes that is half a millimetre longer than its total",
        of=BEDSIDE,
        edit=do.piece(_long_total),
        code="chain.sum",
        path="chain.height",
    ),
    Fault(
        name="slides a millimetre thicker than those that the box was made for",
        of=BEDSIDE,
        edit=do.piece(_thick_slides),
        code="chain.fit",
        path=f"{DRAWER}.fit.slides",
    ),
    Fault(
        name="a hinge screw four inches too long",
        of=BEDSIDE,
        edit=do.longer(HINGE_SCREW, 120.0),
        code="collision.fastener",
        path=HINGE_SCREW,
        also=(*TOUCHING, "fastener.point", "motion.blocked"),
    ),
    Fault(
        name="two screws in one hole",
        of=BEDSIDE,
        edit=do.piece(_screwed_twice),
        code="collision.crossing",
        path=HINGE_SCREW,
        also=TOUCHING,
    ),
    Fault(
        name="a screw of the top through the module",
        of=BEDSIDE,
        edit=do.piece(_through_the_module),
        code="collision.keepout",
        path="top~stretcher.front.screw[1]",
        also=(*TOUCHING, "fastener.point", "fastener.meets", "tools.reach", "device.fastener", "device.cover"),
    ),
    Fault(
        name="a shop without any practice",
        of=BEDSIDE,
        edit=_no_practice,
        code="check.crashed",
        path="",
    ),
)
