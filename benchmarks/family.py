"""One order for each thing that a case can be made of, in company that is not usual: built, drawn, held to every law.

    python -m benchmarks.family [--only WORD] [--packet]

Each order is designed and checked, every law of a piece is tried on it, every shape is compared with the other kernel,
and every part is drawn; with --packet its whole packet is written as well. Exit 1 if one fails.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

from tests.design.harness import agrees_with_kernel
from tests.laws.orders import SHOP, project_of
from tests.laws.test_cases import pieces_hold

from casewright.packet.pages.part_drawings import part_drawing_pages
from casewright.packet.pages.setting import setting_of
from casewright.packet.write import write_packet
from casewright.project import Project

HEAD = 'format = 1\ntitle = "family"\nunits = "mm"\n'
CASE = '[[piece]]\nkind = "case"\nname = "case"\n'
BIG = "width = 1100\ndepth = 460\nheight = 950\n"
TALL = "width = 900\ndepth = 420\nheight = 1500\n"
LOW = "width = 1000\ndepth = 450\nheight = 460\n"
BEDSIDE = '[[piece]]\nkind = "bedside"\nwidth = 508\ndepth = 430\nheight = 660\n'
CHERRY = 'roles = { case = "cherry-4/4" }\nfinish = "oil"\n'
SKIRTING = "[room]\nskirting_height = 110\nskirting_thickness = 16\n"

ORDERS: dict[str, str] = {
    # features
    "mitre and bevel: crown and base around bracket feet, a pair": CASE + BIG + 'handed = "pair"\ncrown = true\n'
    'base = true\nbays = { columns = ["pair", "drawer"] }\nstand = { kind = "bracket feet" }\n',
    "rip bevel: split batten behind a framed back": CASE + "width = 800\ndepth = 380\nheight = 700\n"
    'front = "frameless"\nbays = { columns = ["door", "open"] }\nfronts = { mount = "overlay" }\n'
    'top = { kind = "between" }\nstand = { kind = "wall", height = 1300, fixing = "split batten" }\n',
    "stopped dado: banded shelves beside a divider": CASE + TALL + 'front = "frameless"\ntop = { kind = "between" }\n'
    'bays = { columns = [{ rows = ["open", "open", "open"] }, { holds = "door", shelves = 2 }] }\n'
    'fronts = { mount = "half-overlay" }\njoints = { shelves = "dado" }\n',
    "slots: a breadboard top fixed in the middle": CASE + BIG + 'bays = { columns = ["pair", "drawer"] }\n'
    'top = { kind = "breadboard", fixed = "middle", edge = "roundover" }\n',
    "taper without cove, on inner faces: solid oiled case": CASE + BIG + CHERRY + "bottom_rail_visible = 95\n"
    'bays = { rows = ["drawer", "drawer"] }\nstand = { kind = "feet", tapered = "inner faces", cove = 0, inset = 4 }\n',
    "ogee along a panelled top, painted": CASE + BIG + 'bays = { columns = ["pair", "open"] }\n'
    'top = { kind = "panelled", edge = "ogee", edge_size = 8, finish = "paint" }\n',
    "cove along a lid": CASE + LOW + 'bays = { columns = ["closed", "closed"] }\n'
    'top = { kind = "lid", edge = "cove", overhang_front = 30 }\n',
    "arched rail on corner posts, tenoned": CASE + BIG + 'bays = { rows = ["open", "pair"] }\narch = 35\n'
    'bottom_rail_visible = 85\nstand = { kind = "posts", height = 180 }\njoints = { frame = "tenon" }\n',
    "notches for toes and skirting under a half-lapped frame": SKIRTING + CASE + BIG
    + 'bays = { columns = ["door", "open"] }\nstand = { kind = "sides", height = 110, notched = true, '
    'levelled = true }\njoints = { frame = "half lap" }\n',
    "keys across a set-back plinth, stained": CASE + BIG + 'finish = "stained clear"\n'
    'bays = { columns = ["pair", "open"] }\nstand = { kind = "plinth", setback = 40, levelled = true }\n'
    'joints = { plinth = "keyed mitre" }\n',
    "recess and channel: a device in a divider, a pair": CASE + BIG + 'handed = "pair"\n'
    'bays = { columns = ["open", "open", "drawer"] }\ndevice = { into = "right wall", bay = "c1,r1" }\n',
    # joints
    "tenoned frame, buttons, top fixed at the rear": CASE + BIG + 'bays = { columns = ["open", "pair"] }\n'
    'joints = { frame = "tenon" }\ntop = { fixing = "buttons", fixed = "rear" }\n',
    "figure plates in two lengths of cleat": CASE + "width = 900\ndepth = 560\nheight = 850\n"
    'front = "frameless"\nbays = { columns = ["door", "open"] }\nfronts = { mount = "overlay" }\n'
    'top = { fixing = "figure plates", fixed = "middle" }\n',
    "dowelled frame with narrow centre stiles": CASE + BIG + "centre_stile = 32\ntop_rail_visible = 42\n"
    'bottom_rail_visible = 60\ndrawer_rail = 40\nbays = { rows = [{ columns = ["drawer", "drawer", "drawer"] }, '
    '{ columns = ["door", "door"] }] }\njoints = { frame = "dowels" }\n',
    "stiles proud of sheet sides": CASE + BIG + 'frame_reveal = 3\nbays = { columns = ["door", "drawer"] }\n'
    'top = { kind = "between" }\nstand = { kind = "bracket feet" }\n',
    # blocks
    "solid drawer bottoms and sides, dowelled, on runners": CASE + BIG + "drawer_rail = 40\n"
    'bays = { rows = ["drawer", "drawer"] }\nfronts = { guide = "runner", drawer = "panel" }\n'
    'roles = { drawer_side = "poplar-4/4", drawer_bottom = "poplar-4/4" }\n',
    "under-mount drawers, half-overlay, matched grain": CASE + "width = 900\ndepth = 460\nheight = 950\n"
    'front = "frameless"\nmatch_grain = true\nfinish = "clear"\n'
    'bays = { columns = ["drawer", { rows = ["drawer", "drawer"], graduate = 20 }] }\n'
    'fronts = { mount = "half-overlay", guide = "under" }\n',
    "drawers parted by gaps beside an astragal": CASE + BIG + 'bays = { columns = [{ rows = ["drawer", "drawer", '
    '"drawer"], between = "gap", graduate = 25 }, "pair"] }\nfronts = { meeting = "astragal", drawer = "slab" }\n',
    "applied frames over half-overlay doors": CASE + BIG + 'bays = { columns = ["door", { rows = ["drawer", "drawer"] '
    '}] }\nfronts = { mount = "half-overlay", drawer = "applied frame" }\n',
    "glass pair on knife hinges, frameless inset": CASE + "width = 800\ndepth = 400\nheight = 1000\n"
    'front = "frameless"\nbays = "pair"\nfronts = { door = "glass", hinge = "knife" }\n',
    "solid slabs on butts": CASE + "width = 640\ndepth = 400\nheight = 850\n" + CHERRY
    + 'bays = { columns = ["door", "door"] }\nfronts = { door = "slab", hinge = "butt" }\n',
    "solid panels 1.2 m high, cup hinges": CASE + TALL + CHERRY
    + 'bays = { columns = [{ holds = "door", shelves = 3 }, { holds = "door", hinged = "right", shelves = 2 }] }\n'
    'fronts = { door = "solid panel", hinge = "cup" }\ntop = { kind = "between" }\n',
    "framed back with solid panels": CASE + BIG + CHERRY + 'bays = { columns = ["open", "open"] }\n'
    'back = { kind = "framed", panel = "solid panel" }\n',
    "back set on, screwed, behind a face frame": CASE + BIG + 'bays = { columns = ["pair", "drawer"] }\n'
    'back = { kind = "set on", fixing = "screws" }\n',
    "wardrobe: rods, scribing strips": CASE + "width = 1100\ndepth = 600\nheight = 2100\n" + 'front = "frameless"\n'
    'scribe = "top"\nbays = { columns = [{ holds = "pair", rod = true }, { holds = "door", shelves = 4 }] }\n'
    'fronts = { mount = "overlay" }\ntop = { kind = "between" }\n',
    "posts with a let-in device in the top, before a skirting": SKIRTING + CASE + BIG
    + 'bays = { rows = ["drawer", "drawer"] }\nstand = { kind = "posts" }\ndevice = { into = "top" }\n',
    "fixed, equal, shared and graduated in one grid": CASE + "width = 1300\ndepth = 460\nheight = 1000\n"
    'bays = { columns = [{ size = 300, holds = "door" }, { share = 2, rows = ["drawer", "drawer", "drawer"], '
    'graduate = 22 }, { rows = [{ holds = "open", size = 250 }, "open", "drawer"] }] }\n',
    "nested three deep, one hand": CASE + "width = 1200\ndepth = 450\nheight = 1100\n" + 'handed = "right"\n'
    'bays = { columns = [{ rows = ["open", { columns = ["door", { rows = ["drawer", "drawer"] }] }] }, "open"] }\n',
    "banded top of sheet, buttons": CASE + BIG + 'bays = { columns = ["pair", "drawer"] }\n'
    'top = { kind = "banded", fixing = "buttons" }\nroles = { top = "birch-plywood-18" }\n',
    "bedside cabinet oiled, ogee, top fixed at the rear": BEDSIDE + 'finish = "oil"\n[piece.top]\nedge = "ogee"\n'
    'fixed = "rear"\n',
    "bedside cabinet without mouldings, stiles proud": BEDSIDE + "crown = false\nbase = false\nframe_reveal = 2\n"
    'bottom_rail_visible = 85\nhanded = "left"\n[piece.feet]\ntapered = "inner faces"\ncove = 0\n',
}  # fmt: skip


def tried(order: str, packet: bool) -> str:
    """Return what is wrong with an order; "" where it is built, drawn and holds every law."""
    project = project_of(HEAD + order, SHOP)
    stops = [f"{f.code} {f.path}: {f.message}" for f in project.findings if f.stops]
    if stops:
        return stops[0]
    pieces_hold(project)
    for piece in project.assembly.pieces:
        agrees_with_kernel(piece, 3)
    drawn = part_drawing_pages(setting_of(project, "letter", "2026-01-15", draft=False))
    if drawn.lacking:
        return f"not drawn: {drawn.lacking}"
    if packet:
        _packet(project)
    return ""


def _packet(project: Project) -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_packet(project, Path(folder), date="2026-01-15")


def main() -> int:
    """Try every order and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="")
    parser.add_argument("--packet", action="store_true")
    options = parser.parse_args()
    failed = 0
    for name, order in ORDERS.items():
        if options.only not in name:
            continue
        start = time.process_time()
        try:
            wrong = tried(order, options.packet)
        except Exception as broken:  # noqa: BLE001 (whatever goes wrong is what this run looks for)
            wrong = f"{type(broken).__name__} {str(broken)[:300]}"
        failed += bool(wrong)
        print(f"{'FAILS' if wrong else 'holds'}  {time.process_time() - start:5.1f} s  {name}  {wrong}", flush=True)
    print(f"{len(ORDERS) - failed} of {len(ORDERS)} hold" if not options.only else f"{failed} fail")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
