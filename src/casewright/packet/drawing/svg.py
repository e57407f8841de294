"""Pictures as SVG: one path for each line style, two decimals, the same bytes every time."""

from __future__ import annotations

import math
from xml.sax.saxutils import escape, quoteattr

from casewright.packet.drawing.primitives import (
    XY,
    Arc,
    Circle,
    Fill,
    LineRole,
    Picture,
    Polyline,
    Segments,
    Text,
    Tone,
    draw,
)  # fmt: skip
from casewright.packet.drawing.styles import style_of

SEAM = 0.12  # mm: fills are stroked in their own tone by this, or hairlines of paper show between neighbours
BASELINE = 0.36  # em from the middle of a figure down to its baseline


class SvgBackend:
    """Collects a picture of a given height in mm; `document` returns it as SVG."""

    def __init__(self, height: float, font: str = "sans-serif", thick: float = 0.5) -> None:
        self._height = height
        self._thick = thick
        self._font = font
        self._fills: list[tuple[Tone, list[str]]] = []
        self._lines: dict[LineRole, list[str]] = {}
        self._notes: list[str] = []  # circles with a ground, and texts: over everything else, in order

    def segments(self, item: Segments) -> None:
        """Put separate lines."""
        self._add(item.role, "".join(f"M{self._xy((a, b))}L{self._xy((c, d))}" for a, b, c, d in item.ends))

    def polyline(self, item: Polyline) -> None:
        """Put a run of lines."""
        self._add(item.role, self._run(item.points) + ("Z" if item.closed else ""))

    def fill(self, item: Fill) -> None:
        """Put an area; neighbours in order with the same tone share a path."""
        if not self._fills or self._fills[-1][0] != item.tone:
            self._fills.append((item.tone, []))
        self._fills[-1][1].extend(self._run(ring) + "Z" for ring in item.rings)

    def circle(self, item: Circle) -> None:
        """Put a circle: two half arcs among the lines, or an element of its own where it is filled."""
        x, y = item.centre
        if item.tone is None:
            turn = f"A{_number(item.radius)} {_number(item.radius)} 0 1 0 "
            left, right = self._xy((x - item.radius, y)), self._xy((x + item.radius, y))
            self._add(item.role, f"M{left}{turn}{right}{turn}{left}Z")
            return
        style = style_of(item.role, self._thick)
        self._notes.append(
            f'<circle cx="{_number(x)}" cy="{_number(self._height - y)}" r="{_number(item.radius)}"'
            f' fill="{_hex(item.tone)}" stroke="{_hex(style.tone)}" stroke-width="{_number(style.width)}"/>'
        )

    def arc(self, item: Arc) -> None:
        """Put an arc."""
        sweep = (item.end - item.start) % 360.0
        a, b = (_on_circle(item.centre, item.radius, t) for t in (item.start, item.end))
        radius = _number(item.radius)
        self._add(item.role, f"M{self._xy(a)}A{radius} {radius} 0 {int(sweep > 180.0)} 0 {self._xy(b)}")

    def text(self, item: Text) -> None:
        """Put a text, centred in height by the usual height of figures."""
        x, y = _number(item.at[0]), _number(self._height - item.at[1])
        turn = f' transform="rotate({_number(-item.turn)} {x} {y})"' if item.turn else ""
        self._notes.append(
            f'<text x="{x}" y="{y}" dy="{_number(BASELINE * item.size)}" font-size="{_number(item.size)}"'
            f' text-anchor="{item.anchor.value}"{turn}>{escape(item.text)}</text>'
        )

    def document(self, width: float, alt: str = "") -> str:
        """Return the SVG document, its size in mm."""
        w, h = _number(width), _number(self._height)
        title = f"<title>{escape(alt)}</title>" if alt else ""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}" role="img"'
            f" font-family={quoteattr(self._font)}>{title}"
        )
        return "\n".join([head, *self._fill_paths(), *self._line_paths(), *self._notes, "</svg>\n"])

    def _fill_paths(self) -> list[str]:
        return [
            f'<path d="{"".join(rings)}" fill="{_hex(tone)}" fill-rule="evenodd" stroke="{_hex(tone)}"'
            f' stroke-width="{SEAM}" stroke-linejoin="round"/>'
            for tone, rings in self._fills
        ]

    def _line_paths(self) -> list[str]:
        return [self._line_path(role, self._lines[role]) for role in LineRole if role in self._lines]

    def _line_path(self, role: LineRole, runs: list[str]) -> str:
        style = style_of(role, self._thick)
        dash = f' stroke-dasharray="{" ".join(_number(d) for d in style.dash)}"' if style.dash else ""
        return (
            f'<path d="{"".join(runs)}" fill="none" stroke="{_hex(style.tone)}" stroke-width="{_number(style.width)}"'
            f'{dash} stroke-linecap="round" stroke-linejoin="round"/>'
        )

    def _add(self, role: LineRole, run: str) -> None:
        self._lines.setdefault(role, []).append(run)

    def _run(self, points: tuple[XY, ...]) -> str:
        return "M" + "L".join(self._xy(p) for p in points)

    def _xy(self, p: XY) -> str:
        return f"{_number(p[0])} {_number(self._height - p[1])}"


def svg_of(picture: Picture, font: str = "sans-serif") -> str:
    """Return a picture as an SVG document; `font` is the family that its texts ask for."""
    backend = SvgBackend(picture.height, font, picture.thick)
    draw(picture, backend)
    return backend.document(picture.width, picture.alt)


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _hex(tone: Tone) -> str:
    return "#{:02x}{:02x}{:02x}".format(*tone)


def _on_circle(centre: XY, radius: float, degrees: float) -> XY:
    t = math.radians(degrees)
    return (centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t))
