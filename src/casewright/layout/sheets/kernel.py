"""How the search kernels are compiled: at first use, cached beside the package where that is writable."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

from numba import njit

F = TypeVar("F", bound=Callable[..., object])


def kernel(function: F) -> F:
    """Compile a function when it is first called; without a writable cache it is compiled in each process."""
    return _compiled(function, _nrt=True)


def lean_kernel(function: F) -> F:
    """As `kernel`, for functions that make no arrays: no count is kept of who uses their arguments' arrays.

    The counting of some thirty arrays at each call took more time than the search itself.
    """
    return _compiled(function, _nrt=False)


def _compiled(function: F, **more: bool) -> F:
    options: dict[str, Any] = {"nogil": True, "fastmath": True, "error_model": "numpy", **more}
    try:
        return cast(F, njit(cache=True, **options)(function))
    except RuntimeError:  # no place to keep the cache
        return cast(F, njit(**options)(function))
