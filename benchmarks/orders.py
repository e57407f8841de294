"""Orders for the benchmarks, made from the demonstration order: one piece alone, many equal, many different."""

from __future__ import annotations

from typing import Any

import tomlkit

from benchmarks.measure import ROOT

DEMO = ROOT / "examples" / "lantern-hill.toml"


def demo_text() -> str:
    """Return the demonstration order."""
    return DEMO.read_text(encoding="utf-8")


def counted(pieces: int) -> str:
    """Return an order for `pieces` equal pieces, asked for by count."""
    return _with_pieces([{"count": pieces}])


def named(pieces: int) -> str:
    """Return an order for `pieces` equal pieces, each under its own name."""
    return _with_pieces([{"name": f"bedside-{i}"} for i in range(pieces)])


def different(pieces: int) -> str:
    """Return an order for `pieces` pieces of as many widths and depths, 0.1 mm apart."""
    sizes = ((480.0 + 0.1 * i, 440.0 + 0.07 * i) for i in range(pieces))
    return _with_pieces(
        [{"name": f"bedside-{i}", "width": f"{w:g} mm", "depth": f"{d:g} mm"} for i, (w, d) in enumerate(sizes)]
    )


def _with_pieces(changes: list[dict[str, Any]]) -> str:
    document = tomlkit.parse(demo_text()).unwrap()
    first = document["piece"][0]
    document["piece"] = [{**first, "handed": "left", **change} for change in changes]
    return tomlkit.dumps(document)
