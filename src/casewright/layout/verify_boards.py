"""The independent check of a board layout: the cut trees are sawn again, and panels glued up again.

It shares no code with the solver (see also `verify_plan`) and does not trust its figures.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from casewright.layout.model import (
    Axis,
    BoardDemand,
    BoardLayout,
    BoardPart,
    BoardPattern,
    BoardStock,
    Cut,
    Laid,
    Rest,
    Strip,
)
from casewright.layout.verify_plan import counts, outcome_stated, stock_used

Plate = tuple[int, int, int, int]  # x, y, length, width


def verify_boards(demand: BoardDemand, layout: BoardLayout) -> tuple[str, ...]:
    """Return what is wrong with `layout` as an answer to `demand`; empty when every rule holds."""
    parts = {p.id: p for p in demand.parts}
    stock = {s.id: s for s in demand.stock}
    wrong: list[str] = []
    for number, pattern in enumerate(layout.patterns, 1):
        where = f"board {number} ({pattern.stock})"
        wrong += [f"{where}: {text}" for text in _board(demand, parts, stock, pattern)]
    wrong += counts(demand.parts, _cut(parts, layout), layout.unplaced, {})
    wrong += stock_used(demand.stock, layout.patterns)
    wrong += _panels(parts, layout)
    wrong += _kept_together(parts, layout)
    sizes = {s.id: s.length * s.width for s in demand.stock}
    wrong += outcome_stated(layout.outcome, demand.goals, stock, layout.patterns, sizes, layout.unplaced)
    return tuple(wrong)


# --- one board ------------------------------------------------------------------------------------


def _board(
    demand: BoardDemand, parts: dict[str, BoardPart], stock: dict[str, BoardStock], pattern: BoardPattern
) -> Iterator[str]:
    source = stock.get(pattern.stock)
    if source is None:
        yield "no such stock in the demand"
        return
    if pattern.times < 1:
        yield f"made {pattern.times} times, which is less than once"
    end, edge = (0, 0) if source.offcut else (demand.end_trim, demand.edge_trim)
    x, y, length, width = _plate(pattern.root)
    if x < end or y < edge or x + length > source.length - end or y + width > source.width - edge:
        yield f"the plate {x, y, length, width} reaches into the trim or beyond the board"
    yield from _tree(demand, pattern.root)
    if isinstance(pattern.root, Cut) and pattern.rip_first is not (pattern.root.axis is Axis.RIP):
        yield "the first cut is not in the direction that the pattern states"
    laid = list(_leaves(pattern.root))
    if not laid:
        yield "nothing is cut from it"
    for leaf in laid:
        yield from _leaf(parts, source, pattern, leaf)


def _plate(node: Cut | Laid | Rest) -> Plate:
    return node.x, node.y, node.length, node.width


def _tree(demand: BoardDemand, node: Cut | Laid | Rest) -> Iterator[str]:
    if not isinstance(node, Cut):
        if isinstance(node, Laid) and node.turned:
            yield f"{node.part} lies across the board"
        return
    if node.kerf != demand.kerf:
        yield f"a cut has a kerf of {node.kerf}, the saw takes {demand.kerf}"
    plates = _sawn(node)
    if len(plates) != len(node.pieces):
        yield f"{len(node.lines)} lines make {len(plates)} pieces, the plan has {len(node.pieces)}"
    for plate, child in zip(plates, node.pieces, strict=False):
        if plate != _plate(child):
            yield f"the saw leaves a piece {plate}, the plan says {_plate(child)}"
        yield from _tree(demand, child)


def _sawn(cut: Cut) -> list[Plate]:
    low, high = (cut.y, cut.y + cut.width) if cut.axis is Axis.RIP else (cut.x, cut.x + cut.length)
    spans: list[tuple[int, int]] = []
    for line in cut.lines:
        spans.append((low, line - low))
        low = min(high, line + cut.kerf)
    spans.append((low, high - low))
    if cut.axis is Axis.RIP:
        return [(cut.x, at, cut.length, size) for at, size in spans]
    return [(at, cut.y, size, cut.width) for at, size in spans]


def _leaves(node: Cut | Laid | Rest) -> Iterator[Laid]:
    if isinstance(node, Laid):
        yield node
    elif isinstance(node, Cut):
        for child in node.pieces:
            yield from _leaves(child)


def _leaf(parts: dict[str, BoardPart], source: BoardStock, pattern: BoardPattern, leaf: Laid) -> Iterator[str]:
    name, _, place = leaf.part.partition("#")
    part = parts.get(name)
    if part is None:
        yield f"no such part in the demand: {name}"
        return
    if leaf.length != part.length:
        yield f"{leaf.part} is {leaf.length} long, wanted {part.length}"
    for x0, x1 in source.defects:
        if leaf.x < x1 and leaf.x + leaf.length > x0:
            yield f"{leaf.part} lies from {leaf.x} to {leaf.x + leaf.length}, over the unusable stretch {x0}–{x1}"
    if bool(place) is not bool(part.strip_min):
        yield f"{leaf.part}: a panel is cut as numbered strips, and nothing else is"
    elif place:
        if pattern.times != 1:
            yield f"{leaf.part} would be cut {pattern.times} times"
        if not any(f"{s.part}#{s.copy}/{s.place}" == leaf.part for s in pattern.strips):
            yield f"strip {leaf.part} is not among the board's strips"
    elif leaf.width != part.width:
        yield f"{leaf.part} is {leaf.width} wide, wanted {part.width}"


# --- the whole plan -------------------------------------------------------------------------------


def _cut(parts: dict[str, BoardPart], layout: BoardLayout) -> Counter[str]:
    placed: Counter[str] = Counter()
    for pattern in layout.patterns:
        for leaf in _leaves(pattern.root):
            if leaf.part in parts:
                placed[leaf.part] += pattern.times
    for name, _, _ in layout.panels:
        placed[name] += 1
    return placed


def _panels(parts: dict[str, BoardPart], layout: BoardLayout) -> Iterator[str]:
    widths: dict[str, int] = {}
    for leaf in (leaf for pattern in layout.patterns for leaf in _leaves(pattern.root) if "#" in leaf.part):
        if leaf.part in widths:
            yield f"strip {leaf.part} is cut twice"
        widths[leaf.part] = leaf.width
    for name, copy, strips in layout.panels:
        if name not in parts:
            yield f"no such panel in the demand: {name}"
        else:
            yield from _panel(parts[name], copy, strips, widths)
    named = {f"{name}#{copy}/{s.place}" for name, copy, strips in layout.panels for s in strips}
    for stray in sorted(set(widths) - named):
        yield f"strip {stray} belongs to no panel"


def _panel(part: BoardPart, copy: int, strips: tuple[Strip, ...], widths: dict[str, int]) -> Iterator[str]:
    where = f"panel {part.id}, copy {copy}"
    if sum(s.width for s in strips) != part.width:
        yield f"{where}: the strips make {sum(s.width for s in strips)} when glued, wanted {part.width}"
    if [s.place for s in strips] != list(range(1, len(strips) + 1)):
        yield f"{where}: the strips' places are not 1, 2, 3 …"
    for s in strips:
        if s.width < part.strip_min or (part.strip_max and s.width > part.strip_max):
            yield f"{where}: strip {s.place} is {s.width} wide, allowed {part.strip_min} to {part.strip_max}"
        glued_edges = (s.place > 1) + (s.place < len(strips))
        sawn = widths.get(f"{part.id}#{copy}/{s.place}")
        if sawn is None:
            yield f"{where}: strip {s.place} is cut from no board"
        elif sawn != s.width + glued_edges * part.jointing:
            yield f"{where}: strip {s.place} is sawn {sawn} wide, needs {s.width + glued_edges * part.jointing}"


def _kept_together(parts: dict[str, BoardPart], layout: BoardLayout) -> Iterator[str]:
    """A panel's strips, and the parts of one match, lie on boards that follow one another in the plan."""
    on: dict[str, set[int]] = defaultdict(set)
    for number, pattern in enumerate(layout.patterns):
        for leaf in _leaves(pattern.root):
            name = leaf.part.partition("#")[0]
            if "#" in leaf.part:
                on["panel " + leaf.part.partition("/")[0]].add(number)
            if name in parts and parts[name].match:
                on["match " + parts[name].match].add(number)
    for what, numbers in sorted(on.items()):
        if max(numbers) - min(numbers) + 1 != len(numbers):
            yield f"{what} is spread over boards {sorted(n + 1 for n in numbers)}, which are not neighbours"
