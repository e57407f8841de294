"""Times and memory from order to checked design, of the 20 fixed edits, of a packet, and how they grow.

    python -m benchmarks.spine            all but the longest
    python -m benchmarks.spine --full     growth to 1,000 pieces that all differ, too
    python -m benchmarks.spine --only edits

Prints the tables of docs/performance.md, in seconds: by the clock, and as processor time (cpu), which is what to look
at where the machine does other work besides.
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
    processor_seconds,
    python_seconds,
    seconds,
)
from benchmarks.orders import DEMO, counted, demo_text, different, named
from casewright.cache import collect_seldom

REPEATS = 5
Taken = tuple[float, float]  # seconds by the clock, and of the processor
GROWTH = {"equal, by count": (counted, 1000), "equal, own names": (named, 1000), "all different": (different, 100)}
FULL = 1000
GROWN = ("read", "findings", "assembly", "layouts")  # stages, in this order
SHARES = {"p50": 0.5, "p95": 0.95}


def main() -> int:
    """Run the parts that are asked for; return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", choices=sorted(PARTS), help="one part")
    parser.add_argument("--full", action="store_true", help="growth to 1,000 different pieces, too")
    parser.add_argument("--alone", nargs="+", help=argparse.SUPPRESS)  # a run in its own process
    options = parser.parse_args()
    if options.alone:
        collect_seldom()  # as the commands do
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
    heads = [f"{kind}, {unit}" for kind in ("cold", "warm, empty cache", "nothing changed") for unit in ("s", "cpu")]
    table("Demonstration order", "stage", *heads)
    kinds = ("cold", "warm", "kept")
    for stage in first["cold"]:
        row(stage, *(t for kind in kinds for t in first[kind][stage]))
    row("total", *(sum(t[i] for t in first[kind].values()) for kind in kinds for i in (0, 1)))
    print(f"\nMost memory: {first['memory']:.0f} MB. Pieces {first['pieces']}, placed things {first['placed']}.")


def stages_alone() -> dict[str, Any]:
    """Measure the stages in this process, which must be fresh."""
    from casewright.cache import Cache

    cold, project = staged(Cache())
    cache = Cache()
    runs = [staged(Cache())[0] for _ in range(REPEATS - 1)] + [staged(cache)[0]]
    again = [staged(cache)[0] for _ in range(REPEATS)]

    def middle(taken: list[dict[str, Taken]]) -> dict[str, Taken]:
        return {s: (median([r[s][0] for r in taken]), median([r[s][1] for r in taken])) for s in cold}

    return {
        "cold": cold,
        "warm": middle(runs),
        "kept": middle(again),
        "memory": peak_megabytes(),
        "pieces": len(project.assembly.pieces),
        "placed": sum(len(p.placed) for p in project.assembly.pieces),
    }


def staged(cache: Any) -> tuple[dict[str, Taken], Any]:
    """Return the (clock, processor) seconds of each stage, and the project."""
    from casewright import Project, load_shop

    times: dict[str, Taken] = {}
    made: dict[str, Any] = {}
    taken = processor_seconds
    times["read order and shop"] = taken(lambda: made.update(order=read(demo_text()), shop=load_shop()))
    project = Project(made["order"], made["shop"], cache)
    times["design"] = taken(lambda: project.assembly)
    times["solids"] = taken(lambda: solids_of(project))
    times["checks"] = taken(lambda: project.piece_findings)
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
    heads = [f"{what} {share}, {unit}" for what in ("checked", "drawn") for unit in ("s", "cpu") for share in SHARES]
    table("20 edits, three values each", "reach", "edits", "aim, s", *heads)
    for reach, aim in AIMS.items():
        runs = [t for e in EDITS if e.reach == reach for t in taken[e.name]]
        columns = [[r[i] for r in runs] for i in range(4)]
        row(reach, len(runs), aim, *(percentile(c, share) for c in columns for share in SHARES.values()))
    print()
    table("Each edit", "edit", "reach", "checked, s", "cpu", "drawn, s", "cpu", "stops")
    for edit in EDITS:
        runs = taken[edit.name]
        row(edit.name, edit.reach, *(median([r[i] for r in runs]) for i in range(4)), max(r[4] for r in runs))


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


def edited(edit: Edit, run: int, cache: Any) -> tuple[float, float, float, float, int]:
    """Return seconds and processor time until checked, both until drawn too, and the findings that stop."""
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

    checked = processor_seconds(check)
    drawn = processor_seconds(lambda: draw(made[1]))
    stops = sum(f.stops for f in made[0])
    return *checked, checked[0] + drawn[0], checked[1] + drawn[1], stops


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
    """Print how long the whole command takes, from a fresh process to the pages on disk, and what its processes use."""
    table("Packet of the demonstration order", "fresh process, median of 5", "s", "cpu")
    runs = [packet_seconds() for _ in range(REPEATS)]
    row("casewright packet", *(median([r[i] for r in runs]) for i in (0, 1)))


def packet_seconds() -> Taken:
    """Return the seconds of one packet by the command line, and the processor time of it and all that it starts."""
    import resource

    def used() -> float:
        ended = resource.getrusage(resource.RUSAGE_CHILDREN)
        return ended.ru_utime + ended.ru_stime

    with tempfile.TemporaryDirectory() as folder:
        program = "from casewright.cli import main; main()"
        out = ["--out", f"{folder}/packet", "--date", "2026-01-15"]
        command = [sys.executable, "-c", program, "packet", str(DEMO), *out]
        before = used()
        clock = seconds(lambda: subprocess.run(command, cwd=ROOT, env=environment(), check=True, capture_output=True))
        return clock, used() - before


def growth(full: bool) -> None:
    """Print time and memory for more and more pieces."""
    heads = (f"{stage}, {unit}" for stage in GROWN for unit in ("s", "cpu"))
    table("Growth", "pieces", "count", *heads, "memory, MB")
    for name, (_, most) in GROWTH.items():
        for count in (1, 10, 100, 1000):
            if count <= (FULL if full else most):
                g = in_own_process("--alone", "growth", name, str(count))
                row(name, count, *(t for stage in GROWN for t in g[stage]), g["memory"])


def growth_alone(name: str, count: str) -> dict[str, Any]:
    """Measure one order in this process, which must be fresh."""
    from casewright import Project, load_shop

    text = GROWTH[name][0](int(count))
    made: dict[str, Any] = {}
    taken: dict[str, Any] = {"read": processor_seconds(lambda: made.update(order=read(text)))}
    project = Project(made["order"], load_shop())
    taken["findings"] = processor_seconds(lambda: project.piece_findings)
    taken["memory"] = peak_megabytes()
    taken["assembly"] = processor_seconds(lambda: project.assembly)
    taken["layouts"] = processor_seconds(lambda: project.layouts)
    return taken


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
