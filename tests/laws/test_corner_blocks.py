"""Orders whose corner blocks once had no room for their screws: the screws go around what stands there."""

from __future__ import annotations

import random

import pytest
from tests.laws.orders import project_of, random_order, random_shop

from casewright.cache import Cache
from casewright.solids.fastened import crossed_fasteners, fastener_overlaps


@pytest.mark.parametrize("seed", [25, 205])
def test_screws_of_a_corner_block_go_around_those_of_the_frame(seed: int) -> None:
    rng = random.Random(seed)
    piece = project_of(random_order(rng), random_shop(rng)).assembly.pieces[0]
    assert not [f for f in piece.findings if f.code == "fastener.no_room"]
    if piece.placed:
        held = [f for f in piece.fasteners if "/block.front." in f.joint and f.joint.endswith("rail.bottom")]
        assert len(held) >= 2
        assert not crossed_fasteners(piece)
        assert not fastener_overlaps(piece, Cache())
