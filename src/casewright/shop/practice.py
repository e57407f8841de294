"""The shop's practice: every trade rule that a design computes with, as a named value with its source.

The library's values stand in data/practice.toml, one table each; a shop and an order override them by
name. Adding a rule is adding a table there.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import cache
from importlib.resources import files
from itertools import islice
from typing import Any

from casewright.findings import Finding
from casewright.shop.files import UserFile
from casewright.shop.lines import KeyPath
from casewright.shop.schema import did_you_mean, wrong
from casewright.units import UnitsError, parse_angle, parse_length
from casewright.units.grid import record

LENGTH, ANGLE = "mm", "deg"
MOST_GIVEN = 1000  # values read from one file; there are not nearly as many rules


@record
class Rule:
    """One named value. `unit` is "mm", "deg", "h", "%" or "" (a plain number); `given_by` says who set it."""

    name: str
    value: float
    unit: str
    source: str
    basis: str
    note: str
    least: float | None = None
    most: float | None = None
    given_by: str = "library"


@record
class Practice:
    """All rules, sorted by name. `practice["drawer.side_clearance"]` is the value (mm, degrees or number)."""

    rules: tuple[Rule, ...]
    _by_name: dict[str, Rule] = field(init=False, compare=False, repr=False, default_factory=dict)

    def validate(self) -> None:
        """Index the rules by name."""
        object.__setattr__(self, "_by_name", {r.name: r for r in self.rules})

    def __getitem__(self, name: str) -> float:
        """Return the value of a rule. Raises KeyError (with a suggestion) for a name that is no rule."""
        return self.rule(name).value

    def __contains__(self, name: object) -> bool:
        return name in self._by_name

    def rule(self, name: str) -> Rule:
        """Return the whole rule. Raises KeyError (with a suggestion) for a name that is no rule."""
        if name not in self._by_name:
            raise KeyError(f"no practice value {name!r}; {did_you_mean(name, self._by_name)}")
        return self._by_name[name]

    def with_rules(self, changed: Mapping[str, Rule]) -> Practice:
        """Return the practice with the rules in `changed` in place of their namesakes."""
        return Practice(rules=tuple(changed.get(r.name, r) for r in self.rules))


@cache
def library_practice() -> Practice:
    """Return the library's values, read once. Raises ValueError where its data file is wrong."""
    text = (files("casewright.shop") / "data" / "practice.toml").read_text(encoding="utf-8")
    rules = [_library_rule(name, row) for name, row in _rows(tomllib.loads(text))]
    return Practice(rules=tuple(sorted(rules, key=lambda r: r.name)))


def override(
    practice: Practice, table: Mapping[str, Any], file: UserFile, unit: str, code: str, prefix: KeyPath = ("practice",)
) -> tuple[Practice, tuple[Finding, ...]]:
    """Return the practice with the values of a file's `table`, and a finding for each that is wrong.

    Names may be written dotted or as tables; a value is a text or number, or a table with `value`,
    `source` and `note`. A bare number takes the file's `unit`.
    """
    changed: dict[str, Rule] = {}
    findings: list[Finding] = []
    for path, given in islice(_given(table, practice), MOST_GIVEN):
        name = ".".join(path)
        if name not in practice:
            known = did_you_mean(name, [r.name for r in practice.rules])
            findings.append(
                wrong(file, f"{code}.unknown_practice", (*prefix, *path), f'no practice value "{name}"', known)
            )
            continue
        try:
            changed[name] = _overridden(practice.rule(name), given, unit, file.name)
        except ValueError as bad:
            findings.append(wrong(file, f"{code}.practice", (*prefix, *path), str(bad)))
    return practice.with_rules(changed), tuple(findings)


def _rows(tables: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Mapping[str, Any]]]:
    for key, value in tables.items():
        name = f"{above}{key}"
        if "value" in value:
            yield name, value
        else:
            yield from _rows(value, f"{name}.")


def _library_rule(name: str, row: Mapping[str, Any]) -> Rule:
    unit, value = row.get("unit"), row["value"]
    if unit is None:
        unit = ANGLE if str(value).endswith(("deg", "°")) else LENGTH
        if not isinstance(value, str):
            raise ValueError(f"practice {name}: a value without a unit must be a length or an angle as text")
    rule = Rule(
        name=name,
        value=_number(value, unit, "mm"),
        unit=unit,
        source=row.get("source", "common practice of small furniture shops"),
        basis=row.get("basis", "common practice"),
        note=row["note"],
        least=_number(row.get("least", 0), unit, "mm"),
        most=_number(row["most"], unit, "mm") if "most" in row else None,
    )
    _check_limits(rule)
    return rule


def _given(
    table: Mapping[str, Any], practice: Practice, above: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], Any]]:
    for key, value in table.items():
        path = (*above, *key.split("."))
        if isinstance(value, Mapping) and ".".join(path) not in practice:
            yield from _given(value, practice, path)
        else:
            yield path, value


def _overridden(rule: Rule, given: object, unit: str, by: str) -> Rule:
    row = dict(given) if isinstance(given, Mapping) else {"value": given}
    unknown = sorted(set(row) - {"value", "source", "note"})
    if unknown or "value" not in row:
        raise ValueError(f"expected a value, or a table with value, source and note; got keys {sorted(row)}")
    new = Rule(
        name=rule.name,
        value=_number(row["value"], rule.unit, unit),
        unit=rule.unit,
        source=str(row.get("source", by)),
        basis="set by the user",
        note=str(row.get("note", rule.note)),
        least=rule.least,
        most=rule.most,
        given_by=by,
    )
    _check_limits(new)
    return new


def _number(value: object, unit: str, default_unit: str) -> float:
    """Return a rule's number from a file. Raises ValueError with what was read and what is right."""
    if unit in (LENGTH, ANGLE):
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            raise UnitsError(f"got {str(value)[:60]}; expected {'a length' if unit == LENGTH else 'an angle'}")
        return parse_length(value, default_unit) if unit == LENGTH else parse_angle(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not abs(value) < 1e9:
        shown = "a number beyond reason" if isinstance(value, int) else repr(value)[:60]
        raise UnitsError(f"got {shown}; expected a number{f' of {unit}' if unit else ''}")
    return float(value)


def _check_limits(rule: Rule) -> None:
    for limit, beyond, word in ((rule.least, -1, "least"), (rule.most, 1, "most")):
        if limit is not None and (rule.value - limit) * beyond > 1e-9:
            shown = f"{rule.value:g} {rule.unit}".strip()
            raise ValueError(f"{rule.name} is {shown}; expected at {word} {limit:g} {rule.unit}".strip())
