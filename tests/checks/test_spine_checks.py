"""Each check fires on a seeded fault, at the right path, and says nothing of the sound piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.catalogue import BUILT_IN
from casewright.checks import attached, chains, collision
from casewright.checks.model import Check, Subject, run_checks
from casewright.design.assembly import ChainItem, PieceDesign
from casewright.findings import Severity

PROJECT = Project(load_order(DEMO), load_shop())
SOUND = PROJECT.assembly.pieces[0]
P = SOUND.path
SPINE = (collision.CHECK, attached.CHECK, chains.CHECK)


def codes(piece: PieceDesign, checks: tuple[Check, ...] = SPINE) -> dict[str, set[str]]:
    out: dict[str, set[str]] = {}
    for f in run_checks(checks, replace(PROJECT.subject(P), piece=piece)):
        out.setdefault(f.code, set()).add(f.path)
    return out


def moved(path: str, by: tuple[float, float, float]) -> PieceDesign:
    placed = [replace(p, frame=p.frame.moved(by)) if p.path == path else p for p in SOUND.placed]
    return replace(SOUND, placed=tuple(placed))


def test_the_sound_piece_is_quiet() -> None:
    assert codes(SOUND) == {}
    assert not PROJECT.stops


def test_a_part_pushed_into_another_collides_and_one_pulled_off_gapes() -> None:
    bottom = f"{P}/bottom"
    hit = codes(moved(bottom, (0.05, 0.0, 0.0)))
    assert any(bottom in path or "side.right" in path for path in hit["collision.parts"])
    assert f"{P}/bottom~side.left" in hit["attached.gap"]
    assert codes(moved(bottom, (0.015, 0.0, 0.0))).get("collision.parts") is None, "0.02 mm is the limit"


def test_a_screw_that_is_too_long_or_misplaced_is_caught() -> None:
    screw = next(f for f in SOUND.fasteners if "door_leaf~wood" in f.joint)  # lengthened, it enters rail or panel
    longer = replace(screw, length=screw.length + 120.0)
    hit = codes(replace(SOUND, fasteners=tuple(longer if f == screw else f for f in SOUND.fasteners)))
    assert screw.path in hit["collision.fastener"]
    twice = replace(screw, path=screw.path + ".again")
    hit = codes(replace(SOUND, fasteners=(*SOUND.fasteners, twice)))
    assert "collision.crossing" in hit
    keepout = next(k for k in SOUND.keepouts if k.id.endswith("device.keepout"))
    middle = tuple((a + b) / 2 for a, b in zip(keepout.lo, keepout.hi, strict=True))
    inside = replace(screw, frame=replace(screw.frame, origin=middle))
    hit = codes(replace(SOUND, fasteners=(*SOUND.fasteners, replace(inside, path="stray"))))
    assert "stray" in hit["collision.keepout"]


def test_a_part_without_a_joint_is_loose() -> None:
    joints = tuple(j for j in SOUND.joints if f"{P}/back" not in (j.a, j.b))
    assert codes(replace(SOUND, joints=joints))["attached.loose"] == {f"{P}/back"}


def test_a_chain_that_does_not_sum_and_a_fit_that_binds() -> None:
    chain = SOUND.chains[0]
    wrong = replace(chain, total=ChainItem(name=chain.total.name, value=chain.total.value + 0.5))
    assert codes(replace(SOUND, chains=(wrong, *SOUND.chains[1:])))["chain.sum"] == {chain.id}
    fit = next(f for f in SOUND.fits if f.id.endswith("fit.slides"))
    tight = replace(fit, insert=ChainItem(name=fit.insert.name, value=fit.insert.value + 1.0))
    fits = tuple(tight if f == fit else f for f in SOUND.fits)
    assert codes(replace(SOUND, fits=fits))["chain.fit"] == {fit.id}


def test_a_check_that_crashes_is_reported_and_hides_no_other() -> None:
    def crash(subject: Subject) -> list:  # type: ignore[type-arg]
        raise ZeroDivisionError("seeded")

    broken = Check(code="broken", what="", needs=(), source="", run=crash)
    chain = replace(SOUND.chains[0], items=SOUND.chains[0].items[1:])
    hit = run_checks(
        (broken, *SPINE),
        replace(PROJECT.subject(P), piece=replace(SOUND, chains=(chain,))),
    )
    assert {f.code for f in hit} == {"check.crashed", "chain.sum"}
    assert next(f for f in hit if f.code == "check.crashed").severity is Severity.STOP


@pytest.mark.parametrize("check", BUILT_IN.checks, ids=lambda c: c.code)
def test_every_check_says_what_it_needs_and_where_its_limit_comes_from(check: Check) -> None:
    assert check.what
    assert check.needs
    assert check.source
    run: Callable[[Subject], object] = check.run
    assert run.__module__.startswith("casewright.checks")
