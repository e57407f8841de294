"""Part, hardware item, fastener: what a piece consists of, and each one's place.

A `Part` is what is cut, with no place and no name; `Placed` is one occurrence of a part or of a
hardware item, with its path and frame (blank frame → piece frame, mm).
"""

from __future__ import annotations

from dataclasses import field, replace
from enum import Enum

from casewright.design.blanks import IDENTITY, MIRROR_LENGTH, Blank, Face, Turn, face_of, proper_turns
from casewright.design.features.base import Feature, MadeAt
from casewright.design.frames import Frame, Vec
from casewright.design.volumes import Lowered, Volume
from casewright.units.grid import canonical, key_of, record


class Form(Enum):
    """The form in which a part's stock comes."""

    SHEET = "sheet"
    BOARD = "board"
    STICK = "stick"


class PartKind(Enum):
    """What a part is where parts are cut to fit: its block says so, whatever the part is called.

    What is of the last kind is neither cut to fit nor measured for what is.
    """

    CASE = "side, bottom or stretcher of a case"
    FRAME = "member of a face frame"
    BLOCKING = "slide blocking"
    BOX_END = "front or back of a drawer box"
    DRAWER_BOTTOM = "drawer bottom"
    DRAWER_FRONT = "drawer front"
    FRONT_MEMBER = "stile or rail of a drawer front"
    FRONT_PANEL = "panel of a drawer front"
    FRONT_BLOCK = "block behind the panel of a drawer front"
    APPLIED = "moulding applied on a front"
    DOOR_MEMBER = "stile or rail of a door"
    DOOR_PANEL = "panel of a door"
    BEAD = "bead that holds glass"
    DOOR_SLAB = "door of one flat panel"
    BACK = "back"
    BACK_MEMBER = "stile, rail or muntin of a back"
    BACK_PANEL = "panel of a framed back"
    CROWN = "crown moulding"
    MOULDING = "other moulding that runs around a case"
    TOP = "top"
    TOP_MEMBER = "member of a panelled top"
    TOP_PANEL = "panel of a panelled top"
    TOP_END = "breadboard end"
    TOP_EDGING = "edging of a top"
    FOOT = "foot turned out of a stick"
    LID = "lid, or the strip behind it"
    OTHER = "other part"


class Intent(Enum):
    """What a face is for."""

    SHOWS = "shows"
    HIDDEN = "hidden"
    GLUED = "glued"


@record
class FaceUse:
    """What one face of a part is for, and which finish schedule it gets (empty: none goes there)."""

    face: Face
    intent: Intent
    finish: str = ""

    @property
    def clear(self) -> bool:
        """True where the wood is seen through its finish."""
        return self.finish not in ("", "paint")


@record
class Band:
    """An edge band added to an edge or end of the cut blank; a band on an edge covers those on the ends beside it.

    `short` is how much of it is cut off again at its low and its high end, mm: by the notches of stopped dados.
    """

    face: Face
    item: str
    thickness: float
    short: tuple[float, float] = (0.0, 0.0)

    @property
    def run(self) -> int:
        """The axis along which it runs."""
        return 1 if self.face.axis == 0 else 0

    def turned(self, turn: Turn) -> Band:
        """Return the band as seen after a turn (or mirror) of the blank."""
        low, high = self.short
        flipped = turn.flip[turn.order.index(self.run)]
        return replace(self, face=turn.face(self.face), short=(high, low) if flipped else self.short)


@record
class Allowance:
    """What `rough` adds to the cut size, for trimming later, mm; `at` is the face that bears it, None for any."""

    length: float = 0.0
    width: float = 0.0
    thickness: float = 0.0
    at: Face | None = None

    def turned(self, turn: Turn) -> Allowance:
        """Return the allowance as seen after a turn (or mirror) of the blank."""
        return self if self.at is None else replace(self, at=turn.face(self.at))


@record
class Part:
    """What is cut: blank (cut size), features, stock, and what its faces are for.

    Parts of one `run` are cut side by side, in the order of `run_place`, so that their grain runs on. `kind` decides
    whether it is cut to fit; equal parts of two kinds share their key.
    """

    form: Form
    stock: str  # id of the stock item (sheet, board or stick) that it is cut from
    blank: Blank
    features: tuple[Feature, ...] = ()
    bands: tuple[Band, ...] = ()
    faces: tuple[FaceUse, ...] = ()
    allowance: Allowance = Allowance()
    grain: bool = True  # False: the stock has none, or it does not matter here
    mass_density: float = 0.0  # kg/m³ at the moisture content of the room
    run: str = ""
    run_place: int = 0
    kind: PartKind = PartKind.OTHER
    _written: tuple[str, ...] = field(init=False, compare=False, repr=False, default=())  # canonical texts of features
    _key: str = field(init=False, compare=False, repr=False, default="")

    def validate(self) -> None:
        """Order the features canonically: removals commute."""
        if self.features:
            written = sorted((f.face.value, canonical(f), i) for i, f in enumerate(self.features))
            object.__setattr__(self, "features", tuple(self.features[i] for _, _, i in written))
            object.__setattr__(self, "_written", tuple(text for _, text, _ in written))

    @property
    def key(self) -> str:
        """The key that equal parts share; taken when first asked for, for a draft's bare parts are never asked."""
        if not self._key:
            object.__setattr__(self, "_key", _part_key(self))
        return self._key

    @property
    def finished(self) -> Vec:
        """(length, width, thickness) with bands."""
        extra = [0.0, 0.0, 0.0]
        for band in self.bands:
            extra[band.face.axis] += band.thickness
        b = self.blank
        return (b.length + extra[0], b.width + extra[1], b.thickness + extra[2])

    @property
    def rough(self) -> Vec:
        """(length, width, thickness) that layouts lay out."""
        b, a = self.blank, self.allowance
        return (b.length + a.length, b.width + a.width, b.thickness + a.thickness)

    def lowered(self) -> Lowered:
        """Return the part as volumes."""
        removals = tuple(v for f in self.features for v in f.lower(self.blank))
        return Lowered(base=(self.blank.box(),), removals=removals, additions=tuple(self._band_volumes()))

    def _band_volumes(self) -> list[Volume]:
        from casewright.design.outlines import rectangle

        out: list[Volume] = []
        for band in self.bands:
            (u0, u1), (v0, v1) = (self._along(band, axis) for axis in band.face.uv_axes)
            out.append(self.blank.prism(band.face, rectangle(u0, v0, u1, v1), 1e-3, band.thickness))
        return out

    def _along(self, band: Band, axis: int) -> tuple[float, float]:
        low, high = self._banded(axis, under=band.face.axis)
        return (low + band.short[0], high - band.short[1]) if axis == band.run else (low, high)

    def _banded(self, axis: int, under: int) -> tuple[float, float]:
        """Return what a band on axis `under` covers of another axis: the bands of the ends too, if it lies on an edge.

        Ends are banded before edges, so that the band along a front edge runs through.
        """
        on_axis = [b for b in self.bands if b.face.axis == axis < under]
        low = sum(b.thickness for b in on_axis if not b.face.high)
        return (-low, self.blank.size[axis] + sum(b.thickness for b in on_axis if b.face.high))

    def turned(self, turn: Turn) -> Part:
        """Return the part as seen after a turn (or mirror) of its blank."""
        s = turn.size(self.blank)
        section = self.blank.section
        if section is not None:
            section = turn.outline(Face.END0, section, self.blank)
        blank = Blank(length=s[0], width=s[1], thickness=s[2], section=section, made_of=self.blank.made_of)
        return Part(
            form=self.form,
            stock=self.stock,
            blank=blank,
            features=tuple(f.carry(turn, self.blank) for f in self.features),
            bands=tuple(b.turned(turn) for b in self.bands),
            faces=tuple(FaceUse(face=turn.face(u.face), intent=u.intent, finish=u.finish) for u in self.faces),
            allowance=self.allowance.turned(turn),
            grain=self.grain,
            mass_density=self.mass_density,
            run=self.run,
            run_place=self.run_place,
            kind=self.kind,
        )

    def mirrored(self) -> Part:
        """Return the mirror image: the blank reflected along its length."""
        return self.turned(MIRROR_LENGTH)

    def bench_key(self) -> str:
        """Return the key of its mark: least over the proper turns, assembly features left out."""
        bench = Part(
            form=self.form,
            stock=self.stock,
            blank=self.blank,
            features=tuple(f for f in self.features if f.made_at is MadeAt.BENCH),
            bands=self.bands,
            faces=self.faces,
            allowance=self.allowance,
            grain=self.grain,
            mass_density=self.mass_density,
            run=self.run,
            run_place=self.run_place,
        )
        handed = bench.features or bench.faces or bench.bands or bench.allowance.at is not None
        turns = proper_turns(self.blank) if handed else (IDENTITY,)
        return min(bench.turned(t).key for t in turns)


def _part_key(part: Part) -> str:
    section = part.blank.section.canonical_start() if part.blank.section is not None else None
    faces = tuple(sorted(part.faces, key=lambda u: u.face.value))
    bands = tuple(sorted(part.bands, key=lambda b: b.face.value))
    size = (part.blank.length, part.blank.width, part.blank.thickness, section, part.blank.made_of)
    run = ((part.run, part.run_place),) if part.run else ()
    return key_of(
        part.form, part.stock, size, part._written, bands, faces, part.allowance, part.grain, part.mass_density, *run
    )


class MirrorRule(Enum):
    """What a hardware item does in a mirrored piece."""

    SAME = "same"  # its body is its own mirror image across its own x = 0
    PARTNER = "partner"  # another item is its mirror image
    NONE = "none possible"


@record
class Hardware:
    """A bought item that is placed, not cut: its bodies in its own frame, mass in kg.

    `hollows` are taken out of the bodies again (the bore of an insert). `ordered` are width and height, mm, of what is
    bought cut to its size: a pane of glass.
    """

    item: str  # stock id
    bodies: tuple[Volume, ...]
    mass: float
    mirror: MirrorRule = MirrorRule.SAME
    partner: str = ""
    finish: str = ""
    hollows: tuple[Volume, ...] = ()
    ordered: tuple[float, float] | None = None
    key: str = field(init=False, compare=False, default="")

    def validate(self) -> None:
        """Take the key."""
        object.__setattr__(self, "key", key_of(self.item, self.bodies, self.hollows, self.mass))

    def lowered(self) -> Lowered:
        """Return its bodies as volumes."""
        return Lowered(base=self.bodies, removals=self.hollows)


@record
class Placed:
    """One occurrence of a part or hardware item. `frame`: own frame → piece frame.

    `sizes` names the ledger sizes of a part's length, width and thickness, empty where none was let.
    """

    path: str
    name: str  # what a maker calls it: "left side"
    thing: Part | Hardware
    frame: Frame
    place: str = field(default="", compare=False)  # where in the order it comes from
    sizes: tuple[str, str, str] = field(default=("", "", ""), compare=False)

    @property
    def part(self) -> Part:
        """The part; raises TypeError for hardware."""
        if not isinstance(self.thing, Part):
            raise TypeError(f"{self.path} is hardware")
        return self.thing

    def face_towards(self, direction: Vec) -> Face:
        """Return the face of the blank whose outward normal is nearest to a direction of the piece."""
        v = self.frame.local_direction(direction)
        axis = max(range(3), key=lambda i: abs(v[i]))
        return face_of(axis, v[axis] > 0)


@record
class Fastener:
    """A screw, pin or dowel in place: frame origin at the top of its head, z the way it is driven.

    Radii and lengths in mm, from the tables; `parts` are the paths that it may overlap.
    """

    path: str
    item: str
    joint: str
    parts: tuple[str, ...]
    frame: Frame
    length: float
    shank_radius: float
    thread_length: float
    head_radius: float = 0.0
    head_height: float = 0.0
    mass: float = 0.0

    @property
    def tip(self) -> Vec:
        """The point's place in the piece."""
        return self.frame.point((0.0, 0.0, self.length))
