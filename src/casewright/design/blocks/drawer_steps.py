"""The steps of one drawer: box and front on the bench, the dry hang, the hang after the finish.

A piece calls them in its own order; each asks the draft what the drawer consists of, and is silent where there is no
drawer of that name (`g`, "drawer[c1,r1]"). `moved` is a distance in mm that clears the piece.
"""

from __future__ import annotations

from collections.abc import Iterable

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.step_words import BACKWARDS, BORE, FORWARDS, GLUE, LEFTWARDS, PINS, SAW, by
from casewright.design.draft import Draft
from casewright.design.parts import Part
from casewright.design.sequence import Sequence

CORNERS = {
    JointKind.RABBET: "Glue the box's front and back into the rabbets of the side, square to it, and pin them",
    JointKind.POCKET_SCREWS: "Glue the box's front and back to the side and drive the pocket screws, edges flush",
    JointKind.DOWEL: "Glue the box's front and back to the side on their dowels, edges flush",
}
APPLIED = ("left", "bottom", "right", "top")  # sides of an applied frame, in the order in which they go on


def bring_case_members(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Fix what a drawer needs in the case before the back closes it: blocking, runners, kickers."""
    blocking = _there(d, *(f"{g}.{name}.{h}" for name in ("blocking", "upper_blocking") for _, h in HANDS))
    if blocking:
        s.bring(
            blocking,
            "Plane the blocking to the opening, a little behind its edge and never proud; glue and screw it",
            moves=by(FORWARDS, moved),
            cautions=(GLUE,),
        )
    strips = _there(d, *(f"{g}.{strip}.{h}" for strip in ("runner", "wear", "kicker") for _, h in HANDS))
    if strips:
        s.bring(
            strips,
            "Fix runners and kickers, both sides level and square to the front; wax them where the box slides",
            moves=by(FORWARDS, moved),
        )


def bench_drawer(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Make the drawer box and its front, each on the bench."""
    if d.has(f"{g}/side.left"):
        with s.each(g, "drawer"):
            _bench(s, d, g, moved)


def _bench(s: Sequence, d: Draft, g: str, moved: float) -> None:
    kinds = {j.id: j.kind for j in d.joints}
    solid = d.full(f"{g}/bottom~box_back") in kinds and (
        kinds[d.full(f"{g}/bottom~box_back")] is JointKind.SLOTTED_SCREWS
    )
    corner = kinds[d.full(f"{g}/box_front~side.left")]
    pinned = (PINS,) if corner is JointKind.RABBET else ()
    s.bring([f"{g}/side.left"], "Lay the left side of the box down, groove up", into=g)
    s.bring(
        [f"{g}/box_front", f"{g}/box_back"],
        CORNERS[corner],
        into=g,
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE, *pinned),
    )
    if not solid:
        s.bring([f"{g}/bottom"], "Slide the bottom into its grooves, dry", into=g, moves=by(LEFTWARDS, moved))
    s.bring(
        [f"{g}/side.right"],
        "Close the box with its right side; compare the diagonals",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE, *pinned),
        squares=True,
    )
    if solid:
        s.bring(
            [f"{g}/bottom"],
            "Slide the solid bottom in from behind, under the back, no glue; one screw in its slot",
            into=g,
            moves=by(FORWARDS, moved),
        )
    if d.has(f"{g}/face/panel"):
        _bench_frame(s, d, f"{g}/face", moved)
    else:
        _bench_slab(s, d, f"{g}/face")


def _bench_slab(s: Sequence, d: Draft, face: str) -> None:
    moulded = any(d.has(f"{face}/applied.{side}") for side in APPLIED)
    before = ", before any moulding goes on" if moulded else ""
    text = f"Cut the front to its opening, then bore the pull's holes through it{before}"
    s.drill(text, (SAW, BORE), cuts=[f"{face}/front"])
    if not moulded:
        return
    s.bring([f"{face}/front"], "Lay the front face up", into=face)
    for side in APPLIED:
        if d.has(f"{face}/applied.{side}"):
            s.bring(
                [f"{face}/applied.{side}"],
                "Glue and pin the applied frame, mitres tight",
                into=face,
                moves=by(BACKWARDS, 80.0),
                cautions=(PINS,),
            )


def _bench_frame(s: Sequence, d: Draft, face: str, moved: float) -> None:
    s.bring([f"{face}/stile.left"], "Lay the left stile of the front down, groove up", into=face)
    rails = [f"{face}/rail.bottom", f"{face}/rail.top"]
    s.bring(rails, "Glue the rails' tenons into its groove", into=face, moves=by(LEFTWARDS, moved / 2))
    s.bring([f"{face}/panel"], "Slide the panel in, glue in its grooves", into=face, moves=by(LEFTWARDS, moved))
    s.bring(
        [f"{face}/stile.right"],
        "Close the front with its right stile; flat on the bench, compare the diagonals",
        into=face,
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
        squares=True,
    )
    s.bring(
        [f"{face}/block"],
        "Glue the block behind the panel, flush with the back of the frame",
        into=face,
        moves=by(FORWARDS, 80.0),
        cautions=(GLUE,),
    )
    s.drill(
        "Once its glue holds, trim the front to its opening, then bore the pull's holes through panel and block",
        (SAW, BORE),
        cuts=[f"{face}/{member}" for member in ("stile.left", "stile.right", "rail.bottom", "rail.top")],
        makes=s.joints_of(*_pulls(d, face)),
        made_in=[f"{face}/block"],
    )


def dry_hung(d: Draft, g: str) -> list[str]:
    """Return what of a drawer is hung dry, to settle its gaps, and comes off again for the finish: all but the pull."""
    if not d.has(f"{g}/side.left"):
        return []
    names = _carriers(d, g) + _there(d, *(f"{g}/slide_drawer.{hand}" for _, hand in HANDS))
    names += [n for n in drawer_members(d, g) if n not in names and not _is_pull(n)]
    return names + _stops(d, g)


def dry_slides(d: Draft, drawers: Iterable[str]) -> str:
    """Return by how many of their screws slides are held while drawers hang dry; nothing where they run on wood."""
    return ", two screws in each member of the slides" if any(_carriers(d, g) for g in drawers) else ""


def bore_fronts(s: Sequence, d: Draft, drawers: list[str]) -> None:
    """Bore what is settled by the dry hang: pilots of the fronts' screws, the pulls' holes through the boxes."""
    own = [n for g in drawers for n in (f"{g}/box_front", *drawer_members(d, f"{g}/face")) if not _is_pull(n)]
    wood = [n for n in own if isinstance(d.at(n).thing, Part) and not n.endswith("/face/block")]
    ends = f"front's pilot holes through the box{'es' if len(drawers) > 1 else ''}"
    s.drill(
        f"Bore {'each' if len(drawers) > 1 else 'the'} {ends}, with a stop on the bit; then carry the pull's holes on "
        "through the box front",
        (BORE,),
        makes=s.joints_of(*own),
        made_in=wood,
    )


def hang_drawer(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Hang the finished drawer: slides, box, front, pull."""
    if d.has(f"{g}/side.left"):
        with s.each(g, "drawer"):
            _hang(s, d, g, moved)


def _hang(s: Sequence, d: Draft, g: str, moved: float) -> None:
    carriers, onto = _carriers(d, g), "blocking" if d.has(f"{g}.blocking.left") else "case"
    if carriers:
        what = "slides' case members" if d.has(f"{g}.slide_case.left") else "slides"
        s.bring(carriers, f"Screw the {what} to the {onto}, in the holes of the dry hang", moves=by(BACKWARDS, moved))
    own = _there(d, *(f"{g}/slide_drawer.{h}" for _, h in HANDS))
    if own:
        s.bring(own, "Screw the slides' drawer members to the box", into=g, moves=by(BACKWARDS, 60.0))
    stops = _stops(d, g)
    if stops:
        s.bring(stops, "Screw the stops on where the dry hang has shown them", moves=by(BACKWARDS, moved))
    box = [n for n in drawer_members(d, g) if not n.startswith(f"{g}/face")]
    s.bring(box, "Slide the box in", moves=by(BACKWARDS, moved))
    face = drawer_members(d, f"{g}/face")
    s.bring(
        [n for n in face if not _is_pull(n)],
        "With the drawer pulled out, screw the front on from inside, the gaps as they were set",
        moves=by(BACKWARDS, moved / 2),
    )
    pulls = [n for n in face if _is_pull(n)]
    if pulls:
        s.bring(pulls, f"Bolt the pull{'s' if len(pulls) > 1 else ''} on", moves=by(BACKWARDS, 80.0))


def _carriers(d: Draft, g: str) -> list[str]:
    """Return the slides that are screwed into the case."""
    return _there(d, *(f"{g}.{slide}.{hand}" for slide in ("slide_case", "slide_under") for _, hand in HANDS))


def _stops(d: Draft, g: str) -> list[str]:
    return _there(d, *(f"{g}.stop.{hand}" for _, hand in HANDS))


def _pulls(d: Draft, face: str) -> list[str]:
    return [n for n in drawer_members(d, face) if _is_pull(n)]


def _is_pull(name: str) -> bool:
    return name.rpartition("/")[2].partition(".")[0] == "pull"


def _there(d: Draft, *names: str) -> list[str]:
    return [n for n in names if d.has(n)]


def drawer_members(d: Draft, g: str) -> list[str]:
    """Return the names of everything in a group of the piece."""
    return [p.removeprefix(d.path + "/") for p in d.under(g)]
