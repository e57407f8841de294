"""The independent check of a stick layout: every rule of the demand, read again from the finished plan.

It shares no code with the solver (see also `verify_plan`) and does not trust its figures: ends are drawn as lines
across the stick, and each neighbouring pair of pieces is measured along both faces.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from casewright.layout.model import (
    StickDemand,
    StickEnd,
    StickLayout,
    StickPart,
    StickPattern,
    StickPiece,
    StickStock,
)
from casewright.layout.verify_plan import counts, outcome_stated, stock_used

Line = tuple[int, int]  # where a cut crosses the outer face, and where it crosses the inner face


def verify_sticks(demand: StickDemand, layout: StickLayout) -> tuple[str, ...]:
    """Return what is wrong with `layout` as an answer to `demand`; empty when every rule holds."""
    parts = {p.id: p for p in demand.parts}
    stock = {s.id: s for s in demand.stock}
    wrong: list[str] = []
    for number, pattern in enumerate(layout.patterns, 1):
        where = f"stick {number} ({pattern.stock})"
        wrong += [f"{where}: {text}" for text in _stick(demand, parts, stock, pattern)]
    wrong += counts(demand.parts, _cut(layout.patterns), layout.unplaced, _cut(demand.locked))
    wrong += stock_used(demand.stock, layout.patterns)
    wrong += _locked(demand, layout)
    sizes = {s.id: s.length for s in demand.stock}
    wrong += outcome_stated(layout.outcome, demand.goals, stock, layout.patterns, sizes, layout.unplaced)
    return tuple(wrong)


# --- one stick ------------------------------------------------------------------------------------


def _stick(
    demand: StickDemand, parts: dict[str, StickPart], stock: dict[str, StickStock], pattern: StickPattern
) -> Iterator[str]:
    source = stock.get(pattern.stock)
    if source is None:
        yield "no such stock in the demand"
        return
    unknown = [p.part for p in pattern.pieces if p.part not in parts]
    if unknown:
        yield f"no such part in the demand: {', '.join(unknown)}"
        return
    if pattern.times < 1:
        yield f"made {pattern.times} times, which is less than once"
    if pattern.locked:
        return
    if not pattern.pieces:
        yield "nothing is cut from it"
        return
    yield from _lengths(demand, parts, pattern)
    yield from _inside(demand, source, parts, pattern)
    for a, b in zip(pattern.pieces, pattern.pieces[1:], strict=False):
        yield from _neighbours(demand, parts, a, b)
    yield from _held(demand, source, pattern)
    yield from _sequences(parts, pattern)


def _lengths(demand: StickDemand, parts: dict[str, StickPart], pattern: StickPattern) -> Iterator[str]:
    for piece in pattern.pieces:
        if piece.length != parts[piece.part].length:
            yield f"{piece.part} is {piece.length} long, wanted {parts[piece.part].length}"
        if piece.flipped and not demand.share_mitres:
            yield f"{piece.part} is turned end for end, which this section does not survive"


def _trim(demand: StickDemand, source: StickStock) -> int:
    return 0 if source.offcut else demand.end_trim


def _inside(
    demand: StickDemand, source: StickStock, parts: dict[str, StickPart], pattern: StickPattern
) -> Iterator[str]:
    trim = _trim(demand, source)
    first, last = pattern.pieces[0], pattern.pieces[-1]
    if first.start < trim:
        yield f"{first.part} starts at {first.start}, inside the end trim of {trim}"
    end = last.start + last.length
    usable_end = source.length - trim
    if end > usable_end:
        yield f"{last.part} ends at {end}, beyond the usable end at {usable_end}"
    rest = max(0, usable_end - end - _kerf(demand, _right(parts[last.part], last)))
    if pattern.rest != rest:
        yield f"rest is given as {pattern.rest}, measured {rest}"


def _left(part: StickPart, piece: StickPiece) -> Line:
    kind, run = (part.right, part.right_run) if piece.flipped else (part.left, part.left_run)
    if kind is StickEnd.SQUARE:
        return piece.start, piece.start
    outer = (kind is StickEnd.MITRE) is not piece.flipped
    return (piece.start, piece.start + run) if outer else (piece.start + run, piece.start)


def _right(part: StickPart, piece: StickPiece) -> Line:
    end = piece.start + piece.length
    kind, run = (part.left, part.left_run) if piece.flipped else (part.right, part.right_run)
    if kind is StickEnd.SQUARE:
        return end, end
    outer = (kind is StickEnd.MITRE) is not piece.flipped
    return (end, end - run) if outer else (end - run, end)


def _kerf(demand: StickDemand, *lines: Line) -> int:
    if any(outer != inner for outer, inner in lines):
        return demand.mitre_kerf or demand.kerf
    return demand.kerf


def _neighbours(demand: StickDemand, parts: dict[str, StickPart], a: StickPiece, b: StickPiece) -> Iterator[str]:
    right, left = _right(parts[a.part], a), _left(parts[b.part], b)
    kerf = _kerf(demand, right, left)
    if b.start >= a.start + a.length + kerf:
        return
    parallel = right[0] - right[1] == left[0] - left[1] != 0
    if parallel and demand.share_mitres and left[0] - right[0] >= kerf:
        return
    yield f"between {a.part} (to {a.start + a.length}) and {b.part} (from {b.start}) a kerf of {kerf} does not fit"


def _held(demand: StickDemand, source: StickStock, pattern: StickPattern) -> Iterator[str]:
    pieces = pattern.pieces
    for index, piece in enumerate(pieces):
        last = index + 1 == len(pieces)
        if last and piece.start + piece.length == source.length:
            return  # it comes to the very end: no cut
        beyond = source.length - (piece.start + piece.length) if last else source.length - pieces[index + 1].start
        if max(piece.length, beyond) < demand.least_held:
            yield f"cutting off {piece.part}, neither it nor what is left reaches {demand.least_held} to hold"


def _sequences(parts: dict[str, StickPart], pattern: StickPattern) -> Iterator[str]:
    runs: dict[str, list[StickPart]] = defaultdict(list)
    for part in parts.values():
        if part.in_sequence and part.run:
            runs[part.run].append(part)
    order = [(parts[p.part].run if parts[p.part].in_sequence else "") for p in pattern.pieces]
    for run, members in runs.items():
        wanted = [p.id for p in sorted(members, key=lambda p: p.sequence)]
        places = [i for i, name in enumerate(order) if name == run]
        for block in range(0, len(places), len(wanted)):
            here = places[block : block + len(wanted)]
            names = [pattern.pieces[i].part for i in here]
            turned = any(pattern.pieces[i].flipped for i in here)
            if names != wanted or turned or here != list(range(here[0], here[0] + len(here))):
                yield f"run {run} is not cut in sequence: {', '.join(names)}, wanted {', '.join(wanted)}"


# --- the whole plan -------------------------------------------------------------------------------


def _cut(patterns: tuple[StickPattern, ...]) -> Counter[str]:
    placed: Counter[str] = Counter()
    for pattern in patterns:
        for piece in pattern.pieces:
            placed[piece.part] += pattern.times
    return placed


def _locked(demand: StickDemand, layout: StickLayout) -> Iterator[str]:
    kept = [p for p in layout.patterns if p.locked]
    for pattern in demand.locked:
        if not any((p.stock, p.pieces, p.times) == (pattern.stock, pattern.pieces, pattern.times) for p in kept):
            yield f"a locked stick of {pattern.stock} is not kept as it was cut"
    if len(kept) > len(demand.locked):
        yield f"{len(kept)} sticks are called locked, the demand has {len(demand.locked)}"
