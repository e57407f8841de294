"""The cut-to-fit list: what is cut last, what must stand first, what is measured then."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.packet.cut_to_fit import AXES, CutToFit, cut_to_fit
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import name_stems


@dataclass(frozen=True, slots=True, kw_only=True)
class FitLine:
    """One line; `over` is what the layouts leave on it; `at` is true where step `before` is the one that cuts it."""

    what: str
    marks: str
    held: str
    over: str
    after: str
    before: str
    at: bool
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FitPiece:
    """The lines of one piece."""

    title: str
    lines: tuple[FitLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """The context of the cut-to-fit list; `over` is what a shop leaves on where the stock has room."""

    over: str
    pieces: tuple[FitPiece, ...]


def fitting(setting: Setting) -> Fitting:
    """Return the context of the cut-to-fit list; pieces that differ in marks alone share their lines."""
    found: dict[tuple[FitLine, ...], list[tuple[PieceDesign, tuple[CutToFit, ...]]]] = {}
    for piece in setting.pieces:
        fits = cut_to_fit(piece)
        if fits:
            found.setdefault(tuple(_line(setting, c) for c in fits), []).append((piece, fits))
    pieces = tuple(
        FitPiece(title="; ".join(piece.title for piece, _ in alike), lines=_marked(setting, lines, alike))
        for lines, alike in found.items()
    )
    return Fitting(over=setting.printer.measured(setting.project.practice["fit.cut_over"]), pieces=pieces)


def _marked(
    setting: Setting, lines: tuple[FitLine, ...], alike: list[tuple[PieceDesign, tuple[CutToFit, ...]]]
) -> tuple[FitLine, ...]:
    out = []
    for i, line in enumerate(lines):
        marks = (setting.marks_of(piece)[p.path] for piece, fits in alike for p in fits[i].placed)
        out.append(replace(line, marks=", ".join(dict.fromkeys(marks))))
    return tuple(out)


def _line(setting: Setting, line: CutToFit) -> FitLine:
    return FitLine(
        what=line.what,
        marks="",
        held=" and ".join(AXES[i] for i in line.sizes),
        over=_over(setting, line),
        after=f"After step {line.after}, once {line.stands}" if line.after else f"Once {line.stands}",
        before=str(line.before),
        at=bool(line.at),
        measure=line.measure,
    )


def _over(setting: Setting, line: CutToFit) -> str:
    """Return what the layouts leave on, by size, part by part where they differ, or that they leave nothing."""
    found: dict[str, dict[str, None]] = {}
    for placed in line.placed:
        cut, rough = placed.part.blank.size, placed.part.rough
        left = [
            f"{setting.printer.length(rough[i] - cut[i])} in {AXES[i]}" for i in line.sizes if rough[i] - cut[i] > 1e-6
        ]
        found.setdefault(", ".join(left) or "nothing: hold it back", {})[placed.name] = None
    if len(found) == 1:
        return next(iter(found))
    return "; ".join(f"{' and '.join(name_stems(tuple(names)))}: {text}" for text, names in found.items())
