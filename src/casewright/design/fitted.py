"""What is cut to fit: parts that something real is measured for first, and what is left over on them until then.

A part that must fit something real is cut last (common practice: blocking, drawer boxes, fronts, doors, backs,
mouldings, a top's final size). Which parts those are stands in FITTED, by the kind that the block that makes a part
gives it (`Part.kind`): a new piece is free in its names.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.parts import Part, PartKind, Placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Parts that are cut to fit, and what they are measured from, by their kinds.

    `stands` says in words what they are measured from; `sizes` are those held back, of a part's three.
    """

    parts: tuple[PartKind, ...]
    measured_from: tuple[PartKind, ...]
    what: str
    stands: str
    measure: str
    sizes: tuple[int, ...]


FITTED = (
    Fitted(
        parts=(PartKind.BLOCKING,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="slide blocking",
        stands="the case, with its face frame if it has one, stands",
        measure="from the edge of the frame's opening to the side, each side by itself; plane it flush, never proud",
        sizes=(2,),
    ),
    Fitted(
        parts=(PartKind.BOX_END,),
        measured_from=(PartKind.FRAME, PartKind.BLOCKING),
        what="drawer box, front and back",
        stands="what the slides are screwed to stands",
        measure="the opening between what the slides lie on, less the slides' room as measured on the slides in hand, "
        "is the box; less what both sides are thick beside the front's ends, their rabbets taken off",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DRAWER_BOTTOM,),
        measured_from=(PartKind.FRAME, PartKind.BLOCKING),
        what="drawer bottom",
        stands="what the slides are screwed to stands",
        measure="one side and the box's front held together dry: between the floors of the grooves, less its play",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.DRAWER_FRONT,),
        measured_from=(PartKind.FRAME,),
        what="drawer front",
        stands="what its opening is in stands",
        measure="its opening at both ends and both edges, less the gaps of the opening schedule",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.APPLIED,),
        measured_from=(PartKind.DRAWER_FRONT,),
        what="frame applied on the front",
        stands="the front is cut",
        measure="the front as it was fitted, less its margins",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DOOR_MEMBER,),
        measured_from=(PartKind.FRAME,),
        what="door stiles and rails",
        stands="what its opening is in stands",
        measure="the opening less the gaps of the opening schedule: its height for the stiles; its width, for a pair "
        "half of it less the gap between them, less both stiles, plus both tenons, for the rails",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DOOR_PANEL,),
        measured_from=(PartKind.FRAME,),
        what="door panel",
        stands="the door's stiles and rails are cut",
        measure="the door's frame held together dry: between the floors of the grooves, less its play; try its "
        "thickness in the groove",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.BACK,),
        measured_from=(PartKind.CASE,),
        what="back",
        stands="the case is closed",
        measure="between the walls of the rabbets, less its play, with the case's diagonals equal",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.CROWN, PartKind.MOULDING),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="mouldings around the case",
        stands="the case, with its face frame if it has one, stands",
        measure="along the case; cut the mitres first, then the square ends at the wall",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.TOP,),
        measured_from=(PartKind.CASE, PartKind.FRAME, PartKind.BACK, PartKind.CROWN),
        what="top",
        stands="case, back and mouldings stand",
        measure="over the case and its mouldings, with the overhangs",
        sizes=(0, 1),
    ),
)


def with_surplus(placed: Placed, surplus: float) -> Placed:
    """Return a placed thing with at least `surplus` mm left on in each length and width that is cut to fit.

    Thickness is planed to fit, and needs none.
    """
    if not isinstance(placed.thing, Part):
        return placed
    sizes = {i for fitted in FITTED if placed.thing.kind in fitted.parts for i in fitted.sizes}
    if not sizes:
        return placed
    left = placed.thing.allowance
    length = max(left.length, surplus) if 0 in sizes else left.length
    width = max(left.width, surplus) if 1 in sizes else left.width
    allowance = replace(left, length=length, width=width)
    return replace(placed, thing=replace(placed.thing, allowance=allowance))
