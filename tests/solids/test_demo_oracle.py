"""Every example and random variants, shape by shape, against an independent geometry kernel.

Source: Open CASCADE through `cadquery-ocp-novtk`, which evaluates the same volumes exactly (arcs, cones, planes).
"""

from __future__ import annotations

import pytest
from tests.laws.orders import project_of, valid_texts
from tests.laws.test_laws import DEMO
from tests.solids.ocp_oracle import oracle_volume

from casewright import Project, load_order, load_shop
from casewright.cache import Cache
from casewright.solids.measure import volume_of

CACHE = Cache()


def shapes(project: Project) -> dict[str, object]:
    return {p.thing.key: p.thing for piece in project.assembly.pieces for p in piece.placed}


# What an order of several pieces repeats is looked at in the order of each.
EXAMPLES = sorted(p.stem for p in DEMO.parent.glob("*.toml") if p.stem != "room-3")


@pytest.mark.parametrize("which", [*EXAMPLES, 3, 11])
def test_every_shape_agrees_with_the_independent_kernel(which: str | int) -> None:
    if isinstance(which, str):
        project = Project(load_order(DEMO.parent / f"{which}.toml"), load_shop())
    else:
        order, shop, _ = valid_texts(which)
        project = project_of(order, shop)
    things = shapes(project)
    assert len(things) > 10
    for thing in things.values():
        exact = oracle_volume(thing.lowered())  # type: ignore[attr-defined]
        assert volume_of(thing, CACHE) == pytest.approx(exact, rel=1e-3)  # type: ignore[arg-type]
