"""One item of a file → its record, or everything that is wrong with it.

The library's data files and the stock that a shop adds are read by the same rules: lengths are texts with
a unit or numbers in the unit of the file, other numbers are plain, lists become tuples.

RowError  a row does not describe its record; `problems` say which keys, and what was expected
"""

from __future__ import annotations

import math
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, fields
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Any, TypeVar

from casewright.stock.loops import Loop
from casewright.stock.quantities import LENGTH, OFFSET, SIZE
from casewright.units import LengthError, parse_length

T = TypeVar("T")

LARGEST_NUMBER = 1_000_000.0
LONGEST_SIZE = 100_000.0  # mm; a roll of band, the longest thing in a shop
LONGEST_TEXT = 300
MOST_VALUES = 500  # in one list


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with the value of `key`; `known` are the keys that it might have been meant for."""

    key: str
    message: str
    remedy: str = ""
    known: tuple[str, ...] = ()


class RowError(Exception):
    """A row does not describe its record."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{p.key}: {p.message}" for p in problems))


def read_row(
    kind: Callable[..., T],
    item_id: str,
    row: Mapping[str, Any],
    unit: str = "mm",
    given: Mapping[str, Any] = MappingProxyType({}),
) -> T:
    """Return the record of `kind` that a row describes; numbers that are lengths are in `unit`.

    `given` are finished values for keys that the row does not have. Raises RowError.
    """
    wanted = {name: field for name, field in record_fields(kind).items() if name != "id"}
    have = row.keys() | given.keys()
    problems = [
        Problem(name, f'"{name}" is missing', "add it")
        for name, field in wanted.items()
        if name not in have and field.default is MISSING
    ]
    try:
        values = values_of(kind, row, unit)
    except RowError as wrong:
        problems.extend(wrong.problems)
    if problems:
        raise RowError(tuple(sorted(problems, key=lambda p: p.key)))
    return kind(id=item_id, **{**given, **values})


def values_of(kind: Callable[..., Any], row: Mapping[str, Any], unit: str = "mm") -> dict[str, Any]:
    """Return the values of a row as the record wants them; it need not be whole. Raises RowError."""
    wanted = tuple(name for name in record_fields(kind) if name != "id")
    problems = [Problem(key, f'unknown key "{key}"', known=wanted) for key in row if key not in wanted]
    values: dict[str, Any] = {}
    for key in wanted:
        if key in row:
            try:
                values[key] = _value(row[key], hints_of(kind)[key], unit)
            except ValueError as wrong:
                problems.append(Problem(key, str(wrong)))
    if problems:
        raise RowError(tuple(problems))
    return values


@cache
def record_fields(kind: Callable[..., Any]) -> dict[str, Field[Any]]:
    """Return the fields of a record by name."""
    return {f.name: f for f in fields(typing.cast(Any, kind))}


@cache
def hints_of(kind: Callable[..., Any]) -> dict[str, Any]:
    """Return the types of a record's fields, with what they measure."""
    return typing.get_type_hints(kind, include_extras=True)


def quantity_of(hint: Any) -> str:
    """Return "size", "length" or "offset" for a hint of millimetres, else an empty text."""
    if typing.get_origin(hint) is typing.Annotated:
        return str(hint.__metadata__[0])
    return ""


def _value(value: object, hint: Any, unit: str) -> Any:
    """Return `value` as the record wants it. Raises ValueError with what was got and what is right."""
    if quantity_of(hint):
        return _length(value, quantity_of(hint), unit)
    if hint == Loop:
        return _section(value, unit)
    origin = typing.get_origin(hint)
    if origin is types.UnionType or origin is typing.Union:
        return None if value is None else _value(value, typing.get_args(hint)[0], unit)
    if origin is tuple:
        return _list(value, typing.get_args(hint), unit)
    return _plain(value, hint)


_parsed = lru_cache(maxsize=4096)(parse_length)  # the sizes of a template come again with each item


def _length(value: object, quantity: str, unit: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise ValueError(f"got {_shown(value)}; expected a length")
    try:
        length = _parsed(value, unit)
    except LengthError as wrong:
        raise ValueError(str(wrong)) from None
    if quantity == SIZE and length <= 0:
        raise ValueError(f"got {_shown(value)}; must be more than 0")
    if quantity == LENGTH and length < 0:
        raise ValueError(f"got {_shown(value)}; must not be negative")
    if abs(length) > LONGEST_SIZE:
        raise ValueError(f"got {_shown(value)}; must be at most {LONGEST_SIZE:g} mm; check the number and its unit")
    return length


def _section(value: object, unit: str) -> Loop:
    """Return the vertices of a profile: [x, y] or [x, y, bulge] each."""
    if not isinstance(value, (list, tuple)) or len(value) > MOST_VALUES:
        raise ValueError(f"got {_shown(value)}; expected a list of at most {MOST_VALUES} points [x, y, bulge]")
    return tuple(_vertex(point, number, unit) for number, point in enumerate(value, 1))


def _vertex(point: object, number: int, unit: str) -> tuple[float, float, float]:
    if not isinstance(point, (list, tuple)) or len(point) not in (2, 3):
        raise ValueError(f"point {number} is {_shown(point)}; expected [x, y] or [x, y, bulge]")
    try:
        bulge = _number(point[2], signed=True) if len(point) == 3 else 0.0
        return (_length(point[0], OFFSET, unit), _length(point[1], OFFSET, unit), bulge)
    except ValueError as wrong:
        raise ValueError(f"point {number}: {wrong}") from None


def _list(value: object, hints: tuple[Any, ...], unit: str) -> tuple[Any, ...]:
    if not isinstance(value, (list, tuple)) or len(value) > MOST_VALUES:
        raise ValueError(f"got {_shown(value)}; expected a list of at most {MOST_VALUES} values in [ ]")
    if Ellipsis in hints:
        return tuple(_value(v, hints[0], unit) for v in value)
    if len(value) != len(hints):
        raise ValueError(f"got a list of {len(value)}; expected {len(hints)} values")
    return tuple(_value(v, hint, unit) for v, hint in zip(value, hints, strict=True))


def _plain(value: object, hint: Any) -> Any:
    if hint is float:
        return _number(value)
    if hint is str:
        return _text(value)
    if not isinstance(value, hint) or (hint is int and isinstance(value, bool)):
        expected = {bool: "true or false", int: "a whole number"}[hint]
        raise ValueError(f"got {_shown(value)}; expected {expected}")
    if hint is int and not 0 <= value <= LARGEST_NUMBER:
        raise ValueError(f"got {_shown(value)}; expected a whole number that is not negative")
    return value


def _number(value: object, *, signed: bool = False) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ValueError(f"got {_shown(value)}; expected a number")
    if not abs(value) <= LARGEST_NUMBER or math.isnan(value):
        raise ValueError(f"got {_shown(value)}; expected a number of at most {LARGEST_NUMBER:,.0f}")
    if value < 0 and not signed:
        raise ValueError(f"got {_shown(value)}; must not be negative")
    return float(value)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError(f"got {_shown(value)}; expected a text in quotes")
    if len(value) > LONGEST_TEXT or not value.isprintable():
        raise ValueError(f"expected a text on one line of at most {LONGEST_TEXT} characters without control characters")
    return value


def _shown(value: object) -> str:
    if isinstance(value, int) and value.bit_length() > 64:
        return f"a number of {value.bit_length()} bits"
    text = f'"{value}"' if isinstance(value, str) else "a table" if isinstance(value, Mapping) else str(value)[:80]
    return text if len(text) <= 60 else text[:59] + "…"
