"""The part drawings: one for every mark, as many on a page as fit; the parts list says on which.

A drawing takes half the width where its mark fits there at the scale that the whole width would give it. One that would
take more than half a page is tried at the next smaller scale. A mirror image is drawn like its twin, and a mark
that fits in no other way lies along the height of the paper.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

from casewright.design.blanks import Face
from casewright.packet.drawing.conventions import CONVENTIONS, Convention, Ratio
from casewright.packet.drawing.part_drawing import is_slender, part_drawings
from casewright.packet.drawing.part_plan import strain
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.raster import turned
from casewright.packet.drawing.settings import settings_words
from casewright.packet.drawing.subject import Subject, subjects
from casewright.packet.pages.drawings import drawing_of
from casewright.packet.pages.packing import APART, BESIDE, TITLE, Figure, FigurePages, packed_closely
from casewright.packet.pages.setting import PAPERS, Setting
from casewright.packet.standing import bench_part

LEAST_SCALE = 1 / 8  # no drawing is made smaller than this to save paper
BESIDE_VIEW = 26.0  # mm that sizes take beside a view, at least
AROUND = 55.0  # mm that head, sizes and names take above and below the views, about
LEGEND = 28.0  # mm that the words on ends, edges, faces, seats and settings take below the title
LITTLE = 0.42  # of a page: a drawing that takes no more is not tried smaller
SAVES = 0.78  # a smaller drawing is taken where it takes at most this part of the larger one's paper
MOST_HEIGHT = 0.95  # of a page: a drawing of half the width is not higher

Way = tuple[float, Ratio | None]  # the width that a drawing may take, mm, and its scale; None for the largest


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDrawings:
    """The context of the part drawings. `lacking` are marks whose drawing fits on no page."""

    unit: str
    figures: FigurePages
    lacking: tuple[str, ...]


def part_drawing_pages(setting: Setting) -> PartDrawings:
    """Return the context of the part drawings."""
    drawn = list(drawn_marks(setting))
    figures = [figure for subject, pictures in drawn for figure in _figures(subject, pictures)]
    lacking = tuple(subject.mark for subject, pictures in drawn if not pictures)
    pages = packed_closely(figures, setting.paper.inside, TITLE + LEGEND)
    return PartDrawings(unit=setting.printer.unit, figures=pages, lacking=lacking)


def drawn_marks(setting: Setting) -> Iterator[tuple[Subject, tuple[Picture, ...]]]:
    """Give every mark with its pictures as they go onto pages; none where it fits on no page."""
    ways: dict[str, Way] = {}
    for subject in printed_subjects(setting):
        try:
            way, pictures = _drawn(setting, subject, ways.get(subject.mirror_of))
        except NoRoom:
            yield subject, ()
            continue
        ways[subject.mark] = way
        yield subject, pictures


def printed_subjects(setting: Setting) -> tuple[Subject, ...]:
    """Return what each mark's drawing is about, its sizes as the parts list prints them."""
    sizes = {row.mark: tuple(setting.printer.printed(p) for p in row.printed) for row in setting.rows}
    return tuple(_printed(setting, s, sizes[s.mark]) for s in subjects(setting.project, setting.rows))


def _printed(setting: Setting, subject: Subject, sizes: tuple[str, ...]) -> Subject:
    length, width, thickness = sizes
    project = setting.project
    layer = project.practice["router.layer"]
    settings = settings_words(bench_part(subject.part), subject.words, project.shop.machines, layer)
    return replace(subject, size=(length, width, thickness), settings=settings)


def _drawn(setting: Setting, subject: Subject, like: Way | None) -> tuple[Way, tuple[Picture, ...]]:
    """Draw a mark, in the way of its twin or else so that it takes little paper. Raises NoRoom where nothing fits."""
    width, height = setting.paper.inside
    best: tuple[float, Way, tuple[Picture, ...]] | None = None
    largest = convention_of(setting).scale_for(min((width - BESIDE_VIEW) / subject.part.blank.length, 1.0))
    if is_slender(subject, convention_of(setting), largest):
        with suppress(NoRoom):
            return (width, None), _in_way(setting, subject, (width, None), height)
    for way in (*([like] if like is not None else []), *_saving(setting, subject), (width, None)):
        if best is not None and way[1] is None:
            break  # it could only take more paper
        with suppress(NoRoom):
            found = _in_way(setting, subject, way, height * (MOST_HEIGHT if way[0] < width else 1.0))
            share = sum(p.height + APART for p in found) * _columns(way, width) / (height - TITLE)
            if share <= LITTLE or way == like:
                return way, found
            if best is None or share <= best[0] * SAVES:
                best = share, way, found
    return best[1:] if best is not None else ((width, None), _lying(setting, subject))


def _lying(setting: Setting, subject: Subject) -> tuple[Picture, ...]:
    """Draw a long mark along the height of the paper, to be read from the right. Raises NoRoom."""
    width, height = setting.paper.inside
    fit = (height - TITLE, width)
    found = part_drawings(subject, convention_of(setting), setting.project.cache, fit)
    return tuple(turned(picture) for picture in found)


def _columns(way: Way, width: float) -> float:
    """Return how much of the width a drawing takes."""
    return 0.5 if way[0] < width else 1.0


def _in_way(setting: Setting, subject: Subject, way: Way, height: float) -> tuple[Picture, ...]:
    return part_drawings(subject, convention_of(setting), setting.project.cache, (way[0], height - TITLE), way[1])


def _saving(setting: Setting, subject: Subject) -> Iterator[Way]:
    """Give the ways that may take less paper than the largest drawing, the larger ones first."""
    convention, (width, height) = convention_of(setting), setting.paper.inside
    length, breadth, _ = subject.part.blank.size
    half = (width - BESIDE) / 2
    ratio: Ratio | None = convention.scale_for(min((width - BESIDE_VIEW) / length, 0.6 * height / breadth, 1.0))
    for largest in (True, False):
        if ratio is None or (ratio[0] / ratio[1] < LEAST_SCALE - 1e-9 and not is_plain(subject)):
            return
        smaller = convention.smaller(ratio)
        clearer = smaller is None or strain(subject, smaller[0] / smaller[1]) > strain(subject, ratio[0] / ratio[1]) + 1
        if length * ratio[0] / ratio[1] <= half - BESIDE_VIEW:
            yield (half, ratio)
        if clearer or not (largest and is_high(subject, ratio, height)):
            yield (width, ratio)
        if clearer:
            return  # smaller, too many places could not be told apart
        ratio = smaller


def is_high(subject: Subject, ratio: Ratio, height: float) -> bool:
    """True where the views of the broad faces alone take more than half a page at a scale."""
    faces = {f.face for f in bench_part(subject.part).features} & {Face.FACE0, Face.FACE1}
    return max(1, len(faces)) * subject.part.blank.size[1] * ratio[0] / ratio[1] + AROUND > height / 2


def convention_of(setting: Setting) -> Convention:
    """Return the drawing conventions of the paper: ISO on A4, ASME on Letter."""
    return CONVENTIONS["a4" if setting.paper is PAPERS["a4"] else "letter"]


def is_plain(subject: Subject) -> bool:
    """True for a part that is cut to size and nothing else: two of them stand side by side."""
    part = bench_part(subject.part)
    return not part.features and part.blank.section is None


def _figures(subject: Subject, found: tuple[Picture, ...]) -> list[Figure]:
    name = f"{subject.mark}: {subject.name}"
    return [Figure(name=name, drawing=drawing_of(_described(subject, picture))) for picture in found]


def _described(subject: Subject, picture: Picture) -> Picture:
    """Say in the alternative text what the drawing says: sizes, and what is made."""
    made = Counter(f.describe() for f in bench_part(subject.part).features)
    features = ", ".join(f"{n} × {what}" if n > 1 else what for what, n in sorted(made.items()))
    size = " × ".join(subject.size)
    return replace(picture, alt=f"{picture.alt}; {size}; {features or 'cut to size, nothing else'}")
