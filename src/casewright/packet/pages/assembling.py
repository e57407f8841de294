"""The order of assembly of each piece: what to do, which marks come, and the caution that belongs there.

A piece that mirrors an earlier one is in the same list: its marks below those of its twin, and its words where they
differ.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign, StepKind
from casewright.packet.pages.hardware import minutes
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import counted, joined_names
from casewright.packet.step_notes import StepNotes, step_notes
from casewright.packet.step_runs import StepRun, step_runs
from casewright.solids.collide import is_under
from casewright.stock.model import Glue


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyStep:
    """One step, or several alike after each other; `cautions` are numbers of cautions below the list.

    `mirrored` is its text for the mirror image, empty where that is the same; so are `mirror_brings` its marks there.
    """

    number: int
    text: str
    brings: str
    mirrored: str
    mirror_brings: str
    notes: tuple[str, ...]
    cautions: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyPiece:
    """The steps of one piece and its cautions, numbered from 1; `mirror` is the title of its mirror image, if any."""

    title: str
    mirror: str
    glues: tuple[str, ...]
    steps: tuple[AssemblyStep, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembling:
    """The context of the order of assembly."""

    pieces: tuple[AssemblyPiece, ...]


def assembling(setting: Setting) -> Assembling:
    """Return the context of the order of assembly."""
    mirrors = {other.path: p for p in setting.pieces if (other := setting.twins.get(p.path)) is not None}
    with_steps = [p for p in setting.shown_whole if p.steps]
    alone = [p for p in setting.pieces if p.steps and p.path in setting.twins and not _pairs(setting.twins[p.path], p)]
    found = [_piece(setting, p, m if (m := mirrors.get(p.path)) and _pairs(p, m) else None) for p in with_steps]
    return Assembling(pieces=(*found, *(_piece(setting, p, None) for p in alone)))


def _pairs(piece: PieceDesign, mirror: PieceDesign) -> bool:
    """True where each numbered step of a piece has its own in the mirror image."""
    return [len(r.steps) for r in step_runs(piece)] == [len(r.steps) for r in step_runs(mirror)]


def _piece(setting: Setting, piece: PieceDesign, mirror: PieceDesign | None) -> AssemblyPiece:
    cautions = tuple(dict.fromkeys(c for s in piece.steps for c in s.cautions))
    runs, brought = step_runs(piece), _brought(setting, piece)
    others = step_runs(mirror) if mirror is not None else runs
    their = _brought(setting, mirror) if mirror is not None else brought
    show = setting.printer.in_both
    steps = tuple(
        AssemblyStep(
            number=run.number,
            text=show(run.first.text),
            brings=brings,
            mirrored=show(other.first.text) if other.first.text != run.first.text else "",
            mirror_brings=theirs if theirs != brings else "",
            notes=note_texts(setting, step_notes(setting.project, piece, runs, run), run.first.text),
            cautions=tuple(cautions.index(c) + 1 for c in run.cautions),
        )
        for run, brings, other, theirs in zip(runs, brought, others, their, strict=True)
    )
    glues = dict.fromkeys(u.glue for run in runs for u in step_notes(setting.project, piece, runs, run).glues)
    return AssemblyPiece(
        title=piece.title,
        mirror=mirror.title if mirror is not None else "",
        glues=tuple(f"{sentence(glue.name)}: {glue_times(glue)}" for glue in glues),
        steps=steps,
        cautions=tuple(map(show, cautions)),
    )


def _brought(setting: Setting, piece: PieceDesign) -> list[str]:
    """Return for each numbered step the marks and bought things that it brings."""
    marks, names = setting.marks_of(piece), {p.path: p.name for p in piece.placed}
    seen: set[str] = set()
    out = []
    runs = step_runs(piece)
    listed = _bought_with(setting, piece, runs)
    for run in runs:
        fresh = [p for b in run.brings for p in names if is_under(p, b) and p not in seen]
        seen.update(fresh)
        marked = counted([marks[p] for p in fresh if p in marks])
        bought = joined_names(tuple(dict.fromkeys(names[p] for p in fresh if p not in marks)))
        out.append("; ".join(t for t in (marked, bought, counted(listed.get(run.number, ()))) if t))
    return out


def _bought_with(setting: Setting, piece: PieceDesign, runs: tuple[StepRun, ...]) -> dict[int, list[str]]:
    """Return what is bought without a place of its own, by the step at which it goes on.

    That is the first one after the finish that brings the part it belongs to: a bumper is stuck on when the door is
    there to stay. What belongs to no such part, a strap to the wall, comes with the last step.
    """
    out: dict[int, list[str]] = {}
    finished = max((run.number for run in runs if run.first.kind is StepKind.FINISH), default=0)
    for line in piece.bought:
        own = [r.number for r in runs if r.number > finished and r.brings_any(frozenset((line.path,)))]
        name = str(getattr(setting.project.stock.get(line.item), "name", line.item))
        out.setdefault((own or [runs[-1].number])[0], []).extend([name] * line.count)
    return out


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
    if notes.overhangs is not None:
        out.append(overhang_text(setting, notes.overhangs))
    return tuple(out)


def overhang_text(setting: Setting, overhangs: tuple[float, float, float]) -> str:
    """Return how far a top stands out beyond face, sides and back of its case, in words."""
    show = setting.printer.length
    front, side, back = overhangs
    rear = f"{show(back)} behind" if back > 0 else f"{show(-back)} short of the back" if back < 0 else "flush behind"
    return f"Over the case it stands out {show(front)} in front, {show(side)} at each side; {rear}."


def glue_times(glue: Glue) -> str:
    """Return how long a glue stays open, holds in clamps, and takes until it is worked on."""
    return (
        f"open {minutes(glue.open_time)}, in clamps {minutes(glue.clamp_time)}, full strength {minutes(glue.full_time)}"
    )


def sentence(text: str) -> str:
    """Return a text with its first letter as a capital."""
    return text[:1].upper() + text[1:]
