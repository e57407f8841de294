"""A plain box and a bench of boards on which joints, tops and bases are tried with the real checks."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from tests.checks.subjects import subject_of
from tests.solids.ocp_oracle import oracle_volume

from casewright.cache import Cache
from casewright.checks import attached, chains, collision
from casewright.checks.model import run_checks
from casewright.design.assembly import PieceDesign
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft, Material
from casewright.design.kit import Kit
from casewright.design.mirror import mirror_piece
from casewright.design.parts import Part, Placed
from casewright.design.sites import Span, centred, span
from casewright.findings import Finding
from casewright.shop import shop_from_text
from casewright.solids.measure import volume_of

CACHE = Cache()
WET = Moisture(dry=6.0, damp=11.0, fitted=8.0)
PATH = "bench"


@lru_cache(maxsize=4)
def kit_of(roles: tuple[tuple[str, str], ...] = ()) -> Kit:
    """The built-in shop's kit, some roles sent to other stock."""
    rows = ["format = 1", 'name = "Fernbrook Workshop"', 'units = "mm"']
    if roles:
        rows += ["[roles]", *(f'{role} = "{item}"' for role, item in roles)]
    shop = shop_from_text("\n".join(rows))
    return Kit(sizes=shop.sizes, practice=shop.practice)


def bench() -> Draft:
    """An empty drawing board."""
    return Draft(path=PATH, practice=kit_of().practice)


def put(d: Draft, name: str, role: str, x: Span, y: Span, z: Span, grain: str, thick: str) -> Placed:
    """A part of a role's stock in a box."""
    return d.box_part(name, name, material(role), x, y, z, grain=grain, thick=thick)


def material(role: str) -> Material:
    """What a role is made of."""
    return kit_of().material(role, "paint")


def done(d: Draft) -> PieceDesign:
    """The piece, resolved."""
    return d.finish(kind="test", title="test", width=1.0, depth=1.0, height=1.0)


def found(piece: PieceDesign) -> list[Finding]:
    """Every finding of the design and of all checks that need no steps."""
    subject = subject_of(piece, kit_of().practice, CACHE)
    checks = (attached.CHECK, chains.CHECK, collision.CHECK)
    return [*piece.findings, *run_checks(checks, subject)]


def sound(d: Draft) -> PieceDesign:
    """Assert that nothing is found, that mirrored twice is the same, that no point comes out; return the piece."""
    piece = done(d)
    told = [f"{f.code} {f.path} {f.message}" for f in found(piece)]
    assert not told, "; ".join(told[:6])
    mirrored = mirror_piece(piece)
    assert mirror_piece(mirrored) == piece
    assert found(mirrored) == []
    tips_inside(piece)
    return piece


def tips_inside(piece: PieceDesign) -> None:
    """No screw, pin or dowel comes out of the last part that it is driven into."""
    by_path = piece.by_path()
    for fastener in piece.fasteners:
        boxes = [by_path[p] for p in fastener.parts]
        parts = [b for b in boxes if isinstance(b.thing, Part)]
        local = [(b.frame.local_point(fastener.tip), b.part.blank.size) for b in parts]
        assert any(all(-1e-6 <= c <= s + 1e-6 for c, s in zip(p, size, strict=True)) for p, size in local), (
            f"{fastener.path} comes out"
        )


def agrees_with_kernel(piece: PieceDesign, least: int = 1) -> None:
    """The independent kernel finds the same volume for every shape."""
    things = {p.thing.key: p.thing for p in piece.placed}
    assert len(things) >= least
    for thing in things.values():
        exact = oracle_volume(thing.lowered())
        own = volume_of(thing, CACHE)
        assert abs(own - exact) <= 1e-3 * exact, f"{thing}: {own:.1f} mm³, by the other kernel {exact:.1f}"


def sizes(piece: PieceDesign) -> Mapping[str, float]:
    """Ledger sizes by name."""
    return {s.name: s.value for s in piece.sizes}


def box(
    width: float = 600.0,
    depth: float = 400.0,
    z0: float = 100.0,
    z1: float = 700.0,
    raised: float = 0.0,
    stretchers: bool = True,
) -> tuple[Draft, Body]:
    """A frameless box: sides, bottom (`raised` above the underside), two stretchers, a back set between them."""
    d, kit = bench(), kit_of()
    t, back = kit.sheet("case").thickness, kit.sheet("back").thickness
    body = Body(width=width, depth=depth, z0=z0, z1=z1, frame=0.0, side=t, back=back)
    for name, value in (
        ("body.width", width),
        ("body.depth", depth),
        ("foot.height", z0),
        ("body.height", z1 - z0),
        ("side.thickness", t),
        ("back.thickness", back),
        ("frame.thickness", 0.0),
        ("inside.width", body.inside),
    ):
        d.let(name, value, rule="test")
    for sign, hand in HANDS:
        put(d, f"side.{hand}", "case", side_x(sign, width / 2, t), (0.0, depth), (z0, z1), "z", "x")
    x = centred(body.inside)
    inner = (0.0, body.inner_back)
    put(d, "bottom", "case", x, inner, span(z0 + raised, t), "x", "z")
    if stretchers:
        put(d, "stretcher.front", "case", x, (0.0, 90.0), (z1 - t, z1), "x", "z")
        put(d, "stretcher.rear", "case", x, (body.inner_back - 90.0, body.inner_back), (z1 - t, z1), "x", "z")
    put(d, "back", "back", x, (body.inner_back, depth), (z0, z1), "z", "y")
    for name in ("bottom", "stretcher.front", "stretcher.rear", "back"):
        for _, hand in HANDS:
            if d.has(name):
                glue(d, f"{name}~side.{hand}", d.at(f"side.{hand}"), d.at(name))
    return d, body


def glue(d: Draft, id_: str, a: Placed, b: Placed) -> None:
    """Join two parts of the harness itself by glue alone."""
    from casewright.design.assembly import JointKind
    from casewright.design.blocks.joining import join

    join(d, kit_of(), id_, a, b, JointKind.GLUE)
