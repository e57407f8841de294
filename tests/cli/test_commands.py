"""The command line as a user meets it: exit codes, messages, and what is left behind when something goes wrong."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.laws.test_laws import DEMO

from casewright.cli import main
from casewright.cli.main import opened
from casewright.units import INCHES, MILLIMETRES, LengthStyle
from casewright.units.printed import System


def run(*args: object) -> Result:
    return CliRunner().invoke(main, [str(a) for a in args])


def order_file(folder: Path, text: str) -> Path:
    path = folder / "order.toml"
    path.write_text(text, encoding="utf-8")
    return path


def refused(result: Result) -> str:
    """Assert exit code 2 with a message and no traceback; return the message."""
    assert result.exit_code == 2, result.output
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "Traceback" not in result.output
    assert result.output.strip()
    return result.output


def test_new_writes_a_sample_that_checks_clean_and_overwrites_nothing(tmp_path: Path) -> None:
    made = run("new", tmp_path / "room3")
    assert made.exit_code == 0, made.output
    checked = run("check", tmp_path / "room3" / "order.toml")
    assert checked.exit_code == 0, checked.output
    again = refused(run("new", tmp_path / "room3"))
    assert "there already" in again


def test_check_of_the_demonstration_order(tmp_path: Path) -> None:
    result = run("check", DEMO)
    assert result.exit_code == 0
    assert "0 stop" in result.output
    found = json.loads(run("check", DEMO, "--json").output)
    assert {f["severity"] for f in found} <= {"warn", "note"}


def test_an_order_that_cannot_be_built_gives_findings_and_exit_1(tmp_path: Path) -> None:
    text = DEMO.read_text(encoding="utf-8").replace("height = 4               # opening", "height = 19 # opening")
    assert "height = 19" in text
    result = run("check", order_file(tmp_path, text))
    assert result.exit_code == 1
    assert "front.too_tall" in result.output
    assert "order.toml" in result.output
    found = json.loads(run("check", tmp_path / "order.toml", "--json").output)
    assert any(f["code"] == "front.too_tall" and f["place"].startswith("order.toml:") for f in found)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ["piece"]),
        ("format = 1\ntitle = 'x'\n", ["piece"]),
        ("format = 1\ntitle = \n", ["order.toml:2"]),
        ("format = 99\ntitle = 'x'\n[[piece]]\nkind='bedside'\n", ["format"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedsid'\n", ["bedside"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedside'\nwidth = '2x in'\n", ["order.toml:5", "width", "2x in"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedside'\nwidth = -20\n", ["width", "-20"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedside'\nwidth = 1e9\n", ["width"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedside'\nwidht = 20\n", ["widht", "width"]),
        ("format = 1\ntitle = 'x'\n[[piece]]\nkind='bedside'\n[piece.roles]\ntop = 'chery-5/4'\n", ["cherry-5/4"]),
    ],
)
def test_a_wrong_order_gets_one_clear_message(tmp_path: Path, text: str, words: list[str]) -> None:
    message = refused(run("check", order_file(tmp_path, text)))
    for word in words:
        assert word in message


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    assert "missing.toml" in refused(run("check", tmp_path / "missing.toml"))
    assert refused(run("check", tmp_path))
    bad = tmp_path / "latin.toml"
    bad.write_bytes(b"title = '\xe9\xff'")
    assert "UTF-8" in refused(run("check", bad))
    assert "shop" in refused(run("check", DEMO, "--shop", tmp_path / "no-shop.toml"))


def test_show_prints_one_versioned_document() -> None:
    result = run("show", DEMO, "--json")
    assert result.exit_code == 0
    shown = json.loads(result.output)
    assert shown["format"] == "casewright/1"
    assert run("show", DEMO, "--json").output == result.output, "same input, same bytes"


def test_packet_refuses_on_stops_unless_draft(tmp_path: Path) -> None:
    text = DEMO.read_text(encoding="utf-8").replace('from_bed_side = "4 1/4"', "from_bed_side = 3")
    result = run("packet", order_file(tmp_path, text), "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert not (tmp_path / "out").exists()
    assert "--draft" in result.output


def test_packet_into_a_place_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("a file, not a folder")
    refused(run("packet", DEMO, "--out", blocked / "out", "--date", "2026-11-20"))
    assert blocked.read_text() == "a file, not a folder"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file"]


def test_step_without_its_library_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("casewright.packet.step.is_available", lambda: False)
    message = refused(run("packet", DEMO, "--out", tmp_path / "o", "--date", "2026-11-20", "--step"))
    assert "pip install 'casewright[step]'" in message
    assert list(tmp_path.iterdir()) == []
    assert "--step" in run("packet", "--help").output


def test_a_wrong_date_is_a_usage_error(tmp_path: Path) -> None:
    assert "2026-13-01" in refused(run("packet", DEMO, "--out", tmp_path / "o", "--date", "2026-13-01"))


LINES = DEMO.read_text(encoding="utf-8").splitlines()


@settings(max_examples=40)
@given(
    st.integers(0, len(LINES) - 1),
    st.sampled_from(
        ["", "[", "width = [1, 2]", "\x00", "piece = 3", "[[piece]]", "height = nan", "a.b.c = 1", "= 4", '"']
    ),
    st.booleans(),
)
def test_a_damaged_order_never_ends_in_a_traceback(line: int, junk: str, replace: bool) -> None:
    lines = [*LINES[:line], junk, *LINES[line + replace :]]
    with TemporaryDirectory() as folder:
        result = run("check", order_file(Path(folder), "\n".join(lines)))
    assert result.exit_code in (0, 1, 2)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.output.strip()


@pytest.mark.parametrize(
    ("order", "shop", "option", "printed"),
    [
        ('units = "mm"', "", None, MILLIMETRES),
        ('units = "cm"', "", None, MILLIMETRES),
        ('units = "in"', "", None, INCHES),
        ("", "", None, INCHES),
        ('units = "mm"', '[print]\nlengths = "in"', None, INCHES),
        ('units = "in"', '[print]\nlengths = "mm"', None, MILLIMETRES),
        ('units = "mm"', "[print]\ndivision = 64", None, replace(INCHES, division=64.0)),
        ('units = "mm"', "[print]\ndivision = 64", "mm", MILLIMETRES),
        ('units = "mm"', "[print]\ndivision = 64", "in", replace(INCHES, division=64.0)),
        ('units = "in"', "", "mm", MILLIMETRES),
    ],
)
def test_sizes_are_printed_as_the_call_says_else_the_shop_else_the_order(
    tmp_path: Path, order: str, shop: str, option: System | None, printed: LengthStyle
) -> None:
    (tmp_path / "shop.toml").write_text(f"format = 1\n{shop}\n", encoding="utf-8")
    text = f'format = 1\ntitle = "units"\n{order}\n[[piece]]\nkind = "bedside"\nhanded = "left"\n'
    assert opened(order_file(tmp_path, text), None, option).style == printed


def test_help_names_every_command() -> None:
    shown = run("--help").output
    assert all(name in shown for name in ("new", "check", "show", "packet"))
