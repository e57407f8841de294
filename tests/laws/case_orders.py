"""Random orders from the whole grammar of a case: any grid, front, stand, top, drawers and doors, any stock."""

from __future__ import annotations

import random
import re

INCH = 25.4


def random_case(rng: random.Random) -> str:
    """Return an order of one case, mm; it may or may not be buildable."""
    framed = rng.random() < 0.55
    depth, height = _mm(rng, 320, 620), _mm(rng, 450, 2000)
    # A high and wide back would need a divider of full height on which two sheets meet.
    width = _mm(rng, 380, 1700 if height < 1150 else 1150)
    stand = rng.choice(["feet", "plinth", "sides", *(["bracket feet", "posts"] if framed else ["wall"])])
    mount = rng.choice(["inset", "overlay", "half-overlay"])
    top = rng.choice(["solid", "banded", "breadboard", "panelled", "between"] if height < 1300 else ["between"])
    moulded = framed and mount == "inset" and stand != "posts"
    lidded = rng.random() < 0.08
    if lidded:
        height, stand, top = _mm(rng, 400, 560), rng.choice(["plinth", "sides"]), "lid"
    grid = _closed(rng) if lidded else bays(rng, width - 120, height - 260)
    rows = [
        "format = 1", 'title = "laws"', 'units = "mm"', "[room]",
        f"humidity_low = {rng.randint(20, 40)}", f"humidity_high = {rng.randint(55, 75)}",
        f"humidity_fitting = {rng.randint(41, 54)}", *_skirting(rng), "[[piece]]", 'kind = "case"', 'name = "case"',
        f'handed = "{rng.choice(["none", "none", "pair", "left"])}"',
        f"width = {width}", f"depth = {depth}", f"height = {height}",
        f'front = "{"frame" if framed else "frameless"}"', f'finish = "{_finish(rng, width)}"',
        f"stile_width = {_mm(rng, 38, 60)}", f"centre_stile = {_mm(rng, 30, 60)}",
        f"drawer_rail = {_mm(rng, 24, 40)}", f"top_rail_visible = {_mm(rng, 25, 45)}",
        f"bottom_rail_visible = {_mm(rng, 70, 95) if stand == 'feet' else _mm(rng, 45, 90)}",
        f"crown = {_yes(rng, moulded and top not in ('between',), 0.4)}",
        f"base = {_yes(rng, moulded and stand == 'feet', 0.5)}",
        f"match_grain = {_yes(rng, True, 0.2)}", f'scribe = "{_scribed(rng, stand)}"',
        f"bays = {grid}",
        f'top = {{ kind = "{top}", fixing = "{_fixing(rng, top)}", fixed = "{_fixed(top, depth)}", '
        f'edge = "{_edge(top, height)}" }}',
        *_shaped(framed, stand, moulded, depth),
        _back(rng, stand),
        _stand(rng, stand),
        _fronts(rng, mount),
        _joints(rng), *_device(rng, top, grid),
    ]  # fmt: skip
    roles = _stock(rng) | ({"top": "birch-plywood-18"} if top == "banded" else {})
    rows.append("roles = { " + ", ".join(f'{role} = "{item}"' for role, item in roles.items()) + " }")
    return "\n".join(rows)


TABLES = ("joints = ", "top = ", "back = ", "fronts = ")
BY_NAME = re.compile(r'\b(fixing|hinge|shelves|frame|plinth) = "(?!auto|rail|split)[a-z ]+"')


def left_to_itself(order: str) -> str:
    """Return a random order with every joint, fixing and hinge that it asks for by name left to the design."""
    rows = (BY_NAME.sub(r'\1 = "auto"', row) if row.startswith(TABLES) else row for row in order.split("\n"))
    return "\n".join(rows)


def _finish(rng: random.Random, width: float) -> str:
    return rng.choice(["paint", ("clear", "stained clear", "oil")[int(width) % 3]])


def _joints(rng: random.Random) -> str:
    kinds = {
        "shelves": rng.choice(["auto", "auto", "dado", "dowels"]),
        "frame": rng.choice(["auto", "auto", "dowels", "tenon", "half lap"]),
        "plinth": rng.choice(["auto", "auto", "pocket screws", "mitre", "keyed mitre"]),
    }
    return "joints = { " + ", ".join(f'{key} = "{kind}"' for key, kind in kinds.items()) + " }"


def _fixing(rng: random.Random, top: str) -> str:
    whole = top in ("solid", "banded")
    return rng.choice(["auto", "auto", "buttons", "figure plates"] if whole else ["auto", "slotted screws"])


def _edge(top: str, height: float) -> str:
    shaped = top in ("solid", "breadboard", "panelled")
    return ("square", "chamfer", "roundover", "square", "ogee")[int(height) % 5] if shaped else "square"


def _shaped(framed: bool, stand: str, moulded: bool, depth: float) -> list[str]:
    """Return an arch and a reveal of the face frame now and then, by a size, as `_fixed` does."""
    arch = 20 if framed and stand in ("posts", "feet") and not moulded and int(depth) % 3 == 0 else 0
    return [
        f"arch = {arch}",
        *(["frame_reveal = 2"] if framed and not moulded and stand != "posts" and int(depth) % 2 else []),
    ]


def _fixed(top: str, depth: float) -> str:
    """Return where a top stays put; from a size, so that the orders of known seeds stay what they were besides."""
    return ("front", "front", "middle", "rear")[int(depth) % 4] if top in ("solid", "breadboard") else "front"


def _back(rng: random.Random, stand: str) -> str:
    on = "set on" if stand not in ("posts", "sides") else "set in"
    kind = rng.choice(["set in", "set in", on, "framed" if stand != "wall" else "set in"])
    fixing = rng.choice(["auto", "auto", "nails", "screws"]) if kind == "set on" else "auto"
    panel = rng.choice(["sheet panel", "solid panel"]) if kind == "framed" else "sheet panel"
    return f'back = {{ kind = "{kind}", fixing = "{fixing}", panel = "{panel}" }}'


def _device(rng: random.Random, top: str, grid: str) -> list[str]:
    """A let-in device now and then: in the top where one part closes the case above, or in a wall of a bay."""
    walls = ["left wall", "right wall"] if any(f'"{holds}"' in grid for holds in ("open", "door", "pair")) else []
    hosts = [*walls, *(["top"] * 2 if top not in ("panelled", "lid") else [])]
    if not hosts or rng.random() < 0.85:
        return []
    into = rng.choice(hosts)
    keys = [f'into = "{into}"']
    if into == "top":
        keys.append(f'edge = "{rng.choice(["left", "right"])}"')
    return [f"device = {{ {', '.join(keys)} }}"]


CASES = ("birch-plywood-18", "mdf-19", "multi-ply-birch-18", "melamine-white-19mm", "cherry-4/4", "poplar-4/4")
UNLIKE = {
    "face_frame": ("maple-4/4", "cherry-4/4"),
    "drawer_front": ("cherry-4/4", "birch-plywood-18"),
    "drawer_side": ("poplar-4/4", "birch-plywood-12"),
    "door_slab": ("birch-plywood-18", "cherry-4/4"),
    "door_panel_solid": ("cherry-4/4",),
    "back": ("mdf-6", "birch-plywood-12"),
    "drawer_pull": ("pull-128",),
}


def _stock(rng: random.Random) -> dict[str, str]:
    """Return a shop's other stock for some roles: what the case is of, sheet or solid, and what is unlike the usual."""
    out: dict[str, str] = {}
    if rng.random() < 0.3:
        out["case"] = rng.choice(CASES)
        out["shelf"] = out["case"]
    for role, items in UNLIKE.items():
        if rng.random() < 0.1:
            out[role] = rng.choice(items)
    return out


def _closed(rng: random.Random) -> str:
    """Return the bays of a chest with a lid: closed, in one or side by side."""
    return rng.choice(['"closed"', '"closed"', '{ columns = ["closed", "closed"] }'])


def _scribed(rng: random.Random, stand: str) -> str:
    return rng.choice(["", "", "", "left", "left right"]) if stand != "posts" else ""


def _skirting(rng: random.Random) -> list[str]:
    return ["skirting_height = 95", "skirting_thickness = 14"] if rng.random() < 0.3 else []


def _fronts(rng: random.Random, mount: str) -> str:
    drawer = rng.choice(["applied frame", "slab", "panel"])
    guide = rng.choice(["side", "side", "under", "runner"])
    door = rng.choice(["sheet panel", "solid panel", "glass", "slab"])
    meeting = rng.choice(["gap", "gap", "astragal"])
    knives = mount == "inset" and door != "slab" and rng.random() < 0.2
    hinge = "knife" if knives else "auto"
    given = {"mount": mount, "drawer": drawer, "guide": guide, "door": door, "meeting": meeting, "hinge": hinge}
    return "fronts = { " + ", ".join(f'{key} = "{value}"' for key, value in given.items()) + " }"


def _mm(rng: random.Random, low: float, high: float) -> float:
    return round(rng.uniform(low, high) * 2) / 2


def _yes(rng: random.Random, possible: bool, share: float) -> str:
    return str(possible and rng.random() < share).lower()


def _stand(rng: random.Random, kind: str) -> str:
    limits = {
        "feet": (95, 150),
        "bracket feet": (95, 150),
        "posts": (95, 250),
        "plinth": (70, 110),
        "sides": (80, 110),
        "wall": (300, 1400),
    }
    setback = rng.choice([0, _mm(rng, 10, 60)])
    keys = [f'kind = "{kind}"', f"height = {_mm(rng, *limits[kind])}", f"setback = {setback}"]
    if kind in ("plinth", "sides"):
        keys.append(f"levelled = {_yes(rng, True, 0.3)}")
    if kind == "sides":
        keys.append(f"notched = {_yes(rng, True, 0.4)}")
    if kind == "wall":
        keys.append(f'fixing = "{rng.choice(["rail", "split batten"])}"')
    return f"stand = {{ {', '.join(keys)} }}"


def bays(rng: random.Random, width: float, height: float, depth: int = 0) -> str:
    """Return a random bay as TOML for an opening of about this size: split while it is large, else filled."""
    wide, high = width > 700, height > 500
    if depth < 3 and (wide or high) and rng.random() < 0.85:
        columns = wide and (not high or rng.random() < 0.5)
        most = int((width if columns else height) / (260 if columns else 170))
        n = rng.randint(2, max(2, min(4, most)))
        size = (width if columns else height) / n
        inner = [bays(rng, *((size, height) if columns else (width, size)), depth + 1) for _ in range(n)]
        if not columns and rng.random() < 0.3:
            inner = ['"drawer"'] * n
            between = ', between = "gap"' if rng.random() < 0.4 else ""
            return f"{{ rows = [{', '.join(inner)}], graduate = {_mm(rng, 5, 30)}{between} }}"
        if rng.random() < 0.3:
            inner[0] = _sized(rng, inner[0], size)
        return f"{{ {'columns' if columns else 'rows'} = [{', '.join(inner)}] }}"
    return _filled(rng, width, height)


def _sized(rng: random.Random, bay: str, size: float) -> str:
    if bay.startswith('"'):
        bay = f"{{ holds = {bay} }}"
    return f"{bay[:-1]}, size = {_mm(rng, size * 0.8, size * 1.2)} }}"


def _filled(rng: random.Random, width: float, height: float) -> str:
    """Return what a bay of about this size may hold: doors only where two hinges have room."""
    if height < 400:
        return rng.choice(['"drawer"', '"drawer"', '"drawer"', '"open"'])
    shelves = rng.randint(0, 2) if height > 500 else 0
    holds = rng.choice(["door", "door", "door", "open", "closed"])
    if width > 620 and holds == "door":
        holds = "pair"
    more = f', hinged = "{rng.choice(["left", "right"])}"' if holds == "door" else ""
    if holds == "closed":
        return '"closed"'
    if height > 1100 and holds != "door" and rng.random() < 0.4:
        return f'{{ holds = "{holds}", rod = true }}'
    return f'{{ holds = "{holds}", shelves = {shelves}{more} }}'
