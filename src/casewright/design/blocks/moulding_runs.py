"""Runs of moulding along any polyline of walls: mitred corners outwards and inwards, square ends, returns.

Common practice. A piece is as long as its longest line: at an outside corner the long point lies beyond the corner by
projection × tan(half the turn), at an inside corner on the wall itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank, Face
from casewright.design.blocks.moulding_fixing import Fixed, fix_moulding
from casewright.design.draft import Draft
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Vec, add, cross, dot, norm, scale, sub, unit
from casewright.design.kit import Kit
from casewright.design.parts import Form, Part, PartKind, Placed
from casewright.design.sections import Run, blank_section, frame_of, mitre_cut, mitre_normal, projection
from casewright.design.sites import along
from casewright.stock.model import Stick

UP: Vec = (0.0, 0.0, 1.0)
SHAPED = Face.FACE1  # a blank with a section lies on its back
SHARPEST = 1e-6  # cosine + 1 of a turn that no mitre can follow


class End(Enum):
    """How a run ends where no other piece follows."""

    SQUARE = "square"
    RETURN = "return"  # a small mitred piece turns the profile back to the wall


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One straight piece of a run: from `start` to `end` on the wall line (plan x, y), the wall on its left hand.

    `host` is the part that it is glued and pinned to. `size` names its length in the ledger, if that is not its own.
    """

    name: str
    start: tuple[float, float]
    end: tuple[float, float]
    host: str
    size: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """How a run starts and ends; a closed run meets itself and needs neither."""

    first: End = End.SQUARE
    last: End = End.SQUARE
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A leg in space, and the direction of the piece before and after it, None where it ends square."""

    leg: Leg
    run: Run
    length: float
    before: Vec | None
    after: Vec | None

    @property
    def ends_at(self) -> Vec:
        return add(self.run.start, scale(self.run.along, self.length))


PLAIN = Ends()


def run_along(
    d: Draft,
    kit: Kit,
    legs: Sequence[Leg],
    *,
    name: str,
    role: str,
    foot_z: float,
    ends: Ends = PLAIN,
    moisture: float = 0.0,
) -> tuple[Placed, ...]:
    """Place a moulding along consecutive legs, its lower edge at `foot_z`, and fix it; return its pieces in order.

    `moisture` is the range of the room in % of the wood's moisture content, by which solid hosts move. Raises
    ValueError where two legs do not join on, or turn straight back.
    """
    stick = kit.stick(role)
    out = _let(d, f"{name}.projection", projection(stick), rule="from the drawn section")
    pieces = _pieces(legs, foot_z, ends)
    kind = PartKind.CROWN if role == "crown" else PartKind.MOULDING
    placed = [_place(d, kit, stick, name, piece, out, kind) for piece in pieces]
    for piece, part in zip(pieces, placed, strict=True):
        host = d.at(piece.leg.host)
        fix_moulding(
            d,
            kit,
            stick,
            Fixed(
                name=f"{name}/{piece.leg.name}",
                part=part,
                host=host,
                run=piece.run,
                length=piece.length,
                moisture=moisture,
            ),
        )
    for a, b in _corners(len(pieces), ends):
        pair = f"{name}/{pieces[a].leg.name}~{pieces[b].leg.name}"
        d.joint(pair, JointKind.MITRE, placed[a], placed[b], pieces[b].run.start, glued=True)
    returns = [_return(d, kit, stick, name, pieces, placed, out, first) for first in _returned(ends)]
    return (*placed, *returns)


def _returned(ends: Ends) -> list[bool]:
    return [first for first, end in ((True, ends.first), (False, ends.last)) if end is End.RETURN and not ends.closed]


def _corners(count: int, ends: Ends) -> list[tuple[int, int]]:
    pairs = [(i, i + 1) for i in range(count - 1)]
    return [*pairs, (count - 1, 0)] if ends.closed else pairs


def _pieces(legs: Sequence[Leg], foot_z: float, ends: Ends) -> list[_Piece]:
    ways = [along((*leg.start, 0.0), (*leg.end, 0.0)) for leg in legs]
    for a, b in _corners(len(legs), ends):
        if norm(sub((*legs[a].end, 0.0), (*legs[b].start, 0.0))) > 1e-6:
            raise ValueError(f"the moulding's leg {legs[b].name} does not start where {legs[a].name} ends")
        if dot(ways[a][0], ways[b][0]) < -1 + SHARPEST:
            raise ValueError(f"the moulding's leg {legs[b].name} turns straight back")
    out = []
    for i, (leg, (way, length)) in enumerate(zip(legs, ways, strict=True)):
        way = unit(way)
        outward = unit(cross(way, UP))
        before = ways[i - 1][0] if i > 0 or ends.closed else None
        after = ways[(i + 1) % len(ways)][0] if i < len(legs) - 1 or ends.closed else None
        # A return leaves from the wall, and comes back to it, square.
        before = scale(outward, 1.0) if before is None and ends.first is End.RETURN else before
        after = scale(outward, -1.0) if after is None and ends.last is End.RETURN else after
        run = Run(start=(*leg.start, foot_z), along=way, out=outward)
        out.append(_Piece(leg=leg, run=run, length=length, before=before, after=after))
    return out


def reach(along_a: Vec, along_b: Vec, out: float) -> float:
    """Return how far the long point lies beyond a corner: projection × tan(half the turn); 0 inside."""
    turn = cross(along_a, along_b)[2]
    return max(0.0, out * turn / (1.0 + dot(along_a, along_b)))


def _place(d: Draft, kit: Kit, stick: Stick, name: str, piece: _Piece, out: float, kind: PartKind) -> Placed:
    section, width, thick = blank_section(stick)
    run = piece.run
    start = reach(piece.before, run.along, out) if piece.before is not None else 0.0
    more = reach(run.along, piece.after, out) if piece.after is not None else 0.0
    size = piece.leg.size or f"{name}.{piece.leg.name}_length"
    length = start + piece.length + more
    _let(d, size, length, f"{name}.projection", rule="wall line and what the corners add, long points")
    frame = frame_of(stick, run).moved(scale(run.along, -start))
    blank = Blank(length=length, width=width, thickness=thick, section=section)
    cuts: list[EndCut] = []
    if piece.before is not None:
        cuts.append(mitre_cut(frame, blank, run.start, scale(mitre_normal(piece.before, run.along), -1.0)))
    if piece.after is not None:
        cuts.append(mitre_cut(frame, blank, piece.ends_at, mitre_normal(run.along, piece.after)))
    part = _stick_part(stick, blank, cuts, kind)
    label = f"{name} moulding, {piece.leg.name}"
    return d.place_part(
        f"{name}/{piece.leg.name}", label, part, frame, shown=SHAPED, finish=kit.finish, sizes=(size, "", "")
    )


def _stick_part(stick: Stick, blank: Blank, cuts: Sequence[EndCut], kind: PartKind = PartKind.OTHER) -> Part:
    return Part(
        form=Form.STICK,
        stock=stick.id,
        blank=blank,
        features=tuple(cuts),
        mass_density=stick.density,
        grain=True,
        kind=kind,
    )


def _return(
    d: Draft,
    kit: Kit,
    stick: Stick,
    name: str,
    pieces: Sequence[_Piece],
    placed: Sequence[Placed],
    out: float,
    first: bool,
) -> Placed:
    """A piece as long as the moulding stands out, mitred to the run, square at the wall: glued, too small to pin."""
    piece, host = (pieces[0], placed[0]) if first else (pieces[-1], placed[-1])
    section, width, thick = blank_section(stick)
    own = "return.first" if first else "return.last"
    size = f"{name}.end_length"
    length = _let(d, size, out, f"{name}.projection", rule="as far as the moulding stands out")
    blank = Blank(length=length, width=width, thickness=thick, section=section)
    wall, run = (piece.run.start if first else piece.ends_at), piece.run
    if first:
        turned = Run(start=wall, along=run.out, out=scale(run.along, -1.0))
        frame = frame_of(stick, turned)
        cut = mitre_cut(frame, blank, wall, mitre_normal(run.out, run.along))
    else:
        turned = Run(start=wall, along=scale(run.out, -1.0), out=run.along)
        frame = frame_of(stick, turned).moved(scale(run.out, out))
        cut = mitre_cut(frame, blank, wall, scale(mitre_normal(run.along, scale(run.out, -1.0)), -1.0))
    part = d.place_part(
        f"{name}/{own}",
        f"{name} moulding, return",
        _stick_part(stick, blank, [cut]),
        frame,
        shown=SHAPED,
        finish=kit.finish,
        sizes=(size, "", ""),
    )
    d.joint(f"{name}/{piece.leg.name}~{own}", JointKind.MITRE, host, part, wall, glued=True, why="too small to pin")
    return part


def _let(d: Draft, name: str, value: float, *because: str, rule: str) -> float:
    """Return a size that several pieces share: let once."""
    return d.led[name] if name in d.led else d.let(name, value, *because, rule=rule)
