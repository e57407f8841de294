"""House style that can be measured: sizes of files and functions, docstrings, and what no file may name."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from statistics import median

from tests.architecture.sources import Module, committed_texts, modules

LONGEST_FILE = 600
LONGEST_FUNCTION = 80
Function = ast.FunctionDef | ast.AsyncFunctionDef

# Written in pieces, so that this file does not name what it forbids.
REGISTRIES = (
    "py" + "pi.org",
    "python" + "hosted",
    "npm" + "js.",
    "registry" + ".npm",
    "deb" + "ian.org",
    "conda" + ".anaconda",
)
MACHINE_PATH = re.compile(r"(?<![\w.$~/-])/(?:wo" + r"rk|tm" + r"p|ro" + r"ot|ho" + r"me|Us" + r"ers)/\w")
DOWNLOAD = re.compile(r"https?://\S+\.(?:whl|zip|tgz|tar\.\w+|exe)\b")
VAGUE = {"utils", "util", "helpers", "helper", "manager", "misc", "common"}


def functions(module: Module) -> Iterator[Function]:
    for node in ast.walk(module.tree):
        if isinstance(node, Function):
            yield node


def code_lines(function: Function) -> int:
    """Return the lines of a function without its signature and docstring."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def public_names(module: Module) -> Iterator[tuple[str, ast.AST]]:
    """Yield the module, and its public classes, functions and methods."""
    if module.tree.body:
        yield "the module", module.tree
    yield from _public(module.tree.body, "")


def _public(body: list[ast.stmt], prefix: str) -> Iterator[tuple[str, ast.AST]]:
    for node in body:
        if isinstance(node, ast.ClassDef | Function) and not node.name.startswith("_"):
            yield prefix + node.name, node
            if isinstance(node, ast.ClassDef):
                yield from _public(node.body, f"{node.name}.")


def test_every_public_name_has_a_docstring() -> None:
    bare = [
        f"{m.place}: {name}"
        for m in modules()
        for name, node in public_names(m)
        if isinstance(node, ast.Module | ast.ClassDef | Function)
        and not ast.get_docstring(node)
        and not _overloads(node)
    ]
    assert not bare, "\n".join(bare)


def _overloads(node: ast.AST) -> bool:
    return isinstance(node, Function) and any("overload" in ast.unparse(d) for d in node.decorator_list)


def test_files_are_short() -> None:
    long = [f"{m.place}: {n} lines" for m in modules() if (n := m.text.count("\n")) > LONGEST_FILE]
    assert not long, "\n".join(long)


def test_no_function_is_very_long() -> None:
    long = [
        f"{m.place}:{f.lineno} {f.name}: {n} lines"
        for m in modules()
        for f in functions(m)
        if (n := code_lines(f)) > LONGEST_FUNCTION
    ]
    assert not long, "\n".join(long)


def test_functions_are_short_as_a_rule() -> None:
    sizes = sorted(code_lines(f) for m in modules() for f in functions(m))
    assert median(sizes) < 10
    assert sizes[len(sizes) * 9 // 10] < 30


def test_names_of_files_say_what_they_hold() -> None:
    vague = [m.place for m in modules() if VAGUE & set(re.split(r"[._]", m.name))]
    assert not vague, vague


def test_no_file_names_a_registry_or_a_path_of_one_machine() -> None:
    found = [f"{path}: {word}" for path, text in committed_texts() for word in forbidden(text)]
    assert not found, "\n".join(found)


def forbidden(text: str) -> list[str]:
    words = [r for r in REGISTRIES if r in text]
    return words + [m.group() for m in (*MACHINE_PATH.finditer(text), *DOWNLOAD.finditer(text))]


def test_what_is_forbidden_is_seen() -> None:
    path, host = "/ho" + "me/someone/plan.toml", "https://files." + "python" + "hosted.org/x.whl"
    assert len(forbidden(f"see {path} and {host}")) == 3
    assert forbidden("a path such as docs/home/page and ~/work/plan") == []
