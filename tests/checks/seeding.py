"""Seeded faults: an order as text with lines changed, or a sound design with one thing broken."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

from casewright import Project, load_shop
from casewright.catalogue import BUILT_IN
from casewright.checks.model import Check, Subject, run_checks
from casewright.design.assembly import Joint, PieceDesign
from casewright.design.parts import Part, Placed
from casewright.findings import Finding, Severity
from casewright.order import order_from_text
from casewright.shop import shop_from_text

EXAMPLES = Path(__file__).parents[2] / "examples"
ORDERS = Path(__file__).parent / "orders"


def text_of(example: str) -> str:
    """Return the text of an example order, or of one of the orders that stand beside these tests."""
    known = EXAMPLES / f"{example}.toml"
    return (known if known.exists() else ORDERS / f"{example}.toml").read_text(encoding="utf-8")


def changed(text: str, *edits: tuple[str, str]) -> str:
    """Return an order's text with each (old, new) replaced once; raises AssertionError where old is not there."""
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


@cache
def project_of(text: str, shop: str = "") -> Project:
    """Return the project of an order's text, and of a shop's where one is given."""
    stocked = shop_from_text(shop) if shop else load_shop()
    return Project(order_from_text(text, BUILT_IN.kinds, stock=stocked.stock), stocked)


def case(rows: str, bays: str, *, room: str = "", roles: str = "") -> str:
    """Return an order of one case named `case`, in mm."""
    return "\n".join(
        [
            "format = 1",
            'title = "seeded"',
            'units = "mm"',
            room,
            "[[piece]]",
            'kind = "case"',
            'name = "case"',
            rows,
            f"roles = {{ {roles} }}" if roles else "",
            f"bays = {bays}",
        ]
    )


def subject_at(project: Project, path: str = "") -> Subject:
    """Return what checks read of a piece of the project, the first where no path is given."""
    return project.subject(path or project.assembly.pieces[0].path)


def found(check: Check, subject: Subject, piece: PieceDesign | None = None) -> tuple[Finding, ...]:
    """Return what a check finds on the subject, or on another design in its place."""
    return run_checks((check,), replace(subject, piece=piece) if piece is not None else subject)


def told(findings: Iterable[Finding], severity: Severity | None = None) -> set[tuple[str, str]]:
    """Return (code, path) of findings, notes left out, or those of one severity."""
    wanted = (Severity.STOP, Severity.WARN) if severity is None else (severity,)
    return {(f.code, f.path) for f in findings if f.severity in wanted}


def one(findings: Iterable[Finding], code: str) -> Finding:
    """Return the one finding of a code."""
    hits = [f for f in findings if f.code == code]
    assert len(hits) == 1, [(f.code, f.path) for f in hits]
    return hits[0]


def with_placed(piece: PieceDesign, path: str, edit: Callable[[Placed], Placed]) -> PieceDesign:
    """Return the design with one placed thing edited."""
    assert any(p.path == path for p in piece.placed), path
    return replace(piece, placed=tuple(edit(p) if p.path == path else p for p in piece.placed))


def with_part(piece: PieceDesign, path: str, edit: Callable[[Part], Part]) -> PieceDesign:
    """Return the design with one part edited."""
    return with_placed(piece, path, lambda p: replace(p, thing=edit(p.part)))


def with_joint(piece: PieceDesign, joint_id: str, edit: Callable[[Joint], Joint]) -> PieceDesign:
    """Return the design with one joint edited."""
    assert any(j.id == joint_id for j in piece.joints), joint_id
    return replace(piece, joints=tuple(edit(j) if j.id == joint_id else j for j in piece.joints))


def without_joints(piece: PieceDesign, drop: Callable[[Joint], bool]) -> PieceDesign:
    """Return the design without some joints."""
    return replace(piece, joints=tuple(j for j in piece.joints if not drop(j)))
