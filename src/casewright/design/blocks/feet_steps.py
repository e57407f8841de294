"""The steps of tapered feet and corner posts: all of a kind together, one setting for each cut, tapers last but one.

Common practice. Blanks stay square and long while they are bored, coved and tapered: short feet in pairs on the stick,
their floor ends outwards, since no machine takes a piece of a hand's length. A foot's surplus stands over at its top
end until the crosscut, which comes last. A wide bit finds no centre in a hole, so wider holes come first. A
taper jig holds the square face across from the one that is cut; once that face is tapered itself, the jig needs twice
the angle, or the offcuts taped back.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blanks import Face
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.step_words import DRILL, GLUE, ROUT, SAW, SHORT, UPWARDS, by
from casewright.design.draft import Draft
from casewright.design.features.shaping import Cove, Taper
from casewright.design.parts import Part, PartKind, Placed
from casewright.design.sequence import Sequence
from casewright.stock.sundries import Need, Sundry, needs
from casewright.units.angles import format_angle

LONG_ENOUGH = 300.0  # mm: the shortest piece that a taper jig, router table or jointer takes (common practice)
PLACES = tuple(f"{place}.{hand}" for place in ("front", "rear") for _, hand in HANDS)


def make_feet(s: Sequence, d: Draft) -> None:
    """Plan how all feet are made from their blanks; silent where the piece has none."""
    feet = feet_of(d)
    if not feet:
        return
    wood = d.at(f"{feet[0]}/wood")
    s.drill(
        f"{_long(wood)}; square the floor ends, mark their middles and {_bored(d, wood)}, upright in a vise or against "
        "a fence, all feet at each setting of the drill press",
        (SAW, DRILL),
    )
    shaped = [text for text in (_coves(d, wood), _tapers(d, wood)) if text]
    if shaped:
        s.work(
            f"While the blanks are long and square, all feet at each setting: {'; then '.join(shaped)}",
            (SHORT, *((ROUT,) if _coves(d, wood) else ()), SAW),
            needs=_tape(d, wood),
        )
    s.drill(
        "Crosscut the top ends of all feet last, at one stop from their floor ends; clamp each in a vise, its top end "
        "up, and bore it for its dowel",
        (SAW, SHORT, DRILL),
        cuts=[f"{foot}/wood" for foot in feet],
    )


def bring_feet(s: Sequence, d: Draft, moved: float) -> None:
    """Plan the feet's hardware and how they come under the piece; `moved` (mm) clears it."""
    feet = feet_of(d)
    for foot in feet:
        s.bring(
            [f"{foot}/wood", f"{foot}/insert"],
            "Set each insert with epoxy into its foot, flush with the floor end",
            into=foot,
            moves=by(UPWARDS, 60.0),
            cautions=(GLUE,),
        )
    for foot in feet:
        s.bring(
            [f"{foot}/wood", f"{foot}/insert"],
            "Glue the dowels into their blocks, then each foot onto its own: glue on the dowel and on the whole top "
            "end, for on a dowel alone it can turn; faces square to the case by a straightedge along two feet, clamped "
            "until the glue holds",
            moves=by(UPWARDS, moved / 2),
            cautions=(GLUE,),
        )


def screw_levellers_in(s: Sequence, d: Draft) -> None:
    """Plan the levelling feet, which stay out of the finish; silent where there are none."""
    names = (p.removeprefix(d.path + "/") for p in d.under(""))
    own = [n for n in names if n.endswith("/leveller")]
    if own:
        s.bring(own, "Once the finish is hard, screw the levelling feet into their inserts", moves=by(UPWARDS, 60.0))


def make_posts(s: Sequence, d: Draft) -> None:
    """Plan how corner posts are made, all four together; silent where the piece has none."""
    posts = [n for n in (f"{p}.{h}" for p in ("frame/stile", "post.rear") for _, h in HANDS) if d.has(n)]
    if not any(n.startswith("post.rear") for n in posts):
        return
    front, rear = _kinds(d, posts[:2]), _kinds(d, posts[2:])
    made = [
        ("mortise the front ones for the rails", bool(front & {JointKind.TENON, JointKind.STUB_TENON})),
        ("cut the laps of the front ones", JointKind.HALF_LAP in front),
        ("bore them for their dowels", JointKind.DOWEL in front | rear),
        ("rabbet the rear ones for the back", JointKind.RABBET in rear),
    ]
    words = [text for text, there in made if there]
    taper = _tapers(d, d.at(posts[0]))
    last = f"; last, {taper}" if taper else ""
    s.work(
        f"Make all four posts together while they are square: {', '.join(words)}{last}",
        (SAW, DRILL),
        needs=_tape(d, d.at(posts[0])),
    )


def stays_paired(part: Part) -> bool:
    """True for a foot whose blank is shorter than a machine takes: it stays in one piece with another."""
    return part.kind is PartKind.FOOT and part.rough[0] < LONG_ENOUGH


def _long(wood: Placed) -> str:
    """Return how the blanks are cut off first: those shorter than a machine takes stay together."""
    if not stays_paired(wood.part):
        return "Crosscut the blanks of all feet as laid out, square, the surplus at their top ends"
    return (
        "Leave the feet together in pairs, as laid out: floor ends outwards, the surplus of both between them; cut the "
        "pairs off square"
    )


def feet_of(d: Draft) -> list[str]:
    """Return the groups of the feet that are turned out of sticks; none where the piece has none."""
    return [f"foot.{place}" for place in PLACES if d.has(f"foot.{place}/wood")]


def _kinds(d: Draft, names: list[str]) -> set[JointKind]:
    paths = {d.full(n) for n in names}
    return {j.kind for j in d.joints if paths & {j.a, j.b}}


def _bored(d: Draft, wood: Placed) -> str:
    """Return the holes of the floor end in words, the wider ones first."""
    insert, *narrower = sorted(d.drilled(wood), key=lambda hole: -hole.diameter)
    steps = ["counterbore for the insert's flange"] if insert.bore_diameter > 0 else []
    steps += ["bore for the insert", *("bore on, narrower, for the stem" for _ in narrower)]
    return ", then ".join(steps)


def _coves(d: Draft, wood: Placed) -> str:
    coves = [c for c in d.cuts(wood) if isinstance(c, Cove)]
    return f"cove {_faces(len(coves))} at one stop from the floor end" if coves else ""


def _tapers(d: Draft, wood: Placed) -> str:
    """Return how tapers are cut: one angle of the jig for two faces that meet, twice that for those across."""
    tapers = [t for t in d.cuts(wood) if isinstance(t, Taper)]
    if not tapers:
        return ""
    angle = tapers[0].angle(wood.part.blank)
    one = f"the taper jig at {format_angle(angle, 1)}"
    if not _opposed([t.face for t in tapers]):
        return f"taper the two inner faces, {one} for both: the square outer faces lie on the jig"
    return (
        f"taper all four faces, {one} for two faces that meet, then at {format_angle(2 * angle, 1)} for the two across "
        f"from them (or again at {format_angle(angle, 1)} with the offcuts taped back on)"
    )


def _tape(d: Draft, wood: Placed) -> tuple[Need, ...]:
    """Return the tape that holds offcuts of tapers on faces across from each other."""
    return needs(Sundry.TAPE) if _opposed([c.face for c in d.cuts(wood) if isinstance(c, Taper)]) else ()


def _opposed(faces: list[Face]) -> bool:
    """True where two of the faces lie across from each other."""
    return any(a.axis == b.axis and a.high != b.high for a in faces for b in faces)


def _faces(count: int) -> str:
    return "all four faces" if count == 4 else f"{count} faces"
