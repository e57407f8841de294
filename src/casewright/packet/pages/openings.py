"""The opening schedule: for every drawer and door its opening, front, gaps, box, slide, blocking, pull and hinges.

A lid has its size, its gap, its hinges and stays.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import MotionKind, PieceDesign
from casewright.design.parts import Placed
from casewright.design.printed_sizes import Printed
from casewright.packet.group_words import place_words
from casewright.packet.openings import Across, Edge, Lid, Opening, lids, openings
from casewright.packet.pages.setting import Setting
from casewright.packet.part_sizes import cut_sizes
from casewright.packet.parts_list import counted, joined_names
from casewright.packet.printed import decimal
from casewright.stock.fittings import CupHinge, UnderSlide
from casewright.stock.model import Hinge, Pull, Slide


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningLine:
    """One drawer or door as (what, value) lines, sizes with their unit."""

    title: str
    facts: tuple[tuple[str, str], ...]


NO_RAIL = "; no rail parts it from the next drawer: up to the edge of the next front"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningPiece:
    """The openings of pieces; `titles` are all pieces that have exactly these."""

    titles: str
    openings: tuple[OpeningLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Openings:
    """The context of the opening schedule; `shim` is the thickness of one shim, printed."""

    shim: str
    pieces: tuple[OpeningPiece, ...]


def opening_schedule(setting: Setting) -> Openings:
    """Return the context of the opening schedule."""
    shim = setting.project.practice["shim.thickness"]
    pieces = [OpeningPiece(titles=p.title, openings=_lines(setting, p, shim)) for p in setting.pieces]
    return Openings(shim=setting.printer.measured(shim), pieces=tuple(p for p in pieces if p.openings))


def _lines(setting: Setting, piece: PieceDesign, shim: float) -> tuple[OpeningLine, ...]:
    found = [_line(setting, o, shim) for o in openings(setting.project, piece)]
    return (*found, *(_lid(setting, lid, shim) for lid in lids(setting.project, piece)))


def _line(setting: Setting, o: Opening, shim: float) -> OpeningLine:
    drawer = o.kind is MotionKind.SLIDE
    facts = [
        ("opening, width × height", _by(setting, o.piece, o.width.opening, o.height.opening) + NO_RAIL * o.stacked),
        ("front" if drawer else "door", _by(setting, o.piece, *o.front_sizes)),
        *edge_facts(setting, o.width, ("left", "right"), shim),
        *edge_facts(setting, o.height, ("below", "above"), shim),
        *(_drawer(setting, o) if drawer else _door(setting, o)),
        *(("pull, to its middle", text) for text in _pulls(setting, o)),
    ]
    return OpeningLine(title=f"{'Drawer' if drawer else 'Door'} {_place(o)}", facts=tuple(facts))


def _place(o: Opening) -> str:
    """Return "in column 1, row 1, left" for "door[c1,r1].left"."""
    words = place_words(o.name)
    return f"in {words}" if words else o.name


def _by(setting: Setting, piece: PieceDesign, *names: str) -> str:
    printed = setting.printed[piece.path]
    return " × ".join(setting.printer.printed(printed[name]) for name in names) + f" {setting.printer.unit}"


def edge_facts(setting: Setting, across: Across, sides: tuple[str, str], shim: float) -> list[tuple[str, str]]:
    """Return what is between a front's edges and its opening: gaps to set, or how far it laps over the opening."""
    if across.low == across.high:
        both = " and ".join(sides)
        return [(f"{_edge_word(across.low)} {both}", edge_text(setting, across.low, shim, " each"))]
    return [
        (f"{_edge_word(edge)} {side}", edge_text(setting, edge, shim))
        for edge, side in zip((across.low, across.high), sides, strict=True)
    ]


def _edge_word(edge: Edge) -> str:
    return "laps" if edge.laps else "gap"


def edge_text(setting: Setting, edge: Edge, shim: float, each: str = "") -> str:
    """Return a gap as a length, in mm too, and as a number of shims: "3/32 in (2.25 mm) each, 8 shims"."""
    metric = f"{decimal(edge.mm, 2)} mm"
    length = metric if setting.printer.unit == "mm" else f"{setting.printer.length(edge.mm)} ({metric})"
    # One shim less on each side goes in with play; one too many does not go in at all. A thousandth of a mm is no shim.
    rest = " over the opening" if edge.laps else f", {max(1, int(round(edge.mm, 2) / shim + 1e-6))} shims"
    return f"{length}{each}{rest}"


def _drawer(setting: Setting, o: Opening) -> list[tuple[str, str]]:
    facts = []
    names = {s.name: s.value for s in o.piece.sizes}
    box = [f"{o.name}.box.{axis}" for axis in ("width", "depth", "height")]
    if all(name in names for name in box):
        facts.append(("box outside, width × depth × height", _by(setting, o.piece, *box)))
    slide = setting.project.stock.get(o.slide)
    if isinstance(slide, Slide):
        room = (
            f"room {setting.printer.measured(slide.clearance)} to "
            f"{setting.printer.measured(slide.clearance_most)} each side"
        )
        facts.append(("slide", f"{slide.name}; {room}; its front end {_behind(setting, slide)} the front's back"))
        facts += _level(setting, o)
    if isinstance(slide, UnderSlide):
        facts += _under(setting, slide)
    facts += [("blocking", text) for text in _blocking(setting, o)]
    return facts


def _level(setting: Setting, o: Opening) -> list[tuple[str, str]]:
    """Return how high the slides lie, and through which rows of holes they are screwed to a wall that is shared."""
    if o.slide_place is None:
        return []
    show = setting.printer.length
    text = f"{show(o.slide_place.middle)} over the lower edge of the opening, left and right alike"
    rows = o.slide_place.rows
    if len(rows) > 1 and len({row for _, row in rows}) == 1:
        rows = (("both", rows[0][1]),)
    for hand, row in rows:
        which = "upper" if row > 0 else "lower"
        text += f"; {hand}, screwed through {'their' if hand == 'both' else 'its'} {which} row of holes, "
        text += f"{show(abs(row))} off the middle"
    return [("slide, to its middle", text)]


def _under(setting: Setting, slide: UnderSlide) -> list[tuple[str, str]]:
    """Return what an under-mount slide asks of the opening and of the box that rests on it."""
    show = setting.printer
    opening = (
        f"box inside {show.measured(slide.inside_less)} narrower than the opening; "
        f"{show.measured(slide.below)} free below the box, {show.measured(slide.above)} above it"
    )
    box = (
        f"sides at most {show.measured(slide.side_most)} thick, bottom {show.measured(slide.recess)} above their "
        f"lower edges; back notched at both lower corners, {show.measured(slide.notch_width)} wide, "
        f"{show.measured(slide.notch_height)} high"
    )
    return [
        ("slide", f"{slide.name}; {opening}; its front end {_behind(setting, slide)} the front's back"),
        ("box for the slide", box),
    ]


def _behind(setting: Setting, slide: Slide | UnderSlide) -> str:
    return f"{setting.printer.length(slide.set_back)} behind" if slide.set_back else "flush with"


def _blocking(setting: Setting, o: Opening) -> list[str]:
    marks = setting.marks_of(o.piece)
    by_size: dict[str, list[Placed]] = {}
    for placed in o.blocking:
        by_size.setdefault(_sizes(setting, o, placed), []).append(placed)
    return [f"{size}, {counted(marks[p.path] for p in placed)} ({_names(placed)})" for size, placed in by_size.items()]


def _names(placed: list[Placed]) -> str:
    return joined_names(tuple(dict.fromkeys(p.name for p in placed)))


def _sizes(setting: Setting, o: Opening, placed: Placed) -> str:
    printed: tuple[Printed, ...] = cut_sizes(placed, o.piece, setting.printed[o.piece.path], setting.printer.style)
    length, width, thickness = (setting.printer.printed(p) for p in printed)
    return f"{thickness} thick, {width} × {length} {setting.printer.unit}"


def _door(setting: Setting, o: Opening) -> list[tuple[str, str]]:
    hinged = [("hinged", f"on the {o.hinged}, seen from the front; opens {decimal(o.reach, 0)}°")]
    show = setting.printer
    for number, hinge in enumerate(o.hinges, 1):
        item = setting.project.stock.get(hinge.item)
        name = item.name if isinstance(item, Hinge | CupHinge) else hinge.item
        cup = isinstance(item, CupHinge)
        at = f"cup {show.length(hinge.low)}" if cup else f"{show.size(hinge.low)} to {show.length(hinge.high)}"
        place = f"{at} above the door's lower edge"
        hinged.append((f"hinge {number}, from below", f"{name}; {place}"))
    return hinged


def _lid(setting: Setting, lid: Lid, shim: float) -> OpeningLine:
    show, stock = setting.printer, setting.project.stock
    facts = [
        ("lid, length × width × thickness", _by(setting, lid.piece, *lid.sizes)),
        ("strip behind it, width", _by(setting, lid.piece, lid.strip)),
        ("gap between them", edge_text(setting, Edge(mm=lid.gap, laps=False), shim)),
        ("hinged", f"at the back; opens {decimal(lid.reach, 0)}°"),
    ]
    for number, hinge in enumerate(lid.hinges, 1):
        place = f"{show.size(hinge.low)} to {show.length(hinge.high)} from the lid's left end"
        facts.append((f"hinge {number}, from the left", f"{stock[hinge.item].name}; {place}"))
    facts += [("stay", f"{count}× {stock[item].name}") for item, count in lid.stays]
    return OpeningLine(title="Lid", facts=tuple(facts))


def _pulls(setting: Setting, o: Opening) -> list[str]:
    show = setting.printer
    out = []
    for pull in o.pulls:
        item = setting.project.stock.get(pull.item)
        name = item.name if isinstance(item, Pull) else pull.item
        screws = f", screws {show.length(pull.centres)} apart" if pull.centres else ""
        out.append(
            f"{name}; {show.length(pull.from_left)} from the left edge, "
            f"{show.length(pull.from_below)} from the lower edge{screws}"
        )
    return out
