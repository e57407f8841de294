"""The order of assembly of each piece: what to do, which marks come, and the caution that belongs there."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.pages.hardware import minutes
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import joined_names
from casewright.packet.step_notes import StepNotes, step_notes
from casewright.packet.step_runs import step_runs
from casewright.solids.collide import is_under
from casewright.stock.model import Glue


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyStep:
    """One step, or several alike after each other; `caution` is the number of a caution below the list, 0 for none."""

    number: int
    text: str
    brings: str
    notes: tuple[str, ...]
    cautions: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyPiece:
    """The steps of one piece and its cautions, numbered from 1."""

    title: str
    glues: tuple[str, ...]
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
    runs = step_runs(piece)
    for run in runs:
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
                notes=note_texts(setting, step_notes(setting.project, piece, runs, run), run.first.text),
                cautions=numbers,
            )
        )
    glues = dict.fromkeys(u.glue for run in runs for u in step_notes(setting.project, piece, runs, run).glues)
    return AssemblyPiece(
        title=piece.title,
        glues=tuple(f"{sentence(glue.name)}: {glue_times(glue)}" for glue in glues),
        steps=tuple(steps),
        cautions=cautions,
    )


def note_texts(setting: Setting, notes: StepNotes, text: str) -> tuple[str, ...]:
    """Return the notes of a step in words; `text` is its own, which need not be said again."""
    out = []
    if notes.dry_fit and "dry fit" not in text.lower():
        out.append("Dry fit first.")
    for use in notes.glues:
        joints = f" on {use.joints} joints" if use.joints > 1 else ""
        out.append(f"{sentence(use.glue.name)}{joints}, {minutes(use.glue.clamp_time)} until it holds.")
    if notes.clamped:
        out.append("Clamps: nothing else holds it." if notes.clamped == 1 else f"Clamps on {notes.clamped} joints.")
    if notes.diagonal:
        out.append(f"Both diagonals {setting.printer.length(notes.diagonal)}.")
    return tuple(out)


def glue_times(glue: Glue) -> str:
    """Return how long a glue stays open, holds in clamps, and takes until it is worked on."""
    return (
        f"open {minutes(glue.open_time)}, in clamps {minutes(glue.clamp_time)}, full strength {minutes(glue.full_time)}"
    )


def sentence(text: str) -> str:
    """Return a text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def _listed(names: list[str]) -> str:
    counts: dict[str, int] = {}
    for name in names:
        counts[name] = counts.get(name, 0) + 1
    return ", ".join(f"{name} ×{n}" if n > 1 else name for name, n in counts.items())
