"""Small edits of a sound design, each a mistake that a shop could make. Paths are relative to the piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeAlias

from tests.checks.seeding import changed, project_of, subject_at, text_of

from casewright.checks.model import Subject
from casewright.design.assembly import ChainItem, Joint, Motion, MotionKind, PieceDesign, Step
from casewright.design.build import moisture_of
from casewright.design.frames import Vec, add
from casewright.design.parts import Fastener, Part, Placed

Edit: TypeAlias = Callable[[Subject], Subject]


def piece(edit: Callable[[PieceDesign], PieceDesign]) -> Edit:
    """Edit the design."""
    return lambda subject: replace(subject, piece=edit(subject.piece))


def both(*edits: Edit) -> Edit:
    """Make one edit after the other."""

    def run(subject: Subject) -> Subject:
        for edit in edits:
            subject = edit(subject)
        return subject

    return run


def practice(name: str, value: float) -> Edit:
    """Set a practice value."""

    def run(subject: Subject) -> Subject:
        rule = replace(subject.practice.rule(name), value=value)
        return replace(subject, practice=subject.practice.with_rules({name: rule}))

    return run


def room(**given: float | None) -> Edit:
    """Set values of the room, and with it the moisture of the wood in it."""

    def run(subject: Subject) -> Subject:
        other = replace(subject.room, **given)
        return replace(subject, room=other, moisture=moisture_of(other))

    return run


def fastener(end: str, edit: Callable[[Fastener], Fastener]) -> Edit:
    """Edit the one fastener at a relative path."""

    def run(design: PieceDesign) -> PieceDesign:
        path = f"{design.path}/{end}"
        assert any(f.path == path for f in design.fasteners), path
        return replace(design, fasteners=tuple(edit(f) if f.path == path else f for f in design.fasteners))

    return piece(run)


def longer(end: str, by: float) -> Edit:
    """Take a fastener that is longer (or shorter) by as many mm."""
    return fastener(end, lambda f: replace(f, length=f.length + by))


def shifted(end: str, by: Vec) -> Edit:
    """Drive a fastener elsewhere."""
    return fastener(end, lambda f: replace(f, frame=f.frame.moved(by)))


def other(end: str, item: str) -> Edit:
    """Take another item of the same size."""
    return fastener(end, lambda f: replace(f, item=item))


def placed(end: str, edit: Callable[[Placed], Placed]) -> Edit:
    """Edit the placed thing at a relative path."""

    def run(design: PieceDesign) -> PieceDesign:
        path = f"{design.path}/{end}"
        assert any(p.path == path for p in design.placed), path
        return replace(design, placed=tuple(edit(p) if p.path == path else p for p in design.placed))

    return piece(run)


def part(end: str, edit: Callable[[Part], Part]) -> Edit:
    """Edit the part at a relative path."""
    return placed(end, lambda p: replace(p, thing=edit(p.part)))


def moved(ends: tuple[str, ...], by: Vec) -> Edit:
    """Move things, with the fasteners that hold them."""

    def run(design: PieceDesign) -> PieceDesign:
        paths = {f"{design.path}/{end}" for end in ends}
        return replace(
            design,
            placed=tuple(replace(p, frame=p.frame.moved(by)) if p.path in paths else p for p in design.placed),
            fasteners=tuple(
                replace(f, frame=f.frame.moved(by)) if paths.intersection(f.parts) else f for f in design.fasteners
            ),
        )

    return piece(run)


def without(*ends: str) -> Edit:
    """Forget things: what lies at or under the relative paths, with their joints, fasteners and steps."""

    def run(design: PieceDesign) -> PieceDesign:
        gone = [f"{design.path}/{end}" for end in ends]
        assert all(any(_under(p.path, g) for p in design.placed) for g in gone), gone

        def kept(path: str) -> bool:
            return not any(_under(path, g) for g in gone)

        joints = tuple(j for j in design.joints if kept(j.a) and kept(j.b))
        names = {j.id for j in joints}
        return replace(
            design,
            placed=tuple(p for p in design.placed if kept(p.path)),
            joints=joints,
            fasteners=tuple(f for f in design.fasteners if all(kept(p) for p in f.parts)),
            keepouts=tuple(k for k in design.keepouts if all(kept(o) for o in k.owners)),
            steps=tuple(
                replace(
                    s,
                    brings=tuple(b for b in s.brings if kept(b)),
                    closes=tuple(c for c in s.closes if c in names),
                )
                for s in design.steps
            ),
        )

    return piece(run)


def _under(path: str, group: str) -> bool:
    return path == group or path.startswith(group + "/")


def joint(end: str, edit: Callable[[Joint], Joint]) -> Edit:
    """Edit the joint with a relative id."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{end}"
        assert any(j.id == name for j in design.joints), name
        return replace(design, joints=tuple(edit(j) if j.id == name else j for j in design.joints))

    return piece(run)


def motion(end: str, edit: Callable[[Motion], Motion]) -> Edit:
    """Edit the motion with a relative id."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{end}"
        assert any(m.id == name for m in design.motions), name
        return replace(design, motions=tuple(edit(m) if m.id == name else m for m in design.motions))

    return piece(run)


def still(subject: Subject) -> Subject:
    """Let nothing of the piece move."""
    return replace(subject, piece=replace(subject.piece, motions=()))


def step_bringing(design: PieceDesign, end: str, *, last: bool = False) -> int:
    """Return the index of the step that brings a relative path by its own name: on the bench, else for good."""
    path = f"{design.path}/{end}"
    found = [i for i, s in enumerate(design.steps) if path in s.brings]
    bench = [i for i in found if design.steps[i].into != design.path]
    return bench[0] if bench and not last else found[-1]


def step(end: str, edit: Callable[[Step], Step], *, last: bool = False) -> Edit:
    """Edit the step that brings a relative path."""

    def run(design: PieceDesign) -> PieceDesign:
        at = step_bringing(design, end, last=last)
        return replace(design, steps=tuple(edit(s) if i == at else s for i, s in enumerate(design.steps)))

    return piece(run)


def comes(end: str, *moves: Vec, last: bool = False) -> Edit:
    """Let what a step brings come another way."""
    return step(end, lambda s: replace(s, moves=moves), last=last)


def swapped(first: str, second: str) -> Edit:
    """Do two steps in the other order; each closes what is then complete."""

    def run(design: PieceDesign) -> PieceDesign:
        i, j = step_bringing(design, first), step_bringing(design, second)
        steps = list(design.steps)
        a, b = steps[i], steps[j]
        steps[i], steps[j] = replace(b, closes=()), replace(a, closes=a.closes + b.closes)
        return replace(design, steps=tuple(steps))

    return piece(run)


def gap(end: str, value: float) -> Edit:
    """Cut a front so that the gaps of its row become as wide; the row still fills its opening."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{end}"
        assert any(c.id == name for c in design.chains), name
        chains = []
        for chain in design.chains:
            if chain.id == name:
                spare = sum(i.value - value for i in chain.items if i.name.endswith(".gap"))
                front = next(i.name for i in chain.items if not i.name.endswith(".gap"))
                chain = replace(
                    chain,
                    items=tuple(
                        ChainItem(
                            name=i.name,
                            value=value if i.name.endswith(".gap") else i.value + (spare if i.name == front else 0.0),
                        )
                        for i in chain.items
                    ),
                )
            chains.append(chain)
        return replace(design, chains=tuple(chains))

    return piece(run)


def resized(end: str, *, length: float = 0.0) -> Edit:
    """Cut a part longer, at both ends alike."""

    def edit(p: Placed) -> Placed:
        blank = replace(p.part.blank, length=p.part.blank.length + length)
        by = p.frame.direction((-length / 2, 0.0, 0.0))
        return replace(p, thing=replace(p.part, blank=blank), frame=replace(p.frame, origin=add(p.frame.origin, by)))

    return placed(end, edit)


def around(**given: Any) -> Edit:
    """Set what stands beside the piece, or what it is to keep."""
    return lambda subject: replace(subject, around=replace(subject.around, **given))


def ordered(of: str, *changes: tuple[str, str]) -> Edit:
    """Order the example `of` otherwise: each (old, new) of its text is replaced once."""
    return lambda subject: subject_at(project_of(changed(text_of(of), *changes)), subject.piece.path)


def bought(item: str, **given: Any) -> Edit:
    """Buy an item that differs from what the stock says of it, and build with it as if it did not."""

    def run(subject: Subject) -> Subject:
        known = subject.items[item]
        other = replace(known, **given)
        roles = tuple((r, tuple(other if i.id == item else i for i in served)) for r, served in subject.sizes.roles)
        return replace(subject, sizes=replace(subject.sizes, roles=roles))

    return run


def fasteners(joint_end: str, edit: Callable[[Fastener], Fastener]) -> Edit:
    """Edit all fasteners of a joint."""

    def run(design: PieceDesign) -> PieceDesign:
        name = f"{design.path}/{joint_end}"
        assert any(f.joint == name for f in design.fasteners), name
        return replace(design, fasteners=tuple(edit(f) if f.joint == name else f for f in design.fasteners))

    return piece(run)


def unjoined(*ends: str) -> Edit:
    """Forget every joint of the things at relative paths, with its fasteners; the things stay where they are."""

    def run(design: PieceDesign) -> PieceDesign:
        paths = {f"{design.path}/{end}" for end in ends}
        gone = {j.id for j in design.joints if paths & {j.a, j.b}}
        assert gone, ends
        return replace(
            design,
            joints=tuple(j for j in design.joints if j.id not in gone),
            fasteners=tuple(f for f in design.fasteners if f.joint not in gone),
            steps=tuple(replace(s, closes=tuple(c for c in s.closes if c not in gone)) for s in design.steps),
        )

    return piece(run)


def lost(*ends: str) -> Edit:
    """Leave things out; whatever else was made for them stays."""

    def run(design: PieceDesign) -> PieceDesign:
        gone = [f"{design.path}/{end}" for end in ends]
        kept = tuple(p for p in design.placed if not any(_under(p.path, g) for g in gone))
        assert len(kept) < len(design.placed), ends
        return replace(design, placed=kept)

    return piece(run)


def moving(end: str, reach: float) -> Edit:
    """Let a thing come out in front by as many mm, as a tray does."""

    def run(design: PieceDesign) -> PieceDesign:
        path = f"{design.path}/{end}"
        way = Motion(
            id=f"{path}.slide",
            kind=MotionKind.SLIDE,
            members=(path,),
            origin=(0.0, 0.0, 0.0),
            direction=(0.0, -1.0, 0.0),
            reach=reach,
        )
        return replace(design, motions=(*design.motions, way))

    return piece(run)


def used(**given: Any) -> Edit:
    """Use the piece otherwise."""
    return lambda subject: replace(subject, use=replace(subject.use, **given))


def clothes(subject: Subject) -> Subject:
    """Keep clothes in it."""
    return replace(subject, use=replace(subject.use, clothes=True))
