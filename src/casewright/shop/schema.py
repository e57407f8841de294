"""What the schemas of orders and shops share: strict tables, lengths in the file's unit, clear messages.

A schema is a pydantic model; validation gets the file's unit as context ({"unit": "in"}). What is
wrong becomes findings with key path, line, what was got and what was expected.
"""

from __future__ import annotations

import difflib
import typing
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import ErrorDetails, PydanticCustomError

from casewright.findings import Finding, Severity
from casewright.shop.files import UserFile
from casewright.shop.lines import KeyPath, key_text, place_of
from casewright.units import AngleError, LengthError, parse_angle, parse_length

LARGEST_SIZE = 6000  # mm; nothing that a small shop builds in one piece is longer
LONGEST_SHOWN = 60
LONGEST_TEXT = 300
MOST_TOLD = 100

UnitName = Literal["in", "mm", "cm"]
UNIT_NAMES: tuple[str, ...] = typing.get_args(UnitName)


class Table(BaseModel):
    """A table of a user's file: unknown keys are refused, values are not bent into shape."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


def _length(value: object, info: ValidationInfo) -> float:
    unit = (info.context or {}).get("unit", "mm")
    try:
        return parse_length(typing.cast(Any, value), unit)
    except LengthError as wrong:
        raise PydanticCustomError("length", "{why}", {"why": str(wrong)}) from None


def _angle(value: object) -> float:
    try:
        return parse_angle(typing.cast(Any, value))
    except AngleError as wrong:
        raise PydanticCustomError("angle", "{why}", {"why": str(wrong)}) from None


def _positive(value: float) -> float:
    if value <= 0:
        raise PydanticCustomError("size", "must be more than 0", {})
    return _not_absurd(value)


def _not_negative(value: float) -> float:
    if value < 0:
        raise PydanticCustomError("size", "must not be negative", {})
    return _not_absurd(value)


def _not_absurd(value: float) -> float:
    if value > LARGEST_SIZE:
        raise PydanticCustomError(
            "size", "must be at most {most} mm; check the number and its unit", {"most": LARGEST_SIZE}
        )
    return value


def _plain_text(value: str) -> str:
    if len(value) > LONGEST_TEXT:
        raise PydanticCustomError("text", "expected at most {most} characters", {"most": LONGEST_TEXT})
    if any(unicodedata.category(c) in ("Cc", "Cs", "Cn", "Co") for c in value):
        raise PydanticCustomError("text", "expected a text on one line without control characters", {})
    return value


def _quantity(name: str) -> WithJsonSchema:
    return WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string"}], "x-quantity": name})


Length = Annotated[float, BeforeValidator(_length), AfterValidator(_positive), _quantity("length")]
LengthOrZero = Annotated[float, BeforeValidator(_length), AfterValidator(_not_negative), _quantity("length")]
Angle = Annotated[float, BeforeValidator(_angle), _quantity("angle")]
Text = Annotated[str, AfterValidator(_plain_text)]


def file_unit(file: UserFile) -> str:
    """Return the unit of a bare number in `file`; mm where it names none, or one that is unknown."""
    unit = file.data.get("units")
    return unit if isinstance(unit, str) and unit in UNIT_NAMES else "mm"


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return 'did you mean "width"?', or what is known where nothing is close."""
    names = sorted(known)
    close = difflib.get_close_matches(word.lower(), names, n=1, cutoff=0.6)
    if close:
        return f'did you mean "{close[0]}"?'
    return f"known are {', '.join(names)}" if 0 < len(names) <= 12 else ""


def wrong(file: UserFile, code: str, path: KeyPath, message: str, remedy: str = "") -> Finding:
    """Return a finding about the key at `path` of a user's file."""
    return Finding(
        code=code,
        severity=Severity.STOP,
        path=key_text(path),
        message=message,
        remedy=remedy,
        place=place_of(file.name, file.text, path),
    )


def findings_of(
    error: ValidationError, model: type[BaseModel], file: UserFile, code: str, prefix: KeyPath = ()
) -> tuple[Finding, ...]:
    """Return one finding for each thing that `model` found wrong in `file`, under `prefix`, up to MOST_TOLD."""
    details = error.errors(include_url=False)
    told = tuple(_finding(detail, model, file, code, prefix) for detail in details[:MOST_TOLD])
    if len(details) <= MOST_TOLD:
        return told
    return (*told, wrong(file, f"{code}.more", prefix, f"and {len(details) - MOST_TOLD} more of the kind"))


def _finding(detail: ErrorDetails, model: type[BaseModel], file: UserFile, code: str, prefix: KeyPath) -> Finding:
    inside = detail["loc"]
    path = (*prefix, *inside)
    kind, got = detail["type"], _shown(detail["input"])
    if kind == "extra_forbidden":
        key = str(inside[-1])
        return wrong(
            file, f"{code}.unknown_key", path, f'unknown key "{key}"', did_you_mean(key, _keys_at(model, inside))
        )
    if kind == "missing":
        return wrong(file, f"{code}.missing", path, f'"{inside[-1]}" is missing', "add it")
    if kind in ("length", "angle"):
        return wrong(file, f"{code}.value", path, detail["msg"])
    if kind == "literal_error":
        expected = str(detail.get("ctx", {}).get("expected", "")).replace("'", '"')
        choices = expected.replace(" or ", ", ").split(", ")
        return wrong(
            file, f"{code}.value", path, f"got {got}; expected {_one_of(choices)}", _close_choice(detail, choices)
        )
    if kind == "value_error":
        return wrong(file, f"{code}.value", path, detail["msg"].removeprefix("Value error, "))
    if kind == "list_type" and isinstance(detail["input"], dict):
        return wrong(
            file, f"{code}.value", path, "got one table; expected a list", f"write [[{key_text(path)}]] in two brackets"
        )
    return wrong(file, f"{code}.value", path, f"got {got}; {_expected(detail)}")


_EXPECTED = {
    "string_type": "expected a text in quotes",
    "int_type": "expected a whole number",
    "float_type": "expected a number",
    "bool_type": "expected true or false",
    "list_type": "expected a list in [ ]",
    "tuple_type": "expected a list in [ ]",
    "dict_type": "expected a table",
    "model_type": "expected a table",
    "model_attributes_type": "expected a table",
    "finite_number": "expected a finite number",
    "date_type": "expected a date such as 2026-03-01, without quotes",
    "date_from_datetime_inexact": "expected a date such as 2026-03-01, without a time",
}


def _expected(detail: ErrorDetails) -> str:
    said = detail["msg"].replace("Input should be", "expected").replace("Input should", "expected to")
    return _EXPECTED.get(detail["type"], said[:1].lower() + said[1:])


def _one_of(choices: Sequence[str]) -> str:
    return choices[0] if len(choices) == 1 else f"one of {', '.join(choices)}"


def _close_choice(detail: ErrorDetails, choices: Sequence[str]) -> str:
    got = detail["input"]
    close = difflib.get_close_matches(f'"{got.lower()}"', choices, n=1) if isinstance(got, str) else []
    return f"did you mean {close[0]}?" if close else ""


def _shown(value: object) -> str:
    if isinstance(value, int) and value.bit_length() > 64:
        return f"a number of {value.bit_length()} bits"
    text = f'"{value}"' if isinstance(value, str) else "a table" if isinstance(value, dict) else str(value)
    text = "".join(c if c.isprintable() else "�" for c in text)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def _keys_at(model: type[BaseModel], path: KeyPath) -> list[str]:
    """Return the keys that the table around the last key of `path` may have."""
    current: type[BaseModel] | None = model
    for key in path[:-1]:
        if isinstance(key, str) and current is not None and key in current.model_fields:
            current = _table_in(current.model_fields[key].annotation)
    return list(current.model_fields) if current is not None else []


def _table_in(annotation: object) -> type[BaseModel] | None:
    """Return the first table type within an annotation such as `Device | None` or `tuple[Piece, ...]`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((t for a in typing.get_args(annotation) if (t := _table_in(a)) is not None), None)
