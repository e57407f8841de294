"""Packets of random orders, without what needs layouts, and texts read back from their PDF."""

from __future__ import annotations

import random
from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from typing import Any

from tests.laws.orders import project_of, valid_texts
from tests.packet import demo

from casewright.packet.pages.drawings import Drawing
from casewright.packet.pages.registry import PAGES
from casewright.packet.pages.setting import UNFRAMED, Setting, unframed_setting
from casewright.packet.typesetting import typeset
from casewright.units import MILLIMETRES

WRITTEN = ("parts", "openings", "fastening", "mouldings", "fitting", "assembling")  # tables, without large drawings


@lru_cache(maxsize=4)
def random_setting(seed: int) -> Setting:
    """Return the setting of a random valid order, printed in inches or mm, on Letter or A4."""
    order, shop, _ = valid_texts(seed)
    project = project_of(order, shop)
    rng = random.Random(seed)
    if rng.random() < 0.5:
        project = type(project)(project.order, replace(project.shop, style=MILLIMETRES), project.cache)
    return unframed_setting(project, rng.choice(("letter", "a4")))


def context(setting: Setting, name: str) -> Any:
    """Return the context of one page."""
    return next(p for p in PAGES if p.name == name).context(setting)


@lru_cache(maxsize=4)
def written(seed: int) -> str:
    """Return the text of a random order's tables, read back from their PDF."""
    setting = random_setting(seed)
    frame = replace(UNFRAMED, paper=setting.paper.name, title="laws", shop="Fernbrook Workshop", date=demo.DATE)
    return " ".join(demo.texts(typeset(frame, [(name, context(setting, name)) for name in WRITTEN])))


def drawings_in(value: Any) -> list[Drawing]:
    """Return every drawing in a context, in order."""
    if isinstance(value, Drawing):
        return [value]
    if isinstance(value, tuple):
        return [d for item in value for d in drawings_in(item)]
    if is_dataclass(value):
        return [d for field in fields(value) for d in drawings_in(getattr(value, field.name))]
    return []
