"""The drawing board of one piece: blocks place parts, name joints and give reasons; `finish` resolves them.

A `Draft` is the only mutable thing in the design room and never leaves it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from casewright.design.assembly import (
    Chain,
    ChainItem,
    Fit,
    HardwareLine,
    Joint,
    JointKind,
    Keepout,
    Motion,
    PieceDesign,
    Step,
)
from casewright.design.blanks import Blank, Face, GlueUp
from casewright.design.features.base import Feature, MadeAt
from casewright.design.fitted import with_surplus
from casewright.design.frames import Frame, Vec, add, scale
from casewright.design.joints.base import Box, Detail, Nothing, Site
from casewright.design.joints.others import Drilled
from casewright.design.joints.screws import ScrewLine
from casewright.design.ledger import Ledger
from casewright.design.parts import Allowance, Band, FaceUse, Fastener, Form, Hardware, Intent, Part, PartKind, Placed
from casewright.design.sites import DIRECTIONS, Span, along, box_frame, fastener_box
from casewright.design.step_runs import named_by_number
from casewright.findings import Finding, Severity
from casewright.shop.model import Practice
from casewright.stock.fittings import EdgeBand
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What a part is cut from, as a block needs to know it."""

    form: Form
    item: str
    density: float
    grain: bool = True
    hard: bool = False
    finish: str = ""


@dataclass(slots=True)
class Draft:
    """Everything of one piece while it is designed: its `path`, and its `place` in the order."""

    path: str
    practice: Practice
    place: str = ""
    overrides: Mapping[str, float] = field(default_factory=dict)
    led: Ledger = field(init=False)
    _placed: dict[str, Placed] = field(default_factory=dict)
    _members: dict[str, list[str]] = field(default_factory=dict)  # paths by each group that they are in, or their own
    _cuts: dict[str, list[Feature]] = field(default_factory=dict)
    _joints: list[tuple[Joint, Detail]] = field(default_factory=list)
    keepouts: list[Keepout] = field(default_factory=list)
    chains: list[Chain] = field(default_factory=list)
    fits: list[Fit] = field(default_factory=list)
    motions: list[Motion] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    bought: list[HardwareLine] = field(default_factory=list)
    excluded: list[str] = field(default_factory=list)
    cells: tuple[tuple[str, str], ...] = ()  # names of cells and uprights, each with its name in the mirror image

    def __post_init__(self) -> None:
        self.led = Ledger(self.overrides)

    # --- parts ---

    def full(self, name: str) -> str:
        """Return the path of a thing of this piece."""
        return f"{self.path}/{name}" if name else self.path

    def box_part(
        self,
        name: str,
        label: str,
        material: Material,
        x: Span,
        y: Span,
        z: Span,
        *,
        grain: str,
        thick: str,
        shows: str = "",
        rough: Allowance = Allowance(),
        made_of: GlueUp | None = None,
        coated: str = "",
        sizes: tuple[str, str, str] = ("", "", ""),
        band: EdgeBand | None = None,
        banded: str = "",
        run: tuple[str, int] = ("", 0),
        surplus: str = "",
        kind: PartKind = PartKind.OTHER,
    ) -> Placed:
        """Place a rectangular part that fills a box, with its bands.

        `shows` names the directions of its show faces, `coated` those of others that get the finish, `sizes` its
        ledger sizes, `banded` the directions of the edges that get the band, `run` a run of matched grain and its
        place in it, `surplus` the direction in which what is trimmed later stands over, `kind` what it is
        where parts are cut to fit.
        """
        ways = banded.split() if band is not None else []
        if band is not None:
            x, y, z = _less_bands((x, y, z), ways, band.thickness)
        size = {"x": x[1] - x[0], "y": y[1] - y[0], "z": z[1] - z[0]}
        wide = next(a for a in "xyz" if a not in (grain, thick))
        blank = Blank(length=size[grain], width=size[wide], thickness=size[thick], made_of=made_of)
        part = Part(
            form=material.form,
            stock=material.item,
            blank=blank,
            allowance=rough,
            grain=material.grain,
            mass_density=material.density,
            run=run[0],
            run_place=run[1],
            kind=kind,
        )
        frame = box_frame(x, y, z, grain, thick)
        if surplus:
            over = Placed(path="", name="", thing=part, frame=frame).face_towards(DIRECTIONS[surplus])
            part = replace(part, allowance=replace(rough, at=over))
        if band is not None:
            part = replace(part, bands=_bands(Placed(path="", name="", thing=part, frame=frame), ways, band))
        return self.place_part(
            name,
            label,
            part,
            frame,
            shows=shows,
            coated=coated,
            finish=material.finish,
            sizes=sizes,
        )

    def place_part(
        self,
        name: str,
        label: str,
        part: Part,
        frame: Frame,
        *,
        shows: str = "",
        coated: str = "",
        finish: str = "",
        sizes: tuple[str, str, str] = ("", "", ""),
        shown: Face | None = None,
    ) -> Placed:
        """Place a part in a frame; `coated` faces get the finish though nobody looks at them.

        `shown` is a face that shows where no direction of the piece says it: that of a moulding that leans. An edge
        that is banded shows: that is what a band is for.
        """
        placed = Placed(path=self.full(name), name=label, thing=part, frame=frame, place=self.place, sizes=sizes)
        wanted = [(d, Intent.SHOWS) for d in shows.split()] + [(d, Intent.HIDDEN) for d in coated.split()]
        uses = tuple(
            FaceUse(face=placed.face_towards(DIRECTIONS[d]), intent=intent, finish=finish) for d, intent in wanted
        )
        if shown is not None:
            uses = (*uses, FaceUse(face=shown, intent=Intent.SHOWS, finish=finish))
        named = {use.face for use in uses}
        uses += tuple(
            FaceUse(face=band.face, intent=Intent.SHOWS, finish=finish) for band in part.bands if band.face not in named
        )
        placed = replace(placed, thing=replace(part, faces=tuple(sorted(uses, key=lambda u: u.face.value))))
        return self._put(placed)

    def place_hardware(self, name: str, label: str, item: Hardware, frame: Frame) -> Placed:
        """Place a bought item in a frame."""
        return self._put(Placed(path=self.full(name), name=label, thing=item, frame=frame, place=self.place))

    def _put(self, placed: Placed) -> Placed:
        if placed.path in self._placed:
            raise ValueError(f"{placed.path} is placed twice")
        self._placed[placed.path] = placed
        group = placed.path
        while group != self.path:
            self._members.setdefault(group, []).append(placed.path)
            group = group.rpartition("/")[0]
        return placed

    def at(self, name: str) -> Placed:
        """Return a thing of this piece as it was placed."""
        return self._placed[self.full(name)]

    def has(self, name: str) -> bool:
        """True where the piece has a thing of that name."""
        return self.full(name) in self._placed

    def under(self, name: str) -> tuple[str, ...]:
        """Return the paths of a thing, or of every member of a group. Raises KeyError where there is none."""
        full = self.full(name)
        members = self._members.get(full) if name else list(self._placed)
        if not members:
            raise KeyError(f"{full} is neither a thing nor a group of the piece")
        return tuple(members)

    @property
    def joints(self) -> tuple[Joint, ...]:
        """The joints named so far."""
        return tuple(j for j, _ in self._joints)

    def shorten_band(self, name: str, face: Face, towards: str, by: float) -> None:
        """Cut a band off again over a length (mm) at its end that looks `towards` a side of the piece ("left")."""
        placed = self.at(name)
        part, end = placed.part, placed.face_towards(DIRECTIONS[towards])
        bands = tuple(
            replace(b, short=(b.short[0], b.short[1] + by) if end.high else (b.short[0] + by, b.short[1]))
            if b.face is face
            else b
            for b in part.bands
        )
        self._placed[placed.path] = replace(placed, thing=replace(part, bands=bands))

    def cut(self, placed: Placed, *features: Feature) -> None:
        """Add features that belong to the part itself, not to a joint."""
        self._cuts.setdefault(placed.path, []).extend(features)

    def cuts(self, placed: Placed) -> tuple[Feature, ...]:
        """Return what has been cut on a part so far that belongs to the part itself."""
        return tuple(self._cuts.get(placed.path, ()))

    def drilled(self, placed: Placed) -> tuple[Drilled, ...]:
        """Return the holes that hardware named so far needs in a part."""
        return tuple(detail for _, detail in self._joints if isinstance(detail, Drilled) and detail.part == placed.path)

    # --- sizes ---

    def let(self, name: str, value: float, *because: str, rule: str = "", role: Role = Role.FREE) -> float:
        """Record a size with its reasons and return it, mm."""
        return self.led.let(name, value, because=because, rule=rule, role=role)

    def item(self, name: str) -> ChainItem:
        """Return a ledger size as a link of a chain."""
        return ChainItem(name=name, value=self.led[name])

    def chain(
        self, id_: str, axis: str, total: str, items: tuple[str, ...], absorber: str, least: float, most: float
    ) -> None:
        """Record that sizes fill a total; all are names of ledger sizes."""
        links = tuple(self.item(n) for n in items)
        self.chains.append(
            Chain(
                id=self.full(id_),
                axis=axis,
                total=self.item(total),
                items=links,
                absorber=absorber,
                least=least,
                most=most,
            )
        )

    def fit(
        self, id_: str, housing: str, insert: str, least: float, most: float, allow: float = 0.0, source: str = ""
    ) -> None:
        """Record that one size must go into another; both are names of ledger sizes."""
        self.fits.append(
            Fit(
                id=self.full(id_),
                housing=self.item(housing),
                insert=self.item(insert),
                least=least,
                most=most,
                allow=allow,
                source=source,
            )
        )

    # --- joints, steps, findings ---

    def joint(
        self,
        id_: str,
        kind: JointKind,
        a: Placed,
        b: Placed,
        at: Vec,
        detail: Detail | None = None,
        *,
        glued: bool = False,
        why: str = "",
    ) -> str:
        """Name a joint between two placed things and how it is made; returns its id."""
        full = self.full(id_)
        joint = Joint(id=full, kind=kind, a=a.path, b=b.path, frame=Frame(origin=at), glued=glued, why=why)
        self._joints.append((joint, detail if detail is not None else Nothing()))
        return full

    def fixed_screws(self, placed: Placed) -> list[Vec]:
        """Return where screws in a hardware's own holes enter a part: they stand where they stand, mm in the piece."""
        out: list[Vec] = []
        for joint, detail in self._joints:
            if joint.b == placed.path and isinstance(detail, ScrewLine) and detail.forced:
                way, _ = along(detail.start, detail.end)
                out.extend(add(detail.start, scale(way, s)) for s in detail.forced)
        return out

    def keep_out(self, id_: str, lo: Vec, hi: Vec, *owners: Placed, of: tuple[Placed, ...] = ()) -> None:
        """Record a box that no fastener (of the parts `of`, if given) may enter."""
        self.keepouts.append(
            Keepout(id=self.full(id_), lo=lo, hi=hi, owners=tuple(o.path for o in owners), of=tuple(o.path for o in of))
        )

    def step(self, step: Step) -> None:
        """Record a step; its names, relative to this piece, are completed to paths and ids."""
        self.steps.append(step.renamed(self.full))

    def find(
        self,
        code: str,
        severity: Severity,
        name: str,
        message: str,
        *,
        value: float | None = None,
        limit: float | None = None,
        unit: str = "mm",
        source: str = "",
        remedy: str = "",
    ) -> None:
        """Record a finding about a thing (or a key) of this piece."""
        self.findings.append(
            Finding(
                code=code,
                severity=severity,
                path=self.full(name),
                message=message,
                value=value,
                limit=limit,
                unit=unit,
                source=source,
                remedy=remedy,
                place=self.place,
            )
        )

    # --- the end ---

    @property
    def stopped(self) -> bool:
        """True where a block has found that the piece cannot be built."""
        return any(f.severity is Severity.STOP for f in self.findings)

    def unbuilt(self, *, kind: str, title: str, width: float, depth: float, height: float) -> PieceDesign:
        """Return the piece without anything in it: its sizes as far as they go, and why it cannot be built."""
        return PieceDesign(
            path=self.path,
            kind=kind,
            title=title,
            width=width,
            depth=depth,
            height=height,
            sizes=self.led.sizes,
            findings=tuple(self.findings),
            place=self.place,
        )

    def finish(self, *, kind: str, title: str, width: float, depth: float, height: float) -> PieceDesign:
        """Resolve every joint in order and return the piece."""
        fasteners: list[Fastener] = []
        driven: list[Box] = []
        clearance = self.practice["fastener.clearance"]
        tunnels: list[tuple[str, Box]] = []
        site = Site(
            placed=self._placed,
            keepouts=tuple(self.keepouts),
            driven=driven,
            practice=self.practice,
            tunnels=tunnels,
        )
        cuts = {path: list(f) for path, f in self._cuts.items()}
        for joint, detail in self._joints:
            result = detail.resolve(joint, site)
            fasteners.extend(result.fasteners)
            driven.extend(fastener_box(f, clearance) for f in result.fasteners)
            tunnels.extend(result.tunnels)
            self.findings.extend(replace(f, place=self.place) for f in result.findings)
            for path, feature in result.features:
                cuts.setdefault(path, []).append(feature)
        surplus = self.practice["fit.cut_over"]
        placed = tuple(with_surplus(_with_cuts(p, tuple(cuts.get(p.path, ()))), surplus) for p in self._placed.values())
        return PieceDesign(
            path=self.path,
            kind=kind,
            title=title,
            width=width,
            depth=depth,
            height=height,
            placed=placed,
            joints=tuple(j for j, _ in self._joints),
            fasteners=tuple(fasteners),
            keepouts=tuple(self.keepouts),
            chains=tuple(self.chains),
            fits=tuple(self.fits),
            motions=tuple(self.motions),
            steps=named_by_number(_with_what_is_made(self.steps, placed)),
            sizes=self.led.sizes,
            findings=tuple(self.findings),
            bought=tuple(self.bought),
            excluded=tuple(self.excluded),
            cells=self.cells,
            place=self.place,
        )


def _with_what_is_made(steps: list[Step], placed: tuple[Placed, ...]) -> tuple[Step, ...]:
    """Return the steps with those joints and parts alone, of the ones named, that have something made at assembly.

    A step that names joints and no parts makes what all parts have of them.
    """
    made = [
        (f.joint, p.path)
        for p in placed
        if isinstance(p.thing, Part)
        for f in p.thing.features
        if f.made_at is MadeAt.ASSEMBLY
    ]
    out = []
    for step in steps:
        here = [(j, p) for j, p in made if j in step.makes and (not step.made_in or p in step.made_in)]
        makes, parts = (tuple(dict.fromkeys(names)) for names in ((j for j, _ in here), (p for _, p in here)))
        out.append(replace(step, makes=makes, made_in=parts))
    return tuple(out)


def _less_bands(box: tuple[Span, Span, Span], ways: list[str], thickness: float) -> tuple[Span, Span, Span]:
    """Return the box of the blank that bands on these sides bring up to the given one."""
    spans = [list(s) for s in box]
    for way in ways:
        axis = next(i for i in range(3) if DIRECTIONS[way][i])
        high = DIRECTIONS[way][axis] > 0
        spans[axis][high] += -thickness if high else thickness
    return (spans[0][0], spans[0][1]), (spans[1][0], spans[1][1]), (spans[2][0], spans[2][1])


def _bands(bare: Placed, ways: list[str], band: EdgeBand) -> tuple[Band, ...]:
    faces = sorted((bare.face_towards(DIRECTIONS[way]) for way in ways), key=lambda f: f.value)
    return tuple(Band(face=face, item=band.id, thickness=band.thickness) for face in faces)


def _with_cuts(placed: Placed, cuts: tuple[Feature, ...]) -> Placed:
    if not cuts or not isinstance(placed.thing, Part):
        return placed
    return replace(placed, thing=replace(placed.thing, features=placed.thing.features + cuts))
