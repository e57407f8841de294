"""Runs of moulding around left side, front and right side: outside mitres at the corners, square at the wall.

Common practice. Lengths are long point to long point: front = body width + 2 projections, return = body depth
(from the frame's face) + one projection.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.body import Body
from casewright.design.draft import Draft
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Vec, add, dot, scale
from casewright.design.joints.others import PinLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline
from casewright.design.parts import Form, Part, Placed
from casewright.design.sections import Run, blank_section, frame_of, installed, mitre_cut, mitre_normal, projection
from casewright.design.sites import depth_along
from casewright.stock.model import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """One piece of a run: name, run, the corner at each end (None is square), length along the wall line."""

    name: str
    run: Run
    length: float
    start_corner: bool
    end_corner: bool
    host: str


def moulding_run(d: Draft, kit: Kit, body: Body, *, name: str, role: str, foot_z: float) -> None:
    """Place the three pieces of a moulding whose lower edge is at `foot_z`."""
    stick = kit.stick(role)
    out = d.let(f"{name}.projection", projection(stick), rule="from the drawn section")
    half, depth = body.width / 2, body.depth
    d.let(
        f"{name}.front_length",
        body.width + 2 * out,
        "body.width",
        f"{name}.projection",
        rule="body + 2 projections, long points",
    )
    d.let(
        f"{name}.return_length",
        depth + out,
        "body.depth",
        f"{name}.projection",
        rule="body depth + 1 projection, long point",
    )
    pieces = (
        _Piece(
            name="left",
            run=Run(start=(-half, depth, foot_z), along=(0.0, -1.0, 0.0), out=(-1.0, 0.0, 0.0)),
            length=depth,
            start_corner=False,
            end_corner=True,
            host="side.left",
        ),
        _Piece(
            name="front",
            run=Run(start=(-half, 0.0, foot_z), along=(1.0, 0.0, 0.0), out=(0.0, -1.0, 0.0)),
            length=body.width,
            start_corner=True,
            end_corner=True,
            host="frame/rail.top" if role == "crown" else "frame/rail.bottom",
        ),
        _Piece(
            name="right",
            run=Run(start=(half, 0.0, foot_z), along=(0.0, 1.0, 0.0), out=(1.0, 0.0, 0.0)),
            length=depth,
            start_corner=True,
            end_corner=False,
            host="side.right",
        ),
    )
    placed = [_place(d, stick, name, piece, out) for piece in pieces]
    for piece, part in zip(pieces, placed, strict=True):
        _fix(d, kit, stick, name, piece, part)
    for a, b in ((0, 1), (1, 2)):
        corner = pieces[b].run.start
        d.joint(f"{name}/{pieces[a].name}~{pieces[b].name}", JointKind.MITRE, placed[a], placed[b], corner, glued=True)


def _place(d: Draft, stick: Stick, name: str, piece: _Piece, out: float) -> Placed:
    section, width, thick = blank_section(stick)
    start = out if piece.start_corner else 0.0
    length = start + piece.length + (out if piece.end_corner else 0.0)
    frame = frame_of(stick, piece.run).moved(scale(piece.run.along, -start))
    blank = Blank(length=length, width=width, thickness=thick, section=section)
    cuts: list[EndCut] = []
    if piece.start_corner:
        cuts.append(
            mitre_cut(frame, blank, piece.run.start, scale(mitre_normal(_before(piece.run), piece.run.along), -1.0))
        )
    if piece.end_corner:
        corner = add(piece.run.start, scale(piece.run.along, piece.length))
        cuts.append(mitre_cut(frame, blank, corner, mitre_normal(piece.run.along, _after(piece.run))))
    part = Part(
        form=Form.STICK, stock=stick.id, blank=blank, features=tuple(cuts), mass_density=stick.density, grain=True
    )
    return d.place_part(
        f"{name}/{piece.name}",
        f"{name} moulding, {piece.name}",
        part,
        frame,
        shows={"left": "left", "right": "right"}.get(piece.name, "front"),
        finish="paint",
        sizes=(f"{name}.front_length" if piece.name == "front" else f"{name}.return_length", "", ""),
    )


def _after(run: Run) -> Vec:
    """The way on around a square outside corner at the end of a run."""
    return scale(run.out, -1.0)


def _before(run: Run) -> Vec:
    """The way that led to the square outside corner at the start of a run."""
    return run.out


def _fix(d: Draft, kit: Kit, stick: Stick, name: str, piece: _Piece, part: Placed) -> None:
    """Glue and headless pins at the height where the section is thickest against the wall."""
    height, face = _pin_place(installed(stick))
    run = piece.run
    at = add(add(run.start, (0.0, 0.0, height)), scale(run.out, face))
    host = d.at(piece.host)
    # Pins of the front piece go into the rail only, so the line keeps off the stiles.
    lo, hi = _overlap(d, host, run, piece.length)
    a, b = add(at, scale(run.along, lo)), add(at, scale(run.along, hi))
    pin = kit.pin("pin", face, depth_along(host, run.out))
    count = max(2, round((hi - lo) / d.practice["pin.spacing"]) + 1)
    line = PinLine(pin=pin, start=a, end=b, drive=scale(run.out, -1.0), count=count, ends=18.0, apart=12.0)
    host_name = host.path.removeprefix(d.path + "/")
    d.joint(f"{name}/{piece.name}~{host_name}", JointKind.PINS, host, part, run.start, line, glued=True)


def _overlap(d: Draft, host: Placed, run: Run, length: float) -> tuple[float, float]:
    size = host.part.blank.size
    ends = [host.frame.point((a, b, c)) for a in (0.0, size[0]) for b in (0.0, size[1]) for c in (0.0, size[2])]
    along = [dot(e, run.along) - dot(run.start, run.along) for e in ends]
    return max(0.0, min(along)), min(length, max(along))


def _pin_place(section: Outline) -> tuple[float, float]:
    """Return (height, distance from the wall) of a place on the face for pins: a third up the section."""
    _, y0, x1, y1 = section.box
    height = y0 + (y1 - y0) / 3
    crossings = [0.0]
    points = section.points(0.05)
    for i, a in enumerate(points):
        b = points[(i + 1) % len(points)]
        if (a[1] - height) * (b[1] - height) < 0:
            crossings.append(a[0] + (b[0] - a[0]) * (height - a[1]) / (b[1] - a[1]))
    return height, min(x1, max(crossings))
