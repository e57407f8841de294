"""Equal pieces of different names: a piece is designed once, under a path that stands for any, and then given its own.

While it is designed and checked, `@` stands for the piece's path: `@/side.left`. Parts have no place and no name, so
pieces that differ in name alone share every part; the features of a part go on naming their joints by `@`.
"""

from __future__ import annotations

from dataclasses import replace

from casewright.design.assembly import PieceDesign
from casewright.findings import Finding

ANY = "@"


def own_path(path: str, piece: str) -> str:
    """Return a path under `@` as a path under `piece`; any other as it is."""
    return piece + path[len(ANY) :] if path.startswith(ANY) else path


def own_finding(finding: Finding, piece: str, place: str) -> Finding:
    """Return a finding about `@` as one about `piece`, which stands at `place` in the order."""
    return replace(
        finding,
        path=own_path(finding.path, piece),
        message=finding.message.replace(f"{ANY}/", f"{piece}/"),
        related=tuple(own_path(r, piece) for r in finding.related),
        place=place,
    )


def own_piece(design: PieceDesign, piece: str, place: str) -> PieceDesign:
    """Return a design made under `@` as the design of `piece`, which stands at `place` in the order."""

    def own(path: str) -> str:
        return own_path(path, piece)

    def owns(paths: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(own_path(p, piece) for p in paths)

    return replace(
        design,
        path=own(design.path),
        place=place,
        placed=tuple(replace(p, path=own(p.path), place=place) for p in design.placed),
        joints=tuple(replace(j, id=own(j.id), a=own(j.a), b=own(j.b)) for j in design.joints),
        fasteners=tuple(
            replace(f, path=own(f.path), joint=own(f.joint), parts=owns(f.parts)) for f in design.fasteners
        ),
        keepouts=tuple(replace(k, id=own(k.id), owners=owns(k.owners), of=owns(k.of)) for k in design.keepouts),
        chains=tuple(replace(c, id=own(c.id)) for c in design.chains),
        fits=tuple(replace(f, id=own(f.id)) for f in design.fits),
        motions=tuple(replace(m, id=own(m.id), members=owns(m.members)) for m in design.motions),
        steps=tuple(s.renamed(own) for s in design.steps),
        bought=tuple(replace(b, path=own(b.path)) for b in design.bought),
        excluded=owns(design.excluded),
        findings=tuple(own_finding(f, piece, place) for f in design.findings),
    )
