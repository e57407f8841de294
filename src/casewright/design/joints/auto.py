"""Which kind of joint: the first of a list of preferences that the material, the load, the eye and the shop allow.

The answer says why: what ruled the better ones out. All rules are common practice unless a source stands beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from casewright.design.assembly import JointKind
from casewright.design.parts import Form
from casewright.shop.slices import Machines

LEAST_SHEET = 15.0  # mm: thinner, a screw or dowel in the edge splits the sheet
LEAST_HOUSING = 12.0  # mm: thinner, a third of it is no seat


class Shown(Enum):
    """What anybody sees of the outer face through which a joint may be fastened."""

    HIDDEN = "hidden"  # against a wall, under a moulding, inside a base
    PAINT = "painted"
    CLEAR = "clear finish"


class Load(Enum):
    """What a joint carries."""

    LIGHT = "light"  # a back, a moulding
    SHELF = "shelf"  # what stands on it
    HEAVY = "heavy"  # a hung case, a seat, a leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One part of a joint as a choice sees it: its form and thickness in mm, and whether it meets with its end."""

    form: Form
    thickness: float
    end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Abilities:
    """What a shop can do; `able` reads it off its machines. Hand tools that every shop has are taken for granted."""

    saw: bool = True  # rabbets, grooves and tenons on a table saw
    router: bool = True
    drill: bool = True  # dowel holes square and in line
    pocket_jig: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What a choice is made from: part a is entered, part b stands against it or in it.

    `outer` is what is seen of the outer face of a; `pockets_hidden` says that a face of b may hold pockets; `border`
    that b meets a along its border; `crossing` that b's grain crosses a's over a width that moves; `edge_shows` that
    somebody looks at the edge of a in which a housing would end, so that it is stopped behind it; `banded` that the
    edge of b there has a band.
    """

    a: Member
    b: Member
    load: Load = Load.SHELF
    outer: Shown = Shown.PAINT
    pockets_hidden: bool = True
    border: bool = False
    crossing: bool = False
    edge_shows: bool = False
    banded: bool = False
    shop: Abilities = Abilities()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The kind, why it is that one, and the better ones with what ruled each out."""

    kind: JointKind
    why: str
    ruled_out: tuple[tuple[JointKind, str], ...] = ()


class NoJointError(Exception):
    """None of the kinds that were preferred can be made; `ruled_out` says why, kind by kind."""

    def __init__(self, ruled_out: tuple[tuple[JointKind, str], ...]) -> None:
        super().__init__("; ".join(f"{kind.value}: {why}" for kind, why in ruled_out) or "no kind of joint is wanted")
        self.ruled_out = ruled_out


def choose(preferences: Sequence[JointKind], case: Case) -> Choice:
    """Return the first kind that can be made. Raises NoJointError where none can."""
    out: list[tuple[JointKind, str]] = []
    for kind in preferences:
        against = objection(kind, case)
        if against is None:
            return Choice(kind=kind, why=_why(kind, out), ruled_out=tuple(out))
        out.append((kind, against))
    raise NoJointError(tuple(out))


def objection(kind: JointKind, case: Case) -> str | None:
    """Return what speaks against a kind of joint, or None."""
    rule = _RULES.get(kind)
    return f"{kind.value} is not chosen by itself" if rule is None else rule(case)


def able(machines: Machines) -> Abilities:
    """Return what a shop with these machines can do."""
    router = machines.of("router") is not None
    return Abilities(
        saw=machines.of("table saw") is not None,
        router=router,
        drill=machines.of("drill") is not None,
        pocket_jig=machines.of("pocket jig") is not None,
    )


def _why(kind: JointKind, out: Sequence[tuple[JointKind, str]]) -> str:
    return REASONS[kind] if not out else "; ".join(f"no {k.value}: {w}" for k, w in out)


def _first(*objections: str | None) -> str | None:
    return next((o for o in objections if o is not None), None)


def _said(condition: bool, text: str) -> str | None:
    return text if condition else None


def _thin_edge(c: Case) -> str | None:
    thin = c.b.form is Form.SHEET and c.b.thickness < LEAST_SHEET
    return _said(thin, f"the edge of a {c.b.thickness:.0f} mm sheet splits")


def _end_grain_alone(c: Case) -> str | None:
    solid_end = c.b.form is not Form.SHEET and c.b.end
    return _said(solid_end and c.load is Load.HEAVY, "screws in end grain alone carry no heavy load")


def _crossing(c: Case) -> str | None:
    return _said(c.crossing, "glue across the grain of wide solid wood tears")


def _screws(c: Case) -> str | None:
    return _first(
        _said(c.outer is Shown.CLEAR, "its heads would show under a clear finish"),
        _thin_edge(c),
        _end_grain_alone(c),
    )


def _pockets(c: Case) -> str | None:
    return _first(
        _said(not c.shop.pocket_jig, "the shop has no pocket jig"),
        _said(not c.pockets_hidden, "both faces show, and pockets with them"),
        _thin_edge(c),
        _said(c.load is Load.HEAVY, "pocket screws alone carry no heavy load"),
    )


def _housing(c: Case) -> str | None:
    return _first(
        _said(not (c.shop.router or c.shop.saw), "the shop has neither router nor table saw"),
        _said(c.a.thickness < LEAST_HOUSING, f"{c.a.thickness:.0f} mm is too thin for a housing"),
        _crossing(c),
    )


def _rabbet(c: Case) -> str | None:
    return _first(_said(not c.border, "the parts do not meet at a border"), _housing(c))


def _dado(c: Case) -> str | None:
    return _first(
        _said(c.border, "at a border it would be a rabbet"),
        _said(c.edge_shows and c.banded, "stopped behind the front edge, it would take the ends of the shelf's band"),
        _said(c.edge_shows and not c.shop.router, "the front edge shows, and the shop has no router to stop it there"),
        _housing(c),
    )


def _dowels(c: Case) -> str | None:
    thin = min(c.a.thickness, c.b.thickness)
    return _first(
        _said(not c.shop.drill, "the shop bores no square holes"),
        _said(thin < LEAST_SHEET, f"{thin:.0f} mm is too thin for a dowel"),
        _crossing(c),
    )


def _tenon(c: Case) -> str | None:
    sheet = Form.SHEET in (c.a.form, c.b.form)
    return _first(
        _said(sheet, "sheet goods have no grain that a tenon could stand in"),
        _said(not (c.shop.router or c.shop.drill), "the shop cuts no mortises"),
        _said(not c.b.end, "the part does not meet with its end"),
    )


def _stub_tenon(c: Case) -> str | None:
    return _first(_tenon(c), _said(c.load is Load.HEAVY, "too short for a heavy load"))


def _half_lap(c: Case) -> str | None:
    same = abs(c.a.thickness - c.b.thickness) < 0.05
    return _first(
        _said(Form.SHEET in (c.a.form, c.b.form), "half laps are made in solid wood"),
        _said(not same, "the parts differ in thickness"),
        _said(not (c.shop.router or c.shop.saw), "the shop has neither router nor table saw"),
    )


def _glue(c: Case) -> str | None:
    return _first(
        _crossing(c),
        _said(c.b.end and c.b.form is not Form.SHEET, "end grain holds little glue"),
        _said(c.load is not Load.LIGHT, "glue on a butted edge alone carries no load"),
    )


def _pins(c: Case) -> str | None:
    return _first(
        _said(c.load is not Load.LIGHT, "pins carry no load"),
        _said(c.outer is Shown.CLEAR, "filled pin holes show under a clear finish"),
        _crossing(c),
    )


_RULES: dict[JointKind, Callable[[Case], str | None]] = {
    JointKind.BUTT_SCREWS: _screws,
    JointKind.POCKET_SCREWS: _pockets,
    JointKind.RABBET: _rabbet,
    JointKind.DADO: _dado,
    JointKind.GROOVE: _housing,
    JointKind.DOWEL: _dowels,
    JointKind.TENON: _tenon,
    JointKind.STUB_TENON: _stub_tenon,
    JointKind.HALF_LAP: _half_lap,
    JointKind.GLUE: _glue,
    JointKind.EDGE_GLUE: lambda c: _first(_crossing(c), _said(c.b.end, "end grain holds little glue")),
    JointKind.PINS: _pins,
}
REASONS: dict[JointKind, str] = {
    JointKind.BUTT_SCREWS: "quick and strong, and the heads are hidden or filled under paint",
    JointKind.POCKET_SCREWS: "quick and strong, and its pockets are hidden",
    JointKind.RABBET: "glue on two faces, and it squares the corner",
    JointKind.DADO: "the load bears on wood, and nothing shows",
    JointKind.GROOVE: "the panel is held on all sides and free to move",
    JointKind.DOWEL: "no head and no hole shows",
    JointKind.TENON: "the strongest joint of a frame, long grain glued to long grain",
    JointKind.STUB_TENON: "it stands in the panel's own groove",
    JointKind.HALF_LAP: "long grain glued to long grain, flush",
    JointKind.GLUE: "long grain or sheet on sheet: the glue is stronger than the wood",
    JointKind.EDGE_GLUE: "long grain to long grain: the glue is stronger than the wood",
    JointKind.PINS: "the glue holds; the pins are its clamps",
}
