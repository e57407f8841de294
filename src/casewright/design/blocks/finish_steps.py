"""The steps of a finish: what is sanded, the coats with their waits, the rubbing out; for each part's schedule.

Common practice. Paint: edges filled and sanded, primer twice, sanded after each, then the coats. Clear: sanded, the
coats, rubbed down between them, rubbed out once hard. Stain goes on wood that is not sanded too fine, and waits;
between it and a water-borne coat lies dewaxed shellac, or the coat does not hold. Glue faces, tenons and grooves stay
bare. Grits and waits: see the finishes of the stock, whose own labels decide.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from casewright.design.assembly import Caution
from casewright.design.blocks.step_words import DUST, MDF, PAINT, RAGS, SANDING
from casewright.design.kit import Kit
from casewright.design.parts import Part
from casewright.design.sequence import Sequence
from casewright.stock.model import Finish
from casewright.stock.sundries import Need, Sanding, Sundry, needs

COUNTS = ("no", "one", "two", "three", "four", "five", "six")
BARE = "glue faces, tenons and grooves stay bare"
WATER = "water"
PRIMED = 2  # coats of primer


@dataclass(frozen=True, slots=True)
class Coat:
    """One step of a schedule: what is done, the cautions that belong beside it, and what it takes.

    `sands` with which grits, `dusted` how often it is dusted off, `wiped` how often cloths go over the whole area.
    """

    text: str
    cautions: tuple[Caution, ...]
    sands: tuple[Sanding, ...] = ()
    dusted: int = 0
    wiped: int = 0
    filled: bool = False

    @property
    def needs(self) -> tuple[Need, ...]:
        """The sundries that it takes."""
        cloths = (Sundry.CLOTHS,) if self.dusted or self.wiped else ()
        return needs(*((Sundry.FILLER,) if self.filled else ()), *cloths)


def finish_body(s: Sequence, kit: Kit) -> None:
    """Plan the finish of everything but the top."""
    fibre = kit.fibreboards()
    parts = (s.d.at(path.removeprefix(s.d.path + "/")).thing for path in s.d.under(""))
    dusty = any(isinstance(part, Part) and part.stock in fibre for part in parts)
    for coat in schedule(kit, kit.finish):
        sanded = dusty and SANDING in coat.cautions
        s.finish(coat.text, (*coat.cautions, *((MDF,) if sanded else ())), coat.needs, coat.sands)


def finish_top(s: Sequence, kit: Kit, what: str = "top") -> None:
    """Plan the finish of the top (or lid), apart from the body, all its faces alike."""
    coats = schedule(kit, kit.top_finish)
    alike = f"Finish the {what} apart, all its faces alike, so that it stays flat"
    if kit.top_finish == kit.finish:
        s.finish(
            f"{alike}: the same steps as for the rest",
            tuple(dict.fromkeys(c for k in coats for c in k.cautions)),
            tuple(dict.fromkeys(n for k in coats for n in k.needs)),
            tuple(dict.fromkeys(g for k in coats for g in k.sands)),
        )
        return
    for number, coat in enumerate(coats):
        start = f"{alike}: " if number == 0 else f"The {what}: "
        s.finish(start + coat.text[:1].lower() + coat.text[1:], coat.cautions, coat.needs, coat.sands)


def schedule(kit: Kit, finish: str) -> tuple[Coat, ...]:
    """Return the steps of a finish. Raises KitError where the shop has no such product, KeyError for no such finish."""
    return SCHEDULES[finish](kit)


def _paint(kit: Kit) -> tuple[Coat, ...]:
    primer, paint = kit.role("primer", Finish), kit.role("paint", Finish)
    count = round(kit.practice["finish.paint_coats"])
    dry = f"let it dry {hours(primer.recoat_hours)}, sand with 220"
    between = f", {hours(paint.recoat_hours)} apart, scuffed with 320 between" if count > 1 else ""
    return (
        Coat(
            "Fill the heads and the sheet edges, sand edges and faces to 180, dust off",
            (SANDING,),
            sands=_grits("180"),
            dusted=1,
            filled=True,
        ),
        Coat(
            f"Prime with {primer.name}, {dry}; prime again, {dry}, dust off; {BARE}",
            _wet(primer),
            sands=(Sanding(grit="220", times=PRIMED),),
            dusted=1,
        ),
        Coat(
            f"{_coats(count)} of {paint.name}{between}; let it harden before hardware goes on: it cures in "
            f"{paint.cure_days:.0f} days",
            _wet(paint),
            sands=_between(count, "320"),
        ),
    )


def _clear(kit: Kit) -> tuple[Coat, ...]:
    clear = kit.role("clear", Finish)
    damped = clear.carrier == WATER
    raised = "; damp it, let it dry, and take the raised grain off with 220" if damped else ""
    sanded = Coat(
        f"Sand along the grain, 120, 150, 180{raised}; dust off",
        (SANDING,),
        sands=_grits("120", "150", "180", *(("220",) if damped else ())),
        dusted=1,
    )
    return (sanded, *_clear_coats(kit, clear))


def _stained(kit: Kit) -> tuple[Coat, ...]:
    stain, clear = kit.role("stain", Finish), kit.role("clear", Finish)
    steps = [
        Coat(
            "Sand along the grain, 120, 150, 180 and no finer, or the stain does not take; dust off",
            (SANDING,),
            sands=_grits("120", "150", "180"),
            dusted=1,
        ),
        Coat(
            f"Stain with {stain.name}, tried first on a sanded offcut: wipe it on, wipe what stands off along the "
            f"grain; wait {hours(stain.recoat_hours)}; {BARE}",
            _wet(stain),
            wiped=1,
        ),
    ]
    if (barrier := barrier_under(kit)) is not None:
        steps.append(
            Coat(
                f"One thin coat of {barrier.name} over the stain, or a water-borne coat does not hold; let it dry "
                f"{hours(barrier.recoat_hours)}, rub it down lightly with 400, not through to the stain",
                _wet(barrier),
                sands=_grits("400"),
                wiped=1,
            )
        )
    return (*steps, *_clear_coats(kit, clear))


def _oil(kit: Kit) -> tuple[Coat, ...]:
    oil = kit.role("oil", Finish)
    count = round(kit.practice["finish.clear_coats"])
    between = f", {hours(oil.recoat_hours)} apart" if count > 1 else ""
    return (
        Coat(
            "Sand along the grain, 120, 150, 180, 220; dust off",
            (SANDING,),
            sands=_grits("120", "150", "180", "220"),
            dusted=1,
        ),
        Coat(
            f"{_coats(count)} of {oil.name}{between}: wipe it on, and within a quarter of an hour all off that stays "
            f"wet; {BARE}",
            _wet(oil),
            wiped=count,
        ),
        Coat(f"Buff it to its sheen once it is dry; it cures in {oil.cure_days:.0f} days", (), wiped=1),
    )


def _clear_coats(kit: Kit, clear: Finish) -> tuple[Coat, ...]:
    count = round(kit.practice["finish.clear_coats"])
    days = kit.practice["finish.rub_out_days"]
    rubbed = f", {hours(clear.recoat_hours)} apart, each but the last rubbed down with 320 to 400 and dusted off"
    return (
        Coat(
            f"{_coats(count)} of {clear.name}{rubbed if count > 1 else ''}; {BARE}",
            _wet(clear),
            sands=_between(count, "320 to 400"),
            dusted=count - 1,
        ),
        Coat(
            f"After {days:.0f} days or more, rub it out along the grain to the sheen that is wanted; it cures in "
            f"{clear.cure_days:.0f} days",
            (SANDING,),
        ),
    )


def products(kit: Kit, finish: str) -> tuple[tuple[Finish, int], ...]:
    """Return what is bought for a finish, in the order in which it goes on, and how many coats of each.

    Nothing for a finish that is none of the schedules here: a kind of piece that is added may name its own.
    """
    if finish not in SCHEDULES:
        return ()
    paint, clear = (round(kit.practice[f"finish.{kind}_coats"]) for kind in ("paint", "clear"))
    if finish == "paint":
        return ((kit.role("primer", Finish), PRIMED), (kit.role("paint", Finish), paint))
    if finish == "oil":
        return ((kit.role("oil", Finish), clear),)
    barrier = barrier_under(kit)
    under = [kit.role("stain", Finish), *([barrier] if barrier is not None else [])]
    return (*((f, 1) for f in (under if finish == "stained clear" else ())), (kit.role("clear", Finish), clear))


def barrier_under(kit: Kit) -> Finish | None:
    """Return the barrier that stain needs under the shop's clear finish, None where that is known to have no water."""
    return kit.role("barrier", Finish) if kit.role("clear", Finish).carrier in (WATER, "") else None


def _wet(product: Finish) -> tuple[Caution, ...]:
    """Return the cautions beside a coat: of oil and spirits the rags too, of no known carrier all."""
    return (PAINT, DUST) if product.carrier in (WATER, "alcohol") else (PAINT, RAGS, DUST)


def _grits(*grits: str) -> tuple[Sanding, ...]:
    return tuple(Sanding(grit=grit) for grit in grits)


def _between(coats: int, grit: str) -> tuple[Sanding, ...]:
    """Return the sanding of every coat but the last."""
    return (Sanding(grit=grit, times=coats - 1),) if coats > 1 else ()


def _coats(count: int) -> str:
    word = COUNTS[count] if count < len(COUNTS) else str(count)
    return f"{word.capitalize()} coat{'s' if count != 1 else ''}"


def hours(value: float) -> str:
    """Return a wait as it is said: below two hours in minutes, to the next five."""
    return f"{value:g} h" if value >= 2 else f"{5 * math.ceil(round(value * 12, 6))} min"


SCHEDULES: dict[str, Callable[[Kit], tuple[Coat, ...]]] = {
    "paint": _paint,
    "clear": _clear,
    "stained clear": _stained,
    "oil": _oil,
}
