"""The linear and integer programming solver, silent and on one thread, so that an answer repeats."""

from __future__ import annotations

from typing import Any

import highspy


class _Quiet(highspy.Highs):
    """The solver prints a banner when its callbacks are enabled, unless it is silenced before."""

    def enableCallbacks(self) -> None:  # noqa: N802 (the library's name)
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def quiet_highs(**options: object) -> Any:
    """Return a solver with one thread, a fixed seed and `options` set."""
    solver: Any = _Quiet()  # type: ignore[no-untyped-call]
    for name, value in {"output_flag": False, "threads": 1, "random_seed": 0, **options}.items():
        solver.setOptionValue(name, value)
    return solver
