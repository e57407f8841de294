"""What a part drawing is about: one mark, what it is called and made of, how its sizes are printed, how it stands."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from casewright.design.assembly import PieceDesign
from casewright.design.blanks import Face, Turn, proper_turns
from casewright.design.frames import Vec
from casewright.design.ledger import Size
from casewright.design.parts import Form, Intent, Part, Placed
from casewright.design.printed_sizes import Printed, printed_sizes
from casewright.packet.cut_to_fit import AXES, sizes_held_back
from casewright.packet.drawing.meetings import Meeting, common, meetings
from casewright.packet.parts_list import PartRow, name_stems
from casewright.packet.printed import Printer, decimal
from casewright.packet.standing import bench_part, standing_turn
from casewright.project import Project
from casewright.units import LengthStyle, Role, format_length, parse_length, round_length
from casewright.units.grid import snap

_WORD = re.compile(r"[a-z0-9_]+")
SIXTY_FOURTH = 25.4 / 64
SHALLOW = 3.0  # mm
SNUG = 0.02  # mm that a printed size may be off a fit without a word
# The word for each direction of the piece, as one faces it.
DIRECTIONS: tuple[tuple[Vec, str], ...] = (
    ((0.0, 0.0, 1.0), "top"), ((0.0, 0.0, -1.0), "bottom"), ((0.0, -1.0, 0.0), "front"), ((0.0, 1.0, 0.0), "back"),
    ((-1.0, 0.0, 0.0), "left"), ((1.0, 0.0, 0.0), "right"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeWords:
    """How the sizes of one part are printed: as its piece's printed sizes are, where it is one of them, else by a role.

    `sizes` are the ledger's, `printed` how they are printed, by name.
    """

    style: LengthStyle
    sizes: tuple[Size, ...] = ()
    printed: Mapping[str, Printed] = field(default_factory=dict)
    path: str = ""

    def text(self, mm: float, role: Role = Role.FREE) -> str:
        """Return a size without its unit: as the ledger size of the same value that is nearest in name is printed."""
        return format_length(*self._printed_as(mm, role), unit=False)

    def rounded(self, mm: float, role: Role = Role.FREE) -> float:
        """Return the size in mm that `text` prints."""
        return round_length(*self._printed_as(mm, role))

    def _printed_as(self, mm: float, role: Role) -> tuple[float, Role, LengthStyle]:
        size = self.ledger_size(mm)
        if size is not None and size.name in self.printed:
            printed = self.printed[size.name]
            return printed.value, Role.FREE, printed.style
        return mm, role if size is None else size.role, self.style

    def place(self, mm: float) -> str:
        """Return where something is, to the nearest division."""
        return format_length(mm, Role.FREE, self.style, unit=False)

    def drill(self, mm: float) -> str:
        """Return a diameter as the bit for it is sold: in 64ths of an inch, or in mm with its unit on inch drawings."""
        fraction = mm / SIXTY_FOURTH
        if self.style.system == "in" and abs(fraction - round(fraction)) < 1e-3:
            return format_length(mm, Role.FREE, replace(self.style, division=64.0, feet=False), unit=False)
        text = f"{mm:.1f}".rstrip("0").rstrip(".")
        return f"{text} mm" if self.style.system == "in" else text

    def nearest_drill(self, mm: float) -> str:
        """Return the diameter of a screw head's seat: to the nearest 64th of an inch, or 0.5 mm."""
        return self.drill(round(mm / SIXTY_FOURTH) * SIXTY_FOURTH if self.style.system == "in" else round(mm * 2) / 2)

    def shallow(self, mm: float, role: Role) -> str:
        """Return a depth; shallow ones are given in mm as well, since a division is too coarse for them."""
        text = self.text(mm, role)
        return f"{text} ({mm:.1f} mm)" if self.style.system == "in" and mm < SHALLOW else text

    def snug(self, mm: float, role: Role) -> str:
        """Return what something real must fit into or be, in mm as well where a division of an inch is not just it."""
        text = self.text(mm, role)
        if self.style.system != "in" or abs(parse_length(text, "in") - mm) < SNUG:
            return text
        return f"{text} ({decimal(mm, 2)} mm)"

    def bore(self, mm: float) -> str:
        """Return the diameter of something routed or turned, printed as a size."""
        return self.text(mm, Role.HOUSING)

    def ledger_size(self, mm: float) -> Size | None:
        """Return the ledger size that a value is: equal, and with the most words in common with the part's path."""
        value = snap(mm)
        words = set(_WORD.findall(self.path.partition("/")[2]))
        equal = [(len(words & set(_WORD.findall(s.name))), s) for s in self.sizes if s.value == value]
        nearest = max((n for n, _ in equal), default=0)
        return next((s for n, s in equal if n == nearest), None) if nearest else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One mark as its drawing shows it. `size` are the texts of length, width and thickness.

    `held` are the sizes that are cut to fit ("length"); `rough` is its size until it is trimmed, where that is larger.
    `settings` says how its grooves and the like are cut, `met` where other parts meet it without a cut that shows it,
    `bands` which edges are banded with what once it is cut.
    `towards` says which way faces of the part look in the piece ("top", "front"), where all its occurrences agree.
    """

    part: Part
    mark: str
    name: str
    count: int
    stock: str
    size: tuple[str, str, str]
    words: SizeWords
    mirror_of: str = ""
    hand: str = ""
    towards: Mapping[Face, str] | None = None
    held: tuple[str, ...] = ()
    rough: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    met: tuple[Meeting, ...] = ()
    bands: tuple[str, ...] = ()
    picture: tuple[int, int] = (1, 1)  # which picture of how many


def subjects(project: Project, rows: tuple[PartRow, ...]) -> tuple[Subject, ...]:
    """Return the subject of each row of the parts list."""
    placed, style = _by_mark(project), project.style
    held = sizes_held_back(project.assembly.pieces)
    printed = {piece.path: printed_sizes(piece, style) for piece in project.assembly.pieces}
    return tuple(_subject(project, row, placed[row.mark], printed, held) for row in rows)


def _by_mark(project: Project) -> dict[str, list[tuple[PieceDesign, Placed]]]:
    found: dict[str, list[tuple[PieceDesign, Placed]]] = {}
    for piece in project.assembly.pieces:
        for placed in piece.placed:
            mark = project.mark_of(placed)
            if mark is not None:
                found.setdefault(mark.label, []).append((piece, placed))
    return found


def _subject(
    project: Project,
    row: PartRow,
    placed: list[tuple[PieceDesign, Placed]],
    printed: Mapping[str, Mapping[str, Printed]],
    held: Mapping[str, tuple[int, ...]],
) -> Subject:
    piece, first = placed[0]
    style = project.style
    printer = Printer(style)
    length, width, thickness = (printer.printed(p) for p in row.printed)
    if row.form is Form.SHEET:
        thickness = printer.sheet_thickness(row.cut[2])
    return Subject(
        part=row.part,
        mark=row.mark,
        name=row.name,
        count=row.count,
        stock=row.stock_name,
        size=(length, width, thickness),
        words=SizeWords(style=style, sizes=piece.sizes, printed=printed[piece.path], path=first.path),
        mirror_of=row.mirror_of,
        hand=row.hand,
        towards=towards(row.part, [p for _, p in placed]),
        held=tuple(AXES[i] for i in held.get(first.path, ())),
        rough=tuple(map(printer.printed, row.rough_printed)) if row.rough != row.cut else (),
        met=_met(project, row.part, placed),
        bands=_bands(project, row.part),
    )


def _met(project: Project, part: Part, placed: list[tuple[PieceDesign, Placed]]) -> tuple[Meeting, ...]:
    """Return where other parts meet every occurrence of a mark, on the part as it lies in its drawing."""

    def named(other: Placed) -> tuple[str, str] | None:
        mark = project.mark_of(other)
        return None if mark is None else (mark.label, name_stems((other.name,))[0])

    found = []
    for piece, one in placed:
        turn = _turn_of(part, one)
        found.append(() if turn is None else meetings(one, turn, piece, named))
    return common(found)


def _bands(project: Project, part: Part) -> tuple[str, ...]:
    """Return "banded at edge 0 and end 1 once it is cut: birch veneer band, 0.6 mm", one for each kind of band."""
    faces: dict[str, list[str]] = {}
    for band in sorted(part.bands, key=lambda b: b.face.value):
        faces.setdefault(band.item, []).append(face_name(band.face))
    return tuple(f"banded at {listed(at)} once it is cut: {project.stock[item].name}" for item, at in faces.items())


def towards(part: Part, placed: list[Placed]) -> dict[Face, str]:
    """Return which way each face looks in the piece, by the faces of `part`, where all occurrences agree."""
    seen = [_faces_of(part, p) for p in placed]
    return {face: word for face, word in seen[0].items() if all(s.get(face) == word for s in seen)}


def _faces_of(part: Part, placed: Placed) -> dict[Face, str]:
    turn = _turn_of(part, placed)
    if turn is None:
        return {}
    return {turn.face(placed.face_towards(way)): word for way, word in DIRECTIONS if _is_square(placed, way)}


def _turn_of(part: Part, placed: Placed) -> Turn | None:
    """Return the turn of an occurrence's blank that makes it its mark's part, as that lies in its drawing."""
    own = standing_turn(placed)  # of a part that is the same turned over, as its mark lies
    return own if placed.part.turned(own).key == part.key else _turn_onto(part, placed.part)


def _turn_onto(part: Part, other: Part) -> Turn | None:
    """Return the turn that makes `other` the same as `part`."""
    if other.key == part.key:
        return Turn(order=(0, 1, 2), flip=(False, False, False))
    key = bench_part(part).key
    bench = bench_part(other)
    return next((t for t in proper_turns(other.blank) if bench.turned(t).key == key), None)


def _is_square(placed: Placed, way: Vec) -> bool:
    return max(abs(c) for c in placed.frame.local_direction(way)) > 0.999


def finish_words(part: Part) -> str:
    """Return what goes onto which face, and that nothing goes elsewhere."""
    by_finish: dict[str, list[str]] = {}
    for use in part.faces:
        if use.finish:
            by_finish.setdefault(use.finish, []).append(_finished_name(part, use.face))
    if not by_finish:
        return "no finish on any face"
    if [len(faces) for faces in by_finish.values()] == [len(Face)]:
        return f"{next(iter(by_finish))} on all six faces"
    return "; ".join(f"{finish} on {listed(faces)}" for finish, faces in by_finish.items()) + "; none elsewhere"


def _finished_name(part: Part, face: Face) -> str:
    """Return a face's name; of a moulding, which lies on its back, face 1 is the one that is shaped."""
    return f"the shaped {face_name(face)}" if face is Face.FACE1 and is_moulding(part) else face_name(face)


def is_moulding(part: Part) -> bool:
    """True for a stick with a shaped section: square and flat stock and round rods have none."""
    section = part.blank.section
    return (
        section is not None
        and len(section.sides) > 2
        and (len(section.sides) != 4 or any(k for *_, k in section.sides))
    )


def shows(part: Part, face: Face) -> bool:
    """True where a face shows."""
    return any(use.face is face and use.intent is Intent.SHOWS for use in part.faces)


def face_name(face: Face) -> str:
    """Return the name of a face as drawings print it: "face 0"."""
    return f"{face.value[:-1]} {face.value[-1]}"


def listed(words: list[str]) -> str:
    """Return words as "a, b and c"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
