"""The part drawings: one for every mark, as many on a page as fit, nearly in the order of marks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field, replace

from casewright.packet.drawing.conventions import CONVENTIONS, Convention, Ratio
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.subject import Subject, bench_part, subjects
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import PAPERS, Setting

APART, BESIDE = 9.0, 8.0  # mm between two drawings, one below the other and side by side
TITLE = 13.0  # mm that the title takes on the first page
LOOK_BACK = 6  # pages that a drawing may go back to, where it fits


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPicture:
    """One drawing of a mark; a large panel has one for each face."""

    mark: str
    name: str
    drawing: Drawing


Strip = tuple[PartPicture, ...]  # side by side


@dataclass(slots=True)
class _Open:
    """A page while it is filled: mm that are left on it."""

    room: float
    strips: list[Strip] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDrawings:
    """The context of the part drawings: pages of strips of pictures. `lacking` are marks whose drawing fits on no page."""

    unit: str
    apart: float
    beside: float
    pages: tuple[tuple[Strip, ...], ...]
    lacking: tuple[str, ...]


def part_drawing_pages(setting: Setting) -> PartDrawings:
    """Return the context of the part drawings."""
    pictures: list[PartPicture] = []
    lacking: list[str] = []
    for subject in printed_subjects(setting):
        try:
            pictures += _drawn(setting, subject)
        except NoRoom:
            lacking.append(subject.mark)
    width, height = setting.paper.inside
    pages = _packed(_strips(pictures, width), height)
    return PartDrawings(unit=setting.printer.unit, apart=APART, beside=BESIDE, pages=pages, lacking=tuple(lacking))


def printed_subjects(setting: Setting) -> tuple[Subject, ...]:
    """Return what each mark's drawing is about, its sizes as the parts list prints them."""
    sizes = {row.mark: tuple(setting.printer.printed(p) for p in row.printed) for row in setting.rows}
    return tuple(_printed(s, sizes[s.mark]) for s in subjects(setting.project, setting.rows))


def _printed(subject: Subject, sizes: tuple[str, ...]) -> Subject:
    length, width, thickness = sizes
    return replace(subject, size=(length, width, thickness))


def _drawn(setting: Setting, subject: Subject) -> list[PartPicture]:
    """Draw a mark: at the largest scale, or at the next smaller one where two then stand on a page."""
    convention = CONVENTIONS["a4" if setting.paper is PAPERS["a4"] else "letter"]
    width, height = setting.paper.inside
    cache, half = setting.project.cache, (height - TITLE - APART) / 2
    if is_plain(subject):
        return _pictures(subject, part_drawings(subject, convention, cache, ((width - BESIDE) / 2, half)))
    found = part_drawings(subject, convention, cache, (width, height - TITLE))
    if max(p.height for p in found) > half:
        with suppress(NoRoom):
            found = part_drawings(subject, convention, cache, (width, half), _smaller(convention, found[0].scale))
    return _pictures(subject, found)


def is_plain(subject: Subject) -> bool:
    """True for a part that is cut to size and nothing else: two of them stand side by side."""
    part = bench_part(subject.part)
    return not part.features and part.blank.section is None


def _smaller(convention: Convention, scale: float) -> Ratio | None:
    ratio = next(r for r in convention.scales if abs(r[0] / r[1] - scale) < 1e-9)
    return convention.smaller(ratio)


def _pictures(subject: Subject, found: tuple[Picture, ...]) -> list[PartPicture]:
    return [
        PartPicture(mark=subject.mark, name=subject.name, drawing=drawing_of(_described(subject, picture)))
        for picture in found
    ]


def _described(subject: Subject, picture: Picture) -> Picture:
    """Say in the alternative text what the drawing says: sizes, and what is made."""
    made = Counter(f.describe() for f in bench_part(subject.part).features)
    features = ", ".join(f"{n} × {what}" if n > 1 else what for what, n in sorted(made.items()))
    size = " × ".join(subject.size)
    return replace(picture, alt=f"{picture.alt}; {size}; {features or 'cut to size, nothing else'}")


def _strips(pictures: Iterable[PartPicture], width: float) -> list[Strip]:
    """Return what stands side by side: one drawing, or two narrow ones; a narrow one waits for the next."""
    strips: list[Strip] = []
    waiting: PartPicture | None = None
    for picture in pictures:
        if picture.drawing.width > width / 2:
            strips.append((picture,))
        elif waiting is None:
            waiting = picture
        else:
            strips.append((waiting, picture))
            waiting = None
    return strips if waiting is None else [*strips, (waiting,)]


def _packed(strips: Iterable[Strip], height: float) -> tuple[tuple[Strip, ...], ...]:
    pages = [_Open(height - TITLE)]
    for strip in strips:
        needs = max(p.drawing.height for p in strip) + APART
        page = next((p for p in pages[-LOOK_BACK:] if p.room >= needs - APART), None)
        if page is None:
            page = _Open(height)
            pages.append(page)
        page.strips.append(strip)
        page.room -= needs
    return tuple(tuple(p.strips) for p in pages if p.strips)
