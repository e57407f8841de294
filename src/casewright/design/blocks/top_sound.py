"""What a solid top must be whatever it lies on: its board gives the thickness, and it stands out over a crown."""

from __future__ import annotations

from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.findings import Severity


def board_gives(d: Draft, kit: Kit, thickness: float) -> bool:
    """True where the board of the role `top` gives a thickness (mm); warn where nothing is left to flatten it."""
    board = kit.board("top")
    flat = d.practice["top.finished_share"] * board.dressed
    if thickness > board.dressed + 1e-6:
        d.find(
            "top.thickness",
            Severity.STOP,
            "top.thickness",
            f"a top of {thickness:.1f} mm does not come out of this board",
            value=thickness,
            limit=board.dressed,
            source=board.source,
            remedy="choose a thicker board for the role top, or a thinner top",
        )
        return False
    if thickness > flat + 1e-6:
        d.find(
            "top.flatten",
            Severity.WARN,
            "top",
            f"a top of {thickness:.1f} mm leaves nothing to flatten the glue-up from this board",
            value=thickness,
            limit=flat,
            source="common practice: practice top.finished_share",
            remedy="a thicker board for the role top, or a thinner top",
        )
    return True


def covers_crown(d: Draft, front: float, side: float, crown: float, shrinks: float = 0.0) -> bool:
    """True where overhangs (mm) cover a crown's projection, 0 without one; warn where less than its reveal is left.

    `shrinks` is how far the front edge draws back to the dry end (mm).
    """
    for name, got, dry in (("side", side, ""), ("front", front - shrinks, " at the dry end" if shrinks else "")):
        if got < crown:
            d.find(
                "top.overhang",
                Severity.STOP,
                f"top.overhang_{name}",
                f"the crown stands out beyond the top{dry}",
                value=got,
                limit=crown,
                source="common practice",
                remedy="a wider overhang or a smaller crown",
            )
            return False
        least = crown + d.practice["crown.reveal"]
        if crown and got < least - 1e-6:
            d.find(
                "top.reveal",
                Severity.WARN,
                f"top.overhang_{name}",
                f"the top stands out only {got - crown:.1f} mm over the crown{dry}",
                value=got,
                limit=least,
                source="common practice: practice crown.reveal",
                remedy="a wider overhang, none in the order (it is then reckoned), or a smaller crown",
            )
    return True
