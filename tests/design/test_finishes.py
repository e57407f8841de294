"""Schedules of finishes, trade notes rule 35 (common practice): order, waits, cautions, and what is bought for them.

Waits: water-borne primer 1–2 h, water-borne enamel 2–6 h, water-borne clear 2 h, oil gel stain 24 h before a
water-borne coat, wiped shellac 30–60 min (common practice of finishers, from memory).
"""

from __future__ import annotations

import re

import pytest
from tests.design.test_step_order import HEAD, SHOP, in_order
from tests.laws.orders import project_of

from casewright.design.assembly import Step, StepKind
from casewright.design.blocks.step_words import DUST, RAGS
from casewright.packet.hardware_list import finish_rows
from casewright.packet.pages.hardware import hardware
from casewright.packet.pages.setting import setting_of
from casewright.project import Project

VARNISH = """
[stock.finishes.varnish]
name = "varnish"
kind = "clear"
coverage = 10
price = 30
recoat_hours = 12
cure_days = 14
film = 0.04
carrier = "spirits"
hazards = "solvent"
source = "its tin"
basis = "common practice"
[roles]
clear = "varnish"
"""
BEDSIDE = (
    'format = 1\ntitle = "finishes"\nunits = "in"\n[style]\ntops = "{}"\n[[piece]]\nkind = "bedside"\nhanded = "left"\n'
)
BEDSIDE += "width = 20\ndepth = 16\nheight = 26\n"


def case(finish: str, top: str = "", shop: str = "") -> Project:
    given = f'top = {{ finish = "{top}" }}\n' if top else ""
    return project_of(f'{HEAD}finish = "{finish}"\n{given}bays = {{ rows = ["open", "open"] }}\n', SHOP + shop)


def finishing(project: Project) -> list[Step]:
    return [s for s in project.assembly.pieces[0].steps if s.kind is StepKind.FINISH]


def wait(text: str) -> float:
    """Return the first wait of a step in hours."""
    number, unit = re.findall(r"([\d.]+) (h|min)\b", text)[0]
    return float(number) / (60 if unit == "min" else 1)


def test_paint_has_primer_twice_and_all_its_coats_and_the_top_its_own_steps() -> None:
    steps = finishing(case("paint"))
    body = [s for s in steps if " top" not in s.text]
    in_order(" | ".join(s.text for s in body), "Fill", "sand", "Prime", "sand with 220", "prime again", "Two coats")
    assert body[1].text.count("sand with 220") == 2, "sanded after each coat of primer"
    assert 1 <= wait(body[1].text) <= 2
    assert 2 <= wait(body[2].text) <= 6
    top = [s for s in steps if s not in body]
    assert top[0].text.startswith("Finish the top apart, all its faces alike")
    in_order(" | ".join(s.text for s in top), "sand", "three coats", "rub it out")
    assert steps == body + top
    assert all(DUST in s.cautions for s in steps if " coats " in s.text or "Prime" in s.text)


def test_stain_waits_and_has_a_barrier_under_water_borne_coats() -> None:
    project = case("stained clear")
    sand, stain, barrier, coats, rubbed, top = finishing(project)
    assert sand.text.startswith("Sand")
    assert stain.text.startswith("Stain")
    assert wait(stain.text) == pytest.approx(24)
    assert {RAGS, DUST} <= set(stain.cautions), "oily rags take fire by themselves"
    assert "dewaxed" in barrier.text
    assert 0.5 <= wait(barrier.text) <= 1
    assert coats.text.startswith("Three coats")
    assert wait(coats.text) == pytest.approx(2)
    assert RAGS not in coats.cautions
    assert "rub it out" in rubbed.text
    assert "sheen" in rubbed.text
    assert "apart, all its faces alike" in top.text
    assert [r.item for r in finish_rows(project)] == ["gel-stain", "shellac-dewaxed", "clear-water"]
    assert [r.coats for r in finish_rows(project)] == [1, 1, 3]
    shown = [u for p in project.assembly.pieces[0].placed for u in getattr(p.thing, "faces", ()) if u.finish]
    assert {u.finish for u in shown} == {"stained clear"}
    assert all(u.clear for u in shown), "what must not show under a clear finish must not show under stain either"


def test_no_barrier_where_the_clear_coat_has_no_water() -> None:
    project = case("stained clear", shop=VARNISH)
    assert "dewaxed" not in " ".join(s.text for s in finishing(project))
    assert [r.item for r in finish_rows(project)] == ["gel-stain", "varnish"]
    assert any(RAGS in s.cautions for s in finishing(project) if "varnish" in s.text)


def test_tops_take_the_finish_of_the_style_and_the_piece_its_own() -> None:
    bedside = project_of(BEDSIDE.format("stained clear"), SHOP)
    steps = [s.text for s in finishing(bedside)]
    assert sum("gel stain" in t for t in steps) == 1
    assert [r.item for r in finish_rows(bedside)] == [
        "primer-water", "enamel-water", "gel-stain", "shellac-dewaxed", "clear-water"
    ]  # fmt: skip
    oiled = case("paint", top="oil")
    assert [r.item for r in finish_rows(oiled)] == ["primer-water", "enamel-water", "oil-wiping"]
    assert any(RAGS in s.cautions for s in finishing(oiled) if "wiping oil" in s.text)


@pytest.mark.parametrize("kind", ["solid", "panelled", "breadboard", "lid"])
def test_a_top_may_be_painted(kind: str) -> None:
    text = f'{HEAD}finish = "paint"\ntop = {{ kind = "{kind}", finish = "paint" }}\n'
    bays = "closed" if kind == "lid" else "open"
    project = project_of(text.replace("height = 800", "height = 450") + f'bays = "{bays}"\n', SHOP)
    (piece,) = project.assembly.pieces
    assert not [f for f in project.piece_findings if f.stops]
    assert {u.finish for p in piece.placed for u in getattr(p.thing, "faces", ())} == {"paint"}
    assert [r.item for r in finish_rows(project)] == ["primer-water", "enamel-water"]
    alike = finishing(project)[-1]
    assert "all its faces alike" in alike.text, "both faces of a solid top, rule 35"
    assert "the same steps" in alike.text
    assert DUST in alike.cautions


def test_a_painted_top_on_a_clear_case_has_its_own_steps() -> None:
    steps = [s.text for s in finishing(case("clear", top="paint"))]
    top = " | ".join(t for t in steps if " top" in t.lower() and "top coat" not in t)
    in_order(top, "fill the heads", "prime", "two coats of")


@pytest.mark.parametrize(
    ("finish", "bought"),
    [
        ("clear", ["clear-water"]),
        ("stained clear", ["gel-stain", "shellac-dewaxed", "clear-water"]),
        ("oil", ["oil-wiping"]),
    ],
)
def test_the_body_of_a_bedside_cabinet_takes_every_finish(finish: str, bought: list[str]) -> None:
    text = BEDSIDE.replace('[style]\ntops = "{}"\n', "") + f'finish = "{finish}"\n'
    project = project_of(text, SHOP)
    (piece,) = project.assembly.pieces
    assert not [f for f in project.piece_findings if f.stops]
    assert {u.finish for p in piece.placed for u in getattr(p.thing, "faces", ()) if u.finish} == {finish}
    assert [r.item for r in finish_rows(project)] == bought, "the top follows its body"
    told = [f for f in project.findings if f.code == "stock.follows"]
    assert "drawer_front" in told[0].message, "what was meant for paint follows the case"


def supplies(order: str) -> list[str]:
    setting = setting_of(project_of(order, SHOP), "letter", "2026-01-15", draft=True)
    return [s.use for s in hardware(setting).supplies]


def test_paint_and_sheen_are_printed_beside_what_is_bought() -> None:
    named = BEDSIDE.format("clear").replace("[style]", '[style]\npaint = "painted, moss"\ntop_finish = "clear, satin"')
    uses = supplies(named)
    assert any(u.endswith("as ordered: painted, moss") for u in uses)
    assert any(u.endswith("as ordered: clear, satin") for u in uses)
    plain = supplies(BEDSIDE.format("clear"))
    assert not any("as ordered" in u for u in plain)
