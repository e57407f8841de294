"""Joints of what stands between two panels: an end butts against a face along a line from front to back.

Common practice: screwed through the panel where nobody sees its outer face, pocket screws from a hidden face of the
part itself, dowels where both show; what the shop cannot make is passed over, and the joint says why.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from casewright.design.assembly import JointKind
from casewright.design.draft import Draft
from casewright.design.frames import Vec, scale
from casewright.design.joints.auto import Case, Choice, Member, NoJointError, Shown, choose
from casewright.design.joints.base import Detail
from casewright.design.joints.dowelling import DowelLine, dowel_setting
from casewright.design.joints.pockets import PocketLine, pocket_setting, pockets_apart
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Placed
from casewright.design.sites import DIRECTIONS, depth_along, middle, world_box
from casewright.stock.model import Dowel


class How(Enum):
    """What is seen where an end is held: the panel's outer face is hidden, one of the part's own, or neither is."""

    THROUGH = "the panel's outer face is hidden"
    POCKETS = "a face of the part is hidden"
    DOWELS = "faces on both sides are in sight"


SLENDER = 0.45  # of the thinner part: diameter of dowels in the shell of a case
SHORT = 60.0  # mm: one fastener holds a shorter end where there is no room for two
PREFERRED = {
    How.THROUGH: (JointKind.BUTT_SCREWS, JointKind.POCKET_SCREWS, JointKind.DOWEL),
    How.POCKETS: (JointKind.POCKET_SCREWS, JointKind.DOWEL),
    How.DOWELS: (JointKind.DOWEL,),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where the end of a part meets a panel: the middle line of the end, from `start` to `end`, mm in the piece."""

    start: Vec
    end: Vec
    drive: Vec

    @property
    def length(self) -> float:
        """Of the line."""
        return sum(abs(b - a) for a, b in zip(self.start, self.end, strict=True))

    def moved(self, by: float) -> tuple[Vec, Vec]:
        """Return the line moved `by` mm along the drive."""
        a, b = (tuple(c + by * w for c, w in zip(p, self.drive, strict=True)) for p in (self.start, self.end))
        return (a[0], a[1], a[2]), (b[0], b[1], b[2])


def contact(part: Placed, panel: Placed, drive: Vec) -> Contact:
    """Return where a part meets a panel in the direction `drive`, as far as both reach."""
    lo, hi = world_box(part)
    low, high = world_box(panel)
    axis = next(i for i in range(3) if drive[i])
    run, thin = sorted((i for i in range(3) if i != axis), key=lambda i: lo[i] - hi[i])
    a, b = list(middle(lo, hi)), list(middle(lo, hi))
    a[axis] = b[axis] = hi[axis] if drive[axis] > 0 else lo[axis]
    a[run], b[run] = max(lo[run], low[run]), min(hi[run], high[run])
    a[thin] = b[thin] = (lo[thin] + hi[thin]) / 2
    return Contact(start=(a[0], a[1], a[2]), end=(b[0], b[1], b[2]), drive=drive)


def hold(
    d: Draft,
    kit: Kit,
    part: Placed,
    panel: Placed,
    towards: str,
    how: How,
    *,
    opens: str = "down",
    why: str = "",
    glued: bool = True,
) -> None:
    """Join the end of a part that looks `towards` a panel; `opens` is the face of the part that pockets go into.

    Which kind it is, `joints.auto` chooses from what may be seen and what the shop can do. Raises KitError where
    nothing is left to choose.
    """
    line = contact(part, panel, DIRECTIONS[towards])
    name, other = (p.path.removeprefix(d.path + "/") for p in (part, panel))
    chosen = _chosen(kit, part, panel, line, how)
    why = why or f"{how.value}: {chosen.why}"
    count = max(2, round(line.length / d.practice["butt.screw_spacing"]) + 1)
    ends = min(d.practice["butt.ends"], line.length / 5)
    id_ = f"{name}~{other}"
    if chosen.kind is JointKind.BUTT_SCREWS:
        detail: Detail = _through(d, kit, part, panel, line, count, ends)
        d.joint(id_, chosen.kind, panel, part, line.start, detail, glued=glued, why=why)
        return
    if chosen.kind is JointKind.POCKET_SCREWS:
        detail = _pockets(kit, part, panel, line, opens, count, pocket_ends(d, line.length))
    else:
        detail = _dowels(d, kit, part, panel, line, count)
    d.joint(id_, chosen.kind, part, panel, line.start, detail, glued=glued, why=why)


def pocket_ends(d: Draft, length: float) -> float:
    """Return how far the first and last pocket stand from the ends of a line of a length, mm: room for a driver."""
    p = d.practice
    return max(min(p["butt.ends"], length / 5), min(p["fastener.driver"], length / 3))


def _chosen(kit: Kit, part: Placed, panel: Placed, line: Contact, how: How) -> Choice:
    case = Case(
        a=Member(form=panel.part.form, thickness=depth_along(panel, line.drive)),
        b=Member(form=part.part.form, thickness=min(part.part.blank.size), end=True),
        outer=Shown.HIDDEN if how is How.THROUGH else Shown.CLEAR,
        pockets_hidden=how is not How.DOWELS,
        shop=kit.abilities,
    )
    try:
        return choose(PREFERRED[how], case)
    except NoJointError as none:
        raise KitError("a joint of the case", how.value, str(none)) from none


def _through(d: Draft, kit: Kit, part: Placed, panel: Placed, line: Contact, count: int, ends: float) -> ScrewLine:
    thick = depth_along(panel, line.drive)
    bite = thick + d.practice["butt.bite"]
    screw = kit.screw("wood", 8, bite, bite + 12.0, role="case_screw", shortest=True)
    start, end = line.moved(thick)
    return ScrewLine(
        screw=screw,
        start=start,
        end=end,
        drive=scale(line.drive, -1.0),
        count=count,
        ends=ends,
        apart=d.practice["fastener.apart"],
    )


def _pockets(kit: Kit, part: Placed, panel: Placed, line: Contact, opens: str, count: int, ends: float) -> PocketLine:
    p = kit.practice
    own, into = depth_along(part, DIRECTIONS[opens]), depth_along(panel, line.drive)
    screw = kit.pocket_screw(own)
    setting = pocket_setting(screw, own, into, p)
    if setting is None:
        raise KitError("pocket screws in the case", "a case sheet of 16 mm or more", f"{own:.1f} mm")
    return PocketLine(
        screw=screw,
        start=line.start,
        end=line.end,
        opens=DIRECTIONS[opens],
        drive=line.drive,
        setting=setting,
        count=count,
        ends=ends,
        apart=pockets_apart(line.length, ends, p),
        least=1 if line.length < SHORT else 0,
    )


def _dowels(d: Draft, kit: Kit, part: Placed, panel: Placed, line: Contact, count: int) -> DowelLine:
    own, into = depth_along(part, line.drive), depth_along(panel, line.drive)
    thin = min(part.part.blank.size)
    dowels = kit.all("frame_dowel", Dowel)
    # Another end may meet the panel's other face at this height: thin ones pass beside each other.
    slender = [dowel for dowel in dowels if dowel.diameter <= SLENDER * thin]
    setting = dowel_setting(slender or dowels, min(thin, into), own, into, d.practice)
    if setting is None:
        raise KitError("dowels in the case", f"a dowel for {thin:.1f} mm, {into:.1f} mm deep", "none that fits")
    return DowelLine(
        setting=setting,
        start=line.start,
        end=line.end,
        drive=line.drive,
        count=count,
        ends=min(d.practice["butt.ends"], line.length / 5),
        apart=min(d.practice["fastener.apart"], 2 * setting.dowel.diameter),
    )
