"""The steps of a base of its own: strips in the case, plinth or bracket feet on the bench, then up under the case."""

from __future__ import annotations

import math

from casewright.design.blocks.body import HANDS
from casewright.design.blocks.step_words import FORWARDS, GLUE, KEYS, LEFTWARDS, RIGHTWARDS, UPWARDS, by
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.sequence import Sequence
from casewright.design.sites import world_box


def bring_base(s: Sequence, d: Draft, moved: float) -> None:
    """Plan all of it; silent where the case has no base of its own. `moved` (mm) clears the piece."""
    strips = [f"landing.{hand}" for _, hand in HANDS if d.has(f"landing.{hand}")]
    if strips:
        s.bring(
            strips,
            "Glue and screw the strips that carry the base to the sides",
            moves=by(UPWARDS, moved / 2),
            cautions=(GLUE,),
        )
    if d.has("plinth/front"):
        _plinth(s, d, moved)
    places = (f"foot.{place}.{hand}" for place in ("front", "rear") for _, hand in HANDS)
    feet = [foot for foot in places if d.has(f"{foot}/plate")]
    for foot in feet:
        _bracket(s, d, foot)
    for foot in feet:
        text = "Screw the foot to the case from below, without glue"
        s.bring(_bracket_members(d, foot), text, moves=by(UPWARDS, moved / 2))


def _plinth(s: Sequence, d: Draft, moved: float) -> None:
    s.bring(["plinth/front"], "Lay the front of the plinth on the bench", into="plinth")
    rest = [n for n in _names(d, "plinth") if n != "plinth/front"]
    if d.has("plinth/spline.left"):
        for _, hand in HANDS:
            _mitred_end(s, hand)
        rest = [n for n in rest if not n.startswith(("plinth/spline", "plinth/end"))]
    if d.has("plinth/key.left[1]"):
        for _, hand in HANDS:
            _keyed_end(s, d, hand)
        rest = [n for n in rest if not n.startswith(("plinth/key", "plinth/end"))]
    for starts, text, way in (
        ("plinth/end", "Glue and screw the ends to it, square", FORWARDS),
        ("plinth/rear", "Close the plinth with its rear; compare the diagonals", FORWARDS),
        ("plinth/stretcher", "Set the stretchers between front and rear", UPWARDS),
        ("plinth/cleat", "Glue and screw the cleats on, flush with the upper edges", UPWARDS),
        ("plinth/block", "Glue the blocks into the corners, their inserts in them", UPWARDS),
    ):
        members = [n for n in rest if n.startswith(starts) and not n.endswith("/leveller")]
        if members:
            squares = starts == "plinth/rear"
            s.bring(members, text, into="plinth", moves=by(way, moved / 2), cautions=(GLUE,), squares=squares)
    whole = [n for n in _names(d, "plinth") if not n.endswith("/leveller")]
    s.bring(whole, "Screw the plinth to the case from within, without glue", moves=by(UPWARDS, moved / 2))


def _mitred_end(s: Sequence, hand: str) -> None:
    """A spline and then the end come square to the mitre."""
    half = math.sqrt(0.5)
    way = (half if hand == "left" else -half, -half, 0.0)
    for name, text in (("spline", "Glue the spline into its mitre"), ("end", "Glue the end to it, square")):
        s.bring([f"plinth/{name}.{hand}"], text, into="plinth", moves=by(way, 80.0), cautions=(GLUE,))


def _keyed_end(s: Sequence, d: Draft, hand: str) -> None:
    """The end is glued square to the mitre; once that holds, slots are sawn across the corner and keys glued in."""
    half = math.sqrt(0.5)
    way = (half if hand == "left" else -half, -half, 0.0)
    s.bring(
        [f"plinth/end.{hand}"],
        "Glue the mitre, square, in clamps",
        into="plinth",
        moves=by(way, 80.0),
        cautions=(GLUE,),
    )
    keys = [n for n in _names(d, "plinth") if n.startswith(f"plinth/key.{hand}[")]
    s.work(
        f"Saw {len(keys)} slots across the glued corner, {d.led['key.width']:.1f} mm deep from its edge: the frame in "
        f"a cradle that holds it at 45° and slides along the fence, blade square to the table, {_key_places(d, keys)}",
        (KEYS,),
        makes=s.joints_of(f"plinth/end.{hand}", *keys),
        made_in=["plinth/front", f"plinth/end.{hand}"],
    )
    inwards = (half if hand == "left" else -half, half, 0.0)
    s.bring(
        keys,
        "Glue the keys in, grain across the corner; saw off what stands over, pare them flush from the corner inwards",
        into="plinth",
        moves=by(inwards, 60.0),
        cautions=(GLUE,),
    )


def _key_places(d: Draft, keys: list[str]) -> str:
    """Return where the slots of a corner lie, in words: their middles from the lower edge of the plinth, mm."""
    slip, foot = d.practice["fit.slip"], world_box(d.at("plinth/front"))[0][2]
    boxes = [world_box(d.at(key)) for key in keys]
    places = sorted((lo[2] + hi[2] + slip) / 2 - foot for lo, hi in boxes)  # a key lies on the lower wall of its slot
    wide = boxes[0][1][2] - boxes[0][0][2] + slip
    text = " and ".join(f"{at:.1f}" for at in places)
    return f"their middles {text} mm over the lower edge, {wide:.1f} mm wide: as many passes as the blade needs"


def _bracket(s: Sequence, d: Draft, foot: str) -> None:
    """Make one foot on the bench."""
    members = _bracket_members(d, foot)
    first = f"{foot}/side"
    with s.each(foot, "foot"):
        s.bring([first], "Lay the side bracket on the bench", into=foot)
        s.bring(
            [n for n in members if n.rpartition("/")[2] in ("front", "rear", "spline")],
            "Glue its fellow to it, square",
            into=foot,
            moves=by(_onto_side(foot), 80.0),
            cautions=(GLUE,),
        )
        late = [n for n in members if n.rpartition("/")[2] not in ("side", "front", "rear", "spline")]
        s.bring(late, "Glue plate and block into the corner", into=foot, moves=by(UPWARDS, 80.0), cautions=(GLUE,))


def _bracket_members(d: Draft, foot: str) -> list[str]:
    """Return the names of what a bracket foot is made of; its levelling foot comes after the finish."""
    return [n for n in _names(d, foot) if not n.endswith("/leveller")]


def _onto_side(foot: str) -> Vec:
    """Return the way by which the fellow of a side bracket comes: square to the mitre in front, from within behind."""
    outwards = LEFTWARDS if foot.endswith("left") else RIGHTWARDS
    if ".rear." in foot:
        return outwards
    half = math.sqrt(0.5)
    return (outwards[0] * half, half, 0.0)


def _names(d: Draft, group: str) -> list[str]:
    return [p.removeprefix(d.path + "/") for p in d.under(group)]
