"""The grid that every stored number sits on, and the record decorator that puts it there.

Equal sizes reached by different sums must compare equal and hash alike, so each record rounds its
floats when it is made: to 1/1,024,000 mm for lengths and to the same fraction of a degree for
angles. The grid holds 1/8192 in (3,175 steps) and 0.001 mm (1,024 steps) exactly.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from typing import Any, TypeVar, dataclass_transform, get_args, get_origin, get_type_hints

STEPS_PER_MM = 1_024_000

T = TypeVar("T")


def snap(value: float) -> float:
    """Return `value` on the grid; −0.0 becomes 0.0. Raises ValueError for nan and infinity."""
    try:
        return round(value * STEPS_PER_MM) / STEPS_PER_MM + 0.0
    except (ValueError, OverflowError):
        raise ValueError(f"a length or angle must be a finite number, got {value!r}") from None


def _snapped(values: tuple[Any, ...]) -> tuple[Any, ...]:
    # From a list: quicker than from a generator, and most of what is made passes here.
    return tuple([snap(v) if type(v) is float else _snapped(v) if type(v) is tuple else v for v in values])


@dataclass_transform(kw_only_default=True, frozen_default=True)
def record(cls: type[T]) -> type[T]:
    """Make `cls` a frozen, slotted, keyword-only dataclass whose floats are snapped when it is made.

    Fields named in the class attribute `UNSNAPPED` keep their bits (direction cosines). A class may
    define `validate(self)`, called last, which raises ValueError with a message for the caller.
    """
    unsnapped = frozenset(getattr(cls, "UNSNAPPED", ()))
    names: list[str] | None = None  # found with the first record, when every type that an annotation names exists

    def __post_init__(self: Any) -> None:
        nonlocal names
        if names is None:
            names = _may_hold_floats(made, unsnapped)
        for name in names:
            value = getattr(self, name)
            kind = type(value)
            if kind is float:
                object.__setattr__(self, name, snap(value))
            elif kind is tuple and value:
                object.__setattr__(self, name, _snapped(value))
        if validate is not None:
            validate(self)

    validate = getattr(cls, "validate", None)
    cls.__post_init__ = __post_init__  # type: ignore[attr-defined]
    made = dataclass(frozen=True, slots=True, kw_only=True)(cls)
    return made


def _may_hold_floats(kind: type, unsnapped: frozenset[str]) -> list[str]:
    """Return the names of the fields of a record whose type has room for a float of its own."""
    types = get_type_hints(kind)
    given = (f.name for f in fields(kind) if f.init and f.name not in unsnapped)
    return [name for name in given if _holds_float(types[name])]


def _holds_float(kind: Any) -> bool:
    """True where a value of a type can be or hold a float that no record within it has snapped already."""
    if get_origin(kind) is not None:
        return any(_holds_float(part) for part in get_args(kind) if part is not Ellipsis)
    if isinstance(kind, type):
        plain = issubclass(kind, (str, bool, int, bytes, Enum, type(None)))
        return not (plain or hasattr(kind, "__dataclass_fields__"))
    return True


def canonical(value: Any) -> str:
    """Return a text that is equal for equal records and differs for different ones.

    Floats are written as grid steps. Dataclass fields with `compare=False` are left out. Mappings
    are sorted. Raises TypeError for a type with no canonical form.
    """
    kind = type(value)
    if kind is float:
        return f"{round(value * STEPS_PER_MM)}g"
    if kind is str or kind is int or kind is bool or value is None:
        return repr(value)
    if kind is tuple or kind is list:
        return "(" + ",".join([canonical(v) for v in value]) + ")"
    compared = _compared(kind)  # type: ignore[arg-type]
    if compared is not None:
        return f"{kind.__name__}({','.join([f'{n}={canonical(getattr(value, n))}' for n in compared])})"
    if isinstance(value, Enum):
        return f"{kind.__name__}.{value.name}"
    if isinstance(value, (set, frozenset)):
        return "{" + ",".join(sorted(canonical(v) for v in value)) + "}"
    if isinstance(value, dict):
        items = sorted((canonical(k), canonical(v)) for k, v in value.items())
        return "{" + ",".join(f"{k}:{v}" for k, v in items) + "}"
    raise TypeError(f"no canonical form for {kind.__name__}")


@cache
def _compared(kind: type) -> tuple[str, ...] | None:
    """Return the names of a dataclass's compared fields, None for another type."""
    return tuple(f.name for f in fields(kind) if f.compare) if is_dataclass(kind) else None


def key_of(*values: Any) -> str:
    """Return the blake2b key (32 hex digits) of the canonical form of `values`."""
    return hashlib.blake2b(canonical(values).encode(), digest_size=16).hexdigest()
