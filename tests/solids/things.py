"""Small parts and assemblies that the tests of solids, drawings and models share."""

from __future__ import annotations

from casewright.design.assembly import PieceDesign, Step, StepKind
from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Dado, Groove, Rabbet
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Recess
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.frames import Frame, Vec, X, Y, Z
from casewright.design.outlines import Outline, circle
from casewright.design.parts import Fastener, Form, Hardware, Part, Placed
from casewright.design.volumes import Cone


def board(length: float, width: float, thickness: float, *features: Feature, section: Outline | None = None) -> Part:
    """A board of 600 kg/m³."""
    blank = Blank(length=length, width=width, thickness=thickness, section=section)
    return Part(form=Form.BOARD, stock="poplar", blank=blank, features=features, mass_density=600.0)


def put(path: str, part: Part | Hardware, origin: Vec, x: Vec = X, y: Vec = Y) -> Placed:
    """A thing in place."""
    return Placed(path=path, name=path.split("/")[-1], thing=part, frame=Frame(origin=origin, x=x, y=y))


def piece(*placed: Placed, **more: object) -> PieceDesign:
    """A piece of placed things alone."""
    return PieceDesign(path="p", kind="test", title="test", width=1.0, depth=1.0, height=1.0, placed=placed, **more)  # type: ignore[arg-type]


def screw(path: str, origin: Vec, z: Vec, length: float, parts: tuple[str, ...] = (), radius: float = 2.0) -> Fastener:
    """A headless screw along `z`."""
    x = Y if abs(z[0]) > 0.5 else X
    y = (z[1] * x[2] - z[2] * x[1], z[2] * x[0] - z[0] * x[2], z[0] * x[1] - z[1] * x[0])
    return Fastener(
        path=path, item="screw", joint="j", parts=parts, frame=Frame(origin=origin, x=x, y=y), length=length,
        shank_radius=radius, thread_length=length,
    )  # fmt: skip


# A quarter-hollow moulding, back on x = 0, foot on y = 0.
COVE_SECTION = Outline(
    vertices=((0.0, 0.0, 0.0), (6.0, 0.0, 0.0), (6.0, 4.0, -0.3), (18.0, 18.0, 0.0), (0.0, 18.0, 0.0))
)


def every_feature() -> Part:
    """A board with one of almost everything on it, no two meeting."""
    return board(
        400.0, 80.0, 40.0,
        Rabbet(face=Face.FACE1, u0=0.0, u1=400.0, v0=0.0, v1=8.0, depth=6.0),
        Groove(face=Face.EDGE1, u0=0.0, u1=400.0, v0=15.0, v1=21.0, depth=10.0),
        Dado(face=Face.FACE0, u0=200.0, u1=218.0, v0=0.0, v1=80.0, depth=5.0),
        Hole(face=Face.FACE1, u=60.0, v=40.0, diameter=8.0, countersink=16.0),
        Hole(face=Face.FACE1, u=100.0, v=40.0, diameter=5.0, bore_diameter=12.0, bore_depth=7.0),
        Recess(face=Face.FACE1, outline=circle(300.0, 40.0, 24.0), depth=15.0),
        Cove(face=Face.FACE0, at=150.0, radius=12.0, depth=6.0),
        Taper(face=Face.EDGE0, towards=Face.END1, start=350.0, inset=5.0),
        EndCut(face=Face.END0, at=0.0, mitre=30.0),
    )  # fmt: skip


def cabinet() -> PieceDesign:
    """Two sides, bottom and top with a cove run, a drawer front, a knob: 200 × 150 × 300 mm overall."""
    side = board(282.0, 150.0, 18.0, Dado(face=Face.FACE1, u0=40.0, u1=58.0, v0=0.0, v1=150.0, depth=6.0))
    shelf = board(176.0, 150.0, 18.0)
    top = board(200.0, 150.0, 18.0, Recess(face=Face.FACE0, outline=circle(150.0, 100.0, 20.0), depth=12.0))
    front = board(163.0, 120.0, 18.0, Hole(face=Face.FACE1, u=81.5, v=60.0, diameter=5.0))
    knob = Hardware(item="knob", mass=0.03, bodies=(Cone(frame=Frame(), r0=6.0, r1=12.0, height=25.0),))
    sides = (
        put("p/side.left", side, (-100.0, 150.0, 0.0), Z, (0.0, -1.0, 0.0)),
        put("p/side.right", side, (100.0, 0.0, 0.0), Z, Y),
    )
    placed = (
        *sides,
        put("p/bottom", shelf, (-88.0, 0.0, 40.0)),
        put("p/top", top, (-100.0, 0.0, 282.0)),
        put("p/front", front, (-81.5, 18.0, 100.0), X, Z),
        put("p/knob", knob, (0.0, 0.0, 160.0), X, Z),
    )
    steps = (
        Step(id="s1", kind=StepKind.BRING, text="left side", into="p", brings=("p/side.left",)),
        Step(id="s2", kind=StepKind.BRING, text="bottom", into="p", brings=("p/bottom",), moves=((-80.0, 0.0, 0.0),)),
        Step(
            id="s3",
            kind=StepKind.BRING,
            text="right side",
            into="p",
            brings=("p/side.right",),
            moves=((-80.0, 0.0, 0.0),),
        ),
        Step(id="s4", kind=StepKind.BRING, text="top", into="p", brings=("p/top",), moves=((0.0, 0.0, -80.0),)),
        Step(id="s5", kind=StepKind.BRING, text="knob", into="p/front", brings=("p/front", "p/knob")),
    )
    return piece(*placed, steps=steps)
