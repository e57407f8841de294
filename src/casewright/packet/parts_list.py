"""The parts list as records: one row for each mark of the order, sizes in mm.

The page, the CSV file and the JSON document are made from these rows. Each carries its sizes as printed as well, so
that every page prints the same.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.design.blanks import Face
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Vec
from casewright.design.marks import Mark
from casewright.design.parts import Form, Intent, Part, Placed
from casewright.design.printed_sizes import Printed
from casewright.packet.part_sizes import ByName, Triple, cut_sizes, finished_sizes, nearest, printed_of, tighter
from casewright.packet.standing import as_it_stands
from casewright.project import Project
from casewright.units import LengthStyle, Role

_HAND = re.compile(r",? ?\b(?:front|rear) (?:left|right)\b|,? ?\b(?:left|right)\b|, (?:top|bottom)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """One mark: what is cut, how often, from what. Sizes are (length, width, thickness) in mm.

    `part` is the first occurrence as it stands (`packet/standing.py`); `counts` are by piece path. `grain` says how the
    grain runs, empty without.
    """

    mark: str
    mirror_of: str
    names: tuple[str, ...]
    counts: tuple[tuple[str, int], ...]
    form: Form
    stock: str
    stock_name: str
    part: Part
    printed: Triple  # the cut size
    finished_printed: Triple  # the finished one
    style: LengthStyle
    hand: str

    @property
    def name(self) -> str:
        """The names of all its occurrences as one text."""
        return joined_names(self.names)

    @property
    def count(self) -> int:
        """How many the order needs."""
        return sum(n for _, n in self.counts)

    @property
    def finished(self) -> Vec:
        """Size with bands."""
        return self.part.finished

    @property
    def cut(self) -> Vec:
        """Size without bands."""
        return self.part.blank.size

    @property
    def rough(self) -> Vec:
        """Size that layouts lay out."""
        return self.part.rough

    @property
    def roles(self) -> tuple[Role, Role, Role]:
        """The role by which each cut size would round to what is printed."""
        length, width, thickness = (_role(p, mm) for p, mm in zip(self.printed, self.cut, strict=True))
        return (length, width, thickness)

    @property
    def rough_printed(self) -> Triple:
        """Its rough sizes as printed: the cut ones, and with an allowance rounded up, since that is cut off later."""
        length, width, thickness = (
            p if abs(mm - cut) < 1e-6 else nearest(mm, self.style, Role.HOUSING)
            for p, mm, cut in zip(self.printed, self.rough, self.cut, strict=True)
        )
        return (length, width, thickness)

    @property
    def grain(self) -> str:
        """How the grain runs."""
        return "along the length" if self.part.grain else ""

    @property
    def bands(self) -> tuple[str, ...]:
        """Which edges are banded, with what."""
        return tuple(f"{band.face.value} {band.item}" for band in self.part.bands)

    @property
    def shows(self) -> tuple[str, ...]:
        """The faces that show."""
        return tuple(use.face.value for use in self.part.faces if use.intent is Intent.SHOWS)

    @property
    def finishes(self) -> tuple[str, ...]:
        """What goes onto its show faces."""
        return tuple(sorted({use.finish for use in self.part.faces if use.finish}))

    @property
    def ends(self) -> tuple[str, ...]:
        """The angled saw cuts of its two ends, for example "end0 mitre 45°"."""
        return tuple(text for face in (Face.END0, Face.END1) if (text := end_cut(self.part, face)))


def parts_list(project: Project) -> tuple[PartRow, ...]:
    """Return a row for each mark, in the order of marks."""
    rows: dict[str, PartRow] = {}
    printed = printed_of(project.assembly.pieces, project.style)
    for piece in project.assembly.pieces:
        for placed in piece.placed:
            mark = project.mark_of(placed)
            if mark is not None:
                twin = rows[mark.mirror_of].part if mark.mirror_of in rows else None
                row = rows.get(mark.label) or _first(project, piece, placed, mark, printed[piece.path], twin)
                rows[mark.label] = _counted(row, piece, placed, printed[piece.path])
    twins = {row.mirror_of: row.mark for row in rows.values() if row.mirror_of}
    whole = (replace(row, mirror_of=row.mirror_of or twins.get(row.mark, "")) for row in rows.values())
    return tuple(sorted(whole, key=lambda row: (len(row.mark), row.mark)))


def _first(
    project: Project, piece: PieceDesign, placed: Placed, mark: Mark, printed: ByName, twin: Part | None
) -> PartRow:
    part = placed.part
    item = project.stock.get(part.stock)
    return PartRow(
        mark=mark.label,
        mirror_of=mark.mirror_of,
        names=(),
        counts=(),
        form=part.form,
        stock=part.stock,
        stock_name=item.name if item is not None else part.stock,
        part=as_it_stands(placed, twin),
        printed=cut_sizes(placed, piece, printed, project.style),
        finished_printed=finished_sizes(placed, piece, printed, project.style),
        style=project.style,
        hand="",
    )


def _counted(row: PartRow, piece: PieceDesign, placed: Placed, printed: ByName) -> PartRow:
    sizes, finished = row.printed, row.finished_printed
    if placed.part.blank.size == row.part.blank.size:  # a part that lies the other way round has its sizes swapped
        sizes = tighter(sizes, cut_sizes(placed, piece, printed, row.style))
        finished = tighter(finished, finished_sizes(placed, piece, printed, row.style))
    counts = dict(row.counts)
    counts[piece.path] = counts.get(piece.path, 0) + piece.count
    names = row.names if placed.name in row.names else (*row.names, placed.name)
    return replace(
        row, names=names, counts=tuple(counts.items()), hand=_hand(names), printed=sizes, finished_printed=finished
    )


def _role(printed: Printed, mm: float) -> Role:
    """Free where the nearest division is printed, else insert or housing."""
    if abs(printed.value - mm) <= float(printed.style.step) / 2:
        return Role.FREE
    return Role.INSERT if printed.value < mm else Role.HOUSING


def _hand(names: tuple[str, ...]) -> str:
    hands = {word for name in names for word in ("left", "right") if re.search(rf"\b{word}\b", name)}
    return hands.pop() if len(hands) == 1 and all(re.search(r"\b(left|right)\b", n) for n in names) else ""


def joined_names(names: tuple[str, ...]) -> str:
    """Return names as one: "left side" and "right side" are "side, left and right"; others stand beside each other."""
    stems: dict[str, list[str]] = {}
    for name in names:
        found = _HAND.search(name)
        place = found.group().strip(" ,") if found else ""
        stems.setdefault(_HAND.sub("", name, count=1).strip(" ,"), []).append(place)
    return "; ".join(_with_places(stem, [p for p in places if p]) for stem, places in stems.items())


def counted(names: Iterable[str]) -> str:
    """Return names, each once with how often it comes: "A ×2, B"."""
    return ", ".join(f"{name} ×{n}" if n > 1 else name for name, n in Counter(names).items())


def name_stems(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return names without the words that say where each stands, each once."""
    return tuple(dict.fromkeys(_HAND.sub("", name, count=1).strip(" ,") for name in names))


def _with_places(stem: str, places: list[str]) -> str:
    if not places:
        return stem
    if {"front left", "front right", "rear left", "rear right"} <= set(places):
        return stem
    return f"{stem}, {' and '.join(places)}"


def end_cut(part: Part, face: Face) -> str:
    """Return how an end is cut at an angle, with its angles; empty where it is square."""
    for feature in part.features:
        if isinstance(feature, EndCut) and feature.face is face and (feature.mitre or feature.bevel):
            angles = (("mitre", feature.mitre), ("bevel", feature.bevel))
            shown = [f"{name} {abs(angle):.2f}".rstrip("0").rstrip(".") + "°" for name, angle in angles if angle]
            return f"{face.value} {', '.join(shown)}"
    return ""
