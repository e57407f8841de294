"""The shell of a case: sides, bottom, what ties them above, and what stands between them in a grid.

Common practice. Sides run the full body height; everything else stands between them and ends at the back. With a
face frame the shell begins behind it; without one its front edges are banded and lie at y = 0, bands included.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.blanks import GlueUp
from casewright.design.blocks.bays import Level
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size
from casewright.design.blocks.held import How, hold, pocket_ends
from casewright.design.draft import Draft, Material
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, PartKind, Placed
from casewright.design.sites import Span, centred, span
from casewright.findings import Severity
from casewright.stock.fittings import EdgeBand

POCKET_HALF = 6.0  # mm: half a pocket hole, and a little (common practice: 9.5 mm drills)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """What every part of the shell needs to know; lengths in mm.

    `floor` is the upper face of the bottom, `wood` what the case is made of. `band` is None behind a face frame, and
    on solid wood or fibreboard. `covered` says that a top lies over the
    case, so that stretchers tie the sides and nobody sees screws through them; else a panel closes it between them;
    `hidden_below` that nobody sees the underside of the bottom. Under a `lid`
    the case is open, and only a rear stretcher ties the sides. The front stretcher reaches back at least to
    `front_reach` (y), so that it is held behind what is cut out of it. A `middle_tie` is a third stretcher, on which a
    top stays put.
    """

    d: Draft
    kit: Kit
    body: Body
    floor: float
    band: EdgeBand | None
    covered: bool
    finish: str
    wood: Wood
    hidden_below: bool = True
    lid: bool = False
    front_reach: float = 0.0
    middle_tie: bool = False

    @property
    def framed(self) -> bool:
        """True with a face frame."""
        return self.body.frame > 0

    @property
    def material(self) -> Material:
        """What it is made of."""
        return self.wood.material

    @property
    def front_shows(self) -> str:
        """The direction of the front edges of its parts where they show, nothing behind a face frame."""
        return "" if self.framed else "front"

    def glued_up(self, width: float) -> tuple[GlueUp | None, Allowance]:
        """Return how a solid part of a width is glued up, and what it keeps over until it is flattened."""
        made_of = glue_up(self.wood, width, self.d.practice)
        return made_of, over_size(made_of, self.d.practice)

    @property
    def thick(self) -> float:
        """Of the case sheet, as measured."""
        return self.body.side

    @property
    def y(self) -> Span:
        """From the front edge, its band included, to the back."""
        return (self.body.frame, self.body.inner_back)

    @property
    def low(self) -> Level:
        """The bottom, from above."""
        return Level(name="bottom", face=self.floor)

    @property
    def high(self) -> Level:
        """What ties the sides above, from below."""
        name = "stretcher.rear" if self.lid else "stretcher.front" if self.covered else "top_panel"
        return Level(name=name, face=self.body.z1 - self.thick)

    def panel(
        self,
        name: str,
        label: str,
        x: Span,
        z: Span,
        *,
        thick: str,
        sizes: tuple[str, str],
        shows: str = "",
        kind: PartKind = PartKind.OTHER,
    ) -> Placed:
        """Place an upright (thick "x") or a level panel (thick "z") of full depth."""
        made_of, rough = self.glued_up(self.y[1] - self.y[0])
        return self.d.box_part(
            name,
            label,
            self.material,
            x,
            self.y,
            z,
            grain="z" if thick == "x" else "x",
            thick=thick,
            shows=f"{shows} {self.front_shows}",
            coated=_inner(thick, shows),
            rough=rough,
            made_of=made_of,
            sizes=(sizes[0], sizes[1], "side.thickness"),
            band=self.band,
            banded="front",
            kind=kind,
        )


def _inner(thick: str, shows: str) -> str:
    faces = ("left", "right") if thick == "x" else ("down", "up")
    return " ".join(f for f in faces if f not in shows.split())


def shell(s: Shell) -> bool:
    """Place sides, bottom, ties, and the rail behind the space under a raised bottom; True where they stand."""
    d, body, t = s.d, s.body, s.thick
    _sides(s)
    d.let("bottom.length", body.inside, "inside.width", rule="between the sides")
    band = s.band.thickness if s.band is not None else 0.0
    d.let("edge.band", band, rule="thickness of the band on front edges, 0 behind a face frame")
    d.let(
        "bottom.width",
        s.y[1] - s.y[0] - band,
        "body.depth",
        "frame.thickness",
        "back.thickness",
        "edge.band",
        rule="from the front to the back, which is set in, less the band",
    )
    x = centred(d.led["bottom.length"])
    bottom = s.panel(
        "bottom",
        "bottom",
        x,
        (s.floor - t, s.floor),
        thick="z",
        sizes=("bottom.length", "bottom.width"),
        shows="up" if s.hidden_below else "up down",
        kind=PartKind.CASE,
    )
    if s.hidden_below:
        _tie(s, bottom, "down")
    else:
        _dowelled(s, bottom)
    if s.covered or s.lid:
        if not _stretchers(s, x):
            return False
    else:
        top = s.panel(
            "top_panel",
            "top panel",
            x,
            (body.z1 - t, body.z1),
            thick="z",
            sizes=("bottom.length", "bottom.width"),
            shows="up down",
        )
        _dowelled(s, top)
    _base_rail(s, x)
    return True


def _sides(s: Shell) -> None:
    d, body = s.d, s.body
    d.let("side.length", body.height, "body.height", rule="sides run the full body height")
    band = s.band.thickness if s.band is not None else 0.0
    d.let(
        "side.width",
        body.side_y[1] - body.side_y[0] - band,
        "body.depth",
        "frame.thickness",
        *(("back.thickness",) if body.back_on else ()),
        rule="from the front to the body's back, or between corner posts, less the band",
    )
    made_of, rough = s.glued_up(body.side_y[1] - body.side_y[0])
    # Without a top over them the upper ends are in sight, and on a wall the lower ones: sealed with the rest.
    ends = ("" if s.covered or s.lid else " up") + ("" if s.hidden_below else " down")
    for sign, hand in HANDS:
        d.box_part(
            f"side.{hand}",
            f"{hand} side",
            s.material,
            side_x(sign, body.width / 2, s.thick),
            body.side_y,
            span(body.z0, d.led["side.length"]),
            grain="z",
            thick="x",
            shows=f"{hand} {s.front_shows}",
            coated=f"{'right' if hand == 'left' else 'left'}{ends}",
            rough=rough,
            made_of=made_of,
            sizes=("side.length", "side.width", "side.thickness"),
            band=s.band,
            banded="front",
            kind=PartKind.CASE,
        )


def _towards() -> tuple[tuple[str, float], ...]:
    return tuple((hand, float(sign)) for sign, hand in HANDS)


def _tie(s: Shell, part: Placed, opens: str, glued: bool = True) -> None:
    """Join a part that stands between the sides to both."""
    for hand, _ in _towards():
        hold(s.d, s.kit, part, s.d.at(f"side.{hand}"), hand, How.POCKETS, opens=opens, glued=glued)


def _dowelled(s: Shell, part: Placed) -> None:
    """Join a part that stands between the sides to both, where both of its faces show."""
    for hand, _ in _towards():
        hold(s.d, s.kit, part, s.d.at(f"side.{hand}"), hand, How.DOWELS)


def closes_above(d: Draft) -> Placed:
    """Return what ties the sides at the upper rear of a case: its top panel, or the rear stretcher under a top."""
    return d.at("top_panel" if d.has("top_panel") else "stretcher.rear")


def _stretchers(s: Shell, x: Span) -> bool:
    d, body, p = s.d, s.body, s.d.practice
    d.let("stretcher.length", body.inside, "inside.width", rule="between the sides")
    share = 5 if s.middle_tie else 3
    wide = d.let(
        "stretcher.width",
        min(p["stretcher.width"], (s.y[1] - s.y[0]) / share),
        rule="practice: room for the top's screws",
    )
    between = centred(wide, (s.y[0] + s.y[1]) / 2)
    z = (body.z1 - s.thick, body.z1)
    front = "stretcher.width"
    if s.front_reach - s.y[0] > wide:
        front = "stretcher.front_width"
        reach = min(s.front_reach - s.y[0], s.y[1] - s.y[0] - wide)
        d.let(front, reach, "stretcher.width", rule="wide enough to hold screws behind a let-in device")
    ties = (
        ("front", span(s.y[0], d.led[front]), "front", front),
        *((("middle", between, "", "stretcher.width"),) if s.middle_tie else ()),
        ("rear", (s.y[1] - wide, s.y[1]), "", "stretcher.width"),
    )
    if s.middle_tie and not middle_free(d, ties[0][1][1], between[0]):
        return False
    for name, y, banded, size in ties[-1:] if s.lid else ties:
        part = d.box_part(
            f"stretcher.{name}",
            f"{name} stretcher",
            s.material,
            x,
            y,
            z,
            grain="x",
            thick="z",
            shows=s.front_shows if name == "front" else "",
            coated="down",
            sizes=("stretcher.length", "" if banded and s.band is not None else size, "side.thickness"),
            band=s.band if banded else None,
            banded=banded,
            kind=PartKind.CASE,
        )
        # Under a top the pockets may look up: the screws then slant away from the ends of solid sides, which split.
        _tie(s, part, "up" if s.wood.solid and s.covered else "down")
        _pockets_clear(s, part, x, y, z)
    return True


def middle_free(d: Draft, front_to: float, middle_from: float) -> bool:
    """True where the front stretcher ends (y, mm) before the one in the middle begins; else it is found."""
    if front_to <= middle_from + 1e-6:
        return True
    d.find(
        "top.fixed",
        Severity.STOP,
        "top.fixed",
        "behind what is let into the top the front stretcher reaches over the middle of the case",
        value=front_to,
        limit=middle_from,
        source="common practice: what holds the top round a cut-out",
        remedy='top.fixed = "front" or "rear", or the device nearer to the front',
    )
    return False


def _pockets_clear(s: Shell, part: Placed, x: Span, y: Span, z: Span) -> None:
    """Keep the top's screws out of the pockets at both ends of a stretcher."""
    d = s.d
    reach = d.practice["pocket.reach"]
    # The first pocket stands well behind the front edge: hinges may be let in before it.
    y = (y[0] + pocket_ends(d, y[1] - y[0]) - POCKET_HALF, y[1])
    sides = [d.at(f"side.{hand}") for hand, _ in _towards()]
    name = part.path.removeprefix(d.path + "/")
    for hand, (a, b) in (("left", (x[0], x[0] + reach)), ("right", (x[1] - reach, x[1]))):
        d.keep_out(f"{name}.pockets.{hand}", (a, y[0], z[0]), (b, y[1], z[1]), *sides, of=(part,))


def _base_rail(s: Shell, x: Span) -> None:
    """A rail on edge under the rear of a raised bottom: it carries the bottom, and corner blocks."""
    d, body, t = s.d, s.body, s.thick
    height = s.floor - t - body.z0
    if height < d.practice["base_rail.least"] or body.post:
        return
    d.let("base_rail.length", body.inside, "inside.width", rule="between the sides")
    d.let("base_rail.width", height, "side.thickness", rule="from the underside of the body to the bottom")
    rail = d.box_part(
        "base_rail",
        "rear base rail",
        s.material,
        x,
        (s.y[1] - t, s.y[1]),
        span(body.z0, height),
        grain="x",
        thick="y",
        sizes=("base_rail.length", "base_rail.width", "side.thickness"),
    )
    # On edge between solid sides it moves along their grain: screws alone.
    _tie(s, rail, "front", glued=not s.wood.solid)
