"""Imports go one way: a module may import from its own room and from rooms to the left of it."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

import pytest
from tests.architecture.sources import ROOT, Module, modules

# Left to right. `cache` keeps finished stages and knows none of them; `demand` and `layouts` speak for
# designs to the layout room; `roles_used` holds an order against its designs; `catalogue` lists what the rooms
# offer and `project` composes them.
ROOMS = (
    "units",
    "findings",
    "stock",
    "shop",
    "order",
    "design",
    "cache",
    "solids",
    "layout",
    "checks",
    "demand",
    "layouts",
    "accepting",
    "roles_used",
    "catalogue",
    "project",
    "packet",
    "",  # casewright/__init__.py, the door for scripts, which the commands use too
    "cli",
    "__main__",
)
# Stricter than the order of rooms: whoever is named here imports only these.
ONLY = {
    "units": {"units"},
    "findings": {"units", "findings"},
    "cache": {"units", "cache"},
    "layout": {"units", "findings", "cache", "layout"},  # its own records; it knows nothing of design
}
HEAVY = ("numba", "ortools", "highspy", "ezdxf", "OCP", "typst", "pandas")  # imported where used, not at start-up


def imports(module: Module) -> Iterator[tuple[str, int]]:
    """Yield (dotted name below casewright, line) of every import of our own code, also inside functions."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        else:
            continue
        for name in names:
            if name == "casewright" or name.startswith("casewright."):
                yield name.removeprefix("casewright").removeprefix("."), node.lineno


def wrong_direction(module: Module, target: str) -> bool:
    first = target.split(".")[0]
    room = first if first in ROOMS else ""  # a name that the package itself offers
    allowed = ONLY.get(module.room, set(ROOMS[: ROOMS.index(module.room) + 1]))
    return room not in allowed


def known_module(target: str, names: frozenset[str]) -> str:
    """Return the module that an imported name lives in."""
    return target if target in names else target.rpartition(".")[0]


def test_every_room_has_its_place() -> None:
    assert {m.room for m in modules()} <= set(ROOMS)


def test_imports_go_one_way() -> None:
    wrong = [f"{m.place}:{line} imports {t}" for m in modules() for t, line in imports(m) if wrong_direction(m, t)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(("source", "target"), [("layout", "design.parts"), ("design", "solids"), ("units", "stock")])
def test_a_wrong_direction_is_seen(source: str, target: str) -> None:
    tree = ast.parse(f"def f():\n    from casewright.{target} import thing\n")
    module = Module(f"{source}.new", modules()[0].path, "", tree)
    assert [t for t, _ in imports(module) if wrong_direction(module, t)] == [f"{target}.thing"]


def test_no_import_cycles() -> None:
    names = frozenset(m.name for m in modules())
    graph = {m.name: {known_module(t, names) for t, _ in imports(m)} - {m.name} for m in modules()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail("import cycle: " + " → ".join(error.args[1]))


def test_starting_imports_nothing_heavy() -> None:
    found = [m.name for m in modules() if m.name in ("", "cli", "project")]
    program = "import sys\n" + "".join(f"import casewright{n and '.' + n}\n" for n in found)
    program += f"print(*[h for h in {HEAVY!r} if h in sys.modules])"
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run([sys.executable, "-c", program], env=env, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
