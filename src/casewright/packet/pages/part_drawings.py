"""The part drawings: one for every mark, as many on a page as fit, nearly in the order of marks."""

from __future__ import annotations

from collections import Counter
from contextlib import suppress
from dataclasses import dataclass, replace

from casewright.packet.drawing.conventions import CONVENTIONS, Convention, Ratio
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.subject import Subject, bench_part, subjects
from casewright.packet.pages.drawings import drawing_of
from casewright.packet.pages.packing import APART, BESIDE, TITLE, Figure, FigurePages, packed
from casewright.packet.pages.setting import PAPERS, Setting

FEW_FEATURES = 10  # with more of them a drawing finds no place on half a page, so that is not tried


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDrawings:
    """The context of the part drawings. `lacking` are marks whose drawing fits on no page."""

    unit: str
    figures: FigurePages
    lacking: tuple[str, ...]


def part_drawing_pages(setting: Setting) -> PartDrawings:
    """Return the context of the part drawings."""
    pictures: list[Figure] = []
    lacking: list[str] = []
    for subject in printed_subjects(setting):
        try:
            pictures += _drawn(setting, subject)
        except NoRoom:
            lacking.append(subject.mark)
    figures = packed(pictures, setting.paper.inside)
    return PartDrawings(unit=setting.printer.unit, figures=figures, lacking=tuple(lacking))


def printed_subjects(setting: Setting) -> tuple[Subject, ...]:
    """Return what each mark's drawing is about, its sizes as the parts list prints them."""
    sizes = {row.mark: tuple(setting.printer.printed(p) for p in row.printed) for row in setting.rows}
    return tuple(_printed(s, sizes[s.mark]) for s in subjects(setting.project, setting.rows))


def _printed(subject: Subject, sizes: tuple[str, ...]) -> Subject:
    length, width, thickness = sizes
    return replace(subject, size=(length, width, thickness))


def _drawn(setting: Setting, subject: Subject) -> list[Figure]:
    """Draw a mark: at the largest scale, or at the next smaller one where two then stand on a page."""
    convention = convention_of(setting)
    width, height = setting.paper.inside
    cache, half = setting.project.cache, (height - TITLE - APART) / 2
    if is_plain(subject):
        return _pictures(subject, part_drawings(subject, convention, cache, ((width - BESIDE) / 2, half)))
    found = part_drawings(subject, convention, cache, (width, height - TITLE))
    if half < max(p.height for p in found) and len(found) * len(subject.part.features) <= FEW_FEATURES:
        with suppress(NoRoom):
            found = part_drawings(subject, convention, cache, (width, half), _smaller(convention, found[0].scale))
    return _pictures(subject, found)


def convention_of(setting: Setting) -> Convention:
    """Return the drawing conventions of the paper: ISO on A4, ASME on Letter."""
    return CONVENTIONS["a4" if setting.paper is PAPERS["a4"] else "letter"]


def is_plain(subject: Subject) -> bool:
    """True for a part that is cut to size and nothing else: two of them stand side by side."""
    part = bench_part(subject.part)
    return not part.features and part.blank.section is None


def _smaller(convention: Convention, scale: float) -> Ratio | None:
    ratio = next(r for r in convention.scales if abs(r[0] / r[1] - scale) < 1e-9)
    return convention.smaller(ratio)


def _pictures(subject: Subject, found: tuple[Picture, ...]) -> list[Figure]:
    name = f"{subject.mark}: {subject.name}"
    return [Figure(name=name, drawing=drawing_of(_described(subject, picture))) for picture in found]


def _described(subject: Subject, picture: Picture) -> Picture:
    """Say in the alternative text what the drawing says: sizes, and what is made."""
    made = Counter(f.describe() for f in bench_part(subject.part).features)
    features = ", ".join(f"{n} × {what}" if n > 1 else what for what, n in sorted(made.items()))
    size = " × ".join(subject.size)
    return replace(picture, alt=f"{picture.alt}; {size}; {features or 'cut to size, nothing else'}")
