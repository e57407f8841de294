"""Examples and random orders whose pages are read back: without what needs layouts, printed in inches or mm."""

from __future__ import annotations

import random
from dataclasses import fields, is_dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from tests.laws.orders import project_of, valid_texts
from tests.laws.test_cases import valid_case
from tests.packet import demo

from casewright.catalogue import BUILT_IN
from casewright.order import load_order
from casewright.packet.pages.drawings import Drawing
from casewright.packet.pages.registry import PAGES
from casewright.packet.pages.setting import UNFRAMED, PaperName, Setting, unframed_setting
from casewright.packet.typesetting import typeset
from casewright.project import Project
from casewright.shop import built_in_shop
from casewright.units import INCHES, MILLIMETRES

WRITTEN = ("parts", "openings", "fastening", "mouldings", "fitting", "assembling")  # tables, without large drawings
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))
PAPERS: list[tuple[str, PaperName]] = [("in", "letter"), ("mm", "a4")]
THOROUGH = 300  # variants from which every example is read in both systems
SHARE = 15  # of the laws' random orders one in so many is printed
FIRST = 9_000  # seed of the first of them

Printing = tuple[Path, str, PaperName]  # an example, its unit of length, its paper


def chosen(variants: int, of: int = 1) -> list[Printing]:
    """Return which examples are read in which system: by turns, the demonstration order in both.

    An ordinary run reads one in `of` of the others.
    """
    return [
        (order, *given)
        for number, order in enumerate(EXAMPLES)
        for turn, given in enumerate(PAPERS)
        if order == demo.ORDER or variants >= THOROUGH or (turn == number % 2 and number % of == 0)
    ]


def random_seeds(variants: int) -> range:
    """Return the seeds of the random orders that are read: bedside cabinets and cases by turns."""
    return range(FIRST, FIRST + (variants // SHARE if variants >= THOROUGH else 2))


@cache
def example(order: Path, system: str, paper: PaperName) -> Setting:
    """Return an example printed in a system; the demonstration order is the one that other tests have computed."""
    if order == demo.ORDER:
        return demo.setting(system, paper)
    shop = replace(built_in_shop(), style=INCHES if system == "in" else MILLIMETRES)
    return unframed_setting(Project(load_order(order, BUILT_IN.kinds), shop, demo.SHARED), paper)


@lru_cache(maxsize=4)
def random_setting(seed: int) -> Setting:
    """Return the setting of a random valid order, a case for odd seeds, printed in inches or mm, on Letter or A4."""
    order, shop = valid_case(seed) if seed % 2 else valid_texts(seed)[:2]
    project = project_of(order, shop)
    rng = random.Random(seed)
    style = MILLIMETRES if rng.random() < 0.5 else INCHES
    project = type(project)(project.order, replace(project.shop, style=style), project.cache)
    return unframed_setting(project, rng.choice(("letter", "a4")))


def context(setting: Setting, name: str) -> Any:
    """Return the context of one page."""
    return next(p for p in PAGES if p.name == name).context(setting)


def written(setting: Setting) -> str:
    """Return the text of an order's tables, read back from their PDF."""
    frame = replace(UNFRAMED, paper=setting.paper.name, title="laws", shop="Fernbrook Workshop", date=demo.DATE)
    return demo.plain(" ".join(demo.texts(typeset(frame, [(name, context(setting, name)) for name in WRITTEN]))))


def drawings_in(value: Any) -> list[Drawing]:
    """Return every drawing in a context, in order."""
    if isinstance(value, Drawing):
        return [value]
    if isinstance(value, tuple):
        return [d for item in value for d in drawings_in(item)]
    if is_dataclass(value):
        return [d for field in fields(value) for d in drawings_in(getattr(value, field.name))]
    return []
