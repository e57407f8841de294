"""Every role is read by some module: an order that names stock for a role gets it, or hears why not."""

from __future__ import annotations

from tests.architecture.sources import PACKAGE

from casewright.shop.sizes import ROLES

DECLARED = PACKAGE / "shop" / "sizes.py"


def test_every_role_is_read() -> None:
    text = "\n".join(p.read_text(encoding="utf-8") for p in PACKAGE.rglob("*.py") if p != DECLARED)
    unread = {r.role for r in ROLES if f'"{r.role}"' not in text}
    assert not unread, f"nothing builds with {', '.join(sorted(unread))}: use them or take them out"
