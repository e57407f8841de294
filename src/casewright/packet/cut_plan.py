"""A cut tree as the order of work: every saw line numbered as it is made, and a step for each setting.

Lines of one plate are cut one after another against one fence or stop; then each piece is divided in turn.
Positions on the layout's grid stay as they are; texts print each size by the role of the part that it belongs to.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from casewright.layout.model import Axis, Cut, Laid, Rest, Saws, to_mm

Node = Cut | Laid | Rest
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
    """Lines made at one setting: "4–6", what to do, at which setting, and what comes of it."""

    numbers: str
    verb: str
    setting: str
    gives: str
    rough: bool = False


@dataclass(slots=True)
class CutPlan:
    """Everything that is read off one cut tree."""

    lines: list[SawLine] = field(default_factory=list)
    steps: list[CutStep] = field(default_factory=list)
    laid: list[Laid] = field(default_factory=list)
    rests: list[Rest] = field(default_factory=list)


def cut_plan(root: Node, saws: Saws, size: SizeText) -> CutPlan:
    """Return the plan of a tree; `size` prints a length that belongs to a part."""
    plan = CutPlan()
    _follow(plan, root, saws, size)
    return plan


def _follow(plan: CutPlan, node: Node, saws: Saws, size: SizeText) -> None:
    if isinstance(node, Laid):
        plan.laid.append(node)
        return
    if isinstance(node, Rest):
        if node.length > 0 and node.width > 0:
            plan.rests.append(node)
        return
    first = len(plan.lines) + 1
    for at in node.lines:
        plan.lines.append(_line(len(plan.lines) + 1, node, at, saws))
    plan.steps.extend(_steps(node, first, saws, size))
    for piece in node.pieces:
        _follow(plan, piece, saws, size)


def _line(number: int, node: Cut, at: int, saws: Saws) -> SawLine:
    # A rough line's own kerf lies in the middle of what it takes; the rest of that is re-cut later.
    inset = saws.breakdown_allowance if node.rough else 0
    middle = at + inset + (node.kerf - 2 * inset) // 2
    start, run = (node.x, node.length) if node.axis is Axis.RIP else (node.y, node.width)
    return SawLine(number=number, axis=node.axis, at=middle, start=start, end=start + run, rough=node.rough)


def _steps(node: Cut, first: int, saws: Saws, size: SizeText) -> Iterator[CutStep]:
    """Yield a step for each run of lines at one setting."""
    along = node.axis is Axis.CROSSCUT
    groups: list[tuple[str, list[Node]]] = []
    for piece in node.pieces[: len(node.lines)]:
        extent = piece.length if along else piece.width
        text = size(_owner(piece, extent, along), extent, _along_part(piece, extent, along))
        if groups and groups[-1][0] == text:
            groups[-1][1].append(piece)
        else:
            groups.append((text, [piece]))
    number = first
    for text, pieces in groups:
        last = number + len(pieces) - 1
        final = last - first + 1 == len(node.lines)
        left = node.pieces[-1] if final else None
        extent = pieces[0].length if along else pieces[0].width
        rough = size("", extent + saws.breakdown_allowance, along) if node.rough else ""
        yield CutStep(
            numbers=str(number) if last == number else f"{number}–{last}",
            verb=("crosscut" if along else "rip"),
            setting=rough or text,
            gives=f"{_gives(pieces, left)}; trim to {text}" if rough else _gives(pieces, left),
            rough=node.rough,
        )
        number = last + 1


def _gives(pieces: list[Node], left: Node | None) -> str:
    made = [text for piece in pieces if (text := _named(piece))]
    shown = ", ".join(f"{n} × {text}" if n > 1 else text for text, n in _counted(made))
    rest = _named(left) if left is not None else ""
    return f"{shown}; then {rest}" if rest and rest not in ("waste",) else shown


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
    if isinstance(node, Laid):
        yield node
    elif isinstance(node, Cut):
        for piece in node.pieces:
            yield from leaves(piece)


def _owner(piece: Node, extent: int, along: bool) -> str:
    """Return the first part of a piece that has the extent as one of its own sizes, or empty."""
    return next((laid.part for laid in leaves(piece) if (laid.length if along else laid.width) == extent), "")


def _along_part(piece: Node, extent: int, along: bool) -> bool:
    for laid in leaves(piece):
        if (laid.length if along else laid.width) == extent:
            return along is not laid.turned
    return along


def area_share(laid: list[Laid], length: int, width: int) -> float:
    """Return how much of a sheet or board becomes parts, 0 to 1."""
    return sum(to_mm(p.length) * to_mm(p.width) for p in laid) / (to_mm(length) * to_mm(width))
