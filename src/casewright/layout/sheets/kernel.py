"""How the search kernels are compiled: at first use, cached beside the package where that is writable."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from numba import njit

F = TypeVar("F", bound=Callable[..., object])


def kernel(function: F) -> F:
    """Compile a function when it is first called; without a writable cache it is compiled in each process."""
    try:
        return cast(F, njit(cache=True, nogil=True, fastmath=True, error_model="numpy")(function))
    except RuntimeError:  # no place to keep the cache
        return cast(F, njit(nogil=True, fastmath=True, error_model="numpy")(function))
