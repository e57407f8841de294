"""The head of a part drawing: mark, name, how many, stock, sizes, finish, scale and projection."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.packet.drawing.conventions import SYMBOL, Convention, Ratio, projection_symbol
from casewright.packet.drawing.lettering import LINE, em_for, filled, width_of
from casewright.packet.drawing.primitives import Anchor, Circle, LineRole, Primitive, Text
from casewright.packet.drawing.subject import Subject, face_name, finish_words, listed

LETTERS = 2.5  # mm: height of capitals
RADIUS = 5.0  # mm, of the circle around the mark


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading, its lower left corner at (0, 0)."""

    items: tuple[Primitive, ...]
    height: float


def heading(subject: Subject, convention: Convention, ratio: Ratio, width: float, shortened: bool = False) -> Heading:
    """Return the heading of a part drawing that is `width` mm wide."""
    em = em_for(LETTERS)
    right = width - SYMBOL[0] - 2.0
    first = f"{subject.name}, {subject.count} wanted" + (
        f", mirror image of {subject.mirror_of}" if subject.mirror_of else ""
    )
    which = f"picture {subject.picture[0]} of {subject.picture[1]}" if subject.picture[1] > 1 else ""
    if which and width_of(f"{first}; {which}", em * 1.15) <= right - 13.0:
        first, which = f"{first}; {which}", ""
    unit = "in" if subject.words.style.system == "in" else "mm"
    lines = filled(first, right - 13.0, lambda line: width_of(line, em * 1.15)) + [which] * bool(which)
    head = len(lines)
    scale = f"scale {ratio[0]}:{ratio[1]}" + (", length shortened" if shortened else "")
    cut = (subject.stock, _cut_words(subject, unit))
    if width_of("; ".join(cut), em) <= right - 13.0:
        cut = ("; ".join(cut), "")
    for text in filter(None, (*cut, *subject.bands, f"{finish_words(subject.part)}; {scale}")):
        beside = len(lines) * LINE * em < SYMBOL[1]  # the symbol of the projection stands beside the first lines
        lines += filled(text, (right if beside else width) - 13.0, lambda line: width_of(line, em))
    for text in subject.settings:
        lines += filled(text, width - 13.0, lambda line: width_of(line, em))
    height = max(2 * RADIUS + 1.5, (len(lines) + 0.3) * LINE * em)
    top = height - 0.9 * em
    mark = min(1.5 * em, 1.45 * RADIUS / width_of(subject.mark, 1.0))
    items: list[Primitive] = [
        Circle((RADIUS + 0.5, height - RADIUS - 0.5), RADIUS, LineRole.OUTLINE),
        Text((RADIUS + 0.5, height - RADIUS - 0.5), subject.mark, mark),
    ]
    for i, line in enumerate(lines):
        items.append(Text((12.5, top - i * LINE * em), line, em * 1.15 if i < head else em, Anchor.START))
    items += projection_symbol(convention, (width - SYMBOL[0] - 0.5, height - SYMBOL[1] - 0.5))
    return Heading(tuple(items), height)


def _trimmed_at(subject: Subject) -> str:
    """Return which edge or end bears the surplus, and where it is in the piece."""
    face = subject.part.allowance.at
    if face is None:
        return ""
    facing = (subject.towards or {}).get(face, "")
    return f", over at {face_name(face)}" + (f", towards the {facing}" if facing else "")


def _cut_words(subject: Subject, unit: str) -> str:
    """Return to which size the part is cut, and what of it waits until something real can be measured."""
    words = f"cut to {' × '.join(subject.size)} {unit}"
    rough = f"rough {' × '.join(subject.rough)} {unit}" if subject.rough else ""
    if not subject.held:
        return f"{words}; {rough} until it is trimmed{_trimmed_at(subject)}" if rough else words
    over = f", {rough} until then" if rough else ""
    return f"TO FIT: {listed(list(subject.held))} by measure (see Cut to fit){over}; expected to be {words}"
