"""The shop's wishes reach the sheet solver: goals in the shop's order, stages, first cut, offcuts, its saws' limits."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from casewright import Project, load_order
from casewright.layout.model import Axis, Goal, SheetDemand, SheetLayout, Status
from casewright.layout.verify_sheets import verify_sheets
from casewright.layouts import Budget
from casewright.shop import ShopError, built_in_shop, shop_from_text

ORDER = Path(__file__).parents[2] / "examples" / "lantern-hill.toml"
SHOP = """
format = 1
units = "mm"

[measured]
birch-plywood-18 = 18
birch-plywood-6 = 5.4
mdf-19 = 19

[layout]
goals = ["cost", "cuts", "offcuts"]
stages = 4
first_cut = "rip"

[[offcut]]
item = "birch-plywood-6"
length = 1200
width = 900
count = 2
"""


def test_layouts_aim_at_what_the_shop_file_says() -> None:
    shop = shop_from_text(SHOP)
    short = tuple(replace(machine, crosscut_most=700.0) for machine in shop.machines.machines)
    shop = replace(shop, machines=replace(shop.machines, machines=short))
    project = Project(load_order(ORDER, shop), shop, budget=Budget(steps=200))
    laid = {one.need.item: one for one in project.layouts if isinstance(one.need.demand, SheetDemand)}
    one = laid["birch-plywood-6"]
    demand, layout = one.need.demand, one.layout
    assert isinstance(demand, SheetDemand)
    assert isinstance(layout, SheetLayout)
    assert demand.goals == (Goal.COST, Goal.CUTS, Goal.OFFCUTS)
    assert (demand.stages, demand.first) == (4, Axis.RIP)
    assert demand.saws.widest_crosscut == 700 * 16_000
    assert [(sheet.offcut, sheet.count) for sheet in demand.stock] == [(True, 2), (False, None)]
    assert verify_sheets(demand, layout) == ()
    assert layout.outcome.status is not Status.INFEASIBLE
    assert any("offcut" in pattern.stock for pattern in layout.patterns)  # on hand, so free
    assert [goal for goal, _ in layout.outcome.goals] == list(demand.goals)


def test_without_a_word_of_the_shop_all_goals_count_in_the_usual_order() -> None:
    cutting = built_in_shop().cutting
    assert [Goal[name.upper()] for name in cutting.goals] == list(Goal)
    assert (cutting.stages, cutting.first_cut, cutting.offcuts) == (None, None, ())


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ('[layout]\ngoals = ["beauty"]\n', "beauty"),
        ("[layout]\nstages = 0\n", "stages"),
        ('[[offcut]]\nitem = "no-such-ply"\nlength = 10\nwidth = 10\n', "no-such-ply"),
    ],
)
def test_wrong_wishes_are_refused(wrong: str, message: str) -> None:
    with pytest.raises(ShopError, match=message):
        shop_from_text("format = 1\n" + wrong)
