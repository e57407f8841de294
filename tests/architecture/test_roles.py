"""Every role is read by some module: an order that names stock for a role gets it, or hears why not."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from tests.architecture.sources import PACKAGE

from casewright.shop.sizes import ROLES

DECLARED = PACKAGE / "shop" / "sizes.py"
# What takes a role by its name: methods of the kit and of the stock sizes, and the functions built on them.
READERS = frozenset(
    ("role", "all", "one", "item", "items", "material", "stick", "board", "sheet", "panel", "panel_thickness", "pin")
) | {"served", "wood_of"}


def roles_read(text: str) -> set[str]:
    """Return the texts that a module reads stock by: given to a reader, as a role, or kept in a table of roles.

    A comment, a docstring, and a word that stands for something else are none.
    """
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        for given in _given(node):
            found |= {c.value for c in ast.walk(given) if isinstance(c, ast.Constant) and isinstance(c.value, str)}
    return found


def _given(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.Call):
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        yield from (a for a in node.args if name in READERS and isinstance(a, ast.Constant))
        yield from (k.value for k in node.keywords if (k.arg or "").endswith("role"))
    if isinstance(node, ast.Assign) and any(_names_roles(target) for target in node.targets):
        yield node.value


def _names_roles(target: ast.AST) -> bool:
    names = [n.id.lower() for n in ast.walk(target) if isinstance(n, ast.Name)]
    return any(n.endswith(("role", "roles")) for n in names)


def test_every_role_is_read() -> None:
    modules = [p.read_text(encoding="utf-8") for p in PACKAGE.rglob("*.py") if p != DECLARED]
    read = set().union(*map(roles_read, modules))
    unread = {r.role for r in ROLES} - read
    assert not unread, f"nothing builds with {', '.join(sorted(unread))}: use them or take them out"


def test_words_that_are_no_reading_do_not_count() -> None:
    """A comment of the stock's record named two roles that nothing read."""
    assert roles_read('"""Reads "stain"."""\nkind: str  # "stain", "oil"\nKINDS = ("stain",)\n') == set()
    assert roles_read('kit.role("stain", Finish)\nscrew(role="pin")\nGLUE_ROLES = {1: "glue"}') == {
        "stain",
        "pin",
        "glue",
    }
