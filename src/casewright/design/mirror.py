"""Mirroring a piece: hidden things too, twice is the same, and every part stays a proper placement.

The piece is reflected across x = 0. A part becomes its mirror image and its frame is conjugated; hardware
stays the same item, or becomes its partner; left and right names, columns, moves and axes change over.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import TypeAlias

from casewright.design.assembly import Chain, ChainItem, Fit, Joint, Keepout, Motion, PieceDesign, Step
from casewright.design.features.base import Feature
from casewright.design.frames import Vec
from casewright.design.ledger import Size
from casewright.design.parts import Fastener, Hardware, MirrorRule, Part, Placed
from casewright.findings import Finding, Severity

_WORDS = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}
_HAND = re.compile(r"\b(left|right|Left|Right)\b")
_CELL = re.compile(r"\[([a-z][^\[\]]*)")
Cells: TypeAlias = tuple[tuple[str, str], ...]  # names of cells and uprights, each with its name in the mirror image


@lru_cache(maxsize=1 << 15)
def swap_hands(text: str, cells: Cells = ()) -> str:
    """Return the text with left and right exchanged and columns counted from the other side."""
    swapped = _HAND.sub(lambda m: _WORDS[m.group()], text)
    if not cells:
        return swapped
    names = dict(cells)
    return _CELL.sub(lambda m: "[" + names.get(m.group(1), m.group(1)), swapped)


def mirror_piece(piece: PieceDesign) -> PieceDesign:
    """Return the mirror image of a piece, its path and title with the hands exchanged."""
    n = piece.cells
    return replace(
        piece,
        path=swap_hands(piece.path),
        title=swap_hands(piece.title),
        placed=tuple(_placed(p, n) for p in piece.placed),
        joints=tuple(_joint(j, n) for j in piece.joints),
        fasteners=tuple(_fastener(f, n) for f in piece.fasteners),
        keepouts=tuple(_keepout(k, n) for k in piece.keepouts),
        chains=tuple(_chain(c, n) for c in piece.chains),
        fits=tuple(_fit(f, n) for f in piece.fits),
        motions=tuple(_motion(m, n) for m in piece.motions),
        steps=tuple(_step(s, n) for s in piece.steps),
        bought=tuple(replace(b, path=swap_hands(b.path, n)) for b in piece.bought),
        excluded=tuple(swap_hands(e, n) for e in piece.excluded),
        sizes=tuple(_size(s, n) for s in piece.sizes),
        findings=mirrored_findings(piece),
        cells=tuple((b, a) for a, b in n),
    )


def mirrored_findings(piece: PieceDesign) -> tuple[Finding, ...]:
    """Return the findings of the mirrored piece: the piece's own mirrored, and those of hardware that has one hand."""
    impossible = tuple(
        _impossible(p, piece.cells)
        for p in piece.placed
        if isinstance(p.thing, Hardware) and p.thing.mirror is MirrorRule.NONE
    )
    return tuple(mirror_finding(f, piece.cells) for f in piece.findings) + impossible


def mirror_finding(finding: Finding, cells: Cells = ()) -> Finding:
    """Return what a finding becomes in the mirrored piece."""
    return replace(
        finding,
        path=swap_hands(finding.path, cells),
        message=swap_hands(finding.message, cells),
        related=tuple(swap_hands(r, cells) for r in finding.related),
    )


def _impossible(placed: Placed, n: Cells) -> Finding:
    return Finding(
        code="mirror.none_possible",
        severity=Severity.STOP,
        path=swap_hands(placed.path, n),
        place=placed.place,
        message=f"{placed.name} has no mirror image",
        remedy="choose hardware that can be handed, or order no pair",
    )


def _point(p: Vec) -> Vec:
    return (-p[0] + 0.0, p[1], p[2])


def _placed(p: Placed, n: Cells) -> Placed:
    length = p.thing.blank.length if isinstance(p.thing, Part) else 0.0
    thing: Part | Hardware = _part(p.thing, n) if isinstance(p.thing, Part) else p.thing
    if isinstance(thing, Hardware) and thing.mirror is MirrorRule.PARTNER:
        thing = replace(thing, item=thing.partner, partner=thing.item)
    return replace(
        p,
        path=swap_hands(p.path, n),
        name=swap_hands(p.name, n),
        thing=thing,
        frame=p.frame.reflected_x(length),
        sizes=(swap_hands(p.sizes[0], n), swap_hands(p.sizes[1], n), swap_hands(p.sizes[2], n)),
    )


def _part(part: Part, n: Cells) -> Part:
    return replace(part, features=tuple(_asked(f, n) for f in part.features)).mirrored()


def _asked(feature: Feature, n: Cells) -> Feature:
    """Name the joint that asked for a feature as it is called in the mirrored piece."""
    return replace(feature, joint=swap_hands(feature.joint, n)) if feature.joint else feature  # type: ignore[type-var]


def _joint(j: Joint, n: Cells) -> Joint:
    return replace(
        j, id=swap_hands(j.id, n), a=swap_hands(j.a, n), b=swap_hands(j.b, n), frame=j.frame.reflected_x(0.0)
    )


def _fastener(f: Fastener, n: Cells) -> Fastener:
    return replace(
        f,
        path=swap_hands(f.path, n),
        joint=swap_hands(f.joint, n),
        parts=tuple(swap_hands(p, n) for p in f.parts),
        frame=f.frame.reflected_x(0.0),
    )


def _size(s: Size, n: Cells) -> Size:
    return replace(s, name=swap_hands(s.name, n), because=tuple(swap_hands(b, n) for b in s.because))


def _item(i: ChainItem, n: Cells) -> ChainItem:
    return replace(i, name=swap_hands(i.name, n))


def _chain(c: Chain, n: Cells) -> Chain:
    items = tuple(_item(i, n) for i in c.items)
    return replace(c, id=swap_hands(c.id, n), total=_item(c.total, n), items=items, absorber=swap_hands(c.absorber, n))


def _fit(f: Fit, n: Cells) -> Fit:
    return replace(f, id=swap_hands(f.id, n), housing=_item(f.housing, n), insert=_item(f.insert, n))


def _keepout(k: Keepout, n: Cells) -> Keepout:
    return replace(
        k,
        id=swap_hands(k.id, n),
        lo=(-k.hi[0] + 0.0, k.lo[1], k.lo[2]),
        hi=(-k.lo[0] + 0.0, k.hi[1], k.hi[2]),
        owners=tuple(swap_hands(o, n) for o in k.owners),
        of=tuple(swap_hands(o, n) for o in k.of),
    )


def _motion(m: Motion, n: Cells) -> Motion:
    # A swing's axis is an axial vector: under a mirror it turns the other way about.
    d = _point(m.direction)
    direction = d if m.kind.value == "slide" else (-d[0] + 0.0, -d[1] + 0.0, -d[2] + 0.0)
    return replace(
        m,
        id=swap_hands(m.id, n),
        members=tuple(swap_hands(x, n) for x in m.members),
        origin=_point(m.origin),
        direction=direction,
    )


def _step(s: Step, n: Cells) -> Step:
    return replace(
        s,
        id=swap_hands(s.id, n),
        text=swap_hands(s.text, n),
        into=swap_hands(s.into, n),
        brings=tuple(swap_hands(b, n) for b in s.brings),
        moves=tuple(_point(m) for m in s.moves),
        closes=tuple(swap_hands(c, n) for c in s.closes),
        cuts=tuple(swap_hands(c, n) for c in s.cuts),
        makes=tuple(swap_hands(m, n) for m in s.makes),
        made_in=tuple(swap_hands(m, n) for m in s.made_in),
        uses=tuple(swap_hands(u, n) for u in s.uses),
        unit=swap_hands(s.unit, n),
    )
