"""The body of a case: the box that everything else hangs on, with the sizes that blocks share."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.draft import Draft
from casewright.design.sites import Span, centred
from casewright.findings import Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Outer sizes of carcass and face frame without top, mouldings and feet; mm, piece frame.

    `frame` is the face frame's thickness (the carcass begins behind it), `side` and `back` measured sheet
    thicknesses, `z0` and `z1` underside and upper edge of the sides. `post` is the section of corner posts, 0 without:
    they stand out beyond the sides, whose inner faces are flush with theirs. `reveal` is how far the outer stiles stand
    out beyond the sides. `back_on`: the back lies on the rear
    edges of the sides.
    """

    width: float
    depth: float
    z0: float
    z1: float
    frame: float
    side: float
    back: float
    back_in: float = 0.0
    post: float = 0.0
    back_on: bool = False
    reveal: float = 0.0

    @property
    def outer(self) -> float:
        """Width over the sides, or over what stands out beyond them: stiles, corner posts."""
        return self.width + 2 * (max(0.0, self.post - self.side) if self.post else self.reveal)

    @property
    def side_y(self) -> Span:
        """The sides from front to back: behind the frame, or between the corner posts; to a back that is set on."""
        if self.post:
            return (self.post, self.depth - self.post)
        return (self.frame, self.inner_back if self.back_on else self.depth)

    @property
    def height(self) -> float:
        """Height of the sides."""
        return self.z1 - self.z0

    @property
    def inside(self) -> float:
        """Between the sides."""
        return self.width - 2 * self.side

    @property
    def x(self) -> Span:
        """Outer span across."""
        return centred(self.width)

    @property
    def inner_back(self) -> float:
        """Where the back's inner face lies."""
        return self.depth - self.back_in - self.back

    @property
    def outer_back(self) -> float:
        """Where the back's outer face lies."""
        return self.depth - self.back_in


def side_x(sign: int, outer: float, thickness: float) -> Span:
    """Return the span of something `thickness` thick whose outer face lies `outer` from the middle; sign −1 is left."""
    return (-outer, -outer + thickness) if sign < 0 else (outer - thickness, outer)


HANDS = ((-1, "left"), (1, "right"))


def hand_of(sign: int) -> str:
    """Return the name of a side."""
    return "left" if sign < 0 else "right"


def let_body(
    d: Draft,
    *,
    width: float,
    depth: float,
    foot_height: float,
    height: float,
    frame: float,
    side: float,
    back: float,
    back_in: float = 0.0,
    post: float = 0.0,
    back_on: bool = False,
    reveal: float = 0.0,
) -> Body:
    """Record the body's sizes; overall sizes and overhangs must be in the ledger already.

    `back_in` is how far the back stands in from the rear edges of the sides, mm (skirting), `post` the section of
    corner posts, `back_on` whether the back lies on the rear edges of the sides, `reveal` how far the outer stiles
    stand proud of the sides.
    """
    body_width = d.let(
        "body.width", width, "overall.width", "top.overhang_side", rule="overall width less both overhangs of the top"
    )
    body_depth = d.let(
        "body.depth",
        depth,
        "overall.depth",
        "top.overhang_front",
        "top.overhang_back",
        "fronts.projection",
        rule="overall depth less the top's overhangs",
    )
    z0 = d.let("foot.height", foot_height, rule="floor to the underside of the body, levellers at their middle setting")
    body_height = d.let(
        "body.height",
        height,
        "overall.height",
        "top.thickness",
        "foot.height",
        rule="overall height less top and feet",
    )
    d.let("frame.thickness", frame, rule="face frame, planed")
    d.let("side.thickness", side, rule="case sheet as measured")
    d.let("back.thickness", back, rule="back sheet as measured")
    d.let(
        "inside.width", body_width - 2 * side, "body.width", "side.thickness", rule="body less both sides as measured"
    )
    d.chain(
        "chain.height",
        "z",
        "overall.height",
        ("foot.height", "body.height", "top.thickness"),
        "overall.height",
        0.0,
        1e4,
    )
    d.chain(
        "chain.width", "x", "body.width", ("side.thickness", "inside.width", "side.thickness"), "body.width", 0.0, 1e4
    )
    return Body(
        width=body_width,
        depth=body_depth,
        z0=z0,
        z1=z0 + body_height,
        frame=frame,
        side=side,
        back=back,
        back_in=back_in,
        post=post,
        back_on=back_on,
        reveal=reveal,
    )


def frame_reveal(d: Draft, ordered: float | None, framed: bool, wrapped: str, most: float) -> float:
    """Settle how far outer stiles stand proud of the sides, mm; `wrapped` says what lies around the corner, or "".

    `most` is what a stile is wider than the side behind it. Common practice: flush where a moulding wraps the corner,
    else proud, or flush with the seam chamfered. Finds an order that asks for a reveal where there can be none.
    """
    if framed and not wrapped:
        reveal = d.practice["frame.reveal"] if ordered is None else ordered
        if reveal > 0:
            d.let("frame.reveal", reveal, rule="as ordered, or practice: stiles stand proud of the sides")
        if reveal > most:
            d.find(
                "frame.reveal",
                Severity.STOP,
                "frame_reveal",
                f"stiles {reveal:.1f} mm proud of the sides do not cover them",
                value=reveal,
                limit=most,
                source="common practice: the stile is glued on the whole edge of its side",
                remedy="a smaller reveal, or wider stiles",
            )
        return reveal
    if ordered:
        d.find(
            "frame.reveal",
            Severity.STOP,
            "frame_reveal",
            f"no stiles stand proud of the sides: {wrapped or 'there is no face frame'}",
            value=ordered,
            limit=0.0,
            source="common practice: flush where something wraps the corner",
            remedy="frame_reveal = 0, or no mouldings and a face frame",
        )
    return 0.0


def large_enough(d: Draft, width: float, depth: float, height: float) -> bool:
    """True where a body of these sizes (mm) can be built at all; else it is found too small."""
    least = d.practice["body.least"]
    for name, value in (("width", width), ("depth", depth), ("height", height)):
        if value < least:
            d.find(
                "body.too_small",
                Severity.STOP,
                name,
                f"the body would be {value:.1f} mm in {name}",
                value=value,
                limit=least,
                remedy=f"order a larger {name}",
            )
            return False
    return True
