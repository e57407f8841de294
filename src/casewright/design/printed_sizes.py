"""The sizes of a piece as they are printed, chosen so that a piece made from them still fits.

Each size is rounded by its role (housing up, insert down, free to the nearest division). Where that breaks a
fit or drives a chain's absorber out of its limits, the inner size moves by whole divisions, and where no
division will do it is printed on a finer one. Nothing here is fed back into the design.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.design.assembly import Chain, Fit, PieceDesign
from casewright.design.ledger import Size
from casewright.units.grid import record
from casewright.units.printed import LengthStyle, Role, format_length, round_length

LIMIT = 1e-4  # mm: noise of the grid over a few dozen links
FINER = (1, 2, 4, 8)  # 1/32, 1/64, … of an inch


@record
class Printed:
    """One printed size: its value in mm and the style that prints it exactly."""

    name: str
    value: float
    style: LengthStyle

    @property
    def text(self) -> str:
        """The size as it stands on the page."""
        return format_length(self.value, Role.FREE, self.style)


def printed_sizes(piece: PieceDesign, style: LengthStyle) -> dict[str, Printed]:
    """Return every ledger size of a piece as printed in a style, by name.

    Raises ValueError where a fit cannot be kept by any rounding (the design itself breaks it).
    """
    sizes = {s.name: s for s in piece.sizes}
    chosen = {s.name: _rounded(s, style) for s in piece.sizes}
    for _ in range(2):  # a second pass for fits that share a size with a later one
        for fit in piece.fits:
            if not keeps_fit(fit, chosen):
                _mend(fit, sizes, chosen, style)
        for chain in piece.chains:
            if not keeps_chain(chain, chosen):
                _mend_chain(chain, sizes, chosen, style)
    return chosen


def keeps_fit(fit: Fit, printed: Mapping[str, Printed]) -> bool:
    """True where the fit holds between the printed sizes."""
    return _within(printed[fit.housing.name].value - printed[fit.insert.name].value + fit.allow, fit.least, fit.most)


def keeps_chain(chain: Chain, printed: Mapping[str, Printed]) -> bool:
    """True where the absorber stays in its limits when every other link is made as printed."""
    return _within(absorbed(chain, printed), chain.least, chain.most)


def absorbed(chain: Chain, printed: Mapping[str, Printed]) -> float:
    """Return what each absorbing link comes to, mm, when the others are made as printed."""
    fixed = sum(printed[i.name].value for i in chain.items if i.name != chain.absorber)
    if chain.total.name == chain.absorber:
        return fixed
    count = sum(i.name == chain.absorber for i in chain.items)
    return (printed[chain.total.name].value - fixed) / count


def _within(value: float, least: float, most: float) -> bool:
    return least - LIMIT <= value <= most + LIMIT


def _rounded(size: Size, style: LengthStyle, factor: int = 1) -> Printed:
    finer = divided(style, factor)
    return Printed(name=size.name, value=round_length(size.value, size.role, finer), style=finer)


def divided(style: LengthStyle, factor: int) -> LengthStyle:
    """Return a style whose division is a factor finer."""
    return replace(style, division=style.division * factor if style.system == "in" else style.division / factor)


@dataclass(frozen=True, slots=True)
class _Try:
    printed: Printed
    off: float


def _candidates(size: Size, style: LengthStyle) -> list[Printed]:
    """Printed forms of a size, the coarsest and nearest first."""
    out: list[Printed] = []
    for factor in FINER:
        finer = divided(style, factor)
        near = [round_length(size.value, role, finer) for role in (Role.INSERT, Role.HOUSING)]
        step = float(finer.step)
        near += [near[0] - step, near[1] + step]
        tries = [_Try(Printed(name=size.name, value=v, style=finer), abs(v - size.value)) for v in dict.fromkeys(near)]
        out += [t.printed for t in sorted(tries, key=lambda t: (t.off, t.printed.value))]
    return out


def _mend(fit: Fit, sizes: Mapping[str, Size], chosen: dict[str, Printed], style: LengthStyle) -> None:
    for name in (fit.insert.name, fit.housing.name):
        before = chosen[name]
        for candidate in _candidates(sizes[name], style):
            chosen[name] = candidate
            if keeps_fit(fit, chosen):
                return
        chosen[name] = before
    for factor in FINER[1:]:
        for name in (fit.insert.name, fit.housing.name):
            chosen[name] = _rounded(sizes[name], style, factor)
        if keeps_fit(fit, chosen):
            return
        # Housing up and insert down is too much in a narrow fit: the insert nearest to its own size, then.
        for candidate in _candidates(sizes[fit.insert.name], divided(style, factor)):
            chosen[fit.insert.name] = candidate
            if keeps_fit(fit, chosen):
                return
    raise ValueError(f"no rounding keeps {fit.id}: play {fit.play:.3f} mm in [{fit.least}, {fit.most}]")


def _mend_chain(chain: Chain, sizes: Mapping[str, Size], chosen: dict[str, Printed], style: LengthStyle) -> None:
    for link in chain.items:
        if link.name == chain.absorber:
            continue
        before = chosen[link.name]
        for candidate in _candidates(sizes[link.name], style):
            chosen[link.name] = candidate
            if keeps_chain(chain, chosen):
                return
        chosen[link.name] = before
    raise ValueError(f"no rounding keeps {chain.id}: {chain.absorber} in [{chain.least}, {chain.most}]")
