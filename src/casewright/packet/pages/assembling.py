"""The order of assembly of each piece: what to do, which marks come, and the caution that belongs there.

A piece that mirrors an earlier one is in the same list: its marks below those of its twin, and its words where they
differ.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casewright.design.assembly import Lie, PieceDesign, StepKind
from casewright.design.blocks.step_words import REACH
from casewright.design.parts import Hardware, Placed
from casewright.design.step_runs import StepRun, step_runs
from casewright.findings import Severity
from casewright.packet.drawing.subject import SizeWords
from casewright.packet.group_words import listed, places_words
from casewright.packet.pages.cautions import ONE, TWO, lifted_by, mass_text
from casewright.packet.pages.fastening import FACE_WORDS, bore_text, hole_text
from casewright.packet.pages.hardware import minutes
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import counted, joined_names, name_stems
from casewright.packet.step_holds import Held, SlotPlace
from casewright.packet.step_notes import StepNotes, Turned, notes_of
from casewright.solids.collide import is_under
from casewright.stock.model import Glue


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyStep:
    """One step, or several alike after each other; `cautions` are numbers of cautions below the list.

    `lead` stands over the first step of a block that is done for each of several drawers, doors or shelves. `mirrored`
    is its text for the mirror image, empty where that is the same; so are the others of the mirror its marks there.
    `turn` is how the piece is turned first, `holds` are its fasteners and holes. `brings` are the marks and bought
    things that arrive, `shares` which of them go where, `cuts` what gets its size.
    """

    number: int
    lead: str
    turn: str
    text: str
    brings: str
    shares: tuple[str, ...]
    cuts: str
    mirrored: str
    mirror_brings: str
    mirror_shares: tuple[str, ...]
    mirror_cuts: str
    notes: tuple[str, ...]
    holds: tuple[str, ...]
    cautions: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyPiece:
    """The steps of one piece and its cautions, numbered from 1; `mirror` is the title of its mirror image, if any.

    `made` is how many pieces are made by these steps, whose numbers are for one of them; `shared` are the marks that
    other pieces of the order have as well, each with its number in all. `promises` are the reasons for which findings
    that stop it are accepted: they are kept before it is used.
    """

    title: str
    mirror: str
    made: int
    shared: tuple[str, ...]
    glues: tuple[str, ...]
    steps: tuple[AssemblyStep, ...]
    promises: tuple[str, ...]
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
    runs = step_runs(piece)
    brought = _brought(setting, piece, runs)
    others = step_runs(mirror) if mirror is not None else runs
    their = _brought(setting, mirror, others) if mirror is not None else brought
    notes = notes_of(setting.project, piece, runs)
    show = setting.printer.in_both
    steps = tuple(
        AssemblyStep(
            number=run.number,
            lead=_lead(runs, run),
            turn=turn_text(setting, own),
            text=show(run.first.text),
            brings=brings.brings,
            shares=brings.shares,
            cuts=brings.cuts,
            mirrored=show(other.first.text) if other.first.text != run.first.text else "",
            mirror_brings=theirs.brings if theirs.brings != brings.brings else "",
            mirror_shares=theirs.shares if theirs != brings else (),
            mirror_cuts=theirs.cuts if theirs.cuts != brings.cuts else "",
            notes=note_texts(setting, own, run),
            holds=hold_texts(setting, own, run),
            cautions=tuple(cautions.index(c) + 1 for c in run.cautions),
        )
        for run, brings, other, theirs, own in zip(runs, brought, others, their, notes, strict=True)
    )
    glues = dict.fromkeys(use.glue for own in notes for use in own.glues)
    return AssemblyPiece(
        title=piece.title,
        mirror=mirror.title if mirror is not None else "",
        made=sum(p.count for p in (piece, mirror) if p is not None),
        shared=_shared(setting, frozenset(p.path for p in (piece, mirror) if p is not None)),
        glues=tuple(f"{sentence(glue.name)}: {glue_times(glue)}" for glue in glues),
        steps=steps,
        promises=_promises(setting, piece, mirror),
        cautions=tuple(show(c.text) for c in cautions),
    )


def _shared(setting: Setting, own: frozenset[str]) -> tuple[str, ...]:
    """Return the marks of these pieces that others have as well, and how many there are in the whole order.

    What is cut alike is made together, at one setting of each machine (common practice).
    """
    rows = (row for row in setting.rows if not own.isdisjoint(dict(row.counts)))
    return tuple(f"{row.mark} ({row.count} in all)" for row in rows if not own.issuperset(dict(row.counts)))


def _promises(setting: Setting, piece: PieceDesign, mirror: PieceDesign | None) -> tuple[str, ...]:
    """Return on what the accepted findings of a piece and its mirror image rest, each reason once."""
    paths = {p.path for p in (piece, mirror) if p is not None}
    found = [f for f in setting.project.findings if f.accepted and f.severity is Severity.STOP]
    own = (f for f in found if any(is_under(f.path, path) for path in paths))
    return tuple(dict.fromkeys(sentence(f.accepted.rstrip(".")) for f in own))


def _lead(runs: tuple[StepRun, ...], run: StepRun) -> str:
    """Return what stands over a block: which drawers or doors it is done for, and with which steps."""
    own = [r for r in runs if r.block == run.block] if run.block else []
    if not own or own[0] is not run:
        return ""
    units, noun = run.units, run.first.noun
    last = own[-1].number
    steps = f"step {run.number}" if last == run.number else f"steps {run.number} to {last}"
    if len(units) == 1:
        return f"{sentence(noun)} in {places_words(units)}: {steps}"
    return f"{len(units)} {plural(noun)}, one after the other, {steps} for each: {places_words(units)}"


def plural(noun: str) -> str:
    """Return the plural of what a step is done for."""
    return {"shelf": "shelves", "foot": "feet"}.get(noun, f"{noun}s")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Brought:
    """What a step brings: all of it in one text, what each unit gets of it where they differ, and what it cuts."""

    brings: str
    shares: tuple[str, ...]
    cuts: str


def _brought(setting: Setting, piece: PieceDesign, runs: tuple[StepRun, ...]) -> list[_Brought]:
    """Return for each numbered step the marks and bought things that it brings."""
    marks, names = setting.marks_of(piece), {p.path: _bought_name(setting, p) for p in piece.placed}
    seen: set[str] = set()
    out = []
    bought_here = _bought_with(setting, piece, runs)
    for run in runs:
        fresh: dict[str, list[str]] = {}
        for step in run.steps:
            own = [p for b in step.brings for p in names if is_under(p, b) and p not in seen]
            fresh.setdefault(step.unit, []).extend(own)
            seen.update(own)
        every = [p for own in fresh.values() for p in own]
        marked = counted([marks[p] for p in every if p in marks])
        bought = bought_text([names[p] for p in every if p not in marks])
        texts = (marked, bought, counted(bought_here.get(run.number, ())))
        out.append(
            _Brought(
                brings="; ".join(t for t in texts if t),
                shares=_shares(marks, fresh),
                cuts=counted([marks[p] for p in run.cuts]),
            )
        )
    return out


def _bought_name(setting: Setting, placed: Placed) -> str:
    """Return the name of a thing, with the size that it was ordered to."""
    size = placed.thing.ordered if isinstance(placed.thing, Hardware) else None
    return placed.name if size is None else f"{placed.name}, {setting.printer.ordered(size)}"


def bought_text(names: Sequence[str]) -> str:
    """Return bought things with their counts: "threaded insert ×4; slide, case member, left and right, ×3 each"."""
    kinds: dict[tuple[str, int], list[str]] = {}
    for name, n in Counter(names).items():
        kinds.setdefault((name_stems((name,))[0], n), []).append(name)
    out = []
    for (stem, n), own in kinds.items():
        text, total = joined_names(tuple(own)), n * len(own)
        if text == stem or len(own) == 1:
            out.append(f"{text} ×{total}" if total > 1 else text)
        else:
            out.append(f"{text}, ×{n} each" if n > 1 else text)
    return "; ".join(out)


def _shares(marks: Mapping[str, str], fresh: Mapping[str, list[str]]) -> tuple[str, ...]:
    """Return which marks go into which unit; nothing where all get the same."""
    units: dict[str, list[str]] = {}
    for unit, own in fresh.items():
        units.setdefault(counted([marks[p] for p in own if p in marks]), []).append(unit)
    return tuple(f"{places_words(own)}: {text}" for text, own in units.items()) if len(units) > 1 else ()


def _bought_with(setting: Setting, piece: PieceDesign, runs: tuple[StepRun, ...]) -> dict[int, list[str]]:
    """Return what is bought without a place of its own, by the step at which it goes on.

    That is the step that says so; else the first one after the finish that brings the part it belongs to: a bumper is
    stuck on when the door is there to stay. What belongs to no such part comes with the last step.
    """
    out: dict[int, list[str]] = {}
    finished = max((run.number for run in runs if run.first.kind is StepKind.FINISH), default=0)
    for line in piece.bought:
        own = [r.number for r in runs if any(line.path in step.uses for step in r.steps)]
        own += [r.number for r in runs if r.number > finished and r.brings_any(frozenset((line.path,)))]
        name = str(getattr(setting.project.stock.get(line.item), "name", line.item))
        out.setdefault((own or [runs[-1].number])[0], []).extend([name] * line.count)
    return out


LIES = {
    Lie.UPRIGHT: "Stand it up",
    Lie.FRONT: "Turn it onto its front",
    Lie.BACK: "Turn it onto its back",
    Lie.HEAD: "Turn it upside down",
}


def turn_text(setting: Setting, notes: StepNotes) -> str:
    """Return how the piece is turned before a step; empty where it stays as it lies."""
    return f"{LIES[notes.turned.lie]} first: {lifted(setting, notes.turned)}." if notes.turned is not None else ""


def hold_texts(setting: Setting, notes: StepNotes, run: StepRun) -> tuple[str, ...]:
    """Return the fasteners and holes of a step in words, each kind by itself."""
    each = "for each: " if len(run.units) > 1 else ""
    held = (f"{sentence(held_text(setting, held, each))}." for held in notes.held)
    return (*held, *(slot_text(setting, place) for place in notes.slots))


def note_texts(setting: Setting, notes: StepNotes, run: StepRun) -> tuple[str, ...]:
    """Return the notes of a step in words."""
    each = " each" if len(run.units) > 1 else ""
    show = setting.printer.length
    out = [f"Pack the {name} up {show(gap)}." for name, gap in notes.packed]
    if notes.dry_fit:
        out.append("Dry fit first.")
    for use in notes.glues:
        joints = f" on {use.joints} joints{each}" if use.joints > 1 else ""
        holds = f", {minutes(use.glue.clamp_time)} until it holds" if use.last else ""
        out.append(f"{sentence(use.glue.name)}{joints}{holds}.")
    if notes.clamped:
        joints = "nothing else holds it" if notes.clamped == 1 else f"on {notes.clamped} joints{each}"
        out.append(f"Clamps: {joints}.")
    out += _diagonal_texts(setting, notes)
    if notes.overhangs is not None:
        out.append(overhang_text(setting, notes.overhangs))
    return tuple(out)


def lifted(setting: Setting, turned: Turned) -> str:
    """Return what is turned and by how many people, as the shop lifts; nobody turns alone what is out of reach."""
    people = lifted_by(setting, turned.mass)
    alone = people == ONE and turned.largest > REACH
    return f"about {mass_text(turned.mass)}, {TWO + ' for its size' if alone else people}"


def held_text(setting: Setting, held: Held, each: str) -> str:
    """Return fasteners and their holes in words."""
    words = SizeWords(style=setting.printer.style)
    item = setting.project.stock.get(held.item)
    name = str(getattr(item, "name", held.item))
    lead = each if held.each else "in all: "
    through = [f"{hole_text(setting, b, words)}, from its {FACE_WORDS[b.face]}" for b in held.first]
    into = [hole_text(setting, b, words) for b in held.second]
    holes = ["; ".join(texts) for texts in (through, into) if texts]
    if through and into:
        holes[1] = f"then {holes[1]}"
    holes += [bore_text(setting, b, words, "through the first hole") for b in held.others]
    pairs = _pairs_text(held.pairs)
    if not held.driven:
        return f"{lead}{held.count} × hole for {name}, {pairs}: {'; '.join(holes)}"
    return f"{lead}{held.count} × {name}, {pairs}" + (f": {'; '.join(holes)}" if holes else "")


def _pairs_text(pairs: tuple[tuple[str, str], ...]) -> str:
    """Return parts that are held in pairs: "top rail and bottom rail to stile"; alike in the second they share it."""
    seconds: dict[str, list[str]] = {}
    for first, second in pairs:
        seconds.setdefault(second, []).append(first)
    firsts: dict[tuple[str, ...], list[str]] = {}
    for second, own in seconds.items():
        firsts.setdefault(tuple(own), []).append(second)
    return "; ".join(f"{listed(own)} to {listed(tuple(to))}" for own, to in firsts.items())


def slot_text(setting: Setting, place: SlotPlace) -> str:
    """Return where pilots stand in the slots of a part."""
    where = "behind" if place.off > 0 else "before"
    off = setting.printer.length(abs(place.off))
    return f"In the slots of the {place.part} the pilots stand {off} {where} the middle."


def _diagonal_texts(setting: Setting, notes: StepNotes) -> list[str]:
    """Return the diagonals: once where all groups have the same, else by the places of the groups."""
    shown: dict[str, list[str]] = {}
    for d in notes.diagonals:
        rest = ", before it is trimmed" if d.over else ""
        shown.setdefault(setting.printer.length(d.size) + rest, []).append(d.group)
    if len(shown) == 1:
        return [f"Both diagonals {size}." for size in shown]
    return [f"{sentence(places_words(groups))}: both diagonals {size}." for size, groups in shown.items()]


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
