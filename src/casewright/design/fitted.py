"""What is cut to fit: parts that something real is measured for first, and what is left over on them until then.

A part that must fit something real is cut last (common practice: blocking, drawer boxes, fronts, doors, backs,
mouldings, a top's final size). Which parts those are stands in FITTED, by their paths in a piece.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from casewright.design.parts import Part, Placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Parts that are cut to fit: patterns of paths below the piece.

    `stands` says in words what they are measured from; `sizes` are those held back, of a part's three.
    """

    parts: re.Pattern[str]
    measured_from: re.Pattern[str]
    what: str
    stands: str
    measure: str
    sizes: tuple[int, ...]


_CASE = r"(side\.\w+|bottom|stretcher\.\w+)"
FITTED = (
    Fitted(
        parts=re.compile(r"drawer\[.*\]\.blocking\.\w+"),
        measured_from=re.compile(rf"{_CASE}|frame/.*"),
        what="slide blocking",
        stands="case and face frame stand",
        measure="from the edge of the frame's opening to the side, each side by itself; plane it flush, never proud",
        sizes=(2,),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/(box_front|box_back)"),
        measured_from=re.compile(r"frame/.*|drawer\[.*\]\.blocking\.\w+"),
        what="drawer box, front and back",
        stands="the blocking is in",
        measure="the opening between the blocking, less the slides' room as measured on the slides in hand, is the "
        "box; less what stands of both sides beside them",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/bottom"),
        measured_from=re.compile(r"frame/.*|drawer\[.*\]\.blocking\.\w+"),
        what="drawer bottom",
        stands="the blocking is in",
        measure="one side and the box's front held together dry: between the floors of the grooves, less its play",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/face/front"),
        measured_from=re.compile(r"frame/.*"),
        what="drawer front",
        stands="the face frame stands",
        measure="its opening at both ends and both edges, less the gaps of the opening schedule",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/face/applied\.\w+"),
        measured_from=re.compile(r"drawer\[.*\]/face/front"),
        what="frame applied on the front",
        stands="the front is cut",
        measure="the front as it was fitted, less its margins",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"door\[.*\]/(stile|rail)\.\w+"),
        measured_from=re.compile(r"frame/.*"),
        what="door stiles and rails",
        stands="the face frame stands",
        measure="the opening less the gaps of the opening schedule: its height for the stiles; its width, less both "
        "stiles, plus both tenons, for the rails",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"door\[.*\]/panel"),
        measured_from=re.compile(r"frame/.*"),
        what="door panel",
        stands="the door's stiles and rails are cut",
        measure="the door's frame held together dry: between the floors of the grooves, less its play; try its "
        "thickness in the groove",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"back"),
        measured_from=re.compile(_CASE),
        what="back",
        stands="the case is closed",
        measure="between the walls of the rabbets, less its play, with the case's diagonals equal",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"(base|crown)/\w+"),
        measured_from=re.compile(rf"{_CASE}|frame/.*"),
        what="mouldings around the case",
        stands="case and face frame stand",
        measure="along the case; cut the mitres first, then the square ends at the wall",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"top"),
        measured_from=re.compile(rf"{_CASE}|frame/.*|back|crown/.*"),
        what="top",
        stands="case, back and mouldings stand",
        measure="over the case and its mouldings, with the overhangs",
        sizes=(0, 1),
    ),
)


def with_surplus(placed: Placed, piece: str, surplus: float) -> Placed:
    """Return a placed thing of a piece with at least `surplus` mm left on in each length and width that is cut to fit.

    Thickness is planed to fit, and needs none.
    """
    name = placed.path[len(piece) + 1 :]
    sizes = {i for fitted in FITTED if fitted.parts.fullmatch(name) for i in fitted.sizes}
    if not sizes or not isinstance(placed.thing, Part):
        return placed
    left = placed.thing.allowance
    length = max(left.length, surplus) if 0 in sizes else left.length
    width = max(left.width, surplus) if 1 in sizes else left.width
    allowance = replace(left, length=length, width=width)
    return replace(placed, thing=replace(placed.thing, allowance=allowance))
