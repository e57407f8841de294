"""Closed outlines of an SVG file: paths, polygons, rectangles and circles. y is turned up, as on a drawing.

Arcs of circles stay arcs; other curves become lines within 0.02 mm. The unit is that of the drawing's width and
viewBox; without them one unit is 1/96 in, as browsers take it (CSS), unless the caller says otherwise.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from xml.etree import ElementTree

from casewright.shop.outline_joining import OutlineError
from casewright.stock.loops import Loop

MOST_SIDES = 2000
CHORD = 0.02  # mm, between a curve and the lines that stand for it
CSS_PIXEL = 25.4 / 96
IN_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4, "px": CSS_PIXEL, "": CSS_PIXEL, "pt": 25.4 / 72, "pc": 25.4 / 6}
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_TOKEN = re.compile(rf"\s*,?\s*(?:([MmLlHhVvCcSsQqTtAaZz])|({_NUMBER}))")
_FLAG = re.compile(r"\s*,?\s*()([01])")  # the two flags of an arc may stand without a space
_SIZE = re.compile(rf"^\s*({_NUMBER})\s*(mm|cm|in|px|pt|pc|)\s*$")
_COUNT = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_SHAPES = ("path", "polygon", "rect", "circle")
_HIDDEN = ("defs", "symbol", "clipPath", "mask", "marker", "pattern")


def svg_loops(raw: bytes, element: str, scale: float | None) -> list[Loop]:
    """Return the closed loops of the file, or of the element with the id `element`, in mm. Raises OutlineError."""
    root = _root(raw)
    size = scale if scale is not None else _millimetres(root)
    loops = [loop for node in _nodes(root, element) for loop in _loops(node, size)]
    if sum(map(len, loops)) > MOST_SIDES:
        raise OutlineError(f"the drawing has more than {MOST_SIDES:,} lines and arcs", "keep the outline alone")
    return loops


def _root(raw: bytes) -> ElementTree.Element:
    if b"<!DOCTYPE" in raw or b"<!ENTITY" in raw:
        raise OutlineError("the drawing has a document type or entities", "save it as a plain SVG file")
    try:
        root = ElementTree.fromstring(raw)
    except (ElementTree.ParseError, ValueError, LookupError, RecursionError) as wrong:
        raise OutlineError(f"the drawing is not an SVG file that can be read ({wrong})", "save it again") from wrong
    if _name(root) != "svg":
        raise OutlineError("the drawing is not an SVG file", "save it as SVG")
    return root


def _name(node: ElementTree.Element) -> str:
    return str(node.tag).rpartition("}")[2]


def _millimetres(root: ElementTree.Element) -> float:
    """Return the mm of one unit of the drawing."""
    width = _SIZE.match(root.get("width", ""))
    box = [_finite(n) for n in re.findall(_NUMBER, root.get("viewBox", ""))]
    if width is None or len(box) != 4:
        return CSS_PIXEL if width is None else IN_MM[width[2]]
    size = _finite(width[1]) * IN_MM[width[2]] / box[2] if box[2] > 0 else 0.0
    if not 0 < size < 1e6:
        raise OutlineError("the drawing's width and viewBox give no scale", 'add outline_unit = "mm" or "in"')
    return size


def _nodes(root: ElementTree.Element, element: str) -> Iterator[ElementTree.Element]:
    """Yield the shapes of the drawing, or those of one element. Raises OutlineError where one is moved or turned."""
    start = root if not element else next((n for n in root.iter() if n.get("id") == element), None)
    if start is None:
        named = ", ".join(i for n in root.iter() if (i := n.get("id")))[:80]
        raise OutlineError(f'nothing in the drawing has the id "{element}"', f"ids: {named or 'none'}")
    moved = next((n for n in root.iter() if n.get("transform") is not None), None)
    if moved is not None:
        raise OutlineError(f"a <{_name(moved)}> is moved by a transform", "apply transforms before saving")
    waiting = [start]
    while waiting:
        node = waiting.pop()
        if _name(node) in _SHAPES:
            yield node
        elif _name(node) not in _HIDDEN:
            waiting.extend(reversed(node))


def _loops(node: ElementTree.Element, size: float) -> list[Loop]:
    kind = _name(node)
    if kind == "path":
        return _Path(size).read(node.get("d", ""))
    if kind == "polygon":
        return _Path(size).read(f"M {node.get('points', '')} Z")
    values = [_attribute(node, key) for key in (("x", "y", "width", "height") if kind == "rect" else ("cx", "cy", "r"))]
    if kind == "rect":
        if node.get("rx") or node.get("ry"):
            raise OutlineError("a rectangle has round corners", "turn it into a path")
        x, y, w, h = values
        return _Path(size).read(f"M {x} {y} h {w} v {h} h {-w} Z")
    x, y, r = values
    return [(((x - r) * size, -y * size, 1.0), ((x + r) * size, -y * size, 1.0))]


def _attribute(node: ElementTree.Element, key: str) -> float:
    found = re.match(rf"^\s*({_NUMBER})\s*$", node.get(key, "0"))
    if found is None:
        raise OutlineError(f'a <{_name(node)}> has {key}="{node.get(key, "")[:20]}"', "save sizes without units")
    return _finite(found[1])


class _Path:
    """Reads path data: (x, y) is the pen, in the drawing's units; vertices are in mm, y up."""

    def __init__(self, size: float) -> None:
        self.size = size
        self.x = self.y = 0.0
        self.control: tuple[float, float] | None = None  # the last control point, for smooth curves
        self.loops: list[Loop] = []
        self.loop: list[tuple[float, float, float]] = []

    def read(self, data: str) -> list[Loop]:
        """Return the closed loops of path data. Raises OutlineError for data that is wrong, or a loop left open."""
        for command, numbers in _commands(data):
            self._step(command, numbers)
            if len(self.loop) > MOST_SIDES:
                raise OutlineError(f"a path has more than {MOST_SIDES:,} lines and arcs", "keep the outline alone")
        self._end(closed=False)
        return self.loops

    def _step(self, command: str, n: list[float]) -> None:
        kind, relative = command.upper(), command.islower()
        if kind == "Z":
            self._end(closed=True)
            return
        if relative and kind not in "HVA":
            n = [v + (self.x, self.y)[i % 2] for i, v in enumerate(n)]
        if kind == "M":
            self._end(closed=False)
            self.x, self.y = n
        elif kind in "LHV":
            self._line(kind, n, relative)
        elif kind == "A":
            self._arc(n, relative)
        else:
            self._curve(kind, n)
        if kind not in "CSQT":
            self.control = None

    def _line(self, kind: str, n: list[float], relative: bool) -> None:
        x = (n[0] + (self.x if relative else 0)) if kind == "H" else n[0] if kind == "L" else self.x
        y = (n[0] + (self.y if relative else 0)) if kind == "V" else n[1] if kind == "L" else self.y
        self._to(x, y, 0.0)

    def _arc(self, n: list[float], relative: bool) -> None:
        rx, ry, _, large, sweep, x, y = n
        if relative:
            x, y = x + self.x, y + self.y
        if abs(rx - ry) > 1e-6 * max(abs(rx), abs(ry), 1.0):
            raise OutlineError("the drawing has an arc of an ellipse", "use arcs of circles")
        chord = math.dist((self.x, self.y), (x, y))
        half = math.asin(min(1.0, chord / (2 * abs(rx)))) if rx else 0.0
        angle = 2 * math.pi - 2 * half if large else 2 * half
        # A positive sweep turns clockwise once y points up.
        self._to(x, y, -math.tan(angle / 4) if sweep else math.tan(angle / 4))

    def _curve(self, kind: str, n: list[float]) -> None:
        """Go along a Bézier curve in lines."""
        if kind in "ST":  # the first control point mirrors the last one
            cx, cy = self.control or (self.x, self.y)
            n = [2 * self.x - cx, 2 * self.y - cy, *n]
        self.control = (n[-4], n[-3])
        (x0, y0), points = (self.x, self.y), list(zip(n[::2], n[1::2], strict=True))
        if kind in "QT":
            (qx, qy), (x, y) = points
            points = [
                (x0 + 2 / 3 * (qx - x0), y0 + 2 / 3 * (qy - y0)),
                (x + 2 / 3 * (qx - x), y + 2 / 3 * (qy - y)),
                (x, y),
            ]
        for x, y in _bezier((x0, y0), points, CHORD / self.size):
            self._to(x, y, 0.0)

    def _to(self, x: float, y: float, bulge: float) -> None:
        if math.dist((x, y), (self.x, self.y)) * self.size > 1e-3:
            self.loop.append((self.x * self.size, -self.y * self.size, bulge))
        self.x, self.y = x, y

    def _end(self, closed: bool) -> None:
        if not self.loop:
            return
        x0, y0, _ = self.loop[0]
        gap = math.dist((x0, y0), (self.x * self.size, -self.y * self.size))
        if not closed and gap > 0.01:
            raise OutlineError(f"a path is open: its ends are {gap:.3f} mm apart", "close the path")
        if gap > 1e-3:
            self.loop.append((self.x * self.size, -self.y * self.size, 0.0))
        self.x, self.y = x0 / self.size, -y0 / self.size
        self.loops.append(tuple(self.loop))
        self.loop = []


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command of path data with its numbers, repeated ones one by one."""
    at, command, numbers = 0, "", list[float]()
    data = data.strip()
    while at < len(data):
        flag = command in ("A", "a") and len(numbers) in (3, 4)
        token = (_FLAG if flag else _TOKEN).match(data, at)
        if token is None or (not command and token[1] not in ("M", "m")):
            raise OutlineError(f'path data cannot be read at "{data[at : at + 20]}"', "save the drawing again")
        at = token.end()
        if token[1]:
            if numbers:
                raise OutlineError(f"a command {command} of a path lacks numbers", "save the drawing again")
            command = token[1]
            if command in "Zz":
                yield command, []
            continue
        numbers.append(_finite(token[2]))
        if len(numbers) == _COUNT[command.upper()]:
            yield command, numbers
            numbers = []
            command = {"M": "L", "m": "l"}.get(command, command)
        elif len(numbers) > _COUNT[command.upper()]:
            raise OutlineError("path data has a number too many after Z", "save the drawing again")
    if numbers:
        raise OutlineError(f"a command {command} of a path lacks numbers", "save the drawing again")


def _finite(text: str) -> float:
    number = float(text)
    if not abs(number) < 1e9:
        raise OutlineError(f"the drawing holds the number {text[:20]}", "move the drawing to its origin")
    return number


def _bezier(
    start: tuple[float, float], points: list[tuple[float, float]], chord: float
) -> Iterator[tuple[float, float]]:
    """Yield points along a cubic Bézier curve whose polygon leaves it by at most `chord`."""
    p0, (p1, p2, p3) = start, points
    bend = max(math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) for a, b, c in ((p0, p1, p2), (p1, p2, p3)))
    # The second derivative is at most 6 × bend, so n lines stay within 6 bend / (8 n²).
    n = min(MOST_SIDES + 1, max(1, math.ceil(math.sqrt(0.75 * bend / chord))))
    for i in range(1, n + 1):
        t, s = i / n, 1 - i / n
        w = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
        yield (
            sum(k * p[0] for k, p in zip(w, (p0, p1, p2, p3), strict=True)),
            sum(k * p[1] for k, p in zip(w, (p0, p1, p2, p3), strict=True)),
        )
