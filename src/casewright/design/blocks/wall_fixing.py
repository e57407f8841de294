"""Cases that hang on or are tied to a wall: fixing rail, split battens, tip restraint; and what each screw then bears.

Common practice: wall screws go into studs, through the rail and the back. What one may carry is a careful shop's
figure; the strength is the wall's, and whoever hangs the case has to know it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from casewright.design.assembly import HardwareLine, Joint, JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.joining import Making, join
from casewright.design.draft import Draft
from casewright.design.features.base import Feature
from casewright.design.features.holes import Hole
from casewright.design.frames import Frame, Vec
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Form, Hardware, Part, Placed
from casewright.design.sections import blank_section, installed
from casewright.design.sites import Span, centred, entry, world_box
from casewright.findings import Severity
from casewright.stock.fittings import WallFixing
from casewright.stock.model import Screw, Sheet, Stick

BACK: Vec = (0.0, 1.0, 0.0)
FORWARD: Vec = (0.0, -1.0, 0.0)
ROWS_LEAST = 40.0  # mm of a batten's height that take two screws, one above the other
WALL = (
    "Screw into studs or sound masonry, with the fixing that the wall asks for; look for wires and pipes first. The "
    "strength is the wall's: if in doubt, ask a builder. Two people hold the case until the last screw is in."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """What holds a case to the wall: names of the parts placed, screws into the wall, kg that each bears."""

    names: tuple[str, ...]
    screws: int
    each: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHoles:
    """Clearance holes for wall screws at `points`, driven to the back through each of `through`."""

    screw: Screw
    points: tuple[Vec, ...]
    through: tuple[str, ...]

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Bore each part; the screws themselves stand in the wall."""
        out: list[tuple[str, Feature]] = []
        for path in self.through:
            for point in self.points:
                face, at, _ = entry(site.placed[path], point, BACK)
                out.append((path, Hole(face=face, u=at[0], v=at[1], diameter=self.screw.clearance, joint=joint.id)))
        return Resolution(features=tuple(out))


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughPanel:
    """A line of screws that also passes through a panel between the two parts of its joint."""

    line: ScrewLine
    panel: str

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Resolve the line; bore the panel for each of its screws."""
        result = self.line.resolve(joint, site)
        holes: list[tuple[str, Feature]] = []
        for screw in result.fasteners:
            face, at, _ = entry(site.placed[self.panel], screw.frame.origin, self.line.drive)
            hole = Hole(face=face, u=at[0], v=at[1], diameter=self.line.screw.clearance, joint=joint.id)
            holes.append((self.panel, hole))
        fasteners = tuple(replace(f, parts=(*f.parts, self.panel)) for f in result.fasteners)
        return Resolution(features=(*result.features, *holes), fasteners=fasteners, findings=result.findings)


def hang_by_rail(d: Draft, kit: Kit, body: Body, back: Placed, rail: Placed, contents: float) -> Hung:
    """Glue the rail to the back and bore both at the studs; find what each screw bears.

    That is all that is placed by now, and `contents`, kg: this comes after everything that hangs with the case.
    """
    p = d.practice
    lo, hi = world_box(rail)
    thick = hi[1] - lo[1] + body.back
    screw = _wall_screw(d, kit, "fixing_rail", thick)
    xs = _stud_places(body.inside, p["wall.stud_apart"])
    # A second screw in each stud where one would bear too much, one above the other.
    rows = 1 if (own_mass(d) + contents) / len(xs) <= p["wall.screw_load"] else 2
    middle, apart = (lo[2] + hi[2]) / 2, (hi[2] - lo[2]) / 2
    points = tuple((x, lo[1], middle + (i - (rows - 1) / 2) * apart) for x in xs for i in range(rows))
    half = screw.head_diameter / 2
    for i, (x, y, z) in enumerate(points):
        lo_hole, hi_hole = (x - half, y, z - half), (x + half, y + thick, z + half)
        d.keep_out(f"fixing_rail.hole[{i + 1}]", lo_hole, hi_hole, of=(rail, back))
    d.joint(
        "fixing_rail~back",
        JointKind.GLUE,
        rail,
        back,
        (0.0, hi[1], lo[2]),
        WallHoles(screw=screw, points=points, through=(rail.path, back.path)),
        glued=True,
        why="the back carries the load to the sides; the wall's screws go through both",
    )
    return _hung(d, "fixing_rail", ("fixing_rail",), screw, len(points), contents)


def fixing_rail(d: Draft, kit: Kit, body: Body, back: Placed, above: Placed, finish: str = "paint") -> Placed:
    """Place a rail inside at the top of the back, under `above`, screwed from behind: the back covers the pockets.

    What glues it to the back comes last, with all that hangs on it: `hang_by_rail` or `hang_by_battens`.
    """
    item = kit.sizes.panel("fixing_rail")
    thick = d.let(
        "fixing_rail.thickness", item.thickness if isinstance(item, Sheet) else item.dressed, rule="as measured"
    )
    wide = d.let("fixing_rail.width", d.practice["fixing_rail.width"], rule="practice")
    # Its lower edge shows where somebody looks up under a shelf.
    band = kit.band(thick) if wood_of(kit, "fixing_rail", finish).banded else None
    over = band.thickness if band is not None else 0.0
    d.let("fixing_rail.cut_width", wide - over, "fixing_rail.width", rule="less the band of its lower edge")
    d.let("fixing_rail.length", body.inside, "inside.width", rule="between the sides")
    top, face = world_box(above)[0][2], world_box(back)[0][1]
    rail = d.box_part(
        "fixing_rail",
        "fixing rail",
        kit.material("fixing_rail", finish),
        centred(body.inside),
        (face - thick, face),
        (top - wide, top),
        grain="x",
        thick="y",
        shows="front down",
        sizes=("fixing_rail.length", "fixing_rail.cut_width", "fixing_rail.thickness"),
        band=band,
        banded="down",
    )
    for _, hand in HANDS:
        side = d.at(f"side.{hand}")
        join(
            d, kit, f"fixing_rail~side.{hand}", side, rail, JointKind.POCKET_SCREWS, Making(opens="back"),
            "the back covers the pockets",
        )  # fmt: skip
    name = above.path.removeprefix(d.path + "/")
    join(
        d, kit, f"fixing_rail~{name}", above, rail, JointKind.POCKET_SCREWS, Making(opens="back"),
        "the back covers the pockets",
    )  # fmt: skip
    return rail


def let_batten(d: Draft, kit: Kit) -> float:
    """Let how far split battens keep a case off the wall, mm."""
    _, _, thick = blank_section(kit.stick("cleat"))
    return d.let("batten.thickness", thick, rule="from the drawn section: the case stands off the wall by this")


def hang_by_battens(
    d: Draft, kit: Kit, body: Body, back: Placed, rail: Placed, contents: float, drop: float = 20.0
) -> Hung:
    """Hang a case on split battens behind its back: one on the case, one on the wall, their bevels in each other.

    It comes after everything that hangs with the case, as `hang_by_rail` does.

    `rail` is the part inside (a fixing rail, a stretcher on edge) that the case's half is screwed from; `drop` is how
    far its upper edge lies below the body's. A strip of the same thickness keeps the case upright below. The case
    stands off the wall by the thickness of the battens.
    """
    at = (0.0, world_box(rail)[1][1], world_box(rail)[0][2])
    d.joint("fixing_rail~back", JointKind.GLUE, rail, back, at, glued=True, why="a split batten is screwed from it")
    stick = kit.stick("cleat")
    _, _, thick = blank_section(stick)
    if "batten.thickness" not in d.led:
        let_batten(d, kit)
    z_top, y = body.z1 - drop, world_box(back)[1][1]
    low, high = _heights(stick)
    length = d.let(
        "batten.case_length", body.width - 40.0, "body.width", rule="20 mm short of each side: it cannot be seen"
    )
    wall = d.let("batten.wall_length", length - 40.0, "batten.case_length", rule="room to shift the case sideways")
    case_frame = Frame(origin=(-length / 2, y, z_top), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, -1.0))
    wall_frame = Frame(origin=(-wall / 2, y + thick, z_top - low - high), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
    case_half = _batten(d, stick, "batten.case", "batten on the case", length, case_frame)
    wall_half = _batten(d, stick, "batten.wall", "batten on the wall", wall, wall_frame)
    _screw_batten(d, kit, body, back, rail, case_half)
    screw = _wall_screw(d, kit, "batten.wall", thick)
    xs = _stud_places(wall, d.practice["wall.stud_apart"])
    # A second screw in each stud where one would bear too much, and the batten is high enough for two.
    rows = 1 if (own_mass(d) + contents) / len(xs) <= d.practice["wall.screw_load"] or low < ROWS_LEAST else 2
    z = z_top - low - high
    points = tuple((x, y, z + low * (i + 1) / (rows + 1)) for x in xs for i in range(rows))
    holes = WallHoles(screw=screw, points=points, through=(wall_half.path,))
    d.joint(
        "batten.case~wall",
        JointKind.HELD,
        wall_half,
        case_half,
        (0.0, y, points[0][2]),
        holes,
        why="the bevels draw it home",
    )
    spacer = _spacer(d, kit, body, back, y, thick)
    return _hung(d, "batten.wall", ("batten.case", "batten.wall", spacer), screw, len(points), contents)


def _heights(stick: Stick) -> Span:
    """Return the heights of a batten at its back and at its front."""
    points = [(x, y) for x, y, _ in stick.section]
    _, _, front, _ = installed(stick).box
    return max(y for x, y in points if abs(x) < 1e-6), max(y for x, y in points if abs(x - front) < 1e-6)


def _batten(d: Draft, stick: Stick, name: str, label: str, length: float, frame: Frame) -> Placed:
    section, wide, thick = blank_section(stick)
    blank = Blank(length=length, width=wide, thickness=thick, section=section)
    part = Part(form=Form.STICK, stock=stick.id, blank=blank, mass_density=stick.density)
    return d.place_part(
        name, label, part, frame, sizes=("batten.case_length" if "case" in name else "batten.wall_length", "", "")
    )


def _screw_batten(d: Draft, kit: Kit, body: Body, back: Placed, rail: Placed, half: Placed) -> None:
    """From behind, through the half on the case and the back into the rail, where no head shows."""
    p = d.practice
    (rl, rh), (bl, bh) = world_box(rail), world_box(half)
    _, _, thick = blank_section(kit.stick("cleat"))
    # The bevel is below: keep to the part of the half that has its full thickness.
    z0, z1 = max(rl[2], bl[2] + thick + 5.0), min(rh[2], bh[2])
    through, into = thick + body.back, rh[1] - rl[1]
    if z1 - z0 < 10.0:
        d.find(
            "batten.height",
            Severity.STOP,
            "batten.case",
            "the batten on the case does not lie behind the rail that holds it",
            value=z1 - z0,
            limit=10.0,
            source="room for a line of screws",
            remedy="a wider fixing rail, or battens nearer to the top",
        )
        return
    screw = kit.screw("wood", 8, through + 10.0, through + into - p["fastener.point_cover"])
    x = (max(rl[0], bl[0]), min(rh[0], bh[0]))
    z = (z0 + z1) / 2
    line = ScrewLine(
        screw=screw,
        start=(x[0], bh[1], z),
        end=(x[1], bh[1], z),
        drive=FORWARD,
        count=max(3, round((x[1] - x[0]) / p["butt.screw_spacing"]) + 1),
        ends=max(p["butt.ends"], p["pocket.reach"]),  # the rail's own pocket screws stand at its ends
        apart=p["fastener.apart"],
    )
    own = rail.path.removeprefix(d.path + "/")
    d.joint(
        f"batten.case~{own}", JointKind.HELD, half, rail, (0.0, rh[1], z), ThroughPanel(line=line, panel=back.path),
        why="from behind, through the back: no head shows inside",
    )  # fmt: skip
    d.joint("batten.case~back", JointKind.GLUE, back, half, (0.0, bl[1], z), glued=True)


def _spacer(d: Draft, kit: Kit, body: Body, back: Placed, y: float, thick: float) -> str:
    d.let("batten.spacer_width", 40.0, rule="as wide as the case needs to stand upright")
    spacer = d.box_part(
        "batten.spacer",
        "spacer behind the case",
        kit.material("cleat"),
        centred(d.led["batten.case_length"]),
        (y, y + thick),
        (body.z0 + 20.0, body.z0 + 60.0),
        grain="x",
        thick="y",
        sizes=("batten.case_length", "batten.spacer_width", "batten.thickness"),
    )
    d.joint("batten.spacer~back", JointKind.GLUE, back, spacer, (0.0, y, body.z0), glued=True)
    return "batten.spacer"


def tip_restraint(d: Draft, kit: Kit, above: Placed, count: int = 1) -> None:
    """List the straps (one item is a pair) that tie a standing case to the wall, and say why, once a case.

    `above` is what closes the case at its upper rear edge: the straps are screwed to it.
    """
    tie = kit.role("wall_tie", WallFixing)
    d.bought.append(HardwareLine(item=tie.id, count=count, path=d.full("wall_tie")))
    d.find(
        "wall.tie",
        Severity.NOTE,
        "wall_tie",
        "tie the case to a stud with the straps on the list before it is used",
        value=float(tie.load),
        unit="kg",
        source=f"{tie.source}",
        remedy=f"screw the straps to the {above.name} and to a stud, as their directions say",
    )


def usual_contents(d: Draft, shelves: float) -> float:
    """Return what a hung case may be given in use, kg, by the whole length of its shelves and bottom, mm: practice."""
    return d.practice["wall.shelf_load"] * shelves / 1000.0


def own_mass(d: Draft) -> float:
    """Return the mass of everything placed so far, kg: whole blanks, so a little more than the parts."""
    total = 0.0
    for path in d.under(""):
        thing = d.at(path.removeprefix(d.path + "/")).thing
        if isinstance(thing, Hardware):
            total += thing.mass
        else:
            b = thing.blank
            area = b.section.area if b.section is not None else b.width * b.thickness
            total += b.length * area * 1e-9 * thing.mass_density
    return total


def _hung(d: Draft, name: str, names: Sequence[str], screw: Screw, count: int, contents: float) -> Hung:
    own = own_mass(d)
    each = (own + contents) / count
    limit = d.practice["wall.screw_load"]
    over = each > limit
    d.bought.append(HardwareLine(item=screw.id, count=count, path=d.full(name)))
    d.find(
        "wall.load",
        Severity.STOP if over else Severity.NOTE,
        name,
        f"{count} wall screws bear {own:.0f} kg of case and {contents:.0f} kg in it: {each:.1f} kg each",
        value=each,
        unit="kg",
        limit=limit,
        source="practice wall.screw_load: a careful shop's figure; the strength is the wall's",
        remedy="more screws (studs), less in it, or a case that stands" if over else "find the studs; see the caution",
    )
    return Hung(names=tuple(names), screws=count, each=each)


def _wall_screw(d: Draft, kit: Kit, name: str, through: float) -> Screw:
    """Return the shortest wall screw with the practice's bite in a stud; a shop without one is told."""
    p = d.practice
    needed = through + p["wall.lining"] + p["wall.bite"]
    screws = sorted(kit.all("wall_screw", Screw), key=lambda s: s.length)
    long = next((s for s in screws if s.length >= needed - 1e-6), None)
    if long is None:
        d.find(
            "wall.screw",
            Severity.STOP,
            name,
            f"the longest wall screw of {screws[-1].length:.0f} mm is too short for this wall",
            value=screws[-1].length,
            limit=needed,
            source="practice wall.lining and wall.bite",
            remedy="put a longer screw under the role wall_screw",
        )
    return long if long is not None else screws[-1]


def _stud_places(width: float, apart: float) -> tuple[float, ...]:
    """Return where screws meet studs, from the middle: as many as the width holds 40 mm from its ends, two at least."""
    room = width - 80.0
    count = max(2, int((room + 1e-6) // apart) + 1)
    step = min(apart, room)
    return tuple(s - (count - 1) * step / 2 for s in (i * step for i in range(count)))
