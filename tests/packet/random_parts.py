"""Random parts with random features, for the laws of drawings."""

from __future__ import annotations

import random

from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Dado, Groove, Rabbet, Tenon
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.openings import Recess, Slot
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.outlines import circle, obround, rounded_rectangle
from casewright.design.parts import FaceUse, Form, Intent, Part
from casewright.packet.drawing.subject import SizeWords, Subject
from casewright.units import INCHES, MILLIMETRES, format_length


def random_subject(seed: int) -> Subject:
    """Return a part with up to a dozen features, as the subject of a drawing."""
    rng = random.Random(seed)
    style = rng.choice((INCHES, MILLIMETRES))
    length = rng.uniform(60, 900)
    width = rng.uniform(20, min(length, 450))
    thick = rng.uniform(9, min(width, 40))
    blank = Blank(length=length, width=width, thickness=thick)
    features: list[Feature] = []
    for _ in range(rng.randint(0, 4)):
        features += rng.choice(MAKERS)(rng, blank)
    faces = (FaceUse(face=rng.choice((Face.FACE0, Face.FACE1)), intent=Intent.SHOWS, finish="paint"),)
    part = Part(form=Form.BOARD, stock="poplar", blank=blank, features=tuple(features), faces=faces, mass_density=500.0)
    size = [format_length(v, style=style, role=_free(), unit=False) for v in blank.size]
    return Subject(
        part=part, mark="AB", name="part", count=2, stock="poplar", size=(size[0], size[1], size[2]),
        words=SizeWords(style=style), towards={Face.END1: "top", Face.EDGE0: "front"},
    )  # fmt: skip


def _free():  # type: ignore[no-untyped-def]
    from casewright.units import Role

    return Role.FREE


def _holes(rng: random.Random, b: Blank) -> list[Feature]:
    face = rng.choice(list(Face))
    du, dv, through = b.extent(face)
    d = min(rng.choice((2.381, 4.366, 6.0, 12.0)), 0.4 * min(du, dv))
    depth = rng.choice((None, 0.6 * through))
    sink = d * 1.9 if rng.random() < 0.4 and depth is None else 0.0
    rows = [rng.uniform(d, dv - d) for _ in range(rng.randint(1, 2))]
    return [
        Hole(face=face, u=rng.uniform(d, du - d), v=v, diameter=d, depth=depth, countersink=sink)
        for v in rows
        for _ in range(rng.randint(1, 4))
    ]


def _pockets(rng: random.Random, b: Blank) -> list[Feature]:
    return [
        PocketHole(
            face=Face.FACE1, u=b.length - 35.0, v=rng.uniform(8, b.width - 8), du=1.0, dv=0.0, angle=15.0,
            diameter=4.366,
            pocket_diameter=9.525, shoulder=12.7, run=36.0,
        )
        for _ in range(rng.randint(1, 3))
    ]  # fmt: skip


def _cuts(rng: random.Random, b: Blank) -> list[Feature]:
    v = rng.uniform(0.1, 0.5) * b.width
    u = rng.uniform(0.1, 0.6) * b.length
    deep = 0.4 * b.thickness
    return [
        rng.choice(
            (
                Rabbet(face=Face.FACE0, u0=0.0, u1=b.length, v0=0.0, v1=0.15 * b.width, depth=deep),
                Groove(face=Face.FACE1, u0=0.0, u1=b.length, v0=v, v1=v + 0.2 * b.width, depth=deep),
                Dado(face=Face.FACE1, u0=u, u1=u + 0.1 * b.length, v0=0.0, v1=b.width, depth=deep),
                Groove(
                    face=Face.EDGE0, u0=u, u1=u + 0.2 * b.length, v0=0.3 * b.thickness, v1=0.6 * b.thickness, depth=6.0
                ),
                Tenon(face=Face.END1, u0=0.0, u1=b.width, v0=0.3 * b.thickness, v1=0.7 * b.thickness, length=10.0),
            )
        )
    ]


def _openings(rng: random.Random, b: Blank) -> list[Feature]:
    x, y = rng.uniform(0.3, 0.6) * b.length, 0.5 * b.width
    r = 0.2 * min(b.width, b.length)
    return [
        rng.choice(
            (
                Recess(face=Face.FACE1, outline=circle(x, y, r), depth=0.5 * b.thickness),
                Recess(
                    face=Face.FACE0, outline=rounded_rectangle(x - r, y - r, x + r, y + r, r / 3), depth=b.thickness
                ),
                Slot(face=Face.FACE0, outline=obround((x, y - r / 2), (x, y + r / 2), 4.4), depth=b.thickness),
            )
        )
    ]


def _shapes(rng: random.Random, b: Blank) -> list[Feature]:
    return [
        rng.choice(
            (
                EndCut(face=Face.END0, at=b.width / 2 + 1.0, mitre=rng.choice((45.0, -30.0))),
                EndCut(face=Face.END1, at=b.length - b.thickness, mitre=0.0, bevel=45.0),
                Taper(face=Face.EDGE1, towards=Face.END0, start=0.4 * b.length, inset=0.2 * b.width),
                Cove(face=Face.EDGE0, at=0.5 * b.length, radius=8.0, depth=4.0),
            )
        )
    ]


MAKERS = (_holes, _holes, _holes, _pockets, _cuts, _openings, _shapes)
