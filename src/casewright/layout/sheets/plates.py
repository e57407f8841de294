"""A plate on the saw: what may be cut from it, and the cut tree that results.

Every cut of every solver here is made through `Rules.cut`, so lift limits, kerfs, saw limits, stages and first
direction are honoured at one place. Split 0 is a crosscut (divides x), split 1 a rip (divides y).
"""

from __future__ import annotations

from dataclasses import dataclass, field

from casewright.layout.model import Axis, Cut, Laid, Rest, SheetDemand

AXES = (Axis.CROSSCUT, Axis.RIP)
Size = tuple[int, int]


@dataclass(slots=True)
class Plate:
    """A rectangle of sheet; once divided it has a `near` piece of the size asked for and the `far` remainder."""

    x: int
    y: int
    size: Size
    stage: int = 0
    made_by: int = -1  # the split that made it
    split: int = -1
    kerf: int = 0
    rough: bool = False
    near: Plate | None = None
    far: Plate | None = None
    laid: Laid | None = None

    def fresh(self) -> Plate:
        """Return the same plate, undivided."""
        return Plate(self.x, self.y, self.size, self.stage, self.made_by)

    def adopt(self, other: Plate) -> None:
        """Be divided as the same plate was elsewhere."""
        self.split, self.kerf, self.rough = other.split, other.kerf, other.rough
        self.near, self.far, self.laid = other.near, other.far, other.laid


@dataclass(frozen=True, slots=True)
class Rules:
    """What the saws can do, taken from a demand."""

    kerf: int
    rough: int
    lift: Size | None  # (greater, smaller) side, None where everything can be lifted
    longest: tuple[int | None, int | None]  # longest line of a crosscut, of a rip
    first: int
    stages: int | None
    keep: Size
    keeps: bool = field(default=True)

    @classmethod
    def of(cls, demand: SheetDemand) -> Rules:
        """Take the rules from a demand."""
        saws = demand.saws
        limits = [limit for limit in (saws.lift_length, saws.lift_width) if limit is not None]
        return cls(
            kerf=saws.kerf,
            rough=saws.rough_width,
            lift=(max(limits), min(limits)) if limits else None,
            longest=(saws.widest_crosscut, saws.longest_rip),
            first=-1 if demand.first is None else AXES.index(demand.first),
            stages=demand.stages,
            keep=(max(1, demand.keep_length), max(1, demand.keep_width)),
            keeps=demand.keep_length > 0 or demand.keep_width > 0,
        )

    @property
    def plain(self) -> bool:
        """True where any guillotine cut is allowed and takes the same kerf."""
        return self.lift is None and self.longest == (None, None) and self.first < 0 and self.stages is None

    def liftable(self, size: Size) -> bool:
        """True where one person can bring a piece of this size to the saw."""
        return self.lift is None or (max(size) <= self.lift[0] and min(size) <= self.lift[1])

    def width_of(self, size: Size, stage: int, made_by: int, split: int) -> int:
        """Return what a line of this split takes from the plate, or −1 where it cannot be made."""
        if made_by < 0 and self.first >= 0 and split != self.first:
            return -1
        if self.stages is not None and stage + (made_by != split) > self.stages:
            return -1
        if not self.liftable(size):
            return self.rough
        limit = self.longest[split]
        return self.kerf if limit is None or size[1 - split] <= limit else -1

    def cut(self, plate: Plate, split: int, size: int) -> tuple[Plate, Plate] | None:
        """Divide `plate`: a near piece `size` wide along the split, a line, the rest (perhaps of no size)."""
        kerf = self.width_of(plate.size, plate.stage, plate.made_by, split)
        if kerf < 0 or not 0 < size < plate.size[split]:
            return None
        stage = plate.stage + (plate.made_by != split)
        over = min(plate.size[split], size + kerf)
        sizes = (size, plate.size[split] - over)
        spots = (plate.x, plate.y), (plate.x + over * (1 - split), plate.y + over * split)
        near, far = (
            Plate(x, y, (extent, plate.size[1]) if split == 0 else (plate.size[0], extent), stage, split)
            for (x, y), extent in zip(spots, sizes, strict=True)
        )
        plate.split, plate.kerf, plate.rough = split, kerf, not self.liftable(plate.size)
        plate.near, plate.far = near, far
        return near, far

    def trim(self, plate: Plate, size: Size, order: tuple[int, int]) -> Plate | None:
        """Cut a plate down to `size`, the splits in `order`; None where that cannot be done."""
        for split in order:
            if size[split] < plate.size[split]:
                pieces = self.cut(plate, split, size[split])
                if pieces is None:
                    return None
                plate = pieces[0]
        return plate if plate.size == size else None


def record(plate: Plate, rules: Rules) -> Cut | Laid | Rest:
    """Turn a divided plate into records; lines of the same direction and width on one plate become one cut."""
    if plate.laid is not None:
        return plate.laid
    if plate.near is None:
        length, width = plate.size
        keep = rules.keeps and length >= rules.keep[0] and width >= rules.keep[1]
        return Rest(x=plate.x, y=plate.y, length=length, width=width, keep=keep)
    split, kerf, rough = plate.split, plate.kerf, plate.rough
    lines: list[int] = []
    pieces: list[Cut | Laid | Rest] = []
    rest: Plate = plate
    while (
        rest.near is not None and rest.far is not None and (rest.split, rest.kerf, rest.rough) == (split, kerf, rough)
    ):
        lines.append((rest.x, rest.y)[split] + rest.near.size[split])
        pieces.append(record(rest.near, rules))
        rest = rest.far
    pieces.append(record(rest, rules))
    return Cut(
        axis=AXES[split],
        x=plate.x,
        y=plate.y,
        length=plate.size[0],
        width=plate.size[1],
        lines=tuple(lines),
        kerf=kerf,
        pieces=tuple(pieces),
        rough=rough,
    )
