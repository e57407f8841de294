"""Times and memory from order to checked design, of the 20 fixed edits, of a packet, and how they grow.

    python -m benchmarks.spine            all but the longest
    python -m benchmarks.spine --full     growth to 1,000 pieces that all differ, too
    python -m benchmarks.spine --only edits

Prints the tables of docs/performance.md. Times are wall-clock seconds; run it on a quiet machine.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Callable
from typing import Any

from benchmarks.edits import AIMS, EDITS, Edit
from benchmarks.measure import (
    ROOT,
    environment,
    in_own_process,
    machine,
    median,
    peak_megabytes,
    percentile,
    python_seconds,
    seconds,
)
from benchmarks.orders import DEMO, counted, demo_text, different, named

REPEATS = 5
GROWTH = {"equal, by count": (counted, 1000), "equal, own names": (named, 100), "all different": (different, 100)}
FULL = 1000


def main() -> int:
    """Run the parts that are asked for; return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", choices=sorted(PARTS), help="one part")
    parser.add_argument("--full", action="store_true", help="growth to 1,000 different pieces, too")
    parser.add_argument("--alone", nargs="+", help=argparse.SUPPRESS)  # a run in its own process
    options = parser.parse_args()
    if options.alone:
        print(json.dumps(ALONE[options.alone[0]](*options.alone[1:])))
        return 0
    print(f"{machine()}\n")
    for name, part in PARTS.items():
        if options.only in (None, name):
            part(options.full)
            print(flush=True)
    return 0


def imports(_: bool) -> None:
    """Print how long a fresh Python takes to start, and to import the doors."""
    table("Import", "fresh process, median of 5", "s")
    for program in ("pass", "import casewright", "import casewright.cli", "import casewright.project"):
        row(program, median([python_seconds(program) for _ in range(REPEATS)]))


def stages(_: bool) -> None:
    """Print each stage of the demonstration order: first run of a process, then with an empty and a full cache."""
    first = in_own_process("--alone", "stages")
    table("Demonstration order", "stage", "cold, s", "warm, empty cache, s", "nothing changed, s")
    for stage in first["cold"]:
        row(stage, first["cold"][stage], first["warm"][stage], first["kept"][stage])
    row("total", *(sum(first[kind].values()) for kind in ("cold", "warm", "kept")))
    print(f"\nMost memory: {first['memory']:.0f} MB. Pieces {first['pieces']}, placed things {first['placed']}.")


def stages_alone() -> dict[str, Any]:
    """Measure the stages in this process, which must be fresh."""
    from casewright.cache import Cache

    cold, project = staged(Cache())
    cache = Cache()
    runs = [staged(Cache())[0] for _ in range(REPEATS - 1)] + [staged(cache)[0]]
    again = [staged(cache)[0] for _ in range(REPEATS)]
    return {
        "cold": cold,
        "warm": {stage: median([r[stage] for r in runs]) for stage in cold},
        "kept": {stage: median([r[stage] for r in again]) for stage in cold},
        "memory": peak_megabytes(),
        "pieces": len(project.assembly.pieces),
        "placed": sum(len(p.placed) for p in project.assembly.pieces),
    }


def staged(cache: Any) -> tuple[dict[str, float], Any]:
    """Return the seconds of each stage, and the project."""
    from casewright import Project, load_shop

    times: dict[str, float] = {}
    made: dict[str, Any] = {}
    times["read order and shop"] = seconds(lambda: made.update(order=read(demo_text()), shop=load_shop()))
    project = Project(made["order"], made["shop"], cache)
    times["design"] = seconds(lambda: project.assembly)
    times["solids"] = seconds(lambda: solids_of(project))
    times["checks"] = seconds(lambda: project.piece_findings)
    return times, project


def solids_of(project: Any) -> None:
    """Make every solid of the project."""
    from casewright.solids.evaluate import solid

    for piece in project.assembly.pieces:
        for placed in piece.placed:
            solid(placed.thing, project.cache)


def read(text: str) -> Any:
    """Return the order of a text."""
    from casewright.catalogue import BUILT_IN
    from casewright.order.reading import order_from_text

    return order_from_text(text, BUILT_IN.kinds)


def edits(_: bool) -> None:
    """Print the 95th percentiles of the 20 edits, from the changed text to the findings, and to a picture."""
    taken = in_own_process("--alone", "edits")
    table(
        "20 edits, three values each", "reach", "edits", "checked p50, s", "p95, s", "aim, s", "drawn p50, s", "p95, s"
    )
    for reach, aim in AIMS.items():
        runs = [t for e in EDITS if e.reach == reach for t in taken[e.name]]
        checked, drawn = [r[0] for r in runs], [r[1] for r in runs]
        p = percentile
        row(reach, len(runs), p(checked, 0.5), p(checked, 0.95), aim, p(drawn, 0.5), p(drawn, 0.95))
    print()
    table("Each edit", "edit", "reach", "checked, s", "drawn, s", "stops")
    for edit in EDITS:
        runs = taken[edit.name]
        row(edit.name, edit.reach, median([r[0] for r in runs]), median([r[1] for r in runs]), max(r[2] for r in runs))


def edits_alone() -> dict[str, Any]:
    """Measure every edit against a cache that knows the unchanged order."""
    from casewright import load_shop
    from casewright.cache import Cache

    cache = Cache()
    warm(cache, load_shop())
    return {e.name: [edited(e, i, cache) for i in range(len(e.values))] for e in EDITS}


def warm(cache: Any, shop: Any) -> None:
    """Fill the cache with the unchanged order, checked and drawn."""
    from casewright import Project

    project = Project(read(demo_text()), shop, cache)
    assert project.piece_findings is not None
    draw(project)


def edited(edit: Edit, run: int, cache: Any) -> tuple[float, float, int]:
    """Return (seconds until checked, seconds until drawn too, findings that stop) of one edit."""
    from casewright import Project, load_shop
    from casewright.order import set_value
    from casewright.shop import shop_from_text

    value = edit.values[run]
    shop_text = set_value(built_in_text(), edit.path, value) if edit.in_shop else ""
    made: list[Any] = []

    def check() -> None:
        shop = shop_from_text(shop_text) if edit.in_shop else load_shop()
        text = demo_text() if edit.in_shop else set_value(demo_text(), edit.path, value)
        project = Project(read(text), shop, cache)
        made.append(project.piece_findings)
        made.append(project)

    checked = seconds(check)
    drawn = checked + seconds(lambda: draw(made[1]))
    return checked, drawn, sum(f.stops for f in made[0])


def built_in_text() -> str:
    """Return the text of the built-in shop."""
    from importlib.resources import files

    return (files("casewright.shop") / "data" / "default.toml").read_text(encoding="utf-8")


def draw(project: Any) -> None:
    """Make the isometric picture of the first piece, hidden lines removed."""
    from casewright.solids.hide import project as seen
    from casewright.solids.hide import visible_lines
    from casewright.solids.mesh import scene_of
    from casewright.solids.view import ISOMETRIC

    visible_lines(seen(scene_of(project.assembly.pieces[0], project.cache), ISOMETRIC))


def packets(_: bool) -> None:
    """Print how long the whole command takes, from a fresh process to the pages on disk."""
    table("Packet of the demonstration order", "fresh process, median of 5", "s")
    row("casewright packet", median([packet_seconds() for _ in range(REPEATS)]))


def packet_seconds() -> float:
    """Return the seconds of one packet by the command line."""
    with tempfile.TemporaryDirectory() as folder:
        program = "from casewright.cli import main; main()"
        out = ["--out", f"{folder}/packet", "--date", "2026-01-15"]
        command = [sys.executable, "-c", program, "packet", str(DEMO), *out]
        return seconds(lambda: subprocess.run(command, cwd=ROOT, env=environment(), check=True, capture_output=True))


def growth(full: bool) -> None:
    """Print time and memory for more and more pieces."""
    table("Growth", "pieces", "count", "read, s", "design, s", "checks, s", "layouts, s", "memory, MB")
    for name, (_, most) in GROWTH.items():
        for count in (1, 10, 100, 1000):
            if count <= (FULL if full else most):
                g = in_own_process("--alone", "growth", name, str(count))
                row(name, count, g["read"], g["design"], g["checks"], g["layouts"], g["memory"])


def growth_alone(name: str, count: str) -> dict[str, Any]:
    """Measure one order in this process, which must be fresh."""
    from casewright import Project, load_shop

    text = GROWTH[name][0](int(count))
    made: dict[str, Any] = {}
    reading = seconds(lambda: made.update(order=read(text)))
    project = Project(made["order"], load_shop())
    return {
        "read": reading,
        "design": seconds(lambda: project.assembly),
        "checks": seconds(lambda: project.piece_findings),
        "layouts": seconds(lambda: project.layouts),
        "memory": peak_megabytes(),
    }


def table(title: str, *columns: str) -> None:
    """Print the head of a table."""
    print(f"## {title}\n\n| {' | '.join(columns)} |\n|{'---|' * len(columns)}")


def row(*cells: str | float) -> None:
    """Print one row; times get three digits."""
    print("| " + " | ".join(f"{c:.3g}" if isinstance(c, float) else str(c) for c in cells) + " |", flush=True)


PARTS: dict[str, Callable[[bool], None]] = {
    "import": imports,
    "stages": stages,
    "edits": edits,
    "packet": packets,
    "growth": growth,
}
ALONE: dict[str, Callable[..., dict[str, Any]]] = {
    "stages": stages_alone,
    "edits": edits_alone,
    "growth": growth_alone,
}

if __name__ == "__main__":
    sys.exit(main())
