"""What the layouts must lay out: parts of all pieces gathered by stock item, with the stock that serves them.

The layout room knows nothing of designs; this module speaks both languages.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from casewright.design.assembly import PieceDesign
from casewright.design.blanks import Face
from casewright.design.blocks.feet_steps import stays_paired
from casewright.design.features.shaping import EndCut
from casewright.design.frames import cosd
from casewright.design.marks import Mark, mark_key
from casewright.design.parts import Form, Intent, Part, Placed
from casewright.layout.model import (
    Axis,
    BoardDemand,
    BoardPart,
    BoardStock,
    Goal,
    Saws,
    SheetDemand,
    SheetPart,
    SheetStock,
    StickDemand,
    StickEnd,
    StickPart,
    StickStock,
    to_grid_down,
    to_grid_up,
)
from casewright.shop.model import Cutting, Machines, Practice, Prices
from casewright.shop.slices import Machine
from casewright.stock.boards import board_feet
from casewright.stock.model import Board, Item, Sheet, Stick

CENTS = 100
PAIR = "+"  # between the marks of two pieces that stay together
USUAL = Cutting()
SHEET_SAWS = ("table saw", "panel saw", "track saw")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """One mark of a stock item: its part, how many the order needs, and a name for it."""

    mark: str
    part: Part
    count: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockNeed:
    """One stock item and everything that is cut from it; `demand` is what its layout answers."""

    item: str
    form: Form
    wanted: tuple[Wanted, ...]
    demand: SheetDemand | StickDemand | BoardDemand


@dataclass(slots=True)
class _Tally:
    part: Part
    name: str
    count: int = 0
    names: set[str] = field(default_factory=set)


def gather(pieces: Iterable[PieceDesign], marks: Mapping[str, Mark]) -> dict[tuple[Form, str], tuple[Wanted, ...]]:
    """Return what is wanted of each (form, stock item), in the order in which marks appear."""
    tallies: dict[str, _Tally] = {}
    for piece in pieces:
        for placed in piece.placed:
            if isinstance(placed.thing, Part):
                _count(tallies, placed, piece.count)
    out: dict[tuple[Form, str], list[Wanted]] = {}
    for key, t in tallies.items():
        wanted = Wanted(mark=marks[key].label, part=t.part, count=t.count, name=t.name)
        out.setdefault((t.part.form, t.part.stock), []).append(wanted)
    return {k: tuple(v) for k, v in sorted(out.items(), key=lambda kv: (list(Form).index(kv[0][0]), kv[0][1]))}


def _count(tallies: dict[str, _Tally], placed: Placed, times: int) -> None:
    key = mark_key(placed.part)
    tally = tallies.setdefault(key, _Tally(part=placed.part, name=placed.name))
    tally.count += times


def needs(
    pieces: Iterable[PieceDesign],
    marks: Mapping[str, Mark],
    items: Mapping[str, Item],
    practice: Practice,
    machines: Machines,
    prices: Prices,
    cutting: Cutting = USUAL,
) -> tuple[StockNeed, ...]:
    """Return one need for each stock item that parts are cut from."""
    out = []
    for (form, item_id), wanted in gather(pieces, marks).items():
        item = items[item_id]
        price = prices.of(item_id)
        each = price.amount if price else 0.0
        if isinstance(item, Sheet):
            demand: SheetDemand | StickDemand | BoardDemand = sheet_demand(
                item, wanted, practice, machines, each, cutting
            )
        elif isinstance(item, Stick):
            demand = stick_demand(item, wanted, practice, machines, each)
        elif isinstance(item, Board):
            demand = board_demand(item, wanted, practice, machines, each)
        else:
            raise TypeError(f"{item_id} is no stock that parts are cut from")
        out.append(StockNeed(item=item_id, form=form, wanted=wanted, demand=demand))
    return tuple(out)


def sheet_demand(
    item: Sheet,
    wanted: tuple[Wanted, ...],
    practice: Practice,
    machines: Machines,
    price: float,
    cutting: Cutting = USUAL,
) -> SheetDemand:
    """Return the sheet problem: factory edges trimmed, grain along the sheet, pieces that one person can lift."""
    trim = to_grid_up(practice["sheet.trim"])
    runs = _runs(wanted)
    parts = tuple(
        SheetPart(
            id=w.mark,
            length=to_grid_up(w.part.rough[0]),
            width=to_grid_up(w.part.rough[1]),
            count=w.count,
            turn=not (item.grain and w.part.grain),
            group=runs.get(w.mark, ""),
            sequence=w.part.run_place,
        )
        for w in wanted
    )
    new = SheetStock(
        id=item.id,
        length=to_grid_down(item.length),
        width=to_grid_down(item.width),
        price=round(price * CENTS),
        trim=(trim, trim, trim, trim),
    )
    keep = to_grid_up(practice["offcut.least"])
    return SheetDemand(
        parts=parts,
        stock=(*_offcuts(item, cutting), new),
        saws=_saws(item, practice, machines),
        goals=tuple(Goal[name.upper()] for name in cutting.goals),
        first=Axis(cutting.first_cut) if cutting.first_cut else None,
        stages=cutting.stages,
        keep_length=keep,
        keep_width=keep,
    )


def _offcuts(item: Sheet, cutting: Cutting) -> tuple[SheetStock, ...]:
    """Return the shop's offcuts of a sheet, sawn edges all round."""
    return tuple(
        SheetStock(
            id=f"{item.id}/offcut-{number}",
            length=to_grid_down(offcut.length),
            width=to_grid_down(offcut.width),
            count=offcut.count,
            offcut=True,
        )
        for number, offcut in enumerate(cutting.offcuts, 1)
        if offcut.item == item.id
    )


def _saws(item: Sheet, practice: Practice, machines: Machines) -> Saws:
    lift = _lift_length(item, machines)
    return Saws(
        kerf=to_grid_up(machines.kerf(*SHEET_SAWS)),
        breakdown_kerf=to_grid_up(machines.kerf("track saw", "table saw")),
        breakdown_allowance=to_grid_up(practice["sheet.breakdown"]),
        lift_length=to_grid_down(lift) if lift < item.length else None,
        lift_width=to_grid_down(item.width) if lift < item.length else None,
        widest_crosscut=_longest_line(item.width, [m.crosscut_most for m in _sheet_saws(machines)]),
        longest_rip=_longest_line(
            item.length, [m.rip_most if m.kind == "track saw" else None for m in _sheet_saws(machines)]
        ),
    )


def _sheet_saws(machines: Machines) -> list[Machine]:
    return [m for m in machines.machines if m.kind in SHEET_SAWS]


def _longest_line(side: float, most: list[float | None]) -> int | None:
    """Return the longest line that the saws make; None where any saw has no limit, or the sheet asks for no more."""
    limits = [limit for limit in most if limit is not None]
    if not most or len(limits) < len(most) or max(limits) >= side:
        return None
    return to_grid_down(max(limits))


def _runs(wanted: tuple[Wanted, ...]) -> dict[str, str]:
    """Return the run of each mark whose grain must run on from its neighbour's.

    A run is one strip of a sheet, so each of its places is one part: where a piece is made more than once its parts
    share their marks, and nothing can tell which copy belongs to which strip.
    """
    members: dict[str, list[Wanted]] = {}
    for w in wanted:
        if w.part.run:
            members.setdefault(w.part.run, []).append(w)
    whole = {
        run: row
        for run, row in members.items()
        if all(w.count == 1 for w in row) and len({w.part.run_place for w in row}) == len(row) > 1
    }
    return {w.mark: run for run, row in whole.items() for w in row}


def _lift_length(item: Sheet, machines: Machines) -> float:
    """Length of a full-width piece that one person can lift, mm; the sheet's own where it is light enough."""
    weight = item.length * item.width * item.thickness * 1e-9 * item.density
    if machines.lift_one <= 0 or weight <= machines.lift_one:
        return item.length
    return item.length * machines.lift_one / weight


def stick_demand(
    item: Stick, wanted: tuple[Wanted, ...], practice: Practice, machines: Machines, price: float
) -> StickDemand:
    """Return the stick problem: long points, mitre runs, ends of new sticks squared off."""
    stock = tuple(
        StickStock(id=f"{item.id}@{length:g}", length=to_grid_down(length), price=round(price * length / 1000 * CENTS))
        for length in item.lengths
    )
    saw = machines.of("mitre saw")
    kerf = to_grid_up(machines.kerf("mitre saw", "table saw"))
    short = [w for w in wanted if stays_paired(w.part)]
    return StickDemand(
        parts=(*(_stick_part(w) for w in wanted if w not in short), *paired(short, kerf)),
        stock=stock,
        kerf=kerf,
        end_trim=to_grid_up(practice["stick.end_trim"]),
        least_held=to_grid_up(saw.length_least) if saw and saw.length_least else 0,
        keep_length=to_grid_up(practice["offcut.least"]),
        share_mitres=all(_survives_turn(w.part) for w in wanted),
    )


def paired(short: Sequence[Wanted], kerf: int) -> tuple[StickPart, ...]:
    """Return pieces that stay together in pairs, those of a mark as far as there are two, the kerf between them.

    A last one without a fellow is a part by itself.
    """
    each = [w for w in short for _ in range(w.count)]
    pairs = Counter(zip([w.mark for w in each[::2]], [w.mark for w in each[1::2]], strict=False))
    lengths = {w.mark: to_grid_up(w.part.rough[0]) for w in short}
    made = [
        StickPart(
            id=pair_id(a, b),
            length=lengths[a] + kerf + lengths[b],
            count=count,
            run=pair_id(a, b),
            parted=lengths[a] + kerf // 2,
        )
        for (a, b), count in pairs.items()
    ]
    return (*made, *(_stick_part(replace(w, count=1)) for w in each[len(each) // 2 * 2 :]))


def pair_id(a: str, b: str) -> str:
    """Return the name of two pieces of a stick that stay together until they are worked."""
    return f"{a}{PAIR}{b}"


def marks_in(part: str) -> tuple[str, ...]:
    """Return the marks of what a layout lays out as one piece."""
    return tuple(part.split(PAIR))


def _survives_turn(part: Part) -> bool:
    """True where a piece may lie end for end: its ends are square or mitred across a section alike on both sides.

    A bevel never shares: the turn would bring the back of the piece to its face.
    """
    cuts = [f for f in part.features if isinstance(f, EndCut) and (f.mitre or f.bevel)]
    if not cuts:
        return True
    section, width = part.blank.section, part.blank.width
    if any(f.bevel for f in cuts):
        return False
    if section is None:
        return True
    points = section.points(0.05)
    return {(round(y, 1), round(z, 1)) for y, z in points} == {(round(width - y, 1), round(z, 1)) for y, z in points}


def _stick_part(w: Wanted) -> StickPart:
    left, right = _end(w.part, Face.END0), _end(w.part, Face.END1)
    return StickPart(
        id=w.mark,
        length=to_grid_up(w.part.rough[0]),
        count=w.count,
        left=left[0],
        right=right[0],
        left_run=to_grid_up(left[1]),
        right_run=to_grid_up(right[1]),
        run=w.mark,
    )


def _end(part: Part, face: Face) -> tuple[StickEnd, float]:
    """Return how an end is cut, and how far its short point lies behind its long point, mm."""
    for f in part.features:
        if isinstance(f, EndCut) and f.face is face and (f.mitre or f.bevel):
            n = f.normal()
            reach = abs(n[1] * part.blank.width) + abs(n[2] * part.blank.thickness)
            return StickEnd.MITRE, reach / abs(cosd(f.bevel) * cosd(f.mitre))
    return StickEnd.SQUARE, 0.0


def board_demand(
    item: Board, wanted: tuple[Wanted, ...], practice: Practice, machines: Machines, price: float
) -> BoardDemand:
    """Return the board problem: every usual length and width may be bought, priced by the board foot."""
    parts = tuple(_board_part(w, practice) for w in wanted)
    stock = tuple(
        BoardStock(
            id=f"{item.id}@{length:g}x{width:g}",
            length=to_grid_down(length),
            width=to_grid_down(width),
            price=math.ceil(board_feet(item.rough, width, length) * price * CENTS),
        )
        for length in item.lengths
        for width in item.widths
    )
    return BoardDemand(
        parts=parts,
        stock=stock,
        kerf=to_grid_up(machines.kerf("table saw", "band saw")),
        end_trim=to_grid_up(practice["board.end_trim"]),
        edge_trim=to_grid_up(practice["board.edge_trim"]),
        keep_length=to_grid_up(practice["offcut.least"]),
        keep_width=to_grid_up(practice["board.keep_width"]),
    )


def _board_part(w: Wanted, practice: Practice) -> BoardPart:
    made = w.part.blank.made_of
    return BoardPart(
        id=w.mark,
        length=to_grid_up(w.part.rough[0]),
        width=to_grid_up(w.part.rough[1]),
        count=w.count,
        strip_min=to_grid_up(made.strip_min) if made else 0,
        strip_max=to_grid_down(made.strip_max) if made else 0,
        jointing=to_grid_up(made.jointing) if made else 0,
        show=any(u.intent is Intent.SHOWS for u in w.part.faces),
        match=w.mark if made else "",
    )
