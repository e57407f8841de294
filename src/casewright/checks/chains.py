"""Sizes in a row fill their total, and what goes into something has its play."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.findings import Finding, Severity

SOURCE = "arithmetic: the links of a chain add up to its total"
LIMIT = 1e-4  # mm: the rounding of records over a few dozen links


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each chain that does not sum and each fit outside its limits."""
    piece = subject.piece
    for chain in piece.chains:
        if abs(chain.error) > LIMIT:
            links = " + ".join(f"{i.name} {i.value:.2f}" for i in chain.items)
            yield subject.finding(
                code="chain.sum",
                severity=Severity.STOP,
                path=chain.id,
                value=abs(chain.error),
                limit=LIMIT,
                source=SOURCE,
                message=f"{links} misses {chain.total.name} {chain.total.value:.2f} mm",
                remedy=f"let {chain.absorber} take up the difference",
            )
    for fit in piece.fits:
        if not fit.least - LIMIT <= fit.play <= fit.most + LIMIT:
            tight = fit.play < fit.least
            yield subject.finding(
                code="chain.fit",
                severity=Severity.STOP,
                path=fit.id,
                value=fit.play,
                limit=fit.least if tight else fit.most,
                source=fit.source or SOURCE,
                message=f"{fit.insert.name} has {fit.play:.2f} mm of play in {fit.housing.name}",
                remedy="make the inner one smaller" if tight else "make the inner one larger",
            )


CHECK = Check(
    code="chain",
    what="chains of sizes add up and fits have their play",
    needs=("chains", "fits"),
    source=SOURCE,
    run=run,
)
