"""Random valid orders: the whole range of what a shop would build as a bedside cabinet."""

from __future__ import annotations

import random
from functools import lru_cache

from casewright.catalogue import BUILT_IN
from casewright.order import order_from_text
from casewright.project import Project
from casewright.shop import shop_from_text

SHEETS = {
    "birch-plywood-18": (17.2, 19.2),
    "birch-plywood-6": (5.0, 6.6),
    "multi-ply-birch-12": (11.4, 12.6),
    "mdf-19": (18.4, 19.2),
    "mdf-6": (5.8, 6.6),
}


def random_order(rng: random.Random) -> str:
    """Return one order; it may or may not be buildable."""
    metric = rng.random() < 0.4

    def size(low: float, high: float) -> str:
        inches = rng.uniform(low, high)
        if metric:
            return f'"{round(inches * 25.4 * 2) / 2} mm"'
        return f'"{round(inches * 16)}/16 in"'

    maybe = rng.random
    crown, base = maybe() < 0.75, maybe() < 0.75
    rows = [
        "format = 1", 'title = "laws"', f'units = "{"mm" if metric else "in"}"', "[room]",
        f"humidity_low = {rng.randint(20, 40)}", f"humidity_high = {rng.randint(55, 75)}",
        f"humidity_fitting = {rng.randint(41, 54)}", "[[piece]]", 'kind = "bedside"',
        f'handed = "{rng.choice(["pair", "left", "right"])}"', f"width = {size(17, 26)}", f"depth = {size(14, 22)}",
        f"height = {size(24, 31)}", f"stile_width = {size(1.4, 2.2)}", f"top_rail_visible = {size(0.6, 1.5)}",
        f"drawer_rail = {size(0.9, 1.6)}", f"bottom_rail_visible = {size(0.6, 1.5) if base else size(2.5, 3.4)}",
        f"crown = {str(crown).lower()}", f"base = {str(base).lower()}",
        f"applied_frame = {str(maybe() < 0.7).lower()}",
    ]  # fmt: skip
    if maybe() < 0.3:
        rows.append(f"gap = {size(0.06, 0.1)}")
    rows += ["[piece.top]", f"thickness = {size(0.75, 0.87)}"]
    if maybe() < 0.5:
        rows += [f"overhang_front = {size(1.2, 2)}", f"overhang_side = {size(1.2, 2)}"]
    if maybe() < 0.3:
        rows.append(f"overhang_back = {size(0, 0.6)}")
    rows += ["[piece.drawer]", f"height = {size(3.4, 6)}"]
    rows += [
        "[piece.door]", f"stile_width = {size(1.6, 2.3)}", f"hinges = {rng.choice([2, 2, 3])}",
        f'hinged = "{rng.choice(["away from the bed", "at the bed"])}"', "[piece.feet]", f"height = {size(3.4, 5.5)}",
        f"cove = {rng.choice([0, size(0.25, 0.4)])}", f"tip = {size(1.2, 2.2)}",
        f'tapered = "{rng.choice(["four faces", "inner faces"])}"', f"inset = {rng.choice([0, size(0.05, 0.3)])}",
    ]  # fmt: skip
    if maybe() < 0.7:
        rows += [
            "[piece.device]", f"from_front = {size(4, 5)}", f"from_bed_side = {size(4.3, 6)}",
            f"wood_over = {size(0.1, 0.22)}",
        ]  # fmt: skip
    return "\n".join(rows)


def random_shop(rng: random.Random) -> str:
    """Return a shop whose sheets were measured anew."""
    rows = ["format = 1", 'name = "Fernbrook Workshop"', 'units = "mm"', "[measured]"]
    rows += [f"{sheet} = {round(rng.uniform(*limits), 1)}" for sheet, limits in SHEETS.items()]
    return "\n".join(rows)


def project_of(order: str, shop: str) -> Project:
    """Return the project of two texts."""
    return Project(order_from_text(order, BUILT_IN.kinds), shop_from_text(shop))


SHOP = 'format = 1\nname = "Fernbrook Workshop"\nunits = "mm"\n'
HEAD = 'format = 1\ntitle = "cases"\nunits = "mm"\n'


def case(text: str, before: str = "", shop: str = SHOP) -> Project:
    """Return the project of one case with these rows; `before` are tables that stand before it."""
    return project_of(f'{HEAD}{before}[[piece]]\nkind = "case"\nname = "case"\n{text}', shop)


@lru_cache(maxsize=2048)
def valid_texts(seed: int) -> tuple[str, str, int]:
    """Return the first order and shop after a seed whose design has no stop, and how many were tried."""
    rng = random.Random(seed)
    for tried in range(1, 60):
        order, shop = random_order(rng), random_shop(rng)
        project = project_of(order, shop)
        if not any(f.stops for piece in project.assembly.pieces for f in piece.findings):
            return order, shop, tried
    raise AssertionError("no valid order in 60 tries: the ranges of the generator are wrong")
