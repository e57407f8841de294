"""The shop's stock as a block asks for it: by role, with measured sizes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

from casewright.design.draft import Material
from casewright.design.joints.auto import Abilities
from casewright.design.parts import Form
from casewright.shop.model import Practice, StockSizes
from casewright.shop.sizes import thickness_of
from casewright.stock.fittings import EdgeBand
from casewright.stock.model import Board, Item, Pin, Screw, Sheet, Slide, Species, Stick

T = TypeVar("T")

SAME_LENGTH = 1.0  # mm: screws that differ by less hold alike

# (thickness up to, screw length) in mm: 1/2→1, 5/8→1, 3/4→1-1/4, 7/8→1-1/2, 1→1-1/2, 1-1/8→1-3/4, 1-1/4→2 in.
POCKET_LENGTHS = ((13.5, 25.4), (17.0, 25.4), (20.5, 31.75), (24.0, 38.1), (27.0, 38.1), (30.0, 44.45), (33.0, 50.8))


class KitError(Exception):
    """The shop's stock does not hold what a role or a joint needs."""

    def __init__(self, what: str, expected: str, got: str) -> None:
        super().__init__(f"{what}: needs {expected}, got {got}")
        self.what, self.expected, self.got = what, expected, got


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """What a builder may take from: which stock serves which role, measured, the shop's practice, what it can do.

    `finish` and `top_finish` are the schedules of the piece's body and of its top (keys of `finish_steps`).
    """

    sizes: StockSizes
    practice: Practice
    abilities: Abilities = field(default_factory=Abilities)
    finish: str = "paint"
    top_finish: str = "clear"

    def role(self, role: str, kind: type[T]) -> T:
        """Return the first stock item of a role. Raises KitError where none is of that kind."""
        try:
            return self.sizes.one(role, kind)
        except KeyError as missing:
            raise KitError(f"role {role!r}", f"a {kind.__name__.lower()}", str(missing.args[0])) from None

    def all(self, role: str, kind: type[T]) -> tuple[T, ...]:
        """Return every item of a role. Raises KitError where none is of that kind."""
        self.role(role, kind)
        return self.sizes.all(role, kind)

    def band(self, thickness: float) -> EdgeBand:
        """Return the first edge band as wide as an edge is thick (mm), or the first of all, which is then found."""
        bands = self.all("edge_band", EdgeBand)
        return next((b for b in bands if b.width >= thickness), bands[0])

    def sheet(self, role: str) -> Sheet:
        """Return the sheet of a role, its thickness the measured one."""
        return self.role(role, Sheet)

    def panel_thickness(self, role: str) -> float:
        """Return the thickness in mm of what serves a role: a sheet as measured, a board as dressed."""
        try:
            return thickness_of(self.sizes.panel(role))
        except KeyError as missing:
            raise KitError(f"role {role!r}", "a sheet or board", str(missing.args[0])) from None

    def board(self, role: str) -> Board:
        """Return the board of a role."""
        return self.role(role, Board)

    def stick(self, role: str) -> Stick:
        """Return the stick of a role."""
        return self.role(role, Stick)

    def fibreboards(self) -> frozenset[str]:
        """Return the ids of the fibreboards among the stock that serves roles: their dust is worse than wood's."""
        served = (item for _, items in self.sizes.roles for item in items)
        return frozenset(i.id for i in served if isinstance(i, Sheet) and i.material == "mdf")

    def slides(self) -> tuple[Slide, ...]:
        """Return every slide in stock."""
        return self.all("slide", Slide)

    def blocking(self, thickness: float, finish: str = "") -> Material:
        """Return what blocking of a thickness (mm) is planed from: the thinnest board of its role that gives it.

        A thin strip out of a thick board would be mostly shavings. Where no board is thick enough it is the first of
        the role; that no stock holds the part is found with its layout.
        """
        boards = (b for b in self.all_of("blocking") if isinstance(b, Board) and b.dressed >= thickness - 1e-6)
        item = min(boards, key=lambda b: b.dressed, default=None)
        return self._cut_from(item, finish) if item else self.material("blocking", finish)

    def material(self, role: str, finish: str = "") -> Material:
        """Return what parts of a role are cut from."""
        return self._cut_from(self.all_of(role)[0], finish)

    def all_of(self, role: str) -> tuple[Item, ...]:
        """Return every item of a role, of whatever kind, first choice first. Raises KitError for an unknown role."""
        try:
            return self.sizes.items(role)
        except KeyError as missing:
            raise KitError(f"role {role!r}", "a stock item", str(missing.args[0])) from None

    def _cut_from(self, item: Item, finish: str) -> Material:
        if isinstance(item, Sheet):
            return Material(form=Form.SHEET, item=item.id, density=item.density, grain=item.grain, finish=finish)
        if isinstance(item, Board):
            wood = self.species(item)
            return Material(
                form=Form.BOARD, item=item.id, density=wood.density or 600.0, hard=_hard(wood), finish=finish
            )
        if isinstance(item, Stick):
            return Material(form=Form.STICK, item=item.id, density=item.density, finish=finish)
        raise KitError("parts", "a sheet, board or stick", type(item).__name__.lower())

    def species(self, board: Board) -> Species:
        """Return the species of a board. Raises KitError for an unknown one."""
        try:
            return self.sizes.species(board)
        except KeyError as missing:
            raise KitError(board.id, "a species", str(missing.args[0])) from None

    def named_screw(self, id_: str) -> Screw:
        """Return the screw that a hardware item asks for. Raises KitError if it is not in stock."""
        try:
            return self.sizes.screw(id_)
        except KeyError:
            raise KitError("hardware", f"screw {id_!r}", "none in stock") from None

    def screw(
        self, kind: str, gauge: int | None, least: float, most: float, *, role: str = "", shortest: bool = False
    ) -> Screw:
        """Return the longest (or shortest) screw of a kind with a length in [least, most] mm.

        One of those that serve the role, of whatever gauge; without a role any in stock of the gauge. Of lengths that
        are as good as the same the one that the role names first: nobody keeps #8 × 1-3/4 in and 45 mm for one case.
        Raises KitError if there is none.
        """
        served = self.all(role, Screw) if role else self.sizes.screws
        right = [s for s in served if s.kind == kind and least - 1e-6 <= s.length <= most + 1e-6]
        fits = [s for s in right if role or gauge is None or s.gauge in (gauge, None)]
        if not fits:
            what = f"role {role!r}" if role else f"#{gauge} screw" if gauge else "screws"
            got = ", ".join(s.id for s in served) if role else "none in stock"
            raise KitError(what, f"a {kind} screw of {least:.1f} to {most:.1f} mm", got)
        best = (min if shortest else max)(fits, key=lambda s: (s.length, s.id))
        alike = [s for s in fits if role and s.gauge == best.gauge and abs(s.length - best.length) < SAME_LENGTH]
        return alike[0] if alike else best

    def pin(self, role: str, through: float, into: float) -> Pin:
        """Return the pin of a role for `through` mm of the first part and `into` mm of the second.

        The shortest whose bite is 10 mm or twice what it goes through, whichever is less; if the second part is too
        thin for that, the longest that stays in it with a bite of 6 mm. Raises KitError if there is none.
        """
        most = through + into - self.practice["fastener.point_cover"]
        pins = sorted(self.all(role, Pin), key=lambda p: (p.length, p.id))
        held = [p for p in pins if through + 6.0 <= p.length <= most]
        good = [p for p in held if p.length >= through + min(10.0, 2 * through)]
        if not held:
            raise KitError(
                f"{role} through {through:.1f} mm", f"a length of {through + 6:.1f} to {most:.1f} mm", "none"
            )
        return good[0] if good else held[-1]

    def pocket_screw(self, thickness: float, hard: bool = False) -> Screw:
        """Return the pocket screw for stock of a thickness in mm (fact book §8: 3/4 takes 1-1/4 in, and so on).

        Coarse thread for softwood, plywood and MDF, fine for hardwood. Raises KitError if it is not in stock.
        """
        length = next((s for t, s in POCKET_LENGTHS if thickness <= t), 63.5)
        role, kind = ("frame_screw", "pocket-fine") if hard else ("sheet_screw", "pocket-coarse")
        return self.screw(kind, None, length - 2.0, length + 0.6, role=role)


def _hard(wood: Species) -> bool:
    # The pilot columns of screw tables: hard from a specific gravity of 0.5 (NDS 12.1.5 draws its line there).
    return (wood.specific_gravity or 0.0) > 0.5
