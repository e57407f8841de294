"""Boards: solid parts and the strips of glue-ups cut from rough boards."""

from __future__ import annotations

from casewright.layout.boards.solve import solve_boards

__all__ = ["solve_boards"]
