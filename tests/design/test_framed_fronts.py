"""Framed drawer fronts: their screws, from inside the box, go into the one member that they are said to hold."""

import pytest
from tests.design.test_cases import built, case

from casewright.design.sites import world_box


@pytest.mark.parametrize("width", [200.0, 223.5, 260.0])
def test_screws_of_a_narrow_front_stay_in_the_rail_that_they_hold(width: float) -> None:
    """By the boxes of the parts: a screw is in the rail's length alone, not in the stile beside it."""
    columns = f'columns = [{{ holds = "drawer", size = {width} }}, "drawer", "drawer"]'
    piece = built(
        case(
            "width = 1000\ndepth = 335\nheight = 483\n"
            'front = "frameless"\nfronts = { mount = "overlay", drawer = "panel", guide = "under" }\n'
            f"bays = {{ {columns} }}\n"
        )
    )
    parts = {p.path: p for p in piece.placed}
    joints = [j for j in piece.joints if "/face/rail." in j.b and "~box." in j.id and "[c1," in j.id]
    assert joints
    for joint in joints:
        lo, hi = (world_box(parts[joint.b.replace("rail.top", f"stile.{h}")]) for h in ("left", "right"))
        for screw in (f for f in piece.fasteners if f.joint == joint.id):
            assert lo[1][0] + 2.0 < screw.frame.origin[0] < hi[0][0] - 2.0
