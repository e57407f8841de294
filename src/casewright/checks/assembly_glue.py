"""A glue-up is closed before the glue skins over, and no larger than the shop's clamps."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.assembly_state import Scene, scenes
from casewright.checks.fit_boxes import box_of
from casewright.checks.model import Check, Subject
from casewright.findings import Finding, Severity
from casewright.stock.model import Glue

TIME_SOURCE = "the glue's open time; common practice (practice glue.joint_time): spreading and setting one joint"
CLAMP_SOURCE = "practice clamp.reach: the longest bar clamps of the shop"


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a note for each glue-up that takes longer than the glue stays open, or is longer than the clamps."""
    glue = next((items[0] for role, items in subject.sizes.roles if role == "glue" and items), None)
    glued = {j.id for j in subject.piece.joints if j.glued}
    for scene in scenes(subject):
        closes = [j for j in scene.step.closes if j in glued]
        if not closes:
            continue
        minutes = len(closes) * subject.practice["glue.joint_time"]
        if isinstance(glue, Glue) and minutes > glue.open_time:
            yield _finding(
                subject,
                scene,
                "assembly.open_time",
                f"{len(closes)} glued joints take {minutes:.0f} minutes; {glue.name} stays open {glue.open_time:.0f}",
                minutes,
                glue.open_time,
                "min",
                TIME_SOURCE,
                "glue it in two goes, use a slower glue, or two people",
            )
        yield from _clamps(subject, scene, set(closes))


def _clamps(subject: Subject, scene: Scene, closes: set[str]) -> Iterator[Finding]:
    """Compare what is clamped, along the way that the part arrives by, with the longest clamps."""
    fastened = {f.joint for f in subject.piece.fasteners}
    pressed = [j for j in subject.piece.joints if j.id in closes and j.id not in fastened]
    if not pressed or not scene.step.moves:
        return
    way = scene.step.moves[-1]
    axis = max(range(3), key=lambda i: abs(way[i]))
    members = {path for j in pressed for path in (j.a, j.b)}
    box = box_of(subject, [p for p in (*scene.present, *scene.arriving) if p.path in members])
    across, most = float(box[1, axis] - box[0, axis]), subject.practice["clamp.reach"]
    if across > most:
        yield _finding(
            subject,
            scene,
            "assembly.clamps",
            f"it is {across:.0f} mm across where it is clamped",
            across,
            most,
            "mm",
            CLAMP_SOURCE,
            "join two clamps, use straps, or screw the joint",
        )


def _finding(
    subject: Subject,
    scene: Scene,
    code: str,
    message: str,
    value: float,
    limit: float,
    unit: str,
    source: str,
    remedy: str,
) -> Finding:
    return subject.finding(
        code=code,
        severity=Severity.NOTE,
        path=scene.step.id,
        message=f"step {scene.number}: {message}",
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        remedy=remedy,
    )


CHECK = Check(
    code="assembly.glue",
    what="glue-ups are closed in the glue's open time and fit the shop's clamps",
    needs=("steps", "glued joints", "glue of the stock", "practice glue.joint_time, clamp.reach"),
    source=TIME_SOURCE,
    run=run,
)
