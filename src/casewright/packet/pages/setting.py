"""What every page of a packet shares: paper, who and what it is for, and how things are printed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from casewright.design.assembly import PieceDesign
from casewright.findings import Finding, Severity
from casewright.packet.drawing.conventions import CONVENTIONS, SYMBOL, Convention, projection_symbol
from casewright.packet.drawing.primitives import Picture
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.part_sizes import ByName, printed_of
from casewright.packet.parts_list import PartRow, parts_list
from casewright.packet.printed import Printer
from casewright.packet.twins import twins_among
from casewright.project import Project
from casewright.units.grid import key_of

PaperName = Literal["letter", "a4"]
MARGIN = 15.0  # mm, left and right
HEAD, FOOT = 17.0, 17.0  # mm, room above and below what a page shows


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A paper size by the name that typst gives it, mm."""

    name: str
    width: float
    height: float

    @property
    def inside(self) -> tuple[float, float]:
        """Width and height of what a page can show, upright."""
        return (self.width - 2 * MARGIN, self.height - HEAD - FOOT)

    @property
    def inside_lying(self) -> tuple[float, float]:
        """Width and height of what a page can show when it lies on its side."""
        return (self.height - 2 * MARGIN, self.width - HEAD - FOOT)


PAPERS: dict[str, Paper] = {
    "letter": Paper(name="us-letter", width=215.9, height=279.4),  # ANSI/ASME Y14.1 size A
    "a4": Paper(name="a4", width=210.0, height=297.0),  # ISO 216
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFrame:
    """The head and foot of every page, as texts."""

    paper: str
    title: str
    client: str
    shop: str
    due: str
    date: str
    revision: str
    units: str
    state: str
    projection: str
    symbol: Drawing  # of the projection
    draft: bool


NOTHING = Drawing(svg="", width=0.0, height=0.0, alt="", texts=())
UNFRAMED = PageFrame(
    paper="", title="", client="", shop="", due="", date="", revision="", units="", state="", projection="",
    symbol=NOTHING, draft=False,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What a page's context is made from."""

    project: Project
    printer: Printer
    paper: Paper
    frame: PageFrame
    rows: tuple[PartRow, ...]
    printed: Mapping[str, ByName]  # ledger sizes as printed, by piece path and name
    twins: Mapping[str, PieceDesign]  # by the path of each piece that mirrors an earlier one, that one

    @property
    def pieces(self) -> tuple[PieceDesign, ...]:
        """Pieces that could be built."""
        return tuple(p for p in self.project.assembly.pieces if p.placed)

    @property
    def shown_whole(self) -> tuple[PieceDesign, ...]:
        """Pieces that the drawings show whole: of a pair the first."""
        return tuple(p for p in self.pieces if p.path not in self.twins)

    def marks_of(self, piece: PieceDesign) -> dict[str, str]:
        """Return the mark of each part of a piece, by path."""
        marks = ((placed.path, self.project.mark_of(placed)) for placed in piece.placed)
        return {path: mark.label for path, mark in marks if mark is not None}


def setting_of(project: Project, paper: PaperName, date: str, draft: bool) -> Setting:
    """Return the setting of a project's pages; `date` is printed as it is given."""
    printer, convention = Printer(project.style), CONVENTIONS[paper]
    frame = PageFrame(
        paper=PAPERS[paper].name,
        title=project.order.title,
        client=project.order.client,
        shop=project.shop.name,
        due=project.order.due,
        date=date,
        revision=revision(project),
        units=printer.division,
        state=findings_state(project.findings),
        projection=projection_words(convention),
        symbol=_symbol(convention),
        draft=draft,
    )
    return replace(unframed_setting(project, paper), frame=frame)


def unframed_setting(project: Project, paper: PaperName) -> Setting:
    """Return the setting of a project's drawings, which need no head or foot: nothing is laid out for it."""
    return Setting(
        project=project,
        printer=Printer(project.style),
        paper=PAPERS[paper],
        frame=UNFRAMED,
        rows=parts_list(project),
        printed=printed_of(project.assembly.pieces, project.style),
        twins=twins_among(tuple(p for p in project.assembly.pieces if p.placed)),
    )


def projection_words(convention: Convention) -> str:
    """Return the angle of projection in words."""
    return "third angle projection" if convention.third_angle else "first angle projection"


def _symbol(convention: Convention) -> Drawing:
    items = projection_symbol(convention, (0.3, 0.5))
    return drawing_of(Picture(SYMBOL[0] + 0.6, SYMBOL[1] + 1.0, items, projection_words(convention)))


def revision(project: Project) -> str:
    """Return a short key of what the packet is made from: it changes when the order or the shop does."""
    order, shop = project.order, project.shop
    return key_of(order, shop.practice, shop.sizes, shop.machines, project.style)[:6]


def findings_state(findings: tuple[Finding, ...]) -> str:
    """Return the state of the findings in a few words, for the foot of a page."""
    words = {Severity.STOP: "stop", Severity.WARN: "warning", Severity.NOTE: "note"}
    shown = []
    for accepted in (False, True):
        found = Counter(f.severity for f in findings if bool(f.accepted) is accepted)
        said = " accepted" if accepted else ""
        shown += [f"{n} {words[s]}{'s' * (n > 1)}{said}" for s in Severity if (n := found[s])]
    return "findings: " + (", ".join(shown) if shown else "none")
