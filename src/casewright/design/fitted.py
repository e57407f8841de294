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


UNDER_A_TOP = (PartKind.CASE, PartKind.FRAME, PartKind.BACK, PartKind.BACK_MEMBER, PartKind.CROWN)

FITTED = (
    Fitted(
        parts=(PartKind.BLOCKING,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="slide blocking",
        stands="the case, with its face frame if it has one, stands",
        measure="from the edge of the frame's opening to the side or divider that it is screwed to, each place by "
        "itself; plane it flush, never proud",
        sizes=(2,),
    ),
    Fitted(
        parts=(PartKind.BOX_END,),
        measured_from=(PartKind.CASE, PartKind.FRAME, PartKind.BLOCKING),
        what="drawer box, front and back",
        stands="what the slides are screwed to stands",
        measure="the opening between what the slides lie on, less the slides' room as measured on the slides in hand, "
        "is the box; less what both sides are thick beside the front's ends, their rabbets taken off",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DRAWER_BOTTOM,),
        measured_from=(PartKind.CASE, PartKind.FRAME, PartKind.BLOCKING),
        what="drawer bottom",
        stands="what the slides are screwed to stands",
        measure="one side and the box's front held together dry: between the floors of the grooves, less its play",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.DRAWER_FRONT,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="drawer front",
        stands="the case around its opening stands",
        measure="its opening at both ends and both edges, less the gaps and with the laps of the opening schedule",
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
        parts=(PartKind.FRONT_MEMBER,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="stiles and rails of drawer fronts",
        stands="the case around its opening stands",
        measure="the opening, less the gaps and with the laps of the opening schedule: its height for the stiles; its "
        "width, less both stiles, plus both tenons, for the rails",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.FRONT_PANEL,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="panel of a drawer front",
        stands="the front's stiles and rails are cut",
        measure="the front's frame held together dry: between the floors of the grooves, less its play",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.FRONT_BLOCK,),
        measured_from=(PartKind.FRONT_MEMBER, PartKind.FRONT_PANEL),
        what="block behind the panel of a drawer front",
        stands="the front is glued up",
        measure="between the stiles, less a little at both ends",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DOOR_MEMBER,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="door stiles and rails",
        stands="the case around its opening stands",
        measure="the opening, less the gaps and with the laps of the opening schedule: its height for the stiles; its "
        "width (for a pair half of it less half the gap between them), less both stiles, plus both tenons, for the "
        "rails",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DOOR_PANEL,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="door panel",
        stands="the door's stiles and rails are cut",
        measure="the door's frame held together dry: between the floors of the grooves, less its play; try its "
        "thickness in the groove",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.BEAD,),
        measured_from=(PartKind.DOOR_MEMBER,),
        what="glass beads",
        stands="the door is glued up",
        measure="the rabbet's long sides, corner to corner, each by itself; a scrap corner first",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.DOOR_SLAB,),
        measured_from=(PartKind.CASE, PartKind.FRAME),
        what="door of one panel",
        stands="the case around its opening stands",
        measure="its opening at both ends and both edges, less the gaps and with the laps of the opening schedule, "
        "less the bands of its edges",
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
        parts=(PartKind.BACK_MEMBER,),
        measured_from=(PartKind.CASE,),
        what="stiles, rails and muntins of the back",
        stands="the case is closed",
        measure="between the walls of the rabbets, less its play, with the case's diagonals equal: the height for the "
        "stiles; the width, less both stiles, plus both tenons, for the rails",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.BACK_PANEL,),
        measured_from=(PartKind.CASE,),
        what="panel of the back",
        stands="the back's members are cut",
        measure="the back's frame held together dry: between the floors of the grooves, less its play",
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
        measured_from=UNDER_A_TOP,
        what="top",
        stands="case, back and mouldings stand",
        measure="over the case and its mouldings, with the overhangs, less what is joined to its edges",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.TOP_MEMBER,),
        measured_from=UNDER_A_TOP,
        what="members of the top",
        stands="case, back and mouldings stand",
        measure="over the case and its mouldings, with the overhangs: the length for front and rear; the depth, "
        "less both of them, plus both tenons, for the ends",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.TOP_PANEL,),
        measured_from=UNDER_A_TOP,
        what="panel of the top",
        stands="the top's members are cut",
        measure="the top's frame held together dry: between its inner edges, plus both tongues",
        sizes=(0, 1),
    ),
    Fitted(
        parts=(PartKind.TOP_END, PartKind.TOP_EDGING),
        measured_from=(*UNDER_A_TOP, PartKind.TOP),
        what="what is joined to the top's edges",
        stands="the top is cut",
        measure="the top's own edges: ends flush with them in front and behind, edging to the long points of its "
        "mitres",
        sizes=(0,),
    ),
    Fitted(
        parts=(PartKind.LID,),
        measured_from=UNDER_A_TOP,
        what="lid, and the strip behind it",
        stands="case and back stand",
        measure="over the case, with the overhangs: its length for both; its depth, less strip and gap, for the lid; "
        "less their bands",
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
