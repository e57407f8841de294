"""How the ends of a fixed shelf are joined to the walls of its bay: in dados, or on dowels.

Common practice: a dado bears the shelf on wood. A face frame hides where it ends in front; where front edges are seen
it is stopped behind them, with a router. Where it would cut into an edge band, where sheet meets solid wood, or where
the shop can cut no such dado, dowels hold the shelf and nothing shows.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.held import How, hold
from casewright.design.blocks.joining import Making, entry_depth, join, out_of_sight
from casewright.design.blocks.shell import Shell
from casewright.design.joints.auto import Case, Load, Member, Shown, choose
from casewright.design.parts import Form, Placed
from casewright.design.sites import DIRECTIONS, world_box
from casewright.findings import Severity

KINDS = {"dado": JointKind.DADO, "dowels": JointKind.DOWEL}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfEnd:
    """How one end is joined: the kind and why, and how far the shelf goes into its wall, mm."""

    kind: JointKind
    why: str
    into: float


def shelf_end(s: Shell, wall: Placed, wanted: str) -> ShelfEnd:
    """Return how a shelf's end meets a wall: as the order wants it, or the first that nothing speaks against."""
    part, p = wall.part, s.d.practice
    if s.body.post:
        kind, why = JointKind.DOWEL, "a dado would run into the corner posts"
    elif not wall.path.rpartition("/")[2].startswith("side."):
        kind, why = JointKind.DOWEL, "screws into the other face of a divider would run into a dado"
    elif wanted != "auto":
        kind, why = KINDS[wanted], "as ordered"
    else:
        case = Case(
            a=Member(form=part.form, thickness=part.blank.thickness),
            b=Member(form=s.material.form, thickness=s.thick, end=True),
            load=Load.SHELF,
            outer=Shown.CLEAR,
            crossing=(part.form is Form.SHEET) != (s.material.form is Form.SHEET),
            edge_shows=not s.framed,
            banded=s.band is not None,
            shop=s.kit.abilities,
        )
        chosen = choose((JointKind.DADO, JointKind.DOWEL), case)
        kind, why = chosen.kind, chosen.why
    into = entry_depth(kind, part.blank.thickness, p)
    return ShelfEnd(kind=kind, why=why, into=into)


def join_shelf(s: Shell, shelf: Placed, wall: Placed, towards: str, end: ShelfEnd) -> None:
    """Join a shelf's end that looks `towards` a wall."""
    if end.kind is not JointKind.DADO:
        hold(s.d, s.kit, shelf, wall, towards, How.DOWELS, why=f"{How.DOWELS.value}: {end.why}")
        return
    name, other = (part.path.removeprefix(s.d.path + "/") for part in (shelf, wall))
    lo, hi = world_box(shelf)
    face = hi[0] - end.into if towards == "right" else lo[0] + end.into
    x = (face, hi[0]) if towards == "right" else (lo[0], face)
    # Brads of the back, and what else is driven into the wall, keep out of the housing.
    s.d.keep_out(f"{name}.dado.{towards}", (x[0], lo[1], lo[2]), (x[1], s.body.depth, hi[2]), shelf, of=(wall,))
    making = Making() if s.framed else out_of_sight(s.d.practice)
    join(s.d, s.kit, f"{name}~{other}", wall, shelf, end.kind, making, end.why)
    if s.band is not None:
        # The notch that passes the end of a stopped dado takes the band's end with it.
        s.d.shorten_band(name, shelf.face_towards(DIRECTIONS["front"]), towards, end.into)


def dados_fit(s: Shell, wanted: str) -> bool:
    """True where shelves can be made as ordered; dados that run into a post are found."""
    if wanted != "dado" or not s.body.post:
        return True
    s.d.find(
        "shelf.dado",
        Severity.STOP,
        "joints.shelves",
        "a dado would run into the corner posts",
        source="common practice",
        remedy='joints.shelves = "auto" or "dowels", or another stand',
    )
    return False
