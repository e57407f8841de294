"""Tipping: volumes, masses and moments against examples by hand, then each way to tip, and the laws."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.seeding import case, changed, found, one, project_of, subject_at, text_of, told
from tests.solids.ocp_oracle import oracle_volume

from casewright.cache import Cache
from casewright.checks import stability
from casewright.checks.masses import Mass, Stand, masses, stand, total, volumed
from casewright.checks.model import Subject
from casewright.checks.stability_model import Open, Standing, standing
from casewright.design.assembly import Motion, MotionKind
from casewright.design.blanks import Blank
from casewright.design.frames import Vec
from casewright.design.mirror import mirror_piece
from casewright.design.parts import Form, Part
from casewright.findings import Severity

INCH, POUND, FOOT3 = 25.4, 0.45359237, 28.316846592  # dm³
CHECK = stability.CHECK
DEMO = subject_at(project_of(text_of("lantern-hill")), "bedside.left")


def with_rule(subject: Subject, name: str, value: float) -> Subject:
    """The subject under another practice value."""
    rule = replace(subject.practice.rule(name), value=value)
    return replace(subject, practice=subject.practice.with_rules({name: rule}))


CHEST = with_rule(subject_at(project_of(text_of("six-drawer-chest"))), "tipping.open_at_once", 0.0)


def clothes(subject: Subject, kept: bool = True) -> Subject:
    """The subject with or without clothes in it."""
    return replace(subject, use=replace(subject.use, clothes=kept))


# --- masses ---


def test_centroids_of_a_plain_board_and_of_one_with_a_corner_off() -> None:
    board = Part(form=Form.BOARD, stock="x", blank=Blank(length=300.0, width=100.0, thickness=20.0))
    assert volumed(board, Cache()).volume == pytest.approx(600_000.0)
    assert volumed(board, Cache()).centroid == pytest.approx((150.0, 50.0, 10.0))
    together = total([Mass(2.0, (0.0, 0.0, 0.0)), Mass(1.0, (3.0, 6.0, -3.0))])
    assert together == Mass(3.0, (1.0, 2.0, -1.0))
    assert total([]).mass == 0.0


def test_volumes_agree_with_an_independent_kernel() -> None:
    for name in ("top", "side.left", "foot.front.left/wood"):
        part = DEMO.by_path[f"{DEMO.piece.path}/{name}"].part
        assert volumed(part, DEMO.cache).volume == pytest.approx(oracle_volume(part.lowered()), rel=1e-3)


def test_the_piece_weighs_what_its_parts_weigh_and_stands_on_its_levellers() -> None:
    by_path = masses(DEMO.piece, DEMO.cache)
    whole = total(by_path.values())
    s = standing(DEMO)
    assert s is not None
    assert s.mass == pytest.approx(whole.mass)
    # by hand: a top of 482.6 × 400.9 × 22.2 mm of cherry at 560 kg/m³ is 2.41 kg, less its recess and channel
    top = by_path[f"{DEMO.piece.path}/top"]
    assert 0.93 * 2.407 < top.mass < 2.407
    where = stand(DEMO.piece, DEMO.cache)
    assert where is not None
    # the pads' middles stand 31.75 mm behind the front of the case and 31.75 mm before its back: 368.3 deep
    assert where.front + where.rear == pytest.approx(368.3, abs=0.1)
    assert where.floor == pytest.approx(0.0, abs=1e-6)


# --- the rule's own arithmetic ---


def opened(name: str, closed: Mass, out: Vec, contents: Mass, hold: float, volume: float = 0.0) -> Open:
    motion = Motion(
        id=name, kind=MotionKind.SLIDE, members=(name,), origin=(0.0, 0.0, 0.0), direction=(0.0, -1.0, 0.0), reach=1.0
    )
    return Open(motion, closed, Mass(closed.mass, out), contents, volume, (hold, 500.0))


def test_the_moment_example() -> None:
    """Derived: 60 lb with its centre 8 in behind the feet; 10 lb of drawer and 8.5 lb in it 7 in before them.

    14 in before them it then bears (60·8 − 18.5·7)/14 = 25.0 lb: a test of 60 lb would tip it.
    """
    case_ = Mass(60 * POUND, (0.0, 8 * INCH, 400.0))
    ahead = (0.0, -7 * INCH, 300.0)
    drawer = opened("d", Mass(10 * POUND, (0.0, 0.0, 300.0)), ahead, Mass(8.5 * POUND, ahead), -14 * INCH)
    s = Standing(stand=Stand(0.0, 400.0, 0.0), fixed=case_, opens=(drawer,))
    assert s.hung((drawer,)) / POUND == pytest.approx((60 * 8 - 18.5 * 7) / 14)
    assert s.hung((drawer,)) / POUND == pytest.approx(25.0, abs=0.05)


def test_the_carpet_block_leans_it_by_a_degree_and_a_half() -> None:
    """Derived: 0.43 in over 16.4 in is 1.50°."""
    s = Standing(stand=Stand(0.0, 16.4 * INCH, 0.0), fixed=Mass(1.0, (0.0, 0.0, 0.0)), opens=())
    assert s.carpet(0.43 * INCH) == pytest.approx(1.50, abs=0.005)


def test_volumes_as_the_rule_counts_them() -> None:
    """16 CFR 1261.2: a drawer's inside, its height 1/8 in less than to what is above it; space behind doors by half.

    Derived: clear heights of 5.5 and 7.5 in, 17 × 14 in inside, are 1.756 ft³ by these rules.
    """
    heights, area = (5.5, 7.5), 17 * 14
    assert sum((h - 0.125) * area for h in heights) / 12**3 == pytest.approx(1.756, abs=0.0005)
    s = standing(DEMO)
    assert s is not None
    by_kind = {o.motion.kind: o.volume for o in s.opens}
    sizes = {size.name.rpartition("].")[2]: size.value for size in DEMO.piece.sizes if "drawer[" in size.name}
    box = DEMO.by_path[f"{DEMO.piece.path}/drawer[c1,r1]/box_front"]
    inside_depth = sizes["box.depth"] - 2 * box.part.blank.thickness
    # above the drawer lies the face frame's top rail in front, the front stretcher behind it: 645.6 mm up
    bottom_up = DEMO.by_path[f"{DEMO.piece.path}/drawer[c1,r1]/bottom"].frame.origin[2] + 5.4
    high = 645.575 - bottom_up - 3.175
    by_hand = sizes["box.inside"] * inside_depth * high * 1e-6
    assert by_kind[MotionKind.SLIDE] == pytest.approx(by_hand, rel=0.1)
    door = {n.rpartition("].")[2]: v for n, v in ((z.name, z.value) for z in DEMO.piece.sizes) if "door[" in n}
    back = 362.9 - 19.05
    assert by_kind[MotionKind.SWING] == pytest.approx(0.5 * door["width"] * door["height"] * back * 1e-6, rel=0.02)


def test_the_rule_names_its_three_numbers() -> None:
    inside = one(found(CHECK, CHEST), "stability.rule")
    assert inside.severity is Severity.NOTE
    assert "in scope" in inside.message
    assert all(text in inside.message for text in ("864 mm", "kg", "dm³", "13.6", "90.6"))
    out = one(found(CHECK, clothes(DEMO)), "stability.rule")
    assert "out of scope" in out.message
    assert "certificate" in out.source
    assert found(CHECK, DEMO) == (), "no clothes are kept in it, and it is small"


@pytest.mark.parametrize(
    ("rule", "beyond"), [("tipping.height", 900.0), ("tipping.mass", 100.0), ("tipping.volume", 300.0)]
)
def test_all_three_sizes_must_reach_the_rule(rule: str, beyond: float) -> None:
    hits = found(CHECK, with_rule(CHEST, rule, beyond))
    assert "out of scope" in one(hits, "stability.rule").message
    assert not any(f.code in ("stability.child", "stability.pull") for f in hits)


# --- ways to tip ---


def test_a_light_chest_with_every_drawer_out_tips() -> None:
    hits = found(CHECK, CHEST)
    assert told(hits, Severity.STOP) == {
        ("stability.drawers", "chest"),
        ("stability.child", "chest"),
        ("stability.pull", "chest"),
    }
    cure = one(hits, "stability.child").remedy
    assert all(word in cure for word in ("ballast", "forward", "interlock", "strap"))


def test_an_interlock_helps_and_ballast_cures() -> None:
    interlocked = with_rule(CHEST, "tipping.open_at_once", 1.0)
    hits = found(CHECK, interlocked)
    assert told(hits, Severity.STOP) == {("stability.child", "chest")}
    heavier = [
        replace(p, thing=replace(p.part, mass_density=30 * p.part.mass_density)) if p.path == "chest/back" else p
        for p in CHEST.piece.placed
    ]
    cured = found(CHECK, interlocked, replace(CHEST.piece, placed=tuple(heavier)))
    assert told(cured) == set()


def test_the_ballast_that_it_asks_for_is_enough() -> None:
    """Put the ballast of the remedy where it says, and the weight that it bears reaches the child's."""
    s = standing(CHEST)
    assert s is not None
    one_out = (s.opens[-1],)
    lean = s.carpet(CHEST.practice["tipping.carpet"])
    limit = CHEST.practice["tipping.child"]
    short = (limit - s.hung(one_out, lean)) * s.furthest(one_out, lean)
    ballast = short / (s.stand.rear - s.stand.front - 50.0)
    place = (0.0, s.stand.rear - 50.0, s.stand.floor)
    cured = replace(s, fixed=total([s.fixed, Mass(ballast, place)]))
    assert cured.hung(one_out, lean) == pytest.approx(limit, rel=2e-3)


def test_without_clothes_it_is_a_warning() -> None:
    loose = clothes(replace(CHEST, piece=replace(CHEST.piece, bought=())), False)
    hits = found(CHECK, loose)
    assert told(hits, Severity.STOP) == set()
    assert ("stability.drawers", "chest") in told(hits, Severity.WARN)
    assert found(CHECK, clothes(CHEST, False)) == (), "the straps on its list tie it to the wall"


def test_a_hung_case_and_one_without_drawers_or_doors_are_let_alone() -> None:
    for example in ("wall-cupboard", "low-bookcase"):
        subject = clothes(subject_at(project_of(text_of(example))))
        assert found(CHECK, subject) == ()


def test_a_drawer_that_tips_a_case_by_itself_stops_whatever_is_in_it() -> None:
    light = [
        replace(p, thing=replace(p.part, mass_density=1.0))
        if not p.path.startswith(f"{DEMO.piece.path}/drawer") and isinstance(p.thing, Part)
        else p
        for p in DEMO.piece.placed
    ]
    hits = found(CHECK, DEMO, replace(DEMO.piece, placed=tuple(light)))
    assert told(hits, Severity.STOP) == {("stability.drawers", DEMO.piece.path)}


# --- laws ---


@given(
    mass=st.floats(5, 100),
    back=st.floats(20, 300),
    high=st.floats(100, 900),
    drawer=st.floats(0.5, 15),
    load=st.floats(0, 20),
    out=st.floats(10, 500),
    wider=st.floats(0, 300),
    lean=st.floats(0, 3),
)
def test_statics(
    mass: float, back: float, high: float, drawer: float, load: float, out: float, wider: float, lean: float
) -> None:
    """Against the sum of turned weights; a stand further forward, and less in the drawer, never tip it sooner."""
    ahead = (0.0, -out / 2, high)
    d = opened("d", Mass(drawer, (0.0, out / 2, high)), ahead, Mass(load, ahead), -out)
    s = Standing(stand=Stand(0.0, 400.0, 0.0), fixed=Mass(mass, (0.0, back, high)), opens=(d,))
    turned = 0.0
    for m, (y, z) in ((mass, (back, high)), (drawer + load, (-out / 2, high))):
        radius, angle = math.hypot(y, z), math.atan2(z, y)
        turned += m * radius * math.cos(angle + math.radians(lean))
    assert s.moment((d,), lean) == pytest.approx(turned, abs=1e-6 * (1 + mass * 1000))
    forward = replace(s, stand=Stand(-wider, 400.0, 0.0))
    assert forward.moment((d,), lean) >= s.moment((d,), lean) - 1e-6
    if s.moment((d,), lean) > 0 and forward.furthest((d,), lean) > 0:
        assert forward.hung((d,), lean) >= s.hung((d,), lean) - 1e-6
    fuller = replace(d, contents=Mass(load + 5.0, ahead))
    more = replace(s, opens=(fuller,))
    assert more.moment((fuller,), lean) <= s.moment((d,), lean) + 1e-6


@pytest.mark.parametrize("fill", [0.05, 0.1362, 0.3])
def test_more_in_the_drawers_never_removes_a_stop(fill: float) -> None:
    less = told(found(CHECK, with_rule(CHEST, "tipping.fill", fill)), Severity.STOP)
    more = told(found(CHECK, with_rule(CHEST, "tipping.fill", fill * 1.5)), Severity.STOP)
    assert less <= more


def test_a_deeper_case_never_tips_sooner() -> None:
    bears = []
    for depth in (400, 500, 600):
        rows = f"width = 900\ndepth = {depth}\nheight = 800\nfront = 'frameless'"
        s = standing(subject_at(project_of(case(rows, '{ rows = ["drawer", "open", "open"] }'))))
        assert s is not None
        # the same drawer in a deeper case: its reach is set to that of the shallowest
        bears.append(s.moment(()))
    assert bears == sorted(bears)


def test_mirrored_pieces_tip_alike() -> None:
    text = changed(
        text_of("six-drawer-chest"), ('{ rows = ["drawer", "drawer", "drawer"], graduate = 1 }', '{ holds = "door" }')
    )
    subject = subject_at(project_of(text))
    own, mirrored = found(CHECK, subject), found(CHECK, subject, mirror_piece(subject.piece))
    assert [(f.code, f.severity, f.path) for f in own] == [(f.code, f.severity, f.path) for f in mirrored]
    for a, b in zip(own, mirrored, strict=True):
        assert a.value == pytest.approx(b.value, abs=1e-3)
