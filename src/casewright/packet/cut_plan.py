"""A cut tree as the order of work: every saw line numbered as it is made, and a step for each setting.

All lines that wait for one setting of a fence or stop are cut together, of whatever plate (`cut_order`).
Positions on the layout's grid stay as they are; texts print each size by the role of the part that it belongs to.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

from casewright.layout.model import Axis, Cut, Laid, Rest, Saws, to_mm
from casewright.packet.cut_order import Node, Run, nodes_of, ordered_runs

RIP = "rip"
SizeText = Callable[[str, int, bool], str]  # (part id or "", grid steps, along the length) → printed


@dataclass(frozen=True, slots=True, kw_only=True)
class SawLine:
    """One line: its number, direction, the middle of its kerf, and its two ends, all on the layout's grid."""

    number: int
    axis: Axis
    at: int
    start: int
    end: int
    rough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """Lines made at one setting: "4–6", what to do, at which setting, and what comes of it.

    `short` is how long the shortest piece is that is ripped, as printed, where that is too short for a rip fence.
    """

    numbers: str
    verb: str
    setting: str
    gives: str
    rough: bool = False
    short: str = ""


@dataclass(slots=True)
class CutPlan:
    """Everything that is read off one cut tree."""

    lines: list[SawLine] = field(default_factory=list)
    steps: list[CutStep] = field(default_factory=list)
    laid: list[Laid] = field(default_factory=list)
    rests: list[Rest] = field(default_factory=list)


def cut_plan(root: Node, saws: Saws, size: SizeText, least_rip: int = 0) -> CutPlan:
    """Return the plan of a tree; `size` prints a length that belongs to a part.

    What is shorter than `least_rip` grid steps is too short to be ripped along a fence by hand.
    """
    plan = CutPlan()
    for node in nodes_of(root):
        if isinstance(node, Laid):
            plan.laid.append(node)
        elif isinstance(node, Rest) and node.length > 0 and node.width > 0:
            plan.rests.append(node)

    def printed(piece: Node, along: bool) -> str:
        extent = _extent(piece, along)
        return size(_owner(piece, extent, along), extent, _along_part(piece, extent, along))

    def setting(cut: Cut, piece: Node) -> str:
        return printed(piece, cut.axis is Axis.CROSSCUT)

    for visit in ordered_runs(root, setting):
        first = len(plan.lines) + 1
        for run in visit:
            for at in run.cut.lines[run.first : run.first + len(run.pieces)]:
                plan.lines.append(_line(len(plan.lines) + 1, run.cut, at, saws))
        step = _step(visit, first, len(plan.lines), saws, size)
        shortest = min((run.cut for run in visit), key=lambda cut: cut.length)
        if step.verb == RIP and not step.rough and shortest.length < least_rip:
            short = printed(shortest, True)  # as the crosscut that made it was set
            step = replace(step, short=short, gives=f"{step.gives}; from a piece only {short} long")
        plan.steps.append(step)
    return plan


def _extent(node: Node, along: bool) -> int:
    return node.length if along else node.width


def _line(number: int, node: Cut, at: int, saws: Saws) -> SawLine:
    # A rough line's own kerf lies in the middle of what it takes; the rest of that is re-cut later.
    inset = saws.breakdown_allowance if node.rough else 0
    middle = at + inset + (node.kerf - 2 * inset) // 2
    start, run = (node.x, node.length) if node.axis is Axis.RIP else (node.y, node.width)
    return SawLine(number=number, axis=node.axis, at=middle, start=start, end=start + run, rough=node.rough)


def _step(visit: list[Run], first: int, last: int, saws: Saws, size: SizeText) -> CutStep:
    """Return what is cut at one visit to a setting: lines `first` to `last`."""
    key = visit[0].key
    along = key.axis is Axis.CROSSCUT
    extent = _extent(visit[0].pieces[0], along)
    gives = _gives(visit)
    return CutStep(
        numbers=str(first) if last == first else f"{first}–{last}",
        verb="crosscut" if along else RIP,
        setting=size("", extent + saws.breakdown_allowance, along) if key.rough else key.text,
        gives=f"{gives}; trim to {key.text}" if key.rough else gives,
        rough=key.rough,
    )


def _gives(visit: list[Run]) -> str:
    made = _counted([text for run in visit for piece in run.pieces if (text := _named(piece))])
    left = _counted([text + _trimmed(run) for run in visit if run.last is not None and (text := _named(run.last))])
    shown, rest = (
        ", ".join(f"{n} × {text}" if n > 1 else text for text, n in found if text != "waste") for found in (made, left)
    )
    return f"{shown}; then {rest}" if rest else shown


def _trimmed(run: Run) -> str:
    return f", trimmed to {run.to}" if run.to and not run.key.rough else ""


def _counted(texts: list[str]) -> list[tuple[str, int]]:
    out: dict[str, int] = {}
    for text in texts:
        out[text] = out.get(text, 0) + 1
    return list(out.items())


def _named(piece: Node) -> str:
    if isinstance(piece, Laid):
        return part_label(piece.part)
    if isinstance(piece, Rest):
        if piece.length <= 0 or piece.width <= 0:
            return ""
        return "offcut to keep" if piece.keep else "waste"
    marks = [text for text, _ in _counted([part_label(laid.part) for laid in leaves(piece)])]
    return f"strip for {', '.join(marks)}" if marks else "strip"


def part_label(part: str) -> str:
    """Return how a leaf is called on paper: "L-3" is strip 3 of the glue-up L, "L2-3" that of the second L."""
    panel, mark, rest = part.partition("#")
    if not mark:
        return part
    copy, _, strip = rest.partition("/")
    return f"{panel}{'' if copy == '1' else copy}-{strip}"


def leaves(node: Node) -> Iterator[Laid]:
    """Yield the parts below a node, in the order of the tree."""
    return (n for n in nodes_of(node) if isinstance(n, Laid))


def _owner(piece: Node, extent: int, along: bool) -> str:
    """Return the first part of a piece that has the extent as one of its own sizes, or empty."""
    return next((laid.part for laid in leaves(piece) if _extent(laid, along) == extent), "")


def _along_part(piece: Node, extent: int, along: bool) -> bool:
    for laid in leaves(piece):
        if _extent(laid, along) == extent:
            return along is not laid.turned
    return along


def area_share(laid: list[Laid], length: int, width: int) -> float:
    """Return how much of a sheet or board becomes parts, 0 to 1."""
    return sum(to_mm(p.length) * to_mm(p.width) for p in laid) / (to_mm(length) * to_mm(width))
