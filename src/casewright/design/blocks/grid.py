"""The grid of a case: dividers, shelves and rails that split its front and its inside, down to the cells.

Common practice. Dividers are centred behind their stiles; a fixed shelf's upper face is flush with the rail before
it. Between drawers, and between a drawer and a door, a rail is enough; whatever else needs a floor gets a shelf.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from casewright.design.blocks.bays import Level, Region, after_column, divide, follow
from casewright.design.blocks.face_frame import Wall
from casewright.design.blocks.frame_grid import bay_rail, centre_stile
from casewright.design.blocks.held import How, hold
from casewright.design.blocks.shelf_ends import join_shelf, shelf_end
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import TIES
from casewright.design.draft import Draft
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred
from casewright.order.pieces.bays import BayOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLaps:
    """How far fronts lap over what lies under the whole front, over it, and between two rows, mm; 0 where inset."""

    low: float = 0.0
    high: float = 0.0
    between: float = 0.0
    whole: Span = (0.0, 0.0)

    def of_rows(self, bay: BayOrder, z: Span, parted: float | None = None) -> tuple[float, ...]:
        """Return by how much the front of each row of a bay that spans `z` is higher than its opening.

        `parted` is the lap between its rows where no member parts them, mm.
        """
        high = self.high if z[1] >= self.whole[1] - 1e-6 else self.between
        low = self.low if z[0] <= self.whole[0] + 1e-6 else self.between
        between = self.between if parted is None or not self.over else parted
        last = len(bay.rows) - 1
        return tuple(
            ((high if i == 0 else between) + (low if i == last else between)) * _has_front(row)
            for i, row in enumerate(bay.rows)
        )

    @property
    def over(self) -> bool:
        """True where fronts lap over anything."""
        return self.high > 0


def _has_front(bay: BayOrder) -> bool:
    return any(leaf.holds in ("drawer", "door", "pair") for leaf in bay.leaves())


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """Visible widths of what stands between bays, mm: stiles between columns, rails between rows; laps of fronts."""

    stile: float
    rail: float
    laps: RowLaps = RowLaps()
    gap: float = 0.0  # between two drawer fronts, before what solid ones swell


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A bay that is not split, and the region that it may use.

    `loose` says whether, below and above, a gap alone parts its front from the next one.
    """

    bay: BayOrder
    region: Region
    loose: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Rows that a gap alone parts: the bay, the opening that they share, and the place of the first among the cells."""

    bay: BayOrder
    region: Region
    first: int


@dataclass(slots=True)
class Grid:
    """What splitting a front gives: its cells in order, the panels between them, names with their mirror images.

    `behind` pairs members of the face frame with the panels whose edges they cover; `lines` are heights over the
    floor that the rails between rows follow; `shelf_joint` is how the order wants the ends of fixed shelves; `stacks`
    are rows that nothing but a gap parts.
    """

    shell: Shell
    members: Members
    cells: list[Cell]
    panels: list[Placed]
    names: list[tuple[str, str]]
    behind: list[tuple[str, str]]
    lines: tuple[float, ...] = ()
    shelf_joint: str = "auto"
    stacks: list[Stack] = field(default_factory=list)

    @property
    def framed(self) -> bool:
        """True with a face frame."""
        return self.shell.framed

    @property
    def d(self) -> Draft:
        """The draft."""
        return self.shell.d

    def split(self, bay: BayOrder, region: Region) -> bool:
        """Place what splits a bay and go on in its parts; False where they do not fit."""
        self.names += [n for n in region.names() if n not in self.names]
        if not bay.parts:
            self.cells.append(Cell(bay=bay, region=region))
            return True
        return self._columns(bay, region) if bay.columns else self._rows(bay, region)

    # --- columns ---

    def _columns(self, bay: BayOrder, region: Region) -> bool:
        n = len(bay.columns)
        member = self.members.stile if self.framed else self.shell.thick
        sizes = divide(self.d, bay, region.x[1] - region.x[0], member, f"bays[{region.key}]")
        if sizes is None:
            return False
        between = self._between("stile", member)
        x, left, frame_left = region.x[0], region.left, region.frame_left
        children: list[tuple[BayOrder, Region]] = []
        for i, (part, size) in enumerate(zip(bay.columns, sizes, strict=True)):
            c, r, image = region.column(i, n)
            child = replace(region, x=(x, x + size), left=left, frame_left=frame_left, c=c, r=r, image=image)
            child = replace(child, width_name=f"opening[{child.key}].width")
            x += size
            if i < n - 1:
                panel, frame_right = self._divider(region, i, n, x + member / 2, (x, x + member))
                child = replace(child, right=panel[0], frame_right=frame_right)
                x, left, frame_left = x + member, panel[1], frame_right
            children.append((part, child))
        self._let_sizes(bay, region, [c for _, c in children], region.width_name, between, "x")
        return all(self.split(part, child) for part, child in children)

    def _divider(self, region: Region, i: int, n: int, middle: float, stile: Span) -> tuple[tuple[Wall, Wall], str]:
        """Place a divider and its stile; return it as the right wall of one column and the left wall of the next."""
        s, d = self.shell, self.d
        name, image = after_column(region, i, n)
        self.names.append((name, image))
        z = region.within
        height = f"divider[{name}].length"
        d.let(height, z[1] - z[0], "body.height", "side.thickness", rule="between floor and ceiling of its bay")
        x = centred(s.thick, middle)
        panel = s.panel(f"divider[{name}]", "divider", x, z, thick="x", sizes=(height, "bottom.width"))
        self.panels.append(panel)
        if region.high.name in TIES:
            # Screws of the top, or of a lid's strip, go up through the stretchers: none may start in the divider, nor
            # so near that no driver passes it.
            ties = tuple(d.at(n) for n in self._ceiling(region))
            off = d.practice["fastener.driver"]
            lo, hi = (x[0] - off, s.y[0], z[0]), (x[1] + off, s.y[1], z[1])
            d.keep_out(f"divider[{name}].head", lo, hi, panel, of=ties)
        self._stand(panel, region)
        frame = ""
        if self.framed:
            frame = f"frame/stile[{name}]"
            centre_stile(d, s.kit, s.body, region, f"stile[{name}]", stile, s.finish)
            self.behind.append((frame, f"divider[{name}]"))
        member = "centre_stile.width" if self.framed else "side.thickness"
        walls = [
            Wall(name=f"divider[{name}]", face=face, thickness=s.thick, member=member, sheet="side.thickness")
            for face in x
        ]
        return (walls[0], walls[1]), frame

    def _stand(self, panel: Placed, region: Region) -> None:
        """Hold a divider at its floor and at its ceiling."""
        s, d = self.shell, self.d
        below = How.THROUGH if region.low.name == "bottom" and s.hidden_below else How.DOWELS
        hold(d, s.kit, panel, d.at(region.low.name), "down", below)
        above = How.THROUGH if region.high.name == "stretcher.front" else How.DOWELS
        for host in self._ceiling(region):
            hold(d, s.kit, panel, d.at(host), "up", above)

    def _ceiling(self, region: Region) -> tuple[str, ...]:
        """Return the names of what ties a region above: a case under a top has stretchers in front and in the rear."""
        if region.high.name != TIES[0]:
            return (region.high.name,)
        return tuple(name for name in TIES if self.shell.d.has(name))

    # --- rows ---

    def _rows(self, bay: BayOrder, region: Region) -> bool:
        if bay.between == "gap":
            self.stacks.append(Stack(bay=bay, region=region, first=len(self.cells)))
            return self.stack(self.stacks[-1], self.members.gap)
        member = self.members.rail if self.framed else self.shell.thick
        laps = self.members.laps.of_rows(bay, region.z)
        sizes = divide(self.d, bay, region.z[1] - region.z[0], member, f"bays[{region.key}]", laps)
        if sizes is None:
            return False
        sizes = follow(self.d, bay, sizes, member, region.z[1], self.lines, f"bays[{region.key}]")
        between = self._between("rail", member)
        top, high, frame_high = region.z[1], region.high, region.frame_high
        children: list[tuple[BayOrder, Region]] = []
        parted = [*(not needs_shelf(bay, i) for i in range(len(sizes) - 1)), region.open_low]
        for i, (part, size) in enumerate(zip(bay.rows, sizes, strict=True)):
            c, r, image = region.row(i)
            child = replace(region, z=(top - size, top), high=high, frame_high=frame_high, c=c, r=r, image=image)
            child = replace(child, open_low=parted[i], open_high=parted[i - 1] if i else region.open_high)
            child = replace(child, height_name=f"opening[{child.key}].height")
            top -= size
            if i < len(sizes) - 1:
                low, high, frame_high = self._parting(region, child, not parted[i], (top - member, top))
                child = replace(child, low=low, frame_low=frame_high)
                top -= member
            children.append((part, child))
        self._let_sizes(bay, region, [c for _, c in children], region.height_name, between, "z")
        return all(self.split(part, child) for part, child in children)

    def stack(self, stack: Stack, gap: float) -> bool:
        """Give rows that a gap (mm) alone parts their openings; False where they do not fit.

        The opening of a row is its front and a gap on both sides, so that two of them lap by their gap: n fronts in
        one opening have n + 1 gaps (common practice). Done again, with the gap that solid fronts need, once the
        fronts are known; nothing else stands between them.
        """
        bay, region = stack.bay, stack.region
        laps = self.members.laps.of_rows(bay, region.z, parted=-gap)
        sizes = divide(self.d, bay, region.z[1] - region.z[0], -gap, f"bays[{region.key}]", laps)
        if sizes is None:
            return False
        top, last = region.z[1], len(sizes) - 1
        for i, (part, size) in enumerate(zip(bay.rows, sizes, strict=True)):
            c, r, image = region.row(i)
            row = replace(region, z=(top - size, top), c=c, r=r, image=image)
            row = replace(row, height_name=f"opening[{row.key}].height")
            self.names += [n for n in row.names() if n not in self.names]
            self.cells[stack.first + i : stack.first + i + 1] = [Cell(bay=part, region=row, loose=(i < last, i > 0))]
            top -= size - gap
        return True

    def let_stacks(self, gap: float) -> None:
        """Let the openings of rows that a gap alone parts, once it is known."""
        for stack in self.stacks:
            self.stack(stack, gap)
            for cell in self.cells[stack.first : stack.first + len(stack.bay.rows)]:
                z = cell.region.z
                self.d.let(
                    cell.region.height_name,
                    z[1] - z[0],
                    stack.region.height_name,
                    rule="its front and a gap on both sides; no rail parts it from the next drawer",
                )

    def _parting(self, region: Region, above: Region, shelf: bool, z: Span) -> tuple[Level, Level, str]:
        """Place what parts two rows; return the floor of the upper one, the ceiling of the lower one, the rail."""
        s, d = self.shell, self.d
        frame = ""
        if self.framed:
            frame = f"frame/rail[{above.key}]"
            bay_rail(d, s.kit, s.body, region, f"rail[{above.key}]", z, s.finish)
        if self.framed and not shelf:
            return region.low, region.high, frame
        name = f"shelf[{above.key}]" if shelf else f"rail[{above.key}]"
        level = (z[1] - s.thick, z[1])
        panel = self._shelf(region, name, level) if shelf else self._front_rail(region, name, level)
        self.panels.append(panel)
        if self.framed:
            self.behind.append((frame, name))
        if not shelf:
            return region.low, region.high, frame
        return Level(name=name, face=level[1]), Level(name=name, face=level[0]), frame

    def _shelf(self, region: Region, name: str, z: Span) -> Placed:
        s, d = self.shell, self.d
        walls = {hand: d.at(wall.name) for hand, wall in (("left", region.left), ("right", region.right))}
        ends = {hand: shelf_end(s, wall, self.shelf_joint) for hand, wall in walls.items()}
        length = self._length(region, name, ends["left"].into + ends["right"].into)
        x = (region.inside[0] - ends["left"].into, region.inside[1] + ends["right"].into)
        shelf = s.panel(name, "fixed shelf", x, z, thick="z", sizes=(length, "bottom.width"), shows="up")
        for hand, wall in walls.items():
            join_shelf(s, shelf, wall, hand, ends[hand])
        return shelf

    def _front_rail(self, region: Region, name: str, z: Span) -> Placed:
        s, d = self.shell, self.d
        width = d.practice["bay.rail_depth"]
        rail = d.box_part(
            name,
            "rail between drawers",
            s.material,
            region.inside,
            (s.y[0], s.y[0] + width),
            z,
            grain="x",
            thick="z",
            shows="front",
            sizes=(self._length(region, name), "", "side.thickness"),
            band=s.band,
            banded="front",
        )
        for hand, wall in (("left", region.left), ("right", region.right)):
            hold(d, s.kit, rail, d.at(wall.name), hand, How.DOWELS)
        return rail

    def _length(self, region: Region, name: str, into: float = 0.0) -> str:
        """Let the length of a level part between the walls of a region, and `into` them; return its ledger name."""
        size = f"{name}.length"
        d, (a, b) = self.d, region.inside
        rule = "between the walls of its bay" + (", and into both dados" if into else "")
        d.let(size, b - a + into, "inside.width", "side.thickness", rule=rule)
        return size

    # --- sizes ---

    def _between(self, what: str, member: float) -> str:
        """Return the ledger name of what stands between two bays."""
        if not self.framed:
            return "side.thickness"
        name = "centre_stile.width" if what == "stile" else "bay_rail.width"
        if name not in self.d.led:
            self.d.let(name, member, rule="visible width, as ordered")
        return name

    def _let_sizes(
        self, bay: BayOrder, region: Region, children: list[Region], total: str, between: str, axis: str
    ) -> None:
        """Let the openings of columns or rows and the chain that they fill."""
        names = [c.width_name if axis == "x" else c.height_name for c in children]
        for name, part, child in zip(names, bay.parts, children, strict=True):
            span = child.x if axis == "x" else child.z
            self.d.let(name, span[1] - span[0], total, between, rule=_why(bay, part))
        items = [names[0]]
        for name in names[1:]:
            items += [between, name]
        absorber = next((n for n, b in zip(names, bay.parts, strict=True) if not b.size), names[-1])
        self.d.chain(
            f"chain.{'columns' if axis == 'x' else 'rows'}[{region.key}]",
            axis,
            total,
            tuple(items),
            absorber,
            10.0,
            5e3,
        )


def _why(bay: BayOrder, part: BayOrder) -> str:
    if bay.graduate:
        return "graduated: the front of each row is higher than the one above by the same length"
    return "as ordered" if part.size else "its share of what the others leave"


def needs_shelf(bay: BayOrder, i: int) -> bool:
    """True where rows `i` and `i` + 1 of a bay are parted by a shelf, not by a rail alone."""
    if bay.between:
        return bay.between == "shelf"
    above, below = bay.rows[i], bay.rows[i + 1]
    if above.columns or below.columns:
        return True
    last = _lowest(above)
    first = _highest(below)
    return (
        last.holds != "drawer" or first.holds not in ("drawer", "door", "pair") or bool(last.columns or first.columns)
    )


def _lowest(bay: BayOrder) -> BayOrder:
    return _lowest(bay.rows[-1]) if bay.rows else bay


def _highest(bay: BayOrder) -> BayOrder:
    return _highest(bay.rows[0]) if bay.rows else bay
