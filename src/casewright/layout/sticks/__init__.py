"""Sticks: mouldings, face-frame stock, blanks and bands cut from stock lengths."""

from __future__ import annotations

from casewright.layout.sticks.solve import solve_sticks

__all__ = ["solve_sticks"]
