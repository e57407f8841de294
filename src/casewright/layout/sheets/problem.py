"""A sheet demand as the solvers see it: things to lay (parts, and groups as one block), sheets, what is hopeless.

A group of matched parts becomes one `Thing` whose shapes are the rows and columns in which it can lie.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.layout.model import Cut, Laid, Rest, SheetDemand, SheetPart, SheetStock, Unplaced
from casewright.layout.sheets.plates import Plate, Rules, Size

MOST_KINDS = 20_000


@dataclass(frozen=True, slots=True)
class Shape:
    """One way in which a thing can lie: its outer size, parts turned or not, a group's split (−1 for a part)."""

    size: Size
    turned: bool
    split: int = -1


@dataclass(frozen=True, slots=True)
class Thing:
    """A part, or a whole group laid side by side; `count` of them are wanted."""

    members: tuple[SheetPart, ...]
    count: int
    shapes: tuple[Shape, ...]

    @property
    def area(self) -> int:
        """Net area of its parts."""
        return sum(part.length * part.width for part in self.members)


@dataclass(frozen=True, slots=True)
class Problem:
    """What the solvers work on; sheets have their trim off, `left` is how many of each may still be used."""

    demand: SheetDemand
    rules: Rules
    things: tuple[Thing, ...]
    sheets: tuple[SheetStock, ...]
    inner: tuple[Size, ...]
    left: tuple[int | None, ...]
    hopeless: tuple[Unplaced, ...]
    locked_cost: int


def read(demand: SheetDemand) -> Problem:
    """Sort a demand into what can be laid and what cannot, with the reason."""
    rules = Rules.of(demand)
    used: Counter[str] = Counter()
    for pattern in demand.locked:
        used[pattern.stock] += pattern.times
    sheets = tuple(
        sheet for sheet in demand.stock if min(_inner(sheet)) > 0 and (sheet.count is None or sheet.count > 0)
    )
    left = tuple(None if s.count is None else max(0, s.count - used[s.id]) for s in sheets)
    inner = tuple(_inner(sheet) for sheet in sheets)
    hopeless: list[Unplaced] = []
    things: list[Thing] = []
    fault = _fault(demand, sheets)
    for thing in _things(demand, rules):
        why = fault or _why_not(thing, inner, rules)
        if why:
            hopeless += [Unplaced(part=name, count=n, why=why) for name, n in _tally(thing).items() if n > 0]
        elif thing.count > 0:
            things.append(thing)
    prices = {sheet.id: sheet.price for sheet in demand.stock}
    locked = sum(prices.get(pattern.stock, 0) * pattern.times for pattern in demand.locked)
    return Problem(demand, rules, tuple(things), sheets, inner, left, tuple(hopeless), locked)


def _inner(sheet: SheetStock) -> Size:
    left, right, low, high = sheet.trim
    return sheet.length - left - right, sheet.width - low - high


def _tally(thing: Thing) -> Counter[str]:
    tally: Counter[str] = Counter()
    for part in thing.members:
        tally[part.id] += thing.count
    return tally


def _fault(demand: SheetDemand, sheets: tuple[SheetStock, ...]) -> str:
    saws = demand.saws
    ids = [part.id for part in demand.parts]
    if len(ids) > MOST_KINDS:
        return f"{len(ids)} different parts are more than one layout takes ({MOST_KINDS}); split the order"
    if len(set(ids)) != len(ids):
        return f"part {next(i for i, n in Counter(ids).items() if n > 1)} is listed twice; give each part its own name"
    if min(saws.kerf, saws.breakdown_kerf, saws.breakdown_allowance) < 0:
        return f"kerf {saws.kerf} and breakdown allowance {saws.breakdown_allowance} must not be negative"
    if demand.stages is not None and demand.stages < 1:
        return f"{demand.stages} stages of cuts is none; ask for at least 1"
    if any(min(sheet.trim) < 0 or sheet.price < 0 for sheet in sheets):
        return "a sheet has a negative trim or price"
    return "" if sheets else "there is no sheet to cut from (none left, or trimmed away)"


def _why_not(thing: Thing, inner: tuple[Size, ...], rules: Rules) -> str:
    for part in thing.members:
        if min(part.length, part.width) <= 0 or part.count < 0:
            return f"its size {part.length} x {part.width} and count {part.count} must be more than 0"
    if not thing.shapes:
        return "the group's parts cannot be cut side by side on these saws"
    for size in inner:
        for shape in thing.shapes:
            if any(lay(rules, Plate(0, 0, size), thing, shape, order) for order in ((0, 1), (1, 0))):
                return ""
    if any(s.size[0] <= size[0] and s.size[1] <= size[1] for s in thing.shapes for size in inner):
        return "it fits a sheet, but the saws cannot cut it out (longest rip, widest crosscut, stages)"
    what = "as a group it is" if len(thing.members) > 1 else "it is"
    return f"{what} larger than every sheet (as its grain must lie)"


def _things(demand: SheetDemand, rules: Rules) -> Iterator[Thing]:
    """Parts and groups still wanted beyond the locked patterns."""
    done = Counter(
        laid.part for pattern in demand.locked for _ in range(pattern.times) for laid in laid_in(pattern.root)
    )
    groups: dict[str, list[SheetPart]] = {}
    for part in demand.parts:
        if part.group and part.count > 0 and not done[part.id]:
            groups.setdefault(part.group, []).append(part)
        else:
            yield Thing((part,), part.count - done[part.id] if part.count > 0 else 1, _part_shapes(part))
    for members in groups.values():
        members.sort(key=lambda part: part.sequence)
        row = tuple(part for part in members for _ in range(part.count))
        yield Thing(row, 1, _part_shapes(row[0]) if len(row) == 1 else _group_shapes(row, rules))


def laid_in(piece: Cut | Laid | Rest) -> Iterator[Laid]:
    """All parts of a cut tree."""
    if isinstance(piece, Cut):
        for below in piece.pieces:
            yield from laid_in(below)
    elif isinstance(piece, Laid):
        yield piece


def _part_shapes(part: SheetPart) -> tuple[Shape, ...]:
    shapes = [Shape((part.length, part.width), False)]
    if part.turn and part.length != part.width:
        shapes.append(Shape((part.width, part.length), True))
    return tuple(shapes)


def _group_shapes(row: tuple[SheetPart, ...], rules: Rules) -> tuple[Shape, ...]:
    shapes = []
    for turned in (False, True) if all(part.turn for part in row) else (False,):
        sizes = [(part.width, part.length) if turned else (part.length, part.width) for part in row]
        for split in (0, 1):
            along, across = sum(size[split] for size in sizes), max(size[1 - split] for size in sizes)
            for kerf in (rules.kerf, rules.rough):
                long = along + kerf * (len(row) - 1)
                size = (long, across) if split == 0 else (across, long)
                if rules.liftable(size) == (kerf == rules.kerf) or kerf == rules.rough:
                    shapes.append(Shape(size, turned, split))
                    break
    return tuple(shapes)


def lay(rules: Rules, plate: Plate, thing: Thing, shape: Shape, order: tuple[int, int]) -> bool:
    """Cut a thing out of the near corner of a plate, the splits in `order`; False, plate untouched, if that fails."""
    if shape.size[0] > plate.size[0] or shape.size[1] > plate.size[1]:
        return False
    trial = plate.fresh()
    block = rules.trim(trial, shape.size, order)
    if block is None or not (_lay_part if shape.split < 0 else _lay_group)(rules, block, thing, shape):
        return False
    plate.adopt(trial)
    return True


def _lay_part(_rules: Rules, block: Plate, thing: Thing, shape: Shape) -> bool:
    block.laid = _laid(thing.members[0], block, shape.turned)
    return True


def _lay_group(rules: Rules, block: Plate, thing: Thing, shape: Shape) -> bool:
    for index, part in enumerate(thing.members):
        size = (part.width, part.length) if shape.turned else (part.length, part.width)
        rest: Plate | None = None
        if index < len(thing.members) - 1:
            pieces = rules.cut(block, shape.split, size[shape.split])
            if pieces is None:
                return False
            block, rest = pieces
        piece = rules.trim(block, size, (shape.split, 1 - shape.split))
        if piece is None:
            return False
        piece.laid = _laid(part, piece, shape.turned)
        block = rest or block
    return True


def _laid(part: SheetPart, plate: Plate, turned: bool) -> Laid:
    return Laid(part=part.id, x=plate.x, y=plate.y, length=plate.size[0], width=plate.size[1], turned=turned)
