"""Devices let into a case: in its top, in a side, in a divider; each with the way of its plug and its keeper."""

from __future__ import annotations

import math

import pytest
from tests.design.harness import CACHE
from tests.design.test_cases import SIZE, box, built, case

from casewright.checks import device, fastener_pockets
from casewright.design.features.holes import PocketHole
from casewright.design.features.openings import Channel, Cutout, Recess
from casewright.design.mirror import mirror_piece
from casewright.project import Project
from casewright.solids.measure import volume_of

GRID = 'bays = { columns = ["door", { rows = ["drawer", "open"] }] }\n'
FRAMELESS = f'front = "frameless"\n{SIZE}{GRID}fronts = {{ mount = "overlay" }}\n'
BANDED = '[roles]\ntop = "birch-plywood-18"\n'
PLACES = {
    "solid top": (f"{SIZE}{GRID}device = {{}}", "", "top"),
    "banded top": (f'{FRAMELESS}top = {{ kind = "banded" }}\ndevice = {{ edge = "left" }}', BANDED, "top"),
    "breadboard": (f'{SIZE}{GRID}top = {{ kind = "breadboard" }}\ndevice = {{}}', "", "top"),
    "top panel": (f'{FRAMELESS}top = {{ kind = "between" }}\ndevice = {{}}', "", "top_panel"),
    "side": (f'{SIZE}{GRID}device = {{ into = "left wall" }}', "", "side.left"),
    "divider": (
        f'{SIZE}{GRID}device = {{ into = "left wall", bay = "c2,r2", from_floor = 120 }}', "", "divider[u1]",
    ),
}  # fmt: skip


def quiet(project: Project) -> bool:
    return not [f for f in project.piece_findings if f.severity.value in ("stop", "warn")]


@pytest.mark.parametrize("place", PLACES)
def test_a_module_lies_in_its_recess_and_its_plug_goes_out_at_the_back(place: str) -> None:
    text, before, host = PLACES[place]
    project = case(text, before)
    piece = built(project)
    assert quiet(project)
    part = piece.by_path()[f"case/{host}"].part
    recess = next(f for f in part.features if type(f) is Recess)
    channel = next(f for f in part.features if type(f) is Channel)
    # the built-in dimmer: 64 mm round and 14 mm thick, works through 2 to 6 mm, plug 12 × 9 mm
    assert 2.0 <= part.blank.extent(recess.face)[2] - recess.depth <= 6.0
    assert recess.depth >= 14.0 + 1.0
    u0, v0, u1, v1 = channel.outline.box
    assert min(u1 - u0, v1 - v0) >= 12.0
    assert channel.depth >= 9.0
    # the back is cut out behind the channel of an upright and of a panel below its upper edge, by what the plug takes
    back = piece.by_path()["case/back"].part
    missing = back.blank.length * back.blank.width * back.blank.thickness - volume_of(back, CACHE)
    holes = sum(1 for f in back.features if f.describe() in ("notch", "cut-out"))
    assert holes == (0 if host == "top" else 1)
    assert (missing > 12.0 * 5.0 * back.blank.thickness) == (host != "top")
    # the mirrored piece is as sound
    (ordered,) = project._ordered
    assert not list(device.run(project._subject(ordered, mirror_piece(piece))))


@pytest.mark.parametrize(("edge", "from_side"), [("left", 122), ("left", 126), ("left", 90)])
def test_mouths_of_pockets_keep_clear_of_what_is_cut_out_for_the_keeper(edge: str, from_side: int) -> None:
    """A pocket of 3/8 in at 15° opens 18 mm behind its axis: at 122 mm its lip ran 12 mm into the cut-out."""
    project = case(
        'front = "frameless"\nwidth = 560\ndepth = 420\nheight = 700\nbays = { rows = ["open", "open"] }\n'
        f'device = {{ edge = "{edge}", from_side = {from_side}, from_front = 76 }}'
    )
    piece = built(project)
    part = piece.by_path()["case/stretcher.front"].part
    (cut,) = (f.outline.box for f in part.features if type(f) is Cutout)
    pockets = [f for f in part.features if type(f) is PocketHole]
    assert len(pockets) == 4, "two at each end"
    for pocket in pockets:
        half = pocket.pocket_diameter / 2
        back = pocket.u - pocket.du * half / math.sin(math.radians(pocket.angle))
        low, high = min(back, pocket.u), max(back, pocket.u)
        aside = max(cut[1] - pocket.v, pocket.v - cut[3]) - half
        assert max(cut[0] - high, low - cut[2], aside) >= 2.0 - 1e-6
    (ordered,) = project._ordered
    assert not list(fastener_pockets.run(project._subject(ordered, piece)))


def test_the_front_stretcher_reaches_behind_what_is_cut_out_of_it() -> None:
    piece = built(case(f"{SIZE}{GRID}device = {{}}"))
    plain = built(case(f"{SIZE}{GRID}"))
    (_, y0, _), (_, y1, _) = box(piece, "stretcher.front")
    (_, p0, _), (_, p1, _) = box(plain, "stretcher.front")
    assert y1 - y0 > p1 - p0
    assert "case/top~stretcher.front.land" in {j.id for j in piece.joints}


def codes(text: str, before: str = "") -> set[str]:
    return {f.code for f in case(text, before).assembly.pieces[0].findings if f.stops}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (f'{SIZE}{GRID}top = {{ kind = "panelled" }}\ndevice = {{}}', "device.top"),
        (f"{SIZE}{GRID}device = {{ from_side = 40 }}", "device.place"),
        (f"{SIZE}{GRID}device = {{ from_side = 450 }}", "device.meets"),
        # Under a top between the sides it comes from below, past a fixed panel that stands there by then.
        (
            f'front = "frameless"\n{SIZE}bays = "closed"\ntop = {{ kind = "between" }}\ndevice = {{ from_front = 40 }}',
            "device.meets",
        ),
        (f"{SIZE}{GRID}device = {{ wood_over = 8 }}", "device.wood_over"),
        (f'{SIZE}{GRID}device = {{ into = "left wall", wood_over = 5.5 }}', "device.recess"),
        (f'{SIZE}{GRID}device = {{ into = "left wall", bay = "c2,r1" }}', "device.bay"),
        (f'{SIZE}{GRID}device = {{ into = "right wall", bay = "c1,r1" }}', "device.slides"),
        (f'{SIZE}{GRID}stand = {{ kind = "posts" }}\ndevice = {{ into = "left wall" }}', "device.post"),
    ],
)
def test_what_bars_a_module_is_found(text: str, code: str) -> None:
    assert code in codes(text)


def test_a_module_that_lies_bare_is_not_hidden_under_wood() -> None:
    assert codes(f"{SIZE}{GRID}device = {{}}", '[roles]\ndevice = "spot-light-58"\n') == {"device.wood_over"}
