"""The blank: what a part is cut from, its six faces, and its turns.

Frame of a blank: origin at one corner, x along the grain (sheet goods without grain: the longer
side), y across the width, z through the thickness. Faces: `end0` x = 0, `end1` x = length,
`edge0` y = 0, `edge1` y = width, `face0` z = 0, `face1` z = thickness.

Places on a face are (u, v), both measured from the blank's origin corner: (x, y) on faces,
(x, z) on edges, (y, z) on ends. So every hole is given from the same two datum edges whichever
face it is drilled from.
"""

from __future__ import annotations

from enum import Enum

from casewright.design.frames import Frame, Vec, X, Y, Z
from casewright.design.outlines import Outline, Point2, rectangle
from casewright.design.volumes import Prism
from casewright.units.grid import record


class Face(Enum):
    """A face of a blank, named by its axis and side.

    `axis` is 0 for ends, 1 for edges, 2 for faces; `high` says that it lies away from the origin; u and v run along
    the blank's `uv_axes`. They are kept, not worked out: every cut asks for them many times.
    """

    END0 = "end0"
    END1 = "end1"
    EDGE0 = "edge0"
    EDGE1 = "edge1"
    FACE0 = "face0"
    FACE1 = "face1"

    axis: int
    high: bool
    uv_axes: tuple[int, int]

    def __init__(self, name: str) -> None:
        self.axis = ("end", "edge", "face").index(name[:-1])
        self.high = name.endswith("1")
        self.uv_axes = ((1, 2), (0, 2), (0, 1))[self.axis]

    @property
    def opposite(self) -> Face:
        """The face across the blank."""
        return face_of(self.axis, not self.high)


_FACES = tuple(Face)  # by axis, the low one before the high one


def face_of(axis: int, high: bool) -> Face:
    """Return the face on an axis and side."""
    return _FACES[2 * axis + high]


@record
class GlueUp:
    """How a solid panel is made of strips: limits that layouts keep; all in mm."""

    strip_min: float
    strip_max: float
    jointing: float  # allowance for each glued edge


@record
class Blank:
    """Size of a blank in mm. `section` is the y–z outline of a bought profile, inside width × thickness."""

    length: float
    width: float
    thickness: float
    section: Outline | None = None
    made_of: GlueUp | None = None

    def validate(self) -> None:
        """Refuse a blank without size."""
        if min(self.length, self.width, self.thickness) <= 0:
            raise ValueError(f"a blank needs sizes above 0, got {self.length} × {self.width} × {self.thickness}")

    @property
    def size(self) -> Vec:
        """(length, width, thickness)."""
        return (self.length, self.width, self.thickness)

    def extent(self, face: Face) -> tuple[float, float, float]:
        """Return (size along u, size along v, depth through the blank) as seen from `face`."""
        u, v = face.uv_axes
        return (self.size[u], self.size[v], self.size[face.axis])

    def point(self, face: Face, at: Point2, depth: float = 0.0) -> Vec:
        """Return the blank point `depth` below the place (u, v) of a face."""
        p = [0.0, 0.0, 0.0]
        u, v = face.uv_axes
        p[u], p[v] = at
        p[face.axis] = self.size[face.axis] - depth if face.high else depth
        return (p[0], p[1], p[2])

    def inward(self, face: Face) -> Vec:
        """Return the direction from a face into the wood."""
        axis = (X, Y, Z)[face.axis]
        return (-axis[0] + 0.0, -axis[1] + 0.0, -axis[2] + 0.0) if face.high else axis

    def prism(self, face: Face, outline: Outline, depth: float, proud: float = 0.0) -> Prism:
        """Return the volume of an outline given in (u, v), from `proud` above a face to `depth` below it."""
        axes = (X, Y, Z)
        u, v = face.uv_axes
        # u × v points along +axis for ends and faces, along −axis for edges: start where the
        # right-handed prism then covers the wood.
        inward_is_uxv = (face.axis == 1) == face.high
        start = -proud if inward_is_uxv else depth
        return Prism(
            frame=Frame(origin=self.point(face, (0.0, 0.0), start), x=axes[u], y=axes[v]),
            outline=outline,
            height=depth + proud,
        )

    def box(self) -> Prism:
        """Return the whole blank as a volume."""
        if self.section is not None:
            return Prism(frame=Frame(x=Y, y=Z), outline=self.section, height=self.length)
        return self.prism(Face.FACE0, rectangle(0.0, 0.0, self.length, self.width), self.thickness)


@record
class Turn:
    """An isometry that carries the box of a blank onto itself (or its mirror image onto it).

    `order[i]` is the source axis that lands on axis i, `flip[i]` says whether it is reversed there.
    """

    order: tuple[int, int, int]
    flip: tuple[bool, bool, bool]

    def vector(self, v: Vec) -> Vec:
        """Carry a direction."""
        w = [-v[s] if f else v[s] for s, f in zip(self.order, self.flip, strict=True)]
        return (w[0] + 0.0, w[1] + 0.0, w[2] + 0.0)

    def size(self, blank: Blank) -> Vec:
        """Return the sizes of the carried blank."""
        return (blank.size[self.order[0]], blank.size[self.order[1]], blank.size[self.order[2]])

    def point(self, p: Vec, blank: Blank) -> Vec:
        """Carry a point of `blank`."""
        s = self.size(blank)
        q = [s[i] - p[self.order[i]] if self.flip[i] else p[self.order[i]] for i in range(3)]
        return (q[0], q[1], q[2])

    def face(self, face: Face) -> Face:
        """Return where a face goes."""
        axis = self.order.index(face.axis)
        return face_of(axis, face.high != self.flip[axis])

    def place(self, face: Face, at: Point2, blank: Blank) -> Point2:
        """Carry a place (u, v) on `face` to the (u, v) of the face it becomes."""
        q = self.point(blank.point(face, at), blank)
        u, v = self.face(face).uv_axes
        return (q[u], q[v])

    def swaps_uv(self, face: Face) -> bool:
        """True where u and v of `face` change roles."""
        return self.order.index(face.uv_axes[0]) == self.face(face).uv_axes[1]

    def outline(self, face: Face, outline: Outline, blank: Blank) -> Outline:
        """Carry an outline given in (u, v) of `face`."""
        return outline.mapped(lambda p: self.place(face, p, blank)).canonical_start()


IDENTITY = Turn(order=(0, 1, 2), flip=(False, False, False))
MIRROR_LENGTH = Turn(order=(0, 1, 2), flip=(True, False, False))
# Half-turns about x, y and z keep the grain axis; a square section adds the two quarter turns about
# x and their products with the half-turns.
HALF_TURNS = (
    IDENTITY,
    Turn(order=(0, 1, 2), flip=(False, True, True)),
    Turn(order=(0, 1, 2), flip=(True, False, True)),
    Turn(order=(0, 1, 2), flip=(True, True, False)),
)
QUARTER_TURNS = (
    Turn(order=(0, 2, 1), flip=(False, True, False)),
    Turn(order=(0, 2, 1), flip=(False, False, True)),
    Turn(order=(0, 2, 1), flip=(True, False, False)),
    Turn(order=(0, 2, 1), flip=(True, True, True)),
)


def proper_turns(blank: Blank) -> tuple[Turn, ...]:
    """Return the proper turns of a blank onto itself that keep the grain axis: 4, or 8 if square.

    For a bought profile only those that carry its section onto itself.
    """
    square = blank.width == blank.thickness
    turns = HALF_TURNS + QUARTER_TURNS if square else HALF_TURNS
    if blank.section is None:
        return turns
    own = blank.section.canonical_start()
    return tuple(t for t in turns if t.outline(Face.END0, own, blank) == own)
