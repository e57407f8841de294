"""The project's own files, read once for the tests of its form."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "casewright"
COMMITTED = ("src", "tests", "benchmarks", "scripts", "docs", "examples", ".ci")
CACHES = {"__pycache__", ".hypothesis", ".pytest_cache"}


@dataclass(frozen=True, slots=True)
class Module:
    """One Python file of the package: its dotted name below `casewright`, and its tree."""

    name: str  # "design.blocks.carcass", "" for the package itself
    path: Path
    text: str
    tree: ast.Module

    @property
    def room(self) -> str:
        """The first word of the name: the folder or top-level file that it belongs to."""
        return self.name.split(".")[0]

    @property
    def place(self) -> str:
        """The path from the root of the repository."""
        return self.path.relative_to(ROOT).as_posix()


@cache
def modules() -> tuple[Module, ...]:
    """Return every module of the package, by name."""
    return tuple(sorted((_read(p) for p in PACKAGE.rglob("*.py")), key=lambda m: m.name))


def _read(path: Path) -> Module:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
    text = path.read_text(encoding="utf-8")
    return Module(name, path, text, ast.parse(text))


def committed_texts() -> Iterator[tuple[str, str]]:
    """Yield (path, text) of every text file that is committed, from the working tree."""
    top = (p for p in ROOT.iterdir() if p.is_file() and p.name != ".git")
    below = (p for folder in COMMITTED for p in (ROOT / folder).rglob("*") if p.is_file())
    for path in (*top, *below):
        if CACHES & set(path.parts):
            continue
        try:
            yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # fonts and pictures
