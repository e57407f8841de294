"""Room around pulls, against the sizes of the pull itself: its base is as wide as it is, posts included."""

from __future__ import annotations

import pytest
from tests.laws.orders import project_of

SHOP = 'format = 1\nname = "Fernbrook Workshop"\nunits = "mm"\n'


# A bar of 138 mm in a field of width − 2 × (19 + 19.05) between the mouldings: 219 mm leaves 40 on each side.
@pytest.mark.parametrize(("width", "found"), [(380, False), (280, True)])
def test_a_long_pull_lies_on_its_mouldings_only_where_it_is_longer_than_the_field(width: int, found: bool) -> None:
    order = f"""format = 1
title = "pulls"
units = "mm"
[[piece]]
kind = "case"
name = "case"
width = {width}
depth = 450
height = 500
front = "frameless"
bays = {{ rows = ["drawer", "drawer"] }}
top = {{ kind = "between" }}
stand = {{ kind = "plinth", height = 80 }}
fronts = {{ mount = "overlay", drawer = "applied frame" }}
roles = {{ drawer_pull = "{"pull-128" if not found else "pull-320"}" }}
"""
    project = project_of(order, SHOP)
    told = {f.code for f in project.piece_findings if f.stops}
    # The design refuses a pull longer than its field; the check tells of one that comes to lie on its mouldings.
    assert bool(told & {"fit.pull", "drawer.pull_field"}) is found
