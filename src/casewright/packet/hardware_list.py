"""What is bought and not cut: hardware, fasteners, glue and finish over the whole order.

Fasteners and hardware are counted from the model. Glue is named with its times; of finishes the area is given, measured
on the faces that the design says are finished (mouldings not counted). How much glue, and what else is used up, see
`consumables`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.design.assembly import Joint, JointKind, PieceDesign
from casewright.design.blocks.finish_steps import products
from casewright.design.kit import Kit
from casewright.design.parts import Hardware, Part, Placed
from casewright.order.fitting import sizes_for
from casewright.packet.joint_schedule import stem
from casewright.project import Project
from casewright.stock.fittings import CupHinge, EdgeBand, KnifeHinge
from casewright.stock.model import Dowel, Finish, Glue, Hinge, Pin, Screw, Slide

# What one bought item is placed as: a slide as two members, a hinge as two leaves, a cup hinge as cup and plate, a pair
# of knife hinges as four leaves.
MEMBERS: dict[type, int] = {Slide: 2, Hinge: 2, CupHinge: 2, KnifeHinge: 4}
FASTENERS = (Screw, Pin, Dowel)
TIES = "ties the case to the wall"  # what is bought by the case and placed nowhere
GOES_ON = ("primer", "enamel", "stain", "barrier", "clear", "oil")  # kinds of finish


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtRow:
    """One item and how many the order needs; `uses` are names or kinds of joint, with counts of placed members.

    `ordered` are the sizes, width and height in mm, of what is bought cut to size, with their counts.
    """

    item: str
    name: str
    count: int
    counts: tuple[tuple[str, int], ...]  # by piece path
    uses: tuple[tuple[str, int], ...]
    ordered: tuple[tuple[tuple[float, float], int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueRow:
    """A glue and what it is for; times in minutes, as its record gives them. `role` is that of the shop's stock."""

    role: str
    item: str
    name: str
    use: str
    open_time: float
    clamp_time: float
    full_time: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishRow:
    """A finish, the area that takes it in m², litres for one coat at its stated coverage, and how many coats."""

    item: str
    name: str
    area: float
    litres_per_coat: float
    coats: int
    recoat_hours: float
    hazards: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BandRow:
    """An edge band: the length in mm that the order needs, what stands over its edges until it is trimmed included."""

    item: str
    name: str
    length: float
    edges: int
    width: float
    roll: float
    glued: str


def band_rows(project: Project) -> tuple[BandRow, ...]:
    """Return the edge bands of the order, by item in order of appearance."""
    lengths: dict[str, list[float]] = {}
    for piece in project.assembly.pieces:
        for part in (p.thing for p in piece.placed if isinstance(p.thing, Part)):
            over = project.practice["supplies.band_over"]
            for band in part.bands:
                # An end's band runs across the width, an edge's along the length, over the bands of the ends.
                along = part.finished[1 - band.face.axis]
                lengths.setdefault(band.item, []).extend([along + over] * piece.count)
    found = ((project.stock[item], edges) for item, edges in lengths.items())
    return tuple(
        BandRow(
            item=band.id,
            name=band.name,
            length=sum(edges),
            edges=len(edges),
            width=band.width,
            roll=band.roll,
            glued=band.glued,
        )
        for band, edges in found
        if isinstance(band, EdgeBand)
    )


def hardware_rows(project: Project) -> tuple[BoughtRow, ...]:
    """Return the placed and listed hardware, by item in order of appearance."""
    uses: dict[str, Counter[str]] = {}
    counts: dict[str, Counter[str]] = {}
    ordered: dict[str, Counter[tuple[float, float]]] = {}
    for piece in project.assembly.pieces:
        for placed in piece.placed:
            if isinstance(placed.thing, Hardware):
                _tally(uses, counts, placed.thing.item, _place(project, piece, placed), piece, piece.count)
                if placed.thing.ordered is not None:
                    ordered.setdefault(placed.thing.item, Counter())[placed.thing.ordered] += piece.count
        names = {p.path: p.name for p in piece.placed}
        for line in piece.bought:
            if not isinstance(project.stock.get(line.item), FASTENERS):
                _tally(uses, counts, line.item, names.get(line.path, TIES), piece, piece.count * line.count)
    return tuple(
        replace(_bought(project, item, counts[item], uses[item]), ordered=tuple(ordered.get(item, Counter()).items()))
        for item in counts
    )


def fastener_rows(project: Project) -> tuple[BoughtRow, ...]:
    """Return screws, pins and dowels by item, with the kinds of joint that they hold."""
    uses: dict[str, Counter[str]] = {}
    counts: dict[str, Counter[str]] = {}
    for piece in project.assembly.pieces:
        placed = piece.by_path()
        kinds = {joint.id: _use(placed, joint) for joint in piece.joints}
        for fastener in piece.fasteners:
            use = kinds.get(fastener.joint, "held to hardware")
            _tally(uses, counts, fastener.item, use, piece, piece.count)
        for line in piece.bought:
            if isinstance(project.stock.get(line.item), FASTENERS):
                fixed = placed[line.path].name if line.path in placed else "case"
                use = f"{fixed} to the wall"  # what is bought and not placed stands in the wall
                _tally(uses, counts, line.item, use, piece, piece.count * line.count)
    rows = (_bought(project, item, counts[item], uses[item]) for item in counts)
    return tuple(sorted(rows, key=lambda row: (isinstance(project.stock.get(row.item), Pin), row.item)))


def _use(placed: Mapping[str, Placed], joint: Joint) -> str:
    """Return what a joint's fasteners are for: the bought thing that they hold, else the kind of joint."""
    held = (placed[path] for path in (joint.a, joint.b) if path in placed)
    bought = next((p for p in held if isinstance(p.thing, Hardware)), None)
    return joint.words if bought is None or joint.kind is not JointKind.HARDWARE else stem(bought.name)


def _place(project: Project, piece: PieceDesign, placed: Placed) -> str:
    """Return what a bought thing is in a piece; of one that is called as it is sold, the part that it sits in."""
    item = project.stock.get(placed.thing.item) if isinstance(placed.thing, Hardware) else None
    if placed.name != getattr(item, "name", ""):
        return stem(placed.name)
    held = (end for j in piece.joints if placed.path in (j.a, j.b) for end in (j.a, j.b) if end != placed.path)
    host = next((p for end in held if isinstance((p := piece.by_path()[end]).thing, Part)), None)
    return f"in the {stem(host.name)}" if host is not None else stem(placed.name)


def _tally(
    uses: dict[str, Counter[str]], counts: dict[str, Counter[str]], item: str, use: str, piece: PieceDesign, count: int
) -> None:
    uses.setdefault(item, Counter())[use] += count
    counts.setdefault(item, Counter())[piece.path] += count


def _bought(project: Project, item_id: str, counts: Counter[str], uses: Counter[str]) -> BoughtRow:
    item = project.stock.get(item_id)
    members = MEMBERS.get(type(item), 1)
    by_piece = tuple((path, -(-n // members)) for path, n in counts.items())
    return BoughtRow(
        item=item_id,
        name=str(getattr(item, "name", item_id)),
        count=sum(n for _, n in by_piece),
        counts=by_piece,
        uses=tuple(uses.items()),
    )


def glue_rows(project: Project) -> tuple[GlueRow, ...]:
    """Return the glues that the order's joints call for."""
    joints = [j for piece in project.assembly.pieces for j in piece.joints]
    kinds = {j.kind for j in joints}
    roles = {
        "glue": ("joints and panels", any(j.glued for j in joints)),
        "corner_glue": ("moulding corners", JointKind.MITRE in kinds),
        "insert_glue": ("inserts in end grain", JointKind.INSERT in kinds),
    }
    out = []
    for role, (use, needed) in roles.items():
        item = served(project, role)
        if needed and isinstance(item, Glue):
            out.append(
                GlueRow(
                    role=role,
                    item=item.id,
                    name=item.name,
                    use=use,
                    open_time=item.open_time,
                    clamp_time=item.clamp_time,
                    full_time=item.full_time,
                )
            )
    return tuple(out)


def finish_rows(project: Project) -> tuple[FinishRow, ...]:
    """Return what the order's parts are finished with, in the order in which it goes on, and the area that takes each.

    Of a piece that names its own stock for a finish, that.
    """
    areas: dict[tuple[Finish, int], float] = {}
    for piece in project.assembly.pieces:
        for finish, area in finished_areas(piece).items():
            for product in products(kit_of(project, piece), finish):
                areas[product] = areas.get(product, 0.0) + area * piece.count
    return tuple(
        FinishRow(
            item=item.id,
            name=item.name,
            area=area,
            hazards=item.hazards,
            litres_per_coat=area / item.coverage,
            coats=coats,
            recoat_hours=item.recoat_hours,
        )
        for (item, coats), area in sorted(areas.items(), key=lambda row: _goes_on(row[0][0]))
    )


def _goes_on(product: Finish) -> int:
    return GOES_ON.index(product.kind) if product.kind in GOES_ON else len(GOES_ON)


def finished_areas(piece: PieceDesign) -> dict[str, float]:
    """Return the area of one piece in m² by the finish that it gets."""
    areas: Counter[str] = Counter()
    for placed in piece.placed:
        for use in placed.thing.faces if isinstance(placed.thing, Part) else ():
            if use.finish:
                u, v, _ = placed.part.blank.extent(use.face)
                areas[use.finish] += u * v * 1e-6  # type: ignore[assignment]
    return {finish: float(area) for finish, area in areas.items()}


def kit_of(project: Project, piece: PieceDesign) -> Kit:
    """Return the stock and practice that a piece was designed with."""
    name = piece.path.partition(".")[0]
    spec = next(p for p in project.order.pieces if p.name == name)
    return Kit(sizes=sizes_for(project.order, spec, project.shop), practice=project.practice)


def served(project: Project, role: str) -> object:
    """Return the item that serves a role in the shop, None where nothing does."""
    return next((items[0] for name, items in project.shop.sizes.roles if name == role and items), None)
