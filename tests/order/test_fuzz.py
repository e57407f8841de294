"""Whatever stands in an order file, it is read or refused with findings; nothing else is ever raised."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from casewright.order import OrderError, order_from_text
from casewright.order.pieces import PIECES

SAMPLE = (Path(__file__).resolve().parents[2] / "examples" / "lantern-hill.toml").read_text(encoding="utf-8")
LINES = tuple(SAMPLE.splitlines())
KEYS = tuple(line.split("=")[0].strip() for line in LINES if "=" in line and not line.startswith("#"))

VALUES = st.one_of(
    st.integers().map(str),
    st.floats().map(repr),
    st.sampled_from(
        ["true", "[]", "{}", "[[1]]", '{ a = "b" }', "2026-01-01", "07:32:00", '"""x"""', "''", "0xfffffffff"]
    ),
    st.text(max_size=12).map(lambda t: "'" + t.replace("'", "").replace("\n", "") + "'"),
    st.sampled_from(['"1/0 in"', '"-5 mm"', '"99999 in"', '"½"', '"1\' 2\\""', '"\\u0007"', '"cherry-5/4"']),
)


def read(text: str) -> None:
    """Read the order, or see that it is refused with reasons."""
    findings = None
    try:
        order_from_text(text, PIECES)
    except OrderError as wrong:
        findings = wrong.findings
    assert findings is None or (findings and all(f.message and f.stops for f in findings))


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    read(text)


@settings(max_examples=150)
@given(st.lists(st.tuples(st.sampled_from(KEYS), VALUES), min_size=1, max_size=3))
def test_any_value_for_any_key(changes: list[tuple[str, str]]) -> None:
    lines = list(LINES)
    for key, value in changes:
        lines = [f"{key} = {value}" if line.split("=")[0].strip() == key else line for line in lines]
    read("\n".join(lines))


@settings(max_examples=100)
@given(st.integers(0, len(SAMPLE)), st.integers(0, 40), st.text(max_size=6))
def test_any_damage_to_the_sample(at: int, cut: int, put: str) -> None:
    read(SAMPLE[:at] + put + SAMPLE[at + cut :])


@given(st.permutations(LINES))
def test_lines_in_any_order(lines: list[str]) -> None:
    read("\n".join(lines))
