"""The order of assembly of each piece: what to do, which marks come, and the caution that belongs there."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import joined_names
from casewright.packet.step_runs import step_runs
from casewright.solids.collide import is_under


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyStep:
    """One step, or several alike after each other; `caution` is the number of a caution below the list, 0 for none."""

    number: int
    text: str
    brings: str
    cautions: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyPiece:
    """The steps of one piece and its cautions, numbered from 1."""

    title: str
    steps: tuple[AssemblyStep, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembling:
    """The context of the order of assembly."""

    pieces: tuple[AssemblyPiece, ...]


def assembling(setting: Setting) -> Assembling:
    """Return the context of the order of assembly."""
    return Assembling(pieces=tuple(_piece(setting, p) for p in setting.pieces if p.steps))


def _piece(setting: Setting, piece: PieceDesign) -> AssemblyPiece:
    marks = setting.marks_of(piece)
    names = {p.path: p.name for p in piece.placed}
    cautions = tuple(dict.fromkeys(c for s in piece.steps for c in s.cautions))
    seen: set[str] = set()
    steps: list[AssemblyStep] = []
    for run in step_runs(piece):
        fresh = [p for b in run.brings for p in names if is_under(p, b) and p not in seen]
        seen.update(fresh)
        marked = _listed([marks[p] for p in fresh if p in marks])
        bought = joined_names(tuple(dict.fromkeys(names[p] for p in fresh if p not in marks)))
        numbers = tuple(cautions.index(c) + 1 for c in run.cautions)
        steps.append(
            AssemblyStep(
                number=run.number,
                text=run.first.text,
                brings="; ".join(t for t in (marked, bought) if t),
                cautions=numbers,
            )
        )
    return AssemblyPiece(title=piece.title, steps=tuple(steps), cautions=cautions)


def _listed(names: list[str]) -> str:
    counts: dict[str, int] = {}
    for name in names:
        counts[name] = counts.get(name, 0) + 1
    return ", ".join(f"{name} ×{n}" if n > 1 else name for name, n in counts.items())
