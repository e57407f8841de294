"""The grid of a front as geometry: regions of opening and interior, and how a length is divided among bays.

A region is what a bay may use: its opening as one faces it, and the interior between walls, floor and ceiling
behind it. Cells are named by column and row, counted from the left and the top: `c2,r1`; a column within a column
adds its own number, `c2.1,r1`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from casewright.design.blocks.face_frame import Opening, Wall
from casewright.design.blocks.in_line import IN_LINE, out_of_line
from casewright.design.draft import Draft
from casewright.design.sites import Span
from casewright.findings import Severity
from casewright.order.pieces.bays import BayOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A horizontal part above or below a region: its name, and the z of its face towards the region, mm."""

    name: str
    face: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """What one bay may use, mm in the piece.

    `c`, `r`: numbers of its column and row, "" where it has none. `x`, `z`: its opening. `width_name`,
    `height_name`: the opening's ledger sizes. `left`, `right`: the uprights beside it; `low`, `high`: what lies under
    and over it. `frame_left`, `frame_right`: the face frame's members beside it, "" without a frame.
    `image` is its name in the mirrored piece, as (c, r). `open_low`, `open_high`: a rail in front, and nothing behind
    it, parts it from what lies below or above.
    """

    x: Span
    z: Span
    width_name: str
    height_name: str
    left: Wall
    right: Wall
    low: Level
    high: Level
    frame_left: str = ""
    frame_right: str = ""
    frame_low: str = ""
    frame_high: str = ""
    c: str = ""
    r: str = ""
    image: tuple[str, str] = ("", "")
    open_low: bool = False
    open_high: bool = False

    @property
    def cell(self) -> str:
        """Its name as a cell: "c1,r2"."""
        return f"c{self.c or 1},r{self.r or 1}"

    @property
    def inside(self) -> Span:
        """Between the faces of its uprights."""
        return (self.left.face, self.right.face)

    @property
    def within(self) -> Span:
        """Between floor and ceiling."""
        return (self.low.face, self.high.face)

    @property
    def own(self) -> Span:
        """Between floor and ceiling as far as nothing else lies there: behind a rail alone a drawer runs on."""
        return (self.z[0] if self.open_low else self.low.face, self.z[1] if self.open_high else self.high.face)

    def opening(self) -> Opening:
        """Return it as an opening for drawers and doors."""
        return Opening(
            cell=self.cell,
            x=self.x,
            z=self.z,
            width_name=self.width_name,
            height_name=self.height_name,
            left=self.left,
            right=self.right,
        )

    def names(self) -> tuple[tuple[str, str], ...]:
        """Return its names in brackets (as a cell, after it) with those in the mirrored piece."""
        c, r = self.image
        image = replace(self, c=c, r=r)
        return ((self.cell, image.cell), (self.key, image.key))

    @property
    def key(self) -> str:
        """Its name without the numbers that it does not have; "all" for the whole front."""
        return ",".join(n for n in (f"c{self.c}" if self.c else "", f"r{self.r}" if self.r else "") if n) or "all"

    def column(self, i: int, n: int) -> tuple[str, str, tuple[str, str]]:
        """Return (c, r, image) of its column `i` of `n`, counted from 0."""
        c, r = self.image
        return _under(self.c, i + 1), self.r, (_under(c, n - i), r)

    def row(self, i: int) -> tuple[str, str, tuple[str, str]]:
        """Return (c, r, image) of its row `i`, counted from 0."""
        c, r = self.image
        return self.c, _under(self.r, i + 1), (c, _under(r, i + 1))


def after_column(region: Region, i: int, n: int) -> tuple[str, str]:
    """Return the name of what stands after column `i` of a region, and that name in the mirrored piece."""
    c, r, _ = region.column(i, n)
    mirror_c, mirror_r = _under(region.image[0], n - 1 - i), region.image[1]
    return _upright(c, r), _upright(mirror_c, mirror_r)


def _upright(c: str, r: str) -> str:
    return f"u{c}" + (f",r{r}" if r else "")


def _under(number: str, i: int) -> str:
    return f"{number}.{i}" if number else str(i)


def divide(
    d: Draft, bay: BayOrder, total: float, member: float, name: str, laps: Sequence[float] = ()
) -> tuple[float, ...] | None:
    """Return the sizes of a bay's columns or rows: what they give themselves, the rest by share or graduated.

    `total` is the whole opening and `member` what stands between two of them, mm; `laps` is by how much the front of
    each row is higher than its opening (nothing without it). None where they do not fit.
    """
    parts = bay.parts
    left = total - (len(parts) - 1) * member
    sizes = _graduated(bay, left, laps or (0.0,) * len(parts)) if bay.graduate else _shared(parts, left)
    least = d.practice["bay.least"]
    if sizes is None or min(sizes) < least:
        got = min(sizes) if sizes else left - sum(b.size for b in parts)
        what = "columns" if bay.columns else "rows"
        d.find(
            "bay.no_room",
            Severity.STOP,
            name,
            f"the {what} do not fit: {got:.1f} mm remain for the smallest of {len(parts)} in {total:.1f} mm",
            value=got,
            limit=least,
            source="practice bay.least",
            remedy="a larger piece, fewer or smaller bays, or narrower members between them",
        )
        return None
    if not bay.graduate and all(b.size for b in parts) and abs(sum(sizes) - left) > _MEASURED:
        d.find(
            "bay.sum",
            Severity.STOP,
            name,
            f"the sizes of its {'columns' if bay.columns else 'rows'} add up to {sum(sizes):.1f} mm",
            value=sum(sizes),
            limit=left,
            remedy="leave one of them without a size: it takes what the others leave",
        )
        return None
    return sizes


_MEASURED = 1e-3  # mm; sizes that fill their opening to within this are meant to


def _shared(parts: Sequence[BayOrder], left: float) -> tuple[float, ...] | None:
    rest = left - sum(b.size for b in parts)
    shares = sum(b.share for b in parts if not b.size)
    if rest < 0 and shares:
        return None
    return tuple(b.size or rest * b.share / shares for b in parts)


def _graduated(bay: BayOrder, left: float, laps: Sequence[float]) -> tuple[float, ...]:
    """Rows whose fronts, as one sees them, opening and laps, grow by the same length downwards (common practice)."""
    n = len(bay.rows)
    first = (left + sum(laps) - bay.graduate * n * (n - 1) / 2) / n
    return tuple(first + bay.graduate * i - lap for i, lap in enumerate(laps))


def follow(
    d: Draft,
    bay: BayOrder,
    sizes: tuple[float, ...],
    member: float,
    top: float,
    lines: Sequence[float],
    name: str,
) -> tuple[float, ...]:
    """Return the sizes of rows with their rails moved to lines of a matching piece, as far as practice reaches.

    A rail moves where the rows above and below it give no sizes and keep room; else, and out of reach, it stays, and
    a finding says how far off it lies. `lines` are heights of upper edges of rails, `top` that of the opening.
    """
    out, reach, least = list(sizes), d.practice["style.reach"], d.practice["bay.least"]
    edge = top
    for i in range(len(out) - 1):
        edge -= out[i]
        line = min(lines, key=lambda z: abs(z - edge), default=edge)
        off = edge - line
        free = not (bay.rows[i].size or bay.rows[i + 1].size or bay.graduate)
        if free and abs(off) <= reach and min(out[i] + off, out[i + 1] - off) >= least:
            out[i] += off
            out[i + 1] -= off
            edge = line
        elif abs(off) > IN_LINE:
            remedy = f"sizes of rows that bring its upper edge to {line:.1f} mm over the floor, or none"
            out_of_line(d, name, f"the rail under row {i + 1}", off, remedy)
        edge -= member
    return tuple(out)
