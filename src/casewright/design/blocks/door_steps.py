"""The steps of one door or pair: each leaf on the bench, the dry hang, the hang after the finish.

A piece calls them in its own order; each asks the draft what the door consists of, and is silent where there is no
door of that name (`g`, "door[c1,r2]"). `moved` is a distance in mm that clears the piece.
"""

from __future__ import annotations

from casewright.design.assembly import Caution
from casewright.design.blocks.step_words import (
    BACKWARDS,
    BORE,
    DOWNWARDS,
    DUST,
    FORWARDS,
    GLUE,
    LEFTWARDS,
    PAINT,
    PINS,
    RAGS,
    UPWARDS,
    by,
)
from casewright.design.draft import Draft
from casewright.design.sequence import Sequence
from casewright.stock.sundries import Sundry, needs

BEADS = ("left", "bottom", "right", "top")
GLASS = Caution(
    text="Glass cuts: gloves and eye protection, carried on edge; toughened glass in doors, as the glazier advises.",
    needs=needs(Sundry.GLOVES, Sundry.EYES),
)
# Endings of what of a leaf goes on last, or with glass.
LATE = ("/pull", "/glass", "/bolt.bottom", "/bolt.top")
KNIFE_OFF = 30.0  # mm from which a leaf of a knife hinge comes into its bed
OVER_LIP = 40.0  # mm: what is set on the floor of an opening comes in over the edge before it


def leaves_of(d: Draft, g: str) -> list[str]:
    """Return the groups of a door's leaves, the passive one of a bolted pair first; none where there is no door."""
    found = [n for n in (g, f"{g}.left", f"{g}.right") if d.has(f"{n}/stile.left") or d.has(f"{n}/slab")]
    return sorted(found, key=lambda n: not d.has(f"{n}/bolt.bottom"))


def bring_door_blocks(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Fix what a door needs in the case before its back closes it: packing strip, blocks of cup hinges."""
    if d.has(f"{g}.packing"):
        s.bring(
            [f"{g}.packing"],
            "Glue the packing strip behind the rail, flush with its edge: stop, catch and bolts sit on it",
            moves=by(FORWARDS, moved),
            cautions=(GLUE,),
        )
    raised = [n for n in (f"{leaf}.bolt_block" for leaf in leaves_of(d, g)) if d.has(n)]
    if raised:
        text = "Glue the block for the bolt's rod to the floor behind the rail, flush with the edge of the opening"
        s.bring(raised, text, moves=by(FORWARDS, moved), cautions=(GLUE,))
    blocks = [n for leaf in leaves_of(d, g) for n in _near(d, leaf, ".block")]
    if blocks:
        s.bring(
            blocks,
            "Plane the hinge blocks flush with the opening, never proud; glue and screw them",
            moves=by(FORWARDS, moved),
        )


def bench_door(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Make each leaf on the bench; glass waits for the finish."""
    for leaf in leaves_of(d, g):
        with s.each(leaf, "door"):
            _bench_leaf(s, d, leaf, moved)


def _bench_leaf(s: Sequence, d: Draft, leaf: str, moved: float) -> None:
    if d.has(f"{leaf}/slab"):
        _bench_slab(s, d, leaf, moved)
    else:
        _bench_frame(s, d, leaf, moved)
    if d.has(f"{leaf}/astragal"):
        s.bring(
            [f"{leaf}/astragal"],
            "Glue and pin the astragal to the back of the leaf that closes first",
            into=leaf,
            moves=by(FORWARDS, 80.0),
            cautions=(PINS,),
        )


def _bench_frame(s: Sequence, d: Draft, g: str, moved: float) -> None:
    free = d.has(f"{g}/panel") and f"{g}.panel.free" in d.led
    if free:
        s.finish(
            "Colour and finish the solid panel all over before it goes in, in the steps of the finish below: what "
            "shrinks into sight must not be bare",
            (PAINT, RAGS, DUST),
        )
    s.bring([f"{g}/stile.left"], "Lay the left door stile down, its inner edge up", into=g)
    s.bring(
        [f"{g}/rail.top", f"{g}/rail.bottom"],
        "Glue the rails' tenons into it",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
    )
    if d.has(f"{g}/panel"):
        text = "Slide the panel in, glue in its grooves"
        if free:
            text = "Slide the panel in dry; keep glue out of its grooves"
        s.bring([f"{g}/panel"], text, into=g, moves=by(LEFTWARDS, moved))
    s.bring(
        [f"{g}/stile.right"],
        "Close the door with its right stile; flat on the bench, compare the diagonals",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
        cautions=(GLUE,),
        squares=True,
    )
    if free:
        s.work("Centre the panel; one pin from behind in the middle of each rail", (PINS,))
    if d.has(f"{g}/glass"):
        play = d.practice["door.glass_play"]
        s.work(
            "Measure the door's rabbet for the glass, both ways and at both ends, and order it "
            f"{play:g} mm smaller both ways: toughened glass cannot be trimmed"
        )


def _bench_slab(s: Sequence, d: Draft, g: str, moved: float) -> None:
    battens = _battens(d, g)
    if battens:
        s.bring([f"{g}/slab"], "Lay the door face down on a blanket", into=g)
        s.bring(
            battens,
            "Screw the battens on without glue: tight in the middle, free in their slots",
            into=g,
            moves=by(FORWARDS, moved / 2),
        )


def _battens(d: Draft, g: str) -> list[str]:
    return [n for n in (f"{g}/batten[{i}]" for i in range(1, 4)) if d.has(n)]


def dry_hung_door(d: Draft, g: str) -> list[str]:
    """Return what of a door is hung dry, to settle its gaps, and comes off again for the finish: no pull, no glass."""
    names: list[str] = []
    for leaf in leaves_of(d, g):
        names += [n for n in _case_parts(d, leaf) if ".knife." not in n] + _hung(d, leaf)
    return names


def hang_door(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Hang the finished door: glass, hinges, leaves, pulls; then stop, catch and bolts to the hung door."""
    for leaf in leaves_of(d, g):
        with s.each(leaf, "door"):
            _hang(s, d, leaf, moved)
    for leaf in leaves_of(d, g):
        with s.each(leaf, "door"):
            _set_stop_and_catch(s, d, leaf, moved)


def _hang(s: Sequence, d: Draft, leaf: str, moved: float) -> None:
    _glaze(s, d, leaf)
    own = _own_hinges(d, leaf)
    if d.has(f"{leaf}/slab") and not _battens(d, leaf):
        s.bring([f"{leaf}/slab"], "Lay the finished door face down on a blanket", into=leaf)
    if d.has(f"{leaf}/knife.top"):
        _knives(s, f"{leaf}/knife", "Let the hinges' leaves into the door's ends and screw them in", leaf, -1.0)
    elif own:
        # Cups go in from the back of the door, leaves into its edge from the front.
        way = FORWARDS if own[0].endswith(".cup") else BACKWARDS
        s.bring(own, "Screw the hinges to the door", into=leaf, moves=by(way, 60.0))
    if d.has(f"{leaf}/strike"):
        s.bring([f"{leaf}/strike"], "Screw the strike plate to its back", into=leaf, moves=by(FORWARDS, 60.0))
    case = _case_parts(d, leaf)
    hung = [n for n in _members(d, leaf) if not n.endswith(("/pull", "/bolt.bottom", "/bolt.top"))]
    text = "Hang the door"
    if d.has(f"{leaf}.hinge[1].plate"):
        s.bring(case, "Screw the plates of the hinges to the case", moves=by(BACKWARDS, 60.0))
    elif d.has(f"{leaf}.knife.top"):
        _knives(s, f"{leaf}.knife", "Let the hinges' other leaves into the case and screw them in", "", 1.0)
    elif case:
        text = "Hang the door: a helper holds it open before its opening, screw the hinges' other leaves to the stile"
        hung = [*case, *hung]
    if any(line.path.startswith(f"{d.full(leaf)}/") for line in d.bought):
        text += "; stick the bumpers to its back, at the top and bottom of the edge that closes"
    s.bring(hung, text, moves=by(BACKWARDS, moved / 2))
    for bolt, way in (("bottom", DOWNWARDS), ("top", UPWARDS)):
        if d.has(f"{leaf}/bolt.{bolt}"):
            s.bring([f"{leaf}/bolt.{bolt}"], f"Screw the {bolt} bolt to the door, shut", moves=by(way, 30.0))
            wide, deep = (d.led[f"{leaf}.bolt.{bolt}.hole_{size}"] for size in ("width", "depth"))
            text = f"Where its rod marks it, bore a hole for it, {wide:.1f} mm wide and {deep:.0f} mm deep"
            s.drill(text, (BORE,), makes=s.joints_of(f"{leaf}/bolt.{bolt}"))
    s.bring([f"{leaf}/pull"], "Bolt the knob on", moves=by(BACKWARDS, 80.0))


def _knives(s: Sequence, name: str, text: str, into: str, way: float) -> None:
    """Bring the two leaves of a set on one side: out into the case (`way` 1), or in onto the door's ends (−1)."""
    for where, up in (("bottom", -1.0), ("top", 1.0)):
        s.bring([f"{name}.{where}"], f"{text}: {where}", into=into, moves=((0.0, 0.0, way * up * KNIFE_OFF),))


def dry_knives(d: Draft, g: str) -> list[str]:
    """Return the leaves of knife hinges that sit on the case: they are let in before the door is hung dry."""
    return [n for leaf in leaves_of(d, g) for n in _case_parts(d, leaf) if ".knife." in n]


def _set_stop_and_catch(s: Sequence, d: Draft, leaf: str, moved: float) -> None:
    last = [n for n in (f"{leaf}.stop", f"{leaf}.catch") if d.has(n)]
    if not last:
        return
    text = "Set the stop and the catch to the hung door, bore through their holes and screw them down"
    if len(last) == 1:
        text = f"Set the {last[0].rpartition('.')[2]} to the hung door, bore through its holes and screw it down"
    if any(line.path == d.full(f"{leaf}.stop") for line in d.bought):
        text += "; the bumpers go between stop and door"
    s.bring(
        last,
        text,
        moves=(*by(BACKWARDS, moved), *by(DOWNWARDS, OVER_LIP)),
        cautions=(BORE,),
        makes=s.joints_of(*last),
    )


def _glaze(s: Sequence, d: Draft, leaf: str) -> None:
    if not d.has(f"{leaf}/glass"):
        return
    s.bring(
        [f"{leaf}/glass"],
        "Lay the glass in its rabbet, clear all round",
        into=leaf,
        moves=by(FORWARDS, 80.0),
        cautions=(GLASS,),
    )
    s.bring(
        [f"{leaf}/bead.{side}" for side in BEADS],
        "Pin the beads behind it, without glue, a card over the glass",
        into=leaf,
        moves=by(FORWARDS, 80.0),
        cautions=(PINS,),
    )


def _members(d: Draft, g: str) -> list[str]:
    return [p.removeprefix(d.path + "/") for p in d.under(g)]


def _hung(d: Draft, leaf: str) -> list[str]:
    return [n for n in _members(d, leaf) if not n.endswith(LATE) and "/bead." not in n]


def _own_hinges(d: Draft, leaf: str) -> list[str]:
    """Return what of a leaf's hinges sits on the leaf."""
    return [n for n in _members(d, leaf) if n.endswith((".door_leaf", "].cup")) or "/knife." in n]


def _case_parts(d: Draft, leaf: str) -> list[str]:
    """Return what of a leaf's hinges sits on the case."""
    found = _near(d, leaf, ".frame_leaf") + _near(d, leaf, ".plate")
    return found + [n for n in (f"{leaf}.knife.top", f"{leaf}.knife.bottom") if d.has(n)]


def _near(d: Draft, leaf: str, ending: str) -> list[str]:
    return [n for n in (f"{leaf}.hinge[{w}]{ending}" for w in range(1, 6)) if d.has(n)]
