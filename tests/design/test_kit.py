"""Stock by role: what parts of a given thickness are taken from."""

import pytest
from tests.design.harness import kit_of


@pytest.mark.parametrize(
    ("thickness", "item"),
    # dressed: 4/4 gives 3/4 in (19.05 mm), 6/4 gives 1-1/4 in (31.75 mm): stock tables, common shop yield
    [(9.85, "poplar-4/4"), (19.05, "poplar-4/4"), (19.3, "poplar-6/4"), (31.75, "poplar-6/4"), (60.0, "poplar-4/4")],
)
def test_blocking_is_planed_from_the_thinnest_board_that_gives_it(thickness: float, item: str) -> None:
    assert kit_of().blocking(thickness).item == item


def test_half_a_millimetre_asks_for_no_second_box_of_screws() -> None:
    """1-3/4 in is 44.45 mm; a shop that keeps it does not buy 45 mm for one joint (common practice)."""
    assert kit_of().screw("wood", 8, 38.0, 45.0, role="block_screw").id == "screw-8x1-3/4"
    assert kit_of().screw("wood", 8, 44.6, 45.0, role="block_screw").id == "screw-8x45", "where nothing else fits"
    assert kit_of().screw("wood", 8, 38.0, 51.0, role="block_screw").id == "screw-8x2", "else the longest"
