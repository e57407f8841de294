"""The grid that every stored number sits on, and the record decorator that puts it there.

Equal sizes reached by different sums must compare equal and hash alike, so each record rounds its
floats when it is made: to 1/1,024,000 mm for lengths and to the same fraction of a degree for
angles. The grid holds 1/8192 in (3,175 steps) and 0.001 mm (1,024 steps) exactly.
"""

from __future__ import annotations

import hashlib
import math
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from typing import Any, TypeVar, dataclass_transform

STEPS_PER_MM = 1_024_000

T = TypeVar("T")


def snap(value: float) -> float:
    """Return `value` on the grid; −0.0 becomes 0.0. Raises ValueError for nan and infinity."""
    if not math.isfinite(value):
        raise ValueError(f"a length or angle must be a finite number, got {value!r}")
    return round(value * STEPS_PER_MM) / STEPS_PER_MM + 0.0


def _snapped(value: Any) -> Any:
    if type(value) is float:
        return snap(value)
    if type(value) is tuple:
        return tuple(_snapped(v) for v in value)
    return value


@dataclass_transform(kw_only_default=True, frozen_default=True)
def record(cls: type[T]) -> type[T]:
    """Make `cls` a frozen, slotted, keyword-only dataclass whose floats are snapped when it is made.

    Fields named in the class attribute `UNSNAPPED` keep their bits (direction cosines). A class may
    define `validate(self)`, called last, which raises ValueError with a message for the caller.
    """
    unsnapped = frozenset(getattr(cls, "UNSNAPPED", ()))

    def __post_init__(self: Any) -> None:
        for f in fields(self):
            if f.name in unsnapped:
                continue
            value = getattr(self, f.name)
            if type(value) in (float, tuple):
                object.__setattr__(self, f.name, _snapped(value))
        validate = getattr(self, "validate", None)
        if validate is not None:
            validate()

    cls.__post_init__ = __post_init__  # type: ignore[attr-defined]
    return dataclass(frozen=True, slots=True, kw_only=True)(cls)


def canonical(value: Any) -> str:
    """Return a text that is equal for equal records and differs for different ones.

    Floats are written as grid steps. Dataclass fields with `compare=False` are left out. Mappings
    are sorted. Raises TypeError for a type with no canonical form.
    """
    if value is None or isinstance(value, (bool, int, str)) and not isinstance(value, Enum):
        return repr(value)
    if isinstance(value, Enum):
        return f"{type(value).__name__}.{value.name}"
    if isinstance(value, float):
        return f"{round(value * STEPS_PER_MM)}g"
    if isinstance(value, (tuple, list)):
        return "(" + ",".join(canonical(v) for v in value) + ")"
    if isinstance(value, (set, frozenset)):
        return "{" + ",".join(sorted(canonical(v) for v in value)) + "}"
    if isinstance(value, dict):
        items = sorted((canonical(k), canonical(v)) for k, v in value.items())
        return "{" + ",".join(f"{k}:{v}" for k, v in items) + "}"
    if is_dataclass(value):
        inner = ",".join(f"{f.name}={canonical(getattr(value, f.name))}" for f in fields(value) if f.compare)
        return f"{type(value).__name__}({inner})"
    raise TypeError(f"no canonical form for {type(value).__name__}")


def key_of(*values: Any) -> str:
    """Return the blake2b key (32 hex digits) of the canonical form of `values`."""
    return hashlib.blake2b(canonical(values).encode(), digest_size=16).hexdigest()
