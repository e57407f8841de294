"""What is run along a part's edges as a small section at full size, with its reach, depth and radii.

It is drawn for the bench, so that a bit or a scraper can be held against it; also of what is run only once the part is
joined to others, which no view of the part shows.
"""

from __future__ import annotations

from casewright.design.features.base import MadeAt
from casewright.design.features.edges import EdgeProfile
from casewright.design.outlines import Outline, arc_circle
from casewright.design.parts import Part
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import LINE, box_of
from casewright.packet.drawing.primitives import Anchor, LineRole, Polyline, Primitive, Segments, Shown, Text
from casewright.packet.drawing.rows import Side, Span, chain_row
from casewright.packet.drawing.section_outline import Section, outline_lines
from casewright.packet.drawing.subject import Subject, face_name, listed
from casewright.packet.drawing.torn_line import torn_side
from casewright.units import Role

LEAST = 3.0  # mm: what reaches less far is said in words well enough
SMALL = 8.0  # mm: what reaches less far is drawn at twice its size
BEYOND = 14.0  # mm on paper that the wood goes on beyond the profile
CAPTION_WIDE = 5.0  # mm between the section and its words


def edge_section(subject: Subject, convention: Convention, shown: list[Shown]) -> Section | None:
    """Return the section of the largest profile along the edges of a part, None where it has none worth drawing."""
    part = subject.part
    found = [f for f in part.features if isinstance(f, EdgeProfile) and _worth(f)]
    if not found or subject.picture[0] > 1:
        return None
    profile = max(found, key=lambda f: max(f.sizes))
    alike = [f for f in found if f.curve == profile.curve and f.face is profile.face]
    return _drawn(subject, part, profile, alike, convention, shown)


def _worth(profile: EdgeProfile) -> bool:
    """A plain chamfer that is made on the bench has all its sizes in its call-out."""
    plain = profile.shape == "chamfer" and profile.made_at is MadeAt.BENCH
    return max(profile.sizes) >= LEAST and not plain


def _drawn(
    subject: Subject,
    part: Part,
    profile: EdgeProfile,
    alike: list[EdgeProfile],
    convention: Convention,
    shown: list[Shown],
) -> Section:
    """Return the corner of the part: the profile's face above, its side on the left, the wood broken off."""
    run, drop = profile.sizes
    thick = part.blank.size[profile.face.axis]
    ratio = convention.scale_for(2.0 if max(run, drop) < SMALL else 1.0)
    k = ratio[0] / ratio[1]
    width, height = run * k + BEYOND, thick * k
    ring = tuple((a, thick - b, -bulge) for a, b, bulge in profile.curve[:-1])
    wide = width / k
    corners = ((0.0, thick - drop, 0.0), (0.0, 0.0, 0.0), (wide, 0.0, 0.0), (wide, thick, 0.0))
    outline = Outline(vertices=(*ring, *corners))
    section = Section(
        width,
        height,
        [
            *_open(outline, k, width),
            Polyline((*torn_side((width, 0.0), (width, height)), (width, height)), LineRole.BEYOND, closed=False),
        ],
    )
    text = subject.words.text
    for row in (
        chain_row(Side.LEFT, 0.0, [Span(height - drop * k, height, text(drop))], convention, 4.0),
        chain_row(Side.ABOVE, height, [Span(0.0, run * k, text(run))], convention, 4.0),
    ):
        section.items += row.items
        section.depth[row.side] = row.depth
    for what, value in (("along the face", run), ("down the side", drop)):
        shown.append(Shown(f"profile {what}", value, text(value)))
    lines = _words(subject, profile, alike, f"{ratio[0]}:{ratio[1]}")
    middle = (len(lines) - 1) / 2
    captions = [
        Text(
            (width + CAPTION_WIDE, height / 2 + (middle - i) * LINE * convention.em), line, convention.em, Anchor.START
        )
        for i, line in enumerate(lines)
    ]
    section.items += captions
    section.width = max(box_of(c)[2] for c in captions)
    return section


def _open(outline: Outline, k: float, width: float) -> list[Primitive]:
    """Return the outline without the side at which the wood is broken off, `width` mm on paper from the edge."""
    out: list[Primitive] = []
    for item in outline_lines(outline, k, LineRole.OUTLINE):
        if isinstance(item, Segments):
            kept = tuple(s for s in item.ends if max(abs(s[0] - width), abs(s[2] - width)) > 1e-6)
            item = Segments(kept, item.role)
        out.append(item)
    return out


def _words(subject: Subject, profile: EdgeProfile, alike: list[EdgeProfile], scale: str) -> list[str]:
    sides = listed([face_name(f.side) for f in alike])
    lines = [f"{profile.shape} along {sides},", f"{face_name(profile.face)} above"]
    radii = radii_of(profile)
    if radii:
        shallow = subject.words.shallow(radii[0], Role.FREE)
        lines.append(f"both radii {shallow}" if len(radii) > 1 else f"radius {shallow}")
    if profile.made_at is MadeAt.ASSEMBLY:
        lines.append("run once it is joined: see its step")
    return [*lines, f"section, scale {scale}"]


def radii_of(profile: EdgeProfile) -> tuple[float, ...]:
    """Return the radius of each arc of a profile, mm, from the face to the side."""
    ends = zip(profile.curve, profile.curve[1:], strict=False)
    return tuple(arc_circle(a[:2], b[:2], a[2])[1] for a, b in ends if a[2])
