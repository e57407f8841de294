"""Mortise and tenon, and the stub tenon that stands in a panel's groove.

Common practice: a tenon is a third of the stock thick and 25 to 32 mm long in 19 mm frames; a mortise ends 1/2 in or
more from the end of its part; it is a little deeper than the tenon is long.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.blanks import Face
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Tenon
from casewright.design.features.openings import mortise
from casewright.design.frames import Vec, scale
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.meeting import Meeting, meeting
from casewright.design.parts import Placed
from casewright.design.sites import Span, depth_along, world_box
from casewright.findings import Finding, Severity
from casewright.shop.model import Practice


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonIn:
    """The end of part b stands in part a as a tenon: `thick` mm thick, with shoulders (low, high) across its width.

    `offset` shifts it from the middle of b's thickness (towards higher x, y or z). `rounded` mortises have the round
    ends of a router bit; the tenon's are then rounded by hand to fit, and drawn short of them. `check_end` looks at
    the wood between the mortise and the end of a.
    """

    thick: float
    shoulders: Span
    offset: float = 0.0
    rounded: bool = False
    check_end: bool = True

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Shoulder b, and mortise a a little deeper than the tenon is long."""
        a, b = site.placed[joint.a], site.placed[joint.b]
        m = meeting(a, b)
        lo, hi = self._tongue(m)
        features: list[tuple[str, Feature]] = [(b.path, self._tenon(b, m, lo, hi, joint.id))]
        depth = min(
            m.reach + site.practice["tenon.spare"], depth_along(a, m.drive) - site.practice["fastener.point_cover"]
        )
        face = a.face_towards(m.drive)
        u, v = _spans(a, face, lo, hi)
        features.append((a.path, mortise(face, u, v, max(depth, m.reach), rounded=self.rounded, joint=joint.id)))
        return Resolution(features=tuple(features), findings=self._ends(a, m, lo, hi, joint, site.practice))

    def _tongue(self, m: Meeting) -> tuple[Vec, Vec]:
        lo, hi = list(m.lo), list(m.hi)
        mid = (lo[m.thick] + hi[m.thick]) / 2 + self.offset
        lo[m.thick], hi[m.thick] = mid - self.thick / 2, mid + self.thick / 2
        lo[m.run], hi[m.run] = lo[m.run] + self.shoulders[0], hi[m.run] - self.shoulders[1]
        return (lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2])

    @staticmethod
    def _tenon(b: Placed, m: Meeting, lo: Vec, hi: Vec, joint: str) -> Tenon:
        face = b.face_towards(scale(m.drive, -1.0))
        (u0, u1), (v0, v1) = _spans(b, face, lo, hi)
        return Tenon(face=face, u0=u0, u1=u1, v0=v0, v1=v1, length=m.reach, joint=joint)

    def _ends(self, a: Placed, m: Meeting, lo: Vec, hi: Vec, joint: Joint, p: Practice) -> tuple[Finding, ...]:
        if not self.check_end:
            return ()
        box = world_box(a)
        left = min(lo[m.run] - box[0][m.run], box[1][m.run] - hi[m.run])
        if left >= p["tenon.end"] - 1e-6:
            return ()
        return (
            Finding(
                code="tenon.end",
                severity=Severity.WARN,
                path=joint.id,
                message=f"{left:.1f} mm of wood between the mortise and the end of its part",
                value=left,
                limit=p["tenon.end"],
                source="common practice: a mortise ends 1/2 in or more from the end, unless haunched",
                remedy="a wider shoulder at that edge, or a haunch",
            ),
        )


def _spans(part: Placed, face: Face, lo: Vec, hi: Vec) -> tuple[Span, Span]:
    """Return the (u, v) spans of a box of the piece on a face of a blank."""
    p, q = part.frame.local_point(lo), part.frame.local_point(hi)
    u, v = face.uv_axes
    return (min(p[u], q[u]), max(p[u], q[u])), (min(p[v], q[v]), max(p[v], q[v]))


def tenon_thickness(thickness: float, practice: Practice) -> float:
    """Return the thickness of a tenon in stock of a thickness: a third of it by practice."""
    return thickness * practice["door.tenon_share"]
