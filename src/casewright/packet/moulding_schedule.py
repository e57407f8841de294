"""The moulding schedule as records: lengths of each piece, and how its ends are set on a mitre saw. Lengths in mm.

Frame of the saw: X to the operator's right, Y to the fence, Z up. A cut is a plane with outward normal n in the blank's
frame (x along, y across, z out of the back).

1. *Flat* on its back, face up: blank y lies along Y (upper edge to the fence) or, turned half about Z, against it
   (lower edge to the fence). The trace of the plane on the table gives the swing, its lean the tilt; of the two ways
   that one is taken whose tilt is to the left, which every compound saw can do.
2. *Nested*, for cuts that stand upright once installed: the back against the fence as against the wall. A crown stands
   upside down, turned half about the way out of the wall, so its ends change sides; a moulding without spring stands
   as on the wall. The saw then swings by half the corner and does not tilt.

Known tables (saw manuals, common practice): crown, outside corner, piece to the left of it: flat, lower edge to the
fence, swing left, keep what is right of the blade.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from casewright.design.blanks import Blank, Face
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Vec, cosd, dot, sind
from casewright.design.parts import Form, Part, PartKind, Placed
from casewright.packet.parts_list import PartRow
from casewright.project import Project
from casewright.stock.model import Stick

OUTER, INNER = "outer edge", "inner edge"  # of what goes around a frame
UPRIGHT = 1e-6  # an upright plane's normal has no more than this of the way up


@dataclass(frozen=True, slots=True, kw_only=True)
class SawSetting:
    """How one cut is set: degrees, "left" or "right" (empty at 0), what lies against the fence, which side is kept."""

    swing: float
    swing_way: str
    tilt: float
    tilt_way: str
    fence: str
    keep: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingEnd:
    """An end as one faces the installed piece: "left" or "right"; `flat` is None where it is square."""

    side: str
    flat: SawSetting | None
    nested: SawSetting | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingRow:
    """One mark of moulding: its row of the parts list, length along the case and between long points, its ends."""

    row: PartRow
    stick: Stick
    case_line: float
    long_point: float
    ends: tuple[MouldingEnd, MouldingEnd]


def moulding_rows(project: Project, rows: tuple[PartRow, ...]) -> tuple[MouldingRow, ...]:
    """Return every mark that is cut from a profile with an angled end, in the order of marks."""
    placed = _first_placed(project)
    out = []
    for row in rows:
        stick = project.stock.get(row.stock)
        if (
            row.form is Form.STICK
            and isinstance(stick, Stick)
            and any(isinstance(f, EndCut) for f in row.part.features)
        ):
            out.append(_row(row, stick, placed[row.mark]))
    return tuple(out)


def _first_placed(project: Project) -> dict[str, Placed]:
    out: dict[str, Placed] = {}
    for piece in project.assembly.pieces:
        for placed in piece.placed:
            mark = project.mark_of(placed)
            if mark is not None:
                out.setdefault(mark.label, placed)
    return out


def _row(row: PartRow, stick: Stick, placed: Placed) -> MouldingRow:
    part = placed.part
    lengths = lengths_along(part)
    # Facing the wall, the blank's x runs to the right: `out × along` points up in a run (design.sections).
    left, right = (_end(part, stick, face) for face in (Face.END0, Face.END1))
    return MouldingRow(row=row, stick=stick, case_line=min(lengths), long_point=max(lengths), ends=(left, right))


def lengths_along(part: Part) -> tuple[float, ...]:
    """Return the length of a piece along each corner of its section, mm."""
    blank = part.blank
    section = blank.section
    corners = section.points(0.05) if section is not None else _corners(blank)
    low = [_reach(part, Face.END0, y, z) for y, z in corners]
    high = [_reach(part, Face.END1, y, z) for y, z in corners]
    return tuple(b - a for a, b in zip(low, high, strict=True))


def _corners(blank: Blank) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (blank.width, 0.0), (blank.width, blank.thickness), (0.0, blank.thickness))


def _reach(part: Part, face: Face, y: float, z: float) -> float:
    """Return where an end cuts the line at (y, z), mm from end 0."""
    blank = part.blank
    cut = _cut(part, face)
    if cut is None:
        return blank.length if face.high else 0.0
    n = cut.normal()
    return cut.at - (n[1] * (y - blank.width / 2) + n[2] * (z - blank.thickness / 2)) / n[0]


def _cut(part: Part, face: Face) -> EndCut | None:
    return next((f for f in part.features if isinstance(f, EndCut) and f.face is face and (f.mitre or f.bevel)), None)


def _end(part: Part, stick: Stick, face: Face) -> MouldingEnd:
    cut = _cut(part, face)
    side = "right" if face.high else "left"
    if cut is None:
        return MouldingEnd(side=side, flat=None, nested=None)
    n = cut.normal()
    flat, nested = flat_setting(n), nested_setting(n, stick.spring)
    if nested is None:  # a frame on a face has no upper edge of its own
        flat = replace(flat, fence=OUTER if _long_edge(part) == flat.fence else INNER)
        if part.kind is PartKind.BEAD and flat.fence == INNER and not flat.tilt_way:
            flat = turned(flat)  # its outer edge is the square one
    return MouldingEnd(side=side, flat=flat, nested=nested)


def _long_edge(part: Part) -> str:
    across = [_reach(part, Face.END1, y, 0.0) - _reach(part, Face.END0, y, 0.0) for y in (0.0, part.blank.width)]
    return "upper edge" if across[1] > across[0] else "lower edge"


def flat_setting(n: Vec) -> SawSetting:
    """Return how a cut with outward normal `n` (blank frame) is set with the moulding flat on its back."""
    sign = 1.0 if n[0] > 0 else -1.0
    turned = sign * n[2] < -UPRIGHT  # as it lies the saw would tilt to the right
    swing = math.degrees(math.atan2(sign * n[1], abs(n[0])))
    tilt = math.degrees(math.asin(min(1.0, abs(n[2]))))
    return SawSetting(
        swing=abs(swing),
        swing_way=_way(swing),
        tilt=tilt,
        tilt_way="left" if tilt > UPRIGHT else "",
        fence="lower edge" if turned else "upper edge",
        keep="right" if (n[0] > 0) == turned else "left",
    )


def turned(flat: SawSetting) -> SawSetting:
    """Return a setting without tilt with the other edge to the fence: after half a turn only the sides have changed."""
    return replace(
        flat, fence=INNER if flat.fence == OUTER else OUTER, keep="left" if flat.keep == "right" else "right"
    )


def nested_setting(n: Vec, spring: float) -> SawSetting | None:
    """Return how a cut is set with the moulding nested against the fence; None where it does not stand upright then."""
    up = (0.0, cosd(spring), -sind(spring))
    if abs(dot(n, up)) > UPRIGHT:
        return None
    out = dot(n, (0.0, sind(spring), cosd(spring)))
    sign = 1.0 if n[0] > 0 else -1.0
    upside_down = spring > 0
    swing = math.degrees(math.atan2(sign * out * (1.0 if upside_down else -1.0), abs(n[0])))
    return SawSetting(
        swing=abs(swing),
        swing_way=_way(swing),
        tilt=0.0,
        tilt_way="",
        fence="upside down, upper edge on the table, back" if upside_down else "lower edge on the table, back",
        keep="right" if (n[0] > 0) == upside_down else "left",
    )


def _way(swing: float) -> str:
    return "" if abs(swing) <= UPRIGHT else "right" if swing > 0 else "left"
