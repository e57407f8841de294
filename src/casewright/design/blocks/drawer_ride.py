"""What a drawer runs on, and what that asks of its box: width, room below and above, depth, height of the bottom.

Common practice; each slide's own figures are its stock record's, and its maker's sheet decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, TypeVar

from casewright.design.blocks.body import Body
from casewright.design.blocks.drawer_spec import DrawerSpec, Guidance
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.findings import Finding, Severity
from casewright.stock.fittings import UnderSlide
from casewright.stock.model import Slide, Stick


class _Bearing(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def length(self) -> float: ...
    @property
    def load(self) -> float: ...


S = TypeVar("S", bound=_Bearing)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ride:
    """What carries a drawer and what its box must be for it, mm.

    `play` is how much narrower than the opening the box is, between `play_least` and `play_most`; `below` and `above`
    are the room under and over it, `depth` its depth, `height_least` its least height, `groove_up` where its bottom's
    groove begins. The carrier starts `set_back` behind the box front and is `length` long.
    """

    play: float
    play_least: float
    play_most: float
    play_rule: str
    play_source: str
    below: float
    above: float
    depth: float
    depth_rule: str
    height_least: float
    groove_up: float
    set_back: float
    length: float
    travel: float
    side: Slide | None = None
    under: UnderSlide | None = None
    runner: Stick | None = None
    wear: Stick | None = None


def strip_size(stick: Stick) -> tuple[float, float]:
    """Return (width, thickness) of a stick that lies flat, mm."""
    across = [max(v[i] for v in stick.section) - min(v[i] for v in stick.section) for i in (0, 1)]
    return max(across), min(across)


def choose_ride(
    d: Draft, kit: Kit, body: Body, spec: DrawerSpec, g: str, behind: float, wood: float, bottom: float
) -> Ride | None:
    """Return what carries a drawer whose box starts at y `behind` and has sides `wood` and a bottom `bottom` thick.

    Records a finding and returns None where nothing in stock does.
    """
    room = body.inner_back - d.practice["slide.behind"] - behind
    if spec.guidance is Guidance.UNDER_MOUNT:
        return _under_mount(d, kit, spec, g, body.inner_back - behind, wood, bottom)
    if spec.guidance is Guidance.RUNNERS:
        return _runners(d, kit, body, spec, g, room, behind)
    return _side_mount(d, kit, spec, g, room)


def _side_mount(d: Draft, kit: Kit, spec: DrawerSpec, g: str, room: float) -> Ride | None:
    p = d.practice
    family = kit.slides()
    slide = _longest(d, g, spec, family, [s for s in family if s.set_back + s.length <= room], room)
    if slide is None:
        return None
    _let_length(d, g, slide.length, "slide")
    return Ride(
        play=2 * p["drawer.side_clearance"],
        play_least=2 * slide.clearance,
        play_most=2 * slide.clearance_most,
        play_rule="room of both slides: aim of 25.4 to 27.0 mm",
        play_source="ball-bearing side-mount slides, 12.7 mm a side (common practice; fact book §8)",
        below=p["drawer.below"],
        above=p["drawer.above"],
        depth=slide.set_back + slide.length,
        depth_rule="as long as the slide",
        height_least=slide.height + p["drawer.over_slide"],
        groove_up=p["drawer.groove_up"],
        set_back=slide.set_back,
        length=slide.length,
        travel=slide.travel,
        side=slide,
    )


def _under_mount(
    d: Draft, kit: Kit, spec: DrawerSpec, g: str, inside: float, wood: float, bottom: float
) -> Ride | None:
    p = d.practice
    family = kit.all("under_slide", UnderSlide)
    slide = _longest(d, g, spec, family, [s for s in family if s.depth_least <= inside], inside)
    if slide is None or not _suits(d, g, slide, wood, bottom):
        return None
    _let_length(d, g, slide.length, "slide")
    return Ride(
        play=slide.inside_less - 2 * wood,
        play_least=slide.inside_less - 2 * wood - p["under.width_play"],
        play_most=slide.inside_less - 2 * wood + p["under.width_play"],
        play_rule=f"under-mount slides: inside = opening − {slide.inside_less:g} mm, so less two sides",
        play_source=slide.source,
        below=slide.below,
        above=slide.above,
        depth=slide.length,
        depth_rule="as long as the slide: its hook holds the back",
        height_least=slide.recess + bottom + p["drawer.inside_least"],
        groove_up=slide.recess,
        set_back=slide.set_back,
        length=slide.length,
        travel=slide.travel,
        under=slide,
    )


def _suits(d: Draft, g: str, slide: UnderSlide, wood: float, bottom: float) -> bool:
    if wood > slide.side_most:
        d.find(
            "drawer.side_thick",
            Severity.STOP,
            g,
            f"under-mount slides take sides up to {slide.side_most:g} mm, these are {wood:.1f} mm",
            value=wood,
            limit=slide.side_most,
            source=slide.source,
            remedy="thinner stock for the role drawer_side, or side-mount slides",
        )
        return False
    # The slide's hook goes into the back right above the bottom.
    most = slide.hook_up - slide.hook_diameter / 2
    if bottom > most:
        d.find(
            "drawer.bottom_thick",
            Severity.STOP,
            g,
            f"the hooks of under-mount slides would meet a bottom {bottom:.1f} mm thick",
            value=bottom,
            limit=most,
            source=slide.source,
            remedy="a thinner bottom for the role drawer_bottom, or side-mount slides",
        )
        return False
    return True


def _runners(d: Draft, kit: Kit, body: Body, spec: DrawerSpec, g: str, room: float, behind: float) -> Ride | None:
    p = d.practice
    stick = kit.stick("drawer_runner")
    wear = _wear_strip(d, kit, g, stick)
    high = strip_size(stick)[1]
    stop = high if spec.lies.inset else 0.0
    if room - stop < p["runner.depth_least"]:
        d.find(
            "drawer.too_shallow",
            Severity.STOP,
            g,
            f"the case leaves {room - stop:.1f} mm for the depth of the box",
            value=room - stop,
            limit=p["runner.depth_least"],
            source="common practice: practice runner.depth_least",
            remedy="make the case deeper",
        )
        return None
    depth = room - stop
    return Ride(
        play=2 * p["runner.side_clearance"],
        play_least=2 * 1.0,
        play_most=2 * 1.6,
        play_rule="1.0 to 1.6 mm of play on each side, between the guides",
        play_source="drawers on wooden runners, 1.0–1.6 mm a side (common practice)",
        below=high + (strip_size(wear)[1] if wear is not None else 0.0),
        above=high + p["runner.above"],
        depth=depth,
        depth_rule="what the case leaves before the stop",
        height_least=p["drawer.groove_up"] + p["drawer.inside_least"],
        groove_up=p["drawer.groove_up"],
        set_back=0.0,
        length=body.inner_back - p["slide.behind"] - max(body.frame, behind),
        travel=depth * p["runner.out_share"],
        runner=stick,
        wear=wear,
    )


def _wear_strip(d: Draft, kit: Kit, g: str, stick: Stick) -> Stick | None:
    """Return the strip that goes on a runner of soft wood, which would wear hollow; a warning where it is soft too."""
    least, hard = d.practice["runner.hardness"], _hardness(kit, stick)
    if hard >= least:
        return None
    strip = kit.stick("edging")
    if _hardness(kit, strip) < least:
        d.find(
            "drawer.runner_soft",
            Severity.WARN,
            f"{g}.runner.left",
            f"{stick.name} and {strip.name} are soft: a drawer wears them hollow",
            source="side hardness of the species (Wood Handbook Ch. 5); the limit is common practice",
            remedy="runners or edging of a harder wood",
        )
    return strip


def _hardness(kit: Kit, stick: Stick) -> float:
    """Return the side hardness of a stick, N; 0 where its species or the figure is not known."""
    try:
        return kit.sizes.species(stick).side_hardness or 0.0
    except KeyError:
        return 0.0


def _longest(d: Draft, g: str, spec: DrawerSpec, family: tuple[S, ...], fits: list[S], room: float) -> S | None:
    """Return the longest slide that fits and bears the load, or None with a finding."""
    if not fits:
        d.find(
            "drawer.no_slide",
            Severity.STOP,
            g,
            f"no slide in stock fits a depth of {room:.1f} mm",
            value=room,
            limit=min(s.length + getattr(s, "set_back", 0.0) for s in family),
            source="common practice",
            remedy="make the case deeper or stock a shorter slide",
        )
        return None
    strong = [s for s in fits if s.load >= spec.load]
    if not strong:
        d.findings.append(
            Finding(
                code="drawer.load",
                severity=Severity.STOP,
                path=d.full(g),
                message=f"the slides that fit bear {max(s.load for s in fits):g} kg, the drawer {spec.load:g} kg",
                value=spec.load,
                limit=max(s.load for s in fits),
                unit="kg",
                source="load of a pair of slides, from the stock's record",
                remedy="stronger slides, a smaller drawer, or a lighter load",
                place=d.place,
            )
        )
        return None
    return max(strong, key=lambda s: (s.length, s.id))


def _let_length(d: Draft, g: str, length: float, what: str) -> None:
    because = ("body.depth", "back.thickness", f"{g}.front.thickness")
    d.let(f"{g}.{what}.length", length, *because, rule="the longest in stock that fits behind the front")
