"""What steps, cautions and accepted findings name is on the list of what to have in hand, and how much of it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.packet import demo
from tests.packet.reading import EXAMPLES, context, example
from tests.solids.things import board

from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import PieceDesign
from casewright.order import OrderError, load_order, order_from_text
from casewright.packet.consumables import glue_litres, sundry_rows
from casewright.packet.pages.setting import Setting
from casewright.project import Project
from casewright.shop import built_in_shop

# By the words of the trade for what is used up: what a stranger who reads the steps would look for on the list.
VOCABULARY = {
    r"masking tape|\btaped? ": "tape",
    r"\bshims?\b": "shims",
    r"\b[Ff]ill the\b|\bfiller\b": "filler",
    r"\bfelt\b": "felt",
    r"\bbumpers?\b": "bumper",
    r"\brags\b|\bwipe\b|\bdust off\b": "cloths",
    r"\btip restraint\b|\bstraps?\b": "restraint|strap",
    r"\bballast\b|kg of steel": "ballast",
    r"\bmetal can\b": "can",
    r"\bdust mask\b": "dust mask",
    r"(?<!no )\bgloves\b": "gloves",
    r"\brespirator\b": "respirator",
    r"\b[Ee]ye (?:protection|and ear protection)\b": "eye protection",
    r"\bear protection\b": "hearing protection",
    r"\bshellac\b": "shellac",
    r"\bprimer\b": "primer",
    r"\bstain with\b": "stain",
}
EXAMPLE_PAPERS = [("in", "letter"), ("mm", "a4")]


@pytest.fixture(scope="module")
def settings() -> list[Setting]:
    """The demonstration order, and two others of which one has stain, felt and a recess."""
    others = [o for o in EXAMPLES if o.stem in ("console", "six-drawer-chest", "wall-cupboard")]
    return [demo.setting("in", "letter"), *(example(o, "in", "letter") for o in others)]


def said(project: Project, piece: PieceDesign) -> tuple[str, ...]:
    """Return every text that asks something of who builds a piece: steps, cautions, and why findings were accepted."""
    steps = [text for step in piece.steps for text in (step.text, *(c.text for c in step.cautions))]
    found = [f.accepted for f in project.findings if f.accepted and f.path.partition("/")[0] == piece.path]
    return tuple(dict.fromkeys((*steps, *found)))


def listed(setting: Setting) -> str:
    """Return the names of everything on the page, each on a line."""
    page = context(setting, "hardware")
    return "\n".join(line.name for line in (*page.hardware, *page.fasteners, *page.supplies, *page.consumables))


def test_everything_that_a_step_names_is_on_the_list(settings: list[Setting]) -> None:
    for setting in settings:
        have = listed(setting)
        for piece in setting.pieces:
            for text in said(setting.project, piece):
                for words, name in VOCABULARY.items():
                    if re.search(words, text):
                        assert re.search(name, have), (piece.path, text, name)


def test_ballast_that_no_step_names_is_said_to_stand_after_the_steps(settings: list[Setting]) -> None:
    chest = next(s for s in settings if any(p.path == "chest" for p in s.pieces))
    (row,) = (line for line in context(chest, "hardware").consumables if line.name.startswith("ballast"))
    assert not any("ballast" in step.text for piece in chest.pieces for step in piece.steps)
    assert row.use == "before it is used: see the end of the steps"


def test_every_grit_of_the_steps_is_on_the_list(settings: list[Setting]) -> None:
    for setting in settings:
        have = set(re.findall(r"\b\d{2,3}\b", "\n".join(re.findall(r"grit (.*)", listed(setting)))))
        for piece in setting.pieces:
            for step in piece.steps:
                for clause in re.findall(r"(?:sand|scuff|rub|raised grain)[^;.]*", step.text, re.IGNORECASE):
                    named = set(re.findall(r"(?<![\d.])\d{3}(?! ?mm)\b", clause))
                    assert named <= have, (step.text, named, have)


def test_what_is_bought_as_hardware_is_not_listed_twice(settings: list[Setting]) -> None:
    for setting in settings:
        page = context(setting, "hardware")
        bought = " ".join(line.name for line in page.hardware)
        for word in ("felt", "bumper", "strap"):
            assert not (word in bought and any(word in line.name for line in page.consumables)), word


def test_amounts_are_in_the_units_of_the_paper() -> None:
    for system, words in (("in", ("fl oz", "sq ft")), ("mm", ("ml", "m²"))):
        page = context(demo.setting(system, dict(EXAMPLE_PAPERS)[system]), "hardware")  # type: ignore[arg-type]
        said_there = " ".join(f"{line.amount} {line.use}" for line in page.supplies)
        assert all(word in said_there for word in words)
        assert all(line.amount for line in (*page.supplies, *page.consumables))


def test_glue_is_reckoned_from_the_area_that_is_glued() -> None:
    """Two boards of 300 × 100 mm glued face to face, at 0.2 l for a square metre: 6 ml."""
    whole = Project(load_order(demo.ORDER, BUILT_IN.kinds), built_in_shop(), Cache())
    piece: PieceDesign = whole.assembly.pieces[0]
    one, two = piece.placed[0], piece.placed[1]
    wood = board(300.0, 100.0, 20.0)
    lower, upper = replace(one, thing=wood), replace(two, thing=wood, frame=one.frame.moved(scaled(one.frame.z, 20.0)))
    joint = replace(piece.joints[0], a=lower.path, b=upper.path, glued=True)
    joint = replace(joint, kind=next(j.kind for j in piece.joints if j.kind.value not in ("mitre", "threaded insert")))
    pair = replace(piece, placed=(lower, upper), joints=(joint,), count=1)
    whole.__dict__["assembly"] = replace(whole.assembly, pieces=(pair,))
    assert glue_litres(whole)["glue"] == pytest.approx(0.3 * 0.1 * 0.2)


def scaled(v: tuple[float, float, float], k: float) -> tuple[float, float, float]:
    return (v[0] * k, v[1] * k, v[2] * k)


CHEST = next(o for o in EXAMPLES if o.stem == "six-drawer-chest").read_text(encoding="utf-8")
NEEDS = 'needs = [{ thing = "ballast", mass = 12.0 }, { thing = "tip restraint" }]'


def test_words_of_a_reason_put_nothing_on_the_list_and_its_data_does(settings: list[Setting]) -> None:
    """Straps are bought with the design of the chest; the same promise without data is only read by people."""
    shop = next(s for s in settings if any(p.path == "chest" for p in s.pieces)).project.shop
    for needs, rows in (
        (NEEDS, ["ballast, 12 kg in all"]),
        ("", []),
        (NEEDS.replace("12.0", "7.5"), ["ballast, 7.5 kg in all"]),
    ):
        project = Project(order_from_text(CHEST.replace(NEEDS, needs), BUILT_IN.kinds), shop, demo.SHARED)
        names = [row.name for row in sundry_rows(project)]
        assert [n for n in names if "ballast" in n or "restraint" in n] == rows


def test_ballast_has_a_mass_and_nothing_else_has() -> None:
    for wrong, said_of_it in ((" mass = 12.0 ", "give mass"), ('"tip restraint"', "leave mass out")):
        text = CHEST.replace(wrong, " ") if "mass" in wrong else CHEST.replace(wrong, wrong + ", mass = 3")
        text = text.replace('"ballast", }', '"ballast" }')
        with pytest.raises(OrderError, match=said_of_it):
            order_from_text(text, BUILT_IN.kinds)
