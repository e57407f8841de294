"""Is a drawing legible? An examiner that shares no code with what places texts: it reads primitives alone.

Widths of letters come from the shipped font file itself, distances from exact geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Literal

import shapely
from shapely.geometry.base import BaseGeometry

from casewright.packet.drawing.primitives import Anchor, Arc, Circle, Fill, Leader, Picture, Polyline, Segments, Text

MARGIN = 0.3  # mm of paper between a text and anything else
LEAST_HEIGHT = 2.5  # mm: height of capitals and figures
ON_PAPER = 0.01  # mm
FaultKind = Literal["text on text", "text on line", "leaders cross", "text too small", "off the paper"]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that cannot be read: what is wrong, and the texts that it concerns."""

    kind: FaultKind
    text: str
    other: str
    at: tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Face:
    """What is needed of a font: em, height of capitals, and advance widths by letter."""

    em: float
    cap: float
    advance: dict[str, float]


def overlaps(picture: Picture, *, margin: float = MARGIN, least: float = LEAST_HEIGHT) -> tuple[Fault, ...]:
    """Return everything in a picture that cannot be read, in order; empty for a legible one."""
    texts = [(item, _area(item)) for item in picture.items if isinstance(item, Text) and item.text.strip()]
    lines = _lines(picture)
    return (
        *_small(texts, least),
        *_off_paper(texts, picture),
        *_on_texts(texts, margin),
        *_on_lines(texts, lines, margin),
        *_crossings(picture),
    )


def _small(texts: list[tuple[Text, BaseGeometry]], least: float) -> list[Fault]:
    cap = _face().cap / _face().em
    return [Fault("text too small", t.text, "", t.at) for t, _ in texts if t.size * cap < least - ON_PAPER]


def _off_paper(texts: list[tuple[Text, BaseGeometry]], picture: Picture) -> list[Fault]:
    paper = shapely.box(-ON_PAPER, -ON_PAPER, picture.width + ON_PAPER, picture.height + ON_PAPER)
    return [Fault("off the paper", t.text, "", t.at) for t, area in texts if not paper.covers(area)]


def _on_texts(texts: list[tuple[Text, BaseGeometry]], margin: float) -> list[Fault]:
    tree = shapely.STRtree([area for _, area in texts])
    out = []
    for i, (text, area) in enumerate(texts):
        for j in sorted(int(k) for k in tree.query(area, predicate="dwithin", distance=margin - ON_PAPER)):
            if j > i:
                out.append(Fault("text on text", text.text, texts[j][0].text, text.at))
    return out


def _on_lines(texts: list[tuple[Text, BaseGeometry]], lines: list[BaseGeometry], margin: float) -> list[Fault]:
    if not lines:
        return []
    tree = shapely.STRtree(lines)
    out = []
    for text, area in texts:
        near = tree.query(area, predicate="dwithin", distance=margin - ON_PAPER)
        if len(near):
            line = lines[int(min(near))]
            out.append(Fault("text on line", text.text, line.wkt[:60], text.at))
    return out


def _crossings(picture: Picture) -> list[Fault]:
    leaders = [shapely.LineString(item.points) for item in picture.items if isinstance(item, Leader)]
    out = []
    for i, one in enumerate(leaders):
        for two in leaders[i + 1 :]:
            if one.crosses(two):
                at = one.intersection(two).centroid
                out.append(Fault("leaders cross", "", "", (at.x, at.y)))
    return out


def _lines(picture: Picture) -> list[BaseGeometry]:
    """Return every line that can be seen: what a filled circle or a white ground covers is not."""
    found: list[BaseGeometry] = []
    for item in picture.items:
        if isinstance(item, Circle) and item.tone is not None:
            ground = shapely.Point(item.centre).buffer(item.radius, quad_segs=32)
            found = [rest for line in found if not (rest := line.difference(ground)).is_empty]
        found += _of(item)
    return found


def _of(item: Any) -> list[BaseGeometry]:
    match item:
        case Segments():
            return [shapely.LineString(((a, b), (c, d))) for a, b, c, d in item.ends]
        case Polyline():
            points = (*item.points, item.points[0]) if item.closed else item.points
            return [shapely.LineString(points)]
        case Leader():
            return [shapely.LineString(item.points)]
        case Circle():
            return [shapely.Point(item.centre).buffer(item.radius, quad_segs=32).exterior]
        case Arc():
            return [shapely.LineString(_along(item))]
        case Fill() if max(item.tone) < 128:  # dark areas (arrow heads) are in the way like lines
            return [shapely.Polygon(ring) for ring in item.rings if len(ring) > 2]
        case _:
            return []


def _along(arc: Arc) -> list[tuple[float, float]]:
    sweep = (arc.end - arc.start) % 360.0
    steps = max(4, int(sweep / 4))
    turns = [math.radians(arc.start + sweep * i / steps) for i in range(steps + 1)]
    return [(arc.centre[0] + arc.radius * math.cos(t), arc.centre[1] + arc.radius * math.sin(t)) for t in turns]


def _area(text: Text) -> BaseGeometry:
    face = _face()
    advance = sum(face.advance.get(c, face.em * 0.6) for c in text.text)
    width, height = advance / face.em * text.size, face.cap / face.em * text.size
    left = {Anchor.START: 0.0, Anchor.MIDDLE: -width / 2, Anchor.END: -width}[text.anchor]
    x, y = text.at
    box = shapely.box(x + left, y - height / 2, x + left + width, y + height / 2)
    return shapely.affinity.rotate(box, text.turn, origin=text.at)


@lru_cache(maxsize=1)
def _face() -> _Face:
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # comes with ezdxf

    with (files("casewright.packet") / "fonts" / "SourceSans3-Regular.otf").open("rb") as file:
        font = TTFont(file)
        em, cap = float(font["head"].unitsPerEm), float(font["OS/2"].sCapHeight)
        widths = font["hmtx"]
        advance = {chr(code): float(widths[name][0]) for code, name in font.getBestCmap().items() if code < 0x2600}
    return _Face(em, cap, advance)
