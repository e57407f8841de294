"""The moulding schedule: lengths of every piece, how its ends are set on the mitre saw, and how it lies there."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.parts import PartKind
from casewright.packet.moulding_schedule import MouldingEnd, MouldingRow, SawSetting, moulding_rows
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import decimal
from casewright.packet.saw_picture import flat_picture, nested_picture
from casewright.stock.model import Stick

LARGEST = 26.0  # mm on paper: the larger side of a section
# How beads are cut and set: common practice.
BEAD_NOTES = (
    "Left and right are seen from behind the door. The flat side of a bead lies on the glass, its square outer edge "
    "against the wall of the rabbet: that edge is between the long points, as long as the rabbet.",
    "Mitre all four corners, each bead to its own side of the rabbet as it stands: the two short ones first, then the "
    "long ones, trimmed shaving by shaving until they spring in without a push on the glass.",
    "Pinned through the outer edge into the frame, level along the glass and never towards it; no glue: the pane must "
    "come out again.",
    "Beads are thin and short: cut them from the long stick against a backing board, hold the last piece down with a "
    "block, not with fingers, and let the blade stop before anything is taken away.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLine:
    """One end: which, and its settings as texts; empty where there is none."""

    side: str
    nested: str
    flat: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingLine:
    """One mark."""

    mark: str
    count: int
    name: str
    case_line: str
    long_point: str
    ends: tuple[EndLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingProfile:
    """Every piece of one profile; `nested` is None where no cut of it stands upright, `notes` are its own."""

    name: str
    scale: str
    nested: Drawing | None
    flat: Drawing
    lies: str
    notes: tuple[str, ...]
    spring: str
    case_line: str
    lines: tuple[MouldingLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mouldings:
    """The context of the moulding schedule; `beads` where there is nothing but glass beads."""

    unit: str
    beads: bool
    slack: str
    profiles: tuple[MouldingProfile, ...]


def mouldings(setting: Setting) -> Mouldings:
    """Return the context of the moulding schedule."""
    rows = moulding_rows(setting.project, setting.rows)
    sticks = {row.stick.id: row.stick for row in rows}
    return Mouldings(
        unit=setting.printer.unit,
        beads=all(_holds_glass(row) for row in rows),
        slack=setting.printer.in_both(f"{decimal(setting.project.practice['moulding.corner_slack'], 2)} mm"),
        profiles=tuple(_profile(setting, s, [r for r in rows if r.stick.id == s.id]) for s in sticks.values()),
    )


def _profile(setting: Setting, stick: Stick, rows: list[MouldingRow]) -> MouldingProfile:
    bead = _holds_glass(rows[0])
    upright = any(e.nested for r in rows for e in r.ends)
    ratio = next(r for r in (2.0, 1.0, 0.5, 0.25, 0.2, 0.1) if max(_size(rows)) * r <= LARGEST or r == 0.1)
    return MouldingProfile(
        name=stick.name,
        scale="full size" if ratio == 1 else f"{decimal(ratio, 0)}:1" if ratio > 1 else f"1:{decimal(1 / ratio, 0)}",
        nested=drawing_of(nested_picture(stick, ratio)) if upright else None,
        flat=drawing_of(flat_picture(stick, ratio, outer=bead)),
        lies="flat side down, outer edge to the fence" if bead else "flat on its back",
        notes=BEAD_NOTES if bead else (),
        spring=f"spring angle {decimal(stick.spring, 1)}° from the wall" if stick.spring else "",
        case_line="along the case" if upright else "inner edge, in sight" if bead else "along the inner edge",
        lines=tuple(_line(setting, r) for r in rows),
    )


def _holds_glass(row: MouldingRow) -> bool:
    return row.row.part.kind is PartKind.BEAD


def _size(rows: list[MouldingRow]) -> tuple[float, float]:
    return (rows[0].row.cut[1], rows[0].row.cut[2])


def _line(setting: Setting, r: MouldingRow) -> MouldingLine:
    return MouldingLine(
        mark=r.row.mark,
        count=r.row.count,
        name=r.row.name,
        case_line=setting.printer.size(r.case_line),
        long_point=setting.printer.printed(r.row.printed[0]),
        ends=tuple(_end(e) for e in r.ends),
    )


def _end(end: MouldingEnd) -> EndLine:
    return EndLine(
        side=end.side,
        nested=setting_text(end.nested) if end.nested else "",
        flat=setting_text(end.flat) if end.flat else "square",
    )


def setting_text(setting: SawSetting) -> str:
    """Return a setting in words: "lower edge to the fence, mitre 35.3° left, bevel 30° left, keep the …-hand part"."""
    parts = [f"{setting.fence} to the fence"]
    mitre, bevel = decimal(setting.swing, 1), decimal(setting.tilt, 1)
    parts.append(f"mitre {mitre}° {setting.swing_way}".rstrip() if setting.swing_way else "mitre 0°")
    if setting.tilt_way:
        parts.append(f"bevel {bevel}° {setting.tilt_way}")
    return ", ".join([*parts, f"keep the {setting.keep}-hand part"])
